"""Waivers laid beside outcomes: which finding is accepted, whether the acceptance still holds, and which
waivers match nothing.

An acceptance is a mark, never an outcome. It covers the state that was accepted and any state that is
surely no worse; what it does not cover counts, and so does everything after its last day.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from plumbtrue.audit.accepted_state import covers
from plumbtrue.audit.outcome import Acceptance, Outcome, Result
from plumbtrue.audit.waivers import Waiver
from plumbtrue.documents.nodes import problem_with
from plumbtrue.documents.place import Problem
from plumbtrue.facts.store import Facts
from plumbtrue.rig.finding_things import thing_at
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.packs.form import suggestion
from plumbtrue.rules.packs.pack import RuleBook
from plumbtrue.rules.rule import Rule

_ACCEPTABLE = (Result.FINDING, Result.UNDETERMINED, Result.ERROR)


def accept(
    outcomes: Sequence[Outcome], waivers: Sequence[Waiver], rig: Rig, book: RuleBook, facts: Facts
) -> tuple[list[Outcome], tuple[Problem, ...]]:
    """Outcomes with the marks of what is accepted, and the waivers that match nothing as problems."""
    if not waivers:
        return list(outcomes), ()
    problems: list[Problem] = []
    places = {(outcome.rule, outcome.thing): place for place, outcome in enumerate(outcomes)}
    marked = list(outcomes)
    for waiver in sorted(waivers, key=lambda one: one.place):
        rule, thing = _rule_of(waiver, book, problems), _thing_of(waiver, rig, problems)
        if rule is None or thing is None:
            continue
        place = places.get((rule.slug, thing))
        if place is None or marked[place].result not in _ACCEPTABLE:
            problems.append(_nothing_there(waiver, rule, thing, None if place is None else marked[place]))
        elif marked[place].acceptance is not None:
            what = f"{rule.slug} at {thing.path} is accepted twice"
            problems.append(problem_with(waiver.rule, "accepted-twice", what, "keep one of the two"))
        else:
            covered = covers(waiver, marked[place], rule, facts, problems)
            marked[place] = replace(marked[place], acceptance=_acceptance(waiver, book.on, covered=covered))
    return marked, tuple(problems)


def _acceptance(waiver: Waiver, on: date, *, covered: bool) -> Acceptance:
    return Acceptance(
        by=waiver.accepted_by,
        until=waiver.until.isoformat(),
        reason=waiver.reason,
        meanwhile=waiver.meanwhile,
        key=waiver.key,
        state=waiver.printed_state,
        expired=waiver.has_run_out(on),
        worse=not covered,
    )


def _rule_of(waiver: Waiver, book: RuleBook, problems: list[Problem]) -> Rule | None:
    rule = book.rule(waiver.rule.text)
    if rule is None and not book.not_run:
        what = f"no rule {waiver.rule.text} is in force, so nothing can be accepted under it"
        instead = suggestion(waiver.rule.text, [one.slug for one in book.rules])
        problems.append(problem_with(waiver.rule, "waiver-matches-nothing", what, instead))
    return rule


def _thing_of(waiver: Waiver, rig: Rig, problems: list[Problem]) -> Thing | None:
    thing = thing_at(rig, waiver.thing.text)
    if thing is None:
        what = f"there is no {waiver.thing.text} in this house"
        instead = suggestion(waiver.thing.text, [one.path for one in rig.things()])
        problems.append(problem_with(waiver.thing, "waiver-matches-nothing", what, instead))
    return thing


def _nothing_there(waiver: Waiver, rule: Rule, thing: Thing, outcome: Outcome | None) -> Problem:
    """A waiver that accepts what is not there: it once excused something, and might again without anybody
    noticing.
    """
    if outcome is None:
        what = f"the rule {rule.slug} is not about {thing.path}"
    elif outcome.result is Result.MET:
        what = f"the rule {rule.slug} is met at {thing.path}, so there is nothing to accept"
    else:
        what = f"the rule {rule.slug} does not speak of {thing.path}: {outcome.message}"
    return problem_with(waiver.rule, "waiver-matches-nothing", what, "take the waiver out")
