"""What is wrong with a pack is told where it is wrong, not in the packs that stand on it."""

from pathlib import Path

from tests.packs.packs_in_text import CHAIN_GRADE, KEEPER_BOLT, ON, write_pack

from plumbtrue.plugins import Plugin, Plugins
from plumbtrue.rig.vocabulary_loading import load_vocabulary
from plumbtrue.rules.packs.loading import read_book
from plumbtrue.rules.packs.pack import RuleBook

BROKEN = KEEPER_BOLT.replace("keeper_bolt is not none", "keper_bolt is not none")
ADJUSTING = "- {rule: keeper-bolt-missing, tighten: {severity: before-next-use}}"
NEEDS_COMMON = "requires: [common]\n"


def book(folder: Path, *names: str, brought: Path | None = None, built_in: bool = False) -> RuleBook:
    """Packs in a folder; one may be brought by a plugin instead."""
    plugin = Plugin("knots", "knots-of-old", "1.2", packs=(brought,) if brought else (), built_in=built_in)
    return read_book(names, folder, load_vocabulary(), Plugins((plugin,)), on=ON)


def test_a_wrong_rule_below_is_the_only_thing_told(tmp_path: Path) -> None:
    """The house adjusts a rule that could not be read: it is the rule that is wrong, not the adjustment."""
    write_pack(tmp_path, "common", rules=BROKEN)
    write_pack(tmp_path, "house", more=NEEDS_COMMON, adjustments=ADJUSTING)
    (problem,) = book(tmp_path, "./common", "./house").problems
    assert str(problem.where) == "common/rules/chain.yaml:8:12"
    assert "keper_bolt" in problem.what


def test_a_pack_whose_first_page_cannot_be_read_is_not_called_missing(tmp_path: Path) -> None:
    write_pack(tmp_path, "common", rules=KEEPER_BOLT)
    (tmp_path / "common" / "pack.yaml").write_text("plumbtrue: pack/1\nname: [common\n", encoding="utf-8")
    write_pack(tmp_path, "house", more=NEEDS_COMMON, adjustments=ADJUSTING)
    problems = book(tmp_path, "./common", "./house").problems
    assert {problem.where.file for problem in problems} == {"common/pack.yaml"}


def test_a_broken_practice_pack_tells_what_is_wrong_in_it(tmp_path: Path) -> None:
    """Whoever edits it saw only that the house's own pack wanted a layer of that name."""
    common = write_pack(tmp_path / "installed", "common", rules=BROKEN)
    write_pack(tmp_path, "house", more=NEEDS_COMMON)
    found = book(tmp_path, "common", "./house", brought=common, built_in=True)
    (problem,) = found.problems
    assert str(problem.where) == "common/rules/chain.yaml:8:12"
    assert "keper_bolt is not none" in found.texts["common/rules/chain.yaml"]


def test_a_broken_pack_of_a_plugin_takes_along_what_stands_on_it(tmp_path: Path) -> None:
    """A plugin's fault is no fault of the house's files: the rest is run, and the run is incomplete."""
    common = write_pack(tmp_path / "installed", "common", rules=BROKEN)
    write_pack(tmp_path, "house", more=NEEDS_COMMON, adjustments=ADJUSTING)
    write_pack(tmp_path, "other", rules=CHAIN_GRADE)
    found = book(tmp_path, "common", "./house", "./other", brought=common)
    assert found.problems == ()
    assert [rule.slug for rule in found.rules] == ["chain-grade-too-low"]
    broken, standing = found.not_run
    assert [str(problem.where) for problem in broken.problems] == ["common/rules/chain.yaml:8:12"]
    assert "keper_bolt" in found.texts["common/rules/chain.yaml"]
    assert str(standing) == "house: it stands on the pack common, which cannot be read"
