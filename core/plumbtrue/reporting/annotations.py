"""Findings as remarks at the very line of the file, for a build's log: one line each in the form of workflow
commands (`::error file=…,line=…,col=…,title=…::text`), which build servers show beside the line.

Entries are drawn together as for people and cut at a number, since servers cut them too; the last line says
how many there were.
"""

from collections.abc import Iterator, Sequence
from typing import Final

from plumbtrue.audit.house_check import Checked
from plumbtrue.documents.printable import printable
from plumbtrue.reporting.building import report_of
from plumbtrue.reporting.formats import Surroundings
from plumbtrue.reporting.report import Entry, Said
from plumbtrue.reporting.show_report import ShowItem
from plumbtrue.rules.result import Result

_MOST: Final = 50


def written(houses: Sequence[Checked], around: Surroundings) -> str:
    """The houses of a run, one remark a line, the gravest of each house first."""
    remarks = [remark for house in houses for remark in _of_house(house, around)]
    lines = remarks[:_MOST]
    more = len(remarks) - len(lines)
    told = f"{len(remarks)} remarks as of {around.on.isoformat()}"
    if more:
        told += f", {more} of them not shown here: see the full report"
    return "\n".join([*lines, _command("notice", {}, f"plumbtrue: {told}.")]) + "\n"


def _of_house(house: Checked, around: Surroundings) -> Iterator[str]:
    if house.audit is None:
        for problem in house.failure.problems if house.failure is not None else ():
            place = {
                "file": problem.where.file,
                "line": str(problem.where.line),
                "col": str(problem.where.column),
            }
            yield _command(
                "error", {**place, "title": "cannot be read"}, f"{problem.what}. {problem.instead}"
            )
        return
    report = report_of(house.audit, places=True)
    found = [entry for section in report.sections for matter in section.matters for entry in matter.entries]
    for entry in sorted([*found, *report.undetermined], key=lambda one: one.severity.rank):
        for said in entry.said:
            yield _remark(entry, said, around)
    for item in report.show.gravest_first if report.show is not None else ():
        yield _item_remark(item, around)
    yield _command("notice", {"file": report.file, "title": report.house}, report.headline.sentence)
    if report.show is not None:
        at = {"file": report.show.items[0].location.file} if report.show.items else {}
        yield _command("notice", {**at, "title": report.show.title}, report.show.sentence)


def _item_remark(item: ShowItem, around: Surroundings) -> str:
    """A piece that does not hang as asked, at the line where the plot writes it."""
    at_gate = item.severity is not None and item.severity.rank <= around.gate.rank
    where = item.location
    place = {"file": where.file, "line": str(where.line), "col": str(where.column)}
    title = f"item {item.title}: {item.label.lower()}"
    return _command("error" if at_gate else "notice", {**place, "title": title}, f"on {item.on}: {item.why}")


def _remark(entry: Entry, said: Said, around: Surroundings) -> str:
    at_gate = entry.severity.rank <= around.gate.rank
    level = "error" if at_gate else "warning" if entry.result is Result.FINDING else "notice"
    place = {"file": said.location.file, "line": str(said.location.line), "col": str(said.location.column)}
    title = f"{entry.set_title}: {entry.severity_label.lower()}"
    if entry.result is not Result.FINDING:
        title += ", cannot be told"
    text = f"{said.where}: {said.message} {said.remedy} {'; '.join(said.missing)}".strip()
    return _command(level, {**place, "title": title}, f"{text} [{entry.rule}]")


def _command(name: str, properties: dict[str, str], text: str) -> str:
    """One command. Signs that part it are spelled by their numbers, so that no text can begin another."""
    listed = ",".join(f"{key}={_escaped(value, in_property=True)}" for key, value in properties.items())
    return f"::{name}{' ' if listed else ''}{listed}::{_escaped(text)}"


def _escaped(text: str, *, in_property: bool = False) -> str:
    plain = printable(text).replace("%", "%25")
    return plain.replace(":", "%3A").replace(",", "%2C") if in_property else plain
