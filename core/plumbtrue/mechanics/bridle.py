"""A bridle of two legs in a plane: tensions, level pull on both anchors, angles; and the apex that two
lengths lead to.

The load hangs at the apex with everything below it, hoist and chain included. Flatter than 30 degrees from
the horizontal is for a qualified person (OSHA, "Guidance on Safe Sling Use": read); that limit belongs to
rules. A leg that does not rise from the apex is refused: it is a breast line (see `breast_line`).
Source: statics and plane geometry (derived).
"""

from math import atan2, hypot, sqrt

from plumbtrue.mechanics.refusal import Refused, must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.bounds import exceeds
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class Leg:
    """From the apex to an anchor: level run and rise [m]."""

    run: float
    rise: float

    @property
    def length(self) -> float:
        return hypot(self.run, self.rise)

    @property
    def from_horizontal(self) -> float:
        """[rad]"""
        return atan2(self.rise, self.run)

    @property
    def from_vertical(self) -> float:
        """[rad]"""
        return atan2(self.run, self.rise)


@unchanging
class Bridle:
    """Two legs under load: tensions and vertical pulls [N] of leg 1 and 2, and the level pull that both
    anchors feel [N]."""

    legs: tuple[Leg, Leg]
    tensions: tuple[float, float]
    verticals: tuple[float, float]
    horizontal: float

    @property
    def apex_angle(self) -> float:
        """Between the legs [rad]."""
        return self.legs[0].from_vertical + self.legs[1].from_vertical


@unchanging
class HungBridle:
    """Where two legs of given length let a load hang, and with what tensions [N]."""

    apex: tuple[float, float]
    """Level and vertical place, in the anchors' own axes [m]."""
    tensions: tuple[float, float]
    slack_leg: int | None
    """1 or 2 where that leg is too long to take any load."""
    bridle: Bridle | None
    """The two tight legs; None where one hangs slack."""


def two_leg_bridle(load: float, leg1: Leg, leg2: Leg) -> Bridle | Refused:
    """Tensions of a bridle from where its anchors are, seen from the apex.

    `D = d1 h2 + d2 h1`, `T1 = W d2 L1 / D`, `T2 = W d1 L2 / D`, `H = W d1 d2 / D`: moments about the other
    anchor.

    Args:
        load: all that hangs at the apex [N], 0 or more.
        leg1, leg2: to either side of the apex; runs 0 or more.
    Returns:
        A refusal when a leg is flat or falls towards its anchor, or when an anchor lies on the wrong side.

    >>> told = two_leg_bridle(1000.0, Leg(5.0, 8.0), Leg(5.0, 8.0))
    >>> round(told.tensions[0], 4), told.horizontal
    (589.6238, 312.5)
    """
    must_not_be_negative(load=load)
    must_be_finite(run1=leg1.run, rise1=leg1.rise, run2=leg2.run, rise2=leg2.rise)
    for number, leg in enumerate((leg1, leg2), 1):
        if leg.rise <= 0:
            return Refused(
                f"leg {number} is flat or falls towards its anchor: it cannot carry as a bridle leg",
                "every leg rises from the apex",
                "statics",
            )
        if leg.run < 0:
            return Refused(
                f"the anchor of leg {number} lies on the other leg's side of the apex: a leg would push",
                "the apex hangs between its anchors",
                "statics",
            )
    closing = leg1.run * leg2.rise + leg2.run * leg1.rise
    if closing == 0:
        return Refused(
            "both anchors are plumb above the apex: how the legs share cannot be told",
            "anchors apart in plan",
            "statics",
        )
    tension1, tension2 = load * leg2.run * leg1.length / closing, load * leg1.run * leg2.length / closing
    return Bridle(
        legs=(leg1, leg2),
        tensions=(tension1, tension2),
        verticals=(tension1 * leg1.rise / leg1.length, tension2 * leg2.rise / leg2.length),
        horizontal=load * leg1.run * leg2.run / closing,
    )


def bridle_from_lengths(
    load: float, anchor1: tuple[float, float], anchor2: tuple[float, float], length1: float, length2: float
) -> HungBridle | Refused:
    """Where a load hangs from two legs of known length.

    A leg may be too long to take any load; the load then hangs plumb under the other anchor. That is looked
    at first, because two circles may not even cross there.

    Args:
        anchor1, anchor2: level and vertical place [m].
        length1, length2: from anchor to apex, hardware included [m], more than 0.
    Returns:
        `no geometry` when the legs do not reach each other.

    >>> told = bridle_from_lengths(500.0, (0.0, 0.0), (6.0, 0.0), 4.0, 12.0)
    >>> told.apex, told.slack_leg
    ((0.0, -4.0), 2)
    """
    must_not_be_negative(load=load)
    must_be_positive(length1=length1, length2=length2)
    must_be_finite(x1=anchor1[0], z1=anchor1[1], x2=anchor2[0], z2=anchor2[1])
    under1, under2 = (anchor1[0], anchor1[1] - length1), (anchor2[0], anchor2[1] - length2)
    # A leg that just reaches is straight, but carries nothing: it counts as slack.
    if not exceeds(_apart(under1, anchor2), length2):
        return HungBridle(under1, (load, 0.0), 2, None)
    if not exceeds(_apart(under2, anchor1), length1):
        return HungBridle(under2, (0.0, load), 1, None)
    span = _apart(anchor1, anchor2)
    if span >= length1 + length2:
        return Refused(
            f"the anchors are {span:.3f} m apart, more than the legs are long together",
            "legs longer together than the anchors are apart",
            "geometry",
            "no geometry",
        )
    if anchor1[0] == anchor2[0]:
        return Refused("the anchors are plumb above each other", "anchors apart in plan", "geometry")
    apex = _lower_crossing(anchor1, anchor2, length1, length2, span)
    side = 1.0 if anchor2[0] > anchor1[0] else -1.0
    bridle = two_leg_bridle(
        load,
        Leg(side * (apex[0] - anchor1[0]), anchor1[1] - apex[1]),
        Leg(side * (anchor2[0] - apex[0]), anchor2[1] - apex[1]),
    )
    return bridle if isinstance(bridle, Refused) else HungBridle(apex, bridle.tensions, None, bridle)


def leg_length(anchor: tuple[float, ...], apex: tuple[float, ...], make_up: float = 0.0) -> float:
    """Length of a leg to cut or choose for a wanted apex: the distance, less the hardware at both ends [m].

    >>> leg_length((0.0, 0.0), (3.0, -4.0), make_up=0.5)
    4.5
    """
    must_not_be_negative(make_up=make_up)
    length = sqrt(sum((a - b) ** 2 for a, b in zip(anchor, apex, strict=True))) - make_up
    must_be_positive(leg=length)
    return length


def _apart(a: tuple[float, float], b: tuple[float, float]) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def _lower_crossing(
    anchor1: tuple[float, float], anchor2: tuple[float, float], length1: float, length2: float, span: float
) -> tuple[float, float]:
    """The lower of the two points at the legs' lengths from both anchors."""
    along = (length1**2 - length2**2 + span**2) / (2 * span)
    beside = sqrt(max(0.0, length1**2 - along**2))
    ux, uz = (anchor2[0] - anchor1[0]) / span, (anchor2[1] - anchor1[1]) / span
    # The normal of the line of anchors that points down, whichever way round the anchors are given.
    nx, nz = (uz, -ux) if ux > 0 else (-uz, ux)
    return anchor1[0] + along * ux + beside * nx, anchor1[1] + along * uz + beside * nz
