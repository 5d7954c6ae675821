"""Cases of one fault each: a sound house, what a surveyor writes differently in it, and what comes out.

A case names every finding with severity and place, so that one finding too many fails as one too few does.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from fnmatch import fnmatchcase
from functools import cache
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

from plumbtrue.audit.auditing import Audit, audit
from plumbtrue.audit.house_check import prepare
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.rig.reading import read_rig_text
from plumbtrue.rules.packs.loading import load_packs
from plumbtrue.rules.packs.pack import RuleBook

HERE = Path(__file__).parent
SMALL = HERE.parents[2] / "fixtures" / "small"
ON = date(2026, 3, 2)
"""The day on which every case is judged."""

Finding = tuple[str, str, str]
"""Rule, severity, path of the thing."""


@dataclass(frozen=True, slots=True)
class Case:
    name: str
    base: str
    change: tuple[Mapping[str, Any], ...]
    fires: tuple[Mapping[str, Any], ...]
    open: frozenset[str]
    """Rules that the case is said to leave open."""
    open_by_its_facts: frozenset[str]
    """Others that it leaves open too, since it takes away what they ask for."""
    quiet: frozenset[str]

    def text(self) -> str:
        """The whole file of the house with the change in it."""
        return changed(base_text(self.base), self.change)


def read_cases(file: Path) -> tuple[Case, ...]:
    return tuple(
        Case(
            name=one["case"],
            base=one["base"],
            change=tuple(one["change"]),
            fires=tuple(one.get("fires", ())),
            open=frozenset(one.get("open", ())),
            open_by_its_facts=frozenset(one.get("open_by_its_facts", ())),
            quiet=frozenset(one["quiet"]),
        )
        for one in YAML(typ="safe").load(file.read_text(encoding="utf-8"))
    )


def all_cases() -> tuple[Case, ...]:
    cases = (case for file in sorted(HERE.glob("*.yaml")) for case in read_cases(file))
    return tuple(sorted(cases, key=lambda case: (case.name[0], int(case.name[1:]))))


@cache
def base_text(base: str) -> str:
    return (SMALL / f"sound-{base}.yaml").read_text(encoding="utf-8")


def changed(text: str, change: Iterable[Mapping[str, Any]]) -> str:
    """A file with its changes. Each must meet exactly one place, or say which of several (`the: 2`), or the
    case is not what it says.
    """
    for one in change:
        if "below" in one:
            text = _with_line_below(text, one["below"], one["write"])
            continue
        parts = text.split(one["instead_of"])
        which = int(one.get("the", 0))
        assert len(parts) == 2 or which, (len(parts) - 1, one["instead_of"])
        text = (
            one["instead_of"].join(parts[: which or 1])
            + one["write"]
            + one["instead_of"].join(parts[which or 1 :])
        )
    return text


def _with_line_below(text: str, line: str, written: str) -> str:
    """A text with a line written below the one that reads so, indented as what stands there."""
    lines = text.splitlines(keepends=True)
    (place,) = [number for number, one in enumerate(lines) if one.strip() == line]
    following = lines[place + 1]
    indent = following[: len(following) - len(following.lstrip())]
    return "".join([*lines[: place + 1], f"{indent}{written}\n", *lines[place + 1 :]])


@cache
def practice_book() -> RuleBook:
    ground = prepare(third_party=False)
    return load_packs(("practice",), SMALL, ground.vocabulary, ground.plugins, on=ON)


@cache
def judged(text: str) -> Audit:
    rig = read_rig_text(text, "house.yaml", prepare(third_party=False).vocabulary)
    return audit(rig, practice_book(), ON)


def findings(found: Audit) -> set[Finding]:
    return {
        (one.rule, one.severity.value, one.thing.path)
        for one in found.of_result(Result.FINDING, Result.ERROR)
    }


def expected(case: Case, found: Audit) -> set[Finding]:
    """What must be found. A place with a star stands for every thing of the rig that it fits."""
    paths = [thing.path for thing in found.rig.house.below()]
    return {
        (one["rule"], one["severity"], path)
        for one in case.fires
        for place in one["at"]
        for path in [path for path in paths if fnmatchcase(path, place)] or [f"no {place}"]
    }


def left_open(found: Audit, base: Audit) -> dict[str, list[Outcome]]:
    """What a case leaves open and the sound house does not, by rule."""
    before = {one.key for one in base.of_result(Result.UNDETERMINED)}
    opened: dict[str, list[Outcome]] = {}
    for one in found.of_result(Result.UNDETERMINED):
        if one.key not in before:
            opened.setdefault(one.rule, []).append(one)
    return opened
