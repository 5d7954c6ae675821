"""A house checked from its files, one or many, with plugins that work and plugins that do not."""

import os
import subprocess
import sys
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest
from tests.audit.audits_in_text import CHAIN_RULES
from tests.packs.packs_in_text import ON, head, write_pack

from plumbtrue.audit.auditing import Audit, audit
from plumbtrue.audit.gate import ExitStatus, exit_status
from plumbtrue.audit.house_check import Checked, check_house, check_many, ground_from, rules_for
from plumbtrue.documents.place import CannotRead
from plumbtrue.facts.answer import Answer
from plumbtrue.facts.store import Facts
from plumbtrue.plugins import ComputedFact, Failure, Plugin, Plugins
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import RATIO
from plumbtrue.quantities.values import UNKNOWN
from plumbtrue.rig.reading import read_rig
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Fact
from plumbtrue.rules.severity import Severity

HOUSE = """\
plumbtrue: rig/1
rule_packs: [./trade]
house: {name: test house}
line_sets:
  - number: 14
    lift_lines:
      - {mark: 1, lower: [thimble, {part: trim-chain, grade: GRADE, attachment: wrap}]}
  - number: 2
    lift_lines:
      - {mark: 1, lower: [thimble, {part: trim-chain, grade: 80, attachment: wrap}]}
"""


def write_house(folder: Path, grade: str = "43", name: str = "house.yaml") -> Path:
    """A house with its pack beside it."""
    write_pack(folder, "trade", rules=CHAIN_RULES)
    path = folder / name
    path.write_text(HOUSE.replace("GRADE", grade))
    return path


def said(found: Audit) -> list[tuple[str, str, str]]:
    return [(one.key, one.result.value, one.message) for one in found.outcomes]


def test_a_house_names_its_packs(tmp_path: Path) -> None:
    found = check_house(write_house(tmp_path), on=ON, third_party=False)
    assert [pack.name for pack in found.rulebook.packs] == ["trade"]
    assert found.verdicts["14"].state.value == "before-next-use"


def test_other_packs_can_be_asked_for(tmp_path: Path) -> None:
    write_pack(tmp_path, "mild", rules=CHAIN_RULES.replace("severity: before-next-use", "severity: advisory"))
    found = check_house(write_house(tmp_path), on=ON, packs=["./mild"], third_party=False)
    assert [pack.name for pack in found.rulebook.packs] == ["mild"]


def test_waivers_are_read_from_their_files(tmp_path: Path) -> None:
    (tmp_path / "waivers.yaml").write_text("plumbtrue: waivers/1\nwaivers: [{rule: chain-grade-too-low}]\n")
    with pytest.raises(CannotRead) as refusal:
        check_house(write_house(tmp_path), on=ON, waivers=[tmp_path / "waivers.yaml"], third_party=False)
    assert {problem.slug for problem in refusal.value.problems} == {"key-missing"}


def test_one_broken_file_stops_none_of_the_others(tmp_path: Path) -> None:
    good = write_house(tmp_path)
    broken = tmp_path / "broken.yaml"
    broken.write_text("plumbtrue: rig/1\nhouse: {name: x, colour: red}\n")
    first, second, third = check_many([good, broken, good], on=ON, third_party=False)
    assert [one.audit is None for one in (first, second, third)] == [False, True, False]
    assert second.failure is not None
    assert "colour" in second.failure.problems[0].what


@pytest.mark.parametrize("pool", [ThreadPoolExecutor, ProcessPoolExecutor])
def test_any_executor_gives_the_same_in_the_same_order(
    tmp_path: Path, pool: type[ThreadPoolExecutor] | type[ProcessPoolExecutor]
) -> None:
    paths = [write_house(tmp_path, grade, f"{grade}.yaml") for grade in ("43", "80", "30")]

    def results(houses: Sequence[Checked]) -> list[list[tuple[str, str, str]]]:
        return [said(one.audit) for one in houses if one.audit is not None]

    alone = results(list(check_many(paths, on=ON, third_party=False)))
    with pool(max_workers=2) as executor:
        together = results(list(check_many(paths, on=ON, third_party=False, executor=executor)))
    assert alone == together
    assert len(alone) == 3


def test_the_order_of_files_and_keys_in_the_house_never_matters(tmp_path: Path) -> None:
    path = write_house(tmp_path)
    forwards = said(check_house(path, on=ON, third_party=False))
    top, sets = path.read_text().split("line_sets:\n")
    first, second = sets.split("  - number: 2\n")
    turned = f"{top}line_sets:\n  - number: 2\n{second}{first}"
    path.write_text(turned.replace("grade: 43, attachment: wrap", "attachment: wrap, grade: 43"))
    assert said(check_house(path, on=ON, third_party=False)) == forwards


PRINT = """
import sys
from datetime import date
from dataclasses import replace
from pathlib import Path
from plumbtrue.audit.house_check import check_house
found = check_house(Path(sys.argv[1]), on=date(2026, 2, 13), third_party=False)
for one in found.outcomes:
    print(one.key, one.result.value, one.message, [missing.fact for missing in one.missing], one.values)
print(list(found.verdicts), found.coverage.kinds, found.coverage.facts, found.rulebook.packs[0].digest)
"""


def test_the_same_house_on_the_same_day_gives_the_same_bytes(tmp_path: Path) -> None:
    path = write_house(tmp_path)
    runs = {
        subprocess.run(
            [sys.executable, "-c", PRINT, str(path)],
            env={**os.environ, "PYTHONHASHSEED": seed},
            check=True,
            capture_output=True,
        ).stdout
        for seed in ("0", "1", "77")
    }
    assert len(runs) == 1
    assert b"chain-grade-too-low @ 14 / line 1 / lower / trim-chain finding" in runs.pop()


def audited_with(plugins: Plugins, path: Path) -> Audit:
    ground = ground_from(plugins)
    rig = read_rig(path, ground.vocabulary)
    return audit(rig, rules_for(rig, path.parent, ground, on=ON), ON, further=ground.further)


def test_a_plugin_that_failed_leaves_the_run_incomplete_and_the_rest_judged(tmp_path: Path) -> None:
    plugins = Plugins((), (Failure("harbour", "harbour-rules", "1.2", "stopped with ImportError: knots"),))
    found = audited_with(plugins, write_house(tmp_path, "80"))
    assert found.incomplete == (
        "harbour: plugin harbour of harbour-rules 1.2 stopped with ImportError: knots",
    )
    assert any(one.rule == "chain-grade-too-low" for one in found.outcomes)
    assert exit_status(found, Severity.BEFORE_NEXT_USE) is ExitStatus.CANNOT_TELL


def test_a_pack_that_only_a_failed_plugin_could_bring_is_not_run(tmp_path: Path) -> None:
    path = write_house(tmp_path, "80")
    path.write_text(path.read_text().replace("[./trade]", "[harbour, ./trade]"))
    plugins = Plugins((), (Failure("harbour", "harbour-rules", "1.2", "stopped"),))
    found = audited_with(plugins, path)
    assert "harbour: no plugin that could be used brings the pack harbour" in found.incomplete


def test_a_plugin_pack_that_cannot_be_read_is_not_run_and_names_the_problem(tmp_path: Path) -> None:
    elsewhere = tmp_path / "site-packages"
    pack = write_pack(elsewhere, "harbour", rules=CHAIN_RULES.replace("grade in", "grad in"))
    path = write_house(tmp_path, "80")
    path.write_text(path.read_text().replace("[./trade]", "[harbour, ./trade]"))
    found = audited_with(Plugins((Plugin("harbour", "harbour-rules", "1.2", packs=(pack,)),)), path)
    (why,) = found.incomplete
    assert why.startswith(
        "harbour: the pack harbour of plugin harbour cannot be read: harbour/rules/chain.yaml:5:"
    )
    assert [one.name for one in found.rulebook.packs] == ["trade"]


def test_an_adjustment_of_a_pack_that_is_not_run_is_told_and_stops_nothing(tmp_path: Path) -> None:
    path = write_house(tmp_path, "80")
    (tmp_path / "trade" / "adjustments.yaml").write_text("- {rule: harbour-rule, set: {reach: 1 ft}}\n")
    path.write_text(path.read_text().replace("[./trade]", "[harbour, ./trade]"))
    found = audited_with(Plugins((), (), ("harbour",)), path)
    assert found.incomplete == (
        "harbour: the pack harbour is not built in, and plugins are switched off",
        "trade: it adjusts the rule harbour-rule, which belongs to a pack that is not run",
    )


@pytest.mark.parametrize(
    ("named", "what"),
    [
        ("../trade", "does not lie in the house's folder"),
        ("/etc", "does not lie in the house's folder"),
        ("./nowhere", "holds no pack.yaml"),
        ("practise", "no installed plugin brings a pack practise"),
    ],
)
def test_a_pack_that_is_not_there_is_a_problem(tmp_path: Path, named: str, what: str) -> None:
    path = write_house(tmp_path)
    path.write_text(path.read_text().replace("./trade", named))
    with pytest.raises(CannotRead) as refusal:
        check_house(path, on=ON, third_party=False)
    assert what in refusal.value.problems[0].what


def test_a_pack_for_a_later_rule_language_is_refused_and_not_skipped(tmp_path: Path) -> None:
    path = write_house(tmp_path)
    (tmp_path / "trade" / "pack.yaml").write_text(head("trade").replace("language: 1", "language: 2"))
    with pytest.raises(CannotRead) as refusal:
        check_house(path, on=ON, third_party=False)
    assert [problem.slug for problem in refusal.value.problems] == ["language-unknown"]


def links_per_foot(facts: Facts, chain: Thing) -> Answer:
    """A plugin's own computation: how many links of a chain go to a foot, at three wire sizes a link."""
    size = facts.value(chain, "size")
    return Answer(
        Bounds.exactly(0.3048) / (size * Bounds.exactly(3)) if isinstance(size, Bounds) else UNKNOWN
    )


def bringing(*facts: ComputedFact, part_kinds: tuple[Path, ...] = ()) -> Plugins:
    return Plugins((Plugin("harbour", "harbour-rules", "1.2", computed_facts=facts, part_kinds=part_kinds),))


COUNTED = Fact(
    "links_per_foot", "links to a foot", "ratio", "computed", RATIO, source="three wire sizes a link"
)


def test_a_rule_may_ask_for_a_fact_that_a_plugin_computes(tmp_path: Path) -> None:
    rule = """
        - rule: links-too-long
          title: Links are short
          about: trim-chain
          require: links_per_foot >= 16
          severity: advisory
          finding: "{links_per_foot} links to a foot."
          remedy: Replace the chain.
          source: common-practice
    """
    path = write_house(tmp_path, "80, size: 1/2 in")
    write_pack(tmp_path, "trade", rules=rule)
    found = audited_with(bringing(ComputedFact("trim_chain", COUNTED, links_per_foot)), path)
    assert [(one.thing.path[:2], one.result.value, one.message) for one in found.outcomes] == [
        ("2 ", "undetermined", "it cannot be told whether this holds"),
        ("14", "finding", "8 links to a foot."),
    ]
    assert found.incomplete == ()


def test_a_plugin_whose_fact_the_vocabulary_has_already_is_left_out_and_named(tmp_path: Path) -> None:
    twice = ComputedFact("trim_chain", replace(COUNTED, name="wraps"), links_per_foot)
    found = audited_with(bringing(twice), write_house(tmp_path))
    (why,) = found.incomplete
    assert why.startswith(
        "harbour: plugin harbour of harbour-rules 1.2 brings kinds or facts that do not fit"
    )


LOAD_RING = """\
kind: load_ring
word: load-ring
is: A ring that measures
classes: [rated_part]
sits_in: [any load path]
key: its kind
facts:
  battery: {is: state of its battery, type: yes/no, nature: condition, step: 7}
"""


def test_a_plugin_may_bring_a_kind_of_part(tmp_path: Path) -> None:
    kinds = tmp_path / "vocabulary" / "kinds"
    kinds.mkdir(parents=True)
    (kinds / "load_ring.yaml").write_text(LOAD_RING)
    path = write_house(tmp_path)
    path.write_text(path.read_text().replace("thimble,", "{part: load-ring, battery: yes},", 1))
    found = audited_with(bringing(part_kinds=(tmp_path / "vocabulary",)), path)
    assert found.incomplete == ()
    assert "load_ring" in [one.kind for one in found.coverage.kinds]
