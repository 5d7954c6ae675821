"""How high a batten goes, what stops it, and what that hides.

Two things stop a batten: the lower terminations meeting the loft blocks, and the arbor meeting its lower
stop. Every inch of hardware between rope and pipe costs an inch of high trim, a turnbuckle its whole length,
open or closed (common practice).
Source: sums of lengths, similar triangles (derived). Everything rises or falls with each input, so bounds go
through at their ends.
"""

from collections.abc import Sequence
from typing import Literal

from plumbtrue.mechanics.refusal import Refused, must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.bounds import exceeds
from plumbtrue.quantities.unchanging import unchanging

GovernedBy = Literal["grid", "arbor", "limit"]


@unchanging
class TrimHeights:
    """Highest and lowest place of the pipe's centre [m above the stage]. None where an input is not
    recorded."""

    by_grid: float
    by_arbor: float | None
    high: float | None
    """None while the arbor's travel is not recorded: the high trim is then at most `at_most`."""
    at_most: float
    """Least of the stops that are known."""
    governed_by: GovernedBy | None
    lost_height: float | None
    """From the lowest thing overhead down to the pipe at high trim [m]."""
    batten_travel: float | None
    arbor_travel_used: float | None


@unchanging
class Sight:
    """A line of sight over an unraked stage: eye and edge heights [m], distances from the eye to the edge and
    to the load [m]."""

    eye_height: float
    edge_height: float
    eye_to_edge: float
    eye_to_load: float


@unchanging
class Hidden:
    """The height above which a thing is out of sight at its distance, and how much is to spare [m]."""

    sightline_height: float
    spare: float
    is_hidden: bool


def trim_heights(
    underside: float,
    clearance: float,
    stack: Sequence[float],
    to_pipe_centre: float,
    *,
    low_trim: float | None = None,
    arbor_travel: float | None = None,
    purchase: float = 1,
    other_stop: float | None = None,
) -> TrimHeights | Refused:
    """High trim of a batten, and what decides it.

    Args:
        underside: height of the lowest thing that the termination can strike [m].
        clearance: kept below it [m].
        stack: lengths from the rope's end down to the bearing on the pipe [m]: sleeve and tail, thimble,
            shackle, turnbuckle, chain. With unlike lines the longest stack decides.
        low_trim: the batten's height with the arbor at its upper stop [m].
        arbor_travel: [m]; None leaves the high trim unknown, at most what the grid allows.
        other_stop: any further limit on the pipe's height [m].
    Raises:
        ValueError: a length below 0.
    Returns:
        A refusal when the pipe cannot even reach its low trim.

    >>> told = trim_heights(720.0, 6.0, [3.0, 1.5, 6.0], 0.95, low_trim=48.0, arbor_travel=660.0)
    >>> told.high, told.governed_by, round(told.lost_height, 2)
    (702.55, 'grid', 17.45)
    """
    must_not_be_negative(underside=underside, clearance=clearance, to_pipe_centre=to_pipe_centre)
    must_not_be_negative(**{f"stack_{place}": length for place, length in enumerate(stack, 1)})
    must_be_positive(purchase=purchase)
    by_grid = height_by_grid(underside, clearance, sum(stack) + to_pipe_centre)
    by_arbor = None
    if low_trim is not None and arbor_travel is not None:
        by_arbor = height_by_travel(low_trim, arbor_travel, purchase)
    stops: list[tuple[float, GovernedBy]] = [(by_grid, "grid")]
    if by_arbor is not None:
        stops.append((by_arbor, "arbor"))
    if other_stop is not None:
        stops.append((other_stop, "limit"))
    at_most, first = stops[0]
    for height, stop in stops[1:]:
        # Equal stops are the grid's: decimals in inches leave dust, which must not decide.
        if exceeds(at_most, height):
            at_most, first = height, stop
    if by_arbor is None:
        return TrimHeights(by_grid, None, None, at_most, None, None, None, None)
    assert low_trim is not None
    if exceeds(low_trim, at_most):
        return Refused(
            f"the high trim ({at_most:.3f} m) would be below the low trim ({low_trim:.3f} m)",
            "high trim above low trim",
            "geometry",
        )
    travel = at_most - low_trim
    return TrimHeights(
        by_grid, by_arbor, at_most, at_most, first, underside - at_most, travel, travel / purchase
    )


def height_by_grid(underside: float, clearance: float, stack: float) -> float:
    """Height of the pipe's centre [m] at which a lower end comes within a clearance of what it can strike.

    Args:
        underside: height of that [m]; clearance: kept below it [m].
        stack: from the rope's end down to the pipe's centre [m].
    """
    must_be_finite(underside=underside)
    must_not_be_negative(clearance=clearance, stack=stack)
    return underside - clearance - stack


def height_by_travel(low_trim: float, arbor_travel: float, purchase: float) -> float:
    """Height of the pipe's centre [m] with the arbor on its lower stop: low trim and what the travel adds.

    >>> height_by_travel(4.0, 24.0, 2.0)
    52.0
    """
    must_be_finite(low_trim=low_trim)
    must_not_be_negative(arbor_travel=arbor_travel)
    must_be_positive(purchase=purchase)
    return low_trim + purchase * arbor_travel


def load_bottom(pipe_height: float, drop: float) -> float:
    """Height of the bottom of what hangs `drop` below the pipe [m]."""
    return pipe_height - drop


def hidden(bottom: float, sight: Sight) -> Hidden:
    """Whether the bottom of a thing is out of sight: a straight line from the eye past the edge, carried on
    to the thing.

    Args:
        bottom: height of the lowest part that must not be seen [m].
    Raises:
        ValueError: an edge that is not in front of the eye.

    >>> sight = Sight(eye_height=36.0, edge_height=264.0, eye_to_edge=300.0, eye_to_load=420.0)
    >>> hidden(450.55, sight).is_hidden
    True
    """
    must_be_positive(eye_to_edge=sight.eye_to_edge, eye_to_load=sight.eye_to_load)
    must_be_finite(bottom=bottom, eye_height=sight.eye_height, edge_height=sight.edge_height)
    rise = (sight.edge_height - sight.eye_height) / sight.eye_to_edge
    height = sight.eye_height + rise * sight.eye_to_load
    return Hidden(height, bottom - height, not exceeds(height, bottom))
