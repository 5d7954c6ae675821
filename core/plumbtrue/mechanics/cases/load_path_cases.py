"""Cases about load paths, chain round the pipe, angles, rope condition."""

from typing import Final

from plumbtrue.mechanics.angle_factors import BANDS, Fitting, angle_factor
from plumbtrue.mechanics.cases.inputs import CannotRunError, Inputs
from plumbtrue.mechanics.cases.outputs import Computation, Outputs, Quantity, between
from plumbtrue.mechanics.chain_wrap import ChainWrap, chain_wrap, choke_capacity, wants_keeper_bolt
from plumbtrue.mechanics.load_path import Element, load_path, path_design_factor
from plumbtrue.mechanics.refusal import Refused, must_be_positive
from plumbtrue.mechanics.rope_condition import (
    broken_wires_standing,
    diameter_loss_bounds,
    loss_standing,
)
from plumbtrue.mechanics.sling_leg import sling_leg
from plumbtrue.quantities.bounds import Bounds


def _elements(inputs: Inputs) -> list[Element]:
    return [
        Element(
            name=part.word("name") or f"element {number}",
            breaking=part.known("breaking", "force"),
            # In a case, an efficiency that is not written weakens nothing; one that is null is not known.
            efficiency=part.known_number("efficiency") if "efficiency" in part else 1.0,
            design_factor=part.known_number("design_factor"),
            working_load_limit=part.known("wll", "force"),
            reduction=part.known_number("reduction") if "reduction" in part else 1.0,
            legs=part.count("legs", 1),
            included_angle=part.known("included_angle", "angle"),
            legs_equalise=part.flag("legs_equalised"),
        )
        for number, part in enumerate(inputs.parts("elements"), 1)
    ]


def _load_path(inputs: Inputs) -> Outputs:
    told = load_path(inputs.known("tension", "force"), _elements(inputs))
    return {
        "utilisation": list(told.utilisations),
        "max_known_utilisation": told.greatest_known,
        "weakest_known": told.weakest_known,
        "status": told.standing,
        "tension_limit_known": Quantity(told.limit_known, "force"),
    }


def _path_design_factor(inputs: Inputs) -> Outputs:
    told = path_design_factor(inputs.quantity("tension", "force"), _elements(inputs))
    return {
        "design_factors": list(told.factors),
        "path_design_factor": told.least,
        "known_upper_bound": told.least_known,
        "governed_by": told.governed_by,
        "status": "unknown" if told.least is None else "ok",
    }


def _chain_wrap(inputs: Inputs) -> Outputs | Refused:
    limit = inputs.known("chain_wll", "force")
    if limit is not None:
        must_be_positive(chain_wll=limit)
    distance, keeper_bolt = inputs.known("distance_to_pipe_end", "length"), inputs.flag("keeper_bolt")
    told = chain_wrap(
        inputs.quantity("pipe_od", "length"),
        inputs.quantity("chain_diameter", "length"),
        inputs.quantity("convergence_above_centre", "length"),
        inputs.quantity("line_tension", "force"),
        turns=inputs.count("turns", 1),
        legs_equalise=bool(inputs.flag("legs_equalised")),
    )
    if isinstance(told, Refused):
        return told
    return {
        "included_angle": Quantity(told.included_angle, "angle"),
        "leg_tension": Quantity(told.leg_tension, "force"),
        "utilisation": None if limit is None else told.leg_tension / limit,
        "developed_length": Quantity(told.developed_length, "length"),
        "bend_ratio": told.bend_ratio,
        "bend_rating": told.bend_rating,
        "short_coupled": told.short_coupled,
        "keeper_bolt_wanted": wants_keeper_bolt(distance, keeper_bolt),
        **_bent_too_sharply(told, limit),
    }


def _bent_too_sharply(told: ChainWrap, limit: float | None) -> Outputs:
    """Chain on too thin a pipe keeps no known rating, so it is never within it."""
    is_over = limit is not None and told.leg_tension > limit
    return {"status": "unknown"} if told.bend_rating == "unknown" and not is_over else {}


def _chain_choke(inputs: Inputs) -> Outputs:
    tension = inputs.quantity("line_tension", "force")
    limit, factor = inputs.known("chain_wll", "force"), inputs.known_number("choker_factor")
    if limit is None or factor is None:
        return {"capacity": Quantity(None, "force"), "utilisation": None, "status": "unknown"}
    capacity = choke_capacity(limit, factor)
    return {"capacity": Quantity(capacity, "force"), "utilisation": tension / capacity}


def _sling_leg(inputs: Inputs) -> Outputs:
    told = sling_leg(
        inputs.quantity("load", "force"),
        inputs.count("legs_counted"),
        inputs.quantity("angle_from_horizontal", "angle"),
    )
    return {"leg_tension": Quantity(told.tension, "force"), "factor": told.factor}


def _angle_factor(inputs: Inputs) -> Outputs | Refused:
    item, angle = inputs.word("item"), inputs.known("angle", "angle")
    named: Fitting | None = next((fitting for fitting in BANDS if fitting == item), None)
    if named is None:
        raise CannotRunError(f"input item: one of {', '.join(BANDS)} is wanted, {item!r} given")
    if angle is None:
        return {"factor": None, "status": "unknown"}
    told = angle_factor(angle, BANDS[named])
    return told if isinstance(told, Refused) else {"factor": told, "status": "ok"}


def _rope_condition(inputs: Inputs) -> Outputs:
    nominal, measured = inputs.quantity("nominal", "length"), inputs.ends("measured", "length")
    limit = inputs.known("diameter_loss_limit", "ratio")
    loss = None if measured is None else diameter_loss_bounds(nominal, Bounds(*measured))
    counts = [
        (inputs.known_number(f"broken_in_one_{where}"), inputs.known_number(f"broken_limit_{short}"))
        for where, short in (("lay", "lay"), ("strand_in_one_lay", "strand"))
        # A criterion that has no such limit does not look at that count.
        if f"broken_limit_{short}" in inputs or f"broken_in_one_{where}" in inputs
    ]
    diameter, wires = loss_standing(loss, limit), broken_wires_standing(counts)
    return {
        "diameter_loss": Quantity(None if loss is None else between(loss.low, loss.high), "ratio"),
        "diameter": diameter,
        "broken_wires": wires,
        "status": next((one for one in ("over", "unknown") if one in (diameter, wires)), "within"),
        "retained_strength": "not computed",
        "retained_strength_lbf": None,
        "retained_strength_N": None,
    }


COMPUTATIONS: Final[dict[str, Computation]] = {
    "load-path": _load_path,
    "path-design-factor": _path_design_factor,
    "chain-wrap": _chain_wrap,
    "chain-choke": _chain_choke,
    "sling-leg": _sling_leg,
    "angle-factor": _angle_factor,
    "rope-condition": _rope_condition,
}
