"""The show, item by item, as Markdown; and one show in several houses as a table."""

from collections.abc import Iterator

from plumbtrue.reporting.markdown_text import escaped
from plumbtrue.reporting.show_across import NOT_LAID, Table
from plumbtrue.reporting.show_report import ShowItem, ShowReason, ShowReport
from plumbtrue.reporting.wording import marks


def show_markdown(show: ShowReport | None) -> Iterator[str]:
    """Lines of the section; none where no plot was laid."""
    if show is None:
        return
    yield f"## The show, item by item: {escaped(show.title)}"
    yield ""
    yield "| state | how many | which |"
    yield "|---|---:|---|"
    for line in show.lines:
        which = escaped(f"{marks([key for key, _ in line.items])}: {line.meaning}")
        yield f"| {escaped(line.sign)} **{escaped(line.label)}** | {len(line.items)} | {which} |"
    yield ""
    yield "| item | on | comes to | because |"
    yield "|---|---|---|---|"
    for item in show.items:
        state = escaped(f"{item.sign} {item.label}")
        yield f"| **{escaped(item.title)}** | {escaped(item.on)} | {state} | {escaped(item.why)} |"
    yield ""
    for item in show.gravest_first:
        yield from _item(item)
    if show.whole:
        yield "### The whole plot"
        yield ""
        for reason in show.whole:
            yield from reason_markdown(reason)
        yield ""


def _item(item: ShowItem) -> Iterator[str]:
    yield f"### {escaped(item.sign)} {escaped(item.title)}, on {escaped(item.on)}: {escaped(item.label.lower())}"
    yield ""
    for reason in item.reasons:
        yield from reason_markdown(reason)
    for told in (item.behind, item.remarks):
        if told:
            yield f"- {escaped(told)}"
    for advice in item.advice:
        yield f"- **{escaped(advice)}**"
    yield ""


def reason_markdown(reason: ShowReason) -> Iterator[str]:
    """A reason with its rule, and what to do about it."""
    when = f"{escaped(reason.by_when)}: " if reason.by_when else ""
    rule = f" (`{reason.rule}`)" if reason.rule else ""
    yield f"- {when}{escaped(reason.text)}{rule}"
    if reason.remedy:
        yield f"  - Do: {escaped(reason.remedy)}"


def table_markdown(table: Table) -> str:
    """One show in several houses."""
    return "\n".join(_table(table)) + "\n"


def _table(table: Table) -> Iterator[str]:
    yield f"# {escaped(table.title)}, house by house"
    yield ""
    for house in table.houses:
        told = house.sentence or f"{NOT_LAID}: {'; '.join(house.why_not)}"
        yield f"- **{escaped(house.title)}** ({escaped(house.file)}): {escaped(told)}"
    yield ""
    yield f"| item | {' | '.join(escaped(house.title) for house in table.houses)} |"
    yield f"|---|{'---|' * len(table.houses)}"
    for row in table.rows:
        yield f"| {escaped(row.title)} | {' | '.join(_cell(one) for one in row.cells)} |"
    yield ""


def _cell(item: ShowItem | None) -> str:
    if item is None:
        return "not laid"
    state = f"{escaped(item.sign)} **{escaped(item.label)}**, on {escaped(item.on)}"
    return f"{state}: {escaped(item.why)}" if item.reasons else state
