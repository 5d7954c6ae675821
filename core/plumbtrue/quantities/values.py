"""What a fact can say: it is known, known within limits, looked for and not there, or not known.

A quantity, a count, a ratio and a date (days, see `calendar`) are `Bounds`. A word and a yes or no are a
`Choice` among the words that are still possible. A list of words is a `WordSet`. A name or a text is a
`Name`. `Each` holds values in order, one for each of several.
"""

from typing import Final

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class Absent:
    """Looked for, and not there: a known fact."""

    def __str__(self) -> str:
        return "none"


@unchanging
class Unknown:
    """Not known: nobody wrote it, or somebody looked and could not tell."""

    def __str__(self) -> str:
        return "unknown"


NONE: Final = Absent()
UNKNOWN: Final = Unknown()


@unchanging
class Choice:
    """One word, of which these are still possible; `may_be_none` when even `none` is.

    It is exactly known when one possibility is left.
    """

    possible: frozenset[str]
    may_be_none: bool = False

    @property
    def word(self) -> str | None:
        """The word itself when it is known."""
        if len(self.possible) == 1 and not self.may_be_none:
            return next(iter(self.possible))
        return None


@unchanging
class WordSet:
    """Every word of a list that applies; empty when each was looked for and none applies.

    `perhaps` holds words that may apply as well: a groove "in order" is unmarked or merely polished, and
    nobody said which.
    """

    words: frozenset[str]
    perhaps: frozenset[str] = frozenset()


@unchanging
class Name:
    """A name or a text, taken letter by letter."""

    text: str


@unchanging
class Spot:
    """A place along a batten [m], from its zero end, or from the centre line (stage left positive)."""

    from_centre: bool
    distance: Bounds


@unchanging
class Each:
    """Values in order, one for each of several alike."""

    values: tuple["Value", ...]


Value = Bounds | Choice | WordSet | Name | Spot | Each | Absent | Unknown


def is_exactly_known(value: Value) -> bool:
    """Whether nothing about the value is in doubt."""
    match value:
        case Bounds():
            return value.is_exact
        case Choice():
            return value.word is not None
        case WordSet():
            return not value.perhaps
        case Spot():
            return value.distance.is_exact
        case Each(values):
            return all(is_exactly_known(one) for one in values)
        case Unknown():
            return False
        case _:
            return True
