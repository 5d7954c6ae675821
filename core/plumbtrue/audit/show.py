"""What a plot laid over a house comes to: a verdict for each piece, and one for what concerns the whole plot.

A finding about a set under the show's load is a finding about the pieces on that set. A gap between two
pieces is told under one of them.
"""

from collections.abc import Iterable, Mapping, Sequence

from plumbtrue.audit.outcome import Outcome
from plumbtrue.audit.verdicts import Verdict, line_set_of, verdict_on
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.rule import Rule


@unchanging
class Show:
    """A plot that was audited with the house."""

    plot: Thing
    items: Mapping[str, Verdict]
    """On each piece, by its key as the plot writes it, as people count them."""
    whole: Verdict
    """On what concerns no single piece: revision, dates, papers, bricks."""
    house_verdicts: Mapping[str, Verdict]
    """On each line set by the rules of the house alone, as if nothing hung on it."""
    outcomes: tuple[Outcome, ...]
    """Those that the plot brought: of rules about a show, and of things of the plot; in the order of the
    audit.
    """
    of_item: Mapping[str, tuple[Outcome, ...]]
    """Those of each piece, by its key."""


def show_of(
    facts: Facts,
    plot: Thing,
    ordered: Sequence[Outcome],
    of_show: Sequence[Rule],
    house_verdicts: Mapping[str, Verdict],
) -> Show:
    """Divide the outcomes that a plot brought among its pieces."""
    slugs = {rule.slug for rule in of_show}
    items = sorted(plot.members("items"), key=lambda item: natural_order(item.key))
    by_item: dict[Thing, list[Outcome]] = {item: [] for item in items}
    mine: list[Outcome] = []
    whole: list[Outcome] = []
    for outcome in ordered:
        at_a_point = _is_of_a_point(outcome.thing)
        if outcome.rule in slugs or is_of_plot(outcome.thing):
            mine.append(outcome)
        elif not at_a_point:
            continue
        pieces = [item for item in pieces_of(facts, plot, outcome.thing) if item in by_item]
        for item in pieces:
            by_item[item].append(outcome)
        if not pieces and not at_a_point:
            whole.append(outcome)
    names = {item: item.key.removeprefix("item ") for item in items}
    on_whole = [one for one in whole if line_set_of(one.thing) is None]
    return Show(
        plot=plot,
        items={names[item]: verdict_on(item, outcomes) for item, outcomes in by_item.items()},
        whole=verdict_on(plot, on_whole),
        house_verdicts=house_verdicts,
        outcomes=tuple(mine),
        of_item={names[item]: tuple(outcomes) for item, outcomes in by_item.items()},
    )


def is_of_plot(thing: Thing) -> bool:
    """Whether a thing is a plot or stands in one."""
    return thing.enclosing("plot") is not None


def _is_of_a_point(thing: Thing) -> bool:
    """Whether a thing is a point of the house, or belongs to one. A plot may hang pieces there, and what the
    house's own rules say of the point is then said of them.
    """
    return not is_of_plot(thing) and thing.enclosing("point") is not None


def pieces_of(facts: Facts, plot: Thing, thing: Thing) -> tuple[Thing, ...]:
    """The pieces that something is about: of what is on a set those that hang there, of rigging those that it
    carries; none for what concerns the whole plot.
    """
    item = thing.enclosing("item")
    if item is not None:
        return (item,)
    if not is_of_plot(thing) and not _is_of_a_point(thing):
        return _on_set(facts, thing.line_set)
    named = thing.references.get("item")
    if isinstance(named, Thing):
        return (named,)
    on_set = thing.references.get("set")
    if isinstance(on_set, Thing) and thing.kind.name != "drawn_set":
        return _on_set(facts, on_set)
    if thing.kind.name == "pair":
        told = facts.part(thing, "told_under")
        return (told,) if isinstance(told, Thing) else ()
    around = thing_around(thing)
    return tuple(item for item in plot.members("items") if around in _carried_by(item))


def thing_around(thing: Thing) -> Thing:
    """The truss, hoist, bridle or point that a thing is or belongs to."""
    for kind in ("truss", "hoist", "bridle", "point", "spot_line"):
        found = thing.enclosing(kind)
        if found is not None:
            return found
    return thing


def _on_set(facts: Facts, line_set: Thing | None) -> tuple[Thing, ...]:
    if line_set is None:
        return ()
    items = facts.part(line_set, "items")
    return items if isinstance(items, tuple) else ()


def _carried_by(item: Thing) -> tuple[Thing, ...]:
    """Everything of the plot that a piece hangs on, up to the points, and those of the house."""
    on = item.references.get("on")
    return rigging_above(on) if isinstance(on, Thing) and (is_of_plot(on) or _is_of_a_point(on)) else ()


def rigging_above(carrier: Thing) -> tuple[Thing, ...]:
    """A carrier and what holds it, up to the points, each once, the nearest first."""
    found: dict[Thing, None] = {}
    waiting = [carrier]
    while waiting:
        one = waiting.pop(0)
        if one not in found:
            found[one] = None
            waiting.extend(_above(one))
    return tuple(found)


def _above(carrier: Thing) -> Iterable[Thing]:
    """What holds a truss, a hoist or a bridle."""
    for below in carrier.below():
        for fact in ("hoist", "hangs_on", "point"):
            held = below.references.get(fact)
            if isinstance(held, Thing):
                yield held
