"""What must hold of any two revisions: the same is the same however it is written, every edit is told once,
and the way back tells the opposite.
"""

import random
from collections import Counter
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.comparing.houses import EDITS, HOUSE, Edit, as_told, edited, in_other_words, read, told

from plumbtrue.audit.rig_changes import Deed, RigChange

HOUSE_READ = read(HOUSE)

LUCK = st.integers(0, 2**32).map(random.Random)
SOME_EDITS = st.lists(st.sampled_from(EDITS), unique_by=lambda one: one.name, min_size=1, max_size=8)


def test_a_house_compared_with_itself_gives_nothing() -> None:
    assert told(HOUSE_READ, HOUSE_READ) == ()
    assert told(HOUSE_READ, read(HOUSE)) == ()


@given(LUCK)
@settings(max_examples=60, deadline=None)
def test_the_same_in_other_words_gives_nothing(luck: random.Random) -> None:
    assert [as_told(one) for one in told(HOUSE_READ, read(in_other_words(HOUSE, luck)))] == []


def test_the_same_in_other_words_is_written_otherwise() -> None:
    """The law above would hold of a rewriting that rewrites nothing."""
    other = in_other_words(HOUSE, random.Random(1))
    assert other != HOUSE
    assert list(other) != list(HOUSE)
    written = str(other)
    assert "oz" in written
    assert " mm" in written
    assert written.count("swage-sleeve") > str(HOUSE).count("swage-sleeve")


@pytest.mark.parametrize("edit", EDITS, ids=repr)
def test_an_edit_by_itself_is_told_once_and_nothing_else_is(edit: Edit) -> None:
    assert [as_told(one) for one in told(HOUSE_READ, read(edited([edit])))] == [edit.told]


@given(SOME_EDITS, LUCK)
@settings(max_examples=120, deadline=None)
def test_each_of_several_edits_is_told_once_and_nothing_else_is(
    edits: Sequence[Edit], luck: random.Random
) -> None:
    new = read(in_other_words(edited(edits), luck))
    assert Counter(as_told(one) for one in told(HOUSE_READ, new)) == Counter(one.told for one in edits)


_TURNED = {Deed.ADDED: Deed.REMOVED, Deed.REMOVED: Deed.ADDED}


def turned(change: RigChange) -> tuple[object, ...]:
    """A change as the way back must tell it."""
    return (
        _TURNED.get(change.deed, change.deed),
        change.new,
        change.old,
        change.fact,
        change.after,
        change.before,
        None if change.difference is None else -change.difference,
        change.said_after,
        change.said_before,
    )


def straight(change: RigChange) -> tuple[object, ...]:
    return (
        change.deed,
        change.old,
        change.new,
        change.fact,
        change.before,
        change.after,
        change.difference,
        change.said_before,
        change.said_after,
    )


@given(SOME_EDITS)
@settings(max_examples=80, deadline=None)
def test_the_way_back_tells_the_opposite(edits: Sequence[Edit]) -> None:
    new = read(edited(edits))
    there, back = told(HOUSE_READ, new), told(new, HOUSE_READ)
    assert Counter(map(turned, there)) == Counter(map(straight, back))


@given(SOME_EDITS, SOME_EDITS)
@settings(max_examples=40, deadline=None)
def test_two_revisions_of_the_same_house_need_no_common_order(
    ours: Sequence[Edit], theirs: Sequence[Edit]
) -> None:
    """What both did is no difference; what one of them did is told once, from whichever side."""
    shared = {one.name for one in ours} & {one.name for one in theirs}
    found = told(read(edited(ours)), read(edited(theirs)))
    names = {one.told[2] for one in (*ours, *theirs) if one.name not in shared}
    assert {one.fact for one in found} == names
    assert len(found) == sum(one.name not in shared for one in (*ours, *theirs))
