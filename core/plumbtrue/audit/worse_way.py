"""Which way a figure gets worse, asked of the rule itself.

If the rule surely finds something at every figure from a given one upward, and not at every figure
downward, then more is worse. Where the rule cannot tell, neither can we.
"""

from dataclasses import fields, replace
from math import inf
from typing import Any, Final, Literal, TypeVar, get_args

from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.truth import Truth
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.language.careful import evaluate
from plumbtrue.rules.language.environment import RuleError
from plumbtrue.rules.language.meaning import Constant, Drawn, Meaning
from plumbtrue.rules.rule import Rule

Worse = Literal["more", "less", "either"]
_MEANINGS: Final = get_args(Meaning)
_Node = TypeVar("_Node", Meaning, Drawn)


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
