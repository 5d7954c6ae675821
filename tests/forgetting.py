"""Rig files with less known in them: a fact turned `unknown`, left out, or known only within bounds.

A file is read as plain text in maps and lists, changed there, and written again, so that whatever the short
forms make of it is tested along.
"""

import json
import re
from collections.abc import Iterable, Iterator, Mapping
from copy import deepcopy
from functools import cache
from typing import Any

from ruamel.yaml import YAML
from tests.practice.defects.judged_cases import all_cases, base_text

from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.rig.vocabulary_loading import load_vocabulary

Way = tuple[str | int, ...]
"""Keys and places in lists, from the file's root."""

SOUND = ("single", "double", "hemp")
_ABOUT_THE_FILE = {"plumbtrue", "units", "rule_packs", "typical", "house", "line_sets", "lift_lines"}
_WHICH_THING = {
    "name",
    "number",
    "key",
    "mark",
    "like",
    "part",
    "kind",
    "formerly",
    "lines",
    "each",
    "except",
}
_NAMES = _ABOUT_THE_FILE | _WHICH_THING | {"seen", "note", "at", "batten_zero"}
"""Keys that say which thing is meant or how a file is to be read: not facts, or not to be doubted.

`at` is a place for some things, and the marks of lines for others.
"""
_STAYS_KNOWN = ("identity", "record", "posted", "now")


def rigs() -> dict[str, str]:
    """The sound houses and every house with one fault, by name."""
    return {base: base_text(base) for base in SOUND} | {case.name: case.text() for case in all_cases()}


@cache
def parsed(text: str) -> Any:
    """A file with every scalar as text."""
    return YAML(typ="base").load(text)


def written(node: Any) -> str:
    """A tree as YAML of one line."""
    if isinstance(node, Mapping):
        return "{" + ", ".join(f"{_plain(key)}: {written(value)}" for key, value in node.items()) + "}"
    if isinstance(node, list):
        return "[" + ", ".join(written(item) for item in node) + "]"
    return _plain(node)


def _plain(text: str) -> str:
    return text if re.fullmatch(r"[\w./%+-]+( [\w./%+-]+)*", text) else json.dumps(text)


def ways(node: Any, way: Way = ()) -> Iterator[Way]:
    """The ways to everything in a file that may be turned unknown: facts, parts, things of lists."""
    if isinstance(node, Mapping):
        for key, value in node.items():
            if key not in _NAMES:
                yield (*way, key)
            if key != "seen":
                yield from ways(value, (*way, key))
    elif isinstance(node, list):
        for place, item in enumerate(node):
            if not (way and way[-1] in ("lines", "except", "line_sets")):
                yield (*way, place)
            yield from ways(item, (*way, place))


def may_be_left_out(tree: Any, way: Way) -> bool:
    """Whether leaving a fact out makes it unknown.

    A statement that all is in order fills a condition, and a typical thing fills what is like it.
    """
    around = at(tree, way[:-1])
    if not isinstance(way[-1], str) or not isinstance(around, Mapping) or "like" in around or "except" in way:
        return False
    return natures(way[-1]) <= set(_STAYS_KNOWN)


@cache
def natures(fact: str) -> frozenset[str]:
    kinds = load_vocabulary().kinds.values()
    return frozenset(kind.facts[fact].nature for kind in kinds if fact in kind.facts) or frozenset({"none"})


def at(tree: Any, way: Way) -> Any:
    for step in way:
        tree = tree[step]
    return tree


def changed_to(tree: Any, chosen: Mapping[Way, str]) -> Any:
    """A copy with some things turned unknown, left out, or written otherwise."""
    less = deepcopy(tree)
    # From the inside out, so that no way leads through what is already gone.
    for way in sorted(chosen, key=len, reverse=True):
        around = at(less, way[:-1])
        if chosen[way] == "":
            del around[way[-1]]
        else:
            around[way[-1]] = chosen[way]
    return less


def outermost(chosen: Iterable[Way]) -> list[Way]:
    """Ways that lead into nothing that another of them leads to already."""
    found = list(dict.fromkeys(chosen))
    return [way for way in found if not any(way != one and way[: len(one)] == one for one in found)]


def near_the_fault(name: str, tree: Any) -> list[Way]:
    """Ways to what is written as in a case's change: what its fault rests on."""
    texts = [one["write"] for case in all_cases() if case.name == name for one in case.change]
    keys = set(re.findall(r"(\w+):", " ".join(texts)))
    return [way for way in ways(tree) if way[-1] in keys or (isinstance(way[-1], int) and way[-2] in keys)]


_FIGURE = re.compile(r"-?\d+([./-]\d+)*(\.\d+)? ?(lb|in|ft|deg|%|ft-lb|lb/ft|lb/ft2|ft2|mm|m|kg|kN)")
_FEET = re.compile(r"\d+'-\d+(-\d+/\d+)?\"")
_DAY = re.compile(r"(\d{4})(-\d\d(-\d\d)?)?")


def widened(node: Any) -> list[str]:
    """Bounds that hold a figure, as somebody would write them; none for what is no single figure."""
    if not isinstance(node, str):
        return []
    if _FIGURE.fullmatch(node) or _FEET.fullmatch(node):
        return [f"{node} +/- 1 %", f"{node} +/- 10 %", f"at least {node}", f"at most {node}"]
    day = _DAY.fullmatch(node)
    if day and day[2]:
        return [day[1], f"{int(day[1]) - 1}..{int(day[1]) + 1}", f"before {int(day[1]) + 1}"]
    return []


def shuffled(node: Any, order: Any) -> Any:
    """A tree with the keys of every map in another order. Lists keep theirs: it means something."""
    if isinstance(node, Mapping):
        keys = list(node)
        order.shuffle(keys)
        return {key: shuffled(node[key], order) for key in keys}
    return [shuffled(item, order) for item in node] if isinstance(node, list) else node


def names_in(tree: Any, way: Way) -> set[str]:
    """The facts that go with something: itself, and whatever is written in it."""
    found = {step for step in way if isinstance(step, str)}
    inner = at(tree, way)
    return found | {step for one in ways(inner) for step in one if isinstance(step, str)}


def by_key(outcomes: tuple[Outcome, ...]) -> dict[str, Outcome]:
    return {one.key: one for one in outcomes}


def is_told_elsewhere(outcome: Outcome) -> bool:
    """Whether it keeps silent since another rule tells the same fault."""
    return outcome.result is Result.NOT_APPLICABLE and outcome.message.startswith("told by ")
