"""What is written in a rule: the tree of an expression, before anybody asked what its names mean.

Every node carries the place where it begins. Two nodes are equal when they say the same, wherever they
stand: places do not count, so printing a node (`printing`) and parsing the text again gives an equal node.
The parser makes these; the checker turns them into `meaning`.
"""

from dataclasses import field
from typing import Literal

from plumbtrue.documents.place import Place
from plumbtrue.quantities.unchanging import unchanging

Ordering = Literal["<", "<=", ">", ">=", "=", "!="]
Operator = Literal["+", "-", "*", "/"]
Quantifier = Literal["every", "some", "no"]
Gathering = Literal["sum", "least", "greatest"]


@unchanging
class Figure:
    """A figure with or without a unit, or a date, as written: `1/4 in`, `12`, `5 %`, `2018-07-14`."""

    text: str
    place: Place = field(compare=False)


@unchanging
class Quoted:
    """A name between quotes, taken letter by letter."""

    text: str
    place: Place = field(compare=False)


@unchanging
class Word:
    """A word of a closed list, a kind or class, or the name of a thing; which one it is, what stands
    before it decides.
    """

    text: str
    place: Place = field(compare=False)


@unchanging
class Path:
    """A name, or names joined by dots: `diameter`, `lift_line.rope.diameter`, `this`, `today`."""

    steps: tuple[str, ...]
    place: Place = field(compare=False)


@unchanging
class Call:
    """`abs(x)`, `least(a, b)`, `greatest(a, b, c)`."""

    function: str
    arguments: tuple["Expression", ...]
    place: Place = field(compare=False)


@unchanging
class Minus:
    """`- a`."""

    operand: "Expression"
    place: Place = field(compare=False)


@unchanging
class Arithmetic:
    """`a + b`, `a - b`, `a * b`, `a / b`."""

    operator: Operator
    left: "Expression"
    right: "Expression"
    place: Place = field(compare=False)


@unchanging
class AgeOf:
    """`age of a`: by the calendar, for limits in months and years."""

    operand: "Expression"
    place: Place = field(compare=False)


@unchanging
class DaysSince:
    """`days since a`: for limits in days."""

    operand: "Expression"
    place: Place = field(compare=False)


@unchanging
class Not:
    """`not a`."""

    operand: "Expression"
    place: Place = field(compare=False)


@unchanging
class And:
    """`a and b and c`."""

    parts: tuple["Expression", ...]
    place: Place = field(compare=False)


@unchanging
class Or:
    """`a or b or c`."""

    parts: tuple["Expression", ...]
    place: Place = field(compare=False)


@unchanging
class Comparison:
    """`a < b` and its like."""

    operator: Ordering
    left: "Expression"
    right: "Expression"
    place: Place = field(compare=False)


@unchanging
class IsNone:
    """`a is none`, `a is not none`."""

    operand: "Expression"
    negated: bool
    place: Place = field(compare=False)


@unchanging
class IsKnown:
    """`a is known`, `a is not known`."""

    operand: "Expression"
    negated: bool
    place: Place = field(compare=False)


@unchanging
class Is:
    """`a is wrap`, `p is not trim_chain`, `p is q`."""

    operand: "Expression"
    word: Word
    negated: bool
    place: Place = field(compare=False)


@unchanging
class OneOf:
    """`a in [pitted, wasted]`, `grade not in ["30", "43"]`."""

    operand: "Expression"
    words: tuple[Word | Quoted, ...]
    negated: bool
    place: Place = field(compare=False)


@unchanging
class OneOfNamed:
    """`a in allowed`, where `allowed` is a parameter that lists words."""

    operand: "Expression"
    named: Path
    negated: bool
    place: Place = field(compare=False)


@unchanging
class Includes:
    """`damage includes crack`, `damage excludes crack`, of a list of words."""

    operand: "Expression"
    word: Word
    negated: bool
    place: Place = field(compare=False)


@unchanging
class Within:
    """`within lift_line`: this thing lies in a thing of that kind or class."""

    word: Word
    place: Place = field(compare=False)


@unchanging
class Quantified:
    """`every p in lower where (a) has (b)`, likewise with `some` and `no`."""

    quantifier: Quantifier
    variable: str
    several: Path
    where: "Expression | None"
    condition: "Expression"
    place: Place = field(compare=False)


@unchanging
class Same:
    """`same l.rope.diameter for l in lift_lines where (a)`: all values are equal."""

    operand: "Expression"
    variable: str
    several: Path
    where: "Expression | None"
    place: Place = field(compare=False)


@unchanging
class Count:
    """`count of p in lower where (a)`."""

    variable: str
    several: Path
    where: "Expression | None"
    place: Place = field(compare=False)


@unchanging
class Total:
    """`sum of p.weight for p in lower where (a)`, likewise with `least of` and `greatest of`."""

    gathering: Gathering
    operand: "Expression"
    variable: str
    several: Path
    where: "Expression | None"
    place: Place = field(compare=False)


@unchanging
class LookUp:
    """`look up count in wire_rope_clips for size = rope.diameter`."""

    column: str
    table: str
    keys: tuple[tuple[str, "Expression"], ...]
    place: Place = field(compare=False)


Expression = (
    Figure
    | Quoted
    | Path
    | Call
    | Minus
    | Arithmetic
    | AgeOf
    | DaysSince
    | Not
    | And
    | Or
    | Comparison
    | IsNone
    | IsKnown
    | Is
    | OneOf
    | OneOfNamed
    | Includes
    | Within
    | Quantified
    | Same
    | Count
    | Total
    | LookUp
)


def inside(expression: Expression) -> tuple[Expression, ...]:
    """The expressions that stand directly in one, from left to right."""
    match expression:
        case Figure() | Quoted() | Path() | Within():
            return ()
        case Call(arguments=parts) | And(parts=parts) | Or(parts=parts):
            return parts
        case Arithmetic(left=left, right=right) | Comparison(left=left, right=right):
            return (left, right)
        case OneOfNamed(operand=operand, named=named):
            return (operand, named)
        case Quantified(several=several, where=where, condition=condition):
            return (several, condition) if where is None else (several, where, condition)
        case (
            Same(operand=operand, several=several, where=where)
            | Total(operand=operand, several=several, where=where)
        ):
            return (operand, several) if where is None else (operand, several, where)
        case Count(several=several, where=where):
            return (several,) if where is None else (several, where)
        case LookUp(keys=keys):
            return tuple(value for _, value in keys)
        case _:
            return (expression.operand,)
