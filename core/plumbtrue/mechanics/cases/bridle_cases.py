"""Cases about bridles and hoist points."""

from typing import Final

from plumbtrue.mechanics.bridle import Bridle, Leg, bridle_from_lengths, two_leg_bridle
from plumbtrue.mechanics.bridle_in_space import (
    Point,
    SpaceBridle,
    four_leg_bridle,
    three_leg_bridle,
    three_leg_bridle_from_lengths,
)
from plumbtrue.mechanics.cases.inputs import CannotRunError, Inputs
from plumbtrue.mechanics.cases.outputs import Computation, Outputs, Quantity
from plumbtrue.mechanics.hoist_point import point_total, stop
from plumbtrue.mechanics.refusal import Refused


def _two_leg(inputs: Inputs) -> Outputs | Refused:
    load = inputs.quantity("load", "force")
    legs = []
    for key in ("leg1", "leg2"):
        leg = inputs.part(key)
        if leg is None:
            raise CannotRunError(f"missing input {key}")
        legs.append(Leg(leg.quantity("horizontal", "length"), leg.quantity("vertical", "length")))
    told = two_leg_bridle(load, legs[0], legs[1])
    return told if isinstance(told, Refused) else {**_figures(told), "status": "ok"}


def _figures(told: Bridle) -> dict[str, object]:
    return {
        "leg_lengths": Quantity([leg.length for leg in told.legs], "length"),
        "tensions": Quantity(told.tensions, "force"),
        "horizontal_force": Quantity(told.horizontal, "force"),
        "vertical_at_anchors": Quantity(told.verticals, "force"),
        "apex_angle": Quantity(told.apex_angle, "angle"),
        "leg_angle_from_horizontal": Quantity([leg.from_horizontal for leg in told.legs], "angle"),
        "leg_angle_from_vertical": Quantity([leg.from_vertical for leg in told.legs], "angle"),
    }


def _two_leg_from_lengths(inputs: Inputs) -> Outputs | Refused:
    lengths = inputs.quantities("leg_lengths", "length")
    if len(lengths) != 2:
        raise CannotRunError(f"input leg_lengths: two lengths are wanted, {len(lengths)} given")
    first, second = inputs.point("anchor1", 2), inputs.point("anchor2", 2)
    load = inputs.quantity("load", "force")
    told = bridle_from_lengths(load, (first[0], first[1]), (second[0], second[1]), lengths[0], lengths[1])
    if isinstance(told, Refused):
        return told
    figures: dict[str, object] = {} if told.bridle is None else _figures(told.bridle)
    if told.bridle is None:
        figures = {
            "horizontal_force": Quantity(0.0, "force"),
            "vertical_at_anchors": Quantity(told.tensions, "force"),
            "apex_angle": Quantity(None, "angle"),
        }
    return {
        **figures,
        "leg_lengths": Quantity(lengths, "length"),
        "apex": Quantity(told.apex, "length"),
        "tensions": Quantity(told.tensions, "force"),
        "both_legs_tight": told.slack_leg is None,
        "status": "ok" if told.slack_leg is None else f"leg {told.slack_leg} slack",
    }


def _three_leg(inputs: Inputs) -> Outputs | Refused:
    load, anchors = inputs.quantity("load", "force"), _points(inputs)
    apex = _point(inputs.point("apex", 3)) if inputs.is_given("apex", "length") else None
    lengths = inputs.quantities("leg_lengths", "length", optional=True)
    if apex is not None and not lengths:
        told = three_leg_bridle(load, anchors, apex)
    elif lengths and apex is None:
        told = three_leg_bridle_from_lengths(load, anchors, lengths)
    else:
        raise CannotRunError("either apex or leg_lengths is wanted")
    return told if isinstance(told, Refused) else _space_figures(told)


def _space_figures(told: SpaceBridle) -> Outputs:
    if told.slack_legs:
        numbers = " and ".join(str(leg) for leg in told.slack_legs)
        status = f"leg{'s' if len(told.slack_legs) > 1 else ''} {numbers} slack"
    else:
        status = "ok" if told.all_tight else "these legs cannot hold this apex"
    return {
        "apex": Quantity(told.apex, "length"),
        "leg_lengths": Quantity(told.lengths, "length"),
        "tensions": Quantity(told.tensions, "force"),
        "horizontal": Quantity(told.horizontals, "force"),
        "all_legs_tight": told.all_tight,
        "status": status,
    }


def _four_leg(inputs: Inputs) -> Outputs | Refused:
    told = four_leg_bridle(inputs.quantity("load", "force"), _points(inputs), _point(inputs.point("apex", 3)))
    if isinstance(told, Refused):
        return told
    return {
        "worst_tension": Quantity(told.worst_tensions, "force"),
        "choices_that_hold": [list(choice) for choice in told.choices_that_hold],
        "leg_lengths": Quantity(told.lengths, "length"),
        "vertical_at_anchors": Quantity(told.verticals, "force"),
        "horizontal": Quantity(told.horizontals, "force"),
        "status": "ok",
    }


def _points(inputs: Inputs) -> list[Point]:
    return [_point(point) for point in inputs.points("anchors", 3)]


def _point(point: tuple[float, ...]) -> Point:
    return point[0], point[1], point[2]


def _point_total(inputs: Inputs) -> Outputs:
    chain = inputs.quantity("chain", "force per length", 0.0)
    told = point_total(
        inputs.quantity("load", "force"),
        inputs.quantity("hoist", "force", 0.0),
        chain,
        inputs.quantity("chain_length", "length", 0.0),
        inputs.quantity("rigging", "force", 0.0),
        inputs.known_number("dynamic_factor"),
    )
    return {"static": Quantity(told.at_rest, "force"), "design": Quantity(told.design, "force")}


def _dynamic_factor(inputs: Inputs) -> Outputs:
    weight = inputs.known("weight", "force")
    told = stop(
        weight or 0.0, inputs.quantity("speed", "speed"), inputs.quantity("stopping_distance", "length")
    )
    return {
        "deceleration": Quantity(told.deceleration, "acceleration"),
        "factor": told.factor,
        "force": Quantity(None if weight is None else told.force, "force"),
    }


COMPUTATIONS: Final[dict[str, Computation]] = {
    "bridle-two-leg": _two_leg,
    "bridle-two-leg-from-lengths": _two_leg_from_lengths,
    "bridle-three-leg": _three_leg,
    "bridle-four-leg": _four_leg,
    "point-total": _point_total,
    "dynamic-factor": _dynamic_factor,
}
