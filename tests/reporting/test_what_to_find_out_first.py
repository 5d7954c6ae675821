"""Questions come in the order in which their answers open most, not in the order of the file."""

from pathlib import Path

import pytest
from tests.reporting.small_house import HOUSE, audited, write_house

from plumbtrue.reporting.building import report_of
from plumbtrue.reporting.report import Question


def asked(folder: Path, house: str) -> tuple[Question, ...]:
    return report_of(audited(write_house(folder, house=house), waivers=False)).questions


def test_a_set_that_cannot_be_told_goes_before_one_that_is_stopped_anyway(tmp_path: Path) -> None:
    """Set 2 is out of service whatever its third rope looks like; set 4 waits for the grade of its chain."""
    first, *_ = asked(tmp_path, HOUSE.replace("grade: 43", "grade: unknown"))
    assert (first.fact, first.set_keys) == ("grade", ("4",))


def test_one_fact_is_asked_once_for_all_sets_that_want_it(tmp_path: Path) -> None:
    house = HOUSE.replace("tagged_out: 2025-06-03", "tagged_out: none").replace(
        "corrosion: none", "corrosion: unknown"
    )
    first, *_ = asked(tmp_path, house)
    assert first.fact == "corrosion"
    assert set(first.set_keys) == {"1", "2", "3", "4"}
    assert first.where[0][0].startswith("set")


SEEN = "  - number: 1\n        seen: {by: us, on: 2026-02-01, how: by-eye, in_order: yes, not_seen: [%s]}"


@pytest.mark.parametrize(
    ("phrase", "matches"),
    [
        pytest.param("trim-chain links", True, id="the words of a kind and more"),
        pytest.param("1 / line 2 / lower", True, id="a path"),
        pytest.param("keeper_bolt", True, id="a fact"),
        pytest.param("keper bolts", False, id="misspelt"),
        pytest.param("head block", False, id="of a thing that this set has not got"),
        pytest.param("trim-chain of 4", False, id="of a set for which nobody vouches here"),
    ],
)
def test_what_was_not_seen_and_matches_nothing_is_asked_about_first(
    tmp_path: Path, phrase: str, matches: bool
) -> None:
    """Whoever wrote it left something out; as nothing is called so, their word covers it after all."""
    first, *_ = asked(tmp_path, HOUSE.replace("  - number: 1", SEEN % phrase))
    if matches:
        assert first.fact != "not_seen"
    else:
        assert first.subject == f"What is meant by “{phrase}”, which was not seen"
        assert first.reasons == ("not_seen phrase matches nothing",)
        assert (first.number, first.set_keys) == (1, ("1",))


@pytest.mark.parametrize(("phrase", "fact"), [("trim-chain of 2", "corrosion"), ("grade of 44", "not_seen")])
def test_what_an_inspection_left_out_is_asked_about_likewise(tmp_path: Path, phrase: str, fact: str) -> None:
    walked = f"{{key: walk, on: 2025-06-01, by: us, how: by-eye, in_order: yes, not_seen: [{phrase}]}}"
    house = HOUSE.replace("batten_zero: stage-right", f"batten_zero: stage-right, inspections: [{walked}]")
    first, *_ = asked(tmp_path, house)
    assert (first.fact, first.set_keys) == (fact, ("house",) if fact == "not_seen" else ("2",))


def test_a_question_says_where_to_look_and_with_what(tmp_path: Path) -> None:
    (rope,) = [one for one in asked(tmp_path, HOUSE) if one.fact == "corrosion"]
    assert rope.can_be_looked_up
    assert (rope.look, rope.tool) == ("loft-block seat, sleeves, under roof leaks", "solvent rag")
    assert "pitted" in dict(rope.words)
