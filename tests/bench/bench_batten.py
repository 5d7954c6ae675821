"""How long one batten takes, beside a general-purpose beam library on the same beam in the same run.

    python tests/bench/bench_batten.py

Prints a line for each question with its time; the first line has the ratio to PyCBA, whose reactions must
agree before any time is taken. Figures of one machine mean little; the ratio means something.
"""

from collections.abc import Callable
from itertools import pairwise, product
from time import perf_counter

import numpy as np
import pycba

from plumbtrue.mechanics.batten import Batten, Line, Load, PointLoad, SpreadLoad
from plumbtrue.mechanics.capacity import greatest_uniform_load
from plumbtrue.mechanics.held import hold
from plumbtrue.mechanics.limits import BendingLimit, Limit, SagLimit, TensionLimit
from plumbtrue.mechanics.reactions import Reactions, solve, solve_held
from plumbtrue.mechanics.tight import settle
from plumbtrue.mechanics.trim import trim_range

FIVE = Batten(12.8, 25800.0, 39.7), (0.3, 3.35, 6.4, 9.45, 12.5)
TWELVE = Batten(22.9, 25800.0, 39.7), (0.5, 2.5, 4.6, 6.5, 8.6, 10.7, 12.7, 14.5, 16.6, 18.7, 20.7, 22.5)
LOADS: list[Load] = [
    PointLoad(1.5, 380.0),
    PointLoad(7.6, 530.0),
    SpreadLoad.uniform(5.1, 10.2, 710.0),
]


def by_library(batten: Batten, places: tuple[float, ...]) -> list[float]:
    """Reactions by PyCBA: nodes at the ends, the lines and the edges of loads."""
    nodes = sorted({0.0, batten.length, *places, 1.5, 7.6, 5.1, 10.2})
    restraint = [0.0] * (2 * len(nodes))
    for at in places:
        restraint[2 * nodes.index(at)] = -1
    matrix: list[list[float]] = []
    for member, (left, right) in enumerate(pairwise(nodes), 1):
        spread = 710.0 / 5.1 if left >= 5.1 and right <= 10.2 else 0.0
        matrix.append([member, 1, batten.weight_per_length + spread])
    matrix += [[nodes.index(1.5) + 1, 2, 380.0, 0.0], [nodes.index(7.6) + 1, 2, 530.0, 0.0]]
    beam = pycba.BeamAnalysis(np.diff(nodes), batten.EI, np.array(restraint), matrix)
    beam.analyze(2)
    return [float(pull) for pull in beam.beam_results.R]


def by_us(batten: Batten, places: tuple[float, ...]) -> list[float]:
    """The same, with the sensitivity to trim besides."""
    answer = solve(batten, [Line(at) for at in places], LOADS, tension_only=False)
    assert isinstance(answer, Reactions)
    assert answer.sensitivity is not None
    return [float(tension) for tension in answer.tensions]


def seconds(run: Callable[[], object], least: float = 0.5) -> float:
    """Best of the runs that fit into half a second, at least three."""
    times: list[float] = []
    while len(times) < 3 or sum(times) < least:
        start = perf_counter()
        run()
        times.append(perf_counter() - start)
    return min(times)


def corners(batten: Batten, places: tuple[float, ...]) -> int:
    """All 4,096 corners of twelve weights known to a fifth, with lines that only pull."""
    held = hold(batten, [Line(at, stiffness=6e4) for at in places])
    units = held.effects([PointLoad(batten.length * (i + 0.5) / 12, 1.0) for i in range(12)])
    weights = 400.0 * (1 + 0.2 * np.array(list(product((-1.0, 1.0), repeat=12))))
    settled = settle(held, held.own_effect + weights @ units, np.zeros(len(places)), tension_only=True)
    assert settled.hangs.all()
    return len(settled.tensions)


def beside_the_library(name: str, batten: Batten, places: tuple[float, ...]) -> None:
    """Both ways agree, and then: the batten from nothing, and one more state of loads on it."""
    theirs, ours = by_library(batten, places), by_us(batten, places)
    assert np.allclose(theirs, ours, rtol=1e-6, atol=1e-6 * max(theirs)), (theirs, ours)
    held = hold(batten, [Line(at) for at in places])
    library = seconds(lambda: by_library(batten, places))
    once = seconds(lambda: by_us(batten, places))
    again = seconds(lambda: solve_held(held, LOADS, tension_only=False))
    many = seconds(lambda: corners(batten, places)) / 4096
    print(f"{name}: PyCBA {library * 1e3:.2f} ms")
    print(f"  from nothing, with sensitivity to trim: {once * 1e3:.2f} ms, {library / once:.1f} times faster")
    print(f"  further loads on the same batten: {again * 1e3:.2f} ms, {library / again:.1f} times faster")
    print(
        f"  one of many states, lines that only pull: {many * 1e3:.4f} ms, {library / many:.0f} times faster"
    )


def main() -> None:
    beside_the_library("five lines", *FIVE)
    beside_the_library("twelve lines", *TWELVE)
    batten, places = FIVE
    lines = [Line(at, stiffness=6e4) for at in places]
    limits: list[Limit] = [
        TensionLimit("lines", (1000.0,) * 5),
        BendingLimit("pipe", 660.0),
        SagLimit("sag", 1 / 180),
    ]
    answer = solve(batten, lines, LOADS)
    assert isinstance(answer, Reactions)
    questions: dict[str, Callable[[], object]] = {
        "five lines that only pull": lambda: solve(batten, lines, LOADS),
        "moments, sag and deflection of it": lambda: (
            answer.bending().greatest_moment,
            answer.bending().span_sags,
        ),
        "worst trim within 12 mm, slack lines": lambda: trim_range(batten, lines, [], 0.012),
        "greatest uniform load by three limits": lambda: greatest_uniform_load(batten, lines, limits),
        "4,096 corners on twelve lines": lambda: corners(*TWELVE),
    }
    for question, run in questions.items():
        print(f"{question}: {seconds(run) * 1e3:.2f} ms")


if __name__ == "__main__":
    main()
