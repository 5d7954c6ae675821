"""How far a statement that things are in order reaches, and that it never reaches further."""

import pytest
from tests.facts.rigs_in_text import Ask

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import NONE, UNKNOWN, Choice, WordSet

INCH = 0.0254

ROPE = "lift_lines: [{mark: '1', rope: {family: wire, diameter: 1/4 in%s}}]"


def a_rope(seen: str, written: str = "") -> str:
    return f"seen: {{{seen}}}\n" + ROPE % (f", {written}" if written else "")


def test_a_look_by_hand_vouches_for_what_a_hand_finds(one_set: Ask) -> None:
    rig = one_set(a_rope("by: inspector, on: 2026-02-10, how: by-hand, in_order: yes"))
    answer = rig.answer("14 / line 1 / rope", "corrosion")
    assert answer.value == NONE
    assert answer.recorded is not None
    assert answer.recorded.origin == "in-order"
    assert answer.recorded.text == "in order by statement of inspector on 2026-02-10"


@pytest.mark.parametrize("how", ["from-afar", "by-eye", "told", "paper"])
def test_a_look_from_further_off_does_not(one_set: Ask, how: str) -> None:
    rig = one_set(a_rope(f"by: crew, on: 2026-02-10, how: {how}, in_order: yes"))
    assert rig.answer("14 / line 1 / rope", "corrosion").value == UNKNOWN


def test_without_a_statement_nothing_is_vouched_for(one_set: Ask) -> None:
    rig = one_set(a_rope("by: inspector, on: 2026-02-10, how: with-tools"))
    assert rig.answer("14 / line 1 / rope", "corrosion").value == UNKNOWN
    assert rig.missing("14 / line 1 / rope", "corrosion") == {"14 / line 1 / rope: corrosion"}


def test_nothing_written_is_overruled_not_even_an_unknown(one_set: Ask) -> None:
    seen = "by: inspector, on: 2026-02-10, how: with-tools, in_order: yes"
    rig = one_set(a_rope(seen, "corrosion: unknown, broken_wires_lay: 3"))
    assert rig.answer("14 / line 1 / rope", "corrosion").value == UNKNOWN
    assert rig.answer("14 / line 1 / rope", "broken_wires_lay").value == Bounds(3, 3)


def test_what_a_thing_is_is_never_vouched_for(one_set: Ask) -> None:
    rig = one_set(a_rope("by: inspector, on: 2026-02-10, how: with-tools, in_order: yes, tested: yes"))
    assert rig.answer("14 / line 1 / rope", "breaking_strength").value == UNKNOWN
    assert rig.answer("14 / line 1 / rope", "installed").value == UNKNOWN


def test_a_test_is_vouched_for_only_by_who_tested(one_set: Ask) -> None:
    lock = "rope_lock: {range_least: 5/8 in}"
    looked = one_set(f"seen: {{by: a, on: 2026-02-10, how: with-tools, in_order: yes}}\n{lock}")
    tested = one_set(f"seen: {{by: a, on: 2026-02-10, how: with-tools, in_order: yes, tested: yes}}\n{lock}")
    assert looked.answer("14 / rope lock", "creep").value == UNKNOWN
    assert tested.answer("14 / rope lock", "creep").value == NONE


def test_several_words_leave_open_which(one_set: Ask) -> None:
    shackle = "lift_lines: [{mark: '1', upper: [{part: shackle, size: 3/8 in}]}]"
    rig = one_set(f"seen: {{by: a, on: 2026-02-10, how: by-hand, in_order: yes}}\n{shackle}")
    value = rig.answer("14 / line 1 / upper / shackle", "mousing").value
    assert value == Choice(frozenset({"wire", "lock", "cotter"}))


def test_none_or_polished_is_no_certain_none(one_set: Ask) -> None:
    block = "lift_lines: [{mark: '1', blocks: [{part: loft-block}]}]"
    rig = one_set(f"seen: {{by: a, on: 2026-02-10, how: by-hand, in_order: yes}}\n{block}")
    value = rig.answer("14 / line 1 / loft-block", "groove_state").value
    assert value == WordSet(frozenset(), perhaps=frozenset({"polished"}))


def test_a_bound_leans_on_the_fact_that_it_names(one_set: Ask) -> None:
    rig = one_set(a_rope("by: a, on: 2026-02-10, how: with-tools, in_order: yes"))
    value = rig.answer("14 / line 1 / rope", "diameter_measured").value
    assert isinstance(value, Bounds)
    assert value.low == pytest.approx(0.97 * 0.25 * INCH)
    assert value.high == float("inf")


def test_a_bound_that_leans_on_something_unknown_says_what(one_set: Ask) -> None:
    block = "lift_lines: [{mark: '1', rope: {family: wire}, blocks: [{part: loft-block}]}]"
    rig = one_set(f"seen: {{by: a, on: 2026-02-10, how: with-tools, in_order: yes}}\n{block}")
    assert rig.answer("14 / line 1 / loft-block", "groove_radius").value == UNKNOWN
    assert rig.missing("14 / line 1 / loft-block", "groove_radius") == {"14 / line 1 / rope: diameter"}


def test_a_groove_is_in_order_for_the_rope_of_its_line(one_set: Ask) -> None:
    block = "lift_lines: [{mark: '1', rope: {family: wire, diameter: 1/4 in}, blocks: [{part: loft-block}]}]"
    rig = one_set(f"seen: {{by: a, on: 2026-02-10, how: with-tools, in_order: yes}}\n{block}")
    value = rig.answer("14 / line 1 / loft-block", "groove_radius").value
    assert isinstance(value, Bounds)
    assert (value.low, value.high) == pytest.approx((0.128 * INCH, 0.15 * INCH))


def test_what_they_did_not_see_stays_unknown_with_all_that_is_in_it(one_set: Ask) -> None:
    rig = one_set("""
        seen: {by: a, on: 2026-02-10, how: by-hand, in_order: yes, not_seen: [head_block]}
        head_block: {grooves: 5, bolts: {count: 4, grade: j429-5}}
        lift_lines: [{mark: '1', blocks: [{part: loft-block}]}]
    """)
    assert rig.answer("14 / head block", "turns").value == UNKNOWN
    assert rig.answer("14 / head block / bolts", "witness_mark").value == UNKNOWN
    assert rig.answer("14 / line 1 / loft-block", "turns").value == Choice(frozenset({"freely"}))


@pytest.mark.parametrize(
    ("phrase", "of_14_seen"),
    [
        pytest.param("sleeve gauge of 16", True, id="of another set"),
        pytest.param("sleeve gauge of 14", False, id="of this set"),
        pytest.param("sleeve gauge of 12, 14 and 30", False, id="of several sets"),
        pytest.param("sleeve gauge", False, id="of all sets"),
        pytest.param("arbor label of 14", True, id="another fact"),
        pytest.param("14 / line 1 / lower", False, id="by path"),
        pytest.param("swage_sleeve.gauge", False, id="by the vocabulary's words"),
    ],
)
def test_what_was_left_out_may_be_said_in_words(one_set: Ask, phrase: str, of_14_seen: bool) -> None:
    """The phrases of a walk's report: "sleeve gauge of 16", "arbor label of 12"."""
    rig = one_set(f"""
        seen: {{by: a, on: 2026-02-10, how: with-tools, in_order: yes, not_seen: ["{phrase}"]}}
        lift_lines: [{{mark: '1', lower: [{{part: swage-sleeve, size: 1/4 in}}]}}]
    """)
    value = rig.answer("14 / line 1 / lower / swage-sleeve", "gauge").value
    assert (value == Choice(frozenset({"pass"}))) is of_14_seen
    assert rig.answer("14 / line 1 / lower / swage-sleeve", "tail_covered").value != UNKNOWN or "/" in phrase


def test_a_hidden_part_is_unknown_whatever_was_written(one_set: Ask) -> None:
    rig = one_set("""
        seen: {by: a, on: 2026-02-10, how: with-tools, in_order: yes}
        lift_lines: [{mark: '1', lower: [{part: swage-sleeve, size: 1/4 in, hidden_by: tape, gauge: pass}]}]
    """)
    sleeve = "14 / line 1 / lower / swage-sleeve"
    assert rig.answer(sleeve, "gauge").value == UNKNOWN
    assert [one.why for one in rig.answer(sleeve, "gauge").missing] == ["hidden by tape"]
    assert rig.answer(sleeve, "size").value == Bounds(0.25 * INCH, 0.25 * INCH)
    assert rig.answer(sleeve, "hidden_by").value == Choice(frozenset({"tape"}))


def test_a_rope_with_a_hidden_stretch_is_not_vouched_for(one_set: Ask) -> None:
    seen = "by: a, on: 2026-02-10, how: with-tools, in_order: yes"
    rig = one_set(a_rope(seen, "hidden_lengths: [{length: 3 ft, by: paint}], broken_wires_lay: 2"))
    assert rig.answer("14 / line 1 / rope", "corrosion").value == UNKNOWN
    assert rig.answer("14 / line 1 / rope", "broken_wires_lay").value == Bounds(2, 2)


def test_a_list_of_faults_is_known_to_be_empty_by_statement(one_set: Ask) -> None:
    rig = one_set(a_rope("by: a, on: 2026-02-10, how: by-eye, in_order: yes"))
    rope = rig.thing("14 / line 1 / rope")
    assert rig.facts.part(rope, "joins") == NONE
    assert rig.facts.exact(rope, "joins") is None


def test_the_inspection_that_seen_names_speaks(one_set: Ask) -> None:
    rig = one_set(
        "seen: walk\n" + ROPE % "",
        house="inspections: [{key: walk, on: 2025-04-10, by: inspector, how: with-tools, in_order: yes, "
        "not_seen: [rope corrosion]}]",
    )
    assert rig.answer("14 / line 1 / rope", "broken_wires_lay").value == Bounds(0, 0)
    assert rig.answer("14 / line 1 / rope", "corrosion").value == UNKNOWN
