"""The tables that computations read: each row says on what basis it stands, and agrees with a formula or
another source.
"""

from math import pi, sqrt
from pathlib import Path

import pytest
from tests.facts.rigs_in_text import FT, INCH, KSI, LB

from plumbtrue.documents.data_folder import data_folder
from plumbtrue.facts.published_tables import assumed, customary, table
from plumbtrue.mechanics.bend_efficiency import CURVE
from plumbtrue.mechanics.section import round_tube
from plumbtrue.quantities.bounds import Bounds

NAMES = sorted(path.stem for path in (Path(data_folder("schemas")) / "tables").glob("*.yaml"))


@pytest.mark.parametrize("name", NAMES)
def test_every_row_has_a_basis_and_a_source(name: str) -> None:
    assert table(name).name == name
    for row in table(name).rows:
        assert row.source
        assert row.basis in ("read", "from memory", "practice", "computed")


@pytest.mark.parametrize(
    ("nominal", "schedule", "pounds_per_foot"),
    [
        ("1", "40", 1.68),
        ("1-1/4", "40", 2.27),
        ("1-1/2", "40", 2.72),
        ("2", "40", 3.65),
        ("1-1/2", "80", 3.63),
    ],
)
def test_pipe_weighs_what_the_schedule_chart_says(
    nominal: str, schedule: str, pounds_per_foot: float
) -> None:
    """Plain-end weights of ASME B36.10M, 10.69 (D - t) t."""
    row = table("pipe-sizes").row(nominal=nominal, schedule=schedule)
    assert row is not None
    diameter, wall = row.figure("outside_diameter"), row.figure("wall")
    assert diameter is not None
    assert wall is not None
    steel = 490 * LB / FT**3
    weight = round_tube(diameter.low, wall.low).area * steel / (LB / FT)
    assert weight == pytest.approx(pounds_per_foot, abs=0.01)
    assert weight == pytest.approx(10.69 * (diameter.low - wall.low) * wall.low / INCH**2, rel=3e-3)


def test_rope_weights_agree_with_the_standard_factors() -> None:
    """EN 12385-4: m = W d2 kg per 100 m, W 0.381 for 7x19; commercial lists within 16 % of it."""
    for row in table("rope-weights").all(construction="7x19"):
        diameter, weight = row.figure("diameter"), row.figure("weight")
        assert diameter is not None
        assert weight is not None
        by_factor = 0.381 * (diameter.low * 1000) ** 2 / 100 * 9.80665
        assert weight.low == pytest.approx(by_factor, rel=0.16)


def test_metal_areas_are_less_than_the_rope_is_thick() -> None:
    for row in table("rope-constructions").rows:
        factor = row.figure("area_factor")
        assert factor is None or 0.3 < factor.low < pi / 4


def test_the_bend_table_is_that_of_the_mechanics_floor() -> None:
    rows = table("bend-efficiency").rows
    figures = [(row.figure("ratio"), row.figure("efficiency")) for row in rows]
    assert [(Bounds.exactly(ratio), Bounds.exactly(share)) for ratio, share in CURVE] == figures
    assert all(abs(share - (1 - 0.5 / sqrt(ratio))) < 0.035 for ratio, share in CURVE)


def test_yield_of_the_usual_pipe() -> None:
    """ASTM A53 grade B 35 ksi (read on a section-property page)."""
    row = table("batten-metals").row(grade="a53-b")
    assert row is not None
    least = row.figure("yield")
    assert least is not None
    assert least.low == pytest.approx(35 * KSI)


def test_no_assumed_range_is_of_a_strength() -> None:
    """Weights and lengths only: a strength that nobody knows stays unknown."""
    assert {column for row in table("assumed-ranges").rows for column in row.cells} == {
        "what",
        "weight",
        "length",
        "per_length",
    }


def test_a_figure_that_is_not_there_is_our_mistake() -> None:
    with pytest.raises(ValueError, match="no customary figure"):
        customary("strength-of-anything")
    assert assumed("anything", "length") is None
    assert assumed("shackle", "weight") is None
