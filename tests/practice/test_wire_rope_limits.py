"""Limits of wire rope at the figures that documents print for them."""

import pytest
from tests.practice.judged_in_text import judged

HOUSE = """\
plumbtrue: rig/1
house: {name: test}
line_sets:
  - number: 1
    lift_lines:
      - {mark: "1", role: lift, blocks: [loft-block], rope: {family: wire, %s}}
"""
ROPE = "1 / line 1 / rope"


def said(slug: str, rope: str) -> str:
    return judged(HOUSE % rope, [slug])[slug, ROPE]


@pytest.mark.parametrize(
    ("diameter", "least"), [("1/4 in", 0.2375), ("5/16 in", 0.296875), ("3/8 in", 0.35625)]
)
def test_five_per_cent_of_nominal_in_inches(diameter: str, least: float) -> None:
    """29 CFR 1926.1413(a)(2)(ii). 1/64 in off 5/16 in rope, the step of the former 1926.550(a)(7) (from
    memory), is exactly that.
    """
    rope = f"diameter: {diameter}, diameter_as_new: none, diameter_measured: {{}} in"
    assert said("rope-diameter-loss-discard", rope.format(least)) == "met"
    assert said("rope-diameter-loss-discard", rope.format(round(least - 0.0002, 6))) == "finding"


@pytest.mark.parametrize(
    ("construction", "wires", "out"),
    [("7x19", 133, 14), ("7x7", 49, 5), ("6x19-seale", 114, 12)],
)
def test_a_tenth_of_the_wires_in_eight_diameters(construction: str, wires: int, out: int) -> None:
    """29 CFR 1926.251(c)(4)(iv), Michigan R 408.15226(3): over 10 %: 14 of 133, 5 of 49, 12 of 114."""
    assert out - 1 <= wires / 10 < out
    rope = (
        f"construction: {construction}, length_seen: 100 %, worst_lay_runs: yes, broken_wires_lay: 3, "
        "broken_wires_strand: 1, broken_wires_valley: 0, broken_wires_8d: {}"
    )
    assert said("rope-broken-wires-discard", rope.format(out - 1)) == "met"
    assert said("rope-broken-wires-discard", rope.format(out)) == "finding"


@pytest.mark.parametrize(
    ("lay", "strand", "outcome"), [(5, 2, "met"), (6, 2, "finding"), (5, 3, "finding"), (9, 4, "finding")]
)
def test_running_rope_goes_by_six_in_a_lay_or_three_in_a_strand(lay: int, strand: int, outcome: str) -> None:
    """29 CFR 1926.1413(a)(2)(ii)(A)(1); 29 CFR 1926.451(d)(10)(iii) and WAC 296-874-30016 print the same."""
    rope = (
        f"construction: 7x19, length_seen: 100 %, worst_lay_runs: yes, broken_wires_lay: {lay}, "
        f"broken_wires_strand: {strand}, broken_wires_valley: 0, broken_wires_8d: {lay}"
    )
    assert said("rope-broken-wires-discard", rope) == outcome


@pytest.mark.parametrize(("wear", "outcome"), [("33 %", "met"), ("1/3", "met"), ("34 %", "finding")])
def test_a_third_of_an_outer_wire(wear: str, outcome: str) -> None:
    """29 CFR 1910.184(f)(5)(ii), 30 CFR 56.19024(c), 29 CFR 1926.451(d)(10)(iv): more than one third."""
    assert said("rope-outer-wire-wear", f"outer_wire_wear: {wear}") == outcome
