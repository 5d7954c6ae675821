"""Weights and places known only within bounds: no state inside them may pull more or less than is said."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plumbtrue.mechanics.batten import Batten, Line, Load, PointLoad, SpreadLoad, scaled
from plumbtrue.mechanics.load_bounds import BoundedLoad, TensionBounds, tension_bounds, verdict
from plumbtrue.mechanics.reactions import Levelled, Reactions, solve
from plumbtrue.mechanics.refusal import Refused

PIPE = Batten(12.0, 25800.0, 40.0)
LINES = [Line(at, stiffness=5e4) for at in (0.3, 3.1, 6.0, 8.9, 11.7)]


def bounds(
    loads: list[BoundedLoad], *, tension_only: bool = True, levelled: Levelled = "bare"
) -> TensionBounds:
    found = tension_bounds(PIPE, LINES, loads, tension_only=tension_only, levelled=levelled)
    assert isinstance(found, TensionBounds)
    return found


def pulls(loads: list[Load], *, tension_only: bool = True, levelled: Levelled = "bare") -> list[float]:
    answer = solve(PIPE, LINES, loads, tension_only=tension_only, levelled=levelled)
    assert isinstance(answer, Reactions)
    return [float(tension) for tension in answer.tensions]


def at_weight(load: BoundedLoad, share: float, place_share: float = 0.0) -> Load:
    least, greatest = load.weight
    heavy = scaled(load.unit, least + share * (greatest - least))
    if load.places is None or not isinstance(heavy, PointLoad):
        return heavy
    return PointLoad(load.places[0] + place_share * (load.places[1] - load.places[0]), heavy.weight)


def test_a_load_of_exact_weight_and_place_has_no_spread() -> None:
    found = bounds([BoundedLoad(PointLoad(4.0, 1.0), (700.0, 700.0))])
    exact = pulls([PointLoad(4.0, 700.0)])
    assert found.least.tolist() == pytest.approx(exact)
    assert found.greatest.tolist() == pytest.approx(exact)
    assert found.weigh_order([1.0] * 5) == ()


def test_exact_loads_that_lift_an_outer_line_are_still_solved() -> None:
    """Nothing was unknown, a line hung slack, and the search for the worst corner found no corner at all."""
    lines = [Line(at) for at in (0.9, 5.2, 9.4, 13.7)]
    heavy = BoundedLoad(PointLoad(7.3, 1.0), (1500.0, 1500.0))
    found = tension_bounds(Batten(14.6, 16000.0, 33.0), lines, [heavy])
    assert isinstance(found, TensionBounds)
    assert found.greatest[0] == pytest.approx(0.0)
    assert found.least.tolist() == pytest.approx(found.greatest.tolist())


def test_every_corner_of_the_bounds_lies_inside_and_the_worst_corner_on_them() -> None:
    loads = [
        BoundedLoad(PointLoad(1.5, 1.0), (100.0, 200.0)),
        BoundedLoad(SpreadLoad.uniform(4.0, 9.0, 1.0), (900.0, 1200.0)),
        BoundedLoad(PointLoad(10.0, 1.0), (300.0, 420.0)),
    ]
    found = bounds(loads, tension_only=False, levelled="slack")
    corners = np.array(np.meshgrid(*[[0.0, 1.0]] * 3)).reshape(3, -1).T
    tried = np.array(
        [
            pulls(
                [at_weight(load, share) for load, share in zip(loads, corner, strict=True)],
                tension_only=False,
                levelled="slack",
            )
            for corner in corners
        ]
    )
    assert found.greatest.tolist() == pytest.approx(tried.max(axis=0), rel=1e-9)
    assert found.least.tolist() == pytest.approx(tried.min(axis=0), rel=1e-9)


def test_the_lighter_guess_can_be_the_worse_case() -> None:
    """A load at mid span of lines 1 and 2 takes load off line 3: lighter there, line 3 pulls more."""
    found = bounds([BoundedLoad(PointLoad(1.7, 1.0), (50.0, 300.0))])
    assert found.greatest[2] == pytest.approx(pulls([PointLoad(1.7, 50.0)])[2], rel=1e-9)
    assert found.greatest[2] > pulls([PointLoad(1.7, 300.0)])[2] + 10


@given(st.lists(st.floats(0.0, 1.0), min_size=6, max_size=6))
@settings(deadline=None, max_examples=60)
def test_nothing_inside_the_bounds_pulls_beyond_them_even_with_slack_lines(shares: list[float]) -> None:
    loads = [
        BoundedLoad(PointLoad(1.7, 1.0), (100.0, 2500.0)),
        BoundedLoad(PointLoad(7.4, 1.0), (0.0, 3000.0)),
        BoundedLoad(SpreadLoad.uniform(9.0, 12.0, 1.0), (50.0, 2000.0)),
    ]
    found = bounds(loads)
    tried = np.array(pulls([at_weight(load, share) for load, share in zip(loads, shares, strict=False)]))
    assert found.exact
    assert (found.least == 0.0).any()
    assert (tried <= found.greatest * (1 + 1e-9) + 1e-6).all()
    assert (tried >= found.least * (1 - 1e-9) - 1e-6).all()


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
@settings(deadline=None, max_examples=60)
def test_a_place_known_within_bounds_takes_the_turn_of_the_influence_line(
    weight: float, place: float
) -> None:
    load = BoundedLoad(PointLoad(1.0, 1.0), (200.0, 260.0), at=(1.0, 4.5))
    found = bounds([load], tension_only=False, levelled="slack")
    tried = np.array(pulls([at_weight(load, weight, place)], tension_only=False, levelled="slack"))
    assert (tried <= found.greatest + 1e-9).all()
    assert (tried >= found.least - 1e-9).all()


def test_unknown_places_with_slack_lines_are_searched_and_said_to_be() -> None:
    load = BoundedLoad(PointLoad(1.0, 1.0), (200.0, 4000.0), at=(1.0, 4.5))
    found = bounds([load])
    assert not found.exact
    assert found.greatest.max() > 3000.0


def test_a_load_that_might_tip_the_batten_is_refused() -> None:
    pipe, lines = Batten(6.0, 9000.0, 20.0), [Line(2.0), Line(4.0)]
    loads = [BoundedLoad(PointLoad(0.0, 1.0), (10.0, 500.0))]
    found = tension_bounds(pipe, lines, loads)
    assert isinstance(found, Refused)
    assert found.standing == "unstable"


def test_levelled_under_unknown_loads_the_lines_count_as_rigid() -> None:
    loads = [BoundedLoad(PointLoad(4.0, 1.0), (300.0, 500.0))]
    found = bounds(loads, levelled="loaded")
    assert found.greatest[1] == pytest.approx(pulls([PointLoad(4.0, 500.0)], levelled="loaded")[1], rel=1e-9)
    with pytest.raises(ValueError, match="offsets measured"):
        tension_bounds(PIPE, [Line(1.0, 5e4, offset=0.01), Line(11.0, 5e4)], loads, levelled="loaded")


def test_the_load_that_spreads_an_undecided_line_most_is_weighed_first() -> None:
    loads = [
        BoundedLoad(PointLoad(0.5, 1.0), (0.0, 900.0)),
        BoundedLoad(PointLoad(6.0, 1.0), (500.0, 700.0)),
        BoundedLoad(PointLoad(5.5, 1.0), (500.0, 540.0)),
    ]
    found = bounds(loads)
    limits = [5000.0, 5000.0, float(found.least[2]) + 60.0, 5000.0, 5000.0]
    assert found.verdicts(limits) == ("within", "within", "unknown", "within", "within")
    assert found.weigh_order(limits)[0] == 1
    assert found.weigh_order([5000.0] * 5) == ()


@pytest.mark.parametrize(
    ("limit", "expected"), [(110.0, "within"), (109.9, "unknown"), (90.0, "unknown"), (89.9, "over")]
)
def test_a_verdict_passes_only_at_the_worst_end(limit: float, expected: str) -> None:
    assert verdict((90.0, 110.0), limit) == expected


@given(st.floats(0.0, 50.0), st.floats(0.0, 50.0), st.floats(0.0, 300.0))
def test_widening_bounds_never_settles_what_was_open(lower: float, higher: float, limit: float) -> None:
    before, after = verdict((100.0, 150.0), limit), verdict((100.0 - lower, 150.0 + higher), limit)
    assert after in (before, "unknown")


@pytest.mark.parametrize(
    ("weight", "at"), [((20.0, 10.0), None), ((0.0, float("nan")), None), ((1.0, 2.0), (3.0, 2.0))]
)
def test_bounds_that_are_none_are_the_callers_mistake(
    weight: tuple[float, float], at: tuple[float, float] | None
) -> None:
    with pytest.raises(ValueError):
        BoundedLoad(PointLoad(1.0, 1.0), weight, at)
