"""A plot laid over a house: names become things, pieces hang on its sets, neighbours become pairs.

The house stays as it was read, so that it can be audited by itself, or under another plot at the same time.
What is laid is a copy of the plot's things, which stand in the house: `plot / item 05`. From a piece one
comes to its set; from a set to its pieces by the facts of the laid house (`line_set.items`).
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Final

from plumbtrue.documents.place import CannotRead, Place, Problem
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Each, Name
from plumbtrue.rig.complaints import did_you_mean, listed
from plumbtrue.rig.copying import copied
from plumbtrue.rig.pairs import pairs_of
from plumbtrue.rig.references import things_by_name
from plumbtrue.rig.rig import Plot, Rig
from plumbtrue.rig.thing import Recorded, Thing

DECK: Final = "deck"
"""What a piece that stands is on."""

NAMED_IN_A_PLOT: Final[Mapping[tuple[str, str], tuple[str, ...]]] = {
    ("item", "on"): ("line_set", "truss", "point", "bridle"),
    ("item", "layered_with"): ("item",),
    ("item", "touches_by_design"): ("item",),
    ("hoist", "hangs_on"): ("bridle", "point"),
    ("truss_support", "hoist"): ("hoist", "bridle", "point"),
}
"""Kinds of things that a name in a plot may mean, in the order in which they are tried."""

ByName = Mapping[str, Mapping[str, Thing]]


def lay(house: Rig, plot: Plot) -> Rig:
    """A plot laid over a house.

    Raises:
        CannotRead: the plot names sets, bricks, beams, rails, pieces or points that nobody has.
    """
    laid, copies = copied(plot.plot, house.house)
    in_house, in_plot = things_by_name(house.house), things_by_name(laid)
    problems = list(_open_references(plot, copies, in_house))
    for thing in tuple(laid.below()):
        problems += _names(thing, in_house, in_plot)
        _drawn_set(thing, in_house)
    if problems:
        texts = dict((*house.documents, *plot.documents))
        raise CannotRead(tuple(sorted(problems, key=lambda one: (one.where, one.slug))), texts)
    laid.parts["pairs"] = pairs_of(laid, house.vocabulary)
    accepted = plot.accepted
    return replace(
        house,
        plot=laid,
        accepted=None if accepted is None else _laid_if_it_can_be(house, accepted),
        files=(*house.files, *plot.files, *(accepted.files if accepted is not None else ())),
        documents=(*house.documents, *plot.documents, *(accepted.documents if accepted is not None else ())),
        indexed={},
    )


def _laid_if_it_can_be(house: Rig, accepted: Plot) -> Thing | None:
    """An earlier revision, laid; nothing where it names what the house no longer has, which is no fault of the
    revision that is to hang.
    """
    try:
        return lay(house, accepted).plot
    except CannotRead:
        return None


def _open_references(plot: Plot, copies: Mapping[Thing, Thing], in_house: ByName) -> Iterator[Problem]:
    """Give every reference to a thing of the house its thing; a problem for each that the house does not
    have.
    """
    for reference in plot.open_references:
        known = in_house.get(reference.kind, {})
        found = []
        for name, place in zip(reference.names, reference.places, strict=True):
            if name in known:
                found.append(known[name])
            else:
                yield _unknown_name(name, place, reference.kind, known)
        if len(found) == len(reference.names):
            thing = copies[reference.thing]
            several = thing.kind.facts[reference.fact].type == "list of reference"
            thing.references[reference.fact] = tuple(found) if several else found[0]


def _unknown_name(name: str, place: Place, kind: str, known: Mapping[str, Thing]) -> Problem:
    called = kind.replace("_", " ")
    names = _as_written(known)
    otherwise = f"it has {listed(names)}" if names else f"write its {called}s down in the house's file"
    what = f"the house has no {called} {name}"
    return Problem("laid-not-in-house", place, what, did_you_mean(name, names, otherwise), len(name))


def _as_written(known: Mapping[str, Thing]) -> list[str]:
    """The shortest name of each thing, as people write it, in the order of the file."""
    shortest: dict[Thing, str] = {}
    for name, thing in known.items():
        if thing not in shortest or len(name) < len(shortest[thing]):
            shortest[thing] = name
    return list(shortest.values())


@unchanging
class _Written:
    """A name as it stands in a fact."""

    text: str
    recorded: Recorded


def _names(thing: Thing, in_house: ByName, in_plot: ByName) -> list[Problem]:
    """Find what the names of a thing mean."""
    problems: list[Problem] = []
    for (kind, fact), candidates in NAMED_IN_A_PLOT.items():
        if thing.kind.name != kind or fact not in thing.facts:
            continue
        known = {
            name: found
            for each in reversed(candidates)
            for name, found in (in_house if each == "line_set" else in_plot).get(each, {}).items()
        }
        found = []
        written = [one for one in _texts(thing.facts[fact]) if not (fact == "on" and one.text == DECK)]
        for one in written:
            if one.text in known:
                found.append(known[one.text])
            else:
                problems.append(_unknown_thing(thing, fact, one, candidates, known))
        if written and len(found) == len(written):
            single = thing.kind.facts[fact].type == "name"
            thing.references[fact] = found[0] if single else tuple(found)
    return problems


def _texts(recorded: Recorded) -> list[_Written]:
    value = recorded.value
    held = value.values if isinstance(value, Each) else (value,)
    return [_Written(one.text, recorded) for one in held if isinstance(one, Name)]


def _unknown_thing(
    thing: Thing, fact: str, written: _Written, candidates: tuple[str, ...], known: Mapping[str, Thing]
) -> Problem:
    names = _as_written(known)
    kinds = " or ".join(one.replace("_", " ") for one in candidates)
    what = f"{thing.path} names {written.text}, but there is no {kinds} of that name"
    extra = [DECK] if fact == "on" else []
    otherwise = f"there are {listed([*names, *extra])}" if names else f"write the {kinds} down first"
    return Problem(
        "laid-name-unknown",
        written.recorded.place,
        what,
        did_you_mean(written.text, [*names, *extra], otherwise),
        len(written.text),
    )


def _drawn_set(thing: Thing, in_house: ByName) -> None:
    """The set that a drawing means. One that the house does not have is a matter for a rule, not for
    reading.
    """
    if thing.kind.name == "drawn_set":
        found = in_house.get("line_set", {}).get(thing.key.removeprefix("drawn set "))
        if found is not None:
            thing.references["set"] = found
