"""What a stranger writes into a house or a plot reaches no terminal, page or review as anything but text."""

import json
import re
from copy import deepcopy

import pytest
from tests.comparing.any_edit import SHOW
from tests.comparing.houses import HOUSE, VOCABULARY, read, text_of
from tests.packs.packs_in_text import NO_PLUGINS, ON

from plumbtrue.audit.comparing import Comparison, Revision, compare
from plumbtrue.reporting.comparison_formats import written
from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot_text
from plumbtrue.rules.packs.loading import load_packs
from plumbtrue.rules.severity import Severity

HOSTILE = (
    "<script>alert(1)</script> | [x](http://x.example) `a` \x85\u202egnol \u2066 {{7*7}} 'q' \" --> =1+1"
)


@pytest.fixture(scope="module")
def comparison(tmp_path_factory: pytest.TempPathFactory) -> Comparison:
    old, new = deepcopy(HOUSE), deepcopy(HOUSE)
    text = HOSTILE.replace("\x85", " ")
    new["house"]["name"] = text
    new["line_sets"][0] |= {"number": text, "note": text, "formerly": ["3"]}
    new["line_sets"][1] |= {"name": text, "lift_lines": []}
    new["house"]["papers"][0]["title"] = text
    new["house"]["beams"].append({"key": text, "what": "loft-beam"})
    hung, other = deepcopy(SHOW), deepcopy(SHOW)
    other["plot"]["items"][1] |= {"name": text, "note": text, "on": text, "weight": "90 lb"}
    other["plot"]["items"][2] |= {"key": text, "formerly": ["3"], "on": "8", "people": "rides"}
    other["plot"]["items"].append({"key": f"9 {text}", "name": text, "on": text, "weight": "9 lb"})
    other["plot"]["cues"][0] |= {"key": text, "time": "1 s"}
    other["plot"] |= {
        "revision": text,
        "accepted": [{"by": text, "role": text, "on": "2026-02-02", "revision": "A"}],
    }
    book = load_packs(("practice",), tmp_path_factory.mktemp("house"), VOCABULARY, NO_PLUGINS, on=ON)
    before = lay(read(old), read_plot_text(text_of(hung), "show.yaml", VOCABULARY))
    after = lay(read(new), read_plot_text(text_of(other), "show.yaml", VOCABULARY))
    return compare(Revision(before, book), Revision(after, book), ON)


def in_format(comparison: Comparison, name: str) -> str:
    return written(comparison, name, old=HOSTILE, new=f"\x1b[31m{HOSTILE}", gate=Severity.BEFORE_NEXT_USE)


@pytest.mark.parametrize("name", ["terminal", "markdown", "html", "json"])
def test_nothing_in_it_acts(comparison: Comparison, name: str) -> None:
    text = in_format(comparison, name)
    assert not {"\x1b", "\u202e", "\u2066", "\x85"} & set(text)


def test_a_page_shows_markup_as_text(comparison: Comparison) -> None:
    page = in_format(comparison, "html")
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in page
    assert "{{7*7}}" in page


def test_markdown_shows_markup_as_text(comparison: Comparison) -> None:
    text = in_format(comparison, "markdown")
    assert "<script>" not in text.replace("\\<", "")
    assert not re.search(r"(?<!\\)\]\(", text)
    assert all(line.count("|") - line.count("\\|") in (0, 4, 5, 6, 7) for line in text.split("\n"))


def test_json_keeps_the_very_text(comparison: Comparison) -> None:
    document = json.loads(in_format(comparison, "json"))
    assert document["house"] == HOSTILE.replace("\x85", " ")
