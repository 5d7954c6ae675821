"""What holds for every computed fact: it is declared and bound, it names its authority, and it knows less
when less is written.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import inf
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.facts.rigs_in_text import BRICKS, ON, Asked, a_set

from plumbtrue.documents.place import Place
from plumbtrue.facts.answer import Answer
from plumbtrue.facts.computed import COMPUTATIONS, FINDERS
from plumbtrue.facts.computed.batten_at_load import BattenAtLoad
from plumbtrue.facts.computed.hung_batten import HungBatten
from plumbtrue.facts.computed.load_cases import LoadCase
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds, same
from plumbtrue.quantities.values import UNKNOWN, Choice
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Fact
from plumbtrue.rig.vocabulary_loading import load_vocabulary


def declared() -> set[tuple[str, str]]:
    vocabulary = load_vocabulary()
    owned = [(one.name, one.facts) for one in vocabulary.kinds.values()]
    owned += [(one.name, one.facts) for one in vocabulary.classes.values()]
    return {
        (owner, fact.name)
        for owner, facts in owned
        for fact in facts.values()
        if fact.declared_in == owner and (fact.is_computed or fact.computed_if_left_out)
    }


def bound() -> set[tuple[str, str]]:
    return set(COMPUTATIONS) | set(FINDERS)


def test_every_declared_fact_is_bound() -> None:
    """A class's fact may be bound kind by kind, as the efficiency of each sort of rope end is."""
    for owner, name in declared():
        kinds = load_vocabulary().kinds_of(owner)
        by_kind = {kind for kind, bound_name in bound() if bound_name == name}
        assert (owner, name) in bound() or kinds <= by_kind, (owner, name)


def test_every_bound_fact_is_declared() -> None:
    for owner, name in bound():
        facts = [load_vocabulary().kinds[kind].facts.get(name) for kind in load_vocabulary().kinds_of(owner)]
        assert facts, owner
        assert all(fact is not None and (fact.is_computed or fact.computed_if_left_out) for fact in facts), (
            owner,
            name,
        )


WRITTEN = a_set(
    more="""rope_lock: {holds: 50 lb}
imbalance: 10 lb
heavy_side: arbor
usual_trim: 20'-0\"
pull_to_raise: 20 lb
pull_to_lower: 10 lb
built: 1962
reconditioned: none
from_plaster_line: 13'-8\"
hand_line: {rope: {family: polyester, diameter: 3/4 in, installed: 2021}}
dead_ends: [{of: line 1, fixed_to: steel, working_load_limit: 2000 lb}]""",
    splices="[{at: 13'-0\", type: sleeve-bolted, moment_capacity: 489 ft-lb}]",
    except_="{lines: [2], pick_off_along: 4 in, pick_off_across: 0 in, measured_with: held, "
    "slack_length: none, rope: {length: 75'-0\", diameter_as_new: 0.254 in, "
    "readings: [{place: lower, across: [0.249 in, 0.250 in]}]}}",
)


def rig() -> Asked:
    lines = "\n    ".join(WRITTEN.splitlines())
    return Asked(
        f"plumbtrue: rig/1\nhouse:\n  name: x\n  batten_zero: stage-right\n  events: none\n  {BRICKS}\n"
        f"  inspections: [{{key: w, on: 2025-04-10, by: a, qualification: qualified, how: with-tools}}]\n"
        f"line_sets:\n  - number: 14\n    {lines}\n",
        ON,
    )


def computed_of(facts: Facts, house: Thing) -> dict[tuple[str, str], Answer]:
    """Every computed fact of every thing that the set's own way of hanging has anything to do with."""
    return {
        (thing.path, fact.name): facts.answer(thing, fact.name)
        for thing in house.below()
        if thing.line_set is not None
        for fact in _computed(thing)
    }


def _computed(thing: Thing) -> list[Fact]:
    return [
        fact
        for fact in thing.kind.facts.values()
        if fact.is_computed and fact.type not in ("thing", "list of things")
    ]


BEFORE = rig()
EVERYTHING = computed_of(BEFORE.facts, BEFORE.rig.house)
WRITTEN_FACTS = sorted(
    {
        (thing.path, name)
        for thing in BEFORE.rig.house.below()
        for name in thing.facts
        if name not in ("number", "mark", "key")
    }
)


def _value(written: tuple[str, str]) -> object:
    return BEFORE.thing(written[0]).facts[written[1]].value


def narrower(less: Answer, more: Answer) -> bool:
    """Whether the answer with less written is the narrower one."""
    if less.value == UNKNOWN:
        return False
    if more.value == UNKNOWN:
        return True
    if isinstance(less.value, Bounds) and isinstance(more.value, Bounds):
        width = less.value.high - less.value.low
        wide = more.value.high - more.value.low
        return width < wide and not same(width, wide)
    if isinstance(less.value, Choice) and isinstance(more.value, Choice):
        return len(less.value.possible) < len(more.value.possible)
    return False


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(WRITTEN_FACTS))
def test_nobody_knows_more_by_knowing_less(forgotten: tuple[str, str]) -> None:
    """One written fact turned into "unknown" never makes a computed one narrower, nor an unknown one known.

    Left out instead, a statement "in order" or a table may take its place; an `unknown` stands.
    """
    after = rig()
    path, name = forgotten
    thing = after.thing(path)
    thing.facts[name] = replace(thing.facts[name], value=UNKNOWN)
    told = computed_of(after.facts, after.rig.house)
    tighter = {key for key, answer in told.items() if narrower(answer, EVERYTHING[key])}
    assert not tighter, (forgotten, tighter)


@settings(max_examples=25, deadline=None)
@given(st.sampled_from([one for one in WRITTEN_FACTS if isinstance(_value(one), Bounds)]))
def test_a_figure_that_becomes_vague_keeps_the_truth_within_bounds(blurred: tuple[str, str]) -> None:
    """Write a figure as a range around it, and what was computed before lies within what is computed now."""
    after = rig()
    path, name = blurred
    thing = after.thing(path)
    old = thing.facts[name]
    assert isinstance(old.value, Bounds)
    spread = 0.01 * max(abs(old.value.low), abs(old.value.high))
    thing.facts[name] = replace(old, value=Bounds(old.value.low - spread, old.value.high + spread))
    for key, answer in computed_of(after.facts, after.rig.house).items():
        before = EVERYTHING[key].value
        if isinstance(answer.value, Bounds) and isinstance(before, Bounds):
            low_slack, high_slack = (1e-6 * abs(one) + 1e-12 for one in (before.low, before.high))
            assert before.low == -inf or answer.value.low <= before.low + low_slack, (blurred, key)
            assert before.high == inf or answer.value.high >= before.high - high_slack, (blurred, key)
            assert before.low != -inf or answer.value.low == -inf, (blurred, key)
            assert before.high != inf or answer.value.high == inf, (blurred, key)


@settings(max_examples=15, deadline=None)
@given(st.randoms(use_true_random=False))
def test_the_order_of_questions_is_of_no_account(random: Random) -> None:
    """Asked in any order, every fact has the same answer."""
    keys = list(EVERYTHING)
    random.shuffle(keys)
    after = rig()
    for path, name in keys:
        assert after.answer(path, name).value == EVERYTHING[path, name].value


def test_every_figure_says_on_whose_authority() -> None:
    for (path, name), answer in EVERYTHING.items():
        if isinstance(answer.value, Bounds) and answer.recorded is None:
            assert answer.working is not None, (path, name)
            assert answer.working.source, (path, name)
            assert answer.working.formula, (path, name)
            assert answer.working.result == answer.value, (path, name)


def test_what_is_unknown_says_why() -> None:
    for (path, name), answer in EVERYTHING.items():
        if answer.value == UNKNOWN:
            assert answer.missing or answer.refusal, (path, name)


def test_most_of_a_well_described_set_is_known() -> None:
    """So that the properties above are not about unknowns only."""
    of_plot = {
        name for kind in load_vocabulary().kinds.values() for name, one in kind.facts.items() if one.of_plot
    }
    asked = {key: answer for key, answer in EVERYTHING.items() if key[1] not in of_plot}
    known = [key for key, answer in asked.items() if answer.value != UNKNOWN]
    assert len(known) > 0.75 * len(asked)


def test_a_fact_is_worked_out_once_however_often_it_is_used(monkeypatch: pytest.MonkeyPatch) -> None:
    from plumbtrue.facts.computed import batten_solving

    solved: list[str] = []
    original = batten_solving.at_load

    def counted(hung: HungBatten, cases: Sequence[LoadCase]) -> BattenAtLoad:
        solved.append(cases[0].label)
        return original(hung, cases)

    monkeypatch.setattr(batten_solving, "at_load", counted)
    asked = rig()
    for _ in range(2):
        computed_of(asked.facts, asked.rig.house)
    assert sorted(solved) == ["bare batten", "posted load spread over the batten"]


@pytest.mark.parametrize("kind", sorted(load_vocabulary().kinds))
def test_a_thing_by_itself_is_unknown_never_a_crash(kind: str) -> None:
    """An example of a rule writes one thing with nothing around it."""
    vocabulary = load_vocabulary()
    alone = Thing(vocabulary.kinds[kind], kind, Place("test.yaml", 1, 1))
    facts = Facts(BEFORE.rig, ON)
    for fact in alone.kind.facts.values():
        if (alone.kind.name, fact.name) in bound() or not fact.is_computed:
            facts.answer(alone, fact.name)
    for name in {name for owner, name in bound() if alone.kind.name in vocabulary.kinds_of(owner)}:
        answer = facts.answer(alone, name)
        assert answer.value != UNKNOWN or answer.missing or answer.refusal, name
