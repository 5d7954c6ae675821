"""At how many places of its own a piece of a show hangs. Ties spread along it, lamps and cables are no picks."""

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.computed.item_pulls import pulls_of
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import Gathering
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import RATIO
from plumbtrue.quantities.values import Unknown
from plumbtrue.rig.thing import Thing


@computed("item", "picks")
def picks(known: Gathering, thing: Thing) -> Answer:
    """Different places of its loads along what carries it; pulls that hold in one state only count once each
    place.
    """
    hung_otherwise = any(isinstance(known.facts.part(thing, name), tuple) for name in ("units", "panels"))
    if isinstance(known.facts.part(thing, "loads"), Unknown) and not hung_otherwise:
        known.lack(thing, "loads")
    found = known.facts.kept(thing, pulls_of)
    loads = [one for one in found.pulls if one.thing.kind.name == "load"]
    for one in loads:
        if one.is_placed:
            known.value(one.thing, "at")
        else:
            known.lack(one.thing, "at")
    if known.facts.is_unlisted(thing, "loads"):
        known.lack(thing, "loads", "not all of them identified")
    known.settle()
    places = {(one.at.from_centre, one.at.distance) for one in loads if one.at is not None}
    count = Bounds.exactly(float(len(places)))
    return known.answer(count, "picks", "different places of its loads", RATIO, "the places in the plot")
