"""Trusses, hoists, bridles and the points that hold them: what each carries at rest.

A truss hangs on supports that only pull. A hoist's point carries the load on its hook, the hoist's body and
its chain. The apex of a bridle carries all below it. Starting and stopping add to that; the factor is in the
hoist's own load, and rules multiply it where they ask for the force on structure.
"""

from collections.abc import Iterator
from itertools import pairwise
from math import inf, pi
from typing import Final

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.item_pulls import Pull, pulls_of
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.computed.show_trims import below_deflectors
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Declined, Gathering
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.facts.published_tables import customary
from plumbtrue.facts.store import Facts
from plumbtrue.mechanics.bridle import Leg, bridle_from_lengths, two_leg_bridle
from plumbtrue.mechanics.hoist_point import hook_load, point_total
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.quantities.bounds import Bounds, greatest_of, least_of
from plumbtrue.quantities.dimension import ANGLE, FORCE, FORCE_PER_LENGTH, LENGTH, RATIO
from plumbtrue.quantities.values import NONE, Absent, Spot, Unknown
from plumbtrue.rig.thing import Thing

_STATICS: Final = "statics and plane geometry (derived)"
_EI: Final = 1.0e5
"""Stiffness for what does not hang on it [N m2]."""
NOTHING: Final = Bounds.exactly(0.0)


def of_plot(thing: Thing, name: str) -> tuple[Thing, ...]:
    """Things of a list of the plot."""
    plot = thing.enclosing("plot")
    held = plot.parts.get(name) if plot is not None else None
    return held if isinstance(held, tuple) else ()


def _pieces_on(carrier: Thing) -> tuple[Thing, ...]:
    return tuple(item for item in of_plot(carrier, "items") if item.references.get("on") is carrier)


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
    for item in _pieces_on(truss):
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
) -> tuple[Gathering, tuple[Thing, ...], list[Bounds], list[Bounds], list[Bounds | None]]:
    """Force at each support: level, out of step, and with another one lost [N]. Raises as computations do."""
    from plumbtrue.mechanics.batten import Batten, Line, PointLoad, SpreadLoad
    from plumbtrue.mechanics.load_bounds import BoundedLoad, tension_bounds
    from plumbtrue.mechanics.lost_support import lost_support
    from plumbtrue.mechanics.trim import trim_range

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
    level = [Bounds(max(float(a), 0.0), float(b)) for a, b in zip(bounds.least, bounds.greatest, strict=True)]
    heavy = [_at(load, load.weight[1]) for load in loads]
    light = [_at(load, load.weight[0]) for load in loads]
    step, source = customary("support-out-of-step", "length")
    out: list[Bounds] = []
    if len(lines) <= 2:
        out = level
    elif EI is not None:
        known.suppose(f"one support {step.low / 0.0254:g} in high or low: {source}")
        ranges = [trim_range(batten, lines, one, step.low) for one in (light, heavy)]
        if not any(isinstance(one, Refused) for one in ranges):
            out = [
                Bounds(
                    level[i].low,
                    max(
                        level[i].high,
                        *(float(one.greatest[i]) for one in ranges if not isinstance(one, Refused)),
                    ),
                )
                for i in range(len(lines))
            ]
    lost: list[Bounds | None] = [None] * len(lines)
    found = [lost_support(batten, lines, one) for one in (light, heavy)]
    for i in range(len(lines)):
        figures_lost = [
            float(each[i])
            for one in found
            if not isinstance(one, Refused)
            for k, each in enumerate(one.without)
            if k != i and not isinstance(each, Refused)
        ]
        if figures_lost:
            lost[i] = Bounds(min(figures_lost), max(figures_lost))
    return known, tuple(one for one, _ in supports), level, out, lost


def _at(load: object, weight: float):  # type: ignore[no-untyped-def]
    from plumbtrue.mechanics.batten import scaled

    return scaled(load.unit, weight)  # type: ignore[attr-defined]


def _support(
    known: Gathering, thing: Thing
) -> tuple[list[Bounds], list[Bounds], list[Bounds | None], int, Thing]:
    truss = known.around(thing, "truss")
    found, supports, level, out, lost = known.facts.kept(truss, _forces)
    known.include(found)
    return level, out, lost, supports.index(thing), truss


@computed("truss_support", "force")
def support_force(known: Gathering, thing: Thing) -> Answer:
    """Force at the support, the truss level."""
    level, _, _, number, _ = _support(known, thing)
    return known.within(level[number], "truss-reactions", "beam on supports that only pull", FORCE, _STATICS)


@computed("truss_support", "force_out_of_step")
def support_out_of_step(known: Gathering, thing: Thing) -> Answer:
    """Greatest force with any support 1/2 in high or low; on two supports it makes no difference."""
    _, out, _, number, truss = _support(known, thing)
    if not out:
        known.lack(truss, "stiffness_ei")
        known.settle()
    return known.within(out[number], "trim-worst-case", "R + t sum |S|", FORCE, _STATICS)


@computed("truss_support", "force_with_one_lost")
def support_with_one_lost(known: Gathering, thing: Thing) -> Answer:
    """Greatest force with another support lost; none where the truss then falls."""
    _, _, lost, number, _ = _support(known, thing)
    found = lost[number]
    if found is None:
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
    return known.within(most, "truss-reactions", "beam on supports that only pull", FORCE, _STATICS)


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


def _supported_by(hoist: Thing) -> tuple[Thing, ...]:
    return tuple(
        support
        for truss in of_plot(hoist, "trusses")
        for support in (truss.parts.get("supports") if isinstance(truss.parts.get("supports"), tuple) else ())  # type: ignore[union-attr]
        if support.references.get("hoist") is hoist
    )


@computed("hoist", "load_share")
def load_share(known: Gathering, thing: Thing) -> Answer:
    """Load on its hook at rest: the supports that it holds."""
    supports = _supported_by(thing)
    if not supports:
        known.lack(thing, "hangs_on", "no truss names it")
        known.settle()
    total = sum(
        (known.figure(one, "force", f"{one.path}", within=NOUGHT_OR_MORE) for one in supports), NOTHING
    )
    known.settle()
    return known.within(total, "hoist-load", "force at the supports that it holds", FORCE, _STATICS)


def _factor(known: Gathering, hoist: Thing) -> Bounds:
    own = known.perhaps(hoist, "dynamic_factor", "maker's dynamic factor")
    if isinstance(own, Bounds):
        return own
    usual, source = customary("hoist-dynamic-factor")
    known.suppose(f"dynamic factor of a hoist: {source}")
    return known.given("dynamic factor", usual, RATIO)


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


def _hanging_from(known: Gathering, holder: Thing) -> Bounds:
    """What hangs from a bridle or a point by itself: hoists, supports of trusses, pieces [N]."""
    hoists = [one for one in of_plot(holder, "hoists") if one.references.get("hangs_on") is holder]
    total = NOTHING
    for hoist in hoists:
        total = total + known.figure(hoist, "load_on_point", hoist.key, within=NOUGHT_OR_MORE)
    for support in _supported_by(holder):
        total = total + known.figure(support, "force", support.path, within=NOUGHT_OR_MORE)
    for item in _pieces_on(holder):
        total = total + known.figure(item, "total_weight", item.key, within=NOUGHT_OR_MORE)
    for hoist in of_plot(holder, "hoists"):
        if isinstance(known.facts.value(hoist, "hangs_on"), Unknown):
            known.lack(hoist, "hangs_on")
    return total


@computed("bridle", "load")
def bridle_load(known: Gathering, thing: Thing) -> Answer:
    """What hangs at its apex at rest."""
    total = _hanging_from(known, thing)
    known.settle()
    return known.within(total, "bridle-load", "everything below the apex", FORCE, "sums (derived)")


def _geometry(known: Gathering, leg: Thing) -> tuple[Bounds, Bounds]:
    """Level run and rise of a leg [m]: as written, else from its point and the apex."""
    run, rise = (
        known.perhaps(leg, "horizontal", f"level run of {leg.key}"),
        known.perhaps(leg, "rise", f"rise of {leg.key}"),
    )
    bridle = known.around(leg, "bridle")
    point = leg.references.get("point") or leg.parts.get("point")
    if not isinstance(run, Bounds):
        across = known.facts.value(point, "across") if isinstance(point, Thing) else None
        apex = known.facts.value(bridle, "apex_across")
        if isinstance(across, Spot) and isinstance(apex, Spot) and across.from_centre and apex.from_centre:
            run = abs(across.distance - apex.distance)
        else:
            known.lack(leg, "horizontal")
            run = NOUGHT_OR_MORE
    if not isinstance(rise, Bounds):
        top = known.facts.value(point, "height") if isinstance(point, Thing) else None
        apex_height = known.facts.value(bridle, "apex_height")
        if isinstance(top, Bounds) and isinstance(apex_height, Bounds):
            rise = top - apex_height
        else:
            known.lack(leg, "rise")
            rise = NOUGHT_OR_MORE
    return run, rise


def _legs(known: Gathering, bridle: Thing) -> tuple[Thing, ...]:
    legs = known.things(bridle, "legs")
    if len(legs) != 2:
        known.settle()
        known.decline(
            "a bridle of other than two legs needs the place of its apex in plan: an engineer's matter here"
        )
    return legs


def _solved(known: Gathering, bridle: Thing) -> list[tuple[list[float], list[float], float, float, float]]:
    """Tensions, vertical pulls, level pull, angle between and load of every corner of what is known."""
    legs = _legs(known, bridle)
    geometry = [_geometry(known, leg) for leg in legs]
    load = known.figure(bridle, "load", "load at the apex", within=NOUGHT_OR_MORE)
    known.settle()
    found = []
    (d1, h1), (d2, h2) = geometry
    if load.high == inf:
        known.decline("no bound on what hangs at the apex")
    for W in sorted({load.low, load.high}):
        for a in sorted({d1.low, d1.high}):
            for b in sorted({h1.low, h1.high}):
                for c in sorted({d2.low, d2.high}):
                    for d in sorted({h2.low, h2.high}):
                        told = two_leg_bridle(W, Leg(a, b), Leg(c, d))
                        if isinstance(told, Refused):
                            known.decline(told.reason)
                        found.append(
                            (list(told.tensions), list(told.verticals), told.horizontal, told.apex_angle, W)
                        )
    return found


def _number(known: Gathering, leg: Thing) -> tuple[Thing, int]:
    bridle = known.around(leg, "bridle")
    return bridle, _legs(known, bridle).index(leg)


def _over(figures: list[float]) -> Bounds:
    return Bounds(min(figures), max(figures))


_TENSION: Final = "T1 = W d2 L1 / D, T2 = W d1 L2 / D, H = W d1 d2 / D, D = d1 h2 + d2 h1"


@computed("bridle_leg", "tension")
def leg_tension(known: Gathering, thing: Thing) -> Answer:
    """Pull in the leg at rest."""
    bridle, number = _number(known, thing)
    rows = _solved(known, bridle)
    return known.within(_over([row[0][number] for row in rows]), "bridle-two-leg", _TENSION, FORCE, _STATICS)


@computed("bridle_leg", "upright")
def leg_upright(known: Gathering, thing: Thing) -> Answer:
    """Vertical pull of the leg on its point at rest."""
    bridle, number = _number(known, thing)
    rows = _solved(known, bridle)
    return known.within(_over([row[1][number] for row in rows]), "bridle-two-leg", _TENSION, FORCE, _STATICS)


@computed("bridle_leg", "sideways")
def leg_sideways(known: Gathering, thing: Thing) -> Answer:
    """Level pull of the leg on its point at rest."""
    bridle, _ = _number(known, thing)
    rows = _solved(known, bridle)
    return known.within(_over([row[2] for row in rows]), "bridle-two-leg", _TENSION, FORCE, _STATICS)


@computed("bridle", "horizontal")
def bridle_horizontal(known: Gathering, thing: Thing) -> Answer:
    """Level pull of its legs at rest."""
    rows = _solved(known, thing)
    return known.within(_over([row[2] for row in rows]), "bridle-two-leg", _TENSION, FORCE, _STATICS)


@computed("bridle_leg", "angle")
def leg_angle(known: Gathering, thing: Thing) -> Answer:
    """Angle of the leg above the horizontal."""
    from math import atan2

    run, rise = _geometry(known, thing)
    known.settle()
    angle = Bounds(atan2(rise.low, run.high), atan2(rise.high, run.low))
    return known.within(angle, "bridle-two-leg", "atan(rise / run)", ANGLE, "plane geometry (derived)")


@computed("bridle", "included_angle")
def included_angle(known: Gathering, thing: Thing) -> Answer:
    """Angle between its two legs."""
    legs = _legs(known, thing)
    angles = [known.figure(leg, "angle", f"angle of {leg.key}") for leg in legs]
    known.settle()
    found = Bounds.exactly(pi) - angles[0] - angles[1]
    return known.within(
        found,
        "bridle-two-leg",
        "180 deg - both angles above the horizontal",
        ANGLE,
        "plane geometry (derived)",
    )


def _apex(known: Gathering, bridle: Thing) -> tuple[float, float]:
    """Where the lengths of its legs put the apex: across from the centre line, and height [m]."""
    anchors, lengths = [], []
    for leg in _legs(known, bridle):
        length = known.figure(leg, "length", f"length of {leg.key}", within=NOUGHT_OR_MORE)
        point = leg.references.get("point") or leg.parts.get("point")
        if not isinstance(point, Thing):
            known.lack(leg, "point")
            continue
        across = known.value(point, "across")
        height = known.figure(point, "height", f"height of {point.key}")
        if not (isinstance(across, Spot) and across.from_centre):
            known.lack(point, "across")
            continue
        anchors.append((across.distance, height))
        lengths.append(length)
    known.settle()
    if not all(one.is_exact for one in (*lengths, *(part for pair in anchors for part in pair))):
        known.decline("lengths or places of the points are known only within bounds")
    (x1, y1), (x2, y2) = ((across.low, height.low) for across, height in anchors)
    told = bridle_from_lengths(1.0, (x1, y1), (x2, y2), lengths[0].low, lengths[1].low)
    if isinstance(told, Refused):
        known.decline(told.reason)
    return told.apex


@computed("bridle", "apex_from_lengths")
def apex_from_lengths(known: Gathering, thing: Thing) -> Answer:
    """Height of the apex that its legs' lengths give."""
    _, height = _apex(known, thing)
    return known.within(
        Bounds.exactly(height), "bridle-two-leg-from-lengths", "two circles", LENGTH, _STATICS
    )


@computed("bridle", "apex_off")
def apex_off(known: Gathering, thing: Thing) -> Answer:
    """Distance of the apex that the lengths give from the apex in the plot."""
    from math import hypot

    x, y = _apex(known, thing)
    across = known.value(thing, "apex_across")
    height = known.figure(thing, "apex_height", "apex in the plot")
    if not (isinstance(across, Spot) and across.from_centre):
        known.lack(thing, "apex_across")
    known.settle()
    assert isinstance(across, Spot)
    dx, dy = abs(across.distance - Bounds.exactly(x)), abs(height - Bounds.exactly(y))
    found = Bounds(hypot(dx.low, dy.low), hypot(dx.high, dy.high))
    return known.within(
        found, "bridle-two-leg-from-lengths", "distance of both apexes", LENGTH, "plane geometry (derived)"
    )


@computed("bridle_leg", "weakest_rating")
def weakest_rating(known: Gathering, thing: Thing) -> Answer:
    """Least rated load of its parts, as rigged."""
    from plumbtrue.facts.computed.load_path import capacity

    parts = known.things(thing, "path")
    rated = [part for part in parts if "rated_part" in part.kind.classes]
    if not rated:
        known.lack(thing, "path", "no rated part in it")
    limits = [capacity(known, part) for part in rated]
    known.settle()
    least = least_of(limits)
    return known.within(least, "load-path", "least rated load", FORCE, "the weakest part governs")


def _legs_to(point: Thing) -> tuple[Thing, ...]:
    return tuple(
        leg
        for bridle in of_plot(point, "bridles")
        for leg in (bridle.parts.get("legs") if isinstance(bridle.parts.get("legs"), tuple) else ())  # type: ignore[union-attr]
        if leg.references.get("point") is point
    )


@computed("point", "force_down")
def force_down(known: Gathering, thing: Thing) -> Answer:
    """Vertical pull on it at rest: what hangs from it, and the legs of bridles."""
    total = _hanging_from(known, thing)
    for leg in _legs_to(thing):
        total = total + known.figure(leg, "upright", leg.path, within=NOUGHT_OR_MORE)
    for bridle in of_plot(thing, "bridles"):
        if isinstance(bridle.parts.get("legs"), Unknown | Absent) or "legs" in bridle.unlisted:
            known.loose.append(Missing(bridle, "legs"))
    known.settle()
    return known.within(total, "bridle-two-leg", "sum of vertical pulls", FORCE, _STATICS)


@computed("point", "force_sideways")
def force_sideways(known: Gathering, thing: Thing) -> Answer:
    """Greatest level pull on it at rest, towards one side: legs that pull the other way may hang slack at
    another time, so they are not counted against it.
    """
    towards = {True: NOTHING, False: NOTHING}
    mine = known.facts.value(thing, "across")
    for leg in _legs_to(thing):
        pull = known.figure(leg, "sideways", leg.path, within=NOUGHT_OR_MORE)
        bridle = known.around(leg, "bridle")
        apex = known.facts.value(bridle, "apex_across")
        if isinstance(apex, Spot) and isinstance(mine, Spot) and apex.from_centre == mine.from_centre:
            left = apex.distance.low > mine.distance.low
            towards[left] = towards[left] + pull
            continue
        # Nobody says to which side it pulls: to either.
        known.loose.append(Missing(bridle, "apex_across"))
        towards = {side: so_far + Bounds(0.0, pull.high) for side, so_far in towards.items()}
    known.settle()
    sides = list(towards.values())
    most = greatest_of(sides)
    known.suppose("legs that pull the other way are not counted against it")
    return known.within(most, "bridle-two-leg", "sum of level pulls towards one side", FORCE, _STATICS)


@computed("beam", "plot_load")
def beam_plot_load(known: Gathering, thing: Thing) -> Answer:
    """What the points of a plot hang on a beam at rest; nought where none of them names it."""
    plot = known.facts.rig.plot
    if plot is None:
        known.lack(thing, "plot_load", "no plot is laid over the house")
        known.settle()
    assert plot is not None
    total = NOTHING
    points = plot.parts.get("points")
    for point in points if isinstance(points, tuple) else ():
        anchor = point.parts.get("anchor")
        if isinstance(anchor, Thing) and anchor.references.get("beam") is thing:
            total = total + known.figure(point, "force_down", point.path, within=NOUGHT_OR_MORE)
    known.settle()
    return known.within(total, "grid-beam", "sum of the vertical pulls on its points", FORCE, _STATICS)
