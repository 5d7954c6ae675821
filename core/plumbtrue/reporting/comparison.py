"""The comparison of two revisions as a reader gets it: rows in order of danger, worded and grouped.

One typed object, `ComparisonReport`, from which every format is made; formats place it and decide nothing.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from plumbtrue import __version__
from plumbtrue.audit.comparing import Comparison, StateChange
from plumbtrue.audit.item_verdicts import ItemState
from plumbtrue.audit.natural_order import natural_order
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.audit.outcome_changes import OutcomeChange, Turn
from plumbtrue.audit.rig_changes import one_by_one
from plumbtrue.audit.verdicts import State
from plumbtrue.quantities.values import Name
from plumbtrue.reporting.changeover_words import Crew, crews, piece_of, recheck_rows
from plumbtrue.reporting.comparison_rows import Row, Table, changed_rows, finding_rows, pack_rows, value_rows
from plumbtrue.reporting.grouping import set_key, set_title
from plumbtrue.reporting.wording import (
    CAUTIONS,
    SEVERITY_LABELS,
    STATE_LABELS,
    STATE_SIGNS,
    counted,
    listed,
    marks,
    sentence,
)
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.severity import Severity

NOTHING: Final = (
    "Nothing differs. It does not say that anything is safe: what was found before stands as it was."
)


@dataclass(frozen=True, slots=True)
class ComparisonReport:
    """Everything that any format prints about two revisions."""

    version: str
    house: str
    old: str
    new: str
    """What was compared, as the person named it."""
    on: str
    headline: tuple[str, ...]
    """The answer for whoever reads no further; the first line says what is worse."""
    states: tuple[Row, ...]
    pieces: Table
    """Pieces of the show that stand otherwise than before."""
    findings: tuple[Table, ...]
    """What is new or worse, what cannot be told, what is better; empty ones left out."""
    changes: Table
    values: Table
    packs: Table
    by_packs: Table
    """What the change of the packs did to the newer rig."""
    hidden: Table
    """What is worse under the packs before alone."""
    rechecks: Table
    crews: tuple[Crew, ...]
    standing: tuple[str, ...]
    """What was there before and is still to be dealt with, in a few lines."""
    behind: tuple[str, ...]
    """What was read and by which packs it was judged."""
    cautions: tuple[str, ...]


def report_of(comparison: Comparison, old: str, new: str) -> ComparisonReport:
    """The report of a comparison; `old` and `new` are what the person called the revisions."""
    return ComparisonReport(
        version=__version__,
        house=_house(comparison),
        old=old,
        new=new,
        on=comparison.new.on.isoformat(),
        headline=tuple(_headline(comparison)),
        states=tuple(_states(comparison.states)),
        pieces=Table(
            "pieces",
            "Pieces that stand otherwise",
            "Whether each hangs as the plot asks, before and now.",
            tuple(_piece_rows(comparison)),
        ),
        findings=tuple(_findings(comparison)),
        changes=Table(
            "changes",
            "What was changed",
            "In the house and in the show, as written; what follows from it is below.",
            changed_rows(comparison),
        ),
        values=Table(
            "values",
            "What that did to computed values",
            "Where it is worse comes first. Differences move both ends of what is known.",
            value_rows(comparison),
        ),
        packs=Table("packs", "What was changed in the rule packs", "", pack_rows(comparison.packs)),
        by_packs=Table(
            "by-packs",
            "What the packs did",
            "The newer revision judged by the packs before and by the packs now: the rig is the same.",
            finding_rows(comparison.by_packs, comparison),
        ),
        hidden=Table(
            "hidden",
            "Worse by the packs before",
            "The packs now do not find it worse; the rules that did were changed in the same step.",
            finding_rows(comparison.hidden, comparison),
        ),
        rechecks=Table(
            "rechecks",
            "To be checked again on stage",
            "Something in the load, in the load path or beside it is other than before.",
            recheck_rows(comparison),
        ),
        crews=crews(comparison),
        standing=tuple(_standing(comparison.standing)),
        behind=tuple(_behind(comparison)),
        cautions=CAUTIONS,
    )


def _house(comparison: Comparison) -> str:
    recorded = comparison.new.rig.house.facts.get("name")
    named = recorded.value if recorded is not None else None
    return named.text if isinstance(named, Name) else comparison.new.rig.house.key


def _headline(comparison: Comparison) -> Iterator[str]:
    if comparison.is_alike:
        yield NOTHING
    else:
        yield _worse(comparison)
        yield from _stops(comparison)
        untagged = [one.new.key for one in comparison.states if one.untagged and one.new is not None]
        if untagged:
            yield f"{'The tag is' if len(untagged) == 1 else 'The tags are'} gone from {_sets(untagged)}."
        yield from _better(comparison)
        yield from _pieces(comparison)
        if comparison.packs:
            yield _of_packs(comparison)
    now = comparison.new
    if now.incomplete:
        yield f"The run was not complete: {'; '.join(now.incomplete)}."
    if not now.looked_at_anything:
        yield "No rule applied to anything here. Nothing was checked."
    for problem in comparison.problems:
        yield f"{problem.where}: {problem.what}."


def _sets(keys: Sequence[str]) -> str:
    return f"set {keys[0]}" if len(keys) == 1 else f"sets {marks(keys)}"


def _worse(comparison: Comparison) -> str:
    turns = Counter(one.turn for one in _matters(comparison.outcomes))
    told = [
        counted(turns[turn], one, many)
        for turn, one, many in (
            (Turn.APPEARED, "finding new", "findings new"),
            (Turn.WORSENED, "finding worse", "findings worse"),
            (Turn.NO_LONGER_TOLD, "finding cannot be told any more", "findings cannot be told any more"),
            (Turn.QUESTION_OPENED, "question opened", "questions opened"),
            (Turn.CHANGED, "finding with other values", "findings with other values"),
        )
        if turns[turn]
    ]
    states = Counter(one.after for one in comparison.pieces if one.is_worse)
    told = [
        *(
            counted(states[state], one, many)
            for state, one, many in (
                (
                    ItemState.DOES_NOT_HANG,
                    "piece that hung, or is new, does not hang",
                    "pieces that hung, or are new, do not hang",
                ),
                (ItemState.WITH_CHANGES, "piece hangs only with changes", "pieces hang only with changes"),
                (ItemState.CANNOT_BE_TOLD, "piece cannot be told", "pieces cannot be told"),
            )
            if states[state]
        ),
        *told,
    ]
    return sentence(listed(told)) if told else "No finding is new or worse, and no question was opened."


def _matters(changes: Iterable[OutcomeChange]) -> list[OutcomeChange]:
    """One for each rule and set, however many lines have it."""
    found: dict[object, OutcomeChange] = {}
    for one in changes:
        found.setdefault((one.turn, one.rule, set_key(one.thing)), one)
    return list(found.values())


def _stops(comparison: Comparison) -> Iterator[str]:
    """What must not fly and did before."""
    stops = [
        one
        for one in (*comparison.outcomes, *comparison.by_packs)
        if one.turn.is_for_the_worse and one.counts and one.severity is Severity.OUT_OF_SERVICE
    ]
    pieces = [one for one in comparison.pieces if one.is_worse and one.after is ItemState.DOES_NOT_HANG]
    stopped = [_where_in_short(one.thing) for one in pieces]
    places = list(dict.fromkeys((*stopped, *(_where_in_short(one.thing) for one in stops))))
    if places:
        yield f"New or worse, and must not fly: {listed(places)}."


def _where_in_short(thing: Thing) -> str:
    item = thing.enclosing("item")
    key = set_key(thing)
    name = item.facts.get("name") if item is not None else None
    called = name.value.text if name is not None and isinstance(name.value, Name) else ""
    where = set_title(key) if key else _outermost(thing)
    where = where[0].lower() + where[1:]
    return f"{called} on {where}" if called and key else called or where


def _outermost(thing: Thing) -> str:
    while thing.parent is not None and thing.parent.parent is not None:
        thing = thing.parent
    return f"the {thing.key}" if thing.parent is not None else "the house itself"


def _better(comparison: Comparison) -> Iterator[str]:
    turns = Counter(one.turn for one in _matters(comparison.outcomes))
    told = [
        counted(turns[turn], one, many)
        for turn, one, many in (
            (Turn.WENT_AWAY, "finding went away", "findings went away"),
            (Turn.IMPROVED, "finding is better, and one still", "findings are better, and findings still"),
            (Turn.QUESTION_SETTLED, "question settled", "questions settled"),
            (Turn.UNCOVERED, "finding stands alone now", "findings stand alone now"),
        )
        if turns[turn]
    ]
    if told:
        yield sentence(listed(told))


_PIECE_LABELS: Final = {
    ItemState.DOES_NOT_HANG: "does not hang",
    ItemState.WITH_CHANGES: "hangs with changes",
    ItemState.CANNOT_BE_TOLD: "cannot be told",
    ItemState.AS_ASKED: "hangs as asked",
}

_PIECE_SIGNS: Final = {
    ItemState.DOES_NOT_HANG: ("■", "out-of-service"),
    ItemState.WITH_CHANGES: ("▲", "before-next-use"),
    ItemState.CANNOT_BE_TOLD: ("?", "cannot-be-told"),
    ItemState.AS_ASKED: ("○", "nothing-found"),
}


def _piece_rows(comparison: Comparison) -> Iterator[Row]:
    for one in comparison.pieces:
        sign, standing = _PIECE_SIGNS[one.after] if one.after is not None else ("", "")
        if one.before is None or one.after is None:
            label = "new" if one.before is None else "cut"
        elif one.before is one.after:
            label = "changed, and cannot be told still"
        elif one.after is ItemState.CANNOT_BE_TOLD:
            label = "cannot be told"
        else:
            label = "worse" if one.is_worse else "better"
        on = one.thing.references.get("on")
        hangs_on = f", set {on.key}" if isinstance(on, Thing) and on.line_set is on else ""
        yield Row(
            sign=sign,
            standing=standing,
            label=label,
            where=f"{piece_of(one.thing)}{hangs_on}",
            what="; ".join(_reason(why, comparison) for why in one.reasons)
            or ("cut from the plot" if one.after is None else "nothing against it"),
            before=_PIECE_LABELS[one.before] if one.before is not None else "not there",
            after=_PIECE_LABELS[one.after] if one.after is not None else "not there",
        )


def _reason(why: str, comparison: Comparison) -> str:
    """A reason in words: of a rule that is not met, what it asks."""
    rule = comparison.new.rulebook.rule(why)
    return f"not met or not told: {rule.title} ({rule.slug})" if rule is not None else why


def _pieces(comparison: Comparison) -> Iterator[str]:
    """How many pieces of a show differ, and how many are the same."""
    matching = comparison.matching
    items = [pair.new for pair in matching.pairs if pair.new.kind.name == "item"]
    new = sum(thing.kind.name == "item" for thing in matching.added)
    cut = sum(thing.kind.name == "item" for thing in matching.gone)
    if not items and not new and not cut:
        return
    touched = {
        id(item)
        for one in one_by_one(comparison.changes)
        if (item := one.thing.enclosing("item")) is not None and one.new
    } | {
        id(matching.new_of.get(item))
        for one in one_by_one(comparison.changes)
        if one.new is None and (item := one.thing.enclosing("item")) is not None
    }
    changed = sum(id(item) in touched for item in items)
    same = len(items) - changed
    yield f"Pieces of the show: {changed} changed, {new} new, {cut} cut, {same} the same."


def _of_packs(comparison: Comparison) -> str:
    worse = len(_matters(one for one in comparison.by_packs if one.turn.is_for_the_worse))
    milder = len(_matters(one for one in comparison.by_packs if one.turn in (Turn.WENT_AWAY, Turn.IMPROVED)))
    told = [counted(worse, "finding")] if worse else []
    first = f"they alone make {listed(told)} new or worse" if told else "they make no finding new or worse"
    then = f" and take {counted(milder, 'finding')} away or make them milder" if milder else ""
    hidden = len(_matters(comparison.hidden))
    hides = f"; {counted(hidden, 'matter')} would be worse by the packs before" if hidden else ""
    return f"The rule packs were changed as well: {first}{then}{hides}."


def _states(states: Iterable[StateChange]) -> Iterator[Row]:
    """Sets whose state is another, those that stand worse first."""

    def rank(one: StateChange) -> tuple[int, int]:
        before = one.before.rank if one.before is not None else len(STATE_LABELS)
        after = one.after.rank if one.after is not None else len(STATE_LABELS)
        return (after >= before, after)

    for one in sorted(states, key=rank):
        key = (one.new or one.old or _nobody()).key
        was = "" if one.old is None or one.new is None or one.old.key == key else f"was {one.old.key}"
        yield Row(
            sign=STATE_SIGNS[one.after] if one.after is not None else "",
            standing=one.after.value if one.after is not None else "",
            label=_so_it_is(one),
            where=set_title(key),
            what=was,
            before=STATE_LABELS[one.before] if one.before is not None else "not there",
            after=STATE_LABELS[one.after] if one.after is not None else "not there",
        )


def _so_it_is(one: StateChange) -> str:
    """What became of a set in a word. One that cannot be told any more is not better."""
    if one.untagged:
        return "its tag is gone"
    if one.before is None or one.after is None:
        return "new" if one.before is None else "gone"
    if one.after is State.CANNOT_BE_TOLD:
        return "cannot be told"
    return "worse" if one.after.rank < one.before.rank else "better"


def _nobody() -> Thing:
    raise ValueError("a state is that of a set of one revision at least")


_PARTS: Final = (
    (
        "worse",
        "New or worse",
        "Findings that were not there before, or are worse now.",
        (Turn.APPEARED, Turn.WORSENED),
    ),
    (
        "open",
        "Cannot be told to be no worse",
        "Facts that went missing, questions that came up, and findings with other values.",
        (Turn.NO_LONGER_TOLD, Turn.QUESTION_OPENED, Turn.CHANGED),
    ),
    (
        "better",
        "Better, settled or gone",
        "Each by what became of it; a finding that is better is one still.",
        (Turn.UNCOVERED, Turn.IMPROVED, Turn.QUESTION_SETTLED, Turn.WENT_AWAY),
    ),
)


def _findings(comparison: Comparison) -> Iterator[Table]:
    for anchor, title, meaning, turns in _PARTS:
        rows = finding_rows((one for one in comparison.outcomes if one.turn in turns), comparison)
        if rows:
            yield Table(anchor, title, meaning, rows)


def _standing(outcomes: Iterable[Outcome]) -> Iterator[str]:
    """What is as it was, in one line for each severity."""
    sets: dict[tuple[Severity, bool], dict[str, None]] = {}
    numbers: Counter[tuple[Severity, bool]] = Counter()
    for one in outcomes:
        if not one.counts:
            continue
        key = (one.severity, one.result is Result.FINDING)
        numbers[key] += 1
        sets.setdefault(key, {})[set_key(one.thing)] = None
    for severity in Severity:
        for is_finding in (True, False):
            key = (severity, is_finding)
            if not numbers[key]:
                continue
            keys = sorted((one for one in sets[key] if one), key=natural_order)
            house = ["the house"] if "" in sets[key] else []
            where = listed(
                [
                    *([f"set {marks(keys)}" if len(keys) == 1 else f"sets {marks(keys)}"] if keys else []),
                    *house,
                ]
            )
            what = counted(numbers[key], "finding" if is_finding else "question")
            yield f"{SEVERITY_LABELS[severity]}: {what} as before, on {where}."


def _behind(comparison: Comparison) -> Iterator[str]:
    for called, audit in (("older", comparison.old), ("newer", comparison.new)):
        for file, digest in audit.rig.files:
            yield f"{called}: read {file}, digest {digest[:12]}"
    for called, book in (("older", comparison.old_packs), ("newer", comparison.new.rulebook)):
        for pack in book.packs:
            yield f"{called}: pack {pack.name}, edition {pack.edition}, digest {pack.digest[:12]}"
    yield "both revisions were judged by the newer packs, as of the same day"
    yield f"plumbtrue {__version__}"
