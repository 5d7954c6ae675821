"""Which function computes which fact of which kind or class.

A computation gets a `Gathering` and the thing, and gives an `Answer`; what it lacks and where it declines, it
raises. A finder gives things instead: what comes next in a path, the ropes over a block.
"""

from collections.abc import Callable, Mapping
from typing import Final

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.gathering import Declined, Gathering, Lacking
from plumbtrue.facts.store import Computation, Facts, Found
from plumbtrue.quantities.values import UNKNOWN
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Kind

Compute = Callable[[Gathering, Thing], Answer]
Find = Callable[[Facts, Thing], Found]

COMPUTATIONS: Final[dict[tuple[str, str], Computation]] = {}
FINDERS: Final[dict[tuple[str, str], Find]] = {}


def computed(owner: str, name: str) -> Callable[[Compute], Compute]:
    """Bind a function to a computed fact of a kind or class, or to a recorded one that is computed where
    nobody wrote it.
    """

    def bind(compute: Compute) -> Compute:
        def answer(facts: Facts, thing: Thing) -> Answer:
            gathering = Gathering(facts)
            try:
                return compute(gathering, thing)
            except Lacking as lacking:
                return Answer(UNKNOWN, lacking.missing)
            except Declined as declined:
                return Answer(UNKNOWN, declined.missing, refusal=declined.reason)

        _once(COMPUTATIONS, owner, name)
        COMPUTATIONS[owner, name] = answer
        return compute

    return bind


def finds(owner: str, name: str) -> Callable[[Find], Find]:
    """Bind a function to a computed fact that is a thing or a list of things."""

    def bind(find: Find) -> Find:
        _once(FINDERS, owner, name)
        FINDERS[owner, name] = find
        return find

    return bind


def _once(bound: Mapping[tuple[str, str], object], owner: str, name: str) -> None:
    if (owner, name) in bound:
        raise ValueError(f"{name} of {owner} is computed twice")


def bindings(kind: Kind) -> Mapping[str, Computation]:
    """The computations that hold for a kind: its own, else those of its classes."""
    by_name = {
        name: computation for (owner, name), computation in COMPUTATIONS.items() if owner in kind.classes
    }
    own = {name: computation for (owner, name), computation in COMPUTATIONS.items() if owner == kind.name}
    return {**by_name, **own}


def found_part(facts: Facts, thing: Thing, name: str) -> Found:
    """The thing or things that a computed fact finds.

    Raises:
        KeyError: nothing finds such a fact.
    """
    for owner in (thing.kind.name, *sorted(thing.kind.classes)):
        find = FINDERS.get((owner, name))
        if find is not None:
            return find(facts, thing)
    raise KeyError(f"nothing finds {name} of a {thing.kind.word}")
