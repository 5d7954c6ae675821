"""Length of rope to cut for a lift line: drop, arc, run, arc, drop, and what the ends take.

Blocks stand with the rope over the top of both; the drops are on the outer sides. Cut long and trim after the
first load: constructional stretch is a deduction that is never taken. Source: common tangent of two circles
(derived).
"""

from collections.abc import Sequence
from math import asin, atan2, hypot, pi, sqrt

from plumbtrue.mechanics.refusal import Refused, must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class Course:
    """Where a line runs [m]: drops from the block centres' level, tread and rope diameters, head block level
    distance and height from the loft block."""

    batten_drop: float
    loft_tread: float
    head_tread: float
    rope_diameter: float
    loft_to_head: float
    head_above_loft: float
    arbor_drop: float


@unchanging
class CutLength:
    """Path along the rope's centre and length to cut [m]; straight run between the blocks [m]; arcs of
    contact [rad]."""

    path: float
    cut: float
    straight_run: float
    loft_wrap: float
    head_wrap: float


def cut_length(
    course: Course,
    allowances: Sequence[float] = (),
    deductions: Sequence[float] = (),
    *,
    arbor_sheave_tread: float | None = None,
    mule_arcs: Sequence[tuple[float, float]] = (),
) -> CutLength | Refused:
    """Path of a lift line and the rope to cut for it.

    Args:
        allowances: turn-back and tail at both ends, trim, waste to square the end [m].
        deductions: lower and upper hardware that takes the place of rope [m].
        arbor_sheave_tread: of a double-purchase arbor's sheave [m]: the arbor drop then counts twice, with
            half a turn.
        mule_arcs: a (tread diameter [m], plan angle [rad]) for each mule block on the way.
    Returns:
        A refusal when the blocks overlap, or the deductions take more than the whole.

    >>> told = cut_length(Course(660.0, 8.0, 12.0, 0.25, 420.0, 0.0, 60.0), [14.0, 14.0, 24.0], [12.0])
    >>> round(told.path, 3), round(told.cut, 3)
    (1156.105, 1196.105)
    """
    must_not_be_negative(batten_drop=course.batten_drop, arbor_drop=course.arbor_drop)
    must_be_positive(
        loft_tread=course.loft_tread,
        head_tread=course.head_tread,
        rope_diameter=course.rope_diameter,
        loft_to_head=course.loft_to_head,
    )
    must_be_finite(head_above_loft=course.head_above_loft)
    must_not_be_negative(**{f"allowance_{place}": one for place, one in enumerate(allowances, 1)})
    must_not_be_negative(**{f"deduction_{place}": one for place, one in enumerate(deductions, 1)})
    loft, head = (_pitch_radius(tread, course) for tread in (course.loft_tread, course.head_tread))
    apart = hypot(course.loft_to_head, course.head_above_loft)
    if apart <= loft + head:
        return Refused("the loft block and the head block overlap", "block centres further apart", "geometry")
    slope = atan2(course.head_above_loft, course.loft_to_head) + asin((head - loft) / apart)
    run = sqrt(apart**2 - (head - loft) ** 2)
    loft_wrap, head_wrap = pi / 2 - slope, pi / 2 + slope
    path = course.batten_drop + loft * loft_wrap + run + head * head_wrap + course.arbor_drop
    if arbor_sheave_tread is not None:
        must_be_positive(arbor_sheave_tread=arbor_sheave_tread)
        path += course.arbor_drop + pi * _pitch_radius(arbor_sheave_tread, course)
    for tread, angle in mule_arcs:
        must_be_positive(mule_tread=tread)
        must_not_be_negative(mule_angle=angle)
        path += _pitch_radius(tread, course) * angle
    cut = path + sum(allowances) - sum(deductions)
    if not cut > 0:
        return Refused(
            "the deductions take more than the whole length", "less hardware than rope", "arithmetic"
        )
    return CutLength(path, cut, run, loft_wrap, head_wrap)


def _pitch_radius(tread: float, course: Course) -> float:
    return (tread + course.rope_diameter) / 2
