"""A rig file to a house of things, a plot file to a plot: what stands at the top of each, and then thing by
thing.

Every problem of all files is told at once. Only what a thing is called can be missing by mistake; an
engineering fact that nobody wrote is not known, and never an error.
"""

import gc
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final, Literal

from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence
from plumbtrue.documents.place import CannotRead, Problem
from plumbtrue.documents.reading import Document, open_document, open_text
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.rig.complaints import Complaints, did_you_mean, shown
from plumbtrue.rig.layers import Layer, Sketch
from plumbtrue.rig.references import resolve, things_by_name
from plumbtrue.rig.rig import Plot, Rig
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.thing_reading import OF_A_RIG, Around, ReadingRules, ThingReader
from plumbtrue.rig.typical_things import TooManyThings
from plumbtrue.rig.vocabulary import Vocabulary

RIG_KEYS: Final = ("plumbtrue", "include", "rule_packs", "units", "typical", "house", "line_sets")
PLOT_KEYS: Final = ("plumbtrue", "include", "house_file", "typical", "plot")
SETTINGS: Final = ("rule_packs", "units")
"""What may stand in the house or beside it, and is no fact of it."""

_CALLED: Final = {
    "rig/1": "a house",
    "plot/1": "a plot",
    "waivers/1": "a file of waivers",
    "pack/1": "the head of a rule pack",
}
_GIVEN_AS: Final = {
    "rig/1": "name it as the house, in front of --plot",
    "plot/1": "name the house, and this file behind --plot",
    "waivers/1": "name the house, and this file behind --waivers",
    "pack/1": "name the house, and this pack's folder under rule_packs: or behind --pack",
}
"""What to do with a file of each form where another was wanted."""

UNITS: Final = ("us", "si", "metric", "both")

OF_THE_HOUSE: Final = frozenset({"line_set", "brick", "beam", "rail"})
"""Kinds of things that a plot may name though it does not hold them."""

OF_BOTH: Final = frozenset({"point"})
"""Kinds of things of which a plot holds some and may name others that the house holds."""

OF_A_PLOT: Final = ReadingRules(
    lent=frozenset({"identity", "condition", "record", "posted", "now", "show"}), siblings_lend=True
)


def read_rig(path: Path, vocabulary: Vocabulary, *, shown_as: str | None = None) -> Rig:
    """The house in a file, with what it includes.

    Raises:
        CannotRead: with every problem of every file that was read.
    """
    return _rig(open_document(path, shown=shown_as), vocabulary)


def read_rig_text(text: str | bytes, file: str, vocabulary: Vocabulary, *, folder: Path | None = None) -> Rig:
    """The house in a text; `file` is what it is called in messages, `folder` where it may include from.

    Raises `CannotRead`.
    """
    return _rig(open_text(text, file, folder=folder), vocabulary)


def read_plot(path: Path, vocabulary: Vocabulary, *, shown_as: str | None = None) -> Plot:
    """The plot in a file. Things of the house that it names stay open until it is laid over one.

    Raises `CannotRead`.
    """
    return _plot(open_document(path, shown=shown_as), vocabulary)


def read_plot_text(
    text: str | bytes, file: str, vocabulary: Vocabulary, *, folder: Path | None = None
) -> Plot:
    """The plot in a text. Raises `CannotRead`."""
    return _plot(open_text(text, file, folder=folder), vocabulary)


def read_one_thing(
    kind: str, node: Mapping, vocabulary: Vocabulary, rules: ReadingRules = OF_A_RIG
) -> tuple[Thing, tuple[Problem, ...]]:
    """One thing written by itself, such as in an example of a rule, and what is wrong with it.

    Facts that name other things are given them where those are written in it too; otherwise they are recorded
    by name only, since nothing is around it.

    Raises:
        KeyError: there is no such kind.
    """
    complaints = Complaints()
    reader = ThingReader(vocabulary, complaints, rules)
    sketch = Sketch(vocabulary.kinds[kind.replace("-", "_")], (Layer(node, None),), node.place)
    thing = reader.thing(sketch, sketch.kind.word, "", Around())
    resolve(reader.references, things_by_name(thing), Complaints())
    return thing, complaints.all()


@contextmanager
def _without_collecting() -> Iterator[None]:
    """Nothing is thrown away while things are read, and the collector's walks over them cost a third of the
    time.
    """
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            gc.enable()


@_without_collecting()
def _rig(document: Document, vocabulary: Vocabulary) -> Rig:
    root, complaints = document.root, Complaints()
    _check_top(document, "rig/1", RIG_KEYS, complaints)
    reader = ThingReader(vocabulary, complaints)
    node = _house_node(root, complaints)
    reader.seen_blocks.know_inspections(node.get("inspections"))
    for line_set in _items(node.get("line_sets")):
        reader.seen_blocks.know_inspections(line_set.get("inspections"))
    facts = Layer(_without(node, SETTINGS), None)
    house = _everything(
        reader, document, Sketch(vocabulary.kinds["house"], (facts,), node.place), _name(node)
    )
    _check_name(root, node, complaints)
    _mark_short_lists(house)
    resolve(reader.references, things_by_name(house), complaints)
    packs = _names(_either(root, node, "rule_packs", complaints), complaints)
    units = _units(_either(root, node, "units", complaints), complaints)
    _raise(complaints, document)
    return Rig(
        house=house,
        file=root.place.file,
        files=tuple((source.shown, source.sha256) for source in document.files),
        typical=tuple(reader.typical.nodes),
        vocabulary=vocabulary,
        rule_packs=tuple(one.text for one in packs),
        rule_packs_at=tuple(one.place for one in packs),
        units=units,
        documents=tuple((source.shown, source.text) for source in document.files),
    )


@_without_collecting()
def _plot(document: Document, vocabulary: Vocabulary) -> Plot:
    root, complaints = document.root, Complaints()
    _check_top(document, "plot/1", PLOT_KEYS, complaints)
    reader = ThingReader(vocabulary, complaints, OF_A_PLOT)
    node = root.get("plot")
    if not isinstance(node, Mapping):
        what, instead = "a plot file holds a plot", "write plot: {show: …, items: […]}"
        complaints.say(node or root, "plot-missing", what, instead)
        node = Mapping((), root.place)
    sketch = Sketch(vocabulary.kinds["plot"], (Layer(node, None),), node.place)
    plot = _everything(reader, document, sketch, "plot")
    still_open = resolve(reader.references, things_by_name(plot), complaints, OF_THE_HOUSE, OF_BOTH)
    house_file = root.get("house_file")
    _raise(complaints, document)
    return Plot(
        plot=plot,
        file=root.place.file,
        files=tuple((source.shown, source.sha256) for source in document.files),
        typical=tuple(reader.typical.nodes),
        vocabulary=vocabulary,
        house_file=house_file.text if isinstance(house_file, Scalar) else None,
        open_references=still_open,
        documents=tuple((source.shown, source.text) for source in document.files),
    )


def _everything(reader: ThingReader, document: Document, sketch: Sketch, called: str) -> Thing:
    """The typical things of a document, and then the one thing that it holds with everything in it."""
    characters = sum(len(source.text) for source in document.files)
    reader.typical.take_in(document.root.get("typical"), characters)
    try:
        reader.typical_things()
        return reader.thing(sketch, called, "", Around())
    except TooManyThings:
        _raise(reader.complaints, document)
        raise


def _name(house: Mapping) -> str:
    name = house.get("name")
    return name.text if isinstance(name, Scalar) and name.text else "house"


def _check_name(root: Mapping, house: Mapping, complaints: Complaints) -> None:
    if house.get("name") is None and isinstance(root.get("house"), Mapping):
        key = root.key("house")
        complaints.say(key or root, "key-missing", "this house has no name", "write name: in it")


def _raise(complaints: Complaints, document: Document) -> None:
    problems = complaints.all()
    if problems:
        order = {source.shown: number for number, source in enumerate(document.files)}
        ordered = sorted(problems, key=lambda problem: (order.get(problem.where.file, -1), problem.where))
        raise CannotRead(tuple(ordered), {source.shown: source.text for source in document.files})


def _check_top(
    document: Document, form: Literal["rig/1", "plot/1"], keys: tuple[str, ...], complaints: Complaints
) -> None:
    """Tell what is wrong at the top of a file. One that says that it is something else altogether is not read
    further: everything in it would be a mistake.
    """
    root = document.root
    said = root.get("plumbtrue")
    if said is None:
        complaints.add(
            Problem(
                "form-missing",
                root.place,
                "the file does not say what it holds",
                f"write plumbtrue: {form} on top",
            )
        )
    elif isinstance(said, Scalar) and said.text != form and said.text in _GIVEN_AS:
        what = f"this file is {_CALLED[said.text]}, and {_CALLED[form]} is wanted here"
        complaints.say(said, "form-wrong", what, _GIVEN_AS[said.text])
        _raise(complaints, document)
    elif not isinstance(said, Scalar) or said.text != form:
        complaints.say(said, "form-wrong", f"{shown(said)} is not read here", f"write plumbtrue: {form}")
    for key, _ in root:
        if key.text not in keys:
            what = f"a {form.partition('/')[0]} file has no {key.text}"
            complaints.say(key, "key-unknown", what, did_you_mean(key.text, keys))


def _house_node(root: Mapping, complaints: Complaints) -> Mapping:
    """What is written about the house, with its line sets, which may stand in it or beside it."""
    house, line_sets = root.get("house"), root.get("line_sets")
    if house is None:
        complaints.add(
            Problem("house-missing", root.place, "a rig file holds one house", "write house: {name: …}")
        )
        house = Mapping((), root.place)
    if not isinstance(house, Mapping):
        name = shown(house) if isinstance(house, Scalar) and house.text else "…"
        complaints.say(
            house, "house-missing", "house: takes keys and values", f"write house: {{name: {name}}}"
        )
        house = Mapping((), root.place)
    if line_sets is None:
        return house
    key = root.key("line_sets")
    assert key is not None
    inside = house.key("line_sets")
    if inside is not None:
        what = "line_sets is written in the house and beside it"
        complaints.say(
            key, "line-sets-twice", what, f"write all sets in one of the two; the other is at {inside.place}"
        )
        return house
    return Mapping((*house.entries, (key, line_sets)), house.place, house.used)


def _without(node: Mapping, names: Iterable[str]) -> Mapping:
    return Mapping(
        tuple(entry for entry in node.entries if entry[0].text not in names), node.place, node.used
    )


def _either(root: Mapping, house: Mapping, name: str, complaints: Complaints) -> Node | None:
    """A setting that may stand in the house or beside it."""
    beside, inside = root.get(name), house.get(name)
    if beside is not None and inside is not None:
        complaints.say(
            beside, "setting-twice", f"{name} is written in the house and beside it", "delete one of the two"
        )
    return beside if inside is None else inside


def _names(node: Node | None, complaints: Complaints) -> tuple[Scalar, ...]:
    if node is None:
        return ()
    items = node.items if isinstance(node, Sequence) else (node,)
    for item in items:
        if not isinstance(item, Scalar) or not item.text:
            complaints.say(
                item,
                "rule-packs-wrong",
                "rule_packs takes names of packs",
                "write rule_packs: [practice, ./house-rules]",
            )
    return tuple(item for item in items if isinstance(item, Scalar))


def _units(node: Node | None, complaints: Complaints) -> str:
    if node is None:
        return "us"
    if isinstance(node, Scalar) and node.text in UNITS:
        return node.text
    complaints.say(
        node, "word-not-permitted", f"units cannot be {shown(node)}", did_you_mean(shown(node), UNITS)
    )
    return "us"


def _items(node: Node | None) -> tuple[Mapping, ...]:
    return (
        tuple(item for item in node.items if isinstance(item, Mapping)) if isinstance(node, Sequence) else ()
    )


def _mark_short_lists(house: Thing) -> None:
    """A set with fewer lines written than the house counts has lines that nobody has written down."""
    for line_set in house.members("line_sets"):
        stated = line_set.facts.get("lines_stated")
        lines = line_set.parts.get("lift_lines")
        if stated is None or not isinstance(stated.value, Bounds) or not isinstance(lines, tuple):
            continue
        if len(lines) < stated.value.high:
            line_set.unlisted.add("lift_lines")
