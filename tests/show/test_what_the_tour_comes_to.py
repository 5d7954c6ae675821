"""The invented tour in both revisions, by the rules of the house on the day before load-in: everything of weight that a
head of flys found by hand beside the program, rule by rule and piece by piece with its figures, and nothing beyond it.

The figures were worked out beside the program (continuous beams on rigid supports, balance and stack by hand, plane
geometry). Where what is told here is more than that page had, a comment says why.
"""

from collections.abc import Iterable, Mapping
from datetime import date
from functools import cache
from typing import Final

import pytest
from tests.show.laid_shows import DEMO

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.house_check import check_house
from plumbtrue.audit.item_verdicts import ItemState, item_verdicts, whole_matters
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.facts.store import Facts
from plumbtrue.reporting.showing import show_of
from plumbtrue.rules.severity import Severity

STOP: Final = Severity.OUT_OF_SERVICE
FIRST: Final = Severity.BEFORE_NEXT_USE
LATER: Final = Severity.ADVISORY


@cache
def tour(revision: str) -> Audit:
    return check_house(
        DEMO / "house.yaml", on=date(2026, 4, 13), third_party=False, plot=DEMO / f"tour-{revision}.yaml"
    )


def outcomes_of(revision: str, item: str) -> Iterable[Outcome]:
    show = tour(revision).show
    assert show is not None
    return show.of_item[item]


def urgent(revision: str, result: Result) -> dict[str, set[tuple[Severity, str]]]:
    """What of weight came out so, by piece."""
    show = tour(revision).show
    assert show is not None
    found = {
        key: {(one.severity, one.rule) for one in its if one.counts and one.result is result}
        for key, its in show.of_item.items()
    }
    graded = {key: {one for one in its if one[0] in (STOP, FIRST)} for key, its in found.items()}
    return {key: its for key, its in graded.items() if its}


def advisory(revision: str) -> dict[str, set[str]]:
    show = tour(revision).show
    assert show is not None
    found = {
        key: {one.rule for one in its if one.result is Result.FINDING and one.severity not in (STOP, FIRST)}
        for key, its in show.of_item.items()
    }
    return {key: its for key, its in found.items() if its}


def whole(revision: str) -> tuple[set[tuple[Severity, str]], set[str]]:
    """What was found on the whole, and what cannot be told of it."""
    stops, changes, still_open = whole_matters(tour(revision))
    return {(one.severity, one.rule) for one in (*stops, *changes)}, {one.rule for one in still_open}


FOUND_A: Final = {
    "03": {(FIRST, "heavy-or-tight-item-is-weighed")},
    "06": {(FIRST, "set-clear-of-before-use-work")},
    "07": {(FIRST, "set-clear-of-before-use-work")},
    "09": {(FIRST, "set-clear-of-before-use-work")},
    "11": {
        (STOP, "set-is-not-out-of-service"),
        (STOP, "batten-bending-near-yield"),
        (STOP, "single-point-piece-has-no-second-line"),
        (FIRST, "point-load-within-house-limit"),
    },
    "16": {(FIRST, "set-clear-of-before-use-work")},
    "21": {(FIRST, "heavy-or-tight-item-is-weighed")},
    "26": {(STOP, "set-is-not-out-of-service")},
}
FOUND_B: Final = {
    "04": {(FIRST, "electric-clears-fabric-and-scenery"), (FIRST, "moving-piece-clears-its-neighbours")},
    # The house's own rule H-1 speaks where the practice pack would say flown-piece-hides: one fact, told once.
    "06": {(FIRST, "flown-out-piece-ends-low"), (FIRST, "set-clear-of-before-use-work")},
    "07": {(FIRST, "set-clear-of-before-use-work")},
    "09": {(FIRST, "set-clear-of-before-use-work")},
    "11": {
        (STOP, "batten-bending-near-yield"),
        (STOP, "single-point-piece-has-no-second-line"),
        (FIRST, "point-load-within-house-limit"),
        (FIRST, "electric-clears-fabric-and-scenery"),
    },
    "13": {(FIRST, "hand-cue-speed-is-reasonable"), (FIRST, "cue-pull-is-within-an-operator")},
    "14": {(FIRST, "cable-feed-does-not-unbalance-the-set"), (FIRST, "cable-is-in-the-weight")},
    "16": {(FIRST, "set-clear-of-before-use-work")},
    "21": {
        (STOP, "arbor-carries-the-weight"),
        (FIRST, "stack-fits-the-arbor"),
        (FIRST, "batten-load-within-house-limit"),
        (FIRST, "point-load-within-house-limit"),
    },
    "22": {(STOP, "no-person-is-flown-by-this-plot")},
    "25": {
        (FIRST, "bridle-legs-are-steep-enough"),
        (FIRST, "bridle-included-angle"),
        (FIRST, "sprinkler-spray-is-clear"),
    },
    "27": {
        (STOP, "set-is-not-out-of-service"),
        (STOP, "single-point-piece-has-no-second-line"),
        (FIRST, "moving-piece-clears-its-neighbours"),
    },
    "28": {(STOP, "fire-curtain-path-is-clear")},
}


@pytest.mark.parametrize(("revision", "expected"), [("a", FOUND_A), ("b", FOUND_B)])
def test_what_is_found_and_nothing_beyond_it(
    revision: str, expected: Mapping[str, set[tuple[Severity, str]]]
) -> None:
    assert urgent(revision, Result.FINDING) == expected
    assert not urgent(revision, Result.ERROR)


OF_SET_16: Final = {
    # Nobody gauged the sleeves of set 16: whether its lines hold what the scrim pulls hangs on it, too.
    (STOP, "set-is-not-out-of-service"),
    (STOP, "line-load-over-a-fifth-of-its-strength"),
    (FIRST, "set-clear-of-before-use-work"),
    (FIRST, "line-load-within-its-weakest-part"),
    (FIRST, "worst-line-within-capacity-when-out-of-level"),
    (FIRST, "dynamic-load-within-the-line"),
}
OF_SET_29: Final = {
    # Without its mark the chain of set 29 has no rating: by load-path-over-capacity a question as urgent as a stop.
    (STOP, "set-is-not-out-of-service"),
    (STOP, "line-load-over-a-part"),
    (FIRST, "set-clear-of-before-use-work"),
    (FIRST, "worst-line-within-capacity-when-out-of-level"),
}
OPEN_IN_BOTH: Final = {
    # What the bolted chain of set 11 carries nobody can say; the work there comes first.
    "09": {
        (STOP, "set-is-not-out-of-service"),
        (STOP, "line-load-over-a-part"),
        (FIRST, "worst-line-within-capacity-when-out-of-level"),
    },
    "10": {(STOP, "set-is-not-out-of-service"), (STOP, "arbor-carries-the-weight")},
    "12": OF_SET_16,
    "24": OF_SET_29,
    "25": {(STOP, "structure-accepts-the-pull")},
}
UNDER_THE_STOPS_OF_A: Final = {
    # Rope of 1962 and blocks without a plate: nobody knows what they carry, whatever hangs on them.
    "11": {
        (STOP, "line-load-over-a-fifth-of-its-strength"),
        (STOP, "line-load-within-its-loft-block"),
        (FIRST, "line-load-within-its-weakest-part"),
        (FIRST, "worst-line-within-capacity-when-out-of-level"),
        (FIRST, "dynamic-load-within-the-line"),
    },
    # Manila of no tag on a wooden batten: no strength, no posted load.
    "26": {
        (STOP, "line-load-over-a-fifth-of-its-strength"),
        (FIRST, "line-load-within-its-weakest-part"),
        (FIRST, "worst-line-within-capacity-when-out-of-level"),
        (FIRST, "batten-load-within-house-limit"),
        (FIRST, "point-load-within-house-limit"),
        (FIRST, "cantilever-end-far-over-limit"),
        (FIRST, "hemp-set-is-fit-for-the-load"),
    },
}


def test_what_cannot_be_told_and_nothing_beyond_it() -> None:
    flame = {"13": {(FIRST, "flame-evidence-for-hung-fabric-and-scenery")}}
    assert urgent("a", Result.UNDETERMINED) == OPEN_IN_BOTH | flame | UNDER_THE_STOPS_OF_A
    assert urgent("b", Result.UNDETERMINED) == OPEN_IN_BOTH


def test_what_concerns_the_whole() -> None:
    found, still_open = whole("a")
    assert found == {
        (FIRST, "plot-was-made-for-this-house"),
        (FIRST, "inspection-runs-past-closing"),
        (FIRST, "fire-curtain-drop-overdue"),
        (FIRST, "unknowns-about-the-show-are-asked"),
    }
    # Nobody wrote whether anybody accepted revision A: who did, and whether anything was changed after that.
    assert still_open == {
        "show-rigging-accepted-by-a-named-person",
        "changed-since-accepted",
        "house-changed-since-accepted",
        "enough-bricks-within-reach",
    }
    found, still_open = whole("b")
    assert found == {
        (FIRST, "inspection-runs-past-closing"),
        (FIRST, "fire-curtain-drop-overdue"),
        (FIRST, "show-rigging-accepted-by-a-named-person"),
        (FIRST, "enough-bricks-within-reach"),
        (FIRST, "unknowns-about-the-show-are-asked"),
        (FIRST, "changed-since-accepted"),
    }
    assert not still_open


def test_what_is_good_to_know() -> None:
    """The tip of set 1 is not among it: 0.37 in at the weights as stated, 0.40 allowed. Within 2 % of the weight of
    house stock and the doubt about wall and stiffness of the pipe it may be 0.404: open, and no more than advisory.
    """
    sag = {"batten-deflection-within-limit", "cantilever-end-within-limit"}
    assert advisory("a") == {
        "11": sag,
        "19": {"utilisation-close-to-limit"},
        "21": {"utilisation-close-to-limit"},
        "25": {"bridle-leg-flatter-than-45", "bridle-opens-wide"},
    }
    assert advisory("b") == {
        "06": {"large-cloth-survives-a-draught"},
        "11": sag,
        "19": {"utilisation-close-to-limit"},
    }


FIGURES: Final = [
    # revision, piece or "whole", rule, what the sentence holds
    ("a", "whole", "plot-was-made-for-this-house", ["set 17", "15'-11\"", "15'-8\""]),
    ("a", "whole", "inspection-runs-past-closing", ["365 days", "2026-04-20", "2025-04-10"]),
    ("a", "whole", "fire-curtain-drop-overdue", ["2025-12-05", "90 days"]),
    ("a", "03", "heavy-or-tight-item-is-weighed", ["310 lb (basis: drawn)", "341 lb", "300 lb"]),
    ("a", "06", "set-clear-of-before-use-work", ["batten-can-reach-blocks", "turnbuckle-not-secured"]),
    ("a", "07", "set-clear-of-before-use-work", ["batten-can-reach-blocks", "turnbuckle-not-secured"]),
    ("a", "09", "set-clear-of-before-use-work", ["chain-shortened-by-knot-or-bolt"]),
    ("a", "16", "set-clear-of-before-use-work", ["keeper-bolt-missing"]),
    ("a", "11", "set-is-not-out-of-service", ["rope-corrosion-pitted"]),
    ("a", "11", "batten-deflection-within-limit", ["2.481 to 2.771 in"]),  # 2.53 nominal, 0.93 allowed
    ("a", "11", "point-load-within-house-limit", ["set 14", "between lines 60 lb"]),
    ("a", "11", "single-point-piece-has-no-second-line", ["one pick over cast"]),
    (
        "a",
        "19",
        "utilisation-close-to-limit",
        ["96.44 %"],
    ),  # 521 of the posted 540 lb; the arbor 1,300 of 1,350
    ("a", "21", "utilisation-close-to-limit", ["98.62 %"]),  # 572 of the posted 580 lb
    ("a", "25", "bridle-leg-flatter-than-45", ["39.8 deg"]),
    ("a", "25", "bridle-opens-wide", ["92.2 deg"]),
    ("a", "26", "set-is-not-out-of-service", ["fibre-rope-damaged"]),
    ("b", "04", "electric-clears-fabric-and-scenery", ["gap is 5 in", "Asked are 6 in"]),
    ("b", "04", "moving-piece-clears-its-neighbours", ["gap is 3 in", "Asked are 4 in"]),
    ("b", "06", "flown-out-piece-ends-low", ["29'-5\"", "30'-0\""]),
    ("b", "06", "large-cloth-survives-a-draught", ["3.084 to 3.21 in", "3 in"]),
    ("b", "11", "electric-clears-fabric-and-scenery", ["gap is 3 in"]),
    ("b", "13", "hand-cue-speed-is-reasonable", ["13 ft/s", "4 ft/s"]),
    ("b", "13", "cue-pull-is-within-an-operator", ["293 to 299 lb", "50 lb"]),
    ("b", "14", "cable-feed-does-not-unbalance-the-set", ["59 lb", "50 lb"]),
    ("b", "14", "cable-is-in-the-weight", ["60 lb stated", "120 lb"]),
    ("b", "21", "arbor-carries-the-weight", ["1391 to 1399 lb", "1350 lb", "103"]),
    (
        "b",
        "21",
        "stack-fits-the-arbor",
        ["50 brick-28", "8'-2\""],
    ),  # 100 in on rods of 97, the plates an inch
    ("b", "21", "batten-load-within-house-limit", ["610 to 614 lb", "580 lb"]),
    ("b", "21", "point-load-within-house-limit", ["between lines 150 lb"]),
    ("b", "22", "no-person-is-flown-by-this-plot", ["rides"]),
    ("b", "25", "bridle-legs-are-steep-enough", ["29.1 deg", "22.6 deg", "30 deg"]),
    ("b", "25", "bridle-included-angle", ["128.3 deg", "120 deg"]),
    ("b", "25", "sprinkler-spray-is-clear", ["0 in below", "1'-6\""]),
    ("b", "27", "set-is-not-out-of-service", ["lock-slips"]),
    ("b", "27", "single-point-piece-has-no-second-line", ["175 lb"]),
    ("b", "27", "moving-piece-clears-its-neighbours", ["-5 in", "-3 in"]),
    ("b", "28", "fire-curtain-path-is-clear", ["-4 in", "6 in"]),
    # 490 lb short at the weights as stated, 182 at the least by a count in whole bricks; the bounds of ours hold both.
    ("b", "whole", "enough-bricks-within-reach", ["11760 lb", "168 to 840 lb short"]),
    ("b", "whole", "show-rigging-accepted-by-a-named-person", ["revision B"]),
    ("b", "whole", "changed-since-accepted", ["Revision A", "changed since then: 9", "new: 2", "cut: 1"]),
]


@pytest.mark.parametrize(("revision", "item", "rule", "figures"), FIGURES)
def test_the_figures_of_a_finding(revision: str, item: str, rule: str, figures: list[str]) -> None:
    mine = tour(revision).outcomes if item == "whole" else outcomes_of(revision, item)
    said = " ".join(one.message for one in mine if one.rule == rule and one.result is Result.FINDING)
    assert [one for one in figures if one not in said] == []


NOT_IN_A: Final = [
    # pairs at exactly what is asked, and those that stay where they are
    *(
        ("moving-piece-clears-its-neighbours", f"plot / pair {pair}")
        for pair in ("07 and 08", "12 and 13", "16 and 17", "20 and 21")
    ),
    *(
        ("electric-clears-fabric-and-scenery", f"plot / pair {pair}")
        for pair in ("09 and 10", "13 and 14", "14 and 15", "18 and 19", "19 and 20")
    ),
    *(("static-neighbours-do-not-touch", f"plot / pair {pair}") for pair in ("01 and 02", "03 and 04")),
    ("splice-away-from-the-peak", "28 / batten / splice SR 15'-9\""),
    ("hand-cue-speed-is-reasonable", "plot / cue Q13"),
    ("cue-pull-is-within-an-operator", "plot / cue Q13"),
    ("cue-pull-is-heavy", "plot / cue Q13"),
    ("balance-holds-through-travel", "21"),
    ("balance-holds-through-travel", "26"),
    ("cable-feed-does-not-unbalance-the-set", "plot / item 14"),
    ("overhead-item-has-a-second-attachment", "plot / item 22"),
    ("single-point-piece-has-no-second-line", "plot / item 22"),
    ("fire-curtain-path-is-clear", "plot / item 01"),
    ("hoist-hangs-straight-and-does-not-park-alone", "plot / hoist H-1"),
    ("batten-load-within-house-limit", "26"),
    ("arbor-carries-the-weight", "26 / arbor"),
    ("stack-fits-the-arbor", "26 / arbor"),
    # From the foot at 54'-0" to 59'-10", and from 50'-6" to 58'-4": within reach of the bridges at 54 and 47 ft.
    ("stack-within-reach-of-the-loader", "12 / arbor"),
    ("stack-within-reach-of-the-loader", "24 / arbor"),
    ("set-clear-of-before-use-work", "plot / item 08"),
    ("set-clear-of-before-use-work", "plot / item 23"),
    ("set-is-not-out-of-service", "plot / item 08"),
    ("point-load-within-house-limit", "plot / item 17"),
    ("batten-bending-within-allowable", "1 / batten"),
    ("batten-bending-within-allowable", "28 / batten"),
    *(("line-stays-tight", f"{number} / line {line}") for number in ("1", "28") for line in range(1, 6)),
    ("large-cloth-survives-a-draught", "plot / item 12"),
    ("large-cloth-survives-a-draught", "plot / item 24"),
    ("sprinkler-spray-is-clear", "plot / item 12"),
]
NOT_IN_B: Final = [
    ("cantilever-end-within-limit", "3 / batten"),
    *(("line-stays-tight", f"3 / line {line}") for line in range(1, 6)),
    ("heavy-or-tight-item-is-weighed", "plot / item 03"),
    ("heavy-or-tight-item-is-weighed", "plot / item 21"),
    ("heavy-piece-without-ticket", "plot / item 03"),
    ("heavy-piece-without-ticket", "plot / item 21"),
    ("electric-clears-fabric-and-scenery", "plot / pair 27 and 19"),
    ("point-load-within-house-limit", "plot / item 27"),
    ("dynamic-load-within-the-line", "plot / cue Q13"),
    ("bridle-leg-within-its-rating", "plot / bridle B1 / bridle-leg"),
    ("bridle-leg-within-its-rating", "plot / bridle B1 / bridle-leg.2"),
    ("flame-evidence-for-hung-fabric-and-scenery", "plot / item 13"),
    ("plot-was-made-for-this-house", "plot"),
    ("arbor-carries-the-weight", "22 / arbor"),
]


@pytest.mark.parametrize(
    ("revision", "rule", "path"),
    [*(("a", *one) for one in NOT_IN_A), *(("b", *one) for one in NOT_IN_B)],
)
def test_what_must_not_be_found(revision: str, rule: str, path: str) -> None:
    """Each looked at and met; a rule that did not look would prove nothing. Excepted picks are the house's own note."""
    [one] = [one for one in tour(revision).outcomes if (one.rule, one.thing.path) == (rule, path)]
    by_note = (rule, path) == ("point-load-within-house-limit", "plot / item 17")
    assert one.result is (Result.NOT_APPLICABLE if by_note else Result.MET), one.message


@pytest.mark.parametrize("revision", ["a", "b"])
def test_nothing_is_slack_anywhere(revision: str) -> None:
    """Within a quarter of an inch of level every line stays tight on every set over 400 lb (rules 23 and 24)."""
    mine = [one for one in tour(revision).outcomes if one.rule.startswith("line-stays-tight")]
    assert {one.result for one in mine} == {Result.MET, Result.NOT_APPLICABLE}


def test_counted_gear_is_not_asked_to_be_weighed() -> None:
    for item in ("05", "10", "14", "19", "25"):
        mine = [one for one in outcomes_of("a", item) if one.rule == "heavy-or-tight-item-is-weighed"]
        assert {one.result for one in mine} <= {Result.NOT_APPLICABLE}


HEADLINE_A: Final = (
    "2 items do not hang (11 and 26). 6 items hang with changes (03, 06, 07, 09, 16 and 21). "
    "5 items cannot be told (10, 12, 13, 24 and 25), nor all of 09, which hangs with changes. "
    "On 13 items nothing that must be done first was found. "
    "4 matters of the whole to be put right before use and 3 matters of the whole cannot be told."
)
HEADLINE_B: Final = (
    "5 items do not hang (11, 21, 22, 27 and 28). 8 items hang with changes (04, 06, 07, 09, 13, 14, 16 and 25). "
    "3 items cannot be told (10, 12 and 24), nor all of 09 and 25, which hang with changes. "
    "On 11 items nothing that must be done first was found. "
    "5 matters of the whole to be put right before use. "
    "Against revision A, which was accepted, of the items 9 changed, 2 new and 1 cut: not accepted yet."
)


@pytest.mark.parametrize(("revision", "headline"), [("a", HEADLINE_A), ("b", HEADLINE_B)])
def test_the_headline(revision: str, headline: str) -> None:
    audit = tour(revision)
    show = show_of(audit, Facts(audit.rig, audit.on))
    assert show is not None
    assert show.sentence == headline


def test_what_stops_the_ship() -> None:
    """612 lb by the cell, good to 2 lb: 2 x (612 + 140.6) - 110 = 1,395 lb, and 1,350 on the plate."""
    [ship] = [one for one in item_verdicts(tour("b")) if one.key == "21"]
    assert ship.state is ItemState.DOES_NOT_HANG
    assert [one.rule for one in ship.stopped_by] == ["arbor-carries-the-weight"]


def test_nothing_about_the_moon_with_a_captain_in_it_is_met() -> None:
    """Whatever the load comes to: a figure that is in order would read as leave to lift a person."""
    results = {one.result for one in outcomes_of("b", "22")}
    assert results == {Result.FINDING, Result.NOT_APPLICABLE}
    load = "arbor-carries-the-weight"
    [arbor] = [one for one in tour("b").outcomes if (one.rule, one.thing.path) == (load, "27 / arbor")]
    assert arbor.result is Result.NOT_APPLICABLE
    assert "somebody is to be on it" in arbor.message
