"""Centre of gravity of a list of loads. Source: first moment over sum (derived)."""

from collections.abc import Sequence

from plumbtrue.mechanics.refusal import Refused, must_be_finite, must_not_be_negative


def centroid(weights: Sequence[float], places: Sequence[float]) -> tuple[float, float] | Refused:
    """Sum of weights [N] and the place of their centre [m]; a spread load counts at its own centre.

    Returns:
        A refusal when nothing weighs anything: there is then no centre.

    >>> centroid([40.0, 110.0, 65.0], [30.0, 200.0, 410.0])
    (215.0, 231.86046511627907)
    """
    must_not_be_negative(**{f"weight_{load}": weight for load, weight in enumerate(weights, 1)})
    must_be_finite(**{f"place_{load}": place for load, place in enumerate(places, 1)})
    total = sum(weights)
    if not total > 0:
        return Refused("nothing here weighs anything", "a weight more than 0", "arithmetic")
    return total, sum(weight * place for weight, place in zip(weights, places, strict=True)) / total


def linear_load_centre(start: float, end: float, at_start: float, at_end: float) -> float:
    """Centre of a load that runs evenly from one weight per length to another [m]; an even load has it in the
    middle.

    >>> linear_load_centre(0.0, 3.0, 0.0, 10.0)
    2.0
    """
    must_be_finite(start=start, end=end)
    must_not_be_negative(at_start=at_start, at_end=at_end)
    if not at_start + at_end > 0:
        return (start + end) / 2
    return start + (end - start) * (at_start + 2 * at_end) / (3 * (at_start + at_end))
