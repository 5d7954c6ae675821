"""Cutting ropes from reels: the fewest reels that hold all the pieces.

Best-fit filling gives a first answer; a branch-and-bound search looks for one reel fewer until none is left
or the lower bound is met. A search that outgrows its budget says so and tells what is known. The packing
comes in a fixed order: pieces long to short, each kept together with its number. Source: one-dimensional
cutting stock (derived).
"""

from collections.abc import Sequence
from math import ceil

from plumbtrue.mechanics.refusal import Refused, must_be_positive
from plumbtrue.quantities.unchanging import unchanging

_GRAIN = 1e-9
"""Lengths that differ by less than this share of a reel are the same."""


@unchanging
class CutList:
    """Pieces (numbers from 0) on each reel; waste over all reels [m]; whether fewer reels are known to be
    impossible."""

    reels: tuple[tuple[int, ...], ...]
    total: float
    waste: float
    is_fewest: bool
    at_least: int
    """Number of reels below which no packing exists."""


def cut_list(pieces: Sequence[float], reel: float, *, search_budget: int = 400_000) -> CutList | Refused:
    """Fewest reels for a list of pieces.

    Args:
        pieces: lengths to cut [m], more than 0.
        reel: length on a reel [m].
        search_budget: steps of the search before it stops with the best packing found.
    Returns:
        A refusal when a piece is longer than a reel.

    >>> told = cut_list([88.5, 96.0, 103.5, 111.0, 118.5, 90.0, 97.5, 105.0, 112.5, 120.0], 250.0)
    >>> len(told.reels), told.waste
    (5, 207.5)
    """
    must_be_positive(reel=reel, **{f"piece_{number}": length for number, length in enumerate(pieces, 1)})
    room = reel * (1 + _GRAIN)
    longest = max(pieces, default=0.0)
    if longest > room:
        return Refused(
            f"a piece of {longest:g} m is longer than a reel", f"pieces up to {reel:g} m", "geometry"
        )
    order = sorted(range(len(pieces)), key=lambda piece: (-pieces[piece], piece))
    packing = _best_fit(order, pieces, room)
    least = _least_reels([pieces[piece] for piece in order], room)
    search = _Search([pieces[piece] for piece in order], room, search_budget)
    is_fewest = True
    while len(packing) > least:
        fewer = search.into(len(packing) - 1)
        if fewer is None:
            is_fewest = not search.gave_up
            least = len(packing) if is_fewest else least
            break
        packing = [[order[place] for place in reel_places] for reel_places in fewer]
    reels = tuple(sorted(tuple(sorted(filled)) for filled in packing))
    total = sum(pieces)
    return CutList(reels, total, len(reels) * reel - total, is_fewest, least)


def _best_fit(order: Sequence[int], pieces: Sequence[float], room: float) -> list[list[int]]:
    filled: list[list[int]] = []
    left: list[float] = []
    for piece in order:
        fits = [reel for reel, space in enumerate(left) if pieces[piece] <= space]
        if fits:
            tightest = min(fits, key=lambda reel: left[reel])
            filled[tightest].append(piece)
            left[tightest] -= pieces[piece]
        else:
            filled.append([piece])
            left.append(room - pieces[piece])
    return filled


def _least_reels(lengths: Sequence[float], room: float) -> int:
    """Lower bound of Martello and Toth (Knapsack Problems, 1990, from memory): long pieces need a reel each,
    and what does not fit beside them needs more."""
    best = ceil(sum(lengths) / room - _GRAIN)
    for small in {length for length in lengths if length <= room / 2} | {0.0}:
        alone = [length for length in lengths if length > room - small]
        halves = [length for length in lengths if room / 2 < length <= room - small]
        rest = [length for length in lengths if small <= length <= room / 2]
        over = sum(rest) - (len(halves) * room - sum(halves))
        best = max(best, len(alone) + len(halves) + max(0, ceil(over / room - _GRAIN)))
    return best


class _Search:
    """Looks for a packing into a given number of reels, piece by piece from the longest, trying reels with
    unlike room only."""

    def __init__(self, lengths: Sequence[float], room: float, budget: int) -> None:
        self._lengths = lengths
        self._room = room
        self._budget = budget
        self.gave_up = False

    def into(self, reels: int) -> list[list[int]] | None:
        left = [self._room] * reels
        filled: list[list[int]] = [[] for _ in range(reels)]
        waste = reels * self._room - sum(self._lengths)
        return filled if waste >= 0 and self._place(0, left, filled) else None

    def _place(self, piece: int, left: list[float], filled: list[list[int]]) -> bool:
        if piece == len(self._lengths):
            return True
        self._budget -= 1
        if self._budget < 0:
            self.gave_up = True
            return False
        length = self._lengths[piece]
        # An equal piece before this one: the same reel or a later one, or the two would only change places.
        after = -1
        if piece > 0 and self._lengths[piece - 1] == length:
            after = next(reel for reel, held in enumerate(filled) if piece - 1 in held) - 1
        seen: list[float] = []
        for reel in range(max(0, after + 1), len(left)):
            space = left[reel]
            if length > space or any(abs(space - other) <= _GRAIN * self._room for other in seen):
                continue
            seen.append(space)
            left[reel] -= length
            filled[reel].append(piece)
            if self._place(piece + 1, left, filled):
                return True
            filled[reel].pop()
            left[reel] = space
            if self.gave_up:
                return False
            if abs(space - length) <= _GRAIN * self._room:
                # A piece that fills a reel exactly is as well placed as it can be.
                return False
        return False
