"""What a set takes, by each limit: counterweight by arithmetic, the pipe's end as a cantilever, by hand."""

import numpy as np
import pytest
from tests.facts.rigs_in_text import (
    FOUR_LINES,
    FT,
    INCH,
    KSI,
    LB,
    LOFT_BLOCK,
    SLEEVE,
    THIMBLE,
    Ask,
    a_set,
)

from plumbtrue.quantities.values import Name

DOUBLE = (
    "weight: 110 lb, travel: 27'-0\", clear_height: 97 in, plates_thickness: 0 in, weights: {brick-28: 6}"
)
PIPE_AND_ENDS = 2.72 * 48 + 10
"""Weight of pipe and lower ends [lb]: 1-1/2 schedule 40 is 2.72 lb/ft (ASME B36.10M), five ends of 2 lb."""


def test_the_arbors_plate_bounds_a_spread_load(one_set: Ask) -> None:
    """900 lb of weights and 60 lb of arbor balance 960 lb; pipe and ends are 140.6 of them."""
    rig = one_set(
        a_set(arbor="weight: 60 lb, clear_height: 70 in, plates_thickness: 0 in, weights: {brick-28: 3}")
    )
    low, _ = rig.bounds("14", "takes_spread", LB)
    assert low == pytest.approx(960 - PIPE_AND_ENDS, abs=0.2)
    assert rig.answer("14", "takes_spread_by").value == Name("the arbor's plate")


def test_bricks_that_find_no_room_bound_it_before_the_plate(one_set: Ask) -> None:
    """64 in take 32 bricks of 28 lb: 896 lb."""
    rig = one_set(
        a_set(arbor="weight: 60 lb, clear_height: 64 in, plates_thickness: 0 in, weights: {brick-28: 3}")
    )
    low, _ = rig.bounds("14", "takes_spread", LB)
    assert low == pytest.approx(956 - PIPE_AND_ENDS, abs=0.2)
    assert rig.answer("14", "takes_spread_by").value == Name("the bricks that fit")


def test_a_double_purchase_arbor_takes_half(one_set: Ask) -> None:
    """(110 + 900) / 2 less pipe and ends: the plate of this arbor is the 900 lb of the single ones."""
    rig = one_set(a_set(system="double-purchase", arbor=DOUBLE))
    low, _ = rig.bounds("14", "takes_spread", LB)
    assert low == pytest.approx(1010 / 2 - PIPE_AND_ENDS, abs=0.2)


def test_the_end_of_the_pipe_takes_least_of_a_single_load(one_set: Ask) -> None:
    """A cantilever of 3 ft: P L + w L^2 / 2 = 0.6 Fy S, with Fy 30 ksi and S of a tube of 1.900 by 0.145 in."""
    rig = one_set(a_set())
    outside, inside = 1.9, 1.9 - 2 * 0.145
    modulus = 3.141592653589793 * (outside**4 - inside**4) / (32 * outside) * INCH**3
    allowed = 0.6 * 30 * KSI * modulus / (LB * FT)
    by_hand = (allowed - 2.72 * 3**2 / 2) / 3
    low, _ = rig.bounds("14", "takes_point", LB)
    assert low == pytest.approx(by_hand, rel=2e-3)
    assert rig.answer("14", "takes_point_by").value == Name("the pipe in bending")


def test_what_a_set_takes_does_not_hang_on_what_is_posted(one_set: Ask) -> None:
    little = one_set(a_set(posted="posted_total: 10 lb\nposted_point_at_line: none"))
    much = one_set(a_set())
    assert little.bounds("14", "takes_spread") == much.bounds("14", "takes_spread")


def test_without_the_grade_of_the_pipe_it_is_only_at_most(one_set: Ask) -> None:
    rig = one_set(a_set().replace("grade: a53-a", "grade: unknown"))
    low, high = rig.bounds("14", "takes_point", LB)
    assert low == 0
    assert high > 0
    assert "14 / batten: grade" in rig.missing("14", "takes_point")


def test_without_the_rating_of_a_block_it_is_only_at_most(one_set: Ask) -> None:
    block = (
        "{part: loft-block, mount: underhung, tread_diameter: 8 in, wrap_angle: 90 deg, low_point: 60'-0\"}"
    )
    rig = one_set(a_set(loft=block))
    assert rig.bounds("14", "takes_spread", LB)[0] == 0


@pytest.mark.parametrize("arbor", ["travel: 54'-0\", weights: {brick-28: 3}", "weight: at least 50 lb"])
def test_without_the_weight_of_the_arbor_it_is_only_at_most(one_set: Ask, arbor: str) -> None:
    rig = one_set(a_set(arbor=arbor))
    assert rig.bounds("14", "takes_spread", LB)[0] == 0
    assert "14 / arbor: weight" in rig.missing("14", "takes_spread")


def test_a_set_that_hangs_what_it_takes_meets_its_limit(one_set: Ask) -> None:
    """The question turned round again: at the greatest point load at the tip the pipe is at what it allows."""
    most, _ = one_set(a_set()).bounds("14", "takes_point", LB)
    posted = (
        f"posted_total: 1 lb\nposted_per_length: none\nposted_point_at_line: none\n"
        f"posted_point_between: none\nposted_point_overhang: {most:.6f} lb"
    )
    rig = one_set(a_set(posted=posted))
    _, used = rig.bounds("14 / batten", "bending_utilisation")
    assert used == pytest.approx(1.0, rel=1e-3)


ROOMY = "weight: 60 lb, clear_height: 240 in, plates_thickness: 0 in, weights: {brick-28: 3}"


def roomy(text: str) -> str:
    """The set with an arbor that is never what bounds it."""
    return text.replace("capacity: 900 lb", "capacity: 5000 lb")


def tube() -> tuple[float, float]:
    """Second moment [in4] and elastic section modulus [in3] of a tube of 1.900 by 0.145 in."""
    outside, inside = 1.9, 1.9 - 2 * 0.145
    second = np.pi * (outside**4 - inside**4) / 64
    return second, second / (outside / 2)


PIPE = 2.72
"""[lb/ft], ASME B36.10M."""


def test_the_weakest_part_of_a_line_bounds_a_spread_load(one_set: Ask) -> None:
    """Five lines at 10'-6", overhangs of 3 ft, by three moments: M1 = -4.5 w, M2 = -10.53 w, M3 = -8.52 w, so line 2
    pulls 11.265 ft of load, and its lower end of 2 lb. The shackle is good for 150 lb.
    """
    weak = f"[{SLEEVE}, {THIMBLE}, {{part: shackle, size: 1/4 in, working_load_limit: 150 lb, pull_angle: 0 deg}}]"
    rig = one_set(a_set(lower=weak))
    span, m1 = 10.5, -(3.0**2) / 2
    m2 = (-3 / 8 * span**2 - m1) / 3.5
    m3 = -(span**2) / 8 - m2 / 2
    line2 = span + (m1 - m2) / span + (m3 - m2) / span
    assert line2 == pytest.approx(11.265, abs=0.001)
    by_hand = ((150 - 2) / line2 - PIPE) * 48
    assert rig.bounds("14", "takes_spread", LB)[0] == pytest.approx(by_hand, rel=2e-3)
    assert rig.answer("14", "takes_spread_by").value == Name("a line")


def test_a_loft_block_rated_for_its_resultant_bounds_a_spread_load(one_set: Ask) -> None:
    """250 lb at a right angle is a tension of 250 / sqrt 2, and 56.5 ft of rope of 0.11 lb/ft are in it."""
    block = LOFT_BLOCK.replace(
        "working_load_limit: 500 lb, rating_means: line-tension",
        "working_load_limit: 250 lb, rating_means: resultant",
    )
    rig = one_set(a_set(loft=block))
    by_hand = ((250 / 2**0.5 - 56.5 * 0.11 - 2) / 11.2649 - PIPE) * 48
    assert rig.bounds("14", "takes_spread", LB)[0] == pytest.approx(by_hand, rel=2e-3)


def test_a_head_block_rated_for_all_lines_bounds_the_whole(one_set: Ask) -> None:
    """600 lb less five lower ends of 2 lb, five ropes of 0.11 lb/ft over 56'-6", and the pipe."""
    rig = one_set(a_set().replace("working_load_limit: 1200 lb", "working_load_limit: 600 lb"))
    by_hand = 600 - 5 * 2 - 5 * 0.11 * 56.5 - PIPE * 48
    assert rig.bounds("14", "takes_spread", LB)[0] == pytest.approx(by_hand, rel=2e-3)
    assert rig.answer("14", "takes_spread_by").value == Name("the head block")


def test_a_head_block_rated_for_its_resultant_carries_the_hand_line_too(one_set: Ask) -> None:
    """At a right angle (T + 2 h)^2 + T^2 = 800^2, with 40 lb in each part of the hand line."""
    text = a_set(more="hand_line_tension: 40 lb").replace(
        "working_load_limit: 1200 lb, rating_means: total",
        "working_load_limit: 800 lb, rating_means: resultant",
    )
    all_lines = (-80 + (80**2 + 2 * (800**2 - 80**2)) ** 0.5) / 2
    assert (all_lines + 80) ** 2 + all_lines**2 == pytest.approx(800**2)
    by_hand = all_lines - 5 * 2 - 5 * 0.11 * 56.5 - PIPE * 48
    assert one_set(text).bounds("14", "takes_spread", LB)[0] == pytest.approx(by_hand, rel=2e-3)


def test_the_sag_of_long_spans_bounds_a_spread_load(one_set: Ask) -> None:
    """Four lines at 14 ft: EI y'' = M over an end span between its moments, by hand, against the span over 180."""
    rig = one_set(roomy(a_set(places=FOUR_LINES, arbor=ROOMY)))
    span, over = 14 * 12.0, 3 * 12.0
    EI = 29e6 * tube()[0]
    m1 = -(over**2) / 2
    m2 = (-(span**2) / 2 - m1) / 5
    x = np.linspace(0, span, 20001)
    shear = span / 2 + (m2 - m1) / span
    curve = m1 * x**2 / 2 + shear * x**3 / 6 - x**4 / 24
    deepest = -(curve - curve[-1] * x / span).min() / EI
    by_hand = (span / 180 / deepest - PIPE / 12) * 576
    assert rig.bounds("14", "takes_spread", LB)[0] == pytest.approx(by_hand, rel=3e-3)
    assert rig.answer("14", "takes_spread_by").value == Name("the sag of a span")


def moments_at(
    supports: np.ndarray, loads: list[tuple[float, float]], spread: float, length: float, at: np.ndarray
) -> np.ndarray:
    """Moments along a pipe on rigid lines by the three-moment equation, written out for this test alone."""
    n = len(supports)
    ends = [
        -spread * supports[0] ** 2 / 2 - sum(w * (supports[0] - x) for x, w in loads if x < supports[0]),
        -spread * (length - supports[-1]) ** 2 / 2
        - sum(w * (x - supports[-1]) for x, w in loads if x > supports[-1]),
    ]
    A, rhs = np.zeros((n, n)), np.zeros(n)
    A[0, 0] = A[-1, -1] = 1
    rhs[0], rhs[-1] = ends
    for k in range(1, n - 1):
        left, right = supports[k] - supports[k - 1], supports[k + 1] - supports[k]
        A[k, k - 1], A[k, k], A[k, k + 1] = left, 2 * (left + right), right
        rhs[k] = -spread * (left**3 + right**3) / 4
        for x, w in loads:
            if supports[k - 1] < x <= supports[k]:
                a = x - supports[k - 1]
                rhs[k] -= w * a * (left**2 - a**2) / left
            elif supports[k] < x < supports[k + 1]:
                b = supports[k + 1] - x
                rhs[k] -= w * b * (right**2 - b**2) / right
    over = np.linalg.solve(A, rhs)
    found: np.ndarray = np.interp(at, supports, over)
    for k in range(n - 1):
        inside = (at >= supports[k]) & (at <= supports[k + 1])
        s, span = at[inside] - supports[k], supports[k + 1] - supports[k]
        found[inside] += spread * s * (span - s) / 2
        for x, w in loads:
            if supports[k] < x < supports[k + 1]:
                a = x - supports[k]
                found[inside] += w * np.where(s <= a, s * (span - a) / span, a * (span - s) / span)
    for outside, end in ((at < supports[0], 0.0), (at > supports[-1], length)):
        found[outside] = -spread * (at[outside] - end) ** 2 / 2
        for x, w in loads:
            if end == 0.0:
                found[outside] -= w * np.maximum(at[outside] - x, 0)
            else:
                found[outside] -= w * np.maximum(x - at[outside], 0)
    return found


def test_the_pipe_in_bending_between_lines_by_influence(one_set: Ask) -> None:
    """Lines near the ends, so that a single load in a span governs: for a unit load at every 2 in the moments at
    every 2 in, and the least load that brings any of them to 0.6 Fy S, with Fy 20 ksi.
    """
    supports = np.array([1.0, 12.5, 24.0, 35.5, 47.0])
    places = "{1: SR 23'-0\", 2: SR 11'-6\", 3: CL, 4: SL 11'-6\", 5: SL 23'-0\"}"
    rig = one_set(a_set(places=places).replace("grade: a53-a", "grade: a53-a, yield: 20 ksi"))
    allowed = 0.6 * 20_000 * tube()[1] / 12
    at = np.arange(0, 48 + 1e-9, 1 / 6)
    dead = moments_at(supports, [], PIPE, 48.0, at)
    least = np.inf
    for x in at:
        unit = moments_at(supports, [(float(x), 1.0)], 0.0, 48.0, at)
        with np.errstate(divide="ignore", invalid="ignore"):
            room = np.where(
                unit > 1e-9, (allowed - dead) / unit, np.where(unit < -1e-9, (-allowed - dead) / unit, np.inf)
            )
        least = min(least, float(room.min()))
    assert rig.bounds("14", "takes_point", LB)[0] == pytest.approx(least, rel=3e-3)
    assert rig.answer("14", "takes_point_by").value == Name("the pipe in bending")


def test_with_a_limit_that_nobody_knows_the_others_hold_it_at_most(one_set: Ask) -> None:
    """A head block without a rating may give way before the arbor's plate does."""
    rig = one_set(a_set(arbor=ROOMY).replace("working_load_limit: 1200 lb, rating_means: total,", ""))
    low, high = rig.bounds("14", "takes_spread", LB)
    assert low == 0
    assert high == pytest.approx(960 - PIPE_AND_ENDS, abs=0.2)
    assert rig.answer("14", "takes_spread_by").value == Name("at most by the arbor's plate")
    assert "14 / head block: working_load_limit" in rig.missing("14", "takes_spread")


@pytest.mark.parametrize(
    "splice", ["type: sleeve-bolted", "type: sleeve-bolted, moment_capacity: at most 489 ft-lb"]
)
def test_a_joint_of_which_nobody_knows_what_it_carries_makes_it_only_at_most(
    one_set: Ask, splice: str
) -> None:
    """It was taken as a limit of nought, which no pipe can have, and stopped the whole check."""
    rig = one_set(a_set(splices=f"[{{at: 13'-0\", {splice}}}]"))
    low, high = rig.bounds("14", "takes_point", LB)
    assert low == 0
    assert high > 100
    assert "14 / batten / splice 13'-0\": moment_capacity" in rig.missing("14", "takes_point")
