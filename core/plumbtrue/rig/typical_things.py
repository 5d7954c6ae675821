"""Typical things: drawn once under `typical:`, named wherever they are used.

A typical thing says what a thing is, never in what state it is: a drawing has seen nothing. It is either
one thing (a mapping with its kind) or a whole path (a list of parts).
"""

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import Final, NamedTuple, TypeVar

from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence
from plumbtrue.documents.place import Place, Problem
from plumbtrue.rig.complaints import Complaints, did_you_mean, listed
from plumbtrue.rig.layers import Entry, Heads, Layer, Loan
from plumbtrue.rig.offering import drawn_offered
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Kind, Vocabulary

_T = TypeVar("_T")


MOST_THINGS: Final = 200_000
"""Most things that are read of a short document. A house of a hundred sets holds some 7,000."""
THINGS_A_CHARACTER: Final = 0.25
"""A long document may hold more: so many for each character in it. A house that writes its sets out holds a thing
for every twelve characters or so."""


class TooManyThings(Exception):  # noqa: N818 (no error of ours: the problem is already noted)
    """Going on would take for ever: typical things made of one another stand for too many parts."""


class Lent(NamedTuple):
    """What a typical thing lends: its layers, and its kind where it says one (a thing of the same list need
    not).
    """

    kind: Kind | None
    layers: tuple[Layer, ...]


class Wanted(NamedTuple):
    """What is wanted where a typical thing is named: kinds, the one kind if there is only one, and what could
    be written in its stead.
    """

    kinds: frozenset[str]
    kind: Kind | None
    offer: str


class TypicalThings:
    """The typical things of one document, by name."""

    def __init__(self, vocabulary: Vocabulary, complaints: Complaints) -> None:
        self.vocabulary = vocabulary
        self.complaints = complaints
        self.heads = Heads()
        self.nodes: dict[str, Node] = {}
        self.siblings: list[dict[str, Mapping] | None] = []
        """Things of the list that is being read, by key, where one may be like another."""
        self._open: list[str] = []
        self._counted = 0
        self._most = MOST_THINGS
        self._loans: dict[tuple[str | None, Place], Loan] = {}

    def take_in(self, node: Node | None, characters: int = 0) -> None:
        """Know what stands under `typical:`, in a document of so many characters."""
        self._most = max(MOST_THINGS, int(THINGS_A_CHARACTER * characters))
        if node is None:
            return
        if not isinstance(node, Mapping):
            self.complaints.say(
                node,
                "typical-wrong",
                "typical: takes names, each with what it stands for",
                "write typical: {gac: {kind: rope, …}}",
            )
            return
        for name, value in node:
            if isinstance(value, Mapping | Sequence):
                self.nodes[name.text] = value
            else:
                self.complaints.say(
                    value,
                    "typical-wrong",
                    f"{name.text} takes a thing or a list of parts",
                    f"write {name.text}: {{kind: rope, …}}",
                )

    def count(self, where: Place) -> None:
        """Count one more thing that the document stands for.

        Raises:
            TooManyThings: with the problem told.
        """
        self._counted += 1
        if self._counted > self._most:
            what = f"with every typical thing written out, this stands for more than {self._most:,} things"
            self.complaints.add(Problem("like-limit", where, what, "let typical things name fewer others"))
            raise TooManyThings

    def has(self, name: str) -> bool:
        """Whether there is a typical thing or path of that name."""
        return name in self.nodes

    def is_path(self, name: str) -> bool:
        """Whether the name stands for a path."""
        return isinstance(self.nodes.get(name), Sequence)

    def lend(
        self,
        like: Scalar,
        loan: Loan | None,
        user: Thing | None,
        wanted: "Wanted | None" = None,
        also: Iterable[str] = (),
    ) -> Lent | None:
        """What a name lends, or nothing with the problem told. `also` are words that could have stood there
        instead.
        """
        node = self.nodes.get(like.text) or self._sibling(like.text)
        if node is None:
            self._not_drawn(like, wanted, list(also))
            return None
        if isinstance(node, Sequence):
            self.complaints.say(
                like,
                "like-path",
                f"{like.text} is a path of parts, not one thing",
                "name a typical thing, or use it where a path is wanted",
            )
            return None
        assert isinstance(node, Mapping)
        return self._opened(like, lambda: self._thing_at(node, self._loan(like, loan)), user)

    def _not_drawn(self, like: Scalar, wanted: "Wanted | None", also: list[str]) -> None:
        """Tell that nothing of that name is drawn, and what could have been meant."""
        drawn = {name: one for name, one in self.nodes.items() if isinstance(one, Mapping)}
        kinds = wanted.kinds if wanted is not None else frozenset[str]()
        fitting = [name for name, one in drawn.items() if not kinds or self._may_be(one, kinds)]
        if fitting:
            otherwise = f"write one of {listed(fitting)}"
        else:
            drawn_as = drawn_offered(like.text, wanted.kind if wanted else None)
            otherwise = f"{wanted.offer if wanted else ''}{drawn_as}"
        what = f"there is no {'part and no ' if also else ''}typical thing called {like.text}"
        self.complaints.say(like, "like-unknown", what, did_you_mean(like.text, [*fitting, *also], otherwise))

    def _may_be(self, node: Mapping, kinds: frozenset[str]) -> bool:
        """Whether a typical thing is of one of these kinds, or does not say which of its own."""
        kind = self.kind_of(node)
        return kind is None or kind.name in kinds

    def _thing_at(self, node: Mapping, loan: Loan) -> Lent:
        own = Layer(node, loan)
        like = self.heads.of(node).like
        under: Lent | None = None
        if isinstance(like, Scalar):
            under = self.lend(like, loan, None)
        kind = self.kind_of(node) or (under.kind if under else None)
        return Lent(kind, (own, *(under.layers if under else ())))

    def path(
        self,
        name: Scalar,
        loan: Loan | None,
        user: Thing | None,
        entries: Callable[[Sequence, Loan], list[Entry]],
    ) -> list[Entry]:
        """The parts of a typical path, before they are read."""
        node = self.nodes[name.text]
        assert isinstance(node, Sequence)
        return self._opened(name, lambda: entries(node, self._loan(name, loan)), user) or []

    def _loan(self, like: Scalar, loan: Loan | None) -> Loan:
        return self._one_loan(like.text, loan.used if loan else like.used or like.place)

    def around(self, node: Node, loan: Loan | None) -> Loan | None:
        """The loan of what stands in a node: the one that the node came through, or that of the alias that
        it is.
        """
        return self._one_loan(None, node.used) if loan is None and node.used is not None else loan

    def _one_loan(self, name: str | None, used: Place) -> Loan:
        # One loan for one use: facts that many lines share are read once, and told apart by their loan.
        return self._loans.setdefault((name, used), Loan(name, used))

    @contextmanager
    def opened(self, name: str) -> Iterator[None]:
        """While a typical thing is open, naming it again would go round in a circle."""
        self._open.append(name)
        try:
            yield
        finally:
            self._open.pop()

    def _opened(self, name: Scalar, read: Callable[[], _T], user: Thing | None) -> _T | None:
        if name.text in self._open:
            circle = " is like ".join([*self._open[self._open.index(name.text) :], name.text])
            what = f"{circle}, without end"
            self.complaints.say(name, "like-circle", what, "take one of these names out")
            return None
        if user is not None:
            self.complaints.used(name.text, user, name)
        with self.opened(name.text):
            return read()

    def _sibling(self, name: str) -> Node | None:
        siblings = self.siblings[-1] if self.siblings else None
        return siblings.get(name) if siblings else None

    def kind_of(self, node: Mapping) -> Kind | None:
        """The kind that a mapping names under `kind:` or `part:`, if there is one of that name."""
        head = self.heads.of(node)
        said = head.part or head.kind
        return self.vocabulary.kinds.get(said.text.replace("-", "_")) if isinstance(said, Scalar) else None
