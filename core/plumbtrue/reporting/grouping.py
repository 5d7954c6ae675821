"""Outcomes drawn together for a reader: one rule at one line set is one entry, however many lines have it.

Things that a rule judged in the same words are named together; the walk orders them, from the rail over
the deck and the bridge to the grid.
"""

import re
from collections.abc import Callable, Iterable, Mapping
from functools import partial
from typing import Final

from plumbtrue.audit.deciding import Whereabouts
from plumbtrue.audit.outcome import Acceptance, Outcome, Result
from plumbtrue.audit.verdicts import line_set_of
from plumbtrue.reporting.places_in_words import name_of, where
from plumbtrue.reporting.report import Accepted, Entry, Said, WorkingLine
from plumbtrue.reporting.wording import (
    RESULT_LABELS,
    SEVERITY_LABELS,
    authority,
    authority_in_short,
    sentence,
)
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.packs.pack import Change, RuleBook

WorkingOf = Callable[[Outcome], tuple[WorkingLine, ...]]
PlaceOf = Callable[[Outcome], Whereabouts]

HOUSE: Final = ""
_FAR_ALONG: Final = 99


def entries(
    outcomes: Iterable[Outcome], book: RuleBook, working: WorkingOf, place: PlaceOf
) -> tuple[Entry, ...]:
    """Outcomes as entries, in order of action: the gravest first, set by set as people count, then as one
    walks.
    """
    grouped: dict[tuple[str, str, Result, Acceptance | None], list[Outcome]] = {}
    for outcome in outcomes:
        key = (set_key(outcome.thing), outcome.rule, outcome.result, outcome.acceptance)
        grouped.setdefault(key, []).append(outcome)
    titles = {key: _cited(work.title, work.edition) for key, work in book.works.items()}
    changes = changes_by_rule(book.changes)
    seen: dict[str, int] = {}
    made: list[tuple[tuple[object, ...], Entry]] = []
    for group in grouped.values():
        entry = _entry(group, book, titles, changes, partial(_said, working=working, place=place), seen)
        made.append((_order(group[0]), entry))
    return tuple(entry for _, entry in sorted(made, key=lambda pair: pair[0]))


def set_key(thing: Thing) -> str:
    """Key of the line set that a thing counts to; empty for the rest of the house."""
    line_set = line_set_of(thing)
    return HOUSE if line_set is None else line_set.key


def set_anchor(key: str) -> str:
    """Where a line set's card stands in a page; lasting, whatever is added to the house."""
    return f"set-{_plain(key)}" if key != HOUSE else "house"


def rule_anchor(slug: str) -> str:
    return f"rule-{_plain(slug)}"


def set_title(key: str) -> str:
    return f"Set {key}" if key != HOUSE else "The house"


def changes_by_rule(changes: Iterable[Change]) -> dict[str, tuple[str, ...]]:
    """What later packs changed in each rule, in words."""
    by_rule: dict[str, list[str]] = {}
    for one in changes:
        by_rule.setdefault(one.rule, []).append(changed(one))
    return {rule: tuple(told) for rule, told in by_rule.items()}


def changed(one: Change) -> str:
    """One change in words."""
    part = one.part.replace("parameters.", "").replace("_", " ")
    moved = {"set": "sets", "tighten": "tightens", "relax": "relaxes", "retire": "retires"}[one.way]
    if not one.moves:
        return f"{one.pack} states {part} = {one.after} too" + (
            "" if one.in_force else " (no longer in force)"
        )
    if one.way == "retire":
        return f"{one.pack} retires the rule" + ("" if one.in_force else " (no longer in force)")
    what = f"{one.pack} {moved} {part}"
    values = (
        f" from {one.before} to {one.after}"
        if one.before and one.after
        else f": {one.after}"
        if one.after
        else ""
    )
    return f"{what}{values}" + ("" if one.in_force else " (no longer in force)")


def _cited(title: str, edition: str) -> str:
    return f"{title} ({edition})" if edition else title


def _order(outcome: Outcome) -> tuple[object, ...]:
    key = set_key(outcome.thing)
    step = walk_step(outcome.thing)
    is_open = outcome.result is not Result.FINDING
    return (outcome.severity.rank, key == HOUSE, natural_order(key), is_open, step, outcome.rule)


def walk_step(thing: Thing) -> int:
    """Where the survey's walk first comes to a thing: its upper end is met on the bridge, not on the deck."""
    one: Thing | None = thing
    while one is not None:
        if one.role == "upper":
            return 10
        one = one.parent
    steps = [
        int(fact.step)
        for fact in thing.kind.facts.values()
        if fact.step is not None and str(fact.step).isdecimal() and fact.nature in ("identity", "condition")
    ]
    return min(steps, default=_FAR_ALONG)


def _entry(
    group: list[Outcome],
    book: RuleBook,
    titles: dict[str, str],
    changes: Mapping[str, tuple[str, ...]],
    said_of: Callable[[Iterable[Outcome], Thing | None], Iterable[Said]],
    seen: dict[str, int],
) -> Entry:
    first = group[0]
    key = set_key(first.thing)
    rule = book.rule(first.rule)
    assert rule is not None, f"{first.rule} judged and is in no pack"
    said = tuple(said_of(group, line_set_of(first.thing)))
    anchor = f"finding-{_plain(key) or 'house'}-{_plain(first.rule)}"
    seen[anchor] = seen.get(anchor, 0) + 1
    if seen[anchor] > 1:
        anchor = f"{anchor}-{seen[anchor]}"
    return Entry(
        anchor=anchor,
        rule=rule.slug,
        title=rule.title,
        subject=rule.about.replace("_", " "),
        severity=first.severity,
        severity_label=SEVERITY_LABELS[first.severity],
        result=first.result,
        result_label=RESULT_LABELS[first.result],
        set_key=key,
        set_anchor=set_anchor(key),
        set_title=set_title(key),
        said=said,
        remedies=tuple(dict.fromkeys(one.remedy for one in said if one.remedy)),
        why=rule.why.strip(),
        authorities=authority(rule, titles),
        authority=authority_in_short(rule, {key: work.title for key, work in book.works.items()}),
        pack=first.pack,
        changed_by=changes.get(rule.slug, ()),
        accepted=None if first.acceptance is None else accepted(first.acceptance),
        things=len(group),
    )


def _said(
    group: Iterable[Outcome], inside: Thing | None, *, working: WorkingOf, place: PlaceOf
) -> Iterable[Said]:
    alike: dict[tuple[str, str, tuple[str, ...]], list[Outcome]] = {}
    for outcome in sorted(group, key=lambda one: natural_order(one.thing.path)):
        reasons = tuple(
            dict.fromkeys(
                missing_in_words(outcome.thing, one.thing, one.fact, one.why) for one in outcome.missing
            )
        )
        alike.setdefault((outcome.message, outcome.remedy, reasons), []).append(outcome)
    for (message, remedy, reasons), outcomes in alike.items():
        things = [outcome.thing for outcome in outcomes]
        within = inside if inside is not None and all(thing.line_set is inside for thing in things) else None
        yield Said(
            where=where(things, within),
            message=sentence(message),
            remedy=sentence(remedy),
            paths=tuple(thing.path for thing in things),
            missing=reasons,
            location=place(outcomes[0]).place,
            written_at=place(outcomes[0]).lent_from,
            working=working(outcomes[0]),
        )


def missing_in_words(judged: Thing, thing: Thing, fact: str, why: str) -> str:
    """What is missing, seen from the thing that was judged."""
    name = fact.replace("_", " ")
    if thing is judged:
        return f"{name}: {why}"
    if judged.parent is not None and thing.line_set is not None and thing.line_set is judged.line_set:
        steps: list[str] = []
        one: Thing | None = thing
        while one is not None and one.kind.name not in ("line_set", "lift_line"):
            end = f" at the {one.role} end" if one.role in ("lower", "upper") else ""
            steps.append(f"{name_of(one)}{end}")
            one = one.parent
        line = thing.enclosing("lift_line")
        if line is not None and line is not judged.enclosing("lift_line"):
            steps.append(line.key)
        return f"{name} of the {' of '.join(steps)}: {why}" if steps else f"{name}: {why}"
    return f"{name} of {where([thing], None)}: {why}"


def accepted(acceptance: Acceptance) -> Accepted:
    standing = "expired" if acceptance.expired else "worse than accepted" if acceptance.worse else "in force"
    return Accepted(
        by=acceptance.by,
        until=acceptance.until,
        reason=acceptance.reason,
        meanwhile=acceptance.meanwhile,
        state=acceptance.state,
        standing=standing,
    )


def _plain(text: str) -> str:
    """As a part of an address: letters, digits and hyphens stay, anything else is spelled by its number.

    >>> _plain("14A"), _plain("rope-corrosion-pitted"), _plain('1"<')
    ('14A', 'rope-corrosion-pitted', '1_22__3c_')
    """
    return re.sub(r"[^A-Za-z0-9-]", lambda found: f"_{ord(found.group()):x}_", text)
