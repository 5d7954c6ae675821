"""`plumbtrue compare` as it is called: statuses, streams, formats, and what happens when something is wrong."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from tests.comparing.two_weeks import compared as two_weeks
from tests.reporting.small_house import HOUSE, write_house

from plumbtrue.cli.main import main
from plumbtrue.reporting.comparison_formats import written
from plumbtrue.rules.severity import Severity

ON = "2026-02-13"


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with two revisions of the small house, from which the command is called."""
    write_house(tmp_path)
    _write(tmp_path / "better.yaml", HOUSE.replace("good, grade: 30}", "good}"))
    _write(tmp_path / "worse.yaml", HOUSE.replace("corrosion: none}", "corrosion: pitted}"))
    _write(tmp_path / "vaguer.yaml", HOUSE.replace("grade: 43}", "grade: unknown}"))
    monkeypatch.chdir(tmp_path)
    return tmp_path


def _write(path: Path, text: str) -> None:
    path.write_text(text.replace("\n    ", "\n").lstrip(), encoding="utf-8")


def called(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["compare", "--on", ON, "--no-plugins", *arguments])


@pytest.mark.parametrize(
    ("old", "new", "status"),
    [
        ("house.yaml", "house.yaml", 0),
        ("house.yaml", "better.yaml", 0),
        ("house.yaml", "worse.yaml", 1),
        ("worse.yaml", "house.yaml", 0),
        ("house.yaml", "vaguer.yaml", 3),
        ("house.yaml", "none.yaml", 2),
    ],
)
def test_the_status_tells_a_pipeline_whether_it_got_worse(old: str, new: str, status: int) -> None:
    """The house has findings of every severity in each revision; only what is new or worse counts."""
    result = called(old, new)
    assert result.exit_code == status, result.output
    assert "Traceback" not in result.output


def test_the_gate_is_the_callers() -> None:
    assert called("house.yaml", "vaguer.yaml", "--gate", "out-of-service").exit_code == 0
    assert called("house.yaml", "worse.yaml", "--gate", "out-of-service").exit_code == 1


def test_old_findings_stay_visible() -> None:
    text = " ".join(called("house.yaml", "house.yaml").stdout.split())
    assert "Nothing differs." in text
    assert "Out of service: 2 findings as before, on set 2." in text


def test_json_goes_to_a_file_whole(folder: Path) -> None:
    result = called("house.yaml", "worse.yaml", "--format", "json", "--output", "differences.json")
    assert (result.exit_code, result.stdout) == (1, "")
    document = json.loads((folder / "differences.json").read_text(encoding="utf-8"))
    assert document["exit_status"] == 1
    assert [one["name"] for one in (document["old"], document["new"])] == ["house.yaml", "worse.yaml"]


def test_an_acceptance_that_matches_nothing_is_told_and_gives_2(folder: Path) -> None:
    waivers = (folder / "waivers.yaml").read_text(encoding="utf-8")
    (folder / "wrong.yaml").write_text(waivers.replace("4 / line 1", "1 / line 1"), encoding="utf-8")
    result = called("house.yaml", "better.yaml", "--waivers", "wrong.yaml")
    assert result.exit_code == 2
    assert "wrong.yaml:4" in result.stderr
    assert called("house.yaml", "better.yaml", "--waivers", "waivers.yaml").exit_code == 0


def test_what_is_no_revision_is_told_with_what_to_write() -> None:
    result = called("HEAD:house.yaml", "house.yaml")
    assert result.exit_code == 2
    assert "HEAD:house.yaml:1:1: " in result.stderr
    assert "or name two files" in result.stderr


def test_a_house_and_a_plot_are_not_compared(folder: Path) -> None:
    (folder / "show.yaml").write_text("plumbtrue: plot/1\nplot: {show: x}\n", encoding="utf-8")
    result = called("house.yaml", "show.yaml")
    assert result.exit_code == 2
    assert "compare two houses or two plots" in result.stderr
    alone = called("show.yaml", "show.yaml")
    assert "the plot does not say over which house it is laid" in alone.stderr
    assert called("show.yaml", "show.yaml", "--house", "house.yaml").exit_code == 0


def test_a_terminal_that_shows_no_signs_gets_plain_letters(tmp_path: Path) -> None:
    """A serial console, or a pipe of an old system: everything that is ours is ASCII there."""
    found = two_weeks(tmp_path)
    text = written(found, "terminal", old="monday", new="friday", gate=Severity.ADVISORY, signs=False)
    ours = [line for line in text.split("\n") if not line.isascii()]
    assert ours == []
    assert "# 3A" in text
