"""Who hangs where in a plot that is laid over a house: from a set to its pieces, from a piece to its set, from
a pair to both. No figures.

A piece of which nobody says where it hangs could hang on any set, so until somebody says, no set's pieces are
known to be all.
"""

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.registry import computed, finds
from plumbtrue.facts.gathering import Gathering
from plumbtrue.facts.store import AndPerhapsMore, Facts, Found
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import NONE, UNKNOWN, Absent, Choice, Name, Unknown
from plumbtrue.rig.laying import DECK
from plumbtrue.rig.thing import Thing

_NAMES = "the names in the plot"


@finds("house", "plot")
def plot_of_house(facts: Facts, thing: Thing) -> Found:
    """The plot that is laid over it; none where it is looked at by itself."""
    return facts.rig.plot or NONE


def items_whole(facts: Facts, plot: Thing) -> tuple[Missing, ...]:
    """What would tell whether the pieces written down, and where they hang, are all; nothing where they
    are.
    """
    missing: list[Missing] = []
    items = plot.parts.get("items")
    if not isinstance(items, tuple | Absent):
        missing.append(Missing(plot, "items"))
    elif "items" in plot.unlisted:
        missing.append(Missing(plot, "items", "not all of them identified"))
    missing.extend(Missing(item, "on") for item in plot.members("items") if not _is_placed(facts, item))
    return tuple(missing)


def _is_placed(facts: Facts, item: Thing) -> bool:
    return "on" in item.references or isinstance(facts.value(item, "on"), Name)


@finds("line_set", "items")
def items_on_set(facts: Facts, thing: Thing) -> Found:
    """The pieces that a plot hangs on a set; none without a plot."""
    plot = facts.rig.plot
    if plot is None:
        return NONE
    found = tuple(item for item in plot.members("items") if item.references.get("on") is thing)
    missing = items_whole(facts, plot)
    return AndPerhapsMore(found, missing) if missing else found


@finds("plot", "used_sets")
def used_sets(facts: Facts, thing: Thing) -> Found:
    """The sets on which the plot hangs anything, each once, in the order of its pieces."""
    sets = dict.fromkeys(
        on
        for item in thing.members("items")
        if isinstance(on := item.references.get("on"), Thing) and on.kind.name == "line_set"
    )
    missing = items_whole(facts, thing)
    return AndPerhapsMore(tuple(sets), missing) if missing else tuple(sets)


@finds("plot", "pairs")
def pairs(facts: Facts, thing: Thing) -> Found:
    """Made when the plot is laid over a house; not known of one that is not."""
    return UNKNOWN


@finds("item", "set")
def set_of_item(facts: Facts, thing: Thing) -> Found:
    """The set that carries it."""
    on = thing.references.get("on")
    if isinstance(on, Thing):
        return on if on.kind.name == "line_set" else NONE
    return NONE if facts.value(thing, "on") == Name(DECK) else UNKNOWN


@computed("item", "carried_by")
def carried_by(known: Gathering, thing: Thing) -> Answer:
    """What carries it."""
    on = thing.references.get("on")
    words = {"line_set": "set", "truss": "truss", "point": "point", "bridle": "point", "hoist": "point"}
    if isinstance(on, Thing) and on.kind.name in words:
        word = words[on.kind.name]
    elif known.facts.value(thing, "on") == Name(DECK):
        word = "deck"
    else:
        known.lack(thing, "on")
        raise known.what_is_missing()
    return known.within(
        Choice(frozenset({word})), "carried-by", "what its place names", None, "the place as written"
    )


@finds("item", "overlaps")
def overlaps(facts: Facts, thing: Thing) -> Found:
    """Other pieces on its set that reach over a stretch of batten that it reaches over, layered or not."""
    from plumbtrue.facts.computed.item_reach import reaches_overlap

    line_set = facts.part(thing, "set")
    if isinstance(line_set, Absent):
        return ()
    if not isinstance(line_set, Thing):
        return UNKNOWN
    others = facts.part(line_set, "items")
    missing = [Missing(line_set, "items")] if facts.is_unlisted(line_set, "items") else []
    found = []
    for other in others if isinstance(others, tuple) else ():
        if other is thing:
            continue
        truth, lacking = reaches_overlap(facts, thing, other)
        if truth is None:
            missing.extend(lacking)
        elif truth:
            found.append(other)
    return AndPerhapsMore(tuple(found), tuple(missing)) if missing else tuple(found)


def _of_pair(name: str) -> None:
    @finds("pair", name)
    def find(facts: Facts, thing: Thing) -> Found:
        held = thing.references.get(name)
        return held if isinstance(held, Thing) else UNKNOWN


_of_pair("first")
_of_pair("second")


@finds("pair", "told_under")
def told_under(facts: Facts, thing: Thing) -> Found:
    """The piece under which a gap is told: not the lighting, else the deeper one, else the later one."""
    first, second = thing.references.get("first"), thing.references.get("second")
    if not (isinstance(first, Thing) and isinstance(second, Thing)):
        return UNKNOWN
    return min(
        (first, second), key=lambda item: (_is_electric(facts, item), -_depth(facts, item), *_last(item))
    )


def _is_electric(facts: Facts, item: Thing) -> bool:
    category = facts.value(item, "category")
    return isinstance(category, Choice) and category.word == "electric"


def _depth(facts: Facts, item: Thing) -> float:
    depth = facts.value(item, "half_depth")
    return depth.high if isinstance(depth, Bounds) else 0.0


def _last(item: Thing) -> tuple[int, ...]:
    return tuple(-ord(letter) for letter in item.key)


@finds("drawn_set", "set")
def drawn_set(facts: Facts, thing: Thing) -> Found:
    """The set of the house that a drawing means; none where the house has no such set."""
    return NONE if facts.rig.plot is not None else UNKNOWN


@computed("drawn_set", "difference")
def drawn_difference(known: Gathering, thing: Thing) -> Answer:
    """Drawn distance from the plaster line less the house's, of either sign."""
    from plumbtrue.quantities.dimension import LENGTH

    line_set = known.facts.part(thing, "set")
    if isinstance(line_set, Absent):
        known.decline("the house has no such set")
    drawn = known.figure(thing, "from_plaster_line", "as drawn")
    if isinstance(line_set, Thing):
        real = known.figure(line_set, "from_plaster_line", "in the house")
    else:
        known.lack(thing, "set")
        real = drawn
    known.settle()
    return known.answer(drawn - real, "drawn-difference", "drawn - in the house", LENGTH, "arithmetic")


def carrier(facts: Facts, item: Thing) -> Thing | Absent | Unknown:
    """What a piece hangs on: `none` for one that stands on the deck."""
    on = item.references.get("on")
    if isinstance(on, Thing):
        return on
    return NONE if facts.value(item, "on") == Name(DECK) else UNKNOWN
