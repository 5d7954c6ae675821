"""Diameters, wires, stretch of ropes; ages and last days by what is on record."""

from datetime import date

import pytest
from tests.facts.rigs_in_text import FT, INCH, LB, Ask

from plumbtrue.quantities.calendar import DAY, MONTH
from plumbtrue.quantities.values import NONE, UNKNOWN

ROPE = "14 / line 1 / rope"


def line(rope: str) -> str:
    return f"lift_lines: [{{mark: '1', rope: {{family: wire, {rope}}}}}]"


@pytest.mark.parametrize(
    ("written", "loss"),
    [
        pytest.param(
            "readings: [{place: loft-seat, across: [0.236 in, 0.240 in]}]", 0.056, id="the smaller of two"
        ),
        pytest.param("diameter_measured: 0.2375 in", 0.05, id="a single figure"),
        pytest.param(
            "readings: [{place: lower, across: [0.249 in]}, {place: arbor, across: [0.241 in]}]",
            0.036,
            id="worst place",
        ),
    ],
)
def test_loss_of_diameter(one_set: Ask, written: str, loss: float) -> None:
    """0.2375 in of a nominal 0.25 is exactly the 5 % of 29 CFR 1926.1413(a)(2)(ii)."""
    rig = one_set(line(f"diameter: 1/4 in, {written}"))
    assert rig.figure(ROPE, "diameter_loss") == pytest.approx(loss)


def test_loss_from_the_size_when_new(one_set: Ask) -> None:
    rig = one_set(line("diameter: 1/4 in, diameter_as_new: 0.254 in, diameter_measured: 0.247 in"))
    assert rig.figure(ROPE, "diameter_loss_from_new") == pytest.approx(1 - 0.247 / 0.254)


def test_no_size_when_new_is_no_loss_from_it(one_set: Ask) -> None:
    rig = one_set(line("diameter: 1/4 in, diameter_as_new: none, diameter_measured: 0.247 in"))
    assert rig.answer(ROPE, "diameter_loss_from_new").value == NONE


def test_readings_count_for_more_than_a_statement_in_order(one_set: Ask) -> None:
    seen = "seen: {by: a, on: 2026-02-10, how: with-tools, in_order: yes}\n"
    rig = one_set(seen + line("diameter: 1/4 in, readings: [{place: lower, across: [0.249 in, 0.250 in]}]"))
    assert rig.figure(ROPE, "smallest_diameter", INCH) == pytest.approx(0.249)
    assert rig.figure(ROPE, "least_over_largest") == pytest.approx(0.249 / 0.250)


def test_in_order_without_readings_is_a_bound(one_set: Ask) -> None:
    seen = "seen: {by: a, on: 2026-02-10, how: with-tools, in_order: yes}\n"
    rig = one_set(seen + line("diameter: 1/4 in"))
    assert rig.bounds(ROPE, "diameter_loss")[1] == pytest.approx(0.03)


def test_a_place_without_a_reading_leaves_the_smallest_open_below(one_set: Ask) -> None:
    rig = one_set(line("diameter: 1/4 in, readings: [{place: lower, across: [0.249 in]}, unknown]"))
    low, high = rig.bounds(ROPE, "smallest_diameter", INCH)
    assert (low, high) == pytest.approx((0, 0.249))


@pytest.mark.parametrize(
    ("construction", "wires"),
    [
        pytest.param("7x19", (133, 133), id="7x19"),
        pytest.param("7x7", (49, 49), id="7x7"),
        pytest.param("6x19-seale", (114, 114), id="6x19 Seale"),
        pytest.param("6x19", (90, 156), id="a class of several patterns"),
    ],
)
def test_wires_by_construction(one_set: Ask, construction: str, wires: tuple[int, int]) -> None:
    """7 x 19, 7 x 7, 6 x 19; the 6x19 class has 15 to 26 wires a strand (from memory)."""
    rig = one_set(line(f"construction: {construction}"))
    assert rig.bounds(ROPE, "wire_count") == wires


def test_stiffness_of_a_usual_line(one_set: Ask) -> None:
    """75 ft of 1/4 in 7x19: some 400 lb/in. Metal area 0.02612 in2 (factors of EN 12385-4)."""
    rig = one_set(line("diameter: 1/4 in, construction: 7x19, core: strand, length: 75'-0\""))
    low, high = rig.bounds(ROPE, "stiffness", LB / INCH)
    assert low == pytest.approx(13.3e6 * 0.026125 / 900, rel=1e-3)
    assert high == pytest.approx(14.8e6 * 0.026125 / 900, rel=1e-3)
    assert low < 400 < high + 30


def test_weight_of_rope_by_table(one_set: Ask) -> None:
    rig = one_set(line("diameter: 1/4 in, construction: 7x19"))
    assert rig.figure(ROPE, "weight_per_length", LB / FT) == pytest.approx(0.110)


def test_no_row_no_weight(one_set: Ask) -> None:
    rig = one_set(line("diameter: 9/32 in, construction: 7x19"))
    assert rig.answer(ROPE, "weight_per_length").value == UNKNOWN
    assert "no table row" in (rig.answer(ROPE, "weight_per_length").refusal or "")


def test_age_of_a_rope_to_the_day(one_set: Ask) -> None:
    rig = one_set(line("installed: 2006-03-02"), on=date(2026, 3, 2))
    assert rig.figure(ROPE, "age") == pytest.approx(240 * MONTH)


def test_age_of_a_rope_of_which_only_a_bound_is_known(one_set: Ask) -> None:
    rig = one_set(line("installed: before 1990"), on=date(2026, 1, 1))
    low, high = rig.bounds(ROPE, "age", 12 * MONTH)
    assert low == pytest.approx(36, abs=0.01)
    assert high == float("inf")


def test_age_of_a_set_runs_from_its_last_reconditioning(one_set: Ask) -> None:
    rig = one_set("built: 1962\nreconditioned: 2016-03-02", on=date(2026, 3, 2))
    assert rig.figure("14", "age", 12 * MONTH) == pytest.approx(10)


def test_nobody_knows_whether_it_was_reconditioned(one_set: Ask) -> None:
    rig = one_set("built: 1962-03-02", on=date(2026, 3, 2))
    assert rig.bounds("14", "age", 12 * MONTH) == pytest.approx((0, 64))
    assert rig.missing("14", "age") == {"14: reconditioned"}


def test_the_fire_curtain_counts_days_from_the_later_of_test_and_drop(asked: Ask) -> None:
    """5 December 2025 to 13 April 2026: 129 days."""
    rig = asked(
        "house: {name: x, fire_curtain: {tested: 2025-12-05, dropped: 2025-06-01}}\nline_sets: []\n",
        on=date(2026, 4, 13),
    )
    assert rig.figure("fire curtain", "age_of_test", DAY) == pytest.approx(129)


WALK = "{key: %s, on: %s, by: a, qualification: %s, how: %s, every_part: %s, not_seen: %s}"


def walks(*inspections: str) -> str:
    return f"inspections: [{', '.join(inspections)}]"


def test_the_last_inspection_by_somebody_competent(one_set: Ask) -> None:
    house = walks(
        WALK % ("a", "2024-05-01", "qualified", "by-eye", "no", "none"),
        WALK % ("b", "2023-05-01", "licensed", "by-hand", "yes", "none"),
        WALK % ("c", "2025-05-01", "crew", "by-hand", "yes", "none"),
    )
    rig = one_set("system: single-purchase", house=house)
    assert rig.figure("14", "last_inspection") == date(2024, 5, 1).toordinal()
    assert rig.figure("14", "last_close_inspection") == date(2023, 5, 1).toordinal()


def test_an_inspection_that_left_the_set_out_does_not_count(one_set: Ask) -> None:
    house = walks(WALK % ("a", "2024-05-01", "qualified", "by-eye", "no", "['set 14']"))
    assert one_set("system: hemp", house=house).answer("14", "last_inspection").value == NONE


def test_an_inspection_by_nobody_knows_whom_may_count(one_set: Ask) -> None:
    house = walks("{key: a, on: 2024-05-01}", WALK % ("b", "2022-05-01", "qualified", "by-eye", "no", "none"))
    rig = one_set("system: hemp", house=house)
    expected = (date(2022, 5, 1).toordinal(), date(2024, 5, 1).toordinal())
    assert rig.bounds("14", "last_inspection") == expected
    assert rig.missing("14", "last_inspection") == {"inspection a: qualification"}


def test_without_any_list_nobody_can_tell(one_set: Ask) -> None:
    rig = one_set("system: hemp")
    assert rig.answer("14", "last_inspection").value == UNKNOWN
    assert rig.missing("14", "last_inspection") == {"14: inspections", "test house: inspections"}


def test_an_event_that_names_the_set(one_set: Ask) -> None:
    house = (
        "events: [{on: 2025-11-20, what: run-away, touched: ['14']}, "
        "{on: 2026-01-05, what: drop, touched: ['2']}]"
    )
    rig = one_set("system: single-purchase", house=house)
    assert rig.figure("14", "last_event") == date(2025, 11, 20).toordinal()


def test_no_event_on_record(one_set: Ask) -> None:
    assert one_set("system: hemp", house="events: none").answer("14", "last_event").value == NONE
