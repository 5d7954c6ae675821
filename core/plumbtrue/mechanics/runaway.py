"""What a run-away of an unbalanced set would do: speed, energy, and the force of stopping it.

Upper estimates without damping, to explain a hazard. Never used to size a stop or a catch. The out-of-balance
is taken as constant (with rope shift, use its mean over the travel) and the sheaves as weightless, which
raises the speed by a few per cent.
Source: energy balance with an equivalent mass, any mechanics textbook (derived).
"""

from math import sqrt
from typing import Literal

from plumbtrue.mechanics.balance import out_of_balance
from plumbtrue.mechanics.gravity import STANDARD_GRAVITY
from plumbtrue.mechanics.refusal import must_be_positive, must_not_be_negative
from plumbtrue.quantities.bounds import exceeds
from plumbtrue.quantities.unchanging import unchanging

FirstStop = Literal["arbor-floor", "arbor-top", "batten-deck"]

ARBOR_LANDS = "arbor lands, lift lines go slack"
ARBOR_HITS_TOP = "arbor hits top stop, lines taut"
BATTEN_LANDS = "batten lands, lift lines go slack"


@unchanging
class Runaway:
    """A run-away from rest. Zeros, and no time, where friction holds the set: friction alone is no means of
    holding."""

    out_of_balance_at_batten: float
    """[N], positive when the batten is heavy."""
    energy_at_risk: float
    """[J]"""
    kinetic_energy: float
    """At the end of the travel [J]."""
    acceleration: float
    """Of the batten [m/s2]."""
    batten_speed: float
    arbor_speed: float
    """At the end of the travel [m/s]."""
    time: float | None
    """[s]"""
    held_by_friction: bool


@unchanging
class Stopping:
    """What happens at one stop: the average force in it [N], None without a stopping distance; how far the
    other side flies on [m], None where the lines stay tight and nothing flies."""

    case: str
    average_force: float | None
    flies_on: float | None


def runaway(
    batten_side: float, arbor_side: float, travel: float, friction: float, *, purchase: float
) -> Runaway:
    """Run-away of a set let go at rest.

    Args:
        batten_side, arbor_side: weights [N], 0 or more, not both 0.
        travel: free travel of the batten in the direction in which it would run [m].
        friction: of the whole set, at the batten [N], 0 or more.
    Raises:
        ValueError: a figure below 0, nothing hanging at all, or a purchase that is not more than 0.

    300 N left on a single-purchase arbor over 10 m:

    >>> run = runaway(154.0, 454.0, 10.0, 0.0, purchase=1)
    >>> run.energy_at_risk, round(run.batten_speed, 3)
    (3000.0, 9.837)
    """
    must_not_be_negative(batten_side=batten_side, arbor_side=arbor_side, travel=travel, friction=friction)
    must_be_positive(purchase=purchase, batten_and_arbor=batten_side + arbor_side)
    unbalanced = out_of_balance(batten_side, arbor_side, purchase=purchase)
    energy = abs(unbalanced) * travel
    drive = abs(unbalanced) - friction
    if not exceeds(abs(unbalanced), friction):
        return Runaway(unbalanced, energy, 0.0, 0.0, 0.0, 0.0, None, held_by_friction=True)
    mass = (batten_side + arbor_side / purchase**2) / STANDARD_GRAVITY
    acceleration = drive / mass
    speed = sqrt(2 * acceleration * travel)
    return Runaway(
        out_of_balance_at_batten=unbalanced,
        energy_at_risk=energy,
        kinetic_energy=drive * travel,
        acceleration=acceleration,
        batten_speed=speed,
        arbor_speed=speed / purchase,
        time=sqrt(2 * travel / acceleration),
        held_by_friction=False,
    )


def possible_stops(run: Runaway) -> tuple[FirstStop, ...]:
    """The stops that may come first; which one does must be known from the house. None where friction holds
    the set."""
    if run.held_by_friction:
        return ()
    return ("batten-deck", "arbor-top") if run.out_of_balance_at_batten > 0 else ("arbor-floor",)


def stopping(
    run: Runaway,
    stop: FirstStop,
    batten_side: float,
    arbor_side: float,
    distance: float | None,
    *,
    purchase: float,
) -> Stopping:
    """What happens when a run-away meets a stop.

    Where a side lands, its lines go slack and the other side flies on upwards until it falls back into them
    (less far if the grid is nearer). At the arbor's top stop the lines stay tight and the stop takes the
    energy of both sides.

    Args:
        distance: travel within the stop [m], of the side that meets it; None when not known.
    Raises:
        ValueError: the stop cannot come first, because the other side is heavy or friction holds the set.
    """
    if stop not in possible_stops(run):
        raise ValueError(
            f"{stop} cannot come first with {run.out_of_balance_at_batten} N out of balance at the batten"
        )
    if distance is not None:
        must_be_positive(distance=distance)
    if stop == "arbor-top":
        hold = purchase * abs(run.out_of_balance_at_batten)
        return Stopping(
            ARBOR_HITS_TOP, None if distance is None else run.kinetic_energy / distance + hold, None
        )
    lands_with_arbor = stop == "arbor-floor"
    weight, speed, other_speed = (
        (arbor_side, run.arbor_speed, run.batten_speed)
        if lands_with_arbor
        else (batten_side, run.batten_speed, run.arbor_speed)
    )
    force = None if distance is None else weight / STANDARD_GRAVITY * speed**2 / (2 * distance) + weight
    return Stopping(
        ARBOR_LANDS if lands_with_arbor else BATTEN_LANDS, force, other_speed**2 / (2 * STANDARD_GRAVITY)
    )
