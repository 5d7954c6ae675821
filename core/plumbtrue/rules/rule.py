"""A rule as data: what it is about, when it applies, what must hold, how serious a breach is, and on whose
authority.

A rule in force is the rule of its pack with every later pack's adjustment laid over it; `origins` says
which pack set each part. Rules are read in `packs`, never built by hand, so that every expression in one
has been checked against the vocabulary.
"""

from collections.abc import Mapping as PlainMapping
from datetime import date
from typing import Literal

from plumbtrue.documents.nodes import Mapping, Scalar
from plumbtrue.documents.place import Place
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rules.language.meaning import Meaning
from plumbtrue.rules.language.nodes import Expression
from plumbtrue.rules.language.scope import Given, Scope
from plumbtrue.rules.language.texts import Text
from plumbtrue.rules.severity import Severity


@unchanging
class Origin:
    """Which pack set a part of a rule, how, and where it is written."""

    pack: str
    how: Literal["rule", "set", "tighten", "relax", "retire"]
    place: Place


@unchanging
class Clause:
    """A condition of a rule, as written."""

    text: str
    expression: Expression
    origin: Origin
    finding: Scalar | None = None
    remedy: Scalar | None = None
    """Of a demand that a later pack added: what is found and what to do where it is not met, in its words."""


@unchanging
class AddedDemand:
    """What a later pack asks beside what the rule asked already."""

    meaning: Meaning
    text: str
    """As written."""
    pack: str
    finding: Text | None
    remedy: Text | None


@unchanging
class Understood:
    """What a rule means with all layers over it: conditions and texts in which every name has found what it
    stands for.
    """

    scope: Scope
    applies: Meaning | None
    """To what it applies; nothing for everything that it is about."""
    requires: Meaning
    finding: Text
    remedy: Text
    own: Meaning
    """The part of `requires` that the rule asks by itself."""
    added: tuple[AddedDemand, ...] = ()
    """The rest of it."""


@unchanging
class Parameter:
    """A limit with a name, a unit and a meaning, which a later pack may set."""

    name: str
    text: str
    """As written, such as `12 in`."""
    given: Given
    meaning: str
    stricter: Literal["less", "more"] | None
    """Which way of moving it makes the rule ask for more, where the rule says so."""
    origin: Origin


@unchanging
class Citation:
    """On whose authority: a work of a pack's bibliography, with the clause as read."""

    work: str
    clause: str
    basis: Literal["read", "memory"]
    says: str
    place: Place


@unchanging
class Retirement:
    """A rule that a later pack took out of force, with its reason."""

    pack: str
    reason: str
    decided_by: str
    decided_on: date
    place: Place


@unchanging
class Rule:
    """One rule. It asks that, of every thing it is about to which it applies, all of `require` hold."""

    slug: str
    title: str
    about: str
    """Name of a kind or a class, with underscores."""
    kinds: frozenset[str]
    parameters: PlainMapping[str, Parameter]
    let: tuple[tuple[str, Expression], ...]
    """Named intermediate values, as written."""
    when: tuple[Clause, ...]
    """It applies where all of these hold; none written: to every thing that it is about."""
    also_when: tuple[Clause, ...]
    """It applies as well where one of these holds, whatever `when` says."""
    unless: tuple[Clause, ...]
    """It does not apply where one of these holds, whatever else is said."""
    require: tuple[Clause, ...]
    severity: Severity
    finding: Scalar
    remedy: Scalar
    """Texts as written; values stand in braces."""
    why: str
    citations: tuple[Citation, ...]
    """Empty for common practice."""
    examples: tuple[Mapping, ...] | None
    """As written; read and run by `plumbtrue.rules.examples`. Nothing where they were not read: a check needs
    none.
    """
    alterations_kept: tuple[tuple[str, str], ...]
    """Alterations that leave the rule what it is, each with the reason why no example can notice it."""
    supersedes: tuple[str, ...]
    formerly: tuple[str, ...]
    forbids_relaxing: bool
    pack: str
    place: Place
    origins: PlainMapping[str, Origin]
    """For each part that was written (`severity`, `when`, `parameters.reach`), what set it last."""
    understood: Understood
    retired: Retirement | None = None

    @property
    def is_common_practice(self) -> bool:
        return not self.citations
