"""Checks of figures, calculations and dates: what can be reckoned with, and what that gives."""

from plumbtrue.documents.nearest_word import nearest
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import DURATION, RATIO
from plumbtrue.quantities.literals import read_literal
from plumbtrue.quantities.unreadable import Unreadable, wanted
from plumbtrue.rules.language.meaning import (
    Absolute,
    Calculation,
    Constant,
    CountOf,
    DaysBetween,
    Elapsed,
    FactOf,
    LetValue,
    Meaning,
    Negative,
    Pick,
    ShiftedDate,
    TheOne,
    TotalOf,
    Variable,
)
from plumbtrue.rules.language.naming import Ground
from plumbtrue.rules.language.nodes import (
    AgeOf,
    Arithmetic,
    Call,
    DaysSince,
    Expression,
    Figure,
    Minus,
)
from plumbtrue.rules.language.printing import printed
from plumbtrue.rules.language.value_types import (
    Dates,
    Figures,
    Mistaken,
    Type,
    figure_type,
    in_words,
)


def check_figure(written: Figure, ground: Ground) -> Meaning:
    """The meaning of a figure with its unit, or of a date."""
    found = read_literal(written.text)
    if isinstance(found, Unreadable):
        return ground.mistake(
            written, found.slug, found.what, f"write {found.instead}", length=len(written.text)
        )
    return Constant(found.bounds, figure_type(found.dimension, found.text), written)


def check_minus(value: Meaning, written: Minus, ground: Ground) -> Meaning:
    """The meaning of `-a`."""
    operand = written.operand
    if isinstance(operand, Figure) and not isinstance(value.type, Mistaken):
        # Five degrees below zero is not the opposite of five above: the sign belongs to the figure.
        found = read_literal(f"-{operand.text}")
        if not isinstance(found, Unreadable):
            return Constant(found.bounds, figure_type(found.dimension, found.text), written)
    if isinstance(value.type, Figures):
        return Negative(value, value.type, written)
    return no_figure(value, written, ground)


def check_call(values: tuple[Meaning, ...], written: Call, ground: Ground) -> Meaning:
    """The meaning of `abs(a)`, `least(a, b)` and `greatest(a, b)`."""
    known = ("abs", "least", "greatest")
    if written.function not in known:
        near = nearest(written.function, known)
        what = f"there is no {written.function}(…) in rules"
        instead = f"write {near or 'abs, least or greatest'}"
        return ground.mistake(written, "function-unknown", what, instead, length=len(written.function))
    if written.function == "abs":
        if len(values) != 1:
            return ground.mistake(written, "figure-wanted", "abs takes one figure", "write abs(a)")
        if not isinstance(values[0].type, Figures):
            return no_figure(values[0], written, ground)
        return Absolute(values[0], values[0].type, written)
    if len(values) < 2:
        what = f"{written.function} takes two figures or more"
        instead = f"write {written.function}(a, b), or {written.function} of a for x in list"
        return ground.mistake(written, "figure-wanted", what, instead)
    kind = values[0].type
    for value in values:
        if not isinstance(value.type, Figures | Dates):
            return no_figure(value, written, ground)
        joined = _alike(kind, value.type)
        if joined is None:
            return _unlike(values[0], value, written, ground)
        kind = joined
    return Pick(written.function == "greatest", values, kind, written)


def check_arithmetic(left: Meaning, right: Meaning, written: Arithmetic, ground: Ground) -> Meaning:
    """The meaning of `a + b`, `a - b`, `a * b` and `a / b`."""
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
    return no_figure(odd, written, ground)


def _has_odd(left: Meaning, right: Meaning) -> bool:
    return not (isinstance(left.type, Figures) and isinstance(right.type, Figures))


def _shifted(day: Meaning, by: Meaning, later: bool, written: Arithmetic, ground: Ground) -> Meaning:
    if isinstance(by.type, Figures) and by.type.reckoning == "calendar":
        what = "months and years have no fixed length in days, so they are not added to a date"
        limit = printed(by.written)
        instead = f"compare the age: age of {printed(day.written)} <= {limit}"
        return ground.mistake(by.written, "calendar-and-days", what, instead, length=len(limit))
    return ShiftedDate(day, by, later, Dates(), written)


def check_elapsed(day: Meaning, written: AgeOf | DaysSince, ground: Ground) -> Meaning:
    """The meaning of `age of a` and `days since a`."""
    if isinstance(day.type, Mistaken):
        return day
    if not isinstance(day.type, Dates):
        text = printed(written.operand)
        what = f"{text} is {in_words(day.type)}, and a date is wanted"
        return ground.mistake(written.operand, "no-date", what, length=len(text))
    by_calendar = isinstance(written, AgeOf)
    return Elapsed(day, by_calendar, Figures(DURATION, "calendar" if by_calendar else "days"), written)


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


def no_figure(value: Meaning, written: Expression, ground: Ground) -> Meaning:
    """What becomes of something that should be a figure and is none."""
    if isinstance(value.type, Mistaken):
        return value
    text = printed(value.written)
    what = f"{text} is {in_words(value.type)}, and a figure is wanted"
    return ground.mistake(value.written, "figure-wanted", what, length=len(text))


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
