"""Each kind of message about a figure, a date or a place has its paragraph."""

import pytest

from plumbtrue.documents.figure_messages import EXPLANATIONS
from plumbtrue.documents.messages import Explanation
from plumbtrue.quantities.unreadable import SLUGS


def test_every_slug_has_its_paragraph_in_the_order_of_the_alphabet() -> None:
    assert [explanation.slug for explanation in EXPLANATIONS] == sorted(SLUGS)


@pytest.mark.parametrize("explanation", EXPLANATIONS, ids=lambda explanation: explanation.slug)
def test_a_paragraph_is_made_of_whole_sentences(explanation: Explanation) -> None:
    for part in (explanation.cause, explanation.meaning, explanation.what_to_do):
        assert part[0].isupper()
        assert part.endswith(".")
