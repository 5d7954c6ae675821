"""What a message offers instead of something that cannot be read: the thing that belongs there, as it would be
written.

Offers show keys of the vocabulary with `…` for their values; nothing here reads a document.
"""

import re
from collections.abc import Iterable, Iterator
from typing import Final

from plumbtrue.documents.nearest_word import nearest
from plumbtrue.rig.complaints import a, listed
from plumbtrue.rig.vocabulary import Fact, Kind, Vocabulary

FEW: Final = 24
"""Facts of a kind that a message lists; of more it says where they are listed."""

_NEAR: Final = 3
"""Kinds that have a fact, as far as it helps to name them."""

_A_NAME: Final = re.compile(r"[\w.-]{1,24}")

_PATH: Final = "[swage-sleeve, thimble, shackle, …]"
_FIBRE_PATH: Final = "[hand-splice, thimble, …]"
_LINES: Final = "{at: {1: SR 12'-0\"}, each: {rope: …}}"

_NOBODY_KNOWS: Final = frozenset(
    (
        *("?", "??", "???", "dk", "dunno", "don't know", "dont know", "do not know", "n/a", "na", "no idea"),
        *("nobody knows", "not known", "not sure", "tba", "tbc", "tbd", "unclear", "unkown", "unsure"),
    )
)


def is_nobody_knows(text: str) -> bool:
    """Whether a text says that nobody knows, in other words than `unknown`.

    >>> is_nobody_knows("Don't know")
    True
    """
    return text.strip().lower().replace("\N{RIGHT SINGLE QUOTATION MARK}", "'") in _NOBODY_KNOWS


def thing_offered(fact: Fact, vocabulary: Vocabulary) -> str:
    """A single thing under a fact, as it would be written: `batten: {form: …, nominal: …}`."""
    return f"{fact.name}: {_thing(vocabulary.kinds.get(fact.of or ''))}"


def list_offered(fact: Fact, vocabulary: Vocabulary) -> str:
    """The things of a list or path under a fact, as they would be written."""
    if fact.of == "lift_line":
        return f"{fact.name}: {_LINES}"
    if fact.type == "path":
        path = _FIBRE_PATH if fact.declared_in == "hand_line" else _PATH
        return f"{fact.name}: {path}, its parts in order from the rope's end"
    kind = vocabulary.kinds.get(fact.of or "")
    if kind is not None:
        return f"{fact.name}: [{_thing(kind)}]"
    words = sorted(vocabulary.kinds[name].word for name in vocabulary.kinds_of(fact.of or "part"))
    return f"{fact.name}: [{{part: {words[0]}, …}}], each with part: and one of {listed(words)}"


def drawn_offered(name: str, kind: Kind | None) -> str:
    """A typical thing, as it would be drawn; under a name of its own where what was written is none."""
    name = name if _A_NAME.fullmatch(name) else "NAME"
    return f"draw it under typical: {name}: {{kind: {kind.word if kind else '…'}, …}}"


def instead_of_key(kind: Kind, key: str, permitted: Iterable[str], vocabulary: Vocabulary) -> str:
    """What to write instead of a key that a kind does not have."""
    permitted = list(permitted)
    near = nearest(key, permitted)
    if near is not None:
        return f"did you mean {near}?"
    if key == "name" and kind.key_wanted and not kind.keyed_by:
        return f"write key: in it ({kind.key})"
    for fact in kind.facts.values():
        inner = vocabulary.kinds.get(fact.of or "") if fact.holds_things else None
        if inner is not None and key in inner.facts and not inner.facts[key].is_computed:
            written = f"{{{key}: …}}" if fact.type == "thing" else f"[{{{key}: …}}]"
            return f"write it under {fact.name}: {written}"
    elsewhere = [
        other.word
        for other in vocabulary.kinds.values()
        if key in other.facts and other.facts[key].nature != "computed"
    ]
    of_others = f"it is a fact of {listed(elsewhere)}; " if 0 < len(elsewhere) <= _NEAR else ""
    if len(permitted) <= FEW:
        return f"{of_others}write one of {listed(permitted)}"
    return f"{of_others}`plumbtrue explain {kind.word}` lists what {a(kind)} has"


def _thing(kind: Kind | None) -> str:
    if kind is None:
        return "{…}"
    return f"{{{', '.join(f'{name}: …' for name in _first_keys(kind))}}}"


def _first_keys(kind: Kind) -> list[str]:
    """The keys that come first when a thing is written down: what it is told apart by, and one or two facts."""
    found = dict.fromkeys(["key"] if kind.key_wanted and not kind.keyed_by else kind.keyed_by)
    for name in _recorded(kind):
        if len(found) >= 2:
            break
        found.setdefault(name)
    return list(found)


def _recorded(kind: Kind) -> Iterator[str]:
    yield from (name for name, fact in kind.facts.items() if not fact.is_computed)
