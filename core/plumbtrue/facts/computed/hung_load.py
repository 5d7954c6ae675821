"""What a plot hangs on one set: the pulls of its pieces at places along the batten, state by state, and how
they are drawn along it.

A state is one way in which the set hangs: a curtain open or closed or anywhere between, a piece in or out.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import product
from math import inf
from typing import Final

from plumbtrue.facts.answer import Missing
from plumbtrue.facts.computed.item_pulls import (
    NOTHING,
    ItemPulls,
    Pull,
    State,
    places_of,
    pulls_of,
    stack_of,
)
from plumbtrue.facts.computed.places import from_zero
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Choice
from plumbtrue.rig.thing import Thing

TRAVEL_STEPS: Final = 32
"""Carrier places tried between an open and a closed curtain."""


@unchanging
class BeamPull:
    """One pull on the batten: its weight [N], and where it may be in metres from the zero end.

    A point lies in `at`. A spread one runs from `start` to `end`. `anywhere` is a point of which nobody says
    where.
    """

    label: str
    thing: Thing
    item: Thing
    weight: Bounds
    at: Bounds | None = None
    start: Bounds | None = None
    end: Bounds | None = None
    touches: Bounds | None = None
    """A place that one that may be anywhere touches."""

    @property
    def anywhere(self) -> bool:
        return self.at is None and self.start is None


@unchanging
class HungState:
    """One way in which a set hangs."""

    label: str
    pulls: tuple[BeamPull, ...]
    sure: bool = True
    """Whether it comes about at all: not where a curtain may gather one way or another."""


@unchanging
class HungLoad:
    """What a plot hangs on a set. Weights [N]."""

    known: Gathering
    items: tuple[Thing, ...]
    of_item: tuple[ItemPulls, ...]
    live: Bounds
    """All of it in the heaviest state."""
    states: tuple[HungState, ...]
    """Every state that can last: at least one, with nothing in it for a bare set."""
    on_the_way: tuple[HungState, ...]
    """Curtains between open and closed."""
    whole: bool
    """Whether everything that hangs there is known with its weight."""


def hung_load(facts: Facts, line_set: Thing) -> HungLoad:
    """Gather what a plot hangs on a set. Without a plot there is none to tell.

    Raises:
        Lacking: no plot is laid over the house.
    """
    known = Gathering(facts)
    if facts.rig.plot is None:
        known.lack(line_set, "items", "no plot is laid over the house")
        known.settle()
    items = known.things(line_set, "items")
    of_item = tuple(facts.kept(item, pulls_of) for item in items)
    for one in of_item:
        known.include(one.known)
    whole = not known.lacking
    placing = Gathering(facts)
    placed = [
        (item, pull, _on_batten(placing, line_set, item, pull))
        for item, found in zip(items, of_item, strict=True)
        for pull in found.pulls
    ]
    known.include(placing)
    live = sum((one.total for one in of_item), NOTHING)
    if facts.is_unlisted(line_set, "items"):
        live = Bounds(live.low, inf)
    return HungLoad(
        known=known,
        items=items,
        of_item=of_item,
        live=live,
        states=_states(placed),
        on_the_way=_on_the_way(placing, line_set, items, of_item, placed),
        whole=whole,
    )


_Placed = tuple[Thing, Pull, BeamPull]


def _on_batten(known: Gathering, line_set: Thing, item: Thing, pull: Pull) -> BeamPull:
    batten = known.facts.part(line_set, "batten")
    bare = BeamPull(f"{item.key}, {pull.label}", pull.thing, item, pull.weight)
    if not isinstance(batten, Thing):
        return bare
    if not pull.is_placed:
        touched = None if pull.touches is None else from_zero(known, batten, pull.touches)
        return replace(bare, touches=touched)
    if pull.at is not None:
        return BeamPull(bare.label, pull.thing, item, pull.weight, at=from_zero(known, batten, pull.at))
    assert pull.start is not None
    assert pull.end is not None
    ends = [from_zero(known, batten, spot) for spot in (pull.start, pull.end)]
    ends.sort(key=lambda one: one.low + one.high)
    if ends[1].high <= ends[0].low:
        return BeamPull(bare.label, pull.thing, item, pull.weight, at=ends[0])
    return BeamPull(bare.label, pull.thing, item, pull.weight, start=ends[0], end=ends[1])


_GROUPS: Final[tuple[tuple[State, ...], ...]] = (("open", "closed"), ("in", "out"))


def _states(placed: Sequence[_Placed]) -> tuple[HungState, ...]:
    """Every choice of open or closed, in or out, that the pulls know of."""
    groups = [
        states
        for group in _GROUPS
        if (states := [state for state in group if any(pull.state == state for _, pull, _ in placed)])
    ]
    found = []
    for chosen in product(*groups):
        pulls = tuple(beam for _, pull, beam in placed if pull.state == "always" or pull.state in chosen)
        found.append(HungState(" and ".join(chosen) or "hung", pulls))
    return tuple(found)


def _on_the_way(
    known: Gathering,
    line_set: Thing,
    items: Sequence[Thing],
    of_item: Sequence[ItemPulls],
    placed: Sequence[_Placed],
) -> tuple[HungState, ...]:
    """Curtains at every carrier place between open and closed, all panels of the set drawn together."""
    moved = []
    for item, found in zip(items, of_item, strict=True):
        for panel in found.panels:
            weight = next((pull.weight for pull in found.pulls if pull.thing is panel), NOUGHT_OR_MORE)
            moved.append((item, panel, _runs(known, line_set, panel), weight))
    if not any(runs for _, _, runs, _ in moved):
        return ()
    still = tuple(beam for _, pull, beam in placed if pull.state in ("always", "in"))
    ways = sorted({way for _, panel, _, _ in moved for way in _ways(known, panel)})
    sure = len(ways) == 1 and all(len(runs) == 1 for _, _, runs, _ in moved)
    states = []
    for way in ways:
        for end in (0, -1) if not sure else (0,):
            for step in range(1, TRAVEL_STEPS):
                share = step / TRAVEL_STEPS
                drawn = [
                    beam
                    for item, panel, runs, weight in moved
                    if runs
                    for beam in runs[end].pulls(item, panel, weight, share, way)
                ]
                states.append(HungState(f"{share:.0%} closed, gathering {way}", (*still, *drawn), sure))
    return tuple(states)


@unchanging
class _Run:
    """The run of a panel [m from the zero end]: its off-stage end, its width when closed, its stack, and
    which way it closes.
    """

    off_stage: float
    width: float
    stack: float
    towards: float

    def pulls(
        self, item: Thing, panel: Thing, weight: Bounds, share: float, way: str
    ) -> tuple[BeamPull, ...]:
        """A stack and cloth hung out beside it, with the leading edge part of the way out."""
        edge = self.stack + share * (self.width - self.stack)
        out, bunched = 1 / self.width, 1 / self.stack
        stack = (1 - out * edge) / (bunched - out)
        if way == "at the leading edge":
            parts = [(0.0, edge - stack, out), (edge - stack, edge, bunched)]
        else:
            parts = [(0.0, stack, bunched), (stack, edge, out)]
        return tuple(
            self._part(item, panel, weight, start, end, intensity)
            for start, end, intensity in parts
            if end - start > 1e-6 * self.width
        )

    def _part(
        self, item: Thing, panel: Thing, weight: Bounds, start: float, end: float, intensity: float
    ) -> BeamPull:
        places = sorted(self.off_stage + self.towards * place for place in (start, end))
        part = weight * Bounds.exactly(intensity * (end - start))
        return BeamPull(
            f"{item.key}, {panel.key}",
            panel,
            item,
            part,
            start=Bounds.exactly(places[0]),
            end=Bounds.exactly(places[1]),
        )


def _runs(known: Gathering, line_set: Thing, panel: Thing) -> tuple[_Run, ...]:
    """The run of a panel, with its shortest and its longest stack; none where it cannot be told."""
    batten = known.facts.part(line_set, "batten")
    stack, on_stage = stack_of(known, panel), places_of(known.facts, panel, "closed_from")
    if not isinstance(batten, Thing) or stack is None or not on_stage:
        return ()
    outer, inner, edge = (from_zero(known, batten, spot) for spot in (*stack, on_stage[0]))
    width = abs(_middle(edge) - _middle(outer))
    lengths = sorted({abs(inner.low - _middle(outer)), abs(inner.high - _middle(outer))})
    towards = 1.0 if _middle(edge) > _middle(outer) else -1.0
    return tuple(_Run(_middle(outer), width, one, towards) for one in lengths if 0 < one < width)


def _middle(bounds: Bounds) -> float:
    return (bounds.low + bounds.high) / 2


def _ways(known: Gathering, panel: Thing) -> tuple[str, ...]:
    """Where it bunches on its way; both where nobody says."""
    gathers = known.facts.value(panel, "gathers")
    names = {"leading-edge": "at the leading edge", "off-stage": "at the off-stage end"}
    if not isinstance(gathers, Choice):
        known.loose.append(Missing(panel, "gathers"))
        return tuple(names.values())
    return tuple(names[word] for word in gathers.possible if word in names)
