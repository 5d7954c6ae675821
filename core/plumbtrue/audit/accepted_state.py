"""Whether the state found today is one that somebody accepted: the same, or surely no worse.

Which way is worse follows from the rule itself: if it surely finds something at every figure from the
accepted one upward, and not at every figure downward, then more is worse. Where that cannot be told, only
the accepted state itself is covered.
"""

from dataclasses import fields, replace
from math import inf
from typing import Any, Final, Literal, TypeVar, get_args

from plumbtrue.documents.nodes import Scalar, problem_with
from plumbtrue.documents.place import Problem
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds, exceeds
from plumbtrue.quantities.dimension import RATIO
from plumbtrue.quantities.reading import Unreadable, read_date, read_quantity, read_ratio
from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.values import NONE, UNKNOWN, Absent, Choice, Name, Unknown, Value, WordSet
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.judging import spoken_of
from plumbtrue.rules.language.careful import evaluate
from plumbtrue.rules.language.environment import RuleError
from plumbtrue.rules.language.meaning import Constant, Drawn, Meaning
from plumbtrue.rules.language.value_types import Dates, Figures, ManyWords, Several, Type
from plumbtrue.rules.packs.form import suggestion
from plumbtrue.rules.rule import Rule

Worse = Literal["more", "less", "either"]
_MEANINGS: Final = get_args(Meaning)
_Node = TypeVar("_Node", Meaning, Drawn)


def is_covered(
    name: Scalar, seen: Scalar, rule: Rule, thing: Thing, facts: Facts, problems: list[Problem]
) -> bool:
    """Whether one fact of the state found is the accepted one, or surely no worse.

    A fact that the rule does not look at, or a value that cannot be read, is a problem, and covers nothing.
    """
    named = spoken_of(rule.understood)
    meaning = named.get(name.text)
    if meaning is None:
        what = f"the rule {rule.slug} does not look at {name.text}"
        problems.append(problem_with(name, "waiver-state", what, suggestion(name.text, named)))
        return False
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


def worse_way(accepted: Bounds, meaning: Meaning, rule: Rule, thing: Thing, facts: Facts) -> Worse:
    """Which way a figure gets worse under a rule, from the accepted one; `either` where it cannot be told."""
    from_there_up = _finds_for(Bounds(accepted.low, inf), meaning, rule, thing, facts)
    from_there_down = _finds_for(Bounds(-inf, accepted.high), meaning, rule, thing, facts)
    if from_there_up and not from_there_down:
        return "more"
    if from_there_down and not from_there_up:
        return "less"
    return "either"


def _finds_for(figures: Bounds, meaning: Meaning, rule: Rule, thing: Thing, facts: Facts) -> bool:
    """Whether the rule surely fails for every figure within bounds."""
    supposed = Constant(figures, meaning.type, meaning.written)
    try:
        return evaluate(_with(rule.understood.requires, meaning, supposed), facts, thing).truth is Truth.FAILS
    except RuleError:
        return False


def _with(node: _Node, wanted: Meaning, supposed: Meaning) -> _Node:
    """A meaning in which something else stands in the place of one of its parts, wherever it occurs."""
    changed: dict[str, Any] = {}
    for field in fields(node):
        held = getattr(node, field.name)
        if isinstance(held, Drawn):
            changed[field.name] = _with(held, wanted, supposed)
        elif isinstance(held, _MEANINGS):
            changed[field.name] = supposed if held == wanted else _with(held, wanted, supposed)
        elif isinstance(held, tuple):
            changed[field.name] = tuple(_with_in_tuple(part, wanted, supposed) for part in held)
    return replace(node, **changed)


def _with_in_tuple(part: object, wanted: Meaning, supposed: Meaning) -> object:
    if isinstance(part, _MEANINGS):
        return supposed if part == wanted else _with(part, wanted, supposed)
    if isinstance(part, tuple) and part and isinstance(part[-1], _MEANINGS):
        return (*part[:-1], _with_in_tuple(part[-1], wanted, supposed))
    return part


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
