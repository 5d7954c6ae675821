"""Least and greatest tension of each line over a box of unknowns, when lines may go slack inside it.

The unknowns are offsets known within a tolerance, or weights known within bounds. With lines that only pull,
tensions are piecewise straight-line functions of them, one piece for each set of tight lines, and the
extremes lie anywhere in the box: the corners alone came out as much as 13 % low. Each set of tight lines
gives one small linear programme: the greatest tension where those lines pull and the pipe clears the ends of
the others. Sets that cannot beat what is already found are passed over.

Up to `EXACT_LINES` lines every set is weighed and the extremes are exact; beyond, the search climbs from
piece to neighbouring piece, and says that it is a search.
"""

from collections.abc import Iterator
from itertools import product
from typing import Final

import numpy as np

from plumbtrue.mechanics.held import BoolArray, FloatArray, HeldBatten
from plumbtrue.mechanics.small_programme import greatest_in_box
from plumbtrue.mechanics.tight import settle
from plumbtrue.quantities.unchanging import unchanging

EXACT_LINES: Final = 8
_MOST_CORNERS: Final = 4096


@unchanging(eq=False)
class Extremes:
    """Least and greatest tension of each line [N], shapes (lines,), and whether they are exact or the best of
    a search.
    """

    least: FloatArray
    greatest: FloatArray
    exact: bool
    greatest_at: FloatArray
    """Where in the box each greatest tension is reached, each unknown from -1 to 1, shape (lines, unknowns).
    """


@unchanging(eq=False)
class Box:
    """Right-hand sides (see `held`) over a box: the middle, shape (lines + motions,), and what each unknown
    adds.

    `steps` has shape (unknowns, lines + motions): from the middle to the upper end of each unknown.
    """

    middle: FloatArray
    steps: FloatArray

    def at(self, points: FloatArray) -> FloatArray:
        """Right-hand sides at points of the box, shape (points, unknowns), each from -1 to 1."""
        sides: FloatArray = self.middle + points @ self.steps
        return sides

    def trial_points(self) -> FloatArray:
        """The middle and the corners, or as many of them as can be tried."""
        unknowns = len(self.steps)
        if 2**unknowns <= _MOST_CORNERS:
            corners = np.array(list(product((-1.0, 1.0), repeat=unknowns)))
        else:
            corners = np.random.default_rng(0).choice((-1.0, 1.0), size=(_MOST_CORNERS, unknowns))
        # With nothing unknown there is one corner, the middle itself, and no width to find it by.
        return np.vstack([np.zeros((1, unknowns)), corners.reshape(len(corners), unknowns)])


@unchanging(eq=False)
class _Piece:
    """Where one set of lines is tight: tensions and conditions there, each `constant + slope . v`."""

    tight: BoolArray
    tensions: FloatArray
    tension_slopes: FloatArray
    margins: FloatArray
    conditions: FloatArray

    def bound(self, line: int, sign: float) -> float:
        """More than the line's tension (times the sign) can be anywhere in the box."""
        return float(sign * self.tensions[line] + np.abs(self.tension_slopes[line]).sum())

    @property
    def may_exist(self) -> bool:
        return bool((self.margins + np.abs(self.conditions).sum(axis=1) >= 0).all())

    def greatest(self, line: int, sign: float) -> tuple[float, FloatArray] | None:
        found = greatest_in_box(sign * self.tension_slopes[line], self.conditions, self.margins)
        return None if found is None else (float(sign * self.tensions[line]) + found[0], found[1])


def extremes(held: HeldBatten, box: Box) -> Extremes | None:
    """Least and greatest tension of each line over the box, for lines that only pull.

    Returns:
        The extremes, or None when somewhere in the box the batten does not hang at all.
    """
    n = len(held.lines)
    points = box.trial_points()
    if not held.can_hang(box.at(points)).all():
        return None
    tried = _tensions(held, box, points)
    found = {}
    exact = n <= EXACT_LINES
    pieces = list(_all_pieces(held, box)) if exact else []
    for line, sign in product(range(n), (1.0, -1.0)):
        first = int((sign * tried[:, line]).argmax())
        start = float(sign * tried[first, line]), points[first]
        found[line, sign] = (
            _best_of(pieces, line, sign, start) if exact else _climb(held, box, line, sign, start)
        )
    return Extremes(
        least=np.array([max(-found[line, -1.0][0], 0.0) for line in range(n)]),
        greatest=np.array([max(found[line, 1.0][0], 0.0) for line in range(n)]),
        exact=exact,
        greatest_at=np.array([found[line, 1.0][1] for line in range(n)]),
    )


def _tensions(held: HeldBatten, box: Box, points: FloatArray) -> FloatArray:
    sides = box.at(points)
    return settle(held, sides, np.zeros(len(held.lines)), tension_only=True).tensions


def _all_pieces(held: HeldBatten, box: Box) -> Iterator[_Piece]:
    for chosen in product((True, False), repeat=len(held.lines)):
        piece = _piece(held, box, np.array(chosen))
        if piece is not None and piece.may_exist:
            yield piece


def _piece(held: HeldBatten, box: Box, tight: BoolArray) -> _Piece | None:
    """Tensions and conditions with these lines tight, as functions of the unknowns; None for a mechanism."""
    n = len(held.lines)
    sides = np.vstack([box.middle, box.steps])
    answers = held.answers(sides, tight)
    if answers is None:
        return None
    must = np.where(tight, answers[:, :n], held.clearances(sides, answers)).T
    size = np.abs(must).max(axis=1)
    size[size == 0] = 1.0
    must = must / size[:, None]
    return _Piece(tight, answers[0, :n], answers[1:, :n].T, must[:, 0], must[:, 1:])


def _best_of(
    pieces: list[_Piece], line: int, sign: float, start: tuple[float, FloatArray]
) -> tuple[float, FloatArray]:
    """The best over all pieces, most promising first; those whose bound is not above the best so far cannot
    hold it.
    """
    best = start
    promising = sorted(pieces, key=lambda piece: piece.bound(line, sign), reverse=True)
    for piece in promising:
        if sign < 0 and best[0] >= 0:  # No line pulls less than not at all.
            break
        if piece.bound(line, sign) <= best[0] + 1e-9 * abs(best[0]):
            break
        found = piece.greatest(line, sign)
        if found is not None and found[0] > best[0]:
            best = found
    return best


def _climb(
    held: HeldBatten, box: Box, line: int, sign: float, start: tuple[float, FloatArray]
) -> tuple[float, FloatArray]:
    """From the best corner to the best point of its piece, then of the pieces that differ in one line, while
    it gains.
    """
    best = start
    settled = settle(held, box.at(start[1][None]), np.zeros(len(held.lines)), tension_only=True)
    standing = settled.tight[0]
    while True:
        better = None
        for change in range(-1, len(held.lines)):
            tight = standing.copy()
            if change >= 0:
                tight[change] = not tight[change]
            piece = _piece(held, box, tight)
            if piece is None or piece.bound(line, sign) <= best[0]:
                continue
            found = piece.greatest(line, sign)
            if found is not None and found[0] > best[0] + 1e-9 * abs(best[0]):
                best, better = found, tight
        if better is None:
            return best
        standing = better
