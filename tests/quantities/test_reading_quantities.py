"""Whatever way of writing the trade uses, the same quantity is the same number; bounds are what they say."""

from fractions import Fraction
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import BY_NAME, DURATION, FORCE, LENGTH, RATIO, TEMPERATURE
from plumbtrue.quantities.literals import Literal_, read_literal
from plumbtrue.quantities.reading import Unreadable, read_count, read_quantity, read_ratio


def quantity(text: str, dimension: str = "length") -> Bounds:
    read = read_quantity(text, BY_NAME[dimension])
    assert isinstance(read, Bounds), f"{text}: {read}"
    return read


def inches(number: str) -> float:
    """The length in metres: an inch is 25.4 mm exactly (NIST SP 811, Appendix B; from memory)."""
    return float(Fraction(number) * Fraction("0.0254"))


@pytest.mark.parametrize(
    ("spellings", "expected"),
    [
        (("1 ft", "12 in", "1'", "1'-0\"", "12\"", "1 foot", "1/3 yd", "304.8 mm"), "12"),
        (
            ("12'-6 1/2\"", "12'6-1/2\"", "12' - 6 1/2\"", "12 ft - 6 1/2 in",
             "12' 6 1/2\"", "12′-6½″", "12’-6 1/2”", "12 ft 6.5 in"),
            "150.5",
        ),
        (("12 ft, 6 in", "12'6''", "12 feet 6 inches", "12.5 ft", "12-1/2 ft", "150 in"), "150"),
        (("1-1/2 in", "1 1/2 in", "1½ in", "1-½\"", "1.5in", "3/2 in", "1 1⁄2 in"), "1.5"),
        (("7/16 in", "0.4375 in", ".4375\"", "7⁄16″"), "0.4375"),
        (("1,300 in", "1300 in", "1,300.0 in", "1.3e3 in"), "1300"),
        (("-6 in", "−6\"", "- 6 in", "-1/2 ft", "-0'-6\""), "-6"),
        (("+6 in", "6\u00a0in", "  6   in "), "6"),
    ],
)  # fmt: skip
def test_every_way_of_writing_a_length_is_the_same_float(spellings: tuple[str, ...], expected: str) -> None:
    assert {quantity(text) for text in spellings} == {Bounds.exactly(inches(expected))}


@pytest.mark.parametrize(
    ("spellings", "dimension"),
    [
        (("16 oz", "1 lb", "1 lbf", "0.5 lb 8 oz", "1/2000 short ton", "0.001 kip")[:3], "force"),
        (("16 oz", "1 lb", "1/2000 short ton", "0.001 kip", "0.45359237 kg", "453.59237 g"), "force"),
        (("14 lb 6 oz", "14.375 lb", "230 oz"), "force"),
        (("1 t", "1000 kg", "980.665 daN", "9806.65 N", "9.80665 kN"), "force"),
        (("1 lb/in", "12 lb/ft", "12 plf"), "force_per_length"),
        (("144 lb/ft2", "1 psi", "0.001 ksi", "1 lb/in2", "2304 oz/sq ft"), "force_per_area"),
        (("16 oz/yd2", "1 lb/yd2", "1 lb per sq yd", "16 oz per square yard"), "force_per_area"),
        (("1 ft-lb", "12 in-lb", "1 lb ft", "192 in-oz"), "moment"),
        (("1 lb/in3", "1728 lb/ft3", "1728 pcf"), "force_per_volume"),
        (("1 year", "12 months", "365.2425 days", "8765.82 h"), "duration"),
        (("2 years 6 months", "30 months"), "duration"),
        (("1 h 30 min", "90 min", "5400 s"), "duration"),
        (("60 ft/min", "1 ft/s", "12 in/s"), "speed"),
        (("180 deg", "180°", "180 º", "180 degrees"), "angle"),
        (("32 degF", "0 degC", "32 °F", "32 deg F"), "temperature"),
        (("50 %", "0.5", "1/2", "50%", "50 per cent"), "ratio"),
        (("1/8 in/ft", "1/96"), "ratio"),
    ],
)
def test_equal_quantities_in_different_units_are_the_same_float(
    spellings: tuple[str, ...], dimension: str
) -> None:
    assert len({quantity(text, dimension) for text in spellings}) == 1


@given(st.integers(1, 10**6), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_inches_and_feet_agree_on_every_fraction_of_a_tape(sixteenths: int, under: int) -> None:
    in_feet = Fraction(sixteenths, under) / 12
    assert quantity(f"{sixteenths}/{under} in") == quantity(f"{in_feet.numerator}/{in_feet.denominator} ft")


@given(feet=st.integers(0, 200), sixteenths=st.integers(0, 191))
def test_feet_and_inches_are_counted_together(feet: int, sixteenths: int) -> None:
    whole, rest = divmod(sixteenths, 16)
    assert quantity(f"{feet}'-{whole} {rest}/16\"") == Bounds.exactly(inches(f"{feet * 192 + sixteenths}/16"))


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("20..25 lb", "20 lb", "25 lb"),
        ("20 .. 25 lb", "20 lb", "25 lb"),
        ("20 to 25 lb", "20 lb", "25 lb"),
        ("20 lb..25 lb", "20 lb", "25 lb"),
        ("20…25 lb", "20 lb", "25 lb"),
        ("22 lb +/- 10 %", "19.8 lb", "24.2 lb"),
        ("22 lb ± 10%", "19.8 lb", "24.2 lb"),
        ("22 lb +/- 2 lb", "20 lb", "24 lb"),
        ("22 lb +/- 8 oz", "21.5 lb", "22.5 lb"),
        ("28.0 lb +/- 2 %", "27.44 lb", "28.56 lb"),
        ("about 20 lb", "16 lb", "24 lb"),
        ("About 20 lb", "16 lb", "24 lb"),
        ("-20 lb +/- 10 %", "-22 lb", "-18 lb"),
        ("about -20 lb", "-24 lb", "-16 lb"),
        ("1/8..3/4 lb", "1/8 lb", "3/4 lb"),
        ("5..5 lb", "5 lb", "5 lb"),
        ("8 oz..1 lb", "8 oz", "1 lb"),
        ("1,300..1,500 lb", "1300 lb", "1500 lb"),
    ],
)
def test_bounds_run_from_end_to_end(text: str, low: str, high: str) -> None:
    assert quantity(text, "force") == Bounds(quantity(low, "force").low, quantity(high, "force").high)


def test_a_bound_on_one_side_leaves_the_other_open() -> None:
    assert quantity("at least 1000 lb", "force") == Bounds(quantity("1 kip", "force").low, inf)
    assert quantity("At most 5 deg", "angle") == Bounds(-inf, quantity("5 deg", "angle").high)
    assert quantity("12'-6\"..12'-8\"") == Bounds(inches("150"), inches("152"))


def test_a_tolerance_of_temperature_is_a_difference_and_no_reading() -> None:
    assert quantity("70 degF +/- 9 degF", "temperature") == quantity("61..79 degF", "temperature")
    assert quantity("70 degF +/- 5 degC", "temperature") == quantity("61..79 degF", "temperature")


@given(
    number=st.decimals(min_value=-9999, max_value=9999, places=3),
    part=st.integers(0, 100),
    unit=st.sampled_from(["in", "lb", "deg", "degF", "ft-lb", "months"]),
)
def test_bounds_contain_the_figure_that_was_named(number: object, part: int, unit: str) -> None:
    nominal = read_literal(f"{number} {unit}")
    for text in (f"about {number} {unit}", f"{number} {unit} +/- {part} %", f"at least {number} {unit}"):
        bounds = read_literal(text)
        assert isinstance(nominal, Literal_)
        assert isinstance(bounds, Literal_)
        assert bounds.bounds.low <= nominal.bounds.low <= bounds.bounds.high


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("3", 3, 3),
        ("0", 0, 0),
        ("1,000", 1000, 1000),
        ("2..4", 2, 4),
        ("at least 3", 3, inf),
        ("about 7", 5, 9),
    ],
)
def test_a_count_is_a_whole_number_or_bounds_on_one(text: str, low: float, high: float) -> None:
    assert read_count(text) == Bounds(low, high)


def test_a_ratio_is_a_number_or_a_part_of_a_hundred() -> None:
    assert read_ratio("5 %") == read_ratio("0.05") == Bounds.exactly(0.05)
    assert read_ratio("4..6 %") == Bounds(0.04, 0.06)
    assert read_ratio("at least 0.97") == Bounds(0.97, inf)
    assert read_ratio("0.9 +/- 10 %") == Bounds(0.81, 0.99)


@pytest.mark.parametrize(
    ("text", "dimension"),
    [("12 in", LENGTH), ("45 deg", BY_NAME["angle"]), ("450 lb", FORCE), ("12 months", DURATION),
     ("70 degF", TEMPERATURE), ("8", RATIO), ("5 %", RATIO), ("2018", RATIO)],
)  # fmt: skip
def test_a_literal_says_itself_what_it_measures(text: str, dimension: object) -> None:
    literal = read_literal(text)
    assert isinstance(literal, Literal_)
    assert literal.dimension == dimension
    assert literal.bounds.is_exact
    assert literal.text == text


def test_a_literal_date_has_no_dimension() -> None:
    literal = read_literal("2018-07-14")
    assert isinstance(literal, Literal_)
    assert literal.is_date
    assert isinstance(read_literal("2018-02-30"), Unreadable)
