"""The nearest permitted word to a misspelt one."""

from collections.abc import Iterable
from typing import Final

_SHORTEST: Final = 4
"""Letters that a part of a word must have to stand for the whole."""


def nearest(word: str, permitted: Iterable[str]) -> str | None:
    """The permitted word that was most likely meant, or nothing when none is near.

    A letter left out, added, changed, or swapped with its neighbour is one step. Case, and whether words are
    joined by hyphens, underscores or spaces, count for nothing. One step is allowed for each three letters,
    and at least one, but never all of them; of equally near words the one that begins alike is offered, then
    the first in the alphabet. Where none is near, the only one that has the whole word in it is meant.

    >>> nearest("diamter", ["diameter", "length", "depth"])
    'diameter'
    >>> nearest("swage_sleeve", ["swage-sleeve", "thimble"])
    'swage-sleeve'
    >>> nearest("clips", ["swage-sleeve", "wire-rope-clips"])
    'wire-rope-clips'
    >>> nearest("colour", ["diameter", "length"]) is None
    True
    """
    permitted = list(permitted)
    wanted = _levelled(word)
    if not wanted:
        return None
    allowed = min(max(1, len(wanted) // 3), len(wanted) - 1)
    ranked = sorted(
        (steps, candidate[:1].lower() != wanted[:1], candidate)
        for candidate in permitted
        if (steps := _steps(wanted, _levelled(candidate), allowed)) <= allowed
    )
    return ranked[0][2] if ranked else _only_one_with(wanted, permitted)


def _only_one_with(wanted: str, permitted: Iterable[str]) -> str | None:
    """The one word of several parts that has this one, or these, among them; none where two have."""
    parts = set(wanted.split("-"))
    found = [candidate for candidate in permitted if parts < set(_levelled(candidate).split("-"))]
    return found[0] if len(wanted) >= _SHORTEST and len(found) == 1 else None


def _levelled(word: str) -> str:
    return word.strip().lower().replace("_", "-").replace(" ", "-")


def _steps(one: str, other: str, allowed: int) -> int:
    """Steps from one word to the other (optimal string alignment).

    More than `allowed` as soon as it must come to that.
    """
    too_many = allowed + 1
    if abs(len(one) - len(other)) > allowed or len(one) > 80:
        return too_many
    before_last: list[int] = []
    last = list(range(len(other) + 1))
    for i, letter in enumerate(one, start=1):
        row = [i]
        for j, counterpart in enumerate(other, start=1):
            steps = min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (letter != counterpart))
            if i > 1 and j > 1 and letter == other[j - 2] and one[i - 2] == counterpart:
                steps = min(steps, before_last[j - 2] + 1)
            row.append(steps)
        if min(row) > allowed:
            return too_many
        before_last, last = last, row
    return last[-1]
