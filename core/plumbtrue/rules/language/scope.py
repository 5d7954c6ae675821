"""What a rule may speak of: the vocabulary, the kinds that it is about, its parameters, tables and named
values.
"""

from collections.abc import Mapping
from dataclasses import field, replace
from typing import Final

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import Dimension
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Name
from plumbtrue.rig.vocabulary import Fact, Vocabulary
from plumbtrue.rules.language.meaning import All, Any, Denial, IsKind, LetValue, Meaning
from plumbtrue.rules.language.nodes import Path
from plumbtrue.rules.language.tables import Table
from plumbtrue.rules.language.value_types import Names, Type, figure_type

Steps = tuple[str, ...]
THIS: Final = "this"
TODAY: Final = "today"
LOAD_PATH: Final = "load_path"
RESERVED: Final = frozenset({THIS, TODAY, LOAD_PATH})
"""Names that always mean the same and that nothing else may bear."""


@unchanging
class Given:
    """The value of a parameter: one figure, date or name, or a list of words or names to choose from."""

    text: str
    """As written, for the explanation."""
    value: Bounds | Name | None
    type: Type | None
    """None for a list."""
    words: frozenset[str] = frozenset()

    @staticmethod
    def figure(text: str, bounds: Bounds, dimension: Dimension | None) -> "Given":
        """A figure, or a date where there is no dimension."""
        return Given(text, bounds, figure_type(dimension, text))

    @staticmethod
    def name(text: str) -> "Given":
        """A name."""
        return Given(text, Name(text), Names())

    @staticmethod
    def choice(words: frozenset[str]) -> "Given":
        """Words or names, one of which may be asked for with `in`."""
        return Given(", ".join(sorted(words)), None, None, words)


@unchanging
class Scope:
    """What the names of one rule can stand for. Make one for each rule; `with_lets` (in `checking`) adds
    its named values.
    """

    vocabulary: Vocabulary
    about: frozenset[str]
    """Kinds that the rule is about."""
    parameters: Mapping[str, Given] = field(default_factory=dict)
    tables: Mapping[str, Table] = field(default_factory=dict)
    lets: Mapping[str, LetValue | None] = field(default_factory=dict)
    """None for one whose own problem has been told."""
    narrowed: Mapping[Steps, frozenset[str]] = field(default_factory=dict)
    """Kinds that a condition has left for a name."""

    def where(self, condition: Meaning) -> "Scope":
        """The scope of what is asked only where a condition holds: after `when: this is swage_sleeve`,
        facts of a sleeve may be named.
        """
        return replace(self, narrowed=narrowing(condition, True, self.narrowed, self.vocabulary))


def narrowing(
    condition: Meaning, holds: bool, so_far: Mapping[Steps, frozenset[str]], vocabulary: Vocabulary
) -> Mapping[Steps, frozenset[str]]:
    """The kinds that are left for each name when a condition holds, or does not."""
    match condition:
        case IsKind(of=of, kinds=kinds) if isinstance(of.written, Path):
            steps = of.written.steps
            before = so_far.get(steps, frozenset(vocabulary.kinds))
            return {**so_far, steps: before & kinds if holds else before - kinds}
        case Denial(of=of):
            return narrowing(of, not holds, so_far, vocabulary)
        case All(parts=parts) if holds:
            for part in parts:
                so_far = narrowing(part, True, so_far, vocabulary)
        case Any(parts=parts) if not holds:
            for part in parts:
                so_far = narrowing(part, False, so_far, vocabulary)
        case _:
            pass
    return so_far


def kinds_held(fact: Fact, vocabulary: Vocabulary) -> frozenset[str]:
    """The kinds of what a fact holds or names."""
    if fact.of is not None:
        return vocabulary.kinds_of(fact.of)
    if fact.type == "path":
        return vocabulary.kinds_of("part")
    return frozenset()


def may_lie_in(kinds: frozenset[str], around: frozenset[str], vocabulary: Vocabulary) -> bool:
    """Whether a thing of one of these kinds can be, or lie in, a thing of one of those."""
    return any(around & _holders(vocabulary)[kind] for kind in kinds)


_KNOWN_HOLDERS: dict[int, tuple[Vocabulary, Mapping[str, frozenset[str]]]] = {}


def _holders(vocabulary: Vocabulary) -> Mapping[str, frozenset[str]]:
    """For each kind, itself and every kind that can hold it at any depth. Found once for a vocabulary."""
    known = _KNOWN_HOLDERS.get(id(vocabulary))
    if known is not None and known[0] is vocabulary:
        return known[1]
    direct: dict[str, set[str]] = {kind: set() for kind in vocabulary.kinds}
    for holder in vocabulary.kinds.values():
        for fact in holder.facts.values():
            if fact.holds_things:
                for held in kinds_held(fact, vocabulary):
                    direct[held].add(holder.name)
    for each in vocabulary.kinds.values():
        direct[each.name].update(where for where in each.sits_in if where in vocabulary.kinds)
    found: dict[str, frozenset[str]] = {}
    for kind in vocabulary.kinds:
        reached, waiting = {kind}, [kind]
        while waiting:
            further = direct[waiting.pop()] - reached
            reached |= further
            waiting.extend(further)
        found[kind] = frozenset(reached)
    _KNOWN_HOLDERS.clear()
    _KNOWN_HOLDERS[id(vocabulary)] = (vocabulary, found)
    return found
