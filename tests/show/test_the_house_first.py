"""The house is judged first, and what it comes to is a fact that rules of a show ask for."""

from datetime import date
from pathlib import Path

from tests.show.laid_shows import DEMO, HOUSE, ON

from plumbtrue.audit.auditing import Audit, audit
from plumbtrue.audit.house_check import check_house
from plumbtrue.audit.outcome import Result
from plumbtrue.audit.verdicts import State
from plumbtrue.plugins import load_plugins
from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot_text, read_rig_text
from plumbtrue.rig.vocabulary_loading import load_vocabulary
from plumbtrue.rules.packs.loading import load_packs

RULES = """\
- rule: pipe-is-sound
  title: A pipe is straight
  about: batten
  require: kink is none
  severity: out-of-service
  finding: The pipe has a kink.
  remedy: Replace it.
  why: it may fold
  source: common-practice
  examples:
    - {outcome: met, kink: none}
    - {outcome: finding, kink: dent}
    - {outcome: undetermined}
- rule: wall-is-whole
  title: A pipe has its wall
  about: batten
  require: wall_measured >= 0.1 in
  severity: out-of-service
  finding: The pipe is worn.
  remedy: Replace it.
  why: it may fold
  source: common-practice
- rule: set-is-in-service
  title: Nothing hangs on a set that is stopped
  about: item
  when: set is not none
  require: set.stopped is no
  severity: out-of-service
  finding: "The set is stopped ({set.verdict_reasons})."
  remedy: Hang it elsewhere.
  why: it may fall
  source: common-practice
- rule: within-what-is-posted
  title: No more hangs than is posted
  about: line-set
  when: count of one in items > 0
  require: posted_utilisation <= 1
  severity: before-next-use
  finding: "It carries {live_load} of {posted_load}."
  remedy: Take some off.
  why: it may bend
  source: common-practice
"""
HOUSE_TEXT = """\
plumbtrue: rig/1
house: {name: test house, batten_zero: stage-right}
line_sets:
  - {number: 1, posted_total: 100 lb, posted_counts: live, batten: {kink: none, wall_measured: 0.14 in}}
  - {number: 2, posted_total: 100 lb, posted_counts: live, batten: {kink: dent}}
  - {number: 3, posted_total: 100 lb, posted_counts: live, batten: {form: pipe}}
"""
PLOT = """\
plumbtrue: plot/1
plot:
  show: test show
  items:
    - {key: a, on: 1, weight: 90 lb, weight_basis: weighed}
    - {key: b, on: 2, weight: 90 lb, weight_basis: weighed}
    - {key: c, on: 3, weight: 190 lb, weight_basis: weighed}
"""


def audited(tmp_path: Path, *, plot: str | None) -> Audit:
    folder = tmp_path / "small"
    (folder / "rules").mkdir(parents=True, exist_ok=True)
    pack = "{plumbtrue: pack/1, name: small, edition: '1', language: 1, title: small, covers: [a], leaves_out: [b]}"
    (folder / "pack.yaml").write_text(pack, encoding="utf-8")
    (folder / "rules" / "all.yaml").write_text(RULES, encoding="utf-8")
    vocabulary = load_vocabulary()
    rig = read_rig_text(HOUSE_TEXT, "house.yaml", vocabulary)
    if plot is not None:
        rig = lay(rig, read_plot_text(plot, "plot.yaml", vocabulary))
    book = load_packs(
        ("./small",), tmp_path, vocabulary, load_plugins(third_party=False), on=date(2026, 1, 1)
    )
    return audit(rig, book, date(2026, 1, 1))


def results(found: Audit, rule: str) -> dict[str, Result]:
    return {one.thing.path: one.result for one in found.outcomes if one.rule == rule}


def test_a_piece_follows_its_set(tmp_path: Path) -> None:
    found = audited(tmp_path, plot=PLOT)
    assert results(found, "set-is-in-service") == {
        "plot / item a": Result.MET,
        "plot / item b": Result.FINDING,
        "plot / item c": Result.UNDETERMINED,
    }
    (stopped,) = [one for one in found.of_result(Result.FINDING) if one.thing.path == "plot / item b"]
    assert stopped.message == "The set is stopped (pipe-is-sound).", "what nobody knows is no reason found"
    (open_one,) = [one for one in found.outcomes if one.thing.path == "plot / item c"]
    assert {(one.thing.path, one.fact) for one in open_one.missing} == {
        ("3 / batten", "kink"),
        ("3 / batten", "wall_measured"),
    }


def test_what_a_set_carries_is_about_the_piece_on_it_and_not_about_the_house(tmp_path: Path) -> None:
    found = audited(tmp_path, plot=PLOT)
    assert results(found, "within-what-is-posted")["3"] is Result.FINDING
    assert found.show is not None
    assert found.show.house_verdicts["3"].state is State.CANNOT_BE_TOLD
    assert found.verdicts["3"].state is State.BEFORE_NEXT_USE
    assert found.show.items["c"].state is State.BEFORE_NEXT_USE
    assert found.show.items["b"].state is State.OUT_OF_SERVICE
    assert found.show.items["a"].state is State.NOTHING_FOUND


def test_a_house_alone_is_not_asked_about_a_show(tmp_path: Path) -> None:
    found = audited(tmp_path, plot=None)
    assert set(results(found, "within-what-is-posted").values()) == {Result.NOT_APPLICABLE}
    assert found.show is None


def test_the_house_comes_to_the_same_with_and_without_a_plot() -> None:
    alone = check_house(HOUSE, on=ON)
    with_plot = check_house(HOUSE, on=ON, plot=DEMO / "tour-a.yaml")
    assert with_plot.show is not None
    assert {key: one.state for key, one in with_plot.show.house_verdicts.items()} == {
        key: one.state for key, one in alone.verdicts.items()
    }
    assert set(with_plot.show.items) == {f"{number:02}" for number in range(1, 27)}
