"""A rule is tested by its own examples, and by breaking it: an alteration that no example notices is told."""

from collections.abc import Callable
from pathlib import Path
from textwrap import dedent, indent

import pytest
from tests.packs.packs_in_text import book_of, write_pack

from plumbtrue.rules.examples.alterations import alterations, moved_both_ways
from plumbtrue.rules.examples.running import RuleTest, try_pack
from plumbtrue.rules.language.parsing import parsed
from plumbtrue.rules.language.printing import printed
from plumbtrue.rules.result import Result

RULE = """
- rule: keeper-bolt-missing
  title: A chain wrap near the end of a pipe is kept from walking off
  about: trim-chain
  parameters: {reach: {value: 12 in, meaning: distance within which a wrap can walk off}}
  when: attachment is wrap and distance_to_pipe_end < reach
  require: keeper_bolt is not none
  severity: before-next-use
  finding: No keeper bolt.
  remedy: Fit one.
  source: common-practice
"""

GOOD = """
- {outcome: met, attachment: wrap, distance_to_pipe_end: 9 in, keeper_bolt: fitted}
- {outcome: finding, attachment: wrap, distance_to_pipe_end: 11.95 in, keeper_bolt: none}
- {outcome: undetermined, attachment: wrap, distance_to_pipe_end: 9 in}
- {outcome: not-applicable, attachment: wrap, distance_to_pipe_end: 12 in}
- {outcome: not-applicable, attachment: choke, distance_to_pipe_end: 9 in}
"""

Try = Callable[..., RuleTest]


@pytest.fixture
def tried(tmp_path: Path) -> Try:
    """How one rule does with some examples."""

    def attempt(examples: str, *, rule: str = RULE, more: str = "") -> RuleTest:
        text = (
            dedent(rule)
            + indent(dedent(more), "  ")
            + "  examples:\n"
            + indent(dedent(examples).strip(), "    ")
            + "\n"
        )
        write_pack(tmp_path, "trade", rules=text)
        (test,) = try_pack(book_of(tmp_path, "trade"))
        return test

    return attempt


def survivors(test: RuleTest) -> list[str]:
    return [one.what for one in test.survivors]


def test_a_rule_with_an_example_at_every_edge_is_good(tried: Try) -> None:
    test = tried(GOOD)
    assert test.is_good
    assert (test.cases, test.alterations) == (5, 11)


def test_an_example_that_comes_out_otherwise_is_told_with_its_place(tried: Try) -> None:
    test = tried(GOOD.replace("outcome: met", "outcome: finding"))
    (wrong,) = test.wrong
    assert (wrong.expected, wrong.found.result) == (Result.FINDING, Result.MET)
    assert wrong.place.line == 13
    assert not test.is_good


def test_a_rule_needs_an_example_for_every_outcome(tried: Try) -> None:
    test = tried("- {outcome: met, attachment: wrap, distance_to_pipe_end: 9 in, keeper_bolt: fitted}")
    assert test.lacking == (Result.FINDING, Result.UNDETERMINED, Result.NOT_APPLICABLE)


def test_a_rule_without_examples_is_never_good(tried: Try) -> None:
    test = tried("[]")
    assert not test.is_good
    assert len(test.survivors) == test.alterations == 11


def test_a_weak_rule_has_survivors_and_each_names_the_example_that_would_notice(tried: Try) -> None:
    """No example near the limit, and none that is choked: the proof that the harness can tell."""
    test = tried("""
        - {outcome: met, attachment: wrap, distance_to_pipe_end: 3 in, keeper_bolt: fitted}
        - {outcome: finding, attachment: wrap, distance_to_pipe_end: 3 in, keeper_bolt: none}
        - {outcome: undetermined, attachment: wrap, distance_to_pipe_end: 3 in}
        - {outcome: not-applicable, attachment: wrap, distance_to_pipe_end: 3 ft}
    """)
    assert survivors(test) == [
        "when: attachment is wrap and distance_to_pipe_end < reach becomes distance_to_pipe_end < reach",
        "when: distance_to_pipe_end < reach becomes distance_to_pipe_end <= reach",
        "parameter reach: 12 in becomes 11.88 in",
        "parameter reach: 12 in becomes 12.12 in",
    ]
    assert [one.wanted for one in test.survivors] == [
        "one where attachment is wrap does not hold and the others do",
        "one where distance_to_pipe_end is exactly reach",
        "one between 12 in and 11.88 in, or exactly 12 in",
        "one between 12 in and 12.12 in, or exactly 12 in",
    ]


@pytest.mark.parametrize("line", range(5))
def test_every_example_of_a_good_rule_is_needed(tried: Try, line: int) -> None:
    lines = GOOD.strip().splitlines()
    test = tried("\n".join(lines[:line] + lines[line + 1 :]))
    assert not test.is_good


def test_an_alteration_may_be_kept_with_a_reason(tried: Try) -> None:
    kept = """\
        alterations_kept:
          - alteration: "when: distance_to_pipe_end < reach becomes distance_to_pipe_end <= reach"
            reason: nobody tapes a pipe to a hair
    """
    without_edge = GOOD.replace("distance_to_pipe_end: 12 in", "distance_to_pipe_end: 12.05 in")
    assert survivors(tried(without_edge)) == [
        "when: distance_to_pipe_end < reach becomes distance_to_pipe_end <= reach"
    ]
    assert tried(without_edge, more=kept).is_good


def test_an_alteration_that_is_kept_for_nothing_is_told(tried: Try) -> None:
    kept = 'alterations_kept: [{alteration: "when: it becomes another", reason: none}]\n'
    assert tried(GOOD, more=kept).needless == ("when: it becomes another",)


@pytest.mark.parametrize(
    ("text", "moved"),
    [
        ("1/4 in", ("0.2475 in", "0.2525 in")),
        ("1-1/2 in", ("1.485 in", "1.515 in")),
        ("5 %", ("4.95 %", "5.05 %")),
        ("0.8", ("0.792", "0.808")),
        ("3", ("2", "4")),
        ("0", ("1",)),
        ("0 lb", ()),
        ("12 months", ("11.88 months", "12.12 months")),
        ("2018-07-14", ("2018-07-13", "2018-07-15")),
    ],
)
def test_a_limit_is_moved_by_the_smallest_step_that_means_something(
    text: str, moved: tuple[str, ...]
) -> None:
    assert moved_both_ways(text) == moved


@pytest.mark.parametrize(
    ("expression", "others"),
    [
        ("a < b", ["a <= b", "a > b"]),
        ("a = b", ["a != b"]),
        ("a is none", ["a is not none"]),
        ("a in [x, y]", ["a not in [x, y]", "a in [y]", "a in [x]"]),
        ("a is known and b is none", ["a is known or b is none", "b is none", "a is known"]),
        ("not a includes x", ["a includes x", "not a excludes x"]),
        ("every p in l has (p is none)", ["some p in l has (p is none)", "every p in l has (p is not none)"]),
        ("no p in l has (p is none)", ["some p in l has (p is none)", "no p in l has (p is not none)"]),
        ("count of p in l where (p is none) > 0", ["count of p in l > 0"]),
        ("greatest of p.x for p in l > 0", ["least of p.x for p in l > 0"]),
        ("least(a, b) > c", ["greatest(a, b) > c"]),
        ("look up x in t for k = 3 > c", ["look up x in t for k = 4 > c"]),
    ],
)
def test_every_part_of_an_expression_is_altered(expression: str, others: list[str]) -> None:
    made = [printed(one.expression) for one in alterations(parsed(expression), lambda word: ())]
    assert set(others) <= set(made)
    assert expression not in made
