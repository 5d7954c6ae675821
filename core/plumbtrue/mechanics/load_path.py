"""A lift line's load path: every part between arbor and batten carries the pull, and the weakest decides.

What is not known never passes: a path with one unknown part is unknown, with "the known parts allow at most
n". It is `over` as soon as one known part is. A rope whose condition meets a discard criterion has no
capacity at all, whatever is computed here: see `rope_condition`. Two parts in series never add, and parallel
parts that cannot equalise count as one.

Source: statics (derived); which efficiency counts where, and one leg of two that do not equalise: common
practice, stated beside each.
"""

from collections.abc import Iterable, Sequence
from math import cos, pi
from typing import Literal

from plumbtrue.mechanics.refusal import must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.bounds import exceeds
from plumbtrue.quantities.unchanging import unchanging

PathStanding = Literal["within", "over", "unknown"]


@unchanging
class Element:
    """One part of a load path. Give a breaking strength with efficiency and design factor, or a working load
    limit with a reduction.

    None means not known; nothing here is ever guessed.
    """

    name: str
    breaking: float | None = None
    """Breaking strength [N]."""
    efficiency: float | None = None
    """Share of the breaking strength kept where the part is weakened most, more than 0 to 1: the least, never
    the product (house choice)."""
    design_factor: float | None = None
    working_load_limit: float | None = None
    """As marked or as its maker states [N]."""
    reduction: float | None = 1.0
    """Factor on the working load limit for the angle of pull, more than 0 to 1."""
    legs: int = 1
    included_angle: float | None = None
    """Between two legs [rad]."""
    legs_equalise: bool | None = None
    """Whether two legs are known to share; not known counts as not."""


@unchanging
class LoadPath:
    """How a path stands under one pull; `utilisations` has one entry a part, None where it cannot be told."""

    utilisations: tuple[float | None, ...]
    greatest_known: float | None
    weakest_known: str | None
    standing: PathStanding
    limit_known: float | None
    """Largest pull that every known part allows [N]: an upper bound while a part is unknown."""


@unchanging
class PathDesignFactor:
    """Breaking strength over load for each part, and the least of them for the path; None while any part is
    unknown."""

    factors: tuple[float | None, ...]
    least: float | None
    least_known: float | None
    """Upper bound on the path's factor."""
    governed_by: str | None
    """The known part with the least factor."""


def load_path(tension: float | None, elements: Sequence[Element]) -> LoadPath:
    """Utilisation of every part of a path, the weakest, and the pull that the known parts allow.

    Args:
        tension: pull in the line [N], 0 or more; None when not known: the limit is told all the same.
    Raises:
        ValueError: a strength, factor or angle that no part has.

    >>> rope = Element("rope", breaking=7000.0, efficiency=0.95, design_factor=8.0)
    >>> path = load_path(300.0, [rope, Element("three clips, unknown make")])
    >>> path.standing, path.weakest_known, path.limit_known
    ('unknown', 'rope', 831.25)
    """
    if tension is not None:
        must_not_be_negative(tension=tension)
    limits = [pull_allowed(element) for element in elements]
    known = [
        (limit, element.name) for limit, element in zip(limits, elements, strict=True) if limit is not None
    ]
    least, weakest = min(known, key=lambda pair: pair[0]) if known else (None, None)
    if tension is None:
        return LoadPath(tuple(None for _ in elements), None, weakest, "unknown", least)
    utilisations = tuple(None if limit is None else tension / limit for limit in limits)
    return LoadPath(
        utilisations=utilisations,
        greatest_known=None if least is None else tension / least,
        weakest_known=weakest,
        standing=path_standing(utilisations, utilisations),
        limit_known=least,
    )


def path_standing(at_least: Iterable[float | None], at_most: Iterable[float | None]) -> PathStanding:
    """How a path stands from its parts' utilisations at the least and at the greatest pull.

    Over when one part is over at the least pull; else unknown when a part is unknown or over at the greatest
    pull; else within. No parts at all is unknown.

    >>> path_standing([0.40, 0.86], [0.51, 1.09])
    'unknown'
    """
    low, high = list(at_least), list(at_most)
    if any(use is not None and exceeds(use, 1.0) for use in low):
        return "over"
    if not high or any(use is None or exceeds(use, 1.0) for use in high):
        return "unknown"
    return "within"


def pull_allowed(element: Element) -> float | None:
    """Largest pull in the line that one part allows [N]; None when its identity, strength or factor is not
    known.

    With both a breaking strength and a working load limit on record the lesser governs.
    """
    share = share_of_pull(element)
    capacities = [capacity for capacity in (_rated(element), _from_breaking(element)) if capacity is not None]
    return min(capacities) / share if capacities and share is not None else None


def share_of_pull(element: Element) -> float | None:
    """Load in one leg of a part for each newton in the line.

    Two legs that are known to equalise share by their angle, `1 / (2 cos(angle/2))`. Where they do not, or
    nobody says that they do, one leg hangs plumb and takes all. None where two legs share at an angle that
    nobody has measured. Of three and more legs, two are counted.

    Raises:
        ValueError: an included angle outside 0 to less than 180 degrees, or no leg.
    """
    if element.legs < 1:
        raise ValueError(f"{element.name} must have a leg, but has {element.legs}")
    if element.legs == 1 or not element.legs_equalise:
        return 1.0
    if element.included_angle is None:
        return None
    if not 0 <= element.included_angle < pi:
        raise ValueError(
            f"legs of {element.name} must meet at 0 to less than 180 degrees, "
            f"not {element.included_angle} rad"
        )
    return 1 / (2 * cos(element.included_angle / 2))


def least_efficiency(ends_and_bends: Sequence[float | None]) -> float | None:
    """Efficiency of a rope: the least of the places that weaken it, since it breaks at one of them; None
    while one is unknown.

    >>> least_efficiency([0.95, 0.80, 0.91]), least_efficiency([0.95, None])
    (0.8, None)
    """
    known = [share for share in ends_and_bends if share is not None]
    for share in known:
        _must_be_share(efficiency=share)
    return min(known, default=None) if len(known) == len(ends_and_bends) else None


def path_design_factor(tension: float, elements: Sequence[Element]) -> PathDesignFactor:
    """Breaking strength times efficiency over load, part by part, and the least of a whole path.

    A working load limit gives a breaking strength only together with its design factor.

    Raises:
        ValueError: a pull that is not more than 0.

    >>> rope = Element("rope", breaking=6400.0, efficiency=0.9)
    >>> path = path_design_factor(320.0, [rope, Element("shackle", working_load_limit=1000.0)])
    >>> path.least, path.least_known
    (None, 18.0)
    """
    must_be_positive(tension=tension)
    factors = tuple(_factor(element, tension) for element in elements)
    known = [
        (factor, element.name)
        for factor, element in zip(factors, elements, strict=True)
        if factor is not None
    ]
    least, weakest = min(known, key=lambda pair: pair[0]) if known else (None, None)
    complete = len(known) == len(factors)
    return PathDesignFactor(factors, least if complete else None, least, weakest)


def _factor(element: Element, tension: float) -> float | None:
    share, strength = share_of_pull(element), _breaking(element)
    return None if share is None or strength is None else strength / (tension * share)


def _breaking(element: Element) -> float | None:
    """Breaking strength with what weakens it, or a working load limit turned back by its stated design factor
    [N]."""
    if element.breaking is not None:
        must_be_positive(breaking=element.breaking)
        if element.efficiency is None:
            return None
        _must_be_share(efficiency=element.efficiency)
        return element.breaking * element.efficiency
    rated = _rated(element)
    if rated is None or element.design_factor is None:
        return None
    must_be_positive(design_factor=element.design_factor)
    return rated * element.design_factor


def _from_breaking(element: Element) -> float | None:
    if element.breaking is None or element.design_factor is None:
        return None
    must_be_positive(design_factor=element.design_factor)
    strength = _breaking(element)
    return None if strength is None else strength / element.design_factor


def _rated(element: Element) -> float | None:
    if element.working_load_limit is None or element.reduction is None:
        return None
    must_be_positive(working_load_limit=element.working_load_limit)
    _must_be_share(reduction=element.reduction)
    return element.working_load_limit * element.reduction


def _must_be_share(**shares: float) -> None:
    for name, share in shares.items():
        must_be_finite(**{name: share})
        if not 0 < share <= 1:
            raise ValueError(f"{name} must be more than 0 and no more than 1, but is {share}")
