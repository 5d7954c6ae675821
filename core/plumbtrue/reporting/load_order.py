"""Bricks and steps of one set: what is in the arbor with the bare pipe, what goes on top of it, in which order,
and how the set stands after each step.

The piece first and then its bricks, and out the other way round, by common practice; a plot that gives an
order of its own is followed. Figures are at the hand line, at the weights as stated.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import inf
from typing import Final

from plumbtrue.audit.item_verdicts import ItemVerdict
from plumbtrue.facts.computed.item_pulls import pulls_of
from plumbtrue.facts.computed.show_balance import house_bricks
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering, Lacking
from plumbtrue.facts.store import Facts, NotFound
from plumbtrue.mechanics.brick_stack import Brick, brick_stack
from plumbtrue.mechanics.load_sequence import Step, load_sequence
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import NONE, Absent, Choice, Name, Value
from plumbtrue.reporting.grouping import missing_in_words
from plumbtrue.reporting.papers import Order, PaperStep
from plumbtrue.reporting.told_facts import Told
from plumbtrue.reporting.wording import listed
from plumbtrue.rig.thing import Thing

_AT_ONCE: Final = 10
"""Bricks of one size after which the paper says again how the set stands."""
_WITH_ARBORS: Final = frozenset({"single-purchase", "double-purchase"})
_PRACTICE: Final = "by common practice"


@unchanging
class Stage:
    """One piece with the bricks that go in against it, heaviest size first; weights [N]."""

    item: Thing
    weight: float
    bricks: tuple[int, ...]


@unchanging
class Loading:
    """The counterweight of one set with what the plot hangs; weights [N]."""

    sizes: tuple[str, ...]
    weights: tuple[float, ...]
    there: tuple[int, ...]
    """With the bare pipe."""
    there_from: str
    load: tuple[int, ...]
    stages: tuple[Stage, ...]
    needed: float
    purchase: float
    bare_side: float
    """Batten side of the bare set less its arbor side, at the hand line."""
    left_over: float
    """What the bricks in the end weigh more than the balance asks for."""

    @property
    def in_all(self) -> tuple[int, ...]:
        """In the arbor when everything hangs."""
        return tuple(one + more for one, more in zip(self.there, self.load, strict=True))

    def in_words(self, counts: Sequence[int]) -> str:
        """Bricks by size."""
        parts = [f"{number} {size}" for number, size in zip(counts, self.sizes, strict=True) if number]
        return listed(parts) or "none"

    def weigh(self, counts: Sequence[int]) -> float:
        return sum(number * weight for number, weight in zip(counts, self.weights, strict=True))


def loading_of(facts: Facts, line_set: Thing, items: Sequence[Thing]) -> Loading | str:
    """The counterweight of a set, or why there is none to tell."""
    system = facts.value(line_set, "system")
    if isinstance(system, Choice) and not system.possible & _WITH_ARBORS:
        return f"It has no arbor ({' or '.join(sorted(system.possible))}): no bricks are told."
    if isinstance(line_set.parts.get("arbor"), Absent):
        return "It has no arbor: no bricks are told."
    known = Gathering(facts)
    try:
        return _loading(known, line_set, items)
    except Lacking as lacking:
        asked = dict.fromkeys(
            missing_in_words(line_set, one.thing, one.fact, one.why) for one in lacking.missing
        )
        return f"The bricks cannot be told: {'; '.join(asked)}."
    except NotFound as declined:
        return f"The bricks cannot be told: {declined}."


def _loading(known: Gathering, line_set: Thing, items: Sequence[Thing]) -> Loading:
    arbor = known.thing(line_set, "arbor")
    known.settle()
    assert arbor is not None, "an arbor that is lacking has settled"
    bricks = known.facts.kept(known.around(line_set, "house"), house_bricks)
    own = _middle(known.figure(arbor, "weight", within=NOUGHT_OR_MORE))
    fixed = _middle(known.figure(line_set, "fixed_load_computed", within=NOUGHT_OR_MORE))
    p = _middle(known.figure(line_set, "purchase"))
    if known.facts.is_unlisted(line_set, "items"):
        known.lack(line_set, "items")
    known.settle()
    weights = [_stated(known, item) for item in items]
    if inf in (own, fixed, p, *weights):
        known.lack(line_set, "items", "a weight has no bound")
    known.settle()
    middle = tuple(
        Brick(one.name, (one.weight + other.weight) / 2, one.thickness, one.available)
        for one, other in zip(bricks.light, bricks.heavy, strict=True)
    )
    sizes = tuple(one.name for one in middle)
    each = tuple(one.weight for one in middle)
    there, there_from = _there(known, line_set, arbor, bricks.things, middle, max(p * fixed - own, 0.0))
    stages, target, loaded = [], p * fixed - own, list(there)
    for item, weight in zip(items, weights, strict=True):
        target += p * weight
        added = _added(loaded, max(target, 0.0), middle)
        loaded = [one + more for one, more in zip(loaded, added, strict=True)]
        stages.append(Stage(item, weight, added))
    load = tuple(one - before for one, before in zip(loaded, there, strict=True))
    bare = p * fixed - own - sum(n * w for n, w in zip(there, each, strict=True))
    return Loading(
        sizes=sizes,
        weights=each,
        there=there,
        there_from=there_from,
        load=load,
        stages=tuple(stages),
        needed=max(target, 0.0),
        purchase=p,
        bare_side=bare,
        left_over=sum(n * w for n, w in zip(loaded, each, strict=True)) - target,
    )


def _added(loaded: Sequence[int], target: float, bricks: tuple[Brick, ...]) -> tuple[int, ...]:
    """Bricks to put on those that are in, so that all of them come nearest to a weight. None is taken out: the
    stack in one piece where what is in is part of it, else the best that can go on top.
    """
    whole = brick_stack(target, bricks, None).counts
    more = tuple(one - there for one, there in zip(whole, loaded, strict=True))
    if all(one >= 0 for one in more):
        return more
    inside = sum(n * one.weight for n, one in zip(loaded, bricks, strict=True))
    return brick_stack(max(target - inside, 0.0), bricks, None).counts


def _there(
    known: Gathering,
    line_set: Thing,
    arbor: Thing,
    things: Sequence[Thing],
    bricks: tuple[Brick, ...],
    bare: float,
) -> tuple[tuple[int, ...], str]:
    """Bricks in the arbor with the bare pipe: as recorded, where nothing hangs there or some are painted as
    pipe weight; else those that balance it.
    """
    recorded = arbor.parts.get("weights")
    held = recorded if isinstance(recorded, tuple) and "weights" not in arbor.unlisted else ()
    present = known.facts.value(line_set, "present_load")
    empty = present is NONE or present == Bounds.exactly(0.0)
    painted = [one for one in held if known.facts.value(one, "pipe_weight") == Choice(frozenset({"yes"}))]
    counted = held if empty else painted
    counts = [0] * len(bricks)
    for one in counted:
        number, brick = known.facts.value(one, "count"), one.references.get("brick")
        if not isinstance(number, Bounds) or not number.is_exact or brick not in things:
            break
        counts[things.index(brick)] += round(number.low)
    else:
        if counted:
            how = "as recorded, with nothing hanging" if empty else "as recorded: painted as pipe weight"
            return tuple(counts), how
    return brick_stack(bare, bricks, None).counts, "what balances the bare pipe; count them"


def _stated(known: Gathering, item: Thing) -> float:
    pulls = known.facts.kept(item, pulls_of)
    if not pulls.whole:
        known.lacking.extend(pulls.known.lacking)
    return _middle(pulls.stated_weight)


def _middle(bounds: Bounds) -> float:
    return (bounds.low + bounds.high) / 2


def orders_of(
    told: Told, line_set: Thing, its: Sequence[ItemVerdict], loading: Loading | str | None
) -> tuple[Order, ...]:
    """Load-in and load-out: as the plot plans them, else by common practice."""
    planned = _planned(told, line_set)
    if not isinstance(loading, Loading):
        return (planned,) if planned is not None else ()
    titles = {one.item: one.key for one in its}
    load_in = list(_steps(loading, titles))
    load_out = [step.undone() for step in reversed(load_in)]
    full = loading.bare_side + sum(step.change for step in load_in)
    out = Order(
        "Load-out",
        _PRACTICE,
        tuple(_numbered(told, loading, load_out, full, loading.in_all)),
        _warning_out(told, loading),
    )
    if planned is not None:
        planned = replace(planned, warning=_with_difference(told, line_set, loading, planned.warning))
        return (planned, out) if not _strikes(told, line_set) else (planned,)
    steps = tuple(_numbered(told, loading, load_in, loading.bare_side, loading.there))
    return (Order("Load-in", _PRACTICE, steps, _warning_in(told, loading)), out)


@unchanging
class _Move:
    """One step: what is done, how it is undone, and what it adds at the hand line [N], pipe heavy."""

    do: str
    undo: str
    change: float

    def undone(self) -> "_Move":
        return _Move(self.undo, self.do, -self.change)


def _steps(loading: Loading, titles: dict[Thing, str]) -> Iterator[_Move]:
    inside = list(loading.there)
    for stage in loading.stages:
        key = titles[stage.item]
        yield _Move(
            f"hang item {key} on the pipe",
            f"take item {key} off the pipe",
            stage.weight * loading.purchase,
        )
        for place, number in enumerate(stage.bricks):
            left = number
            while left:
                some = min(left, _AT_ONCE)
                before, inside[place] = inside[place], inside[place] + some
                size = loading.sizes[place]
                yield _Move(
                    f"load {some} {size} ({inside[place]} of them in the arbor)",
                    f"take out {some} {size} ({before} of them left in the arbor)",
                    -some * loading.weights[place],
                )
                left -= some


def _numbered(
    told: Told, loading: Loading, moves: Sequence[_Move], before: float, inside: Sequence[int]
) -> Iterator[PaperStep]:
    side = before
    start = f"pipe at its low trim, lock on; {loading.in_words(inside)} in the arbor"
    yield _at_low_trim(told, 1, start, side)
    for number, move in enumerate(moves, start=2):
        side += move.change
        yield _at_low_trim(told, number, move.do, side)


def _at_low_trim(told: Told, number: int, do: str, side: float) -> PaperStep:
    out = Bounds.exactly(side)
    return PaperStep(number, do, told.side(out), "", out, "pipe")


def _worst(loading: Loading) -> float:
    """How heavy the arbor could become if the order were not kept, at the hand line [N]."""
    steps = [
        step
        for stage in loading.stages
        for step in (Step(batten=stage.weight), Step(arbor=loading.weigh(stage.bricks)))
    ]
    found = load_sequence(loading.bare_side / loading.purchase, 0.0, steps, purchase=loading.purchase)
    return found.worst_arbor_heavy.amount * loading.purchase


def _warning_in(told: Told, loading: Loading) -> str:
    worst = told.force(Bounds.exactly(_worst(loading)))
    return f"Never bricks first: the arbor would be heavy by up to {worst}, with all its travel below it."


def _warning_out(told: Told, loading: Loading) -> str:
    worst = told.force(Bounds.exactly(_worst(loading)))
    return f"Never the piece first: the arbor would be heavy by up to {worst}, with all its travel below it."


def _own_steps(told: Told, line_set: Thing) -> tuple[Thing, ...]:
    plot = told.facts.rig.plot
    steps = plot.members("steps") if plot is not None else ()
    mine = [one for one in steps if one.references.get("set") is line_set]
    orders = {one: told.facts.value(one, "order") for one in mine}
    if all(isinstance(one, Bounds) for one in orders.values()):
        mine.sort(key=lambda one: orders[one].low)  # type: ignore[union-attr]  # all of them are bounds
    return tuple(mine)


def _planned(told: Told, line_set: Thing) -> Order | None:
    """The steps that the plot itself plans for a set."""
    steps = _own_steps(told, line_set)
    if not steps:
        return None
    made = []
    for number, step in enumerate(steps, start=1):
        after = told.facts.value(step, "imbalance_after")
        side = told.side(after) if isinstance(after, Bounds) else told.text(step, "imbalance_after")
        out = after if isinstance(after, Bounds) else None
        resting = _resting(told.facts.value(step, "batten_position"))
        made.append(PaperStep(number, _planned_words(told, step), side, _who(told, step), out, resting))
    worst = told.text(steps[-1], "imbalance_worst_order")
    warning = f"In the worst order that the plan allows it could be out of balance by {worst}."
    return Order("Order of the plot", "as the plot plans it", tuple(made), warning)


def _resting(position: Value) -> str:
    """Which side can go no lower, by where the pipe is; nothing where that is not known for certain."""
    if not isinstance(position, Choice) or len(position.possible) != 1:
        return ""
    (where,) = position.possible
    return {"in": "pipe", "out": "arbor"}.get(where, "")


def _with_difference(told: Told, line_set: Thing, loading: Loading, warning: str) -> str:
    """Says so where the plot plans other bricks than come nearest to the balance."""
    counts = dict.fromkeys(loading.sizes, 0.0)
    for step in _own_steps(told, line_set):
        for one in step.members("arbor_change"):
            brick, number = one.references.get("brick"), told.facts.value(one, "count")
            if not isinstance(brick, Thing) or not isinstance(number, Bounds) or not number.is_exact:
                return f"{warning} Its bricks are not all counted."
            counts[brick.key] = counts.get(brick.key, 0.0) + max(number.low, 0.0)
    planned = tuple(round(counts[size]) for size in loading.sizes)
    if planned == loading.load:
        return warning
    return (
        f"{warning} It loads {loading.in_words(planned)}, and nearest to the balance are "
        f"{loading.in_words(loading.load)}: settle which before anybody loads."
    )


def _planned_words(told: Told, step: Thing) -> str:
    parts = []
    batten = told.facts.value(step, "batten_change")
    if isinstance(batten, Bounds):
        parts.append(
            f"{told.force(batten)} on the pipe" if batten.low >= 0 else f"{told.force(-batten)} off the pipe"
        )
    for one in step.members("arbor_change"):
        brick = one.references.get("brick")
        size = brick.key if isinstance(brick, Thing) else one.key
        number = told.facts.value(one, "count")
        taken = isinstance(number, Bounds) and number.high < 0
        count = (
            f"{abs(number.low):g}"
            if isinstance(number, Bounds) and number.is_exact
            else told.text(one, "count")
        )
        parts.append(f"{'take out' if taken else 'load'} {count} {size}")
    at = told.facts.value(step, "batten_at")
    where = f" with the pipe at {told.text(step, 'batten_at')}" if isinstance(at, Bounds) else ""
    return f"{step.key.removeprefix('step ')}: {listed(parts) or 'nothing is written'}{where}"


def _who(told: Told, step: Thing) -> str:
    named = [
        f"{word} {value.text}"
        for name, word in (("loader", "loads:"), ("caller", "calls:"))
        if isinstance(value := told.facts.value(step, name), Name)
    ]
    return ", ".join(named)


def _strikes(told: Told, line_set: Thing) -> bool:
    """Whether the plot's own steps take off again what they put on."""
    changes = [told.facts.value(step, "batten_change") for step in _own_steps(told, line_set)]
    return any(isinstance(one, Bounds) and one.high < 0 for one in changes)
