"""Figures as the trade writes them, with their unit: `7/16 in`, `1-1/2 in`, `12'-6 1/2"`, `1,300 lb`, `½"`.

A figure is read as an exact fraction. It says nothing of bounds (`reading_quantities`) or of the dimension
that is wanted.
"""

import re
from fractions import Fraction
from itertools import pairwise

from plumbtrue.quantities.dimension import FORCE, Dimension
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.units import MORE_THAN_ONE_TON, STONES, Unit, find_unit, nearest_unit
from plumbtrue.quantities.unreadable import Unreadable, quoted, wanted

LONGEST = 200
"""Characters above which nothing is read: no figure is that long, and no text may keep the reader busy."""

_VULGAR = {
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅓": "1/3",
    "⅔": "2/3",
}
_PLAIN = str.maketrans(
    {"⁄": "/", "²": "^2", "³": "^3", "⁴": "^4", "…": "..", "±": "+/-", "º": "°", "˚": "°"}
    | dict.fromkeys("′’‘ʹ", "'")
    | dict.fromkeys("″”“ʺ", '"')
    | dict.fromkeys("−–—‐‑", "-")
    | {mark: f" {fraction}" for mark, fraction in _VULGAR.items()}
)
_JOINED_VULGAR = re.compile(f"(?<=[0-9])-(?=[{''.join(_VULGAR)}])")

_NUMBER = (
    r"(?:(?:(?P<whole>[0-9]+)[- ])?(?P<over>[0-9]+)/(?P<under>[0-9]+)"
    r"|(?P<decimal>[0-9]{1,3}(?:,[0-9]{3})+(?![0-9])(?:\.[0-9]+)?|(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)(?:e[-+]?[0-9]{1,2})?))"
    r"(?![0-9,])"
)
_WORD = r"[A-Za-z]+\.?(?:\^?[2-4](?![0-9]))?"
_UNIT = rf"""(?P<unit>['"%#]|°[CF]?|{_WORD}(?:(?: ?[-/·⋅*] ?| ){_WORD})*)"""
_TERM = re.compile(rf"{_NUMBER} ?{_UNIT}?")
_BETWEEN = re.compile(r"(?: ?- ?|,? )")  # Of feet and inches; or nothing at all.
_FEET_AND_BARE_INCHES = re.compile(r".*(?P<mark>'|(?<![a-z])(?:ft|feet|foot))( ?-? ?[0-9 /.-]+)")
_DECIMAL_COMMA = re.compile(r"([0-9]+),([0-9]+)(?![0-9,])")
_HYPHEN_RANGE = re.compile(r"([0-9]+(?:\.[0-9]+)?(?:/[0-9]+)?) ?- ?([0-9].*)")
_SPACED_THOUSANDS = re.compile(r"([0-9]{1,3}(?: [0-9]{3})+)(?![0-9])(.*)")


@unchanging
class Figure:
    """A figure in its unit, as written; no unit is None."""

    number: Fraction
    unit: Unit | None

    def in_unit_of(self, other: "Figure") -> "Figure":
        """The same figure, which was written without a unit of its own, in the other's."""
        return self if self.unit is not None else Figure(self.number, other.unit)

    def si(self) -> float:
        """The figure in SI, rounded once."""
        return float(self.number if self.unit is None else self.unit.to_si(self.number))


def plain(text: str) -> str:
    """The text with the typographer's marks turned into the typist's, and single spaces."""
    if not text.isascii():
        text = _JOINED_VULGAR.sub("", text).translate(_PLAIN)
    return " ".join(text.replace("''", '"').split())


def read_figure(text: str, dimension: Dimension | None) -> Figure | Unreadable:
    """One figure with its unit, or without; a compound such as `12 ft 6 in` counts in its first unit.

    Args:
        text: one figure, as `plain` leaves it.
        dimension: what is wanted, for messages; None when any will do.

    >>> read_figure("12'-6 1/2\\"", None).number
    Fraction(301, 24)
    """
    negative = text.startswith("-")
    terms = _read_terms(text[1:].lstrip() if negative or text.startswith("+") else text, dimension)
    if isinstance(terms, Unreadable):
        return terms
    first = terms[0]
    number = first.number
    if len(terms) > 1:
        if (problem := _terms_do_not_go_together(text, terms)) is not None:
            return problem
        assert first.unit is not None
        number = (
            sum((term.number * term.unit.factor for term in terms if term.unit), Fraction(0))
            / first.unit.factor
        )
    return Figure(-number if negative else number, first.unit)


def _read_terms(text: str, dimension: Dimension | None) -> tuple[Figure, ...] | Unreadable:
    terms: list[Figure] = []
    start = 0
    while start < len(text) or not terms:
        found = _TERM.match(text, start)
        if found is None:
            return _why_no_figure(text, dimension)
        number = _number(found)
        if number is None:
            return Unreadable(f"{quoted(text)} divides by zero", _wanted(dimension), "figure-unreadable")
        if found["whole"] and int(found["over"]) >= int(found["under"]):  # A slip, or a range with a hyphen.
            what = f"the fraction in {quoted(text)} is one or more"
            return Unreadable(what, "a fraction below one, such as 1-1/2 in", "figure-unreadable")
        spelled = found["unit"]
        unit = find_unit(spelled) if spelled else None
        if spelled and unit is None:
            return _no_such_unit(spelled, found[0][: -len(spelled)].strip(), dimension)
        terms.append(Figure(number, unit))
        start = found.end()
        if start < len(text):
            between = _BETWEEN.match(text, start)
            start = between.end() if between else start
            if unit is None or start == len(text):
                return _why_no_figure(text, dimension)
    return tuple(terms)


def _number(found: re.Match[str]) -> Fraction | None:
    """The number of a matched term; None where it divides by zero."""
    if decimal := found["decimal"]:
        decimal = decimal.replace(",", "")
        return Fraction(int(decimal) if decimal.isdigit() else decimal)  # A whole number is quicker made.
    under = int(found["under"])
    return Fraction(int(found["over"]), under) + int(found["whole"] or 0) if under else None


def _terms_do_not_go_together(text: str, terms: tuple[Figure, ...]) -> Unreadable | None:
    for larger, smaller in pairwise(terms):
        if smaller.unit is None:
            feet = _FEET_AND_BARE_INCHES.fullmatch(text)
            inches = "" if feet is None else '"' if feet["mark"] == "'" else " in"
            instead = f"{text}{inches}" if feet else "every figure with its unit, such as 12 ft 6 in"
            return Unreadable(f"the last figure of {quoted(text)} has no unit", instead, "unit-missing")
        assert larger.unit is not None
        if larger.unit.dimension != smaller.unit.dimension or larger.unit.offset or smaller.unit.offset:
            return Unreadable(
                f"the figures of {quoted(text)} do not add up to one", "one figure", "figure-unreadable"
            )
        if smaller.unit == larger.unit and text.count("-") == 1:
            instead = "..".join(part.strip() for part in text.split("-")) + " for a range"
            return Unreadable(f"{quoted(text)} is no figure", instead, "bound-unreadable")
        if smaller.unit.factor >= larger.unit.factor:
            return Unreadable(
                f"in {quoted(text)} the larger unit comes last",
                "the larger unit first, such as 12 ft 6 in",
                "figure-unreadable",
            )
        counted_up = _counted_up(larger, smaller)
        if larger.number.denominator != 1:
            return Unreadable(
                f"in {quoted(text)} a broken figure comes first", counted_up, "figure-unreadable"
            )
        if smaller.number * smaller.unit.factor >= larger.unit.factor:
            what = f"{quoted(text)} counts more {smaller.unit.name} than there are to the {larger.unit.name}"
            return Unreadable(what, counted_up, "figure-unreadable")
    return None


def _counted_up(larger: Figure, smaller: Figure) -> str:
    """Two terms written as they should have been: `12 ft 14 in` as `13 ft 2 in`."""
    assert larger.unit is not None
    assert smaller.unit is not None
    in_one = smaller.unit.factor / larger.unit.factor
    whole, rest = divmod(larger.number + smaller.number * in_one, 1)
    return f"{whole} {larger.unit.name} {float(rest / in_one):.6g} {smaller.unit.name}"


def _in_pounds(stones: str) -> str:
    try:
        weight = 14 * sum(Fraction(part) for part in stones.replace("-", " ").split())
    except (ValueError, ZeroDivisionError):
        return "the weight in lb (a stone is 14 lb)"
    return f"{float(weight):.6g} lb (a stone is 14 lb)"


def _no_such_unit(spelled: str, number: str, dimension: Dimension | None) -> Unreadable:
    if spelled in MORE_THAN_ONE_TON:
        instead = f"{number} short ton (2000 lb each) or {number} t (1000 kg each)"
        return Unreadable(f"{quoted(spelled)} is more than one weight", instead, "unit-ambiguous")
    if spelled in STONES and dimension in (None, FORCE):
        return Unreadable(f"{quoted(spelled)} is no unit here", _in_pounds(number), "unit-unknown")
    near = nearest_unit(spelled, dimension)
    instead = f"{number} {near.name}" if near is not None else _wanted(dimension)
    return Unreadable(f"no unit is called {quoted(spelled)}", instead, "unit-unknown")


def _why_no_figure(text: str, dimension: Dimension | None) -> Unreadable:
    """The likeliest reason why a text is no figure, and what was likely meant."""
    if not text:
        return Unreadable("nothing is written here", _wanted(dimension), "figure-unreadable")
    if found := _DECIMAL_COMMA.match(text):
        instead = f"{found[1]}.{found[2]}{text[found.end() :]}"
        return Unreadable(
            f"the comma in {quoted(text)} does not part thousands", instead, "figure-unreadable"
        )
    if found := _SPACED_THOUSANDS.fullmatch(text):
        instead = found[1].replace(" ", "") + found[2]
        return Unreadable(f"there are spaces inside the number {quoted(text)}", instead, "figure-unreadable")
    if found := _HYPHEN_RANGE.fullmatch(text):
        return Unreadable(
            f"{quoted(text)} is no figure", f"{found[1]}..{found[2]} for a range", "bound-unreadable"
        )
    if find_unit(text) is not None:
        return Unreadable(
            f"there is a unit but no number in {quoted(text)}", _wanted(dimension), "figure-unreadable"
        )
    return Unreadable(f"{quoted(text)} is no figure", _wanted(dimension), "figure-unreadable")


def _wanted(dimension: Dimension | None) -> str:
    return "a number with its unit, such as 1/4 in or 450 lb" if dimension is None else wanted(dimension)
