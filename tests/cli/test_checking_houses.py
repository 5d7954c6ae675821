"""`plumbtrue check` as it is called: statuses, streams, formats, and what happens when something is wrong."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from jsonschema import Draft202012Validator
from tests.packs.packs_in_text import CHAIN_GRADE, write_pack
from tests.reporting.small_house import HOUSE, write_house

from plumbtrue.cli.main import main
from plumbtrue.documents.data_folder import data_folder

ON = "2026-02-13"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the small house, in which the command is called."""
    write_house(tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def called(*arguments: str, given: str = "") -> Result:
    return CliRunner().invoke(main, ["check", "--on", ON, *arguments], input=given)


def sound(folder: Path) -> str:
    """A house with one set on which nothing is wrong and nothing open."""
    cut = HOUSE.index("      - number: 2")
    (folder / "sound.yaml").write_text(HOUSE[:cut].replace("\n    ", "\n"), encoding="utf-8")
    return "sound.yaml"


@pytest.mark.usefixtures("folder")
def test_findings_at_the_gate_give_1() -> None:
    result = called("house.yaml")
    assert result.exit_code == 1
    assert "OUT OF SERVICE" in result.stdout


def test_a_house_without_findings_gives_0_and_is_not_called_safe(folder: Path) -> None:
    result = called(sound(folder))
    assert result.exit_code == 0
    assert "NOTHING FOUND" in result.stdout
    assert "does not say that anything is safe" in " ".join(result.stdout.split())


def test_an_open_question_at_the_gate_gives_3(folder: Path) -> None:
    text = (folder / sound(folder)).read_text(encoding="utf-8").replace("grade: 80", "grade: unknown")
    (folder / "open.yaml").write_text(text, encoding="utf-8")
    assert called("open.yaml").exit_code == 3
    assert called("open.yaml", "--gate", "out-of-service").exit_code == 0


@pytest.mark.parametrize("sets", ["", "line_sets: []\n", "line_sets: unknown\n"])
def test_a_house_that_names_no_set_is_no_pass(folder: Path, sets: str) -> None:
    """Somebody began with the house alone; nothing that hangs was looked at, and the status was 0."""
    (folder / "begun.yaml").write_text(f"plumbtrue: rig/1\nhouse: {{name: begun}}\n{sets}", encoding="utf-8")
    result = called("begun.yaml", "--pack", "practice")
    assert result.exit_code == 3
    assert "No line set is written down, so nothing that hangs was checked." in result.stdout


@pytest.mark.usefixtures("folder")
def test_a_pack_that_is_nowhere_is_told_where_it_is_named(folder: Path) -> None:
    text = "plumbtrue: rig/1\nrule_packs: [practise]\nhouse: {name: begun}\n"
    (folder / "begun.yaml").write_text(text, encoding="utf-8")
    told = called("begun.yaml").stderr
    assert told.startswith(
        "begun.yaml:2:14: no installed plugin brings a pack practise\n    2 | rule_packs: [practise]\n"
    )
    assert "write practice, or ./" in told
    assert called("begun.yaml", "--pack", "nowhere").stderr.startswith("--pack:1:1: no installed plugin")


@pytest.mark.parametrize(
    "option", [(), ("house.yaml", "--plot"), ("house.yaml", "--waivers"), ("house.yaml", "--output")]
)
def test_links_that_lead_in_a_circle_are_told_and_stop_nothing_else(
    folder: Path, option: tuple[str, ...]
) -> None:
    """Such a link ended in a mistake of the program's own."""
    (folder / "circle").symlink_to("circle")
    result = called(*option, "circle")
    assert result.exit_code == 2
    assert "circle" in result.stderr
    assert "of its own" not in result.stderr


@pytest.mark.usefixtures("folder")
def test_a_house_that_cannot_be_read_gives_2_and_says_where() -> None:
    Path("bad.yaml").write_text("plumbtrue: rig/1\nhouse: {name: x}\nhouse: {name: y}\n", encoding="utf-8")
    result = called("bad.yaml")
    assert result.exit_code == 2
    assert "bad.yaml:3:1" in result.stderr
    assert "Traceback" not in result.output


@pytest.mark.usefixtures("folder")
def test_a_house_that_cannot_be_read_stops_none_of_the_others() -> None:
    result = called("none.yaml", "house.yaml")
    assert result.exit_code == 2
    assert "none.yaml: COULD NOT BE READ" in result.stdout
    assert "Small invented house" in result.stdout


@pytest.mark.usefixtures("folder")
def test_a_plot_that_cannot_be_read_is_named_and_not_its_house() -> None:
    """The house is in order; whoever reads that it could not be read looks in the wrong file."""
    Path("tour.yaml").write_text("plumbtrue: plot/1\nplot: {show: x, items: 3}\n", encoding="utf-8")
    for form, told in (
        ("terminal", "house.yaml: NOT CHECKED, since tour.yaml could not be read"),
        ("markdown", "house.yaml was not checked, since tour.yaml could not be read"),
    ):
        result = called("house.yaml", "--plot", "tour.yaml", "--format", form)
        assert result.exit_code == 2
        assert told in result.stdout


@pytest.mark.usefixtures("folder")
def test_houses_several_at_a_time_say_the_same_as_one_by_one() -> None:
    files = ("house.yaml", "none.yaml", "house.yaml")
    assert called(*files, "--jobs", "2").output == called(*files).output


@pytest.mark.usefixtures("folder")
def test_a_house_on_standard_input_is_checked() -> None:
    result = called("-", given=Path("house.yaml").read_text(encoding="utf-8"))
    assert result.exit_code == 1
    assert "standard input" in result.stdout


@pytest.mark.usefixtures("folder")
def test_an_acceptance_takes_a_finding_out_of_the_count_and_stays_in_sight() -> None:
    result = called("house.yaml", "--waivers", "waivers.yaml")
    assert "ACCEPTED UNTIL A DAY: 1 matter" in result.stdout
    assert "Chain of grade 80 is on order." in " ".join(result.stdout.split())


@pytest.mark.usefixtures("folder")
def test_an_acceptance_that_matches_nothing_gives_2() -> None:
    text = Path("waivers.yaml").read_text(encoding="utf-8").replace("4 / line 1", "4 / line 9")
    Path("waivers.yaml").write_text(text, encoding="utf-8")
    result = called("house.yaml", "--waivers", "waivers.yaml")
    assert result.exit_code == 2
    assert "4 / line 9" in result.stderr


@pytest.mark.usefixtures("folder")
def test_a_pack_is_asked_for_by_its_folder_from_where_one_stands(monkeypatch: pytest.MonkeyPatch) -> None:
    Path("houses").mkdir()
    Path("house.yaml").rename("houses/house.yaml")
    assert called("houses/house.yaml").exit_code == 2
    assert called("houses/house.yaml", "--pack", "./trade").exit_code == 1


@pytest.mark.usefixtures("folder")
def test_a_report_goes_whole_into_a_file_and_nothing_is_printed() -> None:
    result = called("house.yaml", "--format", "html", "--output", "report.html")
    assert result.exit_code == 1
    assert result.stdout == ""
    assert Path("report.html").read_text(encoding="utf-8").rstrip().endswith("</html>")


@pytest.mark.usefixtures("folder")
def test_a_file_that_cannot_be_written_gives_no_traceback() -> None:
    result = called("house.yaml", "--output", "no/such/folder/report.txt")
    assert result.exit_code == 2
    assert "Traceback" not in result.output


@pytest.mark.parametrize("document", ["house.yaml", "trade/pack.yaml", "trade/rules/chain.yaml"])
def test_a_report_never_takes_the_place_of_a_document(folder: Path, document: str) -> None:
    """`check house.yaml --output house.yaml` left the report where the record of the house had been."""
    write_pack(folder, "trade", rules=CHAIN_GRADE)
    before = (folder / document).read_bytes()
    result = called("house.yaml", "--output", document)
    assert result.exit_code == 2
    assert "a report would take its place" in result.stderr
    assert (folder / document).read_bytes() == before


@pytest.mark.usefixtures("folder")
def test_a_report_takes_the_place_of_an_older_one(folder: Path) -> None:
    for form in ("terminal", "json", "markdown", "html", "sarif", "junit", "annotations", "short"):
        (folder / "report").write_text("old", encoding="utf-8")
        for _ in range(2):
            assert called("house.yaml", "--format", form, "--output", "report").exit_code == 1
        assert (folder / "report").read_text(encoding="utf-8") != "old"


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="the system has no device that is always full")
@pytest.mark.usefixtures("folder")
def test_a_full_disk_behind_standard_output_is_told() -> None:
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        result = subprocess.run(
            [sys.executable, "-m", "plumbtrue", "check", "house.yaml", "--on", ON],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert result.returncode == 2
    assert "cannot write to standard output: No space left" in result.stderr


@pytest.mark.usefixtures("folder")
def test_whoever_closes_standard_output_gets_the_status() -> None:
    command = f"{sys.executable} -m plumbtrue check house.yaml --on {ON} >&-"
    result = subprocess.run(["/bin/sh", "-c", command], capture_output=True, text=True, check=False)
    assert result.returncode == 1
    assert "of its own" not in result.stderr


@pytest.mark.usefixtures("folder")
def test_a_misspelt_format_is_told_with_the_nearest() -> None:
    result = called("house.yaml", "--format", "mardown")
    assert result.exit_code == 2
    assert "did you mean markdown?" in result.stderr


@pytest.mark.usefixtures("folder")
def test_many_houses_become_pages_and_an_overview_that_leads_to_them() -> None:
    Path("pages").mkdir()
    Path("other.yaml").write_bytes(Path("house.yaml").read_bytes())
    result = called("house.yaml", "other.yaml", "none.yaml", "--format", "html", "--output", "pages")
    assert result.exit_code == 2
    assert {one.name for one in Path("pages").iterdir()} == {"index.html", "house.html", "other.html"}
    overview = Path("pages/index.html").read_text(encoding="utf-8")
    assert 'href="house.html"' in overview
    assert overview.index("Could not be read") < overview.index("Small invented house")


def test_formats_are_listed_without_a_house() -> None:
    result = called("--format", "list")
    assert result.exit_code == 0
    assert {"terminal", "markdown", "html", "json", "sarif", "junit", "annotations"} <= set(
        result.stdout.split()
    )


@pytest.mark.usefixtures("folder")
def test_text_in_a_pipe_has_no_colours() -> None:
    assert "\x1b" not in called("house.yaml").output


@pytest.mark.usefixtures("folder")
def test_json_is_as_its_schema_says() -> None:
    """Held by jsonschema, an implementation of JSON Schema 2020-12 that is not ours."""
    result = called("house.yaml", "none.yaml", "--format", "json", "--waivers", "waivers.yaml")
    schema = json.loads((data_folder("schemas") / "audit-1.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    document = json.loads(result.stdout)
    Draft202012Validator(schema).validate(document)
    read, not_read = document["houses"]
    assert (read["read"], not_read["read"]) == (True, False)
    assert document["exit_status"] == result.exit_code == 2


@pytest.mark.usefixtures("folder")
def test_json_has_every_outcome_with_its_place_and_working() -> None:
    (house,) = json.loads(called("house.yaml", "--format", "json").stdout)["houses"]
    others = sum(len(one["things"]) for one in house["others"])
    assert sum(house["counts"].values()) == len(house["outcomes"]) + others
    (pitted, _) = [
        one for one in house["outcomes"] if one["rule"] == "rope-pitted" and one["outcome"] == "finding"
    ]
    assert pitted["thing"] == {
        "kind": "rope",
        "path": "2 / line 1 / rope",
        "label": "rope of line 1",
        "line_set": "2",
    }
    line = Path("house.yaml").read_text(encoding="utf-8").splitlines()[pitted["location"]["line"] - 1]
    assert line[pitted["location"]["column"] - 1 :].startswith("pitted")
    assert any("corrosion = pitted" in step["text"] for step in house["workings"][pitted["working"]])


@pytest.mark.usefixtures("folder")
def test_json_says_by_rule_what_is_met_and_of_which_things() -> None:
    (house,) = json.loads(called("house.yaml", "--format", "json").stdout)["houses"]
    (met,) = [
        one for one in house["others"] if (one["rule"], one["outcome"]) == ("chain-grade-too-low", "met")
    ]
    things = [house["things_of_others"][place] for place in met["things"]]
    assert "1 / line 1 / lower / trim-chain" in [one["path"] for one in things]
    assert not any(one["path"].startswith("2 / line 1 /") for one in things)
    assert met["severity"] == "before-next-use"


def test_the_same_house_gives_the_same_bytes_whatever_the_order_of_hashing(folder: Path) -> None:
    def bytes_of(seed: str, name: str) -> bytes:
        command = [
            sys.executable,
            "-m",
            "plumbtrue.cli.main",
            "check",
            "house.yaml",
            "--on",
            ON,
            "--format",
            name,
        ]
        environment = {**os.environ, "PYTHONHASHSEED": seed}
        return subprocess.run(command, cwd=folder, env=environment, capture_output=True, check=False).stdout

    for name in ("terminal", "markdown", "html", "json"):
        assert bytes_of("1", name) == bytes_of("2", name) != b""


@pytest.mark.parametrize("columns", ["60", "79"])
def test_no_line_is_wider_than_asked(columns: str) -> None:
    demo = str(Path(__file__).parents[2] / "fixtures" / "demo" / "house.yaml")
    lines = called(demo, "--width", columns).stdout.splitlines()
    assert [line for line in lines if len(line) > int(columns)] == []
