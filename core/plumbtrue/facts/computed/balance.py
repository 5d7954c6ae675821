"""The balance of a set: what hangs on the batten against what lies in the arbor, at rest and over the travel.

Positive is batten heavy. At the hand line it is purchase times what it is at the batten. The rope's own
weight, which passes from one side to the other, is a figure of its own.
"""

from math import inf

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.hung_batten import hung_batten
from plumbtrue.facts.computed.load_cases import live_part, posted_spread
from plumbtrue.facts.computed.places import batten_length, batten_of, holding_lines, over_head_block
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Declined, Gathering
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.mechanics.balance import balance, out_of_balance_bounds
from plumbtrue.mechanics.hand_line import friction_from_pulls
from plumbtrue.mechanics.load_sequence import FreeTravel, energy_at_risk
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.rope_lock import rope_lock_use
from plumbtrue.mechanics.rope_shift import ChainHung, chain_takes_back, rope_shift
from plumbtrue.quantities.bounds import Bounds, hull_of
from plumbtrue.quantities.dimension import FORCE, LENGTH, MOMENT, RATIO
from plumbtrue.quantities.values import NONE, Absent, Choice, Unknown
from plumbtrue.rig.thing import Thing

_WORK = "virtual work (derived: any mechanics textbook)"
_PURCHASES = {"single-purchase": 1.0, "double-purchase": 2.0}


@computed("line_set", "purchase")
def purchase(known: Gathering, thing: Thing) -> Answer:
    """Travel of the batten for a unit of travel of the arbor: 1 single, 2 double; 1 for a hemp set and its
    bag.
    """
    systems = known.words(thing, "system")
    known.settle()
    found = sorted({_PURCHASES.get(system, 1.0 if system == "hemp" else 0.0) for system in systems})
    if 0.0 in found:
        known.decline("a set without arbor or bag has no purchase")
    return known.answer(
        Bounds(found[0], found[-1]), "purchase", "by its system", RATIO, "the system as recorded"
    )


@computed("line_set", "fixed_load_computed")
def fixed_load_computed(known: Gathering, thing: Thing) -> Answer:
    """Batten, raceway and lower ends: as weighed where the set's fixed load is recorded, else the sum of
    them.
    """
    weighed = known.perhaps(thing, "fixed_load", "fixed load as weighed")
    if isinstance(weighed, Bounds):
        return known.answer(weighed, "fixed-load", "as weighed", FORCE, "the recorded fixed load")
    hung = known.facts.kept(thing, hung_batten)
    known.include(hung.known)
    known.step("pipe and raceway", hung.spread * hung.length, FORCE)
    known.step("lower ends", sum(hung.ends, Bounds.exactly(0.0)), FORCE)
    return known.within(
        hung.fixed_load, "fixed-load", "weight per length x length + lower ends", FORCE, "sum of weights"
    )


@computed("line_set", "posted_load")
def posted_load(known: Gathering, thing: Thing) -> Answer:
    """Greatest live load that the house has posted: the lesser of the total and the load per length over the
    batten.
    """
    length = Bounds(0.0, inf)
    if isinstance(known.facts.value(thing, "posted_per_length"), Bounds):
        length = batten_length(known, batten_of(known, thing))
    posted = posted_spread(known, thing, length)
    known.settle()
    counts = known.facts.value(thing, "posted_counts")
    fixed = Bounds.exactly(0.0)
    if "all" in getattr(counts, "possible", ()):
        fixed = known.figure(thing, "fixed_load_computed", "fixed load", within=NOUGHT_OR_MORE)
    found = live_part(known, thing, posted, fixed)
    formula = "the lesser of posted total and posted load per length x length of the batten"
    return known.answer(found, "posted-load", formula, FORCE, "what the house has posted")


def counterweight_wanted(batten_side: Bounds, arbor: Bounds, p: Bounds) -> Bounds:
    """Counterweight that balances a set [N]; nought where the empty arbor is already too heavy."""

    def wanted(batten: float, own: float, purchase: float) -> float:
        return max(0.0, balance(batten, own, None, purchase=purchase).counterweight_to_balance)

    return over_bounds(wanted, batten_side, arbor, p)


def _batten_side(known: Gathering, thing: Thing) -> list[Bounds]:
    """Fixed load and what hangs now [N]."""
    fixed = known.figure(thing, "fixed_load_computed", "fixed load", within=NOUGHT_OR_MORE)
    load = known.perhaps(thing, "present_load", "what hangs now")
    if load is None:
        known.lack(thing, "present_load")
    return [fixed, load if isinstance(load, Bounds) else Bounds.exactly(0.0)]


def _other_side(known: Gathering, thing: Thing) -> list[Bounds]:
    """Arbor and counterweight, or the bags of a hemp set [N]."""
    if known.words(thing, "system") == {"hemp"}:
        return [known.figure(bag, "weight", within=NOUGHT_OR_MORE) for bag in known.things(thing, "sandbags")]
    arbor = known.thing(thing, "arbor")
    if arbor is None:
        return []
    return [
        known.figure(arbor, "weight", "empty arbor", within=NOUGHT_OR_MORE),
        known.figure(arbor, "counterweight", "counterweight", within=NOUGHT_OR_MORE),
    ]


@computed("line_set", "imbalance_computed")
def imbalance_computed(known: Gathering, thing: Thing) -> Answer:
    """Out-of-balance at the hand line from the weights; positive where the batten is heavy."""
    batten_side, other_side = _batten_side(known, thing), _other_side(known, thing)
    p = known.figure(thing, "purchase")
    known.settle()
    batten, arbor = (sum(side, Bounds.exactly(0.0)) for side in (batten_side, other_side))
    known.step("batten side", batten, FORCE)
    known.step("arbor side", arbor, FORCE)
    known.suppose("the rope's own weight on either side is left out: see the shift over the travel")
    return known.answer(
        at_hand_line(batten, arbor, p),
        "balance",
        "p x batten side - arbor side, at the hand line",
        FORCE,
        _WORK,
    )


def at_hand_line(batten_side: Bounds, arbor_side: Bounds, p: Bounds) -> Bounds:
    """Out-of-balance at the hand line from both sides [N]; positive where the batten is heavy."""
    return hull_of(
        out_of_balance_bounds([batten_side], [arbor_side], purchase=one) * Bounds.exactly(one)
        for one in (p.low, p.high)
    )


def imbalance_now(known: Gathering, thing: Thing) -> Bounds:
    """Out-of-balance at the hand line as the set stands [N], of either sign: as measured, else from the
    weights.
    """
    measured = known.perhaps(thing, "imbalance", "out-of-balance as measured")
    if measured is NONE:
        return Bounds.exactly(0.0)
    if isinstance(measured, Bounds):
        side = getattr(known.facts.value(thing, "heavy_side"), "word", None)
        size = Bounds(-measured.high, measured.high) if measured.low == -inf else measured
        return -abs(size) if side == "arbor" else abs(size) if side == "batten" else size.hull(-size)
    return known.figure(thing, "imbalance_computed", "out-of-balance from the weights")


@computed("line_set", "out_of_balance")
def out_of_balance(known: Gathering, thing: Thing) -> Answer:
    """How far out of balance it stands at the hand line, without sign: as measured; else from the weights,
    which are known as they are today; else as a general statement vouched for it on its day.
    """
    told = known.facts.answer(thing, "imbalance")
    is_general = told.recorded is not None and told.recorded.origin == "in-order"
    is_told = isinstance(told.value, Bounds | Absent)
    weighed = known.facts.value(thing, "imbalance_computed")
    if isinstance(weighed, Bounds) and (is_general or not is_told):
        found = known.figure(thing, "imbalance_computed", "out-of-balance from the weights")
        return known.answer(abs(found), "balance", "p x batten side - arbor side, without sign", FORCE, _WORK)
    if not is_told:
        known.lack(thing, "imbalance")
        known.figure(thing, "imbalance_computed", "out-of-balance from the weights")
    measured = known.perhaps(thing, "imbalance", "out-of-balance as measured")
    known.settle()
    if not isinstance(measured, Bounds):
        return known.answer(Bounds.exactly(0.0), "balance", "none found", FORCE, "the measurement")
    size = Bounds(0.0, measured.high) if measured.low == -inf else abs(measured)
    return known.answer(size, "balance", "as measured", FORCE, "the measurement")


@computed("line_set", "hand_line_pull")
def hand_line_pull(known: Gathering, thing: Thing) -> Answer:
    """Pull at the hand line to move the set: the greater of raising and lowering, as measured."""
    up, down = known.figure(thing, "pull_to_raise"), known.figure(thing, "pull_to_lower")
    known.settle()
    greater = Bounds(max(up.low, down.low), max(up.high, down.high))
    return known.answer(greater, "hand-line-pull", "the greater of both pulls", FORCE, "the measurement")


@computed("line_set", "friction")
def friction(known: Gathering, thing: Thing) -> Answer:
    """Friction at the hand line from the pulls that raise and lower at slow, steady speed: half their sum."""
    up, down = known.figure(thing, "pull_to_raise"), known.figure(thing, "pull_to_lower")
    known.settle()
    if up.high + down.high < 0:
        known.decline("the two pulls contradict each other: friction would be below nought")
    half = over_bounds(_friction, up, down)
    return known.answer(
        half, "friction-from-pulls", "(pull to raise + pull to lower) / 2", FORCE, "statics (derived)"
    )


def _friction(to_raise: float, to_lower: float) -> float:
    """Friction [N]; nought at an end of the bounds at which the two pulls contradict each other."""
    found = friction_from_pulls(to_raise, to_lower, purchase=1)
    return 0.0 if isinstance(found, Refused) else found.friction


def compensation(known: Gathering, thing: Thing, travel: Bounds, p: Bounds) -> Bounds | None:
    """What a chain or line takes back at the batten over the travel [N]; nothing where that is not known."""
    kind = known.facts.answer(thing, "compensation")
    if kind.value is NONE:
        return Bounds.exactly(0.0)
    if isinstance(kind.value, Unknown):
        known.loose.extend(kind.missing)
        return None
    weight, hung = (
        known.perhaps(thing, "compensation_weight"),
        known.facts.value(thing, "compensation_hung_as"),
    )
    word = hung.word if isinstance(hung, Choice) else None
    if not isinstance(weight, Bounds) or word is None:
        known.loose.extend((Missing(thing, "compensation_weight"), Missing(thing, "compensation_hung_as")))
        return None
    hung_as: ChainHung = "bight" if word == "bight" else "pile"
    return over_bounds(lambda m, y, by: chain_takes_back(m, y, hung_as, purchase=by), weight, travel, p)


@computed("line_set", "rope_weight_shift")
def rope_weight_shift(known: Gathering, thing: Thing) -> Answer:
    """Change of balance at the batten over its full travel, less what compensation takes back; without
    sign.
    """
    travel, p = _travel(known, thing), known.figure(thing, "purchase")
    ropes = ropes_that_pass(known, thing)
    known.settle()
    moved = rope_passing_over(ropes, travel, p)
    known.step("rope that passes over", moved, FORCE)
    back = compensation(known, thing, travel, p)
    if back is None:
        known.suppose("a compensation that nobody recorded may take back any of it")
        back = Bounds(0.0, moved.high)
    known.step("taken back by compensation", back, FORCE)
    formula = "sum of m x y x (1 + 1/p) - chain taken back"
    shift = abs(moved - back)
    return known.within(shift, "rope-shift", formula, FORCE, "potential energy of the rope (derived)")


def ropes_that_pass(known: Gathering, line_set: Thing) -> Bounds:
    """Weight per length of all lines together that pass over the head block [N/m]; what is missing is
    counted.
    """
    ropes = Bounds.exactly(0.0)
    for line in over_head_block(known.facts, holding_lines(known, line_set)):
        rope = known.thing(line, "rope")
        if rope is not None:
            label = f"rope of {line.key}"
            ropes = ropes + known.figure(rope, "weight_per_length", label, within=NOUGHT_OR_MORE)
    return ropes


def rope_passing_over(ropes: Bounds, travel: Bounds, p: Bounds) -> Bounds:
    """Change of balance at the batten [N] by rope, from the weight of all lines together per length [N/m]."""
    return over_bounds(lambda m, y, by: rope_shift(1, m, y, purchase=by), ropes, travel, p)


def _travel(known: Gathering, thing: Thing) -> Bounds:
    """Travel of the batten [m]."""
    arbor = known.thing(thing, "arbor")
    if arbor is None:
        return NOUGHT_OR_MORE
    travel = known.figure(arbor, "travel", "travel of the arbor", within=NOUGHT_OR_MORE)
    p = known.figure(thing, "purchase")
    return NOUGHT_OR_MORE if known.lacking else known.step("travel of the batten", travel * p, LENGTH)


@computed("line_set", "imbalance_over_travel")
def imbalance_over_travel(known: Gathering, thing: Thing) -> Answer:
    """Least and greatest out-of-balance at the hand line over the full travel, from what it is where it is
    parked.
    """
    parked = imbalance_now(known, thing)
    shift = known.figure(thing, "rope_weight_shift", within=NOUGHT_OR_MORE)
    p = known.figure(thing, "purchase")
    travel = _travel(known, thing)
    usual, low = known.perhaps(thing, "usual_trim"), known.perhaps(thing, "low_trim")
    known.settle()
    at_hand = shift * p
    if isinstance(usual, Bounds) and isinstance(low, Bounds) and travel.low > 0:
        raised = (usual - low) / travel
        share = Bounds(min(max(raised.low, 0.0), 1.0), min(max(raised.high, 0.0), 1.0))
    else:
        known.loose.append(Missing(thing, "usual_trim"))
        share = Bounds(0.0, 1.0)
    # Lowered from where it is parked the batten grows heavier, raised the arbor does.
    lowered, lifted = at_hand * share, at_hand * (Bounds.exactly(1.0) - share)
    found = Bounds(parked.low - lifted.high, parked.high + lowered.high)
    formula = "parked - shift x share of the travel above, to parked + shift x share below"
    return known.within(found, "rope-shift", formula, FORCE, "potential energy of the rope (derived)")


@computed("line_set", "run_away_energy")
def run_away_energy(known: Gathering, thing: Thing) -> Answer:
    """Energy of a run-away over the whole travel, to explain the hazard: out-of-balance at the hand line x
    travel of the arbor.
    """
    now = imbalance_now(known, thing)
    arbor = known.thing(thing, "arbor")
    travel = known.figure(arbor, "travel", within=NOUGHT_OR_MORE) if arbor is not None else NOUGHT_OR_MORE
    known.settle()
    known.suppose("no friction, and the whole travel free: an upper estimate")
    # The arbor's travel at the hand line is what the batten's is at the batten: purchase falls out.
    found = over_bounds(lambda U, h: energy_at_risk(U, FreeTravel(fall=h)) or 0.0, abs(now), travel)
    return known.answer(found, "runaway", "|U| x travel", MOMENT, "energy (derived)")


@computed("line_set", "lock_utilisation")
def lock_utilisation(known: Gathering, thing: Thing) -> Answer:
    """Out-of-balance at the hand line over what the lock holds by its maker."""
    held = known.facts.part(thing, "rope_lock")
    if isinstance(held, Absent):
        raise Declined("the set has no rope lock")
    lock = known.thing(thing, "rope_lock")
    holds = known.figure(lock, "holds", within=NOUGHT_OR_MORE) if lock is not None else NOUGHT_OR_MORE
    now = abs(imbalance_now(known, thing))
    known.settle()
    if holds.low <= 0:
        known.decline("a lock that holds nothing")
    used = over_bounds(_lock_share, now, holds)
    return known.answer(used, "rope-lock", "out-of-balance / holding", RATIO, "the maker's figure")


def _lock_share(pull: float, holding: float) -> float:
    use = rope_lock_use(Bounds.exactly(pull), holding).utilisation
    assert use is not None
    return use.low
