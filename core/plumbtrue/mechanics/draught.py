"""A draught on a large cloth: its force, and how far the bottom swings.

Velocity pressure `q = rho v^2 / 2`; with air at 1.225 kg/m3 that is the 0.00256 lb/ft2 per (mile an hour)^2
of ASCE 7 (from memory). The drag factor and the speed are the caller's: 1.2 and 50 ft/min with doors shut are
common practice.
"""

from math import atan2
from typing import Final

from plumbtrue.mechanics.refusal import must_be_positive, must_not_be_negative
from plumbtrue.quantities.unchanging import unchanging

AIR_DENSITY: Final = 1.225
"""[kg/m3] at 15 degrees C and sea level (International Standard Atmosphere, from memory)."""


@unchanging
class DraughtSwing:
    """Force of a draught [N], swing at the bottom [m], angle from plumb [rad]."""

    force: float
    swing: float
    angle: float


def velocity_pressure(speed: float, air_density: float = AIR_DENSITY) -> float:
    """Pressure of moving air brought to rest [Pa], from its speed [m/s].

    >>> round(velocity_pressure(0.44704), 4)
    0.1224
    """
    must_not_be_negative(speed=speed)
    must_be_positive(air_density=air_density)
    return air_density * speed**2 / 2


def draught_swing(
    speed: float, area: float, drag: float, weight: float, drop: float, air_density: float = AIR_DENSITY
) -> DraughtSwing:
    """How far a draught swings the bottom of a cloth: `drop x F/W`.

    That takes the drop as level distance at the angle's tangent: a little over the true sway of `sway`, so a
    careful figure.

    Args:
        speed: of the air [m/s]; area: of the cloth [m2]; drag: factor on the velocity pressure.
        weight: of the cloth with what is sewn to it [N]; drop: from the pipe to its bottom [m].

    >>> told = draught_swing(0.254, 98.1, 1.2, 507.0, 7.32)
    >>> round(told.force, 1), round(told.swing, 3)
    (4.7, 0.067)
    """
    must_not_be_negative(area=area, drag=drag)
    must_be_positive(weight=weight, drop=drop)
    force = velocity_pressure(speed, air_density) * drag * area
    return DraughtSwing(force, drop * force / weight, atan2(force, weight))
