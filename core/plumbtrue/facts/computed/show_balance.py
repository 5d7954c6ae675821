"""Counterweight for a show: what each arbor needs, in whole bricks, how the set then stands over its travel, and
whether the house's bricks suffice.

A stack of many bricks weighs what their mean says, so a brick is taken at the middle of its bounds here; single
ones differ. What the tool proposes is no sheet: a balance sheet is one.
"""

from math import inf
from typing import Final

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.arbor import MANY, plates, wanted_for, whole_bricks
from plumbtrue.facts.computed.balance import (
    at_hand_line,
    compensation,
    counterweight_wanted,
    rope_passing_over,
    ropes_that_pass,
)
from plumbtrue.facts.computed.hung_load import hung_load
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.computed.show_trims import ends_of_travel
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering, Lacking
from plumbtrue.facts.store import Facts
from plumbtrue.mechanics.brick_stack import Brick, Stack
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import FORCE, FORCE_PER_LENGTH, LENGTH, RATIO
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import NONE, Absent, Name
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.thing import Thing

_WORK: Final = "virtual work (derived: any mechanics textbook)"
_WHOLE: Final = "whole bricks nearest to the weight, then fewest, then lowest"
NOTHING: Final = Bounds.exactly(0.0)
_MAY_MOVE: Final = frozenset({"no", "flies"})


@computed("arbor", "counterweight_needed")
def counterweight_needed(known: Gathering, thing: Thing) -> Answer:
    """Weight that it needs for the plot: p x (fixed load + live load) - arbor."""
    found = wanted_for(known, thing, "live_load", "what the plot hangs")
    formula = "p x (fixed load + live load) - arbor, at least 0"
    return known.within(found, "balance", formula, FORCE, _WORK)


def _needed(known: Gathering, arbor: Thing) -> Bounds:
    needed = known.figure(arbor, "counterweight_needed", "counterweight needed", within=NOUGHT_OR_MORE)
    known.settle()
    if needed.high == inf:
        line_set = known.around(arbor, "line_set")
        known.lack(line_set, "items", "a weight on it has no bound")
        known.settle()
    return needed


@unchanging
class Bricks:
    """The bricks of a house [N, m], the heaviest first, each at the least and at the greatest that it may weigh,
    with what was gathered of them.
    """

    things: tuple[Thing, ...]
    light: tuple[Brick, ...]
    heavy: tuple[Brick, ...]
    known: Gathering


def heaviest_first(facts: Facts, house: Thing) -> tuple[Thing, ...]:
    """The bricks of a house in the one order in which they are loaded and told: by weight, of like weight the thinnest
    first, and those of which nobody knows the weight last.
    """

    def order(brick: Thing) -> tuple[float, float, object]:
        weight, thick = facts.value(brick, "weight"), facts.value(brick, "thickness")
        return (
            -(weight.low + weight.high) if isinstance(weight, Bounds) else inf,
            thick.high if isinstance(thick, Bounds) else inf,
            natural_order(brick.key),
        )

    return tuple(sorted(house.members("bricks"), key=order))


def house_bricks(facts: Facts, house: Thing) -> Bricks:
    """Gather the bricks of a house.

    Raises:
        Lacking: a weight or a thickness is not known, or the house lists no bricks.
        Declined: a brick without weight or thickness.
    """
    known = Gathering(facts)
    if not known.things(house, "bricks"):
        known.lack(house, "bricks")
    things = heaviest_first(facts, house)
    weights = [_mean(known, one) for one in things]
    thick = [
        known.figure(one, "thickness", f"thickness of {one.key}", within=NOUGHT_OR_MORE) for one in things
    ]
    known.settle()
    if any(one.low <= 0 for one in (*weights, *thick)):
        known.decline("a brick without weight or thickness")

    def at(weight_end: str, thick_end: str) -> tuple[Brick, ...]:
        return tuple(
            Brick(one.key, getattr(weight, weight_end), getattr(size, thick_end), MANY)
            for one, weight, size in zip(things, weights, thick, strict=True)
        )

    return Bricks(things, at("low", "high"), at("high", "low"), known)


def _mean(known: Gathering, brick: Thing) -> Bounds:
    weight = known.figure(brick, "weight", f"one {brick.key}", within=NOUGHT_OR_MORE)
    if weight.is_exact or weight.high == inf:
        return weight
    known.suppose(f"a stack of {brick.key} weighs what the middle of its bounds says; single bricks differ")
    return Bounds.exactly((weight.low + weight.high) / 2)


def stacks_for(bricks: Bricks, needed: Bounds) -> tuple[Stack, Stack]:
    """Whole bricks for the least and for the greatest that is needed: the lowest stack and the highest."""
    return whole_bricks(needed.low, bricks.heavy), whole_bricks(needed.high, bricks.light)


def _nominal(known: Gathering, arbor: Thing) -> float:
    """Counterweight needed at the weights as stated [N]: what a loader is told."""
    line_set = known.around(arbor, "line_set")
    load = known.facts.kept(line_set, hung_load)
    stated = sum((one.stated_weight for one in load.of_item), NOTHING)
    fixed = known.figure(line_set, "fixed_load_computed", within=NOUGHT_OR_MORE)
    p, own = known.figure(line_set, "purchase"), known.figure(arbor, "weight", within=NOUGHT_OR_MORE)
    known.settle()
    needed = counterweight_wanted(fixed + stated, own, p)
    if needed.high == inf:
        known.lack(line_set, "items", "a weight on it has no bound")
        known.settle()
    return (needed.low + needed.high) / 2


def proposed(known: Gathering, arbor: Thing) -> tuple[Bricks, Stack]:
    """The whole bricks that the tool proposes, at the weights as stated."""
    bricks = known.facts.kept(known.around(arbor, "house"), house_bricks)
    known.include(bricks.known)
    middle = tuple(
        Brick(one.name, (one.weight + other.weight) / 2, one.thickness, one.available)
        for one, other in zip(bricks.light, bricks.heavy, strict=True)
    )
    return bricks, whole_bricks(_nominal(known, arbor), middle)


@computed("arbor", "bricks_needed")
def bricks_needed(known: Gathering, thing: Thing) -> Answer:
    """Whole bricks for the plot by size, at the weights as stated."""
    bricks, found = proposed(known, thing)
    text = " + ".join(
        f"{number} {one.key.removeprefix('brick ')}"
        for number, one in zip(found.counts, bricks.things, strict=True)
        if number
    )
    known.step("left over", Bounds.exactly(-found.residual), FORCE)
    return known.within(Name(text or "none"), "brick-stack", _WHOLE, None, "arithmetic")


@computed("arbor", "stack_left_over")
def stack_left_over(known: Gathering, thing: Thing) -> Answer:
    """What the proposed bricks weigh beyond the balance, at the weights as stated; negative: too little."""
    _, found = proposed(known, thing)
    known.suppose("at the weights as stated; a set is trimmed by its feel once it hangs")
    known.step("wanted", Bounds.exactly(found.weight + found.residual), FORCE)
    known.step("whole bricks", Bounds.exactly(found.weight), FORCE)
    return known.within(Bounds.exactly(-found.residual), "brick-stack", _WHOLE, FORCE, "arithmetic")


@computed("arbor", "stack_needed")
def stack_needed(known: Gathering, thing: Thing) -> Answer:
    """Height of the whole bricks that it needs for the plot, plates included."""
    needed = _needed(known, thing)
    bricks = known.facts.kept(known.around(thing, "house"), house_bricks)
    known.include(bricks.known)
    low, high = stacks_for(bricks, needed)
    height = Bounds(min(low.height, high.height), max(low.height, high.height))
    known.step("bricks alone", height, LENGTH)
    return known.within(
        height + plates(known, thing), "brick-stack", f"{_WHOLE}; + plates", LENGTH, "arithmetic"
    )


@computed("arbor", "stack_utilisation")
def stack_utilisation(known: Gathering, thing: Thing) -> Answer:
    """Height of the whole bricks for the plot over the clear height."""
    stack = known.figure(thing, "stack_needed", within=NOUGHT_OR_MORE)
    clear = known.figure(thing, "clear_height", "clear height", within=NOUGHT_OR_MORE)
    known.settle()
    if clear.low <= 0:
        known.decline("an arbor without room for bricks")
    return known.within(stack / clear, "brick-stack", "stack / clear height", RATIO, "arithmetic")


@computed("arbor", "foot_with_pipe_in")
def foot_with_pipe_in(known: Gathering, thing: Thing) -> Answer:
    """Height of the arbor's foot with the pipe at its low trim: on its upper stop, where its bricks go in."""
    low = known.figure(thing, "stop_low", "foot at the lower stop")
    travel = known.figure(thing, "travel", "travel of the arbor", within=NOUGHT_OR_MORE)
    known.settle()
    known.suppose("the pipe is at its low trim where the arbor is on its upper stop")
    return known.within(
        low + travel, "trim-heights", "foot at the lower stop + travel", LENGTH, "plane geometry"
    )


@computed("arbor", "stack_top_with_pipe_in")
def stack_top_with_pipe_in(known: Gathering, thing: Thing) -> Answer:
    """Height of the top of the stack for the plot with the pipe at its low trim. The arbor's own foot plate is left
    out: an inch or so.
    """
    foot = known.figure(thing, "foot_with_pipe_in")
    stack = known.figure(thing, "stack_needed", within=NOUGHT_OR_MORE)
    known.settle()
    return known.within(foot + stack, "trim-heights", "foot + stack", LENGTH, "plane geometry")


@computed("arbor", "carried_needed")
def carried_needed(known: Gathering, thing: Thing) -> Answer:
    """What counts against its plate with the counterweight for the plot: the arbor itself too, where the plate
    says so.
    """
    needed = _needed(known, thing)
    words = getattr(known.facts.value(thing, "capacity_of"), "possible", frozenset({"weights"}))
    if "all" not in words:
        known.suppose("a plate leaves out the arbor itself unless it says otherwise")
        return known.within(needed, "arbor-load", "the counterweight needed", FORCE, "common practice")
    own = known.figure(thing, "weight", "empty arbor", within=NOUGHT_OR_MORE)
    known.settle()
    found = needed + own if words == {"all"} else needed.hull(needed + own)
    return known.within(found, "arbor-load", "counterweight needed + arbor", FORCE, "its plate")


@computed("arbor", "capacity_utilisation")
def capacity_utilisation(known: Gathering, thing: Thing) -> Answer:
    """That over what its plate allows."""
    carried = known.figure(thing, "carried_needed", within=NOUGHT_OR_MORE)
    allowed = known.figure(thing, "capacity", "what its plate allows", within=NOUGHT_OR_MORE)
    known.settle()
    if allowed.low <= 0:
        known.decline("an arbor that is allowed to carry nothing")
    return known.within(carried / allowed, "arbor-load", "carried / plate", RATIO, "its plate")


def shift_per_height(known: Gathering, line_set: Thing) -> Bounds:
    """Change of out-of-balance at the hand line for each metre that the batten comes in [N/m], what
    compensation takes back included.
    """
    p = known.figure(line_set, "purchase")
    ropes = ropes_that_pass(known, line_set)
    known.settle()
    moved = rope_passing_over(ropes, Bounds.exactly(1.0), p)
    back = compensation(known, line_set, Bounds.exactly(1.0), p)
    if back is None:
        known.suppose("a compensation that nobody recorded may take back any of it")
        back = Bounds(0.0, moved.high)
    return (moved - back) * p


@computed("line_set", "imbalance_in_show")
def imbalance_in_show(known: Gathering, thing: Thing) -> Answer:
    """Size of the greatest imbalance at the hand line over the working trims from what travels with the set:
    rope over the blocks, and hanging cables, which work against it. Balanced where the sheet says, else in the
    middle of the travel.
    """
    low = known.perhaps(thing, "show_trim_low", "lowest trim")
    high = known.perhaps(thing, "show_trim_high", "greatest trim")
    if low is NONE or high is NONE:
        return known.within(
            NOTHING, "rope-shift", "nothing on it asks for a height", FORCE, "what the plot says"
        )
    if low is None or high is None:
        known.lack(thing, "show_trim_low" if low is None else "show_trim_high")
    per_height = net_shift_per_height(known, thing)
    known.settle()
    assert isinstance(low, Bounds)
    assert isinstance(high, Bounds)
    balanced_at = _balanced_at(known, thing) or (low + high) * Bounds.exactly(0.5)
    travel = Bounds(max((high - low).low, 0.0), max((high - low).high, 0.0))
    known.step("working travel", travel, LENGTH)
    up, down = abs(high - balanced_at), abs(balanced_at - low)
    if _balanced_at(known, thing) is None:
        up = down = travel * Bounds.exactly(0.5)
    further = Bounds(max(up.low, down.low), max(up.high, down.high))
    formula = "|N m (1 + 1/p) p - cable per height x p| x distance from where it is balanced"
    return known.within(
        abs(per_height) * further,
        "rope-shift",
        formula,
        FORCE,
        "potential energy of rope and cable (derived)",
    )


def net_shift_per_height(known: Gathering, line_set: Thing) -> Bounds:
    """Change of out-of-balance at the hand line for each metre that the batten comes in [N/m]: going out, rope
    leaves the batten's side and hanging cable comes onto it.
    """
    rope = shift_per_height(known, line_set)
    cables = _cables_per_height(known, line_set)
    return rope - cables * known.figure(line_set, "purchase")


def _cables_per_height(known: Gathering, line_set: Thing) -> Bounds:
    """Weight of hanging cable that comes onto the pipe for each metre that it goes out [N/m]; of pieces that stay
    where they are locked none.
    """
    total = NOTHING
    items = known.things(line_set, "items")
    for item in items:
        change = known.perhaps(item, "feed_share_change", f"cables of {item.key}")
        if isinstance(change, Bounds):
            low, high = ends_of_travel(known, item)
            known.settle()
            if (high - low).low > 0:
                total = total + known.step(
                    f"cable of {item.key} for each length", change / (high - low), FORCE_PER_LENGTH
                )
            elif change.high > 0:
                known.lack(item, "trims", "whether its cable is lifted depends on heights that are in doubt")
        elif change is None and known.facts.part(item, "feed") is not NONE:
            category = known.facts.value(item, "category")
            if "electric" in getattr(category, "possible", frozenset({"electric"})):
                known.lack(item, "feed_share_change")
    words = [getattr(known.facts.value(item, "moves"), "possible", _MAY_MOVE) for item in items]
    if all(each == {"no"} for each in words):
        return NOTHING
    return total if any("no" not in each for each in words) else total.hull(NOTHING)


def _balanced_at(known: Gathering, line_set: Thing) -> Bounds | None:
    for sheet in sheets_of(known.facts, line_set):
        at = known.perhaps(sheet, "at_trim", "trim at which the sheet balances it")
        if isinstance(at, Bounds):
            return at
    return None


def sheets_of(facts: Facts, line_set: Thing) -> tuple[Thing, ...]:
    """The balance sheets that a plot has of a set."""
    plot = facts.rig.plot
    sheets = plot.members("sheets") if plot is not None else ()
    return tuple(one for one in sheets if one.references.get("set") is line_set)


def _sides(known: Gathering, sheet: Thing) -> tuple[Bounds, Bounds, Bounds]:
    """Batten side and arbor side of a sheet [N], and the purchase."""
    line_set = sheet.references.get("set") or sheet.parts.get("set")
    if not isinstance(line_set, Thing):
        known.lack(sheet, "set")
        known.settle()
    assert isinstance(line_set, Thing)
    fixed = known.figure(line_set, "fixed_load_computed", "fixed load", within=NOUGHT_OR_MORE)
    live = known.figure(line_set, "live_load", "what the plot hangs", within=NOUGHT_OR_MORE)
    arbor = known.thing(line_set, "arbor")
    own = (
        known.figure(arbor, "weight", "empty arbor", within=NOUGHT_OR_MORE) if arbor is not None else NOTHING
    )
    bricks = NOTHING
    for one in known.things(sheet, "weights"):
        bricks = bricks + known.figure(one, "weight", f"{one.key} of the sheet", within=NOUGHT_OR_MORE)
    p = known.figure(line_set, "purchase")
    known.settle()
    return fixed + live, own + bricks, p


@computed("balance_sheet", "imbalance")
def sheet_imbalance(known: Gathering, thing: Thing) -> Answer:
    """Imbalance at the hand line by the sheet's bricks, where it is balanced; positive: batten heavy. A
    measured pull goes before.
    """
    batten, arbor, p = _sides(known, thing)
    return known.within(
        at_hand_line(batten, arbor, p), "interval-balance", "p x batten side - arbor side", FORCE, _WORK
    )


@computed("balance_sheet", "sides_ratio")
def sides_ratio(known: Gathering, thing: Thing) -> Answer:
    """Bricks and arbor over batten, lower ends and pieces."""
    batten, arbor, _ = _sides(known, thing)
    if batten.low <= 0:
        known.decline("nothing hangs on the batten")
    return known.within(arbor / batten, "balance", "arbor side / batten side", RATIO, "arithmetic")


@unchanging
class Stock:
    """Bricks that all sets need with a plot [N, counts], and what the house has."""

    known: Gathering
    needed: Bounds
    stock: Bounds
    counts: dict[Thing, Bounds]
    missing: tuple[Missing, ...]


def brick_balance(facts: Facts, plot: Thing) -> Stock:
    """Whole bricks of every set with an arbor, bare sets included.

    A set of which not enough is known leaves the sum open upward. Raises as `house_bricks`.
    """
    house = plot.enclosing("house")
    known = Gathering(facts)
    if house is None:
        known.lack(plot, "plot", "the plot is laid over no house")
        known.settle()
    assert house is not None
    bricks = facts.kept(house, house_bricks)
    known.include(bricks.known)
    low, high = 0.0, 0.0
    counts = {one: [0.0, 0.0] for one in bricks.things}
    missing: list[Missing] = []
    for line_set in known.things(house, "line_sets"):
        if isinstance(facts.part(line_set, "arbor"), Absent) or _has_no_arbor(facts, line_set):
            continue
        own = Gathering(facts)
        try:
            arbor = own.thing(line_set, "arbor")
            own.settle()
            assert arbor is not None
            needed = _needed(own, arbor)
        except Lacking as lacking:
            missing.extend(lacking.missing)
            high = inf
            continue
        known.step(line_set.path, needed, FORCE)
        known.loose.extend(own.loose)
        least, most = stacks_for(bricks, needed)
        low, high = low + least.weight, high + most.weight
        for one, few, many in zip(bricks.things, least.counts, most.counts, strict=True):
            counts[one][0] += min(few, many)
            counts[one][1] += max(few, many)
    stock = NOTHING
    for one, light, heavy in zip(bricks.things, bricks.light, bricks.heavy, strict=True):
        number = known.figure(one, "stock", f"stock of {one.key}", within=NOUGHT_OR_MORE)
        stock = stock + number * Bounds(light.weight, heavy.weight)
    totals = {one: Bounds(few, inf if high == inf else many) for one, (few, many) in counts.items()}
    return Stock(known, Bounds(low, high), stock, totals, tuple(missing))


def _has_no_arbor(facts: Facts, line_set: Thing) -> bool:
    system = facts.value(line_set, "system")
    words: frozenset[str] = getattr(system, "possible", frozenset())
    return bool(words) and not words & {"single-purchase", "double-purchase"}


def _stock(known: Gathering, plot: Thing) -> Stock:
    found = known.facts.kept(plot, brick_balance)
    known.include(found.known)
    known.loose.extend(found.missing)
    return found


_SUM: Final = "sum over all sets of the whole bricks nearest to what they need"


@computed("plot", "bricks_needed")
def plot_bricks_needed(known: Gathering, thing: Thing) -> Answer:
    """Weight of the whole bricks that all sets need, bare sets included."""
    found = _stock(known, thing)
    known.lacking.clear()
    return known.within(found.needed, "brick-stock", _SUM, FORCE, "arithmetic")


@computed("plot", "brick_stock")
def plot_brick_stock(known: Gathering, thing: Thing) -> Answer:
    """Weight of the bricks that the house has."""
    found = _stock(known, thing)
    known.settle()
    return known.within(found.stock, "brick-stock", "stock x weight of one", FORCE, "the house's count")


@computed("plot", "bricks_to_spare")
def bricks_to_spare(known: Gathering, thing: Thing) -> Answer:
    """Bricks left over, by weight: two thin ones stand in for a thick one where their heights add up.
    Negative: short.
    """
    found = _stock(known, thing)
    known.settle()
    return known.within(found.stock - found.needed, "brick-stock", "stock - needed", FORCE, "arithmetic")


@computed("brick", "needed")
def brick_needed(known: Gathering, thing: Thing) -> Answer:
    """How many of them all sets need with the plot, bare sets included, where none stands in for another."""
    plot = known.facts.rig.plot
    if plot is None:
        known.lack(thing, "needed", "no plot is laid over the house")
        known.settle()
    assert plot is not None
    found = _stock(known, plot)
    known.lacking.clear()
    return known.within(found.counts[thing], "brick-stock", _SUM, RATIO, "arithmetic")
