"""A pack's rules on one page, for people who look for one: by the thing in hand, then by the standard.

`python -m plumbtrue.rules.packs.catalogue` writes `RULES.md` into every pack that comes with the program.
The page follows from the pack alone, so a test can hold it fresh.
"""

import sys
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from pathlib import Path, PurePosixPath
from typing import Final

from plumbtrue.documents.data_folder import data_folder
from plumbtrue.documents.place import CannotRead, Place, Problem
from plumbtrue.documents.writing import write_whole
from plumbtrue.rig.vocabulary import Vocabulary
from plumbtrue.rig.vocabulary_loading import load_vocabulary
from plumbtrue.rules.packs.bibliography import Work, WorkKind
from plumbtrue.rules.packs.loading import PackFolder, read_pack
from plumbtrue.rules.packs.pack import Pack
from plumbtrue.rules.rule import Citation, Rule

FILE: Final = "RULES.md"
COMMAND: Final = "python -m plumbtrue.rules.packs.catalogue"

_HOW_TO_READ: Final = (
    "A rule is named after what is wrong; its title says what it asks for. Each name leads to the file and "
    "line where the rule stands, with its limits, its reasons and its examples."
)
_CAUTION: Final = (
    "What a rule finds nothing against has been looked at by that rule, no more. Local codes, the makers' "
    "instructions and licensed or competent persons decide."
)
_BASES: Final = (
    "`read` means that the words were read in print or in a copy; `memory` that nobody has read them yet, "
    "so that they must be looked up before anything rests on them."
)
_KINDS: Final[dict[WorkKind, str]] = {
    "regulation": "Regulations",
    "standard": "Standards",
    "handbook": "Handbooks",
    "practice": "Practice",
    "house": "Decided by the house",
}


def catalogues(folder: Path, vocabulary: Vocabulary) -> dict[Path, str]:
    """The page of every pack in a folder of packs, by the file that it belongs in.

    Raises:
        CannotRead: with every problem of the packs.
    """
    problems: list[Problem] = []
    packs: list[Pack] = []
    pages: dict[Path, str] = {}
    for path in _in_order_of_layers(folder):
        pack = read_pack(PackFolder(path, path.name), vocabulary, packs, problems)
        if pack is not None:
            packs.append(pack)
            pages[path / FILE] = catalogue(
                pack, {work.key: work for one in packs for work in one.works.values()}
            )
    if problems:
        raise CannotRead(tuple(problems))
    return pages


def _in_order_of_layers(folder: Path) -> list[Path]:
    """Packs that stand on no other first: only those are built upon by packs that come with the program."""
    found = sorted(path.parent for path in folder.glob("*/pack.yaml"))
    return sorted(
        found, key=lambda path: "requires: []" not in (path / "pack.yaml").read_text(encoding="utf-8")
    )


def catalogue(pack: Pack, works: dict[str, Work]) -> str:
    """The page of one pack.

    Args:
        works: every work that its rules may cite, by key.
    """
    return (
        "\n".join([*_head(pack), *_by_subject(pack, works), *_tables(pack), *_by_source(pack, works)]) + "\n"
    )


def _head(pack: Pack) -> Iterator[str]:
    yield f"<!-- Made from the files of this pack by `{COMMAND}`: change those files, not this. -->"
    yield ""
    yield f"# {pack.title}: the rules"
    yield ""
    yield f"Pack `{pack.name}`, edition {pack.edition}, {len(pack.rules)} rules. {_HOW_TO_READ}"
    yield ""
    yield _CAUTION
    yield from _listed("What it covers", pack.covers)
    yield from _listed("What it leaves out", pack.leaves_out)


def _listed(heading: str, items: Sequence[str]) -> Iterator[str]:
    if items:
        yield from ("", f"## {heading}", "")
        yield from (f"- {item}" for item in items)


def _by_subject(pack: Pack, works: dict[str, Work]) -> Iterator[str]:
    yield from ("", "## By subject")
    ordered = sorted(pack.rules, key=lambda rule: (rule.place.file, rule.place.line))
    for file, rules in groupby(ordered, key=lambda rule: rule.place.file):
        name = PurePosixPath(file).stem
        yield from ("", f"### {name.replace('-', ' ').capitalize()}", "")
        yield from ("| rule | what it asks | of | action | source |", "|---|---|---|---|---|")
        for rule in rules:
            cells = (
                _link(pack, rule.slug, rule.place),
                _cell(rule.title),
                rule.about.replace("_", " "),
                rule.severity.value,
                _cell(_authority(rule, works)),
            )
            yield f"| {' | '.join(cells)} |"


def _authority(rule: Rule, works: dict[str, Work]) -> str:
    if rule.is_common_practice:
        return "common practice"
    return "; ".join(dict.fromkeys(_cited(one, works) for one in rule.citations))


def _cited(citation: Citation, works: dict[str, Work]) -> str:
    short = works[citation.work].title.partition(",")[0]
    clause = f" {citation.clause}" if citation.clause else ""
    memory = " (from memory)" if citation.basis == "memory" else ""
    return f"{short}{clause}{memory}"


def _tables(pack: Pack) -> Iterator[str]:
    if pack.tables:
        yield from ("", "## Tables", "", "| table | what it gives |", "|---|---|")
        for name in sorted(pack.tables):
            table = pack.tables[name]
            yield f"| {_link(pack, name, table.place)} | {_cell(table.meaning)} |"


def _by_source(pack: Pack, works: dict[str, Work]) -> Iterator[str]:
    yield from ("", "## By source", "")
    yield _BASES
    cited: dict[str, list[tuple[Citation, Rule]]] = {}
    for rule in sorted(pack.rules, key=lambda rule: rule.slug):
        for citation in rule.citations:
            cited.setdefault(citation.work, []).append((citation, rule))
    for kind, heading in _KINDS.items():
        of_kind = sorted(
            (works[key] for key in cited if works[key].kind == kind), key=lambda work: work.title
        )
        if of_kind:
            yield from ("", f"### {heading}")
        for work in of_kind:
            yield from _work(pack, work, cited[work.key])
    uncited = [rule for rule in pack.rules if rule.is_common_practice]
    if uncited:
        yield from ("", "### Common practice", "", "The trade does it so; no published work was found.", "")
        yield ", ".join(_link(pack, slug, place) for slug, place in _named(uncited))


def _work(pack: Pack, work: Work, uses: Iterable[tuple[Citation, Rule]]) -> Iterator[str]:
    edition = f", {work.edition}" if work.edition else ""
    yield from ("", f"#### {work.title}{edition}", "")
    yield f"Basis: {work.basis}.{f' {work.note}' if work.note else ''}"
    yield ""
    for citation, rule in uses:
        clause = f"{citation.clause}: " if citation.clause else ""
        says = f"; {citation.says}" if citation.says else ""
        yield f"- {clause}{_link(pack, rule.slug, rule.place)} ({citation.basis}{says})"


def _named(rules: Iterable[Rule]) -> Iterator[tuple[str, Place]]:
    return ((rule.slug, rule.place) for rule in sorted(rules, key=lambda rule: rule.slug))


def _link(pack: Pack, name: str, place: Place) -> str:
    return f"[`{name}`]({place.file.removeprefix(f'{pack.folder}/')}#L{place.line})"


def _cell(text: str) -> str:
    """Text that a table's cell can hold."""
    return " ".join(text.split()).replace("|", "\\|")


def main() -> int:
    """Write the page of every pack that comes with the program; the exit status."""
    try:
        pages = catalogues(data_folder("rulepacks"), load_vocabulary())
    except CannotRead as failure:
        print(failure, file=sys.stderr)  # noqa: T201 - telling is what is left to do.
        return 2
    for path, page in pages.items():
        write_whole(path, page)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
