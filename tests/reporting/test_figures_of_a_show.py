"""Bridles and load-ins as they are drawn: what a ruler and a protractor find on the drawing is what was written."""

from itertools import pairwise
from math import atan2, degrees, hypot

import pytest

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.reporting.papers import Order, PaperStep
from plumbtrue.reporting.report import BridleShown, LegShown, LoadIn
from plumbtrue.reporting.show_figures import DrawnLeg, balance, bridle

FOOT = 0.3048


def leg(mark: str, across: float | None, rise: float | None, upstage: float | None = 0.0) -> LegShown:
    """A leg with its sides in feet."""

    def metres(feet: float | None) -> float | None:
        return None if feet is None else feet * FOOT

    return LegShown(
        mark, f"P{mark}", metres(across), metres(upstage), metres(rise), "250 lb", "48 deg", "", ""
    )


def bridle_of(*legs: LegShown) -> BridleShown:
    return BridleShown("Bridle B1", "327 lb", "168 lb", "92.2 deg", "56'-0\"", legs)


def steepness(apex: tuple[float, float], drawn: DrawnLeg) -> float:
    """Angle of a drawn leg above the horizontal [deg]; down the page is larger y."""
    return degrees(atan2(apex[1] - drawn.y, abs(drawn.x - apex[0])))


def test_legs_are_drawn_at_the_angles_that_run_and_rise_give() -> None:
    """Plane trigonometry: 5 ft over 4.5 ft is 48.0 deg, 5 ft over 6 ft is 39.8 deg."""
    drawn = bridle(bridle_of(leg("1", -4.5, 5.0), leg("2", 6.0, 5.0)))
    assert drawn is not None
    left, right = drawn.legs
    assert left.x < drawn.apex[0] < right.x
    assert steepness(drawn.apex, left) == pytest.approx(48.01, abs=0.05)
    assert steepness(drawn.apex, right) == pytest.approx(39.81, abs=0.05)


def test_three_legs_are_seen_from_above_too_in_one_scale() -> None:
    """Upstage is up the page, stage left to the right, as on a ground plan."""
    drawn = bridle(bridle_of(leg("1", -3.0, 5.0, 0.0), leg("2", 3.0, 5.0, 0.0), leg("3", 0.0, 5.0, 4.0)))
    assert drawn is not None
    by_mark = {one.mark: one for one in drawn.plan}
    centre = drawn.plan_apex
    far = hypot(by_mark["3"].x - centre[0], by_mark["3"].y - centre[1])
    near = hypot(by_mark["2"].x - centre[0], by_mark["2"].y - centre[1])
    assert far / near == pytest.approx(4 / 3, abs=0.01)
    assert by_mark["3"].y < centre[1]
    assert by_mark["1"].x < centre[0] < by_mark["2"].x


def test_marks_of_points_behind_one_another_stand_apart() -> None:
    drawn = bridle(bridle_of(leg("1", 0.0, 5.0, -3.0), leg("2", 0.0, 5.0, 3.0), leg("3", 0.1, 5.0, 0.0)))
    assert drawn is not None
    places = sorted(one.mark_x for one in drawn.legs)
    assert min(after - before for before, after in pairwise(places)) >= 15.9


@pytest.mark.parametrize(
    "legs",
    [
        pytest.param((leg("1", -4.5, None), leg("2", 6.0, 5.0)), id="nobody wrote a rise"),
        pytest.param((leg("1", None, 5.0), leg("2", 6.0, 5.0)), id="nobody wrote a run"),
        pytest.param((leg("1", -4.5, 0.0), leg("2", 6.0, 5.0)), id="a leg that does not rise"),
        pytest.param(
            (leg("1", -1.0, 5.0), leg("2", 1.0, 5.0), leg("3", 0.0, 5.0, None)),
            id="a place upstage is missing",
        ),
    ],
)
def test_what_nobody_wrote_is_not_drawn(legs: tuple[LegShown, ...]) -> None:
    assert bridle(bridle_of(*legs)) is None


def test_a_bridle_says_in_words_what_it_shows() -> None:
    drawn = bridle(bridle_of(leg("1", -4.5, 5.0), leg("2", 6.0, 5.0)))
    assert drawn is not None
    for words in ("327 lb", "56'-0\"", "92.2 deg", "168 lb", "leg 1 to P1: 250 lb at 48 deg", "leg 2 to P2"):
        assert words in drawn.words


POUND = 4.4482216152605


def step(number: int, pounds: float | None, resting: str = "pipe") -> PaperStep:
    """A step after which the pipe is heavy by so much."""
    out = None if pounds is None else Bounds.exactly(pounds * POUND)
    return PaperStep(number, f"do {number}", f"heavy by {pounds}", "", out, resting)


def load_in(*steps: PaperStep, lock: float | None = 50 * POUND) -> LoadIn:
    order = Order("Load-in", "by common practice", steps, "Never bricks first.")
    return LoadIn("Set 9", "set-9", order, lock, "" if lock is None else "50 lb")


def test_bars_are_as_long_as_the_set_is_out_of_balance() -> None:
    drawn = balance(load_in(step(1, -30.0), step(2, 420.0), step(3, 20.0)))
    assert drawn is not None
    arbor, heavy, small = (one.bar for one in drawn.steps)
    assert heavy.width / small.width == pytest.approx(21.0, rel=0.01)
    assert arbor.x + arbor.width == pytest.approx(drawn.middle, abs=0.2)
    assert heavy.x == pytest.approx(drawn.middle, abs=0.2)
    assert drawn.lock is not None
    assert drawn.lock / small.width == pytest.approx(50 / 20, rel=0.01)


@pytest.mark.parametrize(
    ("pounds", "resting", "expected"),
    [
        pytest.param(50.0, "pipe", (False, False), id="exactly what the lock is trusted with"),
        pytest.param(50.1, "pipe", (False, True), id="more, and the pipe is in"),
        pytest.param(50.1, "", (True, False), id="more, on the way"),
        pytest.param(-50.1, "pipe", (True, False), id="the arbor heavy with all its travel below it"),
        pytest.param(-50.1, "arbor", (False, True), id="the arbor heavy and down"),
    ],
)
def test_beyond_the_lock_only_a_stop_holds(pounds: float, resting: str, expected: tuple[bool, bool]) -> None:
    """Common practice: a rope lock holds what it is trusted with; a heavier side must rest on its stop."""
    drawn = balance(load_in(step(1, pounds, resting)))
    assert drawn is not None
    assert (drawn.steps[0].bar.over, drawn.steps[0].bar.resting) == expected


def test_a_step_that_cannot_be_told_gets_no_bar_and_is_told() -> None:
    drawn = balance(load_in(step(1, 10.0), step(2, None)))
    assert drawn is not None
    assert not drawn.steps[1].bar.known
    assert "do 2: heavy by None" in drawn.words
    assert balance(load_in(step(1, None))) is None


def test_without_a_limit_nothing_counts_as_beyond_it() -> None:
    drawn = balance(load_in(step(1, 900.0, ""), lock=None))
    assert drawn is not None
    assert drawn.lock is None
    assert not drawn.steps[0].bar.over
