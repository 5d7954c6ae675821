"""The exit status: few numbers, each of which asks something else of whoever called."""

from collections.abc import Iterable
from enum import IntEnum

from plumbtrue.audit.auditing import Audit
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
    than the gate neither. A piece for a set that the house does not have cannot hang there, at any gate.
    """
    if audit.problems:
        return ExitStatus.CANNOT_USE
    at_gate = [outcome for outcome in audit.told if outcome.counts and outcome.severity.rank <= gate.rank]
    lacks = [thing for thing, _ in audit.rig.not_in_house if thing.kind.name == "item"]
    if lacks or any(outcome.result is Result.FINDING for outcome in at_gate):
        return ExitStatus.FINDINGS
    if at_gate or audit.incomplete or audit.rig.not_in_house or not audit.looked_at_anything:
        return ExitStatus.CANNOT_TELL
    return ExitStatus.NOTHING_AT_THE_GATE


def together(statuses: Iterable[ExitStatus]) -> ExitStatus:
    """One status for several houses; of none at all it cannot be told."""
    return min(statuses, key=_PRECEDENCE.index, default=ExitStatus.CANNOT_TELL)
