"""A later pack adds, sets, tightens, relaxes or retires; each change is listed, none is silent."""

from collections.abc import Callable
from datetime import date
from pathlib import Path
from textwrap import dedent

import pytest
from tests.packs.packs_in_text import CHAIN_GRADE, KEEPER_BOLT, ON, book_of, problems_of, write_pack

from plumbtrue.facts.store import Facts
from plumbtrue.reporting.grouping import changed
from plumbtrue.rig.reading import read_rig_text
from plumbtrue.rig.vocabulary_loading import load_vocabulary
from plumbtrue.rules.examples.running import try_pack
from plumbtrue.rules.judging import Judgement, carefully
from plumbtrue.rules.language.careful import Careful
from plumbtrue.rules.packs.in_force import parts_in_force
from plumbtrue.rules.packs.pack import RuleBook
from plumbtrue.rules.result import Result
from plumbtrue.rules.rule import Rule
from plumbtrue.rules.severity import Severity

Layered = Callable[..., RuleBook]


@pytest.fixture
def layered(tmp_path: Path) -> Layered:
    """The trade's pack with a house's adjustments over it."""

    def lay(adjustments: str, *, on: date = ON) -> RuleBook:
        write_pack(tmp_path, "trade", rules=KEEPER_BOLT)
        write_pack(tmp_path, "house", adjustments=adjustments)
        return book_of(tmp_path, "trade", "house", on=on)

    return lay


@pytest.fixture
def refused(tmp_path: Path) -> Callable[[str], str]:
    """What is said of a house's adjustments that cannot be made: one problem, as slug and words."""

    def refuse(adjustments: str) -> str:
        write_pack(tmp_path, "trade", rules=KEEPER_BOLT + CHAIN_GRADE)
        write_pack(tmp_path, "house", adjustments=adjustments)
        (problem,) = problems_of(tmp_path, "trade", "house")
        assert problem.where.file == "house/adjustments.yaml"
        assert problem.where.line == 1
        return f"{problem.slug}: {problem.what}; {problem.instead}"

    return refuse


def keeper_bolt(book: RuleBook) -> Rule:
    rule = book.rule("keeper-bolt-missing")
    assert rule is not None
    return rule


@pytest.mark.parametrize(
    ("value", "said"),
    [
        pytest.param("12 in", "house states reach = 12 in too", id="in the same words"),
        pytest.param("1 ft", "house states reach = 1 ft too", id="in other words"),
        pytest.param("13 in", "house sets reach from 12 in to 13 in", id="another"),
    ],
)
def test_a_parameter_set_to_what_it_is_reads_as_that(layered: Layered, value: str, said: str) -> None:
    """A house that writes a limit down so that it stays has changed nothing today."""
    (change,) = layered(f"- {{rule: keeper-bolt-missing, set: {{reach: {value}}}}}").changes
    assert changed(change) == said


def test_a_rule_that_is_retired_reads_as_that(layered: Layered) -> None:
    retired = "{rule: keeper-bolt-missing, retire: true, reason: old, decided_by: us, decided_on: 2026-01-01}"
    (change,) = layered(f"- {retired}").changes
    assert changed(change) == "house retires the rule"


def test_a_parameter_is_set_and_its_origin_kept(layered: Layered) -> None:
    book = layered("- {rule: keeper-bolt-missing, set: {reach: 18 in}}")
    rule = keeper_bolt(book)
    assert rule.parameters["reach"].text == "18 in"
    assert rule.origins["parameters.reach"].pack == "house"
    assert rule.origins["severity"].pack == "trade"
    (change,) = book.changes
    assert (change.part, change.before, change.after, change.way) == (
        "parameters.reach",
        "12 in",
        "18 in",
        "set",
    )


def test_a_rule_is_tightened_in_severity_and_demand(layered: Layered) -> None:
    book = layered("""
        - rule: keeper-bolt-missing
          tighten: {severity: before-next-use, also_require: legs = 2}
    """)
    rule = keeper_bolt(book)
    assert rule.severity is Severity.BEFORE_NEXT_USE
    assert [clause.text for clause in rule.require] == ["keeper_bolt is not none", "legs = 2"]
    assert [change.part for change in book.changes] == ["require", "severity"]


RELAXED = """
    - rule: keeper-bolt-missing
      relax: {unless: wraps >= 4, severity: advisory}
      reason: four wraps do not walk
      decided_by: technical director
      decided_on: 2025-10-20
      until: 2026-02-13
"""


def test_a_relaxation_holds_on_its_last_day(layered: Layered) -> None:
    rule = keeper_bolt(layered(RELAXED, on=date(2026, 2, 13)))
    assert rule.severity is Severity.ADVISORY
    assert [clause.text for clause in rule.unless] == ["wraps >= 4"]


def test_a_relaxation_past_its_last_day_holds_no_longer_and_is_said_to_have_run_out(layered: Layered) -> None:
    book = layered(RELAXED, on=date(2026, 2, 14))
    rule = keeper_bolt(book)
    assert rule.severity is Severity.NEXT_MAINTENANCE
    assert rule.unless == ()
    assert [(change.part, change.in_force, change.until) for change in book.changes] == [
        ("severity", False, date(2026, 2, 13)),
        ("unless", False, date(2026, 2, 13)),
    ]


def test_a_retired_rule_stays_in_the_book_with_the_reason(layered: Layered) -> None:
    book = layered("""
        - {rule: keeper-bolt-missing, retire: true, reason: no chain is wrapped here,
           decided_by: head of flys, decided_on: 2025-10-20}
    """)
    retired = keeper_bolt(book).retired
    assert retired is not None
    assert (retired.pack, retired.reason, retired.decided_by) == (
        "house",
        "no chain is wrapped here",
        "head of flys",
    )


def test_layers_add_up(tmp_path: Path) -> None:
    write_pack(tmp_path, "trade", rules=KEEPER_BOLT)
    write_pack(
        tmp_path, "house", adjustments="- {rule: keeper-bolt-missing, tighten: {severity: before-next-use}}"
    )
    write_pack(
        tmp_path, "user", adjustments="- {rule: keeper-bolt-missing, tighten: {severity: out-of-service}}"
    )
    book = book_of(tmp_path, "trade", "house", "user")
    assert keeper_bolt(book).severity is Severity.OUT_OF_SERVICE
    assert [(change.pack, change.before, change.after) for change in book.changes] == [
        ("house", "next-maintenance", "before-next-use"),
        ("user", "before-next-use", "out-of-service"),
    ]


@pytest.mark.parametrize(
    ("adjustment", "said"),
    [
        pytest.param(
            "{rule: keeper-bolt-mising, set: {reach: 1 ft}}",
            "adjustment-matches-nothing: no rule keeper-bolt-mising stands in this pack or an earlier"
            " one; did you mean keeper-bolt-missing?",
            id="a rule that is not there",
        ),
        pytest.param(
            "{rule: keeper-bolt-missing, set: {reech: 1 ft}}",
            "parameter-unknown: the rule keeper-bolt-missing has no parameter reech; did you mean reach?",
            id="a parameter that is not there",
        ),
        pytest.param(
            "{rule: keeper-bolt-missing, set: {reach: 20 lb}}",
            "dimension-wrong: reach is a length, such as 12 in, not a weight or pull; write a length",
            id="a limit of another dimension",
        ),
        pytest.param(
            "{rule: keeper-bolt-missing, tighten: {severity: advisory}}",
            "severity-goes-the-wrong-way: advisory does not tighten keeper-bolt-missing, which is "
            "next-maintenance; write a graver severity to tighten, a milder one to relax",
            id="tightening to a milder severity",
        ),
        pytest.param(
            "{rule: keeper-bolt-missing, set: {reach: 6 in}}",
            "parameter-goes-the-wrong-way: 6 in instead of 12 in relaxes the rule keeper-bolt-"
            "missing; write it under tighten where it asks for more, under relax and with a reason "
            "where for less",
            id="setting a limit so that the rule asks for less",
        ),
        pytest.param(
            "{rule: keeper-bolt-missing, tighten: {require: legs = 2}}",
            "adjustment-part: tighten takes no require; write also_require, which holds beside what "
            "the rule asks already",
            id="replacing what a rule asks",
        ),
        pytest.param(
            "{rule: keeper-bolt-missing, tighten: {also_require: leg = 2}}",
            "name-unknown: a trim chain has no fact called leg; write legs",
            id="a condition with a misspelt fact",
        ),
        pytest.param(
            "{rule: chain-grade-too-low, relax: {severity: advisory}, reason: old, decided_by: us, "
            "decided_on: 2025-01-01}",
            "relaxing-forbidden: the rule chain-grade-too-low of trade forbids that it is relaxed or "
            "retired; take the adjustment out; a finding can be accepted at one place until a date",
            id="relaxing what forbids it",
        ),
        pytest.param(
            "{rule: chain-grade-too-low, retire: true, reason: old, decided_by: us, decided_on: 2025-01-01}",
            "relaxing-forbidden: the rule chain-grade-too-low of trade forbids that it is relaxed or "
            "retired; take the adjustment out; a finding can be accepted at one place until a date",
            id="retiring what forbids it",
        ),
        pytest.param(
            "{rule: keeper-bolt-missing, relax: {severity: advisory}, reason: old, decided_by: us}",
            "decision-missing: an adjustment that says relax needs decided_on; "
            "write decided_on: and the day, such as 2026-02-13",
            id="relaxing without a date of decision",
        ),
        pytest.param(
            "{rule: keeper-bolt-missing, relax: {severity: advisory}, tighten: {also_require: legs = 2}}",
            "adjustment-way: an adjustment does one thing; write one of set, tighten, relax, retire",
            id="two ways at once",
        ),
    ],
)
def test_an_adjustment_that_cannot_be_made_is_a_problem(
    refused: Callable[[str], str], adjustment: str, said: str
) -> None:
    assert refused(f"- {adjustment}") == said


def test_two_changes_of_one_pack_to_one_part_are_a_problem_and_not_a_race(tmp_path: Path) -> None:
    write_pack(tmp_path, "trade", rules=KEEPER_BOLT)
    twice = """
        - {rule: keeper-bolt-missing, set: {reach: 18 in}}
        - {rule: keeper-bolt-missing, set: {reach: 24 in}}
    """
    write_pack(tmp_path, "house", adjustments=twice)
    (problem,) = problems_of(tmp_path, "trade", "house")
    assert problem.slug == "changed-twice"
    assert "house/adjustments.yaml:2:" in problem.what


def test_the_same_rule_in_two_packs_is_a_problem_that_names_both_files(tmp_path: Path) -> None:
    write_pack(tmp_path, "trade", rules=KEEPER_BOLT)
    write_pack(tmp_path, "house", rules=KEEPER_BOLT)
    (problem,) = problems_of(tmp_path, "trade", "house")
    assert problem.slug == "defined-twice"
    assert problem.where.file == "house/rules/chain.yaml"
    assert "trade/rules/chain.yaml:2:" in problem.what


def test_the_same_rule_in_two_files_of_a_pack_is_a_problem_too(tmp_path: Path) -> None:
    write_pack(tmp_path, "trade", rules={"chain": KEEPER_BOLT, "ends": KEEPER_BOLT})
    (problem,) = problems_of(tmp_path, "trade")
    assert problem.where.file == "trade/rules/ends.yaml"
    assert "trade/rules/chain.yaml:2:" in problem.what


def test_a_former_name_may_not_be_given_to_another_rule(tmp_path: Path) -> None:
    write_pack(tmp_path, "trade", rules=KEEPER_BOLT)
    renamed = CHAIN_GRADE.replace("source:", "formerly: [keeper-bolt-missing]\n      source:")
    write_pack(tmp_path, "house", rules=renamed)
    (problem,) = problems_of(tmp_path, "trade", "house")
    assert problem.slug == "defined-twice"


def test_a_rule_is_adjusted_by_its_former_name(tmp_path: Path) -> None:
    renamed = KEEPER_BOLT.replace("source:", "formerly: [wrap-walks-off]\n      source:")
    write_pack(tmp_path, "trade", rules=renamed)
    write_pack(tmp_path, "house", adjustments="- {rule: wrap-walks-off, set: {reach: 18 in}}")
    assert keeper_bolt(book_of(tmp_path, "trade", "house")).parameters["reach"].text == "18 in"


def test_the_order_of_files_and_keys_never_matters(tmp_path: Path) -> None:
    forwards, backwards = tmp_path / "forwards", tmp_path / "backwards"
    write_pack(forwards, "trade", rules={"a": KEEPER_BOLT, "b": CHAIN_GRADE})
    turned = dedent(KEEPER_BOLT).replace("- rule: keeper-bolt-missing\n", "- source: common-practice\n")
    turned = turned.replace("  source: common-practice\n", "  rule: keeper-bolt-missing\n")
    write_pack(backwards, "trade", rules={"a": CHAIN_GRADE, "b": turned})

    def said(folder: Path) -> list[tuple[object, ...]]:
        rules = book_of(folder, "trade").rules
        return [
            (rule.slug, rule.title, rule.require[0].text, rule.severity, rule.citations) for rule in rules
        ]

    assert said(forwards) == said(backwards)


def test_the_digest_changes_with_a_letter_and_with_nothing_else(tmp_path: Path) -> None:
    first, same, other = tmp_path / "first", tmp_path / "same", tmp_path / "other"
    write_pack(first, "trade", rules=KEEPER_BOLT)
    write_pack(same, "trade", rules=KEEPER_BOLT)
    write_pack(other, "trade", rules=KEEPER_BOLT.replace("12 in", "13 in"))
    (same / "trade" / "notes.txt").write_text("not part of the pack")
    digests = [book_of(folder, "trade").packs[0].digest for folder in (first, same, other)]
    assert digests[0] == digests[1] != digests[2]


EXAMPLES = """
      examples:
        - {outcome: not-applicable, attachment: wrap, distance_to_pipe_end: 15 in, keeper_bolt: none}
        - {outcome: finding, attachment: wrap, distance_to_pipe_end: 9 in, keeper_bolt: none}
        - {outcome: met, attachment: wrap, distance_to_pipe_end: 9 in, keeper_bolt: fitted}
"""


def test_a_rule_is_tried_as_its_own_pack_has_it(tmp_path: Path) -> None:
    write_pack(tmp_path, "trade", rules=KEEPER_BOLT.rstrip() + EXAMPLES)
    write_pack(tmp_path, "house", adjustments="- {rule: keeper-bolt-missing, set: {reach: 18 in}}")
    (test,) = try_pack(book_of(tmp_path, "trade", "house"))
    assert test.wrong == ()


def test_a_rule_in_force_says_which_pack_set_each_part(layered: Layered) -> None:
    book = layered("""
        - rule: keeper-bolt-missing
          tighten: {severity: before-next-use, also_require: legs = 2, reach: 18 in}
    """)
    parts = parts_in_force(keeper_bolt(book), book)
    assert [(part.name, part.says, part.origin.pack, len(part.changes)) for part in parts] == [
        ("about", "trim-chain", "trade", 0),
        ("parameters.reach", "18 in", "house", 1),
        ("when", "attachment is wrap and distance_to_pipe_end < reach", "trade", 0),
        ("require", "keeper_bolt is not none", "trade", 1),
        ("require", "legs = 2", "house", 1),
        ("severity", "before-next-use", "house", 1),
    ]
    assert parts[1].origin.place.file == "house/adjustments.yaml"


def judged(book: RuleBook, legs: int, keeper_bolt_is: str) -> Judgement:
    """What the rule about keeper bolts says of one chain."""
    rig = read_rig_text(
        f"plumbtrue: rig/1\nhouse: {{name: test house}}\nline_sets: [{{number: 14, lift_lines: [{{mark: 1, lower: "
        f"[{{part: trim-chain, attachment: wrap, distance_to_pipe_end: 9 in, legs: {legs}, "
        f"keeper_bolt: {keeper_bolt_is}}}]}}]}}]",
        "house.yaml",
        load_vocabulary(),
    )
    (chain,) = (thing for thing in rig.house.below() if thing.kind.name == "trim_chain")
    return carefully(keeper_bolt(book), Careful(Facts(rig, ON), chain))


ASKED = "tighten: {also_require: legs = 2}"
IN_WORDS = "finding: 'Legs of the chain: {legs}.', remedy: Hang it by both legs."


@pytest.mark.parametrize(
    ("adjustment", "legs", "bolt", "finding", "remedy"),
    [
        pytest.param(
            ASKED,
            1,
            "fitted",
            "house asks as well that legs = 2, and that does not hold.",
            "Meet what house asks as well: legs = 2.",
            id="in the words of the clause",
        ),
        pytest.param(
            f"{ASKED}, {IN_WORDS}",
            1,
            "fitted",
            "Legs of the chain: 1. Asked as well by house.",
            "Hang it by both legs.",
            id="in words of its own",
        ),
        pytest.param(
            f"{ASKED}, {IN_WORDS}",
            2,
            "none",
            "The wrap sits 9 in from the end of the pipe and has no keeper bolt.",
            "Fit a bolt through the two chain legs just above the pipe.",
            id="only what the rule asked already",
        ),
        pytest.param(
            f"{ASKED}, {IN_WORDS}",
            1,
            "none",
            "The wrap sits 9 in from the end of the pipe and has no keeper bolt. Legs of the chain: 1. Asked as "
            "well by house.",
            "Fit a bolt through the two chain legs just above the pipe. Hang it by both legs.",
            id="both",
        ),
    ],
)
def test_a_finding_of_an_added_demand_says_what_was_added_and_by_whom(
    layered: Layered, adjustment: str, legs: int, bolt: str, finding: str, remedy: str
) -> None:
    """A chain with its bolt fitted was told to have none, since another pack asked for two legs."""
    found = judged(layered(f"- {{rule: keeper-bolt-missing, {adjustment}}}"), legs, bolt)
    assert (found.result, found.message, found.remedy) == (Result.FINDING, finding, remedy)


def test_words_of_an_added_demand_are_checked_when_the_pack_is_loaded(refused: Callable[[str], str]) -> None:
    said = refused(f"- {{rule: keeper-bolt-missing, {ASKED}, finding: 'Legs: {{leggs}}.'}}")
    assert "leggs" in said
    assert said.endswith("write legs")


def test_words_without_an_added_demand_are_refused(refused: Callable[[str], str]) -> None:
    assert refused("- {rule: keeper-bolt-missing, tighten: {reach: 18 in}, finding: Too near.}") == (
        "adjustment-part: finding belongs to also_require, which is not written; write also_require under tighten, or "
        "leave finding out"
    )
