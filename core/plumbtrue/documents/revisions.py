"""Documents as they stood at a revision of the git history that holds them: `REV:PATH`.

Only git's own reading commands are called, without a shell. What belongs to a document is laid into a folder
of its own for as long as it is needed: the file, what it includes, and the folders beside it that it names. A link
is left out, so that nothing outside that folder is ever read.
"""

import os
import posixpath
import subprocess
import tempfile
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path, PurePosixPath
from typing import Final

from plumbtrue.documents.decoding import text_of
from plumbtrue.documents.including import included_names
from plumbtrue.documents.limits import LIMITS
from plumbtrue.documents.nearest_word import nearest
from plumbtrue.documents.nodes import Mapping
from plumbtrue.documents.place import CannotRead, Place, Problem
from plumbtrue.documents.tree_building import tree_of
from plumbtrue.quantities.unchanging import unchanging

FoldersOf = Callable[[Mapping], Iterable[str]]

MOST_FILES: Final = 2_000
"""Files of one document and its folders above which none is read."""

_REGULAR: Final = ("100644", "100755")
_ENDINGS: Final = (".yaml", ".yml")
_LONGEST_WAIT: Final = 60.0
"""[s]"""


@unchanging
class Named:
    """A document as it was asked for."""

    path: Path
    """Where it can be read: the file itself, or its copy."""
    shown: str
    """What it is called in messages: the file, or `REV:PATH`."""
    revision: str = ""
    """The revision as written; empty for a file on the disk."""

    @property
    def folder(self) -> Path:
        return self.path.parent

    def as_shown(self, failure: CannotRead) -> CannotRead:
        """The same refusal, in which the files of a revision go by the names that people know."""
        if not self.revision:
            return failure
        here = str(self.folder)
        around = self.shown.rpartition("/")[0] or f"{self.revision}:"
        shown = tuple(
            replace(
                one,
                where=replace(one.where, file=_known(one.where.file, here, around, self.revision)),
                what=one.what.replace(here, around),
            )
            for one in failure.problems
        )
        texts = {_known(file, here, around, self.revision): text for file, text in failure.texts.items()}
        return CannotRead(shown, texts)


def _known(file: str, here: str, around: str, revision: str) -> str:
    if file.startswith(f"{revision}:"):
        return file
    joint = "" if around.endswith(":") else "/"
    return file.replace(here, around) if here in file else f"{around}{joint}{file}"


def is_at_revision(text: str) -> bool:
    """Whether a name means a file of the history: `REV:PATH`, and no file of that very name.

    >>> is_at_revision("HEAD~1:house.yaml"), is_at_revision("house.yaml"), is_at_revision("C:/house.yaml")
    (True, False, False)
    """
    revision, colon, path = text.partition(":")
    if not colon or not revision or not path or os.path.exists(text):
        return False
    return not (len(revision) == 1 and revision.isalpha() and path[0] in "/\\")


@contextmanager
def opened(text: str, here: Path, folders_of: FoldersOf) -> Iterator[Named]:
    """A document by the name by which it was asked for, readable as long as the context is open.

    Args:
        here: the folder in which the person stands.
        folders_of: the folders beside it that a document names, written `./folder`, such as packs.
    Raises:
        CannotRead: there is no such revision or file in it, or no git.
    """
    if not is_at_revision(text):
        yield Named(here / text, text)
        return
    revision, _, path = text.partition(":")
    with tempfile.TemporaryDirectory(prefix="plumbtrue-") as folder:
        history = _History(text, here, folders_of)
        found = history.lay_out(revision, path, Path(folder).resolve())
        yield Named(found, f"{revision}:{path}", revision)


class _History:
    """The git history that holds a folder, asked about one document."""

    def __init__(self, asked: str, here: Path, folders_of: FoldersOf) -> None:
        self.asked, self.here, self.folders_of = asked, here, folders_of

    def lay_out(self, revision: str, path: str, folder: Path) -> Path:
        """Write a document and what belongs to it into an empty folder, and say where it is."""
        commit = self._commit(revision)
        whole = self._from_the_top(path)
        around, name = posixpath.split(whole)
        files = self._files(commit, around)
        if name not in files:
            raise self._no_such_file(revision, path, files)
        self._with_all(name, files, folder)
        return folder / name

    def _commit(self, revision: str) -> str:
        if revision.startswith("-"):
            raise self.problem("revision-unknown", f"{revision} is no revision", "write HEAD~1:house.yaml")
        self._git("rev-parse", "--git-dir")
        try:
            named = f"{revision}^{{commit}}"
            found = self._git("rev-parse", "--verify", "--quiet", "--end-of-options", named)
        except CannotRead:
            what = f"the history of this folder has no revision {revision}"
            raise self.problem(
                "revision-unknown", what, "`git log --oneline` lists what there is; a tag or branch will do"
            ) from None
        return found.decode("ascii", "replace").strip()

    def _from_the_top(self, path: str) -> str:
        """A path as seen from the top of the repository: `./` is from here, as git has it."""
        if path.startswith(("./", "../")):
            prefix = self._git("rev-parse", "--show-prefix").decode("utf-8", "surrogateescape").rstrip("\n")
            path = posixpath.normpath(posixpath.join(prefix, path))
        else:
            path = posixpath.normpath(path)
        if path.startswith(("../", "/")) or path == "..":
            what = f"{path} does not lie in the repository"
            raise self.problem("revision-file-missing", what, "name the file as seen from its top")
        return path

    def _files(self, commit: str, around: str) -> dict[str, str]:
        """Plain files of a folder and below, by their path in it, with the name of their content."""
        try:
            listed = self._git("ls-tree", "-r", "-z", "-l", "--full-tree", f"{commit}:{around}")
        except CannotRead:
            return {}
        files: dict[str, str] = {}
        for entry in listed.rstrip(b"\0").split(b"\0"):
            about, _, path = entry.partition(b"\t")
            told = about.decode("ascii", "replace").split()
            if len(told) == 4 and told[0] in _REGULAR and int(told[3]) <= LIMITS.bytes:
                files[os.fsdecode(path)] = told[2]
        return files

    def _with_all(self, name: str, files: dict[str, str], folder: Path) -> None:
        """The document, what it includes, and the folders that it names."""
        waiting, written = [name], set[str]()
        while waiting:
            path = waiting.pop()
            if path in written or path not in files:
                continue
            written.add(path)
            if len(written) > MOST_FILES:
                what = f"more than {MOST_FILES} files belong to this document"
                raise self.problem("revision-too-large", what, "check what it includes")
            content = self._git("cat-file", "blob", files[path])
            target = folder / path
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(content)
            around = posixpath.dirname(path)
            for one in _includes(content, path):
                waiting.append(posixpath.normpath(posixpath.join(around, one)))
            for beside in self._folders_named(content, path):
                inside = posixpath.normpath(beside)
                waiting += [
                    file for file in files if file.startswith(f"{inside}/") and file.endswith(_ENDINGS)
                ]

    def _folders_named(self, content: bytes, path: str) -> list[str]:
        root = _root(content, path)
        return [] if root is None else [name for name in self.folders_of(root) if name.startswith("./")]

    def _no_such_file(self, revision: str, path: str, files: Iterable[str]) -> CannotRead:
        near = nearest(posixpath.basename(path), [file for file in files if "/" not in file])
        instead = (
            f"did you mean {revision}:{PurePosixPath(path).with_name(near)}?"
            if near
            else ("a path is seen from the top of the repository; write ./ before one seen from here")
        )
        return self.problem("revision-file-missing", f"{revision} holds no plain file {path}", instead)

    def _git(self, *arguments: str) -> bytes:
        quiet = {
            "GIT_OPTIONAL_LOCKS": "0",
            "GIT_TERMINAL_PROMPT": "0",
            "GIT_NO_LAZY_FETCH": "1",
            "LC_ALL": "C",
        }
        try:
            done = subprocess.run(
                ["git", "--no-pager", *arguments],
                cwd=self.here,
                env={**os.environ, **quiet},
                stdin=subprocess.DEVNULL,
                capture_output=True,
                timeout=_LONGEST_WAIT,
                check=False,
            )
        except FileNotFoundError:
            what = "git is not installed here, so no revision can be read"
            raise self.problem("revision-no-git", what, "install git, or name two files") from None
        except (OSError, subprocess.TimeoutExpired) as error:
            raise self.problem("revision-no-git", f"git did not answer: {error}", "name two files") from None
        if done.returncode:
            said = done.stderr.decode("utf-8", "replace").strip().splitlines()
            what = said[-1].removeprefix("fatal: ") if said else "git could not read it"
            raise self.problem(
                "revision-no-git",
                what,
                "call it inside the repository that holds the file, or name two files",
            )
        return done.stdout

    def problem(self, slug: str, what: str, instead: str) -> CannotRead:
        """Why a document of the history cannot be read."""
        return CannotRead((Problem(slug, Place(self.asked, 1, 1), what, instead),))


def _root(content: bytes, path: str) -> Mapping | None:
    """The top of a document, where it can be read; what is wrong with it is told when it is read for good."""
    text, _ = text_of(content, path, LIMITS)
    node = tree_of(text, path, LIMITS).node if text is not None else None
    return node if isinstance(node, Mapping) else None


def _includes(content: bytes, path: str) -> list[str]:
    root = _root(content, path) if b"include" in content else None
    listed = root.get("include") if root is not None else None
    return [name.text for name in included_names(listed)[0]] if listed is not None else []
