"""Files to trees: a document with all that it includes, and every problem in all of its files told at once.

The folder of the first file is the document's folder; nothing outside it is read. What a document means is
not known here.
"""

import errno
import hashlib
import os
from dataclasses import replace
from pathlib import Path, PurePosixPath

from plumbtrue.documents.decoding import text_of
from plumbtrue.documents.including import included_names, joined, path_inside
from plumbtrue.documents.limits import LIMITS, Limits
from plumbtrue.documents.nearest_word import nearest
from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence, problem_with
from plumbtrue.documents.place import CannotRead, Place, Problem
from plumbtrue.documents.tree_building import tree_of
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class SourceFile:
    """A file as it was read.

    `shown` is its name in places and messages; `path` is nothing for a text without a file.
    """

    path: Path | None
    shown: str
    sha256: str
    text: str


@unchanging
class Document:
    """A mapping with all that it includes, and the files that it came from, the first one first."""

    root: Mapping
    files: tuple[SourceFile, ...]


def read_document(path: Path, *, shown: str | None = None, limits: Limits = LIMITS) -> Mapping:
    """The mapping that a file holds, together with what its `include:` names.

    Args:
        path: the file; its folder is the only one from which it may include.
        shown: what the file is called in places and messages; the path as given when left out.
        limits: the most that is read, of all its files together.
    Raises:
        CannotRead: with every problem in every file that was read, in file order.
    """
    return open_document(path, shown=shown, limits=limits).root


def open_document(path: Path, *, shown: str | None = None, limits: Limits = LIMITS) -> Document:
    """Like `read_document`, with the files that were read and their digests."""
    gathering = _Gathering(path.parent, limits)
    return gathering.document(gathering.mapping_in_file(path, shown or str(path)))


def read_text(
    text: str | bytes, file: str, *, folder: Path | None = None, limits: Limits = LIMITS
) -> Mapping:
    """The mapping in a text that does not come from a named file, such as standard input.

    Raises `CannotRead`.

    `file` is what it is called in places. Without a `folder` it cannot include anything.
    """
    return open_text(text, file, folder=folder, limits=limits).root


def open_text(
    text: str | bytes, file: str, *, folder: Path | None = None, limits: Limits = LIMITS
) -> Document:
    """Like `read_text`, with the digest of what was read."""
    gathering = _Gathering(folder, limits)
    source = gathering.decoded(text, None, file)
    return gathering.document(gathering.mapping_in(source, folder) if source else None)


def read_list(path: Path, *, shown: str | None = None, limits: Limits = LIMITS) -> Sequence:
    """The list that a file holds at its top level, such as the rules on one subject. Raises `CannotRead`."""
    gathering = _Gathering(path.parent, limits)
    source = gathering.content_of(path, shown or str(path))
    return gathering.list_alone(gathering.list_in(source) if source else None)


def read_list_text(text: str | bytes, file: str, *, limits: Limits = LIMITS) -> Sequence:
    """The list in a text that does not come from a named file. Raises `CannotRead`."""
    gathering = _Gathering(None, limits)
    source = gathering.decoded(text, None, file)
    return gathering.list_alone(gathering.list_in(source) if source else None)


class _Gathering:
    """The files of one document, the problems in them, and what is left of the limits that all share."""

    def __init__(self, folder: Path | None, limits: Limits) -> None:
        self.folder = folder.resolve() if folder else None
        self.limits = limits
        self.sources: list[SourceFile] = []
        self.problems: list[Problem] = []
        self.opened: dict[Path, Scalar | None] = {}
        """Files opened so far, by resolved path, with the name in `include:` that called for each."""
        self.being_read: list[tuple[Path, Scalar | None]] = []
        """The files that are open just now, each included by the one before."""

    def document(self, root: Mapping | None) -> Document:
        self._raise_problems()
        assert root is not None, "nothing was read, and no problem says why"
        return Document(root, tuple(self.sources))

    def list_alone(self, node: Sequence | None) -> Sequence:
        self._raise_problems()
        assert node is not None, "nothing was read, and no problem says why"
        return node

    def _raise_problems(self) -> None:
        if self.problems:
            order = {source.shown: number for number, source in enumerate(self.sources)}
            self.problems.sort(key=lambda problem: (order.get(problem.where.file, -1), problem.where))
            raise CannotRead(tuple(self.problems), {source.shown: source.text for source in self.sources})

    def _note(self, *problems: Problem) -> None:
        callers = [name for _, name in self.being_read if name is not None]
        included = (f"included at {callers[-1].place}",) if callers else ()
        self.problems += [replace(problem, used_by=problem.used_by + included) for problem in problems]

    def mapping_in_file(self, path: Path, shown: str, called_for: Scalar | None = None) -> Mapping | None:
        # `Path.resolve` raises where links lead in a circle; here the opening tells that, as it tells the rest.
        resolved = Path(os.path.realpath(path))
        self.opened[resolved] = called_for
        source = self.content_of(path, shown, called_for)
        if source is None:
            return None
        self.being_read.append((resolved, called_for))
        node = self.mapping_in(source, path.parent)
        self.being_read.pop()
        return node

    def content_of(self, path: Path, shown: str, called_for: Scalar | None = None) -> SourceFile | None:
        """A file's text, or nothing with the reason noted."""
        try:
            with path.open("rb") as stream:
                content = stream.read(self.limits.bytes + 1)
        except (OSError, ValueError) as error:
            self._note(_unreadable(error, path, shown, called_for))
            return None
        return self.decoded(content, path, shown)

    def decoded(self, content: str | bytes, path: Path | None, shown: str) -> SourceFile | None:
        encoded = content.encode("utf-8", errors="surrogatepass") if isinstance(content, str) else content
        text, problems = text_of(content, shown, self.limits)
        source = SourceFile(path, shown, hashlib.sha256(encoded).hexdigest(), text or "")
        self.sources.append(source)
        self._note(*problems)
        self.limits = replace(self.limits, bytes=max(self.limits.bytes - len(encoded), 0))
        return None if text is None else source

    def mapping_in(self, source: SourceFile, folder: Path | None) -> Mapping | None:
        node = self._tree(source)
        if isinstance(node, Mapping):
            return self._with_included(node, source.shown, folder)
        if node is not None:
            instead = (
                "write key: value"
                if isinstance(node, Scalar)
                else "write a key in front of the list, such as line_sets:"
            )
            self._note(
                problem_with(
                    node, "top-level-wrong", "a document holds keys and values at its top level", instead
                )
            )
        return None

    def list_in(self, source: SourceFile) -> Sequence | None:
        node = self._tree(source)
        if isinstance(node, Sequence) or node is None:
            return node
        instead = "begin each entry with - in the first column"
        self._note(problem_with(node, "top-level-wrong", "this file holds a list at its top level", instead))
        return None

    def _tree(self, source: SourceFile) -> Node | None:
        tree = tree_of(source.text, source.shown, self.limits)
        self._note(*tree.problems)
        self.limits = replace(self.limits, nodes=max(self.limits.nodes - tree.size, 0))
        if tree.stopped is not None:
            self._note_stop(tree.stopped)
        elif _is_nothing(tree.node) and not tree.problems:
            where = Place(source.shown, 1, 1)
            self._note(Problem("file-empty", where, "nothing is written in this file", "write key: value"))
            return None
        return tree.node

    def _note_stop(self, stopped: Problem) -> None:
        """Where the parser stopped, unless a character that cannot be used on the same line is the likely
        reason.
        """
        unusable = ("control-character", "file-is-not-utf-8")
        lines = {(told.where.file, told.where.line) for told in self.problems if told.slug in unusable}
        if (stopped.where.file, stopped.where.line) not in lines:
            self._note(stopped)

    def _with_included(self, node: Mapping, shown: str, folder: Path | None) -> Mapping:
        listed = node.get("include")
        if listed is None:
            return node
        own = replace(node, entries=tuple(entry for entry in node.entries if entry[0].text != "include"))
        names, problems = included_names(listed)
        self._note(*problems)
        for name in names:
            part = self._included(name, shown, folder)
            if part is not None:
                own, problems = joined(own, part)
                self._note(*problems)
        return own

    def _included(self, name: Scalar, shown: str, folder: Path | None) -> Mapping | None:
        if folder is None or self.folder is None:
            self._note(_no_folder(name))
            return None
        path = path_inside(name, folder, self.folder)
        if isinstance(path, Problem):
            self._note(path)
            return None
        repeated = self._repeated(name, path.resolve())
        if repeated is not None:
            self._note(repeated)
            return None
        return self.mapping_in_file(path, _beside(shown, name.text), name)

    def _repeated(self, name: Scalar, resolved: Path) -> Problem | None:
        """A file is read once: twice would double what it holds, and in a circle would never end."""
        if resolved not in self.opened:
            return None
        if any(resolved == open_now for open_now, _ in self.being_read):
            what = f"{name.text} includes this file in turn, so reading would never end"
            return problem_with(name, "include-circle", what, "delete one of the two includes")
        first = self.opened[resolved]
        used_by = (f"first included at {first.place}",) if first else ()
        return problem_with(
            name, "include-twice", f"{name.text} is included twice", "delete one of the two", used_by
        )


def _is_nothing(node: Node | None) -> bool:
    """No document at all, or one that begins with --- and holds nothing."""
    return node is None or (isinstance(node, Scalar) and node.is_empty)


def _beside(shown: str, name: str) -> str:
    """What an included file is called: as seen from where the first file was named."""
    return str(PurePosixPath(shown.replace("\\", "/")).parent / name)


def _no_folder(name: Scalar) -> Problem:
    what = "a text that comes from no file has no folder to include from"
    return problem_with(name, "include-outside", what, "store the text as a file, or write everything in it")


def _unreadable(error: Exception, path: Path, shown: str, called_for: Scalar | None) -> Problem:
    """Why a file could not be opened, told where it was called for."""
    if isinstance(error, FileNotFoundError):
        near = _nearest_file(path)
        return _about_file(
            "file-missing",
            "there is no such file",
            f"did you mean {near}?" if near else "check the name",
            shown,
            called_for,
        )
    if isinstance(error, IsADirectoryError):
        return _about_file(
            "file-unreadable", "this is a folder, not a file", "name the file in it", shown, called_for
        )
    if isinstance(error, PermissionError):
        return _about_file(
            "file-unreadable",
            "you may not read this file",
            "ask its owner for leave to read it",
            shown,
            called_for,
        )
    if isinstance(error, OSError) and error.errno == errno.ELOOP:
        return _about_file(
            "file-unreadable",
            "this link leads in a circle, so there is no file behind it",
            "name the file itself",
            shown,
            called_for,
        )
    reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
    return _about_file(
        "file-unreadable",
        f"the file cannot be opened: {reason.lower()}",
        "check its name and where it lies",
        shown,
        called_for,
    )


def _about_file(slug: str, what: str, instead: str, shown: str, called_for: Scalar | None) -> Problem:
    if called_for is None:
        return Problem(slug, Place(shown, 1, 1), what, instead)
    return problem_with(called_for, slug, f"{called_for.text}: {what}", instead)


def _nearest_file(path: Path) -> str | None:
    try:
        names = [entry.name for entry in path.parent.iterdir() if entry.is_file()]
    except OSError:
        return None
    return nearest(path.name, names)
