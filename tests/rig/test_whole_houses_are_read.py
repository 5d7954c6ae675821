"""Whole sets and houses, as people write them."""

from collections import Counter
from collections.abc import Callable

import pytest
from tests.rig.houses import (
    DOUBLE_PURCHASE_SET,
    HEMP_SET,
    OLD_SET,
    PLOT,
    RIG,
    SOUND_SET,
    TYPICAL,
    WHOLE_HOUSE,
)

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import NONE, UNKNOWN, Choice, Spot
from plumbtrue.rig.finding_things import thing_at, things_of
from plumbtrue.rig.rig import Plot, Rig
from plumbtrue.rig.thing import Thing

ReadRig = Callable[[str], Rig]

FOOT = 0.3048
"""[m], exactly (NIST SP 811)."""

ENDS = """\
  end-f3: [{part: wire-rope-clips, count: 3}, thimble]
  end-w-shackled: [sleeve-copper, thimble-quarter, shackle, trim-chain]
  pipe-48: {like: pipe-42, length: 48'-0"}
"""


def at(rig: Rig, path: str) -> Thing:
    thing = thing_at(rig, path)
    assert thing is not None, f"there is no {path}"
    return thing


def test_a_sound_set_has_every_part_from_the_arbor_to_the_pipe(rig: ReadRig) -> None:
    house = rig(RIG + TYPICAL + SOUND_SET)
    line = at(house, "14 / line 3")
    held = [part.kind.word for role in ("upper", "blocks", "lower") for part in _tuple(line, role)]
    assert held == [
        "swage-sleeve",
        "thimble",
        "shackle",
        "loft-block",
        "swage-sleeve",
        "thimble",
        "trim-chain",
    ]
    assert line.facts["at"].value == Spot(False, Bounds.exactly(21 * FOOT))


def test_every_line_of_a_template_has_the_same_parts(rig: ReadRig) -> None:
    house = rig(RIG + TYPICAL + SOUND_SET)
    kinds = Counter(thing.kind.word for thing in house.house.below() if thing.enclosing("lift_line"))
    assert kinds["lift-line"] == kinds["rope"] == kinds["trim-chain"] == kinds["shackle"] == 5
    assert kinds["swage-sleeve"] == kinds["thimble"] == 10


def test_an_old_set_keeps_its_exceptions_to_the_lines_that_have_them(rig: ReadRig) -> None:
    house = rig(RIG + OLD_SET)
    corrosion = [rope.facts["corrosion"].value for rope in things_of(house, "rope")]
    assert corrosion == [Choice(frozenset({word})) for word in ("surface", "pitted", "pitted", "surface")]
    assert at(house, "14 / line 2 / rope").facts["corrosion"].note == "just above the hitch"
    assert at(house, "14 / batten").parts["splices"] is UNKNOWN


def test_a_knot_that_carries_comes_before_the_clips_on_its_tail(rig: ReadRig) -> None:
    parts = _tuple(at(rig(RIG + OLD_SET), "14 / line 1"), "lower")
    assert [part.key for part in parts] == ["knot", "wire-rope-clips"]


def test_a_double_purchase_set_stands_on_an_inspection_of_the_house(rig: ReadRig) -> None:
    house = rig(RIG + TYPICAL + ENDS + DOUBLE_PURCHASE_SET)
    seen = at(house, "22 / line 4 / lower / shackle").seen
    assert seen is not None
    assert (seen.key, seen.by, seen.on) == ("insp-2025", "inspector of a licensed firm", "2025-04-10")
    assert [end.facts["of"].text for end in _tuple(at(house, "22"), "dead_ends")] == [
        "lines 1 to 5",
        "hand line",
    ]


def test_a_hemp_set_is_held_at_its_rail(rig: ReadRig) -> None:
    house = rig(RIG + HEMP_SET)
    rail = at(house, "H1").references["rail"]
    assert isinstance(rail, Thing)
    assert rail.path == "pin rail"
    assert at(house, "H1 / belay 12").facts["figure_eights"].value == Bounds.exactly(4)


def test_a_house_holds_its_floors_bricks_and_papers(rig: ReadRig) -> None:
    house = rig(WHOLE_HOUSE)
    bay = at(house, "loading bridge upper / bay A")
    assert [weights.facts["count"].value for weights in _tuple(bay, "weights")] == [
        Bounds.exactly(40),
        Bounds.exactly(12),
    ]
    assert house.house.parts["events"] is NONE
    assert at(house, "brick-28").facts["weight"].value != at(house, "brick-14").facts["weight"].value


def test_a_plot_is_read_by_itself(plot: Callable[[str], Plot]) -> None:
    show = plot(PLOT)
    things = {
        thing.path if thing.parent is None else f"plot / {thing.path}": thing for thing in show.plot.below()
    }
    electric = things["plot / item 14"]
    assert len(_tuple(electric, "units")) == 2
    places = _tuple(electric, "units")[0].facts["at"].value
    assert len(getattr(places, "values", ())) == 10
    assert {one.kind for one in show.open_references} == {"line_set", "brick", "beam"}


@pytest.mark.parametrize(
    ("set_text", "lines"), [(SOUND_SET, 5), (OLD_SET, 4), (HEMP_SET, 3)], ids=["sound", "old", "hemp"]
)
def test_no_line_is_lost_or_made_up(rig: ReadRig, set_text: str, lines: int) -> None:
    house = rig(RIG + (TYPICAL if set_text is SOUND_SET else "") + set_text)
    assert len(things_of(house, "lift_line")) == lines


def _tuple(thing: Thing, role: str) -> tuple[Thing, ...]:
    held = thing.parts[role]
    assert isinstance(held, tuple)
    return held
