"""Rows of a comparison: what became of findings, what was changed, what that did to values, in the trade's
words, with like ones drawn together.
"""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import isfinite
from typing import Final, cast

from plumbtrue.audit.comparing import Comparison
from plumbtrue.audit.computed_changes import ComputedChange
from plumbtrue.audit.outcome import Result
from plumbtrue.audit.outcome_changes import OutcomeChange, Turn
from plumbtrue.audit.pack_changes import PackChange, PackDeed
from plumbtrue.audit.rig_changes import Deed, RigChange
from plumbtrue.audit.verdicts import line_set_of
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import DURATION, RATIO
from plumbtrue.quantities.values import Absent, Choice, Name, Unknown, Value
from plumbtrue.quantities.writing import System, as_said, write, write_value
from plumbtrue.reporting.grouping import set_key, set_title
from plumbtrue.reporting.places_in_words import name_of, where
from plumbtrue.reporting.wording import (
    COMMON_PRACTICE,
    SEVERITY_LABELS,
    SEVERITY_SIGNS,
    authority_in_short,
    listed,
    marks,
    sentence,
)
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Fact

NOT_RECORDED: Final = "not recorded"
_DAY: Final = 86400.0
"""[s]"""


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table; every text is worded and may be empty."""

    sign: str
    """A shape that can be told in black and white."""
    standing: str
    """A severity, a state, or what a value came to: for colour beside the sign."""
    label: str
    """What became of it, in one or two words."""
    where: str
    what: str
    before: str = ""
    after: str = ""
    difference: str = ""
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under a head."""

    anchor: str
    title: str
    meaning: str
    rows: tuple[Row, ...]


TURN_LABELS: Final = {
    Turn.APPEARED: "new",
    Turn.WORSENED: "worse",
    Turn.NO_LONGER_TOLD: "cannot be told any more",
    Turn.QUESTION_OPENED: "question opened",
    Turn.CHANGED: "other values",
    Turn.UNCOVERED: "was behind another",
    Turn.IMPROVED: "better",
    Turn.QUESTION_SETTLED: "question settled",
    Turn.WENT_AWAY: "gone",
}

DEED_LABELS: Final = {
    Deed.ADDED: "added",
    Deed.REMOVED: "taken out",
    Deed.REPLACED: "replaced",
    Deed.RENAMED: "renamed",
    Deed.MOVED: "moved",
    Deed.SWAPPED: "swapped",
    Deed.CHANGED: "changed",
    Deed.REORDERED: "in another order",
    Deed.LOOKED_AT: "looked at",
    Deed.REMARKED: "remark",
}

PACK_LABELS: Final = {
    PackDeed.PACK_ADDED: "pack added",
    PackDeed.PACK_LEFT_OUT: "pack left out",
    PackDeed.EDITION: "other edition",
    PackDeed.FILES: "other files, same edition",
    PackDeed.RULE_ADDED: "rule added",
    PackDeed.RULE_LEFT_OUT: "rule left out",
    PackDeed.RULE_RENAMED: "rule renamed",
    PackDeed.RULE_RETIRED: "rule retired",
    PackDeed.RULE_BACK: "rule in force again",
    PackDeed.PART: "changed",
    PackDeed.WORDS: "other words",
    PackDeed.TABLE: "table",
}

_CAME_LABELS: Final = {
    "worse": "worse",
    "no longer known": "not known any more",
    "cannot be told": "other",
    "neither": "other",
    "now known": "known now",
    "better": "better",
}
_CAME_ORDER: Final = tuple(_CAME_LABELS)
_CAME_SIGNS: Final = {"worse": "▲", "no longer known": "?", "better": "○"}


def finding_rows(changes: Iterable[OutcomeChange], comparison: Comparison) -> tuple[Row, ...]:
    """What became of findings and questions, in the order given; one rule at one set is one row."""
    grouped: dict[object, list[OutcomeChange]] = {}
    for one in changes:
        key = (one.turn, one.severity, one.rule, set_key(one.thing), one.why, one.counts)
        said = _said(one)
        grouped.setdefault((key, said), []).append(one)
    rows = [(_finding(its, comparison), set_key(its[0].thing)) for its in grouped.values()]
    return tuple(_over_sets(rows))


def _said(change: OutcomeChange) -> tuple[str, str]:
    return tuple(
        one.message if one is not None and one.result is Result.FINDING else ""
        for one in (change.old, change.new)
    )  # type: ignore[return-value]  # two of them


def _finding(its: Sequence[OutcomeChange], comparison: Comparison) -> Row:
    first = its[0]
    outcome = first.outcome
    books = comparison.new.rulebook, comparison.old_packs
    rule = next((found for book in books if (found := book.rule(first.rule)) is not None), None)
    things = [one.thing for one in its]
    was, now = _said(first)
    what = now or was or (rule.title if rule is not None else first.rule)
    notes = [sentence(first.why)]
    if was and now and was != now:
        notes.append(f"Before: {sentence(was)}")
    notes += _missing(its)
    if outcome.remedy and first.new is not None:
        notes.append(f"Do: {sentence(outcome.remedy)}")
    if first.new is not None and first.new.acceptance is not None:
        mark = first.new.acceptance
        standing = "does not cover it" if first.counts else "covers it"
        notes.append(f"Accepted by {mark.by} until {mark.until}, which {standing}: {sentence(mark.reason)}")
    titles = {key: work.title for book in books for key, work in book.works.items()}
    stands_on = authority_in_short(rule, titles) if rule is not None else COMMON_PRACTICE
    notes.append(f"Rule {first.rule} ({stands_on})")
    values = [_moved(first, name, comparison) for name in (one.name for one in first.values)]
    known = [one for one in values if one is not None]
    return Row(
        sign="?"
        if first.turn in (Turn.NO_LONGER_TOLD, Turn.QUESTION_OPENED)
        else SEVERITY_SIGNS[first.severity],
        standing=first.severity.value,
        label=f"{TURN_LABELS[first.turn]}, {SEVERITY_LABELS[first.severity].lower()}",
        where=_inside(things),
        what=sentence(what),
        before=", ".join(before for before, _ in known),
        after=", ".join(after for _, after in known),
        notes=tuple(notes),
    )


def _moved(change: OutcomeChange, name: str, comparison: Comparison) -> tuple[str, str] | None:
    """A value before and after, as the rule names it; nothing where its unit is not known here."""
    fact = change.thing.kind.facts.get(name)
    moved = next(one for one in change.values if one.name == name)
    if fact is None:
        return None
    system = cast(System, comparison.new.rig.units)
    called = name.replace("_", " ")
    return f"{called} {worded(moved.before, fact, system)}", f"{called} {worded(moved.after, fact, system)}"


def _missing(its: Sequence[OutcomeChange]) -> list[str]:
    asked: dict[str, None] = {}
    for one in its:
        for missing in one.new.missing if one.new is not None else ():
            asked[f"{missing.fact.replace('_', ' ')} ({missing.why})"] = None
    return [f"To find out: {listed(list(asked))}."] if asked else []


def _at(things: Sequence[Thing]) -> str:
    """Things of one set, or of the rest of the house, with the set first."""
    line_set = line_set_of(things[0])
    inside = [thing for thing in things if thing.line_set is not None]
    if line_set is None:
        return where(things, None)
    title = set_title(line_set.key)
    named = where(inside, line_set) if len(inside) == len(things) else where(things, None)
    return title if named == "the set" else f"{title}, {without_plot(named)}"


def without_plot(named: str) -> str:
    """A name of things without saying of each that it is of the plot."""
    return re.sub(r" of plot(?=,| and |$)", "", named)


def changed_rows(comparison: Comparison) -> tuple[Row, ...]:
    """What was changed, sets with the worst of the findings first; like changes on several sets are one."""
    ranks = _ranks(comparison.outcomes)
    system = cast(System, comparison.new.rig.units)
    per_set: dict[object, list[RigChange]] = {}
    for one in comparison.changes:
        per_set.setdefault((_key_of(one), _wording(one, system)), []).append(one)
    rows: list[tuple[tuple[object, ...], Row, str]] = []
    for its in per_set.values():
        first = its[0]
        key = _key_of(first)
        told = _wording(first, system)
        is_set = first.thing.kind.name == "line_set" and first.deed in (Deed.ADDED, Deed.REMOVED)
        things = [one.thing for one in its]
        named = "" if is_set else _inside(things)
        order = (ranks.get(key, _LAST), not key, natural_order(key), natural_order(first.thing.path))
        rows.append((order, replace(told, where=named), key))
    rows.sort(key=lambda one: cast("tuple[int, bool]", one[0]))
    return tuple(_over_sets((row, key) for _, row, key in rows))


_LAST: Final = 99


def _key_of(change: RigChange) -> str:
    return set_key(change.thing)


def _ranks(changes: Iterable[OutcomeChange]) -> Mapping[str, int]:
    """How grave the worst of what is new, worse or open on each set is."""
    ranks: dict[str, int] = {}
    for one in changes:
        if one.turn.is_for_the_worse or one.turn.is_open:
            key = set_key(one.thing)
            ranks[key] = min(ranks.get(key, _LAST), one.severity.rank)
    return ranks


def _inside(things: Sequence[Thing]) -> str:
    """Things of one set as seen from it; of the rest by their whole names."""
    line_set = things[0].line_set
    if line_set is None or any(thing.line_set is not line_set for thing in things):
        return without_plot(where(things, None))
    named = where(things, line_set)
    return "" if named == "the set" else named


def _over_sets(rows: Iterable[tuple[Row, str]]) -> Iterator[Row]:
    """The same on several sets told once, where the first of them stands."""
    grouped: dict[Row, list[str]] = {}
    for row, key in rows:
        grouped.setdefault(row, []).append(key)
    for row, keys in grouped.items():
        sets = sorted((key for key in keys if key), key=natural_order)
        title = "" if not sets else set_title(sets[0]) if len(sets) == 1 else f"Sets {marks(sets)}"
        yield replace(row, where=", ".join(part for part in (title, row.where) if part) or "The house")


def _wording(change: RigChange, system: System) -> Row:
    """A change without its place."""
    thing = change.thing
    fact = change.declared
    label = DEED_LABELS[change.deed]
    match change.deed:
        case Deed.ADDED:
            instead = f"was recorded as {change.before}" if change.before is not None else ""
            return Row("", "", label, "", named_thing(thing), instead, described(thing, system))
        case Deed.REMOVED:
            instead = f"recorded as {change.after}" if change.after is not None else ""
            return Row("", "", label, "", named_thing(thing), described(thing, system), instead)
        case Deed.REPLACED:
            old, new = change.old, change.new
            assert old is not None
            assert new is not None
            before, after = (f"{named_thing(one)}, {described(one, system)}" for one in (old, new))
            return Row("", "", label, "", f"by {named_thing(new)}", before, after)
        case Deed.RENAMED:
            return Row(
                "", "", label, "", thing.kind.word.replace("-", " "), change.said_before, change.said_after
            )
        case Deed.REORDERED:
            old, new = change.old, change.new
            assert old is not None
            assert new is not None
            before, after = (_parts_in_order(its, change.fact, system) for its in (old, new))
            return Row("", "", label, "", f"{change.fact.replace('_', ' ')} end", before, after)
        case Deed.SWAPPED:
            return _swapped(change)
        case Deed.MOVED if fact is not None:
            before, after = (carrier_in_words(one, change.fact) for one in (change.old, change.new))
            return Row("", "", label, "", change.fact.replace("_", " "), before, after)
        case Deed.MOVED:
            return Row("", "", label, "", named_thing(thing), change.said_before, change.said_after)
        case Deed.LOOKED_AT | Deed.REMARKED:
            what = change.fact.replace("_", " ") or "seen"
            return Row(
                "", "", label, "", what, change.said_before or "nothing", change.said_after or "nothing"
            )
        case _ if fact is None or (
            change.before is None and change.after is None and change.said_before + change.said_after
        ):
            return Row(
                "", "", label, "", change.fact.replace("_", " "), change.said_before, change.said_after
            )
        case _:
            return Row(
                "",
                "",
                _closer(change) or label,
                "",
                change.fact.replace("_", " "),
                recorded(change.before, fact, system),
                recorded(change.after, fact, system),
                difference(change.difference, fact, system),
            )


def _closer(change: RigChange) -> str:
    """Of a figure that nobody says has moved: whether more or less is known of it now."""
    before, after = change.before, change.after
    if not isinstance(before, Bounds) or not isinstance(after, Bounds) or before == after:
        return ""
    if before.low <= after.low and after.high <= before.high:
        return "known more closely"
    return "known less closely" if after.low <= before.low and before.high <= after.high else ""


def _parts_in_order(thing: Thing, fact: str, system: System) -> str:
    """The parts of an end one after another; of several of one kind with what tells them apart."""
    parts = thing.members(fact)
    kinds = Counter(one.kind.name for one in parts)
    return ", ".join(
        name_of(one)
        if kinds[one.kind.name] == 1
        else f"{one.kind.word.replace('-', ' ')} ({described(one, system)})"
        for one in parts
    )


def _swapped(change: RigChange) -> Row:
    """Two things that took each other's place, or each other's name."""
    partner = change.partner
    assert partner is not None, "an exchange is one of two"
    if change.fact:
        other = partner.thing
        before, after = (carrier_in_words(one, change.fact) for one in (change.old, change.new))
        return Row("", "", "swapped", "", f"with {name_of(other)}, {named_thing(other)}", before, after)
    kind = change.thing.kind.word.replace("-", " ")
    return Row(
        "", "", "swapped", "", f"{kind}: two took each other's name", change.said_before, change.said_after
    )


def named_thing(thing: Thing) -> str:
    """What a thing is, with its name where it has one."""
    name = thing.facts.get("name")
    called = thing.kind.word.replace("-", " ")
    return f"{called} “{name.value.text}”" if name is not None and isinstance(name.value, Name) else called


_MOST_SAID: Final = 4


def carrier_in_words(thing: Thing | None, fact: str) -> str:
    """What a thing hangs or stands on, by the fact that names it."""
    named = thing.references.get(fact) if thing is not None else None
    if not isinstance(named, Thing):
        return ""
    return f"set {named.key}" if named.kind.name == "line_set" else name_of(named)


def described(thing: Thing, system: System) -> str:
    """What tells a thing from others, in a few facts."""
    said: list[str] = []
    for name, one in thing.facts.items():
        fact = thing.kind.facts.get(name)
        if fact is None or name in ("name", "note", "photos", "formerly", *thing.kind.keyed_by):
            continue
        if fact.nature in ("identity", "show", "condition") and not isinstance(one.value, Absent | Unknown):
            said.append(f"{name.replace('_', ' ')} {worded(one.value, fact, system)}")
    more = len(said) - _MOST_SAID
    return ", ".join(said[:_MOST_SAID]) + (f" and {more} more facts" if more > 0 else "") or "nothing more"


def recorded(value: Value | None, fact: Fact, system: System) -> str:
    """A recorded value in words."""
    return NOT_RECORDED if value is None else worded(value, fact, system)


def worded(value: Value, fact: Fact, system: System) -> str:
    """A value of a fact as the trade prints it."""
    match value:
        case Unknown():
            return "could not be told"
        case Choice():
            return write_value(as_said(value))
        case Bounds() if _is_share(fact):
            return write(value, RATIO, system, "%")
        case _:
            dimension = None if fact.type == "date" else fact.dimension or RATIO
            return write_value(value, dimension, system)


def _is_share(fact: Fact) -> bool:
    """Whether a ratio is read as a share of a limit."""
    return fact.dimension in (None, RATIO) and "utilisation" in fact.name


def difference(moved: Bounds | None, fact: Fact, system: System) -> str:
    """By how much a figure moved, and which way."""
    if moved is None or (moved.low == 0 and moved.high == 0):
        return ""
    dimension, size, unit = fact.dimension or RATIO, moved, None
    ways = ("less", "more")
    if fact.type == "date":
        dimension, ways = DURATION, ("earlier", "later")
        size = Bounds(moved.low * _DAY, moved.high * _DAY)
    elif _is_share(fact):
        unit = "%"
    if moved.low >= 0:
        return f"{write(size, dimension, system, unit)} {ways[1]}"
    if moved.high <= 0:
        return f"{write(-size, dimension, system, unit)} {ways[0]}"
    down, up = Bounds.exactly(-size.low), Bounds.exactly(size.high)
    return (
        f"{write(down, dimension, system, unit)} {ways[0]} to {write(up, dimension, system, unit)} {ways[1]}"
    )


def value_rows(comparison: Comparison) -> tuple[Row, ...]:
    """What a revision did to computed values: what is worse first, and of that what is nearest to its limit;
    the same fact of several lines of a set is one row.
    """
    system = cast(System, comparison.new.rig.units)
    grouped: dict[object, list[ComputedChange]] = {}
    for one in comparison.values:
        key = (set_key(one.new), one.new.kind.name, one.fact.name, one.came)
        grouped.setdefault(key if one.new.line_set is not None else one.new, []).append(one)
    rows = [_value_row(its, system) for its in grouped.values()]
    rows.sort(key=lambda one: one[0])
    return tuple(row for _, row in rows)


def _value_row(its: Sequence[ComputedChange], system: System) -> tuple[tuple[object, ...], Row]:
    """The row of some values, led by the worst of them, with its place among the rows."""
    worst = min(its, key=lambda one: (-_share_used(one), natural_order(one.new.path)))
    row = _value(worst, system)
    others = [
        f"{where([one.new], one.new.line_set)}: {other.before} → {other.after}"
        for one in its
        if one is not worst and (other := _value(one, system)) is not None
    ]
    key = set_key(worst.new)
    order = (
        _CAME_ORDER.index(worst.came),
        -_share_used(worst),
        not key,
        natural_order(key),
        natural_order(worst.new.path),
        worst.fact.name,
    )
    title = _at([worst.new])
    return order, replace(row, where=title, notes=(*row.notes, *(("; ".join(others),) if others else ())))


def _share_used(change: ComputedChange) -> float:
    """How much of its limit is used at the worse end that is known; nothing where it is no share of one."""
    if not _is_share(change.fact) or not isinstance(change.after, Bounds):
        return 0.0
    used = change.after.high if isfinite(change.after.high) else max(change.after.low, 0.0)
    # Lines that lie alike either side of the middle differ by rounding alone: their order is as people count.
    return float(f"{used:.9g}")


def _value(change: ComputedChange, system: System) -> Row:
    texts = [
        "not known" if isinstance(one, Unknown) else worded(one, change.fact, system)
        for one in (change.before, change.after)
    ]
    notes = tuple(
        dict.fromkeys(
            f"{one.fact.replace('_', ' ')} of {one.thing.path}: {one.why}"
            for one in change.missing[:_MOST_SAID]
        )
    )
    return Row(
        sign=_CAME_SIGNS.get(change.came, "·"),
        standing=change.came,
        label=_CAME_LABELS[change.came],
        where="",
        what=_fact_in_words(change.fact),
        before=texts[0],
        after=texts[1],
        difference=difference(change.difference, change.fact, system),
        notes=notes,
    )


def _fact_in_words(fact: Fact) -> str:
    """The name of a computed fact; what it is for under a plot is told by the plot."""
    hung = fact.name.endswith(("_hung", "_out_of_level"))
    return fact.name.removesuffix("_hung").replace("_", " ") + (" under the show" if hung else "")


def pack_rows(changes: Iterable[PackChange]) -> tuple[Row, ...]:
    """What was changed in the packs."""
    return tuple(
        Row(
            sign="",
            standing="",
            label=PACK_LABELS[one.deed],
            where=f"Pack {one.pack}",
            what=": ".join(
                part for part in (one.rule, one.part.removeprefix("parameters.").replace("_", " ")) if part
            )
            or "the pack",
            before=one.before,
            after=one.after,
            notes=(sentence(one.reason),) if one.reason else (),
        )
        for one in changes
    )
