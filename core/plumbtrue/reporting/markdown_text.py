"""Text in Markdown that shows as it is written: a backslash stands before every sign that could be markup, and no
line of it can begin anything.
"""

import re
from collections.abc import Iterable, Iterator
from typing import Final

from plumbtrue.documents.printable import printable

_MARKUP: Final = re.compile(r"([\\`*_\[\]<>#|~$&!])")
_AT_BEGINNING: Final = re.compile(r"^(\d+)([.)])(?=\s|$)|^([-+=])")
_ADDRESS: Final = re.compile(r"(?i)\b(https?|ftp|mailto)(:)|(\bwww)(\.)|(@)")


def escaped(text: str) -> str:
    """Text that shows as it is written, whatever stands in it, on one line.

    >>> escaped("a | b <script>*")
    'a \\\\| b \\\\<script\\\\>\\\\*'
    """
    plain = " ".join(printable(text).split())
    marked = _MARKUP.sub(r"\\\1", plain)
    marked = _ADDRESS.sub(lambda found: _apart(found), marked)
    return _AT_BEGINNING.sub(lambda found: f"{found[1] or ''}\\{found[2] or found[3]}", marked)


def quoted(paragraphs: Iterable[str]) -> Iterator[str]:
    """Lines of a quotation, a paragraph for each text."""
    for one in paragraphs:
        yield f"> {escaped(one)}"
        yield ">"


def _apart(found: re.Match[str]) -> str:
    """An address spelled so that no reader makes a link of it: the report links to nothing outside."""
    if found[5]:
        return "&#64;"
    word, sign = (found[1], found[2]) if found[1] else (found[3], found[4])
    return f"{word}&#{ord(sign)};"
