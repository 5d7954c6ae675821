"""Things, and what somebody wrote about them."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final, Literal

from plumbtrue.documents.place import Place
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Absent, Unknown, Value
from plumbtrue.rig.vocabulary import Kind

Origin = Literal["written", "like", "in-order", "asked"]

ROLES_SHOWN: Final = frozenset({"upper", "lower", "path", "sling_path"})
"""Paths of parts that stand in a thing's path as a step of their own: one line has two of them."""


@unchanging
class Seen:
    """Who looked, when and how.

    `on` is the date as written, `how` one of from-afar, by-eye, by-hand, with-tools, told and paper. A
    block that names an inspection says what that inspection says.
    """

    by: str | None
    on: str | None
    how: str | None
    in_order: bool
    tested: bool
    not_seen: frozenset[str]
    place: Place
    key: str | None = None
    """Key of the inspection that it names, if it does."""
    when: Bounds | None = None
    """The date, in days."""
    says_in_order: bool = False
    """Whether the block says anything about things being in order, yes or no."""


@unchanging
class Recorded:
    """A fact as somebody wrote it."""

    value: Value
    text: str
    """As written, shortened for print."""
    place: Place
    used: Place | None = None
    """Where it took effect, when it came through `like`, `include` or an alias."""
    origin: Origin = "written"
    like: str | None = None
    seen: Seen | None = None
    note: str | None = None
    photos: tuple[str, ...] = ()


@dataclass(slots=True, eq=False, repr=False)
class Thing:
    """What a hand can touch and a finding can point at. Identity is the object itself; its lasting name is
    `path`.

    `facts` holds recorded facts by name. `parts` holds what sits in it by the name of the fact that holds
    it: one thing, or a tuple of things for lists and paths; `NONE` when it was looked for and not there; a
    name that is missing is not known. A part written as `none` or `unknown` stands in `facts` too, with its
    place. `unlisted` names the lists in which something stands that nobody has identified (`- unknown`), or
    that are shorter than stated.
    """

    kind: Kind
    key: str
    place: Place
    parent: "Thing | None" = None
    role: str = ""
    facts: dict[str, Recorded] = field(default_factory=dict)
    parts: dict[str, "Thing | tuple[Thing, ...] | Absent | Unknown"] = field(default_factory=dict)
    unlisted: set[str] = field(default_factory=set)
    seen: Seen | None = None
    """Who saw it: its own block, or the nearest one around it."""
    vouched_by: Seen | None = None
    """The nearest block that states whether things are in order, if it says yes. A block further in that says
    nothing of it, such as one for a single measurement, leaves the statement of the one around it standing.
    """
    note: str | None = None
    photos: tuple[str, ...] = ()
    formerly: tuple[str, ...] = ()
    references: dict[str, "Thing | tuple[Thing, ...]"] = field(default_factory=dict)
    """Things that a reference fact names, found when the rig was read."""
    used: Place | None = None
    """Where it took effect, when it is written in a typical thing or came through an alias."""

    def __repr__(self) -> str:
        return f"<{self.kind.word}: {self.path}>"

    @property
    def path(self) -> str:
        """Its lasting name, free of line numbers and order: `14 / line 3 / lower / wire-rope-clips`."""
        steps: list[str] = []
        thing: Thing | None = self
        while thing is not None and thing.parent is not None:
            steps.append(thing.key)
            if thing.role in ROLES_SHOWN:
                steps.append(thing.role.replace("_", " "))
            thing = thing.parent
        return " / ".join(reversed(steps)) or self.key

    @property
    def line_set(self) -> "Thing | None":
        """The line set that it belongs to, if any."""
        return self.enclosing("line_set")

    def enclosing(self, kind: str) -> "Thing | None":
        """The nearest thing of that kind or class outward, itself included."""
        thing: Thing | None = self
        while thing is not None:
            if thing.kind.name == kind or kind in thing.kind.classes:
                return thing
            thing = thing.parent
        return None

    def members(self, fact: str) -> "tuple[Thing, ...]":
        """The things that a fact holds, be it one or several; none where it holds none or nobody knows."""
        held = self.parts.get(fact)
        return (held,) if isinstance(held, Thing) else held if isinstance(held, tuple) else ()

    def children(self) -> Iterator["Thing"]:
        """The things that sit directly in it, in the order of their facts."""
        for part in self.parts.values():
            if isinstance(part, Thing):
                yield part
            elif isinstance(part, tuple):
                yield from part

    def below(self) -> Iterator["Thing"]:
        """Itself and everything in it."""
        yield self
        for child in self.children():
            yield from child.below()
