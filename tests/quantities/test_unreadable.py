"""What cannot be read says what is wrong in the trade's words, and what to write instead can be read."""

import re
from time import perf_counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import BY_NAME, LENGTH
from plumbtrue.quantities.literals import Literal_, read_literal
from plumbtrue.quantities.reading import (
    Unreadable,
    read_count,
    read_date,
    read_quantity,
    read_ratio,
    read_spot,
    read_spots,
)
from plumbtrue.quantities.reading_dates import WANTED
from plumbtrue.quantities.unreadable import SLUGS, wanted


def refusal(text: str, dimension: str = "length") -> Unreadable:
    read = read_quantity(text, BY_NAME[dimension])
    assert isinstance(read, Unreadable), f"{text} was read as {read}"
    return read


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("0.25", "a length needs a unit"),
        ("150 lb", "“150 lb” is a weight or pull; a length is wanted"),
        ("20..25 lb", "“20..25 lb” is a weight or pull; a length is wanted"),
        ("at least 3 deg", "“at least 3 deg” is an angle; a length is wanted"),
        ("heavy", "“heavy” is no figure"),
        ("", "nothing is written here"),
        ("in", "there is a unit but no number in “in”"),
        ("1/0 in", "“1/0 in” divides by zero"),
        ("1-3/2 in", "the fraction in “1-3/2 in” is one or more"),
        ("3 in 4 lb", "the figures of “3 in 4 lb” do not add up to one"),
    ],
)
def test_what_is_no_length_says_why(text: str, what: str) -> None:
    assert refusal(text).what == what


@pytest.mark.parametrize("dimension", BY_NAME)
def test_the_examples_of_every_kind_of_quantity_can_be_read(dimension: str) -> None:
    examples = re.split(r", | or ", wanted(BY_NAME[dimension]).partition("such as ")[2])
    assert examples
    assert all(isinstance(read_quantity(one, BY_NAME[dimension]), Bounds) for one in examples)


@pytest.mark.parametrize(
    ("text", "instead", "slug"),
    [
        ("12'-6", "12'-6\"", "unit-missing"),
        ("5 in..6", "5 in..6 in", "unit-missing"),
        ("12 inchs", "12 in", "unit-unknown"),
        ("12 fts", "12 ft", "unit-unknown"),
        ("1,5 m", "1.5 m", "figure-unreadable"),
        ("1 300 mm", "1300 mm", "figure-unreadable"),
        ("12'-14\"", "13 ft 2 in", "figure-unreadable"),
        ("12 1/2 ft 3 in", "12 ft 9 in", "figure-unreadable"),
        ("25..20 in", "20..25 in", "range-backwards"),
        ("2 ft..20 in", "20 in..2 ft", "range-backwards"),
        (">= 5 in", "at least 5 in", "bound-unreadable"),
        ("over 5 in", "at least 5 in", "bound-unreadable"),
        ("up to 5 in", "at most 5 in", "bound-unreadable"),
        ("~5 in", "about 5 in", "bound-unreadable"),
        ("approx. 5 in", "about 5 in", "bound-unreadable"),
        ("5 in?", "about 5 in", "bound-unreadable"),
        ("5 ft 6", "5 ft 6 in", "unit-missing"),
        ("5 foot 6 1/2", "5 foot 6 1/2 in", "unit-missing"),
    ],
)
def test_what_was_likely_meant_is_offered_and_can_be_read(text: str, instead: str, slug: str) -> None:
    answer = refusal(text)
    assert (answer.instead, answer.slug) == (instead, slug)
    assert isinstance(read_quantity(answer.instead, LENGTH), Bounds)


def test_a_range_with_a_hyphen_is_offered_with_two_dots() -> None:
    """In this trade 1-1/2 is one and a half, so a hyphen cannot also part the ends of a range."""
    assert refusal("20-25 in").instead == "20..25 in for a range"
    assert refusal("20–25 in").instead == "20..25 in for a range"
    assert refusal("6 ft-8 ft").instead == "6 ft..8 ft for a range"
    assert isinstance(read_quantity("1-1/2 in", LENGTH), Bounds)


def test_a_ton_is_refused_because_it_is_three_weights() -> None:
    answer = refusal("1/2 ton", "force")
    assert answer.instead == "1/2 short ton (2000 lb each) or 1/2 t (1000 kg each)"
    assert answer.slug == "unit-ambiguous"


@pytest.mark.parametrize("text", ["15 st", "15 stone", "15 stones"])
def test_a_stone_is_not_taken_for_a_tonne(text: str) -> None:
    """A stone is 14 lb (Weights and Measures Act 1985, schedule 1, part VI); a tonne is 157 times as much."""
    assert refusal(text, "force").instead == "210 lb (a stone is 14 lb)"


def test_per_cent_of_per_cent_is_refused_because_people_mean_either() -> None:
    assert refusal("5 % +/- 1 %", "ratio").instead == "both ends, such as 4..6 %"


@pytest.mark.parametrize(
    ("text", "slug"),
    [("3.5", "count-not-whole"), ("3 lb", "dimension-wrong"), ("three", "figure-unreadable")],
)
def test_a_count_is_whole_and_has_no_unit(text: str, slug: str) -> None:
    answer = read_count(text)
    assert isinstance(answer, Unreadable)
    assert answer.slug == slug


@pytest.mark.parametrize(
    ("text", "what", "instead"),
    [
        ("2018-02-30", "February 2018 has 28 days, not 30", "a day of that month, such as 2018-02-28"),
        ("2100-02-29", "February 2100 has 28 days, not 29", "a day of that month, such as 2100-02-28"),
        ("2018-04-31", "April 2018 has 30 days, not 31", "a day of that month, such as 2018-04-30"),
        ("2018-14-07", "there is no month 14", "2018-07-14"),
        ("2018-07-14 25:00", "there is no such hour as in “2018-07-14 25:00”", "2018-07-14 08:00"),
        ("7/14/2018", "“7/14/2018” is not the same day to all readers", "2018-07-14"),
        ("14.7.2018", "“14.7.2018” is not the same day to all readers", "2018-07-14"),
        (
            "3/4/2018",
            "“3/4/2018” is not the same day to all readers",
            "2018-03-04 or 2018-04-03, whichever is meant",
        ),
        ("4/4/2018", "“4/4/2018” is not the same day to all readers", "2018-04-04"),
        ("2018/7/4", "“2018/7/4” is no ISO date", "2018-07-04"),
        ("20180704", "“20180704” is no ISO date", "2018-07-04"),
        ("July 2018", "“July 2018” is no ISO date", "2018-07"),
        ("4 Jul 2018", "“4 Jul 2018” is no ISO date", "2018-07-04"),
        ("July 4th, 2018", "“July 4th, 2018” is no ISO date", "2018-07-04"),
        ("2009-2012", "“2009-2012” is no ISO date", "2009..2012"),
        ("1980s", "“1980s” is not read as a stretch of years", "1980..1989"),
        ("circa 1985", "“circa 1985” is no date", "about 1985"),
        ("1985?", "“1985?” is no date", "about 1985"),
        ("1985ish", "“1985ish” is no date", "about 1985"),
        ("2003+", "“2003+” is no date", "after 2002-12-31"),
        ("pre-1985", "“pre-1985” is no date", "before 1985"),
        ("7/2018", "“7/2018” is no ISO date", "2018-07"),
        ("13/2018", "“13/2018” is no date", WANTED),
        ("since 2003", "“since 2003” is no date", "after 2002-12-31"),
        ("until 2003", "“until 2003” is no date", "before 2004-01-01"),
        ("2012..2009", "“2012..2009” runs backwards", "2009..2012"),
    ],
)  # fmt: skip
def test_a_date_that_is_none_is_answered_with_the_day_likely_meant(
    text: str, what: str, instead: str
) -> None:
    answer = read_date(text)
    assert isinstance(answer, Unreadable)
    assert (answer.what, answer.instead) == (what, instead)


@pytest.mark.parametrize(
    ("text", "instead"),
    [
        ("6'-0\" SL", "SL 6'-0\""),
        ("stage left 6 ft", "SL 6 ft"),
        ("6' stage right", "SR 6'"),
        ("3 ft left", "SL 3 ft"),
        ("SL6'", "SL 6'"),
        ("C", "CL"),
        ("centerline", "CL"),
        ("SL -3 ft", "SR 3 ft"),
        ("centre line", "CL"),
    ],
)
def test_a_place_that_is_none_is_answered_with_one_that_is(text: str, instead: str) -> None:
    answer = read_spot(text)
    assert isinstance(answer, Unreadable)
    assert answer.instead == instead
    assert not isinstance(read_spot(answer.instead), Unreadable)


def test_a_place_without_a_unit_keeps_its_side() -> None:
    answer = read_spot("SR 18")
    assert isinstance(answer, Unreadable)
    assert (answer.instead, answer.slug) == ("SR 18 ft or SR 18 m", "unit-missing")


PIECES = [
    "at least ",
    "at most ",
    "about ",
    "before ",
    "after ",
    "both ",
    "SL ",
    "CL",
    "..",
    " to ",
    "+/-",
    "±",
    "-",
    "1",
    "25",
    ",",
    "1/2",
    "/",
    "0",
    ".",
    "'",
    '"',
    "½",
    " ",
    "in",
    "ft",
    "lb",
    "lb/ft2",
    "%",
    "°",
    "deg",
    "degF",
    "sq ",
    "per ",
    "ton",
    "months",
    "2018",
    "2018-02-30",
    "-07",
    "9999",
    "e9",
    "^2",
    "²",
    "٣",
    "\x00",
    "�",
    "🙂",
]
TEXTS = st.one_of(st.text(max_size=300), st.lists(st.sampled_from(PIECES), max_size=12).map("".join))


@given(TEXTS)
def test_nothing_that_can_be_typed_stops_the_program(text: str) -> None:
    answers = [read_quantity(text, dimension) for dimension in BY_NAME.values()]
    answers += [read_count(text), read_ratio(text), read_date(text)]
    for answer in answers:
        assert isinstance(answer, Bounds | Unreadable)
    for other in (read_spot(text), read_spots(text), read_literal(text)):
        if isinstance(other, Unreadable):
            answers.append(other)
    refused = [answer for answer in answers if isinstance(answer, Unreadable)]
    assert all(one.what and one.instead and one.slug in SLUGS for one in refused)


@given(TEXTS)
def test_a_literal_is_read_as_the_quantity_of_its_dimension(text: str) -> None:
    literal = read_literal(text)
    if isinstance(literal, Literal_) and literal.dimension is not None:
        assert read_quantity(text, literal.dimension) == literal.bounds


@pytest.mark.parametrize(
    "piece", ["1", "1 ", "1,000", "1/", "1'", "a ", "a-", "in/", "-", "1..", "lb per ", "12 ft ", " ", "½"]
)
def test_a_text_without_end_is_refused_at_once(piece: str) -> None:
    """A hundred thousand times the piece: the reader looks at no more than a line of it."""
    text = piece * 100_000
    start = perf_counter()
    answers = [
        read_quantity(text, LENGTH),
        read_date(text),
        read_count(text),
        read_spot(text),
        read_literal(text),
    ]
    assert perf_counter() - start < 0.1
    assert all(isinstance(answer, Unreadable) for answer in answers)
