"""From an audit with a plot to the show, item by item: which pieces hang as asked, and what stands against the
others.

Of a piece that does not hang only what stops it is told; whatever else was found on it is counted behind the
stop, and told in the report.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Final

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.item_verdicts import (
    ItemState,
    ItemVerdict,
    People,
    behind_set,
    item_verdicts,
    whole_matters,
)
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.audit.show_rules import facts_of
from plumbtrue.audit.since_accepted import OF_A_COMPARISON, since_accepted
from plumbtrue.audit.verdicts import State, Verdict
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.values import Name
from plumbtrue.reporting.grouping import missing_in_words, rule_anchor, set_anchor
from plumbtrue.reporting.places_in_words import name_of, where
from plumbtrue.reporting.show_report import Advice, ShowItem, ShowLine, ShowReason, ShowReport
from plumbtrue.reporting.wording import (
    STATE_LABELS,
    STATE_SIGNS,
    counted,
    listed,
    marks,
    sentence,
)
from plumbtrue.rig.laying import DECK
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.packs.pack import RuleBook
from plumbtrue.rules.severity import Severity

Advise = Callable[[ItemVerdict], Advice]
"""What would settle a piece, in words."""

ITEM_LABELS: Final = {
    ItemState.DOES_NOT_HANG: "Does not hang",
    ItemState.WITH_CHANGES: "Hangs with changes",
    ItemState.CANNOT_BE_TOLD: "Cannot be told",
    ItemState.AS_ASKED: "Hangs as asked",
}
ITEM_MEANINGS: Final = {
    ItemState.DOES_NOT_HANG: "do not hang it, do not fly it, do not stand under it",
    ItemState.WITH_CHANGES: "something must be put right before it is used",
    ItemState.CANNOT_BE_TOLD: "nobody knows enough to say",
    ItemState.AS_ASKED: "these rules found nothing that must be done first",
}
STATE_OF_ITEM: Final = {
    ItemState.DOES_NOT_HANG: State.OUT_OF_SERVICE,
    ItemState.WITH_CHANGES: State.BEFORE_NEXT_USE,
    ItemState.CANNOT_BE_TOLD: State.CANNOT_BE_TOLD,
    ItemState.AS_ASKED: State.NOTHING_FOUND,
}
ITEM_SIGNS: Final = {state: STATE_SIGNS[its] for state, its in STATE_OF_ITEM.items()}
ITEM_CSS: Final = {state: f"state-{its.value}" for state, its in STATE_OF_ITEM.items()}
"""Each state of a piece in the shape and colour of the state of a set that asks for the same."""

_BY_WHEN: Final = {
    Severity.OUT_OF_SERVICE: "out of service",
    Severity.BEFORE_NEXT_USE: "before the next use",
}
_CANNOT: Final = "cannot be told"
_MOST_MISSING: Final = 3


def show_of(audit: Audit, facts: Facts, advise: Advise | None = None) -> ShowReport | None:
    """The show of an audit; nothing where no plot was laid.

    Args:
        advise: what would settle a piece; costs many judgements of each.
    """
    if audit.show is None:
        return None
    verdicts = item_verdicts(audit, facts)
    words = Words(audit)
    items = tuple(words.item(one, advise(one) if advise is not None else None) for one in verdicts)
    lines = tuple(_line(state, verdicts) for state in ItemState)
    lines = tuple(line for line in lines if line.items)
    stops, changes, open_ones = whole_matters(audit)
    apart = tuple(one for one in (*stops, *changes, *open_ones) if one.rule in _of_a_comparison(audit))
    stops, changes, open_ones = (
        tuple(one for one in its if one not in apart) for its in (stops, changes, open_ones)
    )
    lacking = tuple(words.lacking())
    whole = tuple(reason for its in (stops, changes, open_ones, apart) for reason in words.reasons(its))
    whole += lacking
    of_whole = [
        f"{counted(count, 'matter')} of the whole {verb}"
        for count, verb in (
            (len(stops), "stops it" if len(stops) == 1 else "stop it"),
            (len(changes), "to be put right before use"),
            (len(open_ones) + len(lacking), "cannot be told"),
        )
        if count
    ]
    told = [line.text for line in lines] + [sentence(listed(of_whole))] * bool(of_whole)
    if any(one.result is Result.FINDING for one in apart):
        told += _since_accepted(audit, words.facts)
    order = sorted(items, key=lambda one: one.state.rank)
    return ShowReport(
        title=title_of(audit.show.plot, facts),
        lines=lines,
        sentence=" ".join(told),
        items=items,
        gravest_first=tuple(one for one in order if one.state is not ItemState.AS_ASKED),
        whole=whole,
    )


def _of_a_comparison(audit: Audit) -> frozenset[str]:
    """Rules about what was changed since an earlier revision was accepted: told apart, since each piece is judged by
    itself already.
    """
    return frozenset(
        rule.slug
        for rule in audit.rulebook.rules
        if any(one.name in OF_A_COMPARISON for one in facts_of(rule.understood))
    )


def _since_accepted(audit: Audit, facts: Facts) -> list[str]:
    """How many pieces are other than in the revision that was accepted, as a sentence."""
    since = since_accepted(audit.rig, facts)
    if since is None or audit.show is None:
        return []
    revision = facts.value(audit.show.plot, "accepted_revision")
    counts = [
        f"{len(its)} {verb}"
        for its, verb in ((since.changed, "changed"), (since.new, "new"), (since.cut, "cut"))
        if its
    ]
    named = f"revision {revision.text}" if isinstance(revision, Name) else "the revision"
    return [f"Against {named}, which was accepted, of the items {listed(counts)}: not accepted yet."]


def title_of(plot: Thing, facts: Facts) -> str:
    """The show and its revision."""
    show, revision = (facts.value(plot, name) for name in ("show", "revision"))
    named = show.text if isinstance(show, Name) else "a show without a name"
    return f"{named}, revision {revision.text}" if isinstance(revision, Name) else f"{named}, no revision"


def _line(state: ItemState, verdicts: Iterable[ItemVerdict]) -> ShowLine:
    """Each piece counts once; of one that hangs with changes it is said as well where not all can be told."""
    everything = tuple(verdicts)
    keys = [one.key for one in everything if one.state is state]
    open_too = [one.key for one in everything if one.also_open] if state is ItemState.CANNOT_BE_TOLD else []
    of_those = f"{marks(open_too)}, which {'hangs' if len(open_too) == 1 else 'hang'} with changes"
    pieces = counted(len(keys), "item")
    one = len(keys) == 1
    text = {
        ItemState.DOES_NOT_HANG: f"{pieces} {'does' if one else 'do'} not hang ({marks(keys)}).",
        ItemState.WITH_CHANGES: f"{pieces} {'hangs' if one else 'hang'} with changes ({marks(keys)}).",
        ItemState.CANNOT_BE_TOLD: f"{pieces} cannot be told ({marks(keys)})"
        + (f", nor all of {of_those}." if open_too else "."),
        ItemState.AS_ASKED: f"On {pieces} nothing that must be done first was found.",
    }[state]
    return ShowLine(
        state=state,
        label=ITEM_LABELS[state],
        sign=ITEM_SIGNS[state],
        css=ITEM_CSS[state],
        meaning=ITEM_MEANINGS[state] + (f"; nor is all known of {of_those}" if open_too else ""),
        items=tuple((key, item_anchor(key)) for key in keys),
        text=text,
    )


def item_anchor(key: str) -> str:
    """Where a piece stands in a page."""
    return "item-" + set_anchor(key).removeprefix("set-")


class Words:
    """Pieces and what stands against them, in words."""

    def __init__(self, audit: Audit) -> None:
        self.audit = audit
        self.book: RuleBook = audit.rulebook
        self.facts = Facts(audit.rig, audit.on, audit.further)

    def item(self, verdict: ItemVerdict, advice: Advice | None = None) -> ShowItem:
        """One piece."""
        reasons = tuple(self.against(verdict))
        name = self.facts.value(verdict.item, "name")
        called = name.text if isinstance(name, Name) else ""
        on_set = verdict.set_verdict is not None
        more = len(reasons) - 1
        why = reasons[0].text if reasons else ITEM_MEANINGS[ItemState.AS_ASKED]
        return ShowItem(
            key=verdict.key,
            anchor=item_anchor(verdict.key),
            name=called,
            title=f"{verdict.key}, {called}" if called else verdict.key,
            on=self.carrier(verdict),
            set_anchor=set_anchor(verdict.carrier.key) if on_set and verdict.carrier is not None else "",
            state=verdict.state,
            label=ITEM_LABELS[verdict.state],
            sign=ITEM_SIGNS[verdict.state],
            css=ITEM_CSS[verdict.state],
            why=f"{why} And {more} more." if more > 0 else why,
            reasons=reasons,
            behind=_behind(verdict),
            remarks=self._remarks(verdict),
            advice=advice.lines if advice is not None else (),
            advised=advice,
            location=verdict.item.place,
            severity=verdict.state.severity,
            path=verdict.item.path,
        )

    def carrier(self, verdict: ItemVerdict) -> str:
        """What a piece hangs on."""
        if verdict.carrier is not None:
            on_set = verdict.set_verdict is not None
            return f"set {verdict.carrier.key}" if on_set else name_of(verdict.carrier)
        on = self.facts.value(verdict.item, "on")
        if on == Name(DECK):
            return "the deck"
        return on.text if isinstance(on, Name) else "nobody says where"

    def lacking(self) -> Iterator[ShowReason]:
        """What the plot names beside its pieces and this house does not have."""
        named: dict[tuple[str, str], list[Thing]] = {}
        for thing, problem in self.audit.rig.not_in_house:
            if thing.kind.name != "item":
                named.setdefault((problem.what, problem.instead), []).append(thing)
        for (what, instead), things in named.items():
            by = listed([name_of(one) for one in things])
            text = f"{what}; in the plot it is named by {by}; {instead}"
            yield ShowReason(sentence(text), "", "", "", _CANNOT)

    def against(self, verdict: ItemVerdict) -> Iterator[ShowReason]:
        """What stands against a piece; of one that does not hang only what stops it."""
        if verdict.state is ItemState.AS_ASKED:
            return
        own = [_own(one) for one in verdict.own_reasons]
        if verdict.people is not People.NOBODY:
            yield from own
            own = []
        if verdict.state is ItemState.DOES_NOT_HANG:
            yield from self.reasons(verdict.stopped_by)
            yield from self._of_set(verdict, State.OUT_OF_SERVICE)
            yield from self._found_on_set(verdict, Severity.OUT_OF_SERVICE)
            yield from own
            return
        yield from self.reasons(verdict.changes)
        yield from self._of_set(verdict, State.BEFORE_NEXT_USE)
        yield from self._found_on_set(verdict, Severity.BEFORE_NEXT_USE)
        yield from self._of_set(verdict, State.CANNOT_BE_TOLD)
        yield from self._open(verdict)
        yield from own
        told = " ".join(verdict.own_reasons)
        yield from (
            _own(one.why if " " in one.why else f"{one.fact}: {one.why}")
            for one in verdict.unsettled
            if one.why not in told and one.fact != "on"
        )

    def _found_on_set(self, verdict: ItemVerdict, severity: Severity) -> Iterator[ShowReason]:
        """What the house by itself found on the set of a piece, in sentences, where it stands against the piece."""
        its = verdict.set_verdict
        grave = its is not None and its.state in (State.OUT_OF_SERVICE, State.BEFORE_NEXT_USE)
        if (
            its is None
            or not grave
            or (severity is Severity.OUT_OF_SERVICE) is not (its.state is State.OUT_OF_SERVICE)
        ):
            return
        yield from self.reasons(
            one for one in behind_set(self.audit, its.thing, [severity]) if one.result is Result.FINDING
        )

    def _open(self, verdict: ItemVerdict) -> Iterator[ShowReason]:
        """What cannot be told of a piece. What waits for nothing but the answers about its set is counted alone."""
        of_set = verdict.set_verdict
        waits_for: set[tuple[Thing, str]] = set()
        if of_set is not None and of_set.state is State.CANNOT_BE_TOLD:
            waits_for = {
                (lack.thing, lack.fact)
                for one in behind_set(self.audit, of_set.thing)
                for lack in one.missing
            }
        waiting: list[Outcome] = []
        others: list[Outcome] = []
        for one in verdict.open_ones:
            asked = {(lack.thing, lack.fact) for lack in one.missing if lack.thing.line_set is not None}
            (waiting if asked and asked <= waits_for else others).append(one)
        yield from self.reasons(others)
        rules = list(dict.fromkeys(one.rule for one in waiting))
        if rules:
            yield ShowReason(f"Waiting for the same answers: {listed(rules)}.", "", "", "", _CANNOT)

    def _of_set(self, verdict: ItemVerdict, state: State) -> Iterator[ShowReason]:
        """What the house by itself says of its set, in one line."""
        its = verdict.set_verdict
        if its is None or its.state is not state:
            return
        told = verdict.stopped_by if state is State.OUT_OF_SERVICE else verdict.changes
        if state is not State.CANNOT_BE_TOLD and any(one.rule in verdict.echoes for one in told):
            return
        rules = dict.fromkeys(
            one.rule
            for one in behind_set(self.audit, its.thing)
            if (one.result is Result.FINDING) is (state is not State.CANNOT_BE_TOLD)
            and (state is not State.OUT_OF_SERVICE or one.severity is Severity.OUT_OF_SERVICE)
        )
        named = [*(["its tag"] if its.tagged_out else []), *rules]
        by = f" ({', '.join(named)})" if named else ""
        said = {
            State.OUT_OF_SERVICE: f"Set {its.key} is out of service{by}.",
            State.BEFORE_NEXT_USE: f"Set {its.key} needs work before its next use{by}.",
            State.CANNOT_BE_TOLD: f"Whether set {its.key} may be used cannot be told{by}.{self._not_known(its)}",
        }[state]
        yield ShowReason(said, "", "", "", STATE_LABELS[state].lower())

    def _not_known(self, its: Verdict) -> str:
        """What is not known of a set, behind its gravest question."""
        open_ones = [one for one in behind_set(self.audit, its.thing) if one.missing]
        gravest = [
            one
            for one in open_ones
            if one.rule == open_ones[0].rule and one.severity is open_ones[0].severity
        ]
        asked = dict.fromkeys(
            f"{lack.fact.replace('_', ' ')} of the {lack.thing.kind.word.replace('-', ' ')}: {lack.why}"
            for one in gravest
            for lack in one.missing
        )
        more = f"; and {len(asked) - _MOST_MISSING} more" if len(asked) > _MOST_MISSING else ""
        return f" Not known: {'; '.join(list(asked)[:_MOST_MISSING])}{more}." if asked else ""

    def reasons(self, outcomes: Iterable[Outcome]) -> tuple[ShowReason, ...]:
        """Outcomes in words; what is said alike of several things is told once, and so is a rule that cannot
        tell of several.
        """
        alike: dict[tuple[str, str, str], list[Outcome]] = {}
        for one in outcomes:
            found = one.result is Result.FINDING
            alike.setdefault((one.rule, one.message if found else "", one.remedy), []).append(one)
        return tuple(self._reason(its) for its in alike.values())

    def _reason(self, its: Sequence[Outcome]) -> ShowReason:
        first = its[0]
        anchor = rule_anchor(first.rule)
        if first.result is Result.FINDING:
            when = _BY_WHEN.get(first.severity, "")
            return ShowReason(sentence(first.message), sentence(first.remedy), first.rule, anchor, when)
        rule = self.book.rule(first.rule)
        title = rule.title if rule is not None else first.rule
        asked = dict.fromkeys(
            missing_in_words(one.thing, lack.thing, lack.fact, lack.why)
            for one in its
            for lack in one.missing
        )
        more = len(asked) - _MOST_MISSING
        named = "; ".join(list(asked)[:_MOST_MISSING]) + (f"; and {more} more" if more > 0 else "")
        about = _about([one.thing for one in its])
        if first.result is Result.ERROR:
            said = f"{title}{about}: {first.message}"
        else:
            said = f"{title}{about}? " + (f"Not known: {named}" if named else first.message)
        return ShowReason(sentence(said), "", first.rule, anchor, _CANNOT)

    def _remarks(self, verdict: ItemVerdict) -> str:
        rules = list(dict.fromkeys(one.rule for one in verdict.remarks))
        return f"to know, or for later: {listed(rules)}" if rules else ""


def _about(things: Sequence[Thing]) -> str:
    """Of what something is asked, in brackets; nothing for the piece or the plot itself."""
    if things[0].kind.name in ("item", "plot", "house"):
        return ""
    line_set = things[0].line_set
    inside = line_set if all(one.line_set is line_set for one in things) else None
    on = f" of set {line_set.key}" if inside is not None and line_set is not None else ""
    return f" ({where(things, inside)}{on})"


def _own(text: str) -> ShowReason:
    return ShowReason(sentence(text), "", "", "", "")


def _behind(verdict: ItemVerdict) -> str:
    """What else was found on a piece that does not hang."""
    if verdict.state is not ItemState.DOES_NOT_HANG:
        return ""
    parts = [
        counted(len({one.rule for one in its}), word)
        for its, word in ((verdict.changes, "other finding"), (verdict.open_ones, "open question"))
        if its
    ]
    return f"behind the stop: {listed(parts)}" if parts else ""
