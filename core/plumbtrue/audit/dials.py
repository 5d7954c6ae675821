"""What a show can change by one number: the weight of a piece, a trim, the time of a cue, how many are on its
hand line, a loop of cable, a count of bricks.

A dial is such a fact with the step in which its numbers are printed, and with all that says the same number
and has to move with it: a cue that ends at the out trim, the rise of each leg below an apex. What is measured
of gear and of the house is no dial: nobody makes a rating or a rope otherwise by writing another number.
"""

from collections.abc import Iterable, Iterator
from math import ceil, inf
from typing import Final

from plumbtrue.audit.show import rigging_above
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.units import find_unit
from plumbtrue.quantities.values import Each, Value
from plumbtrue.rig.thing import Thing

Change = tuple[Thing, str, str]
"""A thing, one of its facts, and the text of what it would be."""


@unchanging
class Step:
    """The step in which a dial is turned: its unit as written, empty for a count, and its size."""

    unit: str
    size: float


@unchanging
class Linked:
    """A fact that says what a dial says: it is `constant + sign x number` [SI]."""

    thing: Thing
    fact: str
    constant: float
    sign: int


@unchanging
class Dial:
    """A fact of a thing that a show can change, and what moves with it."""

    thing: Thing
    fact: str
    step: Step
    stated: Bounds
    """As recorded [SI or a count]."""
    least: int
    """The smallest number of steps that can be written."""
    farthest: int
    """How many steps from what is stated it is looked for."""
    linked: tuple[Linked, ...] = ()

    @property
    def middle(self) -> float:
        """Of what is stated [SI or a count]."""
        return (self.stated.low + self.stated.high) / 2

    @property
    def spread(self) -> float:
        """How far it may be off on either side, as recorded [SI]."""
        return (self.stated.high - self.stated.low) / 2

    def changes(self, steps: int) -> tuple[Change, ...]:
        """What to write for a number of steps, with the doubt that is recorded."""
        figure = steps * self.step.size
        mine = (self.thing, self.fact, written(steps, self.step, self.spread))
        return (mine, *(self._moved(one, figure) for one in self.linked))

    def _moved(self, one: Linked, figure: float) -> Change:
        there = one.constant + one.sign * figure
        unit = self.step.unit
        return one.thing, one.fact, f"{_figure(there / self.step.size)} {unit}".strip()


def written(steps: int, step: Step, spread: float) -> str:
    """A whole number of steps as somebody writes it; its doubt is rounded up.

    >>> written(578, Step("lb", 4.4482216152605), 2 * 4.4482216152605), written(3, Step("", 1.0), 0.0)
    ('578 lb +/- 2 lb', '3')
    """
    told = f"{steps} {step.unit}".strip()
    if spread <= 1e-9 * step.size:
        return told
    off = ceil(spread / step.size * 100 - 1e-6) / 100
    return f"{told} +/- {_figure(off)} {step.unit}".strip()


def _figure(number: float) -> str:
    return f"{number:.6f}".rstrip("0").rstrip(".")


def step_of(name: str) -> Step:
    """A step by the name of its unit; a count has none."""
    if not name:
        return Step("", 1.0)
    unit = find_unit(name)
    assert unit is not None, f"{name} is a unit"
    return Step(name, float(unit.factor))


SPEAK_OF_METRES: Final = ("si", "metric")
"""Systems of a house that has its figures in metres and kilograms."""
_LENGTH: Final = {"us": "in", "si": "cm"}
_TIME: Final = {"us": "s", "si": "s"}
_COUNT: Final = {"us": "", "si": ""}
_TURNED: Final = {
    ("item", "in_trim"): (_LENGTH, 0, 36),
    ("item", "out_trim"): (_LENGTH, 0, 36),
    ("item", "trims"): (_LENGTH, 0, 36),
    ("item", "height"): (_LENGTH, 1, 36),
    ("item", "half_depth"): (_LENGTH, 1, 12),
    ("item", "from_plaster_line"): (_LENGTH, 0, 36),
    ("cue", "time"): (_TIME, 1, 300),
    ("cue", "operators"): (_COUNT, 1, 4),
    ("cable_feed", "loop_length"): (_LENGTH, 1, 240),
    ("weights", "count"): (_COUNT, 0, 64),
    ("truss", "trim"): (_LENGTH, 0, 36),
    ("truss", "from_plaster_line"): (_LENGTH, 0, 36),
    ("bridle", "apex_height"): (_LENGTH, 0, 120),
    ("second_line", "slack"): (_LENGTH, 0, 36),
    ("attachment", "spacing"): (_LENGTH, 1, 36),
    ("track", "splice_to_hanger"): (_LENGTH, 0, 36),
}
"""Facts that a show can change, besides the weight of a piece: unit of their step, the least that can be written,
and how many steps off a number is still one for this show. A piece a yard off its trim is another design.

How far off is chosen here, and no figure of the trade: it bounds what is tried and never what is met, for each number
is held against the rules by laying the plot with it.
"""
_CM_IN_AN_INCH: Final = 3
"""To the nearest (2.54), for how far a number is looked for."""
_SAME: Final = 0.0127
"""Heights that differ by less say the same [m]: half an inch, as plots are written to the inch."""


def dials_for(facts: Facts, system: str, item: Thing, outcome_of: Thing) -> tuple[Dial, ...]:
    """The dials of a piece, of its cues, of what carries it, and of what an outcome is about."""
    found: dict[tuple[Thing, str], Dial] = {}
    for thing in _around(item, outcome_of):
        for (kind, fact), (units, least, farthest) in _TURNED.items():
            if thing.kind.name != kind:
                continue
            value = _single(facts.value(thing, fact))
            if isinstance(value, Bounds) and -inf < value.low and value.high < inf and fact in thing.facts:
                step = step_of(units["si" if system in SPEAK_OF_METRES else "us"])
                most = farthest * (_CM_IN_AN_INCH if step.unit == "cm" else 1)
                links = _linked(facts, thing, fact, value)
                found[thing, fact] = Dial(thing, fact, step, value, least, most, links)
    return tuple(found.values())


def _around(item: Thing, outcome_of: Thing) -> Iterator[Thing]:
    """Things of the show that a crew can set for this piece, each once."""
    seen: set[Thing] = set()
    for thing in _gathered(item, outcome_of):
        if thing not in seen:
            seen.add(thing)
            yield thing


def _gathered(item: Thing, outcome_of: Thing) -> Iterator[Thing]:
    yield from item.below()
    plot = item.enclosing("plot")
    if plot is None:
        return
    yield from (one for one in plot.members("cues") if one.references.get("item") is item)
    on = item.references.get("on")
    if isinstance(on, Thing) and on.kind.name == "line_set":
        for sheet in plot.members("sheets"):
            if sheet.references.get("set") is on:
                yield from sheet.below()
    elif isinstance(on, Thing) and on.enclosing("plot") is not None:
        for carrier in rigging_above(on):
            yield from carrier.below()
    if outcome_of.enclosing("plot") is not None and outcome_of is not plot:
        yield from outcome_of.below()
    for name in ("first", "second"):
        beside = outcome_of.references.get(name)
        if isinstance(beside, Thing):
            yield from beside.below()


def _single(value: Value) -> Value:
    """A list of one figure is that figure."""
    return value.values[0] if isinstance(value, Each) and len(value.values) == 1 else value


_HEIGHTS: Final[dict[str, tuple[str, ...]]] = {
    "in_trim": ("drop_to_top", "height"),
    "height": ("drop_to_top", "in_trim"),
    "out_trim": (),
    "trims": (),
}
"""Heights of a piece, and what is to be added for the height of its pipe."""


def _linked(facts: Facts, thing: Thing, fact: str, value: Bounds) -> tuple[Linked, ...]:
    """What says the same number elsewhere in the plot."""
    if not value.is_exact:
        return ()
    at = value.low
    if (thing.kind.name, fact) == ("bridle", "apex_height"):
        rises = [(leg, "rise") for leg in thing.members("legs")]
        return tuple(_links(facts, rises, at, at, sign=-1))
    if thing.kind.name != "item" or fact not in _HEIGHTS:
        return ()
    hang = [facts.value(thing, name) for name in _HEIGHTS[fact]]
    if not all(isinstance(one, Bounds) and one.is_exact for one in hang):
        return ()
    pipe = at + sum(one.low for one in hang if isinstance(one, Bounds))
    plot = thing.enclosing("plot")
    cues = (
        [] if plot is None else [one for one in plot.members("cues") if one.references.get("item") is thing]
    )
    ends = [(cue, name) for cue in cues for name in ("from", "to")]
    others = [(thing, name) for name in ("out_trim", "trims") if name != fact and not _HEIGHTS[fact]]
    return tuple(_links(facts, [*ends, *others], at, pipe, sign=1))


def _links(
    facts: Facts, told: Iterable[tuple[Thing, str]], at: float, pipe: float, *, sign: int
) -> Iterator[Linked]:
    for thing, fact in told:
        value = _single(facts.value(thing, fact))
        if not isinstance(value, Bounds) or not value.is_exact or fact not in thing.facts:
            continue
        if sign < 0 or abs(value.low - pipe) < _SAME:
            yield Linked(thing, fact, value.low - sign * at, sign)
