"""Two revisions compared from their files, on the disk or in the history that holds them.

Besides `house_check`, the one place of this floor that reads the disk.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path, PurePosixPath
from typing import Final, Literal

from plumbtrue.audit.comparing import Comparison, Revision, compare
from plumbtrue.audit.house_check import Ground, prepare, read_all_waivers, rules_for
from plumbtrue.documents.nodes import Mapping, Node, Scalar
from plumbtrue.documents.nodes import Sequence as Items
from plumbtrue.documents.place import CannotRead, Place, Problem
from plumbtrue.documents.revisions import Named, opened
from plumbtrue.rig.accepted_plots import accepted_file, is_accepted, with_accepted, with_earlier
from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot, read_rig
from plumbtrue.rig.rig import Plot, Rig
from plumbtrue.rules.packs.digest import digest
from plumbtrue.rules.packs.pack import RuleBook

Form = Literal["rig", "plot"]

_HEAD: Final = re.compile(r"""^["']?plumbtrue["']?\s*:\s*["']?(rig|plot)/""", re.MULTILINE)
_HEAD_LENGTH: Final = 100_000


@dataclass(frozen=True, slots=True)
class Asked:
    """What is to be compared: names of files, each on the disk or `REV:PATH`."""

    old: str
    new: str
    plot_old: str | None = None
    plot_new: str | None = None
    house: str | None = None
    """The house under two plots; without it the one that each plot names."""


def compare_files(
    asked: Asked, *, on: date, here: Path, waivers: Sequence[Path] = (), third_party: bool = True
) -> Comparison:
    """Compare two houses, with or without plots laid over them, or two plots over a house.

    Args:
        here: the folder in which the person stands.
        third_party: whether plugins of other distributions are used.
    Raises:
        CannotRead: something cannot be read, or a house is to be compared with a plot.
    """
    ground = prepare(third_party=third_party)
    with ExitStack() as stack:
        reader = _Reader(stack, ground, on, here)
        old = reader.side(asked.old, asked.plot_old, asked)
        new = reader.side(asked.new, asked.plot_new, asked)
        revisions = old.revision(beside=new), new.revision(beside=old)
        return compare(*revisions, on, read_all_waivers(waivers), further=ground.further)


@dataclass(frozen=True, slots=True)
class _Side:
    """A house as it was read, and the plot that is to be laid over it."""

    house: Revision
    plot: Plot | None = None

    def revision(self, *, beside: "_Side") -> Revision:
        """The house with the plot laid over it. Where somebody accepted the plot of the other side and no file of it
        is named, that plot is the one that was accepted.
        """
        if self.plot is None:
            return self.house
        plot, other = self.plot, beside.plot
        if plot.accepted is None and other is not None and is_accepted(other, plot):
            plot = replace(plot, accepted=replace(other, accepted=None))
        return Revision(lay(self.house.rig, plot), self.house.rulebook)


class _Reader:
    """Reads one side after the other; a house that both sides name alike is read once."""

    def __init__(self, stack: ExitStack, ground: Ground, on: date, here: Path) -> None:
        self.stack, self.ground, self.on, self.here = stack, ground, on, here
        self._opened: dict[str, Named] = {}
        self._houses: dict[str, Revision] = {}
        self._books: dict[tuple[tuple[str, str], ...], RuleBook] = {}
        self._form: tuple[str, Form] | None = None

    def side(self, name: str, plot: str | None, asked: Asked) -> _Side:
        """One side, read and not yet laid."""
        document = self._open(name)
        form = self._form_of(document)
        if self._form is not None and self._form[1] != form:
            what = f"{name} holds a {form} and {self._form[0]} a {self._form[1]}"
            raise _wrong(name, "compare-unlike", what, "compare two houses or two plots")
        self._form = name, form
        if form == "rig":
            if asked.house is not None:
                what = "a house lies under plots, and these are houses themselves"
                raise _wrong(name, "compare-unlike", what, "leave --house out, or name two plots")
            return self._laid(name, plot)
        if plot is not None:
            what = f"{name} is a plot already"
            raise _wrong(name, "compare-unlike", what, "name two houses with plots beside them")
        return self._laid(asked.house, name)

    def _laid(self, house: str | None, plot_name: str | None) -> _Side:
        if plot_name is None:
            assert house is not None, "a house is named, or a plot is"
            return _Side(self._house(house))
        document = self._open(plot_name)
        with _told_as(document):
            plot = read_plot(document.path, self.ground.vocabulary, shown_as=document.shown)
            plot = self._with_accepted(plot, document)
        return _Side(self._house(house or _house_of(plot, document)), plot)

    def _with_accepted(self, plot: Plot, document: Named) -> Plot:
        """The plot with the revision that was accepted, of the same revision of the history."""
        if not document.revision:
            return with_accepted(plot, document.path)
        named = accepted_file(plot)
        if named is None:
            return plot
        try:
            earlier = self._open(_beside(document, named[0]))
        except CannotRead:
            return plot  # Nobody can add a file to a past revision; the rule asks for it.
        with _told_as(earlier):
            read = read_plot(earlier.path, self.ground.vocabulary, shown_as=earlier.shown)
        return with_earlier(plot, read)

    def _house(self, name: str) -> Revision:
        known = self._houses.get(name)
        if known is None:
            document = self._open(name)
            with _told_as(document):
                rig = read_rig(document.path, self.ground.vocabulary, shown_as=document.shown)
                book = self._book(rig, document.folder)
            known = self._houses[name] = Revision(rig, book)
        return known

    def _book(self, rig: Rig, folder: Path) -> RuleBook:
        """The rules of a house; packs that are the same to the last letter are read once for both sides."""
        key = tuple((name, _letters(folder, name)) for name in rig.rule_packs)
        if key not in self._books:
            self._books[key] = rules_for(rig, folder, self.ground, on=self.on)
        return self._books[key]

    def _open(self, name: str) -> Named:
        if name not in self._opened:
            self._opened[name] = self.stack.enter_context(opened(name, self.here, _pack_folders))
        return self._opened[name]

    @staticmethod
    def _form_of(document: Named) -> Form:
        """What a file says that it holds; what cannot be opened is told by whoever reads it as a house."""
        try:
            with document.path.open("rb") as stream:
                head = stream.read(_HEAD_LENGTH).decode("utf-8", "replace")
        except OSError:
            return "rig"
        found = _HEAD.search(head)
        return "plot" if found is not None and found[1] == "plot" else "rig"


class _told_as:  # noqa: N801  # It reads as what it is where it is used.
    """Refusals in here name files as the person named them."""

    def __init__(self, document: Named) -> None:
        self.document = document

    def __enter__(self) -> None:
        return None

    def __exit__(self, kind: object, error: BaseException | None, trace: object) -> None:
        if isinstance(error, CannotRead) and self.document.revision:
            raise self.document.as_shown(error) from None


def _house_of(plot: Plot, document: Named) -> str:
    """The house that a plot names, beside it and at the same revision."""
    if plot.house_file is None:
        what = "the plot does not say over which house it is laid"
        raise _wrong(document.shown, "compare-no-house", what, "write house_file: in it, or give --house")
    return _beside(document, plot.house_file)


def _beside(document: Named, file: str) -> str:
    """The name of a file beside another one, at the same revision."""
    if not document.revision:
        return str(Path(document.shown).parent / file)
    path = PurePosixPath(document.shown.removeprefix(f"{document.revision}:")).parent / file
    dot = "./" if document.shown.startswith(f"{document.revision}:./") else ""
    return f"{document.revision}:{dot}{path}"


def _letters(folder: Path, name: str) -> str:
    """What tells the content of a pack beside a house from any other; nothing for one that is installed."""
    if not name.startswith("./"):
        return ""
    files = sorted(path for path in (folder / name).rglob("*.yaml") if path.is_file())
    return digest((path.relative_to(folder).as_posix(), path.read_bytes()) for path in files)


def _pack_folders(root: Mapping) -> Iterator[str]:
    """Folders of packs that a rig file names, at its top or in the house."""
    yield from _texts(root.get("rule_packs"))
    house = root.get("house")
    if isinstance(house, Mapping):
        yield from _texts(house.get("rule_packs"))


def _texts(node: Node | None) -> Iterable[str]:
    items = node.items if isinstance(node, Items) else () if node is None else (node,)
    return [one.text for one in items if isinstance(one, Scalar)]


def _wrong(file: str, slug: str, what: str, instead: str) -> CannotRead:
    return CannotRead((Problem(slug, Place(file, 1, 1), what, instead),))
