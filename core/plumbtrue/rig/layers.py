"""What is written about a thing, in layers: its own lines above those of the typical thing that it is like.

Whatever stands in a layer hides the same fact in the layers under it. Exceptions of a lift-line template
are a layer above `each`.
"""

from typing import NamedTuple

from plumbtrue.documents.nodes import Mapping, Node, Scalar
from plumbtrue.documents.place import Place
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Fact, Kind


@unchanging
class Loan:
    """That something stands elsewhere: in a typical thing, or at the anchor of an alias; and where it took
    effect.
    """

    name: str | None
    """Of the typical thing; nothing for an alias, which is the writer's own words put in two places."""
    used: Place

    @property
    def is_drawing(self) -> bool:
        return self.name is not None


class Layer(NamedTuple):
    """Keys and values about one thing, and the typical thing that they stand in, if they do."""

    node: Mapping
    loan: Loan | None


class Head(NamedTuple):
    """What a mapping says about itself beside facts: what it is like, its kind, its key."""

    like: Node | None = None
    part: Node | None = None
    kind: Node | None = None
    key: Node | None = None


class Heads:
    """Heads of mappings, each gathered in one pass and kept: the same mapping is read for many lines."""

    def __init__(self) -> None:
        self._kept: dict[int, tuple[Mapping, Head]] = {}

    def of(self, node: Mapping) -> Head:
        """The head of a mapping."""
        kept = self._kept.get(id(node))
        if kept is None:
            said = {key.text: value for key, value in node.entries if key.text in Head._fields}
            # The node is kept with it: an id means something only as long as the node is there.
            kept = self._kept[id(node)] = (node, Head(**said))
        return kept[1]


@unchanging
class Sketch:
    """A thing before it is read: its kind and its layers, the uppermost first."""

    kind: Kind
    layers: tuple[Layer, ...]
    place: Place
    key: Scalar | None = None
    """Its key where a short form gives one, such as `bolts: {base: …}`."""
    loan: Loan | None = None
    """The loan that its place came through, if it stands in a typical thing or at an anchor."""


@unchanging
class Written:
    """One fact of a thing as it stands in one layer."""

    key: Scalar
    node: Node
    loan: Loan | None


@unchanging
class Slot:
    """Where a thing is to stand: the fact that holds it, the thing that has that fact, and the loan, if any,
    that what is written there came through.
    """

    fact: Fact
    user: Thing | None
    loan: Loan | None

    def through(self, loan: Loan | None) -> "Slot":
        """The same slot, for what came through a loan."""
        return self if loan is self.loan else Slot(self.fact, self.user, loan)


@unchanging
class Unidentified:
    """Something that nobody has identified: `- unknown` in a list."""

    node: Node


def mapping(place: Place, *entries: tuple[Scalar, Node]) -> Mapping:
    """A mapping that a short form stands for."""
    return Mapping(tuple(entries), place)


def key_at(text: str, node: Node) -> Scalar:
    """A key that a short form leaves out, placed where its value is written."""
    return Scalar(text, node.place, used=node.used)


Entry = Sketch | Unidentified
"""What stands in a list or path before it is read."""
