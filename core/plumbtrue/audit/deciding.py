"""Where to look in the files for what decided an outcome: the most telling thing that a person wrote.

Of a finding, that is a recorded fact that made what the rule asks fail; of a computed figure, a recorded one
among what it was computed from. Of what cannot be told, it is what is recorded too vaguely, else what raises
the question. Words written for the very thing tell more than those lent by a typical thing, and where nobody
wrote anything that decides, the thing itself is pointed at, as it is written in its set.
"""

from collections.abc import Iterable, Iterator
from typing import Final

from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.documents.place import Place
from plumbtrue.facts.answer import Answer
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.thing import Recorded, Thing
from plumbtrue.rules.judging import Workings
from plumbtrue.rules.language.meaning import All, Any, FactOf, Quantification
from plumbtrue.rules.language.results import Evaluated


@unchanging
class Whereabouts:
    """Where to look, and where that was written if it is only used there."""

    place: Place
    """In the set, or in the house: where it is written, or where it took effect."""
    lent_from: Place | None = None
    """Where it is written, when a typical thing lends it or an alias repeats it."""

    def __str__(self) -> str:
        return str(self.place) if self.lent_from is None else f"{self.place}, written at {self.lent_from}"


def whereabouts(outcome: Outcome, found: Workings | None = None) -> Whereabouts:
    """Where to look for what decided an outcome.

    Args:
        found: how the outcome came about; without it, a finding points at its thing.
    """
    told: list[Whereabouts] = []
    if outcome.result is Result.FINDING and found is not None:
        told = _decisive(found)
    elif outcome.result is Result.UNDETERMINED:
        vague = (missing.thing.facts.get(missing.fact) for missing in outcome.missing)
        told = [_at(recorded.place, recorded.used) for recorded in vague if recorded is not None]
        if not told and found is not None and found.requires is not None and found.applies is not None:
            # What is asked for is written nowhere: what raises the question may be, for this very thing.
            told = [one for one in _deciding(found.applies) if not _is_lent(one)]
    return min(told, key=_is_lent, default=whereabouts_of(outcome.thing))


def whereabouts_of(thing: Thing) -> Whereabouts:
    """Where a thing is written, or where its typical thing is used."""
    return _at(thing.place, thing.used)


def _at(place: Place, used: Place | None) -> Whereabouts:
    return Whereabouts(place) if used is None else Whereabouts(used, place)


def _is_lent(one: Whereabouts) -> bool:
    return one.lent_from is not None


def _decisive(found: Workings) -> list[Whereabouts]:
    """What somebody wrote and what made the rule's demand fail; else what made the rule apply."""
    for claim in (found.requires, found.applies):
        told = [] if claim is None else list(_deciding(claim))
        if told:
            return told
    return []


def _deciding(found: Evaluated) -> Iterator[Whereabouts]:
    """What stands behind an answer, in the order of the rule, without clauses and members that came out
    otherwise.
    """
    meaning = found.meaning
    if isinstance(meaning, FactOf):
        yield from _fact(found, meaning)
    elif isinstance(meaning, Quantification):
        several, *asked = found.parts
        deciding = [part for part in asked if part.value is found.value]
        told = [one for part in deciding for one in _of_member(part)]
        yield from told or _deciding(several)
    else:
        parts = found.parts
        if isinstance(meaning, All | Any):
            parts = tuple(part for part in parts if part.value is found.value) or parts
        for part in parts:
            yield from _deciding(part)


def _of_member(part: Evaluated) -> Iterator[Whereabouts]:
    """Of one of several things: what is written of it, else the thing itself."""
    told = list(_deciding(part))
    if not told and part.member is not None and isinstance(part.member.value, Thing):
        told = [whereabouts_of(part.member.value)]
    yield from told


def _fact(found: Evaluated, meaning: FactOf) -> Iterator[Whereabouts]:
    """Where a fact is written; of a computed one, where that is written which it was computed from."""
    if found.answer is not None:
        recorded: Iterable[Recorded | None] = _behind(found.answer)
    else:
        recorded = [found.thing.facts.get(meaning.fact.name)] if found.thing is not None else []
    yield from (_at(one.place, one.used) for one in recorded if one is not None)


_ORIGINS: Final = ("written", "like", "asked")
"""What is in order by a statement is written nowhere near the thing."""


def _behind(answer: Answer) -> Iterator[Recorded]:
    """The nearest first."""
    if answer.recorded is not None:
        yield from _told(answer.recorded)
        return
    waiting = [] if answer.working is None else [answer.working]
    met: set[int] = set()
    while waiting:
        working = waiting.pop(0)
        if id(working) in met:
            continue
        met.add(id(working))
        for one in working.inputs:
            if one.recorded is not None:
                yield from _told(one.recorded)
            elif one.working is not None:
                waiting.append(one.working)


def _told(recorded: Recorded) -> Iterator[Recorded]:
    if recorded.origin in _ORIGINS:
        yield recorded
