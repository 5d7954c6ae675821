"""Words in a show's notes that make somebody ask whether a person is on the piece.

Whole words, in lower case. A list like this can only raise a question: what it does not find proves nothing,
and what it finds may be harmless.
"""

import re
from typing import Final

WORDS: Final = (
    *("sit", "sits", "sitting", "seated", "ride", "rides", "riding", "rider", "climb", "climbs", "climbing"),
    *("trapeze", "acrobat", "acrobats", "aerialist", "aerial", "harness", "performer flying", "lifted"),
    *("stands on", "standing on", "stand on", "walks on", "hangs from", "hang from", "swings on", "swing on"),
    *("swings from", "jumps from", "jumps on", "flies in on", "flies out on", "lies on", "lies in"),
)
"""Common practice: what a head of flys listens for when a plot is talked through."""

_PATTERN: Final = re.compile(r"\b(" + "|".join(re.escape(word) for word in WORDS) + r")\b", re.IGNORECASE)


def words_about_people(text: str) -> tuple[str, ...]:
    """Such words in a text, each once, in the order in which they stand.

    >>> words_about_people("The captain sits in the moon, lifted 3 ft; she sits still")
    ('sits', 'lifted')
    """
    return tuple(dict.fromkeys(found.lower() for found in _PATTERN.findall(text)))
