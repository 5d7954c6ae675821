"""Formats of the report, by the name by which they are asked for; each is loaded only when it is wanted."""

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from typing import Final, cast

from plumbtrue.audit.auditing import Audit
from plumbtrue.reporting.building import report_of


@dataclass(frozen=True, slots=True)
class Format:
    """A way to write the report of one house."""

    name: str
    module: str
    suffix: str
    meaning: str
    workings: bool
    cards: bool

    def write(self, audit: Audit) -> str:
        """The report of an audit in this format."""
        written = cast(Callable[..., str], getattr(import_module(self.module), self.name))
        return written(report_of(audit, workings=self.workings, cards=self.cards))


FORMATS: Final = {
    one.name: one
    for one in (
        Format("terminal", "plumbtrue.reporting.terminal", ".txt", "for reading here", False, False),
        Format("markdown", "plumbtrue.reporting.markdown", ".md", "for mail and reviews", False, False),
        Format("html", "plumbtrue.reporting.html", ".html", "one page with cards and figures", True, True),
    )
}
