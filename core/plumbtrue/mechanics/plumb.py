"""A lift line out of plumb: angle, pull sideways, and how high the batten goes before a limit is reached.

An offset between pick point and groove is harmless low down and steep near the grid: the offset stays, the
drop shrinks.
Source: plane geometry and statics (derived). Limits belong to rules. Past 30 degrees the beam computations,
which take lines as vertical, no longer hold.
"""

from math import atan2, hypot, pi, radians, tan
from typing import Final

from plumbtrue.mechanics.refusal import must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.unchanging import unchanging

STEEPEST_FOR_BEAM_MODEL: Final = radians(30)
"""[rad]"""


@unchanging
class OutOfPlumb:
    """A line at one height: angle [rad] and level pull [N] with the offset's sign, pull in the rope [N]."""

    angle: float
    horizontal: float
    rope_tension: float

    @property
    def beam_model_holds(self) -> bool:
        """Whether the line is near enough to plumb for the computations that take it as vertical."""
        return abs(self.angle) <= STEEPEST_FOR_BEAM_MODEL


def out_of_plumb(offset: float, drop: float) -> float:
    """Angle of a lift line from plumb at its loft block [rad], with the offset's sign.

    Args:
        offset: horizontal distance from the groove to the pick point [m].
        drop: vertical distance from the groove down to the pick point [m], more than 0.
    Raises:
        ValueError: the pick point is not below the groove, so no plumb line joins them.

    >>> from math import degrees
    >>> [round(degrees(out_of_plumb(offset=0.15, drop=drop)), 1) for drop in (9.0, 0.6)]
    [1.0, 14.0]
    """
    must_be_finite(offset=offset)
    must_be_positive(drop=drop)
    return atan2(offset, drop)


def line_out_of_plumb(offset: float, drop: float, line_load: float) -> OutOfPlumb:
    """Angle, level pull on batten and block, and rope tension of a line that carries `line_load` vertically
    [N].

    >>> line = line_out_of_plumb(6.0, 36.0, 120.0)
    >>> line.horizontal, round(line.rope_tension, 4)
    (20.0, 121.6553)
    """
    must_not_be_negative(line_load=line_load)
    angle = out_of_plumb(offset, drop)
    return OutOfPlumb(angle, line_load * offset / drop, line_load * hypot(offset, drop) / drop)


def drop_at_limit(offset: float, limit: float) -> float:
    """Drop below the block at which a limit on the angle is reached [m]; higher than that, the line is
    steeper.

    Args:
        limit: [rad], more than 0 and less than a right angle.

    >>> round(drop_at_limit(6.0, 0.0349066), 1)
    171.8
    """
    must_be_finite(offset=offset)
    _must_be_below_a_right_angle(limit)
    return abs(offset) / tan(limit)


def out_of_plumb_bounds(offset: Bounds, drop: Bounds) -> Bounds:
    """Least and greatest angle [rad], with sign, when offset and drop are known within bounds. It rises with
    the offset throughout; with the drop it falls for a positive offset and rises for a negative one, so the
    four corners are exact.

    >>> bounds = out_of_plumb_bounds(Bounds(1, 3), Bounds(40, 50))
    >>> round(bounds.low, 5), round(bounds.high, 5)
    (0.02, 0.07486)
    """
    corners = [out_of_plumb(e, h) for e in (offset.low, offset.high) for h in (drop.low, drop.high)]
    return Bounds(min(corners), max(corners))


def _must_be_below_a_right_angle(limit: float) -> None:
    if not 0 < limit < pi / 2:
        raise ValueError(f"a limit must lie between 0 and 90 degrees, but is {limit} rad")
