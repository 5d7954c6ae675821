"""A third judge, slow and simple, for rigs of which everything is known. It reads the tree as written and
shares nothing with the evaluators.

Every claim is True, False, or None where it cannot be told; what cannot be worked out is an error. Names
are found anew for each rig. A figure that is none, or belongs to something that is not there, makes its
comparison None; what bounds could still tell is beyond it.
"""

import itertools
from datetime import date, timedelta
from typing import Any

from tests.language.made_up_expressions import LETS, PARAMETERS, TABLES
from tests.language.small_rig import VOCABULARY, Rig, written

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.literals import Literal_, read_literal
from plumbtrue.quantities.values import Absent, Choice, Each, Name, WordSet
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.language import nodes as n


class WrongError(Exception):
    """The rule fails by itself."""


class LostError(Exception):
    """A figure is none or not there: nothing can be worked out from it."""


class _NotThere:
    """A fact of something that is not there."""


NOT_THERE = _NotThere()


def close(a: float, b: float) -> bool:
    return a == b or abs(a - b) < 1e-9 * max(abs(a), abs(b))


class NaiveJudge:
    """Judges one thing."""

    def __init__(self, rig: Rig, this: Thing) -> None:
        self.rig = rig
        self.this = this

    def judge(self, claim: n.Expression) -> bool | None:
        return self.claim(claim, {})

    # ---- claims

    def claim(self, node: n.Expression, hand: dict[str, Any]) -> bool | None:
        match node:
            case n.Not(operand):
                found = self.claim(operand, hand)
                return None if found is None else not found
            case n.And(parts):
                return self.all([(part, hand) for part in parts])
            case n.Or(parts):
                return self.some([(part, hand) for part in parts])
            case n.Quantified(quantifier, variable, several, where, condition):
                return self.quantified(quantifier, variable, several, where, condition, hand)
            case n.Path(steps):
                return self.claim(written(LETS[steps[0]]), {})
            case n.Within(word):
                return self.around(self.this, word.text) is not None
            case n.Same(operand, variable, several, where):
                return self.same(operand, variable, several, where, hand)
            case n.Comparison(operator, left, right):
                return self.compared(operator, left, right, hand)
            case n.IsNone(operand, negated):
                found = self.any_value(operand, hand)
                return (found is None or found is NOT_THERE or found in ([], (), frozenset())) != negated
            case n.Is(operand, word, negated):
                return self.is_word(self.single(operand, hand), {word.text}, negated, hand)
            case n.OneOf(operand, words, negated):
                return self.is_word(self.single(operand, hand), {word.text for word in words}, negated, hand)
            case n.OneOfNamed(operand, named, negated):
                return self.is_word(
                    self.single(operand, hand), set(PARAMETERS[named.steps[0]].words), negated, hand
                )
            case n.Includes(operand, word, negated):
                found = self.any_value(operand, hand)
                return None if found is NOT_THERE else (found is not None and word.text in found) != negated
        raise AssertionError(node)

    def all(self, claims: list[tuple[n.Expression, dict[str, Any]]]) -> bool | None:
        found, wrong = [], None
        for part, hand in claims:
            try:
                found.append(self.claim(part, hand))
            except WrongError as error:
                wrong = error
        if False in found:
            return False
        if None in found:
            return None
        if wrong is not None:
            raise wrong
        return True

    def some(self, claims: list[tuple[n.Expression, dict[str, Any]]]) -> bool | None:
        denied = self.all([(n.Not(part, part.place), hand) for part, hand in claims])
        return None if denied is None else not denied

    def quantified(
        self,
        quantifier: str,
        variable: str,
        several: n.Path,
        where: Any,
        condition: n.Expression,
        hand: dict[str, Any],
    ) -> bool | None:
        found = self.several(several, hand)
        if found is NOT_THERE:
            return None
        asked = condition if quantifier != "no" else n.Not(condition, condition.place)
        claims = []
        for one in found:
            inner = {**hand, variable: one}
            if quantifier == "some":
                claims.append((asked if where is None else n.And((where, asked), where.place), inner))
            else:
                claims.append(
                    (asked if where is None else n.Or((n.Not(where, where.place), asked), where.place), inner)
                )
        return self.some(claims) if quantifier == "some" else self.all(claims)

    def same(
        self, operand: n.Expression, variable: str, several: n.Path, where: Any, hand: dict[str, Any]
    ) -> bool | None:
        found = self.several(several, hand)
        if found is NOT_THERE:
            return None
        values, unsure = [], False
        for one in found:
            inner = {**hand, variable: one}
            counts = True if where is None else self.claim(where, inner)
            if counts is None:
                unsure = True
            elif counts:
                values.append(self.single(operand, inner))
        if NOT_THERE in values:
            unsure = True
            values = [value for value in values if value is not NOT_THERE]
        alike = all(self.equal(values[0], value) for value in values)
        figures = [value for value in values if isinstance(value, float)]
        if len(figures) == len(values) and figures:
            alike = close(min(figures), max(figures))
        return (None if unsure else True) if alike else False

    @staticmethod
    def equal(one: Any, other: Any) -> bool:
        return close(one, other) if isinstance(one, float) and isinstance(other, float) else one == other

    def is_word(self, found: Any, words: set[str], negated: bool, hand: dict[str, Any]) -> bool | None:
        if found is NOT_THERE:
            return None
        if isinstance(found, Thing):
            if "this" in words:
                return (found is self.this) != negated
            return (found.kind.name in words or bool(found.kind.classes & words)) != negated
        return (found in words) != negated

    def compared(
        self, operator: str, left: n.Expression, right: n.Expression, hand: dict[str, Any]
    ) -> bool | None:
        if isinstance(right, n.Quoted):
            found = self.single(left, hand)
            return None if found is None or found is NOT_THERE else (found == right.text) == (operator == "=")
        lost = False
        figures = []
        for side in (left, right):
            try:
                figures.append(self.figure(side, hand))
            except LostError:
                lost = True
        if lost:
            return None
        a, b = figures
        match operator:
            case "=":
                return close(a, b)
            case "!=":
                return not close(a, b)
            case "<":
                return a < b and not close(a, b)
            case "<=":
                return a < b or close(a, b)
            case ">":
                return a > b and not close(a, b)
            case _:
                return a > b or close(a, b)

    # ---- figures

    def figure(self, node: n.Expression, hand: dict[str, Any]) -> float:
        match node:
            case n.Figure(text):
                found = read_literal(text)
                assert isinstance(found, Literal_)
                return found.bounds.low
            case n.Path():
                value = self.single(node, hand)
                if value is None or value is NOT_THERE:
                    raise LostError
                assert isinstance(value, float)
                return value
            case n.Minus(operand):
                return -self.figure(operand, hand)
            case n.Call(function, arguments):
                figures = self.figures([(one, hand) for one in arguments])
                return {
                    "abs": lambda: abs(figures[0]),
                    "least": lambda: min(figures),
                    "greatest": lambda: max(figures),
                }[function]()
            case n.Arithmetic():
                return self.arithmetic(node, hand)
            case n.AgeOf(operand):
                return self.age(self.figure(operand, hand))
            case n.DaysSince(operand):
                return (self.rig.today - self.figure(operand, hand)) * 86400.0
            case n.Count(variable, several, where):
                return float(len(self.meant(variable, several, where, hand)))
            case n.Total(gathering, operand, variable, several, where):
                meant = self.meant(variable, several, where, hand)
                figures = self.figures([(operand, inner) for inner in meant])
                if gathering == "sum":
                    total = 0.0
                    for figure in figures:
                        total += figure
                    return total
                if not figures:
                    raise LostError
                return min(figures) if gathering == "least" else max(figures)
            case n.LookUp(column, table, keys):
                return self.looked_up(column, table, dict(keys), hand)
        raise AssertionError(node)

    def figures(self, asked: list[tuple[n.Expression, dict[str, Any]]]) -> list[float]:
        """Several figures; an error in one counts before a lost one."""
        found, lost = [], False
        for node, hand in asked:
            try:
                found.append(self.figure(node, hand))
            except LostError:
                lost = True
        if lost:
            raise LostError
        return found

    def meant(self, variable: str, several: n.Path, where: Any, hand: dict[str, Any]) -> list[dict[str, Any]]:
        found = self.several(several, hand)
        if found is NOT_THERE:
            raise LostError
        meant, lost = [], False
        for one in found:
            inner = {**hand, variable: one}
            counts = True if where is None else self.claim(where, inner)
            lost = lost or counts is None
            if counts:
                meant.append(inner)
        if lost:
            raise LostError
        return meant

    def arithmetic(self, node: n.Arithmetic, hand: dict[str, Any]) -> float:
        a, b = self.figures([(node.left, hand), (node.right, hand)])
        if self.is_date(node.left):
            if self.is_date(node.right):
                return (a - b) * 86400.0
            return a + b / 86400.0 if node.operator == "+" else a - b / 86400.0
        match node.operator:
            case "+":
                return a + b
            case "-":
                return a - b
            case "*":
                return a * b
            case _:
                if b == 0:
                    raise WrongError
                return a / b

    @staticmethod
    def is_date(node: n.Expression) -> bool:
        return (isinstance(node, n.Path) and node.steps[-1] in ("installed", "today")) or (
            isinstance(node, n.Figure) and node.text.count("-") == 2
        )

    def age(self, day: float) -> float:
        """Months counted one by one, and the part of the running one."""
        began, now = date.fromordinal(int(day)), date.fromordinal(int(self.rig.today))
        assert began <= now
        months = 0
        while _months_later(began, months + 1) <= now:
            months += 1
        this, following = _months_later(began, months), _months_later(began, months + 1)
        return (months + (now - this) / (following - this)) * 2629746.0

    def looked_up(
        self, column: str, table: str, keys: dict[str, n.Expression], hand: dict[str, Any]
    ) -> float:
        rows: list[dict[str, Any]] = [
            dict(zip([one.name for one in TABLES[table].columns], row, strict=True))
            for row in TABLES[table].rows
        ]
        if table == "clips":
            grade = self.single(keys["grade"], hand)
            size = self.figure(keys["size"], hand)
            fitting = sorted((row["size"], row) for row in rows if row["grade"] == grade)
            sizes = [at for at, _ in fitting]
            if not sizes or (size < sizes[0] and not close(size, sizes[0])):
                raise LostError
            for at, row in fitting:
                if size < at or close(size, at):
                    if row[column] is None:
                        raise LostError
                    return float(row[column])
            raise LostError
        name, node = next(iter(keys.items()))
        key = self.figure(node, hand)
        for row in rows:
            if close(row[name], key):
                return float(row["share"])
        if table == "curve":
            for below, above in itertools.pairwise(rows):
                if below[name] < key < above[name]:
                    part = (key - below[name]) / (above[name] - below[name])
                    return float(below["share"] + (above["share"] - below["share"]) * part)
        raise LostError

    # ---- names

    def single(self, node: n.Expression, hand: dict[str, Any]) -> Any:
        """One value; of several written one by one, the one that all are."""
        found = self.any_value(node, hand)
        if isinstance(found, tuple):
            if not found or any(one != found[0] for one in found):
                raise DifferingError
            return found[0]
        return found

    def several(self, several: n.Path, hand: dict[str, Any]) -> Any:
        found = self.any_value(several, hand)
        if found is None:
            return [None] if several.steps[-1] in ("material", "spacing") else []
        if isinstance(found, list | tuple | frozenset) or found is NOT_THERE:
            return found
        return [found]

    def around(self, thing: Thing, name: str) -> Thing | None:
        while thing.kind.name != name and name not in thing.kind.classes:
            if thing.parent is None:
                return None
            thing = thing.parent
        return thing

    def any_value(self, node: n.Expression, hand: dict[str, Any]) -> Any:
        assert isinstance(node, n.Path)
        first, *rest = node.steps
        found: Any
        if first in hand:
            found = hand[first]
        elif first == "this":
            found = self.this
        elif first == "today":
            found = self.rig.today
        elif first in LETS:
            body = written(LETS[first])
            found = self.any_value(body, {}) if isinstance(body, n.Path) else self.figure_or_lost(body)
        elif first in PARAMETERS:
            bounds = PARAMETERS[first].value
            assert isinstance(bounds, Bounds)
            found = bounds.low
        elif first == "load_path":
            parent = self.this.parent
            found = list(parent.parts["lower"]) if parent is not None else NOT_THERE  # type: ignore[arg-type]  # a path
        elif first in self.this.kind.facts:
            found = self.fact(self.this, first)
        else:
            assert first in VOCABULARY.kinds
            found = self.around(self.this, first) or NOT_THERE
        for step in rest:
            found = self.step(found, step)
        return found

    def figure_or_lost(self, body: n.Expression) -> Any:
        try:
            return self.figure(body, {})
        except LostError:
            return NOT_THERE

    def step(self, owner: Any, name: str) -> Any:
        if owner is None or owner is NOT_THERE:
            return NOT_THERE
        if isinstance(owner, list):
            gathered: list[Any] = []
            for one in owner:
                found = self.fact(one, name)
                if isinstance(found, list):
                    gathered.extend(found)
                elif found is not None or one.kind.facts[name].type not in (
                    "thing",
                    "list of things",
                    "path",
                ):
                    gathered.append(found)
            return gathered
        return self.fact(owner, name)

    def fact(self, owner: Thing, name: str) -> Any:
        if name not in owner.kind.facts:
            return NOT_THERE
        said = owner.kind.facts[name].type
        if said in ("thing", "reference", "list of things", "path"):
            held = self.rig.part(owner, name)
            return None if isinstance(held, Absent) else list(held) if isinstance(held, tuple) else held
        return _plain(self.rig.answer(owner, name).value)


class DifferingError(Exception):
    """What was written one by one differs, and a single value is wanted: for the survey, not for this
    judge.
    """


def _plain(value: Any) -> Any:
    match value:
        case Bounds(low, _):
            return float(low)
        case Choice():
            return value.word
        case WordSet(words):
            return words
        case Name(text):
            return text
        case Each(values):
            return tuple(_plain(one) for one in values)
        case Absent():
            return None
    raise AssertionError(value)


def _months_later(began: date, months: int) -> date:
    year, month = divmod(began.year * 12 + began.month - 1 + months, 12)
    last = date(year + (month == 11), (month + 1) % 12 + 1, 1) - timedelta(days=1)
    return last.replace(day=min(began.day, last.day))
