"""Every unit has the size that an independent library and the published tables give it."""

from typing import Any

import pint
import pytest

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import BY_NAME
from plumbtrue.quantities.reading import read_quantity
from plumbtrue.quantities.units import UNITS, Unit, find_unit, nearest_unit

# Our name of each unit and the same in pint's words. Weights are forces: the pull under standard gravity.
# Pint's year is the Julian one of 365.25 days; ours is the Gregorian, and so put together from pint's day.
IN_PINT = {
    "in": "inch",
    "ft": "foot",
    "yd": "yard",
    "mm": "millimeter",
    "cm": "centimeter",
    "m": "meter",
    "lb": "force_pound",
    "oz": "force_ounce",
    "kip": "kip",
    "short ton": "force_ton",
    "kg": "kilogram * standard_gravity",
    "g": "gram * standard_gravity",
    "t": "metric_ton * standard_gravity",
    "N": "newton",
    "daN": "decanewton",
    "kN": "kilonewton",
    "psi": "pound_force_per_square_inch",
    "ksi": "kip_per_square_inch",
    "Pa": "pascal",
    "kPa": "kilopascal",
    "MPa": "megapascal",
    "GPa": "gigapascal",
    "deg": "degree",
    "rad": "radian",
    "s": "second",
    "min": "minute",
    "h": "hour",
    "days": "day",
    "weeks": "week",
    "months": "365.2425 * day / 12",
    "years": "365.2425 * day",
    "mph": "mile_per_hour",
    "%": "percent",
    "in2": "square_inch",
    "ft2": "square_foot",
    "yd2": "square_yard",
    "mm2": "millimeter ** 2",
    "cm2": "centimeter ** 2",
    "m2": "meter ** 2",
    "in3": "cubic_inch",
    "ft3": "cubic_foot",
    "mm3": "millimeter ** 3",
    "cm3": "centimeter ** 3",
    "m3": "meter ** 3",
    "in4": "inch ** 4",
    "mm4": "millimeter ** 4",
    "cm4": "centimeter ** 4",
    "lb/ft": "force_pound / foot",
    "lb/in": "force_pound / inch",
    "oz/yd": "force_ounce / yard",
    "kg/m": "kilogram * standard_gravity / meter",
    "g/m": "gram * standard_gravity / meter",
    "N/m": "newton / meter",
    "N/mm": "newton / millimeter",
    "kN/m": "kilonewton / meter",
    "lb/ft2": "force_pound / foot ** 2",
    "oz/yd2": "force_ounce / yard ** 2",
    "kg/m2": "kilogram * standard_gravity / meter ** 2",
    "g/m2": "gram * standard_gravity / meter ** 2",
    "N/m2": "newton / meter ** 2",
    "kN/m2": "kilonewton / meter ** 2",
    "lb/ft3": "force_pound / foot ** 3",
    "lb/in3": "force_pound / inch ** 3",
    "kg/m3": "kilogram * standard_gravity / meter ** 3",
    "N/m3": "newton / meter ** 3",
    "kN/m3": "kilonewton / meter ** 3",
    "ft-lb": "foot * force_pound",
    "in-lb": "inch * force_pound",
    "N m": "newton * meter",
    "kN m": "kilonewton * meter",
    "lb in2": "force_pound * inch ** 2",
    "lb ft2": "force_pound * foot ** 2",
    "N m2": "newton * meter ** 2",
    "kN m2": "kilonewton * meter ** 2",
    "ft/s": "foot / second",
    "ft/min": "foot / minute",
    "in/s": "inch / second",
    "m/s": "meter / second",
    "mm/s": "millimeter / second",
}
WITH_AN_OFFSET = {"degF": "degree_Fahrenheit", "degC": "degree_Celsius"}


@pytest.fixture(scope="module")
def pint_units() -> Any:  # Its numbers may be of seven types, of which we meet floats.
    return pint.UnitRegistry()


def test_no_unit_goes_unchecked() -> None:
    assert {unit.name for unit in UNITS} == IN_PINT.keys() | WITH_AN_OFFSET.keys()


@pytest.mark.parametrize("unit", [unit for unit in UNITS if unit.name in IN_PINT], ids=lambda unit: unit.name)
def test_a_unit_has_the_size_and_dimension_that_pint_gives_it(unit: Unit, pint_units: Any) -> None:
    size = pint_units(IN_PINT[unit.name]).to_base_units()
    force_as_mass = size.dimensionality.get("[mass]", 0)
    assert float(unit.factor) == pytest.approx(size.magnitude, rel=1e-14)
    assert unit.dimension.force == force_as_mass
    assert unit.dimension.length == size.dimensionality.get("[length]", 0) - force_as_mass
    assert unit.dimension.time == size.dimensionality.get("[time]", 0) + 2 * force_as_mass


@pytest.mark.parametrize("name", WITH_AN_OFFSET)
@pytest.mark.parametrize("figure", [-40.0, 0.0, 70.0, 212.0])
def test_a_temperature_is_what_pint_makes_of_it(name: str, figure: float, pint_units: Any) -> None:
    kelvins = pint_units.Quantity(figure, WITH_AN_OFFSET[name]).to("kelvin").magnitude
    read = read_quantity(f"{figure} {name}", BY_NAME["temperature"])
    assert isinstance(read, Bounds)
    assert read.low == pytest.approx(kelvins, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "dimension", "si"),
    [
        ("1 in", "length", 2.54e-02),
        ("1 ft", "length", 3.048e-01),
        ("1 yd", "length", 9.144e-01),
        ("1 lb", "force", 4.448222),
        ("1 oz", "force", 2.780139e-01),
        ("1 kip", "force", 4.448222e03),
        ("1 kg", "force", 9.80665),
        ("1 lb/ft", "force_per_length", 1.459390e01),
        ("1 lb/in", "force_per_length", 1.751268e02),
        ("1 psi", "force_per_area", 6.894757e03),
        ("1 ksi", "force_per_area", 6.894757e06),
        ("1 lb/ft2", "force_per_area", 4.788026e01),
        ("1 ft-lb", "moment", 1.355818),
        ("1 in-lb", "moment", 1.129848e-01),
        ("1 in2", "area", 6.4516e-04),
        ("1 ft2", "area", 9.290304e-02),
        ("1 in3", "volume", 1.638706e-05),
        ("1 in4", "second_moment", 4.162314e-07),
        ("1 mph", "speed", 4.4704e-01),
        ("1 ft/min", "speed", 5.08e-03),
        ("1 deg", "angle", 1.745329e-02),
    ],
)
def test_factors_are_those_of_nist_sp_811(text: str, dimension: str, si: float) -> None:
    """NIST Special Publication 811 (2008), Appendix B.8, seven figures as printed there; from memory."""
    read = read_quantity(text, BY_NAME[dimension])
    assert isinstance(read, Bounds)
    assert read.low == pytest.approx(si, rel=5e-7)


@pytest.mark.parametrize(
    ("spellings", "name"),
    [
        (('"', "in", "in.", "inch", "inches", "IN"), "in"),
        (("'", "ft", "ft.", "foot", "feet", "Feet", "FT"), "ft"),
        (("lb", "lbs", "lbs.", "lbf", "pounds", "LB"), "lb"),
        (("kip", "kips", "KIPS"), "kip"),
        (("t", "tonne", "tonnes", "metric ton"), "t"),
        (("ft2", "sq ft", "sq. ft", "square feet", "ft^2"), "ft2"),
        (("in3", "cu in", "cubic inches"), "in3"),
        (
            ("lb/ft", "plf", "lb per ft", "lbs/ft", "lb/linear ft", "pounds per lineal foot", "lb / ft"),
            "lb/ft",
        ),
        (("lb/ft2", "psf", "lb/sq ft", "lb per sq ft", "lbs/ft^2", "pounds per square foot"), "lb/ft2"),
        (("oz/yd2", "oz/sq yd", "oz per sq yd", "ounces per square yard"), "oz/yd2"),
        (("oz/yd", "oz per linear yd", "oz per yd"), "oz/yd"),
        (("lb/in2", "psi", "pounds per square inch"), "psi"),
        (("N/mm2", "MPa"), "MPa"),
        (("ft-lb", "ft lb", "ft·lb", "lb-ft", "ft-lbs", "ft.-lb", "foot-pounds", "pound feet"), "ft-lb"),
        (("N m", "Nm", "N·m", "N*m", "newton metres"), "N m"),
        (("deg", "°", "degrees"), "deg"),
        (("degF", "°F", "deg F"), "degF"),
        (("%", "per cent", "percent"), "%"),
        (("ft/s", "fps", "feet per second"), "ft/s"),
        (("min", "minutes"), "min"),
    ],
)
def test_every_spelling_is_the_same_unit(spellings: tuple[str, ...], name: str) -> None:
    assert [unit.name if (unit := find_unit(spelling)) else spelling for spelling in spellings] == [
        name
    ] * len(spellings)


def test_no_spelling_stands_for_two_units() -> None:
    spellings = [spelling for unit in UNITS for spelling in (unit.name, *unit.spellings)]
    assert len(spellings) == len(set(spellings))


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: unit.name)
def test_every_name_and_spelling_finds_its_unit(unit: Unit) -> None:
    assert all(find_unit(spelling) is unit for spelling in (unit.name, *unit.spellings))


@pytest.mark.parametrize(
    "text",
    ["", "stone", "ton", "T", "M", "lb/", "/ft", "lb//ft", "sq", "lb/ft/s", "degF/ft", "%/ft", "ft5", "xyz"],
)
def test_what_is_no_unit_is_not_found(text: str) -> None:
    assert find_unit(text) is None


@pytest.mark.parametrize(
    ("misspelt", "dimension", "name"),
    [
        ("inchs", "length", "in"),
        ("fts", "length", "ft"),
        ("lbz", "force", "lb"),
        ("#", "force", "lb"),
        ("dgrees", "angle", "deg"),
    ],
)
def test_the_nearest_unit_of_the_kind_wanted_is_offered(misspelt: str, dimension: str, name: str) -> None:
    near = nearest_unit(misspelt, BY_NAME[dimension])
    assert near is not None
    assert near.name == name
