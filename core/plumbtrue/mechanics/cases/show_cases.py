"""Cases about what a show hangs: curtains, make-up, cable, cues, draughts, neighbours."""

from typing import Final

from plumbtrue.mechanics.cable_feed import cable_share, share_change
from plumbtrue.mechanics.cases.inputs import CannotRunError, Inputs, NotKnownError
from plumbtrue.mechanics.cases.outputs import Computation, Outputs, Quantity
from plumbtrue.mechanics.clearance import Box, pair_gap
from plumbtrue.mechanics.cue_pull import cue_pull
from plumbtrue.mechanics.curtain_weight import Cloth, Fittings, areal_weight, curtain_weight
from plumbtrue.mechanics.draught import draught_swing
from plumbtrue.mechanics.make_up import Stretch, stated_over_computed, weight_from_make_up
from plumbtrue.mechanics.refusal import Refused


def _curtain_load(inputs: Inputs) -> Outputs:
    per_area = _per_area(inputs, "cloth")
    if per_area is None and inputs.is_given("cloth", "force per area"):
        raise NotKnownError("the weight of the cloth")
    if per_area is None:
        raise CannotRunError(
            "missing input cloth_… (weight per area, or per linear length with cloth_width_…)"
        )
    told = curtain_weight(
        Cloth(
            width=inputs.quantity("finished_width", "length"),
            height=inputs.quantity("height", "length"),
            hems=inputs.quantity("hem_and_heading", "length", 0.0),
            fullness=inputs.quantity("fullness", "ratio", 0.0),
            per_area=per_area,
            lining_per_area=_per_area(inputs, "lining") or 0.0,
        ),
        Fittings(
            chain=inputs.quantity("bottom_chain", "force per length", 0.0),
            pipe=inputs.quantity("bottom_pipe", "force per length", 0.0),
            carriers=inputs.quantity("carriers", "force", 0.0),
            track=inputs.quantity("track", "force", 0.0),
        ),
        extra=inputs.quantity("extra", "ratio", 0.0),
    )
    return {
        "cloth": Quantity(per_area, "force per area"),
        "cloth_weight": Quantity(told.cloth, "force"),
        "total": Quantity(told.total, "force"),
        # The key of this value is its unit alone: lb_per_ft, kg_per_m.
        "": Quantity(told.per_width, "force per length"),
    }


def _per_area(inputs: Inputs, goods: str) -> float | None:
    """Areal weight of goods quoted by area, or by linear length with the width of the goods; None where
    nothing is written."""
    by_area = inputs.known(goods, "force per area")
    if by_area is not None or not inputs.is_given(goods, "force per length"):
        return by_area
    return areal_weight(
        inputs.quantity(goods, "force per length"), inputs.quantity(f"{goods}_width", "length")
    )


def _weight_from_make_up(inputs: Inputs) -> Outputs:
    stretches = []
    for part in inputs.parts("make_up"):
        part.word("what")
        stretches.append(
            Stretch(
                area=part.known("area", "area"),
                per_area=part.known("weighs", "force per area"),
                length=part.known("length", "length"),
                per_length=part.known("weighs", "force per length"),
                each=part.known("each", "force"),
                count=part.count("count", 1),
            )
        )
    stated = inputs.known("stated", "force")
    computed = weight_from_make_up(stretches)
    return {
        "computed": Quantity(computed, "force"),
        "ratio": None if stated is None or computed is None else stated_over_computed(stated, computed),
        "status": "unknown" if computed is None else "ok",
    }


def _cable_share(inputs: Inputs) -> Outputs | Refused:
    cable, loop = inputs.quantity("cable", "force per length"), inputs.quantity("loop_length", "length")
    pick, low = inputs.quantity("pick_height", "length"), inputs.quantity("low_trim", "length")
    high = inputs.quantity("high_trim", "length")
    at_low, at_high = cable_share(cable, loop, pick, low), cable_share(cable, loop, pick, high)
    change = share_change(cable, loop, pick, low, high)
    for told in (at_low, at_high, change):
        if isinstance(told, Refused):
            return told
    return {
        "share_at_low_trim": Quantity(at_low, "force"),
        "share_at_high_trim": Quantity(at_high, "force"),
        "change": Quantity(change, "force"),
    }


def _cue_pull(inputs: Inputs) -> Outputs:
    told = cue_pull(
        inputs.quantity("batten_side", "force"),
        inputs.quantity("arbor_side", "force"),
        inputs.quantity("distance", "length"),
        inputs.quantity("time", "duration"),
        purchase=inputs.number("purchase", 1.0),
        imbalance_at_hand_line=inputs.quantity("out_of_balance_at_handline", "force", 0.0),
        friction=inputs.quantity("friction", "force", 0.0),
        peak_speed=inputs.known("peak_speed", "speed"),
    )
    return {
        "peak_speed": Quantity(told.peak_speed, "speed"),
        "acceleration": Quantity(told.acceleration, "acceleration"),
        "to_accelerate": Quantity(told.to_accelerate, "force"),
        "pull": Quantity(told.pull, "force"),
    }


def _draught_swing(inputs: Inputs) -> Outputs:
    told = draught_swing(
        inputs.quantity("air_speed", "speed"),
        inputs.quantity("area", "area"),
        inputs.number("drag_factor"),
        inputs.quantity("weight", "force"),
        inputs.quantity("drop", "length"),
    )
    return {
        "force": Quantity(told.force, "force"),
        "swing": Quantity(told.swing, "length"),
        "angle": Quantity(told.angle, "angle"),
    }


def _pair_gap(inputs: Inputs) -> Outputs:
    boxes = [[_box(box) for box in inputs.parts(which)] for which in ("first", "second")]
    told = pair_gap(boxes[0], boxes[1])
    return {
        "gap": Quantity(None if told is None else told.gap, "length"),
        "between": None if told is None else [box + 1 for box in told.between],
        "status": "no pair" if told is None else "ok",
    }


def _box(box: Inputs) -> Box:
    box.word("name")
    return Box(
        centre=box.quantity("centre", "length"),
        half_depth=box.quantity("half_depth", "length"),
        left=box.quantity("left", "length"),
        right=box.quantity("right", "length"),
        bottom=box.quantity("bottom", "length"),
        top=box.quantity("top", "length"),
    )


COMPUTATIONS: Final[dict[str, Computation]] = {
    "curtain-load": _curtain_load,
    "weight-from-make-up": _weight_from_make_up,
    "cable-share": _cable_share,
    "cue-pull": _cue_pull,
    "draught-swing": _draught_swing,
    "pair-gap": _pair_gap,
}
