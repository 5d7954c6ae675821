"""Load on a hoist's point, and what starting and stopping add to it.

A flat dynamic factor of 1.25 to 1.5 is common practice; emergency stops are for the maker's data.
Source: sums; `1 + a/g` with `a = v^2/(2 s)`, any mechanics textbook (derived).
"""

from plumbtrue.mechanics.gravity import STANDARD_GRAVITY
from plumbtrue.mechanics.refusal import must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class PointTotal:
    """What the point above a hoist carries [N]: at rest, and with the dynamic factor; None where that factor
    is not stated."""

    at_rest: float
    design: float | None


@unchanging
class Stop:
    """A descending load stopped over a distance: deceleration [m/s2], factor on its weight, force [N]."""

    deceleration: float
    factor: float
    force: float


def point_total(
    load: float,
    hoist: float,
    chain_per_length: float,
    chain_length: float,
    rigging: float,
    dynamic_factor: float | None,
) -> PointTotal:
    """Load on the upper point of a chain hoist. The whole chain counts, wherever the hoist's body is.

    Args:
        load, hoist, rigging: weights [N].
        chain_per_length: [N/m]; chain_length: the whole chain [m].
        dynamic_factor: 1 or more, on the whole sum; None when nobody states one.
    Raises:
        ValueError: a weight below 0, or a factor below 1.

    >>> point_total(820.0, 112.0, 0.6, 60.0, 14.0, 1.25)
    PointTotal(at_rest=982.0, design=1227.5)
    """
    must_not_be_negative(
        load=load, hoist=hoist, chain_per_length=chain_per_length, chain_length=chain_length, rigging=rigging
    )
    at_rest = load + hoist + chain_per_length * chain_length + rigging
    if dynamic_factor is None:
        return PointTotal(at_rest, None)
    must_be_finite(dynamic_factor=dynamic_factor)
    if dynamic_factor < 1:
        raise ValueError(f"a dynamic factor is 1 or more, but is {dynamic_factor}")
    return PointTotal(at_rest, at_rest * dynamic_factor)


def hook_load(load: float, chain_below: float, hook: float, dynamic_factor: float) -> float:
    """What the hoist itself lifts [N], against its rated load: share of the load with the factor, chain
    below, hook."""
    must_not_be_negative(load=load, chain_below=chain_below, hook=hook)
    must_be_positive(dynamic_factor=dynamic_factor)
    return load * dynamic_factor + chain_below + hook


def dynamic_factor(acceleration: float) -> float:
    """Factor on a weight that is slowed on its way down, or sped up on its way up: `1 + a/g`.

    Args:
        acceleration: [m/s2], 0 or more.

    >>> dynamic_factor(9.80665)
    2.0
    """
    must_not_be_negative(acceleration=acceleration)
    return 1 + acceleration / STANDARD_GRAVITY


def stop(weight: float, speed: float, distance: float) -> Stop:
    """A descending load brought to rest evenly over a distance.

    Args:
        weight: [N]; speed: [m/s], 0 or more; distance: [m], more than 0.

    >>> round(stop(400.0, 1.2192, 0.1524).factor, 4)
    1.4973
    """
    must_not_be_negative(weight=weight, speed=speed)
    must_be_positive(distance=distance)
    deceleration = speed**2 / (2 * distance)
    factor = dynamic_factor(deceleration)
    return Stop(deceleration, factor, factor * weight)
