"""The fast way: an expression made once into a Python code object, for facts that are exactly known.

It answers only what plain values settle, or the bounds of one fact by themselves. What it cannot answer it
leaves open: `none` in a calculation, a list that may be longer, an empty one where a least is wanted, a
division by zero. As in the careful way, a claim that is open is of no account where another one settles the
answer; where the answer itself is open, it raises `NotExact`, and the careful way judges. Where it answers,
it answers as the careful way would: the same floats in the same order, the same closeness at a limit.

The source is put together from our own names and numbered constants only; nothing that a pack says becomes
part of it as text.
"""

from collections.abc import Callable
from typing import Any as Anything
from typing import Final, cast

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import Name
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.language.environment import Environment
from plumbtrue.rules.language.fast_steps import GIVEN, wrapping
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
from plumbtrue.rules.language.value_types import Figures, ManyWords, Names, OneThing, OneWord, Several

Fast = Callable[[Environment, Thing], bool]
_LARGEST: Final = 1e300
_MOST_BLOCKS: Final = 12
"""Blocks of source inside one another before open claims are no longer kept apart: Python reads twenty."""
_WIDE: Final = 4e-9
"""Relative difference above which two figures differ beyond doubt: a few times the closeness at which they
are the same.
"""


def compile_fast(meaning: Meaning) -> Fast:
    """The expression as a function of the facts and the thing judged.

    Making it takes as long as judging three things or so the careful way; used on many, it is a hundred
    times as quick. It raises `plumbtrue.facts.store.NotExact` where it hands over to the careful way.
    """
    writer = _Writer()
    source = writer.whole(meaning)
    names: dict[str, Anything] = {**GIVEN, **writer.constants}
    exec(compile(source, "<rule>", "exec"), names)
    return cast(Fast, names["rule"])


class _Writer:
    """The source while it is written: one function for the expression and one for each named value."""

    def __init__(self) -> None:
        self.constants: dict[str, Anything] = {}
        self.lets: dict[str, int] = {}
        self.functions: list[str] = []
        self.lines: list[str] = []
        self.depth = 1
        self.blocks = 0
        self.used = 0
        self.variables: dict[str, str] = {}

    def whole(self, meaning: Meaning) -> str:
        result = self.value(meaning)
        lines = self.lines
        head = ["def rule(facts, this):", " exact = facts.exact"]
        if self.lets:
            head.append(f" kept = [UNSET] * {len(self.lets)}")
        return "\n".join([*self.functions, *head, *lines, f" return {result}"])

    # ---- pieces of source

    def line(self, text: str) -> None:
        self.lines.append(" " * self.depth + text)

    def inward(self) -> None:
        self.depth += 1
        self.blocks += 1

    def outward(self) -> None:
        self.depth -= 1
        self.blocks -= 1

    def fresh(self) -> str:
        self.used += 1
        return f"v{self.used}"

    def constant(self, value: object) -> str:
        name = f"c{len(self.constants)}"
        self.constants[name] = value
        return name

    def kept(self, expression: str) -> str:
        """A fresh variable that holds an expression."""
        name = self.fresh()
        self.line(f"{name} = {expression}")
        return name

    def give_up_if(self, condition: str) -> None:
        self.line(f"if {condition}: raise NotExact")

    # ---- values

    def value(self, meaning: Meaning) -> str:
        """An expression for the value; `None` stands for `none`."""
        match meaning:
            case Constant(value):
                return self.plain_constant(value)
            case Today():
                return "facts.today"
            case This():
                return "this"
            case Variable(name):
                return self.variables[name]
            case LetValue():
                return self.let(meaning)
            case Around(owner=owner, kind=kind):
                return self.there(f"{self.thing(owner)}.enclosing({kind!r})")
            case LoadPath(owner=owner):
                return self.kept(f"load_path({self.thing(owner)})")
            case FactOf():
                return self.fact(meaning)
            case TheOne(of=of):
                return self.kept(f"the_one({self.value(of)})")
            case Negative() | Absolute() | Calculation() | ShiftedDate() | DaysBetween() | Elapsed() | Pick():
                return self.figured(meaning)
            case TableValue():
                return self.table_value(meaning)
            case CountOf() | TotalOf():
                return self.gathered(meaning)
            case _:
                return self.claim(meaning)

    def plain_constant(self, value: object) -> str:
        match value:
            case Bounds(low, _) if value.is_exact:
                return self.constant(low)
            case Name(text):
                return self.constant(text)
            case _:
                # A limit given within bounds is never exactly known.
                self.give_up_if("True")
                return "None"

    def there(self, expression: str) -> str:
        found = self.kept(expression)
        self.give_up_if(f"{found} is None")
        return found

    def thing(self, meaning: Meaning) -> str:
        """A thing that is there for certain."""
        found = self.value(meaning)
        if not isinstance(meaning, This | Around | Variable):
            self.give_up_if(f"{found} is None")
        return found

    def figure(self, meaning: Meaning) -> str:
        """A figure or date that is there for certain."""
        found = self.value(meaning)
        if isinstance(meaning, FactOf | Variable | LetValue | TheOne):
            self.give_up_if(f"{found} is None")
        return found

    def fact(self, meaning: FactOf) -> str:
        name = meaning.fact.name
        if isinstance(meaning.owner.type, Several):
            return self.facts_of_several(meaning)
        owner = self.thing(meaning.owner)
        if _lists_values(meaning):
            self.give_up_if(f"facts.is_unlisted({owner}, {name!r})")
        return self.kept(f"exact({owner}, {name!r})")

    def facts_of_several(self, meaning: FactOf) -> str:
        owners = self.items(meaning.owner)
        holds_things = isinstance(meaning.type, Several) and isinstance(meaning.type.of, OneThing)
        found, owner, one = self.kept("[]"), self.fresh(), self.fresh()
        self.line(f"for {owner} in {owners}:")
        if _lists_values(meaning):
            self.line(f" if facts.is_unlisted({owner}, {meaning.fact.name!r}): raise NotExact")
        self.line(f" {one} = exact({owner}, {meaning.fact.name!r})")
        self.line(f" if {one}.__class__ is tuple: {found}.extend({one})")
        if holds_things or (
            meaning.fact.type.startswith("list of ") and meaning.fact.type != "list of words"
        ):
            self.line(f" elif {one} is not None: {found}.append({one})")
        else:
            self.line(f" else: {found}.append({one})")
        return found

    def items(self, meaning: Meaning) -> str:
        """Something to run over."""
        found = self.value(meaning)
        if isinstance(meaning, FactOf) and isinstance(meaning.owner.type, Several):
            return found
        if isinstance(meaning, LoadPath):
            return found
        if isinstance(meaning.type, Several) and meaning.type.or_one:
            return self.kept(f"{found} if {found}.__class__ is tuple else ({found},)")
        if isinstance(meaning.type, Several | ManyWords):
            # `none` is an empty list here; a single thing can stand where a list of references is meant.
            return self.kept(
                f"() if {found} is None else {found} if {found}.__class__ in LISTS else ({found},)"
            )
        return found

    def let(self, meaning: LetValue) -> str:
        if meaning.name not in self.lets:
            self.lets[meaning.name] = len(self.lets)
            self.let_function(meaning)
        number = self.lets[meaning.name]
        found = self.kept(f"kept[{number}]")
        self.line(f"if {found} is UNSET: {found} = kept[{number}] = let{number}(facts, this, kept)")
        return found

    def let_function(self, meaning: LetValue) -> None:
        number = self.lets[meaning.name]
        outer, self.lines = self.lines, []
        depth, self.depth = self.depth, 1
        blocks, self.blocks = self.blocks, 0
        variables, self.variables = self.variables, {}
        result = self.value(meaning.body)
        head = [f"def let{number}(facts, this, kept):", " exact = facts.exact"]
        self.functions.append("\n".join([*head, *self.lines, f" return {result}"]))
        self.lines, self.depth, self.blocks, self.variables = outer, depth, blocks, variables

    # ---- figures

    def figured(
        self, meaning: Negative | Absolute | Calculation | ShiftedDate | DaysBetween | Elapsed | Pick
    ) -> str:
        match meaning:
            case Negative(of=of):
                return self.kept(f"-{self.figure(of)}")
            case Absolute(of=of):
                return self.kept(f"abs({self.figure(of)})")
            case Calculation(operator=operator, left=left, right=right):
                a, b = self.figure(left), self.figure(right)
                if operator == "/":
                    self.give_up_if(f"{b} == 0")
                return self.finite(f"{a} {operator} {b}")
            case ShiftedDate(day=day, by=by, later=later):
                return self.finite(f"{self.figure(day)} {'+' if later else '-'} {self.figure(by)} / DAY")
            case DaysBetween(left=left, right=right):
                return self.finite(f"({self.figure(left)} - {self.figure(right)}) * DAY")
            case Elapsed(of=of, by_calendar=by_calendar):
                return self.kept(f"since({self.figure(of)}, {by_calendar}, facts.today)")
            case Pick(greatest=greatest, of=of):
                figures = ", ".join([self.figure(one) for one in of])
                return self.kept(f"{'max' if greatest else 'min'}({figures})")

    def finite(self, expression: str) -> str:
        found = self.kept(expression)
        self.give_up_if(f"not {-_LARGEST} < {found} < {_LARGEST}")
        return found

    def table_value(self, meaning: TableValue) -> str:
        keys = ", ".join(
            [
                self.figure(key) if isinstance(key.type, Figures) else self.value(key)
                for _, key in meaning.keys
            ]
        )
        kinds = tuple((name, wrapping(key)) for name, key in meaning.keys)
        table, column, named = (
            self.constant(meaning.table),
            self.constant(meaning.column),
            self.constant(kinds),
        )
        return self.kept(f"from_table({table}, {column}, {named}, ({keys},))")

    def gathered(self, meaning: CountOf | TotalOf) -> str:
        drawn = meaning.drawn
        items = self.items(drawn.several)
        found = self.kept(
            "0" if isinstance(meaning, CountOf) else "0.0" if meaning.gathering == "sum" else "None"
        )
        self.begin(drawn, items)
        self.leave_out(drawn)
        if isinstance(meaning, CountOf):
            self.line(f"{found} += 1")
        else:
            one = self.figure(meaning.of)
            if meaning.gathering == "sum":
                self.line(f"{found} = {found} + {one}")
                self.give_up_if(f"not {-_LARGEST} < {found} < {_LARGEST}")
            else:
                sign = ">" if meaning.gathering == "greatest" else "<"
                self.line(f"if {found} is None or {one} {sign} {found}: {found} = {one}")
        self.end(drawn)
        if isinstance(meaning, TotalOf) and meaning.gathering != "sum":
            self.give_up_if(f"{found} is None")
        return found

    def begin(self, drawn: Drawn, items: str) -> None:
        """Opens a loop over several."""
        variable = self.fresh()
        self.line(f"for {variable} in {items}:")
        self.inward()
        self.variables[drawn.variable] = variable

    def leave_out(self, drawn: Drawn) -> None:
        """Passes over the one in hand if it is not meant."""
        if drawn.where is not None:
            self.line(f"if not {self.claim(drawn.where)}: continue")

    def end(self, drawn: Drawn) -> None:
        self.outward()
        del self.variables[drawn.variable]

    # ---- claims

    def claim(self, meaning: Meaning) -> str:
        """An expression that is true or false."""
        match meaning:
            case LetValue():
                return self.let(meaning)
            case Denial(of=of):
                return f"(not {self.claim(of)})"
            case All(parts=parts):
                return self.joined(parts, settling=False)
            case Any(parts=parts):
                return self.joined(parts, settling=True)
            case Over(greater=greater, lesser=lesser, or_equal=or_equal):
                step = "is_at_least" if or_equal else "is_over"
                return self.settled(lambda: self.over(meaning), step, greater, lesser)
            case Equal(left=left, right=right):
                return self.settled(lambda: self.equal(left, right), "are_equal", left, right)
            case IsWord(of=of, words=words):
                return self.settled(lambda: self.is_word(of, words), "is_word", of, given=words)
            case IncludesWord(of=of, word=word):
                return self.settled(lambda: self.includes(of, word), "includes", of, given=word)
            case IsNothing(of=of):
                return self.settled(lambda: self.is_nothing(of), "is_none", of)
            case IsSaid(of=of):
                return self.is_said(of)
            case IsKind(of=of, kinds=kinds):
                return f"({self.thing(of)}.kind.name in {self.constant(kinds)})"
            case IsThing(left=left, right=right):
                return f"({self.thing(left)} is {self.thing(right)})"
            case LiesIn(kind=kind):
                return f"(this.enclosing({kind!r}) is not None)"
            case Quantification():
                return self.quantified(meaning)
            case Alike():
                return self.alike(meaning)
            case _:
                raise ValueError(f"{meaning} is no claim")

    def joined(self, parts: tuple[Meaning, ...], *, settling: bool) -> str:
        """Claims in a row; each is looked at until one settles the answer, whatever is open before it."""
        found = self.kept(str(not settling))
        for number, part in enumerate(parts):
            if number:
                self.line(f"if {found} is not {settling}:")
                self.depth += 1
            self.unless_open(found, lambda part=part: self.settles(found, part, settling))  # type: ignore[misc]
            self.depth -= bool(number)
        self.give_up_if(f"{found} is None")
        return found

    def settles(self, found: str, part: Meaning, settling: bool) -> None:
        self.line(f"if {'' if settling else 'not '}{self.claim(part)}: {found} = {settling}")

    def unless_open(self, found: str, write: Callable[[], None]) -> None:
        """Lines that leave the answer `None` where what they ask is open."""
        if self.blocks >= _MOST_BLOCKS:
            write()
            return
        self.line("try:")
        self.inward()
        write()
        self.outward()
        self.line(f"except NotExact: {found} = None")

    def settled(self, plainly: Callable[[], str], step: str, *operands: Meaning, given: object = None) -> str:
        """A claim about plain values; where one is known within bounds only, what these settle by
        themselves.
        """
        bounds = [self.within(one) for one in operands]
        told = [one for one in bounds if one is not None]
        if len(told) < len(bounds) or all(isinstance(one, Constant) for one in operands):
            return plainly()
        if given is not None:
            told.append(self.constant(given))
        found = self.fresh()
        self.line("try:")
        self.inward()
        self.line(f"{found} = {plainly()}")
        self.outward()
        self.line(f"except NotExact: {found} = told({step}({', '.join(told)}))")
        return found

    def within(self, meaning: Meaning) -> str | None:
        """An expression for a value as the careful way has it, which may be wider than need be; nothing for
        what has to be left to it.
        """
        match meaning:
            case Constant(value):
                return self.constant(value)
            case FactOf(owner=owner, fact=fact) if not isinstance(meaning.type, OneThing | Several):
                # The owner is found before anything is tried: without it there is nothing to ask.
                return f"known(facts, {self.thing(owner)}, {fact.name!r})"
            case Absolute(of=of):
                bounds = self.within(of)
                return None if bounds is None else f"abs({bounds})"
            case Elapsed(of=of, by_calendar=by_calendar):
                bounds = self.within(of)
                return None if bounds is None else f"elapsed({bounds}, {by_calendar}, facts.today)"
            case Calculation(operator=operator, left=left, right=right):
                # A quotient needs a divisor that stands in the rule: any other may turn out to be zero.
                if operator == "/" and not _fixed(right):
                    return None
                one, other = self.within(left), self.within(right)
                return None if one is None or other is None else f"({one} {operator} {other})"
            case _:
                return None

    def is_word(self, of: Meaning, words: frozenset[str]) -> str:
        found = self.value(of)
        if len(words) == 1:
            return f"({found} == {self.constant(next(iter(words)))})"
        return f"({found} in {self.constant(words)})"

    def includes(self, of: Meaning, word: str) -> str:
        found = self.value(of)
        return f"({found} is not None and {self.constant(word)} in {found})"

    def is_nothing(self, of: Meaning) -> str:
        found = self.value(of)
        if isinstance(of.type, Several | ManyWords):
            return f"({found} is None or {found}.__class__ in LISTS and not {found})"
        return f"({found} is None)"

    def is_said(self, of: Meaning) -> str:
        if isinstance(of, FactOf) and not isinstance(of.owner.type, Several):
            several = of.type.of if isinstance(of.type, Several) else of.type
            step = "holds_something" if isinstance(several, OneThing) else "says_something"
            return self.kept(f"{step}(facts, {self.thing(of.owner)}, {of.fact.name!r})")
        self.value(of)
        return "True"

    def over(self, meaning: Over) -> str:
        """Comparison of two figures. Against a fixed limit, most figures need no look at how close they
        are.
        """
        a, b = self.figure(meaning.greater), self.figure(meaning.lesser)
        limit = _fixed(meaning.lesser)
        other = _fixed(meaning.greater)
        if meaning.or_equal:  # Unless the lesser exceeds it.
            if limit is not None:
                return f"({a} >= {b} or {a} >= {limit - _WIDE * abs(limit)!r} and not exceeds({b}, {a}))"
            if other is not None:
                return f"({b} <= {a} or {b} <= {other + _WIDE * abs(other)!r} and not exceeds({b}, {a}))"
            return f"({a} >= {b} or not exceeds({b}, {a}))"
        if limit is not None:
            return f"({a} > {limit + _WIDE * abs(limit)!r} or {a} > {b} and exceeds({a}, {b}))"
        if other is not None:
            return f"({b} < {other - _WIDE * abs(other)!r} or {a} > {b} and exceeds({a}, {b}))"
        return f"({a} > {b} and exceeds({a}, {b}))"

    def equal(self, left: Meaning, right: Meaning) -> str:
        a, b = self.value(left), self.value(right)
        self.give_up_if(f"{a} is None or {b} is None")
        if _is_text(left):
            return f"({a} == {b})"
        return f"({a} == {b} or same({a}, {b}))"

    def quantified(self, meaning: Quantification) -> str:
        drawn = meaning.drawn
        items = self.items(drawn.several)
        found = self.kept(str(meaning.every))
        self.begin(drawn, items)

        def ask() -> None:
            self.leave_out(drawn)
            denied = "not " if meaning.every else ""
            self.line(f"if {denied}{self.claim(meaning.condition)}:")
            self.line(f" {found} = {not meaning.every}")
            self.line(" break")

        self.unless_open(found, ask)
        self.end(drawn)
        self.give_up_if(f"{found} is None")
        return found

    def alike(self, meaning: Alike) -> str:
        items = self.items(meaning.drawn.several)
        found = self.kept("[]")
        self.begin(meaning.drawn, items)
        self.leave_out(meaning.drawn)
        one = self.value(meaning.of)
        self.give_up_if(f"{one} is None")
        self.line(f"{found}.append({one})")
        self.end(meaning.drawn)
        if _is_text(meaning.of):
            return f"(len(set({found})) < 2)"
        return f"(not {found} or same(min({found}), max({found})))"


def _is_text(meaning: Meaning) -> bool:
    return isinstance(meaning.type, OneWord | Names)


def _lists_values(meaning: FactOf) -> bool:
    """Whether a fact is a list of values; one of things that may be longer `exact` refuses itself."""
    fact = meaning.fact.type
    return meaning.fact.one_or_each or (
        fact.startswith("list of ") and fact not in ("list of things", "list of words")
    )


def _fixed(meaning: Meaning) -> float | None:
    """The figure of a limit that stands in the rule."""
    value = meaning.value if isinstance(meaning, Constant) else None
    return value.low if isinstance(value, Bounds) and value.is_exact else None
