"""The values that a waiver states beside those that are found: which have to be stated, how one is read, and
whether what is found is the same or surely no worse.
"""

from collections.abc import Iterator
from typing import Final, get_args

from plumbtrue.audit.worse_way import worse_way
from plumbtrue.documents.nodes import Scalar, problem_with
from plumbtrue.documents.place import Problem
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds, exceeds
from plumbtrue.quantities.dimension import RATIO
from plumbtrue.quantities.reading import Unreadable, read_date, read_quantity, read_ratio
from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.values import NONE, UNKNOWN, Absent, Choice, Name, Unknown, Value, WordSet
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.judging import has_variable, parts_of
from plumbtrue.rules.language.careful import Careful, evaluate
from plumbtrue.rules.language.environment import RuleError
from plumbtrue.rules.language.meaning import (
    Alike,
    CountOf,
    FactOf,
    LetValue,
    Meaning,
    Quantification,
    TheOne,
    TotalOf,
)
from plumbtrue.rules.language.printing import printed
from plumbtrue.rules.language.value_types import Claims, Dates, Figures, ManyWords, Several, Type
from plumbtrue.rules.rule import Rule

FINDING: Final = "finding"
"""Stated where a rule speaks of members of a list: the words of the finding; others are a new one."""

_VALUES: Final = get_args(Value)


def unstated(rule: Rule, stated: set[str], thing: Thing, facts: Facts) -> tuple[str, ...]:
    """What decides a rule, is known, and is not stated: it could grow worse and nobody would notice."""
    found = dict.fromkeys(_needed(rule.understood.requires, stated, Careful(facts, thing)))
    return tuple(found)


def _needed(meaning: Meaning, stated: set[str], careful: Careful) -> Iterator[str]:
    """Names that have to be stated; of members of a list, the words of the finding."""
    if isinstance(meaning, FactOf | TheOne | LetValue) and not has_variable(meaning):
        name = printed(meaning.written)
        if name in stated or not _is_known_value(meaning, careful):
            return
        if not isinstance(meaning, LetValue):
            yield name
        elif not isinstance(meaning.type, Claims):
            # A named value is stated as such, or by everything that it is made of.
            yield from [name] if any(_needed(meaning.body, stated, careful)) else []
        else:
            yield from _needed(meaning.body, stated, careful)
        return
    if isinstance(meaning, Quantification | Alike | CountOf | TotalOf):
        yield FINDING
        return
    for part in parts_of(meaning):
        yield from _needed(part, stated, careful)


def _is_known_value(meaning: Meaning, careful: Careful) -> bool:
    try:
        found = careful.found(meaning).value
    except RuleError:
        return True
    return isinstance(found, Truth) or (isinstance(found, _VALUES) and not isinstance(found, Unknown))


def is_covered(
    meaning: Meaning, seen: Scalar, rule: Rule, thing: Thing, facts: Facts, problems: list[Problem]
) -> bool:
    """Whether what is found of one fact or named value is what was accepted of it, or surely no worse."""
    accepted = _read(seen, meaning.type)
    if isinstance(accepted, Unreadable):
        problems.append(problem_with(seen, accepted.slug, accepted.what, f"write {accepted.instead}"))
        return False
    try:
        found = evaluate(meaning, facts, thing).value
    except RuleError:
        return False
    if isinstance(found, Bounds) and isinstance(accepted, Bounds):
        return _is_no_worse(found, accepted, meaning, rule, thing, facts)
    return _is_same(found, accepted)


def _is_no_worse(
    found: Bounds, accepted: Bounds, meaning: Meaning, rule: Rule, thing: Thing, facts: Facts
) -> bool:
    if not exceeds(found.high, accepted.high) and not exceeds(accepted.low, found.low):
        return True
    match worse_way(accepted, meaning, rule, thing, facts):
        case "more":
            return not exceeds(found.high, accepted.high)
        case "less":
            return not exceeds(accepted.low, found.low)
        case "either":
            return False


def _read(seen: Scalar, kind: Type) -> Value | Unreadable:
    """The accepted value, read as the fact is."""
    if not seen.quoted:
        if seen.text == "none":
            return NONE
        if seen.text == "unknown":
            return UNKNOWN
    inner = kind.of if isinstance(kind, Several) else kind
    match inner:
        case Figures(dimension):
            return read_ratio(seen.text) if dimension == RATIO else read_quantity(seen.text, dimension)
        case Dates():
            return read_date(seen.text)
        case ManyWords():
            return WordSet(frozenset(word.strip() for word in seen.text.split(",")))
        case _:
            return Name(seen.text)


def _is_same(found: object, accepted: Value) -> bool:
    match found, accepted:
        case (Absent(), Absent()) | (Unknown(), Unknown()):
            return True
        case Bounds(low=0, high=0), Absent():
            return True
        case Choice(), Name(text):
            return found.word == text
        case Name(text), Name(other):
            return text == other
        case WordSet(words, perhaps), WordSet(others):
            return words | perhaps <= others
        case WordSet(words, perhaps), Absent():
            return not words | perhaps
        case _:
            return False
