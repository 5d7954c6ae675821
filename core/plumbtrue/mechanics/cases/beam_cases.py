"""Cases of the batten on its lines: what each computation reads and what it gives.

The parts by themselves, pipe, rope, turnbuckle, grid steel, are in `pipe_and_rope_cases`.
"""

from collections.abc import Sequence
from math import inf, isfinite
from typing import Final

import numpy as np

from plumbtrue.mechanics.batten import SpreadLoad
from plumbtrue.mechanics.cases import pipe_and_rope_cases
from plumbtrue.mechanics.cases.beam_inputs import (
    LEVELLED,
    HungBatten,
    read_batten,
    read_bounded_load,
    read_hung_batten,
    read_lines,
    read_load,
    read_pipe,
    read_range,
)
from plumbtrue.mechanics.cases.inputs import CannotRunError, Inputs
from plumbtrue.mechanics.cases.outputs import Computation, Outputs, Quantity
from plumbtrue.mechanics.cases.unit_keys import INCH, POUND
from plumbtrue.mechanics.curtain_travel import Gathering, Traveller, closed, stacked, travel_envelope
from plumbtrue.mechanics.held import FloatArray, hold
from plumbtrue.mechanics.influence import unit_tensions
from plumbtrue.mechanics.load_bounds import BoundedLoad, TensionBounds, tension_bounds
from plumbtrue.mechanics.lost_support import lost_support
from plumbtrue.mechanics.reactions import Reactions, solve, solve_held, tension_hull
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.splice_range import splice_range
from plumbtrue.mechanics.stress import bending_check, bending_stress, elastic_allowable
from plumbtrue.mechanics.tributary import compare
from plumbtrue.mechanics.trim import offsets_from_tensions, sensitivity, trim_range


def batten_reactions(inputs: Inputs) -> Outputs | Refused:
    """Tension of each line; with an unknown state of levelling, the hull of both."""
    if inputs.word("levelled") == "unknown":
        return _levelling_unknown(inputs)
    hung = read_hung_batten(inputs)
    answer = _solve(hung)
    if isinstance(answer, Refused):
        return answer
    return {
        "reactions": _forces(answer.tensions),
        "total": Quantity(answer.weight, "force"),
        "slack_lines": [line + 1 for line in answer.slack] if hung.tension_only else None,
        "attachment_drop_under_load": Quantity((-answer.levels).tolist(), "length"),
        "sensitivity": _matrix(answer.sensitivity),
        **_beyond(answer),
    }


def _beyond(answer: Reactions) -> Outputs:
    """Figures that do not stand for a batten on ropes: the pipe sags too far, or a rope would have to push."""
    beyond = answer.bending().beyond_small_deflection()
    if beyond is not None:
        return {"status": beyond.standing, "reason": beyond.reason}
    if (answer.tensions < -1e-9 * abs(answer.tensions).max()).any():
        return {"status": "outside", "reason": "a rope would have to push: ask again with tension_only"}
    return {}


def _levelling_unknown(inputs: Inputs) -> Outputs | Refused:
    batten, lines = read_batten(inputs, read_pipe(inputs)), read_lines(inputs)
    loads = [read_load(load) for load in inputs.parts("loads", optional=True)]
    hull = tension_hull(batten, lines, loads, tension_only=inputs.flag("tension_only") or False)
    if isinstance(hull, Refused):
        return hull
    least, greatest = hull
    return {"reaction_min": _forces(least), "reaction_max": _forces(greatest)}


def batten_stress(inputs: Inputs) -> Outputs | Refused:
    """Shear, moment, deflection and utilisation; the utilisation is unknown while the strength is."""
    hung = read_hung_batten(inputs)
    modulus, allowable = hung.elastic_modulus, _allowable(inputs)
    if modulus is None:
        raise CannotRunError("missing input batten.S_…, or outside_diameter_… and wall_…")
    answer = _solve(hung)
    if isinstance(answer, Refused):
        return answer
    bending = answer.bending()
    moment = bending.greatest_moment
    found: dict[str, object] = {
        "reactions": _forces(answer.tensions),
        "max_abs_moment": Quantity(abs(moment.value), "moment"),
        "at": Quantity(moment.at, "length"),
        "max_abs_shear": Quantity(abs(bending.greatest_shear.value), "force"),
        "lowest_deflection": Quantity(bending.lowest.value, "length"),
        "highest_deflection": Quantity(bending.highest.value, "length"),
        "span_sag": Quantity([span.sag for span in bending.span_sags], "length"),
        "tip_drop": Quantity([tip.drop for tip in bending.tip_drops], "length"),
        "bending_stress": Quantity(bending_stress(moment.value, modulus), "force per area"),
        "allowable": Quantity(allowable, "force per area"),
        "utilisation": None,
        "status": "unknown",
    }
    if allowable is not None:
        check = bending_check(moment.value, modulus, allowable)
        found |= {"utilisation": check.utilisation, "status": "within" if check.utilisation <= 1 else "over"}
    beyond = bending.beyond_small_deflection()
    if beyond is not None and found["status"] != "over":
        found |= {"status": beyond.standing, "reason": beyond.reason}
    return found


def _allowable(inputs: Inputs) -> float | None:
    if inputs.is_given("allowable", "force per area"):
        return inputs.known("allowable", "force per area")
    factor, strength = inputs.number("bending_safety_factor"), inputs.known("yield", "force per area")
    return None if strength is None else elastic_allowable(strength, factor)


def trim_sensitivity(inputs: Inputs) -> Outputs | Refused:
    """Change of each tension for a change of each offset."""
    hung = read_hung_batten(inputs)
    if not hung.tension_only:
        found = sensitivity(hung.batten, hung.lines)
        return found if isinstance(found, Refused) else {"sensitivity": _matrix(found)}
    answer = _solve(hung)
    return answer if isinstance(answer, Refused) else {"sensitivity": _matrix(answer.sensitivity)}


def trim_worst_case(inputs: Inputs) -> Outputs | Refused:
    """Tensions over every trim within a tolerance."""
    hung = read_hung_batten(inputs)
    found = trim_range(
        hung.batten,
        hung.lines,
        hung.loads,
        inputs.quantity("trim_tolerance", "length"),
        tension_only=hung.tension_only,
        levelled=hung.levelled,
    )
    if isinstance(found, Refused):
        return found
    goes_slack = hung.tension_only and any(found.can_go_slack)
    return {
        "reactions_level": _forces(found.level),
        "reactions_max": _forces(found.greatest),
        "reactions_min": _forces(found.least),
        "line_can_go_slack": list(found.can_go_slack),
        "tolerance_at_first_slack": Quantity(
            found.first_slack if isfinite(found.first_slack) else None, "length"
        ),
        "kind": "lines go slack in the box" if goes_slack else "linear",
        "method": "exact" if found.exact else "search value",
    }


def offsets_from_measured_tensions(inputs: Inputs) -> Outputs | Refused:
    """Which line is short."""
    level = _solve(read_hung_batten(inputs))
    measured = inputs.quantities("measured_tensions", "force")
    if isinstance(level, Refused):
        return level
    found = offsets_from_tensions(level, measured)
    if isinstance(found, Refused):
        return found
    return {
        "offset_from_best_line": Quantity(found.tolist(), "length"),
        "raise_or_lower_to_level": Quantity((-found).tolist(), "length"),
    }


def tributary_compare(inputs: Inputs) -> Outputs | Refused:
    """The rule of thumb beside the real figure."""
    hung = read_hung_batten(inputs)
    found = compare(
        hung.batten, hung.lines, hung.loads, tension_only=hung.tension_only, levelled=hung.levelled
    )
    if isinstance(found, Refused):
        return found
    return {
        "tributary": _forces(found.tributary),
        "continuous": _forces(found.continuous),
        "ratio_continuous_to_tributary": list(found.ratios),
    }


def influence_line(inputs: Inputs) -> Outputs | Refused:
    """Tensions for a unit weight at each place; a row for each place."""
    hung = read_hung_batten(inputs)
    places = np.array(inputs.quantities("unit_load_at", "length"))
    ordinates = unit_tensions(hold(hung.batten, hung.lines), places)
    return ordinates if isinstance(ordinates, Refused) else {"ordinates": ordinates.tolist()}


def interval_reactions(inputs: Inputs) -> Outputs | Refused:
    """Tensions when weights and places are ranges, each line against its limit, and what to weigh first."""
    pipe = read_pipe(inputs)
    levelled = LEVELLED[inputs.word("levelled", among=("bare", "loaded"))]
    if levelled == "bare":  # Levelling takes the bare pipe's weight at its word.
        batten, own_weight = read_batten(inputs, pipe), []
    else:
        batten = read_batten(inputs, pipe, weight_per_length=0.0)
        own_weight = _own_weight(pipe, batten.length)
    loads = [read_bounded_load(load) for load in inputs.parts("loads", optional=True)]
    found = tension_bounds(
        batten,
        read_lines(inputs),
        [*loads, *own_weight],
        tension_only=inputs.flag("tension_only") or False,
        levelled=levelled,
    )
    if isinstance(found, Refused):
        return found
    spread = found.spread_by_load[:, : len(loads)]
    return {
        "reaction_min": _forces(found.least),
        "reaction_max": _forces(found.greatest),
        "spread_by_load": Quantity(spread.tolist(), "force"),
        "method": "exact" if found.exact else "search value",
        **_judged(found, _line_limits(inputs, len(found.least)), len(loads)),
    }


def _own_weight(pipe: Inputs, length: float) -> list[BoundedLoad]:
    """The pipe's weight as one more load, since it may be a range as well."""
    if not pipe.is_given("weight", "force per length"):
        return []
    least, greatest = read_range(pipe, "weight", "force per length")
    return [BoundedLoad(SpreadLoad(0.0, length, 1.0, 1.0), (least * length, greatest * length))]


def _line_limits(inputs: Inputs, lines: int) -> list[tuple[float, float]] | None:
    if inputs.known_list("line_limits", "force") is not None:
        return inputs.all_ends("line_limits", "force")
    if inputs.is_given("line_limit", "force"):
        limit = inputs.ends("line_limit", "force")
        # A limit that nobody knows may be anything.
        return [(0.0, inf) if limit is None else limit] * lines
    return None


def _judged(found: TensionBounds, limits: Sequence[tuple[float, float]] | None, loads: int) -> Outputs:
    """Verdicts against limits that may be ranges themselves: within the least of them, over the greatest,
    else unknown.
    """
    if limits is None:
        return {}
    careful = found.verdicts([least for least, _ in limits])
    lenient = found.verdicts([greatest for _, greatest in limits])
    status = [
        one if one == "within" else "over" if other == "over" else "unknown"
        for one, other in zip(careful, lenient, strict=True)
    ]
    return {"status": status, "weigh_first": _weigh_first(found.spread_by_load[:, :loads], status)}


def _weigh_first(spread_by_load: FloatArray, status: Sequence[str]) -> int | None:
    """The load that spreads an undecided line most, counted from 1."""
    spread = spread_by_load[[word == "unknown" for word in status]].max(axis=0, initial=0.0)
    return int(spread.argmax()) + 1 if spread.max(initial=0.0) > 0 else None


def merged_bounds(corners: Sequence[Outputs]) -> Outputs:
    """Bounds over the corners of whatever else is a range, such as an offset or the EA of a rope: the tensions
    are no straight sum of those, so these are the best of a search.
    """
    refusal = next((one for one in corners if "reaction_min" not in one), None)
    if refusal is not None:
        return refusal

    def figures(key: str) -> FloatArray:
        found = [one[key] for one in corners]
        return np.array([one.si for one in found if isinstance(one, Quantity)])

    spread = figures("spread_by_load").max(axis=0)
    merged: dict[str, object] = {
        "reaction_min": _forces(figures("reaction_min").min(axis=0)),
        "reaction_max": _forces(figures("reaction_max").max(axis=0)),
        "spread_by_load": Quantity(spread.tolist(), "force"),
        "method": "search value",
    }
    judged = [one["status"] for one in corners if isinstance(one.get("status"), list)]
    if judged:
        status = [words[0] if len(set(words)) == 1 else "unknown" for words in zip(*judged, strict=True)]
        merged |= {"status": status, "weigh_first": _weigh_first(spread, status)}
    return merged


def splice_hull(inputs: Inputs) -> Outputs | Refused:
    """A splice as a hinge and as unbroken pipe."""
    hung = read_hung_batten(inputs)
    found = splice_range(
        hung.batten,
        hung.lines,
        hung.loads,
        inputs.quantity("splice_at", "length"),
        tension_only=hung.tension_only,
        levelled=hung.levelled,
    )
    if isinstance(found, Refused):
        return found
    return {
        "reaction_min": _forces(found.least),
        "reaction_max": _forces(found.greatest),
        "moment_at_splice_if_continuous": Quantity(abs(found.moment), "moment"),
    }


def support_lost(inputs: Inputs) -> Outputs | Refused:
    """Every line left out in turn."""
    hung = read_hung_batten(inputs)
    found = lost_support(
        hung.batten, hung.lines, hung.loads, tension_only=hung.tension_only, levelled=hung.levelled
    )
    if isinstance(found, Refused):
        return found
    # The key of this list names no unit, so its figures are in that of the case.
    unit = 1.0 if hung.is_metric else POUND
    return {
        "reactions": _forces(found.normal.tensions),
        "reactions_without_line": [
            None if isinstance(row, Refused) else (row / unit).tolist() for row in found.without
        ],
        "worst_reaction": Quantity(found.worst, "force"),
        "worst_factor": list(found.factors),
        "unstable_without_line": [line + 1 for line in found.falls_without],
        **({"status": "unstable"} if found.falls_without else {}),
    }


def curtain_stack(inputs: Inputs) -> Outputs | Refused:
    """A bi-parting curtain closed and open."""
    hung = read_hung_batten(inputs)
    weight = inputs.quantity("curtain", "force")
    start, end = inputs.quantity("track_from", "length"), inputs.quantity("track_to", "length")
    held = hold(hung.batten, hung.lines)
    curtains = {
        "reactions_closed": closed(weight, start, end),
        "reactions_open": stacked(weight, start, end, inputs.quantity("stack_length", "length")),
    }
    outputs = {}
    for state, curtain in curtains.items():
        answer = solve_held(
            held, (*hung.loads, *curtain), tension_only=hung.tension_only, levelled=hung.levelled
        )
        if isinstance(answer, Refused):
            return answer
        outputs[state] = _forces(answer.tensions)
    return outputs


GATHERINGS: Final[dict[str | None, tuple[Gathering, ...]]] = {
    "front": ("at the leading edge",),
    "rear": ("at the off-stage end",),
    None: ("at the leading edge", "at the off-stage end"),
}


def traveller_envelope(inputs: Inputs) -> Outputs | Refused:
    """Half a curtain from full stack to closed; both ways of gathering where none is stated."""
    hung = read_hung_batten(inputs)
    traveller = Traveller(
        weight=inputs.quantity("half_curtain", "force"),
        width=inputs.quantity("half_width", "length"),
        stack_length=inputs.quantity("full_stack_length", "length"),
        off_stage_end=inputs.quantity("off_stage_end", "length"),
    )
    found = travel_envelope(
        hold(hung.batten, hung.lines),
        traveller,
        inputs.quantity("step", "length", 2 * INCH),
        GATHERINGS[inputs.word("fold", among=("front", "rear"))],
        loads=hung.loads,
        tension_only=hung.tension_only,
        levelled=hung.levelled,
    )
    if isinstance(found, Refused):
        return found
    return {
        "reaction_max": _forces(found.greatest),
        "at_leading_edge_from_off_stage_end": Quantity(found.greatest_at.tolist(), "length"),
        "reaction_min": _forces(found.least),
        "least_at_leading_edge_from_off_stage_end": Quantity(found.least_at.tolist(), "length"),
    }


def _solve(hung: HungBatten) -> Reactions | Refused:
    return solve(hung.batten, hung.lines, hung.loads, tension_only=hung.tension_only, levelled=hung.levelled)


def _forces(tensions: FloatArray) -> Quantity:
    return Quantity(tensions.tolist(), "force")


def _matrix(found: FloatArray | None) -> Quantity:
    return Quantity(None if found is None else found.tolist(), "force per length")


COMPUTATIONS: Final[dict[str, Computation]] = {
    **pipe_and_rope_cases.COMPUTATIONS,
    "batten-reactions": batten_reactions,
    "batten-stress": batten_stress,
    "curtain-stack": curtain_stack,
    "influence-line": influence_line,
    "interval-reactions": interval_reactions,
    "lost-support": support_lost,
    "offsets-from-tensions": offsets_from_measured_tensions,
    "splice-range": splice_hull,
    "traveller-envelope": traveller_envelope,
    "tributary-compare": tributary_compare,
    "trim-sensitivity": trim_sensitivity,
    "trim-worst-case": trim_worst_case,
}
