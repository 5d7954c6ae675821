"""Points: what a show pulls on each of them at rest, down and sideways, be they its own or the house's."""

from collections.abc import Iterator

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.hanging_from import hanging_from, of_plot
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds, greatest_of
from plumbtrue.quantities.dimension import FORCE
from plumbtrue.quantities.values import Absent, Spot, Unknown
from plumbtrue.rig.thing import Thing

_STATICS = "statics and plane geometry (derived)"


def _every_leg(facts: Facts, point: Thing) -> Iterator[Thing]:
    """Legs of all bridles of the plot under which a point is."""
    for bridle in of_plot(facts, point, "bridles"):
        yield from bridle.members("legs")


def _legs_to(known: Gathering, point: Thing) -> tuple[Thing, ...]:
    """Legs that go to a point; each of which nobody says where it goes is counted, for it may go here."""
    every = tuple(_every_leg(known.facts, point))
    for leg in every:
        if "point" not in leg.references:
            known.lack(leg, "point")
    return tuple(leg for leg in every if leg.references.get("point") is point)


@computed("point", "force_down")
def force_down(known: Gathering, thing: Thing) -> Answer:
    """Vertical pull on it at rest: what hangs from it, and the legs of bridles."""
    total = hanging_from(known, thing)
    for leg in _legs_to(known, thing):
        total = total + known.figure(leg, "upright", leg.path, within=NOUGHT_OR_MORE)
    for bridle in of_plot(known.facts, thing, "bridles"):
        if isinstance(bridle.parts.get("legs"), Unknown | Absent) or "legs" in bridle.unlisted:
            known.loose.append(Missing(bridle, "legs"))
    known.settle()
    return known.within(total, "bridle-two-leg", "sum of vertical pulls", FORCE, _STATICS)


@computed("point", "force_sideways")
def force_sideways(known: Gathering, thing: Thing) -> Answer:
    """Greatest level pull on it at rest, towards one side: legs that pull the other way may hang slack at
    another time, so they are not counted against it. One of three or four legs pulls in a direction of its
    own, and is counted as if it pulled with the others.
    """
    towards = {True: Bounds.exactly(0.0), False: Bounds.exactly(0.0)}
    mine = known.facts.value(thing, "across")
    to_it = _legs_to(known, thing)
    for leg in to_it:
        pull = known.figure(leg, "sideways", leg.path, within=NOUGHT_OR_MORE)
        bridle = known.around(leg, "bridle")
        apex = known.facts.value(bridle, "apex_across")
        legs = known.facts.part(bridle, "legs")
        in_line = isinstance(legs, tuple) and len(legs) == 2
        known_side = (
            isinstance(apex, Spot) and isinstance(mine, Spot) and apex.from_centre == mine.from_centre
        )
        if in_line and known_side:
            assert isinstance(apex, Spot)
            assert isinstance(mine, Spot)
            left = apex.distance.low > mine.distance.low
            towards[left] = towards[left] + pull
            continue
        if in_line:
            # Nobody says to which side it pulls: to either.
            known.loose.append(Missing(bridle, "apex_across"))
            least = 0.0
        else:
            least = pull.low if len(to_it) == 1 else 0.0
        towards = {side: so_far + Bounds(least, pull.high) for side, so_far in towards.items()}
    known.settle()
    known.suppose("legs that pull the other way are not counted against it")
    most = greatest_of(towards.values())
    return known.within(most, "bridle-two-leg", "sum of level pulls towards one side", FORCE, _STATICS)
