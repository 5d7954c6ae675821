"""An expression as text again, with brackets only where they are needed. Parsing the text gives an equal
expression.
"""

from typing import assert_never

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
    Word,
)

# How tightly each kind of expression holds together; an expression inside another that holds tighter needs
# brackets.
_OR, _AND, _NOT, _TEST, _VALUE, _SUM, _PRODUCT, _FACTOR, _ATOM = range(1, 10)


def printed(expression: Expression) -> str:
    """The text of an expression, on one line.

    >>> from plumbtrue.rules.language.parsing import parsed
    >>> printed(parsed("not (a.b  <  1/4 in or c is two-part)"))
    'not (a.b < 1/4 in or c is two-part)'
    """
    match expression:
        case Figure(text):
            return text
        case Quoted(text):
            return _quoted(text)
        case Path(steps):
            return ".".join(steps)
        case Call(function, arguments):
            return f"{function}({', '.join(_at(_SUM, one) for one in arguments)})"
        case Minus(operand):
            return f"-{_at(_FACTOR, operand)}"
        case Arithmetic(operator, left, right):
            own = _PRODUCT if operator in "*/" else _SUM
            return f"{_at(own, left)} {operator} {_at(own + 1, right)}"
        case AgeOf(operand):
            return f"age of {_at(_FACTOR, operand)}"
        case DaysSince(operand):
            return f"days since {_at(_FACTOR, operand)}"
        case Not(operand):
            return f"not {_at(_NOT, operand)}"
        case And(parts):
            return " and ".join(_at(_NOT, one) for one in parts)
        case Or(parts):
            return " or ".join(_at(_AND, one) for one in parts)
        case Comparison(operator, left, right):
            return f"{_at(_VALUE, left)} {operator} {_at(_VALUE, right)}"
        case IsNone(operand, negated):
            return f"{_at(_VALUE, operand)} is {'not ' if negated else ''}none"
        case IsKnown(operand, negated):
            return f"{_at(_VALUE, operand)} is {'not ' if negated else ''}known"
        case Is(operand, word, negated):
            return f"{_at(_VALUE, operand)} is {'not ' if negated else ''}{word.text}"
        case OneOf(operand, words, negated):
            return f"{_at(_VALUE, operand)} {'not ' if negated else ''}in [{', '.join(map(_entry, words))}]"
        case OneOfNamed(operand, named, negated):
            # A bare figure before `in` would be read as inches.
            tested = _at(_ATOM, operand) if isinstance(operand, Path) else f"({printed(operand)})"
            return f"{tested} {'not ' if negated else ''}in {printed(named)}"
        case Includes(operand, word, negated):
            return f"{_at(_VALUE, operand)} {'excludes' if negated else 'includes'} {word.text}"
        case Within(word):
            return f"within {word.text}"
        case Quantified(quantifier, variable, several, where, condition):
            return f"{quantifier} {_drawn(variable, several, where)} has ({printed(condition)})"
        case Same(operand, variable, several, where):
            return f"same {_at(_SUM, operand)} for {_drawn(variable, several, where)}"
        case Count(variable, several, where):
            return f"count of {_drawn(variable, several, where)}"
        case Total(gathering, operand, variable, several, where):
            return f"{gathering} of {_at(_SUM, operand)} for {_drawn(variable, several, where)}"
        case LookUp(column, table, keys):
            said = ", ".join(f"{name} = {_at(_SUM, value)}" for name, value in keys)
            return f"look up {column} in {table} for {said}"
        case _:
            assert_never(expression)


def _drawn(variable: str, several: Path, where: Expression | None) -> str:
    limited = "" if where is None else f" where ({printed(where)})"
    return f"{variable} in {printed(several)}{limited}"


def _entry(word: Word | Quoted) -> str:
    return word.text if isinstance(word, Word) else _quoted(word.text)


def _quoted(text: str) -> str:
    return f"'{text}'" if '"' in text else f'"{text}"'


def _at(level: int, expression: Expression) -> str:
    text = printed(expression)
    return text if _level(expression) >= level else f"({text})"


def _level(expression: Expression) -> int:
    match expression:
        case Or():
            return _OR
        case And():
            return _AND
        case Not():
            return _NOT
        case (
            Comparison()
            | IsNone()
            | IsKnown()
            | Is()
            | OneOf()
            | OneOfNamed()
            | Includes()
            | Within()
            | Quantified()
            | Same()
        ):
            return _TEST
        case LookUp():
            return _VALUE
        case Arithmetic(operator):
            return _PRODUCT if operator in "*/" else _SUM
        case Minus() | AgeOf() | DaysSince():
            return _FACTOR
        case _:
            return _ATOM
