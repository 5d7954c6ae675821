"""Text from a file as a terminal may show it.

Nothing in it moves the cursor, changes colours or turns the reading order.

How wide a character stands is known here too, so that a caret can stand below it.
"""

import unicodedata

_TAB_STOP = 4
_CONTROL_PICTURES = 0x2400
_DELETE_PICTURE = "\u2421"


def printable(text: str) -> str:
    """The text on one line, with a sign for each character that is not seen or that acts instead.

    >>> printable("rope\\x1b[31m\\u202egnol")
    'rope␛[31m<U+202E>gnol'
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(shown for shown, _ in cells(text))


def cells(text: str) -> list[tuple[str, int]]:
    """For each character what is shown for it, and how many columns of a terminal that takes up.

    Tabs are spaces up to the next stop. A combining mark takes up no column of its own; where nothing stands
    before it to carry it, it is shown on a dotted circle.
    """
    result: list[tuple[str, int]] = []
    column = 0
    for number, character in enumerate(text):
        shown, width = _cell(character, column, alone=number == 0)
        result.append((shown, width))
        column += width
    return result


def width_of(text: str) -> int:
    """Columns that the text takes up when shown as `printable` gives it.

    >>> width_of("12 m"), width_of("吊物")
    (4, 4)
    """
    return sum(width for _, width in cells(text))


def _cell(character: str, column: int, *, alone: bool) -> tuple[str, int]:
    if " " <= character <= "~":
        return character, 1
    if character == "\t":
        width = _TAB_STOP - column % _TAB_STOP
        return " " * width, width
    if character < " ":
        return chr(_CONTROL_PICTURES + ord(character)), 1
    if character == "\x7f":
        return _DELETE_PICTURE, 1
    category = unicodedata.category(character)
    if category in ("Mn", "Me"):
        return ("\u25cc" + character, 1) if alone else (character, 0)
    # Format characters turn the reading order or are not seen; the rest are separators or mean nothing yet.
    if category in ("Cc", "Cf", "Cn", "Co", "Cs", "Zl", "Zp"):
        spelled = f"<U+{ord(character):04X}>"
        return spelled, len(spelled)
    return character, 2 if unicodedata.east_asian_width(character) in ("W", "F") else 1
