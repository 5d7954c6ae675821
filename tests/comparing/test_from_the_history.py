"""Revisions are read from the git history that holds the house, with all that belongs to them."""

import subprocess
from collections.abc import Callable
from datetime import date
from pathlib import Path
from textwrap import dedent

import pytest
from tests.reporting.small_house import HOUSE, ON, write_house

from plumbtrue.audit.comparing import Comparison
from plumbtrue.audit.comparing_files import Asked, compare_files
from plumbtrue.audit.pack_changes import PackDeed
from plumbtrue.documents.place import CannotRead

Commit = Callable[[str], None]


@pytest.fixture
def history(tmp_path: Path) -> Commit:
    """A history of its own, in which everything in the folder can be committed."""

    def git(*arguments: str) -> None:
        who = ("-c", "user.name=crew", "-c", "user.email=crew@theatre.invalid", "-c", "commit.gpgsign=false")
        subprocess.run(["git", *who, *arguments], cwd=tmp_path, check=True, capture_output=True)

    def commit(tag: str) -> None:
        git("add", ".")
        git("commit", "-q", "-m", tag)
        git("tag", tag)

    git("init", "-q")
    return commit


def compared(folder: Path, old: str, new: str, **more: str) -> Comparison:
    return compare_files(Asked(old, new, **more), on=ON, here=folder, third_party=False)


def refused(folder: Path, old: str, new: str) -> str:
    with pytest.raises(CannotRead) as refusal:
        compared(folder, old, new)
    return str(refusal.value)


def test_a_house_is_compared_with_itself_of_an_hour_ago(tmp_path: Path, history: Commit) -> None:
    file = write_house(tmp_path)
    history("monday")
    file.write_text(file.read_text().replace("grade: 30}", "grade: 80}"))
    found = compared(tmp_path, "monday:house.yaml", "house.yaml")
    assert {(one.turn.value, one.rule) for one in found.outcomes} == {("went-away", "chain-grade-too-low")}
    assert compared(tmp_path, "monday:house.yaml", "monday:house.yaml").is_alike


def test_its_packs_are_those_of_the_same_revision(tmp_path: Path, history: Commit) -> None:
    write_house(tmp_path)
    history("monday")
    rules = tmp_path / "trade" / "rules" / "chain.yaml"
    rules.write_text(rules.read_text().replace("value: 12 in", "value: 8 in"))
    found = compared(tmp_path, "monday:house.yaml", "house.yaml")
    assert [one.after for one in found.packs if one.deed is PackDeed.PART] == ["8 in"]
    assert {(one.turn.value, one.rule) for one in found.by_packs} == {
        ("question-settled", "keeper-bolt-missing")
    }


def test_what_it_includes_is_of_the_same_revision(tmp_path: Path, history: Commit) -> None:
    write_house(tmp_path)
    sets = tmp_path / "more" / "sets.yaml"
    sets.parent.mkdir()
    sets.write_text("line_sets: [{number: 5, name: Moon}]\n")
    (tmp_path / "all.yaml").write_text("plumbtrue: rig/1\ninclude: [more/sets.yaml]\nhouse: {name: x}\n")
    history("monday")
    sets.write_text("line_sets: [{number: 5, name: Sun}]\n")
    found = compare_files(Asked("monday:all.yaml", "all.yaml"), on=ON, here=tmp_path)
    assert [(one.thing.path, one.fact) for one in found.changes] == [("5", "name")]


def test_a_path_is_seen_from_the_top_and_with_a_dot_from_here(tmp_path: Path, history: Commit) -> None:
    inner = tmp_path / "houses" / "one"
    inner.mkdir(parents=True)
    write_house(inner)
    history("monday")
    top, here = "monday:houses/one/house.yaml", "monday:./house.yaml"
    assert compared(inner, top, here).is_alike
    assert "write ./ before one seen from here" in _instead(inner, "monday:house.yaml")


def _instead(folder: Path, name: str) -> str:
    with pytest.raises(CannotRead) as refusal:
        compared(folder, name, name)
    return refusal.value.problems[0].instead


def test_what_the_history_does_not_hold_is_told(tmp_path: Path, history: Commit) -> None:
    write_house(tmp_path)
    history("monday")
    assert "no revision tuesday" in refused(tmp_path, "tuesday:house.yaml", "house.yaml")
    assert "monday holds no plain file hose.yaml" in refused(tmp_path, "monday:hose.yaml", "house.yaml")
    assert "did you mean monday:house.yaml?" in _instead(tmp_path, "monday:hose.yaml")
    assert "--output=x is no revision" in refused(tmp_path, "--output=x:house.yaml", "house.yaml")
    assert "does not lie in the repository" in refused(tmp_path, "monday:../house.yaml", "house.yaml")


def test_a_folder_without_a_history_says_so(tmp_path: Path) -> None:
    write_house(tmp_path)
    assert "not a git repository" in refused(tmp_path, "HEAD:house.yaml", "house.yaml")


def test_a_link_in_the_history_leads_nowhere(tmp_path: Path, history: Commit) -> None:
    write_house(tmp_path)
    (tmp_path / "link.yaml").symlink_to("/etc/hostname")
    history("monday")
    assert "holds no plain file link.yaml" in refused(tmp_path, "monday:link.yaml", "house.yaml")


def test_a_mistake_in_an_older_revision_is_told_with_its_revision(tmp_path: Path, history: Commit) -> None:
    file = write_house(tmp_path)
    file.write_text(file.read_text().replace("grade: 43", "grade: 44"))
    history("monday")
    file.write_text(HOUSE.replace("\n    ", "\n").lstrip())
    with pytest.raises(CannotRead) as refusal:
        compared(tmp_path, "monday:house.yaml", "house.yaml")
    problem = refusal.value.problems[0]
    assert problem.where.file == "monday:house.yaml"
    assert "grade" in problem.what
    assert "grade: 44" in refusal.value.texts["monday:house.yaml"]


def test_a_mistake_in_a_pack_of_an_older_revision_is_told_with_its_revision(
    tmp_path: Path, history: Commit
) -> None:
    write_house(tmp_path)
    rules = tmp_path / "trade" / "rules" / "chain.yaml"
    good = rules.read_text()
    rules.write_text(good.replace("require: corrosion", "require: corosion"))
    history("monday")
    rules.write_text(good)
    with pytest.raises(CannotRead) as refusal:
        compared(tmp_path, "monday:house.yaml", "house.yaml")
    assert {one.where.file for one in refusal.value.problems} == {"monday:trade/rules/chain.yaml"}


PLOT = "plumbtrue: plot/1\nhouse_file: house.yaml\nplot: {show: x, items: [{key: a, on: 1, weight: 50 lb}]}\n"


def test_two_plots_lie_over_the_house_that_each_names(tmp_path: Path, history: Commit) -> None:
    write_house(tmp_path)
    plot = tmp_path / "show.yaml"
    plot.write_text(PLOT)
    history("monday")
    plot.write_text(PLOT.replace("50 lb", "60 lb"))
    found = compared(tmp_path, "monday:show.yaml", "show.yaml")
    assert [(one.thing.path, one.fact) for one in found.changes] == [("plot / item a", "weight")]


def test_a_house_is_not_compared_with_a_plot(tmp_path: Path) -> None:
    write_house(tmp_path)
    (tmp_path / "show.yaml").write_text(PLOT)
    assert "show.yaml holds a plot and house.yaml a rig" in refused(tmp_path, "house.yaml", "show.yaml")


def test_plots_beside_two_houses(tmp_path: Path) -> None:
    write_house(tmp_path)
    (tmp_path / "show.yaml").write_text(PLOT)
    found = compared(tmp_path, "house.yaml", "house.yaml", plot_new="show.yaml")
    assert [(one.deed.value, one.thing.path) for one in found.changes] == [("added", "plot")]
    assert [(one.line_set.key, one.action.value) for one in found.tasks if one.piece and one.line_set] == [
        ("1", "hang")
    ]
    assert date(2026, 2, 13) == found.new.on


SHOW = """\
plumbtrue: plot/1
house_file: house.yaml
plot:
  show: x
  revision: {revision}
  accepted: {accepted}
  items: [{{key: a, on: 1, weight: {weight}}}]
"""
TAKEN = "[{by: rigger, role: rigger, on: 2026-01-02, revision: A}]"
ASKS_AGAIN = """
    - rule: changed-since-accepted
      title: What was changed after a show's rigging was accepted is accepted again
      about: plot
      when: accepted is known and accepted_revision is not none
      require: items_changed = 0 and items_new = 0 and items_cut = 0
      severity: before-next-use
      finding: "Changed since {accepted_revision}: {changes_since_accepted}."
      remedy: Have it looked at.
      source: common-practice
      examples: [{outcome: undetermined, accepted: none}]
"""


def _with_the_rule_on_acceptances(folder: Path) -> None:
    write_house(folder)
    (folder / "trade" / "rules" / "papers.yaml").write_text(dedent(ASKS_AGAIN))


def said_of_the_acceptance(found: Comparison) -> list[tuple[str, str]]:
    return [
        (one.result.value, one.message) for one in found.new.outcomes if one.rule == "changed-since-accepted"
    ]


@pytest.mark.parametrize("folder", ["", "shows/"])
def test_the_revision_that_was_accepted_is_read_from_the_same_commit(
    tmp_path: Path, history: Commit, folder: str
) -> None:
    """The acceptance names its file, which stands beside the plot in the history and no longer on the disk."""
    inner = tmp_path / folder
    inner.mkdir(exist_ok=True)
    _with_the_rule_on_acceptances(inner)
    (inner / "first.yaml").write_text(SHOW.format(revision="A", accepted="none", weight="50 lb"))
    named = TAKEN.replace("}]", ", plot_file: first.yaml}]")
    (inner / "b.yaml").write_text(SHOW.format(revision="B", accepted=named, weight="90 lb"))
    (inner / "c.yaml").write_text(SHOW.format(revision="C", accepted=named, weight="90 lb"))
    history("monday")
    (inner / "first.yaml").unlink()
    found = compared(tmp_path, f"monday:{folder}b.yaml", f"monday:{folder}c.yaml")
    assert said_of_the_acceptance(found) == [("finding", "Changed since A: a (weight).")]
    assert f"monday:{folder}first.yaml" in [file for file, _ in found.new.rig.files]


def test_the_older_side_is_the_accepted_revision_where_it_goes_by_its_mark(
    tmp_path: Path, history: Commit
) -> None:
    """One file that is changed from commit to commit: no other file could be named."""
    _with_the_rule_on_acceptances(tmp_path)
    plot = tmp_path / "show.yaml"
    plot.write_text(SHOW.format(revision="A", accepted="none", weight="50 lb"))
    history("accepted")
    plot.write_text(SHOW.format(revision="B", accepted=TAKEN, weight="90 lb"))
    history("now")
    for new in ("now:show.yaml", "show.yaml"):
        found = compared(tmp_path, "accepted:show.yaml", new)
        assert said_of_the_acceptance(found) == [("finding", "Changed since A: a (weight).")]


def test_an_older_side_of_another_mark_is_not_taken_for_the_accepted_one(
    tmp_path: Path, history: Commit
) -> None:
    _with_the_rule_on_acceptances(tmp_path)
    plot = tmp_path / "show.yaml"
    plot.write_text(SHOW.format(revision="B", accepted=TAKEN, weight="90 lb"))
    history("monday")
    plot.write_text(SHOW.format(revision="C", accepted=TAKEN, weight="90 lb"))
    found = compared(tmp_path, "monday:show.yaml", "show.yaml")
    assert [result for result, _ in said_of_the_acceptance(found)] == ["undetermined"]


def test_what_a_past_revision_lacks_stays_a_question(tmp_path: Path, history: Commit) -> None:
    """Nobody can add a file to it any more; on the disk the name is a mistake to be mended."""
    _with_the_rule_on_acceptances(tmp_path)
    named = TAKEN.replace("}]", ", plot_file: gone.yaml}]")
    (tmp_path / "show.yaml").write_text(SHOW.format(revision="B", accepted=named, weight="90 lb"))
    history("monday")
    found = compared(tmp_path, "monday:show.yaml", "monday:show.yaml")
    assert [result for result, _ in said_of_the_acceptance(found)] == ["undetermined"]
    assert "there is no gone.yaml beside this plot" in refused(tmp_path, "monday:show.yaml", "show.yaml")
