"""A formula of `mechanics` over inputs that are known only within bounds.

The formulas take plain figures. Where one rises or falls with each input throughout, its least and greatest
answers lie at the ends of the inputs, and those are all that is asked of it here. An end that nobody knows is
put so far off that what follows from it is told as not bounded, or as nothing, whichever the formula tends
to. A formula that turns inside the bounds is none for this module.
"""

from collections.abc import Callable
from itertools import product
from math import inf, isinf
from typing import Final

from plumbtrue.facts.gathering import Declined
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.quantities.bounds import Bounds

_FAR: Final = 1e60
_BEYOND: Final = 1e25
"""No figure of a theatre in SI units comes near it."""


def over_bounds(formula: Callable[..., float | Refused], *inputs: Bounds) -> Bounds:
    """Least and greatest answer of a formula that is monotone in each of its inputs [SI].

    A range that begins at nought is taken from just above it, so that a formula which refuses nought itself
    still answers.

    Raises:
        Declined: the formula refuses one of the ends, or somebody wrote a figure that no such thing has.

    >>> over_bounds(lambda force, area: force / area, Bounds(2, inf), Bounds(0.0, 4.0))
    Bounds(low=0.5, high=inf)
    """
    stood_in = False
    ends: list[tuple[float, ...]] = []
    for one in inputs:
        low, high = one.low, one.high
        if low == 0 < high:
            low, stood_in = 1 / _FAR, True
        if isinf(low) or isinf(high):
            low, high, stood_in = max(low, -_FAR), min(high, _FAR), True
        ends.append((low,) if low == high else (low, high))
    try:
        answers = [_answered(formula(*corner)) for corner in product(*ends)]
    except ValueError as error:
        raise Declined(f"with such figures there is no answer: {error}") from error
    if stood_in:
        answers = [_told(one) for one in answers]
    return Bounds(min(answers), max(answers))


def _answered(answer: float | Refused) -> float:
    if isinstance(answer, Refused):
        raise Declined(answer.reason)
    return answer


def _told(answer: float) -> float:
    if abs(answer) > _BEYOND:
        return inf if answer > 0 else -inf
    return 0.0 if abs(answer) < 1 / _BEYOND else answer
