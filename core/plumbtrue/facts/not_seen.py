"""What somebody says that they did not see, and whether that takes in a given fact of a given thing.

Whoever vouches for a set names what they left out in their own words: `head_block`, `sleeve gauge of 16`,
`arbor label of 12`, `14 / line 3 / lower`. A phrase names a thing by the words of its kind, its place or its
key, and one fact of it by the words of the fact's name; a thing named whole takes everything in it along. A
phrase that names the kind in full and then something that is no fact of it ("loft-block plates of 14") takes
the whole thing: the doubt goes to the unseen.
"""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.thing import Thing

_FILLERS = frozenset({"the", "a", "all", "any", "every", "each", "it", "end", "termination", "set", "fact"})


@unchanging
class Unseen:
    """A phrase by which something of one thing was not seen: the whole of it, or some of its facts."""

    phrase: str
    whole: bool
    fact: str = ""
    """The one fact that a path names."""
    said: frozenset[str] = frozenset()
    """The words said, which may be those of a fact."""
    beside_names: frozenset[str] = frozenset()
    """What is said beside the thing's own names, where it is named: the words of a fact begin there."""

    def takes_in(self, fact: str) -> bool:
        """Whether this fact of the thing was not seen."""
        if self.whole or self.fact == fact:
            return True
        words = _words(fact)
        return self.said == words or (bool(self.beside_names) and self.beside_names <= words)


def unseen_of(phrases: frozenset[str], thing: Thing) -> tuple[Unseen, ...]:
    """What the phrases leave out of a thing, in the order of the alphabet."""
    found = (_bearing(phrase, thing) for phrase in sorted(phrases))
    return tuple(one for one in found if one is not None)


def left_out(phrases: frozenset[str], thing: Thing, fact: str) -> str | None:
    """The phrase, if any, by which this fact of this thing was not seen; the first in the order of the
    alphabet.
    """
    return next((one.phrase for one in unseen_of(phrases, thing) if one.takes_in(fact)), None)


def leaves_out_nothing(phrase: str, things: Iterable[Thing]) -> bool:
    """Whether a phrase names none of some things and no condition of one."""
    return not any(_leaves_out(phrase, thing) for thing in things)


def _leaves_out(phrase: str, thing: Thing) -> bool:
    bearing = _bearing(phrase, thing)
    return bearing is not None and (
        bearing.whole
        or any(
            bearing.takes_in(fact.name) for fact in thing.kind.facts.values() if fact.nature == "condition"
        )
    )


def _bearing(phrase: str, thing: Thing) -> Unseen | None:
    """What one phrase leaves out of a thing; nothing where it speaks of another."""
    if "/" in phrase:
        return _by_path(phrase, thing)
    said, keys = _scope(phrase, thing)
    if keys is not None and not any(one.key in keys for one in _outward(thing)):
        return None
    if any(_names_whole(said, one) for one in _outward(thing)):
        return Unseen(phrase, whole=True)
    names = _names(thing)
    return Unseen(phrase, whole=False, said=said, beside_names=said - names if said & names else frozenset())


def _by_path(phrase: str, thing: Thing) -> Unseen | None:
    def steps(path: str) -> list[str]:
        return [" ".join(step.replace("_", " ").split()) for step in path.split("/")]

    said, path = steps(phrase), steps(thing.path)
    if said == path[: len(said)]:
        return Unseen(phrase, whole=True)
    if said[:-1] == path:
        return Unseen(phrase, whole=False, fact=said[-1].replace(" ", "_"))
    return None


def _scope(phrase: str, thing: Thing) -> tuple[frozenset[str], frozenset[str] | None]:
    """The words before `of`, and the keys after it when they are keys of sets or lines, which hold a
    figure.
    """
    before, keys, hold_a_figure = _parted(phrase)
    if hold_a_figure or any(_is_key(key, thing) for key in keys):
        return _words(before), keys
    return _words(phrase), None


@lru_cache(maxsize=1024)
def _parted(phrase: str) -> tuple[str, frozenset[str], bool]:
    """What stands before the last `of`, what is listed after it, and whether a figure is in that."""
    before, of, after = phrase.rpartition(" of ")
    if not of:
        return phrase, frozenset(), False
    listed = (key.strip().removeprefix("set ").removeprefix("sets ") for key in re.split(r",|\band\b", after))
    keys = frozenset(key for key in listed if key)
    return before, keys, any(re.search(r"\d", key) for key in keys)


def _is_key(key: str, thing: Thing) -> bool:
    return any(one.key == key for one in _root(thing).members("line_sets")) or any(
        one.key == key for one in _outward(thing)
    )


def _root(thing: Thing) -> Thing:
    while thing.parent is not None:
        thing = thing.parent
    return thing


def _outward(thing: Thing) -> Iterator[Thing]:
    outward: Thing | None = thing
    while outward is not None:
        yield outward
        outward = outward.parent


@lru_cache(maxsize=8192)
def _words(text: str) -> frozenset[str]:
    words = re.findall(r"[a-z0-9]+", text.lower())
    # "plates" and "plate" are one word here; "brass" would lose its tail on both sides alike, which does no
    # harm.
    return frozenset(word.rstrip("s") for word in words) - _FILLERS


def _names(thing: Thing) -> frozenset[str]:
    return _words(f"{thing.kind.word} {thing.kind.name} {thing.role} {thing.key}")


def _names_whole(said: frozenset[str], thing: Thing) -> bool:
    names = _names(thing)
    if not said & names:
        return False
    rest = said - names
    if not rest:
        # A shared word alone, such as `block`, names a head block and a loft block alike; `line` in a key
        # names no line.
        return bool(said & _words(f"{thing.kind.word} {thing.role}")) or thing.key in said
    kind_in_full = _words(thing.kind.word) <= said
    return kind_in_full and not any(rest <= _words(fact) for fact in thing.kind.facts)
