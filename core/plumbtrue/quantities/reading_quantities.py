"""Quantities, counts and ratios, exact or within bounds: `20..25 lb`, `22 lb +/- 10 %`, `at least 1000 lb`.

Every figure is an exact fraction until its bounds are known, and is rounded to a float once.
"""

import re
from fractions import Fraction
from functools import lru_cache
from math import ceil, floor, inf
from typing import Final

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import RATIO, Dimension
from plumbtrue.quantities.figures import LONGEST, Figure, plain, read_figure
from plumbtrue.quantities.units import find_unit
from plumbtrue.quantities.unreadable import Unreadable, kind_of, quoted, wanted, with_a_unit

ABOUT: Final = Fraction(1, 5)
"""How far a figure may lie from one that is written with `about`, either way, as a part of it (ours)."""

_RANGE = re.compile(r" ?\.{2,3} ?| to ")
_TOLERANCE = re.compile(r" ?\+ ?/? ?- ?")
_BOUND_WORDS: Final = {
    **dict.fromkeys((">=", "=>", "≥", "min", "minimum", "not less than", "no less than", "from"), "at least"),
    **dict.fromkeys((">", "over", "more than", "above", "greater than"), "at least"),
    **dict.fromkeys(("<=", "=<", "≤", "max", "maximum", "not more than", "no more than", "up to"), "at most"),
    **dict.fromkeys(("<", "under", "less than", "below"), "at most"),
    **dict.fromkeys(
        ("~", "≈", "approx.", "approx", "approximately", "circa", "ca.", "ca", "roughly", "around"), "about"
    ),
}
_BOUND_WORD = re.compile(
    "|".join(re.escape(word) for word in sorted(_BOUND_WORDS, key=len, reverse=True)), re.IGNORECASE
)

Ends = tuple[Figure | None, Figure | None]
"""Lower and upper end of what was written; an end that is not known is None."""


@lru_cache(maxsize=8192)
def read_quantity(text: str, dimension: Dimension) -> Bounds | Unreadable:
    """A quantity of the dimension that is wanted, within the bounds that were written [SI].

    >>> from plumbtrue.quantities.dimension import FORCE, LENGTH
    >>> read_quantity("1/4 in", LENGTH)
    Bounds(low=0.00635, high=0.00635)
    >>> read_quantity("at least 2 kN", FORCE)
    Bounds(low=2000.0, high=inf)
    >>> read_quantity("150 lb", LENGTH).what
    '“150 lb” is a weight or pull; a length is wanted'
    """
    ends = read_ends(text, dimension)
    if isinstance(ends, Unreadable):
        return ends
    for end in ends:
        if end is not None and (problem := _does_not_fit(text, end, dimension)) is not None:
            return problem
    return bounds_of(text, ends)


def read_ratio(text: str) -> Bounds | Unreadable:
    """A plain number or a part of a hundred.

    >>> read_ratio("5 %"), read_ratio("0.9")
    (Bounds(low=0.05, high=0.05), Bounds(low=0.9, high=0.9))
    """
    return read_quantity(text, RATIO)


@lru_cache(maxsize=1024)
def read_count(text: str) -> Bounds | Unreadable:
    """A whole number of things. `about 20` is rounded outwards to whole things.

    >>> read_count("3"), read_count("about 7")
    (Bounds(low=3.0, high=3.0), Bounds(low=5.0, high=9.0))
    """
    ends = read_ends(text, RATIO)
    if isinstance(ends, Unreadable):
        return Unreadable(ends.what, "a whole number, such as 3, 2..4 or at least 3", ends.slug)
    if any(end is not None and end.unit is not None for end in ends):
        return Unreadable(
            f"{quoted(plain(text))} has a unit, but a count has none",
            "a whole number, such as 3",
            "dimension-wrong",
        )
    bounds = bounds_of(text, ends)
    if isinstance(bounds, Unreadable):
        return bounds
    if plain(text).lower().startswith("about "):
        return Bounds(float(floor(bounds.low)), float(ceil(bounds.high)))
    if any(end is not None and end.number.denominator != 1 for end in ends):
        return Unreadable(
            f"{quoted(plain(text))} is no count", "a whole number, such as 3", "count-not-whole"
        )
    return bounds


def read_ends(text: str, dimension: Dimension | None) -> Ends | Unreadable:
    """Both ends of what was written, in the units that were written; `dimension` serves the messages only."""
    if len(text) > LONGEST:
        return Unreadable(f"{quoted(text)} is too long for a figure", "the figure alone", "figure-unreadable")
    text = plain(text)
    if not text[:1].isdigit() and (ends := _worded_ends(text, dimension)) is not None:
        return ends
    if "+" in text and len(parts := _TOLERANCE.split(text, maxsplit=1)) == 2:
        return _either_way(text, parts[0], parts[1], dimension)
    if len(parts := _RANGE.split(text, maxsplit=1)) == 2:
        return _from_to(parts[0], parts[1], dimension)
    figure = read_figure(text, dimension)
    if isinstance(figure, Unreadable) and text.endswith("?"):
        doubted = text.rstrip("? ")
        if not isinstance(read_figure(doubted, dimension), Unreadable):
            return Unreadable(f"{quoted(text)} is no figure", f"about {doubted}", "bound-unreadable")
    return figure if isinstance(figure, Unreadable) else (figure, figure)


def _worded_ends(text: str, dimension: Dimension | None) -> Ends | Unreadable | None:
    """The ends of what starts with a word or a sign for a bound; None where nothing of the kind is there."""
    word, _, rest = text.partition(" ")
    if word.lower() == "about":
        return _about(rest, dimension)
    side, _, figure = rest.partition(" ")
    if word.lower() == "at" and side.lower() in ("least", "most"):
        return _one_end(figure, dimension, is_low=side.lower() == "least")
    if (found := _BOUND_WORD.match(text)) is not None:
        figure = text[found.end() :].strip()
        if figure and not isinstance(read_figure(figure, dimension), Unreadable):
            instead = f"{_BOUND_WORDS[found[0].lower()]} {figure}"
            return Unreadable(f"{quoted(found[0])} is not read before a figure", instead, "bound-unreadable")
    return None


def bounds_of(text: str, ends: Ends) -> Bounds | Unreadable:
    """The ends in SI, each rounded once."""
    first, last = ends
    low = -inf if first is None else first.si()
    high = low if last is first else inf if last is None else last.si()
    if low > high:
        parts = _RANGE.split(plain(text), maxsplit=1)
        return Unreadable(f"{quoted(plain(text))} runs backwards", _turned_round(parts), "range-backwards")
    return Bounds(low, high)


def _one_end(text: str, dimension: Dimension | None, *, is_low: bool) -> Ends | Unreadable:
    figure = read_figure(text, dimension)
    if isinstance(figure, Unreadable):
        return figure
    return (figure, None) if is_low else (None, figure)


def _about(text: str, dimension: Dimension | None) -> Ends | Unreadable:
    figure = read_figure(text, dimension)
    return figure if isinstance(figure, Unreadable) else _spread(figure, abs(figure.number) * ABOUT)


def _spread(figure: Figure, either_way: Fraction) -> Ends:
    return Figure(figure.number - either_way, figure.unit), Figure(figure.number + either_way, figure.unit)


def _from_to(low_text: str, high_text: str, dimension: Dimension | None) -> Ends | Unreadable:
    low, high = read_figure(low_text, dimension), read_figure(high_text, dimension)
    if isinstance(low, Unreadable):
        return low
    if isinstance(high, Unreadable):
        return high
    if low.unit is not None and high.unit is None:
        return Unreadable(
            f"the end of {quoted(f'{low_text}..{high_text}')} has no unit",
            f"{low_text}..{high_text} {low.unit.name}",
            "unit-missing",
        )
    return low.in_unit_of(high), high


def _either_way(
    text: str, nominal_text: str, tolerance_text: str, dimension: Dimension | None
) -> Ends | Unreadable:
    nominal, tolerance = read_figure(nominal_text, dimension), read_figure(tolerance_text, dimension)
    if isinstance(nominal, Unreadable):
        return nominal
    if isinstance(tolerance, Unreadable):
        return tolerance
    if tolerance.number < 0:
        return Unreadable(
            f"the tolerance of {quoted(text)} is negative", "it without its sign", "bound-unreadable"
        )
    per_cent = find_unit("%")
    if tolerance.unit is per_cent:
        if nominal.unit is per_cent:  # 4..6 % or 4.95..5.05 %: people mean either.
            return Unreadable(
                f"{quoted(text)} can be taken in two ways", "both ends, such as 4..6 %", "bound-unreadable"
            )
        return _spread(nominal, abs(nominal.number) * tolerance.number / 100)
    tolerance = tolerance.in_unit_of(nominal)
    if nominal.unit is None or tolerance.unit is None:
        if nominal.unit is not tolerance.unit:
            return Unreadable(
                f"the first figure of {quoted(text)} has no unit",
                _with_unit(nominal_text, tolerance),
                "unit-missing",
            )
        return _spread(nominal, tolerance.number)
    if nominal.unit.dimension != tolerance.unit.dimension:
        what = f"the tolerance of {quoted(text)} is {kind_of(tolerance.unit.dimension)}"
        return Unreadable(
            what, f"{kind_of(nominal.unit.dimension)} or a per cent after +/-", "dimension-wrong"
        )
    # A tolerance is a difference, so an offset (degrees Fahrenheit) has no part in it.
    return _spread(nominal, tolerance.number * tolerance.unit.factor / nominal.unit.factor)


def _with_unit(text: str, other: Figure) -> str:
    return f"{text} {other.unit.name} first" if other.unit is not None else text


def _does_not_fit(text: str, figure: Figure, dimension: Dimension) -> Unreadable | None:
    if figure.unit is None:
        if dimension == RATIO:
            return None
        return Unreadable(
            f"{kind_of(dimension)} needs a unit", with_a_unit(plain(text), dimension), "unit-missing"
        )
    if figure.unit.dimension != dimension:
        what = f"{quoted(plain(text))} is {kind_of(figure.unit.dimension)}; {kind_of(dimension)} is wanted"
        return Unreadable(what, wanted(dimension), "dimension-wrong")
    return None


def _turned_round(parts: list[str]) -> str:
    """A backwards range the right way round, its unit last."""
    if len(parts) != 2:
        return "the lower figure first"
    low, high = parts
    unit = high.lstrip("-0123456789./, ")
    if unit and not low.lstrip("-0123456789./, "):
        return f"{high.removesuffix(unit).strip()}..{low} {unit}"
    return f"{high}..{low}"
