"""Cases as they stand in a file: each with the line where it begins, and the keys that it writes twice.

A file that is no YAML is refused with line and column. A key written twice is the mistake of its own case and
stops no other.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any


class CannotReadError(Exception):
    """The file holds no cases, or cannot be read; the message says why."""


@dataclass(frozen=True, slots=True)
class WrittenCase:
    """One case as written, whatever it is."""

    written: object
    number: int = 1
    """Its place in the file, from 1."""
    place: str = ""
    """`file:line`."""
    twice: tuple[str, ...] = ()
    """Keys that it has more than once."""


def read_cases(file: Path) -> list[WrittenCase]:
    """The cases of a YAML file, as written.

    Raises:
        CannotReadError: no such file, not YAML, or no list of cases in it.
    """
    from ruamel.yaml import YAML
    from ruamel.yaml.error import MarkedYAMLError, YAMLError

    yaml = YAML(typ="safe")
    yaml.allow_duplicate_keys = True
    try:
        text = file.read_text(encoding="utf-8-sig")
        top, written = yaml.compose(text), yaml.load(text)
    except MarkedYAMLError as problem:
        mark = problem.problem_mark or problem.context_mark
        place = f"{file}:{mark.line + 1}:{mark.column + 1}" if mark else str(file)
        raise CannotReadError(f"{place}: no YAML: {problem.problem or problem.context}") from problem
    except YAMLError as problem:
        raise CannotReadError(f"{file}: no YAML: {' '.join(str(problem).split())}") from problem
    except UnicodeDecodeError as problem:
        raise CannotReadError(
            f"{file}: no text in UTF-8 ({problem.reason} at byte {problem.start})"
        ) from problem
    except OSError as problem:
        raise CannotReadError(f"{file}: {problem.strerror or problem}") from problem
    cases = written.get("cases") if isinstance(written, Mapping) else written
    if not isinstance(cases, list):
        raise CannotReadError(f"{file}: a list of cases is wanted, under the key cases")
    lists = [top] if written is cases else [value for name, value in top.value if name.value == "cases"]
    if len(lists) > 1:
        raise CannotReadError(f"{file}:{lists[1].start_mark.line}: cases is written twice")
    return [
        WrittenCase(case, number, f"{file}:{node.start_mark.line + 1}", tuple(_twice(node, set())))
        for number, (case, node) in enumerate(zip(cases, lists[0].value, strict=True), 1)
    ]


def _twice(node: Any, seen: set[int]) -> Iterator[str]:
    """Keys that a mapping in or under a node has more than once."""
    if id(node) in seen or not isinstance(node.value, list):
        return
    seen.add(id(node))
    names: set[str] = set()
    for part in node.value:
        if not isinstance(part, tuple):
            yield from _twice(part, seen)
            continue
        name = str(part[0].value)
        if name in names:
            yield name
        names.add(name)
        yield from _twice(part[1], seen)
