"""Whether a plot gives a piece a weight, which pieces claim one stretch of a pipe, and pieces that nobody placed."""

import pytest
from tests.show.laid_shows import POUND, Laid, one_set

from plumbtrue.quantities.values import Choice, Unknown


def piece(key: str, rest: str, on: str = "14") -> str:
    return f"    - {{key: {key}, name: piece {key}, on: {on}, {rest}}}\n"


@pytest.mark.parametrize(
    ("rest", "words"),
    [
        pytest.param("weight: 40 lb", {"yes"}, id="a weight"),
        pytest.param(
            "category: practical, loads: [{at: CL, weight: 40 lb}]", {"yes"}, id="picks that carry it"
        ),
        pytest.param("category: border", {"no"}, id="nothing"),
        pytest.param("category: border, loads: [{at: CL}]", {"yes", "no"}, id="picks without figures"),
        pytest.param(
            "category: framed, make_up: [{what: pipe, length: 10'-0\", per_length: 2.72 lb/ft}]",
            {"yes"},
            id="what it is made of",
        ),
        pytest.param(
            "category: electric, units: [{at: CL, weight: 20 lb}]",
            {"yes", "no"},
            id="lamps, and no word of cable",
        ),
    ],
)
def test_a_weight_is_written_where_one_follows(rest: str, words: set[str]) -> None:
    answer = one_set(piece("A", rest)).answer("plot / item A", "weight_written")
    assert isinstance(answer.value, Choice)
    assert answer.value.possible == words


def test_what_would_complete_a_weight_is_named() -> None:
    answer = one_set(piece("A", "loads: [{at: CL}]")).answer("plot / item A", "weight_written")
    assert ("plot / item A / load", "weight") in {(one.thing.path, one.fact) for one in answer.missing}


LEFT = "weight: 40 lb, extent: [{from: SR 10'-0\", to: CL}]"
RIGHT = "weight: 40 lb, extent: [{from: CL, to: SL 10'-0\"}]"
ACROSS = "weight: 40 lb, extent: [{from: SR 5'-0\", to: SL 5'-0\"}]"


def unmarked(show: Laid, key: str) -> object:
    found = show.facts.part(show.thing(f"plot / item {key}"), "overlaps_unmarked")
    return [one.key for one in found] if isinstance(found, tuple) else found


@pytest.mark.parametrize(
    ("one", "other", "keys"),
    [
        pytest.param(LEFT, ACROSS, ["item B"], id="one reaches over the other"),
        pytest.param(LEFT, RIGHT, [], id="they meet edge to edge"),
        pytest.param(LEFT, ACROSS + ", layered_with: [A]", [], id="the other says that they share it"),
        pytest.param(LEFT + ", category: cable", ACROSS, [], id="cable shares a pipe with anything"),
    ],
)
def test_pieces_that_claim_one_stretch_unmarked(one: str, other: str, keys: list[str]) -> None:
    assert unmarked(one_set(piece("A", one) + piece("B", other)), "A") == keys


def test_a_piece_without_ends_may_claim_any_stretch() -> None:
    show = one_set(piece("A", LEFT) + piece("B", "weight: 40 lb"))
    assert show.facts.is_unlisted(show.thing("plot / item A"), "overlaps_unmarked")


TRUSS = """
  trusses:
    - {key: T1, length: 20'-0", weight: 100 lb, supports: [{at: 2'-0", hoist: H-1}, {at: 18'-0", hoist: H-2}]}
  hoists:
    - {key: H-1, body: up, hangs_on: P1}
    - {key: H-2, body: up, hangs_on: P2}
  points: [{key: P1}, {key: P2}]
"""


def test_a_piece_that_hangs_nobody_knows_where_may_hang_on_the_truss() -> None:
    """With the place of a piece struck out, a truss was told lighter than with it."""
    sign = "weight: 200 lb +/- 0 lb, loads: [{at: CL, weight: 200 lb}]"
    placed = one_set(piece("A", sign, on="T1"), rest=TRUSS)
    # 100 lb of truss and 200 lb at its middle on two supports: 150 lb each, by moments.
    assert placed.figure("plot / hoist H-1", "load_share", POUND).high == pytest.approx(150.0)
    unplaced = one_set(piece("A", sign, on="T1").replace("on: T1, ", ""), rest=TRUSS)
    answer = unplaced.answer("plot / hoist H-1", "load_share")
    assert isinstance(answer.value, Unknown)
    assert ("plot / item A", "on") in {(one.thing.path, one.fact) for one in answer.missing}


def test_a_support_that_nobody_knows_what_holds_may_hang_on_any_hoist() -> None:
    loose = one_set(
        piece("A", "weight: 5 lb"), rest=TRUSS.replace("{at: 18'-0\", hoist: H-2}", "{at: 18'-0\"}")
    )
    answer = loose.answer("plot / hoist H-1", "load_share")
    assert isinstance(answer.value, Unknown)
