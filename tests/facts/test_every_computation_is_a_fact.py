"""What a computation of the mechanics is reached by: the facts that rules, reports and `explain` ask for. A
computation without one says why.
"""

import pytest

from plumbtrue.mechanics.cases.computations import COMPUTATIONS
from plumbtrue.rig.vocabulary_loading import load_vocabulary

REACHED_BY = {
    # The batten on its lines.
    "batten-reactions": "lift_line.reaction lift_line.reaction_bare lift_line.reaction_present "
    "lift_line.reaction_hung lift_line.pull_least_hung truss_support.force",
    "batten-stress": "batten.bending_stress batten.bending_utilisation batten.shear_utilisation batten.sag "
    "batten.tip_drop batten.bending_stress_hung batten.sag_hung batten.sag_depth_hung batten.tip_drop_hung",
    "curtain-stack": "lift_line.reaction_hung item.curtain_envelope",
    "influence-line": "lift_line.reaction_hung lift_line.reaction_present line_set.takes_point",
    "interval-reactions": "lift_line.reaction_hung",
    "lost-support": "truss_support.force_with_one_lost item.support_shares",
    "offsets-from-tensions": "lift_line.offset_found",
    "splice-range": "splice.moment splice.moment_hung splice.margin splice.margin_hung",
    "traveller-envelope": "item.curtain_envelope lift_line.reaction_hung",
    "tributary-compare": "lift_line.tributary_share",
    "trim-sensitivity": "lift_line.load_per_turn batten.first_slack",
    "trim-worst-case": "lift_line.reaction_range_over_trim lift_line.reaction_out_of_level "
    "lift_line.pull_least_out_of_level truss_support.force_out_of_step batten.first_slack",
    "turnbuckle-turn": "lift_line.load_per_turn",
    "section-properties": "batten.section batten.second_moment batten.weight_per_length",
    # Rope, stretch and shock.
    "rope-stretch": "rope.stretch rope.stiffness lift_line.goes_down",
    "shock-load": "lift_line.shock_force",
    "rope-condition": "rope.diameter_loss rope.diameter_loss_from_new rope.age rope.smallest_diameter",
    # Counterweight.
    "balance": "line_set.imbalance_computed line_set.out_of_balance arbor.counterweight_needed "
    "arbor.counterweight_for_posted arbor.pipe_weight",
    "interval-balance": "line_set.imbalance_computed balance_sheet.imbalance",
    "brick-stack": "arbor.stack_for_posted arbor.stack_needed arbor.bricks_needed arbor.stack_left_over",
    "load-sequence": "step.imbalance_after step.imbalance_worst_order",
    "load-sequence-energy": "step.energy_at_risk",
    "rope-shift": "line_set.rope_weight_shift line_set.imbalance_over_travel line_set.imbalance_in_show",
    "friction-from-pulls": "line_set.friction",
    "hand-line-pull": "line_set.hand_line_pull line_set.hand_line_pull_expected",
    "runaway": "line_set.run_away_energy line_set.run_away_speed line_set.run_away_stop",
    "rope-lock": "line_set.lock_utilisation line_set.takes_unbalanced",
    "cue-pull": "cue.peak cue.acceleration cue.pull",
    # The load path, chains, slings, angles.
    "load-path": "part.utilisation part.utilisation_hung lift_line.tension_limit lift_line.weakest_part",
    "path-design-factor": "lift_line.design_factor lift_line.design_factor_hung lift_line.rope_limit",
    "chain-wrap": "trim_chain.assembly_capacity trim_chain.legs_angle trim_chain.length_round",
    "chain-choke": "trim_chain.assembly_capacity",
    "sling-leg": "sling.limit",
    "angle-factor": "shackle.reduced_rating eye_bolt.reduced_rating sling.limit",
    # Blocks and what carries them.
    "block-load": "block.resultant block.resultant_hung",
    "block-overturn": "block.clip_uplift",
    "block-underhung": "block.clip_pull",
    "head-block-load": "block.resultant line_set.hand_line_held tension_block.lift",
    "grid-beam": "beam.load_on_beam beam.load_sideways beam.plot_load",
    "bend-efficiency": "block.bend_efficiency block.ratio_to_rope lift_line.least_efficiency",
    "fleet-angle": "block.fleet_angle",
    # Heights and places.
    "trim-heights": "line_set.highest_pipe line_set.highest_pipe_by line_set.block_clearance "
    "lift_line.lost_height item.sight_limit item.bottom_at_highest",
    "trim-heights-range": "line_set.highest_pipe lift_line.stack",
    "plumb": "lift_line.drop_angle lift_line.drop_angle_low lift_line.pull_sideways lift_line.plumb_limit_height",
    "interval-plumb": "lift_line.drop_angle",
    "batten-drift": "lift_line.drift lift_line.drop_angle_drifted",
    "clearance": "pair.gap item.gap",
    "pair-gap": "pair.gap",
    "cut-length": "lift_line.cut_length",
    # Pieces of a show and their points.
    "bridle-two-leg": "bridle_leg.tension bridle_leg.upright bridle_leg.sideways bridle.horizontal "
    "bridle.included_angle point.force_down point.force_sideways",
    "bridle-two-leg-from-lengths": "bridle.apex_from_lengths bridle.apex_off bridle_leg.tension",
    "bridle-three-leg": "bridle_leg.tension bridle.apex_from_lengths",
    "bridle-four-leg": "bridle_leg.tension",
    "point-total": "hoist.load hoist.load_on_point",
    "dynamic-factor": "cue.dynamic_reaction cue.dynamic_utilisation",
    "breast-line": "side_line.tension",
    "curtain-load": "item.weight_from_make_up",
    "weight-from-make-up": "item.weight_from_make_up item.weight_ratio",
    "cable-share": "item.feed_share_change item.feed_slack",
    "draught-swing": "item.draught_swing",
    "swing": "item.draught_swing",
}
"""Names of computations as check cases name them, with kind or class and fact."""

REACHED_BY_NONE = {
    "arbor-lateral-pull": "no house records where the grooves stand from the middle of its arbors",
    "centroid": "reactions take each pull where it is",
    "cut-list": "a plan of purchases, no state of a thing",
    "renewal-plan": "a plan over years, no state of a thing",
    "units": "reading and writing of figures",
    "units-feet-inches": "reading and writing of figures",
}


def test_every_computation_is_in_one_of_both_lists() -> None:
    assert set(COMPUTATIONS) == set(REACHED_BY) | set(REACHED_BY_NONE)
    assert not set(REACHED_BY) & set(REACHED_BY_NONE)


@pytest.mark.parametrize("computation", sorted(REACHED_BY))
def test_the_facts_of_a_computation_are_declared_as_computed(computation: str) -> None:
    vocabulary = load_vocabulary()
    for named in REACHED_BY[computation].split():
        owner, name = named.split(".")
        for kind in vocabulary.kinds_of(owner):
            fact = vocabulary.kinds[kind].facts[name]
            assert fact.is_computed or fact.computed_if_left_out, named
