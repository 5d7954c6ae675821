"""The vocabulary: kinds of things and their facts, defined once in `schemas/` and used by everything.

Validation of a rig file, completion in an editor, the survey's questions and the check of every rule all
read this.
"""

from collections.abc import Mapping
from dataclasses import field
from typing import Literal

from plumbtrue.quantities.dimension import Dimension
from plumbtrue.quantities.unchanging import unchanging

FactType = Literal[
    "quantity",
    "count",
    "ratio",
    "date",
    "yes/no",
    "word",
    "list of words",
    "place",
    "list of place",
    "name",
    "list of name",
    "text",
    "list of text",
    "list of quantity",
    "reference",
    "list of reference",
    "thing",
    "list of things",
    "path",
    "truth",
]
Nature = Literal["identity", "condition", "record", "posted", "now", "show", "computed"]


@unchanging
class Fact:
    """One answer about one thing: what it says, how it is written, and how to find it out."""

    name: str
    meaning: str
    type: FactType
    nature: Nature
    dimension: Dimension | None = None
    words: Mapping[str, str] | None = None
    """Permitted words with their meanings; the list is closed."""
    of: str | None = None
    """Kind or class of the things of a thing, list of things or path; kind of what a reference names."""
    may_be_none: bool = False
    one_or_each: bool = False
    takes: str | None = None
    """Least way of looking that answers it: from-afar, by-eye, by-hand, with-tools, test or told."""
    in_order: str | None = None
    """What a general `in_order: yes` gives it, as written in the vocabulary."""
    step: str | None = None
    look: str | None = None
    tool: str | None = None
    source: str | None = None
    """Where its formula comes from: of a computed fact, and of one that is computed where nobody wrote it."""
    declared_in: str = ""
    """Kind or class that brings it."""
    of_plot: bool = False
    """Whether it tells what a plot does to a thing of the house."""
    lent: bool = False
    """Whether a typical thing may carry it though it is not what a thing is: laid down alike for many."""
    signed: bool = False
    """Whether a figure below nought says something: a place on the other side, a weight taken off."""

    @property
    def is_computed(self) -> bool:
        return self.nature == "computed"

    @property
    def computed_if_left_out(self) -> bool:
        """Whether it is recorded where somebody wrote it and computed otherwise."""
        return self.source is not None and not self.is_computed

    @property
    def holds_things(self) -> bool:
        """Whether it is written in place as a thing, a list of things or a path."""
        return not self.is_computed and self.type in ("thing", "list of things", "path")


@unchanging
class Kind:
    """A kind of thing, with all its facts: its own, those of its classes, and those that every thing has."""

    name: str
    word: str
    meaning: str
    facts: Mapping[str, Fact] = field(repr=False)
    classes: frozenset[str]
    """Every class it belongs to, directly or through another class."""
    sits_in: tuple[str, ...] = ()
    key: str = ""
    """What its lasting key is, for people."""
    keyed_by: tuple[str, ...] = ()
    """Facts whose text makes the key where no `key:` is written."""
    key_wanted: bool = False
    """Whether it cannot be told apart without a key, so that leaving it out is an error."""


@unchanging
class Class:
    """Kinds that share facts; a rule may be about a class."""

    name: str
    meaning: str
    members: frozenset[str]
    facts: Mapping[str, Fact]


@unchanging
class Vocabulary:
    """All kinds and classes, by name."""

    kinds: Mapping[str, Kind]
    classes: Mapping[str, Class]
    survey_steps: Mapping[str, str]
    looks: tuple[str, ...] = ("from-afar", "by-eye", "by-hand", "with-tools")
    """Ways of looking, each including those before it."""

    def kinds_of(self, name: str) -> frozenset[str]:
        """Kinds that a kind's or class's name stands for; none when there is no such name. Hyphens are taken
        as underscores.
        """
        name = name.replace("-", "_")
        if name in self.kinds:
            return frozenset({name})
        if name in self.classes:
            return self.classes[name].members
        return frozenset()
