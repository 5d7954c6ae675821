"""Quantities, dates and other values as the trade prints them: `12'-6 1/2"`, `20 to 25 lb`, `before 1990`.

What is written here can be read again and gives the same figure within the precision of print. Which figure
to print, and whether it is good or bad, is decided elsewhere.
"""

from collections.abc import Callable
from dataclasses import astuple
from datetime import date
from fractions import Fraction
from math import floor, isinf, log10
from typing import Final, Literal, assert_never

from plumbtrue.quantities.bounds import Bounds, same
from plumbtrue.quantities.calendar import DAY, MONTH
from plumbtrue.quantities.dimension import (
    ANGLE,
    AREA,
    BENDING_STIFFNESS,
    DURATION,
    FORCE,
    FORCE_PER_AREA,
    FORCE_PER_LENGTH,
    FORCE_PER_VOLUME,
    LENGTH,
    MOMENT,
    RATIO,
    SECOND_MOMENT,
    SPEED,
    TEMPERATURE,
    VOLUME,
    Dimension,
    name_of,
)
from plumbtrue.quantities.units import Unit, find_unit
from plumbtrue.quantities.values import Absent, Choice, Each, Name, Spot, Unknown, Value, WordSet

System = Literal["us", "si", "metric", "both"]

SIXTEENTHS_CLOSENESS: Final = 0.004
"""How near a sixteenth a small length lies, as a part of itself, to be printed as that sixteenth (ours)."""

# Units by system, the largest first: a figure is printed in the first unit of which it has one or more.
_UNITS: Final[dict[Dimension, tuple[tuple[str, ...], tuple[str, ...]]]] = {
    AREA: (("ft2", "in2"), ("m2", "mm2")),
    VOLUME: (("ft3", "in3"), ("m3", "cm3")),
    SECOND_MOMENT: (("in4",), ("cm4",)),
    FORCE: (("lb",), ("kN", "N")),
    FORCE_PER_LENGTH: (("lb/ft",), ("kN/m", "N/m")),
    FORCE_PER_AREA: (("ksi", "psi", "lb/ft2"), ("GPa", "MPa", "kN/m2", "N/m2")),
    FORCE_PER_VOLUME: (("lb/ft3",), ("kN/m3", "N/m3")),
    MOMENT: (("ft-lb", "in-lb"), ("kN m", "N m")),
    BENDING_STIFFNESS: (("lb in2",), ("kN m2", "N m2")),
    ANGLE: (("deg",), ("deg",)),
    SPEED: (("ft/s",), ("m/s",)),
    TEMPERATURE: (("degF",), ("degC",)),
}
# What is otherwise than in SI where weights and pulls are told in kilograms, as bricks and scales have them.
_IN_KILOGRAMS: Final[dict[Dimension, tuple[str, ...]]] = {FORCE: ("kg",), FORCE_PER_LENGTH: ("kg/m",)}
_LAST_DAY: Final = date.max.toordinal()

# From how many of a unit on it is used; 1 where nothing stands here.
_USED_FROM: Final = {"ksi": 10.0, "psi": 10.0, "kN": 1.0, "m2": 0.1, "m3": 0.1}

Printed = tuple[str, str]
"""A number and what is put behind it."""
Printer = Callable[[float, int, float], Printed]
"""Prints a figure [SI] with so many places more, in the unit that fits a size [SI]: its own, or that of the greater
end of its range.
"""


def write(bounds: Bounds, dimension: Dimension | None, system: System = "us", unit: str | None = None) -> str:
    """A quantity, or a date where there is no dimension, as the trade prints it.

    Args:
        bounds: the quantity [SI], or the date [days].
        dimension: of the quantity; None for a date.
        system: units of the house; `both` puts SI in brackets behind, `metric` is SI with weights and pulls in
            kilograms.
        unit: a unit to print in, instead of the system's own.
    Raises:
        ValueError: the unit is not known or is of another dimension.

    >>> write(Bounds(3.8227, 3.8227), LENGTH), write(Bounds(4448.2216, float("inf")), FORCE)
    ('12\\'-6 1/2"', 'at least 1000 lb')
    """
    if dimension is None:
        return write_date(bounds)
    if unit is not None:
        return _with_ends(bounds, _in_unit(_unit_of(unit, dimension)))
    if system == "both":
        us, si = write(bounds, dimension, "us"), write(bounds, dimension, "si")
        return us if us == si else f"{us} ({si})"
    return _with_ends(bounds, _printer(dimension, system))


def write_value(
    value: Value, dimension: Dimension | None = RATIO, system: System = "us", unit: str | None = None
) -> str:
    """Any value of a fact; `dimension` serves for quantities, and is None for a date.

    >>> write_value(Spot(from_centre=True, distance=Bounds(-1.8288, -1.8288)))
    'SR 6\\'-0"'
    """
    match value:
        case Bounds():
            return write(value, dimension, system, unit)
        case Choice(possible, may_be_none):
            return " or ".join([*sorted(possible), *(["none"] if may_be_none else [])])
        case WordSet(words, perhaps):
            return ", ".join([*sorted(words), *(f"perhaps {word}" for word in sorted(perhaps))]) or "none"
        case Name(text):
            return text
        case Spot():
            return write_spot(value, system)
        case Each(values):
            return ", ".join(write_value(one, dimension, system, unit) for one in values)
        case Absent() | Unknown():
            return str(value)
        case _:
            assert_never(value)


def as_said(value: Value) -> Value:
    """A value with its words as people say them; a code that has a figure in it stays as it is written.

    >>> write_value(as_said(Choice(frozenset({"clove-hitch"}))))
    'clove hitch'
    >>> write_value(as_said(WordSet(frozenset({"j429-5"}))))
    'j429-5'
    """
    match value:
        case Choice(possible, may_be_none):
            return Choice(frozenset(map(_spoken, possible)), may_be_none)
        case WordSet(words, perhaps):
            return WordSet(frozenset(map(_spoken, words)), frozenset(map(_spoken, perhaps)))
        case Each(values):
            return Each(tuple(map(as_said, values)))
        case _:
            return value


def _spoken(word: str) -> str:
    return word if any(sign.isdigit() for sign in word) else word.replace("-", " ")


def write_spot(spot: Spot, system: System = "us") -> str:
    """A place along a batten."""
    if not spot.from_centre:
        return write(spot.distance, LENGTH, system)
    if spot.distance == Bounds.exactly(0.0):
        return "CL"
    if spot.distance.low < 0 < spot.distance.high:
        left, right = write(Bounds.exactly(spot.distance.high), LENGTH, system), -spot.distance.low
        return f"between SR {write(Bounds.exactly(right), LENGTH, system)} and SL {left}"
    return f"{'SL' if spot.distance.high > 0 else 'SR'} {write(abs(spot.distance), LENGTH, system)}"


def write_date(bounds: Bounds) -> str:
    """A date at the precision with which it is known [days].

    >>> write_date(Bounds(date(2018, 7, 1).toordinal(), date(2018, 7, 31).toordinal()))
    '2018-07'
    >>> write_date(Bounds(float("-inf"), date(1989, 12, 31).toordinal()))
    'before 1990'
    """
    if bounds.low > _LAST_DAY:
        return f"after {date.max}"
    if bounds.high < 1:
        return f"before {date.min}"
    if bounds.is_exact:
        return _moment(bounds.low)
    # An end at or beyond the calendar's own is as good as unbounded.
    no_start, no_end = bounds.low <= 1, bounds.high >= _LAST_DAY
    if no_start:
        return "unknown" if no_end else f"before {_start(bounds.high)}"
    if no_end:
        return f"after {_end(bounds.low)}"
    low, high = _coarsest(bounds.low, bounds.high)
    return low if low == high else f"{low}..{high}"


def _moment(day: float) -> str:
    minutes = min(round(day * 1440), _LAST_DAY * 1440 + 1439)
    moment = date.fromordinal(minutes // 1440).isoformat()
    return f"{moment} {minutes // 60 % 24:02}:{minutes % 60:02}" if minutes % 1440 else moment


def _start(last: float) -> str:
    """The day, month or year that starts when the last possible day has ended."""
    if last != floor(last):
        return _moment(last)
    following = date.fromordinal(floor(last) + 1)
    if following.day > 1:
        return following.isoformat()
    return following.isoformat()[: 4 if following.month == 1 else 7]


def _end(first: float) -> str:
    """The day, month or year that has ended when the first possible day starts."""
    if first != floor(first):
        return _moment(first)
    before, following = date.fromordinal(floor(first) - 1), date.fromordinal(floor(first))
    if following.day > 1:
        return before.isoformat()
    return before.isoformat()[: 4 if following.month == 1 else 7]


def _coarsest(low: float, high: float) -> tuple[str, str]:
    """Both ends to the year where they are whole years, else to the month, else to the day or hour."""
    first, last = _moment(low), _moment(high)
    if len(first) == len(last) == 10:
        if first.endswith("-01-01") and last.endswith("-12-31"):
            return first[:4], last[:4]
        if first.endswith("-01") and date.fromordinal(floor(high) + 1).day == 1:
            return first[:7], last[:7]
    return first, last


def _with_ends(bounds: Bounds, printer: Printer) -> str:
    if isinf(bounds.low):
        return "unknown" if isinf(bounds.high) else f"at most {_joined(printer(bounds.high, 0, bounds.high))}"
    if isinf(bounds.high):
        return f"at least {_joined(printer(bounds.low, 0, bounds.low))}"
    if bounds.is_exact or same(bounds.low, bounds.high):
        return _joined(printer(bounds.low, 0, bounds.low))
    size = max(abs(bounds.low), abs(bounds.high))
    # Two ends that print alike would be taken for a figure known exactly, so they get more places.
    for more in range(10):
        low, high = printer(bounds.low, more, size), printer(bounds.high, more, size)
        if low != high:
            break
    if low[1] == high[1]:
        return f"{low[0]} to {_joined(high)}"
    return f"{_joined(low)} to {_joined(high)}"


def _joined(printed: Printed) -> str:
    number, unit = printed
    if unit in ("days", "months", "years") and number in ("1", "-1"):
        unit = unit.removesuffix("s")
    return f"{number} {unit}" if unit else number


def _printer(dimension: Dimension, system: System) -> Printer:
    if dimension == LENGTH:
        return _us_length if system == "us" else _si_length
    if dimension == DURATION:
        return _duration
    if dimension == RATIO:
        return lambda figure, more, _: (_number(figure, _places_for(figure, 4) + more), "")
    names = _UNITS.get(dimension)
    if names is None:
        return lambda figure, more, _: (
            _number(figure, _places_for(figure, 4) + more),
            _base_units(dimension),
        )
    of_system = names[system != "us"]
    if system == "metric":
        of_system = _IN_KILOGRAMS.get(dimension, of_system)
    units = [_unit_of(name, dimension) for name in of_system]

    def in_largest(figure: float, more: int, size: float) -> Printed:
        for unit in units:
            if abs(unit.from_si(size)) >= _USED_FROM.get(unit.name, 1.0) or unit is units[-1]:
                break
        return _in_unit(unit)(figure, more, size)

    return in_largest


def _in_unit(unit: Unit) -> Printer:
    if unit.name == "in":
        return _inches
    if unit.dimension == DURATION:
        return lambda figure, more, _: (
            _number(unit.from_si(figure), _places_for(unit.from_si(figure), 3) + more),
            unit.name,
        )
    return lambda figure, more, _: (_number(unit.from_si(figure), _places(unit, figure) + more), unit.name)


_MOST_OF_A_BRICK: Final = 100
"""Pounds or kilograms up to which a half or a quarter is printed: no brick that is carried by hand weighs more."""


def _places(unit: Unit, figure: float) -> int:
    """Decimals to print: to the pound from 10 lb on and to the kilogram from 100 kg on, but for halves and quarters
    as bricks have them, angles to a tenth, others to four figures.
    """
    number = unit.from_si(figure)
    match unit.name:
        case "lb" | "kg":
            if abs(number) < _MOST_OF_A_BRICK and same(number * 4, round(number * 4)):
                return 2  # A brick of 12.5 lb is one; no zeros are printed.
            whole_from = 10 if unit.name == "lb" else 100
            return 0 if abs(number) >= whole_from else max(1, _places_for(number, 2))
        case "deg":
            return max(1, _places_for(number, 2))
        case "degF" | "degC":
            return 1
        case _:
            return _places_for(number, 4)


def _places_for(number: float, figures: int) -> int:
    """Decimals that show so many figures of a number, and never fewer than its whole part."""
    if number == 0:
        return 0
    return max(0, figures - 1 - floor(log10(abs(number))))


def _number(number: float, places: int) -> str:
    """A number to so many decimals, without zeros at its end.

    >>> _number(12.50, 3), _number(-0.0001, 2)
    ('12.5', '0')
    """
    text = f"{number:.{min(places, 17)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _unit_of(name: str, dimension: Dimension) -> Unit:
    unit = find_unit(name)
    if unit is None or unit.dimension != dimension:
        raise ValueError(f"{name!r} is no unit of {name_of(dimension)}")
    return unit


_INCH: Final = 0.0254


def _us_length(metres: float, more: int, _: float) -> Printed:
    """Inches below a foot, else feet and inches to a sixteenth; of a range each end for itself, since both are
    counted in inches.
    """
    inches = metres / _INCH
    if abs(inches) < 12 and not same(abs(inches), 12):
        return _inches(metres, more, metres)
    if more:  # Sixteenths cannot tell the two ends apart.
        return _number(inches, 1 + more), "in"
    feet, rest = divmod(Fraction(round(abs(inches) * 16), 16), 12)
    return f"{'-' if metres < 0 else ''}{feet}'-{_mixed(rest, ' ')}\"", ""


def _inches(metres: float, more: int, _: float) -> Printed:
    inches = metres / _INCH
    if not more and (fraction := _trade_fraction(abs(inches))) is not None:
        return ("-" if inches < 0 and fraction else "") + _mixed(fraction, "-"), "in"
    return _number(inches, _places_for(inches, 4) + more), "in"


def _trade_fraction(inches: float) -> Fraction | None:
    """The sixteenth that a length is close to, or the thirty-second or sixty-fourth that it is."""
    sixteenths = Fraction(round(inches * 16), 16)
    if abs(inches - sixteenths) <= SIXTEENTHS_CLOSENESS * inches:
        return sixteenths
    sixty_fourths = Fraction(round(inches * 64), 64)
    return sixty_fourths if same(inches, float(sixty_fourths)) else None


def _mixed(number: Fraction, joint: str) -> str:
    whole, rest = divmod(number, 1)
    if not rest:
        return str(whole)
    return f"{whole}{joint}{rest}" if whole else str(rest)


def _si_length(metres: float, more: int, size: float) -> Printed:
    if abs(size) < 1 and not same(abs(size), 1):
        millimetres = metres * 1000
        return _number(
            millimetres, (1 if abs(millimetres) >= 10 else _places_for(millimetres, 3)) + more
        ), "mm"
    return _number(metres, max(3, _places_for(metres, 3)) + more), "m"


def _duration(seconds: float, more: int, _: float) -> Printed:
    """A time in the unit in which people count it; from a year on by the calendar."""
    size = abs(seconds)
    months, left = divmod(size, MONTH)
    if same(left, MONTH):
        months, left = months + 1, 0.0
    by_calendar = months >= 12 or (months >= 1 and same(months * MONTH, size))
    if by_calendar and not more:
        return _calendar_time(int(months), left, "-" if seconds < 0 else "")
    for name, length in (("days", DAY), ("h", 3600.0), ("min", 60.0)):
        if size >= 2 * length or same(size, length):
            whole_days = name == "days" and size >= 10 * DAY
            return _number(seconds / length, (0 if whole_days else 1) + more), name
    return _number(seconds, _places_for(seconds, 3) + more), "s"


def _calendar_time(months: int, left: float, sign: str) -> Printed:
    """Months and days, such as `14 months 9 days`; from three years on years and what is largest beside."""
    days = (round(left / DAY), "days")
    years, odd_months = divmod(months, 12)
    if months < 36:
        whole, rest = (months, "months"), days
    else:
        whole, rest = (years, "years"), (odd_months, "months") if odd_months else days
    if not rest[0]:
        return f"{sign}{whole[0]}", whole[1]
    return sign + " ".join(_joined((str(count), name)) for count, name in (whole, rest)), ""


def _base_units(dimension: Dimension) -> str:
    """SI base units of a dimension that has no name of its own, such as `m2 N`."""
    powers = tuple(zip(("m", "N", "s", "K", "rad"), astuple(dimension), strict=True))
    above = " ".join(f"{name}{power if power > 1 else ''}" for name, power in powers if power > 0)
    below = " ".join(f"{name}{-power if power < -1 else ''}" for name, power in powers if power < 0)
    return f"{above or '1'}/{below}" if below else above
