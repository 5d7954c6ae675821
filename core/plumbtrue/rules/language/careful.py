"""The careful way: every value within bounds, every answer one of three, and the working kept.

* A claim holds only if it holds at every figure that the facts allow; what cannot be told names the facts
  that would settle it. `and`, `or`, `not` and the quantifiers follow strong three-valued logic, in any
  order of their operands. Where the answer is settled by one operand, an error in another is of no
  account; where it is open, an error yields to what is unknown.
* `none` is a known fact for `is none`, `is`, `in` and `includes`. In a comparison or a calculation it is a
  figure of which nothing is known, and so is a fact of something that is not there: such a comparison
  cannot be told.
* A list to which something nobody identified may belong never holds for every one, nor fails for some; its
  count is a lower bound. So is its sum, provided that the value cannot be negative by its form
  (`checking.never_negative`).
* Bounds are taken through every operation separately. That two operands depend on one fact is seen only
  where they are one and the same expression (`a - a`, `a < a`); otherwise the result may be wider than
  need be, never narrower.
"""

from math import inf
from typing import assert_never

from plumbtrue.facts.answer import Missing
from plumbtrue.quantities.bounds import EVERYTHING, Bounds, is_at_least, is_over
from plumbtrue.quantities.calendar import DAY
from plumbtrue.quantities.truth import Truth, every, some
from plumbtrue.quantities.values import (
    NONE,
    UNKNOWN,
    Absent,
    Choice,
    Name,
    Unknown,
    Value,
    WordSet,
)
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.language.answers import (
    agree,
    any_of,
    are_equal,
    differ,
    elapsed,
    extreme,
    figure,
    includes,
    is_none,
    is_open,
    is_word,
)
from plumbtrue.rules.language.environment import Environment, RuleError
from plumbtrue.rules.language.meaning import (
    Absolute,
    Alike,
    All,
    Any,
    Around,
    Calculation,
    Constant,
    CountOf,
    DaysBetween,
    Denial,
    Drawn,
    Elapsed,
    Equal,
    FactOf,
    IncludesWord,
    IsKind,
    IsNothing,
    IsSaid,
    IsThing,
    IsWord,
    LetValue,
    LiesIn,
    LoadPath,
    Meaning,
    Negative,
    Over,
    Pick,
    Quantification,
    ShiftedDate,
    TableValue,
    TheOne,
    This,
    Today,
    TotalOf,
    Variable,
)
from plumbtrue.rules.language.reaching import Reach, last_name, with_reason
from plumbtrue.rules.language.results import (
    Evaluated,
    Member,
    Members,
    Rest,
    as_part,
    claimed,
    united,
)
from plumbtrue.rules.language.value_types import Claims


def evaluate(meaning: Meaning, environment: Environment, this: Thing) -> Evaluated:
    """What an expression gives for a thing.

    Raises:
        RuleError: the rule itself failed, and no other part of it settled the answer.
    """
    return Careful(environment, this).found(meaning)


class _MayFailError(Exception):
    """A figure that may turn out to have no answer: its divisor may be zero. Whatever is made of it cannot
    be told.
    """

    def __init__(self, missing: tuple[Missing, ...]) -> None:
        super().__init__()
        self.missing = missing


class Careful:
    """One thing while it is judged. Named values are found once, for all that is asked of the thing."""

    def __init__(self, environment: Environment, this: Thing) -> None:
        self.environment = environment
        self.this = this
        self.reach = Reach(environment)
        self.variables: dict[str, Member] = {}
        self.lets: dict[str, Evaluated | RuleError | _MayFailError] = {}

    def found(self, meaning: Meaning) -> Evaluated:
        """What an expression gives; see `evaluate`."""
        try:
            return self.find(meaning)
        except _MayFailError as open_figure:
            return Evaluated(meaning, UNKNOWN, open_figure.missing)

    def find(self, meaning: Meaning) -> Evaluated:
        """What a node gives. A claim made of a figure that may have no answer cannot be told."""
        try:
            return self.node(meaning)
        except _MayFailError as open_figure:
            if isinstance(meaning.type, Claims):
                return Evaluated(meaning, Truth.CANNOT_TELL, open_figure.missing)
            raise

    def node(self, meaning: Meaning) -> Evaluated:
        # What rules ask most stands first: the cases are tried in this order, for every node of every rule.
        match meaning:
            case Around() | LoadPath() | FactOf():
                return self.reach.reached(meaning, self.find(meaning.owner), self.this)
            case This():
                return Evaluated(meaning, self.this)
            case IsWord(of, words):
                found = self.find(of)
                return claimed(meaning, is_word(found.value, words), found)
            case All(parts):
                return self.joined(meaning, parts, Truth.FAILS)
            case Any(parts):
                return self.joined(meaning, parts, Truth.HOLDS)
            case Over() | Equal():
                return self.compared(meaning)
            case IsNothing(of):
                found = self.find(of)
                return claimed(meaning, is_none(found.value), found)
            case Constant(value):
                return Evaluated(meaning, value)
            case Denial(of):
                found = self.find(of)
                return claimed(meaning, ~found.truth, found)
            case LetValue():
                return self.let(meaning)
            case Variable(name):
                member = self.variables[name]
                return Evaluated(meaning, member.value, member.missing)
            case IsKind(of, kinds):
                found = self.operand(of)
                if not isinstance(found.value, Thing):
                    return claimed(meaning, Truth.CANNOT_TELL, found)
                return claimed(meaning, Truth.of(found.value.kind.name in kinds), found)
            case Today():
                return Evaluated(meaning, Bounds.exactly(self.environment.today))
            case TheOne(of):
                return _the_one(meaning, self.find(of))
            case Negative(of):
                found = self.operand(of)
                return Evaluated(meaning, -figure(found), found.missing, (found,))
            case Absolute(of):
                found = self.operand(of)
                return Evaluated(meaning, abs(figure(found)), found.missing, (found,))
            case Calculation():
                return self.calculation(meaning)
            case ShiftedDate() | DaysBetween() | Elapsed():
                return self.dated(meaning)
            case Pick(greatest, of):
                return _picked(meaning, greatest, tuple(self.operand(one) for one in of))
            case TableValue():
                return self.looked_up(meaning)
            case CountOf(drawn):
                return self.count(meaning, drawn)
            case TotalOf():
                return self.total(meaning)
            case IncludesWord(of, word):
                found = self.find(of)
                return claimed(meaning, includes(found.value, word), found)
            case IsSaid(of):
                found = self.find(of)
                return claimed(meaning, Truth.of(not is_open(found.value)), found)
            case IsThing(left, right):
                one, other = self.operand(left), self.operand(right)
                both = isinstance(one.value, Thing) and isinstance(other.value, Thing)
                return claimed(
                    meaning, Truth.of(one.value is other.value) if both else Truth.CANNOT_TELL, one, other
                )
            case LiesIn(kind):
                return Evaluated(meaning, Truth.of(self.this.enclosing(kind) is not None))
            case Quantification():
                return self.quantified(meaning)
            case Alike():
                return self.alike(meaning)
            case _:
                assert_never(meaning)

    # ---- facts and things

    def let(self, meaning: LetValue) -> Evaluated:
        known = self.lets.get(meaning.name)
        if known is None:
            outer, self.variables = self.variables, {}
            try:
                known = self.find(meaning.body)
            except (RuleError, _MayFailError) as error:
                known = error
            finally:
                self.variables = outer
            self.lets[meaning.name] = known
        if isinstance(known, RuleError | _MayFailError):
            raise known
        return Evaluated(meaning, known.value, known.missing, (known,))

    def operand(self, meaning: Meaning) -> Evaluated:
        """What is compared or counted with; being none, or not there, is what keeps the answer open."""
        return with_reason(self.find(meaning), self.this)

    def members(self, drawn: Drawn) -> tuple[Evaluated, Members]:
        """What a quantifier or a sum runs over."""
        found = self.find(drawn.several)
        match found.value:
            case Members():
                return found, found.value
            case WordSet(words, perhaps):
                told = [Member(Choice(frozenset({word}))) for word in sorted(words)]
                return found, Members(tuple(told), Rest.UNKNOWN if perhaps else Rest.NOTHING)
            case Absent():
                return found, Members(())
            case _:
                return found, Members((), Rest.UNKNOWN)

    # ---- figures

    def calculation(self, meaning: Calculation) -> Evaluated:
        left, right = self.operand(meaning.left), self.operand(meaning.right)
        a, b = figure(left), figure(right)
        return Evaluated(
            meaning,
            self.calculated(meaning, left, right, a, b),
            united(left.missing, right.missing),
            (left, right),
        )

    def calculated(
        self, meaning: Calculation, left: Evaluated, right: Evaluated, a: Bounds, b: Bounds
    ) -> Bounds:
        one_value = isinstance(left.value, Bounds) and _is_one(meaning.left, meaning.right)
        match meaning.operator:
            case "+":
                return a + b
            case "-":
                return Bounds.exactly(0.0) if one_value else a - b
            case "*":
                return a * b
            case "/":
                if b.low == b.high == 0:
                    raise RuleError("division by zero", meaning.right.written.place)
                if b.low <= 0 <= b.high:
                    raise _MayFailError(united(left.missing, right.missing))
                return Bounds.exactly(1.0) if one_value else a / b

    def dated(self, meaning: ShiftedDate | DaysBetween | Elapsed) -> Evaluated:
        match meaning:
            case ShiftedDate(day=day, by=by, later=later):
                one, other = self.operand(day), self.operand(by)
                days = figure(other) / Bounds.exactly(DAY)
                moved = figure(one) + days if later else figure(one) - days
                return Evaluated(meaning, moved, united(one.missing, other.missing), (one, other))
            case DaysBetween(left=left, right=right):
                one, other = self.operand(left), self.operand(right)
                alone = isinstance(one.value, Bounds) and _is_one(left, right)
                between = Bounds.exactly(0.0) if alone else figure(one) - figure(other)
                return Evaluated(
                    meaning, between * Bounds.exactly(DAY), united(one.missing, other.missing), (one, other)
                )
            case Elapsed(of=of, by_calendar=by_calendar):
                one = self.operand(of)
                since = elapsed(figure(one), by_calendar, self.environment.today)
                return Evaluated(meaning, since, one.missing, (one,))

    def looked_up(self, meaning: TableValue) -> Evaluated:
        found = [(name, self.operand(key)) for name, key in meaning.keys]
        parts = tuple(key for _, key in found)
        keys = {name: _table_key(key) for name, key in found}
        value = meaning.table.look_up(meaning.column, keys)
        missing = united(*(key.missing for key in parts))
        if isinstance(value, Unknown) and not missing:
            why = f"beyond the rows of the table {meaning.table.name}"
            missing = tuple(Missing(thing, name, why) for thing, name in _sources(parts)) or (
                Missing(self.this, meaning.table.name, why),
            )
        return Evaluated(meaning, value, missing, parts)

    def count(self, meaning: CountOf, drawn: Drawn) -> Evaluated:
        several, members = self.members(drawn)
        sure = perhaps = 0
        missing = () if members.are_all else several.missing
        for member in members.known:
            counts = self.counts(drawn, member)
            sure += counts.truth is Truth.HOLDS
            perhaps += counts.truth is Truth.CANNOT_TELL
            missing = united(missing, counts.missing)
        most = sure + perhaps if members.are_all else inf
        return Evaluated(meaning, Bounds(sure, most), missing, (several,))

    def counts(self, drawn: Drawn, member: Member) -> Evaluated:
        """Whether one of several is among those that are meant."""
        if drawn.where is None:
            return Evaluated(Constant(NONE, drawn.several.type, drawn.several.written), Truth.HOLDS)
        return as_part(self.with_variable(drawn.variable, member, drawn.where), member)

    def with_variable(self, variable: str, member: Member, meaning: Meaning) -> Evaluated:
        outer = self.variables
        self.variables = {**outer, variable: member}
        try:
            return self.find(meaning)
        finally:
            self.variables = outer

    def total(self, meaning: TotalOf) -> Evaluated:
        several, members = self.members(meaning.drawn)
        least = 0.0 if meaning.never_negative else -inf
        unidentified = Bounds(least, inf)
        sure: list[Bounds] = []
        perhaps: list[Bounds] = []
        missing = () if members.are_all else several.missing
        parts: list[Evaluated] = [several]
        for member in members.known:
            counts = self.counts(meaning.drawn, member)
            if counts.truth is Truth.FAILS:
                continue
            found = as_part(self.with_variable(meaning.drawn.variable, member, meaning.of), member)
            parts.append(found)
            bounds = figure(found)
            bounds = unidentified if bounds == EVERYTHING else bounds
            (sure if counts.truth is Truth.HOLDS else perhaps).append(bounds)
            missing = united(missing, counts.missing, with_reason(found, self.this).missing)
        if not members.are_all:
            perhaps.append(unidentified)
        if meaning.gathering == "sum":
            found_sum = Bounds.exactly(0.0)
            for bounds in sure:
                found_sum = found_sum + bounds
            for bounds in perhaps:
                found_sum = found_sum + bounds.hull(Bounds.exactly(0.0))
            # A part that was expected not to be negative and is takes away the ground for a lower bound.
            if not members.are_all and any(bounds.low < 0 for bounds in sure + perhaps):
                found_sum = EVERYTHING
            return Evaluated(meaning, found_sum, missing, tuple(parts))
        if not sure and not missing:
            why = "there is none to take it from"
            missing = (Missing(several.thing or self.this, last_name(several.meaning), why),)
        found_extreme = extreme(meaning.gathering == "greatest", sure, perhaps)
        return Evaluated(meaning, found_extreme, missing, tuple(parts))

    # ---- claims

    def joined(self, meaning: All | Any, parts: tuple[Meaning, ...], settling: Truth) -> Evaluated:
        """All of several claims, or one of them: the answer that settles it wins, then what is unknown,
        then an error.
        """
        found: list[Evaluated] = []
        failure: RuleError | None = None
        for part in parts:
            try:
                one = self.find(part)
            except RuleError as error:
                failure = failure or error
                continue
            if one.truth is settling:
                return claimed(meaning, settling, one)
            found.append(one)
        unknown = [one for one in found if one.truth is Truth.CANNOT_TELL]
        if unknown:
            return Evaluated(
                meaning, Truth.CANNOT_TELL, united(*(one.missing for one in unknown)), tuple(found)
            )
        if failure is not None:
            raise failure
        return claimed(meaning, ~settling, *found)

    def compared(self, meaning: Over | Equal) -> Evaluated:
        if isinstance(meaning, Over):
            one, other = self.operand(meaning.greater), self.operand(meaning.lesser)
            a, b = figure(one), figure(other)
            if isinstance(one.value, Bounds) and _is_one(meaning.greater, meaning.lesser):
                truth = Truth.of(meaning.or_equal)
            else:
                truth = is_at_least(a, b) if meaning.or_equal else is_over(a, b)
        else:
            one, other = self.operand(meaning.left), self.operand(meaning.right)
            truth = are_equal(one.value, other.value)
            if (
                truth is Truth.CANNOT_TELL
                and isinstance(one.value, Bounds)
                and _is_one(meaning.left, meaning.right)
            ):
                truth = Truth.HOLDS
        return claimed(meaning, truth, one, other)

    def quantified(self, meaning: Quantification) -> Evaluated:
        drawn = meaning.drawn
        several, members = self.members(drawn)
        settling = Truth.FAILS if meaning.every else Truth.HOLDS
        parts: list[Evaluated] = []
        failure: RuleError | None = None
        for member in members.known:
            try:
                one = self.asked_of(meaning, member)
            except RuleError as error:
                failure = failure or error
                continue
            if one is not None:
                parts.append(one)
        if any(one.truth is settling for one in parts):
            return Evaluated(meaning, settling, (), (several, *parts))
        unknown = [one for one in parts if one.truth is Truth.CANNOT_TELL]
        if unknown or not members.are_all:
            missing = united(*(one.missing for one in unknown), () if members.are_all else several.missing)
            return Evaluated(meaning, Truth.CANNOT_TELL, missing, (several, *parts))
        if failure is not None:
            raise failure
        return Evaluated(meaning, ~settling, (), (several, *parts))

    def asked_of(self, meaning: Quantification, member: Member) -> Evaluated | None:
        """The answer for one of several; nothing for one that is not meant."""
        counts = self.counts(meaning.drawn, member)
        if counts.truth is Truth.FAILS:
            return None
        condition = self.with_variable(meaning.drawn.variable, member, meaning.condition)
        if counts.truth is Truth.HOLDS:
            return as_part(condition, member)
        truth = (
            some([~counts.truth, condition.truth])
            if meaning.every
            else every([counts.truth, condition.truth])
        )
        parts = (counts, condition)
        missing = united(counts.missing, condition.missing) if truth is Truth.CANNOT_TELL else ()
        return Evaluated(condition.meaning, truth, missing, parts, member=member)

    def alike(self, meaning: Alike) -> Evaluated:
        several, members = self.members(meaning.drawn)
        sure: list[Evaluated] = []
        perhaps: list[Evaluated] = []
        missing = () if members.are_all else several.missing
        for member in members.known:
            counts = self.counts(meaning.drawn, member)
            if counts.truth is Truth.FAILS:
                continue
            found = as_part(self.with_variable(meaning.drawn.variable, member, meaning.of), member)
            missing = united(missing, counts.missing, found.missing)
            (sure if counts.truth is Truth.HOLDS else perhaps).append(found)
        if differ([one.value for one in sure]):
            return Evaluated(meaning, Truth.FAILS, (), (several, *sure))
        if members.are_all and agree([one.value for one in sure + perhaps]):
            return Evaluated(meaning, Truth.HOLDS, (), (several, *sure, *perhaps))
        return Evaluated(meaning, Truth.CANNOT_TELL, missing, (several, *sure, *perhaps))


def _is_one(left: Meaning, right: Meaning) -> bool:
    return left == right


def _sources(parts: tuple[Evaluated, ...]) -> list[tuple[Thing, str]]:
    """Facts that values were found from."""
    found: list[tuple[Thing, str]] = []
    for part in parts:
        if isinstance(part.meaning, FactOf) and part.thing is not None:
            found.append((part.thing, part.meaning.fact.name))
        else:
            found.extend(_sources(part.parts))
    return found


def _the_one(meaning: TheOne, found: Evaluated) -> Evaluated:
    if not isinstance(found.value, Members):
        return Evaluated(meaning, found.value, found.missing, (found,), found.answer, found.thing)
    members = found.value
    values = [member.value for member in members.known]
    if not members.are_all or not values:
        return Evaluated(meaning, UNKNOWN, found.missing, (found,), found.answer, found.thing)
    first = values[0]
    if len(values) == 1 or all(value == first for value in values):
        assert not isinstance(first, Thing)
        return Evaluated(meaning, first, found.missing, (found,), found.answer, found.thing)
    missing = found.missing
    if found.thing is not None and not missing:
        missing = (Missing(found.thing, last_name(found.meaning), "differs from one to the next"),)
    return Evaluated(meaning, any_of(values), missing, (found,), found.answer, found.thing)


def _picked(meaning: Pick, greatest: bool, found: tuple[Evaluated, ...]) -> Evaluated:
    bounds = [figure(one) for one in found]
    pick = max if greatest else min
    picked = Bounds(pick(one.low for one in bounds), pick(one.high for one in bounds))
    return Evaluated(meaning, picked, united(*(one.missing for one in found)), found)


def _table_key(found: Evaluated) -> Value:
    value = found.value
    return value if isinstance(value, Bounds | Choice | Name) else UNKNOWN
