"""The files of a pack held against the JSON Schemas that editors are given.

The reader of packs decides what can be used. An editor is told by `schemas/` what may be written; where the two
disagree, somebody is told in one place that all is well and in the other that it is not. So a pack that is put to
the test is read both ways.
"""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from plumbtrue.documents.nodes import Mapping, Sequence
from plumbtrue.documents.place import CannotRead, Problem
from plumbtrue.documents.reading import read_document, read_list
from plumbtrue.documents.schema import check_by, named_schema
from plumbtrue.quantities.unchanging import unchanging

Schema = dict[str, Any]


def problems_by_schema(folder: Path, shown: str) -> tuple[Problem, ...]:
    """What in the files of a pack does not agree with its schema, file by file.

    Args:
        shown: what the folder is called in messages. A file that cannot be read at all is the reader's to tell.
    """
    return tuple(problem for file in _files(folder) for problem in _problems(file, folder, shown))


@unchanging
class _File:
    """A file of a pack, how it is read, and by which schema."""

    path: Path
    read: Callable[..., Mapping | Sequence]
    schema: Schema


def _files(folder: Path) -> Iterator[_File]:
    pack = named_schema("pack-1")
    yield _File(folder / "pack.yaml", read_document, pack)
    adjustments = folder / "adjustments.yaml"
    if adjustments.is_file():
        # The same list may stand in pack.yaml, where the schema describes it.
        yield _File(adjustments, read_list, {"$defs": pack["$defs"], **pack["properties"]["adjustments"]})
    for path in sorted((folder / "rules").glob("*.yaml")):
        yield _File(path, read_list, named_schema("rules-1"))
    for path in sorted((folder / "tables").glob("*.yaml")):
        yield _File(path, read_document, named_schema("table-1"))


def _problems(file: _File, folder: Path, shown: str) -> tuple[Problem, ...]:
    try:
        node = file.read(file.path, shown=f"{shown}/{file.path.relative_to(folder).as_posix()}")
    except CannotRead:
        return ()
    return check_by(file.schema, node)
