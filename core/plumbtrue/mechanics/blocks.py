"""What a block does to the steel that holds it: resultant, clips in uplift, bolts of an underhung block.

Tensions on the two sides of a turning sheave differ by about 2 % with rolling bearings and up to 5 % when
plain or dry; the careful value is the larger on both sides. Strength of clips and bolts is a matter of the
load path; an unknown clip stays unknown.
Source: statics (derived); resultant factors are printed alike in block tables by angle between the lines, 180
degrees less the wrap.
"""

from math import cos, hypot, pi, sin, sqrt

from plumbtrue.mechanics.refusal import Refused, must_be_positive, must_not_be_negative
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class Resultant:
    """Pull of a block on its mount [N], and that over the larger tension."""

    force: float
    factor: float | None
    """None when both tensions are 0."""


@unchanging
class Overturning:
    """An upright block under a level pull: uplift at the rear clips and pressure on the steel [N]."""

    uplift: float
    pressure: float
    clips_in_tension: bool


@unchanging
class UnderhungClips:
    """Pull in the clips of an underhung block [N]; below 0 means that a clip is pressed up against the steel
    instead."""

    rear: float
    front: float


def block_resultant(tension_in: float, tension_out: float, wrap: float) -> Resultant:
    """Pull of a rope on a block: `2 T sin(wrap/2)` for equal tensions, by the cosine rule otherwise.

    Args:
        tension_in, tension_out: in the two parts of the rope [N], 0 or more.
        wrap: arc of contact [rad], from 0 (straight past) to a full turn.
    Raises:
        ValueError: a tension below 0, or a wrap outside 0 to 2 pi.

    >>> round(block_resultant(300.0, 300.0, pi / 2).factor, 4)
    1.4142
    """
    must_not_be_negative(tension_in=tension_in, tension_out=tension_out)
    _must_be_a_wrap(wrap)
    # 1 - cos(wrap) as 2 sin(wrap/2)^2: near a straight pass the cosine has no digits left.
    force = hypot(tension_in - tension_out, 2 * sqrt(tension_in * tension_out) * sin(wrap / 2))
    larger = max(tension_in, tension_out)
    return Resultant(force, force / larger if larger > 0 else None)


def overturning(
    vertical: float, horizontal: float, axle_height: float, base_behind: float, base_ahead: float
) -> Overturning:
    """Whether a block standing on the steel is pulled over by the level part of its pull.

    Moments about the front edge of its base, on the side of the head block. Clips must resist the sliding
    pull `horizontal` as well.

    Args:
        vertical, horizontal: parts of the block's pull [N], 0 or more; horizontal towards the head block.
        axle_height: axle above the steel [m].
        base_behind, base_ahead: along the steel from axle to rear clips and to front edge [m].
    Raises:
        ValueError: a figure below 0, or a base without length.

    >>> overturning(300.0, 300.0, axle_height=6.0, base_behind=4.0, base_ahead=4.0)
    Overturning(uplift=75.0, pressure=375.0, clips_in_tension=True)
    """
    must_not_be_negative(
        vertical=vertical,
        horizontal=horizontal,
        axle_height=axle_height,
        base_behind=base_behind,
        base_ahead=base_ahead,
    )
    must_be_positive(base=base_behind + base_ahead)
    uplift = (horizontal * axle_height - vertical * base_ahead) / (base_ahead + base_behind)
    if uplift <= 0:
        return Overturning(0.0, vertical, clips_in_tension=False)
    return Overturning(uplift, vertical + uplift, clips_in_tension=True)


def underhung_clips(
    vertical: float, horizontal: float, axle_below: float, clip_spacing: float
) -> UnderhungClips:
    """Pull in the front and rear clips of a block that hangs from the steel.

    The rear clip is the one away from the head block; the level pull at the axle loads it more.

    Args:
        axle_below: axle below the clips [m].
        clip_spacing: along the steel between front and rear clips [m], more than 0.

    >>> underhung_clips(300.0, 300.0, axle_below=4.0, clip_spacing=8.0)
    UnderhungClips(rear=300.0, front=0.0)
    """
    must_not_be_negative(vertical=vertical, horizontal=horizontal, axle_below=axle_below)
    must_be_positive(clip_spacing=clip_spacing)
    from_moment = horizontal * axle_below / clip_spacing
    return UnderhungClips(vertical / 2 + from_moment, vertical / 2 - from_moment)


def pull_on_mount(tension: float, wrap: float) -> tuple[float, float]:
    """Pull of a block whose line stands plumb on one side: along that part, and across it [N].

    Along `T (1 - cos w)`, across `T sin w` without sign: the line comes in plumb and leaves when it has turned
    by `wrap` [rad], from 0 to a full turn.

    >>> [round(part, 6) for part in pull_on_mount(100.0, pi / 3)]
    [50.0, 86.60254]
    """
    must_not_be_negative(tension=tension)
    _must_be_a_wrap(wrap)
    return tension * (1 - cos(wrap)), tension * abs(sin(wrap))


def tension_at_rating(rated: float, wrap: float, beside: float = 0.0) -> float | Refused:
    """Tension over a block at which its pull on the mount reaches a rated resultant [N].

    `(T (1 - cos w) + F)^2 + (T sin w)^2 = R^2`, solved for T.

    Args:
        rated: resultant R that the block is good for [N], more than 0.
        wrap: [rad]; beside: what else pulls along the part that stands plumb, such as a hand line [N].
    Returns:
        A refusal where a rope that passes straight puts no pull on the block. Nought where what pulls beside
        it is more than the rating already.

    >>> round(tension_at_rating(500.0, pi / 2), 3), tension_at_rating(500.0, pi / 2, beside=600.0)
    (353.553, 0.0)
    """
    must_be_positive(rated=rated)
    must_not_be_negative(beside=beside)
    _must_be_a_wrap(wrap)
    turned = 1 - cos(wrap)
    if turned < 1e-12:
        return Refused("a rope that passes straight puts no pull on a block", "a wrap", "statics")
    if beside >= rated:
        return 0.0
    # 2 c T^2 + 2 c F T + F^2 - R^2 = 0, with c = 1 - cos w.
    return (-turned * beside + sqrt((turned * beside) ** 2 + 2 * turned * (rated**2 - beside**2))) / (
        2 * turned
    )


def loft_block_pull(tension: float) -> tuple[float, float]:
    """Vertical and level pull of a loft block [N] whose line comes up plumb and leaves level: the tension
    each way."""
    return pull_on_mount(tension, pi / 2)


def mule_block_pull(tension: float, plan_angle: float) -> float:
    """Level pull of a mule block [N] that turns a line by `plan_angle` [rad] in plan.

    >>> round(mule_block_pull(100.0, pi / 3), 6)
    100.0
    """
    return block_resultant(tension, tension, plan_angle).force


def _must_be_a_wrap(wrap: float) -> None:
    if not 0 <= wrap <= 2 * pi:
        raise ValueError(f"a wrap goes from 0 to a full turn, but is {wrap} rad")


def combined(vertical: float, horizontal: float) -> float:
    """One figure from a vertical and a level force [N]."""
    return hypot(vertical, horizontal)
