"""Packs, tables and waivers are checked by JSON Schema; each fault is told once, plainly, at its place."""

import json
from collections.abc import Callable
from textwrap import dedent
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from plumbtrue.documents.data_folder import data_folder
from plumbtrue.documents.place import Problem
from plumbtrue.documents.reading import read_text
from plumbtrue.documents.schema import check_by, named_schema

PACK: dict[str, Any] = {
    "$schema": "https://json-schema.org/draft/2020-12/schema",
    "type": "object",
    "additionalProperties": False,
    "required": ["name", "edition"],
    "properties": {
        "name": {
            "$ref": "#/$defs/slug",
            "description": "A name in small letters.",
            "examples": ["practice"],
        },
        "edition": {"type": "string", "description": "The edition, which grows with each change."},
        "language": {"type": "integer", "minimum": 1, "maximum": 3},
        "covers": {"type": "array", "items": {"type": "string"}, "minItems": 1, "uniqueItems": True},
        "decided_on": {"type": "string", "format": "date"},
        "retire": {"type": "boolean"},
        "source": {
            "oneOf": [
                {"const": "common-practice"},
                {"type": "array", "minItems": 1, "items": {"$ref": "#/$defs/citation"}},
            ]
        },
        "change": {
            "anyOf": [
                {
                    "type": "object",
                    "required": ["set", "value"],
                    "properties": {"set": {"type": "string"}, "value": {"type": "string"}},
                    "additionalProperties": False,
                },
                {
                    "type": "object",
                    "required": ["retire", "reason"],
                    "properties": {"retire": {"const": True}, "reason": {"type": "string", "minLength": 1}},
                    "additionalProperties": False,
                },
            ]
        },
    },
    "$defs": {
        "slug": {"type": "string", "pattern": "^[a-z-]+$"},
        "citation": {
            "type": "object",
            "required": ["work"],
            "properties": {"work": {"type": "string"}, "basis": {"enum": ["read", "memory"]}},
            "additionalProperties": False,
            "dependentRequired": {"basis": ["work"]},
        },
    },
}


@pytest.fixture
def found_as_marked() -> Callable[[str], tuple[Problem, ...]]:
    """Check a marked document; exactly the marked problems must be found, on the marked lines."""

    def found(text: str) -> tuple[Problem, ...]:
        text = dedent(text).lstrip("\n")
        problems = check_by(PACK, read_text(text, "pack.yaml"))
        marks = [(number, line.partition("#! ")[2]) for number, line in enumerate(text.split("\n"), start=1)]
        assert [(problem.where.line, problem.slug) for problem in problems] == [
            mark for mark in marks if mark[1]
        ]
        return problems

    return found


def test_a_sound_document_has_no_problems(found_as_marked: Callable[[str], tuple[Problem, ...]]) -> None:
    found_as_marked("""
        name: practice
        edition: 1.10
        language: 1
        covers: [chain, 012]
        decided_on: 2026-02-10
        retire: true
        source: common-practice
        change: {retire: true, reason: worn out}
    """)


def test_each_fault_is_told_once_in_its_words(found_as_marked: Callable[[str], tuple[Problem, ...]]) -> None:
    problems = found_as_marked("""
        nmae: practice          #! key-unknown
        edition:                #! value-not-written
        language: 4             #! value-out-of-range
        decided_on: 2026-13-01  #! value-does-not-fit
        retire: perhaps         #! value-of-wrong-form
        source:
          - work: a
            basis: remembered   #! word-not-permitted
        covers:
          - a
          - a                   #! entry-twice
          - [b]                 #! value-of-wrong-form
        colour: red             #! key-unknown
    """)
    assert [(problem.what, problem.instead) for problem in problems] == [
        ("nmae is not a key of the document", "did you mean name?"),
        (
            "nothing is written in edition, which takes a text",
            "write the edition, which grows with each change",
        ),
        ("language must be at most 3, and 4 is not", "write at most 3"),
        ("decided_on takes a date, and 2026-13-01 is none", "write year-month-day, such as 2026-03-31"),
        ("retire takes true or false, not perhaps", "write true or false"),
        ("basis cannot be remembered", "write read or memory"),
        ("a stands twice in covers", "delete one of the two"),
        ("entry 3 of covers takes a text, not a list", "write a text"),
        (
            "colour is not a key of the document",
            "write one of name, edition, language, covers, decided_on, retire, source or change",
        ),
    ]


def test_a_missing_key_says_what_belongs_there() -> None:
    (problem,) = check_by(PACK, read_text("edition: 1\n", "pack.yaml"))
    assert (problem.slug, problem.what) == ("key-missing", "name is missing in the document")
    assert problem.instead == "write name: practice (a name in small letters)"


def test_what_a_schema_says_beside_a_reference_is_told() -> None:
    (problem,) = check_by(PACK, read_text("name: The Practice\nedition: 1\n", "pack.yaml"))
    assert problem.what == "The Practice does not fit name"
    assert problem.instead == "write a name in small letters, such as practice"


@pytest.mark.parametrize(
    ("change", "what"),
    [
        pytest.param("{set: reach}", "value is missing in change", id="the first form, less a key"),
        pytest.param("{retire: true}", "reason is missing in change", id="the second form, less a key"),
        pytest.param(
            "{retire: true, reason: ''}", "nothing is written in reason", id="the second, less its text"
        ),
        pytest.param("none", "change takes keys and values, not none", id="neither form"),
    ],
)
def test_of_several_forms_the_one_that_was_meant_is_told(change: str, what: str) -> None:
    problems = check_by(PACK, read_text(f"name: a\nedition: 1\nchange: {change}\n", "pack.yaml"))
    assert [problem.what for problem in problems] == [what]


def test_a_misspelt_word_where_a_list_may_stand_too_is_offered_the_word() -> None:
    (problem,) = check_by(PACK, read_text("name: a\nedition: 1\nsource: comon-practice\n", "pack.yaml"))
    assert (problem.slug, problem.instead) == ("word-not-permitted", "write common-practice")


@pytest.mark.parametrize(
    ("written", "is_number"), [("1", True), ('"1"', False), ("1.0", False), ("one", False), ("-2", False)]
)
def test_a_whole_number_is_a_text_that_spells_one(written: str, is_number: bool) -> None:
    problems = check_by(PACK, read_text(f"name: a\nedition: 1\nlanguage: {written}\n", "pack.yaml"))
    assert (problems == ()) is is_number


@pytest.mark.parametrize(
    ("schema", "written", "slug", "what"),
    [
        ({"minItems": 2}, "[a]", "value-too-little", "it needs at least 2 entries"),
        ({"maxItems": 1}, "[a, b]", "value-too-much", "it takes no more than 1 entry"),
        ({"type": "string", "minLength": 3}, "ab", "value-too-little", "it needs at least 3 characters"),
        ({"maxLength": 1}, "ab", "value-too-much", "it takes no more than 1 character"),
        ({"maxProperties": 1}, "{a: 1, b: 2}", "value-too-much", "it takes no more than 1 key"),
        ({"exclusiveMinimum": 2}, "2", "value-out-of-range", "it must be more than 2, and 2 is not"),
        ({"minimum": 2}, "1", "value-out-of-range", "it must be at least 2, and 1 is not"),
        ({"exclusiveMaximum": 2}, "2.0", "value-out-of-range", "it must be less than 2, and 2.0 is not"),
        ({"multipleOf": 2}, "3", "value-out-of-range", "it must be a multiple of 2, and 3 is not"),
        (
            {"const": {"a": [1, True]}},
            "{a: [1, false]}",
            "word-not-permitted",
            "it cannot be keys and values",
        ),
        ({"const": {"a": 1}}, "{a: 1, b: 2}", "word-not-permitted", "it cannot be keys and values"),
        ({"not": {"type": "string"}}, "a", "value-does-not-fit", "a does not fit it"),
        (
            {"propertyNames": {"pattern": "^a$"}},
            "{b: 1}",
            "value-does-not-fit",
            "b does not fit the keys of it",
        ),
        ({"dependentRequired": {"a": ["b"]}}, "{a: 1}", "key-missing", "b is missing in it, which has a"),
        (
            {"type": ["string", "array"]},
            "{a: 1}",
            "value-of-wrong-form",
            "it takes a text or a list, not keys and values",
        ),
    ],
)
def test_each_demand_has_its_words(schema: dict[str, Any], written: str, slug: str, what: str) -> None:
    problems = check_by({"properties": {"it": schema}}, read_text(f"it: {written}\n", "h"))
    assert [(problem.slug, problem.what) for problem in problems] == [(slug, what)]


def test_a_long_list_of_words_is_cut() -> None:
    schema = {"properties": {"it": {"enum": [f"word-{letter}" for letter in "abcdefghijklmn"]}}}
    (problem,) = check_by(schema, read_text("it: rope\n", "h"))
    assert problem.instead.endswith("word-k, word-l and 2 more")
    schema = {"properties": {"it": {"enum": [f"word-{letter}" for letter in "abcdefghijkl"]}}}
    (problem,) = check_by(schema, read_text("it: rope\n", "h"))
    assert problem.instead.endswith("word-k or word-l")


@pytest.mark.parametrize("written", ["{a: [1, true]}", '{a: ["1", "true"]}'])
def test_a_demanded_value_is_met_by_what_spells_it(written: str) -> None:
    schema = {"properties": {"it": {"const": {"a": [1, True]}}}}
    assert check_by(schema, read_text(f"it: {written}\n", "h")) == ()


def test_a_key_that_no_alternative_knows_is_told_where_keys_come_from_several() -> None:
    schema = {
        "allOf": [{"properties": {"name": {}}}],
        "if": {"properties": {"kind": {"const": "rope"}}, "required": ["kind"]},
        "then": {"properties": {"kind": {}, "family": {}}},
        "unevaluatedProperties": False,
    }
    (problem,) = check_by(schema, read_text("name: a\nkind: rope\nfamly: wire\n", "h"))
    assert (problem.slug, problem.instead) == ("key-unknown", "did you mean family?")
    (problem,) = check_by(schema, read_text("name: a\nfamily: wire\n", "h"))
    assert problem.slug == "keys-do-not-agree"


def test_a_schema_may_be_kept_in_another_file_of_the_program() -> None:
    schema = {"properties": {"pack": {"$ref": "https://plumbtrue.example/schemas/pack-1.schema.json"}}}
    problems = check_by(schema, read_text("pack: {nmae: a}\n", "h"))
    assert "nmae is not a key of pack" in [problem.what for problem in problems]


VALUES = st.recursive(
    st.sampled_from(["a", "b-c", "A b", "", "common-practice", "2026-02-10", "2026-02-30", "read"]),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["work", "basis", "set", "value", "reason", "x"]), inner, max_size=3
        )
    ),
    max_leaves=6,
)
DOCUMENTS = st.fixed_dictionaries(
    {},
    optional=dict.fromkeys(("name", "edition", "covers", "decided_on", "source", "change", "colour"), VALUES)
    | {"language": VALUES | st.integers(-1, 5), "retire": VALUES | st.booleans()},
)


@settings(max_examples=300, deadline=None)
@given(DOCUMENTS)
def test_the_verdict_is_that_of_the_library_on_the_same_json(document: dict[str, Any]) -> None:
    """JSON is YAML: where no bare number stands for a text, both readings must come to one verdict."""
    by_library = Draft202012Validator(PACK, format_checker=Draft202012Validator.FORMAT_CHECKER)
    problems = check_by(PACK, read_text(json.dumps(document), "pack.yaml"))
    assert (problems == ()) is by_library.is_valid(document)


@pytest.mark.parametrize(
    "path", sorted(data_folder("schemas").glob("*.schema.json")), ids=lambda path: path.name
)
def test_every_schema_that_comes_with_the_program_is_one(path: Any) -> None:
    Draft202012Validator.check_schema(named_schema(path.name.removesuffix(".schema.json")))


def test_a_pack_is_checked_by_the_schema_that_comes_with_the_program() -> None:
    problems = check_by(
        named_schema("pack-1"), read_text("plumbtrue: pack/1\nname: a\ncovers: x\n", "pack.yaml")
    )
    assert ("covers takes a list, not x", 3) in [(problem.what, problem.where.line) for problem in problems]


def test_a_schema_that_is_not_there_is_our_own_mistake() -> None:
    with pytest.raises(FileNotFoundError):
        named_schema("nothing-of-the-kind")
