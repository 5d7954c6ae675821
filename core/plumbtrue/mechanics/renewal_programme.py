"""A renewal programme as an integer programme, for more jobs than a search can hold. Needs the HiGHS solver
(extra `programme`).

One yes or no for each job and year. The aims of `renewal_plan` are settled one after the other, each kept
while the next is optimised; last, each job in the order given takes its earliest year that costs nothing, so
that the same input gives the same plan.
"""

from collections.abc import Sequence
from typing import Any, Final

import highspy

from plumbtrue.mechanics.renewal_jobs import Job

_GRAIN: Final = 1e-7
"""Share of the largest figure that a settled aim may give way when the next one is optimised."""


def years_by_programme(
    jobs: Sequence[Job], budgets: Sequence[float], factor: float
) -> tuple[int | None, ...]:
    """Year of each job, None where it is left out.

    Raises:
        RuntimeError: the solver found no plan, although doing nothing is always one.
    """
    untyped: Any = highspy
    solver = untyped.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", 0.0)
    solver.setOptionValue("random_seed", 1)
    years = range(len(budgets))
    done: list[list[Any]] = [[solver.addBinary() for _ in years] for _ in jobs]
    for choices in done:
        solver.addConstr(solver.qsum(choices) <= 1)
    for year in years:
        solver.addConstr(solver.qsum(job.cost * done[n][year] for n, job in enumerate(jobs)) <= budgets[year])
    number_of = {job.name: number for number, job in enumerate(jobs)}
    for number, job in enumerate(jobs):
        for name in job.after:
            before = number_of[name]
            for year in years:
                solver.addConstr(
                    solver.qsum(done[number][: year + 1]) <= solver.qsum(done[before][: year + 1])
                )
    in_time = [
        job.need * done[n][year]
        for n, job in enumerate(jobs)
        for year in years
        if job.by_year is not None and year < job.by_year
    ]
    worth = [job.value * factor**year * done[n][year] for n, job in enumerate(jobs) for year in years]
    cost = [job.cost * done[n][year] for n, job in enumerate(jobs) for year in years]
    if in_time:
        best = _best(solver, solver.qsum(in_time))
        solver.addConstr(solver.qsum(in_time) >= best - _GRAIN * max(1.0, best))
    if jobs:
        best = _best(solver, solver.qsum(worth))
        solver.addConstr(solver.qsum(worth) >= best - _GRAIN * max(1.0, best))
        least = -_best(solver, -1 * solver.qsum(cost))
        solver.addConstr(solver.qsum(cost) <= least + _GRAIN * max(1.0, least))
    found: list[int | None] = []
    for choices in done:
        # Earlier years count for more, and any year for more than none.
        _best(solver, solver.qsum((len(choices) - year) * choice for year, choice in enumerate(choices)))
        year_of = next((year for year, choice in enumerate(choices) if solver.val(choice) > 0.5), None)
        for year, choice in enumerate(choices):
            solver.addConstr(choice == (1 if year == year_of else 0))
        found.append(None if year_of is None else year_of + 1)
    return tuple(found)


def _best(solver: Any, aim: Any) -> float:
    solver.maximize(aim)
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        raise RuntimeError(f"the solver ended with {solver.getModelStatus()}")
    return float(solver.getInfo().objective_function_value)
