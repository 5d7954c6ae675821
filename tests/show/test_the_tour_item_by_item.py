"""The invented tour in its two revisions, by the rules of the house: which pieces hang, and what stands against the
others, as a head of flys settled it beside the program.
"""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from plumbtrue.cli.main import main

DEMO = Path(__file__).parents[2] / "fixtures" / "demo"


def show_of(revision: str) -> dict[str, Any]:
    """The show of the first house in the output for programs."""
    command = [
        "check",
        str(DEMO / "house.yaml"),
        "--plot",
        str(DEMO / f"tour-{revision}.yaml"),
        "--no-plugins",
    ]
    result = CliRunner().invoke(main, [*command, "--on", "2026-04-13", "--format", "json"])
    found = json.loads(result.stdout)["houses"][0]["show"]
    assert isinstance(found, dict)
    return found


@pytest.fixture(scope="module")
def revision_a() -> dict[str, Any]:
    return show_of("a")


def in_state(show: dict[str, Any], state: str) -> set[str]:
    return {item["key"] for item in show["items"] if item["state"] == state}


def test_what_does_not_hang_in_revision_a(revision_a: dict[str, Any]) -> None:
    """The lantern on the set with pitted ropes, the sign on the hemp set."""
    assert in_state(revision_a, "does-not-hang") == {"11", "26"}


def test_what_hangs_with_changes_in_revision_a(revision_a: dict[str, Any]) -> None:
    """Two pieces that nobody weighed, and four on sets that need work first."""
    assert in_state(revision_a, "hangs-with-changes") == {"03", "06", "07", "09", "16", "21"}


def test_what_cannot_be_told_in_revision_a(revision_a: dict[str, Any]) -> None:
    """An arbor without a label, sleeves never gauged, a flame paper, a chain's mark, beams without a rating."""
    assert in_state(revision_a, "cannot-be-told") == {"10", "12", "13", "24", "25"}


def test_why_each_stop_is_one(revision_a: dict[str, Any]) -> None:
    reasons = {item["key"]: " ".join(one["text"] for one in item["reasons"]) for item in revision_a["items"]}
    assert "rope-corrosion-pitted" in reasons["11"]
    assert "fibre-rope-damaged" in reasons["26"]
