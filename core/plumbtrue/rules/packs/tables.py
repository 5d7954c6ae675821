"""Tables of a pack, one in a file: the unit in each column's head, the source over the rows."""

from collections.abc import Mapping as PlainMapping
from typing import Final, cast

from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence, problem_with
from plumbtrue.documents.place import Place, Problem
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import BY_NAME, RATIO, Dimension
from plumbtrue.quantities.reading import Unreadable, read_count, read_quantity, read_ratio
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rules.language.tables import Cell, Column, Policy, Table
from plumbtrue.rules.language.value_types import Figures, Names, OneWord
from plumbtrue.rules.packs.bibliography import Work, read_citations
from plumbtrue.rules.packs.form import Form
from plumbtrue.rules.rule import Citation

_POLICIES: Final = ("exact", "next-lower", "next-higher", "interpolate")
_SILENT: Final = ("none", "")
"""Cells in which the source gives no figure."""


@unchanging
class PackTable:
    """A table with what it gives and on whose authority."""

    name: str
    """As rules write it, with underscores."""
    meaning: str
    table: Table
    citations: tuple[Citation, ...]
    """Empty for common practice."""
    note: str
    pack: str
    place: Place


@unchanging
class _Head:
    """The head of a column while the rows are read."""

    name: str
    meaning: str
    dimension: Dimension | None
    """Of figures; none of words and names."""
    is_count: bool
    is_name: bool
    unit: str
    policy: Policy | None


def read_table(
    node: Mapping, pack: str, works: PlainMapping[str, Work], problems: list[Problem]
) -> PackTable | None:
    """A table from its file; nothing, with the problems noted, where it cannot be used."""
    noted = len(problems)
    form = Form(node, "a table", problems)
    written = form.scalar("table", wanted=True)
    name = "" if written is None else written.text.replace("-", "_")
    meaning, note = form.text("is", wanted=True), form.text("note")
    columns = form.mapping("columns", wanted=True)
    heads = [_read_head(key, entry, problems) for key, entry in columns or ()]
    rows = form.node_of("rows", wanted=True)
    form.node_of("source", wanted=True)
    form.finish()
    if len(problems) > noted or not isinstance(rows, Sequence):
        return None
    known = [head for head in heads if head is not None]
    cells = [_read_row(row, known, problems) for row in rows]
    table = Table(name, tuple(_column(head, at, cells) for at, head in enumerate(known)), tuple(cells))
    if len(problems) == noted:
        where = node.place if written is None else written.place
        problems.extend(
            Problem("table-wrong", where, f"in the table {name}, {mistake}") for mistake in table.mistakes()
        )
    is_usable = len(problems) == noted
    citations = read_citations(form.items("source"), works, f"the table {name}", problems)
    if not is_usable:
        return None
    return PackTable(name, meaning, table, citations, note, pack, node.place)


def _read_head(name: Scalar, entry: Node, problems: list[Problem]) -> _Head | None:
    if not isinstance(entry, Mapping):
        instead = f"write {name.text}: {{dimension: length}}"
        problems.append(
            problem_with(entry, "value-of-wrong-form", f"the column {name.text} is a map", instead)
        )
        return None
    form = Form(entry, f"the column {name.text}", problems)
    meaning, unit = form.text("is"), form.text("unit")
    dimension = form.word("dimension", BY_NAME)
    kind = form.word("type", ("count", "ratio", "word", "name"))
    policy = form.word("key", _POLICIES)
    form.finish()
    if dimension is None and kind is None:
        form.problem(
            "column-head",
            name.place,
            f"the column {name.text} does not say what it holds",
            "write dimension: or type:",
        )
        return None
    if kind in ("word", "name") and policy not in (None, "exact"):
        form.problem(
            "column-head", name.place, f"nothing lies between the words of {name.text}", "write key: exact"
        )
    figures = BY_NAME[dimension] if dimension is not None else RATIO if kind in ("count", "ratio") else None
    return _Head(
        name.text, meaning, figures, kind == "count", kind == "name", unit, cast(Policy | None, policy)
    )


def _read_row(row: Node, heads: list[_Head], problems: list[Problem]) -> tuple[Cell, ...]:
    """The cells of a row, in the order of the heads, from a list or a map."""
    if isinstance(row, Sequence):
        if len(row.items) != len(heads):
            what = f"the row has {len(row.items)} cells for {len(heads)} columns"
            problems.append(
                problem_with(
                    row, "row-length", what, "write one cell for each column, none where it is empty"
                )
            )
            return ()
        return tuple(_read_cell(cell, head, problems) for cell, head in zip(row.items, heads, strict=True))
    if not isinstance(row, Mapping):
        problems.append(
            problem_with(row, "value-of-wrong-form", "a row is a list of cells", "write - [cell, cell]")
        )
        return ()
    form = Form(row, "a row", problems)
    cells = tuple(_read_cell(form.node_of(head.name), head, problems) for head in heads)
    form.finish()
    return cells


def _read_cell(cell: Node | None, head: _Head, problems: list[Problem]) -> Cell:
    if cell is None:
        return None
    if not isinstance(cell, Scalar):
        problems.append(
            problem_with(
                cell, "value-of-wrong-form", f"a cell of {head.name} is one text", "write it on one line"
            )
        )
        return None
    if cell.text in _SILENT and not cell.quoted:
        return None
    if head.dimension is None:
        return cell.text
    read = _figure(cell.text, head)
    if isinstance(read, Unreadable):
        problems.append(
            problem_with(cell, read.slug, f"in {head.name}: {read.what}", f"write {read.instead}")
        )
        return None
    if not read.is_exact:
        what = f"a cell is one figure, and {cell.text} is a stretch"
        problems.append(
            problem_with(cell, "limit-not-exact", what, "write one figure; a note can tell of the stretch")
        )
        return None
    return read.low


def _figure(text: str, head: _Head) -> Bounds | Unreadable:
    """A figure with its own unit, or in the unit of the column's head."""
    if head.is_count:
        return read_count(text)
    if head.dimension == RATIO or head.dimension is None:
        return read_ratio(text)
    read = read_quantity(text, head.dimension)
    if isinstance(read, Unreadable) and head.unit:
        return read_quantity(f"{text} {head.unit}", head.dimension)
    return read


def _column(head: _Head, at: int, rows: list[tuple[Cell, ...]]) -> Column:
    if head.dimension is not None:
        return Column(
            head.name, Figures(head.dimension), head.policy, whole=head.is_count, meaning=head.meaning
        )
    if head.is_name:
        return Column(head.name, Names(), head.policy, meaning=head.meaning)
    words = frozenset(row[at] for row in rows if at < len(row) and isinstance(row[at], str))
    return Column(head.name, OneWord(cast(frozenset[str], words)), head.policy, meaning=head.meaning)
