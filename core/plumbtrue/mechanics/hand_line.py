"""Pull at the hand line, and friction found from two pulls.

Two readings of a spring scale at slow, steady speed tell out-of-balance and friction apart: a test that any
crew can do. Friction that grows from year to year speaks of bearings, guides or alignment. Source: statics
(derived).
"""

from plumbtrue.mechanics.refusal import Refused, must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.bounds import CLOSENESS
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class HandLinePull:
    """Pulls at the hand line [N]. A negative pull means that it runs that way by itself and must be held
    back."""

    to_raise: float
    to_lower: float
    hold_back: float
    """Hold that keeps a set from running, friction helping [N], 0 or more."""


@unchanging
class FoundFromPulls:
    """What two pulls tell: out-of-balance at the hand line and at the batten [N], batten heavy positive, and
    friction [N]."""

    out_of_balance_at_hand_line: float
    out_of_balance_at_batten: float
    friction: float


def hand_line_pull(out_of_balance_at_batten: float, friction: float, *, purchase: float) -> HandLinePull:
    """Pull to raise and to lower the batten.

    Args:
        out_of_balance_at_batten: [N], positive when the batten is heavy.
        friction: of the whole set, felt at the hand line [N], 0 or more.
    Raises:
        ValueError: friction below 0, or a purchase that is not more than 0.

    >>> hand_line_pull(40.0, 15.0, purchase=2)
    HandLinePull(to_raise=95.0, to_lower=-65.0, hold_back=65.0)
    """
    must_be_finite(out_of_balance_at_batten=out_of_balance_at_batten)
    must_not_be_negative(friction=friction)
    must_be_positive(purchase=purchase)
    at_hand_line = purchase * out_of_balance_at_batten
    return HandLinePull(
        at_hand_line + friction, -at_hand_line + friction, max(0.0, abs(at_hand_line) - friction)
    )


def friction_from_pulls(to_raise: float, to_lower: float, *, purchase: float) -> FoundFromPulls | Refused:
    """Out-of-balance and friction from the pull that raises the batten and the pull that lowers it [N].

    Enter a negative pull where the set ran and had to be held back. Two readings that would need friction
    below 0 are refused: one of them was not taken at steady speed.

    >>> friction_from_pulls(35.0, 11.0, purchase=1)
    FoundFromPulls(out_of_balance_at_hand_line=12.0, out_of_balance_at_batten=12.0, friction=23.0)
    """
    must_be_finite(to_raise=to_raise, to_lower=to_lower)
    must_be_positive(purchase=purchase)
    friction = (to_raise + to_lower) / 2
    if friction < -CLOSENESS * max(abs(to_raise), abs(to_lower)):
        return Refused(
            "the two pulls contradict each other: friction would be below 0",
            "friction 0 or more",
            "statics (derived)",
        )
    at_hand_line = (to_raise - to_lower) / 2
    return FoundFromPulls(at_hand_line, at_hand_line / purchase, max(0.0, friction))


def friction_bounds(
    line_tensions: float, sheaves_passed: int, *, least: float = 0.01, most: float = 0.05
) -> tuple[float, float]:
    """Least and greatest friction of a set whose friction nobody has measured [N].

    Shares of the line tension per sheave passed: 1 to 5 % (common practice; 2 % is printed for rolling
    bearings, 5 % for plain or dry).

    >>> friction_bounds(1000.0, 2)
    (20.0, 100.0)
    """
    must_not_be_negative(
        line_tensions=line_tensions, sheaves_passed=sheaves_passed, least=least, most=most - least
    )
    return least * sheaves_passed * line_tensions, most * sheaves_passed * line_tensions
