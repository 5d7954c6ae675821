"""What a batten does under several loads, each by itself: pulls, moments, shears and sags at their worst, as
bounds.
"""

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class AtLine:
    """One line in one state of the batten: where it holds [m], tension without its lower end [N], moment of
    the pipe there [N m].
    """

    at: float
    tension: float
    moment: float


@unchanging
class Greatest:
    """A figure at its worst over all loads: bounds, what and where makes it so, and the state that it was
    found in.
    """

    bounds: Bounds
    case: str
    at: float | None = None
    state: tuple[AtLine, ...] = ()


@unchanging
class BattenAtLoad:
    """What a batten does under given loads, each by itself."""

    pulls: tuple[Greatest, ...]
    """Greatest pull of each line just above the batten, lower ends included [N]."""
    moment: Greatest
    """[N m], size only."""
    shear: Greatest
    """[N], size only."""
    sag: Greatest | None
    """Greatest sag over its span; nothing where the stiffness is not known."""
    tip_drop: Greatest | None
    """Drop of the worse end below its line [m]; nothing where the stiffness is not known."""
    joint_moments: tuple[Greatest, ...]
    """At each joint, as unbroken pipe [N m]."""
