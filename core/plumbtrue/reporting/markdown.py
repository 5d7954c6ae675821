"""The report as Markdown, for mail and reviews; it reads well raw.

Text of the house goes through `markdown_text`, so that nothing in it is markup.
"""

from collections.abc import Iterator, Sequence

from plumbtrue.audit.house_check import Checked
from plumbtrue.reporting.building import report_of
from plumbtrue.reporting.formats import Surroundings, not_read, unread_files
from plumbtrue.reporting.markdown_text import escaped as escaped
from plumbtrue.reporting.markdown_text import quoted
from plumbtrue.reporting.report import Entry, HeadlineLine, Matter, Question, Report, Section
from plumbtrue.reporting.show_across import across
from plumbtrue.reporting.show_markdown import show_markdown, table_markdown
from plumbtrue.reporting.wording import counted, listed, marks


def written(houses: Sequence[Checked], around: Surroundings) -> str:
    """The houses of a run, one after another."""
    parts = [
        markdown(report_of(house.audit, advice=around.advice))
        if house.audit is not None
        else not_read_in_markdown(house)
        for house in houses
    ]
    table = across(houses)
    return "\n---\n\n".join([table_markdown(table), *parts] if table is not None else parts)


def not_read_in_markdown(house: Checked) -> str:
    """That a house could not be read, and why."""
    whys = "".join(f"- {escaped(why)}\n" for why in not_read(house))
    others = listed(unread_files(house))
    told = f"was not checked, since {others} could not be read" if others else "could not be read"
    return f"# {escaped(f'{house.path} {told}')}\n\n{whys}"


def markdown(report: Report) -> str:
    """The report as Markdown."""
    return "\n".join(_lines(report)) + "\n"


def _lines(report: Report) -> Iterator[str]:
    yield f"# {escaped(report.house)}, as of {escaped(report.on)}"
    yield ""
    yield from states_in_markdown(report)
    yield from show_markdown(report.show)
    for section in report.sections:
        yield from _section(section)
    yield from _questions(report)
    yield from _checked(report)
    yield from _changes(report)
    yield from _accepted(report)
    yield from _sources(report)
    yield from _cautions(report)
    yield from _sets(report)


def states_in_markdown(report: Report) -> Iterator[str]:
    """The headline as a table, with what else belongs to it."""
    yield "| state | how many | which |"
    yield "|---|---:|---|"
    for line in report.headline.lines:
        yield f"| {escaped(line.sign)} **{escaped(line.label)}** | {len(line.sets) or ''} | {_which(line)} |"
    yield ""
    for note in report.headline.notes:
        yield f"**{escaped(note)}**"
        yield ""


def _which(line: HeadlineLine) -> str:
    remark = f" ({line.remark})" if line.remark else ""
    keys = escaped(marks([key for key, _ in line.sets]) + remark) if line.sets else ""
    also = escaped(f"also {listed(line.also)}" if keys else listed(line.also)) if line.also else ""
    return "; ".join(part for part in (keys, also) if part)


def _section(section: Section) -> Iterator[str]:
    yield f"## {escaped(section.sign)} {escaped(section.label)}: {escaped(section.count)}"
    yield ""
    yield escaped(section.meaning)
    yield ""
    last = ""
    for matter in section.matters:
        if matter.sets_title != last:
            yield f"### {escaped(matter.sets_title)}"
            yield ""
            last = matter.sets_title
        yield from _matter(matter)


def _matter(matter: Matter) -> Iterator[str]:
    entry = matter.first
    said, *others = entry.said
    yield f"- {_said(said.where, said.message)}"
    for one in others:
        yield f"  {_said(one.where, one.message)}"
    for remedy in entry.remedies:
        yield f"  - Do: {escaped(remedy)}"
    yield f"  - Rule `{entry.rule}`, {escaped('; '.join(entry.authorities))}"
    for change in entry.changed_by:
        yield f"  - {escaped(change)}"
    if entry.accepted is not None:
        mark = entry.accepted
        told = f"Accepted by {mark.by} until {mark.until}, and {mark.standing}: {mark.reason}"
        yield f"  - {escaped(told)}"
    yield ""


def _said(where: str, message: str) -> str:
    return escaped(message) if where == "the set" else f"**{escaped(where)}**: {escaped(message)}"


def _questions(report: Report) -> Iterator[str]:
    if not report.questions:
        return
    yield f"## ? To find out: {counted(len(report.questions), 'question')}"
    yield ""
    yield "What nobody knows never passes. First what stands between a set and any answer."
    yield ""
    for question in report.questions:
        yield from _question(question)


def _question(question: Question) -> Iterator[str]:
    where = "; ".join(
        f"{place}: {things}" if things != "the set" else place for place, things in question.where
    )
    asked = f"{where} ({listed(question.reasons)})"
    meaning = escaped(f"({question.meaning})")
    yield f"{question.number}. **{escaped(question.subject)}** {meaning}: {escaped(asked)}"
    look = question.how_to_look
    if question.can_be_looked_up and look:
        step = f" ({escaped(question.step)})" if question.step else ""
        yield f"   - Look: {escaped(look)}{step}"
    if question.can_be_looked_up and question.may_be_none:
        yield f"   - Write `{question.fact}: none` where there is none"
    if question.words:
        yield f"   - One of: {escaped(', '.join(word for word, _ in question.words))}"
    if question.first:
        yield f"   - {escaped(question.first)}"
    yield f"   - Settles {escaped(question.settles)}"
    yield ""


def _accepted(report: Report) -> Iterator[str]:
    if not report.accepted:
        return
    yield f"## Accepted until a day: {counted(len(report.accepted), 'matter')}"
    yield ""
    for entry in report.accepted:
        yield from _accepted_entry(entry)


def _accepted_entry(entry: Entry) -> Iterator[str]:
    mark = entry.accepted
    assert mark is not None, "only accepted entries are listed here"
    said = "; ".join(_said(one.where, one.message) for one in entry.said)
    yield f"- {escaped(entry.set_title)}: {said}"
    yield f"  - Rule `{entry.rule}`, {escaped(entry.severity_label.lower())}"
    yield f"  - {escaped(mark.by)}, until {escaped(mark.until)}: {escaped(mark.reason)}"
    yield f"  - Meanwhile: {escaped(mark.meanwhile)}"
    yield f"  - State that was accepted: {escaped(mark.state)}"
    yield ""


def _sets(report: Report) -> Iterator[str]:
    if not report.sets:
        return
    yield "## Set by set"
    yield ""
    yield "| set | state | because |"
    yield "|---|---|---|"
    for one in report.sets:
        name = f" {escaped(one.name)}" if one.name else ""
        state = escaped(f"{one.sign} {one.state_label}")
        yield f"| **{escaped(one.key)}**{name} | {state} | {escaped(one.because)} |"
    yield ""


def _checked(report: Report) -> Iterator[str]:
    checked = report.checked
    told = ", ".join(f"{number} {word.replace('-', ' ')}" for word, number in checked.counts)
    yield "## What was checked, and what was not"
    yield ""
    yield f"{checked.rules} rules over {checked.things} things: {escaped(told)}."
    yield "Silence about a thing is no approval of it."
    yield ""
    for one in checked.kinds:
        yield f"- No rule looked at: {escaped(one.what)}, {one.things} ({escaped(one.where)})"
    for one in checked.facts:
        yield f"- Written down and read by no rule: {escaped(one.what)}, {one.things} ({escaped(one.where)})"
    if checked.rules_without_things:
        rules = ", ".join(escaped(slug) for slug in checked.rules_without_things)
        yield f"- Rules that there was nothing to apply to: {rules}"
    for why in checked.not_run:
        yield f"- Not run: {escaped(why)}"
    for pack in report.packs:
        yield f"- Pack {escaped(pack.name)}, edition {escaped(pack.edition)}, digest {escaped(pack.digest)}"
        for left in pack.leaves_out:
            yield f"  - It leaves out: {escaped(left)}"
    for file, digest in checked.read:
        yield f"- Read {escaped(file)}, digest {escaped(digest)}"
    yield f"- plumbtrue {escaped(report.version)}"
    yield ""


def _changes(report: Report) -> Iterator[str]:
    if not report.changes:
        return
    yield "## What the house changed in rules of others"
    yield ""
    for change in report.changes:
        reason = escaped(change.reason or "no reason given")
        yield f"- `{change.rule}`: {escaped(change.standing)}; {escaped(change.decided)}; {reason}"
    yield ""


def _sources(report: Report) -> Iterator[str]:
    yield "## Sources"
    yield ""
    for source in report.sources:
        edition = f", {escaped(source.edition)}" if source.edition else ""
        standing = f"{source.kind}, {source.basis}; {counted(source.rules, 'rule')}"
        yield f"- {escaped(source.title)}{edition} ({escaped(standing)})"
    yield f"- Common practice, with no published source: {counted(report.common_practice_rules, 'rule')}"
    yield ""


def _cautions(report: Report) -> Iterator[str]:
    yield "## Cautions"
    yield ""
    yield from quoted(report.cautions)
    yield ""
