"""A show may hang from a fixed point of the house: what the house has on record of it decides.

Each point's pull is worked out by hand: a dead-hung weight as it is; a leg of a bridle with apex midway between two
points alike carries half the weight down, and half times run over rise sideways (plane statics).
"""

import pytest
from tests.practice.defects.judged_cases import practice_book
from tests.show.laid_shows import ON, POUND

from plumbtrue.audit.auditing import audit
from plumbtrue.documents.place import CannotRead
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import Choice
from plumbtrue.rig.finding_things import thing_at
from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot_text, read_rig_text
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.vocabulary_loading import load_vocabulary
from plumbtrue.rules.result import Result

HOUSE = """\
plumbtrue: rig/1
house:
  name: invented hall
  batten_zero: stage-right
  beams: [{key: loft, what: loft-beam, underside: 60'-0", capacity: 3000 lb, other_loads: none}]
  points:
    - {key: P1, across: SR 5'-0", height: 60'-0", rating: RATING, rating_sideways: 200 lb,
       anchor: {type: beam-clamp, holds_to: beam, beam: loft}}
    - {key: P2, across: SL 5'-0", height: 60'-0", rating: 1000 lb, rating_sideways: 200 lb,
       anchor: {type: beam-clamp, holds_to: beam, beam: loft}}
line_sets: []
"""

PLOT = """\
plumbtrue: plot/1
plot:
  show: invented show
  items: [{key: "1", name: bell, on: ON, weight: 300 lb +/- 0 lb, weight_basis: weighed}]
  bridles:
    - {key: B, apex_height: 50'-0", apex_across: CL,
       legs: [{point: P1, horizontal: 5'-0", rise: 10'-0"}, {point: P2, horizontal: 5'-0", rise: 10'-0"}]}
"""


def laid(on: str, rating: str = "1000 lb") -> Rig:
    words = load_vocabulary()
    house = read_rig_text(HOUSE.replace("RATING", rating), "house.yaml", words)
    return lay(house, read_plot_text(PLOT.replace("ON", on), "plot.yaml", words))


def pounds(rig: Rig, path: str, name: str) -> float:
    thing = thing_at(rig, path)
    assert thing is not None
    value = Facts(rig, ON).answer(thing, name).value
    assert isinstance(value, Bounds), value
    assert value.is_exact
    return value.low / POUND


def test_a_piece_hangs_dead_from_a_point_of_the_house() -> None:
    rig = laid("P1")
    assert pounds(rig, "point P1", "force_down") == pytest.approx(300)
    assert pounds(rig, "point P2", "force_down") == pytest.approx(0)
    assert pounds(rig, "beam loft", "plot_load") == pytest.approx(300)


def test_a_bridle_goes_to_points_of_the_house() -> None:
    rig = laid("B")
    for point in ("point P1", "point P2"):
        assert pounds(rig, point, "force_down") == pytest.approx(150)
        assert pounds(rig, point, "force_sideways") == pytest.approx(75)
    assert pounds(rig, "beam loft", "plot_load") == pytest.approx(300)


@pytest.mark.parametrize(
    ("rating", "result"),
    [("376 lb", Result.MET), ("373 lb", Result.FINDING), ("none", Result.UNDETERMINED)],
)
def test_its_rating_decides_and_the_piece_is_told(rating: str, result: Result) -> None:
    """300 lb, times the 1.25 that the rule allows for starts and stops."""
    found = audit(laid("P1", rating), practice_book(), ON)
    (outcome,) = (
        one
        for one in found.outcomes
        if one.rule == "structure-accepts-the-pull" and one.thing.path == "point P1"
    )
    assert outcome.result is result
    if result is Result.FINDING:
        assert "375 lb down" in outcome.message
        assert "rated for 373 lb down" in outcome.message
    assert found.show is not None
    assert outcome in found.show.of_item["1"]


def test_a_point_of_the_house_that_no_show_uses_is_not_judged_for_it() -> None:
    found = audit(laid("P1"), practice_book(), ON)
    results = {
        one.result
        for one in found.outcomes
        if one.rule == "structure-accepts-the-pull" and one.thing.path == "point P2"
    }
    assert results <= {Result.NOT_APPLICABLE}


def test_a_point_that_nobody_has_is_named_with_those_there_are() -> None:
    with pytest.raises(CannotRead) as refusal:
        laid("P9")
    (problem,) = refusal.value.problems
    assert problem.where.line == 4
    assert "P9" in problem.what
    assert "P1" in problem.instead


def test_a_leg_that_goes_nobody_says_where_may_go_to_any_point() -> None:
    words = load_vocabulary()
    house = read_rig_text(HOUSE.replace("RATING", "1000 lb"), "house.yaml", words)
    plot = PLOT.replace("ON", "B").replace("{point: P1, horizontal", "{horizontal")
    rig = lay(house, read_plot_text(plot, "plot.yaml", words))
    for point in ("point P1", "point P2"):
        thing = thing_at(rig, point)
        assert thing is not None
        for fact in ("force_down", "force_sideways"):
            assert "point" in {one.fact for one in Facts(rig, ON).answer(thing, fact).missing}
    results = {
        one.thing.path: one.result
        for one in audit(rig, practice_book(), ON).outcomes
        if one.rule == "structure-accepts-the-pull"
    }
    assert results == {"point P1": Result.UNDETERMINED, "point P2": Result.UNDETERMINED}


def test_a_piece_on_a_hoist_is_lifted_by_it_and_hangs_from_its_point() -> None:
    """What a hoist carries is its piece; its point carries body and chain too: 300 + 75 + 60 x 0.5 lb."""
    words = load_vocabulary()
    house = read_rig_text(HOUSE.replace("RATING", "1000 lb"), "house.yaml", words)
    hoist = "  hoists: [{key: H, hangs_on: P1, body_weight: 75 lb, chain_weight: 0.5 lb/ft, chain_length: 60'-0\"}]\n"
    rig = lay(house, read_plot_text(PLOT.replace("ON", "H") + hoist, "plot.yaml", words))
    assert pounds(rig, "plot / hoist H", "load_share") == pytest.approx(300)
    assert pounds(rig, "point P1", "force_down") == pytest.approx(405)
    item = thing_at(rig, "plot / item 1")
    assert item is not None
    assert Facts(rig, ON).answer(item, "carried_by").value == Choice(frozenset({"point"}))
