"""Places at which a piece hangs, hot lighting beside it, and what the supports of a truss are rated for.

The figures are those of the demo's own plot, counted by hand.
"""

import pytest
from tests.show.laid_shows import INCH, POUND, demo

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
