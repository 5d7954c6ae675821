"""Tensions when weights and places are known only within bounds, and which of them to put on a scale first.

While no line goes slack, tensions are straight sums of the loads, so each load is taken at whichever of its
ends is worse for the line: exact, and the worse end may be the *lighter* one. One weight is one unknown,
moved once. Where lines can go slack, the sets of tight lines are searched (`slack_extremes`).
"""

from collections.abc import Sequence
from itertools import product
from typing import Final, Literal

import numpy as np

from plumbtrue.mechanics.batten import Batten, Line, Load, PointLoad, must_hold_together, scaled
from plumbtrue.mechanics.held import FloatArray, HeldBatten, hold
from plumbtrue.mechanics.influence import influence_lines
from plumbtrue.mechanics.reactions import Levelled, does_not_hang, resting_offsets
from plumbtrue.mechanics.refusal import Refused, must_be_finite
from plumbtrue.mechanics.slack_extremes import Box, extremes
from plumbtrue.mechanics.tight import settle
from plumbtrue.quantities.unchanging import unchanging

Verdict = Literal["within", "over", "unknown"]
_MOST_STATES: Final = 4096


@unchanging
class BoundedLoad:
    """A load whose weight lies between two figures [N], and, for a point load, whose place may too [m].

    `load` gives the place and the shape; how heavy it is written does not matter, as long as it is not 0.

    >>> BoundedLoad(PointLoad(at=1.5, weight=1.0), weight=(70.0, 110.0), at=(1.4, 1.6)).places
    (1.4, 1.6)
    """

    load: Load
    weight: tuple[float, float]
    at: tuple[float, float] | None = None

    def __post_init__(self) -> None:
        must_be_finite(least=self.weight[0], greatest=self.weight[1])
        if self.weight[0] > self.weight[1] or self.load.weight == 0:
            raise ValueError(f"a load needs a weight from least to greatest, but {self} is given")
        if self.at is not None and not (isinstance(self.load, PointLoad) and self.at[0] <= self.at[1]):
            raise ValueError(f"only a point load has a place from least to greatest: {self}")

    @property
    def unit(self) -> Load:
        """The same at a weight of 1 N."""
        return scaled(self.load, 1 / self.load.weight)

    @property
    def places(self) -> tuple[float, float] | None:
        """Where it may hang [m]; None when that is exactly known."""
        return self.at if self.at is not None and self.at[0] < self.at[1] else None


@unchanging(eq=False)
class TensionBounds:
    """Least and greatest tension of each line [N], and how much of the spread each load brings."""

    least: FloatArray
    greatest: FloatArray
    spread_by_load: FloatArray
    """How far each load's bounds move each line's tension while no line is slack [N], shape (lines, loads).
    """
    exact: bool
    """False for the best of a search, which may be too narrow."""

    def verdicts(self, limits: Sequence[float]) -> tuple[Verdict, ...]:
        """Each line against a limit [N]: within at its worst, over at its best, else unknown."""
        return tuple(
            verdict((float(least), float(greatest)), limit)
            for least, greatest, limit in zip(self.least, self.greatest, limits, strict=True)
        )

    def weigh_order(self, limits: Sequence[float]) -> tuple[int, ...]:
        """Loads (indices) by how much they spread a line whose verdict is unknown, largest first; none when
        all are told.

        The most useful line of a report: the first of them is the one to put on a scale.
        """
        open_lines = [judged == "unknown" for judged in self.verdicts(limits)]
        spread = self.spread_by_load[open_lines].max(axis=0, initial=0.0)
        return tuple(int(load) for load in np.argsort(-spread, kind="stable") if spread[load] > 0)


def verdict(bounds: tuple[float, float], limit: float) -> Verdict:
    """A figure within bounds against a limit: it passes only at its worst end, and fails only at its best.

    >>> verdict((90.0, 110.0), limit=100.0)
    'unknown'
    """
    if bounds[1] <= limit:
        return "within"
    return "over" if bounds[0] > limit else "unknown"


def tension_bounds(
    batten: Batten,
    lines: Sequence[Line],
    loads: Sequence[BoundedLoad],
    *,
    tension_only: bool = True,
    levelled: Levelled = "bare",
) -> TensionBounds | Refused:
    """Least and greatest tension of each line over all weights and places that the loads may have.

    Returns:
        The bounds, or a refusal (`unstable`) when the batten tips for some of these loads.
    Raises:
        ValueError: a batten levelled under loads that are not known, with offsets measured besides: that
            state is not one straight sum, so measure the offsets again or weigh the loads.
    Source: superposition; with slack lines, linear programming over the sets of tight lines.
    """
    if levelled == "loaded":
        # Levelled under its load, a batten hangs as if its lines did not stretch.
        if any(line.offset for line in lines):
            raise ValueError("offsets measured on a batten that was levelled under loads of unknown weight")
        lines, levelled = [Line(line.at) for line in lines], "slack"
    held = hold(batten, lines)
    for load in loads:
        must_hold_together(batten, lines, [load.load, *(PointLoad(at, 1.0) for at in load.at or ())])
    offsets = resting_offsets(held, (), tension_only=tension_only, levelled=levelled)
    if isinstance(offsets, Refused):
        return offsets
    straight = _straight_sum(held, loads, offsets)
    if isinstance(straight, Refused) or not tension_only or (straight.least >= 0).all():
        return straight
    return _with_slack_lines(held, loads, offsets, straight)


def _straight_sum(
    held: HeldBatten, loads: Sequence[BoundedLoad], offsets: FloatArray
) -> TensionBounds | Refused:
    settled = settle(held, held.own_effect[None], offsets, tension_only=False)
    shares = _shares(held, loads)
    if isinstance(shares, Refused) or not settled.hangs[0]:
        return does_not_hang(held)
    weights = np.array([load.weight for load in loads]).reshape(-1, 2)
    moved = shares[:, :, None, :] * weights[:, None, :, None]
    least, greatest = moved.min(axis=(1, 2)), moved.max(axis=(1, 2))
    return TensionBounds(
        least=settled.tensions[0] + least.sum(axis=0),
        greatest=settled.tensions[0] + greatest.sum(axis=0),
        spread_by_load=(greatest - least).T,
        exact=True,
    )


def _shares(held: HeldBatten, loads: Sequence[BoundedLoad]) -> FloatArray | Refused:
    """Least and greatest tension of each line for a unit of each load over its places; shape (loads, 2,
    lines).
    """
    n = len(held.lines)
    answers = held.answers(held.effects([load.unit for load in loads]), np.ones(n, dtype=bool))
    if answers is None:
        return does_not_hang(held)
    shares = np.repeat(answers[:, None, :n], 2, axis=1)
    if any(load.places for load in loads):
        influence = influence_lines(held)
        if isinstance(influence, Refused):
            return influence
        for row, load in enumerate(loads):
            if load.places is not None:
                shares[row] = influence.extremes(*load.places)
    return shares


def _with_slack_lines(
    held: HeldBatten, loads: Sequence[BoundedLoad], offsets: FloatArray, straight: TensionBounds
) -> TensionBounds | Refused:
    if any(load.places for load in loads):
        return _by_search(held, loads, offsets, straight)
    units = held.effects([load.unit for load in loads])
    weights = np.array([load.weight for load in loads])
    middle = held.with_offsets(held.own_effect + weights.mean(axis=1) @ units, offsets)
    moving = weights[:, 1] > weights[:, 0]
    found = extremes(held, Box(middle, (units * np.diff(weights) / 2)[moving]))
    if found is None:
        return does_not_hang(held)
    return TensionBounds(found.least, found.greatest, straight.spread_by_load, found.exact)


def _by_search(
    held: HeldBatten, loads: Sequence[BoundedLoad], offsets: FloatArray, straight: TensionBounds
) -> TensionBounds | Refused:
    """Every load at both weights and at places along its range; a sample where there are too many such
    states.
    """
    choices = []
    for load in loads:
        units = [load.unit]
        if load.places is not None:
            units = [PointLoad(float(at), 1.0) for at in np.linspace(*load.places, num=5)]
        choices.append(np.concatenate([held.effects(units) * weight for weight in sorted(set(load.weight))]))
    states = _states([len(choice) for choice in choices])
    effects = held.own_effect + sum(choice[states[:, i]] for i, choice in enumerate(choices))
    settled = settle(held, effects, offsets, tension_only=True)
    if not settled.hangs.all():
        return does_not_hang(held)
    least, greatest = settled.tensions.min(axis=0), settled.tensions.max(axis=0)
    return TensionBounds(least, greatest, straight.spread_by_load, exact=False)


def _states(sizes: Sequence[int]) -> np.ndarray:
    if np.prod(np.array(sizes, dtype=float)) <= _MOST_STATES:
        return np.array(list(product(*(range(size) for size in sizes))))
    return np.random.default_rng(0).integers(0, sizes, size=(_MOST_STATES, len(sizes)))
