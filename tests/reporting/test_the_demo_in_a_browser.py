"""The page of the demo house: what hangs at the rail is one sheet for each set, and what is looked at on a screen
holds for an accessibility checker.
"""

import re
import shutil
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from tests.pages_in_a_browser import WCAG, must_be_accessible
from tests.reporting.small_house import written

from plumbtrue.audit.house_check import check_house

pytestmark = pytest.mark.browser

ROOT = Path(__file__).parents[2]
ALONE = "header, main > :not(#sets), #sets > h2, .skip { display: none !important; }"
"""Leaves the cards."""


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The page of the demo house with the first revision of its tour, read from a folder with a long name."""
    folder = tmp_path_factory.mktemp("demo")
    demo = folder / "afolderwhosenameisfartoolongfortheedgeofaphone"
    shutil.copytree(ROOT / "fixtures/demo", demo)
    audit = check_house(
        demo / "house.yaml", on=date(2026, 4, 13), third_party=False, plot=demo / "tour-a.yaml"
    )
    page = folder / "report.html"
    page.write_text(written(audit, "html"), encoding="utf-8")
    return page.as_uri()


@pytest.fixture
def page(browser: Any, address: str) -> Iterator[Any]:
    """The page opened so that a test may add to it; it forbids every script and style but its own."""
    context = browser.new_context(bypass_csp=True)
    opened = context.new_page()
    opened.goto(address)
    yield opened
    context.close()


@pytest.mark.parametrize("paper", ["Letter", "A4"])
def test_every_card_prints_on_exactly_one_sheet(paper: str, page: Any) -> None:
    cards = page.locator("[data-card]").count()
    page.add_style_tag(content=ALONE)
    sheets = len(re.findall(rb"/Type\s*/Page\b", page.pdf(format=paper)))
    assert cards == 32
    assert sheets == cards


@pytest.mark.parametrize(
    ("theme", "asked"),
    [("light", {"type": "tag", "values": WCAG}), ("dark", {"type": "rule", "values": ["color-contrast"]})],
)
def test_an_accessibility_checker_finds_nothing_in_the_demo(
    theme: str, asked: dict[str, object], page: Any
) -> None:
    page.emulate_media(color_scheme=theme)
    page.add_style_tag(content=".card { content-visibility: visible !important; }")
    must_be_accessible(page, {"runOnly": asked, "resultTypes": ["violations"]})


def test_a_phone_has_nothing_beyond_its_edge_in_the_demo(page: Any) -> None:
    page.set_viewport_size({"width": 320, "height": 640})
    assert page.evaluate("document.documentElement.scrollWidth") <= 320


def test_every_figure_says_in_words_what_it_shows(page: Any) -> None:
    told = page.locator("svg:not(.shared)").evaluate_all(
        "all => all.map((one) => [one.getAttribute('role'), one.getAttribute('aria-label')])"
    )
    assert len(told) > 90
    assert all(role == "img" and len(label) > 20 for role, label in told)
