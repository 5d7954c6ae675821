"""What an expression can give, known before any rig is: a figure of a dimension, a date, a word of a
closed list, a claim, a thing.
"""

import re
from typing import Final, Literal

from plumbtrue.quantities.dimension import RATIO, Dimension
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.unreadable import kind_of
from plumbtrue.rig.vocabulary import Fact

Reckoning = Literal["calendar", "days"]


@unchanging
class Figures:
    """A figure [SI]. A length of time is reckoned by the calendar (months, years), in days, or neither has
    been said.
    """

    dimension: Dimension
    reckoning: Reckoning | None = None


@unchanging
class Dates:
    """A day, as a number of days."""


@unchanging
class OneWord:
    """One word of a closed list; yes and no for a fact that is asked so."""

    words: frozenset[str]


@unchanging
class ManyWords:
    """Any number of words of a closed list."""

    words: frozenset[str]


@unchanging
class Names:
    """A name, compared letter by letter; free text is never judged."""

    free: bool = False


@unchanging
class Places:
    """A place along a batten."""


@unchanging
class Claims:
    """Something that holds, does not hold, or cannot be told."""


@unchanging
class OneThing:
    """A thing of one of these kinds."""

    kinds: frozenset[str]


@unchanging
class Several:
    """Things or values in order. With `or_one`, one value may have been written for all of them, so that
    nobody knows how many.
    """

    of: "Type"
    or_one: bool = False


@unchanging
class Mistaken:
    """A problem has been told already; nothing more is said of it."""


Type = Figures | Dates | OneWord | ManyWords | Names | Places | Claims | OneThing | Several | Mistaken

YES_OR_NO: Final = OneWord(frozenset({"yes", "no"}))
PLAIN: Final = Figures(RATIO)
CLAIM: Final = Claims()
MISTAKEN: Final = Mistaken()

_CALENDAR = re.compile(r"(?:months?|years?)\b", re.IGNORECASE)


def type_of(fact: Fact, kinds: frozenset[str]) -> Type:
    """What a fact gives. `kinds` are those that its `of` stands for, where it holds or names things."""
    match fact.type:
        case "quantity":
            return Figures(fact.dimension or RATIO)
        case "count" | "ratio":
            return PLAIN
        case "date":
            return Dates()
        case "yes/no" | "truth":
            return YES_OR_NO
        case "word":
            return OneWord(frozenset(fact.words or ()))
        case "list of words":
            return ManyWords(frozenset(fact.words or ()))
        case "name" | "text":
            return Names(free=fact.type == "text")
        case "place":
            return Places()
        case "list of name" | "list of text":
            return Several(Names(free=fact.type == "list of text"))
        case "list of place":
            return Several(Places())
        case "list of quantity":
            return Several(Figures(fact.dimension or RATIO))
        case "thing" | "reference":
            return OneThing(kinds)
        case "list of things" | "path" | "list of reference":
            return Several(OneThing(kinds))


def figure_type(dimension: Dimension | None, text: str) -> Type:
    """What a figure in a rule gives: a date has no dimension; a length of time says by its unit how it is
    reckoned.
    """
    if dimension is None:
        return Dates()
    if dimension.time == 0:
        return Figures(dimension)
    return Figures(dimension, "calendar" if _CALENDAR.search(text) else "days")


def in_words(kind: Type) -> str:
    """A type with its article, as a rigger would call it.

    >>> in_words(Several(Dates()))
    'several dates'
    """
    match kind:
        case Figures(dimension):
            return kind_of(dimension)
        case Dates():
            return "a date"
        case OneWord():
            return "yes or no" if kind == YES_OR_NO else "a word of a list"
        case ManyWords():
            return "a list of words"
        case Names(free):
            return "free text" if free else "a name"
        case Places():
            return "a place along a batten"
        case Claims():
            return "a claim that holds or does not"
        case OneThing(kinds):
            return with_article(next(iter(kinds))) if len(kinds) == 1 else "a thing"
        case Several(of):
            return "several " + _plural(of)
        case Mistaken():
            return "a mistake"


def with_article(kind: str) -> str:
    """A kind or class of things with its article.

    >>> with_article("trim_chain"), with_article("arbor")
    ('a trim chain', 'an arbor')
    """
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind.replace('_', ' ')}"


def _plural(kind: Type) -> str:
    match kind:
        case Figures(dimension):
            return "plain numbers" if dimension == RATIO else f"figures, each {kind_of(dimension)}"
        case Dates():
            return "dates"
        case OneWord() | ManyWords():
            return "words"
        case Names():
            return "names"
        case Places():
            return "places"
        case OneThing(kinds):
            return f"{next(iter(kinds)).replace('_', ' ')}s" if len(kinds) == 1 else "things"
        case _:
            return "of them"
