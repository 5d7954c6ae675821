"""What hangs from a bridle or a point by itself: hoists, supports of trusses, pieces of the show."""

from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import Unknown
from plumbtrue.rig.thing import Thing


def plot_of(facts: Facts, thing: Thing) -> Thing | None:
    """The plot that a thing stands in, or, for one of the house, the plot laid over it."""
    return thing.enclosing("plot") or facts.rig.plot


def of_plot(facts: Facts, thing: Thing, name: str) -> tuple[Thing, ...]:
    """Things of a list of its plot."""
    plot = plot_of(facts, thing)
    return plot.members(name) if plot is not None else ()


def pieces_on(facts: Facts, carrier: Thing) -> tuple[Thing, ...]:
    return tuple(item for item in of_plot(facts, carrier, "items") if item.references.get("on") is carrier)


def supported_by(facts: Facts, hoist: Thing) -> tuple[Thing, ...]:
    return tuple(
        support
        for truss in of_plot(facts, hoist, "trusses")
        for support in truss.members("supports")
        if support.references.get("hoist") is hoist
    )


def count_the_unplaced(known: Gathering, carrier: Thing) -> None:
    """Count pieces of which nobody says where they hang, supports of which nobody says what holds them, and lists
    of the plot that nobody finished: each may hang here.
    """
    plot = plot_of(known.facts, carrier)
    if plot is not None:
        # A plot without a truss, a hoist or a bridle need not say so. One of which nobody wrote what it hangs may
        # hang anything anywhere.
        if isinstance(known.facts.part(plot, "items"), Unknown):
            known.lack(plot, "items")
        for name in ("items", "trusses", "hoists", "bridles"):
            if known.facts.is_unlisted(plot, name):
                known.lack(plot, name)
        lack_places(known, plot)
    if carrier.kind.name == "truss":
        return
    for truss in of_plot(known.facts, carrier, "trusses"):
        for support in truss.members("supports"):
            if isinstance(known.facts.value(support, "hoist"), Unknown):
                known.lack(support, "hoist")


def lack_places(known: Gathering, plot: Thing) -> None:
    """Count pieces of which nobody says where they hang: any of them may hang here, or beside any other."""
    for item in plot.members("items"):
        if "on" not in item.references and isinstance(known.facts.value(item, "on"), Unknown):
            known.lack(item, "on")


def hanging_from(known: Gathering, holder: Thing) -> Bounds:
    """What hangs from a bridle or a point by itself: hoists, supports of trusses, pieces [N]."""
    hoists = [
        one for one in of_plot(known.facts, holder, "hoists") if one.references.get("hangs_on") is holder
    ]
    total = Bounds.exactly(0.0)
    for hoist in hoists:
        total = total + known.figure(hoist, "load_on_point", hoist.key, within=NOUGHT_OR_MORE)
    for support in supported_by(known.facts, holder):
        total = total + known.figure(support, "force", support.path, within=NOUGHT_OR_MORE)
    for item in pieces_on(known.facts, holder):
        total = total + known.figure(item, "total_weight", item.key, within=NOUGHT_OR_MORE)
    for hoist in of_plot(known.facts, holder, "hoists"):
        if isinstance(known.facts.value(hoist, "hangs_on"), Unknown):
            known.lack(hoist, "hangs_on")
    count_the_unplaced(known, holder)
    return total
