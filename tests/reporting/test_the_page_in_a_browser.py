"""The page as a browser shows it: filters, links, keyboard, phone, paper, and what an accessibility checker
says of it (axe-core, in both themes).
"""

from collections.abc import Iterator
from typing import Any

import pytest
from tests.pages_in_a_browser import must_be_accessible, must_fetch_and_complain_of_nothing
from tests.reporting.small_house import audited, write_house, written

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The page of the small house."""
    folder = tmp_path_factory.mktemp("house")
    file = write_house(folder)
    page = folder / "report.html"
    page.write_text(written(audited(file), "html"), encoding="utf-8")
    return page.as_uri()


@pytest.fixture
def page(browser: Any, address: str) -> Iterator[Any]:
    opened = browser.new_page(viewport={"width": 1000, "height": 800})
    opened.goto(address)
    yield opened
    opened.close()


def shown(page: Any) -> int:
    found: int = page.locator("[data-entry]:visible").count()
    return found


def test_nothing_is_fetched_and_nothing_is_complained_of(browser: Any, address: str) -> None:
    must_fetch_and_complain_of_nothing(browser, address)


def test_the_headline_names_the_set_that_must_not_fly_first(page: Any) -> None:
    first = page.locator(".headline li").first.inner_text()
    assert "Out of service" in first
    assert "2" in first


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_an_accessibility_checker_finds_nothing(theme: str, browser: Any, address: str) -> None:
    """axe-core with its rules for WCAG 2.0 to 2.2, levels A and AA; it sees only a part of them."""
    # The page forbids every script but its own, also the checker's.
    context = browser.new_context(color_scheme=theme, bypass_csp=True)
    opened = context.new_page()
    opened.goto(address)
    opened.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    must_be_accessible(opened)
    context.close()


def test_filters_hide_what_is_not_asked_for_and_say_how_much_is_shown(page: Any) -> None:
    everything = shown(page)
    page.select_option("#f-severity", "out-of-service")
    assert 0 < shown(page) < everything
    assert page.locator("#shown").inner_text() == f"{shown(page)} of {everything} matters and questions shown"
    page.get_by_role("button", name="Show all").click()
    page.wait_for_function(f"document.querySelectorAll('[data-entry]:not([hidden])').length === {everything}")


def test_a_filter_by_set_leaves_its_card_alone(page: Any) -> None:
    page.select_option("#f-set", "2")
    assert page.locator("[data-card]:visible").count() == 1
    assert page.locator("#set-2").is_visible()


def test_words_are_looked_for_in_what_was_found(page: Any) -> None:
    page.fill("#f-text", "PITTED")
    assert page.locator("#finding-2-rope-pitted").is_visible()
    assert not page.locator("#finding-2-chain-grade-too-low").is_visible()


def test_a_link_opens_what_it_leads_to(page: Any, address: str) -> None:
    page.goto(f"{address}#finding-2-rope-pitted")
    page.reload()
    assert page.locator("#finding-2-rope-pitted details").first.get_attribute("open") is not None
    page.goto(f"{address}#rule-rope-pitted")
    page.wait_for_function("document.getElementById('rule-rope-pitted').open")


def test_a_link_to_what_a_filter_hides_shows_it(page: Any) -> None:
    page.select_option("#f-set", "1")
    page.evaluate("location.hash = '#finding-2-rope-pitted'")
    page.wait_for_selector("#finding-2-rope-pitted", state="visible")


def test_without_its_script_everything_is_there_and_no_filter_is(browser: Any, address: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    opened = context.new_page()
    opened.goto(address)
    assert opened.locator("[data-entry]:visible").count() == opened.locator("[data-entry]").count() > 0
    assert not opened.locator("#filter").is_visible()
    context.close()


def test_the_keyboard_reaches_the_headline_first(page: Any) -> None:
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"


def focused(page: Any) -> str:
    """What the keyboard is at: its own mark, or where it leads."""
    told: str = page.evaluate(
        "(({tagName, id, attributes}) => tagName + ' ' + (id || attributes.href?.value || ''))(document.activeElement)"
    )
    return told.strip()


def test_the_keyboard_goes_from_what_must_not_fly_over_the_filter_to_the_findings(page: Any) -> None:
    """In the order in which the page is read; each stop is seen."""
    order = []
    while "SUMMARY" not in order:
        page.keyboard.press("Tab")
        order.append(focused(page))
        assert order[-1] != "BODY", order
        drawn = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
        assert order[-1].startswith("A #main") or drawn != "none", order[-1]
    wanted = ["A #main", "A #set-2", "A #rules", "SELECT f-state", "INPUT f-text", "SUMMARY"]
    assert [one for one in dict.fromkeys(order) if one in wanted] == wanted


def test_the_keyboard_alone_filters_opens_a_working_and_follows_its_rule(page: Any) -> None:
    page.locator("#f-severity").focus()
    page.keyboard.type("Out")
    assert page.locator("[data-entry]:visible").evaluate_all(
        "all => [...new Set(all.map((one) => one.dataset.severity))]"
    ) == ["out-of-service"]
    entry = page.locator("#finding-2-rope-pitted")
    entry.locator("summary").focus()
    page.keyboard.press("Enter")
    assert entry.locator("details").get_attribute("open") is not None
    entry.locator(".rule a").focus()
    page.keyboard.press("Enter")
    page.wait_for_selector("#rule-rope-pitted[open]")
    page.get_by_role("button", name="Show all").focus()
    page.keyboard.press("Space")
    page.wait_for_selector("[data-entry][hidden]", state="detached")


@pytest.mark.parametrize("mark", ["set-1", "set-3", "finding-2-rope-pitted", "rule-keeper-bolt-missing"])
def test_a_link_to_a_set_a_finding_or_a_rule_brings_it_into_sight(
    mark: str, browser: Any, address: str
) -> None:
    """Cards are laid out when they come near, and pushed set 30 of the demo two thousand columns of pixels on."""
    opened = browser.new_page(viewport={"width": 1000, "height": 500})
    opened.goto(f"{address}#{mark}")
    opened.wait_for_timeout(500)
    seen = opened.evaluate(
        "(mark) => { let one = document.getElementById(mark); const top = one.getBoundingClientRect().top;"
        " for (; one; one = one.parentElement)"
        " { if (one.hidden || (one.tagName === 'DETAILS' && !one.open)) { return null; } } return top; }",
        mark,
    )
    opened.close()
    assert 0 <= seen < 400


def test_a_phone_has_nothing_beyond_its_edge(browser: Any, address: str) -> None:
    """320 columns of pixels: WCAG 2.2, 1.4.10 Reflow (from memory)."""
    opened = browser.new_page(viewport={"width": 320, "height": 640})
    opened.goto(address)
    opened.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    assert opened.evaluate("document.documentElement.scrollWidth") <= 320
    opened.close()


def test_a_filter_by_state_leaves_the_matters_and_cards_of_such_sets(page: Any) -> None:
    page.select_option("#f-state", "out-of-service")
    assert page.locator("[data-card]:visible").evaluate_all("all => all.map((one) => one.dataset.card)") == [
        "2",
        "3",
    ]
    assert page.locator("#finding-2-chain-grade-too-low").is_visible()
    assert not page.locator("#finding-house-battens-counted-from-left").is_visible()


def test_a_card_goes_when_nothing_on_it_is_asked_for(page: Any) -> None:
    page.fill("#f-text", "pitted")
    assert page.locator("[data-card]:visible").evaluate_all("all => all.map((one) => one.dataset.card)") == [
        "2"
    ]


def test_on_paper_every_card_begins_a_sheet_and_filters_are_gone(page: Any) -> None:
    page.emulate_media(media="print")
    assert not page.locator("#filter").is_visible()
    breaks = page.evaluate(
        "[...document.querySelectorAll('.card')].map((one) => getComputedStyle(one).breakBefore)"
    )
    assert set(breaks) == {"page"}
    assert page.locator("#set-1 .sign-off").is_visible()
