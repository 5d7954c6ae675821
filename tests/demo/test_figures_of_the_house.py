"""Figures that findings of the invented house rest on, against what comes out by hand.

Weights and sizes of pipe: ASME B36.10M, NPS 1-1/2 schedule 40 at 2.72 lb/ft. Least strength of 1/4 in 7x19
cord 7,000 lb and of 3/16 in 4,200 lb: published tables of that cord; 0.90 for a pressed sleeve: from memory;
0.80 for forged clips: published clip tables.
"""

from datetime import date
from math import atan2, degrees

import pytest

from plumbtrue.audit.auditing import Audit
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.rig.finding_things import thing_at
from plumbtrue.rig.rig import Rig

POUND = 4.4482216152605
"""N"""
FOOT = 0.3048
"""m"""


@pytest.fixture(scope="module")
def facts(by_practice: Audit) -> Facts:
    return Facts(by_practice.rig, by_practice.on)


def figure(facts: Facts, path: str, name: str) -> Bounds:
    """A fact of the house [SI]."""
    rig = facts.rig
    assert isinstance(rig, Rig)
    thing = thing_at(rig, path)
    assert thing is not None
    value = facts.value(thing, name)
    assert isinstance(value, Bounds)
    return value


def three_moments(span: float, overhang: float, load: float) -> list[float]:
    """Pulls of five lines alike on a pipe with equal overhangs, by Clapeyron's three-moment equation
    (any textbook of statics).
    """
    end = load * overhang**2 / 2
    # The moments over lines 2 and 4 are alike, so that
    # end + 4 second + middle = 2 second + 4 middle = load x span squared / 2.
    right = load * span**2 / 2
    second = (4 * (right - end) - right) / 14
    middle = (right - 2 * second) / 4
    first = load * (overhang + span / 2) + (end - second) / span
    inner = load * span + (second - end) / span + (second - middle) / span
    return [first, inner, load * span + 2 * (middle - second) / span, inner, first]


def test_a_bare_pipe_hangs_on_its_five_lines_as_the_textbook_says(facts: Facts) -> None:
    ends = 2.0  # lb of terminations on each line
    expected = [pull + ends for pull in three_moments(span=10.5, overhang=3.0, load=2.72)]
    assert sum(expected) == pytest.approx(2.72 * 48 + 5 * ends)
    found = [figure(facts, f"3 / line {mark}", "reaction_bare") for mark in range(1, 6)]
    assert [pull.low / POUND for pull in found] == pytest.approx(expected, rel=2e-3)
    assert [pull.high / POUND for pull in found] == pytest.approx(expected, rel=2e-3)


@pytest.mark.parametrize(
    ("line", "strength", "efficiency"),
    [("3 / line 1", 7000, 0.90), ("28 / line 1", 7000, 0.80), ("15 / line 3", 4200, 0.90)],
)
def test_a_rope_is_limited_by_its_worse_end(
    facts: Facts, line: str, strength: float, efficiency: float
) -> None:
    limit = figure(facts, line, "rope_limit")
    assert limit.low / POUND == pytest.approx(strength * efficiency / 8, rel=1e-3)


@pytest.mark.parametrize(
    ("line_set", "highest_ft", "why"),
    [
        ("3", 4 + 54, "the arbor's travel"),
        ("5", 4 + 52.5, "the shorter travel of the heavy arbor"),
        ("7", 60 - 0.5 - 26 / 12, "six inches and the turnbuckle end under the block"),
        ("24", 4 + 2 * 27, "twice the travel of a double-purchase arbor"),
    ],
)
def test_a_pipe_goes_as_high_as_the_tape_says(
    facts: Facts, line_set: str, highest_ft: float, why: str
) -> None:
    assert figure(facts, line_set, "highest_pipe").high / FOOT == pytest.approx(highest_ft), why


def test_turnbuckles_let_the_pipe_of_set_7_into_its_blocks(facts: Facts) -> None:
    clearance = figure(facts, "7", "block_clearance")
    assert clearance.low / FOOT * 12 == pytest.approx(60 * 12 - (58 * 12 + 26))


def test_a_pick_out_of_plumb_is_steep_near_the_grid(facts: Facts) -> None:
    for name, pipe_ft in (("drop_angle", 58.0), ("drop_angle_low", 4.0)):
        expected = degrees(atan2(4 / 12, 60.5 - pipe_ft))
        assert degrees(figure(facts, "19 / line 2", name).high) == pytest.approx(expected, abs=0.01)


def test_the_curtain_was_dropped_129_days_ago(facts: Facts) -> None:
    days = (date(2026, 4, 13) - date(2025, 12, 5)).days
    assert days == 129
    assert figure(facts, "fire curtain", "age_of_test").low / 86400 == days


@pytest.mark.parametrize(("line_set", "posted", "arbor", "p"), [("3", 750, 60, 1), ("25", 580, 110, 2)])
def test_an_arbor_balances_what_is_posted(
    facts: Facts, line_set: str, posted: float, arbor: float, p: int
) -> None:
    needed = p * (posted + 2.72 * 48 + 5 * 2) - arbor
    found = figure(facts, f"{line_set} / arbor", "counterweight_for_posted")
    assert found.low / POUND == pytest.approx(needed, rel=1e-3)
    assert needed <= figure(facts, f"{line_set} / arbor", "capacity").low / POUND
