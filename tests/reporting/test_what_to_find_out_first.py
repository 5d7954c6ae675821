"""Questions come in the order in which their answers open most, not in the order of the file."""

from pathlib import Path

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


def test_a_question_says_where_to_look_and_with_what(tmp_path: Path) -> None:
    (rope,) = [one for one in asked(tmp_path, HOUSE) if one.fact == "corrosion"]
    assert rope.can_be_looked_up
    assert (rope.look, rope.tool) == ("loft-block seat, sleeves, under roof leaks", "solvent rag")
    assert "pitted" in dict(rope.words)
