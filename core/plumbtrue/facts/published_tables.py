"""Published figures that a computation needs, from `schemas/tables`: each row says where it comes from and on
what basis.

A table is read when it is first asked, and never beyond its rows: what has no row has no figure. Between
rows there is none either, but that a rope between two sizes of a fitting may ask what the larger one asks.
A rule pack has its own tables beside these; here is only what no rule decides, such as the wall of a pipe or
the share of strength that a rope end keeps.
"""

from collections.abc import Mapping
from functools import cache

from plumbtrue.documents.data_folder import data_folder
from plumbtrue.documents.nodes import Mapping as MappingNode
from plumbtrue.documents.nodes import Node, Scalar, Sequence
from plumbtrue.documents.reading import read_document
from plumbtrue.quantities.bounds import Bounds, same
from plumbtrue.quantities.dimension import BY_NAME
from plumbtrue.quantities.reading import Unreadable, read_count, read_quantity, read_ratio
from plumbtrue.quantities.unchanging import unchanging

Cell = Bounds | str
Wanted = str | float


@unchanging
class Row:
    """One row: its cells by column, and on whose authority."""

    cells: Mapping[str, Cell]
    source: str
    basis: str

    def figure(self, column: str) -> Bounds | None:
        """The figure of a column [SI]; nothing where the row leaves it open."""
        cell = self.cells.get(column)
        return cell if isinstance(cell, Bounds) else None

    @property
    def authority(self) -> str:
        """Source and basis, for print."""
        return f"{self.source} ({self.basis})"


@unchanging
class Table:
    """A table with its rows in the order written."""

    name: str
    meaning: str
    rows: tuple[Row, ...]

    def row(self, **keys: Wanted) -> Row | None:
        """The row in which every named column has exactly that word or figure [SI]."""
        return next(
            (row for row in self.rows if all(_is(row.cells.get(name), key) for name, key in keys.items())),
            None,
        )

    def next_higher(self, column: str, figure: float) -> Row | None:
        """The row of the least figure [SI] in a column that is not below the one asked."""
        reached = [
            (found.low, row)
            for row in self.rows
            if (found := row.figure(column)) is not None and (found.low >= figure or same(found.low, figure))
        ]
        return min(reached, key=lambda pair: pair[0], default=(0.0, None))[1]

    def all(self, **keys: Wanted) -> tuple[Row, ...]:
        """Every such row."""
        return tuple(
            row for row in self.rows if all(_is(row.cells.get(name), key) for name, key in keys.items())
        )


def _is(cell: Cell | None, key: Wanted) -> bool:
    if isinstance(cell, Bounds):
        return not isinstance(key, str) and same(cell.low, key)
    return cell == key


@cache
def table(name: str) -> Table:
    """A published table.

    Raises:
        CannotRead: its file cannot be read.
        ValueError: a cell of it cannot be read, or a row does not say on what basis it stands.
    """
    root = read_document(
        data_folder("schemas") / "tables" / f"{name}.yaml", shown=f"schemas/tables/{name}.yaml"
    )
    columns = {key.text: said for key, said in _mapping(root, "columns")}
    shared = "; ".join(_text(source) for source in _items(root.get("source")))
    rows = tuple(_row(name, item, columns, shared) for item in _items(root.get("rows")))
    return Table(name, _text(root.get("is")), rows)


def customary(figure: str, column: str = "ratio") -> tuple[Bounds, str]:
    """A figure of common practice by its name, and on whose authority.

    >>> customary("wire-rope-design-factor")[0].low
    8.0
    """
    row = table("customary-figures").row(figure=figure)
    bounds = row.figure(column) if row is not None else None
    if row is None or bounds is None:
        raise ValueError(f"there is no customary figure {figure} in the column {column}")
    return bounds, row.authority


def assumed(what: str, column: str) -> tuple[Bounds, str] | None:
    """The range that a weight or length is taken to lie in when nobody recorded it; nothing where none is
    given.
    """
    row = table("assumed-ranges").row(what=what)
    bounds = row.figure(column) if row is not None else None
    return None if row is None or bounds is None else (bounds, row.authority)


def _row(table_name: str, item: Node, columns: Mapping[str, Node], shared: str) -> Row:
    if not isinstance(item, MappingNode):
        raise ValueError(f"a row of {table_name} is not a mapping: {item.place}")
    cells: dict[str, Cell] = {}
    own, basis = "", ""
    for key, node in item:
        text = _text(node)
        if key.text == "source":
            own = text
        elif key.text == "basis":
            basis = text
        else:
            cells[key.text] = _cell(columns, key.text, text, f"{table_name}, {node.place}")
    if basis not in ("read", "memory", "practice", "computed"):
        raise ValueError(f"a row of {table_name} does not say on what basis it stands: {item.place}")
    return Row(cells, own or shared, {"memory": "from memory"}.get(basis, basis))


def _cell(columns: Mapping[str, Node], column: str, text: str, where: str) -> Cell:
    said = columns.get(column)
    if not isinstance(said, MappingNode):
        raise ValueError(f"{where}: there is no column {column}")
    dimension, type_ = _text(said.get("dimension")), _text(said.get("type"))
    if dimension:
        read = read_quantity(text, BY_NAME[dimension])
    elif type_ == "ratio":
        read = read_ratio(text)
    elif type_ == "count":
        read = read_count(text)
    else:
        return text
    if isinstance(read, Unreadable):
        raise ValueError(f"{where}: {read.what}")
    return read


def _mapping(root: MappingNode, key: str) -> MappingNode:
    found = root.get(key)
    if not isinstance(found, MappingNode):
        raise ValueError(f"{root.place.file} has no {key}")
    return found


def _items(node: Node | None) -> tuple[Node, ...]:
    return node.items if isinstance(node, Sequence) else ()


def _text(node: Node | None) -> str:
    return node.text if isinstance(node, Scalar) else ""
