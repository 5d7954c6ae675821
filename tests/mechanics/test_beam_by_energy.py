"""Battens on lines that only pull, against the principle of least complementary energy.

Of all pulls that balance the loads with no line pushing, those that stand make
`1/2 integral M^2/EI + 1/2 sum R^2/k - sum R d` least (any textbook of structures). Moments are summed from
the forces themselves and integrated by Gauss, and the least is found by SciPy's non-negative least squares,
after Lawson and Hanson, Solving Least Squares Problems, chapter 23 (from memory). Nothing of that knows of
stiffness matrices or of sets of tight lines.
"""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from numpy.typing import NDArray
from scipy.linalg import null_space
from scipy.optimize import nnls
from tests.mechanics.battens_on_a_grid import Hung, battens_on_a_grid

from plumbtrue.mechanics.batten import Batten, Line, Load, PointLoad, own_weight
from plumbtrue.mechanics.reactions import Reactions, solve

Floats = NDArray[np.float64]
_AT, _WEIGHT = np.polynomial.legendre.leggauss(4)


def moment_of_loads(loads: list[Load], at: Floats) -> Floats:
    """Sum of the moments of all loads to the left [Nm], as they bend the pipe downwards."""
    total = np.zeros_like(at)
    for load in loads:
        if isinstance(load, PointLoad):
            total -= load.weight * np.maximum(at - load.at, 0)
            continue
        slope = (load.at_end - load.at_start) / (load.end - load.start)
        reach = np.clip(at - load.start, 0, load.end - load.start)
        beyond = np.maximum(at - load.start, 0) - reach
        weight = load.at_start * reach + slope * reach**2 / 2
        first_moment = load.at_start * reach**2 / 2 + slope * reach**3 / 6
        total -= first_moment + weight * beyond
    return total


def by_energy(batten: Batten, lines: tuple[Line, ...], loads: list[Load]) -> Floats | None:
    """Pull of each line [N]; None where no pulls of such lines balance the loads."""
    n = len(lines)
    places = np.array([line.at for line in lines])
    breaks = {0.0, batten.length, *places.tolist()}
    for part in (*batten.pieces, *loads):
        breaks |= {part.at} if isinstance(part, PointLoad) else {part.start, part.end}
    quadratic = np.diag([0.0 if line.stiffness is None else 1 / line.stiffness for line in lines])
    linear = -np.array([line.offset for line in lines])
    for left, right in pairwise(sorted(breaks)):
        at = (left + right) / 2 + (right - left) / 2 * _AT
        EI = next((p.EI for p in batten.pieces if p.start < (left + right) / 2 < p.end), batten.EI)
        share = _WEIGHT * (right - left) / 2 / EI
        arms = np.maximum(at - places[:, None], 0)
        quadratic += arms * share @ arms.T
        linear += arms * share @ moment_of_loads(loads, at)
    for splice in batten.splices:
        here = np.array([splice.at])
        arms = np.maximum(here - places[:, None], 0)
        quadratic += arms @ arms.T / splice.stiffness
        linear += (arms @ moment_of_loads(loads, here)) / splice.stiffness
    balance = np.vstack([np.ones(n), places])
    wanted = np.array([sum(load.weight for load in loads), sum(load.moment_about_zero for load in loads)])
    particular = np.linalg.pinv(balance) @ wanted
    free = null_space(balance)
    if not free.size:
        return particular if (particular >= 0).all() else None
    root = np.linalg.cholesky(free.T @ quadratic @ free)
    towards = np.linalg.solve(root, free.T @ (quadratic @ particular + linear))
    # Least distance under conditions: |y| least with G y >= h, where z = root^-T (y - towards).
    G = np.linalg.solve(root, free.T).T
    h = -particular + G @ towards
    scale = np.abs(h).max()
    left_hand = np.vstack([G.T, h / scale])
    multipliers, _ = nnls(left_hand, np.append(np.zeros(free.shape[1]), 1.0), maxiter=1000)
    rest = left_hand @ multipliers - np.append(np.zeros(free.shape[1]), 1.0)
    if np.abs(rest).max() < 1e-9:
        return None
    y = -rest[:-1] / rest[-1] * scale
    found: Floats = particular + free @ np.linalg.solve(root.T, y - towards)
    return found


@given(battens_on_a_grid(splices=("spring",), most_lines=9))
@settings(deadline=None, max_examples=150)
def test_lines_that_only_pull_take_the_least_energy(hung: Hung) -> None:
    batten, lines, loads = hung
    expected = by_energy(batten, lines, [*own_weight(batten), *loads])
    answer = solve(batten, lines, loads, tension_only=True, levelled="slack")
    if expected is None or not isinstance(answer, Reactions):
        # Only a batten that tips, or nearly, is refused.
        edge = 1e-6 * batten.length
        assert not lines[0].at + edge < middle_of([*own_weight(batten), *loads]) < lines[-1].at - edge
        return
    size = answer.weight + float(np.abs(expected).max())
    assert answer.tensions.tolist() == pytest.approx(expected.tolist(), abs=1e-6 * size)
    assert answer.tensions.sum() == pytest.approx(answer.weight, rel=1e-9)


def middle_of(loads: list[Load]) -> float:
    """Centre of gravity [m]."""
    return sum(load.moment_about_zero for load in loads) / sum(load.weight for load in loads)
