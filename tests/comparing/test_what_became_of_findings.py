"""Findings are compared one by one: what appeared, worsened, improved, went away, or cannot be told now."""

from collections import Counter
from collections.abc import Sequence
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.audit.audits_in_text import waivers
from tests.comparing.revisions import SOUND, STRETCH_ACCEPTED, STRETCHED, became, book, chain, compared, house

from plumbtrue.audit.comparing import comparison_status
from plumbtrue.audit.gate import ExitStatus
from plumbtrue.audit.outcome import Result
from plumbtrue.audit.outcome_changes import Turn
from plumbtrue.rules.packs.pack import RuleBook
from plumbtrue.rules.severity import Severity

GATE = Severity.BEFORE_NEXT_USE


@pytest.fixture(scope="module")
def rules(tmp_path_factory: pytest.TempPathFactory) -> RuleBook:
    return book(tmp_path_factory.mktemp("pack"))


@pytest.mark.parametrize(
    ("old", "new", "expected", "status"),
    [
        pytest.param(SOUND, SOUND, [], 0, id="nothing differs"),
        pytest.param(SOUND, chain(grade="30"), [("appeared", "chain-grade-too-low", "1")], 1, id="appeared"),
        pytest.param(chain(grade="30"), SOUND, [("went-away", "chain-grade-too-low", "1")], 0, id="put right"),
        pytest.param(chain(grade="30"), chain(grade="30"), [], 0, id="an old finding refuses nothing"),
        pytest.param(STRETCHED, chain(gauge_length="11 in"), [("worsened", "chain-stretched", "1")], 1, id="more"),
        pytest.param(chain(gauge_length="11 in"), STRETCHED, [("improved", "chain-stretched", "1")], 0, id="less"),
        pytest.param(SOUND, chain(grade=""), [("question-opened", "chain-grade-too-low", "1")], 3, id="forgotten"),
        pytest.param(chain(grade=""), SOUND, [("question-settled", "chain-grade-too-low", "1")], 0, id="found out"),
        pytest.param(
            chain(grade="30"), chain(grade=""), [("no-longer-told", "chain-grade-too-low", "1")], 3,
            id="a finding whose fact was taken out is not put right",
        ),
        pytest.param(chain(grade=""), chain(grade="30"), [("appeared", "chain-grade-too-low", "1")], 1, id="came out"),
        pytest.param(chain(grade="30"), chain(grade="43"), [("changed", "chain-grade-too-low", "1")], 3, id="another"),
        pytest.param(
            SOUND, chain(distance_to_pipe_end="9 in", keeper_bolt="none"), [("appeared", "keeper-bolt-missing", "1")],
            0, id="milder than the gate",
        ),
    ],
)  # fmt: skip
def test_what_became_of_a_finding_and_what_a_pipeline_is_told(
    rules: RuleBook, old: str, new: str, expected: list[tuple[str, str, str]], status: int
) -> None:
    found = compared(house(old), house(new), rules)
    assert became(found.outcomes) == expected
    assert comparison_status(found, GATE) == status


def test_bounds_that_widen_past_the_worse_end_are_worse(rules: RuleBook) -> None:
    found = compared(
        house(chain(gauge_length="10.5..10.6 in")), house(chain(gauge_length="10.4..10.7 in")), rules
    )
    assert became(found.outcomes) == [("worsened", "chain-stretched", "1")]


def test_one_gone_and_one_new_are_two_though_their_number_is_the_same(rules: RuleBook) -> None:
    """Comparing counts would say that nothing happened."""
    bad = chain(grade="30")
    found = compared(house(bad, SOUND), house(SOUND, bad), rules)
    assert became(found.outcomes) == [
        ("appeared", "chain-grade-too-low", "2"),
        ("went-away", "chain-grade-too-low", "1"),
    ]
    assert comparison_status(found, GATE) is ExitStatus.FINDINGS


def test_a_set_that_is_new_brings_its_findings_and_one_that_is_gone_takes_them(rules: RuleBook) -> None:
    bad = chain(grade="30")
    grown = compared(house(SOUND), house(SOUND, bad), rules)
    assert [(one.turn, one.why) for one in grown.outcomes] == [(Turn.APPEARED, "what it is about is new")]
    shrunk = compared(house(SOUND, bad), house(SOUND), rules)
    assert [(one.turn, one.why) for one in shrunk.outcomes] == [(Turn.WENT_AWAY, "what it was about is gone")]


def test_a_set_renumbered_keeps_its_findings(rules: RuleBook) -> None:
    bad = chain(grade="30", distance_to_pipe_end="9 in", keeper_bolt="none")
    found = compared(house(bad), house(bad, first=7), rules)
    assert [one.deed.value for one in found.changes] == ["renamed"]
    assert found.outcomes == ()
    assert {one.thing.path.partition(" / ")[0] for one in found.standing} == {"7"}


def test_what_was_accepted_does_not_refuse_a_revision_until_it_is_worse(rules: RuleBook) -> None:
    (accepted,) = STRETCH_ACCEPTED
    fresh = compared(house(SOUND), house(STRETCHED), rules, accepted=(accepted,))
    assert became(fresh.outcomes) == [("appeared", "chain-stretched", "1")]
    assert comparison_status(fresh, GATE) is ExitStatus.NOTHING_AT_THE_GATE
    worse = compared(house(STRETCHED), house(chain(gauge_length="11 in")), rules, accepted=(accepted,))
    assert became(worse.outcomes) == [("worsened", "chain-stretched", "1")]
    assert comparison_status(worse, GATE) is ExitStatus.FINDINGS


def test_an_acceptance_that_matches_neither_revision_is_a_mistake(rules: RuleBook) -> None:
    (accepted,) = waivers("""
        - rule: chain-grade-too-low
          thing: 1 / line 1 / lower / trim-chain
          state: {grade: 30}
          accepted_by: head of flys
          until: 2027-01-01
          reason: new chain is on order
          meanwhile: nothing hangs on it
    """)
    bad = chain(grade="30")
    cured = compared(house(bad), house(SOUND), rules, accepted=(accepted,))
    assert comparison_status(cured, GATE) is ExitStatus.NOTHING_AT_THE_GATE
    never = compared(house(SOUND), house(SOUND), rules, accepted=(accepted,))
    assert comparison_status(never, GATE) is ExitStatus.CANNOT_USE


def test_a_finding_that_a_graver_one_had_told_of_is_not_new(tmp_path: Path) -> None:
    """Putting the graver one right must not make the milder look like a new fault."""
    silencing = """
    - rule: chain-of-wire
      title: A chain is a chain
      about: trim-chain
      require: attachment is not choke
      severity: out-of-service
      supersedes: [chain-grade-too-low]
      finding: "It is choked."
      remedy: Wrap it.
      source: common-practice
"""
    from tests.audit.audits_in_text import CHAIN_RULES

    rules = book(tmp_path, CHAIN_RULES + silencing)
    found = compared(
        house(chain(grade="30", attachment="choke")), house(chain(grade="30", attachment="wrap")), rules
    )
    assert ("uncovered", "chain-grade-too-low", "1") in became(found.outcomes)
    assert ("went-away", "chain-of-wire", "1") in became(found.outcomes)
    assert comparison_status(found, GATE) is not ExitStatus.FINDINGS


CHAINS = st.builds(
    chain,
    grade=st.sampled_from(["80", "100", "30", "43", ""]),
    gauge_length=st.sampled_from(["10 in", "10.5 in", "11 in", "10..10.6 in", ""]),
    distance_to_pipe_end=st.sampled_from(["3 ft", "9 in", ""]),
    keeper_bolt=st.sampled_from(["none", "fitted", ""]),
)
HOUSES = st.lists(CHAINS, min_size=1, max_size=4)

_TURNED = {
    Turn.APPEARED: (Turn.WENT_AWAY, Turn.NO_LONGER_TOLD),
    Turn.WENT_AWAY: (Turn.APPEARED,),
    Turn.NO_LONGER_TOLD: (Turn.APPEARED,),
    Turn.QUESTION_OPENED: (Turn.QUESTION_SETTLED,),
    Turn.QUESTION_SETTLED: (Turn.QUESTION_OPENED,),
    Turn.WORSENED: (Turn.IMPROVED,),
    Turn.IMPROVED: (Turn.WORSENED,),
    Turn.CHANGED: (Turn.CHANGED,),
}


@given(HOUSES, HOUSES)
@settings(max_examples=60, deadline=None)
def test_the_way_back_turns_every_finding_round(
    rules: RuleBook, old: Sequence[str], new: Sequence[str]
) -> None:
    first, second = house(*old), house(*new)
    there, back = compared(first, second, rules), compared(second, first, rules)
    undone = {(one.rule, one.old, one.new): one.turn for one in back.outcomes}
    assert len(there.outcomes) == len(back.outcomes)
    for one in there.outcomes:
        assert undone[one.rule, one.new, one.old] in _TURNED[one.turn]


@given(HOUSES, HOUSES)
@settings(max_examples=60, deadline=None)
def test_every_finding_of_both_is_told_once_or_stands(
    rules: RuleBook, old: Sequence[str], new: Sequence[str]
) -> None:
    """Nothing is lost: what the newer house has is new, other or standing; what only the older had is gone."""
    found = compared(house(*old), house(*new), rules)
    told = (Result.FINDING, Result.UNDETERMINED, Result.ERROR)
    now = Counter(one.key for one in found.new.outcomes if one.result in told)
    shown = Counter(one.key for one in found.standing)
    shown += Counter(one.new.key for one in found.outcomes if one.new is not None and one.new.result in told)
    assert shown == now
    was = Counter(one.key for one in found.old.outcomes if one.result in told)
    had = Counter(one.old.key for one in found.outcomes if one.old is not None and one.old.result in told)
    assert had + shown >= was
    assert max(had.values(), default=0) <= 1


@given(HOUSES)
@settings(max_examples=30, deadline=None)
def test_a_house_compared_with_itself_changes_nothing_under_any_rules(
    rules: RuleBook, chains: Sequence[str]
) -> None:
    found = compared(house(*chains), house(*chains), rules)
    assert found.is_alike
    assert (found.rechecks, found.tasks, found.states) == ((), (), ())
