"""From an audit to the report: the only way in which any format comes to its words and figures."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby
from math import isfinite
from operator import attrgetter
from typing import cast

from plumbtrue import __version__
from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.deciding import Whereabouts, whereabouts
from plumbtrue.audit.first_to_weigh import ranked_doubts
from plumbtrue.audit.outcome import TOLD, Outcome, Result
from plumbtrue.audit.verdicts import State, Verdict
from plumbtrue.audit.working import OutcomeWorking, working_of
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import Name, Unknown
from plumbtrue.quantities.writing import System, as_said, write_date, write_value
from plumbtrue.reporting.card_rows import rows_of
from plumbtrue.reporting.cards import NOT_KNOWN, Card, card_of
from plumbtrue.reporting.grouping import (
    PlaceOf,
    WorkingOf,
    accepted,
    changed,
    changes_by_rule,
    entries,
    rule_anchor,
    set_anchor,
    set_key,
    set_title,
)
from plumbtrue.reporting.headline import headline
from plumbtrue.reporting.places_in_words import where
from plumbtrue.reporting.questions import questions
from plumbtrue.reporting.report import (
    CardRows,
    ChangeReport,
    Checked,
    Entry,
    Matter,
    OutcomeReport,
    PackReport,
    Question,
    Report,
    RuleReport,
    Section,
    SetReport,
    SourceReport,
    Unlooked,
    WorkingLine,
)
from plumbtrue.reporting.show_report import ShowReport
from plumbtrue.reporting.show_rigging import bridles_of, load_ins_of
from plumbtrue.reporting.unmatched_phrases import unmatched_phrases
from plumbtrue.reporting.wording import (
    CAUTIONS,
    SEVERITY_LABELS,
    SEVERITY_MEANINGS,
    SEVERITY_SIGNS,
    STATE_LABELS,
    STATE_SIGNS,
    authority,
    authority_in_short,
    counted,
    listed,
    marks,
)
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.packs.pack import Change, RuleBook
from plumbtrue.rules.rule import Rule
from plumbtrue.rules.severity import Severity

_MOST_NAMED = 6


def report_of(
    audit: Audit,
    *,
    workings: bool = False,
    cards: bool = False,
    every_outcome: bool = False,
    places: bool = False,
    advice: bool = False,
) -> Report:
    """The report of an audit.

    Args:
        every_outcome: whether each outcome is listed by itself as well; a card then lists each value that can be
            worked out of its set.
        workings: whether each entry carries how its rule came to it; costs a second judgement of each.
        cards: whether each line set carries its figures; costs most computations of the house.
        places: whether each points at what decided it and not only at its thing; comes with workings and
            with every outcome, and costs as much as workings do.
        advice: whether each piece of a plot carries the number that would settle it and where else it would
            hang; costs many judgements of each.
    """
    facts = Facts(audit.rig, audit.on, audit.further)
    found: dict[str, OutcomeWorking] = {}

    def explained(outcome: Outcome) -> OutcomeWorking:
        if outcome.key not in found:
            found[outcome.key] = working_of(outcome, audit, facts)
        return found[outcome.key]

    def working(outcome: Outcome) -> tuple[WorkingLine, ...]:
        return working_lines(explained(outcome)) if workings else ()

    def place(outcome: Outcome) -> Whereabouts:
        asked = places or workings or every_outcome
        return explained(outcome).place if asked and outcome.result in TOLD else whereabouts(outcome)

    told = entries(audit.told, audit.rulebook, working, place)
    counting = [one for one in told if one.accepted is None or not one.accepted.in_force]
    findings = [one for one in counting if one.result is Result.FINDING]
    standing = tuple(one for one in told if one.accepted is not None and one.accepted.in_force)
    open_ones = tuple(one for one in counting if one.result is not Result.FINDING)
    of_house = tuple(one for one in told if not one.set_key)
    house, system = audit.rig.house, cast(System, audit.rig.units)
    by_rule = Counter((one.rule, one.result) for one in audit.outcomes)
    return Report(
        version=__version__,
        house=_written(house, "name") or house.key,
        owner=_written(house, "owner"),
        file=audit.rig.file,
        on=audit.on.isoformat(),
        headline=headline(audit),
        sections=tuple(_sections(findings)),
        accepted=standing,
        accepted_matters=tuple(_matters(standing, together=False)),
        undetermined=open_ones,
        undetermined_matters=tuple(_matters(open_ones, together=True)),
        questions=_questions(audit, facts),
        sets=tuple(_sets(audit, told, facts, with_cards=cards, every_value=every_outcome)),
        house_entries=of_house,
        house_rows=rows_of(of_house, [one for one in audit.outcomes if not set_key(one.thing)], None),
        outcomes=tuple(_outcomes(audit, working, place)) if every_outcome else (),
        rules=tuple(_rules(audit, by_rule)),
        changes=tuple(_change(one) for one in audit.rulebook.changes),
        sources=tuple(_sources(audit)),
        common_practice_rules=sum(
            rule.is_common_practice for rule in audit.rulebook.rules if rule.retired is None
        ),
        packs=tuple(_packs(audit.rulebook)),
        checked=_checked(audit, by_rule),
        incomplete=audit.incomplete,
        problems=tuple(
            f"{one.where}: {one.what}" + (f"; {one.instead}" if one.instead else "") for one in audit.problems
        ),
        cautions=CAUTIONS,
        show=_show(audit, facts, advice=advice),
        bridles=tuple(bridles_of(audit, facts, system)) if cards else (),
        load_ins=tuple(load_ins_of(audit, facts, system)) if cards else (),
    )


def _show(audit: Audit, facts: Facts, *, advice: bool) -> ShowReport | None:
    """What a plot laid over the house comes to; most checks are of a house alone and load none of it."""
    if audit.show is None:
        return None
    from plumbtrue.reporting.showing import show_of

    if not advice:
        return show_of(audit, facts, None)
    from plumbtrue.reporting.advising import advice_of

    return show_of(audit, facts, advice_of(audit))


def _questions(audit: Audit, facts: Facts) -> tuple[Question, ...]:
    """What to find out: first what somebody meant that their word covers by mistake, then what rules want."""
    untold = frozenset(key for key, one in audit.verdicts.items() if one.state is State.CANNOT_BE_TOLD)
    asked = (
        *unmatched_phrases(audit.rig),
        *questions(audit.told, audit.rig.vocabulary, untold, ranked_doubts(audit, facts)),
    )
    return tuple(replace(one, number=number) for number, one in enumerate(asked, start=1))


def working_lines(found: OutcomeWorking) -> tuple[WorkingLine, ...]:
    """How a rule came to an outcome: first whether it applies, then whether what it asks holds."""
    lines = [
        WorkingLine(line.depth, line.text, line.origin, "" if line.answer is None else line.answer.value)
        for part in (found.applies, found.requires)
        for line in part
    ]
    if found.failure:
        lines.append(WorkingLine(0, f"the rule itself failed: {found.failure}", "", ""))
    return tuple(lines)


def _outcomes(audit: Audit, working: WorkingOf, place: PlaceOf) -> Iterator[OutcomeReport]:
    titles = {key: work.title for key, work in audit.rulebook.works.items()}
    authorities = {rule.slug: authority_in_short(rule, titles) for rule in audit.rulebook.rules}
    for outcome in audit.outcomes:
        thing = outcome.thing
        yield OutcomeReport(
            key=outcome.key,
            rule=outcome.rule,
            pack=outcome.pack,
            severity=outcome.severity,
            result=outcome.result,
            counts=outcome.counts,
            kind=thing.kind.word,
            path=thing.path,
            where=where([thing], thing.line_set),
            set_key=set_key(thing),
            message=outcome.message,
            remedy=outcome.remedy,
            authority=authorities[outcome.rule],
            location=place(outcome).place,
            written_at=place(outcome).lent_from,
            missing=tuple((one.thing.path, one.fact, one.why) for one in outcome.missing),
            accepted=None if outcome.acceptance is None else accepted(outcome.acceptance),
            working=working(outcome) if outcome.result in TOLD else (),
        )


def _sections(findings: Iterable[Entry]) -> Iterator[Section]:
    by_severity: dict[Severity, list[Entry]] = {severity: [] for severity in Severity}
    for entry in findings:
        by_severity[entry.severity].append(entry)
    for severity, its in by_severity.items():
        if its:
            yield Section(
                severity=severity,
                label=SEVERITY_LABELS[severity],
                meaning=SEVERITY_MEANINGS[severity],
                anchor=f"do-{severity.value}",
                sign=SEVERITY_SIGNS[severity],
                matters=tuple(_matters(its, together=severity.rank >= Severity.NEXT_MAINTENANCE.rank)),
                count=_count(its),
            )


def _matters(entries: Iterable[Entry], *, together: bool) -> Iterator[Matter]:
    """Entries one by one, as one walks from set to set; what can wait is told once for all sets where it is
    the same.
    """
    alike: dict[object, list[Entry]] = {}
    for entry in entries:
        words = tuple((one.where, one.message, one.remedy, one.missing) for one in entry.said)
        key = (entry.rule, words, entry.accepted) if together and entry.set_key else entry.anchor
        alike.setdefault(key, []).append(entry)
    for its in alike.values():
        title = its[0].set_title if len(its) == 1 else f"Sets {marks([one.set_key for one in its])}"
        yield Matter(title, its[0].anchor, tuple(its))


def _count(entries: Iterable[Entry]) -> str:
    its = list(entries)
    sets = len({entry.set_key for entry in its if entry.set_key})
    on_sets = f" on {counted(sets, 'set')}" if sets else ""
    in_house = " and the rest of the house" if sets and any(not entry.set_key for entry in its) else ""
    return f"{counted(len(its), 'matter')}{on_sets}{in_house}"


def _sets(
    audit: Audit, told: Iterable[Entry], facts: Facts, *, with_cards: bool, every_value: bool
) -> Iterator[SetReport]:
    by_set: dict[str, list[Entry]] = {}
    for entry in told:
        by_set.setdefault(entry.set_key, []).append(entry)
    counts: defaultdict[str, Counter[Result]] = defaultdict(Counter)
    open_ones: defaultdict[str, list[Outcome]] = defaultdict(list)
    for thing, outcomes in groupby(audit.outcomes, attrgetter("thing")):
        its_outcomes = tuple(outcomes)
        key = set_key(thing)
        counts[key].update(one.result for one in its_outcomes)
        open_ones[key].extend(one for one in its_outcomes if one.result in TOLD)
    system = cast(System, audit.rig.units)
    for key, verdict in audit.verdicts.items():
        its = tuple(by_set.get(key, ()))
        card = card_of(verdict.thing, facts, system, every_value=every_value) if with_cards else None
        rows = rows_of(its, open_ones[key], verdict.thing)
        yield _set(verdict, its, rows, counts[key], card, facts, system)


def _set(
    verdict: Verdict,
    its: tuple[Entry, ...],
    rows: CardRows,
    counts: Counter[Result],
    card: Card | None,
    facts: Facts,
    system: System,
) -> SetReport:
    thing = verdict.thing
    tagged = _tagged(thing) if verdict.tagged_out else ""
    return SetReport(
        key=verdict.key,
        anchor=set_anchor(verdict.key),
        title=set_title(verdict.key),
        name=_written(thing, "name"),
        state=verdict.state,
        state_label=STATE_LABELS[verdict.state],
        sign=STATE_SIGNS[verdict.state],
        because=_because(verdict, its, tagged),
        tagged=tagged,
        upstage=_upstage(thing, facts),
        described=tuple(_described(thing, facts, system)),
        entries=its,
        rows=rows,
        met=counts[Result.MET],
        not_applicable=counts[Result.NOT_APPLICABLE],
        card=card,
    )


def _upstage(thing: Thing, facts: Facts) -> float | None:
    found = facts.value(thing, "from_plaster_line") if "from_plaster_line" in thing.kind.facts else None
    if not isinstance(found, Bounds) or not isfinite(found.low) or not isfinite(found.high):
        return None
    return (found.low + found.high) / 2


def _tagged(thing: Thing) -> str:
    recorded = thing.facts["tagged_out"]
    since = f" since {write_date(recorded.value)}" if isinstance(recorded.value, Bounds) else ""
    return f"tagged out{since}"


def _because(verdict: Verdict, its: Iterable[Entry], tagged: str) -> str:
    """Why a set is in its state, in one line: the rules that decide it, by what they look after."""
    deciding = {outcome.rule for outcome in verdict.deciding}
    titles = [entry.rule for entry in its if entry.rule in deciding]
    named = listed(list(dict.fromkeys(titles)))
    if tagged:
        return f"{tagged}" + (f"; behind the tag: {named}" if named else "")
    if verdict.state is State.CANNOT_BE_TOLD and not verdict.looked_at:
        return "no rule looked at it"
    if verdict.state is State.NOTHING_FOUND:
        milder = [counted(verdict.undetermined, "milder question")] if verdict.undetermined else []
        accepted = [f"{verdict.accepted} accepted until a day"] if verdict.accepted else []
        return listed([*accepted, *milder])
    return named


def _described(thing: Thing, facts: Facts, system: System) -> Iterator[tuple[str, str]]:
    """What a set is, as far as it is recorded."""
    for label, name in (
        ("Use", "use"),
        ("System", "system"),
        ("From the plaster line", "from_plaster_line"),
        ("Built", "built"),
        ("Last reconditioned", "reconditioned"),
        ("Live load posted", "posted_load"),
        ("Last inspected", "last_inspection"),
    ):
        fact = thing.kind.facts.get(name)
        if fact is None:
            continue
        value = facts.value(thing, name)
        if isinstance(value, Unknown):
            yield label, NOT_KNOWN
            continue
        dimension = None if fact.type == "date" else fact.dimension
        yield label, write_value(as_said(value), dimension, system)
    lines = thing.parts.get("lift_lines")
    if isinstance(lines, tuple):
        yield "Lift lines", f"{len(lines)}" + (" and more" if "lift_lines" in thing.unlisted else "")
    if thing.seen is not None:
        how = f", {thing.seen.how.replace('-', ' ')}" if thing.seen.how else ""
        yield (
            "Last looked at",
            f"by {thing.seen.by or 'somebody'} on {thing.seen.on or 'an unknown day'}{how}",
        )


def _rules(audit: Audit, by_rule: Counter[tuple[str, Result]]) -> Iterator[RuleReport]:
    """The rules that found something, cannot tell, or failed, for a reader to look up."""
    titles = _titles(audit.rulebook)
    changes = changes_by_rule(audit.rulebook.changes)
    for rule in audit.rulebook.rules:
        yield RuleReport(
            slug=rule.slug,
            anchor=rule_anchor(rule.slug),
            title=rule.title,
            about=rule.about.replace("_", " "),
            severity=rule.severity,
            severity_label=SEVERITY_LABELS[rule.severity],
            pack=rule.pack,
            why=rule.why.strip(),
            authorities=authority(rule, titles),
            authority=authority_in_short(
                rule, {key: work.title for key, work in audit.rulebook.works.items()}
            ),
            changed_by=changes.get(rule.slug, ()),
            counts=tuple(
                (result.value, number) for result in Result if (number := by_rule[rule.slug, result])
            ),
            place=rule.place,
        )


def _titles(book: RuleBook) -> dict[str, str]:
    return {
        key: f"{work.title} ({work.edition})" if work.edition else work.title
        for key, work in book.works.items()
    }


def _change(one: Change) -> ChangeReport:
    on = f" on {one.decided_on.isoformat()}" if one.decided_on else ""
    until = f", until {one.until.isoformat()}" if one.until else ""
    return ChangeReport(
        rule=one.rule,
        rule_anchor=rule_anchor(one.rule),
        part=one.part.replace("parameters.", "").replace("_", " "),
        way=one.way,
        before=one.before,
        after=one.after,
        pack=one.pack,
        decided=f"{one.decided_by or 'nobody named'}{on}{until}",
        reason=one.reason,
        standing=changed(one)
        if one.in_force
        else f"{changed(one)}: its day has passed, so the rule is back as it was",
    )


def _sources(audit: Audit) -> Iterator[SourceReport]:
    """Works behind the rules in force, the most cited first."""
    used: Counter[str] = Counter()
    for rule in audit.rulebook.rules:
        if rule.retired is None:
            used.update({citation.work for citation in rule.citations})
    for key, rules in sorted(used.items(), key=lambda pair: (-pair[1], pair[0])):
        work = audit.rulebook.works[key]
        basis = "read" if work.basis == "read" else "from memory, not yet read in print"
        yield SourceReport(key, work.title, work.edition, work.kind, basis, work.note, rules)


def _packs(book: RuleBook) -> Iterator[PackReport]:
    for pack in book.packs:
        yield PackReport(
            name=pack.name,
            title=pack.title,
            edition=pack.edition,
            digest=pack.digest,
            covers=pack.covers,
            leaves_out=pack.leaves_out,
            brought_by=f"plugin {pack.plugin}" if pack.plugin else f"folder {pack.folder}",
            rules=len(pack.rules),
        )


def _without_a_plot(audit: Audit, of_show: Sequence[Rule]) -> Iterator[str]:
    if audit.rig.plot is None and of_show:
        count = len(of_show)
        yield f"{count} rule{'s' * (count > 1)} about a show: no plot was laid over the house"


def _checked(audit: Audit, by_rule: Counter[tuple[str, Result]]) -> Checked:
    counts: Counter[Result] = Counter()
    for (_, result), number in by_rule.items():
        counts[result] += number
    applied = {rule for rule, result in by_rule if result is not Result.NOT_APPLICABLE}
    in_force = [rule for rule in audit.rulebook.rules if rule.retired is None]
    of_show = [rule for rule in audit.of_show if rule.retired is None]
    shown = {rule.slug for rule in of_show}
    tried = [rule for rule in in_force if audit.rig.plot is not None or rule.slug not in shown]
    kinds = audit.rig.vocabulary.kinds
    return Checked(
        read=audit.rig.files,
        counts=tuple((result.value, counts[result]) for result in Result if counts[result]),
        things=sum(1 for _ in audit.rig.house.below()),
        rules=len(in_force),
        kinds=tuple(
            Unlooked(kinds[one.kind].word.replace("-", " "), len(one.things), _some_paths(one.things))
            for one in audit.coverage.kinds
        ),
        facts=tuple(
            Unlooked(
                f"{one.fact.replace('_', ' ')} of the {kinds[one.kind].word.replace('-', ' ')}",
                len(one.things),
                _some_paths(one.things),
            )
            for one in audit.coverage.facts
        ),
        rules_without_things=tuple(rule.slug for rule in tried if rule.slug not in applied),
        not_run=(
            *audit.incomplete,
            *_without_a_plot(audit, of_show),
            *(
                f"{rule.slug}: retired by {retired.pack}, decided by {retired.decided_by}: {retired.reason}"
                for rule in audit.rulebook.rules
                if (retired := rule.retired) is not None
            ),
        ),
    )


def _some_paths(things: Iterable[Thing]) -> str:
    """Where things are: by line set where they are in sets, else by path; cut where there are many."""
    sets = list(dict.fromkeys(thing.line_set.key for thing in things if thing.line_set is not None))
    others = [thing.path for thing in things if thing.line_set is None]
    named = (
        [f"{'set' if len(sets) == 1 else 'sets'} {marks(sorted(sets, key=natural_order))}"] if sets else []
    )
    named += others[:_MOST_NAMED]
    more = len(others) - _MOST_NAMED
    return "; ".join(named) + (f"; and {more} more" if more > 0 else "")


def _written(thing: Thing, fact: str) -> str:
    recorded = thing.facts.get(fact)
    return recorded.value.text if recorded is not None and isinstance(recorded.value, Name) else ""
