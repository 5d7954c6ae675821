"""A renewal programme as an integer programme, for more jobs than a search can hold. Needs the HiGHS solver
(extra `programme`).

One yes or no for each job and year. The aims of `renewal_plan` are settled one after the other, each kept
while the next is optimised; last, each job in the order given takes its earliest year that costs nothing, so
that the same input gives the same plan. Long lists can take a solver for ever: it stops after a number of
nodes (not of seconds, so that every machine finds the same plan), and the plan then says how much a better
one could be worth at most.
"""

from collections.abc import Sequence
from typing import Any, Final

import highspy

from plumbtrue.mechanics.renewal_jobs import Job
from plumbtrue.quantities.unchanging import unchanging

_GRAIN: Final = 1e-7
"""Share of the largest figure that a settled aim may give way when the next one is optimised."""


_MOST_NODES: Final = 3000
"""A few seconds' work."""


@unchanging
class Programmed:
    """Year of each job, None where it is left out, and what the best plan could be worth at most, None where
    this one is proven best."""

    years: tuple[int | None, ...]
    value_at_most: float | None


class _Quiet(highspy.Highs):  # type: ignore[misc, unused-ignore]  # The solver ships no types everywhere.
    """The solver without its banner: it prints one while it is being made, and our output may be a
    document."""

    def enableCallbacks(self) -> None:
        self.setOptionValue("output_flag", False)
        of_solver: Any = super()
        of_solver.enableCallbacks()


def years_by_programme(jobs: Sequence[Job], budgets: Sequence[float], factor: float) -> Programmed:
    """The best programme that the solver finds.

    Raises:
        RuntimeError: the solver found no plan, although doing nothing is always one.
    """
    if not jobs:
        return Programmed((), None)
    made: Any = _Quiet
    solver = made()
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", 0.0)
    solver.setOptionValue("mip_max_nodes", _MOST_NODES)
    solver.setOptionValue("random_seed", 1)
    years = range(len(budgets))
    done: list[list[Any]] = [[solver.addBinary() for _ in years] for _ in jobs]
    _constrain(solver, done, jobs, budgets)
    in_time = [
        [job.need if job.by_year is not None and year < job.by_year else 0.0 for year in years]
        for job in jobs
    ]
    worth = [[job.value * factor**year for year in years] for job in jobs]
    cost = [[-job.cost for _ in years] for job in jobs]
    found: list[int | None] = []
    for aim in (in_time, worth, cost):
        weighed = solver.qsum(
            a * x for row, xs in zip(aim, done, strict=True) for a, x in zip(row, xs, strict=True)
        )
        found = _best(solver, weighed, done)
        reached = sum(row[year - 1] for row, year in zip(aim, found, strict=True) if year is not None)
        if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            # What comes after this aim could only choose between plans that are all not proven best.
            at_most = solver.getInfo().mip_dual_bound if aim is worth else sum(max(row) for row in worth)
            return Programmed(tuple(found), None if aim is cost else float(at_most))
        solver.addConstr(weighed >= reached - _GRAIN * max(1.0, abs(reached)))
    for number, choices in enumerate(done):
        # A job that is already in year 1 can come no earlier.
        if found[number] != 1:
            # Earlier years count for more, and any year for more than none.
            earlier = solver.qsum((len(choices) - year) * choice for year, choice in enumerate(choices))
            found = _best(solver, earlier, done)
        for year, choice in enumerate(choices, 1):
            solver.addConstr(choice == (1 if year == found[number] else 0))
    return Programmed(tuple(found), None)


def _constrain(
    solver: Any, done: Sequence[Sequence[Any]], jobs: Sequence[Job], budgets: Sequence[float]
) -> None:
    """Each job once at most, no year over its money, no job before what must come first."""
    for choices in done:
        solver.addConstr(solver.qsum(choices) <= 1)
    for year, budget in enumerate(budgets):
        solver.addConstr(solver.qsum(job.cost * done[n][year] for n, job in enumerate(jobs)) <= budget)
    number_of = {job.name: number for number, job in enumerate(jobs)}
    for number, job in enumerate(jobs):
        for name in job.after:
            before = number_of[name]
            for year in range(len(budgets)):
                solver.addConstr(
                    solver.qsum(done[number][: year + 1]) <= solver.qsum(done[before][: year + 1])
                )


def _best(solver: Any, aim: Any, done: Sequence[Sequence[Any]]) -> list[int | None]:
    """Year of each job in a plan that makes most of an aim. Whole years, not the solver's 0.999999: an aim is
    kept at what the plan truly reaches."""
    solver.maximize(aim)
    ended = solver.getModelStatus()
    if ended not in (highspy.HighsModelStatus.kOptimal, highspy.HighsModelStatus.kSolutionLimit):
        raise RuntimeError(f"the solver ended with {ended}")
    return [
        next((year for year, choice in enumerate(choices, 1) if solver.val(choice) > 0.5), None)
        for choices in done
    ]
