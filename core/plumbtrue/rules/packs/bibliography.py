"""Whose authority: the works that a pack cites, and how far each was read."""

from collections.abc import Mapping as PlainMapping
from typing import Final, Literal, cast

from plumbtrue.documents.nodes import Mapping, Node, Scalar
from plumbtrue.documents.place import Place, Problem
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rules.packs.form import Form, suggestion
from plumbtrue.rules.rule import Citation

WorkKind = Literal["regulation", "standard", "handbook", "practice", "house"]
Basis = Literal["read", "memory"]

COMMON_PRACTICE: Final = "common-practice"
"""Written as a source where the trade does it so and no published work was found."""

_KINDS: Final = ("regulation", "standard", "handbook", "practice", "house")
_BASES: Final = ("read", "memory")


@unchanging
class Work:
    """A published work, or the house's own decision, with its edition and how far it was read."""

    key: str
    title: str
    edition: str
    kind: WorkKind
    basis: Basis
    note: str
    pack: str
    place: Place


def read_works(node: Mapping, pack: str, problems: list[Problem]) -> dict[str, Work]:
    """The bibliography of a pack, by key."""
    works: dict[str, Work] = {}
    for key, entry in node:
        if not isinstance(entry, Mapping):
            problems.append(
                Problem(
                    "value-of-wrong-form",
                    entry.place,
                    f"source {key.text} is a map",
                    "write {title: …, kind: …, basis: …}",
                )
            )
            continue
        form = Form(entry, "a source", problems)
        works[key.text] = Work(
            key.text,
            form.text("title", wanted=True),
            form.text("edition"),
            cast(WorkKind, form.word("kind", _KINDS, wanted=True) or "practice"),
            cast(Basis, form.word("basis", _BASES, wanted=True) or "memory"),
            form.text("note"),
            pack,
            key.place,
        )
        form.finish()
    return works


def read_citations(
    items: tuple[Node, ...], works: PlainMapping[str, Work], what: str, problems: list[Problem]
) -> tuple[Citation, ...]:
    """What a rule or table cites; none for common practice. A work that no bibliography has is a problem."""
    citations = []
    for item in items:
        if isinstance(item, Scalar):
            if item.text != COMMON_PRACTICE:
                citations.append(
                    _cite(item, Form(Mapping((), item.place), "a citation", problems), works, problems)
                )
            continue
        if not isinstance(item, Mapping):
            problems.append(
                Problem(
                    "source-unreadable",
                    item.place,
                    f"source of {what} is common-practice or a list of works",
                    "write {work: …}",
                )
            )
            continue
        form = Form(item, "a citation", problems)
        work = form.scalar("work", wanted=True)
        if work is not None:
            citations.append(_cite(work, form, works, problems))
        form.finish()
    return tuple(one for one in citations if one is not None)


def _cite(
    work: Scalar, form: Form, works: PlainMapping[str, Work], problems: list[Problem]
) -> Citation | None:
    clause, says = form.text("clause"), form.text("says")
    basis = form.word("basis", _BASES)
    if work.text not in works:
        problems.append(
            Problem(
                "source-unknown",
                work.place,
                f"no source {work.text} stands in the bibliography",
                suggestion(work.text, (COMMON_PRACTICE, *works)),
                length=len(work.text),
            )
        )
        return None
    return Citation(work.text, clause, cast(Basis, basis or works[work.text].basis), says, work.place)
