"""Solving a batten under what a plot hangs: pulls, moments and sags in every state, at the worst of all weights.

While no line goes slack everything is a straight sum of the pulls, so each pull is taken at whichever end of
its weight, and of its place, is worse for the line or the section that is looked at: exact, and the worse
end may be the lighter one. Where a line can go slack, the sets of tight lines are searched for the pulls of
the lines; moments and sags are then the greatest found over the corners that are worst for some line.

Imported only when a batten is solved, for numpy takes its time to load.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import inf
from typing import Final

import numpy as np

from plumbtrue.facts.computed.batten_at_load import AtLine
from plumbtrue.facts.computed.batten_solving import STIFFNESS, models, peak
from plumbtrue.facts.computed.hung_batten import HungBatten, Layout
from plumbtrue.facts.computed.hung_load import BeamPull, HungState
from plumbtrue.facts.gathering import Declined
from plumbtrue.mechanics.batten import Load, PointLoad, SpreadLoad
from plumbtrue.mechanics.held import FloatArray, HeldBatten, each_once
from plumbtrue.mechanics.load_bounds import BoundedLoad, tension_bounds
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.tight import settle
from plumbtrue.mechanics.trim import sensitivity, trim_range
from plumbtrue.quantities.bounds import Bounds

_SECTIONS: Final = 24
"""Sections of each stretch between two breaks; a parabola through three of them finds the greatest between."""
_STEPS: Final = 48
"""Places tried for a pull that may hang anywhere on the batten."""


@dataclass(frozen=True, slots=True)
class WorkedState:
    """One state at the weights that make a figure what it is, so that it can be followed by hand: what hangs
    there with its name [N], and every line.
    """

    loads: tuple[tuple[str, Load], ...]
    lines: tuple[AtLine, ...]


@dataclass(frozen=True, slots=True)
class Found:
    """A figure over all states: bounds of its greatest, the state and place that make it so, and how to work
    that state out.
    """

    bounds: Bounds
    state: str
    at: float | None = None
    worked: Callable[[], WorkedState] | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class HungAtLines:
    """Pull of a line over all states [N], lower end left out: bounds of the greatest and of the least."""

    greatest: Found
    least: Found


@dataclass(frozen=True, slots=True)
class HungResult:
    """What a batten does under what a plot hangs."""

    lines: tuple[HungAtLines, ...]
    by_state: tuple[tuple[str, tuple[Bounds, ...]], ...]
    """Pulls of all lines in each lasting state, lower ends left out."""
    out_of_level: tuple[HungAtLines, ...]
    """The same with every line out of level by the tolerance; none where the stiffness is not known."""
    moment: Found
    sag: Found
    """Over its span, at the stiffness `STIFFNESS`."""
    sag_depth: Found
    tip_drop: Found
    tip_ratio: Found
    """Drop of an end over its overhang."""
    joint_moments: tuple[Found, ...]
    searched: bool
    """Whether a line can go slack, so that moments and sags are the greatest found."""


@dataclass(slots=True)
class _Worst:
    """The greatest of a figure over states, models and layouts."""

    low: float = -inf
    high: float = -inf
    state: str = ""
    at: float | None = None
    worked: Callable[[], WorkedState] | None = None

    def take(
        self,
        low: float,
        high: float,
        state: str,
        at: float | None = None,
        *,
        sure: bool = True,
        worked: Callable[[], WorkedState] | None = None,
    ) -> None:
        """One state's figure. What may not come about says nothing of how great the greatest is at least."""
        if sure:
            self.low = max(self.low, low)
        if high > self.high:
            self.high, self.state, self.at, self.worked = high, state, at, worked

    def found(self) -> Found:
        return Found(Bounds(min(self.low, self.high), self.high), self.state, self.at, self.worked)


@dataclass(slots=True)
class _OverModels:
    """A figure in one state over all models of the pipe: the truth lies in their hull."""

    low: float = inf
    high: float = -inf
    at: float | None = None
    lowest: "_Solved | None" = None
    highest: "_Solved | None" = None
    """The models at which the ends were found."""

    def take(
        self, low: float, high: float, at: float | None = None, *, solved: "_Solved | None" = None
    ) -> None:
        if low < self.low:
            self.low, self.lowest = low, solved
        if high > self.high:
            self.high, self.at, self.highest = high, at, solved


def solve_hung(
    hung: HungBatten,
    states: Sequence[HungState],
    on_the_way: Sequence[HungState],
    *,
    tolerance: float,
    stiffness: Bounds | None,
) -> HungResult:
    """Solve a batten in every state.

    Args:
        tolerance: of each line's end against level [m].
        stiffness: EI of the pipe [N m2]; nothing where it is not known.
    Raises:
        Declined: the batten tips, or is loaded beyond its ends.
    """
    lines = range(len(hung.lines))
    greatest, least = [_Worst() for _ in lines], [_Worst() for _ in lines]
    out_high, out_low = [_Worst() for _ in lines], [_Worst() for _ in lines]
    figures = {name: _Worst() for name in ("moment", "sag", "sag_depth", "tip_drop", "tip_ratio")}
    joints = [_Worst() for _ in hung.joints]
    by_state, searched = [], False
    for number, state in enumerate((*states, *on_the_way)):
        lasting = number < len(states)
        one = _solve_state(hung, state, tolerance if lasting else None, stiffness)
        searched = searched or one.searched
        for line in lines:
            pull = one.pulls[line]
            most, fewest = (_at_most(pull.highest, line), _at_least(pull.lowest, line))
            greatest[line].take(pull.low, pull.high, state.label, sure=state.sure, worked=most)
            least[line].take(-pull.high, -pull.low, state.label, sure=state.sure, worked=fewest)
            if lasting and one.greatest_out:
                most_out, least_out = one.greatest_out[line], one.least_out[line]
                out_high[line].take(most_out.low, most_out.high, state.label, worked=most)
                out_low[line].take(-least_out.high, -least_out.low, state.label, worked=fewest)
        for name, worst in figures.items():
            figure = one.figures[name]
            worst.take(
                figure.low,
                figure.high,
                state.label,
                figure.at,
                sure=state.sure,
                worked=_bent_most(figure.highest, name, figure.at),
            )
        for joint, there in zip(joints, one.joints, strict=True):
            worked = _bent_most(there.highest, "moment", there.at)
            joint.take(there.low, there.high, state.label, there.at, sure=state.sure, worked=worked)
        if lasting:
            by_state.append((state.label, tuple(Bounds(p.low, p.high) for p in one.pulls)))
    at_lines = tuple(_at_line(high, low) for high, low in zip(greatest, least, strict=True))
    out: tuple[HungAtLines, ...] = ()
    if all(one.high > -inf for one in out_high):
        out = tuple(_at_line(high, low) for high, low in zip(out_high, out_low, strict=True))
    return HungResult(
        lines=at_lines,
        by_state=tuple(by_state),
        out_of_level=out,
        moment=figures["moment"].found(),
        sag=figures["sag"].found(),
        sag_depth=figures["sag_depth"].found(),
        tip_drop=figures["tip_drop"].found(),
        tip_ratio=figures["tip_ratio"].found(),
        joint_moments=tuple(one.found() for one in joints),
        searched=searched,
    )


def _at_line(greatest: _Worst, least: _Worst) -> HungAtLines:
    low = least.found()
    return HungAtLines(greatest.found(), Found(-low.bounds, low.state, low.at, low.worked))


def _at_most(solved: "_Solved | None", line: int) -> Callable[[], WorkedState] | None:
    return None if solved is None else lambda: solved.worked_for_line(line, greatest=True)


def _at_least(solved: "_Solved | None", line: int) -> Callable[[], WorkedState] | None:
    return None if solved is None else lambda: solved.worked_for_line(line, greatest=False)


def _bent_most(solved: "_Solved | None", name: str, at: float | None) -> Callable[[], WorkedState] | None:
    """How to work out a moment or a level at its worst place."""
    if solved is None or at is None:
        return None
    return lambda: solved.worked_for_place(at, moment=name == "moment")


@dataclass(slots=True)
class _StateResult:
    pulls: list[_OverModels]
    greatest_out: list[_OverModels]
    """Greatest pull that the trim may bring about; nothing where the stiffness is not known."""
    least_out: list[_OverModels]
    figures: dict[str, _OverModels]
    joints: list[_OverModels]
    searched: bool = False


def _solve_state(
    hung: HungBatten, state: HungState, tolerance: float | None, stiffness: Bounds | None
) -> _StateResult:
    lines = len(hung.lines)
    result = _StateResult(
        pulls=[_OverModels() for _ in range(lines)],
        greatest_out=[],
        least_out=[],
        figures={name: _OverModels() for name in ("moment", "sag", "sag_depth", "tip_drop", "tip_ratio")},
        joints=[_OverModels() for _ in hung.joints],
    )
    for layout in hung.layouts():
        for spread in sorted({hung.spread.low, hung.spread.high}):
            for held, stiff in models(hung, layout, spread):
                try:
                    solved = _solved(held, layout, state.pulls)
                except Declined:
                    if not held.batten.turning_splices:
                        raise
                    continue  # As a hinge the joint would let this fall; as long as it hangs, it is none.
                result.searched = result.searched or solved.searched
                for line in range(lines):
                    low, high = float(solved.least[line]), float(solved.greatest[line])
                    result.pulls[line].take(low, high, solved=solved)
                solved.take_figures(result.figures)
                for joint in stiff:
                    at = layout.joints[joint]
                    result.joints[joint].take(*solved.moment_range(at), at, solved=solved)
                if tolerance is not None and stiffness is not None:
                    _take_out_of_level(result, held, solved, tolerance, stiffness)
    return result


def _take_out_of_level(
    result: _StateResult, held: HeldBatten, solved: "_Solved", tolerance: float, stiffness: Bounds
) -> None:
    """The greatest and the least pull of each line that the trim may bring about, each within the bounds that
    the weights leave. Exact while no line can go slack, else by search at the corners; then no more is said of
    the other end than that a level pipe is one of its trims.
    """
    from dataclasses import replace

    batten = replace(held.batten, EI=stiffness.high)
    S = sensitivity(batten, held.lines)
    if isinstance(S, Refused):
        return
    if not result.greatest_out:
        result.greatest_out = [_OverModels() for _ in held.lines]
        result.least_out = [_OverModels() for _ in held.lines]
    reach = tolerance * np.abs(S).sum(axis=1)
    # What a softer pipe feels of the same trim is as much less as it is softer.
    surely = reach * (stiffness.low / stiffness.high if stiffness.high < np.inf else 0.0)
    least, greatest = solved.least - reach, solved.greatest + reach
    no_more_than, no_less_than = solved.greatest - surely, solved.least + surely
    if (least < 0).any():
        result.searched = True
        corners = list(solved.corner_loads())
        settled = stiffness.is_exact and all(loads == corners[0] for loads in corners)
        no_more_than, no_less_than = solved.greatest, solved.least
        for loads in corners:
            found = trim_range(batten, held.lines, loads, tolerance)
            if isinstance(found, Refused):
                raise Declined(found.reason)
            least = np.minimum(np.maximum(least, 0.0), found.least)
            greatest = np.maximum(greatest, found.greatest)
            if settled:
                no_more_than, no_less_than = found.least, found.greatest
    for line in range(len(held.lines)):
        low, high = float(max(least[line], 0.0)), float(greatest[line])
        result.greatest_out[line].take(min(float(no_less_than[line]), high), high)
        result.least_out[line].take(low, max(float(no_more_than[line]), low))


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
        places = sorted({pull.at.low, pull.at.high})
        if len(places) > 1:
            places = [float(at) for at in np.linspace(places[0], places[1], 9)]
        _must_be_on(length, places, pull)
        return tuple(PointLoad(min(max(at, 0.0), length), 1.0) for at in places)
    if pull.start is not None and pull.end is not None:
        found = []
        for start in sorted({pull.start.low, pull.start.high}):
            for end in sorted({pull.end.low, pull.end.high}):
                _must_be_on(length, (start, end), pull)
                found.append(SpreadLoad.uniform(max(start, 0.0), min(end, length), 1.0))
        return tuple(found)
    even = np.linspace(0.0, length, _STEPS * (len(layout.lines) + 1) + 1)
    return tuple(PointLoad(float(at), 1.0) for at in each_once([*even, *layout.lines]))


def _must_be_on(length: float, places: Sequence[float], pull: BeamPull) -> None:
    if min(places) < -1e-6 * length or max(places) > length * (1 + 1e-6):
        raise Declined(f"{pull.label} pulls beyond the end of the batten")


def _solved(held: HeldBatten, layout: Layout, pulls: Sequence[BeamPull]) -> "_Solved":
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
        return _Solved(held, layout, choices, straight.tensions, straight.kinks, least, greatest, None)
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
    return _Solved(
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
        [_scaled(choice.units[0], getattr(choice.weight, end)) for choice in choices]
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
                loads.append(_scaled(choice.units[best % len(shares)], weight))
            found.append(loads)
    return found


def _every_place(choices: Sequence[_Choice]) -> list[list[Load]]:
    """Each pull of which nobody says where it hangs at every place, light and heavy, the others likewise."""
    found = []
    for number, choice in enumerate(choices):
        for unit in choice.units if len(choice.units) > 1 else ():
            for own in ("low", "high"):
                for others in ("low", "high"):
                    loads = [_scaled(one.units[0], getattr(one.weight, others)) for one in choices]
                    loads[number] = _scaled(unit, getattr(choice.weight, own))
                    found.append(loads)
    return found


def _scaled(unit: Load, weight: float) -> Load:
    match unit:
        case PointLoad(at, _):
            return PointLoad(at, weight)
        case SpreadLoad(start, end, at_start, at_end):
            return SpreadLoad(start, end, at_start * weight, at_end * weight)


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
class _Solved:
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
            abs(float(_case_moments(self.held, loads, self.search.tensions[row], xs)[0]))
            if moment
            else -float(
                _case_levels(
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
            loads.append((choice.pull.label, _scaled(choice.units[number], weight)))
        return self._told(loads, tensions)

    def _searched(self, row: int) -> WorkedState:
        assert self.search is not None
        labels = [choice.pull.label for choice in self.choices]
        return self._told(list(zip(labels, self.search.loads[row], strict=True)), self.search.tensions[row])

    def _told(self, loads: list[tuple[str, Load]], tensions: FloatArray) -> WorkedState:
        places = np.array([line.at for line in self.held.lines])
        moments = _case_moments(self.held, [load for _, load in loads], tensions, places)
        rows = zip(places, tensions, moments, strict=True)
        return WorkedState(tuple(loads), tuple(AtLine(*map(float, row)) for row in rows))

    def take_figures(self, figures: dict[str, _OverModels]) -> None:
        """Moment, sag and drop of the ends of this model, into those of the state."""
        xs = self._sections()
        low, high = self._range_of(
            self._moments(xs), lambda loads, T, k, tight: _case_moments(self.held, loads, T, xs)
        )
        figures["moment"].take(*_greatest_size(xs, low, high), solved=self)
        self._take_sags(figures)
        self._take_tips(figures)

    def moment_range(self, at: float) -> tuple[float, float]:
        """Least and greatest size of the moment at a place [N m]."""
        xs = np.array([at])
        low, high = self._range_of(
            self._moments(xs), lambda loads, T, k, tight: _case_moments(self.held, loads, T, xs)
        )
        size = abs(Bounds(float(low[0]), float(high[0])))
        return size.low, size.high

    def _take_sags(self, figures: dict[str, _OverModels]) -> None:
        lines = sorted(self.layout.lines)
        worst = {"sag": (-inf, -inf, 0.0), "sag_depth": (-inf, -inf, 0.0)}
        for left, right in pairwise(lines):
            xs = np.linspace(left, right, 2 * _SECTIONS + 1)
            low, high = self._range_of(
                self._levels(xs),
                lambda loads, T, k, tight, xs=xs: _case_levels(self.held, loads, T, k, tight, xs),
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

    def _take_tips(self, figures: dict[str, _OverModels]) -> None:
        tips = np.array([0.0, self.layout.length])
        low, high = self._range_of(
            self._levels(tips), lambda loads, T, k, tight: _case_levels(self.held, loads, T, k, tight, tips)
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
        own = _case_moments(self.held, (), self.tensions[0], xs)
        rest = [
            _moments_of(self.held, (unit,), self.tensions[row], xs)
            for row, unit in enumerate(self._units, start=1)
        ]
        return np.array([own, *rest])

    def _levels(self, xs: FloatArray) -> FloatArray:
        tight = np.ones(len(self.held.lines), dtype=bool)
        own = _case_levels(self.held, (), self.tensions[0], self.kinks[0], tight, xs)
        rest = [
            _levels_of(self.held, (unit,), self.tensions[row], self.kinks[row], tight, xs)
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


def _beyond(xs: FloatArray, at: float, power: int) -> FloatArray:
    found: FloatArray = np.maximum(xs - at, 0.0) ** power
    return found


def _own(held: HeldBatten) -> tuple[Load, ...]:
    batten = held.batten
    if batten.weight_per_length == 0:
        return ()
    return (SpreadLoad.uniform(0.0, batten.length, batten.weight),)


def _case_moments(
    held: HeldBatten, loads: Sequence[Load], tensions: FloatArray, xs: FloatArray
) -> FloatArray:
    return _moments_of(held, (*_own(held), *loads), tensions, xs)


def _moments_of(held: HeldBatten, loads: Sequence[Load], tensions: FloatArray, xs: FloatArray) -> FloatArray:
    """Bending moment at places [N m], by statics from the left."""
    found = np.zeros(len(xs))
    for line, tension in zip(held.lines, tensions, strict=True):
        found += tension * _beyond(xs, line.at, 1)
    for load in loads:
        match load:
            case PointLoad(at, weight):
                found -= weight * _beyond(xs, at, 1)
            case SpreadLoad(start, end, intensity, _):
                found -= intensity * (_beyond(xs, start, 2) - _beyond(xs, end, 2)) / 2
    return found


def _case_levels(
    held: HeldBatten,
    loads: Sequence[Load],
    tensions: FloatArray,
    kinks: FloatArray,
    tight: np.ndarray,
    xs: FloatArray,
) -> FloatArray:
    return _levels_of(held, (*_own(held), *loads), tensions, kinks, tight, xs)


def _levels_of(
    held: HeldBatten,
    loads: Sequence[Load],
    tensions: FloatArray,
    kinks: FloatArray,
    tight: np.ndarray,
    xs: FloatArray,
) -> FloatArray:
    """Level of the pipe at places [m], upwards: the moment integrated twice, nought at the tight lines."""
    places = np.array([line.at for line in held.lines])
    held_at = places[tight]
    every = np.concatenate([xs, [held_at.min(), held_at.max()]])
    curve = _curve(held, loads, tensions, kinks, every)
    first, last = curve[-2], curve[-1]
    if held_at.max() - held_at.min() < 1e-9:
        level: FloatArray = curve[:-2] - first
        return level
    slope = (last - first) / (held_at.max() - held_at.min())
    found: FloatArray = curve[:-2] - first - slope * (xs - held_at.min())
    return found


def _curve(
    held: HeldBatten, loads: Sequence[Load], tensions: FloatArray, kinks: FloatArray, xs: FloatArray
) -> FloatArray:
    found = np.zeros(len(xs))
    for line, tension in zip(held.lines, tensions, strict=True):
        found += tension * _beyond(xs, line.at, 3) / 6
    for load in loads:
        match load:
            case PointLoad(at, weight):
                found -= weight * _beyond(xs, at, 3) / 6
            case SpreadLoad(start, end, intensity, _):
                found -= intensity * (_beyond(xs, start, 4) - _beyond(xs, end, 4)) / 24
    found /= STIFFNESS
    for splice, kink in zip(held.batten.turning_splices, kinks, strict=True):
        found += kink * _beyond(xs, splice.at, 1)
    return found
