"""A sound house with a fault laid over it: exactly that fault is found, as grave as it is, where it is.

Each case stands in a file beside this one as a surveyor would write it: what was found, and what changes in
the sound house's file. The faults are common practice, and so is what a careful inspector says of each.
"""

import pytest
from tests.practice.defects.judged_cases import (
    SMALL,
    Case,
    all_cases,
    base_text,
    expected,
    findings,
    judged,
    left_open,
    practice_book,
)

from plumbtrue.audit.outcome import Result

CASES = [pytest.param(case, id=case.name) for case in all_cases()]
SOUND = sorted(path.stem.removeprefix("sound-") for path in SMALL.glob("sound-*.yaml"))


@pytest.mark.parametrize("base", SOUND)
def test_a_sound_house_is_left_alone(base: str) -> None:
    found = judged(base_text(base))
    assert findings(found) == set()
    assert {one.key for one in found.of_result(Result.UNDETERMINED)} == set()


@pytest.mark.parametrize("case", CASES)
def test_what_was_found_is_told_and_nothing_else(case: Case) -> None:
    found = judged(case.text())
    assert findings(found) == expected(case, found)


@pytest.mark.parametrize("case", CASES)
def test_only_what_the_fault_takes_away_is_left_open(case: Case) -> None:
    opened = left_open(judged(case.text()), judged(base_text(case.base)))
    assert set(opened) == case.open | case.open_by_its_facts


@pytest.mark.parametrize("case", CASES)
def test_likely_false_alarms_keep_quiet_though_there_is_such_a_rule(case: Case) -> None:
    found = {rule for rule, _, _ in findings(judged(case.text()))}
    assert case.quiet <= {rule.slug for rule in practice_book().rules}
    assert not case.quiet & found


def test_every_fault_and_every_near_miss_is_there() -> None:
    names = {case.name for case in all_cases()}
    faults = {f"D{number:02}" for number in range(1, 56)} | {f"H{number}" for number in range(1, 7)}
    assert names == faults | {f"N{number}" for number in range(1, 13)}
