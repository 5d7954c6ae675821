"""Weight of a piece from what it is made of: areas of sheet and cloth, lengths of pipe and timber, counted
parts.

It checks a stated weight; it does not replace a scale. Timber and board vary by 15 % and more with moisture
(read).
Source: sums (derived); areal and linear weights come from the plot or from tables.
"""

from collections.abc import Iterable

from plumbtrue.mechanics.refusal import must_be_positive, must_not_be_negative
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class Stretch:
    """One line of a make-up: an area [m2] by its weight [N/m2], or a length [m] by its weight [N/m], or a
    weight each [N], times a count. None is not known."""

    area: float | None = None
    per_area: float | None = None
    length: float | None = None
    per_length: float | None = None
    each: float | None = None
    count: int = 1


def weight_from_make_up(stretches: Iterable[Stretch]) -> float | None:
    """Weight of a piece [N]; None as soon as one line of its make-up cannot be computed, or when there is
    none.

    44 by 24 of muslin at 0.06 and 50 of pipe:

    >>> round(weight_from_make_up([Stretch(area=44.0 * 24.0, per_area=0.06), Stretch(each=50.0)]), 2)
    113.36
    """
    weights = [_weight(stretch) for stretch in stretches]
    known = [weight for weight in weights if weight is not None]
    return sum(known) if weights and len(known) == len(weights) else None


def stated_over_computed(stated: float, computed: float) -> float:
    """Ratio of the stated weight to the computed one. Near 2.2 or 0.45, pounds and kilograms may have been
    mixed up; limits belong to rules.

    >>> round(stated_over_computed(52.0, 113.4), 2)
    0.46
    """
    must_not_be_negative(stated=stated)
    must_be_positive(computed=computed)
    return stated / computed


def _weight(stretch: Stretch) -> float | None:
    must_not_be_negative(count=stretch.count)
    parts = []
    for amount, unit_weight in ((stretch.area, stretch.per_area), (stretch.length, stretch.per_length)):
        if amount is None and unit_weight is None:
            continue
        if amount is None or unit_weight is None:
            return None
        must_not_be_negative(amount=amount, unit_weight=unit_weight)
        parts.append(amount * unit_weight)
    if stretch.each is not None:
        must_not_be_negative(each=stretch.each)
        parts.append(stretch.each)
    return stretch.count * sum(parts) if parts else None
