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

from datetime import date
from math import inf
from typing import Final, assert_never

from plumbtrue.facts.answer import Missing
from plumbtrue.quantities.bounds import EVERYTHING, Bounds, exceeds, is_at_least, is_equal, is_over, same
from plumbtrue.quantities.calendar import DAY, calendar_age, days_since
from plumbtrue.quantities.truth import Truth, every, some
from plumbtrue.quantities.values import (
    NONE,
    UNKNOWN,
    Absent,
    Choice,
    Each,
    Name,
    Unknown,
    Value,
    WordSet,
    is_exactly_known,
)
from plumbtrue.rig.thing import Thing
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
from plumbtrue.rules.language.results import (
    Evaluated,
    Member,
    Members,
    NotThere,
    Rest,
    as_part,
    claimed,
    united,
)
from plumbtrue.rules.language.value_types import Claims, OneThing, Several

_NOT_THERE: Final = NotThere()
_FIRST_DAY: Final = float(date.min.toordinal())
_LAST_DAY: Final = float(date.max.toordinal())


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
        match meaning:
            case Constant(value):
                return Evaluated(meaning, value)
            case Today():
                return Evaluated(meaning, Bounds.exactly(self.environment.today))
            case This():
                return Evaluated(meaning, self.this)
            case Variable(name):
                member = self.variables[name]
                return Evaluated(meaning, member.value, member.missing)
            case LetValue():
                return self.let(meaning)
            case Around() | LoadPath() | FactOf():
                return self.reached(meaning)
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
            case Denial(of):
                found = self.find(of)
                return claimed(meaning, ~found.truth, found)
            case All(parts):
                return self.joined(meaning, parts, Truth.FAILS)
            case Any(parts):
                return self.joined(meaning, parts, Truth.HOLDS)
            case Over() | Equal():
                return self.compared(meaning)
            case IsWord(of, words):
                found = self.find(of)
                return claimed(meaning, _is_word(found.value, words), found)
            case IncludesWord(of, word):
                found = self.find(of)
                return claimed(meaning, _includes(found.value, word), found)
            case IsNothing(of):
                found = self.find(of)
                return claimed(meaning, _is_none(found.value), found)
            case IsSaid(of):
                found = self.find(of)
                return claimed(meaning, Truth.of(not _is_open(found.value)), found)
            case IsKind(of, kinds):
                found = self.operand(of)
                if not isinstance(found.value, Thing):
                    return claimed(meaning, Truth.CANNOT_TELL, found)
                return claimed(meaning, Truth.of(found.value.kind.name in kinds), found)
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

    def reached(self, meaning: Around | LoadPath | FactOf) -> Evaluated:
        owner = self.find(meaning.owner)
        match owner.value:
            case Thing():
                return self.from_thing(meaning, owner.value, owner)
            case Members():
                assert isinstance(meaning, FactOf)
                return self.from_several(meaning, owner.value, owner)
            case Unknown():
                unknown = Members((), Rest.UNKNOWN) if isinstance(meaning.type, Several) else UNKNOWN
                return Evaluated(meaning, unknown, owner.missing, (owner,))
            case _:
                return self.not_there(meaning, owner)

    def not_there(self, meaning: Around | LoadPath | FactOf, owner: Evaluated) -> Evaluated:
        """What is asked of a thing that is not there."""
        missing = self.with_reason(owner).missing
        found = Members((), Rest.NOT_THERE) if isinstance(meaning.type, Several) else _NOT_THERE
        return Evaluated(meaning, found, missing, (owner,))

    def operand(self, meaning: Meaning) -> Evaluated:
        """What is compared or counted with; being none, or not there, is what keeps the answer open."""
        return self.with_reason(self.find(meaning))

    def with_reason(self, found: Evaluated) -> Evaluated:
        """The same; where it is known not to be there, this is given as what keeps the answer open."""
        if found.missing or not isinstance(found.value, Absent | NotThere):
            return found
        name = _last_name(found.meaning)
        reason = (Missing(found.thing or self.this, name, "recorded as none"),)
        return Evaluated(
            found.meaning, found.value, reason, found.parts, found.answer, found.thing, found.member
        )

    def from_thing(self, meaning: Around | LoadPath | FactOf, thing: Thing, owner: Evaluated) -> Evaluated:
        match meaning:
            case Around(kind=kind):
                around = thing.enclosing(kind)
                if around is not None:
                    return Evaluated(meaning, around, thing=thing)
                why = Missing(thing, kind, f"it lies in no {kind.replace('_', ' ')}")
                return Evaluated(meaning, _NOT_THERE, (why,), thing=thing)
            case LoadPath():
                beside = thing.parent.parts.get(thing.role) if thing.parent is not None else None
                if thing.parent is not None and isinstance(beside, tuple):
                    return self.things(meaning, thing.parent, thing.role, beside)
                why = Missing(thing, "load_path", "it stands in no load path")
                return Evaluated(meaning, Members((), Rest.NOT_THERE), (why,), thing=thing)
            case FactOf(fact=fact):
                return self.fact(meaning, thing, fact.name, owner)

    def fact(self, meaning: FactOf, thing: Thing, name: str, owner: Evaluated) -> Evaluated:
        if name not in thing.kind.facts:
            why = Missing(thing, name, f"a {thing.kind.word} has no such fact")
            nothing = Members((), Rest.NOT_THERE) if isinstance(meaning.type, Several) else _NOT_THERE
            return Evaluated(meaning, nothing, (why,), thing=thing)
        kind = meaning.type
        if isinstance(kind.of if isinstance(kind, Several) else kind, OneThing):
            held = self.environment.part(thing, name)
            if isinstance(kind, Several) and not isinstance(meaning.owner.type, Several):
                return self.things(meaning, thing, name, held)
            return self.part(meaning, thing, name, held)
        answer = self.environment.answer(thing, name)
        missing = _doubts(answer.value, answer.missing, thing, name)
        parts = (owner,) if not isinstance(owner.meaning, This) else ()
        if isinstance(kind, Several):
            members = self.values(meaning, thing, name, answer.value, missing)
            return Evaluated(meaning, members, missing, parts, answer, thing)
        return Evaluated(meaning, answer.value, missing, parts, answer, thing)

    def part(
        self, meaning: FactOf, thing: Thing, name: str, held: Thing | tuple[Thing, ...] | Absent | Unknown
    ) -> Evaluated:
        match held:
            case Thing() | Absent():
                return Evaluated(meaning, held, thing=thing)
            case Unknown():
                return Evaluated(meaning, UNKNOWN, self.unknown_part(thing, name), thing=thing)
            case _:
                return self.things(meaning, thing, name, held)

    def unknown_part(self, thing: Thing, name: str) -> tuple[Missing, ...]:
        return self.environment.answer(thing, name).missing or (Missing(thing, name),)

    def things(
        self,
        meaning: FactOf | LoadPath,
        thing: Thing,
        name: str,
        held: Thing | tuple[Thing, ...] | Absent | Unknown,
    ) -> Evaluated:
        """The members of a list or path, and whether they are all."""
        match held:
            case Unknown():
                return Evaluated(
                    meaning, Members((), Rest.UNKNOWN), self.unknown_part(thing, name), thing=thing
                )
            case Absent():
                known: tuple[Member, ...] = ()
            case Thing():
                known = (Member(held),)
            case _:
                known = tuple(map(Member, held))
        if not self.environment.is_unlisted(thing, name):
            return Evaluated(meaning, Members(known), thing=thing)
        missing = (Missing(thing, name, "not all of them identified"),)
        return Evaluated(meaning, Members(known, Rest.SOMETHING), missing, thing=thing)

    def values(
        self, meaning: FactOf, thing: Thing, name: str, value: Value, missing: tuple[Missing, ...]
    ) -> Members:
        """The values of a list, or of a fact that may have been written once for all."""
        more = self.environment.is_unlisted(thing, name)
        rest = Rest.SOMETHING if more else Rest.NOTHING
        match value:
            case Each(values):
                told = tuple(Member(one, () if is_exactly_known(one) else missing) for one in values)
                return Members(told, rest)
            case Unknown():
                return Members((), Rest.UNKNOWN)
            case Absent() if not meaning.fact.one_or_each:
                return Members((), rest)
            case _:
                return Members((Member(value, missing),), rest)

    def from_several(self, meaning: FactOf, owners: Members, owner: Evaluated) -> Evaluated:
        """A fact of each of several things; lists run together, and what is not there adds nothing to a
        list of things.
        """
        holds_things = isinstance(meaning.type, Several) and isinstance(meaning.type.of, OneThing)
        known: list[Member] = []
        rest = owners.rest
        missing = owner.missing
        for member in owners.known:
            assert isinstance(member.value, Thing)
            found = self.fact_of_one(meaning, member.value, owner)
            if isinstance(found.value, Members):
                known.extend(found.value.known)
                rest = rest if found.value.are_all else found.value.rest
                missing = united(missing, found.missing) if not found.value.are_all else missing
            elif isinstance(found.value, Absent) and holds_things:
                continue
            elif isinstance(found.value, Unknown) and holds_things:
                rest = Rest.UNKNOWN
                missing = united(missing, found.missing)
            else:
                value = NONE if isinstance(found.value, NotThere) else found.value
                assert not isinstance(value, Truth)
                known.append(Member(value, found.missing))
        return Evaluated(meaning, Members(tuple(known), rest), missing, (owner,))

    def fact_of_one(self, meaning: FactOf, thing: Thing, owner: Evaluated) -> Evaluated:
        name = meaning.fact.name
        fact = thing.kind.facts.get(name)
        if fact is not None and fact.type in ("list of things", "path", "list of reference"):
            return self.things(meaning, thing, name, self.environment.part(thing, name))
        if fact is not None and fact.type in ("thing", "reference"):
            return self.part(meaning, thing, name, self.environment.part(thing, name))
        if (
            fact is None
            or fact.one_or_each
            or (fact.type.startswith("list of ") and fact.type != "list of words")
        ):
            return self.fact(meaning, thing, name, owner)
        answer = self.environment.answer(thing, name)
        missing = _doubts(answer.value, answer.missing, thing, name)
        return Evaluated(meaning, answer.value, missing, answer=answer, thing=thing)

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
            missing = united(missing, counts.missing, self.with_reason(found).missing)
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
            missing = (Missing(several.thing or self.this, _last_name(several.meaning), why),)
        extreme = _extreme(meaning.gathering == "greatest", sure, perhaps)
        return Evaluated(meaning, extreme, missing, tuple(parts))

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
            truth = _equal(one.value, other.value)
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
        if _differ([one.value for one in sure]):
            return Evaluated(meaning, Truth.FAILS, (), (several, *sure))
        if members.are_all and _agree([one.value for one in sure + perhaps]):
            return Evaluated(meaning, Truth.HOLDS, (), (several, *sure, *perhaps))
        return Evaluated(meaning, Truth.CANNOT_TELL, missing, (several, *sure, *perhaps))


def figure(found: Evaluated) -> Bounds:
    """The figure of a node. One that is unknown, none, or not there could be anything."""
    return found.value if isinstance(found.value, Bounds) else EVERYTHING


def elapsed(day: Bounds, by_calendar: bool, today: float) -> Bounds:
    """Time from a date to today [s]. What lies before or after the calendar's years is not known."""
    within = (
        Bounds(day.low if day.low >= _FIRST_DAY else -inf, day.high if day.high <= _LAST_DAY - 1 else inf)
        if day.low <= _LAST_DAY and day.high >= _FIRST_DAY
        else EVERYTHING
    )
    return calendar_age(within, int(today)) if by_calendar else days_since(within, int(today))


def _is_one(left: Meaning, right: Meaning) -> bool:
    return left == right


def _doubts(value: Value, missing: tuple[Missing, ...], thing: Thing, name: str) -> tuple[Missing, ...]:
    """What would make a fact's value exact; nothing for one that is exact already."""
    if isinstance(value, Absent) or is_exactly_known(value):
        return ()
    if missing:
        return missing
    why = "not recorded" if isinstance(value, Unknown) else "recorded only within bounds"
    return (Missing(thing, name, why),)


def _last_name(meaning: Meaning) -> str:
    match meaning:
        case FactOf(fact=fact):
            return fact.name
        case Around(kind=kind):
            return kind
        case LetValue(name=name) | Variable(name=name):
            return name
        case _:
            return "value"


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
        missing = (Missing(found.thing, _last_name(found.meaning), "differs from one to the next"),)
    return Evaluated(meaning, _any_of(values), missing, (found,), found.answer, found.thing)


def _any_of(values: list[Thing | Value]) -> Value:
    """A value that contains each of several."""
    if all(isinstance(value, Bounds) for value in values):
        bounds = [value for value in values if isinstance(value, Bounds)]
        return Bounds(min(one.low for one in bounds), max(one.high for one in bounds))
    possible: set[str] = set()
    may_be_none = False
    for value in values:
        match value:
            case Choice(words, perhaps_none):
                possible |= words
                may_be_none |= perhaps_none
            case Absent():
                may_be_none = True
            case _:
                return UNKNOWN
    return Choice(frozenset(possible), may_be_none)


def _picked(meaning: Pick, greatest: bool, found: tuple[Evaluated, ...]) -> Evaluated:
    bounds = [figure(one) for one in found]
    pick = max if greatest else min
    picked = Bounds(pick(one.low for one in bounds), pick(one.high for one in bounds))
    return Evaluated(meaning, picked, united(*(one.missing for one in found)), found)


def _extreme(greatest: bool, sure: list[Bounds], perhaps: list[Bounds]) -> Bounds:
    """The least or greatest of those that count for certain and those that may; of none at all, nothing is
    known.
    """
    if not sure:
        return EVERYTHING
    lows, highs = [one.low for one in sure], [one.high for one in sure]
    if greatest:
        return Bounds(max(lows), max(highs + [one.high for one in perhaps]))
    return Bounds(min(lows + [one.low for one in perhaps]), min(highs))


def _table_key(found: Evaluated) -> Value:
    value = found.value
    return value if isinstance(value, Bounds | Choice | Name) else UNKNOWN


def _is_open(value: object) -> bool:
    return isinstance(value, Unknown) or (
        isinstance(value, Members) and value.rest is Rest.UNKNOWN and not value.known
    )


def _is_word(value: object, words: frozenset[str]) -> Truth:
    match value:
        case Choice(possible, may_be_none):
            if possible <= words and possible and not may_be_none:
                return Truth.HOLDS
            return Truth.CANNOT_TELL if possible & words else Truth.FAILS
        case Name(text):
            return Truth.of(text in words)
        case Absent():
            return Truth.FAILS
        case _:
            return Truth.CANNOT_TELL


def _includes(value: object, word: str) -> Truth:
    match value:
        case WordSet(words, perhaps):
            if word in words:
                return Truth.HOLDS
            return Truth.CANNOT_TELL if word in perhaps else Truth.FAILS
        case Absent():
            return Truth.FAILS
        case _:
            return Truth.CANNOT_TELL


def _is_none(value: object) -> Truth:
    match value:
        case Absent() | NotThere():
            return Truth.HOLDS
        case Unknown():
            return Truth.CANNOT_TELL
        case Choice(possible, may_be_none):
            return Truth.FAILS if not may_be_none else Truth.CANNOT_TELL if possible else Truth.HOLDS
        case WordSet(words, perhaps):
            return Truth.FAILS if words else Truth.CANNOT_TELL if perhaps else Truth.HOLDS
        case Members(known, rest):
            if known or rest is Rest.SOMETHING:
                return Truth.FAILS
            return Truth.CANNOT_TELL if rest is Rest.UNKNOWN else Truth.HOLDS
        case _:
            return Truth.FAILS


def _equal(one: object, other: object) -> Truth:
    match one, other:
        case Bounds(), Bounds():
            return is_equal(one, other)
        case Name(text), Name(text_too):
            return Truth.of(text == text_too)
        case Choice(possible, may_be_none), Choice(others, may_be_none_too):
            if not possible & others:
                return Truth.CANNOT_TELL if may_be_none or may_be_none_too else Truth.FAILS
            alone = len(possible) == len(others) == 1 and not may_be_none and not may_be_none_too
            return Truth.HOLDS if alone else Truth.CANNOT_TELL
        case _:
            return Truth.CANNOT_TELL


def _differ(values: list[object]) -> bool:
    """Whether two of these differ for certain. `none` differs from everything else."""
    if all(isinstance(value, Bounds) for value in values):
        bounds = [value for value in values if isinstance(value, Bounds)]
        return bool(bounds) and exceeds(max(one.low for one in bounds), min(one.high for one in bounds))
    return any(_two_differ(one, other) for index, one in enumerate(values) for other in values[:index])


def _two_differ(one: object, other: object) -> bool:
    match one, other:
        case Bounds(), Bounds():
            return exceeds(one.low, other.high) or exceeds(other.low, one.high)
        case Name(text), Name(text_too):
            return text != text_too
        case Choice(possible, may_be_none), Choice(others, may_be_none_too):
            return not possible & others and not (may_be_none and may_be_none_too)
        case (Absent(), Choice(_, may_be_none)) | (Choice(_, may_be_none), Absent()):
            return not may_be_none
        case (Absent(), Bounds() | Name()) | (Bounds() | Name(), Absent()):
            return True
        case _:
            return False


def _agree(values: list[object]) -> bool:
    """Whether these are all the same for certain."""
    if not values:
        return True
    if all(isinstance(value, Bounds) and value.is_exact for value in values):
        figures = [value.low for value in values if isinstance(value, Bounds)]
        return same(min(figures), max(figures))
    exact = all(
        isinstance(value, Name | Absent) or (isinstance(value, Choice) and value.word is not None)
        for value in values
    )
    return exact and all(value == values[0] for value in values)
