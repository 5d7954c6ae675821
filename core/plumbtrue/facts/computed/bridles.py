"""Bridles of two, three and four legs: what each leg carries at rest, and where the lengths of the legs put the
apex.

The geometry is taken as written: level run and rise of each leg of two, else the places of the points and of
the apex; where no apex is written, the lengths of the legs lead to it. Pulls are straight in the load, so the
geometry is worked out for each newton of it. Of four legs nobody can say how they share: each is told with
the worst that any three of them which hold the load up put on it, and with the least.
"""

from collections.abc import Callable, Sequence
from itertools import combinations, product
from math import acos, atan2, hypot, inf
from typing import Final

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.computed.hanging_from import hanging_from
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Declined, Gathering
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.facts.store import Facts
from plumbtrue.mechanics.bridle import Leg, bridle_from_lengths, two_leg_bridle
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.quantities.bounds import Bounds, hull_of, least_of
from plumbtrue.quantities.dimension import ANGLE, AREA, FORCE, LENGTH, RATIO
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Spot
from plumbtrue.rig.thing import Thing

_STATICS: Final = "statics and plane geometry (derived)"
_THREE_AT_A_TIME: Final = (
    'statics (derived); three of four as rated slings are listed (OSHA, "Guidance on Safe Sling Use": read)'
)
_MOST_IN_DOUBT: Final = 12
"""Places and lengths known only within bounds, each taken at both ends: 4096 ways at the most."""
_TWO: Final = "T1 = W d2 L1 / D, T2 = W d1 L2 / D, H = W d1 d2 / D, D = d1 h2 + d2 h1"
_THREE: Final = (
    "T1 = W L1 a1 / (a1 h1 + a2 h2 + a3 h3), a1 = x2 y3 - x3 y2 and so on in turn; x across, y upstage, "
    "h up, from the apex to each point"
)
_FOUR: Final = f"of every three legs that hold the load up: {_THREE}; the worst of them"

Point = tuple[float, float, float]
"""Across from the centre line, stage left positive; upstage of the plaster line; height [m]."""


@unchanging
class _Way:
    """One way in which a bridle may hang: for each leg its tension, vertical and level pull for each newton
    of load, and its angle above the horizontal [rad]; the widest angle between two legs; the apex.
    """

    tensions: tuple[float, ...]
    uprights: tuple[float, ...]
    sideways: tuple[float, ...]
    angles: tuple[float, ...]
    between: float
    apex: Point | None
    least_tensions: tuple[float, ...]
    slack: tuple[int, ...] = ()


@unchanging
class HungBridle:
    """Every way in which a bridle may hang, and what was gathered of it."""

    known: Gathering
    legs: tuple[Thing, ...]
    ways: tuple[_Way, ...]
    method: str
    formula: str
    source: str

    def over(self, figure: Callable[[_Way], float]) -> Bounds:
        """Least and greatest figure over all ways."""
        return hull_of(Bounds.exactly(figure(way)) for way in self.ways)


def hung_bridle(facts: Facts, bridle: Thing) -> HungBridle:
    """Work a bridle out for each newton of its load.

    Raises:
        Lacking: with the places and lengths that are missing.
        Declined: its legs cannot hold a load there, or there are fewer than two or more than four.
    """
    known = Gathering(facts)
    legs = known.things(bridle, "legs")
    known.settle()
    if len(legs) == 2:
        return _two_legs(known, bridle, legs)
    if len(legs) in (3, 4):
        return _legs_in_space(known, bridle, legs)
    raise Declined(f"a bridle has two, three or four legs, and this one has {len(legs)}")


def _two_legs(known: Gathering, bridle: Thing, legs: tuple[Thing, ...]) -> HungBridle:
    if not _has_apex(known.facts, bridle, legs):
        found = _by_lengths(known, bridle, legs)
        if found is not None:
            return found
    geometry = [_run_and_rise(known, leg) for leg in legs]
    known.settle()
    ways = []
    for d1, h1, d2, h2 in _corners(known, [bounds for pair in geometry for bounds in pair]):
        told = two_leg_bridle(1.0, Leg(d1, h1), Leg(d2, h2))
        if isinstance(told, Refused):
            raise Declined(told.reason)
        ways.append(
            _Way(
                tensions=told.tensions,
                uprights=told.verticals,
                sideways=(told.horizontal, told.horizontal),
                angles=tuple(leg.from_horizontal for leg in told.legs),
                between=told.apex_angle,
                apex=None,
                least_tensions=told.tensions,
            )
        )
    (d1b, h1b), (d2b, h2b) = geometry
    known.step("d1, level run of the first leg", d1b, LENGTH)
    known.step("h1, its rise", h1b, LENGTH)
    known.step("d2, level run of the second", d2b, LENGTH)
    known.step("h2, its rise", h2b, LENGTH)
    known.step("L1, length of the first", over_bounds(hypot, d1b, h1b), LENGTH)
    known.step("L2, length of the second", over_bounds(hypot, d2b, h2b), LENGTH)
    known.step("D = d1 h2 + d2 h1", d1b * h2b + d2b * h1b, AREA)
    return HungBridle(known, legs, tuple(ways), "bridle-two-leg", _TWO, _STATICS)


def _has_apex(facts: Facts, bridle: Thing, legs: Sequence[Thing]) -> bool:
    """Whether runs and rises are written, or the place of the apex."""
    written = all(
        isinstance(facts.value(leg, name), Bounds) for leg in legs for name in ("horizontal", "rise")
    )
    placed = isinstance(facts.value(bridle, "apex_across"), Spot) and isinstance(
        facts.value(bridle, "apex_height"), Bounds
    )
    return written or placed


def _by_lengths(known: Gathering, bridle: Thing, legs: tuple[Thing, ...]) -> HungBridle | None:
    """Where the lengths of two legs lead; nothing where they or the points are not all known."""
    own = Gathering(known.facts)
    anchors = [_point(own, leg) for leg in legs]
    lengths = [own.figure(leg, "length", f"length of {leg.key}", within=NOUGHT_OR_MORE) for leg in legs]
    if own.lacking:
        return None
    known.include(own)
    ways = []
    for corner in _corners(known, [*anchors[0], *anchors[1], *lengths]):
        a, b, (L1, L2) = _three(corner[:3]), _three(corner[3:6]), corner[6:]
        run = hypot(b[0] - a[0], b[1] - a[1])
        told = bridle_from_lengths(1.0, (0.0, a[2]), (run, b[2]), L1, L2)
        if isinstance(told, Refused):
            raise Declined(told.reason)
        share = told.apex[0] / run if run else 0.0
        apex = (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]), told.apex[1])
        slack = () if told.slack_leg is None else (told.slack_leg,)
        ways.append(_way((a, b), apex, told.tensions, slack=slack))
    _say_apex(known, ways)
    formula = f"two circles about the points; then {_TWO}"
    return HungBridle(known, legs, tuple(ways), "bridle-two-leg-from-lengths", formula, _STATICS)


def _legs_in_space(known: Gathering, bridle: Thing, legs: tuple[Thing, ...]) -> HungBridle:
    # numpy takes its time to load, and most bridles have two legs.
    from plumbtrue.mechanics.bridle_in_space import (
        four_leg_bridle,
        three_leg_bridle,
        three_leg_bridle_from_lengths,
    )

    anchors = [_point(known, leg) for leg in legs]
    apex = _apex_in_plot(known.facts, bridle)
    lengths: list[Bounds] = []
    if apex is None and len(legs) == 3:
        lengths = [known.figure(leg, "length", f"length of {leg.key}", within=NOUGHT_OR_MORE) for leg in legs]
        if known.lacking:
            _lack_apex(known, bridle)
    elif apex is None:
        _lack_apex(known, bridle)
    else:
        _note_apex(known, bridle)
    known.settle()
    ways = []
    for corner in _corners(known, [*(one for anchor in anchors for one in anchor), *(apex or lengths)]):
        places = [_three(corner[3 * number : 3 * number + 3]) for number in range(len(legs))]
        rest = corner[3 * len(legs) :]
        if apex is None:
            hung = three_leg_bridle_from_lengths(1.0, places, rest)
            if isinstance(hung, Refused):
                raise Declined(hung.reason)
            ways.append(_way(places, hung.apex, hung.tensions, slack=hung.slack_legs))
        elif len(legs) == 3:
            told = three_leg_bridle(1.0, places, _three(rest))
            if isinstance(told, Refused):
                raise Declined(told.reason)
            if min(told.tensions) < -1e-9:
                raise Declined("the apex lies outside the points in plan: these legs cannot hold it there")
            ways.append(_way(places, told.apex, tuple(max(one, 0.0) for one in told.tensions)))
        else:
            four = four_leg_bridle(1.0, places, _three(rest))
            if isinstance(four, Refused):
                raise Declined(four.reason)
            ways.append(_way(places, _three(rest), four.worst_tensions, four.least_tensions))
    if apex is None:
        _say_apex(known, ways)
    _say_plan(known, legs, anchors, ways)
    if len(legs) == 3:
        method = "bridle-three-leg" if apex is not None else "bridle-three-leg-from-lengths"
        formula = _THREE if apex is not None else f"three spheres about the points; then {_THREE}"
        return HungBridle(known, legs, tuple(ways), method, formula, _STATICS)
    known.suppose("how four legs share cannot be told: any three of them may carry, and a leg may hang slack")
    return HungBridle(known, legs, tuple(ways), "bridle-four-leg", _FOUR, _THREE_AT_A_TIME)


def _way(
    anchors: Sequence[Point],
    apex: Point,
    tensions: Sequence[float],
    least: Sequence[float] | None = None,
    *,
    slack: tuple[int, ...] = (),
) -> _Way:
    legs = [Leg(hypot(x - apex[0], y - apex[1]), z - apex[2]) for x, y, z in anchors]
    for number, leg in enumerate(legs, 1):
        if leg.rise <= 0 and number not in slack:
            raise Declined(
                f"leg {number} is flat or falls towards its point: it cannot carry as a bridle leg"
            )
    tight = [number for number in range(len(anchors)) if number + 1 not in slack]
    return _Way(
        tensions=tuple(tensions),
        uprights=tuple(t * leg.rise / leg.length for t, leg in zip(tensions, legs, strict=True)),
        sideways=tuple(t * leg.run / leg.length for t, leg in zip(tensions, legs, strict=True)),
        angles=tuple(leg.from_horizontal for leg in legs),
        between=max(
            (_angle_between(anchors[a], anchors[b], apex) for a, b in combinations(tight, 2)), default=0.0
        ),
        apex=apex,
        least_tensions=tuple(tensions if least is None else least),
        slack=slack,
    )


def _angle_between(one: Point, other: Point, apex: Point) -> float:
    a, b = ([p - q for p, q in zip(point, apex, strict=True)] for point in (one, other))
    cosine = sum(p * q for p, q in zip(a, b, strict=True)) / (hypot(*a) * hypot(*b))
    return acos(min(max(cosine, -1.0), 1.0))


def _corners(known: Gathering, bounds: Sequence[Bounds]) -> list[tuple[float, ...]]:
    """Every corner of the geometry, and its middle where it is in doubt."""
    if any(one.low == -inf or one.high == inf for one in bounds):
        known.decline("a place or length of the bridle is known from one side only")
    in_doubt = sum(not one.is_exact for one in bounds)
    if in_doubt > _MOST_IN_DOUBT:
        known.decline("too many places and lengths of the bridle are known only within bounds")
    corners = list(product(*((one.low,) if one.is_exact else (one.low, one.high) for one in bounds)))
    if in_doubt:
        corners.append(tuple((one.low + one.high) / 2 for one in bounds))
    return corners


def _three(figures: Sequence[float]) -> Point:
    x, y, z = figures
    return x, y, z


def _point_of(known: Gathering, leg: Thing) -> Thing | None:
    point = leg.references.get("point") or leg.parts.get("point")
    if isinstance(point, Thing):
        return point
    known.lack(leg, "point")
    return None


def _point(known: Gathering, leg: Thing) -> tuple[Bounds, Bounds, Bounds]:
    """Place of the point that a leg goes to, in space [m]; what is missing of it is counted."""
    point = _point_of(known, leg)
    if point is None:
        return NOUGHT_OR_MORE, NOUGHT_OR_MORE, NOUGHT_OR_MORE
    across = known.value(point, "across")
    if not (isinstance(across, Spot) and across.from_centre):
        known.lack(point, "across")
    upstage = known.figure(point, "from_plaster_line", f"{point.key}, upstage of the plaster line")
    height = known.figure(point, "height", f"height of {point.key}")
    return across.distance if isinstance(across, Spot) else NOUGHT_OR_MORE, upstage, height


def _apex_in_plot(facts: Facts, bridle: Thing) -> tuple[Bounds, Bounds, Bounds] | None:
    across, upstage, height = (
        facts.value(bridle, name) for name in ("apex_across", "apex_from_plaster_line", "apex_height")
    )
    if (
        isinstance(across, Spot)
        and across.from_centre
        and isinstance(upstage, Bounds)
        and isinstance(height, Bounds)
    ):
        return across.distance, upstage, height
    return None


def _note_apex(known: Gathering, bridle: Thing) -> None:
    for name in ("apex_across", "apex_from_plaster_line", "apex_height"):
        known.value(bridle, name)


def _lack_apex(known: Gathering, bridle: Thing) -> None:
    for name in ("apex_across", "apex_from_plaster_line", "apex_height"):
        if not isinstance(known.facts.value(bridle, name), Bounds | Spot):
            known.lack(bridle, name)


def _say_apex(known: Gathering, ways: Sequence[_Way]) -> None:
    apexes = [way.apex for way in ways if way.apex is not None]
    for axis, label in enumerate(("apex, from the centre line", "apex, upstage", "apex, height")):
        known.step(label, hull_of(Bounds.exactly(apex[axis]) for apex in apexes), LENGTH)
    slack = sorted({number for way in ways for number in way.slack})
    if slack:
        numbers = ", ".join(str(number) for number in slack)
        known.steps.append(("too long to take any load", f"leg {numbers}"))


def _say_plan(
    known: Gathering,
    legs: Sequence[Thing],
    anchors: Sequence[Sequence[Bounds]],
    ways: Sequence[_Way],
) -> None:
    """From the apex to each point, and the part of the load that its leg takes, so that the sums can be done:
    uprights make up the load, level pulls cancel.
    """
    apex = ways[-1].apex
    assert apex is not None
    for number, (leg, anchor) in enumerate(zip(legs, anchors, strict=True)):
        across, upstage, up = (
            Bounds.exactly((one.low + one.high) / 2 - at) for one, at in zip(anchor, apex, strict=True)
        )
        long = Bounds.exactly(hypot(across.low, upstage.low, up.low))
        parts = [
            f"{name} {known.said(one, LENGTH)}"
            for name, one in (("x", across), ("y", upstage), ("h", up), ("L", long))
        ]
        known.steps.append((f"{leg.key} from the apex", ", ".join(parts)))
        share = hull_of(Bounds.exactly(way.tensions[number]) for way in ways)
        known.step(f"{leg.key}, pull over load", share, RATIO)


def _run_and_rise(known: Gathering, leg: Thing) -> tuple[Bounds, Bounds]:
    """Level run and rise of a leg [m]: as written, else from its point and the apex."""
    run = known.perhaps(leg, "horizontal", f"level run of {leg.key}")
    rise = known.perhaps(leg, "rise", f"rise of {leg.key}")
    bridle = known.around(leg, "bridle")
    point = leg.references.get("point") or leg.parts.get("point")
    if not isinstance(run, Bounds):
        run = _run(known, bridle, point if isinstance(point, Thing) else None)
    if run is None:
        known.lack(leg, "horizontal")
        run = NOUGHT_OR_MORE
    if not isinstance(rise, Bounds):
        top = known.facts.value(point, "height") if isinstance(point, Thing) else None
        apex_height = known.facts.value(bridle, "apex_height")
        if isinstance(top, Bounds) and isinstance(apex_height, Bounds) and isinstance(point, Thing):
            rise = known.figure(point, "height", f"height of {point.key}") - known.figure(
                bridle, "apex_height", "apex in the plot"
            )
        else:
            known.lack(leg, "rise")
            rise = NOUGHT_OR_MORE
    return run, rise


def _run(known: Gathering, bridle: Thing, point: Thing | None) -> Bounds | None:
    """Level distance from the apex to a point [m]; nothing where a place is missing.

    Without the apex's distance upstage, apex and points are taken to stand in one line across the stage, as
    long as the points are not known to stand otherwise.
    """
    across = known.facts.value(point, "across") if point is not None else None
    apex = known.facts.value(bridle, "apex_across")
    if not (
        point is not None
        and isinstance(across, Spot)
        and isinstance(apex, Spot)
        and across.from_centre
        and apex.from_centre
    ):
        return None
    known.value(point, "across")
    known.value(bridle, "apex_across")
    over = abs(across.distance - apex.distance)
    upstage, apex_upstage = (
        known.facts.value(point, "from_plaster_line"),
        known.facts.value(bridle, "apex_from_plaster_line"),
    )
    if isinstance(upstage, Bounds) and isinstance(apex_upstage, Bounds):
        known.value(point, "from_plaster_line")
        known.value(bridle, "apex_from_plaster_line")
        return over_bounds(hypot, over, abs(upstage - apex_upstage))
    if len(_depths(known.facts, bridle)) > 1:
        known.lack(bridle, "apex_from_plaster_line")
    known.suppose("apex and points stand in one line across the stage")
    return over


def _depths(facts: Facts, bridle: Thing) -> set[Bounds]:
    """Distances from the plaster line that are written of the points of a bridle."""
    legs = facts.part(bridle, "legs")
    points = [leg.references.get("point") for leg in legs] if isinstance(legs, tuple) else []
    found = [facts.value(point, "from_plaster_line") for point in points if isinstance(point, Thing)]
    return {one for one in found if isinstance(one, Bounds)}


def _of_leg(known: Gathering, leg: Thing) -> tuple[HungBridle, int]:
    bridle = known.around(leg, "bridle")
    found = known.facts.kept(bridle, hung_bridle)
    known.include(found.known)
    return found, found.legs.index(leg)


def _load(known: Gathering, bridle: Thing) -> Bounds:
    load = known.figure(bridle, "load", "W, the load at the apex", within=NOUGHT_OR_MORE)
    known.settle()
    if load.high == inf:
        known.decline("no bound on what hangs at the apex")
    return load


def _pull(known: Gathering, leg: Thing, figure: Callable[[_Way, int], float]) -> Answer:
    found, number = _of_leg(known, leg)
    load = _load(known, known.around(leg, "bridle"))
    pull = load * found.over(lambda way: figure(way, number))
    return known.within(pull, found.method, found.formula, FORCE, found.source)


@computed("bridle_leg", "tension")
def leg_tension(known: Gathering, thing: Thing) -> Answer:
    """Pull in the leg at rest; of one of four, from the least to the worst that three of them put on it."""
    found, number = _of_leg(known, thing)
    load = _load(known, known.around(thing, "bridle"))
    pull = load * hull_of(Bounds(way.least_tensions[number], way.tensions[number]) for way in found.ways)
    return known.within(pull, found.method, found.formula, FORCE, found.source)


@computed("bridle_leg", "upright")
def leg_upright(known: Gathering, thing: Thing) -> Answer:
    """Vertical pull of the leg on its point at rest; of one of four the worst."""
    return _pull(known, thing, lambda way, number: way.uprights[number])


@computed("bridle_leg", "sideways")
def leg_sideways(known: Gathering, thing: Thing) -> Answer:
    """Level pull of the leg on its point at rest; of one of four the worst."""
    return _pull(known, thing, lambda way, number: way.sideways[number])


@computed("bridle", "horizontal")
def bridle_horizontal(known: Gathering, thing: Thing) -> Answer:
    """Level pull of its legs at rest: of two that of either, of more the greatest."""
    found = known.facts.kept(thing, hung_bridle)
    known.include(found.known)
    load = _load(known, thing)
    pull = load * found.over(lambda way: max(way.sideways))
    return known.within(pull, found.method, found.formula, FORCE, found.source)


@computed("bridle_leg", "angle")
def leg_angle(known: Gathering, thing: Thing) -> Answer:
    """Angle of the leg above the horizontal."""
    bridle = known.around(thing, "bridle")
    if len(known.things(bridle, "legs")) == 2 and _has_apex(known.facts, bridle, (thing,)):
        run, rise = _run_and_rise(known, thing)
        known.settle()
        angle = Bounds(atan2(rise.low, run.high), atan2(rise.high, run.low))
        return known.within(angle, "bridle-two-leg", "atan(rise / run)", ANGLE, "plane geometry (derived)")
    known.lacking.clear()
    found, number = _of_leg(known, thing)
    angle = found.over(lambda way: way.angles[number])
    return known.within(angle, found.method, "atan(rise / level run)", ANGLE, "plane geometry (derived)")


@computed("bridle", "included_angle")
def included_angle(known: Gathering, thing: Thing) -> Answer:
    """Angle between its two legs; of more than two the widest between any two of them."""
    found = known.facts.kept(thing, hung_bridle)
    known.include(found.known)
    angle = found.over(lambda way: way.between)
    if len(found.legs) == 2:
        formula = "180 deg - both angles above the horizontal"
    else:
        formula = "the widest of acos((x1 x2 + y1 y2 + h1 h2) / (L1 L2)) over all pairs of legs"
    return known.within(angle, found.method, formula, ANGLE, "plane geometry (derived)")


def _apex_by_lengths(known: Gathering, bridle: Thing) -> tuple[Point, str]:
    """Where the lengths of its legs put the apex [m], and by which way."""
    legs = known.things(bridle, "legs")
    known.settle()
    if len(legs) not in (2, 3):
        known.decline(
            "only two or three legs say by their lengths where their apex is; of four, three hold it"
        )
    lengths = [known.figure(leg, "length", f"length of {leg.key}", within=NOUGHT_OR_MORE) for leg in legs]
    if len(legs) == 2:
        anchors = [_point_in_line(known, leg) for leg in legs]
    else:
        anchors = [_point(known, leg) for leg in legs]
    known.settle()
    if not all(one.is_exact for one in (*lengths, *(part for anchor in anchors for part in anchor))):
        known.decline("lengths or places of the points are known only within bounds")
    places = [_three([one.low for one in anchor]) for anchor in anchors]
    long = [one.low for one in lengths]
    if len(legs) == 2:
        (a, b), (L1, L2) = places, long
        run = hypot(b[0] - a[0], b[1] - a[1])
        told = bridle_from_lengths(1.0, (0.0, a[2]), (run, b[2]), L1, L2)
        if isinstance(told, Refused):
            known.decline(told.reason)
        share = told.apex[0] / run if run else 0.0
        apex = (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]), told.apex[1])
        return apex, "two circles"
    from plumbtrue.mechanics.bridle_in_space import three_leg_bridle_from_lengths

    hung = three_leg_bridle_from_lengths(1.0, places, long)
    if isinstance(hung, Refused):
        known.decline(hung.reason)
    return hung.apex, "three spheres"


def _point_in_line(known: Gathering, leg: Thing) -> tuple[Bounds, Bounds, Bounds]:
    """Place of a point where two legs hang across the stage: its distance upstage counts where it is known."""
    point = _point_of(known, leg)
    upstage = known.facts.value(point, "from_plaster_line") if point is not None else None
    if point is None or isinstance(upstage, Bounds):
        return _point(known, leg)
    across = known.value(point, "across")
    if not (isinstance(across, Spot) and across.from_centre):
        known.lack(point, "across")
    known.suppose("points stand in one line across the stage")
    height = known.figure(point, "height", f"height of {point.key}")
    return across.distance if isinstance(across, Spot) else NOUGHT_OR_MORE, Bounds.exactly(0.0), height


@computed("bridle", "apex_from_lengths")
def apex_from_lengths(known: Gathering, thing: Thing) -> Answer:
    """Height of the apex that its legs' lengths give."""
    apex, way = _apex_by_lengths(known, thing)
    known.step("its place from the centre line", Bounds.exactly(apex[0]), LENGTH)
    return known.within(Bounds.exactly(apex[2]), _FROM_LENGTHS[way], way, LENGTH, _STATICS)


_FROM_LENGTHS: Final = {
    "two circles": "bridle-two-leg-from-lengths",
    "three spheres": "bridle-three-leg-from-lengths",
}


@computed("bridle", "apex_off")
def apex_off(known: Gathering, thing: Thing) -> Answer:
    """Distance of the apex that the lengths give from the apex in the plot."""
    apex, way = _apex_by_lengths(known, thing)
    across = known.value(thing, "apex_across")
    height = known.figure(thing, "apex_height", "apex in the plot")
    if not (isinstance(across, Spot) and across.from_centre):
        known.lack(thing, "apex_across")
    upstage = known.facts.value(thing, "apex_from_plaster_line")
    if way == "three spheres":
        upstage = known.figure(thing, "apex_from_plaster_line", "apex in the plot, upstage")
    known.settle()
    assert isinstance(across, Spot)
    dx, dz = abs(across.distance - Bounds.exactly(apex[0])), abs(height - Bounds.exactly(apex[2]))
    apart = [dx, dz]
    if isinstance(upstage, Bounds) and way == "three spheres":
        apart.append(abs(upstage - Bounds.exactly(apex[1])))
    found = over_bounds(hypot, *apart)
    return known.within(
        found, _FROM_LENGTHS[way], "distance of both apexes", LENGTH, "plane geometry (derived)"
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
    return known.within(least_of(limits), "load-path", "least rated load", FORCE, "the weakest part governs")


@computed("bridle", "load")
def bridle_load(known: Gathering, thing: Thing) -> Answer:
    """What hangs at its apex at rest."""
    total = hanging_from(known, thing)
    known.settle()
    return known.within(total, "bridle-load", "everything below the apex", FORCE, "sums (derived)")
