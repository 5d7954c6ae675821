"""How far off its centre the lines pull an arbor: uneven tensions cock it in its guides. Source: first moment
(derived)."""

from collections.abc import Sequence

from plumbtrue.mechanics.refusal import Refused, must_be_finite, must_not_be_negative


def lateral_pull(tensions: Sequence[float], groove_offsets: Sequence[float]) -> float | Refused:
    """Distance from the arbor's centre plane at which all lines together pull [m], with the sign of the
    grooves.

    Args:
        tensions: in the lift lines [N], 0 or more.
        groove_offsets: of each line's groove from the arbor's centre plane [m].
    Returns:
        A refusal when no line pulls.

    >>> lateral_pull([100.0, 100.0, 200.0], [-1.0, 0.0, 1.0])
    0.25
    """
    must_not_be_negative(**{f"tension_{line}": tension for line, tension in enumerate(tensions, 1)})
    must_be_finite(**{f"groove_{line}": offset for line, offset in enumerate(groove_offsets, 1)})
    total = sum(tensions)
    if not total > 0:
        return Refused("no line pulls on the arbor", "a tension more than 0", "statics")
    return sum(t * g for t, g in zip(tensions, groove_offsets, strict=True)) / total
