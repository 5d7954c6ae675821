"""The batten under what is posted: stress, sag, drop of its ends, moments at its joints."""

from math import inf

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.computed.batten_at_load import Greatest
from plumbtrue.facts.computed.pipe import bending_stiffness
from plumbtrue.facts.computed.pipe_in_bending import (
    margin_answer,
    section_modulus,
    section_of,
    share_of_yield,
    stress_answer,
)
from plumbtrue.facts.computed.posted_batten import FORMULA, SOURCE, LoadedBatten, posted_batten
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.facts.published_tables import customary
from plumbtrue.mechanics.stress import tube_shear_stress
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import FORCE, LENGTH, MOMENT, RATIO
from plumbtrue.rig.thing import Thing


def _posted(known: Gathering, thing: Thing) -> LoadedBatten:
    """The batten at what is posted; its joints are counted where they are not all known."""
    loaded = known.facts.kept(known.around(thing, "line_set"), posted_batten)
    known.include(loaded.known)
    return loaded


def _said(known: Gathering, found: Greatest, what: str) -> None:
    place = "" if found.at is None else f", {known.said(Bounds.exactly(found.at), LENGTH)} from the zero end"
    known.steps.append((what, f"{found.case}{place}"))


@computed("batten", "bending_stress")
def bending_stress(known: Gathering, thing: Thing) -> Answer:
    """Greatest bending stress at what is posted: moment over elastic section modulus, at the thinnest wall
    there may be.
    """
    modulus = section_modulus(known, thing)
    moment = _posted(known, thing).at.moment
    _said(known, moment, "greatest moment by")
    return stress_answer(known, moment.bounds, modulus, FORMULA, SOURCE)


@computed("batten", "bending_utilisation")
def bending_utilisation(known: Gathering, thing: Thing) -> Answer:
    """Bending stress over what is allowed; a joint counts at its own rated moment, and one without leaves it
    open upward.
    """
    least = known.figure(thing, "yield", "least yield", within=NOUGHT_OR_MORE)
    stress = known.figure(thing, "bending_stress", within=NOUGHT_OR_MORE)
    known.settle()
    if least.low <= 0:
        known.decline("a metal without yield")
    used = stress / (least * share_of_yield(known))
    loaded = _posted(known, thing)
    for joint, moment in zip(loaded.hung.joints, loaded.at.joint_moments, strict=False):
        capacity = known.perhaps(joint.splice, "moment_capacity")
        if isinstance(capacity, Bounds) and capacity.low > 0:
            at_joint = known.step(
                f"{joint.splice.key}, moment / rated moment", moment.bounds / capacity, RATIO
            )
            used = Bounds(max(used.low, at_joint.low), max(used.high, at_joint.high))
        else:
            used = Bounds(used.low, inf)
    formula = "the greater of |M| / S over allowable stress and moment over rated moment at each joint"
    return known.within(used, "batten-stress", formula, RATIO, SOURCE)


@computed("batten", "shear_utilisation")
def shear_utilisation(known: Gathering, thing: Thing) -> Answer:
    """Shear stress over what is allowed: 2 V / A of a thin tube. For pipe on lift lines it does not
    govern.
    """
    share, source = customary("shear-share-of-yield")
    least = known.figure(thing, "yield", "least yield", within=NOUGHT_OR_MORE)
    thin, thick = section_of(known, thing)
    loaded = _posted(known, thing)
    if least.low <= 0:
        known.decline("a metal without yield")
    shear = loaded.at.shear
    known.step("greatest shear", shear.bounds, FORCE)
    known.suppose(f"shear is allowed up to {share.low:g} of yield: {source}")
    stress = over_bounds(tube_shear_stress, shear.bounds, Bounds(thin.area, thick.area))
    return known.within(
        stress / (least * share), "batten-stress", "(2 V / A) / allowable shear", RATIO, SOURCE
    )


def _bent(known: Gathering, thing: Thing, found: Greatest | None, loaded: LoadedBatten) -> Greatest:
    """A deflection; what is missing for one is counted."""
    if not loaded.hung.joints_known:
        known.lack(thing, "splices")
        known.settle()
    if found is None:
        bending_stiffness(known, thing)
        known.settle()
        known.decline("the stiffness of the batten is not known")
    _said(known, found, "greatest by")
    return found


@computed("batten", "sag")
def sag(known: Gathering, thing: Thing) -> Answer:
    """Greatest sag over its span at what is posted, below the straight line between the lines around it."""
    loaded = _posted(known, thing)
    found = _bent(known, thing, loaded.at.sag, loaded)
    return known.within(
        found.bounds, "batten-deflection", f"M / EI integrated twice; {FORMULA}", RATIO, SOURCE
    )


@computed("batten", "tip_drop")
def tip_drop(known: Gathering, thing: Thing) -> Answer:
    """Drop of the worse end below its outer line, at what is posted; negative where both ends rise."""
    loaded = _posted(known, thing)
    found = _bent(known, thing, loaded.at.tip_drop, loaded)
    return known.within(
        found.bounds, "batten-deflection", f"M / EI integrated twice; {FORMULA}", LENGTH, SOURCE
    )


def _at_joint(known: Gathering, thing: Thing) -> Bounds:
    batten = known.around(thing, "batten")
    loaded = _posted(known, thing)
    if not loaded.hung.joints_known:
        known.lack(batten, "splices")
        known.settle()
    moments = zip(loaded.hung.joints, loaded.at.joint_moments, strict=True)
    found = next((moment for joint, moment in moments if joint.splice is thing), None)
    if found is None:
        known.decline("the joint does not lie on the pipe")
    _said(known, found, "greatest moment by")
    return found.bounds


@computed("splice", "moment")
def joint_moment(known: Gathering, thing: Thing) -> Answer:
    """Greatest moment that the joint must carry at what is posted: that of unbroken pipe."""
    return known.within(_at_joint(known, thing), "splice-range", FORMULA, MOMENT, SOURCE)


@computed("splice", "margin")
def joint_margin(known: Gathering, thing: Thing) -> Answer:
    """Rated moment of the joint over the moment there; none for a joint that bears no moment at all."""
    return margin_answer(known, thing, _at_joint(known, thing), SOURCE)
