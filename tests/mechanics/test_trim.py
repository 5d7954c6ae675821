"""Lines out of level: closed forms, and worst cases that nothing tried by brute force may beat."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from plumbtrue.mechanics import slack_extremes
from plumbtrue.mechanics.batten import Batten, Line, Load, PointLoad, SpreadLoad
from plumbtrue.mechanics.reactions import Reactions, solve
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.small_programme import greatest_in_box
from plumbtrue.mechanics.trim import TrimRange, offsets_from_tensions, sensitivity, trim_range

INCH, FOOT, POUND = 0.0254, 0.3048, 4.4482216152605
PIPE_EI = 29e6 * 0.3099 * POUND * INCH**2
"""1-1/2 in schedule 40 pipe."""
PIPE = Batten(504 * INCH, PIPE_EI, 2.717 * POUND / FOOT)
FIVE = tuple(
    Line((12 + 120 * i) * INCH, stiffness=395e3 * POUND / ((780 + 120 * i) * INCH)) for i in range(5)
)


def worst_trim(batten: Batten, lines: tuple[Line, ...], loads: list[Load], tolerance: float) -> TrimRange:
    found = trim_range(batten, lines, loads, tolerance)
    assert isinstance(found, TrimRange)
    return found


def out_of_level(
    batten: Batten, lines: tuple[Line, ...], loads: list[Load], offsets: np.ndarray
) -> Reactions:
    answer = solve(
        batten, [replace(line, offset=float(d)) for line, d in zip(lines, offsets, strict=True)], loads
    )
    assert isinstance(answer, Reactions)
    return answer


def test_three_elastic_lines_take_the_closed_form() -> None:
    """Three springs and a beam: `S = v v^T / (1/s + 6/k)`, v = (1, -2, 1), s = 1.5 EI / L^3 (statics)."""
    EI, k, L = 9000.0, 7e4, 3.0
    found = sensitivity(Batten(6.0, EI), [Line(L * i, k) for i in range(3)])
    v = np.array([1.0, -2.0, 1.0])
    expected = np.outer(v, v) / (L**3 / (1.5 * EI) + 6 / k)
    assert not isinstance(found, Refused)
    assert found.tolist() == pytest.approx(expected, rel=1e-9)


def test_the_range_is_the_same_as_trying_every_corner_while_no_line_goes_slack() -> None:
    loads: list[Load] = [SpreadLoad.uniform(12 * INCH, 492 * INCH, 800 * POUND)]
    found = worst_trim(PIPE, FIVE, loads, INCH / 8)
    corners = np.array(np.meshgrid(*[[-1.0, 1.0]] * 5)).reshape(5, -1).T * INCH / 8
    tried = np.array([out_of_level(PIPE, FIVE, loads, corner).tensions for corner in corners])
    assert found.greatest.tolist() == pytest.approx(tried.max(axis=0), rel=1e-9)
    assert found.least.tolist() == pytest.approx(tried.min(axis=0), rel=1e-9)
    assert not any(found.can_go_slack)


def test_first_slack_is_where_a_line_just_stops_pulling() -> None:
    found = worst_trim(PIPE, FIVE, [], 0.0)
    just_inside = worst_trim(PIPE, FIVE, [], 0.999 * found.first_slack)
    just_outside = worst_trim(PIPE, FIVE, [], 1.001 * found.first_slack)
    assert not any(just_inside.can_go_slack)
    assert any(just_outside.can_go_slack)


def test_slack_lines_put_the_worst_case_inside_the_box_and_nothing_tried_beats_it() -> None:
    """Corners alone give 25.75 lb at the end line of this bare pipe, 4 % less than the worst."""
    tolerance = INCH / 2
    found = worst_trim(PIPE, FIVE, [], tolerance)
    rng = np.random.default_rng(7)
    corners = np.array(np.meshgrid(*[[-1.0, 0.0, 1.0]] * 5)).reshape(5, -1).T
    tries = np.vstack([corners, rng.uniform(-1, 1, size=(400, 5))]) * tolerance
    tried = np.array([out_of_level(PIPE, FIVE, [], offsets).tensions for offsets in tries])
    assert (tried.max(axis=0) <= found.greatest * (1 + 1e-9)).all()
    assert tried.max(axis=0).tolist() == pytest.approx(found.greatest, rel=0.06)
    assert found.greatest[0] / POUND == pytest.approx(26.7755, rel=1e-4)
    assert found.least.tolist() == [0.0] * 5
    assert found.exact


@given(
    st.lists(st.floats(0.8, 3.5), min_size=2, max_size=5),
    st.floats(8e3, 3e5),
    st.floats(0.003, 0.04),
    st.floats(0.0, 1500.0),
)
@settings(deadline=None, max_examples=25)
def test_a_full_solve_at_the_worst_trim_pulls_as_the_programme_says(
    spans: list[float], EI: float, tolerance: float, weight: float
) -> None:
    """The linear programmes name the offsets of each extreme; the batten is then solved there, slack lines
    and all.
    """
    places = np.cumsum([0.3, *spans])
    batten = Batten(float(places[-1]) + 0.3, EI, 40.0)
    lines = tuple(Line(float(at), 6e4) for at in places)
    must_pull_as_the_programme_says(batten, lines, [PointLoad(float(places[1]), weight)], tolerance)


def test_the_worst_trim_of_twelve_lines_comes_to_an_end() -> None:
    """Shift and tilt move no tension, so two of the unknowns cost nothing, and exchanges by size alone ran in
    a circle on this bare pipe.
    """
    lines = tuple(
        Line((30 + 75 * i) * INCH, stiffness=395e3 * POUND / ((700 + 40 * i) * INCH)) for i in range(12)
    )
    batten = Batten(900 * INCH, PIPE_EI, 2.717 * POUND / FOOT)
    must_pull_as_the_programme_says(batten, lines, [], INCH / 2)


def must_pull_as_the_programme_says(
    batten: Batten, lines: tuple[Line, ...], loads: list[Load], tolerance: float
) -> None:
    level = out_of_level(batten, lines, loads, np.zeros(len(lines)))
    held = level.held
    side = held.with_offsets(held.own_effect + held.effects(loads).sum(axis=0), level.offsets)
    steps = np.zeros((len(lines), len(side)))
    steps[:, : len(lines)] = np.eye(len(lines)) * tolerance / held.level_scale
    found = slack_extremes.extremes(held, slack_extremes.Box(side, steps))
    assert found is not None
    for line, pattern in enumerate(found.greatest_at):
        there = out_of_level(batten, lines, loads, pattern * tolerance)
        assert there.tensions[line] == pytest.approx(found.greatest[line], rel=1e-6)


@pytest.mark.parametrize("EI", [PIPE_EI, 30 * PIPE_EI], ids=["pipe", "laced"])
def test_the_search_beyond_the_exact_count_of_lines_finds_the_same(
    EI: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    batten = Batten(864 * INCH, EI, 2.717 * POUND / FOOT)
    lines = tuple(Line((12 + 120 * i) * INCH, stiffness=2e4) for i in range(8))
    exact = worst_trim(batten, lines, [], INCH / 2)
    monkeypatch.setattr(slack_extremes, "EXACT_LINES", 4)
    searched = worst_trim(batten, lines, [], INCH / 2)
    assert exact.exact
    assert not searched.exact
    assert searched.greatest.tolist() == pytest.approx(exact.greatest, rel=0.005)


def test_measured_tensions_tell_which_line_is_short() -> None:
    loads: list[Load] = [SpreadLoad.uniform(12 * INCH, 492 * INCH, 700 * POUND)]
    # Offsets that have no straight line in them: their sum and their moment are 0.
    offsets = np.array([-0.2, 0.35, -0.1, 0.0, -0.05]) * INCH
    places = np.array([line.at for line in FIVE])
    offsets -= np.polyval(np.polyfit(places, offsets, 1), places)
    level = out_of_level(PIPE, FIVE, loads, np.zeros(5))
    measured = out_of_level(PIPE, FIVE, loads, offsets).tensions
    found = offsets_from_tensions(level, measured.tolist())
    assert not isinstance(found, Refused)
    assert found.tolist() == pytest.approx(offsets.tolist(), abs=1e-9)


@pytest.mark.parametrize(
    ("lines", "measured"),
    [
        pytest.param((Line(1.0), Line(5.0)), [100.0, 100.0], id="two lines share by statics"),
        pytest.param((Line(1.0), Line(3.0), Line(5.0)), [120.0, 0.0, 120.0], id="a slack line"),
    ],
)
def test_tensions_that_cannot_tell_a_short_line_are_refused(
    lines: tuple[Line, ...], measured: list[float]
) -> None:
    level = out_of_level(Batten(6.0, 9000.0, 40.0), lines, [], np.zeros(len(lines)))
    assert isinstance(offsets_from_tensions(level, measured), Refused)


@given(st.integers(1, 9), st.integers(0, 9), st.integers(0, 2**32 - 1), st.booleans())
@settings(deadline=None, max_examples=200)
def test_small_programmes_agree_with_a_general_purpose_solver(
    unknowns: int, conditions: int, seed: int, whole_numbers: bool
) -> None:
    """SciPy's HiGHS; whole numbers make programmes whose best corners coincide."""
    rng = np.random.default_rng(seed)
    gradient, matrix = rng.normal(size=unknowns), rng.normal(size=(conditions, unknowns))
    margins = 1.5 * rng.normal(size=conditions)
    if whole_numbers:
        gradient, matrix, margins = np.round(gradient), np.round(matrix), np.round(margins)
    found = greatest_in_box(gradient, matrix, margins)
    expected = linprog(-gradient, A_ub=-matrix, b_ub=margins, bounds=[(-1, 1)] * unknowns)
    assert (found is None) == (expected.status == 2)
    if found is not None:
        assert expected.fun is not None
        assert found[0] == pytest.approx(-expected.fun, abs=1e-8)
        assert (matrix @ found[1] + margins >= -1e-9).all()
