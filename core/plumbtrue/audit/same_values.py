"""Whether two values say the same, whatever the units and words in which somebody wrote them, and how far
they lie apart.

`12 in` and `1 ft` are the same, and so are a list and the same list in another order where order says
nothing. Figures are compared within the closeness of `quantities.bounds`.
"""

from collections.abc import Mapping
from math import isfinite
from typing import Final

from plumbtrue.quantities.bounds import Bounds, same
from plumbtrue.quantities.values import NONE, Each, Name, Spot, Unknown, Value, WordSet
from plumbtrue.quantities.writing import write_value
from plumbtrue.rig.vocabulary import Fact

NOISE: Final = 1e-9
"""Difference of two computed figures [SI] below which it is rounding: far under anything that is measured."""

_MARKS: Final = ".,;:()\"'"
"""What may stand around a name in a sentence."""

_LISTS_WITHOUT_ORDER: Final = frozenset(
    {"list of place", "list of name", "list of text", "list of reference", "list of quantity"}
)


def settled(value: Value, fact: Fact) -> Value:
    """A value in the one form that stands for all ways to write it.

    `none` of a count is nought, and of a list of words that none applies, as the facts take it too. Where one
    value may stand for all, a list that says the same of each is that value.
    """
    if value is NONE and fact.type == "count":
        return Bounds.exactly(0.0)
    if value is NONE and fact.type == "list of words":
        return WordSet(frozenset())
    if isinstance(value, Each):
        if fact.type in _LISTS_WITHOUT_ORDER:
            return Each(tuple(sorted(value.values, key=write_value)))
        if fact.one_or_each and all(same_value(value.values[0], one) for one in value.values):
            return value.values[0]
    return value


def same_value(one: Value, other: Value) -> bool:
    """Whether two values in their settled form say the same."""
    match one, other:
        case Bounds(), Bounds():
            return same(one.low, other.low) and same(one.high, other.high)
        case Spot(), Spot():
            return one.from_centre == other.from_centre and same_value(one.distance, other.distance)
        case Each(values), Each(others):
            return len(values) == len(others) and all(map(same_value, values, others))
        case _:
            return one == other


def same_figure(one: Value, other: Value) -> bool:
    """Like `same_value`, for what was computed: rounding near nought is no difference."""
    if isinstance(one, Bounds) and isinstance(other, Bounds):
        return _within_rounding(one.low, other.low) and _within_rounding(one.high, other.high)
    return same_value(one, other)


def _within_rounding(one: float, other: float) -> bool:
    return same(one, other) or abs(one - other) < NOISE


def shift(before: Value, after: Value) -> Bounds | None:
    """By how much a figure moved: its ends, each by itself, so that a doubt that both share is not counted
    twice. Nothing where either is no figure, or has no end on some side.

    >>> shift(Bounds(100.0, 110.0), Bounds(120.0, 132.0))
    Bounds(low=20.0, high=22.0)
    """
    if not isinstance(before, Bounds) or not isinstance(after, Bounds):
        return None
    moved = []
    for one, other in ((before.low, after.low), (before.high, after.high)):
        if isfinite(one) and isfinite(other):
            moved.append(other - one)
        elif one != other:
            return None
    return Bounds(min(moved), max(moved)) if moved else None


def same_but_for_names(one: Value, other: Value, names: Mapping[str, str]) -> bool:
    """Whether two values say the same, things that were renamed going by their new names in the second."""
    if same_figure(one, other):
        return True
    match one, other:
        case Name(text), Name(now):
            return same_words(text, now, names)
        case Each(values), Each(others):
            return len(values) == len(others) and all(
                same_but_for_names(mine, theirs, names) for mine, theirs in zip(values, others, strict=True)
            )
        case _:
            return False


def same_words(one: str, other: str, names: Mapping[str, str]) -> bool:
    """Whether two texts say the same word for word, letter case, blanks and new names of things apart.

    >>> same_words("Line 3 of set 14 is slack.", "Line 3 of set 14A is slack.", {"14": "14A"})
    True
    """
    ours, theirs = one.casefold().split(), other.casefold().split()
    if ours == theirs:
        return True
    renamed = {
        (before, after)
        for old, new in names.items()
        for before, after in zip(old.casefold().split(), new.casefold().split(), strict=False)
    }
    return len(ours) == len(theirs) and all(
        mine == yours or (mine.strip(_MARKS), yours.strip(_MARKS)) in renamed
        for mine, yours in zip(ours, theirs, strict=True)
    )


def is_known(value: Value | None) -> bool:
    """Whether anything is known: `none` is."""
    return value is not None and not isinstance(value, Unknown)
