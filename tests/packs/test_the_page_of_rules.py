"""Every pack that comes with the program has its rules on one page, and the page is fresh."""

import re
from functools import cache
from pathlib import Path

import pytest

from plumbtrue.documents.data_folder import data_folder
from plumbtrue.rig.vocabulary_loading import load_vocabulary
from plumbtrue.rules.packs.catalogue import COMMAND, catalogues

PACKS = data_folder("rulepacks")
PAGES = sorted(path.parent / "RULES.md" for path in PACKS.glob("*/pack.yaml"))


@cache
def fresh() -> dict[Path, str]:
    return catalogues(PACKS, load_vocabulary())


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.parent.name)
def test_the_page_says_what_the_pack_holds(page: Path) -> None:
    assert page.read_text(encoding="utf-8") == fresh()[page], f"made anew by `{COMMAND}`"


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.parent.name)
def test_its_first_line_says_how_it_was_made(page: Path) -> None:
    assert COMMAND in page.read_text(encoding="utf-8").partition("\n")[0]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.parent.name)
def test_every_link_leads_to_the_line_where_the_thing_stands(page: Path) -> None:
    links = re.findall(r"\[`([^`]+)`\]\(([^)#]+)#L(\d+)\)", page.read_text(encoding="utf-8"))
    assert links
    lost = {name for name, file, line in links if not _stands(page.parent / file, int(line), name)}
    assert lost == set()


def _stands(file: Path, line: int, name: str) -> bool:
    """Whether a rule or table of that name begins on a line."""
    there = file.read_text(encoding="utf-8").splitlines()[line - 1]
    return (
        re.fullmatch(
            rf"(- )?(rule|table): {name}", there.replace("-", "_" if there.startswith("table:") else "-")
        )
        is not None
    )
