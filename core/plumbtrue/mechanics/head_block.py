"""The head block and the head beam: every lift line of a set turns here, and the hand line too.

Source: vector sum (derived). The batten side hangs on the lines whether or not the arbor balances it. An
arbor that is heavy and held by the rope lock pulls the hand line up to the head block as well;
`held_hand_line` says how much.
"""

from collections.abc import Sequence
from math import hypot, pi

from plumbtrue.mechanics.blocks import pull_on_mount
from plumbtrue.mechanics.refusal import must_be_positive, must_not_be_negative
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class HeadLoad:
    """Pull on the head block and on the beam under it [N]; horizontal is towards the loft blocks."""

    block_vertical: float
    block_horizontal: float
    beam_vertical: float
    beam_horizontal: float

    @property
    def block_resultant(self) -> float:
        return hypot(self.block_vertical, self.block_horizontal)

    @property
    def beam_resultant(self) -> float:
        return hypot(self.beam_vertical, self.beam_horizontal)


def head_block_load(
    tensions: Sequence[float],
    hand_line_each_side: float,
    *,
    purchase: float,
    fall: float = 0.0,
    tied_off: Sequence[tuple[float, float]] = (),
) -> HeadLoad:
    """Pull of a set on its head block and head beam.

    Args:
        tensions: in the lift lines [N], 0 or more.
        hand_line_each_side: tension in each part of the hand line over the same block [N].
        purchase: 1; 2 adds the dead end of every line at the head beam.
        fall: angle by which the lines fall from the head block towards the loft blocks [rad]; below 0 when
            the head block is lower.
        tied_off: lines tied off elsewhere that pull on the block, each as (down, towards the loft blocks)
            [N].
    Raises:
        ValueError: a tension below 0, or lines that run straight up or down.

    >>> load = head_block_load([60.0, 130.0, 110.0, 130.0, 60.0], 40.0, purchase=1)
    >>> load.block_vertical, load.block_horizontal, round(load.block_resultant, 2)
    (570.0, 490.0, 751.66)
    """
    must_not_be_negative(hand_line_each_side=hand_line_each_side)
    must_not_be_negative(**{f"tension_{line}": tension for line, tension in enumerate(tensions, 1)})
    must_be_positive(purchase=purchase)
    if not -pi / 2 < fall < pi / 2:
        raise ValueError(f"lines fall by less than 90 degrees towards the loft blocks, but fall = {fall} rad")
    total = sum(tensions)
    down_of_lines, across_of_lines = pull_on_mount(total, pi / 2 + fall)
    vertical = down_of_lines + 2 * hand_line_each_side + sum(down for down, _ in tied_off)
    horizontal = across_of_lines + sum(across for _, across in tied_off)
    # Each line has `purchase` parts between head and arbor; all but the one over the block end or turn at the
    # beam.
    return HeadLoad(vertical, horizontal, vertical + (purchase - 1) * total, horizontal)


def held_hand_line(preload: float, out_of_balance_at_batten: float, *, purchase: float) -> float:
    """Tension of each part of the hand line at the head block while the rope lock holds the set [N].

    An arbor-heavy set hangs on the hand line too, on both sides of the head block. A batten-heavy one is held
    through the tension block below, and the head block keeps the preload.

    >>> held_hand_line(40.0, -120.0, purchase=1), held_hand_line(40.0, 120.0, purchase=1)
    (160.0, 40.0)
    """
    must_not_be_negative(preload=preload)
    must_be_positive(purchase=purchase)
    return preload + purchase * max(0.0, -out_of_balance_at_batten)


def tension_block_lift(
    preload: float, out_of_balance_at_batten: float, weight: float, *, purchase: float
) -> float:
    """Net lift on the tension block below while the rope lock holds the set [N]; 0 while its own weight is
    enough.

    >>> tension_block_lift(40.0, 30.0, 60.0, purchase=1)
    80.0
    """
    must_not_be_negative(preload=preload, weight=weight)
    must_be_positive(purchase=purchase)
    return max(0.0, 2 * (preload + purchase * max(0.0, out_of_balance_at_batten)) - weight)
