"""Heights in a show: where the pipe of each piece parks and travels, where its bottom and top then are, and what
they must clear: sight, sprinklers.
"""

from math import inf
from typing import Final

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.computed.item_reach import half_depths
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.facts.store import Facts
from plumbtrue.mechanics.trim_heights import Sight, hidden
from plumbtrue.quantities.bounds import EVERYTHING, Bounds, greatest_of, least_of
from plumbtrue.quantities.dimension import LENGTH
from plumbtrue.quantities.values import NONE, Absent, Each, Unknown
from plumbtrue.rig.thing import Thing

_SUMS: Final = "sums of lengths (derived)"
_PIPE_RADIUS: Final = Bounds.exactly(0.0254)
"""Half a batten's depth where its pipe is not on record [m]: 1 in, common practice."""


def hang(known: Gathering, item: Thing) -> Bounds:
    """From the pipe's centre down to the bottom of a piece [m]; counted where it is not written."""
    drop = known.figure(item, "drop_to_top", "pipe centre down to its top")
    height = known.figure(item, "height", "height of the piece", within=NOUGHT_OR_MORE)
    return drop + height


def parked(known: Gathering, item: Thing) -> tuple[Bounds, ...]:
    """Every pipe height that a piece has in the show [m]; what is not written of them is counted."""
    found: list[Bounds] = []
    bottom = known.perhaps(item, "in_trim", "height of its bottom when in")
    if isinstance(bottom, Bounds):
        found.append(bottom + hang(known, item))
    out = known.perhaps(item, "out_trim", "pipe height when out")
    if isinstance(out, Bounds):
        found.append(out)
    trims = known.facts.value(item, "trims")
    held = trims.values if isinstance(trims, Each) else (trims,)
    heights = [one for one in held if isinstance(one, Bounds)]
    if heights:
        known.value(item, "trims", "its trims")
    if any(not isinstance(one, Bounds | Absent) for one in held):
        known.lack(item, "trims")
    found += heights
    on = item.references.get("on")
    if isinstance(on, Thing) and on.kind.name == "truss":
        trim = known.perhaps(on, "trim", f"trim of {on.key}")
        if isinstance(trim, Bounds):
            found.append(trim)
        elif trim is None:
            known.lack(on, "trim")
    for cue in cues_of(known.facts, item):
        for name in ("from", "to"):
            height = known.facts.value(cue, name)
            if isinstance(height, Bounds):
                found.append(height)
            else:
                known.lack(cue, name)
    for name, value in (("in_trim", bottom), ("out_trim", out)):
        if value is None:
            known.lack(item, name)
    return tuple(found)


def ends_of_travel(known: Gathering, item: Thing) -> tuple[Bounds, Bounds]:
    """From the set's low trim, where it is loaded, to its highest working trim [m]."""
    line_set = known.facts.part(item, "set")
    heights = list(parked(known, item))
    if isinstance(line_set, Thing):
        heights.append(known.figure(line_set, "low_trim", "low trim"))
    if not heights:
        known.lack(item, "trims")
        return EVERYTHING, EVERYTHING
    low = least_of(heights)
    high = greatest_of(heights)
    return low, high


def cues_of(facts: Facts, item: Thing) -> tuple[Thing, ...]:
    """The moves of a piece in the show."""
    plot = item.enclosing("plot")
    cues = plot.members("cues") if plot is not None else ()
    return tuple(one for one in cues if one.references.get("item") is item)


def vertical_range(known: Gathering, item: Thing) -> tuple[Bounds, Bounds]:
    """Lowest bottom and greatest pipe height over all its trims [m]."""
    heights = parked(known, item)
    down = hang(known, item)
    if not heights:
        known.lack(item, "trims")
        return Bounds(-inf, inf), Bounds(-inf, inf)
    lowest = least_of(heights)
    highest = greatest_of(heights)
    return lowest - down, highest


def _asked(known: Gathering, thing: Thing, *, highest: bool) -> Answer:
    heights = parked(known, thing)
    known.settle()
    if not heights:
        return known.within(NONE, "trim-heights", "it asks for no height", None)
    found = greatest_of(heights) if highest else least_of(heights)
    return known.answer(found, "trim-heights", "over its trims and cues", LENGTH, "what the plot says")


@computed("item", "highest_asked")
def highest_asked(known: Gathering, thing: Thing) -> Answer:
    """Greatest pipe height over its trims and cues; none where it asks for none."""
    return _asked(known, thing, highest=True)


@computed("item", "lowest_asked")
def lowest_asked(known: Gathering, thing: Thing) -> Answer:
    """Least pipe height over its trims and cues; none where it asks for none."""
    return _asked(known, thing, highest=False)


@computed("item", "pipe_for_in_trim")
def pipe_for_in_trim(known: Gathering, thing: Thing) -> Answer:
    """Pipe height that puts its bottom at the in trim; none without one."""
    bottom = known.perhaps(thing, "in_trim", "height of its bottom when in")
    if bottom is NONE:
        return known.within(NONE, "trim-heights", "it has no in trim", None)
    down = hang(known, thing)
    if bottom is None:
        known.lack(thing, "in_trim")
    known.settle()
    assert isinstance(bottom, Bounds)
    return known.answer(bottom + down, "trim-heights", "bottom + height + drop to its top", LENGTH, _SUMS)


@computed("item", "bottom_at_out")
def bottom_at_out(known: Gathering, thing: Thing) -> Answer:
    """Height of its bottom at the out trim asked for; none without one."""
    out = known.perhaps(thing, "out_trim", "pipe height when out")
    if out is NONE:
        return known.within(NONE, "trim-heights", "it has no out trim", None)
    down = hang(known, thing)
    if out is None:
        known.lack(thing, "out_trim")
    known.settle()
    assert isinstance(out, Bounds)
    return known.answer(out - down, "trim-heights", "pipe - drop to its top - height", LENGTH, _SUMS)


@computed("item", "bottom_at_highest")
def bottom_at_highest(known: Gathering, thing: Thing) -> Answer:
    """Height of its bottom with the pipe as high as it goes; none for a piece on no set."""
    line_set = _set_of(known, thing)
    if line_set is None:
        return known.within(NONE, "trim-heights", "it hangs on no set", None)
    highest = known.figure(line_set, "highest_pipe", "greatest height of the pipe")
    down = hang(known, thing)
    known.settle()
    return known.answer(
        highest - down, "trim-heights", "highest pipe - drop to its top - height", LENGTH, _SUMS
    )


def _set_of(known: Gathering, item: Thing) -> Thing | None:
    """The set that carries a piece; nothing where it hangs on none.

    Raises:
        Lacking: nobody says where it hangs.
    """
    line_set = known.facts.part(item, "set")
    if isinstance(line_set, Unknown):
        known.lack(item, "on")
        known.settle()
    return line_set if isinstance(line_set, Thing) else None


def _show_trim(known: Gathering, thing: Thing, *, highest: bool) -> Answer:
    if known.facts.rig.plot is None:
        known.lack(thing, "items", "no plot is laid over the house")
    items = known.things(thing, "items")
    heights = []
    for item in items:
        name = "highest_asked" if highest else "lowest_asked"
        found = known.perhaps(item, name, f"{item.key}")
        if isinstance(found, Bounds):
            heights.append(found)
        elif found is None:
            known.lack(item, name)
    known.settle()
    if not heights:
        return known.within(NONE, "trim-heights", "nothing on it asks for a height", None)
    found = greatest_of(heights) if highest else least_of(heights)
    return known.answer(found, "trim-heights", "over the pieces on it", LENGTH, "what the plot says")


@computed("line_set", "show_trim_low")
def show_trim_low(known: Gathering, thing: Thing) -> Answer:
    """Lowest height of the pipe in the show; none where nothing on it asks for one."""
    return _show_trim(known, thing, highest=False)


@computed("line_set", "show_trim_high")
def show_trim_high(known: Gathering, thing: Thing) -> Answer:
    """Greatest height of the pipe in the show; none where nothing on it asks for one."""
    return _show_trim(known, thing, highest=True)


@computed("item", "sight_limit")
def sight_limit(known: Gathering, thing: Thing) -> Answer:
    """Height above which the bottom of a piece is out of sight: as the house has posted it, else along the
    line from the eye past the edge to where the piece hangs.
    """
    house = known.around(thing, "house")
    sight = known.thing(house, "sightline")
    known.settle()
    assert sight is not None
    posted = known.perhaps(sight, "hidden_above", "posted height")
    if isinstance(posted, Bounds):
        return known.answer(posted, "sight-line", "as posted", LENGTH, "what the house has posted")
    eye = known.figure(sight, "eye_height", "height of the eye")
    away = known.figure(sight, "eye_distance", "eye to the edge, level", within=NOUGHT_OR_MORE)
    edge = known.figure(sight, "edge_height", "height of the edge")
    depth = depth_of(known, thing)
    known.settle()
    if away.low <= 0:
        known.decline("the eye stands under the edge")
    known.suppose("the edge that cuts the view stands at the plaster line")
    if away.low + depth.low <= 0:
        known.decline("it hangs in front of the eye's own place")
    limit = over_bounds(_sightline_height, eye, edge, away, depth)
    formula = "eye + (edge - eye) x (distance to the edge + depth) / distance to the edge"
    return known.answer(limit, "sight-line", formula, LENGTH, "similar triangles (derived)")


def _sightline_height(eye: float, edge: float, away: float, depth: float) -> float:
    sight = Sight(eye_height=eye, edge_height=edge, eye_to_edge=away, eye_to_load=away + depth)
    return hidden(0.0, sight).sightline_height


def depth_of(known: Gathering, item: Thing) -> Bounds:
    """Distance of a piece's centre from the plaster line [m]; counted where it is not written."""
    line_set = known.facts.part(item, "set")
    if isinstance(line_set, Thing):
        return known.figure(line_set, "from_plaster_line", f"set {line_set.key} from the plaster line")
    own = known.perhaps(item, "from_plaster_line", "from the plaster line")
    if isinstance(own, Bounds):
        return own
    on = item.references.get("on")
    if isinstance(on, Thing) and "from_plaster_line" in on.kind.facts:
        return known.figure(on, "from_plaster_line", f"{on.key} from the plaster line")
    known.lack(item, "from_plaster_line")
    return Bounds(-inf, inf)


@computed("item", "sprinkler_clearance")
def sprinkler_clearance(known: Gathering, thing: Thing) -> Answer:
    """Least distance of its top, its pipe's among it, below a deflector whose area it enters at any parked
    trim; none where it enters none. One that hangs wholly above a row is not under it.
    """
    on = thing.references.get("on")
    if isinstance(on, Thing) and on.kind.name == "truss":
        found = known.perhaps(on, "sprinkler_clearance", f"of {on.key}")
        if found is None:
            known.lack(on, "sprinkler_clearance")
        known.settle()
        value = found if found is not None else NONE
        return known.answer(value, "sprinkler-clearance", "that of its truss", LENGTH, _SUMS)
    heights = parked(known, thing)
    down = hang(known, thing)
    drop = known.figure(thing, "drop_to_top")
    depth = depth_of(known, thing)
    reach = half_depths(known, thing)
    radius = _pipe_radius(known, thing)
    known.settle()
    tops = [(height - down, _greater(height + radius, height - drop)) for height in heights]
    return below_deflectors(known, thing, depth - reach, depth + reach, tops)


def _greater(one: Bounds, other: Bounds) -> Bounds:
    return Bounds(max(one.low, other.low), max(one.high, other.high))


def _pipe_radius(known: Gathering, item: Thing) -> Bounds:
    line_set = known.facts.part(item, "set")
    batten = known.facts.part(line_set, "batten") if isinstance(line_set, Thing) else None
    size = known.facts.value(batten, "outside_diameter") if isinstance(batten, Thing) else None
    if isinstance(size, Bounds):
        return size * Bounds.exactly(0.5)
    known.suppose("the pipe stands 1 in above its centre")
    return _PIPE_RADIUS


def below_deflectors(
    known: Gathering, thing: Thing, front: Bounds, back: Bounds, levels: list[tuple[Bounds, Bounds]]
) -> Answer:
    """Least distance of a top below the deflectors of the rows whose area it enters.

    Args:
        front, back: its reach down and up stage, from the plaster line [m].
        levels: lowest and highest point at each trim [m].
    """
    house = known.around(thing, "house")
    if known.facts.part(house, "sprinklers") is NONE:
        return known.within(NONE, "sprinkler-clearance", "the house has no sprinklers", None)
    rows = known.things(house, "sprinklers")
    known.settle()
    found: list[Bounds] = []
    for row in rows:
        first, last = known.perhaps(row, "from"), known.perhaps(row, "to")
        deflectors = known.figure(row, "deflectors_at", f"deflectors, {row.key}")
        outside = (isinstance(first, Bounds) and back.high < first.low) or (
            isinstance(last, Bounds) and front.low > last.high
        )
        for bottom, top in levels:
            above = bottom.low > deflectors.high
            if not outside and not above:
                found.append(deflectors - top)
    known.settle()
    if not found:
        return known.within(NONE, "sprinkler-clearance", "it enters the area of no row", None)
    least = least_of(found)
    return known.answer(least, "sprinkler-clearance", "deflectors - top", LENGTH, _SUMS)
