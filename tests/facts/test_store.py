"""What the store promises: each fact settled once, exact facts through a fast door, the order of questions of
no account.
"""

from datetime import date

import pytest
from tests.facts.rigs_in_text import ON, Ask

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.store import CircularFact, Facts, NotExact
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import NONE, UNKNOWN, WordSet
from plumbtrue.rig.thing import Thing

SET = """
    system: single-purchase
    present_load: 420 lb
    posted_total: none
    lift_lines:
      - mark: '1'
        rope: {family: wire, diameter: 1/4 in, shape: none, broken_wires_lay: none,
          breaking_strength: about 7000 lb}
        lower: [{part: wire-rope-clips, count: 3, saddle_on: [live, live, dead]}]
      - unknown
"""


def test_exact_facts_are_plain_values(one_set: Ask) -> None:
    rig = one_set(SET)
    line_set, rope = rig.thing("14"), rig.thing("14 / line 1 / rope")
    clips = rig.thing("14 / line 1 / lower / wire-rope-clips")
    assert rig.facts.exact(line_set, "system") == "single-purchase"
    assert rig.facts.exact(line_set, "posted_total") is None
    assert rig.facts.exact(line_set, "present_load") == pytest.approx(420 * 4.4482216152605)
    assert rig.facts.exact(clips, "saddle_on") == ("live", "live", "dead")
    assert rig.facts.exact(rig.thing("14 / line 1"), "rope") is rope


def test_none_of_a_count_is_nought_and_of_a_list_of_words_no_word(one_set: Ask) -> None:
    rig = one_set(SET)
    rope = rig.thing("14 / line 1 / rope")
    assert rig.facts.exact(rope, "broken_wires_lay") == 0
    assert rig.facts.answer(rope, "shape").value == WordSet(frozenset())


@pytest.mark.parametrize(
    ("path", "name"),
    [
        pytest.param("14 / line 1 / rope", "breaking_strength", id="known within bounds"),
        pytest.param("14 / line 1 / rope", "installed", id="not written"),
        pytest.param("14", "lift_lines", id="a list that is not whole"),
        pytest.param("14", "batten", id="a part not written"),
    ],
)
def test_what_is_not_exactly_known_is_refused_at_the_fast_door(one_set: Ask, path: str, name: str) -> None:
    rig = one_set(SET)
    with pytest.raises(NotExact):
        rig.facts.exact(rig.thing(path), name)


def test_a_fact_known_within_bounds_says_so(one_set: Ask) -> None:
    rig = one_set(SET)
    answer = rig.answer("14 / line 1 / rope", "breaking_strength")
    assert [one.why for one in answer.missing] == ["recorded only within bounds"]


def test_an_unknown_thing_is_no_absent_thing(one_set: Ask) -> None:
    rig = one_set(SET + "    rope_lock: none\n")
    line_set = rig.thing("14")
    assert rig.facts.part(line_set, "rope_lock") == NONE
    assert rig.facts.part(line_set, "arbor") == UNKNOWN
    assert rig.facts.is_unlisted(line_set, "lift_lines")


def test_a_computed_fact_is_settled_once(one_set: Ask) -> None:
    rig = one_set(SET)
    asked: list[str] = []

    def count(facts: Facts, thing: Thing) -> Answer:
        asked.append(thing.path)
        return Answer(Bounds.exactly(1.0))

    facts = Facts(rig.rig, ON, further={("line_set", "spacing"): count})
    line_set = rig.thing("14")
    for _ in range(3):
        assert facts.exact(line_set, "spacing") == 1.0
        assert facts.answer(line_set, "spacing").value == Bounds(1, 1)
    assert asked == ["14"]


def test_a_computed_fact_that_nobody_asks_for_is_not_computed(one_set: Ask) -> None:
    def never(facts: Facts, thing: Thing) -> Answer:
        raise AssertionError(f"nobody asked for {thing.path}")

    rig = one_set(SET)
    facts = Facts(rig.rig, ON, further={("line_set", "spacing"): never})
    assert facts.exact(rig.thing("14"), "system") == "single-purchase"


def test_a_fact_that_asks_for_itself_is_our_mistake_and_says_so(one_set: Ask) -> None:
    rig = one_set(SET)
    further = {
        ("line_set", "spacing"): lambda facts, thing: facts.answer(thing, "age"),
        ("line_set", "age"): lambda facts, thing: facts.answer(thing, "spacing"),
    }
    facts = Facts(rig.rig, ON, further=further)
    with pytest.raises(CircularFact, match="spacing of 14 asks for age of 14 asks for spacing of 14"):
        facts.answer(rig.thing("14"), "spacing")


def test_a_written_value_of_a_computed_fact_holds(one_set: Ask) -> None:
    """Examples of rules give computed facts directly."""
    rig = one_set(SET)
    rope = rig.thing("14 / line 1 / rope")
    rope.facts["diameter_loss"] = rope.facts["diameter"]
    assert rig.facts.answer(rope, "diameter_loss").recorded is rope.facts["diameter"]


def test_today_is_an_argument(one_set: Ask) -> None:
    rig = one_set(SET, on=date(2026, 4, 13))
    assert rig.facts.today == date(2026, 4, 13).toordinal()
