"""What the way back from one revision to another must tell, by what the way there told."""

from typing import Final

from plumbtrue.audit.comparing import Comparison
from plumbtrue.audit.computed_changes import Came
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


def outcomes_of(found: Comparison, *, turned: bool) -> dict[tuple[str, str, bool], Turn]:
    """What became of outcomes, by rule, path of the thing in the newer revision or else in the older, and whether it
    is in the newer one: what is gone may have stood under the very path of something new.
    """
    to_newer = found.matching.old_of if turned else found.matching.new_of
    told = {}
    for one in found.outcomes:
        in_newer = (one.old if turned else one.new) is not None
        thing = one.thing if not turned or one.old is None else one.old.thing
        newer = thing if in_newer else to_newer.get(thing)
        told[one.rule, (newer or thing).path, newer is not None] = one.turn
    return told


def not_turned_round(there: Comparison, back: Comparison) -> set[tuple[str, str, bool]]:
    """Outcomes of which the two ways do not tell opposites."""
    ours, theirs = outcomes_of(there, turned=False), outcomes_of(back, turned=True)
    both = ours.keys() & theirs.keys()
    return (ours.keys() ^ theirs.keys()) | {key for key in both if theirs[key] not in OPPOSITE[ours[key]]}
