"""What an inspector can check of travel and balance with a pocket calculator."""

import pytest
from tests.practice.judged_in_text import judged

BRICKS = "bricks: [{key: steel, weight: 20 lb, thickness: 1 in}]"


def a_set(system: str, more: str, arbor: str) -> str:
    return (
        f"plumbtrue: rig/1\nhouse: {{name: invented, {BRICKS}}}\nline_sets: [{{number: 14, system: {system}, "
        f"held_by: lock, fixed_load: 130 lb, {more}, "
        f"arbor: {{weight: 90 lb, clear_height: 84 in, {arbor}}}}}]\n"
    )


@pytest.mark.parametrize(
    ("drop", "plumb", "steep"),
    [
        pytest.param("22'-0\"", "met", "met", id="40 ft: 0.7 degrees"),
        pytest.param("59'-0\"", "finding", "met", id="3 ft: 9.5 degrees"),
        pytest.param("59'-3\"", "met", "finding", id="2 ft 9 in: 10.3 degrees, told once"),
    ],
)
def test_a_small_offset_at_the_deck_is_steep_near_the_grid(drop: str, plumb: str, steep: str) -> None:
    """Six inches off under a groove at 62 ft, by the tangent: harmless low down."""
    text = (
        f"plumbtrue: rig/1\nhouse: {{name: invented}}\nline_sets: [{{number: 14, system: single-purchase, "
        f"high_trim_found: {drop}, "
        "lift_lines: [{mark: '1', role: lift, pick_off_along: 6 in, pick_off_across: 0 in, "
        "lower: [{part: knot, type: clove-hitch, stack_length: 3 in}], "
        "blocks: [{part: loft-block, groove_height: 62'-0\", low_point: 61'-6\"}]}]}]\n"
    )
    found = judged(text, ["drop-not-plumb", "drop-steep-at-trim"])
    assert found["drop-not-plumb", "14 / line 1"] == plumb
    assert found["drop-steep-at-trim", "14 / line 1"] == steep


@pytest.mark.parametrize(
    ("system", "needed", "slug"),
    [
        pytest.param("single-purchase", 130 + 500 - 90, "arbor-too-small", id="one for one"),
        pytest.param("double-purchase", 2 * (130 + 500) - 90, "dp-arbor-too-small", id="two for one"),
    ],
)
def test_an_arbor_is_large_enough_to_the_pound(system: str, needed: int, slug: str) -> None:
    """Virtual work: the arbor and its weights fall half as far as a double-purchase batten rises."""
    enough = a_set(system, "posted_total: 500 lb", f"capacity: {needed} lb")
    short = a_set(system, "posted_total: 500 lb", f"capacity: {needed - 1} lb")
    assert judged(enough, [slug])[slug, "14"] == "met"
    assert judged(short, [slug])[slug, "14"] == "finding"


@pytest.mark.parametrize(
    ("bricks", "expected"),
    [
        pytest.param(20, "finding", id="490 lb against 550: 60 lb batten heavy"),
        pytest.param(21, "met", id="40 lb batten heavy"),
        pytest.param(25, "met", id="40 lb arbor heavy"),
        pytest.param(26, "finding", id="60 lb arbor heavy"),
    ],
)
def test_a_parked_set_is_weighed_by_its_bricks(bricks: int, expected: str) -> None:
    text = a_set("single-purchase", "present_load: 420 lb", f"weights: {{steel: {bricks}}}")
    assert judged(text, ["set-parked-out-of-balance"])["set-parked-out-of-balance", "14"] == expected


def test_weights_of_today_are_not_hidden_by_a_statement_of_last_year() -> None:
    """Found in order with the border on; the border is gone and its bricks are not."""
    text = a_set(
        "single-purchase",
        "present_load: none, seen: {by: inspector, on: 2025-06-10, how: with-tools, in_order: yes}",
        "weights: {steel: 23}",
    )
    assert judged(text, ["set-parked-out-of-balance"])["set-parked-out-of-balance", "14"] == "finding"
