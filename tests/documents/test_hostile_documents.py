"""Whatever a file holds, reading it ends soon, with a mapping or with problems, never with a traceback."""

import time
from collections.abc import Callable
from itertools import pairwise
from unicodedata import category

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plumbtrue.documents.decoding import lines_of
from plumbtrue.documents.limits import LIMITS, Limits
from plumbtrue.documents.nodes import Mapping
from plumbtrue.documents.place import CannotRead, Problem
from plumbtrue.documents.reading import read_text
from plumbtrue.documents.rendering import render_problems

Refuse = Callable[[str | bytes], tuple[Problem, ...]]

SYNTAX = "ab1 \t\n\r\"'#&*!|>%@`[]{},:?-<~\\\x00\x07\x1b\x85\u2028\ufeff\ud800é吊🎭\u0301\u202e"
PIECES = (
    "a: ",
    "- ",
    "{",
    "}",
    "[",
    "]",
    "&x ",
    "*x",
    "\n",
    "  ",
    "'",
    '"',
    "<<: ",
    "!t ",
    "| \n",
    "---\n",
    ", ",
    "? ",
    "#1",
    "b",
)


def read_or_refuse(text: str | bytes) -> None:
    """What every text must come to."""
    refusal = refusal_of(text)
    if refusal is not None:
        assert refusal.problems
        acting = [
            sign for sign in render_problems(refusal) if sign != "\n" and category(sign) in ("Cc", "Cf", "Cs")
        ]
        assert not acting
        lines = lines_of(refusal.texts["house.yaml"])
        ends = {number: len(line) + 1 for number, line in enumerate(lines, start=1)}
        # Of a file that is no text at all nothing is kept, so there is no line to point into.
        shown = [problem for problem in refusal.problems if problem.slug != "file-is-not-text"]
        assert all(1 <= problem.where.column <= ends[problem.where.line] for problem in shown)


def refusal_of(text: str | bytes) -> CannotRead | None:
    try:
        root = read_text(text, "house.yaml")
    except CannotRead as refusal:
        return refusal
    assert isinstance(root, Mapping)
    return None


@settings(max_examples=400, deadline=None)
@given(st.text(st.sampled_from(SYNTAX), max_size=60))
def test_no_text_of_yaml_signs_breaks_the_reader(text: str) -> None:
    read_or_refuse(text)


@settings(max_examples=400, deadline=None)
@given(st.lists(st.sampled_from(PIECES), max_size=30).map("".join))
def test_no_mixture_of_yaml_pieces_breaks_the_reader(text: str) -> None:
    read_or_refuse(text)


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=80))
def test_no_text_breaks_the_reader(text: str) -> None:
    read_or_refuse(text)


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=80))
def test_no_bytes_break_the_reader(content: bytes) -> None:
    read_or_refuse(content)


def bomb(levels: int) -> str:
    """Nine aliases a level: nine to the power of `levels` values in a few lines."""
    letters = "abcdefghijklmnop"[: levels + 1]
    lines = ["a: &a [x, x, x, x, x, x, x, x, x]"]
    lines += [f"{new}: &{new} [{', '.join(['*' + old] * 9)}]" for old, new in pairwise(letters)]
    return "\n".join(lines) + "\n"


def test_an_alias_bomb_is_refused_at_once(refused: Refuse) -> None:
    began = time.perf_counter()
    (problem,) = refused(bomb(12))
    assert problem.slug == "node-limit"
    assert f"{LIMITS.nodes:,}" in problem.what
    assert time.perf_counter() - began < 1


def test_the_count_of_nodes_is_exact() -> None:
    """The mapping, two keys, the list and its nine values, then the list once more: 23 with the alias
    written out.
    """
    text = "a: &a [x, x, x, x, x, x, x, x, x]\nb: *a\n"
    assert read_text(text, "h", limits=Limits(nodes=23))
    with pytest.raises(CannotRead):
        read_text(text, "h", limits=Limits(nodes=22))


def test_more_aliases_than_any_house_needs_are_refused(refused: Refuse) -> None:
    (problem,) = refused("a: &a 1\nb: [" + "*a, " * (LIMITS.aliases + 1) + "]\n")
    assert problem.slug == "alias-limit"


@pytest.mark.parametrize("opening", ["[", "{a: ", "- "])
def test_deep_nesting_is_refused_however_it_is_written(refused: Refuse, opening: str) -> None:
    (problem,) = refused("a:\n  " + opening * 5000)
    assert problem.slug == "depth-limit"
    assert "64" in problem.what


def test_the_depth_at_the_limit_is_read() -> None:
    assert read_text("a: " + "[" * 63 + "]" * 63, "h")
    with pytest.raises(CannotRead):
        read_text("a: " + "[" * 64 + "]" * 64, "h")


def test_depth_counts_with_aliases_written_out(refused: Refuse) -> None:
    """Forty levels inside an alias inside forty others are eighty."""
    (problem,) = refused(f"a: &a {'[' * 40}{']' * 40}\nb: {'[' * 40}*a{']' * 40}\n")
    assert (problem.slug, problem.where.line) == ("depth-limit", 2)


def test_depth_adds_up_along_a_chain_of_aliases(refused: Refuse) -> None:
    links = "".join(f"l{n}: &l{n} [[[[[[[[[[*l{n - 1}]]]]]]]]]]\n" for n in range(1, 8))
    (problem,) = refused("l0: &l0 x\n" + links)
    assert (problem.slug, problem.where.line) == ("depth-limit", 8)


def test_a_file_that_is_too_long_is_not_even_looked_at(refused: Refuse) -> None:
    (problem,) = refused(b"\x00" * (LIMITS.bytes + 1))
    assert problem.slug == "file-too-long"


def test_a_wall_of_mistakes_ends_after_some(refused: Refuse) -> None:
    assert len(refused("".join(f"a: {n}\n" for n in range(5000)))) <= LIMITS.problems


def test_a_wall_of_unusable_characters_is_told_in_short(refused: Refuse) -> None:
    problems = refused("a: " + "\x07" * 5000)
    assert len(problems) == 21
    assert problems[-1].what.startswith("4980 more characters")


@pytest.mark.parametrize(
    "tag", ["!!python/object/apply:os.system", "!include", "!!binary", "!<tag:yaml.org,2002:str>", "!"]
)
def test_no_tag_is_followed(refused: Refuse, tag: str) -> None:
    (problem,) = refused(f"a: {tag} [x]\n")
    assert (problem.slug, problem.where.column, problem.length) == ("tag-refused", 4, len(tag))
