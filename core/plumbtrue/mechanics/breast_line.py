"""A breast line that pulls a hung piece aside.

Source: two forces and a weight in equilibrium (derived). The suspension's pull loads the batten: add its
vertical part to the reactions, and its level part to the batten's sideways load.
"""

from math import atan2, cos, pi, sin

from plumbtrue.mechanics.refusal import Refused, must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class Breasted:
    """A piece breasted aside: pull in the breast line and in its suspension [N], the suspension's angle from
    plumb [rad]."""

    breast: float
    suspension: float
    angle: float

    @property
    def suspension_vertical(self) -> float:
        """What the suspension puts on its batten [N]."""
        return self.suspension * cos(self.angle)

    @property
    def suspension_horizontal(self) -> float:
        """What it pulls the batten sideways [N]."""
        return self.suspension * sin(self.angle)


def breast_line(weight: float, below_pick: float, aside: float, rise: float) -> Breasted | Refused:
    """Pulls in a breast line and in the suspension of the piece that it holds aside.

    Args:
        weight: of the piece [N].
        below_pick: of the piece below its pick, held aside [m], more than 0.
        aside: level distance from plumb [m], 0 or more.
        rise: angle of the breast line above the horizontal [rad]; below 0 when it falls away from the piece.
    Returns:
        A refusal when the breast line pulls along the suspension or against it: nothing then holds the piece
        there.

    >>> round(breast_line(180.0, 30.0, 3.0, 0.0).breast, 9)
    18.0
    """
    must_not_be_negative(aside=aside)
    must_be_positive(below_pick=below_pick)
    return breast_line_at(weight, atan2(aside, below_pick), rise)


def breast_line_at(weight: float, angle: float, rise: float) -> Breasted | Refused:
    """The same where the angle of the suspension from plumb is what is known [rad], 0 to a right angle.

    >>> round(breast_line_at(200.0, pi / 6, 0.0).breast, 3)
    115.47
    """
    must_not_be_negative(weight=weight, angle=angle)
    must_be_finite(rise=rise)
    across = cos(angle - rise)
    if not (-pi / 2 < rise < pi / 2 and across > 1e-12):
        return Refused(
            "the breast line pulls along the suspension, and cannot hold the piece aside",
            "a breast line between straight down and straight up, at an angle to the suspension",
            "statics",
        )
    return Breasted(weight * sin(angle) / across, weight * cos(rise) / across, angle)
