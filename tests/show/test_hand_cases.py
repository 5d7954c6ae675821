"""Small shows worked out by hand: a plot as somebody would write it, laid over a small house, and what each rule
has to say of it, with the number that it prints.

The cases lie beside this file in `hand_cases/`, one file a subject. Each names the rule, what in the rig it is
about, what is changed in the plot or the house, what comes out, words of the finding (or the facts that are
asked for), and how the figure was obtained. The arithmetic stands in the case and was done outside this
program.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any, Final

import pytest
from ruamel.yaml import YAML
from tests.practice.defects.judged_cases import practice_book

from plumbtrue.audit.auditing import Audit, audit
from plumbtrue.facts.store import Facts
from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot_text, read_rig_text
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.vocabulary_loading import load_vocabulary
from plumbtrue.rules.judging import Judge, Judgement

FOLDER: Final = Path(__file__).parent / "hand_cases"
ON: Final = date(2026, 4, 13)


@dataclass(frozen=True)
class HandCase:
    """One case, as its file says."""

    name: str
    house: str
    plot: str
    rule: str
    about: str
    outcome: str
    says: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()
    whole: bool = field(default=False)
    """Whether the house is judged first: for rules that ask what the house's own outcomes come to."""


def _cases() -> list[HandCase]:
    house = (FOLDER / "house.yaml").read_text(encoding="utf-8")
    found = []
    for file in sorted(FOLDER.glob("*.yaml")):
        if file.name == "house.yaml":
            continue
        for group in YAML(typ="base").load(file.read_text(encoding="utf-8")):
            for case in group["cases"]:
                found.append(_case(f"{file.stem}: {group['rule']}: {case['is']}", house, group, case))
    return found


def _case(name: str, house: str, group: Mapping[str, Any], case: Mapping[str, Any]) -> HandCase:
    unknown = set(case) - {"is", "change", "outcome", "says", "asks", "by", "about", "rule"}
    assert not unknown, f"{name}: {unknown} mean nothing"
    plot = "plumbtrue: plot/1\n" + group["plot"]
    for old, new in {**group.get("change", {}), **case.get("change", {})}.items():
        assert old in plot or old in house, f"{name}: {old} stands in neither file"
        plot, house = plot.replace(old, new), house.replace(old, new)
    return HandCase(
        name,
        house,
        plot,
        case.get("rule", group["rule"]),
        case.get("about", group["about"]),
        case["outcome"],
        _texts(case.get("says", [])),
        _texts(case.get("asks", [])),
        group.get("house_first") == "yes",
    )


def _texts(node: Any) -> tuple[str, ...]:
    return tuple(node) if isinstance(node, list) else (node,)


CASES: Final = _cases()


@cache
def _house(text: str) -> Rig:
    return read_rig_text(text, "house.yaml", load_vocabulary())


@cache
def _laid(house: str, plot: str) -> tuple[Rig, Facts]:
    rig = lay(_house(house), read_plot_text(plot, "plot.yaml", load_vocabulary()))
    return rig, Facts(rig, ON)


@cache
def _audited(house: str, plot: str) -> Audit:
    return audit(_laid(house, plot)[0], practice_book(), ON)


def _judged(case: HandCase) -> tuple[str, str, set[str]]:
    """Outcome, message, and what is asked for."""
    if case.whole:
        (told,) = (
            one
            for one in _audited(case.house, case.plot).outcomes
            if one.rule == case.rule and one.thing.path == case.about
        )
        return told.result.value, told.message, {f"{one.thing.path}: {one.fact}" for one in told.missing}
    rig, facts = _laid(case.house, case.plot)
    things = {thing.path: thing for thing in rig.things()}
    assert case.about in things, f"there is no {case.about}"
    rule = next(one for one in practice_book().rules if one.slug == case.rule)
    found: Judgement = Judge(rule, "us").on(things[case.about], facts)
    return found.result.value, found.message, {f"{one.thing.path}: {one.fact}" for one in found.missing}


@pytest.mark.parametrize("case", CASES, ids=[one.name for one in CASES])
def test_a_case_worked_out_by_hand(case: HandCase) -> None:
    outcome, message, missing = _judged(case)
    assert (outcome, message if outcome != case.outcome else "") == (case.outcome, ""), missing
    for words in case.says:
        assert words in message
    for fact in case.asks:
        assert fact in missing
