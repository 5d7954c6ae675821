"""What a thing says, as something by which it can be found again in another revision: its content with its own name
left out, values whatever their rounding, and lists whatever entry tells of each place.
"""

from collections import Counter
from collections.abc import Callable, Hashable, Sequence
from typing import Final

from plumbtrue.audit.same_places import from_centre
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import Each, Spot, Value
from plumbtrue.rig.thing import Seen, Thing

_FIGURES: Final = 9
"""Significant figures by which contents are told apart; whether values differ is decided by `same_values`."""


def unnumbered(thing: Thing) -> str:
    """Its key without the number that it has among several alike."""
    key, dot, number = thing.key.rpartition(".")
    return key if dot and number.isdecimal() and not thing.kind.key_wanted else thing.key


def own_name(thing: Thing) -> str:
    """What it is called by itself; nothing for what only has its kind or its place for a name."""
    key = unnumbered(thing)
    if thing.parent is None or thing.kind.name == "plot":
        return ""
    return "" if key == thing.kind.word or key == thing.role.replace("_", " ") else key


def said(
    thing: Thing,
    content: Callable[[Thing], int],
    value: Callable[[Thing, str], Hashable],
    besides: Sequence[str] = (),
) -> Hashable:
    """Kind, facts and parts of a thing, those left out by which it is keyed.

    Args:
        content: of a part, as one number.
        value: what a fact says.
        besides: facts that are left out as well.
    """
    keyed_by = (*thing.kind.keyed_by, "formerly", *besides)
    facts = frozenset((name, value(thing, name)) for name in thing.facts if name not in keyed_by)
    parts = frozenset((fact, _held(thing, fact, content)) for fact in thing.parts)
    return thing.kind.name, facts, parts, frozenset(thing.unlisted)


def _held(thing: Thing, fact: str, content: Callable[[Thing], int]) -> Hashable:
    held = thing.parts[fact]
    if isinstance(held, Thing):
        return content(held)
    if not isinstance(held, tuple):
        return str(held)
    declared = thing.kind.facts.get(fact)
    names = tuple((own_name(one), content(one)) for one in held)
    return names if declared is not None and declared.type == "path" else tuple(sorted(names))


def rounded(value: Value) -> Hashable:
    """A value as something by which it can be found again; whole figures apart from rounding."""
    match value:
        case Bounds(low, high):
            return f"{low:.{_FIGURES}g}", f"{high:.{_FIGURES}g}"
        case Spot(from_centre, distance):
            return from_centre, rounded(distance)
        case Each(values):
            return tuple(rounded(one) for one in values)
        case _:
            return value


def same_spread_out(before: Sequence[Thing], after: Sequence[Thing]) -> bool:
    """Whether two lists put the same at the same places, however many places one entry has."""
    ours, theirs = _spread_out(before), _spread_out(after)
    return ours is not None and ours == theirs


def _spread_out(things: Sequence[Thing]) -> Counter[Hashable] | None:
    """Each entry at each of its places, or as often as it counts; nothing where entries hold more than that."""
    found: Counter[Hashable] = Counter()
    for thing in things:
        number = _number(thing)
        if number is not None:
            found[_besides(thing, "count")] += number
            continue
        at = thing.facts.get("at")
        several = at is not None and thing.kind.facts["at"].type == "list of place"
        if at is None or not several or thing.parts or thing.unlisted or "count" in thing.facts:
            return None
        rest = _besides(thing, "at")
        for spot in at.value.values if isinstance(at.value, Each) else (at.value,):
            found[_along(spot, thing), rest] += 1
    return found


def _along(spot: Value, thing: Thing) -> Hashable:
    """A place along a pipe, from its centre where that can be told, to a billionth of a metre."""
    known = from_centre(spot, thing) or spot
    if not isinstance(known, Spot):
        return rounded(known)
    return known.from_centre, round(known.distance.low, _FIGURES), round(known.distance.high, _FIGURES)


def _number(thing: Thing) -> int | None:
    """How many of a kind an entry counts: bricks of one size; nothing where it counts none, or holds more."""
    count = thing.facts.get("count")
    counts = count is not None and not (thing.parts or thing.unlisted or "at" in thing.facts)
    if count is None or not counts or not isinstance(count.value, Bounds) or not count.value.is_exact:
        return None
    return int(count.value.low) if count.value.low.is_integer() else None


def _besides(thing: Thing, fact: str) -> Hashable:
    """All that is written of an entry but one fact, with what is said about it."""
    facts = frozenset(
        (name, rounded(one.value), one.note, one.photos, _look(one.seen))
        for name, one in thing.facts.items()
        if name != fact
    )
    return facts, thing.note, thing.photos, _look(thing.seen)


def _look(seen: Seen | None) -> Hashable:
    if seen is None:
        return None
    return seen.key, seen.by, seen.on, seen.how, seen.in_order, seen.tested, seen.not_seen
