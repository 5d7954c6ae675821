"""Where a free batten hangs when its lines are out of plumb.

A free batten moves sideways until the level pulls cancel, so the part of the offsets that all lines share
disappears; what is left pulls the lines out of plumb. Guide wires or held ends stop the drift, and the
offsets count as measured.
Source: equilibrium of the level pulls (derived).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

from plumbtrue.mechanics.plumb import out_of_plumb
from plumbtrue.mechanics.refusal import must_be_finite, must_be_positive, must_not_be_negative


@dataclass(frozen=True, slots=True)
class Drift:
    """A batten at the place where it hangs. One entry a line."""

    shift: float
    """How far the batten moves [m], in the direction of positive offsets."""
    offsets: tuple[float, ...]
    """What is left of each offset [m]."""
    horizontals: tuple[float, ...]
    """Level pull of each line [N], with the sign of its offset."""
    angles: tuple[float, ...]
    """From plumb [rad], with sign."""

    @property
    def greatest_angle(self) -> float:
        return max(abs(angle) for angle in self.angles)


def batten_drift(
    loads: Sequence[float], offsets: Sequence[float], drops: Sequence[float], *, held: bool = False
) -> Drift:
    """Shift of a free batten, and what remains at each line, in one direction: along the batten, or up and
    down stage.

    Each line pulls by `V/h` for each length of offset; the shift is the mean of the offsets with those
    weights.

    Args:
        loads: vertical load of each line [N], 0 or more, not all 0.
        offsets: from groove to pick point [m], positive in +x.
        drops: from groove down to pick point [m], more than 0.
        held: the batten is kept from moving; the shift is then 0.
    Raises:
        ValueError: lists of unlike length, nothing hanging, or a pick point that is not below its groove.

    >>> round(batten_drift([60.0, 130.0, 60.0], [6.0, 6.0, 6.0], [120.0, 120.0, 120.0]).shift, 9)
    -6.0
    """
    must_not_be_negative(**{f"load_{line}": load for line, load in enumerate(loads, 1)})
    must_be_finite(**{f"offset_{line}": offset for line, offset in enumerate(offsets, 1)})
    must_be_positive(**{f"drop_{line}": drop for line, drop in enumerate(drops, 1)})
    pulls = [load / drop for load, drop in zip(loads, drops, strict=True)]
    must_be_positive(all_loads_together=sum(loads))
    shift = 0.0 if held else -sum(p * e for p, e in zip(pulls, offsets, strict=True)) / sum(pulls)
    left = tuple(offset + shift for offset in offsets)
    return Drift(
        shift=shift,
        offsets=left,
        horizontals=tuple(pull * offset for pull, offset in zip(pulls, left, strict=True)),
        angles=tuple(out_of_plumb(offset, drop) for offset, drop in zip(left, drops, strict=True)),
    )


def both_ways(along: Drift, across: Drift, drops: Sequence[float]) -> tuple[float, ...]:
    """Angle of each line from plumb [rad] when it is out along the batten and across it."""
    return tuple(
        out_of_plumb(hypot(e, c), drop)
        for e, c, drop in zip(along.offsets, across.offsets, drops, strict=True)
    )
