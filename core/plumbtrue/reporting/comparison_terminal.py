"""The comparison for a terminal: what is worse first, then what was changed, then what the crew does."""

from collections.abc import Iterator
from typing import Final

from plumbtrue.documents.printable import printable, width_of
from plumbtrue.reporting.comparison import ComparisonReport
from plumbtrue.reporting.comparison_rows import Row, Table
from plumbtrue.reporting.terminal import in_plain_signs
from plumbtrue.reporting.text_layout import wrapped
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
    for number, sentence in enumerate(report.headline):
        yield from _paragraph(sentence, columns, "", "  ", "heading" if not number else "")
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
    yield from _table(report.rechecks, columns)
    yield from _crews(report, columns)
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


def _crews(report: ComparisonReport, columns: int) -> Iterator[_Line]:
    if not report.crews:
        return
    yield from _head("What to do on which set")
    yield from _paragraph(
        "With the pipe in at its low trim, the crew clear of it, and under whoever answers for the stage.",
        columns,
        "  ",
        "  ",
        "quiet",
    )
    for crew in report.crews:
        yield f"{'■' if crew.stop else '·'} {crew.title}", "out-of-service" if crew.stop else "heading"
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
