"""Tension in the legs of a sling, and what a hitch makes of its rating.

Legs that count: 2 of 3, 2 or 3 of 4 unless they equalise (see `bridle_in_space`). Flatter than 30 degrees
from the horizontal is for a qualified person (OSHA, "Guidance on Safe Sling Use": read); that limit belongs
to rules. The sling's tag governs.
Source: statics (derived).
"""

from math import cos, pi, sin

from plumbtrue.mechanics.refusal import must_be_positive, must_not_be_negative
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class SlingLeg:
    """Tension in one leg [N], and the angle factor `1/sin`."""

    tension: float
    factor: float


def sling_leg(load: float, legs_counted: int, from_horizontal: float) -> SlingLeg:
    """Tension in each of equal legs: `W / (n sin b)`.

    Args:
        load: [N]; legs_counted: those that can be relied on to carry, 1 or more.
        from_horizontal: angle of a leg [rad], more than 0 to a right angle.
    Raises:
        ValueError: no leg, or an angle outside that range.

    >>> leg = sling_leg(1000.0, 2, pi / 3)
    >>> round(leg.tension, 1), round(leg.factor, 4)
    (577.4, 1.1547)
    """
    must_not_be_negative(load=load)
    if legs_counted < 1:
        raise ValueError(f"a sling has a leg that counts, but legs_counted = {legs_counted}")
    if not 0 < from_horizontal <= pi / 2 * (1 + 1e-12):
        raise ValueError(
            f"a leg stands at more than 0 to 90 degrees from the horizontal, not {from_horizontal} rad"
        )
    factor = 1 / sin(from_horizontal)
    return SlingLeg(load / legs_counted * factor, factor)


def basket_factor(included_angle: float) -> float:
    """Factor on a vertical rating for a basket whose legs spread by an angle [rad]: `2 cos(angle/2)`.

    >>> round(basket_factor(pi / 3), 3)
    1.732
    """
    if not 0 <= included_angle < pi:
        raise ValueError(f"legs of a basket meet at 0 to less than 180 degrees, not {included_angle} rad")
    return 2 * cos(included_angle / 2)


def hitch_rating(vertical_rating: float, hitch_factor: float, angle_factor: float) -> float:
    """Rated load of a sling as it is hitched [N]: tagged vertical rating, times hitch factor, times angle
    factor.

    >>> hitch_rating(1000.0, 0.75, 0.87)
    652.5
    """
    must_be_positive(vertical_rating=vertical_rating, hitch_factor=hitch_factor, angle_factor=angle_factor)
    return vertical_rating * hitch_factor * angle_factor
