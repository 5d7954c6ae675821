"""Factors on a working load limit for the angle of pull. Steps, not straight lines: an angle takes its band's
value.

A pack may be stricter, and the marking and the maker govern. Callers may hand in their own bands; those below
are:

* shackle, side pull: 70 % at 45 and 50 % at 90 degrees ("Shackle precautions": read), bands to 5, 45 and 90
  degrees (WAC 296-155-33905 figure 17: read, percentages missing in the copy); ASME B30.26 (from memory);
* choker hitch by the angle of choke ("Choker hitch angles": read), on the *choker* rating; ASME B30.9 (from
  memory);
* eyebolt with its shoulder seated, in the plane of the eye: published tables disagree, so the least is used
  (from memory);
* eyebolt without shoulder: in line only, ASME B30.26 (from memory);
* shackle with two legs in its bow, to 120 degrees included: full rating on the resultant ("Shackle
  precautions": read).
"""

from collections.abc import Sequence
from math import inf, radians
from typing import Final, Literal

from plumbtrue.mechanics.refusal import Refused, must_not_be_negative
from plumbtrue.quantities.bounds import exceeds
from plumbtrue.quantities.unchanging import unchanging

Fitting = Literal["shackle-side", "shackle-bow-legs", "choker-angle", "eyebolt-shoulder", "eyebolt-plain"]


@unchanging
class Band:
    """Angles up to `upto` [rad], which still belongs to the band where `closed`, and their factor; no factor
    is not allowed."""

    upto: float
    factor: float | None
    closed: bool = True


@unchanging
class FactorBounds:
    """Least and greatest factor over a range of angles; None at the least where some angle in it is not
    allowed."""

    least: float | None
    greatest: float | None


BANDS: Final[dict[Fitting, tuple[Band, ...]]] = {
    "shackle-side": (
        Band(radians(5), 1.0),
        Band(radians(45), 0.70),
        Band(radians(90), 0.50),
        Band(inf, None),
    ),
    "shackle-bow-legs": (Band(radians(120), 1.0), Band(inf, None)),
    "choker-angle": (
        Band(radians(30), 0.49, closed=False),
        Band(radians(60), 0.62, closed=False),
        Band(radians(90), 0.74, closed=False),
        Band(radians(120), 0.87),
        Band(radians(180), 1.0),
        Band(inf, None),
    ),
    "eyebolt-shoulder": (
        Band(radians(5), 1.0),
        Band(radians(15), 0.55),
        Band(radians(45), 0.25),
        Band(inf, None),
    ),
    "eyebolt-plain": (Band(0.0, 1.0), Band(inf, None)),
}


def angle_factor(angle: float, bands: Sequence[Band]) -> float | Refused:
    """Factor on the working load limit at an angle of pull.

    Args:
        angle: [rad], 0 or more, measured as the bands mean it: from in-line for shackles and eyebolts, of
            choke for chokers.
        bands: rising, the last without end.
    Returns:
        `not allowed` where the use is forbidden at any load.

    >>> angle_factor(radians(30), BANDS["shackle-side"])
    0.7
    >>> angle_factor(radians(10), BANDS["eyebolt-plain"]).standing
    'not allowed'
    """
    must_not_be_negative(angle=angle)
    band = bands[_band_of(angle, bands)]
    if band.factor is None:
        lower = [one.upto for one in bands if one.factor is not None][-1]
        return Refused(
            "a pull at this angle is not allowed at any load",
            f"{lower:.4f} rad",
            "the bands in use",
            "not allowed",
        )
    return band.factor


def angle_factor_bounds(least: float, greatest: float, bands: Sequence[Band]) -> FactorBounds:
    """Least and greatest factor when the angle lies between two figures [rad]; for an angle that nobody
    measured, the whole possible range.

    >>> angle_factor_bounds(0.0, radians(50), BANDS["shackle-side"])
    FactorBounds(least=0.5, greatest=1.0)
    """
    must_not_be_negative(least=least, greatest=greatest)
    first, last = _band_of(least, bands), _band_of(greatest, bands)
    factors = [band.factor for band in bands[first : last + 1]]
    allowed = [factor for factor in factors if factor is not None]
    return FactorBounds(
        min(allowed) if len(allowed) == len(factors) and allowed else None, max(allowed) if allowed else None
    )


def _band_of(angle: float, bands: Sequence[Band]) -> int:
    for number, band in enumerate(bands):
        inside = not exceeds(angle, band.upto) if band.closed else exceeds(band.upto, angle)
        if inside:
            return number
    raise ValueError("the last band must be without end")
