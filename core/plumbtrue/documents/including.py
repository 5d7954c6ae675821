"""What `include:` may name, and how an included file's mapping joins the one that includes it.

Opens no file.
"""

import re
from pathlib import Path

from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence, problem_with
from plumbtrue.documents.place import Problem

_DRIVE = re.compile(r"[A-Za-z]:")


def included_names(listed: Node) -> tuple[tuple[Scalar, ...], tuple[Problem, ...]]:
    """The file names under `include:`, and what is wrong with the rest of it."""
    if not isinstance(listed, Sequence):
        return (), (
            problem_with(
                listed, "include-not-a-list", "include: takes a list of files", "write include: [parts.yaml]"
            ),
        )
    names, problems = [], []
    for item in listed:
        if isinstance(item, Scalar) and item.text:
            names.append(item)
        else:
            problems.append(
                problem_with(
                    item, "include-not-a-list", "include: takes names of files", "write include: [parts.yaml]"
                )
            )
    return tuple(names), tuple(problems)


def path_inside(name: Scalar, including: Path, folder: Path) -> Path | Problem:
    """The file that a name in `include:` means, seen from the folder of the file that includes it.

    Only files in `folder` (resolved) or in folders inside it are meant: a document from a stranger reads
    nothing else.
    """
    text = name.text
    if "\\" in text:
        return _outside(
            name, "a file under include: is written with / between folders", "write parts/ropes.yaml"
        )
    if text.startswith(("/", "~")) or _DRIVE.match(text):
        return _outside(
            name, "a file under include: is named as seen from this file, not from the top of the disk"
        )
    if ".." in text.split("/"):
        return _outside(
            name,
            "a file under include: lies in the folder of the document or in one inside it, so .. is not used",
        )
    path = including / text
    try:
        resolved = path.resolve()
    except (OSError, RuntimeError, ValueError):
        return _outside(name, "this name leads in a circle of links or cannot be followed")
    if not resolved.is_relative_to(folder):
        return _outside(name, "this name is a link that leads out of the folder of the document")
    return path


def joined(own: Mapping, included: Mapping) -> tuple[Mapping, tuple[Problem, ...]]:
    """Two mappings as one.

    Lists one after the other, mappings united, and what is written in both told as a problem.

    Every node keeps the file it was written in. `plumbtrue:` may stand in both when it says the same.
    """
    entries = {key.text: (key, value) for key, value in own}
    problems: list[Problem] = []
    for key, value in included:
        if key.text not in entries:
            entries[key.text] = (key, value)
            continue
        own_key, own_value = entries[key.text]
        match own_value, value:
            case Sequence(), Sequence():
                both = Sequence(
                    own_value.items + value.items, own_value.place, own_value.used, own_value.like
                )
                entries[key.text] = (own_key, both)
            case Mapping(), Mapping():
                united, clashes = _united(own_value, value)
                problems += clashes
                entries[key.text] = (own_key, united)
            case Scalar(text=one), Scalar(text=other) if key.text == "plumbtrue" and one == other:
                pass
            case Scalar(), Scalar() if key.text == "plumbtrue":
                problems.append(_other_format(own_value, value))
            case _:
                problems.append(_clash(own_key, key))
    return Mapping(tuple(entries.values()), own.place, own.used, own.like), tuple(problems)


def _united(own: Mapping, included: Mapping) -> tuple[Mapping, list[Problem]]:
    own_keys = {key.text: key for key, _ in own}
    new = tuple((key, value) for key, value in included if key.text not in own_keys)
    clashes = [_clash(own_keys[key.text], key) for key, _ in included if key.text in own_keys]
    return Mapping(own.entries + new, own.place, own.used, own.like), clashes


def _clash(first: Scalar, second: Scalar) -> Problem:
    return problem_with(
        second,
        "include-clash",
        f"{second.text} is written in two files of one document",
        "delete one of the two, or rename it",
        (f"first written at {first.place}",),
    )


def _other_format(first: Scalar, second: Scalar) -> Problem:
    return problem_with(
        second,
        "include-clash",
        f"this file says plumbtrue: {second.text}, and the one that includes it plumbtrue: {first.text}",
        "include only parts of the same kind of document",
        (f"first written at {first.place}",),
    )


def _outside(
    name: Scalar,
    what: str,
    instead: str = "put the file into the folder of the document and write parts.yaml",
) -> Problem:
    return problem_with(name, "include-outside", what, instead)
