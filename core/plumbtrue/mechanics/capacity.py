"""The question asked at the rail: how much may still be hung, and what says so.

The forward computation turned round: a load of a given shape grows until one limit after another is reached.
Limits are the caller's, each with its name; where one is not known, the answer is no more than "at most".
Meeting every limit here is not leave to hang anything: the maker's data, the local code and a licensed or
otherwise competent person govern.
"""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import pairwise
from math import inf
from typing import Final

import numpy as np

from plumbtrue.mechanics.batten import Batten, Line, Load, PointLoad, SpreadLoad, must_hold_together, scaled
from plumbtrue.mechanics.bending import Bending
from plumbtrue.mechanics.growing_load import Chain, Growth, Stretch
from plumbtrue.mechanics.held import FloatArray, HeldBatten, hold
from plumbtrue.mechanics.limits import (
    BendingLimit,
    Limit,
    SagLimit,
    TensionLimit,
    TotalLimit,
    must_be_usable,
)
from plumbtrue.mechanics.reactions import Levelled, does_not_hang, resting_offsets
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.quantities.unchanging import unchanging

TIPS: Final = "the batten tips"

_NEAR_ENOUGH: Final = 0.01
"""[m]; nobody hangs a lamp more exactly than this."""

_KEPT: Final = 4096
"""Grown loads that are kept: some forty places for each of a hundred battens that differ."""

_BATTENS_KEPT: Final = 128

_HAIR: Final = 1e-9
"""Share of a load by which rounding may turn it."""

_FAR: Final = 1e6
"""Times what hangs already; a limit that so much of the load does not reach is never reached."""


@unchanging
class Reached:
    """The load [N] at which a limit is met; infinite when it never is.

    `line` is the index of the line that meets it, `at` the place on the pipe [m], where there is one.
    `over_already` says that the limit was passed before anything was added; the load is then 0.
    """

    name: str
    load: float
    line: int | None = None
    at: float | None = None
    over_already: bool = False


@unchanging
class Capacity:
    """The load at which each limit is met, least first."""

    by_limit: tuple[Reached, ...]
    complete: bool
    """False when some line's limit is not known: the greatest load is then only "at most"."""

    @property
    def governs(self) -> Reached:
        """The limit that is met first."""
        return self.by_limit[0]

    @property
    def greatest(self) -> float:
        """The greatest load that meets every known limit [N]."""
        return self.governs.load


def greatest_load(
    batten: Batten,
    lines: Sequence[Line],
    shape: Load,
    limits: Sequence[Limit],
    *,
    hung: Sequence[Load] = (),
    tension_only: bool = True,
    levelled: Levelled = "bare",
) -> Capacity | Refused:
    """The greatest weight of one load that a batten on two lines or more takes, by each limit.

    Every limit is a convex function of the load while the same lines are tight, so the first load that meets
    it is found exactly, and there is no lesser one.

    Args:
        shape: where the load hangs and how it is spread; how heavy it is written does not matter.
        limits: at least one.
        hung: what hangs there already.
    Returns:
        The capacity, or a refusal when the batten does not hang without the load.
    Raises:
        ValueError: no limits, a limit for the wrong number of lines, loads that the batten cannot have.

    >>> pipe = Batten(length=4.0, EI=25000.0)
    >>> bending = BendingLimit("bending", moment=600.0)
    >>> found = greatest_load(pipe, [Line(0.0), Line(4.0)], PointLoad(2.0, 1.0), [bending])
    >>> round(found.greatest, 6), found.governs.at  # P = 4 M / L.
    (600.0, 2.0)
    """
    if len(lines) == 1:
        return _on_a_lone_line()
    grown = _growth(batten, lines, shape, limits, hung, tension_only=tension_only, levelled=levelled)
    if isinstance(grown, Refused):
        return grown
    ends = [stretch.end for stretch in grown]
    if not ends:
        return does_not_hang(grown.growth.held)
    reached = [_reached(limit, grown) for limit in limits]
    reached.append(Reached(TIPS, ends[-1]))
    return Capacity(
        by_limit=tuple(sorted(reached, key=lambda one: one.load)),
        complete=not any(isinstance(limit, TensionLimit) and None in limit.by_line for limit in limits),
    )


def greatest_uniform_load(
    batten: Batten,
    lines: Sequence[Line],
    limits: Sequence[Limit],
    *,
    start: float = 0.0,
    end: float | None = None,
    hung: Sequence[Load] = (),
    tension_only: bool = True,
    levelled: Levelled = "bare",
) -> Capacity | Refused:
    """The greatest weight [N] spread evenly from start to end [m], over the whole batten unless they are
    given.
    """
    shape = SpreadLoad.uniform(start, batten.length if end is None else end, 1.0)
    return greatest_load(
        batten, lines, shape, limits, hung=hung, tension_only=tension_only, levelled=levelled
    )


def greatest_point_loads(
    batten: Batten,
    lines: Sequence[Line],
    places: Iterable[float],
    limits: Sequence[Limit],
    *,
    hung: Sequence[Load] = (),
    tension_only: bool = True,
    levelled: Levelled = "bare",
) -> tuple[tuple[float, Capacity], ...] | Refused:
    """The greatest single load at each of several places [m]: the chart that can hang at the rail.

    Returns:
        Place and capacity, in the order of the places.
    """
    found = []
    for at in places:
        capacity = greatest_load(
            batten, lines, PointLoad(at, 1.0), limits, hung=hung, tension_only=tension_only, levelled=levelled
        )
        if isinstance(capacity, Refused):
            return capacity
        found.append((at, capacity))
    return tuple(found)


def greatest_point_load_anywhere(
    batten: Batten,
    lines: Sequence[Line],
    limits: Sequence[Limit],
    *,
    hung: Sequence[Load] = (),
    tension_only: bool = True,
    levelled: Levelled = "bare",
) -> tuple[float, Capacity] | Refused:
    """The greatest single load that may hang wherever somebody puts it: the place [m] that takes least, and
    what it takes.

    Looked for at `telling_places`, then narrowed down to `_NEAR_ENOUGH` beside the worst of them.
    """
    if len(lines) == 1:
        return _on_a_lone_line()
    places, least = telling_places(batten, lines), inf
    while True:
        # A place that takes more than the least so far is of no account, so that little need be asked of it. What
        # the last round found is among this one's places, and found again: hence the hair above it.
        worst, least = 0, least * (1 + _HAIR) or inf
        for index, at in enumerate(places):
            grown = _growth(
                batten, lines, PointLoad(at, 1.0), limits, hung, tension_only=tension_only, levelled=levelled
            )
            if isinstance(grown, Refused):
                return grown
            if next(iter(grown), None) is None:
                return does_not_hang(grown.growth.held)
            load = _least_reached(limits, grown, below=least)
            if load < least:
                worst, least = index, load
        left, right = places[max(worst - 1, 0)], places[min(worst + 1, len(places) - 1)]
        if right - left <= _NEAR_ENOUGH:
            break
        places = tuple(float(at) for at in np.union1d(np.linspace(left, right, 7), [places[worst]]))
    found = greatest_load(
        batten,
        lines,
        PointLoad(places[worst], 1.0),
        limits,
        hung=hung,
        tension_only=tension_only,
        levelled=levelled,
    )
    return found if isinstance(found, Refused) else (places[worst], found)


def _least_reached(limits: Sequence[Limit], chain: Chain, *, below: float) -> float:
    """The load at which the first limit is met [N], or `below` where that is less.

    What lines carry is a straight line and quickly told; the bending of the pipe is looked at only below the
    least load that those allow.
    """
    least = below
    for limit in limits:
        if isinstance(limit, TensionLimit | TotalLimit):
            least = min(least, _reached(limit, chain, below=least).load)
    least = min(least, _tips(chain, below=least))
    for limit in limits:
        if isinstance(limit, BendingLimit | SagLimit):
            least = min(least, _reached(limit, chain, below=least).load)
    return least


def _tips(chain: Chain, *, below: float) -> float:
    """The load at which the batten tips [N]; infinite where that is more than `below`."""
    end = inf
    for stretch in chain:
        if stretch.start >= below > 0:
            return inf
        end = stretch.end
    return end


def telling_places(batten: Batten, lines: Sequence[Line], per_span: int = 4) -> tuple[float, ...]:
    """Places [m] at which a single load is worth asking for: both tips, every line, and between them.

    >>> telling_places(Batten(length=6.0, EI=9000.0), [Line(1.0), Line(5.0)], per_span=2)
    (0.0, 0.5, 1.0, 3.0, 5.0, 5.5, 6.0)
    """
    ends = sorted({0.0, batten.length, *(line.at for line in lines)})
    between = [np.linspace(left, right, per_span + 1)[:-1] for left, right in pairwise(ends)]
    return (*(float(at) for span in between for at in span), batten.length)


def _on_a_lone_line() -> Refused:
    return Refused(
        reason="a lone line carries whatever hangs plumb under it: hold the whole weight against its limit",
        limit="two lines",
        source="statics",
    )


def _growth(
    batten: Batten,
    lines: Sequence[Line],
    shape: Load,
    limits: Sequence[Limit],
    hung: Sequence[Load],
    *,
    tension_only: bool,
    levelled: Levelled,
) -> Chain | Refused:
    must_hold_together(batten, lines, [shape, *hung])
    must_be_usable(limits, len(lines))
    if not shape.weight > 0:
        raise ValueError(f"a load that grows needs a weight of more than 0, not {shape}")
    if levelled == "loaded":
        # Levelled under its load, a batten hangs as if its lines did not stretch.
        lines, levelled = [Line(line.at, offset=line.offset) for line in lines], "slack"
    return _grown(batten, tuple(lines), scaled(shape, 1 / shape.weight), tuple(hung), tension_only, levelled)


@lru_cache(maxsize=_KEPT)
def _grown(
    batten: Batten,
    lines: tuple[Line, ...],
    unit: Load,
    hung: tuple[Load, ...],
    tension_only: bool,
    levelled: Levelled,
) -> Chain | Refused:
    """How a batten takes a growing load, which does not depend on any limit: sets drawn alike with other
    limits ask for it again.
    """
    resting = _at_rest(batten, lines, tension_only, levelled)
    if isinstance(resting, Refused):
        return resting
    held, offsets = resting
    return Chain(Growth(held, offsets, hung, unit, tension_only))


@lru_cache(maxsize=_BATTENS_KEPT)
def _at_rest(
    batten: Batten, lines: tuple[Line, ...], tension_only: bool, levelled: Levelled
) -> tuple[HeldBatten, FloatArray] | Refused:
    """A batten on its lines and how they are levelled, the same wherever a load is put."""
    held = hold(batten, lines)
    offsets = resting_offsets(held, (), tension_only=tension_only, levelled=levelled)
    return offsets if isinstance(offsets, Refused) else (held, offsets)


def _reached(limit: Limit, stretches: Iterable[Stretch], *, below: float = inf) -> Reached:
    """The load at which a limit is met; none at all where that is more than `below` [N]."""
    for stretch in stretches:
        if stretch.start >= below > 0:
            break
        match limit:
            case TensionLimit(name, by_line):
                found = _tension_reached(name, by_line, stretch)
            case TotalLimit(name, weight):
                room = weight - float(stretch.tensions.sum())
                found = _within(Reached(name, stretch.start + room), stretch)
            case BendingLimit(name, moment):
                found = _bend_reached(name, _MomentMeasure(moment), stretch, below)
            case SagLimit(name, share):
                found = _bend_reached(name, _SagMeasure(share), stretch, below)
        if found is not None:
            return found
    return Reached(limit.name, inf)


def _within(found: Reached, stretch: Stretch) -> Reached | None:
    """The finding if it lies on the stretch; at no load at all when it lies before the first one."""
    if found.load > stretch.end:
        return None
    if found.load < stretch.start:
        # Only the first stretch can start beyond a limit; later ones follow on where it was not yet met.
        return Reached(found.name, stretch.start, found.line, found.at, over_already=stretch.start == 0.0)
    return found


def _tension_reached(name: str, by_line: Sequence[float | None], stretch: Stretch) -> Reached | None:
    candidates = []
    for line, limit in enumerate(by_line):
        if limit is None:
            continue
        room, slope = limit - float(stretch.tensions[line]), float(stretch.tension_slopes[line])
        if room < 0:
            candidates.append(Reached(name, stretch.start - 1.0, line))
        elif slope > 0:
            candidates.append(Reached(name, stretch.start + room / slope, line))
    first = min(candidates, key=lambda one: one.load, default=None)
    return None if first is None else _within(first, stretch)


@unchanging
class _MomentMeasure:
    """Bending moment over its limit."""

    limit: float

    def at_most(self, bending: Bending) -> float:
        """No less than the worst, and quickly told."""
        return bending.moment_at_most / self.limit

    def worst(self, bending: Bending) -> tuple[float, tuple[int, float]]:
        extreme = bending.greatest_moment
        return abs(extreme.value) / self.limit, (0, extreme.at)

    def at(self, bending: Bending, place: tuple[int, float]) -> float:
        return bending.moment_at(place[1]) / self.limit


@unchanging
class _SagMeasure:
    """Sag of a span over its limit."""

    limit: float

    def at_most(self, bending: Bending) -> float:
        """No less than the worst, and quickly told."""
        return bending.share_of_span_at_most / self.limit

    def worst(self, bending: Bending) -> tuple[float, tuple[int, float]]:
        spans = bending.span_sags
        shares = [span.share_of_span for span in spans]
        span = int(np.argmax(shares)) if shares else 0
        return (shares[span] / self.limit, (span, spans[span].at)) if shares else (0.0, (0, 0.0))

    def at(self, bending: Bending, place: tuple[int, float]) -> float:
        (left, _), (right, _) = bending.held_at[place[0] : place[0] + 2]
        return bending.below_straight_line(*place) / (right - left) / self.limit


def _bend_reached(
    name: str, measure: _MomentMeasure | _SagMeasure, stretch: Stretch, below: float
) -> Reached | None:
    """Newton's method from above on a convex function: at each load, the worst place says how far to go back."""
    if measure.at_most(stretch.bending) >= 1:
        share, place = measure.worst(stretch.bending)
        if share >= 1:
            return Reached(name, stretch.start, at=place[1], over_already=share > 1 and stretch.start == 0.0)
    load = min(stretch.end, below)
    if load == inf:
        load = stretch.start + _FAR * stretch.step
    bending = stretch.bending_at(load)
    if measure.at_most(bending) < 1:
        return None
    share, place = measure.worst(bending)
    if share < 1:
        return None
    for _ in range(100):
        if share <= 1 + 1e-12:
            break
        at_start = measure.at(stretch.bending, place)
        rise = (measure.at(stretch.one_more, place) - at_start) / stretch.step
        load = stretch.start + (np.sign(rise) - at_start) / rise
        share, place = measure.worst(stretch.bending_at(load))
    return Reached(name, float(load), at=place[1])
