"""Units at the end of a case's keys, against a general-purpose library of units."""

from typing import Any

import pint
import pytest

from plumbtrue.mechanics.cases.feet_and_inches import read_inches
from plumbtrue.mechanics.cases.unit_cases import CONVERSIONS
from plumbtrue.mechanics.cases.unit_keys import UNITS

REGISTRY: Any = pint.UnitRegistry()

NAMES = {
    "in": "inch", "lb": "pound_force", "lbf": "pound_force", "oz": "ounce_force", "kip": "kip",
    "kg": "kilogram_force", "kgf": "kilogram_force", "t": "1000 kilogram_force", "min": "minute",
    "psf": "pound_force / foot ** 2", "percent": "0.01", "deg": "degree", "rad": "radian",
    "mph": "mile / hour", "km": "kilometer", "yd": "yard", "ft": "foot", "m": "meter", "inch": "inch",
    "Nm": "newton meter", "kNm": "kilonewton meter", "Nmm": "newton millimeter", "ton": "short_ton",
    "g": "gram_force", "h": "hour",
}  # fmt: skip
"""What a part of a key is called in that library; a weight is its pull under standard gravity."""


def spelled(unit: str, names: dict[str, str]) -> str:
    """A key's unit in that library's spelling: `oz_per_yd2` becomes ounce_force / yard ** 2."""
    words = unit.replace("_finished", "").replace("_linear", "").split("_")
    said, over = "1", False
    for word in words:
        if word == "per":
            over = True
            continue
        name, power = (word[:-1], word[-1]) if word[-1] in "234" else (word, "1")
        said += f" {'/' if over else '*'} ({names.get(name, name)}) ** {power}"
    return said


@pytest.mark.parametrize("unit", sorted(UNITS))
def test_a_unit_of_a_key_has_its_factor(unit: str) -> None:
    kind, factor = UNITS[unit]
    size = REGISTRY.Quantity(spelled(unit, NAMES)).to_base_units().magnitude
    assert factor == pytest.approx(size, rel=1e-12), kind


MASSES = {**NAMES, "lb": "pound", "oz": "ounce", "kg": "kilogram", "ton": "short_ton"}


@pytest.mark.parametrize(("us", "metric", "factor"), CONVERSIONS, ids=lambda one: str(one))
def test_a_conversion_has_its_factor(us: str, metric: str, factor: float) -> None:
    """A plain pound is a mass there and turns into kilograms; with a length or area under it, or a foot
    beside it, see its pair."""
    names = NAMES if metric in ("N", "J", "kN", "Pa", "kPa", "MPa", "N_per_m", "N_per_mm") else MASSES
    size = (
        REGISTRY.Quantity(spelled(us, names))
        .to(REGISTRY.Unit(spelled(metric, names).removeprefix("1 * ")))
        .magnitude
    )
    assert factor == pytest.approx(size, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("12'-6 1/2\"", 150.5), ("12' 6-1/2\"", 150.5), ("12′ 6″", 150.0), ("12 ft. 6 in.", 150.0), ("12.5'",
        150.0), ("-12'-6\"", -150.0), ("7/16 in", 0.4375), ("1 7/16\"", 1.4375), ("0'-0\"", 0.0), ("1 1/2 ft",
        18.0), ("3.5 m", 350 / 2.54), ("25.4mm", 1.0), ("2.54 CM", 1.0), (".5 in", 0.5), ("5 feet", 60.0),
    ],
)  # fmt: skip
def test_a_length_is_read_as_it_is_written(text: str, inches: float) -> None:
    assert read_inches(text) == pytest.approx(inches, rel=1e-12)


@pytest.mark.parametrize(
    "text", ["", "12", "6 lb", "12' 6' 3\"", "in", "1/0 in", "--3 in", "3 in 2 ft", None, 7, ["1 in"]]
)
def test_what_is_no_length_is_not_read(text: object) -> None:
    assert read_inches(text) is None
