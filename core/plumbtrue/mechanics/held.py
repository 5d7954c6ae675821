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

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import combinations
from typing import Final

import numpy as np
from numpy.typing import NDArray

from plumbtrue.mechanics.batten import (
    Batten,
    Line,
    Load,
    PointLoad,
    SpreadLoad,
    must_hold_together,
    own_weight,
)

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

# Every load is five singularity functions: a point, and two for the intensity and two for its slope of a
# spread load.
_POWER: Final = np.array([1, 2, 2, 3, 3])
_SINGULAR: Final = 1e-9
"""Least ratio of singular values at which a motion of the pieces still counts as held."""


@dataclass(frozen=True, eq=False)
class HeldBatten:
    """A batten on its lines, ready to be asked. Build it with `hold`; the lines keep their order."""

    batten: Batten
    lines: tuple[Line, ...]
    matrix: FloatArray
    """Shape (lines + motions, lines + motions), as in the module's head."""
    inverses: dict[bytes, FloatArray | None] = field(default_factory=dict)
    """What has been worked out so far, by set of tight lines."""

    @property
    def motions(self) -> int:
        """Free motions of the unsupported pipe: rise, tilt, one for each splice that turns."""
        return len(self.matrix) - len(self.lines)

    @property
    def level_scale(self) -> float:
        """Level [m] for each newton of a scaled level: L^3/EI."""
        return float(self.batten.length**3 / self.batten.EI)

    @cached_property
    def compliances(self) -> FloatArray:
        """Stretch of each line for each newton [m/N], shape (lines,)."""
        return np.array([line.compliance for line in self.lines])

    @cached_property
    def own_effect(self) -> FloatArray:
        """Effect of the pipe's own weight, shape (lines + motions,)."""
        effect: FloatArray = self.effects(own_weight(self.batten)).sum(axis=0)
        return effect

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
        kept = np.append(tight, np.ones(self.motions, dtype=bool))
        wanted = sides * kept
        answers = wanted @ inverse
        # One step of refinement brings equilibrium from the condition of the matrix back to rounding.
        remainder = (wanted - answers @ self.matrix) * kept
        refined: FloatArray = answers + remainder @ inverse
        return refined

    def levels(self, sides: FloatArray, answers: FloatArray, offsets: FloatArray) -> FloatArray:
        """Level of the pipe at each line [m], upwards, for answers to right-hand sides that already hold the
        offsets [m].
        """
        ends = offsets - answers[..., : len(self.lines)] * self.compliances
        levels: FloatArray = ends + self.clearances(sides, answers) * self.level_scale
        return levels

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
        n = len(self.lines)
        springs = np.minimum(1.0, np.sqrt(-np.diag(self.matrix)[n:]))
        held = np.vstack([self.matrix[:n, n:][tight], np.diag(springs)])
        sizes = np.linalg.svd(held, compute_uv=False)
        if tight.sum() < 2 or sizes[-1] < _SINGULAR * sizes[0]:
            return None
        kept = np.flatnonzero(np.append(tight, np.ones(self.motions, dtype=bool)))
        inverse = np.zeros_like(self.matrix)
        inverse[np.ix_(kept, kept)] = np.linalg.inv(self.matrix[np.ix_(kept, kept)])
        return (inverse + inverse.T) / 2

    def sensitivity(self, tight: BoolArray) -> FloatArray | None:
        """Change of each tension for a change of each offset [N/m], shape (lines, lines); None for a
        mechanism.
        """
        n, inverse = len(self.lines), self.inverse(tight)
        return None if inverse is None else inverse[:n, :n] / self.level_scale

    @cached_property
    def balancing(self) -> tuple[FloatArray, NDArray[np.intp]]:
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
        matrix = self.matrix.copy()
        each = np.arange(len(self.lines))
        matrix[each, each] -= self.compliances / self.level_scale
        return HeldBatten(self.batten, tuple(Line(line.at) for line in self.lines), matrix)


def hold(batten: Batten, lines: Sequence[Line]) -> HeldBatten:
    """Work out the flexibility of a batten on its lines.

    Raises:
        ValueError: lines that this batten cannot have (see `batten.must_hold_together`).
    """
    must_hold_together(batten, lines, ())
    n, splices = len(lines), batten.turning_splices
    units = _effects(batten, tuple(line.at for line in lines), [PointLoad(line.at, 1.0) for line in lines])
    matrix = np.zeros((n + 2 + len(splices), n + 2 + len(splices)))
    matrix[:n] = units
    matrix[:, :n] = units.T
    matrix[:n, :n] = (units[:, :n] + units[:, :n].T) / 2
    each = np.arange(len(matrix))
    stretch = [line.compliance * batten.EI / batten.length**3 for line in lines]
    turning = [-splice.stiffness * batten.length / batten.EI for splice in splices]
    matrix[each, each] += np.array([*stretch, 0.0, 0.0, *turning])
    return HeldBatten(batten, tuple(lines), matrix)


def _effects(batten: Batten, lines_at: tuple[float, ...], loads: Sequence[Load]) -> FloatArray:
    L = batten.length
    n, splices_at = len(lines_at), [splice.at / L for splice in batten.turning_splices]
    at, coefficient = _singularities(loads, L)
    points = np.array([place / L for place in lines_at] + splices_at)
    # Held at its ends, the pipe is kept up at x = 0 by as much as leaves no moment at x = L.
    at = np.hstack([np.zeros((len(loads), 1)), at])
    power = np.append(1, _POWER)
    left = -(coefficient * (1 - at[:, 1:]) ** _POWER).sum(axis=1, keepdims=True)
    coefficient = np.hstack([left, coefficient])

    effects = np.empty((len(loads), n + 2 + len(splices_at)))
    bent = _bent(batten, np.append(points[:n], 1.0), at, coefficient, power)
    effects[:, :n] = points[:n] * bent[:, -1:] - bent[:, :-1]
    effects[:, n] = [load.weight for load in loads]
    effects[:, n + 1] = [load.moment_about_zero / L for load in loads]
    reach = np.maximum(points[n:, None, None] - at, 0.0)
    effects[:, n + 2 :] = -(coefficient * reach**power).sum(axis=2).T
    return effects


def _bent(
    batten: Batten, points: FloatArray, at: FloatArray, coefficient: FloatArray, power: NDArray[np.int_]
) -> FloatArray:
    """Twice the integral of M/EI from the left end to each point, shape (loads, points): the pipe's shape but
    for a straight line.
    """
    bent = np.zeros((len(points), len(at)))
    beyond = points[:, None, None] - at
    for step, softness in _softness_steps(batten):
        start = np.maximum(step - at, 0.0)
        X = np.where(beyond > start, beyond, 0.0)
        t = np.where(beyond > start, start, 0.0)
        inside = (
            X ** (power + 2) / (power + 2)
            - X * t ** (power + 1)
            + t ** (power + 2) * (power + 1) / (power + 2)
        )
        bent += softness * (coefficient / (power + 1) * inside).sum(axis=2)
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
    """Places and coefficients of the moment of each load as singularity functions of powers `_POWER`, shapes
    (loads, 5).
    """
    at, coefficient = np.zeros((len(loads), 5)), np.zeros((len(loads), 5))
    for row, load in enumerate(loads):
        match load:
            case PointLoad(place, weight):
                at[row] = place / L
                coefficient[row, 0] = -weight
            case SpreadLoad(start, end, at_start, at_end):
                a, b = start / L, end / L
                slope = (at_end - at_start) * L / (b - a)
                at[row] = a, a, b, a, b
                coefficient[row] = 0.0, -at_start * L / 2, at_end * L / 2, -slope / 6, slope / 6
    return at, coefficient
