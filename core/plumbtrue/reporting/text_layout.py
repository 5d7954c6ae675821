"""Text laid out in columns of a terminal, for any language and for hostile text: nothing in it moves the
cursor, changes colours or turns the reading order.
"""

from plumbtrue.documents.printable import printable, width_of


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
    for word in printable(text).split():
        columns = width_of(word)
        if line and width_of(lead) + used + 1 + columns > width:
            lines.append(f"{lead}{' '.join(line)}")
            line, used, lead = [], 0, rest
        used += columns + (1 if line else 0)
        line.append(word)
    return [*lines, f"{lead}{' '.join(line)}".rstrip()]


def padded(text: str, width: int) -> str:
    """Text with blanks up to a column."""
    return printable(text) + " " * max(width - width_of(text), 0)
