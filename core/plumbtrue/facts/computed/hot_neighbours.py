"""How near a piece of a show hangs to lighting that may be hot."""

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.hanging_from import lack_places
from plumbtrue.facts.computed.pair_gaps import pieces
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import Gathering
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import LENGTH
from plumbtrue.quantities.values import NONE, Choice
from plumbtrue.rig.thing import Thing


@computed("item", "hot_gap")
def hot_gap(known: Gathering, thing: Thing) -> Answer:
    """Least gap to a neighbour that is lighting and not cold; none where there is none. What may be hot
    lighting lets the gap be as small as its own.
    """
    plot = known.around(thing, "plot")
    if not isinstance(plot.parts.get("pairs"), tuple):
        known.lack(plot, "pairs", "the plot is laid over no house")
        known.settle()
    sure: list[Bounds] = []
    perhaps: list[Bounds] = []
    for pair in plot.members("pairs"):
        if thing not in (pieces(pair) or ()):
            continue
        electric, cold = _words(known, pair, "electric"), _words(known, pair, "cold")
        if "yes" not in electric or "no" not in cold:
            continue
        gap = known.perhaps(pair, "gap", pair.key)
        if gap is None:
            known.lack(pair, "gap")
        elif isinstance(gap, Bounds):
            is_hot = electric == {"yes"} and cold == {"no"}
            (sure if is_hot else perhaps).append(gap)
            if not is_hot:
                known.loose.append(Missing(pair, "cold"))
    lack_places(known, plot)
    known.settle()
    if not sure and not perhaps:
        return known.within(NONE, "clearance", "no hot lighting hangs beside it", None)
    if not sure:
        known.decline("how hot the lighting beside it gets is not known")
    least = Bounds(min(one.low for one in sure + perhaps), min(one.high for one in sure))
    return known.within(least, "clearance", "least gap to hot lighting", LENGTH, "plane geometry (derived)")


def _words(known: Gathering, pair: Thing, name: str) -> frozenset[str]:
    value = known.facts.value(pair, name)
    return value.possible if isinstance(value, Choice) else frozenset({"yes", "no"})
