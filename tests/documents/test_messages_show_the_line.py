"""A message shows the line with a caret under the right characters; nothing in it acts on a terminal."""

from unicodedata import category

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from plumbtrue.documents.place import CannotRead, Place, Problem
from plumbtrue.documents.printable import cells, printable, width_of
from plumbtrue.documents.reading import read_text
from plumbtrue.documents.rendering import render_problem, render_problems


def caret_lines(line: str, column: int, length: int = 1, width: int = 100) -> tuple[str, str]:
    """The line as shown and the line of carets, without their margin."""
    problem = Problem("key-twice", Place("h", 3, column), "what", "instead", length)
    shown = render_problem(problem, line, width=width).split("\n")
    assert shown[1].startswith("    3 | ")
    return shown[1][8:], shown[2][8:]


def test_a_message_has_five_parts() -> None:
    problem = Problem(
        "unit-missing",
        Place("house.yaml", 31, 15),
        "a rope diameter needs a unit",
        "write a length, such as 1/4 in or 6.4 mm",
        4,
        ("used by line set 14, lift lines 1 to 5 (like: quarter-gac, house.yaml:212)",),
    )
    assert render_problem(problem, "    diameter: 0.25") == (
        "house.yaml:31:15: a rope diameter needs a unit\n"
        "   31 |     diameter: 0.25\n"
        "      |               ^^^^\n"
        "   write a length, such as 1/4 in or 6.4 mm\n"
        "   used by line set 14, lift lines 1 to 5 (like: quarter-gac, house.yaml:212)"
    )


def test_a_message_without_a_line_has_none() -> None:
    problem = Problem("file-missing", Place("house.yaml", 1, 1), "there is no such file")
    assert render_problem(problem) == "house.yaml:1:1: there is no such file"


@pytest.mark.parametrize(
    ("line", "column", "length", "shown", "carets"),
    [
        pytest.param("\ta: x", 5, 1, "    a: x", "       ^", id="tab before"),
        pytest.param("ab\tc: x", 4, 1, "ab  c: x", "    ^", id="tab to its stop"),
        pytest.param("吊: x", 4, 1, "吊: x", "    ^", id="wide character before"),
        pytest.param("a: 吊物", 4, 2, "a: 吊物", "   ^^^^", id="wide characters marked"),
        pytest.param("cafe\u0301: x", 8, 1, "cafe\u0301: x", "      ^", id="combining mark before"),
        pytest.param("a: \x1b[2Jx", 8, 1, "a: ␛[2Jx", "       ^", id="escape sequence before"),
        pytest.param("a: \u202ex", 5, 1, "a: <U+202E>x", "           ^", id="turned reading order before"),
        pytest.param("a: x", 5, 1, "a: x", "    ^", id="behind the end"),
        pytest.param("a: x", 50, 9, "a: x", "    ^", id="far behind the end"),
        pytest.param("a: x", 4, 99, "a: x", "   ^", id="longer than the line"),
    ],
)
def test_the_caret_stands_below_its_character(
    line: str, column: int, length: int, shown: str, carets: str
) -> None:
    assert caret_lines(line, column, length) == (shown, carets)


@pytest.mark.parametrize("column", [1, 60, 300, 599])
def test_a_long_line_is_cut_to_what_stands_about_the_caret(column: int) -> None:
    line = "".join(f"{number:>6}" for number in range(100))
    shown, carets = caret_lines(line, column, width=60)
    assert len(shown) <= 62
    assert shown[carets.index("^")] == line[column - 1]


def test_a_marked_text_longer_than_the_width_is_cut_too() -> None:
    shown, carets = caret_lines("key: " + "x" * 300 + " end", 6, 300, width=40)
    assert shown == "…" + "x" * 40 + "…"
    assert carets == " " + "^" * 40


def test_a_line_of_just_the_width_is_not_cut() -> None:
    assert caret_lines("x" * 40, 40, width=40) == ("x" * 40, " " * 39 + "^")


@given(st.text(max_size=40), st.integers(1, 45), st.integers(1, 45), st.integers(10, 60))
def test_nothing_of_a_line_acts_on_a_terminal(line: str, column: int, length: int, width: int) -> None:
    problem = Problem("key-twice", Place(line, 3, column), line, line, length, (line,))
    for shown in render_problem(problem, line, width=width).split("\n"):
        assert not [sign for sign in shown if category(sign) in ("Cc", "Cf", "Cs", "Zl", "Zp")]


def test_a_message_cannot_be_made_to_look_like_two() -> None:
    problem = Problem("key-twice", Place("h\nb.yaml", 1, 1), "a\r\nb: fine")
    assert render_problem(problem) == "h␊b.yaml:1:1: a␍␊b: fine"


@pytest.mark.parametrize("text", ["12'-6 1/2\"", "é", "吊物", "🎭", "e\u0301", "ﬁ", "ㄱ", "Ａ", "½"])
def test_the_width_of_a_text_is_that_which_terminals_use(text: str) -> None:
    """Against rich, whose table is made from the Unicode East Asian Width property (UAX #11)."""
    assert width_of(text) == cell_len(text)


@given(st.text(max_size=30))
def test_what_is_shown_stays_as_it_is_when_shown_again(text: str) -> None:
    assert printable(printable(text)) == printable(text)
    assert "".join(shown for shown, _ in cells(text)) == printable(text)


def test_all_problems_are_shown_with_their_lines() -> None:
    with pytest.raises(CannotRead) as refusal:
        read_text("rope: 1\nrope: 2\nend: *end\n", "house.yaml")
    assert render_problems(refusal.value) == (
        "house.yaml:2:1: rope is written twice in one thing\n"
        "    2 | rope: 2\n"
        "      | ^^^^\n"
        "   delete one of the two, or rename it\n"
        "   first written at house.yaml:1:1\n"
        "\n"
        "house.yaml:3:6: *end names an anchor that does not stand above it\n"
        "    3 | end: *end\n"
        "      |      ^^^^\n"
        "   write &end before the part that is meant, or quotes round a text that begins with *"
    )
