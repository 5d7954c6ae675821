"""The invented tour, revision A, against a table that was worked out beside the program: reactions by a general
continuous-beam library and direct stiffness, balance and stacks by hand. Revision B in its changes.

The figures of the table are at the weights as stated. A pull is a straight sum of the weights here, so it is
the middle of its bounds.
"""

from itertools import pairwise

import numpy as np
import pytest
from tests.show.laid_shows import FOOT, INCH, KSI, POUND, demo, demo_house

from plumbtrue.quantities.values import NONE, Name

TABLE = {
    # item: set, live, total, pulls, bending, sag, counterweight, bricks, left over, stack, arbor %
    "02": ("2", 75, 215.6, (32, 53, 46, 53, 32), 1.8, 0.05, 156, (5, 1), -2, 11, 17),
    "03": ("3", 310, 450.6, (68, 112, 92, 112, 68), 5.5, 0.17, 391, (14, 0), 1, 28, 43),
    "04": ("4", 64, 204.6, (47, 43, 25, 43, 47), 1.8, 0.08, 145, (5, 0), -5, 10, 16),
    "05": ("5", 734, 918.2, (83, 263, 225, 263, 83), 7.2, 0.20, 838, (30, 0), 2, 60, 73),
    "06": ("7", 118, 258.6, (37, 65, 56, 65, 37), 2.2, 0.07, 199, (7, 0), -3, 14, 22),
    "07": ("9", 420, 560.6, (40, 167, 146, 167, 40), 5.9, 0.17, 501, (18, 0), 3, 36, 56),
    "08": ("10", 64, 204.6, (47, 43, 25, 43, 47), 1.8, 0.08, 145, (5, 0), -5, 10, 16),
    "09": ("11", 75, 215.6, (32, 53, 46, 53, 32), 1.8, 0.05, 156, (5, 1), -2, 11, 17),
    "10": ("12", 816, 1000.2, (112, 281, 214, 281, 112), 7.7, 0.27, 920, (33, 0), 4, 66, None),
    "11": ("14", 260, 377.0, (3, 186, 186, 3), 33.2, 2.53, 317, (11, 1), 5, 23, 35),
    "12": ("16", 98, 236.6, (41, 77, 77, 41), 3.5, 0.23, 177, (6, 1), 5, 13, 20),
    "13": ("17", 190, 330.6, (45, 84, 72, 84, 45), 2.9, 0.09, 271, (9, 1), -5, 19, 30),
    "14": ("18", 696, 880.2, (99, 241, 200, 241, 99), 6.9, 0.23, 800, (28, 1), -2, 57, 70),
    "15": ("19", 75, 215.6, (32, 53, 46, 53, 32), 1.8, 0.05, 156, (5, 1), -2, 11, 17),
    "16": ("20", 64, 189.6, (37, 46, 23, 46, 37), 2.2, 0.10, 130, (4, 1), -4, 9, 14),
    "17": ("21", 340, 480.6, (14, 103, 246, 103, 14), 11.7, 0.29, 851, (30, 1), 3, 61, 63),
    "18": ("23", 64, 204.6, (47, 43, 25, 43, 47), 1.8, 0.08, 299, (10, 1), -5, 21, 22),
    "19": ("24", 496, 680.2, (73, 183, 169, 183, 73), 5.2, 0.17, 1250, (44, 1), -4, 89, 93),
    "20": ("25", 75, 215.6, (32, 53, 46, 53, 32), 1.8, 0.05, 321, (11, 1), 1, 23, 24),
    "21": ("26", 520, 660.6, (28, 202, 200, 202, 28), 7.8, 0.14, 1211, (43, 1), 7, 87, 90),
    "22": ("27", 85, 225.6, (24, 27, 52, 106, 17), 3.9, 0.15, 341, (12, 0), -5, 24, 25),
    "24": ("29", 114, 254.6, (39, 62, 54, 62, 39), 2.1, 0.06, 195, (7, 0), 1, 14, 22),
}
A = demo("a")


@pytest.mark.parametrize("item", TABLE)
def test_what_each_piece_does_to_its_set(item: str) -> None:
    line_set, live, total, pulls, bending, sag, counterweight, bricks, left_over, stack, arbor = TABLE[item]
    assert A.set_of(item) == line_set
    assert A.middle(line_set, "live_load", POUND) == pytest.approx(live, abs=0.05)
    assert A.middle(line_set, "live_load", POUND) + A.middle(
        line_set, "fixed_load_computed", POUND
    ) == pytest.approx(total, abs=0.3)  # the table rounds a pipe's weight per foot
    found = [A.middle(f"{line_set} / line {n}", "reaction_hung", POUND) for n in range(1, len(pulls) + 1)]
    assert found == pytest.approx(pulls, abs=0.56)
    assert A.figure(f"{line_set} / batten", "bending_stress_hung", KSI).low <= bending + 0.05
    assert A.figure(f"{line_set} / batten", "bending_stress_hung", KSI).high >= bending - 0.05
    assert A.figure(f"{line_set} / batten", "sag_depth_hung", INCH).low <= sag + 0.006
    assert A.figure(f"{line_set} / batten", "sag_depth_hung", INCH).high >= sag - 0.006
    assert A.middle(f"{line_set} / arbor", "counterweight_needed", POUND) == pytest.approx(
        counterweight, abs=1.0
    )
    text = " + ".join(f"{n} {name}" for n, name in zip(bricks, ("brick-28", "brick-14"), strict=True) if n)
    assert A.answer(f"{line_set} / arbor", "bricks_needed").value == Name(text)
    assert abs(A.middle(f"{line_set} / arbor", "stack_left_over", POUND)) == pytest.approx(
        abs(left_over), abs=1.0
    )
    # The clear heights of the table leave the plates out; the house counts an inch of plates and as much more.
    heights = A.figure(f"{line_set} / arbor", "stack_needed", INCH)
    assert heights.low - 1.0 - 1e-9 <= stack <= heights.high - 1.0 + 1e-9
    if arbor is not None:
        assert A.middle(f"{line_set} / arbor", "capacity_utilisation") == pytest.approx(
            arbor / 100, abs=0.006
        )


def test_bare_battens() -> None:
    """Five lines at 10'-6" and four at 14'-0", with 2 lb of lower end each."""
    for number, pulls in (
        ("6", (23, 33, 30, 33, 23)),
        ("13", (22, 36, 36, 22)),
        ("8", (26, 43, 43, 26)),
    ):
        found = [A.middle(f"{number} / line {n}", "reaction_hung", POUND) for n in range(1, len(pulls) + 1)]
        assert found == pytest.approx(pulls, abs=0.56)


@pytest.mark.parametrize(
    ("line_set", "opened", "closed", "tip"),
    [
        ("1", (249, 38, 76, 38, 249), (104, 152, 137, 152, 104), 0.37),
        ("28", (149, 36, 64, 36, 149), None, 0.27),
    ],
)
def test_curtains_open_and_closed(
    line_set: str, opened: tuple[int, ...], closed: tuple[int, ...] | None, tip: float
) -> None:
    from plumbtrue.facts.computed.shown_batten import shown_batten

    shown = A.facts.kept(A.thing(line_set), shown_batten)
    ends = [(end.low + end.high) / 2 / POUND for end in shown.hung.ends]
    by_state = {
        label: [(pull.low + pull.high) / 2 / POUND + end for pull, end in zip(pulls, ends, strict=True)]
        for label, pulls in shown.at.by_state
    }
    assert by_state["open"] == pytest.approx(opened, abs=0.56)
    if closed is not None:
        assert by_state["closed"] == pytest.approx(closed, abs=0.56)
    drop = A.figure(f"{line_set} / batten", "tip_drop_hung", INCH)
    assert drop.low <= tip + 0.005
    assert drop.high >= tip - 0.005
    # On its way a curtain pulls no line more than open or closed together bound it, here.
    for number, most in enumerate(zip(*by_state.values(), strict=True), start=1):
        greatest = A.middle(f"{line_set} / line {number}", "reaction_hung", POUND)
        assert greatest >= max(most) - 0.01


def test_reactions_against_a_general_beam_library() -> None:
    """Set 12 with the second electric, against PyCBA, which knows nothing of battens."""
    import pycba

    spans = [3.0, 10.5, 10.5, 10.5, 10.5, 3.0]
    EI = 30.0e3 * np.ones(len(spans))
    fixity = [0, 0, -1, 0, -1, 0, -1, 0, -1, 0, -1, 0, 0, 0]
    points = [(sign * x, 46.0) for x in (1.5, 4.5, 7.5, 10.5, 13.5, 16.5, 19.5) for sign in (-1, 1)]
    points += [(sign * x, 17.0) for x in (6.0, 12.0, 18.0) for sign in (-1, 1)]
    ends = [-24.0, -21.0, -10.5, 0.0, 10.5, 21.0, 24.0]
    pipe = A.middle("12 / batten", "weight_per_length", POUND / FOOT)
    loads: list[list[float]] = []
    for number, (left, right) in enumerate(pairwise(ends), start=1):
        loads.append([number, 1, pipe, 0, 0])
        loads += [
            [number, 2, weight, x - left, 0]
            for x, weight in points
            if left <= x < right or (x == right == 24.0)
        ]
        start, end = max(left, -22.0), min(right, 22.0)
        if end > start:
            loads.append([number, 3, 70.0 / 44.0, start - left, end - start])
    beam = pycba.BeamAnalysis(spans, EI, fixity, loads)
    beam.analyze()
    reactions = [float(one) + 2.0 for one in beam.beam_results.R]
    found = [A.middle(f"12 / line {n}", "reaction_hung", POUND) for n in range(1, 6)]
    assert found == pytest.approx(reactions, rel=2e-3)


def test_handbook_coefficients_of_five_supports() -> None:
    """Outer line 11/28, then 32/28 and 26/28 of w L (continuous beam of four equal spans, "Civil Engineering
    Formulas", table 2.1). The overhangs of the batten carry nothing of what hangs between the lines.
    """
    from tests.show.laid_shows import one_set

    show = one_set(
        '    - {key: "1", on: 14, weight: 400 lb +/- 0.001 lb, '
        "loads: [{from: SR 21'-0\", to: SL 21'-0\", weight: 400 lb}]}\n"
    )
    bare = one_set('    - {key: "1", on: deck}\n')
    gained = [
        show.middle(f"14 / line {n}", "reaction_hung", POUND)
        - bare.middle(f"14 / line {n}", "reaction_hung", POUND)
        for n in range(1, 6)
    ]
    assert gained == pytest.approx([100 * one / 28 for one in (11, 32, 26, 32, 11)], abs=0.01)


@pytest.mark.parametrize(
    ("line", "low", "high"),
    [("12 / line 2", 243, 320), ("21 / line 3", 204, 289), ("26 / line 3", 157, 242)],
)
def test_out_of_level(line: str, low: float, high: float) -> None:
    """Pull over a quarter of an inch at every line, by the sum of the absolute terms of the sensitivity."""
    at_level = A.middle(line, "reaction_hung", POUND)
    widest = A.figure(line, "reaction_out_of_level", POUND).high - A.figure(line, "reaction_hung", POUND).high
    assert at_level + widest == pytest.approx(high, abs=1.0)
    assert at_level - widest == pytest.approx(low, abs=1.0)


def test_the_greatest_line_load_of_all() -> None:
    """Counted weight and trim both at their worst: 332 lb, on line 2 of the second electric."""
    worst = max(
        (A.figure(line.path, "reaction_out_of_level", POUND).high, line.path)
        for line_set in A.rig.house.parts["line_sets"]  # type: ignore[union-attr]
        for line in line_set.parts["lift_lines"]  # type: ignore[union-attr]
        if line_set.key != "H1"
    )
    assert worst[1] in ("12 / line 2", "12 / line 4")
    assert worst[0] == pytest.approx(332, abs=2.0)


def test_bricks_of_the_house() -> None:
    """11,760 lb in stock; 11,268 to 12,016 lb needed over the range of the weights, within a brick or so."""
    needed = A.figure("plot", "bricks_needed", POUND)
    assert A.figure("plot", "brick_stock", POUND).low == pytest.approx(11760)
    assert needed.low == pytest.approx(11268, abs=28)
    assert needed.high == pytest.approx(12016, abs=28)
    spare = A.figure("plot", "bricks_to_spare", POUND)
    assert spare.low < 0 < spare.high


def test_moves() -> None:
    assert A.middle("17", "imbalance_in_show", POUND) == pytest.approx(14.3, abs=0.1)
    assert A.middle("21", "imbalance_in_show", POUND) == pytest.approx(32, abs=0.5)
    assert A.middle("26", "imbalance_in_show", POUND) == pytest.approx(30, abs=0.5)
    assert A.middle("plot / cue Q13", "peak", FOOT) == pytest.approx(3.25)
    assert A.middle("plot / cue Q13", "pull", POUND) == pytest.approx(46, abs=0.6)
    assert A.figure("plot / cue Q13", "pull", POUND).high < 50
    assert A.middle("plot / item 14", "feed_share_change", POUND) == pytest.approx(29.3, abs=0.05)


def test_a_ship_that_weighs_six_hundred_and_twelve() -> None:
    """Revision B: 1,391 to 1,399 lb of counterweight, 100 in of bricks, 153 lb a pick, 612 against 580."""
    b = demo("b")
    needed = b.figure("26 / arbor", "counterweight_needed", POUND)
    assert (needed.low, needed.high) == pytest.approx((1391.2, 1399.2), abs=0.3)
    assert b.figure("26 / arbor", "capacity_utilisation").low > 1.0
    assert b.figure("26 / arbor", "stack_utilisation").low > 1.0
    assert b.answer("26 / arbor", "bricks_needed").value == Name("50 brick-28")
    assert b.figure("26", "posted_utilisation").low > 1.0
    assert b.middle("plot / item 21 / load", "pull", POUND) == pytest.approx(153)
    assert b.middle("plot / item 21 / load", "posted_point", POUND) == pytest.approx(150)
    assert b.figure("plot / item 21 / load", "point_utilisation").low > 1.0


def test_revision_b_in_its_changes() -> None:
    b = demo("b")
    header = [b.middle(f"3 / line {n}", "reaction_hung", POUND) for n in range(1, 6)]
    assert header == pytest.approx((133, 92, 97, 110, 68), abs=0.56)
    tip = b.figure("3 / batten", "tip_drop_hung", INCH)
    assert tip.low <= 0.09 <= tip.high
    assert b.middle("3 / arbor", "counterweight_needed", POUND) == pytest.approx(441, abs=0.6)
    assert b.answer("3 / arbor", "bricks_needed").value == Name("15 brick-28 + 1 brick-14")
    assert b.figure("plot / item 03 / load.2", "point_utilisation").high < 1.0
    assert b.middle("plot / item 06", "bottom_at_highest", INCH) == pytest.approx(29 * 12 + 5)
    assert b.figure("13 / batten", "yield_utilisation_hung").high > 0.9
    assert b.middle("plot / cue Q13", "peak", FOOT) == pytest.approx(13.0)
    assert b.middle("plot / cue Q13", "pull", POUND) == pytest.approx(296, abs=1.0)
    assert b.middle("plot / cue Q13", "dynamic_reaction", POUND) == pytest.approx(118, abs=0.6)
    assert b.middle("plot / item 14", "feed_share_change", POUND) == pytest.approx(58.65, abs=0.05)
    assert b.middle("18", "live_load", POUND) == pytest.approx(756, abs=0.3)
    assert b.middle("18 / line 1", "reaction_hung", POUND) == pytest.approx(106, abs=0.6)
    assert b.middle("18 / line 2", "reaction_hung", POUND) == pytest.approx(257, abs=0.6)
    assert b.figure("22", "live_load", POUND).high == pytest.approx(175)
    assert b.figure("22 / line 3", "reaction_hung", POUND).high == pytest.approx(205, abs=0.6)
    assert b.figure("22 / arbor", "counterweight_needed", POUND).high == pytest.approx(521, abs=0.6)
    assert b.answer("plot / item 22", "people_words").value == Name("sits, lifted")
    assert b.figure("plot", "bricks_to_spare", POUND).high < 0


def test_a_bridle_takes_the_lantern_to_the_lines() -> None:
    """260 lb in the middle of 14 ft of 1-1/4 pipe: 33.2 ksi; hung from the lines at 7 ft: 2.2 ksi, 166 lb each."""
    from tests.show.laid_shows import DEMO, laid

    from plumbtrue.rig.reading import read_plot_text
    from plumbtrue.rig.vocabulary_loading import load_vocabulary

    text = (DEMO / "tour-a.yaml").read_text(encoding="utf-8")
    bridled = text.replace("loads: [{at: CL, weight: 260 lb}]", "loads: [{at: both 7'-0\", weight: 130 lb}]")
    assert bridled != text
    show = laid(demo_house(), read_plot_text(bridled, "plot.yaml", load_vocabulary()))
    stress = show.figure("14 / batten", "bending_stress_hung", KSI)
    assert stress.low <= 2.2 <= stress.high + 0.05
    pulls = [show.middle(f"14 / line {n}", "reaction_hung", POUND) for n in range(1, 5)]
    assert pulls == pytest.approx((22, 166, 166, 22), abs=0.56)


def test_bridles_hoists_and_truss() -> None:
    """327 lb at each apex: legs 251 and 219 lb at 48.0 and 39.8 degrees, 168 lb level, 92.2 degrees between."""
    from math import degrees

    assert A.middle("plot / lantern truss", "total_weight", POUND) == pytest.approx(438, abs=0.2)
    assert A.middle("plot / lantern truss / truss support 6'-0\"", "force", POUND) == pytest.approx(
        219, abs=0.2
    )
    assert A.answer("plot / lantern truss / truss support 6'-0\"", "force_with_one_lost").value is NONE
    assert A.middle("plot / hoist H-1", "load_on_point", POUND) == pytest.approx(327, abs=0.2)
    legs = ("plot / bridle B1 / bridle-leg", "plot / bridle B1 / bridle-leg.2")
    assert [A.middle(leg, "tension", POUND) for leg in legs] == pytest.approx((251, 219), abs=0.6)
    assert [degrees(A.middle(leg, "angle")) for leg in legs] == pytest.approx((48.0, 39.8), abs=0.05)
    assert A.middle("plot / bridle B1", "horizontal", POUND) == pytest.approx(168, abs=0.6)
    assert degrees(A.middle("plot / bridle B1", "included_angle")) == pytest.approx(92.2, abs=0.05)
    assert A.middle("plot / point P1", "force_sideways", POUND) == pytest.approx(168, abs=0.6)
    b = demo("b")
    assert [b.middle(leg, "tension", POUND) for leg in legs] == pytest.approx((385, 364), abs=0.8)
    assert degrees(b.middle("plot / bridle B1", "included_angle")) == pytest.approx(128.3, abs=0.05)
    assert b.middle("plot / lantern truss", "sprinkler_clearance", INCH) == pytest.approx(0.0, abs=1e-6)
    assert A.middle("plot / lantern truss", "sprinkler_clearance", FOOT) == pytest.approx(5.0)


GAPS_A = {
    "09 and 10": 6, "13 and 14": 6, "14 and 15": 6, "19 and 20": 6, "12 and 13": 4, "20 and 21": 4, "03 and 04": 3,
    "01 and 02": 2, "07 and 08": 4, "16 and 17": 4, "18 and 19": 7,
}  # fmt: skip
"""Inches; those of exactly 6 and 4 are met by rules that ask for as much."""


@pytest.mark.parametrize("pair", GAPS_A)
def test_gaps_between_neighbours(pair: str) -> None:
    gap = A.figure(f"plot / pair {pair}", "gap", INCH)
    assert gap.low == pytest.approx(GAPS_A[pair], abs=1e-9)
    assert gap.high == pytest.approx(GAPS_A[pair], abs=1e-9)


def test_gaps_of_revision_b() -> None:
    b = demo("b")
    for pair, gap in (
        ("04 and 05", 5),
        ("04 and 06", 3),
        ("10 and 11", 3),
        ("17 and 27", -5),
        ("27 and 19", 6),
        ("27 and 18", -3),
    ):
        found = next(
            path
            for path in (f"plot / pair {pair}", f"plot / pair {' and '.join(reversed(pair.split(' and ')))}")
            if path in b.by_path
        )
        assert b.middle(found, "gap", INCH) == pytest.approx(gap, abs=1e-9)
    assert b.middle("plot / item 28", "fire_curtain_gap", INCH) == pytest.approx(-4)
    assert A.middle("plot / item 01", "fire_curtain_gap", INCH) == pytest.approx(8)


def test_cloths_in_a_draught() -> None:
    """Doors shut: 3.1 in at the scrim, 3.3 in at the sky cloth."""
    assert A.middle("plot / item 12", "draught_swing", INCH) == pytest.approx(3.1, abs=0.06)
    assert A.middle("plot / item 24", "draught_swing", INCH) == pytest.approx(3.3, abs=0.1)


def test_steps_of_the_ship() -> None:
    """Before, the arbor of 26 holds six bricks for the bare pipe: 168 against 2 x 140.6 - 110 = 171.2 lb."""
    after = A.figure("plot / step ship on", "imbalance_after", POUND)
    assert after.low - 1e-6 <= 2 * 520 + 3.2 <= after.high + 1e-6
    bricks = A.figure("plot / step ship bricks", "imbalance_after", POUND)
    assert bricks.low - 1e-6 <= 2 * 520 + 3.2 - 37 * 28 <= bricks.high + 1e-6
    assert A.figure("plot / step ship on", "energy_at_risk").high == pytest.approx(0.0, abs=1e-9)
