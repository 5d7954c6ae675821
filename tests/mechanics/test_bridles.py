"""Bridles against laws of statics, and against the place where a load comes to rest: the lowest within reach
of all legs."""

from math import hypot, pi, radians, sqrt
from typing import Any

import numpy as np
import pytest
import scipy.optimize
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from plumbtrue.mechanics.breast_line import Breasted, breast_line
from plumbtrue.mechanics.bridle import (
    Bridle,
    HungBridle,
    Leg,
    bridle_from_lengths,
    leg_length,
    two_leg_bridle,
)
from plumbtrue.mechanics.bridle_in_space import (
    FourLegs,
    SpaceBridle,
    four_leg_bridle,
    three_leg_bridle,
    three_leg_bridle_from_lengths,
)
from plumbtrue.mechanics.gravity import STANDARD_GRAVITY
from plumbtrue.mechanics.hoist_point import dynamic_factor, hook_load, point_total, stop
from plumbtrue.mechanics.refusal import Refused

# The stubs of scipy are narrower than what it takes.
optimize: Any = scipy.optimize

lengths = st.floats(0.5, 15)
legs = st.builds(Leg, run=st.floats(0.1, 10), rise=st.floats(0.2, 10))


@given(leg1=legs, leg2=legs, load=st.floats(1, 1e4))
def test_verticals_add_up_to_the_load_and_both_anchors_feel_the_same_level_pull(
    leg1: Leg, leg2: Leg, load: float
) -> None:
    told = two_leg_bridle(load, leg1, leg2)
    assert isinstance(told, Bridle)
    assert sum(told.verticals) == pytest.approx(load, rel=1e-9)
    for leg, tension in zip(told.legs, told.tensions, strict=True):
        assert tension * leg.run / leg.length == pytest.approx(told.horizontal, rel=1e-9)


@given(leg1=legs, leg2=legs, up=st.floats(0.05, 0.9))
def test_the_level_pull_grows_as_the_apex_rises(leg1: Leg, leg2: Leg, up: float) -> None:
    rise = up * min(leg1.rise, leg2.rise)
    told = two_leg_bridle(1000.0, leg1, leg2)
    higher = two_leg_bridle(1000.0, Leg(leg1.run, leg1.rise - rise), Leg(leg2.run, leg2.rise - rise))
    assert isinstance(told, Bridle)
    assert isinstance(higher, Bridle)
    assert higher.horizontal > told.horizontal


def test_at_120_degrees_each_leg_carries_the_whole_load() -> None:
    told = two_leg_bridle(1000.0, Leg(sqrt(3), 1.0), Leg(sqrt(3), 1.0))
    assert isinstance(told, Bridle)
    assert told.tensions == pytest.approx((1000.0, 1000.0))
    assert told.apex_angle == pytest.approx(radians(120))


@pytest.mark.parametrize("flat", [Leg(3.0, 0.0), Leg(3.0, -1.0), Leg(-1.0, 3.0)])
def test_a_leg_that_cannot_carry_is_refused(flat: Leg) -> None:
    assert isinstance(two_leg_bridle(100.0, Leg(3.0, 4.0), flat), Refused)


def test_two_plumb_legs_share_in_a_way_that_cannot_be_told() -> None:
    assert isinstance(two_leg_bridle(100.0, Leg(0.0, 4.0), Leg(0.0, 4.0)), Refused)


@settings(max_examples=60, deadline=None)
@given(x=st.floats(1, 12), z=st.floats(-3, 3), length1=lengths, length2=lengths)
def test_the_apex_is_the_lowest_place_within_reach(
    x: float, z: float, length1: float, length2: float
) -> None:
    """Against a constrained minimum of the height."""
    assume(abs(hypot(x, z) - length1 - length2) > 0.3)
    told = bridle_from_lengths(1000.0, (0.0, 0.0), (x, z), length1, length2)
    if hypot(x, z) > length1 + length2:
        assert isinstance(told, Refused)
        assert told.standing == "no geometry"
        return
    if isinstance(told, Refused):
        return
    reach = optimize.NonlinearConstraint(
        lambda p: [hypot(p[0], p[1]) - length1, hypot(p[0] - x, p[1] - z) - length2], -np.inf, 0
    )
    start = np.array([x, z]) * length1 / (length1 + length2)
    lowest = optimize.minimize(
        lambda p: p[1], start, constraints=[reach], method="SLSQP", options={"ftol": 1e-13, "maxiter": 500}
    )
    assume(lowest.success)
    assert told.apex[1] == pytest.approx(lowest.fun, abs=1e-4)


@given(x=st.floats(1, 12), z=st.floats(-3, 3), length1=lengths, length2=lengths)
def test_a_bridle_in_a_mirror_has_its_tensions_the_other_way_round(
    x: float, z: float, length1: float, length2: float
) -> None:
    told = bridle_from_lengths(1000.0, (0.0, 0.0), (x, z), length1, length2)
    turned = bridle_from_lengths(1000.0, (x, z), (0.0, 0.0), length2, length1)
    assert isinstance(told, Refused) == isinstance(turned, Refused)
    if isinstance(told, HungBridle) and isinstance(turned, HungBridle):
        assert told.apex == pytest.approx(turned.apex, abs=1e-9)
        assert told.tensions == pytest.approx(turned.tensions[::-1], rel=1e-9)


def test_a_leg_to_cut_is_shorter_by_its_hardware() -> None:
    assert leg_length((0.0, 0.0, 0.0), (2.0, 3.0, -6.0), make_up=0.4) == pytest.approx(6.6)


anchors = st.tuples(st.floats(-1, 1), st.floats(-1, 1), st.floats(-1, 1)).map(
    lambda d: [(0.0 + d[0], 0.0, d[1]), (12.0, d[2], 0.0), (5.0 + d[1], 10.0, d[0])]
)


@settings(max_examples=60, deadline=None)
@given(anchors=anchors, apex=st.tuples(st.floats(-2, 14), st.floats(-2, 12), st.floats(-12, -3)))
def test_three_legs_hold_the_load_and_nothing_else(
    anchors: list[tuple[float, float, float]], apex: tuple[float, float, float]
) -> None:
    told = three_leg_bridle(900.0, anchors, apex)
    assert isinstance(told, SpaceBridle)
    pull = sum(
        tension * (np.array(anchor) - np.array(apex)) / length
        for tension, anchor, length in zip(told.tensions, anchors, told.lengths, strict=True)
    )
    assert pull == pytest.approx(np.array([0.0, 0.0, 900.0]), abs=1e-6)


@settings(max_examples=60, deadline=None)
@given(anchors=anchors, legs=st.tuples(st.floats(5, 16), st.floats(5, 16), st.floats(5, 16)))
def test_three_legs_hang_at_the_lowest_place_within_their_reach(
    anchors: list[tuple[float, float, float]], legs: tuple[float, float, float]
) -> None:
    """Against a constrained minimum of the height, slack legs and all."""
    told = three_leg_bridle_from_lengths(900.0, anchors, legs)
    points = np.array(anchors)
    start = points.mean(axis=0)
    reach = optimize.NonlinearConstraint(
        lambda p: np.linalg.norm(points - p, axis=1) - np.array(legs), -np.inf, 0
    )
    lowest = optimize.minimize(
        lambda p: p[2], start, constraints=[reach], method="SLSQP", options={"ftol": 1e-13, "maxiter": 500}
    )
    if isinstance(told, Refused):
        assert not lowest.success or np.max(reach.fun(lowest.x)) > -1e-2
        return
    assume(lowest.success)
    assert told.apex[2] == pytest.approx(lowest.fun, abs=1e-4)
    assert min(told.tensions) >= -1e-9
    assert all(tension == 0 for leg, tension in enumerate(told.tensions, 1) if leg in told.slack_legs)


def test_given_an_apex_that_three_legs_cannot_hold_the_negative_figure_is_shown() -> None:
    told = three_leg_bridle(800.0, [(0.0, 0.0, 0.0), (10.0, 0.0, 0.0), (5.0, 8.0, 0.0)], (5.0, -2.0, -9.0))
    assert isinstance(told, SpaceBridle)
    assert min(told.tensions) < 0
    assert not told.all_tight


def test_legs_in_one_plane_cannot_hold_a_load_in_space() -> None:
    told = three_leg_bridle(800.0, [(0.0, 0.0, 0.0), (5.0, 0.0, 0.0), (10.0, 0.0, 0.0)], (5.0, 0.0, -9.0))
    assert isinstance(told, Refused)


@settings(max_examples=40, deadline=None)
@given(apex=st.tuples(st.floats(0.5, 9.5), st.floats(0.5, 7.5), st.floats(-9, -3)))
def test_no_leg_of_four_can_pull_more_than_its_worst(apex: tuple[float, float, float]) -> None:
    """Against a linear programme: the largest tension of each leg over every way in which four pulling legs
    hold the load."""
    corners = [(0.0, 0.0, 0.0), (10.0, 0.0, 0.0), (10.0, 8.0, 0.0), (0.0, 8.0, 0.0)]
    told = four_leg_bridle(1000.0, corners, apex)
    assert isinstance(told, FourLegs)
    directions = (np.array(corners) - np.array(apex)).T
    units = directions / np.linalg.norm(directions, axis=0)
    for leg, worst in enumerate(told.worst_tensions):
        aim = np.zeros(4)
        aim[leg] = -1
        most = optimize.linprog(aim, A_eq=units, b_eq=[0, 0, 1000], bounds=[(0, None)] * 4)
        assert worst == pytest.approx(-most.fun, rel=1e-6)


def test_four_legs_with_the_apex_outside_hold_nothing() -> None:
    corners = [(0.0, 0.0, 0.0), (10.0, 0.0, 0.0), (10.0, 8.0, 0.0), (0.0, 8.0, 0.0)]
    told = four_leg_bridle(1000.0, corners, (30.0, 4.0, -7.0))
    assert isinstance(told, Refused)
    assert told.standing == "unstable"


@given(weight=st.floats(10, 1e4), below=st.floats(1, 20), aside=st.floats(0, 6), rise=st.floats(-1.2, 1.2))
def test_a_breasted_piece_is_in_equilibrium(weight: float, below: float, aside: float, rise: float) -> None:
    told = breast_line(weight, below, aside, rise)
    if isinstance(told, Refused):
        return
    assert isinstance(told, Breasted)
    level = told.breast * np.cos(rise) - told.suspension_horizontal
    upright = told.breast * np.sin(rise) + told.suspension_vertical - weight
    scale = max(weight, told.breast, told.suspension)
    assert (level / scale, upright / scale) == pytest.approx((0.0, 0.0), abs=1e-9)


def test_a_breast_line_along_its_suspension_holds_nothing() -> None:
    assert isinstance(breast_line(100.0, 1.0, 1.0, -pi / 4), Refused)


def test_a_point_carries_the_whole_chain_and_its_factor() -> None:
    assert point_total(820.0, 112.0, 0.6, 60.0, 14.0, None).design is None
    assert hook_load(820.0, 20.0, 5.0, 1.25) == 1050.0
    with pytest.raises(ValueError, match="1 or more"):
        point_total(820.0, 112.0, 0.6, 60.0, 14.0, 0.9)


@given(speed=st.floats(0, 3), distance=st.floats(0.01, 2), weight=st.floats(1, 1e4))
def test_a_stop_takes_the_work_of_speed_and_height(speed: float, distance: float, weight: float) -> None:
    """Energy: force x distance is the kinetic energy and the height lost on the way."""
    told = stop(weight, speed, distance)
    assert told.force * distance == pytest.approx(
        weight / STANDARD_GRAVITY * speed**2 / 2 + weight * distance, rel=1e-9
    )
    assert told.factor == pytest.approx(dynamic_factor(told.deceleration))
