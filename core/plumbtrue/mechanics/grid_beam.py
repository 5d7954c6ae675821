"""A loft or head beam under its blocks: end reactions and moment, to hold against a rating that somebody has
stated.

No capacity of building steel is computed anywhere. Vertical loads only; the level pull of the lines goes
beside it.
"""

from collections.abc import Sequence

from plumbtrue.mechanics.batten import Batten, Line, PointLoad
from plumbtrue.mechanics.bending import Extreme
from plumbtrue.mechanics.reactions import Reactions, solve
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class GridBeam:
    """Total of the block loads and the beam [N], reaction at each bearing [N], moment of largest size [N m]
    and its place [m].
    """

    total: float
    reactions: tuple[float, ...]
    greatest_moment: Extreme


def grid_beam(
    span: float,
    block_loads: Sequence[PointLoad],
    *,
    bearings: Sequence[float] | None = None,
    weight_per_length: float = 0.0,
) -> GridBeam | Refused:
    """Reactions and moment of a beam of one section that carries blocks.

    Args:
        span: length of the beam [m].
        block_loads: vertical block loads at places along it.
        bearings: where it rests [m]; its two ends when none are named. Over more than two it is taken as
            continuous.
        weight_per_length: of the beam itself [N/m].
    Source: statics; over more than two bearings, beam theory as `solve` with bearings that hold both ways.

    >>> grid_beam(4.0, [PointLoad(1.0, 800.0)])
    GridBeam(total=800.0, reactions=(600.0, 200.0), greatest_moment=Extreme(value=600.0, at=1.0))
    """
    places = (0.0, span) if bearings is None else tuple(bearings)
    # Only the shares of stiffness count on bearings that do not give, and there is one section.
    beam = Batten(length=span, EI=1.0, weight_per_length=weight_per_length)
    answer = solve(beam, [Line(at) for at in places], block_loads, tension_only=False)
    return answer if isinstance(answer, Refused) else _as_grid_beam(answer)


def _as_grid_beam(answer: Reactions) -> GridBeam:
    return GridBeam(
        total=answer.weight,
        reactions=tuple(float(tension) for tension in answer.tensions),
        greatest_moment=answer.bending().greatest_moment,
    )
