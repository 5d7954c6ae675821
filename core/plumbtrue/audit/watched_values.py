"""Computed values that a crew acts on, and which way each gets worse.

What is listed here is compared between two revisions; everything else that is computed shows in the findings
that it leads to.
"""

from typing import Final, Literal

from plumbtrue.quantities.unchanging import unchanging

Way = Literal["more", "less", "neither"]


@unchanging
class Watched:
    """A computed fact of a kind of thing."""

    kind: str
    fact: str
    worse: Way
    """Which way it gets worse; neither of what is only to be known, such as a weight to load."""


def _watched(kind: str, worse: Way, *facts: str) -> tuple[Watched, ...]:
    return tuple(Watched(kind, fact, worse) for fact in facts)


WATCHED: Final = (
    *_watched("arbor", "neither", "counterweight_needed", "bricks_needed", "counterweight"),
    *_watched("arbor", "more", "stack_needed", "capacity_utilisation", "stack_utilisation"),
    *_watched("line_set", "neither", "live_load"),
    *_watched("line_set", "more", "posted_utilisation", "load_over_ten_feet", "hand_line_pull"),
    *_watched("line_set", "more", "lock_utilisation", "imbalance_in_show", "out_of_balance"),
    *_watched("line_set", "less", "highest_pipe", "block_clearance"),
    *_watched("line_set", "neither", "show_trim_low", "show_trim_high"),
    *_watched("lift_line", "more", "reaction", "reaction_hung", "reaction_out_of_level"),
    *_watched("lift_line", "less", "pull_least_hung", "pull_least_out_of_level"),
    *_watched("lift_line", "more", "utilisation_hung", "utilisation_out_of_level"),
    *_watched("lift_line", "less", "design_factor", "design_factor_hung"),
    *_watched("lift_line", "neither", "weakest_part"),
    *_watched("batten", "more", "bending_utilisation", "sag", "tip_drop"),
    *_watched("batten", "more", "yield_utilisation_hung", "sag_hung", "tip_drop_hung"),
    *_watched("loft_block", "more", "utilisation", "utilisation_hung"),
    *_watched("head_block", "more", "utilisation", "utilisation_hung"),
    *_watched("beam", "more", "load_on_beam", "load_sideways", "plot_load"),
    *_watched("item", "neither", "total_weight"),
    *_watched("item", "less", "bottom_at_out", "sprinkler_clearance", "fire_curtain_gap"),
    *_watched("cue", "more", "peak", "pull", "dynamic_reaction"),
    *_watched("truss_support", "more", "force", "force_with_one_lost"),
    *_watched("truss", "more", "total_weight"),
    *_watched("hoist", "more", "load", "load_on_point", "load_share"),
    *_watched("bridle", "more", "load", "horizontal", "included_angle"),
    *_watched("bridle_leg", "more", "tension"),
    *_watched("bridle_leg", "less", "angle"),
    *_watched("point", "more", "force_down", "force_sideways"),
    *_watched("plot", "neither", "bricks_needed"),
    *_watched("plot", "less", "bricks_to_spare"),
    *_watched("pair", "less", "gap", "heat_distance"),
)
"""The trade's own view of it (common practice): a limit is neared by more of it, or by less."""
