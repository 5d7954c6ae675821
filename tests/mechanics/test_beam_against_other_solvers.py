"""The batten on its lines against general-purpose beam and frame solvers: PyCBA, PyNiteFEA and anastruct.

Each library is fed the same battens in its own way: spans with loads on them, or a chain of short members.
Some battens come from a fixed seed, others are looked for by hypothesis.
"""

from collections.abc import Callable
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from numpy.typing import NDArray
from tests.mechanics.battens_on_a_grid import Hung, battens_on_a_grid

from plumbtrue.mechanics.batten import Batten, Line, Load, Piece, PointLoad, Splice, SpreadLoad, own_weight
from plumbtrue.mechanics.reactions import Reactions, solve

Floats = NDArray[np.float64]
E, AREA = 200e9, 5.2e-4


def battens(
    count: int, *, elastic: bool, stepped: bool = False
) -> list[tuple[Batten, list[Line], list[Load]]]:
    """Battens of 2 to 12 lines, unevenly spaced, with overhangs, offsets and all kinds of loads."""
    rng = np.random.default_rng(20260101)
    found = []
    for _ in range(count):
        n = int(rng.integers(2, 13))
        places = np.cumsum(np.append(rng.uniform(0.1, 1.5), rng.uniform(1.2, 3.6, n - 1)))
        length = float(places[-1] + rng.uniform(0.1, 1.5))
        EI = float(rng.uniform(2e4, 8e4))
        start = float(rng.uniform(0.2, 0.4) * length)
        pieces = (Piece(start, float(start + 0.2 * length), 2 * EI),) if stepped else ()
        batten = Batten(length, EI, float(rng.uniform(20, 60)), pieces)
        stiffness = [float(rng.uniform(2e4, 1e5)) if elastic else None for _ in places]
        lines = [
            Line(float(at), k, float(rng.normal(0, 0.004))) for at, k in zip(places, stiffness, strict=True)
        ]
        found.append((batten, lines, random_loads(rng, length)))
    return found


def random_loads(rng: np.random.Generator, length: float) -> list[Load]:
    loads: list[Load] = [
        PointLoad(float(rng.uniform(0, length)), float(rng.uniform(50, 900))) for _ in range(3)
    ]
    start, end = np.sort(rng.uniform(0, length, 2))
    loads.append(SpreadLoad.uniform(float(start), float(end), float(rng.uniform(100, 2000))))
    loads.append(
        SpreadLoad(
            float(0.3 * start), float(0.9 * end), float(rng.uniform(0, 150)), float(rng.uniform(0, 150))
        )
    )
    return loads


def breakpoints(batten: Batten, lines: list[Line], loads: list[Load]) -> list[float]:
    places = [0.0, batten.length, *(line.at for line in lines), *(splice.at for splice in batten.splices)]
    for piece in batten.pieces:
        places += piece.start, piece.end
    for load in loads:
        places += [load.at] if isinstance(load, PointLoad) else [load.start, load.end]
    return sorted(set(places))


def intensity(loads: list[Load], at: float) -> float:
    """Weight per length of all spread loads inside a member, at one of its ends taken from inside."""
    spread = [load for load in loads if isinstance(load, SpreadLoad) and load.start <= at <= load.end]
    return sum(
        load.at_start + (load.at_end - load.at_start) * (at - load.start) / (load.end - load.start)
        for load in spread
    )


def inside(left: float, right: float) -> tuple[float, float]:
    """The ends of a member, a hair inside, so that the edge of a load belongs to one side only."""
    hair = 1e-12 * (right - left)
    return left + hair, right - hair


def stiffness_at(batten: Batten, at: float) -> float:
    return next((piece.EI for piece in batten.pieces if piece.start < at < piece.end), batten.EI)


def beam_in_pycba(
    batten: Batten, lines: list[Line], loads: list[Load], *, steps: int = 2
) -> tuple[list[float], Any]:
    """PyCBA: a member between any two breakpoints, springs or settlements at the lines; nodes and the analysed
    beam."""
    import pycba

    nodes = breakpoints(batten, lines, loads)
    restraint, displacement = [0.0] * (2 * len(nodes)), [None] * (2 * len(nodes))
    elastic = lines[0].stiffness is not None
    for line in lines:
        dof = 2 * nodes.index(line.at)
        restraint[dof] = line.stiffness if line.stiffness is not None else -1
        if not elastic:
            displacement[dof] = line.offset  # type: ignore[call-overload]  # None marks an unknown displacement
    matrix: list[list[float]] = []
    for member, (left, right) in enumerate(pairwise(nodes), 1):
        start, end = (intensity(loads, at) for at in inside(left, right))
        matrix.append([member, 5, start, end])
    for load in loads:
        if isinstance(load, PointLoad):
            member = min(nodes.index(load.at), len(nodes) - 2) + 1
            matrix.append([member, 2, load.weight, load.at - nodes[member - 1]])
    EI = [stiffness_at(batten, (left + right) / 2) for left, right in pairwise(nodes)]
    beam = pycba.BeamAnalysis(np.diff(nodes), np.array(EI), np.array(restraint), matrix, D=displacement)
    beam.analyze(steps)
    return nodes, beam


def by_pycba(batten: Batten, lines: list[Line], loads: list[Load]) -> Floats:
    """Pulls of the lines by PyCBA."""
    nodes, beam = beam_in_pycba(batten, lines, loads)
    if lines[0].stiffness is None:
        return np.array(beam.beam_results.R)
    return np.array(
        [-(line.stiffness or 0) * beam.beam_results.D[2 * nodes.index(line.at)] for line in lines]
    )


def by_pynite(batten: Batten, lines: list[Line], loads: list[Load], *, only_pull: bool = False) -> Floats:
    """PyNiteFEA: a chain of frame members; that library needs trapezoidal loads cut at every node."""
    from Pynite import FEModel3D

    nodes = breakpoints(batten, lines, loads)
    model = FEModel3D()
    model.add_material("steel", E, 0.4 * E, 0.3, 0.0)
    for number, at in enumerate(nodes):
        model.add_node(f"N{number}", at, 0, 0)
        model.def_support(f"N{number}", True, False, True, True, True, False)
    for number, (left, right) in enumerate(pairwise(nodes)):
        inertia = stiffness_at(batten, (left + right) / 2) / E
        model.add_section(f"S{number}", AREA, inertia, inertia, inertia)
        model.add_member(f"M{number}", f"N{number}", f"N{number + 1}", "steel", f"S{number}")
        if any(splice.at == right for splice in batten.splices):
            model.def_releases(f"M{number}", Rzj=True)
        start, end = (intensity(loads, at) for at in inside(left, right))
        model.add_member_dist_load(f"M{number}", "FY", -start, -end)
    for load in loads:
        if isinstance(load, PointLoad):
            model.add_node_load(f"N{nodes.index(load.at)}", "FY", -load.weight)
    for line in lines:
        name = f"N{nodes.index(line.at)}"
        if line.stiffness is not None:
            model.def_support_spring(name, "DY", line.stiffness, "-" if only_pull else None)
        else:
            model.def_support(name, True, True, True, True, True, False)
            model.def_node_disp(name, "DY", line.offset)
    if only_pull:
        model.analyze(check_stability=False, max_iter=60)
    else:
        model.analyze_linear(check_stability=False)
    return np.array([model.nodes[f"N{nodes.index(line.at)}"].RxnFY["Combo 1"] for line in lines])


def by_anastruct(batten: Batten, lines: list[Line], loads: list[Load]) -> Floats:
    """anastruct: plane frame members, rollers at the lines."""
    from anastruct.fem.system import SystemElements

    nodes = breakpoints(batten, lines, loads)
    frame = SystemElements()
    for left, right in pairwise(nodes):
        frame.add_element([[left, 0], [right, 0]], EA=E * AREA, EI=stiffness_at(batten, (left + right) / 2))
    for number, (left, right) in enumerate(pairwise(nodes), 1):
        start, end = (intensity(loads, at) for at in inside(left, right))
        if start or end:
            frame.q_load(q=[-start, -end], element_id=number, direction="y")
    for load in loads:
        if isinstance(load, PointLoad):
            frame.point_load(nodes.index(load.at) + 1, Fy=-load.weight)
    first = nodes.index(lines[0].at) + 1
    frame.add_support_hinged(first)
    for line in lines[1:]:
        frame.add_support_roll(nodes.index(line.at) + 1)
    frame.solve()
    return np.array([-frame.reaction_forces[nodes.index(line.at) + 1].Fy for line in lines])


def two_way(batten: Batten, lines: list[Line], loads: list[Load]) -> Reactions:
    answer = solve(batten, lines, loads, tension_only=False, levelled="slack")
    assert isinstance(answer, Reactions)
    return answer


def without_offsets(lines: list[Line]) -> list[Line]:
    return [Line(line.at, line.stiffness) for line in lines]


def all_loads(batten: Batten, loads: list[Load]) -> list[Load]:
    return [*own_weight(batten), *loads]


RIGID = battens(12, elastic=False)
STEPPED = battens(6, elastic=False, stepped=True)
ELASTIC = battens(12, elastic=True, stepped=True)
Case = tuple[Batten, list[Line], list[Load]]


def close(expected: Floats, share: float = 1e-6) -> object:
    """To a millionth of the greatest, as these libraries agree among themselves."""
    return pytest.approx(expected.tolist(), rel=share, abs=share * float(np.abs(expected).max()))


@pytest.mark.parametrize("case", RIGID + STEPPED)
@pytest.mark.parametrize("solver", [by_pycba, by_pynite])
def test_rigid_lines_out_of_level_pull_as_other_solvers_say(
    case: Case, solver: Callable[[Batten, list[Line], list[Load]], Floats]
) -> None:
    batten, lines, loads = case
    expected = solver(batten, lines, all_loads(batten, loads))
    assert two_way(batten, lines, loads).tensions.tolist() == close(expected)


@pytest.mark.parametrize("case", RIGID[:6] + STEPPED[:3])
def test_level_rigid_lines_pull_as_a_plane_frame_program_says(case: Case) -> None:
    batten, lines, loads = case
    level = without_offsets(lines)
    expected = by_anastruct(batten, level, all_loads(batten, loads))
    # Its own sum of reactions misses the load by up to three millionths where a member is very short.
    assert two_way(batten, level, loads).tensions.tolist() == close(expected, 1e-5)


@pytest.mark.parametrize("case", ELASTIC)
@pytest.mark.parametrize("solver", [by_pycba, by_pynite])
def test_lines_that_stretch_pull_as_other_solvers_say(
    case: Case, solver: Callable[[Batten, list[Line], list[Load]], Floats]
) -> None:
    batten, lines, loads = case
    level = without_offsets(lines)
    expected = solver(batten, level, all_loads(batten, loads))
    assert two_way(batten, level, loads).tensions.tolist() == close(expected)


@pytest.mark.parametrize("case", ELASTIC)
def test_lines_that_only_pull_agree_with_one_way_springs(case: Case) -> None:
    """A heavy load in one span makes some of them go slack; the springs of PyNiteFEA let go likewise."""
    batten, lines, loads = case
    level = without_offsets(lines)
    heavy = [*loads, PointLoad((level[0].at + level[1].at) / 2, 6000.0)]
    expected = by_pynite(batten, level, all_loads(batten, heavy), only_pull=True)
    answer = solve(batten, level, heavy, levelled="slack")
    assert isinstance(answer, Reactions)
    assert answer.tensions.tolist() == close(expected)


@pytest.mark.parametrize("case", [case for case in RIGID if len(case[1]) > 3][:6])
def test_hinged_splices_share_as_released_members_do(case: Case) -> None:
    batten, lines, loads = case
    hinge = Splice((2 * lines[1].at + lines[2].at) / 3)
    spliced = Batten(batten.length, batten.EI, batten.weight_per_length, splices=(hinge,))
    expected = by_pynite(spliced, lines, all_loads(batten, loads))
    assert two_way(spliced, lines, loads).tensions.tolist() == close(expected)


@pytest.mark.parametrize("case", RIGID[:6])
def test_moments_shears_and_deflections_agree_along_the_pipe(case: Case) -> None:
    """PyCBA gives the bending of every member at its ends and between; ours must pass through all of it."""
    import pycba

    batten, lines, _ = case
    level = without_offsets(lines)
    load = PointLoad(0.4 * level[0].at + 0.6 * level[1].at, 700.0)
    nodes = breakpoints(batten, level, [load])
    restraint = [0.0] * (2 * len(nodes))
    for line in level:
        restraint[2 * nodes.index(line.at)] = -1
    member = nodes.index(load.at) + 1
    matrix: list[list[float]] = [[each, 1, batten.weight_per_length] for each in range(1, len(nodes))]
    matrix.append([member, 2, load.weight, 0.0])
    beam = pycba.BeamAnalysis(np.diff(nodes), batten.EI, np.array(restraint), matrix)
    beam.analyze(1000)
    theirs = beam.beam_results.results
    bending = two_way(batten, level, [load]).bending()
    inner = [i for i, x in enumerate(theirs.x) if min(abs(x - at) for at in nodes) > 1e-6]
    ours = [bending.moment_at(theirs.x[i]) for i in inner]
    assert ours == pytest.approx([theirs.M[i] for i in inner], abs=1e-6 * max(map(abs, ours)))
    # Their deflection is summed up in 1000 steps a member, ours is exact.
    sags = [bending.deflection_at(theirs.x[i]) for i in inner]
    assert sags == pytest.approx([theirs.D[i] for i in inner], abs=3e-5 * max(map(abs, sags)))


@given(battens_on_a_grid(elastic=False))
@settings(deadline=None, max_examples=60)
def test_any_rigid_lines_out_of_level_pull_and_bend_as_in_a_beam_library(hung: Hung) -> None:
    batten, lines, loads = hung[0], list(hung[1]), list(hung[2])
    must_agree_in_pulls_and_moments(batten, lines, loads)


@given(battens_on_a_grid(elastic=True, offsets=False))
@settings(deadline=None, max_examples=60)
def test_any_lines_that_stretch_pull_and_bend_as_in_a_beam_library(hung: Hung) -> None:
    batten, lines, loads = hung[0], list(hung[1]), list(hung[2])
    must_agree_in_pulls_and_moments(batten, lines, loads)


def must_agree_in_pulls_and_moments(batten: Batten, lines: list[Line], loads: list[Load]) -> None:
    everything = all_loads(batten, loads)
    nodes, beam = beam_in_pycba(batten, lines, everything, steps=10)
    answer = two_way(batten, lines, loads)
    if lines[0].stiffness is None:
        pulls = np.array(beam.beam_results.R)
    else:
        drops = [beam.beam_results.D[2 * nodes.index(line.at)] for line in lines]
        pulls = np.array([-(line.stiffness or 0.0) * drop for line, drop in zip(lines, drops, strict=True)])
    assert answer.tensions.tolist() == close(pulls)
    theirs, bending = beam.beam_results.results, answer.bending()
    inner = [i for i, x in enumerate(theirs.x) if min(abs(x - at) for at in nodes) > 1e-6]
    ours = [bending.moment_at(theirs.x[i]) for i in inner]
    # Where the pipe hangs level and bare of load, moments are what is left of large ones.
    largest = float(np.abs(pulls).max()) * batten.length * 1e-3
    assert ours == pytest.approx(
        [theirs.M[i] for i in inner], abs=1e-6 * max(largest, *map(abs, ours), *map(abs, theirs.M))
    )


@given(battens_on_a_grid(elastic=False, splices=("hinge",), most_lines=7))
@settings(deadline=None, max_examples=25)
def test_any_hinged_splice_shares_as_released_members_do(hung: Hung) -> None:
    batten, lines, loads = hung[0], list(hung[1]), list(hung[2])
    expected = by_pynite(batten, lines, all_loads(batten, loads))
    assert two_way(batten, lines, loads).tensions.tolist() == close(expected)
