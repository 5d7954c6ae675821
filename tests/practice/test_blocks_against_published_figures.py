"""Limits of blocks beside the figures that others publish, each judged on it and just off it."""

from math import radians, tan

import pytest
from tests.practice.judged_in_text import judged, practice_table

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import Choice


def ratio(construction: str) -> float:
    found = practice_table("sheave_ratios").look_up(
        "least", {"construction": Choice(frozenset({construction}))}
    )
    assert isinstance(found, Bounds)
    assert found.is_exact
    return found.low


def loft_block(slug: str, block: str, rope: str = "diameter: 1/4 in, construction: 7x19") -> str:
    """What a rule says of a loft block with a wire rope over it."""
    text = (
        "plumbtrue: rig/1\nhouse: {name: invented}\nline_sets: [{number: 14, lift_lines: [{mark: '1', "
        f"rope: {{family: wire, {rope}}}, blocks: [{{part: loft-block, mount: upright, {block}}}]}}]}}]\n"
    )
    return judged(text, [slug])[slug, "14 / line 1 / loft-block"]


@pytest.mark.parametrize(("construction", "least"), [("6x19-seale", 34), ("6x25-filler", 26), ("6x36", 23)])
def test_ratios_of_six_strand_rope_are_the_least_of_the_handbook(construction: str, least: float) -> None:
    """Wire Rope Users Manual, least D/d, as two trade pages reproduce it (read)."""
    assert ratio(construction) == least


@pytest.mark.parametrize(("construction", "suggested", "least"), [("7x7", 42, 28), ("7x19", 24, 18)])
def test_ratios_of_aircraft_cable_are_what_its_guide_suggests(
    construction: str, suggested: float, least: float
) -> None:
    """A trade guide to sheaves for aircraft cable (read): it suggests the one and allows the other."""
    assert ratio(construction) == suggested > least


@pytest.mark.parametrize("construction", ["7x7", "7x19", "6x19-seale", "6x25-filler", "6x36"])
def test_no_ratio_is_under_twenty(construction: str) -> None:
    """NAVEDTRA 14081, wire rope chapter: never less than 20 rope diameters (read)."""
    assert ratio(construction) >= 20


def test_an_ordinary_loft_block_passes_and_one_of_a_crane_does_not() -> None:
    """Thirty diameters are the stage's aim (common practice); 18 are enough for a crane's hoist rope (ASME
    B30.5, as quoted on a trade page).
    """
    assert loft_block("block-ratio-low", "made_for: wire, tread_diameter: 7-1/2 in") == "met"
    assert loft_block("block-ratio-low", "made_for: wire, tread_diameter: 4-1/2 in") == "finding"


@pytest.mark.parametrize(
    ("rope", "radius"), [("1/4 in", 0.128), ("5/16 in", 0.160), ("3/8 in", 0.192), ("1/2 in", 0.256)]
)
def test_worn_grooves_are_those_of_the_handbook(rope: str, radius: float) -> None:
    """Wire Rope Users Manual, 3rd edition, worn minimum radii, as a page on sheaves gives them (read)."""
    over = f"diameter: {rope}, construction: 7x19"
    assert loft_block("block-groove-mismatch", f"groove_radius: {radius} in", over) == "met"
    assert loft_block("block-groove-mismatch", f"groove_radius: {radius - 0.001:.3f} in", over) == "finding"


@pytest.mark.parametrize("radius", [0.135, 0.137])
def test_a_new_groove_passes(radius: float) -> None:
    """New groove for 1/4 in rope: 0.135 in by one memory of the handbook's table, 0.137 in by another."""
    assert loft_block("block-groove-mismatch", f"groove_radius: {radius} in") == "met"


def test_a_groove_of_the_next_size_of_rope_passes() -> None:
    """A quarter-inch rope in a new groove for 5/16 in, 0.167 in: common practice lets it be."""
    assert loft_block("block-groove-mismatch", "groove_radius: 0.167 in") == "met"
    assert loft_block("block-groove-mismatch", "groove_radius: 0.201 in") == "finding"


def test_the_fleet_angle_is_one_in_thirty_eight() -> None:
    """1.5 degrees, which handbooks also print as 1 in 38 (from memory, two agree): tan 1.5 degrees is 1 in
    38.2.
    """
    assert round(1 / tan(radians(1.5))) == 38
    assert loft_block("fleet-angle-over", "fleet_offset: 1 in, fleet_run: 39 in") == "met"
    assert loft_block("fleet-angle-over", "fleet_offset: 1 in, fleet_run: 38 in") == "finding"
