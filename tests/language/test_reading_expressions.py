"""Reading a rule's text: the tree it gives, where its nodes stand, and what a text that means nothing gets
for an answer.
"""

import json
import logging
import subprocess
import sys

import lark
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.language.made_up_expressions import claims
from tests.language.small_rig import written

from plumbtrue.documents.place import Place, Problem
from plumbtrue.rules.language.grammar_writing import GRAMMAR, TABLE, as_text, grammar_table
from plumbtrue.rules.language.limits import DEEPEST, LONGEST, MOST_NESTED, MOST_NODES
from plumbtrue.rules.language.nodes import (
    Arithmetic,
    Comparison,
    Expression,
    Figure,
    Is,
    OneOf,
    Path,
    Quantified,
    inside,
)
from plumbtrue.rules.language.parsing import parse
from plumbtrue.rules.language.printing import printed

THERE = Place("rules/chain.yaml", 7, 12)


def refused(text: str) -> Problem:
    found = parse(text, THERE)
    assert isinstance(found, Problem), printed(found)
    return found


@settings(max_examples=300, deadline=None)
@given(claims(depth=4))
def test_a_printed_expression_reads_as_the_same_expression(expression: Expression) -> None:
    assert written(printed(expression)) == expression


@pytest.mark.parametrize(
    "text",
    [
        "a - (b - c) - d",
        "--a * (b + c) / (d / e)",
        "not (a < b or c < d) and (e < f or g < h)",
        "(a and b) and c",
        "a and (b and c)",
        "(look up x in t for k = a + b) * 2 <= look up y in t for k = -c",
        "every l in a.b where (l.c < 2) has (some p in l.d has (p is not q))",
        "age of (a - 90 days) < 12 months",
        "sum of count of p in l.d for l in a where (l.b is none) = 3",
        "(8) in allowed or (a + 3) not in allowed",
        "x is in and y in [no, up, 7x19, iso-8.8, 6061-t6]",
        'grade not in ["30", \'say "so"\']',
        "width / 2 < 1/2 in",
    ],
)
def test_brackets_are_printed_only_where_they_are_needed(text: str) -> None:
    assert printed(written(text)) == text


def test_words_of_the_grammar_are_names_where_it_has_no_use_for_them() -> None:
    assert written("count < 3") == Comparison("<", Path(("count",), THERE), Figure("3", THERE), THERE)
    assert written("dead_ends.of = sum") == Comparison(
        "=", Path(("dead_ends", "of"), THERE), Path(("sum",), THERE), THERE
    )


@pytest.mark.parametrize(
    ("text", "name"),
    [
        pytest.param("a < every", "every", id="beside a comparison no claim about several can stand"),
        pytest.param("a = 2 * some", "some", id="nor in a product"),
        pytest.param("a in no", "no", id="nor where a parameter is named"),
        pytest.param("a < b.every", "b.every", id="nor behind a dot"),
        pytest.param("a < age.age", "age.age", id="a word that begins a phrase only with the next one"),
    ],
)
def test_a_quantifier_is_a_name_where_none_can_stand(text: str, name: str) -> None:
    """Found by comparison with the library, which read `5 * every` and was right by the rule above."""
    assert Path(tuple(name.split(".")), THERE) in everything_in(written(text))


def everything_in(expression: Expression) -> list[Expression]:
    return [expression, *(deeper for part in inside(expression) for deeper in everything_in(part))]


def test_a_hyphen_joins_words_and_subtracts_names() -> None:
    word, difference = written("a is two-part"), written("a-b < 0")
    assert isinstance(word, Is)
    assert word.word.text == "two-part"
    assert isinstance(difference, Comparison)
    assert isinstance(difference.left, Arithmetic)


@pytest.mark.parametrize(
    "text",
    [
        "1/4 in",
        "1-1/2 in",
        "0.2375 in",
        "12 months",
        "5 %",
        "50 lb/ft2",
        "15 ft-lb",
        "2 kN m",
        "16 oz per linear yd",
        "3 short tons",
        "2018-07-14",
        "2018-07",
        "2026-04-14 08:00",
        "45 deg",
        "70 °F",
    ],
)
def test_a_figure_keeps_its_unit(text: str) -> None:
    found = written(f"x < {text} and y < 1")
    assert isinstance(inside(found)[0], Comparison)
    assert inside(inside(found)[0])[1] == Figure(text, THERE)


def test_inches_are_told_from_lists() -> None:
    assert isinstance(written("a in [b]"), OneOf)
    assert written("a < 12 in") == Comparison("<", Path(("a",), THERE), Figure("12 in", THERE), THERE)


def test_nodes_know_the_line_and_column_where_they_begin() -> None:
    found = parse("a < 1\nand every p in b\n  has (c is d)", THERE)
    assert not isinstance(found, Problem)
    first, second = inside(found)
    assert isinstance(second, Quantified)
    assert (first.place.line, first.place.column) == (7, 12)
    assert (second.place.line, second.place.column) == (8, 5)
    assert (second.condition.place.line, second.condition.place.column) == (9, 8)


@pytest.mark.parametrize(
    ("text", "column", "instead"),
    [
        ("a == b", 15, "write one = "),
        ("a && b", 14, "join claims with and"),
        ("a ≤ 3 in", 14, "write <="),
        ("every x on y has (z < 1)", 20, "write in and the list"),
        ("every x in y has z < 1", 29, "put what follows has in brackets"),
        ("sum of a", 20, "write for, a name, in and the list"),
        ("(a < b", 18, "close the bracket"),
        ("a is", 16, "a word is wanted"),
        ("a < ", 16, "is wanted here"),
        ("", 12, "is wanted here"),
        ("a is 'b", 17, "close the quotes"),
        ("a b", 14, "join claims with and"),
    ],
)
def test_what_cannot_be_read_is_told_with_its_column_and_what_to_write(
    text: str, column: int, instead: str
) -> None:
    problem = refused(text)
    assert problem.slug == "expression-unreadable"
    assert (problem.where.line, problem.where.column) == (7, column)
    assert instead in problem.instead


@pytest.mark.parametrize(
    ("text", "slug"),
    [
        ("a < 1 and " * (LONGEST // 10) + "b < 1", "expression-too-long"),
        ("not " * DEEPEST + "a", "expression-too-large"),
        ("-" * 900 + "a < 1", "expression-too-large"),
        (" + ".join(["a"] * (DEEPEST + 1)) + " < 1", "expression-too-large"),
        (" and ".join(["a<1"] * (MOST_NODES // 3 + 1)), "expression-too-large"),
        ("x in [" + ", ".join(["a"] * MOST_NODES) + "]", "expression-too-large"),
        ("some a in b has (" * (MOST_NESTED + 1) + "c" + ")" * (MOST_NESTED + 1), "expression-too-large"),
    ],
)
def test_an_expression_that_is_too_large_is_refused(text: str, slug: str) -> None:
    assert refused(text).slug == slug


def test_brackets_alone_do_not_make_an_expression_deep() -> None:
    assert written("(" * 900 + "a" + ")" * 900) == Path(("a",), THERE)


PIECES = [
    # A bit of everything that the grammar knows, and of what it does not.
    "a",
    "b.c",
    "5",
    "is",
    "not",
    "none",
    "and",
    "or",
    "in",
    "[",
    "]",
    "(",
    ")",
    ",",
    "<",
    "=",
    "-",
    "*",
    ".",
    "every",
    "has",
    "where",
    "for",
    "within",
    "7x19",
    "{",
    "é",
    "'",
    "∀",
    "__class__",
    "1/4 in",
    '"q"',
    "sum of",
    "count of",
    "look up",
    "age of",
    "\n",
    "\x00",
]


@settings(max_examples=400, deadline=None)
@given(st.lists(st.sampled_from(PIECES), max_size=14).map(" ".join) | st.text(max_size=60))
def test_any_text_gives_an_expression_or_a_problem(text: str) -> None:
    found = parse(text, THERE)
    if not isinstance(found, Problem):
        assert written(printed(found)) == found
    else:
        assert found.what


@settings(max_examples=300, deadline=None)
@given(st.lists(st.sampled_from(PIECES), max_size=10).map(" ".join))
def test_the_parser_and_the_library_accept_the_same_texts(text: str) -> None:
    """The table is run by our own parser; the library that made it (lark, on the same grammar) is the
    judge.
    """
    try:
        LIBRARY.parse(text)
        accepted = True
    except lark.exceptions.UnexpectedInput:
        accepted = False
    found = parse(text, THERE)
    assert accepted == (not isinstance(found, Problem) or found.slug == "expression-too-large")


LIBRARY = lark.Lark(GRAMMAR.read_text(encoding="utf-8"), parser="lalr", maybe_placeholders=False)


def test_the_stored_table_is_the_one_that_the_grammar_gives() -> None:
    """After a change: python -m plumbtrue.rules.language.grammar_writing."""
    assert as_text(grammar_table(GRAMMAR.read_text(encoding="utf-8"))) == TABLE.read_text(encoding="utf-8")


def test_the_grammar_has_no_conflict(caplog: pytest.LogCaptureFixture) -> None:
    """The library settles a conflict between reading on and closing a rule by itself and only logs it."""
    lark.logger.addHandler(caplog.handler)
    lark.logger.setLevel(logging.DEBUG)
    try:
        lark.Lark(GRAMMAR.read_text(encoding="utf-8"), parser="lalr", debug=True)
        assert "onflict" not in caplog.text
        lark.Lark('start: e\ne: e "+" e | "a"', parser="lalr", debug=True)
        assert "onflict" in caplog.text
    finally:
        lark.logger.removeHandler(caplog.handler)
        lark.logger.setLevel(logging.CRITICAL)


def test_judging_needs_no_grammar_library() -> None:
    code = (
        "import sys; import plumbtrue.rules.language.texts, plumbtrue.rules.language.fast;"
        "from plumbtrue.rules.language.parsing import parsed; parsed('a < 1 in');"
        "print('lark' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_the_table_names_the_command_that_makes_it() -> None:
    assert json.loads(TABLE.read_text(encoding="utf-8"))["made_by"].endswith("grammar_writing")
