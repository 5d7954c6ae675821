"""Every computation that a case can name, with the function that runs it."""

from typing import Final

from plumbtrue.mechanics.cases import (
    beam_cases,
    block_cases,
    bridle_cases,
    counterweight_cases,
    geometry_cases,
    load_path_cases,
    renewal_cases,
    show_cases,
    unit_cases,
)
from plumbtrue.mechanics.cases.corners import Merge
from plumbtrue.mechanics.cases.outputs import Computation

COMPUTATIONS: Final[dict[str, Computation]] = {
    **beam_cases.COMPUTATIONS,
    **counterweight_cases.COMPUTATIONS,
    **load_path_cases.COMPUTATIONS,
    **block_cases.COMPUTATIONS,
    **geometry_cases.COMPUTATIONS,
    **bridle_cases.COMPUTATIONS,
    **show_cases.COMPUTATIONS,
    **renewal_cases.COMPUTATIONS,
    **unit_cases.COMPUTATIONS,
}

MERGED: Final[dict[str, Merge]] = {"interval-reactions": beam_cases.merged_bounds}
"""Computations that give bounds themselves, with what they say together when further inputs are ranges."""

RANGED: Final = frozenset({
    "balance", "friction-from-pulls", "rope-shift", "load-path", "path-design-factor", "rope-condition",
    "trim-heights", "trim-heights-range",  "bridle-two-leg-from-lengths", "point-total",
    "dynamic-factor", "curtain-load", "chain-choke", "clearance", "fleet-angle", "cable-share",
    "weight-from-make-up", "pair-gap", "section-properties", "rope-stretch", "shock-load", "turnbuckle-turn",
    "bend-efficiency", "block-overturn", "block-underhung", "chain-wrap", "sling-leg", "angle-factor", "swing",
    "centroid",
})  # fmt: skip
"""Computations that rise or fall with each input throughout, so that a range in them is exact at its
corners. The one exception is the least pull of a bridle leg by its lengths, which may lie between them; the
greatest does not."""
