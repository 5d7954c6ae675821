"""Bridles of three and four legs asked from a plot; figures by vector sums and lever arms, done by hand.

The points stand 10 ft apart across and 8 ft up and down stage at 60 ft. A trunk of 500 lb hangs at the apex,
and every pull is told for those 500 lb, without the allowance that a stated weight gets.
"""

from math import acos, degrees, hypot, sqrt

import numpy as np
import pytest
from click.testing import CliRunner
from tests.show.laid_shows import DEMO, FOOT, HOUSE, ON, Laid, one_set

from plumbtrue.cli.main import main
from plumbtrue.facts.working_text import working_text
from plumbtrue.quantities.values import UNKNOWN

TRUNK = '    - {key: "1", on: B, weight: 500 lb, loads: [{at: CL, weight: 500 lb}]}\n'
POINTS = {
    "A": (-5.0, 10.0, 60.0),
    "C": (5.0, 10.0, 60.0),
    "D": (-5.0, 18.0, 60.0),
    "E": (5.0, 18.0, 60.0),
}


def feet(figure: float) -> str:
    return f"{figure:g} ft"


def across(figure: float) -> str:
    return f"{'SL' if figure > 0 else 'SR'} {abs(figure):g} ft" if figure else "CL"


def bridled(names: str, *, apex: tuple[float, float, float] | None = None, lengths: str = "") -> Laid:
    """A plot with a trunk on a bridle to the points named, its apex or the lengths of its legs written."""
    points = "".join(
        f"    - {{key: {name}, across: {across(x)}, from_plaster_line: {feet(y)}, height: {feet(z)}}}\n"
        for name, (x, y, z) in POINTS.items()
    )
    long = iter(lengths.split())
    legs = ", ".join(f"{{point: {name}{f', length: {next(long)} ft' if lengths else ''}}}" for name in names)
    at = ""
    if apex is not None:
        x, y, z = apex
        at = f"apex_across: {across(x)}, apex_from_plaster_line: {feet(y)}, apex_height: {feet(z)}, "
    return one_set(TRUNK, rest=f"  points:\n{points}  bridles:\n    - {{key: B, {at}legs: [{legs}]}}\n")


def leg(number: int) -> str:
    return "plot / bridle B / bridle-leg" + ("" if number == 1 else f".{number}")


def pulls(show: Laid, legs: int, name: str = "tension") -> list[float]:
    """The greatest of each leg for 500 lb at the apex [lb]."""
    return [for_500(show, leg(number), name) for number in range(1, legs + 1)]


def for_500(show: Laid, path: str, name: str) -> float:
    return 500 * show.figure(path, name).high / show.figure("plot / bridle B", "load").high


def test_three_legs_share_by_the_lever() -> None:
    """Apex at CL, 12 ft upstage, 50 ft up: a quarter of the way from A and C to D. D takes a quarter of the load
    times nothing else: moments about the line A to C give V = 500 x 2/8 = 125 lb at D; across, A and D on one
    side at 5 ft against C at 5 ft: V = 250 lb at C, and 125 lb are left for A.
    """
    show = bridled("ACD", apex=(0.0, 12.0, 50.0))
    assert pulls(show, 3, "upright") == pytest.approx([125, 250, 125], rel=1e-9)
    near, far = sqrt(25 + 4 + 100) / 10, sqrt(25 + 36 + 100) / 10
    assert pulls(show, 3) == pytest.approx([125 * near, 250 * near, 125 * far], rel=1e-9)
    assert pulls(show, 3, "sideways") == pytest.approx(
        [125 * hypot(5, 2) / 10, 250 * hypot(5, 2) / 10, 125 * hypot(5, 6) / 10], rel=1e-9
    )
    assert for_500(show, "plot / bridle B", "horizontal") == pytest.approx(25 * hypot(5, 2), rel=1e-9)
    between_c_and_d = acos((-25 - 12 + 100) / (sqrt(129) * sqrt(161)))
    assert degrees(show.figure("plot / bridle B", "included_angle").high) == pytest.approx(
        degrees(between_c_and_d)
    )
    assert for_500(show, "plot / point D", "force_down") == pytest.approx(125, rel=1e-9)
    assert for_500(show, "plot / point D", "force_sideways") == pytest.approx(12.5 * hypot(5, 6), rel=1e-9)


def test_the_lengths_of_three_legs_lead_back_to_their_apex() -> None:
    apex = (1.0, 12.5, 51.0)
    lengths = [hypot(*(p - a for p, a in zip(POINTS[name], apex, strict=True))) for name in "ACD"]
    told = bridled("ACD", apex=apex)
    found = bridled("ACD", lengths=" ".join(f"{length:.12f}" for length in lengths))
    assert pulls(found, 3) == pytest.approx(pulls(told, 3), rel=1e-9)
    assert found.figure("plot / bridle B", "apex_from_lengths", FOOT).low == pytest.approx(51.0)
    both = bridled("ACD", apex=(1.0, 12.5, 50.5), lengths=" ".join(f"{length:.12f}" for length in lengths))
    assert both.figure("plot / bridle B", "apex_off", FOOT).high == pytest.approx(0.5)


def test_a_leg_too_long_to_pull_hangs_slack() -> None:
    """Legs of 8 ft to A and C alone put the apex in the middle below them; D is 8 ft off in plan and 6.24 ft up,
    10.1 ft away, and its leg is 12 ft long.
    """
    show = bridled("ACD", lengths="8 8 12")
    rise = sqrt(64 - 25)
    assert pulls(show, 3) == pytest.approx([250 * 8 / rise, 250 * 8 / rise, 0], abs=1e-6)
    assert "leg 3" in working_text(show.answer(leg(1), "tension"))


def test_of_four_legs_the_worst_three_are_told() -> None:
    """Apex under the middle: any leg may hang slack, and then two across the diagonal carry everything, 250 lb up
    each: twice the even share.
    """
    show = bridled("ACDE", apex=(0.0, 14.0, 52.0))
    long = sqrt(25 + 16 + 64)
    assert pulls(show, 4) == pytest.approx([250 * long / 8] * 4, rel=1e-9)
    assert [show.figure(leg(n), "tension").low for n in (1, 2, 3, 4)] == pytest.approx([0] * 4, abs=1e-6)
    assert "any three of them may carry" in working_text(show.answer(leg(1), "tension"))


def test_an_apex_that_three_legs_cannot_hold_is_refused() -> None:
    """Beyond the line from C to D a rope would have to push."""
    answer = bridled("ACD", apex=(4.0, 17.0, 50.0)).answer(leg(1), "tension")
    assert answer.value is UNKNOWN
    assert answer.refusal is not None
    assert "outside the points in plan" in answer.refusal


def test_three_legs_without_an_apex_ask_for_it() -> None:
    answer = bridled("ACD").answer(leg(1), "tension")
    assert answer.value is UNKNOWN
    assert {one.fact for one in answer.missing} >= {"apex_across", "apex_from_plaster_line", "apex_height"}


def test_the_working_of_three_legs_adds_up_by_hand() -> None:
    """With the lengths that the working prints: pulls over lengths times x, y and h sum to nothing, nothing and W."""
    show = bridled("ACD", apex=(1.0, 12.0, 50.0))
    text = working_text(show.answer(leg(1), "tension"))
    assert "formula: T1 = W L1 a1 / (a1 h1 + a2 h2 + a3 h3)" in text
    assert "x -6'-0\", y -2'-0\", h 10'-0\"" in text
    x, y, h = np.array([[-6, 4, -6], [-2, -2, 6], [10, 10, 10]], dtype=float)
    a = np.array([x[1] * y[2] - x[2] * y[1], x[2] * y[0] - x[0] * y[2], x[0] * y[1] - x[1] * y[0]])
    by_hand = 500 * np.sqrt(x**2 + y**2 + h**2) * a / (a @ h)
    assert pulls(show, 3) == pytest.approx(by_hand.tolist(), rel=1e-9)


def test_two_legs_by_their_lengths_alone() -> None:
    """Legs of 8 ft to points 10 ft apart: the apex hangs sqrt(64 - 25) ft below, and each leg takes half."""
    show = bridled("AC", lengths="8 8")
    assert pulls(show, 2) == pytest.approx([250 * 8 / sqrt(39)] * 2, rel=1e-9)


def test_two_legs_that_stand_apart_up_and_down_stage_need_the_apex_in_plan() -> None:
    show = bridled("AE", apex=(0.0, 14.0, 52.0))
    assert pulls(show, 2) == pytest.approx([250 * sqrt(25 + 16 + 64) / 8] * 2, rel=1e-9)


def test_explain_works_out_a_leg_of_a_show() -> None:
    """The demo's first bridle, laid over its house by `--plot`."""
    asked = "plot / bridle B1 / bridle-leg : tension"
    plot = str(DEMO / "tour-a.yaml")
    result = CliRunner().invoke(
        main, ["explain", asked, "--house", str(HOUSE), "--plot", plot, "--on", str(ON)]
    )
    assert result.exit_code == 0
    assert "D = d1 h2 + d2 h1" in result.stdout
    assert "tour-a.yaml:" in result.stdout
