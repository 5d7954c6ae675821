"""What is not known never passes: the three answers of every operator, in any order of its operands, and
of lists that may be longer.
"""

from contextlib import suppress
from itertools import product

import pytest
from tests.language.small_rig import Rig, claimed, meant, scope, thing

from plumbtrue.facts.store import NotExact
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.values import NONE, UNKNOWN, Choice, Each, Name, Value, WordSet
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.language.careful import evaluate
from plumbtrue.rules.language.environment import RuleError
from plumbtrue.rules.language.explaining import explained
from plumbtrue.rules.language.fast import compile_fast
from plumbtrue.rules.language.results import Evaluated

HOLDS, FAILS, CANNOT_TELL = Truth.HOLDS, Truth.FAILS, Truth.CANNOT_TELL
RIG = Rig()
exactly = Bounds.exactly


def word(said: str) -> Choice:
    return Choice(frozenset({said}))


def asked(text: str, this: Thing) -> Evaluated:
    """The careful answer; the fast one, where there is one, is the same."""
    meaning = meant(text, this.kind.name)
    found = evaluate(meaning, RIG, this)
    with suppress(NotExact):
        assert Truth.of(compile_fast(meaning)(RIG, this)) is found.truth
    return found


def answer(text: str, this: Thing) -> Truth:
    return asked(text, this).truth


CHAINS: dict[Truth, Value] = {HOLDS: exactly(3), FAILS: exactly(1), CANNOT_TELL: UNKNOWN}
"""Values of wraps for which `wraps > 2` holds, fails and cannot be told."""
ENDS: dict[Truth, Value] = {HOLDS: word("yes"), FAILS: word("no"), CANNOT_TELL: UNKNOWN}
# Kleene's strong tables (Introduction to Metamathematics, 1952, section 64; from memory), written out and
# not computed.
AND = {
    (HOLDS, HOLDS): HOLDS,
    (HOLDS, FAILS): FAILS,
    (HOLDS, CANNOT_TELL): CANNOT_TELL,
    (FAILS, HOLDS): FAILS,
    (FAILS, FAILS): FAILS,
    (FAILS, CANNOT_TELL): FAILS,
    (CANNOT_TELL, HOLDS): CANNOT_TELL,
    (CANNOT_TELL, FAILS): FAILS,
    (CANNOT_TELL, CANNOT_TELL): CANNOT_TELL,
}
OR = {
    (HOLDS, HOLDS): HOLDS,
    (HOLDS, FAILS): HOLDS,
    (HOLDS, CANNOT_TELL): HOLDS,
    (FAILS, HOLDS): HOLDS,
    (FAILS, FAILS): FAILS,
    (FAILS, CANNOT_TELL): CANNOT_TELL,
    (CANNOT_TELL, HOLDS): HOLDS,
    (CANNOT_TELL, FAILS): CANNOT_TELL,
    (CANNOT_TELL, CANNOT_TELL): CANNOT_TELL,
}
NOT = {HOLDS: FAILS, FAILS: HOLDS, CANNOT_TELL: CANNOT_TELL}


@pytest.mark.parametrize(("left", "right"), list(product(Truth, Truth)))
def test_and_and_or_in_both_orders(left: Truth, right: Truth) -> None:
    chain = thing("trim_chain", wraps=CHAINS[left], secured=ENDS[right])
    assert answer("wraps > 2 and secured is yes", chain) is AND[left, right]
    assert answer("secured is yes and wraps > 2", chain) is AND[left, right]
    assert answer("wraps > 2 or secured is yes", chain) is OR[left, right]
    assert answer("secured is yes or wraps > 2", chain) is OR[left, right]


@pytest.mark.parametrize("truth", list(Truth))
def test_not(truth: Truth) -> None:
    assert answer("not wraps > 2", thing("trim_chain", wraps=CHAINS[truth])) is NOT[truth]


@pytest.mark.parametrize("truths", list(product(Truth, repeat=3)))
def test_every_and_some_are_long_ands_and_ors(truths: tuple[Truth, ...]) -> None:
    lines = tuple(thing("lift_line", rope=thing("rope", diameter=CHAINS[truth])) for truth in truths)
    line_set = thing("line_set", lift_lines=lines)
    three = truths[0], truths[1], truths[2]
    expected_every = AND[AND[three[0], three[1]], three[2]]
    expected_some = OR[OR[three[0], three[1]], three[2]]
    assert answer("every l in lift_lines has (l.rope.diameter > 2 m)", line_set) is expected_every
    assert answer("some l in lift_lines has (l.rope.diameter > 2 m)", line_set) is expected_some
    assert answer("no l in lift_lines has (l.rope.diameter > 2 m)", line_set) is NOT[expected_some]


LISTS = [
    pytest.param((), False, HOLDS, FAILS, id="an empty list that is whole"),
    pytest.param((HOLDS,), False, HOLDS, HOLDS, id="whole, all hold"),
    pytest.param((), True, CANNOT_TELL, CANNOT_TELL, id="nothing known but that something is there"),
    pytest.param((HOLDS,), True, CANNOT_TELL, HOLDS, id="one holds, another is not known"),
    pytest.param((FAILS,), True, FAILS, CANNOT_TELL, id="one fails, another is not known"),
]


@pytest.mark.parametrize(("truths", "longer", "every", "some"), LISTS)
def test_a_list_that_may_be_longer_is_never_taken_as_whole(
    truths: tuple[Truth, ...], longer: bool, every: Truth, some: Truth
) -> None:
    roles = [word("lift" if one is HOLDS else "spare") for one in truths]
    line_set = thing("line_set", lift_lines=tuple(thing("lift_line", role=role) for role in roles))
    line_set.unlisted |= {"lift_lines"} if longer else set()
    assert answer("every l in lift_lines has (l.role is lift)", line_set) is every
    assert answer("some l in lift_lines has (l.role is lift)", line_set) is some
    assert answer("no l in lift_lines has (l.role is lift)", line_set) is NOT[some]


def test_a_list_that_nobody_wrote_is_unknown_and_one_that_is_none_is_empty() -> None:
    text = "every w in weights has (w.weight < 100 lb)"
    assert answer(text, thing("arbor")) is CANNOT_TELL
    assert answer(text, thing("arbor", weights=NONE)) is HOLDS
    assert answer("weights is none", thing("arbor", weights=())) is HOLDS


def test_a_list_with_something_unidentified_in_it_is_not_none() -> None:
    arbor = thing("arbor", weights=())
    arbor.unlisted.add("weights")
    assert answer("weights is none", arbor) is FAILS


def test_a_count_and_a_sum_over_a_list_that_may_be_longer_are_lower_bounds() -> None:
    arbor = thing(
        "arbor", weights=tuple(thing("weights", weight=exactly(100.0), count=exactly(2)) for _ in range(3))
    )
    arbor.unlisted.add("weights")
    assert answer("count of w in weights >= 3", arbor) is HOLDS
    assert answer("count of w in weights <= 3", arbor) is CANNOT_TELL
    assert answer("sum of w.weight * w.count for w in weights > 599 N", arbor) is HOLDS
    assert answer("sum of w.weight for w in weights < 400 N", arbor) is CANNOT_TELL
    assert answer("sum of w.weight - 1 N for w in weights > 100 N", arbor) is CANNOT_TELL


def test_a_part_whose_weight_is_unknown_can_only_add_to_a_sum() -> None:
    arbor = thing("arbor", weights=(thing("weights", weight=exactly(100.0)), thing("weights")))
    found = asked("sum of w.weight for w in weights > 99 N", arbor)
    assert found.truth is HOLDS
    assert answer("sum of w.weight for w in weights < 200 N", arbor) is CANNOT_TELL


def test_what_may_be_meant_or_not_counts_both_ways() -> None:
    lines = (thing("lift_line", role=word("lift")), thing("lift_line"))
    line_set = thing("line_set", lift_lines=lines)
    assert answer("count of l in lift_lines where (l.role is lift) >= 1", line_set) is HOLDS
    assert answer("count of l in lift_lines where (l.role is lift) = 2", line_set) is CANNOT_TELL
    assert (
        answer("every l in lift_lines where (l.role is lift) has (l.rope is none)", line_set) is CANNOT_TELL
    )


def test_a_least_or_greatest_of_what_may_be_meant_moves_one_way_only() -> None:
    sure = thing("weights", weight=exactly(100.0), count=exactly(1))
    arbor = thing(
        "arbor",
        weights=(sure, thing("weights", weight=exactly(50.0)), thing("weights", weight=exactly(200.0))),
    )
    meant = "w.weight for w in weights where (w.count = 1)"
    assert answer(f"least of {meant} <= 100 N", arbor) is HOLDS
    assert answer(f"least of {meant} < 60 N", arbor) is CANNOT_TELL
    assert answer(f"greatest of {meant} >= 100 N", arbor) is HOLDS
    assert answer(f"greatest of {meant} < 150 N", arbor) is CANNOT_TELL


def test_there_is_no_least_of_nothing() -> None:
    found = asked("least of w.weight for w in weights < 1 lb", thing("arbor", weights=NONE))
    assert found.truth is CANNOT_TELL
    assert found.missing[0].why == "there is none to take it from"


def test_bounds_are_told_only_at_their_worst_end() -> None:
    chain = thing("trim_chain", distance_to_pipe_end=Bounds(0.2, 0.3))
    assert answer("distance_to_pipe_end < 0.31 m", chain) is HOLDS
    assert answer("distance_to_pipe_end < 0.25 m", chain) is CANNOT_TELL
    assert answer("distance_to_pipe_end < 0.2 m", chain) is FAILS


def test_exactly_the_limit_is_neither_over_nor_under_it() -> None:
    """5 % of a quarter inch, worked out in floats, is not over 5 %; 1e-9 of it more is taken as the same
    figure.
    """
    rope = thing("rope", diameter=exactly(0.25 * 0.0254), diameter_now=exactly(0.2375 * 0.0254))
    assert answer("(diameter - diameter_now) / diameter > 5 %", rope) is FAILS
    assert answer("(diameter - diameter_now) / diameter >= 5 %", rope) is HOLDS
    assert answer("diameter_now < 0.95 * diameter", rope) is FAILS
    assert answer("diameter = 1/4 in and diameter <= 6.35 mm", rope) is HOLDS


def test_a_minus_before_a_temperature_belongs_to_its_figure() -> None:
    weights = thing("weights", heat=exactly(270.0))  # 3.15 degrees below freezing
    assert answer("heat < -3 degC", weights) is HOLDS
    assert answer("heat < -5 degC", weights) is FAILS


def test_none_is_known_to_word_tests_and_no_figure_to_comparisons() -> None:
    chain = thing("trim_chain", keeper_bolt=NONE, working_load_limit=NONE)
    assert answer("keeper_bolt is none", chain) is HOLDS
    assert answer("keeper_bolt is fitted", chain) is FAILS
    assert answer("keeper_bolt not in [fitted, loose]", chain) is HOLDS
    assert answer("working_load_limit < 1 lb", chain) is CANNOT_TELL
    found = asked("working_load_limit * 2 < 1 lb", chain)
    assert [(one.fact, one.why) for one in found.missing] == [("working_load_limit", "recorded as none")]
    assert answer("working_load_limit is not none and working_load_limit < 1 lb", chain) is FAILS


def test_what_belongs_to_something_that_is_not_there_cannot_be_compared() -> None:
    line_set = thing("line_set", arbor=NONE)
    assert answer("arbor.capacity > 1 lb", line_set) is CANNOT_TELL
    assert answer("arbor.capacity is none", line_set) is HOLDS
    assert answer("arbor is none or arbor.capacity > 1 lb", line_set) is HOLDS
    assert answer("every w in arbor.weights has (w.weight > 1 lb)", line_set) is CANNOT_TELL
    assert answer("arbor.weights is none", line_set) is HOLDS


def test_a_part_outside_any_line_is_told_from_one_in_a_line() -> None:
    chain = thing("trim_chain")
    assert answer("lift_line.rope.diameter > 1 in", chain) is CANNOT_TELL
    assert answer("within lift_line and lift_line.rope.diameter > 1 in", chain) is FAILS
    found = asked("lift_line.rope.diameter > 1 in", chain)
    assert found.missing[0].why == "it lies in no lift line"


def test_a_word_that_may_be_one_of_several() -> None:
    chain = thing(
        "trim_chain",
        attachment=Choice(frozenset({"wrap", "clamp"})),
        keeper_bolt=Choice(frozenset({"fitted"}), True),
    )
    assert answer("attachment in [wrap, clamp]", chain) is HOLDS
    assert answer("attachment is wrap", chain) is CANNOT_TELL
    assert answer("attachment is two-part", chain) is FAILS
    assert answer("keeper_bolt is fitted", chain) is CANNOT_TELL
    assert answer("keeper_bolt is loose", chain) is FAILS


def test_words_that_perhaps_apply() -> None:
    chain = thing("trim_chain", damage=WordSet(frozenset({"bent"}), frozenset({"crack"})))
    assert answer("damage includes bent", chain) is HOLDS
    assert answer("damage includes crack", chain) is CANNOT_TELL
    assert answer("damage excludes worn", chain) is HOLDS
    assert answer("damage is none", chain) is FAILS
    assert answer("damage is none", thing("trim_chain", damage=WordSet(frozenset()))) is HOLDS


CLIPS: dict[str, tuple[Value, Truth, Truth, Truth]] = {
    "all alike": (Each((word("forged"), word("forged"))), HOLDS, HOLDS, FAILS),
    "one differs": (Each((word("forged"), word("malleable"))), CANNOT_TELL, FAILS, HOLDS),
    "said once for all": (word("malleable"), FAILS, FAILS, HOLDS),
    "not known": (UNKNOWN, CANNOT_TELL, CANNOT_TELL, CANNOT_TELL),
    "one not known": (Each((word("forged"), UNKNOWN)), CANNOT_TELL, CANNOT_TELL, CANNOT_TELL),
}


@pytest.mark.parametrize("which", list(CLIPS))
def test_what_is_written_once_or_for_each(which: str) -> None:
    material, alone, every, some = CLIPS[which]
    clips = thing("wire_rope_clips", material=material)
    assert answer("material is forged", clips) is alone
    assert answer("every m in material has (m is forged)", clips) is every
    assert answer("some m in material has (m is malleable)", clips) is some


@pytest.mark.parametrize(
    ("tags", "expected"),
    [
        ((Name("A"), Name("A")), HOLDS),
        ((Name("A"), Name("B"), UNKNOWN), FAILS),
        ((Name("A"), UNKNOWN), CANNOT_TELL),
        ((NONE, NONE), HOLDS),
        ((Name("A"), NONE), FAILS),
        ((), HOLDS),
    ],
)
def test_all_the_same(tags: tuple[Value, ...], expected: Truth) -> None:
    line_set = thing(
        "line_set", lift_lines=tuple(thing("lift_line", rope=thing("rope", tag=tag)) for tag in tags)
    )
    assert answer("same l.rope.tag for l in lift_lines", line_set) is expected


def test_lines_of_one_size_within_bounds() -> None:
    stretches = (Bounds(1, 2), Bounds(2, 3), Bounds(4, 5))
    lines = [thing("lift_line", rope=thing("rope", diameter=bounds)) for bounds in stretches]
    same = "same l.rope.diameter for l in lift_lines"
    assert answer(same, thing("line_set", lift_lines=tuple(lines[:2]))) is CANNOT_TELL
    assert answer(same, thing("line_set", lift_lines=tuple(lines))) is FAILS


def test_a_figure_compared_with_itself_is_the_same_whatever_it_is() -> None:
    rope = thing("rope", diameter=Bounds(1, 2))
    assert answer("diameter = diameter and diameter - diameter = 0 in", rope) is HOLDS
    assert answer("diameter / diameter = 1", rope) is HOLDS
    assert answer("diameter = diameter", thing("rope")) is CANNOT_TELL


def test_division_by_zero_is_the_rule_s_own_failure_unless_another_part_settles_it() -> None:
    chain = thing("trim_chain", wraps=exactly(0), secured=word("no"))
    with pytest.raises(RuleError) as told:
        evaluate(meant("1 / wraps > 2", "trim_chain"), RIG, chain)
    assert told.value.what == "division by zero"
    assert answer("1 / wraps > 2 and secured is yes", chain) is FAILS
    assert answer("secured is no or 1 / wraps > 2", chain) is HOLDS
    assert answer("1 / wraps > 2 or attachment is wrap", chain) is CANNOT_TELL
    with pytest.raises(NotExact):
        compile_fast(meant("1 / wraps > 2", "trim_chain"))(RIG, chain)


def test_a_divisor_that_may_be_zero_tells_nothing() -> None:
    chain = thing("trim_chain", wraps=Bounds(0, 3))
    assert answer("least(0, 0 / wraps) <= 0", chain) is CANNOT_TELL


def test_the_missing_facts_are_those_that_would_settle_it() -> None:
    chain = thing("trim_chain", wraps=exactly(1), distance_to_pipe_end=Bounds(0.1, 0.5))
    found = asked(
        "(wraps > 2 or attachment is wrap) and distance_to_pipe_end < 12 in and secured is known", chain
    )
    assert found.truth is FAILS  # Nobody wrote whether it is secured, so it is known that it is not known.
    found = asked("(wraps > 2 or attachment is wrap) and distance_to_pipe_end < 12 in", chain)
    assert [one.fact for one in found.missing] == ["attachment", "distance_to_pipe_end"]


def test_known_means_that_something_is_said() -> None:
    assert answer("wraps is known", thing("trim_chain", wraps=Bounds(1, 5))) is HOLDS
    assert answer("keeper_bolt is known", thing("trim_chain", keeper_bolt=NONE)) is HOLDS
    assert answer("wraps is not known", thing("trim_chain")) is HOLDS


def test_a_named_value_is_found_once_for_a_thing() -> None:
    rope = thing("rope", diameter=exactly(1.0))
    rig = Rig()
    here = scope("rope", lets={"d": "diameter + 1 m", "e": "d + d"})
    checked = claimed("e > 1 m and d > 1 m and d + e > 2 m", here)
    assert checked.meaning is not None
    assert evaluate(checked.meaning, rig, rope).truth is HOLDS
    assert rig.asked == [("rope", "diameter")]


def test_the_deepest_rule_that_is_read_can_be_judged_and_explained() -> None:
    nots = "not " * 28
    here = scope("trim_chain", lets={"a": f"{nots}(wraps > 1)", "b": f"{nots}a", "c": f"{nots}b"})
    checked = claimed("not not not c", here)
    assert checked.meaning is not None
    chain = thing("trim_chain", wraps=exactly(2))
    found = evaluate(checked.meaning, RIG, chain)
    assert found.truth is FAILS
    assert compile_fast(checked.meaning)(RIG, chain) is False
    assert len(explained(found)) > 3
