"""A renewal programme by exhaustive search with bounds: every job in every year or not at all, as far as a
plan can still be the best.

Exact; meant for about a dozen jobs. The aims are those of `renewal_plan`, in that order.
"""

from collections.abc import Sequence

from plumbtrue.mechanics.renewal_jobs import Job

_GRAIN = 1e-9


def years_by_search(
    jobs: Sequence[Job], budgets: Sequence[float], factor: float, *, search_budget: int = 3_000_000
) -> tuple[int | None, ...] | None:
    """Year of each job, None where it is left out; None altogether when the search outgrows its budget of
    steps."""
    search = _Search(jobs, budgets, factor, search_budget)
    search.visit(0)
    return None if search.gave_up else tuple(search.best)


class _Search:
    def __init__(
        self, jobs: Sequence[Job], budgets: Sequence[float], factor: float, search_budget: int
    ) -> None:
        self._jobs = jobs
        self._worth = [factor**year for year in range(len(budgets))]
        self._left = list(budgets)
        number_of = {job.name: number for number, job in enumerate(jobs)}
        # Pairs are looked at when the later of the two in the list gets its year.
        self._pairs: list[list[tuple[int, int]]] = [[] for _ in jobs]
        for number, job in enumerate(jobs):
            for name in job.after:
                pair = (number_of[name], number)
                self._pairs[max(pair)].append(pair)
        self._by_density = sorted(range(len(jobs)), key=lambda n: -jobs[n].value / max(jobs[n].cost, 1e-300))
        self._value_grain = _GRAIN * max([1e-300, *(job.value for job in jobs)])
        self._cost_grain = _GRAIN * max([1e-300, *(job.cost for job in jobs), *budgets])
        self._years: list[int | None] = [None] * len(jobs)
        self._missed, self._value, self._spent = 0.0, 0.0, 0.0
        self._steps = search_budget
        self.best: list[int | None] = [None] * len(jobs)
        self._best_rank: tuple[float, float, float] | None = None
        self.gave_up = False

    def visit(self, number: int) -> None:
        self._steps -= 1
        if self._steps < 0:
            self.gave_up = True
        if self.gave_up or not self._can_be_better(number):
            return
        if number == len(self._jobs):
            self._best_rank = (self._missed, self._value, self._spent)
            self.best = list(self._years)
            return
        job = self._jobs[number]
        for year, worth in enumerate(self._worth, 1):
            if job.cost > self._left[year - 1] + self._cost_grain:
                continue
            late = job.need if job.by_year is not None and year > job.by_year else 0.0
            self._try(number, year, job.value * worth, job.cost, late)
        self._try(number, None, 0.0, 0.0, job.need if job.by_year is not None else 0.0)

    def _try(self, number: int, year: int | None, value: float, cost: float, missed: float) -> None:
        before = (self._missed, self._value, self._spent)
        self._years[number] = year
        if all(self._in_order(first, second) for first, second in self._pairs[number]):
            self._missed, self._value, self._spent = before[0] + missed, before[1] + value, before[2] + cost
            if year is not None:
                self._left[year - 1] -= cost
            self.visit(number + 1)
            if year is not None:
                self._left[year - 1] += cost
        self._years[number] = None
        self._missed, self._value, self._spent = before

    def _in_order(self, first: int, second: int) -> bool:
        done, follows = self._years[first], self._years[second]
        return follows is None or (done is not None and done <= follows)

    def _can_be_better(self, number: int) -> bool:
        """Whether the jobs from `number` on can still make a plan better than the best: plans found first win
        ties."""
        if self._best_rank is None:
            return True
        missed, value, spent = self._best_rank
        if self._missed > missed + _GRAIN:
            return False
        if self._missed < missed - _GRAIN:
            return True
        most = self._value + self._most_to_come(number)
        if most < value - self._value_grain:
            return False
        return most > value + self._value_grain or self._spent < spent - self._cost_grain

    def _most_to_come(self, number: int) -> float:
        """Upper bound: all money of all years in one purse, every job at its first-year worth, one of them
        cut in parts."""
        purse, most = sum(self._left) + self._cost_grain * len(self._left), 0.0
        for job in (self._jobs[one] for one in self._by_density if one >= number):
            if job.cost <= purse:
                purse -= job.cost
                most += job.value
            else:
                return most + job.value * purse / job.cost
        return most
