"""Formats of the report, by the name by which they are asked for; each is loaded only when it is wanted.

A format writes all houses of a run at once, those that could not be read among them: silence about one of
them must never look like nothing found.
"""

from collections.abc import Callable, Sequence
from datetime import date
from importlib import import_module
from typing import Final, cast

from plumbtrue.audit.house_check import Checked
from plumbtrue.documents.place import CannotRead
from plumbtrue.plugins import ReportFormat
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rules.severity import Severity


@unchanging
class Surroundings:
    """What is not of the houses: the day, the gate, and what a terminal takes."""

    on: date
    gate: Severity
    width: int = 80
    colour: bool = False
    signs: bool = True
    """Whether signs beyond ASCII can be shown."""
    advice: bool = False
    """Whether pieces of a plot carry what would settle them."""


Write = Callable[[Sequence[Checked], Surroundings], str]


@unchanging
class Format:
    """A way to write the report; its module has a function `written` of houses and surroundings."""

    name: str
    suffix: str
    meaning: str
    module: str

    def write(self, houses: Sequence[Checked], around: Surroundings) -> str:
        """The houses of a run in this format."""
        return cast(Write, import_module(self.module).written)(houses, around)


_HERE: Final = "plumbtrue.reporting"
FORMATS: Final = {
    name: Format(name, suffix, meaning, f"{_HERE}.{module}")
    for name, suffix, meaning, module in (
        ("terminal", ".txt", "text for reading here", "terminal"),
        ("markdown", ".md", "text with marks, for mail and reviews", "markdown"),
        ("short", ".md", "the same in brief, for a comment on a change under review", "markdown_short"),
        ("html", ".html", "one page with cards and figures, for screen and paper", "html"),
        ("json", ".json", "everything, for programs; schemas/audit-1.schema.json", "json_format"),
        ("sarif", ".sarif", "SARIF 2.1.0, for code-review tools", "sarif"),
        ("junit", ".xml", "JUnit XML, for build servers", "junit"),
        ("annotations", ".txt", "remarks at the lines of the file, for a build's log", "annotations"),
    )
}


def of_plugin(brought: ReportFormat) -> Write:
    """A format of a plugin, which writes audits one by one."""

    def write(houses: Sequence[Checked], around: Surroundings) -> str:
        return "".join(brought.write(house.audit) for house in houses if house.audit is not None)

    return write


def unread_files(house: Checked) -> tuple[str, ...]:
    """Files other than the house's own for which it was not checked: a plot, waivers, a pack; none where its own
    is among them.
    """
    failure = house.failure or CannotRead(())
    files = tuple(dict.fromkeys(one.where.file for one in failure.problems))
    return () if str(house.path) in files else files


def not_read(house: Checked) -> tuple[str, ...]:
    """Why a house could not be read: each problem on a line."""
    failure = house.failure or CannotRead(())
    return tuple(f"{one.where}: {one.what}" for one in failure.problems)
