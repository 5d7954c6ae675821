"""Tensions of lift lines against figures that are printed or can be worked out by hand."""

from collections.abc import Sequence

import numpy as np
import pytest

from plumbtrue.mechanics.batten import Batten, Line, Load, PointLoad, Splice, SpreadLoad
from plumbtrue.mechanics.held import hold
from plumbtrue.mechanics.influence import influence_lines
from plumbtrue.mechanics.load_bounds import BoundedLoad
from plumbtrue.mechanics.lost_support import lost_support, one_out_of_step
from plumbtrue.mechanics.reactions import Levelled, Reactions, solve, tension_hull
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.splice_range import splice_range
from plumbtrue.mechanics.tributary import compare

INCH, FOOT, POUND = 0.0254, 0.3048, 4.4482216152605
PIPE_EI = 29e6 * 0.3099 * POUND * INCH**2
"""1-1/2 in schedule 40 pipe."""


def tensions(
    batten: Batten,
    lines: Sequence[Line],
    loads: Sequence[Load] = (),
    *,
    tension_only: bool = False,
    levelled: Levelled = "slack",
) -> list[float]:
    answer = solve(batten, lines, loads, tension_only=tension_only, levelled=levelled)
    assert isinstance(answer, Reactions)
    return [float(tension) for tension in answer.tensions]


def refusal(batten: Batten, lines: Sequence[Line], loads: Sequence[Load] = ()) -> Refused:
    answer = solve(batten, lines, loads)
    assert isinstance(answer, Refused)
    return answer


@pytest.mark.parametrize(
    ("spans", "shares"),
    [
        pytest.param(2, [3 / 8, 10 / 8, 3 / 8], id="two spans"),
        pytest.param(3, [4 / 10, 11 / 10, 11 / 10, 4 / 10], id="three spans"),
        pytest.param(4, [11 / 28, 32 / 28, 26 / 28, 32 / 28, 11 / 28], id="four spans"),
        pytest.param(5, [15 / 38, 43 / 38, 37 / 38, 37 / 38, 43 / 38, 15 / 38], id="five spans"),
        pytest.param(
            6,
            [41 / 104, 118 / 104, 100 / 104, 106 / 104, 100 / 104, 118 / 104, 41 / 104],
            id="six spans",
        ),
    ],
)
def test_equal_spans_share_a_uniform_load_as_the_handbook_prints(spans: int, shares: list[float]) -> None:
    """Civil Engineering Formulas, table 2.1, uniformly loaded continuous beams over equal spans."""
    pipe = Batten(length=3.0 * spans, EI=9000.0, weight_per_length=100.0)
    found = tensions(pipe, [Line(3.0 * i) for i in range(spans + 1)])
    assert found == pytest.approx([300.0 * share for share in shares], rel=1e-12)


def test_a_load_at_mid_span_of_two_lifts_the_far_line() -> None:
    """AISC Steel Construction Manual, beam diagrams, two equal spans, one load at mid span (from memory):
    13/32, 22/32, -3/32.
    """
    pipe = Batten(length=24 * FOOT, EI=PIPE_EI)
    found = tensions(pipe, [Line(0.0), Line(12 * FOOT), Line(24 * FOOT)], [PointLoad(6 * FOOT, 100.0)])
    assert found == pytest.approx([40.625, 68.75, -9.375], rel=1e-12)


def test_a_load_on_an_overhang_pulls_its_line_with_more_than_its_weight() -> None:
    """AISC Steel Construction Manual, an overhang (from memory): -P a / L and P (L + a) / L."""
    pipe = Batten(length=13 * FOOT, EI=PIPE_EI)
    found = tensions(pipe, [Line(0.0), Line(10 * FOOT)], [PointLoad(13 * FOOT, 50.0)])
    assert found == pytest.approx([-15.0, 65.0], rel=1e-12)


def test_five_lines_with_overhangs_pull_by_the_three_moment_equation() -> None:
    """Three-moment equation by hand: 42 ft of pipe at 2.72 lb/ft, five lines 10 ft apart, 1 ft beyond each
    end.
    """
    pipe = Batten(length=42 * FOOT, EI=PIPE_EI, weight_per_length=2.72 * POUND / FOOT)
    found = tensions(pipe, [Line((1 + 10 * i) * FOOT) for i in range(5)])
    assert [pull / POUND for pull in found] == pytest.approx([13.58, 30.85, 25.37, 30.85, 13.58], abs=0.006)


def test_a_line_drawn_up_under_a_three_line_pipe_takes_the_closed_form() -> None:
    """Settlement of the middle of three supports: 6 EI d / L^3 there, half of it off each end (three-moment
    equation).
    """
    pipe = Batten(length=6.0, EI=9000.0)
    found = tensions(pipe, [Line(0.0), Line(3.0, offset=0.01), Line(6.0)])
    assert found == pytest.approx([-10.0, 20.0, -10.0], rel=1e-9)


def test_lines_keep_the_order_they_came_in() -> None:
    pipe = Batten(length=6.0, EI=9000.0)
    load = [PointLoad(1.0, 90.0)]
    forwards = tensions(pipe, [Line(0.0), Line(3.0), Line(6.0)], load)
    assert tensions(pipe, [Line(6.0), Line(0.0), Line(3.0)], load) == pytest.approx(
        [forwards[2], forwards[0], forwards[1]], rel=1e-12
    )


def test_a_load_beyond_the_end_line_tips_a_two_line_pipe() -> None:
    answer = refusal(Batten(length=4.0, EI=9000.0), [Line(1.0), Line(3.0)], [PointLoad(0.0, 100.0)])
    assert answer.standing == "unstable"


def test_two_way_supports_give_figures_for_a_batten_that_in_truth_tips() -> None:
    """Moments about line 1: 150 lb x 60 in outboard, against the pipe's 67.925 lb x 90 in."""
    pipe = Batten(length=300 * INCH, EI=PIPE_EI, weight_per_length=2.717 * POUND / FOOT)
    lines = [Line(60 * INCH), Line(150 * INCH), Line(240 * INCH)]
    load = [PointLoad(0.0, 150 * POUND)]
    assert min(tensions(pipe, lines, load)) < 0
    assert refusal(pipe, lines, load).standing == "unstable"


def test_just_less_than_the_tipping_load_hangs_on_by_two_lines() -> None:
    """The same moments: the pipe holds down 67.925 x 90 / 60 = 101.9 lb at the tip, and no more."""
    pipe = Batten(length=300 * INCH, EI=PIPE_EI, weight_per_length=2.717 * POUND / FOOT)
    lines = [Line(60 * INCH), Line(150 * INCH), Line(240 * INCH)]
    found = tensions(pipe, lines, [PointLoad(0.0, 101 * POUND)], tension_only=True)
    assert found[1] == 0.0
    assert found[2] / POUND == pytest.approx((67.925 * 90 - 101 * 60) / 180, rel=1e-9)


@pytest.mark.parametrize("kg_apart", [0.0, 0.1], ids=["plumb", "out of plumb"])
def test_a_lone_line_carries_only_what_hangs_plumb_under_it(kg_apart: float) -> None:
    pipe = Batten(length=2.4, EI=9000.0, weight_per_length=40.0)
    answer = solve(pipe, [Line(1.2)], [PointLoad(0.6, 130.0 + kg_apart), PointLoad(1.8, 130.0)])
    carried = None if isinstance(answer, Refused) else answer.tensions.tolist()
    assert carried == ([pytest.approx(356.0)] if kg_apart == 0 else None)


def test_three_hinges_in_one_span_are_a_mechanism_and_two_are_not() -> None:
    lines = [Line(0.0), Line(3.0), Line(6.0), Line(9.0)]
    places = [3.6, 4.5, 5.4]
    pipe = Batten(9.0, 9000.0, 40.0, splices=tuple(Splice(at) for at in places))
    assert refusal(pipe, lines).standing == "unstable"
    pipe = Batten(9.0, 9000.0, 40.0, splices=(Splice(places[0]), Splice(places[2])))
    # A drop-in piece of 1.8 m hangs between two cantilevers of 0.6 m: M = -(36 x 0.6 + 40 x 0.6^2 / 2) over
    # line 2.
    over_line_two = -(36.0 * 0.6 + 40.0 * 0.6**2 / 2)
    assert tensions(pipe, lines)[0] == pytest.approx(60.0 + over_line_two / 3.0, rel=1e-9)


def test_levelled_under_load_the_lines_pull_as_if_they_did_not_stretch() -> None:
    pipe = Batten(length=12.0, EI=25800.0, weight_per_length=40.0)
    places = (0.3, 3.1, 6.0, 8.9, 11.7)
    loads: list[Load] = [PointLoad(4.0, 900.0), SpreadLoad.uniform(6.0, 11.0, 700.0)]
    stretching = [Line(at, stiffness=6e4 - 3e3 * at) for at in places]
    rigid = tensions(pipe, [Line(at) for at in places], loads, tension_only=True)
    assert tensions(pipe, stretching, loads, tension_only=True, levelled="loaded") == pytest.approx(
        rigid, rel=1e-9, abs=1e-9
    )


def test_levelled_bare_the_bare_pipe_hangs_level_on_its_rigid_tensions() -> None:
    pipe = Batten(length=12.0, EI=25800.0, weight_per_length=40.0)
    places = (0.3, 3.1, 6.0, 8.9, 11.7)
    answer = solve(pipe, [Line(at, stiffness=5e4 + 2e3 * at) for at in places], [])
    assert isinstance(answer, Reactions)
    assert answer.levels.tolist() == pytest.approx([0.0] * 5, abs=1e-12)
    assert answer.tensions.tolist() == pytest.approx(tensions(pipe, [Line(at) for at in places]), rel=1e-9)


def test_a_line_that_the_bare_pipe_leaves_slack_is_taken_up_until_it_just_meets_the_pipe() -> None:
    """A long overhang lifts the pipe at the next line; the crew takes that line up, and it still pulls
    nothing.
    """
    pipe = Batten(length=8.0, EI=9000.0, weight_per_length=40.0)
    lines = [Line(3.0, stiffness=5e4), Line(3.8, stiffness=5e4), Line(8.0, stiffness=5e4)]
    answer = solve(pipe, lines, [])
    assert isinstance(answer, Reactions)
    assert answer.tensions[1] == pytest.approx(0.0, abs=1e-6)
    assert answer.levels[1] == pytest.approx(answer.offsets[1], abs=1e-9)
    assert answer.levels[1] > 0.001


def test_nobody_knows_how_it_was_levelled_so_both_states_bound_the_tension() -> None:
    pipe = Batten(length=12.0, EI=25800.0, weight_per_length=40.0)
    lines = [Line(at, stiffness=5e4) for at in (0.3, 4.0, 8.0, 11.7)]
    loads = [PointLoad(4.0, 900.0)]
    hull = tension_hull(pipe, lines, loads)
    assert not isinstance(hull, Refused)
    bare = tensions(pipe, lines, loads, tension_only=True, levelled="bare")
    loaded = tensions(pipe, lines, loads, tension_only=True, levelled="loaded")
    assert hull[0].tolist() == [min(pair) for pair in zip(bare, loaded, strict=True)]
    assert hull[1].tolist() == [max(pair) for pair in zip(bare, loaded, strict=True)]


def test_a_spring_at_a_splice_shares_between_hinge_and_unbroken_pipe() -> None:
    pipe = Batten(length=6.0, EI=9000.0, weight_per_length=40.0)
    lines, loads = [Line(0.0), Line(3.0), Line(6.0)], [PointLoad(1.5, 400.0)]
    found = splice_range(pipe, lines, loads, at=2.2, tension_only=False)
    assert not isinstance(found, Refused)
    sprung = tensions(Batten(6.0, 9000.0, 40.0, splices=(Splice(2.2, 6000.0),)), lines, loads)
    assert (found.least - 1e-9 <= sprung).all()
    assert (sprung <= found.greatest + 1e-9).all()


def test_a_splice_just_over_a_line_frees_the_moment_there() -> None:
    """Two simple spans: the middle line takes q L, the ends q L / 2 (statics); unbroken, the moment there is
    q L^2 / 8.
    """
    pipe = Batten(length=6.0, EI=9000.0, weight_per_length=40.0)
    found = splice_range(pipe, [Line(0.0), Line(3.0), Line(6.0)], [], at=3.0)
    assert not isinstance(found, Refused)
    assert found.hinged.tensions.tolist() == pytest.approx([60.0, 120.0, 60.0])
    assert found.moment == pytest.approx(-40.0 * 9.0 / 8)


def test_losing_an_end_line_loads_the_next_by_the_three_moment_equation() -> None:
    """Line 1 of five lost: an overhang of one span, M = q L^2 / 2 over line 2; two more unknown moments by
    hand.
    """
    truss = Batten(length=12.0, EI=1.7e6, weight_per_length=500.0)
    found = lost_support(truss, [Line(3.0 * i) for i in range(5)], [], tension_only=False)
    assert not isinstance(found, Refused)
    # In q L^2: M2 = -1/2;  M2 + 4 M3 + M4 = -1/2;  M3 + 4 M4 = -1/2;  so M3 = 1/30, M4 = -2/15.
    shares = [0.0, 1 + 1 / 2 + 8 / 15, 1 / 2 - 8 / 15 + 1 / 2 - 1 / 6, 1 + 1 / 6 + 2 / 15, 1 / 2 - 2 / 15]
    assert np.array(found.without[0]).tolist() == pytest.approx(
        [1500.0 * share for share in shares], rel=1e-9
    )


def test_a_batten_on_two_points_does_not_survive_the_loss_of_one() -> None:
    found = lost_support(Batten(6.0, 9000.0, 40.0), [Line(1.0), Line(5.0)], [])
    assert not isinstance(found, Refused)
    assert found.falls_without == (0, 1)
    assert found.worst == (None, None)
    assert found.factors == (None, None)


def test_the_rule_of_thumb_misses_a_quarter_over_the_middle_of_three_lines() -> None:
    """Rule of thumb 1/4, 1/2, 1/4 (common practice) against 3/16, 10/16, 3/16 (handbook)."""
    pipe = Batten(length=6.0, EI=9000.0, weight_per_length=100.0)
    found = compare(pipe, [Line(0.0), Line(3.0), Line(6.0)], [])
    assert not isinstance(found, Refused)
    assert found.ratios == pytest.approx((0.75, 1.25, 0.75))
    assert found.worth_showing(share=0.10, weight=25 * POUND)
    assert not found.worth_showing(share=0.30, weight=25 * POUND)


def test_the_rule_of_thumb_splits_a_sloping_load_at_the_middles() -> None:
    """By hand: 0 to 60 N/m over 6 m, zones to 1.5 m and 4.5 m: areas 11.25, 90 and 78.75 N."""
    pipe = Batten(length=6.0, EI=9000.0)
    found = compare(pipe, [Line(0.0), Line(3.0), Line(6.0)], [SpreadLoad(0.0, 6.0, 0.0, 60.0)])
    assert not isinstance(found, Refused)
    assert found.tributary.tolist() == pytest.approx([11.25, 90.0, 78.75])


def test_influence_lines_give_the_tensions_of_any_place_and_turn_between_lines() -> None:
    pipe = Batten(length=9.0, EI=9000.0)
    held = hold(pipe, [Line(0.5), Line(3.0, 4e4), Line(6.0), Line(8.5, 5e4)])
    found = influence_lines(held)
    assert not isinstance(found, Refused)
    places = np.linspace(0.0, 9.0, 181)
    by_solving = [tensions(pipe, held.lines, [PointLoad(at, 1.0)]) for at in places]
    assert found.at(places).tolist() == pytest.approx(np.array(by_solving), abs=1e-9)
    least, greatest = found.extremes(1.0, 8.0)
    inside = (places >= 1.0) & (places <= 8.0)
    assert (np.array(by_solving)[inside].max(axis=0) <= greatest + 1e-12).all()
    assert (np.array(by_solving)[inside].min(axis=0) >= least - 1e-12).all()
    assert np.array(by_solving)[inside].max(axis=0) == pytest.approx(greatest, abs=1e-3)


@pytest.mark.parametrize(
    ("lines", "loads"),
    [
        pytest.param([], [], id="no lines"),
        pytest.param([Line(0.5 * i) for i in range(13)], [], id="thirteen lines"),
        pytest.param([Line(1.0), Line(7.0)], [], id="a line beyond the end"),
        pytest.param([Line(1.0), Line(1.0), Line(5.0)], [], id="two lines at one place"),
        pytest.param([Line(1.0), Line(5.0)], [PointLoad(-1.0, 10.0)], id="a load beyond the end"),
        pytest.param([Line(1.0), Line(5.0)], [PointLoad(2.0, float("nan"))], id="a weight that is none"),
        pytest.param([Line(1.0), Line(5.0)], [SpreadLoad(3.0, 3.0, 1.0, 1.0)], id="a load without length"),
    ],
)
def test_what_no_batten_can_have_is_the_callers_mistake(lines: list[Line], loads: list[Load]) -> None:
    with pytest.raises(ValueError):
        solve(Batten(length=6.5, EI=9000.0), lines, loads)


def test_a_spring_splice_at_a_lone_end_bends_by_moment_over_stiffness() -> None:
    """Simple span, load at the splice: the kink turns by M / k, and lowers mid span by kink x L / 4."""
    spring = 5000.0
    pipe = Batten(4.0, 9000.0, splices=(Splice(2.0, spring),))
    answer = solve(pipe, [Line(0.0), Line(4.0)], [PointLoad(2.0, 100.0)])
    assert isinstance(answer, Reactions)
    assert answer.kinks.tolist() == pytest.approx([100.0 / spring])
    sag = 100.0 * 4.0**3 / (48 * 9000.0) + (100.0 / spring) * 4.0 / 4
    assert answer.bending().deflection_at(2.0) == pytest.approx(-sag, rel=1e-9)


def test_one_support_out_of_step_takes_the_closed_form_of_two_equal_spans() -> None:
    """w l = 240 N on each of two spans of 3 m: 3/8 and 10/8 of it level. With EI d / l^3 of 1/3 N the middle one that
    is high takes 6 times that more; an end takes 3 times that more when the middle one is low (any textbook).
    """
    truss = Batten(6.0, 9000.0, 80.0)
    found = one_out_of_step(truss, [Line(0.0), Line(3.0), Line(6.0)], [], by=0.001)
    assert not isinstance(found, Refused)
    assert found[1] == pytest.approx([91.0, 302.0, 91.0])


def test_a_support_far_out_of_step_leaves_its_neighbours_slack() -> None:
    """Lifted far at the middle, the truss balances on it: all of its 480 N. Lowered, it hangs on its ends."""
    at_the_end = BoundedLoad(PointLoad(0.0, 1.0), weight=(1.0, 1.0))
    found = one_out_of_step(
        Batten(6.0, 9000.0, 80.0), [Line(0.0), Line(3.0), Line(6.0)], [at_the_end], by=1.0
    )
    assert not isinstance(found, Refused)
    assert found[1] == pytest.approx([241.0, 480.0, 240.5], abs=1.5)
