"""Facts in words, one at a time; what is not known says what is missing for it."""

from math import inf
from typing import Final

from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import FORCE
from plumbtrue.quantities.values import Unknown
from plumbtrue.quantities.writing import System, as_said, write, write_value
from plumbtrue.reporting.grouping import missing_in_words
from plumbtrue.rig.thing import Thing

NOT_KNOWN: Final = "not known"
_MOST: Final = 2
_EVEN: Final = 0.25
"""Imbalance below which a set counts as even in print [N]; no hand feels it."""


class Told:
    """The facts of a house, in the words and units in which it wants them."""

    def __init__(self, facts: Facts, system: System) -> None:
        self.facts = facts
        self.system = system

    def text(self, thing: Thing, name: str) -> str:
        """A fact in words; where it is not known, what is missing."""
        fact = thing.kind.facts[name]
        answer = self.facts.answer(thing, name)
        value = answer.value
        is_open = isinstance(value, Bounds) and value.low == -inf and value.high == inf
        if not isinstance(value, Unknown) and not is_open:
            dimension = None if fact.type == "date" else fact.dimension
            return write_value(as_said(value), dimension, self.system)
        if answer.refusal:
            return f"{NOT_KNOWN}: {answer.refusal}"
        asked = list(
            dict.fromkeys(missing_in_words(thing, one.thing, one.fact, one.why) for one in answer.missing)
        )
        more = f"; and {len(asked) - _MOST} more" if len(asked) > _MOST else ""
        return f"{NOT_KNOWN}: {'; '.join(asked[:_MOST])}{more}" if asked else NOT_KNOWN

    def share(self, thing: Thing, name: str) -> str:
        """A share of what something may take, in whole per cent."""
        value = self.facts.value(thing, name)
        if not isinstance(value, Bounds) or value.low == -inf:
            return self.text(thing, name)
        if value.high == inf:
            return f"at least {value.low:.0%}"
        low, high = f"{value.low:.0%}", f"{value.high:.0%}"
        return high if low == high else f"{low} to {high}"

    def written(self, thing: Thing, name: str) -> str:
        """A fact as somebody wrote it; empty where nobody did."""
        recorded = thing.facts.get(name)
        return "" if recorded is None else write_value(recorded.value, None, self.system)

    def limit(self, thing: Thing, name: str) -> str:
        """What something may take; where nobody knows that it may take anything, the most that it could."""
        value = self.facts.value(thing, name)
        if not isinstance(value, Bounds) or value.low > 0 or value.high == inf:
            return self.text(thing, name)
        return f"{NOT_KNOWN}; {self.force(Bounds.exactly(value.high))} at best"

    def as_recorded(self, thing: Thing, name: str) -> str:
        """A fact in the very words in which somebody wrote it, else as it is known."""
        recorded = thing.facts.get(name)
        return self.text(thing, name) if recorded is None else recorded.text

    def force(self, bounds: Bounds) -> str:
        return write(bounds, FORCE, self.system)

    def side(self, at_hand_line: Bounds) -> str:
        """How a set stands at the hand line [N], positive where the pipe is heavy."""
        low, high = at_hand_line.low, at_hand_line.high
        if max(abs(low), abs(high)) < _EVEN:
            return "even"
        if low >= -_EVEN:
            return f"pipe heavy by {self.force(Bounds(max(low, 0.0), high))}"
        if high <= _EVEN:
            return f"arbor heavy by {self.force(Bounds(max(-high, 0.0), -low))}"
        arbor, pipe = self.force(Bounds.exactly(-low)), self.force(Bounds.exactly(high))
        return f"between arbor heavy by {arbor} and pipe heavy by {pipe}"
