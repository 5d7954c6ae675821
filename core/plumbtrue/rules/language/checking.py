"""What an expression means: every name finds what it stands for, every comparison is of like with like. No
rig is needed.

A length is never compared with a weight, a limit in months never with a count of days, a word never with
one that its fact does not know. Whatever is wrong becomes a problem with its place and with what to write;
one mistake is told once.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import assert_never

from plumbtrue.documents.nearest_word import nearest
from plumbtrue.documents.place import Problem
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import DURATION, RATIO
from plumbtrue.quantities.literals import read_literal
from plumbtrue.quantities.unreadable import Unreadable, wanted
from plumbtrue.quantities.values import Name
from plumbtrue.rules.language.comparing import check_comparison, check_is, check_one_of, check_one_of_named
from plumbtrue.rules.language.limits import MOST_LETS
from plumbtrue.rules.language.meaning import (
    Absolute,
    Alike,
    All,
    Any,
    Calculation,
    Constant,
    CountOf,
    DaysBetween,
    Denial,
    Drawn,
    Elapsed,
    FactOf,
    IncludesWord,
    IsNothing,
    IsSaid,
    LetValue,
    LiesIn,
    Meaning,
    Negative,
    Pick,
    Quantification,
    ShiftedDate,
    TableValue,
    TheOne,
    TotalOf,
    Variable,
)
from plumbtrue.rules.language.naming import Ground, own_names, stands_for
from plumbtrue.rules.language.nodes import (
    AgeOf,
    And,
    Arithmetic,
    Call,
    Comparison,
    Count,
    DaysSince,
    Expression,
    Figure,
    Includes,
    Is,
    IsKnown,
    IsNone,
    LookUp,
    Minus,
    Not,
    OneOf,
    OneOfNamed,
    Or,
    Path,
    Quantified,
    Quoted,
    Same,
    Total,
    Within,
    inside,
)
from plumbtrue.rules.language.printing import printed
from plumbtrue.rules.language.scope import RESERVED, Scope, may_lie_in, narrowing
from plumbtrue.rules.language.tables import Column, Table
from plumbtrue.rules.language.value_types import (
    CLAIM,
    MISTAKEN,
    PLAIN,
    YES_OR_NO,
    Claims,
    Dates,
    Figures,
    ManyWords,
    Mistaken,
    Names,
    OneThing,
    OneWord,
    Several,
    Type,
    figure_type,
    in_words,
    with_article,
)


@dataclass(frozen=True, slots=True)
class Checked:
    """An expression understood, or what is wrong with it."""

    meaning: Meaning | None
    """Nothing where there are problems."""
    problems: tuple[Problem, ...]


def check(expression: Expression, scope: Scope) -> Checked:
    """What an expression means in a scope, whatever it gives."""
    ground = Ground(scope)
    meaning = _meant(expression, ground)
    return Checked(None if ground.problems else meaning, tuple(ground.problems))


def check_claim(expression: Expression, scope: Scope) -> Checked:
    """What an expression means that says what must hold, or when a rule applies."""
    ground = Ground(scope)
    meaning = _claim(expression, ground)
    return Checked(None if ground.problems else meaning, tuple(ground.problems))


def with_lets(scope: Scope, lets: Mapping[str, Expression]) -> tuple[Scope, tuple[Problem, ...]]:
    """The scope with named intermediate values, which may build on one another in any order but not in a
    circle.
    """
    problems: list[Problem] = []
    if len(lets) > MOST_LETS:
        first = next(iter(lets.values()))
        what = f"a rule may have {MOST_LETS} named values, and this one has {len(lets)}"
        return scope, (Problem("expression-too-large", first.place, what),)
    done: dict[str, LetValue | None] = {}
    for name in lets:
        _settle_let(name, lets, scope, done, (), problems)
    return replace(scope, lets=done), tuple(problems)


def _settle_let(
    name: str,
    lets: Mapping[str, Expression],
    scope: Scope,
    done: dict[str, LetValue | None],
    asking: tuple[str, ...],
    problems: list[Problem],
) -> None:
    if name in done:
        return
    written = lets[name]
    if name in asking:
        circle = " needs ".join((*asking[asking.index(name) :], name))
        problems.append(Problem("let-circle", written.place, f"{circle}: a circle", "take one of them apart"))
        done[name] = None
        return
    ground = Ground(replace(scope, lets=done))
    clash = (
        "a parameter"
        if name in scope.parameters
        else "a fact of the thing"
        if name in own_names(ground)
        else None
    )
    if clash is not None or name in RESERVED:
        what = f"{name} is {clash or 'a word of the rule language'} already"
        problems.append(Problem("name-ambiguous", written.place, what, "call the value under let otherwise"))
        done[name] = None
        return
    for needed in sorted(_first_names(written) & lets.keys()):
        _settle_let(needed, lets, scope, done, (*asking, name), problems)
    if name in done:
        return
    meaning = _meant(written, ground)
    problems.extend(ground.problems)
    good = not ground.problems and not isinstance(meaning.type, Mistaken)
    done[name] = LetValue(name, meaning, meaning.type, Path((name,), written.place)) if good else None


def _first_names(expression: Expression) -> set[str]:
    found, waiting = set(), [expression]
    while waiting:
        one = waiting.pop()
        if isinstance(one, Path):
            found.add(one.steps[0])
        waiting.extend(inside(one))
    return found


def _meant(written: Expression, ground: Ground) -> Meaning:
    """What an expression means, whatever it gives."""
    match written:
        case Figure():
            return _figure(written, ground)
        case Quoted(text):
            return Constant(Name(text), Names(), written)
        case Path():
            return stands_for(written, ground)
        case Call():
            return _call(written, ground)
        case Minus(operand):
            return _minus(operand, written, ground)
        case Arithmetic():
            return _arithmetic(written, ground)
        case AgeOf(operand) | DaysSince(operand):
            return _elapsed(operand, written, ground)
        case Not(operand):
            return Denial(_claim(operand, ground), CLAIM, written)
        case And(parts):
            return All(_claims(parts, True, ground), CLAIM, written)
        case Or(parts):
            return _or(parts, written, ground)
        case Comparison(operator, left, right):
            return check_comparison(operator, one_of(left, ground), one_of(right, ground), written, ground)
        case IsNone(operand, negated):
            return denied(_is_none(_meant(operand, ground), written, ground), negated)
        case IsKnown(operand, negated):
            return denied(_is_known(_meant(operand, ground), written, ground), negated)
        case Is(operand, word, negated):
            return denied(check_is(one_of(operand, ground), word, written, ground), negated)
        case OneOf(operand, words, negated):
            return denied(check_one_of(one_of(operand, ground), words, written, ground), negated)
        case OneOfNamed(operand, named, negated):
            return denied(check_one_of_named(one_of(operand, ground), named, written, ground), negated)
        case Includes(operand, word, negated):
            return denied(_includes(_meant(operand, ground), written, ground), negated)
        case Within(word):
            return _within(written, ground)
        case Quantified():
            return _quantified(written, ground)
        case Same():
            return _same(written, ground)
        case Count():
            return _count(written, ground)
        case Total():
            return _total(written, ground)
        case LookUp():
            return _look_up(written, ground)
        case _:
            assert_never(written)


def one_of(written: Expression, ground: Ground) -> Meaning:
    """A single value: what may have been written once for several counts as one, a list does not."""
    found = _meant(written, ground)
    if not isinstance(found.type, Several):
        return found
    if found.type.or_one and not _runs_over_several(found):
        return TheOne(found, found.type.of, written)
    what = f"{printed(written)} is {in_words(found.type)}"
    instead = f"say every, some, count of, sum of or least of: every x in {printed(written)} has (…)"
    return ground.mistake(written, "several-values", what, instead, length=len(printed(written)))


def _runs_over_several(found: Meaning) -> bool:
    return isinstance(found, FactOf) and isinstance(found.owner.type, Several)


def denied(meaning: Meaning, negated: bool) -> Meaning:
    """The meaning, or its denial."""
    if not negated or isinstance(meaning.type, Mistaken):
        return meaning
    return Denial(meaning, CLAIM, meaning.written)


def _claim(written: Expression, ground: Ground) -> Meaning:
    found = one_of(written, ground)
    if isinstance(found.type, Claims | Mistaken):
        return found
    text = printed(written)
    instead = (
        f"write {text} is yes" if found.type == YES_OR_NO else "compare it with something, or test it with is"
    )
    what = f"{text} is {in_words(found.type)}; it neither holds nor fails"
    return ground.mistake(written, "not-a-claim", what, instead, length=len(text))


def _claims(parts: Iterable[Expression], holds: bool, ground: Ground) -> tuple[Meaning, ...]:
    """Claims in a row. What an earlier one says of a thing's kind counts in the later ones."""
    before = ground.scope
    found = []
    for part in parts:
        claim = _claim(part, ground)
        found.append(claim)
        narrowed = narrowing(claim, holds, ground.scope.narrowed, before.vocabulary)
        ground.scope = replace(ground.scope, narrowed=narrowed)
    ground.scope = before
    return tuple(found)


def _or(parts: tuple[Expression, ...], written: Or, ground: Ground) -> Meaning:
    first = parts[0]
    for part in parts[1:]:
        if (
            isinstance(part, Path)
            and len(part.steps) == 1
            and isinstance(first, Is)
            and not _is_name(part, ground)
        ):
            tested = printed(first.operand)
            what = f"or joins whole claims, and {part.steps[0]} is none"
            instead = f"write {tested} in [{first.word.text}, {part.steps[0]}]"
            return ground.mistake(part, "not-a-claim", what, instead, length=len(part.steps[0]))
    return Any(_claims(parts, False, ground), CLAIM, written)


def _is_name(path: Path, ground: Ground) -> bool:
    name, scope = path.steps[0], ground.scope
    return (
        name in RESERVED
        or name in own_names(ground)
        or name in scope.lets
        or name in scope.parameters
        or name in ground.variables
        or bool(scope.vocabulary.kinds_of(name))
    )


def _figure(written: Figure, ground: Ground) -> Meaning:
    found = read_literal(written.text)
    if isinstance(found, Unreadable):
        return ground.mistake(
            written, found.slug, found.what, f"write {found.instead}", length=len(written.text)
        )
    return Constant(found.bounds, figure_type(found.dimension, found.text), written)


def _minus(operand: Expression, written: Minus, ground: Ground) -> Meaning:
    if isinstance(operand, Figure):
        # Five degrees below zero is not the opposite of five above: the sign belongs to the figure.
        found = read_literal(f"-{operand.text}")
        if not isinstance(found, Unreadable):
            return Constant(found.bounds, figure_type(found.dimension, found.text), written)
    value = one_of(operand, ground)
    if isinstance(value.type, Figures):
        return Negative(value, value.type, written)
    return _no_figure(value, written, ground)


def _no_figure(value: Meaning, written: Expression, ground: Ground) -> Meaning:
    if isinstance(value.type, Mistaken):
        return value
    text = printed(value.written)
    what = f"{text} is {in_words(value.type)}, and a figure is wanted"
    return ground.mistake(value.written, "figure-wanted", what, length=len(text))


def _call(written: Call, ground: Ground) -> Meaning:
    known = ("abs", "least", "greatest")
    if written.function not in known:
        near = nearest(written.function, known)
        what = f"there is no {written.function}(…) in rules"
        instead = f"write {near or 'abs, least or greatest'}"
        return ground.mistake(written, "function-unknown", what, instead, length=len(written.function))
    values = tuple(one_of(one, ground) for one in written.arguments)
    if written.function == "abs":
        if len(values) != 1:
            return ground.mistake(written, "figure-wanted", "abs takes one figure", "write abs(a)")
        if not isinstance(values[0].type, Figures):
            return _no_figure(values[0], written, ground)
        return Absolute(values[0], values[0].type, written)
    if len(values) < 2:
        what = f"{written.function} takes two figures or more"
        instead = f"write {written.function}(a, b), or {written.function} of a for x in list"
        return ground.mistake(written, "figure-wanted", what, instead)
    kind = values[0].type
    for value in values:
        if not isinstance(value.type, Figures | Dates):
            return _no_figure(value, written, ground)
        joined = _alike(kind, value.type)
        if joined is None:
            return _unlike(values[0], value, written, ground)
        kind = joined
    return Pick(written.function == "greatest", values, kind, written)


def _alike(one: Type, other: Type) -> Type | None:
    """The common type of two that can be added or compared; nothing where they cannot."""
    match one, other:
        case Figures(dimension, reckoning), Figures(other_dimension, other_reckoning):
            if dimension != other_dimension or (
                reckoning and other_reckoning and reckoning != other_reckoning
            ):
                return None
            return Figures(dimension, reckoning or other_reckoning)
        case Dates(), Dates():
            return one
        case _:
            return None


def _unlike(left: Meaning, right: Meaning, written: Expression, ground: Ground) -> Meaning:
    one, other = printed(left.written), printed(right.written)
    what = f"{one} is {in_words(left.type)} and {other} {in_words(right.type)}"
    instead = ""
    match left.type, right.type:
        case Figures(dimension), Figures(found) if found == RATIO and isinstance(right.written, Figure):
            instead = f"write {wanted(dimension)}"
        case Figures(dimension), Figures(found) if dimension == found:
            what += ", one by the calendar and one in days"
            instead = "use months and years with age of, days with days since"
    return ground.mistake(
        written, "dimension-wrong", what, instead, place=right.written.place, length=len(other)
    )


def _arithmetic(written: Arithmetic, ground: Ground) -> Meaning:
    left, right = one_of(written.left, ground), one_of(written.right, ground)
    if isinstance(left.type, Mistaken):
        return left
    if isinstance(right.type, Mistaken):
        return right
    operator = written.operator
    match left.type, right.type:
        case Figures() as one, Figures() as other if operator in "+-":
            joined = _alike(one, other)
            return (
                _unlike(left, right, written, ground)
                if joined is None
                else Calculation(operator, left, right, joined, written)
            )
        case Figures(dimension, reckoning), Figures(other_dimension, other_reckoning) if operator == "*":
            made = Figures(dimension * other_dimension, reckoning or other_reckoning)
            return Calculation(operator, left, right, made, written)
        case Figures(dimension, reckoning), Figures(other_dimension, other_reckoning):
            quotient = dimension / other_dimension
            kept = (reckoning or other_reckoning) if quotient.time else None
            return Calculation(operator, left, right, Figures(quotient, kept), written)
        case Dates(), Dates() if operator == "-":
            return DaysBetween(left, right, Figures(DURATION, "days"), written)
        case Dates(), Dates() if operator == "+":
            instead = "subtract them for the time between, or add a length of time, such as 90 days"
            return ground.mistake(written, "dates-added", "two dates cannot be added", instead)
        case Dates(), Figures(dimension) if dimension == DURATION and operator in "+-":
            return _shifted(left, right, operator == "+", written, ground)
        case Figures(dimension), Dates() if dimension == DURATION and operator == "+":
            return _shifted(right, left, True, written, ground)
    odd = (
        next(one for one in (left, right) if not isinstance(one.type, Figures))
        if _has_odd(left, right)
        else right
    )
    if isinstance(odd.type, Dates):
        what = f"{printed(odd.written)} is a date; only a length of time can be added to it or taken from it"
        return ground.mistake(odd.written, "figure-wanted", what, "write a length of time, such as 90 days")
    return _no_figure(odd, written, ground)


def _has_odd(left: Meaning, right: Meaning) -> bool:
    return not (isinstance(left.type, Figures) and isinstance(right.type, Figures))


def _shifted(day: Meaning, by: Meaning, later: bool, written: Arithmetic, ground: Ground) -> Meaning:
    if isinstance(by.type, Figures) and by.type.reckoning == "calendar":
        what = "months and years have no fixed length in days, so they are not added to a date"
        limit = printed(by.written)
        instead = f"compare the age: age of {printed(day.written)} <= {limit}"
        return ground.mistake(by.written, "calendar-and-days", what, instead, length=len(limit))
    return ShiftedDate(day, by, later, Dates(), written)


def _elapsed(operand: Expression, written: AgeOf | DaysSince, ground: Ground) -> Meaning:
    day = one_of(operand, ground)
    if isinstance(day.type, Mistaken):
        return day
    if not isinstance(day.type, Dates):
        text = printed(operand)
        what = f"{text} is {in_words(day.type)}, and a date is wanted"
        return ground.mistake(operand, "no-date", what, length=len(text))
    by_calendar = isinstance(written, AgeOf)
    return Elapsed(day, by_calendar, Figures(DURATION, "calendar" if by_calendar else "days"), written)


def _is_none(found: Meaning, written: IsNone, ground: Ground) -> Meaning:
    if isinstance(found.type, Mistaken):
        return found
    text = printed(found.written)
    if isinstance(found.type, Several) and found.type.or_one and not _runs_over_several(found):
        found = TheOne(found, found.type.of, found.written)
    if not isinstance(found, FactOf | LetValue | Variable | TheOne) and not isinstance(found.type, OneThing):
        what = f"{text} is worked out and never none; only a fact or a part is"
        return ground.mistake(
            found.written, "never-none", what, "ask it of the fact itself", length=len(text)
        )
    if isinstance(found, FactOf) and isinstance(found.owner.type, Several):
        what = f"{text} is {in_words(found.type)}"
        instead = f"say every or some: every x in {text} has (x is none)"
        return ground.mistake(found.written, "several-values", what, instead, length=len(text))
    if isinstance(found, FactOf) and len(getattr(found.written, "steps", ())) == 1:
        fact = found.fact
        if fact.type == "count":
            what = f"{text} is a count, and none of them is nought"
            return ground.mistake(found.written, "never-none", what, f"write {text} = 0", length=len(text))
        if not fact.may_be_none and not fact.is_computed and not isinstance(found.type, OneThing | Several):
            what = f"{text} is never written as none"
            return ground.mistake(
                found.written, "never-none", what, f"write {text} is not known", length=len(text)
            )
    return IsNothing(found, CLAIM, written)


def _is_known(found: Meaning, written: IsKnown, ground: Ground) -> Meaning:
    if isinstance(found.type, Mistaken):
        return found
    if isinstance(found.type, Claims):
        text = printed(found.written)
        what = f"{text} is a claim; known or not is asked of a fact"
        return ground.mistake(found.written, "fact-wanted", what, length=len(text))
    return IsSaid(found, CLAIM, written)


def _includes(found: Meaning, written: Includes, ground: Ground) -> Meaning:
    if isinstance(found.type, Mistaken):
        return found
    text, word = printed(written.operand), written.word
    if not isinstance(found.type, ManyWords):
        single = isinstance(found.type, OneWord)
        what = f"{text} is {in_words(found.type)}, not a list of words"
        instead = f"write {text} is {word.text}" if single else ""
        return ground.mistake(written, "word-list-wanted", what, instead, length=len(text))
    if word.text not in found.type.words:
        near = nearest(word.text, sorted(found.type.words))
        what = f"{text} never includes {word.text}"
        instead = f"write {near}" if near else f"write one of {', '.join(sorted(found.type.words))}"
        return ground.mistake(written, "word-unknown", what, instead, place=word.place, length=len(word.text))
    return IncludesWord(found, word.text, CLAIM, written)


def _within(written: Within, ground: Ground) -> Meaning:
    word, vocabulary = written.word, ground.scope.vocabulary
    name = word.text.replace("-", "_")
    kinds = vocabulary.kinds_of(name)
    if not kinds:
        near = nearest(name, sorted(vocabulary.kinds.keys() | vocabulary.classes.keys()))
        what = f"there is no kind or class of things called {word.text}"
        instead = f"write {near}" if near else ""
        return ground.mistake(written, "kind-unknown", what, instead, place=word.place, length=len(word.text))
    if not may_lie_in(ground.own_kinds, kinds, vocabulary):
        what = f"{in_words(OneThing(ground.own_kinds))} never lies in {with_article(name)}"
        return ground.mistake(written, "never-within", what, place=word.place, length=len(word.text))
    return LiesIn(name, CLAIM, written)


def _drawn(
    variable: str,
    several: Path,
    where: Expression | None,
    written: Expression,
    ground: Ground,
    *,
    counted: bool,
) -> Drawn | None:
    """The variable, its list and what limits it. The variable stays in hand; `_put_down` takes it away
    again.
    """
    found = stands_for(several, ground)
    if isinstance(found.type, Mistaken):
        return None
    text = printed(several)
    if isinstance(found.type, ManyWords):
        item: Type = OneWord(found.type.words)
    elif isinstance(found.type, Several):
        item = found.type.of
        if counted and found.type.or_one:
            what = f"{text} may be written once for all, so that nobody can count it"
            ground.mistake(several, "not-countable", what, "say every, some or least of", length=len(text))
            return None
    else:
        what = f"{text} is {in_words(found.type)}, not several"
        ground.mistake(several, "list-wanted", what, "name a list or a path of parts", length=len(text))
        return None
    taken = variable in RESERVED or variable in ground.variables or _is_taken(variable, ground)
    if taken:
        what = f"{variable} means something else here already"
        ground.mistake(written, "name-ambiguous", what, "call each of them otherwise, by one letter perhaps")
        return None
    ground.variables[variable] = item
    return Drawn(variable, found, None if where is None else _claim(where, ground))


def _is_taken(variable: str, ground: Ground) -> bool:
    scope = ground.scope
    return variable in scope.lets or variable in scope.parameters or variable in own_names(ground)


def _put_down(variable: str, before: Scope, ground: Ground) -> None:
    ground.variables.pop(variable, None)
    ground.scope = before


def _limited(drawn: Drawn, ground: Ground) -> None:
    """What limits the list counts for what is asked of each: after `where (p is shackle)`, p is a shackle."""
    if drawn.where is not None:
        scope = ground.scope
        ground.scope = replace(scope, narrowed=narrowing(drawn.where, True, scope.narrowed, scope.vocabulary))


def _quantified(written: Quantified, ground: Ground) -> Meaning:
    before, known = ground.scope, set(ground.variables)
    drawn = _drawn(written.variable, written.several, written.where, written, ground, counted=False)
    if drawn is None:
        return Constant(Name(""), MISTAKEN, written)
    _limited(drawn, ground)
    condition = _claim(written.condition, ground)
    if written.variable not in known:
        _put_down(written.variable, before, ground)
    found = Quantification(written.quantifier == "every", drawn, condition, CLAIM, written)
    return Denial(found, CLAIM, written) if written.quantifier == "no" else found


def _same(written: Same, ground: Ground) -> Meaning:
    before, known = ground.scope, set(ground.variables)
    drawn = _drawn(written.variable, written.several, written.where, written, ground, counted=False)
    if drawn is None:
        return Constant(Name(""), MISTAKEN, written)
    _limited(drawn, ground)
    value = one_of(written.operand, ground)
    if written.variable not in known:
        _put_down(written.variable, before, ground)
    if isinstance(value.type, Mistaken):
        return value
    if not isinstance(value.type, Figures | Dates | OneWord | Names) or value.type == Names(free=True):
        what = f"{printed(written.operand)} is {in_words(value.type)}, which cannot be compared"
        return ground.mistake(written.operand, "not-comparable", what)
    return Alike(value, drawn, CLAIM, written)


def _count(written: Count, ground: Ground) -> Meaning:
    before, known = ground.scope, set(ground.variables)
    drawn = _drawn(written.variable, written.several, written.where, written, ground, counted=True)
    if drawn is None:
        return Constant(Name(""), MISTAKEN, written)
    if written.variable not in known:
        _put_down(written.variable, before, ground)
    return CountOf(drawn, PLAIN, written)


def _total(written: Total, ground: Ground) -> Meaning:
    before, known = ground.scope, set(ground.variables)
    counted = written.gathering == "sum"
    drawn = _drawn(written.variable, written.several, written.where, written, ground, counted=counted)
    if drawn is None:
        return Constant(Name(""), MISTAKEN, written)
    _limited(drawn, ground)
    value = one_of(written.operand, ground)
    if written.variable not in known:
        _put_down(written.variable, before, ground)
    if not isinstance(value.type, Figures) and not (isinstance(value.type, Dates) and not counted):
        return _no_figure(value, written, ground)
    return TotalOf(written.gathering, value, drawn, never_negative(value), value.type, written)


def never_negative(meaning: Meaning) -> bool:
    """Whether a value cannot lie below zero by its form: made without subtraction from facts that riggers
    add up.

    Weights, lengths, areas, counts and ratios of parts are taken as never negative; temperatures, angles
    and dates are not.
    """
    match meaning:
        case Constant(value=value):
            return isinstance(value, Bounds) and value.low >= 0
        case FactOf(type=kind) | TheOne(type=kind) | Variable(type=kind):
            return isinstance(kind, Figures) and kind.dimension.temperature == kind.dimension.angle == 0
        case LetValue(body=body):
            return never_negative(body)
        case Absolute() | CountOf():
            return True
        case Calculation(operator=operator, left=left, right=right):
            return operator != "-" and never_negative(left) and never_negative(right)
        case Pick(of=parts):
            return all(map(never_negative, parts))
        case TotalOf(never_negative=said):
            return said
        case _:
            return False


def _look_up(written: LookUp, ground: Ground) -> Meaning:
    tables = ground.scope.tables
    table = tables.get(written.table) or tables.get(written.table.replace("_", "-"))
    if table is None:
        near = nearest(written.table, sorted(tables))
        what = f"there is no table {written.table}"
        instead = f"write {near.replace('-', '_')}" if near else ""
        return ground.mistake(written, "table-unknown", what, instead, length=len(written.table))
    column = table.column(written.column)
    if column is None or column.policy is not None:
        readable = [one.name for one in table.columns if one.policy is None]
        near = nearest(written.column, readable)
        what = f"the table {table.name} has no column {written.column} to read"
        instead = f"write {near or ' or '.join(readable)}"
        return ground.mistake(written, "column-unknown", what, instead, length=len(written.column))
    given = [name for name, _ in written.keys]
    wanted_names = [key.name for key in table.keys]
    if sorted(given) != sorted(wanted_names):
        what = f"the table {table.name} is entered with {' and '.join(wanted_names)}, each once"
        instead = "write for " + ", ".join(f"{name} = …" for name in wanted_names)
        return ground.mistake(written, "table-keys", what, instead)
    values = dict(written.keys)
    keys = tuple((key.name, _key(table, key, values[key.name], ground)) for key in table.keys)
    if any(isinstance(value.type, Mistaken) for _, value in keys):
        return Constant(Name(""), MISTAKEN, written)
    return TableValue(table, column.name, keys, column.type, written)


def _key(table: Table, key: Column, written: Expression, ground: Ground) -> Meaning:
    value = one_of(written, ground)
    fits = False
    match key.type, value.type:
        case _, Mistaken():
            return value
        case Figures(dimension), Figures(other):
            fits = dimension == other
        case Names(), Names(free):
            fits = not free
        case OneWord(words), OneWord(others):
            fits = bool(words & others)
    if fits:
        return value
    text = printed(written)
    wanted_key = f"the key {key.name} of table {table.name} is {in_words(key.type)}"
    what = f"{wanted_key}, and {text} is {in_words(value.type)}"
    return ground.mistake(written, "dimension-wrong", what, length=len(text))
