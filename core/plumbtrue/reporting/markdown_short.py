"""The report in brief, as a comment on a change that is under review: the headline, what to do before anybody
flies, and what to find out first. Everything else is counted, and told in the whole report.
"""

from collections.abc import Iterator, Sequence
from typing import Final

from plumbtrue.audit.house_check import Checked
from plumbtrue.reporting.building import report_of
from plumbtrue.reporting.formats import Surroundings
from plumbtrue.reporting.markdown import not_read_in_markdown, states_in_markdown
from plumbtrue.reporting.markdown_text import escaped
from plumbtrue.reporting.report import Matter, Report, Section
from plumbtrue.reporting.show_report import ShowReport
from plumbtrue.reporting.wording import counted, listed

_MOST_MATTERS: Final = 16
_MOST_QUESTIONS: Final = 5


def written(houses: Sequence[Checked], around: Surroundings) -> str:
    """The houses of a run, one after another."""
    return "\n".join(
        short(report_of(house.audit)) if house.audit is not None else not_read_in_markdown(house)
        for house in houses
    )


def short(report: Report) -> str:
    """One house in brief."""
    return "\n".join(_lines(report)) + "\n"


def _lines(report: Report) -> Iterator[str]:
    yield f"## {escaped(report.house)}, as of {escaped(report.on)}"
    yield ""
    yield from states_in_markdown(report)
    if report.show is not None:
        yield from _show(report.show)
    for section in report.sections:
        if section.severity.is_urgent:
            yield from _section(section)
    yield from _questions(report)
    yield from _rest(report)
    yield f"> {escaped(report.cautions[0])}"


def _show(show: ShowReport) -> Iterator[str]:
    yield f"**{escaped(show.title)}.** {escaped(show.sentence)}"
    yield ""
    for item in show.gravest_first:
        yield f"- {escaped(item.sign)} **{escaped(item.title)}**, on {escaped(item.on)}: {escaped(item.why)}"
    yield ""


def _section(section: Section) -> Iterator[str]:
    yield f"**{escaped(section.sign)} {escaped(section.label)}: {escaped(section.count)}.**"
    yield ""
    for matter in section.matters[:_MOST_MATTERS]:
        yield f"- {_matter(matter)}"
    more = len(section.matters) - _MOST_MATTERS
    if more > 0:
        yield f"- and {counted(more, 'more matter')}, in the whole report"
    yield ""


def _matter(matter: Matter) -> str:
    entry = matter.first
    told = [one.message if one.where == "the set" else f"{one.where}: {one.message}" for one in entry.said]
    said, do = escaped(" ".join(told)), escaped(" ".join(entry.remedies))
    between = ":" if entry.said[0].where == "the set" else ","
    return f"**{escaped(matter.sets_title)}**{between} {said} Do: {do} `{entry.rule}`"


def _questions(report: Report) -> Iterator[str]:
    if not report.questions:
        return
    yield f"**? To find out: {counted(len(report.questions), 'question')}.**"
    yield ""
    for one in report.questions[:_MOST_QUESTIONS]:
        places = listed([place for place, _ in one.where])
        yield f"- {escaped(one.subject)}: {escaped(places)}. Settles {escaped(one.settles)}."
    more = len(report.questions) - _MOST_QUESTIONS
    if more > 0:
        yield f"- and {more} more, in the whole report"
    yield ""


def _rest(report: Report) -> Iterator[str]:
    later = [f"{one.label.lower()}: {one.count}" for one in report.sections if not one.severity.is_urgent]
    if report.accepted:
        later.append(f"accepted until a day: {len(report.accepted)}")
    if report.changes:
        later.append(f"limits and rules that the house changed: {len(report.changes)}")
    later.append(f"kinds of things that no rule looked at: {len(report.checked.kinds)}")
    if report.incomplete:
        later.append(f"not run: {len(report.incomplete)}")
    yield f"In the whole report: {escaped('; '.join(later))}."
    yield ""
