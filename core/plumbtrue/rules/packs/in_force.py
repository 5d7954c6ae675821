"""A rule as it is in force, part by part: which pack set each, and what later layers changed."""

from collections.abc import Iterator

from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rules.language.printing import printed
from plumbtrue.rules.packs.pack import Change, RuleBook
from plumbtrue.rules.rule import Clause, Origin, Rule


@unchanging
class RulePart:
    """One part of a rule in force: what it says now, who set it, and what was changed on the way."""

    name: str
    """As it is written in a rule: `about`, `parameters.reach`, `when`, `require`, `severity` …"""
    says: str
    origin: Origin
    changes: tuple[Change, ...]
    """Of later layers, those that have run out too; see `Change.in_force`."""


def parts_in_force(rule: Rule, book: RuleBook) -> tuple[RulePart, ...]:
    """The parts of a rule of a book, in the order in which a person asks for them."""
    changes = [change for change in book.changes if change.rule == rule.slug]
    return tuple(
        RulePart(name, says, origin, tuple(change for change in changes if change.part == name))
        for name, says, origin in _parts(rule)
    )


def _parts(rule: Rule) -> Iterator[tuple[str, str, Origin]]:
    yield _part(rule, "about", rule.about.replace("_", "-"))
    for name in sorted(rule.parameters):
        parameter = rule.parameters[name]
        yield f"parameters.{name}", parameter.text, parameter.origin
    for name, expression in rule.let:
        yield f"let {name}", printed(expression), rule.origins.get("let", _own(rule))
    yield from _clauses("when", rule.when)
    yield from _clauses("or when", rule.also_when)
    yield from _clauses("unless", rule.unless)
    yield from _clauses("require", rule.require)
    yield _part(rule, "severity", rule.severity.value)
    if rule.supersedes:
        yield _part(rule, "supersedes", ", ".join(rule.supersedes))
    if rule.retired is not None:
        yield _part(rule, "retired", rule.retired.reason)


def _part(rule: Rule, name: str, says: str) -> tuple[str, str, Origin]:
    return name, says, rule.origins.get(name, _own(rule))


def _clauses(name: str, clauses: tuple[Clause, ...]) -> Iterator[tuple[str, str, Origin]]:
    return ((name, clause.text, clause.origin) for clause in clauses)


def _own(rule: Rule) -> Origin:
    """The rule itself, for what it leaves to be understood."""
    return Origin(rule.pack, "rule", rule.place)
