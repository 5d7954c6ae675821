"""Three-valued logic: what is not known never passes, whatever the order of the answers.

The tables are Kleene's strong ones (Introduction to Metamathematics, 1952, section 64; from memory). They are
also held against their meaning: an answer is told only when every way of settling the doubts gives it.
"""

from itertools import product

import pytest

from plumbtrue.quantities.truth import Truth, every, some

HOLDS, FAILS, CANNOT_TELL = Truth.HOLDS, Truth.FAILS, Truth.CANNOT_TELL
TRIPLES = list(product(Truth, repeat=3))


@pytest.mark.parametrize(
    ("a", "b", "conjunction", "disjunction"),
    [
        (HOLDS, HOLDS, HOLDS, HOLDS),
        (HOLDS, FAILS, FAILS, HOLDS),
        (HOLDS, CANNOT_TELL, CANNOT_TELL, HOLDS),
        (FAILS, HOLDS, FAILS, HOLDS),
        (FAILS, FAILS, FAILS, FAILS),
        (FAILS, CANNOT_TELL, FAILS, CANNOT_TELL),
        (CANNOT_TELL, HOLDS, CANNOT_TELL, HOLDS),
        (CANNOT_TELL, FAILS, FAILS, CANNOT_TELL),
        (CANNOT_TELL, CANNOT_TELL, CANNOT_TELL, CANNOT_TELL),
    ],
)
def test_two_answers_combine_as_in_kleenes_tables(
    a: Truth, b: Truth, conjunction: Truth, disjunction: Truth
) -> None:
    assert every([a, b]) is conjunction
    assert some([a, b]) is disjunction


@pytest.mark.parametrize(("answer", "opposite"), [(HOLDS, FAILS), (FAILS, HOLDS), (CANNOT_TELL, CANNOT_TELL)])
def test_the_opposite_of_a_doubt_is_a_doubt(answer: Truth, opposite: Truth) -> None:
    assert ~answer is opposite
    assert ~~answer is answer


def _settled(answer: Truth) -> tuple[bool, ...]:
    """What an answer may turn out to be."""
    return (True, False) if answer is CANNOT_TELL else (answer is HOLDS,)


def _agreed(outcomes: set[bool]) -> Truth:
    return Truth.of(outcomes.pop()) if len(outcomes) == 1 else CANNOT_TELL


@pytest.mark.parametrize("answers", TRIPLES)
def test_an_answer_is_told_exactly_when_every_settlement_agrees(answers: tuple[Truth, ...]) -> None:
    settlements = list(product(*map(_settled, answers)))
    assert every(answers) is _agreed({all(one) for one in settlements})
    assert some(answers) is _agreed({any(one) for one in settlements})


@pytest.mark.parametrize("answers", TRIPLES)
def test_the_order_of_answers_never_matters(answers: tuple[Truth, ...]) -> None:
    assert every(answers) is every(reversed(answers)) is every(answers[1:] + answers[:1])
    assert some(answers) is some(reversed(answers)) is some(answers[1:] + answers[:1])


@pytest.mark.parametrize("answers", TRIPLES)
def test_de_morgans_laws_hold_with_doubts_too(answers: tuple[Truth, ...]) -> None:
    assert ~every(answers) is some(~one for one in answers)


def test_of_nothing_at_all_everything_holds_and_nothing_does() -> None:
    assert every([]) is HOLDS
    assert some([]) is FAILS
