"""The one order in which things are listed: as people count them, so that line 2 comes before line 10."""

import re

_DIGITS = re.compile(r"(\d+)")


def natural_order(path: str) -> tuple[tuple[int, int, str], ...]:
    """A sort key for the lasting name of a thing.

    >>> sorted(["10 / arbor", "2 / line 10", "2 / line 9", "H1"], key=natural_order)
    ['2 / line 9', '2 / line 10', '10 / arbor', 'H1']
    """
    parts = [part for part in _DIGITS.split(path) if part]
    return tuple((0, int(part), part) if part[0] in "0123456789" else (1, 0, part) for part in parts)
