"""Room between a hung piece and its neighbours.

A piece's envelope is the piece and its own pipe and lines, as boxes: depth from the plaster line, place
across the stage, height. Two pieces are a pair where boxes overlap in width and height at a trim they may
both have. Limits (a gap at rest, a gap for what moves) belong to rules. Source: plane geometry (derived).
"""

from collections.abc import Sequence
from dataclasses import replace

from plumbtrue.mechanics.refusal import must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class Box:
    """Part of a piece [m]: its centre's distance from the plaster line, half its depth, ends across the
    stage, bottom and top."""

    centre: float
    half_depth: float
    left: float
    right: float
    bottom: float
    top: float

    def __post_init__(self) -> None:
        must_be_finite(centre=self.centre, left=self.left, right=self.right)
        must_not_be_negative(half_depth=self.half_depth)
        if not (self.left <= self.right and self.bottom <= self.top):
            raise ValueError(f"a box runs from left to right and from bottom to top, but got {self}")


@unchanging
class PairGap:
    """Least gap of a pair [m], below 0 where they overlap, and which boxes it lies between (counted from
    0)."""

    gap: float
    between: tuple[int, int]


def spare_room(
    spacing: float, half_depths: Sequence[float], sways: Sequence[float], drift_together: float = 0.0
) -> float:
    """Room left between two neighbours [m]: spacing of centres, less half depths, sways and drift; below 0
    they touch.

    >>> spare_room(9.0, [3.0, 2.5], [1.5, 1.0], 0.5)
    0.5
    """
    must_be_finite(spacing=spacing, drift_together=drift_together)
    must_not_be_negative(**{f"half_depth_{side}": depth for side, depth in enumerate(half_depths, 1)})
    must_not_be_negative(**{f"sway_{side}": one for side, one in enumerate(sways, 1)})
    return spacing - sum(half_depths) - sum(sways) - drift_together


def pair_gap(first: Sequence[Box], second: Sequence[Box]) -> PairGap | None:
    """Least gap between two pieces, each with its pipe and lines; None where they never meet in width and
    height.

    Boxes that only touch edge to edge count as meeting.

    >>> cloth, pipe = Box(0.0, 2.0, -240.0, 240.0, 0.0, 300.0), Box(8.0, 3.0, -252.0, 252.0, 290.0, 720.0)
    >>> pair_gap([cloth], [pipe])
    PairGap(gap=3.0, between=(0, 0))
    """
    gaps = [
        PairGap(abs(b.centre - a.centre) - a.half_depth - b.half_depth, (i, j))
        for i, a in enumerate(first)
        for j, b in enumerate(second)
        if _meet(a.left, a.right, b.left, b.right) and _meet(a.bottom, a.top, b.bottom, b.top)
    ]
    return min(gaps, key=lambda gap: (gap.gap, gap.between), default=None)


def swept(boxes: Sequence[Box], lowest: float, highest: float) -> tuple[Box, ...]:
    """What a piece takes up as it travels: every box drawn out from its lowest to its highest move [m]
    against where it is given.

    >>> swept([Box(0.0, 1.0, 0.0, 9.0, 3.0, 4.0)], -3.0, 20.0)[0].top
    24.0
    """
    if lowest > highest:
        raise ValueError(f"a move goes from the lowest to the highest, but got {lowest} to {highest}")
    return tuple(replace(box, bottom=box.bottom + lowest, top=box.top + highest) for box in boxes)


def pipe_and_lines(
    centre: float, half_depth: float, left: float, right: float, height: float, grid: float
) -> Box:
    """The box of a batten and its lines: over the batten's length, from the pipe up to the grid [m]."""
    return Box(centre, half_depth, left, right, height - half_depth, max(grid, height))


def moving_gap(base: float, unweighted_drops: Sequence[float], share: float) -> float:
    """Gap wanted where one piece moves past another [m]: a base, and a share of the drop of each cloth
    without a bottom pipe or chain.

    >>> moving_gap(4.0, [240.0], 1 / 120)
    6.0
    """
    must_not_be_negative(base=base, share=share)
    must_not_be_negative(**{f"drop_{cloth}": drop for cloth, drop in enumerate(unweighted_drops, 1)})
    return base + share * sum(unweighted_drops)


def side_room(half_width: float, swing: float, to_obstruction: float) -> float:
    """Room between a wide piece and what stands beside its path [m]: distance from the centre line, less half
    width and swing."""
    must_not_be_negative(half_width=half_width, swing=swing)
    must_be_positive(to_obstruction=to_obstruction)
    return to_obstruction - half_width - swing


def _meet(low: float, high: float, other_low: float, other_high: float) -> bool:
    return low <= other_high and other_low <= high
