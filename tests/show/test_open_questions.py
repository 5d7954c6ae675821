"""What nobody knows about a show is counted after all other rules, and asked before load-in.

No outside source: the count is held against houses and plots whose gaps are put there one by one.
"""

from pathlib import Path

from tests.show.small_show import BORDER, RULES, audited, house, plot

from plumbtrue.audit.outcome import Outcome, Result

ASKED = (
    RULES
    + """
    - rule: questions-are-answered
      title: Nothing urgent is open
      about: plot
      require: open_questions = 0
      severity: before-next-use
      finding: "{open_questions} open."
      remedy: Ask.
      source: common-practice
"""
)


def _told(folder: Path, plot_text: str, house_text: str = "") -> Outcome:
    found = audited(folder, plot_text, house_text, rules=ASKED).outcomes
    (mine,) = [one for one in found if one.rule == "questions-are-answered"]
    return mine


def _unlooked(number: str) -> str:
    """The house, with the rope of one set looked at and not told."""
    text = house()
    at = text.index(f"number: {number}\n")
    return text[:at] + text[at:].replace("installed: 2009}", "installed: 2009, corrosion: unknown}", 1)


def test_nothing_is_open_where_all_that_is_asked_is_written(tmp_path: Path) -> None:
    assert _told(tmp_path, plot(BORDER)).result is Result.MET


def test_each_fact_that_is_left_out_is_one_question(tmp_path: Path) -> None:
    nobody_asked = plot(BORDER.replace("people: none, ", ""))
    told = _told(tmp_path, nobody_asked)
    assert (told.result, told.message) == (Result.FINDING, "1 open.")
    unmarked = nobody_asked.replace("  revision: A\n", "")
    assert _told(tmp_path, unmarked).message == "2 open."


def test_what_the_house_leaves_open_counts_on_sets_in_use_alone(tmp_path: Path) -> None:
    assert _told(tmp_path, plot(BORDER), _unlooked("26")).result is Result.MET
    on_set_in_use = _told(tmp_path, plot(BORDER), _unlooked("3"))
    # One rope on each of its five lines.
    assert (on_set_in_use.result, on_set_in_use.message) == (Result.FINDING, "5 open.")
