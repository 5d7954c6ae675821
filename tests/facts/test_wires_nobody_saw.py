"""A rope of which a part was not looked at may have broken wires there, whatever was counted elsewhere."""

import pytest
from tests.facts.rigs_in_text import Ask

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import UNKNOWN

ROPE = "lift_lines: [{mark: '1', rope: {family: wire, broken_wires_lay: 0%s}}]"
PATH = "14 / line 1 / rope"


def test_nothing_hides_where_the_whole_length_was_seen(one_set: Ask) -> None:
    rig = one_set(ROPE % ", length_seen: 100 %")
    assert rig.answer(PATH, "broken_wires_unseen").value == Bounds.exactly(0)


@pytest.mark.parametrize("seen", ["90 %", "at least 80 %"])
def test_any_number_may_hide_where_part_was_not_seen(one_set: Ask, seen: str) -> None:
    rig = one_set(ROPE % f", length_seen: {seen}")
    assert rig.answer(PATH, "broken_wires_unseen").value == Bounds(0, float("inf"))
    assert rig.missing(PATH, "broken_wires_unseen") == {f"{PATH}: length_seen"}


def test_nobody_knows_where_nobody_says_what_was_seen(one_set: Ask) -> None:
    rig = one_set(ROPE % "")
    assert rig.answer(PATH, "broken_wires_unseen").value == UNKNOWN
    assert rig.missing(PATH, "broken_wires_unseen") == {f"{PATH}: length_seen"}


def test_a_wedge_socket_in_order_has_a_long_tail_and_a_sleeve_a_short_one(one_set: Ask) -> None:
    """A wedge socket's tail is 6 in or more, a pressed sleeve's just stands out (common practice)."""
    seen = "seen: {by: a, on: 2026-02-10, how: by-hand, in_order: yes}"
    line = "lift_lines: [{mark: '1', upper: [wedge-socket], lower: [swage-sleeve]}]"
    rig = one_set(f"{seen}\n{line}")
    assert rig.answer("14 / line 1 / upper / wedge-socket", "tail_length").value == Bounds(
        0.1524, float("inf")
    )
    assert rig.answer("14 / line 1 / lower / swage-sleeve", "tail_length").value == Bounds(0.003175, 0.01905)
