"""The comparison as Markdown, for reviews and mail: tables, worst first; it reads well raw."""

from collections.abc import Iterator

from plumbtrue.reporting.comparison import ComparisonReport
from plumbtrue.reporting.comparison_rows import Row, Table
from plumbtrue.reporting.markdown import escaped


def markdown(report: ComparisonReport) -> str:
    """The comparison as Markdown."""
    return "\n".join(_lines(report)) + "\n"


def _lines(report: ComparisonReport) -> Iterator[str]:
    yield f"# {escaped(report.house)}: {escaped(report.old)} → {escaped(report.new)}"
    yield ""
    yield f"As of {escaped(report.on)}."
    yield ""
    for number, sentence in enumerate(report.headline):
        yield f"**{escaped(sentence)}**" if not number else escaped(sentence)
        yield ""
    if report.states:
        yield "## Sets in another state"
        yield ""
        yield "| set | before | now | |"
        yield "|---|---|---|---|"
        for row in report.states:
            was = f" ({escaped(row.what)})" if row.what else ""
            after = escaped(f"{row.sign} {row.after}".strip())
            yield f"| **{escaped(row.where)}**{was} | {escaped(row.before)} | {after} | {escaped(row.label)} |"
        yield ""
    for table in (report.pieces, *report.findings, report.hidden):
        yield from _findings(table)
    for table in (report.changes, report.values, report.packs):
        yield from _table(table)
    yield from _findings(report.by_packs)
    yield from _rechecks(report.rechecks)
    yield from _crews(report)
    if report.standing:
        yield "## As before, and still to be dealt with"
        yield ""
        yield from (f"- {escaped(line)}" for line in report.standing)
        yield ""
    yield "## Behind this"
    yield ""
    yield from (f"- {escaped(line)}" for line in report.behind)
    yield ""
    for caution in report.cautions:
        yield f"> {escaped(caution)}"
        yield ">"


def _head(table: Table) -> Iterator[str]:
    yield f"## {escaped(table.title)}: {len(table.rows)}"
    yield ""
    if table.meaning:
        yield escaped(table.meaning)
        yield ""


def _findings(table: Table) -> Iterator[str]:
    """Findings need room for their words, so each is an item of a list."""
    if not table.rows:
        return
    yield from _head(table)
    for row in table.rows:
        yield f"- {escaped(row.sign)} **{escaped(row.where)}** ({escaped(row.label)}): {escaped(row.what)}"
        if row.before or row.after:
            yield f"  - {escaped(row.before)} → {escaped(row.after)}"
        yield from (f"  - {escaped(note)}" for note in row.notes)
    yield ""


def _table(table: Table) -> Iterator[str]:
    if not table.rows:
        return
    yield from _head(table)
    yield "| where | what | | before | now | difference |"
    yield "|---|---|---|---|---|---|"
    yield from (_row(row) for row in table.rows)
    yield ""


def _row(row: Row) -> str:
    what = escaped("; ".join((row.what, *row.notes)))
    label = escaped(f"{row.sign} {row.label}".strip())
    cells = (f"**{escaped(row.where)}**", what, label, escaped(row.before), escaped(row.after))
    return f"| {' | '.join(cells)} | {escaped(row.difference)} |"


def _rechecks(table: Table) -> Iterator[str]:
    if not table.rows:
        return
    yield from _head(table)
    for row in table.rows:
        yield f"- **{escaped(row.where)}** ({escaped(row.label)}): {escaped(row.what)}"
    yield ""


def _crews(report: ComparisonReport) -> Iterator[str]:
    if not report.crews:
        return
    yield "## What to do on which set"
    yield ""
    yield "With the pipe in at its low trim, the crew clear of it, and under whoever answers for the stage."
    yield ""
    for crew in report.crews:
        yield f"- {'■ ' if crew.stop else ''}**{escaped(crew.title)}**"
        yield from (f"  - [ ] {escaped(step)}" for step in crew.steps)
    yield ""
