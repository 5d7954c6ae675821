"""The arbor: what lies in it, how high, and what it would need for the load that the house has posted."""

from functools import cache
from itertools import pairwise
from math import inf

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.balance import counterweight_wanted
from plumbtrue.facts.computed.bridge import weight_in
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.mechanics.balance import pipe_weight as weight_of_pipe
from plumbtrue.mechanics.brick_stack import Brick, Stack, brick_stack
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import FORCE, LENGTH
from plumbtrue.quantities.values import Each, Unknown
from plumbtrue.rig.thing import Thing

MANY = 10_000
"""Bricks within reach where nobody counted the stock."""


@computed("arbor", "counterweight")
def counterweight(known: Gathering, thing: Thing) -> Answer:
    """Weight of the bricks in it."""
    known.things(thing, "weights")
    return known.answer(
        weight_in(known, thing), "counterweight", "sum of count x weight of one", FORCE, "arithmetic"
    )


@computed("arbor", "carried")
def carried(known: Gathering, thing: Thing) -> Answer:
    """What counts against its plate: the weights, and the arbor itself where the plate says that it includes
    it.
    """
    weights = known.figure(thing, "counterweight", within=NOUGHT_OR_MORE)
    includes = known.facts.value(thing, "capacity_of")
    words = getattr(includes, "possible", frozenset({"weights"}))
    if "all" not in words:
        known.suppose("a plate leaves out the arbor itself unless it says otherwise")
        return known.answer(weights, "arbor-load", "the weights in it", FORCE, "common practice")
    own = known.figure(thing, "weight", "empty arbor", within=NOUGHT_OR_MORE)
    total = weights + own
    found = total if words == {"all"} else weights.hull(total)
    return known.answer(found, "arbor-load", "weights + arbor, as its plate includes it", FORCE, "its plate")


def plates(known: Gathering, thing: Thing) -> Bounds:
    """Thickness of spreader plates and top plate [m]; nought where none is on record."""
    found = known.perhaps(thing, "plates_thickness", "spreader plates and top plate")
    if isinstance(found, Bounds):
        return found
    known.suppose("no thickness of plates is on record: the clear height is taken as net of them")
    return Bounds.exactly(0.0)


@computed("arbor", "stack")
def stack(known: Gathering, thing: Thing) -> Answer:
    """Height of the stack now, plates included: as measured, else the sum of the bricks."""
    measured = known.perhaps(thing, "stack_height", "height as measured")
    if isinstance(measured, Bounds):
        return known.answer(measured, "brick-stack", "as measured", LENGTH, "the measurement")
    height = Bounds.exactly(0.0)
    for weights in known.things(thing, "weights"):
        height = height + known.figure(weights, "height", f"height of {weights.key}", within=NOUGHT_OR_MORE)
    return known.answer(
        height + plates(known, thing),
        "brick-stack",
        "sum of count x thickness + plates",
        LENGTH,
        "arithmetic",
    )


def wanted_for(known: Gathering, arbor: Thing, load: str, label: str) -> Bounds:
    """Counterweight that an arbor needs for a load of its set, named by its fact [N]: p x (fixed + load) - arbor."""
    line_set = known.around(arbor, "line_set")
    fixed = known.figure(line_set, "fixed_load_computed", "fixed load", within=NOUGHT_OR_MORE)
    live = known.figure(line_set, load, label, within=NOUGHT_OR_MORE)
    p = known.figure(line_set, "purchase")
    own = known.figure(arbor, "weight", "empty arbor", within=NOUGHT_OR_MORE)
    known.settle()
    return counterweight_wanted(fixed + live, own, p)


@computed("arbor", "counterweight_for_posted")
def counterweight_for_posted(known: Gathering, thing: Thing) -> Answer:
    """Weight that it needs for the load that the house has posted: p x (fixed load + posted load) - arbor."""
    found = wanted_for(known, thing, "posted_load", "posted live load")
    formula = "p x (fixed load + posted load) - arbor, at least 0"
    return known.answer(found, "balance", formula, FORCE, "virtual work (derived)")


@computed("arbor", "pipe_weight")
def pipe_weight(known: Gathering, thing: Thing) -> Answer:
    """Counterweight that balances the bare batten with its ends, and stays in the arbor."""
    line_set = known.around(thing, "line_set")
    fixed = known.figure(line_set, "fixed_load_computed", "fixed load", within=NOUGHT_OR_MORE)
    p = known.figure(line_set, "purchase")
    own = known.figure(thing, "weight", "empty arbor", within=NOUGHT_OR_MORE)
    known.settle()
    found = over_bounds(lambda batten, arbor, by: weight_of_pipe(batten, arbor, purchase=by), fixed, own, p)
    return known.answer(found, "balance", "p x fixed load - arbor", FORCE, "virtual work (derived)")


@computed("arbor", "stack_for_posted")
def stack_for_posted(known: Gathering, thing: Thing) -> Answer:
    """Height of the whole bricks that it needs for the posted load, of those that the house has, plates
    included.
    """
    needed = known.figure(thing, "counterweight_for_posted", within=NOUGHT_OR_MORE)
    known.settle()
    height = bricks_for(known, thing, needed)
    return known.answer(height + plates(known, thing), "brick-stack", _NEAREST, LENGTH, "arithmetic")


_NEAREST = "whole bricks nearest to the weight, then fewest, then lowest; + plates"


def bricks_for(known: Gathering, thing: Thing, needed: Bounds) -> Bounds:
    """Height of the whole bricks that come nearest to a counterweight [m]: least and greatest over its
    bounds.

    Raises:
        Lacking: a brick's weight or thickness is not known, or the house lists no bricks.
    """
    house = known.around(thing, "house")
    kinds = known.things(house, "bricks")
    weights = [known.figure(one, "weight", f"one {one.key}", within=NOUGHT_OR_MORE) for one in kinds]
    thick = [
        known.figure(one, "thickness", f"thickness of {one.key}", within=NOUGHT_OR_MORE) for one in kinds
    ]
    stocks = [known.facts.value(one, "stock") for one in kinds]
    if not kinds:
        known.lack(house, "bricks")
    for one, weight, thickness in zip(kinds, weights, thick, strict=True):
        if weight.high == inf:
            known.lack(one, "weight", "known only from below")
        if thickness.high == inf:
            known.lack(one, "thickness", "known only from below")
    known.settle()
    if any(weight.low <= 0 for weight in weights) or any(one.low <= 0 for one in thick):
        known.decline("a brick without weight or thickness")
    if needed.high == inf:
        known.decline("no bound on the weight that is needed")
    heights: list[float] = []
    for target, at in ((needed.low, "high"), (needed.high, "low")):
        bricks = [
            Brick(
                one.key,
                getattr(weight, at),
                getattr(thickness, "low" if at == "high" else "high"),
                int(stock.high) if isinstance(stock, Bounds) and stock.high < inf else MANY,
            )
            for one, weight, thickness, stock in zip(kinds, weights, thick, stocks, strict=True)
        ]
        found = whole_bricks(target, tuple(bricks))
        heights.append(found.height)
        counts = ", ".join(f"{n} {one.key}" for n, one in zip(found.counts, kinds, strict=True) if n)
        known.steps.append(("whole bricks" if not known.steps else "at the other end", counts or "none"))
        known.step("left over", Bounds.exactly(-found.residual), FORCE)
        if needed.is_exact and all(w.is_exact for w in weights) and all(t.is_exact for t in thick):
            break
    return Bounds(min(heights), max(heights))


@cache
def whole_bricks(target: float, bricks: tuple[Brick, ...]) -> Stack:
    """The bricks nearest to a weight [N], however high. The search is long, and many sets of a house ask the
    same.
    """
    return brick_stack(target, bricks, None)


def _from_below(heights: list[Bounds], top: float) -> list[Bounds]:
    """The lowest of some heights, the second lowest and so on, whichever they are: bounds of each.

    A plate that lies somewhere above a height lies at most at the top of the stack.
    """
    lows, highs = sorted(one.low for one in heights), sorted(one.high for one in heights)
    return [Bounds(low, high if high < inf else max(low, top)) for low, high in zip(lows, highs, strict=True)]


@computed("arbor", "spreader_gap")
def spreader_gap(known: Gathering, thing: Thing) -> Answer:
    """Greatest height of stack between two spreader plates, from their heights and the stack's; else as
    somebody judged it.
    """
    heights = known.facts.value(thing, "spreader_heights")
    if isinstance(heights, Unknown):
        judged = known.figure(
            thing, "spreader_gap_most", "largest stack between spreaders", within=NOUGHT_OR_MORE
        )
        return known.answer(judged, "spreader-gap", "as judged", LENGTH, "the recorded greatest gap")
    known.value(thing, "spreader_heights", "heights of the spreader plates")
    top = known.figure(thing, "stack", "height of the stack", within=NOUGHT_OR_MORE)
    known.settle()
    figures = heights.values if isinstance(heights, Each) else (heights,)
    at = [one for one in figures if isinstance(one, Bounds)]
    # A height is that of a plate's underside; the plates themselves are no stack.
    one_plate = plates(known, thing) / Bounds.exactly(len(at) + 1)
    if not isinstance(known.facts.value(thing, "stack_height"), Bounds):
        top = top - one_plate
    levels = [Bounds.exactly(0.0), *_from_below(at, top.high), top]
    gaps = [upper - lower for lower, upper in pairwise(levels)]
    gaps[1:] = [gap - one_plate for gap in gaps[1:]]
    if any(one.low < 0 for one in gaps):
        known.loose.append(Missing(thing, "spreader_heights", "a plate lies above the stack"))
    widest = Bounds(max(0.0, *(one.low for one in gaps)), max(0.0, *(one.high for one in gaps)))
    return known.answer(
        widest,
        "spreader-gap",
        "greatest distance between neighbouring plates, bottom and top, less the plate",
        LENGTH,
        "arithmetic",
    )
