"""What an expression means: every name finds what it stands for, every comparison is of like with like. No
rig is needed.

A length is never compared with a weight, a limit in months never with a count of days, a word never with
one that its fact does not know. Whatever is wrong becomes a problem with its place and with what to write;
one mistake is told once.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import assert_never

from plumbtrue.documents.nearest_word import nearest
from plumbtrue.documents.place import Problem
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Name
from plumbtrue.rules.language.asking import check_includes, check_is_known, check_is_none, check_within
from plumbtrue.rules.language.comparing import check_comparison, check_is, check_one_of, check_one_of_named
from plumbtrue.rules.language.limits import DEEPEST_IN_ALL, MOST_LETS, MOST_NODES_IN_ALL
from plumbtrue.rules.language.meaning import (
    Alike,
    All,
    Any,
    Constant,
    CountOf,
    Denial,
    Drawn,
    LetValue,
    Meaning,
    Quantification,
    TableValue,
    TheOne,
    TotalOf,
)
from plumbtrue.rules.language.naming import Ground, own_names, runs_over_several, stands_for
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
from plumbtrue.rules.language.reckoning import (
    check_arithmetic,
    check_call,
    check_elapsed,
    check_figure,
    check_minus,
    never_negative,
    no_figure,
)
from plumbtrue.rules.language.scope import RESERVED, Scope, narrowing
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
    OneWord,
    Several,
    Type,
    in_words,
)


@unchanging
class Checked:
    """An expression understood, or what is wrong with it."""

    meaning: Meaning | None
    """Nothing where there are problems."""
    problems: tuple[Problem, ...]


def check(expression: Expression, scope: Scope) -> Checked:
    """What an expression means in a scope, whatever it gives."""
    return _checked(expression, scope, _meant)


def check_claim(expression: Expression, scope: Scope) -> Checked:
    """What an expression means that says what must hold, or when a rule applies."""
    return _checked(expression, scope, _claim)


def _checked(
    expression: Expression, scope: Scope, understood: Callable[[Expression, Ground], Meaning]
) -> Checked:
    _, _, problem = _measured(expression, scope.lets)
    if problem is not None:
        return Checked(None, (problem,))
    ground = Ground(scope)
    meaning = understood(expression, ground)
    return Checked(None if ground.problems else meaning, tuple(ground.problems))


def _measured(expression: Expression, lets: Mapping[str, LetValue | None]) -> tuple[int, int, Problem | None]:
    """Size and depth of an expression with all that its named values hold, and what is wrong with them."""
    size = deepest = 0
    waiting = [(expression, 1)]
    while waiting:
        one, depth = waiting.pop()
        let = lets.get(one.steps[0]) if isinstance(one, Path) else None
        size += 1 + (let.size if let is not None else 0)
        deepest = max(deepest, depth + (let.depth if let is not None else 0))
        waiting.extend((part, depth + 1) for part in inside(one))
    if size <= MOST_NODES_IN_ALL and deepest <= DEEPEST_IN_ALL:
        return size, deepest, None
    what = "named values build on one another until the expression is too large"
    return size, deepest, Problem("expression-too-large", expression.place, what, "make two rules")


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
    size, depth, problem = _measured(written, done)
    if problem is not None:
        problems.append(problem)
        done[name] = None
        return
    meaning = _meant(written, ground)
    problems.extend(ground.problems)
    good = not ground.problems and not isinstance(meaning.type, Mistaken)
    path = Path((name,), written.place)
    done[name] = LetValue(name, meaning, size, depth, meaning.type, path) if good else None


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
            return check_figure(written, ground)
        case Quoted(text):
            return Constant(Name(text), Names(), written)
        case Path():
            return stands_for(written, ground)
        case Call():
            return check_call(tuple(one_of(one, ground) for one in written.arguments), written, ground)
        case Minus(operand):
            return check_minus(one_of(operand, ground), written, ground)
        case Arithmetic(_, left, right):
            return check_arithmetic(one_of(left, ground), one_of(right, ground), written, ground)
        case AgeOf(operand) | DaysSince(operand):
            return check_elapsed(one_of(operand, ground), written, ground)
        case Not(operand):
            return Denial(_claim(operand, ground), CLAIM, written)
        case And(parts):
            return All(_claims(parts, True, ground), CLAIM, written)
        case Or(parts):
            return _or(parts, written, ground)
        case Comparison(operator, left, right):
            return check_comparison(operator, one_of(left, ground), one_of(right, ground), written, ground)
        case IsNone(operand, negated):
            return denied(check_is_none(_meant(operand, ground), written, ground), negated)
        case IsKnown(operand, negated):
            return denied(check_is_known(_meant(operand, ground), written, ground), negated)
        case Is(operand, word, negated):
            return denied(check_is(one_of(operand, ground), word, written, ground), negated)
        case OneOf(operand, words, negated):
            return denied(check_one_of(one_of(operand, ground), words, written, ground), negated)
        case OneOfNamed(operand, named, negated):
            return denied(check_one_of_named(one_of(operand, ground), named, written, ground), negated)
        case Includes(operand, word, negated):
            return denied(check_includes(_meant(operand, ground), written, ground), negated)
        case Within(word):
            return check_within(written, ground)
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
    if found.type.or_one and not runs_over_several(found):
        return TheOne(found, found.type.of, written)
    what = f"{printed(written)} is {in_words(found.type)}"
    instead = f"say every, some, count of, sum of or least of: every x in {printed(written)} has (…)"
    return ground.mistake(written, "several-values", what, instead, length=len(printed(written)))


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
        return no_figure(value, written, ground)
    return TotalOf(written.gathering, value, drawn, never_negative(value), value.type, written)


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
