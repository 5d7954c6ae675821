"""Bytes of a file to text, with what stands in the way of reading it told by line and column.

Knows no YAML.
"""

import re

from plumbtrue.documents.limits import Limits
from plumbtrue.documents.place import Place, Problem

_REFUSED = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff\ud800-\udfff]")
_BREAKS = {"\x85", "\u2028", "\u2029"}
_LINE_END = re.compile("\r\n|\r|\n")
_WIDE_MARKS = (b"\xff\xfe", b"\xfe\xff", b"\x00\x00\xfe\xff")
_SHOWN = 20
_NOTHING: tuple[Problem, ...] = ()


def text_of(content: bytes | str, file: str, limits: Limits) -> tuple[str | None, tuple[Problem, ...]]:
    """The text, without a byte order mark, and every character in it that cannot be used.

    What cannot be used is replaced one for one, so that reading can go on and find more: places stay right.
    The text is nothing when reading on would be pointless.
    """
    if len(content) > limits.bytes:
        return None, (_too_long(len(content), file, limits),)
    if isinstance(content, str):
        text, problems = content, _NOTHING
    else:
        refusal = _other_encoding(content, file)
        if refusal:
            return None, (refusal,)
        text, problems = _decoded(content, file)
    text = text.removeprefix("\ufeff")
    if _REFUSED.search(text):
        problems += _refused_characters(text, file)
        text = _REFUSED.sub(lambda found: " " if found[0] in _BREAKS else "\ufffd", text)
    return text, problems


def lines_of(text: str) -> list[str]:
    """The lines of a text, as editors and the YAML parser count them, without their ends."""
    return _LINE_END.split(text)


def place_at(text: str, offset: int, file: str) -> Place:
    """The place of the character at an offset, which counts from 0."""
    before = lines_of(text[:offset])
    return Place(file, len(before), len(before[-1]) + 1)


def _too_long(size: int, file: str, limits: Limits) -> Problem:
    return Problem(
        "file-too-long",
        Place(file, 1, 1),
        f"the file is {size:,} bytes long, and no more than {limits.bytes:,} are read",
        "divide it into several files and name them under include:",
    )


def _other_encoding(content: bytes, file: str) -> Problem | None:
    start = Place(file, 1, 1)
    if content.startswith(_WIDE_MARKS) or _looks_like_utf16(content):
        return Problem(
            "file-is-utf-16",
            start,
            "the file is stored as UTF-16, and only UTF-8 is read",
            "save it again with the encoding UTF-8; text editors offer that under 'save as'",
        )
    if b"\x00" in content:
        return Problem(
            "file-is-not-text",
            place_at(content[: content.index(b"\x00")].decode("latin-1"), content.index(b"\x00"), file),
            "this is not a text file: it holds a zero byte",
            "name the text file itself, not a spreadsheet, picture or archive",
        )
    return None


def _looks_like_utf16(content: bytes) -> bool:
    """UTF-16 without its mark: every second byte of the beginning is zero."""
    head = content[:64]
    even, odd = head[0::2], head[1::2]
    return len(head) >= 4 and ((not any(even) and all(odd)) or (not any(odd) and all(even[: len(odd)])))


def _decoded(content: bytes, file: str) -> tuple[str, tuple[Problem, ...]]:
    try:
        return content.decode("utf-8"), ()
    except UnicodeDecodeError as error:
        good = content[: error.start].decode("utf-8").removeprefix("\ufeff")
        where = place_at(good, len(good), file)
        bad = content[error.start]
    text = content.decode("utf-8", errors="replace")
    others = [number for number in _lines_with_bad_bytes(content) if number != where.line]
    also = (f"the same in {_lines_named(others)}",) if others else ()
    problem = Problem(
        "file-is-not-utf-8",
        where,
        f"the file is not stored as UTF-8: here stands the byte {bad:#04x}" + _meant(bad),
        "save it again with the encoding UTF-8; text editors offer that under 'save as'",
        used_by=also,
    )
    return text, (problem,)


def _meant(byte: int) -> str:
    """What the byte was in the encoding that older systems of western countries use."""
    try:
        return f" ({bytes([byte]).decode('cp1252')} in an older encoding)"
    except UnicodeDecodeError:
        return ""


def _lines_with_bad_bytes(content: bytes) -> list[int]:
    numbers = []
    for number, line in enumerate(re.split(b"\r\n|\r|\n", content), start=1):
        try:
            line.decode("utf-8")
        except UnicodeDecodeError:
            numbers.append(number)
    return numbers


def _lines_named(numbers: list[int]) -> str:
    shown = ", ".join(str(number) for number in numbers[:_SHOWN])
    more = f" and {len(numbers) - _SHOWN} more" if len(numbers) > _SHOWN else ""
    return f"line{'s' if len(numbers) > 1 else ''} {shown}{more}"


def _refused_characters(text: str, file: str) -> tuple[Problem, ...]:
    found = []
    for number, line in enumerate(lines_of(text), start=1):
        found += [(Place(file, number, match.start() + 1), match[0]) for match in _REFUSED.finditer(line)]
    problems = [_refused_character(where, character) for where, character in found[:_SHOWN]]
    if len(found) > _SHOWN:
        problems.append(
            Problem(
                "control-character",
                found[_SHOWN][0],
                f"{len(found) - _SHOWN} more characters that do not belong in a text stand from here on",
                "check that this is the text file you meant",
            )
        )
    return tuple(problems)


def _refused_character(where: Place, character: str) -> Problem:
    name = f"U+{ord(character):04X}"
    if character in _BREAKS:
        return Problem(
            "control-character",
            where,
            f"here stands a rare kind of line break ({name}), which programs count differently",
            "delete it and press Enter or the space bar instead",
        )
    return Problem(
        "control-character",
        where,
        f"here stands a character that cannot be seen ({name})",
        "delete it; it often comes with text pasted from another program",
    )
