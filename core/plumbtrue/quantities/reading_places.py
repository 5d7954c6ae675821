"""Places along a batten: `6'-0"` from the end that the house counts from, `SL 6'-0"`, `CL`, `both 6'-0"`.

Stage left and right are as seen facing the house; from the centre line, stage left counts positive.
"""

import re
from functools import lru_cache
from typing import Final

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import LENGTH
from plumbtrue.quantities.figures import LONGEST, plain
from plumbtrue.quantities.reading_quantities import read_quantity
from plumbtrue.quantities.unreadable import Unreadable, quoted, wanted, with_a_unit
from plumbtrue.quantities.values import Spot

CENTRE: Final = Spot(from_centre=True, distance=Bounds.exactly(0.0))

WANTED: Final = "a place along the batten, such as SL 6'-0\", SR 6'-0\", CL or 6'-0\""

_SIDE = re.compile(r"(SL|SR|CL)\b\.? ?(.*)", re.IGNORECASE)
_SIDE_LAST = re.compile(r"(.+?) ?(?<![a-z])(SL|SR|(?:stage )?(?:left|right))", re.IGNORECASE)
_SIDE_JOINED = re.compile(r"(SL|SR)([0-9.].*)", re.IGNORECASE)
_CENTRE_ALONE = re.compile(r"c|c/l|cent(?:re|er)(?: ?line)?", re.IGNORECASE)
_LONG_SIDE = re.compile(r"(?:stage )?(left|right|centre|center)(?: line)? ?(.*)", re.IGNORECASE)
_LETTERS = {"sl": "SL", "sr": "SR", "left": "SL", "right": "SR", "centre": "CL", "center": "CL"}


@lru_cache(maxsize=4096)
def read_spot(text: str) -> Spot | Unreadable:
    """One place along a batten [m].

    >>> read_spot("SR 10 ft")
    Spot(from_centre=True, distance=Bounds(low=-3.048, high=-3.048))
    """
    if len(text) > LONGEST:
        return Unreadable(f"{quoted(text)} is too long for a place", WANTED, "place-unreadable")
    text = plain(text)
    if text.lower().startswith("both "):
        instead = f"SL {text[5:]} or SR {text[5:]}"
        return Unreadable(f"{quoted(text)} is two places; one is wanted", instead, "place-unreadable")
    if found := _SIDE.fullmatch(text):
        return _beside_centre(text, found[1].upper(), found[2])
    if (found := _SIDE_LAST.fullmatch(text)) and isinstance(_length(found[1]), Bounds):
        side = _LETTERS[found[2].lower().removeprefix("stage ")]
        return Unreadable(f"the side comes first in {quoted(text)}", f"{side} {found[1]}", "place-unreadable")
    if (found := _SIDE_JOINED.fullmatch(text)) and isinstance(_length(found[2]), Bounds):
        instead = f"{found[1].upper()} {found[2]}"
        return Unreadable(f"there is no space behind the side in {quoted(text)}", instead, "place-unreadable")
    if _CENTRE_ALONE.fullmatch(text):
        return Unreadable(f"{quoted(text)} is not read as a place", "CL", "place-unreadable")
    if found := _LONG_SIDE.fullmatch(text):
        instead = f"{_LETTERS[found[1].lower()]} {found[2]}".strip()
        return Unreadable(f"{quoted(text)} is not read as a place", instead, "place-unreadable")
    distance = _length(text)
    return distance if isinstance(distance, Unreadable) else Spot(from_centre=False, distance=distance)


@lru_cache(maxsize=1024)
def read_spots(text: str) -> tuple[Spot, ...] | Unreadable:
    """One place, or the two of `both 6'-0"`: stage left first.

    >>> [spot.distance.low for spot in read_spots("both 10 ft")]
    [3.048, -3.048]
    """
    written = plain(text[: LONGEST + 1])
    if not written.lower().startswith("both ") or len(text) > LONGEST:
        spot = read_spot(text)
        return spot if isinstance(spot, Unreadable) else (spot,)
    distance = _length(written[5:], "both ")
    if isinstance(distance, Unreadable):
        return distance
    if distance.low < 0:
        return _wrong_side(written, f"both {written[5:].lstrip('- ')}")
    return Spot(from_centre=True, distance=distance), Spot(from_centre=True, distance=-distance)


def _beside_centre(text: str, side: str, distance_text: str) -> Spot | Unreadable:
    if side == "CL":
        if not distance_text:
            return CENTRE
        instead = f"CL alone, SL {distance_text} or SR {distance_text}"
        return Unreadable(f"CL is the centre line itself, not {quoted(text)}", instead, "place-unreadable")
    if not distance_text:
        return Unreadable(
            f"{side} does not say how far from the centre line", f"{side} 6'-0\"", "place-unreadable"
        )
    distance = _length(distance_text, f"{side} ")
    if isinstance(distance, Unreadable):
        return distance
    if distance.low < 0:
        other = "SR" if side == "SL" else "SL"
        return _wrong_side(text, f"{other} {distance_text.lstrip('- ')}")
    return Spot(from_centre=True, distance=distance if side == "SL" else -distance)


def _length(text: str, side: str = "") -> Bounds | Unreadable:
    """A length, perhaps behind a side or `both`; where it is none, a place is offered, not a bare length."""
    length = read_quantity(text, LENGTH)
    if isinstance(length, Bounds):
        return length
    instead = WANTED if length.instead == wanted(LENGTH) else f"{side}{length.instead}"
    if length.slug == "unit-missing" and length.instead == with_a_unit(text, LENGTH):
        instead = f"{side}{text} ft or {side}{text} m"
    return Unreadable(length.what, instead, length.slug)


def _wrong_side(text: str, instead: str) -> Unreadable:
    return Unreadable(f"{quoted(text)} names a side and lies on the other", instead, "place-unreadable")
