"""An acceptance holds through its last day and no longer, in every format alike; it is never out of sight."""

import json
from datetime import date
from pathlib import Path
from xml.etree.ElementTree import fromstring

import pytest
from tests.reporting.small_house import audited, write_house, written

LAST_DAY, DAY_AFTER = date(2026, 6, 30), date(2026, 7, 1)


def report(folder: Path, name: str, on: date) -> str:
    """A report of the small house, in which one finding is accepted until a day."""
    file = folder / "house.yaml"
    if not file.exists():
        write_house(folder)
    return written(audited(file, on=on), name)


@pytest.mark.parametrize("on", [LAST_DAY, DAY_AFTER])
@pytest.mark.parametrize("name", ["terminal", "markdown", "html"])
def test_people_read_who_accepted_it_and_until_when(name: str, on: date, tmp_path: Path) -> None:
    text = " ".join(report(tmp_path, name, on).split())
    assert "technical director" in text
    assert "until 2026-06-30" in text


def test_the_terminal_brings_the_finding_back_after_the_last_day(tmp_path: Path) -> None:
    in_force, lapsed = report(tmp_path, "terminal", LAST_DAY), report(tmp_path, "terminal", DAY_AFTER)
    assert "BEFORE THE NEXT USE: 1 matter on 1 set" in in_force
    assert "ACCEPTED UNTIL A DAY: 1 matter" in in_force
    assert "BEFORE THE NEXT USE: 2 matters on 2 sets" in lapsed
    assert "ACCEPTED UNTIL A DAY" not in lapsed
    assert "2026-06-30: expired" in " ".join(lapsed.split())


@pytest.mark.parametrize(("on", "told"), [(LAST_DAY, "Accepted until a day"), (DAY_AFTER, "and expired")])
def test_markdown_says_how_it_stands(on: date, told: str, tmp_path: Path) -> None:
    assert told in report(tmp_path, "markdown", on)


@pytest.mark.parametrize(
    ("on", "told"), [(LAST_DAY, "2026-06-30, in force"), (DAY_AFTER, "2026-06-30, expired")]
)
def test_the_page_says_how_it_stands(on: date, told: str, tmp_path: Path) -> None:
    assert told in report(tmp_path, "html", on)


@pytest.mark.parametrize(
    ("on", "counts", "standing"), [(LAST_DAY, False, "in force"), (DAY_AFTER, True, "expired")]
)
def test_json_says_whether_it_counts(on: date, counts: bool, standing: str, tmp_path: Path) -> None:
    (house,) = json.loads(report(tmp_path, "json", on))["houses"]
    (found,) = [one for one in house["outcomes"] if one["acceptance"] is not None]
    assert (found["counts"], found["acceptance"]["standing"]) == (counts, standing)


@pytest.mark.parametrize(("on", "suppressed"), [(LAST_DAY, 1), (DAY_AFTER, 0)])
def test_sarif_suppresses_no_longer_than_it_holds(on: date, suppressed: int, tmp_path: Path) -> None:
    (run,) = json.loads(report(tmp_path, "sarif", on))["runs"]
    assert sum("suppressions" in one for one in run["results"]) == suppressed


@pytest.mark.parametrize(("on", "element"), [(LAST_DAY, "skipped"), (DAY_AFTER, "failure")])
def test_junit_fails_again_after_the_last_day(on: date, element: str, tmp_path: Path) -> None:
    cases = fromstring(report(tmp_path, "junit", on)).iter("testcase")
    (case,) = [
        one for one in cases if "Set 4" in str(one.attrib) and "chain-grade-too-low" in str(one.attrib)
    ]
    assert [below.tag for below in case] == [element]
