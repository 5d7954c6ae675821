"""What may hang on a batten: the loads that a house has posted, each judged by itself.

A house posts a load spread over the batten (in all, or per length: the lesser of both holds where both
stand), and points at a line, between lines, on an overhang. A kind of point that is recorded as `none` is not
permitted. One that nobody recorded might be anything up to the whole load, and says so.
"""

from typing import Literal

from plumbtrue.facts.answer import Missing
from plumbtrue.facts.computed.hung_batten import HungBatten
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering, clipped
from plumbtrue.quantities.bounds import Bounds, least_of
from plumbtrue.quantities.dimension import FORCE
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Choice
from plumbtrue.rig.thing import Thing

Where = Literal["spread", "at a line", "between lines", "on an overhang", "anywhere"]

_POINTS: tuple[tuple[str, Where], ...] = (
    ("posted_point_at_line", "at a line"),
    ("posted_point_between", "between lines"),
    ("posted_point_overhang", "on an overhang"),
)


@unchanging
class LoadCase:
    """One load by itself: where it may hang and what it weighs [N]. `sure` when it is known that it may."""

    label: str
    where: Where
    weight: Bounds
    sure: bool = True


def posted_spread(known: Gathering, line_set: Thing, length: Bounds) -> Bounds:
    """Greatest live load that the house has posted for the whole set [N]; counted as missing where none is.

    The lesser of the posted total and the posted load per length over the whole batten.
    """
    total = known.perhaps(line_set, "posted_total")
    per_length = known.perhaps(line_set, "posted_per_length")
    limits = [total] if isinstance(total, Bounds) else []
    if isinstance(per_length, Bounds):
        limits.append(per_length * length)
    if not limits:
        why = "nothing is posted" if total is not None and per_length is not None else None
        known.lack(line_set, "posted_total", why)
        return NOUGHT_OR_MORE
    least = least_of(limits)
    return clipped(least, NOUGHT_OR_MORE)


def live_part(known: Gathering, line_set: Thing, posted: Bounds, fixed: Bounds) -> Bounds:
    """The live part of a posted load [N]: all of it, unless the posting counts the fixed load too."""
    counts = known.facts.answer(line_set, "posted_counts").value
    words = counts.possible if isinstance(counts, Choice) else frozenset({"live"})
    if "all" not in words:
        known.suppose("the posted load is live load")
        return posted
    net = clipped(posted - fixed, NOUGHT_OR_MORE)
    live = Bounds(max(net.low, 0.0), max(net.high, 0.0))
    return live.hull(posted) if "live" in words else live


def posted_cases(known: Gathering, hung: HungBatten) -> tuple[LoadCase, ...]:
    """Every posted load of a set, each by itself."""
    line_set = hung.line_set
    posted = posted_spread(known, line_set, hung.length)
    known.settle()
    spread = known.step("live load posted", live_part(known, line_set, posted, hung.fixed_load), FORCE)
    cases = [LoadCase("posted load spread over the batten", "spread", spread)]
    for name, where in _POINTS:
        point = known.perhaps(line_set, name)
        if isinstance(point, Bounds):
            cases.append(LoadCase(f"posted point {where}", where, clipped(point, NOUGHT_OR_MORE)))
        elif point is None:
            known.loose.append(Missing(line_set, name))
            known.suppose(f"a point {where} that nobody recorded may be anything up to the whole posted load")
            cases.append(
                LoadCase(f"point {where}, not recorded", where, Bounds(0.0, spread.high), sure=False)
            )
    return tuple(cases)
