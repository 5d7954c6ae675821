"""The JSON Schemas say the same as the program: what one refuses in form, the other refuses too."""

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML
from tests.packs.packs_in_text import CHAIN_GRADE, KEEPER_BOLT, NO_PLUGINS, ON, head, write_pack

from plumbtrue.audit.waivers import read_waivers
from plumbtrue.documents.data_folder import data_folder
from plumbtrue.documents.place import CannotRead, Problem
from plumbtrue.documents.reading import read_list_text, read_text
from plumbtrue.rig.vocabulary_loading import load_vocabulary
from plumbtrue.rules.packs.adjustments import read_adjustments
from plumbtrue.rules.packs.loading import read_book
from plumbtrue.rules.packs.rule_files import PackSoFar, read_rules
from plumbtrue.rules.packs.tables import read_table
from plumbtrue.rules.packs.understanding import Surroundings

ADJUSTMENT = (
    "{rule: some-rule, relax: {severity: advisory}, reason: x, decided_by: y, decided_on: 2026-01-01}"
)
WAIVER = """{rule: some-rule, thing: 14, until: 2026-06-30, reason: x, accepted_by: y, meanwhile: z,
  state: {grade: 43}}"""
TABLE = """
table: clips
is: number of clips
source: common-practice
columns: {size: {dimension: length, key: exact}, count: {type: count}}
rows: [[1/4 in, 2]]
"""


def schema(name: str) -> Draft202012Validator:
    loaded = json.loads((data_folder("schemas") / f"{name}.schema.json").read_text())
    Draft202012Validator.check_schema(loaded)
    return Draft202012Validator(loaded)


def plain(text: str) -> Any:
    """A document as an editor sees it, with days as text."""

    def days_as_text(value: Any) -> Any:
        if isinstance(value, dict):
            return {key: days_as_text(one) for key, one in value.items()}
        if isinstance(value, list):
            return [days_as_text(one) for one in value]
        return value.isoformat() if hasattr(value, "isoformat") else value

    return days_as_text(YAML(typ="safe", pure=True).load(text))


def fits(name: str, text: str) -> bool:
    return bool(schema(name).is_valid(plain(text)))


def loads_rules(text: str) -> bool:
    problems: list[Problem] = []
    around = PackSoFar("trade", {}, Surroundings(load_vocabulary(), {}))
    read_rules(read_list_text(text, "chain.yaml"), around, problems)
    return not problems


@pytest.mark.parametrize("name", ["pack-1", "rules-1", "table-1", "waivers-1"])
def test_every_schema_is_one(name: str) -> None:
    assert schema(name).is_valid([]) is (name == "rules-1")


@pytest.mark.parametrize(
    ("was", "becomes", "fine"),
    [
        ("", "", True),
        ("source: common-practice", "source: [{work: x}]", None),
        ("severity: next-maintenance", "severity: soon", False),
        ("      title: A chain wrap near the end of a pipe is kept from walking off\n", "", False),
        ("rule: keeper-bolt-missing", "rule: Keeper Bolt", False),
        ("source: common-practice", "source: common-practice\n      colour: red", False),
        ("source: common-practice", "source: common-practice\n      relaxing: never", False),
        ("source: common-practice", "source: common-practice\n      examples: [met]", False),
        ("stricter: more", "stricter: upwards", False),
        (", stricter: more", "", True),
        ("reach:", "severity:", False),
    ],
)
def test_rules(was: str, becomes: str, fine: bool | None) -> None:
    text = KEEPER_BOLT.replace(was, becomes) + CHAIN_GRADE if was else KEEPER_BOLT + CHAIN_GRADE
    assert fits("rules-1", text) is (fine is not False)
    assert loads_rules(text) is (fine is True)


@pytest.mark.parametrize(
    ("was", "becomes", "fine"),
    [
        ("", "", True),
        ("relax", "tighten", True),
        (", decided_by: y", "", False),
        ("{severity: advisory}", "{require: a}", False),
        ("{severity: advisory}", "{also_require: a}", False),
        ("{severity: advisory}", "{unless: wraps = 2}", True),
        ("{severity: advisory}", "{reach: 12 in}", True),
        ("relax: {severity: advisory}", "retire: true", True),
        ("relax: {severity: advisory}", "retire: false", False),
        ("relax: {severity: advisory}", "set: {severity: advisory}", False),
        ("relax: {severity: advisory}", "set: {reach: 1 ft}", True),
        ("relax: {severity: advisory}", "set: {reach: 1 ft}, until: 2026-05-01", False),
        ("2026-01-01", "1.1.2026", False),
        ("reason: x", "reasons: x", False),
        ("relax: {severity: advisory}", "tighten: {also_require: wraps = 2}, finding: x, remedy: y", True),
        ("relax: {severity: advisory}", "tighten: {severity: advisory}, finding: x", False),
        ("relax: {severity: advisory}", "set: {reach: 1 ft}, remedy: x", False),
    ],
)
def test_adjustments(was: str, becomes: str, fine: bool) -> None:
    text = ADJUSTMENT.replace(was, becomes) if was else ADJUSTMENT
    problems: list[Problem] = []
    read_adjustments(read_list_text(f"- {text}", "adjustments.yaml"), "house", problems)
    assert (not problems) is fine
    assert fits("pack-1", f"{head('house')}\nadjustments: [{text}]") is fine


@pytest.mark.parametrize(
    ("was", "becomes", "fine"),
    [
        ("", "", True),
        ("is: number of clips\n", "", False),
        ("{type: count}", "{type: number}", False),
        ("{type: count}", "{}", False),
        ("key: exact", "key: nearest", False),
        ("rows:", "lines:", False),
        ("[[1/4 in, 2]]", "[{size: 1/4 in, count: 2}]", True),
        ("[[1/4 in, 2]]", "[[1/4 in, none]]", True),
    ],
)
def test_tables(was: str, becomes: str, fine: bool) -> None:
    text = TABLE.replace(was, becomes) if was else TABLE
    problems: list[Problem] = []
    assert (read_table(read_text(text, "clips.yaml"), "trade", {}, problems) is not None) is fine
    assert fits("table-1", text) is fine


@pytest.mark.parametrize(
    ("was", "becomes", "fine"),
    [
        ("", "", True),
        ("until: 2026-06-30, ", "", False),
        ("2026-06-30", "soon", False),
        ("{grade: 43}", "{}", False),
        ("meanwhile: z,", "", False),
        ("reason: x", "because: x", False),
        ("reason: x", "reason: x, accepted_on: 2026-01-01", True),
    ],
)
def test_waivers(was: str, becomes: str, fine: bool) -> None:
    written = WAIVER.replace(was, becomes) if was else WAIVER
    text = f"plumbtrue: waivers/1\nwaivers: [{written}]\n"
    assert fits("waivers-1", text) is fine
    if fine:
        assert len(read_waivers(read_text(text, "waivers.yaml"))) == 1
    else:
        with pytest.raises(CannotRead):
            read_waivers(read_text(text, "waivers.yaml"))


@pytest.mark.parametrize("pack", sorted(path.parent for path in data_folder("rulepacks").glob("*/pack.yaml")))
def test_every_pack_that_comes_with_the_program_fits_the_schemas(pack: Path) -> None:
    assert fits("pack-1", (pack / "pack.yaml").read_text())
    for rules in sorted(pack.glob("rules/*.yaml")):
        assert fits("rules-1", rules.read_text()), rules.name
    for table in sorted(pack.glob("tables/*.yaml")):
        assert fits("table-1", table.read_text()), table.name


def told_by_both(folder: Path, **files: str) -> list[str]:
    """What the reader and the schemas find in a pack, taken together as its test takes them."""
    write_pack(folder, "trade", **{"rules": KEEPER_BOLT, **files})
    found = read_book(["./trade"], folder, load_vocabulary(), NO_PLUGINS, on=ON, by_schema=True)
    return [f"{problem.where.file}:{problem.where.line}: {problem.what}" for problem in found.problems]


@pytest.mark.parametrize(
    ("files", "said"),
    [
        pytest.param({}, "", id="as it is"),
        pytest.param(
            {"rules": KEEPER_BOLT.rstrip() + "\n      formerly: bolt-missing\n"},
            "trade/rules/chain.yaml:14: formerly takes a list, not bolt-missing",
            id="a rule: one text where editors are told of a list",
        ),
        pytest.param(
            {"more": "adjustments: {rule: keeper-bolt-missing, set: {reach: 13 in}}"},
            "trade/pack.yaml:9: adjustments takes a list, not keys and values",
            id="the head: one adjustment where editors are told of a list",
        ),
        pytest.param(
            {
                "adjustments": "- {rule: keeper-bolt-missing, retire: yes, reason: x, decided_by: y, "
                "decided_on: 2026-01-01}"
            },
            "trade/adjustments.yaml:1: retire cannot be yes",
            id="an adjustment: another word for true",
        ),
        pytest.param(
            {"tables__clips": TABLE.replace("{type: count}", "{type: count, is: [number]}")},
            "trade/tables/clips.yaml:5",
            id="a table",
        ),
    ],
)
def test_a_pack_under_test_is_held_against_the_schemas_too(
    tmp_path: Path, files: dict[str, str], said: str
) -> None:
    """The reader takes a text for a list of one; an editor underlines it."""
    told = told_by_both(tmp_path, **files)
    assert len(told) == bool(said)
    assert "; ".join(told).startswith(said)


def test_what_reader_and_schema_both_find_is_told_once(tmp_path: Path) -> None:
    soon = KEEPER_BOLT.replace("severity: next-maintenance", "severity: soon")
    assert told_by_both(tmp_path, rules=soon) == [
        "trade/rules/chain.yaml:9: severity of the rule keeper-bolt-missing is not soon"
    ]
