"""Small documents (packs, tables, waivers) checked against their JSON Schema, in the trade's words.

Scalars stay what they are, texts: `integer` takes a text that spells a whole number, `string` takes any text,
so that an edition `1.10` or a name `012` is not changed on the way to the check.
"""

import json
import re
from collections.abc import Callable, Iterator
from functools import cache
from typing import TYPE_CHECKING, Any

from plumbtrue.documents.data_folder import data_folder
from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence
from plumbtrue.documents.place import Problem
from plumbtrue.documents.schema_wording import as_written, problems_told

if TYPE_CHECKING:
    from jsonschema import TypeChecker
    from jsonschema.protocols import Validator
    from referencing import Resource

Schema = dict[str, Any]

_NUMBER = re.compile(r"[-+]?(\d+(\.\d*)?|\.\d+)([eE][-+]?\d+)?")
_INTEGER = re.compile(r"[-+]?\d+")


def check_by(schema: Schema, node: Node) -> tuple[Problem, ...]:
    """The same, by a schema at hand (2020-12)."""
    errors = list(_validator(schema).iter_errors(_plain(node)))
    return problems_told(errors, node, schema) if errors else ()


def _validator(schema: Schema) -> "Validator":
    return _validator_class()(schema, **_surroundings())


@cache
def named_schema(name: str) -> Schema:
    """The schema of that name that comes with the program."""
    schema: Schema = json.loads((data_folder("schemas") / f"{name}.schema.json").read_text(encoding="utf-8"))
    return schema


class _Written(str):
    """A scalar's text, which knows whether it stood in quotes."""

    __slots__ = ("quoted",)
    quoted: bool


def _plain(node: Node) -> Any:
    match node:
        case Scalar():
            text = _Written(node.text)
            text.quoted = node.quoted
            return text
        case Sequence():
            return [_plain(item) for item in node]
        case Mapping():
            return {key.text: _plain(value) for key, value in node}


def _spells(pattern: re.Pattern[str]) -> Callable[["TypeChecker", object], bool]:
    def spelled(_: "TypeChecker", instance: object) -> bool:
        return isinstance(instance, _Written) and not instance.quoted and bool(pattern.fullmatch(instance))

    return spelled


def _is_text(_: "TypeChecker", instance: object) -> bool:
    # Keys are plain strings; a scalar that is not written at all is no text.
    return isinstance(instance, str) and not (
        isinstance(instance, _Written) and not instance and not instance.quoted
    )


@cache
def _validator_class() -> "type[Validator]":
    """The library's validator with our reading of scalars.

    Imported late: most commands check no small document.
    """
    from jsonschema import Draft202012Validator
    from jsonschema.validators import extend

    types = Draft202012Validator.TYPE_CHECKER.redefine_many(
        {
            "string": _is_text,
            "number": _spells(_NUMBER),
            "integer": _spells(_INTEGER),
            "boolean": _spells(re.compile("true|false")),
            "null": _spells(re.compile("|null|~")),
        }
    )
    numeric = ("minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum", "multipleOf")
    keywords: dict[str, Any] = {word: _of_number(Draft202012Validator.VALIDATORS[word]) for word in numeric}
    keywords |= {"enum": _enum, "const": _const}
    validator: type[Validator] = extend(  # type: ignore[no-untyped-call]  # the library's own
        Draft202012Validator, keywords, type_checker=types
    )
    return validator


def _of_number(keyword: Any) -> Any:
    """A keyword about numbers, handed the number that a text spells."""

    def judged(validator: Any, limit: Any, instance: Any, schema: Schema) -> Iterator[Any]:
        if validator.is_type(instance, "number"):
            yield from keyword(_Numbers, limit, float(instance), schema)

    return judged


class _Numbers:
    """Stands for the validator where everything is known to be a number already."""

    @staticmethod
    def is_type(_instance: object, _name: str) -> bool:
        return True


def _enum(_validator: Any, permitted: list[Any], instance: Any, _schema: Schema) -> Iterator[Any]:
    from jsonschema import ValidationError

    if not any(_says(instance, each) for each in permitted):
        yield ValidationError("not one of the permitted values")


def _const(_validator: Any, permitted: Any, instance: Any, _schema: Schema) -> Iterator[Any]:
    from jsonschema import ValidationError

    if not _says(instance, permitted):
        yield ValidationError("not the permitted value")


def _says(written: Any, permitted: Any) -> bool:
    """Whether a text, or a list or mapping of texts, says what a schema permits."""
    if isinstance(written, dict):
        return (
            isinstance(permitted, dict)
            and written.keys() == permitted.keys()
            and all(_says(value, permitted[key]) for key, value in written.items())
        )
    if isinstance(written, list):
        return (
            isinstance(permitted, list)
            and len(written) == len(permitted)
            and all(_says(one, other) for one, other in zip(written, permitted, strict=True))
        )
    return not isinstance(permitted, dict | list) and str(written) == as_written(permitted)


@cache
def _surroundings() -> dict[str, Any]:
    """What a validator needs beside a schema: dates, and the other schemas that come with the program."""
    from jsonschema import FormatChecker
    from referencing import Registry

    # A schema is found in its folder by the last part of its name; nothing is ever fetched from elsewhere.
    registry: Registry[Any] = Registry(retrieve=_resource)  # type: ignore[call-arg]  # attrs names it so
    return {"registry": registry, "format_checker": FormatChecker(formats=["date"])}


def _resource(uri: str) -> "Resource[Any]":
    from referencing import Resource
    from referencing.exceptions import NoSuchResource

    path = data_folder("schemas") / uri.rsplit("/", 1)[-1]
    if not path.is_file():
        raise NoSuchResource(uri)
    return Resource.from_contents(json.loads(path.read_text(encoding="utf-8")))
