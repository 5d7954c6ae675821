"""Revision B of the invented tour comes at five in the afternoon: what the crew reads first, and all the rest.

What must come out is what the invented scenario says of its revisions, piece by piece. A changed page is accepted
with `pytest --force-regen`, after reading it.
"""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from pytest_regressions.file_regression import FileRegressionFixture
from tests.comparing.the_opposite import not_turned_round
from tests.demo.conftest import HOUSE, ON

from plumbtrue import __version__
from plumbtrue.audit.acceptance_changes import Accepts
from plumbtrue.audit.changeover import Action
from plumbtrue.audit.comparing import Comparison, comparison_status
from plumbtrue.audit.comparing_files import Asked, compare_files
from plumbtrue.audit.gate import ExitStatus
from plumbtrue.audit.item_verdicts import ItemState
from plumbtrue.documents.data_folder import data_folder
from plumbtrue.reporting.comparison import report_of
from plumbtrue.reporting.comparison_formats import written
from plumbtrue.rules.severity import Severity

A, B = "tour-a.yaml", "tour-b.yaml"


@pytest.fixture(scope="module")
def there() -> Comparison:
    return compare_files(Asked(A, B), on=ON, here=HOUSE.parent, third_party=False)


@pytest.fixture(scope="module")
def document(there: Comparison) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(in_format(there, "json"))
    return found


def in_format(found: Comparison, name: str, *, width: int = 80) -> str:
    return written(found, name, old=A, new=B, gate=Severity.BEFORE_NEXT_USE, width=width)


def scrubbed(text: str) -> str:
    text = re.sub(r"(?<=digest )[0-9a-f]{12}\b", "DIGEST", text)
    text = re.sub(r"<style>.*?</style>|<script>.*?</script>", "<!-- ours -->", text, flags=re.S)
    text = re.sub(r"sha256-[A-Za-z0-9+/=]+", "sha256-DIGEST", text).replace(__version__, "VERSION")
    return text.replace(str(Path.cwd()), "")


def keys(things: Any) -> set[str]:
    return {one.key.removeprefix("item ") for one in things}


def test_nine_pieces_changed_two_are_new_one_is_cut_and_sixteen_are_the_same(there: Comparison) -> None:
    changed = keys(one for one in there.changed_pieces if one in there.matching.old_of)
    assert changed == {"03", "04", "06", "11", "13", "14", "21", "22", "25"}
    assert keys(one for one in there.matching.added if one.kind.name == "item") == {"27", "28"}
    assert keys(one for one in there.matching.gone if one.kind.name == "item") == {"26"}


def test_four_stops_are_new_one_has_moved_with_its_piece_and_one_is_gone(there: Comparison) -> None:
    stops = {
        one.thing.key.removeprefix("item "): one
        for one in there.pieces
        if one.after is ItemState.DOES_NOT_HANG
    }
    assert {key for key, one in stops.items() if one.is_worse} == {"21", "22", "27", "28"}
    assert {key for key, one in stops.items() if not one.is_worse} == {"11"}
    gone = [one for one in there.pieces if one.after is None]
    assert [(one.thing.key, one.before) for one in gone] == [("item 26", ItemState.DOES_NOT_HANG)]


def test_what_was_accepted_is_the_other_revision(there: Comparison) -> None:
    assert [(one.of, one.revision, one.on) for one in there.acceptances] == [(Accepts.OLD, "A", "2026-04-02")]
    text = " ".join(in_format(there, "markdown").split())
    assert "for revision A; not for B: 9 changed, 2 new, 1 cut (26) since." in text
    assert "cut and not yet accepted" in text


def bricks(found: Comparison, key: str) -> dict[str, int]:
    return {
        kind.removeprefix("brick "): count
        for task in found.tasks
        if task.line_set is not None and task.line_set.key == key
        for kind, count in task.bricks
    }


@pytest.mark.parametrize(
    ("line_set", "wanted"),
    [
        # Bricks of the sets in revision A and of the header in B by the scenario's table of counterweight; those of
        # the bare sets are what lies in their arbors by the house's file.
        ("3", {"brick-28": 15 - 14, "brick-14": 1}),
        ("4", {"brick-28": 3 - 5}),
        ("14", {"brick-28": 2 - 11, "brick-14": -1}),
    ],
)
def test_bricks_are_told_for_the_sets_that_changed(
    there: Comparison, line_set: str, wanted: dict[str, int]
) -> None:
    assert bricks(there, line_set) == wanted


def test_no_bricks_are_loaded_for_what_does_not_hang(there: Comparison) -> None:
    for key in ("13", "22", "26", "27"):
        actions = {one.action for one in there.tasks if one.line_set is not None and one.line_set.key == key}
        assert Action.DO_NOT_HANG in actions
        assert not actions & {
            Action.HANG,
            Action.SET_AGAIN,
            Action.BRICKS_ON,
            Action.RESPIKE,
            Action.REHEARSE,
        }


@pytest.mark.parametrize("width", [80, 100])
def test_the_first_screen_has_every_set_on_which_there_is_something_to_do(
    there: Comparison, width: int
) -> None:
    """Of 40 lines one is left to type in; what the crew does ends with what it checks again."""
    screen = in_format(there, "terminal", width=width).split("\n")[:39]
    assert max(map(len, screen)) <= width
    rows = {match[1] for line in screen if (match := re.match(r"[ ■▲?] (\S+)  +\S", line))}
    sets = {one.line_set.key for one in there.tasks if one.line_set is not None}
    assert sets == {"3", "4", "6", "7", "13", "14", "17", "18", "22", "26", "27", "H1"}
    assert sets <= rows
    signs = [line[0] for line in screen[11:] if line and re.match(r"[ ■▲?] (\S+)  +\S", line)]
    assert signs == sorted(signs, key="■▲ ".index)
    text = " ".join("\n".join(screen).split())
    assert "do not put up 28 lamppost" in text
    assert "21 to 23, 25 to 28 and H1." in text
    assert "spike again: low 24'-3\" → 28'-0\"" in text


@pytest.fixture(scope="module")
def back() -> Comparison:
    return compare_files(Asked(B, A), on=ON, here=HOUSE.parent, third_party=False)


def test_on_the_way_back_every_finding_turns_round(there: Comparison, back: Comparison) -> None:
    assert not_turned_round(there, back) == set()


def test_the_way_back_tells_the_opposite(there: Comparison, back: Comparison) -> None:
    assert len(back.changes) == len(there.changes)
    assert {(one.new.path, one.fact.name) for one in back.values} == {
        (one.old.path, one.fact.name) for one in there.values
    }
    assert {one.difference for one in back.values if one.difference is not None} == {
        -one.difference for one in there.values if one.difference is not None
    }
    assert bricks(back, "3") == {kind: -count for kind, count in bricks(there, "3").items()}
    moved = {one.thing.key: (one.before, one.after) for one in back.pieces if one.before is not one.after}
    assert moved == {
        one.thing.key: (one.after, one.before) for one in there.pieces if one.before is not one.after
    }


def test_of_a_piece_with_many_reasons_the_gravest_are_told_and_how_many_more_there_are(
    back: Comparison,
) -> None:
    piece = next(one for one in back.pieces if one.thing.key == "item 26")
    row = next(one for one in report_of(back, B, A).pieces.rows if one.where.startswith("item 26"))
    assert len(piece.reasons) > 5
    assert all(why in row.what for why in piece.reasons[:4])
    assert f"and {len(piece.reasons) - 4} more reasons" in row.what
    assert not any(why in row.what for why in piece.reasons[4:])


def test_a_pipeline_refuses_the_revision_and_takes_it_against_itself(there: Comparison) -> None:
    assert comparison_status(there, Severity.OUT_OF_SERVICE) is ExitStatus.FINDINGS
    same = compare_files(Asked(B, B), on=ON, here=HOUSE.parent, third_party=False)
    assert same.is_alike
    assert comparison_status(same, Severity.ADVISORY) is ExitStatus.NOTHING_AT_THE_GATE
    assert same.standing


@pytest.mark.parametrize(("name", "ending"), [("terminal", ".txt"), ("markdown", ".md")])
def test_it_reads_as_it_was_accepted(
    there: Comparison, name: str, ending: str, file_regression: FileRegressionFixture
) -> None:
    file_regression.check(scrubbed(in_format(there, name)), extension=ending, encoding="utf-8")


def test_the_head_of_the_page_is_as_it_was_accepted(
    there: Comparison, file_regression: FileRegressionFixture
) -> None:
    """The rest of the page is that of the Markdown, and of the small house's page in full."""
    head, rest = scrubbed(in_format(there, "html")).split('<h2 id="states">')
    assert rest
    file_regression.check(head, extension=".html", encoding="utf-8")


def test_the_json_is_as_it_was_accepted(
    document: dict[str, Any], file_regression: FileRegressionFixture
) -> None:
    """Without computed values and without what stands as before, and of each outcome its identity: they are long."""
    told = {
        key: document[key] for key in ("form", "on", "exit_status", "headline", "accepted", "tasks", "crew")
    }
    told["tasks"] = [{key: value for key, value in one.items() if key != "trims"} for one in told["tasks"]]
    told["changes"] = [
        [one["what"], (one["new"] or one["old"])["path"], one["fact"]] for one in document["changes"]
    ]
    told["findings"] = [
        [one["became"], one["severity"], one["rule"], (one["new"] or one["old"])["thing"]["path"]]
        for one in document["findings"]
    ]
    told["pieces"] = [
        [(one["new"] or one["old"])["path"], one["before"], one["after"]] for one in document["pieces"]
    ]
    told["check_again"] = [
        [one["line_set"], sorted({reason["concern"] for reason in one["reasons"]})]
        for one in document["check_again"]
    ]
    for one in told["accepted"]:
        one["location"]["file"] = Path(one["location"]["file"]).name
    text = json.dumps(told, indent=1, ensure_ascii=False) + "\n"
    file_regression.check(text, extension=".json", encoding="utf-8")


def test_the_json_is_of_its_schema(document: dict[str, Any]) -> None:
    schema = json.loads((data_folder("schemas") / "comparison-1.schema.json").read_text(encoding="utf-8"))
    assert [one.message for one in Draft202012Validator(schema).iter_errors(document)] == []
    assert (document["old"]["revision"], document["new"]["revision"]) == ("A", "B")
