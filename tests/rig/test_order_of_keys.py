"""The order of keys never matters; the order of a path does."""

from random import Random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.rig.conftest import OneSet, described
from tests.rig.houses import HEMP_SET, OLD_SET, RIG, SOUND_SET, TYPICAL

from plumbtrue.documents.nodes import Mapping, Node, Scalar
from plumbtrue.documents.reading import read_text
from plumbtrue.rig.reading import read_rig_text
from plumbtrue.rig.thing import ROLES_SHOWN
from plumbtrue.rig.vocabulary_loading import load_vocabulary

HOUSE = (
    RIG
    + TYPICAL
    + SOUND_SET
    + "".join(
        set_text.replace("line_sets:\n", "").replace("number: 14", "number: 15")
        for set_text in (OLD_SET, HEMP_SET)
    )
)


def shuffled(node: Node, chance: Random) -> str:
    """A node as text, the keys of every mapping in another order."""
    if isinstance(node, Mapping):
        entries = [f"{key.text}: {shuffled(value, chance)}" for key, value in node.entries]
        chance.shuffle(entries)
        return "{" + ", ".join(entries) + "}"
    if isinstance(node, Scalar):
        return "'" + node.text.replace("'", "''") + "'" if node.quoted else node.text
    return "[" + ", ".join(shuffled(item, chance) for item in node.items) + "]"


def without_order(thing: dict[str, Any]) -> dict[str, Any]:
    """A described thing with the things of its lists by key; paths keep their order."""
    parts: dict[str, Any] = {}
    for name, held in thing["parts"].items():
        if isinstance(held, dict):
            parts[name] = without_order(held)
        elif isinstance(held, list):
            inner = [without_order(one) for one in held]
            parts[name] = inner if name in ROLES_SHOWN else sorted(inner, key=lambda one: str(one["key"]))
        else:
            parts[name] = held
    return {**thing, "parts": parts}


@settings(max_examples=40, deadline=None)
@given(st.randoms(use_true_random=False))
def test_a_house_is_the_same_whatever_the_order_of_its_keys(chance: Random) -> None:
    vocabulary = load_vocabulary()
    house = read_rig_text(HOUSE, "house.yaml", vocabulary).house
    text = shuffled(read_text(HOUSE, "house.yaml"), chance)
    other = read_rig_text(text, "shuffled.yaml", vocabulary).house
    assert without_order(described(other)) == without_order(described(house))


def test_the_order_of_a_path_is_its_meaning(one_set: OneSet) -> None:
    one = one_set("hand_line: {upper: [thimble, shackle]}")("hand line")
    other = one_set("hand_line: {upper: [shackle, thimble]}")("hand line")
    assert described(one) != described(other)
