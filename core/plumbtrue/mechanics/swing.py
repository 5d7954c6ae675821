"""A hung piece as a pendulum: its period, and how far a steady sideways force holds it aside.

Source: simple pendulum, `tan(angle) = F/W`, any mechanics textbook (derived). Small swings; rope weight and
air drag are left out.
"""

from math import atan2, hypot, pi, sqrt

from plumbtrue.mechanics.gravity import STANDARD_GRAVITY
from plumbtrue.mechanics.refusal import must_be_finite, must_be_positive
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class Swing:
    """A piece held aside: angle from plumb [rad], sway at its bottom [m]."""

    angle: float
    sway: float


def period(drop: float) -> float:
    """Period of free swing [s] of a piece that hangs `drop` below its pivot [m].

    >>> round(period(9.144), 3)
    6.067
    """
    must_be_positive(drop=drop)
    return 2 * pi * sqrt(drop / STANDARD_GRAVITY)


def sway(drop: float, sideways: float, weight: float) -> Swing:
    """Where a steady sideways force holds a piece.

    The same for a cloth under an even draught: at every height, the weight and the force below stand in the
    same ratio.

    Args:
        drop: from pivot to the bottom [m]; sideways: force [N]; weight: of the piece [N], more than 0.

    >>> round(sway(30.0, 12.0, 200.0).sway, 4)
    1.7968
    """
    must_be_positive(drop=drop, weight=weight)
    must_be_finite(sideways=sideways)
    return Swing(atan2(sideways, weight), drop * sideways / hypot(sideways, weight))
