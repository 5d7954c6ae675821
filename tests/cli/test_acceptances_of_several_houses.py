"""One run over several houses with the acceptances of all of them: what matches in one is no mistake in another."""

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from plumbtrue.cli.main import main

FIXTURES = Path(__file__).parents[2] / "fixtures"
DEMO = FIXTURES / "demo"
OTHER = FIXTURES / "small" / "sound-single.yaml"


def checked(*files: Path, waivers: Path) -> Result:
    command = ["check", *map(str, files), "--waivers", str(waivers), "--on", "2026-04-13", "--no-plugins"]
    return CliRunner().invoke(main, [*command, "--format", "json"])


@pytest.mark.parametrize("turned", [False, True], ids=["its house first", "its house last"])
def test_an_acceptance_of_one_house_is_no_mistake_in_another(*, turned: bool) -> None:
    houses = [DEMO / "house.yaml", OTHER]
    result = checked(*(reversed(houses) if turned else houses), waivers=DEMO / "waivers.yaml")
    assert result.exit_code == 1  # What the first house is found with; not 2.
    assert "19 / line 2" not in result.stderr


def test_one_that_matches_nowhere_stays_a_mistake_and_is_told_once(tmp_path: Path) -> None:
    waivers = tmp_path / "waivers.yaml"
    text = (DEMO / "waivers.yaml").read_text(encoding="utf-8").replace("19 / line 2", "91 / line 2")
    waivers.write_text(text, encoding="utf-8")
    result = checked(DEMO / "house.yaml", OTHER, waivers=waivers)
    assert result.exit_code == 2
    assert result.stderr.count("there is no 91 / line 2 in this house") == 1


def test_in_one_house_alone_it_is_a_mistake() -> None:
    assert checked(OTHER, waivers=DEMO / "waivers.yaml").exit_code == 2
