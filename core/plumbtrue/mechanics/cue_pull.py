"""Pull at the hand line that a moving cue takes, and how fast the piece goes.

A cue is taken to start over the first third of its time, run even, and stop over the last third, unless its
peak speed is given: `peak = 1.5 x distance / time`, `acceleration = peak / (time/3)`. Everything that moves
is sped up, and the hand line feels the batten side through the purchase: `p W_b/g a + W_a/g a/p`. Source:
mechanics (derived); the profile is common practice.
"""

from plumbtrue.mechanics.gravity import STANDARD_GRAVITY
from plumbtrue.mechanics.refusal import must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class CuePull:
    """A cue by hand: peak speed [m/s] and acceleration [m/s2] of the batten, force that speeds it up and
    whole pull at the hand line [N]."""

    peak_speed: float
    acceleration: float
    to_accelerate: float
    pull: float


def cue_pull(
    batten_side: float,
    arbor_side: float,
    distance: float,
    time: float,
    *,
    purchase: float,
    imbalance_at_hand_line: float = 0.0,
    friction: float = 0.0,
    peak_speed: float | None = None,
) -> CuePull:
    """Pull at the hand line to run a cue.

    Args:
        batten_side, arbor_side: moving weights [N].
        distance: travel of the batten [m]; time: of the whole move [s].
        imbalance_at_hand_line: at the start of the cue [N]; its size counts, whichever side is heavy.
        friction: at the hand line [N].
        peak_speed: where a profile gives it [m/s].

    331 on the pipe and on the arbor, 26 ft in 3 s:

    >>> told = cue_pull(331.0, 331.0, 26 * 0.3048, 3.0, purchase=1)
    >>> round(told.peak_speed / 0.3048, 1), round(told.to_accelerate, 1)
    (13.0, 267.5)
    """
    must_not_be_negative(batten_side=batten_side, arbor_side=arbor_side, distance=distance, friction=friction)
    must_be_positive(time=time, purchase=purchase)
    must_be_finite(imbalance_at_hand_line=imbalance_at_hand_line)
    peak = usual_peak(distance, time) if peak_speed is None else peak_speed
    must_not_be_negative(peak_speed=peak)
    speeding_up = starting_acceleration(peak, time)
    to_accelerate = pull_to_accelerate(batten_side, arbor_side, speeding_up, purchase=purchase)
    return CuePull(peak, speeding_up, to_accelerate, to_accelerate + abs(imbalance_at_hand_line) + friction)


def usual_peak(distance: float, time: float) -> float:
    """Peak speed of a move in thirds [m/s]: `1.5 x distance / time`.

    >>> usual_peak(9.0, 3.0)
    4.5
    """
    must_not_be_negative(distance=distance)
    must_be_positive(time=time)
    return 1.5 * distance / time


def starting_acceleration(peak_speed: float, time: float) -> float:
    """Acceleration that reaches the peak speed in the first third of the time [m/s2].

    >>> starting_acceleration(4.5, 3.0)
    4.5
    """
    must_not_be_negative(peak_speed=peak_speed)
    must_be_positive(time=time)
    return peak_speed / (time / 3)


def pull_to_accelerate(
    batten_side: float, arbor_side: float, acceleration: float, *, purchase: float
) -> float:
    """Pull at the hand line that speeds up everything that moves [N]: `(p W_b + W_a / p) a / g`.

    Args:
        batten_side, arbor_side: moving weights [N]; acceleration: of the batten [m/s2].

    >>> pull_to_accelerate(300.0, 300.0, 9.80665, purchase=1)
    600.0
    """
    must_not_be_negative(batten_side=batten_side, arbor_side=arbor_side, acceleration=acceleration)
    must_be_positive(purchase=purchase)
    return (purchase * batten_side + arbor_side / purchase) / STANDARD_GRAVITY * acceleration
