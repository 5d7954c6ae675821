"""What a plot says, and what it says twice or otherwise than the house: weights left blank, pieces that claim one
place, sets drawn where they are not.
"""

from math import inf
from typing import Final

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.item_pulls import WEIGHT_PARTS, pulls_of
from plumbtrue.facts.computed.registry import computed, finds
from plumbtrue.facts.gathering import Gathering
from plumbtrue.facts.store import AndPerhapsMore, Facts, Found
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import LENGTH, RATIO
from plumbtrue.quantities.values import NONE, UNKNOWN, Choice, Name, Unknown
from plumbtrue.rig.accepted_plots import accepted_last
from plumbtrue.rig.thing import Thing

_PLOT: Final = "what the plot says"
_SAME: Final = 1e-6
"""Nearer than this [m] is the same place."""


@computed("item", "weight_written")
def weight_written(known: Gathering, thing: Thing) -> Answer:
    """Whether anything is written from which its weight follows; either, with what is missing, where part of it
    is.
    """
    found = known.facts.kept(thing, pulls_of)
    written = isinstance(known.facts.value(thing, "weight"), Bounds)
    made = any(isinstance(known.facts.part(thing, name), tuple) for name in ("make_up", "cloth"))
    anything = written or made or any(_is_listed(known.facts, thing, name) for name in WEIGHT_PARTS)
    words = {"yes"} if found.whole else {"yes", "no"} if anything else {"no"}
    if len(words) > 1:
        known.loose.extend(found.known.lacking)
    return known.within(Choice(frozenset(words)), "weight-written", "what is written of it", None, _PLOT)


def _is_listed(facts: Facts, item: Thing, name: str) -> bool:
    held = facts.part(item, name)
    return isinstance(held, Thing) or (isinstance(held, tuple) and bool(held))


@finds("item", "overlaps_unmarked")
def overlaps_unmarked(facts: Facts, thing: Thing) -> Found:
    """Other pieces over its stretch of batten of which neither says that they share it; cable along a pipe
    shares it with anything.
    """
    others = facts.part(thing, "overlaps")
    if isinstance(others, Unknown):
        return UNKNOWN
    found = tuple(
        other
        for other in (others if isinstance(others, tuple) else ())
        if not _is_marked(thing, other) and not _is_cable(facts, thing) and not _is_cable(facts, other)
    )
    if facts.is_unlisted(thing, "overlaps") and not _is_cable(facts, thing):
        return AndPerhapsMore(found, facts.unlisted(thing, "overlaps"))
    return found


def _is_marked(one: Thing, other: Thing) -> bool:
    return any(
        isinstance(held := first.references.get("layered_with"), tuple) and second in held
        for first, second in ((one, other), (other, one))
    )


def _is_cable(facts: Facts, item: Thing) -> bool:
    category = facts.value(item, "category")
    return isinstance(category, Choice) and category.possible == {"cable"}


@computed("plot", "misdrawn")
def misdrawn(known: Gathering, thing: Thing) -> Answer:
    """Sets that the plot draws elsewhere than the house has them, each with both distances from the plaster
    line; none where there are none among those that it draws.
    """
    told = []
    for drawn in known.things(thing, "sets_drawn"):
        line_set = known.facts.part(drawn, "set")
        if line_set is NONE:
            told.append(f"{drawn.key.removeprefix('drawn set ')} (the house has no such set)")
            continue
        place = known.figure(drawn, "from_plaster_line", "as drawn")
        real = (
            known.figure(line_set, "from_plaster_line", "in the house")
            if isinstance(line_set, Thing)
            else place
        )
        if not isinstance(line_set, Thing):
            known.lack(drawn, "set")
        if max(abs((place - real).low), abs((place - real).high)) > _SAME:
            told.append(
                f"{drawn.key.removeprefix('drawn set ')} (drawn at {known.said(place, LENGTH)}, in the house at "
                f"{known.said(real, LENGTH)})"
            )
    known.settle()
    value = Name(", ".join(told)) if told else NONE
    return known.within(value, "drawn-difference", "drawn against the house's schedule", None, _PLOT)


@computed("item", "utilisation_at_worst")
def utilisation_at_worst(known: Gathering, thing: Thing) -> Answer:
    """Upper end of the greatest utilisation that it brings about, as a figure; none for a piece on no set."""
    answer = known.facts.answer(thing, "utilisation_caused")
    value = known.value(thing, "utilisation_caused")
    if value is NONE:
        return known.within(NONE, "utilisation", "it hangs on no set", None)
    if not isinstance(value, Bounds) or value.high == inf:
        known.lacking.extend(answer.missing or (Missing(thing, "utilisation_caused"),))
        known.settle()
    assert isinstance(value, Bounds)
    return known.within(Bounds.exactly(value.high), "utilisation", "its upper end", RATIO, _PLOT)


@computed("plot", "open_questions")
def open_questions(known: Gathering, thing: Thing) -> Answer:
    """Facts to find out before everything urgent can be told. Only the audit knows, and hands it in."""
    known.lack(thing, "open_questions", "the rules have not been run")
    raise known.what_is_missing()


@computed("plot", "accepted_revision")
def accepted_revision(known: Gathering, thing: Thing) -> Answer:
    """The revision that was accepted last; none where this one is, or nobody accepted any."""
    if known.facts.value(thing, "accepted") is NONE:
        return known.within(NONE, "accepted-revision", "nobody accepted any", None, _PLOT)
    acceptances = known.things(thing, "accepted")
    revision = known.value(thing, "revision")
    named = {one: known.value(one, "revision") for one in acceptances}
    if isinstance(revision, Name) and revision in named.values():
        return known.within(NONE, "accepted-revision", "this one is accepted", None, _PLOT)
    for one, its in ((thing, revision), *named.items()):
        if not isinstance(its, Name):
            known.lack(one, "revision")
    acceptance = accepted_last(thing)
    if known.lacking or acceptance is None:
        known.settle()
    assert acceptance is not None, "acceptances with a revision have a latest one"
    value = known.value(acceptance, "revision")
    return known.within(value, "accepted-revision", "the latest acceptance of another", None, _PLOT)


@computed("plot", "items_changed")
def items_changed(known: Gathering, thing: Thing) -> Answer:
    """Pieces that hang otherwise than in the revision that was accepted. Only the audit compares, and hands it in."""
    return _by_comparing(known, thing, "items_changed")


@computed("plot", "items_new")
def items_new(known: Gathering, thing: Thing) -> Answer:
    """Pieces that the revision that was accepted does not have."""
    return _by_comparing(known, thing, "items_new")


@computed("plot", "items_cut")
def items_cut(known: Gathering, thing: Thing) -> Answer:
    """Pieces of the revision that was accepted that are gone."""
    return _by_comparing(known, thing, "items_cut")


@computed("plot", "changes_since_accepted")
def changes_since_accepted(known: Gathering, thing: Thing) -> Answer:
    """What was changed since, in words."""
    return _by_comparing(known, thing, "changes_since_accepted")


def _by_comparing(known: Gathering, thing: Thing, fact: str) -> Answer:
    """Nobody knows what was changed unless the file of the accepted revision is named and can be laid."""
    acceptance = accepted_last(thing)
    if acceptance is not None and acceptance.facts.get("plot_file") is None:
        known.lack(acceptance, "plot_file")
    else:
        known.lack(thing, fact, "no earlier revision is beside this one")
    raise known.what_is_missing()
