"""Text to nodes, from the events of ruamel.yaml's C parser.

Knows nothing of files, includes or what a document means.

The library's own composer hands out one node for an anchor and all its aliases, with the anchor's place
alone. Building from the events keeps both places, and counts what aliases stand for without writing them out.
"""

import gc
import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any, TypeGuard

from ruamel.yaml.cyaml import CParser  # type: ignore[attr-defined]  # its stub exports nothing
from ruamel.yaml.error import YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
    StreamEndEvent,
)

from plumbtrue.documents.decoding import lines_of, place_at
from plumbtrue.documents.limits import Limits
from plumbtrue.documents.nearest_word import nearest
from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence
from plumbtrue.documents.place import Place, Problem
from plumbtrue.documents.syntax_errors import in_quotes, syntax_problem
from plumbtrue.quantities.unchanging import unchanging

# Anchor and tag may stand before a value in either order, with spaces, line breaks and comments between.
_PROPERTIES = re.compile(r"(?:(?:!<[^>\s]*>|[&!][^\s,\[\]{}]*)(?:\s|#[^\r\n]*)*)+")
_TAG = re.compile(r"(?<!\S)!\S*")
_TO_LINE_END = re.compile(r"[^\r\n]*")
# A number, or a mark of few capitals: nobody begins a comment so, and `#checked` is one.
_NUMBER_AFTER_SPACE = re.compile(r"(?<=\S)[ \t]+#(?=\d|[A-Z]{1,2}\d*(?![^\s,\]}]))", re.MULTILINE)
_WITH_NUMBER = re.compile(r"#[^\s,\]}]+")
_CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]")


@unchanging
class Tree:
    """What a text holds. The node is nothing when the text is empty or reading had to stop."""

    node: Node | None
    size: int
    """Keys, values, lists and mappings, counted with every alias written out."""
    problems: tuple[Problem, ...]
    stopped: Problem | None = None
    """Where the parser could not go on, and why."""


def tree_of(text: str, file: str, limits: Limits) -> Tree:
    """The one document in a text as nodes, and every problem found on the way, in file order.

    `text` holds only characters that YAML permits, as `decoding.text_of` gives it.
    """
    # Nothing built here forms a cycle, and the collector's walks over half-built trees cost time.
    collecting = gc.isenabled()
    gc.disable()
    try:
        return _Builder(text, file, limits).document()
    finally:
        if collecting:
            gc.enable()


class _StopReading(Exception):  # noqa: N818 (no error of ours: it is already noted)
    """Going on would only repeat what was said; the problem is already noted."""


@unchanging
class _Anchored:
    """A node that aliases may name, with its size and height once every alias in it is written out."""

    node: Node
    size: int
    height: int


class _Builder:
    """One pass over the events. `count` and `deepest` speak of the document with every alias written out."""

    def __init__(self, text: str, file: str, limits: Limits) -> None:
        self.text = text
        self.file = file
        self.limits = limits
        self.problems: list[Problem] = []
        self.anchors: dict[str, _Anchored | None] = {}
        """By name; nothing while the anchored node is still being read."""
        self.anchor_places: dict[str, Place] = {}
        self.numbers_lost = _numbers_after_text(text)
        self.unfinished: list[Place] = []
        """Where the lists and mappings begin in which the parser had to stop, the innermost first."""
        self.aliases = 0
        self.count = 0
        self.deepest = 0
        self.next_event: Callable[[], Any] = CParser(text).get_event

    def document(self) -> Tree:
        node: Node | None = None
        stopped: Problem | None = None
        try:
            node = self._only_document()
        except YAMLError as error:
            stopped = syntax_problem(error, self.text, self.file, self.unfinished)
        except _StopReading:
            pass
        return Tree(
            node, self.count, tuple(sorted(self.problems, key=lambda problem: problem.where)), stopped
        )

    def _only_document(self) -> Node | None:
        node: Node | None = None
        documents = 0
        while not isinstance(event := self.next_event(), StreamEndEvent):
            if isinstance(event, DocumentStartEvent):
                documents += 1
                if documents == 2:
                    self._note(
                        "documents-several",
                        self._place(event),
                        "a second document begins in the same file",
                        "put it in a file of its own, or delete the ---",
                        length=3,
                    )
                    return node
            elif isinstance(event, AliasEvent | ScalarEvent | MappingStartEvent | SequenceStartEvent):
                node = self._node(event, 1)
        return node

    def _note(
        self,
        slug: str,
        where: Place,
        what: str,
        instead: str,
        *,
        length: int = 1,
        used_by: tuple[str, ...] = (),
    ) -> None:
        self.problems.append(Problem(slug, where, what, instead, length, used_by))
        if len(self.problems) >= self.limits.problems:
            raise _StopReading

    def _node(self, event: Any, depth: int) -> Node:
        self.count += 1
        if self.count > self.limits.nodes:
            self._too_many_nodes(event)
        if event.__class__ is AliasEvent:
            return self._alias(event, depth)
        if event.anchor is not None:
            return self._anchored_node(event, depth)
        return self._scalar(event) if event.__class__ is ScalarEvent else self._plain_node(event, depth)

    def _plain_node(self, event: Any, depth: int) -> Node:
        if event.__class__ is ScalarEvent:
            return self._scalar(event)
        if depth > self.limits.depth:
            self._too_deep(self._place(event))
        if depth > self.deepest:
            self.deepest = depth
        if event.ctag is not None:
            self._refuse_tag(event)
        try:
            return (
                self._mapping(event, depth)
                if event.__class__ is MappingStartEvent
                else self._sequence(event, depth)
            )
        except YAMLError:
            self.unfinished.append(self._place(event))
            raise

    def _anchored_node(self, event: Any, depth: int) -> Node:
        name, where = event.anchor, self._place(event)
        if name in self.anchors:
            self._note(
                "anchor-twice",
                where,
                f"the anchor &{name} stands twice, so an alias *{name} could mean either",
                "give the second one another name",
                length=len(name) + 1,
                used_by=(f"first at {self.anchor_places[name]}",),
            )
        self.anchors[name], self.anchor_places[name] = None, where
        before, deepest_before = self.count - 1, self.deepest
        self.deepest = depth - 1
        node = self._plain_node(event, depth)
        self.anchors[name] = _Anchored(node, self.count - before, self.deepest - depth + 1)
        self.deepest = max(self.deepest, deepest_before)
        return node

    def _alias(self, event: Any, depth: int) -> Node:
        name, where = event.anchor, self._place(event)
        self.aliases += 1
        if self.aliases > self.limits.aliases:
            self._note(
                "alias-limit",
                where,
                f"the file holds more than {self.limits.aliases:,} aliases",
                "write parts out with like: instead",
            )
            raise _StopReading
        anchored = self.anchors.get(name)
        if anchored is None:
            self._no_such_anchor(name, where)
            return Scalar("", where, quoted=True)
        self.count += anchored.size - 1
        if self.count > self.limits.nodes:
            self._too_many_nodes(event)
        if depth + anchored.height - 1 > self.limits.depth:
            self._too_deep(where)
        self.deepest = max(self.deepest, depth + anchored.height - 1)
        return replace(anchored.node, used=where)

    def _no_such_anchor(self, name: str, where: Place) -> None:
        if name in self.anchors:
            self._note(
                "alias-of-itself",
                where,
                f"*{name} stands inside &{name}, so it would hold itself without end",
                "write out what is meant here",
                length=len(name) + 1,
                used_by=(f"&{name} stands at {self.anchor_places[name]}",),
            )
            return
        near = nearest(name, self.anchors)
        self._note(
            "alias-unknown",
            where,
            f"*{name} names an anchor that does not stand above it",
            f"did you mean *{near}?"
            if near
            else f"write &{name} before the part that is meant, or quotes round a text that begins with *",
            length=len(name) + 1,
        )

    def _scalar(self, event: Any) -> Scalar:
        start, end, style = event.start_mark, event.end_mark, event.style
        if event.ctag is not None:
            self._refuse_tag(event)
        if event.anchor is not None or event.ctag is not None:
            place, length = self._past_properties(event)
        else:
            line, column = start.line, start.column
            place = Place(self.file, line + 1, column + 1)
            length = end.column - column if end.line == line else self._rest_of_line(start.index)
        if style == '"' and _CONTROL.search(event.value):
            self._refuse_control(place, event.value, length)
        elif self.numbers_lost and not style:
            self._look_for_lost_number(event.value, end.line, end.column)
        return Scalar(event.value, place, bool(style), None, length or 1)

    def _look_for_lost_number(self, text: str, line: int, column: int) -> None:
        """A text such as `Border #3` ends before its number, for the parser takes that as a comment."""
        hash_column = self.numbers_lost.get((line, column))
        if hash_column is not None:
            lost = _WITH_NUMBER.match(lines_of(self.text)[line], hash_column)
            meant = in_quotes(f"{text} {lost[0] if lost else '#'}")
            self._note(
                "number-lost",
                Place(self.file, line + 1, hash_column + 1),
                "# after a space begins a comment, so the number behind it is not read",
                f"write {meant} in quotes, or put a space after # where a comment is meant",
            )

    def _sequence(self, event: Any, depth: int) -> Sequence:
        items = []
        while (inner := self.next_event()).__class__ is not SequenceEndEvent:
            items.append(self._node(inner, depth + 1))
        return Sequence(tuple(items), self._value_place(event))

    def _mapping(self, event: Any, depth: int) -> Mapping:
        entries: dict[str, tuple[Scalar, Node]] = {}
        while (inner := self.next_event()).__class__ is not MappingEndEvent:
            key = self._node(inner, depth + 1)
            if self._is_usable_key(key, entries):
                entries[key.text] = (key, self._node(self.next_event(), depth + 1))
            else:
                self._node(self.next_event(), depth + 1)  # It may hold more to tell.
        return Mapping(tuple(entries.values()), self._value_place(event))

    def _is_usable_key(self, key: Node, entries: dict[str, tuple[Scalar, Node]]) -> TypeGuard[Scalar]:
        if not isinstance(key, Scalar) or key.used is not None:
            self._note(
                "key-not-text",
                key.used or key.place,
                "a key is a text, never a list, a mapping or an alias",
                "write key: value",
            )
            return False
        if key.text == "<<" and not key.quoted:
            self._note(
                "merge-key",
                key.place,
                "merging with << is not used here",
                "name the shared part under typical: and write like: with its name",
                length=2,
            )
            return False
        if not key.text:
            self._note(
                "key-empty", key.place, "nothing is written before this colon", "write the key before it"
            )
            return False
        if key.text in entries:
            first = entries[key.text][0]
            self._note(
                "key-twice",
                key.place,
                f"{key.text} is written twice in one thing",
                "delete one of the two, or rename it",
                length=key.length,
                used_by=(f"first written at {first.place}",),
            )
            return False
        return True

    def _refuse_tag(self, event: Any) -> None:
        where, length = self._tag_place(event)
        self._note(
            "tag-refused",
            where,
            "a word that begins with ! is a tag, which is not used here",
            "delete it, or put quotes round a text that begins with !",
            length=length,
        )

    def _refuse_control(self, place: Place, text: str, length: int) -> None:
        found = _CONTROL.search(text)
        assert found is not None
        self._note(
            "control-character",
            place,
            f"the text spells out a character that cannot be seen (U+{ord(found[0]):04X})",
            "leave it out",
            length=length,
        )

    def _too_deep(self, where: Place) -> None:
        self._note(
            "depth-limit",
            where,
            f"more than {self.limits.depth} lists and mappings stand inside one another",
            "check for a bracket or an alias too many; no house is that deep",
        )
        raise _StopReading

    def _too_many_nodes(self, event: Any) -> None:
        self._note(
            "node-limit",
            self._place(event),
            f"with every alias written out, the file holds more than {self.limits.nodes:,} keys and values",
            "divide the file, and let no alias stand for parts that are full of aliases",
        )
        raise _StopReading

    def _place(self, event: Any) -> Place:
        return Place(self.file, event.start_mark.line + 1, event.start_mark.column + 1)

    def _value_place(self, event: Any) -> Place:
        """The place of the first character of a value, past anchor and tag."""
        if event.anchor is None and event.ctag is None:
            return self._place(event)
        return self._past_properties(event)[0]

    def _past_properties(self, event: Any) -> tuple[Place, int]:
        """Where the value begins that stands after an anchor or a tag, and how long it is on that line."""
        properties = _PROPERTIES.match(self.text, event.start_mark.index)
        begins = properties.end() if properties else event.start_mark.index
        if event.__class__ is ScalarEvent:
            begins = min(begins, event.end_mark.index)
        length = min(event.end_mark.index - begins, self._rest_of_line(begins))
        return place_at(self.text, begins, self.file), length

    def _tag_place(self, event: Any) -> tuple[Place, int]:
        """Where the tag itself stands, which may come after an anchor, and how long it is."""
        properties = _PROPERTIES.match(self.text, event.start_mark.index)
        tag = _TAG.search(properties[0]) if properties else None
        begins = event.start_mark.index + (tag.start() if tag else 0)
        return place_at(self.text, begins, self.file), len(tag[0]) if tag else 1

    def _rest_of_line(self, begins: int) -> int:
        end = _TO_LINE_END.match(self.text, begins)
        return end.end() - begins if end else 1


def _numbers_after_text(text: str) -> dict[tuple[int, int], int]:
    """By line and column (from 0) where a text may end, the column of a `#` that a number follows.

    Mostly there is none.
    """
    if not _NUMBER_AFTER_SPACE.search(text):
        return {}
    return {
        (number, found.start()): found.end() - 1
        for number, line in enumerate(lines_of(text))
        for found in _NUMBER_AFTER_SPACE.finditer(line)
    }
