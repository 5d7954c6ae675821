"""The reports of the demo house compared with accepted ones: Markdown in full and in brief, and of the page what a
reader reads of it without its workings and rules.

A changed report is accepted with `pytest --force-regen`, after reading it.
"""

from datetime import date
from html.parser import HTMLParser
from pathlib import Path

import pytest
from pytest_regressions.file_regression import FileRegressionFixture
from tests.reporting.small_house import written
from tests.reporting.test_reports_as_accepted import scrubbed

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.house_check import check_house

ROOT = Path(__file__).parents[2]
BLOCKS = {"p", "li", "h1", "h2", "h3", "h4", "tr", "dt", "caption", "figcaption", "summary", "div", "option"}
LEFT_OUT = {"style", "script", "details", "form", "symbol"}
CARDS = ("1", "14", "H1", "house", None)
"""A set without findings, one with many, one without an arbor; and what is no card."""


@pytest.fixture(scope="module")
def demo() -> Audit:
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(ROOT)
        return check_house(Path("fixtures/demo/house.yaml"), on=date(2026, 4, 13), third_party=False)


class _Reader(HTMLParser):
    """What a reader reads: text by lines, what drawings say in words, nothing that is folded."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.lines: list[str] = [""]
        self._folded = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        hidden = given.get("id") in ("rules", "workings") or given.get("data-card") not in CARDS
        if self._folded or tag in LEFT_OUT or hidden:
            self._folded += tag in LEFT_OUT or tag in ("section", "article")
        elif tag in BLOCKS:
            self.lines.append("#" * int(tag[1]) + " " if tag[0] == "h" and tag[1:].isdigit() else "")
        elif tag == "svg" and given.get("role") == "img":
            self.lines.append(f"[{given['aria-label']}]")

    def handle_endtag(self, tag: str) -> None:
        if self._folded and (tag in LEFT_OUT or tag in ("section", "article")):
            self._folded -= 1

    def handle_data(self, data: str) -> None:
        if not self._folded:
            self.lines[-1] += " ".join(data.split()) + " "


def as_read(page: str) -> str:
    reader = _Reader()
    reader.feed(page)
    return "\n".join(" ".join(line.split()) for line in reader.lines if line.strip()) + "\n"


@pytest.mark.parametrize("name", ["markdown", "short"])
def test_the_demo_reads_as_it_was_accepted(
    name: str, demo: Audit, file_regression: FileRegressionFixture
) -> None:
    file_regression.check(scrubbed(written(demo, name)), extension=".md")


def test_the_page_of_the_demo_reads_as_it_was_accepted(
    demo: Audit, file_regression: FileRegressionFixture
) -> None:
    file_regression.check(scrubbed(as_read(written(demo, "html"))), extension=".txt")


def test_the_same_house_gives_the_same_page_again(demo: Audit) -> None:
    assert written(demo, "html") == written(demo, "html")
