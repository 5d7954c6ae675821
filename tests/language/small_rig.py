"""A small vocabulary and a small rig of invented things, built by hand, with the facts as an environment
for rules.

The environment here is a plain table of answers: what a rule makes of them is tested, not where they come
from.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from plumbtrue.documents.place import Place, Problem
from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.store import NotExact, plain
from plumbtrue.quantities.dimension import FORCE, LENGTH, TEMPERATURE, Dimension
from plumbtrue.quantities.values import NONE, UNKNOWN, Absent, Unknown, Value, is_exactly_known
from plumbtrue.rig.thing import Recorded, Thing
from plumbtrue.rig.vocabulary import Class, Fact, FactType, Kind, Vocabulary
from plumbtrue.rules.language.checking import Checked, check, check_claim, with_lets
from plumbtrue.rules.language.meaning import Meaning
from plumbtrue.rules.language.nodes import Expression
from plumbtrue.rules.language.parsing import parse
from plumbtrue.rules.language.scope import Given, Scope
from plumbtrue.rules.language.tables import Table

HERE = Place("rules.yaml", 1, 1)


def fact(
    name: str,
    said: FactType,
    dimension: Dimension | None = None,
    *,
    words: str = "",
    of: str | None = None,
    none: bool = False,
    each: bool = False,
) -> Fact:
    """A fact of the small vocabulary; words are written with spaces between them."""
    return Fact(
        name,
        name.replace("_", " "),
        said,
        "condition",
        dimension,
        dict.fromkeys(words.split(), "") or None,
        of,
        none,
        each,
    )


_COMMON = (fact("installed", "date"), fact("note", "text"))
_PART = (
    fact("stack_length", "quantity", LENGTH),
    fact("damage", "list of words", words="crack bent worn", none=True),
    fact("working_load_limit", "quantity", FORCE, none=True),
)
_KINDS: Mapping[str, tuple[Fact, ...]] = {
    "house": (
        fact("name", "name"),
        fact("line_sets", "list of things", of="line_set"),
        fact("inspections", "list of things", of="inspection", none=True),
    ),
    "inspection": (
        fact("on", "date"),
        fact("qualification", "word", words="competent qualified other", none=True),
    ),
    "line_set": (
        fact("lift_lines", "list of things", of="lift_line"),
        fact("arbor", "thing", of="arbor", none=True),
        fact("lines_stated", "count"),
        fact("rail", "reference", of="line_set", none=True),
    ),
    "arbor": (
        fact("capacity", "quantity", FORCE, none=True),
        fact("weights", "list of things", of="weights", none=True),
        fact("trims", "list of quantity", LENGTH, none=True),
    ),
    "weights": (
        fact("weight", "quantity", FORCE),
        fact("count", "count"),
        fact("heat", "quantity", TEMPERATURE),
    ),
    "lift_line": (
        fact("role", "word", words="lift spot spare"),
        fact("rope", "thing", of="rope", none=True),
        fact("lower", "path"),
    ),
    "rope": (
        fact("diameter", "quantity", LENGTH),
        fact("diameter_now", "quantity", LENGTH),
        fact("construction", "word", words="7x19 6x19 1x19"),
        fact("corrosion", "word", words="bloom surface pitted", none=True),
        fact("tag", "name", none=True),
        fact("broken_wires", "count", none=True),
        fact("loss", "ratio"),
    ),
    "swage_sleeve": (fact("material", "word", words="copper aluminium"), fact("presses", "count")),
    "thimble": (fact("size", "quantity", LENGTH),),
    "trim_chain": (
        fact("attachment", "word", words="wrap clamp two-part"),
        fact("wraps", "count"),
        fact("grade", "word", words="30 43 70 80"),
        fact("keeper_bolt", "word", words="fitted loose", none=True),
        fact("distance_to_pipe_end", "quantity", LENGTH),
        fact("secured", "yes/no"),
    ),
    "wire_rope_clips": (
        fact("count", "count"),
        fact("size", "quantity", LENGTH),
        fact("material", "word", words="forged malleable", each=True),
        fact("spacing", "quantity", LENGTH, each=True),
    ),
}
_PARTS = ("swage_sleeve", "thimble", "trim_chain", "wire_rope_clips")


def _facts(*groups: tuple[Fact, ...]) -> dict[str, Fact]:
    return {one.name: one for group in groups for one in group}


VOCABULARY = Vocabulary(
    kinds={
        name: Kind(
            name,
            name.replace("_", "-"),
            name,
            _facts(facts, _PART if name in _PARTS else (), _COMMON),
            frozenset({"part"}) if name in _PARTS else frozenset(),
        )
        for name, facts in _KINDS.items()
    },
    classes={"part": Class("part", "a part", frozenset(_PARTS), _facts(_PART, _COMMON))},
    survey_steps={},
)

Held = Value | Thing | tuple[Thing, ...]


def thing(kind: str, key: str = "", /, **said: Held) -> Thing:
    """A thing with its facts and parts; the parts learn where they sit."""
    made = Thing(VOCABULARY.kinds[kind], key or kind, HERE)
    for name, value in said.items():
        give(made, name, value)
    return made


def give(owner: Thing, name: str, value: Held) -> None:
    """Writes a fact or a part of a thing."""
    holds = owner.kind.facts[name].type in ("thing", "list of things", "path", "reference")
    if not holds:
        assert not isinstance(value, Thing | tuple)
        owner.facts[name] = Recorded(value, str(value), HERE)
        return
    assert isinstance(value, Thing | tuple | Absent | Unknown)
    owner.parts[name] = value
    if owner.kind.facts[name].type != "reference":
        for part in (value,) if isinstance(value, Thing) else value if isinstance(value, tuple) else ():
            part.parent, part.role = owner, name


@dataclass
class Rig:
    """What is written about some things, asked as rules ask."""

    today: float = float(date(2026, 1, 1).toordinal())
    asked: list[tuple[str, str]] = field(default_factory=list)

    def answer(self, thing: Thing, name: str, /) -> Answer:
        self.asked.append((thing.key, name))
        if thing.kind.facts[name].type in ("thing", "list of things", "path", "reference"):
            held = thing.parts.get(name, UNKNOWN)
            return Answer(UNKNOWN, (Missing(thing, name),)) if isinstance(held, Unknown) else Answer(NONE)
        recorded = thing.facts.get(name)
        value = UNKNOWN if recorded is None else recorded.value
        missing = () if is_exactly_known(value) else (Missing(thing, name),)
        return Answer(value, missing, recorded)

    def exact(self, thing: Thing, name: str, /) -> object:
        if thing.kind.facts[name].type in ("thing", "list of things", "path", "reference"):
            held = thing.parts.get(name, UNKNOWN)
            if isinstance(held, Unknown) or name in thing.unlisted:
                raise NotExact
            return None if isinstance(held, Absent) else held
        value = self.answer(thing, name).value
        if not is_exactly_known(value):
            raise NotExact
        return plain(value)

    def part(self, thing: Thing, name: str, /) -> Thing | tuple[Thing, ...] | Absent | Unknown:
        return thing.parts.get(name, UNKNOWN)

    def is_unlisted(self, thing: Thing, name: str, /) -> bool:
        return name in thing.unlisted


def scope(
    about: str,
    parameters: Mapping[str, Given] | None = None,
    tables: Mapping[str, Table] | None = None,
    lets: Mapping[str, str] | None = None,
) -> Scope:
    """The scope of a rule about a kind or class."""
    made = Scope(VOCABULARY, VOCABULARY.kinds_of(about), parameters or {}, tables or {})
    if lets is None:
        return made
    made, problems = with_lets(made, {name: written(text) for name, text in lets.items()})
    assert not problems, problems
    return made


def written(text: str) -> Expression:
    """A text that can be parsed, as its tree."""
    found = parse(text, HERE)
    assert not isinstance(found, Problem), found
    return found


def meant(text: str, about: str | Scope) -> Meaning:
    """A text that can be understood, as its meaning."""
    checked = check(written(text), scope(about) if isinstance(about, str) else about)
    assert checked.meaning is not None, checked.problems
    return checked.meaning


def claimed(text: str, about: str | Scope) -> Checked:
    """What becomes of a text that should be a claim."""
    return check_claim(written(text), scope(about) if isinstance(about, str) else about)
