"""Bridles of three and four legs.

Three legs are statically determinate: three directions, three equations. Four are not: the worst tension over
every choice of three that holds the load up is told for each leg, because a stiff load hangs on three and
rated four-leg slings are listed as three-leg ones for that reason (OSHA, "Guidance on Safe Sling Use", tables
1 to 4: read).
Source: vector statics, three spheres (derived).
"""

from collections.abc import Sequence
from itertools import combinations
from math import hypot, sqrt

import numpy as np

from plumbtrue.mechanics.bridle import bridle_from_lengths
from plumbtrue.mechanics.held import FloatArray
from plumbtrue.mechanics.refusal import Refused, must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.bounds import exceeds
from plumbtrue.quantities.unchanging import unchanging

Point = tuple[float, float, float]

_ROUNDING = 1e-9


@unchanging
class SpaceBridle:
    """Legs that meet at an apex [m]; a figure for each leg [m, N]. `horizontals` have the sign of the
    tension."""

    apex: Point
    lengths: tuple[float, ...]
    tensions: tuple[float, ...]
    """A figure below 0 is no tension: it says that this apex cannot be held by these legs."""
    horizontals: tuple[float, ...]
    slack_legs: tuple[int, ...] = ()
    """Numbers, from 1, of legs too long to take any load."""

    @property
    def all_tight(self) -> bool:
        return not self.slack_legs and all(tension > 0 for tension in self.tensions)


@unchanging
class FourLegs:
    """Worst and least tension of each leg [N] over the choices of three legs (numbers from 1) that hold the
    load up; a leg that a choice leaves out hangs slack in it."""

    worst_tensions: tuple[float, ...]
    least_tensions: tuple[float, ...]
    choices_that_hold: tuple[tuple[int, int, int], ...]
    lengths: tuple[float, ...]
    verticals: tuple[float, ...]
    horizontals: tuple[float, ...]
    """At each anchor under the leg's worst tension [N]."""


def three_leg_bridle(load: float, anchors: Sequence[Point], apex: Point) -> SpaceBridle | Refused:
    """Tensions of three legs that meet at a given apex.

    The figures are reported as they come: one below 0 is the message that the apex lies outside the triangle
    of the anchors in plan.

    >>> anchors = [(0.0, 0.0, 0.0), (12.0, 0.0, 0.0), (6.0, 10.392304845, 0.0)]
    >>> [round(t, 2) for t in three_leg_bridle(1500.0, anchors, (6.0, 3.464101615, -9.0)).tensions]
    [630.99, 630.99, 630.99]
    """
    _check(load, anchors, 3)
    must_be_finite(x=apex[0], y=apex[1], z=apex[2])
    tensions = _tensions(load, anchors, apex)
    if tensions is None:
        return Refused(
            "apex and anchors lie in one plane: the legs cannot carry a load",
            "apex below the anchors' plane",
            "statics",
        )
    return _space_bridle(anchors, apex, tensions)


def three_leg_bridle_from_lengths(
    load: float, anchors: Sequence[Point], lengths: Sequence[float]
) -> SpaceBridle | Refused:
    """Where a load hangs from three legs of known length, and which of them hang slack.

    One leg alone is tried first, then each pair in its own vertical plane; where every other anchor is then
    nearer than its leg is long, those legs are slack. Else the lower crossing of three spheres.

    Returns:
        `no geometry` when the legs do not meet.

    >>> anchors = [(0.0, 0.0, 0.0), (10.0, 2.0, 1.0), (4.0, 9.0, 0.0)]
    >>> three_leg_bridle_from_lengths(700.0, anchors, [8.0, 9.0, 15.0]).slack_legs
    (3,)
    """
    _check(load, anchors, 3)
    must_be_positive(**{f"length_{leg}": length for leg, length in enumerate(lengths, 1)})
    if len(lengths) != 3:
        raise ValueError(f"three legs have three lengths, but {len(lengths)} are given")
    hung = _on_one_leg(load, anchors, lengths) or _on_two_legs(load, anchors, lengths)
    if hung is not None:
        return hung
    apex = _lower_crossing(anchors, lengths)
    if apex is None:
        return Refused("the three legs do not meet", "legs long enough to meet", "geometry", "no geometry")
    return three_leg_bridle(load, anchors, apex)


def four_leg_bridle(load: float, anchors: Sequence[Point], apex: Point) -> FourLegs | Refused:
    """Worst tension of each of four legs, whichever three of them carry.

    >>> anchors = [(0.0, 0.0, 0.0), (10.0, 0.0, 0.0), (10.0, 8.0, 0.0), (0.0, 8.0, 0.0)]
    >>> [round(t) for t in four_leg_bridle(1000.0, anchors, (5.0, 4.0, -7.0)).worst_tensions]
    [678, 678, 678, 678]
    """
    _check(load, anchors, 4)
    must_be_finite(x=apex[0], y=apex[1], z=apex[2])
    lengths = tuple(_apart(anchor, apex) for anchor in anchors)
    must_be_positive(**{f"length_{leg}": length for leg, length in enumerate(lengths, 1)})
    held: list[list[float]] = []
    holding = []
    for choice in combinations(range(4), 3):
        tensions = _tensions(load, [anchors[leg] for leg in choice], apex)
        if tensions is None or min(tensions) < -_ROUNDING * max(load, 1e-300):
            continue
        holding.append((choice[0] + 1, choice[1] + 1, choice[2] + 1))
        by_leg = dict(zip(choice, tensions, strict=True))
        held.append([max(0.0, by_leg.get(leg, 0.0)) for leg in range(4)])
    if not holding:
        return Refused(
            "no three of the legs hold the load up at this apex",
            "apex within the anchors in plan",
            "statics",
            "unstable",
        )
    runs = [hypot(anchor[0] - apex[0], anchor[1] - apex[1]) for anchor in anchors]
    worst = [max(of_leg) for of_leg in zip(*held, strict=True)]
    return FourLegs(
        worst_tensions=tuple(worst),
        least_tensions=tuple(min(of_leg) for of_leg in zip(*held, strict=True)),
        choices_that_hold=tuple(holding),
        lengths=lengths,
        verticals=tuple(
            t * (a[2] - apex[2]) / long for t, a, long in zip(worst, anchors, lengths, strict=True)
        ),
        horizontals=tuple(t * run / long for t, run, long in zip(worst, runs, lengths, strict=True)),
    )


def _check(load: float, anchors: Sequence[Point], legs: int) -> None:
    must_not_be_negative(load=load)
    if len(anchors) != legs:
        raise ValueError(f"{legs} anchors are wanted, but {len(anchors)} are given")
    for number, (x, y, z) in enumerate(anchors, 1):
        must_be_finite(**{f"anchor_{number}_x": x, f"anchor_{number}_y": y, f"anchor_{number}_z": z})


def _tensions(load: float, anchors: Sequence[Point], apex: Point) -> tuple[float, ...] | None:
    """Tensions [N] that hold a load at the apex; None where the legs have no stiffness in some direction."""
    directions: FloatArray = np.array(anchors, dtype=float).T - np.array(apex, dtype=float)[:, None]
    lengths = np.linalg.norm(directions, axis=0)
    if not lengths.min() > 0:
        return None
    units = directions / lengths
    if np.linalg.cond(units) > 1e12:
        return None
    return tuple(float(tension) for tension in np.linalg.solve(units, np.array([0.0, 0.0, load])))


def _space_bridle(
    anchors: Sequence[Point], apex: Point, tensions: Sequence[float], slack_legs: tuple[int, ...] = ()
) -> SpaceBridle:
    lengths = tuple(_apart(anchor, apex) for anchor in anchors)
    runs = [hypot(anchor[0] - apex[0], anchor[1] - apex[1]) for anchor in anchors]
    horizontals = tuple(t * run / length for t, run, length in zip(tensions, runs, lengths, strict=True))
    return SpaceBridle(apex, lengths, tuple(tensions), horizontals, slack_legs)


def _on_one_leg(load: float, anchors: Sequence[Point], lengths: Sequence[float]) -> SpaceBridle | None:
    for leg, (x, y, z) in enumerate(anchors):
        apex = (x, y, z - lengths[leg])
        others = [other for other in range(3) if other != leg]
        if not any(exceeds(_apart(anchors[other], apex), lengths[other]) for other in others):
            tensions = [load if one == leg else 0.0 for one in range(3)]
            return _slack(anchors, lengths, apex, tensions, others)
    return None


def _on_two_legs(load: float, anchors: Sequence[Point], lengths: Sequence[float]) -> SpaceBridle | None:
    for first, second in combinations(range(3), 2):
        third = 3 - first - second
        across = (anchors[second][0] - anchors[first][0], anchors[second][1] - anchors[first][1])
        run = hypot(*across)
        if run == 0:
            continue
        told = bridle_from_lengths(
            load, (0.0, anchors[first][2]), (run, anchors[second][2]), lengths[first], lengths[second]
        )
        if isinstance(told, Refused) or told.slack_leg is not None:
            continue
        share = told.apex[0] / run
        apex = (anchors[first][0] + share * across[0], anchors[first][1] + share * across[1], told.apex[1])
        if not exceeds(_apart(anchors[third], apex), lengths[third]):
            tensions = [0.0] * 3
            tensions[first], tensions[second] = told.tensions
            return _slack(anchors, lengths, apex, tensions, [third])
    return None


def _slack(
    anchors: Sequence[Point],
    lengths: Sequence[float],
    apex: Point,
    tensions: Sequence[float],
    slack: Sequence[int],
) -> SpaceBridle:
    told = _space_bridle(anchors, apex, tensions, tuple(leg + 1 for leg in slack))
    return SpaceBridle(apex, tuple(lengths), told.tensions, told.horizontals, told.slack_legs)


def _lower_crossing(anchors: Sequence[Point], lengths: Sequence[float]) -> Point | None:
    """The lower of the two points at three given distances; None where there is none, or where the anchors
    stand in one line."""
    p1, p2, p3 = (np.array(anchor, dtype=float) for anchor in anchors)
    span = float(np.linalg.norm(p2 - p1))
    if span == 0:
        return None
    ex = (p2 - p1) / span
    i = float(ex @ (p3 - p1))
    off = p3 - p1 - i * ex
    j = float(np.linalg.norm(off))
    if j <= _ROUNDING * span:
        return None
    ey = off / j
    ez = np.cross(ex, ey)
    l1, l2, l3 = lengths
    x = (l1**2 - l2**2 + span**2) / (2 * span)
    y = (l1**2 - l3**2 + i**2 + j**2 - 2 * i * x) / (2 * j)
    squared = l1**2 - x**2 - y**2
    if squared < 0:
        return None
    crossings = [p1 + x * ex + y * ey + side * sqrt(squared) * ez for side in (1, -1)]
    lower = min(crossings, key=lambda point: float(point[2]))
    return float(lower[0]), float(lower[1]), float(lower[2])


def _apart(a: Point, b: Point) -> float:
    return sqrt(sum((one - other) ** 2 for one, other in zip(a, b, strict=True)))
