"""The report for a terminal: the headline first, then what to do in order, then what to find out.

What can wait is short here; everything is in the other formats. Colour comes beside signs and words, never
instead of them.
"""

from collections.abc import Iterator, Sequence
from typing import Final

from plumbtrue.audit.house_check import Checked
from plumbtrue.audit.verdicts import State
from plumbtrue.documents.printable import printable, width_of
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.reporting.building import report_of
from plumbtrue.reporting.formats import Surroundings, unread_files
from plumbtrue.reporting.headline import headline
from plumbtrue.reporting.report import Entry, HeadlineLine, Matter, Question, Report, Section
from plumbtrue.reporting.show_across import across
from plumbtrue.reporting.show_text import show_lines, table_lines
from plumbtrue.reporting.text_layout import padded, wrapped
from plumbtrue.reporting.wording import counted, listed, marks
from plumbtrue.rules.severity import Severity

_MOST_QUESTIONS: Final = 12
_MOST_ADVISORIES: Final = 12
_MOST_UNREAD: Final = 8
_LABEL_COLUMNS: Final = 18
_COLOURS: Final[dict[str, dict[str, object]]] = {
    "out-of-service": {"fg": "red", "bold": True},
    "before-next-use": {"fg": "yellow", "bold": True},
    "cannot-be-told": {"fg": "magenta", "bold": True},
    "next-maintenance": {"fg": "cyan"},
    "nothing-found": {},
    "advisory": {},
    "heading": {"bold": True},
    "set": {"bold": True},
    "quiet": {"dim": True},
    "": {},
}
_PLAIN_SIGNS: Final = str.maketrans(
    {"■": "#", "▲": "!", "◆": "*", "○": "o", "·": "-", "→": ">", "“": '"', "”": '"'}
)


@unchanging
class _Line:
    """A line, and what it is."""

    text: str
    kind: str = ""


def written(houses: Sequence[Checked], around: Surroundings) -> str:
    """The houses of a run, one after another; of several, how each stands comes first.

    Why a house could not be read stands on standard error, with the lines it is about.
    """
    parts = [
        terminal(report_of(house.audit, advice=around.advice), width=around.width, colour=around.colour)
        for house in houses
        if house.audit is not None
    ]
    if len(houses) > 1 or not parts:
        parts.insert(0, _overview(houses, around))
    text = f"\n{'=' * min(around.width, 120)}\n".join(parts)
    return text if around.signs else in_plain_signs(text)


def _overview(houses: Sequence[Checked], around: Surroundings) -> str:
    """One line for each house, and how many could not be read."""
    lines = [f"{counted(len(houses), 'house')} as of {around.on.isoformat()}"]
    for house in houses:
        if house.audit is None:
            others = listed(unread_files(house))
            told = f"NOT CHECKED, since {others} could not be read" if others else "COULD NOT BE READ"
            lines += wrapped(f"{house.path}: {told}", around.width, "  ", "    ")
        else:
            told = headline(house.audit).sentence
            lines += wrapped(f"{house.path}: {told}", around.width, "  ", "    ")
    lines += table_lines(across(houses), around.width)
    return "\n".join(lines) + "\n"


def terminal(report: Report, *, width: int = 80, colour: bool = False) -> str:
    """The report as text.

    Args:
        width: columns of the terminal; lines are kept within 60 to 120.
        colour: whether the terminal takes colours.
    """
    columns = max(60, min(width, 120))
    paint = _coloured if colour else _uncoloured
    return "".join(f"{paint(printable(line.text), line.kind)}\n" for line in _lines(report, columns))


def in_plain_signs(text: str) -> str:
    """With signs that every terminal has."""
    return text.translate(_PLAIN_SIGNS)


def _uncoloured(text: str, kind: str) -> str:
    return text


def _coloured(text: str, kind: str) -> str:
    import click

    style = _COLOURS[kind]
    return click.style(text, **style) if style and text else text  # type: ignore[arg-type]  # keywords by name


def _lines(report: Report, columns: int) -> Iterator[_Line]:
    yield from _head(report, columns)
    yield from (_Line(*line) for line in show_lines(report.show, columns))
    cited: set[str] = set()
    for section in report.sections:
        yield from _section(section, columns, cited)
    yield from _questions(report, columns)
    yield from _accepted(report, columns)
    yield from _not_looked_at(report, columns)
    yield from _behind(report, columns)


def _head(report: Report, columns: int) -> Iterator[_Line]:
    title, day = printable(report.house), f"as of {report.on}"
    gap = columns - width_of(title) - len(day)
    if gap >= 2:
        yield _Line(f"{title}{' ' * gap}{day}", "heading")
    else:
        yield _Line(title, "heading")
        yield _Line(day, "heading")
    yield _Line("")
    for line in report.headline.lines:
        yield from _headline(line, columns)
    for note in report.headline.notes:
        yield from _paragraph(note, columns, "! ", "  ", "heading")


def _headline(line: HeadlineLine, columns: int) -> Iterator[_Line]:
    label = padded(f"{line.sign} {line.label.upper()}", _LABEL_COLUMNS + 2)
    keys = [key for key, _ in line.sets]
    remark = f" ({line.remark})" if line.remark else ""
    parts = [f"{counted(len(keys), 'set')}: {marks(keys)}{remark}"] if keys else []
    if line.state is State.NOTHING_FOUND:
        parts = [
            f"{counted(len(keys), 'set')}: {marks(keys)}{remark}. Nothing that must be done, by these rules"
        ]
    if line.also:
        parts.append(f"{'also ' if keys else ''}{listed(line.also)}")
    yield from _paragraph(
        f"{'; '.join(parts)}.", columns, label, " " * (_LABEL_COLUMNS + 2), line.state.value
    )


def _section(section: Section, columns: int, cited: set[str]) -> Iterator[_Line]:
    kind = section.severity.value
    yield _Line("")
    yield from _paragraph(
        f"{section.label.upper()}: {section.count}", columns, f"{section.sign} ", "  ", kind
    )
    yield from _paragraph(section.meaning, columns, "  ", "  ", "quiet")
    brief = section.severity is Severity.ADVISORY
    shown = section.matters[:_MOST_ADVISORIES] if brief else section.matters
    last = ""
    for matter in shown:
        if matter.sets_title != last:
            yield from _paragraph(matter.sets_title, columns, "  ", "  ", "set")
            last = matter.sets_title
        yield from _matter(matter, columns, brief=brief, cite=matter.first.rule not in cited)
        cited.add(matter.first.rule)
    if len(section.matters) > len(shown):
        yield _Line(f"  and {len(section.matters) - len(shown)} more, in the other formats", "quiet")


def _matter(matter: Matter, columns: int, *, brief: bool, cite: bool) -> Iterator[_Line]:
    entry = matter.first
    for said in entry.said:
        lead = "" if said.where == "the set" else f"{said.where}: "
        yield from _paragraph(f"{lead}{said.message}", columns, "    ", "      ")
    if not brief:
        for remedy in entry.remedies:
            yield from _paragraph(remedy, columns, "      → ", "        ")
    # On whose authority a rule stands is told where it is met first.
    told = [entry.rule, *([entry.authority, *entry.changed_by] if cite else [])]
    if entry.accepted is not None:
        told.append(
            f"acceptance by {entry.accepted.by} until {entry.accepted.until}: {entry.accepted.standing}"
        )
    yield from _paragraph("; ".join(told), columns, "      ", "      ", "quiet")


def _questions(report: Report, columns: int) -> Iterator[_Line]:
    if not report.questions:
        return
    yield _Line("")
    yield _Line(f"? TO FIND OUT: {counted(len(report.questions), 'question')}", "cannot-be-told")
    yield from _paragraph(
        "What nobody knows never passes. First what stands between a set and any answer.",
        columns,
        "  ",
        "  ",
        "quiet",
    )
    shown = report.questions[:_MOST_QUESTIONS]
    for question in shown:
        yield from _question(question, columns)
    if len(shown) < len(report.questions):
        yield _Line(f"  and {len(report.questions) - len(shown)} more, in the other formats", "quiet")


def _question(question: Question, columns: int) -> Iterator[_Line]:
    where = "; ".join(
        f"{place}: {things}" if things != "the set" else place for place, things in question.where
    )
    number = f"  {question.number:>2}. "
    yield from _paragraph(f"{question.subject}: {question.meaning}", columns, number, "      ", "set")
    yield from _paragraph(f"{where} ({listed(question.reasons)})", columns, "      ", "      ")
    look = question.how_to_look
    none = f"write {question.fact}: none where there is none" if question.may_be_none else ""
    steps = [*([f"look: {look}"] if look else []), *([none] if none else [])]
    if question.can_be_looked_up and steps:
        yield from _paragraph("; ".join(steps), columns, "      → ", "        ")
    if question.first:
        first = question.first[0].lower() + question.first[1:]
        yield from _paragraph(first, columns, "      ", "      ")
    yield from _paragraph(f"settles {question.settles}", columns, "      ", "      ", "quiet")


def _accepted(report: Report, columns: int) -> Iterator[_Line]:
    if not report.accepted:
        return
    yield _Line("")
    yield _Line(f"ACCEPTED UNTIL A DAY: {counted(len(report.accepted), 'matter')}", "heading")
    for entry in report.accepted:
        yield from _accepted_entry(entry, columns)


def _accepted_entry(entry: Entry, columns: int) -> Iterator[_Line]:
    mark = entry.accepted
    assert mark is not None, "only accepted entries are listed here"
    said = "; ".join(f"{one.where}: {one.message}" for one in entry.said)
    yield from _paragraph(f"{entry.set_title}: {said}", columns, "  ", "    ")
    told = f"{entry.rule}; {mark.by} until {mark.until}: {mark.reason}; meanwhile {mark.meanwhile}"
    yield from _paragraph(told, columns, "    ", "    ", "quiet")


def _not_looked_at(report: Report, columns: int) -> Iterator[_Line]:
    checked = report.checked
    yield _Line("")
    yield _Line("NOT LOOKED AT", "heading")
    if checked.kinds:
        kinds = "; ".join(f"{one.what} ({one.things})" for one in checked.kinds)
        yield from _paragraph(f"No rule looked at: {kinds}.", columns, "  ", "    ")
    else:
        yield _Line("  Some rule looked at every kind of thing that is written down.")
    if checked.facts:
        named = "; ".join(one.what for one in checked.facts[:_MOST_UNREAD])
        more = len(checked.facts) - _MOST_UNREAD
        tail = f"; and {more} more" if more > 0 else ""
        yield from _paragraph(f"Written down and read by no rule: {named}{tail}.", columns, "  ", "    ")
    for one in checked.not_run:
        yield from _paragraph(f"Not run: {one}.", columns, "  ", "    ")


def _behind(report: Report, columns: int) -> Iterator[_Line]:
    yield _Line("")
    yield _Line("BEHIND THIS", "heading")
    counts = dict(report.checked.counts)
    told = ", ".join(f"{number} {word}" for word, number in counts.items())
    yield from _paragraph(
        f"{report.checked.rules} rules over {report.checked.things} things: {told}.", columns, "  ", "    "
    )
    for pack in report.packs:
        line = f"pack {pack.name}, edition {pack.edition}, digest {pack.digest[:12]}"
        yield from _paragraph(line, columns, "  ", "    ")
    for change in report.changes:
        line = f"{change.rule}: {change.standing}; {change.decided}; {change.reason or 'no reason given'}"
        yield from _paragraph(line, columns, "  ", "    ")
    for file, digest in report.checked.read:
        yield from _paragraph(f"read {file}, digest {digest[:12]}", columns, "  ", "    ")
    yield _Line("")
    for caution in report.cautions:
        yield from _paragraph(caution, columns, "  ", "  ", "quiet")


def _paragraph(text: str, columns: int, first: str, rest: str, kind: str = "") -> Iterator[_Line]:
    for line in wrapped(text, columns, first, rest):
        yield _Line(line, kind)
