"""The load-in papers as one HTML page, in the same frame as the report, with the balance drawn beside each step.

Each set has a sheet of its own. How large the lettering is on paper is decided here from how much there is to say; what
does not fit at the smallest goes on, on a second sheet with the set's number on top.
"""

from collections.abc import Iterator
from math import ceil
from typing import Final

from plumbtrue.reporting.html import page
from plumbtrue.reporting.papers import Papers, SetPaper
from plumbtrue.reporting.show_figures import bars

_LEFT, _RIGHT = 4.0, 196.0
"""Of a step's bar, in its drawing of 200 by 16."""

_COLUMNS: Final = 110
"""Letters on a line of running text."""
_DO_COLUMNS: Final = 46
"""Letters on a line of what to do in a step."""
_ROOM: Final = 54
"""Lines on a sheet of letter or A4 size; found by printing."""


def html(papers: Papers) -> str:
    """The papers as a page."""
    drawn = {
        (one.anchor, order.title): bars(order.steps, papers.lock, _LEFT, _RIGHT)
        for one in papers.sets
        for order in one.orders
    }
    lettering = {one.anchor: "middle" if sum(_lines(one)) <= _ROOM else "small" for one in papers.sets}
    return page("papers.html.j2", papers=papers, drawn_orders=drawn, lettering=lettering)


def _lines(paper: SetPaper) -> Iterator[float]:
    """Lines that the parts of a paper take, about."""
    yield 4 + len(paper.items)
    if paper.first:
        yield 2
    for reason in paper.first:
        text = len(reason.by_when) + len(reason.text) + len(reason.rule)
        yield ceil(text / _COLUMNS) + ceil(len(reason.remedy) / _COLUMNS)
    for note in (*paper.notes, *([paper.no_bricks] if paper.no_bricks else ())):
        yield 2 + ceil(len(note) / _COLUMNS)
    if paper.bricks is not None:
        yield 6 + len(paper.bricks.lines)
    for order in paper.orders:
        columns = _DO_COLUMNS / 2 if any(step.note for step in order.steps) else _DO_COLUMNS
        yield 3 + ceil(len(order.warning) / _COLUMNS)
        for step in order.steps:
            yield ceil(len(step.do) / columns)
    if paper.orders:
        yield 2
    if paper.trims:
        yield 2 + len(paper.trims)
    yield 3 + len(paper.lines)
    yield 3
