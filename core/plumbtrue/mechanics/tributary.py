"""The rule of thumb beside the real figure: each line takes what lies halfway to its neighbours.

Most riggers reckon so, and mostly it is near enough; next to an overhang, or with a point load in an end
span, it is not.
"""

from collections.abc import Sequence

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
from plumbtrue.mechanics.held import FloatArray
from plumbtrue.mechanics.reactions import Levelled, solve
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.quantities.unchanging import unchanging


@unchanging(eq=False)
class TributaryComparison:
    """What the rule of thumb gives each line and what the batten does [N], both of shape (lines,)."""

    tributary: FloatArray
    continuous: FloatArray

    @property
    def ratios(self) -> tuple[float | None, ...]:
        """The real figure over the rule of thumb; None where the rule gives the line nothing."""
        return tuple(
            float(real / rule) if rule else None
            for real, rule in zip(self.continuous, self.tributary, strict=True)
        )

    def worth_showing(self, share: float, weight: float) -> bool:
        """Whether some line differs by more than a share of the rule of thumb, or by more than a weight [N]."""
        apart = np.abs(self.continuous - self.tributary)
        return bool((apart > np.minimum(share * np.abs(self.tributary), weight)).any())


def tributary_tensions(batten: Batten, lines: Sequence[Line], loads: Sequence[Load]) -> FloatArray:
    """Tensions by the rule of thumb [N], shape (lines,), the pipe's own weight included.

    Spread loads go to the nearest line; a point load between two lines is shared by the lever; what hangs on
    an overhang goes to its end line.

    Source: common practice.

    >>> pipe = Batten(length=6.0, EI=9000.0)
    >>> tributary_tensions(pipe, [Line(0.0), Line(3.0), Line(6.0)], [PointLoad(2.0, 90.0)]).round(9).tolist()
    [30.0, 60.0, 0.0]
    """
    must_hold_together(batten, lines, loads)
    order = np.argsort([line.at for line in lines], kind="stable")
    places = np.array([lines[i].at for i in order])
    middles = [0.0, *(places[:-1] + places[1:]) / 2, batten.length]
    shares = np.zeros(len(lines))
    for load in (*own_weight(batten), *loads):
        match load:
            case PointLoad(at, weight):
                shares += [weight * np.interp(at, places, unit) for unit in np.eye(len(lines))]
            case SpreadLoad():
                shares += np.diff([_weight_left_of(load, middle) for middle in middles])
    tensions = np.empty(len(lines))
    tensions[order] = shares
    return tensions


def compare(
    batten: Batten,
    lines: Sequence[Line],
    loads: Sequence[Load],
    *,
    tension_only: bool = True,
    levelled: Levelled = "bare",
) -> TributaryComparison | Refused:
    """The rule of thumb beside `solve`."""
    answer = solve(batten, lines, loads, tension_only=tension_only, levelled=levelled)
    if isinstance(answer, Refused):
        return answer
    return TributaryComparison(tributary_tensions(batten, lines, loads), answer.tensions)


def _weight_left_of(load: SpreadLoad, place: float) -> float:
    reach = min(max(place, load.start), load.end) - load.start
    steepness = (load.at_end - load.at_start) / (load.end - load.start)
    return load.at_start * reach + steepness * reach**2 / 2
