"""Keys that last, and lists that are as whole as they are written."""

from collections.abc import Callable

import pytest
from tests.rig.conftest import OneSet, ReadRig

from plumbtrue.quantities.values import NONE, UNKNOWN
from plumbtrue.rig.finding_things import thing_at, things_of
from plumbtrue.rig.rig import Plot

SET = """
    name: Border 3
    batten: {splices: [{at: 13'-6"}, {at: 28'-6", bolts: {count: 4}}]}
    lift_lines:
      at: {1: CL, 2: SL 7'-0"}
      each:
        rope: {}
        upper: [swage-sleeve, thimble, shackle, shackle]
        lower: [knot]
        blocks: [mule-block, loft-block]
    head_block: {bolts: {base: {count: 4}}}
    arbor: {}
    hand_line: {upper: [hand-splice]}
    alterations: [{on: 2016-07, what: reconditioned}, {on: 2016-07, what: reconditioned}]
    touches: [{with: duct}, {with: lamp}]
"""


@pytest.mark.parametrize(
    "path",
    [
        "",
        "batten",
        "batten / splice 13'-6\"",
        "batten / splice 28'-6\" / bolts",
        "line 1",
        "line 1 / rope",
        "line 2 / upper / swage-sleeve",
        "line 2 / upper / shackle",
        "line 2 / upper / shackle.2",
        "line 2 / lower / knot",
        "line 2 / loft-block",
        "head block / bolts base",
        "hand line / upper / hand-splice",
        "alteration 2016-07 reconditioned",
        "alteration 2016-07 reconditioned.2",
        "contact",
        "contact.2",
    ],
)
def test_a_thing_is_found_by_its_path(one_set: OneSet, path: str) -> None:
    thing = one_set(SET)(path)
    assert thing.path == (f"14 / {path}" if path else "14")


def test_numbers_are_names_taken_letter_by_letter(rig: ReadRig) -> None:
    house = rig("line_sets: [{number: 010}, {number: 10}, {number: 8}, {number: 1.10}]")
    assert [one.key for one in things_of(house, "line_set")] == ["1.10", "8", "010", "10"]


def test_inserting_a_line_leaves_the_other_paths_as_they_were(rig: ReadRig) -> None:
    before = rig("line_sets: [{number: 1, lift_lines: {at: {1: 2'-0\", 2: 9'-0\"}, each: {rope: {}}}}]")
    after = rig(
        "line_sets: [{number: 1, lift_lines: {at: {1: 2'-0\", 1a: 5'-0\", 2: 9'-0\"}, each: {rope: {}}}}]"
    )
    assert {thing.path for thing in before.house.below()} < {thing.path for thing in after.house.below()}


def test_a_thing_is_found_under_its_former_key_too(rig: ReadRig) -> None:
    house = rig(
        "line_sets: [{number: 14A, formerly: [14], lift_lines: [{mark: 3a, formerly: [3], rope: {}}]}]"
    )
    rope = thing_at(house, "14A / line 3a / rope")
    assert rope is not None
    assert thing_at(house, "14 / line 3 / rope") is rope
    assert thing_at(house, "14A/line 3a/rope") is rope
    assert thing_at(house, "set 14A / line 3a / rope") is rope
    assert thing_at(house, "house") is house.house


def test_nothing_is_found_where_nothing_is(rig: ReadRig) -> None:
    house = rig("line_sets: [{number: 14}]")
    assert thing_at(house, "14 / arbor") is None
    assert things_of(house, "no-such-kind") == ()


def test_things_are_found_by_kind_and_by_class(rig: ReadRig) -> None:
    house = rig("line_sets: [{number: 1, hand_line: {upper: [thimble, shackle]}}]")
    assert [one.kind.word for one in things_of(house, "part")] == ["thimble", "shackle"]
    assert [one.kind.word for one in things_of(house, "closing-part")] == ["shackle"]
    assert things_of(house, "hand-line") == things_of(house, "hand_line")


def test_two_lists_of_one_kind_do_not_share_a_key(plot: Callable[[str], Plot]) -> None:
    show = plot("""
        plumbtrue: plot/1
        plot: {show: The Tin Meridian, items: [{key: "1", cloth: [{what: muslin}], make_up: [{what: pipe}]}]}
    """)
    assert [thing.key for thing in show.plot.below() if thing.kind.name == "make_up"] == ["cloth", "make up"]


def test_something_that_nobody_has_identified_leaves_its_list_open(one_set: OneSet) -> None:
    at = one_set("""
        dead_ends: [{of: hand line}, unknown]
        hand_line: {upper: [hand-splice, unknown], lower: [hand-splice]}
    """)
    assert at().unlisted == {"dead_ends"}
    assert at("hand line").unlisted == {"upper"}


@pytest.mark.parametrize(
    ("stated", "open_list"),
    [
        pytest.param("3", True, id="one fewer written than stated"),
        pytest.param("2", False, id="as many as stated"),
        pytest.param("1", False, id="more than stated"),
        pytest.param("2..3", True, id="perhaps one fewer"),
        pytest.param("unknown", False, id="nobody can say"),
    ],
)
def test_lines_are_held_against_the_number_that_the_house_states(
    one_set: OneSet, stated: str, open_list: bool
) -> None:
    at = one_set(f"lines_stated: {stated}\nlift_lines: {{at: {{1: CL, 2: SL 7'-0\"}}}}")
    assert ("lift_lines" in at().unlisted) is open_list


def test_left_out_unknown_and_none_are_three_things(one_set: OneSet) -> None:
    left_out, unknown, none = (
        one_set("use: general")(),
        one_set("rope_lock: unknown")(),
        one_set("rope_lock: none")(),
    )
    assert "rope_lock" not in left_out.parts
    assert unknown.parts["rope_lock"] is UNKNOWN
    assert none.parts["rope_lock"] is NONE


def test_an_empty_list_is_a_list_of_nothing(one_set: OneSet) -> None:
    assert one_set("dead_ends: []")().parts["dead_ends"] == ()


def test_parts_know_their_neighbours_by_their_order(one_set: OneSet) -> None:
    line = one_set(SET)("line 1")
    upper = line.parts["upper"]
    assert isinstance(upper, tuple)
    assert [part.key for part in upper] == ["swage-sleeve", "thimble", "shackle", "shackle.2"]
    assert all(part.parent is line for part in upper)
