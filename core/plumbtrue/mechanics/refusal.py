"""A named refusal: what a computation answers when it is asked beyond its limits. Never a clamped figure.

A caller's mistake (a negative length, NaN) is a `ValueError` instead, and belongs to the caller.
"""

from math import isfinite
from typing import Literal

from plumbtrue.quantities.unchanging import unchanging

Standing = Literal["outside", "unstable", "unknown", "not allowed", "no geometry"]
"""`outside`: beyond a table or the limits of the method. `unstable`: no equilibrium with lines that only
pull. `unknown`: an input that the answer hangs on is missing. `not allowed`: the use is forbidden at any
load. `no geometry`: the parts as measured do not meet."""


@unchanging
class Refused:
    """No figure, and why: the reason in the trade's words, the limit that was passed, and on whose
    authority."""

    reason: str
    limit: str
    source: str
    standing: Standing = "outside"


def must_be_positive(**figures: float) -> None:
    """Refuse a caller's figures that are not more than 0 [any unit]; NaN and infinity are refused too.

    Raises:
        ValueError: naming the first figure that cannot be used.

    >>> must_be_positive(drop=0.0)
    Traceback (most recent call last):
    ValueError: drop must be more than 0, but is 0.0
    """
    for name, figure in figures.items():
        if not (isfinite(figure) and figure > 0):
            raise ValueError(f"{name} must be more than 0, but is {figure}")


def must_not_be_negative(**figures: float) -> None:
    """Refuse a caller's figures that are below 0 [any unit]; NaN and infinity are refused too.

    Raises:
        ValueError: naming the first figure that cannot be used.
    """
    for name, figure in figures.items():
        if not (isfinite(figure) and figure >= 0):
            raise ValueError(f"{name} must be 0 or more, but is {figure}")


def must_be_finite(**figures: float) -> None:
    """Refuse a caller's figures that are NaN or infinite [any unit].

    Raises:
        ValueError: naming the first figure that cannot be used.
    """
    for name, figure in figures.items():
        if not isfinite(figure):
            raise ValueError(f"{name} must be a finite figure, but is {figure}")
