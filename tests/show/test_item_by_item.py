"""The show, item by item: hangs as asked, with changes, not at all, or nobody can tell; and why."""

import json
import re
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner, Result
from tests.show.small_show import BORDER, RULES, SHIP, house, plot, verdicts, write_show

from plumbtrue.audit.item_verdicts import ItemState, People
from plumbtrue.cli.main import main
from plumbtrue.documents.data_folder import data_folder

LIGHT_SHIP = SHIP.replace("612 lb +/- 2 lb", "520 lb +/- 2 lb").replace("153 lb", "130 lb")


def on(item: str, line_set: str) -> str:
    """The piece on another set."""
    return item.replace("on: 26", f"on: {line_set}").replace("on: 3,", f"on: {line_set},")


def called(folder: Path, *arguments: str, plot_text: str, house_text: str = "") -> Result:
    at, shown = write_show(folder, plot_text, house_text)
    pack = str(folder / "trade")
    command = [arguments[0], str(at), "--plot", str(shown), "--pack", pack, "--on", "2026-04-13"]
    return CliRunner().invoke(main, [*command, "--no-plugins", *arguments[1:]])


def test_a_piece_that_nothing_stands_against_hangs_as_asked(tmp_path: Path) -> None:
    assert verdicts(tmp_path, plot(LIGHT_SHIP, BORDER))["21"].state is ItemState.AS_ASKED


def test_a_piece_too_heavy_for_its_set_does_not_hang(tmp_path: Path) -> None:
    ship = verdicts(tmp_path, plot(SHIP, BORDER))["21"]
    assert ship.state is ItemState.DOES_NOT_HANG
    assert [one.rule for one in ship.stopped_by] == ["arbor-takes-the-weights", "set-takes-the-load"]


def test_a_drawn_piece_hangs_with_changes(tmp_path: Path) -> None:
    drawn = LIGHT_SHIP.replace("weight_basis: weighed", "weight_basis: drawn")
    ship = verdicts(tmp_path, plot(drawn))["21"]
    assert ship.state is ItemState.WITH_CHANGES
    assert [one.rule for one in ship.changes] == ["piece-is-weighed"]


@pytest.mark.parametrize(
    ("line_set", "because"), [("4", "rope-corrosion-pitted"), ("5", "its tag")], ids=["pitted", "tagged"]
)
def test_no_piece_hangs_better_than_its_set(tmp_path: Path, line_set: str, because: str) -> None:
    """No rule of the small pack says so of a piece: what the house says of the set is enough."""
    result = called(tmp_path, "check", "--width", "120", plot_text=plot(on(LIGHT_SHIP, line_set)))
    assert verdicts(tmp_path, plot(on(LIGHT_SHIP, line_set)))["21"].state is ItemState.DOES_NOT_HANG
    assert f"Set {line_set} is out of service ({because})." in result.stdout


def test_an_arbor_without_a_label_cannot_be_told(tmp_path: Path) -> None:
    ship = verdicts(tmp_path, plot(on(LIGHT_SHIP, "6")))["21"]
    assert ship.state is ItemState.CANNOT_BE_TOLD
    assert {(one.fact, one.thing.path) for one in ship.open_ones[0].missing} >= {("capacity", "6 / arbor")}


def test_a_weight_between_cannot_be_told(tmp_path: Path) -> None:
    """Drawn, 520 lb may be 572 (10 % either way: common practice); 550 may be 605, more than the posted 580."""
    doubtful = LIGHT_SHIP.replace("520 lb +/- 2 lb", "550 lb +/- 10 %")
    assert verdicts(tmp_path, plot(doubtful))["21"].state is ItemState.CANNOT_BE_TOLD


def test_a_piece_without_a_place_is_never_passed(tmp_path: Path) -> None:
    assert (
        verdicts(tmp_path, plot(LIGHT_SHIP.replace("on: 26, ", "")))["21"].state is ItemState.CANNOT_BE_TOLD
    )


def test_a_piece_that_nobody_says_is_without_people_is_never_passed(tmp_path: Path) -> None:
    ship = verdicts(tmp_path, plot(LIGHT_SHIP.replace("people: none, ", "")))["21"]
    assert (ship.state, ship.people) == (ItemState.CANNOT_BE_TOLD, People.NOT_KNOWN)


def test_notes_that_speak_of_somebody_hold_the_piece(tmp_path: Path) -> None:
    talked_of = LIGHT_SHIP.replace("name: ship profile", "name: ship that the captain rides")
    assert verdicts(tmp_path, plot(talked_of))["21"].state is ItemState.CANNOT_BE_TOLD


def test_somebody_on_it_stops_a_piece_under_any_rules(tmp_path: Path) -> None:
    """A pack that forgot the rule stops it too."""
    without = RULES.replace("people is none", "people is none or people is not none")
    ridden = plot(LIGHT_SHIP.replace("people: none", "people: rides"))
    at, shown = write_show(tmp_path, ridden, rules=without)
    command = ["check", str(at), "--plot", str(shown), "--pack", str(tmp_path / "trade"), "--format", "json"]
    result = CliRunner().invoke(main, [*command, "--on", "2026-04-13", "--no-plugins"])
    (item,) = json.loads(result.stdout)["houses"][0]["show"]["items"]
    assert item["state"] == "does-not-hang"
    assert "nobody may be lifted" in item["reasons"][0]["text"]


def test_rules_that_say_nothing_of_shows_pass_nothing(tmp_path: Path) -> None:
    """A pack about chain alone looks at no piece, whatever else it finds."""
    only_house = RULES[: RULES.index("- rule: nobody-is-lifted")]
    at, shown = write_show(tmp_path, plot(LIGHT_SHIP), rules=only_house)
    command = ["check", str(at), "--plot", str(shown), "--pack", str(tmp_path / "trade")]
    result = CliRunner().invoke(main, [*command, "--on", "2026-04-13", "--no-plugins"])
    assert "No rule about shows looked at it." in result.stdout
    assert "HANGS AS ASKED" not in result.stdout


def test_the_terminal_tells_the_show_after_the_headline(tmp_path: Path) -> None:
    result = called(tmp_path, "check", plot_text=plot(SHIP, BORDER))
    lines = result.stdout.splitlines()
    start = next(
        n for n, line in enumerate(lines) if line.startswith("THE SHOW, ITEM BY ITEM: The Test Show")
    )
    assert any("OUT OF SERVICE" in line for line in lines[:start])
    assert lines[start + 1].startswith("  ■ DOES NOT HANG       1: 21;")
    assert any(line.startswith("  ○ HANGS AS ASKED      1: 02;") for line in lines[start:])
    assert result.exit_code == 1


@pytest.mark.parametrize("form", ["markdown", "html", "json"])
def test_every_format_tells_each_piece(tmp_path: Path, form: str) -> None:
    result = called(tmp_path, "check", "--format", form, plot_text=plot(SHIP, BORDER))
    assert "ship profile" in result.stdout
    assert "610 to 614 lb hangs on it, and 580 lb is posted." in result.stdout.replace("\\", "")
    assert ("does-not-hang" if form == "json" else "Does not hang") in result.stdout


def test_the_json_keeps_to_its_schema(tmp_path: Path) -> None:
    result = called(tmp_path, "check", "--format", "json", plot_text=plot(SHIP, BORDER))
    schema = json.loads((data_folder("schemas") / "audit-1.schema.json").read_text(encoding="utf-8"))
    document = json.loads(result.stdout)
    jsonschema.Draft202012Validator(schema).validate(document)
    assert [one["key"] for one in document["houses"][0]["show"]["items"]] == ["02", "21"]


def test_without_a_plot_nothing_is_said_of_a_show(tmp_path: Path) -> None:
    at, _ = write_show(tmp_path, plot(SHIP))
    result = CliRunner().invoke(
        main, ["check", str(at), "--pack", str(tmp_path / "trade"), "--on", "2026-04-13"]
    )
    assert "THE SHOW" not in result.stdout


def in_two_houses(folder: Path, *arguments: str) -> Result:
    """The show in the house, in one with a bigger label and posting, and in one that has no set 26."""
    at, shown = write_show(folder, plot(SHIP, BORDER))
    bigger = house(name="Bigger house").replace("1350 lb", "1500 lb").replace("580 lb", "700 lb")
    (folder / "bigger.yaml").write_text(bigger, encoding="utf-8")
    smaller = house(name="Smaller house").replace("number: 26", "number: 27")
    (folder / "smaller.yaml").write_text(smaller, encoding="utf-8")
    files = [str(at), str(folder / "bigger.yaml"), str(folder / "smaller.yaml")]
    command = ["check", *files, "--plot", str(shown), "--pack", str(folder / "trade"), "--on", "2026-04-13"]
    return CliRunner().invoke(main, [*command, "--no-plugins", *arguments])


def test_one_show_in_several_houses_is_a_table(tmp_path: Path) -> None:
    """The smaller house has no set 26: that piece says so, and the other is judged there all the same."""
    result = in_two_houses(tmp_path, "--width", "120")
    ship = next(line for line in result.stdout.splitlines() if line.startswith("  21, ship profile"))
    border = next(line for line in result.stdout.splitlines() if line.startswith("  02"))
    assert re.findall("[■○▲?] [a-z ]+[a-z]", ship) == [
        "■ does not hang",
        "○ hangs as asked",
        "■ does not hang",
    ]
    assert re.findall("[■○▲?] [a-z ]+[a-z]", border)[2] != "■ does not hang"
    assert "This house has no set 26: the nearest is " in " ".join(result.stdout.split())
    assert result.exit_code == 1


@pytest.mark.parametrize("form", ["markdown", "html"])
def test_the_table_is_in_every_format_for_people(tmp_path: Path, form: str) -> None:
    result = in_two_houses(tmp_path, "--format", form)
    assert "The Test Show, revision A, house by house" in result.stdout
    assert "Bigger house" in result.stdout
    assert "This house has no set 26" in result.stdout


def test_hostile_names_stay_text(tmp_path: Path) -> None:
    """Signs that nobody sees are refused on reading; markup stays what somebody wrote."""
    hostile = LIGHT_SHIP.replace("name: ship profile", "name: '<script>alert(1)</script> | **ship**'")
    for command in ("check", "papers"):
        page = called(tmp_path, command, "--format", "html", plot_text=plot(hostile)).stdout
        assert "<script>alert" not in page
        assert "&lt;script&gt;alert" in page
        text = called(tmp_path, command, "--format", "markdown", plot_text=plot(hostile)).stdout
        assert "\\<script\\>alert(1)\\</script\\> \\| \\*\\*ship" in text
