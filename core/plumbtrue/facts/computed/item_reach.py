"""Where a piece of a show reaches across the stage and along its batten, and how near its picks come to the pipe's
end.
"""

from math import inf
from typing import Final

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.item_pulls import places_of, pulls_of
from plumbtrue.facts.computed.item_weight import width_of
from plumbtrue.facts.computed.places import batten_length, from_centre, from_zero
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds, greatest_of, least_of
from plumbtrue.quantities.dimension import AREA, LENGTH
from plumbtrue.quantities.values import NONE, Spot
from plumbtrue.rig.thing import Thing

_PLACES = "arithmetic on the places in the plot"
_ROUNDING: Final = 1e-6
"""Distance that sums of places are exact to [m]."""


def reaches(known: Gathering, item: Thing) -> tuple[tuple[Thing, Bounds, Bounds], ...]:
    """Stretches over which it reaches, from and to the centre line [m], stage left positive, with what says
    so.

    From its extent; of a piece without one from its lamps and loads. Counted as missing where nothing is
    written.
    """
    found = []
    held = known.facts.part(item, "extent")
    for extent in held if isinstance(held, tuple) else ():
        ends = [*places_of(known.facts, extent, "from"), *places_of(known.facts, extent, "to")]
        if len(ends) == 2:
            sides = sorted((_across(known, item, spot) for spot in ends), key=lambda one: one.low)
            found.append((extent, sides[0], sides[1]))
        else:
            known.lack(extent, "from")
    if known.facts.is_unlisted(item, "extent"):
        known.lack(item, "extent", "not all of them identified")
    if not found:
        known.lack(item, "extent")
    return tuple(found)


def _say_reaches(known: Gathering, found: tuple[tuple[Thing, Bounds, Bounds], ...]) -> None:
    """Note every stretch by its ends from the centre line, stage left positive."""
    for extent, left, right in found:
        ends = " to ".join(known.said(side, LENGTH) for side in (left, right))
        known.steps.append((f"{extent.key}, from the centre line", ends))


def _across(known: Gathering, item: Thing, spot: Spot) -> Bounds:
    if spot.from_centre:
        return spot.distance
    line_set = known.facts.part(item, "set")
    batten = known.facts.part(line_set, "batten") if isinstance(line_set, Thing) else None
    if not isinstance(batten, Thing):
        known.lack(item, "extent", "counted from no batten's end")
        return spot.distance
    return from_centre(known, batten, spot)


def reaches_overlap(facts: Facts, one: Thing, other: Thing) -> tuple[bool | None, tuple[Missing, ...]]:
    """Whether two pieces of one set reach over the same stretch of it; nothing, with what is missing, where
    that cannot be told. Pieces that only meet edge to edge do not.
    """
    known = Gathering(facts)
    mine, its = reaches(known, one), reaches(known, other)
    perhaps = False
    for _, left, right in mine:
        for _, far_left, far_right in its:
            if left.high < far_right.low - 1e-9 and far_left.high < right.low - 1e-9:
                return True, ()
            perhaps = perhaps or (left.low < far_right.high - 1e-9 and far_left.low < right.high - 1e-9)
    if known.lacking or perhaps:
        missing = known.lacking or [Missing(one, "extent", "known only within bounds")]
        return None, tuple(missing)
    return False, ()


def half_depth_of(known: Gathering, item: Thing, extent: Thing) -> Bounds:
    """Furthest reach up or down stage over one of its stretches [m]; counted where it is not written."""
    own = known.perhaps(extent, "half_depth", f"half depth there of {item.key}")
    if isinstance(own, Bounds):
        return own
    whole = known.perhaps(item, "half_depth", f"half depth of {item.key}")
    if isinstance(whole, Bounds):
        return whole
    lamps = known.facts.part(item, "units")
    swept = [known.facts.value(one, "swept_half_depth") for one in lamps] if isinstance(lamps, tuple) else []
    figures = [one for one in swept if isinstance(one, Bounds)]
    if figures and len(figures) == len(swept):
        return greatest_of(figures)
    known.lack(item, "half_depth")
    return NOUGHT_OR_MORE


def half_depths(known: Gathering, item: Thing) -> Bounds:
    """Furthest reach up or down stage over all its stretches [m]; counted where it is not written."""
    held = known.facts.part(item, "extent")
    owners = held if isinstance(held, tuple) and held else (item,)
    found = [
        half_depth_of(known, item, one)
        if one is not item
        else known.figure(item, "half_depth", f"half depth of {item.key}", within=NOUGHT_OR_MORE)
        for one in owners
    ]
    return greatest_of(found)


@computed("item", "half_width")
def half_width(known: Gathering, thing: Thing) -> Answer:
    """Furthest reach from the centre line, to either side."""
    found = reaches(known, thing)
    known.settle()
    _say_reaches(known, found)
    sides = [abs(side) for _, left, right in found for side in (left, right)]
    furthest = greatest_of(sides)
    return known.answer(
        furthest, "item-reach", "greatest distance of its ends from the centre line", LENGTH, _PLACES
    )


@computed("item", "area")
def area(known: Gathering, thing: Thing) -> Answer:
    """Width of all its reaches by its height."""
    _say_reaches(known, reaches(known, thing))
    height = known.figure(thing, "height", within=NOUGHT_OR_MORE)
    known.settle()
    width = width_of(known, thing)
    if width is None:
        known.lack(thing, "extent", "its ends count from different points")
        known.settle()
    assert width is not None
    known.step("width of all its reaches", width, LENGTH)
    return known.answer(width * height, "item-area", "width x height", AREA, _PLACES)


@computed("item", "least_end_distance")
def least_end_distance(known: Gathering, thing: Thing) -> Answer:
    """Distance of its outermost pick from the nearer end of the pipe, negative beyond it; none for a piece
    that hangs on no set, or by spread ties alone, unless those reach beyond the pipe, or may.
    """
    line_set = known.facts.part(thing, "set")
    if line_set is NONE:
        return known.within(NONE, "pick-to-end", "it hangs on no set", None)
    if not isinstance(line_set, Thing):
        known.lack(thing, "on")
        known.settle()
    assert isinstance(line_set, Thing)
    batten = known.thing(line_set, "batten")
    found = known.facts.kept(thing, pulls_of)
    picks = [one.at for one in found.pulls if one.at is not None]
    if any(not one.is_placed for one in found.pulls):
        known.lack(thing, "loads", "where it pulls on the pipe is not recorded")
    known.settle()
    assert batten is not None
    length = batten_length(known, batten)
    places = [from_zero(known, batten, spot) for spot in picks]
    ties = [
        from_zero(known, batten, spot)
        for one in found.pulls
        for spot in (one.start, one.end)
        if spot is not None
    ]
    known.settle()
    # Ties may run to the very end of the pipe; what is tied beyond it hangs on nothing.
    beyond = [at for at in ties if at.high < -_ROUNDING or at.low > length.high + _ROUNDING]
    maybe = [
        at for at in ties if at not in beyond and (at.low < -_ROUNDING or at.high > length.high + _ROUNDING)
    ]
    places += beyond
    if not places and not maybe:
        return known.within(NONE, "pick-to-end", "it hangs by spread ties", None)
    distances = [Bounds(min(at.low, (length - at).low), min(at.high, (length - at).high)) for at in places]
    # Where such a tie holds on the pipe, it may be as near to the end as it likes.
    distances += [Bounds(min(at.low, (length - at).low), inf) for at in maybe]
    places += maybe
    for at, distance in zip(places, distances, strict=True):
        known.step(f"pick at {known.said(at, LENGTH)}, to the nearer end", distance, LENGTH)
    least = least_of(distances)
    return known.answer(least, "pick-to-end", "the lesser of place and length less place", LENGTH, _PLACES)


@computed("item", "side_room")
def side_room(known: Gathering, thing: Thing) -> Answer:
    """Least distance from its side to what stands beside its path at any height that it passes; none where
    nothing stands there.
    """
    from plumbtrue.facts.computed.show_trims import vertical_range

    house = known.around(thing, "house")
    if known.facts.part(house, "side_obstructions") is NONE:
        return known.within(NONE, "side-room", "nothing stands beside the flying space", None)
    obstructions = known.things(house, "side_obstructions")
    sides = reaches(known, thing)
    bottom, top = vertical_range(known, thing)
    known.settle()
    right = Bounds(max((-left).low for _, left, _ in sides), max((-left).high for _, left, _ in sides))
    left = Bounds(max(edge.low for _, _, edge in sides), max(edge.high for _, _, edge in sides))
    rooms = []
    for one in obstructions:
        lowest, highest = known.perhaps(one, "lowest"), known.perhaps(one, "highest")
        under = isinstance(lowest, Bounds) and lowest.low > top.high
        over = isinstance(highest, Bounds) and highest.high < bottom.low
        if under or over:
            continue
        away = known.figure(one, "from_centre", f"{one.key} from the centre line", within=NOUGHT_OR_MORE)
        side = known.word(one, "side")
        known.settle()
        if side in ("stage-left", "both"):
            rooms.append(away - left)
        if side in ("stage-right", "both"):
            rooms.append(away - right)
    if not rooms:
        return known.within(NONE, "side-room", "nothing stands beside it at any height that it passes", None)
    least = least_of(rooms)
    formula = "distance of what stands there - reach to that side"
    return known.answer(least, "side-room", formula, LENGTH, "plane geometry (derived)")
