"""What somebody accepted, held against two revisions: a show's rigging by revision, and single findings until a
day. What was accepted for one revision says nothing of the other.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.matching import Matching
from plumbtrue.audit.outcome import Acceptance
from plumbtrue.audit.waivers import Waiver
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import Absent, Unknown
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.thing import Thing


class Accepts(Enum):
    """Which of two revisions an acceptance is of."""

    NEW = "new"
    OLD = "old"
    OTHER = "other"
    """Neither of the two."""
    TOO_EARLY = "too-early"
    """It names the new one and is older than its issue."""
    EITHER = "either"
    """Both go by the mark that it names, and they differ: nobody can say which was looked through."""


@dataclass(frozen=True, slots=True)
class ShowAcceptance:
    """An acceptance of a show's rigging, as one of the plots records it."""

    of: Accepts
    by: str
    on: str
    """The day, as written; empty where none is."""
    revision: str
    """The revision that it names; empty where it names none."""
    thing: Thing


def acceptances(was: Audit, now: Audit, matching: Matching) -> tuple[ShowAcceptance, ...]:
    """Who accepted what, by the records of both plots; one that both record is told once."""
    marks = revision_mark(was.rig), revision_mark(now.rig)
    issued = _day(now.rig.plot, "issued")
    found: list[ShowAcceptance] = []
    for rig in (now.rig, was.rig):
        for thing in rig.plot.members("accepted") if rig.plot is not None else ():
            if rig is was.rig and thing in matching.new_of:
                continue
            revision, on = _text(thing, "revision"), _day(thing, "on")
            early = issued is not None and on is not None and on.high + 1 <= issued.low
            of = _of(revision, marks, early=early)
            found.append(ShowAcceptance(of, _text(thing, "by"), _text(thing, "on"), revision, thing))
    return tuple(sorted(found, key=lambda one: (list(Accepts).index(one.of), natural_order(one.thing.path))))


def _of(revision: str, marks: tuple[str, str], *, early: bool) -> Accepts:
    if revision and revision == marks[0] == marks[1]:
        return Accepts.EITHER
    if revision and revision == marks[1]:
        return Accepts.TOO_EARLY if early else Accepts.NEW
    return Accepts.OLD if revision and revision == marks[0] else Accepts.OTHER


def revision_mark(rig: Rig) -> str:
    """The mark of a plot's revision as written; empty where there is none."""
    return "" if rig.plot is None else _text(rig.plot, "revision")


def _text(thing: Thing, name: str) -> str:
    """A fact as somebody wrote it; empty where nobody did."""
    recorded = thing.facts.get(name)
    return "" if recorded is None or isinstance(recorded.value, Absent | Unknown) else recorded.text


def _day(thing: Thing | None, name: str) -> Bounds | None:
    recorded = thing.facts.get(name) if thing is not None else None
    return recorded.value if recorded is not None and isinstance(recorded.value, Bounds) else None


class Covers(Enum):
    """What an acceptance of a single finding comes to in one revision."""

    COVERS = "covers"
    RUN_OUT = "run-out"
    WORSE = "worse"
    """What is found there is worse than what was accepted."""
    NOTHING = "nothing"
    """There is nothing there to accept."""


@dataclass(frozen=True, slots=True)
class WaiverChange:
    """An acceptance of one finding that comes to something else in the new revision than in the old one."""

    waiver: Waiver
    before: Covers
    after: Covers

    @property
    def is_for_the_worse(self) -> bool:
        """Whether what it covered counts now."""
        return self.before is Covers.COVERS and self.after is Covers.WORSE


def waiver_changes(was: Audit, now: Audit) -> tuple[WaiverChange, ...]:
    """Acceptances of single findings that cover something else now, in the order of their files."""
    return tuple(_waiver_changes(was, now))


def _waiver_changes(was: Audit, now: Audit) -> Iterator[WaiverChange]:
    marks = _marks(was), _marks(now)
    for waiver in now.waivers:
        before, after = (_covers(waiver, its) for its in marks)
        if before is not after:
            yield WaiverChange(waiver, before, after)


def _marks(audit: Audit) -> dict[str, Acceptance]:
    return {one.acceptance.key: one.acceptance for one in audit.outcomes if one.acceptance is not None}


def _covers(waiver: Waiver, marks: dict[str, Acceptance]) -> Covers:
    mark = marks.get(waiver.key)
    if mark is None:
        return Covers.NOTHING
    if mark.expired:
        return Covers.RUN_OUT
    return Covers.WORSE if mark.worse else Covers.COVERS
