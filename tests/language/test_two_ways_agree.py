"""Random rules about random rigs: both ways of judging agree, a third and slower judge agrees with them,
and what is not known never passes.

The rigs hold unknown facts, bounds, lists that are empty or longer than written, and figures exactly on
the limits of the rules.
"""

import os

import pytest
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st
from tests.language.made_up_expressions import LETS, PARAMETERS, TABLES, claims
from tests.language.made_up_rigs import Judged, completed, less_known, rigs
from tests.language.naive_judge import DifferingError, NaiveJudge, WrongError
from tests.language.small_rig import Rig, scope, thing, written

from plumbtrue.facts.store import NotExact
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.literals import Literal_, read_literal
from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.values import Choice
from plumbtrue.rules.language.careful import evaluate
from plumbtrue.rules.language.checking import check_claim
from plumbtrue.rules.language.environment import RuleError
from plumbtrue.rules.language.fast import compile_fast
from plumbtrue.rules.language.meaning import Meaning
from plumbtrue.rules.language.nodes import Expression
from plumbtrue.rules.language.printing import printed

SCOPE = scope("trim_chain", PARAMETERS, TABLES, LETS)
RIG = Rig()
EXAMPLES = int(os.environ.get("PLUMBTRUE_EXAMPLES", "100"))
"""More of them are tried where time allows: PLUMBTRUE_EXAMPLES=5000 python -m pytest tests/language"""
ORDINARY = settings(
    max_examples=EXAMPLES,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)


def meaning_of(expression: Expression) -> Meaning:
    checked = check_claim(expression, SCOPE)
    assert checked.meaning is not None, (printed(expression), checked.problems)
    return checked.meaning


def careful(meaning: Meaning, this: Judged) -> Truth | None:
    """The careful answer; nothing where the rule fails by itself."""
    try:
        return evaluate(meaning, RIG, this.thing).truth
    except RuleError:
        return None


def fast(meaning: Meaning, this: Judged) -> Truth | None:
    """The fast answer; nothing where it hands over."""
    try:
        return Truth.of(compile_fast(meaning)(RIG, this.thing))
    except NotExact:
        return None


def naive(expression: Expression, this: Judged) -> bool | str | None:
    try:
        return NaiveJudge(RIG, this.thing).judge(expression)
    except WrongError:
        return "wrong"
    except DifferingError:
        return None


@ORDINARY
@given(claims(), rigs())
def test_where_the_fast_way_answers_the_careful_way_says_the_same(
    expression: Expression, this: Judged
) -> None:
    meaning = meaning_of(expression)
    quick = fast(meaning, this)
    event(f"fast {'answers' if quick else 'hands over'}")
    if quick is not None:
        assert careful(meaning, this) is quick, printed(expression)


@ORDINARY
@given(claims(), rigs(whole=True))
def test_where_everything_is_known_all_three_judges_agree(expression: Expression, this: Judged) -> None:
    meaning = meaning_of(expression)
    told, simple, quick = careful(meaning, this), naive(expression, this), fast(meaning, this)
    event(f"naive {simple}, fast {'answers' if quick else 'hands over'}")
    if simple == "wrong":
        assert told is None, printed(expression)
    elif simple is not None:
        assert told is Truth.of(simple is True), printed(expression)
    if quick is not None:
        assert told is quick, printed(expression)


@ORDINARY
@given(claims(), rigs(), st.data())
def test_what_is_told_holds_however_the_unknown_turns_out(
    expression: Expression, this: Judged, data: st.DataObject
) -> None:
    meaning = meaning_of(expression)
    told = careful(meaning, this)
    event(f"told {told}")
    if told is Truth.HOLDS or told is Truth.FAILS:
        turned_out = data.draw(completed(this))
        simple = naive(expression, turned_out)
        assert simple in (None, told is Truth.HOLDS), printed(expression)
        assert careful(meaning, turned_out) is told, printed(expression)


@ORDINARY
@given(claims(), rigs(), st.data())
def test_knowing_less_never_tells_more(expression: Expression, this: Judged, data: st.DataObject) -> None:
    meaning = meaning_of(expression)
    poorer = data.draw(less_known(this))
    told = careful(meaning, poorer)
    if told is Truth.HOLDS or told is Truth.FAILS:
        assert careful(meaning, this) is told, printed(expression)


@ORDINARY
@given(claims(), rigs())
def test_what_cannot_be_told_says_what_is_missing(expression: Expression, this: Judged) -> None:
    try:
        found = evaluate(meaning_of(expression), RIG, this.thing)
    except RuleError:
        return
    if found.truth is Truth.CANNOT_TELL:
        assert found.missing, printed(expression)
    else:
        assert not found.missing, printed(expression)


LIMITS = ("1 in", "0 in", "-3 in", "1/3 ft", "12345 ft")
STEPS = (0.0, 1e-16, 4e-10, 9.99999e-10, 1e-9, 1.00001e-9, 2e-9, 4e-9, 5e-9, 1e-6)
"""Relative distances from a limit, about the one within which two figures are the same."""


@pytest.mark.parametrize("limit", LIMITS)
@pytest.mark.parametrize("text", ["{0} {1} {2}", "{2} {1} {0}"])
@pytest.mark.parametrize("operator", ["<", "<=", ">", ">=", "=", "!="])
def test_both_ways_mean_the_same_at_the_edge_of_a_limit(limit: str, text: str, operator: str) -> None:
    """A fixed limit is compared without a look at how close a figure is where it is far enough away."""
    meaning = meaning_of(written(text.format("distance_to_pipe_end", operator, limit)))
    quick = compile_fast(meaning)
    edge = read_literal(limit)
    assert isinstance(edge, Literal_)
    for step in (*STEPS, *(-one for one in STEPS)):
        figure = edge.bounds.low * (1 + step) if edge.bounds.low else step
        chain = thing("trim_chain", distance_to_pipe_end=Bounds.exactly(figure))
        assert Truth.of(quick(RIG, chain)) is careful(meaning, Judged(chain)), (operator, step)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("distance_to_pipe_end < 12 in", Truth.HOLDS),
        ("distance_to_pipe_end * 2 > 1 ft", Truth.FAILS),
        ("distance_to_pipe_end > 1 in and attachment is clamp", Truth.FAILS),
        ("wraps > 2 or distance_to_pipe_end <= 5 in", Truth.HOLDS),
        ("attachment in [wrap, two-part] and keeper_bolt is not known", Truth.HOLDS),
        ("not (wraps > 2 and distance_to_pipe_end > 1 ft)", Truth.HOLDS),
        ("every l in line_set.lift_lines has (l.rope.diameter < 12 in or wraps > 2)", Truth.HOLDS),
    ],
)
def test_the_fast_way_settles_what_bounds_and_other_claims_settle(text: str, told: Truth) -> None:
    """A chain vouched for in general: its distance is known within bounds, its wraps not at all."""
    attachment = Choice(frozenset({"wrap", "two-part"}))
    chain = thing("trim_chain", distance_to_pipe_end=Bounds(0.0, 0.1), attachment=attachment)
    rope = thing("rope", diameter=Bounds(0.005, 0.007))
    thing("line_set", lift_lines=(thing("lift_line", rope=rope, lower=(chain,)),))
    meaning = meaning_of(written(text))
    assert fast(meaning, Judged(chain)) is careful(meaning, Judged(chain)) is told
