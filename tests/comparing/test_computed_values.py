"""What a revision did to computed values, with before, after and difference."""

from pathlib import Path

import pytest
from tests.comparing.revisions import compared
from tests.packs.packs_in_text import book_of
from tests.reporting.small_house import HOUSE, write_house

from plumbtrue.audit.comparing import Comparison
from plumbtrue.audit.computed_changes import ComputedChange
from plumbtrue.audit.watched_values import WATCHED
from plumbtrue.documents.place import CannotRead
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.reporting.comparison_rows import value_rows
from plumbtrue.rig.reading import read_rig_text
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.vocabulary_loading import load_vocabulary

POUND = 4.4482216152605
"""[N] (NIST SP 811)."""


def read(text: str) -> Rig:
    lines = text.replace("\n    ", "\n").lstrip()
    try:
        return read_rig_text(lines, "house.yaml", load_vocabulary())
    except CannotRead as refusal:
        raise AssertionError(str(refusal)) from refusal


@pytest.fixture(scope="module")
def there_and_back(tmp_path_factory: pytest.TempPathFactory) -> tuple[Comparison, Comparison]:
    """A posted load of 400 lb on set 1 becomes one of 350 lb, and goes back."""
    folder = tmp_path_factory.mktemp("house")
    write_house(folder)
    rules = book_of(folder, "trade")
    old, new = read(HOUSE), read(HOUSE.replace("posted_total: 400 lb", "posted_total: 350 lb"))
    return compared(old, new, rules), compared(new, old, rules)


def value(found: Comparison, path: str, fact: str) -> ComputedChange:
    (one,) = [one for one in found.values if (one.new.path, one.fact.name) == (path, fact)]
    return one


def test_less_load_posted_is_less_reaction_in_the_worst_case(
    there_and_back: tuple[Comparison, Comparison],
) -> None:
    """The whole posted load may hang at any one line (simple support: all of a load over a support is borne by
    it), so that the greatest reaction falls by the whole 50 lb, and its least not at all.
    """
    reaction = value(there_and_back[0], "1 / line 2", "reaction")
    assert isinstance(reaction.before, Bounds)
    assert isinstance(reaction.after, Bounds)
    assert reaction.before.high - reaction.after.high == pytest.approx(50 * POUND, rel=1e-9)
    assert reaction.before.low == reaction.after.low
    assert reaction.came == "better"


def test_the_way_back_has_the_other_sign(there_and_back: tuple[Comparison, Comparison]) -> None:
    there, back = there_and_back
    assert len(there.values) == len(back.values) > 0
    turned = {"better": "worse", "worse": "better", "neither": "neither"}
    for one in there.values:
        other = value(back, one.new.path, one.fact.name)
        assert (other.before, other.after) == (one.after, one.before)
        assert other.came == turned[one.came]
        assert one.difference is not None
        assert other.difference == -one.difference


def test_what_is_worse_comes_first_with_its_difference(
    there_and_back: tuple[Comparison, Comparison],
) -> None:
    rows = value_rows(there_and_back[1])
    labels = [row.label for row in rows]
    assert labels == sorted(labels, key=["worse", "not known any more", "other", "known now", "better"].index)
    assert all(row.difference.endswith((" more", " less")) for row in rows)


def test_every_watched_value_is_a_computed_fact_of_the_vocabulary() -> None:
    kinds = load_vocabulary().kinds
    strange = [
        f"{one.kind}.{one.fact}"
        for one in WATCHED
        if one.fact not in kinds[one.kind].facts or not kinds[one.kind].facts[one.fact].source
    ]
    assert strange == []


def test_a_value_whose_inputs_went_missing_is_not_called_better(tmp_path: Path) -> None:
    write_house(tmp_path)
    vague = HOUSE.replace("nominal: 1-1/2, schedule: 40, ", "")
    found = compared(read(HOUSE), read(vague), book_of(tmp_path, "trade"))
    lost = [one for one in found.values if one.came == "no longer known"]
    assert lost
    assert all(one.missing for one in lost)
