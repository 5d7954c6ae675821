"""The report as JUnit XML, for build servers: a suite for each house, a case for each rule at each line set.

A finding at the gate is a failure. What cannot be told at the gate is an error, never skipped: servers show
skipped as green. What is milder than the gate, and what is accepted, is skipped with its reason, so that a
build is red exactly when the command's status is not 0. What does not apply is left out. With a plot each of its pieces
is a case as well.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from plumbtrue.audit.house_check import Checked
from plumbtrue.documents.printable import printable
from plumbtrue.reporting.building import report_of
from plumbtrue.reporting.formats import Surroundings, not_read
from plumbtrue.reporting.grouping import set_title
from plumbtrue.reporting.report import OutcomeReport, Report
from plumbtrue.reporting.show_report import ShowItem
from plumbtrue.rules.result import Result

_LEFT_OUT: Final = (Result.NOT_APPLICABLE,)


@dataclass(frozen=True, slots=True)
class _Case:
    """What a rule comes to at a line set."""

    element: str
    """`failure`, `error`, `skipped`, or empty where the rule is met."""
    kind: str
    message: str
    lines: tuple[str, ...]


def written(houses: Sequence[Checked], around: Surroundings) -> str:
    """The houses of a run as one document."""
    root = Element("testsuites", {"name": f"plumbtrue as of {around.on.isoformat()}"})
    for house in houses:
        if house.audit is None:
            _unread(root, house)
        else:
            _suite(root, report_of(house.audit, every_outcome=True), around)
    for name in ("tests", "failures", "errors"):
        root.set(name, str(sum(int(suite.get(name, "0")) for suite in root)))
    indent(root, " ")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{tostring(root, encoding="unicode")}\n'


def _unread(root: Element, house: Checked) -> None:
    file = printable(str(house.path))
    suite = SubElement(
        root, "testsuite", {"name": file, "tests": "1", "failures": "0", "errors": "1", "skipped": "0"}
    )
    case = SubElement(suite, "testcase", {"classname": file, "name": "the house can be read"})
    whys = not_read(house)
    _fill(case, _Case("error", "cannot-be-read", whys[0] if whys else "it cannot be read", whys))


def _suite(root: Element, report: Report, around: Surroundings) -> None:
    grouped: dict[tuple[str, str], list[OutcomeReport]] = {}
    for one in report.outcomes:
        if one.result not in _LEFT_OUT:
            grouped.setdefault((one.set_key, one.rule), []).append(one)
    titles = {rule.slug: rule.title for rule in report.rules}
    name = printable(report.house)
    suite = SubElement(root, "testsuite", {"name": name})
    told: list[_Case] = []
    for why in report.incomplete:
        case = SubElement(
            suite, "testcase", {"classname": name, "name": printable(f"looked at everything: {why}")}
        )
        told.append(_fill(case, _Case("error", "incomplete", why, (why,))))
    for (key, rule), outcomes in grouped.items():
        title = printable(f"{rule}: {titles[rule]}")
        where = printable(f"{report.house}, {set_title(key)}")
        case = SubElement(suite, "testcase", {"classname": where, "name": title})
        told.append(_fill(case, _case(outcomes, around)))
    for item in report.show.items if report.show is not None else ():
        where = printable(f"{report.house}, the show")
        case = SubElement(suite, "testcase", {"classname": where, "name": printable(f"item {item.title}")})
        told.append(_fill(case, _item_case(item, around)))
    counts = {"failures": "failure", "errors": "error", "skipped": "skipped"}
    suite.set("tests", str(len(told)))
    for attribute, element in counts.items():
        suite.set(attribute, str(sum(one.element == element for one in told)))


def _case(outcomes: Iterable[OutcomeReport], around: Surroundings) -> _Case:
    its = list(outcomes)
    at_gate = its[0].severity.rank <= around.gate.rank
    findings = [one for one in its if one.result is Result.FINDING and one.counts]
    open_ones = [one for one in its if one.result in (Result.UNDETERMINED, Result.ERROR) and one.counts]
    accepted = [one for one in its if one.accepted is not None and not one.counts]
    not_run = [one for one in its if one.result is Result.NOT_RUN]
    if findings:
        return _told("failure" if at_gate else "skipped", its[0].severity.value, [*findings, *open_ones])
    if open_ones:
        return _told("error" if at_gate else "skipped", "cannot-be-told", open_ones)
    if accepted:
        return _told("skipped", "accepted", accepted)
    return _told("skipped", "not-run", not_run) if not_run else _Case("", "", "", ())


def _item_case(item: ShowItem, around: Surroundings) -> _Case:
    """Whether a piece of a show hangs. What is milder than the gate is skipped with its reason."""
    if item.severity is None:
        return _Case("", "", "", ())
    head = f"{item.location}: {item.path}: on {item.on}: {item.label.lower()}"
    lines = (head, *(" ".join(part for part in (one.text, one.remedy) if part) for one in item.reasons))
    at_gate = item.severity.rank <= around.gate.rank
    element = ("error" if item.is_open else "failure") if at_gate else "skipped"
    return _Case(element, item.state.value, f"{head}. {item.why}", lines)


def _told(element: str, kind: str, outcomes: Sequence[OutcomeReport]) -> _Case:
    lines = tuple(_line(one) for one in outcomes)
    return _Case(element, kind, lines[0], lines)


def _line(one: OutcomeReport) -> str:
    missing = "; ".join(f"{fact.replace('_', ' ')} of {thing}: {why}" for thing, fact, why in one.missing)
    accepted = f"accepted by {one.accepted.by} until {one.accepted.until}" if one.accepted is not None else ""
    parts = (one.message, one.remedy, missing, accepted)
    lent = f" (written at {one.written_at})" if one.written_at is not None else ""
    return f"{one.location}{lent}: {one.path}: {' '.join(part for part in parts if part)}"


def _fill(case: Element, told: _Case) -> _Case:
    if told.element:
        below = SubElement(case, told.element, {"type": told.kind, "message": printable(told.message)})
        below.text = "\n".join(printable(line) for line in told.lines)
    return told
