"""Lines out of level: what that does to the tensions, how far they may be out, and which line is short.

A bare pipe may have slack lines at an eighth of an inch out of level, which by itself is no defect; a laced
batten can throw a hundred pounds from line to line, and its figures mean nothing without the stretch of the
lines.
"""

from collections.abc import Sequence

import numpy as np

from plumbtrue.mechanics.batten import Batten, Line, Load
from plumbtrue.mechanics.held import FloatArray, hold
from plumbtrue.mechanics.reactions import Levelled, Reactions, does_not_hang, solve_held
from plumbtrue.mechanics.refusal import Refused, must_be_finite, must_not_be_negative
from plumbtrue.mechanics.slack_extremes import Box, extremes
from plumbtrue.quantities.unchanging import unchanging


@unchanging(eq=False)
class TrimRange:
    """Tensions [N] over all ways in which the lines may be out of level; all of shape (lines,)."""

    level: FloatArray
    least: FloatArray
    greatest: FloatArray
    can_go_slack: tuple[bool, ...]
    first_slack: float
    """Tolerance [m] at which the first line can go slack; infinite when none ever does."""
    exact: bool
    """False for the best of a search, which may be low; see `slack_extremes`."""


def sensitivity(batten: Batten, lines: Sequence[Line]) -> FloatArray | Refused:
    """Change of each tension for a change of each offset while no line is slack, `S = dR/dd` [N/m], (lines,
    lines).

    Symmetric; rows sum to zero and have no moment, since a common shift and a tilt change nothing. No load is
    in it.

    >>> S = sensitivity(Batten(length=6.0, EI=9000.0), [Line(0.0), Line(3.0), Line(6.0)])
    >>> (S * 3.0**3 / 9000.0).round(9).tolist()  # Closed form: EI/L^3 times this.
    [[1.5, -3.0, 1.5], [-3.0, 6.0, -3.0], [1.5, -3.0, 1.5]]
    """
    held = hold(batten, lines)
    found = held.sensitivity(np.ones(len(lines), dtype=bool))
    return does_not_hang(held) if found is None else found


def trim_range(
    batten: Batten,
    lines: Sequence[Line],
    loads: Sequence[Load],
    tolerance: float,
    *,
    tension_only: bool = True,
    levelled: Levelled = "bare",
) -> TrimRange | Refused:
    """Least and greatest tension of each line when each end may hang up to a tolerance too high or too low.

    While no line can go slack, `R_i +/- t sum_j |S_ij|`, exactly. With two-way supports this is given
    whatever comes out, and a negative figure is only the signal to ask again with lines that only pull.

    Args:
        tolerance: of each line end against level trim [m], 0 or more.
    Source: linear programming over the sets of tight lines, see `slack_extremes`.
    """
    must_not_be_negative(tolerance=tolerance)
    held = hold(batten, lines)
    level = solve_held(held, loads, tension_only=tension_only, levelled=levelled)
    if isinstance(level, Refused):
        return level
    if len(lines) == 1:
        return TrimRange(level.tensions, level.tensions, level.tensions, (False,), np.inf, exact=True)
    swing = _swing(level)
    straight = TrimRange(
        level=level.tensions,
        least=level.tensions - tolerance * swing,
        greatest=level.tensions + tolerance * swing,
        can_go_slack=tuple(bool(slack) for slack in level.tensions < tolerance * swing),
        first_slack=_first_slack(level, swing),
        exact=True,
    )
    if not tension_only or tolerance <= straight.first_slack:
        return straight
    return _with_slack_lines(level, tolerance, straight.first_slack)


def _swing(level: Reactions) -> FloatArray:
    """Most that each tension can change for each metre of tolerance, `sum_j |S_ij|` [N/m]."""
    found = level.sensitivity
    return np.zeros(len(level.tensions)) if found is None else np.abs(found).sum(axis=1)


def _first_slack(level: Reactions, swing: FloatArray) -> float:
    if level.slack or (level.tensions < 0).any():
        return 0.0
    moved = swing > 1e-12 * swing.max(initial=0.0)
    return float((level.tensions[moved] / swing[moved]).min(initial=np.inf))


def _with_slack_lines(level: Reactions, tolerance: float, first_slack: float) -> TrimRange | Refused:
    held, n = level.held, len(level.tensions)
    middle = held.with_offsets(held.own_effect + held.effects(level.loads).sum(axis=0), level.offsets)
    steps = np.zeros((n, len(middle)))
    steps[:, :n] = np.eye(n) * tolerance / held.level_scale
    found = extremes(held, Box(middle, steps))
    if found is None:
        return does_not_hang(held)
    slack_below = 1e-9 * max(level.weight, float(found.greatest.max()))
    return TrimRange(
        level=level.tensions,
        least=found.least,
        greatest=found.greatest,
        can_go_slack=tuple(bool(least <= slack_below) for least in found.least),
        first_slack=first_slack,
        exact=found.exact,
    )


def offsets_from_tensions(level: Reactions, measured: Sequence[float]) -> FloatArray | Refused:
    """Which line is short: offsets [m] that explain measured tensions, shape (lines,), the best straight line
    taken out.

    A common shift and a tilt leave no trace in the tensions, so only the part of the offsets that bends the
    pipe can be found. It takes tensions better than about `S_ii` times the offset that one hopes to see.

    Args:
        level: the batten as it should hang.
        measured: tension of each line just above the batten [N], all of them pulling.
    Returns:
        The offsets, positive for a short line, or a refusal where a line hangs slack (its offset is then only
        "at least").
    Raises:
        ValueError: as many tensions as lines are wanted, each a figure.
    Source: least squares on the sensitivity matrix.
    """
    if len(measured) != len(level.tensions):
        raise ValueError(f"{len(measured)} tensions were measured on {len(level.tensions)} lines")
    for number, tension in enumerate(measured, 1):
        must_be_finite(**{f"tension_of_line_{number}": tension})
    found = level.sensitivity
    if found is None or len(measured) < 3:
        return _cannot_tell("two lines and fewer share their load by statics, whatever their offsets")
    if level.slack or min(measured) <= 0:
        return _cannot_tell("a line hangs slack, so its offset could be anything beyond that")
    wrong = np.array(measured) - level.tensions
    offsets: FloatArray = np.linalg.pinv(found, rcond=1e-9, hermitian=True) @ wrong
    return offsets


def _cannot_tell(reason: str) -> Refused:
    return Refused(reason=reason, limit="every line pulls", source="statics")
