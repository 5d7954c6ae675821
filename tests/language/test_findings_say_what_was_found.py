"""Texts filled in for a thing, and the working of an answer put into words."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.language.small_rig import HERE, Rig, meant, scope, thing

from plumbtrue.documents.place import Place
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import LENGTH
from plumbtrue.quantities.values import NONE, UNKNOWN, Choice, Value, WordSet
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.language.careful import Careful, evaluate
from plumbtrue.rules.language.explaining import as_text, explained
from plumbtrue.rules.language.scope import Given
from plumbtrue.rules.language.texts import Text, fill, read_text

INCH = 0.0254
CHAIN = scope(
    "trim_chain",
    {"reach": Given.figure("12 in", Bounds.exactly(12 * INCH), LENGTH)},
    lets={"twice": "wraps + wraps"},
)


def word(said: str) -> Choice:
    return Choice(frozenset({said}))


def chain(**said: Value) -> Thing:
    made = thing(
        "trim_chain",
        distance_to_pipe_end=Bounds.exactly(9 * INCH),
        attachment=word("wrap"),
        wraps=Bounds.exactly(2),
    )
    for name, value in said.items():
        made.facts |= thing("trim_chain", **{name: value}).facts
    rope = thing("rope", diameter=Bounds.exactly(0.25 * INCH), installed=Bounds(722815, 723180))
    line = thing("lift_line", "line 3", rope=rope, lower=(thing("thimble"), made))
    thing("house", line_sets=(thing("line_set", "14", lift_lines=(line,), arbor=NONE),))
    return made


def filled(text: str, this: Thing, system: Any = "us") -> str:
    read, problems = read_text(text, HERE, CHAIN)
    assert isinstance(read, Text), problems
    return fill(read, Careful(Rig(), this), system)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("The wrap sits {distance_to_pipe_end} from the end.", "The wrap sits 9 in from the end."),
        ("{distance_to_pipe_end as mm}, limit {reach}", "228.6 mm, limit 1'-0\""),
        ("{reach - distance_to_pipe_end} short", "3 in short"),
        ("{lift_line}: {lift_line.rope.installed}", "line 3: 1980"),
        ("{attachment}, bolt {keeper_bolt}", "wrap, bolt unknown"),
        ("{load_path}", "thimble, trim_chain"),
        ("{line_set.arbor.capacity}", "none"),
        ("{twice} {{and}} {count of p in load_path}", "4 {and} 2"),
        ("{1 / (wraps - 2)}", "(cannot be worked out)"),
        ("no braces", "no braces"),
        ("", ""),
    ],
)
def test_a_text_is_filled_with_what_the_facts_say(text: str, expected: str) -> None:
    assert filled(text, chain()) == expected


def test_a_text_speaks_the_house_s_units() -> None:
    assert filled("{distance_to_pipe_end}", chain(), "both") == "9 in (228.6 mm)"


def test_bounds_and_lists_are_printed_as_they_are_known() -> None:
    this = chain(
        distance_to_pipe_end=Bounds(9 * INCH, 10 * INCH), damage=WordSet(frozenset({"bent", "crack"}))
    )
    assert filled("{distance_to_pipe_end}: {damage}", this) == "9 to 10 in: bent, crack"
    this.parent.unlisted.add("lower")  # type: ignore[union-attr]  # it lies in a line
    assert filled("{load_path}", this) == "thimble, trim_chain, something not identified"


@pytest.mark.parametrize(
    ("text", "slug", "column"),
    [
        ("bolt {keeper_blot}", "name-unknown", 7),
        ("bolt {keeper_bolt", "text-braces", 6),
        ("bolt keeper_bolt}", "text-braces", 17),
        ("bolt {a {b} c}", "text-braces", 6),
        ("bolt {}", "expression-unreadable", 7),
        ("{distance_to_pipe_end as lb}", "dimension-wrong", 2),
        ("{distance_to_pipe_end as mmm}", "unit-unknown", 2),
        ("{attachment as mm}", "dimension-wrong", 2),
        ("{wraps > 2}", "not-printable", 2),
        ("x" * 5000, "expression-too-long", 1),
    ],
)
def test_a_wrong_text_does_not_load(text: str, slug: str, column: int) -> None:
    read, problems = read_text(text, HERE, CHAIN)
    assert read is None
    assert [(one.slug, one.where) for one in problems] == [(slug, Place("rules.yaml", 1, column))]


HOSTILE = [
    *("{__class__}", "{this.__init__}", "{().__class__}", "{{{", "{0!r}", "{x:>99999999}", "{%s}"),
    *("{{7*7}}", "{import os}", "{'}'}"),
]


@pytest.mark.parametrize("text", HOSTILE)
def test_a_hostile_text_is_text_or_a_problem(text: str) -> None:
    read, problems = read_text(text, HERE, CHAIN)
    assert (read is None) == bool(problems)
    if read is not None:
        assert fill(read, Careful(Rig(), chain())) in ("{7*7}", "}")


@settings(max_examples=300)
@given(st.text(alphabet="{}as mm'\"wraps._+<> \n", max_size=30))
def test_any_text_is_read_or_refused(text: str) -> None:
    read, problems = read_text(text, HERE, CHAIN)
    assert (read is None) == bool(problems)
    if read is not None:
        assert isinstance(fill(read, Careful(Rig(), chain())), str)


def working(text: str, this: Thing) -> str:
    lines = as_text(
        explained(
            evaluate(meant(text, CHAIN if this.kind.name == "trim_chain" else this.kind.name), Rig(), this)
        )
    )
    return lines.replace(" (rules.yaml:1:1)", "")


def test_the_working_of_a_failing_claim_shows_the_part_that_failed() -> None:
    text = "attachment is wrap and distance_to_pipe_end > reach and wraps >= 2"
    assert working(text, chain()) == (
        f"{text}: does not hold\n"
        "  distance_to_pipe_end > reach: does not hold\n"
        "    distance_to_pipe_end = 9 in\n"
        "    reach = 1'-0\" (parameter)"
    )


def test_the_working_of_an_open_claim_shows_what_keeps_it_open() -> None:
    assert working("wraps >= 2 and secured is yes and keeper_bolt is fitted", chain(secured=UNKNOWN)) == (
        "wraps >= 2 and secured is yes and keeper_bolt is fitted: cannot be told\n"
        "  secured is yes: cannot be told\n"
        "    secured = unknown\n"
        "  keeper_bolt is fitted: cannot be told\n"
        "    keeper_bolt = unknown (not recorded)"
    )


def test_the_working_of_a_list_counts_and_names_those_that_decided() -> None:
    lines = [
        thing("lift_line", f"line {mark}", role=word("lift" if mark != 2 else "spare")) for mark in (1, 2, 3)
    ]
    line_set = thing("line_set", "14", lift_lines=tuple(lines))
    assert working("every l in lift_lines has (l.role is lift)", line_set) == (
        "every l in lift_lines has (l.role is lift): does not hold, 2 of 3 hold\n"
        "  line 2: l.role is lift: does not hold\n"
        "    l.role = spare, line 2"
    )


def test_the_working_goes_down_through_named_values_and_sums() -> None:
    assert working("twice * 2 > 9", chain()) == (
        "twice * 2 > 9: does not hold\n"
        "  twice * 2 = 8\n"
        "    twice = 4\n"
        "      wraps + wraps = 4\n"
        "        wraps = 2"
    )


def test_where_a_value_was_written_stands_beside_it() -> None:
    found = evaluate(meant("wraps > 2", CHAIN), Rig(), chain())
    assert "wraps = 2 (rules.yaml:1:1)" in as_text(explained(found))
