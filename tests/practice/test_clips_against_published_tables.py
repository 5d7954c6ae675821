"""The pack's table of clips beside regulations and handbooks that it was not made from, and beside the
program's own.
"""

from math import ceil

import pytest
from tests.practice.judged_in_text import judged, practice_table

from plumbtrue.facts.published_tables import Row, table
from plumbtrue.quantities.bounds import Bounds

INCH = 0.0254
ROPES = [1 / 8, 3 / 16, 1 / 4, 5 / 16, 3 / 8, 7 / 16, 1 / 2, 9 / 16, 5 / 8, 3 / 4, 7 / 8, 1.0]


def clips(column: str, rope: float) -> float:
    found = practice_table("wire_rope_clips").look_up(column, {"rope": Bounds.exactly(rope * INCH)})
    assert isinstance(found, Bounds)
    assert found.is_exact
    return found.low


@pytest.mark.parametrize(("rope", "forged"), [(1 / 2, 3), (5 / 8, 3), (3 / 4, 4), (7 / 8, 4), (1.0, 5)])
def test_numbers_are_those_of_the_construction_rule(rope: float, forged: int) -> None:
    """29 CFR 1926.251, Table H-2, forged clips (read)."""
    assert clips("clips", rope) == forged


@pytest.mark.parametrize("rope", [one for one in ROPES if one >= 1 / 2])
def test_numbers_are_never_under_the_rule_of_thumb(rope: float) -> None:
    """NAVEDTRA 14026, wire rope chapter: 3 D + 1, rounded up (read). It asks for more than makers on thin
    rope only.
    """
    assert clips("clips", rope) >= ceil(3 * rope + 1 - 1e-9)


@pytest.mark.parametrize("rope", ROPES)
def test_the_turn_back_holds_its_clips_six_diameters_apart(rope: float) -> None:
    """29 CFR 1926.451(d)(12)(i): six diameters centre to centre (read). The gaps must fit in the length."""
    assert clips("turn_back", rope) >= (clips("clips", rope) - 1) * 6 * rope * INCH


@pytest.mark.parametrize("row", table("clip-fitting").rows, ids=lambda row: str(row.cells["rope"]))
def test_the_efficiency_of_clips_asks_for_the_same_turn_back(row: Row) -> None:
    """An end that this pack passes is not refused its efficiency for the length turned back."""
    rope, turn_back = row.figure("rope"), row.figure("turn_back")
    assert rope is not None
    assert turn_back is not None
    assert clips("turn_back", rope.low / INCH) == pytest.approx(turn_back.low)


@pytest.mark.parametrize(
    ("rope", "printed"), [("1/2 in", 3.0), ("5/8 in", 3.75), ("3/4 in", 4.5), ("7/8 in", 5.25), ("1 in", 6.0)]
)
def test_spacing_is_that_of_the_construction_rule(rope: str, printed: float) -> None:
    """29 CFR 1926.251, Table H-2, least spacing (read): exactly met, a hundredth of an inch less is not."""
    set_ = (
        "plumbtrue: rig/1\nhouse: {{name: test}}\nline_sets: [{{number: 1, lift_lines: [{{mark: '1', "
        "rope: {{family: wire, diameter: {}}}, lower: [{{part: wire-rope-clips, spacing: {} in}}]}}]}}]\n"
    )
    key = ("clip-spacing-wrong", "1 / line 1 / lower / wire-rope-clips")
    assert judged(set_.format(rope, printed), ["clip-spacing-wrong"])[key] == "met"
    assert judged(set_.format(rope, printed - 0.01), ["clip-spacing-wrong"])[key] == "finding"
