"""Small alterations of an expression, each of which some example of a good rule must notice.

A comparison is made strict or not, or turned round; a limit is moved by one step either way; a clause is
dropped; `and` and `or`, `every` and `some`, `least` and `greatest` change places; `none` and `not none` do;
a word becomes another permitted word. Alterations are made on what is written, so that each can be shown as
the author would write it; those that do not check are no alterations and are left out by the caller.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, replace
from datetime import date, timedelta
from fractions import Fraction
from re import compile as pattern
from typing import Any, Final, get_args

from plumbtrue.rules.language.nodes import (
    And,
    Arithmetic,
    Call,
    Comparison,
    Count,
    Expression,
    Figure,
    Includes,
    Is,
    IsKnown,
    IsNone,
    Not,
    OneOf,
    Or,
    Ordering,
    Quantified,
    Same,
    Total,
    Word,
)
from plumbtrue.rules.language.printing import printed

STEP: Final = Fraction(1, 100)
"""The smallest step by which a limit with a unit is moved, as a share of it. A whole number without a unit
moves by one.
"""

_EXPRESSIONS: Final = get_args(Expression)
_STRICTNESS: Final[dict[Ordering, Ordering]] = {"<": "<=", "<=": "<", ">": ">=", ">=": ">"}
_OPPOSITE: Final[dict[Ordering, Ordering]] = {
    "<": ">",
    ">": "<",
    "<=": ">=",
    ">=": "<=",
    "=": "!=",
    "!=": "=",
}
_NUMBER: Final = pattern(r"(?:(?P<whole>\d+)[- ])?(?P<top>\d+)/(?P<bottom>\d+)|(?P<plain>\d+(?:\.\d+)?)")
_DAY: Final = pattern(r"\d{4}-\d{2}-\d{2}")


@dataclass(frozen=True, slots=True)
class Alteration:
    """An expression that differs from what was written in one small thing, and that thing in words."""

    what: str
    expression: Expression


WordsFor = Callable[[Word], tuple[str, ...]]
"""Other words that may stand where a word stands."""


def alterations(expression: Expression, words_for: WordsFor) -> Iterator[Alteration]:
    """Every alteration of an expression and of what is inside it, from left to right."""
    for altered in _here(expression, words_for):
        yield Alteration(f"{printed(expression)} becomes {printed(altered)}", altered)
    for field in fields(expression):
        held = getattr(expression, field.name)  # The fields of our own nodes, whose types are checked.
        if isinstance(held, _EXPRESSIONS):
            for one in alterations(held, words_for):
                yield replace(one, expression=_with(expression, field.name, one.expression))
        elif isinstance(held, tuple):
            for place, part in enumerate(held):
                for what, other in _of_part(part, words_for):
                    parts = (*held[:place], other, *held[place + 1 :])
                    yield Alteration(what, _with(expression, field.name, parts))


def _with(expression: Expression, name: str, part: object) -> Expression:
    """An expression with another part under one of its own names."""
    changed: dict[str, Any] = {name: part}
    return replace(expression, **changed)


def _of_part(part: object, words_for: WordsFor) -> Iterator[tuple[str, object]]:
    """Alterations of one of several parts: a clause, an argument, or a key of a table with what it is."""
    if isinstance(part, _EXPRESSIONS):
        yield from ((one.what, one.expression) for one in alterations(part, words_for))
    elif isinstance(part, tuple):
        key, value = part
        yield from ((one.what, (key, one.expression)) for one in alterations(value, words_for))


def _here(expression: Expression, words_for: WordsFor) -> Iterator[Expression]:
    """Alterations of the outermost part of an expression alone."""
    match expression:
        case Comparison(operator=operator):
            if operator in _STRICTNESS:
                yield replace(expression, operator=_STRICTNESS[operator])
            yield replace(expression, operator=_OPPOSITE[operator])
        case Figure(text=text):
            for moved in moved_both_ways(text):
                yield replace(expression, text=moved)
        case And(parts=parts, place=place) | Or(parts=parts, place=place):
            yield (Or if isinstance(expression, And) else And)(parts, place)
            for dropped in range(len(parts)):
                kept = (*parts[:dropped], *parts[dropped + 1 :])
                yield kept[0] if len(kept) == 1 else replace(expression, parts=kept)
        case Not(operand=operand):
            yield operand
        case IsNone() | IsKnown():
            yield replace(expression, negated=not expression.negated)
        case Is(word=word) | Includes(word=word):
            yield replace(expression, negated=not expression.negated)
            for other in words_for(word):
                yield replace(expression, word=replace(word, text=other))
        case OneOf(words=words):
            yield replace(expression, negated=not expression.negated)
            if len(words) > 1:
                for dropped in range(len(words)):
                    yield replace(expression, words=(*words[:dropped], *words[dropped + 1 :]))
        case Quantified(quantifier=quantifier):
            yield replace(expression, quantifier="every" if quantifier == "some" else "some")
            yield from _without_where(expression)
        case Total(gathering=gathering):
            if gathering != "sum":
                yield replace(expression, gathering="least" if gathering == "greatest" else "greatest")
            yield from _without_where(expression)
        case Same() | Count():
            yield from _without_where(expression)
        case Call(function="least" | "greatest" as function):
            yield replace(expression, function="least" if function == "greatest" else "greatest")
        case Arithmetic(operator="+" | "-" as operator):
            yield replace(expression, operator="-" if operator == "+" else "+")
        case _:
            return


def _without_where(expression: Quantified | Total | Same | Count) -> Iterator[Expression]:
    if expression.where is not None:
        yield replace(expression, where=None)


def moved_both_ways(text: str) -> tuple[str, ...]:
    """A figure one step less and one step more: by a hundredth, a whole number without a unit by one, a day
    by a day.

    >>> moved_both_ways("1/4 in"), moved_both_ways("3"), moved_both_ways("2018-07-14")
    (('0.2475 in', '0.2525 in'), ('2', '4'), ('2018-07-13', '2018-07-15'))
    """
    if _DAY.fullmatch(text):
        day = date.fromisoformat(text)
        return tuple((day + timedelta(days=step)).isoformat() for step in (-1, 1))
    found = _NUMBER.match(text)
    if found is None:
        return ()
    figure, unit = _figure(found.groupdict()), text[found.end() :]
    step = Fraction(1) if figure.denominator == 1 and "." not in text and not unit.strip() else figure * STEP
    # Nought has no hundredth: making the comparison strict or not is the alteration that tests it.
    return tuple(
        f"{_decimal(figure + way * step)}{unit}" for way in (-1, 1) if step and figure + way * step >= 0
    )


def _figure(groups: dict[str, str | None]) -> Fraction:
    if groups["plain"] is not None:
        return Fraction(groups["plain"])
    return Fraction(int(groups["whole"] or 0)) + Fraction(int(groups["top"] or 0), int(groups["bottom"] or 1))


def _decimal(figure: Fraction) -> str:
    return f"{float(figure):.12f}".rstrip("0").rstrip(".")
