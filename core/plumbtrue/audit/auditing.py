"""Rules times things: every rule in force judges every thing that it is about, and nothing is left out
silently.

Pure: the same rig, rules, day and waivers give the same audit, in the same order, whatever the order of
files and keys.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from itertools import groupby
from operator import attrgetter
from typing import cast

from plumbtrue.audit.accepting import accept
from plumbtrue.audit.coverage import AskedFacts, Coverage, coverage
from plumbtrue.audit.outcome import TOLD, Outcome, Result
from plumbtrue.audit.people_first import nothing_met_with_people
from plumbtrue.audit.show import Show, is_of_plot, show_of
from plumbtrue.audit.show_rules import divided, hand_in_questions, hand_in_verdicts, told_last
from plumbtrue.audit.since_accepted import hand_in_changes
from plumbtrue.audit.verdicts import Verdict, line_set_of, line_set_verdicts, verdict_on
from plumbtrue.audit.waivers import Waiver
from plumbtrue.documents.place import Problem
from plumbtrue.facts.answer import Answer
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Absent
from plumbtrue.quantities.writing import System
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.judging import Judge
from plumbtrue.rules.packs.layering import as_of
from plumbtrue.rules.packs.pack import RuleBook
from plumbtrue.rules.rule import Rule
from plumbtrue.rules.severity import Severity

Computations = Mapping[tuple[str, str], Callable[[Facts, Thing], Answer]]
"""Computed facts of plugins, by kind or class and name."""


@unchanging
class Audit:
    """What was checked, what was found, what could not be told, and what no rule looked at."""

    rig: Rig
    rulebook: RuleBook
    on: date
    outcomes: tuple[Outcome, ...]
    """One for each rule and each thing that it is about: thing by thing as people count them, the gravest
    first.
    """
    told: tuple[Outcome, ...]
    """Those of them that found something, cannot tell or failed."""
    verdicts: Mapping[str, Verdict]
    """On each line set, by its key, as people count them."""
    house_verdict: Verdict
    """On everything that belongs to no line set."""
    coverage: Coverage
    waivers: tuple[Waiver, ...]
    incomplete: tuple[str, ...]
    """Why not everything that was asked for was looked at; empty for a complete run."""
    problems: tuple[Problem, ...]
    """Waivers that match nothing, or accept a state that the rule does not look at."""
    further: Computations
    """Computed facts of plugins with which it was made."""
    of_show: tuple[Rule, ...]
    """The rules that are about a show; all others judge the house by itself."""
    show: Show | None = None
    """What a plot laid over the house comes to; nothing where the house was looked at by itself."""

    @property
    def looked_at_anything(self) -> bool:
        """Whether any rule applied to anything at all."""
        return any(outcome.result not in (Result.NOT_APPLICABLE, Result.NOT_RUN) for outcome in self.outcomes)

    @property
    def names_its_sets(self) -> bool:
        """Whether the house's file says which line sets there are, or that there are none. Where it says nothing of
        them, nothing of what hangs was looked at.
        """
        house = self.rig.house
        return isinstance(house.parts.get("line_sets"), Absent) or bool(house.members("line_sets"))

    def of_result(self, *results: Result) -> Iterator[Outcome]:
        """Outcomes of some results, in order."""
        return (outcome for outcome in self.outcomes if outcome.result in results)


@unchanging
class Judged:
    """An audit with all that was found out while it was made, for whoever asks on: nothing is computed twice."""

    audit: Audit
    facts: Facts
    by_house: tuple[Outcome, ...]
    """What the rules of the house said by themselves, before anybody's acceptance."""
    asked_alone: frozenset[tuple[str, str]]
    """Kinds and facts for which they asked."""


def audit(
    rig: Rig,
    rulebook: RuleBook,
    on: date,
    waivers: Sequence[Waiver] = (),
    *,
    further: Computations | None = None,
) -> Audit:
    """Judge a rig by the rules in force on a day.

    Args:
        further: computed facts of plugins.
    Raises:
        ValueError: the rule book has problems; `load_packs` lets none of those through.
    """
    return judge(rig, rulebook, on, waivers, further=further).audit


def judge(
    rig: Rig,
    rulebook: RuleBook,
    on: date,
    waivers: Sequence[Waiver] = (),
    *,
    further: Computations | None = None,
    beside: Judged | None = None,
) -> Judged:
    """The same, with all that was found out on the way.

    Args:
        beside: an audit of the same house, as it was read, by the same rules on the same day, under another plot or
            none: what they said of the house by itself holds here too and is not asked again.
    Raises:
        ValueError: the rule book has problems; `load_packs` lets none of those through.
    """
    book = as_of(rulebook, on)
    if book.problems:
        raise ValueError(f"a book of rules with problems judges nothing: {book.problems[0].what}")
    facts = AskedFacts(rig, on, further)
    things = tuple(rig.things())
    line_sets = [thing for thing in things if thing.kind.name == "line_set"]
    of_house, of_show = divided(book.rules, rig.vocabulary)
    # The house first: what it comes to by itself is a fact that the rules of a show ask for.
    if beside is not None and _is_of_the_same_house(beside.audit, rig, book, further):
        by_house, asked_alone = list(beside.by_house), beside.asked_alone
    else:
        by_house = _outcomes(of_house, tuple(rig.house.below()), facts, _system(rig))
        asked_alone = facts.asked()
    alone, _ = accept(_silenced(by_house, book), waivers, rig, book, facts)
    house_verdicts = line_set_verdicts(line_sets, alone)
    hand_in_verdicts(facts, line_sets, alone, house_verdicts)
    hand_in_changes(facts, rig)
    at_once, last = told_last(of_show)
    by_show = _outcomes(at_once, things, facts, _system(rig))
    if rig.plot is not None:
        by_show += _outcomes(of_house, tuple(rig.plot.below()), facts, _system(rig))
        if last:
            used = facts.part(rig.plot, "used_sets")
            in_use = set(used) if isinstance(used, tuple) else set()
            of_used = [one for one in by_house if line_set_of(one.thing) in in_use]
            so_far, _ = accept(_silenced([*of_used, *by_show], book), waivers, rig, book, facts)
            hand_in_questions(facts, rig.plot, so_far)
    by_show += _outcomes(last, things, facts, _system(rig))
    if rig.plot is not None:
        by_show = nothing_met_with_people(facts, rig.plot, by_show)
    outcomes = _silenced([*by_house, *by_show], book)
    outcomes, problems = accept(outcomes, waivers, rig, book, facts)
    ordered = _in_order(outcomes)
    on_house = [
        one
        for thing, its in groupby(ordered, attrgetter("thing"))
        if line_set_of(thing) is None and not is_of_plot(thing)
        for one in its
    ]
    made = Audit(
        rig=rig,
        rulebook=book,
        on=on,
        outcomes=ordered,
        told=tuple(one for one in ordered if one.result in TOLD),
        verdicts=line_set_verdicts(line_sets, ordered),
        house_verdict=verdict_on(rig.house, on_house),
        coverage=coverage(things, ordered, facts.asked() | asked_alone),
        waivers=tuple(sorted(waivers, key=lambda waiver: waiver.place)),
        incomplete=tuple(str(one) for one in book.not_run),
        problems=problems,
        further=further or {},
        of_show=of_show,
        show=None if rig.plot is None else show_of(facts, rig.plot, ordered, of_show, house_verdicts),
    )
    return Judged(made, facts, tuple(by_house), asked_alone)


def _is_of_the_same_house(made: Audit, rig: Rig, book: RuleBook, further: Computations | None) -> bool:
    return made.rig.house is rig.house and made.rulebook is book and made.further == (further or {})


def _outcomes(rules: Sequence[Rule], things: Sequence[Thing], facts: Facts, system: System) -> list[Outcome]:
    """Every rule on every thing that it is about."""
    by_kind: dict[str, list[Thing]] = {}
    for thing in things:
        by_kind.setdefault(thing.kind.name, []).append(thing)
    found: list[Outcome] = []
    for rule in rules:
        about = [thing for kind in sorted(rule.kinds) for thing in by_kind.get(kind, ())]
        if rule.retired is not None:
            why = f"{rule.retired.pack} retired the rule: {rule.retired.reason}"
            found.extend(_outcome(rule, thing, Result.NOT_RUN, why) for thing in about)
        elif about:
            found.extend(_judged(rule, about, facts, system))
    return found


def _system(rig: Rig) -> System:
    """The system of units in which a house wants its figures."""
    return cast(System, rig.units)


def _judged(rule: Rule, about: Iterable[Thing], facts: Facts, system: System) -> Iterator[Outcome]:
    judge = Judge(rule, system).on
    slug, pack, severity = rule.slug, rule.pack, rule.severity
    for thing in about:
        found = judge(thing, facts)
        yield Outcome(
            slug,
            pack,
            severity,
            found.result,
            thing,
            found.message,
            found.remedy,
            found.missing,
            found.values,
        )


def _outcome(rule: Rule, thing: Thing, result: Result, message: str) -> Outcome:
    return Outcome(rule.slug, rule.pack, rule.severity, result, thing, message)


def _silenced(outcomes: Sequence[Outcome], book: RuleBook) -> list[Outcome]:
    """One fault is told once: where a rule finds something, those that it supersedes keep silent there and
    inside.

    A graver rule is never silenced by a milder one. Who keeps silent follows from what each rule found by
    itself, so that the order of rules never matters.
    """
    supersedes = {rule.slug: rule.supersedes for rule in book.rules if rule.supersedes}
    speaking: dict[str, dict[Thing, Outcome]] = {}
    for outcome in outcomes:
        if outcome.result is Result.FINDING:
            for slug in supersedes.get(outcome.rule, ()):
                speaking.setdefault(slug, {})[outcome.thing] = outcome
    if not speaking:
        return list(outcomes)
    return [
        outcome
        if outcome.result in _SAYING_NOTHING or outcome.rule not in speaking
        else _silent_under(outcome, speaking[outcome.rule])
        for outcome in outcomes
    ]


_SAYING_NOTHING = (Result.MET, Result.NOT_APPLICABLE, Result.NOT_RUN)


def _silent_under(outcome: Outcome, speaking: Mapping[Thing, Outcome]) -> Outcome:
    thing: Thing | None = outcome.thing
    while thing is not None:
        over = speaking.get(thing)
        if over is not None and over.severity.rank <= outcome.severity.rank:
            message = f"told by {over.rule} of {over.thing.path}"
            return replace(outcome, result=Result.NOT_APPLICABLE, message=message, missing=(), values=())
        thing = thing.parent
    return outcome


_RESULT_ORDER = {result: place for place, result in enumerate(Result)}
_SEVERITY_ORDER = {severity: place for place, severity in enumerate(Severity)}


def _in_order(outcomes: Iterable[Outcome]) -> tuple[Outcome, ...]:
    """By thing as people count them, then the gravest first, then by rule."""
    by_thing: dict[Thing, list[Outcome]] = {}
    for outcome in outcomes:
        by_thing.setdefault(outcome.thing, []).append(outcome)
    # Things are sorted once and each thing's few outcomes by themselves: that takes a fraction of the time
    # that one sort of all outcomes takes, each with the parts of its thing's path in its key.
    in_order = sorted(by_thing, key=lambda thing: natural_order(thing.path))
    return tuple(outcome for thing in in_order for outcome in sorted(by_thing[thing], key=_gravest_first))


def _gravest_first(outcome: Outcome) -> tuple[int, int, str]:
    return _SEVERITY_ORDER[outcome.severity], _RESULT_ORDER[outcome.result], outcome.rule
