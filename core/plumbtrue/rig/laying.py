"""A plot laid over a house: names become things, pieces hang on its sets, neighbours become pairs.

The house stays as it was read, so that it can be audited by itself, or under another plot at the same time.
What is laid is a copy of the plot's things, which stand in the house: `plot / item 05`. From a piece one
comes to its set; from a set to its pieces by the facts of the laid house (`line_set.items`).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from plumbtrue.documents.nearest_word import nearest
from plumbtrue.documents.place import CannotRead, Place, Problem
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Each, Name
from plumbtrue.rig.complaints import in_runs, listed
from plumbtrue.rig.copying import copied
from plumbtrue.rig.pairs import pairs_of
from plumbtrue.rig.reading import OF_BOTH
from plumbtrue.rig.references import things_by_name
from plumbtrue.rig.rig import Plot, Rig
from plumbtrue.rig.thing import Recorded, Thing

DECK: Final = "deck"
"""What a piece that stands is on."""

NAMED_IN_A_PLOT: Final[Mapping[tuple[str, str], tuple[str, ...]]] = {
    ("item", "on"): ("line_set", "truss", "point", "bridle", "hoist"),
    ("item", "layered_with"): ("item",),
    ("item", "touches_by_design"): ("item",),
    ("hoist", "hangs_on"): ("bridle", "point"),
    ("truss_support", "hoist"): ("hoist", "bridle", "point"),
}
"""Kinds of things that a name in a plot may mean, in the order in which they are tried."""


ByName = Mapping[str, Mapping[str, Thing]]


def lay(house: Rig, plot: Plot, *, whatever_it_lacks: bool = False) -> Rig:
    """A plot laid over a house.

    Args:
        whatever_it_lacks: lay it although the house lacks what it names, as where one plot is tried in several
            houses; what is lacking then stands in `not_in_house`.
    Raises:
        CannotRead: the plot names sets, bricks, beams, rails, pieces or points that nobody has.
    """
    laid, copies = copied(plot.plot, house.house)
    in_house, in_plot = things_by_name(house.house), things_by_name(laid)
    lacking = list(_open_references(plot, copies, in_house, in_plot))
    for thing in tuple(laid.below()):
        lacking += [(thing, problem) for problem in _names(thing, in_house, in_plot)]
        _drawn_set(thing, in_house)
    lacking.sort(key=lambda one: (one[1].where, one[1].slug))
    if lacking and not (whatever_it_lacks and all(_is_of_houses(thing, one) for thing, one in lacking)):
        texts = dict((*house.documents, *plot.documents))
        # A name in a typical thing is wrong once, however many things are like it.
        raise CannotRead(tuple(dict.fromkeys(problem for _, problem in lacking)), texts)
    laid.parts["pairs"] = pairs_of(laid, house.vocabulary)
    accepted = plot.accepted
    return replace(
        house,
        plot=laid,
        accepted=None if accepted is None else _laid_if_it_can_be(house, accepted),
        not_in_house=tuple(lacking),
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


def _is_of_houses(thing: Thing, problem: Problem) -> bool:
    """Whether it is a house that lacks it, and not the plot that is wrong in itself."""
    on = thing.facts.get("on") if thing.kind.name == "item" else None
    return problem.slug == "laid-not-in-house" or (on is not None and on.place == problem.where)


def _open_references(
    plot: Plot, copies: Mapping[Thing, Thing], in_house: ByName, in_plot: ByName
) -> Iterator[tuple[Thing, Problem]]:
    """Give every reference to a thing of the house its thing; a problem for each that the house does not
    have.
    """
    for reference in plot.open_references:
        own = in_plot.get(reference.kind, {}) if reference.kind in OF_BOTH else {}
        known = {**in_house.get(reference.kind, {}), **own}
        found = []
        for name, place in zip(reference.names, reference.places, strict=True):
            if name in known:
                found.append(known[name])
            else:
                yield copies[reference.thing], _unknown_name(name, place, reference.kind, known)
        if len(found) == len(reference.names):
            thing = copies[reference.thing]
            several = thing.kind.facts[reference.fact].type == "list of reference"
            thing.references[reference.fact] = tuple(found) if several else found[0]


def _unknown_name(name: str, place: Place, kind: str, known: Mapping[str, Thing]) -> Problem:
    called = kind.replace("_", " ")
    names = _as_written(known)
    instead = _nearest_of_all(name, names, f"write its {called}s down in the house's file")
    what = f"the house has no {called} {name}" + (", nor has the plot" if kind in OF_BOTH else "")
    return Problem("laid-not-in-house", place, what, instead, len(name))


def _nearest_of_all(name: str, names: Sequence[str], if_none: str) -> str:
    """The nearest name, by its number where it is one, and then all there are."""
    if not names:
        return if_none
    numbers = [one for one in names if one.isdecimal()]
    near = (
        min(numbers, key=lambda one: abs(int(one) - int(name)))
        if name.isdecimal() and numbers
        else nearest(name, names)
    )
    there = f"there are {listed(in_runs(names))}"
    return f"the nearest is {near}; {there}" if near is not None else there


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
            name: found for each in reversed(candidates) for name, found in _named(each, in_house, in_plot)
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


def _named(kind: str, in_house: ByName, in_plot: ByName) -> Iterator[tuple[str, Thing]]:
    """Things of a kind by name, those that stand above others of that name last."""
    if kind == "line_set" or kind in OF_BOTH:
        yield from in_house.get(kind, {}).items()
    if kind != "line_set":
        yield from in_plot.get(kind, {}).items()


def _texts(recorded: Recorded) -> list[_Written]:
    value = recorded.value
    held = value.values if isinstance(value, Each) else (value,)
    return [_Written(one.text, recorded) for one in held if isinstance(one, Name)]


def _unknown_thing(
    thing: Thing, fact: str, written: _Written, candidates: tuple[str, ...], known: Mapping[str, Thing]
) -> Problem:
    names = [
        name
        for each in candidates
        for name in _as_written({key: one for key, one in known.items() if one.kind.name == each})
    ]
    kinds = ", ".join(one.replace("_", " ") for one in candidates[:-1])
    kinds = f"{kinds} or {candidates[-1].replace('_', ' ')}" if kinds else candidates[-1].replace("_", " ")
    what = f"{thing.path} names {written.text}, but there is no {kinds} of that name"
    extra = [DECK] if fact == "on" else []
    instead = _nearest_of_all(written.text, [*names, *extra], f"write the {kinds} down first")
    return Problem("laid-name-unknown", written.recorded.place, what, instead, len(written.text))


def _drawn_set(thing: Thing, in_house: ByName) -> None:
    """The set that a drawing means. One that the house does not have is a matter for a rule, not for
    reading.
    """
    if thing.kind.name == "drawn_set":
        found = in_house.get("line_set", {}).get(thing.key.removeprefix("drawn set "))
        if found is not None:
            thing.references["set"] = found
