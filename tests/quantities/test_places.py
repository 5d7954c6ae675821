"""Places along a batten, as hang plots give them: from the house's zero end, or from the centre line.

Stage left and right as seen facing the house: common practice.
"""

from math import inf

import pytest

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.reading import Unreadable, read_spot, read_spots
from plumbtrue.quantities.values import Spot

FEET = 0.3048


@pytest.mark.parametrize(
    ("text", "from_centre", "low", "high"),
    [
        ("SL 10'-0\"", True, 10, 10),
        ("SR 10'-0\"", True, -10, -10),
        ("sr 10 ft", True, -10, -10),
        ("CL", True, 0, 0),
        ("10'-0\"", False, 10, 10),
        ("SL 5..10 ft", True, 5, 10),
        ("SR 5..10 ft", True, -10, -5),
        ("SR at least 10 ft", True, -inf, -10),
    ],
)
def test_stage_left_counts_positive_from_the_centre_line(
    text: str, from_centre: bool, low: float, high: float
) -> None:
    assert read_spot(text) == Spot(from_centre, Bounds(low * FEET, high * FEET))


def test_both_is_a_place_on_either_side() -> None:
    assert read_spots("both 6'-0\"") == (read_spot("SL 6'-0\""), read_spot("SR 6'-0\""))
    assert read_spots("SL 6'-0\"") == (read_spot("SL 6'-0\""),)


def test_both_is_no_single_place() -> None:
    answer = read_spot("both 6'-0\"")
    assert isinstance(answer, Unreadable)
    assert answer.what == "“both 6'-0\"” is two places; one is wanted"
    assert answer.instead == "SL 6'-0\" or SR 6'-0\""


@pytest.mark.parametrize(
    ("text", "instead"),
    [("SL 6'-0", "SL 6'-0\""), ("both 6'-0", "both 6'-0\""), ("6'-0", "6'-0\""), ("SR 2 fts", "SR 2 ft")],
)
def test_a_slip_in_the_length_is_mended_where_it_stands(text: str, instead: str) -> None:
    answer = read_spots(text)
    assert isinstance(answer, Unreadable)
    assert answer.instead == instead


@pytest.mark.parametrize(
    ("text", "slug"),
    [
        ("6", "unit-missing"),
        ("SL", "place-unreadable"),
        ("SL heavy", "figure-unreadable"),
        ("CL 3 ft", "place-unreadable"),
        ("SL 20 lb", "dimension-wrong"),
        ("both", "figure-unreadable"),
        ("both heavy", "figure-unreadable"),
        ("both -3 ft", "place-unreadable"),
    ],
)
def test_what_is_no_place_is_refused_with_one_that_is(text: str, slug: str) -> None:
    answer = read_spots(text)
    assert isinstance(answer, Unreadable)
    assert answer.slug == slug
    assert answer.instead
