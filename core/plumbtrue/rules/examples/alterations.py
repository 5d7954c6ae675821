"""Small alterations of an expression, each of which some example of a good rule must notice.

A comparison is made strict or not, or turned round; a limit is moved by one step either way; a clause is
dropped; `and` and `or`, `every` and `some`, `least` and `greatest` change places; `none` and `not none` do;
a word becomes another permitted word. Alterations are made on what is written, so that each can be shown as
the author would write it; those that do not check are no alterations and are left out by the caller.
"""

from collections.abc import Callable, Iterator
from dataclasses import fields, replace
from datetime import date, timedelta
from fractions import Fraction
from re import compile as pattern
from typing import Any, Final, get_args

from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rules.language.nodes import (
    And,
    Arithmetic,
    Call,
    Comparison,
    Count,
    Expression,
    Figure,
    Gathering,
    Includes,
    Is,
    IsKnown,
    IsNone,
    Not,
    OneOf,
    Operator,
    Or,
    Ordering,
    Quantified,
    Quantifier,
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


@unchanging
class Alteration:
    """An expression that differs from what was written in one small thing."""

    what: str
    """The difference, as the author would write it."""
    wanted: str
    """The example that would notice it."""
    expression: Expression


WordsFor = Callable[[Word], tuple[str, ...]]
"""Other words that may stand where a word stands."""


def alterations(expression: Expression, words_for: WordsFor) -> Iterator[Alteration]:
    """Every alteration of an expression and of what is inside it, from left to right."""
    for altered, wanted in _here(expression, words_for):
        yield Alteration(f"{printed(expression)} becomes {printed(altered)}", wanted, altered)
    for field in fields(expression):
        held = getattr(expression, field.name)  # The fields of our own nodes, whose types are checked.
        if isinstance(held, _EXPRESSIONS):
            for one in alterations(held, words_for):
                yield replace(one, expression=_with(expression, field.name, one.expression))
        elif isinstance(held, tuple):
            for place, part in enumerate(held):
                for one, other in _of_part(part, words_for):
                    parts = (*held[:place], other, *held[place + 1 :])
                    yield replace(one, expression=_with(expression, field.name, parts))


def _with(expression: Expression, name: str, part: object) -> Expression:
    """An expression with another part under one of its own names."""
    changed: dict[str, Any] = {name: part}
    return replace(expression, **changed)


def _of_part(part: object, words_for: WordsFor) -> Iterator[tuple[Alteration, object]]:
    """Alterations of one of several parts: a clause, an argument, or a key of a table with what it is."""
    if isinstance(part, _EXPRESSIONS):
        yield from ((one, one.expression) for one in alterations(part, words_for))
    elif isinstance(part, tuple):
        key, value = part
        yield from ((one, (key, one.expression)) for one in alterations(value, words_for))


def _here(expression: Expression, words_for: WordsFor) -> Iterator[tuple[Expression, str]]:
    """Alterations of the outermost part of an expression, each with the example that would notice it."""
    match expression:
        case Comparison(operator=operator, left=left, right=right):
            if operator in _STRICTNESS:
                exactly = f"one where {printed(left)} is exactly {printed(right)}"
                yield replace(expression, operator=_STRICTNESS[operator]), exactly
            yield replace(expression, operator=_OPPOSITE[operator]), "one on either side of the limit"
        case Figure(text=text):
            for moved in moved_both_ways(text):
                yield replace(expression, text=moved), f"one between {text} and {moved}, or exactly {text}"
        case And(parts=parts, place=place) | Or(parts=parts, place=place):
            is_and = isinstance(expression, And)
            yield (Or if is_and else And)(parts, place), "one where some of the clauses hold and some do not"
            for dropped in range(len(parts)):
                kept = (*parts[:dropped], *parts[dropped + 1 :])
                shorter = kept[0] if len(kept) == 1 else replace(expression, parts=kept)
                word = "does not hold and the others do" if is_and else "holds and the others do not"
                yield shorter, f"one where {printed(parts[dropped])} {word}"
        case Not(operand=operand):
            yield operand, f"one where {printed(operand)} is told, either way"
        case IsNone(operand=operand) | IsKnown(operand=operand):
            yield (
                replace(expression, negated=not expression.negated),
                f"one that decides by {printed(operand)}",
            )
        case Is(operand=operand, word=word) | Includes(operand=operand, word=word):
            yield (
                replace(expression, negated=not expression.negated),
                f"one that decides by {printed(operand)}",
            )
            for other in words_for(word):
                yield replace(expression, word=replace(word, text=other)), f"one that decides by {word.text}"
        case OneOf(operand=operand, words=words):
            yield (
                replace(expression, negated=not expression.negated),
                f"one that decides by {printed(operand)}",
            )
            if len(words) > 1:
                for dropped in range(len(words)):
                    kept_words = (*words[:dropped], *words[dropped + 1 :])
                    wanted = f"one where {printed(operand)} is {words[dropped].text}"
                    yield replace(expression, words=kept_words), wanted
        case Quantified(quantifier=quantifier):
            other_quantifier: Quantifier = "every" if quantifier == "some" else "some"
            wanted = "one with several of them, of which some satisfy the condition and some do not"
            yield replace(expression, quantifier=other_quantifier), wanted
            yield from _without_where(expression)
        case Total(gathering=gathering):
            if gathering != "sum":
                opposite: Gathering = "least" if gathering == "greatest" else "greatest"
                yield replace(expression, gathering=opposite), "one with several of them that differ"
            yield from _without_where(expression)
        case Same() | Count():
            yield from _without_where(expression)
        case Call(function="least" | "greatest" as function):
            opposite_function = "least" if function == "greatest" else "greatest"
            yield replace(expression, function=opposite_function), "one where the figures differ"
        case Arithmetic(operator="+" | "-" as operator, right=right):
            swapped: Operator = "-" if operator == "+" else "+"
            yield replace(expression, operator=swapped), f"one where {printed(right)} matters"
        case _:
            return


def _turned_round(test: IsNone | IsKnown | Is | Includes | OneOf) -> tuple[Expression, str]:
    return replace(test, negated=not test.negated), f"one that decides by {printed(test.operand)}"


def _without_where(expression: Quantified | Total | Same | Count) -> Iterator[tuple[Expression, str]]:
    if expression.where is not None:
        wanted = f"one where something that is not ({printed(expression.where)}) would count"
        yield replace(expression, where=None), wanted


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
