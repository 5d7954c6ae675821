"""Dates of any precision, as ISO 8601 writes them, and bounds on them: `2018`, `2018-07-14`, `before 1990`.

A date is read as the days that it may be: `2018` is any day of that year. Days are numbered as
`datetime.date.toordinal` does; an hour is a part of a day. Only ISO dates are read: 3/4/2018 is one day to
one reader and another to the next.
"""

import re
from datetime import date
from functools import lru_cache
from math import inf
from typing import Final

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.figures import LONGEST, plain
from plumbtrue.quantities.unreadable import Slug, Unreadable, quoted

ABOUT_YEARS: Final = 2
"""How far a date may lie from one that is written with `about`, either way [years] (ours)."""

WANTED: Final = "a date, such as 2018-07-14, 2018-07, 2018, 2009..2012, before 1990 or about 1985"

_ISO = re.compile(
    r"(?P<year>[1-9][0-9]{3})(?:-(?P<month>[0-9]{2})(?:-(?P<day>[0-9]{2})"
    r"(?:[ T](?P<hour>[0-9]{1,2}):(?P<minute>[0-9]{2})(?::(?P<second>[0-9]{2}))?)?)?)?"
)
_RANGE = re.compile(r" ?\.{2,3} ?| to ")
_SINCE = re.compile(r"(?:since|from) (.*)", re.IGNORECASE)
_UNTIL = re.compile(r"(?:until|till|up to|by) (.*)", re.IGNORECASE)
_ROUGHLY = re.compile(r"(?:circa|ca?\.?|around|roughly|approx\.?|~) ?([1-9][0-9]{3}.*)", re.IGNORECASE)
_DOUBTED = re.compile(r"([1-9][0-9]{3})(?: ?\?+|[- ]?ish)", re.IGNORECASE)
_PRE = re.compile(r"pre[- ]?([1-9][0-9]{3})", re.IGNORECASE)
_AND_LATER = re.compile(r"([1-9][0-9]{3}) ?(?:\+|onwards?|or later)", re.IGNORECASE)
_MONTH_OF = re.compile(r"([0-9]{1,2})[-/.]([1-9][0-9]{3})")
_DECADE = re.compile(r"([1-9][0-9]{2})0'?s")
_SHORT = re.compile(r"([1-9][0-9]{3})[-/.]([0-9]{1,2})(?:[-/.]([0-9]{1,2}))?(?![0-9])")
_YEARS = re.compile(r"([1-9][0-9]{3}) ?[-/] ?([1-9][0-9]{3})")
_NO_MARKS = re.compile(r"([1-9][0-9]{3})([01][0-9])([0-3][0-9])")
_NUMBERS = re.compile(r"([0-9]{1,2})[-/.]([0-9]{1,2})[-/.]([1-9][0-9]{3})(?![0-9])")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_NAMED = re.compile(
    r"(?:(?P<day>[0-9]{1,2})\.? )?(?P<month>jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?"
    r"(?: (?P<day_after>[0-9]{1,2})(?:st|nd|rd|th)?,?)? (?P<year>[1-9][0-9]{3})",
    re.IGNORECASE,
)


@lru_cache(maxsize=4096)
def read_date(text: str) -> Bounds | Unreadable:
    """A date, or the stretch in which it lies, ends included [days].

    >>> read_date("2018") == Bounds(date(2018, 1, 1).toordinal(), date(2018, 12, 31).toordinal())
    True
    >>> read_date("before 1990").high == date(1989, 12, 31).toordinal()
    True
    >>> read_date("2018-02-30").what
    'February 2018 has 28 days, not 30'
    """
    if len(text) > LONGEST:
        return Unreadable(f"{quoted(text)} is too long for a date", WANTED, "date-unreadable")
    text = plain(text)
    lowered = text.lower()
    if lowered.startswith("before "):
        return _outside(text[7:], is_before=True)
    if lowered.startswith("after "):
        return _outside(text[6:], is_before=False)
    if lowered.startswith("about "):
        return _about(text[6:])
    if len(parts := _RANGE.split(text, maxsplit=1)) == 2:
        return _from_to(*parts)
    return _read_iso(text)


def is_date(text: str) -> bool:
    """Whether a text is written as a date to the month or nearer; a year alone is a number like others."""
    found = _ISO.fullmatch(text)
    return found is not None and found["month"] is not None


def _read_iso(text: str) -> Bounds | Unreadable:
    found = _ISO.fullmatch(text)
    if found is None:
        return _why_no_date(text)
    year = int(found["year"])
    if found["month"] is None:
        return Bounds(_first(year), _last(year))
    month = int(found["month"])
    if not 1 <= month <= 12:
        return Unreadable(f"there is no month {found['month']}", _iso_of_swapped(found), "date-impossible")
    if found["day"] is None:
        return Bounds(_first(year, month), _last(year, month))
    day, last = int(found["day"]), _days_in(year, month)
    if not 1 <= day <= last:
        what = f"{date(year, month, 1):%B %Y} has {last} days, not {day}" if day else "there is no day 00"
        return Unreadable(what, f"a day of that month, such as {year}-{month:02}-{last}", "date-impossible")
    seconds = _seconds(found)
    if seconds is None:
        return Unreadable(
            f"there is no such hour as in {quoted(text)}", f"{text[:10]} 08:00", "date-impossible"
        )
    return Bounds.exactly(date(year, month, day).toordinal() + seconds / 86400)


def _seconds(found: re.Match[str]) -> int | None:
    """Seconds after midnight, 0 where no hour is written; None for an hour that no clock shows."""
    hour, minute, second = (int(found[part] or 0) for part in ("hour", "minute", "second"))
    return hour * 3600 + minute * 60 + second if hour < 24 and minute < 60 and second < 60 else None


def _outside(text: str, *, is_before: bool) -> Bounds | Unreadable:
    stretch = _read_iso(text)
    if isinstance(stretch, Unreadable):
        return stretch
    edge = stretch.low if is_before else stretch.high
    # A whole day, month or year is left out altogether; of an hour nobody knows whether it ends on the
    # minute.
    step = 1.0 if edge == int(edge) and ":" not in text else 0.0
    return Bounds(-inf, edge - step) if is_before else Bounds(edge + step, inf)


def _about(text: str) -> Bounds | Unreadable:
    stretch = _read_iso(text)
    if isinstance(stretch, Unreadable):
        return stretch
    first, last = date.fromordinal(int(stretch.low)), date.fromordinal(int(stretch.high))
    return Bounds(_moved(first, -ABOUT_YEARS), _moved(last, ABOUT_YEARS))


def _moved(day: date, years: int) -> float:
    year = min(max(day.year + years, date.min.year), date.max.year)
    if day.month == 2 and day.day >= 28:  # The last of February stays the last of February.
        return _last(year, 2) if years > 0 or day.day == 29 else float(date(year, 2, 28).toordinal())
    return float(day.replace(year=year).toordinal())


def _from_to(first_text: str, last_text: str) -> Bounds | Unreadable:
    first, last = _read_iso(first_text), _read_iso(last_text)
    if isinstance(first, Unreadable):
        return first
    if isinstance(last, Unreadable):
        return last
    if first.low > last.high:
        what = f"{quoted(f'{first_text}..{last_text}')} runs backwards"
        return Unreadable(what, f"{last_text}..{first_text}", "range-backwards")
    return Bounds(first.low, last.high)


def _first(year: int, month: int = 1) -> float:
    return float(date(year, month, 1).toordinal())


def _last(year: int, month: int = 12) -> float:
    return float(date(year, month, _days_in(year, month)).toordinal())


def _days_in(year: int, month: int) -> int:
    if month == 12:  # The month after December 9999 cannot be asked for.
        return 31
    return (date(year, month + 1, 1) - date(year, month, 1)).days


def _why_no_date(text: str) -> Unreadable:
    """The likeliest reason why a text is no date, with the ISO date that was likely meant."""
    found: re.Match[str] | None
    if not text:
        return _unreadable("nothing is written here", WANTED)
    if found := _NUMBERS.match(text):
        return _unreadable(
            f"{quoted(text)} is not the same day to all readers", _either_order(*found.groups())
        )
    if found := _SHORT.fullmatch(text) or _NO_MARKS.fullmatch(text):
        return _unreadable(f"{quoted(text)} is no ISO date", _iso(*found.groups()))
    if found := _YEARS.fullmatch(text):
        return _unreadable(f"{quoted(text)} is no ISO date", f"{found[1]}..{found[2]}")
    if found := _NAMED.fullmatch(text):
        month, day = _MONTHS.index(found["month"].lower()) + 1, found["day"] or found["day_after"]
        return _unreadable(f"{quoted(text)} is no ISO date", _iso(found["year"], str(month), day))
    if found := _DECADE.fullmatch(text):
        return _unreadable(f"{quoted(text)} is not read as a stretch of years", f"{found[1]}0..{found[1]}9")
    if found := _ROUGHLY.fullmatch(text) or _DOUBTED.fullmatch(text):
        return _unreadable(f"{quoted(text)} is no date", f"about {found[1]}")
    if found := _PRE.fullmatch(text):
        return _unreadable(f"{quoted(text)} is no date", f"before {found[1]}")
    if (found := _MONTH_OF.fullmatch(text)) and 1 <= int(found[1]) <= 12:
        return _unreadable(f"{quoted(text)} is no ISO date", _iso(found[2], found[1], None))
    if (found := _SINCE.fullmatch(text) or _AND_LATER.fullmatch(text)) and isinstance(
        stretch := _read_iso(found[1]), Bounds
    ):
        return _unreadable(
            f"{quoted(text)} is no date", f"after {date.fromordinal(max(int(stretch.low) - 1, 1))}"
        )
    if (found := _UNTIL.fullmatch(text)) and isinstance(stretch := _read_iso(found[1]), Bounds):
        return _unreadable(f"{quoted(text)} is no date", f"before {_next_day(int(stretch.high))}")
    return _unreadable(f"{quoted(text)} is no date", WANTED)


def _unreadable(what: str, instead: str, slug: Slug = "date-unreadable") -> Unreadable:
    return Unreadable(what, instead, slug)


def _next_day(day: int) -> date:
    return date.fromordinal(min(day + 1, date.max.toordinal()))


def _iso(year: str, month: str, day: str | None = None) -> str:
    return f"{year}-{int(month):02}" + (f"-{int(day):02}" if day else "")


def _either_order(first: str, second: str, year: str) -> str:
    """A date of three numbers, year last, as the one or two days that it can be."""
    days = [
        _iso(year, month, day)
        for month, day in ((first, second), (second, first))
        if 1 <= int(month) <= 12 and 1 <= int(day) <= _days_in(int(year), int(month))
    ]
    return (
        " or ".join(dict.fromkeys(days)) + (", whichever is meant" if len(set(days)) > 1 else "")
        if days
        else WANTED
    )


def _iso_of_swapped(found: re.Match[str]) -> str:
    """`2018-30-02` the other way round, if that is a day."""
    year, month, day = found["year"], found["month"], found["day"]
    if day is not None and 1 <= int(day) <= 12 and 1 <= int(month) <= _days_in(int(year), int(day)):
        return _iso(year, day, month)
    return WANTED
