"""Further questions that a rigger asks of a set, each worked out by hand beside it."""

from math import asin, pi, sqrt

import pytest
from tests.facts.rigs_in_text import CHAIN_END, FT, INCH, LB, LOFT_BLOCK, Ask, a_set

from plumbtrue.quantities.values import NONE

G = 32.17404855643
"""[ft/s2], standard gravity, NIST SP 811."""
OFF = "{lines: [2], pick_off_along: 4 in, pick_off_across: 3 in, measured_with: held}"


def test_three_spans_tell_how_far_out_of_level_the_first_line_goes_slack(one_set: Ask) -> None:
    """Three lines 20 ft apart: S = EI / L^3 of 1.5, -3, 1.5 and -3, 6, -3 (closed form). Bare pipe with 4 ft over each
    end: M = -8 w there, M2 = -(w L^2 / 2 + 2 x (-8 w)) / 4 = -46 w, so the ends pull 4 + 10 + (-46 + 8) / 20 = 12.1 w
    and the middle one 23.8 w. The middle goes slack a little before them: 23.8 / 12 is less than 12.1 / 6.
    """
    rig = one_set(a_set(places="{1: SR 20'-0\", 2: CL, 3: SL 20'-0\"}"))
    outside, inside = 1.9, 1.9 - 2 * 0.145
    EI = 29e6 * pi * (outside**4 - inside**4) / 64
    by_hand = min(12.1 / 6, 23.8 / 12) * 2.72 / (EI / 240**3)
    low, high = rig.bounds("14 / batten", "first_slack", INCH)
    assert low == pytest.approx(by_hand, rel=3e-3)
    assert high == pytest.approx(by_hand, rel=3e-3)


def test_a_batten_on_two_lines_has_no_trim_that_makes_one_slack(one_set: Ask) -> None:
    answer = one_set(a_set(places="{1: SR 20'-0\", 2: SL 20'-0\"}")).answer("14 / batten", "first_slack")
    assert answer.refusal is not None


@pytest.mark.parametrize(
    ("system", "by_hand"), [("single-purchase", 150 - 60), ("double-purchase", 300 - 60)]
)
def test_pipe_weight_is_what_balances_the_bare_batten(one_set: Ask, system: str, by_hand: float) -> None:
    rig = one_set(a_set(system=system, more="fixed_load: 150 lb", arbor="weight: 60 lb, weights: none"))
    assert rig.figure("14 / arbor", "pipe_weight", LB) == pytest.approx(by_hand)


def test_a_line_out_of_plumb_pulls_sideways_by_offset_over_drop(one_set: Ask) -> None:
    """5 in out (3 and 4) and 2'-6" below the groove at 58 ft: a sixth of its pull."""
    rig = one_set(a_set(except_=OFF))
    pull = rig.figure("14 / line 2", "reaction", LB)
    assert rig.figure("14 / line 2", "pull_sideways", LB) == pytest.approx(pull * 5 / 30)


def test_what_is_posted_lets_the_batten_down_by_the_stretch_that_it_adds(one_set: Ask) -> None:
    text = a_set(except_="{lines: [2], rope: {length: 75'-0\"}}")
    rig = one_set(text)
    added = rig.figure("14 / line 2", "reaction") - rig.figure("14 / line 2", "reaction_bare")
    stiff = rig.bounds("14 / line 2 / rope", "stiffness")
    low, high = rig.bounds("14 / line 2", "goes_down")
    assert (low, high) == pytest.approx((added / stiff[1], added / stiff[0]))


def test_the_legs_of_a_chain_and_what_it_takes_round_the_pipe(one_set: Ask) -> None:
    """1/4 in chain twice round 1.900 in pipe, legs meeting 6 in up: r = 1.075 in."""
    rig = one_set(a_set())
    r, q = 1.075, 6.0
    a = asin(r / q)
    assert rig.figure("14 / line 1 / lower / trim-chain", "legs_angle") == pytest.approx(2 * a)
    by_hand = 2 * sqrt(q**2 - r**2) + (pi + 2 * a) * r + 2 * pi * r
    assert rig.figure("14 / line 1 / lower / trim-chain", "length_round", INCH) == pytest.approx(by_hand)


def test_a_choked_chain_has_no_angle_between_its_legs(one_set: Ask) -> None:
    text = a_set(lower=CHAIN_END.replace("attachment: wrap", "attachment: choke"))
    assert one_set(text).answer("14 / line 1 / lower / trim-chain", "legs_angle").value is NONE


def test_the_rear_clips_of_an_underhung_block(one_set: Ask) -> None:
    """At a right angle T down and T sideways; axle 4 in below clips 8 in apart: T/2 + T/2."""
    block = LOFT_BLOCK.replace(
        "mount: underhung", "mount: underhung, axle_height: 4 in, base_ahead: 3 in, base_behind: 5 in"
    )
    rig = one_set(a_set(loft=block))
    tension = rig.figure("14 / line 1", "reaction", LB) + 0.11 * 56.5
    assert rig.figure("14 / line 1 / loft-block", "clip_pull", LB) == pytest.approx(tension, rel=1e-6)
    standing = LOFT_BLOCK.replace("mount: underhung", "mount: upright")
    assert one_set(a_set(loft=standing)).answer("14 / line 1 / loft-block", "clip_pull").value is NONE


STANDING = (
    "fixed_load: 150 lb\nimbalance: 90 lb\nheavy_side: arbor\nrope_lock: {holds: 50 lb}\n"
    "hand_line_tension: 40 lb"
)


def test_an_arbor_heavy_set_hangs_on_the_hand_line_too(one_set: Ask) -> None:
    rig = one_set(a_set(more=STANDING))
    assert rig.figure("14", "hand_line_held", LB) == pytest.approx(40 + 90)
    batten_heavy = one_set(a_set(more=STANDING.replace("heavy_side: arbor", "heavy_side: batten")))
    assert batten_heavy.figure("14", "hand_line_held", LB) == pytest.approx(40)


def test_a_batten_heavy_set_lifts_its_tension_block(one_set: Ask) -> None:
    """2 x (40 + 90) less 60 lb; arbor heavy 2 x 40 less 60."""
    more = STANDING + "\ntension_block: {weight: 60 lb}"
    heavy = one_set(a_set(more=more.replace("heavy_side: arbor", "heavy_side: batten")))
    assert heavy.figure("14 / tension block", "lift", LB) == pytest.approx(200)
    assert one_set(a_set(more=more)).figure("14 / tension block", "lift", LB) == pytest.approx(20)


def test_a_set_that_runs_free(one_set: Ask) -> None:
    """150 lb on the batten, 240 on the arbor, 54 ft: a = g x 90 / 390, v = sqrt(2 a h); stopped in 3 in it takes
    W v^2 / (2 g s) + W.
    """
    rig = one_set(a_set(more=STANDING))
    v = sqrt(2 * G * 90 / 390 * 54)
    assert rig.figure("14", "run_away_speed", FT) == pytest.approx(v, rel=1e-6)
    assert rig.figure("14", "run_away_stop", LB) == pytest.approx(240 * v**2 / (2 * G * 0.25) + 240, rel=1e-6)
    assert rig.figure("14", "run_away_energy", LB * FT) == pytest.approx(90 * 54)


def test_a_set_that_may_lean_either_way_may_stand_still(one_set: Ask) -> None:
    rig = one_set(a_set(more=STANDING.replace("heavy_side: arbor\n", "")))
    low, high = rig.bounds("14", "run_away_speed", FT)
    assert low == 0
    assert high > 30


def test_the_lock_holds_what_hangs_before_its_counterweight_does(one_set: Ask) -> None:
    assert one_set(a_set(more=STANDING)).figure("14", "takes_unbalanced", LB) == pytest.approx(50)
    double = one_set(a_set(more=STANDING, system="double-purchase"))
    assert double.figure("14", "takes_unbalanced", LB) == pytest.approx(25)


def test_the_pull_to_expect_at_the_hand_line(one_set: Ask) -> None:
    """90 lb out of balance, and 1 to 5 % of the pulls of all lines for the loft and the head block."""
    rig = one_set(a_set(more=STANDING))
    pulls = sum(rig.figure(f"14 / line {n}", "reaction_present", LB) for n in range(1, 6))
    low, high = rig.bounds("14", "hand_line_pull_expected", LB)
    assert (low, high) == pytest.approx((90 + 0.02 * pulls, 90 + 0.10 * pulls))


def test_the_pull_to_expect_is_friction_at_least_whichever_side_is_heavy(one_set: Ask) -> None:
    """Of raising and lowering one goes against the out-of-balance: the greater pull is |U| + f, never below f."""
    rig = one_set(a_set(more=STANDING.replace("heavy_side: arbor\n", "").replace("90 lb", "at most 90 lb")))
    pulls = sum(rig.figure(f"14 / line {n}", "reaction_present", LB) for n in range(1, 6))
    low, high = rig.bounds("14", "hand_line_pull_expected", LB)
    assert (low, high) == pytest.approx((0.02 * pulls, 90 + 0.10 * pulls))
