"""The programme of renewal and the cutting of rope against integer programmes of a general-purpose
library."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from plumbtrue.mechanics.cut_list import CutList, cut_list
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.renewal_jobs import Job, join
from plumbtrue.mechanics.renewal_plan import Plan, renewal_plan
from plumbtrue.mechanics.renewal_search import years_by_search


def planned(jobs: list[Job], budgets: list[float], factor: float = 0.9) -> Plan:
    told = renewal_plan(jobs, budgets, yearly_value_factor=factor)
    assert isinstance(told, Plan)
    return told


jobs_and_budgets = st.tuples(
    st.lists(
        st.tuples(
            st.integers(1, 9), st.integers(1, 20), st.sampled_from([None, None, 1, 2]), st.integers(-3, 7)
        ),
        min_size=1,
        max_size=7,
    ),
    st.lists(st.integers(0, 15), min_size=1, max_size=3),
)


def as_jobs(written: list[tuple[int, int, int | None, int]]) -> list[Job]:
    return [
        Job(
            f"job {n}",
            float(cost),
            float(value),
            by_year=due,
            after=(f"job {after}",) if 0 <= after < n else (),
        )
        for n, (cost, value, due, after) in enumerate(written)
    ]


def most_value(jobs: list[Job], budgets: list[float], factor: float) -> float | None:
    """Greatest value of a plan that keeps every deadline, by scipy's integer programme; None when there is
    none."""
    n, y = len(jobs), len(budgets)
    number_of = {job.name: number for number, job in enumerate(jobs)}
    rows: list[np.ndarray] = []
    low: list[float] = []
    high: list[float] = []

    def row(cells: dict[tuple[int, int], float], least: float, most: float) -> None:
        dense = np.zeros(n * y)
        for (job, year), weight in cells.items():
            dense[job * y + year] += weight
        rows.append(dense)
        low.append(least)
        high.append(most)

    for number, job in enumerate(jobs):
        row({(number, year): 1 for year in range(y)}, 0, 1)
        if job.by_year is not None:
            row({(number, year): 1 for year in range(min(job.by_year, y))}, 1, 1)
        for name in job.after:
            for last in range(y):
                cells = {(number, year): 1.0 for year in range(last + 1)}
                cells |= {(number_of[name], year): -1.0 for year in range(last + 1)}
                row(cells, -np.inf, 0)
    for year, budget in enumerate(budgets):
        row({(number, year): job.cost for number, job in enumerate(jobs)}, 0, budget)
    worth = np.array([job.value * factor**year for job in jobs for year in range(y)])
    told = milp(
        -worth,
        integrality=np.ones(n * y, dtype=int),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(np.array(rows), np.array(low), np.array(high)),
    )
    return -told.fun if told.success and told.fun is not None else None


@settings(max_examples=60, deadline=None)
@given(written=jobs_and_budgets)
def test_no_plan_is_worth_more_and_every_plan_keeps_the_rules(
    written: tuple[list[tuple[int, int, int | None, int]], list[int]],
) -> None:
    jobs, budgets = as_jobs(written[0]), [float(one) for one in written[1]]
    told = planned(jobs, budgets)
    best = most_value(jobs, budgets, 0.9)
    assert (told.standing == "planned") == (best is not None)
    if best is not None:
        assert told.value == pytest.approx(best, abs=1e-6)
        assert told.value_at_most == told.value
    assert all(spent <= budget for spent, budget in zip(told.spend, budgets, strict=True))
    year_of = {job.name: year for job, year in zip(jobs, told.year_of, strict=True)}
    for job in jobs:
        for name in job.after:
            year, before = year_of[job.name], year_of[name]
            assert year is None or (before is not None and before <= year)


@settings(max_examples=15, deadline=None)
@given(written=jobs_and_budgets)
def test_the_programme_and_the_search_find_the_same_plan(
    written: tuple[list[tuple[int, int, int | None, int]], list[int]],
) -> None:
    """Down to the order of work that is worth the same."""
    programme = pytest.importorskip("plumbtrue.mechanics.renewal_programme")
    jobs, budgets = join(as_jobs(written[0])).jobs, [float(one) for one in written[1]]
    searched, programmed = (
        years_by_search(jobs, budgets, 0.9),
        programme.years_by_programme(jobs, budgets, 0.9).years,
    )
    assert searched is not None

    def aims(years: tuple[int | None, ...]) -> list[float]:
        done = [(job, year) for job, year in zip(jobs, years, strict=True) if year is not None]
        in_time = sum(job.need for job, year in done if job.by_year is not None and year <= job.by_year)
        return [
            in_time,
            sum(job.value * 0.9 ** (year - 1) for job, year in done),
            sum(job.cost for job, _ in done),
        ]

    assert aims(programmed) == pytest.approx(aims(searched), abs=1e-6)
    assert programmed == searched


def test_more_jobs_than_can_be_searched_are_planned_and_what_is_not_proven_is_said() -> None:
    """Against the bound of scipy's integer programme, which stops a ten-thousandth from it."""
    pytest.importorskip("highspy")
    jobs = [Job(f"set {n}", 700.0 + 37 * (n * 7 % 23), 1.0 + n * 11 % 17) for n in range(22)]
    budgets = [6000.0, 6000.0]
    told = planned(jobs, budgets)
    best = most_value(jobs, budgets, 0.9)
    assert best is not None
    assert told.value <= best * 1.0002
    assert told.value_at_most >= best * 0.9999
    assert told.value >= 0.99 * told.value_at_most
    assert all(spent <= 6000.0 for spent in told.spend)
    assert planned(jobs, budgets) == told


def test_more_money_or_fewer_deadlines_never_make_a_plan_worse() -> None:
    jobs = [Job("a", 3.0, 5.0, by_year=1), Job("b", 4.0, 6.0), Job("c", 2.0, 2.0, after=("b",))]
    values = [planned(jobs, [money, 3.0]).value for money in (3.0, 5.0, 7.0, 9.0)]
    assert values == sorted(values)


def test_dangerous_work_comes_before_worthwhile_work() -> None:
    told = planned(
        [Job("worth much", 5.0, 100.0), Job("keeps a set out of service", 5.0, 0.1, by_year=1)], [5.0]
    )
    assert told.year_of == (None, 1)


def test_where_not_all_fits_the_most_needed_is_mended_and_the_rest_named() -> None:
    jobs = [Job("a", 3.0, 9.0, by_year=1, need=1.0), Job("b", 3.0, 1.0, by_year=1, need=5.0)]
    told = planned(jobs, [4.0, 4.0])
    assert told.standing == "must-do work does not fit the budget"
    assert (told.tied_off, told.shortfall, told.year_of) == (("a",), (2.0, 0.0), (2, 1))


def test_of_two_plans_alike_the_cheaper_and_then_the_one_named_first_is_taken() -> None:
    assert planned([Job("dear", 5.0, 4.0), Job("cheap", 3.0, 4.0)], [5.0]).year_of == (None, 1)
    assert planned([Job("first", 3.0, 4.0), Job("second", 3.0, 4.0)], [5.0]).year_of == (1, None)


def test_what_it_takes_to_bring_a_job_in_counts_what_must_come_before_it() -> None:
    jobs = [Job("a", 4.0, 9.0), Job("block", 3.0, 0.1), Job("rope", 2.0, 1.0, after=("block",))]
    told = planned(jobs, [5.0])
    assert [(one.name, one.year, one.extra) for one in told.to_bring_in] == [
        ("block", 1, 2.0),
        ("rope", 1, 4.0),
    ]


@pytest.mark.parametrize(
    ("jobs", "says"),
    [
        pytest.param([Job("a", 1.0, 1.0), Job("a", 2.0, 2.0)], "two jobs are called a", id="a name twice"),
        pytest.param(
            [Job("a", 1.0, 1.0, after=("b",))], "no job is called b", id="after a job that is not there"
        ),
        pytest.param([Job("a", -1.0, 1.0)], "cost must be", id="a cost below 0"),
        pytest.param([Job("a", 1.0, 1.0, by_year=0)], "years count from 1", id="year 0"),
    ],
)
def test_jobs_that_cannot_be_are_refused(jobs: list[Job], says: str) -> None:
    with pytest.raises(ValueError, match=says):
        renewal_plan(jobs, [10.0], yearly_value_factor=0.9)


def fewest_reels(pieces: list[float], reel: float) -> int:
    """By scipy's integer programme: a yes or no for each piece on each reel, and for each reel in use."""
    n = len(pieces)
    in_use = np.zeros((n, n * n + n))
    placed = np.zeros((n, n * n + n))
    for bin_ in range(n):
        in_use[bin_, bin_ * n : bin_ * n + n] = pieces
        in_use[bin_, n * n + bin_] = -reel
        for piece in range(n):
            placed[piece, bin_ * n + piece] = 1
    told = milp(
        np.concatenate([np.zeros(n * n), np.ones(n)]),
        integrality=np.ones(n * n + n, dtype=int),
        bounds=Bounds(0, 1),
        constraints=[LinearConstraint(in_use, -np.inf, 0), LinearConstraint(placed, 1, 1)],
    )
    assert told.fun is not None
    reels: int = round(told.fun)
    return reels


@settings(max_examples=30, deadline=None)
@given(pieces=st.lists(st.integers(3, 60), min_size=1, max_size=7))
def test_no_cutting_needs_fewer_reels(pieces: list[int]) -> None:
    told = cut_list([float(piece) for piece in pieces], 60.0)
    assert isinstance(told, CutList)
    assert told.is_fewest
    assert len(told.reels) == fewest_reels([float(piece) for piece in pieces], 60.0)


@given(pieces=st.lists(st.floats(1, 60), max_size=30))
@settings(deadline=None)
def test_every_piece_is_cut_once_and_no_reel_is_overrun(pieces: list[float]) -> None:
    told = cut_list(pieces, 60.0, search_budget=2000)
    assert isinstance(told, CutList)
    assert sorted(piece for reel in told.reels for piece in reel) == list(range(len(pieces)))
    assert all(sum(pieces[piece] for piece in reel) <= 60.0 * (1 + 1e-8) for reel in told.reels)
    assert told.at_least <= len(told.reels)


def test_a_packing_that_fills_every_reel_is_found() -> None:
    """A first filling of the tightest reel needs one reel more here; the search finds the one that leaves
    nothing over."""
    told = cut_list([41.0, 34.0, 27.0, 26.0, 25.0, 24.0, 23.0, 50.0, 50.0], 100.0)
    assert isinstance(told, CutList)
    assert len(told.reels) == 3
    assert told.waste == pytest.approx(0.0)


def test_a_piece_longer_than_a_reel_is_refused() -> None:
    assert isinstance(cut_list([61.0], 60.0), Refused)
