"""What is not known never passes on a load path; angles, chain and rope condition step where their sources
step."""

from datetime import date
from math import cos, degrees, hypot, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize_scalar

from plumbtrue.mechanics.angle_factors import BANDS, Fitting, angle_factor, angle_factor_bounds
from plumbtrue.mechanics.chain_wrap import (
    ChainWrap,
    chain_wrap,
    choke_capacity,
    links_to_cut,
    wants_keeper_bolt,
)
from plumbtrue.mechanics.load_path import (
    Element,
    least_efficiency,
    load_path,
    path_design_factor,
    path_standing,
    share_of_pull,
)
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.rope_condition import (
    age_in_years,
    broken_wires_standing,
    diameter_loss,
    diameter_loss_bounds,
    loss_standing,
)
from plumbtrue.mechanics.sling_leg import basket_factor, hitch_rating, sling_leg
from plumbtrue.quantities.bounds import Bounds

known_elements = st.one_of(
    st.builds(
        Element,
        name=st.just("rope"),
        breaking=st.floats(100, 1e5),
        efficiency=st.floats(0.1, 1),
        design_factor=st.floats(1, 12),
    ),
    st.builds(
        Element, name=st.just("shackle"), working_load_limit=st.floats(50, 1e4), reduction=st.floats(0.2, 1)
    ),
    st.builds(
        Element,
        name=st.just("chain"),
        working_load_limit=st.floats(50, 1e4),
        legs=st.just(2),
        included_angle=st.floats(0, 2.5),
        legs_equalise=st.booleans(),
    ),
)
elements = st.lists(
    st.one_of(known_elements, st.just(Element("clips, unknown make"))), min_size=1, max_size=5
)


@given(path=elements, more=known_elements, tension=st.floats(1, 5000))
def test_one_more_part_never_raises_what_a_path_allows(
    path: list[Element], more: Element, tension: float
) -> None:
    before, after = load_path(tension, path).limit_known, load_path(tension, [*path, more]).limit_known
    assert after is not None
    assert before is None or after <= before


@given(path=elements, forget=st.integers(0, 4), tension=st.floats(1, 5000))
def test_forgetting_a_strength_never_turns_a_path_into_a_pass(
    path: list[Element], forget: int, tension: float
) -> None:
    place = forget % len(path)
    forgotten = [*path[:place], Element("nobody knows"), *path[place + 1 :]]
    before, after = load_path(tension, path).standing, load_path(tension, forgotten).standing
    assert after != "within"
    assert not (before == "unknown" and after == "over")


@given(path=elements, tension=st.floats(1, 5000))
def test_a_path_with_an_unknown_part_is_never_within(path: list[Element], tension: float) -> None:
    told = load_path(tension, path)
    if None in told.utilisations:
        assert told.standing != "within"


@given(path=elements, tension=st.floats(1, 5000))
def test_the_order_of_the_parts_decides_nothing(path: list[Element], tension: float) -> None:
    told, turned = load_path(tension, path), load_path(tension, path[::-1])
    assert (told.standing, told.limit_known) == (turned.standing, turned.limit_known)


@given(low=st.floats(0, 2), width=st.floats(0, 1), more=st.floats(0, 1))
def test_widening_a_pull_never_makes_a_path_pass(low: float, width: float, more: float) -> None:
    narrow = path_standing([low], [low + width])
    wide = path_standing([max(0.0, low - more)], [low + width + more])
    assert wide == narrow or wide == "unknown"


def test_a_path_exactly_at_its_limit_is_within() -> None:
    told = load_path(7000 * 0.95 / 8, [Element("rope", breaking=7000.0, efficiency=0.95, design_factor=8.0)])
    assert told.standing == "within"


def test_a_breaking_strength_without_a_design_factor_is_no_capacity() -> None:
    assert load_path(1.0, [Element("eyebolt", breaking=7000.0, efficiency=1.0)]).standing == "unknown"


def test_of_two_ratings_on_record_the_lesser_governs() -> None:
    both = Element("shackle", breaking=9000.0, efficiency=1.0, design_factor=6.0, working_load_limit=1400.0)
    assert load_path(10.0, [both]).limit_known == 1400.0


def test_legs_of_which_nobody_says_that_they_equalise_count_as_one() -> None:
    chain = Element("chain", working_load_limit=700.0, legs=2, included_angle=radians(40))
    assert share_of_pull(chain) == 1.0


def test_the_least_efficiency_is_not_known_while_one_place_is_not() -> None:
    assert [least_efficiency(places) for places in ([0.95, 0.8], [0.95, None], [])] == [0.8, None, None]


@pytest.mark.parametrize(
    "mistake", [{"efficiency": 1.2}, {"efficiency": 0.0}, {"breaking": -1.0}, {"design_factor": 0.0}]
)
def test_a_strength_that_no_part_has_is_refused(mistake: dict[str, float]) -> None:
    figures = {"breaking": 7000.0, "efficiency": 0.95, "design_factor": 8.0} | mistake
    rope = Element("rope", figures["breaking"], figures["efficiency"], figures["design_factor"])
    with pytest.raises(ValueError, match="must be"):
        load_path(300.0, [rope])


def test_a_design_factor_of_a_path_is_a_bound_while_a_part_is_unknown() -> None:
    told = path_design_factor(
        320.0,
        [Element("rope", breaking=6400.0, efficiency=0.9), Element("shackle", working_load_limit=1000.0)],
    )
    assert (told.least, told.least_known, told.governed_by) == (None, 18.0, "rope")


@pytest.mark.parametrize(
    ("fitting", "angle", "factor"),
    [
        pytest.param("shackle-side", 5, 1.0, id="in line"),
        pytest.param("shackle-side", 5.1, 0.7, id="just off line"),
        pytest.param("shackle-side", 45, 0.7, id="70 % at 45 degrees, as printed"),
        pytest.param("shackle-side", 90, 0.5, id="50 % at 90 degrees, as printed"),
        pytest.param("shackle-side", 90.1, None, id="beyond 90: never"),
        pytest.param("shackle-bow-legs", 120, 1.0, id="two legs at 120"),
        pytest.param("shackle-bow-legs", 121, None, id="two legs wider than 120"),
        pytest.param("choker-angle", 121, 1.0, id="over 120"),
        pytest.param("choker-angle", 120, 0.87, id="120"),
        pytest.param("choker-angle", 90, 0.87, id="90"),
        pytest.param("choker-angle", 89.9, 0.74, id="under 90"),
        pytest.param("choker-angle", 60, 0.74, id="60"),
        pytest.param("choker-angle", 59.9, 0.62, id="under 60"),
        pytest.param("choker-angle", 29.9, 0.49, id="under 30"),
        pytest.param("eyebolt-shoulder", 15, 0.55, id="15"),
        pytest.param("eyebolt-shoulder", 15.1, 0.25, id="over 15"),
        pytest.param("eyebolt-shoulder", 45.1, None, id="over 45: never"),
        pytest.param("eyebolt-plain", 0, 1.0, id="plain, in line"),
        pytest.param("eyebolt-plain", 0.1, None, id="plain, off line: never"),
    ],
)
def test_an_angle_takes_the_value_of_its_band(fitting: Fitting, angle: float, factor: float | None) -> None:
    told = angle_factor(radians(angle), BANDS[fitting])
    assert (
        told == factor if factor is not None else isinstance(told, Refused) and told.standing == "not allowed"
    )


@given(low=st.floats(0, 1.5), width=st.floats(0, 1.5), share=st.floats(0, 1))
@pytest.mark.parametrize("fitting", list(BANDS))
def test_bounds_of_a_factor_hold_at_every_angle_between(
    fitting: Fitting, low: float, width: float, share: float
) -> None:
    bounds = angle_factor_bounds(low, low + width, BANDS[fitting])
    told = angle_factor(low + share * width, BANDS[fitting])
    if isinstance(told, Refused):
        assert bounds.least is None
    else:
        assert bounds.greatest is not None
        assert bounds.greatest >= told
        assert bounds.least is None or bounds.least <= told


@given(diameter=st.floats(0.02, 0.2), chain=st.floats(0.003, 0.02), above=st.floats(1.1, 20))
def test_legs_of_a_wrap_touch_the_pipe(diameter: float, chain: float, above: float) -> None:
    """The angle by root search: the line from the meeting point at that angle just touches the circle of the
    chain's centre."""
    radius = (diameter + chain) / 2
    q = above * radius
    told = chain_wrap(diameter, chain, q, 1000.0, legs_equalise=True)
    assert isinstance(told, ChainWrap)
    touching = brentq(lambda angle: from_centre(q, angle) - radius, 1e-6, pi / 2 - 1e-6)
    assert told.included_angle == pytest.approx(2 * touching, rel=1e-6)
    assert told.leg_tension == pytest.approx(1000 / (2 * cos(touching)), rel=1e-6)


def from_centre(q: float, angle: float) -> float:
    """Nearest that a line from the point q above the centre, leaning by an angle from plumb, comes to the
    centre."""
    nearest = minimize_scalar(
        lambda t: hypot(t * sin(angle), q - t * cos(angle)), bounds=(0, q), options={"xatol": 1e-14}
    )
    return float(nearest.fun)


def test_a_short_coupled_wrap_is_named() -> None:
    told = chain_wrap(0.04826, 0.00635, 1.4 * (0.04826 + 0.00635) / 2, 1000.0)
    assert isinstance(told, ChainWrap)
    assert told.short_coupled
    assert degrees(told.included_angle) > 84


def test_legs_that_do_not_equalise_carry_as_one() -> None:
    told = chain_wrap(0.04826, 0.00635, 0.15, 1000.0, turns=2)
    assert isinstance(told, ChainWrap)
    assert told.leg_tension == 1000.0


def test_a_choked_chain_is_never_rated_above_a_straight_one() -> None:
    with pytest.raises(ValueError, match="no more than 1"):
        choke_capacity(1300.0, 1.2)


def test_chain_comes_in_whole_links() -> None:
    assert [links_to_cut(length, 0.5) for length in (2.0, 2.01)] == [4, 5]


@pytest.mark.parametrize(
    ("distance", "bolt", "wanted"),
    [
        (0.2, False, True), (0.2, True, False), (0.2, None, None), (0.3048, False, False),
        (1.0, None, False), (None, True, False), (None, False, None),
    ],
)  # fmt: skip
def test_a_keeper_bolt_is_wanted_near_the_end(
    distance: float | None, bolt: bool | None, wanted: bool | None
) -> None:
    assert wants_keeper_bolt(distance, bolt) is wanted


def test_a_loss_of_exactly_the_limit_is_not_over_it() -> None:
    assert loss_standing(Bounds.exactly(diameter_loss(6.0, 5.7)), 0.05) == "within"


@given(low=st.floats(0.2, 0.26), width=st.floats(0, 0.02), more=st.floats(0, 0.01))
def test_a_vaguer_caliper_never_makes_a_rope_pass(low: float, width: float, more: float) -> None:
    told = loss_standing(diameter_loss_bounds(0.25, Bounds(low, low + width)), 0.05)
    vaguer = loss_standing(diameter_loss_bounds(0.25, Bounds(low - more, low + width + more)), 0.05)
    assert vaguer in (told, "unknown")


@pytest.mark.parametrize(
    ("counts", "standing"),
    [
        ([(5, 6), (2, 3)], "within"), ([(6, 6), (0, 3)], "over"), ([(None, 6), (3, 3)], "over"),
        ([(None, 6), (1, 3)], "unknown"), ([(5, None), (1, 3)], "unknown"), ([], "unknown"),
    ],
)  # fmt: skip
def test_broken_wires_are_out_when_a_count_reaches_its_limit(
    counts: list[tuple[float | None, float | None]], standing: str
) -> None:
    assert broken_wires_standing(counts) == standing


def test_a_rope_cannot_be_younger_than_the_day_of_the_check() -> None:
    with pytest.raises(ValueError, match="after"):
        age_in_years(date(2030, 1, 1), date(2026, 1, 1))


@pytest.mark.parametrize(
    ("angle", "factor"),
    [(90, 1.0), (75, 1.035), (60, 1.154), (45, 1.414), (30, 2.0)],
)
def test_sling_angle_factors_are_those_printed(angle: float, factor: float) -> None:
    """Factors as printed in sling angle tables (two trade pages, and DOE-STD-1090's load angle factor:
    read)."""
    assert sling_leg(1000.0, 2, radians(angle)).factor == pytest.approx(factor, abs=0.001)


def test_a_basket_that_hangs_straight_counts_twice() -> None:
    assert [round(basket_factor(radians(angle)), 3) for angle in (0, 60, 90)] == [2.0, 1.732, 1.414]


def test_a_hitch_never_rates_above_its_factors() -> None:
    assert hitch_rating(1000.0, 0.75, 0.87) == 652.5


@pytest.mark.parametrize("flat", [0.0, -0.1, 2.0, float("nan")])
def test_a_leg_that_is_flat_or_leans_back_is_refused(flat: float) -> None:
    with pytest.raises(ValueError, match="from the horizontal"):
        sling_leg(100.0, 2, flat)
