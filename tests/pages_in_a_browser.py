"""What every page is asked in a browser: whether an accessibility checker finds anything, and whether it fetches or
complains.
"""

import json
from typing import Any, Final

from axe_core_python.sync_playwright import Axe

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
