"""Cases of the parts by themselves: a tube, a rope, a turnbuckle, a beam of the grid."""

from typing import Final

from plumbtrue.mechanics.batten import PointLoad
from plumbtrue.mechanics.cases.inputs import Inputs
from plumbtrue.mechanics.cases.outputs import Computation, Outputs, Quantity, between
from plumbtrue.mechanics.cases.unit_keys import INCH
from plumbtrue.mechanics.grid_beam import grid_beam
from plumbtrue.mechanics.refusal import Refused, must_be_positive
from plumbtrue.mechanics.rope_stretch import (
    constructional_stretch,
    elastic_stretch,
    line_stiffness,
    shock,
    turnbuckle_turn,
)
from plumbtrue.mechanics.section import round_tube


def section_properties(inputs: Inputs) -> Outputs:
    """A round tube; its weight where the density is given."""
    tube = round_tube(inputs.quantity("outside_diameter", "length"), inputs.quantity("wall", "length"))
    density = inputs.known("density", "density")
    return {
        "area": Quantity(tube.area, "area"),
        "I": Quantity(tube.second_moment, "second moment"),
        "S": Quantity(tube.elastic_modulus, "section modulus"),
        "Z": Quantity(tube.plastic_modulus, "section modulus"),
        "r": Quantity(tube.radius_of_gyration, "length"),
        "weight": Quantity(None if density is None else tube.weight_per_length(density), "force per length"),
    }


def rope_stretch(inputs: Inputs) -> Outputs:
    """Elastic and constructional stretch of a rope."""
    tension, length = inputs.quantity("tension", "force"), inputs.quantity("length", "length")
    if inputs.is_given("rope_ea", "force"):
        EA = inputs.quantity("rope_ea", "force")
    else:
        EA = inputs.quantity("metallic_area", "area") * inputs.quantity("modulus", "force per area")
    found: dict[str, object] = {
        "elastic_stretch": Quantity(elastic_stretch(tension, length, EA), "length"),
        "stiffness": Quantity(line_stiffness([(EA, length)]), "force per length"),
    }
    shares = inputs.ends("constructional", "ratio") if inputs.is_given("constructional", "ratio") else None
    if shares is not None:
        found["constructional_stretch"] = Quantity(between(*constructional_stretch(length, shares)), "length")
    return found


def shock_load(inputs: Inputs) -> Outputs | Refused:
    """A falling weight caught by ropes."""
    found = shock(
        inputs.quantity("weight", "force"),
        inputs.quantity("free_fall", "length"),
        inputs.quantity("stiffness", "force per length"),
        breaking_strength=inputs.known("breaking", "force"),
    )
    if isinstance(found, Refused):
        return found
    return {"peak_force": Quantity(found.peak, "force"), "factor": found.factor}


def turnbuckle(inputs: Inputs) -> Outputs:
    """One turn, or as many as are stated."""
    if inputs.is_given("thread_pitch", "length"):
        pitch = inputs.quantity("thread_pitch", "length")
    else:
        threads = inputs.number("threads_per_in")
        must_be_positive(threads_per_in=threads)
        pitch = INCH / threads
    turns = inputs.number("turns", 1.0)
    length, load = turnbuckle_turn(pitch, inputs.quantity("sensitivity", "force per length"))
    return {
        "length_change": Quantity(turns * length, "length"),
        "line_load_change": Quantity(turns * load, "force"),
    }


def beam_under_blocks(inputs: Inputs) -> Outputs | Refused:
    """A loft or head beam under its blocks."""
    blocks = [
        PointLoad(block.quantity("at", "length"), block.quantity("load", "force"))
        for block in inputs.parts("block_loads")
    ]
    found = grid_beam(
        inputs.quantity("span", "length"),
        blocks,
        bearings=inputs.quantities("bearings", "length", optional=True) or None,
        weight_per_length=inputs.quantity("weight", "force per length", 0.0),
    )
    if isinstance(found, Refused):
        return found
    return {
        "total": Quantity(found.total, "force"),
        "end_reactions": Quantity(found.reactions, "force"),
        "max_moment": Quantity(abs(found.greatest_moment.value), "moment"),
        "max_moment_at": Quantity(found.greatest_moment.at, "length"),
    }


COMPUTATIONS: Final[dict[str, Computation]] = {
    "grid-beam": beam_under_blocks,
    "rope-stretch": rope_stretch,
    "section-properties": section_properties,
    "shock-load": shock_load,
    "turnbuckle-turn": turnbuckle,
}
