"""Gaps between neighbouring pieces, each with its own pipe and lines, and to the fire curtain.

A piece that flies takes up everything between its lowest and its highest trim; one that stays is looked at at
each trim that it has. A curtain that only draws along its own track is taken as drawn out and as stacked at
once. Where only a bound is known of a height or a width, two pieces meet if they may.
"""

from math import inf
from typing import Final

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.hanging_from import lack_places
from plumbtrue.facts.computed.item_reach import half_depth_of, half_depths, reaches
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.computed.show_trims import depth_of, hang, parked
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.facts.store import Facts
from plumbtrue.mechanics.clearance import spare_room
from plumbtrue.quantities.bounds import EVERYTHING, Bounds, greatest_of, least_of
from plumbtrue.quantities.dimension import LENGTH
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import NONE, Choice, Unknown, Value
from plumbtrue.rig.thing import Thing

_GEOMETRY: Final = "plane geometry (derived)"
_PIPE: Final = Bounds.exactly(0.0254)
"""Half-depth of a pipe with its lines where none is recorded [m]: 1 in, common practice."""
_FAR_UP: Final = Bounds.exactly(1000.0)
"""Where the lines of a pipe end, above everything [m]."""
_FLIES: Final = frozenset({"flies", "both", "guided", "turns"})
_CLOTHS: Final = frozenset({"drop", "border", "legs", "scrim", "curtain"})
_COLD: Final = 333.15
"""140 degrees F [K]: a surface below it is no hot face (common practice)."""


@unchanging
class Envelope:
    """Part of a piece [m]: half-depth, ends across the stage, bottom and top."""

    what: str
    half_depth: Bounds
    left: Bounds
    right: Bounds
    bottom: Bounds
    top: Bounds


def envelopes(known: Gathering, item: Thing) -> tuple[Envelope, ...]:
    """A piece with its pipe and lines, at every height that it has in the show."""
    moves = known.facts.value(item, "moves")
    words = moves.possible if isinstance(moves, Choice) else _FLIES
    own = Gathering(known.facts)
    heights, down = parked(own, item), hang(own, item)
    drop = own.figure(item, "drop_to_top")
    if own.lacking or not heights:
        # Nobody says how high it hangs: it may be at any height, so it meets whatever it may.
        known.loose.extend(own.lacking or [Missing(item, "trims")])
        levels = [(EVERYTHING, EVERYTHING)]
        pipe = [(EVERYTHING, EVERYTHING)]
    elif words & _FLIES:
        low = least_of(heights)
        high = greatest_of(heights)
        levels, pipe = [(low - down, high - drop)], [(low, high)]
    else:
        levels, pipe = [(one - down, one - drop) for one in heights], [(one, one) for one in heights]
    parts = [
        Envelope("the piece", half_depth_of(known, item, extent), left, right, bottom, top)
        for extent, left, right in reaches(known, item)
        for bottom, top in levels
    ]
    ends = _pipe_ends(known, item)
    if ends is not None:
        parts += [Envelope("its pipe and lines", _PIPE, *ends, low - _PIPE, _FAR_UP) for low, _ in pipe]
    return tuple(parts)


def _pipe_ends(known: Gathering, item: Thing) -> tuple[Bounds, Bounds] | None:
    """Ends of the pipe that carries it, from the centre line [m]; nothing for a piece on no set."""
    line_set = known.facts.part(item, "set")
    batten = known.facts.part(line_set, "batten") if isinstance(line_set, Thing) else None
    if not isinstance(batten, Thing):
        return None
    half = known.figure(batten, "length", "length of the batten", within=NOUGHT_OR_MORE) * Bounds.exactly(0.5)
    return -half, half


def _meet(a: Envelope, b: Envelope) -> tuple[bool, bool]:
    """Whether two parts surely, and whether they perhaps, meet in width and height; edge to edge is meeting."""
    sure = (
        a.left.high <= b.right.low
        and b.left.high <= a.right.low
        and a.bottom.high <= b.top.low
        and b.bottom.high <= a.top.low
    )
    maybe = (
        a.left.low <= b.right.high
        and b.left.low <= a.right.high
        and a.bottom.low <= b.top.high
        and b.bottom.low <= a.top.high
    )
    return sure, maybe


def pieces(thing: Thing) -> tuple[Thing, Thing] | None:
    """Both pieces of a pair."""
    first, second = (thing.references.get(name) or thing.parts.get(name) for name in ("first", "second"))
    return (first, second) if isinstance(first, Thing) and isinstance(second, Thing) else None


def _both(known: Gathering, thing: Thing) -> tuple[Thing, Thing]:
    found = pieces(thing)
    if found is None:
        known.lack(thing, "first")
        known.settle()
    assert found is not None
    return found


@computed("pair", "spacing")
def spacing(known: Gathering, thing: Thing) -> Answer:
    """Distance between the centres of both pieces, up and down stage."""
    first, second = _both(known, thing)
    apart = abs(depth_of(known, second) - depth_of(known, first))
    known.settle()
    return known.answer(
        apart, "clearance", "difference of the distances from the plaster line", LENGTH, "arithmetic"
    )


@computed("pair", "gap")
def gap(known: Gathering, thing: Thing) -> Answer:
    """Least gap over everything that meets in width and height; none where nothing does. Negative: they
    overlap.
    """
    first, second = _both(known, thing)
    apart = known.figure(thing, "spacing", "between centres", within=NOUGHT_OR_MORE)
    mine, its = envelopes(known, first), envelopes(known, second)
    known.settle()
    low = high = inf
    where = ""
    for a in mine:
        for b in its:
            sure, maybe = _meet(a, b)
            if not maybe:
                continue
            room = over_bounds(_room, apart, a.half_depth, b.half_depth)
            if room.low < low:
                low, where = room.low, f"{first.key}, {a.what} to {second.key}, {b.what}"
            if sure:
                high = min(high, room.high)
    if low == inf:
        return known.within(NONE, "clearance", "they never meet in width and height", None)
    known.steps.append(("least between", where))
    formula = "distance between centres - both half depths, where they meet in width and height"
    return known.within(Bounds(low, max(high, low)), "clearance", formula, LENGTH, _GEOMETRY)


def _room(spacing: float, half_depth: float, other_half_depth: float) -> float:
    return spare_room(spacing, [half_depth, other_half_depth], [])


@computed("item", "gap")
def least_gap(known: Gathering, thing: Thing) -> Answer:
    """Least gap to any neighbour; none where it has no neighbour."""
    plot = known.around(thing, "plot")
    if not isinstance(plot.parts.get("pairs"), tuple):
        known.lack(plot, "pairs", "the plot is laid over no house")
        known.settle()
    found = []
    for pair in plot.members("pairs"):
        if thing in (pieces(pair) or ()):
            one = known.perhaps(pair, "gap", pair.key)
            if isinstance(one, Bounds):
                found.append(one)
            elif one is None:
                known.lack(pair, "gap")
    lack_places(known, plot)
    known.settle()
    if not found:
        return known.within(NONE, "clearance", "nothing hangs beside it", None)
    least = least_of(found)
    return known.answer(least, "clearance", "least over its pairs", LENGTH, _GEOMETRY)


def _told(yes: bool, maybe: bool) -> Value:
    """Yes, no, or that it could be either."""
    return Choice(frozenset({"yes"} if yes else {"yes", "no"} if maybe else {"no"}))


def _words(known: Gathering, item: Thing, name: str) -> frozenset[str]:
    value = known.value(item, name)
    if isinstance(value, Choice):
        return value.possible
    if isinstance(value, Unknown):
        known.loose.append(Missing(item, name))
    return frozenset() if value is NONE else frozenset(item.kind.facts[name].words or ())


def _of_either(known: Gathering, thing: Thing, name: str, words: frozenset[str], formula: str) -> Answer:
    found = [_words(known, item, name) for item in _both(known, thing)]
    yes = any(one and one <= words for one in found)
    maybe = any(one & words for one in found)
    return known.within(_told(yes, maybe), "pair", formula, None, "what the plot says")


@computed("pair", "moving")
def moving(known: Gathering, thing: Thing) -> Answer:
    """Whether one of them flies, swings or runs in guides; one that only draws along its own track does
    not.
    """
    return _of_either(known, thing, "moves", _FLIES, "how they move")


@computed("pair", "guided")
def guided(known: Gathering, thing: Thing) -> Answer:
    """Whether everything of the pair that moves runs in guides."""
    found = [_words(known, item, "moves") & _FLIES for item in _both(known, thing)]
    moving_ones = [one for one in found if one]
    yes = bool(moving_ones) and all(one == {"guided"} for one in moving_ones)
    maybe = bool(moving_ones) and all("guided" in one for one in moving_ones)
    return known.within(_told(yes, maybe), "pair", "how they move", None, "what the plot says")


@computed("pair", "electric")
def electric(known: Gathering, thing: Thing) -> Answer:
    """Whether one of them is lighting."""
    return _of_either(known, thing, "category", frozenset({"electric"}), "their categories")


@computed("pair", "meant_to_touch")
def meant_to_touch(known: Gathering, thing: Thing) -> Answer:
    """Whether one of them names the other among what it is meant to touch."""
    first, second = _both(known, thing)
    yes = False
    for one, other in ((first, second), (second, first)):
        known.value(one, "touches_by_design")
        held = one.references.get("touches_by_design")
        yes = yes or (isinstance(held, tuple) and other in held)
    # What nobody wrote is not meant: a plot has to say so.
    return known.within(_told(yes, False), "pair", "what each says of the other", None, "what the plot says")


@computed("pair", "swing_drop")
def swing_drop(known: Gathering, thing: Thing) -> Answer:
    """Heights of the cloths of the pair that have no bottom pipe or chain, added up."""
    total = Bounds.exactly(0.0)
    for item in _both(known, thing):
        categories = _words(known, item, "category")
        if not categories & _CLOTHS:
            continue
        bottom = known.value(item, "bottom")
        if isinstance(bottom, Choice) and not bottom.may_be_none:
            continue
        height = known.figure(item, "height", f"height of {item.key}", within=NOUGHT_OR_MORE)
        surely = bottom is NONE and categories <= _CLOTHS
        if isinstance(bottom, Unknown):
            known.loose.append(Missing(item, "bottom"))
        total = total + (height if surely else Bounds(0.0, height.high))
    known.settle()
    return known.within(total, "pair", "sum of the heights of loose cloths", LENGTH, _GEOMETRY)


def _lamps(facts: Facts, item: Thing) -> tuple[Thing, ...]:
    held = facts.part(item, "units")
    return held if isinstance(held, tuple) else ()


@computed("pair", "heat_distance")
def heat_distance(known: Gathering, thing: Thing) -> Answer:
    """Greatest of the least distances that makers ask of lamps that can look at the other piece; none where
    none looks there.
    """
    first, second = _both(known, thing)
    found: list[Bounds] = []
    for item, towards in ((first, "upstage"), (second, "downstage")):
        if "electric" not in _words(known, item, "category"):
            continue
        if isinstance(known.facts.part(item, "units"), Unknown):
            known.lack(item, "units")
        for lamp in _lamps(known.facts, item):
            look = known.facts.value(lamp, "lit_towards")
            if look is NONE or (isinstance(look, Choice) and not look.possible & {towards, "any"}):
                continue
            distance = known.perhaps(lamp, "least_distance", f"{lamp.key} of {item.key}")
            if isinstance(distance, Bounds):
                found.append(distance)
            elif distance is None:
                known.lack(lamp, "least_distance")
    known.settle()
    if not found:
        return known.within(NONE, "pair", "no lamp looks at the other piece", None)
    most = greatest_of(found)
    return known.answer(most, "pair", "greatest that a maker asks", LENGTH, "the makers")


@computed("pair", "cold")
def cold(known: Gathering, thing: Thing) -> Answer:
    """Whether no outside surface of its lighting gets hotter than 140 degrees F by its maker."""
    yes, maybe = True, True
    for item in _both(known, thing):
        if "electric" not in _words(known, item, "category"):
            continue
        owners = _lamps(known.facts, item) or (item,)
        for owner in owners:
            heat = known.perhaps(owner, "heat_surface", f"hottest surface of {owner.key}")
            if not isinstance(heat, Bounds):
                known.loose.append(Missing(owner, "heat_surface"))
                yes = False
            else:
                yes, maybe = yes and heat.high <= _COLD, maybe and heat.low <= _COLD
    return known.within(_told(yes, maybe), "pair", "hottest surfaces", None, "the makers")


@computed("item", "fire_curtain_gap")
def fire_curtain_gap(known: Gathering, thing: Thing) -> Answer:
    """Distance from its reach to the fire curtain, across its plane; negative where it stands in its path;
    none without one.
    """
    house = known.around(thing, "house")
    if known.facts.part(house, "fire_curtain") is NONE:
        return known.within(NONE, "fire-curtain-gap", "the house has no fire curtain", None)
    curtain = known.thing(house, "fire_curtain")
    depth = depth_of(known, thing)
    half = half_depths(known, thing)
    known.settle()
    assert curtain is not None
    plane = known.figure(curtain, "from_plaster_line", "plane of the fire curtain")
    thick = known.figure(curtain, "thickness", "thickness of the fire curtain", within=NOUGHT_OR_MORE)
    known.settle()
    room = abs(depth - plane) - half - thick * Bounds.exactly(0.5)
    formula = "|depth - plane| - half depth - half thickness"
    return known.answer(room, "fire-curtain-gap", formula, LENGTH, _GEOMETRY)
