"""Sets beside a set: which they are, and how near."""

from math import inf

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.registry import computed, finds
from plumbtrue.facts.gathering import Gathering
from plumbtrue.facts.store import Facts, Part
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import LENGTH
from plumbtrue.quantities.values import NONE, UNKNOWN
from plumbtrue.rig.thing import Thing


def _others(facts: Facts, thing: Thing) -> tuple[Thing, ...] | None:
    house = thing.enclosing("house")
    sets = facts.part(house, "line_sets") if house is not None else UNKNOWN
    return tuple(one for one in sets if one is not thing) if isinstance(sets, tuple) else None


@computed("line_set", "spacing")
def spacing(known: Gathering, thing: Thing) -> Answer:
    """Distance to the nearer neighbour: the least difference of distances from the plaster line.

    A set whose place nobody recorded could be the nearest of all, so it leaves the answer at most the others'
    least.
    """
    others = _others(known.facts, thing)
    if others is None:
        known.lack(thing.enclosing("house") or thing, "line_sets")
    own = known.figure(thing, "from_plaster_line")
    known.settle()
    low = high = inf
    for other in others or ():
        answer = known.facts.answer(other, "from_plaster_line")
        if isinstance(answer.value, Bounds):
            apart = abs(answer.value - own)
            low, high = min(low, apart.low), min(high, apart.high)
            known.loose.extend(answer.missing)
        else:
            low = 0.0
            known.loose.append(Missing(other, "from_plaster_line"))
    house = thing.enclosing("house")
    if house is not None and known.facts.is_unlisted(house, "line_sets"):
        low = 0.0
        known.loose.append(Missing(house, "line_sets", "not all of them identified"))
    formula = "least difference of the distances from the plaster line"
    if low == inf:
        return known.within(NONE, "set-spacing", "there is no other set", None)
    return known.within(Bounds(low, high), "set-spacing", formula, LENGTH, "arithmetic")


@finds("line_set", "neighbours")
def neighbours(facts: Facts, thing: Thing) -> Part:
    """The sets next to it, downstage and upstage; not known as long as one set's place is not."""
    others = _others(facts, thing)
    house = thing.enclosing("house")
    if others is None or house is None or facts.is_unlisted(house, "line_sets"):
        return UNKNOWN
    places: list[tuple[float, Thing]] = []
    for one in (thing, *others):
        place = facts.value(one, "from_plaster_line")
        if not isinstance(place, Bounds) or not place.is_exact:
            return UNKNOWN
        places.append((place.low, one))
    places.sort(key=lambda pair: pair[0])
    number = next(i for i, (_, one) in enumerate(places) if one is thing)
    return tuple(one for _, one in places[max(number - 1, 0) : number] + places[number + 1 : number + 2])
