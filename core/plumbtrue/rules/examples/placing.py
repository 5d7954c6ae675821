"""Where the thing of an example stands: the enclosing things that its keys name, and everything between
them and the root.

An example says only what matters: `{attachment: wrap, lift_line.rope.diameter: 1/4 in}` is a chain in the
lower end of a lift line, whose rope is a quarter of an inch. A key is a fact of the thing, or a path that
begins with one of its parts or with the kind of something around it. In a list around the thing, `this`
stands for it: `lift_line.lower: [swage-sleeve, this]`. All that is not said stays unknown.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final

from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence, problem_with
from plumbtrue.documents.place import Place, Problem
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.vocabulary import Fact, Kind, Vocabulary
from plumbtrue.rules.packs.form import suggestion

ROOTS: Final = ("house", "plot")
"""Kinds of things that lie in no other."""
THIS: Final = "this"
DEEPEST: Final = 8
"""Things around one another, at most."""


@unchanging
class Holder:
    """A fact of a kind that can hold a thing."""

    kind: str
    fact: str


@dataclass(slots=True)
class Sketch:
    """A thing while it is put together: facts as written, and things in it that are put together too."""

    kind: Kind
    place: Place
    written: dict[str, Node] = field(default_factory=dict)
    single: dict[str, "Sketch"] = field(default_factory=dict)
    lists: dict[str, list["Sketch | Node"]] = field(default_factory=dict)
    references: dict[str, "Sketch"] = field(default_factory=dict)
    names_its_kind: bool = False

    def node(self) -> Mapping:
        """The thing as somebody would have written it in a rig file."""
        entries: list[tuple[Scalar, Node]] = []
        if self.names_its_kind:
            entries.append((self._key("part"), Scalar(self.kind.word, self.place)))
        entries.extend((self._key(name), node) for name, node in self.written.items())
        entries.extend((self._key(name), sketch.node()) for name, sketch in self.single.items())
        for name, several in self.lists.items():
            items = tuple(one.node() if isinstance(one, Sketch) else one for one in several)
            entries.append((self._key(name), Sequence(items, self.place)))
        return Mapping(tuple(entries), self.place)

    def _key(self, name: str) -> Scalar:
        return Scalar(name, self.place)


@unchanging
class Placed:
    """The root of everything around an example's thing, and the way from it to the thing."""

    root: Sketch
    steps: tuple[tuple[str, int], ...]
    """Facts from the root to the thing; the number counts the things of a list that are identified."""
    this: Sketch


def place(
    kind: Kind,
    facts: tuple[tuple[Scalar, Node], ...],
    where: Place,
    vocabulary: Vocabulary,
    problems: list[Problem],
) -> Placed | None:
    """Put together the thing that an example describes, with what lies around it; nothing where a key names
    nothing.
    """
    named = {key.text.split(".")[0] for key, _ in facts} - kind.facts.keys()
    chain = _chain(kind, frozenset(named & (vocabulary.kinds.keys() | vocabulary.classes.keys())), vocabulary)
    if chain is None:
        problems.append(
            Problem(
                "example-place",
                where,
                f"a {kind.word} cannot lie in {' and '.join(sorted(named))}",
                "check the keys",
            )
        )
        return None
    around = [Sketch(vocabulary.kinds[holder.kind], where) for holder in chain]
    this = Sketch(kind, where)
    writer = _Writer(vocabulary, (*around, this), problems)
    for key, node in facts:
        writer.write(key, node)
    return Placed((*around, this)[0], tuple(_steps(chain, (*around, this), vocabulary)), this)


def _steps(
    chain: list[Holder], sketches: tuple[Sketch, ...], vocabulary: Vocabulary
) -> Iterator[tuple[str, int]]:
    """Put each sketch into the one around it, and give the way there."""
    for holder, outer, inner in zip(chain, sketches, sketches[1:], strict=False):
        fact = outer.kind.facts[holder.fact]
        inner.names_its_kind = len(vocabulary.kinds_of(fact.of or "part")) > 1
        if fact.type == "thing":
            outer.single[fact.name] = inner
            yield fact.name, 0
            continue
        yield fact.name, _put_into_list(outer, fact.name, inner)


def _put_into_list(outer: Sketch, name: str, inner: Sketch) -> int:
    """Put a thing into a list where `this` stands, or at the end; how many known things stand before it."""
    written = outer.written.pop(name, None)
    items: list[Sketch | Node] = list(written.items) if isinstance(written, Sequence) else []
    items.extend(outer.lists.get(name, ()))
    at = next(
        (at for at, one in enumerate(items) if isinstance(one, Scalar) and one.text == THIS), len(items)
    )
    items[at : at + 1] = [inner]
    outer.lists[name] = items
    return sum(not (isinstance(one, Scalar) and one.text == "unknown") for one in items[:at])


def _chain(kind: Kind, named: frozenset[str], vocabulary: Vocabulary) -> list[Holder] | None:
    """Holders from a root down to a kind that pass through everything named; the nearest as the vocabulary
    prefers them.
    """
    return _outward(kind, named - {kind.name} - kind.classes, vocabulary, 0)


def _outward(kind: Kind, named: frozenset[str], vocabulary: Vocabulary, depth: int) -> list[Holder] | None:
    if kind.name in ROOTS and not named:
        return []
    if depth == DEEPEST:
        return None
    for holder in _holders(kind, vocabulary):
        outer = vocabulary.kinds[holder.kind]
        outward = _outward(outer, named - {outer.name} - outer.classes, vocabulary, depth + 1)
        if outward is not None:
            return [*outward, holder]
    return None


def _holders(kind: Kind, vocabulary: Vocabulary) -> list[Holder]:
    """Where a kind may lie: first where the vocabulary says that it sits, then wherever a fact takes it."""
    found = [
        Holder(outer.name, fact.name)
        for outer in vocabulary.kinds.values()
        for fact in outer.facts.values()
        if (fact.holds_things or (fact.is_computed and outer.name in kind.sits_in))
        and fact.type in ("thing", "list of things", "path")
        and kind.name in vocabulary.kinds_of(fact.of or "part")
        and outer.name != kind.name
    ]
    return sorted(found, key=lambda holder: _preference(kind, holder))


def _preference(kind: Kind, holder: Holder) -> tuple[int, int, str, str]:
    """Order of holders: as `sits_in` lists them; the lower end of a lift line before other paths."""
    sits_in = [where.split(".") for where in kind.sits_in]
    exact = [holder.kind, holder.fact] in sits_in
    near = next((at for at, where in enumerate(sits_in) if where[0] == holder.kind), len(sits_in))
    usual = (holder.kind, holder.fact) == ("lift_line", "lower")
    return (near, 0 if exact else 1 if usual else 2, holder.kind, holder.fact)


@dataclass(slots=True)
class _Writer:
    """Writes the keys of an example into the thing, and into what lies around and in it."""

    vocabulary: Vocabulary
    outward: tuple[Sketch, ...]
    """The things around it and itself, from the root inward."""
    problems: list[Problem]

    def write(self, key: Scalar, node: Node) -> None:
        steps = key.text.split(".")
        sketch, rest = self._begin(key, steps)
        if sketch is None:
            return
        for step in rest[:-1]:
            inner = self._inward(key, sketch, step)
            if inner is None:
                return
            sketch = inner
        name = rest[-1]
        if name not in sketch.kind.facts:
            self._unknown_fact(key, sketch.kind, name)
            return
        self._put(sketch, sketch.kind.facts[name], node)

    def _put(self, sketch: Sketch, fact: Fact, node: Node) -> None:
        """Write a fact; a thing written as a map may still gain facts from other keys."""
        if (
            fact.type == "thing"
            and isinstance(node, Mapping)
            and (kind := self._only_kind(fact, node)) is not None
        ):
            inner = sketch.single.setdefault(fact.name, Sketch(kind, node.place))
            inner.names_its_kind = len(self.vocabulary.kinds_of(fact.of or "part")) > 1
            for key, value in node:
                if key.text in kind.facts:
                    self._put(inner, kind.facts[key.text], value)
                elif key.text not in ("part", "kind"):
                    inner.written[key.text] = value
        else:
            sketch.written[fact.name] = node

    def _begin(self, key: Scalar, steps: list[str]) -> tuple[Sketch | None, list[str]]:
        this = self.outward[-1]
        if steps[0] in this.kind.facts:
            return this, steps
        for sketch in reversed(self.outward):
            if len(steps) > 1 and (steps[0] == sketch.kind.name or steps[0] in sketch.kind.classes):
                return sketch, steps[1:]
        self._unknown_fact(key, this.kind, steps[0])
        return None, []

    def _inward(self, key: Scalar, sketch: Sketch, step: str) -> Sketch | None:
        """The thing that a fact holds or names, begun where nothing was said of it yet."""
        fact = sketch.kind.facts.get(step)
        if fact is None:
            self._unknown_fact(key, sketch.kind, step)
            return None
        known = sketch.single.get(step) or sketch.references.get(step) or self._around(sketch, step)
        if known is not None:
            return known
        kind = self._only_kind(fact, None)
        if kind is None or fact.type not in ("thing", "list of things", "reference"):
            instead = f"write {step}: and the whole thing, with its part:"
            self.problems.append(
                problem_with(key, "example-path", f"{key.text} does not say which thing is meant", instead)
            )
            return None
        inner = Sketch(kind, key.place)
        if fact.type == "thing":
            sketch.single[step] = inner
        elif fact.type == "reference":
            sketch.references[step] = inner
        else:
            sketch.lists.setdefault(step, []).append(inner)
        return inner

    def _around(self, sketch: Sketch, step: str) -> Sketch | None:
        """The first thing of a list that other keys have begun."""
        return next((one for one in sketch.lists.get(step, ()) if isinstance(one, Sketch)), None)

    def _only_kind(self, fact: Fact, node: Mapping | None) -> Kind | None:
        named = None if node is None else (node.get("part") or node.get("kind"))
        if isinstance(named, Scalar):
            return self.vocabulary.kinds.get(named.text.replace("-", "_"))
        kinds = self.vocabulary.kinds_of(fact.of or "")
        return self.vocabulary.kinds[next(iter(kinds))] if len(kinds) == 1 else None

    def _unknown_fact(self, key: Scalar, kind: Kind, name: str) -> None:
        self.problems.append(
            problem_with(
                key,
                "example-fact",
                f"a {kind.word} has no {name}, and nothing of that kind lies around it",
                suggestion(name, kind.facts),
            )
        )
