"""Cards at the far end: twelve lines, everything about them broken or unknown, names without end. What does not fit on
a sheet goes on, on a second one that says whose it is.
"""

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from textwrap import dedent
from typing import Any

import pytest
from tests.pages_in_a_browser import must_fit_a_phone, sheets
from tests.reporting.small_house import written

from plumbtrue.audit.house_check import check_house

pytestmark = pytest.mark.browser

AT = ", ".join(f"{line}: {line * 5}'-0\"" for line in range(1, 13))
NAME = "the upstage border of the second cloth that everybody calls by another name " * 3
SET = """
  - number: {number}
    name: "{name}"
    system: single-purchase
    from_plaster_line: {number}'-0"
    low_trim: 4'-0"
    posted_total: 900 lb
    batten: {{form: pipe, nominal: 1-1/2, schedule: 40, grade: a53-a, length: 66'-0"}}
    lift_lines:
      at: {{{at}}}
      each:
        rope: {{family: wire, diameter: 1/4 in, construction: 7x19, material: galvanized, corrosion: pitted,
          broken_wires_lay: 9, installed: 1962, breaking_strength: 7000 lb}}
        upper: [{{part: wire-rope-clips, count: 2, material: malleable, saddle_on: dead}}]
        lower:
          - {{part: turnbuckle, secured_upper: none, secured_lower: none}}
          - {{part: shackle, mousing: plastic-tie}}
          - {{part: trim-chain, grade: 30, attachment: wrap, wraps: 1, legs: 1, keeper_bolt: none,
             distance_to_pipe_end: 3 in}}
    hand_line: {{rope: {{fibre_condition: glazed, family: manila, diameter: 3/4 in}}}}
    arbor: {{capacity: none, weight: 200 lb}}
"""
HEAD = """
    plumbtrue: rig/1
    house: {name: A house of extremes, batten_zero: stage-right, units: us, rule_packs: [practice]}
    line_sets:"""


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    folder = tmp_path_factory.mktemp("extremes")
    sets = (SET.format(number=number, name=name, at=AT) for number, name in ((1, NAME), (2, "Short")))
    (folder / "house.yaml").write_text(dedent(HEAD) + "".join(sets), encoding="utf-8")
    page = Path(folder / "report.html")
    audit = check_house(folder / "house.yaml", on=date(2026, 4, 13), third_party=False)
    page.write_text(written(audit, "html"), encoding="utf-8")
    return page.as_uri()


@pytest.fixture
def page(browser: Any, address: str) -> Iterator[Any]:
    context = browser.new_context(bypass_csp=True)
    opened = context.new_page()
    opened.goto(address)
    opened.add_style_tag(
        content="body > header, main > :not(#sets), .skip, #house { display: none !important; }"
    )
    yield opened
    context.close()


@pytest.mark.parametrize("paper", ["Letter", "A4"])
def test_a_card_that_is_longer_than_a_sheet_goes_on_under_its_set_and_state(paper: str, page: Any) -> None:
    printed = [" ".join(one.split()) for one in sheets(page, paper)]
    of_sets = [[one for one in printed if f"Set {number} " in one] for number in (1, 2)]
    assert [len(one) for one in of_sets] == [2, 2]
    assert len(printed) == 4
    assert all("Out of service" in one for one in printed)
    assert ["Remarks, name and date" in one for one in printed] == [False, True, False, True]


def test_what_must_be_done_before_the_next_use_is_on_paper_however_much_it_is(page: Any) -> None:
    asked = page.locator("#set-2 .found tr[class^=sev-]").evaluate_all(
        "all => all.filter((one) => /out-of-service|before-next-use/.test(one.className))"
        ".map((one) => one.classList.contains('no-print'))"
    )
    assert len(asked) > 20
    assert not any(asked)
    assert "milder matters that this sheet has no room for" in " ".join(sheets(page, "Letter")[3].split())


def test_such_cards_fit_a_phone(browser: Any, address: str) -> None:
    must_fit_a_phone(browser, address)
