"""What is not known never passes, and nothing but what is written decides: laws of the practice pack over
whole rigs, sound ones and ones with a fault.

Turned `unknown`, everything may be: the law holds of every fact, part and thing of a list. Left out, only
what neither a statement "in order" nor a typical thing fills in its place.
"""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any, Final

import pytest
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st
from tests.forgetting import (
    Way,
    at,
    by_key,
    changed_to,
    is_told_elsewhere,
    may_be_left_out,
    names_in,
    near_the_fault,
    outermost,
    parsed,
    rigs,
    shuffled,
    ways,
    widened,
    written,
)
from tests.practice.defects.judged_cases import ON, practice_book

from plumbtrue.audit.auditing import audit
from plumbtrue.audit.house_check import prepare
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.documents.place import CannotRead
from plumbtrue.quantities.values import UNKNOWN
from plumbtrue.rig.reading import read_rig, read_rig_text
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.examples.cases import Case, read_cases
from plumbtrue.rules.judging import carefully
from plumbtrue.rules.language.careful import Careful
from plumbtrue.rules.rule import Rule

SLOW = settings(
    max_examples=40,
    deadline=None,
    # A whole audit is too slow to look for the smallest case that fails.
    phases=[Phase.explicit, Phase.reuse, Phase.generate],
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
RIGS: Final = rigs()
OPEN: Final = (Result.FINDING, Result.UNDETERMINED)
QUIET: Final = (Result.MET, Result.NOT_APPLICABLE)

DOES_WITHOUT: Final[dict[str, str]] = {
    # An arbor's plate leaves out the arbor itself unless it says otherwise.
    "arbor-over-capacity": "arbor.capacity_of",
    "arbor-too-small": "arbor.capacity_of",
    "dp-arbor-too-small": "arbor.capacity_of",
    # Eyes or hands answer; the tool only puts it into figures.
    "arbor-top-not-locked": "arbor.collar_gap",
    "attachment-close-to-edge": "batten_clamp.distance_to_splice",
    "batten-kinked": "batten.ovality",
    "batten-out-of-level": "lift_line.slack_length",
    "fire-curtain-path-blocked": "fire_curtain.from_plaster_line fire_curtain.thickness line_set.from_plaster_line",
    "hardware-damaged": "shackle.least_dimension",
    "lift-line-slack": "lift_line.slack_length",
    "rope-birdcage-or-crush": "reading.across rope.least_over_largest",
    # Eyes along the rope answer where nobody taped; a head block is asked only where somebody did.
    "fleet-angle-over": "mule_block.fleet_offset mule_block.fleet_run head_block.fleet_offset",
    # Somebody walked it with the schedule in hand, and the number of lines is a second look.
    "as-built-mismatch": "line_set.lines_stated lift_line.role",
    # Counted against the drawing, or seen that nothing is lacking: either answers. A bolted block has no clip to
    # gauge, and a sheave in the arbor no mount.
    "underhung-block-fixing-short": "bolts.count bolts.designed loft_block.fixings_lacking loft_block.clip_grip "
    "loft_block.clip_grip_designed arbor_block.mount",
    "upright-block-fixing-short": "bolts.count bolts.designed loft_block.fixings_lacking arbor_block.mount",
    # Another fact answers as well: a grade that was read, a mark that can be read, bricks listed as pipe weight, a
    # gauge, a rope without a jacket, a rope that lies in sight, fibre that wants no hitch.
    "belay-short": "belay.hitch",
    "chain-unmarked": "trim_chain.mark",
    "metal-hidden": "rope.jacket",
    "pipe-weight-unmarked": "arbor.pipe_weight_mark",
    "sleeve-press-count-low": "swage_sleeve.presses_by_maker",
    "termination-over-jacket": "wire_rope_clips.over_jacket",
    # Asked only where a house keeps it.
    "bridge-overloaded": "loading_bridge.posted_limit_total",
    "finding-still-open": "past_finding.closed_by",
    "reconditioning-due": "line_set.planned_year",
    "rope-diameter-loss-discard": "rope.diameter_as_new",
    "rope-diameter-loss-watch": "rope.diameter_as_new",
    "set-parked-out-of-balance": "rope_lock.holds",
    "shackle-side-loaded": "shackle.legs_apart",
    "steel-capacity-unproven": "beam.capacity_paper",
    "yearly-inspection-overdue": "inspection.not_seen",
    # What is not said to be brought or hung belongs to the house, and fixed-gear-unrated asks.
    "hardware-unrated": "arbor_block.belongs_to batten_clamp.belongs_to mule_block.belongs_to head_block.mount "
    "loft_block.mount shackle.working_load_limit",
    # Asked only of hand lines, of parts of a show, and of sets, of which somebody wrote it.
    "rope-not-for-lifting": "rope.sold_for",
    "shackle-pin-not-seated": "shackle.seated",
    "shackle-pin-not-secured": "shackle.mousing",
    "shackle-pin-substituted": "shackle.own_pin",
    "tagged-set-in-use": "line_set.tagged_out",
    # Rules of a show. A graver rule beside it asks for the same fact: what is not known of it is told there.
    "bent-batten-deflection-within-limit": "batten.bow",
    "bridle-leg-flatter-than-45": "bridle_leg.angle",
    "bridle-opens-wide": "bridle.included_angle",
    "cue-pull-is-heavy": "cue.operators cue.pull",
    "cue-runs-unseen": "cue.people_within",
    "curtain-weight-looks-light": "item.utilisation_caused item.weight_ratio",
    "hand-cue-speed-is-reasonable": "cue.peak",
    "stiff-piece-loses-a-point": "truss.over_people",
    "unknowns-about-the-show-are-being-asked": "plot.load_in",
    # Asked only where a house posts, keeps or dates it; one that dates nothing is told by house-history-is-dated.
    "batten-load-far-over-house-limit": "line_set.posted_per_length",
    "batten-load-within-house-limit": "line_set.items line_set.posted_per_length",
    "house-changed-since-accepted": "house.schedule_on line_set.last_event line_set.tagged_out",
    "one-place-one-piece": "line_set.items",
    "set-has-one-owner": "line_set.reserved line_set.use",
    "termination-stops-before-the-block": "line_set.items",
    # A weight stands by itself where nobody wrote what the piece is made of.
    "curtain-weight-follows-its-cloth": "item.weight_ratio",
    "weight-plausible-for-its-make": "item.weight item.weight_from_make_up make_up.area make_up.each make_up.per_area",
    # The figure by run and number counts in every load; a stated one is only held against it.
    "cable-is-in-the-weight": "cable.weight",
    # Legs without lengths are made to fit the apex; their rises are compared with the points.
    "bridle-geometry-closes": "bridle_leg.length",
    # Six feet from the curtain and no line that crosses it: nobody is asked whether a piece is tied to it.
    "fire-curtain-path-is-clear": "item.tied_to_fire_curtain",
    # A certificate without an end holds by its own terms.
    "flame-evidence-for-hung-fabric-and-scenery": "item.flame_paper_until",
    # Cloths are not asked whether they have a motor, nor houses without vents what crosses one.
    "machine-on-a-batten-is-declared": "item.machine_forces",
    "smoke-vents-and-their-lines-are-clear": "item.crosses_release_lines",
    # Six feet is asked where the maker of the track says nothing.
    "track-hangs-as-its-maker-says": "track.hanger_spacing_by_maker",
    # A part of which nothing is known is told by the house's own rules, where they ask for work on the set.
    "line-load-over-a-part": "shackle.utilisation_hung",
    "worst-line-within-capacity-when-out-of-level": "shackle.utilisation_hung",
}
"""Facts without which a rule passes or does not apply though with them it would not: each a decision of the
pack, with its reason. Nothing else may be missing and pass.
"""


def read(text: str) -> Rig:
    return read_rig_text(text, "house.yaml", prepare(third_party=False).vocabulary)


def judged(text: str) -> dict[str, Outcome]:
    return by_key(audit(read(text), practice_book(), ON).outcomes)


@cache
def before(name: str) -> dict[str, Outcome]:
    return judged(RIGS[name])


def judged_or_none(tree: Any) -> dict[str, Outcome]:
    """What comes out of a changed file; a file that can no longer be read judges nothing."""
    try:
        return judged(written(tree))
    except CannotRead:
        assume(False)
        raise


def does_without(rule: str) -> set[str]:
    """Names of facts, whatever the kind."""
    return {fact.partition(".")[2] for fact in DOES_WITHOUT.get(rule, "").split()}


@st.composite
def less_known(draw: st.DrawFn) -> tuple[str, dict[Way, str]]:
    """A rig, and what of it is to be turned unknown or left out: often what makes its fault."""
    name = draw(st.sampled_from(sorted(RIGS)))
    tree = parsed(RIGS[name])
    near = near_the_fault(name, tree)
    one = st.sampled_from(list(ways(tree)))
    chosen = draw(st.lists(st.one_of(st.sampled_from(near), one) if near else one, min_size=1, max_size=3))
    return name, {
        way: draw(st.sampled_from(["unknown", ""])) if may_be_left_out(tree, way) else "unknown"
        for way in outermost(chosen)
    }


@SLOW
@given(less_known())
def test_forgetting_never_makes_a_fault_or_a_question_pass(less: tuple[str, dict[Way, str]]) -> None:
    name, chosen = less
    tree = parsed(RIGS[name])
    forgotten = {fact for way in chosen for fact in names_in(tree, way)}
    after = judged_or_none(changed_to(tree, chosen))
    passed = {
        key
        for key, one in before(name).items()
        if one.result in OPEN
        and key in after
        and after[key].result in QUIET
        and not is_told_elsewhere(after[key])
        and not forgotten & does_without(one.rule)
    }
    assert passed == set()


@st.composite
def blurred(draw: st.DrawFn) -> tuple[str, dict[Way, str]]:
    """A rig, and figures of it written as bounds that hold them."""
    name = draw(st.sampled_from(sorted(RIGS)))
    tree = parsed(RIGS[name])
    figures = [way for way in ways(tree) if widened(at(tree, way))]
    near = [way for way in near_the_fault(name, tree) if way in figures]
    one = st.sampled_from(figures)
    chosen = draw(st.lists(st.one_of(st.sampled_from(near), one) if near else one, min_size=1, max_size=3))
    return name, {way: draw(st.sampled_from(widened(at(tree, way)))) for way in outermost(chosen)}


@SLOW
@given(blurred())
def test_bounds_around_a_figure_never_turn_a_finding_into_met_nor_met_into_a_finding(
    wide: tuple[str, dict[Way, str]],
) -> None:
    name, chosen = wide
    after = judged_or_none(changed_to(parsed(RIGS[name]), chosen))
    turned = {
        key
        for key, one in before(name).items()
        if not is_told_elsewhere(one)
        and key in after
        and not is_told_elsewhere(after[key])
        and one.result is not Result.UNDETERMINED
        and after[key].result not in (one.result, Result.UNDETERMINED)
    }
    assert turned == set()


def results(outcomes: dict[str, Outcome]) -> dict[str, Result]:
    """What came out; the words of a finding may name lines in the order in which they were written."""
    return {key: one.result for key, one in outcomes.items()}


@settings(SLOW, max_examples=20)
@given(name=st.sampled_from(sorted(RIGS)), order=st.randoms(use_true_random=False))
def test_the_order_of_keys_never_matters(name: str, order: Any) -> None:
    assert results(judged(written(shuffled(parsed(RIGS[name]), order)))) == results(before(name))


@settings(SLOW, max_examples=10)
@given(name=st.sampled_from(sorted(RIGS)), order=st.permutations(["typical", "house", "line_sets"]))
def test_the_order_of_files_never_matters(
    name: str, order: list[str], tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder: Path = tmp_path_factory.mktemp("house")
    tree = parsed(RIGS[name])
    order = [part for part in order if part in tree]
    for part in order:
        (folder / f"part-{part}.yaml").write_text(written({part: tree[part]}), encoding="utf-8")
    main = {"plumbtrue": tree["plumbtrue"], "include": [f"part-{part}.yaml" for part in order]}
    (folder / "house.yaml").write_text(written(main), encoding="utf-8")
    rig = read_rig(folder / "house.yaml", prepare(third_party=False).vocabulary)
    assert results(by_key(audit(rig, practice_book(), ON).outcomes)) == results(before(name))


RULES: Final = {rule.slug: rule for rule in practice_book().rules}


@pytest.mark.parametrize("slug", sorted(RULES))
def test_no_example_passes_for_want_of_a_fact_but_by_decision(slug: str) -> None:
    """Every fact of every example that is a finding or a question, forgotten by itself."""
    assert passing_without(RULES[slug]) == set(DOES_WITHOUT.get(slug, "").split()), (
        "a fact without which this rule passes has its reason in DOES_WITHOUT, or the rule asks for it"
    )


def passing_without(rule: Rule) -> set[str]:
    found = set()
    for case in read_cases(rule, practice_book().vocabulary, []):
        if case.expected in OPEN:
            found |= {fact for fact, result in each_fact_forgotten(rule, case) if result in QUIET}
    return found


def each_fact_forgotten(rule: Rule, case: Case) -> Iterator[tuple[str, Result]]:
    """What comes out of an example as each of its facts in turn is unknown."""
    for thing in below(case.rig.house):
        for name, recorded in list(thing.facts.items()):
            held = thing.parts.pop(name, None)
            thing.facts[name] = replace(recorded, value=UNKNOWN)
            yield f"{thing.kind.name}.{name}", carefully(rule, Careful(case.facts(), case.thing)).result
            thing.facts[name] = recorded
            if held is not None:
                thing.parts[name] = held


def below(thing: Thing) -> Iterator[Thing]:
    yield thing
    for held in thing.parts.values():
        for one in held if isinstance(held, tuple) else (held,):
            if isinstance(one, Thing):
                yield from below(one)


def test_every_rule_that_does_without_something_is_a_rule() -> None:
    assert DOES_WITHOUT.keys() <= RULES.keys()
