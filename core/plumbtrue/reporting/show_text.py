"""The show, item by item, as text for a terminal; and one show in several houses as a table."""

from collections.abc import Iterator
from typing import Final

from plumbtrue.documents.printable import width_of
from plumbtrue.reporting.show_across import NOT_LAID, Table
from plumbtrue.reporting.show_report import ShowItem, ShowReport
from plumbtrue.reporting.showing import ITEM_LABELS
from plumbtrue.reporting.text_layout import padded, wrapped
from plumbtrue.reporting.wording import marks

_LABEL_COLUMNS: Final = 22
_ITEM_COLUMNS: Final = 26
_CELL_COLUMNS: Final = 2 + max(len(label) for label in ITEM_LABELS.values()) + 2
_MOST_REASONS: Final = 4


def show_lines(show: ShowReport | None, columns: int) -> Iterator[tuple[str, str]]:
    """Lines with the name of what each is."""
    if show is None:
        return
    yield "", ""
    yield from _told(f"THE SHOW, ITEM BY ITEM: {show.title}", columns, "", "  ", "heading")
    for line in show.lines:
        label = padded(f"  {line.sign} {line.label.upper()}", _LABEL_COLUMNS + 2)
        which = marks([key for key, _ in line.items])
        text = f"{len(line.items)}: {which}; {line.meaning}."
        yield from _told(text, columns, label, " " * (_LABEL_COLUMNS + 2), line.css.removeprefix("state-"))
    for item in show.gravest_first:
        yield from _item(item, columns)
    if show.whole:
        yield "  The whole plot", "set"
    for reason in show.whole:
        yield from _told(f"{reason.by_when}: {reason.text}", columns, "    ", "      ", "")
        if reason.remedy:
            yield from _told(reason.remedy, columns, "      → ", "        ", "")
        yield from _told(reason.rule, columns, "      ", "      ", "quiet")


def _item(item: ShowItem, columns: int) -> Iterator[tuple[str, str]]:
    head = f"{item.title}, on {item.on}: {item.label.lower()}"
    yield from _told(head, columns, f"  {item.sign} ", "    ", item.css.removeprefix("state-"))
    for reason in item.reasons[:_MOST_REASONS]:
        by = f" ({reason.rule})" if reason.rule else ""
        cannot = f"{reason.by_when}: " if reason.by_when == "cannot be told" and reason.rule else ""
        yield from _told(f"{cannot}{reason.text}{by}", columns, "      ", "        ", "")
        if reason.remedy:
            yield from _told(reason.remedy, columns, "        → ", "          ", "")
    more = len(item.reasons) - _MOST_REASONS
    rest = [
        *([f"and {more} more, further down"] if more > 0 else []),
        *([item.behind] if item.behind else []),
    ]
    if rest:
        yield from _told("; ".join(rest), columns, "      ", "        ", "quiet")
    for advice in item.advice:
        yield from _told(advice, columns, "      = ", "        ", "")


def _told(text: str, columns: int, first: str, rest: str, kind: str) -> Iterator[tuple[str, str]]:
    for line in wrapped(text, columns, first, rest):
        yield line, kind


def table_lines(table: Table | None, columns: int) -> list[str]:
    """One show in several houses: as many houses side by side as go on a line."""
    if table is None:
        return []
    lines = ["", f"{table.title.upper()}, HOUSE BY HOUSE"]
    for house in table.houses:
        told = house.sentence or f"{NOT_LAID}: {'; '.join(house.why_not)}"
        lines += wrapped(f"{house.title}: {told}", columns, "  ", "    ")
    at_once = max(1, (max(columns, 60) - _ITEM_COLUMNS) // _CELL_COLUMNS)
    for start in range(0, len(table.houses), at_once):
        shown = range(start, min(start + at_once, len(table.houses)))
        heads = "".join(
            padded(_short(table.houses[one].title, _CELL_COLUMNS - 2), _CELL_COLUMNS) for one in shown
        )
        lines += ["", f"  {padded('item', _ITEM_COLUMNS - 2)}{heads}".rstrip()]
        for row in table.rows:
            cells = "".join(padded(_cell(row.cells[one]), _CELL_COLUMNS) for one in shown)
            lines.append(
                f"  {padded(_short(row.title, _ITEM_COLUMNS - 4), _ITEM_COLUMNS - 2)}{cells}".rstrip()
            )
    lines += ["", "  Why, house by house:"]
    for house, number in zip(table.houses, range(len(table.houses)), strict=True):
        for row in table.rows:
            item = row.cells[number]
            if item is not None and item.reasons:
                lines += wrapped(f"{house.title}: {item.title}: {item.why}", columns, "  ", "    ")
    return lines


def _cell(item: ShowItem | None) -> str:
    return "- not laid" if item is None else f"{item.sign} {item.label.lower()}"


def _short(text: str, width: int) -> str:
    """Text that fits into a column, cut where it does not."""
    if width_of(text) <= width:
        return text
    while width_of(text) > width - 1:
        text = text[:-1]
    return text.rstrip() + "…"
