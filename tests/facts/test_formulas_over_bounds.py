"""A plain formula asked over bounds: what it gives at the ends, towards what nobody knows, and where it refuses."""

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plumbtrue.facts.gathering import Declined
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.mechanics.chain_wrap import choke_capacity
from plumbtrue.mechanics.plumb import out_of_plumb
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.quantities.bounds import Bounds, greatest_of, hull_of, least_of

positive = st.tuples(st.floats(0.01, 100), st.floats(0, 100)).map(lambda pair: Bounds(pair[0], sum(pair)))


@given(a=positive, b=positive)
def test_a_quotient_is_that_of_interval_arithmetic(a: Bounds, b: Bounds) -> None:
    """Against the quotient of bounds, which is written apart from it."""
    found, wanted = over_bounds(lambda x, y: x / y, a, b), a / b
    assert (found.low, found.high) == pytest.approx((wanted.low, wanted.high))


def test_an_end_that_nobody_knows_goes_where_the_formula_tends() -> None:
    unknown_drop = over_bounds(out_of_plumb, Bounds.exactly(0.1), Bounds(1.0, inf))
    assert unknown_drop.low == 0.0
    assert over_bounds(lambda x: 3 * x, Bounds(2, inf)) == Bounds(6, inf)
    assert over_bounds(lambda x: 5 - x, Bounds(-inf, 2)) == Bounds(3, inf)


def test_a_range_from_nought_is_taken_from_just_above_it() -> None:
    assert over_bounds(lambda x: 1 / x, Bounds(0.0, 2.0)) == Bounds(0.5, inf)


def test_a_refusal_at_one_end_is_one_for_the_whole() -> None:
    def upright(x: float) -> float | Refused:
        return x if x < 2 else Refused("too steep", "under 2", "a test")

    with pytest.raises(Declined, match="too steep"):
        over_bounds(upright, Bounds(1, 3))


def test_the_greatest_of_two_may_be_either() -> None:
    two = [Bounds(1, 5), Bounds(2, 3)]
    assert greatest_of(two) == Bounds(2, 5)
    assert least_of(two) == Bounds(1, 3)
    assert hull_of(two) == Bounds(1, 5)


def test_a_figure_that_no_such_thing_has_is_declined_and_no_crash() -> None:
    """Somebody wrote a rated load of 0 lb."""
    with pytest.raises(Declined, match="working_load_limit must be more than 0"):
        over_bounds(choke_capacity, Bounds(0, 0), Bounds(0.8, 0.8))
