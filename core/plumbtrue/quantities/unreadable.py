"""What cannot be read, as a value: what is wrong in the trade's words, and what to write instead.

Also the phrases that say which kind of quantity is wanted, so that all messages say it alike.
"""

import re
from typing import Final, Literal, get_args

from plumbtrue.quantities.dimension import (
    ANGLE,
    AREA,
    BENDING_STIFFNESS,
    DURATION,
    FORCE,
    FORCE_PER_AREA,
    FORCE_PER_LENGTH,
    FORCE_PER_VOLUME,
    LENGTH,
    MOMENT,
    RATIO,
    SECOND_MOMENT,
    SPEED,
    TEMPERATURE,
    VOLUME,
    Dimension,
    name_of,
)
from plumbtrue.quantities.unchanging import unchanging

Slug = Literal[
    "bound-unreadable",
    "count-not-whole",
    "date-impossible",
    "date-unreadable",
    "dimension-wrong",
    "figure-unreadable",
    "place-unreadable",
    "range-backwards",
    "unit-ambiguous",
    "unit-missing",
    "unit-unknown",
]
"""The kinds of messages; each has its paragraph in the manual."""

SLUGS: Final[tuple[str, ...]] = get_args(Slug)


@unchanging
class Unreadable:
    """Something that cannot be read: `what` follows a place and a colon, `instead` the word "write"."""

    what: str
    instead: str
    slug: Slug


_PHRASES: Final[dict[Dimension, tuple[str, str]]] = {
    RATIO: ("a plain number", "0.9 or 5 %"),
    LENGTH: ("a length", "1/4 in or 6.4 mm"),
    AREA: ("an area", "12 ft2 or 1.1 m2"),
    VOLUME: ("a volume", "0.326 in3 or 5.34 cm3"),
    SECOND_MOMENT: ("a second moment of area", "0.31 in4 or 12.9 cm4"),
    FORCE: ("a weight or pull", "450 lb or 2 kN"),
    FORCE_PER_LENGTH: ("a weight per length", "15 lb/ft or 220 N/m"),
    FORCE_PER_AREA: ("a load per area or a stress", "50 lb/ft2, 16 oz/yd2 or 35 ksi"),
    FORCE_PER_VOLUME: ("a weight per volume", "490 lb/ft3 or 7850 kg/m3"),
    MOMENT: ("a moment or torque", "15 ft-lb or 20 N m"),
    BENDING_STIFFNESS: ("a bending stiffness", "9000000 lb in2 or 26 kN m2"),
    ANGLE: ("an angle", "3.5 deg"),
    DURATION: ("a length of time", "10 s, 12 months or 20 years"),
    SPEED: ("a speed", "2 ft/s or 0.6 m/s"),
    TEMPERATURE: ("a temperature", "70 degF or 21 degC"),
}


def kind_of(dimension: Dimension) -> str:
    """A dimension with its article, as a rigger would call it.

    >>> kind_of(FORCE)
    'a weight or pull'
    """
    phrase = _PHRASES.get(dimension)
    return phrase[0] if phrase else f"a quantity of {name_of(dimension)}"


def wanted(dimension: Dimension) -> str:
    """What to write for a quantity of this dimension.

    >>> wanted(LENGTH)
    'a length, such as 1/4 in or 6.4 mm'
    """
    phrase = _PHRASES.get(dimension)
    return f"{phrase[0]}, such as {phrase[1]}" if phrase else kind_of(dimension)


_A_SIZE: Final = re.compile(r"[0-9]{1,2}/[0-9]{1,2}")

_COMMON_UNITS: Final[dict[Dimension, tuple[str, ...]]] = {
    LENGTH: ("ft", "in", "m"),
    FORCE: ("lb", "kg"),
    FORCE_PER_LENGTH: ("lb/ft", "kg/m"),
    DURATION: ("s", "days", "months", "years"),
}
"""Units that somebody who wrote none most likely had in mind."""


def with_a_unit(text: str, dimension: Dimension) -> str:
    """A figure that was written without its unit, with those that may have been meant.

    A fraction alone is a size, and sizes are told in inches.

    >>> with_a_unit("42.5", LENGTH), with_a_unit("3/8", LENGTH)
    ('42.5 ft, 42.5 in or 42.5 m', '3/8 in')
    """
    if dimension == LENGTH and _A_SIZE.fullmatch(text):
        return f"{text} in"
    *most, last = _COMMON_UNITS.get(dimension, ("",))
    bare = all(sign.isdigit() or sign in " ./-" for sign in text)
    return (
        f"{', '.join(f'{text} {unit}' for unit in most)} or {text} {last}"
        if most and bare
        else wanted(dimension)
    )


def quoted(text: str) -> str:
    """What somebody wrote, in marks, cut where it is too long for a line."""
    return f"“{text}”" if len(text) <= 40 else f"“{text[:39]}…”"
