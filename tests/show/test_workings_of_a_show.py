"""The working of a show's figures, followed by hand: what hangs where, and what every line then does."""

import re

import pytest
from tests.show.laid_shows import POUND, Laid, demo, one_set

from plumbtrue.facts.working_text import working_text
from plumbtrue.quantities.bounds import Bounds

LANTERNS = """\
    - key: "1"
      on: 14
      weight: 300 lb
      loads: [{at: SL 5'-3", weight: 100 lb}, {at: SR 21'-0", weight: 200 lb}]
"""


def lines_told(text: str) -> list[tuple[float, float]]:
    """Pull [lb] and moment [ft-lb] of every line in the state that the working shows."""
    rows = re.findall(r"line \d+ at .*pulls (-?[\d.]+) lb, moment of the pipe there (-?[\d.]+) ft-lb", text)
    return [(float(pull), float(moment)) for pull, moment in rows]


def show() -> Laid:
    return one_set(LANTERNS)


def test_pulls_of_the_lines_follow_from_the_moments_by_statics() -> None:
    """The state that pulls line 4 most, spans of 10'-6": V to the left and to the right of it from the moments, the
    load between lines 3 and 4 halfway, and the pipe's own weight.
    """
    laid = show()
    text = working_text(laid.answer("14 / line 4", "reaction_hung"))
    pipe = float(re.search(r"for each length +([\d.]+) lb/ft", text)[1])  # type: ignore[index]
    heavy = float(re.search(r"load +([\d.]+) lb at 29'-3\"", text)[1])  # type: ignore[index]
    told = lines_told(text)
    assert len(told) == 5
    span = 10.5
    moments = [moment for _, moment in told]
    left = pipe * span / 2 + heavy / 2 + (moments[2] - moments[3]) / span
    right = pipe * span / 2 + (moments[4] - moments[3]) / span
    assert told[3][0] == pytest.approx(left + right, abs=1.0)


def test_the_moments_keep_to_the_three_moment_equation() -> None:
    """At line 4: M3 l + 4 M4 l + M5 l = -6 A a / l of both spans: P a (l^2 - a^2) / l and w l^3 / 4."""
    text = working_text(show().answer("14 / line 4", "reaction_hung"))
    pipe = float(re.search(r"for each length +([\d.]+) lb/ft", text)[1])  # type: ignore[index]
    heavy = float(re.search(r"load +([\d.]+) lb at 29'-3\"", text)[1])  # type: ignore[index]
    _, _, m3, m4, m5 = (moment for _, moment in lines_told(text))
    span, at = 10.5, 5.25
    loads = 2 * pipe * span**3 / 4 + heavy * at * (span**2 - at**2) / span
    assert m3 * span + 4 * m4 * span + m5 * span == pytest.approx(-loads, rel=2e-3)


def test_the_weight_that_is_worse_for_a_line_may_be_the_lighter_one() -> None:
    """200 lb at line 1, SR 21'-0", pull nothing at line 4, and the overhang there is none; the 100 lb count heavy for
    line 4 and light where they lift line 2.
    """
    most = working_text(show().answer("14 / line 4", "reaction_hung"))
    least = working_text(show().answer("14 / line 4", "pull_least_hung"))
    heavy, light = (
        float(re.search(r"load +([\d.]+) lb at 29'-3\"", text)[1])  # type: ignore[index]
        for text in (most, least)
    )
    assert heavy > light


def test_a_pull_out_of_level_adds_up_by_hand() -> None:
    """Level pull and t sum |S| and the lower end, as the working prints them, make the greatest pull."""
    answer = demo("a").answer("5 / line 2", "reaction_out_of_level")
    text = working_text(answer)
    level = float(re.search(r"level, hung +\d+ to (\d+) lb", text)[1])  # type: ignore[index]
    trim = float(re.search(r"t sum \|S\|.* (\d+) lb", text)[1])  # type: ignore[index]
    end = float(re.search(r"and its lower end +(\d+) lb", text)[1])  # type: ignore[index]
    greatest = demo("a").figure("5 / line 2", "reaction_out_of_level", POUND).high
    assert level + trim + end == pytest.approx(greatest, abs=1.5)
    rows = [
        float(row)
        for row in re.findall(r"S: line \d too high by 1 in changes line 2 by +(-?[\d.]+) lb", text)
    ]
    assert sum(rows) == pytest.approx(0, abs=1.0)
    assert sum(abs(row) for row in rows) / 4 == pytest.approx(trim, abs=1.0)


def test_a_support_of_a_truss_shows_what_hangs_where() -> None:
    text = working_text(demo("a").answer("plot / lantern truss / truss support 6'-0\"", "force"))
    assert "unit at 13'-0\"" in text
    assert "level, truss support 18'-0\"" in text


@pytest.mark.parametrize(
    ("made_of", "weight", "told"),
    [
        pytest.param(
            "make_up: [{what: velour, area: 720 ft2, per_area: 21 oz/yd2}]", 105, True, id="as it lies flat"
        ),
        pytest.param("cloth: [{what: velour, per_area: 21 oz/yd2}]", 157.5, False, id="as it hangs"),
    ],
)
def test_what_the_fullness_of_a_curtain_is_added_to(made_of: str, weight: float, told: bool) -> None:
    """40 by 18 ft of 21 oz a square yard are 80 yd2 and 105 lb, with half as much again 157.5 lb, by hand. An area
    that is written is taken as the flat cloth's, and that is said where somebody wrote a fullness beside it.
    """
    laid = one_set(
        f"""\
    - key: "1"
      on: 14
      category: curtain
      height: 18 ft
      fullness: 50 %
      extent: [{{from: SR 20 ft, to: SL 20 ft}}]
      {made_of}
"""
    )
    assert laid.figure("plot / item 1", "weight_from_make_up", POUND).low == pytest.approx(weight)
    text = working_text(laid.answer("plot / item 1", "weight_from_make_up"))
    assert ("its fullness is not added" in text) is told


@pytest.mark.parametrize("weight", ["weight: at most 90 lb", "loads: [{at: CL, weight: at most 90 lb}]"])
def test_a_weight_that_has_a_most_alone_is_nought_at_least(weight: str) -> None:
    """A weight without a lower end took the pulls of the lines beyond all bounds, and the check with them."""
    laid = one_set(f'    - {{key: "1", on: 14, category: framed, weight_basis: estimated, {weight}}}\n')
    total = laid.answer("plot / item 1", "total_weight").value
    assert isinstance(total, Bounds)
    assert (total.low, round(total.high / POUND)) == (0.0, 90)
    pull = laid.answer("14 / line 3", "reaction_hung").value
    bare = laid.answer("14 / line 3", "reaction_bare").value
    assert isinstance(pull, Bounds)
    assert isinstance(bare, Bounds)
    assert bare.high < pull.high < bare.high + 1.5 * 90 * POUND


def test_a_cloth_without_its_width_asks_for_it() -> None:
    """What it is made of was written, and only its weight was asked for."""
    cloth = "cloth: [{what: serge, per_area: 16 oz/yd2}], fullness: 50 %, height: 20'-0\""
    laid = one_set(f'    - {{key: "1", on: 14, {cloth}}}\n')
    assert "extent" in {one.fact for one in laid.answer("plot / item 1", "stated_weight").missing}


def test_a_cloth_by_hand_with_its_fullness() -> None:
    """10 m by 7 m with half as much again at 0.35 kg a square metre: 36.75 kg; its flat area is not counted too."""
    cloth = "cloth: [{what: serge, area: 70 m2, per_area: 0.35 kg/m2}], fullness: 50 %, height: 7 m"
    laid = one_set(f'    - {{key: "1", on: 14, {cloth}, extent: [{{from: SR 5 m, to: SL 5 m}}]}}\n')
    answer = laid.answer("plot / item 1", "stated_weight")
    assert isinstance(answer.value, Bounds)
    assert answer.value.low == pytest.approx(36.75 * 9.80665)
    assert "the area written of a cloth is not used" in working_text(answer)


def test_what_hangs_can_be_added_up_from_the_working() -> None:
    """The fourth electric: every weight with the number of its places comes to 6 x 46 + 10 x 17 + 50 = 496 lb, and
    five in a hundred either way is 471 to 521.
    """
    text = working_text(demo("a").answer("24", "live_load"))
    each = re.findall(r"at each of (\d+) places +(\d+) lb", text)
    cable = float(re.search(r"cable along the pipe +(\d+) lb", text)[1])  # type: ignore[index]
    total = sum(int(places) * int(pounds) for places, pounds in each) + cable
    assert total == 496
    off = float(re.search(r"allowance for how its weight is known +([\d.]+)", text)[1])  # type: ignore[index]
    told = demo("a").figure("24", "live_load", POUND)
    assert (told.low, told.high) == pytest.approx((total * (1 - off), total * (1 + off)))
