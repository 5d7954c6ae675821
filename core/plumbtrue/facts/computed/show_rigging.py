"""Trusses and hoists: what each carries at rest.

A truss hangs on supports that only pull. A hoist's point carries the load on its hook, the hoist's body and
its chain. Starting and stopping add to that; the factor is in the
hoist's own load, and rules multiply it where they ask for the force on structure.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from math import inf
from typing import TYPE_CHECKING, Final

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.hanging_from import count_the_unplaced, pieces_on, supported_by
from plumbtrue.facts.computed.item_pulls import Pull, pulls_of
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.computed.show_trims import below_deflectors
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Declined, Gathering
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.facts.published_tables import customary
from plumbtrue.facts.store import Facts
from plumbtrue.mechanics.hoist_point import hook_load, point_total
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.quantities.bounds import Bounds, greatest_of
from plumbtrue.quantities.dimension import FORCE, FORCE_PER_LENGTH, LENGTH, RATIO
from plumbtrue.quantities.values import NONE, UNKNOWN, Absent, Spot, Unknown
from plumbtrue.rig.thing import Thing

if TYPE_CHECKING:
    from plumbtrue.mechanics.batten import Batten, Line, Load
    from plumbtrue.mechanics.load_bounds import BoundedLoad, TensionBounds

_STATICS: Final = "statics and plane geometry (derived)"
_BEAM: Final = (
    "on two supports moments about the other one; on more the three-moment equation; supports only pull"
)
_EI: Final = 1.0e5
"""Stiffness for what does not hang on it [N m2]."""
NOTHING: Final = Bounds.exactly(0.0)


def _place(known: Gathering, truss: Thing, spot: Spot) -> Bounds:
    """A place along a truss from its stage-right end [m]; its middle hangs on the centre line."""
    if not spot.from_centre:
        return spot.distance
    known.suppose("the middle of a truss hangs on the centre line")
    return (
        known.figure(truss, "length", "length of the truss", within=NOUGHT_OR_MORE) * Bounds.exactly(0.5)
        + spot.distance
    )


def _own_loads(known: Gathering, truss: Thing) -> Iterator[Pull]:
    held = known.facts.part(truss, "loads")
    for load in held if isinstance(held, tuple) else ():
        weight = known.figure(load, "weight", f"{load.key} on {truss.key}", within=NOUGHT_OR_MORE)
        value = known.facts.value(load, "at")
        spots = [one for one in getattr(value, "values", (value,)) if isinstance(one, Spot)]
        ends = [one for name in ("from", "to") if isinstance(one := known.facts.value(load, name), Spot)]
        if len(ends) == 2:
            yield Pull(load.key, load, weight, start=ends[0], end=ends[1])
        for spot in spots:
            yield Pull(load.key, load, weight, at=spot)
        if not spots and len(ends) != 2:
            known.lack(load, "at")


def _truss_pulls(known: Gathering, truss: Thing) -> tuple[Pull, ...]:
    """Everything that hangs on a truss, with allowances; its own weight left out."""
    pulls = list(_own_loads(known, truss))
    count_the_unplaced(known, truss)
    for item in pieces_on(known.facts, truss):
        found = known.facts.kept(item, pulls_of)
        known.include(found.known)
        pulls += found.pulls
    return tuple(pulls)


@computed("truss", "total_weight")
def truss_weight(known: Gathering, thing: Thing) -> Answer:
    """Truss and all that hangs on it, with allowances."""
    own = known.figure(thing, "weight", "own weight", within=NOUGHT_OR_MORE)
    pulls = _truss_pulls(known, thing)
    known.settle()
    total = own + sum((one.weight for one in pulls), NOTHING)
    return known.within(total, "truss-weight", "own weight + everything on it", FORCE, "sums (derived)")


def _supports(known: Gathering, truss: Thing) -> tuple[tuple[Thing, Bounds], ...]:
    found = [
        (one, known.figure(one, "at", f"place of {one.key}", within=NOUGHT_OR_MORE))
        for one in known.things(truss, "supports")
    ]
    return tuple(sorted(found, key=lambda pair: pair[1].low + pair[1].high))


def _forces(
    facts: Facts, truss: Thing
) -> tuple[Gathering, tuple[Thing, ...], list[Bounds], list[Bounds], list[Bounds | Absent | Unknown]]:
    """Force at each support: level, out of step, and with another one lost [N]. Raises as computations do."""
    from plumbtrue.mechanics.batten import Batten, Line, PointLoad, SpreadLoad
    from plumbtrue.mechanics.load_bounds import BoundedLoad, tension_bounds
    from plumbtrue.mechanics.lost_support import one_out_of_step

    known = Gathering(facts)
    length = known.figure(truss, "length", "length of the truss", within=NOUGHT_OR_MORE)
    own = known.figure(truss, "weight", "own weight", within=NOUGHT_OR_MORE)
    supports, pulls = _supports(known, truss), _truss_pulls(known, truss)
    placed = [
        (one, [_place(known, truss, spot) for spot in (one.at, one.start, one.end) if spot is not None])
        for one in pulls
    ]
    known.settle()
    if not supports:
        raise Declined("nothing holds the truss")
    figures = [length, *(at for _, at in supports), *(at for _, places in placed for at in places)]
    if not all(one.is_exact for one in figures) or not own.high < inf:
        raise Declined("places on the truss are known only within bounds")
    loads: list[BoundedLoad] = [BoundedLoad(SpreadLoad.uniform(0.0, length.low, 1.0), (own.low, own.high))]
    for one, places in placed:
        if not one.weight.high < inf:
            known.lack(one.thing, "weight")
            known.settle()
        weight = (one.weight.low, one.weight.high)
        if not places:
            loads.append(BoundedLoad(PointLoad(0.0, 1.0), weight, at=(0.0, length.low)))
        elif len(places) == 1:
            loads.append(BoundedLoad(PointLoad(places[0].low, 1.0), weight))
        else:
            start, end = sorted(at.low for at in places)
            loads.append(BoundedLoad(SpreadLoad.uniform(start, end, 1.0), weight))
    stiffness = facts.value(truss, "stiffness_ei")
    EI = stiffness.high if isinstance(stiffness, Bounds) and stiffness.high < inf else None
    batten = Batten(length.low, EI or _EI)
    lines = [Line(at.low) for _, at in supports]
    try:
        bounds = tension_bounds(batten, lines, loads, levelled="slack")
    except ValueError as error:
        raise Declined(f"the truss cannot be worked out: {error}") from error
    if isinstance(bounds, Refused):
        raise Declined(bounds.reason)
    known.suppose("supports are level, and only pull")
    known.step("own weight over its length", Bounds(own.low, own.high), FORCE)
    for one, places in placed:
        at = " to ".join(known.said(place, LENGTH) for place in places) or "anywhere"
        known.step(f"{one.label} at {at}", one.weight, FORCE)
    level = [_force(bounds, support) for support in range(len(lines))]
    step, source = customary("support-out-of-step", "length")
    out: list[Bounds] = []
    if len(lines) <= 2:
        out = level
    elif EI is not None:
        known.suppose(f"one support {known.said(step, LENGTH)} high or low: {source}")
        limp = isinstance(stiffness, Bounds) and stiffness.low <= 0
        stiff = {EI, *([stiffness.low] if isinstance(stiffness, Bounds) and not limp else [])}
        found = [one_out_of_step(replace(batten, EI=each), lines, loads, step.low) for each in stiff]
        told = [one for one in found if not isinstance(one, Refused)]
        if len(told) == len(found):
            out = [
                Bounds(
                    at_rest.low if limp else max(at_rest.low, min(float(least[i]) for least, _ in told)),
                    max(at_rest.high, *(float(most[i]) for _, most in told)),
                )
                for i, at_rest in enumerate(level)
            ]
    return known, tuple(one for one, _ in supports), level, out, _with_each_lost(batten, lines, loads)


def _with_each_lost(
    batten: "Batten", lines: "Sequence[Line]", loads: "Sequence[BoundedLoad]"
) -> list[Bounds | Absent | Unknown]:
    """Greatest force at each support with another one lost, over all weights and places of the loads; none where the
    truss then falls, and not known where it may.
    """
    from plumbtrue.mechanics.load_bounds import tension_bounds
    from plumbtrue.mechanics.lost_support import lost_support

    cases = _ends_of(loads, batten.length, [line.at for line in lines])
    without = [
        one for one in (lost_support(batten, lines, case) for case in cases) if not isinstance(one, Refused)
    ]
    told: list[Bounds | Absent | Unknown] = []
    for support in range(len(lines)):
        falls = [any(lost != support for lost in one.falls_without) for one in without]
        if without and all(falls):
            told.append(NONE)
            continue
        forces: list[Bounds] = []
        others = [] if any(falls) else [lost for lost in range(len(lines)) if lost != support]
        for lost in others:
            found = tension_bounds(batten, [*lines[:lost], *lines[lost + 1 :]], loads, levelled="slack")
            if isinstance(found, Refused):
                break
            forces.append(_force(found, support - (lost < support)))
        told.append(greatest_of(forces) if others and len(forces) == len(others) else UNKNOWN)
    return told


def _force(found: "TensionBounds", support: int) -> Bounds:
    """Of a support, which only pulls [N]."""
    return Bounds(max(float(found.least[support]), 0.0), float(found.greatest[support]))


def _ends_of(
    loads: "Sequence[BoundedLoad]", length: float, supports: Sequence[float]
) -> "Iterator[list[Load]]":
    """All loads at their lightest and at their heaviest, those of which nobody says where they hang together at
    every place in turn: one place is the worst for all of them.
    """
    from plumbtrue.mechanics.batten import PointLoad, scaled

    steps = 12 * len(supports)
    anywhere = any(load.at is not None for load in loads)
    places = sorted({*supports, *(length * n / steps for n in range(steps + 1))}) if anywhere else [0.0]
    for end in (0, 1):
        for place in places:
            yield [
                scaled(load.unit if load.at is None else PointLoad(place, 1.0), load.weight[end])
                for load in loads
            ]


def _support(
    known: Gathering, thing: Thing
) -> tuple[list[Bounds], list[Bounds], list[Bounds | Absent | Unknown], int, Thing]:
    truss = known.around(thing, "truss")
    found, supports, level, out, lost = known.facts.kept(truss, _forces)
    known.include(found)
    for one, force in zip(supports, level, strict=True):
        known.step(f"level, {one.key}", force, FORCE)
    return level, out, lost, supports.index(thing), truss


@computed("truss_support", "force")
def support_force(known: Gathering, thing: Thing) -> Answer:
    """Force at the support, the truss level."""
    level, _, _, number, _ = _support(known, thing)
    return known.within(level[number], "truss-reactions", _BEAM, FORCE, _STATICS)


@computed("truss_support", "force_out_of_step")
def support_out_of_step(known: Gathering, thing: Thing) -> Answer:
    """Greatest force with any support out of step by the customary length; on two supports it makes no difference."""
    _, out, _, number, truss = _support(known, thing)
    if not out:
        known.lack(truss, "stiffness_ei")
        known.settle()
    formula = "the greatest with any one of them high or low"
    return known.within(out[number], "trim-worst-case", formula, FORCE, _STATICS)


@computed("truss_support", "force_with_one_lost")
def support_with_one_lost(known: Gathering, thing: Thing) -> Answer:
    """Greatest force with another support lost; none where the truss then falls."""
    _, _, lost, number, truss = _support(known, thing)
    found = lost[number]
    if isinstance(found, Unknown):
        unplaced = [one for one in _truss_pulls(known, truss) if not one.is_placed]
        for one in unplaced:
            known.lack(one.thing, "at" if one.thing.kind.name == "load" else "loads")
        known.settle()
        known.decline("with another support lost it may fall, by where on it its loads hang")
    if isinstance(found, Absent):
        return known.within(NONE, "lost-support", "with another support lost it falls", None)
    return known.within(found, "lost-support", "each support left out in turn", FORCE, _STATICS)


@computed("truss", "support_forces")
def support_forces(known: Gathering, thing: Thing) -> Answer:
    """Greatest force at any support."""
    found, supports, level, _, _ = known.facts.kept(thing, _forces)
    known.include(found)
    for one, force in zip(supports, level, strict=True):
        known.step(one.key, force, FORCE)
    most = greatest_of(level)
    return known.within(most, "truss-reactions", _BEAM, FORCE, _STATICS)


@computed("truss", "greatest_point")
def greatest_point(known: Gathering, thing: Thing) -> Answer:
    """Greatest point load on it; nought where there is none."""
    pulls = _truss_pulls(known, thing)
    known.settle()
    points = [one.weight for one in pulls if not one.is_spread]
    most = Bounds(
        max((one.low for one in points), default=0.0), max((one.high for one in points), default=0.0)
    )
    return known.within(most, "truss-loads", "greatest of its point loads", FORCE, "what the plot says")


@computed("truss", "spread_load")
def spread_load(known: Gathering, thing: Thing) -> Answer:
    """All that hangs on it over its length, as if spread; its own weight left out."""
    pulls = _truss_pulls(known, thing)
    length = known.figure(thing, "length", within=NOUGHT_OR_MORE)
    known.settle()
    if length.low <= 0:
        known.decline("a truss without length")
    total = sum((one.weight for one in pulls), NOTHING)
    return known.within(
        total / length, "truss-loads", "everything on it / length", FORCE_PER_LENGTH, "sums (derived)"
    )


@computed("truss", "cantilever")
def cantilever(known: Gathering, thing: Thing) -> Answer:
    """Greatest reach beyond an outer support."""
    length = known.figure(thing, "length", within=NOUGHT_OR_MORE)
    supports = _supports(known, thing)
    known.settle()
    if not supports:
        known.decline("nothing holds the truss")
    ends = (supports[0][1], length - supports[-1][1])
    most = greatest_of(ends)
    return known.within(
        most, "truss-spans", "the greater end beyond the outer supports", LENGTH, "arithmetic"
    )


@computed("truss", "longest_span")
def longest_span(known: Gathering, thing: Thing) -> Answer:
    """Greatest distance between neighbouring supports; none on fewer than two."""
    supports = _supports(known, thing)
    known.settle()
    if len(supports) < 2:
        return known.within(NONE, "truss-spans", "fewer than two supports", None)
    spans = [b - a for (_, a), (_, b) in pairwise(supports)]
    most = greatest_of(spans)
    return known.within(most, "truss-spans", "greatest distance between supports", LENGTH, "arithmetic")


@computed("truss", "top_height")
def top_height(known: Gathering, thing: Thing) -> Answer:
    """Height of its top at its trim; none without a trim."""
    trim = known.perhaps(thing, "trim", "height of its bottom chord")
    if trim is NONE:
        return known.within(NONE, "trim-heights", "it has no trim", None)
    depth = known.figure(thing, "depth", within=NOUGHT_OR_MORE)
    if trim is None:
        known.lack(thing, "trim")
    known.settle()
    assert isinstance(trim, Bounds)
    return known.within(trim + depth, "trim-heights", "trim + depth", LENGTH, "sums of lengths (derived)")


@computed("truss", "sprinkler_clearance")
def truss_sprinkler_clearance(known: Gathering, thing: Thing) -> Answer:
    """Least distance of its top below a deflector whose area it enters; none where it enters none."""
    top = known.figure(thing, "top_height", "height of its top")
    trim = known.figure(thing, "trim")
    depth = known.figure(thing, "from_plaster_line")
    known.settle()
    return below_deflectors(known, thing, depth, depth, [(trim, top)])


@computed("hoist", "load_share")
def load_share(known: Gathering, thing: Thing) -> Answer:
    """Load on its hook at rest: the supports and pieces that it holds."""
    supports, pieces = supported_by(known.facts, thing), pieces_on(known.facts, thing)
    count_the_unplaced(known, thing)
    if not supports and not pieces:
        known.lack(thing, "hangs_on", "no truss and no piece names it")
        known.settle()
    held = [known.figure(one, "force", one.path, within=NOUGHT_OR_MORE) for one in supports]
    held += [known.figure(one, "total_weight", one.key, within=NOUGHT_OR_MORE) for one in pieces]
    known.settle()
    return known.within(
        sum(held, NOTHING), "hoist-load", "supports and pieces that it holds", FORCE, _STATICS
    )


def _factor(known: Gathering, hoist: Thing) -> Bounds:
    own = known.perhaps(hoist, "dynamic_factor", "maker's dynamic factor")
    if isinstance(own, Bounds):
        return own
    if own is None:
        known.loose.append(Missing(hoist, "dynamic_factor", "whether its maker gives one is not recorded"))
        return Bounds(1.0, inf)
    usual, source = customary("hoist-dynamic-factor")
    known.suppose(f"dynamic factor of a hoist: {source}")
    return known.given("dynamic factor", usual, RATIO, source)


@computed("hoist", "load")
def hoist_load(known: Gathering, thing: Thing) -> Answer:
    """Load on its hook with the dynamic factor, the chain below it, and the body where that rides with the
    load.
    """
    share = known.figure(thing, "load_share", "load at rest", within=NOUGHT_OR_MORE)
    body = known.word(thing, "body")
    if body != "up":
        share = share + known.figure(
            thing, "body_weight", "body, riding with the load", within=NOUGHT_OR_MORE
        )
    below = known.figure(thing, "chain_below", "chain below the hook", within=NOUGHT_OR_MORE)
    per_length = known.figure(thing, "chain_weight", "chain per length", within=NOUGHT_OR_MORE)
    known.settle()
    factor = _factor(known, thing)
    total = over_bounds(
        lambda load, chain, each, by: hook_load(load, chain * each, 0.0, by), share, below, per_length, factor
    )
    formula = "load x dynamic factor + chain below the hook"
    return known.within(total, "point-total", formula, FORCE, "sums (derived)")


@computed("hoist", "load_on_point")
def load_on_point(known: Gathering, thing: Thing) -> Answer:
    """What the point above carries at rest: load, body and the whole chain."""
    share = known.figure(thing, "load_share", "load at rest", within=NOUGHT_OR_MORE)
    body = known.figure(thing, "body_weight", "body", within=NOUGHT_OR_MORE)
    per_length = known.figure(thing, "chain_weight", "chain per length", within=NOUGHT_OR_MORE)
    length = known.figure(thing, "chain_length", "whole chain", within=NOUGHT_OR_MORE)
    known.settle()
    total = over_bounds(
        lambda load, hoist, each, long: point_total(load, hoist, each, long, 0.0, None).at_rest,
        share,
        body,
        per_length,
        length,
    )
    return known.within(total, "point-total", "load + body + chain", FORCE, "sums (derived)")


@computed("beam", "plot_load")
def beam_plot_load(known: Gathering, thing: Thing) -> Answer:
    """What the points of a plot, and those of the house, hang on a beam at rest; nought where none names it."""
    plot = known.facts.rig.plot
    if plot is None:
        known.lack(thing, "plot_load", "no plot is laid over the house")
        known.settle()
    assert plot is not None
    total = NOTHING
    for point in (*plot.members("points"), *known.facts.rig.house.members("points")):
        anchor = point.parts.get("anchor")
        if isinstance(anchor, Thing) and anchor.references.get("beam") is thing:
            total = total + known.figure(point, "force_down", point.path, within=NOUGHT_OR_MORE)
    known.settle()
    return known.within(total, "grid-beam", "sum of the vertical pulls on its points", FORCE, _STATICS)
