"""Packs as values: a pack's own rules and tables, what it changes in earlier packs, and the book of rules
that they come to.
"""

from collections.abc import Mapping
from dataclasses import field
from datetime import date
from typing import Literal

from plumbtrue.documents.nodes import Node, Scalar
from plumbtrue.documents.place import Place, Problem
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.vocabulary import Vocabulary
from plumbtrue.rules.packs.bibliography import Work
from plumbtrue.rules.packs.tables import PackTable
from plumbtrue.rules.rule import Rule
from plumbtrue.rules.severity import Severity

Way = Literal["set", "tighten", "relax", "retire"]


@unchanging
class Adjustment:
    """What a later pack changes in a rule of an earlier one. Texts are read when the rule is known that
    they belong to.
    """

    rule: Scalar
    way: Way
    severity: Severity | None
    parameters: tuple[tuple[Scalar, Node], ...]
    also_require: Scalar | None
    also_when: Scalar | None
    unless: Scalar | None
    finding: Scalar | None
    remedy: Scalar | None
    """What to say where `also_require` is not met; nothing for a sentence that names it."""
    reason: str
    decided_by: str
    decided_on: date | None
    until: date | None
    pack: str
    place: Place


@unchanging
class Change:
    """One part of a rule that a later pack changed, for the report: nothing is overridden silently."""

    rule: str
    part: str
    """`severity`, `parameters.reach`, `require`, `when`, `unless`, or `retired`."""
    way: Way
    before: str
    after: str
    pack: str
    reason: str
    decided_by: str
    decided_on: date | None
    until: date | None
    in_force: bool
    """Whether it holds on the date judged: a relaxation past its `until` does not, and the report says so."""
    place: Place
    moves: bool = True
    """Whether it changes anything: a house may state a limit that is the same already, so that it stays."""


@unchanging
class Pack:
    """A folder of rules, tables and adjustments, read and checked."""

    name: str
    title: str
    edition: str
    covers: tuple[str, ...]
    leaves_out: tuple[str, ...]
    requires: tuple[str, ...]
    works: Mapping[str, Work]
    tables: Mapping[str, PackTable]
    rules: tuple[Rule, ...]
    adjustments: tuple[Adjustment, ...]
    digest: str
    """SHA-256 over its files in order of their names, so that two houses can tell whether they use the same
    pack.
    """
    folder: str
    plugin: str | None
    """The plugin that brings it; nothing for a folder of the house's own."""
    place: Place


@unchanging
class NotRun:
    """A pack or plugin that was asked for and could not be used, so that the run is incomplete."""

    name: str
    why: str
    problems: tuple[Problem, ...] = ()
    """What is wrong in it, where it could be read at all."""

    def __str__(self) -> str:
        return f"{self.name}: {self.why}"


@unchanging
class RuleBook:
    """Every rule in force on a day, each flattened from all layers, and what stands behind them."""

    rules: tuple[Rule, ...]
    """By slug; retired ones too, marked as such."""
    packs: tuple[Pack, ...]
    """In order of layers, the most general first."""
    changes: tuple[Change, ...]
    tables: Mapping[str, PackTable]
    works: Mapping[str, Work]
    not_run: tuple[NotRun, ...]
    on: date
    """The day on which these rules are in force: a relaxation may have run out on another."""
    vocabulary: Vocabulary
    problems: tuple[Problem, ...] = ()
    """What is wrong with the packs. A book with problems can be shown, and is never used for an audit."""
    texts: Mapping[str, str] = field(default_factory=dict)
    """Files that problems point into, by the names that places use, so that their lines can be shown."""

    def rule(self, slug: str) -> Rule | None:
        """The rule of that name, or that once had it."""
        for rule in self.rules:
            if rule.slug == slug:
                return rule
        return next((rule for rule in self.rules if slug in rule.formerly), None)
