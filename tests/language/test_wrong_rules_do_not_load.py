"""A rule that compares unlike things, names what is not there or asks what can never be is refused before
any rig is read, with what to write.
"""

import pytest
from tests.language.small_rig import HERE, claimed, scope, written

from plumbtrue.documents.place import Place, Problem
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import LENGTH
from plumbtrue.rules.language.checking import check, check_claim, with_lets
from plumbtrue.rules.language.parsing import parse
from plumbtrue.rules.language.scope import Given, Scope
from plumbtrue.rules.language.tables import Column, Table
from plumbtrue.rules.language.value_types import PLAIN, Figures, OneWord

CLIPS = Table(
    "clips",
    (
        Column("size", Figures(LENGTH), "next-higher"),
        Column("grade", OneWord(frozenset({"30", "80"})), "exact"),
        Column("least", PLAIN),
    ),
    ((0.00635, "30", 2.0),),
)
CHAIN = scope(
    "trim_chain",
    {
        "reach": Given.figure("12 in", Bounds.exactly(0.3048), LENGTH),
        "allowed": Given.choice(frozenset({"wrap", "rap"})),
    },
    {"clips": CLIPS},
)


def problem(text: str, about: str | Scope = CHAIN) -> Problem:
    checked = claimed(text, about)
    assert checked.meaning is None
    assert len(checked.problems) == 1, checked.problems
    return checked.problems[0]


WRONG = [
    # unlike things
    (
        "distance_to_pipe_end < 450 lb",
        "dimension-wrong",
        "with a length, such as 1/4 in or 6.4 mm",
    ),
    ("distance_to_pipe_end < 12", "unit-missing", "write a length, such as 1/4 in or 6.4 mm"),
    ("3 < working_load_limit", "unit-missing", "write a weight or pull, such as 450 lb or 2 kN"),
    ("distance_to_pipe_end + working_load_limit > 1 in", "dimension-wrong", ""),
    (
        "distance_to_pipe_end * working_load_limit > 1 in",
        "dimension-wrong",
        "a moment or torque",
    ),
    ("installed > 2 years", "dimension-wrong", "age of installed > 12 months"),
    ("installed + lift_line.rope.installed > 2018-01-01", "dates-added", "subtract them"),
    ("installed * 2 > 2018-01-01", "figure-wanted", "a length of time"),
    ("age of wraps > 2 years", "no-date", ""),
    ("attachment < grade", "not-comparable", ""),
    ('lift_line.rope.tag < "A"', "not-comparable", ""),
    ('note = "x"', "not-comparable", "free text"),
    ("attachment is known and note includes crack", "word-list-wanted", ""),
    ("attachment + 1 < 2", "figure-wanted", ""),
    ("least(wraps, reach) < 2", "dimension-wrong", ""),
    ("abs(wraps, wraps) < 2", "figure-wanted", "abs(a)"),
    ("least(wraps) < 2", "figure-wanted", "least of a for x in list"),
    ("most(wraps, 2) < 2", "function-unknown", "abs, least or greatest"),
    # the calendar and days
    ("age of installed > 90 days", "calendar-and-days", "days since"),
    ("days since installed > 12 months", "calendar-and-days", "age of"),
    ("today - installed > 2 years", "calendar-and-days", "age of"),
    ("installed + 12 months < today", "calendar-and-days", "age of installed <= 12 months"),
    ("age of installed + 3 days > 2 years", "dimension-wrong", "months and years with age of"),
    # names
    ("distanse_to_pipe_end < 1 in", "name-unknown", "write distance_to_pipe_end"),
    ("lift_line.rope.diametre < 1 in", "name-unknown", "write diameter"),
    ("lift_lin.rope.diameter < 1 in", "name-unknown", "write lift_line"),
    ("rope.diameter < 1 in", "never-within", "name a thing that it lies in"),
    ("attachment.size < 1 in", "not-a-thing", ""),
    ("reatch < 1 in", "name-unknown", "write reach"),
    ("distance_to_pipe_end < none", "name-unknown", "is none"),
    ("within arbor", "never-within", ""),
    ("within lift_lin", "kind-unknown", "write lift_line"),
    ("lift_line.load_path is none", "not-in-a-path", "name the list"),
    # words
    ("attachment is warp", "word-unknown", "write wrap"),
    ("attachment in [wrap, clam]", "word-unknown", "write clamp"),
    ("attachment in [wrap, wrap]", "word-twice", ""),
    ("attachment in allowed", "word-unknown", "write wrap"),
    ("attachment in reach", "list-of-words", "write the words"),
    ("attachment = wrap", "word-compared", "attachment is wrap"),
    ("attachment != clamp", "word-compared", "attachment is not clamp"),
    ('attachment = "wrap"', "word-compared", "attachment is wrap"),
    ("grade = 30", "word-compared", "grade is 30"),
    ("attachment is wrap or clamp", "not-a-claim", "attachment in [wrap, clamp]"),
    ("secured", "not-a-claim", "secured is yes"),
    ("secured is maybe", "word-unknown", "yes or no"),
    ("not wraps", "not-a-claim", ""),
    ("lift_line.rope.tag is A7", "word-fact-wanted", 'lift_line.rope.tag = "A7"'),
    ("lift_line.rope.tag in [A7]", "word-fact-wanted", 'write "A7"'),
    ("damage is crack", "word-fact-wanted", "damage includes crack"),
    ("attachment includes wrap", "word-list-wanted", "attachment is wrap"),
    ("damage includes crak", "word-unknown", "write crack"),
    ("wraps is 2", "word-fact-wanted", "wraps ="),
    ("lift_line is shackle", "kind-unknown", ""),
    ("this is thimble", "kind-unknown", ""),
    ("this is trim_chainn", "kind-unknown", "trim_chain"),
    # none
    ("wraps is none", "never-none", "wraps = 0"),
    ("attachment is none", "never-none", "is not known"),
    ("wraps + 1 is none", "never-none", ""),
    ("distance_to_pipe_end < reach is known", "expression-unreadable", ""),
    # lists
    ("line_set.lift_lines.rope.diameter < 1 in", "several-values", "say every, some"),
    ("every d in lift_line.rope.diameter has (d < 1 in)", "list-wanted", ""),
    ("every l in line_set.lift_lines has (wraps)", "not-a-claim", ""),
    ("every reach in line_set.lift_lines has (reach is none)", "name-ambiguous", ""),
    ("every l in line_set.lift_lines has (some l in l.lower has (l is thimble))", "name-ambiguous", ""),
    (
        "count of p in load_path where (p.wraps > 1) = 1",
        "fact-of-some-kinds",
        "say first which it is: p is trim",
    ),
    ("some p in load_path has (p.material is copper)", "fact-of-some-kinds", "say first"),
    ("same l.rope for l in line_set.lift_lines", "not-comparable", ""),
    ("sum of l.rope.installed for l in line_set.lift_lines > 1", "figure-wanted", ""),
    ("line_set.lift_lines.rope is none", "several-values", "every x in"),
    # tables
    ("wraps < look up least in clip for size = 1 in, grade = grade", "table-unknown", "write clips"),
    ("wraps < look up leest in clips for size = 1 in, grade = grade", "column-unknown", "write least"),
    ("wraps < look up size in clips for size = 1 in, grade = grade", "column-unknown", "write least"),
    ("wraps < look up least in clips for size = 1 in", "table-keys", "for size = …, grade = …"),
    ("wraps < look up least in clips for size = 1 lb, grade = grade", "dimension-wrong", ""),
    ("wraps < look up least in clips for size = 1 in, grade = attachment", "dimension-wrong", ""),
    # figures
    ("reach < 3 foots", "unit-unknown", ""),
    ("allowed = 3", "list-of-words", "in allowed"),
]


@pytest.mark.parametrize(("text", "slug", "instead"), WRONG)
def test_a_wrong_rule_is_told_once_with_what_to_write(text: str, slug: str, instead: str) -> None:
    found = parse(text, HERE)
    told = found if isinstance(found, Problem) else problem(text)
    assert told.slug == slug
    assert instead in told.instead


RIGHT = [
    "distance_to_pipe_end < reach and lift_line.rope.diameter * 6 >= 1-1/2 in",
    "working_load_limit / (lift_line.rope.loss * 2) > 450 lb",
    "working_load_limit * distance_to_pipe_end <= 15 ft-lb",
    "age of installed > 12 months and days since installed > 90 days",
    "installed + 90 days > today and today - installed < 90 days",
    "greatest of i.on for i in house.inspections where (i.qualification is competent) >= installed",
    "some p in load_path has (p is thimble and p.size >= 1/4 in)",
    "every p in load_path has (p is not trim_chain or p.wraps < 2)",
    "every p in load_path where (p is wire_rope_clips) has (some m in p.material has (m is malleable))",
    "some p in load_path has (p in [thimble, swage_sleeve])",
    "no p in load_path has (p is this)",
    "this is trim-chain and lift_line.rope is none",
    "same l.rope.construction for l in line_set.lift_lines where (l.role is lift)",
    "count of l in line_set.lift_lines = line_set.lines_stated",
    "sum of w.weight * w.count for w in line_set.arbor.weights <= line_set.arbor.capacity",
    'lift_line.rope.tag in ["A7", "B8"] and lift_line.rope.tag is not none',
    "wraps >= look up least in clips for size = lift_line.rope.diameter, grade = grade",
    "line_set.arbor is none or line_set.arbor.weights is none",
    'within line_set and house.name = "x"',
    "grade is 30 or grade in [43, 70]",
    "damage excludes crack and some d in damage has (d is bent)",
    "note is known",
]


@pytest.mark.parametrize("text", RIGHT)
def test_a_right_rule_loads(text: str) -> None:
    assert claimed(text, CHAIN).problems == ()


def test_the_problem_points_at_the_word_and_not_at_the_rule() -> None:
    told = problem("wraps >= 2 and attachment is warp")
    assert told.where == Place("rules.yaml", 1, 30)
    assert told.length == len("warp")


def test_every_problem_of_a_rule_is_told() -> None:
    checked = claimed("wrapps >= 2 and attachment is warp and grade = attachment", CHAIN)
    assert [one.slug for one in checked.problems] == ["name-unknown", "word-unknown", "not-comparable"]


def test_kinds_that_a_condition_has_named_bring_their_facts_into_reach() -> None:
    part = scope("part")
    when = check_claim(written("this is trim_chain and wraps >= 2"), part)
    assert when.meaning is not None
    require = written("keeper_bolt is not none")
    assert check_claim(require, part).problems[0].slug == "fact-of-some-kinds"
    assert check_claim(require, part.where(when.meaning)).problems == ()


def test_what_is_said_in_one_part_of_an_or_does_not_count_in_the_other() -> None:
    told = problem("this is trim_chain or wraps >= 2", "part")
    assert (told.slug, told.what) == ("name-unknown", "a thing has no fact called wraps")
    assert claimed("this is not trim_chain or wraps >= 2", "part").problems == ()


def test_named_values_may_build_on_one_another_in_any_order() -> None:
    made, problems = with_lets(CHAIN, {"b": written("2 * a"), "a": written("distance_to_pipe_end")})
    assert problems == ()
    assert check(written("b < reach"), made).problems == ()


@pytest.mark.parametrize(
    ("lets", "slug"),
    [
        ({"a": "b + reach", "b": "a"}, "let-circle"),
        ({"a": "a"}, "let-circle"),
        ({"wraps": "3"}, "name-ambiguous"),
        ({"reach": "3"}, "name-ambiguous"),
        ({"today": "installed"}, "name-ambiguous"),
        ({"a": "wrapps"}, "name-unknown"),
        ({f"a{number}": "wraps" for number in range(41)}, "expression-too-large"),
    ],
)
def test_a_wrong_named_value_is_told_once(lets: dict[str, str], slug: str) -> None:
    made, problems = with_lets(CHAIN, {name: written(text) for name, text in lets.items()})
    assert [problem.slug for problem in problems] == [slug]
    used = check(written(f"{next(iter(made.lets), 'wraps')} is known"), made)
    assert [problem.slug for problem in used.problems if problem.slug != "name-ambiguous"] == []


def test_the_trade_words_are_used_in_messages() -> None:
    assert (
        problem("distance_to_pipe_end < 450 lb").what
        == "distance_to_pipe_end is a length, and 450 lb is a weight or pull"
    )
    assert problem("lift_lines is none", "trim_chain").what == "a trim chain has no fact called lift_lines"


def test_named_values_that_double_again_and_again_are_refused() -> None:
    lets = {
        "a0": written("wraps + wraps"),
        **{f"a{n}": written(f"a{n - 1} + a{n - 1}") for n in range(1, 30)},
    }
    made, problems = with_lets(CHAIN, lets)
    assert [problem.slug for problem in problems] == ["expression-too-large"]
    assert made.lets["a9"] is not None


def test_named_values_that_stand_deep_in_one_another_are_refused() -> None:
    lets = {"a0": written("wraps"), **{f"a{n}": written("-" * 20 + f"a{n - 1}") for n in range(1, 9)}}
    _, problems = with_lets(CHAIN, lets)
    assert [problem.slug for problem in problems] == ["expression-too-large"]
    made, problems = with_lets(CHAIN, dict(list(lets.items())[:5]))
    assert problems == ()
    assert check(written("-" * 30 + "a4"), made).problems[0].slug == "expression-too-large"
