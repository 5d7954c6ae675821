"""Facts that name other things, looked up when every thing is read: a brick, a beam, a set, a line."""

from collections.abc import Iterable, Mapping

from plumbtrue.documents.nodes import Scalar
from plumbtrue.rig.complaints import Complaints, did_you_mean, listed
from plumbtrue.rig.rig import OpenReference
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.thing_reading import Reference

ByName = Mapping[str, Mapping[str, Thing]]


def things_by_name(root: Thing) -> dict[str, dict[str, Thing]]:
    """Every thing that can be named, by kind and then by its name, with and without what its key puts before
    it.
    """
    found: dict[str, dict[str, Thing]] = {}
    for thing in root.below():
        if thing.kind.key_wanted and thing.kind.name != "lift_line":
            names = found.setdefault(thing.kind.name, {})
            called = thing.kind.name.replace("_", " ") + " "
            names.setdefault(thing.key.removeprefix(called), thing)
            for name in (thing.key, *thing.formerly):
                names.setdefault(name, thing)
    return found


def resolve(
    references: Iterable[Reference],
    known: ByName,
    complaints: Complaints,
    elsewhere: frozenset[str] = frozenset(),
    there_too: frozenset[str] = frozenset(),
) -> tuple[OpenReference, ...]:
    """Give every reference its thing; those that name a kind of another document are handed back, and so are
    names that nothing here has, of a kind of which the other document has some too.
    """
    still_open = []
    for reference in references:
        kind = reference.fact.of or ""
        unknown_here = any(node.text not in known.get(kind, {}) for node in reference.nodes)
        if kind in elsewhere or (kind in there_too and unknown_here):
            nodes = reference.nodes
            names, places = tuple(node.text for node in nodes), tuple(node.place for node in nodes)
            still_open.append(OpenReference(reference.thing, reference.fact.name, kind, names, places))
            continue
        names_of_kind = _lines_beside(reference.thing) if kind == "lift_line" else known.get(kind, {})
        found = tuple(
            thing
            for node in reference.nodes
            if (thing := _look_up(node, kind, names_of_kind, reference.thing, complaints)) is not None
        )
        if len(found) == len(reference.nodes):
            single = reference.fact.type == "reference"
            reference.thing.references[reference.fact.name] = found[0] if single else found
    return tuple(still_open)


def _written_down(kind: str, key: str, user: Thing) -> str:
    """How a thing of which nothing is known would be written down, in the house or plot that names it."""
    root = user
    while root.parent is not None:
        root = root.parent
    for fact in root.kind.facts.values():
        if fact.holds_things and fact.of == kind:
            return f"write it down in {root.kind.word}: as {fact.name}: [{{key: {key}, …}}]"
    return f"write the {kind.replace('_', ' ')} down with its key"


def _look_up(
    node: Scalar, kind: str, names: Mapping[str, Thing], user: Thing, complaints: Complaints
) -> Thing | None:
    thing = names.get(node.text)
    if thing is None:
        called = kind.replace("_", " ")
        known = sorted(set(names))
        otherwise = f"write one of {listed(known)}" if known else _written_down(kind, node.text, user)
        what = f"there is no {called} called {node.text}"
        complaints.say(node, "reference-unknown", what, did_you_mean(node.text, known, otherwise))
    return thing


def _lines_beside(thing: Thing) -> dict[str, Thing]:
    """The lift lines of the set that a thing belongs to, by their marks."""
    line_set = thing.line_set
    lines = line_set.members("lift_lines") if line_set else ()
    return {line.key.removeprefix("line "): line for line in lines}
