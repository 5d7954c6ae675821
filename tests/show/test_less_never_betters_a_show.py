"""Taking facts out of a plot, or out of its house, never makes the show better.

Better would be: something found or asked that is met or does not apply any more; a piece that comes out higher
by `_promise`; an exit status that says that nothing stands against the show; bricks in the papers of a set that
got no paper. A finding may turn into a question, and a piece that does not hang into one of which nobody can
tell: what is found rests on what is written, and without it nobody knows.
"""

from dataclasses import dataclass
from typing import Final

from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st
from tests.forgetting import Way, is_told_elsewhere, names_in, parsed
from tests.show.forgotten_shows import (
    Show,
    Told,
    blanks,
    changed_shows,
    facts_written,
    shows,
    status_of_the_change,
    told_of,
    told_with_less,
)
from tests.test_unknown_never_passes import does_without

from plumbtrue.audit.gate import ExitStatus
from plumbtrue.audit.item_verdicts import ItemState, ItemVerdict
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.documents.place import CannotRead
from plumbtrue.rules.severity import Severity

OPEN: Final = (Result.FINDING, Result.UNDETERMINED)
QUIET: Final = (Result.MET, Result.NOT_APPLICABLE)
CONTRADICTS: Final = frozenset(
    {"item-place-is-known", "weight-plausible-for-its-make", "cable-is-in-the-weight"}
)
"""What these find are figures that contradict one another. Without one of the two the other holds, and may be the
lighter; which of them was wrong nobody knows.
"""


@dataclass(frozen=True)
class Less:
    """A show, and what of it is turned unknown or left out."""

    show: Show
    of_plot: dict[Way, str]
    of_house: dict[Way, str]

    @property
    def forgotten(self) -> set[str]:
        """Names of the facts that are gone."""
        both = ((self.show.plot, self.of_plot), (self.show.house, self.of_house))
        return {name for text, ways in both for way in ways for name in names_in(parsed(text), way)}


@st.composite
def less_written(draw: st.DrawFn, group: str) -> Less:
    """One to four facts of a plot, now and then some of its house among them."""
    show = draw(st.sampled_from(shows()[group]))
    of_plot, of_house = facts_written(show.plot), facts_written(show.house)
    count = draw(st.integers(min_value=1, max_value=4))
    in_house = draw(st.sampled_from([0, 0, 0, 1, 2]))
    left_out = draw(st.booleans())
    chosen = [draw(st.sampled_from(of_plot)) for _ in range(max(count - in_house, 0))]
    and_there = [draw(st.sampled_from(of_house)) for _ in range(min(in_house, count))]
    return Less(
        show,
        blanks(show.plot, chosen, left_out=left_out),
        blanks(show.house, and_there, left_out=left_out),
    )


def _promise(one: ItemVerdict) -> int:
    """How much the verdict on a piece lets anybody do: nought where it must not hang; one where nobody can tell, or
    something besides what is to be changed cannot be told; two where it hangs once that is changed; three where it
    hangs as asked.
    """
    if one.state is ItemState.DOES_NOT_HANG:
        return 0
    if one.state is ItemState.CANNOT_BE_TOLD or one.also_open:
        return 1
    return 2 if one.state is ItemState.WITH_CHANGES else 3


def _passed(less: Less, before: Told, after: Told) -> set[str]:
    """What was found or asked, and is quiet now."""
    forgotten = less.forgotten
    return {
        key
        for key, one in before.outcomes.items()
        if one.result in OPEN
        and key in after.outcomes
        and after.outcomes[key].result in QUIET
        and not is_told_elsewhere(after.outcomes[key])
        and not forgotten & does_without(one.rule)
        and not _a_graver_one_speaks(one, after)
    }


def _a_graver_one_speaks(outcome: Outcome, after: Told) -> bool:
    """Whether an advisory keeps silent since, with less known, a rule that stops or holds the use is open on the same
    thing.
    """
    return outcome.severity in (Severity.ADVISORY, Severity.NEXT_MAINTENANCE) and any(
        one.result in OPEN
        and one.thing.path == outcome.thing.path
        and one.severity.rank < outcome.severity.rank
        for one in after.outcomes.values()
    )


def _unasked(less: Less, before: Told, after: Told) -> set[str]:
    """What was found or asked of a thing that is gone, where nobody asks for the list or the part that held it."""
    gone = {key for key, one in before.outcomes.items() if one.result in OPEN and key not in after.outcomes}
    asked = {missing.fact for one in after.outcomes.values() for missing in one.missing}
    return gone if gone and not less.forgotten & asked else set()


def _holds(less: Less) -> None:
    try:
        before, after = told_of(less.show), told_with_less(less.show, less.of_plot, less.of_house)
    except CannotRead:  # What is left is no plot: nothing is told of it at all.
        assume(False)
        raise
    contradicted = any(
        one.rule in CONTRADICTS and one.result is Result.FINDING for one in before.outcomes.values()
    )
    if not contradicted:
        assert _passed(less, before, after) == set()
        better = {
            key: (before.items[key].state, one.state)
            for key, one in after.items.items()
            if key in before.items and _promise(one) > max(_promise(before.items[key]), 1)
        }
        assert better == {}
    assert _unasked(less, before, after) == set()
    if before.status is not ExitStatus.NOTHING_AT_THE_GATE:
        assert after.status is not ExitStatus.NOTHING_AT_THE_GATE
    in_use = {one.carrier.key for one in before.items.values() if one.carrier is not None}
    assert after.bricks & in_use <= before.papers


WHOLE: Final = settings(
    max_examples=9,
    deadline=None,
    phases=[Phase.explicit, Phase.reuse, Phase.generate],
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)


@WHOLE
@given(less_written("hand"))
def test_a_show_worked_out_by_hand_is_never_better_for_less(less: Less) -> None:
    _holds(less)


@settings(WHOLE, max_examples=4)
@given(less_written("small"))
def test_a_small_show_is_never_better_for_less(less: Less) -> None:
    _holds(less)


@settings(WHOLE, max_examples=1)
@given(less_written("tour"))
def test_the_tour_is_never_better_for_less(less: Less) -> None:
    _holds(less)


@settings(WHOLE, max_examples=3)
@given(data=st.data())
def test_the_gate_of_a_comparison_never_opens_for_less_in_the_newer(data: st.DataObject) -> None:
    old, new = data.draw(st.sampled_from(changed_shows()))
    chosen = data.draw(st.lists(st.sampled_from(facts_written(new.plot)), min_size=1, max_size=3))
    less = blanks(new.plot, chosen, left_out=data.draw(st.booleans()))
    try:
        after = status_of_the_change(old, new, less)
    except CannotRead:  # What is left is no plot.
        assume(False)
        raise
    if after is ExitStatus.NOTHING_AT_THE_GATE:
        assert status_of_the_change(old, new, {}) is after
