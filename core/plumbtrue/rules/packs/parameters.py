"""The parameters of rules: limits with a unit and a meaning, which a later pack may move."""

from dataclasses import replace
from typing import Final, Literal, cast

from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence, problem_with
from plumbtrue.documents.place import Problem
from plumbtrue.quantities.literals import read_literal
from plumbtrue.quantities.unreadable import Unreadable
from plumbtrue.rules.language.scope import Given
from plumbtrue.rules.language.value_types import in_words
from plumbtrue.rules.packs.form import Form
from plumbtrue.rules.rule import Origin, Parameter

RESERVED: Final = ("severity", "also_require", "also_when", "unless")
"""Names that an adjustment uses for other parts of a rule."""


def read_parameters(node: Mapping, origin: Origin, problems: list[Problem]) -> dict[str, Parameter]:
    """The parameters of a rule, by name."""
    parameters: dict[str, Parameter] = {}
    for name, entry in node:
        if not isinstance(entry, Mapping):
            problems.append(
                Problem(
                    "value-of-wrong-form",
                    entry.place,
                    f"the parameter {name.text} is a map",
                    f"write {name.text}: {{value: 12 in, meaning: what it limits}}",
                )
            )
            continue
        if name.text in RESERVED or not name.text.replace("_", "").isalnum():
            problems.append(
                Problem(
                    "parameter-name",
                    name.place,
                    f"{name.text} cannot name a parameter",
                    "write another name, with letters, digits and underscores",
                    length=len(name.text),
                )
            )
        form = Form(entry, f"the parameter {name.text}", problems)
        written = form.node_of("value", wanted=True)
        meaning = form.text("meaning", wanted=True)
        stricter = form.word("stricter", ("less", "more"))
        form.finish()
        given = None if written is None else read_given(written, problems)
        if written is not None and given is not None:
            parameters[name.text] = Parameter(
                name.text,
                given.text,
                given,
                meaning,
                cast(Literal["less", "more"] | None, stricter),
                replace(origin, place=written.place),
            )
    return parameters


def moved(old: Parameter, written: Node, origin: Origin, problems: list[Problem]) -> Parameter | None:
    """A parameter with another value; nothing, and a problem, where the value is of another sort."""
    given = read_given(written, problems)
    if given is None:
        return None
    if _sort(given) != _sort(old.given):
        what = f"{old.name} is {_sort(old.given)}, such as {old.text}, not {_sort(given)}"
        problems.append(problem_with(written, "dimension-wrong", what, f"write {_sort(old.given)}"))
        return None
    return replace(old, text=given.text, given=given, origin=replace(origin, place=written.place))


def read_given(written: Node, problems: list[Problem]) -> Given | None:
    """The value of a parameter: a figure with its unit, a day, a name, or a list of words to choose from."""
    if isinstance(written, Sequence):
        words = [one.text for one in written if isinstance(one, Scalar)]
        if len(words) == len(written.items) > 0:
            return Given.choice(frozenset(words))
    if not isinstance(written, Scalar):
        problems.append(
            problem_with(
                written, "value-of-wrong-form", "a value is one text or a list of words", "write value: 12 in"
            )
        )
        return None
    limit = read_literal(written.text)
    if isinstance(limit, Unreadable):
        if not written.text[:1].isdigit():
            return Given.name(written.text)
        problems.append(problem_with(written, limit.slug, limit.what, f"write {limit.instead}"))
        return None
    if not limit.bounds.is_exact:
        what = f"a limit is one figure, and {written.text} is a stretch"
        problems.append(
            problem_with(written, "limit-not-exact", what, "write one figure with its unit, or one day")
        )
        return None
    return Given.figure(written.text, limit.bounds, limit.dimension)


def _sort(given: Given) -> str:
    """What a value is, with its article."""
    return "a list of words" if given.type is None else in_words(given.type)
