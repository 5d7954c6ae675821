"""Load-in and strike, step by step: how far the set is out of balance after each, how far it could run, and what
the worst order would do.

Positive is batten heavy; figures are at the hand line, where the lock holds. A set is in balance, or as far
out as the house recorded, before its first step.
"""

from math import inf
from typing import Final

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.balance import at_hand_line
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.mechanics.load_sequence import FreeTravel, Step, energy_at_risk, load_sequence
from plumbtrue.quantities.bounds import Bounds, greatest_of
from plumbtrue.quantities.dimension import FORCE, LENGTH, MOMENT
from plumbtrue.quantities.values import NONE, Absent, Choice
from plumbtrue.rig.thing import Thing

_SUMS: Final = "running sums (derived)"
_AT_TRIM: Final = 0.0254
"""Nearer to a stop than this [m] counts as on it: 1 in, common practice."""


def _set(known: Gathering, step: Thing) -> Thing:
    line_set = step.references.get("set") or step.parts.get("set")
    if not isinstance(line_set, Thing):
        known.lack(step, "set")
        known.settle()
    assert isinstance(line_set, Thing)
    return line_set


def _steps(known: Gathering, step: Thing) -> tuple[Thing, ...]:
    """All steps of the same set, in the order planned; one without a number keeps its place in the list."""
    plot = step.enclosing("plot")
    held = plot.parts.get("steps") if plot is not None else None
    line_set = _set(known, step)
    mine = (
        [one for one in held if one.references.get("set") is line_set] if isinstance(held, tuple) else [step]
    )
    if plot is not None and "steps" in plot.unlisted:
        known.lack(plot, "steps", "not all of them identified")
    numbers = [known.facts.value(one, "order") for one in mine]
    if all(isinstance(one, Bounds) and one.is_exact for one in numbers):
        order = {one: number.low for one, number in zip(mine, numbers, strict=True)}  # type: ignore[union-attr]
        mine.sort(key=lambda one: order[one])
    elif any(not isinstance(one, Bounds) for one in numbers) and len(mine) > 1:
        known.loose.extend(
            Missing(one, "order") for one, n in zip(mine, numbers, strict=True) if not isinstance(n, Bounds)
        )
        known.suppose("steps without a number stand in the order in which they are written")
    return tuple(mine)


def _changes(known: Gathering, step: Thing) -> tuple[Bounds, Bounds]:
    """What a step adds to the batten and to the arbor [N]; one that says nothing of a side adds nothing
    there as long as it says something of the other.
    """
    batten = known.perhaps(step, "batten_change", f"onto the batten, {step.key}")
    arbor_list = known.facts.part(step, "arbor_change")
    arbor = Bounds.exactly(0.0)
    for weights in arbor_list if isinstance(arbor_list, tuple) else ():
        brick = known.thing(weights, "brick")
        count = known.figure(weights, "count", f"bricks, {step.key}")
        one = NOUGHT_OR_MORE
        if brick is not None:
            one = known.figure(brick, "weight", f"one {brick.key}", within=NOUGHT_OR_MORE)
        arbor = arbor + count * one
    told = isinstance(batten, Bounds) or isinstance(arbor_list, tuple | Absent)
    if not told:
        known.lack(step, "batten_change")
    return batten if isinstance(batten, Bounds) else Bounds.exactly(0.0), arbor


def _before(known: Gathering, line_set: Thing, p: Bounds) -> Bounds:
    """Out-of-balance at the hand line before the first step [N]: what the bare set has; balanced where
    nobody counted.
    """
    present = known.facts.value(line_set, "present_load")
    bare = present is NONE or present == Bounds.exactly(0.0)
    now = known.facts.value(line_set, "imbalance_computed") if bare else None
    if isinstance(now, Bounds) and now.high < inf and now.low > -inf:
        known.value(line_set, "imbalance_computed")
        return now
    known.suppose("the set is in balance before its first step")
    return Bounds.exactly(0.0) * p


@computed("step", "imbalance_after")
def imbalance_after(known: Gathering, thing: Thing) -> Answer:
    """Out-of-balance at the hand line after the step, in the order planned; positive: batten heavy."""
    line_set = _set(known, thing)
    p = known.figure(line_set, "purchase")
    steps = _steps(known, thing)
    known.settle()
    total = _before(known, line_set, p)
    for one in steps:
        batten, arbor = _changes(known, one)
        known.settle()
        total = total + at_hand_line(batten, arbor, p)
        known.step(f"after {one.key}", total, FORCE)
        if one is thing:
            break
    formula = "before + p x what came onto the batten - what came onto the arbor"
    return known.within(total, "load-sequence", formula, FORCE, _SUMS)


@computed("step", "imbalance_worst_order")
def imbalance_worst_order(known: Gathering, thing: Thing) -> Answer:
    """Size of the greatest imbalance at the hand line that any order of the set's steps can reach which keeps
    to what must come before.
    """
    line_set = _set(known, thing)
    p = known.figure(line_set, "purchase")
    steps = _steps(known, thing)
    known.settle()
    changes = [_changes(known, one) for one in steps]
    before = _before(known, line_set, p)
    known.settle()
    if not p.is_exact:
        known.lack(line_set, "system", "single or double purchase cannot be told")
        known.settle()
    names = {one.key.removeprefix("step "): number for number, one in enumerate(steps)}
    pairs = []
    for number, one in enumerate(steps):
        after = known.facts.value(one, "after")
        for each in getattr(after, "values", (after,)):
            name = getattr(each, "text", None)
            if name in names:
                pairs.append((names[name], number))
    light, heavy = (
        load_sequence(
            getattr(before, end) / p.low,
            0.0,
            [Step(batten=getattr(b, end), arbor=getattr(a, other)) for b, a in changes],
            purchase=p.low,
            must_precede=pairs,
        )
        for end, other in (("low", "high"), ("high", "low"))
    )
    # The batten is heaviest with all weights at one end of what is known, the arbor with all at the other.
    batten_heavy = Bounds(light.worst_batten_heavy.amount, heavy.worst_batten_heavy.amount) * p
    arbor_heavy = Bounds(heavy.worst_arbor_heavy.amount, light.worst_arbor_heavy.amount) * p
    known.step("batten heavy at most", batten_heavy, FORCE)
    known.step("arbor heavy at most", arbor_heavy, FORCE)
    found = greatest_of((batten_heavy, arbor_heavy))
    formula = "greatest running sum over all orders allowed"
    return known.within(found, "load-sequence", formula, FORCE, _SUMS)


@computed("step", "batten_position")
def batten_position(known: Gathering, thing: Thing) -> Answer:
    """Where the batten is: at its low trim, at its highest, or between."""
    line_set = _set(known, thing)
    at = known.figure(thing, "batten_at", "pipe height")
    low = known.figure(line_set, "low_trim", "low trim")
    known.settle()
    highest = known.facts.value(line_set, "highest_pipe")
    words = set()
    if at.low <= low.high + _AT_TRIM:
        words.add("in")
    if isinstance(highest, Bounds):
        known.value(line_set, "highest_pipe")
        if at.high >= highest.low - _AT_TRIM:
            words.add("out")
        between = at.high > low.low + _AT_TRIM and at.low < highest.high - _AT_TRIM
    else:
        between = at.high > low.low + _AT_TRIM
        if between:
            words.add("out")
            known.loose.append(Missing(line_set, "highest_pipe"))
    if between:
        words.add("away")
    return known.within(
        Choice(frozenset(words or {"away"})),
        "load-sequence",
        "its height against low trim and highest",
        None,
        _SUMS,
    )


@computed("step", "energy_at_risk")
def step_energy_at_risk(known: Gathering, thing: Thing) -> Answer:
    """Energy that the heavy side gains if it runs to its stop: imbalance at the batten by the batten's free
    travel.
    """
    line_set = _set(known, thing)
    p = known.figure(line_set, "purchase")
    at = known.figure(thing, "batten_at", "pipe height")
    low = known.figure(line_set, "low_trim", "low trim")
    highest = known.figure(line_set, "highest_pipe", "greatest height")
    after = known.figure(thing, "imbalance_after", "imbalance after the step")
    known.settle()
    at_batten = after / p
    free = [
        Bounds(max(one.low, 0.0), max(one.high, 0.0))
        for one in (
            known.step("free to fall", at - low, LENGTH),
            known.step("free to rise", highest - at, LENGTH),
        )
    ]
    known.step("imbalance at the batten", at_batten, FORCE)
    heavy = Bounds(max(at_batten.low, 0.0), max(at_batten.high, 0.0))
    light = Bounds(max(-at_batten.high, 0.0), max(-at_batten.low, 0.0))
    found = greatest_of(
        over_bounds(_energy, unbalanced, run) for unbalanced, run in zip((heavy, light), free, strict=True)
    )
    formula = "imbalance at the batten x free travel of the heavy side"
    return known.within(found, "load-sequence-energy", formula, MOMENT, "energy (derived)")


def _energy(unbalanced: float, run: float) -> float:
    return energy_at_risk(unbalanced, FreeTravel(fall=run)) or 0.0
