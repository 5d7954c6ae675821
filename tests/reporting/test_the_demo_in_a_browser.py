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
from click.testing import CliRunner
from tests.pages_in_a_browser import WCAG, must_be_accessible, must_fit_a_phone, sheets
from tests.reporting.small_house import written

from plumbtrue.audit.house_check import check_house
from plumbtrue.cli.main import main

pytestmark = pytest.mark.browser

ROOT = Path(__file__).parents[2]
ALONE = "body > header, main > :not(#sets), #sets > h2, .skip { display: none !important; }"
"""Leaves the cards."""
PAPERS_ALONE = (
    "body > header, section, .cautions, .skip, .card:not(.paper), .no-paper { display: none !important; }"
)
"""Leaves the papers of sets."""


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo in a folder with a long name, which each page that is made of it names."""
    folder = tmp_path_factory.mktemp("demo") / "afolderwhosenameisfartoolongfortheedgeofaphone"
    shutil.copytree(ROOT / "fixtures/demo", folder)
    return folder


@pytest.fixture(scope="module")
def address(demo: Path) -> str:
    """The page of the demo house with the first revision of its tour."""
    audit = check_house(
        demo / "house.yaml", on=date(2026, 4, 13), third_party=False, plot=demo / "tour-a.yaml"
    )
    page = demo / "report.html"
    page.write_text(written(audit, "html"), encoding="utf-8")
    return page.as_uri()


def made(demo: Path, command: str, *asked: str) -> str:
    """Where the page of a command stands that is made of the demo."""
    page = demo / f"{command}-{asked[-1]}.html"
    files = [str(demo / one) if one.endswith(".yaml") else one for one in asked]
    result = CliRunner().invoke(
        main, [command, *files, "--on", "2026-04-13", "--format", "html", "--output", str(page)]
    )
    assert page.exists(), result.output
    return page.as_uri()


def papers(demo: Path, tour: str) -> str:
    return made(demo, "papers", "house.yaml", "--plot", tour)


@pytest.fixture
def page(browser: Any, address: str) -> Iterator[Any]:
    """The page opened so that a test may add to it; it forbids every script and style but its own."""
    context = browser.new_context(bypass_csp=True)
    opened = context.new_page()
    opened.goto(address)
    yield opened
    context.close()


def is_named(sheet: str, title: str) -> bool:
    """Whether a sheet carries a title, and not that of another set which begins alike."""
    return re.search(rf"{re.escape(title)}(?!\w)", " ".join(sheet.split())) is not None


@pytest.mark.parametrize("paper", ["Letter", "A4"])
def test_every_card_prints_on_exactly_one_sheet(paper: str, page: Any) -> None:
    titles = page.locator("[data-card] > header h3").all_text_contents()
    page.add_style_tag(content=ALONE)
    printed = sheets(page, paper)
    assert len(titles) == 32
    assert [title for one, title in zip(printed, titles, strict=True) if is_named(one, title)] == titles


@pytest.mark.parametrize("paper", ["Letter", "A4"])
@pytest.mark.parametrize(("tour", "number"), [("tour-a.yaml", 23), ("tour-b.yaml", 21)])
def test_every_set_of_the_papers_has_exactly_one_sheet(
    tour: str, number: int, paper: str, demo: Path, browser: Any
) -> None:
    context = browser.new_context(bypass_csp=True)
    opened = context.new_page()
    opened.goto(papers(demo, tour))
    titles = opened.locator(".paper:not(.no-paper) > header h3").all_text_contents()
    opened.add_style_tag(content=PAPERS_ALONE)
    printed = sheets(opened, paper)
    context.close()
    assert len(titles) == number
    assert [title for one, title in zip(printed, titles, strict=True) if is_named(one, title)] == titles


def test_each_step_of_the_papers_is_drawn_as_far_out_as_it_is_told(demo: Path, browser: Any) -> None:
    """Of the ship, on a double purchase: 10 bricks of 28 lb take 280 lb off what the pipe is heavier."""
    opened = browser.new_page()
    opened.goto(papers(demo, "tour-a.yaml"))
    rows = opened.locator("#set-26 .steps-of").last.locator("tbody tr")
    told = [
        float(one.split("by ")[1].split()[0]) for one in rows.locator("td:nth-of-type(2)").all_text_contents()
    ]
    drawn = rows.locator("rect").evaluate_all("all => all.map((one) => Number(one.getAttribute('width')))")
    opened.close()
    assert len(drawn) == len(told) == 7
    longest = max(told)
    assert drawn == pytest.approx([one / longest * max(drawn) for one in told], abs=0.2)


@pytest.mark.parametrize(
    ("theme", "asked"),
    [("light", {"type": "tag", "values": WCAG}), ("dark", {"type": "rule", "values": ["color-contrast"]})],
)
def test_an_accessibility_checker_finds_nothing_in_the_demo(
    theme: str, asked: dict[str, object], page: Any
) -> None:
    page.emulate_media(color_scheme=theme)
    page.add_style_tag(content=".card, .entry, li { content-visibility: visible !important; }")
    must_be_accessible(page, {"runOnly": asked, "resultTypes": ["violations"]})


@pytest.mark.parametrize("key", ["14", "30"])
def test_a_link_to_a_card_far_down_brings_it_to_the_top(key: str, browser: Any, address: str) -> None:
    opened = browser.new_page(viewport={"width": 1280, "height": 900})
    opened.goto(f"{address}#set-{key}")
    opened.wait_for_timeout(500)
    top = opened.locator(f"#set-{key}").evaluate("(one) => one.getBoundingClientRect().top")
    opened.close()
    assert 0 <= top < 60


def test_a_phone_has_nothing_of_the_demo_beyond_its_edge(browser: Any, address: str) -> None:
    must_fit_a_phone(browser, address)


def test_a_phone_has_nothing_of_the_papers_beyond_its_edge(demo: Path, browser: Any) -> None:
    must_fit_a_phone(browser, papers(demo, "tour-a.yaml"))


def test_a_phone_has_nothing_of_the_comparison_beyond_its_edge(demo: Path, browser: Any) -> None:
    must_fit_a_phone(browser, made(demo, "compare", "tour-a.yaml", "tour-b.yaml", "--house", "house.yaml"))


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_an_accessibility_checker_finds_nothing_in_the_papers(theme: str, demo: Path, browser: Any) -> None:
    context = browser.new_context(color_scheme=theme, bypass_csp=True)
    opened = context.new_page()
    opened.goto(papers(demo, "tour-b.yaml"))
    must_be_accessible(opened)
    context.close()


def test_every_figure_says_in_words_what_it_shows(page: Any) -> None:
    told = page.locator("svg:not(.shared)").evaluate_all(
        "all => all.map((one) => [one.getAttribute('role'), one.getAttribute('aria-label')])"
    )
    assert len(told) > 90
    assert all(role == "img" and len(label) > 20 for role, label in told)
