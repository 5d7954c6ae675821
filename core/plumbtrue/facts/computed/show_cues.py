"""Moves in the show and hanging cables: how fast a piece goes, what the hand line takes, what the lines feel.

A cue starts over the first third of its time, runs even, and stops over the last third, unless its peak speed
is given.
"""

from math import inf
from typing import Final

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.computed.show_balance import net_shift_per_height
from plumbtrue.facts.computed.show_trims import ends_of_travel
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Declined, Gathering, clipped
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.facts.published_tables import customary
from plumbtrue.mechanics.cue_pull import pull_to_accelerate, starting_acceleration, usual_peak
from plumbtrue.mechanics.draught import draught_swing as draught_on
from plumbtrue.mechanics.gravity import STANDARD_GRAVITY
from plumbtrue.mechanics.hoist_point import dynamic_factor
from plumbtrue.quantities.bounds import Bounds, greatest_of, least_of
from plumbtrue.quantities.dimension import FORCE, LENGTH, RATIO, SPEED
from plumbtrue.quantities.values import NONE, Unknown
from plumbtrue.rig.thing import Thing

_G: Final = Bounds.exactly(STANDARD_GRAVITY)
_MECHANICS: Final = "mechanics (derived); the profile is common practice"


def _item(known: Gathering, cue: Thing) -> Thing:
    item = cue.references.get("item") or cue.parts.get("item")
    if not isinstance(item, Thing):
        known.lack(cue, "item")
        known.settle()
    assert isinstance(item, Thing)
    return item


def _set(known: Gathering, cue: Thing) -> Thing:
    item = _item(known, cue)
    line_set = known.facts.part(item, "set")
    if isinstance(line_set, Unknown):
        known.lack(item, "on")
        known.settle()
    if not isinstance(line_set, Thing):
        raise Declined("what moves hangs on no set")
    return line_set


@computed("cue", "distance")
def distance(known: Gathering, thing: Thing) -> Answer:
    """Travel of the batten in the move."""
    start, end = known.figure(thing, "from"), known.figure(thing, "to")
    known.settle()
    return known.answer(abs(end - start), "cue", "|to - from|", LENGTH, "arithmetic")


@computed("cue", "peak")
def peak(known: Gathering, thing: Thing) -> Answer:
    """Peak speed of the batten: as given; 1.5 x distance / time where the plot says that it has no profile; and where
    it says nothing, no less than the mean.
    """
    given = known.perhaps(thing, "peak_speed", "peak speed by its profile")
    if isinstance(given, Bounds):
        return known.answer(given, "cue", "as given", SPEED, "the profile in the plot")
    travel = known.figure(thing, "distance", within=NOUGHT_OR_MORE)
    time = known.figure(thing, "time", within=NOUGHT_OR_MORE)
    known.settle()
    if time.low <= 0:
        known.decline("a move that takes no time")
    if given is None:
        known.loose.append(Missing(thing, "peak_speed", "whether the move has a profile is not recorded"))
        mean = Bounds((travel / time).low, inf)
        return known.within(mean, "cue", "distance / time at the least", SPEED, "kinematics (derived)")
    return known.answer(
        over_bounds(usual_peak, travel, time), "cue", "1.5 x distance / time", SPEED, "common practice"
    )


@computed("cue", "acceleration")
def acceleration(known: Gathering, thing: Thing) -> Answer:
    """Acceleration of the batten over that of free fall: peak speed over a third of the time."""
    speed = known.figure(thing, "peak", "peak speed", within=NOUGHT_OR_MORE)
    time = known.figure(thing, "time", within=NOUGHT_OR_MORE)
    known.settle()
    if time.low <= 0:
        known.decline("a move that takes no time")
    found = over_bounds(starting_acceleration, speed, time) / _G
    return known.answer(found, "cue", "peak / (time / 3) / g", RATIO, _MECHANICS)


@computed("cue", "pull")
def pull(known: Gathering, thing: Thing) -> Answer:
    """Pull at the hand line: what speeds up all that moves, the imbalance at the start, and friction."""
    line_set = _set(known, thing)
    a = known.figure(thing, "acceleration", "acceleration / g", within=NOUGHT_OR_MORE)
    p = known.figure(line_set, "purchase")
    fixed = known.figure(line_set, "fixed_load_computed", "fixed load", within=NOUGHT_OR_MORE)
    live = known.figure(line_set, "live_load", "what the plot hangs", within=NOUGHT_OR_MORE)
    start = known.figure(thing, "from")
    known.settle()
    batten = fixed + live
    arbor = batten * p
    speeding_up = over_bounds(_to_accelerate, batten, arbor, a, p)
    to_accelerate = known.step("to speed up", speeding_up, FORCE)
    imbalance = known.step("imbalance at the start", _at_start(known, line_set, start), FORCE)
    rubbing = _friction(known, thing, line_set)
    known.settle()
    if to_accelerate.high == inf:
        known.lack(line_set, "items", "a weight on it has no bound")
        known.settle()
    total = to_accelerate + imbalance + rubbing
    formula = "(p x batten side + arbor side / p) x a/g + |imbalance at the start| + friction"
    return known.within(total, "cue-pull", formula, FORCE, _MECHANICS)


def _to_accelerate(batten_side: float, arbor_side: float, share_of_g: float, purchase: float) -> float:
    return pull_to_accelerate(batten_side, arbor_side, share_of_g * STANDARD_GRAVITY, purchase=purchase)


def _at_start(known: Gathering, line_set: Thing, start: Bounds) -> Bounds:
    """Size of the imbalance at the hand line at the start of a move [N]: rope that passed over, and cable that was
    lifted, since the trim of balance, and what the whole bricks leave over.
    """
    low, high = known.perhaps(line_set, "show_trim_low"), known.perhaps(line_set, "show_trim_high")
    if not isinstance(low, Bounds) or not isinstance(high, Bounds):
        known.lack(line_set, "show_trim_low" if not isinstance(low, Bounds) else "show_trim_high")
        known.settle()
    assert isinstance(low, Bounds)
    assert isinstance(high, Bounds)
    middle = (low + high) * Bounds.exactly(0.5)
    known.suppose("balanced in the middle of its working travel")
    shift = abs(net_shift_per_height(known, line_set) * (middle - start))
    arbor = known.thing(line_set, "arbor")
    known.settle()
    left = known.facts.value(arbor, "stack_left_over") if arbor is not None else None
    if not isinstance(left, Bounds):
        assert arbor is not None
        known.lack(arbor, "stack_left_over")
        known.settle()
    assert isinstance(left, Bounds)
    return shift + abs(left)


def _friction(known: Gathering, cue: Thing, line_set: Thing) -> Bounds:
    """Friction at the hand line [N]: as measured for the move or of the set; the customary figure where the plot says
    that nobody measured it; any where it says nothing.
    """
    own = known.perhaps(cue, "friction", "friction as measured")
    if isinstance(own, Bounds):
        return own
    of_set = known.facts.value(line_set, "friction")
    if isinstance(of_set, Bounds):
        known.value(line_set, "friction")
        return of_set
    if own is None:
        known.loose.append(Missing(cue, "friction", "whether anybody measured it is not recorded"))
        return NOUGHT_OR_MORE
    usual, source = customary("hand-line-friction", "force")
    known.suppose(f"friction at the hand line as is usual: {source}")
    return known.given("friction at the hand line", usual, FORCE, source)


def _lines(known: Gathering, cue: Thing) -> tuple[Thing, ...]:
    lines = known.things(_set(known, cue), "lift_lines")
    known.settle()
    if not lines:
        known.decline("what moves hangs on no line")
    return lines


def _worst(known: Gathering, cue: Thing, name: str) -> Bounds:
    a = known.figure(cue, "acceleration", "acceleration / g", within=NOUGHT_OR_MORE)
    found = [known.figure(line, name, f"{line.key}", within=NOUGHT_OR_MORE) for line in _lines(known, cue)]
    known.settle()
    most = greatest_of(found)
    return most * over_bounds(lambda share_of_g: dynamic_factor(share_of_g * STANDARD_GRAVITY), a)


@computed("cue", "dynamic_reaction")
def dynamic_reaction(known: Gathering, thing: Thing) -> Answer:
    """Greatest pull of a line in the move: its pull at rest by 1 + a/g."""
    found = _worst(known, thing, "reaction_hung")
    return known.within(found, "dynamic-factor", "pull at rest x (1 + a/g)", FORCE, _MECHANICS)


@computed("cue", "dynamic_utilisation")
def dynamic_utilisation(known: Gathering, thing: Thing) -> Answer:
    """Greatest pull of a line in the move over what every part of that line allows."""
    found = _worst(known, thing, "utilisation_hung")
    return known.within(found, "dynamic-factor", "utilisation at rest x (1 + a/g)", RATIO, _MECHANICS)


def _feeds(known: Gathering, item: Thing) -> tuple[Thing, ...] | None:
    """The hanging loops of a piece; nothing where it is known to have none."""
    held = known.facts.part(item, "feed")
    if held is NONE or held == ():
        return None
    return known.things(item, "feed")


@computed("item", "feed_share_change")
def feed_share_change(known: Gathering, thing: Thing) -> Answer:
    """Change of cable weight on the pipe from the set's low trim to the highest working trim; none without
    hanging loops.
    """
    feeds = _feeds(known, thing)
    if feeds is None:
        return known.within(NONE, "cable-feed", "no cable hangs to it", None)
    low, high = ends_of_travel(known, thing)
    rows = [_of_feed(known, feed) for feed in feeds]
    known.settle()
    total = Bounds.exactly(0.0)
    for weight, loop, pick in rows:
        upper, lower = (_share(known, weight, loop, pick, height) for height in (high, low))
        known.step("share at the lowest", lower, FORCE)
        known.step("share at the highest", upper, FORCE)
        # Both shares hang on the same loop, so its length and its weight enter once.
        risen = (high - low) * Bounds.exactly(0.5)
        total = total + _narrower(upper - lower, weight * risen)
    formula = "w (L - (Hp - h)) / 2, at the highest less at the lowest"
    return known.within(total, "cable-feed", formula, FORCE, "statics (derived)")


def _narrower(one: Bounds, other: Bounds) -> Bounds:
    low, high = max(one.low, other.low), min(one.high, other.high)
    return Bounds(low, high) if low <= high else one


def _of_feed(known: Gathering, feed: Thing) -> tuple[Bounds, Bounds, Bounds]:
    return (
        known.figure(feed, "weight_per_length", f"weight per length, {feed.key}", within=NOUGHT_OR_MORE),
        known.figure(feed, "loop_length", f"loop, {feed.key}", within=NOUGHT_OR_MORE),
        known.figure(feed, "pick_height", f"pick, {feed.key}"),
    )


def _share(known: Gathering, weight: Bounds, loop: Bounds, pick: Bounds, height: Bounds) -> Bounds:
    """The pipe's share of a loop [N]; monotone in everything but the loop's weight, which is a factor."""
    from plumbtrue.mechanics.cable_feed import cable_share
    from plumbtrue.mechanics.refusal import Refused

    found = []
    for w, length, at, h in (
        (weight.low, loop.low, pick.high, height.low),
        (weight.high, loop.high, pick.low, height.high),
    ):
        if length <= 0:
            known.decline("a hanging loop without length")
        share = cable_share(w, length, at, h)
        if isinstance(share, Refused):
            known.decline(share.reason)
        found.append(share)
    return Bounds(min(found), max(found))


@computed("item", "feed_slack")
def feed_slack(known: Gathering, thing: Thing) -> Answer:
    """Least length to spare in its loops over its trims; negative: drawn tight; none without loops."""
    feeds = _feeds(known, thing)
    if feeds is None:
        return known.within(NONE, "cable-feed", "no cable hangs to it", None)
    low, high = ends_of_travel(known, thing)
    rows = [(known.figure(one, "loop_length"), known.figure(one, "pick_height")) for one in feeds]
    known.settle()
    spare = []
    for loop, pick in rows:
        for height in (low, high):
            spare.append(loop - abs(pick - height))
    least = least_of(spare)
    return known.within(least, "cable-feed", "loop - height between its ends", LENGTH, "geometry (derived)")


@computed("item", "draught_swing")
def draught_swing(known: Gathering, thing: Thing) -> Answer:
    """Swing of its bottom in a draught: drop x force over weight. As with doors shut where the plot says that nobody
    measured how the air moves.
    """
    drag, drag_source = customary("drag-of-a-cloth")
    speed = known.perhaps(thing, "draught", "air speed")
    if not isinstance(speed, Bounds):
        if speed is None:
            known.lack(thing, "draught")
        speed, source = customary("draught-with-doors-shut", "speed")
        known.given("air speed with doors shut", speed, SPEED, source)
        known.suppose(f"air speed with doors shut: {source}")
    area = known.figure(thing, "area", within=NOUGHT_OR_MORE)
    weight = known.figure(thing, "total_weight", within=NOUGHT_OR_MORE)
    height = known.figure(thing, "height", within=NOUGHT_OR_MORE)
    known.settle()
    if weight.low <= 0:
        known.decline("a cloth that weighs nothing")
    known.suppose(f"drag on a cloth: {drag_source}")
    blown = clipped(speed, NOUGHT_OR_MORE)
    inputs = (blown, area, drag, weight, height)
    known.step("force of the draught", over_bounds(lambda *of: draught_on(*of).force, *inputs), FORCE)
    swing = over_bounds(lambda *of: draught_on(*of).swing, *inputs)
    formula = "drop x F / W, F = rho v^2 / 2 x drag x area"
    return known.within(
        swing, "draught-swing", formula, LENGTH, "velocity pressure as in ASCE 7 (from memory)"
    )
