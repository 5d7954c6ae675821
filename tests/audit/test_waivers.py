"""Somebody accepts one finding at one place until a day: it is judged, shown and marked, never dropped."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from tests.audit.audits_in_text import CHAIN_RULES, audited, house, outcome, waivers
from tests.packs.packs_in_text import ON

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.offered_state import offered_state, on_one_line
from plumbtrue.audit.outcome import Acceptance, Result
from plumbtrue.documents.place import CannotRead
from plumbtrue.facts.store import Facts

STRETCHED = """
    - rule: chain-stretched
      thing: 14 / line 1 / lower / trim-chain
      until: 2026-02-13
      reason: new chain is on order
      accepted_by: technical director
      meanwhile: set 14 stays empty
      state: {growth: 4 %}
"""

GRADE = """
    - rule: chain-grade-too-low
      thing: 14 / line 1 / lower / trim-chain
      until: 2026-06-30
      reason: proof-tested in 2024
      accepted_by: technical director
      meanwhile: at most 50 lb
      state: {grade: 43}
"""

Marked = Callable[..., Acceptance]


@pytest.fixture
def marked(tmp_path: Path) -> Marked:
    """The mark beside the outcome of a rule, for a chain and what somebody accepted of it."""

    def mark(chain: str, text: str, *, rule: str = "chain-stretched", on: date = ON) -> Acceptance:
        found = audited(tmp_path, house(chain), accepted=waivers(text), on=on)
        assert found.problems == ()
        acceptance = outcome(found, rule).acceptance
        assert acceptance is not None
        return acceptance

    return mark


def stretched(by: str) -> str:
    return f"grade: 80, gauge_length: {by}, gauge_length_new: 100 in"


@pytest.mark.parametrize(
    ("on", "expired"),
    [
        pytest.param(date(2025, 2, 13), False, id="long before"),
        pytest.param(date(2026, 2, 12), False, id="the day before"),
        pytest.param(date(2026, 2, 13), False, id="the last day, which is included"),
        pytest.param(date(2026, 2, 14), True, id="the day after"),
    ],
)
def test_a_waiver_holds_through_its_last_day(tmp_path: Path, on: date, expired: bool) -> None:
    found = audited(tmp_path, house(stretched("104 in")), accepted=waivers(STRETCHED), on=on)
    one = outcome(found, "chain-stretched")
    assert one.result is Result.FINDING
    assert one.acceptance is not None
    assert one.acceptance.expired is expired
    assert one.counts is expired


def test_the_mark_says_who_until_when_why_and_what_is_done_meanwhile(marked: Marked) -> None:
    mark = marked(stretched("104 in"), STRETCHED)
    assert (mark.by, mark.until, mark.reason) == ("technical director", "2026-02-13", "new chain is on order")
    assert (mark.meanwhile, mark.state) == ("set 14 stays empty", "growth 4 %")


@pytest.mark.parametrize(
    ("by", "worse"),
    [
        pytest.param("104 in", False, id="the accepted state"),
        pytest.param("103.5 in", False, id="better, and still a finding"),
        pytest.param("104.1 in", True, id="a little worse"),
        pytest.param("103.9 in .. 104.2 in", True, id="perhaps worse"),
        pytest.param("103.6 in .. 103.9 in", False, id="within bounds that are surely no worse"),
    ],
)
def test_a_worse_state_than_the_accepted_one_is_a_new_finding(marked: Marked, by: str, worse: bool) -> None:
    assert marked(stretched(by), STRETCHED).worse is worse


def test_worse_is_less_where_the_rule_asks_for_at_least(tmp_path: Path) -> None:
    rules = """
        - rule: too-few-wraps
          title: The chain goes round the pipe often enough
          about: trim-chain
          require: wraps >= 4
          severity: before-next-use
          finding: "{wraps} wraps."
          remedy: Wrap it again.
          source: common-practice
    """
    accepted = waivers(GRADE.replace("chain-grade-too-low", "too-few-wraps").replace("grade: 43", "wraps: 2"))
    marks = [
        outcome(audited(tmp_path, house(f"wraps: {count}"), rules=rules, accepted=accepted), "too-few-wraps")
        for count in (1, 2, 3)
    ]
    assert [mark.counts for mark in marks] == [True, False, False]


def test_a_word_other_than_the_accepted_one_is_a_new_finding(marked: Marked) -> None:
    assert not marked("grade: 43", GRADE, rule="chain-grade-too-low").worse
    assert marked("grade: 30", GRADE, rule="chain-grade-too-low").worse


def test_an_unknown_that_was_accepted_stays_accepted_until_it_is_known(marked: Marked) -> None:
    accepted = GRADE.replace("grade: 43", "grade: unknown")
    assert not marked("wraps: 2", accepted, rule="chain-grade-too-low").worse
    assert marked("grade: 43", accepted, rule="chain-grade-too-low").worse


def test_a_known_state_that_was_accepted_does_not_cover_an_unknown(marked: Marked) -> None:
    assert marked("wraps: 2", GRADE, rule="chain-grade-too-low").worse


def test_an_accepted_finding_does_not_decide_the_verdict_and_a_worse_one_does(tmp_path: Path) -> None:
    def verdict(by: str) -> str:
        found = audited(tmp_path, house(stretched(by)), accepted=waivers(STRETCHED))
        return found.verdicts["14"].state.value

    assert verdict("104 in") == "nothing-found"
    assert verdict("105 in") == "out-of-service"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        pytest.param(
            GRADE.replace("chain-grade-too-low", "chain-grade-to-low"),
            "no rule chain-grade-to-low is in force, so nothing can be accepted under it; "
            "did you mean chain-grade-too-low?",
            id="a rule that is not there",
        ),
        pytest.param(
            GRADE.replace("line 1", "line 2"),
            "there is no 14 / line 2 / lower / trim-chain in this house; "
            "did you mean 14 / line 1 / lower / trim-chain?",
            id="a thing that is not there",
        ),
        pytest.param(
            GRADE.replace("chain-grade-too-low", "chain-stretched").replace("grade: 43", "growth: 4 %"),
            "the rule chain-stretched is met at 14 / line 1 / lower / trim-chain, so there is nothing to "
            "accept; take the waiver out",
            id="a finding that is no more",
        ),
        pytest.param(
            GRADE.replace("lower / trim-chain", "lower / thimble"),
            "the rule chain-grade-too-low is not about 14 / line 1 / lower / thimble; take the waiver out",
            id="a thing that the rule is not about",
        ),
        pytest.param(
            GRADE.replace("grade: 43", "wraps: 2"),
            "the rule chain-grade-too-low does not look at wraps; write one of grade",
            id="a state that the rule does not look at",
        ),
    ],
)
def test_a_waiver_that_matches_nothing_is_a_problem(tmp_path: Path, text: str, said: str) -> None:
    rig = house("grade: 43, gauge_length: 101 in, gauge_length_new: 100 in")
    (problem,) = audited(tmp_path, rig, accepted=waivers(text)).problems
    assert f"{problem.what}; {problem.instead}" == said
    assert problem.where.file == "waivers.yaml"


def test_a_waiver_under_a_former_name_of_the_rule_goes_on_matching(tmp_path: Path) -> None:
    renamed = CHAIN_RULES.replace(
        "rule: chain-grade-too-low\n", "rule: chain-not-for-lifting\n      formerly: [chain-grade-too-low]\n"
    )
    found = audited(tmp_path, house("grade: 43"), rules=renamed, accepted=waivers(GRADE))
    assert found.problems == ()
    assert not outcome(found, "chain-not-for-lifting").counts


def test_a_waiver_under_a_former_number_of_the_set_goes_on_matching(tmp_path: Path) -> None:
    rig = house("grade: 43", sets="15", more="formerly: [14]")
    found = audited(tmp_path, rig, accepted=waivers(GRADE))
    assert found.problems == ()
    assert not outcome(found, "chain-grade-too-low", "15 / line 1 / lower / trim-chain").counts


@pytest.mark.parametrize("missing", ["until", "reason", "accepted_by", "meanwhile", "state", "rule", "thing"])
def test_a_waiver_that_lacks_something_stops_the_run(missing: str) -> None:
    lines = [line for line in GRADE.splitlines() if f" {missing}:" not in line]
    if missing == "rule":
        lines[1] = lines[1].replace("      thing", "    - thing")
    with pytest.raises(CannotRead) as refusal:
        waivers("\n".join(lines))
    assert [problem.slug for problem in refusal.value.problems] == ["key-missing"]


@pytest.mark.parametrize("day", ["13/02/2026", "2026-2-13", "20260213", "February 2026", "never"])
def test_only_a_whole_day_is_taken_for_the_last(day: str) -> None:
    with pytest.raises(CannotRead) as refusal:
        waivers(GRADE.replace("2026-06-30", day))
    assert [problem.slug for problem in refusal.value.problems] == ["date-wanted"]


def test_the_same_finding_accepted_twice_stops_the_run() -> None:
    with pytest.raises(CannotRead) as refusal:
        waivers(GRADE + GRADE)
    assert [problem.slug for problem in refusal.value.problems] == ["accepted-twice"]


def test_evaluation_never_stops_for_a_waiver(tmp_path: Path) -> None:
    def said(found: Audit) -> list[tuple[str, str, str]]:
        return [(one.key, one.result.value, one.message) for one in found.outcomes]

    rig = house("grade: 43")
    assert said(audited(tmp_path, rig)) == said(audited(tmp_path, rig, accepted=waivers(GRADE)))


MEASURED = STRETCHED.replace("{growth: 4 %}", "{gauge_length: 104 in, gauge_length_new: 100 in}")


def test_a_named_value_may_be_stated_by_what_it_is_made_of(marked: Marked) -> None:
    assert not marked(stretched("103.5 in"), MEASURED).worse
    assert marked(stretched("104.1 in"), MEASURED).worse


def test_a_state_that_leaves_out_what_decides_the_rule_covers_nothing(tmp_path: Path) -> None:
    """A waiver that only said how long the chain was when new would cover any stretch whatever."""
    partly = STRETCHED.replace("growth: 4 %", "gauge_length_new: 100 in")
    found = audited(tmp_path, house(stretched("104 in")), accepted=waivers(partly))
    (problem,) = found.problems
    assert problem.what == "the waiver does not say which growth it accepts"
    assert problem.instead == "write state: {growth: 0.04}, if that is what was accepted"
    assert outcome(found, "chain-stretched").counts


@pytest.mark.parametrize(
    ("chain", "rule", "offered"),
    [
        pytest.param("grade: 43", "chain-grade-too-low", "{grade: 43}", id="as it was recorded"),
        pytest.param(
            "gauge_length: 104.123 in, gauge_length_new: 100 in",
            "chain-stretched",
            "{growth: 0.04123}",
            id="a figure that its rule works out",
        ),
        pytest.param("wraps: 2", "chain-grade-too-low", "{grade: unknown}", id="what nobody knows"),
    ],
)
def test_the_state_that_would_have_to_be_accepted_is_offered(
    tmp_path: Path, chain: str, rule: str, offered: str
) -> None:
    found = audited(tmp_path, house(chain))
    judged_by = found.rulebook.rule(rule)
    assert judged_by is not None
    state = offered_state(outcome(found, rule), judged_by, Facts(found.rig, found.on))
    assert on_one_line(state) == offered


EVERY_PART = """
    - rule: end-with-thimble
      title: Every part of an end is known to be sound
      about: lift-line
      require: every p in lower where (p is trim_chain) has (p.grade in ["80", "100"])
      severity: before-next-use
      finding: "Grades {lower}: one of {count of p in lower} is too low."
      remedy: Replace it.
      source: common-practice
"""


def test_where_a_rule_speaks_of_members_the_words_of_the_finding_are_accepted(tmp_path: Path) -> None:
    accepted = """
        - rule: end-with-thimble
          thing: 14 / line 1
          until: 2026-06-30
          reason: chain is on order
          accepted_by: us
          meanwhile: set 14 stays empty
          state: {finding: "Grades thimble, trim-chain: one of 2 is too low."}
    """

    def counts(text: str) -> bool:
        found = audited(tmp_path, house("grade: 43"), rules=EVERY_PART, accepted=waivers(text))
        assert found.problems == ()
        return outcome(found, "end-with-thimble", "14 / line 1").counts

    assert not counts(accepted)
    assert counts(accepted.replace("one of 2", "one of 3"))
