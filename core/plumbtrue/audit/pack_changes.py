"""What changed in the packs: their editions and files, and rule by rule what is asked now and was asked
before. What that did to the findings is told beside it, by outcomes of the same rig under both.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum

from plumbtrue.audit.outcome_changes import rule_names
from plumbtrue.audit.same_values import same_value
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.rules.language.printing import printed
from plumbtrue.rules.language.scope import Given
from plumbtrue.rules.packs.in_force import RulePart, parts_in_force
from plumbtrue.rules.packs.pack import Pack, RuleBook
from plumbtrue.rules.packs.tables import PackTable
from plumbtrue.rules.rule import Clause, Rule


class PackDeed(Enum):
    """What was done to a pack or a rule."""

    PACK_ADDED = "pack-added"
    PACK_LEFT_OUT = "pack-left-out"
    EDITION = "edition"
    FILES = "files"
    """The edition is the same, and a file is not."""
    RULE_ADDED = "rule-added"
    RULE_LEFT_OUT = "rule-left-out"
    RULE_RENAMED = "rule-renamed"
    RULE_RETIRED = "rule-retired"
    RULE_BACK = "rule-back"
    """It was retired, and is in force again."""
    PART = "part"
    """A limit, a condition, the severity or what is asked."""
    WORDS = "words"
    """The words of a finding or a remedy alone."""
    TABLE = "table"


@dataclass(frozen=True, slots=True)
class PackChange:
    """One change in the packs."""

    deed: PackDeed
    pack: str
    """The pack that says it now, else the one that said it."""
    rule: str = ""
    """The rule, by its new name."""
    part: str = ""
    """Part of the rule as it is written there, or the table."""
    before: str = ""
    after: str = ""
    reason: str = ""
    """Of a change by a later pack: why, and who decided it."""


def pack_changes(old: RuleBook, new: RuleBook) -> tuple[PackChange, ...]:
    """Every change, packs first, then rule by rule."""
    names = rule_names(old, new)
    before = {names.get(rule.slug, rule.slug): rule for rule in old.rules}
    after = {rule.slug: rule for rule in new.rules}
    found = [*_packs(old, new), *_tables(old.tables, new.tables)]
    for slug in sorted({*before, *after}):
        one, other = before.get(slug), after.get(slug)
        if one is None:
            assert other is not None
            found.append(PackChange(PackDeed.RULE_ADDED, other.pack, slug, after=other.title))
        elif other is None:
            found.append(PackChange(PackDeed.RULE_LEFT_OUT, one.pack, slug, before=one.title))
        else:
            found.extend(_rule(one, other, old, new))
    return tuple(found)


def same_packs(old: RuleBook, new: RuleBook) -> bool:
    """Whether two books are made of the same packs, to the last letter, in the same order."""
    return [(one.name, one.digest) for one in old.packs] == [
        (one.name, one.digest) for one in new.packs
    ] and old.not_run == new.not_run


def _packs(old: RuleBook, new: RuleBook) -> Iterator[PackChange]:
    before = {pack.name: pack for pack in old.packs}
    after = {pack.name: pack for pack in new.packs}
    for name in dict.fromkeys((*after, *before)):
        one, other = before.get(name), after.get(name)
        if one is None:
            assert other is not None
            yield PackChange(PackDeed.PACK_ADDED, name, after=_edition(other))
        elif other is None:
            yield PackChange(PackDeed.PACK_LEFT_OUT, name, before=_edition(one))
        elif one.edition != other.edition:
            yield PackChange(PackDeed.EDITION, name, before=_edition(one), after=_edition(other))
        elif one.digest != other.digest:
            yield PackChange(PackDeed.FILES, name, before=_edition(one), after=_edition(other))


def _edition(pack: Pack) -> str:
    return f"edition {pack.edition}, digest {pack.digest[:12]}"


def _tables(old: Mapping[str, PackTable], new: Mapping[str, PackTable]) -> Iterator[PackChange]:
    for name in sorted({*old, *new}):
        one, other = old.get(name), new.get(name)
        if one is not None and other is not None and one.table == other.table:
            continue
        told = other or one
        assert told is not None
        yield PackChange(
            PackDeed.TABLE,
            told.pack,
            part=name,
            before="" if one is None else _rows(one, other),
            after="" if other is None else _rows(other, one),
        )


def _rows(table: PackTable, other: PackTable | None) -> str:
    """How many rows, and how many of them the other does not have."""
    rows, others = set(table.table.rows), set(other.table.rows) if other is not None else set()
    own = len(rows - others)
    return f"{len(rows)} rows" + (f", {own} of them only here" if others and own else "")


def _rule(old: Rule, new: Rule, before: RuleBook, after: RuleBook) -> Iterator[PackChange]:
    if old.slug != new.slug:
        yield PackChange(PackDeed.RULE_RENAMED, new.pack, new.slug, before=old.slug, after=new.slug)
    if old.retired is None and new.retired is not None:
        reason = f"{new.retired.reason} ({new.retired.decided_by})"
        yield PackChange(PackDeed.RULE_RETIRED, new.retired.pack, new.slug, before=old.title, reason=reason)
    elif old.retired is not None and new.retired is None:
        yield PackChange(PackDeed.RULE_BACK, new.pack, new.slug, after=new.title)
    parts = _by_name(old, before), _by_name(new, after)
    for name in dict.fromkeys((*parts[0], *parts[1])):
        yield from _part(name, parts[0].get(name, ()), parts[1].get(name, ()), old, new)
    for name, one, other in (("finding", old.finding, new.finding), ("remedy", old.remedy, new.remedy)):
        if one.text.split() != other.text.split():
            yield PackChange(PackDeed.WORDS, new.pack, new.slug, name, one.text, other.text)


def _by_name(rule: Rule, book: RuleBook) -> dict[str, tuple[RulePart, ...]]:
    found: dict[str, tuple[RulePart, ...]] = {}
    for part in parts_in_force(rule, book):
        if part.name != "retired":
            found[part.name] = (*found.get(part.name, ()), part)
    return found


def _part(
    name: str, before: tuple[RulePart, ...], after: tuple[RulePart, ...], old: Rule, new: Rule
) -> Iterator[PackChange]:
    if _says(name, before, old) == _says(name, after, new):
        return
    if name.startswith("parameters.") and before and after:
        key = name.removeprefix("parameters.")
        if _same_given(old.parameters[key].given, new.parameters[key].given):
            return
    why = "; ".join(
        f"{change.reason} ({change.decided_by})" if change.decided_by else change.reason
        for part in after
        for change in part.changes
        if change.in_force and change.reason
    )
    pack = after[-1].origin.pack if after else new.pack
    said = [" and ".join(" ".join(part.says.split()) for part in parts) for parts in (before, after)]
    yield PackChange(PackDeed.PART, pack, new.slug, name, said[0], said[1], why)


def _says(name: str, parts: tuple[RulePart, ...], rule: Rule) -> tuple[str, ...]:
    """A part in the one form that stands for all ways to lay it out."""
    clauses: tuple[Clause, ...]
    match name:
        case "when":
            clauses = rule.when
        case "or when":
            clauses = rule.also_when
        case "unless":
            clauses = rule.unless
        case "require":
            clauses = rule.require
        case _:
            return tuple(part.says for part in parts)
    return tuple(printed(clause.expression) for clause in clauses)


def _same_given(one: Given, other: Given) -> bool:
    """Whether two parameters are the same figure or word, in whatever unit they were written."""
    if one.type != other.type:
        return False
    if isinstance(one.value, Bounds) and isinstance(other.value, Bounds):
        return same_value(one.value, other.value)
    return one.value == other.value and one.words == other.words
