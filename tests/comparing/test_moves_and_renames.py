"""A thing that goes by another name, or hangs elsewhere, is the same thing still."""

from copy import deepcopy
from pathlib import Path

import pytest
from tests.comparing.houses import HOUSE, VOCABULARY, Plain, as_told, read, text_of, told
from tests.comparing.revisions import book
from tests.packs.packs_in_text import ON

from plumbtrue.audit.comparing import Revision, compare
from plumbtrue.audit.matching import match
from plumbtrue.audit.rig_changes import one_by_one, rig_changes
from plumbtrue.reporting.comparison_rows import changed_rows
from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot_text, read_rig
from plumbtrue.rig.rig import Rig

POUND = 4.4482216152605
"""[N], exactly (NIST SP 811: 0.45359237 kg times 9.80665 m/s2)."""

HOUSE_READ = read(HOUSE)


def changed(edit: str, **changes: str) -> Plain:
    """The house with facts of one set changed."""
    document = deepcopy(HOUSE)
    next(one for one in document["line_sets"] if one["number"] == edit).update(changes)
    return document


def test_two_sets_that_take_each_others_number_are_told_by_their_former_keys() -> None:
    document = deepcopy(HOUSE)
    first, second, _ = document["line_sets"]
    first["number"], first["formerly"] = "5", ["3"]
    second["number"], second["formerly"] = "3", ["5"]
    found = told(HOUSE_READ, read(document))
    assert [(one.deed.value, one.said_before, one.said_after) for one in found] == [("swapped", "3", "5")]
    assert [(one.deed.value, one.said_before, one.said_after) for one in one_by_one(found)] == [
        ("renamed", "3", "5"),
        ("renamed", "5", "3"),
    ]


def test_two_sets_that_take_each_others_number_are_told_by_what_is_on_them() -> None:
    """Everything that was said of 3 is said of 5 now, and the other way round."""
    document = deepcopy(HOUSE)
    first, second, _ = document["line_sets"]
    first["number"], second["number"] = "5", "3"
    assert [
        (one.deed.value, one.said_before, one.said_after) for one in told(HOUSE_READ, read(document))
    ] == [("swapped", "3", "5")]


def test_two_names_corrected_are_no_exchange_of_numbers() -> None:
    document = deepcopy(HOUSE)
    first, second, _ = document["line_sets"]
    first["name"], second["name"] = second["name"], first["name"]
    found = told(HOUSE_READ, read(document))
    assert [as_told(one) for one in found] == [("changed", "3", "name"), ("changed", "5", "name")]


def test_two_parts_that_swap_places_are_one_exchange() -> None:
    """Two shackles of unlike size either side of the thimble, hung the wrong way round."""
    old, new = deepcopy(HOUSE), deepcopy(HOUSE)
    large, small = {"part": "shackle", "like": "bow", "size": "1/2 in"}, {"part": "shackle", "like": "bow"}
    old["line_sets"][0]["lift_lines"][0]["upper"] = ["sleeve", large, "liner", small]
    new["line_sets"][0]["lift_lines"][0]["upper"] = ["sleeve", small, "liner", large]
    assert [as_told(one) for one in told(read(old), read(new))] == [("reordered", "3 / line 1", "upper")]


def test_of_three_parts_alike_two_that_swap_places_leave_the_third_to_itself() -> None:
    old, new = deepcopy(HOUSE), deepcopy(HOUSE)
    sizes = (
        {"part": "shackle", "like": "bow", "size": size} for size in ("1/2 in", "3/8 in", "5/8 in", "3/4 in")
    )
    one, two, three, other = sizes
    old["line_sets"][0]["lift_lines"][0]["upper"] = [one, two, three]
    new["line_sets"][0]["lift_lines"][0]["upper"] = [two, one, other]
    assert [as_told(one) for one in told(read(old), read(new))] == [
        ("changed", "3 / line 1 / upper / shackle.3", "size"),
        ("reordered", "3 / line 1", "upper"),
    ]


@pytest.mark.parametrize(
    "places",
    [
        pytest.param({"1": "3 ft", "2": "15 ft", "3": "27 ft"}, id="from the end"),
        pytest.param({"1": "SR 12 ft", "2": "CL", "3": "SL 12 ft"}, id="from the centre of 30 ft"),
        pytest.param({"1": "SR 12'-0\"", "2": "15 ft", "3": "324 in"}, id="some of each"),
    ],
)
def test_a_place_told_from_the_other_end_is_no_change(places: dict[str, str]) -> None:
    document = deepcopy(HOUSE)
    for line in document["line_sets"][0]["lift_lines"]:
        line["at"] = places[line["mark"]]
    assert [as_told(one) for one in told(HOUSE_READ, read(document))] == []


def test_a_place_from_the_centre_is_another_one_where_the_house_counts_from_the_other_end() -> None:
    """SR 12 ft of a pipe of 30 ft is 3 ft from its stage-right end, and 27 ft from its stage-left one."""
    old, new = deepcopy(HOUSE), deepcopy(HOUSE)
    old["house"]["batten_zero"] = new["house"]["batten_zero"] = "stage-left"
    new["line_sets"][0]["lift_lines"][0]["at"] = "SR 12 ft"
    assert [as_told(one) for one in told(read(old), read(new))] == [("changed", "3 / line 1", "at")]


def test_places_on_a_pipe_of_unknown_length_are_told() -> None:
    old = deepcopy(HOUSE)
    old["line_sets"][0]["batten"] = {"like": "pipe", "length": "unknown"}
    new = deepcopy(old)
    new["line_sets"][0]["lift_lines"][1]["at"] = "CL"
    assert [as_told(one) for one in told(read(old), read(new))] == [("changed", "3 / line 2", "at")]


def test_a_former_key_that_stands_in_both_revisions_renames_nothing() -> None:
    old = changed("5", formerly=["4"])  # type: ignore[arg-type]
    new = deepcopy(old)
    new["line_sets"].append({**deepcopy(HOUSE["line_sets"][0]), "number": "4", "name": "Another"})
    assert [as_told(one) for one in told(read(old), read(new))] == [("added", "4", "")]


def test_a_set_renumbered_and_changed_is_told_by_its_name_or_its_place() -> None:
    by_place = changed("8", number="9", name="Legs of the tour", low_trim="5 ft")
    assert [as_told(one) for one in told(HOUSE_READ, read(by_place))] == [
        ("renamed", "9", ""),
        ("changed", "9", "name"),
        ("changed", "9", "low_trim"),
    ]


def test_a_set_with_nothing_in_common_is_another_set() -> None:
    other = changed("8", number="9", name="Moon", from_plaster_line="20 ft", low_trim="5 ft")
    assert [as_told(one) for one in told(HOUSE_READ, read(other))] == [
        ("added", "9", ""),
        ("removed", "8", ""),
    ]


def test_where_two_could_be_meant_none_is() -> None:
    """Two new sets of the same name: it is not guessed which of them was set 8."""
    document = changed("8", number="9", from_plaster_line="20 ft")
    document["line_sets"].append(
        {**deepcopy(document["line_sets"][2]), "number": "10", "from_plaster_line": "21 ft"}
    )
    deeds = [as_told(one) for one in told(HOUSE_READ, read(document))]
    assert deeds == [("added", "9", ""), ("added", "10", ""), ("removed", "8", "")]


def test_a_house_split_over_files_is_the_same_house(tmp_path: Path) -> None:
    whole = tmp_path / "whole.yaml"
    whole.write_text(text_of(HOUSE), encoding="utf-8")
    parts = deepcopy(HOUSE)
    sets = parts.pop("line_sets")
    (tmp_path / "sets.yaml").write_text(text_of({"line_sets": sets[1:]}), encoding="utf-8")
    split = tmp_path / "split.yaml"
    split.write_text(text_of({**parts, "include": ["sets.yaml"], "line_sets": sets[:1]}), encoding="utf-8")
    assert told(read_rig(whole, VOCABULARY), read_rig(split, VOCABULARY)) == ()


PLOT = """\
plumbtrue: plot/1
plot:
  show: An invented show
  items:
    - {key: "1", name: border, on: 3, weight: 75 lb, loads: [{from: SR 6'-0", to: SL 6'-0", weight: 75 lb}]}
    - {key: "2", name: lantern, on: 5, weight: 60 lb, loads: [{at: CL, weight: 60 lb}]}
    - key: "3"
      name: legs
      on: 8
      weight: 64 lb
      loads: [{at: SR 6'-0", weight: 32 lb}, {at: SL 6'-0", weight: 32 lb}]
"""


def laid(plot: str, house: Rig = HOUSE_READ) -> Rig:
    return lay(house, read_plot_text(plot, "show.yaml", VOCABULARY))


def test_a_piece_on_another_set_has_moved() -> None:
    matching = match(laid(PLOT), laid(PLOT.replace("on: 5", "on: 8")))
    (move,) = rig_changes(matching)
    assert as_told(move) == ("moved", "plot / item 2", "on")
    assert move.new is not None
    on = move.new.references["on"]
    assert getattr(on, "key", None) == "8"


def test_a_renumbered_piece_is_renamed_not_cut_and_new() -> None:
    found = rig_changes(match(laid(PLOT), laid(PLOT.replace('key: "2"', 'key: "12"'))))
    assert [as_told(one) for one in found] == [("renamed", "plot / item 12", "")]


def test_a_piece_on_a_renumbered_set_has_not_moved() -> None:
    house = read(changed("5", number="6"))
    found = rig_changes(match(laid(PLOT), laid(PLOT.replace("on: 5", "on: 6"), house)))
    assert [as_told(one) for one in found] == [("renamed", "6", "")]


def test_loads_in_another_order_are_the_same_and_one_of_them_changed_is_one_change() -> None:
    turned = PLOT.replace(
        "[{at: SR 6'-0\", weight: 32 lb}, {at: SL 6'-0\", weight: 32 lb}]",
        "[{at: SL 6'-0\", weight: 32 lb}, {at: SR 6'-0\", weight: 40 lb}]",
    )
    assert turned != PLOT
    (change,) = rig_changes(match(laid(PLOT), laid(turned)))
    assert (change.deed.value, change.fact) == ("changed", "weight")
    assert change.difference is not None
    assert change.difference.is_exact
    assert change.difference.low == pytest.approx(8 * POUND)


def test_a_plot_in_one_revision_alone_is_one_thing_more() -> None:
    assert [as_told(one) for one in rig_changes(match(HOUSE_READ, laid(PLOT)))] == [("added", "plot", "")]


def test_a_part_that_somebody_looked_for_in_vain_is_told_from_one_that_nobody_wrote() -> None:
    document = deepcopy(HOUSE)
    del document["line_sets"][0]["load_tests"]
    (forgotten,) = told(HOUSE_READ, read(document))
    document["line_sets"][0]["load_tests"] = "none"
    (looked_for,) = told(HOUSE_READ, read(document))
    assert (forgotten.deed, forgotten.after) == (looked_for.deed, None)
    assert str(looked_for.after) == "none"


def told_of(plot: str) -> list[tuple[str, str, str]]:
    return [as_told(one) for one in rig_changes(match(laid(PLOT), laid(plot)))]


def test_two_pieces_that_take_each_others_set_are_one_exchange() -> None:
    plot = PLOT.replace("on: 3", "on: X").replace("on: 5", "on: 3").replace("on: X", "on: 5")
    assert told_of(plot) == [("swapped", "plot / item 1", "on")]


def test_pieces_that_go_round_three_sets_have_moved_each() -> None:
    plot = (
        PLOT.replace("on: 3", "on: X")
        .replace("on: 5", "on: 3")
        .replace("on: 8", "on: 5")
        .replace("on: X", "on: 8")
    )
    assert told_of(plot) == [("moved", f"plot / item {number}", "on") for number in (1, 2, 3)]


def test_two_pieces_that_take_each_others_number_are_one_exchange() -> None:
    plot = (
        PLOT.replace('key: "1"', 'key: "X"').replace('key: "2"', 'key: "1"').replace('key: "X"', 'key: "2"')
    )
    (change,) = rig_changes(match(laid(PLOT), laid(plot)))
    assert (change.deed.value, change.said_before, change.said_after) == ("swapped", "item 1", "item 2")


@pytest.mark.parametrize(
    "loads",
    [
        pytest.param("[{at: [SR 6'-0\", SL 6'-0\"], weight: 32 lb}]", id="in one line"),
        pytest.param("[{at: both 72 in, weight: 512 oz}]", id="both sides"),
        pytest.param("[{at: 9 ft, weight: 32 lb}, {at: 21 ft, weight: 32 lb}]", id="from the pipe's end"),
    ],
)
def test_the_same_pulls_at_the_same_places_are_no_change(loads: str) -> None:
    plot = PLOT.replace("[{at: SR 6'-0\", weight: 32 lb}, {at: SL 6'-0\", weight: 32 lb}]", loads)
    assert plot != PLOT
    assert told_of(plot) == []


def test_a_stretch_told_from_its_other_end_is_no_change() -> None:
    plot = PLOT.replace("from: SR 6'-0\", to: SL 6'-0\"", "from: SL 6'-0\", to: SR 6'-0\"")
    assert plot != PLOT
    assert told_of(plot) == []
    shorter = PLOT.replace("from: SR 6'-0\", to: SL 6'-0\"", "from: SL 5'-0\", to: SR 6'-0\"")
    assert {fact for _, _, fact in told_of(shorter)} == {"from", "to"}


@pytest.mark.parametrize(
    ("before", "after", "label"),
    [
        ("20..25 lb", "22 lb", "known more closely"),
        ("22 lb", "20..25 lb", "known less closely"),
        ("20..25 lb", "24..26 lb", "changed"),
        ("unknown", "22 lb", "changed"),
    ],
)
def test_a_figure_known_more_closely_is_no_other_figure(
    before: str, after: str, label: str, tmp_path: Path
) -> None:
    rules = book(tmp_path)
    old, new = (Revision(read(changed("3", present_load=load)), rules) for load in (before, after))
    assert [row.label for row in changed_rows(compare(old, new, ON))] == [label]


def test_a_chain_exchanged_for_a_turnbuckle_is_one_change() -> None:
    """The two parts behind it in the path stay what they are."""
    document = deepcopy(HOUSE)
    path = document["line_sets"][0]["lift_lines"][0]["lower"]
    path[3] = {"part": "turnbuckle", "size": "1/2 in"}
    (found,) = told(HOUSE_READ, read(document))
    assert as_told(found) == ("replaced", "3 / line 1 / lower / turnbuckle", "")
    assert found.old is not None
    assert found.old.path == "3 / line 1 / lower / trim-chain"


def test_a_part_taken_out_here_and_one_put_in_there_are_two_changes() -> None:
    document = deepcopy(HOUSE)
    path = document["line_sets"][0]["lift_lines"][0]["lower"]
    del path[0]
    path.append({"part": "turnbuckle", "size": "1/2 in"})
    assert [as_told(one) for one in told(HOUSE_READ, read(document))] == [
        ("added", "3 / line 1 / lower / turnbuckle", ""),
        ("removed", "3 / line 1 / lower / swage-sleeve", ""),
    ]


def renumbered(numbers: dict[str, str]) -> tuple[Plain, str]:
    """The house with sets under other numbers, and the plot with its pieces where they were."""
    document = deepcopy(HOUSE)
    plot = PLOT
    for one in document["line_sets"]:
        plot = plot.replace(f"on: {one['number']},", f"on: X{one['number']},").replace(
            f"on: {one['number']}\n", f"on: X{one['number']}\n"
        )
        one["number"] = numbers.get(one["number"], one["number"])
    for was in ("3", "5", "8"):
        plot = plot.replace(f"on: X{was}", f"on: {numbers.get(was, was)}")
    return document, plot


@pytest.mark.parametrize(
    "numbers",
    [
        pytest.param({"3": "5", "5": "8", "8": "9"}, id="all moved up by one"),
        pytest.param({"3": "5", "5": "8", "8": "3"}, id="round in a ring"),
    ],
)
def test_sets_that_are_all_numbered_anew_are_renamed_and_nothing_on_them_has_moved(
    numbers: dict[str, str],
) -> None:
    document, plot = renumbered(numbers)
    found = rig_changes(match(laid(PLOT), laid(plot, read(document))))
    assert {(one.deed.value, one.said_before, one.said_after) for one in found} == {
        ("renamed", was, now) for was, now in numbers.items()
    }
    assert len(found) == len(numbers)


def test_a_piece_that_hangs_on_the_same_number_hangs_on_another_set_where_the_number_went_over() -> None:
    """Sets 3 and 5 took each other's number, and nobody wrote the plot anew."""
    document, _ = renumbered({"3": "5", "5": "3"})
    found = rig_changes(match(laid(PLOT), laid(PLOT, read(document))))
    assert [as_told(one) for one in found] == [("swapped", "5", ""), ("swapped", "plot / item 1", "on")]


def test_a_piece_put_in_front_and_all_others_numbered_up_by_one() -> None:
    plot = PLOT.replace('"3"', '"4"').replace('"2"', '"3"').replace('"1"', '"2"')
    first = '    - {key: "1", name: moon, on: 3, weight: 10 lb}\n'
    plot = plot.replace("  items:\n", f"  items:\n{first}")
    assert told_of(plot) == [
        ("renamed", "plot / item 2", ""),
        ("renamed", "plot / item 3", ""),
        ("renamed", "plot / item 4", ""),
        ("added", "plot / item 1", ""),
    ]


def test_a_line_taken_out_and_the_next_one_marked_as_it() -> None:
    document = deepcopy(HOUSE)
    lines = document["line_sets"][0]["lift_lines"]
    del lines[1]
    lines[1]["mark"] = "2"
    assert [as_told(one) for one in told(HOUSE_READ, read(document))] == [
        ("renamed", "3 / line 2", ""),
        ("removed", "3 / line 2", ""),
    ]


def test_bricks_by_another_name_are_the_same_bricks_in_every_arbor() -> None:
    document = deepcopy(HOUSE)
    document["house"]["bricks"][0]["key"] = "large"
    for one in document["line_sets"]:
        one["arbor"]["weights"][0]["brick"] = "large"
    assert [as_told(one) for one in told(HOUSE_READ, read(document))] == [("renamed", "brick large", "")]


def test_the_day_of_a_load_test_put_right_is_one_change() -> None:
    document = deepcopy(HOUSE)
    document["line_sets"][0]["load_tests"][0]["on"] = "2019-08-21"
    assert [as_told(one) for one in told(HOUSE_READ, read(document))] == [
        ("changed", "3 / load test 2019-08-21", "on")
    ]


CUES = """\
  cues:
    - {key: Q1, item: "1", from: 4 ft, to: 20 ft, time: 9 s}
    - {key: Q2, item: "2", from: 4 ft, to: 20 ft, time: 12 s}
"""


def test_a_cue_of_another_number_and_another_time_is_known_by_the_piece_that_it_moves() -> None:
    other = CUES.replace("Q2", "Q7").replace("12 s", "3 s")
    assert told_of_both(PLOT + CUES, PLOT + other) == [
        ("renamed", "plot / cue Q7", ""),
        ("changed", "plot / cue Q7", "time"),
    ]


def test_cues_of_pieces_that_took_each_others_number_are_told_by_their_pieces() -> None:
    """Both cues are alike but for their piece, and go by other numbers as well."""
    plot = PLOT.replace('"1"', '"X"').replace('"2"', '"1"').replace('"X"', '"2"') + CUES.replace(
        "9 s", "12 s"
    )
    swapped = plot.replace('item: "1"', 'item: "X"').replace('item: "2"', 'item: "1"').replace("X", "2")
    again = swapped.replace("Q1", "A1").replace("Q2", "A2")
    found = told_of_both(PLOT + CUES.replace("9 s", "12 s"), again)
    assert found == [
        ("swapped", "plot / item 2", ""),
        ("renamed", "plot / cue A1", ""),
        ("renamed", "plot / cue A2", ""),
    ]


def told_of_both(old: str, new: str) -> list[tuple[str, str, str]]:
    return [as_told(one) for one in rig_changes(match(laid(old), laid(new)))]


def test_who_saw_the_whole_set_is_told_once_and_not_again_for_what_was_seen_with_it() -> None:
    """The batten's own block says what the set's does, so nothing is new about the batten when it is left out."""
    document = deepcopy(HOUSE)
    seen = {"by": "head of flys", "on": "2026-02-10", "how": "by-hand"}
    document["line_sets"][0] |= {"seen": seen, "batten": {"like": "pipe", "seen": dict(seen)}}
    later = deepcopy(document)
    later["line_sets"][0]["seen"]["on"] = "2026-03-10"
    del later["line_sets"][0]["batten"]["seen"]
    found = told(read(document), read(later))
    assert [as_told(one) for one in found] == [("looked-at", "3", "")]


def test_what_was_seen_by_somebody_else_than_the_set_is_no_news_when_the_set_is_looked_at_again() -> None:
    document = deepcopy(HOUSE)
    first = {"by": "head of flys", "on": "2026-02-10", "how": "by-hand"}
    document["line_sets"][0] |= {"seen": first, "batten": {"like": "pipe", "seen": dict(first)}}
    later = deepcopy(document)
    later["line_sets"][0]["seen"] = {"by": "inspector", "on": "2026-03-10", "how": "with-tools"}
    found = told(read(document), read(later))
    assert [as_told(one) for one in found] == [("looked-at", "3", "")]
