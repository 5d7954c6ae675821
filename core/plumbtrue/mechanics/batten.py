"""The batten as a beam: the pipe, the lines that hold it, what hangs on it. Values only; `reactions.solve`
works on them.

`x` runs along the batten [m] from the end that the house calls zero. Loads are weights, positive downwards; a
line's tension is positive; an offset is positive when the line is short, so that its end hangs high.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import inf, isfinite
from typing import Final

from plumbtrue.mechanics.refusal import must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.unchanging import unchanging

MOST_LINES: Final = 12

HINGE: Final = 0.0
"""Stiffness of a splice that turns freely [N m/rad]."""

CONTINUOUS: Final = inf
"""Stiffness of a splice that bends like the pipe itself."""


@unchanging
class Piece:
    """A stretch of batten, start to end [m], whose bending stiffness EI [N m2] is not that of the rest."""

    start: float
    end: float
    EI: float


@unchanging
class Splice:
    """A joint in the pipe at a place [m], turning against a stiffness [N m/rad]: `HINGE`, `CONTINUOUS` or
    between.

    Nobody knows the stiffness of a sleeve with two bolts: see `splice_range` for the hull of both ends.
    """

    at: float
    stiffness: float = HINGE

    def __post_init__(self) -> None:
        if not self.stiffness >= 0:
            raise ValueError(f"a splice cannot have a stiffness of {self.stiffness}")


@unchanging
class Batten:
    """A straight pipe: length [m], bending stiffness EI [N m2], weight per length [N/m], stiffer or softer
    pieces, splices.

    Raises:
        ValueError: a figure that no batten has; pieces that overlap; a piece or splice beyond the ends.

    >>> round(Batten(length=12.8, EI=25800.0, weight_per_length=39.7).weight, 1)
    508.2
    """

    length: float
    EI: float
    weight_per_length: float = 0.0
    pieces: tuple[Piece, ...] = ()
    splices: tuple[Splice, ...] = ()

    def __post_init__(self) -> None:
        must_be_positive(length=self.length, EI=self.EI)
        must_not_be_negative(weight_per_length=self.weight_per_length)
        reached = 0.0
        for piece in sorted(self.pieces, key=lambda piece: piece.start):
            must_be_positive(EI=piece.EI)
            if not (reached <= piece.start < piece.end <= self.length):
                raise ValueError(f"{piece} overlaps another or leaves the batten of {self.length} m")
            reached = piece.end
        places = [splice.at for splice in self.splices]
        if not all(0 < place < self.length for place in places) or len(set(places)) < len(places):
            raise ValueError(
                f"splices at {places} are not at places of their own inside 0 to {self.length} m"
            )

    @property
    def weight(self) -> float:
        """Weight of the bare pipe [N]."""
        return self.weight_per_length * self.length

    @property
    def turning_splices(self) -> tuple[Splice, ...]:
        """The splices that turn at all: hinges and springs."""
        return tuple(splice for splice in self.splices if splice.stiffness < CONTINUOUS)


@unchanging
class Line:
    """A lift line, by where it holds the batten [m], how it stretches [N/m], and how much too high its end
    hangs [m].

    A stiffness of None is a line that does not stretch. A bow in the pipe is an offset too: `-(ordinate of
    the bow)`.

    Raises:
        ValueError: a stiffness that is not more than 0, or a figure that is none.
    """

    at: float
    stiffness: float | None = None
    offset: float = 0.0

    def __post_init__(self) -> None:
        must_be_finite(at=self.at, offset=self.offset)
        if self.stiffness is not None and not self.stiffness > 0:
            raise ValueError(f"a line's stiffness must be more than 0, but is {self.stiffness}")

    @property
    def compliance(self) -> float:
        """Stretch for each newton [m/N]; 0 for a line that does not stretch."""
        return 0.0 if self.stiffness is None else 1 / self.stiffness


@unchanging
class PointLoad:
    """A weight [N] at one place [m]; negative for something that lifts."""

    at: float
    weight: float

    @property
    def moment_about_zero(self) -> float:
        """Weight times place [N m]."""
        return self.weight * self.at


@unchanging
class SpreadLoad:
    """A weight spread from start to end [m], with an intensity at each end [N/m] and a straight run between.

    >>> SpreadLoad.uniform(start=2.0, end=6.0, weight=400.0)
    SpreadLoad(start=2.0, end=6.0, at_start=100.0, at_end=100.0)
    """

    start: float
    end: float
    at_start: float
    at_end: float

    @classmethod
    def uniform(cls, start: float, end: float, weight: float) -> "SpreadLoad":
        """A weight [N] spread evenly from start to end [m]."""
        must_be_positive(length_of_the_load=end - start)
        return cls(start, end, weight / (end - start), weight / (end - start))

    @property
    def weight(self) -> float:
        """The whole of it [N]."""
        return (self.at_start + self.at_end) / 2 * (self.end - self.start)

    @property
    def moment_about_zero(self) -> float:
        """Weight times the place of its centre of gravity [N m]."""
        length = self.end - self.start
        return self.weight * self.start + length**2 * (self.at_start + 2 * self.at_end) / 6


Load = PointLoad | SpreadLoad


def own_weight(batten: Batten) -> tuple[SpreadLoad, ...]:
    """The pipe's own weight as a load; nothing for a weightless pipe."""
    if batten.weight_per_length == 0:
        return ()
    return (SpreadLoad.uniform(0.0, batten.length, batten.weight),)


def scaled(load: Load, factor: float) -> Load:
    """The same load, so many times as heavy."""
    match load:
        case PointLoad(at, weight):
            return PointLoad(at, weight * factor)
        case SpreadLoad(start, end, at_start, at_end):
            return SpreadLoad(start, end, at_start * factor, at_end * factor)


def must_hold_together(batten: Batten, lines: Sequence[Line], loads: Sequence[Load]) -> None:
    """Refuse lines and loads that this batten cannot have.

    Raises:
        ValueError: no lines or more than `MOST_LINES`; a line or load beyond the batten's ends; two lines at
            one place (they are one line of twice the stiffness); a load without length or with a figure that
            is none.
    """
    if not 1 <= len(lines) <= MOST_LINES:
        raise ValueError(f"a batten hangs on 1 to {MOST_LINES} lines, not on {len(lines)}")
    places = sorted(line.at for line in lines)
    if not -1e-9 * batten.length <= places[0] <= places[-1] <= (1 + 1e-9) * batten.length:
        raise ValueError(f"lines at {places} m do not all lie on a batten of {batten.length} m")
    if any(right - left < 1e-6 * batten.length for left, right in pairwise(places)):
        raise ValueError(f"two of the lines at {places} m hold at one place: enter them as one")
    must_lie_on(batten, loads)


def must_lie_on(batten: Batten, loads: Sequence[Load]) -> None:
    """Refuse loads that do not lie on this batten.

    Raises:
        ValueError: a load beyond the batten's ends, without length, or with a figure that is none.
    """
    # A foot and twelve inches may differ in the last digit, hence the hair's breadth.
    least, most = -1e-9 * batten.length, (1 + 1e-9) * batten.length
    for load in loads:
        match load:
            case PointLoad(at, weight):
                usable = least <= at <= most and isfinite(weight)
            case SpreadLoad(start, end, at_start, at_end):
                usable = least <= start < end <= most and isfinite(at_start) and isfinite(at_end)
        if not usable:
            place = (
                f"{load.at:.3f} m" if isinstance(load, PointLoad) else f"{load.start:.3f} to {load.end:.3f} m"
            )
            raise ValueError(f"a load at {place} does not lie on a batten of {batten.length:.3f} m")
