"""A number known within bounds, its arithmetic, and comparisons with three answers.

Intervals are closed. A bound that is not known is infinite. Two figures within one part in a thousand million
of each other are equal, so that exactly 5 % is never over 5 % because of binary fractions.
"""

from collections.abc import Iterable
from math import inf, isinf
from sys import float_info

from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.unchanging import unchanging

CLOSENESS = 1e-9
"""Relative difference below which two figures are the same figure."""


def same(a: float, b: float) -> bool:
    """Whether two figures are the same figure, within `CLOSENESS` of the larger.

    >>> same(0.1 + 0.2, 0.3), same(1.0, inf)
    (True, False)
    """
    # With "<=", a figure and an unbounded end, infinitely far apart, would be taken as close.
    return a == b or abs(a - b) < CLOSENESS * max(abs(a), abs(b))


def exceeds(a: float, b: float) -> bool:
    """Whether a is over b by more than rounding."""
    return a > b and not same(a, b)


@unchanging
class Bounds:
    """A figure that lies between `low` and `high`, both included [SI, a count, a ratio, or days of a date].

    An infinite end says that nothing is known on that side; the figure itself is always finite.
    """

    low: float
    high: float

    # Written out, for a check makes some sixty thousand of them.
    def __init__(self, low: float, high: float) -> None:
        if not low <= high or low == inf or high == -inf:  # The first is true of NaN as well.
            raise ValueError(f"bounds run from the lower to the higher figure, but got {low} to {high}")
        self.low = low  # type: ignore[misc]  # set here and nowhere else
        self.high = high  # type: ignore[misc]  # likewise

    @staticmethod
    def exactly(figure: float) -> "Bounds":
        """A figure known exactly."""
        return Bounds(figure, figure)

    @property
    def is_exact(self) -> bool:
        return self.low == self.high

    def __neg__(self) -> "Bounds":
        return Bounds(-self.high, -self.low)

    def __add__(self, other: "Bounds") -> "Bounds":
        return _between(self.low + other.low, self.high + other.high)

    def __sub__(self, other: "Bounds") -> "Bounds":
        return _between(self.low - other.high, self.high - other.low)

    def __mul__(self, other: "Bounds") -> "Bounds":
        corners = [_times(a, b) for a in (self.low, self.high) for b in (other.low, other.high)]
        return _between(min(corners), max(corners))

    def __truediv__(self, other: "Bounds") -> "Bounds":
        """Quotient by every divisor that is not zero; one on both sides of zero gives no bound at all.

        Raises:
            ZeroDivisionError: the divisor is exactly zero.
        """
        if other.low == other.high == 0:
            raise ZeroDivisionError("division by zero")
        if other.low < 0 < other.high:
            return EVERYTHING
        # The side from which zero is approached decides the sign of what lies beyond all bounds.
        toward_zero = inf if other.low >= 0 else -inf
        corners = [
            _times(a, toward_zero) if b == 0 else _over(a, b)
            for a in (self.low, self.high)
            for b in (other.low, other.high)
        ]
        return _between(min(corners), max(corners))

    def __abs__(self) -> "Bounds":
        if self.low >= 0:
            return self
        if self.high <= 0:
            return -self
        return Bounds(0.0, max(-self.low, self.high))

    def hull(self, other: "Bounds") -> "Bounds":
        """The narrowest bounds that contain both."""
        return Bounds(min(self.low, other.low), max(self.high, other.high))


def hull_of(bounds: Iterable[Bounds]) -> Bounds:
    """The narrowest bounds that contain all of them, at least one."""
    every = tuple(bounds)
    return Bounds(min(one.low for one in every), max(one.high for one in every))


def greatest_of(bounds: Iterable[Bounds]) -> Bounds:
    """The greatest of some figures, at least one, each known within bounds.

    >>> greatest_of([Bounds(1, 5), Bounds(2, 3)])
    Bounds(low=2, high=5)
    """
    every = tuple(bounds)
    return Bounds(max(one.low for one in every), max(one.high for one in every))


def least_of(bounds: Iterable[Bounds]) -> Bounds:
    """The least of some figures, at least one, each known within bounds."""
    every = tuple(bounds)
    return Bounds(min(one.low for one in every), min(one.high for one in every))


EVERYTHING = Bounds(-inf, inf)
"""A figure of which nothing is known."""


def _between(low: float, high: float) -> Bounds:
    # A result too large for a float is beyond the largest one; it is not infinite.
    return Bounds(min(low, float_info.max), max(high, -float_info.max))


def _times(a: float, b: float) -> float:
    # An end that is zero times an end that is unbounded is zero: the zero is attained, the infinity never is.
    return 0.0 if a == 0 or b == 0 else a * b


def _over(a: float, b: float) -> float:
    # Two unbounded ends: the quotient nears zero as the divisor grows; other corners hold the far end.
    return 0.0 if isinf(b) else a / b


def is_over(a: Bounds, b: Bounds) -> Truth:
    """Whether a is over b, at every figure that is possible for both.

    >>> is_over(Bounds(3, 4), Bounds(1, 2)).value, is_over(Bounds(1, 4), Bounds(2, 2)).value
    ('holds', 'cannot be told')
    """
    if exceeds(a.low, b.high):
        return Truth.HOLDS
    return Truth.CANNOT_TELL if exceeds(a.high, b.low) else Truth.FAILS


def is_at_least(a: Bounds, b: Bounds) -> Truth:
    """Whether a is b or more."""
    return ~is_over(b, a)


def is_equal(a: Bounds, b: Bounds) -> Truth:
    """Whether a and b are the same figure.

    >>> is_equal(Bounds(2, 2), Bounds(2, 2)).value, is_equal(Bounds(2, 2), Bounds(1, 3)).value
    ('holds', 'cannot be told')
    """
    if same(a.low, b.high) and same(a.high, b.low):
        return Truth.HOLDS
    apart = exceeds(a.low, b.high) or exceeds(b.low, a.high)
    return Truth.FAILS if apart else Truth.CANNOT_TELL
