"""`seen:` blocks: who looked, when and how, for everything written on a thing and below it."""

from collections.abc import Mapping as Map

from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.reading import read_date
from plumbtrue.quantities.unreadable import Unreadable
from plumbtrue.rig.complaints import Complaints, did_you_mean, listed, shown
from plumbtrue.rig.thing import Seen

KEYS = ("by", "on", "how", "in_order", "tested", "not_seen", "photos")
HOW = ("from-afar", "by-eye", "by-hand", "with-tools", "told", "paper")


class SeenBlocks:
    """Reads `seen:` blocks, and knows the inspections of the house, which a block may name."""

    def __init__(self, complaints: Complaints) -> None:
        self.complaints = complaints
        self.inspections: dict[str, Seen] = {}
        self._read: dict[int, Seen | None] = {}
        self._kept: list[Node] = []

    def know_inspections(self, node: Node | None) -> None:
        """Take in a list of inspections, so that blocks may name them."""
        for item in node.items if isinstance(node, Sequence) else ():
            key = item.get("key") if isinstance(item, Mapping) else None
            if isinstance(item, Mapping) and isinstance(key, Scalar):
                silent = Complaints()  # What is wrong with an inspection is told where it is read as a thing.
                self.inspections[key.text] = _block(item, silent, key.text)

    def read(self, node: Node) -> Seen | None:
        """A block, or nothing with the problem told."""
        known = self._read.get(id(node), self)
        if known is self:
            known = self._read[id(node)] = self._fresh(node)
            self._kept.append(node)
        assert known is None or isinstance(known, Seen)
        return known

    def _fresh(self, node: Node) -> Seen | None:
        if isinstance(node, Mapping):
            return _block(node, self.complaints, None, check_keys=True)
        if isinstance(node, Scalar) and node.text:
            seen = self.inspections.get(node.text)
            if seen is None:
                known = list(self.inspections)
                self.complaints.say(
                    node,
                    "inspection-unknown",
                    f"no inspection of this house has the key {shown(node)}",
                    did_you_mean(
                        node.text,
                        known,
                        f"write one of {listed(known)}" if known else "write seen: {by: …, on: …, how: …}",
                    ),
                )
            return seen
        self.complaints.say(
            node,
            "seen-wrong",
            "seen: says who looked, when and how",
            "write seen: {by: head of flys, on: 2026-02-10, how: by-hand}",
        )
        return None


def _block(node: Mapping, complaints: Complaints, key: str | None, *, check_keys: bool = False) -> Seen:
    written: dict[str, Node] = {}
    for name, value in node:
        written[name.text] = value
        if check_keys and name.text not in KEYS:
            complaints.say(name, "seen-key", f"seen: has no {name.text}", did_you_mean(name.text, KEYS))
    on = _text(written, "on", complaints)
    return Seen(
        by=_text(written, "by", complaints),
        on=on,
        how=_how(written.get("how"), complaints),
        in_order=_yes(written.get("in_order"), "in_order", complaints) or False,
        tested=_yes(written.get("tested"), "tested", complaints) or False,
        not_seen=frozenset(_texts(written.get("not_seen"), complaints)),
        place=node.place,
        key=key,
        when=_date(written.get("on"), complaints),
        says_in_order="in_order" in written,
    )


def _text(written: Map[str, Node], name: str, complaints: Complaints) -> str | None:
    node = written.get(name)
    if node is None:
        return None
    if isinstance(node, Scalar) and node.text:
        return node.text
    complaints.say(
        node, "seen-wrong", f"{name}: in seen: takes a text", f"write {name}: and who, when or how"
    )
    return None


def _how(node: Node | None, complaints: Complaints) -> str | None:
    if node is None:
        return None
    if isinstance(node, Scalar) and node.text in HOW:
        return node.text
    complaints.say(
        node,
        "word-not-permitted",
        f"how cannot be {shown(node)}",
        did_you_mean(shown(node), HOW, f"write one of {listed(HOW)}"),
    )
    return None


def _yes(node: Node | None, name: str, complaints: Complaints) -> bool | None:
    if node is None:
        return None
    if isinstance(node, Scalar) and node.text in ("yes", "no"):
        return node.text == "yes"
    complaints.say(node, "yes-or-no", f"{name} is yes or no, not {shown(node)}", "write yes or no")
    return None


def _texts(node: Node | None, complaints: Complaints) -> tuple[str, ...]:
    if node is None or (isinstance(node, Scalar) and node.text == "none" and not node.quoted):
        return ()
    items = node.items if isinstance(node, Sequence) else (node,)
    for item in items:
        if not isinstance(item, Scalar):
            complaints.say(item, "seen-wrong", "this list takes names", "write not_seen: [head_block]")
    return tuple(item.text for item in items if isinstance(item, Scalar))


def _date(node: Node | None, complaints: Complaints) -> Bounds | None:
    if not isinstance(node, Scalar) or not node.text or node.text == "unknown":
        return None
    found = read_date(node.text)
    if isinstance(found, Unreadable):
        complaints.say(node, found.slug, f"on: {found.what}", f"write {found.instead}")
        return None
    return found
