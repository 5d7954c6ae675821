"""Texts of a rule with expressions in braces: `The wrap sits {distance_to_pipe_end} from the end of the
pipe.`

`{a as mm}` prints in a unit of its own, `{{` and `}}` stand for braces. What stands in braces is an
expression of the rule language and nothing else, checked when the pack is loaded; filling a text never
fails. Whoever prints the text escapes it for where it goes.
"""

from plumbtrue.documents.place import Place, Problem
from plumbtrue.quantities.dimension import Dimension
from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.units import find_unit, nearest_unit
from plumbtrue.quantities.unreadable import kind_of
from plumbtrue.quantities.values import Absent, Unknown, Value
from plumbtrue.quantities.writing import System, as_said, write_value
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.language.careful import Careful
from plumbtrue.rules.language.checking import check
from plumbtrue.rules.language.environment import RuleError
from plumbtrue.rules.language.limits import LONGEST
from plumbtrue.rules.language.meaning import Meaning
from plumbtrue.rules.language.parsing import parse
from plumbtrue.rules.language.printing import printed
from plumbtrue.rules.language.results import Evaluated, Members, NotThere, Rest
from plumbtrue.rules.language.scope import Scope
from plumbtrue.rules.language.value_types import Claims, Dates, Figures, OneThing, Several, Type, in_words


@unchanging
class Slot:
    """An expression in a text, and the unit to print it in, if one is named."""

    meaning: Meaning
    unit: str | None


@unchanging
class Text:
    """A text, cut into what stands as it is and what is filled in."""

    pieces: tuple[str | Slot, ...]


def read_text(written: str, place: Place, scope: Scope) -> tuple[Text | None, tuple[Problem, ...]]:
    """A text with its expressions understood; nothing, with what is wrong, where one cannot be used.

    Args:
        written: the text.
        place: where its first character stands.
    """
    if len(written) > LONGEST:
        what = f"a text may have {LONGEST} characters, and this one has {len(written)}"
        return None, (Problem("expression-too-long", place, what),)
    pieces: list[str | Slot] = []
    problems: list[Problem] = []
    position = 0
    while position < len(written):
        mark = next((at for at in range(position, len(written)) if written[at] in "{}"), len(written))
        plain, position = written[position:mark], mark
        if written[mark : mark + 2] in ("{{", "}}"):
            plain, position = plain + written[mark], mark + 2
        elif mark < len(written):
            if written[mark] == "}":
                problems.append(
                    _stray(
                        written, mark, place, "a brace closes that was never opened", "write }} for a brace"
                    )
                )
                return None, tuple(problems)
            end = _closing(written, mark + 1)
            if end is None:
                problems.append(
                    _stray(
                        written,
                        mark,
                        place,
                        "a brace is never closed",
                        "close it: }, or write {{ for a brace",
                    )
                )
                return None, tuple(problems)
            slot, found = _read_slot(written[mark + 1 : end], _moved(written, mark + 1, place), scope)
            problems.extend(found)
            position = end + 1
            if plain:
                pieces.append(plain)
            if slot is not None:
                pieces.append(slot)
            continue
        if plain:
            pieces.append(plain)
    return (None if problems else Text(tuple(pieces))), tuple(problems)


def fill(text: Text, careful: Careful, system: System = "us") -> str:
    """The text with what its expressions give for the thing that is judged."""
    return "".join(
        piece if isinstance(piece, str) else _filled(piece, careful, system) for piece in text.pieces
    )


def in_print(
    found: Evaluated, system: System = "us", unit: str | None = None, *, spoken: bool = False
) -> str:
    """What a node gave, as the trade prints it; its words as they are written, or as they are `spoken`."""
    match found.value:
        case Truth():
            return found.value.value
        case Thing(key=key):
            return key
        case NotThere() | Absent():
            return "none"
        case Unknown():
            return "unknown"
        case Members(known, rest):
            kind = found.meaning.type
            inner = kind.of if isinstance(kind, Several) else kind
            said = [_member(one.value, inner, system, unit, spoken=spoken) for one in known]
            if rest is not Rest.NOTHING:
                said.append(
                    "something not identified"
                    if rest is Rest.SOMETHING
                    else "more unknown"
                    if said
                    else "unknown"
                )
            return ", ".join(said) or "none"
        case _:
            return _worded(found.value, found.meaning.type, system, unit, spoken=spoken)


def dimension_of(kind: Type) -> Dimension | None:
    """The dimension to print a type with; none for a date, and of no account for what is no figure."""
    match kind:
        case Figures(dimension):
            return dimension
        case Several(of):
            return dimension_of(of)
        case Dates():
            return None
        case _:
            return Dimension()


def _member(value: object, kind: Type, system: System, unit: str | None, *, spoken: bool) -> str:
    if isinstance(value, Thing):
        return value.key
    return _worded(value, kind, system, unit, spoken=spoken)  # type: ignore[arg-type]  # members are things or values


def _worded(value: Value, kind: Type, system: System, unit: str | None, *, spoken: bool) -> str:
    return write_value(as_said(value) if spoken else value, dimension_of(kind), system, unit)


def _filled(slot: Slot, careful: Careful, system: System) -> str:
    try:
        return in_print(careful.found(slot.meaning), system, slot.unit, spoken=True)
    except RuleError:
        return "(cannot be worked out)"


def _closing(written: str, start: int) -> int | None:
    """Where the brace closes; braces inside quotes do not count."""
    quote = ""
    for at in range(start, len(written)):
        mark = written[at]
        if quote:
            quote = "" if mark == quote else quote
        elif mark in "\"'":
            quote = mark
        elif mark == "{":
            return None
        elif mark == "}":
            return at
    return None


def _moved(written: str, by: int, place: Place) -> Place:
    before = written[:by]
    lines = before.count("\n")
    column = by - before.rfind("\n") if lines else place.column + by
    return Place(place.file, place.line + lines, column)


def _stray(written: str, at: int, place: Place, what: str, instead: str) -> Problem:
    return Problem("text-braces", _moved(written, at, place), what, instead)


def _read_slot(inner: str, place: Place, scope: Scope) -> tuple[Slot | None, tuple[Problem, ...]]:
    said, mark, unit = inner.rpartition(" as ")
    if not mark or '"' in unit or "'" in unit:
        said, unit = inner, ""
    expression = parse(said, place)
    if isinstance(expression, Problem):
        return None, (expression,)
    checked = check(expression, scope)
    if checked.meaning is None:
        return None, checked.problems
    kind = checked.meaning.type
    if isinstance(kind, Claims):
        what = f"{printed(expression)} is {in_words(kind)}, and has no print"
        return None, (Problem("not-printable", place, what, "print the facts that it is about", len(said)),)
    problem = _unfit(unit.strip(), kind, place, len(inner)) if unit else None
    if problem is not None:
        return None, (problem,)
    return Slot(checked.meaning, unit.strip() or None), ()


def _unfit(unit: str, kind: Type, place: Place, length: int) -> Problem | None:
    """What is wrong with printing something in a unit."""
    known = find_unit(unit)
    if known is None:
        near = nearest_unit(unit)
        instead = f"write as {near}" if near else "write a unit, such as in, mm, lb or kN"
        return Problem("unit-unknown", place, f"{unit} is no unit", instead, length)
    inner = kind.of if isinstance(kind, Several) else kind
    if isinstance(inner, OneThing) or not isinstance(inner, Figures) or inner.dimension != known.dimension:
        what = f"{in_words(kind)} is not printed in {unit}, the unit of {kind_of(known.dimension)}"
        return Problem("dimension-wrong", place, what, "leave the unit out, or name one that fits", length)
    return None
