"""An expression's text cut into tokens, one at a time, as the parser asks for them.

What may stand next decides how the text is read: where a word of a closed list is wanted, `two-part` and
`7x19` are words; elsewhere a hyphen is a minus. A word of the grammar, such as `of` or `for`, is a name
wherever the grammar has no use for it.
"""

import re
from collections.abc import Mapping
from typing import Final, NamedTuple

END: Final = "$END"

_WORDLIKE: Final = ("NAME", "WORD")


class Token(NamedTuple):
    """A piece of the text: the name that the grammar gives it, its text, and where it begins, counted from
    0.
    """

    name: str
    text: str
    start: int


class Stray(NamedTuple):
    """Text that no token begins with."""

    start: int
    text: str


class Scanner:
    """Cuts texts by the patterns of the grammar's table."""

    def __init__(self, fixed: Mapping[str, str], patterns: Mapping[str, str]) -> None:
        marks = {text: name for name, text in fixed.items() if not text.isalpha()}
        self._words = {text: name for name, text in fixed.items() if text.isalpha()}
        # The key sign of a look-up and the comparison share one mark.
        self._marks: dict[str, tuple[str, ...]] = {text: (name,) for text, name in marks.items()}
        for text in ("<=", ">=", "!=", "<", ">", "="):
            self._marks[text] = (*self._marks.get(text, ()), "COMPARISON")
        for text in "*/":
            self._marks[text] = ("TIMES",)
        phrases = [name for name in patterns if name not in ("COMPARISON", "TIMES", *_WORDLIKE)]
        mark = "|".join(re.escape(text) for text in sorted(self._marks, key=len, reverse=True))
        named = "|".join(f"(?P<{name}>{patterns[name]})" for name in phrases)
        self._usual = re.compile(rf"\s*(?:{named}|(?P<NAME>{patterns['NAME']})|(?P<MARK>{mark}))")
        self._wordy = re.compile(
            rf"\s*(?:(?P<STRING>{patterns['STRING']})|(?P<WORD>{patterns['WORD']})|(?P<MARK>{mark}))"
        )
        self._name = re.compile(rf"\s*(?P<NAME>{patterns['NAME']})")
        self._space = re.compile(r"\s*")

    def next_token(self, text: str, position: int, wanted: Mapping[str, int]) -> Token | Stray:
        """The token at a position, read in the way that fits what the grammar wants there."""
        pattern = self._wordy if "WORD" in wanted else self._usual
        found = pattern.match(text, position)
        if found is not None and found.lastgroup not in wanted and "NAME" in wanted:
            # In `5 * every` no quantifier can stand, so that `every` is a name there like any other.
            found = self._name.match(text, position) or found
        if found is None:
            start = self._space.match(text, position).end()  # type: ignore[union-attr]  # it matches nothing at least
            return (
                Token(END, "", len(text))
                if start == len(text)
                else Stray(start, text[start : start + 20].split()[0])
            )
        kind = found.lastgroup or ""
        said = found[kind]
        start = found.start(kind)
        if kind == "MARK":
            names = self._marks[said]
            return Token(next((name for name in names if name in wanted), names[0]), said, start)
        if kind in _WORDLIKE:
            own = self._words.get(said)
            if own is not None and (own in wanted or kind not in wanted):
                return Token(own, said, start)
        return Token(kind, said, start)
