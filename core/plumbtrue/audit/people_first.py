"""Where somebody is to be on a piece nothing about it is told to be met, and nothing more is asked.

A load that comes out well would read as leave to lift a person. What stands against the piece is still told.
"""

from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.audit.show import pieces_of
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.values import Choice
from plumbtrue.rig.thing import Thing

_WOULD_PERMIT: Final = (Result.MET, Result.UNDETERMINED)


def carries_somebody(facts: Facts, item: Thing) -> bool:
    """Whether a plot says for certain that somebody is on a piece, in it or attached to it."""
    value = facts.value(item, "people")
    return isinstance(value, Choice) and not value.may_be_none


def nothing_met_with_people(facts: Facts, plot: Thing, by_show: Iterable[Outcome]) -> list[Outcome]:
    """Outcomes about a show, with none of those that could be read as leave to lift a person."""
    carrying = {item for item in plot.members("items") if carries_somebody(facts, item)}
    outcomes = list(by_show)
    if not carrying:
        return outcomes
    about: dict[Thing, bool] = {}
    found: list[Outcome] = []
    for one in outcomes:
        if one.result in _WOULD_PERMIT:
            if one.thing not in about:
                about[one.thing] = not carrying.isdisjoint(pieces_of(facts, plot, one.thing))
            if about[one.thing]:
                why = "somebody is to be on it, and nothing is judged as if that might be"
                one = replace(one, result=Result.NOT_APPLICABLE, message=why, missing=(), values=())
        found.append(one)
    return found
