"""Reading a mapping key by key: what is missing, misplaced or misspelt becomes a problem at the place where
it stands.

The documents of a pack and waivers are small and fixed, so they are read straight into values instead of
being validated first and read afterwards. The JSON Schemas in `schemas/` say the same for editors; a test
holds the two together.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from typing import Final

from plumbtrue.documents.nearest_word import nearest
from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence
from plumbtrue.documents.place import Place, Problem

MOST_OFFERED: Final = 12
"""Words that are offered instead of one that nothing is near to."""

_AS_WRITTEN: Final = {
    "a pack": {"plumbtrue": "pack/1", "name": "our-house", "title": "and a title, as of a book"},
    "a file of waivers": {"plumbtrue": "waivers/1"},
    "a waiver": {
        "reason": "and why it can wait",
        "state": 'as `plumbtrue explain "RULE @ THING" --house HOUSE` prints it',
    },
    "an adjustment": {"reason": "and why"},
    "a rule": {"title": "and what it asks, as a sentence"},
}
"""What is shown for a key that is missing, by what needs it."""

_ANYWHERE: Final = {
    "about": "line-set",
    "accepted_by": "and who answers for it, such as technical director",
    "covers": "[what its rules judge]",
    "decided_by": "and by whom, such as technical director",
    "decided_on": "and the day, such as 2026-02-13",
    "edition": '"2026-02-13"',
    "finding": '"The batten comes in to {low_trim}."',
    "language": "1",
    "leaves_out": "[what they leave to others]",
    "meanwhile": "and what is done until then",
    "reason": "and why",
    "remedy": "and what to do",
    "require": "low_trim <= 4 ft",
    "rule": "keeper-bolt-missing",
    "severity": "before-next-use",
    "source": "common-practice, or [{work: …, clause: …}]",
    "thing": "14 / line 3 / rope",
    "until": "and the last day, such as 2026-09-11",
}


@dataclass(slots=True)
class Form:
    """One mapping while it is read. Every key that is asked for counts as understood; `finish` names the
    others.
    """

    node: Mapping
    what: str
    """What the mapping describes, with its article, for messages: `a rule`, `a table`."""
    problems: list[Problem]
    known: list[str] = field(default_factory=list)

    @property
    def place(self) -> Place:
        return self.node.place

    def node_of(self, key: str, *, wanted: bool = False) -> Node | None:
        """The value of a key, whatever it is; an empty one counts as not written."""
        self.known.append(key)
        node = self.node.get(key)
        if isinstance(node, Scalar) and not node.text and not node.quoted:
            node = None
        if node is None and wanted:
            self.problem("key-missing", self.node.place, f"{self.what} needs {key}", self.as_written(key))
        return node

    def scalar(self, key: str, *, wanted: bool = False) -> Scalar | None:
        """A text of one line or several."""
        node = self.node_of(key, wanted=wanted)
        if node is None or isinstance(node, Scalar):
            return node
        self.problem(
            "value-of-wrong-form", node.place, f"{key} of {self.what} is one text", f"write {key}: and a text"
        )
        return None

    def text(self, key: str, *, wanted: bool = False) -> str:
        """A text, or an empty one where it is missing."""
        scalar = self.scalar(key, wanted=wanted)
        return "" if scalar is None else scalar.text.strip()

    def word(self, key: str, permitted: Iterable[str], *, wanted: bool = False) -> str | None:
        """One word of a closed list."""
        scalar = self.scalar(key, wanted=wanted)
        if scalar is None:
            return None
        words = tuple(permitted)
        if scalar.text in words:
            return scalar.text
        self.problem(
            "word-not-permitted",
            scalar.place,
            f"{key} of {self.what} is not {scalar.text}",
            suggestion(scalar.text, words),
            length=len(scalar.text),
        )
        return None

    def date(self, key: str, *, wanted: bool = False) -> date | None:
        """A day written as 2026-02-13; nothing else is taken, since a misread date keeps an acceptance in
        force.
        """
        scalar = self.scalar(key, wanted=wanted)
        if scalar is None:
            return None
        try:
            if len(scalar.text) != len("2026-02-13"):
                raise ValueError
            return date.fromisoformat(scalar.text)
        except ValueError:
            self.problem(
                "date-wanted",
                scalar.place,
                f"{key} of {self.what} is a day, not {scalar.text}",
                "write year, month and day, such as 2026-02-13",
                length=len(scalar.text),
            )
            return None

    def mapping(self, key: str, *, wanted: bool = False) -> Mapping | None:
        """Keys and values."""
        node = self.node_of(key, wanted=wanted)
        if node is None or isinstance(node, Mapping):
            return node
        self.problem(
            "value-of-wrong-form",
            node.place,
            f"{key} of {self.what} is a map",
            f"write {key}: {{name: value}}",
        )
        return None

    def items(self, key: str, *, wanted: bool = False) -> tuple[Node, ...]:
        """The items of a list; one that stands alone is a list of one."""
        node = self.node_of(key, wanted=wanted)
        if node is None:
            return ()
        return node.items if isinstance(node, Sequence) else (node,)

    def scalars(self, key: str, *, wanted: bool = False) -> tuple[Scalar, ...]:
        """A list of texts."""
        texts: list[Scalar] = []
        for item in self.items(key, wanted=wanted):
            if isinstance(item, Scalar):
                texts.append(item)
            else:
                self.problem(
                    "value-of-wrong-form",
                    item.place,
                    f"{key} of {self.what} is a list of texts",
                    "write - and a text on each line",
                )
        return tuple(texts)

    def problem(self, slug: str, where: Place, what: str, instead: str = "", *, length: int = 1) -> None:
        """Note a problem."""
        self.problems.append(Problem(slug, where, what, instead, length))

    def as_written(self, key: str) -> str:
        """How a key that is missing would be written here."""
        sort = "a rule" if self.what.startswith("the rule ") else self.what
        shown = _AS_WRITTEN.get(sort, {}).get(key) or _ANYWHERE.get(key, "and what it is")
        return f"write {key}: {shown}"

    def finish(self) -> None:
        """Name every key that nobody asked for."""
        for key, _ in self.node:
            if key.text not in self.known:
                self.problem(
                    "key-unknown",
                    key.place,
                    f"{self.what} has no {key.text}",
                    suggestion(key.text, self.known),
                    length=len(key.text),
                )


def suggestion(word: str, permitted: Iterable[str]) -> str:
    """What to write instead of a word that is not in a list: the nearest, or the whole list."""
    words = tuple(dict.fromkeys(permitted))
    near = nearest(word, words)
    if near is not None:
        return f"did you mean {near}?"
    more = f" or another of {len(words)}" if len(words) > MOST_OFFERED else ""
    return f"write one of {', '.join(words[:MOST_OFFERED])}{more}" if words else ""
