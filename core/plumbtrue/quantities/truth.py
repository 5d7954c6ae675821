"""Three-valued truth: what is not known never passes.

Strong three-valued logic (Kleene, Introduction to Metamathematics, 1952, section 64; from memory): one
operand that settles a conjunction or disjunction settles it whatever the others are, in any order.
"""

from collections.abc import Iterable
from enum import Enum


class Truth(Enum):
    """The answer to a question about a rig."""

    HOLDS = "holds"
    FAILS = "does not hold"
    CANNOT_TELL = "cannot be told"

    def __invert__(self) -> "Truth":
        """The answer to the opposite question; what cannot be told stays so."""
        if self is Truth.HOLDS:
            return Truth.FAILS
        if self is Truth.FAILS:
            return Truth.HOLDS
        return Truth.CANNOT_TELL

    @staticmethod
    def of(known: bool) -> "Truth":
        """The answer when everything is known."""
        return Truth.HOLDS if known else Truth.FAILS


def every(answers: Iterable[Truth]) -> Truth:
    """Conjunction: one that fails settles it; of nothing at all it holds.

    >>> every([Truth.CANNOT_TELL, Truth.FAILS])
    <Truth.FAILS: 'does not hold'>
    """
    told = Truth.HOLDS
    for answer in answers:
        if answer is Truth.FAILS:
            return Truth.FAILS
        if answer is Truth.CANNOT_TELL:
            told = Truth.CANNOT_TELL
    return told


def some(answers: Iterable[Truth]) -> Truth:
    """Disjunction: one that holds settles it; of nothing at all it fails.

    >>> some([Truth.CANNOT_TELL, Truth.HOLDS])
    <Truth.HOLDS: 'holds'>
    """
    return ~every(~answer for answer in answers)
