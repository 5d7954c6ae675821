"""Lengths as the trade writes them, for check cases: `12'-6 1/2"`, `7/16 in`, `3.5 m`. Exact fractions,
rounded to a float once."""

import re
from fractions import Fraction
from typing import Final

_NUMBER: Final = r"(?:\d+\s*-?\s+\d+\s*/\s*\d+|\d+-\d+/\d+|\d+\s*/\s*\d+|\d+(?:\.\d*)?|\.\d+)"
_FEET: Final = r"(?:'|ft\.?|feet|foot)"
_INCHES: Final = r"(?:\"|''|in\.?|inches|inch)"
_US: Final = re.compile(
    rf"(?P<sign>-)?\s*(?:(?P<feet>{_NUMBER})\s*{_FEET}(?:\s*-?\s*(?P<over>{_NUMBER})\s*{_INCHES})?"
    rf"|(?P<inches>{_NUMBER})\s*{_INCHES})",
    re.IGNORECASE,
)
_METRIC: Final = re.compile(rf"(?P<sign>-)?\s*(?P<number>{_NUMBER})\s*(?P<unit>mm|cm|m)", re.IGNORECASE)
_MARKS: Final = str.maketrans({"′": "'", "’": "'", "″": '"', "”": '"', "−": "-", "–": "-", "⁄": "/"})
_METRE: Final = Fraction(10000, 254)
_UNITS: Final = {"mm": _METRE / 1000, "cm": _METRE / 100, "m": _METRE}


def read_inches(text: object) -> float | None:
    """Inches of a length as it is written; None where it cannot be read as one. A leading minus counts for
    the whole.

    >>> [read_inches(text) for text in ('12\\'-6 1/2"', "-1'-6\\"", "7/16 in", "12 lb")]
    [150.5, -18.0, 0.4375, None]
    """
    if not isinstance(text, str):
        return None
    clean = text.strip().translate(_MARKS)
    try:
        if metric := _METRIC.fullmatch(clean):
            size = _number(metric["number"]) * _UNITS[metric["unit"].lower()]
            return float(-size if metric["sign"] else size)
        us = _US.fullmatch(clean)
        if us is None:
            return None
        size = 12 * _number(us["feet"] or "0") + _number(us["over"] or us["inches"] or "0")
        return float(-size if us["sign"] else size)
    except ZeroDivisionError:
        return None


def _number(written: str) -> Fraction:
    """A whole number, a decimal, a fraction, or a whole number and a fraction."""
    parts = re.split(r"\s*-\s*|\s+(?=\d)", re.sub(r"\s*/\s*", "/", written.strip()))
    return sum((Fraction(part) for part in parts), Fraction(0))
