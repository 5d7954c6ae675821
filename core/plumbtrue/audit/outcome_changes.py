"""What became of each outcome between two audits: findings that appeared, grew worse, grew better or went
away, and questions that were opened or settled.

Outcomes are compared one by one, by rule and thing, never by their number or their wording. What cannot be
told any more is no improvement.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from typing import Final, Literal, cast

from plumbtrue.audit.auditing import Judged
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.audit.same_values import same_but_for_names, same_words
from plumbtrue.audit.verdicts import line_set_of
from plumbtrue.audit.worse_way import worse_way
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import Value
from plumbtrue.quantities.writing import System
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.judging import Judge, spoken_of
from plumbtrue.rules.packs.pack import RuleBook
from plumbtrue.rules.severity import Severity


class Turn(Enum):
    """What became of an outcome; the most dangerous first."""

    APPEARED = "appeared"
    WORSENED = "worsened"
    NO_LONGER_TOLD = "no-longer-told"
    """A finding whose facts are not known any more: nobody put it right."""
    QUESTION_OPENED = "question-opened"
    CHANGED = "changed"
    """Still a finding, with other values of which nobody can say that they are better."""
    UNCOVERED = "uncovered"
    """A finding that was there before, behind a graver one that told of it."""
    IMPROVED = "improved"
    QUESTION_SETTLED = "question-settled"
    WENT_AWAY = "went-away"

    @property
    def is_for_the_worse(self) -> bool:
        return self in (Turn.APPEARED, Turn.WORSENED)

    @property
    def is_open(self) -> bool:
        """Whether it cannot be told that it is no worse."""
        return self in (Turn.NO_LONGER_TOLD, Turn.QUESTION_OPENED, Turn.CHANGED)


@dataclass(frozen=True, slots=True)
class Moved:
    """A value that a rule looked at and that is another now."""

    name: str
    before: Value
    after: Value
    way: Literal["worse", "better", "cannot be told"]


@dataclass(frozen=True, slots=True)
class OutcomeChange:
    """One rule, one thing, and what became of what the rule said of it."""

    turn: Turn
    rule: str
    severity: Severity
    """The graver of both."""
    old: Outcome | None
    """Nothing where the thing or the rule was not there, or the rule asked nothing of it."""
    new: Outcome | None
    why: str
    """What became of it, in a few words."""
    values: tuple[Moved, ...] = ()

    @property
    def outcome(self) -> Outcome:
        """The outcome of the new revision if there is one."""
        outcome = self.new or self.old
        assert outcome is not None, "an outcome changes from something or to something"
        return outcome

    @property
    def thing(self) -> Thing:
        return self.outcome.thing

    @property
    def counts(self) -> bool:
        """Whether what there is now asks for something; what somebody accepted does not."""
        return self.new is not None and self.new.counts


_OPEN: Final = (Result.UNDETERMINED, Result.ERROR)
_TOLD: Final = (Result.FINDING, *_OPEN)

_SILENT: Final = "told by "
"""How an outcome begins of a rule that keeps silent, since a graver one tells of the same."""


@dataclass(frozen=True, slots=True)
class Ways:
    """How the things and rules of an older audit are found again in a newer one."""

    new_of: Mapping[Thing, Thing] | None
    """The newer thing of each older one; nothing where both audits are of the same rig."""
    names: Mapping[str, str]
    """New keys of renamed things by their old ones."""
    rules: Mapping[str, str]
    """Newer names of rules by their older ones, where they differ."""


def outcome_changes(old: Judged, new: Judged, ways: Ways) -> tuple[OutcomeChange, ...]:
    """What became of every outcome, the most dangerous first."""
    before: dict[tuple[str, Thing], Outcome] = {}
    found: list[OutcomeChange] = []
    compare = _Comparing(old, new, ways)
    for outcome in old.audit.outcomes:
        thing = outcome.thing if ways.new_of is None else ways.new_of.get(outcome.thing)
        if thing is not None:
            before[ways.rules.get(outcome.rule, outcome.rule), thing] = outcome
        elif outcome.result in _TOLD:
            found.append(compare.ended(outcome, None, "what it was about is gone"))
    for outcome in new.audit.outcomes:
        earlier = before.pop((outcome.rule, outcome.thing), None)
        change = compare.change(earlier, outcome)
        if change is not None:
            found.append(change)
    found += [
        compare.ended(outcome, None, "no rule looks at it any more")
        for outcome in before.values()
        if outcome.result in _TOLD
    ]
    return most_dangerous_first(found)


def most_dangerous_first(changes: Iterable[OutcomeChange]) -> tuple[OutcomeChange, ...]:
    """In order of danger: what is new or worse before what is better, the gravest first, then as people
    count.
    """
    return tuple(
        sorted(
            changes,
            key=lambda one: (
                not (one.turn.is_for_the_worse or one.turn.is_open),
                one.severity.rank,
                _TURNS[one.turn],
                not one.counts,
                *_set_order(one.thing),
                one.rule,
            ),
        )
    )


_TURNS: Final = {turn: place for place, turn in enumerate(Turn)}


def _set_order(thing: Thing) -> Sequence[object]:
    line_set = line_set_of(thing)
    return (line_set is None, natural_order(line_set.key if line_set else ""), natural_order(thing.path))


def rule_names(old: RuleBook, new: RuleBook) -> dict[str, str]:
    """Newer names of rules that were renamed, by their older ones."""
    known = {rule.slug for rule in new.rules}
    older = {rule.slug for rule in old.rules}
    names: dict[str, str] = {}
    for rule in new.rules:
        names |= {
            slug: rule.slug
            for slug in rule.formerly
            if slug in older and slug not in known and rule.slug not in older
        }
    for rule in old.rules:
        # The older book may be given as the newer one.
        for slug in rule.formerly:
            if slug in known and slug not in older and rule.slug not in known:
                names.setdefault(rule.slug, slug)
    return names


class _Comparing:
    """Compares outcomes of two audits one by one."""

    def __init__(self, old: Judged, new: Judged, ways: Ways) -> None:
        self.old, self.new, self.ways = old, new, ways

    def change(self, old: Outcome | None, new: Outcome) -> OutcomeChange | None:
        """What became of one outcome; nothing where it says the same as before."""
        was = old
        if old is not None and old.result not in _TOLD:
            was = self._behind(old, new)
            if was is not None and new.result is was.result:
                return _made(Turn.UNCOVERED, was, new, f"was {old.message}")
        if new.result not in _TOLD:
            return None if was is None else self.ended(was, new, _why_ended(new))
        if was is None:
            return _begun(new, None if old is None else old)
        match was.result is Result.FINDING, new.result is Result.FINDING:
            case True, True:
                return self._still(was, new)
            case True, False:
                why = "was found, and cannot be told any more"
                return _made(Turn.NO_LONGER_TOLD, was, new, why)
            case False, True:
                return _made(Turn.APPEARED, was, new, "was a question")
            case _:
                return self._still_open(was, new)

    def _behind(self, old: Outcome, new: Outcome) -> Outcome | None:
        """What a rule would have said that kept silent since another told of it; else nothing."""
        rule = self.old.audit.rulebook.rule(old.rule)
        if rule is None or new.result not in _TOLD or not old.message.startswith(_SILENT):
            return None
        judged = Judge(rule, cast(System, self.old.audit.rig.units)).on(old.thing, self.old.facts)
        if judged.result not in _TOLD:
            return None
        return replace(
            old,
            result=judged.result,
            message=judged.message,
            remedy=judged.remedy,
            missing=judged.missing,
            values=judged.values,
        )

    def ended(self, old: Outcome, new: Outcome | None, why: str) -> OutcomeChange:
        """A finding that is none any more, or a question that is settled."""
        turn = Turn.WENT_AWAY if old.result is Result.FINDING else Turn.QUESTION_SETTLED
        return _made(turn, old, new, why)

    def _still_open(self, old: Outcome, new: Outcome) -> OutcomeChange | None:
        if new.severity.rank < old.severity.rank or (new.counts and not old.counts):
            return _made(Turn.QUESTION_OPENED, old, new, _graver(old, new))
        if new.severity.rank > old.severity.rank or (old.counts and not new.counts):
            return _made(Turn.QUESTION_SETTLED, old, new, _milder(old, new))
        return None

    def _still(self, old: Outcome, new: Outcome) -> OutcomeChange | None:
        """A finding that is one still."""
        values = tuple(self._moved(old, new))
        ways = {one.way for one in values}
        if new.severity.rank < old.severity.rank or (new.counts and not old.counts):
            return _made(Turn.WORSENED, old, new, _graver(old, new), values)
        if "worse" in ways and "better" not in ways:
            return _made(Turn.WORSENED, old, new, "a worse value", values)
        if new.severity.rank > old.severity.rank or (old.counts and not new.counts):
            return _made(Turn.IMPROVED, old, new, _milder(old, new), values)
        if "better" in ways and "worse" not in ways:
            return _made(Turn.IMPROVED, old, new, "a better value, and still a finding", values)
        if values or self._says_otherwise(old, new):
            return _made(Turn.CHANGED, old, new, "other values than before", values)
        return None

    def _says_otherwise(self, old: Outcome, new: Outcome) -> bool:
        """Whether the words of the finding differ, names of renamed things apart. A rule that speaks of
        members of a list has its values in its words alone.
        """
        if self.ways.new_of is None:
            return False  # The same rig: other words are the pack's.
        return not same_words(old.message, new.message, self.ways.names)

    def _moved(self, old: Outcome, new: Outcome) -> Iterable[Moved]:
        before = dict(old.values)
        for name, after in new.values:
            was = before.get(name)
            if was is None:
                continue
            if not same_but_for_names(was, after, self.ways.names):
                yield Moved(name, was, after, self._way(name, was, after, new))

    def _way(
        self, name: str, was: Value, now: Value, outcome: Outcome
    ) -> Literal["worse", "better", "cannot be told"]:
        """Whether a value is worse than before, asked of the rule itself."""
        rule = self.new.audit.rulebook.rule(outcome.rule)
        meaning = spoken_of(rule.understood).get(name) if rule is not None else None
        if rule is None or meaning is None or not isinstance(was, Bounds) or not isinstance(now, Bounds):
            return "cannot be told"
        match worse_way(was, meaning, rule, outcome.thing, self.new.facts):
            case "more":
                return "worse" if (now.high, now.low) > (was.high, was.low) else "better"
            case "less":
                return "worse" if (now.low, now.high) < (was.low, was.high) else "better"
            case "either":
                return "cannot be told"


def _begun(new: Outcome, old: Outcome | None) -> OutcomeChange:
    turn = Turn.APPEARED if new.result is Result.FINDING else Turn.QUESTION_OPENED
    if old is None:
        why = "what it is about is new"
    elif old.result is Result.MET:
        why = "was met"
    else:
        why = "did not apply" if old.result is Result.NOT_APPLICABLE else "was not run"
    return _made(turn, old, new, why)


def _made(
    turn: Turn, old: Outcome | None, new: Outcome | None, why: str, values: tuple[Moved, ...] = ()
) -> OutcomeChange:
    told = [one for one in (old, new) if one is not None]
    severity = min((one.severity for one in told), key=lambda one: one.rank)
    if new is not None and new.result in _TOLD:
        severity = new.severity
    return OutcomeChange(turn, told[-1].rule, severity, old, new, why, values)


def _why_ended(new: Outcome) -> str:
    match new.result:
        case Result.MET:
            return "is met now"
        case Result.NOT_RUN:
            return new.message
        case _ if new.message.startswith(_SILENT):
            return f"is {new.message}"
        case _:
            return "does not apply any more"


def _graver(old: Outcome, new: Outcome) -> str:
    if new.severity.rank < old.severity.rank:
        return f"is {new.severity.value} now, was {old.severity.value}"
    return "the acceptance does not cover it any more"


def _milder(old: Outcome, new: Outcome) -> str:
    if new.severity.rank > old.severity.rank:
        return f"is {new.severity.value} now, was {old.severity.value}"
    return "is as accepted now"
