"""Tables: what lies between and beyond the rows, for keys known exactly and within bounds.

The clip counts are the makers' least as reproduced in Cal. Title 8 section 8497 Table 1 (1/2 in and up)
and on trade pages (thinner rope), taken at second hand; here they only give a table its steps.
"""

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.language.small_rig import Rig, claimed, scope, thing

from plumbtrue.facts.store import NotExact
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import LENGTH
from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.values import NONE, UNKNOWN, Choice, Name, Value
from plumbtrue.rules.language.careful import evaluate
from plumbtrue.rules.language.fast import compile_fast
from plumbtrue.rules.language.tables import Cell, Column, Policy, Table
from plumbtrue.rules.language.value_types import PLAIN, Figures, Names, OneWord

INCH = 0.0254
exactly = Bounds.exactly


def one_key(policy: Policy, *rows: tuple[Cell, Cell], whole: bool = False) -> Table:
    return Table("t", (Column("key", PLAIN, policy, whole), Column("said", PLAIN)), rows)


STEPS = ((1.0, 10.0), (2.0, 40.0), (4.0, 20.0))


@pytest.mark.parametrize(
    ("policy", "key", "expected"),
    [
        ("exact", exactly(2), exactly(40)),
        ("exact", exactly(2 + 1e-12), exactly(40)),
        ("exact", exactly(3), UNKNOWN),
        ("exact", Bounds(1, 2), UNKNOWN),
        ("next-lower", exactly(3), exactly(40)),
        ("next-lower", exactly(2), exactly(40)),
        ("next-lower", Bounds(1.5, 3), Bounds(10, 40)),
        ("next-lower", Bounds(1.5, 4), Bounds(10, 40)),
        ("next-higher", exactly(3), exactly(20)),
        ("next-higher", exactly(2), exactly(40)),
        ("next-higher", Bounds(1.5, 3), Bounds(20, 40)),
        ("next-higher", Bounds(1, 1.5), Bounds(10, 40)),
        ("interpolate", exactly(3), exactly(30)),
        ("interpolate", exactly(1.5), exactly(25)),
        ("interpolate", Bounds(1.5, 3), Bounds(25, 40)),
        ("interpolate", Bounds(3, 4), Bounds(20, 30)),
    ],
)
def test_between_the_rows(policy: Policy, key: Bounds, expected: Value) -> None:
    assert one_key(policy, *STEPS).look_up("said", {"key": key}) == expected


@pytest.mark.parametrize("policy", ["exact", "next-lower", "next-higher", "interpolate"])
@pytest.mark.parametrize(
    "key", [exactly(0.9), exactly(4.1), Bounds(0.5, 2), Bounds(2, 5), Bounds(2, inf), UNKNOWN, NONE]
)
def test_beyond_the_rows_nothing_is_known(policy: Policy, key: Value) -> None:
    assert one_key(policy, *STEPS).look_up("said", {"key": key}) == UNKNOWN


def test_a_count_known_within_bounds_finds_every_row_that_it_may_be() -> None:
    table = one_key("exact", (1.0, 10.0), (2.0, 30.0), (3.0, 20.0), whole=True)
    assert table.look_up("said", {"key": Bounds(1, 3)}) == Bounds(10, 30)
    assert table.look_up("said", {"key": Bounds(3, 4)}) == UNKNOWN


def test_a_silent_cell_is_unknown() -> None:
    table = one_key("next-lower", (1.0, 10.0), (2.0, None))
    assert table.look_up("said", {"key": exactly(2)}) == UNKNOWN
    assert table.look_up("said", {"key": Bounds(1, 2)}) == UNKNOWN


ALLOWED = OneWord(frozenset({"allowed", "refused"}))
METALS = OneWord(frozenset({"copper", "aluminium"}))
PAIRS = Table(
    "pairs",
    (
        Column("sleeve", OneWord(frozenset({"copper", "aluminium"})), "exact"),
        Column("rope", Names(), "exact"),
        Column("verdict", ALLOWED),
    ),
    (
        ("copper", "galvanized", "allowed"),
        ("aluminium", "stainless", "refused"),
        ("aluminium", "galvanized", "allowed"),
    ),
)


def test_words_and_names_are_keys_too() -> None:
    keys: dict[str, Value] = {"sleeve": Choice(frozenset({"aluminium"})), "rope": Name("stainless")}
    assert PAIRS.look_up("verdict", keys) == Choice(frozenset({"refused"}))


def test_a_word_that_may_be_one_of_several_finds_what_each_would() -> None:
    either = Choice(frozenset({"copper", "aluminium"}))
    assert PAIRS.look_up("verdict", {"sleeve": either, "rope": Name("galvanized")}) == Choice(
        frozenset({"allowed"})
    )
    assert PAIRS.look_up("verdict", {"sleeve": either, "rope": Name("stainless")}) == UNKNOWN


def test_two_keys_that_move_between_rows() -> None:
    """A plane through the four corners: linear in both keys, so that bilinear interpolation gives it back
    exactly.
    """
    columns = (Column("x", PLAIN, "interpolate"), Column("y", PLAIN, "interpolate"), Column("z", PLAIN))
    rows = tuple((x, y, 2 * x + 3 * y) for x in (0.0, 2.0) for y in (0.0, 4.0))
    table = Table("plane", columns, rows)
    assert table.look_up("z", {"x": exactly(0.5), "y": exactly(1.0)}) == exactly(4.0)
    assert table.look_up("z", {"x": Bounds(0.5, 1.0), "y": exactly(1.0)}) == Bounds(4.0, 5.0)


@given(
    st.lists(st.floats(-5, 5), min_size=5, max_size=5),
    st.sampled_from(["next-lower", "next-higher", "interpolate"]),
    st.data(),
)
def test_bounds_hold_all_that_a_figure_within_them_finds(
    cells: list[float], policy: Policy, data: st.DataObject
) -> None:
    """Columns that rise and fall at will."""
    table = one_key(policy, *zip((0.0, 1.0, 2.5, 3.0, 7.0), cells, strict=True))
    low, high = sorted(data.draw(st.lists(st.floats(0, 7), min_size=2, max_size=2)))
    hull = table.look_up("said", {"key": Bounds(low, high)})
    inside = table.look_up("said", {"key": exactly(data.draw(st.floats(low, high)))})
    assert isinstance(hull, Bounds)
    assert isinstance(inside, Bounds)
    assert hull.low <= inside.low == inside.high <= hull.high


def test_what_is_wrong_with_a_table_is_told() -> None:
    assert one_key("exact", *STEPS).mistakes() == ()
    twice = one_key("exact", (1.0, 1.0), (1.0, 2.0)).mistakes()
    assert twice == ("row 2 has the same key as an earlier one",)
    assert one_key("exact", (None, 1.0)).mistakes() == ("row 1 has an empty key",)
    ragged = Table("t", (Column("key", PLAIN, "exact"), Column("said", PLAIN)), ((1.0,),))
    assert ragged.mistakes() == ("row 1 has 1 cells for 2 columns",)
    assert "no column is a key" in Table("t", (Column("said", PLAIN),), ()).mistakes()


CLIPS = Table(
    "clips",
    (Column("size", Figures(LENGTH), "next-higher"), Column("least", PLAIN)),
    tuple(
        (INCH * size, least)
        for size, least in ((1 / 8, 2.0), (7 / 16, 2.0), (5 / 8, 3.0), (7 / 8, 4.0), (1, 5.0))
    ),
)


@pytest.mark.parametrize(
    ("size", "count", "expected"),
    [
        pytest.param(exactly(1 / 4 * INCH), 2, Truth.HOLDS, id="two on a quarter inch"),
        pytest.param(exactly(1 / 2 * INCH), 2, Truth.FAILS, id="two on a half inch"),
        pytest.param(exactly(1 / 2 * INCH), 3, Truth.HOLDS, id="three on a half inch"),
        pytest.param(
            Bounds(3 / 8 * INCH, 1 / 2 * INCH), 2, Truth.CANNOT_TELL, id="two on 3/8 or a half inch"
        ),
        pytest.param(Bounds(3 / 8 * INCH, 1 / 2 * INCH), 3, Truth.HOLDS, id="three on 3/8 or a half inch"),
        pytest.param(exactly(1.25 * INCH), 9, Truth.CANNOT_TELL, id="thicker than the table knows"),
    ],
)
def test_a_rule_with_a_table(size: Bounds, count: float, expected: Truth) -> None:
    clips = thing("wire_rope_clips", size=size, count=exactly(count))
    checked = claimed(
        "count >= look up least in clips for size = size", scope("wire_rope_clips", tables={"clips": CLIPS})
    )
    assert checked.meaning is not None
    found = evaluate(checked.meaning, Rig(), clips)
    assert found.truth is expected
    fast = compile_fast(checked.meaning)
    if expected is Truth.CANNOT_TELL:
        assert [one.fact for one in found.missing] == ["size"]
        with pytest.raises(NotExact):
            fast(Rig(), clips)
    elif size.is_exact:
        assert Truth.of(fast(Rig(), clips)) is expected
