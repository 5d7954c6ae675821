"""The pull of each line, against handbook coefficients, a general-purpose beam library and the invented demo
house's figures.

The demo's figures were made with a direct stiffness script that agrees with the handbook coefficients 11/28,
32/28, 26/28.
"""

from textwrap import indent

import numpy as np
import pycba
import pytest
from tests.facts.rigs_in_text import BRICKS, FOUR_LINES, FT, LB, Ask, a_set

from plumbtrue.quantities.values import UNKNOWN

CENTRED = """{1: SR 20'-0", 2: SL 1'-0", 3: SL 19'-0"}"""
THIN = {"nominal": "1-1/4", "wall": "0.140 in"}
BARE = (
    "posted_total: 750 lb\nposted_point_at_line: none\n"
    "posted_point_between: none\nposted_point_overhang: none"
)


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        pytest.param(a_set(), [23, 33, 30, 33, 23], id="five lines, 1-1/2 schedule 40"),
        pytest.param(
            a_set(schedule="80", wall="0.200 in"), [30, 43, 39, 43, 30], id="five lines, schedule 80"
        ),
        pytest.param(a_set(places=FOUR_LINES, **THIN), [22, 36, 36, 22], id="four lines, 1-1/4"),
        pytest.param(a_set(places=FOUR_LINES), [26, 43, 43, 26], id="four lines, 1-1/2"),
    ],
)
def test_bare_battens_of_the_demo_house(one_set: Ask, written: str, expected: list[int]) -> None:
    rig = one_set(written)
    pulls = [rig.figure(f"14 / line {n}", "reaction_bare", LB) for n in range(1, len(expected) + 1)]
    assert [round(pull) for pull in pulls] == expected


def by_pycba(places: list[float], length: float, per_length: float) -> list[float]:
    """Reactions of a continuous beam [lb], by PyCBA, from places [ft] and a uniform load [lb/ft] with both
    overhangs.
    """
    spans = np.diff([0.0, *places, length])
    restraints = [0, 0] + [-1, 0] * len(places) + [0, 0]
    beam = pycba.BeamAnalysis(
        spans.tolist(), 30000.0, restraints, [[n + 1, 1, per_length, 0, 0] for n in range(len(spans))]
    )
    beam.analyze()
    return [float(one) for one in np.array(beam.beam_results.R).ravel()]


def test_a_spread_load_as_a_general_purpose_beam_library_has_it(one_set: Ask) -> None:
    """PyCBA on the same beam: 750 lb over 48 ft and the pipe's 2.7208 lb/ft (0.7995 in2 of steel at 490
    lb/ft3).
    """
    rig = one_set(a_set(posted=BARE))
    expected = by_pycba([3.0, 13.5, 24.0, 34.5, 45.0], 48.0, 750 / 48 + 0.79950 * 490 / 144)
    pulls = [rig.figure(f"14 / line {n}", "reaction", LB) - 2 for n in range(1, 6)]
    assert pulls == pytest.approx(expected, rel=2e-5)


def test_the_greatest_pull_is_that_of_the_worst_posted_load(one_set: Ask) -> None:
    """A point of 250 lb right at a line pulls 250 lb there, beside the bare pipe's 33 lb."""
    rig = one_set(a_set())
    assert rig.figure("14 / line 2", "reaction", LB) == pytest.approx(283, abs=0.5)


def test_a_joint_without_a_rated_moment_leaves_the_pulls_between_hinge_and_pipe(one_set: Ask) -> None:
    """Hand figure for a hinge at every inner line of equal spans: simple spans, so inner lines carry one span
    each.
    """
    joint = "[{at: 13'-6\", type: sleeve-bolted}]"
    whole = one_set(a_set(posted=BARE)).figure("14 / line 2", "reaction", LB)
    low, high = one_set(a_set(posted=BARE, splices=joint)).bounds("14 / line 2", "reaction", LB)
    assert low < whole < high or whole == pytest.approx(low) or whole == pytest.approx(high)
    assert high - low > 5
    rig = one_set(a_set(posted=BARE, splices=joint))
    assert "14 / batten / splice 13'-6\": moment_capacity" in rig.missing("14 / line 2", "reaction")


def test_a_second_joint_in_doubt_never_tells_more(one_set: Ask) -> None:
    """As two hinges in one span the pipe would fall, so each had been taken for unbroken pipe alone."""
    one, two = (
        one_set(a_set(splices=f"[{{at: 15'-6\", type: coupling}}, {{at: 18'-6\", type: coupling{more}}}]"))
        for more in (", moment_capacity: 489 ft-lb", "")
    )
    for path, name in [
        ("14 / batten", "sag"),
        ("14 / line 2", "reaction"),
        ("14 / batten", "bending_stress"),
    ]:
        (low, high), (lower, higher) = one.bounds(path, name), two.bounds(path, name)
        assert lower <= low * (1 + 1e-9)
        assert higher >= high * (1 - 1e-9)


def test_a_joint_with_a_rated_moment_bends_like_the_pipe(one_set: Ask) -> None:
    joint = "[{at: 13'-6\", type: sleeve-bolted, moment_capacity: 489 ft-lb}]"
    rated = one_set(a_set(splices=joint)).figure("14 / line 2", "reaction", LB)
    assert rated == pytest.approx(one_set(a_set()).figure("14 / line 2", "reaction", LB))


def test_with_unknown_joints_no_line_pulls_more_than_everything(one_set: Ask) -> None:
    rig = one_set(a_set(splices="unknown", posted=BARE))
    low, high = rig.bounds("14 / line 2", "reaction", LB)
    assert low == pytest.approx(2)
    assert high == pytest.approx(750 + 48 * 2.7208 + 2, abs=0.1)
    assert "14 / batten: splices" in rig.missing("14 / line 2", "reaction")


def test_a_lower_end_that_nobody_weighed_is_a_marked_range(one_set: Ask) -> None:
    rig = one_set(a_set(lower_weight="", posted=BARE))
    low, high = rig.bounds("14 / line 2", "reaction_bare", LB)
    assert (low, high) == pytest.approx((30.7 + 1, 30.7 + 8), abs=0.1)
    working = rig.answer("14 / line 2", "reaction_bare").working
    assert working is not None
    assert any("assumed" in sentence or "1 to 8 lb" in sentence for sentence in working.assumptions)


def test_a_weighed_fixed_load_is_shared_by_the_lower_ends(one_set: Ask) -> None:
    """150.6 lb weighed, 130.6 of them pipe: 4 lb for each end."""
    rig = one_set(a_set(lower_weight="", posted=BARE, more="fixed_load: 150.598 lb"))
    assert rig.figure("14 / line 2", "reaction_bare", LB) == pytest.approx(30.7 + 4, abs=0.1)


@pytest.mark.parametrize(
    ("left_out", "asked_for"),
    [
        pytest.param("batten", "14: batten", id="batten"),
        pytest.param("posted", "14: posted_total", id="posted load"),
        pytest.param("lines", "14: lift_lines", id="a line that nobody wrote down"),
    ],
)
def test_a_missing_fact_is_named_and_there_is_no_figure(one_set: Ask, left_out: str, asked_for: str) -> None:
    written = a_set(
        posted="posted_total: 750 lb" if left_out != "posted" else "posted_rules_here: none"
    ).replace("posted_rules_here: none\n", "")
    if left_out == "batten":
        start, end = written.index("batten: {"), written.index("lift_lines:")
        written = written[:start] + written[end:]
    if left_out == "lines":
        written += "\nlines_stated: 6"
    rig = one_set(written)
    assert rig.answer("14 / line 2", "reaction").value == UNKNOWN
    assert asked_for in rig.missing("14 / line 2", "reaction")


def test_every_missing_fact_is_named_at_once(one_set: Ask) -> None:
    rig = one_set("lift_lines: [{mark: '1'}, {mark: '2', at: SL 3'-0\"}]\nbatten: {form: pipe}")
    missing = rig.missing("14 / line 1", "reaction")
    assert {
        "14 / batten: length",
        "14 / line 1: at",
        "14 / batten: nominal",
        "14 / batten: schedule",
    } <= missing


def test_a_point_that_nobody_recorded_may_be_anything_up_to_the_whole_load(one_set: Ask) -> None:
    spread_only = one_set(a_set(posted=BARE)).figure("14 / line 2", "reaction", LB)
    left_out = one_set(
        a_set(posted="posted_total: 750 lb\nposted_point_between: none\nposted_point_overhang: none")
    )
    low, high = left_out.bounds("14 / line 2", "reaction", LB)
    assert low == pytest.approx(spread_only)
    assert high == pytest.approx(750 + 33, abs=0.5)
    assert left_out.missing("14 / line 2", "reaction") == {"14: posted_point_at_line"}


def test_what_hangs_now_may_hang_anywhere(one_set: Ask) -> None:
    rig = one_set(a_set().replace("present_load: none", "present_load: 100 lb"))
    low, high = rig.bounds("14 / line 3", "reaction_present", LB)
    assert low < 30 < 130 < high + 1
    assert "14: present_load" in rig.missing("14 / line 3", "reaction_present")


def test_an_empty_set_pulls_as_the_bare_batten(one_set: Ask) -> None:
    rig = one_set(a_set())
    assert rig.figure("14 / line 3", "reaction_present") == rig.figure("14 / line 3", "reaction_bare")


def test_places_within_bounds_give_pulls_within_bounds(one_set: Ask) -> None:
    about = "{1: SR 21'-0\", 2: SR 10'-6\" +/- 3 in, 3: CL, 4: SL 10'-6\", 5: SL 21'-0\"}"
    low, high = one_set(a_set(posted=BARE, places=about)).bounds("14 / line 2", "reaction", LB)
    exact = one_set(a_set(posted=BARE)).figure("14 / line 2", "reaction", LB)
    assert low < exact < high
    assert high - low < 10


def test_the_rule_of_thumb_stands_beside_it(one_set: Ask) -> None:
    """Half of both spans beside line 3: 10.5 ft of 15.625 + 2.7208 lb/ft, and its lower end."""
    rig = one_set(a_set(posted=BARE))
    assert rig.figure("14 / line 3", "tributary_share", LB) == pytest.approx(
        10.5 * (15.625 + 2.7205) + 2, abs=0.05
    )


def test_lines_out_of_level_widen_the_pull(one_set: Ask) -> None:
    """Three lines at spacing L: the middle one feels 6 EI/L3 of its own offset, 3 of each neighbour's (closed
    form).
    """
    three = "{1: SR 21'-0\", 2: CL, 3: SL 21'-0\"}"
    rig = one_set(a_set(posted=BARE, places=three))
    low, high = rig.bounds("14 / line 2", "reaction_range_over_trim", LB)
    EI = 29e6 * 0.3099  # lb in2
    swing = 0.25 * (6 + 3 + 3) * EI / (21 * 12) ** 3
    assert (high - low) / 2 == pytest.approx(swing, rel=1e-3)


def test_a_turn_of_a_turnbuckle(one_set: Ask) -> None:
    """S_ii times two pitches of 13 threads to the inch, S_ii of the middle of three lines 6 EI/L3 (closed
    form).
    """
    from tests.facts.rigs_in_text import TURNBUCKLE_END

    three = "{1: SR 21'-0\", 2: CL, 3: SL 21'-0\"}"
    rig = one_set(a_set(places=three, lower=TURNBUCKLE_END))
    expected = 6 * 29e6 * 0.3099 / (21 * 12) ** 3 * 2 / 13
    assert rig.figure("14 / line 2", "load_per_turn", LB) == pytest.approx(expected, rel=1e-3)


def test_a_line_that_holds_no_batten_has_no_pull_of_it(one_set: Ask) -> None:
    rig = one_set(a_set(except_="{lines: [3], role: spare}"))
    assert rig.answer("14 / line 3", "reaction").value == UNKNOWN
    assert rig.answer("14 / line 3", "reaction").refusal == "it does not hold the batten"
    assert rig.figure("14 / line 1", "distance_to_pipe_end", FT) == pytest.approx(3)


@pytest.mark.parametrize("first", ["at least 2'-0\"", "2 ft..12 ft"])
def test_where_nobody_can_tell_which_line_comes_first_nothing_follows(one_set: Ask, first: str) -> None:
    """The second line was taken for the outer one, and an overhang of twelve feet for found."""
    places = f"{{1: {first}, 2: 11'-6\", 3: 21'-0\", 4: 30'-6\", 5: 46'-0\"}}"
    rig = one_set(a_set(places=places))
    for path, name in [
        ("14 / batten", "overhang"),
        ("14 / batten", "longest_span"),
        ("14 / line 2", "reaction"),
    ]:
        assert rig.answer(path, name).value == UNKNOWN
        assert {"14 / line 1: at", "14 / line 2: at"} <= rig.missing(path, name)


def test_a_joint_somewhere_in_a_span_may_lie_in_its_middle(one_set: Ask) -> None:
    """Four feet and five from the lines beside it, or anywhere between: half a span at the most."""
    places = "{1: 2 ft, 2: 11 ft, 3: 20 ft, 4: 29 ft, 5: 38 ft}"
    rig = one_set(a_set(places=places, splices="[{key: a, at: 15 ft..16 ft, type: coupling}]"))
    low, high = rig.bounds("14 / batten / splice a", "span_share")
    assert low == pytest.approx(4 / 9)
    assert high == pytest.approx(1 / 2)


def test_no_end_has_to_be_zero_while_every_place_counts_from_the_centre(asked: Ask) -> None:
    """Mirrored, the same pipe pulls on the same lines alike."""
    inner = f"  {BRICKS}\nline_sets:\n  - number: 14\n" + indent(a_set(places=CENTRED), "    ") + "\n"
    silent, *either = (
        asked(f"house:\n  name: test house\n{zero}{inner}")
        for zero in ("", "  batten_zero: stage-left\n", "  batten_zero: stage-right\n")
    )
    for line in ("14 / line 1", "14 / line 2", "14 / line 3"):
        pulls = [rig.figure(line, "reaction_bare", LB) for rig in (silent, *either)]
        assert pulls == pytest.approx([pulls[0]] * 3, rel=1e-9)
        assert silent.missing(line, "distance_from_zero") == {"test house: batten_zero"}


def test_a_single_place_from_an_end_asks_which_end_is_zero(asked: Ask) -> None:
    inner = indent(a_set(places=CENTRED, splices="[{at: 21'-0\"}]"), "    ") + "\n"
    rig = asked(f"house:\n  name: test house\n  {BRICKS}\nline_sets:\n  - number: 14\n" + inner)
    assert "test house: batten_zero" in rig.missing("14 / line 1", "reaction_bare")
