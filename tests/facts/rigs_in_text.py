"""Rigs for these tests are written as a user would write them; facts are asked by the path of a thing and a
name.
"""

from collections.abc import Callable
from datetime import date

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.store import Facts
from plumbtrue.rig.reading import read_rig_text
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary_loading import load_vocabulary

ON = date(2026, 3, 2)


class Asked:
    """A rig that was read, and what is known of its things."""

    def __init__(self, text: str, on: date) -> None:
        self.rig = read_rig_text(text, "test.yaml", load_vocabulary())
        self.facts = Facts(self.rig, on)
        self._by_path = {thing.path: thing for thing in self.rig.house.below()}

    def thing(self, path: str) -> Thing:
        if path == "house":
            return self.rig.house
        if path not in self._by_path:
            raise KeyError(f"{path} is none of {', '.join(self._by_path)}")
        return self._by_path[path]

    def answer(self, path: str, name: str) -> Answer:
        return self.facts.answer(self.thing(path), name)

    def missing(self, path: str, name: str) -> set[str]:
        return {f"{one.thing.path}: {one.fact}" for one in self.answer(path, name).missing}


Ask = Callable[..., Asked]
"""What the fixtures `asked` and `one_set` give: a text to a rig that can be asked."""
