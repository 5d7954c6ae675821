"""The load-in papers as Markdown; they read well raw, and print from any editor."""

from collections.abc import Iterator, Sequence

from plumbtrue.reporting.markdown_text import escaped, quoted
from plumbtrue.reporting.papers import Bricks, Order, OtherPaper, Papers, SetPaper
from plumbtrue.reporting.show_markdown import reason_markdown
from plumbtrue.reporting.show_report import ShowReason


def papers_markdown(papers: Papers) -> str:
    """All papers, those first that say that there is none."""
    return "\n".join(_lines(papers)) + "\n"


def _lines(papers: Papers) -> Iterator[str]:
    yield f"# Load-in papers: {escaped(papers.show)}"
    yield ""
    loads_in = f" Load-in {papers.load_in}." if papers.load_in else ""
    yield escaped(f"{papers.house}, checked as of {papers.on}.{loads_in} {papers.sentence}")
    yield ""
    if papers.stops:
        yield "## Do not hang"
        yield ""
        for item in papers.stops:
            yield f"- {escaped(item.sign)} **{escaped(item.title)}**, on {escaped(item.on)}: {escaped(item.why)}"
        yield ""
    if papers.whole:
        yield "## Before anything is flown"
        yield ""
        yield from _reasons(papers.whole)
    yield from _sheet(papers)
    yield from _common(papers)
    for one in papers.sets:
        yield from _set(one)
    for other in papers.others:
        yield from _other(other)
    yield from _behind(papers)


def _common(papers: Papers) -> Iterator[str]:
    yield "## For every set"
    yield ""
    for line in papers.common:
        yield f"- {escaped(line)}"
    yield ""
    yield "## Bricks of the house, all sets together"
    yield ""
    yield from _table(
        ("size", "weight of one", "needed", "in stock"),
        [(one.size, one.weight, one.needed, one.stock) for one in papers.stock],
    )
    yield f"To spare by weight (less than nought: short): {escaped(papers.to_spare)}"
    yield ""
    for line in papers.stand_in:
        yield escaped(line)
        yield ""


def _sheet(papers: Papers) -> Iterator[str]:
    if not papers.sheet:
        return
    sizes = [one.size for one in papers.stock]
    yield "## All sets on one sheet"
    yield ""
    rows = [
        (
            one.key,
            one.items,
            f"{one.sign} {one.label.lower()}",
            one.load,
            *([f"{load} ({in_all} in all)" for load, in_all in one.bricks] or [""] * len(sizes)),
            one.side,
            one.trims,
        )
        for one in papers.sheet
    ]
    rows.append(("all", "", "", "", *(papers.sheet_total or ("",) * len(sizes)), "", ""))
    yield from _table(
        ("set", "item", "hangs", "on it", *(f"load {one}" for one in sizes), "then", "pipe at"), rows
    )


def _set(paper: SetPaper) -> Iterator[str]:
    yield f"## {escaped(paper.sign)} {escaped(paper.title)}: {escaped(paper.label.lower())}"
    yield ""
    for item in paper.items:
        yield f"- Item {escaped(item.title)}: {escaped(item.label.lower())}"
    yield ""
    if paper.no_paper:
        yield f"**No paper.** {escaped(paper.no_paper)}"
        yield ""
        yield from _reasons(paper.first)
        return
    if paper.first:
        yield "**First:**"
        yield ""
        yield from _reasons(paper.first)
    yield f"System: {escaped(paper.system)}. Hangs on it: {escaped(paper.load)}."
    yield ""
    for note in paper.notes:
        yield f"**{escaped(note)}**"
        yield ""
    if paper.bricks is not None:
        yield from _bricks(paper.bricks)
        if paper.reach:
            yield f"- {escaped(paper.reach)}"
        yield ""
    if paper.no_bricks:
        yield f"**{escaped(paper.no_bricks)}**"
        yield ""
    for order in paper.orders:
        yield from _order(order)
    if paper.trims:
        yield "Trims to spike (hand line: moved from where it is at the low trim)"
        yield ""
        yield from _table(
            ("item", "trim", "pipe at", "bottom at", "hand line"),
            [(one.item, one.what, one.pipe, one.bottom, one.hand_line) for one in paper.trims],
        )
    for label, text in paper.heights:
        yield f"- {escaped(label)}: {escaped(text)}"
    yield ""
    yield "Pulls of the lines, just above the pipe"
    yield ""
    yield from _table(
        ("line", "at", "at most", "at least", "may take", "of that"),
        [(one.key, one.at, one.pull, one.least, one.limit, one.used) for one in paper.lines],
    )


def _bricks(bricks: Bricks) -> Iterator[str]:
    span = f" ({bricks.span} over the doubt about the weights)" if bricks.span else ""
    yield f"**Load {escaped(bricks.load)}.** Counterweight needed: {escaped(bricks.needed + span)}."
    yield ""
    yield from _table(
        ("size", "with the bare pipe", "load", "in all"),
        [(one.size, one.there, one.load, one.in_all) for one in bricks.lines],
    )
    yield f"- With the bare pipe: {escaped(bricks.there_from)}"
    yield f"- With all bricks in: {escaped(bricks.left_over)}"
    yield f"- Stack: {escaped(bricks.stack)}; {escaped(bricks.plate)}"


def _order(order: Order) -> Iterator[str]:
    yield f"{escaped(order.title)} ({escaped(order.whose)})"
    yield ""
    yield from _table(
        ("step", "do", "then at the hand line", "who"),
        [(str(one.number), one.do, one.side, one.note) for one in order.steps],
    )
    yield f"**{escaped(order.warning)}**"
    yield ""


def _other(other: OtherPaper) -> Iterator[str]:
    item = other.item
    yield f"## {escaped(item.sign)} {escaped(item.title)}, on {escaped(item.on)}: {escaped(item.label.lower())}"
    yield ""
    if other.no_paper:
        yield f"**No paper.** {escaped(other.no_paper)}"
        yield ""
    yield from _reasons(item.reasons)
    for label, text in other.figures:
        yield f"- {escaped(label)}: {escaped(text)}"
    yield ""


def _reasons(reasons: Sequence[ShowReason]) -> Iterator[str]:
    for reason in reasons:
        yield from reason_markdown(reason)
    if reasons:
        yield ""


def _table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> Iterator[str]:
    yield f"| {' | '.join(head)} |"
    yield f"|{'---|' * len(head)}"
    for row in rows:
        yield f"| {' | '.join(escaped(cell) for cell in row)} |"
    yield ""


def _behind(papers: Papers) -> Iterator[str]:
    yield "## Behind this"
    yield ""
    for why in papers.not_run:
        yield f"- Not run: {escaped(why)}"
    for pack in papers.packs:
        yield f"- Pack {escaped(pack)}"
    for file, digest in papers.read:
        yield f"- Read {escaped(file)}, digest {escaped(digest)}"
    yield f"- plumbtrue {escaped(papers.version)}"
    yield ""
    yield from quoted(papers.cautions)
