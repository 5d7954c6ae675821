"""What each part of a line is good for, which is the weakest, and that one unknown part leaves the path
unknown.
"""

import pytest
from tests.facts.rigs_in_text import (
    ARBOR_END,
    CHAIN,
    LB,
    LOFT_BLOCK,
    ROPE,
    SHACKLE,
    SLEEVE,
    THIMBLE,
    Ask,
    a_set,
)

from plumbtrue.quantities.values import NONE, UNKNOWN, Name

LINE = "14 / line 2"
CLIPS = (
    "{part: wire-rope-clips, count: 3, type: u-bolt, material: forged, size: 1/4 in, spacing: 1-1/2 in, "
    "saddle_on: live, turn_back: 5 in, torque_made: none, torque_after_load: none, witness_mark: in-line}"
)


def end(*parts: str) -> str:
    return f"[{', '.join(parts)}]"


def test_a_sound_quarter_inch_line_with_gauged_sleeves(one_set: Ask) -> None:
    """7,000 lb (AC 43.13-1B table 7-3) by 0.90 by an eighth; the bend at D/d 32 keeps 0.912, so the sleeve
    governs.
    """
    rig = one_set(a_set())
    assert rig.figure(LINE, "least_efficiency") == pytest.approx(0.90)
    assert rig.figure(LINE, "rope_limit", LB) == pytest.approx(787.5)


def test_with_forged_clips(one_set: Ask) -> None:
    """TM 5-3810-305-10 table 4: 80 %. A whole paint line stands for the torque that nobody wrote down."""
    rig = one_set(a_set(upper=end(CLIPS, THIMBLE, SHACKLE)))
    assert rig.figure(LINE, "rope_limit", LB) == pytest.approx(700)


def test_three_sixteenths(one_set: Ask) -> None:
    """4,200 lb (AC 43.13-1B table 7-3)."""
    thin = ROPE.replace("1/4", "3/16").replace("7000", "4200")
    eye = (SLEEVE.replace("1/4", "3/16"), THIMBLE.replace("1/4", "3/16"))
    rig = one_set(a_set(rope=thin, upper=end(*eye, SHACKLE), lower=end(*eye, SHACKLE, CHAIN)))
    assert rig.figure(LINE, "rope_limit", LB) == pytest.approx(472.5)


def test_the_design_factor_is_strength_by_efficiency_over_pull(one_set: Ask) -> None:
    """The rope pulls hardest at its block, where 56.5 ft of itself of 0.11 lb/ft hang from it too."""
    rig = one_set(a_set())
    pull = rig.figure(LINE, "reaction", LB) + 56.5 * 0.11
    assert rig.figure(LINE, "design_factor") == pytest.approx(7000 * 0.90 / pull)


@pytest.mark.parametrize(
    "broken",
    [
        pytest.param(CLIPS.replace("forged", "malleable"), id="malleable"),
        pytest.param(
            CLIPS.replace("saddle_on: live", "saddle_on: [live, dead, live]"), id="a saddle on the dead part"
        ),
        pytest.param(CLIPS.replace("count: 3", "count: 2"), id="too few"),
        pytest.param(CLIPS.replace("turn_back: 5 in", "turn_back: 4-1/2 in"), id="turned back too short"),
        pytest.param(CLIPS.replace("in-line", "broken"), id="a broken paint line"),
        pytest.param(CLIPS.replace("in-line", "none"), id="neither torque nor paint line"),
        pytest.param(CLIPS.replace("size: 1/4", "size: 5/16"), id="of another size"),
        pytest.param(SLEEVE.replace("stack", "gauge: fail, stack"), id="a sleeve that fails its gauge"),
        pytest.param(SLEEVE.replace("stack", "gauge: unknown, stack"), id="a sleeve that nobody gauged"),
        pytest.param(SLEEVE.replace("copper", "aluminium"), id="a sleeve of a metal without a figure"),
        pytest.param(SLEEVE.replace("stack", "tail_length: none, stack"), id="a tail that cannot be seen"),
        pytest.param("{part: knot, type: clove-hitch, round: pipe}", id="a knot in wire rope"),
        pytest.param("{part: stop-sleeve, size: 1/4 in}", id="a single stop"),
    ],
)
def test_an_end_that_breaks_a_rule_has_no_known_efficiency(one_set: Ask, broken: str) -> None:
    rig = one_set(a_set(upper=end(broken, THIMBLE, SHACKLE)))
    assert rig.answer(LINE, "least_efficiency").value == UNKNOWN
    assert rig.answer(LINE, "design_factor").value == UNKNOWN
    assert rig.answer(LINE, "rope_limit").value == UNKNOWN


def test_a_makers_figure_goes_before_the_table(one_set: Ask) -> None:
    rig = one_set(a_set(upper=end(SLEEVE.replace("stack", "efficiency: 0.85, stack"), THIMBLE, SHACKLE)))
    assert rig.figure(LINE, "least_efficiency") == pytest.approx(0.85)


def test_nobody_knows_the_strength_of_a_pitted_rope(one_set: Ask) -> None:
    rig = one_set(a_set(except_="{lines: [2], rope: {corrosion: pitted}}"))
    assert rig.answer(LINE, "design_factor").value == UNKNOWN
    assert "pitted" in (rig.answer(LINE, "design_factor").refusal or "")
    assert rig.answer("14 / line 3", "design_factor").value != UNKNOWN


def test_a_strength_that_was_looked_for_and_not_found_is_no_strength(one_set: Ask) -> None:
    rig = one_set(a_set(rope=ROPE.replace("7000 lb", "none")))
    assert rig.answer(LINE, "design_factor").value == UNKNOWN
    assert f"{LINE} / rope: breaking_strength" in rig.missing(LINE, "design_factor")


HANGING = 56.5 * 0.11
"""Weight of the rope below the loft block [lb]: 56.5 ft of 0.11 lb/ft, batten at its lowest."""


def test_the_weakest_part_governs(one_set: Ask) -> None:
    """Plate of 500 lb on the loft block, against 787 lb of the rope and more of the rest. The rope that hangs
    below the block is 6.2 lb of the 500.
    """
    rig = one_set(a_set())
    assert rig.figure(LINE, "tension_limit", LB) == pytest.approx(500 - HANGING)
    assert rig.answer(LINE, "weakest_part").value == Name("loft-block")


def test_a_block_rated_for_its_resultant_allows_less_in_the_line(one_set: Ask) -> None:
    """90 degrees of wrap: the resultant is 1.414 times the tension."""
    rig = one_set(a_set(loft=LOFT_BLOCK.replace("line-tension", "resultant")))
    assert rig.figure(LINE, "tension_limit", LB) == pytest.approx(500 / 2**0.5 - HANGING)


def test_a_part_below_the_rope_has_all_its_rating_for_the_batten(one_set: Ask) -> None:
    """The shackle at the batten pulls no rope but what it holds; the rope at its block pulls 6.2 lb more."""
    weak = SHACKLE.replace("2000 lb", "400 lb")
    rig = one_set(a_set(lower=end(SLEEVE, THIMBLE, weak, CHAIN)))
    assert rig.figure(LINE, "tension_limit", LB) == pytest.approx(400)
    assert rig.answer(LINE, "weakest_part").value == Name("lower / shackle")


def test_at_its_limit_a_line_loads_its_block_to_the_rating(one_set: Ask) -> None:
    """Both ways round: the limit at the batten, and the pull that then comes to the block."""
    rig = one_set(a_set())
    hanging = rig.figure(f"{LINE} / loft-block", "pull", LB) - rig.figure(LINE, "reaction", LB)
    assert rig.figure(LINE, "tension_limit", LB) + hanging == pytest.approx(500)


def test_rope_of_unknown_length_takes_an_assumed_weight_off(one_set: Ask) -> None:
    """0 to 12 lb (common practice), told as assumed, and the height of the groove asked for."""
    rig = one_set(a_set(loft=LOFT_BLOCK.replace(", groove_height: 60'-6\"", "")))
    assert rig.bounds(LINE, "tension_limit", LB) == pytest.approx((500 - 12, 500))
    assert f"{LINE} / loft-block: groove_height" in rig.missing(LINE, "tension_limit")


def test_one_unrated_part_leaves_the_path_unknown(one_set: Ask) -> None:
    rig = one_set(a_set(loft=LOFT_BLOCK.replace("500 lb", "none")))
    low, high = rig.bounds(LINE, "tension_limit", LB)
    assert (low, high) == pytest.approx((0, 787.5 - HANGING))
    assert rig.answer(LINE, "weakest_part").value == UNKNOWN
    assert f"{LINE} / loft-block: working_load_limit" in rig.missing(LINE, "weakest_part")
    assert rig.answer(f"{LINE} / loft-block", "utilisation").value == UNKNOWN


def test_a_part_that_nobody_named_leaves_the_path_unknown(one_set: Ask) -> None:
    rig = one_set(a_set(lower=end(SLEEVE, THIMBLE, "unknown", CHAIN)))
    assert rig.bounds(LINE, "tension_limit", LB)[0] == 0
    assert f"{LINE}: lower" in rig.missing(LINE, "tension_limit")


def test_utilisation_of_each_part(one_set: Ask) -> None:
    rig = one_set(a_set())
    pull = rig.figure(LINE, "reaction", LB)
    assert rig.figure(f"{LINE} / upper / shackle", "utilisation") > pull / 2000
    assert rig.answer(f"{LINE} / lower / thimble", "utilisation").value == NONE
    low, high = rig.bounds(f"{LINE} / lower / trim-chain", "utilisation")
    assert low == pytest.approx(high)
    assert low == pytest.approx(pull / rig.figure(f"{LINE} / lower / trim-chain", "assembly_capacity", LB))


def test_chain_legs_by_the_cosine_of_half_their_angle(one_set: Ask) -> None:
    """1/4 in chain on 1.9 in pipe, legs meeting 6 in up: 20.6 degrees between them (geometry of a
    tangent).
    """
    rig = one_set(a_set())
    capacity = rig.figure(f"{LINE} / lower / trim-chain", "assembly_capacity", LB)
    assert capacity == pytest.approx(2 * 3500 * 0.98388, rel=1e-4)


@pytest.mark.parametrize(
    ("written", "low", "high"),
    [
        pytest.param("legs_share: unevenly", 3500, 3500, id="legs that do not share count as one"),
        pytest.param("legs_share: unknown", 3500, 6887, id="nobody says whether they share"),
        pytest.param("closes_to: itself", 2800, 2800, id="closed back on itself it is choked: 0.80"),
    ],
)
def test_chain_as_it_is_rigged(one_set: Ask, written: str, low: float, high: float) -> None:
    """Choker factor 1,700 over 2,100 lb: OSHA, Guidance on Safe Sling Use, tables 1 and 3."""
    rig = one_set(a_set(lower=end(SLEEVE, THIMBLE, SHACKLE, CHAIN.replace("legs: 2", f"legs: 2, {written}"))))
    assert rig.bounds(f"{LINE} / lower / trim-chain", "assembly_capacity", LB) == pytest.approx(
        (low, high), rel=1e-3
    )


@pytest.mark.parametrize("shortened", ["knot", "bolt"])
def test_a_chain_shortened_by_a_makeshift_has_no_rating(one_set: Ask, shortened: str) -> None:
    chain = CHAIN.replace("legs: 2", f"legs: 2, shortened_by: {shortened}")
    rig = one_set(a_set(lower=end(SLEEVE, THIMBLE, SHACKLE, chain)))
    assert rig.answer(f"{LINE} / lower / trim-chain", "assembly_capacity").value == UNKNOWN
    assert rig.bounds(LINE, "tension_limit", LB)[0] == 0


@pytest.mark.parametrize(
    ("angle", "low", "high"),
    [
        pytest.param("0 deg", 2000, 2000, id="in line"),
        pytest.param("5 deg", 2000, 2000, id="the first band ends with 5 degrees"),
        pytest.param("6 deg", 1400, 1400, id="just past it: 70 %"),
        pytest.param("45 deg", 1400, 1400, id="to 45 degrees: 70 %"),
        pytest.param("90 deg", 1000, 1000, id="to 90 degrees: 50 %"),
        pytest.param("100 deg", 0, 0, id="past 90 degrees: not allowed"),
        pytest.param("at most 10 deg", 1400, 2000, id="known only within bounds"),
        pytest.param("unknown", 0, 2000, id="not known"),
    ],
)
def test_a_shackle_by_the_angle_of_its_pull(one_set: Ask, angle: str, low: float, high: float) -> None:
    """70 % at 45 and 50 % at 90 degrees: a published page, Shackle precautions; bands of WAC 296-155-33905
    figure 17.
    """
    turned = SHACKLE.replace("stack_length", f"pull_angle: {angle}, stack_length")
    rig = one_set(a_set(upper=end(SLEEVE, THIMBLE, turned)))
    assert rig.bounds(f"{LINE} / upper / shackle", "reduced_rating", LB) == pytest.approx((low, high))


def test_an_eye_bolt_without_a_shoulder_bears_no_pull_at_an_angle(one_set: Ask) -> None:
    """ASME B30.26, from memory."""
    bolt = "{part: eye-bolt, shoulder: no, working_load_limit: 500 lb, pull_angle: 3 deg}"
    rig = one_set(a_set(upper=end(SLEEVE, THIMBLE, bolt)))
    assert rig.figure(f"{LINE} / upper / eye-bolt", "reduced_rating", LB) == 0
    assert rig.answer(f"{LINE} / upper / eye-bolt", "utilisation").value == UNKNOWN


def test_fibre_rope_keeps_half_at_a_knot(one_set: Ask) -> None:
    """Manila 3/4 in 4,860 lb (CI 1308-96), a hitch keeps half (a college class page): 243 lb at a factor of
    ten.
    """
    rig = one_set("""
        seen: {by: a, on: 2026-01-10, how: by-hand, in_order: yes}
        system: hemp
        lift_lines:
          - mark: '1'
            rope: {family: manila, diameter: 3/4 in, breaking_strength: 4860 lb}
            upper: [{part: knot, type: other, round: other}]
            lower: [{part: knot, type: clove-and-half-hitches, round: pipe}]
    """)
    assert rig.figure("14 / line 1", "rope_limit", LB) == pytest.approx(243)


def test_a_belayed_line_is_reckoned_as_knotted_at_the_rail(one_set: Ask) -> None:
    """No table has a belay; half is what is taught of knots (a college class page). The splice at the pipe
    keeps more.
    """
    rig = one_set("""
        seen: {by: a, on: 2026-01-10, how: by-hand, in_order: yes}
        system: hemp
        lift_lines:
          - mark: '1'
            rope: {family: manila, diameter: 3/4 in, breaking_strength: 4860 lb}
            lower: [{part: hand-splice, tucks: 4}, thimble]
    """)
    assert rig.figure("14 / line 1", "least_efficiency") == pytest.approx(0.5)


def test_an_arbor_end_that_nobody_wrote_is_no_belay(one_set: Ask) -> None:
    rig = one_set(a_set(upper="unknown"))
    assert rig.answer(LINE, "least_efficiency").value == UNKNOWN


def test_pull_at_a_block_has_the_hanging_rope_too(one_set: Ask) -> None:
    """56.5 ft of rope between the groove at 60'-6" and the pipe at its lowest, 0.11 lb/ft."""
    rig = one_set(a_set())
    block = rig.figure(f"{LINE} / loft-block", "pull", LB)
    assert block == pytest.approx(rig.figure(LINE, "reaction", LB) + 56.5 * 0.11)
    assert rig.figure(f"{LINE} / loft-block", "resultant", LB) == pytest.approx(block * 2**0.5)


def test_a_head_block_carries_no_more_than_the_whole_set(one_set: Ask) -> None:
    """Each line's greatest pull comes with its own load; all of them together are at most 750 lb and the bare
    set.
    """
    rig = one_set(a_set())
    total = 750 + 48 * 2.7205 + 10 + 5 * 56.5 * 0.11
    assert rig.figure("14 / head block", "pull", LB) == pytest.approx(total, abs=0.1)


def test_the_arbor_end_stands_in_the_path(one_set: Ask) -> None:
    rig = one_set(a_set(upper=ARBOR_END.replace("2000 lb", "300 lb")))
    assert rig.answer(LINE, "weakest_part").value == Name("upper / shackle")


def test_a_tension_block_is_lifted_by_both_parts_of_the_hand_line(one_set: Ask) -> None:
    """Half a turn of wrap: twice the pull in the hand line."""
    hand = "hand_line_tension: 40 lb\nhand_line: {rope: {family: polyester, diameter: 3/4 in}}"
    rig = one_set(a_set(more=f"{hand}\ntension_block: {{wrap_angle: 180 deg}}"))
    assert rig.figure("14 / tension block", "resultant", LB) == pytest.approx(80)


def test_a_hand_line_that_nobody_measured_is_a_marked_range(one_set: Ask) -> None:
    rig = one_set(a_set(more="tension_block: {wrap_angle: 180 deg}"))
    assert rig.bounds("14 / tension block", "resultant", LB) == pytest.approx((20, 150))
    assert rig.missing("14 / tension block", "resultant") == {"14: hand_line_tension"}
