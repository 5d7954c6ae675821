"""Cases about blocks, head blocks, and rope bent over them."""

from math import cos, sin
from typing import Final

from plumbtrue.mechanics.bend_efficiency import bend_efficiency
from plumbtrue.mechanics.blocks import block_resultant, overturning, underhung_clips
from plumbtrue.mechanics.cases.inputs import Inputs
from plumbtrue.mechanics.cases.outputs import Computation, Outputs, Quantity
from plumbtrue.mechanics.head_block import head_block_load
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.sheave_ratio import pitch_ratio, tread_ratio


def _block_load(inputs: Inputs) -> Outputs:
    tension = inputs.quantity("tension_in", "force")
    told = block_resultant(
        tension,
        # Without a word of friction, both parts pull alike.
        inputs.quantity("tension_out", "force", tension),
        inputs.quantity("wrap", "angle"),
    )
    return {"resultant": Quantity(told.force, "force"), "factor": told.factor}


def _block_overturn(inputs: Inputs) -> Outputs:
    told = overturning(
        inputs.quantity("vertical", "force"),
        inputs.quantity("horizontal", "force"),
        inputs.quantity("axle_height", "length"),
        inputs.quantity("base_behind", "length"),
        inputs.quantity("base_ahead", "length"),
    )
    return {
        "uplift_at_rear_clips": Quantity(told.uplift, "force"),
        "pressure_on_steel": Quantity(told.pressure, "force"),
        "status": "clips in tension" if told.clips_in_tension else "held down by its own load",
    }


def _block_underhung(inputs: Inputs) -> Outputs:
    told = underhung_clips(
        inputs.quantity("vertical", "force"),
        inputs.quantity("horizontal", "force"),
        inputs.quantity("axle_below", "length"),
        inputs.quantity("clip_spacing", "length"),
    )
    return {"rear_clips": Quantity(told.rear, "force"), "front_clips": Quantity(told.front, "force")}


def _head_block_load(inputs: Inputs) -> Outputs:
    tied_off = []
    for line in inputs.parts("tied_off", optional=True):
        pull, fall = line.quantity("tension", "force"), line.quantity("below_horizontal", "angle")
        tied_off.append((pull * sin(fall), pull * cos(fall)))
    told = head_block_load(
        inputs.quantities("line_tensions", "force"),
        inputs.quantity("hand_line_tension_each_side", "force", 0.0),
        purchase=inputs.number("purchase", 1.0),
        fall=inputs.quantity("lines_fall_towards_loft", "angle", 0.0),
        tied_off=tied_off,
    )
    return {
        "head_block_vertical": Quantity(told.block_vertical, "force"),
        "head_block_horizontal": Quantity(told.block_horizontal, "force"),
        "head_block_resultant": Quantity(told.block_resultant, "force"),
        "head_beam_vertical": Quantity(told.beam_vertical, "force"),
        "head_beam_horizontal": Quantity(told.beam_horizontal, "force"),
        "head_beam_resultant": Quantity(told.beam_resultant, "force"),
    }


def _bend_efficiency(inputs: Inputs) -> Outputs:
    tread, rope = inputs.quantity("tread_diameter", "length"), inputs.quantity("rope_diameter", "length")
    told = bend_efficiency(tread, rope)
    found = {"ratio": tread_ratio(tread, rope), "pitch_ratio": pitch_ratio(tread, rope)}
    if isinstance(told, Refused):
        return {
            **found,
            "table_efficiency": None,
            "formula_efficiency": None,
            "efficiency_used": None,
            "status": told.standing,
            "reason": told.reason,
        }
    return {
        **found,
        "table_efficiency": told.by_table,
        "formula_efficiency": told.by_formula,
        "efficiency_used": told.used,
        "status": "ok",
    }


COMPUTATIONS: Final[dict[str, Computation]] = {
    "block-load": _block_load,
    "block-overturn": _block_overturn,
    "block-underhung": _block_underhung,
    "head-block-load": _head_block_load,
    "bend-efficiency": _bend_efficiency,
}
