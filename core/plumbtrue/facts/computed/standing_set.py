"""A set as it stands: what moving it would take, what its lock holds it with, and what it would do if it ran free.

Upper estimates of a run-away explain a hazard; nobody sizes a stop by them.
"""

from typing import Final

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.computed.balance import imbalance_now
from plumbtrue.facts.computed.blocks import hand_line_tension
from plumbtrue.facts.computed.places import over_head_block
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.facts.published_tables import customary
from plumbtrue.mechanics.hand_line import friction_bounds
from plumbtrue.mechanics.head_block import held_hand_line, tension_block_lift
from plumbtrue.mechanics.runaway import Runaway, runaway, stopping
from plumbtrue.quantities.bounds import Bounds, hull_of
from plumbtrue.quantities.dimension import FORCE, LENGTH, RATIO, SPEED
from plumbtrue.rig.thing import Thing

_ENERGY: Final = "energy balance with an equivalent mass, any mechanics textbook (derived)"
_STATICS: Final = "statics (derived)"


@computed("line_set", "hand_line_pull_expected")
def hand_line_pull_expected(known: Gathering, thing: Thing) -> Answer:
    """Greater pull of raising and lowering the set as it stands, from its out-of-balance and a share of the pulls
    of its lines for each sheave that they pass.
    """
    now = imbalance_now(known, thing)
    p = known.figure(thing, "purchase")
    lines = over_head_block(known.facts, known.things(thing, "lift_lines"))
    pulls = Bounds.exactly(0.0)
    for line in lines:
        pulls = pulls + known.figure(line, "reaction_present", f"pull of {line.key}", within=NOUGHT_OR_MORE)
    sheaves = [len(known.things(line, "blocks")) + 1 for line in lines]
    known.settle()
    if not lines:
        known.decline("no line runs over the head block")
    (least, of_least), (most, of_most) = customary("sheave-friction-least"), customary("sheave-friction-most")
    known.given("least share of the pull for each sheave", least, RATIO, of_least)
    known.given("greatest share of the pull for each sheave", most, RATIO, of_most)
    known.step("pulls of all lines", pulls, FORCE)
    known.steps.append(("sheaves that a line passes, the head block among them", str(max(sheaves))))
    low, high = (
        friction_bounds(end, number, least=least.low, most=most.low)
        for end, number in ((pulls.low, min(sheaves)), (pulls.high, max(sheaves)))
    )
    friction = known.step("friction at the hand line", Bounds(low[0], high[1]) * p, FORCE)
    # One of raising and lowering goes against the out-of-balance U, and that pull is the greater. Bounds of each by
    # itself would take the same U for light in the one and for heavy in the other.
    formula = "the greater of U + f and -U + f, U being felt at the hand line"
    found = abs(now) + friction
    return known.within(
        found, "hand-line-pull", formula, FORCE, f"{_STATICS}; 1 to 5 % a sheave: common practice"
    )


def _sides(known: Gathering, line_set: Thing) -> tuple[Bounds, Bounds, Bounds, Bounds]:
    """Batten side, arbor side [N], purchase, and travel of the batten [m]; settles what is missing."""
    fixed = known.figure(line_set, "fixed_load_computed", "fixed load", within=NOUGHT_OR_MORE)
    load = known.perhaps(line_set, "present_load", "what hangs now")
    if load is None:
        known.lack(line_set, "present_load")
    arbor = known.thing(line_set, "arbor")
    p = known.figure(line_set, "purchase")
    now = imbalance_now(known, line_set)
    travel = known.figure(arbor, "travel", within=NOUGHT_OR_MORE) if arbor is not None else NOUGHT_OR_MORE
    known.settle()
    batten = fixed + load if isinstance(load, Bounds) else fixed
    known.step("batten side", batten, FORCE)
    # What is measured at the hand line goes before a count of bricks, so the arbor side follows from it.
    arbor_side = known.step("arbor side, by the out-of-balance", batten * p - now, FORCE)
    return batten, Bounds(max(arbor_side.low, 0.0), max(arbor_side.high, 0.0)), p, travel * p


def _runs(known: Gathering, line_set: Thing) -> list[tuple[Runaway, float, float, float]]:
    """A run over the whole travel at every end of what is known, with both sides and the purchase."""
    batten, arbor, p, travel = _sides(known, line_set)
    known.step("travel of the batten", travel, LENGTH)
    known.suppose("no friction, and the whole travel free: an upper estimate")
    if not (batten.high < float("inf") and arbor.high < float("inf") and travel.high < float("inf")):
        known.decline("no bound on what moves, or on how far")
    if batten.low + arbor.low <= 0:
        known.decline("nothing hangs on either side")
    return [
        (runaway(w, a, h, 0.0, purchase=by), w, a, by)
        for w in (batten.low, batten.high)
        for a in (arbor.low, arbor.high)
        for h in (travel.low, travel.high)
        for by in (p.low, p.high)
    ]


@computed("line_set", "run_away_speed")
def run_away_speed(known: Gathering, thing: Thing) -> Answer:
    """Speed of the arbor at the end of the whole travel, let go from rest."""
    runs = _runs(known, thing)
    found = hull_of(Bounds.exactly(run.arbor_speed) for run, *_ in runs)
    # Perfect balance lies between two ends of which one side is heavy and then the other.
    if {run.out_of_balance_at_batten > 0 for run, *_ in runs} == {True, False}:
        found = Bounds(0.0, found.high)
    formula = "sqrt(2 |U| h / m) / p, m = (W_b + W_a / p^2) / g, U = W_b - W_a / p"
    return known.within(found, "runaway", formula, SPEED, _ENERGY)


@computed("line_set", "run_away_stop")
def run_away_stop(known: Gathering, thing: Thing) -> Answer:
    """Average force of stopping what ran, in the customary distance, at whichever stop is worse."""
    distance, source = customary("run-away-stop", "length")
    known.given("distance of the stop", distance, LENGTH, source)
    forces = [0.0]
    runs = _runs(known, thing)
    for run, batten, arbor, p in runs:
        stops = ("batten-deck", "arbor-top") if run.out_of_balance_at_batten > 0 else ("arbor-floor",)
        for stop in stops if not run.held_by_friction else ():
            told = stopping(run, stop, batten, arbor, distance.low, purchase=p)  # type: ignore[arg-type]
            forces.append(told.average_force or 0.0)
    speeds = known.figure(thing, "run_away_speed", within=NOUGHT_OR_MORE)
    found = Bounds(min(forces[1:], default=0.0) if speeds.low > 0 else 0.0, max(forces))
    formula = "(W / g) v^2 / (2 s) + W where a side lands; kinetic energy / s + p |U| at the arbor's top stop"
    return known.within(found, "runaway", formula, FORCE, _ENERGY)


@computed("line_set", "takes_unbalanced")
def takes_unbalanced(known: Gathering, thing: Thing) -> Answer:
    """Load that may hang before its counterweight does, by what the lock holds; a lock is no brake, and this no
    leave.
    """
    lock = known.thing(thing, "rope_lock")
    holds = known.figure(lock, "holds", within=NOUGHT_OR_MORE) if lock is not None else NOUGHT_OR_MORE
    p = known.figure(thing, "purchase")
    known.settle()
    known.suppose("the set is in balance before; out of it, what the lock holds already comes off")
    return known.answer(holds / p, "rope-lock", "holding / p", FORCE, "the maker's figure")


@computed("line_set", "hand_line_held")
def hand_line_held(known: Gathering, thing: Thing) -> Answer:
    """Pull in each part of the hand line over the head block while the lock holds the set."""
    preload = hand_line_tension(known, thing)
    now = imbalance_now(known, thing)
    known.settle()
    # Figures at the hand line already hold the purchase.
    found = over_bounds(lambda tension, U: held_hand_line(tension, U, purchase=1), preload, now)
    formula = "tension + what an arbor-heavy set pulls, p |U|"
    return known.within(found, "head-block-load", formula, FORCE, _STATICS)


@computed("tension_block", "lift")
def tension_block_lifted(known: Gathering, thing: Thing) -> Answer:
    """Net lift on the tension block while the lock holds the set."""
    line_set = known.around(thing, "line_set")
    preload = hand_line_tension(known, line_set)
    now = imbalance_now(known, line_set)
    weight = known.figure(thing, "weight", within=NOUGHT_OR_MORE)
    known.settle()
    found = over_bounds(
        lambda tension, U, own: tension_block_lift(tension, U, own, purchase=1), preload, now, weight
    )
    formula = "2 (tension + what a batten-heavy set pulls, p U) - weight, at least 0"
    return known.within(found, "head-block-load", formula, FORCE, _STATICS)
