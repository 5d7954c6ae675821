"""What is written about a thing, in layers: its own lines above those of the typical thing that it is like.

Whatever stands in a layer hides the same fact in the layers under it. Exceptions of a lift-line template
are a layer above `each`.
"""

from dataclasses import dataclass
from typing import NamedTuple

from plumbtrue.documents.nodes import Mapping, Node, Scalar
from plumbtrue.documents.place import Place
from plumbtrue.rig.vocabulary import Kind


@dataclass(frozen=True, slots=True)
class Loan:
    """That something stands in a typical thing: its name, and where it took effect."""

    name: str
    used: Place


class Layer(NamedTuple):
    """Keys and values about one thing, and the typical thing that they stand in, if they do."""

    node: Mapping
    loan: Loan | None


@dataclass(frozen=True, slots=True)
class Sketch:
    """A thing before it is read: its kind and its layers, the uppermost first."""

    kind: Kind
    layers: tuple[Layer, ...]
    place: Place
    key: Scalar | None = None
    """Its key where a short form gives one, such as `bolts: {base: …}`."""


@dataclass(frozen=True, slots=True)
class Unidentified:
    """Something that nobody has identified: `- unknown` in a list."""

    node: Node


def mapping(place: Place, *entries: tuple[Scalar, Node]) -> Mapping:
    """A mapping that a short form stands for."""
    return Mapping(tuple(entries), place)


def key_at(text: str, node: Node) -> Scalar:
    """A key that a short form leaves out, placed where its value is written."""
    return Scalar(text, node.place, used=node.used)
