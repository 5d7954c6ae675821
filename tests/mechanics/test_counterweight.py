"""Balance, bricks, load-in, rope shift, pulls, run-away: laws that always hold, and independent ways to the
same figures."""

from itertools import permutations, product
from math import isclose, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import Bounds as Box
from scipy.optimize import milp

from plumbtrue.mechanics.balance import balance, heavy_side, out_of_balance, out_of_balance_bounds
from plumbtrue.mechanics.brick_stack import Brick, brick_stack, capacity_standing
from plumbtrue.mechanics.closure import heaviest_closed_set
from plumbtrue.mechanics.gravity import STANDARD_GRAVITY
from plumbtrue.mechanics.hand_line import FoundFromPulls, friction_from_pulls, hand_line_pull
from plumbtrue.mechanics.load_sequence import FreeTravel, Step, energy_at_risk, load_sequence
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.rope_lock import rope_lock_use
from plumbtrue.mechanics.rope_shift import (
    ChainHung,
    chain_for_full_compensation,
    chain_takes_back,
    rope_shift,
)
from plumbtrue.mechanics.runaway import possible_stops, runaway, stopping
from plumbtrue.quantities.bounds import Bounds

weights = st.floats(0, 5000)
purchases = st.sampled_from([1, 2])


@given(batten=weights, arbor=weights, purchase=purchases)
def test_the_computed_counterweight_leaves_nothing_out_of_balance(
    batten: float, arbor: float, purchase: int
) -> None:
    wanted = balance(batten, arbor, None, purchase=purchase).counterweight_to_balance
    if wanted >= 0:
        told = balance(batten, arbor, wanted, purchase=purchase)
        assert told.out_of_balance_at_batten == pytest.approx(0, abs=1e-9 * max(1, batten, arbor))
        assert told.heavy_side == "neither"


def test_a_counterweight_that_nobody_counted_gives_no_balance() -> None:
    told = balance(454.0, 90.0, None, purchase=2)
    assert told.counterweight_to_balance == 818.0
    assert (told.out_of_balance_at_batten, told.out_of_balance_at_hand_line, told.heavy_side) == (
        None,
        None,
        None,
    )


def test_dust_of_decimal_weights_is_not_heavy() -> None:
    assert heavy_side(0.1 + 0.2 - 0.3, scale=0.3) == "neither"


bounds = st.tuples(weights, weights).map(lambda ends: Bounds(min(ends), max(ends)))


@given(
    batten=st.lists(bounds, min_size=1, max_size=4),
    arbor=st.lists(bounds, min_size=1, max_size=3),
    purchase=purchases,
)
def test_bounds_of_the_out_of_balance_are_its_extreme_corners(
    batten: list[Bounds], arbor: list[Bounds], purchase: int
) -> None:
    told = out_of_balance_bounds(batten, arbor, purchase=purchase)
    split = len(batten)
    corners = [
        out_of_balance(sum(ends[:split]), sum(ends[split:]), purchase=purchase)
        for ends in product(*[(one.low, one.high) for one in (*batten, *arbor)])
    ]
    assert told.low == pytest.approx(min(corners), abs=1e-6)
    assert told.high == pytest.approx(max(corners), abs=1e-6)


@pytest.mark.parametrize("mistake", [float("nan"), float("inf"), -1.0])
def test_a_weight_that_nothing_has_is_refused(mistake: float) -> None:
    with pytest.raises(ValueError, match="must be"):
        balance(mistake, 90.0, 100.0, purchase=1)


bricks = st.lists(
    st.tuples(st.integers(2, 40), st.integers(1, 6), st.integers(0, 9)),
    min_size=1,
    max_size=3,
    unique_by=lambda b: b[0],
)


@settings(max_examples=40, deadline=None)
@given(kinds=bricks, target=st.integers(0, 700), room=st.integers(0, 40))
def test_no_other_stack_of_bricks_comes_nearer(
    kinds: list[tuple[int, int, int]], target: int, room: int
) -> None:
    """Against every stack there is, and the order: least residual, fewest bricks, lowest."""
    stack = [Brick(f"{weight}", weight, thickness, count) for weight, thickness, count in kinds]
    told = brick_stack(target, stack, room)
    every = (
        (abs(target - sum(n * b.weight for n, b in zip(counts, stack, strict=True))), sum(counts), height)
        for counts in product(*[range(brick.available + 1) for brick in stack])
        if (height := sum(n * b.thickness for n, b in zip(counts, stack, strict=True))) <= room
    )
    assert (abs(told.residual), sum(told.counts), told.height) == pytest.approx(min(every))


def test_the_least_residual_agrees_with_an_integer_programme() -> None:
    kinds = [
        Brick("a", 28.4, 1.25, 20),
        Brick("b", 22.5, 1.0, 25),
        Brick("c", 11.3, 0.5, 9),
        Brick("d", 4.7, 0.25, 5),
    ]
    told = brick_stack(417.3, kinds, 19.5)
    # Variables: four counts and the size of the residual.
    least = milp(
        c=[0, 0, 0, 0, 1],
        integrality=[1, 1, 1, 1, 0],
        bounds=Box(np.zeros(5), np.array([20, 25, 9, 5, np.inf])),
        constraints=[
            (np.array([[28.4, 22.5, 11.3, 4.7, 1]]), 417.3, np.inf),
            (np.array([[28.4, 22.5, 11.3, 4.7, -1]]), -np.inf, 417.3),
            (np.array([[1.25, 1.0, 0.5, 0.25, 0]]), -np.inf, 19.5),
        ],
    )
    assert abs(told.residual) == pytest.approx(least.fun, abs=1e-6)


def test_stack_space_that_is_short_is_said_with_the_weight_that_finds_no_room() -> None:
    full, half = Brick("full", 22.5, 1.0, 40), Brick("half", 11.25, 0.5, 12)
    told = brick_stack(420.0, [full, half], 15.0)
    assert (told.standing, told.short_by) == ("over", 82.5)


def test_a_house_may_want_its_residual_to_one_side() -> None:
    full = Brick("full", 10.0, 1.0, 40)
    residuals = [
        brick_stack(96.0, [full], 60.0, residue=side).residual
        for side in ("either", "arbor-heavy", "batten-heavy")
    ]
    assert residuals == [-4.0, -4.0, 6.0]


def test_without_a_label_the_arbor_is_no_pass() -> None:
    assert [capacity_standing(400.0, label) for label in (None, 399.0, 400.0)] == [
        "unknown",
        "over",
        "within",
    ]


steps_and_pairs = st.integers(1, 6).flatmap(
    lambda count: st.tuples(
        st.lists(st.integers(-300, 300), min_size=count, max_size=count),
        st.lists(
            st.tuples(st.integers(0, count - 1), st.integers(0, count - 1)).filter(lambda p: p[0] < p[1]),
            max_size=5,
        )
        if count > 1
        else st.just([]),
    )
)


@settings(max_examples=60, deadline=None)
@given(events=steps_and_pairs)
def test_the_worst_order_is_the_worst_of_all_orders(events: tuple[list[int], list[tuple[int, int]]]) -> None:
    changes, pairs = events
    told = load_sequence(
        500.0, 500.0, [Step(batten=float(c)) for c in changes], purchase=1, must_precede=pairs
    )
    orders = [
        order
        for order in permutations(range(len(changes)))
        if all(order.index(a) < order.index(b) for a, b in pairs)
    ]
    reached = [
        sum(changes[step] for step in order[:done]) for order in orders for done in range(len(changes) + 1)
    ]
    assert told.worst_batten_heavy.amount == pytest.approx(max(0, *reached))
    assert told.worst_arbor_heavy.amount == pytest.approx(max(0, *[-one for one in reached]))
    # The planned order obeys the pairs here, so it is never worse than the worst.
    assert told.most_batten_heavy <= told.worst_batten_heavy.amount + 1e-9


def test_the_worst_order_of_many_events_comes_at_once() -> None:
    steps = [step for _ in range(30) for step in (Step(batten=100.0), Step(arbor=100.0))]
    pairs = [(2 * item, 2 * item + 1) for item in range(30)]
    told = load_sequence(0.0, 0.0, steps, purchase=1, must_precede=pairs)
    assert (told.worst_batten_heavy.amount, told.worst_arbor_heavy.amount) == (3000.0, 0.0)
    assert set(told.worst_batten_heavy.steps_done) == set(range(0, 60, 2))


def test_what_must_come_before_itself_is_refused() -> None:
    with pytest.raises(ValueError, match="circle"):
        heaviest_closed_set([1.0, 2.0, 3.0], [(0, 1), (1, 2), (2, 0)])


def test_a_plan_that_breaks_its_own_pairs_is_told() -> None:
    told = load_sequence(0.0, 0.0, [Step(batten=9.0), Step(arbor=9.0)], purchase=1, must_precede=[(1, 0)])
    assert not told.plan_keeps_the_order


@given(unbalanced=st.floats(-500, 500), fall=st.floats(0, 30), rise=st.floats(0, 30))
def test_energy_at_risk_is_never_below_0(unbalanced: float, fall: float, rise: float) -> None:
    energy = energy_at_risk(unbalanced, FreeTravel(fall, rise))
    assert energy is not None
    assert energy >= 0


def test_energy_over_a_travel_that_nobody_knows_is_not_known() -> None:
    told = load_sequence(
        0.0, 0.0, [Step(batten=180.0), Step(arbor=180.0, free=FreeTravel(0.0, 14.0))], purchase=1
    )
    assert told.energy_at_risk == (0.0, None, 0.0)
    assert told.worst_moment is None


def rope_energy(y: float, lines: int, m: float, purchase: int, chain: float, hung: ChainHung | None) -> float:
    """Potential energy of ropes and chain, per unit of g, with the batten y lower and the arbor y/purchase
    higher than at high trim."""
    batten_side, arbor_side, height, arbor_start = 3.0 + y, 15.0 - y / purchase, 20.0, 5.0
    energy = -lines * m * batten_side**2 / 2 - purchase * lines * m * arbor_side**2 / 2
    arbor = arbor_start + y / purchase
    if hung == "pile":
        energy += chain * arbor**2 / 2
    elif hung == "bight":
        # From the arbor down, round the bight and up to a fixed point at half height.
        fixed, length = height / 2, 40.0
        lowest = (arbor + fixed - length) / 2
        energy += chain * ((arbor**2 - lowest**2) / 2 + (fixed**2 - lowest**2) / 2)
    return energy


@pytest.mark.parametrize("hung", ["bight", "pile", None])
@pytest.mark.parametrize("purchase", [1, 2])
def test_rope_shift_is_the_change_of_force_from_potential_energy(
    purchase: int, hung: ChainHung | None
) -> None:
    """The force on the batten is minus the slope of the energy; its change over the travel is the shift,
    chain taken off."""
    lines, m, chain, travel, h = 5, 1.6, 11.0, 9.0, 1e-4

    def force(y: float) -> float:
        args = (lines, m, purchase, chain if hung else 0.0, hung)
        return -(rope_energy(y + h, *args) - rope_energy(y - h, *args)) / (2 * h)

    expected = rope_shift(lines, m, travel, purchase=purchase)
    if hung:
        expected -= chain_takes_back(chain, travel, hung, purchase=purchase)
    assert force(travel) - force(0.0) == pytest.approx(expected, rel=1e-5)


@given(lines=st.integers(1, 12), m=st.floats(0.1, 10), y=st.floats(0.1, 40), purchase=purchases)
@pytest.mark.parametrize("hung", ["bight", "pile"])
def test_a_full_chain_takes_back_all_of_the_shift(
    lines: int, m: float, y: float, purchase: int, hung: ChainHung
) -> None:
    chain = chain_for_full_compensation(lines, m, hung, purchase=purchase)
    assert chain_takes_back(chain, y, hung, purchase=purchase) == pytest.approx(
        rope_shift(lines, m, y, purchase=purchase)
    )


@given(unbalanced=st.floats(-300, 300), friction=st.floats(0, 100), purchase=purchases)
def test_two_pulls_tell_out_of_balance_and_friction_apart(
    unbalanced: float, friction: float, purchase: int
) -> None:
    pulls = hand_line_pull(unbalanced, friction, purchase=purchase)
    found = friction_from_pulls(pulls.to_raise, pulls.to_lower, purchase=purchase)
    assert isinstance(found, FoundFromPulls)
    assert found.out_of_balance_at_batten == pytest.approx(unbalanced, abs=1e-9)
    assert found.friction == pytest.approx(friction, abs=1e-9)


def test_pulls_that_contradict_each_other_are_refused() -> None:
    assert isinstance(friction_from_pulls(-40.0, 20.0, purchase=1), Refused)


@pytest.mark.parametrize(
    ("low", "high", "standing"),
    [
        (30.0, 40.0, "within"),
        (30.0, 40.1, "unknown"),
        (41.0, 60.0, "over"),
        (-60.0, -41.0, "over"),
        (-60.0, 60.0, "unknown"),
    ],
)
def test_a_rope_lock_is_judged_at_the_bad_end(low: float, high: float, standing: str) -> None:
    assert rope_lock_use(Bounds(low, high), 40.0).standing == standing


def test_a_rope_lock_without_a_rating_is_unknown() -> None:
    assert rope_lock_use(Bounds(0.0, 1.0), None).standing == "unknown"


@settings(max_examples=25, deadline=None)
@given(batten=st.floats(200, 3000), arbor=st.floats(200, 3000), travel=st.floats(1, 20), purchase=purchases)
def test_a_run_away_agrees_with_its_equation_of_motion(
    batten: float, arbor: float, travel: float, purchase: int
) -> None:
    friction = 40.0
    run = runaway(batten, arbor, travel, friction, purchase=purchase)
    if run.held_by_friction or abs(run.out_of_balance_at_batten) < 2 * friction:
        return
    assert run.time is not None
    drive = abs(batten - arbor / purchase) - friction
    mass = (batten + arbor / purchase**2) / STANDARD_GRAVITY
    motion = solve_ivp(lambda _, y: [y[1], drive / mass], (0.0, run.time), [0.0, 0.0], rtol=1e-9, atol=1e-12)
    assert motion.y[:, -1] == pytest.approx([travel, run.batten_speed], rel=1e-6)
    assert run.kinetic_energy == pytest.approx(mass * run.batten_speed**2 / 2, rel=1e-9)


def test_friction_that_holds_a_set_leaves_it_still() -> None:
    run = runaway(160.0, 150.0, 12.0, 25.0, purchase=1)
    assert (run.batten_speed, run.time, run.energy_at_risk, possible_stops(run)) == (0.0, None, 120.0, ())


def test_the_stop_of_a_landing_side_takes_its_own_energy_and_weight_only() -> None:
    run = runaway(500.0, 1400.0, 7.0, 0.0, purchase=2)
    told = stopping(run, "arbor-floor", 500.0, 1400.0, 0.1, purchase=2)
    assert told.average_force == pytest.approx(1400 / STANDARD_GRAVITY * run.arbor_speed**2 / 0.2 + 1400)
    assert told.flies_on is not None
    # The batten flies on until its speed is used up.
    assert isclose(sqrt(2 * STANDARD_GRAVITY * told.flies_on), run.batten_speed)


def test_a_stop_on_the_light_side_cannot_come_first() -> None:
    run = runaway(100.0, 200.0, 5.0, 0.0, purchase=1)
    with pytest.raises(ValueError, match="cannot come first"):
        stopping(run, "batten-deck", 100.0, 200.0, 0.1, purchase=1)
