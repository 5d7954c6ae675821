"""The vocabulary's own files, read into plain data: one kind or class a file, facts that every thing has in
one more.
"""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence
from plumbtrue.documents.place import CannotRead, Problem
from plumbtrue.documents.reading import read_document

FACT_KEYS = (
    "is",
    "type",
    "of",
    "dimension",
    "nature",
    "none",
    "signed",
    "lent",
    "one_or_each",
    "words",
    "takes",
    "in_order",
    "step",
    "look",
    "with",
    "source",
    "computed_from",
    "of_plot",
)
KIND_KEYS = (
    "kind",
    "word",
    "is",
    "classes",
    "sits_in",
    "key",
    "keyed_by",
    "key_wanted",
    "in_order",
    "facts",
    "computed",
)
CLASS_KEYS = ("class", "is", "classes", "facts", "computed")


def plain(node: Node) -> Any:
    """A node as plain data: text, lists and dictionaries, places dropped."""
    match node:
        case Scalar(text):
            return text
        case Sequence(items):
            return [plain(item) for item in items]
        case Mapping(entries):
            return {key.text: plain(value) for key, value in entries}


def read_vocabulary_folder(folder: Path) -> dict[str, Any]:
    """Kinds, classes and common facts of a folder, as plain data by name.

    The folder holds `kinds/*.yaml` and `classes/*.yaml`, and, where it is the whole vocabulary,
    `common.yaml` and `vocabulary.yaml`.

    Raises:
        CannotRead: a file cannot be read, or has a key that no such file has.
    """
    data: dict[str, Any] = {"common": {}, "classes": {}, "kinds": {}}
    problems: list[Problem] = []
    for group, keys, named in (("classes", CLASS_KEYS, "class"), ("kinds", KIND_KEYS, "kind")):
        for path in sorted((folder / group).glob("*.yaml")):
            node = read_document(path, shown=f"{group}/{path.name}")
            problems.extend(_misfits(node, keys, named, path.stem))
            data[group][path.stem] = plain(node)
    if (folder / "common.yaml").exists():
        data["common"] = plain(read_document(folder / "common.yaml", shown="common.yaml"))["facts"]
    if (folder / "vocabulary.yaml").exists():
        whole = plain(read_document(folder / "vocabulary.yaml", shown="vocabulary.yaml"))
        data["survey_steps"] = whole["survey_steps"]
        data["looks"] = list(whole["looks"])
        data["takes"] = whole["takes"]
        data["dimensions"] = whole["dimensions"]
    if problems:
        raise CannotRead(tuple(problems))
    return data


def _misfits(node: Mapping, keys: tuple[str, ...], named: str, stem: str) -> Iterator[Problem]:
    for key, _ in node:
        if key.text not in keys:
            yield Problem(
                "vocabulary-key",
                key.place,
                f"a {named} has no {key.text}",
                f"write one of {', '.join(keys)}",
                len(key.text),
            )
    name = node.get(named)
    if not isinstance(name, Scalar) or name.text != stem:
        where = name.place if name is not None else node.place
        yield Problem(
            "vocabulary-name", where, f"this file has to hold the {named} {stem}", f"write {named}: {stem}"
        )
    for group in ("facts", "computed"):
        facts = node.get(group)
        if not isinstance(facts, Mapping):
            continue
        for fact, said in facts:
            for key, _ in said if isinstance(said, Mapping) else ():
                if key.text not in FACT_KEYS:
                    yield Problem(
                        "vocabulary-key",
                        key.place,
                        f"the fact {fact.text} has no {key.text}",
                        f"write one of {', '.join(FACT_KEYS)}",
                        len(key.text),
                    )
