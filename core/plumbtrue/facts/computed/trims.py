"""How high a batten goes, what stops it, and what each lower end costs of it.

Two things stop a batten: its lower ends meeting the loft blocks, and the arbor meeting its lower stop. Every
inch between the rope's end and the pipe costs an inch of height. A part whose height nobody measured is taken
within what such parts measure, and says so.
"""

from math import inf

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.places import holding_lines
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.facts.published_tables import assumed, customary
from plumbtrue.mechanics.trim_heights import height_by_grid, height_by_travel
from plumbtrue.quantities.bounds import EVERYTHING, Bounds, least_of
from plumbtrue.quantities.dimension import LENGTH
from plumbtrue.quantities.values import Choice
from plumbtrue.rig.thing import Thing

_SUMS = "sums of lengths (derived)"


@computed("lift_line", "stack")
def stack(known: Gathering, thing: Thing) -> Answer:
    """Height from the rope's end down to the pipe's centre: the sum over the parts of the lower end."""
    parts = known.things(thing, "lower")
    known.settle()
    total = Bounds.exactly(0.0)
    for part in parts:
        recorded = known.perhaps(part, "stack_length", f"height of the {part.kind.word}")
        total = total + (recorded if isinstance(recorded, Bounds) else _assumed_height(known, part))
    return known.within(total, "trim-heights", "sum of the heights of the parts", LENGTH, _SUMS)


def _assumed_height(known: Gathering, part: Thing) -> Bounds:
    found = assumed(part.kind.word, "length")
    if found is None:
        known.lack(part, "stack_length")
        known.settle()
    assert found is not None
    return known.assume(part, "stack_length", found[0], LENGTH, found[1])


@computed("lift_line", "lost_height")
def lost_height(known: Gathering, thing: Thing) -> Answer:
    """Height that the lower end uses up, of what would be there with the pipe at the rope's end."""
    found = known.figure(
        thing, "stack", "height from the rope's end to the pipe's centre", within=NOUGHT_OR_MORE
    )
    return known.answer(found, "trim-heights", "the sum of the heights of its parts", LENGTH, _SUMS)


def _low_points(known: Gathering, line_set: Thing) -> list[tuple[Thing, Bounds, Bounds]]:
    """Lines with the lowest thing that their lower end can strike, and the height of that end [m]."""
    found = []
    for line in holding_lines(known, line_set):
        blocks = known.things(line, "blocks")
        loft = next((block for block in blocks if block.kind.name == "loft_block"), None)
        if loft is None:
            known.lack(line, "blocks", "it has no loft block on record")
            continue
        low_point = known.figure(loft, "low_point", f"low point over {line.key}", within=NOUGHT_OR_MORE)
        found.append(
            (line, low_point, known.figure(line, "stack", f"lower end of {line.key}", within=NOUGHT_OR_MORE))
        )
    return found


def _by_travel(known: Gathering, line_set: Thing) -> Bounds:
    """Height of the pipe with the arbor on its lower stop [m]: as found by running it, else low trim and
    travel.
    """
    found = known.perhaps(line_set, "high_trim_found", "greatest height found by running it")
    if isinstance(found, Bounds):
        return found
    arbor = known.thing(line_set, "arbor")
    low = known.figure(line_set, "low_trim", within=NOUGHT_OR_MORE)
    purchase = known.figure(line_set, "purchase")
    travel = (
        known.figure(arbor, "travel", "travel of the arbor", within=NOUGHT_OR_MORE)
        if arbor
        else NOUGHT_OR_MORE
    )
    if known.lacking:
        return EVERYTHING
    return known.step("by the arbor's travel", over_bounds(height_by_travel, low, travel, purchase), LENGTH)


def _is_without_arbor(known: Gathering, line_set: Thing) -> bool:
    """Whether it is a hemp set: no arbor stops one, and its blocks alone do."""
    system = known.facts.value(line_set, "system")
    is_hemp = isinstance(system, Choice) and system.word == "hemp"
    was_run = isinstance(known.facts.value(line_set, "high_trim_found"), Bounds)
    return is_hemp and not was_run and not isinstance(known.facts.part(line_set, "arbor"), Thing)


def _by_blocks(known: Gathering, line_set: Thing) -> Bounds:
    """Height of the pipe at which the first lower end comes within the customary clearance of its block
    [m].
    """
    clearance, source = customary("clearance-under-block", "length")
    rows = _low_points(known, line_set)
    if known.lacking or not rows:
        return EVERYTHING
    known.given("clearance kept under a block", clearance, LENGTH, source)
    known.suppose(f"clearance kept under a block: {source}")
    heights = [over_bounds(height_by_grid, low_point, clearance, end) for _, low_point, end in rows]
    least = least_of(heights)
    return known.step("by the blocks", least, LENGTH)


def _stops(known: Gathering, line_set: Thing) -> dict[str, Bounds]:
    """Height of the pipe by travel, by blocks, and by a posted limit that a stop holds.

    Raises:
        Lacking: neither travel nor blocks can be told. One of them alone still says "at most".
    """
    stops: dict[str, Bounds] = {}
    for word, stop in (("travel", _by_travel), ("blocks", _by_blocks)):
        if word == "travel" and _is_without_arbor(known, line_set):
            known.suppose("no arbor stops a hemp set")
            continue
        own = Gathering(known.facts)
        stops[word] = stop(own, line_set)
        known.include(own)
    if all(one == EVERYTHING for one in stops.values()):
        known.settle()
    limit = known.perhaps(line_set, "trim_limit", "posted limit")
    held = known.facts.value(line_set, "trim_limit_held_by")
    if isinstance(limit, Bounds) and isinstance(held, Choice) and held.word == "stop":
        stops["limit"] = limit
    return stops


@computed("line_set", "highest_pipe")
def highest_pipe(known: Gathering, thing: Thing) -> Answer:
    """Greatest height of the pipe's centre: the least of what travel, blocks and a stop at a posted limit
    allow.

    With one of the first two unknown it is only at most the other.
    """
    stops = _stops(known, thing).values()
    highest = least_of(stops)
    formula = "least of low trim + purchase x travel, low point - clearance - lower end, and a stop"
    return known.within(highest, "trim-heights", formula, LENGTH, _SUMS)


@computed("line_set", "highest_pipe_by")
def highest_pipe_by(known: Gathering, thing: Thing) -> Answer:
    """What governs the greatest height; several words where they may."""
    named = _stops(known, thing)
    lowest_high = min(one.high for one in named.values())
    possible = {word for word, one in named.items() if one.low <= lowest_high}
    if all(one.is_exact for one in named.values()):
        possible = {next(word for word, one in named.items() if one.high == lowest_high)}
    return known.within(Choice(frozenset(possible)), "trim-heights", "the stop that comes first", None, _SUMS)


@computed("line_set", "block_clearance")
def block_clearance(known: Gathering, thing: Thing) -> Answer:
    """Distance from the top of the lower ends up to the blocks with the arbor on its lower stop; negative
    where they meet first.
    """
    measured = known.perhaps(thing, "eye_to_groove", "measured from the top of the lower end")
    if isinstance(measured, Bounds):
        return known.answer(measured, "block-clearance", "as measured", LENGTH, "the measurement")
    travel = _by_travel(known, thing)
    rows = _low_points(known, thing)
    known.settle()
    gaps = [low_point - end - travel for _, low_point, end in rows]
    for (line, _, _), gap in zip(rows, gaps, strict=True):
        known.step(f"{line.key}, clearance", gap, LENGTH)
    least = least_of(gaps)
    formula = "low point - lower end - height of the pipe with the arbor on its lower stop"
    return known.answer(least, "block-clearance", formula, LENGTH, _SUMS)


@computed("lift_line", "cut_length")
def cut_length(known: Gathering, thing: Thing) -> Answer:
    """Rope from end to end of a line, without what the ends turn back: as recorded; else at most what the
    heights say.

    From the lower end at the lowest trim over loft and head block down to the arbor at its highest. How tall
    the arbor stands above its foot is no fact of the house, so its clear height and a range for its frame
    stand for it.
    """
    rope = known.thing(thing, "rope")
    recorded = known.perhaps(rope, "length", "length of the rope now up") if rope is not None else None
    if isinstance(recorded, Bounds):
        return known.answer(recorded, "cut-length", "as the rope now up", LENGTH, "recorded length")
    line_set = known.around(thing, "line_set")
    blocks = known.things(thing, "blocks")
    loft = next((block for block in blocks if block.kind.name == "loft_block"), None)
    head = known.thing(line_set, "head_block")
    arbor = known.thing(line_set, "arbor")
    if loft is None:
        known.lack(thing, "blocks", "it has no loft block on record")
    known.settle()
    assert loft is not None
    assert head is not None
    assert arbor is not None
    low = known.figure(line_set, "low_trim", within=NOUGHT_OR_MORE)
    end = known.figure(thing, "stack", within=NOUGHT_OR_MORE)
    up, over = (known.figure(block, "groove_height", within=NOUGHT_OR_MORE) for block in (loft, head))
    run = known.figure(loft, "fleet_run", "distance to the next groove", within=NOUGHT_OR_MORE)
    foot = known.figure(arbor, "stop_low", within=NOUGHT_OR_MORE)
    travel = known.figure(arbor, "travel", within=NOUGHT_OR_MORE)
    clear = known.figure(arbor, "clear_height", within=NOUGHT_OR_MORE)
    purchase = known.figure(line_set, "purchase")
    known.settle()
    frame = assumed("arbor-frame", "length")
    assert frame is not None
    known.loose.append(Missing(thing if rope is None else rope, "length"))
    tall = clear + known.given(
        "frame of the arbor beyond its clear height, assumed", frame[0], LENGTH, frame[1]
    )
    known.suppose(f"the arbor's frame beyond its clear height: {frame[1]}")
    batten_drop = up - low - end
    arbor_drop = (over - foot - travel - tall) * purchase
    level = Bounds(_hypot(run.low, _least(over - up)), _hypot(run.high, abs(over - up).high))
    total = batten_drop + level + Bounds(max(arbor_drop.low, 0.0), max(arbor_drop.high, 0.0))
    known.suppose("bends over the blocks taken as corners, turn-backs of the ends left out")
    known.suppose("rope is cut long and trimmed after the first load")
    return known.within(
        total, "cut-length", "batten drop + run + purchase x arbor drop", LENGTH, "geometry (derived)"
    )


def _least(bounds: Bounds) -> float:
    return abs(bounds).low


def _hypot(a: float, b: float) -> float:
    return (a * a + b * b) ** 0.5 if a < inf and b < inf else inf
