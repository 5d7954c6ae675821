"""The tree of a document: scalars, sequences and mappings, each with the place where it was written.

A node reached through an alias keeps the place of its anchor and gains `used`, the place of the alias.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from plumbtrue.documents.place import Place


@dataclass(frozen=True, slots=True)
class Scalar:
    """Text as written; `quoted` when it stood in quotes. Numbers and dates stay text: `012` is a name, `1.10` an edition."""

    text: str
    place: Place
    quoted: bool = False
    used: Place | None = None


@dataclass(frozen=True, slots=True)
class Sequence:
    """A list."""

    items: tuple["Node", ...]
    place: Place
    used: Place | None = None

    def __iter__(self) -> Iterator["Node"]:
        return iter(self.items)


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys and values in the order written; keys are unique (the reader refuses duplicates)."""

    entries: tuple[tuple[Scalar, "Node"], ...]
    place: Place
    used: Place | None = None

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
