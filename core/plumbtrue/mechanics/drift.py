"""Where a free batten hangs when its lines are out of plumb.

A free batten moves sideways until the level pulls cancel, so the part of the offsets that all lines share
disappears; what is left pulls the lines out of plumb. Guide wires or held ends stop the drift, and the
offsets count as measured.
Source: equilibrium of the level pulls (derived).
"""

from collections.abc import Sequence
from math import fsum, hypot

from plumbtrue.mechanics.plumb import out_of_plumb
from plumbtrue.mechanics.refusal import must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.unchanging import unchanging


@unchanging
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
    must_be_positive(all_loads_together=sum(loads))
    pulls = [load / drop for load, drop in zip(loads, drops, strict=True)]
    weights = _weights(loads, drops)
    shift = 0.0 if held else -sum(w * e for w, e in zip(weights, offsets, strict=True))
    left = tuple(offset + shift for offset in offsets)
    return Drift(
        shift=shift,
        offsets=left,
        horizontals=tuple(pull * offset for pull, offset in zip(pulls, left, strict=True)),
        angles=tuple(out_of_plumb(offset, drop) for offset, drop in zip(left, drops, strict=True)),
    )


def drift_bounds(
    loads: Sequence[Bounds], offsets: Sequence[Bounds], line: int
) -> tuple[Bounds, Bounds] | None:
    """Shift of a free batten and what is left of one line's offset [m], loads and offsets known within bounds
    and all blocks at one height.

    Both are means of offsets weighted by the loads, so each offset counts at its worse end, and the loads at
    the worse end on either side of the mean: the bounds are exact.

    Args:
        loads: vertical load of each line [N], 0 or more.
        line: counted from 0.
    Returns:
        Nothing where no line pulls for certain, so that nothing holds the batten in its place.

    >>> drift_bounds([Bounds(1, 1)] * 2, [Bounds(-1, 1), Bounds(2, 2)], line=0)
    (Bounds(low=-1.5, high=-0.5), Bounds(low=-1.5, high=-0.5))
    """
    if not any(load.high > 0 for load in loads):
        return None
    own = offsets[line]
    # The line's own offset falls out of its own share: it is as far off as it is from itself, which is nought.
    from_others = [
        Bounds.exactly(0.0) if number == line else own - offset for number, offset in enumerate(offsets)
    ]
    return _weighted_mean([-offset for offset in offsets], loads), _weighted_mean(from_others, loads)


def _weights(loads: Sequence[float], drops: Sequence[float]) -> list[float]:
    """Share of each line in where the batten hangs: `V/h` over the sum of all."""
    pulls = [load / drop for load, drop in zip(loads, drops, strict=True)]
    total = sum(pulls)
    return [pull / total for pull in pulls]


def _weighted_mean(figures: Sequence[Bounds], weights: Sequence[Bounds]) -> Bounds:
    greatest = _greatest_mean([(one.high, weight) for one, weight in zip(figures, weights, strict=True)])
    least = -_greatest_mean([(-one.low, weight) for one, weight in zip(figures, weights, strict=True)])
    return Bounds(least, greatest)


def _greatest_mean(rows: Sequence[tuple[float, Bounds]]) -> float:
    """Greatest weighted mean: the larger figures at their greatest weights, from some figure on the others at
    their least."""
    falling = sorted(rows, key=lambda row: -row[0])
    means = []
    for heavy in range(len(falling) + 1):
        weighted = [
            (figure, weight.high if number < heavy else weight.low)
            for number, (figure, weight) in enumerate(falling)
        ]
        total = fsum(weight for _, weight in weighted)
        if total > 0:
            # Summed without rounding, so that exact inputs give one and the same figure from both sides.
            means.append(fsum(figure * weight for figure, weight in weighted) / total)
    return max(means)


def both_ways(along: Drift, across: Drift, drops: Sequence[float]) -> tuple[float, ...]:
    """Angle of each line from plumb [rad] when it is out along the batten and across it."""
    return tuple(
        out_of_plumb(hypot(e, c), drop)
        for e, c, drop in zip(along.offsets, across.offsets, drops, strict=True)
    )
