"""Whether the state found today is one that somebody accepted: the same, or surely no worse.

Everything that decides the rule and is known has to be stated, so that nothing can grow worse unnoticed.
Where it cannot be told which way is worse, only the accepted state itself is covered.
"""

from plumbtrue.audit.offered_state import offered_state, on_one_line
from plumbtrue.audit.outcome import Outcome
from plumbtrue.audit.stated_values import FINDING, is_covered, unstated
from plumbtrue.audit.waivers import Waiver
from plumbtrue.documents.nodes import problem_with
from plumbtrue.documents.place import Problem
from plumbtrue.facts.store import Facts
from plumbtrue.rules.judging import spoken_of
from plumbtrue.rules.packs.form import suggestion
from plumbtrue.rules.rule import Rule


def covers(waiver: Waiver, outcome: Outcome, rule: Rule, facts: Facts, problems: list[Problem]) -> bool:
    """Whether the state found is the accepted one, or surely no worse, in every fact that decides the rule.

    A state that names what the rule does not look at, leaves out what decides it, or cannot be read, is a
    problem, and covers nothing.
    """
    named = spoken_of(rule.understood)
    stated = {name.text for name, _ in waiver.state}
    if strange := [name for name, _ in waiver.state if name.text not in (*named, FINDING)]:
        what = f"the rule {rule.slug} does not look at {strange[0].text}"
        problems.append(problem_with(strange[0], "waiver-state", what, suggestion(strange[0].text, named)))
        return False
    if FINDING not in stated and (lacking := unstated(rule, stated, outcome.thing, facts)):
        what = f"the waiver does not say which {' and '.join(lacking)} it accepts"
        write = (
            f"write state: {on_one_line(offered_state(outcome, rule, facts))}, if that is what was accepted"
        )
        problems.append(problem_with(waiver.rule, "waiver-state", what, write))
        return False
    covered = [
        _same_text(seen.text, outcome.message)
        if name.text == FINDING
        else is_covered(named[name.text], seen, rule, outcome.thing, facts, problems)
        for name, seen in waiver.state
    ]
    return all(covered)


def _same_text(one: str, other: str) -> bool:
    return one.split() == other.split()
