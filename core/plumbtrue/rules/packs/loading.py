"""Packs from folders: every expression and text read and checked, every problem of every pack told at once.

A wrong rule cannot load. What a plugin brings and cannot be read is kept apart: the pack is not run, and
the run is incomplete. The practice pack, and what the house's own folder holds, must be right, or nothing is
judged. A pack that stands on a faulty one is not read: what it would lack is the other one's fault.
"""

import re
from collections.abc import Callable, Container, Iterable, Sequence
from collections.abc import Mapping as PlainMapping
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from typing import Final, TypeVar

from plumbtrue.documents.nearest_word import nearest
from plumbtrue.documents.nodes import Mapping, Node, Scalar
from plumbtrue.documents.nodes import Sequence as SequenceNode
from plumbtrue.documents.place import CannotRead, Place, Problem
from plumbtrue.documents.reading import read_document, read_list, read_list_text
from plumbtrue.plugins import Plugins
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.vocabulary import Vocabulary
from plumbtrue.rules.packs.adjustments import read_adjustments
from plumbtrue.rules.packs.bibliography import Work, read_works
from plumbtrue.rules.packs.digest import digest
from plumbtrue.rules.packs.form import Form
from plumbtrue.rules.packs.layering import lay
from plumbtrue.rules.packs.pack import NotRun, Pack, RuleBook
from plumbtrue.rules.packs.rule_files import PackSoFar, read_rules
from plumbtrue.rules.packs.tables import PackTable, read_table
from plumbtrue.rules.packs.understanding import Surroundings
from plumbtrue.rules.rule import Rule

FORM: Final = "pack/1"
LANGUAGE: Final = 1
"""Edition of the rule language that this version reads."""


def load_packs(
    names: Sequence[str],
    base_folder: Path,
    vocabulary: Vocabulary,
    plugins: Plugins,
    *,
    on: date,
    examples: bool = True,
    named_at: PlainMapping[str, Place] | None = None,
) -> RuleBook:
    """The packs that a rig file names, in order of layers, laid over one another as of a day.

    Args:
        names: names of packs that plugins bring, and folders inside `base_folder` written `./folder`.
        base_folder: the folder of the rig file. By path, no pack is read from outside it.
        examples: whether the examples of the practice pack are read too: four fifths of its text, which no
            check looks at. Those of all other packs always are, so that what is wrong in them is told.
        named_at: where each name was written, for the message about one that cannot be found.
    Raises:
        CannotRead: with every problem of the house's own packs, and of the layers together.
    """
    book = read_book(names, base_folder, vocabulary, plugins, on=on, examples=examples, named_at=named_at)
    if book.problems:
        raise CannotRead(book.problems, book.texts)
    return book


def read_book(
    names: Sequence[str],
    base_folder: Path,
    vocabulary: Vocabulary,
    plugins: Plugins,
    *,
    on: date,
    by_schema: bool = False,
    examples: bool = True,
    named_at: PlainMapping[str, Place] | None = None,
    here: Path | None = None,
) -> RuleBook:
    """Like `load_packs`, with the problems in the book instead of raised: for testing packs that are being
    written.

    Args:
        by_schema: whether packs are held against the schemas that editors are given, too; costs half a second.
        here: the folder from which files of packs that are named by their folder are shown; else `base_folder`.
    """
    packs: list[Pack] = []
    folders: list[PackFolder] = []
    problems: list[Problem] = []
    not_run = [NotRun(failure.name, str(failure)) for failure in plugins.failures]
    faulty: set[str] = set()
    for name in names:
        found = _find(name, base_folder, plugins, here)
        if isinstance(found, NotRun):
            not_run.append(found)
            faulty.add(name)
        elif isinstance(found, Problem):
            written = (named_at or {}).get(name)
            problems.append(found if written is None else replace(found, where=written, length=len(name)))
            faulty.add(name)
        else:
            folders.append(found)
            noted: list[Problem] = []
            found = found if examples else replace(found, examples=not found.built_in)
            try:
                pack = read_pack(found, vocabulary, packs, noted, faulty)
            except StandsOnFaulty as standing:
                not_run.append(NotRun(standing.name, str(standing)))
                faulty.add(standing.name)
                continue
            if by_schema:
                noted.extend(_further_by_schema(found, noted))
            if noted:
                faulty |= {found.path.name} if pack is None else {found.path.name, pack.name}
            if noted and found.plugin is not None and not found.built_in:
                why = f"the pack {name} of plugin {found.plugin} cannot be read: {_first(noted)}"
                not_run.append(NotRun(name, why, tuple(noted)))
                continue
            problems.extend(noted)
            if pack is not None:
                packs.append(pack)
    book = lay(packs, vocabulary, on=on, not_run=not_run, problems=problems)
    told = [*book.problems, *(problem for one in not_run for problem in one.problems)]
    return replace(book, texts=_texts(told, folders)) if told else book


def _further_by_schema(folder: "PackFolder", told: Sequence[Problem]) -> list[Problem]:
    """What the schemas find where the reader found nothing: one fault is told once, in the reader's words."""
    from plumbtrue.rules.packs.by_schema import problems_by_schema

    lines = {(problem.where.file, problem.where.line) for problem in told}
    return [
        problem
        for problem in problems_by_schema(folder.path, folder.shown)
        if (problem.where.file, problem.where.line) not in lines
    ]


@unchanging
class PackFolder:
    """Where a pack lies, what its files are called in messages, and which plugin brings it, if one does."""

    path: Path
    shown: str
    plugin: str | None = None
    built_in: bool = False
    examples: bool = True
    """Whether the examples of its rules are read."""


class StandsOnFaulty(Exception):  # noqa: N818  # it tells a state, not an error
    """A pack requires one that cannot be used, so that it is not read."""

    def __init__(self, name: str, faulty: str) -> None:
        super().__init__(f"it stands on the pack {faulty}, which cannot be read")
        self.name = name


def read_pack(
    folder: PackFolder,
    vocabulary: Vocabulary,
    below: Sequence[Pack],
    problems: list[Problem],
    faulty: Container[str] = (),
) -> Pack | None:
    """One pack from its folder.

    Args:
        below: packs of the layers under it, whose tables and works it may use.
        problems: gains every problem found.
        faulty: names of packs of the layers under it that cannot be used.
    Returns:
        The pack with everything in it that can be used; nothing when its `pack.yaml` cannot be read.
    Raises:
        StandsOnFaulty: it requires a faulty one.
    """
    files = _Files(folder, problems)
    head = files.document("pack.yaml")
    if head is None:
        return None
    form = Form(head, "a pack", problems)
    _check_edition(form)
    name = form.text("name", wanted=True)
    title, edition = form.text("title", wanted=True), form.text("edition", wanted=True)
    covers = tuple(one.text for one in form.scalars("covers", wanted=True))
    leaves_out = tuple(one.text for one in form.scalars("leaves_out", wanted=True))
    requires = form.scalars("requires")
    missing = next((one.text for one in requires if one.text in faulty), None)
    if missing is not None:
        raise StandsOnFaulty(name, missing)
    _check_required(requires, below, problems)
    sources = form.mapping("sources")
    own_works = read_works(sources, name, problems) if sources is not None else {}
    adjustments = list(form.items("adjustments"))
    form.finish()
    works: dict[str, Work] = {key: work for pack in below for key, work in pack.works.items()} | own_works
    own_tables = _read_tables(files, name, works)
    tables = {key: table for pack in below for key, table in pack.tables.items()} | own_tables
    so_far = PackSoFar(name, works, Surroundings(vocabulary, tables))
    rules: list[Rule] = []
    for path in files.named("rules"):
        found = read_rules(files.items(path), so_far, problems, examples=folder.examples)
        rules.extend(_without_repetition(found, rules, problems))
    if files.holds("adjustments.yaml"):
        adjustments.extend(files.items("adjustments.yaml"))
    return Pack(
        name=name,
        title=title,
        edition=edition,
        covers=covers,
        leaves_out=leaves_out,
        requires=tuple(one.text for one in requires),
        works=own_works,
        tables=own_tables,
        rules=tuple(rules),
        adjustments=read_adjustments(adjustments, name, problems),
        digest=digest(files.contents()),
        folder=folder.shown,
        plugin=folder.plugin,
        place=head.place,
    )


def _texts(problems: Iterable[Problem], folders: Sequence[PackFolder]) -> dict[str, str]:
    """The files that problems point into, by the names that places use, so that their lines can be shown."""
    texts: dict[str, str] = {}
    for file in {problem.where.file for problem in problems}:
        for folder in folders:
            path = folder.path / file.removeprefix(f"{folder.shown}/")
            if file.startswith(f"{folder.shown}/") and path.is_file():
                texts[file] = path.read_text(encoding="utf-8", errors="replace")
    return texts


def _find(
    name: str, base_folder: Path, plugins: Plugins, here: Path | None = None
) -> PackFolder | NotRun | Problem:
    """The folder that a name in `rule_packs` means."""
    if name.startswith(("./", "../", "/", "~")) or "\\" in name:
        return _find_in_house(name, base_folder, here)
    folders = plugins.pack_folders()
    if name in folders:
        plugin, path = folders[name]
        return PackFolder(path, name, plugin.name, plugin.built_in)
    if plugins.failures:
        return NotRun(name, f"no plugin that could be used brings the pack {name}")
    if plugins.switched_off:
        return NotRun(name, f"the pack {name} is not built in, and plugins are switched off")
    if (base_folder / name / "pack.yaml").is_file():
        instead = f"write ./{name}, which is a folder here"
    else:
        near = nearest(name, folders) or ", ".join(folders)
        instead = f"write {near}, or ./ and the name of a folder beside the house's file"
    return Problem(
        "pack-unknown",
        Place(str(base_folder), 1, 1),
        f"no installed plugin brings a pack {name}",
        instead,
    )


def _find_in_house(name: str, base_folder: Path, here: Path | None) -> PackFolder | Problem:
    base = base_folder.resolve()
    path = (base / name).resolve() if name.startswith("./") else None
    if path is None or base not in path.parents:
        return Problem(
            "pack-outside",
            Place(str(base_folder), 1, 1),
            f"the pack {name} does not lie in the house's folder",
            "write ./ and the name of a folder beside the house's file",
        )
    shown = name.removeprefix("./").rstrip("/") if here is None else _as_seen_from(here, path)
    if not (path / "pack.yaml").is_file():
        return Problem(
            "pack-missing", Place(shown, 1, 1), f"the folder {name} holds no pack.yaml", "check the name"
        )
    return PackFolder(path, shown)


def _as_seen_from(here: Path, path: Path) -> str:
    """A folder as one names it from here, whole where it does not lie below."""
    below = path.is_relative_to(here.resolve())
    return (path.relative_to(here.resolve()) if below else path).as_posix()


def _check_edition(form: Form) -> None:
    written = form.scalar("plumbtrue", wanted=True)
    if written is not None and written.text != FORM:
        form.problem(
            "form-wrong",
            written.place,
            f"this is not a {FORM} but {written.text}",
            f"write plumbtrue: {FORM}",
        )
    language = form.scalar("language", wanted=True)
    if language is not None and language.text != str(LANGUAGE):
        form.problem(
            "language-unknown",
            language.place,
            f"the pack needs rule language {language.text}; this version reads {LANGUAGE}",
            "use a version of plumbtrue that reads it",
        )


def _check_required(requires: Iterable[Scalar], below: Sequence[Pack], problems: list[Problem]) -> None:
    names = [pack.name for pack in below]
    for one in requires:
        if one.text not in names:
            problems.append(
                Problem(
                    "pack-required",
                    one.place,
                    f"the pack {one.text} is required, and no earlier layer is called so",
                    "name it before this one in rule_packs",
                    length=len(one.text),
                )
            )


def _without_repetition(found: Iterable[Rule], rules: Sequence[Rule], problems: list[Problem]) -> list[Rule]:
    """Rules whose names are still free in their pack."""
    free: list[Rule] = []
    for rule in found:
        other = next((one for one in (*rules, *free) if one.slug == rule.slug), None)
        if other is None:
            free.append(rule)
        else:
            what = f"the rule {rule.slug} is defined here and at {other.place}"
            problems.append(Problem("defined-twice", rule.place, what, "give one of them another name"))
    return free


def _read_tables(files: "_Files", pack: str, works: dict[str, Work]) -> dict[str, PackTable]:
    tables: dict[str, PackTable] = {}
    for path in files.named("tables"):
        node = files.document(path)
        table = None if node is None else read_table(node, pack, works, files.problems)
        if table is None:
            continue
        other = tables.setdefault(table.name, table)
        if other is not table:
            what = f"the table {table.name} is defined here and at {other.place}"
            files.problems.append(
                Problem("defined-twice", table.place, what, "give one of them another name")
            )
    return tables


_Read = TypeVar("_Read")


@dataclass(slots=True)
class _Files:
    """The files of one pack, each read once, with what it is called in messages."""

    folder: PackFolder
    problems: list[Problem]
    read: set[str] = field(default_factory=set)

    def document(self, path: str) -> Mapping | None:
        """The map that a file holds."""
        return self._try(read_document, path)

    def items(self, path: str) -> tuple[Node, ...]:
        """The items of the list that a file holds."""
        found = self._try(read_list if self.folder.examples else _without_examples, path)
        return () if found is None else found.items

    def holds(self, path: str) -> bool:
        return (self.folder.path / path).is_file()

    def named(self, subfolder: str) -> list[str]:
        """The YAML files of a subfolder, in order of their names."""
        return sorted(f"{subfolder}/{one.name}" for one in (self.folder.path / subfolder).glob("*.yaml"))

    def contents(self) -> list[tuple[str, bytes]]:
        """Every file that was read, with its content, for the digest."""
        return [(path, (self.folder.path / path).read_bytes()) for path in sorted(self.read)]

    def _try(self, read: Callable[..., _Read], path: str) -> _Read | None:
        self.read.add(path)
        try:
            return read(self.folder.path / path, shown=f"{self.folder.shown}/{path}")
        except CannotRead as failure:
            self.problems.extend(failure.problems)
            return None


_EXAMPLES: Final = re.compile(r"^  examples:.*(?:\n(?: {3}.*|[ \t]*(?:#.*)?))*$", re.MULTILINE)


def _without_examples(path: Path, *, shown: str) -> SequenceNode:
    """The rules in a file of the practice pack, whose examples stand as its other rules have them; every line
    stays where it is.
    """
    text = path.read_text(encoding="utf-8")
    return read_list_text(_EXAMPLES.sub(lambda found: "\n" * found[0].count("\n"), text), shown)


def _first(problems: Sequence[Problem]) -> str:
    first = problems[0]
    more = f", and {len(problems) - 1} more" if len(problems) > 1 else ""
    return f"{first.where}: {first.what}{more}"
