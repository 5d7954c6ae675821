"""The trade's units: every spelling that is read, its dimension, and its exact size in SI.

Sizes are fractions, so that `12 in` and `1 ft` are one number and not two neighbours. Units of weight are
read as the pull that they make under standard gravity (see `dimension`). A compound such as `lb/ft2`, `oz per
sq yd` or `kN m` is put together from its parts, so any sensible one is understood; those that the trade uses
by name stand in `UNITS` too. Numbers are not read here.

Sources: NIST Special Publication 811 (2008), Appendix B.8, whose factors in bold are exact (in, ft, yd, lb,
oz, lbf, short ton, metric ton, standard gravity, mph, degrees Fahrenheit and Celsius), and table 6 for min,
h, day and degree; both from memory, and every one compared with an independent unit library in the tests. A
month and a year are those of the Gregorian calendar on average: 146097 days in 400 years. (SP 811 also lists
a year of 365 days; an anniversary does not fall on it.)
"""

import re
from fractions import Fraction
from functools import lru_cache
from typing import Final

from plumbtrue.quantities.dimension import (
    ANGLE,
    DURATION,
    FORCE,
    FORCE_PER_AREA,
    LENGTH,
    RATIO,
    SPEED,
    TEMPERATURE,
    Dimension,
)
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class Unit:
    """One unit: a figure in it, times `factor`, plus `offset`, is the figure in SI."""

    name: str
    spellings: tuple[str, ...]
    dimension: Dimension
    factor: Fraction
    offset: Fraction = Fraction(0)

    def to_si(self, figure: Fraction) -> Fraction:
        """The figure in SI.

        >>> float(find_unit("kip").to_si(Fraction(2)))
        8896.443230521
        """
        size = figure * self.factor
        return size + self.offset if self.offset else size

    def from_si(self, figure: float) -> float:
        """A figure of SI in this unit, for printing."""
        return (figure - float(self.offset)) / float(self.factor)


_INCH = Fraction("0.0254")
_GRAVITY = Fraction("9.80665")  # [m/s2], standard acceleration of free fall
_POUND = Fraction("0.45359237") * _GRAVITY  # [N], 4.4482216152605 exactly
_DAY = Fraction(86400)
_YEAR = _DAY * 146097 / 400
# No fraction is pi. Fifty digits lie so far below the last place of a float that its one rounding is still
# right.
_PI = Fraction("3.1415926535897932384626433832795028841971693993751")
_RANKINE = Fraction(5, 9)

_SIMPLE: Final = (
    Unit("in", ('"', "inch", "inches"), LENGTH, _INCH),
    Unit("ft", ("'", "foot", "feet"), LENGTH, 12 * _INCH),
    Unit("yd", ("yds", "yard", "yards"), LENGTH, 36 * _INCH),
    Unit("mm", ("millimetre", "millimetres", "millimeter", "millimeters"), LENGTH, Fraction(1, 1000)),
    Unit("cm", ("centimetre", "centimetres", "centimeter", "centimeters"), LENGTH, Fraction(1, 100)),
    Unit("m", ("metre", "metres", "meter", "meters"), LENGTH, Fraction(1)),
    Unit("lb", ("lbs", "lbf", "pound", "pounds"), FORCE, _POUND),
    Unit("oz", ("ozf", "ounce", "ounces"), FORCE, _POUND / 16),
    Unit("kip", ("kips",), FORCE, 1000 * _POUND),
    Unit("short ton", ("short tons",), FORCE, 2000 * _POUND),
    Unit("kg", ("kgf", "kgs", "kilo", "kilos", "kilogram", "kilograms"), FORCE, _GRAVITY),
    Unit("g", ("gram", "grams"), FORCE, _GRAVITY / 1000),
    Unit("t", ("tonne", "tonnes", "metric ton", "metric tons"), FORCE, 1000 * _GRAVITY),
    Unit("N", ("newton", "newtons"), FORCE, Fraction(1)),
    Unit("daN", (), FORCE, Fraction(10)),
    Unit("kN", ("kilonewton", "kilonewtons"), FORCE, Fraction(1000)),
    Unit("psi", (), FORCE_PER_AREA, _POUND / _INCH**2),
    Unit("ksi", (), FORCE_PER_AREA, 1000 * _POUND / _INCH**2),
    Unit("Pa", (), FORCE_PER_AREA, Fraction(1)),
    Unit("kPa", (), FORCE_PER_AREA, Fraction(10**3)),
    Unit("MPa", (), FORCE_PER_AREA, Fraction(10**6)),
    Unit("GPa", (), FORCE_PER_AREA, Fraction(10**9)),
    Unit("deg", ("°", "degs", "degree", "degrees"), ANGLE, _PI / 180),
    Unit("rad", ("radian", "radians"), ANGLE, Fraction(1)),
    Unit("s", ("sec", "secs", "second", "seconds"), DURATION, Fraction(1)),
    Unit("min", ("mins", "minute", "minutes"), DURATION, Fraction(60)),
    Unit("h", ("hr", "hrs", "hour", "hours"), DURATION, Fraction(3600)),
    Unit("days", ("day", "d"), DURATION, _DAY),
    Unit("weeks", ("week",), DURATION, 7 * _DAY),
    Unit("months", ("month",), DURATION, _YEAR / 12),
    Unit("years", ("year", "yr", "yrs"), DURATION, _YEAR),
    Unit("mph", (), SPEED, 63360 * _INCH / 3600),
    Unit("degF", ("°F", "deg F", "degrees F"), TEMPERATURE, _RANKINE, Fraction("459.67") * _RANKINE),
    Unit("degC", ("°C", "deg C", "degrees C"), TEMPERATURE, Fraction(1), Fraction("273.15")),
    Unit("%", ("per cent", "percent"), RATIO, Fraction(1, 100)),
)

# Compounds that the trade uses by name, and their shorthands. Their sizes follow from their parts.
_COMPOUND: Final = (
    *(("in2",), ("ft2",), ("yd2",), ("mm2",), ("cm2",), ("m2",)),
    *(("in3",), ("ft3",), ("mm3",), ("cm3",), ("m3",)),
    *(("in4",), ("mm4",), ("cm4",)),
    *(("lb/ft", "plf"), ("lb/in",), ("oz/yd",), ("kg/m",), ("g/m",), ("N/m",), ("N/mm",), ("kN/m",)),
    *(("lb/ft2", "psf"), ("oz/yd2",), ("kg/m2",), ("g/m2",), ("N/m2",), ("kN/m2",)),
    *(("lb/ft3", "pcf"), ("lb/in3",), ("kg/m3",), ("N/m3",), ("kN/m3",)),
    *(("ft-lb",), ("in-lb",), ("N m", "Nm"), ("kN m", "kNm")),
    *(("lb in2",), ("lb ft2",), ("N m2",), ("kN m2",)),
    *(("ft/s", "fps"), ("ft/min", "fpm"), ("in/s",), ("m/s",), ("mm/s",)),
)

_ATOM = re.compile(r"([A-Za-z]+)\.?(?:\^?([2-4]))?")
_POWERS = {"sq": 2, "square": 2, "cu": 3, "cubic": 3}
_LINEAR = frozenset({"linear", "lineal", "lin", "running"})
_DIVISION = re.compile(r" ?/ ?| per ")
_PRODUCT = re.compile(r"[-·⋅* ]+")


def _spelled(units: tuple[Unit, ...]) -> dict[str, Unit]:
    return {spelling: unit for unit in units for spelling in (unit.name, *unit.spellings)}


_ATOMS: Final = _spelled(_SIMPLE)
_ATOMS_IN_CAPITALS: Final = {spelling.upper(): unit for spelling, unit in _ATOMS.items() if len(spelling) > 1}


def _atom(text: str) -> Unit | None:
    # "LB" and "Ft" are understood; a single letter is not, for "T", "M" and "n" mean other things elsewhere.
    return _ATOMS.get(text) or _ATOMS_IN_CAPITALS.get(text.upper())


def _product(text: str) -> tuple[Dimension, Fraction] | None:
    """Dimension and size of `ft-lb`, `sq ft`, `lb in2`; None when a part is not known."""
    dimension, factor, power = RATIO, Fraction(1), 1
    for part in _PRODUCT.split(text):
        word = part.removesuffix(".")
        if word in _POWERS:
            power = _POWERS[word]
            continue
        if word in _LINEAR:
            continue
        found = _ATOM.fullmatch(word)
        atom = _atom(found[1]) if found else None
        if found is None or atom is None or atom.offset or atom.dimension == RATIO:
            return None
        for _ in range(int(found[2] or power)):
            dimension, factor = dimension * atom.dimension, factor * atom.factor
        power = 1
    return (dimension, factor) if power == 1 else None


def _put_together(text: str) -> tuple[Dimension, Fraction] | None:
    parts = [_product(part) for part in _DIVISION.split(text, maxsplit=2)]
    match parts:
        case [(dimension, factor)]:
            return dimension, factor
        case [(dimension, factor), (below, divisor)]:
            return dimension / below, factor / divisor
        case _:
            return None


def _compounds() -> tuple[Unit, ...]:
    units = []
    for name, *spellings in _COMPOUND:
        size = _put_together(name)
        assert size is not None, name
        units.append(Unit(name, tuple(spellings), *size))
    return tuple(units)


UNITS: Final = _SIMPLE + _compounds()
"""Every unit that has a name of its own."""

_BY_SPELLING: Final = _spelled(UNITS)
_BY_SIZE: Final = {(unit.dimension, unit.factor): unit for unit in reversed(UNITS) if not unit.offset}

STONES: Final = frozenset({"st", "stone", "stones"})
"""Spellings of 14 lb, which is refused with the weight in pounds: it is no unit of this trade, and near to a `t`."""

MORE_THAN_ONE_TON: Final = frozenset({"ton", "tons", "T"})
"""Spellings that are refused, because people mean 2000 lb, 2240 lb or 1000 kg by them."""


@lru_cache(maxsize=1024)
def find_unit(text: str) -> Unit | None:
    """The unit that is spelled so, or None.

    >>> [find_unit(text).name for text in ("feet", "lbs.", "lb per sq ft", "oz/sq yd", "ft·lb", "LB")]
    ['ft', 'lb', 'lb/ft2', 'oz/yd2', 'ft-lb', 'lb']
    >>> find_unit("stone") is None
    True
    """
    text = text.strip().removesuffix(".")
    known = _BY_SPELLING.get(text) or _atom(text)
    if known is not None or not text:
        return known
    size = _put_together(text)
    if size is None:
        return None
    return _BY_SIZE.get(size) or Unit(text, (), *size)


def nearest_unit(text: str, dimension: Dimension | None = None) -> Unit | None:
    """The unit of the dimension wanted whose spelling is nearest to a misspelt one; None where none is near.

    >>> nearest_unit("inchs").name
    'in'
    """
    from difflib import get_close_matches  # Only for messages; a sound file never pays for it.

    if text == "#":  # The grocer's and the freight clerk's pound.
        text = "lb"
    fitting = [word for word, unit in _BY_SPELLING.items() if dimension in (None, unit.dimension)]
    if len(text) > 1:
        fitting = [
            word for word in fitting if len(word) > 1
        ]  # One letter too many is no slip but another unit.
    near = get_close_matches(text, fitting, n=1, cutoff=0.6)
    return _BY_SPELLING[near[0]] if near else None
