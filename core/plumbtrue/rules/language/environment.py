"""What the evaluators ask of whoever knows the rig, on one day."""

from typing import Protocol

from plumbtrue.documents.place import Place
from plumbtrue.facts.answer import Answer
from plumbtrue.quantities.values import Absent, Unknown
from plumbtrue.rig.thing import Thing


class Environment(Protocol):
    """The facts of a rig as of one day; `plumbtrue.facts.store.Facts` is the one that is used."""

    @property
    def today(self) -> float:
        """The day judged, as `datetime.date.toordinal` counts."""
        ...

    def answer(self, thing: Thing, name: str, /) -> Answer:
        """What is known of a fact of a thing."""
        ...

    def exact(self, thing: Thing, name: str, /) -> object:
        """A fact as a plain value: a float, a word or name, a frozenset of words, None for `none`, a
        thing, or a tuple of these.

        Raises:
            NotExact: it is not exactly known; of a list, that it may be longer than what is in it.
        """
        ...

    def part(self, thing: Thing, name: str, /) -> Thing | tuple[Thing, ...] | Absent | Unknown:
        """What a fact holds or names."""
        ...

    def is_unlisted(self, thing: Thing, name: str, /) -> bool:
        """Whether something stands in a list that nobody has identified, or the list is shorter than
        stated.
        """
        ...


class RuleError(Exception):
    """The rule itself failed: it asked for something that has no answer, such as a division by zero."""

    def __init__(self, what: str, place: Place) -> None:
        super().__init__(f"{place}: {what}")
        self.what = what
        self.place = place
