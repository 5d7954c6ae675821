"""Blocks, bends, trims, plumb, drift, rope lengths, swing and room: laws, printed tables, and independent
geometry."""

from itertools import product
from math import cos, hypot, pi, radians, sin, tan

import numpy as np
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from plumbtrue.mechanics.arbor_pull import lateral_pull
from plumbtrue.mechanics.bend_efficiency import CURVE, BendEfficiency, bend_efficiency
from plumbtrue.mechanics.blocks import (
    block_resultant,
    combined,
    loft_block_pull,
    mule_block_pull,
    overturning,
    pull_on_mount,
    underhung_clips,
)
from plumbtrue.mechanics.centroid import centroid, linear_load_centre
from plumbtrue.mechanics.clearance import (
    Box,
    moving_gap,
    pair_gap,
    pipe_and_lines,
    side_room,
    spare_room,
    swept,
)
from plumbtrue.mechanics.cut_length import Course, CutLength, cut_length
from plumbtrue.mechanics.drift import batten_drift, both_ways, drift_bounds
from plumbtrue.mechanics.fleet_angle import fleet_angle, least_distance
from plumbtrue.mechanics.gravity import STANDARD_GRAVITY
from plumbtrue.mechanics.head_block import head_block_load, held_hand_line, tension_block_lift
from plumbtrue.mechanics.plumb import drop_at_limit, line_out_of_plumb, out_of_plumb, out_of_plumb_bounds
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.sheave_ratio import least_tread, pitch_ratio
from plumbtrue.mechanics.swing import period, sway
from plumbtrue.mechanics.trim_heights import Sight, TrimHeights, hidden, load_bottom, trim_heights
from plumbtrue.quantities.bounds import Bounds

FloatArray = np.ndarray[tuple[int], np.dtype[np.float64]]

pulls = st.floats(0, 5000)


@given(first=pulls, second=pulls, wrap=st.floats(0, 2 * pi))
def test_a_block_feels_the_vector_sum_of_both_parts(first: float, second: float, wrap: float) -> None:
    between = pi - wrap
    both = np.array([first, 0.0]) + second * np.array([cos(between), sin(between)])
    assert block_resultant(first, second, wrap).force == pytest.approx(float(np.linalg.norm(both)), abs=1e-6)


@pytest.mark.parametrize(
    ("between", "factor"), [(0, 2.0), (45, 1.85), (60, 1.73), (90, 1.41), (120, 1.0), (180, 0.0)]
)
def test_block_factors_are_those_printed(between: float, factor: float) -> None:
    """Block force factor tables, by the angle between the lines (90 degrees 1.41)."""
    assert block_resultant(1.0, 1.0, pi - radians(between)).factor == pytest.approx(factor, abs=0.005)


def test_a_mule_block_at_a_third_of_a_half_turn_feels_the_line_pull() -> None:
    assert mule_block_pull(100.0, radians(60)) == pytest.approx(100.0)
    assert combined(*loft_block_pull(100.0)) == pytest.approx(100.0 * 2**0.5)


@given(v=pulls, h=pulls, axle=st.floats(0, 1), behind=st.floats(0.05, 1), ahead=st.floats(0.05, 1))
def test_an_upright_block_is_in_equilibrium(
    v: float, h: float, axle: float, behind: float, ahead: float
) -> None:
    told = overturning(v, h, axle, behind, ahead)
    assert told.uplift >= 0
    assert told.pressure == pytest.approx(v + told.uplift)
    if told.clips_in_tension:
        # Moments about the front edge.
        assert h * axle == pytest.approx(v * ahead + told.uplift * (ahead + behind), abs=1e-6)


@given(v=pulls, h=pulls, axle=st.floats(0, 1), spacing=st.floats(0.05, 1))
def test_an_underhung_block_is_in_equilibrium(v: float, h: float, axle: float, spacing: float) -> None:
    told = underhung_clips(v, h, axle, spacing)
    assert told.rear + told.front == pytest.approx(v, abs=1e-6)
    assert (told.rear - told.front) * spacing / 2 == pytest.approx(h * axle, abs=1e-6)


@given(
    tensions=st.lists(pulls, min_size=1, max_size=8),
    hand=pulls,
    fall=st.floats(-1, 1),
    purchase=st.sampled_from([1, 2]),
)
def test_a_head_block_feels_the_vector_sum_of_its_lines(
    tensions: list[float], hand: float, fall: float, purchase: int
) -> None:
    told = head_block_load(tensions, hand, purchase=purchase, fall=fall)
    down_to_arbor, to_loft, hand_line = (
        np.array([0.0, 1.0]),
        np.array([cos(fall), sin(fall)]),
        np.array([0.0, 2 * hand]),
    )
    both = sum(tension * (down_to_arbor + to_loft) for tension in tensions) + hand_line
    assert [told.block_horizontal, told.block_vertical] == pytest.approx(both, abs=1e-6)
    assert told.beam_vertical == pytest.approx(told.block_vertical + (purchase - 1) * sum(tensions))


def test_an_arbor_held_by_its_lock_hangs_on_the_hand_line() -> None:
    assert held_hand_line(40.0, -120.0, purchase=2) == 280.0
    assert tension_block_lift(40.0, -120.0, 200.0, purchase=1) == 0.0


@pytest.mark.parametrize(("ratio", "share"), CURVE)
def test_bend_efficiency_meets_the_printed_rows(ratio: float, share: float) -> None:
    """Trade table "Sheave Size & Wire Rope Strength" (read). The lesser of table and closed form is used."""
    told = bend_efficiency(ratio * 0.25, 0.25)
    assert isinstance(told, BendEfficiency)
    assert told.by_table == pytest.approx(share)
    assert told.used <= share
    assert told.used == pytest.approx(share, abs=0.031)


@given(ratio=st.floats(1, 100), more=st.floats(0, 20))
def test_a_larger_sheave_never_weakens_a_rope_more(ratio: float, more: float) -> None:
    small, large = bend_efficiency(ratio, 1.0), bend_efficiency(ratio + more, 1.0)
    assert isinstance(small, BendEfficiency)
    assert isinstance(large, BendEfficiency)
    assert large.used >= small.used - 1e-12


def test_a_pin_thinner_than_the_rope_has_no_efficiency() -> None:
    assert isinstance(bend_efficiency(0.2, 0.25), Refused)


def test_pitch_ratio_is_one_more_than_tread_ratio() -> None:
    assert pitch_ratio(7.5, 0.25) == 31.0
    assert least_tread(30.0, 0.25) == 7.5


@given(stack=st.lists(st.floats(0, 0.6), min_size=1, max_size=6), more=st.floats(0, 0.5))
def test_hardware_costs_its_length_of_grid_trim(stack: list[float], more: float) -> None:
    bare, longer = trim_heights(18.0, 0.15, stack, 0.02), trim_heights(18.0, 0.15, [*stack, more], 0.02)
    assert isinstance(bare, TrimHeights)
    assert isinstance(longer, TrimHeights)
    assert bare.by_grid - longer.by_grid == pytest.approx(more, abs=1e-9)


def test_half_the_arbor_travel_is_enough_for_double_purchase() -> None:
    single = trim_heights(18.0, 0.15, [0.3], 0.02, low_trim=1.2, arbor_travel=14.0, purchase=1)
    double = trim_heights(18.0, 0.15, [0.3], 0.02, low_trim=1.2, arbor_travel=7.0, purchase=2)
    assert isinstance(single, TrimHeights)
    assert isinstance(double, TrimHeights)
    assert (single.high, single.governed_by) == (double.high, double.governed_by)


def test_without_arbor_travel_the_high_trim_is_not_known() -> None:
    told = trim_heights(18.0, 0.15, [0.3], 0.02, low_trim=1.2)
    assert isinstance(told, TrimHeights)
    assert (told.high, told.governed_by, told.batten_travel) == (None, None, None)


def test_where_grid_and_arbor_stop_it_alike_the_grid_is_named() -> None:
    """Decimals in inches: 720 - 6 - 10.5 - 0.95 and 48 + 654.55 are one height, and not one float."""
    inch = 0.0254
    told = trim_heights(
        720 * inch,
        6 * inch,
        [3 * inch, 1.5 * inch, 6 * inch],
        0.95 * inch,
        low_trim=48 * inch,
        arbor_travel=654.55 * inch,
    )
    assert isinstance(told, TrimHeights)
    assert told.governed_by == "grid"


def test_a_pipe_that_cannot_reach_its_low_trim_is_refused() -> None:
    assert isinstance(trim_heights(3.0, 0.15, [2.5], 0.02, low_trim=1.2, arbor_travel=14.0), Refused)


def test_a_bottom_on_the_line_of_sight_is_just_hidden() -> None:
    sight = Sight(eye_height=1.0, edge_height=7.0, eye_to_edge=10.0, eye_to_load=20.0)
    assert load_bottom(20.0, 7.0) == 13.0
    assert (hidden(13.0, sight).is_hidden, hidden(12.99, sight).is_hidden) == (True, False)


offsets = st.floats(-1, 1)
drops = st.floats(0.3, 20)


@given(offset=offsets, drop=drops, load=pulls)
def test_a_line_out_of_plumb_pulls_along_its_rope(offset: float, drop: float, load: float) -> None:
    told = line_out_of_plumb(offset, drop, load)
    assert hypot(told.horizontal, load) == pytest.approx(told.rope_tension, rel=1e-9, abs=1e-9)
    assert told.horizontal == pytest.approx(load * tan(told.angle), abs=1e-6)


@given(a=offsets, b=offsets, c=drops, d=drops, e=st.floats(0, 1), f=st.floats(0, 1))
def test_bounds_of_an_angle_hold_everywhere_between(
    a: float, b: float, c: float, d: float, e: float, f: float
) -> None:
    offset, drop = Bounds(min(a, b), max(a, b)), Bounds(min(c, d), max(c, d))
    told = out_of_plumb_bounds(offset, drop)
    inside = out_of_plumb(offset.low + e * (offset.high - offset.low), drop.low + f * (drop.high - drop.low))
    assert told.low - 1e-12 <= inside <= told.high + 1e-12


def test_a_line_is_at_its_limit_where_it_is_said_to_be() -> None:
    drop = drop_at_limit(0.15, radians(1.5))
    assert out_of_plumb(0.15, drop) == pytest.approx(radians(1.5))
    assert fleet_angle(0.15, least_distance(0.15, radians(1.5))) == pytest.approx(radians(1.5))


lines = st.lists(st.tuples(st.floats(1, 2000), offsets, drops), min_size=2, max_size=8)


@given(lines=lines)
def test_a_drifted_batten_feels_no_level_pull(lines: list[tuple[float, float, float]]) -> None:
    """Against a root search for the place where the level pulls cancel."""
    loads, out, down = (list(column) for column in zip(*lines, strict=True))
    told = batten_drift(loads, out, down)
    assert sum(told.horizontals) == pytest.approx(0, abs=1e-6 * sum(loads))
    found = brentq(lambda s: sum(v * (e + s) / h for v, e, h in lines), -3, 3)
    assert told.shift == pytest.approx(found, abs=1e-9)


def test_a_held_batten_keeps_its_offsets() -> None:
    assert batten_drift([100.0, 100.0], [0.1, 0.0], [3.0, 3.0], held=True).offsets == (0.1, 0.0)


def test_out_both_ways_is_further_out_than_either() -> None:
    along, across = batten_drift([1, 1], [0.3, -0.3], [4, 4]), batten_drift([1, 1], [0.4, -0.4], [4, 4])
    assert both_ways(along, across, [4, 4]) == pytest.approx((out_of_plumb(0.5, 4),) * 2)


@settings(max_examples=50, deadline=None)
@given(
    loft=st.floats(0.1, 0.4),
    head=st.floats(0.1, 0.6),
    rope=st.floats(0.004, 0.012),
    dx=st.floats(1.5, 15),
    dz=st.floats(-0.7, 0.7),
)
def test_a_path_over_both_blocks_is_the_length_of_a_drawn_line(
    loft: float, head: float, rope: float, dx: float, dz: float
) -> None:
    """The common tangent by root search on the circles' support functions, then a polyline of a thousand
    pieces an arc."""
    assume(dx > loft + head)
    told = cut_length(Course(8.0, loft, head, rope, dx, dz, 5.0))
    assert isinstance(told, CutLength)
    r1, r2 = (loft + rope) / 2, (head + rope) / 2
    # The tangent over the top has one normal for both circles: n . (c2 - c1) = r1 - r2.
    normal = brentq(lambda a: cos(a) * dx + sin(a) * dz - (r1 - r2), pi / 2 - 1.2, pi / 2 + 1.2)
    left = np.array([(r1 * cos(a), r1 * sin(a)) for a in np.linspace(pi, normal, 1000)])
    right = np.array([(dx + r2 * cos(a), dz + r2 * sin(a)) for a in np.linspace(normal, 0, 1000)])
    drawn = np.vstack([left, right])
    length = float(np.sum(np.linalg.norm(np.diff(drawn, axis=0), axis=1)))
    assert told.path == pytest.approx(8.0 + length + 5.0, abs=1e-5)


def test_a_double_purchase_arbor_takes_its_drop_twice_and_half_a_turn() -> None:
    course = Course(8.0, 0.2, 0.3, 0.006, 6.0, 0.0, 5.0)
    single, double = cut_length(course), cut_length(course, arbor_sheave_tread=0.2)
    assert isinstance(single, CutLength)
    assert isinstance(double, CutLength)
    assert double.path - single.path == pytest.approx(5.0 + pi * 0.103)


def test_a_mule_block_takes_its_arc() -> None:
    course = Course(8.0, 0.2, 0.3, 0.006, 6.0, 0.0, 5.0)
    straight, turned = cut_length(course), cut_length(course, mule_arcs=[(0.2, radians(30))])
    assert isinstance(straight, CutLength)
    assert isinstance(turned, CutLength)
    assert turned.path - straight.path == pytest.approx(0.103 * radians(30))


@pytest.mark.parametrize(
    ("course", "deductions"),
    [
        (Course(8.0, 0.2, 0.3, 0.006, 0.2, 0.0, 5.0), []),
        (Course(8.0, 0.2, 0.3, 0.006, 6.0, 0.0, 5.0), [50.0]),
    ],
)
def test_a_line_that_cannot_run_has_no_length(course: Course, deductions: list[float]) -> None:
    assert isinstance(cut_length(course, (), deductions), Refused)


def test_the_period_is_that_of_a_small_swing() -> None:
    """Against the pendulum's equation of motion, let go at a hundredth of a radian."""
    drop = 9.144

    def falls(_: float, y: FloatArray) -> list[float]:
        return [float(y[1]), -STANDARD_GRAVITY / drop * sin(y[0])]

    def crosses(_: float, y: FloatArray) -> float:
        return float(y[0])

    motion = solve_ivp(falls, (0, 8), [0.01, 0.0], events=crosses, rtol=1e-10, atol=1e-12)
    assert motion.t_events is not None
    assert period(drop) == pytest.approx(2 * (motion.t_events[0][1] - motion.t_events[0][0]), rel=1e-4)


@given(drop=drops, force=pulls, weight=st.floats(1, 5000))
def test_a_sway_hangs_along_the_sum_of_weight_and_force(drop: float, force: float, weight: float) -> None:
    told = sway(drop, force, weight)
    assert weight * tan(told.angle) == pytest.approx(force, abs=1e-6)
    assert told.sway == pytest.approx(drop * sin(told.angle), abs=1e-9)


boxes = st.tuples(
    st.integers(0, 20),
    st.integers(0, 4),
    st.integers(0, 9),
    st.integers(0, 9),
    st.integers(0, 9),
    st.integers(0, 9),
).map(lambda b: Box(b[0], b[1], min(b[2], b[3]), max(b[2], b[3]), min(b[4], b[5]), max(b[4], b[5])))


@given(first=st.lists(boxes, max_size=3), second=st.lists(boxes, max_size=3))
def test_a_gap_is_that_of_the_nearest_points_that_face_each_other(
    first: list[Box], second: list[Box]
) -> None:
    """Against every whole-number place across the stage and in height."""
    told = pair_gap(first, second)

    def faces(box: Box, x: int, z: int) -> bool:
        return box.left <= x <= box.right and box.bottom <= z <= box.top

    gaps = [
        abs(a.centre - b.centre) - a.half_depth - b.half_depth
        for a, b in product(first, second)
        for x, z in product(range(10), range(10))
        if faces(a, x, z) and faces(b, x, z)
    ]
    assert (told.gap if told else None) == min(gaps, default=None)


def test_what_moves_takes_up_its_whole_way() -> None:
    cloth, pipe = Box(0.0, 0.05, -5.0, 5.0, 0.0, 6.0), pipe_and_lines(0.3, 0.03, -6.0, 6.0, 12.0, 18.0)
    assert pair_gap([cloth], [pipe]) is None
    told = pair_gap(swept([cloth], 0.0, 8.0), [pipe])
    assert told is not None
    assert told.gap == pytest.approx(0.22)


def test_a_cloth_without_weight_at_its_bottom_wants_more_room() -> None:
    """4 in and 1 in for each 10 ft of drop (common practice)."""
    assert moving_gap(4.0, [240.0, 120.0], 1 / 120) == pytest.approx(7.0)


def test_room_that_is_used_up_is_below_0() -> None:
    assert spare_room(8.0, [3.0, 2.5], [1.5, 1.0], 0.5) == -0.5
    assert side_room(6.0, 0.5, 6.25) == -0.25


def test_the_centre_of_a_triangular_load_lies_at_two_thirds() -> None:
    """Any statics textbook."""
    assert linear_load_centre(3.0, 9.0, 0.0, 5.0) == pytest.approx(7.0)
    assert isinstance(centroid([], []), Refused)


def test_lines_that_do_not_pull_cock_nothing() -> None:
    assert isinstance(lateral_pull([0.0, 0.0], [-0.1, 0.1]), Refused)


ranges = st.tuples(st.floats(0.5, 400), st.floats(0, 200)).map(lambda pair: Bounds(pair[0], sum(pair)))
either_way = st.tuples(st.floats(-1, 1), st.floats(0, 0.5)).map(lambda pair: Bounds(pair[0], sum(pair)))


@given(rows=st.lists(st.tuples(ranges, either_way), min_size=2, max_size=4))
def test_a_drift_within_bounds_is_that_of_its_worst_corner(rows: list[tuple[Bounds, Bounds]]) -> None:
    """Every corner of loads and offsets through the plain formula, one by one."""
    loads, offsets = zip(*rows, strict=True)
    found = drift_bounds(loads, offsets, line=0)
    assert found is not None
    corners = [
        batten_drift(corner[: len(rows)], corner[len(rows) :], [1.0] * len(rows))
        for corner in product(*((one.low, one.high) for one in (*loads, *offsets)))
    ]
    shifts, left = [one.shift for one in corners], [one.offsets[0] for one in corners]
    assert (found[0].low, found[0].high) == pytest.approx((min(shifts), max(shifts)), abs=1e-9)
    assert (found[1].low, found[1].high) == pytest.approx((min(left), max(left)), abs=1e-9)


def test_where_no_line_can_pull_nothing_says_where_a_batten_hangs() -> None:
    assert drift_bounds([Bounds(0, 0)] * 2, [Bounds(0, 0)] * 2, line=0) is None


@example(tension=101.0, wrap=1e-8)
@given(tension=pulls, wrap=st.floats(0, 2 * pi))
def test_both_parts_of_a_pull_on_a_mount_make_its_resultant(tension: float, wrap: float) -> None:
    assert combined(*pull_on_mount(tension, wrap)) == pytest.approx(
        block_resultant(tension, tension, wrap).force, abs=1e-6
    )
