"""Cases about trims, plumb, drift, fleet angle, swing and room."""

from typing import Final

from plumbtrue.mechanics.arbor_pull import lateral_pull
from plumbtrue.mechanics.breast_line import breast_line
from plumbtrue.mechanics.cases.inputs import Inputs
from plumbtrue.mechanics.cases.outputs import Computation, Outputs, Quantity, between
from plumbtrue.mechanics.centroid import centroid, linear_load_centre
from plumbtrue.mechanics.clearance import spare_room
from plumbtrue.mechanics.drift import Drift, batten_drift, both_ways
from plumbtrue.mechanics.fleet_angle import fleet_angle, least_distance
from plumbtrue.mechanics.plumb import (
    STEEPEST_FOR_BEAM_MODEL,
    drop_at_limit,
    line_out_of_plumb,
    out_of_plumb,
    out_of_plumb_bounds,
)
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.swing import period, sway
from plumbtrue.mechanics.trim_heights import Sight, hidden, load_bottom, trim_heights
from plumbtrue.quantities.bounds import Bounds, exceeds, is_over
from plumbtrue.quantities.truth import Truth


def _trim_heights(inputs: Inputs) -> Outputs | Refused:
    drop, sight = inputs.known("load_drop", "length"), inputs.part("sight")
    line_of_sight = None if sight is None else _sight(sight)
    told = trim_heights(
        inputs.quantity("block_underside", "length"),
        inputs.quantity("clearance", "length", 0.0),
        inputs.quantities("stack", "length", optional=True),
        inputs.quantity("to_pipe_centre", "length", 0.0),
        low_trim=inputs.known("low_trim", "length"),
        arbor_travel=inputs.known("arbor_travel", "length"),
        purchase=inputs.number("purchase", 1.0),
        other_stop=inputs.known("other_stop", "length"),
    )
    if isinstance(told, Refused):
        return told
    bottom = None if told.high is None or drop is None else load_bottom(told.high, drop)
    seen = None if bottom is None or line_of_sight is None else hidden(bottom, line_of_sight)
    return {
        "high_trim_by_grid": Quantity(told.by_grid, "length"),
        "high_trim_by_arbor": Quantity(told.by_arbor, "length"),
        "high_trim": Quantity(told.high, "length"),
        "high_trim_at_most": Quantity(told.at_most, "length"),
        "governed_by": told.governed_by,
        "lost_height": Quantity(told.lost_height, "length"),
        "batten_travel": Quantity(told.batten_travel, "length"),
        "arbor_travel_used": Quantity(told.arbor_travel_used, "length"),
        "load_bottom_at_high_trim": Quantity(bottom, "length"),
        "sightline_height_at_load": Quantity(None if seen is None else seen.sightline_height, "length"),
        "hidden": None if seen is None else seen.is_hidden,
        "spare": Quantity(None if seen is None else seen.spare, "length"),
        "status": "unknown" if told.high is None else "ok",
    }


def _sight(sight: Inputs) -> Sight:
    return Sight(
        sight.quantity("eye_height", "length"),
        sight.quantity("edge_height", "length"),
        sight.quantity("eye_to_edge", "length"),
        sight.quantity("eye_to_load", "length"),
    )


def _plumb(inputs: Inputs) -> Outputs:
    offset, drop = inputs.quantity("offset", "length"), inputs.quantity("drop", "length")
    load, limit = inputs.known("line_load", "force"), inputs.known("limit", "angle")
    told = None if load is None else line_out_of_plumb(offset, drop, load)
    angle = out_of_plumb(offset, drop)
    return {
        "angle": Quantity(angle, "angle"),
        "horizontal": Quantity(None if told is None else told.horizontal, "force"),
        "rope_tension": Quantity(None if told is None else told.rope_tension, "force"),
        "drop_where_limit_reached": Quantity(
            None if limit is None else drop_at_limit(offset, limit), "length"
        ),
        "within_limit": None if limit is None else not exceeds(abs(angle), limit),
        "beam_model_holds": None if told is None else told.beam_model_holds,
        **_too_steep(angle),
    }


def _too_steep(angle: float) -> Outputs:
    """The figures stand, but not for a batten whose lines are taken as plumb."""
    return {"status": "outside"} if abs(angle) > STEEPEST_FOR_BEAM_MODEL else {}


def _interval_plumb(inputs: Inputs) -> Outputs:
    offset, drop = inputs.ends("offset", "length"), inputs.ends("drop", "length")
    limit = inputs.ends("limit", "angle") if inputs.is_given("limit", "angle") else None
    if offset is None or drop is None:
        return {"angle": Quantity(None, "angle"), "within_limit": None, "status": "unknown"}
    angle = out_of_plumb_bounds(Bounds(*offset), Bounds(*drop))
    # An offset to either side of plumb may be none at all, so the size of the angle has bounds of its own.
    answer = Truth.CANNOT_TELL if limit is None else is_over(abs(angle), Bounds(*limit))
    return {
        "angle": Quantity(between(angle.low, angle.high), "angle"),
        "within_limit": {Truth.HOLDS: False, Truth.FAILS: True, Truth.CANNOT_TELL: None}[answer],
        "status": {Truth.HOLDS: "over", Truth.FAILS: "within", Truth.CANNOT_TELL: "unknown"}[answer],
    }


def _batten_drift(inputs: Inputs) -> Outputs:
    loads, offsets = inputs.quantities("line_loads", "force"), inputs.quantities("offsets", "length")
    drops = inputs.quantities("drops", "length", optional=True) or [inputs.quantity("drop", "length")] * len(
        loads
    )
    across_offsets, held = (
        inputs.quantities("offsets_across", "length", optional=True),
        bool(inputs.flag("held")),
    )
    if not len(loads) == len(offsets) == len(drops):
        raise ValueError(
            f"{len(loads)} line loads, {len(offsets)} offsets and {len(drops)} drops do not go together"
        )
    along = batten_drift(loads, offsets, drops, held=held)
    across = batten_drift(loads, across_offsets, drops, held=held) if across_offsets else None
    steepest = _steepest(along, across, drops)
    return {
        "batten_shift": Quantity(along.shift, "length"),
        "batten_shift_across": Quantity(None if across is None else across.shift, "length"),
        "residual_offsets": Quantity(along.offsets, "length"),
        "horizontal": Quantity(along.horizontals, "force"),
        "max_angle": Quantity(steepest, "angle"),
        **_too_steep(steepest),
    }


def _steepest(along: Drift, across: Drift | None, drops: list[float]) -> float:
    return along.greatest_angle if across is None else max(both_ways(along, across, drops))


def _fleet_angle(inputs: Inputs) -> Outputs:
    lateral, distance = inputs.quantity("lateral", "length"), inputs.quantity("distance", "length")
    limit = inputs.known("limit", "angle")
    angle = fleet_angle(lateral, distance)
    return {
        "fleet_angle": Quantity(angle, "angle"),
        "within_limit": None if limit is None else not exceeds(angle, limit),
        "least_distance": Quantity(None if limit is None else least_distance(lateral, limit), "length"),
    }


def _swing(inputs: Inputs) -> Outputs:
    drop, weight = inputs.quantity("drop", "length"), inputs.known("weight", "force")
    sideways = inputs.known("horizontal", "force")
    if sideways is None and inputs.is_given("pressure", "force per area"):
        sideways = inputs.quantity("pressure", "force per area") * inputs.quantity("area", "area")
    told = None if sideways is None or weight is None else sway(drop, sideways, weight)
    return {
        "period": Quantity(period(drop), "duration"),
        "sway": Quantity(None if told is None else told.sway, "length"),
        "angle": Quantity(None if told is None else told.angle, "angle"),
    }


def _clearance(inputs: Inputs) -> Outputs:
    spare = spare_room(
        inputs.quantity("spacing", "length"),
        inputs.quantities("half_depths", "length", optional=True),
        inputs.quantities("sways", "length", optional=True),
        inputs.quantity("drift_towards_each_other", "length", 0.0),
    )
    return {
        "spare": Quantity(spare, "length"),
        "touch": spare < 0,
        "status": "over" if spare < 0 else "within",
    }


def _breast_line(inputs: Inputs) -> Outputs | Refused:
    told = breast_line(
        inputs.quantity("weight", "force"),
        inputs.quantity("vertical_below_pick", "length"),
        inputs.quantity("sideways", "length"),
        inputs.quantity("breast_angle_above_horizontal", "angle", 0.0),
    )
    if isinstance(told, Refused):
        return told
    return {
        "breast_tension": Quantity(told.breast, "force"),
        "suspension_tension": Quantity(told.suspension, "force"),
        "suspension_vertical": Quantity(told.suspension_vertical, "force"),
        "suspension_horizontal": Quantity(told.suspension_horizontal, "force"),
        "suspension_angle": Quantity(told.angle, "angle"),
    }


def _centroid(inputs: Inputs) -> Outputs | Refused:
    loads = [_load(load) for load in inputs.parts("loads")]
    told = centroid([weight for weight, _ in loads], [place for _, place in loads])
    if isinstance(told, Refused):
        return told
    return {"total": Quantity(told[0], "force"), "centre": Quantity(told[1], "length")}


def _load(load: Inputs) -> tuple[float, float]:
    """Weight and centre of a load: at a place, even from one place to another, or from one weight per length
    to another."""
    load.word("name")
    kind = load.word("kind", ("point", "uniform", "linear")) or "point"
    if kind == "point":
        return load.quantity("weight", "force"), load.quantity("at", "length")
    start, end = load.quantity("from", "length"), load.quantity("to", "length")
    if kind == "uniform":
        per_length = load.known("weight", "force per length")
        weight = load.quantity("weight", "force") if per_length is None else per_length * (end - start)
        return weight, (start + end) / 2
    first, last = load.quantity("start", "force per length"), load.quantity("end", "force per length")
    return (first + last) / 2 * (end - start), linear_load_centre(start, end, first, last)


def _arbor_lateral_pull(inputs: Inputs) -> Outputs | Refused:
    tensions, grooves = (
        inputs.quantities("line_tensions", "force"),
        inputs.quantities("groove_offsets", "length"),
    )
    if len(tensions) != len(grooves):
        raise ValueError(f"{len(tensions)} tensions and {len(grooves)} grooves do not go together")
    told = lateral_pull(tensions, grooves)
    return told if isinstance(told, Refused) else {"lateral_offset": Quantity(told, "length")}


COMPUTATIONS: Final[dict[str, Computation]] = {
    "trim-heights": _trim_heights,
    "trim-heights-range": _trim_heights,
    "plumb": _plumb,
    "interval-plumb": _interval_plumb,
    "batten-drift": _batten_drift,
    "fleet-angle": _fleet_angle,
    "swing": _swing,
    "clearance": _clearance,
    "breast-line": _breast_line,
    "centroid": _centroid,
    "arbor-lateral-pull": _arbor_lateral_pull,
}
