"""Bounds contain every figure that is possible, and comparisons answer only what all of them agree on.

Interval arithmetic as in Moore, Kearfott and Cloud, Introduction to Interval Analysis, 2009 (from memory):
the bounds of a result contain the result of any figures within the bounds. That is tried here by sampling.
"""

from collections.abc import Callable
from math import inf, isclose, nan
from operator import add, mul, sub
from typing import Any

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from plumbtrue.quantities.bounds import EVERYTHING, Bounds, is_at_least, is_equal, is_over, same
from plumbtrue.quantities.truth import Truth

figures = st.floats(min_value=-1e6, max_value=1e6).map(lambda figure: 0.0 if abs(figure) < 1e-6 else figure)
parts = st.floats(min_value=0, max_value=1)


@st.composite
def bounds_and_a_figure(draw: st.DrawFn) -> tuple[Bounds, float]:
    """Bounds, perhaps unbounded on a side, and a figure within them."""
    low, high = sorted((draw(figures), draw(figures)))
    inside = min(max(low + draw(parts) * (high - low), low), high)
    return Bounds(draw(st.sampled_from([low, -inf])), draw(st.sampled_from([high, inf]))), inside


def _holds(bounds: Bounds, figure: float) -> bool:
    # An end that was rounded may lie a last place within the true one.
    return bounds.low <= figure <= bounds.high or same(bounds.low, figure) or same(bounds.high, figure)


@pytest.mark.parametrize("operation", [add, sub, mul])
@given(a=bounds_and_a_figure(), b=bounds_and_a_figure())
def test_a_result_lies_within_the_bounds_of_the_result(
    operation: Callable[[Any, Any], Any], a: tuple[Bounds, float], b: tuple[Bounds, float]
) -> None:
    expected = operation(a[1], b[1])
    cancelled = abs(expected) < 1e-9 * max(abs(a[1]), abs(b[1]))
    assert _holds(operation(a[0], b[0]), expected) or cancelled


@given(a=bounds_and_a_figure(), b=bounds_and_a_figure())
@example(a=(Bounds(1, inf), 5.0), b=(Bounds(2, inf), 1e6))
@example(a=(Bounds(-2, 3), 1.0), b=(Bounds(0, 4), 1e-6))
@example(a=(Bounds(-2, -1), -1.0), b=(Bounds(-4, 0), -1e-6))
def test_a_quotient_lies_within_the_bounds_of_the_quotient(
    a: tuple[Bounds, float], b: tuple[Bounds, float]
) -> None:
    assume(b[1] != 0)
    assert _holds(a[0] / b[0], a[1] / b[1])


@given(a=bounds_and_a_figure(), b=bounds_and_a_figure())
def test_sign_size_and_hull_contain_their_figures(a: tuple[Bounds, float], b: tuple[Bounds, float]) -> None:
    assert _holds(-a[0], -a[1])
    assert _holds(abs(a[0]), abs(a[1]))
    assert abs(a[0]).low >= 0
    assert _holds(a[0].hull(b[0]), a[1])
    assert _holds(a[0].hull(b[0]), b[1])


@given(a=bounds_and_a_figure(), b=bounds_and_a_figure())
def test_no_figure_within_the_bounds_gainsays_a_comparison(
    a: tuple[Bounds, float], b: tuple[Bounds, float]
) -> None:
    x, y = Bounds.exactly(a[1]), Bounds.exactly(b[1])
    for compare in (is_over, is_at_least, is_equal):
        told = compare(a[0], b[0])
        assert told in (Truth.CANNOT_TELL, compare(x, y))


@given(a=figures, b=figures)
def test_exact_figures_are_always_told_apart_or_equal(a: float, b: float) -> None:
    x, y = Bounds.exactly(a), Bounds.exactly(b)
    assert [is_over(x, y), is_equal(x, y), is_over(y, x)].count(Truth.HOLDS) == 1


@given(a=figures, b=figures.filter(bool))
def test_exact_figures_divide_as_floats_do(a: float, b: float) -> None:
    assert Bounds.exactly(a) / Bounds.exactly(b) == Bounds.exactly(a / b)


def test_at_least_one_pound_is_not_told_to_be_under_five() -> None:
    """A figure and an unbounded end counted as equal once, so "at least 1 lb" passed a limit of 5 lb."""
    assert is_over(Bounds(1, inf), Bounds.exactly(5)) is Truth.CANNOT_TELL
    assert is_over(Bounds(-inf, 9), Bounds.exactly(5)) is Truth.CANNOT_TELL
    assert is_over(EVERYTHING, EVERYTHING) is Truth.CANNOT_TELL
    assert not same(1.0, inf)
    assert not same(-inf, inf)


def test_exactly_five_per_cent_is_not_over_five_per_cent() -> None:
    """0.1 - 0.05 is not 0.05 in binary fractions; the rule's author does not know that and need not."""
    computed = Bounds.exactly(0.15) - Bounds.exactly(0.1)
    assert computed.low != 0.05
    assert is_over(computed, Bounds.exactly(0.05)) is Truth.FAILS
    assert is_equal(computed, Bounds.exactly(0.05)) is Truth.HOLDS


def test_a_millionth_over_the_limit_is_over() -> None:
    assert is_over(Bounds.exactly(0.05 * (1 + 1e-6)), Bounds.exactly(0.05)) is Truth.HOLDS


def test_bounds_that_touch_the_limit_do_not_exceed_it() -> None:
    assert is_over(Bounds(4, 5), Bounds.exactly(5)) is Truth.FAILS
    assert is_over(Bounds(4, 5.1), Bounds.exactly(5)) is Truth.CANNOT_TELL
    assert is_at_least(Bounds(5, 6), Bounds.exactly(5)) is Truth.HOLDS


def test_nothing_is_divided_by_exactly_zero() -> None:
    with pytest.raises(ZeroDivisionError):
        Bounds.exactly(1) / Bounds.exactly(0)


def test_a_divisor_on_both_sides_of_zero_tells_nothing() -> None:
    assert Bounds(1, 2) / Bounds(-1, 1) == EVERYTHING


def test_a_divisor_that_may_be_next_to_nothing_leaves_one_side_open() -> None:
    assert Bounds(1, 2) / Bounds(0, 4) == Bounds(0.25, inf)
    assert Bounds(1, 2) / Bounds(-4, 0) == Bounds(-inf, -0.25)


def test_what_is_too_large_for_a_float_is_not_infinite() -> None:
    huge = Bounds.exactly(1e300)
    assert isclose((huge * huge).low, 1.7976931348623157e308)
    assert (huge * huge).high == inf
    assert is_over(huge * huge, huge) is Truth.HOLDS


@pytest.mark.parametrize(("low", "high"), [(2, 1), (nan, 1), (1, nan), (inf, inf), (-inf, -inf)])
def test_bounds_that_hold_no_figure_cannot_be_built(low: float, high: float) -> None:
    with pytest.raises(ValueError, match="from the lower to the higher"):
        Bounds(low, high)
