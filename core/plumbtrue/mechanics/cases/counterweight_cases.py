"""Cases about counterweight: balance, bricks, load-in, rope shift, pulls, run-away, rope lock."""

from typing import Final

from plumbtrue.mechanics.balance import balance, out_of_balance_bounds, rope_over_arbor, rope_over_batten
from plumbtrue.mechanics.brick_stack import Brick, brick_stack, capacity_standing
from plumbtrue.mechanics.cases.inputs import CannotRunError, Inputs
from plumbtrue.mechanics.cases.outputs import Computation, Outputs, Quantity, Span, between
from plumbtrue.mechanics.hand_line import friction_from_pulls, hand_line_pull
from plumbtrue.mechanics.load_sequence import FreeTravel, Step, WorstOrder, load_sequence
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.rope_lock import rope_lock_use
from plumbtrue.mechanics.rope_shift import (
    ChainHung,
    chain_for_full_compensation,
    chain_takes_back,
    rope_shift,
)
from plumbtrue.mechanics.runaway import FirstStop, Stopping, possible_stops, runaway, stopping
from plumbtrue.quantities.bounds import Bounds

FIRST_STOPS: Final[tuple[FirstStop, ...]] = ("arbor-floor", "arbor-top", "batten-deck")


def _balance(inputs: Inputs) -> Outputs:
    purchase = inputs.number("purchase")
    batten_side = inputs.quantity("batten_gear", "force") + sum(
        inputs.quantities("loads", "force", optional=True)
    )
    arbor, counterweight = inputs.quantity("arbor", "force"), inputs.known("counterweight", "force")
    if inputs.is_given("rope", "force per length"):
        lines, rope = inputs.count("lines"), inputs.quantity("rope", "force per length")
        batten_side += rope_over_batten(lines, rope, inputs.quantity("loft_block_to_batten", "length"))
        arbor += rope_over_arbor(
            lines, rope, inputs.quantity("head_block_to_arbor", "length"), purchase=purchase
        )
    told = balance(batten_side, arbor, counterweight, purchase=purchase)
    at_hand_line = Quantity(told.out_of_balance_at_hand_line, "force")
    return {
        "batten_side": Quantity(told.batten_side, "force"),
        "arbor_side": Quantity(told.arbor_side, "force"),
        "counterweight_to_balance": Quantity(told.counterweight_to_balance, "force"),
        "out_of_balance_at_batten": Quantity(told.out_of_balance_at_batten, "force"),
        "out_of_balance_at_arbor": at_hand_line,
        "out_of_balance_at_handline": at_hand_line,
        "out_of_balance_at_hand_line": at_hand_line,
        "heavy_side": told.heavy_side,
        "status": "unknown" if told.heavy_side is None else "ok",
    }


def _interval_balance(inputs: Inputs) -> Outputs:
    sides = [
        [Bounds(*ends) for ends in inputs.all_ends(f"{side}_side", "force")] for side in ("batten", "arbor")
    ]
    told = out_of_balance_bounds(sides[0], sides[1], purchase=inputs.number("purchase"))
    purchase = inputs.number("purchase")
    at_hand_line = Quantity(Span(purchase * told.low, purchase * told.high), "force")
    sign = "batten" if told.low > 0 else "arbor" if told.high < 0 else "unknown"
    return {
        "out_of_balance_at_batten": Quantity(Span(told.low, told.high), "force"),
        "out_of_balance_at_arbor": at_hand_line,
        "out_of_balance_at_handline": at_hand_line,
        "out_of_balance_at_hand_line": at_hand_line,
        "heavy_side": "neither" if told.low == told.high == 0 else sign,
    }


def _brick_stack(inputs: Inputs) -> Outputs:
    bricks = [
        Brick(
            name=brick.word("name") or f"brick {number}",
            weight=brick.quantity("weight", "force"),
            thickness=brick.quantity("thickness", "length"),
            available=brick.count("available"),
        )
        for number, brick in enumerate(inputs.parts("bricks"), 1)
    ]
    target, height = inputs.quantity("target", "force"), inputs.known("max_stack", "length")
    label = inputs.known("arbor_capacity", "force")
    told = brick_stack(target, bricks, height)
    return {
        "counts": list(told.counts),
        "stack": Quantity(told.height, "length"),
        "weight": Quantity(told.weight, "force"),
        "residual": Quantity(told.residual, "force"),
        "height_left": Quantity(told.height_left, "length"),
        "short_by": Quantity(told.short_by, "force"),
        "lacks": told.lacks,
        "bricks": sum(told.counts),
        "status": told.standing,
        "arbor_capacity": capacity_standing(told.weight, label),
    }


def _load_sequence(inputs: Inputs) -> Outputs:
    steps = [
        Step(
            batten=step.quantity("batten", "force", 0.0),
            arbor=step.quantity("arbor", "force", 0.0),
            free=_free(step, ""),
        )
        for step in inputs.parts("steps")
    ]
    told = load_sequence(
        inputs.quantity("batten_side_start", "force"),
        inputs.quantity("arbor_side_start", "force"),
        steps,
        purchase=inputs.number("purchase"),
        must_precede=inputs.pairs("must_precede"),
        free_at_start=_free(inputs, "_start"),
    )
    return {
        "out_of_balance_at_batten": Quantity(told.out_of_balance, "force"),
        "max_batten_heavy": Quantity(told.most_batten_heavy, "force"),
        "max_arbor_heavy": Quantity(told.most_arbor_heavy, "force"),
        "worst_order_batten_heavy": Quantity(told.worst_batten_heavy.amount, "force"),
        "worst_order_arbor_heavy": Quantity(told.worst_arbor_heavy.amount, "force"),
        "worst_order_batten_heavy_steps": _numbers(told.worst_batten_heavy),
        "worst_order_arbor_heavy_steps": _numbers(told.worst_arbor_heavy),
        "energy_at_risk": Quantity(told.energy_at_risk, "moment"),
        "worst_step": told.worst_moment,
        "plan_keeps_the_order": told.plan_keeps_the_order,
    }


def _free(part: Inputs, which: str) -> FreeTravel:
    return FreeTravel(
        part.known(f"batten_can_fall{which}", "length"), part.known(f"batten_can_rise{which}", "length")
    )


def _numbers(worst: WorstOrder) -> list[int]:
    return [step + 1 for step in worst.steps_done]


def _rope_shift(inputs: Inputs) -> Outputs:
    lines, rope = inputs.count("lines"), inputs.quantity("rope", "force per length")
    travel, purchase = inputs.quantity("batten_travel", "length"), inputs.number("purchase")
    chain, hung = (
        inputs.known("compensating_chain", "force per length"),
        inputs.word("chain_hung_as", ("bight", "pile")),
    )
    if chain and hung is None:
        raise CannotRunError("input chain_hung_as: bight or pile is wanted with a compensating chain")
    # Where no chain is recorded, the one for full compensation is quoted for a bight.
    kind: ChainHung = "pile" if hung == "pile" else "bight"
    change = rope_shift(lines, rope, travel, purchase=purchase)
    back = chain_takes_back(chain or 0.0, travel, kind, purchase=purchase)
    full = chain_for_full_compensation(lines, rope, kind, purchase=purchase)
    return {
        "change_high_to_low_at_batten": Quantity(change - back, "force"),
        "uncompensated_change_at_batten": Quantity(change, "force"),
        "chain_for_full_compensation": Quantity(full, "force per length"),
    }


def _friction_from_pulls(inputs: Inputs) -> Outputs | Refused:
    to_raise, to_lower = inputs.quantity("pull_to_raise", "force"), inputs.quantity("pull_to_lower", "force")
    told = friction_from_pulls(to_raise, to_lower, purchase=inputs.number("purchase", 1.0))
    if isinstance(told, Refused):
        return told
    at_hand_line = Quantity(told.out_of_balance_at_hand_line, "force")
    heavy = "batten" if told.out_of_balance_at_batten > 0 else "arbor"
    near = abs(told.out_of_balance_at_hand_line) <= 1e-9 * max(abs(to_raise), abs(to_lower))
    return {
        "out_of_balance_at_handline": at_hand_line,
        "out_of_balance_at_hand_line": at_hand_line,
        "out_of_balance_at_batten": Quantity(told.out_of_balance_at_batten, "force"),
        "friction": Quantity(told.friction, "force"),
        "heavy_side": "neither" if near else heavy,
    }


def _hand_line_pull(inputs: Inputs) -> Outputs:
    told = hand_line_pull(
        inputs.quantity("out_of_balance_at_batten", "force"),
        inputs.quantity("friction", "force"),
        purchase=inputs.number("purchase"),
    )
    return {
        "pull_to_raise": Quantity(told.to_raise, "force"),
        "pull_to_lower": Quantity(told.to_lower, "force"),
        "hold_back_needed": Quantity(told.hold_back, "force"),
    }


def _runaway(inputs: Inputs) -> Outputs:
    batten, arbor = inputs.quantity("batten_side", "force"), inputs.quantity("arbor_side", "force")
    purchase, distance = inputs.number("purchase"), inputs.known("stop_distance", "length")
    stated = inputs.word("first_stop", FIRST_STOPS)
    run = runaway(
        batten,
        arbor,
        inputs.quantity("batten_travel", "length"),
        inputs.quantity("friction_at_batten", "force", 0.0),
        purchase=purchase,
    )
    first: tuple[FirstStop, ...] = tuple(stop for stop in FIRST_STOPS if stop == stated)
    possible = first if first and not run.held_by_friction else possible_stops(run)
    stops = [stopping(run, stop, batten, arbor, distance, purchase=purchase) for stop in possible]
    return {
        "out_of_balance_at_batten": Quantity(run.out_of_balance_at_batten, "force"),
        "energy": Quantity(run.energy_at_risk, "moment"),
        "kinetic_energy": Quantity(run.kinetic_energy, "moment"),
        "acceleration": Quantity(run.acceleration, "acceleration"),
        "batten_speed": Quantity(run.batten_speed, "speed"),
        "arbor_speed": Quantity(run.arbor_speed, "speed"),
        "time": Quantity(run.time, "duration"),
        "jump_height": Quantity(_highest_jump(stops), "length"),
        "average_stop_force": Quantity(_hardest(stops), "force"),
        "stop_case": stops[0].case if len(stops) == 1 else None,
        "status": "held by friction only" if run.held_by_friction else "runs",
    }


def _highest_jump(stops: list[Stopping]) -> float | None:
    """0 where nothing moves; of two possible stops the worse."""
    if not stops:
        return 0.0
    return max((stop.flies_on for stop in stops if stop.flies_on is not None), default=None)


def _hardest(stops: list[Stopping]) -> float | None:
    return max((stop.average_force for stop in stops if stop.average_force is not None), default=None)


def _rope_lock(inputs: Inputs) -> Outputs:
    ends, holding = inputs.ends("out_of_balance_at_handline", "force"), None
    if inputs.is_given("lock_rating", "force"):
        holding = inputs.ends("lock_rating", "force")
    if ends is None:
        return {"utilisation": None, "status": "unknown"}
    told = rope_lock_use(Bounds(*ends), None if holding is None else Bounds(*holding))
    use = told.utilisation
    return {
        "utilisation": None if use is None else between(use.low, use.high),
        "status": told.standing,
    }


COMPUTATIONS: Final[dict[str, Computation]] = {
    "balance": _balance,
    "interval-balance": _interval_balance,
    "brick-stack": _brick_stack,
    "load-sequence": _load_sequence,
    "load-sequence-energy": _load_sequence,
    "rope-shift": _rope_shift,
    "friction-from-pulls": _friction_from_pulls,
    "hand-line-pull": _hand_line_pull,
    "runaway": _runaway,
    "rope-lock": _rope_lock,
}
