"""Nothing that somebody wrote into a house or a pack can act on whoever reads the report.

Hostile text stands in every field that a report prints; each format is then read as its readers read it:
HTML by a parser, Markdown by a Markdown reader, the terminal byte by byte, JSON by a JSON reader.
"""

import json
import unicodedata
from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from enum import Enum
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from markdown_it import MarkdownIt
from tests.reporting.small_house import HOUSE, RULES, SOURCES, audited, write_house, written

from plumbtrue.reporting.building import report_of
from plumbtrue.reporting.html import html
from plumbtrue.reporting.markdown import markdown
from plumbtrue.reporting.markdown_short import short
from plumbtrue.reporting.report import Report
from plumbtrue.reporting.terminal import terminal

EVIL = (
    "<script>window.pwned=1</script><img src=x onerror=window.pwned=1>' \" & `code` ```fence | *bold* "
    "[link](javascript:alert(1)) ![image](http://a.example/x) http://b.example www.c.example a@d.example "
    "<!-- --> ]]> {{ 7*7 }} {% x %} $(reboot) # heading - item 1. one == "
)
"""What may stand in a file."""

UNSEEN = (
    "\x1b[31mred\x1b]8;;http://e.example\x07 \u202egnol\u202c \u2066iso\u2069 \u200bzero "
    "\x00nul \x07 \x85 \u2028 \r\n# next\n- item\n| cell |\n"
)
"""What the reader of files refuses, and what must do no harm all the same: a plugin could bring it."""

QUOTED = "'" + EVIL.replace("'", "''") + "'"

READ = "<script>window.pwned=1</script>"
"""What must be readable in the report as text."""


@pytest.fixture
def hostile(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The small house with hostile text wherever text may stand."""
    house = (
        HOUSE.replace("name: Small invented house, owner: nobody", f"name: {QUOTED}, owner: {QUOTED}")
        .replace("name: Border", f"name: {QUOTED}")
        .replace("number: 2", f"number: {QUOTED}")
        .replace("mark: 3", f"mark: {QUOTED}")
        .replace("tagged_out: 2025-06-03", f"tagged_out: 2025-06-03\n        note: {QUOTED}")
        .replace(
            "from_plaster_line: 4'-0\"",
            f"from_plaster_line: 4'-0\"\n        seen: {{by: {QUOTED}, on: 2026-01-02, how: by-hand}}",
        )
    )
    rules = (
        RULES.replace("title: Trim chain is made for lifting", f"title: {QUOTED}")
        .replace("why: Nobody knows the strength left in it.", f"why: {QUOTED}")
        .replace("remedy: Replace the rope.", f"remedy: {_without_braces(QUOTED)}")
        .replace('clause: "4.2"', f"clause: {QUOTED}")
    )
    sources = SOURCES.replace('"Chain, an invented handbook"', QUOTED)
    monkeypatch.chdir(tmp_path)
    write_house(tmp_path, house=house, rules=rules, sources=sources)
    return Path("house.yaml")


def _without_braces(text: str) -> str:
    """Braces hold expressions in texts of rules; anything else may stand there."""
    return text.replace("{{ 7*7 }} {% x %} ", "")


class _Page(HTMLParser):
    """What a browser would make of a page: its elements, attributes and text."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def test_a_page_has_no_element_that_is_not_ours(hostile: Path) -> None:
    page = _Page()
    page.feed(written(audited(hostile, waivers=False), "html"))
    tags = [tag for tag, _ in page.elements]
    assert tags.count("script") == 1
    assert tags.count("style") == 1
    assert not {"img", "iframe", "object", "embed", "base"} & set(tags)
    assert all(not name.startswith("on") for _, attributes in page.elements for name in attributes)
    links = [attributes["href"] or "" for tag, attributes in page.elements if tag == "a"]
    assert links
    assert all(link.startswith("#") for link in links)
    assert READ in "".join(page.text)


def test_every_link_in_a_page_leads_somewhere(hostile: Path) -> None:
    page = _Page()
    page.feed(written(audited(hostile, waivers=False), "html"))
    places = [attributes["id"] for _, attributes in page.elements if "id" in attributes]
    assert len(places) == len(set(places))
    links = {(attributes["href"] or "")[1:] for tag, attributes in page.elements if tag == "a"}
    assert links <= set(places)


@pytest.mark.parametrize(("name", "heading"), [("markdown", "h1"), ("short", "h2")])
def test_markdown_shows_text_and_makes_nothing_of_it(name: str, heading: str, hostile: Path) -> None:
    """Read by an independent CommonMark reader, with tables and with links made of bare addresses."""
    reader = MarkdownIt("commonmark", {"html": True}).enable("table")
    page = _Page()
    page.feed(reader.render(written(audited(hostile, waivers=False), name)))
    tags = [tag for tag, _ in page.elements]
    assert not {"script", "img", "a", "iframe"} & set(tags)
    assert tags.count(heading) >= 1
    assert tags.count("h1") == (1 if heading == "h1" else 0)
    assert READ in "".join(page.text)


ANCHORS = ("anchor", "set_anchor", "rule_anchor", "rule", "slug", "fact")
"""Made or checked by us, or names of the vocabulary, so that no text gets into them."""


def poisoned(value: Any, name: str = "") -> Any:
    """A report with hostile text at the end of every text in it."""
    if isinstance(value, Enum):
        return value
    if is_dataclass(value) and not isinstance(value, type):
        changed = {one.name: poisoned(getattr(value, one.name), one.name) for one in fields(value)}
        return replace(value, **changed)
    if isinstance(value, tuple):
        return tuple(poisoned(one, name) for one in value)
    return f"{value}{EVIL}{UNSEEN}" if isinstance(value, str) and name not in ANCHORS else value


@pytest.fixture
def every_field(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Report:
    """A report with hostile text in every field."""
    monkeypatch.chdir(tmp_path)
    write_house(tmp_path)
    whole = poisoned(report_of(audited(Path("house.yaml")), workings=True, cards=True))
    # Keys and anchors of sets in a headline stand in pairs: the anchors in them are ours.
    lines = tuple(
        replace(line, sets=tuple((key, "set-1") for key, _ in line.sets)) for line in whole.headline.lines
    )
    poisoned_report: Report = replace(whole, headline=replace(whole.headline, lines=lines))
    return poisoned_report


@pytest.mark.parametrize("write", [terminal, markdown, short, html])
def test_nothing_in_any_field_moves_the_cursor_or_turns_the_reading_order(
    write: Callable[[Report], str], every_field: Report
) -> None:
    text = write(every_field)
    kinds = {sign: unicodedata.category(sign) for sign in set(text) - {"\n", "\t"}}
    assert {sign for sign, kind in kinds.items() if kind in ("Cc", "Cf", "Zl", "Zp", "Cs", "Co")} == set()


def test_no_field_of_a_report_can_bring_an_element_into_a_page(every_field: Report) -> None:
    page = _Page()
    page.feed(html(every_field))
    tags = [tag for tag, _ in page.elements]
    assert (tags.count("script"), tags.count("style"), tags.count("img")) == (1, 1, 0)
    assert all(not name.startswith("on") for _, attributes in page.elements for name in attributes)


def test_no_field_of_a_report_can_bring_markup_into_markdown(every_field: Report) -> None:
    page = _Page()
    page.feed(MarkdownIt("commonmark", {"html": True}).enable("table").render(markdown(every_field)))
    tags = [tag for tag, _ in page.elements]
    assert not set(tags) & {"script", "img", "a", "iframe"}
    assert tags.count("h1") == 1


def test_json_gives_the_text_back_and_is_plain_ascii(hostile: Path) -> None:
    text = written(audited(hostile, waivers=False), "json")
    assert text.isascii()
    (house,) = json.loads(text)["houses"]
    assert READ in house["house"]


@pytest.mark.browser
def test_a_browser_runs_nothing_that_stands_in_a_file(hostile: Path, browser: Any) -> None:
    """The page shows the text, and neither its script nor its markup comes to life, also where the page's own
    policy is left aside.
    """
    file = hostile.resolve().parent / "report.html"
    file.write_text(written(audited(hostile, waivers=False), "html"), encoding="utf-8")
    context = browser.new_context(bypass_csp=True)
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(file.as_uri())
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    page.fill("#f-text", "<script>")
    assert page.evaluate("window.pwned") is None
    assert page.locator("img, iframe").count() == 0
    assert READ in page.locator("body").inner_text()
    assert asked == [file.as_uri()]
    context.close()


@pytest.mark.browser
def test_what_turns_the_reading_order_is_shown_as_a_sign(
    every_field: Report, browser: Any, tmp_path: Path
) -> None:
    file = tmp_path / "poisoned.html"
    file.write_text(html(every_field), encoding="utf-8")
    page = browser.new_page()
    page.goto(file.as_uri())
    text = page.locator("h1").inner_text()
    assert "<U+202E>" in text
    assert not {"\u202e", "\u2066", "\x1b"} & set(text)
    assert page.evaluate("window.pwned") is None
    page.close()
