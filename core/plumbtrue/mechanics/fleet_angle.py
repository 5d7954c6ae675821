"""Fleet angle: how far a rope is off the plane of its groove. Past its limit the flange rubs; it is no matter
of strength.

Source: plane geometry (derived).
"""

from math import atan2, pi, tan

from plumbtrue.mechanics.refusal import must_be_finite, must_be_positive


def fleet_angle(lateral: float, distance: float) -> float:
    """Angle between the rope and the plane of the groove [rad], 0 or more.

    Args:
        lateral: sideways offset between two sheaves, or of the hanging part [m].
        distance: between them [m], more than 0.

    >>> from math import degrees
    >>> round(degrees(fleet_angle(6.0, 240.0)), 3)
    1.432
    """
    must_be_finite(lateral=lateral)
    must_be_positive(distance=distance)
    return atan2(abs(lateral), distance)


def least_distance(lateral: float, limit: float) -> float:
    """Least distance at which the fleet angle keeps to a limit [m].

    >>> round(least_distance(3.0, 0.0261799), 1)
    114.6
    """
    must_be_finite(lateral=lateral)
    if not 0 < limit < pi / 2:
        raise ValueError(f"a limit must lie between 0 and 90 degrees, but is {limit} rad")
    return abs(lateral) / tan(limit)
