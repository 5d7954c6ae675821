"""Solving a batten under what a plot hangs: pulls, moments and sags over every state, model and layout, at the
worst of all weights. How one model stands in one state is worked out in `hung_in_doubt`.

Imported only when a batten is solved, for numpy takes its time to load.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from math import inf

import numpy as np

from plumbtrue.facts.computed.batten_solving import models
from plumbtrue.facts.computed.hung_batten import HungBatten
from plumbtrue.facts.computed.hung_in_doubt import OverModels, Solved, WorkedState, solve_in_doubt
from plumbtrue.facts.computed.hung_load import HungState
from plumbtrue.facts.gathering import Declined
from plumbtrue.mechanics.held import HeldBatten
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.trim import sensitivity, trim_range
from plumbtrue.quantities.bounds import Bounds


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


def _at_most(solved: Solved | None, line: int) -> Callable[[], WorkedState] | None:
    return None if solved is None else lambda: solved.worked_for_line(line, greatest=True)


def _at_least(solved: Solved | None, line: int) -> Callable[[], WorkedState] | None:
    return None if solved is None else lambda: solved.worked_for_line(line, greatest=False)


def _bent_most(solved: Solved | None, name: str, at: float | None) -> Callable[[], WorkedState] | None:
    """How to work out a moment or a level at its worst place."""
    if solved is None or at is None:
        return None
    return lambda: solved.worked_for_place(at, moment=name == "moment")


@dataclass(slots=True)
class _StateResult:
    pulls: list[OverModels]
    greatest_out: list[OverModels]
    """Greatest pull that the trim may bring about; nothing where the stiffness is not known."""
    least_out: list[OverModels]
    figures: dict[str, OverModels]
    joints: list[OverModels]
    searched: bool = False


def _solve_state(
    hung: HungBatten, state: HungState, tolerance: float | None, stiffness: Bounds | None
) -> _StateResult:
    lines = len(hung.lines)
    result = _StateResult(
        pulls=[OverModels() for _ in range(lines)],
        greatest_out=[],
        least_out=[],
        figures={name: OverModels() for name in ("moment", "sag", "sag_depth", "tip_drop", "tip_ratio")},
        joints=[OverModels() for _ in hung.joints],
    )
    for layout in hung.layouts():
        for spread in sorted({hung.spread.low, hung.spread.high}):
            for held, stiff in models(hung, layout, spread):
                try:
                    solved = solve_in_doubt(held, layout, state.pulls)
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
    result: _StateResult, held: HeldBatten, solved: Solved, tolerance: float, stiffness: Bounds
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
        result.greatest_out = [OverModels() for _ in held.lines]
        result.least_out = [OverModels() for _ in held.lines]
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
