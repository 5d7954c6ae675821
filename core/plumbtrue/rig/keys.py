"""Lasting keys of things: what findings, acceptances and comparisons hang on, free of line numbers and order.

A set's key is its number, a line's its mark, a part's its kind, an item's its number. What stands alone is
called by what holds it ("head block"). Where a path or list holds a kind twice, the second is numbered:
`shackle.2`.
"""

from collections import Counter

from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Kind


def key_of_single(role: str) -> str:
    """Key of a thing that stands alone in its place.

    >>> key_of_single("head_block")
    'head block'
    """
    return role.replace("_", " ")


def key_in_list(kind: Kind, own: str, called: str | None) -> str:
    """Key of a thing in a list, before numbering.

    `called` is what its list is called, where another list of the same parent holds the same kind.
    """
    if kind.name == "line_set":
        return own
    if kind.name == "lift_line":
        return f"line {own}"
    if not own:
        return called or kind.word
    name = called or kind.name.replace("_", " ")
    last_word = name.rpartition(" ")[2]
    return own if last_word in own.replace("-", " ").split() else f"{name} {own}"


def lists_called_by_role(kind: Kind) -> frozenset[str]:
    """Lists of a kind whose things are called by the list, since another list holds the same kind."""
    lists = {fact.name: fact.of for fact in kind.facts.values() if fact.type == "list of things"}
    times = Counter(lists.values())
    return frozenset(name for name, of in lists.items() if times[of] > 1)


def number_alike(things: list[Thing]) -> None:
    """Number the second and later things of one key: `shackle`, `shackle.2`."""
    times: dict[str, int] = {}
    for thing in things:
        count = times[thing.key] = times.get(thing.key, 0) + 1
        if count > 1:
            thing.key = f"{thing.key}.{count}"
