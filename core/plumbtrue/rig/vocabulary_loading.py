"""The vocabulary as the program uses it, loaded from the one file made of `schemas/vocabulary/`.

JSON, since it is read at every start: some 5 ms, where the hundred YAML files take a good deal more.
"""

import json
from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any, cast

from plumbtrue.documents.data_folder import data_folder
from plumbtrue.quantities.dimension import BY_NAME, RATIO
from plumbtrue.rig.vocabulary import Class, Fact, FactType, Kind, Nature, Vocabulary

FactsOf = dict[str, Fact]


@cache
def load_vocabulary(extra: tuple[Path, ...] = ()) -> Vocabulary:
    """The vocabulary, with further kinds and classes from the folders in `extra` (`kinds/*.yaml`,
    `classes/*.yaml`).

    Raises:
        CannotRead: a file of an extra folder cannot be read.
        ValueError: a file says something that contradicts the rest, such as a kind that exists already.
    """
    data = json.loads((data_folder("schemas") / "vocabulary.json").read_text(encoding="utf-8"))
    for folder in extra:
        from plumbtrue.rig.vocabulary_files import read_vocabulary_folder

        more = read_vocabulary_folder(folder)
        for group in ("classes", "kinds"):
            twice = data[group].keys() & more[group].keys()
            if twice:
                raise ValueError(
                    f"{folder} defines {', '.join(sorted(twice))}, which the vocabulary has already"
                )
            data[group].update(more[group])
    return build_vocabulary(data)


def build_vocabulary(data: Mapping[str, Any]) -> Vocabulary:
    """The vocabulary from plain data, as `read_vocabulary_folder` gives it.

    Raises:
        ValueError: a fact has an unknown type, dimension or nature, a class does not exist, or one kind
            has two facts of one name.
    """
    common = _facts(data["common"], "recorded", "")
    own = {name: _declared(said, name) for name, said in data["classes"].items()}
    above = {name: tuple(said.get("classes", ())) for name, said in data["classes"].items()}
    kinds = {name: _kind(name, said, own, above, common) for name, said in data["kinds"].items()}
    classes = {
        name: Class(
            name=name,
            meaning=said["is"],
            members=frozenset(kind.name for kind in kinds.values() if name in kind.classes),
            facts=_merged(name, [own[one] for one in _lineage(name, above)], common),
        )
        for name, said in data["classes"].items()
    }
    _check_names(kinds, classes)
    return Vocabulary(kinds, classes, data["survey_steps"], tuple(data["looks"]))


def with_computed(vocabulary: Vocabulary, about: str, facts: Iterable[Fact]) -> Vocabulary:
    """The vocabulary with further computed facts of a kind or class, as a plugin brings them.

    Raises:
        ValueError: there is no such kind or class, or it has a fact of that name already.
    """
    new = {fact.name: fact for fact in facts}
    members = vocabulary.kinds_of(about)
    if not members:
        raise ValueError(f"the vocabulary has no kind or class {about}")
    name = about.replace("-", "_")
    kinds = dict(vocabulary.kinds)
    for member in members:
        kind = kinds[member]
        twice = new.keys() & kind.facts.keys()
        if twice:
            raise ValueError(f"{member} has a fact {', '.join(sorted(twice))} already")
        kinds[member] = replace(kind, facts={**kind.facts, **new})
    classes = dict(vocabulary.classes)
    if name in classes:
        classes[name] = replace(classes[name], facts={**classes[name].facts, **new})
    return replace(vocabulary, kinds=kinds, classes=classes)


def _kind(
    name: str,
    said: Mapping[str, Any],
    own: Mapping[str, FactsOf],
    above: Mapping[str, tuple[str, ...]],
    common: FactsOf,
) -> Kind:
    lineage: list[str] = []
    for parent in said.get("classes", ()):
        if parent not in own:
            raise ValueError(f"kind {name} names the class {parent}, which does not exist")
        lineage.extend(one for one in _lineage(parent, above) if one not in lineage)
    facts = _merged(name, [_declared(said, name), *(own[one] for one in lineage)], common)
    for fact, in_order in said.get("in_order", {}).items():
        # What is in order for most of a class may be wrong for one kind: a wedge socket's tail is long.
        if fact not in facts:
            raise ValueError(f"{name} says when {fact} is in order, which is none of its facts")
        facts[fact] = replace(facts[fact], in_order=in_order)
    keyed_by = tuple(said.get("keyed_by", ()))
    for fact in keyed_by:
        if fact not in facts:
            raise ValueError(f"kind {name} is keyed by {fact}, which is none of its facts")
    return Kind(
        name=name,
        word=said["word"],
        meaning=said["is"],
        facts=facts,
        classes=frozenset(lineage),
        sits_in=tuple(said.get("sits_in", ())),
        key=said.get("key", ""),
        keyed_by=keyed_by,
        key_wanted=said.get("key_wanted") == "yes",
    )


def _lineage(name: str, above: Mapping[str, tuple[str, ...]]) -> list[str]:
    """A class and every class whose facts it has too, itself first."""
    found = [name]
    for parent in above[name]:
        found.extend(one for one in _lineage(parent, above) if one not in found)
    return found


def _merged(name: str, declared: list[FactsOf], common: FactsOf) -> FactsOf:
    merged: FactsOf = {}
    for facts in (*declared, common):
        twice = merged.keys() & facts.keys()
        if twice:
            raise ValueError(f"{name} has the fact {', '.join(sorted(twice))} from two sides")
        merged.update(facts)
    return merged


def _declared(said: Mapping[str, Any], name: str) -> FactsOf:
    return {
        **_facts(said.get("facts", {}), "recorded", name),
        **_facts(said.get("computed", {}), "computed", name),
    }


_TYPES = frozenset(FactType.__args__)  # type: ignore[attr-defined]  # typing has no public way to list a Literal's words of an alias
_NATURES = frozenset(Nature.__args__)  # type: ignore[attr-defined]  # as above


def _facts(said: Mapping[str, Any], group: str, declared_in: str) -> FactsOf:
    return {name: _fact(name, one, group, declared_in) for name, one in said.items()}


def _fact(name: str, said: Mapping[str, Any], group: str, declared_in: str) -> Fact:
    where = f"the fact {name} of {declared_in or 'every thing'}"
    type_, nature = said["type"], "computed" if group == "computed" else said["nature"]
    if type_ not in _TYPES:
        raise ValueError(f"{where} has the type {type_}, which does not exist")
    if nature not in _NATURES:
        raise ValueError(f"{where} has the nature {nature}, which does not exist")
    dimension = said.get("dimension")
    if dimension is not None and dimension not in BY_NAME:
        raise ValueError(f"{where} has the dimension {dimension}, which does not exist")
    if dimension is None and type_ in ("quantity", "list of quantity"):
        raise ValueError(f"{where} is a quantity without a dimension")
    if type_ in ("word", "list of words") and not said.get("words") and group != "computed":
        raise ValueError(f"{where} has no words")
    return Fact(
        name=name,
        meaning=said["is"],
        type=cast(FactType, type_),
        nature=cast(Nature, nature),
        dimension=RATIO if type_ in ("count", "ratio") else None if dimension is None else BY_NAME[dimension],
        words=said.get("words"),
        of=said.get("of"),
        may_be_none=said.get("none") == "true",
        signed=said.get("signed") == "true",
        lent=said.get("lent") == "true",
        one_or_each=said.get("one_or_each") == "true",
        takes=_TAKES.get(said.get("takes", "")),
        in_order=said.get("in_order"),
        step=said.get("step"),
        look=said.get("look"),
        tool=said.get("with"),
        source=said.get("source") or said.get("computed_from"),
        declared_in=declared_in,
        of_plot=said.get("of_plot") == "true",
    )


_TAKES = {
    "afar": "from-afar",
    "eye": "by-eye",
    "hand": "by-hand",
    "tool": "with-tools",
    "test": "test",
    "told": "told",
}


def _check_names(kinds: Mapping[str, Kind], classes: Mapping[str, Class]) -> None:
    for owner, facts in [
        *((k.name, k.facts) for k in kinds.values()),
        *((c.name, c.facts) for c in classes.values()),
    ]:
        for fact in facts.values():
            if fact.type in ("thing", "list of things", "path", "reference", "list of reference"):
                of = fact.of or ("part" if fact.type == "path" else None)
                if of is None or (of not in kinds and of not in classes):
                    raise ValueError(
                        f"the fact {fact.name} of {owner} holds {of}, which is no kind and no class"
                    )
