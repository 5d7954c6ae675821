"""A batten under several loads, each by itself: pulls, moments, shears and sags at their worst, as bounds.

Every load is tried wherever it may hang, at both ends of its weight, with each joint as a hinge and as
unbroken pipe, and at each corner of places known only within bounds. The greatest over the loads is what
counts; it lies between the greatest of the low ends and the greatest of the high ends. Lines do not stretch
and hang level, and only pull.

Without all joints known no model of the pipe holds; what is left are bounds by statics alone. No line pulls
more than everything that hangs; and in a span between two places the moment somewhere is at least half of
that of the simple span, wherever hinges are.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf
from typing import TYPE_CHECKING, Final

from plumbtrue.facts.computed.hung_batten import HungBatten, Layout
from plumbtrue.facts.computed.load_cases import LoadCase
from plumbtrue.facts.gathering import Declined
from plumbtrue.quantities.bounds import Bounds

if TYPE_CHECKING:
    from plumbtrue.mechanics.batten import Load
    from plumbtrue.mechanics.held import FloatArray, HeldBatten

_STEPS: Final = 16
"""Places tried in a span for a load that may hang anywhere in it, besides the turning points of the influence
lines.
"""
_EI: Final = 1.0e4
"""Stiffness for what does not hang on it [N m2]; sags are scaled to the real one."""


@dataclass(frozen=True, slots=True)
class Greatest:
    """A figure at its worst over all loads: bounds, and what and where makes it so."""

    bounds: Bounds
    case: str
    at: float | None = None


@dataclass(frozen=True, slots=True)
class BattenAtLoad:
    """What a batten does under given loads, each by itself."""

    pulls: tuple[Greatest, ...]
    """Greatest pull of each line just above the batten, lower ends included [N]."""
    moment: Greatest
    """[N m], size only."""
    shear: Greatest
    """[N], size only."""
    sag: Greatest | None
    """Greatest sag over its span; nothing where the stiffness is not known."""
    tip_drop: Greatest | None
    """Drop of the worse end below its line [m]; nothing where the stiffness is not known."""
    joint_moments: tuple[Greatest, ...]
    """At each joint, as unbroken pipe [N m]."""


@dataclass(slots=True)
class _Worst:
    """The greatest over loads of a figure: of each load the least and the greatest over all models and
    weights.
    """

    by_case: dict[int, list[float]]
    sure: Sequence[bool]
    labels: Sequence[str]
    at: float | None = None
    top: float = -inf

    def take(self, case: int, low_end: float, high_end: float, at: float | None = None) -> None:
        row = self.by_case.setdefault(case, [inf, -inf])
        row[0], row[1] = min(row[0], low_end), max(row[1], high_end)
        if high_end > self.top:
            self.top, self.at = high_end, at

    def greatest(self) -> Greatest:
        lows = [row[0] for case, row in self.by_case.items() if self.sure[case]]
        worst = max(self.by_case, key=lambda case: self.by_case[case][1])
        high = self.by_case[worst][1]
        return Greatest(Bounds(min(max(lows, default=0.0), high), high), self.labels[worst], self.at)


def at_load(hung: HungBatten, cases: Sequence[LoadCase]) -> BattenAtLoad:
    """Solve a batten under loads.

    Raises:
        Declined: the batten does not hang under one of them.
    """
    if not hung.joints_known:
        return _by_statics(hung, cases)
    labels, sure = [case.label for case in cases], [case.sure for case in cases]

    def worst() -> _Worst:
        return _Worst({}, sure, labels)

    pulls = [worst() for _ in hung.lines]
    moment, shear, sag, tip = worst(), worst(), worst(), worst()
    joints = [worst() for _ in hung.joints]
    for layout in hung.layouts():
        for spread in sorted({hung.spread.low, hung.spread.high}):
            for held, unbroken in _models(hung, layout, spread):
                for number, case in enumerate(cases):
                    _take(hung, layout, held, number, case, pulls, moment, shear, sag, tip)
                    if unbroken:
                        _take_joints(layout, held, number, case, joints)
    stiff = hung.stiffness
    return BattenAtLoad(
        pulls=tuple(one.greatest() for one in pulls),
        moment=moment.greatest(),
        shear=shear.greatest(),
        sag=_scaled(sag.greatest(), stiff),
        tip_drop=_scaled(tip.greatest(), stiff),
        joint_moments=tuple(one.greatest() for one in joints),
    )


def anywhere(hung: HungBatten, weight: Bounds) -> tuple[Bounds, ...]:
    """Pull of each line [N] under one weight of which nobody says where it hangs: least and greatest over all
    places.

    Raises:
        Declined: the batten does not hang with it at some place.
    """
    case = LoadCase("weight anywhere", "anywhere", weight)
    if not hung.joints_known:
        return tuple(Bounds(pull.bounds.low, pull.bounds.high) for pull in _by_statics(hung, [case]).pulls)
    low, high = [inf] * len(hung.lines), [-inf] * len(hung.lines)
    for layout in hung.layouts():
        for spread in sorted({hung.spread.low, hung.spread.high}):
            for held, _ in _models(hung, layout, spread):
                for end in sorted({weight.low, weight.high}):
                    tensions = _solved(layout, held, _instances(layout, held, case, end)).tensions
                    for line in range(len(hung.lines)) if len(tensions) else ():
                        low[line] = min(low[line], float(tensions[:, line].min()))
                        high[line] = max(high[line], float(tensions[:, line].max()))
    return tuple(Bounds(least, most) + end for least, most, end in zip(low, high, hung.ends, strict=True))


def _scaled(found: Greatest, stiffness: Bounds | None) -> Greatest | None:
    """A sag worked out at `_EI`, at the real stiffness: on lines that do not stretch it is inverse to EI."""
    if stiffness is None:
        return None
    factor = Bounds(_EI / stiffness.high, _EI / stiffness.low)
    return Greatest(found.bounds * factor, found.case, found.at)


def _models(hung: HungBatten, layout: Layout, spread: float) -> list[tuple["HeldBatten", bool]]:
    """The batten with its doubtful joints as unbroken pipe, and as hinges where it hangs with them."""
    from plumbtrue.mechanics.batten import CONTINUOUS, HINGE, Batten, Line, Splice
    from plumbtrue.mechanics.held import hold

    lines = [Line(at) for at in layout.lines]
    doubtful = [layout.joints[number] for number in hung.doubtful_joints]
    models = [(hold(Batten(layout.length, _EI, spread), lines), True)]
    if doubtful:
        splices = tuple(Splice(at, HINGE if at in doubtful else CONTINUOUS) for at in layout.joints)
        hinged = hold(Batten(layout.length, _EI, spread, splices=splices), lines)
        if _hangs(hinged):
            models.append((hinged, False))
    return models


def _hangs(held: "HeldBatten") -> bool:
    import numpy as np

    from plumbtrue.mechanics.tight import settle

    return bool(settle(held, held.own_effect[None], np.zeros(len(held.lines)), tension_only=True).hangs[0])


def _instances(layout: Layout, held: "HeldBatten", case: LoadCase, weight: float) -> list["Load"]:
    """A load at every place that has to be tried."""
    from plumbtrue.mechanics.batten import PointLoad, SpreadLoad

    if case.where == "spread":
        return [SpreadLoad.uniform(0.0, layout.length, weight)] if weight > 0 else [PointLoad(0.0, 0.0)]
    return [PointLoad(at, weight) for at in _spots(layout, held, case)]


def _spots(layout: Layout, held: "HeldBatten", case: LoadCase) -> list[float]:
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


def _between(held: "HeldBatten", first: float, last: float) -> list[float]:
    """Even steps in every span, and where the pull of some line turns."""
    from plumbtrue.mechanics.influence import influence_lines
    from plumbtrue.mechanics.refusal import Refused

    if last <= first:
        return [first]
    places = [line.at for line in held.lines]
    even = [a + (b - a) * step / _STEPS for a, b in pairwise(sorted(places)) for step in range(_STEPS + 1)]
    influence = influence_lines(held)
    if not isinstance(influence, Refused):
        even.extend(float(at) for at in influence.turning_places(first, last))
    return sorted(set(even))


def _take(
    hung: HungBatten,
    layout: Layout,
    held: "HeldBatten",
    number: int,
    case: LoadCase,
    pulls: list[_Worst],
    moment: _Worst,
    shear: _Worst,
    sag: _Worst,
    tip: _Worst,
) -> None:
    ends = sorted({case.weight.low, case.weight.high})
    found = [_solved(layout, held, _instances(layout, held, case, weight)) for weight in ends]
    if not all(one.count for one in found):
        return
    for line, worst in enumerate(pulls):
        low = min(float(one.tensions[:, line].max()) for one in found) + hung.ends[line].low
        high = max(float(one.tensions[:, line].max()) for one in found) + hung.ends[line].high
        worst.take(number, low, high, _place_of(found[-1], line))
    for quantity, kind in ((moment, "moment"), (shear, "shear"), (sag, "sag"), (tip, "tip")):
        tops = [one.greatest(kind) for one in found]
        highest = max(tops)
        quantity.take(number, min(tops)[0], highest[0], highest[1])


def _place_of(solved: "_Solved", line: int) -> float | None:
    return solved.place(int(solved.tensions[:, line].argmax()))


def _take_joints(
    layout: Layout, held: "HeldBatten", number: int, case: LoadCase, joints: list[_Worst]
) -> None:
    if not joints:
        return
    ends = sorted({case.weight.low, case.weight.high})
    found = [_solved(layout, held, _instances(layout, held, case, weight)) for weight in ends]
    if not all(one.count for one in found):
        return
    for at, worst in zip(layout.joints, joints, strict=True):
        tops = [float(abs(one.moments_at(at)).max()) for one in found]
        worst.take(number, min(tops), max(tops), at)


@dataclass(frozen=True, slots=True, eq=False)
class _Solved:
    """One load at several places, solved at once; arrays of shape (instances, ...)."""

    held: "HeldBatten"
    layout: Layout
    loads: tuple["Load", ...]
    tensions: "FloatArray"

    @property
    def count(self) -> int:
        return len(self.loads)

    def place(self, instance: int) -> float | None:
        from plumbtrue.mechanics.batten import PointLoad

        load = self.loads[instance]
        return load.at if isinstance(load, PointLoad) else None

    def moments_at(self, at: float) -> "FloatArray":
        """Bending moment at a place for every instance [N m], by statics from the left."""
        return self._from_left(at, moments=True)

    def _from_left(self, at: float, *, moments: bool, including: bool = False) -> "FloatArray":
        """Moment at a place, or shear just left of it (just right of it with `including`)."""
        import numpy as np

        from plumbtrue.mechanics.batten import PointLoad, SpreadLoad

        lines = np.array([line.at for line in self.held.lines])
        reach = at - lines
        left = reach >= 0 if including else reach > 0
        found = (self.tensions * np.where(left, reach if moments else 1.0, 0.0)).sum(axis=1)
        own = self.held.batten.weight_per_length
        found = found - (own * at * at / 2 if moments else own * at)
        for number, load in enumerate(self.loads):
            match load:
                case PointLoad(place, weight):
                    passed = at >= place if including else at > place
                    if passed:
                        found[number] -= weight * (at - place) if moments else weight
                case SpreadLoad(start, _, per_length, _):
                    x = at - start
                    found[number] -= per_length * (x * x / 2 if moments else x)
        return found  # type: ignore[no-any-return]  # numpy's sum of a float array is one

    def greatest(self, kind: str) -> tuple[float, float]:
        """The greatest of one quantity over all instances, and where: size of moment or shear, sag over span,
        drop of a tip.
        """
        if kind in ("moment", "shear"):
            return self._greatest_force(kind)
        return max(self._bent(instance, kind) for instance in self._worth_bending(kind))

    def _greatest_force(self, kind: str) -> tuple[float, float]:
        best = (0.0, 0.0)
        from plumbtrue.mechanics.batten import PointLoad

        breaks = {0.0, self.layout.length, *self.layout.lines}
        breaks.update(load.at for load in self.loads if isinstance(load, PointLoad))
        for at in sorted(breaks):
            if kind == "moment":
                best = max(best, (float(abs(self.moments_at(at)).max()), at))
            else:
                for including in (False, True):
                    size = float(abs(self._from_left(at, moments=False, including=including)).max())
                    best = max(best, (size, at))
        if kind == "moment":
            best = max(best, self._between_breaks(sorted(breaks)))
        return best

    def _between_breaks(self, breaks: Sequence[float]) -> tuple[float, float]:
        """The greatest moment where the shear passes through nought between two breaks."""
        import numpy as np

        from plumbtrue.mechanics.batten import SpreadLoad

        per_length = np.full(self.count, self.held.batten.weight_per_length)
        for number, load in enumerate(self.loads):
            if isinstance(load, SpreadLoad):
                per_length[number] += load.at_start
        best = (0.0, 0.0)
        if not per_length.all():
            return best
        for left, right in pairwise(breaks):
            shear = self._from_left(left, moments=False, including=True)
            reach = shear / per_length
            inside = (reach > 0) & (reach < right - left)
            if inside.any():
                tops = np.where(inside, abs(self.moments_at(left) + shear * reach / 2), 0.0)
                top = int(tops.argmax())
                best = max(best, (float(tops[top]), float(left + reach[top])))
        return best

    def _worth_bending(self, kind: str) -> list[int]:
        """Instances whose deflection is worth working out: loads in the middle third of a span, and at the
        tips.
        """
        from plumbtrue.mechanics.batten import PointLoad

        chosen = []
        for number, load in enumerate(self.loads):
            if not isinstance(load, PointLoad):
                chosen.append(number)
                continue
            spans = [(a, b) for a, b in pairwise(sorted(self.layout.lines)) if a < load.at < b]
            in_middle = any(0.40 <= (load.at - a) / (b - a) <= 0.60 for a, b in spans)
            if (in_middle and _step_of(load.at, spans) % 2 == 0) or (not spans):
                chosen.append(number)
        return chosen or [0]

    def _bent(self, instance: int, kind: str) -> tuple[float, float]:
        from plumbtrue.mechanics.reactions import solve_held
        from plumbtrue.mechanics.refusal import Refused

        load = self.loads[instance]
        solved = solve_held(self.held, [load] if load.weight else [])
        if isinstance(solved, Refused):
            raise Declined(solved.reason)
        bending = solved.bending()
        if kind == "tip":
            return max((tip.drop, tip.tip) for tip in bending.tip_drops)
        if len(bending.held_at) < 2:
            return 0.0, 0.0
        return max((span.share_of_span, span.at) for span in bending.span_sags)


def _step_of(at: float, spans: Sequence[tuple[float, float]]) -> int:
    a, b = spans[0]
    return round((at - a) / (b - a) * _STEPS)


def _solved(layout: Layout, held: "HeldBatten", loads: Sequence["Load"]) -> _Solved:
    import numpy as np

    from plumbtrue.mechanics.tight import settle

    if not loads:
        return _Solved(held, layout, (), np.zeros((0, len(held.lines))))
    effects = held.own_effect + held.effects(list(loads))
    settled = settle(held, effects, np.zeros(len(held.lines)), tension_only=True)
    if settled.hangs.all():
        return _Solved(held, layout, tuple(loads), settled.tensions)
    if not held.batten.turning_splices:
        raise Declined("no pull of the lines holds this: the batten tips")
    # As a hinge the joint would let this load fall; as long as it hangs, the joint is none.
    hanging = [number for number, hangs in enumerate(settled.hangs) if hangs]
    return _Solved(held, layout, tuple(loads[number] for number in hanging), settled.tensions[hanging])


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
    least = 0.0
    for layout in hung.layouts():
        spread = hung.spread.low + (case.weight.low / layout.length if case.where == "spread" else 0.0)
        point = case.weight.low if case.where in ("between lines", "anywhere") else 0.0
        spans = [right - left for left, right in pairwise(sorted(layout.lines))]
        here = max((spread * span**2 / 8 + point * span / 4 for span in spans), default=0.0) / 2
        least = here if least == 0.0 else min(least, here)
    return least
