"""The exit status: few numbers, each of which asks something else of whoever called."""

from collections.abc import Iterable
from enum import IntEnum

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.item_verdicts import ItemState, item_verdicts
from plumbtrue.audit.outcome import Result
from plumbtrue.rules.severity import Severity


class ExitStatus(IntEnum):
    """What the caller has to do."""

    NOTHING_AT_THE_GATE = 0
    """Nothing at or above the gate was found, and nothing there was left open. It does not say that the rig
    is safe.
    """
    FINDINGS = 1
    """Something at or above the gate must be done."""
    CANNOT_USE = 2
    """The question was wrong: a document that cannot be read, or an acceptance or adjustment that matches
    nothing.
    """
    CANNOT_TELL = 3
    """Nothing was found at or above the gate, but something there cannot be told, or not everything was
    looked at.
    """


_PRECEDENCE = (
    ExitStatus.CANNOT_USE,
    ExitStatus.FINDINGS,
    ExitStatus.CANNOT_TELL,
    ExitStatus.NOTHING_AT_THE_GATE,
)


def exit_status(audit: Audit, gate: Severity) -> ExitStatus:
    """The status of one audit at a gate. What is accepted, and in force, does not count; what is milder
    than the gate neither. A piece of a show counts by what its verdict asks for, with or without a rule that says so:
    somebody is on it, or the house has no such set.
    """
    if audit.problems:
        return ExitStatus.CANNOT_USE
    at_gate = [outcome for outcome in audit.told if outcome.counts and outcome.severity.rank <= gate.rank]
    pieces = {one.state for one in item_verdicts(audit)}
    against = {one for one in pieces if one.severity is not None and one.severity.rank <= gate.rank}
    if against - {ItemState.CANNOT_BE_TOLD} or any(one.result is Result.FINDING for one in at_gate):
        return ExitStatus.FINDINGS
    lacking = audit.incomplete or audit.rig.not_in_house or not audit.names_its_sets
    if at_gate or against or lacking or not audit.looked_at_anything:
        return ExitStatus.CANNOT_TELL
    return ExitStatus.NOTHING_AT_THE_GATE


def together(statuses: Iterable[ExitStatus]) -> ExitStatus:
    """One status for several houses; of none at all it cannot be told."""
    return min(statuses, key=_PRECEDENCE.index, default=ExitStatus.CANNOT_TELL)
