"""The question asked at the rail: how much may still be hung on this set, and what says so.

The greatest live load spread over the pipe, and the greatest single load wherever somebody puts it, by each limit that
is on record: what each line's parts and blocks allow, the head block, the pipe in bending and its sag, the arbor's
plate, the bricks that fit. Worked out twice, with everything in doubt at its unfavourable and at its favourable end.
Where a limit is not known, the answer is only "at most". What a house has posted is no limit here: it is what this is
held against.

Nor is what the rope lock holds. A set takes its load with the bricks that balance it, and what then comes to the lock,
the residue of whole bricks and the rope that passes over, is the same for a light load and a heavy one. What is out of
balance is held against the lock where it arises: now (`lock_utilisation`), at each step of a load-in, along the travel.
"""

from functools import partial
from math import inf, isinf, pi
from typing import TYPE_CHECKING

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.computed.arbor import plates
from plumbtrue.facts.computed.blocks import hand_line_tension, rope_below
from plumbtrue.facts.computed.hung_batten import HungBatten, Layout, hung_batten
from plumbtrue.facts.computed.load_path import tension_for
from plumbtrue.facts.computed.pipe import bending_stiffness, sections
from plumbtrue.facts.computed.places import over_head_block
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.computed.show_balance import house_bricks
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Declined, Gathering, Lacking
from plumbtrue.facts.published_tables import customary
from plumbtrue.facts.store import Facts
from plumbtrue.mechanics.batten import CONTINUOUS, Batten, Line, Splice
from plumbtrue.mechanics.limits import (
    BendingLimit,
    Limit,
    SagLimit,
    TensionLimit,
    TotalLimit,
    counterweight_limit,
    heaviest_stack,
)
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import FORCE, LENGTH, MOMENT
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Name
from plumbtrue.rig.thing import Thing

if TYPE_CHECKING:
    from plumbtrue.mechanics.capacity import Capacity

_SOURCE = "slender beam on lines that only pull, turned round (derived); limits as recorded"
_FORMULA = "the least load at which a limit is met"
MET_AT = " is met at"
"""How the working names the load at which a limit is met."""
_ANY_STIFFNESS = 1.0e4
"""Pulls and moments on lines that do not stretch do not hang on EI [N m2]."""


_NEVER = 1e6
"""Times a rating: what no line ever pulls."""


@unchanging
class Takes:
    """What a set takes of one kind of load [N], with what governs, and what was gathered."""

    known: Gathering
    load: Bounds
    governs: str
    """The limit that is met first; with "at most by" before it where another that nobody knows may come
    before it, both names where either may.
    """
    by_limit: tuple[tuple[str, float], ...]
    """At the unfavourable end: each limit and the load that meets it."""
    at: float | None = None


def _spread(facts: Facts, line_set: Thing) -> Takes:
    return _takes(facts, line_set, anywhere=False)


def _point(facts: Facts, line_set: Thing) -> Takes:
    return _takes(facts, line_set, anywhere=True)


def _takes(facts: Facts, line_set: Thing, *, anywhere: bool) -> Takes:
    hung = facts.kept(line_set, hung_batten)
    known = Gathering(facts)
    known.include(hung.known)
    if not hung.joints_known:
        known.lack(hung.batten, "splices")
        known.settle()
    (layout, *others) = hung.layouts()
    if others:
        known.decline("places along the batten are known only within bounds")
    found: list[tuple[Capacity, float | None]] = []
    for worst in (True, False):
        # What goes into both is told once.
        limits = tuple(_limits(known if worst else Gathering(facts), hung, worst=worst))
        spread = hung.spread.high if worst else hung.spread.low
        EI = _stiffness(hung, worst=worst)
        # Sets drawn alike take alike, and a chart of places takes long to work out.
        figures = ("takes", anywhere, layout, spread, EI, limits)
        answer, at = facts.shared(figures, partial(_greatest, layout, spread, EI, limits, anywhere=anywhere))
        if isinstance(answer, Refused):
            raise Declined(answer.reason)
        found.append((answer, at))
    (least, where), (most, _) = found
    greatest = max(least.greatest, most.greatest)
    whole = least.complete and not known.lacking
    low = least.greatest if whole else 0.0
    reached = tuple((one.name, one.load) for one in least.by_limit if not isinf(one.load))
    either = dict.fromkeys((least.governs.name, most.governs.name))
    governs = " or ".join(either) if whole else f"at most by {most.governs.name}"
    return Takes(known, Bounds(min(low, greatest), greatest), governs, reached, where)


def _stiffness(hung: HungBatten, *, worst: bool) -> float:
    """EI of the pipe [N m2]; any where it is not known, for only sag hangs on it and is then no limit."""
    if hung.stiffness is None:
        return _ANY_STIFFNESS
    return hung.stiffness.low if worst else hung.stiffness.high


def _greatest(
    layout: Layout, spread: float, EI: float, limits: tuple[Limit, ...], *, anywhere: bool
) -> tuple["Capacity | Refused", float | None]:
    """The greatest load of one kind, and the place [m] that takes least of a single one."""
    # Imported here, for numpy takes its time to load.
    from plumbtrue.mechanics.capacity import greatest_point_load_anywhere, greatest_uniform_load

    joints = tuple(Splice(at, CONTINUOUS) for at in layout.joints)
    batten = Batten(layout.length, EI, spread, splices=joints)
    lines = tuple(Line(at) for at in layout.lines)
    if not anywhere:
        return greatest_uniform_load(batten, lines, limits), None
    chart = greatest_point_load_anywhere(batten, lines, limits)
    return (chart, None) if isinstance(chart, Refused) else (chart[1], chart[0])


def _limits(known: Gathering, hung: HungBatten, *, worst: bool) -> list[Limit]:
    """Every limit that is on record, at its unfavourable or favourable end; what is missing is counted."""
    limits: list[Limit] = []
    by_line: list[float | None] = []
    for line, end in zip(hung.lines, hung.ends, strict=True):
        allowed = known.figure(line, "tension_limit", f"what {line.key} allows", within=NOUGHT_OR_MORE)
        most = allowed.low - end.high if worst else allowed.high - end.low
        # From nought upward says only what the known parts allow at most.
        unknown = isinf(most) or (allowed.low <= 0 < allowed.high and (worst or isinf(allowed.high)))
        by_line.append(None if unknown else max(most, 0.0))
    limits.append(TensionLimit("a line", tuple(by_line)))
    limits.extend(_head_block(known, hung, worst=worst))
    limits.extend(_bending(known, hung, worst=worst))
    limits.extend(_sag(known, hung))
    limits.extend(_arbor(known, hung, worst=worst))
    return limits


def _head_block(known: Gathering, hung: HungBatten, *, worst: bool) -> list[Limit]:
    """What the head block allows of all lines together, or of each, by what its rating speaks of."""
    block = known.optional(hung.line_set, "head_block")
    if not isinstance(block, Thing):
        if block is None:
            known.lack(hung.line_set, "head_block")
        return []
    rated = known.figure(block, "working_load_limit", "rated load, head block", within=NOUGHT_OR_MORE)
    means = known.word(block, "rating_means")
    if rated == NOUGHT_OR_MORE or not means:
        return []
    over = over_head_block(known.facts, hung.lines)
    above = [
        end + rope_below(known, line) if line in over else Bounds.exactly(0.0)
        for line, end in zip(hung.lines, hung.ends, strict=True)
    ]
    if means == "line-tension":
        by_line = tuple(
            max(rated.low - one.high if worst else rated.high - one.low, 0.0) if line in over else None
            for line, one in zip(hung.lines, above, strict=True)
        )
        if None in by_line:
            # A line that does not pass over it has no limit there.
            by_line = tuple(rated.high * _NEVER if one is None else one for one in by_line)
        return [TensionLimit("the head block", by_line)]
    if means == "resultant":
        wrap = known.figure(block, "wrap_angle", within=Bounds(0.0, 2 * pi))
        rated = tension_for(rated, wrap, hand_line_tension(known, hung.line_set) * Bounds.exactly(2.0))
    beside = sum(above, Bounds.exactly(0.0))
    room = rated.low - beside.high if worst else rated.high - beside.low
    return [TotalLimit("the head block", max(room, 0.0))] if room < inf else []


def _sag(known: Gathering, hung: HungBatten) -> list[Limit]:
    share, source = customary("sag-share-of-span")
    if hung.stiffness is None:
        bending_stiffness(known, hung.batten)
        return []
    known.suppose(f"a span may sag by {source}")
    return [SagLimit("the sag of a span", share.low)]


def _bending(known: Gathering, hung: HungBatten, *, worst: bool) -> list[Limit]:
    share, source = customary("bending-share-of-yield")
    least_yield = known.figure(hung.batten, "yield", "least yield", within=NOUGHT_OR_MORE)
    found = sections(known, hung.batten)
    most_yield = least_yield.low if worst else least_yield.high
    if found is None or most_yield == inf:
        return []
    thin, thick = found
    known.suppose(f"bending is allowed up to {share.low:g} of yield: {source}")
    stress = most_yield * share.low
    moment = stress * (thin if worst else thick).elastic_modulus
    if worst:
        known.step("moment that the pipe may have", Bounds.exactly(moment), MOMENT)
    # A joint with a rated moment bounds the whole pipe: nobody knows where the next piece will hang.
    for joint in hung.joints:
        rated = known.figure(joint.splice, "moment_capacity", within=NOUGHT_OR_MORE)
        end = rated.low if worst else rated.high
        if end <= 0:
            known.lack(joint.splice, "moment_capacity", "nothing is known that it carries at least")
        else:
            moment = min(moment, end)
    if moment <= 0:
        known.lack(hung.batten, "yield", "nothing is known that it is at least")
        return []
    return [BendingLimit("the pipe in bending", moment)]


def _arbor(known: Gathering, hung: HungBatten, *, worst: bool) -> list[Limit]:
    arbor = known.optional(hung.line_set, "arbor")
    if not isinstance(arbor, Thing):
        if arbor is None:
            known.lack(hung.line_set, "arbor")
        return []
    purchase = known.figure(hung.line_set, "purchase")
    own = known.figure(arbor, "weight", "empty arbor", within=NOUGHT_OR_MORE)
    plate = known.figure(arbor, "capacity", "the arbor's plate", within=NOUGHT_OR_MORE)
    counts_itself = known.word(arbor, "capacity_of") == "all"
    if own.high == inf or not purchase.is_exact:
        known.lack(arbor, "weight", "known only from below")
        return []
    ends = sum(hung.ends, Bounds.exactly(0.0))
    empty, beside = (own.low, ends.high) if worst else (own.high, ends.low)
    limits: list[Limit] = []
    if (plate.low if worst else plate.high) < inf:
        figure = plate.low if worst else plate.high
        carried = max(figure - (own.high if worst else own.low), 0.0) if counts_itself else figure
        limits.append(_counterweight("the arbor's plate", carried, empty, purchase.low, beside))
    try:
        bricks = house_bricks(known.facts, known.around(hung.line_set, "house"))
    except (Lacking, Declined):
        known.lack(known.around(hung.line_set, "house"), "bricks", "their weights or sizes are not known")
        return limits
    clear = known.figure(arbor, "clear_height", "clear height", within=NOUGHT_OR_MORE) - plates(known, arbor)
    room = max(clear.low if worst else clear.high, 0.0)
    if 0 < room < inf:
        kinds = tuple(bricks.light if worst else bricks.heavy)
        # Every arbor of a house takes the same bricks, and many have the same room.
        stack = known.facts.shared(("stack", kinds, room), partial(heaviest_stack, kinds, room))
        limits.append(_counterweight("the bricks that fit", stack, empty, purchase.low, beside))
    return limits


def _counterweight(name: str, carried: float, empty: float, purchase: float, beside: float) -> TotalLimit:
    """What the lines may carry; nothing where the lower ends alone are more than the arbor balances."""
    limit = counterweight_limit(name, carried, empty, purchase, not_on_lines=beside)
    return TotalLimit(name, max(limit.weight, 0.0))


def _answer(known: Gathering, found: Takes, what: str) -> Answer:
    known.include(found.known)
    for name, load in found.by_limit:
        known.steps.append((f"{name}{MET_AT}", known.said(Bounds.exactly(load), FORCE)))
    if found.at is not None:
        known.steps.append(("where the pipe takes least", known.said(Bounds.exactly(found.at), LENGTH)))
    known.suppose("lines are level, plumb and do not stretch; only limits on record count")
    known.suppose(
        "bricks balance the load; what the rope lock holds bounds what is out of balance, not what is balanced"
    )
    if found.governs.startswith("at most"):
        known.suppose("a limit that nobody knows may be met before these: the figure is no more than at most")
    return known.within(found.load, what, _FORMULA, FORCE, _SOURCE)


def _governing(known: Gathering, found: Takes, what: str) -> Answer:
    known.include(found.known)
    return known.within(Name(found.governs), what, _FORMULA, None, _SOURCE)


@computed("line_set", "takes_spread")
def takes_spread(known: Gathering, thing: Thing) -> Answer:
    """Greatest live load spread over the whole pipe that every limit on record allows."""
    return _answer(known, known.facts.kept(thing, _spread), "greatest-spread-load")


@computed("line_set", "takes_spread_by")
def takes_spread_by(known: Gathering, thing: Thing) -> Answer:
    """Which limit a spread load meets first; with one not known, which of the others holds it "at most"."""
    return _governing(known, known.facts.kept(thing, _spread), "greatest-spread-load")


@computed("line_set", "takes_point")
def takes_point(known: Gathering, thing: Thing) -> Answer:
    """Greatest single live load, wherever somebody puts it, that every limit on record allows."""
    return _answer(known, known.facts.kept(thing, _point), "greatest-point-load")


@computed("line_set", "takes_point_by")
def takes_point_by(known: Gathering, thing: Thing) -> Answer:
    """Which limit a single load meets first at the place that takes least; likewise."""
    return _governing(known, known.facts.kept(thing, _point), "greatest-point-load")
