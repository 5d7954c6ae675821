"""How much may still be hung: solved forwards at the answer, exactly the governing limit is met."""

from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plumbtrue.mechanics.batten import Batten, Line, Load, PointLoad, SpreadLoad, scaled
from plumbtrue.mechanics.brick_stack import Brick
from plumbtrue.mechanics.capacity import (
    TIPS,
    Capacity,
    greatest_load,
    greatest_point_load_anywhere,
    greatest_point_loads,
    greatest_uniform_load,
    telling_places,
)
from plumbtrue.mechanics.limits import (
    BendingLimit,
    Limit,
    SagLimit,
    TensionLimit,
    TotalLimit,
    counterweight_limit,
    heaviest_stack,
)
from plumbtrue.mechanics.reactions import Levelled, Reactions, solve
from plumbtrue.mechanics.refusal import Refused

PIPE = Batten(12.0, 25800.0, 40.0)
LINES = [Line(at, stiffness=5e4 + 2e3 * at) for at in (0.3, 3.1, 6.0, 8.9, 11.7)]
LINE = TensionLimit("lift lines", (1000.0, 1000.0, 900.0, 1000.0, 1000.0))
BLOCK = TensionLimit("loft blocks", (1200.0,) * 5)
ARBOR = TotalLimit("arbor", 3900.0)
PIPE_BENDS = BendingLimit("bending of the pipe", 650.0)
SAG = SagLimit("sag", 1 / 180)
EVERY: list[Limit] = [LINE, BLOCK, ARBOR, PIPE_BENDS, SAG]
HUNG: list[Load] = [PointLoad(4.2, 150.0), SpreadLoad.uniform(8.0, 11.0, 200.0)]


def use(limit: Limit, answer: Reactions) -> float:
    """Share of a limit in use, from a forward solve."""
    bending = answer.bending()
    match limit:
        case TensionLimit(_, by_line):
            return max(
                float(pull) / most
                for pull, most in zip(answer.tensions, by_line, strict=True)
                if most is not None
            )
        case TotalLimit(_, weight):
            return answer.weight / weight
        case BendingLimit(_, moment):
            return abs(bending.greatest_moment.value) / moment
        case SagLimit(_, share):
            return max(span.share_of_span for span in bending.span_sags) / share


def forward(load: Load, levelled: Levelled = "bare", hung: list[Load] = HUNG) -> Reactions:
    answer = solve(PIPE, LINES, [*hung, load], levelled=levelled)
    assert isinstance(answer, Reactions)
    return answer


def known(found: Capacity | Refused) -> Capacity:
    assert isinstance(found, Capacity)
    return found


@pytest.mark.parametrize("at", telling_places(PIPE, LINES, per_span=3))
@pytest.mark.parametrize("levelled", ["bare", "loaded"])
def test_at_the_greatest_single_load_the_governing_limit_is_just_met(at: float, levelled: Levelled) -> None:
    found = known(greatest_load(PIPE, LINES, PointLoad(at, 1.0), EVERY, hung=HUNG, levelled=levelled))
    answer = forward(PointLoad(at, found.greatest), levelled)
    uses = {limit.name: use(limit, answer) for limit in EVERY}
    assert uses[found.governs.name] == pytest.approx(1.0, abs=1e-6)
    assert max(uses.values()) <= 1 + 1e-6


@pytest.mark.parametrize("limit", EVERY, ids=lambda limit: limit.name)
def test_each_limit_by_itself_is_just_met_by_a_uniform_load(limit: Limit) -> None:
    found = known(greatest_uniform_load(PIPE, LINES, [limit], hung=HUNG))
    answer = forward(SpreadLoad.uniform(0.0, 12.0, found.greatest))
    assert found.governs.name == limit.name
    assert use(limit, answer) == pytest.approx(1.0, abs=1e-6)


@given(st.floats(0.05, 11.9), st.floats(0.2, 4.0), st.floats(150.0, 900.0), st.floats(150.0, 700.0))
@settings(deadline=None, max_examples=60)
def test_no_lesser_load_passes_a_limit_and_the_answer_meets_one(
    start: float, length: float, line: float, moment: float
) -> None:
    limits: list[Limit] = [TensionLimit("lines", (line,) * 5), BendingLimit("pipe", moment)]
    shape = SpreadLoad.uniform(min(start, 12.0 - length), min(start, 12.0 - length) + length, 1.0)
    found = known(greatest_load(PIPE, LINES, shape, limits))
    uses = [
        max(use(limit, forward(scaled(shape, found.greatest * share), hung=[])) for limit in limits)
        for share in (0.0, 0.25, 0.5, 0.75, 0.999, 1.0)
    ]
    assert max(uses) <= 1 + 1e-6
    assert uses[-1] == pytest.approx(1.0, abs=1e-6)


def test_a_slack_line_on_the_way_does_not_hide_the_limit() -> None:
    """A load between lines 1 and 2 slackens line 3; the shares of its neighbours change from there on."""
    limits: list[Limit] = [TensionLimit("lines", (4000.0,) * 5)]
    found = known(greatest_load(PIPE, LINES, PointLoad(1.7, 1.0), limits))
    answer = forward(PointLoad(1.7, found.greatest), hung=[])
    assert answer.slack
    assert use(limits[0], answer) == pytest.approx(1.0, abs=1e-6)


def test_a_simple_span_takes_what_the_handbook_says() -> None:
    """Simple beam (AISC Manual, from memory): P = 4 M / L and 48 EI d / L^3 at mid span; w L = 8 M / L spread
    out.
    """
    pipe, ends = Batten(4.0, 25000.0), [Line(0.0), Line(4.0)]
    limits: list[Limit] = [BendingLimit("bending", 600.0), SagLimit("sag", 1 / 180)]
    single = known(greatest_load(pipe, ends, PointLoad(2.0, 1.0), limits))
    loads = {reached.name: reached.load for reached in single.by_limit}
    assert loads["bending"] == pytest.approx(600.0)
    assert loads["sag"] == pytest.approx(48 * 25000.0 * (4.0 / 180) / 4.0**3)
    assert loads[TIPS] == inf
    spread = known(greatest_uniform_load(pipe, ends, limits[:1]))
    assert spread.greatest == pytest.approx(1200.0)


def test_a_light_pipe_tips_before_any_limit_is_met() -> None:
    """Moments about line 1 by hand: 20 N/m x 6 m x (3 - 2) m = 120 N m, 2 m from it at the tip: 60 N."""
    found = known(
        greatest_load(
            Batten(6.0, 9000.0, 20.0), [Line(2.0), Line(5.0)], PointLoad(0.0, 1.0), [TotalLimit("arbor", 9e3)]
        )
    )
    assert found.governs.name == TIPS
    assert found.greatest == pytest.approx(60.0, rel=1e-6)


def test_over_a_rigid_line_a_load_neither_bends_nor_sags_the_pipe() -> None:
    limits: list[Limit] = [PIPE_BENDS, SAG, TotalLimit("arbor", 5000.0)]
    rigid = [Line(line.at) for line in LINES]
    found = known(greatest_load(PIPE, rigid, PointLoad(6.0, 1.0), limits))
    assert {reached.name: reached.load for reached in found.by_limit} == {
        "arbor": pytest.approx(5000.0 - 480.0),
        "bending of the pipe": inf,
        "sag": inf,
        TIPS: inf,
    }


def test_what_is_over_already_takes_nothing_more_and_says_so() -> None:
    found = known(greatest_load(PIPE, LINES, PointLoad(4.0, 1.0), [TotalLimit("arbor", 400.0), SAG]))
    assert found.greatest == 0.0
    assert found.governs.over_already


def test_the_line_or_the_place_that_meets_the_limit_is_named() -> None:
    line = known(greatest_load(PIPE, LINES, PointLoad(6.0, 1.0), [LINE])).governs
    place = known(greatest_load(PIPE, LINES, PointLoad(4.5, 1.0), [PIPE_BENDS])).governs
    assert (line.line, line.at) == (2, None)
    assert place.at == pytest.approx(4.5)


def test_a_line_of_unknown_strength_leaves_the_answer_open() -> None:
    open_ended = TensionLimit("lift lines", (1000.0, None, 900.0, 1000.0, 1000.0))
    assert not known(greatest_load(PIPE, LINES, PointLoad(6.0, 1.0), [open_ended])).complete
    assert known(greatest_load(PIPE, LINES, PointLoad(6.0, 1.0), [LINE])).complete


def test_the_place_that_takes_least_takes_no_more_than_any_other() -> None:
    worst = greatest_point_load_anywhere(PIPE, LINES, EVERY)
    chart = greatest_point_loads(PIPE, LINES, [0.1 * i for i in range(121)], EVERY)
    assert not isinstance(worst, Refused)
    assert not isinstance(chart, Refused)
    assert worst[1].greatest <= min(capacity.greatest for _, capacity in chart) * 1.001


def test_a_pipe_that_is_over_a_limit_already_takes_nothing_anywhere() -> None:
    worst = greatest_point_load_anywhere(PIPE, LINES, [TotalLimit("arbor", 1.0)])
    assert not isinstance(worst, Refused)
    assert worst[1].greatest == 0.0
    assert worst[1].governs.over_already


def test_bricks_that_find_room_limit_what_hangs() -> None:
    """By hand: 0.66 m holds 26 bricks of 25 mm; (400 + 26 x 100) / 2 = 1500 N on the lines of a
    double-purchase set.
    """
    room = heaviest_stack([Brick("full", weight=100.0, thickness=0.025, available=40)], clear_height=0.66)
    limit = counterweight_limit("bricks that fit", room, arbor=400.0, purchase=2, not_on_lines=60.0)
    assert limit == TotalLimit("bricks that fit", 1440.0)
    found = known(greatest_uniform_load(PIPE, LINES, [limit]))
    assert found.greatest == pytest.approx(1440.0 - 480.0)


def test_a_batten_that_does_not_hang_by_itself_takes_nothing() -> None:
    found = greatest_load(Batten(6.0, 9000.0, 20.0), [Line(0.0), Line(2.0)], PointLoad(1.0, 1.0), [SAG])
    assert isinstance(found, Refused)
    assert found.standing == "unstable"


def test_a_lone_line_is_held_against_its_own_limit() -> None:
    found = greatest_load(
        Batten(2.0, 9000.0, 20.0), [Line(1.0)], PointLoad(1.0, 1.0), [TotalLimit("line", 900.0)]
    )
    assert isinstance(found, Refused)


@pytest.mark.parametrize(
    "limits",
    [
        pytest.param([], id="none"),
        pytest.param([TensionLimit("lines", (1.0, 2.0))], id="for another number of lines"),
        pytest.param([BendingLimit("pipe", 0.0)], id="of nothing"),
        pytest.param([TotalLimit("arbor", -1.0)], id="below nothing"),
    ],
)
def test_limits_that_cannot_be_held_against_the_batten_are_the_callers_mistake(limits: list[Limit]) -> None:
    with pytest.raises(ValueError):
        greatest_load(PIPE, LINES, PointLoad(6.0, 1.0), limits)
