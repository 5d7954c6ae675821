"""What the YAML parser says when it cannot go on, in plain words.

The parser stops at the first one, so it is one a file.
"""

import re
from typing import Any

from plumbtrue.documents.decoding import lines_of
from plumbtrue.documents.place import Place, Problem
from plumbtrue.quantities.unchanging import unchanging

_READ_TO_HERE = "reading stopped here, so there may be more to mend below"
# What a text without quotes may hold in brackets and braces, up to the key before it.
_BEFORE_IN_BRACES = re.compile(r"(?:(?!:\s)[^,\[\]{}])*$")
_AFTER_IN_BRACES = re.compile(r"[^,\[\]{}]*")
_TAB = re.compile(r" *\t[ \t]*[^\s#]")
_SHOWN = 12


@unchanging
class _Wording:
    """How one of the parser's complaints is told; `at_opening` points where the unfinished thing began."""

    slug: str
    what: str
    instead: str
    at_opening: bool = False


_QUOTE = _Wording(
    "quote-not-closed",
    "a quotation mark is opened here and never closed",
    "write the closing mark",
    at_opening=True,
)
_LIST = _Wording(
    "bracket-not-closed",
    "in a list in square brackets a comma or the closing bracket is missing",
    "write [one, two], and quotes round a text that holds a comma, bracket or brace",
)
_BRACES = _Wording(
    "bracket-not-closed",
    "in braces a comma or the closing brace is missing",
    "write {key: value, key: value}, and quotes round a text that holds a comma, bracket or brace",
)
_QUESTION_MARK = _Wording(
    "sign-needs-quotes",
    "inside brackets and braces a text with a question mark needs quotes",
    "put quotes round the text",
)
_INDENT = _Wording(
    "indent-uneven",
    "this line does not line up with the lines it belongs to",
    "begin keys of one thing in one column, entries of one list too; put quotes round the whole of a text",
)
_ESCAPE = _Wording(
    "escape-unknown",
    "a backslash in double quotes has a meaning of its own, and this one has none",
    "use single quotes, in which a backslash is a backslash",
)
_STAR = _Wording(
    "character-cannot-begin",
    "* and & at the beginning of a text name another part of the file, and no name follows",
    "put quotes round the text",
)
_DIRECTIVE = _Wording(
    "yaml-unreadable",
    "a line that begins with % is an instruction to a parser, and cannot be followed",
    "delete it",
)
_TAG = _Wording(
    "tag-refused",
    "a text that begins with ! is a tag, which is not used here",
    "delete it, or put quotes round the text",
)

_WORDINGS = {
    "could not find expected ':'": _Wording(
        "colon-missing",
        "a key stands here without a colon and a space after it",
        "write key: value",
        at_opening=True,
    ),
    "mapping values are not allowed in this context": _Wording(
        "colon-out-of-place",
        "a colon stands where no key can be",
        "put quotes round a text with a colon and a space, or line the key up with those beside it",
    ),
    "found unexpected ':'": _Wording(
        "sign-needs-quotes",
        "inside brackets and braces a colon has a space after it, or the text has quotes round it",
        'write {key: value} with a space; and quotes round a time, such as "2026-04-14 08:00"',
    ),
    "block sequence entries are not allowed in this context": _Wording(
        "dash-out-of-place",
        "a list cannot begin on the line of its key",
        "put each - on a line of its own, or write [one, two]",
    ),
    "mapping keys are not allowed in this context": _Wording(
        "character-cannot-begin", "? with a space cannot begin a text", "put quotes round the text"
    ),
    "found character that cannot start any token": _Wording(
        "character-cannot-begin", "a text cannot begin with this character", "put quotes round the text"
    ),
    "found unexpected end of stream": _QUOTE,
    "found unexpected document indicator": _QUOTE,
    "did not find expected ',' or ']'": _LIST,
    "did not find expected ',' or '}'": _BRACES,
    "did not find expected node content": _Wording(
        "bracket-not-closed",
        "a value is missing here, or a bracket or brace is never closed",
        "write the value, then the closing ] or }",
    ),
    "did not find expected key": _INDENT,
    "did not find expected '-' indicator": _INDENT,
    "did not find expected <document start>": _INDENT,
    "found unknown escape character": _ESCAPE,
    "did not find expected hexdecimal number": _ESCAPE,
    "found invalid Unicode character escape code": _ESCAPE,
    "did not find expected alphabetic or numeric character": _STAR,
    "did not find expected comment or line break": _Wording(
        "character-cannot-begin",
        "after | or > only a line break may follow",
        "begin the text on the next line, or put quotes round it",
    ),
    "found unknown directive name": _DIRECTIVE,
    "found undefined tag handle": _TAG,
    "did not find expected whitespace or line break": _TAG,
    "did not find the expected '>'": _TAG,
    "did not find expected tag URI": _TAG,
}
_ANY = _Wording(
    "yaml-unreadable",
    "this cannot be read as YAML",
    "compare this line with its neighbours; quotes round a text settle most doubts",
)


def syntax_problem(error: Exception, text: str, file: str, unfinished: list[Place]) -> Problem:
    """The parser's complaint as a problem with a place.

    `error` is what the parser raised while reading `text`; `unfinished` are the places of the lists and
    mappings that it was in, the innermost first.
    """
    said = str(getattr(error, "problem", None) or "")
    lines = lines_of(text)
    noticed = _mark(error, "problem_mark") or (0, 0)
    character = lines[noticed[0]][noticed[1] : noticed[1] + 1] if noticed[0] < len(lines) else ""
    if "tab" in said or character == "\t":
        return _tabs(lines, file, noticed)
    wording = _WORDINGS.get(said, _ANY)
    if character == "?" and wording.slug == "bracket-not-closed":
        wording = _QUESTION_MARK
    opening = _mark(error, "context_mark") if wording.at_opening else None
    line, column = opening or _inside(noticed, lines)
    instead = wording.instead
    if said == "found unexpected ':'" and (meant := _around(lines[line], column)):
        instead = f"write {in_quotes(meant)} in quotes, or a space after the colon of a key"
    began = () if wording.at_opening else _began(error, line, file, unfinished)
    used_by = (*began, _READ_TO_HERE)
    return Problem(wording.slug, Place(file, line + 1, column + 1), wording.what, instead, used_by=used_by)


def in_quotes(text: str) -> str:
    """A text as it has to be written to be taken letter by letter."""
    if '"' not in text and "\\" not in text:
        return f'"{text}"'
    doubled = text.replace("'", "''")
    return f"'{doubled}'"


def _around(line: str, column: int) -> str:
    """The text without quotes in brackets or braces that holds a colon."""
    before, after = _BEFORE_IN_BRACES.search(line[:column]), _AFTER_IN_BRACES.match(line, column)
    return f"{before[0] if before else ''}{after[0] if after else ''}".strip()


def _inside(mark: tuple[int, int], lines: list[str]) -> tuple[int, int]:
    """The mark itself; for one at the end of the file, the end of what is written there."""
    line, _ = mark
    if any(rest.strip() for rest in lines[line:]):
        return mark
    last = max((number for number, written in enumerate(lines[:line]) if written.strip()), default=0)
    return last, len(lines[last].rstrip())


def _mark(error: Exception, name: str) -> tuple[int, int] | None:
    """A mark of the parser as line and column, from 0."""
    mark: Any = getattr(error, name, None)
    return None if mark is None else (mark.line, mark.column)


def _began(error: Exception, line: int, file: str, unfinished: list[Place]) -> tuple[str, ...]:
    """Where the list, mapping or bracket began that could not be finished, when that is on another line."""
    opening = _mark(error, "context_mark")
    if opening == _mark(error, "problem_mark"):
        opening = None
    place = Place(file, opening[0] + 1, opening[1] + 1) if opening else None
    if place is None or place.line == line + 1:
        place = unfinished[0] if unfinished else None
    return () if place is None or place.line == line + 1 else (f"what it belongs to begins at {place}",)


def _tabs(lines: list[str], file: str, mark: tuple[int, int]) -> Problem:
    """One problem for all lines that are indented with tabs: they are one habit of one editor."""
    line, column = mark
    indented = [number for number, written in enumerate(lines, start=1) if _TAB.match(written)]
    others = [number for number in indented if number != line + 1]
    shown = ", ".join(str(number) for number in others[:_SHOWN]) + (
        " and more" if len(others) > _SHOWN else ""
    )
    also = (
        (f"tabs also stand at the beginning of line{'s' if len(others) > 1 else ''} {shown}",)
        if others
        else ()
    )
    return Problem(
        "tab-for-indenting",
        Place(file, line + 1, column + 1),
        "a tab stands where only spaces can",
        "use spaces; most editors can turn all tabs of a file into spaces at once",
        used_by=(*also, _READ_TO_HERE),
    )
