"""Steps of the fast way that are too long to stand in a code object, and all the names that one may use."""

from collections.abc import Callable
from typing import Any as Anything
from typing import Final

from plumbtrue.facts.store import NotExact
from plumbtrue.quantities.bounds import Bounds, exceeds, is_at_least, is_over, same
from plumbtrue.quantities.calendar import DAY
from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.values import Absent, Choice, Name, Unknown, Value
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.language.answers import are_equal, elapsed, includes, is_none, is_word
from plumbtrue.rules.language.environment import Environment
from plumbtrue.rules.language.meaning import Meaning
from plumbtrue.rules.language.tables import Table
from plumbtrue.rules.language.value_types import Figures, Names


def wrapping(key: Meaning) -> Callable[[Anything], Value]:
    """How a plain key becomes a value again."""
    if isinstance(key.type, Figures):
        return Bounds.exactly
    return _as_name if isinstance(key.type, Names) else _as_word


def _as_name(text: str | None) -> Value:
    if text is None:
        raise NotExact
    return Name(text)


def _as_word(text: str | None) -> Value:
    if text is None:
        raise NotExact
    return Choice(frozenset({text}))


def _from_table(
    table: Table,
    column: str,
    named: tuple[tuple[str, Callable[[Anything], Value]], ...],
    keys: tuple[Anything, ...],
) -> float | str:
    found = table.look_up(column, {name: wrap(key) for (name, wrap), key in zip(named, keys, strict=True)})
    match found:
        case Bounds(low, _) if found.is_exact:
            return low
        case Name(text):
            return text
        case Choice() if found.word is not None:
            return found.word
        case _:
            raise NotExact


def _since(day: float, by_calendar: bool, today: float) -> float:
    found = elapsed(Bounds.exactly(day), by_calendar, today)
    if not found.is_exact:
        raise NotExact
    return found.low


def _the_one(found: Anything) -> Anything:
    if found.__class__ is not tuple:
        return found
    if not found or any(one != found[0] for one in found):
        raise NotExact
    return found[0]


def _load_path(thing: Thing) -> tuple[Thing, ...]:
    beside = thing.parent.parts.get(thing.role) if thing.parent is not None else None
    if thing.parent is None or not isinstance(beside, tuple) or thing.role in thing.parent.unlisted:
        raise NotExact
    return beside


def _told(truth: Truth) -> bool:
    if truth is Truth.CANNOT_TELL:
        raise NotExact
    return truth is Truth.HOLDS


def _known(facts: Environment, thing: Thing, name: str) -> Value:
    """A fact as the careful way has it, if there is something to reckon with or to look at."""
    if name not in thing.kind.facts:
        raise NotExact
    value = facts.answer(thing, name).value
    if isinstance(value, Unknown | Absent):
        raise NotExact
    return value


def _says_something(facts: Environment, thing: Thing, name: str) -> bool:
    if name not in thing.kind.facts:
        raise NotExact
    return not isinstance(facts.answer(thing, name).value, Unknown)


def _holds_something(facts: Environment, thing: Thing, name: str) -> bool:
    if name not in thing.kind.facts:
        raise NotExact
    return not isinstance(facts.part(thing, name), Unknown)


GIVEN: Final[dict[str, Anything]] = {
    "DAY": DAY,
    "LISTS": frozenset({tuple, list, frozenset}),
    "NotExact": NotExact,
    "UNSET": object(),
    "are_equal": are_equal,
    "elapsed": elapsed,
    "exceeds": exceeds,
    "from_table": _from_table,
    "holds_something": _holds_something,
    "includes": includes,
    "is_at_least": is_at_least,
    "is_none": is_none,
    "is_over": is_over,
    "is_word": is_word,
    "known": _known,
    "load_path": _load_path,
    "same": same,
    "says_something": _says_something,
    "since": _since,
    "the_one": _the_one,
    "told": _told,
}
