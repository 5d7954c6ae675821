"""Cases about units and about lengths in feet and inches."""

from typing import Final

from plumbtrue.mechanics.cases.feet_and_inches import read_inches
from plumbtrue.mechanics.cases.inputs import CannotRunError, Inputs
from plumbtrue.mechanics.cases.outputs import Computation, Outputs
from plumbtrue.mechanics.cases.unit_keys import (
    DEGREE,
    FOOT,
    INCH,
    KILOGRAM,
    OUNCE,
    POUND,
    YARD,
)
from plumbtrue.mechanics.gravity import STANDARD_GRAVITY

CONVERSIONS: Final[tuple[tuple[str, str, float], ...]] = (
    ("lbf", "N", POUND),
    ("kip", "kN", POUND),
    ("kgf", "N", KILOGRAM),
    ("inch", "mm", INCH * 1000),
    ("in", "mm", INCH * 1000),
    ("ft", "m", FOOT),
    ("yd", "m", YARD),
    ("mile", "km", 5280 * FOOT / 1000),
    ("lb", "kg", POUND / STANDARD_GRAVITY),
    ("oz", "kg", OUNCE / STANDARD_GRAVITY),
    ("ton", "kg", 2000 * POUND / STANDARD_GRAVITY),
    ("ft_lbf", "J", POUND * FOOT),
    ("ft_lb", "J", POUND * FOOT),
    ("in_lbf", "J", POUND * INCH),
    ("in_lb", "J", POUND * INCH),
    ("psi", "kPa", POUND / INCH**2 / 1000),
    ("ksi", "MPa", POUND / INCH**2 / 1000),
    ("psf", "Pa", POUND / FOOT**2),
    ("lbf_per_ft", "N_per_m", POUND / FOOT),
    ("lb_per_ft", "kg_per_m", POUND / STANDARD_GRAVITY / FOOT),
    ("lbf_per_in", "N_per_mm", POUND / INCH / 1000),
    ("oz_per_yd2", "kg_per_m2", OUNCE / STANDARD_GRAVITY / YARD**2),
    ("lb_per_in3", "kg_per_m3", POUND / STANDARD_GRAVITY / INCH**3),
    ("lb_per_ft3", "kg_per_m3", POUND / STANDARD_GRAVITY / FOOT**3),
    ("in2", "mm2", INCH**2 * 1e6),
    ("ft2", "m2", FOOT**2),
    ("in3", "cm3", INCH**3 * 1e6),
    ("in4", "cm4", INCH**4 * 1e8),
    ("deg", "rad", DEGREE),
    ("ft_per_s", "m_per_s", FOOT),
    ("ft_per_s2", "m_per_s2", FOOT),
    ("mph", "m_per_s", 5280 * FOOT / 3600),
)
"""From a US unit to a metric one, and the factor. A pound turns into kilograms, a pound-force into newtons:
never mixed."""


METRIC: Final[dict[str, tuple[str, float]]] = {
    "N": ("force", 1.0), "kN": ("force", 1e3),
    "mm": ("length", 1e-3), "cm": ("length", 1e-2), "m": ("length", 1.0), "km": ("length", 1e3),
    "g": ("mass", 1e-3), "kg": ("mass", 1.0), "t": ("mass", 1e3),
    "J": ("energy", 1.0), "kJ": ("energy", 1e3), "Nm": ("energy", 1.0), "N_m": ("energy", 1.0),
    "Pa": ("pressure", 1.0), "kPa": ("pressure", 1e3), "MPa": ("pressure", 1e6), "GPa": ("pressure", 1e9),
    "N_per_m": ("force per length", 1.0), "N_per_mm": ("force per length", 1e3),
    "kg_per_m": ("mass per length", 1.0), "kg_per_m2": ("mass per area", 1.0), "g_per_m2": ("mass per area", 1e-3),
    "kg_per_m3": ("density", 1.0), "mm2": ("area", 1e-6), "cm2": ("area", 1e-4), "m2": ("area", 1.0),
    "mm3": ("volume", 1e-9), "cm3": ("volume", 1e-6), "m3": ("volume", 1.0),
    "mm4": ("second moment", 1e-12), "cm4": ("second moment", 1e-8),
    "rad": ("angle", 1.0), "m_per_s": ("speed", 1.0), "m_per_s2": ("acceleration", 1.0),
}  # fmt: skip
"""Metric units by what they measure, and how many SI units one of each is."""
EVERY_UNIT: Final = METRIC | {
    us: (METRIC[metric][0], factor * METRIC[metric][1]) for us, metric, factor in CONVERSIONS
}
PARTNERS: Final = frozenset(pair for us, metric, _ in CONVERSIONS for pair in ((us, metric), (metric, us)))


def _units(inputs: Inputs) -> Outputs:
    """Every other unit of what is given. Where two inputs measure the same, each gives its partner."""
    given = {unit: inputs.number(unit) for unit in EVERY_UNIT if unit in inputs}
    found: dict[str, object] = {}
    for wanted, (measures, factor) in EVERY_UNIT.items():
        sources = [unit for unit in given if unit != wanted and EVERY_UNIT[unit][0] == measures]
        partners = [unit for unit in sources if (unit, wanted) in PARTNERS]
        if len(partners) > 1:
            raise CannotRunError(f"two inputs would both come out as {wanted}")
        if wanted not in given and (partners or len(sources) == 1):
            source = (partners or sources)[0]
            found[wanted] = given[source] * EVERY_UNIT[source][1] / factor
    return found


def _units_feet_inches(inputs: Inputs) -> Outputs:
    inches = [read_inches(text) for text in inputs.raw_list("texts")]
    return {
        "inches": inches,
        "metres": [None if length is None else length * INCH for length in inches],
        "m": [None if length is None else length * INCH for length in inches],
        "mm": [None if length is None else length * INCH * 1000 for length in inches],
        "feet": [None if length is None else length / 12 for length in inches],
    }


COMPUTATIONS: Final[dict[str, Computation]] = {"units": _units, "units-feet-inches": _units_feet_inches}
