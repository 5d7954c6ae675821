"""Small linear programmes: the greatest value of a straight-line function in a box, under a few conditions.

Made for programmes of a dozen unknowns that come by the thousand, where starting a solver would cost more
than solving. The dual simplex method starts from the best corner of the box, which few conditions then cut
off (any textbook of linear programming). Checked in the tests against a general-purpose solver.
"""

import numpy as np

from plumbtrue.mechanics.held import FloatArray

_ROUNDING = 1e-11
_MOST_STEPS = 1000
_STEPS_BY_SIZE = 200
"""So many exchanges go by what gains most. Should they run in a circle, the lowest number goes first from then
on, which cannot (Bland's rule)."""


def greatest_in_box(
    gradient: FloatArray, conditions: FloatArray, margins: FloatArray
) -> tuple[float, FloatArray] | None:
    """Greatest `gradient . v` over `-1 <= v <= 1` under `conditions . v + margins >= 0`.

    Args:
        gradient: shape (unknowns,).
        conditions: shape (conditions, unknowns); scale them to sizes near 1.
        margins: shape (conditions,).
    Returns:
        The value and a point where it is reached, or None when nothing in the box meets the conditions.
    Raises:
        ArithmeticError: the method did not end, which would be our mistake.

    >>> value, at = greatest_in_box(np.array([1.0, 1.0]), np.array([[-1.0, -2.0]]), np.array([1.0]))
    >>> value, at.tolist()
    (1.0, [1.0, 0.0])
    """
    unknowns = len(gradient)
    side = np.where(gradient >= 0, 1.0, -1.0)
    # Unknowns are the steps back from the best corner, 0 to 2; every step costs, so the table starts out dual
    # feasible.
    table = np.zeros((len(margins) + unknowns + 1, unknowns + 1))
    table[: len(margins), 0] = margins + conditions @ side
    table[: len(margins), 1:] = conditions * side
    table[len(margins) : -1, 0] = 2.0
    table[len(margins) : -1, 1:] = np.eye(unknowns)
    table[-1, 1:] = np.abs(gradient)
    nothing = 100 * _ROUNDING * float(np.abs(gradient).max(initial=0.0))
    free = np.arange(unknowns)
    bound = np.arange(unknowns, unknowns + len(table) - 1)
    for step in range(_MOST_STEPS):
        short = table[:-1, 0]
        careful = step >= _STEPS_BY_SIZE
        row = int(np.where(short < -_ROUNDING, bound, len(table)).argmin() if careful else short.argmin())
        if short[row] >= -_ROUNDING:
            steps = np.zeros(unknowns)
            inside = bound < unknowns
            steps[bound[inside]] = short[inside]
            at = side * (1 - steps)
            return float(gradient @ at), at
        helps = np.flatnonzero(table[row, 1:] < -_ROUNDING) + 1
        if not len(helps):
            return None
        cost = np.where(table[-1, helps] <= nothing, 0.0, table[-1, helps]) / -table[row, helps]
        even = helps[cost <= cost.min()]
        column = even[free[even - 1].argmin()] if careful else even[table[row, even].argmin()]
        _exchange(table, row, int(column))
        free[column - 1], bound[row] = bound[row], free[column - 1]
    raise ArithmeticError(f"no end after {_MOST_STEPS} steps: {gradient}, {conditions}, {margins}")


def _exchange(table: FloatArray, row: int, column: int) -> None:
    """Swap the unknown of a column with that of a row, in place."""
    pivot = table[row, column]
    down = table[:, column].copy()
    table[row] /= pivot
    table[row, column] = 1 / pivot
    down[row] = 0.0
    table[:, column] = 0.0
    table[row, column] = 1 / pivot
    table -= np.outer(down, table[row])
