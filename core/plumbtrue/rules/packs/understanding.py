"""From what a rule says to what it means: every name finds what it stands for, all layers taken together.

This is where packs meet the rule language. A rule is understood when it is read, and again when a later
layer has moved a parameter or added a condition, so that a changed rule is checked like any other.
"""

from collections.abc import Mapping, Sequence
from typing import Protocol

from plumbtrue.documents.nodes import Scalar
from plumbtrue.documents.place import Place, Problem
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.vocabulary import Vocabulary
from plumbtrue.rules.language.checking import check_claim, with_lets
from plumbtrue.rules.language.meaning import All, Any, Denial, Meaning
from plumbtrue.rules.language.nodes import And, Expression, Not, Or
from plumbtrue.rules.language.parsing import parse
from plumbtrue.rules.language.scope import Scope
from plumbtrue.rules.language.texts import Text, read_text
from plumbtrue.rules.language.value_types import CLAIM
from plumbtrue.rules.packs.tables import PackTable
from plumbtrue.rules.rule import AddedDemand, Clause, Origin, Parameter, Understood


class Written(Protocol):
    """What a rule says, as far as it must be understood."""

    @property
    def kinds(self) -> frozenset[str]: ...
    @property
    def parameters(self) -> Mapping[str, Parameter]: ...
    @property
    def let(self) -> tuple[tuple[str, Expression], ...]: ...
    @property
    def when(self) -> tuple[Clause, ...]: ...
    @property
    def also_when(self) -> tuple[Clause, ...]: ...
    @property
    def unless(self) -> tuple[Clause, ...]: ...
    @property
    def require(self) -> tuple[Clause, ...]: ...
    @property
    def finding(self) -> Scalar: ...
    @property
    def remedy(self) -> Scalar: ...


@unchanging
class Surroundings:
    """What rules of a pack may speak of: the vocabulary, and the tables of the pack and of those below."""

    vocabulary: Vocabulary
    tables: Mapping[str, PackTable]


def parse_scalar(written: Scalar, problems: list[Problem]) -> Expression | None:
    """The expression that a scalar holds; nothing, with the problem noted, where it cannot be read."""
    found = parse(written.text, first_character(written))
    if isinstance(found, Problem):
        problems.append(found)
        return None
    return found


def first_character(written: Scalar) -> Place:
    """Where the text of a scalar begins: behind its quotes, if it has any."""
    place = written.place
    return Place(place.file, place.line, place.column + 1) if written.quoted else place


def read_clause(written: Scalar, origin: Origin, problems: list[Problem]) -> Clause | None:
    """A condition, as written; what it means is found with the rule as a whole."""
    expression = parse_scalar(written, problems)
    return None if expression is None else Clause(written.text, expression, origin)


def understand(written: Written, around: Surroundings, problems: list[Problem]) -> Understood | None:
    """What a rule means; nothing, with every problem noted, where part of it means nothing."""
    noted = len(problems)
    given = {name: parameter.given for name, parameter in written.parameters.items()}
    tables = {name: table.table for name, table in around.tables.items()}
    scope, found = with_lets(Scope(around.vocabulary, written.kinds, given, tables), dict(written.let))
    problems.extend(found)
    when = _claims(written.when, scope, problems)
    also_when = _claims(written.also_when, scope, problems)
    unless = _claims(written.unless, scope, problems)
    applies = _applies(when, also_when, unless)
    # After `when: this is swage_sleeve`, what must hold may name the facts of a sleeve.
    inner = scope if applies is None else scope.where(applies)
    own = _claims([clause for clause in written.require if clause.origin.how == "rule"], inner, problems)
    added = _added([clause for clause in written.require if clause.origin.how != "rule"], inner, problems)
    finding = _text(written.finding, inner, problems)
    remedy = _text(written.remedy, inner, problems)
    if len(problems) > noted or finding is None or remedy is None:
        return None
    requires = _all((*own, *(one.meaning for one in added)))
    return Understood(inner, applies, requires, finding, remedy, _all(own), added)


def _claims(clauses: Sequence[Clause], scope: Scope, problems: list[Problem]) -> tuple[Meaning, ...]:
    meanings = []
    for clause in clauses:
        checked = check_claim(clause.expression, scope)
        problems.extend(checked.problems)
        if checked.meaning is not None:
            meanings.append(checked.meaning)
    return tuple(meanings)


def _added(clauses: Sequence[Clause], scope: Scope, problems: list[Problem]) -> tuple[AddedDemand, ...]:
    """What later packs ask beside it, each with its own words where it has any."""
    added: list[AddedDemand] = []
    for clause in clauses:
        words = [
            None if one is None else _text(one, scope, problems) for one in (clause.finding, clause.remedy)
        ]
        said = " ".join(clause.text.split())
        added += [
            AddedDemand(meaning, said, clause.origin.pack, *words)
            for meaning in _claims([clause], scope, problems)
        ]
    return tuple(added)


def _text(written: Scalar, scope: Scope, problems: list[Problem]) -> Text | None:
    """A text, with the values that stand in its braces."""
    text, found = read_text(written.text, first_character(written), scope)
    problems.extend(found)
    return text


def _applies(
    when: tuple[Meaning, ...], also_when: tuple[Meaning, ...], unless: tuple[Meaning, ...]
) -> Meaning | None:
    """Where all of `when` hold, or one of `also_when`, and none of `unless`."""
    parts: list[Meaning] = []
    if when:
        parts.append(_any((_all(when), *also_when)))
    parts.extend(Denial(one, CLAIM, Not(one.written, one.written.place)) for one in unless)
    return _all(tuple(parts)) if parts else None


def _all(parts: tuple[Meaning, ...]) -> Meaning:
    if len(parts) == 1:
        return parts[0]
    return All(parts, CLAIM, And(tuple(part.written for part in parts), parts[0].written.place))


def _any(parts: tuple[Meaning, ...]) -> Meaning:
    if len(parts) == 1:
        return parts[0]
    return Any(parts, CLAIM, Or(tuple(part.written for part in parts), parts[0].written.place))
