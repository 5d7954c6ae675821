"""Typical things: a drawing says what a thing is, never in what state it is."""

import pytest
from tests.rig.conftest import OneSet, ReadRig, Refused, described

from plumbtrue.quantities.values import Absent, Choice
from plumbtrue.rig import typical_things

TYPICAL = """\
typical:
  gac: {kind: rope, family: wire, diameter: 1/4 in, material: galvanized}
  gac-stainless: {like: gac, material: stainless}
  end-w: [swage-sleeve, thimble, {part: trim-chain, wraps: 2}]
"""


def test_a_thing_is_like_its_typical_thing_unless_it_says_otherwise(rig: ReadRig) -> None:
    house = rig(TYPICAL + "line_sets: [{number: 14, hand_line: {rope: {like: gac, diameter: 3/8 in}}}]")
    (rope,) = (thing for thing in house.house.below() if thing.kind.name == "rope")
    assert rope.facts["diameter"].text == "3/8 in"
    assert rope.facts["family"].text == "wire"


def test_a_typical_thing_may_be_like_another(rig: ReadRig) -> None:
    house = rig(TYPICAL + "line_sets: [{number: 14, hand_line: {rope: gac-stainless}}]")
    (rope,) = (thing for thing in house.house.below() if thing.kind.name == "rope")
    assert (rope.facts["material"].text, rope.facts["diameter"].text) == ("stainless", "1/4 in")


def test_what_is_lent_knows_where_it_stands_and_where_it_took_effect(rig: ReadRig) -> None:
    house = rig(TYPICAL + "line_sets:\n  - number: 14\n    hand_line: {rope: gac-stainless}\n")
    (rope,) = (thing for thing in house.house.below() if thing.kind.name == "rope")
    diameter, material = rope.facts["diameter"], rope.facts["material"]
    assert (diameter.like, material.like) == ("gac", "gac-stainless")
    assert str(diameter.place) == "house.yaml:4:45"
    assert str(diameter.used) == str(material.used) == "house.yaml:9:23"
    assert diameter.origin == "like"


def test_a_thing_in_a_typical_path_knows_where_the_path_took_effect(rig: ReadRig) -> None:
    text = (
        TYPICAL + "line_sets:\n  - number: 14\n    lift_lines: [{mark: 1, lower: end-w, upper: [thimble]}]\n"
    )
    by_path = {thing.path: thing for thing in rig(text).house.below()}
    lent, own = by_path["14 / line 1 / lower / trim-chain"], by_path["14 / line 1 / upper / thimble"]
    assert (str(lent.place), str(lent.used)) == ("house.yaml:6:34", "house.yaml:9:35")
    assert own.used is None


def test_a_bare_name_stands_for_the_whole_thing(one_set: OneSet, rig: ReadRig) -> None:
    short = rig(TYPICAL + "line_sets: [{number: 14, hand_line: {rope: gac}}]")
    long = rig(TYPICAL + "line_sets: [{number: 14, hand_line: {rope: {like: gac}}}]")
    assert described(short.house) == described(long.house)


def test_a_typical_set_carries_what_the_house_laid_down_alike_for_many(rig: ReadRig) -> None:
    """Twenty sets that nobody reserved are not asked for it twenty times; one of them may still say otherwise."""
    house = rig("""\
typical:
  free: {kind: line-set, reserved: none, posted_per_length: 12 lb/ft}
line_sets: [{number: 14, like: free}, {number: 15, like: free, reserved: house}]
""")
    sets = {thing.path: thing.facts for thing in house.house.below() if thing.kind.name == "line_set"}
    assert sets["14"]["reserved"].value == Absent()
    assert sets["15"]["reserved"].value == Choice(frozenset({"house"}))
    assert [facts["posted_per_length"].text for facts in sets.values()] == ["12 lb/ft", "12 lb/ft"]


def test_a_typical_path_stands_for_its_parts_alone_or_among_others(rig: ReadRig) -> None:
    short = rig(
        TYPICAL + "line_sets: [{number: 14, lift_lines: [{mark: 1, lower: [end-w, shackle], upper: end-w}]}]"
    )
    long = rig("""
        line_sets:
          - number: 14
            lift_lines:
              - mark: 1
                upper: [swage-sleeve, thimble, {part: trim-chain, wraps: 2}]
                lower: [swage-sleeve, thimble, {part: trim-chain, wraps: 2}, shackle]
    """)
    assert described(short.house) == described(long.house)


def test_a_typical_name_goes_before_the_name_of_a_kind(rig: ReadRig) -> None:
    house = rig("""
        typical: {thimble: {kind: thimble, gauge: heavy}}
        line_sets: [{number: 14, hand_line: {upper: [thimble]}}]
    """)
    (thimble,) = (thing for thing in house.house.below() if thing.kind.name == "thimble")
    assert thimble.facts["gauge"].value == Choice(frozenset({"heavy"}))


def test_an_exception_that_says_what_the_thing_is_like_draws_it_anew(rig: ReadRig) -> None:
    """Line 3 was re-roped: nothing that was said of the old rope, its age above all, may be taken for the
    new one.
    """
    house = rig(
        TYPICAL
        + """\
line_sets:
  - number: 14
    lift_lines:
      at: {1: CL, 2: SL 7'-0"}
      each: {rope: {like: gac, installed: 1987, corrosion: none}}
      except: [{lines: [2], rope: {like: gac-stainless}}]
"""
    )
    first, second = (thing for thing in house.house.below() if thing.kind.name == "rope")
    assert first.facts["installed"].text == "1987"
    assert "installed" not in second.facts
    assert "corrosion" not in second.facts
    assert second.facts["material"].text == "stainless"


@pytest.mark.parametrize(
    "typical",
    [
        pytest.param("gac: {kind: rope, ⟦like-carries-state|corrosion⟧: none}", id="a state"),
        pytest.param("gac: {kind: rope, ⟦like-carries-state|installed⟧: 1979}", id="a record"),
        pytest.param(
            "set: {kind: line-set, number: 1, ⟦like-carries-state|posted_total⟧: 500 lb}", id="a posted limit"
        ),
        pytest.param(
            "set: {kind: line-set, number: 1, ⟦like-carries-state|tagged_out⟧: none}", id="a tag on one set"
        ),
        pytest.param(
            "set: {kind: line-set, number: 1, ⟦like-carries-state|present_load⟧: none}", id="a load of today"
        ),
        pytest.param("gac: {kind: rope, ⟦like-carries-state|seen⟧: {by: me}}", id="a look"),
        pytest.param(
            "end: [{part: trim-chain, ⟦like-carries-state|keeper_bolt⟧: fitted}]", id="a state in a path"
        ),
        pytest.param(
            "pipe: {kind: batten, splices: [{at: CL, ⟦like-carries-state|droop⟧: none}]}",
            id="a state further in",
        ),
        pytest.param("gac: ⟦typical-kind|{diameter: 1/4 in}⟧", id="no kind"),
        pytest.param("gac: {kind: ⟦kind-unknown|roap⟧}", id="no such kind"),
        pytest.param("gac: ⟦typical-wrong|rope⟧", id="a bare word"),
        pytest.param("gac: {kind: rope, like: ⟦like-circle|gac⟧}", id="like itself"),
        pytest.param(
            "a: {kind: rope, like: ⟦like-circle|b⟧}, b: {kind: rope, like: ⟦like-circle|a⟧}",
            id="like each other",
        ),
        pytest.param(
            "gac: {kind: rope, like: ⟦like-kind|pipe⟧}, pipe: {kind: batten}", id="like another kind"
        ),
        pytest.param("gac: {kind: rope, ⟦key-unknown|diametre⟧: 1/4 in}", id="a misspelt fact"),
    ],
)
def test_a_typical_thing_is_checked_used_or_not(refused_as_marked: Refused, typical: str) -> None:
    refused_as_marked(f"typical: {{{typical}}}\n")


def test_a_mistake_in_a_typical_thing_is_told_once_with_its_uses(refused_as_marked: Refused) -> None:
    (problem,) = refused_as_marked("""
        typical: {gac: {kind: rope, diameter: ⟦unit-missing|0.25⟧}}
        line_sets:
          - number: 14
            lift_lines:
              at: {1: CL, 2: SL 7'-0", 3: SL 9'-0", 4: SL 12'-0", 5: SL 15'-0"}
              each: {rope: {like: gac}}
    """)
    assert problem.used_by == (
        "used by 14 / line 1 (like: gac, house.yaml:8:27)",
        "used by 14 / line 2 (like: gac, house.yaml:8:27)",
        "used by 14 / line 3 (like: gac, house.yaml:8:27)",
        "and 2 more",
    )


@pytest.mark.parametrize(
    "use",
    [
        pytest.param("batten: ⟦kind-elsewhere|gac⟧", id="a rope for a batten"),
        pytest.param("batten: {like: ⟦like-kind|gac⟧}", id="a batten like a rope"),
        pytest.param("hand_line: {rope: ⟦like-path|end⟧}", id="a path for a rope"),
        pytest.param("hand_line: {upper: ⟦value-of-wrong-form|gac⟧}", id="a rope for a path"),
        pytest.param("hand_line: {rope: {like: ⟦like-not-a-name|[gac]⟧}}", id="a list of names"),
    ],
)
def test_a_typical_thing_is_used_for_what_it_is(refused_as_marked: Refused, use: str) -> None:
    refused_as_marked(f"""
        typical: {{gac: {{kind: rope}}, end: [thimble]}}
        line_sets: [{{number: 14, {use}}}]
    """)


def test_an_alias_puts_the_same_words_in_two_places(rig: ReadRig) -> None:
    house = rig("""
        line_sets:
          - {number: 1, arbor: &std {weight: 60 lb, label: readable}}
          - {number: 2, arbor: *std}
    """)
    first, second = (thing for thing in house.house.below() if thing.kind.name == "arbor")
    assert described(first) == described(second)
    label = second.facts["label"]
    assert label.place == first.facts["label"].place
    assert str(label.used) == "house.yaml:5:24"
    assert (label.origin, label.like) == ("written", None)


def test_a_long_file_may_stand_for_more_than_a_short_one(
    rig: ReadRig, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(typical_things, "MOST_THINGS", 100)
    sets = "".join(
        f"  - {{number: {n}, arbor: {{weight: 60 lb}}, batten: {{weight: 90 lb}}}}\n" for n in range(1, 200)
    )
    house = rig("line_sets:\n" + sets)
    assert len(list(house.house.below())) > 400


def test_a_short_file_cannot_stand_for_millions_of_parts(refused_as_marked: Refused) -> None:
    paths = [f"p{n}: [{', '.join([f'p{n + 1}'] * 12)}]" for n in range(9)]
    refused_as_marked(
        "typical: {" + ", ".join(paths) + ", p9: [⟦like-limit|thimble⟧]}\n"
        "line_sets: [{number: 14, hand_line: {upper: p0}}]\n"
    )
