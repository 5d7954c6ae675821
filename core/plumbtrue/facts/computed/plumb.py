"""Lift lines out of plumb: how far at the greatest height and at any other, when the limit is passed, how far
the batten drifts.

An offset is harmless low down and steep near the grid: the offset stays, the drop shrinks. Under load rope
and lower end hang in one straight line, so the drop runs to the pipe's centre. A batten that is free to swing
hangs where the sideways pulls of its lines balance; offsets measured on a free batten have that swing in them
already.
"""

from collections.abc import Sequence
from math import hypot, inf, pi

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.places import holding_lines
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.facts.published_tables import customary
from plumbtrue.mechanics.breast_line import breast_line_at
from plumbtrue.mechanics.drift import drift_bounds
from plumbtrue.mechanics.plumb import drop_at_limit, line_out_of_plumb, out_of_plumb
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.quantities.bounds import Bounds, hull_of
from plumbtrue.quantities.dimension import ANGLE, FORCE, LENGTH
from plumbtrue.quantities.values import Choice
from plumbtrue.rig.thing import Thing

_GEOMETRY = "plane trigonometry"


def _offset(known: Gathering, line: Thing, name: str) -> Bounds:
    """How far a pick is off, one way [m]; of an "at most" it may be to either side."""
    found = known.figure(line, name, f"{name.replace('_', ' ')}, {line.key}")
    return Bounds(-found.high, found.high) if found.low == -inf and 0 <= found.high < inf else found


def _both_ways(along: Bounds, across: Bounds) -> Bounds:
    return over_bounds(hypot, abs(along), abs(across))


def _groove(known: Gathering, line: Thing) -> Bounds:
    blocks = known.things(line, "blocks")
    loft = next((block for block in blocks if block.kind.name == "loft_block"), None)
    if loft is None:
        known.lack(line, "blocks", "it has no loft block on record")
        return NOUGHT_OR_MORE
    return known.figure(loft, "groove_height", "height of the groove", within=NOUGHT_OR_MORE)


def angle_at(offset: Bounds, drop: Bounds) -> Bounds:
    """Angle off plumb [rad] for an offset of either sign and a drop [m]; a right angle where there is no drop
    left.

    >>> from math import degrees
    >>> round(degrees(angle_at(Bounds(0.1016, 0.1016), Bounds(0.762, 0.762)).low), 1)
    7.6
    """
    e = abs(offset)
    if e.high == 0:
        return Bounds.exactly(0.0)
    if drop.high <= 0:
        return Bounds(0.0 if e.low <= 0 else pi / 2, pi / 2)
    below = over_bounds(out_of_plumb, e, Bounds(max(drop.low, 0.0), drop.high))
    # With the pick at the groove's own height, any offset at all lies level with it.
    return Bounds(below.low, pi / 2) if drop.low <= 0 else below


def drop_angle_at(known: Gathering, line: Thing, height: Bounds) -> Bounds:
    """Angle off plumb of a line with the pipe's centre at a height [m], the batten held where it was measured
    [rad].
    """
    offset = _both_ways(_offset(known, line, "pick_off_along"), _offset(known, line, "pick_off_across"))
    groove = _groove(known, line)
    if known.lacking:
        return Bounds(0.0, pi / 2)
    known.step("out of plumb", offset, LENGTH)
    known.step("drop from the groove to the pipe's centre", groove - height, LENGTH)
    return angle_at(offset, groove - height)


def _highest(known: Gathering, line: Thing) -> Bounds:
    return known.figure(
        known.around(line, "line_set"), "highest_pipe", "greatest height of the pipe", within=NOUGHT_OR_MORE
    )


@computed("lift_line", "drop_angle")
def drop_angle(known: Gathering, thing: Thing) -> Answer:
    """Angle off plumb with the pipe at its greatest height, the batten held where it was measured."""
    height = _highest(known, thing)
    angle = drop_angle_at(known, thing, height)
    return known.answer(angle, "plumb", "atan(offset / drop)", ANGLE, _GEOMETRY)


@computed("lift_line", "drop_angle_low")
def drop_angle_low(known: Gathering, thing: Thing) -> Answer:
    """Angle off plumb with the pipe at its lowest: what shows at the deck."""
    line_set = known.around(thing, "line_set")
    height = known.figure(line_set, "low_trim", "lowest height of the pipe", within=NOUGHT_OR_MORE)
    angle = drop_angle_at(known, thing, height)
    return known.answer(angle, "plumb", "atan(offset / drop)", ANGLE, _GEOMETRY)


@computed("lift_line", "pull_sideways")
def pull_sideways(known: Gathering, thing: Thing) -> Answer:
    """Level pull on block and batten with the pipe at its greatest height, the batten held where it was measured."""
    height = _highest(known, thing)
    offset = _both_ways(_offset(known, thing, "pick_off_along"), _offset(known, thing, "pick_off_across"))
    groove = _groove(known, thing)
    pull = known.figure(thing, "reaction", "pull at what is posted", within=NOUGHT_OR_MORE)
    known.settle()
    known.step("e, out of plumb", offset, LENGTH)
    drop = known.step("h, from the groove to the pipe's centre", groove - height, LENGTH)
    if drop.low <= 0:
        known.decline("the pipe may stand as high as the groove, where no plumb line joins them")

    def level(V: float, e: float, h: float) -> float:
        return line_out_of_plumb(e, h, V).horizontal

    found = over_bounds(level, pull, offset, drop)
    return known.within(found, "plumb", "V e / h", FORCE, "statics (derived)")


@computed("lift_line", "plumb_limit_height")
def plumb_limit_height(known: Gathering, thing: Thing) -> Answer:
    """Height of the pipe above which the line is more than the customary limit off plumb."""
    limit, source = customary("plumb-limit", "angle")
    known.given("limit", limit, ANGLE, source)
    offset = _both_ways(_offset(known, thing, "pick_off_along"), _offset(known, thing, "pick_off_across"))
    groove = _groove(known, thing)
    known.settle()
    drop = over_bounds(drop_at_limit, offset, Bounds.exactly(limit.low))
    known.step("drop at which the limit is reached", drop, LENGTH)
    formula = "height of the groove - offset / tan(limit)"
    return known.answer(groove - drop, "plumb-limit", formula, LENGTH, f"{_GEOMETRY}; {source}")


def _measured_free(known: Gathering, line: Thing) -> bool | None:
    """Whether the offsets were measured on a batten free to swing; nothing when nobody says."""
    value = known.facts.value(line, "measured_with")
    word = value.word if isinstance(value, Choice) else None
    return None if word is None else word == "free"


def _shift(
    known: Gathering, thing: Thing, name: str, lines: Sequence[Thing], pulls: Sequence[Bounds]
) -> tuple[Bounds, Bounds]:
    """How far the batten swings one way, and what is left of this line's offset then [m]: bounds over all
    offsets and pulls.
    """
    offsets = [_offset(known, line, name) for line in lines]
    if known.lacking:
        return NOUGHT_OR_MORE, NOUGHT_OR_MORE
    found = drift_bounds(pulls, offsets, lines.index(thing))
    if found is None:
        known.decline("no line pulls, so nothing holds the batten in its place")
    return found


def _swung(known: Gathering, thing: Thing) -> tuple[Bounds, Bounds]:
    """How far the batten swings, and what is left of this line's offset [m], along and across taken together.

    Pulls are those of the bare batten; the load that hangs shares alike enough, since only the ratios of the
    pulls count.
    """
    line_set = known.around(thing, "line_set")
    lines = holding_lines(known, line_set)
    if thing not in lines:
        known.decline("it does not hold the batten")
    pulls = [
        known.figure(line, "reaction_bare", f"pull of {line.key}, bare", within=NOUGHT_OR_MORE)
        for line in lines
    ]
    known.settle()
    (along, left_along), (across, left_across) = (
        _shift(known, thing, name, lines, pulls) for name in ("pick_off_along", "pick_off_across")
    )
    known.settle()
    known.suppose(
        "pulls as with the bare batten; all blocks at one height; nothing holds the batten sideways"
    )
    return _both_ways(along, across), _both_ways(left_along, left_across)


@computed("lift_line", "drift")
def drift(known: Gathering, thing: Thing) -> Answer:
    """How far the batten swings aside to hang plumb; nought where the offsets were measured on a free
    batten.
    """
    free = _measured_free(known, thing)
    if free is True:
        known.value(thing, "measured_with")
        return known.answer(
            Bounds.exactly(0.0), "batten-drift", "the swing is in the measured offsets", LENGTH, _GEOMETRY
        )
    swing, _ = _swung(known, thing)
    if free is None:
        known.loose.append(Missing(thing, "measured_with"))
        swing = Bounds(0.0, swing.high)
    return known.within(
        swing,
        "batten-drift",
        "s = -sum V_i e_i / sum V_i",
        LENGTH,
        "horizontal balance of all lines (derived)",
    )


@computed("lift_line", "drop_angle_drifted")
def drop_angle_drifted(known: Gathering, thing: Thing) -> Answer:
    """Angle off plumb at the greatest height with the batten free to swing."""
    height = _highest(known, thing)
    free = _measured_free(known, thing)
    groove = _groove(known, thing)
    held = _both_ways(_offset(known, thing, "pick_off_along"), _offset(known, thing, "pick_off_across"))
    known.settle()
    if free is True:
        known.value(thing, "measured_with")
        left = held
    else:
        _, left = _swung(known, thing)
        if free is None:
            known.loose.append(Missing(thing, "measured_with"))
            left = left.hull(held)
    known.step("out of plumb after the swing", left, LENGTH)
    angle = angle_at(left, groove - height)
    return known.within(
        angle, "batten-drift", "atan((e + s) / drop)", ANGLE, "horizontal balance of all lines (derived)"
    )


@computed("side_line", "tension")
def side_line_tension(known: Gathering, thing: Thing) -> Answer:
    """Pull in a side line that draws the lines off plumb by an angle, itself rising at an angle: `W sin t /
    cos(t - a)`.
    """
    line_set = known.around(thing, "line_set")
    rising = known.figure(
        thing, "angle", "angle of the side line above the horizontal", within=Bounds(-pi / 2, pi / 2)
    )
    drawn = known.figure(thing, "draws_line_by", "lines drawn off plumb by", within=Bounds(0.0, pi / 2))
    fixed = known.figure(line_set, "fixed_load_computed", "fixed load", within=NOUGHT_OR_MORE)
    load = known.perhaps(line_set, "present_load", "what hangs now")
    if load is None:
        known.lack(line_set, "present_load")
    known.settle()
    weight = fixed + load if isinstance(load, Bounds) else fixed
    known.step("weight drawn aside", weight, FORCE)
    # The pull is least where the side line lies square to the lines that it draws, which may be in between.
    square = [one for one in (drawn.low, drawn.high) if rising.low < one < rising.high]
    found = hull_of(
        over_bounds(_breast_pull, weight, drawn, Bounds.exactly(one))
        for one in (rising.low, rising.high, *square)
    )
    return known.answer(
        found, "breast-line", "W sin(t) / cos(t - a)", FORCE, "balance of three pulls (derived)"
    )


def _breast_pull(weight: float, drawn: float, rising: float) -> float | Refused:
    found = breast_line_at(weight, drawn, rising)
    return found if isinstance(found, Refused) else found.breast
