"""Guards aloft, the fire-safety curtain and the days of records, at the figures that documents print."""

from datetime import date

import pytest
from tests.practice.judged_in_text import judged, practice_pack

GALLERY = """\
plumbtrue: rig/1
house:
  name: test
  fly_floors: [{key: gallery, height: %s, guard_height: %s, toeboard_height: %s, openings: none}]
"""


@pytest.mark.parametrize(
    ("guard", "outcome"),
    [("42 in", "met"), ("39 in", "met"), ("990 mm", "finding"), ("38 in", "finding"), ("48 in", "met")],
)
def test_guards_are_42_inches_less_3_at_the_lowest(guard: str, outcome: str) -> None:
    """29 CFR 1910.29(b)(1): 42 in, plus or minus 3; the top edge may be higher than 45 in."""
    said = judged(GALLERY % ("22 ft", guard, "4 in"), ["guard-or-cover-missing"])
    assert said["guard-or-cover-missing", "fly floor gallery"] == outcome


def test_guards_begin_at_four_feet() -> None:
    """29 CFR 1910.28(b)(1)(i): sides 4 ft or more above a lower level."""
    key = ("guard-or-cover-missing", "fly floor gallery")
    assert judged(GALLERY % ("4 ft", "none", "4 in"), [key[0]])[key] == "finding"
    assert judged(GALLERY % ("3'-11\"", "none", "4 in"), [key[0]])[key] == "not-applicable"


@pytest.mark.parametrize(("board", "outcome"), [("3-1/2 in", "met"), ("89 mm", "met"), ("88 mm", "finding")])
def test_toe_boards_are_three_and_a_half_inches_high(board: str, outcome: str) -> None:
    """29 CFR 1910.29(k)(1): 3-1/2 in, 9 cm in its brackets; 89 mm is 3.504 in."""
    said = judged(GALLERY % ("22 ft", "42 in", board), ["bridge-toeboard-low"])
    assert said["bridge-toeboard-low", "fly floor gallery"] == outcome


CURTAIN = "plumbtrue: rig/1\nhouse: {name: test, fire_curtain: {tested: %s}}\n"


@pytest.mark.parametrize(("on", "outcome"), [(date(2026, 9, 10), "met"), (date(2026, 9, 11), "finding")])
def test_the_fire_curtain_is_tested_every_year(on: date, outcome: str) -> None:
    """NFPA 80 chapter 20, yearly, as a secondary page tells of it."""
    said = judged(CURTAIN % "2025-09-10", ["fire-curtain-test-overdue"], on)
    assert said["fire-curtain-test-overdue", "fire curtain"] == outcome


WALKS = """\
plumbtrue: rig/1
house:
  name: test
  inspections: [{on: %s, by: a, qualification: qualified, how: by-hand, every_part: yes, not_seen: none}]
line_sets: [{number: 1, tagged_out: none}]
"""


@pytest.mark.parametrize(("on", "outcome"), [(date(2026, 4, 10), "met"), (date(2026, 4, 11), "finding")])
def test_a_yearly_inspection_runs_out_after_its_anniversary(on: date, outcome: str) -> None:
    """ANSI E1.4-1-2022 5.2.2.1 asks for a yearly inspection, as quoted in a secondary page."""
    assert judged(WALKS % "2025-04-10", ["yearly-inspection-overdue"], on) == {
        ("yearly-inspection-overdue", "test"): outcome
    }


def test_an_inspection_of_every_part_serves_as_the_close_one_for_five_years() -> None:
    """Common practice: every part in reach every five years."""
    said = judged(WALKS % "2021-03-02", ["close-inspection-overdue", "yearly-inspection-overdue"])
    assert said["close-inspection-overdue", "1"] == "met"
    assert said["yearly-inspection-overdue", "test"] == "finding"


CHANGED = """\
plumbtrue: rig/1
house: {name: test}
line_sets:
  - number: 1
    batten: {length: 42'-0"}
    posted_per_length: 15 lb/ft
    alterations: [{on: 2016-07, what: reconditioned, like_for_like: no}]
    load_tests: [{on: 2016-07, load: %s, full_travel: yes}]
"""


@pytest.mark.parametrize(("load", "outcome"), [("630 lb", "met"), ("629 lb", "finding")])
def test_a_load_per_foot_is_tested_over_the_whole_batten(load: str, outcome: str) -> None:
    """42 ft by 15 lb/ft is 630 lb. Both papers give the month alone, and nobody tests before the change."""
    assert set(judged(CHANGED % load, ["change-without-test"]).values()) == {outcome}


@pytest.mark.parametrize("slug", ["fire-curtain-path-blocked", "outside-scope-use"])
def test_no_house_relaxes_what_protects_audience_and_performers(slug: str) -> None:
    assert next(rule for rule in practice_pack().rules if rule.slug == slug).forbids_relaxing


SCHEDULE = """\
plumbtrue: rig/1
house: {name: test}
line_sets:
  - {number: 7, system: single-purchase, schedule_differs: none, lines_stated: %s,
     lift_lines: {at: {1: SR 7'-0", 2: CL, 3: SL 7'-0"}, each: {role: lift}}}
"""


@pytest.mark.parametrize(
    ("stated", "outcome"),
    [
        pytest.param("3", "met", id="as many as stated"),
        pytest.param("2", "finding", id="one more than stated"),
        pytest.param("4", "undetermined", id="one fewer: it may be there and not written down"),
        pytest.param("3..4", "undetermined", id="perhaps one fewer"),
    ],
)
def test_lines_that_are_stated_and_not_written_are_asked(stated: str, outcome: str) -> None:
    """A line that nobody wrote down is no proof that it is not there, and never that all is as stated (ours)."""
    assert judged(SCHEDULE % stated, ["as-built-mismatch"])["as-built-mismatch", "7"] == outcome
