"""Tables of a pack: rows of figures and words, found by their keys under a policy that each key column
declares.

What lies beyond the rows is not known, never guessed: under every policy a key outside them gives no
value. A key known within bounds gives all that any figure within them could find. Interpolation is linear,
and nothing is taken for granted about whether a column rises or falls.
"""

from collections.abc import Callable, Mapping, Sequence
from math import ceil, floor, isinf
from typing import Literal

from plumbtrue.quantities.bounds import Bounds, exceeds, same
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import UNKNOWN, Choice, Name, Unknown, Value
from plumbtrue.rules.language.value_types import Figures, Names, OneWord

Policy = Literal["exact", "next-lower", "next-higher", "interpolate"]
Cell = float | str | None
"""A figure [SI or plain], a word or name, or nothing where the source is silent."""


@unchanging
class Column:
    """A column: what it gives, and, of a key column, how a key between two rows is taken."""

    name: str
    type: Figures | OneWord | Names
    policy: Policy | None = None
    """Of a key column; a column without one is only read."""
    whole: bool = False
    """Whether its figures are counts, so that nothing lies between two whole numbers."""
    meaning: str = ""


@unchanging
class Table:
    """A table with its columns and rows; each row has one cell for each column, in order. Key cells are
    never empty.
    """

    name: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]

    def column(self, name: str) -> Column | None:
        """The column of that name."""
        return next((column for column in self.columns if column.name == name), None)

    @property
    def keys(self) -> tuple[Column, ...]:
        """The key columns, in the order of the table."""
        return tuple(column for column in self.columns if column.policy is not None)

    def mistakes(self) -> tuple[str, ...]:
        """What is wrong with the table in itself, in sentences: rows of wrong length, keys that stand
        twice or are missing.
        """
        found = []
        places = [index for index, column in enumerate(self.columns) if column.policy is not None]
        if not places:
            found.append("no column is a key")
        if len(places) == len(self.columns):
            found.append("every column is a key, so there is nothing to look up")
        seen: list[tuple[Cell, ...]] = []
        for number, row in enumerate(self.rows, start=1):
            if len(row) != len(self.columns):
                found.append(f"row {number} has {len(row)} cells for {len(self.columns)} columns")
                continue
            keys = tuple(row[index] for index in places)
            if any(key is None for key in keys):
                found.append(f"row {number} has an empty key")
            elif any(all(map(_alike, keys, earlier)) for earlier in seen):
                found.append(f"row {number} has the same key as an earlier one")
            seen.append(keys)
        return tuple(found)

    def look_up(self, column: str, keys: Mapping[str, Value]) -> Value:
        """What a column says for keys known exactly or within bounds; unknown where some possible key
        finds nothing.

        Args:
            keys: a value for every key column, by name.
        """
        index = [one.name for one in self.columns].index(column)
        ordered = [
            (place, one, keys[one.name]) for place, one in enumerate(self.columns) if one.policy is not None
        ]
        # Exact keys divide the table into parts; between the rows of a part the other keys move.
        ordered.sort(key=lambda entry: entry[1].policy != "exact")
        return _found(self.rows, _Wanted(index, self.columns[index]), ordered)


@unchanging
class _Wanted:
    """The column to read, and where it stands in a row."""

    place: int
    column: Column


_Keys = Sequence[tuple[int, Column, Value]]
_At = Callable[[float], Value]


def _alike(one: Cell, other: Cell) -> bool:
    if isinstance(one, str) or isinstance(other, str) or one is None or other is None:
        return one == other
    return same(one, other)


def _found(rows: Sequence[tuple[Cell, ...]], wanted: "_Wanted", keys: _Keys) -> Value:
    if not rows:
        return UNKNOWN
    if not keys:
        return _cell(rows[0][wanted.place], wanted.column)
    place, key, value = keys[0]
    rest = keys[1:]
    if isinstance(value, Choice):
        if value.may_be_none:
            return UNKNOWN
        return _hull(
            [
                _found([row for row in rows if row[place] == word], wanted, rest)
                for word in sorted(value.possible)
            ]
        )
    if isinstance(value, Name):
        return _found([row for row in rows if row[place] == value.text], wanted, rest)
    if not isinstance(value, Bounds) or isinf(value.low) or isinf(value.high):
        return UNKNOWN
    steps = sorted({cell for row in rows if isinstance(cell := row[place], int | float)})
    return _between(rows, wanted, place, key, value, steps, rest)


def _between(
    rows: Sequence[tuple[Cell, ...]],
    wanted: "_Wanted",
    place: int,
    key: Column,
    value: Bounds,
    steps: list[float],
    rest: _Keys,
) -> Value:
    """What the rows say for a figure within bounds."""
    if not steps or exceeds(steps[0], value.low) or exceeds(value.high, steps[-1]):
        return UNKNOWN

    def at(step: float) -> Value:
        return _found([row for row in rows if row[place] == step], wanted, rest)

    match key.policy:
        case "exact":
            return _exactly(value, steps, key, at)
        case "next-lower":
            low = max(step for step in steps if not exceeds(step, value.low))
            return _hull([at(step) for step in steps if low <= step and not exceeds(step, value.high)])
        case "next-higher":
            high = min(step for step in steps if not exceeds(value.high, step))
            return _hull([at(step) for step in steps if step <= high and not exceeds(value.low, step)])
        case _:
            ends = [_interpolated(figure, steps, at) for figure in dict.fromkeys((value.low, value.high))]
            return _hull([*ends, *(at(step) for step in steps if value.low < step < value.high)])


def _exactly(value: Bounds, steps: list[float], key: Column, at: _At) -> Value:
    if value.is_exact:
        near = [step for step in steps if same(step, value.low)]
        return at(near[0]) if near else UNKNOWN
    if not key.whole:
        return UNKNOWN
    # A count known within bounds is one of a few whole numbers; each must have its row.
    first, last = ceil(value.low), floor(value.high)
    if last - first >= len(steps):
        return UNKNOWN
    found: list[Value] = []
    for count in range(first, last + 1):
        near = [step for step in steps if same(step, count)]
        found.append(at(near[0]) if near else UNKNOWN)
    return _hull(found)


def _interpolated(figure: float, steps: list[float], at: _At) -> Value:
    for step in steps:
        if same(step, figure):
            return at(step)
    below = max(step for step in steps if step < figure)
    above = min(step for step in steps if step > figure)
    low, high = at(below), at(above)
    if not isinstance(low, Bounds) or not isinstance(high, Bounds):
        return UNKNOWN
    part = (figure - below) / (above - below)
    # Written so that the result stays between both ends in floating point too.
    return Bounds(_mixed(low.low, high.low, part), _mixed(low.high, high.high, part))


def _mixed(a: float, b: float, part: float) -> float:
    return min(max(a + (b - a) * part, min(a, b)), max(a, b))


def _cell(cell: Cell, column: Column) -> Value:
    match cell:
        case None:
            return UNKNOWN
        case str():
            return Name(cell) if isinstance(column.type, Names) else Choice(frozenset({cell}))
        case _:
            return Bounds.exactly(cell)


def _hull(values: Sequence[Value]) -> Value:
    """The narrowest value that contains all; unknown when one of them is."""
    found: Value | None = None
    for value in values:
        if isinstance(value, Unknown):
            return UNKNOWN
        match found, value:
            case None, _:
                found = value
            case Bounds() as so_far, Bounds():
                found = so_far.hull(value)
            case Choice(possible), Choice(more):
                found = Choice(possible | more)
            case Name() as one, Name() as other if one != other:
                return UNKNOWN
    return UNKNOWN if found is None else found
