"""Chain, shackles and pipes at the figures that regulations, a sling guide and tables of ratings print."""

from fractions import Fraction

import pytest
from tests.practice.judged_in_text import judged, practice_pack, practice_table

from plumbtrue.quantities.bounds import Bounds

INCH = 0.0254
SET = """\
plumbtrue: rig/1
house: {{name: test}}
line_sets:
  - number: 1
    batten: {{form: pipe, nominal: 1-1/2, schedule: 40{batten}}}
    lift_lines:
      - mark: "1"
        role: lift
        rope: {{family: wire, breaking_strength: {rope} lb}}
        lower: [swage-sleeve, thimble, {{part: {part}}}]
"""


def worn(size: str) -> Bounds:
    """Most wear by the pack's table [m]."""
    found = practice_table("chain_wear").look_up(
        "wear", {"size": Bounds.exactly(float(Fraction(size)) * INCH)}
    )
    assert isinstance(found, Bounds)
    return found


def said(slug: str, part: str, rope: float = 7000) -> str:
    path = f"1 / line 1 / lower / {part.split(',')[0]}"
    return judged(SET.format(part=part, rope=rope, batten=""), [slug])[slug, path]


def of_batten(slug: str, facts: str) -> str:
    return judged(SET.format(part="shackle", rope=7000, batten=f", {facts}"), [slug])[slug, "1 / batten"]


LEAST_SIZES = {"1/4": "13/64", "3/8": "19/64", "1/2": "25/64", "5/8": "31/64", "3/4": "19/32", "7/8": "45/64"}


@pytest.mark.parametrize(("size", "least"), [*LEAST_SIZES.items(), ("1", "13/16")])
def test_wear_leaves_the_least_size_of_the_sling_rule(size: str, least: str) -> None:
    """29 CFR 1910.184, Table N-184-1, prints what must be left (read); the pack has the wear of 29 CFR
    1926.251, Table H-1.
    """
    assert worn(size).high == pytest.approx(float(Fraction(size) - Fraction(least)) * INCH)


@pytest.mark.parametrize("size", [*LEAST_SIZES, "1"])
def test_a_tenth_of_the_wire_is_never_more_than_the_table_allows(size: str) -> None:
    """WAC 296-155-33900, table 19, scraps hardware at a tenth (read); the rule rests on the table being
    wider.
    """
    assert float(Fraction(size)) * INCH / 10 < worn(size).low


def test_chain_thinner_than_the_table_has_no_row() -> None:
    """Both tables begin at 1/4 in."""
    assert not isinstance(
        practice_table("chain_wear").look_up("wear", {"size": Bounds.exactly(3 / 16 * INCH)}), Bounds
    )


@pytest.mark.parametrize(
    ("size", "grade", "rated", "outcome"),
    [
        ("3/16", "30", 800, "finding"),
        ("1/4", "30", 1300, "met"),
        ("1/4", "43", 2600, "met"),
        ("1/4", "80", 3500, "met"),
    ],
)
def test_ratings_of_chain_against_quarter_inch_cable(
    size: str, grade: str, rated: float, outcome: str
) -> None:
    """49 CFR 393.108, and NACM for 3/16 in (read), in one straight leg; 7,000 lb of 1/4 in 7x19 by FAA AC
    43.13-1B, Table 7-3 (read), over the customary eight.
    """
    chain = f"trim-chain, size: {size} in, grade: {grade}, attachment: link, shortened_by: none"
    assert said("chain-weaker-than-rope", f"{chain}, working_load_limit: {rated} lb") == outcome


@pytest.mark.parametrize(("rope", "outcome"), [(8 * 1680, "met"), (8 * 1700, "finding")])
def test_chain_closed_on_itself_keeps_four_fifths(rope: float, outcome: str) -> None:
    """OSHA, Guidance on Safe Sling Use, tables 1 and 3: a leg of 2,100 lb gives 1,700 in a choker (read).
    The table rounds up to hundreds; the pack takes 0.80 exactly, 1,680 lb, which is the less.
    """
    chain = "trim-chain, attachment: choke, shortened_by: none, working_load_limit: 2100 lb"
    assert said("chain-weaker-than-rope", chain, rope) == outcome


@pytest.mark.parametrize(("stretch", "outcome"), [("3 %", "met"), ("4 %", "finding"), ("5.1 %", "finding")])
def test_stretch_is_out_before_the_shipyard_rule_says_so(stretch: str, outcome: str) -> None:
    """29 CFR 1915.112(c)(4): more than 5 % (read). The pack follows 3 %, the figure of a training page."""
    chain = f"trim-chain, size: 1/4 in, moves_freely: yes, link_wear: none, stretch: {stretch}"
    assert said("chain-stretched-or-worn", chain) == outcome


@pytest.mark.parametrize(("grade", "outcome"), [("30", "finding"), ("43", "finding"), ("70", "finding")])
def test_grades_made_for_other_uses(grade: str, outcome: str) -> None:
    """ASTM A413/A413M-21, scope (read)."""
    assert said("chain-grade-not-for-lifting", f"trim-chain, grade: {grade}") == outcome


@pytest.mark.parametrize("grade", ["80", "100"])
def test_alloy_grades_are_made_for_lifting(grade: str) -> None:
    """ASTM A973/A973M-21, scope note (read)."""
    assert said("chain-grade-not-for-lifting", f"trim-chain, grade: {grade}") == "met"


@pytest.mark.parametrize(
    ("angle", "share", "outcome"),
    [
        (0, 1.2, "met"),
        (45, 0.70, "met"),
        (45, 0.71, "finding"),
        (46, 0.70, "finding"),
        (90, 0.50, "met"),
        (90, 0.51, "finding"),
        (91, 0.01, "finding"),
    ],
)
def test_shackles_pulled_aside(angle: float, share: float, outcome: str) -> None:
    """Pages on side loads after ASME B30.26: 70 % at 45 degrees, 50 % at 90 (read); an angle takes the band
    above it. In line the rule says nothing of the load: load-path-over-capacity does.
    """
    text = (
        "plumbtrue: rig/1\nhouse: {name: test}\nline_sets: [{number: 1, hand_line_tension: %g lb, hand_line: "
        "{upper: [hand-splice, {part: shackle, working_load_limit: 1000 lb, pull_angle: %g deg}]}}]\n"
    )
    outcomes = judged(text % (1000 * share, angle), ["shackle-side-loaded"])
    assert outcomes["shackle-side-loaded", "1 / hand line / upper / shackle"] == outcome


@pytest.mark.parametrize(("apart", "outcome"), [(120, "met"), (121, "finding")])
def test_two_legs_in_one_bow(apart: float, outcome: str) -> None:
    """The same pages: full rating up to an included angle of 120 degrees (read)."""
    assert said("shackle-side-loaded", f"shackle, pull_angle: 0 deg, legs_apart: {apart} deg") == outcome


@pytest.mark.parametrize(("bow", "outcome"), [("1/2 in", "met"), ("0.51 in", "finding")])
def test_bow_of_a_lifting_bar(bow: str, outcome: str) -> None:
    """DOE-STD-1090-96, 15.4.8: half an inch in ten feet (read)."""
    assert of_batten("batten-bowed", f"kink: none, bow: {bow}") == outcome


def test_sag_of_one_part_in_180() -> None:
    """Common practice, read as such; ANSI E1.4-1 is remembered to ask the same."""
    (rule,) = (rule for rule in practice_pack().rules if rule.slug == "batten-span-long")
    deepest = rule.parameters["deepest"].given.value
    assert isinstance(deepest, Bounds)
    assert deepest.high == pytest.approx(1 / 180, rel=1e-6)
