"""Share of a hanging cable loop that the pipe carries; it changes as the pipe travels, and so does the set's
balance.

Source: the loop hangs from its pick and from the pipe, side by side, and each carries the part on its side of
the lowest point (derived).
"""

from plumbtrue.mechanics.refusal import Refused, must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.bounds import exceeds


def cable_share(
    weight_per_length: float, loop_length: float, pick_height: float, pipe_height: float
) -> float | Refused:
    """Weight of a cable loop on the pipe [N]: `w (L - (Hp - h)) / 2`.

    Args:
        weight_per_length: of all cables of the loop together [N/m].
        loop_length: from strain relief to strain relief [m].
        pick_height, pipe_height: of the fixed end and of the pipe [m].
    Returns:
        A refusal when the loop is shorter than the height between its ends: it is then drawn tight, and pulls
        with more than its weight.

    >>> [round(cable_share(5.1, 34.0, 30.0, h), 2) for h in (4.0, 27.0)]
    [20.4, 79.05]
    """
    must_not_be_negative(weight_per_length=weight_per_length)
    must_be_positive(loop_length=loop_length)
    must_be_finite(pick_height=pick_height, pipe_height=pipe_height)
    apart = pick_height - pipe_height
    if exceeds(abs(apart), loop_length):
        return Refused(
            f"the loop of {loop_length:.2f} m is drawn tight over {abs(apart):.2f} m of height",
            "a loop longer than the height between its ends",
            "geometry",
        )
    return weight_per_length * min(max((loop_length - apart) / 2, 0.0), loop_length)


def share_change(
    weight_per_length: float, loop_length: float, pick_height: float, lowest: float, highest: float
) -> float | Refused:
    """Change of the pipe's share between its lowest and highest working trim [N].

    >>> round(share_change(5.1, 34.0, 30.0, 4.0, 27.0), 2)
    58.65
    """
    low = cable_share(weight_per_length, loop_length, pick_height, lowest)
    high = cable_share(weight_per_length, loop_length, pick_height, highest)
    if isinstance(low, Refused):
        return low
    return high if isinstance(high, Refused) else high - low
