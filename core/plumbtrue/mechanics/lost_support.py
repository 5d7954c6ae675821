"""A line, a point or a hoist lost, or out of step: what each then carries. Every one of them in turn."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import product

import numpy as np

from plumbtrue.mechanics.batten import Batten, Line, Load
from plumbtrue.mechanics.held import FloatArray
from plumbtrue.mechanics.load_bounds import BoundedLoad, tension_bounds
from plumbtrue.mechanics.reactions import Levelled, Reactions, does_not_hang, solve
from plumbtrue.mechanics.refusal import Refused, must_not_be_negative
from plumbtrue.quantities.unchanging import unchanging


@unchanging(eq=False)
class LostSupport:
    """Tensions with every line in place, and with each of them lost in turn [N]."""

    normal: Reactions
    without: tuple[FloatArray | Refused, ...]
    """By the line lost, shape (lines,) with 0 for that line, or a refusal where the batten no longer hangs.
    """

    @property
    def worst(self) -> tuple[float | None, ...]:
        """Greatest tension of each line over the losses of others after which the batten still hangs [N];
        None where it never does.
        """
        hanging = {
            i: tensions for i, tensions in enumerate(self.without) if not isinstance(tensions, Refused)
        }
        return tuple(
            max((float(tensions[line]) for lost, tensions in hanging.items() if lost != line), default=None)
            for line in range(len(self.without))
        )

    @property
    def factors(self) -> tuple[float | None, ...]:
        """The worst over the normal tension; None without a worst, and for a line that normally carries
        nothing.
        """
        carries = 1e-9 * self.normal.weight
        return tuple(
            worst / float(normal) if worst is not None and normal > carries else None
            for worst, normal in zip(self.worst, self.normal.tensions, strict=True)
        )

    @property
    def falls_without(self) -> tuple[int, ...]:
        """Lines (indices) whose loss the batten does not survive: without them it tips."""
        return tuple(i for i, tensions in enumerate(self.without) if isinstance(tensions, Refused))


def one_out_of_step(
    batten: Batten, lines: Sequence[Line], loads: Sequence[BoundedLoad], by: float
) -> tuple[FloatArray, FloatArray] | Refused:
    """Greatest tension of each line with any one of them, itself included, too high or too low by a length [N]: the
    least and the most that it may be over all weights and places of the loads, each of shape (lines,). The others
    hang as their own offsets say, and lines only pull.

    Args:
        by: how far it is out [m], 0 or more.
    Source: beam theory and superposition, as `tension_bounds`.

    >>> truss = Batten(length=6.0, EI=9000.0, weight_per_length=80.0)
    >>> lines = [Line(0.0), Line(3.0), Line(6.0)]
    >>> least, most = one_out_of_step(truss, lines, [], by=0.001)
    >>> most.round(3).tolist()  # 3/8 and 10/8 w l, + 3 and + 6 EI d / l^3.
    [91.0, 302.0, 91.0]
    """
    must_not_be_negative(by=by)
    least, most = np.zeros(len(lines)), np.zeros(len(lines))
    for moved, step in product(range(len(lines)), (by, -by)):
        out = [replace(line, offset=line.offset + step * (i == moved)) for i, line in enumerate(lines)]
        bounds = tension_bounds(batten, out, loads, levelled="slack")
        if isinstance(bounds, Refused):
            return bounds
        least, most = np.maximum(least, bounds.least), np.maximum(most, bounds.greatest)
    return least, most


def lost_support(
    batten: Batten,
    lines: Sequence[Line],
    loads: Sequence[Load],
    *,
    tension_only: bool = True,
    levelled: Levelled = "bare",
) -> LostSupport | Refused:
    """Tensions with each line lost in turn, the others as they were trimmed before. At rest: the jolt of the
    loss is not in it.

    Source: statics and beam theory, as `solve`.

    >>> pipe = Batten(length=4.0, EI=9000.0, weight_per_length=30.0)
    >>> lost_support(pipe, [Line(1.0), Line(3.0)], []).falls_without
    (0, 1)
    """
    normal = solve(batten, lines, loads, tension_only=tension_only, levelled=levelled)
    if isinstance(normal, Refused):
        return normal
    trimmed = [
        replace(line, offset=float(offset)) for line, offset in zip(lines, normal.offsets, strict=True)
    ]
    without: list[FloatArray | Refused] = []
    for lost in range(len(lines)):
        left = trimmed[:lost] + trimmed[lost + 1 :]
        if not left:
            return LostSupport(normal, (does_not_hang(normal.held),))
        answer = solve(batten, left, loads, tension_only=tension_only, levelled="slack")
        without.append(answer if isinstance(answer, Refused) else np.insert(answer.tensions, lost, 0.0))
    return LostSupport(normal, tuple(without))
