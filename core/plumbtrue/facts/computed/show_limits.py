"""What single pulls and whole pieces come to against what is posted and rated: point loads, and the greatest
utilisation that a piece brings about.
"""

from math import inf
from typing import Final

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.hung_batten import hung_batten
from plumbtrue.facts.computed.item_pulls import Pull, pulls_of
from plumbtrue.facts.computed.places import from_zero
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.published_tables import customary
from plumbtrue.quantities.bounds import Bounds, greatest_of, hull_of
from plumbtrue.quantities.dimension import FORCE, RATIO
from plumbtrue.quantities.values import NONE, Absent, Choice, Unknown
from plumbtrue.rig.thing import Thing

_PLOT: Final = "what the plot says"
_POSTED: Final = {
    "at-line": "posted_point_at_line",
    "between-lines": "posted_point_between",
    "on-overhang": "posted_point_overhang",
}


def _pulls(known: Gathering, thing: Thing) -> tuple[Pull, ...]:
    item = known.around(thing, "item")
    found = known.facts.kept(item, pulls_of)
    known.include(found.known)
    known.lacking.clear()
    return tuple(one for one in found.pulls if one.thing is thing)


def _pull(known: Gathering, thing: Thing) -> Answer:
    mine = _pulls(known, thing)
    if not mine or all(one.weight.high == inf for one in mine):
        known.lack(thing, "weight")
        known.settle()
    weights = [one.weight for one in mine]
    worst = greatest_of(weights)
    return known.within(
        worst, "item-weight", "stated pull x allowance of the piece", FORCE, "common practice"
    )


@computed("load", "pull")
def load_pull(known: Gathering, thing: Thing) -> Answer:
    """The pull at each place, or in all when spread, with the allowance of its piece."""
    return _pull(known, thing)


@computed("unit", "pull")
def unit_pull(known: Gathering, thing: Thing) -> Answer:
    """Weight of each lamp with the allowance of its piece."""
    return _pull(known, thing)


def _words(known: Gathering, thing: Thing, pull: Pull) -> frozenset[str]:
    """How a pull lets its weight into the pipe; several words where that cannot be told."""
    item = known.around(thing, "item")
    line_set = known.facts.part(item, "set")
    if isinstance(line_set, Unknown):
        known.lack(item, "on")
        known.settle()
    if not isinstance(line_set, Thing):
        known.decline("it hangs on no set")
    hung = known.facts.kept(line_set, hung_batten)
    short, _ = customary("point-spread", "length")
    near, _ = customary("near-a-line", "length")
    if pull.is_spread:
        assert pull.start is not None
        assert pull.end is not None
        ends = [from_zero(known, hung.batten, spot) for spot in (pull.start, pull.end)]
        if abs(ends[1] - ends[0]).low >= short.high * (1 - 1e-9):
            return frozenset({"spread"})
        at = ends[0].hull(ends[1])
    elif pull.at is not None:
        at = from_zero(known, hung.batten, pull.at)
    else:
        known.loose.append(Missing(thing, "at"))
        return frozenset(_POSTED)
    first, last = hung.places[0], hung.places[-1]
    reach = near.high * (1 + 1e-9)
    words = set()
    apart = [abs(at - place) for place in hung.places]
    if min(one.low for one in apart) <= reach:
        words.add("at-line")
    if min(one.high for one in apart) > reach:
        if at.low < first.high or at.high > last.low:
            words.add("on-overhang")
        if at.high > first.low and at.low < last.high:
            words.add("between-lines")
    return frozenset(words)


def _hangs(known: Gathering, thing: Thing) -> Answer:
    mine = _pulls(known, thing)
    words = frozenset(word for pull in mine for word in _words(known, thing, pull))
    if not mine:
        known.lack(thing, "at")
    known.settle()
    # Of several places the one with the least posted load is told: see `posted_point`.
    told = [_limit(known, thing, word) for word in sorted(words) if word in _POSTED]
    known_limits = [(limit.high, word) for word, limit in told if isinstance(limit, Bounds)]
    if len(words) > 1 and len(known_limits) == len(words) and all(pull.is_placed for pull in mine):
        words = frozenset({min(known_limits)[1]})
    return known.within(
        Choice(words), "point-load", "its places against those of the lines", None, "places in the plot"
    )


@computed("load", "hangs")
def load_hangs(known: Gathering, thing: Thing) -> Answer:
    """How it lets its weight into the pipe; of several places the one for which least is posted."""
    return _hangs(known, thing)


@computed("unit", "hangs")
def unit_hangs(known: Gathering, thing: Thing) -> Answer:
    """How it lets its weight into the pipe; of several places the one for which least is posted."""
    return _hangs(known, thing)


def _limit(known: Gathering, thing: Thing, word: str) -> tuple[str, Bounds | Absent | None]:
    item = known.around(thing, "item")
    line_set = known.facts.part(item, "set")
    if not isinstance(line_set, Thing):
        return word, None
    return word, known.perhaps(line_set, _POSTED[word], f"posted point, {word}")


def _points(known: Gathering, thing: Thing) -> list[tuple[Bounds, Bounds]] | None:
    """Each place's pull and what is posted for it [N]; nothing for one that is spread."""
    rows = []
    for pull in _pulls(known, thing):
        words = _words(known, thing, pull)
        if words == {"spread"}:
            continue
        limits = []
        for word in sorted(words):
            _, limit = _limit(known, thing, word)
            if isinstance(limit, Bounds):
                limits.append(limit)
            elif limit is NONE:
                limits.append(Bounds.exactly(0.0))
                known.suppose(
                    f"nothing is posted for a point {word.replace('-', ' ')}, so none is permitted there"
                )
            else:
                item = known.around(thing, "item")
                line_set = known.facts.part(item, "set")
                assert isinstance(line_set, Thing)
                known.lack(line_set, _POSTED[word])
        if limits:
            rows.append((pull.weight, hull_of(limits)))
    known.settle()
    return rows or None


def _posted_point(known: Gathering, thing: Thing) -> Answer:
    rows = _points(known, thing)
    if rows is None:
        return known.within(NONE, "point-load", "it is spread", None)
    least = Bounds(min(limit.low for _, limit in rows), min(limit.high for _, limit in rows))
    return known.within(
        least, "point-load", "least that is posted for its places", FORCE, "what the house has posted"
    )


@computed("load", "posted_point")
def load_posted_point(known: Gathering, thing: Thing) -> Answer:
    """Point load that the house has posted for where it hangs, at its worst place; none where it is
    spread.
    """
    return _posted_point(known, thing)


@computed("unit", "posted_point")
def unit_posted_point(known: Gathering, thing: Thing) -> Answer:
    """Point load that the house has posted for where it hangs, at its worst place."""
    return _posted_point(known, thing)


_OVER_NOTHING: Final = 1e9
"""What a pull is at least over nothing at all: beyond every limit, and a figure still."""


def _over(pull: Bounds, limit: Bounds) -> Bounds:
    """A pull over what is posted; without end where nothing is."""
    least = pull.low / limit.high if limit.high > 0 else _OVER_NOTHING if pull.low > 0 else 0.0
    return Bounds(least, pull.high / limit.low if limit.low > 0 else inf)


def _point_utilisation(known: Gathering, thing: Thing) -> Answer:
    rows = _points(known, thing)
    if rows is None:
        return known.within(NONE, "point-load", "it is spread", None)
    worst = greatest_of([_over(pull, limit) for pull, limit in rows])
    return known.within(worst, "point-load", "pull / posted point", RATIO, "what the house has posted")


@computed("load", "point_utilisation")
def load_point_utilisation(known: Gathering, thing: Thing) -> Answer:
    """Pull over the posted point load, at its worst place; none where it is spread."""
    return _point_utilisation(known, thing)


@computed("unit", "point_utilisation")
def unit_point_utilisation(known: Gathering, thing: Thing) -> Answer:
    """Weight over the posted point load, at its worst place."""
    return _point_utilisation(known, thing)


@computed("item", "utilisation_caused")
def utilisation_caused(known: Gathering, thing: Thing) -> Answer:
    """Greatest utilisation of a strength, rating, posted load, arbor or stack on its set; none for a piece on
    no set. One that cannot be told leaves it open upward.
    """
    line_set = known.facts.part(thing, "set")
    if line_set is NONE:
        return known.within(NONE, "utilisation", "it hangs on no set", None)
    if not isinstance(line_set, Thing):
        known.lack(thing, "on")
        known.settle()
    assert isinstance(line_set, Thing)
    owners: list[tuple[Thing, str]] = [(line_set, "posted_utilisation")]
    lines = known.facts.part(line_set, "lift_lines")
    owners += [(line, "utilisation_hung") for line in (lines if isinstance(lines, tuple) else ())]
    batten, arbor = known.facts.part(line_set, "batten"), known.facts.part(line_set, "arbor")
    if isinstance(batten, Thing):
        owners.append((batten, "bending_utilisation_hung"))
    if isinstance(arbor, Thing):
        owners += [(arbor, "capacity_utilisation"), (arbor, "stack_utilisation")]
    low, high, worst = 0.0, 0.0, ""
    for owner, name in owners:
        found = known.facts.answer(owner, name)
        if isinstance(found.value, Bounds):
            if found.value.high > high:
                worst = f"{name.replace('_', ' ')} of {owner.path}"
            low, high = max(low, found.value.low), max(high, found.value.high)
            known.loose.extend(found.missing)
        elif found.value is not NONE:
            known.loose.extend(found.missing or (Missing(owner, name),))
            high = inf
    known.steps.append(("greatest", worst or "cannot be told"))
    return known.within(
        Bounds(low, high), "utilisation", "greatest over lines, pipe, posting, arbor and stack", RATIO, _PLOT
    )


@computed("item", "curtain_envelope")
def curtain_envelope(known: Gathering, thing: Thing) -> Answer:
    """Greatest pull of any line of its set while it draws; none for a piece without panels."""
    panels = known.facts.part(thing, "panels")
    if not isinstance(panels, tuple) or not panels:
        if isinstance(panels, Unknown) and "curtain" in _categories(known, thing):
            known.lack(thing, "panels")
            known.settle()
        return known.within(NONE, "traveller-envelope", "it has no panels that draw", None)
    line_set = known.facts.part(thing, "set")
    if not isinstance(line_set, Thing):
        known.decline("it hangs on no set")
    lines = known.things(line_set, "lift_lines")
    found = [known.figure(line, "reaction_hung", within=NOUGHT_OR_MORE) for line in lines]
    known.settle()
    most = greatest_of(found)
    return known.within(
        most, "traveller-envelope", "greatest over every carrier place", FORCE, "statics (derived)"
    )


def _categories(known: Gathering, item: Thing) -> frozenset[str]:
    value = known.facts.value(item, "category")
    return value.possible if isinstance(value, Choice) else frozenset({"curtain"})


@computed("item", "support_shares")
def support_shares(known: Gathering, thing: Thing) -> Answer:
    """Greatest share of one pick when another is lost, the piece being rigid between its picks; none for a
    piece on one pick, which nothing then holds, and for one that hangs by spread ties.
    """
    from plumbtrue.mechanics.batten import MOST_LINES, Batten, Line, PointLoad
    from plumbtrue.mechanics.lost_support import lost_support
    from plumbtrue.mechanics.refusal import Refused

    found = known.facts.kept(thing, pulls_of)
    known.include(found.known)
    picks = [one for one in found.pulls if one.at is not None and one.thing.kind.name == "load"]
    if len(picks) < 3 or any(not one.is_placed for one in found.pulls):
        return known.within(NONE, "lost-support", "fewer than three picks, or spread ties", None)
    known.settle()
    if len(picks) > MOST_LINES:
        known.decline(f"more than {MOST_LINES} picks")
    places = [one.at.distance for one in picks if one.at is not None]
    if (
        any(not place.is_exact for place in places)
        or len({one.from_centre for one in (p.at for p in picks) if one}) > 1
    ):
        known.decline("the places of its picks are known only within bounds")
    first, last = min(p.low for p in places), max(p.low for p in places)
    if last - first < 0.01:
        known.decline("all its picks are at one place")
    greatest = []
    for weight in (found.total.low, found.total.high):
        piece = Batten(last - first, 1.0e6, weight / (last - first))
        lost = lost_support(
            piece, [Line(p.low - first) for p in sorted(places, key=lambda b: b.low)], [PointLoad(0.0, 0.0)]
        )
        if isinstance(lost, Refused):
            known.decline(lost.reason)
        shares = [float(one.max()) for one in lost.without if not isinstance(one, Refused)]
        if not shares:
            known.decline("nothing holds it when a pick is lost")
        greatest.append(max(shares))
    known.suppose("its weight is taken as even along it")
    return known.within(
        Bounds(min(greatest), max(greatest)),
        "lost-support",
        "each pick left out in turn",
        FORCE,
        "statics and beam theory (derived)",
    )
