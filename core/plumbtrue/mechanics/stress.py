"""What bending does to the pipe: stress, the allowable stress that a rule pack chooses, and the share of it
in use.

The yield strength is the caller's: old unmarked pipe has no promised strength, and then there is no figure
here. Crushing at clamps, torsion, dents, shock and the threads of couplings are not in it.
"""

from plumbtrue.mechanics.refusal import Refused, must_be_finite, must_be_positive
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class BendingCheck:
    """Bending stress against an allowable one [Pa], and the utilisation: 1 is the allowable itself."""

    stress: float
    allowable: float

    @property
    def utilisation(self) -> float:
        """Stress over allowable stress."""
        return self.stress / self.allowable


def bending_stress(moment: float, elastic_modulus: float) -> float:
    """Greatest stress in a pipe from its bending moment: `f = |M| / S`, in the sense of the elastic section.

    Args:
        moment: [N m], either sign.
        elastic_modulus: S [m3], more than 0.
    Returns:
        The stress [Pa].
    Source: beam theory, any textbook.

    >>> round(bending_stress(moment=400.0, elastic_modulus=5.35e-6) / 1e6, 1)
    74.8
    """
    must_be_finite(moment=moment)
    must_be_positive(elastic_modulus=elastic_modulus)
    return abs(moment) / elastic_modulus


def elastic_allowable(yield_strength: float, safety_factor: float) -> float:
    """Allowable bending stress [Pa] on the elastic section: `F = Fy / factor`. The careful form.

    Args:
        yield_strength: Fy [Pa], of the grade that is known, more than 0.
        safety_factor: the pack's, more than 0; 1.67 is that of AISC 360 (from memory).

    >>> round(elastic_allowable(yield_strength=206.8e6, safety_factor=1.67) / 1e6, 1)
    123.8
    """
    must_be_positive(yield_strength=yield_strength, safety_factor=safety_factor)
    return yield_strength / safety_factor


def plastic_moment_allowable(
    yield_strength: float, plastic_modulus: float, safety_factor: float, *, slenderness: float, E: float
) -> float | Refused:
    """Allowable bending moment [N m] of a round pipe that can yield all through: `Fy Z / factor`.

    Args:
        yield_strength: Fy [Pa].
        plastic_modulus: Z [m3].
        safety_factor: the pack's; 1.67 is that of AISC 360 (from memory).
        slenderness: outside diameter over wall, D/t.
        E: modulus of the pipe [Pa].
    Returns:
        The moment, or a refusal where the wall is so thin that it buckles first, D/t above 0.07 E/Fy.
    Source: AISC 360, chapter F8, round sections (from memory; a pack states the edition).

    >>> round(plastic_moment_allowable(207e6, 7.335e-6, 1.67, slenderness=13.1, E=200e9))
    909
    """
    must_be_positive(
        yield_strength=yield_strength,
        plastic_modulus=plastic_modulus,
        safety_factor=safety_factor,
        slenderness=slenderness,
        E=E,
    )
    if slenderness > 0.07 * E / yield_strength:
        return Refused(
            reason=f"the wall is thin, D/t = {slenderness:.1f}, so that it may buckle before it yields",
            limit=f"D/t of 0.07 E/Fy = {0.07 * E / yield_strength:.1f}",
            source="AISC 360, chapter F8 (from memory)",
        )
    return yield_strength * plastic_modulus / safety_factor


def tube_shear_stress(shear: float, area: float) -> float:
    """Greatest shear stress in a thin round tube [Pa]: `2 V / A`. For pipe on lift lines it never governs.

    Args:
        shear: [N], either sign.
        area: of the wall [m2], more than 0.
    Source: shear flow in a thin ring, any textbook.

    >>> tube_shear_stress(shear=800.0, area=5.0e-4) / 1e6
    3.2
    """
    must_be_finite(shear=shear)
    must_be_positive(area=area)
    return 2 * abs(shear) / area


def bending_check(moment: float, elastic_modulus: float, allowable: float) -> BendingCheck:
    """Stress of a moment [N m] on an elastic modulus [m3] beside an allowable stress [Pa].

    >>> round(bending_check(moment=400.0, elastic_modulus=5.35e-6, allowable=124e6).utilisation, 3)
    0.603
    """
    must_be_positive(allowable=allowable)
    return BendingCheck(bending_stress(moment, elastic_modulus), allowable)
