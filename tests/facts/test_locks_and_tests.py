"""What a test on record proves: the pull that a lock holds, the load that a changed set has carried."""

from math import inf

import pytest
from tests.facts.rigs_in_text import LB, Ask

from plumbtrue.quantities.values import NONE, UNKNOWN


@pytest.mark.parametrize(
    ("lock", "least", "most"),
    [
        pytest.param("tested_at: 50 lb, creep: none", 50, inf, id="it held: that much at least"),
        pytest.param("tested_at: 30 lb, creep: none", 30, inf, id="a mild test proves little"),
        pytest.param("tested_at: 30 lb, creep: runs", 0, 30, id="it ran through"),
    ],
)
def test_a_test_of_a_lock_bounds_what_it_holds(one_set: Ask, lock: str, least: float, most: float) -> None:
    """Common practice: pull at the line with a spring scale, lock shut."""
    rig = one_set(f"rope_lock: {{{lock}}}")
    assert rig.bounds("14 / rope lock", "pull_held", LB) == pytest.approx((least, most), rel=1e-5)


def test_a_line_that_crept_at_a_pull_is_held_by_less_than_that_pull(one_set: Ask) -> None:
    rig = one_set("rope_lock: {tested_at: 50 lb, creep: creeps}")
    assert rig.bounds("14 / rope lock", "pull_held", LB)[1] < 50


def test_nobody_wrote_whether_the_line_crept(one_set: Ask) -> None:
    rig = one_set("rope_lock: {tested_at: 50 lb}")
    assert rig.answer("14 / rope lock", "pull_held").value == UNKNOWN
    assert rig.missing("14 / rope lock", "pull_held") == {"14 / rope lock: creep"}


def test_a_test_that_was_too_mild_asks_for_another(one_set: Ask) -> None:
    rig = one_set("rope_lock: {tested_at: 30 lb, creep: none}")
    assert rig.missing("14 / rope lock", "pull_held") == {"14 / rope lock: tested_at"}


CHANGED = """
alterations: [{{on: {on}, what: re-roped}}]
load_tests: [{tests}]
"""


@pytest.mark.parametrize(
    ("on", "tests", "least", "most"),
    [
        pytest.param(
            "2016-07", "{on: 2016-08, load: 630 lb, full_travel: yes}", 630, 630, id="a month later"
        ),
        pytest.param(
            "2016-07", "{on: 2016-07, load: 630 lb, full_travel: yes}", 630, 630, id="both known by the month"
        ),
        pytest.param(
            "2016-07-14", "{on: 2016-07-14, load: 630 lb, full_travel: yes}", 630, 630, id="the same day"
        ),
        pytest.param(
            "2016-07-14", "{on: 2016-07, load: 630 lb, full_travel: yes}", 0, 630, id="before or after: open"
        ),
        pytest.param(
            "2016",
            "{on: 2016, load: 400 lb, full_travel: yes}, {on: 2018, load: 630 lb, full_travel: yes}",
            630,
            630,
            id="the greatest counts",
        ),
        pytest.param("2016", "{on: 2018, load: 630 lb}", 0, 630, id="nobody says how far it ran"),
        pytest.param("2016", "{on: 2018, full_travel: yes}", 0, inf, id="nobody says how much hung"),
    ],
)
def test_what_a_set_has_carried_since_a_change(
    one_set: Ask, on: str, tests: str, least: float, most: float
) -> None:
    rig = one_set(CHANGED.format(on=on, tests=tests))
    change = next(one for one in rig.rig.house.below() if one.kind.name == "alteration")
    assert rig.bounds(change.path, "tested_with", LB) == pytest.approx((least, most))


@pytest.mark.parametrize(
    "tests",
    [
        pytest.param("{on: 2015, load: 630 lb, full_travel: yes}", id="before the change"),
        pytest.param("{on: 2018, load: 630 lb, full_travel: no}", id="not over full travel"),
        pytest.param("", id="none at all"),
    ],
)
def test_no_test_since_a_change(one_set: Ask, tests: str) -> None:
    rig = one_set(
        CHANGED.format(on=2016, tests=tests)
        if tests
        else "alterations: [{on: 2016, what: re-roped}]\nload_tests: none"
    )
    change = next(one for one in rig.rig.house.below() if one.kind.name == "alteration")
    assert rig.answer(change.path, "tested_with").value == NONE
