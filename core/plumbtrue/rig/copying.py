"""A tree of things once more, so that something can be changed in it and the one that was read stays as it is."""

from collections.abc import Mapping
from dataclasses import replace

from plumbtrue.rig.thing import Thing


def copied(root: Thing, parent: Thing | None = None) -> tuple[Thing, dict[Thing, Thing]]:
    """The tree once more, standing in `parent`, and which thing is a copy of which. What a thing names in the
    tree is named in the copy; what it names elsewhere stays.
    """
    copies: dict[Thing, Thing] = {}
    top = _copy(root, parent, copies)
    for original, copy in copies.items():
        copy.references = {fact: _as_copied(held, copies) for fact, held in original.references.items()}
    return top, copies


def _copy(thing: Thing, parent: Thing | None, copies: dict[Thing, Thing]) -> Thing:
    copy = replace(
        thing, parent=parent, facts=dict(thing.facts), parts={}, unlisted=set(thing.unlisted), references={}
    )
    copies[thing] = copy
    for fact, held in thing.parts.items():
        if isinstance(held, Thing):
            copy.parts[fact] = _copy(held, copy, copies)
        elif isinstance(held, tuple):
            copy.parts[fact] = tuple(_copy(one, copy, copies) for one in held)
        else:
            copy.parts[fact] = held
    return copy


def _as_copied(held: Thing | tuple[Thing, ...], copies: Mapping[Thing, Thing]) -> Thing | tuple[Thing, ...]:
    if isinstance(held, Thing):
        return copies.get(held, held)
    return tuple(copies.get(one, one) for one in held)
