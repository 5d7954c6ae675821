"""Solving a batten under several loads, each by itself.

Every load is tried wherever it may hang, at both ends of its weight, with each joint as a hinge and as
unbroken pipe, and at each corner of places known only within bounds. The greatest over the loads is what
counts; it lies between the greatest of the low ends and the greatest of the high ends. Lines do not stretch
and hang level, and only pull.

Without all joints known no model of the pipe holds; what is left are bounds by statics alone. No line pulls
more than everything that hangs; and in a span between two places the moment somewhere is at least half of
that of the simple span, wherever hinges are.

Imported only when a batten is solved, for numpy takes its time to load.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import combinations, pairwise
from math import inf
from typing import Final

import numpy as np

from plumbtrue.facts.computed.batten_at_load import AtLine, BattenAtLoad, Greatest
from plumbtrue.facts.computed.hung_batten import HungBatten, Layout
from plumbtrue.facts.computed.load_cases import LoadCase
from plumbtrue.facts.gathering import Declined
from plumbtrue.mechanics.batten import CONTINUOUS, HINGE, Batten, Line, Load, PointLoad, Splice, SpreadLoad
from plumbtrue.mechanics.held import BoolArray, FloatArray, HeldBatten, each_once, hold
from plumbtrue.mechanics.influence import influence_lines
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.tight import settle
from plumbtrue.quantities.bounds import Bounds

_STEPS: Final = 48
"""Places tried in a span for a load that may hang anywhere in it, besides the turning points of the influence
lines.
"""
_SECTIONS: Final = 24
"""Sections of a span at which its sag is worked out; the parabola through the lowest three finds the lowest
between them.
"""
_MOST_DOUBTFUL_JOINTS: Final = 5
"""Each of them doubles the models to solve."""
STIFFNESS: Final = 1.0e4
"""Stiffness for what does not hang on it [N m2]; sags are scaled to the real one."""


@dataclass(slots=True)
class _Worst:
    """The greatest over loads of a figure: of each load the least and the greatest over all models and
    weights.
    """

    cases: Sequence[LoadCase]
    by_case: dict[int, list[float]] = field(default_factory=dict)
    top: float = -inf
    at: float | None = None
    state: tuple[AtLine, ...] = ()

    def take(
        self,
        case: int,
        low_end: float,
        high_end: float,
        at: float | None = None,
        state: tuple[AtLine, ...] = (),
    ) -> None:
        row = self.by_case.setdefault(case, [inf, -inf])
        row[0], row[1] = min(row[0], low_end), max(row[1], high_end)
        if high_end > self.top:
            self.top, self.at, self.state = high_end, at, state

    def greatest(self) -> Greatest:
        lows = [row[0] for case, row in self.by_case.items() if self.cases[case].sure]
        worst = max(self.by_case, key=lambda case: self.by_case[case][1])
        high = self.by_case[worst][1]
        return Greatest(
            Bounds(min(max(lows, default=0.0), high), high), self.cases[worst].label, self.at, self.state
        )


def at_load(hung: HungBatten, cases: Sequence[LoadCase]) -> BattenAtLoad:
    """Solve a batten under loads.

    Raises:
        Declined: the batten does not hang under one of them.
    """
    _must_be_bounded(hung, [case.weight for case in cases])
    if not hung.joints_known:
        return _by_statics(hung, cases)
    pulls = [_Worst(cases) for _ in hung.lines]
    moment, shear, sag, tip = (_Worst(cases) for _ in range(4))
    joints = [_Worst(cases) for _ in hung.joints]
    for layout in hung.layouts():
        for spread in sorted({hung.spread.low, hung.spread.high}):
            for held, stiff in models(hung, layout, spread):
                for number, case in enumerate(cases):
                    ends = _at_both_ends(layout, held, case)
                    if not all(one.loads for one in ends):
                        continue
                    for line, worst in enumerate(pulls):
                        tops = [one.greatest_pull(line) for one in ends]
                        low, high = min(tops) + hung.ends[line].low, max(tops) + hung.ends[line].high
                        heavy = ends[tops.index(max(tops))]
                        worst.take(number, low, high, *heavy.where_pull_is_greatest(line))
                    for quantity, found in (
                        (moment, [one.greatest_moment() for one in ends]),
                        (shear, [one.greatest_shear() for one in ends]),
                        (sag, [one.greatest_sag() for one in ends]),
                        (tip, [one.greatest_tip_drop() for one in ends]),
                    ):
                        quantity.take(number, min(found)[0], *max(found))
                    for joint in stiff:
                        at = layout.joints[joint]
                        there = [float(abs(one.moments(np.array([at]))).max()) for one in ends]
                        joints[joint].take(number, min(there), max(there), at)
    return BattenAtLoad(
        pulls=tuple(one.greatest() for one in pulls),
        moment=moment.greatest(),
        shear=shear.greatest(),
        sag=_scaled(sag.greatest(), hung.stiffness),
        tip_drop=_scaled(tip.greatest(), hung.stiffness),
        joint_moments=tuple(one.greatest() for one in joints),
    )


def anywhere(hung: HungBatten, weight: Bounds) -> tuple[Bounds, ...]:
    """Pull of each line [N] under one weight of which nobody says where it hangs: least and greatest over all
    places.

    Raises:
        Declined: the batten does not hang with it at some place.
    """
    _must_be_bounded(hung, [weight])
    case = LoadCase("weight anywhere", "anywhere", weight)
    if not hung.joints_known:
        return tuple(pull.bounds for pull in _by_statics(hung, [case]).pulls)
    low, high = np.full(len(hung.lines), inf), np.full(len(hung.lines), -inf)
    for layout in hung.layouts():
        for spread in sorted({hung.spread.low, hung.spread.high}):
            for held, _ in models(hung, layout, spread):
                for one in _at_both_ends(layout, held, case):
                    if one.loads:
                        low = np.minimum(low, one.tensions.min(axis=0))
                        high = np.maximum(high, one.tensions.max(axis=0))
    return tuple(
        Bounds(float(least), float(most)) + end for least, most, end in zip(low, high, hung.ends, strict=True)
    )


def _must_be_bounded(hung: HungBatten, loads: Sequence[Bounds]) -> None:
    if any(one.high == inf for one in (hung.spread, *hung.ends, *loads)):
        raise Declined("something that hangs on it is known only from below")


def _scaled(found: Greatest, stiffness: Bounds | None) -> Greatest | None:
    """A sag worked out at `STIFFNESS`, at the real one: on lines that do not stretch it is inverse to EI."""
    if stiffness is None:
        return None
    factor = Bounds(STIFFNESS / stiffness.high, STIFFNESS / stiffness.low)
    return Greatest(found.bounds * factor, found.case, found.at)


def models(hung: HungBatten, layout: Layout, spread: float) -> list[tuple[HeldBatten, tuple[int, ...]]]:
    """The batten with each of its doubtful joints as unbroken pipe and as a hinge, whatever the others are,
    where it hangs so; and the numbers of the joints that bend like the pipe.

    Two hinges in one span let the pipe fall, one alone may let it sag, so all of them as hinges is not the
    worst.

    Raises:
        Declined: too many joints are in doubt.
    """
    doubtful = hung.doubtful_joints
    if len(doubtful) > _MOST_DOUBTFUL_JOINTS:
        raise Declined("nobody records of too many joints what moment they carry")
    lines = [Line(at) for at in layout.lines]
    found = [(hold(Batten(layout.length, STIFFNESS, spread), lines), tuple(range(len(layout.joints))))]
    for count in range(1, len(doubtful) + 1):
        for hinges in combinations(doubtful, count):
            splices = tuple(
                Splice(at, HINGE if number in hinges else CONTINUOUS)
                for number, at in enumerate(layout.joints)
            )
            hinged = hold(Batten(layout.length, STIFFNESS, spread, splices=splices), lines)
            bare = settle(hinged, hinged.own_effect[None], np.zeros(len(lines)), tension_only=True)
            if bare.hangs[0]:
                stiff = tuple(number for number in range(len(layout.joints)) if number not in hinges)
                found.append((hinged, stiff))
    return found


def _spots(layout: Layout, held: HeldBatten, case: LoadCase) -> list[float]:
    """Every place that has to be tried for a point load."""
    first, last = layout.lines[0], layout.lines[-1]
    tips = [at for at, beyond in ((0.0, first), (layout.length, layout.length - last)) if beyond > 1e-9]
    match case.where:
        case "at a line":
            return list(layout.lines)
        case "on an overhang":
            return tips
        case "between lines":
            return _between(held, first, last)
        case _:
            return [*_between(held, first, last), *tips]


def _between(held: HeldBatten, first: float, last: float) -> list[float]:
    """Even steps in every span, and where the pull of some line turns."""
    if last <= first:
        return [first]
    spans = pairwise(sorted(line.at for line in held.lines))
    places = {a + (b - a) * step / _STEPS for a, b in spans for step in range(_STEPS + 1)}
    influence = influence_lines(held)
    if not isinstance(influence, Refused):
        places.update(float(at) for at in influence.turning_places(first, last))
    return sorted(places)


def _at_both_ends(layout: Layout, held: HeldBatten, case: LoadCase) -> list["_Solved"]:
    """A load at every place that has to be tried, at the least and at the greatest that it may weigh."""
    weights = sorted({case.weight.low, case.weight.high})
    if case.where == "spread":
        return [
            _solved(
                held, [SpreadLoad.uniform(0.0, layout.length, weight) if weight > 0 else PointLoad(0.0, 0.0)]
            )
            for weight in weights
        ]
    spots = _spots(layout, held, case)
    return [_solved(held, [PointLoad(at, weight) for at in spots]) for weight in weights]


def _solved(held: HeldBatten, loads: Sequence[Load]) -> "_Solved":
    if not loads:
        none = np.zeros((0, len(held.lines)))
        return _Solved(held, (), none, none.astype(bool), np.zeros((0, 0)))
    settled = settle(
        held, held.own_effect + held.effects(list(loads)), np.zeros(len(held.lines)), tension_only=True
    )
    if settled.hangs.all():
        return _Solved(held, tuple(loads), settled.tensions, settled.tight, settled.kinks)
    if not held.batten.turning_splices:
        raise Declined("no pull of the lines holds this: the batten tips")
    # As a hinge the joint would let this load fall; as long as it hangs, the joint is none.
    hanging = [number for number, hangs in enumerate(settled.hangs) if hangs]
    return _Solved(
        held,
        tuple(loads[number] for number in hanging),
        settled.tensions[hanging],
        settled.tight[hanging],
        settled.kinks[hanging],
    )


@dataclass(frozen=True, eq=False)
class _Solved:
    """One load at several places, solved at once; arrays of shape (places of the load, ...)."""

    held: HeldBatten
    loads: tuple[Load, ...]
    tensions: FloatArray
    tight: BoolArray
    kinks: FloatArray

    @cached_property
    def _lines(self) -> FloatArray:
        return np.array([line.at for line in self.held.lines])

    @cached_property
    def _points(self) -> tuple[FloatArray, FloatArray]:
        """Place and weight of the load where it is a point; nothing weighs the other."""
        points = [load if isinstance(load, PointLoad) else PointLoad(0.0, 0.0) for load in self.loads]
        return np.array([one.at for one in points]), np.array([one.weight for one in points])

    @cached_property
    def _intensity(self) -> FloatArray:
        """Weight per length of pipe and spread load [N/m]."""
        spread = [load.at_start if isinstance(load, SpreadLoad) else 0.0 for load in self.loads]
        return np.array(spread) + self.held.batten.weight_per_length

    def moments(self, at: FloatArray) -> FloatArray:
        """Bending moment at places [N m], by statics from the left; shape (loads, places)."""
        places, weights = self._points
        from_lines: FloatArray = self.tensions @ np.maximum(at - self._lines[:, None], 0.0)
        from_points = weights[:, None] * np.maximum(at - places[:, None], 0.0)
        return from_lines - from_points - self._intensity[:, None] * at * at / 2

    def shears(self, at: FloatArray, *, right_of: bool) -> FloatArray:
        """Shear just left or just right of places [N]; shape (loads, places)."""
        passed = np.greater_equal if right_of else np.greater
        places, weights = self._points
        from_lines: FloatArray = self.tensions @ passed(at, self._lines[:, None]).astype(float)
        from_points = weights[:, None] * passed(at, places[:, None])
        return from_lines - from_points - self._intensity[:, None] * at

    @cached_property
    def _breaks(self) -> FloatArray:
        return each_once([0.0, self.held.batten.length, *self._lines, *self._points[0]])

    @cached_property
    def _moments_at_lines(self) -> FloatArray:
        return self.moments(self._lines)

    def greatest_pull(self, line: int) -> float:
        """Greatest tension of a line [N]."""
        return float(self.tensions[:, line].max())

    def where_pull_is_greatest(self, line: int) -> tuple[float | None, tuple[AtLine, ...]]:
        """Place of the load where it is a point, and the state of all lines then."""
        top = int(self.tensions[:, line].argmax())
        load = self.loads[top]
        moments = self._moments_at_lines[top]
        state = zip(self._lines, self.tensions[top], moments, strict=True)
        return (
            load.at if isinstance(load, PointLoad) and load.weight else None,
            tuple(AtLine(float(at), float(tension), float(moment)) for at, tension, moment in state),
        )

    def greatest_moment(self) -> tuple[float, float]:
        """Greatest size of the moment [N m], and where: at a line or a load, or between, where the shear
        passes nought.
        """
        breaks = self._breaks
        at_breaks = abs(self.moments(breaks)).max(axis=0)
        best = (float(at_breaks.max()), float(breaks[at_breaks.argmax()]))
        per_length = self._intensity[:, None]
        if not per_length.all():
            return best
        shear = self.shears(breaks[:-1], right_of=True)
        reach = shear / per_length
        inside = (reach > 0) & (reach < np.diff(breaks))
        between = np.where(inside, abs(self.moments(breaks[:-1]) + shear * reach / 2), 0.0)
        load, piece = np.unravel_index(int(between.argmax()), between.shape)
        return max(best, (float(between[load, piece]), float(breaks[piece] + reach[load, piece])))

    def greatest_shear(self) -> tuple[float, float]:
        """Greatest size of the shear [N], and where."""
        breaks = self._breaks
        sizes = np.maximum(abs(self.shears(breaks, right_of=False)), abs(self.shears(breaks, right_of=True)))
        at_breaks = sizes.max(axis=0)
        return float(at_breaks.max()), float(breaks[at_breaks.argmax()])

    def levels(self, at: FloatArray) -> FloatArray:
        """Level of the pipe at places [m], upwards, at the stiffness `STIFFNESS`: the moment integrated twice,
        nought at tight lines.

        Shape (loads, places).
        """
        free = self._curve(at)
        lines = self._lines
        at_lines = self._curve(lines)
        rows = np.arange(len(self.loads))
        first = self.tight.argmax(axis=1)
        last = len(lines) - 1 - self.tight[:, ::-1].argmax(axis=1)
        span = np.where(last > first, lines[last] - lines[first], inf)
        slope = (at_lines[rows, last] - at_lines[rows, first]) / span
        chord: FloatArray = at_lines[rows, first][:, None] + slope[:, None] * (at - lines[first][:, None])
        return free - chord

    def _curve(self, at: FloatArray) -> FloatArray:
        """Twice the integral of M/EI from rest at the left end, with the kinks of the joints."""
        places, weights = self._points
        from_lines = self.tensions @ np.maximum(at - self._lines[:, None], 0.0) ** 3 / 6
        from_points = weights[:, None] * np.maximum(at - places[:, None], 0.0) ** 3 / 6
        curve: FloatArray = (from_lines - from_points - self._intensity[:, None] * at**4 / 24) / STIFFNESS
        joints = np.array([splice.at for splice in self.held.batten.turning_splices])
        if len(joints):
            curve = curve + self.kinks @ np.maximum(at - joints[:, None], 0.0)
        return curve

    def greatest_sag(self) -> tuple[float, float]:
        """Greatest sag over its span, and where: between neighbouring lines that are tight."""
        best = (0.0, 0.0)
        for state in sorted(set(map(tuple, self.tight.tolist()))):
            tight = np.array(state)
            rows = (self.tight == tight).all(axis=1)
            for left, right in pairwise(sorted(self._lines[tight])):
                at = np.linspace(left, right, _SECTIONS + 1)
                # Between tight lines the chord is level, since they do not stretch.
                sags = -self.levels(at)[rows]
                load, section = np.unravel_index(int(sags.argmax()), sags.shape)
                depth, place = peak(sags[load], int(section), float(left), float(right - left) / _SECTIONS)
                best = max(best, (depth / float(right - left), place))
        return best

    def greatest_tip_drop(self) -> tuple[float, float]:
        """Drop of the worse tip below its line [m], and which."""
        tips = np.array([0.0, self.held.batten.length])
        drops = -self.levels(tips)
        load, tip = np.unravel_index(int(drops.argmax()), drops.shape)
        return float(drops[load, tip]), float(tips[tip])


def peak(figures: FloatArray, section: int, start: float, step: float) -> tuple[float, float]:
    """The top of the parabola through the highest of evenly spaced figures and its neighbours, and its
    place.
    """
    if not 0 < section < len(figures) - 1:
        return float(figures[section]), start + section * step
    left, middle, right = (float(one) for one in figures[section - 1 : section + 2])
    bend = left - 2 * middle + right
    if bend >= 0:
        return middle, start + section * step
    shift = (left - right) / (2 * bend)
    return middle - (left - right) * shift / 4, start + (section + shift) * step


def _by_statics(hung: HungBatten, cases: Sequence[LoadCase]) -> BattenAtLoad:
    """What holds whatever joints the pipe has: a line pulls between nothing and everything; a span bends at
    least by half.
    """
    heaviest = max(cases, key=lambda case: case.weight.high)
    own = (hung.spread * hung.length).high
    pulls = tuple(
        Greatest(Bounds(end.low, own + heaviest.weight.high + end.high), heaviest.label) for end in hung.ends
    )
    least = max((_least_moment(hung, case) for case in cases if case.sure), default=0.0)
    return BattenAtLoad(
        pulls=pulls,
        moment=Greatest(Bounds(least, inf), heaviest.label),
        shear=Greatest(Bounds(0.0, inf), heaviest.label),
        sag=None,
        tip_drop=None,
        joint_moments=(),
    )


def _least_moment(hung: HungBatten, case: LoadCase) -> float:
    """The moment that some section of the pipe must carry, joints or not [N m].

    In a span, `M(x) = M0(x) + (1-s) Ma + s Mb` with M0 that of the simple span. If no moment were over m, M0
    could not be over 2 m.
    """
    found = []
    for layout in hung.layouts():
        spread = hung.spread.low + (case.weight.low / layout.length if case.where == "spread" else 0.0)
        point = case.weight.low if case.where in ("between lines", "anywhere") else 0.0
        spans = [right - left for left, right in pairwise(sorted(layout.lines))]
        found.append(max((spread * span**2 / 8 + point * span / 4 for span in spans), default=0.0) / 2)
    return min(found)
