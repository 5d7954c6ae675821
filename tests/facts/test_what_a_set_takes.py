"""What a set takes, by each limit: counterweight by arithmetic, the pipe's end as a cantilever, by hand."""

import pytest
from tests.facts.rigs_in_text import FT, INCH, KSI, LB, Ask, a_set

from plumbtrue.quantities.values import Name

DOUBLE = (
    "weight: 110 lb, travel: 27'-0\", clear_height: 97 in, plates_thickness: 0 in, weights: {brick-28: 6}"
)
PIPE_AND_ENDS = 2.72 * 48 + 10
"""Weight of pipe and lower ends [lb]: 1-1/2 schedule 40 is 2.72 lb/ft (ASME B36.10M), five ends of 2 lb."""


def test_the_arbors_plate_bounds_a_spread_load(one_set: Ask) -> None:
    """900 lb of weights and 60 lb of arbor balance 960 lb; pipe and ends are 140.6 of them."""
    rig = one_set(
        a_set(arbor="weight: 60 lb, clear_height: 70 in, plates_thickness: 0 in, weights: {brick-28: 3}")
    )
    low, _ = rig.bounds("14", "takes_spread", LB)
    assert low == pytest.approx(960 - PIPE_AND_ENDS, abs=0.2)
    assert rig.answer("14", "takes_spread_by").value == Name("the arbor's plate")


def test_bricks_that_find_no_room_bound_it_before_the_plate(one_set: Ask) -> None:
    """64 in take 32 bricks of 28 lb: 896 lb."""
    rig = one_set(
        a_set(arbor="weight: 60 lb, clear_height: 64 in, plates_thickness: 0 in, weights: {brick-28: 3}")
    )
    low, _ = rig.bounds("14", "takes_spread", LB)
    assert low == pytest.approx(956 - PIPE_AND_ENDS, abs=0.2)
    assert rig.answer("14", "takes_spread_by").value == Name("the bricks that fit")


def test_a_double_purchase_arbor_takes_half(one_set: Ask) -> None:
    """(110 + 900) / 2 less pipe and ends: the plate of this arbor is the 900 lb of the single ones."""
    rig = one_set(a_set(system="double-purchase", arbor=DOUBLE))
    low, _ = rig.bounds("14", "takes_spread", LB)
    assert low == pytest.approx(1010 / 2 - PIPE_AND_ENDS, abs=0.2)


def test_the_end_of_the_pipe_takes_least_of_a_single_load(one_set: Ask) -> None:
    """A cantilever of 3 ft: P L + w L^2 / 2 = 0.6 Fy S, with Fy 30 ksi and S of a tube of 1.900 by 0.145 in."""
    rig = one_set(a_set())
    outside, inside = 1.9, 1.9 - 2 * 0.145
    modulus = 3.141592653589793 * (outside**4 - inside**4) / (32 * outside) * INCH**3
    allowed = 0.6 * 30 * KSI * modulus / (LB * FT)
    by_hand = (allowed - 2.72 * 3**2 / 2) / 3
    low, _ = rig.bounds("14", "takes_point", LB)
    assert low == pytest.approx(by_hand, rel=2e-3)
    assert rig.answer("14", "takes_point_by").value == Name("the pipe in bending")


def test_what_a_set_takes_does_not_hang_on_what_is_posted(one_set: Ask) -> None:
    little = one_set(a_set(posted="posted_total: 10 lb\nposted_point_at_line: none"))
    much = one_set(a_set())
    assert little.bounds("14", "takes_spread") == much.bounds("14", "takes_spread")


def test_without_the_grade_of_the_pipe_it_is_only_at_most(one_set: Ask) -> None:
    rig = one_set(a_set().replace("grade: a53-a", "grade: unknown"))
    low, high = rig.bounds("14", "takes_point", LB)
    assert low == 0
    assert high > 0
    assert "14 / batten: grade" in rig.missing("14", "takes_point")


def test_without_the_rating_of_a_block_it_is_only_at_most(one_set: Ask) -> None:
    block = (
        "{part: loft-block, mount: underhung, tread_diameter: 8 in, wrap_angle: 90 deg, low_point: 60'-0\"}"
    )
    rig = one_set(a_set(loft=block))
    assert rig.bounds("14", "takes_spread", LB)[0] == 0


@pytest.mark.parametrize("arbor", ["travel: 54'-0\", weights: {brick-28: 3}", "weight: at least 50 lb"])
def test_without_the_weight_of_the_arbor_it_is_only_at_most(one_set: Ask, arbor: str) -> None:
    rig = one_set(a_set(arbor=arbor))
    assert rig.bounds("14", "takes_spread", LB)[0] == 0
    assert "14 / arbor: weight" in rig.missing("14", "takes_spread")


def test_a_set_that_hangs_what_it_takes_meets_its_limit(one_set: Ask) -> None:
    """The question turned round again: at the greatest point load at the tip the pipe is at what it allows."""
    most, _ = one_set(a_set()).bounds("14", "takes_point", LB)
    posted = (
        f"posted_total: 1 lb\nposted_per_length: none\nposted_point_at_line: none\n"
        f"posted_point_between: none\nposted_point_overhang: {most:.6f} lb"
    )
    rig = one_set(a_set(posted=posted))
    _, used = rig.bounds("14 / batten", "bending_utilisation")
    assert used == pytest.approx(1.0, rel=1e-3)
