"""Every short form means what its long form means: the same things, the same facts."""

import pytest
from tests.rig.conftest import OneSet, ReadRig, described

from plumbtrue.quantities.values import Choice, Each


def test_a_bare_part_is_a_part_of_which_nothing_more_is_said(one_set: OneSet) -> None:
    short = one_set("hand_line: {upper: [hand-splice, thimble]}")
    long = one_set("hand_line: {upper: [{part: hand-splice}, {part: thimble}]}")
    assert described(short("")) == described(long(""))


def test_kinds_may_be_written_with_underscores_too(one_set: OneSet) -> None:
    assert described(one_set("dead_ends: [{part: dead_end}]")("")) == described(
        one_set("dead_ends: [{part: dead-end}]")("")
    )


def test_all_lines_at_once_are_the_lines_one_by_one(one_set: OneSet) -> None:
    short = one_set("""
        lift_lines:
          at: {1: 2'-0", 2: CL, 3a: SL 9'-0"}
          each: {role: lift, rope: {family: wire, installed: 1979}, lower: [knot]}
          except: [{lines: [2, 3a], tension: slack, rope: {installed: 2003}}]
    """)
    long = one_set("""
        lift_lines:
          - {mark: 1, at: 2'-0", role: lift, rope: {family: wire, installed: 1979}, lower: [knot]}
          - {mark: 2, at: CL, role: lift, tension: slack, lower: [knot],
             rope: {family: wire, installed: 2003}}
          - {mark: 3a, at: SL 9'-0", role: lift, tension: slack, lower: [knot],
             rope: {family: wire, installed: 2003}}
    """)
    assert described(short("")) == described(long(""))


def test_a_later_exception_stands_over_an_earlier_one(one_set: OneSet) -> None:
    short = one_set("""
        lift_lines:
          at: {1: 2'-0", 2: CL}
          except: [{lines: [1, 2], tension: slack}, {lines: 2, tension: tight}]
    """)
    assert [short(f"line {mark}").facts["tension"].text for mark in (1, 2)] == ["slack", "tight"]


def test_an_exception_changes_one_part_of_a_path_and_leaves_the_rest(one_set: OneSet) -> None:
    short = one_set("""
        lift_lines:
          at: {1: 2'-0"}
          each: {lower: [swage-sleeve, {part: trim-chain, wraps: 2, keeper_bolt: fitted}]}
          except: [{lines: [1], lower: {trim_chain: {keeper_bolt: none}}}]
    """)
    long = one_set("""
        lift_lines:
          - {mark: 1, at: 2'-0", lower: [swage-sleeve, {part: trim-chain, wraps: 2, keeper_bolt: none}]}
    """)
    assert described(short("")) == described(long(""))


def test_the_second_of_two_alike_is_named_by_its_number(one_set: OneSet) -> None:
    at = one_set("""
        lift_lines:
          at: {1: 2'-0"}
          each: {upper: [shackle, thimble, shackle]}
          except: [{lines: [1], upper: {shackle.2: {seated: crossed}}}]
    """)
    assert "seated" not in at("line 1 / upper / shackle").facts
    assert at("line 1 / upper / shackle.2").facts["seated"].text == "crossed"


def test_an_exception_with_a_list_replaces_the_whole_path(one_set: OneSet) -> None:
    at = one_set("""
        lift_lines:
          at: {1: 2'-0", 2: CL}
          each: {lower: [swage-sleeve, trim-chain]}
          except: [{lines: [2], lower: [knot]}]
    """)
    lower = at("line 2").parts["lower"]
    assert isinstance(lower, tuple)
    assert [part.key for part in lower] == ["knot"]


def test_an_exception_may_say_that_a_part_is_not_there(one_set: OneSet) -> None:
    short = one_set("""
        lift_lines:
          at: {1: 2'-0"}
          each: {lower: [swage-sleeve, thimble, trim-chain]}
          except: [{lines: [1], lower: {thimble: none}}]
    """)
    long = one_set("""lift_lines: [{mark: 1, at: 2'-0", lower: [swage-sleeve, trim-chain]}]""")
    assert described(short("")) == described(long(""))


def test_an_exception_changes_a_block_as_it_changes_a_part(one_set: OneSet) -> None:
    at = one_set("""
        lift_lines:
          at: {1: 2'-0"}
          each: {blocks: [{part: loft-block, turns: freely, mount: upright}]}
          except: [{lines: [1], blocks: {loft_block: {turns: stuck}}}]
    """)
    block = at("line 1 / loft-block")
    assert (block.facts["turns"].text, block.facts["mount"].text) == ("stuck", "upright")


def test_weights_by_kind_are_a_list_of_weights(rig: ReadRig) -> None:
    bricks = "[{key: b-28, weight: 28 lb}, {key: b-14, weight: 14 lb}]"
    head = f"plumbtrue: rig/1\nhouse: {{name: H, bricks: {bricks}}}\n"
    short = rig(
        head + "line_sets: [{number: 1, arbor: {weights: {b-28: 14, b-14: {is: 1, note: at the top}}}}]"
    )
    long = rig(
        head + "line_sets: [{number: 1, arbor: {weights: [{brick: b-28, count: 14}, "
        "{brick: b-14, count: {is: 1, note: at the top}}]}}]"
    )
    assert described(short.house) == described(long.house)


def test_the_bolts_of_one_place_are_a_list_of_one(one_set: OneSet) -> None:
    short = one_set("head_block: {bolts: {count: 4, grade: j429-5}}")
    long = one_set("head_block: {bolts: [{count: 4, grade: j429-5}]}")
    assert described(short("")) == described(long(""))


def test_bolts_by_place_carry_the_place_as_their_key(one_set: OneSet) -> None:
    short = one_set("head_block: {bolts: {base: {count: 4}, axle: unknown, clips: {count: 2}}}")
    long = one_set("head_block: {bolts: [{key: base, count: 4}, unknown, {key: clips, count: 2}]}")
    assert described(short("")) == described(long(""))
    assert short("head block / bolts base").facts["count"].text == "4"


def test_one_value_for_each_of_several_stays_one_value(one_set: OneSet) -> None:
    clips = "lift_lines: [{{mark: 1, lower: [{{part: wire-rope-clips, count: 3, saddle_on: {}}}]}}]"
    one = one_set(clips.format("live"))("line 1 / lower / wire-rope-clips").facts["saddle_on"].value
    each = (
        one_set(clips.format("[live, dead, live]"))("line 1 / lower / wire-rope-clips")
        .facts["saddle_on"]
        .value
    )
    assert str(one) != str(each)
    assert isinstance(each, Each)
    words = [choice.word for choice in each.values if isinstance(choice, Choice)]
    assert words == ["live", "dead", "live"]


def test_the_long_form_of_a_fact_says_the_same_and_more(one_set: OneSet) -> None:
    at = one_set("""
        seen: {by: head of flys, on: 2026-02-10, how: by-hand}
        arbor:
          weight: {is: 90 lb, seen: {by: inspector, on: 2025-04-10}, note: from the plate, photo: a.jpg}
          travel: 54'-0"
    """)
    weight, travel = at("arbor").facts["weight"], at("arbor").facts["travel"]
    assert (weight.note, weight.photos) == ("from the plate", ("a.jpg",))
    assert weight.seen is not None
    assert travel.seen is not None
    assert (weight.seen.by, travel.seen.by) == ("inspector", "head of flys")
    assert weight.value == one_set("arbor: {weight: 90 lb}")("arbor").facts["weight"].value


@pytest.mark.parametrize("word", ["none", "unknown"])
def test_a_part_may_be_written_long_as_none_or_unknown_too(one_set: OneSet, word: str) -> None:
    short, long = one_set(f"rope_lock: {word}"), one_set(f"rope_lock: {{is: {word}, note: asked the crew}}")
    assert str(short("").parts["rope_lock"]) == str(long("").parts["rope_lock"]) == word
    assert long("").facts["rope_lock"].note == "asked the crew"


def test_a_single_word_stands_for_a_list_of_one(one_set: OneSet) -> None:
    short, long = one_set("arbor: {structure: rod-bent}"), one_set("arbor: {structure: [rod-bent]}")
    assert short("arbor").facts["structure"].value == long("arbor").facts["structure"].value


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("{count: 3}", "{count: 3, designed: 4, grade: j429-5}"),
        ("{count: 3, grade: none}", "{count: 3, designed: 4, grade: none}"),
        ("[{count: 3}]", "{count: 3}"),
        ("{base: {count: 3}}", "{base: {count: 3}}"),
    ],
)
def test_what_is_said_of_bolts_leaves_the_rest_of_them_as_drawn(
    one_set: OneSet, said: str, meant: str
) -> None:
    """Somebody wrote that a clip was missing, and the number that the drawing asks went with it."""
    lines = "lift_lines: {at: {1: CL}, each: {blocks: [{part: loft-block%s}]}, except: [%s]}"
    drawn = ", bolts: {designed: 4, grade: j429-5}"
    short = one_set(lines % (drawn, f"{{lines: [1], blocks: {{loft_block: {{bolts: {said}}}}}}}"))
    assert described(short("")) == described(one_set(lines % (f", bolts: {meant}", ""))(""))


def test_bolts_are_changed_place_by_place(one_set: OneSet) -> None:
    lines = "lift_lines: {at: {1: CL}, each: {blocks: [{part: loft-block%s}]}, except: [%s]}"
    drawn = ", bolts: {base: {designed: 4}, axle: {designed: 1}}"
    said = "{lines: [1], blocks: {loft_block: {bolts: {base: {count: 3}}}}}"
    meant = ", bolts: {base: {designed: 4, count: 3}, axle: {designed: 1}}"
    assert described(one_set(lines % (drawn, said))("")) == described(one_set(lines % (meant, ""))(""))
