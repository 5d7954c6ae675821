"""A rope: what is left of its diameter, how many wires it has, how it stretches."""

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.facts.published_tables import Row, table
from plumbtrue.mechanics.rope_condition import diameter_loss as loss_of_diameter
from plumbtrue.mechanics.rope_stretch import elastic_stretch, line_stiffness
from plumbtrue.quantities.bounds import Bounds, greatest_of, hull_of, is_at_least, least_of
from plumbtrue.quantities.dimension import AREA, FORCE, FORCE_PER_AREA, FORCE_PER_LENGTH, LENGTH, RATIO
from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.values import NONE, Each, Unknown
from plumbtrue.rig.thing import Thing


def _across(known: Gathering, reading: Thing) -> list[Bounds]:
    """The figures of one reading [m]; none where they are not written."""
    value = known.value(reading, "across", f"readings at {reading.key}")
    figures = value.values if isinstance(value, Each) else (value,)
    return [one for one in figures if isinstance(one, Bounds)]


@computed("rope", "smallest_diameter")
def smallest_diameter(known: Gathering, thing: Thing) -> Answer:
    """Smallest diameter measured anywhere: the least of all readings, and of a single figure that somebody
    wrote.

    Where readings were kept, a statement that the rope is in order adds nothing to them.
    """
    held = known.facts.part(thing, "readings")
    figures: list[Bounds] = []
    for reading in held if isinstance(held, tuple) else ():
        found = _across(known, reading)
        figures.extend(found)
        if not found:
            known.loose.append(Missing(reading, "across"))
            figures.append(NOUGHT_OR_MORE)
    single = known.facts.answer(thing, "diameter_measured")
    stated = single.recorded is not None and single.recorded.origin == "in-order"
    if isinstance(single.value, Bounds) and not (figures and stated):
        figures.append(known.figure(thing, "diameter_measured", within=NOUGHT_OR_MORE))
    if not figures:
        known.lack(thing, "diameter_measured")
        if isinstance(held, Unknown):
            known.lacking.append(Missing(thing, "readings"))
        known.settle()
    least = least_of(figures)
    if known.facts.is_unlisted(thing, "readings"):
        known.loose.append(Missing(thing, "readings", "not all of them identified"))
        least = Bounds(0.0, least.high)
    return known.within(least, "rope-condition", "least of all readings", LENGTH, "readings as recorded")


def _loss(known: Gathering, thing: Thing, against: Bounds) -> Answer:
    least = known.figure(thing, "smallest_diameter", within=NOUGHT_OR_MORE)
    known.settle()
    if against.low <= 0:
        known.decline("a rope without a diameter")
    loss = over_bounds(loss_of_diameter, against, least)
    return known.answer(loss, "rope-condition", "1 - smallest diameter / diameter", RATIO, "arithmetic")


@computed("rope", "diameter_loss")
def diameter_loss(known: Gathering, thing: Thing) -> Answer:
    """Loss of diameter against nominal."""
    return _loss(known, thing, known.figure(thing, "diameter", within=NOUGHT_OR_MORE))


@computed("rope", "diameter_loss_from_new")
def diameter_loss_from_new(known: Gathering, thing: Thing) -> Answer:
    """Loss of diameter against the size measured when new; none where that was not kept."""
    if known.perhaps(thing, "diameter_as_new") is NONE:
        return known.within(NONE, "rope-condition", "no size when new was kept", None)
    return _loss(known, thing, known.figure(thing, "diameter_as_new", within=NOUGHT_OR_MORE))


@computed("rope", "least_over_largest")
def least_over_largest(known: Gathering, thing: Thing) -> Answer:
    """Flattening: smallest over largest diameter at one place, from places with two readings."""
    held = known.facts.part(thing, "readings")
    shares: list[Bounds] = []
    for reading in held if isinstance(held, tuple) else ():
        figures = _across(known, reading)
        if len(figures) >= 2:
            least = least_of(figures)
            most = greatest_of(figures)
            if most.low > 0:
                shares.append(Bounds(least.low / most.high, min(least.high / most.low, 1.0)))
    if not shares:
        known.lack(thing, "least_over_largest", "no place has two readings")
        known.settle()
    flattest = least_of(shares)
    return known.answer(
        flattest, "rope-condition", "smallest / largest reading at one place", RATIO, "arithmetic"
    )


def _construction(known: Gathering, thing: Thing) -> tuple[Row, ...]:
    """Rows of every construction and core that the rope may be of; empty, and counted, where one has no
    row.
    """
    constructions = known.words(thing, "construction")
    rows: list[Row] = []
    for construction in sorted(constructions):
        of_this = table("rope-constructions").all(construction=construction)
        if len(of_this) > 1:
            cores = known.words(thing, "core")
            of_this = tuple(row for row in of_this if row.cells["core"] in cores)
        if not of_this:
            known.settle()
            known.decline(f"no table row for the construction {construction}")
        rows.extend(of_this)
    return tuple(rows)


def _hull(known: Gathering, rows: tuple[Row, ...], column: str) -> Bounds:
    figures = [row.figure(column) for row in rows]
    known_figures = [one for one in figures if one is not None]
    if len(known_figures) < len(figures) or not figures:
        known.settle()
        known.decline(f"the table gives no {column.replace('_', ' ')} for this construction")
    return hull_of(known_figures)


@computed("rope", "wire_count")
def wire_count(known: Gathering, thing: Thing) -> Answer:
    """Wires in the rope, by its construction; a range where the name covers several patterns."""
    rows = table_rows_for_wires(known, thing)
    return known.answer(
        _hull(known, rows, "wires"), "wire-count", "table of constructions", RATIO, rows[0].authority
    )


def table_rows_for_wires(known: Gathering, thing: Thing) -> tuple[Row, ...]:
    """Rows that give the number of wires, which does not hang on the core."""
    rows: list[Row] = []
    for construction in sorted(known.words(thing, "construction")):
        of_this = table("rope-constructions").all(construction=construction)
        if not of_this:
            known.decline(f"no table row for the construction {construction}")
        rows.extend(of_this)
    known.settle()
    return tuple(rows)


@computed("rope", "broken_wires_unseen")
def broken_wires_unseen(known: Gathering, thing: Thing) -> Answer:
    """Broken wires where nobody looked: none when the whole length was seen, any number otherwise."""
    seen = known.figure(thing, "length_seen", "share of the length that was seen", within=Bounds(0.0, 1.0))
    known.settle()
    if is_at_least(seen, Bounds.exactly(1.0)) is not Truth.HOLDS:
        known.loose.append(Missing(thing, "length_seen", "not the whole length was seen"))
        return known.within(
            NOUGHT_OR_MORE, "rope-condition", "what was not seen may hide any", RATIO, "logic"
        )
    return known.answer(Bounds.exactly(0.0), "rope-condition", "the whole length was seen", RATIO, "logic")


@computed("rope", "metal_area")
def metal_area(known: Gathering, thing: Thing) -> Answer:
    """Metal area by construction and diameter: `A = C d^2`."""
    rows = _construction(known, thing)
    diameter = known.figure(thing, "diameter", within=NOUGHT_OR_MORE)
    known.settle()
    factor = known.given("area factor C", _hull(known, rows, "area_factor"), RATIO, rows[0].authority)
    return known.answer(factor * diameter * diameter, "rope-factors", "A = C d^2", AREA, rows[0].authority)


@computed("rope", "modulus")
def modulus(known: Gathering, thing: Thing) -> Answer:
    """Modulus on metal area, from low load to working load."""
    rows = _construction(known, thing)
    known.settle()
    return known.answer(
        _hull(known, rows, "modulus"),
        "rope-factors",
        "table of constructions",
        FORCE_PER_AREA,
        rows[0].authority,
    )


@computed("rope", "weight_per_length")
def weight_per_length(known: Gathering, thing: Thing) -> Answer:
    """Weight per length by family, construction, core and diameter; no row, no figure."""
    family = known.word(thing, "family")
    construction = known.word(thing, "construction") if family == "wire" else "three-strand"
    diameter = known.figure(thing, "diameter", within=NOUGHT_OR_MORE)
    core = "none"
    if family == "wire":
        core = "strand" if construction in ("7x19", "7x7") else known.word(thing, "core")
        construction = "6x19" if construction in ("6x19-seale", "6x25-filler") else construction
    known.settle()
    row = None
    if diameter.is_exact:
        row = table("rope-weights").row(
            family=family, construction=construction, core=core, diameter=diameter.low
        )
    weight = row.figure("weight") if row is not None else None
    if row is None or weight is None:
        known.decline(f"no table row for the weight of {construction} {family} rope of this size")
    return known.answer(weight, "rope-weights", "table of ropes", FORCE_PER_LENGTH, row.authority)


def elasticity(known: Gathering, thing: Thing) -> Bounds:
    """EA of a wire rope [N]."""
    family = known.word(thing, "family")
    if family not in ("wire", ""):
        known.decline("fibre rope does not stretch in proportion to its load; its maker's curve counts")
    area = known.figure(thing, "metal_area", within=NOUGHT_OR_MORE)
    return area * known.figure(thing, "modulus", within=NOUGHT_OR_MORE)


@computed("rope", "stiffness")
def stiffness(known: Gathering, thing: Thing) -> Answer:
    """Pull for a unit of stretch: EA / L over the whole rope, which is equally long at every height of the
    batten.
    """
    EA = elasticity(known, thing)
    length = known.figure(thing, "length", within=NOUGHT_OR_MORE)
    known.settle()
    if length.low <= 0:
        known.decline("a rope without length")
    stiff = over_bounds(lambda EA, L: line_stiffness([(EA, L)]), EA, length)
    return known.answer(stiff, "rope-stretch", "k = E A / L", FORCE_PER_LENGTH, "Hooke's law")


@computed("rope", "stretch")
def stretch(known: Gathering, thing: Thing) -> Answer:
    """Elastic stretch under its line's pull: T L / (E A). What new rope beds in comes on top, once."""
    line = known.around(thing, "lift_line")
    EA = elasticity(known, thing)
    length = known.figure(thing, "length", within=NOUGHT_OR_MORE)
    pull = known.figure(line, "reaction", "pull of the line", within=NOUGHT_OR_MORE)
    known.settle()
    known.step("pull", pull, FORCE)
    if EA.low <= 0:
        known.decline("a rope without stiffness")
    found = over_bounds(elastic_stretch, pull, length, EA)
    return known.answer(found, "rope-stretch", "T L / (E A)", LENGTH, "Hooke's law")
