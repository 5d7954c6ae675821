"""What `in_order` gives a fact, read once from the vocabulary's text: words, a figure, or a bound that leans
on another fact.

The vocabulary writes `wire or lock`, `at most 1/16 in`, `39..45 in`, `at least 0.97 * diameter` and
`0.512 * rope.diameter .. 0.60 * rope.diameter`. Here the text becomes a small value; whoever knows the
thing's other facts turns that value into bounds.
"""

import re
from collections.abc import Callable
from functools import cache
from math import inf
from typing import Literal

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import RATIO, Dimension
from plumbtrue.quantities.reading import Unreadable, read_count, read_quantity, read_ratio
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import NONE, Absent, Choice, WordSet
from plumbtrue.rig.vocabulary import Fact


@unchanging
class Multiple:
    """So many times another fact, such as `0.97 * diameter` or `0.60 * rope.diameter`."""

    factor: float
    path: tuple[str, ...]
    """The fact's name, after the name of the thing that has it where that is another thing."""


Term = Bounds | Multiple


@unchanging
class Stated:
    """A figure between two terms; a side without a term is open."""

    low: Term | None
    high: Term | None

    @property
    def leans_on(self) -> tuple[tuple[str, ...], ...]:
        """The facts without which the bounds cannot be told."""
        return tuple(dict.fromkeys(term.path for term in (self.low, self.high) if isinstance(term, Multiple)))

    def bounds(self, fact_at: Callable[[tuple[str, ...]], Bounds]) -> Bounds:
        """The bounds, from the figures of the facts that they lean on."""
        low = -inf if self.low is None else _figure(self.low, fact_at).low
        high = inf if self.high is None else _figure(self.high, fact_at).high
        return Bounds(low, high)


def _figure(term: Term, fact_at: Callable[[tuple[str, ...]], Bounds]) -> Bounds:
    if isinstance(term, Multiple):
        return Bounds.exactly(term.factor) * fact_at(term.path)
    return term


Given = Choice | WordSet | Absent | Stated


def given_by(fact: Fact) -> Given | None:
    """What a general "in order" gives this fact; nothing when the fact has to be written itself.

    Only a condition has such a value: what a thing is, and what a paper says, no look can vouch for.

    Raises:
        ValueError: the vocabulary's text cannot be read, or names a word that the fact does not have.
    """
    if fact.in_order is None or fact.nature != "condition":
        return None
    return _read(fact.name, fact.type, fact.dimension, frozenset(fact.words or ()), fact.in_order)


@cache
def _read(name: str, type_: str, dimension: Dimension | None, words: frozenset[str], text: str) -> Given:
    if type_ in ("word", "yes/no", "list of words"):
        return _words(name, type_, words or frozenset({"yes", "no"}), text)
    if text == "none":
        return Stated(Bounds.exactly(0), Bounds.exactly(0)) if type_ == "count" else NONE
    return _stated(name, type_, dimension or RATIO, text)


def _words(name: str, type_: str, words: frozenset[str], text: str) -> Choice | WordSet | Absent:
    said = text.split(" or ")
    possible = frozenset(word for word in said if word != "none")
    if not possible <= words:
        raise ValueError(f"{name} is in order with {sorted(possible - words)}, which are none of its words")
    may_be_none = "none" in said
    if type_ == "list of words":
        if not may_be_none:
            raise ValueError(
                f"{name} is a list of words, which is in order when none applies, but got {text!r}"
            )
        return WordSet(frozenset(), perhaps=possible)
    return Choice(possible, may_be_none) if possible else NONE


_MULTIPLE = re.compile(r"(?:(?P<factor>\d+(?:\.\d+)?)\s*\*\s*)?(?P<path>[a-z_]+(?:\.[a-z_]+)*)")


def _stated(name: str, type_: str, dimension: Dimension, text: str) -> Stated:
    def term(part: str, unit_from: str = "") -> Term:
        part = part.strip()
        match = _MULTIPLE.fullmatch(part)
        if match:
            return Multiple(float(match["factor"] or 1), tuple(match["path"].split(".")))
        read = _figure_of(type_, dimension, part)
        if isinstance(read, Unreadable) and unit_from:
            read = _figure_of(type_, dimension, f"{part} {unit_from}")
        if isinstance(read, Unreadable):
            raise ValueError(f"{name} is in order with {text!r}, which cannot be read: {read.what}")
        return read

    if ".." in text:
        first, second = text.split("..")
        unit = second.strip().rpartition(" ")[2]
        return Stated(term(first, unit_from=unit), term(second))
    which: Literal["low", "high", "both"] = "both"
    if text.startswith("at least "):
        which, text = "low", text.removeprefix("at least ")
    elif text.startswith("at most "):
        which, text = "high", text.removeprefix("at most ")
    stated = term(text)
    return Stated(None if which == "high" else stated, None if which == "low" else stated)


def _figure_of(type_: str, dimension: Dimension, text: str) -> Bounds | Unreadable:
    if type_ == "count":
        return read_count(text)
    if type_ == "ratio":
        return read_ratio(text)
    return read_quantity(text, dimension)
