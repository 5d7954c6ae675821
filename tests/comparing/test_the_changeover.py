"""Which sets are checked again on stage, and what the crew does on which set."""

from copy import deepcopy
from pathlib import Path

import pytest
from tests.comparing.houses import HOUSE, VOCABULARY, Plain, read
from tests.comparing.revisions import book
from tests.comparing.two_weeks import compared as two_weeks
from tests.packs.packs_in_text import ON

from plumbtrue.audit.changeover import Action, Concern, Task
from plumbtrue.audit.comparing import Comparison, Revision, compare
from plumbtrue.reporting.comparison_formats import written
from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot_text
from plumbtrue.rig.rig import Rig
from plumbtrue.rules.packs.pack import RuleBook
from plumbtrue.rules.severity import Severity


@pytest.fixture(scope="module")
def rules(tmp_path_factory: pytest.TempPathFactory) -> RuleBook:
    return book(tmp_path_factory.mktemp("pack"))


def compared(old: Rig, new: Rig, rules: RuleBook) -> Comparison:
    return compare(Revision(old, rules), Revision(new, rules), ON)


def changed(**facts: Plain) -> Rig:
    """The house with facts of set 3 changed."""
    document = deepcopy(HOUSE)
    document["line_sets"][0].update(facts)
    return read(document)


def concerns(found: Comparison) -> dict[str, set[str]]:
    return {one.line_set.key: {reason.concern.value for reason in one.reasons} for one in found.rechecks}


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        pytest.param({"low_trim": "5 ft"}, {"3": {"load-path"}}, id="something of the set itself"),
        pytest.param({"present_load": "50 lb"}, {"3": {"load-path"}}, id="what hangs on it now"),
        pytest.param({"name": "Border of the tour"}, {}, id="a name carries nothing"),
        pytest.param({"note": "squeaks"}, {}, id="a note carries nothing"),
        pytest.param({"posted_total": "380 lb"}, {}, id="a sign carries nothing"),
        pytest.param(
            {"load_tests": [{"on": "2025-01-05", "load": "400 lb"}]}, {}, id="a record carries nothing"
        ),
    ],
)
def test_a_set_is_checked_again_for_its_load_path_and_not_for_its_papers(
    rules: RuleBook, facts: Plain, expected: dict[str, set[str]]
) -> None:
    assert concerns(compared(read(HOUSE), changed(**facts), rules)) == expected


def test_a_beam_that_changed_reopens_every_set_on_it(rules: RuleBook) -> None:
    document = deepcopy(HOUSE)
    document["house"]["beams"][1]["capacity"] = "5000 lb"
    found = concerns(compared(read(HOUSE), read(document), rules))
    assert found == {key: {"load-path"} for key in ("3", "5", "8")}


def test_bricks_that_came_off_a_house_are_counted(rules: RuleBook) -> None:
    arbor = {**HOUSE["line_sets"][0]["arbor"], "weights": [{"brick": "28", "count": "3"}]}
    found = compared(read(HOUSE), changed(arbor=arbor), rules)
    assert [(one.action, one.bricks) for one in found.tasks] == [
        (Action.BRICKS_OFF, (("brick 14", -1), ("brick 28", -2)))
    ]


PLOT = """\
plumbtrue: plot/1
plot:
  show: An invented show
  items:
    - {key: "1", name: border, on: 3, people: none, weight: 75 lb, loads: [{from: SR 6'-0", to: SL 6'-0", weight: 75 lb}]}
    - {key: "2", name: lantern, on: 5, people: none, weight: 60 lb, loads: [{at: CL, weight: 60 lb}]}
    - {key: "3", name: banner, on: 8, people: none, weight: 20 lb, loads: [{at: CL, weight: 20 lb}]}
"""  # noqa: E501  # One line for each piece.


def laid(plot: str = PLOT) -> Rig:
    return lay(read(HOUSE), read_plot_text(plot, "show.yaml", VOCABULARY))


def set_of(task: Task) -> str:
    """The key of the set on which something is to be done; empty for what hangs on none."""
    return "" if task.line_set is None else task.line_set.key


def steps(found: Comparison) -> list[tuple[str, Action, str]]:
    return [
        (set_of(one), one.action, one.piece.key if one.piece else "")
        for one in found.tasks
        if not one.action.value.startswith("bricks")
    ]


def test_a_piece_that_moves_is_taken_off_here_and_hung_there(rules: RuleBook) -> None:
    found = compared(laid(), laid(PLOT.replace("on: 5", "on: 8")), rules)
    assert steps(found) == [("5", Action.TAKE_OFF, "item 2"), ("8", Action.HANG, "item 2")]
    assert concerns(found)["5"] == concerns(found)["8"] == {"load"}


def test_what_hangs_next_to_a_change_is_looked_at_too(rules: RuleBook) -> None:
    found = compared(laid(), laid(PLOT.replace("weight: 60 lb", "weight: 90 lb")), rules)
    assert steps(found) == [("5", Action.SET_AGAIN, "item 2")]
    assert concerns(found) == {"3": {"beside"}, "5": {"load"}, "8": {"beside"}}
    beside = {
        reason.beside.key
        for one in found.rechecks
        for reason in one.reasons
        if reason.concern is Concern.BESIDE and reason.beside is not None
    }
    assert beside == {"item 2"}


def test_pieces_that_are_cut_and_new(rules: RuleBook) -> None:
    other = PLOT.replace('key: "3", name: banner', 'key: "4", name: moon').replace(
        "weight: 20 lb", "weight: 85 lb"
    )
    found = compared(laid(), laid(other), rules)
    assert steps(found) == [("8", Action.TAKE_OFF, "item 3"), ("8", Action.HANG, "item 4")]


def test_no_bricks_go_on_for_a_piece_that_does_not_hang(rules: RuleBook) -> None:
    """Somebody rides on it: it is stopped, so nobody may load for it."""
    ridden = PLOT.replace(
        "name: banner, on: 8, people: none, weight: 20 lb", "name: moon, on: 8, people: rides, weight: 90 lb"
    )
    found = compared(laid(), laid(ridden), rules)
    on_eight = [one.action for one in found.tasks if set_of(one) == "8"]
    assert Action.DO_NOT_HANG in on_eight
    assert not {Action.HANG, Action.BRICKS_ON, Action.BRICKS_OFF} & set(on_eight)


def test_bricks_of_unknown_loads_cannot_be_told(rules: RuleBook) -> None:
    found = compared(laid(), laid(PLOT.replace("weight: 60 lb", "weight: unknown")), rules)
    assert [one.action for one in found.tasks if set_of(one) == "5"] == [
        Action.SET_AGAIN,
        Action.BRICKS_NOT_TOLD,
    ]


def test_a_set_that_must_not_fly_is_told_first(tmp_path: Path) -> None:
    tasks = two_weeks(tmp_path).tasks
    on_two = [one.action for one in tasks if set_of(one) == "2"]
    assert on_two[0] is Action.DO_NOT_FLY
    assert [set_of(one) for one in tasks if one.action is Action.RELABEL] == ["3A"]


def test_bricks_of_a_load_that_is_exchanged_are_off_in_between(rules: RuleBook) -> None:
    """Two pieces of the same weight change places: no brick more in the end, and a bare pipe in between."""
    plot = PLOT.replace("weight: 60 lb", "weight: 75 lb")
    swapped = plot.replace("on: 3", "on: X").replace("on: 5", "on: 3").replace("on: X", "on: 5")
    found = compared(laid(plot), laid(swapped), rules)
    text = " ".join(written(found, "markdown", old="a", new="b", gate=Severity.ADVISORY).split())
    assert text.count("those of the old load are off while the pipe hangs bare between them") == 3
    assert "- come off before the load, + go on" in text


def test_a_pipe_that_goes_to_another_height_is_spiked_again(rules: RuleBook) -> None:
    still = "weight: 60 lb, moves: no, in_trim: none, out_trim: none, trims: [20 ft],"
    plot = PLOT.replace("weight: 60 lb,", still) + "  cues: none\n"
    found = compared(laid(plot), laid(plot.replace("trims: [20 ft]", "trims: [22 ft]")), rules)
    assert steps(found) == [("5", Action.SET_AGAIN, "item 2"), ("5", Action.RESPIKE, "")]
    (respike,) = [one for one in found.tasks if one.action is Action.RESPIKE]
    assert {one.fact.name for one in respike.trims} == {"show_trim_low", "show_trim_high"}


def test_a_faster_cue_is_run_again_and_nothing_is_hung_otherwise(rules: RuleBook) -> None:
    cue = '  cues: [{key: Q1, item: "2", from: 10 ft, to: 30 ft, time: 12 s}]\n'
    found = compared(laid(PLOT + cue), laid(PLOT + cue.replace("12 s", "9 s")), rules)
    assert steps(found) == [("5", Action.REHEARSE, "item 2")]


def test_a_piece_that_stands_is_in_the_list_too(rules: RuleBook) -> None:
    post = (
        '    - {key: "9", name: lamppost, on: deck, people: none, weight: 60 lb, from_plaster_line: 6 ft}\n'
    )
    found = compared(laid(), laid(PLOT + post), rules)
    assert [(one.line_set, one.action, one.piece.key if one.piece else "") for one in found.tasks] == [
        (None, Action.HANG, "item 9")
    ]
    assert "put up 9 lamppost" in written(found, "terminal", old="a", new="b", gate=Severity.ADVISORY)
