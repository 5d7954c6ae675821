"""Hand lines, locks and hemp sets at the figures that documents print, and a sound hemp set."""

import pytest
from tests.practice.judged_in_text import judged, practice_table, slugs_of

HAND_LINE = """\
plumbtrue: rig/1
house: {name: test}
line_sets:
  - number: 1
    hand_line: {removed: no, rope: {family: %s, joins: none}, upper: [%s, thimble], lower: [%s, thimble]}
"""


@pytest.mark.parametrize(
    ("family", "tucks", "outcome"),
    [("manila", 3, "met"), ("manila", 2, "finding"), ("polyester", 4, "met"), ("polyester", 3, "finding")],
)
def test_tucks_of_a_spliced_eye(family: str, tucks: int, outcome: str) -> None:
    """29 CFR 1926.251(d)(4)(i) and (ii): three full tucks in manila, four in synthetic rope."""
    splice = f"{{part: hand-splice, tucks: {tucks}}}"
    said = judged(HAND_LINE % (family, splice, splice), ["handline-end-unfit"])
    assert said["handline-end-unfit", "1 / hand line"] == outcome


@pytest.mark.parametrize(
    ("state", "slug"),
    [
        pytest.param("powder", "fibre-rope-damaged", id="powder between strands"),
        pytest.param("cut-strand", "fibre-rope-damaged", id="broken or cut fibres"),
        pytest.param("strand-size-varies", "fibre-rope-damaged", id="size or roundness of strands"),
        pytest.param("stain", "fibre-rope-damaged", id="discoloration"),
        pytest.param("rot", "fibre-rope-damaged", id="rotting"),
        pytest.param("glazed", "handline-glazed", id="abnormal wear"),
    ],
)
def test_what_takes_a_fibre_rope_out_is_told_once(state: str, slug: str) -> None:
    """29 CFR 1926.251(d)(6), slings: each thing that it names is a finding of one rule and of one only."""
    rope = f"{{family: manila, fibre_condition: [{state}], yarns_parted: none}}"
    text = (
        f"plumbtrue: rig/1\nhouse: {{name: test}}\nline_sets: [{{number: 1, hand_line: {{rope: {rope}}}}}]\n"
    )
    said = judged(text, ["fibre-rope-damaged", "handline-glazed"])
    assert [rule for (rule, _), outcome in said.items() if outcome == "finding"] == [slug]


def test_every_fibre_of_the_vocabulary_is_in_the_table() -> None:
    """Manila, hemp, sisal and cotton grow; polyester, nylon and polypropylene are made (common knowledge)."""
    rows = {row[0]: row[1] for row in practice_table("fibres").rows}
    assert {family for family, origin in rows.items() if origin == "natural"} == {
        "manila",
        "hemp",
        "sisal",
        "cotton",
    }
    assert {family for family, origin in rows.items() if origin == "synthetic"} == {
        "polyester",
        "nylon",
        "polypropylene",
    }


HEMP = """\
plumbtrue: rig/1
house:
  name: invented
  batten_zero: stage-right
  rails: [{key: pin rail, use: pin, anchors: none, moves: no}]
line_sets:
  - number: 40
    seen: {by: qualified inspector, on: 2025-06-10, how: with-tools, in_order: yes, tested: yes}
    system: hemp
    use: general
    drive: hand
    rail: pin rail
    low_trim: 4'-0"
    posted_total: 150 lb
    posted_per_length: none
    posted_point_at_line: none
    posted_point_between: none
    posted_point_overhang: none
    present_load: none
    batten:
      {form: pipe, nominal: 1-1/2, schedule: 40, grade: a53-a, length: 42'-0", splices: none, raceway: none}
    lift_lines:
      at: {1: 2'-0", 2: 11'-6", 3: 21'-0", 4: 30'-6", 5: 40'-0"}
      each:
        role: lift
        lower_weight: 1 lb
        rope: {family: manila, diameter: 3/4 in, breaking_strength: 4860 lb, installed: 2023}
        lower: [{part: knot, type: clove-and-half-hitches, round: pipe, tail_secured: seized}]
        blocks: [{part: loft-block, made_for: fibre, mount: upright}]
    belays: [{pin: "12", round_turn: yes, figure_eights: 4, hitch: none, sets_on_pin: 1}]
    sandbags: [{weight: 200 lb, weight_mark: readable, hung_by: trim-clamp}]
"""
"""CI 1308-96 prints 4,860 lb for new manila of 3/4 in."""


def test_a_sound_hemp_set_is_left_alone() -> None:
    outcomes = judged(HEMP, slugs_of("hemp.yaml"))
    assert set(outcomes.values()) <= {"met", "not-applicable"}


def test_the_tenfold_of_manila_by_the_published_strength() -> None:
    """4,860 lb (CI 1308-96) at a knot that keeps half carries 243 lb at ten: a line with 2,200 lb posted on
    five lines is far beyond it, one with 150 lb far below.
    """
    line = ("hemp-factor-low", "40 / line 3")
    assert judged(HEMP, ["hemp-factor-low"])[line] == "met"
    assert judged(HEMP.replace("150 lb", "2200 lb"), ["hemp-factor-low"])[line] == "finding"


def test_a_rope_without_a_strength_on_paper_leaves_the_factor_open() -> None:
    unread = HEMP.replace("4860 lb", "unknown")
    assert judged(unread, ["hemp-factor-low"])["hemp-factor-low", "40 / line 3"] == "undetermined"


LOCK = "plumbtrue: rig/1\nhouse: {name: test}\nline_sets: [{number: 1, rope_lock: {%s}}]\n"


@pytest.mark.parametrize(
    ("test", "outcome"),
    [
        pytest.param(
            "holds: 30 lb, tested_at: 30 lb, creep: none", "met", id="a lock made for 30 lb holds them"
        ),
        pytest.param("holds: 50 lb, tested_at: 30 lb, creep: none", "undetermined", id="pulled too mildly"),
        pytest.param("holds: 30 lb, tested_at: 50 lb, creep: creeps", "undetermined", id="pulled too hard"),
        pytest.param("tested_at: 50 lb, creep: creeps", "finding", id="crept"),
    ],
)
def test_a_lock_is_asked_for_what_it_was_made_for(test: str, outcome: str) -> None:
    """Common practice: 50 lb at the line with a spring scale."""
    assert judged(LOCK % test, ["lock-slips"])["lock-slips", "1 / rope lock"] == outcome
