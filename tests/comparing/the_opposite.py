"""What the way back from one revision to another must tell, by what the way there told."""

from typing import Final

from plumbtrue.audit.comparing import Comparison
from plumbtrue.audit.computed_changes import Came
from plumbtrue.audit.matching import Matching
from plumbtrue.audit.outcome_changes import Turn

OPPOSITE: Final = {
    Turn.APPEARED: {Turn.WENT_AWAY, Turn.NO_LONGER_TOLD},
    Turn.WORSENED: {Turn.IMPROVED},
    Turn.NO_LONGER_TOLD: {Turn.APPEARED},
    Turn.QUESTION_OPENED: {Turn.QUESTION_SETTLED},
    Turn.CHANGED: {Turn.CHANGED},
    Turn.UNCOVERED: {Turn.WENT_AWAY},
    Turn.IMPROVED: {Turn.WORSENED},
    Turn.QUESTION_SETTLED: {Turn.QUESTION_OPENED},
    Turn.WENT_AWAY: {Turn.APPEARED, Turn.UNCOVERED},
}

OPPOSITE_VALUE: Final[dict[Came, Came]] = {
    "worse": "better",
    "better": "worse",
    "neither": "neither",
    "no longer known": "now known",
    "now known": "no longer known",
    "cannot be told": "cannot be told",
}


def outcomes_of(found: Comparison, matching: Matching, *, turned: bool) -> dict[tuple[str, str], Turn]:
    """What became of outcomes, by rule and by the thing as the newer revision has it, else as the older does."""
    of_newer = matching.old_of if turned else matching.new_of
    return {(one.rule, (of_newer.get(one.thing) or one.thing).path): one.turn for one in found.outcomes}


def not_turned_round(there: Comparison, back: Comparison) -> set[tuple[str, str]]:
    """Outcomes of which the two ways do not tell opposites; by rule and thing."""
    ours = outcomes_of(there, there.matching, turned=False)
    theirs = outcomes_of(back, back.matching, turned=True)
    both = ours.keys() & theirs.keys()
    return (ours.keys() ^ theirs.keys()) | {key for key in both if theirs[key] not in OPPOSITE[ours[key]]}
