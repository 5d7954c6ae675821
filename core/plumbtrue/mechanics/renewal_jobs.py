"""Jobs of a renewal programme, and how jobs that share a lift or a set of ropes become one."""

from collections.abc import Mapping, Sequence

from plumbtrue.mechanics.refusal import must_not_be_negative
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class Job:
    """A piece of renewal work. `after` names jobs that must be done before, or in the same year; jobs with
    the same `together` are one."""

    name: str
    cost: float
    value: float
    by_year: int | None = None
    """Last year in which it may be done; a set with a finding that keeps it out of service has one."""
    after: tuple[str, ...] = ()
    together: str | None = None
    need: float = 1.0
    """How much the house needs the set back, where not all work with a deadline fits."""


@unchanging
class Joined:
    """Jobs with those that belong together made one, and where each name went (counted from 0)."""

    jobs: tuple[Job, ...]
    index_of: Mapping[str, int]


def join(jobs: Sequence[Job]) -> Joined:
    """Checks a list of jobs and makes one of those that belong together.

    Raises:
        ValueError: a name twice, a name in `after` that is no job, a cost, worth or need below 0, or a
        deadline before year 1.
    """
    groups: dict[str, list[Job]] = {}
    for job in jobs:
        must_not_be_negative(cost=job.cost, value=job.value, need=job.need)
        if job.by_year is not None and job.by_year < 1:
            raise ValueError(f"years count from 1, but {job.name} is due by year {job.by_year}")
        groups.setdefault(
            f"together {job.together}" if job.together is not None else f"job {job.name}", []
        ).append(job)
    index_of: dict[str, int] = {}
    for number, members in enumerate(groups.values()):
        for job in members:
            if job.name in index_of:
                raise ValueError(f"two jobs are called {job.name}")
            index_of[job.name] = number
    unknown = sorted({name for job in jobs for name in job.after} - set(index_of))
    if unknown:
        raise ValueError(f"no job is called {', '.join(unknown)}")
    names = [members[0].name for members in groups.values()]
    return Joined(
        tuple(_one(number, members, index_of, names) for number, members in enumerate(groups.values())),
        index_of,
    )


def _one(number: int, members: Sequence[Job], index_of: Mapping[str, int], names: Sequence[str]) -> Job:
    before = sorted({index_of[name] for job in members for name in job.after} - {number})
    return Job(
        name=names[number],
        cost=sum(job.cost for job in members),
        value=sum(job.value for job in members),
        by_year=min((job.by_year for job in members if job.by_year is not None), default=None),
        after=tuple(names[one] for one in before),
        need=sum(job.need for job in members),
    )
