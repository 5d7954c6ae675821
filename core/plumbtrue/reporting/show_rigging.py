"""What a show hangs, as it can be drawn: bridles as they hang, and how a set stands after each step of a load-in.

A bridle is drawn from what is written: level run and rise of two legs, else the places of points and apex. What
nobody wrote is not drawn; its figures are told all the same.
"""

from collections.abc import Iterator
from math import copysign
from typing import Final

from plumbtrue.audit.auditing import Audit
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import Spot, Value
from plumbtrue.quantities.writing import System
from plumbtrue.reporting.load_in import lock_limit, set_papers
from plumbtrue.reporting.places_in_words import name_of
from plumbtrue.reporting.report import BridleShown, LegShown, LoadIn
from plumbtrue.reporting.told_facts import Told
from plumbtrue.reporting.wording import sentence
from plumbtrue.rig.thing import Thing

"""Its limit is what a rope lock is trusted with in this house."""


def bridles_of(audit: Audit, facts: Facts, system: System) -> Iterator[BridleShown]:
    """Every bridle of the plot that was laid."""
    told = Told(facts, system)
    plot = audit.rig.plot
    for bridle in plot.members("bridles") if plot is not None else ():
        legs = bridle.members("legs")
        yield BridleShown(
            title=sentence(name_of(bridle)).rstrip("."),
            load=told.text(bridle, "load"),
            level=told.text(bridle, "horizontal"),
            between=told.text(bridle, "included_angle"),
            apex=told.text(bridle, "apex_height"),
            legs=tuple(_leg(told, bridle, leg, place, len(legs)) for place, leg in enumerate(legs)),
        )


def _leg(told: Told, bridle: Thing, leg: Thing, place: int, of: int) -> LegShown:
    point = leg.references.get("point") or leg.parts.get("point")
    point = point if isinstance(point, Thing) else None
    at = [_away(told.facts, bridle, point, *pair) for pair in _PLACES]
    if of == 2:
        run, rise = (_middle(told.facts.value(leg, name)) for name in ("horizontal", "rise"))
        side = at[0] or (-1.0 if place == 0 else 1.0)
        at = [at[0] if run is None else copysign(run, side), 0.0, at[2] if rise is None else rise]
    return LegShown(
        mark=str(place + 1),
        point="" if point is None else point.key,
        across=at[0],
        upstage=at[1],
        rise=at[2],
        pull=told.text(leg, "tension"),
        angle=told.text(leg, "angle"),
        run=told.text(leg, "horizontal") if "horizontal" in leg.facts else "",
        height=told.text(leg, "rise") if "rise" in leg.facts else "",
    )


_PLACES: Final = (
    ("apex_across", "across"),
    ("apex_from_plaster_line", "from_plaster_line"),
    ("apex_height", "height"),
)


def _away(facts: Facts, bridle: Thing, point: Thing | None, of_apex: str, of_point: str) -> float | None:
    """How far a point stands from the apex, one way [m]."""
    apex = _middle(facts.value(bridle, of_apex))
    there = None if point is None else _middle(facts.value(point, of_point))
    return None if apex is None or there is None else there - apex


def _middle(value: Value) -> float | None:
    """For drawing only: the middle of what is known."""
    bounds = value.distance if isinstance(value, Spot) else value
    if not isinstance(bounds, Bounds):
        return None
    middle = (bounds.low + bounds.high) / 2
    return middle if abs(middle) < 1e6 else None


def load_ins_of(audit: Audit, facts: Facts, system: System) -> Iterator[LoadIn]:
    """How each set stands after each step of its load-in, where its steps are told."""
    if audit.rig.plot is None:
        return
    lock, told = lock_limit(audit, system)
    for paper in set_papers(audit, facts):
        for order in paper.orders[:1]:
            yield LoadIn(paper.title, paper.anchor, order, lock, told)
