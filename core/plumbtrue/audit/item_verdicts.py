"""What a show's plot comes to, piece by piece: hangs as asked, hangs with changes, does not hang, cannot be told.

A piece can hang no better than what carries it: what the rules of the house say of its set counts for the
piece too, told once for the set. Where somebody is to be carried, the piece is stopped here whatever the
rules say; and who is on it must be known before anything else is.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from enum import Enum

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.audit.people_first import carries_somebody
from plumbtrue.audit.show_rules import OF_THE_AUDIT, facts_of
from plumbtrue.audit.verdicts import State, Verdict, line_set_of
from plumbtrue.facts.answer import Missing
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import NONE, Absent, Name
from plumbtrue.rig.laying import DECK
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.severity import URGENT, Severity

_LOOKED = (Result.MET, Result.FINDING, Result.UNDETERMINED, Result.ERROR)
_STOPS = (
    "somebody is to be on it, in it or attached to it: nobody may be lifted on the strength of this check"
)
_NOBODY_ASKED = "whether anybody is on it, in it or attached to it"
_WORDS = "nobody is said to be on it, but its name or notes speak of somebody"


class ItemState(Enum):
    """Whether a piece hangs as the plot asks; gravest first."""

    DOES_NOT_HANG = "does-not-hang"
    WITH_CHANGES = "hangs-with-changes"
    CANNOT_BE_TOLD = "cannot-be-told"
    AS_ASKED = "hangs-as-asked"

    @property
    def rank(self) -> int:
        """0 for the gravest."""
        return list(ItemState).index(self)

    @property
    def severity(self) -> Severity | None:
        """What it asks for, as a rule would; nothing of a piece that hangs as asked."""
        if self is ItemState.AS_ASKED:
            return None
        return Severity.OUT_OF_SERVICE if self is ItemState.DOES_NOT_HANG else Severity.BEFORE_NEXT_USE


class People(Enum):
    """Whether a plot puts anybody on a piece."""

    NOBODY = "nobody"
    SOMEBODY = "somebody"
    NOT_KNOWN = "not known"


@unchanging
class ItemVerdict:
    """The verdict on one piece, with all that makes it."""

    item: Thing
    key: str
    """As the plot writes it."""
    state: ItemState
    carrier: Thing | None
    """The set, truss, point or bridle that it hangs on; nothing for one that stands, or hangs nobody knows
    where.
    """
    people: People
    stopped_by: tuple[Outcome, ...]
    changes: tuple[Outcome, ...]
    """What must be put right before it is used."""
    open_ones: tuple[Outcome, ...]
    """What cannot be told, of rules that would stop it or ask for a change."""
    remarks: tuple[Outcome, ...]
    """What can wait, or is good to know."""
    set_verdict: Verdict | None
    """What the house by itself says of its set."""
    own_reasons: tuple[str, ...]
    """What no rule says: that somebody is on it, that nobody says where it hangs, that no rule looked at it."""
    unsettled: tuple[Missing, ...] = ()
    """Facts behind those, that somebody has to find out."""
    echoes: frozenset[str] = frozenset()
    """Rules that tell of a piece what the house says of its set."""

    @property
    def also_open(self) -> bool:
        """Whether something of a piece that hangs with changes cannot be told either."""
        return self.state is ItemState.WITH_CHANGES and self._cannot_tell

    @property
    def _cannot_tell(self) -> bool:
        of_set = self.set_verdict is not None and self.set_verdict.state is State.CANNOT_BE_TOLD
        return bool(self.open_ones or self.unsettled) or of_set


def item_verdicts(audit: Audit, facts: Facts | None = None) -> tuple[ItemVerdict, ...]:
    """A verdict for each piece of the plot that was laid over the house, as people count them.

    Nothing where no plot was laid.
    """
    if audit.show is None:
        return ()
    known = facts or Facts(audit.rig, audit.on, audit.further)
    about_shows = frozenset(rule.slug for rule in audit.of_show)
    echoes = echoes_of(audit)
    return tuple(
        _verdict(audit, key, verdict.thing, known, about_shows, echoes)
        for key, verdict in audit.show.items.items()
    )


def echoes_of(audit: Audit) -> frozenset[str]:
    """Rules that tell of a piece what the house says of its set."""
    return frozenset(
        rule.slug
        for rule in audit.of_show
        if any(one.name in OF_THE_AUDIT for one in facts_of(rule.understood))
    )


def _verdict(
    audit: Audit,
    key: str,
    item: Thing,
    facts: Facts,
    about_shows: frozenset[str],
    echoes: frozenset[str],
) -> ItemVerdict:
    show = audit.show
    assert show is not None, "verdicts on pieces are asked only where a plot is laid"
    # A rule that looks at any shackle says nothing of a load: only rules about shows look at a piece.
    looked_at = any(one.rule in about_shows and one.result in _LOOKED for one in show.of_item[key])
    asking = [one for one in show.of_item[key] if one.counts]
    on = item.references.get("on")
    carrier = on if isinstance(on, Thing) else None
    of_set = None
    if carrier is not None and carrier.kind.name == "line_set":
        of_set = show.house_verdicts[carrier.key]
    people, reasons, unsettled = _people(facts, item)
    not_there = [problem for thing, problem in audit.rig.not_in_house if thing is item]
    if not_there:
        reasons += [f"{_no_such(facts, item)}: {one.instead}" for one in not_there]
    elif carrier is None and facts.value(item, "on") != Name(DECK):
        reasons.append("where it hangs is not written")
        unsettled.append(Missing(item, "on"))
    if not looked_at:
        reasons.append("no rule about shows looked at it")
    found = [one for one in asking if one.result is Result.FINDING]
    told = ItemVerdict(
        item=item,
        key=key,
        state=ItemState.AS_ASKED,
        carrier=carrier,
        people=people,
        stopped_by=_by_urgency(one for one in found if one.severity is Severity.OUT_OF_SERVICE),
        changes=_by_urgency(one for one in found if one.severity is Severity.BEFORE_NEXT_USE),
        open_ones=_by_urgency(
            one
            for one in asking
            if one.result is not Result.FINDING
            and one.severity.is_urgent
            and not (one.rule in echoes and _says_enough(of_set))
        ),
        remarks=_by_urgency(one for one in found if not one.severity.is_urgent),
        set_verdict=of_set,
        own_reasons=tuple(reasons),
        unsettled=tuple(unsettled),
        echoes=echoes,
    )
    if not_there:
        return replace(told, state=ItemState.DOES_NOT_HANG)
    return _with_state(told, looked_at=looked_at)


def _no_such(facts: Facts, item: Thing) -> str:
    """That there is nothing by the name of what a piece is to hang on."""
    named = facts.value(item, "on")
    return f"this house has no set {named.text}" if isinstance(named, Name) else "this house has no such set"


def _says_enough(of_set: Verdict | None) -> bool:
    """Whether the verdict on a set speaks for the set already: an open question about a set counts once, and
    behind work that is to be done there first.
    """
    return of_set is not None and of_set.state not in (State.NOTHING_FOUND, State.NEXT_MAINTENANCE)


def _with_state(told: ItemVerdict, *, looked_at: bool) -> ItemVerdict:
    of_set = told.set_verdict.state if told.set_verdict is not None else State.NOTHING_FOUND
    if told.stopped_by or told.people is People.SOMEBODY or of_set is State.OUT_OF_SERVICE:
        return replace(told, state=ItemState.DOES_NOT_HANG)
    if told.changes or of_set is State.BEFORE_NEXT_USE:
        return replace(told, state=ItemState.WITH_CHANGES)
    if told.open_ones or told.unsettled or of_set is State.CANNOT_BE_TOLD or not looked_at:
        return replace(told, state=ItemState.CANNOT_BE_TOLD)
    return told


def people_on(facts: Facts, item: Thing) -> People:
    """Whether a plot puts anybody on a piece; nobody only where it says so and nothing speaks against it."""
    return _people(facts, item)[0]


def _people(facts: Facts, item: Thing) -> tuple[People, list[str], list[Missing]]:
    """Whether anybody is on a piece; nobody only where the plot says so and nothing speaks against it."""
    if carries_somebody(facts, item):
        return People.SOMEBODY, [_STOPS], []
    if not isinstance(facts.value(item, "people"), Absent):
        return People.NOT_KNOWN, [], [Missing(item, "people", f"{_NOBODY_ASKED} is not written")]
    if facts.value(item, "people_words") is not NONE:
        return People.NOT_KNOWN, [_WORDS], [Missing(item, "people", _WORDS)]
    return People.NOBODY, [], []


def _by_urgency(outcomes: Iterable[Outcome]) -> tuple[Outcome, ...]:
    return tuple(sorted(outcomes, key=lambda one: (one.severity.rank, one.rule, one.thing.path)))


def behind_set(audit: Audit, line_set: Thing, severities: Sequence[Severity] = URGENT) -> tuple[Outcome, ...]:
    """What the rules of the house by themselves found, or cannot tell, about a set, the gravest first."""
    brought = set(map(id, audit.show.outcomes)) if audit.show is not None else set()
    return _by_urgency(
        one
        for one in audit.told
        if one.counts
        and one.severity in severities
        and id(one) not in brought
        and line_set_of(one.thing) is line_set
    )


def whole_matters(audit: Audit) -> tuple[tuple[Outcome, ...], tuple[Outcome, ...], tuple[Outcome, ...]]:
    """What concerns no single piece: what stops the show, what must be put right, and what cannot be told.

    What the house by itself finds on its fire curtain, bridges or floors stands against every show in it.
    """
    if audit.show is None:
        return (), (), ()
    of_pieces = {id(one) for outcomes in audit.show.of_item.values() for one in outcomes}
    mine = [
        one
        for one in audit.told
        if one.counts
        and one.severity.is_urgent
        and id(one) not in of_pieces
        and line_set_of(one.thing) is None
    ]
    found = [one for one in mine if one.result is Result.FINDING]
    return (
        _by_urgency(one for one in found if one.severity is Severity.OUT_OF_SERVICE),
        _by_urgency(one for one in found if one.severity is Severity.BEFORE_NEXT_USE),
        _by_urgency(one for one in mine if one.result is not Result.FINDING),
    )
