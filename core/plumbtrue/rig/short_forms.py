"""Short forms that stand for lists of things, written out: weights by kind, bolts by place, all lift lines at
once.

Every node keeps the place where it was written.
"""

from collections.abc import Iterator

from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence
from plumbtrue.rig.complaints import Complaints, did_you_mean, listed
from plumbtrue.rig.layers import Layer, Loan, key_at, mapping
from plumbtrue.rig.vocabulary import Kind

NOT_FACTS = frozenset({"like", "seen", "key", "part", "kind"})


def written_out_weights(node: Mapping) -> Iterator[Mapping]:
    """`{brick-28: 14, brick-14: 1}` as weights with their kind and count; a single one written in full as
    itself.
    """
    if node.get("brick") is not None or node.get("like") is not None:
        yield node
        return
    for name, value in node:
        brick = (key_at("brick", name), name)
        if isinstance(value, Mapping) and value.get("is") is None:
            yield mapping(name.place, brick, *value.entries)
        else:
            yield mapping(name.place, brick, (key_at("count", value), value))


def written_out_bolts(node: Mapping, kind: Kind) -> Iterator[tuple[Scalar | None, Node]]:
    """`{count: 4, grade: …}` as the bolts of one place; `{base: {…}, axle: {…}}` as those of several, each
    with its place.
    """
    several = [
        (name, value) for name, value in node if name.text not in kind.facts and name.text not in NOT_FACTS
    ]
    if (
        not several
        or any(not isinstance(value, Mapping | Scalar) for _, value in several)
        or len(several) < len(node.entries)
    ):
        yield None, node
        return
    if all(isinstance(value, Scalar) and value.text not in ("unknown", "none") for _, value in several):
        yield None, node
        return
    yield from several


def is_template(node: Mapping) -> bool:
    """Whether lift lines are written all at once, by their marks."""
    return node.get("at") is not None or node.get("each") is not None or node.get("except") is not None


class LineTemplate:
    """Lift lines written all at once: `at` (mark to place), `each`, and `except` (lines, and what is
    otherwise there).
    """

    def __init__(self, node: Mapping, loan: Loan | None, complaints: Complaints) -> None:
        self.loan = loan
        self.complaints = complaints
        for key, _ in node:
            if key.text not in ("at", "each", "except"):
                complaints.say(
                    key,
                    "lift-lines-key",
                    f"lift lines written all at once have no {key.text}",
                    did_you_mean(
                        key.text, ["at", "each", "except"], "write it under each: when it is so of every line"
                    ),
                )
        at = node.get("at")
        self.at = at if isinstance(at, Mapping) else None
        if self.at is None:
            complaints.say(
                at or node,
                "lift-lines-marks",
                "lift lines written all at once need the mark and the place of each",
                "write at: {1: 3'-0\", 2: 13'-0\"}",
            )
        each = node.get("each")
        self.each = each if isinstance(each, Mapping) else None
        if each is not None and self.each is None:
            named = isinstance(each, Scalar) and each.text
            instead = f"write each: {{like: {named}}}" if named else "write each: {rope: …, lower: …}"
            complaints.say(each, "lift-lines-each", "each: takes keys and values", instead)
        self.exceptions = tuple(self._exceptions(node.get("except")))

    def lines(self) -> Iterator[tuple[Scalar, tuple[Layer, ...]]]:
        """Each line's mark with its layers, the uppermost first."""
        for mark, place in self.at or ():
            above = [
                Layer(node, self.loan) for marks, node in reversed(self.exceptions) if mark.text in marks
            ]
            own = mapping(mark.place, (key_at("mark", mark), mark), (key_at("at", place), place))
            below = [Layer(self.each, self.loan)] if self.each is not None else []
            yield mark, (*above, Layer(own, self.loan), *below)

    def _exceptions(self, node: Node | None) -> Iterator[tuple[frozenset[str], Mapping]]:
        if node is None:
            return
        if not isinstance(node, Sequence):
            self.complaints.say(
                node, "lift-lines-except", "except: takes a list", "write except: [{lines: [2], …}]"
            )
            return
        for item in node:
            lines = item.get("lines") if isinstance(item, Mapping) else None
            if not isinstance(item, Mapping) or lines is None:
                self.complaints.say(
                    item,
                    "lift-lines-except",
                    "an exception names the lines that it is about",
                    "write lines: [2, 3] in it",
                )
                continue
            marks = frozenset(self._marks(lines))
            yield (
                marks,
                Mapping(
                    tuple(entry for entry in item.entries if entry[0].text != "lines"), item.place, item.used
                ),
            )

    def _marks(self, node: Node) -> Iterator[str]:
        written = [mark.text for mark, _ in self.at or ()]
        for item in node.items if isinstance(node, Sequence) else (node,):
            if not isinstance(item, Scalar):
                self.complaints.say(
                    item, "lift-lines-except", "lines: takes marks of lines", "write lines: [2, 3]"
                )
            elif item.text not in written:
                if self.at is not None:
                    self.complaints.say(
                        item,
                        "line-unknown",
                        f"there is no line {item.text} in at:",
                        f"write one of {listed(written)}",
                    )
            else:
                yield item.text
