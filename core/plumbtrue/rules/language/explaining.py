"""The working of an answer in words: what was asked, what was found, where it was written, and only what
decided.

Of claims joined by `and` that do not hold, the one that fails is shown; of a list, how many hold and the
ones that decided. So a licensed person can follow the answer by hand and is spared what did not matter.
"""

from collections.abc import Iterator
from itertools import groupby

from plumbtrue.facts.answer import Answer
from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.writing import System
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.language.meaning import (
    All,
    Any,
    Constant,
    CountOf,
    Denial,
    FactOf,
    LetValue,
    Quantification,
    TheOne,
    This,
    Today,
    Variable,
)
from plumbtrue.rules.language.nodes import Figure, Quoted
from plumbtrue.rules.language.printing import printed
from plumbtrue.rules.language.results import Evaluated, Member, Members
from plumbtrue.rules.language.texts import in_print


@unchanging
class Line:
    """One line of the working."""

    depth: int
    """How many others it explains, one inside another."""
    text: str
    answer: Truth | None = None
    """Of a claim."""
    origin: str = ""
    """Of a value: where it was written, or how it was computed."""
    thing: Thing | None = None
    """Of a fact: whose it is."""


def explained(found: Evaluated, system: System = "us") -> tuple[Line, ...]:
    """The working of an answer or a value, line by line."""
    # A fact that is named twice in a row is shown once.
    return tuple(line for line, _ in groupby(_lines(found, 0, system)))


def as_text(lines: tuple[Line, ...]) -> str:
    """The working as indented text."""
    return "\n".join(
        f"{'  ' * line.depth}{line.text}{f' ({line.origin})' if line.origin else ''}" for line in lines
    )


def _lines(found: Evaluated, depth: int, system: System) -> Iterator[Line]:
    meaning = found.meaning
    match meaning:
        case Constant() if isinstance(meaning.written, Figure | Quoted):
            return
        case This() | Today():
            return
        case Constant():
            yield Line(depth, f"{printed(meaning.written)} = {in_print(found, system)}", origin="parameter")
        case FactOf() | Variable() | TheOne():
            yield from _fact(found, depth, system)
        case LetValue():
            yield _line(found, depth, system)
            for part in found.parts:
                yield from _inner(part, depth + 1, system)
        case Denial() if not isinstance(found.parts[0].meaning, Quantification | All | Any):
            yield _line(found, depth, system)
            for part in found.parts[0].parts:
                yield from _lines(part, depth + 1, system)
        case Quantification():
            yield from _quantified(found, depth, system)
        case _:
            yield _line(found, depth, system)
            for part in _deciding(found):
                yield from _lines(part, depth + 1, system)


def _inner(found: Evaluated, depth: int, system: System) -> Iterator[Line]:
    """What stands behind a named value, without saying the value again."""
    if isinstance(found.meaning, FactOf):
        yield from _fact(found, depth, system)
        return
    if isinstance(found.meaning, Quantification):
        yield from _quantified(found, depth, system)
        return
    yield _line(found, depth, system)
    for part in _deciding(found):
        yield from _lines(part, depth + 1, system)


def _line(found: Evaluated, depth: int, system: System) -> Line:
    text = printed(found.meaning.written)
    if isinstance(found.value, Truth):
        return Line(depth, f"{_of(found.member)}{text}: {found.value.value}", found.value)
    return Line(depth, f"{_of(found.member)}{text} = {in_print(found, system)}", origin=_origin(found.answer))


def _fact(found: Evaluated, depth: int, system: System) -> Iterator[Line]:
    owner = _owner(found)
    text = f"{_of(found.member)}{printed(found.meaning.written)} = {in_print(found, system)}{owner}"
    reasons = "" if found.answer is not None or not found.missing else found.missing[0].why
    yield Line(depth, text, origin=_origin(found.answer) or reasons, thing=found.thing)


def _owner(found: Evaluated) -> str:
    """Whose fact it is, where the name does not say it already."""
    if found.thing is None or not isinstance(found.meaning, FactOf) or isinstance(found.meaning.owner, This):
        return ""
    return f", {found.thing.path}"


def _origin(answer: Answer | None) -> str:
    if answer is None:
        return ""
    if answer.refusal is not None:
        return answer.refusal
    if answer.recorded is not None:
        recorded = answer.recorded
        if recorded.origin == "in-order":
            return recorded.text
        through = f", through like: {recorded.like}" if recorded.like else ""
        return f"{recorded.place}{through}"
    if answer.working is not None:
        return f"computed: {answer.working.what}"
    return answer.missing[0].why if answer.missing else ""


def _of(member: Member | None) -> str:
    if member is None:
        return ""
    return f"{member.value.key}: " if isinstance(member.value, Thing) else ""


def _deciding(found: Evaluated) -> tuple[Evaluated, ...]:
    """The parts that decided an answer."""
    if found.value is Truth.CANNOT_TELL and isinstance(found.meaning, All | Any):
        return tuple(part for part in found.parts if part.value is Truth.CANNOT_TELL)
    if isinstance(found.meaning, CountOf):
        return found.parts
    return found.parts


def _quantified(found: Evaluated, depth: int, system: System) -> Iterator[Line]:
    meaning = found.meaning
    assert isinstance(meaning, Quantification)
    several, *asked = found.parts
    told = [part for part in asked if part.value is Truth.HOLDS]
    count = f"{len(told)} of {len(asked)} hold" if asked else "there is none to ask"
    truth = found.truth
    yield Line(depth, f"{printed(meaning.written)}: {truth.value}, {count}", truth)
    if isinstance(several.value, Members) and not several.value.are_all:
        yield Line(
            depth + 1, f"{printed(several.meaning.written)} may have more in it: {several.value.rest.value}"
        )
    wanted = {
        Truth.FAILS: Truth.FAILS if meaning.every else None,
        Truth.HOLDS: None if meaning.every else Truth.HOLDS,
        Truth.CANNOT_TELL: Truth.CANNOT_TELL,
    }[truth]
    for part in asked:
        if part.value is wanted:
            yield from _lines(part, depth + 1, system)
