"""A rope's measured condition against the discard criteria that a pack names. Measures only.

Strength that is left is never computed: no source was found that turns diameter loss, broken wires, age or
corrosion into strength. A rope is inside its criteria and keeps its nominal strength in `load_path`, or it is
out, whatever the arithmetic. The criteria in law that packs borrow (crane, sling and mine rules) are named
there as such.
"""

from collections.abc import Iterable
from datetime import date
from typing import Literal

from plumbtrue.mechanics.refusal import must_be_positive, must_not_be_negative
from plumbtrue.quantities.bounds import Bounds, exceeds, is_over
from plumbtrue.quantities.truth import Truth

ConditionStanding = Literal["over", "within", "unknown"]


def diameter_loss(reference: float, measured: float) -> float:
    """Share of its diameter that a rope has lost, against its nominal size or its size when new; below 0 when
    it is thicker.

    New rope may be 5 or 6 % over its nominal size, so a loss against the size when new says more.

    >>> round(diameter_loss(0.25, 0.236), 6)
    0.056
    """
    must_be_positive(reference=reference, measured=measured)
    return (reference - measured) / reference


def diameter_loss_bounds(reference: float, measured: Bounds) -> Bounds:
    """Least and greatest loss for a measurement with its tolerance."""
    return Bounds(diameter_loss(reference, measured.high), diameter_loss(reference, measured.low))


def loss_standing(loss: Bounds | None, limit: float | None) -> ConditionStanding:
    """Whether a loss is over its limit: over when it is *more than* the limit, as the criteria say it.

    A plain figure is taken at its word; bounds that straddle the limit are unknown, and so is a rope that
    nobody measured.

    >>> loss_standing(Bounds(0.0453, 0.056), 0.05)
    'unknown'
    """
    if loss is None or limit is None:
        return "unknown"
    answer = is_over(loss, Bounds.exactly(limit))
    standing: dict[Truth, ConditionStanding] = {
        Truth.HOLDS: "over",
        Truth.FAILS: "within",
        Truth.CANNOT_TELL: "unknown",
    }
    return standing[answer]


def broken_wires_standing(counts: Iterable[tuple[float | None, float | None]]) -> ConditionStanding:
    """Whether broken wires reach a limit: over when a count *reaches* its limit, as the criteria say it.

    Args:
        counts: pairs of count and limit, such as in one lay, and in one strand in one lay; None for what is
            not known.
    Returns:
        Over when one count reaches its limit, else unknown when a count or limit is missing, else within.

    >>> broken_wires_standing([(None, 6), (1, 3)]), broken_wires_standing([(None, 6), (3, 3)])
    ('unknown', 'over')
    """
    pairs = list(counts)
    for count, limit in pairs:
        must_not_be_negative(count=count or 0, limit=limit or 0)
    if any(count is not None and limit is not None and not exceeds(limit, count) for count, limit in pairs):
        return "over"
    if not pairs or any(count is None or limit is None for count, limit in pairs):
        return "unknown"
    return "within"


def age_in_years(installed: date, on: date) -> float:
    """Age of a rope in years of 365.2425 days on the day of the check.

    Raises:
        ValueError: installed after that day.

    >>> round(age_in_years(date(1979, 6, 1), date(2026, 6, 1)), 2)
    47.0
    """
    if installed > on:
        raise ValueError(f"installed on {installed}, which is after {on}")
    return (on - installed).days / 365.2425
