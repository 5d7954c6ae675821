"""What a bending moment does to the pipe of a batten and to its joints, whatever load it comes from: what the
house has posted, or what a plot hangs.
"""

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.computed.pipe import sections
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.facts.published_tables import customary
from plumbtrue.mechanics.section import Section
from plumbtrue.mechanics.stress import bending_stress
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import FORCE_PER_AREA, MOMENT, RATIO, VOLUME
from plumbtrue.quantities.values import NONE
from plumbtrue.rig.thing import Thing


def section_of(known: Gathering, batten: Thing) -> tuple[Section, Section]:
    """The section at the thinnest and at the thickest wall that the pipe may have; settles what is missing."""
    found = sections(known, batten)
    known.settle()
    assert found is not None
    return found


def section_modulus(known: Gathering, batten: Thing) -> Bounds:
    """Elastic section modulus S of the pipe as it is now [m3], noted as a step."""
    thin, thick = section_of(known, batten)
    return known.step(
        "elastic section modulus S", Bounds(thin.elastic_modulus, thick.elastic_modulus), VOLUME
    )


def stress_answer(known: Gathering, moment: Bounds, modulus: Bounds, formula: str, source: str) -> Answer:
    """Bending stress of a greatest moment [N m] at the thinnest wall there may be, `f = |M| / S`."""
    known.step("greatest moment", moment, MOMENT)
    stress = over_bounds(bending_stress, moment, modulus)
    return known.within(stress, "batten-stress", f"f = |M| / S; {formula}", FORCE_PER_AREA, source)


def share_of_yield(known: Gathering) -> Bounds:
    """The share of yield up to which bending is allowed, noted with its source."""
    share, source = customary("bending-share-of-yield")
    known.suppose(f"bending is allowed up to {share.low:g} of yield: {source}")
    return share


def margin_answer(known: Gathering, splice: Thing, moment: Bounds, source: str) -> Answer:
    """Rated moment of a joint over the moment there; none for a joint that bears no moment at all."""
    capacity = known.figure(splice, "moment_capacity", within=NOUGHT_OR_MORE)
    known.settle()
    if moment.high <= 0:
        return known.within(NONE, "splice-margin", "the joint bears no moment", None)
    known.step("moment at the joint", moment, MOMENT)
    return known.within(
        capacity / moment, "splice-margin", "rated moment / moment at the joint", RATIO, source
    )
