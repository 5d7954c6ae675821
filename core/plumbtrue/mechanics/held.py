"""The flexibility of a batten and its lines, worked out once; every question after that is a few small
products.

The pipe is first thought of as held at its two ends, where bending moments follow from statics alone. A load
then has an *effect*: by how much it lowers the pipe at each line, its weight, its moment, and the moment it
leaves at each splice that turns. The unknowns are the tensions R and the free motion u (rise, tilt, one kink
for each splice):

    | F + C   B | | R |   | d - y |      B = (1, x, shape of the pipe kinked at each splice)
    | B^T    -D | | u | = |  e    |      D = 0, 0, stiffness of each splice

The rows of (F | B) are the effects of a unit weight at each line (Maxwell's reciprocal theorem), C is the
lines' own stretch, d their offsets. The upper rows say that pipe and line ends meet, the lower ones that
weight, moment and splices balance. The upper left block of the inverse is the sensitivity of the tensions to
the offsets. Moments and levels come from singularity functions `<x - p>^n` (Macaulay's method; any textbook
of structures), so no mesh depends on the loads.

Everything inside is in newtons: lengths over the batten's length L, levels over L^3/EI. Which lines pull is
`tight`'s affair.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import combinations
from typing import Any, Final

import numpy as np

from plumbtrue.mechanics.batten import (
    Batten,
    Line,
    Load,
    PointLoad,
    SpreadLoad,
    must_hold_together,
    own_weight,
)

# As `numpy.typing.NDArray` has it, which takes its time to load.
FloatArray = np.ndarray[tuple[Any, ...], np.dtype[np.float64]]
BoolArray = np.ndarray[tuple[Any, ...], np.dtype[np.bool_]]
IndexArray = np.ndarray[tuple[Any, ...], np.dtype[np.intp]]


def each_once(places: Iterable[float]) -> FloatArray:
    """Places in order, each once. Not by `np.unique`, which loads numpy's masked arrays at its first call."""
    return np.array(sorted({float(at) for at in places}))


# Every load is a few singularity functions: what holds the pipe up at its left end, a point, and two each for
# the intensity and the slope of a spread load.
_POWER: Final = np.array([1, 1, 2, 2, 3, 3])
_INTEGRATED: Final = np.array([3, 3, 4, 4, 5, 5])
"""Powers of what holds the pipe up, of a point and of a spread load, the moment integrated twice."""
_SINGULAR: Final = 1e-9
"""Least ratio of singular values at which a motion of the pieces still counts as held."""


@dataclass(frozen=True, eq=False)
class HeldBatten:
    """A batten on its lines, ready to be asked. Build it with `hold`; the lines keep their order."""

    batten: Batten
    lines: tuple[Line, ...]
    flexibility: FloatArray
    """The matrix of the module's head but for C: shape (lines + motions, lines + motions)."""
    own_effect: FloatArray
    """Effect of the pipe's own weight, shape (lines + motions,)."""
    inverses: dict[bytes, FloatArray | None] = field(default_factory=dict)
    """What has been worked out so far, by set of tight lines."""

    @property
    def motions(self) -> int:
        """Free motions of the unsupported pipe: rise, tilt, one for each splice that turns."""
        return len(self.flexibility) - len(self.lines)

    @property
    def level_scale(self) -> float:
        """Level [m] for each newton of a scaled level: L^3/EI."""
        return float(self.batten.length**3 / self.batten.EI)

    @cached_property
    def compliances(self) -> FloatArray:
        """Stretch of each line for each newton [m/N], shape (lines,)."""
        return np.array([line.compliance for line in self.lines])

    @property
    def stretches(self) -> bool:
        """Whether any line stretches."""
        return any(line.stiffness is not None for line in self.lines)

    @cached_property
    def matrix(self) -> FloatArray:
        """The matrix of the module's head, with the stretch of the lines."""
        if not self.stretches:
            return self.flexibility
        matrix, each = self.flexibility.copy(), np.arange(len(self.lines))
        matrix[each, each] += self.compliances / self.level_scale
        return matrix

    def effects(self, loads: Sequence[Load]) -> FloatArray:
        """Effect of each load: how it lowers the pipe at each line, weight, moment, moments left at splices.

        Returns:
            Shape (loads, lines + motions), in newtons (see the module's head).
        """
        return _effects(self.batten, tuple(line.at for line in self.lines), loads)

    def with_offsets(self, effects: FloatArray, offsets: FloatArray) -> FloatArray:
        """Right-hand sides: effects of loads, shape (cases, lines + motions), with offsets [m], shape
        (lines,) or (cases, lines).
        """
        sides = np.array(effects)
        sides[..., : len(self.lines)] += offsets / self.level_scale
        return sides

    def answers(self, sides: FloatArray, tight: BoolArray) -> FloatArray | None:
        """Tensions (0 for lines that are not tight) and motions, for right-hand sides of shape (cases, lines
        + motions).

        Returns:
            Shape (cases, lines + motions), or None when these tight lines cannot hold the pieces still.
        """
        inverse = self.inverse(tight)
        if inverse is None:
            return None
        # One step of refinement brings equilibrium from the condition of the matrix back to rounding.
        if _every(tight):
            answers = sides @ inverse
            refined: FloatArray = answers + (sides - answers @ self.matrix) @ inverse
            return refined
        kept = np.concatenate([tight, np.ones(self.motions, dtype=bool)])
        wanted = sides * kept
        answers = wanted @ inverse
        corrected: FloatArray = answers + ((wanted - answers @ self.matrix) * kept) @ inverse
        return corrected

    def levels(self, sides: FloatArray, answers: FloatArray, offsets: FloatArray) -> FloatArray:
        """Level of the pipe at each line [m], upwards, for answers to right-hand sides that already hold the
        offsets [m].
        """
        levels: FloatArray = self.ends(answers, offsets) + self.clearances(sides, answers) * self.level_scale
        return levels

    def ends(self, answers: FloatArray, offsets: FloatArray) -> FloatArray:
        """Level of the end of each line [m], upwards, stretched by its tension; where it is tight, the pipe's
        too.
        """
        if not self.stretches:
            return offsets + np.zeros((len(answers), 1))
        stretched: FloatArray = offsets - answers[..., : len(self.lines)] * self.compliances
        return stretched

    def clearances(self, sides: FloatArray, answers: FloatArray) -> FloatArray:
        """How far the pipe hangs above the end of each line, in scaled levels, shape (cases, lines); 0 where
        it is tight.
        """
        n = len(self.lines)
        clear: FloatArray = answers @ self.matrix[:, :n] - sides[..., :n]
        return clear

    def inverse(self, tight: BoolArray) -> FloatArray | None:
        """Inverse for a set of tight lines, zeros for the others; None when the pieces could still move."""
        key = tight.tobytes()
        if key not in self.inverses:
            self.inverses[key] = self._inverse(tight)
        return self.inverses[key]

    def _inverse(self, tight: BoolArray) -> FloatArray | None:
        if not self._holds_still(tight):
            return None
        if _every(tight):
            inverse = np.linalg.inv(self.matrix)
        else:
            kept = np.flatnonzero(np.concatenate([tight, np.ones(self.motions, dtype=bool)]))
            within = kept[:, None], kept
            inverse = np.zeros_like(self.matrix)
            inverse[within] = np.linalg.inv(self.matrix[within])
        symmetric: FloatArray = (inverse + inverse.T) / 2
        return symmetric

    def _holds_still(self, tight: BoolArray) -> bool:
        """Whether these lines and the springs resist every motion of the pieces; any two lines do for whole
        pipe.
        """
        n = len(self.lines)
        holding = int(np.count_nonzero(tight))
        if holding < 2 or self.motions == 2:
            return holding >= 2
        springs = np.minimum(1.0, np.sqrt(-np.diag(self.matrix)[n:]))
        resisted = np.vstack([self.matrix[:n, n:][tight], np.diag(springs)])
        sizes = np.linalg.svd(resisted, compute_uv=False)
        return bool(sizes[-1] >= _SINGULAR * sizes[0])

    def sensitivity(self, tight: BoolArray) -> FloatArray | None:
        """Change of each tension for a change of each offset [N/m], shape (lines, lines); None for a
        mechanism.
        """
        n, inverse = len(self.lines), self.inverse(tight)
        return None if inverse is None else inverse[:n, :n] / self.level_scale

    @cached_property
    def balancing(self) -> tuple[FloatArray, IndexArray]:
        """For every least set of lines that can hold the pipe: what turns loads into its tensions, and which
        lines these are.

        Returns:
            Shapes (sets, least, least) and (sets, least). Springs bend instead of giving way and ask for no
            line.
        """
        n = len(self.lines)
        must = np.flatnonzero(np.diag(self.matrix)[n:] == 0)
        sets = np.array(list(combinations(range(n), len(must))), dtype=np.intp).reshape(-1, len(must))
        squares = self.matrix[sets][:, :, n + must].transpose(0, 2, 1)
        sound = np.linalg.cond(squares) < 1 / _SINGULAR
        return np.linalg.inv(squares[sound]), sets[sound]

    def can_hang(self, sides: FloatArray) -> BoolArray:
        """Whether lines that only pull can balance each case at all, whatever their stretch and offsets.

        If any tensions can, then those of some least set of lines can (Caratheodory's theorem), so these are
        tried.

        Returns:
            Shape (cases,), for right-hand sides of shape (cases, lines + motions).
        """
        n = len(self.lines)
        must = n + np.flatnonzero(np.diag(self.matrix)[n:] == 0)
        loads = sides[:, must]
        inverses, _ = self.balancing
        tensions = np.einsum("sij,cj->csi", inverses, loads)
        allowed = -1e-9 * np.abs(loads).max(axis=1, initial=0.0)
        hangs: BoolArray = (tensions >= allowed[:, None, None]).all(axis=2).any(axis=1)
        return hangs

    def on_rigid_lines(self) -> "HeldBatten":
        """The same batten on lines that do not stretch, at the same places and without offsets."""
        lines = tuple(Line(line.at) for line in self.lines)
        return HeldBatten(self.batten, lines, self.flexibility, self.own_effect)


def _every(tight: BoolArray) -> bool:
    """Whether every line is tight; counted, which takes a quarter of the time of `all`."""
    return int(np.count_nonzero(tight)) == len(tight)


def hold(batten: Batten, lines: Sequence[Line]) -> HeldBatten:
    """Work out the flexibility of a batten on its lines.

    Raises:
        ValueError: lines that this batten cannot have (see `batten.must_hold_together`).
    """
    must_hold_together(batten, lines, ())
    if not batten.pieces and not batten.turning_splices:
        return _held_plain_pipe(batten, tuple(lines))
    n, splices = len(lines), batten.turning_splices
    places = tuple(line.at for line in lines)
    effects = _effects(batten, places, [*(PointLoad(at, 1.0) for at in places), *own_weight(batten)])
    flexibility = np.zeros((n + 2 + len(splices), n + 2 + len(splices)))
    flexibility[:n] = effects[:n]
    flexibility[:, :n] = effects[:n].T
    flexibility[:n, :n] = (effects[:n, :n] + effects[:n, :n].T) / 2
    for row, splice in enumerate(splices, n + 2):
        flexibility[row, row] = -splice.stiffness * batten.length / batten.EI
    return HeldBatten(batten, tuple(lines), flexibility, effects[n:].sum(axis=0))


def _effects(batten: Batten, lines_at: tuple[float, ...], loads: Sequence[Load]) -> FloatArray:
    L = batten.length
    if not batten.pieces and not batten.turning_splices:
        return _effects_on_plain_pipe(L, lines_at, loads)
    n, splices_at = len(lines_at), [splice.at / L for splice in batten.turning_splices]
    points = np.array([*(place / L for place in lines_at), 1.0, *splices_at])
    at, coefficient = _singularities(loads, L)
    # Held at its ends, the pipe is kept up at x = 0 by as much as leaves no moment at x = L.
    coefficient[:, 0] = -(coefficient * (1 - at) ** _POWER).sum(axis=1)

    effects = np.empty((len(loads), n + 2 + len(splices_at)))
    bent = _bent(batten, points[: n + 1], at, coefficient)
    effects[:, :n] = points[:n] * bent[:, n:] - bent[:, :n]
    for row, load in enumerate(loads):
        effects[row, n], effects[row, n + 1] = load.weight, load.moment_about_zero / L
    if splices_at:
        reach = np.maximum(points[n + 1 :, None, None] - at, 0.0)
        effects[:, n + 2 :] = -(coefficient * reach**_POWER).sum(axis=2).T
    return effects


def _effects_on_plain_pipe(L: float, lines_at: Sequence[float], loads: Sequence[Load]) -> FloatArray:
    """Effects on pipe of one stiffness without a joint that turns, as most battens are: the same singularity
    functions, integrated beforehand.
    """
    n, rows = len(lines_at), []
    for load in loads:
        weight, moment = load.weight, load.moment_about_zero / L
        left = (weight - moment) / 6  # What keeps the pipe up at x = 0 leaves no moment at x = L.
        match load:
            case PointLoad(place, _):
                a = place / L
                at, coefficient = (0.0, a, a, a, a, a), (left, -weight / 6, 0.0, 0.0, 0.0, 0.0)
            case SpreadLoad(start, end, at_start, at_end):
                a, b = start / L, end / L
                slope = (at_end - at_start) * L / (b - a) / 120
                at = (0.0, a, a, b, a, b)
                coefficient = (left, 0.0, -at_start * L / 24, at_end * L / 24, -slope, slope)
        rows.append((*at, *coefficient, weight, moment))
    effects = np.empty((len(loads), n + 2))
    if not loads:
        return effects
    of_loads = np.array(rows)
    effects[:, n:] = of_loads[:, 12:]
    points = np.array([*lines_at, L]) / L
    beyond = np.maximum(points[:, None] - of_loads[:, None, :6], 0.0) ** _INTEGRATED
    bent = (beyond @ of_loads[:, 6:12, None])[:, :, 0]
    effects[:, :n] = points[:n] * bent[:, n:] - bent[:, :n]
    return effects


def _held_plain_pipe(batten: Batten, lines: tuple[Line, ...]) -> HeldBatten:
    """Flexibility of such a pipe in closed form: a unit weight at a lowers the pipe at x, a the lesser of both, by
    `a (1 - x) (x (2 - x) - a^2) / 6`, its own weight by `W (x^4 - 2 x^3 + x) / 24`.

    Source: any table of beam formulas.
    """
    n, W = len(lines), batten.weight
    x = np.array([line.at for line in lines]) / batten.length
    lesser, greater, squared = np.minimum(x[:, None], x), np.maximum(x[:, None], x), x * x
    flexibility = np.zeros((n + 2, n + 2))
    flexibility[:n, :n] = lesser * (1 - greater) * (greater * (2 - greater) - lesser * lesser) / 6
    flexibility[:n, n] = flexibility[n, :n] = 1.0
    flexibility[:n, n + 1] = flexibility[n + 1, :n] = x
    own = np.empty(n + 2)
    own[:n] = W / 24 * (squared * (squared - 2 * x) + x)
    own[n], own[n + 1] = W, W / 2
    return HeldBatten(batten, lines, flexibility, own)


def _bent(batten: Batten, points: FloatArray, at: FloatArray, coefficient: FloatArray) -> FloatArray:
    """Twice the integral of M/EI from the left end to each point, shape (loads, points): the pipe's shape but
    for a straight line.
    """
    bent = np.zeros((len(points), len(at)))
    beyond = points[:, None, None] - at
    for step, softness in _softness_steps(batten):
        start = np.maximum(step - at, 0.0)
        begun = beyond > start
        X, t = beyond * begun, start * begun
        power = _POWER + 1.0
        inside = (X ** (power + 1) + t ** (power + 1) * power) / (power + 1) - X * t**power
        bent += softness * (coefficient / power * inside).sum(axis=2)
    return bent.T


def _softness_steps(batten: Batten) -> list[tuple[float, float]]:
    """Where the pipe's softness 1/EI changes, and by how much, in shares of the length and of the plain
    pipe's softness.
    """
    steps = [(0.0, 1.0)]
    for piece in batten.pieces:
        change = batten.EI / piece.EI - 1
        steps += [(piece.start / batten.length, change), (piece.end / batten.length, -change)]
    return steps


def _singularities(loads: Sequence[Load], L: float) -> tuple[FloatArray, FloatArray]:
    """Places and coefficients of each load's moment as singularity functions of powers `_POWER`, (loads, 6).

    The first stands at the left end and is left at 0 for what holds the pipe up there.
    """
    at, coefficient = [], []
    for load in loads:
        match load:
            case PointLoad(place, weight):
                at.append((0.0,) + (place / L,) * 5)
                coefficient.append((0.0, -weight, 0.0, 0.0, 0.0, 0.0))
            case SpreadLoad(start, end, at_start, at_end):
                a, b = start / L, end / L
                slope = (at_end - at_start) * L / (b - a)
                at.append((0.0, a, a, b, a, b))
                coefficient.append((0.0, 0.0, -at_start * L / 2, at_end * L / 2, -slope / 6, slope / 6))
    return np.array(at).reshape(-1, 6), np.array(coefficient).reshape(-1, 6)
