"""Places at which a piece hangs, hot lighting beside it, and what the supports of a truss are rated for.

The figures are those of the demo's own plot, counted by hand.
"""

import pytest
from tests.show.laid_shows import INCH, POUND, demo, one_set

from plumbtrue.quantities.values import NONE


@pytest.mark.parametrize(
    ("item", "places"),
    [("11", 1), ("17", 2), ("21", 4), ("03", 4), ("07", 6), ("06", 0), ("05", 0), ("01", 0)],
)
def test_a_piece_hangs_at_as_many_places_as_its_loads_name(item: str, places: int) -> None:
    assert demo("a").middle(f"plot / item {item}", "picks") == places


def test_a_cloth_sees_the_nearest_hot_electric() -> None:
    # Star drop on 17, border 3 on 19, the third electric on 18 between them: centres less both half-depths.
    show = demo("a")
    assert show.middle("plot / item 13", "hot_gap", INCH) == pytest.approx(6)
    assert show.middle("plot / item 15", "hot_gap", INCH) == pytest.approx(6)


def test_nothing_hot_beside_a_piece_is_none() -> None:
    assert demo("a").answer("plot / item 26", "hot_gap").value is NONE


def test_a_support_is_good_for_what_its_hoist_is() -> None:
    supports = [one for one in demo("a").by_path if "lantern truss" in one and "support" in one]
    assert supports
    for path in supports:
        assert demo("a").middle(path, "rating", POUND) == pytest.approx(1000)


SUPPORTS = "plot / truss T1 / truss support"
ON_THREE = """\
  points:
    - {key: P1, across: SR 12 ft, height: 61 ft}
    - {key: P2, across: CL, height: 61 ft}
    - {key: P3, across: SL 12 ft, height: 61 ft}
  trusses:
    - {key: T1, length: 24 ft, weight: 240 lb, stiffness_ei: 400000 lbf ft2, trim: 28 ft,
       supports: [{at: 0 ft, hoist: H-1}, {at: 12 ft, hoist: H-2}, {at: 24 ft, hoist: H-3}]}
  hoists: [{key: H-1, hangs_on: P1}, {key: H-2, hangs_on: P2}, {key: H-3, hangs_on: P3}]
"""
ON_ITS_HALVES = """\
    - {key: P, on: T1, weight: 200..300 lb, loads: [{at: SR 6 ft, weight: 200..300 lb}]}
    - {key: Q, on: T1, weight: 0..100 lb, loads: [{at: SL 6 ft, weight: 0..100 lb}]}
"""


def test_a_support_is_worst_with_the_far_span_light() -> None:
    """Two equal spans of 12 ft, the end from tables of continuous beams: 3/8 w L, 13/32 of a load in the middle of its
    own span, -3/32 of one in the middle of the other; the middle support 1/2 in low adds 3 EI d / L3, an end that is
    high 1.5 EI d / L3. So the end takes most with its own load heavy and the other light.
    """
    out = one_set(ON_ITS_HALVES, rest=ON_THREE).figure(f"{SUPPORTS} 0 ft", "force_out_of_step", POUND)
    step = 3 * 400_000 * (0.5 / 12) / 12**3
    assert out.high == pytest.approx(3 / 8 * 10 * 12 + 13 / 32 * 300 - 3 / 32 * 0 + step)
    assert out.low == pytest.approx(3 / 8 * 10 * 12 + 13 / 32 * 200 - 3 / 32 * 100 + step)


def test_a_support_is_worst_with_another_lost_and_the_far_span_light() -> None:
    """Without the far end the truss turns about the middle: (300 x 6 - 0 x 6) / 12 = 150 lb on the near end; without
    the middle one each end takes 120 lb of the truss, 3/4 of the near load and 1/4 of the far one: 370 lb at most.
    """
    lost = one_set(ON_ITS_HALVES, rest=ON_THREE).figure(f"{SUPPORTS} 0 ft", "force_with_one_lost", POUND)
    assert (lost.low, lost.high) == pytest.approx((120 + 150, 120 + 225 + 25))
