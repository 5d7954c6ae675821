"""Answers about values that are known exactly, within bounds, as one of several, as none, or not at all.

Each question has three answers, and each answer holds for every value that is possible. Nothing here knows
of things or rules.
"""

from datetime import date
from math import inf
from typing import Final

from plumbtrue.quantities.bounds import EVERYTHING, Bounds, exceeds, is_equal, same
from plumbtrue.quantities.calendar import calendar_age, days_since
from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.values import UNKNOWN, Absent, Choice, Name, Unknown, Value, WordSet
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.language.results import Evaluated, Members, NotThere, Rest

_FIRST_DAY: Final = float(date.min.toordinal())
_LAST_DAY: Final = float(date.max.toordinal())


def figure(found: Evaluated) -> Bounds:
    """The figure of a node. One that is unknown, none, or not there could be anything."""
    return found.value if isinstance(found.value, Bounds) else EVERYTHING


def elapsed(day: Bounds, by_calendar: bool, today: float) -> Bounds:
    """Time from a date to today [s]. What lies before or after the calendar's years is not known."""
    within = (
        Bounds(day.low if day.low >= _FIRST_DAY else -inf, day.high if day.high <= _LAST_DAY - 1 else inf)
        if day.low <= _LAST_DAY and day.high >= _FIRST_DAY
        else EVERYTHING
    )
    return calendar_age(within, int(today)) if by_calendar else days_since(within, int(today))


def any_of(values: list[Thing | Value]) -> Value:
    """A value that contains each of several."""
    if all(isinstance(value, Bounds) for value in values):
        bounds = [value for value in values if isinstance(value, Bounds)]
        return Bounds(min(one.low for one in bounds), max(one.high for one in bounds))
    possible: set[str] = set()
    may_be_none = False
    for value in values:
        match value:
            case Choice(words, perhaps_none):
                possible |= words
                may_be_none |= perhaps_none
            case Absent():
                may_be_none = True
            case _:
                return UNKNOWN
    return Choice(frozenset(possible), may_be_none)


def extreme(greatest: bool, sure: list[Bounds], perhaps: list[Bounds]) -> Bounds:
    """The least or greatest of those that count for certain and those that may; of none at all, nothing is
    known.
    """
    if not sure:
        return EVERYTHING
    lows, highs = [one.low for one in sure], [one.high for one in sure]
    if greatest:
        return Bounds(max(lows), max(highs + [one.high for one in perhaps]))
    return Bounds(min(lows + [one.low for one in perhaps]), min(highs))


def is_open(value: object) -> bool:
    return isinstance(value, Unknown) or (
        isinstance(value, Members) and value.rest is Rest.UNKNOWN and not value.known
    )


def is_word(value: object, words: frozenset[str]) -> Truth:
    match value:
        case Choice(possible, may_be_none):
            if possible <= words and possible and not may_be_none:
                return Truth.HOLDS
            return Truth.CANNOT_TELL if possible & words else Truth.FAILS
        case Name(text):
            return Truth.of(text in words)
        case Absent():
            return Truth.FAILS
        case _:
            return Truth.CANNOT_TELL


def includes(value: object, word: str) -> Truth:
    match value:
        case WordSet(words, perhaps):
            if word in words:
                return Truth.HOLDS
            return Truth.CANNOT_TELL if word in perhaps else Truth.FAILS
        case Absent():
            return Truth.FAILS
        case _:
            return Truth.CANNOT_TELL


def is_none(value: object) -> Truth:
    match value:
        case Absent() | NotThere():
            return Truth.HOLDS
        case Unknown():
            return Truth.CANNOT_TELL
        case Choice(possible, may_be_none):
            return Truth.FAILS if not may_be_none else Truth.CANNOT_TELL if possible else Truth.HOLDS
        case WordSet(words, perhaps):
            return Truth.FAILS if words else Truth.CANNOT_TELL if perhaps else Truth.HOLDS
        case Members(known, rest):
            if known or rest is Rest.SOMETHING:
                return Truth.FAILS
            return Truth.CANNOT_TELL if rest is Rest.UNKNOWN else Truth.HOLDS
        case _:
            return Truth.FAILS


def are_equal(one: object, other: object) -> Truth:
    match one, other:
        case Bounds(), Bounds():
            return is_equal(one, other)
        case Name(text), Name(text_too):
            return Truth.of(text == text_too)
        case Choice(possible, may_be_none), Choice(others, may_be_none_too):
            if not possible & others:
                return Truth.CANNOT_TELL if may_be_none or may_be_none_too else Truth.FAILS
            alone = len(possible) == len(others) == 1 and not may_be_none and not may_be_none_too
            return Truth.HOLDS if alone else Truth.CANNOT_TELL
        case _:
            return Truth.CANNOT_TELL


def differ(values: list[object]) -> bool:
    """Whether two of these differ for certain. `none` differs from everything else."""
    if all(isinstance(value, Bounds) for value in values):
        bounds = [value for value in values if isinstance(value, Bounds)]
        return bool(bounds) and exceeds(max(one.low for one in bounds), min(one.high for one in bounds))
    return any(_two_differ(one, other) for index, one in enumerate(values) for other in values[:index])


def _two_differ(one: object, other: object) -> bool:
    match one, other:
        case Bounds(), Bounds():
            return exceeds(one.low, other.high) or exceeds(other.low, one.high)
        case Name(text), Name(text_too):
            return text != text_too
        case Choice(possible, may_be_none), Choice(others, may_be_none_too):
            return not possible & others and not (may_be_none and may_be_none_too)
        case (Absent(), Choice(_, may_be_none)) | (Choice(_, may_be_none), Absent()):
            return not may_be_none
        case (Absent(), Bounds() | Name()) | (Bounds() | Name(), Absent()):
            return True
        case _:
            return False


def agree(values: list[object]) -> bool:
    """Whether these are all the same for certain."""
    if not values:
        return True
    if all(isinstance(value, Bounds) and value.is_exact for value in values):
        figures = [value.low for value in values if isinstance(value, Bounds)]
        return same(min(figures), max(figures))
    exact = all(
        isinstance(value, Name | Absent) or (isinstance(value, Choice) and value.word is not None)
        for value in values
    )
    return exact and all(value == values[0] for value in values)
