"""The comparison of two revisions as a reader gets it: rows in order of danger, worded and grouped.

One typed object, `ComparisonReport`, from which every format is made; formats place it and decide nothing.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from plumbtrue import __version__
from plumbtrue.audit.acceptance_changes import Accepts, Covers
from plumbtrue.audit.comparing import Comparison, StateChange
from plumbtrue.audit.item_verdicts import ItemState
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.audit.outcome_changes import Turn
from plumbtrue.audit.verdicts import State
from plumbtrue.quantities.values import Name
from plumbtrue.reporting.changeover_words import Changeover, changeover, piece_of, recheck_rows
from plumbtrue.reporting.comparison_headline import HeadLine, afterwards, headline
from plumbtrue.reporting.comparison_rows import Row, Table, changed_rows, finding_rows, pack_rows, value_rows
from plumbtrue.reporting.grouping import set_key, set_title
from plumbtrue.reporting.showing import ITEM_LABELS, ITEM_SIGNS, STATE_OF_ITEM
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
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.severity import Severity


@dataclass(frozen=True, slots=True)
class ComparisonReport:
    """Everything that any format prints about two revisions."""

    version: str
    house: str
    old: str
    new: str
    """What was compared, as the person named it."""
    on: str
    headline: tuple[HeadLine, ...]
    """The answer for whoever reads no further, in order of action."""
    changeover: Changeover
    """What the crew does on which set."""
    afterwards: tuple[HeadLine, ...]
    """How findings and questions came out by number, and what the packs did."""
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
    waived: Table
    """Acceptances of single findings that come to something else now."""
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
        headline=tuple(headline(comparison)),
        changeover=changeover(comparison),
        afterwards=tuple(afterwards(comparison)),
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
            "The packs now do not find it worse, or find it milder; the rules were changed in the same step.",
            finding_rows(comparison.hidden, comparison),
        ),
        rechecks=Table(
            "rechecks",
            "To be checked again on stage",
            "Something in the load, in the load path or beside it is other than before.",
            recheck_rows(comparison),
        ),
        waived=Table(
            "waived",
            "What was accepted of single findings",
            "An acceptance holds for the state that was accepted, in whichever revision has it.",
            tuple(_waived(comparison)),
        ),
        standing=tuple(_standing(comparison.standing)),
        behind=tuple(_behind(comparison)),
        cautions=CAUTIONS,
    )


def _house(comparison: Comparison) -> str:
    recorded = comparison.new.rig.house.facts.get("name")
    named = recorded.value if recorded is not None else None
    return named.text if isinstance(named, Name) else comparison.new.rig.house.key


def _piece_rows(comparison: Comparison) -> Iterator[Row]:
    accepted = {one.of for one in comparison.acceptances}
    not_yet = " and not yet accepted" if Accepts.OLD in accepted and Accepts.NEW not in accepted else ""
    for one in comparison.pieces:
        standing = STATE_OF_ITEM[one.after].value if one.after is not None else ""
        if one.before is None or one.after is None:
            label = f"{'new' if one.before is None else 'cut'}{not_yet}"
        elif one.before is one.after:
            label = "changed, and as before"
        elif one.after is ItemState.CANNOT_BE_TOLD:
            label = "cannot be told"
        else:
            label = "worse" if one.is_worse else "better"
        on = one.thing.references.get("on")
        hangs_on = f", set {on.key}" if isinstance(on, Thing) and on.line_set is on else ""
        yield Row(
            sign=ITEM_SIGNS[one.after] if one.after is not None else "",
            standing=standing,
            label=label,
            where=f"{piece_of(one.thing)}{hangs_on}",
            what=_reasons(one.reasons, comparison)
            or ("cut from the plot" if one.after is None else "nothing against it"),
            before=_piece_state(one.before),
            after=_piece_state(one.after),
        )


def _piece_state(state: ItemState | None) -> str:
    return ITEM_LABELS[state].lower() if state is not None else "not there"


_MOST_REASONS: Final = 4


def _reasons(reasons: Sequence[str], comparison: Comparison) -> str:
    """The gravest reasons in words; rules by their names, for what each found stands below."""
    shown = reasons if len(reasons) <= _MOST_REASONS + 1 else reasons[:_MOST_REASONS]
    rules = [why for why in shown if comparison.new.rulebook.rule(why) is not None]
    others = [why for why in shown if why not in rules]
    told = f"not met, or not told: {listed(rules)}" if rules else ""
    left = len(reasons) - len(shown)
    more = f"and {left} more reasons, which plumbtrue check tells of each piece" if left else ""
    return "; ".join(part for part in (told, *others, more) if part)


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


_COVERS: Final = {
    Covers.COVERS: "covers it",
    Covers.RUN_OUT: "has run out",
    Covers.WORSE: "does not cover it: it is worse than what was accepted",
    Covers.NOTHING: "there is nothing there to accept",
}


def _waived(comparison: Comparison) -> Iterator[Row]:
    for one in comparison.waived:
        waiver = one.waiver
        yield Row(
            sign="▲" if one.is_for_the_worse else "·",
            standing="before-next-use" if one.is_for_the_worse else "",
            label="not for this revision" if one.before is Covers.COVERS else "other than before",
            where=waiver.thing.text,
            what=f"{waiver.rule.text}, accepted by {waiver.accepted_by} until {waiver.until.isoformat()}",
            before=_COVERS[one.before],
            after=_COVERS[one.after],
            notes=(sentence(waiver.reason),),
        )


def _so_it_is(one: StateChange) -> str:
    """What became of a set in a word. One that cannot be told any more is not better."""
    if one.untagged:
        return "its tag is gone"
    if one.before is None or one.after is None:
        return "new" if one.before is None else "gone"
    if one.after is State.CANNOT_BE_TOLD:
        return "cannot be told"
    return "worse" if one.is_worse else "better"


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
