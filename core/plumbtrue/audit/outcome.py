"""What a rule said about a thing: outcome, severity, how sure the data is, and acceptance are kept apart."""

from plumbtrue.facts.answer import Missing
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Value
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.result import Result
from plumbtrue.rules.severity import Severity

__all__ = ["TOLD", "Acceptance", "Outcome", "Result"]

TOLD = frozenset({Result.FINDING, Result.UNDETERMINED, Result.ERROR})
"""Results of which there is something to tell; of fifty outcomes one has such a result."""


@unchanging
class Acceptance:
    """A mark beside a finding: somebody accepted this state, at this place, until a date."""

    by: str
    until: str
    reason: str
    meanwhile: str
    key: str
    state: str
    """The state that was accepted, as printed."""
    expired: bool = False
    worse: bool = False
    """The state found is worse than the one accepted: the acceptance does not cover it."""


@unchanging
class Outcome:
    """One rule, one thing, what came out and why."""

    rule: str
    pack: str
    severity: Severity
    result: Result
    thing: Thing
    message: str
    """Finding: what was found, with values and units. Otherwise the reason in one sentence."""
    remedy: str = ""
    """Finding: what to do about it."""
    missing: tuple[Missing, ...] = ()
    values: tuple[tuple[str, Value], ...] = ()
    """Facts and named values that the rule looked at, for waivers and comparison of revisions."""
    acceptance: Acceptance | None = None

    @property
    def key(self) -> str:
        """Lasting identity: rule and thing, free of line numbers and wording."""
        return f"{self.rule} @ {self.thing.path}"

    @property
    def counts(self) -> bool:
        """Whether it asks for something: an acceptance in force takes that away, expiry or a worse state
        brings it back.
        """
        if self.result not in TOLD:
            return False
        return self.acceptance is None or self.acceptance.expired or self.acceptance.worse
