"""What lies on the loading bridge, and what a count of bricks weighs and measures."""

from math import inf

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.quantities.bounds import Bounds, greatest_of
from plumbtrue.quantities.dimension import FORCE, FORCE_PER_AREA, LENGTH
from plumbtrue.rig.thing import Thing


def _each(known: Gathering, thing: Thing, fact: str, what: str) -> Bounds:
    """Count times a figure of one brick; the brick is the one that the entry names."""
    brick = known.thing(thing, "brick")
    count = known.figure(thing, "count", within=NOUGHT_OR_MORE)
    one = NOUGHT_OR_MORE
    if brick is not None:
        one = known.figure(brick, fact, f"{what} of one {brick.key}", within=NOUGHT_OR_MORE)
    known.settle()
    return count * one


@computed("weights", "weight")
def weight_of_bricks(known: Gathering, thing: Thing) -> Answer:
    """Weight of all bricks of one kind in one place."""
    return known.answer(
        _each(known, thing, "weight", "weight"), "brick-weight", "count x weight of one", FORCE, "arithmetic"
    )


@computed("weights", "height")
def height_of_bricks(known: Gathering, thing: Thing) -> Answer:
    """Height of all bricks of one kind, stacked."""
    height = _each(known, thing, "thickness", "thickness")
    return known.answer(height, "brick-height", "count x thickness of one", LENGTH, "arithmetic")


def weight_in(known: Gathering, thing: Thing, name: str = "weights") -> Bounds:
    """Weight of all bricks in an arbor or a bay; at least what is listed where not all of them are."""
    total = Bounds.exactly(0.0)
    held = known.facts.part(thing, name)
    for one in held if isinstance(held, tuple) else ():
        total = total + known.figure(one, "weight", f"{one.key} in {thing.path}", within=NOUGHT_OR_MORE)
    return total


@computed("bay", "stored_weight")
def stored_in_bay(known: Gathering, thing: Thing) -> Answer:
    """Weight that lies in one bay."""
    known.things(thing, "weights")
    return known.answer(
        weight_in(known, thing), "bridge-stored-weight", "sum of count x weight of one", FORCE, "arithmetic"
    )


@computed("bay", "stored_load")
def load_of_bay(known: Gathering, thing: Thing) -> Answer:
    """Stored weight over floor area."""
    weight = known.figure(thing, "stored_weight", within=NOUGHT_OR_MORE)
    area = known.figure(thing, "area", within=NOUGHT_OR_MORE)
    known.settle()
    if area.low <= 0:
        known.decline("a bay without area carries no load per area")
    return known.answer(
        weight / area, "bridge-stored-load", "stored weight / area", FORCE_PER_AREA, "arithmetic"
    )


def _bays(known: Gathering, thing: Thing, fact: str) -> list[Bounds]:
    """A figure of each bay, from nought where it is not known; those bays and unnamed ones are noted."""
    held = known.facts.part(thing, "bays")
    if not isinstance(held, tuple):
        known.lack(thing, "bays")
        known.settle()
        return []
    found = []
    for bay in held:
        answer = known.facts.answer(bay, fact)
        if isinstance(answer.value, Bounds):
            found.append(known.figure(bay, fact, within=NOUGHT_OR_MORE))
        else:
            known.loose.extend(answer.missing)
            found.append(NOUGHT_OR_MORE)
    if known.facts.is_unlisted(thing, "bays"):
        known.loose.append(Missing(thing, "bays", "not all of them identified"))
        found.append(NOUGHT_OR_MORE)
    return found


@computed("loading_bridge", "stored_weight")
def stored_on_bridge(known: Gathering, thing: Thing) -> Answer:
    """Weight on all bays; at least that of the bays that were counted."""
    total = sum(_bays(known, thing, "stored_weight"), Bounds.exactly(0.0))
    return known.within(total, "bridge-stored-weight", "sum over the bays", FORCE, "arithmetic")


@computed("loading_bridge", "stored_load")
def fullest_bay(known: Gathering, thing: Thing) -> Answer:
    """Stored weight over area of the fullest bay; at least that of the fullest one counted."""
    loads = _bays(known, thing, "stored_load")
    if not loads:
        return known.within(
            Bounds.exactly(0.0), "bridge-stored-load", "nothing is stored on it", FORCE_PER_AREA
        )
    fullest = greatest_of(loads)
    formula = "greatest of the bays' stored weight / area"
    if fullest.high == inf and fullest.low == 0:
        known.lacking.extend(known.loose)
        known.settle()
    return known.within(fullest, "bridge-stored-load", formula, FORCE_PER_AREA, "arithmetic")
