"""What a card says has to be done on its set, and found out, short enough for one sheet of paper.

What is to be found out of the same things is one row, whatever number of rules asks for it. How large the
lettering is on paper, and whether the mildest rows are left to the screen, is decided here from how much there
is to say: the sheet at the rail is one sheet.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from math import ceil
from typing import Final

from plumbtrue.audit.outcome import Outcome
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.reporting.places_in_words import where
from plumbtrue.reporting.report import CardRow, CardRows, Entry
from plumbtrue.reporting.wording import SEVERITY_LABELS, SEVERITY_SIGNS
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.result import Result
from plumbtrue.rules.severity import Severity


@unchanging
class _Lettering:
    """A size of print: what fits on a line of the table, and how many lines a sheet leaves to it."""

    name: str
    columns: int
    lines: int


_SMALL: Final = _Lettering("small", 126, 33)
_TIGHT: Final = _Lettering("tight", 126, 40)
_LETTERINGS: Final = (
    _Lettering("roomy", 92, 3),
    _Lettering("large", 96, 13),
    _Lettering("middle", 112, 18),
    _SMALL,
)
"""Found by printing: a card of this many lines leaves the drawings room on a sheet of letter or A4 size."""


RULES_PRINTED: Final = 2
"""How many rules of a row paper names; a screen leads to all of them."""


def rows_of(entries: Iterable[Entry], outcomes: Iterable[Outcome], inside: Thing | None) -> CardRows:
    """The rows of one card, gravest first, what is to be done before what is to be found out.

    Args:
        outcomes: those behind the entries, for what is missing in each.
        inside: the line set; nothing for the rest of the house.
    """
    told = list(entries)
    acts = [_act(one) for one in told if one.result is Result.FINDING]
    anchors = {one.rule: one.anchor for one in told if one.result is not Result.FINDING}
    asks = _asks([one for one in outcomes if one.counts and one.rule in anchors], anchors, inside)
    return _fitted((*acts, *asks))


def _act(entry: Entry) -> CardRow:
    accepted = entry.accepted
    mark = (
        "" if accepted is None else f"accepted until {accepted.until} by {accepted.by}, {accepted.standing}"
    )
    return CardRow(
        severity=entry.severity,
        sign=SEVERITY_SIGNS[entry.severity],
        when=entry.severity_label,
        found=tuple((one.where, one.message) for one in entry.said),
        do=entry.remedies,
        rules=((entry.rule, entry.anchor),),
        is_open=False,
        mark=mark,
    )


def _asks(
    outcomes: Iterable[Outcome], anchors: Mapping[str, str], inside: Thing | None
) -> tuple[CardRow, ...]:
    """What nobody knows, by the things that it is to be found out of, whatever number of rules asks for it."""
    wanted: dict[tuple[str, str], dict[Thing, None]] = {}
    behind: dict[tuple[str, str], dict[str, Severity]] = {}
    for outcome in outcomes:
        if outcome.result is Result.FINDING:
            continue
        lacking = [((one.fact.replace("_", " "), one.why), one.thing) for one in outcome.missing]
        for key, thing in lacking or [(("", outcome.message), outcome.thing)]:
            wanted.setdefault(key, {})[thing] = None
            behind.setdefault(key, {})[outcome.rule] = outcome.severity
    of_things: dict[tuple[Thing, ...], list[tuple[str, str]]] = {}
    for key, things in wanted.items():
        of_things.setdefault(tuple(things), []).append(key)
    rows = []
    for wanting, keys in of_things.items():
        rules = {rule: severity for key in keys for rule, severity in behind[key].items()}
        gravest = min(rules.values(), key=lambda one: one.rank)
        within = inside if all(one.line_set is inside for one in wanting) else None
        facts = "; ".join(f"{fact}: {why}" if fact else why for fact, why in keys)
        rows.append(
            CardRow(
                severity=gravest,
                sign="?",
                when=SEVERITY_LABELS[gravest],
                found=((where(wanting, within), facts),),
                do=(),
                rules=tuple(
                    (rule, anchors[rule]) for rule in sorted(rules, key=lambda one: (rules[one].rank, one))
                ),
                is_open=True,
                mark="",
            )
        )
    return tuple(sorted(rows, key=lambda one: one.severity.rank))


def _fitted(rows: tuple[CardRow, ...]) -> CardRows:
    """The largest lettering at which all rows fit; at the smallest, the mildest ones are not printed, and where
    the others alone are too many, two drawings give way to them.
    """
    for lettering in _LETTERINGS:
        if sum(_lines(row, lettering) for row in rows) <= lettering.lines:
            return CardRows(rows, lettering.name, 0)
    grave = sum(_lines(row, _SMALL) for row in rows if not _can_wait(row))
    lettering = _SMALL if grave < _SMALL.lines else _TIGHT
    order = sorted(
        range(len(rows)), key=lambda place: (rows[place].severity.rank, rows[place].is_open, place)
    )
    room, kept = lettering.lines - 1, set[int]()
    for place in order:
        room -= _lines(rows[place], lettering)
        if room < 0 and _can_wait(rows[place]):
            break
        kept.add(place)
    shown = tuple(replace(row, printed=place in kept) for place, row in enumerate(rows))
    return CardRows(shown, lettering.name, len(rows) - len(kept))


def _can_wait(row: CardRow) -> bool:
    return row.severity.rank >= Severity.NEXT_MAINTENANCE.rank


def _lines(row: CardRow, lettering: _Lettering) -> int:
    """Lines that a row takes on paper."""
    rules = sum(len(slug) + 2 for slug, _ in row.rules[:RULES_PRINTED])
    said = sum(len(where) + len(text) + 3 for where, text in row.found) + len(row.mark) + rules
    return ceil(said / lettering.columns) + sum(ceil((len(one) + 4) / lettering.columns) for one in row.do)
