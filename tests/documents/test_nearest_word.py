"""The word that was most likely meant is offered, and none where nothing is near."""

from difflib import get_close_matches

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plumbtrue.documents.nearest_word import nearest

FACTS = [
    "diameter",
    "length",
    "depth",
    "wraps",
    "legs",
    "grade",
    "installed",
    "keeper_bolt",
    "trim-chain",
    "on",
    "by",
]


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        pytest.param("diamter", "diameter", id="letter left out"),
        pytest.param("diammeter", "diameter", id="letter twice"),
        pytest.param("lenght", "length", id="letters swapped"),
        pytest.param("grede", "grade", id="wrong letter"),
        pytest.param("Keeper-Bolt", "keeper_bolt", id="case and hyphen"),
        pytest.param("trim chain", "trim-chain", id="space"),
        pytest.param("instaled", "installed", id="long word"),
        pytest.param("no", "on", id="two letters swapped"),
        pytest.param("colour", None, id="nothing near"),
        pytest.param("x", None, id="one letter"),
        pytest.param("", None, id="nothing"),
    ],
)
def test_the_word_that_was_meant_is_offered(written: str, meant: str | None) -> None:
    assert nearest(written, FACTS) == meant


def test_of_equally_near_words_the_one_that_begins_alike_is_offered() -> None:
    assert nearest("volts", ["bolts", "volta"]) == "volta"


def test_a_word_with_no_letter_in_common_is_never_near() -> None:
    assert nearest("x", ["y"]) is None
    assert nearest("x", ["X"]) == "X"


def test_the_order_of_the_words_makes_no_difference() -> None:
    assert nearest("lags", ["lugs", "legs"]) == nearest("lags", ["legs", "lugs"])


@given(st.sampled_from([fact for fact in FACTS if len(fact) > 4]), st.data())
def test_one_slip_in_a_word_is_always_found(word: str, data: st.DataObject) -> None:
    """Python's difflib, which measures otherwise, must find the same word: these are far apart."""
    at = data.draw(st.integers(1, len(word) - 2))
    before, letter, after = word[:at], word[at], word[at + 1 :]
    slip = data.draw(st.sampled_from([before + after, f"{before}q{letter}{after}", f"{before}q{after}"]))
    assert nearest(slip, FACTS) == word == get_close_matches(slip, FACTS, 1)[0]
