"""The heaviest piece that whole bricks can balance: the bricks that go on the arbor of its set, by its plate and
by the height between its plates, and what that leaves for the piece with all else where it is.

It is the number that a crew needs with a piece on the scale; a house may allow less.
"""

from math import inf

from plumbtrue.audit.item_verdicts import ItemVerdict, People
from plumbtrue.facts.computed.arbor import plates
from plumbtrue.facts.computed.show_balance import house_bricks
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.store import Facts, NotFound
from plumbtrue.mechanics.brick_stack import Brick, brick_stack
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Choice
from plumbtrue.rig.thing import Thing


@unchanging
class BricksThatFit:
    """What fits [N]: the piece, and the bricks against it."""

    most: float
    bricks: float


def bricks_that_fit(facts: Facts, verdict: ItemVerdict) -> BricksThatFit | None:
    """The heaviest piece for which the whole bricks fit; nothing where it hangs on no arbor, where not enough
    is known, or where somebody is on it.

    Source: balance by virtual work (derived); whole bricks by an exhaustive search.
    """
    line_set = verdict.carrier
    if verdict.people is not People.NOBODY or line_set is None or line_set.kind.name != "line_set":
        return None
    known = Gathering(facts)
    try:
        return _fitting(known, verdict.item, line_set)
    except NotFound:
        return None


def _fitting(known: Gathering, item: Thing, line_set: Thing) -> BricksThatFit | None:
    arbor = known.thing(line_set, "arbor")
    known.settle()
    assert arbor is not None, "an arbor that is lacking has settled"
    house = known.around(line_set, "house")
    bricks = known.facts.kept(house, house_bricks)
    capacity = known.figure(arbor, "capacity", within=NOUGHT_OR_MORE)
    clear = known.figure(arbor, "clear_height", within=NOUGHT_OR_MORE)
    own = known.figure(arbor, "weight", within=NOUGHT_OR_MORE)
    fixed = known.figure(line_set, "fixed_load_computed", within=NOUGHT_OR_MORE)
    p = known.figure(line_set, "purchase")
    live = known.figure(line_set, "live_load", within=NOUGHT_OR_MORE)
    mine = known.figure(item, "total_weight", within=NOUGHT_OR_MORE)
    known.settle()
    others = Bounds(max(live.low - mine.low, 0.0), max(live.high - mine.high, 0.0))
    counts_own = "all" in _words(known.facts.value(arbor, "capacity_of"))
    room = capacity.low - (own.high if counts_own else 0.0)
    height = clear.low - plates(known, arbor).high
    if others.high == inf or room <= 0 or height <= 0:
        return None
    kinds = [
        Brick(light.name, heavy.weight, light.thickness, light.available)
        for light, heavy in zip(bricks.light, bricks.heavy, strict=True)
    ]
    stack = brick_stack(room, kinds, height, residue="batten-heavy")
    if stack.weight > room:
        return None
    most = (stack.weight + own.low) / p.high - fixed.high - others.high
    return BricksThatFit(most, stack.weight) if most > 0 else None


def _words(value: object) -> frozenset[str]:
    return value.possible if isinstance(value, Choice) else frozenset({"weights"})
