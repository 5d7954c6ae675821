"""The state that somebody would have to accept, written so that it can be pasted into a waiver.

Nobody can guess what a rule with computed figures looks at, nor write a computed figure so that it reads back as
what was found. So each value is offered in the first way of writing it that covers the state found: as it was
recorded, as it is printed, or as a stretch rounded outward.
"""

import json
import re
from collections.abc import Iterator
from math import isfinite
from typing import Final

from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.audit.stated_values import FINDING, is_covered, unstated
from plumbtrue.documents.nodes import Scalar
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import Absent, Choice, Name, Unknown, WordSet
from plumbtrue.quantities.writing import write, write_date
from plumbtrue.rules.judging import spoken_of
from plumbtrue.rules.language.careful import evaluate
from plumbtrue.rules.language.environment import RuleError
from plumbtrue.rules.language.meaning import Meaning
from plumbtrue.rules.language.results import Evaluated
from plumbtrue.rules.language.value_types import Dates, Figures, Several
from plumbtrue.rules.rule import Rule

State = tuple[tuple[str, str], ...]
"""Names as the rule writes them, with what is found, as YAML."""

_OUTWARD: Final = (0.0, 1e-4, 1e-3, 1e-2, 0.05)
"""How far a figure is rounded outward until what is printed of it takes in what was found."""

_PLAIN: Final = re.compile(r"-?[A-Za-z0-9][^,\[\]{}#:&*]*")
_WORDS_OF_YAML: Final = frozenset({"none", "unknown"})
"""Unquoted, a state takes these for nothing there and nothing known."""


def waiver_text(outcome: Outcome, rule: Rule, facts: Facts) -> str:
    """A waiver for an outcome, as an entry of a file of waivers, with what only a person can say left empty.

    Empty where the rule looks at nothing that could be stated.
    """
    state = offered_state(outcome, rule, facts)
    if not state:
        return ""
    lines = [
        f"  - rule: {rule.slug}",
        f"    thing: {_scalar(outcome.thing.path)}",
        "    state:",
        *(f"      {name}: {text}" for name, text in state),
        "    until:        # the last day, such as 2026-09-11",
        "    reason:       # why it can wait",
        "    accepted_by:  # who answers for it",
        "    meanwhile:    # what is done instead until then",
    ]
    return "\n".join(lines)


def on_one_line(state: State) -> str:
    """A state as a map on one line: `{growth: 4 %, grade: "80"}`."""
    return f"{{{', '.join(f'{name}: {text}' for name, text in state)}}}"


def offered_state(outcome: Outcome, rule: Rule, facts: Facts) -> State:
    """What a waiver has to state to cover an outcome as it was found: what decides the rule and is known, and,
    of what cannot be told, what is not known.
    """
    named = spoken_of(rule.understood)
    wanted = dict.fromkeys(unstated(rule, set(), outcome.thing, facts))
    if FINDING in wanted:
        return ((FINDING, json.dumps(outcome.message, ensure_ascii=False)),)
    found = {name: _found(meaning, outcome, facts) for name, meaning in named.items()}
    # Of a finding, what is unknown decided nothing.
    is_open = outcome.result is not Result.FINDING
    lacking = [name for name, one in found.items() if is_open and one and isinstance(one.value, Unknown)]
    offered: list[tuple[str, str]] = []
    for name in dict.fromkeys((*wanted, *lacking)):
        one = found.get(name)
        text = None if one is None else _covering(one, named[name], rule, outcome, facts)
        if text is not None:
            offered.append((name, text))
    return tuple(offered)


def _found(meaning: Meaning, outcome: Outcome, facts: Facts) -> Evaluated | None:
    try:
        return evaluate(meaning, facts, outcome.thing)
    except RuleError:
        return None


def _covering(one: Evaluated, meaning: Meaning, rule: Rule, outcome: Outcome, facts: Facts) -> str | None:
    """The first way of writing a value that covers it when it is read again."""
    for text, quoted in _ways(one):
        seen = Scalar(text, outcome.thing.place, quoted=quoted)
        if is_covered(meaning, seen, rule, outcome.thing, facts, []):
            return _quoted(text) if quoted else _scalar(text)
    return None


def _ways(one: Evaluated) -> Iterator[tuple[str, bool]]:
    """Ways of writing a value, and whether it has to stand in quotes."""
    recorded = one.answer.recorded if one.answer is not None else None
    if recorded is not None and recorded.origin in ("written", "like") and not recorded.text.endswith("…"):
        yield recorded.text, False
    kind = one.meaning.type
    inner = kind.of if isinstance(kind, Several) else kind
    match one.value:
        case Unknown():
            yield "unknown", False
        case Absent():
            yield "none", False
        case Choice(possible) if len(possible) == 1:
            yield next(iter(possible)), False
        case Name(text):
            yield text, True
        case WordSet(words, perhaps):
            yield ", ".join(sorted(words | perhaps)) or "none", False
        case Bounds() as figures if isinstance(inner, Dates):
            yield write_date(figures), False
        case Bounds() as figures if isinstance(inner, Figures):
            for outward in _OUTWARD:
                yield from ((text, False) for text in _stretches(figures, inner, outward))


def _stretches(figures: Bounds, kind: Figures, outward: float) -> Iterator[str]:
    low = figures.low - outward * abs(figures.low) if isfinite(figures.low) else figures.low
    high = figures.high + outward * abs(figures.high) if isfinite(figures.high) else figures.high
    if low == high or not (isfinite(low) and isfinite(high)):
        yield write(Bounds(low, high), kind.dimension)
        return
    ends = [write(Bounds.exactly(end), kind.dimension) for end in (low, high)]
    yield ends[0] if ends[0] == ends[1] else "..".join(ends)


def _scalar(text: str) -> str:
    """A text as a value in YAML, in quotes where it would be taken for something else."""
    return text if _PLAIN.fullmatch(text) else _quoted(text)


def _quoted(text: str) -> str:
    is_plain = _PLAIN.fullmatch(text) and text not in _WORDS_OF_YAML
    return text if is_plain else json.dumps(text, ensure_ascii=False)
