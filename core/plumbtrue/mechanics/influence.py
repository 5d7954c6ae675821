"""Influence lines: what each lift line feels of a unit weight, wherever it hangs. Two-way supports, so all
straight sums.

Between lines, splices and changes of stiffness an influence line is a cubic, so its least and greatest over a
stretch of batten are exact. It can be negative, hence "a lighter load is always the better case" and "further
away pulls less" are both false.
"""

from typing import Final

import numpy as np

from plumbtrue.mechanics.batten import PointLoad
from plumbtrue.mechanics.held import FloatArray, HeldBatten, each_once
from plumbtrue.mechanics.reactions import does_not_hang
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.quantities.unchanging import unchanging

_PLACES: Final = np.array([0.0, 1 / 3, 2 / 3, 1.0])
_CUBIC: Final = np.linalg.inv(np.vander(_PLACES, increasing=True))


@unchanging(eq=False)
class InfluenceLines:
    """Tension of each line for a unit weight at any place, as cubics between breakpoints [m]. Build it with
    `influence_lines`.
    """

    breaks: FloatArray
    cubics: FloatArray
    """Coefficients by rising power of the share of the piece, shape (pieces, 4, lines)."""

    def at(self, places: FloatArray) -> FloatArray:
        """Ordinates for unit weights at places [m]; shape (places, lines)."""
        piece = np.clip(np.searchsorted(self.breaks, places, side="right") - 1, 0, len(self.cubics) - 1)
        share = (places - self.breaks[piece]) / np.diff(self.breaks)[piece]
        ordinates: FloatArray = np.einsum("pk,pkl->pl", share[:, None] ** np.arange(4), self.cubics[piece])
        return ordinates

    def turning_places(self, start: float, end: float) -> FloatArray:
        """Ends, breakpoints and every place [m] from start to end where an ordinate of any line turns,
        rising.
        """
        lengths, left = np.diff(self.breaks)[:, None], self.breaks[:-1, None]
        _, b, c, d = np.moveaxis(self.cubics, 1, 0)
        root = np.sqrt(np.maximum(c * c - 3 * b * d, 0.0))
        with np.errstate(divide="ignore", invalid="ignore"):
            # Both forms of the quadratic's roots, so that a vanishing cubic term does no harm.
            shares = np.stack(
                [(-c - root) / (3 * d), (-c + root) / (3 * d), b / (-c - root), b / (-c + root)]
            )
            places = left + shares * lengths
            inside = (shares > 0) & (shares < 1) & (places > start) & (places < end)
        breaks = self.breaks[(self.breaks > start) & (self.breaks < end)]
        return each_once([start, end, *breaks, *places[inside]])

    def extremes(self, start: float, end: float) -> tuple[FloatArray, FloatArray]:
        """Least and greatest ordinate of each line for a weight somewhere from start to end [m], both
        (lines,).
        """
        ordinates = self.at(self.turning_places(start, end))
        return ordinates.min(axis=0), ordinates.max(axis=0)


def influence_lines(held: HeldBatten) -> InfluenceLines | Refused:
    """Influence lines of the tensions, every line taken as holding both ways.

    Source: reciprocal theorem; each is the shape of the pipe when that line is drawn up by a unit.

    >>> from plumbtrue.mechanics.batten import Batten, Line
    >>> from plumbtrue.mechanics.held import hold
    >>> lines = influence_lines(hold(Batten(length=6.0, EI=9000.0), [Line(0.0), Line(3.0), Line(6.0)]))
    >>> lines.at(np.array([1.5])).round(6).tolist()  # 13/32, 22/32, -3/32: handbook, mid first span of two.
    [[0.40625, 0.6875, -0.09375]]
    """
    breaks = each_once([0.0, held.batten.length, *_changes(held)])
    places = (breaks[:-1, None] + np.diff(breaks)[:, None] * _PLACES).ravel()
    ordinates = unit_tensions(held, places)
    if isinstance(ordinates, Refused):
        return ordinates
    cubics = np.einsum("kq,pql->pkl", _CUBIC, ordinates.reshape(len(breaks) - 1, 4, -1))
    return InfluenceLines(breaks, cubics)


def unit_tensions(held: HeldBatten, places: FloatArray) -> FloatArray | Refused:
    """Tension of each line for a unit weight at each place [m], holding both ways; shape (places, lines)."""
    n = len(held.lines)
    everyone = np.ones(n, dtype=bool)
    answers = held.answers(held.effects([PointLoad(float(at), 1.0) for at in places]), everyone)
    return does_not_hang(held) if answers is None else answers[:, :n]


def _changes(held: HeldBatten) -> list[float]:
    places = [line.at for line in held.lines] + [splice.at for splice in held.batten.turning_splices]
    for piece in held.batten.pieces:
        places += piece.start, piece.end
    return places
