"""A small invented house, edits of it that say what must be told of them, and other ways to write the same.

Everything works on plain data, as a person's file holds it, and is written out as text and read again.
"""

import json
import random
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from plumbtrue.audit.matching import match
from plumbtrue.audit.rig_changes import Deed, RigChange, rig_changes
from plumbtrue.rig.reading import read_rig_text
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.vocabulary_loading import load_vocabulary

Plain = Any
"""Text, list or mapping, nested."""

VOCABULARY = load_vocabulary()


def _line(mark: str, at: str, chain: Plain = "chain") -> Plain:
    return {
        "mark": mark,
        "at": at,
        "rope": {"like": "rope", "installed": "2009"},
        "upper": ["sleeve", "liner", {"part": "shackle", "like": "bow"}],
        "lower": ["sleeve", "liner", {"part": "shackle", "like": "bow"}, chain],
        "blocks": [{"like": "loft", "on_beam": f"beam {mark}"}],
    }


HOUSE: Plain = {
    "plumbtrue": "rig/1",
    "typical": {
        "rope": {
            "kind": "rope",
            "family": "wire",
            "diameter": "1/4 in",
            "construction": "7x19",
            "breaking_strength": "7000 lb",
        },
        "sleeve": {"kind": "swage-sleeve", "shape": "oval", "size": "1/4 in", "stack_length": "2 in"},
        "liner": {"kind": "thimble", "size": "1/4 in", "stack_length": "1-1/2 in"},
        "bow": {"kind": "shackle", "size": "3/8 in", "working_load_limit": "2000 lb", "stack_length": "2 in"},
        "chain": {"kind": "trim-chain", "size": "1/4 in", "grade": "80", "attachment": "wrap", "wraps": "2"},
        "loft": {"kind": "loft-block", "tread_diameter": "8 in", "working_load_limit": "500 lb"},
        "pipe": {"kind": "batten", "form": "pipe", "nominal": "1-1/2", "schedule": "40", "length": "30 ft"},
    },
    "house": {
        "name": "Small invented house",
        "batten_zero": "stage-right",
        "bricks": [
            {"key": "28", "weight": "28 lb", "thickness": "2 in"},
            {"key": "14", "weight": "14 lb", "thickness": "1 in"},
        ],
        "beams": [
            {"key": f"beam {number}", "what": "loft-beam", "capacity": "6000 lb"} for number in (1, 2, 3)
        ],
        "papers": [{"key": "log", "title": "Log of the house", "on": "2020-05-01"}],
    },
    "line_sets": [
        {
            "number": str(number),
            "name": name,
            "system": "single-purchase",
            "from_plaster_line": f"{number} ft",
            "low_trim": "4 ft",
            "posted_total": "400 lb",
            "present_load": "20..25 lb",
            "batten": {"like": "pipe"},
            "arbor": {
                "capacity": "900 lb",
                "weight": "60 lb",
                "weights": [{"brick": "28", "count": "5"}, {"brick": "14", "count": "1"}],
            },
            "lift_lines": [_line("1", "3 ft"), _line("2", "15 ft"), _line("3", "27 ft")],
            "load_tests": [{"on": "2019-08-20", "load": "400 lb"}],
        }
        for number, name in ((3, "Border"), (5, "Electric"), (8, "Legs"))
    ],
}


# Writing


def text_of(document: Plain) -> str:
    """A document as text that the reader takes: each scalar as the person wrote it."""
    return _written(document) + "\n"


_BARE = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ./+%-]*")


def _written(node: Plain) -> str:
    if isinstance(node, Mapping):
        return "{" + ", ".join(f"{key}: {_written(value)}" for key, value in node.items()) + "}"
    if isinstance(node, list):
        return "[" + ", ".join(_written(item) for item in node) + "]"
    return node if _BARE.fullmatch(node) else json.dumps(node)


def read(document: Plain) -> Rig:
    """The house that plain data stand for."""
    return read_rig_text(text_of(document), "house.yaml", VOCABULARY)


def told(old: Rig, new: Rig) -> tuple[RigChange, ...]:
    """What was changed between two houses."""
    return rig_changes(match(old, new))


# The same in other words


def in_other_words(document: Plain, luck: random.Random) -> Plain:
    """The same meaning: keys in another order, lists whose order says nothing turned round, other units,
    typical things written out.
    """
    other = _without_likes(deepcopy(document), luck)
    other["typical"] = _shuffled(document["typical"], luck)
    other = {key: value if key == "typical" else _reworded(value, key, luck) for key, value in other.items()}
    return _shuffled_top(other, luck)


def _shuffled_top(document: Plain, luck: random.Random) -> Plain:
    return _shuffled(document, luck)


def _shuffled(node: Mapping[str, Plain], luck: random.Random) -> dict[str, Plain]:
    entries = list(node.items())
    luck.shuffle(entries)
    return dict(entries)


_WITHOUT_ORDER = {"line_sets", "lift_lines", "bricks", "beams", "papers", "weights", "load_tests"}


def _reworded(node: Plain, key: str, luck: random.Random) -> Plain:
    if isinstance(node, Mapping):
        return _shuffled({name: _reworded(value, name, luck) for name, value in node.items()}, luck)
    if isinstance(node, list):
        items = [_reworded(item, key, luck) for item in node]
        if key in _WITHOUT_ORDER:
            luck.shuffle(items)
        return items
    return _in_another_unit(node, luck)


_QUANTITY = re.compile(r"(\d+(?:\.\d+)?) (lb|ft|in)")


def _in_another_unit(text: str, luck: random.Random) -> str:
    """The very same quantity in another unit (NIST SP 811: exact factors), or as it stands."""
    found = _QUANTITY.fullmatch(text)
    if found is None or luck.random() < 0.5:
        return text
    number = Fraction(found[1])
    match found[2]:
        case "lb":
            return f"{_decimal(number * 16)} oz"
        case "ft":
            return f"{_decimal(number * 12)} in"
        case _:
            return f"{_decimal(number * Fraction('25.4'))} mm"


def _decimal(number: Fraction) -> str:
    text = f"{float(number):.10f}".rstrip("0").rstrip(".")
    assert Fraction(text) == number, "the test's own units are exact"
    return text


def _without_likes(document: Plain, luck: random.Random) -> Plain:
    """Some typical things written out where they are used."""
    typical = document["typical"]

    def out(node: Plain, *, in_list: bool = False) -> Plain:
        if isinstance(node, Mapping):
            inner = {key: out(value) for key, value in node.items()}
            lent = typical.get(node["like"]) if isinstance(node.get("like"), str) else None
            if lent is None or luck.random() < 0.5:
                return inner
            own = {key: value for key, value in inner.items() if key != "like"}
            kind = {"part": lent["kind"]} if in_list else {}
            return {**{key: value for key, value in lent.items() if key != "kind"}, **kind, **own}
        if isinstance(node, list):
            return [
                out({"like": item}, in_list=True)
                if isinstance(item, str) and item in typical and luck.random() < 0.7
                else out(item, in_list=True)
                for item in node
            ]
        return node

    return {key: value if key == "typical" else out(value) for key, value in document.items()}


# Edits


@dataclass(frozen=True, slots=True)
class Edit:
    """Something that a person does to a file, and what must be told of it: deed, thing and fact."""

    name: str
    do: Callable[[Plain], None]
    told: tuple[str, str, str]
    """Deed, path of the thing in the revision that has it (the newer where both do), fact."""

    def __repr__(self) -> str:
        return self.name


def _set(document: Plain, number: str) -> Plain:
    return next(one for one in document["line_sets"] if one["number"] == number)


def _edit_line(number: str, at: int) -> Callable[[Plain], Plain]:
    return lambda document: _set(document, number)["lift_lines"][at]


def _change(name: str, find: Callable[[Plain], Plain], fact: str, value: Plain, path: str) -> Edit:
    def do(document: Plain) -> None:
        find(document)[fact] = value

    return Edit(name, do, ("changed", path, fact))


def _take(name: str, find: Callable[[Plain], Plain], fact: str, path: str) -> Edit:
    def do(document: Plain) -> None:
        del find(document)[fact]

    return Edit(name, do, ("changed", path, fact))


def _part(document: Plain, number: str, line: int, end: str, at: int, **facts: str) -> None:
    """A part of an end written out with other facts."""
    path = _set(document, number)["lift_lines"][line][end]
    written = path[at] if isinstance(path[at], Mapping) else {"like": path[at]}
    path[at] = {**written, **facts}


def _note(document: Plain) -> None:
    _set(document, "5")["note"] = "squeaks on the way out"


def _seen(document: Plain) -> None:
    _set(document, "5")["batten"]["seen"] = {"by": "head of flys", "on": "2026-02-10", "how": "by-hand"}


def _rename_set(document: Plain) -> None:
    _set(document, "8")["number"] = "9"


def _rename_line(document: Plain) -> None:
    line = _set(document, "5")["lift_lines"][2]
    line |= {"mark": "C", "formerly": ["3"]}


def _rename_beam(document: Plain) -> None:
    beam = document["house"]["beams"][2]
    beam |= {"key": "beam upstage", "formerly": ["beam 3"]}
    for line_set in document["line_sets"]:
        for line in line_set["lift_lines"]:
            if isinstance(line, Mapping) and line["mark"] in ("3", "C"):
                line["blocks"][0]["on_beam"] = "beam upstage"


def _add_set(document: Plain) -> None:
    document["line_sets"].insert(
        1, {**deepcopy(_set(document, "3")), "number": "4", "name": "New border", "from_plaster_line": "4 ft"}
    )


def _drop_part(document: Plain) -> None:
    del _set(document, "3")["lift_lines"][0]["upper"][1]


def _add_part(document: Plain) -> None:
    _set(document, "3")["lift_lines"][1]["lower"].insert(3, {"part": "turnbuckle", "size": "1/2 in"})


def _exchange_part(document: Plain) -> None:
    _set(document, "5")["lift_lines"][0]["upper"][0] = {"part": "wire-rope-clips", "count": "3"}


def _second_shackle(document: Plain) -> None:
    _set(document, "5")["lift_lines"][1]["upper"].insert(2, {"like": "bow", "size": "1/2 in"})


def _reorder_end(document: Plain) -> None:
    path = _set(document, "3")["lift_lines"][2]["upper"]
    path[1], path[2] = path[2], path[1]


def _more_bricks(document: Plain) -> None:
    _set(document, "3")["arbor"]["weights"][0]["count"] = "7"


def _unknown_line(document: Plain) -> None:
    _set(document, "3")["lift_lines"].append("unknown")


EDITS: Sequence[Edit] = (
    _change("a posted limit", lambda d: _set(d, "3"), "posted_total", "380 lb", "3"),
    _change("bounds", lambda d: _set(d, "3"), "present_load", "20..30 lb", "3"),
    _take("a load nobody knows", lambda d: _set(d, "5"), "present_load", "5"),
    _change("a date", lambda d: d["house"]["papers"][0], "on", "2021", "paper log"),
    _change("a longer pipe", lambda d: _set(d, "3")["batten"], "length", "31 ft", "3 / batten"),
    _change("a word", _edit_line("5", 0), "role", "lift", "5 / line 1"),
    _change("a looked-for nothing", lambda d: _set(d, "5"), "touches", "none", "5"),
    _change("a place", _edit_line("3", 1), "at", "15 ft 6 in", "3 / line 2"),
    Edit(
        "a block on another beam",
        lambda d: _edit_line("3", 0)(d)["blocks"][0].update(on_beam="beam 2"),
        ("moved", "3 / line 1 / loft-block", "on_beam"),
    ),
    _change("a brick's weight", lambda d: d["house"]["bricks"][1], "weight", "13 lb", "brick 14"),
    Edit("bricks", _more_bricks, ("changed", "3 / arbor / weights 28", "count")),
    Edit(
        "a grade",
        lambda d: _part(d, "5", 0, "lower", 3, grade="30"),
        ("changed", "5 / line 1 / lower / trim-chain", "grade"),
    ),
    Edit(
        "corrosion",
        lambda d: _edit_line("3", 2)(d)["rope"].update(corrosion="pitted"),
        ("changed", "3 / line 3 / rope", "corrosion"),
    ),
    Edit("a part taken out", _drop_part, ("removed", "3 / line 1 / upper / thimble", "")),
    Edit("a part put in", _add_part, ("added", "3 / line 2 / lower / turnbuckle", "")),
    Edit("a part of another kind", _exchange_part, ("replaced", "5 / line 1 / upper / wire-rope-clips", "")),
    Edit("a second shackle", _second_shackle, ("added", "5 / line 2 / upper / shackle", "")),
    Edit("another order", _reorder_end, ("reordered", "3 / line 3", "upper")),
    Edit("a set more", _add_set, ("added", "4", "")),
    Edit("a line nobody looked at", _unknown_line, ("changed", "3", "lift_lines")),
    Edit("a set renumbered", _rename_set, ("renamed", "9", "")),
    Edit("a line renamed", _rename_line, ("renamed", "5 / line C", "")),
    Edit("a beam renamed", _rename_beam, ("renamed", "beam upstage", "")),
    Edit("a note", _note, ("remarked", "5", "note")),
    Edit("somebody looked", _seen, ("looked-at", "5 / batten", "")),
)
"""Each can be made together with any other. The set to be added is copied before edits of set 3 where it
comes first in the list of edits made, so it is made first.
"""


def edited(edits: Iterable[Edit]) -> Plain:
    """The house with some edits."""
    document = deepcopy(HOUSE)
    for edit in sorted(edits, key=lambda one: one.name != "a set more"):
        edit.do(document)
    return document


def as_told(change: RigChange) -> tuple[str, str, str]:
    """A change by deed, thing and fact."""
    return change.deed.value, change.thing.path, change.fact


_TURNED = {Deed.ADDED: Deed.REMOVED, Deed.REMOVED: Deed.ADDED}


def turned(change: RigChange) -> tuple[object, ...]:
    """A change as the way back must tell it."""
    return (
        _TURNED.get(change.deed, change.deed),
        change.new,
        change.old,
        change.fact,
        change.after,
        change.before,
        None if change.difference is None else -change.difference,
        change.said_after,
        change.said_before,
    )


def straight(change: RigChange) -> tuple[object, ...]:
    """A change as it is told."""
    return (
        change.deed,
        change.old,
        change.new,
        change.fact,
        change.before,
        change.after,
        change.difference,
        change.said_before,
        change.said_after,
    )
