"""Two revisions of a rig, of a plot over a house, or of a house's packs, compared as things and
consequences.

Both rigs are judged on the same day and by the same packs, those of the newer revision, so that what came of
the rig is told apart from what came of the packs. What the packs did is told by the newer rig under both.
What is worse under the packs before, and which the packs now no longer look at, is told as well: a change
of rules hides nothing.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from plumbtrue.audit.acceptance_changes import ShowAcceptance, WaiverChange, acceptances, waiver_changes
from plumbtrue.audit.auditing import Audit, Computations, judge
from plumbtrue.audit.changed_pieces import changed_pieces
from plumbtrue.audit.changeover import Known, Recheck, Task, rechecks, tasks
from plumbtrue.audit.computed_changes import ComputedChange, computed_changes
from plumbtrue.audit.gate import ExitStatus
from plumbtrue.audit.item_verdicts import ItemState, item_verdicts
from plumbtrue.audit.matching import Matching, match
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.audit.outcome_changes import (
    OutcomeChange,
    Ways,
    most_dangerous_first,
    outcome_changes,
    rule_names,
)
from plumbtrue.audit.pack_changes import PackChange, pack_changes, same_packs
from plumbtrue.audit.piece_changes import PieceChange, piece_changes
from plumbtrue.audit.rig_changes import RigChange, one_by_one, rig_changes
from plumbtrue.audit.verdicts import State
from plumbtrue.audit.waivers import Waiver
from plumbtrue.documents.place import Problem
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.packs.pack import RuleBook
from plumbtrue.rules.severity import Severity


@dataclass(frozen=True, slots=True)
class Revision:
    """One revision: a house, with or without a plot laid over it, and the rules of its packs."""

    rig: Rig
    rulebook: RuleBook


@dataclass(frozen=True, slots=True)
class StateChange:
    """The state of a line set before and now, under the same packs; nothing where it was not there."""

    old: Thing | None
    new: Thing | None
    before: State | None
    after: State | None
    untagged: bool = False
    """It was tagged out, and its tag is gone."""

    @property
    def is_worse(self) -> bool:
        """Whether it stands worse than before; a new set is held against one on which nothing was found."""
        before = State.NOTHING_FOUND if self.before is None else self.before
        return self.after is not None and self.after.rank < before.rank


@dataclass(frozen=True, slots=True)
class Comparison:
    """Everything that is other in the newer of two revisions."""

    old: Audit
    """The older rig under the newer packs: what the findings are compared with."""
    new: Audit
    """The newer rig under the newer packs."""
    matching: Matching
    outcomes: tuple[OutcomeChange, ...]
    """What the change of the rig did, under the newer packs; the most dangerous first."""
    hidden: tuple[OutcomeChange, ...]
    """What is worse, or open, under the older packs alone: the newer ones do not look at it, or find it milder."""
    changes: tuple[RigChange, ...]
    """What somebody changed in the house and in the plot."""
    values: tuple[ComputedChange, ...]
    """What that did to computed values."""
    packs: tuple[PackChange, ...]
    by_packs: tuple[OutcomeChange, ...]
    """What the change of the packs did to the newer rig."""
    old_packs: RuleBook
    states: tuple[StateChange, ...]
    """Line sets whose state is another now, or that came or went."""
    pieces: tuple[PieceChange, ...]
    """Pieces of the show that stand otherwise than before; the worst first."""
    changed_pieces: Mapping[Thing, tuple[RigChange, ...]]
    """What was changed about each piece, on it, in its cues or in what it hangs on."""
    acceptances: tuple[ShowAcceptance, ...]
    """Who accepted a revision of the show, and which."""
    waived: tuple[WaiverChange, ...]
    """Acceptances of single findings that cover something else now than before."""
    standing: tuple[Outcome, ...]
    """Findings and questions of the newer revision that are as they were: still to be dealt with."""
    rechecks: tuple[Recheck, ...]
    tasks: tuple[Task, ...]
    problems: tuple[Problem, ...]
    """Acceptances that match nothing in either revision, or cannot be read."""

    @property
    def is_alike(self) -> bool:
        """Whether nothing at all is other than before."""
        return not (
            self.outcomes
            or self.hidden
            or self.changes
            or self.values
            or self.packs
            or self.by_packs
            or self.pieces
        )


def compare(
    old: Revision,
    new: Revision,
    on: date,
    waivers: Sequence[Waiver] = (),
    *,
    further: Computations | None = None,
) -> Comparison:
    """Compare two revisions, both as of the same day.

    Args:
        waivers: acceptances, laid beside the findings of both.
        further: computed facts of plugins.
    """
    in_new = judge(new.rig, new.rulebook, on, waivers, further=further)
    in_old = judge(old.rig, new.rulebook, on, waivers, further=further, beside=in_new)
    now, was = in_new.audit, in_old.audit
    matching = match(old.rig, new.rig)
    ways = Ways(matching.new_of, matching.names(), {})
    outcomes = outcome_changes(in_old, in_new, ways)
    hidden: tuple[OutcomeChange, ...] = ()
    by_packs: tuple[OutcomeChange, ...] = ()
    if not same_packs(old.rulebook, new.rulebook):
        was_then = judge(old.rig, old.rulebook, on, waivers, further=further)
        now_then = judge(new.rig, old.rulebook, on, waivers, further=further, beside=was_then)
        renamed = rule_names(was_then.audit.rulebook, now.rulebook)
        hidden = _hidden(outcome_changes(was_then, now_then, ways), outcomes, renamed)
        by_packs = outcome_changes(now_then, in_new, Ways(None, {}, renamed))
    changes = rig_changes(matching)
    single = tuple(one_by_one(changes))
    values = computed_changes(matching, in_old.facts, in_new.facts)
    pieces = item_verdicts(was, in_old.facts), item_verdicts(now, in_new.facts)
    touched = changed_pieces(single, matching, in_old.facts, in_new.facts)
    known = Known(
        matching,
        single,
        values,
        in_old.facts,
        in_new.facts,
        now.verdicts,
        frozenset(_out_of_service(was, matching)),
        {one.item: one for one in pieces[1]},
        {matching.new_of.get(one.item, one.item): one.state for one in pieces[0]},
        touched,
    )
    return Comparison(
        old=was,
        new=now,
        matching=matching,
        outcomes=outcomes,
        hidden=hidden,
        changes=changes,
        values=values,
        packs=pack_changes(old.rulebook, new.rulebook),
        by_packs=by_packs,
        old_packs=old.rulebook,
        states=tuple(_states(was, now, matching)),
        pieces=piece_changes(*pieces, matching, touched),
        changed_pieces=touched,
        acceptances=acceptances(was, now, matching),
        waived=waiver_changes(was, now),
        standing=_standing(now, (*outcomes, *by_packs)),
        rechecks=rechecks(known),
        tasks=tasks(known),
        problems=_problems(was, now),
    )


def _out_of_service(was: Audit, matching: Matching) -> Iterable[Thing]:
    for verdict in was.verdicts.values():
        now = matching.new_of.get(verdict.thing)
        if now is not None and verdict.state is State.OUT_OF_SERVICE:
            yield now


def _hidden(
    then: Iterable[OutcomeChange], now: Iterable[OutcomeChange], renamed: dict[str, str]
) -> tuple[OutcomeChange, ...]:
    """What is worse or open under the older packs, and not so under the newer ones, or only at a milder severity."""
    told = {
        (one.rule, one.thing): one.severity.rank
        for one in now
        if one.turn.is_for_the_worse or one.turn.is_open
    }
    return most_dangerous_first(
        one
        for one in then
        if (one.turn.is_for_the_worse or one.turn.is_open)
        and one.severity.rank < told.get((renamed.get(one.rule, one.rule), one.thing), len(Severity))
    )


def _standing(now: Audit, changes: Iterable[OutcomeChange]) -> tuple[Outcome, ...]:
    told = {(one.new.rule, one.new.thing) for one in changes if one.new is not None}
    return tuple(
        outcome
        for outcome in now.of_result(Result.FINDING, Result.UNDETERMINED, Result.ERROR)
        if (outcome.rule, outcome.thing) not in told
    )


def _states(was: Audit, now: Audit, matching: Matching) -> Iterable[StateChange]:
    found: list[StateChange] = []
    seen: set[Thing] = set()
    for verdict in was.verdicts.values():
        thing = matching.new_of.get(verdict.thing)
        if thing is None:
            found.append(StateChange(verdict.thing, None, verdict.state, None))
            continue
        seen.add(thing)
        after = now.verdicts[thing.key]
        untagged = verdict.tagged_out and not after.tagged_out
        if after.state is not verdict.state or untagged:
            found.append(StateChange(verdict.thing, thing, verdict.state, after.state, untagged))
    found += [
        StateChange(None, verdict.thing, None, verdict.state)
        for verdict in now.verdicts.values()
        if verdict.thing not in seen
    ]
    return sorted(found, key=lambda one: natural_order((one.new or one.old or now.rig.house).key))


def _problems(was: Audit, now: Audit) -> tuple[Problem, ...]:
    """An acceptance may well match one revision alone; one that matches neither is a mistake."""
    in_both = {(one.slug, one.where) for one in was.problems} & {
        (one.slug, one.where) for one in now.problems
    }
    found = {
        (one.where, one.slug): one
        for one in (*was.problems, *now.problems)
        if one.slug != "waiver-matches-nothing" or (one.slug, one.where) in in_both
    }
    return tuple(found[key] for key in sorted(found))


def comparison_status(comparison: Comparison, gate: Severity) -> ExitStatus:
    """The status for a pipeline: what is new or worse counts, what was there before does not.

    What the packs made new or worse counts as well, and so does what only the packs before would have
    found. A piece of the show counts by what its state asks for, with or without a rule that says so. What
    cannot be told to be no worse, and an incomplete run, is never a pass.
    """
    if comparison.problems:
        return ExitStatus.CANNOT_USE
    at_gate = [
        one
        for one in (*comparison.outcomes, *comparison.hidden, *comparison.by_packs)
        if one.counts and one.severity.rank <= gate.rank
    ]
    pieces = [one for one in comparison.pieces if one.severity.rank <= gate.rank and one.after is not None]
    open_pieces = [one for one in pieces if one.after is ItemState.CANNOT_BE_TOLD]
    if any(one.turn.is_for_the_worse for one in at_gate) or any(
        one.is_worse for one in pieces if one not in open_pieces
    ):
        return ExitStatus.FINDINGS
    now = comparison.new
    if (
        any(one.turn.is_open for one in at_gate)
        or open_pieces
        or now.incomplete
        or not now.looked_at_anything
        or (comparison.old.names_its_sets and not now.names_its_sets)
    ):
        return ExitStatus.CANNOT_TELL
    return ExitStatus.NOTHING_AT_THE_GATE
