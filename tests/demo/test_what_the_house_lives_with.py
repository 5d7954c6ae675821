"""The waiver of the invented house: accepted, shown all the same, and no longer than it says."""

from datetime import date

from tests.demo.conftest import HOUSE, ON

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.house_check import check_house
from plumbtrue.audit.outcome import Outcome, Result

WAIVERS = HOUSE.with_name("waivers.yaml")


def accepted_on(day: date) -> tuple[Audit, Outcome]:
    audit = check_house(HOUSE, on=day, waivers=[WAIVERS], third_party=False)
    key = "drop-not-plumb @ 19 / line 2"
    return audit, next(one for one in audit.outcomes if one.key == key)


def test_what_is_accepted_is_still_found_and_no_longer_asked_for() -> None:
    audit, outcome = accepted_on(ON)
    assert audit.problems == ()
    assert outcome.result is Result.FINDING
    assert outcome.acceptance is not None
    assert not outcome.counts
    assert audit.verdicts["19"].state.value == "nothing-found"
    assert audit.verdicts["19"].accepted == 1


def test_a_day_after_its_last_it_counts_again() -> None:
    assert not accepted_on(date(2026, 9, 11))[1].counts
    audit, outcome = accepted_on(date(2026, 9, 12))
    assert outcome.counts
    assert audit.verdicts["19"].state.value == "next-maintenance"


def test_the_relaxed_torque_record_runs_out_too() -> None:
    last = check_house(HOUSE, on=date(2028, 9, 1), third_party=False)
    after = check_house(HOUSE, on=date(2028, 9, 2), third_party=False)
    rule, line = "clip-torque-unrecorded", "28 / line 1 / upper / wire-rope-clips"
    results = [
        next(one.result for one in audit.outcomes if (one.rule, one.thing.path) == (rule, line))
        for audit in (last, after)
    ]
    assert results == [Result.NOT_APPLICABLE, Result.FINDING]
