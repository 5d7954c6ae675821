"""Whole reports compared with accepted ones: what a reader sees changes only when somebody looked at it.

A changed report is accepted with `pytest --force-regen`, after reading it.
"""

import re
from pathlib import Path

import pytest
from pytest_regressions.file_regression import FileRegressionFixture
from tests.reporting.small_house import audited, write_house, written

from plumbtrue import __version__


@pytest.fixture
def small_house(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The small house, in a folder of its own from which it is read."""
    write_house(tmp_path)
    monkeypatch.chdir(tmp_path)
    return Path("house.yaml")


def scrubbed(text: str) -> str:
    """Without the version, the digests, and the page's own style and script, which change for reasons of
    their own.
    """
    text = re.sub(r"\b[0-9a-f]{64}\b|(?<=digest )[0-9a-f]{12}\b", "DIGEST", text)
    text = re.sub(r"<style>.*?</style>|<script>.*?</script>", "<!-- ours -->", text, flags=re.S)
    return re.sub(r"sha256-[A-Za-z0-9+/=]+", "sha256-DIGEST", text).replace(__version__, "VERSION")


@pytest.mark.parametrize(("name", "suffix"), [("terminal", ".txt"), ("markdown", ".md"), ("html", ".html")])
def test_a_report_reads_as_it_was_accepted(
    name: str, suffix: str, small_house: Path, file_regression: FileRegressionFixture
) -> None:
    file_regression.check(scrubbed(written(audited(small_house), name)), extension=suffix)


def test_a_wide_terminal_is_used(small_house: Path, file_regression: FileRegressionFixture) -> None:
    file_regression.check(scrubbed(written(audited(small_house), "terminal", width=120)), extension=".txt")
