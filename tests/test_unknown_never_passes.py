"""What is not known never passes, and nothing but what is written decides: laws of the practice pack over
whole rigs, sound ones and ones with a fault.

Turned `unknown`, everything may be: the law holds of every fact, part and thing of a list. Left out, only
what neither a statement "in order" nor a typical thing fills in its place.
"""

from collections.abc import Iterator
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
from plumbtrue.facts.store import PART_TYPES
from plumbtrue.quantities.values import UNKNOWN
from plumbtrue.rig.reading import read_rig, read_rig_text
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.thing import Recorded, Thing
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
    "rope-birdcage-or-crush": "reading.across rope.least_over_largest rope.readings",
    # Eyes along the rope answer where nobody taped; a head block is asked only where somebody did.
    "fleet-angle-over": "mule_block.fleet_offset mule_block.fleet_run head_block.fleet_offset",
    # Somebody walked it with the schedule in hand, and the number of lines is a second look.
    "as-built-mismatch": "line_set.lines_stated lift_line.role",
    # Counted against the drawing, or seen that nothing is lacking: either answers. A bolted block has no clip to
    # gauge, and a sheave in the arbor no mount.
    "underhung-block-fixing-short": "bolts.count bolts.designed loft_block.bolts loft_block.fixings_lacking "
    "loft_block.clip_grip loft_block.clip_grip_designed arbor_block.mount",
    "upright-block-fixing-short": "bolts.count bolts.designed loft_block.bolts loft_block.fixings_lacking "
    "arbor_block.mount",
    # Another fact answers as well: a grade that was read, a mark that can be read, bricks listed as pipe weight, a
    # gauge, a look at the arbor's top, a rope without a jacket, a rope that lies in sight, fibre that wants no hitch.
    "belay-short": "belay.hitch",
    "chain-unmarked": "trim_chain.mark",
    "metal-hidden": "rope.jacket",
    "pick-shared-at-arbor": "arbor.attachments",
    "pipe-weight-unmarked": "arbor.pipe_weight_mark",
    "sleeve-press-count-low": "swage_sleeve.presses_by_maker",
    "termination-over-jacket": "wire_rope_clips.over_jacket",
    # Asked only where a house keeps it.
    "bridge-overloaded": "loading_bridge.posted_limit_total",
    "finding-still-open": "past_finding.closed_by",
    "reconditioning-due": "line_set.planned_year",
    "rope-diameter-loss-discard": "rope.diameter_as_new",
    "rope-diameter-loss-watch": "rope.diameter_as_new",
    "set-parked-out-of-balance": "line_set.rope_lock rope_lock.holds",
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
    # Rules of a show. Two figures contradict one another; without one of them the other holds in every load, and it
    # is the catalogue's word that a piece of which nobody wrote the make is not compared with it.
    "weight-plausible-for-its-make": "item.make_up item.weight item.weight_from_make_up make_up.area make_up.each "
    "make_up.per_area",
    # A house that keeps no dated history is told by house-history-is-dated to keep one; the catalogue asks no more.
    "house-changed-since-accepted": "line_set.alterations",
    # A piece is placed by its picks, its lamps or its panels. Of one that lists some of them, the others may be left
    # out; one that lists none has no pulls on the pipe, which is a finding of the first of these rules.
    "item-place-is-known": "item.loads item.units",
    "point-load-within-house-limit": "item.loads item.units",
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
        for name in sorted({*thing.facts, *thing.parts, *thing.references}):
            held: list[dict[str, Any]] = [thing.facts, thing.parts, thing.references]
            before = [one.pop(name, None) for one in held]
            thing.facts[name] = Recorded(UNKNOWN, "unknown", thing.place)
            if thing.kind.facts[name].type in PART_TYPES:
                thing.parts[name] = UNKNOWN
            yield f"{thing.kind.name}.{name}", carefully(rule, Careful(case.facts(), case.thing)).result
            for one in held:
                one.pop(name, None)
            for one, was in zip(held, before, strict=True):
                if was is not None:
                    one[name] = was


def below(thing: Thing) -> Iterator[Thing]:
    yield thing
    for held in thing.parts.values():
        for one in held if isinstance(held, tuple) else (held,):
            if isinstance(one, Thing):
                yield from below(one)


def test_every_rule_that_does_without_something_is_a_rule() -> None:
    assert DOES_WITHOUT.keys() <= RULES.keys()
