"""The pipe of a batten: its sizes by table where nobody measured, its section as it is now, its metal.

Strength comes from a grade that is known, from nothing else. Weight and stiffness of a pipe without any grade
are taken between those of aluminium and steel; of one that was looked at and bears no mark, as steel.
"""

from collections.abc import Callable

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering, clipped
from plumbtrue.facts.published_tables import Row, customary, table
from plumbtrue.mechanics.section import Section, round_tube
from plumbtrue.quantities.bounds import Bounds, hull_of
from plumbtrue.quantities.dimension import FORCE_PER_AREA, FORCE_PER_LENGTH, LENGTH, RATIO, SECOND_MOMENT
from plumbtrue.quantities.values import NONE, Absent, Choice
from plumbtrue.rig.thing import Thing

_TUBE = "integration over the ring, any handbook of mechanics"


def _by_table(known: Gathering, thing: Thing, column: str, keys: tuple[str, ...]) -> Answer:
    words = {key: known.word(thing, key) for key in keys}
    known.settle()
    rows = table("pipe-sizes").all(**words)
    found = rows[0].figure(column) if rows else None
    if found is None:
        known.decline(f"no table row for pipe {' schedule '.join(words.values())}")
    return known.answer(found, "pipe-sizes", "table of pipe sizes", LENGTH, rows[0].authority)


@computed("batten", "outside_diameter")
def outside_diameter(known: Gathering, thing: Thing) -> Answer:
    """Outside diameter by the nominal size."""
    return _by_table(known, thing, "outside_diameter", ("nominal",))


@computed("batten", "wall")
def wall(known: Gathering, thing: Thing) -> Answer:
    """Wall when new, by nominal size and schedule."""
    return _by_table(known, thing, "wall", ("nominal", "schedule"))


@computed("batten", "yield")
def least_yield(known: Gathering, thing: Thing) -> Answer:
    """Least yield of a grade that is known; a pipe without one has none."""
    grade = known.word(thing, "grade")
    known.settle()
    row = table("batten-metals").row(grade=grade)
    found = row.figure("yield") if row is not None else None
    if row is None or found is None:
        known.decline(
            f"grade {grade} promises no yield that is on file here; an engineer's figure is recorded as yield"
        )
    return known.answer(found, "least-yield", "table of grades", FORCE_PER_AREA, row.authority)


def wall_now(known: Gathering, thing: Thing) -> Bounds:
    """The wall as it is now [m]: as measured; else as new, which a mill may roll thin, where no rust is on
    it.
    """
    new = known.figure(thing, "wall", "wall when new", within=NOUGHT_OR_MORE)
    measured = known.perhaps(thing, "wall_measured", "wall as measured")
    if isinstance(measured, Bounds):
        if measured.is_exact:
            return measured
        return clipped(measured, Bounds(0.0, new.high))
    rust = known.words(thing, "rust")
    if rust - {"none"}:
        known.lack(thing, "wall_measured", "a rusty wall is no wall until it is measured")
    thinnest, source = customary("thinnest-mill-wall")
    known.suppose(f"a wall that nobody measured may be {thinnest.low:g} of the nominal one: {source}")
    return new * Bounds(thinnest.low, 1.0)


def is_pipe(known: Gathering, thing: Thing) -> bool:
    """Whether a batten is one round pipe; counted where its form is not known."""
    form = known.word(thing, "form")
    return form in ("pipe", "")


def sections(known: Gathering, thing: Thing) -> tuple[Section, Section] | None:
    """The section at the thinnest and at the thickest wall that the pipe may have; nothing as long as facts
    are missing.
    """
    if not is_pipe(known, thing):
        known.decline("a built or timber batten is judged by its maker's table or an engineer")
    diameter = known.figure(thing, "outside_diameter", within=NOUGHT_OR_MORE)
    thickness = wall_now(known, thing)
    if known.lacking:
        return None
    if not (diameter.low > 0 and thickness.low > 0 and 2 * thickness.high <= diameter.low):
        known.decline("no tube has such an outside diameter and wall")
    return round_tube(diameter.low, thickness.low), round_tube(diameter.high, thickness.high)


def _of_section(known: Gathering, thing: Thing, figure: Callable[[Section], float]) -> Bounds:
    found = sections(known, thing)
    known.settle()
    assert found is not None
    return Bounds(figure(found[0]), figure(found[1]))


@computed("batten", "section")
def section(known: Gathering, thing: Thing) -> Answer:
    """Second moment of area of the pipe as it is now."""
    found = _of_section(known, thing, lambda one: one.second_moment)
    return known.answer(found, "section-properties", "I = pi (D^4 - d^4) / 64", SECOND_MOMENT, _TUBE)


@computed("batten", "second_moment")
def second_moment(known: Gathering, thing: Thing) -> Answer:
    """The same, where nobody recorded it."""
    return section(known, thing)


def metals(known: Gathering, thing: Thing) -> tuple[Row, ...]:
    """The metals that the pipe may be of, for its weight and stiffness; never for its strength."""
    rows = table("batten-metals").rows
    answer = known.facts.answer(thing, "grade")
    if isinstance(answer.value, Absent):
        known.suppose("a pipe without any mark is taken as steel for its weight and stiffness")
        return tuple(row for row in rows if row.cells["grade"] == "a53-a")
    words = answer.value.possible if isinstance(answer.value, Choice) else frozenset[str]()
    named = tuple(row for row in rows if row.cells["grade"] in words)
    if named and len(named) == len(words):
        known.value(thing, "grade")
        return named
    known.loose.extend(answer.missing or (Missing(thing, "grade", "it does not say of which metal"),))
    known.suppose("a pipe of unknown metal weighs between aluminium and steel")
    return rows


def _hull(rows: tuple[Row, ...], column: str) -> Bounds:
    figures = [figure for row in rows if (figure := row.figure(column)) is not None]
    return hull_of(figures)


@computed("batten", "weight_per_length")
def weight_per_length(known: Gathering, thing: Thing) -> Answer:
    """Weight per length: from the whole weight where that is written, else area of the new section by the
    weight of its metal.
    """
    whole = known.perhaps(thing, "weight", "whole weight of the batten")
    if isinstance(whole, Bounds):
        length = known.figure(thing, "length", within=NOUGHT_OR_MORE)
        known.settle()
        if length.low <= 0:
            known.decline("a batten without length")
        return known.answer(
            whole / length, "batten-weight", "whole weight / length", FORCE_PER_LENGTH, "arithmetic"
        )
    if not is_pipe(known, thing):
        known.lack(thing, "weight")
        known.settle()
    diameter = known.figure(thing, "outside_diameter", within=NOUGHT_OR_MORE)
    new = known.figure(thing, "wall", "wall when new", within=NOUGHT_OR_MORE)
    metal = metals(known, thing)
    known.settle()
    if not (diameter.low > 0 and new.low > 0 and 2 * new.high <= diameter.low):
        known.decline("no tube has such an outside diameter and wall")
    heavy = known.given(
        "weight of the metal", _hull(metal, "weight"), FORCE_PER_AREA / LENGTH, metal[0].authority
    )
    area = Bounds(round_tube(diameter.low, new.low).area, round_tube(diameter.high, new.high).area)
    formula = "area of the tube x weight of its metal"
    return known.answer(area * heavy, "section-properties", formula, FORCE_PER_LENGTH, metal[0].authority)


def modulus(known: Gathering, thing: Thing) -> Bounds:
    """Modulus of elasticity of the pipe [Pa]."""
    rows = metals(known, thing)
    authority = rows[0].authority if rows else ""
    return known.given("modulus of the metal", _hull(rows, "modulus"), FORCE_PER_AREA, authority)


def bending_stiffness(known: Gathering, thing: Thing) -> Bounds:
    """Bending stiffness EI of the batten [N m2]."""
    inertia = known.figure(thing, "second_moment", within=NOUGHT_OR_MORE)
    return inertia * modulus(known, thing)


@computed("batten", "bow_ratio")
def bow_ratio(known: Gathering, thing: Thing) -> Answer:
    """Permanent bow over the ten feet along which it is measured."""
    bow = known.perhaps(thing, "bow", "permanent bow in 10 ft")
    if bow is None:
        known.lack(thing, "bow")
        known.settle()
    bent = Bounds.exactly(0.0) if not isinstance(bow, Bounds) else clipped(bow, NOUGHT_OR_MORE)
    if bow is NONE:
        known.suppose("no bow was found")
    return known.answer(bent / Bounds.exactly(_TEN_FEET), "bow-ratio", "bow / 10 ft", RATIO, "arithmetic")


_TEN_FEET = 10 * 0.3048
