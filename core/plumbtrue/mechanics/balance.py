"""Balance of a counterweight set: what the batten carries against what the arbor carries.

Weights are forces [N]. `purchase` is batten travel over arbor travel: 1 for single, 2 for double purchase.
The hand line moves with the arbor. Out-of-balance is positive when the batten is heavy, and is always quoted
with the place: at the batten, or at the hand line. How rope shifts from one side to the other during travel
is in `rope_shift`; how a stack is made up is in `brick_stack`.

Source of all formulas: virtual work, any mechanics textbook (derived): the batten moves `purchase` times as
far as the arbor.
"""

from collections.abc import Sequence
from typing import Literal

from plumbtrue.mechanics.refusal import must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.bounds import CLOSENESS, Bounds
from plumbtrue.quantities.unchanging import unchanging

HeavySide = Literal["batten", "arbor", "neither"]


@unchanging
class Balance:
    """How a set stands. Every figure that hangs on an unknown counterweight is None; what it would take is
    not."""

    batten_side: float
    """Batten, gear and all that hangs [N]."""
    arbor_side: float | None
    """Arbor and counterweight [N]."""
    counterweight_to_balance: float
    """Counterweight that balances the set exactly [N]; negative when the empty arbor is already too heavy."""
    out_of_balance_at_batten: float | None
    """Positive when the batten is heavy [N]."""
    out_of_balance_at_hand_line: float | None
    """The same felt at the hand line, and at the arbor [N]."""
    heavy_side: HeavySide | None


def balance(batten_side: float, arbor: float, counterweight: float | None, *, purchase: float) -> Balance:
    """How far a set is from balance, and the counterweight that would balance it.

    Args:
        batten_side: batten, gear and all that hangs on it [N], 0 or more.
        arbor: the empty arbor with what stays in it [N], 0 or more.
        counterweight: bricks in the arbor now [N]; None when nobody has counted them.
    Raises:
        ValueError: a weight below 0, or a purchase that is not more than 0.

    A double-purchase set with 454 N on the batten and a 90 N arbor wants 818 N of bricks:

    >>> balance(454.0, 90.0, None, purchase=2).counterweight_to_balance
    818.0
    """
    must_not_be_negative(batten_side=batten_side, arbor=arbor)
    must_be_positive(purchase=purchase)
    wanted = purchase * batten_side - arbor
    if counterweight is None:
        return Balance(batten_side, None, wanted, None, None, None)
    must_not_be_negative(counterweight=counterweight)
    arbor_side = arbor + counterweight
    at_batten = out_of_balance(batten_side, arbor_side, purchase=purchase)
    side = heavy_side(at_batten, scale=max(batten_side, arbor_side / purchase))
    return Balance(batten_side, arbor_side, wanted, at_batten, purchase * at_batten, side)


def out_of_balance(batten_side: float, arbor_side: float, *, purchase: float) -> float:
    """Out-of-balance at the batten [N], positive when the batten is heavy.

    At the hand line it is `purchase` times as much.

    >>> out_of_balance(459.0, 455.0, purchase=1)
    4.0
    """
    must_be_positive(purchase=purchase)
    return batten_side - arbor_side / purchase


def out_of_balance_bounds(
    batten_side: Sequence[Bounds], arbor_side: Sequence[Bounds], *, purchase: float
) -> Bounds:
    """Least and greatest out-of-balance at the batten [N] when each weight is known within bounds.

    Every weight enters once and with a known sign, so the ends of the bounds give the exact range.

    >>> out_of_balance_bounds([Bounds(196, 204), Bounds(72, 108)], [Bounds(300, 300)], purchase=1)
    Bounds(low=-32.0, high=12.0)
    """
    must_be_positive(purchase=purchase)
    low = sum(part.low for part in batten_side) - sum(part.high for part in arbor_side) / purchase
    high = sum(part.high for part in batten_side) - sum(part.low for part in arbor_side) / purchase
    return Bounds(low, high)


def heavy_side(out_of_balance_at_batten: float, *, scale: float) -> HeavySide:
    """Which side is heavy; neither when the difference is within one part in a thousand million of `scale`
    [N]."""
    must_be_finite(out_of_balance_at_batten=out_of_balance_at_batten)
    if abs(out_of_balance_at_batten) <= CLOSENESS * abs(scale):
        return "neither"
    return "batten" if out_of_balance_at_batten > 0 else "arbor"


def pipe_weight(bare_batten: float, arbor: float, *, purchase: float) -> float:
    """Counterweight that stays in the arbor to balance the bare batten and its gear [N].

    >>> pipe_weight(154.0, 90.0, purchase=2)
    218.0
    """
    must_not_be_negative(bare_batten=bare_batten, arbor=arbor)
    must_be_positive(purchase=purchase)
    return purchase * bare_batten - arbor


def rope_over_batten(lines: int, weight_per_length: float, drop: float) -> float:
    """Weight of the rope that hangs between loft blocks and batten [N]; it counts on the batten side."""
    must_not_be_negative(lines=lines, weight_per_length=weight_per_length, drop=drop)
    return lines * weight_per_length * drop


def rope_over_arbor(lines: int, weight_per_length: float, drop: float, *, purchase: float) -> float:
    """Pull of the rope between head block and arbor, as it counts on the arbor side [N].

    A double-purchase set has two parts of rope there, of which one moves, twice as fast as the arbor; the
    purchase covers that, so the drop is entered once.
    """
    must_not_be_negative(lines=lines, weight_per_length=weight_per_length, drop=drop)
    must_be_positive(purchase=purchase)
    return lines * weight_per_length * purchase * drop
