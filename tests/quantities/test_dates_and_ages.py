"""A date is as precise as it was written, and an age by the calendar is right on the anniversary.

Days and months are checked against the standard library's `datetime` and `calendar`.
"""

from calendar import monthrange
from datetime import date
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.calendar import DAY, calendar_age, days_since
from plumbtrue.quantities.dimension import DURATION
from plumbtrue.quantities.reading import read_date, read_quantity

days = st.dates(min_value=date(1000, 1, 1))


def day(year: int, month: int, day_of_month: int) -> int:
    return date(year, month, day_of_month).toordinal()


def duration(text: str) -> float:
    read = read_quantity(text, DURATION)
    assert isinstance(read, Bounds)
    return read.low


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("2018", day(2018, 1, 1), day(2018, 12, 31)),
        ("2018-07", day(2018, 7, 1), day(2018, 7, 31)),
        ("2018-02", day(2018, 2, 1), day(2018, 2, 28)),
        ("2018-12", day(2018, 12, 1), day(2018, 12, 31)),
        ("2018-07-14", day(2018, 7, 14), day(2018, 7, 14)),
        ("2026-04-14 8:00", day(2026, 4, 14) + 1 / 3, day(2026, 4, 14) + 1 / 3),
        ("2026-04-14 08:00", day(2026, 4, 14) + 1 / 3, day(2026, 4, 14) + 1 / 3),
        ("2026-04-14T18:00", day(2026, 4, 14) + 0.75, day(2026, 4, 14) + 0.75),
        ("before 1990", -inf, day(1989, 12, 31)),
        ("before 2018-07", -inf, day(2018, 6, 30)),
        ("before 2018-07-14", -inf, day(2018, 7, 13)),
        ("after 2003", day(2004, 1, 1), inf),
        ("after 2018-07-14", day(2018, 7, 15), inf),
        ("2009..2012", day(2009, 1, 1), day(2012, 12, 31)),
        ("2009 to 2012", day(2009, 1, 1), day(2012, 12, 31)),
        ("2018-07..2018-09-15", day(2018, 7, 1), day(2018, 9, 15)),
        ("about 1985", day(1983, 1, 1), day(1987, 12, 31)),
        ("about 2018-07-14", day(2016, 7, 14), day(2020, 7, 14)),
        ("about 2020-02-29", day(2018, 2, 28), day(2022, 2, 28)),
        ("about 2018-02-28", day(2016, 2, 28), day(2020, 2, 29)),
    ],
)
def test_a_date_is_every_day_that_it_may_be(text: str, low: float, high: float) -> None:
    assert read_date(text) == Bounds(low, high)


@given(days)
def test_every_iso_day_and_its_month_and_year_are_read(one: date) -> None:
    assert read_date(one.isoformat()) == Bounds.exactly(one.toordinal())
    last = monthrange(one.year, one.month)[1]
    assert read_date(f"{one:%Y-%m}") == Bounds(day(one.year, one.month, 1), day(one.year, one.month, last))
    assert read_date(f"{one:%Y}") == Bounds(day(one.year, 1, 1), day(one.year, 12, 31))


@pytest.mark.parametrize(
    ("made", "on", "age"),
    [
        pytest.param("2018-07-14", "2019-07-14", "12 months", id="the anniversary itself"),
        pytest.param("2006-04-13", "2026-04-13", "20 years", id="twenty years"),
        pytest.param("2018-07-14", "2018-08-14", "1 month", id="a month"),
        pytest.param("2018-07-14", "2018-07-14", "0 s", id="the same day"),
        pytest.param("2018-01-31", "2018-02-28", "1 month", id="from the 31st to the end of a short month"),
        pytest.param("2018-01-31", "2018-03-31", "2 months", id="and on to the next 31st"),
        pytest.param("2020-02-29", "2021-02-28", "1 year", id="from a leap day"),
        pytest.param("2020-02-29", "2024-02-29", "4 years", id="from leap day to leap day"),
    ],
)
def test_an_age_is_exactly_the_limit_on_the_anniversary(made: str, on: str, age: str) -> None:
    bounds = Bounds.exactly(date.fromisoformat(made).toordinal())
    assert calendar_age(bounds, date.fromisoformat(on).toordinal()) == Bounds.exactly(duration(age))


def test_a_day_before_the_anniversary_is_younger_and_a_day_after_older() -> None:
    made = Bounds.exactly(day(2018, 7, 14))
    assert calendar_age(made, day(2019, 7, 13)).high < duration("12 months")
    assert calendar_age(made, day(2019, 7, 15)).low > duration("12 months")


def test_half_a_running_month_is_half_a_month() -> None:
    """June has thirty days: on the 16th, fifteen of them have gone since the 1st."""
    assert calendar_age(Bounds.exactly(day(2018, 6, 1)), day(2018, 6, 16)).low == duration("1/2 months")


@given(st.floats(min_value=400_000, max_value=800_000), st.floats(min_value=0, max_value=500), days)
def test_the_later_the_date_the_smaller_the_age(made: float, later: float, on: date) -> None:
    older, younger = (calendar_age(Bounds.exactly(one), on.toordinal()).low for one in (made, made + later))
    assert older >= younger


@given(days, days)
def test_an_age_by_the_calendar_strays_little_from_the_days_gone_by(made: date, on: date) -> None:
    """Months differ in length from the average one; over any stretch that comes to a few days at most."""
    bounds = Bounds.exactly(made.toordinal())
    by_calendar, by_day = calendar_age(bounds, on.toordinal()).low, days_since(bounds, on.toordinal()).low
    assert abs(by_calendar - by_day) < 4 * DAY


def test_a_date_known_within_bounds_gives_an_age_within_bounds() -> None:
    made = read_date("2018")
    assert isinstance(made, Bounds)
    assert days_since(made, day(2019, 12, 31)) == Bounds(365 * DAY, 729 * DAY)
    assert calendar_age(made, day(2019, 12, 31)).low == duration("12 months")
    assert calendar_age(Bounds(-inf, day(1989, 12, 31)), day(2019, 12, 31)) == Bounds(
        duration("30 years"), inf
    )
    assert days_since(Bounds(day(2019, 12, 31), inf), day(2019, 12, 31)) == Bounds(-inf, 0)


def test_what_lies_ahead_has_a_negative_age() -> None:
    assert calendar_age(Bounds.exactly(day(2019, 7, 14)), day(2018, 7, 14)).low == -duration("12 months")


def test_dates_beyond_the_calendar_of_the_library_still_have_an_age() -> None:
    """Arithmetic in a rule can leave the years 1 to 9999; the calendar repeats itself every 400 years."""
    made = day(1, 7, 14) - 146097
    assert calendar_age(Bounds.exactly(made), day(1, 7, 14)).low == duration("400 years")
    assert calendar_age(Bounds.exactly(made), day(9999, 7, 14)).low == duration("10398 years")
