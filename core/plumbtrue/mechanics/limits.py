"""What limits a batten, each with the name by which a report calls it. The figures are the caller's, from
ratings that somebody has stated; none is built in.
"""

from collections.abc import Sequence

from plumbtrue.mechanics.brick_stack import Brick, brick_stack
from plumbtrue.mechanics.refusal import must_be_positive, must_not_be_negative
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class TensionLimit:
    """Most that each line may pull [N], such as what its load path or its loft block allows; None where
    nobody knows.
    """

    name: str
    by_line: tuple[float | None, ...]


@unchanging
class TotalLimit:
    """Most that all lines may carry together [N], the pipe with them; see `counterweight_limit`."""

    name: str
    weight: float


@unchanging
class BendingLimit:
    """Greatest bending moment that the pipe may have [N m]."""

    name: str
    moment: float


@unchanging
class SagLimit:
    """Greatest sag of a span against the straight line between its lines, as a share of that span, such as
    1/180.
    """

    name: str
    share_of_span: float


Limit = TensionLimit | TotalLimit | BendingLimit | SagLimit


def counterweight_limit(
    name: str, counterweight: float, arbor: float, purchase: float, *, not_on_lines: float = 0.0
) -> TotalLimit:
    """What the lines may carry when the arbor takes no more than so much counterweight: `(arbor + bricks) /
    p`.

    Args:
        counterweight: most that goes in [N]: the arbor's label, or what `heaviest_stack` finds room for.
        arbor: the empty arbor [N].
        purchase: batten travel over arbor travel, 1 or 2.
        not_on_lines: what the arbor balances but the batten's figures leave out, such as the hardware above
            it [N].

    >>> counterweight_limit("bricks that fit", counterweight=4000.0, arbor=400.0, purchase=1).weight
    4400.0
    """
    must_not_be_negative(counterweight=counterweight, arbor=arbor, not_on_lines=not_on_lines)
    must_be_positive(purchase=purchase)
    return TotalLimit(name, (arbor + counterweight) / purchase - not_on_lines)


def heaviest_stack(bricks: Sequence[Brick], clear_height: float) -> float:
    """Most weight of bricks [N] that finds room between the rods [m].

    >>> heaviest_stack([Brick("full", weight=100.0, thickness=0.025, available=40)], clear_height=0.66)
    2600.0
    """
    everything = sum(brick.weight * brick.available for brick in bricks)
    return brick_stack(everything, bricks, clear_height).weight


def must_be_usable(limits: Sequence[Limit], lines: int) -> None:
    """Refuse limits that cannot be held against a batten on so many lines.

    Raises:
        ValueError: no limits, a limit for the wrong number of lines, or a figure below 0.
    """
    if not limits:
        raise ValueError("without a limit there is no greatest load")
    for limit in limits:
        match limit:
            case TensionLimit(name, by_line):
                if len(by_line) != lines:
                    raise ValueError(f"{name}: {len(by_line)} limits for {lines} lines")
                for tension in by_line:
                    must_not_be_negative(tension=tension or 0.0)
            case TotalLimit(_, weight):
                must_not_be_negative(weight=weight)
            case BendingLimit(_, moment):
                must_be_positive(moment=moment)
            case SagLimit(_, share):
                must_be_positive(share_of_span=share)
