"""One model of a batten in one state, its pulls known within bounds: every figure at whichever ends are worse.

While no line goes slack everything is a straight sum of the pulls, so each pull is taken at whichever end of
its weight, and of its place, is worse for the line or the section that is looked at: exact, and the worse
end may be the lighter one. Where a line can go slack, the sets of tight lines are searched for the pulls of
the lines; moments and sags are then the greatest found over the corners that are worst for some line.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf
from typing import Final

import numpy as np

from plumbtrue.facts.computed.batten_at_load import AtLine
from plumbtrue.facts.computed.batten_solving import peak
from plumbtrue.facts.computed.hung_batten import Layout
from plumbtrue.facts.computed.hung_curves import levels_of, levels_under, moments_of, moments_under
from plumbtrue.facts.computed.hung_load import BeamPull
from plumbtrue.facts.gathering import Declined
from plumbtrue.mechanics.batten import Load, PointLoad, SpreadLoad, scaled
from plumbtrue.mechanics.held import FloatArray, HeldBatten, each_once
from plumbtrue.mechanics.load_bounds import BoundedLoad, tension_bounds
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.tight import settle
from plumbtrue.quantities.bounds import Bounds

_SECTIONS: Final = 24
"""Sections of each stretch between two breaks; a parabola through three of them finds the greatest between."""
_STEPS: Final = 48
"""Places tried for a pull that may hang anywhere on the batten."""
_SHORTEST: Final = 1e-4
"""Stretch under which a spread pull is one at a place [m]."""


@dataclass(frozen=True, slots=True)
class WorkedState:
    """One state at the weights that make a figure what it is, so that it can be followed by hand: what hangs
    there with its name [N], and every line.
    """

    loads: tuple[tuple[str, Load], ...]
    lines: tuple[AtLine, ...]


@dataclass(slots=True)
class OverModels:
    """A figure in one state over all models of the pipe: the truth lies in their hull."""

    low: float = inf
    high: float = -inf
    at: float | None = None
    lowest: "Solved | None" = None
    highest: "Solved | None" = None
    """The models at which the ends were found."""

    def take(
        self, low: float, high: float, at: float | None = None, *, solved: "Solved | None" = None
    ) -> None:
        """One model's figure, and the model."""
        if low < self.low:
            self.low, self.lowest = low, solved
        if high > self.high:
            self.high, self.at, self.highest = high, at, solved


@dataclass(frozen=True, slots=True)
class _Choice:
    """One pull: its weight [N] and every place that has to be tried, as loads of 1 N."""

    pull: BeamPull
    weight: Bounds
    units: tuple[Load, ...]


def _choices(layout: Layout, pulls: Sequence[BeamPull]) -> list[_Choice]:
    return [_Choice(pull, pull.weight, _units(layout, pull)) for pull in pulls]


def _units(layout: Layout, pull: BeamPull) -> tuple[Load, ...]:
    """A pull of 1 N at every place that has to be tried.

    Raises:
        Declined: it lies beyond the batten.
    """
    length = layout.length
    if pull.at is not None:
        places = _ends(pull.at, length)
        if len(places) > 1:
            places = [float(at) for at in np.linspace(places[0], places[1], 9)]
        _must_be_on(length, places, pull)
        return tuple(PointLoad(min(max(at, 0.0), length), 1.0) for at in places)
    if pull.start is not None and pull.end is not None:
        starts, ends = _ends(pull.start, length), _ends(pull.end, length)
        _must_be_on(length, (*starts, *ends), pull)
        found = [_spread(start, end, length) for start in starts for end in ends]
        # Where both ends may lie at one place, all of it may hang there.
        first, last = max(starts[0], ends[0]), min(starts[-1], ends[-1])
        found += [_spread(at, at, length) for at in (first, last) if first <= last]
        return tuple(found)
    if pull.touches is not None:
        _must_be_on(length, _ends(pull.touches, length), pull)
    even = np.linspace(0.0, length, _STEPS * (len(layout.lines) + 1) + 1)
    return tuple(PointLoad(float(at), 1.0) for at in each_once([*even, *layout.lines]))


def _ends(place: Bounds, length: float) -> list[float]:
    """The ends between which a place lies; one without an end may lie as far out as the pipe goes."""
    low = place.low if place.low > -np.inf else 0.0
    high = place.high if place.high < np.inf else length
    return sorted({low, high})


def _spread(start: float, end: float, length: float) -> Load:
    """1 N from one place to the other, whichever of them comes first."""
    first, last = sorted(min(max(at, 0.0), length) for at in (start, end))
    if last - first < _SHORTEST:
        return PointLoad((first + last) / 2, 1.0)
    return SpreadLoad.uniform(first, last, 1.0)


def _must_be_on(length: float, places: Sequence[float], pull: BeamPull) -> None:
    if min(places) < -1e-6 * length or max(places) > length * (1 + 1e-6):
        raise Declined(f"{pull.label} pulls beyond the end of the batten")


def solve_in_doubt(held: HeldBatten, layout: Layout, pulls: Sequence[BeamPull]) -> "Solved":
    """One model of the batten under pulls whose weight and place are known within bounds.

    Raises:
        Declined: the batten tips for some of these loads, or is loaded beyond its ends.
    """
    choices = _choices(layout, pulls)
    units: list[Load] = [unit for choice in choices for unit in choice.units]
    n = len(held.lines)
    nothing = np.zeros(n)
    effects = np.vstack([held.own_effect[None], held.effects(units)]) if units else held.own_effect[None]
    straight = settle(held, effects, nothing, tension_only=False)
    if not straight.hangs.all():
        raise Declined("no pull of the lines holds this: the batten tips")
    ranges = _ranges(choices, straight.tensions)
    least = straight.tensions[0] + ranges[0].sum(axis=0)
    greatest = straight.tensions[0] + ranges[1].sum(axis=0)
    scale = max(float(np.abs(greatest).max(initial=0.0)), 1.0)
    if (least >= -1e-9 * scale).all():
        return Solved(held, layout, choices, straight.tensions, straight.kinks, least, greatest, None)
    bounds = tension_bounds(
        held.batten, held.lines, [_bounded(choice, layout) for choice in choices], levelled="slack"
    )
    if isinstance(bounds, Refused):
        raise Declined(bounds.reason)
    corners = [*_corners(choices, straight.tensions), *_every_place(choices)]
    settled = settle(held, _effects(held, corners), nothing, tension_only=True)
    if not settled.hangs.all():
        raise Declined("no pull of the lines holds this: the batten tips")
    least = np.minimum(bounds.least, settled.tensions.min(axis=0))
    greatest = np.maximum(bounds.greatest, settled.tensions.max(axis=0))
    return Solved(
        held,
        layout,
        choices,
        straight.tensions,
        straight.kinks,
        least,
        greatest,
        _Searched(tuple(tuple(one) for one in corners), settled.tensions, settled.kinks, settled.tight),
    )


def _bounded(choice: _Choice, layout: Layout) -> BoundedLoad:
    first, last = choice.units[0], choice.units[-1]
    weight = (choice.weight.low, choice.weight.high)
    if isinstance(first, PointLoad) and isinstance(last, PointLoad) and len(choice.units) > 1:
        return BoundedLoad(first, weight, at=(first.at, last.at))
    return BoundedLoad(first, weight)


def _rows(choices: Sequence[_Choice]) -> list[slice]:
    """Rows of each pull's units in the arrays, after the first row, which is the pipe itself."""
    found, at = [], 1
    for choice in choices:
        found.append(slice(at, at + len(choice.units)))
        at += len(choice.units)
    return found


def _ranges(choices: Sequence[_Choice], responses: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Least and greatest share of each pull in every figure; both of shape (pulls, figures)."""
    width = responses.shape[1]
    low, high = np.zeros((len(choices), width)), np.zeros((len(choices), width))
    for number, (choice, rows) in enumerate(zip(choices, _rows(choices), strict=True)):
        shares = responses[rows]
        corners = np.concatenate([shares * choice.weight.low, shares * choice.weight.high])
        low[number], high[number] = corners.min(axis=0), corners.max(axis=0)
    return low, high


def _corners(choices: Sequence[_Choice], responses: FloatArray) -> list[list[Load]]:
    """Loads at their lightest, at their heaviest, and as each line feels most and least of them."""
    found = [
        [scaled(choice.units[0], getattr(choice.weight, end)) for choice in choices]
        for end in ("low", "high")
    ]
    for line in range(responses.shape[1]):
        for worst in (np.argmax, np.argmin):
            loads = []
            for choice, rows in zip(choices, _rows(choices), strict=True):
                shares = responses[rows][:, line]
                pair = np.concatenate([shares * choice.weight.low, shares * choice.weight.high])
                best = int(worst(pair))
                weight = choice.weight.low if best < len(shares) else choice.weight.high
                loads.append(scaled(choice.units[best % len(shares)], weight))
            found.append(loads)
    return found


def _every_place(choices: Sequence[_Choice]) -> list[list[Load]]:
    """Each pull of which nobody says where it hangs at every place, light and heavy, the others likewise."""
    found = []
    for number, choice in enumerate(choices):
        for unit in choice.units if len(choice.units) > 1 else ():
            for own in ("low", "high"):
                for others in ("low", "high"):
                    loads = [scaled(one.units[0], getattr(one.weight, others)) for one in choices]
                    loads[number] = scaled(unit, getattr(choice.weight, own))
                    found.append(loads)
    return found


def _effects(held: HeldBatten, cases: Sequence[Sequence[Load]]) -> FloatArray:
    return np.array(
        [held.own_effect + (held.effects(list(loads)).sum(axis=0) if loads else 0.0) for loads in cases]
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Searched:
    """Corners that were settled with lines that only pull; arrays of shape (corners, ...)."""

    loads: tuple[tuple[Load, ...], ...]
    tensions: FloatArray
    kinks: FloatArray
    tight: np.ndarray


@dataclass(frozen=True, slots=True, eq=False)
class Solved:
    """One model of the batten in one state."""

    held: HeldBatten
    layout: Layout
    choices: list[_Choice]
    tensions: FloatArray
    """Of the pipe itself, and of every pull's units; shape (1 + units, lines)."""
    kinks: FloatArray
    least: FloatArray
    greatest: FloatArray
    search: _Searched | None

    @property
    def searched(self) -> bool:
        return self.search is not None

    def corner_loads(self) -> list[list[Load]]:
        """Loads at their lightest, heaviest, and as each line feels most and least of them."""
        return _corners(self.choices, self.tensions)

    def worked_for_line(self, line: int, *, greatest: bool) -> WorkedState:
        """The state in which a line pulls most, or least."""
        if self.search is None:
            return self._worked(self.tensions[:, line], greatest=greatest)
        pulls = self.search.tensions[:, line]
        return self._searched(int(pulls.argmax() if greatest else pulls.argmin()))

    def worked_for_place(self, at: float, *, moment: bool) -> WorkedState:
        """The state in which the pipe bends most at a place, or hangs lowest there."""
        xs = np.array([at])
        if self.search is None:
            responses = (self._moments(xs) if moment else self._levels(xs))[:, 0]
            low, high = self._range_of(responses[:, None], None)
            return self._worked(responses, greatest=moment and abs(float(high[0])) >= abs(float(low[0])))
        figures = [
            abs(float(moments_under(self.held, loads, self.search.tensions[row], xs)[0]))
            if moment
            else -float(
                levels_under(
                    self.held,
                    loads,
                    self.search.tensions[row],
                    self.search.kinks[row],
                    self.search.tight[row],
                    xs,
                )[0]
            )
            for row, loads in enumerate(self.search.loads)
        ]
        return self._searched(int(np.argmax(figures)))

    def _worked(self, responses: FloatArray, *, greatest: bool) -> WorkedState:
        """The weights and places that make a straight sum greatest or least."""
        loads, tensions = [], self.tensions[0].copy()
        for choice, rows in zip(self.choices, _rows(self.choices), strict=True):
            shares = responses[rows]
            pair = np.concatenate([shares * choice.weight.low, shares * choice.weight.high])
            best = int(pair.argmax() if greatest else pair.argmin())
            weight = choice.weight.low if best < len(shares) else choice.weight.high
            number = best % len(shares)
            tensions += weight * self.tensions[rows][number]
            loads.append((choice.pull.label, scaled(choice.units[number], weight)))
        return self._told(loads, tensions)

    def _searched(self, row: int) -> WorkedState:
        assert self.search is not None
        labels = [choice.pull.label for choice in self.choices]
        return self._told(list(zip(labels, self.search.loads[row], strict=True)), self.search.tensions[row])

    def _told(self, loads: list[tuple[str, Load]], tensions: FloatArray) -> WorkedState:
        places = np.array([line.at for line in self.held.lines])
        moments = moments_under(self.held, [load for _, load in loads], tensions, places)
        rows = zip(places, tensions, moments, strict=True)
        return WorkedState(tuple(loads), tuple(AtLine(*map(float, row)) for row in rows))

    def take_figures(self, figures: dict[str, OverModels]) -> None:
        """Moment, sag and drop of the ends of this model, into those of the state."""
        xs = self._sections()
        low, high = self._range_of(
            self._moments(xs), lambda loads, T, k, tight: moments_under(self.held, loads, T, xs)
        )
        figures["moment"].take(*_greatest_size(xs, low, high), solved=self)
        self._take_sags(figures)
        self._take_tips(figures)

    def moment_range(self, at: float) -> tuple[float, float]:
        """Least and greatest size of the moment at a place [N m]."""
        xs = np.array([at])
        low, high = self._range_of(
            self._moments(xs), lambda loads, T, k, tight: moments_under(self.held, loads, T, xs)
        )
        size = abs(Bounds(float(low[0]), float(high[0])))
        return size.low, size.high

    def _take_sags(self, figures: dict[str, OverModels]) -> None:
        lines = sorted(self.layout.lines)
        worst = {"sag": (-inf, -inf, 0.0), "sag_depth": (-inf, -inf, 0.0)}
        for left, right in pairwise(lines):
            xs = np.linspace(left, right, 2 * _SECTIONS + 1)
            low, high = self._range_of(
                self._levels(xs),
                lambda loads, T, k, tight, xs=xs: levels_under(self.held, loads, T, k, tight, xs),
            )
            depth_low, depth_high = -high, -low
            top = int(depth_high.argmax())
            step = (right - left) / (2 * _SECTIONS)
            deepest, place = peak(depth_high, top, left, step)
            least = float(depth_low.max())
            span = right - left
            for name, by in (("sag", span), ("sag_depth", 1.0)):
                low_so_far, high_so_far, at = worst[name]
                if deepest / by > high_so_far:
                    high_so_far, at = deepest / by, place
                worst[name] = (max(low_so_far, least / by), high_so_far, at)
        for name, (least, deepest, at) in worst.items():
            if deepest > -inf:
                figures[name].take(max(least, 0.0), max(deepest, 0.0), at, solved=self)

    def _take_tips(self, figures: dict[str, OverModels]) -> None:
        tips = np.array([0.0, self.layout.length])
        low, high = self._range_of(
            self._levels(tips), lambda loads, T, k, tight: levels_under(self.held, loads, T, k, tight, tips)
        )
        lines = sorted(self.layout.lines)
        overhangs = (lines[0], self.layout.length - lines[-1])
        drop_low, drop_high = -high, -low
        top = int(drop_high.argmax())
        figures["tip_drop"].take(float(drop_low.max()), float(drop_high[top]), float(tips[top]), solved=self)
        ratios = [
            (float(drop_low[end]) / over, float(drop_high[end]) / over, float(tips[end]))
            for end, over in enumerate(overhangs)
            if over > 1e-6
        ]
        if ratios:
            figures["tip_ratio"].take(
                max(one[0] for one in ratios),
                max(one[1] for one in ratios),
                max(ratios, key=lambda one: one[1])[2],
                solved=self,
            )
        else:
            figures["tip_ratio"].take(0.0, 0.0)

    def _range_of(self, responses: FloatArray, of_case) -> tuple[FloatArray, FloatArray]:  # type: ignore[no-untyped-def]
        """Least and greatest of figures: a straight sum of the pulls, or over the corners that were
        searched.
        """
        if self.search is None:
            low, high = _ranges(self.choices, responses)
            return responses[0] + low.sum(axis=0), responses[0] + high.sum(axis=0)
        cases = [
            of_case(loads, self.search.tensions[row], self.search.kinks[row], self.search.tight[row])
            for row, loads in enumerate(self.search.loads)
        ]
        return np.min(cases, axis=0), np.max(cases, axis=0)

    def _sections(self) -> FloatArray:
        """Places at which moments are worked out: evenly in every stretch between two breaks."""
        breaks = {0.0, self.layout.length, *self.layout.lines}
        for choice in self.choices:
            for unit in choice.units if len(choice.units) < 20 else ():
                breaks.update((unit.at,) if isinstance(unit, PointLoad) else (unit.start, unit.end))
        ordered = sorted(breaks)
        return each_once(
            np.concatenate([np.linspace(a, b, _SECTIONS + 1) for a, b in pairwise(ordered) if b - a > 1e-9])
        )

    @property
    def _units(self) -> list[Load]:
        return [unit for choice in self.choices for unit in choice.units]

    def _moments(self, xs: FloatArray) -> FloatArray:
        own = moments_under(self.held, (), self.tensions[0], xs)
        rest = [
            moments_of(self.held, (unit,), self.tensions[row], xs)
            for row, unit in enumerate(self._units, start=1)
        ]
        return np.array([own, *rest])

    def _levels(self, xs: FloatArray) -> FloatArray:
        tight = np.ones(len(self.held.lines), dtype=bool)
        own = levels_under(self.held, (), self.tensions[0], self.kinks[0], tight, xs)
        rest = [
            levels_of(self.held, (unit,), self.tensions[row], self.kinks[row], tight, xs)
            for row, unit in enumerate(self._units, start=1)
        ]
        return np.array([own, *rest])


def _greatest_size(xs: FloatArray, low: FloatArray, high: FloatArray) -> tuple[float, float, float]:
    """Bounds of the greatest size of a figure along the pipe, and where the worst lies."""
    sizes = np.maximum(np.abs(low), np.abs(high))
    top = int(sizes.argmax())
    certain = np.where((low < 0) & (high > 0), 0.0, np.minimum(np.abs(low), np.abs(high)))
    figure, place = float(sizes[top]), float(xs[top])
    if 0 < top < len(xs) - 1 and abs((xs[top + 1] - xs[top]) - (xs[top] - xs[top - 1])) < 1e-9:
        refined, at = peak(sizes, top, float(xs[0]) + 0.0, float(xs[top] - xs[top - 1]))
        if figure <= refined <= figure * 1.01:
            figure, place = refined, place + (at - (float(xs[0]) + top * float(xs[top] - xs[top - 1])))
    return min(float(certain.max()), figure), figure, place
