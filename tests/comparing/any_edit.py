"""Edits of any fact that the vocabulary has, on a small invented house and on a show for it.

For each thing of either file: every fact that is one value (a figure, a date, a word, a name, words of a list),
written where nobody wrote it, or written otherwise than it was.
"""

from collections.abc import Iterator
from copy import deepcopy
from dataclasses import dataclass
from functools import cache
from typing import Final

from tests.comparing.houses import HOUSE, VOCABULARY, Plain, read, text_of

from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot_text
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Fact

SHOW: Final[Plain] = {
    "plumbtrue": "plot/1",
    "plot": {
        "show": "An invented show",
        "revision": "A",
        "items": [
            {
                "key": "1",
                "name": "border",
                "on": "3",
                "category": "border",
                "weight": "75 lb",
                "height": "8 ft",
                "loads": [{"from": "SR 12 ft", "to": "SL 12 ft", "weight": "75 lb"}],
                "extent": [{"from": "SR 12 ft", "to": "SL 12 ft", "half_depth": "2 in"}],
            },
            {
                "key": "2",
                "name": "lantern",
                "on": "5",
                "category": "practical",
                "weight": "60 lb",
                "loads": [{"at": "CL", "weight": "60 lb"}],
                "attachments": [{"type": "clamp", "working_load_limit": "500 lb"}],
            },
            {
                "key": "3",
                "name": "legs",
                "on": "8",
                "category": "legs",
                "weight": "64 lb",
                "loads": [{"at": "SR 6 ft", "weight": "30 lb"}, {"at": "SL 6 ft", "weight": "34 lb"}],
            },
        ],
        "cues": [{"key": "Q1", "item": "2", "from": "10 ft", "to": "30 ft", "time": "12 s"}],
    },
}

Way = tuple[str | int, ...]
"""How one comes to a map in plain data."""


@dataclass(frozen=True, slots=True)
class AnyEdit:
    """One fact of one thing written otherwise."""

    in_show: bool
    way: Way
    path: str
    """The thing, as it is told."""
    fact: str
    value: Plain

    def __repr__(self) -> str:
        return f"{self.path}: {self.fact} = {self.value}"

    def do(self, document: Plain) -> None:
        node = document
        for step in self.way:
            node = node[step]
        node[self.fact] = self.value


_HOUSE_THINGS: Final[tuple[tuple[Way, str, str], ...]] = (
    (("house",), "house", HOUSE["house"]["name"]),
    (("house", "bricks", 0), "brick", "brick 28"),
    (("house", "beams", 0), "beam", "beam 1"),
    (("line_sets", 1), "line_set", "5"),
    (("line_sets", 1, "batten"), "batten", "5 / batten"),
    (("line_sets", 1, "arbor"), "arbor", "5 / arbor"),
    (("line_sets", 1, "arbor", "weights", 0), "weights", "5 / arbor / weights 28"),
    (("line_sets", 1, "lift_lines", 1), "lift_line", "5 / line 2"),
    (("line_sets", 1, "lift_lines", 1, "rope"), "rope", "5 / line 2 / rope"),
    (("line_sets", 1, "lift_lines", 1, "upper", 2), "shackle", "5 / line 2 / upper / shackle"),
    (("line_sets", 1, "lift_lines", 1, "blocks", 0), "loft_block", "5 / line 2 / loft-block"),
    (("line_sets", 1, "load_tests", 0), "load_test", "5 / load test 2019-08-20"),
)
_SHOW_THINGS: Final[tuple[tuple[Way, str, str], ...]] = (
    (("plot",), "plot", "plot"),
    (("plot", "items", 1), "item", "plot / item 2"),
    (("plot", "items", 0, "loads", 0), "load", "plot / item 1 / load"),
    (("plot", "items", 0, "extent", 0), "extent", "plot / item 1 / extent"),
    (("plot", "items", 1, "attachments", 0), "attachment", "plot / item 2 / attachment"),
    (("plot", "cues", 0), "cue", "plot / cue Q1"),
)

_NOT_BY_THEMSELVES: Final = {
    "key", "mark", "number", "formerly",  # what a thing is called: a rename
    "lines_stated",  # how many there are, which says too that some are not written
    "form",  # whether a batten is a pipe or a truss, which asks for other facts
    "plot_file",  # another file
}  # fmt: skip

_UNITS: Final = {"length": "ft", "force": "lb", "duration": "s", "angle": "deg"}


def _value(fact: Fact, recorded: str) -> Plain | None:
    """Something that can be written of a fact, other than what is recorded."""
    match fact.type:
        case "quantity":
            unit = _UNITS.get(_dimension(fact))
            return None if unit is None else f"7.25 {unit}"
        case "count":
            return "3"
        case "ratio":
            return "0.37"
        case "yes/no":
            return "no"
        case "word":
            return next((word for word in sorted(fact.words or ()) if word not in recorded.split()), None)
        case "list of words":
            return sorted(fact.words)[-1:] if fact.words else None
        case "date":
            return "2011-03-04"
        case "text":
            return "something else"
        case "name":
            return "something else"
        case _:
            return None


def _recorded(thing: Thing, fact: Fact) -> str:
    written = thing.facts.get(fact.name)
    return "" if written is None else written.text


def _dimension(fact: Fact) -> str:
    from plumbtrue.quantities.dimension import name_of

    return "" if fact.dimension is None else name_of(fact.dimension)


@cache
def any_edits() -> tuple[AnyEdit, ...]:
    """Every such edit that the readers take by itself."""
    return tuple(edit for edit in _edits() if _is_taken(edit))


def _edits() -> Iterator[AnyEdit]:
    known = {thing.path: thing for thing in laid([]).things()}
    for in_show, things in ((False, _HOUSE_THINGS), (True, _SHOW_THINGS)):
        for way, kind, path in things:
            for fact in VOCABULARY.kinds[kind].facts.values():
                keyed = fact.name in VOCABULARY.kinds[kind].keyed_by or fact.name in _NOT_BY_THEMSELVES
                value = None if fact.is_computed or keyed else _value(fact, _recorded(known[path], fact))
                if value is not None:
                    yield AnyEdit(in_show, way, path, fact.name, value)


def _is_taken(edit: AnyEdit) -> bool:
    """Whether a reader has nothing against it: some names must be those of things, some words go by others."""
    from plumbtrue.documents.place import CannotRead

    try:
        laid([edit])
    except CannotRead:
        return False
    return True


@cache
def _unchanged_house() -> Rig:
    return read(HOUSE)


def laid(edits: list[AnyEdit]) -> Rig:
    """The show over the house, with some edits."""
    house, show = deepcopy(HOUSE), deepcopy(SHOW)
    for edit in edits:
        edit.do(show if edit.in_show else house)
    under = _unchanged_house() if all(one.in_show for one in edits) else read(house)
    return lay(under, read_plot_text(text_of(show), "show.yaml", VOCABULARY))
