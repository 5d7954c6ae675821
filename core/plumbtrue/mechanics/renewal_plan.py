"""Which renewal work is done in which year, within each year's money.

The order of aims, each settled before the next is looked at:

1. nothing dangerous stays in use: work with a deadline is done by then, or its set stays tied off; money
never buys this back; 2. where not all of it fits, as much need as possible is back in service by its
deadline; 3. most worth of the rest, work counting for less in each later year;
4. least spend;
5. a fixed order: of equal plans, the one that does the work named first earliest. The same input gives the
same plan.

The house gives worth and need (severity, load, people below, age). Costs known as a range are planned at
their high end by the caller. Up to 12 jobs are searched exhaustively with bounds (`renewal_search`), more go
to an integer programme (`renewal_programme`).
Source: capital rationing as an integer programme, any text on operations research (derived).
"""

from collections.abc import Mapping, Sequence
from typing import Final, Literal

from plumbtrue.mechanics.refusal import Refused, must_be_positive, must_not_be_negative
from plumbtrue.mechanics.renewal_jobs import Job, join
from plumbtrue.mechanics.renewal_search import years_by_search
from plumbtrue.quantities.unchanging import unchanging

MOST_SEARCHED: Final = 12

PlanStanding = Literal["planned", "must-do work does not fit the budget"]


@unchanging
class BringIn:
    """What it would take to do a job that was left out: the year that needs the least money more, and how
    much."""

    name: str
    year: int
    extra: float


@unchanging
class Plan:
    """A programme of work. Years count from 1; money in whatever currency the costs are in."""

    standing: PlanStanding
    year_of: tuple[int | None, ...]
    """For each job, in the order given; None where it is left out."""
    spend: tuple[float, ...]
    value: float
    value_at_most: float
    """What the best plan could be worth: the same as `value` where this plan is proven best, as it is for a
    dozen jobs."""
    due: tuple[float, ...]
    """For each year, cost of the work that must be done by then and not before."""
    shortfall: tuple[float, ...]
    """For each year, how much all work due by then costs over the money of all years up to then. May be 0
    where the work does not fit only because a job cannot be split over two years."""
    tied_off: tuple[str, ...]
    """Jobs with a deadline that are not done by then: their sets stay out of service until they are."""
    to_bring_in: tuple[BringIn, ...]


def renewal_plan(
    jobs: Sequence[Job], budgets: Sequence[float], *, yearly_value_factor: float
) -> Plan | Refused:
    """The best programme for a list of jobs.

    Args:
        budgets: money of each year, 0 or more.
        yearly_value_factor: what a year's delay leaves of a job's worth, more than 0 to 1.
    Raises:
        ValueError: names that are not unique or not there, a cost or worth below 0, no year, a factor outside
        its range.
    Returns:
        A refusal when there are more than 12 jobs, no solver is installed and the search outgrows its budget.

    >>> rope = Job("rope", 900.0, 6.0, after=("block",))
    >>> jobs = [rope, Job("block", 1600.0, 1.0), Job("clamps", 700.0, 3.0)]
    >>> told = renewal_plan(jobs, [2000.0, 1500.0], yearly_value_factor=0.9)
    >>> told.year_of, round(told.value, 6)
    ((2, 1, None), 6.4)
    """
    must_not_be_negative(**{f"budget_{year}": budget for year, budget in enumerate(budgets, 1)})
    must_be_positive(years=len(budgets), yearly_value_factor=yearly_value_factor)
    if yearly_value_factor > 1:
        raise ValueError(f"delay adds no worth, but the yearly factor is {yearly_value_factor}")
    joined = join(jobs)
    found = _years(joined.jobs, budgets, yearly_value_factor)
    if isinstance(found, Refused):
        return found
    years, at_most = found
    year_of = tuple(years[joined.index_of[job.name]] for job in jobs)
    spend = tuple(
        sum(job.cost for job, done in zip(jobs, year_of, strict=True) if done == year)
        for year in range(1, len(budgets) + 1)
    )
    value = sum(
        job.value * yearly_value_factor ** (year - 1)
        for job, year in zip(jobs, year_of, strict=True)
        if year is not None
    )
    deadlines = _deadlines(joined.jobs)
    due = [0.0] * len(budgets)
    for number, job in enumerate(joined.jobs):
        deadline = deadlines.get(number)
        if deadline is not None and deadline <= len(budgets):
            due[deadline - 1] += job.cost
    tied_off = tuple(
        job.name
        for job, year in zip(jobs, year_of, strict=True)
        if (limit := joined.jobs[joined.index_of[job.name]].by_year) is not None
        and (year is None or year > limit)
    )
    return Plan(
        standing="must-do work does not fit the budget" if tied_off else "planned",
        year_of=year_of,
        spend=spend,
        value=value,
        value_at_most=value if at_most is None else max(value, at_most),
        due=tuple(due),
        shortfall=tuple(max(0.0, sum(due[: n + 1]) - sum(budgets[: n + 1])) for n in range(len(budgets))),
        tied_off=tied_off,
        to_bring_in=_to_bring_in(joined.jobs, years, budgets),
    )


def _years(
    jobs: Sequence[Job], budgets: Sequence[float], factor: float
) -> tuple[tuple[int | None, ...], float | None] | Refused:
    """Year of each job, and what a better plan could be worth at most where this one is not proven best."""
    if len(jobs) > MOST_SEARCHED:
        try:
            from plumbtrue.mechanics.renewal_programme import years_by_programme
        except ImportError:
            pass
        else:
            programmed = years_by_programme(jobs, budgets, factor)
            return programmed.years, programmed.value_at_most
    years = years_by_search(jobs, budgets, factor)
    if years is None:
        return Refused(
            f"{len(jobs)} jobs are too many to search, and no solver for integer programmes is installed",
            f"{MOST_SEARCHED} jobs without a solver",
            "the search's budget",
        )
    return years, None


def _deadlines(jobs: Sequence[Job]) -> Mapping[int, int]:
    """Year by which each job must be done, for itself or for one that comes after it."""
    number_of = {job.name: number for number, job in enumerate(jobs)}
    deadlines = {number: job.by_year for number, job in enumerate(jobs) if job.by_year is not None}
    waiting = list(deadlines)
    while waiting:
        number = waiting.pop()
        for name in jobs[number].after:
            before = number_of[name]
            if deadlines.get(before, deadlines[number] + 1) > deadlines[number]:
                deadlines[before] = deadlines[number]
                waiting.append(before)
    return deadlines


def _to_bring_in(
    jobs: Sequence[Job], years: Sequence[int | None], budgets: Sequence[float]
) -> tuple[BringIn, ...]:
    """For every job left out, the least extra money in one year that would do it and what must come before
    it."""
    number_of = {job.name: number for number, job in enumerate(jobs)}
    spent = [
        sum(job.cost for job, done in zip(jobs, years, strict=True) if done == year)
        for year in _span(budgets)
    ]
    found = []
    for number, job in enumerate(jobs):
        if years[number] is not None:
            continue
        needed, waiting, first_year = {number}, [number], 1
        while waiting:
            for name in jobs[waiting.pop()].after:
                before = number_of[name]
                done = years[before]
                if done is not None:
                    first_year = max(first_year, done)
                elif before not in needed:
                    needed.add(before)
                    waiting.append(before)
        cost = sum(jobs[one].cost for one in needed)
        extras = [(max(0.0, cost - (budgets[year - 1] - spent[year - 1])), year) for year in _span(budgets)]
        extra, year = min(extras[first_year - 1 :])
        found.append(BringIn(job.name, year, extra))
    return tuple(found)


def _span(budgets: Sequence[float]) -> range:
    return range(1, len(budgets) + 1)
