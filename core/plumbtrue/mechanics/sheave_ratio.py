"""Sheave against rope: D/d, on the tread or on the pitch circle. Some standards use one, some the other:
always say which."""

from plumbtrue.mechanics.refusal import must_be_positive


def tread_ratio(tread_diameter: float, rope_diameter: float) -> float:
    """Tread diameter (bottom of the groove) over rope diameter.

    >>> tread_ratio(8.0, 0.25)
    32.0
    """
    must_be_positive(tread_diameter=tread_diameter, rope_diameter=rope_diameter)
    return tread_diameter / rope_diameter


def pitch_ratio(tread_diameter: float, rope_diameter: float) -> float:
    """Pitch diameter (rope centre to rope centre) over rope diameter: 1 more than on the tread.

    >>> pitch_ratio(8.0, 0.25)
    33.0
    """
    return tread_ratio(tread_diameter, rope_diameter) + 1


def least_tread(ratio: float, rope_diameter: float) -> float:
    """Least tread diameter for a wanted tread ratio [m, or the unit of the rope].

    >>> least_tread(30.0, 0.25)
    7.5
    """
    must_be_positive(ratio=ratio, rope_diameter=rope_diameter)
    return ratio * rope_diameter


def groove_ratio(groove_radius: float, rope_diameter: float) -> float:
    """Groove radius over rope diameter; a groove made to size is a little over a half.

    >>> round(groove_ratio(0.13125, 0.25), 3)
    0.525
    """
    must_be_positive(groove_radius=groove_radius, rope_diameter=rope_diameter)
    return groove_radius / rope_diameter
