"""What the careful way finds: a value or an answer, what would settle it, and how it came about, node by
node.
"""

from dataclasses import replace
from enum import Enum

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Absent, Unknown, Value
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.language.meaning import Meaning


@unchanging
class NotThere:
    """What is asked about belongs to something that is known not to be there: a rope's fact where there is
    no rope.
    """


@unchanging
class Member:
    """One of several: a thing or a value, and what would tell the value better."""

    value: "Thing | Value"
    missing: tuple[Missing, ...] = ()


class Rest(Enum):
    """What may belong to a list beside the members that are known."""

    NOTHING = "nothing"
    SOMETHING = "something that nobody has identified"
    UNKNOWN = "nobody knows"
    NOT_THERE = "what it would belong to is not there"


@unchanging
class Members:
    """Things or values in order, and what may belong to them besides."""

    known: tuple[Member, ...]
    rest: Rest = Rest.NOTHING

    @property
    def are_all(self) -> bool:
        return self.rest is Rest.NOTHING


Found = Value | Truth | Thing | Members | NotThere


@unchanging
class Evaluated:
    """What a node gave. Of an answer that was told, nothing is missing; of a value, all that would make it
    exact.
    """

    meaning: Meaning
    value: Found
    missing: tuple[Missing, ...] = ()
    parts: tuple["Evaluated", ...] = ()
    """What it was found from, as far as it was looked at."""
    answer: Answer | None = None
    """Of a fact: where it was recorded, or how it was computed."""
    thing: Thing | None = None
    """Of a fact: whose it is."""
    member: Member | None = None
    """Of what was asked of one of several: which one."""

    @property
    def truth(self) -> Truth:
        """The answer of a claim.

        Raises:
            ValueError: it is no claim.
        """
        if not isinstance(self.value, Truth):
            raise ValueError(f"a claim was expected, but got {self.value}")
        return self.value


def united(*groups: tuple[Missing, ...]) -> tuple[Missing, ...]:
    """Missing facts of several, each once, in the order met."""
    if len(groups) == 1:
        return groups[0]
    found: dict[tuple[int, str], Missing] = {}
    for group in groups:
        for one in group:
            found.setdefault((id(one.thing), one.fact), one)
    return tuple(found.values())


def claimed(meaning: Meaning, truth: Truth, *parts: Evaluated) -> Evaluated:
    """An answer found from parts; only what cannot be told asks for what is missing."""
    missing = united(*(part.missing for part in parts)) if truth is Truth.CANNOT_TELL else ()
    return Evaluated(meaning, truth, missing, parts)


def as_part(found: Evaluated, member: Member) -> Evaluated:
    """The same, said of one of several."""
    return replace(found, member=member)


def is_nothing(found: Found) -> bool:
    """Whether something is known not to be there."""
    return isinstance(found, Absent | NotThere)


def is_open(found: Found) -> bool:
    """Whether nothing at all is known."""
    return isinstance(found, Unknown)
