"""Plots are read by the same machinery; their typical things may carry everything, and points may be like
each other.
"""

from collections.abc import Callable

import pytest
from tests.rig.conftest import Refused, described

from plumbtrue.quantities.values import Each, Spot
from plumbtrue.rig.reading import read_plot_text
from plumbtrue.rig.rig import Plot

ReadPlot = Callable[[str], Plot]

FOOT = 0.3048
"""[m], exactly (NIST SP 811)."""


def show(body: str, typical: str = "") -> str:
    return f"plumbtrue: plot/1\n{typical}plot:\n  show: The Tin Meridian\n{body}"


def test_two_places_are_written_as_one(plot: ReadPlot) -> None:
    short = plot(show('  items: [{key: "30", loads: [{at: both 6\'-0", weight: 50 lb}]}]'))
    long = plot(show('  items: [{key: "30", loads: [{at: [SL 6\'-0", SR 6\'-0"], weight: 50 lb}]}]'))
    assert described(short.plot) == described(long.plot)
    (load,) = (thing for thing in short.plot.below() if thing.kind.name == "load")
    places = load.facts["at"].value
    assert isinstance(places, Each)
    spots = [place for place in places.values if isinstance(place, Spot)]
    assert all(spot.from_centre for spot in spots)
    assert [spot.distance.low for spot in spots] == pytest.approx([6 * FOOT, -6 * FOOT])


def test_a_point_may_be_like_another_of_the_plot(plot: ReadPlot) -> None:
    points = """\
  points:
    - {key: P1, across: CL, height: 61'-0", rating: none}
    - {key: P2, like: P1, across: SL 9'-0"}
"""
    first, second = (thing for thing in plot(show(points)).plot.below() if thing.kind.name == "point")
    assert (second.key, second.facts["height"].value) == ("point P2", first.facts["height"].value)
    assert second.facts["across"].value != first.facts["across"].value


def test_a_typical_hoist_may_carry_its_inspection(plot: ReadPlot) -> None:
    typical = "typical: {half-ton: {kind: hoist, inspected: 2025-11-02, working_load_limit: 1000 lb}}\n"
    (hoist,) = (
        thing
        for thing in plot(show("  hoists: [{key: H-1, like: half-ton}]", typical)).plot.below()
        if thing.kind.name == "hoist"
    )
    assert hoist.facts["inspected"].text == "2025-11-02"


def test_things_of_the_house_stay_open_until_the_plot_is_laid_over_one(plot: ReadPlot) -> None:
    steps = "  steps: [{key: ship on, set: 26, arbor_change: {brick-28: 37}}]"
    open_references = plot(show(steps)).open_references
    assert {(one.kind, one.names) for one in open_references} == {
        ("line_set", ("26",)),
        ("brick", ("brick-28",)),
    }


def test_things_of_the_plot_are_found_in_it(plot: ReadPlot) -> None:
    cue = plot(show('  items: [{key: "13"}]\n  cues: [{key: Q12, item: "13"}]'))
    (found,) = (thing for thing in cue.plot.below() if thing.kind.name == "cue")
    item = found.references["item"]
    assert getattr(item, "key", None) == "item 13"


def test_mistakes_in_a_plot_are_told_where_they_stand(refused_as_marked: Refused) -> None:
    refused_as_marked(
        show(
            '  items:\n    - {key: "13", moves: ⟦word-not-permitted|fly⟧, weight: ⟦unit-missing|190⟧}\n'
            '    - {key: ⟦key-given-twice|"13"⟧}\n'
            "    - ⟦key-missing|name⟧: scrim\n"
            '  cues: [{key: Q12, item: ⟦reference-unknown|"31"⟧, ⟦fact-is-computed|peak⟧: 4 ft/s}]\n'
        ),
        read_plot_text,
    )
