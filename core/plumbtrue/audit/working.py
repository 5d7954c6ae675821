"""The working of an outcome: how the rule came to it, step by step, with where each value was written or
how it was computed.
"""

from typing import cast

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.deciding import Whereabouts, whereabouts
from plumbtrue.audit.outcome import Outcome
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.writing import System
from plumbtrue.rules.judging import workings
from plumbtrue.rules.language.careful import Careful
from plumbtrue.rules.language.environment import RuleError
from plumbtrue.rules.language.explaining import Line, explained
from plumbtrue.rules.rule import Rule


@unchanging
class OutcomeWorking:
    """Everything that can be said about how an outcome came about."""

    rule: Rule
    applies: tuple[Line, ...]
    """Why the rule applies, or does not; nothing where it applies to everything that it is about."""
    requires: tuple[Line, ...]
    """Why what it asks holds or does not; nothing where it was not asked."""
    place: Whereabouts
    """Where to look for what decided it."""
    failure: str = ""
    """What went wrong, where the rule itself failed."""


def working_of(outcome: Outcome, audit: Audit, facts: Facts | None = None) -> OutcomeWorking:
    """The working of an outcome of an audit, found again by the careful way.

    Args:
        facts: those of the audit's rig and day, where several workings are wanted and nothing is to be
            computed twice.
    Raises:
        ValueError: the audit has no such rule.
    """
    rule = audit.rulebook.rule(outcome.rule)
    if rule is None:
        raise ValueError(f"the audit has no rule {outcome.rule}")
    system = cast(System, audit.rig.units)
    try:
        known = facts or Facts(audit.rig, audit.on, audit.further)
        found = workings(rule.understood, Careful(known, outcome.thing))
    except RuleError as error:
        return OutcomeWorking(rule, (), (), whereabouts(outcome), error.what)
    return OutcomeWorking(
        rule,
        () if found.applies is None else explained(found.applies, system),
        () if found.requires is None else explained(found.requires, system),
        whereabouts(outcome, found),
    )
