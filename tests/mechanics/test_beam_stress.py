"""Moments, deflections and stresses against the beam diagrams of handbooks, and the sections they rest on."""

import numpy as np
import pytest

from plumbtrue.mechanics.batten import Batten, Line, Load, Piece, PointLoad, SpreadLoad
from plumbtrue.mechanics.bending import Bending, bend, blend
from plumbtrue.mechanics.grid_beam import grid_beam
from plumbtrue.mechanics.reactions import Reactions, solve
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.rope_stretch import (
    Shock,
    constructional_stretch,
    elastic_stretch,
    line_stiffness,
    shock,
)
from plumbtrue.mechanics.section import laced_pair_second_moment, round_tube, shear_softness
from plumbtrue.mechanics.stress import (
    bending_check,
    elastic_allowable,
    plastic_moment_allowable,
    tube_shear_stress,
)

INCH, FOOT, POUND = 0.0254, 0.3048, 4.4482216152605
PSI = POUND / INCH**2


def bending_of(
    batten: Batten, lines: list[Line], loads: list[Load], *, tension_only: bool = False
) -> Bending:
    answer = solve(batten, lines, loads, tension_only=tension_only, levelled="slack")
    assert isinstance(answer, Reactions)
    return answer.bending()


@pytest.mark.parametrize(
    ("od", "wall", "area", "inertia", "modulus", "plastic", "radius"),
    [
        pytest.param(1.315, 0.133, 0.494, 0.0873, 0.1328, 0.1866, 0.421, id="1 in schedule 40"),
        pytest.param(1.660, 0.140, 0.669, 0.1947, 0.2346, 0.3244, 0.540, id="1-1/4 in schedule 40"),
        pytest.param(1.900, 0.145, 0.799, 0.3099, 0.3262, 0.4476, 0.623, id="1-1/2 in schedule 40"),
        pytest.param(1.900, 0.200, 1.068, 0.3912, 0.4118, 0.5807, 0.605, id="1-1/2 in schedule 80"),
        pytest.param(2.375, 0.154, 1.075, 0.6657, 0.5606, 0.7609, 0.787, id="2 in schedule 40"),
    ],
)
def test_sections_of_standard_pipe_are_those_printed(
    od: float, wall: float, area: float, inertia: float, modulus: float, plastic: float, radius: float
) -> None:
    """A machine-design textbook, 4th edition, table A16-6 (A, I, S, r of schedule 40); the others computed
    from ASME B36.10M.
    """
    tube = round_tube(od * INCH, wall * INCH)
    found = [
        tube.area / INCH**2,
        tube.second_moment / INCH**4,
        tube.elastic_modulus / INCH**3,
        tube.plastic_modulus / INCH**3,
        tube.radius_of_gyration / INCH,
    ]
    assert found == pytest.approx([area, inertia, modulus, plastic, radius], rel=0.002)


def test_plain_pipe_weighs_what_the_chart_says() -> None:
    """ASME B36.10M: 1-1/2 in schedule 40 is 2.718 lb/ft (read in a chart); steel 0.2836 lb/in3."""
    weight = round_tube(1.900 * INCH, 0.145 * INCH).weight_per_length(0.2836 * POUND / INCH**3)
    assert weight / (POUND / FOOT) == pytest.approx(2.718, rel=0.002)


@pytest.mark.parametrize(("od", "wall"), [(0.0, 0.01), (0.05, 0.0), (0.05, 0.03), (float("nan"), 0.003)])
def test_measures_that_make_no_tube_are_refused(od: float, wall: float) -> None:
    with pytest.raises(ValueError):
        round_tube(od, wall)


def test_a_simple_span_sags_and_bends_by_the_beam_diagrams() -> None:
    """AISC Manual, simple beam, uniform load (from memory): w L^2 / 8 and 5 w L^4 / 384 EI.

    25 lb/ft in all on 10 ft of 1-1/2 in schedule 40 pipe.
    """
    EI = 29e6 * 0.3099 * POUND * INCH**2
    load = SpreadLoad.uniform(0.0, 10 * FOOT, 250 * POUND)
    found = bending_of(Batten(10 * FOOT, EI), [Line(0.0), Line(10 * FOOT)], [load])
    assert found.greatest_moment.value / (POUND * FOOT) == pytest.approx(312.5, rel=1e-9)
    assert found.span_sags[0].sag / INCH == pytest.approx(0.626, abs=0.0005)
    stress = bending_check(found.greatest_moment.value, 0.3262 * INCH**3, 17964 * PSI)
    assert stress.stress / PSI == pytest.approx(11496, rel=1e-4)
    assert stress.utilisation == pytest.approx(0.640, abs=0.0005)


@pytest.mark.parametrize(
    ("spans", "share"), [(2, -1 / 8), (3, -1 / 10), (4, -3 / 28), (5, -4 / 38)], ids="{}".format
)
def test_moments_over_inner_lines_are_those_of_the_handbook(spans: int, share: float) -> None:
    """Civil Engineering Formulas, table 2.1: moment over the first inner support of equal spans, in w L^2."""
    pipe = Batten(3.0 * spans, 9000.0, weight_per_length=100.0)
    found = bending_of(pipe, [Line(3.0 * i) for i in range(spans + 1)], [])
    assert found.moment_at(3.0) == pytest.approx(share * 100.0 * 9.0, rel=1e-9)
    assert found.greatest_moment.value == pytest.approx(share * 100.0 * 9.0, rel=1e-9)


def test_a_triangular_load_on_a_simple_span_peaks_off_the_middle() -> None:
    """AISC Manual, load increasing uniformly to one end (from memory): M = 0.1283 W L at 0.5774 L, sag
    0.01304 W L^3/EI at 0.5193 L.
    """
    found = bending_of(Batten(5.0, 9000.0), [Line(0.0), Line(5.0)], [SpreadLoad(0.0, 5.0, 0.0, 200.0)])
    assert found.greatest_moment.value == pytest.approx(0.1283 * 500 * 5, rel=5e-4)
    assert found.greatest_moment.at == pytest.approx(0.5774 * 5, abs=5e-4)
    assert found.lowest.value == pytest.approx(-0.01304 * 500 * 125 / 9000, rel=5e-4)
    assert found.lowest.at == pytest.approx(0.5193 * 5, abs=5e-4)


def test_an_overhang_drops_at_its_tip_and_lifts_the_span_beside_it() -> None:
    """AISC Manual, overhang with a load at its end (from memory): tip P a^2 (L + a) / 3EI, span up by P a L^2
    / (9 sqrt(3) EI).
    """
    P, a, L, EI = 100.0, 1.0, 3.0, 9000.0
    found = bending_of(Batten(L + a, EI), [Line(0.0), Line(L)], [PointLoad(L + a, P)])
    assert found.tip_drops[1].drop == pytest.approx(P * a**2 * (L + a) / (3 * EI), rel=1e-9)
    assert found.highest.value == pytest.approx(P * a * L**2 / (9 * np.sqrt(3) * EI), rel=1e-9)
    assert found.highest.at == pytest.approx(L / np.sqrt(3), rel=1e-9)
    assert found.greatest_shear.value == pytest.approx(P)
    assert found.span_sags[0].sag == 0.0


def test_sag_is_measured_from_the_straight_line_between_lines_that_hold() -> None:
    """Unlike levels of the two lines tilt the pipe and add nothing to its sag."""
    load: list[Load] = [PointLoad(2.0, 100.0)]
    level = bending_of(Batten(4.0, 9000.0), [Line(0.0), Line(4.0)], load).span_sags[0]
    tilted = bending_of(Batten(4.0, 9000.0), [Line(0.0), Line(4.0, offset=0.3)], load).span_sags[0]
    assert tilted.sag == pytest.approx(level.sag, rel=1e-9)
    assert level.sag == pytest.approx(100.0 * 64 / (48 * 9000))
    assert tilted.at == pytest.approx(2.0)


def test_a_slack_line_ends_no_span() -> None:
    """The middle line hangs 50 mm long, so the pipe spans from end to end (simple span: P L^3 / 48 EI)."""
    found = bending_of(
        Batten(4.0, 9000.0),
        [Line(0.0), Line(2.0, offset=-0.05), Line(4.0)],
        [PointLoad(2.0, 100.0)],
        tension_only=True,
    )
    assert [(span.start, span.end) for span in found.span_sags] == [(0.0, 4.0)]
    assert found.span_sags[0].sag == pytest.approx(100.0 * 64 / (48 * 9000))


def test_a_pipe_doubled_at_mid_span_sags_by_the_moment_areas() -> None:
    """Simple span L, EI doubled over the middle half, central load: P L^3 / 48 EI x (1/8 + 7/8 / 2) (moment
    areas by hand).
    """
    P, L, EI = 100.0, 4.0, 9000.0
    pipe = Batten(L, EI, pieces=(Piece(1.0, 3.0, 2 * EI),))
    found = bending_of(pipe, [Line(0.0), Line(L)], [PointLoad(L / 2, P)])
    assert found.lowest.value == pytest.approx(-P * L**3 / (48 * EI) * (1 / 8 + 7 / 16), rel=1e-9)


def test_a_sag_of_a_fiftieth_of_the_span_is_beyond_beam_theory() -> None:
    within = bending_of(Batten(4.0, 9000.0), [Line(0.0), Line(4.0)], [PointLoad(2.0, 530.0)])
    beyond = bending_of(Batten(4.0, 9000.0), [Line(0.0), Line(4.0)], [PointLoad(2.0, 550.0)])
    assert within.beyond_small_deflection() is None
    assert isinstance(beyond.beyond_small_deflection(), Refused)


def test_forces_that_do_not_balance_are_the_callers_mistake() -> None:
    with pytest.raises(ValueError, match="do not balance"):
        bend(
            Batten(4.0, 9000.0),
            [PointLoad(2.0, 100.0)],
            [PointLoad(0.0, -90.0)],
            (),
            ((0.0, 0.0), (4.0, 0.0)),
        )


def test_states_on_different_lines_cannot_be_blended() -> None:
    loads: list[Load] = [PointLoad(2.0, 100.0)]
    two = bending_of(Batten(4.0, 9000.0), [Line(0.0), Line(4.0)], loads)
    three = bending_of(Batten(4.0, 9000.0), [Line(0.0), Line(2.0), Line(4.0)], loads)
    with pytest.raises(ValueError, match="same lines"):
        blend(two, three, 0.5)


def test_the_plastic_form_allows_the_moment_of_the_whole_section_and_refuses_a_thin_wall() -> None:
    """AISC 360, chapter F8 (from memory): Fy Z / 1.67 while D/t is at most 0.07 E/Fy."""
    allowed = plastic_moment_allowable(30e3 * PSI, 0.4476 * INCH**3, 1.67, slenderness=13.1, E=29e6 * PSI)
    assert allowed == pytest.approx(30e3 * 0.4476 / 1.67 * POUND * INCH, rel=1e-9)
    thin = plastic_moment_allowable(30e3 * PSI, 0.4476 * INCH**3, 1.67, slenderness=68.0, E=29e6 * PSI)
    assert isinstance(thin, Refused)


def test_allowable_and_shear_stress_by_hand() -> None:
    assert elastic_allowable(30e3, 1.67) == pytest.approx(17964, abs=0.5)
    assert tube_shear_stress(-200.0, 0.8) == pytest.approx(500.0)
    assert laced_pair_second_moment(0.799, 12.0) == pytest.approx(57.5, abs=0.05)
    assert shear_softness(1e6, 12e6, 1.0) == pytest.approx(1.0)


def test_a_grid_beam_over_three_bearings_shares_as_a_continuous_beam() -> None:
    """Civil Engineering Formulas, table 2.1, two equal spans; the weight of the beam itself here."""
    found = grid_beam(6.0, [], bearings=(0.0, 3.0, 6.0), weight_per_length=100.0)
    assert not isinstance(found, Refused)
    assert found.reactions == pytest.approx((112.5, 375.0, 112.5))
    assert found.greatest_moment.value == pytest.approx(-112.5)


def test_rope_stretches_by_hookes_law_and_by_the_published_stretch_factor() -> None:
    """1/4 in 7x19 stainless, 40 ft, 600 lb: 0.1555 % or 0.746 in by W G / D^2, G = 1.62e-5 (formula read in a
    trade article).
    """
    EA = 100 / (1.62e-5 / 0.25**2) * POUND
    assert elastic_stretch(600 * POUND, 40 * FOOT, EA) / INCH == pytest.approx(0.746, rel=0.002)
    least, greatest = constructional_stretch(90 * FOOT, (0.00125, 0.0025))
    assert (least / INCH, greatest / INCH) == pytest.approx((1.35, 2.7))


def test_parts_in_series_are_softer_than_each_of_them() -> None:
    assert line_stiffness([(1e6, 10.0), (1e6, 10.0)]) == pytest.approx(5e4)
    with pytest.raises(ValueError):
        line_stiffness([])


def test_a_caught_load_jolts_by_the_energy_balance_and_a_weak_rope_is_not_relied_on() -> None:
    """100 lb falls 2 ft onto 30 ft of 1/4 in rope, 1074 lb/in: 2373 lb (impact of a falling weight,
    machine-design textbooks).
    """
    found = shock(100 * POUND, 2 * FOOT, 1074 * POUND / INCH)
    assert isinstance(found, Shock)
    assert found.peak / POUND == pytest.approx(2373, rel=0.001)
    assert isinstance(shock(100.0, 0.6, 2e5, breaking_strength=2000.0), Refused)
