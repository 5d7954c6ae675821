"""What a card says has to be done on its set, and found out, short enough for one sheet of paper.

Questions of several rules that want the same facts are one row. How large the lettering is on paper, and
whether the mildest rows are left to the screen, is decided here from how much there is to say: the sheet at
the rail is one sheet.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import ceil
from typing import Final

from plumbtrue.reporting.report import CardRow, CardRows, Entry
from plumbtrue.reporting.wording import SEVERITY_SIGNS
from plumbtrue.rules.result import Result
from plumbtrue.rules.severity import Severity


@dataclass(frozen=True, slots=True)
class _Lettering:
    """A size of print: what fits on a line of the table, and how many lines a sheet leaves to it."""

    name: str
    columns: int
    lines: int


_LETTERINGS: Final = (
    _Lettering("roomy", 92, 5),
    _Lettering("large", 96, 13),
    _Lettering("middle", 112, 18),
    _Lettering("small", 126, 35),
)
"""Found by printing: a card of this many lines leaves the drawings room on a sheet of letter or A4 size."""


def rows_of(entries: Iterable[Entry]) -> CardRows:
    """The rows of one card, gravest first, what is to be done before what is to be found out."""
    told = list(entries)
    acts = [_act(one) for one in told if one.result is Result.FINDING]
    asks = _asks([one for one in told if one.result is not Result.FINDING])
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


def _asks(entries: Sequence[Entry]) -> tuple[CardRow, ...]:
    """What cannot be told, by what is missing: rules that want the same of the same are one row."""
    alike: dict[tuple[str, tuple[str, ...]], list[Entry]] = {}
    for entry in entries:
        for said in entry.said:
            wanted = said.missing or (said.message,)
            its = alike.setdefault((said.where, wanted), [])
            if not any(one.anchor == entry.anchor for one in its):
                its.append(entry)
    rows = []
    for (where, wanted), its in alike.items():
        gravest = min(its, key=lambda one: one.severity.rank)
        rows.append(
            CardRow(
                severity=gravest.severity,
                sign="?",
                when=gravest.severity_label,
                found=((where, "; ".join(wanted)),),
                do=(),
                rules=tuple((one.rule, one.anchor) for one in its),
                is_open=True,
                mark="",
            )
        )
    return tuple(sorted(rows, key=lambda one: one.severity.rank))


def _fitted(rows: tuple[CardRow, ...]) -> CardRows:
    """The largest lettering at which all rows fit; at the smallest, the mildest ones are not printed."""
    for lettering in _LETTERINGS:
        if sum(_lines(row, lettering) for row in rows) <= lettering.lines:
            return CardRows(rows, lettering.name, 0)
    smallest = _LETTERINGS[-1]
    order = sorted(
        range(len(rows)), key=lambda place: (rows[place].severity.rank, rows[place].is_open, place)
    )
    room, kept = smallest.lines - 1, set[int]()
    for place in order:
        room -= _lines(rows[place], smallest)
        if room < 0 and kept and rows[place].severity.rank >= Severity.NEXT_MAINTENANCE.rank:
            break
        kept.add(place)
    shown = tuple(replace(row, printed=place in kept) for place, row in enumerate(rows))
    return CardRows(shown, smallest.name, len(rows) - len(kept))


def _lines(row: CardRow, lettering: _Lettering) -> int:
    """Lines that a row takes on paper."""
    rules = sum(len(slug) + 2 for slug, _ in row.rules)
    said = sum(len(where) + len(text) + 3 for where, text in row.found) + len(row.mark) + rules
    return ceil(said / lettering.columns) + sum(ceil((len(one) + 4) / lettering.columns) for one in row.do)
