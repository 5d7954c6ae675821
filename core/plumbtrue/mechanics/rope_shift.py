"""Rope that passes over the blocks as a batten travels, and the chain that makes up for it.

As the batten comes in, rope leaves the arbor side and hangs on the batten side, so a set that balances at one
height does not at another. Valid while a chain's bight clears the floor and neither of its legs is drawn
straight.
Source: derived by differentiating the potential energy of rope and chain; tested against that derivative.
"""

from typing import Literal

from plumbtrue.mechanics.refusal import must_be_positive, must_not_be_negative

ChainHung = Literal["bight", "pile"]
"""`bight`: from the arbor to a fixed point. `pile`: straight down from the arbor, piling on the floor."""


def rope_shift(lines: int, weight_per_length: float, batten_travel: float, *, purchase: float) -> float:
    """Change of out-of-balance at the batten when it comes in by `batten_travel` [N], batten growing heavier.

    The batten side gains one length of rope, the arbor side loses `purchase` parts of 1/purchase each, seen
    through the purchase: `N m y (1 + 1/p)`, which is 2 N m y for single and 1.5 N m y for double purchase.
    The hand line is an endless loop and adds nothing.

    Args:
        weight_per_length: of one lift line [N/m].
        batten_travel: [m].
    Raises:
        ValueError: a figure below 0, or a purchase that is not more than 0.

    >>> [round(rope_shift(n, 0.11, y, purchase=p), 9) for n, y, p in ((5, 50.0, 1), (6, 44.0, 2))]
    [55.0, 43.56]
    """
    must_not_be_negative(lines=lines, weight_per_length=weight_per_length, batten_travel=batten_travel)
    must_be_positive(purchase=purchase)
    return lines * weight_per_length * batten_travel * (1 + 1 / purchase)


def chain_takes_back(
    chain_weight_per_length: float, batten_travel: float, hung: ChainHung, *, purchase: float
) -> float:
    """What a compensating chain takes back at the batten over the same travel [N].

    The arbor rises by y/p and picks up half a length of chain for each length in a bight, a whole one from a
    pile.

    >>> round(chain_takes_back(2.2, 50.0, "bight", purchase=1), 9)
    55.0
    """
    must_not_be_negative(chain_weight_per_length=chain_weight_per_length, batten_travel=batten_travel)
    must_be_positive(purchase=purchase)
    return _share_lifted(hung) * chain_weight_per_length * (batten_travel / purchase) / purchase


def chain_for_full_compensation(
    lines: int, weight_per_length: float, hung: ChainHung, *, purchase: float
) -> float:
    """Weight per length of the chain that takes back all of the shift [N/m].

    >>> chain_for_full_compensation(5, 0.11, "bight", purchase=1)
    2.2
    >>> chain_for_full_compensation(6, 0.11, "pile", purchase=2)
    3.96
    """
    must_not_be_negative(lines=lines, weight_per_length=weight_per_length)
    must_be_positive(purchase=purchase)
    return lines * weight_per_length * purchase * (purchase + 1) / _share_lifted(hung)


def _share_lifted(hung: ChainHung) -> float:
    if hung == "bight":
        return 0.5
    if hung == "pile":
        return 1.0
    raise ValueError(f"a chain hangs in a bight or from a pile, but got {hung!r}")
