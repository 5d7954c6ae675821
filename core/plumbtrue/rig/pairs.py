"""Which pieces of a plot hang beside one another, so that somebody has to look at the gap between them.

Two pieces on different sets, trusses or points are a pair when their centres lie nearer than `FAR_APART` and
what both reach out. Where the place of one is not written, it may be beside any other. Pieces that stand on
the deck are no pair of anything: they are looked at for the fire curtain's path and by eye.
"""

from itertools import combinations
from math import inf
from typing import Final

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Vocabulary

FAR_APART: Final = 1.2192
"""Distance of centres beyond which pieces are no neighbours, besides what they reach out [m]: 4 ft, more
than any gap that anybody asks for.
"""


def pairs_of(plot: Thing, vocabulary: Vocabulary) -> tuple[Thing, ...]:
    """The pairs of a plot that is laid over a house, as things of it, from the audience upstage."""
    hung = [(depth_of(item), item) for item in plot.members("items") if isinstance(carrier_of(item), Thing)]
    reach = {item: _reach(item) for _, item in hung}
    hung.sort(key=lambda one: (_middle(one[0]), one[1].key))
    kind = vocabulary.kinds["pair"]
    pairs = []
    for (at, first), (beyond, second) in combinations(hung, 2):
        if carrier_of(first) is carrier_of(second) or not _are_near(at, beyond, reach[first] + reach[second]):
            continue
        names = [one.key.removeprefix("item ") for one in (first, second)]
        pair = Thing(kind, f"pair {' and '.join(names)}", second.place, plot, "pairs")
        pair.references = {"first": first, "second": second}
        pairs.append(pair)
    return tuple(pairs)


def carrier_of(item: Thing) -> Thing | None:
    """What a piece hangs on; nothing for one that stands, or of which nobody says."""
    on = item.references.get("on")
    return on if isinstance(on, Thing) else None


def depth_of(item: Thing) -> Bounds | None:
    """Distance of its centre from the plaster line [m], as recorded of it or of what carries it."""
    carrier = carrier_of(item)
    if carrier is not None and carrier.kind.name == "line_set":
        return _recorded(carrier, "from_plaster_line")
    own = _recorded(item, "from_plaster_line")
    return own if own is not None or carrier is None else _recorded(carrier, "from_plaster_line")


def _recorded(thing: Thing, fact: str) -> Bounds | None:
    recorded = thing.facts.get(fact)
    return recorded.value if recorded is not None and isinstance(recorded.value, Bounds) else None


def _middle(bounds: Bounds | None) -> float:
    return inf if bounds is None else (bounds.low + bounds.high) / 2


def _are_near(at: Bounds | None, beyond: Bounds | None, reach: float) -> bool:
    return at is None or beyond is None or abs(beyond - at).low <= FAR_APART + reach


def _reach(item: Thing) -> float:
    """Furthest reach up or down stage that is recorded of a piece [m]."""
    found = [
        bounds.high
        for thing in item.below()
        for fact in ("half_depth", "swept_half_depth")
        if (bounds := _recorded(thing, fact)) is not None
    ]
    return max(found, default=0.0)
