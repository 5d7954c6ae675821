"""Cross-sections of battens: what a tube's outside diameter and wall say about its stiffness and strength.

Strength of the material does not belong here; it is a table's business.
"""

from math import pi, sqrt

from plumbtrue.mechanics.refusal import must_be_positive
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class Section:
    """What bending asks of a cross-section: area [m2], I [m4], elastic S [m3], plastic Z [m3], radius of
    gyration [m].
    """

    area: float
    second_moment: float
    elastic_modulus: float
    plastic_modulus: float
    radius_of_gyration: float

    def weight_per_length(self, specific_weight: float) -> float:
        """Weight of the plain section [N/m], from the weight of its material [N/m3]. Couplings and paint are
        left out.
        """
        must_be_positive(specific_weight=specific_weight)
        return self.area * specific_weight


def round_tube(outside_diameter: float, wall: float) -> Section:
    """Properties of a round tube from its outside diameter and wall, as measured where that is recorded.

    All five grow with the wall, so a wall known within bounds (a mill may roll it 12.5 % thin: ASTM A53, from
    memory) gives bounds from its two ends. A wall eaten by rust is not a wall until it has been measured.

    Args:
        outside_diameter: [m], more than 0.
        wall: [m], more than 0, at most half the diameter (then it is a bar).
    Raises:
        ValueError: no tube has these measures.
    Source: integration over the ring, any handbook of mechanics.

    >>> tube = round_tube(outside_diameter=1.900 * 0.0254, wall=0.145 * 0.0254)
    >>> round(tube.second_moment / 0.0254**4, 4), round(tube.elastic_modulus / 0.0254**3, 4)
    (0.3099, 0.3262)
    """
    must_be_positive(outside_diameter=outside_diameter, wall=wall)
    if wall > outside_diameter / 2:
        raise ValueError(f"a wall of {wall} m does not fit in a tube of {outside_diameter} m")
    D, d = outside_diameter, outside_diameter - 2 * wall
    area = pi * (D**2 - d**2) / 4
    second_moment = pi * (D**4 - d**4) / 64
    return Section(
        area=area,
        second_moment=second_moment,
        elastic_modulus=2 * second_moment / D,
        plastic_modulus=(D**3 - d**3) / 6,
        radius_of_gyration=sqrt(second_moment / area),
    )


def laced_pair_second_moment(chord_area: float, depth: float) -> float:
    """Second moment [m4] of two chords laced together, as of a truss: `I = A D^2 / 2`.

    An upper value: lacing gives in shear, so the maker's figure, or a range below this one, goes before it.

    Args:
        chord_area: all tubes of one chord side together [m2], more than 0.
        depth: between the chords' centres [m], more than 0.
    Source: the parallel-axis rule, the chords' own bending left out.

    >>> round(laced_pair_second_moment(0.7995 * 0.0254**2, 12 * 0.0254) / 0.0254**4, 1)
    57.6
    """
    must_be_positive(chord_area=chord_area, depth=depth)
    return chord_area * depth**2 / 2


def shear_softness(EI: float, shear_stiffness: float, span: float) -> float:
    """How much shear adds to bending in a span: `12 EI / (k G A L^2)`. Above 0.05 the beam of this floor is
    too stiff.

    Args:
        EI: bending stiffness [N m2], more than 0.
        shear_stiffness: k G A [N], more than 0.
        span: between lines [m], more than 0.
    Source: the shear parameter of a beam element, any textbook of structures; the 0.05 is a convention, from
    memory.

    >>> round(shear_softness(EI=1.0e6, shear_stiffness=5.0e6, span=10.0), 3)
    0.024
    """
    must_be_positive(EI=EI, shear_stiffness=shear_stiffness, span=span)
    return 12 * EI / (shear_stiffness * span**2)
