"""A rope lock against the out-of-balance that it is asked to hold.

The lock keeps a balanced set still; it is neither a brake nor a means of holding a load. Its holding is the
maker's figure or a house's own; without one the answer is unknown.
"""

from typing import Literal

from plumbtrue.mechanics.refusal import must_be_positive
from plumbtrue.quantities.bounds import Bounds, is_over
from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.unchanging import unchanging

LockStanding = Literal["within", "over", "unknown"]


@unchanging
class LockUse:
    """Out-of-balance over stated holding, least and greatest; None without a stated holding."""

    utilisation: Bounds | None
    standing: LockStanding


def rope_lock_use(out_of_balance_at_hand_line: Bounds, holding: Bounds | float | None) -> LockUse:
    """Share of a lock's stated holding that the out-of-balance uses.

    Args:
        out_of_balance_at_hand_line: bounds [N], of either sign.
        holding: what the maker or the house states [N], more than 0, a figure or bounds; None when nobody
            states it.

    >>> rope_lock_use(Bounds(30.0, 45.0), 40.0)
    LockUse(utilisation=Bounds(low=0.75, high=1.125), standing='unknown')
    """
    if holding is None:
        return LockUse(None, "unknown")
    stated = holding if isinstance(holding, Bounds) else Bounds.exactly(holding)
    must_be_positive(holding=stated.low)
    pull = abs(out_of_balance_at_hand_line)
    utilisation = Bounds(pull.low / stated.high, pull.high / stated.low)
    standing: dict[Truth, LockStanding] = {
        Truth.HOLDS: "over",
        Truth.FAILS: "within",
        Truth.CANNOT_TELL: "unknown",
    }
    return LockUse(utilisation, standing[is_over(utilisation, Bounds(1.0, 1.0))])
