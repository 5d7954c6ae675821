"""Formats that other programs read, held by schemas that others published (see published/SOURCES.md)."""

import json
import re
from collections import Counter
from pathlib import Path
from textwrap import dedent
from typing import Any
from xml.etree.ElementTree import fromstring

import pytest
import xmlschema
from jsonschema import Draft4Validator
from tests.reporting.small_house import HOUSE, ON, audited, write_house, written

from plumbtrue.audit.house_check import Checked, try_house
from plumbtrue.reporting.formats import FORMATS, Surroundings
from plumbtrue.rules.result import Result
from plumbtrue.rules.severity import Severity

PUBLISHED = Path(__file__).parent / "published"
AROUND = Surroundings(ON, Severity.BEFORE_NEXT_USE)


@pytest.fixture
def small_house(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The small house, in a folder of its own from which it is read."""
    write_house(tmp_path)
    monkeypatch.chdir(tmp_path)
    return Path("house.yaml")


def both(house: Path) -> list[Checked]:
    """The small house, and one that cannot be read."""
    missing = try_house(Path("none.yaml"), on=ON, packs=(), waivers=(), third_party=False)
    return [Checked(house, audited(house)), missing]


def sarif(houses: list[Checked]) -> dict[str, Any]:
    log: dict[str, Any] = json.loads(FORMATS["sarif"].write(houses, AROUND))
    return log


def test_sarif_is_as_published(small_house: Path) -> None:
    """The JSON Schema of SARIF 2.1.0."""
    schema = json.loads((PUBLISHED / "sarif-2.1.0-rtm.5.json").read_text(encoding="utf-8"))
    Draft4Validator(schema).validate(sarif(both(small_house)))


def test_sarif_points_at_line_and_column(small_house: Path) -> None:
    (run,) = sarif(both(small_house))["runs"]
    (pitted, _) = [one for one in run["results"] if one["ruleId"] == "rope-pitted" and one["kind"] == "fail"]
    place = pitted["locations"][0]["physicalLocation"]
    line = small_house.read_text(encoding="utf-8").splitlines()[place["region"]["startLine"] - 1]
    assert line[place["region"]["startColumn"] - 1 :].startswith("pitted")
    assert place["artifactLocation"]["uri"] == "house.yaml"
    assert run["tool"]["driver"]["rules"][pitted["ruleIndex"]]["id"] == "rope-pitted"


def test_what_a_typical_thing_lends_says_where_it_is_written_and_where_it_is_used(tmp_path: Path) -> None:
    """Every set that used the chain pointed into its drawing, and nobody could tell which set was meant."""
    house = dedent(HOUSE).replace("{kind: trim-chain, grade: 80,", "{kind: trim-chain, grade: 43,")
    found = [Checked(Path("house.yaml"), audited(write_house(tmp_path, house=house), waivers=False))]
    lines = house.splitlines()

    def at(line: int, column: int) -> str:
        return lines[line - 1][column - 1 :]

    (run,) = sarif(found)["runs"]
    told = {path_of(one): one for one in run["results"]}
    result = told["3 / line 1 / lower / trim-chain"]
    (used, lent) = (
        result[name][0]["physicalLocation"]["region"] for name in ("locations", "relatedLocations")
    )
    assert at(used["startLine"], used["startColumn"]).startswith("good}]")
    assert at(lent["startLine"], lent["startColumn"]).startswith("43, attachment")
    (document,) = json.loads(FORMATS["json"].write(found, AROUND))["houses"]
    key = f"{result['ruleId']} @ {path_of(result)}"
    (outcome,) = [one for one in document["outcomes"] if one["key"] == key]
    assert at(outcome["location"]["line"], outcome["location"]["column"]).startswith("good}]")
    assert at(outcome["written_at"]["line"], outcome["written_at"]["column"]).startswith("43, attachment")


def path_of(result: dict[str, Any]) -> str:
    """The thing that a result is about."""
    return str(result["locations"][0]["logicalLocations"][0]["fullyQualifiedName"])


def test_sarif_counts_what_cannot_be_told_where_every_reader_sees_it(small_house: Path) -> None:
    (run,) = sarif(both(small_house))["runs"]
    open_ones = [one for one in run["results"] if one["kind"] == "open"]
    assert {one["level"] for one in open_ones} == {"none"}
    things = sum(len(place["logicalLocations"]) for one in open_ones for place in one["locations"])
    (notice,) = [
        one
        for one in run["invocations"][0]["toolExecutionNotifications"]
        if one["descriptor"]["id"] == "cannot-be-told"
    ]
    assert f"{things} outcomes cannot be told" in notice["message"]["text"]


def test_sarif_asks_a_question_once_a_set_and_names_each_thing_that_it_concerns(tmp_path: Path) -> None:
    """Of a house of which little was written, each rule asked the same of every line: a log of 5.8 MB."""
    house = HOUSE.replace("corrosion: pitted", "corrosion: unknown")
    audit = audited(write_house(tmp_path, house=house))
    (run,) = sarif([Checked(Path("house.yaml"), audit)])["runs"]
    open_ones = [one for one in run["results"] if one["kind"] == "open"]
    asked = [(one["ruleId"], one["properties"]["lineSet"]) for one in open_ones]
    told = [
        f"{one['ruleId']} @ {there['fullyQualifiedName']}"
        for one in open_ones
        for place in one["locations"]
        for there in place["logicalLocations"]
    ]
    undetermined = [one.key for one in audit.outcomes if one.result is Result.UNDETERMINED]
    assert len(set(asked)) == len(asked) < len(told)
    assert Counter(told) == Counter(undetermined)


def test_a_question_in_sarif_stays_the_same_while_any_line_of_its_set_is_open(tmp_path: Path) -> None:
    def asked(house: str) -> dict[str, Any]:
        audit = audited(write_house(tmp_path, house=house))
        (run,) = sarif([Checked(Path("house.yaml"), audit)])["runs"]
        (one,) = [one for one in run["results"] if one["kind"] == "open" and one["ruleId"] == "rope-pitted"]
        return dict(one)

    every = HOUSE.replace("corrosion: pitted", "corrosion: unknown")
    one_settled = HOUSE.replace("corrosion: pitted", "corrosion: unknown", 1).replace("pitted", "none", 1)
    assert "corrosion: none}" in one_settled
    before, after = asked(every), asked(one_settled)
    assert len(before["locations"]) > len(after["locations"])
    assert before["partialFingerprints"] == after["partialFingerprints"]


def test_sarif_brings_the_help_of_every_rule_that_says_something_and_names_the_others(
    small_house: Path,
) -> None:
    (run,) = sarif(both(small_house))["runs"]
    rules = {one["id"]: one for one in run["tool"]["driver"]["rules"]}
    silent = run["properties"]["rulesWithoutResult"]
    assert rules.keys() == {one["ruleId"] for one in run["results"]}
    assert all("On the authority of" in one["help"]["text"] for one in rules.values())
    book = audited(small_house).rulebook
    assert sorted([*rules, *silent]) == sorted(rule.slug for rule in book.rules)


def test_sarif_is_a_line_a_result(small_house: Path) -> None:
    text = FORMATS["sarif"].write(both(small_house), AROUND)
    (run,) = json.loads(text)["runs"]
    assert [json.loads(line.rstrip(",")) for line in text.splitlines()[1:-1]] == run["results"]


def test_sarif_says_which_house_could_not_be_read(small_house: Path) -> None:
    (run,) = sarif(both(small_house))["runs"]
    (told,) = run["invocations"][0]["toolConfigurationNotifications"]
    assert "none.yaml" in told["message"]["text"]
    assert run["invocations"][0]["executionSuccessful"] is False


def test_sarif_shows_an_acceptance_as_a_suppression_with_its_reason(small_house: Path) -> None:
    (run,) = sarif(both(small_house))["runs"]
    (accepted,) = [one for one in run["results"] if "suppressions" in one]
    assert "Chain of grade 80 is on order." in accepted["suppressions"][0]["justification"]


def test_sarif_knows_a_finding_again_when_lines_shift(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def prints(house: str) -> Counter[str]:
        write_house(tmp_path, house=house)
        (run,) = sarif([Checked(Path("house.yaml"), audited(Path("house.yaml"), waivers=False))])["runs"]
        return Counter(mark for one in run["results"] for mark in one["partialFingerprints"].values())

    monkeypatch.chdir(tmp_path)
    shifted = HOUSE.replace("line_sets:", "# a line more\n    # and one more\n    line_sets:")
    assert prints(HOUSE) == prints(shifted)
    assert max(prints(HOUSE).values()) == 1


def test_junit_is_as_published(small_house: Path) -> None:
    """The schema that build servers go by."""
    text = FORMATS["junit"].write(both(small_house), AROUND)
    xmlschema.XMLSchema(PUBLISHED / "junit-10.xsd").validate(text)


def test_junit_fails_for_findings_and_errs_for_what_cannot_be_told(small_house: Path) -> None:
    suites = fromstring(FORMATS["junit"].write(both(small_house), AROUND))
    told = {
        (case.get("classname"), (case.get("name") or "").partition(":")[0]): [below.tag for below in case]
        for suite in suites
        for case in suite
    }
    assert told["Small invented house, Set 2", "chain-grade-too-low"] == ["failure"]
    assert told["Small invented house, Set 2", "keeper-bolt-missing"] == ["skipped"]
    assert told["Small invented house, Set 4", "chain-grade-too-low"] == ["skipped"]
    assert told["Small invented house, Set 1", "chain-grade-too-low"] == []
    assert told["none.yaml", "the house can be read"] == ["error"]


def test_junit_never_shows_an_open_question_at_the_gate_as_green(tmp_path: Path) -> None:
    write_house(tmp_path, house=HOUSE.replace("corrosion: pitted", "corrosion: unknown"))
    found = Checked(tmp_path / "house.yaml", audited(tmp_path / "house.yaml", waivers=False))
    suites = fromstring(FORMATS["junit"].write([found], AROUND))
    (case,) = [
        one
        for one in suites.iter("testcase")
        if "Set 2" in str(one.attrib) and "rope-pitted" in str(one.attrib)
    ]
    assert [below.tag for below in case] == ["error"]
    assert found.audit is not None
    assert any(one.result is Result.UNDETERMINED for one in found.audit.outcomes)


def test_a_remark_is_one_line_whatever_stands_in_the_house(small_house: Path) -> None:
    text = small_house.read_text(encoding="utf-8").replace(
        "number: 2", 'number: "2 ::error file=x,line=1::100%"'
    )
    small_house.write_text(text, encoding="utf-8")
    remarks = written(audited(small_house, waivers=False), "annotations").splitlines()
    assert all(re.match(r"::(error|warning|notice)( [^:]*)?::", line) for line in remarks)
    assert all(
        "error" not in line.split("::")[1].partition("title=")[2].replace("%3A", "").split(",")[1:]
        for line in remarks
    )
    assert any("line=" in line and "[rope-pitted]" in line for line in remarks)
    assert "100%25" in "".join(remarks)
