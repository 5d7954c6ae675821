"""Batten side against arbor side, and what the arbor would need; figures by virtual work, by hand."""

import pytest
from tests.facts.rigs_in_text import FT, INCH, LB, Ask, a_set

from plumbtrue.facts.working_text import working_text
from plumbtrue.quantities.values import UNKNOWN

PIPE = 48 * 0.79950 * 490 / 144
"""The demo's batten, by area of the tube and steel of 490 lb/ft3 [lb]."""
DOUBLE = "weight: 110 lb, travel: 27'-0\", clear_height: 97 in, weights: {brick-28: 6}"


def test_an_empty_set_of_the_demo_house(one_set: Ask) -> None:
    """140.6 lb of batten and ends against 60 lb of arbor and three bricks of 28: 3.4 lb arbor heavy."""
    rig = one_set(a_set())
    assert rig.figure("14", "fixed_load_computed", LB) == pytest.approx(PIPE + 10, abs=0.01)
    assert rig.figure("14 / arbor", "counterweight", LB) == pytest.approx(84)
    assert rig.figure("14", "imbalance_computed", LB) == pytest.approx(PIPE + 10 - 144, abs=0.01)


def test_double_purchase_wants_two_for_one(one_set: Ask) -> None:
    """2 x 140.6 less 110 of arbor less 168 of bricks, at the hand line."""
    rig = one_set(a_set(system="double-purchase", arbor=DOUBLE))
    assert rig.figure("14", "purchase") == 2
    assert rig.figure("14", "imbalance_computed", LB) == pytest.approx(2 * (PIPE + 10) - 110 - 168, abs=0.02)


@pytest.mark.parametrize(
    ("system", "arbor", "expected", "bricks_in"),
    [
        pytest.param(
            "single-purchase", "weight: 60 lb", 750 + PIPE + 10 - 60, 59, id="single purchase: 831 lb"
        ),
        pytest.param(
            "double-purchase", "weight: 110 lb", 2 * (750 + PIPE + 10) - 110, 119, id="double: twice the load"
        ),
    ],
)
def test_counterweight_for_the_posted_load(
    one_set: Ask, system: str, arbor: str, expected: float, bricks_in: float
) -> None:
    """14 lb an inch in the demo house: whole bricks of 28 and 14 lb."""
    rig = one_set(a_set(system=system, arbor=arbor))
    assert rig.figure("14 / arbor", "counterweight_for_posted", LB) == pytest.approx(expected, abs=0.02)
    assert rig.figure("14 / arbor", "stack_for_posted", INCH) == pytest.approx(bricks_in)
    over = 14 * bricks_in - expected
    told = " ".join(working_text(rig.answer("14 / arbor", "stack_for_posted")).split())
    assert f"left over {over:.1f} lb" in told, "what the bricks weigh more than is asked, as everywhere else"


def test_a_posting_that_counts_everything_leaves_the_fixed_load_out(one_set: Ask) -> None:
    rig = one_set(a_set(more="posted_counts: all"))
    assert rig.figure("14 / arbor", "counterweight_for_posted", LB) == pytest.approx(750 - 60)


def test_bricks_within_bounds(one_set: Ask) -> None:
    house = "bricks: [{key: brick-28, weight: 28 lb +/- 2 %, thickness: 2 in, stock: 372}]"
    rig = one_set(a_set(), house=house)
    assert rig.bounds("14 / arbor", "counterweight", LB) == pytest.approx((84 * 0.98, 84 * 1.02))
    assert rig.missing("14 / arbor", "counterweight") == {"brick-28: weight"}


@pytest.mark.parametrize("fact", ["weight", "thickness"])
def test_bricks_known_only_from_below_stack_to_no_known_height(one_set: Ask, fact: str) -> None:
    """An endless brick stopped the whole run."""
    brick = "{key: brick-28, weight: 28 lb, thickness: 2 in, stock: 372}"
    house = f"bricks: [{brick.replace(fact + ':', fact + ': at least')}]"
    rig = one_set(a_set(), house=house)
    assert rig.missing("14 / arbor", "stack_for_posted") == {f"brick-28: {fact}"}


def test_what_the_plate_counts(one_set: Ask) -> None:
    weights = one_set(a_set())
    everything = one_set(
        a_set(arbor="weight: 60 lb, weights: {brick-28: 3}").replace("of: weights", "of: all")
    )
    assert weights.figure("14 / arbor", "carried", LB) == pytest.approx(84)
    assert everything.figure("14 / arbor", "carried", LB) == pytest.approx(144)


def test_the_stack_has_its_plates(one_set: Ask) -> None:
    rig = one_set(a_set(arbor="weight: 60 lb, plates_thickness: 1-1/2 in, weights: {brick-28: 3}"))
    assert rig.figure("14 / arbor", "stack", INCH) == pytest.approx(7.5)


@pytest.mark.parametrize(
    ("heights", "expected"),
    [
        pytest.param("[2 in, 4 in]", 2, id="plates at every brick"),
        pytest.param("none", 6, id="no plate at all"),
        pytest.param("[5 in]", 5, id="the lowest gap is the widest"),
    ],
)
def test_the_greatest_gap_between_spreaders(one_set: Ask, heights: str, expected: float) -> None:
    rig = one_set(a_set(arbor=f"weight: 60 lb, weights: {{brick-28: 3}}, spreader_heights: {heights}"))
    assert rig.figure("14 / arbor", "spreader_gap", INCH) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("heights", "expected"),
    [
        pytest.param("none", 6, id="the top plate is no stack"),
        pytest.param("[2 in]", 4, id="nor is the spreader"),
    ],
)
def test_the_plates_themselves_are_no_stack(one_set: Ask, heights: str, expected: float) -> None:
    """Three bricks of 2 in: 6 in of stack, whatever the plates between and above them measure."""
    arbor = "weight: 60 lb, plates_thickness: 1-1/2 in, weights: {brick-28: 3}, spreader_heights: "
    rig = one_set(a_set(arbor=arbor + heights))
    assert rig.figure("14 / arbor", "spreader_gap", INCH) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("system", "travel", "expected"),
    [
        pytest.param("single-purchase", "50'-0\"", 55, id="single: 2 N m y"),
        pytest.param("double-purchase", "25'-0\"", 41.25, id="double: 1.5 N m y"),
    ],
)
def test_rope_passes_over_with_the_travel(one_set: Ask, system: str, travel: str, expected: float) -> None:
    """Five lines of 1/4 in at 0.11 lb/ft over 50 ft of batten travel: potential energy of the rope."""
    rig = one_set(a_set(system=system, arbor=f"weight: 60 lb, travel: {travel}"))
    assert rig.figure("14", "rope_weight_shift", LB) == pytest.approx(expected)


def test_a_chain_in_a_bight_of_four_times_the_ropes_evens_it_out(one_set: Ask) -> None:
    chain = "compensation: chain\ncompensation_weight: 2.2 lb/ft\ncompensation_hung_as: bight"
    rig = one_set(a_set(arbor="weight: 60 lb, travel: 50'-0\"").replace("compensation: none", chain))
    assert rig.figure("14", "rope_weight_shift", LB) == pytest.approx(0, abs=1e-9)


def test_an_unknown_compensation_may_take_back_all(one_set: Ask) -> None:
    rig = one_set(a_set(arbor="weight: 60 lb, travel: 50'-0\"").replace("compensation: none\n", ""))
    assert rig.bounds("14", "rope_weight_shift", LB) == pytest.approx((0, 55))
    assert rig.missing("14", "rope_weight_shift") == {"14: compensation"}


def test_two_pulls_tell_friction(one_set: Ask) -> None:
    """35 lb up and 11 lb down: 23 lb of friction, 12 lb out of balance (statics)."""
    rig = one_set(a_set(more="pull_to_raise: 35 lb\npull_to_lower: 11 lb"))
    assert rig.figure("14", "friction", LB) == pytest.approx(23)
    assert rig.figure("14", "hand_line_pull", LB) == pytest.approx(35)


def test_pulls_that_contradict_each_other_are_refused(one_set: Ask) -> None:
    rig = one_set(a_set(more="pull_to_raise: 5 lb\npull_to_lower: -11 lb"))
    assert rig.answer("14", "friction").value == UNKNOWN
    assert "contradict" in (rig.answer("14", "friction").refusal or "")


def test_a_run_away_over_the_whole_travel(one_set: Ask) -> None:
    """300 lb over 45 ft: 13,500 ft-lb."""
    rig = one_set(a_set(arbor="weight: 60 lb, travel: 45'-0\"", more="imbalance: 300 lb\nheavy_side: arbor"))
    assert rig.figure("14", "run_away_energy", LB * FT) == pytest.approx(13500)


def test_the_lock_by_its_makers_figure(one_set: Ask) -> None:
    rig = one_set(a_set(more="imbalance: 30 lb\nheavy_side: batten\nrope_lock: {holds: 50 lb}"))
    assert rig.figure("14", "lock_utilisation") == pytest.approx(0.6)


def test_bricks_that_nobody_counted_leave_the_balance_unknown(one_set: Ask) -> None:
    rig = one_set(a_set(arbor="weight: 60 lb"))
    assert rig.answer("14", "imbalance_computed").value == UNKNOWN
    assert rig.missing("14", "imbalance_computed") == {"14 / arbor: weights"}


def test_an_electric_that_says_nothing_of_a_raceway_may_carry_one(one_set: Ask) -> None:
    electric = a_set().replace("use: general", "use: electric").replace(", raceway: none", "")
    low, high = one_set(electric).bounds("14", "fixed_load_computed", LB)
    assert low == pytest.approx(PIPE + 10, abs=0.01)
    assert high == pytest.approx(PIPE + 10 + 48 * 6, abs=0.01)
    assert one_set(electric).missing("14", "fixed_load_computed") == {"14 / batten: raceway"}


NO_WEIGHTS = "weight: 60 lb, weights: unknown"


@pytest.mark.parametrize(
    ("more", "arbor", "expected"),
    [
        pytest.param("imbalance: 30 lb", "", 30, id="what was measured goes first"),
        pytest.param("imbalance: none", "", 0, id="none was found"),
        pytest.param("imbalance: unknown", "", 144 - 10 - PIPE, id="not measurable, so from the weights"),
        pytest.param(
            "",
            "weight: 60 lb, weights: {brick-28: 6}",
            228 - 10 - PIPE,
            id="the weights of today go before what was vouched for",
        ),
    ],
)
def test_how_far_out_of_balance_it_stands(one_set: Ask, more: str, arbor: str, expected: float) -> None:
    rig = one_set(a_set(more=more, **({"arbor": arbor} if arbor else {})))
    assert rig.figure("14", "out_of_balance", LB) == pytest.approx(expected, abs=0.01)


def test_out_of_balance_as_vouched_for_where_the_weights_are_not_known(one_set: Ask) -> None:
    vouched = one_set(a_set(arbor=NO_WEIGHTS))
    assert vouched.bounds("14", "out_of_balance", LB) == pytest.approx((0, 25))
    nobody = one_set(a_set(arbor=NO_WEIGHTS).replace(", in_order: yes", ""))
    assert nobody.answer("14", "out_of_balance").value == UNKNOWN
    assert nobody.missing("14", "out_of_balance") == {"14: imbalance", "14 / arbor: weights"}


def test_a_plate_somewhere_above_a_height_is_not_taken_for_one_that_is_missing(one_set: Ask) -> None:
    """Sorted behind the others, it left the stack without any plate below the top one."""
    arbor = "weight: 60 lb, plates_thickness: 0 in, weights: {{brick-28: 30}}, spreader_heights: [{}]"
    known = one_set(a_set(arbor=arbor.format("20 in, 40 in")))
    assert known.figure("14 / arbor", "spreader_gap", INCH) == pytest.approx(20)
    vague = one_set(a_set(arbor=arbor.format("at least 20 in, 40 in")))
    low, high = vague.bounds("14 / arbor", "spreader_gap", INCH)
    assert low <= 20 <= high
