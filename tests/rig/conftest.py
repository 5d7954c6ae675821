"""Rigs stand in their tests as somebody would write them.

Where a problem must be found, the text that it must point to stands in marks with its slug:
`⟦unit-missing|0.25⟧`. The marks are taken out before the text is read, and exactly the marked problems
must be found, at those lines and columns.
"""

import re
from collections.abc import Callable
from textwrap import dedent
from typing import Any

import pytest

from plumbtrue.documents.place import CannotRead, Problem
from plumbtrue.quantities.values import Absent, Unknown
from plumbtrue.rig.finding_things import thing_at
from plumbtrue.rig.reading import read_plot_text, read_rig_text
from plumbtrue.rig.rig import Plot, Rig
from plumbtrue.rig.thing import Recorded, Thing
from plumbtrue.rig.vocabulary import Vocabulary
from plumbtrue.rig.vocabulary_loading import load_vocabulary

HEAD = "plumbtrue: rig/1\nhouse: {name: Tarn Hollow}\n"
_MARK = re.compile(r"⟦(?P<slug>[\w-]+)\|(?P<text>[^⟧]*)⟧")

ReadRig = Callable[[str], Rig]
OneSet = Callable[[str], Callable[..., Thing]]
Refused = Callable[..., tuple[Problem, ...]]


@pytest.fixture(scope="session")
def vocabulary() -> Vocabulary:
    return load_vocabulary()


@pytest.fixture
def rig(vocabulary: Vocabulary) -> ReadRig:
    """Read a rig; a text that does not begin like one is put behind the head of one."""
    return lambda text: read_rig_text(_whole(text), "house.yaml", vocabulary)


@pytest.fixture
def plot(vocabulary: Vocabulary) -> Callable[[str], Plot]:
    return lambda text: read_plot_text(dedent(text), "show.yaml", vocabulary)


@pytest.fixture
def refused_as_marked(vocabulary: Vocabulary) -> Refused:
    """Read a marked rig or plot; exactly the marked problems must be found, where the marks are."""

    def refuse(text: str, read: Callable[..., object] = read_rig_text) -> tuple[Problem, ...]:
        marked = _whole(text) if read is read_rig_text else dedent(text)
        plain, expected = _without_marks(marked)
        with pytest.raises(CannotRead) as refusal:
            read(plain, "house.yaml", vocabulary)
        problems = refusal.value.problems
        found = [(one.where.line, one.where.column, one.slug) for one in problems]
        assert sorted(found) == sorted(expected), "\n".join(
            f"{one.where} {one.slug}: {one.what}" for one in problems
        )
        return problems

    return refuse


@pytest.fixture
def one_set(rig: ReadRig) -> OneSet:
    """Read one line set, 14, from what is written in it, and look up things in it by their path."""

    def read(text: str) -> Callable[..., Thing]:
        body = "".join(f"    {line}\n" for line in dedent(text).strip("\n").split("\n"))
        found = rig(f"{HEAD}line_sets:\n  - number: 14\n{body}")

        def at(path: str = "") -> Thing:
            thing = thing_at(found, f"14 / {path}" if path else "14")
            assert thing is not None, f"there is no {path}"
            return thing

        return at

    return read


def _whole(text: str) -> str:
    text = dedent(text).lstrip("\n")
    return text if "plumbtrue" in text else HEAD + text


def _without_marks(text: str) -> tuple[str, list[tuple[int, int, str]]]:
    plain, expected = "", []
    end = 0
    for mark in _MARK.finditer(text):
        plain += text[end : mark.start()]
        line, column = plain.count("\n") + 1, len(plain) - plain.rfind("\n")
        expected.append((line, column, mark["slug"]))
        plain += mark["text"]
        end = mark.end()
    return plain + text[end:], expected


def described(thing: Thing) -> dict[str, Any]:
    """A thing with everything in it as plain data, without places and without what came from where."""
    return {
        "kind": thing.kind.name,
        "key": thing.key,
        "facts": {name: _described(recorded) for name, recorded in sorted(thing.facts.items())},
        "parts": {name: _held(held) for name, held in sorted(thing.parts.items())},
        "references": {name: _named(named) for name, named in sorted(thing.references.items())},
        "unlisted": sorted(thing.unlisted),
        "seen": None if thing.seen is None else (thing.seen.by, thing.seen.on, thing.seen.how),
        "vouched": None if thing.vouched_by is None else thing.vouched_by.by,
    }


def _described(recorded: Recorded) -> tuple[object, ...]:
    seen = recorded.seen
    return recorded.value, recorded.note, None if seen is None else (seen.by, seen.on, seen.how)


def _held(held: Thing | tuple[Thing, ...] | Absent | Unknown) -> object:
    match held:
        case Thing():
            return described(held)
        case tuple():
            return [described(one) for one in held]
        case _:
            return str(held)


def _named(named: Thing | tuple[Thing, ...]) -> object:
    return named.path if isinstance(named, Thing) else [one.path for one in named]
