"""What is meant by a rule: the tree of an expression after every name has found what it stands for.

The checker makes these, the evaluators run on them and ask no text. There are fewer forms than in `nodes`:
`a < b` means that b is over a, `excludes` and `no` are denials. Each node keeps what was written, for its
place and for the explanation, and knows its type.
"""

from typing import Literal

from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Value
from plumbtrue.rig.vocabulary import Fact
from plumbtrue.rules.language.nodes import Expression, Operator
from plumbtrue.rules.language.tables import Table
from plumbtrue.rules.language.value_types import Type


@unchanging
class Constant:
    """A figure, a date or a name that stands in the rule, or in one of its parameters."""

    value: Value
    type: Type
    written: Expression


@unchanging
class Today:
    """The day judged."""

    type: Type
    written: Expression


@unchanging
class This:
    """The thing that is judged."""

    type: Type
    written: Expression


@unchanging
class Variable:
    """The thing or value that a quantifier or a sum has in hand."""

    name: str
    type: Type
    written: Expression


@unchanging
class LetValue:
    """A named intermediate value of the rule, found once for each thing.

    `size` and `depth` count the parts of its expression and how deep they stand in one another, other named
    values with all that is in them.
    """

    name: str
    body: "Meaning"
    size: int
    depth: int
    type: Type
    written: Expression


@unchanging
class Around:
    """The nearest thing of a kind or class that a thing lies in, itself included."""

    owner: "Meaning"
    kind: str
    type: Type
    written: Expression


@unchanging
class LoadPath:
    """The parts of the path in which a thing stands, in order from the rope's end."""

    owner: "Meaning"
    type: Type
    written: Expression


@unchanging
class FactOf:
    """A fact of a thing, or of each of several things: a value, a part, or several of them, lists run
    together.
    """

    owner: "Meaning"
    fact: Fact
    type: Type
    written: Expression


@unchanging
class TheOne:
    """A value that may have been written once for several, taken as one: it counts only where all are
    alike.
    """

    of: "Meaning"
    type: Type
    written: Expression


@unchanging
class Negative:
    of: "Meaning"
    type: Type
    written: Expression


@unchanging
class Absolute:
    of: "Meaning"
    type: Type
    written: Expression


@unchanging
class Calculation:
    """A sum, difference, product or quotient of two figures."""

    operator: Operator
    left: "Meaning"
    right: "Meaning"
    type: Type
    written: Expression


@unchanging
class ShiftedDate:
    """A date so much later, or earlier."""

    day: "Meaning"
    by: "Meaning"
    later: bool
    type: Type
    written: Expression


@unchanging
class DaysBetween:
    """Time from the right date to the left one."""

    left: "Meaning"
    right: "Meaning"
    type: Type
    written: Expression


@unchanging
class Elapsed:
    """Time from a date to the day judged, by the calendar or in days."""

    of: "Meaning"
    by_calendar: bool
    type: Type
    written: Expression


@unchanging
class Pick:
    """The least or greatest of some figures or dates that stand in the rule."""

    greatest: bool
    of: tuple["Meaning", ...]
    type: Type
    written: Expression


@unchanging
class TableValue:
    """What a table says; keys in the order of the table."""

    table: Table
    column: str
    keys: tuple[tuple[str, "Meaning"], ...]
    type: Type
    written: Expression


@unchanging
class Drawn:
    """A name for each of several in turn, and which of them count."""

    variable: str
    several: "Meaning"
    where: "Meaning | None"


@unchanging
class CountOf:
    drawn: Drawn
    type: Type
    written: Expression


@unchanging
class TotalOf:
    """The sum, least or greatest of a value over several."""

    gathering: Literal["sum", "least", "greatest"]
    of: "Meaning"
    drawn: Drawn
    never_negative: bool
    """Whether the value cannot lie below zero, so that a part nobody has identified can only add to a sum."""
    type: Type
    written: Expression


@unchanging
class Denial:
    of: "Meaning"
    type: Type
    written: Expression


@unchanging
class All:
    """Every part holds."""

    parts: tuple["Meaning", ...]
    type: Type
    written: Expression


@unchanging
class Any:
    """One part holds at least."""

    parts: tuple["Meaning", ...]
    type: Type
    written: Expression


@unchanging
class Over:
    """The greater figure or date is over the lesser, or is at least that much."""

    greater: "Meaning"
    lesser: "Meaning"
    or_equal: bool
    type: Type
    written: Expression


@unchanging
class Equal:
    """Two figures, dates, names or words are the same."""

    left: "Meaning"
    right: "Meaning"
    type: Type
    written: Expression


@unchanging
class IsWord:
    """A word or name is one of these; `none` is none of them."""

    of: "Meaning"
    words: frozenset[str]
    type: Type
    written: Expression


@unchanging
class IncludesWord:
    """A list of words has this one."""

    of: "Meaning"
    word: str
    type: Type
    written: Expression


@unchanging
class IsNothing:
    """Looked for, and not there."""

    of: "Meaning"
    type: Type
    written: Expression


@unchanging
class IsSaid:
    """Something is known of it, if only within bounds."""

    of: "Meaning"
    type: Type
    written: Expression


@unchanging
class IsKind:
    """A thing is of one of these kinds."""

    of: "Meaning"
    kinds: frozenset[str]
    type: Type
    written: Expression


@unchanging
class IsThing:
    """Two names stand for one and the same thing."""

    left: "Meaning"
    right: "Meaning"
    type: Type
    written: Expression


@unchanging
class LiesIn:
    """The thing judged lies in a thing of a kind or class, or is one."""

    kind: str
    type: Type
    written: Expression


@unchanging
class Quantification:
    """Every one of several satisfies a condition, or some one of them does."""

    every: bool
    drawn: Drawn
    condition: "Meaning"
    type: Type
    written: Expression


@unchanging
class Alike:
    """A value is the same for every one of several."""

    of: "Meaning"
    drawn: Drawn
    type: Type
    written: Expression


Meaning = (
    Constant
    | Today
    | This
    | Variable
    | LetValue
    | Around
    | LoadPath
    | FactOf
    | TheOne
    | Negative
    | Absolute
    | Calculation
    | ShiftedDate
    | DaysBetween
    | Elapsed
    | Pick
    | TableValue
    | CountOf
    | TotalOf
    | Denial
    | All
    | Any
    | Over
    | Equal
    | IsWord
    | IncludesWord
    | IsNothing
    | IsSaid
    | IsKind
    | IsThing
    | LiesIn
    | Quantification
    | Alike
)
