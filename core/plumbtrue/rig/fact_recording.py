"""Facts as somebody wrote them: the value, where it stands, who saw it, and what is said beside it."""

from typing import Final, NamedTuple

from plumbtrue.documents.nodes import Mapping, Node, Scalar
from plumbtrue.quantities.values import Value
from plumbtrue.rig.complaints import Complaints, did_you_mean
from plumbtrue.rig.fact_values import read_value
from plumbtrue.rig.layers import Loan, Written
from plumbtrue.rig.node_forms import scalars, value_node
from plumbtrue.rig.seeing import SeenBlocks
from plumbtrue.rig.thing import Origin, Recorded, Seen
from plumbtrue.rig.vocabulary import Fact

LONG_FORM: Final = ("is", "seen", "note", "photo")
"""Keys of a fact in its long form."""

TEXT_LENGTH: Final = 80
"""Longest text of a fact that is kept for print."""


class Beside(NamedTuple):
    """Who saw a fact, and what is said about it."""

    seen: Seen | None
    note: str | None = None
    photos: tuple[str, ...] = ()


class FactRecorder:
    """Records facts. What stands in many things (`each`, `like`) is read once and shared."""

    def __init__(self, complaints: Complaints, seen_blocks: SeenBlocks) -> None:
        self.complaints = complaints
        self.seen_blocks = seen_blocks
        self._recorded: dict[tuple[int, int, int, int], Recorded | None] = {}
        self._kept: list[Node] = []

    def record(self, fact: Fact, written: Written, seen: Seen | None) -> Recorded | None:
        """A fact as somebody wrote it, or nothing with the problem told."""
        node, loan = written.node, written.loan
        key = (id(node), id(fact), id(loan), id(seen))
        if key not in self._recorded:
            self._kept.append(node)  # An id means something only as long as the node is there.
            self._recorded[key] = self._fresh_record(fact, node, loan, seen)
        return self._recorded[key]

    def _fresh_record(self, fact: Fact, node: Node, loan: Loan | None, seen: Seen | None) -> Recorded | None:
        value = read_value(fact, value_node(node), self.complaints)
        beside = self.beside(node, seen)
        return None if value is None else recorded_as(value, value_node(node), loan, beside)

    def beside(self, node: Node, seen: Seen | None) -> Beside:
        """What stands beside a value in the long form of a fact; in its short form nothing does."""
        if not isinstance(node, Mapping) or node.get("is") is None:
            return Beside(seen)
        note: str | None = None
        photos: tuple[str, ...] = ()
        for name, value in node:
            if name.text not in LONG_FORM:
                what = f"a fact in its long form has no {name.text}"
                self.complaints.say(name, "long-form-key", what, did_you_mean(name.text, LONG_FORM))
            elif name.text == "seen":
                seen = self.seen_blocks.read(value)
            elif name.text == "photo":
                photos = tuple(one.text for one in scalars(value))
            elif name.text == "note" and isinstance(value, Scalar):
                note = value.text
            elif name.text == "note":
                self.complaints.say(
                    value, "value-of-wrong-form", "a note is a text", "write note: and the text"
                )
        return Beside(seen, note, photos)


def recorded_as(value: Value, node: Node, loan: Loan | None, beside: Beside) -> Recorded:
    """A value with where it was written and, where it was lent, where it took effect."""
    text, place = _text_of(node), node.place
    if loan is None:
        return Recorded(value, text, place, node.used, "written", None, *beside)
    origin: Origin = "like" if loan.is_drawing else "written"
    return Recorded(value, text, place, loan.used, origin, loan.name, *beside)


def _text_of(node: Node) -> str:
    if isinstance(node, Scalar):
        text = node.text
    else:
        text = ", ".join(scalar.text for scalar in scalars(node))
    return text if len(text) <= TEXT_LENGTH else f"{text[: TEXT_LENGTH - 1]}…"
