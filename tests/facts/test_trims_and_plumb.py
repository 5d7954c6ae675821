"""How high a batten goes and how far its lines are off plumb; figures of the invented demo house, checked by
hand.
"""

from math import degrees, radians, sin, tan

import pytest
from tests.facts.rigs_in_text import CHAIN_END, FT, INCH, LB, LOFT_BLOCK, TURNBUCKLE_END, Ask, a_set

from plumbtrue.facts.computed.plumb import drop_angle_at
from plumbtrue.facts.gathering import Gathering
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import UNKNOWN, Choice

DEG = radians(1)
OFF_ITS_BLOCK = "{lines: [2], pick_off_along: 4 in, pick_off_across: 0 in, measured_with: held}"
PLUMB = "{lines: [1, 3, 4, 5], pick_off_along: 0 in, pick_off_across: 0 in, measured_with: held}"


def test_wrapped_ends_let_the_arbor_stop_the_batten(one_set: Ask) -> None:
    """4'-0" and 54'-0" of travel; 60'-0" less 6 in less 12 in of lower end would allow 58'-6"."""
    rig = one_set(a_set())
    assert rig.figure("14", "highest_pipe", FT) == pytest.approx(58)
    assert rig.answer("14", "highest_pipe_by").value == Choice(frozenset({"travel"}))
    assert rig.figure("14", "block_clearance", FT) == pytest.approx(1)


def test_turnbuckles_cost_height(one_set: Ask) -> None:
    """60'-0" less 6 in less 26 in; at the arbor's stop the lower end would stand 2 in above the block's low
    point.
    """
    rig = one_set(a_set(lower=TURNBUCKLE_END))
    assert rig.figure("14", "highest_pipe", FT) == pytest.approx(57 + 4 / 12)
    assert rig.answer("14", "highest_pipe_by").value == Choice(frozenset({"blocks"}))
    assert rig.figure("14", "block_clearance", INCH) == pytest.approx(-2)
    assert rig.figure("14 / line 1", "lost_height", INCH) == pytest.approx(26)


def test_the_longest_lower_end_decides(one_set: Ask) -> None:
    rig = one_set(a_set(except_=f"{{lines: [4], lower: {TURNBUCKLE_END}}}"))
    assert rig.figure("14", "highest_pipe", FT) == pytest.approx(57 + 4 / 12)
    assert rig.figure("14 / line 1", "stack", INCH) == pytest.approx(12)
    assert rig.figure("14 / line 4", "stack", INCH) == pytest.approx(26)


def test_double_purchase_travels_twice_as_far(one_set: Ask) -> None:
    rig = one_set(
        a_set(system="double-purchase", arbor="weight: 110 lb, travel: 27'-0\", clear_height: 97 in")
    )
    assert rig.figure("14", "highest_pipe", FT) == pytest.approx(58)


@pytest.mark.parametrize("arbor", ["arbor: none", ""])
def test_a_hemp_set_goes_up_to_its_blocks(one_set: Ask, arbor: str) -> None:
    """It has no arbor to stop it, and nobody writes that down: 60'-0" less 6 in less 12 in of lower end."""
    text = "\n".join(
        arbor if line.startswith("arbor:") else line for line in a_set(system="hemp").splitlines()
    )
    rig = one_set(text)
    assert rig.figure("14", "highest_pipe", FT) == pytest.approx(58.5)
    assert rig.answer("14", "highest_pipe_by").value == Choice(frozenset({"blocks"}))
    assert rig.answer("14", "block_clearance").value is UNKNOWN


def test_a_stop_at_a_posted_limit_counts_a_mark_does_not(one_set: Ask) -> None:
    stop = one_set(a_set(more="trim_limit: 50'-0\"\ntrim_limit_held_by: stop"))
    mark = one_set(a_set(more="trim_limit: 50'-0\"\ntrim_limit_held_by: mark"))
    assert stop.figure("14", "highest_pipe", FT) == pytest.approx(50)
    assert stop.answer("14", "highest_pipe_by").value == Choice(frozenset({"limit"}))
    assert mark.figure("14", "highest_pipe", FT) == pytest.approx(58)


def test_without_the_travel_it_is_at_most_what_the_blocks_allow(one_set: Ask) -> None:
    rig = one_set(a_set(arbor="weight: 60 lb, clear_height: 64 in"))
    low, high = rig.bounds("14", "highest_pipe", FT)
    assert high == pytest.approx(58.5)
    assert low < 0
    assert rig.missing("14", "highest_pipe") == {"14 / arbor: travel"}


def test_a_part_of_unknown_height_is_a_marked_range(one_set: Ask) -> None:
    rig = one_set(a_set(lower=CHAIN_END.replace(", stack_length: 8 in", "")))
    low, high = rig.bounds("14 / line 1", "stack", INCH)
    assert (low, high) == pytest.approx((4 + 2, 4 + 36))
    assert rig.missing("14 / line 1", "stack") == {"14 / line 1 / lower / trim-chain: stack_length"}


def test_a_measured_clearance_goes_before_sums(one_set: Ask) -> None:
    rig = one_set(a_set(more="eye_to_groove: 10 in"))
    assert rig.figure("14", "block_clearance", INCH) == pytest.approx(10)


@pytest.mark.parametrize(
    ("pipe_ft", "expected"),
    [
        pytest.param(28, 0.6, id="low down it is hardly to be seen"),
        pytest.param(58, 7.6, id="near the grid the same offset is steep"),
    ],
)
def test_an_offset_of_four_inches_grows_steep(one_set: Ask, pipe_ft: float, expected: float) -> None:
    """Groove at 60'-6": atan(4 in / 32'-6") and atan(4 in / 2'-6")."""
    rig = one_set(a_set(except_=OFF_ITS_BLOCK))
    known = Gathering(rig.facts)
    angle = drop_angle_at(known, rig.thing("14 / line 2"), Bounds.exactly(pipe_ft * FT))
    assert round(degrees(angle.low), 1) == round(degrees(angle.high), 1) == expected


def test_the_angle_at_the_greatest_height(one_set: Ask) -> None:
    rig = one_set(a_set(except_=OFF_ITS_BLOCK))
    assert rig.figure("14 / line 2", "drop_angle", DEG) == pytest.approx(7.595, abs=0.001)
    assert rig.figure("14 / line 2", "drop_angle_low", DEG) == pytest.approx(0.338, abs=0.001)


def test_the_height_at_which_three_degrees_are_passed(one_set: Ask) -> None:
    """60'-6" less 4 in over the tangent of 3 degrees, which is 6.36 ft."""
    rig = one_set(a_set(except_=OFF_ITS_BLOCK))
    assert rig.figure("14 / line 2", "plumb_limit_height", FT) == pytest.approx(
        60.5 - 4 / 12 / tan(radians(3))
    )


def test_a_batten_drifts_until_its_lines_balance(one_set: Ask) -> None:
    """Line 2 carries 32.7 of 140.6 lb bare: the batten swings 0.93 in, and 3.07 in are left of the 4."""
    rig = one_set(a_set(except_=f"{OFF_ITS_BLOCK}, {PLUMB}"))
    assert rig.figure("14 / line 2", "drift", INCH) == pytest.approx(4 * 32.7 / 140.6, abs=0.01)
    assert rig.figure("14 / line 2", "drop_angle_drifted", DEG) == pytest.approx(5.84, abs=0.03)


def test_lines_all_off_the_same_way_hang_plumb(one_set: Ask) -> None:
    """The batten swings over by as much, and that is all."""
    all_off = "{lines: [1, 2, 3, 4, 5], pick_off_along: 6 in, pick_off_across: 0 in, measured_with: held}"
    rig = one_set(a_set(except_=all_off))
    assert rig.figure("14 / line 1", "drift", INCH) == pytest.approx(6)
    assert rig.figure("14 / line 1", "drop_angle_drifted", DEG) == pytest.approx(0, abs=1e-9)


def test_offsets_of_a_free_batten_have_the_swing_in_them(one_set: Ask) -> None:
    free = OFF_ITS_BLOCK.replace("held", "free")
    rig = one_set(a_set(except_=free))
    assert rig.figure("14 / line 2", "drift") == 0
    assert rig.figure("14 / line 2", "drop_angle_drifted", DEG) == pytest.approx(7.595, abs=0.001)


def test_in_order_allows_half_an_inch_to_either_side(one_set: Ask) -> None:
    rig = one_set(a_set())
    low, high = rig.bounds("14 / line 2", "drop_angle", DEG)
    assert low == 0
    assert high == pytest.approx(degrees(0.5 * 2**0.5 / 30), abs=0.01)


def test_a_pipe_that_reaches_its_groove_leaves_no_drop(one_set: Ask) -> None:
    rig = one_set(a_set(loft=LOFT_BLOCK.replace("60'-6", "58'-0"), except_=OFF_ITS_BLOCK))
    assert rig.figure("14 / line 2", "drop_angle", DEG) == pytest.approx(90)


def test_without_a_groove_height_the_angle_is_unknown(one_set: Ask) -> None:
    rig = one_set(a_set(loft=LOFT_BLOCK.replace("groove_height: 60'-6\", ", ""), except_=OFF_ITS_BLOCK))
    assert rig.answer("14 / line 2", "drop_angle").value == UNKNOWN
    assert rig.missing("14 / line 2", "drop_angle") == {"14 / line 2 / loft-block: groove_height"}


def test_a_side_line_pulls_least_where_it_lies_square_to_the_lines(one_set: Ask) -> None:
    """The triangle of three pulls: W sin 20 deg square to the lines, W sin 20 deg / cos 20 deg level, and that
    again at 40 deg; the smallest lies between the ends.
    """
    text = "fixed_load: 300 lb\nside_lines: [{draws_line_by: 20 deg, angle: 0 deg .. 40 deg}]"
    rig = one_set(a_set(more=text))
    path = next(thing.path for thing in rig.rig.house.below() if thing.kind.name == "side_line")
    low, high = rig.bounds(path, "tension", LB)
    assert low == pytest.approx(300 * sin(radians(20)))
    assert high == pytest.approx(300 * tan(radians(20)))
