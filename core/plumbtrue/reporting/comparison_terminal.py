"""The comparison for a terminal: what is worse first, then what was changed, then what the crew does."""

from collections.abc import Iterator, Sequence
from typing import Final

from plumbtrue.documents.printable import printable, width_of
from plumbtrue.reporting.changeover_words import AS_A_RULE, Changeover, Crew, sign_of, standing_of
from plumbtrue.reporting.comparison import ComparisonReport
from plumbtrue.reporting.comparison_headline import HeadLine
from plumbtrue.reporting.comparison_rows import Row, Table
from plumbtrue.reporting.terminal import in_plain_signs
from plumbtrue.reporting.text_layout import padded, wrapped
from plumbtrue.reporting.wording import counted

_MOST_ROWS: Final = {"changes": 60, "values": 40, "by-packs": 40, "better": 40}
"""Rows of a table that a terminal shows; every other format shows all."""

_COLOURS: Final[dict[str, dict[str, object]]] = {
    "out-of-service": {"fg": "red", "bold": True},
    "before-next-use": {"fg": "yellow", "bold": True},
    "worse": {"fg": "yellow", "bold": True},
    "no longer known": {"fg": "magenta", "bold": True},
    "cannot-be-told": {"fg": "magenta", "bold": True},
    "next-maintenance": {"fg": "cyan"},
    "heading": {"bold": True},
    "quiet": {"dim": True},
}

_Line = tuple[str, str]
"""A line, and what it is."""


def terminal(report: ComparisonReport, *, width: int = 80, colour: bool = False, signs: bool = True) -> str:
    """The comparison as text, within 60 to 120 columns."""
    columns = max(60, min(width, 120))
    text = "".join(
        f"{_painted(printable(line), kind) if colour else printable(line)}\n"
        for line, kind in _lines(report, columns)
    )
    return text if signs else in_plain_signs(text)


def _painted(text: str, kind: str) -> str:
    import click

    style = _COLOURS.get(kind, {})
    return click.style(text, **style) if style and text else text  # type: ignore[arg-type]  # keywords by name


def _lines(report: ComparisonReport, columns: int) -> Iterator[_Line]:
    title, day = printable(report.house), f"as of {report.on}"
    gap = columns - width_of(title) - len(day)
    if gap >= 2:
        yield f"{title}{' ' * gap}{day}", "heading"
    else:
        yield title, "heading"
        yield day, "heading"
    yield from _paragraph(f"{report.old} → {report.new}", columns, "", "  ")
    yield "", ""
    for number, head in enumerate(report.headline):
        yield from _headline(head, columns, first=not number)
    yield from _changeover(report.changeover, columns)
    if report.afterwards:
        yield "", ""
    for head in report.afterwards:
        yield from _headline(head, columns, first=False)
    if report.states:
        yield from _head("SETS IN ANOTHER STATE")
        for row in report.states:
            was = f" ({row.what})" if row.what else ""
            text = f"{row.where}{was}: {row.before} → {row.after} ({row.label})"
            yield from _paragraph(text, columns, f"{row.sign or ' '} ", "    ", row.standing)
    for table in (report.pieces, *report.findings, report.hidden, report.changes, report.values):
        yield from _table(table, columns)
    yield from _table(report.packs, columns)
    yield from _table(report.by_packs, columns)
    yield from _table(report.waived, columns)
    yield from _table(report.rechecks, columns)
    yield from _crews(report.changeover, columns)
    yield from _behind(report, columns)


def _head(title: str) -> Iterator[_Line]:
    yield "", ""
    yield title.upper(), "heading"


def _table(table: Table, columns: int) -> Iterator[_Line]:
    if not table.rows:
        return
    yield from _head(f"{table.title}: {len(table.rows)}")
    if table.meaning:
        yield from _paragraph(table.meaning, columns, "  ", "  ", "quiet")
    most = _MOST_ROWS.get(table.anchor, len(table.rows))
    for row in table.rows[:most]:
        yield from _row(row, columns)
    if len(table.rows) > most:
        left = counted(len(table.rows) - most, "more row")
        yield from _paragraph(f"and {left}; every other format shows them", columns, "  ", "    ")


def _row(row: Row, columns: int) -> Iterator[_Line]:
    label = f" ({row.label})" if row.label else ""
    yield from _paragraph(
        f"{row.where}: {row.what}{label}", columns, f"{row.sign or '·'} ", "    ", row.standing
    )
    if row.before or row.after:
        yield from _paragraph(_moved(row), columns, "    ", "      ")
    for note in row.notes:
        yield from _paragraph(note, columns, "    ", "      ", "quiet")


def _moved(row: Row) -> str:
    tail = f" ({row.difference})" if row.difference else ""
    if not row.before:
        return f"{row.after}{tail}"
    return f"{row.before} → {row.after or 'nothing'}{tail}"


_LABEL_COLUMNS: Final = 18


def _headline(head: HeadLine, columns: int, *, first: bool) -> Iterator[_Line]:
    if not head.label:
        yield from _paragraph(head.text, columns, "", "  ", "heading" if first else "")
        return
    label = padded(head.label.upper(), _LABEL_COLUMNS)
    blank = " " * (_LABEL_COLUMNS + 2)
    yield from _paragraph(head.text, columns, f"{head.sign or ' '} {label}", blank, head.standing)


def _changeover(changeover: Changeover, columns: int) -> Iterator[_Line]:
    """The crew's list in short: what to do on which set, with bricks beside it."""
    if not changeover.crews:
        return
    widths = [max(width_of(name), 5) + 1 for name in changeover.bricks]
    beside = sum(widths) if sum(widths) <= columns // 2 else 0
    yield "", ""
    heads = "".join(f"{name:>{width}}" for name, width in zip(changeover.bricks, widths, strict=True))
    yield f"{padded(changeover.title.upper(), columns - beside)}{heads if beside else ''}".rstrip(), "heading"
    most = max([4, *(width_of(crew.set_key) for crew in changeover.crews)]) + 1
    for crew in changeover.stops_first:
        yield from _in_short(crew, changeover.bricks, widths if beside else [], columns - beside, most)
    for note in changeover.notes:
        yield from _paragraph(note, columns, "  ", "    ", "quiet")
    if changeover.check_again:
        yield from _paragraph(changeover.check_again, columns, "◆ ", "    ")


def _in_short(
    crew: Crew, kinds: Sequence[str], widths: Sequence[int], columns: int, most: int
) -> Iterator[_Line]:
    moved = [f"{text:>{width}}" for text, width in zip(crew.bricks, widths, strict=False)]
    brief = list(crew.brief) or ["bricks"]
    if not widths and any(crew.bricks):
        told = (f"{text} {kind}" for kind, text in zip(kinds, crew.bricks, strict=True) if text)
        brief.append(f"bricks {', '.join(told)}")
    first = f"{sign_of(crew) or ' '} {padded(crew.set_key or '-', most)}"
    for number, text in enumerate(brief):
        lines = wrapped(text, columns, first if not number else " " * (most + 2), " " * (most + 4))
        for place, line in enumerate(lines):
            beside = "".join(moved) if not number and not place else ""
            yield f"{padded(line, columns)}{beside}".rstrip(), standing_of(crew)


def _crews(changeover: Changeover, columns: int) -> Iterator[_Line]:
    if not changeover.crews:
        return
    yield from _head("What to do on which set, step by step")
    yield from _paragraph(AS_A_RULE, columns, "  ", "  ", "quiet")
    for crew in changeover.crews:
        yield f"{sign_of(crew) or '·'} {crew.title}", standing_of(crew) or "heading"
        for step in crew.steps:
            yield from _paragraph(step, columns, "    ", "      ")


def _behind(report: ComparisonReport, columns: int) -> Iterator[_Line]:
    if report.standing:
        yield from _head("As before, and still to be dealt with")
        for line in report.standing:
            yield from _paragraph(line, columns, "  ", "    ")
    yield from _head("Behind this")
    for line in report.behind:
        yield from _paragraph(line, columns, "  ", "    ")
    yield "", ""
    for caution in report.cautions:
        yield from _paragraph(caution, columns, "  ", "  ", "quiet")


def _paragraph(text: str, columns: int, first: str, rest: str, kind: str = "") -> Iterator[_Line]:
    for line in wrapped(text, columns, first, rest):
        yield line, kind
