"""The JSON Schemas by which an editor checks and completes, validated by the `jsonschema` library.

They take every form that the reader takes, and refuse obvious mistakes. A file is looked at twice: all
text, as our reader sees it, and with numbers as YAML 1.2 readers see them (ruamel's safe loader).
"""

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML
from tests.rig.houses import (
    DOUBLE_PURCHASE_SET,
    HEMP_SET,
    OLD_SET,
    PLOT,
    RIG,
    SOUND_SET,
    TYPICAL,
    WHOLE_HOUSE,
)

from plumbtrue.documents.data_folder import data_folder
from plumbtrue.documents.reading import read_text
from plumbtrue.rig.vocabulary_files import plain

FIXTURES = Path(__file__).parents[2] / "fixtures"
HEAD = "plumbtrue: rig/1\nhouse: {name: H}\n"


def validator(name: str) -> Draft202012Validator:
    schema = json.loads((data_folder("schemas") / name).read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


RIGS, PLOTS = validator("rig-1.schema.json"), validator("plot-1.schema.json")


def problems(text: str, schema: Draft202012Validator) -> list[str]:
    found = []
    for instance in (plain(read_text(text, "x.yaml")), _as_others_see_it(text)):
        found += [
            f"{'/'.join(map(str, error.absolute_path))}: {error.message[:120]}"
            for error in schema.iter_errors(instance)
        ]
    return found


def _as_others_see_it(text: str) -> Any:
    loaded = YAML(typ="safe", pure=True).load(text)
    return json.loads(json.dumps(loaded, default=str))


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(RIG + TYPICAL + SOUND_SET, id="sound set"),
        pytest.param(RIG + OLD_SET, id="old set"),
        pytest.param(RIG + DOUBLE_PURCHASE_SET, id="double purchase"),
        pytest.param(RIG + HEMP_SET, id="hemp"),
        pytest.param(WHOLE_HOUSE, id="house"),
    ],
)
def test_houses_that_the_reader_takes_are_taken(text: str) -> None:
    assert problems(text, RIGS) == []


def test_a_plot_that_the_reader_takes_is_taken() -> None:
    assert problems(PLOT, PLOTS) == []


def documents(form: str) -> list[Path]:
    """Every file in fixtures/ that says it is of this form."""
    return [
        path
        for path in sorted(FIXTURES.rglob("*.yaml"))
        if f"plumbtrue: {form}/1" in path.read_text(encoding="utf-8")
    ]


def test_every_house_and_plot_among_the_fixtures_is_taken() -> None:
    """Houses that are wrong on purpose stand in folders called `broken`."""
    taken = {"rig": RIGS, "plot": PLOTS}
    found = {
        str(path.relative_to(FIXTURES)): problems(path.read_text(encoding="utf-8"), schema)
        for form, schema in taken.items()
        for path in documents(form)
        if "broken" not in path.parts
    }
    assert {path: told for path, told in found.items() if told} == {}
    assert "demo/house.yaml" in found


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("plumbtrue: rig/2\nhouse: {name: H}", id="another form"),
        pytest.param("plumbtrue: rig/1\nhouse: {batten_zero: stage-right}", id="no name"),
        pytest.param(f"{HEAD}line_stes: []", id="a misspelt key"),
        pytest.param(f"{HEAD}line_sets: [{{name: Border}}]", id="no number"),
        pytest.param(f"{HEAD}line_sets: [{{number: 14, low_trim: 48}}]", id="no unit"),
        pytest.param(f"{HEAD}line_sets: [{{number: 14, low_trim: about 48}}]", id="no unit behind a bound"),
        pytest.param(
            f"{HEAD}line_sets: [{{number: 14, low_trim: none}}]", id="none where there always is one"
        ),
        pytest.param(f"{HEAD}line_sets: [{{number: 14, use: circus}}]", id="a word that means nothing"),
        pytest.param(f"{HEAD}line_sets: [{{number: 14, raked: maybe}}]", id="neither yes nor no"),
        pytest.param(f"{HEAD}line_sets: [{{number: 14, reconditioned: lately}}]", id="no date"),
        pytest.param(f"{HEAD}line_sets: [{{number: 14, highest_pipe: 58 ft}}]", id="a computed fact"),
        pytest.param(f"{HEAD}line_sets: [{{number: 14, batten: {{lenght: 42 ft}}}}]", id="a misspelt fact"),
        pytest.param(
            f"{HEAD}line_sets: [{{number: 14, hand_line: {{upper: [{{part: thimbel}}]}}}}]", id="no such part"
        ),
        pytest.param(
            f"{HEAD}line_sets: [{{number: 14, hand_line: {{upper: [{{part: thimble, wraps: 2}}]}}}}]",
            id="a fact of another part",
        ),
        pytest.param(
            f"{HEAD}line_sets: [{{number: 14, lift_lines: {{each: {{}}}}}}]", id="lines without marks"
        ),
        pytest.param(
            f"{HEAD}line_sets: [{{number: 14, lift_lines: {{at: {{1: 6}}}}}}]", id="a place without a unit"
        ),
        pytest.param(
            f"{HEAD}line_sets: [{{number: 14, lift_lines: {{at: {{1: CL}}, except: [{{role: spot}}]}}}}]",
            id="an exception without lines",
        ),
        pytest.param(
            f"{HEAD}line_sets: [{{number: 14, low_trim: {{is: 4 ft, when: 2026}}}}]",
            id="a key of no long form",
        ),
        pytest.param(f"{HEAD}line_sets: [{{number: 14, seen: {{how: by-nose}}}}]", id="no way of looking"),
    ],
)
def test_an_obvious_mistake_is_refused(text: str) -> None:
    assert problems(text, RIGS) != []


def test_a_mistake_in_a_plot_is_refused() -> None:
    assert problems("plumbtrue: plot/1\nplot: {items: [{key: '1', weight: 190}]}", PLOTS) != []


def test_an_editor_is_told_what_a_fact_means_and_how_to_find_it() -> None:
    schema = json.loads((data_folder("schemas") / "rig-1.schema.json").read_text(encoding="utf-8"))
    fact = schema["$defs"]["trim_chain.keeper_bolt"]
    assert "walking off" in fact["description"]
    assert "feel below the pipe" in fact["description"]
