"""Which bricks make up a counterweight, and whether they go between the rods.

Whole bricks seldom meet a weight exactly: the residual is always reported, with its sign, and the height that
is left.
Source: arithmetic (derived); an exhaustive search with bounds, so the answer is the best there is.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import ceil, floor, inf
from typing import Literal

from plumbtrue.mechanics.refusal import must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.bounds import exceeds
from plumbtrue.quantities.unchanging import unchanging

Residue = Literal["either", "batten-heavy", "arbor-heavy"]
StackStanding = Literal["within", "over", "unknown"]
Lacking = Literal["room", "bricks"]


@unchanging
class Brick:
    """A kind of brick: weight of one [N], thickness [m], and how many are within reach."""

    name: str
    weight: float
    thickness: float
    available: int


@unchanging
class Stack:
    """A stack of bricks: how many of each kind, in the order the kinds were given."""

    counts: tuple[int, ...]
    height: float
    """[m]"""
    weight: float
    """[N]"""
    residual: float
    """Target less stack [N]: positive leaves the batten heavy."""
    height_left: float | None
    """Free rod above the stack [m]; None when the rods were not measured."""
    standing: StackStanding
    """`over` when room or the number of bricks within reach keeps the residual from being smaller; `unknown`
    when the rods were not measured."""
    lacks: Lacking | None
    """What keeps the residual from being smaller: room between the rods, or bricks, however much room there
    were. None where neither does, and where the rods were not measured."""
    short_by: float
    """Weight that finds no room or no brick [N]."""


def brick_stack(
    target: float, bricks: Sequence[Brick], clear_height: float | None, *, residue: Residue = "either"
) -> Stack:
    """The stack nearest to a target weight: least residual, then fewest bricks, then lowest, then most of the
    kinds named first.

    Args:
        target: counterweight wanted [N], 0 or more.
        clear_height: free rod less collars and spreader plates [m]; None when not measured.
        residue: which way a house wants the residual to lie; used only where some stack lies that way.
    Raises:
        ValueError: a weight or thickness that is not more than 0, or a count below 0.

    >>> full, half = Brick("full", 22.5, 1.0, 40), Brick("half", 11.25, 0.5, 12)
    >>> brick_stack(382.0, [full, half], 60.0).counts
    (17, 0)
    """
    must_not_be_negative(target=target)
    if clear_height is not None:
        must_not_be_negative(clear_height=clear_height)
    for brick in bricks:
        must_be_positive(weight=brick.weight, thickness=brick.thickness)
        must_not_be_negative(available=brick.available)
    counts = _best_counts(target, bricks, clear_height, residue)
    weight, height = _weight(counts, bricks), _height(counts, bricks)
    residual = target - weight
    if clear_height is None:
        return Stack(counts, height, weight, residual, None, "unknown", None, 0.0)
    lacks = _lacking(target, bricks, abs(residual), residue)
    standing: StackStanding = "within" if lacks is None else "over"
    short_by = 0.0 if lacks is None else max(0.0, residual)
    return Stack(counts, height, weight, residual, clear_height - height, standing, lacks, short_by)


def _lacking(target: float, bricks: Sequence[Brick], left: float, residue: Residue) -> Lacking | None:
    """What would bring a residual [N] nearer: first all the room there could be, then all the bricks."""
    if not bricks:
        return "bricks" if left > 0 else None
    enough = [replace(brick, available=ceil(target / brick.weight) + 1) for brick in bricks]

    def comes_nearer(within_reach: Sequence[Brick]) -> bool:
        nearest = _weight(_best_counts(target, within_reach, None, residue), within_reach)
        return exceeds(left, abs(target - nearest))

    if comes_nearer(bricks):
        return "room"
    return "bricks" if comes_nearer(enough) else None


def weight_from_size(length: float, width: float, thickness: float, weight_per_volume: float) -> float:
    """Weight of a plain bar [N] from its size [m] and weight per volume [N/m3], to check what a brick is said
    to weigh.

    Slots, cut corners and flame-cut edges take off 3 to 8 % (common practice); a sample on a scale is better.

    A steel bar of 14 by 6 by 1 in at 0.2836 lb/in3:

    >>> round(weight_from_size(14.0, 6.0, 1.0, 0.2836), 2)
    23.82
    """
    must_be_positive(length=length, width=width, thickness=thickness, weight_per_volume=weight_per_volume)
    return length * width * thickness * weight_per_volume


def capacity_standing(weight: float, label: float | None) -> StackStanding:
    """Whether bricks are within the weight on the arbor's label; without a label it is unknown.

    >>> capacity_standing(382.5, None)
    'unknown'
    """
    must_not_be_negative(weight=weight)
    if label is None:
        return "unknown"
    must_be_finite(label=label)
    return "over" if exceeds(weight, label) else "within"


def _weight(counts: Sequence[int], bricks: Sequence[Brick]) -> float:
    return sum(count * brick.weight for count, brick in zip(counts, bricks, strict=True))


def _height(counts: Sequence[int], bricks: Sequence[Brick]) -> float:
    return sum(count * brick.thickness for count, brick in zip(counts, bricks, strict=True))


def _best_counts(
    target: float, bricks: Sequence[Brick], clear_height: float | None, residue: Residue
) -> tuple[int, ...]:
    best = _search(target, bricks, clear_height, residue)
    if best is None:
        best = _search(target, bricks, clear_height, "either")
    assert best is not None, "an empty stack is always a stack"
    return best


def _search(
    target: float, bricks: Sequence[Brick], clear_height: float | None, residue: Residue
) -> tuple[int, ...] | None:
    """Depth-first over the kinds, heaviest first, cut off where no count of what remains can do better."""
    order = sorted(range(len(bricks)), key=lambda kind: -bricks[kind].weight)
    # Residuals that differ by less than this are the same: 0.1 + 0.2 must tie with 0.3.
    grain = 1e-9 * max([target, 1e-300, *(brick.weight for brick in bricks)])
    room = inf if clear_height is None else clear_height * (1 + 1e-9)
    heaviest_left = [0.0] * (len(order) + 1)
    densest_left = [0.0] * (len(order) + 1)
    for place in reversed(range(len(order))):
        brick = bricks[order[place]]
        heaviest_left[place] = heaviest_left[place + 1] + brick.weight * brick.available
        densest_left[place] = max(densest_left[place + 1], brick.weight / brick.thickness)
    counts = [0] * len(bricks)
    best_counts: tuple[int, ...] | None = None
    best_rank: tuple[int, int, float, tuple[int, ...]] | None = None

    def visit(place: int, weight: float, height: float, used: int) -> None:
        nonlocal best_counts, best_rank
        residual = target - weight
        if best_rank is not None:
            to_come = heaviest_left[place]
            if room != inf:
                to_come = min(to_come, densest_left[place] * (room - height))
            least_left = max(residual - to_come, -residual, 0.0)
            as_near = (best_rank[0] + 1) * grain
            if least_left > as_near:
                return
            # Where the rest can be as near at best, it has to be so with fewer bricks.
            if place < len(order) and least_left >= as_near - 2 * grain:
                fewest = (residual - as_near) / bricks[order[place]].weight
                if used + fewest > best_rank[1] + 1e-6:
                    return
        if place == len(order):
            if (residue == "batten-heavy" and residual < -grain) or (
                residue == "arbor-heavy" and residual > grain
            ):
                return
            rank = (round(abs(residual) / grain), used, round(height, 12), tuple(-count for count in counts))
            if best_rank is None or rank < best_rank:
                best_rank, best_counts = rank, tuple(counts)
            return
        kind = order[place]
        brick = bricks[kind]
        wanted = max(0, round(residual / brick.weight))
        # More than enough of one kind never comes nearer: the others only add weight.
        most = min(brick.available, max(0, ceil(residual / brick.weight)))
        if room != inf:
            most = min(most, int((room - height) / brick.thickness))
        most = max(most, 0)
        if place == len(order) - 1:
            # Of the last kind only the counts on either side of what is left can be the best.
            fewer = floor(residual / brick.weight)
            near = sorted({min(max(count, 0), most) for count in (fewer, fewer + 1)})
        else:
            # Counts near the wanted one come first, so that good stacks cut the rest of the search short.
            near = sorted(range(most + 1), key=lambda number: abs(number - wanted))
        for count in near:
            counts[kind] = count
            visit(place + 1, weight + count * brick.weight, height + count * brick.thickness, used + count)
        counts[kind] = 0

    visit(0, 0.0, 0.0, 0)
    return best_counts
