"""A load that grows from nothing: what the batten does at every weight of it, without missing a line that
goes slack.

While the set of tight lines stays the same, everything is a straight-line function of the load. So the whole
growth is a chain of *stretches*, each with its own set of tight lines, until the batten tips or nothing
changes any more.
"""

from collections.abc import Iterator
from math import inf

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


@unchanging(eq=False)
class Stretch:
    """Weights of the growing load [N], from `start` to `end`, over which the same lines are tight."""

    start: float
    end: float
    """Infinite for the last stretch of a batten that never tips."""
    tensions: FloatArray
    """At the start [N], shape (lines,)."""
    tension_slopes: FloatArray
    """Change of each tension for each newton of the load, shape (lines,)."""
    bending: Bending
    """At the start."""
    one_more: Bending
    """At the start with `step` [N] more of the load, lines taken as they are."""
    step: float

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
            yield self._stretch(weight, end, answers, tight)
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

    def _stretch(self, start: float, end: float, answers: FloatArray, tight: BoolArray) -> Stretch:
        n = len(tight)
        tensions = answers[0, :n] + start * answers[1, :n]
        step = end - start if start < end < inf else max(abs(float(tensions.sum())), 1.0)
        first, second = (self._bending(start + more, answers, tight) for more in (0.0, step))
        return Stretch(start, end, tensions, answers[1, :n], first, second, step)

    def _bending(self, weight: float, answers: FloatArray, tight: BoolArray) -> Bending:
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
