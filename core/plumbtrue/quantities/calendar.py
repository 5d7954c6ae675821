"""Ages by the calendar and by the day, from a date known within bounds.

A date is a day's number in the proleptic Gregorian calendar, as `datetime.date.toordinal` counts; hours are
parts of a day. A limit in months or years is held against `calendar_age`, one in days against `days_since`.
"""

from datetime import date
from math import floor, isinf
from typing import Final

from plumbtrue.quantities.bounds import Bounds

DAY: Final = 86400.0
"""Seconds in a day."""

MONTH: Final = 2629746.0
"""Seconds in a month, the 4800th part of the 146097 days of the Gregorian calendar's 400 years."""

_DAYS_OF_400_YEARS: Final = 146097
_MONTHS_OF_400_YEARS: Final = 4800
_DAYS_BEFORE_MONTH: Final = (0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365)


def days_since(day: Bounds, on: int) -> Bounds:
    """Time from a date to the day judged [s]; negative for a date to come.

    >>> days_since(Bounds.exactly(date(2025, 12, 5).toordinal()), date(2026, 4, 13).toordinal()).low / DAY
    129.0
    """
    return (Bounds.exactly(on) - day) * Bounds.exactly(DAY)


def calendar_age(day: Bounds, on: int) -> Bounds:
    """Age by the calendar [s]: whole months, each of average length, and a part of the running month.

    So what was made on 14 July 2018 is exactly `12 months` old on 14 July 2019. A month after the 31st ends
    on the last day of a shorter month. The later the date, the smaller the age, day by day and hour by hour.
    Negative for a date to come.

    >>> made, on = date(2018, 7, 14).toordinal(), date(2019, 7, 14).toordinal()
    >>> calendar_age(Bounds.exactly(made), on).low / MONTH
    12.0
    """
    return Bounds(-_age_below_zero(day.high, on), -_age_below_zero(day.low, on))


def _age_below_zero(day: float, on: int) -> float:
    if isinf(day):
        return day
    whole = floor(day)
    hours = day - whole
    months = _months_between(whole, on)
    if hours:  # Between two midnights the age runs evenly, so that it stays monotone where months end.
        months += hours * (_months_between(whole + 1, on) - months)
    return -months * MONTH


def _months_between(start: int, on: int) -> float:
    """Whole months from one day to another, and the part of the running month that has gone by."""
    # The calendar repeats itself after 400 years; a day that `date` cannot hold is moved to one that it can.
    cycles = (start - 1) // _DAYS_OF_400_YEARS
    began = date.fromordinal(start - cycles * _DAYS_OF_400_YEARS)
    on -= cycles * _DAYS_OF_400_YEARS
    whole = (on - began.toordinal()) * _MONTHS_OF_400_YEARS // _DAYS_OF_400_YEARS
    while _months_after(began, whole) > on:
        whole -= 1
    while _months_after(began, whole + 1) <= on:
        whole += 1
    this, following = _months_after(began, whole), _months_after(began, whole + 1)
    return whole + (on - this) / (following - this)


def _months_after(began: date, months: int) -> int:
    """The day that many months later, or the last of its month where the month is shorter."""
    year, month = divmod(began.year * 12 + began.month - 1 + months, 12)
    length = _days_before(year, month + 1) - _days_before(year, month)
    return _days_before(year, month) + min(began.day, length)


def _days_before(year: int, month: int) -> int:
    """Days from the start of the calendar to that of a month; January is 0, and 12 is the next January."""
    leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    past = year - 1
    return (
        past * 365 + past // 4 - past // 100 + past // 400 + _DAYS_BEFORE_MONTH[month] + (leap and month > 1)
    )
