"""A trim chain round the pipe: legs, angle between them, length to cut, and the choke.

Both legs run tangent from the pipe to a point above its centre. Two legs count as two only when the wrap can
slip round and equalise; a choked chain is never two legs. Chain, its grade mark and its joining link enter
the load path as parts of their own.
Source: tangent from a point to a circle (derived); limits named beside each.
"""

from math import asin, ceil, cos, pi, sqrt
from typing import Final, Literal

from plumbtrue.mechanics.refusal import Refused, must_be_positive, must_not_be_negative
from plumbtrue.quantities.bounds import exceeds
from plumbtrue.quantities.unchanging import unchanging

SHORT_COUPLED: Final = 1.5
"""Legs that meet nearer to the pipe's centre than this many radii (chain centre) make a wide angle, over 84
degrees (common practice)."""

KEEPER_REACH: Final = 12 * 0.0254
"""Nearer to the pipe's end than this [m], a wrap can walk off and wants a keeper bolt (common practice)."""

BendRating = Literal["full", "by the maker's table", "unknown"]


@unchanging
class ChainWrap:
    """A wrap under load: included angle [rad], tension in a leg [N], length along the chain's centre [m],
    pipe over chain diameter."""

    included_angle: float
    leg_tension: float
    developed_length: float
    bend_ratio: float
    short_coupled: bool

    @property
    def bend_rating(self) -> BendRating:
        """What a chain's rating is worth on this bend: full from 6 pipe diameters over chain diameter, the
        maker's table below, unknown under 3 (from memory)."""
        if not exceeds(6.0, self.bend_ratio):
            return "full"
        return "unknown" if exceeds(3.0, self.bend_ratio) else "by the maker's table"


def chain_wrap(
    pipe_diameter: float,
    chain_diameter: float,
    meet_above: float,
    tension: float,
    *,
    turns: int = 1,
    legs_equalise: bool = False,
) -> ChainWrap | Refused:
    """Angle, leg tension and length of a chain wrapped round a pipe.

    Args:
        pipe_diameter: outside [m].
        chain_diameter: of the chain's wire [m].
        meet_above: height of the point where the legs meet, above the pipe's centre [m].
        tension: in the lift line [N].
        turns: times round the pipe, 1 or more.
        legs_equalise: known to; otherwise one leg takes all.
    Returns:
        A refusal when the legs would meet inside the chain's own circle.

    >>> wrap = chain_wrap(1.9, 0.25, 6.0, 300.0, turns=2, legs_equalise=True)
    >>> round(wrap.leg_tension, 4), round(wrap.developed_length, 5)
    (152.4671, 22.32476)
    """
    must_be_positive(pipe_diameter=pipe_diameter, chain_diameter=chain_diameter, meet_above=meet_above)
    must_not_be_negative(tension=tension)
    if turns < 1:
        raise ValueError(f"a wrap goes round the pipe at least once, but turns = {turns}")
    radius = (pipe_diameter + chain_diameter) / 2
    if meet_above <= radius:
        return Refused(
            "the legs would meet inside the wrap",
            f"more than {radius:.4f} m above the pipe's centre",
            "geometry",
        )
    half = asin(radius / meet_above)
    straight = 2 * sqrt(meet_above**2 - radius**2)
    return ChainWrap(
        included_angle=2 * half,
        leg_tension=tension / (2 * cos(half)) if legs_equalise else tension,
        developed_length=straight + (pi + 2 * half) * radius + 2 * pi * radius * (turns - 1),
        bend_ratio=pipe_diameter / chain_diameter,
        short_coupled=exceeds(SHORT_COUPLED * radius, meet_above),
    )


def links_to_cut(developed_length: float, pitch: float) -> int:
    """Whole links of a chain for a developed length, rounded up: chain comes in whole links. End links are
    extra.

    >>> links_to_cut(22.32, 0.87)
    26
    """
    must_be_positive(developed_length=developed_length, pitch=pitch)
    return ceil(developed_length / pitch * (1 - 1e-12))


def choke_capacity(working_load_limit: float, choker_factor: float) -> float:
    """What a choked chain may carry [N]: one leg carries, the other only grips.

    Args:
        choker_factor: more than 0 to 1; 0.80 for chain choked at over 120 degrees, as 1,700/2,100 lb in
            OSHA's tables 1 and 3 (read).

    >>> choke_capacity(1300.0, 0.8)
    1040.0
    """
    must_be_positive(working_load_limit=working_load_limit, choker_factor=choker_factor)
    if choker_factor > 1:
        raise ValueError(f"a choker factor is no more than 1, but is {choker_factor}")
    return working_load_limit * choker_factor


def wants_keeper_bolt(
    distance_to_end: float | None, keeper_bolt: bool | None, reach: float = KEEPER_REACH
) -> bool | None:
    """Whether a wrap is near enough to the pipe's end to walk off and has nothing to keep it; None when that
    cannot be told.

    >>> wants_keeper_bolt(0.2, False), wants_keeper_bolt(1.0, None), wants_keeper_bolt(0.2, None)
    (True, False, None)
    """
    must_be_positive(reach=reach)
    if keeper_bolt:
        return False
    if distance_to_end is None:
        return None
    must_not_be_negative(distance_to_end=distance_to_end)
    if not exceeds(reach, distance_to_end):
        return False
    return None if keeper_bolt is None else True
