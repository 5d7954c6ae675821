"""Neighbours, places along the batten, what comes next in a path, what lies on the bridge."""

import pytest
from tests.facts.rigs_in_text import FT, INCH, LB, Ask, a_set

from plumbtrue.quantities.values import NONE, UNKNOWN, Choice, Name

SETS = """
    house: {name: x, batten_zero: stage-right}
    line_sets:
      - {number: 1, from_plaster_line: 1'-8"}
      - {number: 3, from_plaster_line: 3'-0"}
      - {number: 2, from_plaster_line: 2'-4"}
"""


def test_the_nearer_neighbour(asked: Ask) -> None:
    rig = asked(SETS)
    assert rig.figure("3", "spacing", INCH) == pytest.approx(8)
    assert [one.key for one in rig.facts.part(rig.thing("2"), "neighbours")] == ["1", "3"]  # type: ignore[union-attr]  # a tuple here
    assert [one.key for one in rig.facts.part(rig.thing("1"), "neighbours")] == ["2"]  # type: ignore[union-attr]  # as above


def test_a_set_in_an_unknown_place_may_be_the_nearest(asked: Ask) -> None:
    rig = asked(SETS + "      - {number: 4}\n")
    assert rig.bounds("3", "spacing", INCH) == pytest.approx((0, 8))
    assert rig.missing("3", "spacing") == {"4: from_plaster_line"}
    assert rig.facts.part(rig.thing("2"), "neighbours") == UNKNOWN


@pytest.mark.parametrize(
    ("zero", "at", "from_zero"),
    [
        pytest.param("stage-right", "SR 21'-0\"", 3, id="stage right from stage right"),
        pytest.param("stage-left", "SR 21'-0\"", 45, id="stage right from stage left"),
        pytest.param("stage-left", "12'-6\"", 12.5, id="a bare length counts from the zero end"),
        pytest.param("stage-right", "CL", 24, id="the centre line"),
    ],
)
def test_places_along_the_batten(asked: Ask, zero: str, at: str, from_zero: float) -> None:
    rig = asked(f"""
        house: {{name: x, batten_zero: {zero}}}
        line_sets: [{{number: 1, batten: {{length: 48'-0"}}, lift_lines: [{{mark: '1', at: {at}}}]}}]
    """)
    assert rig.figure("1 / line 1", "distance_from_zero", FT) == pytest.approx(from_zero)
    nearer = min(from_zero, 48 - from_zero)
    assert rig.figure("1 / line 1", "distance_to_pipe_end", FT) == pytest.approx(nearer)


def test_a_wrap_sits_where_its_line_does(one_set: Ask) -> None:
    rig = one_set(a_set())
    assert rig.figure("14 / line 1 / lower / trim-chain", "distance_to_pipe_end", FT) == pytest.approx(3)


def test_spans_and_overhangs(one_set: Ask) -> None:
    rig = one_set(a_set())
    assert rig.figure("14 / batten", "longest_span", FT) == pytest.approx(10.5)
    assert rig.figure("14 / batten", "overhang", FT) == pytest.approx(3)
    assert rig.figure("14 / batten", "overhang_ratio") == pytest.approx(3 / 10.5)


@pytest.mark.parametrize(
    ("at", "share", "beyond"),
    [
        pytest.param("16'-1 1/2\"", 0.25, "no", id="a quarter into a span"),
        pytest.param("18'-9\"", 0.5, "no", id="in the middle"),
        pytest.param("1'-0\"", None, "yes", id="in an overhang"),
    ],
)
def test_where_a_joint_lies(one_set: Ask, at: str, share: float | None, beyond: str) -> None:
    rig = one_set(a_set(splices=f"[{{at: {at}, type: coupling}}]"))
    joint = f"14 / batten / splice {at}"
    assert rig.answer(joint, "in_overhang").value == Choice(frozenset({beyond}))
    if share is None:
        assert rig.answer(joint, "span_share").value == NONE
    else:
        assert rig.figure(joint, "span_share") == pytest.approx(share)


def test_parts_know_what_comes_next(one_set: Ask) -> None:
    rig = one_set(a_set())
    thimble = rig.thing("14 / line 1 / lower / thimble")
    assert rig.facts.part(thimble, "next_part") is rig.thing("14 / line 1 / lower / shackle")
    assert rig.facts.part(thimble, "previous_part") is rig.thing("14 / line 1 / lower / swage-sleeve")
    assert rig.facts.part(thimble, "own_rope") is rig.thing("14 / line 1 / rope")
    assert rig.facts.exact(thimble, "path_position") == 2
    assert rig.facts.part(rig.thing("14 / line 1 / lower / trim-chain"), "next_part") == NONE


def test_an_unnamed_part_may_stand_anywhere(one_set: Ask) -> None:
    rig = one_set(
        a_set(lower="[{part: swage-sleeve, size: 1/4 in}, unknown, {part: trim-chain, size: 1/4 in}]")
    )
    sleeve = rig.thing("14 / line 1 / lower / swage-sleeve")
    assert rig.facts.part(sleeve, "next_part") == UNKNOWN
    assert rig.answer("14 / line 1", "lower_made_of").value == UNKNOWN


def test_ends_are_told_apart_by_how_they_are_made(one_set: Ask) -> None:
    rig = one_set(
        a_set(
            except_="{lines: [2], lower: [{part: wire-rope-clips, count: 3}, thimble, {part: batten-clamp}]}"
        )
    )
    assert rig.answer("14 / line 1", "lower_made_of").value == Name("swage-sleeve, no turnbuckle, trim-chain")
    assert rig.answer("14 / line 2", "lower_made_of").value == Name(
        "wire-rope-clips, no turnbuckle, batten-clamp"
    )


def test_a_head_block_has_every_rope_of_its_set(one_set: Ask) -> None:
    rig = one_set(a_set())
    ropes = rig.facts.part(rig.thing("14 / head block"), "ropes")
    assert isinstance(ropes, tuple)
    assert len(ropes) == 5
    assert rig.figure("14 / head block", "ratio_to_rope") == pytest.approx(32)


BRIDGE = """
    house:
      name: x
      bricks: [{key: b28, weight: 28 lb, thickness: 2 in}, {key: b14, weight: 14 lb, thickness: 1 in}]
      bridges:
        - {key: upper, bays: [{key: A, area: 60 ft2, weights: {b28: 40, b14: 12}}%s]}
    line_sets: []
"""


def test_the_fullest_bay_of_a_bridge(asked: Ask) -> None:
    """40 x 28 + 12 x 14 = 1,288 lb on 60 ft2."""
    rig = asked(BRIDGE % "")
    assert rig.figure("loading bridge upper", "stored_load", LB / FT**2) == pytest.approx(1288 / 60)
    assert rig.figure("loading bridge upper", "stored_weight", LB) == pytest.approx(1288)


def test_a_bay_that_nobody_counted_leaves_it_open_above(asked: Ask) -> None:
    rig = asked(BRIDGE % ", {key: B, area: 60 ft2}")
    low, high = rig.bounds("loading bridge upper", "stored_load", LB / FT**2)
    assert low == pytest.approx(1288 / 60)
    assert high == float("inf")
    assert rig.missing("loading bridge upper", "stored_load") == {"loading bridge upper / bay B: weights"}
