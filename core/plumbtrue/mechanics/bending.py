"""Shear, moment and deflection along a batten, from all the forces on it, by statics and two integrations.

Independent of how the tensions were found: whatever they are, they must close at the free end, or something
is wrong. Between two breakpoints (a force, the edge of a load, a change of stiffness, a splice) everything is
a polynomial, so the extremes are exact. Stress does not belong here; see `stress`.
"""

from collections.abc import Sequence
from functools import cache
from itertools import pairwise
from math import comb

import numpy as np

from plumbtrue.mechanics.batten import Batten, Load, PointLoad, SpreadLoad
from plumbtrue.mechanics.held import FloatArray
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class Extreme:
    """A value and where it stands [m]."""

    value: float
    at: float


@unchanging
class SpanSag:
    """How far the pipe hangs below the straight line between two lines that hold it, at its lowest [m]; 0 if
    it never does.
    """

    start: float
    end: float
    sag: float
    at: float

    @property
    def share_of_span(self) -> float:
        """Sag over span, to hold against such limits as 1/180."""
        return self.sag / (self.end - self.start)


@unchanging
class TipDrop:
    """How far the end of an overhang hangs below the level of its end line [m]; negative when the tip is
    higher.
    """

    tip: float
    line: float
    drop: float


@unchanging(eq=False)
class Bending:
    """Shear, moment, slope and deflection of a batten as polynomials between breakpoints. Build it with
    `bend`.

    Signs: sagging moment positive; deflection positive upwards; shear is the force upwards left of the cut.
    """

    breaks: FloatArray
    """Ends of the pieces [m], shape (pieces + 1,)."""
    moments: FloatArray
    """Coefficients by rising power of the distance from a piece's left end, shape (pieces, 4), [N m] at the
    front.
    """
    deflections: FloatArray
    """The same of the level [m], shape (pieces, 6)."""
    held_at: tuple[tuple[float, float], ...]
    """Places and levels [m] of the pipe at the lines that hold it, from left to right."""

    @property
    def shears(self) -> FloatArray:
        """Coefficients of the shear [N], shape (pieces, 3)."""
        return _derivative(self.moments)

    def moment_at(self, at: float) -> float:
        """Bending moment [N m], sagging positive, at a place on the batten [m]."""
        return _value(self.breaks, self.moments, at)

    def deflection_at(self, at: float) -> float:
        """Level of the pipe [m], upwards, at a place on the batten [m]."""
        return _value(self.breaks, self.deflections, at)

    @property
    def greatest_moment(self) -> Extreme:
        """The moment of largest size [N m], with its sign."""
        return _of_largest_size(self.breaks, self.moments)

    @property
    def moment_at_most(self) -> float:
        """A size [N m] that no moment is beyond, told without looking for the place; see `_may_turn`."""
        return float(np.abs(_bernstein(self.moments, np.diff(self.breaks))).max())

    @property
    def greatest_shear(self) -> Extreme:
        """The shear of largest size [N], with its sign."""
        return max(_extremes(self.breaks, self.shears), key=lambda extreme: abs(extreme.value))

    @property
    def lowest(self) -> Extreme:
        """The lowest point of the pipe [m], against the level datum."""
        return min(_extremes(self.breaks, self.deflections), key=lambda extreme: extreme.value)

    @property
    def highest(self) -> Extreme:
        """The highest point of the pipe [m], against the level datum."""
        return max(_extremes(self.breaks, self.deflections), key=lambda extreme: extreme.value)

    @property
    def span_sags(self) -> tuple[SpanSag, ...]:
        """Sag of each span against the straight line between the two lines around it. A slack line ends no
        span.
        """
        below, span_of = self._below_straight_lines
        starts, ends = self.breaks[:-1], self.breaks[1:]
        sags = []
        for span, ((left, _), (right, _)) in enumerate(pairwise(self.held_at)):
            inside = span_of == span
            deepest = _greatest(starts[inside], ends[inside], below[inside])
            sags.append(SpanSag(left, right, max(deepest.value, 0.0), deepest.at))
        return tuple(sags)

    @property
    def share_of_span_at_most(self) -> float:
        """A share of its span that no span sags beyond, told without looking for the place; see `_may_turn`."""
        if len(self.held_at) < 2:
            return 0.0
        below, span_of = self._below_straight_lines
        spans = np.diff([at for at, _ in self.held_at])
        inside = span_of >= 0
        high = _bernstein(below[inside], np.diff(self.breaks)[inside]).max(axis=1)
        return float(np.max(high / spans[span_of[inside]], initial=0.0))

    @property
    def _below_straight_lines(self) -> tuple[FloatArray, np.ndarray]:
        """How far each piece hangs below the straight line of its span [m], as `deflections`; and the span of
        each piece, -1 on an overhang.
        """
        places, levels = np.array(self.held_at).T
        starts = self.breaks[:-1]
        span_of = np.searchsorted(places, (starts + self.breaks[1:]) / 2) - 1
        span_of[span_of == len(places) - 1] = -1
        below = -self.deflections
        if len(places) > 1:
            slopes = (np.diff(levels) / np.diff(places))[span_of]
            below[:, 0] += levels[span_of] + slopes * (starts - places[span_of])
            below[:, 1] += slopes
        return below, span_of

    def below_straight_line(self, span: int, at: float) -> float:
        """How far the pipe hangs below the straight line between the lines around a span, at a place [m]."""
        (left, left_level), (right, right_level) = self.held_at[span : span + 2]
        straight = left_level + (right_level - left_level) * (at - left) / (right - left)
        return straight - self.deflection_at(at)

    @property
    def tip_drops(self) -> tuple[TipDrop, TipDrop]:
        """How far the left and the right tip hang below their end lines."""
        (first, first_level), (last, last_level) = self.held_at[0], self.held_at[-1]
        left, right = float(self.breaks[0]), float(self.breaks[-1])
        return (
            TipDrop(left, first, first_level - self.deflection_at(left)),
            TipDrop(right, last, last_level - self.deflection_at(right)),
        )

    def beyond_small_deflection(self) -> Refused | None:
        """A refusal where a span sags by a fiftieth of its length or more: beam theory of straight pipes ends
        about there.

        Source: the usual bound of small-deflection theory, textbooks of structures, from memory.
        """
        for span in self.span_sags:
            if span.share_of_span >= 1 / 50:
                return Refused(
                    reason=f"the pipe sags {span.sag:.3f} m between {span.start:.2f} and {span.end:.2f} m",
                    limit="a sag of 1/50 of the span",
                    source="small-deflection beam theory, textbooks of structures (from memory)",
                )
        return None


def blend(one: Bending, other: Bending, share: float) -> Bending:
    """Bending part of the way from one state to another, `one + share (other - one)`, both with the same
    lines tight.

    Beam theory is linear while no line goes slack or comes tight, so this is the state under so much of the
    difference in load.

    Raises:
        ValueError: the two do not hang on the same lines, or do not carry loads at the same places.
    """
    if [at for at, _ in one.held_at] != [
        at for at, _ in other.held_at
    ] or one.breaks.shape != other.breaks.shape:
        raise ValueError("only states that hang on the same lines, loaded at the same places, can be blended")
    return Bending(
        breaks=one.breaks,
        moments=one.moments + share * (other.moments - one.moments),
        deflections=one.deflections + share * (other.deflections - one.deflections),
        held_at=tuple(
            (at, level + share * (other_level - level))
            for (at, level), (_, other_level) in zip(one.held_at, other.held_at, strict=True)
        ),
    )


_HAIR = 1e-9
"""[m]; places nearer than this are one place."""


def bend(
    batten: Batten,
    loads: Sequence[Load],
    forces: Sequence[PointLoad],
    kinks: Sequence[float],
    held_at: Sequence[tuple[float, float]],
) -> Bending:
    """Shear, moment and deflection of a batten under loads and line forces that balance each other.

    Args:
        loads: everything that hangs, the pipe's own weight among it.
        forces: the lines' tensions as negative weights [N].
        kinks: turning of each splice that turns [rad], sagging positive.
        held_at: place and level [m] of the pipe at the lines that hold it; with a single one the pipe is
            drawn level there.
    Raises:
        ValueError: loads and forces do not balance, so the free end would not be free.

    >>> pipe = Batten(length=4.0, EI=25000.0)
    >>> ends = PointLoad(0.0, -50.0), PointLoad(4.0, -50.0)
    >>> simple = bend(pipe, [PointLoad(2.0, 100.0)], ends, (), ((0.0, 0.0), (4.0, 0.0)))
    >>> simple.greatest_moment
    Extreme(value=100.0, at=2.0)
    >>> round(simple.lowest.value * 48 * 25000.0 / (100.0 * 4.0**3), 9)
    -1.0
    """
    everything = [*loads, *forces]
    breaks = _breakpoints(batten, everything, [at for at, _ in held_at])
    moments = _moments(breaks, everything)
    deflections = _integrated(batten, breaks, moments, kinks)
    places, levels = np.array(held_at).T
    now = np.array([_value(breaks, deflections, place) for place in places])
    slope = 0.0
    if len(places) > 1:
        slope = float(((levels[-1] - now[-1]) - (levels[0] - now[0])) / (places[-1] - places[0]))
    deflections[:, 0] += levels[0] - now[0] + slope * (breaks[:-1] - places[0])
    deflections[:, 1] += slope
    return Bending(breaks, moments, deflections, tuple((float(at), float(level)) for at, level in held_at))


def _breakpoints(batten: Batten, loads: Sequence[Load], held_at: Sequence[float]) -> FloatArray:
    places = [0.0, batten.length, *held_at, *(splice.at for splice in batten.turning_splices)]
    for piece in batten.pieces:
        places += piece.start, piece.end
    for load in loads:
        places += [load.at] if isinstance(load, PointLoad) else [load.start, load.end]
    places = sorted(min(max(place, 0.0), batten.length) for place in places)
    kept = [places[0]] + [right for left, right in pairwise(places) if right - left > _HAIR]
    kept[-1] = batten.length
    return np.array(kept)


def _moments(breaks: FloatArray, loads: Sequence[Load]) -> FloatArray:
    """`M = M0 + V0 s - q s^2/2 - q' s^3/6` in each piece, from left to right."""
    pieces = np.diff(breaks)
    jumps, intensity, slope = np.zeros(len(breaks)), np.zeros(len(pieces)), np.zeros(len(pieces))
    for load in loads:
        match load:
            case PointLoad(at, weight):
                jumps[np.abs(breaks - at).argmin()] -= weight
            case SpreadLoad(start, end, at_start, at_end):
                inside = (breaks[:-1] >= start - _HAIR) & (breaks[1:] <= end + _HAIR)
                steepness = (at_end - at_start) / (end - start)
                intensity[inside] += at_start + steepness * (breaks[:-1][inside] - start)
                slope[inside] += steepness
    moments = np.zeros((len(pieces), 4))
    moments[:, 2], moments[:, 3] = -intensity / 2, -slope / 6
    shear = np.cumsum(jumps[:-1]) - np.append(0.0, np.cumsum(intensity * pieces + slope * pieces**2 / 2))[:-1]
    moments[:, 1] = shear
    gained = shear * pieces + moments[:, 2] * pieces**2 + moments[:, 3] * pieces**3
    moments[:, 0] = np.append(0.0, np.cumsum(gained))[:-1]
    _must_close(moments, pieces, float(jumps[-1]))
    return moments


def _must_close(moments: FloatArray, pieces: FloatArray, last_jump: float) -> None:
    powers = pieces[-1] ** np.arange(4)
    moment = float(moments[-1] @ powers)
    shear = float(_derivative(moments)[-1] @ powers[:3]) + last_jump
    largest_moment = max(float(np.abs(moments[:, 0]).max()), float(np.abs(moments[:, 1] * pieces).max()))
    largest_shear = float(np.abs(moments[:, 1]).max())
    if abs(moment) > 1e-6 * largest_moment or abs(shear) > 1e-6 * largest_shear:
        raise ValueError(
            f"the forces on the batten do not balance: {shear} N and {moment} N m are left at its free end"
        )


def _integrated(
    batten: Batten, breaks: FloatArray, moments: FloatArray, kinks: Sequence[float]
) -> FloatArray:
    """Twice the integral of M/EI, with the kinks of the splices, from rest at the left end; shape (pieces,
    6).
    """
    lengths = np.diff(breaks)
    curved = moments / _stiffness(batten, breaks)[:, None]
    powers = lengths[:, None] ** np.arange(6)
    turned = np.zeros(len(breaks))
    for splice, kink in zip(batten.turning_splices, kinks, strict=True):
        turned[np.abs(breaks - splice.at).argmin()] += kink
    deflections = np.zeros((len(lengths), 6))
    deflections[:, 2:] = curved / np.array([2.0, 6.0, 12.0, 20.0])
    gained_slope = (_derivative(deflections) * powers[:, :5]).sum(axis=1)
    deflections[:, 1] = np.cumsum(turned[:-1]) + np.append(0.0, np.cumsum(gained_slope))[:-1]
    gained = (deflections * powers).sum(axis=1)
    deflections[:, 0] = np.append(0.0, np.cumsum(gained))[:-1]
    return deflections


def _stiffness(batten: Batten, breaks: FloatArray) -> FloatArray:
    middles = (breaks[:-1] + breaks[1:]) / 2
    stiffness = np.full(len(middles), batten.EI)
    for piece in batten.pieces:
        stiffness[(piece.start < middles) & (middles < piece.end)] = piece.EI
    return stiffness


def _derivative(polynomials: FloatArray) -> FloatArray:
    return polynomials[:, 1:] * np.arange(1, polynomials.shape[1])


def _value(breaks: FloatArray, polynomials: FloatArray, at: float) -> float:
    piece = int(np.clip(np.searchsorted(breaks, at, side="right") - 1, 0, len(polynomials) - 1))
    return float(polynomials[piece] @ (at - breaks[piece]) ** np.arange(polynomials.shape[1]))


def _extremes(breaks: FloatArray, polynomials: FloatArray) -> list[Extreme]:
    """Values at both ends of every piece and wherever a polynomial turns inside it."""
    lengths, slopes = np.diff(breaks), _derivative(polynomials)
    ends = (polynomials * lengths[:, None] ** np.arange(polynomials.shape[1])).sum(axis=1)
    extremes = [
        Extreme(float(value), float(at))
        for values, places in ((polynomials[:, 0], breaks[:-1]), (ends, breaks[1:]))
        for value, at in zip(values, places, strict=True)
    ]
    for piece in np.flatnonzero(_may_turn(slopes, lengths)):
        polynomial, left = polynomials[piece], float(breaks[piece])
        for s in _roots_inside(slopes[piece], float(lengths[piece])):
            value = float(polynomial @ s ** np.arange(len(polynomial)))
            extremes.append(Extreme(value, left + s))
    return extremes


def _greatest(starts: FloatArray, ends: FloatArray, polynomials: FloatArray) -> Extreme:
    """The greatest value over some pieces. Where a piece turns is looked for only if it may hold more than what
    has been found.
    """
    lengths, powers = ends - starts, np.arange(polynomials.shape[1])
    over_the_piece = polynomials * lengths[:, None] ** powers
    at_ends = over_the_piece.sum(axis=1)
    first, last = int(polynomials[:, 0].argmax()), int(at_ends.argmax())
    greatest = Extreme(float(polynomials[first, 0]), float(starts[first]))
    if at_ends[last] > greatest.value:
        greatest = Extreme(float(at_ends[last]), float(ends[last]))
    high = (over_the_piece @ _to_bernstein(len(powers)).T).max(axis=1)
    for piece in np.flatnonzero(high > greatest.value):
        if high[piece] > greatest.value:
            for s in _roots_inside(_derivative(polynomials[piece : piece + 1])[0], float(lengths[piece])):
                value = float(polynomials[piece] @ s**powers)
                if value > greatest.value:
                    greatest = Extreme(value, float(starts[piece]) + s)
    return greatest


def _of_largest_size(breaks: FloatArray, polynomials: FloatArray) -> Extreme:
    """The value of largest size over all pieces, with its sign."""
    up = _greatest(breaks[:-1], breaks[1:], polynomials)
    down = _greatest(breaks[:-1], breaks[1:], -polynomials)
    return up if up.value >= down.value else Extreme(-down.value, down.at)


def _may_turn(slopes: FloatArray, lengths: FloatArray) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Pieces in which a polynomial may be nought: a polynomial lies between the least and the greatest of its
    Bernstein coefficients over a piece, so those of one sign throughout have no root there.

    Source: convex hull property of Bernstein polynomials, textbooks of numerical analysis.
    """
    over_the_piece = slopes * lengths[:, None] ** np.arange(slopes.shape[1])
    bernstein = over_the_piece @ _to_bernstein(slopes.shape[1]).T
    slack = 1e-12 * np.abs(over_the_piece).max(axis=1, initial=0.0)
    found: np.ndarray[tuple[int], np.dtype[np.bool_]] = ~(
        (bernstein.min(axis=1) > slack) | (bernstein.max(axis=1) < -slack)
    )
    return found


def _bernstein(polynomials: FloatArray, lengths: FloatArray) -> FloatArray:
    """Coefficients over each piece in Bernstein's basis, by rising power: no value lies beyond them."""
    terms = polynomials.shape[1]
    found: FloatArray = (polynomials * lengths[:, None] ** np.arange(terms)) @ _to_bernstein(terms).T
    return found


@cache
def _to_bernstein(terms: int) -> FloatArray:
    """Matrix from coefficients by rising power on [0, 1] to Bernstein coefficients."""
    top = terms - 1
    return np.array([[comb(i, k) / comb(top, k) for k in range(terms)] for i in range(terms)])


def _roots_inside(polynomial: FloatArray, length: float) -> list[float]:
    """Real roots strictly inside a piece. Coefficients too small to matter over its length are left out
    first.
    """
    weights = np.abs(polynomial) * length ** np.arange(len(polynomial))
    matters = np.flatnonzero(weights > 1e-13 * weights.max(initial=0.0))
    if not len(matters) or matters[-1] == 0:
        return []
    if matters[-1] == 1:  # A moment under an even load: no eigenvalues are needed for a straight line.
        root = -float(polynomial[0]) / float(polynomial[1])
        return [root] if 0 < root < length else []
    roots = np.roots(polynomial[matters[-1] :: -1])
    return [float(root.real) for root in roots if abs(root.imag) < 1e-7 * length and 0 < root.real < length]
