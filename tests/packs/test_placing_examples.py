"""An example says only what matters; where its thing stands follows from its keys."""

from collections.abc import Callable
from pathlib import Path
from textwrap import dedent, indent

import pytest
from tests.packs.packs_in_text import book_of, write_pack

from plumbtrue.documents.place import Problem
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary_loading import load_vocabulary
from plumbtrue.rules.examples.cases import Case, read_cases

Read = Callable[[str, str], tuple[tuple[Case, ...], list[Problem]]]


@pytest.fixture
def cases_of(tmp_path: Path) -> Read:
    """The cases of a rule about some kind of thing, and what is wrong with them."""

    def read_examples(about: str, examples: str) -> tuple[tuple[Case, ...], list[Problem]]:
        rule = f"""
            - rule: some-rule
              title: Something holds
              about: {about}
              require: 1 = 1
              let: {{note_there: 0}}
              severity: advisory
              finding: None.
              remedy: None.
              source: common-practice
              examples:
        """
        text = dedent(rule).rstrip() + "\n" + indent(dedent(examples).strip(), "    ") + "\n"
        write_pack(tmp_path, "trade", rules=text)
        rules = book_of(tmp_path, "trade").rules
        problems: list[Problem] = []
        return read_cases(rules[0], load_vocabulary(), problems), problems

    return read_examples


def only(found: tuple[tuple[Case, ...], list[Problem]]) -> Thing:
    cases, problems = found
    assert problems == []
    (case,) = cases
    return case.thing


def chain(thing: Thing) -> list[str]:
    """Kinds from the root to a thing."""
    kinds: list[str] = []
    outward: Thing | None = thing
    while outward is not None:
        kinds.append(outward.kind.name)
        outward = outward.parent
    return kinds[::-1]


@pytest.mark.parametrize(
    ("about", "example", "around"),
    [
        ("trim-chain", "{outcome: met, wraps: 2}", "house line_set lift_line trim_chain"),
        ("loft-block", "{outcome: met, turns: freely}", "house line_set lift_line loft_block"),
        ("rope", "{outcome: met, diameter: 1/4 in}", "house line_set lift_line rope"),
        ("rope", "{outcome: met, diameter: 3/4 in, hand_line.note: worn}", "house line_set hand_line rope"),
        ("head-block", "{outcome: met, grooves: 5}", "house line_set head_block"),
        ("line-set", "{outcome: met, number: 14}", "house line_set"),
        ("house", "{outcome: met, training_log: kept}", "house"),
        ("item", "{outcome: met, weight: 20 lb}", "plot item"),
    ],
)
def test_a_thing_stands_where_such_things_stand(
    cases_of: Read, about: str, example: str, around: str
) -> None:
    cases, problems = cases_of(about, f"- {example}")
    assert problems == []
    assert chain(cases[0].thing) == around.split()


def test_a_key_may_name_a_fact_of_something_around_it(cases_of: Read) -> None:
    thing = only(
        cases_of("trim-chain", "- {outcome: met, lift_line.rope.diameter: 1/4 in, line_set.number: 14}")
    )
    rope = thing.enclosing("lift_line").parts["rope"]  # type: ignore[union-attr]
    assert isinstance(rope, Thing)
    assert rope.facts["diameter"].text == "1/4 in"
    assert thing.line_set is not None
    assert thing.line_set.facts["number"].text == "14"


def test_a_key_may_name_a_fact_of_something_in_it(cases_of: Read) -> None:
    thing = only(cases_of("lift-line", "- {outcome: met, rope.diameter: 1/4 in, rope.corrosion: pitted}"))
    rope = thing.parts["rope"]
    assert isinstance(rope, Thing)
    assert set(rope.facts) == {"diameter", "corrosion"}


def test_paths_and_maps_are_written_as_in_a_rig_file(cases_of: Read) -> None:
    thing = only(
        cases_of(
            "lift-line",
            "- {outcome: met, lower: [thimble, {part: trim-chain, wraps: 2}], rope: {diameter: 1/4 in}}",
        )
    )
    lower = thing.parts["lower"]
    assert isinstance(lower, tuple)
    assert [part.key for part in lower] == ["thimble", "trim-chain"]


def test_this_stands_for_the_thing_in_a_path_around_it(cases_of: Read) -> None:
    thing = only(
        cases_of("trim-chain", "- {outcome: met, wraps: 2, lift_line.lower: [thimble, this, shackle]}")
    )
    assert thing.parent is not None
    lower = thing.parent.parts["lower"]
    assert isinstance(lower, tuple)
    assert [part.key for part in lower] == ["thimble", "trim-chain", "shackle"]
    assert lower[1] is thing


def test_a_path_with_something_unidentified_before_it_still_finds_the_thing(cases_of: Read) -> None:
    thing = only(cases_of("trim-chain", "- {outcome: met, wraps: 2, lift_line.lower: [unknown, this]}"))
    assert thing.kind.name == "trim_chain"
    assert thing.parent is not None
    assert "lower" in thing.parent.unlisted


def test_a_computed_fact_may_be_given(cases_of: Read) -> None:
    cases, problems = cases_of("rope", "- {outcome: met, diameter_loss: 5.2 %}")
    assert problems == []
    facts = cases[0].facts()
    value = facts.exact(cases[0].thing, "diameter_loss")
    assert value == pytest.approx(0.052)


def test_a_computed_fact_of_something_around_may_be_given(cases_of: Read) -> None:
    thing = only(cases_of("trim-chain", "- {outcome: met, lift_line.reaction: 300 lb}"))
    assert thing.enclosing("lift_line").facts["reaction"].text == "300 lb"  # type: ignore[union-attr]


def test_a_rule_about_a_class_judges_the_part_that_is_named(cases_of: Read) -> None:
    assert (
        only(cases_of("rated-part", "- {outcome: met, part: shackle, working_load_limit: none}")).kind.name
        == "shackle"
    )


def test_a_rule_about_a_class_takes_a_kind_that_has_the_facts_written(cases_of: Read) -> None:
    assert only(cases_of("rated-part", "- {outcome: met, wraps: 2}")).kind.name == "trim_chain"


def test_a_fact_of_something_that_is_named_by_reference_may_be_given(cases_of: Read) -> None:
    thing = only(cases_of("step", "- {outcome: met, set.posted_total: 580 lb}"))
    named = thing.references["set"]
    assert isinstance(named, Thing)
    assert named.facts["posted_total"].text == "580 lb"


@pytest.mark.parametrize(
    ("about", "example", "slug", "said"),
    [
        ("trim-chain", "{outcome: met, wrps: 2}", "example-fact", "a trim-chain has no wrps"),
        ("trim-chain", "{outcome: mett, wraps: 2}", "word-not-permitted", "is not mett"),
        ("trim-chain", "{wraps: 2}", "key-missing", "needs outcome"),
        ("trim-chain", "{outcome: met, stretch: 4 lb}", "dimension-wrong", ""),
        ("rated-part", "{outcome: met, part: thimble}", "example-kind", "is not about thimble"),
        ("house", "{outcome: met, lift_line.mark: 1}", "example-place", "a house cannot lie in lift_line"),
    ],
)
def test_an_example_that_cannot_be_put_together_is_told(
    cases_of: Read, about: str, example: str, slug: str, said: str
) -> None:
    cases, problems = cases_of(about, f"- {example}")
    assert cases == ()
    assert [problem.slug for problem in problems] == [slug]
    assert said in problems[0].what
    assert problems[0].where.line == 12
