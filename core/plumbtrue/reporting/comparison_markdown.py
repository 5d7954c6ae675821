"""The comparison as Markdown, for reviews and mail: tables, worst first; it reads well raw."""

from collections.abc import Iterator, Sequence

from plumbtrue.reporting.changeover_words import AS_A_RULE, Changeover, sign_of
from plumbtrue.reporting.comparison import ComparisonReport
from plumbtrue.reporting.comparison_headline import HeadLine
from plumbtrue.reporting.comparison_rows import Row, Table
from plumbtrue.reporting.markdown_text import escaped, quoted


def markdown(report: ComparisonReport) -> str:
    """The comparison as Markdown."""
    return "\n".join(_lines(report)) + "\n"


def _lines(report: ComparisonReport) -> Iterator[str]:
    yield f"# {escaped(report.house)}: {escaped(report.old)} → {escaped(report.new)}"
    yield ""
    yield f"As of {escaped(report.on)}."
    yield ""
    yield from _heads(report.headline)
    yield from _changeover(report.changeover)
    yield from _heads(report.afterwards)
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
    yield from _findings(report.waived)
    yield from _rechecks(report.rechecks)
    yield from _crews(report.changeover)
    if report.standing:
        yield "## As before, and still to be dealt with"
        yield ""
        yield from (f"- {escaped(line)}" for line in report.standing)
        yield ""
    yield "## Behind this"
    yield ""
    yield from (f"- {escaped(line)}" for line in report.behind)
    yield ""
    yield from quoted(report.cautions)


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


def _heads(lines: Sequence[HeadLine]) -> Iterator[str]:
    for one in lines:
        label = f"{one.sign} {one.label}".strip()
        yield f"- **{escaped(label)}**: {escaped(one.text)}" if label else f"- **{escaped(one.text)}**"
    if lines:
        yield ""


def _changeover(changeover: Changeover) -> Iterator[str]:
    """The crew's list in short: what to do on which set, with bricks beside it."""
    if not changeover.crews:
        return
    yield f"## {changeover.title}"
    yield ""
    bricks = "".join(f" {escaped(name)} |" for name in changeover.bricks)
    yield f"| | set | what to do |{bricks}"
    yield f"|---|---|---|{'--:|' * len(changeover.bricks)}"
    for crew in changeover.stops_first:
        told = "<br>".join(escaped(one) for one in crew.brief)
        moved = "".join(f" {escaped(text)} |" for text in crew.bricks)
        yield f"| {sign_of(crew)} | **{escaped(crew.set_key or '-')}** | {told} |{moved}"
    yield ""
    for note in (*changeover.notes, changeover.check_again):
        if note:
            yield escaped(note)
            yield ""


def _crews(changeover: Changeover) -> Iterator[str]:
    if not changeover.crews:
        return
    yield "## What to do on which set, step by step"
    yield ""
    yield AS_A_RULE
    yield ""
    for crew in changeover.crews:
        yield f"- {f'{sign_of(crew)} '.lstrip()}**{escaped(crew.title)}**"
        yield from (f"  - [ ] {escaped(step)}" for step in crew.steps)
    yield ""
