"""`like:`, which lends what is written of a typical thing to a mapping that names it.

Generic: knows no kind of thing.

Own keys win over lent ones. A mapping written under a key of its own is filled up from the mapping lent under
the same key, unless it says itself what it is like; a list or a text replaces what is lent. Lent nodes, and
everything below them, keep the place where they were written and carry `used`, where they took effect, and
`like`, what lent them.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import assert_never

from plumbtrue.documents.limits import LIMITS, Limits
from plumbtrue.documents.nearest_word import nearest
from plumbtrue.documents.nodes import Like, Mapping, Node, Scalar, Sequence, problem_with
from plumbtrue.documents.place import Place, Problem

Entries = tuple[tuple[Scalar, Node], ...]

LIKE = "like"


@dataclass(frozen=True, slots=True)
class Resolved:
    """A node in which every `like:` is undone, and what was wrong with those that could not be."""

    node: Node
    problems: tuple[Problem, ...]


def lent_entries(mapping: Mapping) -> dict[str, Like]:
    """The entries of a mapping that were lent to it, by key, each with the typical thing that lent it.

    An entry that is not among them was written in the mapping itself, though parts inside it may be lent.
    """
    return {
        key.text: node.like for key, node in mapping if node.like is not None and node.like != mapping.like
    }


class TypicalThings:
    """The typical things of a document by name, ready to be lent.

    It counts what it lends, so that a few typical things made of one another cannot stand for millions of
    parts.
    """

    def __init__(
        self, named: Iterable[tuple[Scalar, Node]], *, whole: Iterable[str] = (), limits: Limits = LIMITS
    ) -> None:
        """Take names and nodes, such as the entries under `typical:`; of two with one name the first counts.

        `whole` names keys under which a mapping is one value, such as a map of weights, and is never filled
        up.
        """
        self._named: dict[str, Node] = {}
        for name, node in named:
            self._named.setdefault(name.text, node)
        self._whole = frozenset(whole)
        self._limits = limits
        self._left = limits.nodes
        self._too_much_told = False
        self._told: set[tuple[str, Place]] = set()
        self.problems: tuple[Problem, ...] = tuple(self._wrong_among_themselves())
        """What is wrong in the typical things themselves, whether anybody uses them or not."""

    def __contains__(self, name: str) -> bool:
        return name in self._named

    def names(self) -> tuple[str, ...]:
        return tuple(self._named)

    def resolve(self, node: Node) -> Resolved:
        """The node with every `like:` in it undone; a part without any is handed back as it is.

        A problem is told once, however often the part that holds it is lent.
        """
        problems: list[Problem] = []
        return Resolved(self._undone(node, _Setting(None, None, 1), problems), self._untold(problems))

    def lend(self, name: Scalar) -> Resolved | None:
        """The typical thing that a bare name means, as in `rope: gac`; nothing when none is called so.

        Whether a bare name may stand there, and what it means otherwise, is the caller's to know.
        """
        if name.text not in self._named:
            return None
        chain = name.like.names() if name.like else ()
        if name.text in chain:
            return Resolved(name, self._untold([_circle((*chain, name.text), name)]))
        problems: list[Problem] = []
        setting = _Setting(name.used, name.like, len(chain) + 1).lending(name)
        return Resolved(self._undone(self._named[name.text], setting, problems), self._untold(problems))

    def _untold(self, problems: Iterable[Problem]) -> tuple[Problem, ...]:
        new = []
        for problem in problems:
            if (problem.slug, problem.where) not in self._told:
                self._told.add((problem.slug, problem.where))
                new.append(problem)
        return tuple(new)

    def _undone(self, node: Node, setting: "_Setting", problems: list[Problem]) -> Node:
        loan = setting.loan
        if loan is not None:
            self._left -= 1
            if self._left < 0 or setting.depth > self._limits.depth:
                if not self._too_much_told:
                    problems.append(self._too_much(loan))
                    self._too_much_told = True
                return node
        match node:
            case Scalar():
                if loan is None:
                    return node
                return Scalar(node.text, node.place, node.quoted, setting.used, node.length, loan)
            case Sequence():
                inner = setting.inside(node)
                items = tuple([self._undone(item, inner, problems) for item in node.items])
                if loan is None:
                    return node if _same(items, node.items) else replace(node, items=items)
                return Sequence(items, node.place, setting.used, loan)
            case Mapping():
                return self._undone_mapping(node, setting, problems)
            case _:
                assert_never(node)

    def _undone_mapping(self, node: Mapping, setting: "_Setting", problems: list[Problem]) -> Node:
        inner = setting.inside(node)
        name = node.get(LIKE)
        own = tuple(
            [
                (
                    key if setting.loan is None else _lent_key(key, setting),
                    self._undone(value, inner, problems),
                )
                for key, value in node.entries
                if key.text != LIKE
            ]
        )
        if name is not None:
            lent = self._lent_to(node, name, inner, problems)
            if lent is not None and not isinstance(lent, Mapping):
                return lent
            entries = own if lent is None else self._filled(own, node, lent)
        elif setting.loan is None and all(
            new[1] is old[1] for new, old in zip(own, node.entries, strict=True)
        ):
            return node
        else:
            entries = own
        if setting.loan is None:
            return replace(node, entries=entries)
        return Mapping(entries, node.place, setting.used, setting.loan)

    def _lent_to(
        self, node: Mapping, name: Node, setting: "_Setting", problems: list[Problem]
    ) -> Node | None:
        """What the typical thing that `name` means lends to `node`.

        Nothing, with the reason noted, when it cannot.
        """
        if not isinstance(name, Scalar) or not name.text:
            problems.append(_not_a_name(name))
            return None
        typical = self._named.get(name.text)
        if typical is None:
            problems.append(self._unknown(name))
            return None
        if setting.loan is not None and name.text in setting.loan.names():
            return None  # A circle, which `problems` has told already.
        lent = self._undone(typical, setting.lending(name), problems)
        if not isinstance(lent, Mapping) and len(node.entries) > 1:
            problems.append(_does_not_fit(name, lent))
            return None
        return lent

    def _filled(self, own: Entries, written: Mapping, lent: Mapping) -> Entries:
        """Own entries, filled up from what is lent.

        `written` is the mapping before its own likes were undone.
        """
        lent_values = {key.text: value for key, value in lent}
        entries = tuple(
            [(key, self._both(key.text, value, written, lent_values.get(key.text))) for key, value in own]
        )
        own_names = {key.text for key, _ in own}
        return entries + tuple([entry for entry in lent.entries if entry[0].text not in own_names])

    def _both(self, key: str, own: Node, written: Mapping, lent: Node | None) -> Node:
        before = written.get(key)
        if not isinstance(own, Mapping) or not isinstance(lent, Mapping) or not isinstance(before, Mapping):
            return own
        if key in self._whole or before.get(LIKE) is not None:
            return own
        return replace(own, entries=self._filled(own.entries, before, lent))

    def _wrong_among_themselves(self) -> Iterator[Problem]:
        """Names that mean nothing and things that are like themselves, found without lending anything."""
        likes = {name: tuple(_likes_in(node)) for name, node in self._named.items()}
        problems: list[Problem] = []
        for inside in likes.values():
            for name in inside:
                if not isinstance(name, Scalar) or not name.text:
                    problems.append(_not_a_name(name))
                elif name.text not in self._named:
                    problems.append(self._unknown(name))
        names = {
            typical: [name for name in inside if isinstance(name, Scalar)]
            for typical, inside in likes.items()
        }
        yield from self._untold([*problems, *_circles(names)])

    def _unknown(self, name: Scalar) -> Problem:
        what = f"no typical thing is called {name.text}"
        near = nearest(name.text, self._named)
        if near:
            return problem_with(name, "like-unknown", what, f"did you mean {near}?")
        known = ", ".join(sorted(self._named)[:8])
        instead = (
            f"write one of those under typical:, such as {known}"
            if known
            else "write it down under typical: first"
        )
        return problem_with(name, "like-unknown", what, instead)

    def _too_much(self, loan: Like) -> Problem:
        return Problem(
            "like-limit",
            loan.where,
            f"typical things made of one another stand for more than {self._limits.nodes:,} values or "
            f"{self._limits.depth} levels",
            "let a typical thing name fewer others",
            length=len(loan.name),
            used_by=(f"by way of {', '.join(loan.names())}",),
        )


@dataclass(frozen=True, slots=True)
class _Setting:
    """Where a node is being resolved: the outermost place of use, what lends it, and how deep."""

    used: Place | None
    loan: Like | None
    depth: int

    def inside(self, node: Node) -> "_Setting":
        used = self.used if self.loan is not None else node.used or self.used
        return _Setting(used, self.loan, self.depth + 1)

    def lending(self, name: Scalar) -> "_Setting":
        return _Setting(self.used or name.place, Like(name.text, name.place, self.loan), self.depth + 1)


def _lent_key(key: Scalar, setting: _Setting) -> Scalar:
    return Scalar(key.text, key.place, key.quoted, setting.used, key.length, setting.loan)


def _same(new: tuple[Node, ...], old: tuple[Node, ...]) -> bool:
    return all(one is other for one, other in zip(new, old, strict=True))


def _likes_in(node: Node) -> Iterator[Node]:
    match node:
        case Scalar():
            return
        case Sequence():
            for item in node:
                yield from _likes_in(item)
        case Mapping():
            for key, value in node:
                if key.text == LIKE:
                    yield value
                yield from _likes_in(value)
        case _:
            assert_never(node)


def _circles(names: dict[str, list[Scalar]]) -> Iterator[Problem]:
    """One problem for each name that closes a circle.

    Keeps its own stack: chains may be longer than Python's.
    """
    done: set[str] = set()
    for start in names:
        if start in done:
            continue
        way = {start: iter(names[start])}
        while way:
            last = next(reversed(way))
            name = next(way[last], None)
            if name is None:
                done.add(last)
                del way[last]
            elif name.text in way:
                since = list(way).index(name.text)
                yield _circle((*list(way)[since:], name.text), name)
            elif name.text in names and name.text not in done:
                way[name.text] = iter(names[name.text])


def _circle(chain: tuple[str, ...], name: Scalar) -> Problem:
    told = ", which is like ".join(chain)
    return problem_with(
        name, "like-circle", f"a typical thing is made of itself: {told}", "write out one of them instead"
    )


def _not_a_name(node: Node) -> Problem:
    return problem_with(
        node, "like-not-a-name", "like: takes the name of one typical thing", "write like: gac"
    )


def _does_not_fit(name: Scalar, lent: Node) -> Problem:
    form = "a list" if isinstance(lent, Sequence) else "a single value"
    return problem_with(
        name,
        "like-does-not-fit",
        f"the typical thing {name.text} is {form}, so nothing can be written beside its name",
        f"write {name.text} alone, or write the parts out",
    )
