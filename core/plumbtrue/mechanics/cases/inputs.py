"""The inputs of a case: read by name and kind, in whatever unit the key names, and every key that nobody read
is known afterwards.

A missing key, a wrong type or an unknown key is a `CannotRunError` that names it. A key that is there and
null is "not known": where the computation cannot do without it, the answer is `NotKnownError`, and no figure
comes out.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import isfinite
from typing import Final

from plumbtrue.mechanics.cases.unit_keys import UNITS, Kind, units_of


class CannotRunError(Exception):
    """The case cannot be run as it is written; the message names what is wrong."""


class UnknownInputError(CannotRunError):
    """Keys that the computation did not look at. `outputs` is what it gave without them, None where other
    inputs are ranges."""

    def __init__(self, keys: Sequence[str], outputs: Mapping[str, object] | None) -> None:
        super().__init__(f"unknown input {', '.join(keys)}")
        self.outputs = outputs


class NotKnownError(Exception):
    """An input that the answer hangs on is null: the answer is unknown."""


@dataclass(slots=True)
class Corner:
    """Which end to take of each input that is given as a range, and which ranges were met on the way."""

    takes_high: frozenset[str] = frozenset()
    met: set[str] = field(default_factory=set)
    allowed: bool = True


DESCRIPTIONS: Final = frozenset({"name", "label", "id", "title", "note", "comment", "what", "source"})
"""Keys that tell a reader what a thing is. They change no figure, so any part of a case may have them."""


class Missing:
    """Stands for a default that is not given."""


MISSING: Final = Missing()


class Inputs:
    """One mapping of inputs, and which of its keys have been read."""

    def __init__(self, written: Mapping[str, object], corner: Corner, place: str = "") -> None:
        self._written = written
        self._corner = corner
        self._place = place
        self._read: set[str] = set()
        self._parts: list[Inputs] = []

    def __contains__(self, key: str) -> bool:
        return key in self._written

    def quantity(self, stem: str, kind: Kind, default: float | Missing = MISSING) -> float:
        """A quantity in SI, from whichever key names its unit."""
        key = self._key_of(stem, kind)
        if key is None:
            if isinstance(default, Missing):
                raise CannotRunError(
                    f"missing input {self._place}{stem}_… ({kind}: {', '.join(units_of(kind)[:4])} …)"
                    f"{self._likely(stem, kind)}"
                )
            return default
        return self._number(self._take(key), key, _factor(key, stem))

    def known(self, stem: str, kind: Kind) -> float | None:
        """A quantity in SI that may be left out or null: None then."""
        key = self._key_of(stem, kind)
        if key is None or self._take(key) is None:
            return None
        return self._number(self._take(key), key, _factor(key, stem))

    def is_given(self, stem: str, kind: Kind) -> bool:
        """Whether a quantity is written at all, be it null."""
        return self._key_of(stem, kind) is not None

    def ends(self, stem: str, kind: Kind) -> tuple[float, float] | None:
        """A quantity with its least and greatest figure in SI, equal when it is one number; None where it is
        null."""
        key = self._key_of(stem, kind)
        if key is None:
            raise CannotRunError(f"missing input {self._place}{stem}_… ({kind}){self._likely(stem, kind)}")
        written = self._take(key)
        return None if written is None else self._ends(written, key, _factor(key, stem))

    def all_ends(self, stem: str, kind: Kind) -> list[tuple[float, float]]:
        """A list of quantities, each a number or a range, in SI."""
        key, written = self._list_of(stem, kind)
        factor = _factor(key, stem)
        return [self._ends(one, f"{key}[{at}]", factor) for at, one in enumerate(written, 1)]

    def quantities(self, stem: str, kind: Kind, *, optional: bool = False) -> list[float]:
        """A list of quantities in SI; empty where it is optional and left out."""
        if optional and self.known_list(stem, kind) is None:
            return []
        key, written = self._list_of(stem, kind)
        factor = _factor(key, stem)
        return [self._number(one, f"{key}[{at}]", factor) for at, one in enumerate(written, 1)]

    def known_list(self, stem: str, kind: Kind) -> str | None:
        """The key of a list that is written and not null."""
        key = self._key_of(stem, kind)
        return key if key is not None and self._take(key) is not None else None

    def points(self, stem: str, dimensions: int) -> list[tuple[float, ...]]:
        """A list of points in space or in a plane, in metres."""
        key, written = self._list_of(stem, "length")
        return [
            self._point(one, f"{key}[{at}]", _factor(key, stem), dimensions)
            for at, one in enumerate(written, 1)
        ]

    def point(self, stem: str, dimensions: int) -> tuple[float, ...]:
        """One point, in metres."""
        key, written = self._list_of(stem, "length")
        return self._point(written, key, _factor(key, stem), dimensions)

    def number(self, key: str, default: float | Missing = MISSING) -> float:
        """A plain number: a ratio, a count, a factor."""
        if key not in self._written:
            if isinstance(default, Missing):
                raise CannotRunError(f"missing input {self._place}{key}")
            return default
        return self._number(self._take(key), key, 1.0)

    def known_number(self, key: str) -> float | None:
        """A plain number that may be left out or null: None then."""
        if key not in self._written or self._take(key) is None:
            return None
        return self._number(self._take(key), key, 1.0)

    def count(self, key: str, default: int | Missing = MISSING) -> int:
        """A whole number."""
        given = self.number(key, float(default) if isinstance(default, int) else MISSING)
        if given != int(given):
            raise CannotRunError(f"input {self._place}{key}: a whole number is wanted, {given} given")
        return int(given)

    def word(self, key: str, among: tuple[str, ...] | None = None) -> str | None:
        """A word, None where it is left out or null."""
        written = self._take(key) if key in self._written else None
        if written is None:
            return None
        if not isinstance(written, str):
            raise CannotRunError(f"input {self._place}{key}: a word is wanted, {written!r} given")
        if among is not None and written not in among:
            raise CannotRunError(
                f"input {self._place}{key}: one of {', '.join(among)} is wanted, {written!r} given"
            )
        return written

    def flag(self, key: str) -> bool | None:
        """Yes or no, None where it is left out or null."""
        written = self._take(key) if key in self._written else None
        if written is None or isinstance(written, bool):
            return written
        if written in ("yes", "no"):
            return written == "yes"
        raise CannotRunError(f"input {self._place}{key}: true or false is wanted, {written!r} given")

    def part(self, key: str) -> "Inputs | None":
        """A mapping within the inputs, None where it is left out or null."""
        written = self._take(key) if key in self._written else None
        return None if written is None else self._inside(written, f"{self._place}{key}.")

    def parts(self, key: str, *, optional: bool = False) -> list["Inputs"]:
        """A list of mappings within the inputs."""
        if optional and (key not in self._written or self._written[key] is None):
            self._read.add(key)
            return []
        return [
            self._inside(one, f"{self._place}{key}[{at}].") for at, one in enumerate(self.raw_list(key), 1)
        ]

    def raw_list(self, key: str) -> list[object]:
        """A list as it is written."""
        if key not in self._written:
            raise CannotRunError(f"missing input {self._place}{key}")
        written = self._take(key)
        if written is None:
            raise NotKnownError(f"{self._place}{key}")
        if not isinstance(written, list):
            raise CannotRunError(f"input {self._place}{key}: a list is wanted, {written!r} given")
        return written

    def is_list(self, key: str) -> bool:
        """Whether a list is written here."""
        return isinstance(self._written.get(key), list)

    def pairs(self, key: str) -> list[tuple[int, int]]:
        """Pairs of numbers that count from 1, as pairs that count from 0; none where left out or null."""
        if key not in self._written or self._take(key) is None:
            return []
        found = []
        for pair in self.raw_list(key):
            if not (isinstance(pair, list) and len(pair) == 2 and all(isinstance(n, int) for n in pair)):
                raise CannotRunError(
                    f"input {self._place}{key}: pairs of whole numbers are wanted, {pair!r} given"
                )
            found.append((pair[0] - 1, pair[1] - 1))
        return found

    def unread(self) -> Iterator[str]:
        """Keys that no computation asked for, here and in every part."""
        for key in self._written:
            if key not in self._read and key not in DESCRIPTIONS:
                yield f"{self._place}{key}"
        for part in self._parts:
            yield from part.unread()

    def _inside(self, written: object, place: str) -> "Inputs":
        if not isinstance(written, Mapping):
            raise CannotRunError(f"input {place.rstrip('.')}: keys with values are wanted, {written!r} given")
        part = Inputs(written, self._corner, place)
        self._parts.append(part)
        return part

    def _take(self, key: str) -> object:
        self._read.add(key)
        return self._written[key]

    def _key_of(self, stem: str, kind: Kind) -> str | None:
        found = [f"{stem}_{unit}" for unit in units_of(kind) if f"{stem}_{unit}" in self._written]
        if len(found) > 1:
            raise CannotRunError(
                f"inputs {' and '.join(self._place + key for key in found)} say the same thing twice"
            )
        return found[0] if found else None

    def _likely(self, stem: str, kind: Kind) -> str:
        """What is written in place of a missing quantity, with an ending that is no unit of its kind."""
        written = [str(key) for key in self._written if str(key).startswith(f"{stem}_")]
        return f": {' and '.join(written)} names no unit of {kind}" if written else ""

    def _list_of(self, stem: str, kind: Kind) -> tuple[str, list[object]]:
        key = self._key_of(stem, kind)
        if key is None:
            raise CannotRunError(
                f"missing input {self._place}{stem}_… (a list of {kind}){self._likely(stem, kind)}"
            )
        return key, self.raw_list(key)

    def _number(self, written: object, key: str, factor: float) -> float:
        if written is None:
            raise NotKnownError(f"{self._place}{key}")
        if isinstance(written, list):
            low, high = self._ends(written, key, factor)
            place = f"{self._place}{key}"
            if not self._corner.allowed:
                raise CannotRunError(f"input {place}: one number is wanted here, not a range")
            if low != high:
                self._corner.met.add(place)
            return high if place in self._corner.takes_high else low
        return self._plain(written, key) * factor

    def _ends(self, written: object, key: str, factor: float) -> tuple[float, float]:
        if written is None:
            raise NotKnownError(f"{self._place}{key}")
        if not isinstance(written, list):
            figure = self._plain(written, key) * factor
            return figure, figure
        if len(written) != 2:
            raise CannotRunError(
                f"input {self._place}{key}: a range has a least and a greatest figure, {written!r} given"
            )
        low, high = (self._plain(end, key) * factor for end in written)
        if low > high:
            raise CannotRunError(
                f"input {self._place}{key}: a range runs from the least to the greatest, {written!r} given"
            )
        return low, high

    def _plain(self, written: object, key: str) -> float:
        if isinstance(written, bool) or not isinstance(written, int | float) or not isfinite(written):
            raise CannotRunError(f"input {self._place}{key}: a number is wanted, {written!r} given")
        return float(written)

    def _point(self, written: object, key: str, factor: float, dimensions: int) -> tuple[float, ...]:
        if written is None:
            raise NotKnownError(f"{self._place}{key}")
        if not isinstance(written, list) or len(written) != dimensions:
            raise CannotRunError(
                f"input {self._place}{key}: {dimensions} numbers are wanted, {written!r} given"
            )
        return tuple(self._plain(one, key) * factor for one in written)


def _factor(key: str, stem: str) -> float:
    return UNITS[key[len(stem) + 1 :]][1]
