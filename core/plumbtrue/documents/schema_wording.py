"""What a JSON Schema validator finds, in the trade's words.

One problem for each fault, at its place in the file.

A schema may help: `description` says what belongs under a key, and `examples` shows it.
"""

from collections.abc import Iterable, Iterator
from functools import reduce
from typing import TYPE_CHECKING, Any

from plumbtrue.documents.nearest_word import nearest
from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence, problem_with
from plumbtrue.documents.place import Place, Problem
from plumbtrue.quantities.unchanging import unchanging

if TYPE_CHECKING:
    from jsonschema import ValidationError

Schema = dict[str, Any]

_FORMS = {
    "object": "keys and values",
    "array": "a list",
    "string": "a text",
    "integer": "a whole number",
    "number": "a number",
    "boolean": "true or false",
    "null": "nothing",
}
_AS_EXAMPLE = {"object": "{key: value}", "array": "[one, two]"}
# Keywords behind which a schema speaks of what is inside a node, no longer of the node itself.
_INWARD = ("properties", "patternProperties", "additionalProperties", "items", "prefixItems", "propertyNames")
_SHOWN = 12


def problems_told(errors: Iterable["ValidationError"], root: Node, schema: Schema) -> tuple[Problem, ...]:
    """The problems behind a validator's errors, in file order.

    `root` is the node that was validated by `schema`.
    """
    told: dict[tuple[str, Place, str], Problem] = {}
    for error in errors:
        for cause in _causes(error):
            for problem in _told(_Fault.of(cause, root, schema)):
                told.setdefault((problem.slug, problem.where, problem.what), problem)
    return tuple(sorted(told.values(), key=lambda problem: problem.where))


def as_written(permitted: object) -> str:
    """A value of a schema as it is written in a document."""
    if permitted is None:
        return ""
    return str(permitted).lower() if isinstance(permitted, bool) else str(permitted)


@unchanging
class _Fault:
    """One error of the validator, with the node that it speaks of."""

    keyword: str
    demanded: Any
    """What the schema says under the keyword."""
    schema: Schema
    alternatives: tuple["ValidationError", ...]
    node: Node
    key: Scalar | None
    """The key under which the node stands, when it is a value of a mapping."""
    name: str
    """What the node is called in a message."""

    @classmethod
    def of(cls, error: "ValidationError", root: Node, root_schema: Schema) -> "_Fault":
        node, key, name = root, None, "the document"
        for step in error.absolute_path:
            if isinstance(step, int):
                assert isinstance(node, Sequence)
                node, key, name = node.items[step], None, f"entry {step + 1} of {name}"
            else:
                assert isinstance(node, Mapping)
                key, value = node.key(step), node.get(step)
                assert value is not None
                node, name = value, step
        if isinstance(node, Mapping) and isinstance(error.instance, str):
            # The validator looked at a key of the mapping, and says so only by what it looked at.
            written = node.key(error.instance)
            node, key, name = written or node, written, f"the keys of {name}"
        schema = _notes_on(error, root_schema) | (error.schema if isinstance(error.schema, dict) else {})
        alternatives = tuple(error.context or ())
        return cls(str(error.validator), error.validator_value, schema, alternatives, node, key, name)

    def problem(self, slug: str, what: str, instead: str, at: Node | None = None) -> Problem:
        """A problem with the node, or with `at`. A value that is not written has the place of its key."""
        node = at if at is not None else self.node
        if isinstance(node, Scalar) and node.is_empty and self.key is not None:
            node = self.key
        return problem_with(node, slug, what, instead)


def _notes_on(error: "ValidationError", root_schema: Schema) -> Schema:
    """Description and examples of the node, which often stand beside the `$ref` to what it must be."""
    notes: Schema = {}
    here: Any = root_schema
    steps = list(error.absolute_schema_path)
    for step, before in zip(steps, [None, *steps], strict=False):
        if step in _INWARD and before not in ("properties", "patternProperties"):
            notes = {}
        here = _step_into(here, step, root_schema)
        if isinstance(here, dict):
            notes |= {word: here[word] for word in ("description", "examples") if word in here}
    return notes


def _step_into(here: Any, step: str | int, root_schema: Schema) -> Any:
    """The part of a schema one step on its path further; a `$ref` inside the document is followed."""
    try:
        there = here[step]
        if step != "$ref":
            return there
        return reduce(lambda part, name: part[name], str(there).removeprefix("#/").split("/"), root_schema)
    except (KeyError, IndexError, TypeError):
        return None


def _causes(error: "ValidationError") -> Iterator["ValidationError"]:
    """The errors to tell for one of the validator's.

    Where a schema offers alternatives, the one that was most likely meant is told: of those whose form fits,
    the one with the fewest faults. When the form fits none, the error itself is told, with all of them.
    """
    branches: dict[object, list[ValidationError]] = {}
    for inner in error.context or ():
        branches.setdefault(inner.schema_path[0], []).append(inner)
    likely = [faults for faults in branches.values() if not any(_is_about_form(fault) for fault in faults)]
    if not likely:
        yield error
        return
    for inner in min(likely, key=lambda faults: (_misses_its_mark(faults), len(faults))):
        yield from _causes(inner)


def _is_about_form(error: "ValidationError") -> bool:
    """The alternative is of another form altogether, or another word."""
    return not error.path and error.validator in ("type", "enum", "const")


def _misses_its_mark(faults: list["ValidationError"]) -> bool:
    """A key right inside holds another word than the one that marks this alternative."""
    return any(len(fault.path) == 1 and fault.validator in ("const", "enum") for fault in faults)


def _told(fault: _Fault) -> Iterator[Problem]:
    match fault.keyword:
        case "additionalProperties" | "unevaluatedProperties":
            yield from _unknown_keys(fault)
        case "required" | "dependentRequired":
            yield from _missing_keys(fault)
        case "type" | "anyOf" | "oneOf":
            yield _wrong_form(fault)
        case "enum" | "const":
            yield _wrong_word(fault, _permitted(fault.schema))
        case "minLength" | "minItems" | "minProperties":
            yield _too_little(fault)
        case "maxLength" | "maxItems" | "maxProperties":
            form = _counted(fault.keyword, int(fault.demanded))
            yield fault.problem(
                "value-too-much", f"{fault.name} takes no more than {form}", _described(fault, "shorten it")
            )
        case "uniqueItems":
            yield from _doubles(fault)
        case "minimum" | "exclusiveMinimum" | "maximum" | "exclusiveMaximum" | "multipleOf":
            yield _out_of_range(fault)
        case _:
            yield _does_not_fit(fault)


def _unknown_keys(fault: _Fault) -> Iterator[Problem]:
    assert isinstance(fault.node, Mapping)
    known = _known_keys(fault.schema)
    unknown = [key for key, _ in fault.node if key.text not in known]
    for key in unknown:
        near = nearest(key.text, known)
        listed = f"write one of {_listed(known)}" if known else "leave it out"
        yield fault.problem(
            "key-unknown",
            f"{key.text} is not a key of {fault.name}",
            f"did you mean {near}?" if near else listed,
            key,
        )
    if not unknown:
        yield fault.problem(
            "keys-do-not-agree",
            f"some keys of {fault.name} do not go together",
            _described(fault, "leave one out"),
        )


def _missing_keys(fault: _Fault) -> Iterator[Problem]:
    """Keys that are not there, unless one stands there misspelt, which is told as such."""
    assert isinstance(fault.node, Mapping)
    written = {key.text for key, _ in fault.node}
    known = _known_keys(fault.schema)
    is_closed = False in (fault.schema.get("additionalProperties"), fault.schema.get("unevaluatedProperties"))
    misspelt = {nearest(word, known) for word in written if word not in known} if is_closed else set()
    for needed, because in _needed(fault):
        if needed in written or needed in misspelt:
            continue
        about = fault.schema.get("properties", {}).get(needed, {})
        what = f"{needed} is missing in {fault.name}" + (f", which has {because}" if because else "")
        yield fault.problem(
            "key-missing", what, f"write {needed}: {_example(about)}".rstrip() + _meaning(about), fault.key
        )


def _needed(fault: _Fault) -> list[tuple[str, str]]:
    if fault.keyword == "required":
        return [(key, "") for key in fault.demanded]
    assert isinstance(fault.node, Mapping)
    return [(key, cause) for cause, keys in fault.demanded.items() if fault.node.get(cause) for key in keys]


def _wrong_form(fault: _Fault) -> Problem:
    """The value has another form than any that is permitted, or is another word."""
    schemas = [
        fault.schema,
        *(inner.schema for inner in fault.alternatives if isinstance(inner.schema, dict)),
    ]
    words = [word for schema in schemas for word in _permitted(schema)]
    forms = _without_idle([form for schema in schemas for form in _forms(schema)])
    if isinstance(fault.node, Scalar) and words and not fault.node.is_empty:
        return _wrong_word(fault, words)
    takes = _or([*(_FORMS[form] for form in forms), *(["one of some words"] if words else [])])
    instead = _described(fault, "write " + _or([_AS_EXAMPLE.get(form, _FORMS[form]) for form in forms]))
    if not takes:
        return _does_not_fit(fault)
    if isinstance(fault.node, Scalar) and fault.node.is_empty:
        return fault.problem(
            "value-not-written", f"nothing is written in {fault.name}, which takes {takes}", instead
        )
    return fault.problem(
        "value-of-wrong-form", f"{fault.name} takes {takes}, not {_shown(fault.node)}", instead
    )


def _wrong_word(fault: _Fault, words: list[str]) -> Problem:
    written = fault.node.text if isinstance(fault.node, Scalar) else ""
    near = nearest(written, words)
    instead = (
        f"did you mean {near}? Permitted are {_listed(words)}"
        if near and len(words) > 1
        else f"write {_listed(words)}"
    )
    return fault.problem("word-not-permitted", f"{fault.name} cannot be {_shown(fault.node)}", instead)


def _too_little(fault: _Fault) -> Problem:
    if fault.demanded == 1:
        return fault.problem(
            "value-not-written", f"nothing is written in {fault.name}", _described(fault, "write it")
        )
    form = _counted(fault.keyword, int(fault.demanded))
    return fault.problem(
        "value-too-little", f"{fault.name} needs at least {form}", _described(fault, "write more")
    )


def _counted(keyword: str, number: int) -> str:
    things = {"Length": "character", "Items": "entry", "Properties": "key"}[keyword[3:]]
    if number == 1:
        return f"1 {things}"
    return f"{number} {'entries' if things == 'entry' else things + 's'}"


def _doubles(fault: _Fault) -> Iterator[Problem]:
    assert isinstance(fault.node, Sequence)
    first: dict[object, Node] = {}
    for item in fault.node:
        said = _said(item)
        if said in first:
            yield problem_with(
                item,
                "entry-twice",
                f"{_shown(item)} stands twice in {fault.name}",
                "delete one of the two",
                (f"first written at {first[said].place}",),
            )
        first.setdefault(said, item)


def _out_of_range(fault: _Fault) -> Problem:
    limit = {
        "minimum": "at least",
        "exclusiveMinimum": "more than",
        "maximum": "at most",
        "exclusiveMaximum": "less than",
        "multipleOf": "a multiple of",
    }[fault.keyword]
    what = f"{fault.name} must be {limit} {fault.demanded}, and {_shown(fault.node)} is not"
    return fault.problem("value-out-of-range", what, _described(fault, f"write {limit} {fault.demanded}"))


def _does_not_fit(fault: _Fault) -> Problem:
    """What has no words of its own, such as a pattern: the schema's description says what belongs there."""
    if fault.keyword == "format" and fault.demanded == "date":
        what = f"{fault.name} takes a date, and {_shown(fault.node)} is none"
        return fault.problem("value-does-not-fit", what, "write year-month-day, such as 2026-03-31")
    what = f"{_shown(fault.node)} does not fit {fault.name}"
    return fault.problem(
        "value-does-not-fit", what, _described(fault, "compare it with what stands beside it")
    )


def _known_keys(schema: Schema) -> list[str]:
    """The keys that a schema names, in whatever alternative."""
    known = list(schema.get("properties", {}))
    for word in ("allOf", "anyOf", "oneOf"):
        for part in schema.get(word, ()):
            known += _known_keys(part) if isinstance(part, dict) else []
    for word in ("if", "then", "else"):
        part = schema.get(word)
        known += _known_keys(part) if isinstance(part, dict) else []
    return list(dict.fromkeys(known))


def _permitted(schema: Schema) -> list[str]:
    """The words that a schema permits, when it lists them."""
    words = [schema["const"]] if "const" in schema else schema.get("enum", [])
    return list(dict.fromkeys(as_written(word) for word in words if not isinstance(word, dict | list)))


def _forms(schema: Schema) -> list[str]:
    forms = schema.get("type", [])
    return [forms] if isinstance(forms, str) else list(forms)


def _without_idle(forms: list[str]) -> list[str]:
    """Each form once, and none that says nothing beside `string`: every number is a text here."""
    distinct = list(dict.fromkeys(forms))
    return [
        form for form in distinct if "string" not in distinct or form not in ("number", "integer", "boolean")
    ]


def _described(fault: _Fault, otherwise: str) -> str:
    """What to write, as the schema puts it, else as the check itself can tell."""
    description, example = str(fault.schema.get("description", "")), _example(fault.schema)
    if not description:
        return f"write it as in {fault.name}: {example}" if example else otherwise
    return f"write {_lower(description)}" + (f", such as {example}" if example else "")


def _example(schema: Schema) -> str:
    examples = schema.get("examples", [])
    return as_written(examples[0]) if examples and not isinstance(examples[0], dict | list) else ""


def _meaning(schema: Schema) -> str:
    return f" ({_lower(str(schema['description']))})" if "description" in schema else ""


def _lower(sentence: str) -> str:
    """A sentence of a schema as part of another one."""
    inside = sentence.strip().removesuffix(".")
    return inside if inside[1:2].isupper() else inside[:1].lower() + inside[1:]


def _shown(node: Node) -> str:
    if isinstance(node, Scalar):
        if not node.text:
            return "an empty text"
        return node.text if len(node.text) <= 40 else node.text[:39] + "…"
    return _FORMS["array" if isinstance(node, Sequence) else "object"]


def _said(node: Node) -> object:
    """What a node says, whatever its place."""
    match node:
        case Scalar():
            return node.text
        case Sequence():
            return tuple(_said(item) for item in node)
        case Mapping():
            return frozenset((key.text, _said(value)) for key, value in node)


def _listed(words: list[str]) -> str:
    shown = [word for word in dict.fromkeys(words) if word]
    return (
        _or(shown) if len(shown) <= _SHOWN else f"{', '.join(shown[:_SHOWN])} and {len(shown) - _SHOWN} more"
    )


def _or(words: list[str]) -> str:
    return " or ".join(part for part in (", ".join(words[:-1]), *words[-1:]) if part)
