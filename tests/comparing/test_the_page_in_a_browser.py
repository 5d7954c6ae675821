"""The page of a comparison as a browser shows it: what an accessibility checker says of it (axe-core, in both
themes), on a phone, and on paper.
"""

from typing import Any

import pytest
from tests.comparing.two_weeks import compared
from tests.pages_in_a_browser import must_be_accessible, must_fetch_and_complain_of_nothing

from plumbtrue.reporting.comparison_formats import written
from plumbtrue.rules.severity import Severity

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The page of the small house in two revisions, with a show in it."""
    folder = tmp_path_factory.mktemp("weeks")
    page = folder / "comparison.html"
    text = written(compared(folder), "html", old="monday", new="friday", gate=Severity.BEFORE_NEXT_USE)
    page.write_text(text, encoding="utf-8")
    return page.as_uri()


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_an_accessibility_checker_finds_nothing(theme: str, browser: Any, address: str) -> None:
    """axe-core with its rules for WCAG 2.0 to 2.2, levels A and AA; it sees only a part of them."""
    # The page forbids every script but its own, also the checker's.
    context = browser.new_context(color_scheme=theme, bypass_csp=True)
    opened = context.new_page()
    opened.goto(address)
    must_be_accessible(opened)
    context.close()


def test_nothing_is_fetched_and_nothing_is_complained_of(browser: Any, address: str) -> None:
    must_fetch_and_complain_of_nothing(browser, address)


def test_a_phone_has_nothing_beyond_its_edge(browser: Any, address: str) -> None:
    """320 columns of pixels: WCAG 2.2, 1.4.10 Reflow (from memory)."""
    opened = browser.new_page(viewport={"width": 320, "height": 640})
    opened.goto(address)
    assert opened.evaluate("document.documentElement.scrollWidth") <= 320
    opened.close()


def test_the_crew_reads_what_to_do_before_anything_else_but_the_head(browser: Any, address: str) -> None:
    opened = browser.new_page(viewport={"width": 1000, "height": 800})
    opened.goto(address)
    heads = opened.locator("h2").all_inner_texts()
    assert heads[0] == "What to do, stops first"
    row = opened.locator(".crew tbody tr", has=opened.locator("th", has_text="3A"))
    assert "do not hang 4 moon" in row.inner_text()
    assert row.get_by_role("img", name="stopped").count() == 1
    opened.close()


def test_every_row_of_the_crews_list_stays_in_one_piece_on_paper(browser: Any, address: str) -> None:
    opened = browser.new_page()
    opened.goto(address)
    opened.emulate_media(media="print")
    script = "[...document.querySelectorAll('.crew tr')].map((one) => getComputedStyle(one).breakInside)"
    assert set(opened.evaluate(script)) == {"avoid"}
    opened.close()
