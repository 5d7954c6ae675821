"""One meaning can be written in many ways, and none of them is a change.

Each row is one statement in several spellings; every two of a row are compared, there and back. Factors between units
are exact (NIST SP 811: 1 ft = 0.3048 m, 1 lb = 0.45359237 kg, standard gravity 9.80665 m/s2).
"""

import random
from collections.abc import Sequence
from itertools import permutations
from textwrap import indent

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.comparing.houses import VOCABULARY, as_told, told

from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot_text, read_rig_text
from plumbtrue.rig.rig import Rig

HOUSE = """\
plumbtrue: rig/1
typical:
  gac: {kind: rope, family: wire, diameter: 1/4 in, construction: 7x19, breaking_strength: 7000 lb}
  sleeve: {kind: swage-sleeve, shape: oval, size: 1/4 in}
  thimble: {kind: thimble, size: 1/4 in}
  bow: {kind: shackle, size: 3/8 in, working_load_limit: 2000 lb}
  end: [sleeve, thimble, bow]
  pipe: {kind: batten, form: pipe, nominal: 1-1/2, schedule: 40, length: 30 ft}
house:
  name: An invented house
  batten_zero: stage-right
  bricks: [{key: brick-28, weight: 28 lb, thickness: 2 in}, {key: brick-14, weight: 14 lb, thickness: 1 in}]
  inspections: [{key: insp-2025, on: 2025-06-10, by: inspector, how: with-tools}]
line_sets:
  - number: 4
    batten: pipe
  - number: 3
    system: single-purchase
"""
SHOW = """\
plumbtrue: plot/1
plot:
  show: An invented show
  items:
  - key: "1"
    on: 4
"""
LOOKED = "seen: {by: head of flys, on: 2026-02-10, how: by-hand}\n"
AGAIN = "seen: {how: by-hand, by: head of flys, on: 2026-02-10}"

OF_A_SET: Sequence[Sequence[str]] = (
    (
        "low_trim: 1 ft", "low_trim: 12 in", "low_trim: 1'-0\"", "low_trim: 1'", 'low_trim: 12"', "low_trim: 0.3048 m",
        "low_trim: 304.8 mm", "low_trim: 30.48 cm", "low_trim: 1.0 ft", "low_trim: {is: 1 ft}", "low_trim: '12 in'",
    ),
    ("low_trim: 1.5 in", "low_trim: 1-1/2 in", "low_trim: 1 1/2 in", "low_trim: 3/2 in", "low_trim: 1.50 in"),
    (
        "present_load: 100 lb", "present_load: 1600 oz", "present_load: 45.359237 kg", "present_load: 100 lbf",
        "present_load: 444.82216152605 N", "present_load: 0.44482216152605 kN",
    ),
    (
        "present_load: 20..25 lb", "present_load: 22.5 lb +/- 2.5 lb", "present_load: 320..400 oz",
        "present_load: 20 lb..25 lb", "present_load: 20 .. 25 lb", "present_load: 20 to 25 lb",
    ),
    ("present_load: 22 lb +/- 10 %", "present_load: 19.8..24.2 lb", "present_load: 22 lb +/- 2.2 lb"),
    ("present_load: about 80 lb", "present_load: 80 lb +/- 20 %", "present_load: 64..96 lb"),
    ("posted_total: at least 1000 lb", "posted_total: at least 16000 oz"),
    ("reconditioned: 2016-07", "reconditioned: 2016-07-01..2016-07-31"),
    ("reconditioned: 2009..2012", "reconditioned: 2009-01-01..2012-12-31", "reconditioned: 2009 .. 2012"),
    ("reconditioned: about 2010", "reconditioned: 2008..2012"),
    ("reconditioned: before 1990", "reconditioned: before 1990-01-01"),
    ("present_load: none", "present_load: {is: none}"),
    ("present_load: unknown", "present_load: {is: unknown}"),
    ("name: Border", 'name: "Border"', "name: 'Border'", "name: >-\n  Border", "name: {is: Border}"),
    ("note: over the piano", 'note: "over the piano"', "note: >-\n  over\n  the piano", 'note: "over  the piano "'),
    ("head_block: {bolts: {count: 4, grade: j429-5}}", "head_block: {bolts: [{count: 4, grade: j429-5}]}"),
    (
        "batten: pipe", "batten: {like: pipe}", "batten: {like: pipe, length: 360 in}",
        'batten: {form: pipe, nominal: "1-1/2", schedule: 40, length: 30 ft}',
    ),
    (
        "arbor: {weights: {brick-28: 3, brick-14: 1}}",
        "arbor: {weights: [{brick: brick-14, count: 1}, {brick: brick-28, count: 3}]}",
        "arbor: {weights: [{brick: brick-28, count: 1}, {brick: brick-14, count: 1}, {brick: brick-28, count: 2}]}",
    ),
    (
        "lift_lines: [{mark: 1, at: 2 ft, rope: gac, upper: end, lower: end}, "
        "{mark: 2, at: 9 ft, rope: gac, upper: end, lower: end}]",
        "lift_lines: {at: {2: 9 ft, 1: 24 in}, each: {rope: gac, upper: end, lower: end}}",
        "lift_lines: {at: {1: 2 ft, 2: 9 ft}, each: {lower: end, upper: [sleeve, {like: thimble}, "
        "{part: shackle, size: 3/8 in, working_load_limit: 32000 oz}], rope: {like: gac, diameter: 0.25 in}}}",
        "lift_lines: {at: {1: 2 ft, 2: 9 ft}, each: {upper: end}, "
        "except: [{lines: [1, 2], rope: gac}, {lines: [1], lower: end}, {lines: [2], lower: end}]}",
        "lift_lines: [&line {mark: 1, at: 2 ft, rope: gac, upper: &path [sleeve, thimble, bow], lower: *path}, "
        "{mark: 2, at: 9 ft, rope: {like: gac}, upper: *path, lower: *path}]",
    ),
    (
        "lift_lines: [{mark: 1, lower: [sleeve, {part: shackle, like: bow, size: 1/2 in}]}]",
        "lift_lines: [{mark: 1, lower: [sleeve, {like: bow, size: 0.5 in}]}]",
    ),
    *(
        tuple(f"lift_lines: [{{mark: 1, at: {place}}}]" for place in places)
        for places in (("CL", "SR 0 ft", "SL 0 ft"), ("SR 6 ft", "SR 72 in", "SR 6'-0\"", "sr 6 ft"))
    ),
    *(
        tuple(f"lift_lines: [{{mark: 1, lower: [{{part: wire-rope-clips, {fact}: {said}}}]}}]" for said in says)
        for fact, says in (
            ("saddle_on", ("live", "[live, live, live]")),
            ("spacing", ("1-1/2 in", "[1.5 in, 38.1 mm]")),
        )
    ),
    *(
        tuple(f"hand_line: {{rope: {{fibre_condition: {said}}}}}" for said in says)
        for says in (("glazed", "[glazed]", "[glazed, glazed]"), ("none", "[]"))
    ),
    ("batten: {splices: [{at: 13'-6\", type: unknown}]}", "batten: {splices: [{at: 162 in, type: unknown}]}"),
    ("load_tests: [{on: 2016-07, load: 630 lb}]", "load_tests: [{load: 630 lb, on: 2016-07-01..2016-07-31}]"),
    (
        f"{LOOKED}low_trim: 4 ft", f"{LOOKED}low_trim: {{is: 4 ft}}", f"{LOOKED}low_trim: {{is: 4 ft, {AGAIN}}}",
        f"low_trim: 4 ft\n{AGAIN}",
    ),
    (f"{LOOKED}batten: pipe", f"{LOOKED}batten: {{like: pipe, {AGAIN}}}"),
    ("seen: insp-2025\nlow_trim: 4 ft", "seen: {by: inspector, on: 2025-06-10, how: with-tools}\nlow_trim: 4 ft"),
)  # fmt: skip

OF_A_PIECE: Sequence[Sequence[str]] = (
    ("weight: 100 lb", "weight: 45.359237 kg", "weight: {is: 100 lb}"),
    (
        "loads: [{at: [SR 6 ft, SL 6 ft], weight: 30 lb}]", "loads: [{at: both 6 ft, weight: 30 lb}]",
        "loads: [{at: 21 ft, weight: 30 lb}, {at: SR 72 in, weight: 480 oz}]",
    ),
    (
        "loads: [{at: both 6 ft, weight: 30 lb, note: x}, {at: CL, weight: 10 lb}]",
        "loads: [{at: CL, weight: 10 lb}, {at: SL 6 ft, weight: 30 lb, note: x}, "
        "{at: SR 6 ft, weight: 30 lb, note: x}]",
    ),
    ("loads: [{at: CL, weight: 30 lb}, {at: CL, weight: 30 lb}]", "loads: [{at: [CL, CL], weight: 30 lb}]"),
    (
        "loads: [{from: SR 6 ft, to: SL 6 ft, weight: 30 lb}]", "loads: [{from: SL 6 ft, to: SR 6 ft, weight: 30 lb}]",
        "loads: [{from: 9 ft, to: 21 ft, weight: 30 lb}]",
    ),
    ("trims: [10 ft, 20 ft]", "trims: [20 ft, 10 ft]", "trims: [240 in, 120 in]"),
    ("includes: all", "includes: [all]"),
    ("includes: [frame, hardware]", "includes: [hardware, frame]"),
)  # fmt: skip


def of_a_set(said: str) -> Rig:
    return read_rig_text(HOUSE + indent(said, "    "), "house.yaml", VOCABULARY)


EMPTY_HOUSE = of_a_set("use: general")


def of_a_piece(said: str) -> Rig:
    return lay(EMPTY_HOUSE, read_plot_text(SHOW + indent(said, "    "), "show.yaml", VOCABULARY))


@pytest.mark.parametrize("ways", OF_A_SET, ids=lambda ways: ways[0])
def test_a_statement_about_a_set_is_the_same_in_every_spelling(ways: Sequence[str]) -> None:
    pairs = permutations(map(of_a_set, ways), 2)
    assert [as_told(one) for old, new in pairs for one in told(old, new)] == []


@pytest.mark.parametrize("ways", OF_A_PIECE, ids=lambda ways: ways[0])
def test_a_statement_about_a_piece_is_the_same_in_every_spelling(ways: Sequence[str]) -> None:
    pairs = permutations(map(of_a_piece, ways), 2)
    assert [as_told(one) for old, new in pairs for one in told(old, new)] == []


NEAR_MISSES = (
    ("low_trim: 1 ft", "low_trim: 12.1 in", "low_trim"),
    ("present_load: 100 lb", "present_load: 45 kg", "present_load"),
    ("present_load: 22 lb +/- 10 %", "present_load: 20..24 lb", "present_load"),
    ("present_load: none", "present_load: unknown", "present_load"),
    ("reconditioned: 2016-07", "reconditioned: 2016-07-01", "reconditioned"),
    ("touches: none", "use: general", "touches"),
    ("batten: pipe", "batten: {like: pipe, nominal: 1 1/2}", "nominal"),
    ("lift_lines: [{mark: 1, at: SR 6 ft}]", "lift_lines: [{mark: 1, at: SL 6 ft}]", "at"),
    ("arbor: {weights: {brick-28: 3}}", "arbor: {weights: {brick-14: 3}}", "brick"),
    ("load_tests: [{on: 2016-07, load: 630 lb}]", "load_tests: [{on: 2016-08, load: 630 lb}]", "on"),
    (
        f"{LOOKED}low_trim: 4 ft",
        f"{LOOKED}low_trim: {{is: 4 ft, {AGAIN.replace('by-hand', 'by-eye')}}}",
        "low_trim",
    ),
)


@pytest.mark.parametrize(("old", "new", "fact"), NEAR_MISSES)
def test_what_nearly_says_the_same_is_a_change(old: str, new: str, fact: str) -> None:
    """The rows above would hold of a comparison that sees nothing."""
    assert fact in {one.fact for one in told(of_a_set(old), of_a_set(new))}


ONE_EACH = [
    ways
    for ways in OF_A_SET
    if len({said.partition(":")[0] for said in ways}) == 1 and not ways[0].startswith("seen")
]


@given(
    st.lists(st.sampled_from(ONE_EACH), unique_by=lambda ways: ways[0].partition(":")[0], min_size=2),
    st.randoms(),
)
@settings(max_examples=60, deadline=None)
def test_several_statements_in_other_spellings_and_another_order_give_nothing(
    rows: list[Sequence[str]], luck: random.Random
) -> None:
    first = [luck.choice(ways) for ways in rows]
    second = [luck.choice(ways) for ways in rows]
    luck.shuffle(second)
    assert [as_told(one) for one in told(of_a_set("\n".join(first)), of_a_set("\n".join(second)))] == []
