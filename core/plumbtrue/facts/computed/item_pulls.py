"""What a piece of a show pulls with, and where: its loads, lamps, cables, track and panels as single pulls, each
with the allowance for how its weight is known.

One weight is known one way, and everything that is stated of the piece shares its allowance. A plot that
gives bounds itself is taken at its word. Where the pulls add up to more than the piece is said to weigh, the
larger figure counts until somebody mends the plot. What hangs nobody knows where may hang anywhere.
"""

from collections.abc import Iterator
from dataclasses import replace
from math import inf
from typing import Final, Literal

from plumbtrue.facts.answer import Missing
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering, clipped
from plumbtrue.facts.published_tables import table
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import FORCE, RATIO
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Choice, Each, Spot, Unknown
from plumbtrue.rig.thing import Thing

State = Literal["always", "open", "closed", "in", "out"]
"""When a pull is there: always, with the curtain open or closed, with the piece in or out."""

WEIGHT_PARTS: Final = ("loads", "units", "cables", "track", "panels")
"""Lists of a piece in which its pulls are written."""

NOTHING: Final = Bounds.exactly(0.0)


@unchanging
class Pull:
    """One pull on what carries the piece [N]: at a place, or spread from one to another; neither is written
    of one that may hang anywhere.
    """

    label: str
    thing: Thing
    """The load, lamps, cable, track, panel or piece that says so."""
    weight: Bounds
    state: State = "always"
    at: Spot | None = None
    start: Spot | None = None
    end: Spot | None = None
    touches: Spot | None = None
    """One end of a stretch of which nobody says where the other is."""

    @property
    def is_spread(self) -> bool:
        return self.start is not None and self.end is not None

    @property
    def is_placed(self) -> bool:
        return self.at is not None or self.is_spread


@unchanging
class ItemPulls:
    """The pulls of a piece as stated, and with its allowance; weights [N]."""

    known: Gathering
    stated: tuple[Pull, ...]
    pulls: tuple[Pull, ...]
    """The same with the allowance, and scaled to what the piece weighs where that is more."""
    stated_weight: Bounds
    total: Bounds
    allowance: Bounds | None
    """Share by which its weight may be off; nothing where the plot gives bounds itself."""
    whole: bool
    """Whether everything that pulls is written down with a weight."""
    panels: tuple[Thing, ...] = ()


def pulls_of(facts: Facts, item: Thing) -> ItemPulls:
    """Gather the pulls of a piece. Never refuses: what is not known is as wide as it may be, and counted."""
    known = Gathering(facts)
    own = known.perhaps(item, "weight", "all-up weight as stated")
    written = clipped(own, NOUGHT_OR_MORE) if isinstance(own, Bounds) else None
    stated = tuple(_stated(known, item, written))
    if written is None and not stated:
        written = _from_make_up(known, item)
    total = _sum_over_states(stated)
    if not stated and written is None:
        known.lack(item, "weight")
    if stated and written is None:
        _all_lists_told(known, item)
    whole = not known.lacking
    stated_weight = written or (total if stated else NOUGHT_OR_MORE)
    allowance = _allowance(known, item, written, stated)
    target = _with(allowance, stated_weight)
    if not stated:
        if not _hangs_from_a_point(item):
            known.loose.append(Missing(item, "loads", "where it pulls on the pipe is not recorded"))
        pulls: tuple[Pull, ...] = (Pull(item.key, item, target),)
    elif written is None or not all(one.weight.high < inf for one in stated):
        pulls = tuple(replace(one, weight=_with(allowance, one.weight)) for one in stated)
        target = _sum_over_states(pulls) if written is None else _greater(target, _least(pulls))
        if written is None and not whole:
            target = Bounds(target.low, inf)
        if written is not None:
            pulls = tuple(_within_rest(one, target) for one in pulls)
    else:
        if is_asked(item):
            known.suppose("its pulls share what it is asked to weigh as they are stated")
        elif total.low > written.high * (1 + 1e-9):
            known.suppose("its pulls add up to more than its stated weight: the larger counts")
            target = _with(allowance, total)
        elif not _is_about(total, written):
            known.suppose("what it weighs beyond its pulls is shared among them as they are stated")
        pulls = tuple(replace(one, weight=_share(one.weight, total, target)) for one in stated)
    return ItemPulls(
        known=known,
        stated=stated,
        pulls=pulls,
        stated_weight=stated_weight,
        total=clipped(target, NOUGHT_OR_MORE),
        allowance=allowance,
        whole=whole,
        panels=tuple(_list(facts, item, "panels")),
    )


_LISTS_OF: Final = {"electric": ("units", "cables"), "curtain": ("track", "panels")}
"""Lists without which the weight of such a piece is not whole, where it is not stated as a whole."""


def _all_lists_told(known: Gathering, item: Thing) -> None:
    """Count the lists of which nobody says that there is nothing in them."""
    category = known.facts.value(item, "category")
    possible = category.possible if isinstance(category, Choice) else frozenset(_LISTS_OF)
    for word in sorted(possible & _LISTS_OF.keys()):
        for name in _LISTS_OF[word]:
            if isinstance(known.facts.part(item, name), Unknown):
                known.lack(item, name)


def is_asked(item: Thing) -> bool:
    """Whether its weight is asked for a trial, and so holds over what its pulls add up to."""
    recorded = item.facts.get("weight")
    return recorded is not None and recorded.origin == "asked"


def _with(allowance: Bounds | None, weight: Bounds) -> Bounds:
    return weight if allowance is None else weight * allowance


def _greater(one: Bounds, other: Bounds) -> Bounds:
    return Bounds(max(one.low, other.low), max(one.high, other.high))


def _least(pulls: tuple[Pull, ...]) -> Bounds:
    """What at least hangs, as a figure."""
    return Bounds.exactly(_sum_over_states(pulls).low)


def _is_about(one: Bounds, other: Bounds) -> bool:
    return abs(one.low - other.low) <= 1e-6 * max(1.0, other.low) and one.high <= other.high * (1 + 1e-6)


def _within_rest(pull: Pull, total: Bounds) -> Pull:
    """A pull whose weight nobody knows weighs no more than the whole piece."""
    return replace(pull, weight=Bounds(pull.weight.low, min(pull.weight.high, total.high)))


def _share(pull: Bounds, total: Bounds, target: Bounds) -> Bounds:
    """A pull's share of what the whole piece weighs. All pulls of a piece stand in one ratio to each other."""
    if total.low <= 0 or total.high == inf:
        return Bounds(pull.low, max(pull.high, target.high))
    if total.is_exact:
        return pull * target / total
    return Bounds(pull.low * min(target.low / total.low, 1.0), pull.high * max(target.high / total.high, 1.0))


def _sum_over_states(pulls: tuple[Pull, ...]) -> Bounds:
    """What hangs in all, in the heaviest state [N]."""
    always = sum((one.weight for one in pulls if one.state == "always"), NOTHING)
    others = [
        sum((one.weight for one in pulls if one.state == state), NOTHING)
        for state in ("open", "closed", "in", "out")
        if any(one.state == state for one in pulls)
    ]
    return always + max(others, key=lambda one: (one.high, one.low), default=NOTHING)


def _allowance(
    known: Gathering, item: Thing, written: Bounds | None, stated: tuple[Pull, ...]
) -> Bounds | None:
    """Factor on a weight that is stated without bounds; nothing where the plot gives bounds itself."""
    figures = [(item, written)] if written is not None else [(one.thing, one.weight) for one in stated]
    if not any(one.is_exact and not _is_bounded(thing) for thing, one in figures):
        return None
    basis = known.facts.answer(item, "weight_basis")
    altered = known.facts.value(item, "altered_since_weighed")
    words = basis.value.possible if isinstance(basis.value, Choice) else frozenset({"estimated"})
    if not isinstance(basis.value, Choice):
        known.loose.append(Missing(item, "weight_basis"))
        known.suppose("a weight of which nobody says how it is known is taken as estimated")
    if isinstance(altered, Choice) and "yes" in altered.possible and words & {"weighed", "house-stock"}:
        words = words | {"estimated"}
        known.suppose("a piece that was changed since it was weighed is taken as estimated")
    rows = [row for word in sorted(words) if (row := table("show-weight-allowances").row(known_by=word))]
    shares = [share for row in rows if (share := row.figure("share")) is not None]
    widest = max((one.high for one in shares), default=0.25)
    authority = rows[0].authority if rows else "common practice"
    known.given("allowance for how its weight is known", Bounds.exactly(widest), RATIO, authority)
    known.suppose(
        f"a weight that is {' or '.join(sorted(words))} may be off by {widest:.0%}: common practice"
    )
    known.loose.append(Missing(item, "weight", "known only within its allowance"))
    return Bounds(1 - widest, 1 + widest)


def _is_bounded(thing: Thing) -> bool:
    """Whether a weight was written with what it may be off, be that nothing: `586 lb +/- 0 lb`."""
    recorded = thing.facts.get("weight")
    return recorded is not None and ("+/-" in recorded.text or ".." in recorded.text)


def _from_make_up(known: Gathering, item: Thing) -> Bounds | None:
    answer = known.facts.answer(item, "weight_from_make_up")
    found = answer.value
    if not isinstance(found, Bounds):
        if _list(known.facts, item, "make_up") or _list(known.facts, item, "cloth"):
            known.loose.extend(answer.missing)
        return None
    known.value(item, "weight_from_make_up")
    known.suppose("no weight is stated: what it is made of is added up")
    return found


def _list(facts: Facts, item: Thing, name: str) -> tuple[Thing, ...]:
    held = facts.part(item, name)
    return held if isinstance(held, tuple) else (held,) if isinstance(held, Thing) else ()


def _hangs_from_a_point(item: Thing) -> bool:
    """Whether all of it pulls at one place, wherever on it that is."""
    on = item.references.get("on")
    return isinstance(on, Thing) and on.kind.name in ("point", "bridle", "hoist")


def only_load(known: Gathering, item: Thing) -> Thing | None:
    """The one load of a piece of which no other pull is written, where nobody gives it a weight of its own: it pulls
    with what the piece weighs.
    """
    if any(_list(known.facts, item, name) for name in WEIGHT_PARTS if name != "loads"):
        return None
    if any(known.facts.is_unlisted(item, name) for name in WEIGHT_PARTS):
        return None
    loads = _list(known.facts, item, "loads")
    if len(loads) != 1 or loads[0].facts.keys() & {"weight", "per_length", "when"}:
        return None
    return loads[0]


def _stated(known: Gathering, item: Thing, written: Bounds | None) -> Iterator[Pull]:
    """Every pull as it is written; one whose weight is not written is anything from nought, and counted."""
    only = only_load(known, item) if written is not None else None
    for name in WEIGHT_PARTS:
        if known.facts.is_unlisted(item, name):
            known.lack(item, name, "not all of them identified")
            yield Pull(f"something among the {name}", item, NOUGHT_OR_MORE)
    for load in _list(known.facts, item, "loads"):
        yield from _load(known, item, load, written if load is only else None)
    for unit in _list(known.facts, item, "units"):
        yield from _unit(known, unit)
    for cable in _list(known.facts, item, "cables"):
        yield _cable(known, cable)
    for track in _list(known.facts, item, "track"):
        start, end = _reach_of(known, item)
        weight = known.figure(track, "weight", "track", within=NOUGHT_OR_MORE)
        yield Pull("track", track, weight, start=start, end=end)
    for panel in _list(known.facts, item, "panels"):
        yield from _panel(known, panel)


def places_of(facts: Facts, thing: Thing, name: str) -> tuple[Spot, ...]:
    """The places that a fact says; none where nobody wrote any."""
    value = facts.value(thing, name)
    held = value.values if isinstance(value, Each) else (value,)
    return tuple(one for one in held if isinstance(one, Spot))


def _when(known: Gathering, load: Thing) -> State:
    when = known.facts.value(load, "when")
    word = when.word if isinstance(when, Choice) else None
    return word if word in ("open", "closed", "in", "out") else "always"  # type: ignore[return-value]  # one of the words


def _of_each(label: str, places: int) -> str:
    """What a weight is called that hangs at each of several places, so that its sum can be followed."""
    return f"{label}, at each of {places} places" if places > 1 else label


def _load(known: Gathering, item: Thing, load: Thing, whole: Bounds | None = None) -> Iterator[Pull]:
    """The pulls of one load; of the only one of a piece, the weight of the whole piece shared over its places."""
    state = _when(known, load)
    places = places_of(known.facts, load, "at")
    ends = [*places_of(known.facts, load, "from"), *places_of(known.facts, load, "to")]
    if whole is None:
        weight = known.perhaps(load, "weight", _of_each(f"pull of {load.key}", len(places)))
    else:
        known.suppose(
            "the only load of a piece pulls with what the piece weighs, the same at each of its places"
        )
        weight = whole / Bounds.exactly(float(max(len(places), 1)))
    if len(ends) == 2 and not places:
        if not isinstance(weight, Bounds):
            per_length = known.perhaps(load, "per_length", f"pull per length of {load.key}")
            if isinstance(per_length, Bounds) and ends[0].from_centre == ends[1].from_centre:
                weight = per_length * abs(ends[1].distance - ends[0].distance)
        if not isinstance(weight, Bounds):
            known.lack(load, "weight")
            weight = NOUGHT_OR_MORE
        spread = clipped(weight, NOUGHT_OR_MORE)
        yield Pull(f"{load.key}, spread", load, spread, state, start=ends[0], end=ends[1])
        return
    if not isinstance(weight, Bounds):
        known.lack(load, "weight")
        weight = NOUGHT_OR_MORE
    weight = clipped(weight, NOUGHT_OR_MORE)
    if not places:
        known.loose.append(Missing(load, "at", "where it pulls on the pipe is not recorded"))
        if not (whole or ends or _hangs_from_a_point(item)):
            # A load weighs so much at each of its places, and nobody says how many there are.
            known.lack(load, "at")
            weight = Bounds(weight.low, inf)
        yield Pull(f"{load.key}, anywhere", load, weight, state, touches=ends[0] if ends else None)
    for place in places:
        yield Pull(load.key, load, weight, state, at=place)


def _unit(known: Gathering, unit: Thing) -> Iterator[Pull]:
    places = places_of(known.facts, unit, "at")
    label = _of_each(f"one of {unit.key}", len(places))
    weight = known.figure(unit, "weight", label, within=NOUGHT_OR_MORE)
    count = known.facts.value(unit, "count")
    for place in places:
        yield Pull(unit.key, unit, weight, at=place)
    if not places:
        known.loose.append(Missing(unit, "at", "where they hang on the pipe is not recorded"))
        if not isinstance(count, Bounds):
            known.lack(unit, "count")
        number = count if isinstance(count, Bounds) else Bounds(1.0, inf)
        yield Pull(f"{unit.key}, anywhere", unit, weight * number)


def _cable(known: Gathering, cable: Thing) -> Pull:
    weight = known.figure(cable, "weight_counted", f"{cable.key} along the pipe", within=NOUGHT_OR_MORE)
    start, end = places_of(known.facts, cable, "from"), places_of(known.facts, cable, "to")
    if not (start and end):
        # A coil of it may hang at one place: nobody says where it runs.
        known.loose.append(Missing(cable, "from" if not start else "to"))
        return Pull(f"{cable.key}, anywhere", cable, weight, touches=next(iter((*start, *end)), None))
    return Pull(cable.key, cable, weight, start=start[0], end=end[0])


def _reach_of(known: Gathering, item: Thing) -> tuple[Spot | None, Spot | None]:
    """From end to end of a curtain: its panels when closed; of one without panels its extent."""
    panels = _list(known.facts, item, "panels")
    owners, names = (
        (panels, ("closed_from", "closed_to"))
        if panels
        else (
            _list(known.facts, item, "extent"),
            ("from", "to"),
        )
    )
    found = [places_of(known.facts, owner, name) for owner in owners for name in names]
    spots = [spot for places in found for spot in places]
    if not all(found) or len({spot.from_centre for spot in spots}) != 1:
        known.loose.append(
            Missing(item, "panels" if panels else "extent", "where it reaches is not recorded")
        )
        return None, None
    ordered = sorted(spots, key=lambda spot: spot.distance.low)
    return ordered[0], ordered[-1]


def _panel(known: Gathering, panel: Thing) -> Iterator[Pull]:
    weight = known.figure(panel, "weight", panel.key, within=NOUGHT_OR_MORE)
    on_stage = places_of(known.facts, panel, "closed_from")
    off_stage = places_of(known.facts, panel, "closed_to")
    stack = stack_of(known, panel)
    closed = Pull(f"{panel.key}, closed", panel, weight, "closed")
    if on_stage and off_stage:
        closed = replace(closed, start=on_stage[0], end=off_stage[0])
    else:
        known.loose.append(Missing(panel, "closed_from" if not on_stage else "closed_to"))
    yield closed
    opened = Pull(f"{panel.key}, open", panel, weight, "open")
    yield opened if stack is None else replace(opened, start=stack[0], end=stack[1])


_STACK_SHARE: Final = Bounds(1 / 12, 1 / 5)
"""Stack over finished width where nobody measured it: about 1/8 (common practice; it is said so)."""


def stack_of(known: Gathering, panel: Thing) -> tuple[Spot, Spot] | None:
    """Where a panel's stack lies when open: from its off-stage end towards where it closes; nothing where
    that is not known.
    """
    on_stage = places_of(known.facts, panel, "closed_from")
    off_stage = places_of(known.facts, panel, "closed_to")
    at = places_of(known.facts, panel, "stack_at") or off_stage
    if not at or not on_stage:
        known.loose.append(Missing(panel, "stack_at"))
        return None
    length = known.perhaps(panel, "stack_length", "length of the stack")
    if not isinstance(length, Bounds):
        if not off_stage:
            known.loose.append(Missing(panel, "stack_length"))
            return None
        length = abs(on_stage[0].distance - off_stage[0].distance) * _STACK_SHARE
        known.loose.append(Missing(panel, "stack_length"))
        known.suppose("a stack that nobody measured is taken as 1/12 to 1/5 of the panel's finished width")
    outer = at[0]
    inward = 1.0 if on_stage[0].distance.low > outer.distance.low else -1.0
    return outer, Spot(outer.from_centre, outer.distance + length * Bounds.exactly(inward))


def step_of(known: Gathering, found: ItemPulls) -> None:
    """Note the pulls of a piece among the steps of a working."""
    for one in found.pulls:
        known.step(one.label, one.weight, FORCE)
