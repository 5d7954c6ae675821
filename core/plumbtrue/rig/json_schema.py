"""The vocabulary as JSON Schema (draft 2020-12): rig and plot files as people write them, short forms and
all.

For editors, which complete and explain by it, and as a second opinion on files. The reader tells more:
it knows which typical things and keys there are, and it reads every figure. A scalar may be given as
YAML readers of other programs see it: `count: 4` as a number, `yes` as true.
"""

from collections.abc import Iterable
from typing import Any, Final

from plumbtrue.quantities.dimension import name_of
from plumbtrue.rig.vocabulary import Fact, Kind, Vocabulary

Schema = dict[str, Any]

DRAFT: Final = "https://json-schema.org/draft/2020-12/schema"

WITH_UNIT: Final = "[0-9][^A-Za-z'\"°]*[A-Za-z'\"°]"
"""A figure with something after it that may be a unit."""

A_NUMBER: Final = "^[^A-Za-z]*[0-9]|^(at least|at most|about) [0-9]"
A_DATE: Final = "[0-9]{4}"
A_PLACE: Final = f"^ *CL *$|{WITH_UNIT}"

NAME: Final[Schema] = {"type": ["string", "number", "boolean"]}
YES_NO: Final[Schema] = {"enum": ["yes", "no", True, False]}
UNKNOWN: Final[Schema] = {"const": "unknown"}
NONE: Final[Schema] = {"const": "none"}
SEEN_HOW: Final = ["from-afar", "by-eye", "by-hand", "with-tools", "told", "paper"]


def rig_schema(vocabulary: Vocabulary) -> Schema:
    """The schema of a rig file."""
    return {
        "$schema": DRAFT,
        "title": "A rig file of plumbtrue",
        "description": "One theatre and the rigging that stays in it.",
        "type": "object",
        "properties": {
            "plumbtrue": {"const": "rig/1"},
            "include": {"type": "array", "items": {"type": "string"}},
            "rule_packs": _ref("rule_packs"),
            "units": _ref("units"),
            "typical": _ref("typical"),
            "house": _ref("house"),
            "line_sets": _ref("house.line_sets"),
        },
        "required": ["plumbtrue"],
        "additionalProperties": False,
        "$defs": _definitions(vocabulary, "house"),
    }


def plot_schema(vocabulary: Vocabulary) -> Schema:
    """The schema of a plot file."""
    return {
        "$schema": DRAFT,
        "title": "A plot file of plumbtrue",
        "description": "What one show wants to hang in one house, in one revision.",
        "type": "object",
        "properties": {
            "plumbtrue": {"const": "plot/1"},
            "include": {"type": "array", "items": {"type": "string"}},
            "house_file": {"type": "string"},
            "typical": _ref("typical"),
            "plot": _ref("plot"),
        },
        "required": ["plumbtrue", "plot"],
        "additionalProperties": False,
        "$defs": _definitions(vocabulary, "plot"),
    }


def _ref(name: str) -> Schema:
    return {"$ref": f"#/$defs/{name}"}


def _definitions(vocabulary: Vocabulary, root: str) -> Schema:
    """Every kind that a document with such a root can hold, with its facts."""
    definitions: Schema = {
        "rule_packs": {"type": "array", "items": {"type": "string"}},
        "units": {"enum": ["us", "si", "metric", "both"]},
        "key": {**NAME, "description": "Its lasting name. Findings and acceptances hang on it."},
        "like": {"type": "string", "description": "A typical thing; its facts hold here unless written."},
        "seen": _seen(),
        "typical": _typical(),
        "any-thing": _thing_of(vocabulary, _kinds_in(vocabulary, root)),
        "path": _path(vocabulary),
    }
    for name in _kinds_in(vocabulary, root):
        kind = vocabulary.kinds[name]
        for fact in kind.facts.values():
            if not fact.is_computed:
                definitions.setdefault(_fact_name(fact), _fact(fact, vocabulary))
        definitions[name] = _kind(kind)
    if root == "house":
        definitions["house"]["properties"].update(rule_packs=_ref("rule_packs"), units=_ref("units"))
        definitions["house"]["required"] = ["name"]
    if "lift_line" in definitions:
        definitions["lift-line-exception"] = _exception(definitions["lift_line"])
    return definitions


def _kinds_in(vocabulary: Vocabulary, root: str) -> list[str]:
    """The kinds that can stand in a thing of this kind at any depth, itself first."""
    found = [root]
    for name in found:
        for fact in vocabulary.kinds[name].facts.values():
            if fact.holds_things:
                found += sorted(vocabulary.kinds_of(fact.of or "part") - set(found))
    return found


def _fact_name(fact: Fact) -> str:
    return f"{fact.declared_in or 'every-thing'}.{fact.name}"


def _kind(kind: Kind) -> Schema:
    facts = {fact.name: _ref(_fact_name(fact)) for fact in kind.facts.values() if not fact.is_computed}
    own_words = {"enum": sorted({kind.word, kind.name})}
    return {
        "title": kind.word,
        "description": kind.meaning,
        "type": "object",
        "properties": {
            "part": own_words,
            "kind": own_words,
            "like": _ref("like"),
            "key": _ref("key"),
            "seen": _ref("seen"),
            **facts,
        },
        "additionalProperties": False,
    }


def _fact(fact: Fact, vocabulary: Vocabulary) -> Schema:
    where = ", ".join(text for text in (fact.look, f"with {fact.tool}" if fact.tool else None) if text)
    said = f"{fact.meaning[:1].upper()}{fact.meaning[1:]}."
    value = _value(fact, vocabulary)
    alternatives = [value, UNKNOWN, *([NONE] if fact.may_be_none else [])]
    long_form = {
        "type": "object",
        "properties": {
            "is": {"anyOf": alternatives if not fact.holds_things else alternatives[1:]},
            "seen": _ref("seen"),
            "note": {"type": "string"},
            "photo": {"type": ["string", "array"]},
        },
        "required": ["is"],
        "additionalProperties": False,
    }
    return {
        "title": fact.name.replace("_", " "),
        "description": f"{said} Found: {where}." if where else said,
        "anyOf": [*alternatives, long_form],
    }


def _value(fact: Fact, vocabulary: Vocabulary) -> Schema:
    match fact.type:
        case "path":
            return _ref("path")
        case "thing":
            return _thing_of(vocabulary, vocabulary.kinds_of(fact.of or ""))
        case "list of things":
            return _list_of_things(fact, vocabulary)
        case "list of words":
            return _one_or_list({"anyOf": [_words(fact), UNKNOWN]})
        case "list of name" | "list of text" | "list of reference":
            return _one_or_list(NAME)
        case "list of place":
            return _one_or_list(_written(A_PLACE))
        case "list of quantity":
            return _one_or_list(_single(fact))
    return _one_or_list({"anyOf": [_single(fact), UNKNOWN]}) if fact.one_or_each else _single(fact)


def _single(fact: Fact) -> Schema:
    match fact.type:
        case "quantity" | "list of quantity":
            assert fact.dimension is not None
            return {**_written(WITH_UNIT), "description": f"A {name_of(fact.dimension)}, with its unit."}
        case "count" | "ratio":
            return {"anyOf": [{"type": "number"}, _written(A_NUMBER)]}
        case "date":
            return {"anyOf": [{"type": "integer", "minimum": 1000}, _written(A_DATE)]}
        case "yes/no":
            return YES_NO
        case "word":
            return _words(fact)
        case "place":
            return _written(A_PLACE)
    return NAME


def _written(pattern: str) -> Schema:
    return {"type": "string", "pattern": pattern}


def _words(fact: Fact) -> Schema:
    words: list[str | int] = list(fact.words or ())
    # Other readers take the word 80 of a chain's grade as a number.
    return {"enum": [*words, *(int(word) for word in fact.words or () if word.isdigit())]}


def _one_or_list(one: Schema) -> Schema:
    return {"anyOf": [one, {"type": "array", "items": one}]}


def _thing_of(vocabulary: Vocabulary, kinds: Iterable[str]) -> Schema:
    """A thing written in place, of one of several kinds, or the bare name of a typical thing or kind."""
    names = sorted(kinds)
    if len(names) == 1:
        return {"anyOf": [_ref(names[0]), {"type": "string"}]}
    words = {name: sorted({name, vocabulary.kinds[name].word}) for name in names}
    chosen = [
        {
            "if": {
                "anyOf": [
                    {"properties": {key: {"enum": words[name]}}, "required": [key]}
                    for key in ("part", "kind")
                ]
            },
            "then": _ref(name),
        }
        for name in names
    ]
    every_word = sorted(word for name in names for word in words[name])
    return {
        "type": ["object", "string"],
        "if": {"type": "object"},
        "then": {
            "properties": {"part": {"enum": every_word}, "kind": {"enum": every_word}},
            "anyOf": [{"required": [key]} for key in ("part", "kind", "like")],
            "allOf": chosen,
        },
    }


def _says(key: str, words: list[str]) -> Schema:
    return {"properties": {key: {"enum": words}}, "required": [key]}


def _list_of_things(fact: Fact, vocabulary: Vocabulary) -> Schema:
    of = fact.of or ""
    members = vocabulary.kinds_of(of)
    one = _thing_of(vocabulary, members)
    if of in vocabulary.kinds and vocabulary.kinds[of].key_wanted and of != "house":
        wanted = [*vocabulary.kinds[of].keyed_by, "key"]
        one = {"allOf": [one, {"anyOf": [{"type": "string"}, *({"required": [name]} for name in wanted)]}]}
    forms: list[Schema] = [{"type": "array", "items": one}]
    if of == "weights":
        either = {"anyOf": [one, _weights_by_kind()]}
        forms = [{"type": "array", "items": either}, _ref("weights"), _weights_by_kind()]
    elif of == "bolts":
        by_place = {"anyOf": [_ref("bolts"), UNKNOWN]}
        forms += [_ref("bolts"), {"type": "object", "additionalProperties": by_place}]
    elif of == "lift_line":
        forms.append(_template())
    elif of in vocabulary.classes:
        forms.append(_patch(vocabulary, members))
    return {"anyOf": forms}


def _weights_by_kind() -> Schema:
    count = {"anyOf": [{"type": "integer"}, _written(A_NUMBER), UNKNOWN, _ref("weights")]}
    return {
        "description": "Counts by kind of weight: {brick-28: 14}",
        "type": "object",
        "additionalProperties": count,
    }


def _template() -> Schema:
    return {
        "description": "All lines at once: the place of each by its mark, what each is, and exceptions.",
        "type": "object",
        "properties": {
            "at": {"type": "object", "additionalProperties": {"anyOf": [_written(A_PLACE), UNKNOWN]}},
            "each": _ref("lift_line"),
            "except": {"type": "array", "items": _ref("lift-line-exception")},
        },
        "required": ["at"],
        "additionalProperties": False,
    }


def _exception(lift_line: Schema) -> Schema:
    lines = _one_or_list(NAME)
    return {
        **lift_line,
        "description": "What is otherwise on some of the lines.",
        "properties": {"lines": lines, **lift_line["properties"]},
        "required": ["lines"],
    }


def _path(vocabulary: Vocabulary) -> Schema:
    parts = vocabulary.kinds_of("part")
    return {
        "description": "Parts in order from the rope's end outward; a map changes single parts of a path.",
        "anyOf": [
            {"type": "array", "items": _thing_of(vocabulary, parts)},
            {"type": "string"},
            _patch(vocabulary, parts),
        ],
    }


def _patch(vocabulary: Vocabulary, kinds: Iterable[str]) -> Schema:
    words = sorted({word for name in kinds for word in (name, vocabulary.kinds[name].word)})
    return {
        "type": "object",
        "propertyNames": {"pattern": f"^({'|'.join(words)})(\\.[0-9]+)?$"},
        "additionalProperties": {"type": ["object", "string"]},
        "minProperties": 1,
    }


def _seen() -> Schema:
    texts = _one_or_list(NAME)
    return {
        "description": "Who looked, when and how, for all written here and below; or an inspection's key.",
        "anyOf": [
            {"type": "string"},
            {
                "type": "object",
                "properties": {
                    "by": {"type": "string"},
                    "on": {"anyOf": [{"type": "integer", "minimum": 1000}, _written(A_DATE), UNKNOWN]},
                    "how": {"enum": SEEN_HOW},
                    "in_order": YES_NO,
                    "tested": YES_NO,
                    "not_seen": texts,
                    "photos": texts,
                },
                "additionalProperties": False,
            },
        ],
    }


def _typical() -> Schema:
    return {
        "description": "Things and paths drawn once and used often. They say what a thing is, not its state.",
        "type": "object",
        "additionalProperties": {
            "if": {"type": "array"},
            "then": _ref("path"),
            "else": {"type": "object", "allOf": [_ref("any-thing")]},
        },
    }
