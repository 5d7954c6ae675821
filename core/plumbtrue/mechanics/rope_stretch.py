"""What wire rope gives: stretch under load, stiffness of a line, and the jolt when a falling load is caught.

Wire rope only. Fibre rope does not stretch in proportion to its load, so it has no stiffness here; its
maker's curve counts.
"""

from collections.abc import Sequence
from math import sqrt

from plumbtrue.mechanics.refusal import Refused, must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.unchanging import unchanging


def line_stiffness(parts: Sequence[tuple[float, float]]) -> float:
    """Stiffness of a lift line [N/m] from parts in series, each by its EA [N] and length [m]: `1 / sum(L /
    EA)`.

    The rope counts from arbor to batten and is equally long at every height of a counterweight set. Sheave
    friction can hide some of it from a small change, so the line may be as stiff as its hanging part alone:
    ask at both lengths for a range.

    Raises:
        ValueError: no parts, or a length or EA that is not more than 0.

    >>> round(line_stiffness([(1.6e6, 22.9)]) / 1000, 1)
    69.9
    """
    if not parts:
        raise ValueError("a line needs at least one part that stretches")
    for EA, length in parts:
        must_be_positive(EA=EA, length=length)
    return 1 / sum(length / EA for EA, length in parts)


def elastic_stretch(tension: float, length: float, EA: float) -> float:
    """Stretch of a rope that comes back when the load comes off [m]: `T L / (E A)`, E on the area of the
    metal.

    Args:
        tension: [N], 0 or more.
        length: [m], more than 0.
        EA: modulus times metal area [N], more than 0; at a low load the modulus is about 0.9 of the
            handbook's.
    Source: Hooke's law.

    >>> round(elastic_stretch(tension=2000.0, length=27.4, EA=1.7e6), 4)
    0.0322
    """
    must_not_be_negative(tension=tension)
    must_be_positive(length=length, EA=EA)
    return tension * length / EA


def constructional_stretch(length: float, shares: tuple[float, float]) -> tuple[float, float]:
    """How much longer a new rope becomes once, as its strands bed in [m]: the least and the greatest share of
    its length.

    Args:
        length: [m], more than 0.
        shares: least and greatest share, such as 0.00125 to 0.005 for a steel core ("Properties of Extension
            of Steel Wire Ropes"); 0 or more.

    >>> constructional_stretch(32.0, (0.00125, 0.0025))
    (0.04, 0.08)
    """
    least, greatest = shares
    must_be_positive(length=length)
    must_not_be_negative(least_share=least, greatest_share=greatest)
    return length * least, length * greatest


@unchanging
class Shock:
    """Peak force [N] of a caught load, and how many times its weight that is."""

    peak: float
    factor: float


def shock(
    weight: float,
    free_fall: float,
    stiffness: float,
    *,
    breaking_strength: float | None = None,
    relied_on: float = 0.4,
) -> Shock | Refused:
    """Peak force when ropes catch a falling weight: `F = W (1 + sqrt(1 + 2 h k / W))`. Even without a fall it
    is 2 W.

    An upper estimate, from energy alone: no damping, a rope that stays elastic.

    Args:
        weight: [N], more than 0.
        free_fall: before the ropes come tight [m], 0 or more.
        stiffness: of all ropes that catch it together [N/m], more than 0.
        breaking_strength: of those ropes [N], when it is known.
        relied_on: share of that strength up to which the estimate is given; 0.4 is common practice.
    Returns:
        The force, or a refusal above that share of the strength: do not rely on the rope surviving.
    Source: energy balance, impact of a falling weight, any textbook of machine design.

    >>> shock(weight=1300.0, free_fall=0.0, stiffness=300e3)
    Shock(peak=2600.0, factor=2.0)
    """
    must_be_positive(weight=weight, stiffness=stiffness)
    must_not_be_negative(free_fall=free_fall)
    factor = 1 + sqrt(1 + 2 * free_fall * stiffness / weight)
    peak = weight * factor
    if breaking_strength is not None:
        must_be_positive(breaking_strength=breaking_strength)
        if peak > relied_on * breaking_strength:
            return Refused(
                reason=f"the jolt would be {peak:.0f} N; do not rely on the rope surviving it",
                limit=f"{relied_on:.0%} of the breaking strength of {breaking_strength:.0f} N",
                source="common practice",
            )
    return Shock(peak, factor)


def turnbuckle_turn(thread_pitch: float, sensitivity: float) -> tuple[float, float]:
    """What one full turn of a turnbuckle does: it moves the end by two pitches and changes the line's tension
    with it.

    Args:
        thread_pitch: of each of the two opposed threads [m], more than 0; an inch over the threads to the
            inch.
        sensitivity: of the line's tension to its own offset, `S_ii` [N/m].
    Returns:
        Change of length [m] and change of tension [N].
    Source: geometry of two opposed threads.

    >>> turnbuckle_turn(thread_pitch=0.0015, sensitivity=5000.0)
    (0.003, 15.0)
    """
    must_be_positive(thread_pitch=thread_pitch)
    must_be_finite(sensitivity=sensitivity)
    return 2 * thread_pitch, 2 * thread_pitch * sensitivity
