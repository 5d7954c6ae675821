"""Packs laid over one another: all layers flattened into one book of rules, with the origin of each part
and every change.

A later pack adds rules, sets parameters, tightens, relaxes or retires; it never replaces a rule. The result
does not depend on the order of files or keys: two changes of one pack to the same part are a problem, not a
race.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from plumbtrue.documents.nodes import Scalar
from plumbtrue.documents.place import Place, Problem
from plumbtrue.quantities.bounds import Bounds, exceeds
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.vocabulary import Vocabulary
from plumbtrue.rules.packs.form import suggestion
from plumbtrue.rules.packs.pack import Adjustment, Change, NotRun, Pack, RuleBook
from plumbtrue.rules.packs.parameters import moved
from plumbtrue.rules.packs.tables import PackTable
from plumbtrue.rules.packs.understanding import Surroundings, read_clause, understand
from plumbtrue.rules.rule import Clause, Origin, Parameter, Retirement, Rule
from plumbtrue.rules.severity import Severity


def lay(
    packs: Sequence[Pack],
    vocabulary: Vocabulary,
    *,
    on: date,
    not_run: Sequence[NotRun] = (),
    problems: Iterable[Problem] = (),
) -> RuleBook:
    """Flatten packs, given in order of layers, into the rules in force on a day."""
    found = list(problems)
    missed = list(not_run)
    rules: dict[str, Rule] = {}
    tables: dict[str, PackTable] = {}
    changes: list[Change] = []
    for pack in packs:
        for table in pack.tables.values():
            _add(tables, table.name, table, "table", found)
        for rule in pack.rules:
            _add(rules, rule.slug, rule, "rule", found)
        changed: dict[tuple[str, str], Place] = {}
        for adjustment in sorted(pack.adjustments, key=lambda one: one.place):
            rule_or_none = _matched(adjustment, rules)
            if rule_or_none is None:
                if not_run:
                    why = (
                        f"it adjusts the rule {adjustment.rule.text}, which belongs to a pack that is not run"
                    )
                    missed.append(NotRun(pack.name, why))
                else:
                    found.append(_unmatched(adjustment, rules))
                continue
            layer = _Layer(adjustment, on, Surroundings(vocabulary, tables), found)
            rule, made = layer.over(rule_or_none)
            rules[rule.slug] = rule
            for change in made:
                _refuse_second_change(change, changed, found)
            changes.extend(made)
    _check_names(rules, found, incomplete=bool(missed))
    return RuleBook(
        rules=tuple(rules[slug] for slug in sorted(rules)),
        packs=tuple(packs),
        changes=tuple(sorted(changes, key=lambda one: (one.rule, one.part, one.place))),
        tables=tables,
        works={key: work for pack in packs for key, work in pack.works.items()},
        not_run=tuple(missed),
        on=on,
        vocabulary=vocabulary,
        problems=tuple(sorted(found, key=lambda one: (one.where, one.what))),
    )


def as_of(book: RuleBook, on: date) -> RuleBook:
    """The same packs on another day, on which another relaxation may hold."""
    if book.on == on:
        return book
    return replace(lay(book.packs, book.vocabulary, on=on, not_run=book.not_run), texts=book.texts)


def _add(
    named: dict[str, Rule] | dict[str, PackTable],
    name: str,
    one: Rule | PackTable,
    what: str,
    problems: list[Problem],
) -> None:
    """Take a rule or table in, unless its name is taken: nothing is overridden by coming later."""
    other = named.setdefault(name, one)  # type: ignore[arg-type]  # Rules go among rules, tables among tables.
    if other is not one:
        problems.append(_defined_twice(f"{what} {name}", one.place, other.place))


def _defined_twice(what: str, place: Place, other: Place) -> Problem:
    return Problem(
        "defined-twice",
        place,
        f"{what} is defined here and at {other}",
        "give one of them another name, or adjust the rule instead of writing it again",
    )


def _matched(adjustment: Adjustment, rules: Mapping[str, Rule]) -> Rule | None:
    slug = adjustment.rule.text
    return rules.get(slug) or next((rule for rule in rules.values() if slug in rule.formerly), None)


def _unmatched(adjustment: Adjustment, rules: Mapping[str, Rule]) -> Problem:
    slug = adjustment.rule.text
    return Problem(
        "adjustment-matches-nothing",
        adjustment.rule.place,
        f"no rule {slug} stands in this pack or an earlier one",
        suggestion(slug, rules),
        length=len(slug),
    )


def _refuse_second_change(
    change: Change, changed: dict[tuple[str, str], Place], problems: list[Problem]
) -> None:
    first = changed.setdefault((change.rule, change.part), change.place)
    if first != change.place:
        problems.append(
            Problem(
                "changed-twice",
                change.place,
                f"{change.part} of the rule {change.rule} is changed here and at {first} of the same pack",
                "keep one of them",
            )
        )


def _check_names(rules: Mapping[str, Rule], problems: list[Problem], *, incomplete: bool) -> None:
    """Former names must be free, and superseded rules must be there."""
    formerly: dict[str, Rule] = {}
    for rule in rules.values():
        for old in rule.formerly:
            other = rules.get(old) or formerly.setdefault(old, rule)
            if other is not rule:
                problems.append(_defined_twice(f"the name {old}", rule.place, other.place))
        for slug in rule.supersedes:
            if slug not in rules and not incomplete:
                problems.append(
                    Problem(
                        "supersedes-nothing",
                        rule.place,
                        f"the rule {rule.slug} supersedes {slug}, which is no rule",
                        suggestion(slug, rules),
                    )
                )


@unchanging
class _Layer:
    """One adjustment, about to be laid over the rule that it names."""

    adjustment: Adjustment
    on: date
    around: Surroundings
    problems: list[Problem]

    def over(self, rule: Rule) -> tuple[Rule, tuple[Change, ...]]:
        """The rule with the adjustment over it, and what that changed. What may not be done is a problem
        and left undone.
        """
        adjustment = self.adjustment
        if rule.retired is not None:
            self._problem(
                "adjustment-of-retired-rule", f"the rule {rule.slug} was retired by {rule.retired.pack}"
            )
            return rule, ()
        if rule.forbids_relaxing and adjustment.way in ("relax", "retire"):
            self._problem(
                "relaxing-forbidden",
                f"the rule {rule.slug} of {rule.pack} forbids that it is relaxed or retired",
                "take the adjustment out; a finding can be accepted at one place until a date",
            )
            return rule, ()
        if adjustment.way == "retire":
            return self._retired(rule)
        changes: list[Change] = []
        adjusted = self._with_parameters(self._with_severity(rule, changes), changes)
        adjusted = self._with_clauses(adjusted, changes)
        understood = understand(adjusted, self.around, self.problems)
        if not self._in_force or understood is None:
            return rule, tuple(changes)
        return replace(adjusted, understood=understood), tuple(changes)

    @property
    def _in_force(self) -> bool:
        """A relaxation holds up to its last day, that day included."""
        return self.adjustment.until is None or self.on <= self.adjustment.until

    @property
    def _origin(self) -> Origin:
        return Origin(self.adjustment.pack, self.adjustment.way, self.adjustment.place)

    def _retired(self, rule: Rule) -> tuple[Rule, tuple[Change, ...]]:
        adjustment = self.adjustment
        changes = (self._change(rule, "retired", "in force", "retired"),)
        if not self._in_force or adjustment.decided_on is None:
            return rule, changes
        retirement = Retirement(
            adjustment.pack, adjustment.reason, adjustment.decided_by, adjustment.decided_on, adjustment.place
        )
        return replace(rule, retired=retirement, origins={**rule.origins, "retired": self._origin}), changes

    def _with_severity(self, rule: Rule, changes: list[Change]) -> Rule:
        severity, way = self.adjustment.severity, self.adjustment.way
        if severity is None:
            return rule
        if not _goes_the_way(self.adjustment, rule.severity, severity):
            self._problem(
                "severity-goes-the-wrong-way",
                f"{severity.value} does not {way} {rule.slug}, which is {rule.severity.value}",
                "write a graver severity to tighten, a milder one to relax",
            )
            return rule
        changes.append(self._change(rule, "severity", rule.severity.value, severity.value))
        return replace(rule, severity=severity, origins={**rule.origins, "severity": self._origin})

    def _with_parameters(self, rule: Rule, changes: list[Change]) -> Rule:
        parameters = dict(rule.parameters)
        origins = dict(rule.origins)
        for name, written in self.adjustment.parameters:
            old = parameters.get(name.text)
            if old is None:
                self.problems.append(
                    Problem(
                        "parameter-unknown",
                        name.place,
                        f"the rule {rule.slug} has no parameter {name.text}",
                        suggestion(
                            name.text, (*parameters, "severity", "also_require", "also_when", "unless")
                        ),
                        length=len(name.text),
                    )
                )
                continue
            new = moved(old, written, self._origin, self.problems)
            if new is None or not self._may_move(rule, old, new, name):
                continue
            change = self._change(rule, f"parameters.{name.text}", old.text, new.text)
            changes.append(replace(change, moves=new.given != replace(old.given, text=new.given.text)))
            parameters[name.text] = new
            origins[f"parameters.{name.text}"] = self._origin
        return replace(rule, parameters=parameters, origins=origins)

    def _may_move(self, rule: Rule, old: Parameter, new: Parameter, name: Scalar) -> bool:
        """Whether a parameter goes the way that the adjustment says, as far as the rule tells which way is
        stricter.
        """
        way = self.adjustment.way
        if old.stricter is None:
            if not rule.forbids_relaxing:
                return True
            why = f"{rule.slug} forbids relaxing and does not say which way of moving {old.name} is stricter"
        else:
            stricter = _is_stricter(old, new)
            if way == "relax" and not stricter:
                return True
            if way in ("set", "tighten") and (stricter or new.given.value == old.given.value):
                return True
            verb = "tightens" if stricter else "relaxes"
            why = f"{new.text} instead of {old.text} {verb} the rule {rule.slug}"
        self.problems.append(
            Problem(
                "parameter-goes-the-wrong-way",
                name.place,
                why,
                "write it under tighten where it asks for more, under relax and with a reason where for less",
                length=len(name.text),
            )
        )
        return False

    def _with_clauses(self, rule: Rule, changes: list[Change]) -> Rule:
        adjustment = self.adjustment
        if (clause := self._clause(adjustment.also_require)) is not None:
            clause = replace(clause, finding=adjustment.finding, remedy=adjustment.remedy)
            changes.append(
                self._change(rule, "require", _texts(rule.require), _texts((*rule.require, clause)))
            )
            rule = replace(rule, require=(*rule.require, clause), origins=self._origins(rule, "require"))
        if (clause := self._clause(adjustment.also_when)) is not None:
            changes.append(self._change(rule, "when", _texts(rule.when) or "always", f"or {clause.text}"))
            rule = replace(rule, also_when=(*rule.also_when, clause), origins=self._origins(rule, "when"))
        if (clause := self._clause(adjustment.unless)) is not None:
            changes.append(self._change(rule, "unless", _texts(rule.unless), clause.text))
            rule = replace(rule, unless=(*rule.unless, clause), origins=self._origins(rule, "unless"))
        return rule

    def _clause(self, written: Scalar | None) -> Clause | None:
        return None if written is None else read_clause(written, self._origin, self.problems)

    def _origins(self, rule: Rule, part: str) -> dict[str, Origin]:
        return {**rule.origins, part: self._origin}

    def _change(self, rule: Rule, part: str, before: str, after: str) -> Change:
        adjustment = self.adjustment
        return Change(
            rule.slug,
            part,
            adjustment.way,
            before,
            after,
            adjustment.pack,
            adjustment.reason,
            adjustment.decided_by,
            adjustment.decided_on,
            adjustment.until,
            self._in_force,
            adjustment.place,
        )

    def _problem(self, slug: str, what: str, instead: str = "take the adjustment out") -> None:
        self.problems.append(
            Problem(slug, self.adjustment.place, what, instead, length=len(self.adjustment.rule.text))
        )


def _is_stricter(old: Parameter, new: Parameter) -> bool:
    """Whether a limit moved the way in which the rule asks for more."""
    if not isinstance(old.given.value, Bounds) or not isinstance(new.given.value, Bounds):
        return False
    if old.stricter == "less":
        return exceeds(old.given.value.low, new.given.value.low)
    return exceeds(new.given.value.low, old.given.value.low)


def _goes_the_way(adjustment: Adjustment, old: Severity, new: Severity) -> bool:
    return new.rank < old.rank if adjustment.way == "tighten" else new.rank > old.rank


def _texts(clauses: Sequence[Clause]) -> str:
    return " and ".join(clause.text if len(clauses) == 1 else f"({clause.text})" for clause in clauses)
