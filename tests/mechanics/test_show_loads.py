"""Curtains, make-up, cable loops, cues and draughts against hand calculation and other ways to the same
figure."""

from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from plumbtrue.mechanics.cable_feed import cable_share, share_change
from plumbtrue.mechanics.cue_pull import cue_pull
from plumbtrue.mechanics.curtain_weight import (
    Cloth,
    Fittings,
    areal_weight,
    chain_in_gathered_hem,
    curtain_weight,
)
from plumbtrue.mechanics.draught import draught_swing, velocity_pressure
from plumbtrue.mechanics.gravity import STANDARD_GRAVITY
from plumbtrue.mechanics.make_up import Stretch, stated_over_computed, weight_from_make_up
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.swing import sway

POUND, FOOT = 4.4482216152605, 0.3048


def test_25_oz_velour_at_half_fullness_weighs_as_the_table_says() -> None:
    """Table of areal weights by nominal cloth weight (common practice): 0.116 lb/ft2 flat, 0.174 at 50 %
    fullness."""
    flat = areal_weight(25 / 16 * POUND / (3 * FOOT), 54 / 12 * FOOT) / (POUND / FOOT**2)
    assert flat == pytest.approx(0.116, abs=0.0005)
    assert curtain_weight(Cloth(1.0, 1.0, 0.0, 0.5, flat)).total == pytest.approx(0.174, abs=0.0005)


@given(width=st.floats(1, 20), height=st.floats(1, 12), fullness=st.floats(0, 1.5), per_area=st.floats(1, 20))
def test_a_curtain_weighs_as_much_as_its_cloth_laid_flat(
    width: float, height: float, fullness: float, per_area: float
) -> None:
    pleated = curtain_weight(Cloth(width, height, 0.2, fullness, per_area))
    flat = curtain_weight(Cloth(width * (1 + fullness), height, 0.2, 0.0, per_area))
    assert pleated.total == pytest.approx(flat.total, rel=1e-9)


def test_what_hangs_with_a_curtain_counts() -> None:
    cloth = Cloth(10.0, 5.0, 0.0, 0.0, 1.0, lining_per_area=0.5)
    told = curtain_weight(cloth, Fittings(chain=2.0, pipe=3.0, carriers=7.0, track=11.0), extra=0.1)
    assert told.cloth == pytest.approx(82.5)
    assert told.total == pytest.approx(82.5 + 50 + 18)
    assert chain_in_gathered_hem(2.0, 1.0) == 4.0


def test_one_part_that_nobody_weighed_leaves_a_piece_unknown() -> None:
    known = Stretch(area=10.0, per_area=5.0, count=2)
    assert weight_from_make_up([known]) == 100.0
    others = (Stretch(length=3.0), Stretch(per_area=1.0), Stretch(per_area=1.0, each=2.0), Stretch())
    assert [weight_from_make_up([known, other]) for other in others] == [None] * 4
    assert weight_from_make_up([]) is None


def test_pounds_written_for_kilograms_show_in_the_ratio() -> None:
    assert stated_over_computed(100 / 2.20462, 100.0) == pytest.approx(0.45, abs=0.01)


@given(
    w=st.floats(1, 200),
    loop=st.floats(5, 30),
    pick=st.floats(2, 20),
    pipe=st.floats(0, 20),
)
def test_a_cable_loop_hangs_from_both_ends(w: float, loop: float, pick: float, pipe: float) -> None:
    """The lowest point by root search: what is left of it and right of it make up the whole loop."""
    told = cable_share(w, loop, pick, pipe)
    if abs(pick - pipe) > loop * (1 + 1e-9):
        assert isinstance(told, Refused)
        return
    assert isinstance(told, float)
    lowest = brentq(lambda z: (pipe - z) + (pick - z) - loop, -100, 100)
    assert told == pytest.approx(w * (pipe - lowest), abs=1e-6)


def test_half_the_cables_change_by_half_as_much() -> None:
    """A 34 ft loop picked at 30 ft, pipe from 4 to 27 ft: 59 lb at 5.1 lb/ft, 29 lb at half of that."""
    changes = [share_change(w, 34.0, 30.0, 4.0, 27.0) for w in (5.1, 2.55)]
    assert changes == pytest.approx([58.65, 29.325])


def test_a_loop_drawn_tight_at_one_end_of_its_travel_is_refused() -> None:
    assert isinstance(share_change(5.1, 20.0, 30.0, 4.0, 27.0), Refused)


@given(
    batten=st.floats(100, 5000),
    arbor=st.floats(100, 9000),
    distance=st.floats(0.5, 12),
    time=st.floats(1, 20),
    purchase=st.sampled_from([1, 2]),
)
def test_the_hand_line_gives_the_power_that_the_masses_take(
    batten: float, arbor: float, distance: float, time: float, purchase: int
) -> None:
    """Kinetic energy at the peak over the travel of the hand line while speeding up."""
    told = cue_pull(batten, arbor, distance, time, purchase=purchase)
    energy = (batten * told.peak_speed**2 + arbor * (told.peak_speed / purchase) ** 2) / (
        2 * STANDARD_GRAVITY
    )
    hand_line_travel = told.peak_speed / 2 * (time / 3) / purchase
    assert told.to_accelerate * hand_line_travel == pytest.approx(energy, rel=1e-9)
    # A third up, a third even, a third down covers the whole distance.
    assert told.peak_speed * time * 2 / 3 == pytest.approx(distance, rel=1e-9)


def test_imbalance_and_friction_add_to_a_cue() -> None:
    told = cue_pull(1000.0, 1000.0, 5.0, 10.0, purchase=1, imbalance_at_hand_line=-60.0, friction=45.0)
    assert told.pull == pytest.approx(told.to_accelerate + 105.0)


def test_velocity_pressure_is_that_of_the_building_codes() -> None:
    """0.00256 V^2 in lb/ft2 with V in mph, ASCE 7 (from memory)."""
    assert velocity_pressure(0.44704) / (POUND / FOOT**2) == pytest.approx(0.00256, rel=0.002)


@given(speed=st.floats(0, 3), area=st.floats(1, 200), weight=st.floats(50, 3000), drop=st.floats(1, 15))
def test_a_draught_swings_a_cloth_no_less_than_its_true_sway(
    speed: float, area: float, weight: float, drop: float
) -> None:
    told = draught_swing(speed, area, 1.2, weight, drop)
    true = sway(drop, told.force, weight)
    assert told.swing >= true.sway - 1e-12
    assert isclose(told.angle, true.angle)
