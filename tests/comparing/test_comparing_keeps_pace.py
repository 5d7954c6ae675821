"""Matching and comparing take time in proportion to the house, also where many things are alike."""

from copy import deepcopy
from pathlib import Path
from time import process_time

from tests.comparing.houses import HOUSE, Plain, read
from tests.comparing.two_weeks import SHOW, write_both
from tests.reporting.small_house import ON

from plumbtrue.audit.comparing_files import Asked, compare_files
from plumbtrue.audit.matching import match
from plumbtrue.audit.rig_changes import rig_changes
from plumbtrue.rig.rig import Rig


def house(sets: int, *, trim: str, renumbered: bool = False) -> Rig:
    """A house of many sets that are alike but for their number and place."""
    document: Plain = deepcopy(HOUSE)
    first = document["line_sets"][0]
    document["line_sets"] = [
        {
            **first,
            "number": f"{'N' if renumbered else ''}{number}",
            "name": f"set {number}",
            "from_plaster_line": f"{number} ft",
            "low_trim": trim,
        }
        for number in range(1, sets + 1)
    ]
    return read(document)


def time_of(sets: int) -> float:
    """Least of three: processor time, for the machine does other things as well."""
    old, new = house(sets, trim="4 ft"), house(sets, trim="5 ft", renumbered=True)
    times = []
    for _ in range(3):
        start = process_time()
        changes = rig_changes(match(old, new))
        times.append(process_time() - start)
        assert len(changes) == 2 * sets
    return min(times)


def test_four_times_the_sets_take_about_four_times_as_long() -> None:
    small, large = time_of(25), time_of(100)
    assert large < 8 * small


def test_many_alike_parts_without_names_do_not_take_for_ever() -> None:
    """Bricks, loads and lamps come by the hundred."""
    old, new = deepcopy(HOUSE), deepcopy(HOUSE)
    old["line_sets"][0]["load_tests"] = [{"load": f"{number} lb"} for number in range(1, 1500)]
    new["line_sets"][0]["load_tests"] = [{"load": f"{number + 2000} lb"} for number in range(1, 1500)]
    before, after = read(old), read(new)
    start = process_time()
    changes = rig_changes(match(before, after))
    assert process_time() - start < 3
    assert len(changes) == 1499


def test_packs_that_are_the_same_to_the_last_letter_are_read_once(tmp_path: Path) -> None:
    asked = write_both(tmp_path)
    same = compare_files(asked, on=ON, here=tmp_path, third_party=False)
    assert same.old_packs is same.new.rulebook
    rules = tmp_path / "friday" / "trade" / "rules" / "chain.yaml"
    rules.write_text(rules.read_text(encoding="utf-8") + "# a remark\n", encoding="utf-8")
    other = compare_files(asked, on=ON, here=tmp_path, third_party=False)
    assert other.old_packs is not other.new.rulebook


def test_a_house_under_two_plots_is_judged_once(tmp_path: Path) -> None:
    write_both(tmp_path)
    (tmp_path / "monday" / "other.yaml").write_text(
        SHOW.replace("weight: 60 lb", "weight: 61 lb"), encoding="utf-8"
    )
    asked = Asked("monday/show.yaml", "monday/other.yaml")
    found = compare_files(asked, on=ON, here=tmp_path, third_party=False)
    ours, theirs = (
        {id(one) for one in judged.outcomes if one.thing.path == "2 / line 1 / rope"}
        for judged in (found.old, found.new)
    )
    assert ours
    assert ours == theirs
