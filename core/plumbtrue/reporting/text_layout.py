"""Text laid out in columns of a terminal, for any language and for hostile text: nothing in it moves the
cursor, changes colours or turns the reading order.
"""

from typing import Final

from plumbtrue.documents.printable import printable, width_of

_UNITS: Final = frozenset(
    ["%", "lb", "in", "ft", "deg", "ksi", "kN", "N", "mm", "m", "kg", "years", "months", "days"]
)
"""What never begins a line, parted from its figure."""


def wrapped(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    """A paragraph in lines of at most so many columns; a longer word stands on a line of its own.

    Args:
        first: what stands before the first line.
        rest: what stands before all others.

    >>> wrapped("a rope of 1962, pitted by rust", 16, "* ", "  ")
    ['* a rope of', '  1962, pitted', '  by rust']
    """
    lines: list[str] = []
    line: list[str] = []
    used, lead = 0, first
    for word in _words(printable(text)):
        columns = width_of(word)
        if line and width_of(lead) + used + 1 + columns > width:
            lines.append(f"{lead}{' '.join(line)}")
            line, used, lead = [], 0, rest
        used += columns + (1 if line else 0)
        line.append(word)
    return [*lines, f"{lead}{' '.join(line)}".rstrip()]


def _words(text: str) -> list[str]:
    """Words, a figure together with its unit."""
    words: list[str] = []
    for word in text.split():
        if words and word.rstrip(".,;:)") in _UNITS and words[-1][-1].isdigit():
            words[-1] += f" {word}"
        else:
            words.append(word)
    return words


def padded(text: str, width: int) -> str:
    """Text with blanks up to a column."""
    return printable(text) + " " * max(width - width_of(text), 0)
