"""Static strength that a wire rope keeps while bent over a sheave or pin.

Static strength only, 6x19 and 6x37 classes. Says nothing about fatigue, which is what wears rope out on small
sheaves: the recommended ratio is a separate check. Not for knots, clips or crimped eyes, whose efficiency
    already holds their bend.

Table: trade table "Sheave Size & Wire Rope Strength" (read); the same curve in the Wire Rope Users Manual
(from memory). Closed form `1 - 0.5/sqrt(D/d)`: handbooks (from memory). The two differ by up to 0.03; the
lesser is used.
"""

from bisect import bisect_right
from collections.abc import Sequence
from math import sqrt
from typing import Final

from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.sheave_ratio import tread_ratio
from plumbtrue.quantities.bounds import exceeds
from plumbtrue.quantities.unchanging import unchanging

CURVE: Final[tuple[tuple[float, float], ...]] = (
    (1.0, 0.50),
    (2.0, 0.65),
    (4.0, 0.75),
    (6.0, 0.79),
    (8.0, 0.83),
    (10.0, 0.86),
    (15.0, 0.89),
    (20.0, 0.91),
    (30.0, 0.93),
    (40.0, 0.95),
)
"""D/d and the share of catalogue strength kept, as printed in the trade table."""


@unchanging
class BendEfficiency:
    """Share of catalogue strength kept over a bend, by table and by closed form, and the one to use: the
    lesser."""

    ratio: float
    by_table: float
    by_formula: float

    @property
    def used(self) -> float:
        return min(self.by_table, self.by_formula)


def bend_efficiency(
    tread_diameter: float, rope_diameter: float, curve: Sequence[tuple[float, float]] = CURVE
) -> BendEfficiency | Refused:
    """Share of its strength that a rope keeps over a tread.

    Straight between the rows of the curve; beyond the last row the last value is kept; a pin thinner than the
    first row allows is refused.

    Args:
        curve: rows of (D/d, share), rising.
    Raises:
        ValueError: a diameter that is not more than 0.

    >>> round(bend_efficiency(8.0, 0.25).used, 4)
    0.9116
    """
    ratio = tread_ratio(tread_diameter, rope_diameter)
    by_table = on_curve(ratio, curve)
    if by_table is None:
        return Refused(
            f"the pin is {ratio:.2f} times as thick as the rope",
            f"D/d of {curve[0][0]:g} or more",
            "first row of the table",
        )
    return BendEfficiency(ratio, by_table, 1 - 0.5 / sqrt(ratio))


def on_curve(ratio: float, curve: Sequence[tuple[float, float]]) -> float | None:
    """Share read off the curve, straight between rows and level beyond the last; None below the first."""
    ratios = [row[0] for row in curve]
    if exceeds(ratios[0], ratio):
        return None
    after = bisect_right(ratios, ratio)
    if after == 0:
        return curve[0][1]
    if after == len(curve):
        return curve[-1][1]
    (left, low), (right, high) = curve[after - 1], curve[after]
    return low + (high - low) * (ratio - left) / (right - left)
