"""The tree of a document: scalars, sequences and mappings, each with the place where it was written.

A node reached through an alias keeps the place of its anchor and gains `used`, the place of the alias. A node
that a typical thing lends keeps the place in the typical thing and gains `used` and `like`, it and everything
below it.
"""

from collections.abc import Iterator

from plumbtrue.documents.place import Place, Problem
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class Like:
    """Which typical thing lent a node, and where its name stood.

    `via` is the loan that this one came through.
    """

    name: str
    where: Place
    via: "Like | None" = None

    def __str__(self) -> str:
        return f"like: {self.name}, {self.where}"

    def names(self) -> tuple[str, ...]:
        """The typical things passed through, the outermost first."""
        return (*(self.via.names() if self.via else ()), self.name)


@unchanging
class Scalar:
    """Text as written.

    `quoted` when it stood in quotes. Numbers and dates stay text: `012` is a name, `1.10` an edition.
    """

    text: str
    place: Place
    quoted: bool = False
    used: Place | None = None
    length: int = 1
    """How many characters of its first line it takes up, quotes included: what a caret underlines."""
    like: Like | None = None

    @property
    def is_empty(self) -> bool:
        """Nothing at all is written: `diameter:` and no more. Empty quotes are not empty in this sense."""
        return not self.text and not self.quoted


@unchanging
class Sequence:
    """A list."""

    items: tuple["Node", ...]
    place: Place
    used: Place | None = None
    like: Like | None = None

    def __iter__(self) -> Iterator["Node"]:
        return iter(self.items)


@unchanging
class Mapping:
    """Keys and values in the order written; keys are unique (the reader refuses duplicates)."""

    entries: tuple[tuple[Scalar, "Node"], ...]
    place: Place
    used: Place | None = None
    like: Like | None = None

    def get(self, key: str) -> "Node | None":
        """The value of a key, or nothing."""
        for name, node in self.entries:
            if name.text == key:
                return node
        return None

    def key(self, key: str) -> Scalar | None:
        """The key itself, with the place where it was written."""
        for name, _ in self.entries:
            if name.text == key:
                return name
        return None

    def __iter__(self) -> Iterator[tuple[Scalar, "Node"]]:
        return iter(self.entries)


Node = Scalar | Sequence | Mapping


def problem_with(
    node: Node, slug: str, what: str, instead: str = "", used_by: tuple[str, ...] = ()
) -> Problem:
    """A problem at the place where a node was written, which also says where the node took effect."""
    length = node.length if isinstance(node, Scalar) else 1
    return Problem(slug, node.place, what, instead, length, used_by + how_it_got_there(node))


def how_it_got_there(node: Node) -> tuple[str, ...]:
    """Lines that lead from a node to where it took effect; none when it stands where it was written."""
    if node.used is None:
        return ()
    loan = f" ({node.like})" if node.like else ""
    return (f"used at {node.used}{loan}",)
