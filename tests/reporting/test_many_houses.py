"""Many houses at once: an overview that leads with the worst, a page for each, and how far the run is."""

import os
import pty
import re
import subprocess
import sys
from pathlib import Path
from textwrap import dedent
from typing import Any

import pytest
from tests.pages_in_a_browser import must_be_accessible
from tests.reporting.small_house import HOUSE, write_house

MILL = (
    dedent(HOUSE)
    .replace("Small invented house", "Mill Lane")
    .replace("corrosion: pitted", "corrosion: none")
    .replace("tagged_out: 2025-06-03", "name: Third")
)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Three houses: one with work before use, one with sets that must not fly, one that nobody can read."""
    write_house(tmp_path)
    (tmp_path / "alder.yaml").write_text(MILL, encoding="utf-8")
    (tmp_path / "zinc.yaml").write_text("plumbtrue: rig/1\nhouse: {name: x\n", encoding="utf-8")
    (tmp_path / "pages").mkdir()
    monkeypatch.chdir(tmp_path)
    return tmp_path


COMMAND = [sys.executable, "-m", "plumbtrue", "check", "alder.yaml", "house.yaml", "zinc.yaml"]
OPTIONS = ["--on", "2026-02-13", "--no-plugins", "--format", "html", "--output", "pages"]


def test_the_overview_leads_with_what_cannot_be_read_and_then_the_worst(folder: Path) -> None:
    """Silence about a house must not look like nothing found."""
    done = subprocess.run([*COMMAND, *OPTIONS], capture_output=True, check=False)
    assert done.returncode == 2
    overview = (folder / "pages/index.html").read_text(encoding="utf-8")
    rows = re.findall(r'<tr><th scope="row"><a href="([^"]+)">([^<]+)</a></th>(.*?)</tr>', overview)
    assert [(link, name) for link, name, _ in rows] == [
        ("#house-1", "zinc.yaml"),
        ("house.html", "Small invented house"),
        ("alder.html", "Mill Lane"),
    ]
    assert "Could not be read" in rows[0][2]
    assert re.findall(r"<td>(\d*)", rows[1][2])[0] == "2"
    assert re.findall(r"<td>(\d*)", rows[2][2])[:2] == ["", "2"]
    assert sorted(one.name for one in (folder / "pages").iterdir()) == [
        "alder.html",
        "house.html",
        "index.html",
    ]


def test_how_far_a_run_is_stands_on_a_terminal_only(folder: Path) -> None:
    """What is said of a run is wiped away again, and never gets into a file or a pipe."""
    quiet = subprocess.run([*COMMAND[:-1], *OPTIONS], capture_output=True, check=False, text=True)
    assert quiet.stderr == ""
    ours, theirs = pty.openpty()
    environment = {**os.environ, "TERM": "xterm"}
    with subprocess.Popen([*COMMAND[:-1], *OPTIONS], stderr=theirs, env=environment) as running:
        os.close(theirs)
        told = b""
        while chunk := _read(ours):
            told += chunk
        running.wait()
    os.close(ours)
    assert b"checking: 1 of 2 houses" in told
    assert b"writing: 2 of 2 reports" in told
    assert told.endswith(b"\r\x1b[K")


def _read(terminal: int) -> bytes:
    """What a terminal shows next; nothing once nobody writes to it, which Linux tells by an error."""
    try:
        return os.read(terminal, 4096)
    except OSError:
        return b""


@pytest.mark.browser
def test_an_accessibility_checker_finds_nothing_in_the_overview(folder: Path, browser: Any) -> None:
    subprocess.run([*COMMAND, *OPTIONS], capture_output=True, check=False)
    context = browser.new_context(bypass_csp=True, viewport={"width": 320, "height": 640})
    page = context.new_page()
    page.goto((folder / "pages/index.html").as_uri())
    must_be_accessible(page, {})
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    context.close()
