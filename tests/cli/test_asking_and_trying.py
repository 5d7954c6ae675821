"""`plumbtrue explain`, `plumbtrue pack`, and the program itself."""

import re
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from tests.packs.packs_in_text import CHAIN_GRADE, KEEPER_BOLT, write_pack
from tests.reporting.small_house import write_house

from plumbtrue.cli.main import main
from plumbtrue.documents.place import Place, Problem
from plumbtrue.documents.reading import read_text
from plumbtrue.rig.file_words import FILE_WORDS
from plumbtrue.rules.language.parsing import parse
from plumbtrue.rules.packs.pack_words import PACK_WORDS


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the small house, in which the command is called."""
    write_house(tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def called(*arguments: str) -> Result:
    return CliRunner().invoke(main, list(arguments))


@pytest.mark.usefixtures("folder")
def test_a_rule_is_explained_with_its_limit_and_its_authority() -> None:
    result = called("explain", "keeper-bolt-missing", "--pack", "./trade")
    assert result.exit_code == 0
    assert "reach = 12 in" in result.stdout
    assert "common practice" in result.stdout


@pytest.mark.usefixtures("folder")
def test_a_fact_is_explained_with_formula_inputs_and_places() -> None:
    result = called("explain", "1 / line 2 : reaction", "--house", "house.yaml")
    assert result.exit_code == 0
    assert "formula:" in result.stdout
    assert "posted total of 1" in result.stdout
    assert "house.yaml:" in result.stdout


@pytest.mark.usefixtures("folder")
def test_a_finding_is_explained_with_its_working() -> None:
    asked = "chain-grade-too-low @ 2 / line 1 / lower / trim-chain"
    result = called("explain", asked, "--house", "house.yaml")
    assert "grade = 30" in result.stdout
    assert "Chain, an invented handbook" in result.stdout


@pytest.mark.usefixtures("folder")
def test_a_finding_is_explained_with_the_waiver_that_would_accept_it() -> None:
    asked = "chain-grade-too-low @ 2 / line 1 / lower / trim-chain"
    told = called("explain", asked, "--house", "house.yaml").stdout
    assert (
        """
  - rule: chain-grade-too-low
    thing: 2 / line 1 / lower / trim-chain
    state:
      grade: 30
    until:        # the last day, such as 2026-09-11
    reason:       # why it can wait
    accepted_by:  # who answers for it
    meanwhile:    # what is done instead until then
"""
        in told
    )


def test_a_kind_a_fact_and_a_message_are_explained_by_name() -> None:
    assert "Chain of a termination" in called("explain", "trim-chain", "--pack", "practice").stdout
    assert "pits felt with a fingernail" in called("explain", "corrosion").stdout
    assert (
        "Delete" in called("explain", "duplicate-key").stdout or called("explain", "duplicate-key").exit_code
    )


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ("hemp", "hemp, a word of system of a line set: rope lines, bags and pins"),
        ("dead hung", "dead-hung, a word of system of a line set"),
        ("curtain", "curtain, a word of category of an item"),
        ("like", "batten: {like: pipe"),
        ("typical", "never in what state it is"),
        ("unknown", "Somebody looked and could not tell"),
        ("include", "include: [parts.yaml"),
        ("diameter", "a length, such as 1/4 in or 6.4 mm"),
        ("installed", "a date, such as 2018-07-14"),
        ("cloth", "cloth: [{what: …, area: …}], each a make up"),
        ("batten", "batten: {form: …, nominal: …}"),
        ("lift_lines", "lift_lines: {at: {1: SR 12'-0\"}, each: {rope: …}}"),
    ],
)
def test_a_word_of_the_file_and_how_a_fact_is_written(asked: str, told: str) -> None:
    """Whoever writes a first file asks for the words that stand in it."""
    said = " ".join(called("explain", asked, "--no-plugins").stdout.split())
    assert told in said
    assert "Dimension(" not in said


def test_what_is_explained_of_a_file_can_be_read() -> None:
    """Every example of a word of the file is YAML that says what it is an example of."""
    for word, (_, example) in FILE_WORDS.items():
        assert word in example
        assert read_text(f"example:\n  {example}\n", f"{word}.yaml").get("example") is not None


def test_what_is_explained_of_a_pack_can_be_written() -> None:
    """Whoever writes house rules has nothing but `explain` and the schemas at hand."""
    for word, said in PACK_WORDS.items():
        for example in said.examples:
            if word == "expression":
                assert not isinstance(parse(example, Place("rules.yaml", 1, 1)), Problem), example
            else:
                assert read_text(f"example:\n  {example}\n", f"{word}.yaml").get("example") is not None
    assert "such as" in called("explain", "tighten", "--no-plugins").stdout


def test_a_long_name_of_a_fact_stands_apart_from_what_it_says() -> None:
    assert (
        "crosses_release_lines lines of fire curtain"
        in called("explain", "fire-curtain", "--no-plugins").stdout
    )


@pytest.mark.parametrize(
    ("asked", "told"), [("termination", "trim-chain"), ("pinrail", "rail"), ("motorised", "motor")]
)
def test_a_thing_by_another_name_is_found_by_its_meaning(asked: str, told: str) -> None:
    refusal = called("explain", asked, "--no-plugins")
    assert refusal.exit_code == 2
    assert told in " ".join(refusal.stderr.split()).split("; ")[-1]


def test_a_piece_of_a_show_is_explained(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(Path(__file__).parents[2] / "fixtures" / "demo")
    over = ("--house", "house.yaml", "--plot", "tour-a.yaml", "--on", "2026-04-13", "--no-plugins")
    fact = called("explain", "item 21 : stated_weight", *over)
    assert "520 lb" in fact.stdout
    for name in ('item "ship profile"', "item ship profile", "ship profile"):
        assert called("explain", f"{name} : stated_weight", *over).stdout == fact.stdout
    finding = called("explain", "set-is-not-out-of-service @ item 11", *over)
    assert "set-is-not-out-of-service @ plot / item 11: finding" in finding.stdout
    alone = called("explain", "item 21 : stated_weight", *over[:2], "--no-plugins")
    assert "--plot" in alone.stderr


@pytest.mark.parametrize("units", ["si", "metric"])
def test_a_metric_house_reads_every_step_and_assumption_in_its_own_units(folder: Path, units: str) -> None:
    """Steps, assumptions and what is missing were told in feet and pounds whatever the house reads."""
    demo = Path(__file__).parents[2] / "fixtures" / "demo"
    house = (demo / "house.yaml").read_text(encoding="utf-8").replace("units: us", f"units: {units}")
    (folder / "metric.yaml").write_text(house.replace(", ./house-rules", ""), encoding="utf-8")
    over = (
        "--house",
        "metric.yaml",
        "--plot",
        str(demo / "tour-a.yaml"),
        "--on",
        "2026-04-13",
        "--no-plugins",
    )
    for asked in ("7 / line 2 : reaction_hung", "7 / batten : sag_hung", "7 : takes_point"):
        said = called("explain", asked, *over).stdout
        assert "step by step" in said
        told = [line for line in said.splitlines() if "source:" not in line]
        assert not re.search(r"\d (?:lb(?!/ft3)|ft|in|ft-lb|ksi)\b|\d'-\d", "\n".join(told)), asked


@pytest.mark.usefixtures("folder")
def test_what_is_not_there_is_told_with_the_nearest() -> None:
    result = called("explain", "1 / line 2 : reacton", "--house", "house.yaml")
    assert result.exit_code == 2
    assert "did you mean reaction?" in result.stderr


def test_a_faulty_pack_that_stands_on_another_is_told_as_seen_from_here(folder: Path) -> None:
    """The packs that it stands on lie elsewhere on the disk, and its files were named from where both lie."""
    write_pack(
        folder, "ours", more="requires: [practice]", rules=CHAIN_GRADE.replace("require:", "require: count(")
    )
    told = called("pack", "test", "./ours", "--no-plugins").stderr.splitlines()
    assert told[0].startswith("ours/rules/chain.yaml:")
    assert "require: count(" in told[1]


def test_a_pack_whose_rules_are_not_shown_by_examples_fails_its_test(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_pack(tmp_path, "trade", rules=KEEPER_BOLT)
    monkeypatch.chdir(tmp_path)
    result = called("pack", "test", "./trade")
    assert result.exit_code == 1
    assert "no example for finding, undetermined, met, not-applicable" in " ".join(result.stdout.split())
    assert "1 of 1 rule has something to mend." in result.stdout


def test_a_pack_that_cannot_be_read_gives_2_and_every_problem(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    broken = KEEPER_BOLT.replace("keeper_bolt is not none", "keper_bolt is not none and wrapps > 2")
    write_pack(tmp_path, "trade", rules=broken)
    monkeypatch.chdir(tmp_path)
    result = called("pack", "test", "./trade")
    assert result.exit_code == 2
    assert "keper_bolt" in result.stderr
    assert "wrapps" in result.stderr


GRADE_WITH_EXAMPLES = (
    CHAIN_GRADE.rstrip()
    + """
      examples:
        - {outcome: met, grade: "80"}
        - {outcome: met, grade: "100"}
        - {outcome: met, grade: "120"}
        - {outcome: finding, grade: "43"}
        - {outcome: undetermined}
"""
)


def test_a_pack_that_cannot_be_read_is_never_said_to_have_nothing_to_mend(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One rule of two was misspelt; the other passed, and the last line sounded as if all were well."""
    broken = KEEPER_BOLT.replace("keeper_bolt is not none", "keper_bolt is not none")
    write_pack(tmp_path, "trade", rules={"grade": GRADE_WITH_EXAMPLES, "bolt": broken})
    monkeypatch.chdir(tmp_path)
    result = called("pack", "test", "./trade")
    assert result.exit_code == 2
    assert "Nothing to mend" not in result.output


def test_rules_are_tried_as_their_own_pack_has_them_though_another_adjusts_them(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What the house asks beside the grade is not for the trade's examples to show."""
    write_pack(tmp_path, "trade", rules=GRADE_WITH_EXAMPLES)
    adjusted = "- {rule: chain-grade-too-low, tighten: {also_require: wraps >= 2}}"
    write_pack(tmp_path, "house", adjustments=adjusted)
    monkeypatch.chdir(tmp_path)
    result = called("pack", "test", "./trade", "./house")
    assert result.exit_code == 0, result.output
    assert "Nothing to mend was found." in result.stdout


def test_no_rule_of_that_name_is_not_taken_for_success(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_pack(tmp_path, "trade", rules=KEEPER_BOLT)
    monkeypatch.chdir(tmp_path)
    result = called("pack", "test", "./trade", "--rule", "no-such-rule")
    assert result.exit_code == 1
    assert "no rule was tested" in result.stderr


def test_packs_are_listed_with_what_they_leave_out() -> None:
    result = called("pack", "list")
    assert "practice, edition" in result.stdout
    assert "leaves out" in result.stdout


def test_a_misspelt_command_is_told_with_the_nearest() -> None:
    result = called("chek")
    assert result.exit_code == 2
    assert "Did you mean check?" in result.stderr


def test_a_mistake_of_the_program_is_told_as_one_and_never_looks_like_a_pass(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object, **__: object) -> object:
        raise ValueError("a beam without supports")

    monkeypatch.setattr("plumbtrue.audit.house_check.prepare", broken)
    result = called("pack", "list")
    assert result.exit_code == 3
    assert "a mistake of its own" in result.stderr
    assert "Traceback" not in result.output


def test_help_starts_without_loading_what_it_does_not_need() -> None:
    code = (
        "import sys\n"
        "from click.testing import CliRunner\n"
        "from plumbtrue.cli.main import main\n"
        "CliRunner().invoke(main, ['--help'])\n"
        "heavy = ('numpy', 'jinja2', 'rich', 'jsonschema', 'lark', 'ruamel')\n"
        "print([one for one in heavy if one in sys.modules])"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert told.strip() == "[]"


@pytest.mark.parametrize(
    ("day", "told"),
    [
        ("4/13/2026", "4/13/2026 is no day; write 2026-04-13"),
        ("13 April 2026", "write 2026-04-13"),
        ("2026-02-30", "write a day, such as 2026-04-13"),
        ("tomorrow", "write a day, such as 2026-04-13"),
        ("2026", "write a day, such as 2026-04-13"),
    ],
)
def test_a_day_that_is_none_is_answered_with_the_day_likely_meant(day: str, told: str) -> None:
    result = called("check", "house.yaml", "--on", day)
    assert result.exit_code == 2
    assert told in " ".join(result.stderr.split())
