"""What an audit says of a house: a word for each set, what no rule looked at, a status for a pipeline."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from tests.audit.audits_in_text import CHAIN_RULES, audited, house, outcome, waivers
from tests.packs.packs_in_text import book_of, write_pack

from plumbtrue.audit.auditing import Audit, audit
from plumbtrue.audit.gate import ExitStatus, exit_status, together
from plumbtrue.audit.outcome import Result
from plumbtrue.audit.working import working_of
from plumbtrue.rules.language.explaining import as_text
from plumbtrue.rules.packs.pack import NotRun
from plumbtrue.rules.severity import Severity

SOUND = (
    "grade: 80, gauge_length: 12 in, gauge_length_new: 12 in, attachment: wrap, distance_to_pipe_end: 9 in, "
    "keeper_bolt: fitted"
)
Audited = Callable[[str], Audit]


@pytest.fixture
def of_chain(tmp_path: Path) -> Audited:
    """The audit of a house with one chain, of which this is written."""
    return lambda chain: audited(tmp_path, house(chain))


@pytest.mark.parametrize(
    ("chain", "state"),
    [
        pytest.param(SOUND, "nothing-found", id="sound"),
        pytest.param(SOUND.replace("fitted", "none"), "next-maintenance", id="no keeper bolt"),
        pytest.param(SOUND.replace("keeper_bolt: fitted", "wraps: 2"), "nothing-found", id="a mild unknown"),
        pytest.param(SOUND.replace("grade: 80", "wraps: 2"), "cannot-be-told", id="a grave unknown"),
        pytest.param(
            SOUND.replace("grade: 80", "wraps: 2").replace("fitted", "none"),
            "cannot-be-told",
            id="a grave unknown before a mild finding",
        ),
        pytest.param(SOUND.replace("grade: 80", "grade: 30"), "before-next-use", id="low grade"),
        pytest.param(
            "grade: 30, gauge_length: 13 in, gauge_length_new: 12 in",
            "out-of-service",
            id="the gravest decides",
        ),
    ],
)
def test_a_set_has_the_gravest_of_what_was_found_in_it(of_chain: Audited, chain: str, state: str) -> None:
    assert of_chain(chain).verdicts["14"].state.value == state


def test_a_mild_unknown_is_counted_though_it_does_not_decide(of_chain: Audited) -> None:
    verdict = of_chain(SOUND.replace("keeper_bolt: fitted", "wraps: 2")).verdicts["14"]
    assert (verdict.findings, verdict.undetermined) == (0, 1)


def test_a_set_that_is_tagged_out_is_out_of_service_by_its_tag(tmp_path: Path) -> None:
    verdict = audited(tmp_path, house(SOUND, more="tagged_out: 2026-01-05")).verdicts["14"]
    assert (verdict.state.value, verdict.tagged_out) == ("out-of-service", True)


def test_a_set_known_not_to_be_tagged_out_is_judged_like_any_other(tmp_path: Path) -> None:
    assert (
        audited(tmp_path, house(SOUND, more="tagged_out: none")).verdicts["14"].state.value == "nothing-found"
    )


def test_a_set_that_no_rule_looked_at_cannot_be_told(tmp_path: Path) -> None:
    only_blocks = """
        - rule: block-marked
          title: A loft block is marked
          about: loft-block
          require: mark is not none
          severity: advisory
          finding: No mark.
          remedy: Mark it.
          source: common-practice
    """
    verdict = audited(tmp_path, house(SOUND), rules=only_blocks).verdicts["14"]
    assert (verdict.state.value, verdict.looked_at) == ("cannot-be-told", False)


def test_sets_stand_in_the_order_in_which_people_count(tmp_path: Path) -> None:
    assert list(audited(tmp_path, house(SOUND, sets="10 2 H1 9")).verdicts) == ["2", "9", "10", "H1"]


@pytest.mark.parametrize(
    ("chain", "gate", "status"),
    [
        pytest.param(SOUND, "advisory", 0, id="nothing at all"),
        pytest.param(SOUND.replace("fitted", "none"), "next-maintenance", 1, id="a finding at the gate"),
        pytest.param(SOUND.replace("fitted", "none"), "before-next-use", 0, id="a finding under the gate"),
        pytest.param(SOUND.replace("grade: 80", "grade: 30"), "advisory", 1, id="a finding over the gate"),
        pytest.param(
            SOUND.replace("grade: 80", "wraps: 2"), "before-next-use", 3, id="an unknown at the gate"
        ),
        pytest.param(
            SOUND.replace("grade: 80", "wraps: 2"), "out-of-service", 0, id="an unknown under the gate"
        ),
        pytest.param("grade: 30, wraps: 2", "before-next-use", 1, id="a finding and an unknown"),
    ],
)
def test_the_status_at_a_gate(of_chain: Audited, chain: str, gate: str, status: int) -> None:
    assert exit_status(of_chain(chain), Severity(gate)) == status


def test_no_rule_applied_is_no_success(tmp_path: Path) -> None:
    found = audited(
        tmp_path, house("attachment: lug"), rules=CHAIN_RULES[CHAIN_RULES.index("    - rule: keeper") :]
    )
    assert [one.result for one in found.outcomes] == [Result.NOT_APPLICABLE]
    assert exit_status(found, Severity.OUT_OF_SERVICE) is ExitStatus.CANNOT_TELL


def test_an_incomplete_run_is_no_success(tmp_path: Path) -> None:
    write_pack(tmp_path, "trade", rules=CHAIN_RULES)
    book = book_of(tmp_path, "trade")
    incomplete = replace(book, not_run=(NotRun("harbour", "plugin harbour stopped"),))
    found = audit(house(SOUND), incomplete, book.on)
    assert found.incomplete == ("harbour: plugin harbour stopped",)
    assert exit_status(found, Severity.OUT_OF_SERVICE) is ExitStatus.CANNOT_TELL


def test_an_acceptance_in_force_lets_a_finding_through_the_gate_and_one_that_matches_nothing_does_not(
    tmp_path: Path,
) -> None:
    accepted = """
        - {rule: chain-grade-too-low, thing: 14 / line 1 / lower / trim-chain, until: 2026-12-31,
           reason: tested, accepted_by: us, meanwhile: nothing over 50 lb, state: {grade: 43}}
    """
    low = SOUND.replace("grade: 80", "grade: 43")
    covered = audited(tmp_path, house(low), accepted=waivers(accepted))
    assert exit_status(covered, Severity.ADVISORY) is ExitStatus.NOTHING_AT_THE_GATE
    stale = audited(tmp_path, house(SOUND), accepted=waivers(accepted))
    assert exit_status(stale, Severity.ADVISORY) is ExitStatus.CANNOT_USE


@pytest.mark.parametrize(
    ("statuses", "one"),
    [((0, 0), 0), ((0, 3), 3), ((3, 1), 1), ((1, 2), 2), ((0,), 0), ((), 3)],
)
def test_several_houses_have_the_status_that_asks_for_most(statuses: tuple[int, ...], one: int) -> None:
    assert together(ExitStatus(status) for status in statuses) == one


def test_kinds_and_facts_that_no_rule_looked_at_are_named(of_chain: Audited) -> None:
    coverage = of_chain(SOUND + ", wraps: 2").coverage
    assert [one.kind for one in coverage.kinds] == ["house", "lift_line", "line_set", "thimble"]
    assert [(one.kind, one.fact) for one in coverage.facts] == [("trim_chain", "wraps")]
    assert [thing.path for thing in coverage.facts[0].things] == ["14 / line 1 / lower / trim-chain"]


def test_a_kind_whose_facts_another_rule_read_was_looked_at(tmp_path: Path) -> None:
    rules = """
        - rule: thimble-in-every-end
          title: An end has a thimble
          about: lift-line
          require: some p in lower where (p is thimble) has (p.size is known)
          severity: advisory
          finding: No thimble.
          remedy: Fit one.
          source: common-practice
    """
    coverage = audited(tmp_path, house(SOUND), rules=rules).coverage
    assert "thimble" not in [one.kind for one in coverage.kinds]


TWO_RULES = """
    - rule: chain-unfit
      title: Trim chain is of a grade
      about: trim-chain
      require: grade is not none
      severity: {grave}
      supersedes: [chain-grade-too-low]
      finding: No grade.
      remedy: Replace it.
      source: common-practice
"""


def test_one_fault_is_told_once(tmp_path: Path) -> None:
    rules = TWO_RULES.format(grave="before-next-use") + CHAIN_RULES
    found = audited(tmp_path, house("grade: none"), rules=rules)
    assert outcome(found, "chain-unfit").result is Result.FINDING
    silent = outcome(found, "chain-grade-too-low")
    assert silent.result is Result.NOT_APPLICABLE
    assert silent.message == "told by chain-unfit of 14 / line 1 / lower / trim-chain"


def test_a_milder_rule_never_silences_a_graver_one(tmp_path: Path) -> None:
    found = audited(tmp_path, house("grade: none"), rules=TWO_RULES.format(grave="advisory") + CHAIN_RULES)
    assert outcome(found, "chain-grade-too-low").result is Result.FINDING


def test_a_rule_that_superseding_one_does_not_find_speaks_for_itself(tmp_path: Path) -> None:
    found = audited(
        tmp_path, house("grade: 43"), rules=TWO_RULES.format(grave="before-next-use") + CHAIN_RULES
    )
    assert outcome(found, "chain-grade-too-low").result is Result.FINDING


def test_a_retired_rule_is_not_run_and_says_why(tmp_path: Path) -> None:
    write_pack(tmp_path, "trade", rules=CHAIN_RULES)
    retire = """
        - {rule: chain-grade-too-low, retire: true, reason: chain is gone, decided_by: us,
           decided_on: 2025-01-01}
    """
    write_pack(tmp_path, "house", adjustments=retire)
    book = book_of(tmp_path, "trade", "house")
    one = outcome(audit(house("grade: 43"), book, book.on), "chain-grade-too-low")
    assert (one.result, one.message) == (Result.NOT_RUN, "house retired the rule: chain is gone")


def test_a_rule_that_fails_is_an_error_and_never_a_pass(tmp_path: Path) -> None:
    found = audited(tmp_path, house("gauge_length: 12 in, gauge_length_new: 0 in"))
    one = outcome(found, "chain-stretched")
    assert one.result is Result.ERROR
    assert "division by zero" in one.message
    assert exit_status(found, Severity.OUT_OF_SERVICE) is ExitStatus.CANNOT_TELL


def test_a_relaxation_that_has_run_out_is_judged_without(tmp_path: Path) -> None:
    write_pack(tmp_path, "trade", rules=CHAIN_RULES)
    relax = """
        - {rule: chain-grade-too-low, relax: {severity: advisory}, reason: order placed, decided_by: us,
           decided_on: 2025-01-01, until: 2026-02-13}
    """
    write_pack(tmp_path, "house", adjustments=relax)
    book = book_of(tmp_path, "trade", "house")

    def severity(on: date) -> Severity:
        return outcome(audit(house("grade: 43"), book, on), "chain-grade-too-low").severity

    assert severity(date(2026, 2, 13)) is Severity.ADVISORY
    assert severity(date(2026, 2, 14)) is Severity.BEFORE_NEXT_USE


def test_where_it_cannot_be_told_whether_a_rule_applies_only_that_is_asked(of_chain: Audited) -> None:
    one = outcome(of_chain("distance_to_pipe_end: 9 in"), "keeper-bolt-missing")
    assert one.result is Result.UNDETERMINED
    assert [missing.fact for missing in one.missing] == ["attachment"]


def test_the_working_of_a_finding_leads_to_where_each_value_was_written(of_chain: Audited) -> None:
    found = of_chain("gauge_length: 12.5 in, gauge_length_new: 12 in")
    working = working_of(outcome(found, "chain-stretched"), found)
    text = as_text(working.requires)
    assert "growth <= most: does not hold" in text
    assert "(house.yaml:10:46)" in text
    assert working.applies == ()


def test_the_working_of_a_rule_that_failed_says_what_went_wrong(of_chain: Audited) -> None:
    found = of_chain("gauge_length: 12 in, gauge_length_new: 0 in")
    assert "division by zero" in working_of(outcome(found, "chain-stretched"), found).failure
