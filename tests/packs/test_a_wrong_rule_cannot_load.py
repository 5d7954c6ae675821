"""A wrong rule cannot load: each mistake is told where it stands, and all mistakes of a pack at once.

The rules below are marked as an author would find the message: `#! slug` on the line that it points to.
"""

import re
from collections.abc import Callable
from pathlib import Path
from textwrap import dedent

import pytest
from tests.packs.packs_in_text import ON, problems_of, write_pack

from plumbtrue.documents.place import Problem
from plumbtrue.plugins import load_plugins
from plumbtrue.rig.vocabulary_loading import load_vocabulary
from plumbtrue.rules.packs.loading import read_book

_MARK = re.compile(r"#! (?P<slugs>[\w, -]+)$", re.MULTILINE)

CLIPS = """
    table: clips
    is: number of clips for a rope
    source: common-practice
    columns: {size: {dimension: length, key: next-higher}, count: {type: count}}
    rows: [[1/4 in, 2], [3/8 in, 3]]
"""

RULE = """
    - rule: some-rule
      title: Something holds
      about: {about}
      require: {require}
      severity: advisory
      finding: It does not.
      remedy: Mend it.
      source: common-practice
"""


@pytest.fixture
def told(tmp_path: Path) -> Callable[[str], tuple[Problem, ...]]:
    """The problems of a marked file of rules; exactly the marked ones must be found, on the marked lines."""

    def tell(rules: str) -> tuple[Problem, ...]:
        text = dedent(rules).lstrip("\n")
        write_pack(tmp_path, "trade", rules=text, tables__clips=CLIPS)
        problems = problems_of(tmp_path, "trade")
        marked = [
            (number, slug.strip())
            for number, line in enumerate(text.split("\n"), start=1)
            for mark in _MARK.finditer(line)
            for slug in mark["slugs"].split(",")
        ]
        assert sorted((problem.where.line, problem.slug) for problem in problems) == sorted(marked)
        return tuple(problems)

    return tell


@pytest.fixture
def one(tmp_path: Path) -> Callable[[str, str], str]:
    """What is wrong with one demand, and where in it."""

    def tell(about: str, require: str) -> str:
        write_pack(tmp_path, "trade", rules=RULE.format(about=about, require=require), tables__clips=CLIPS)
        (problem,) = problems_of(tmp_path, "trade")
        column = problem.where.column - len("  require: ")
        return f"{column} {problem.slug}"

    return tell


@pytest.mark.parametrize(
    ("about", "require", "at"),
    [
        pytest.param(
            "trim-chain", "distance_to_pipe_end >= 12", "25 unit-missing", id="a limit without unit"
        ),
        pytest.param(
            "trim-chain", "distance_to_pipe_end >= 12 lb", "25 dimension-wrong", id="a weight for a length"
        ),
        pytest.param("trim-chain", "wrap >= 2", "1 name-unknown", id="a misspelt fact"),
        pytest.param("trim-chain", "attachment is rap", "15 word-unknown", id="a misspelt word"),
        pytest.param("trim-chain", "wraps", "1 not-a-claim", id="a demand that asks nothing"),
        pytest.param("trim-chain", "wraps > ", "8 expression-unreadable", id="half a demand"),
        pytest.param(
            "wire-rope-clips",
            "count >= look up count in clip for size = size",
            "10 table-unknown",
            id="a misspelt table",
        ),
    ],
)
def test_a_demand_that_means_nothing_is_told_at_its_place(
    one: Callable[[str, str], str], about: str, require: str, at: str
) -> None:
    assert one(about, require) == at


def test_all_mistakes_of_a_pack_are_told_at_once(told: Callable[[str], tuple[Problem, ...]]) -> None:
    told("""
        - rule: Some Rule                     #! rule-name
          title: Something holds
          about: trim-chane                   #! kind-unknown
          require: wraps >= 2
          severity: grave                     #! word-not-permitted
          finding: None.
          remedy: None.
          source: cfr-1926                    #! source-unknown
        - rule: another-rule                  #! key-missing
          title: Something holds
          about: trim-chain
          parameters: {most: {value: 3 fathomz, meaning: x}}    #! unit-unknown
          require: wraps > =2                 #! expression-unreadable
          severity: advisory
          finding: "{wrapz} wraps"
          source: common-practice
          note: something                     #! key-unknown
        - rule: a-third
          title: Something holds
          about: trim-chain
          let: {half: wraps / 2, again: haf}  #! name-unknown
          when: attachment is wrap
          require: half >= 1
          severity: advisory
          finding: "{wrapz} wraps"            #! name-unknown
          remedy: "{ wraps"                   #! text-braces
          source: [{work: common}]            #! source-unknown
        """)


def test_a_rule_without_examples_loads_and_is_judged(tmp_path: Path) -> None:
    write_pack(tmp_path, "trade", rules=RULE.format(about="trim-chain", require="wraps >= 2"))
    assert problems_of(tmp_path, "trade") == ()


def test_what_a_condition_says_of_the_kind_counts_for_the_demand(tmp_path: Path) -> None:
    rule = RULE.format(about="rated-part", require="wraps >= 2").replace(
        "require", "when: this is trim_chain\n      require"
    )
    write_pack(tmp_path, "trade", rules=rule)
    assert problems_of(tmp_path, "trade") == ()


@pytest.mark.parametrize(
    ("table", "slug", "said"),
    [
        pytest.param(
            CLIPS.replace("[3/8 in, 3]", "[3/8, 3]"), "unit-missing", "size", id="a key without a unit"
        ),
        pytest.param(
            CLIPS.replace("[3/8 in, 3]", "[3/8 in]"), "row-length", "1 cells for 2", id="a short row"
        ),
        pytest.param(
            CLIPS.replace("3/8 in", "1/4 in"), "table-wrong", "same key", id="a key that stands twice"
        ),
        pytest.param(
            CLIPS.replace(", key: next-higher", "").replace(", [3/8 in, 3]", ""),
            "table-wrong",
            "no column is a key",
            id="no key",
        ),
        pytest.param(
            CLIPS.replace("next-higher", "nearest"), "word-not-permitted", "nearest", id="an unknown policy"
        ),
        pytest.param(
            CLIPS.replace("{type: count}", "{}"), "column-head", "what it holds", id="a head of nothing"
        ),
        pytest.param(
            CLIPS.replace("3/8 in", "3/8 in .. 1/2 in"), "limit-not-exact", "stretch", id="a stretch"
        ),
        pytest.param(
            CLIPS.replace("common-practice", "nobody"), "source-unknown", "nobody", id="no such source"
        ),
    ],
)
def test_a_wrong_table_cannot_load(tmp_path: Path, table: str, slug: str, said: str) -> None:
    write_pack(tmp_path, "trade", tables__clips=table)
    (problem,) = problems_of(tmp_path, "trade")
    assert problem.slug == slug
    assert said in problem.what
    assert problem.where.file == "trade/tables/clips.yaml"


def test_a_table_in_two_packs_is_a_problem_that_names_both_files(tmp_path: Path) -> None:
    write_pack(tmp_path, "trade", tables__clips=CLIPS)
    write_pack(tmp_path, "house", tables__clips=CLIPS)
    (problem,) = problems_of(tmp_path, "trade", "house")
    assert problem.slug == "defined-twice"
    assert (problem.where.file, "trade/tables/clips.yaml" in problem.what) == (
        "house/tables/clips.yaml",
        True,
    )


def test_a_later_pack_may_look_into_an_earlier_ones_tables(tmp_path: Path) -> None:
    write_pack(tmp_path, "trade", tables__clips=CLIPS)
    rule = RULE.format(about="wire-rope-clips", require="count >= look up count in clips for size = size")
    write_pack(tmp_path, "house", rules=rule)
    assert problems_of(tmp_path, "trade", "house") == ()


def test_a_pack_that_is_required_must_stand_below(tmp_path: Path) -> None:
    write_pack(tmp_path, "house", more="requires: [trade]")
    (problem,) = problems_of(tmp_path, "house")
    assert problem.slug == "pack-required"


def test_what_is_missing_is_shown_as_it_would_be_written(tmp_path: Path) -> None:
    """Somebody who writes a first pack or waiver copies what the message shows."""
    folder = tmp_path / "ours"
    (folder / "rules").mkdir(parents=True)
    (folder / "pack.yaml").write_text("name: ours\n", encoding="utf-8")
    (folder / "rules" / "all.yaml").write_text("- rule: some-rule\n  about: line set\n", encoding="utf-8")
    told = {problem.what: problem.instead for problem in problems_of(tmp_path, "ours")}
    assert told["a pack needs plumbtrue"] == "write plumbtrue: pack/1"
    assert told["a pack needs language"] == "write language: 1"
    assert told["a pack needs covers"] == "write covers: [what its rules judge]"
    assert (
        told["the rule some-rule needs source"] == "write source: common-practice, or [{work: …, clause: …}]"
    )
    assert told["there is no kind or class of things line set"] == "did you mean line-set?"


def test_a_folder_beside_the_house_is_offered_by_its_path(tmp_path: Path) -> None:
    write_pack(tmp_path, "ours")
    book = read_book(["ours"], tmp_path, load_vocabulary(), load_plugins(), on=ON)
    (problem,) = book.problems
    assert problem.instead == "write ./ours, which is a folder here"
