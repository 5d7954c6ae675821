"""Places along a pipe, whatever end they were written from: `3 ft` from the pipe's end and `SR 21'-0"` from
the centre line are one spot on a pipe of 48 ft.

Only what is written is used, and only exact lengths: where nobody can tell, two ways to write stay two places.
"""

from dataclasses import replace

from plumbtrue.audit.same_values import same_value
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import Absent, Choice, Each, Spot, Unknown, Value
from plumbtrue.rig.thing import Thing


def same_spots(one: Value, on_one: Thing, other: Value, on_other: Thing) -> bool:
    """Whether two values that say where something is on a pipe mean the same spots on their pipes."""
    if _origins(one) == _origins(other):
        return False  # Written from the same end, they were compared as they stand.
    ours, theirs = from_centre(one, on_one), from_centre(other, on_other)
    return ours is not None and theirs is not None and same_value(ours, theirs)


def _origins(value: Value) -> set[bool]:
    spots = value.values if isinstance(value, Each) else (value,)
    return {one.from_centre for one in spots if isinstance(one, Spot)}


def from_centre(value: Value, thing: Thing) -> Value | None:
    """The same place or places from the centre line, stage left positive; nothing where that cannot be told."""
    if isinstance(value, Each):
        known = [spot for one in value.values if isinstance(spot := from_centre(one, thing), Spot)]
        return Each(tuple(sorted(known, key=_along))) if len(known) == len(value.values) else None
    if not isinstance(value, Spot) or value.from_centre:
        return value
    half, house = _half_of_pipe(thing), thing.enclosing("house")
    if half is None or house is None:
        return None
    zero = house.facts.get("batten_zero")
    from_left = zero is not None and isinstance(zero.value, Choice) and zero.value.word == "stage-left"
    inward = replace(value, from_centre=True, distance=value.distance - Bounds.exactly(half))
    return replace(inward, distance=-inward.distance) if from_left else inward


def _along(spot: Value) -> tuple[float, float]:
    assert isinstance(spot, Spot), "only spots lie along a pipe"
    return spot.distance.low, spot.distance.high


def _half_of_pipe(thing: Thing) -> float | None:
    """Half the length of the pipe on which something sits [m], where it is exactly written."""
    batten: object = thing.enclosing("batten")
    if batten is None:
        item = thing.enclosing("item")
        carrier: object = item.references.get("on") if item is not None else thing.line_set
        batten = carrier.parts.get("batten") if isinstance(carrier, Thing) else None
    if not isinstance(batten, Thing):
        return None
    length = batten.facts.get("length")
    value = length.value if length is not None else None
    if value is None or isinstance(value, Absent | Unknown):
        return None
    return value.low / 2 if isinstance(value, Bounds) and value.is_exact else None


def same_stretch(old: Thing, new: Thing) -> bool:
    """Whether two stretches along a pipe are the same one, told from its other end."""
    ends = [[thing.facts.get(name) for name in ("from", "to")] for thing in (old, new)]
    values = [[one.value for one in its if one is not None and isinstance(one.value, Spot)] for its in ends]
    if len(values[0]) < 2 or len(values[1]) < 2:
        return False
    (start, end), (first, last) = values
    return _same_spot(start, old, last, new) and _same_spot(end, old, first, new)


def _same_spot(one: Value, on_one: Thing, other: Value, on_other: Thing) -> bool:
    return same_value(one, other) or same_spots(one, on_one, other, on_other)
