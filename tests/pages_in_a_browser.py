"""What every page is asked in a browser: whether an accessibility checker finds anything, and whether it fetches or
complains.
"""

import json
from io import BytesIO
from typing import Any, Final

from axe_core_python.sync_playwright import Axe
from pypdf import PdfReader

WCAG: Final = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
"""axe-core's names for WCAG 2.0 to 2.2, levels A and AA, with its best practices; it sees only a part of them."""

BY_WCAG: Final = {"runOnly": {"type": "tag", "values": WCAG}}


def must_be_accessible(page: Any, options: dict[str, Any] | None = None) -> None:
    """Fail with what axe-core finds on a page; its context lets a script in that is not the page's own."""
    found = Axe().run(page, options=BY_WCAG if options is None else options)
    told = [(one["id"], [node["html"][:120] for node in one["nodes"][:2]]) for one in found["violations"]]
    assert told == [], json.dumps(told, indent=1)


def must_fetch_and_complain_of_nothing(browser: Any, address: str) -> None:
    """Fail where a page asks for anything but itself, or writes anything to the console."""
    page = browser.new_page()
    fetched: list[str] = []
    complaints: list[str] = []
    page.on("request", lambda request: fetched.append(request.url))
    page.on("console", lambda message: complaints.append(message.text))
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.goto(address)
    assert fetched == [address]
    assert complaints == []
    page.close()


SPACED: Final = """
* { letter-spacing: .12em !important; word-spacing: .16em !important; line-height: 1.5 !important; }
p { margin-bottom: 2em !important; }
.card, .entry, li { content-visibility: visible !important; }
"""
"""Text set as wide as WCAG 2.2, 1.4.12 Text Spacing, lets a reader ask for (from memory)."""


def must_fit_a_phone(browser: Any, address: str) -> None:
    """Fail where a page is wider than 320 columns of pixels (WCAG 2.2, 1.4.10 Reflow, from memory), also with its
    text set wide and all of it opened.
    """
    context = browser.new_context(viewport={"width": 320, "height": 640}, bypass_csp=True)
    page = context.new_page()
    page.goto(address)
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    as_it_is = page.evaluate("document.documentElement.scrollWidth")
    page.add_style_tag(content=SPACED)
    assert (as_it_is, page.evaluate("document.documentElement.scrollWidth")) == (320, 320)
    context.close()


def sheets(page: Any, paper: str) -> list[str]:
    """The text of each sheet that a page prints on."""
    printed = PdfReader(BytesIO(page.pdf(format=paper, prefer_css_page_size=True)))
    return [sheet.extract_text().strip() for sheet in printed.pages]
