"""Units as they end a key: `line_load_lbf`, `drop_in`, `limit_deg`. Factors to SI, weights as their pull
under standard gravity.

Source: NIST SP 811, Appendix B (from memory; checked against a units library in the tests). Exact but for
rounding of the float.
"""

from typing import Final, Literal

from plumbtrue.mechanics.gravity import STANDARD_GRAVITY

Kind = Literal[
    "length", "area", "force", "force per length", "force per area", "moment", "angle", "ratio", "duration",
    "speed", "acceleration", "section modulus", "second moment", "turning stiffness", "density",
]  # fmt: skip

INCH: Final = 0.0254
FOOT: Final = 12 * INCH
YARD: Final = 36 * INCH
POUND: Final = 0.45359237 * STANDARD_GRAVITY
OUNCE: Final = POUND / 16
KILOGRAM: Final = STANDARD_GRAVITY
DEGREE: Final = 3.141592653589793 / 180

UNITS: Final[dict[str, tuple[Kind, float]]] = {
    "in": ("length", INCH),
    "ft": ("length", FOOT),
    "yd": ("length", YARD),
    "mm": ("length", 1e-3),
    "cm": ("length", 1e-2),
    "m": ("length", 1.0),
    "in2": ("area", INCH**2),
    "ft2": ("area", FOOT**2),
    "mm2": ("area", 1e-6),
    "cm2": ("area", 1e-4),
    "m2": ("area", 1.0),
    "lb": ("force", POUND),
    "lbf": ("force", POUND),
    "oz": ("force", OUNCE),
    "kip": ("force", 1000 * POUND),
    "kg": ("force", KILOGRAM),
    "kgf": ("force", KILOGRAM),
    "t": ("force", 1000 * KILOGRAM),
    "N": ("force", 1.0),
    "kN": ("force", 1e3),
    "g": ("force", KILOGRAM / 1000),
    "lb_per_ft": ("force per length", POUND / FOOT),
    "lbf_per_ft": ("force per length", POUND / FOOT),
    "lb_per_in": ("force per length", POUND / INCH),
    "lbf_per_in": ("force per length", POUND / INCH),
    "lb_per_finished_ft": ("force per length", POUND / FOOT),
    "oz_per_linear_yd": ("force per length", OUNCE / YARD),
    "kg_per_m": ("force per length", KILOGRAM),
    "kg_per_finished_m": ("force per length", KILOGRAM),
    "g_per_linear_m": ("force per length", KILOGRAM / 1000),
    "g_per_m": ("force per length", KILOGRAM / 1000),
    "N_per_m": ("force per length", 1.0),
    "N_per_mm": ("force per length", 1e3),
    "kN_per_m": ("force per length", 1e3),
    "oz_per_yd2": ("force per area", OUNCE / YARD**2),
    "lb_per_ft2": ("force per area", POUND / FOOT**2),
    "psf": ("force per area", POUND / FOOT**2),
    "kg_per_m2": ("force per area", KILOGRAM),
    "g_per_m2": ("force per area", KILOGRAM / 1000),
    "N_per_m2": ("force per area", 1.0),
    "Pa": ("force per area", 1.0),
    "N_per_mm2": ("force per area", 1e6),
    "kPa": ("force per area", 1e3),
    "MPa": ("force per area", 1e6),
    "GPa": ("force per area", 1e9),
    "psi": ("force per area", POUND / INCH**2),
    "ksi": ("force per area", 1000 * POUND / INCH**2),
    "in_lb": ("moment", POUND * INCH),
    "in_lbf": ("moment", POUND * INCH),
    "ft_lb": ("moment", POUND * FOOT),
    "ft_lbf": ("moment", POUND * FOOT),
    "J": ("moment", 1.0),
    "kJ": ("moment", 1e3),
    "Nm": ("moment", 1.0),
    "N_m": ("moment", 1.0),
    "kN_m": ("moment", 1e3),
    "kNm": ("moment", 1e3),
    "N_mm": ("moment", 1e-3),
    "Nmm": ("moment", 1e-3),
    "deg": ("angle", DEGREE),
    "rad": ("angle", 1.0),
    "percent": ("ratio", 0.01),
    "s": ("duration", 1.0),
    "min": ("duration", 60.0),
    "ft_per_s": ("speed", FOOT),
    "ft_per_min": ("speed", FOOT / 60),
    "m_per_s": ("speed", 1.0),
    "mph": ("speed", 5280 * FOOT / 3600),
    "km_per_h": ("speed", 1 / 3.6),
    "ft_per_s2": ("acceleration", FOOT),
    "m_per_s2": ("acceleration", 1.0),
    "in3": ("section modulus", INCH**3),
    "mm3": ("section modulus", 1e-9),
    "cm3": ("section modulus", 1e-6),
    "m3": ("section modulus", 1.0),
    "in4": ("second moment", INCH**4),
    "mm4": ("second moment", 1e-12),
    "cm4": ("second moment", 1e-8),
    "m4": ("second moment", 1.0),
    "in_lb_per_rad": ("turning stiffness", POUND * INCH),
    "Nm_per_rad": ("turning stiffness", 1.0),
    "N_m_per_rad": ("turning stiffness", 1.0),
    "lb_per_in3": ("density", POUND / INCH**3),
    "lb_per_ft3": ("density", POUND / FOOT**3),
    "kg_per_m3": ("density", KILOGRAM),
}
"""End of the key: kind of quantity, and how many SI units one of it is."""


def endings(key: str) -> list[tuple[str, str]]:
    """Every way to read a key as stem and unit, longest unit first. A key that is a unit has an empty stem.

    >>> endings("kinetic_energy_ft_lb")
    [('kinetic_energy', 'ft_lb'), ('kinetic_energy_ft', 'lb')]
    """
    parts = key.split("_")
    cuts = [("_".join(parts[:at]), "_".join(parts[at:])) for at in range(len(parts))]
    return [(stem, unit) for stem, unit in cuts if unit in UNITS]


def units_of(kind: Kind) -> list[str]:
    """Every unit in which a kind of quantity may be given."""
    return [unit for unit, (of, _) in UNITS.items() if of == kind]
