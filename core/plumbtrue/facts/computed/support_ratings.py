"""What the thing that holds up a support of a truss is rated for."""

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.quantities.dimension import FORCE
from plumbtrue.rig.thing import Thing

_RATING = {"hoist": "working_load_limit", "point": "rating"}


@computed("truss_support", "rating")
def support_rating(known: Gathering, thing: Thing) -> Answer:
    """Rated load of the hoist or the point that holds it. A bridle has no single figure: its legs have theirs."""
    holder = thing.references.get("hoist")
    if not isinstance(holder, Thing):
        known.lack(thing, "hoist")
        known.settle()
    assert isinstance(holder, Thing)
    name = _RATING.get(holder.kind.name)
    if name is None:
        known.decline(f"a {holder.kind.word} has no single rated load")
    found = known.figure(holder, name, f"rated load of {holder.key}", within=NOUGHT_OR_MORE)
    known.settle()
    return known.answer(found, "support-rating", "rated load of what holds it", FORCE, "its maker")
