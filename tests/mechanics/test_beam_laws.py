"""Laws that hold for every batten, whatever its numbers: equilibrium, mirror images, superposition, ropes
that cannot push.
"""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from plumbtrue.mechanics.batten import (
    Batten,
    Line,
    Load,
    Piece,
    PointLoad,
    Splice,
    SpreadLoad,
    own_weight,
    scaled,
)
from plumbtrue.mechanics.reactions import Levelled, Reactions, solve
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.trim import sensitivity

Floats = NDArray[np.float64]
Hung = tuple[Batten, tuple[Line, ...], tuple[Load, ...]]


def metres(least: float, most: float) -> st.SearchStrategy[float]:
    return st.floats(least, most, allow_subnormal=False)


@st.composite
def hung_battens(
    draw: st.DrawFn, *, elastic: bool | None = None, offsets: bool = True, splices: bool = False
) -> Hung:
    """Pipes as they hang in a theatre: 2 to 12 lines, 0.6 to 4 m apart, with any loads on them."""
    spans = draw(st.lists(metres(0.6, 4.0), min_size=1, max_size=11))
    places = np.cumsum([draw(metres(0.0, 1.5)), *spans])
    length = float(places[-1]) + draw(metres(0.0, 1.5))
    EI = draw(st.floats(5e3, 1e5))
    stretch = draw(st.booleans()) if elastic is None else elastic
    lines = tuple(
        Line(
            at=float(at),
            stiffness=draw(st.floats(2e4, 2e5)) if stretch else None,
            offset=draw(metres(-0.01, 0.01)) if offsets else 0.0,
        )
        for at in places
    )
    middle = length / 2
    pieces = (Piece(0.8 * middle, 1.1 * middle, 2.5 * EI),) if draw(st.booleans()) else ()
    splice = (Splice(0.45 * length, draw(st.sampled_from([0.0, EI, 50 * EI]))),) if splices else ()
    batten = Batten(length, EI, draw(st.floats(10.0, 100.0)), pieces, splice)
    return batten, lines, tuple(draw(st.lists(loads_on(length), max_size=4)))


@st.composite
def loads_on(draw: st.DrawFn, length: float) -> Load:
    start, share = draw(metres(0.0, 0.8)), draw(metres(0.05, 0.2))
    match draw(st.sampled_from(["point", "uniform", "linear"])):
        case "point":
            return PointLoad(start * length, draw(st.floats(1.0, 3000.0)))
        case "uniform":
            return SpreadLoad.uniform(start * length, (start + share) * length, draw(st.floats(1.0, 3000.0)))
        case _:
            q = st.floats(0.0, 500.0)
            return SpreadLoad(start * length, (start + share) * length, draw(q), draw(q))


def at_rest(hung: Hung, *, tension_only: bool = False, levelled: Levelled = "slack") -> Reactions:
    answer = solve(*hung, tension_only=tension_only, levelled=levelled)
    assume(not isinstance(answer, Refused))
    assert isinstance(answer, Reactions)
    return answer


def near(expected: Floats, scale: float) -> object:
    return pytest.approx(expected.tolist(), abs=1e-9 * scale + 1e-9)


def size(answer: Reactions) -> float:
    """What rounding is measured against: the load, and the pulls that offsets of a stiff batten set against
    each other.
    """
    found = answer.sensitivity
    inner = 0.0 if found is None else float(np.abs(found).max()) * float(np.abs(answer.offsets).max())
    return answer.weight + float(np.abs(answer.tensions).max()) + inner


@given(hung_battens(splices=True), st.booleans())
@settings(deadline=None)
def test_tensions_balance_the_loads_and_their_moments(hung: Hung, tension_only: bool) -> None:
    answer = at_rest(hung, tension_only=tension_only)
    batten, lines, loads = hung
    everything = [*own_weight(batten), *loads]
    scale = answer.weight + float(np.abs(answer.tensions).max())
    assert answer.tensions.sum() == pytest.approx(sum(load.weight for load in everything), abs=1e-9 * scale)
    moments = sum(load.moment_about_zero for load in everything)
    places = np.array([line.at for line in lines])
    assert answer.tensions @ places == pytest.approx(moments, abs=1e-9 * scale * batten.length)


@given(hung_battens(splices=True), st.booleans())
@settings(deadline=None)
def test_a_rope_pulls_or_hangs_slack_and_never_both(hung: Hung, levelled: bool) -> None:
    answer = at_rest(hung, tension_only=True, levelled="bare" if levelled else "slack")
    must_pull_or_hang_slack(answer)


def must_pull_or_hang_slack(answer: Reactions) -> None:
    """No line pushes, no pipe hangs below the end of a slack line, and a line that pulls meets the pipe."""
    clear = answer.levels - (answer.offsets - answer.tensions * answer.held.compliances)
    tight = np.array(answer.tight)
    sag = answer.weight * answer.held.level_scale
    assert (answer.tensions >= -1e-8 * size(answer)).all()
    assert (answer.tensions[~tight] == 0).all()
    assert np.abs(clear[tight]).max() <= 1e-9 * sag + 1e-9
    assert (clear[~tight] >= -1e-8 * sag - 1e-9).all()


@given(hung_battens(), st.booleans())
@settings(deadline=None)
def test_a_mirrored_batten_pulls_mirrored(hung: Hung, tension_only: bool) -> None:
    batten, lines, loads = hung
    L = batten.length
    answer = at_rest(hung, tension_only=tension_only)
    mirrored = at_rest(
        (
            replace(batten, pieces=tuple(Piece(L - p.end, L - p.start, p.EI) for p in batten.pieces)),
            tuple(replace(line, at=L - line.at) for line in lines),
            tuple(mirror(load, L) for load in loads),
        ),
        tension_only=tension_only,
    )
    assert mirrored.tensions.tolist() == pytest.approx(answer.tensions.tolist(), abs=1e-7 * size(answer))


def mirror(load: Load, length: float) -> Load:
    if isinstance(load, PointLoad):
        return PointLoad(length - load.at, load.weight)
    return SpreadLoad(length - load.end, length - load.start, load.at_end, load.at_start)


@given(hung_battens(offsets=False, splices=True), st.floats(0.1, 10.0))
@settings(deadline=None)
def test_tensions_scale_with_the_loads_while_no_line_is_out_of_level(hung: Hung, factor: float) -> None:
    batten, lines, loads = hung
    answer = at_rest(hung)
    heavier = replace(batten, weight_per_length=batten.weight_per_length * factor)
    scaled_up = at_rest((heavier, lines, tuple(scaled(load, factor) for load in loads)))
    assert scaled_up.tensions.tolist() == near(factor * answer.tensions, factor * size(answer))


@given(hung_battens(offsets=False, splices=True))
@settings(deadline=None)
def test_loads_add_up_while_no_line_goes_slack(hung: Hung) -> None:
    batten, lines, loads = hung
    whole = at_rest(hung)
    weightless = replace(batten, weight_per_length=0.0)
    parts = [at_rest((weightless, lines, (load,))).tensions for load in (*own_weight(batten), *loads)]
    assert whole.tensions.tolist() == near(np.sum(parts, axis=0), size(whole))


@given(hung_battens(splices=True))
@settings(deadline=None)
def test_sensitivity_is_symmetric_and_blind_to_shift_and_tilt(hung: Hung) -> None:
    batten, lines, _ = hung
    S = sensitivity(replace(batten, splices=()), lines)
    assert not isinstance(S, Refused)
    largest = max(float(np.abs(S).max()), 1.0)
    places = np.array([line.at for line in lines])
    assert np.abs(S - S.T).max() <= 1e-12 * largest
    assert np.abs(S.sum(axis=1)).max() <= 1e-8 * largest
    assert np.abs(S @ places).max() <= 1e-8 * largest * batten.length
    assert np.linalg.eigvalsh(S).min() >= -1e-8 * largest


@given(hung_battens(elastic=True), st.floats(1.5, 20.0))
@settings(deadline=None)
def test_softer_lines_and_softer_pipe_make_trim_matter_less(hung: Hung, factor: float) -> None:
    batten, lines, _ = hung
    S = sensitivity(batten, lines)
    softer_lines = sensitivity(
        batten, [replace(line, stiffness=line.stiffness / factor) for line in lines if line.stiffness]
    )
    softer_pipe = sensitivity(
        Batten(
            batten.length,
            batten.EI / factor,
            pieces=tuple(replace(p, EI=p.EI / factor) for p in batten.pieces),
        ),
        lines,
    )
    assert not isinstance(S, Refused)
    assert not isinstance(softer_lines, Refused)
    assert not isinstance(softer_pipe, Refused)
    slack = 1e-8 * float(np.abs(S).max()) + 1e-9
    assert (np.diag(softer_lines) <= np.diag(S) + slack).all()
    assert (np.diag(softer_pipe) <= np.diag(S) + slack).all()


@given(hung_battens(elastic=True, offsets=False), st.floats(1.1, 3.0))
@settings(deadline=None)
def test_longer_spans_make_trim_matter_less(hung: Hung, factor: float) -> None:
    batten, lines, _ = hung
    S = sensitivity(batten, lines)
    wider = sensitivity(
        Batten(
            batten.length * factor,
            batten.EI,
            pieces=tuple(Piece(p.start * factor, p.end * factor, p.EI) for p in batten.pieces),
        ),
        [replace(line, at=line.at * factor) for line in lines],
    )
    assert not isinstance(S, Refused)
    assert not isinstance(wider, Refused)
    assert (np.diag(wider) <= np.diag(S) + 1e-8 * float(np.abs(S).max()) + 1e-9).all()


@given(hung_battens(offsets=False))
@settings(deadline=None)
def test_a_pipe_without_stiffness_feels_no_trim(hung: Hung) -> None:
    batten, lines, _ = hung
    limp = replace(
        batten, EI=1e-9 * batten.EI, pieces=tuple(replace(p, EI=1e-9 * p.EI) for p in batten.pieces)
    )
    S, none = sensitivity(batten, lines), sensitivity(limp, lines)
    assert not isinstance(S, Refused)
    assert not isinstance(none, Refused)
    # Lines that stretch soften a stiff pipe, so its own figures are no measure of the limp one's.
    stiffest = max(batten.EI, *(p.EI for p in batten.pieces), 0.0) if batten.pieces else batten.EI
    shortest = min(b.at - a.at for a, b in pairwise(lines))
    assert np.abs(none).max() <= 1e-9 * 100 * stiffest / shortest**3 + 1e-12 * np.abs(S).max()


@given(hung_battens(elastic=False, offsets=False))
@settings(deadline=None)
def test_very_stiff_lines_pull_like_rigid_ones(hung: Hung) -> None:
    batten, lines, loads = hung
    stiff = tuple(replace(line, stiffness=1e13) for line in lines)
    rigid = at_rest(hung)
    assert at_rest((batten, stiff, loads)).tensions.tolist() == pytest.approx(
        rigid.tensions.tolist(), abs=1e-5 * size(rigid)
    )


@given(hung_battens(elastic=False, offsets=False))
@settings(deadline=None)
def test_very_soft_equal_lines_share_like_springs_under_a_stiff_bar(hung: Hung) -> None:
    """Closed form: equal springs under a rigid bar share as `W/n + M x_i / sum x^2` about their middle."""
    batten, lines, loads = hung
    soft = tuple(replace(line, stiffness=1e-5) for line in lines)
    answer = at_rest((batten, soft, loads))
    places = np.array([line.at for line in lines])
    about = places - places.mean()
    moment = (
        sum(load.moment_about_zero for load in (*own_weight(batten), *loads)) - answer.weight * places.mean()
    )
    expected = answer.weight / len(lines) + moment * about / (about @ about)
    assert answer.tensions.tolist() == pytest.approx(expected.tolist(), abs=1e-5 * size(answer))


@given(hung_battens())
@settings(deadline=None)
def test_one_way_and_two_way_agree_where_no_line_pushes(hung: Hung) -> None:
    two_way = at_rest(hung)
    assume(bool((two_way.tensions > 1e-6 * size(two_way)).all()))
    assert at_rest(hung, tension_only=True).tensions.tolist() == near(two_way.tensions, size(two_way))


@given(hung_battens(), st.integers(0, 11), metres(0.0005, 0.02))
@settings(deadline=None)
def test_shortening_a_line_never_lowers_its_pull(hung: Hung, which: int, shorter: float) -> None:
    batten, lines, loads = hung
    line = which % len(lines)
    before = at_rest(hung, tension_only=True)
    drawn_up = replace(lines[line], offset=lines[line].offset + shorter)
    after = at_rest((batten, (*lines[:line], drawn_up, *lines[line + 1 :]), loads), tension_only=True)
    assert after.tensions[line] >= before.tensions[line] - 1e-7 * max(size(before), size(after))


@given(hung_battens(splices=True), st.booleans())
@settings(deadline=None)
def test_the_bent_pipe_passes_through_every_tight_line_and_closes_at_its_free_end(
    hung: Hung, tension_only: bool
) -> None:
    """Deflection comes from integrating the moments, levels from the flexibility: two ways, one pipe."""
    answer = at_rest(hung, tension_only=tension_only)
    bending = answer.bending()
    found = [bending.deflection_at(line.at) for line in hung[1]]
    sag = answer.weight * answer.held.level_scale
    assert found == pytest.approx(answer.levels.tolist(), abs=1e-9 * sag + 1e-9)
    assert abs(bending.moment_at(hung[0].length)) <= 1e-9 * size(answer) * hung[0].length


@given(hung_battens(splices=True), st.booleans())
@settings(deadline=None)
def test_no_place_bends_more_than_the_greatest_moment_nor_more_than_is_quickly_told(
    hung: Hung, tension_only: bool
) -> None:
    """Held against 400 places along the pipe."""
    bending = at_rest(hung, tension_only=tension_only).bending()
    sampled = max(abs(bending.moment_at(float(at))) for at in np.linspace(0.0, hung[0].length, 400))
    greatest = abs(bending.greatest_moment.value)
    assert sampled <= greatest * (1 + 1e-9)
    assert bending.moment_at_most >= greatest * (1 - 1e-9)


@given(hung_battens(splices=True), st.booleans())
@settings(deadline=None)
def test_no_place_sags_more_than_the_span_is_said_to_nor_more_than_is_quickly_told(
    hung: Hung, tension_only: bool
) -> None:
    """Held against 60 places in each span."""
    bending = at_rest(hung, tension_only=tension_only).bending()
    shares = [0.0]
    for span, told in enumerate(bending.span_sags):
        places = np.linspace(told.start, told.end, 60)[1:-1]
        sampled = max(bending.below_straight_line(span, float(at)) for at in places)
        assert sampled <= told.sag + 1e-9 * hung[0].length
        shares.append(told.share_of_span)
    assert bending.share_of_span_at_most >= max(shares) * (1 - 1e-9)


@pytest.mark.parametrize("seed", range(40))
def test_lines_close_together_and_far_out_of_level_still_pull_or_hang_slack(seed: int) -> None:
    """Stiff battens with lines 5 cm apart and 10 cm out of level, where letting go of one line after the
    other goes round in a circle; whatever comes out must meet pull, gap and balance, which only one state
    does.
    """
    rng = np.random.default_rng(seed)
    for _ in range(8):
        places = np.cumsum([rng.uniform(0, 2), *10 ** rng.uniform(-1.3, 0.7, rng.integers(1, 9))])
        length = float(places[-1] + rng.uniform(0, 2))
        batten = Batten(length, float(10 ** rng.uniform(3, 7)), float(rng.uniform(1, 100)))
        stiffness = [None if rng.random() < 0.5 else float(10 ** rng.uniform(4, 6)) for _ in places]
        offsets = rng.normal(size=len(places)) * 10 ** rng.uniform(-4, -1)
        lines = [Line(float(at), k, float(d)) for at, k, d in zip(places, stiffness, offsets, strict=True)]
        load = PointLoad(float(rng.uniform(0, length)), 800.0)
        answer = solve(batten, lines, [load], levelled="slack")
        everything: list[Load] = [*own_weight(batten), load]
        weight = sum(one.weight for one in everything)
        middle = sum(one.moment_about_zero for one in everything) / weight
        assert isinstance(answer, Reactions) == (places[0] < middle < places[-1])
        if isinstance(answer, Reactions):
            must_pull_or_hang_slack(answer)


@given(hung=hung_battens())
def test_a_piece_as_stiff_as_the_rest_changes_nothing(hung: Hung) -> None:
    """Plain pipe is worked out in closed form, pipe in pieces by singularity functions: two ways to one answer."""
    batten, lines, loads = hung
    plain = replace(batten, pieces=())
    in_pieces = replace(batten, pieces=(Piece(0.3 * batten.length, 0.6 * batten.length, batten.EI),))
    one, other = (solve(each, lines, loads, tension_only=False) for each in (plain, in_pieces))
    assert isinstance(one, Reactions)
    assert isinstance(other, Reactions)
    scale = max(1.0, float(np.abs(one.tensions).max()))
    assert one.tensions == pytest.approx(other.tensions, abs=1e-6 * scale)
    assert sum(one.tensions) == pytest.approx(one.weight, abs=1e-9 * scale * 12)
