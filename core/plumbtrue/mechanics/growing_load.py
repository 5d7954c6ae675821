"""A load that grows from nothing: what the batten does at every weight of it, without missing a line that
goes slack.

While the set of tight lines stays the same, everything is a straight-line function of the load. So the whole
growth is a chain of *stretches*, each with its own set of tight lines, until the batten tips or nothing
changes any more.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from math import inf
from threading import Lock

import numpy as np

from plumbtrue.mechanics.batten import Load, PointLoad, own_weight, scaled
from plumbtrue.mechanics.bending import Bending, bend, blend
from plumbtrue.mechanics.held import BoolArray, FloatArray, HeldBatten
from plumbtrue.mechanics.tight import settle
from plumbtrue.quantities.unchanging import unchanging

_NOTICED = 1e-8
"""Share of the load by which a line must push, or the pipe pass a slack end, before a stretch is taken to
end.
"""
_MOST_STRETCHES = 200


@dataclass(frozen=True, eq=False)
class Stretch:
    """Weights of the growing load [N], from `start` to `end`, over which the same lines are tight."""

    growth: "Growth"
    start: float
    end: float
    """Infinite for the last stretch of a batten that never tips."""
    answers: FloatArray
    """Tensions and motions without the load, and for each newton of it: shape (2, lines + motions)."""
    tight: BoolArray

    @cached_property
    def tensions(self) -> FloatArray:
        """At the start [N], shape (lines,)."""
        tensions: FloatArray = (self.answers[0] + self.start * self.answers[1])[: len(self.tight)]
        return tensions

    @property
    def tension_slopes(self) -> FloatArray:
        """Change of each tension for each newton of the load, shape (lines,)."""
        slopes: FloatArray = self.answers[1, : len(self.tight)]
        return slopes

    @cached_property
    def step(self) -> float:
        """Of the load [N], between the two states that the bending is told from."""
        if self.start < self.end < inf:
            return self.end - self.start
        return max(abs(float(self.tensions.sum())), 1.0)

    @cached_property
    def bending(self) -> Bending:
        """At the start."""
        return self.growth.bending(self.start, self.answers, self.tight)

    @cached_property
    def one_more(self) -> Bending:
        """At the start with `step` [N] more of the load, lines taken as they are."""
        return self.growth.bending(self.start + self.step, self.answers, self.tight)

    def bending_at(self, weight: float) -> Bending:
        """Bending with so much [N] of the growing load."""
        return blend(self.bending, self.one_more, (weight - self.start) / self.step)


@unchanging(eq=False)
class Growth:
    """A batten with its lines levelled, what hangs on it already, and the shape of the load that grows."""

    held: HeldBatten
    offsets: FloatArray
    hung: tuple[Load, ...]
    unit: Load
    """The growing load at 1 N."""
    tension_only: bool

    def stretches(self) -> Iterator[Stretch]:
        """Every stretch in turn; none when the batten does not hang even without the load.

        The last one ends at infinity, or where the batten tips.
        """
        base, unit = self._sides()
        weight, tight = 0.0, self._tight(0.0)
        for _ in range(_MOST_STRETCHES):
            if tight is None:
                return
            answers = self.held.answers(np.array([base, unit]), tight)
            if answers is None:
                return
            end = self._end(weight, answers, np.array([base, unit]), tight)
            yield Stretch(self, weight, end, answers, tight)
            if end == inf:
                return
            weight, tight = self._beyond(end, tight)
        raise ArithmeticError(
            f"the set of tight lines still changes after {_MOST_STRETCHES} stretches: {self}"
        )

    def _sides(self) -> tuple[FloatArray, FloatArray]:
        effects = self.held.own_effect + self.held.effects(self.hung).sum(axis=0)
        return self.held.with_offsets(effects, self.offsets), self.held.effects([self.unit])[0]

    def _tight(self, weight: float) -> BoolArray | None:
        """Lines that are tight under so much of the load; None when the batten does not hang."""
        effects = self.held.own_effect + self.held.effects([*self.hung, scaled(self.unit, weight)]).sum(
            axis=0
        )
        settled = settle(self.held, effects[None], self.offsets, tension_only=self.tension_only)
        return settled.tight[0] if settled.hangs[0] else None

    def _beyond(self, end: float, tight: BoolArray) -> tuple[float, BoolArray | None]:
        """The next set of tight lines, looked for ever so little further until it differs."""
        further = max(end, 1e-6)
        for nudge in (0.0, 1e-9, 1e-8, 1e-7, 1e-6, 1e-5):
            then = self._tight(end + nudge * further)
            if then is None or (then != tight).any():
                return end, then
        return end + 1e-5 * further, tight

    def _end(self, weight: float, answers: FloatArray, sides: FloatArray, tight: BoolArray) -> float:
        """Weight at which a tight line begins to push, or the pipe comes down on the end of a slack one."""
        if not self.tension_only:
            return inf
        n = len(tight)
        margins = np.where(tight, answers[:, :n], self.held.clearances(sides, answers))
        loads = np.abs(sides[:, n])[:, None]
        sags = np.abs(sides[:, :n]).max(axis=1)[:, None]
        now, slope = margins + _NOTICED * np.where(tight, loads, sags)
        falling = slope < 0
        ends = -now[falling] / slope[falling]
        return float(np.maximum(ends, weight).min(initial=inf))

    def bending(self, weight: float, answers: FloatArray, tight: BoolArray) -> Bending:
        """Bending under so much of the load with these lines tight, be it that they push."""
        n, held = len(tight), self.held
        answer = answers[0] + weight * answers[1]
        base, unit = self._sides()
        levels = held.levels((base + weight * unit)[None], answer[None], self.offsets)[0]
        kinks = answer[n + 2 :] * held.level_scale / held.batten.length
        return bend(
            held.batten,
            (*own_weight(held.batten), *self.hung, scaled(self.unit, weight)),
            [PointLoad(line.at, -float(pull)) for line, pull in zip(held.lines, answer[:n], strict=True)],
            tuple(float(kink) for kink in kinks),
            sorted((held.lines[i].at, float(levels[i])) for i in np.flatnonzero(tight)),
        )


class Chain:
    """The stretches of a growth, each worked out when somebody first comes to it and kept: most questions are
    answered by the first few.
    """

    def __init__(self, growth: Growth) -> None:
        self.growth = growth
        self._known: list[Stretch] = []
        self._more = growth.stretches()
        self._failed: ArithmeticError | None = None
        self._lock = Lock()

    def __iter__(self) -> Iterator[Stretch]:
        place = 0
        while (stretch := self._at(place)) is not None:
            yield stretch
            place += 1

    def _at(self, place: int) -> Stretch | None:
        # Several threads may ask for the same chain.
        with self._lock:
            if place < len(self._known):
                return self._known[place]
            if self._failed is not None:
                raise self._failed
            try:
                following = next(self._more, None)
            except ArithmeticError as reason:
                self._failed = reason
                raise
            if following is not None:
                self._known.append(following)
            return following
