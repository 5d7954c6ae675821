"""Curtains drawn along a batten: every step solved on its own must lie inside the envelope, and its ends must
be reached.
"""

import numpy as np
import pytest

from plumbtrue.mechanics.batten import Batten, Line, Load, PointLoad
from plumbtrue.mechanics.curtain_travel import Gathering, Traveller, closed, stacked, travel_envelope
from plumbtrue.mechanics.held import hold
from plumbtrue.mechanics.reactions import Reactions, solve
from plumbtrue.mechanics.refusal import Refused

PIPE = Batten(12.0, 25800.0, 40.0)
LINES = [Line(at, stiffness=5e4) for at in (0.3, 3.1, 6.0, 8.9, 11.7)]
HALF = Traveller(weight=1300.0, width=5.8, stack_length=0.7, off_stage_end=0.1)


def tensions(loads: list[Load]) -> list[float]:
    answer = solve(PIPE, LINES, loads)
    assert isinstance(answer, Reactions)
    return [float(tension) for tension in answer.tensions]


@pytest.mark.parametrize("gathering", ["at the leading edge", "at the off-stage end"])
@pytest.mark.parametrize("leading_edge", [0.7, 1.0, 3.3, 5.8])
def test_the_curtain_weighs_the_same_wherever_it_is_drawn(gathering: Gathering, leading_edge: float) -> None:
    parts = HALF.loads(leading_edge, gathering)
    assert sum(part.weight for part in parts) == pytest.approx(1300.0)


def test_gathering_at_the_leading_edge_leaves_cloth_behind_the_stack() -> None:
    """By hand: W/B = 224.14 N/m, W/l = 1857.14 N/m; with the edge at 3 m the stack is (1300 - 672.41) / 1633
    = 0.3843 m.
    """
    cloth, stack = HALF.loads(3.0, "at the leading edge")
    assert stack.weight / 1857.142857 == pytest.approx(0.3843, abs=5e-5)
    assert cloth.weight == pytest.approx(1300.0 - stack.weight)
    assert stack.moment_about_zero / stack.weight == pytest.approx(0.1 + 3.0 - 0.3843 / 2, abs=5e-5)


@pytest.mark.parametrize("gathering", ["at the leading edge", "at the off-stage end"])
def test_no_step_on_the_way_pulls_more_or_less_than_the_envelope(gathering: Gathering) -> None:
    border: list[Load] = [PointLoad(6.5, 300.0)]
    found = travel_envelope(hold(PIPE, LINES), HALF, 0.05, [gathering], loads=border)
    assert not isinstance(found, Refused)
    edges = np.append(np.arange(0.7, 5.8, 0.05), 5.8)
    by_step = np.array([tensions([*border, *HALF.loads(float(edge), gathering)]) for edge in edges])
    assert found.greatest.tolist() == pytest.approx(by_step.max(axis=0), rel=1e-9)
    assert found.least.tolist() == pytest.approx(by_step.min(axis=0), rel=1e-9, abs=1e-9)
    assert found.greatest_at.tolist() == pytest.approx(edges[by_step.argmax(axis=0)])


def test_unknown_gathering_takes_the_worse_of_both() -> None:
    held = hold(PIPE, LINES)
    both = travel_envelope(held, HALF, 0.05, ["at the leading edge", "at the off-stage end"])
    front = travel_envelope(held, HALF, 0.05, ["at the leading edge"])
    rear = travel_envelope(held, HALF, 0.05, ["at the off-stage end"])
    assert not isinstance(both, Refused)
    assert not isinstance(front, Refused)
    assert not isinstance(rear, Refused)
    assert both.greatest.tolist() == np.maximum(front.greatest, rear.greatest).tolist()


def test_the_other_half_of_a_curtain_travels_as_its_mirror_image() -> None:
    lines = [Line(at, stiffness=5e4) for at in (0.3, 3.15, 6.0, 8.85, 11.7)]
    other = Traveller(1300.0, 5.8, 0.7, off_stage_end=12.0 - 0.1, towards=-1)
    held = hold(PIPE, lines)
    left = travel_envelope(held, HALF, 0.1, ["at the leading edge"])
    right = travel_envelope(held, other, 0.1, ["at the leading edge"])
    assert not isinstance(left, Refused)
    assert not isinstance(right, Refused)
    assert right.greatest.tolist() == pytest.approx(left.greatest[::-1], rel=1e-9)


def test_stacked_at_both_ends_the_end_lines_carry_far_more_than_closed() -> None:
    open_, drawn = tensions([*stacked(2600.0, 0.0, 12.0, 0.8)]), tensions([*closed(2600.0, 0.0, 12.0)])
    assert sum(open_) == pytest.approx(sum(drawn))
    assert open_[0] > 3 * drawn[0]


def test_a_curtain_that_tips_the_batten_on_its_way_is_refused() -> None:
    held = hold(Batten(6.0, 25800.0, 10.0), [Line(1.5), Line(4.5)])
    heavy = Traveller(3000.0, 5.0, 0.5, off_stage_end=0.0)
    found = travel_envelope(held, heavy, 0.1, ["at the off-stage end"])
    assert isinstance(found, Refused)
    assert found.standing == "unstable"


@pytest.mark.parametrize(("width", "stack"), [(1.0, 1.0), (1.0, 2.0), (0.0, 0.5)])
def test_a_stack_no_shorter_than_its_curtain_is_the_callers_mistake(width: float, stack: float) -> None:
    with pytest.raises(ValueError):
        Traveller(100.0, width, stack, off_stage_end=0.0)


def test_stacks_longer_than_the_track_are_the_callers_mistake() -> None:
    with pytest.raises(ValueError, match="do not fit"):
        stacked(100.0, 0.0, 1.0, 0.6)
