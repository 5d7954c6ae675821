"""Which lines pull and which hang slack. A rope cannot push, so a batten hangs on those of its lines that end
up tight.

Many cases (weights, offsets) are settled at once, since thousands are asked for when inputs are known within
bounds.
"""

from itertools import product

import numpy as np

from plumbtrue.mechanics.held import BoolArray, FloatArray, HeldBatten
from plumbtrue.quantities.unchanging import unchanging

_NEGLIGIBLE = 1e-9
"""Share of the load below which a tension counts as none, and of the sag below which a gap does."""


@unchanging(eq=False)
class Settled:
    """Where the batten comes to rest in each case. A case that does not hang is NaN throughout."""

    tensions: FloatArray
    """[N], shape (cases, lines)."""
    levels: FloatArray
    """Of the pipe at the lines [m], upwards, shape (cases, lines)."""
    kinks: FloatArray
    """Of the splices that turn [rad], sagging positive, shape (cases, splices)."""
    tight: BoolArray
    """Shape (cases, lines)."""
    hangs: BoolArray
    """Shape (cases,)."""


def settle(held: HeldBatten, effects: FloatArray, offsets: FloatArray, *, tension_only: bool) -> Settled:
    """Find tensions and levels for many cases of one batten.

    Args:
        effects: of all loads of a case together, the pipe's own weight among them, shape (cases, lines +
            motions).
        offsets: of the lines [m], shape (lines,) or (cases, lines).
        tension_only: lines only pull; otherwise each is a support that pushes as well.
    """
    sides = held.with_offsets(effects, offsets)
    if len(held.lines) == 1:
        return _on_a_lone_line(held, sides, offsets)
    answers, tight = _pulling(held, sides) if tension_only else _two_way(held, sides)
    n, L = len(held.lines), held.batten.length
    return Settled(
        tensions=answers[:, :n],
        # Supports that push as well are all tight.
        levels=held.levels(sides, answers, offsets) if tension_only else held.ends(answers, offsets),
        kinks=answers[:, n + 2 :] * (held.level_scale / L),
        tight=tight,
        hangs=np.isfinite(answers[:, 0]),
    )


def _on_a_lone_line(held: HeldBatten, sides: FloatArray, offsets: FloatArray) -> Settled:
    """A lone line takes everything that hangs plumb under it, and nothing else; the tilt stays open and is
    drawn level.
    """
    weight, moment = sides[:, 1], sides[:, 2]
    place = held.lines[0].at / held.batten.length
    plumb = np.abs(moment - weight * place) <= _NEGLIGIBLE * np.abs(weight)
    hangs = plumb & (not held.batten.turning_splices)
    tensions = np.where(hangs, weight, np.nan)[:, None]
    return Settled(
        tensions=tensions,
        levels=offsets - tensions * held.compliances,
        kinks=np.zeros((len(sides), len(held.batten.turning_splices))),
        tight=np.ones_like(tensions, dtype=bool),
        hangs=hangs,
    )


def _two_way(held: HeldBatten, sides: FloatArray) -> tuple[FloatArray, BoolArray]:
    everyone = np.ones((len(sides), len(held.lines)), dtype=bool)
    answers = held.answers(sides, everyone[0])
    return (np.full_like(sides, np.nan) if answers is None else answers), everyone


def _pulling(held: HeldBatten, sides: FloatArray) -> tuple[FloatArray, BoolArray]:
    """Let go of the line that pushes hardest, else take up the slack line that the pipe passes furthest,
    until neither is left.

    Each step changes one line. Sets that come round again are settled by `_by_trying_every_set`.
    """
    n = len(held.lines)
    answers = np.full_like(sides, np.nan)
    tight = np.ones((len(sides), n), dtype=bool)
    open_cases = np.arange(len(sides))
    for step in range(4 * n):
        if step == 1:  # Most cases have settled with every line tight; only the others need be asked.
            hangs = held.can_hang(sides[open_cases])
            answers[open_cases[~hangs]] = np.nan
            open_cases = open_cases[hangs]
        if not len(open_cases):
            return answers, tight
        still_open = []
        for each, cases in _by_set(tight, open_cases):
            found = held.answers(sides[cases], each)
            if found is None:
                still_open.append(cases)
                continue
            answers[cases] = found
            push, gap = _faults(held, sides[cases], found, each)
            worst_push, worst_gap = push.argmax(axis=1), gap.argmax(axis=1)
            rows = np.arange(len(cases))
            pushes, gapes = push[rows, worst_push] > 0, gap[rows, worst_gap] > 0
            tight[cases[pushes], worst_push[pushes]] = False
            taken_up = gapes & ~pushes
            tight[cases[taken_up], worst_gap[taken_up]] = True
            still_open.append(cases[pushes | gapes])
        open_cases = np.concatenate(still_open)
    for case in open_cases:
        answers[case], tight[case] = _by_trying_every_set(held, sides[case])
    return answers, tight


def _by_set(tight: BoolArray, cases: np.ndarray) -> list[tuple[BoolArray, np.ndarray]]:
    """The cases gathered by their set of tight lines."""
    if len(cases) == 1:
        return [(tight[cases[0]].copy(), cases)]
    sets, which = np.unique(tight[cases], axis=0, return_inverse=True)
    return [(each, cases[which.ravel() == i]) for i, each in enumerate(sets)]


def _faults(
    held: HeldBatten, sides: FloatArray, answers: FloatArray, tight: BoolArray
) -> tuple[FloatArray, FloatArray]:
    """How far each tight line pushes, and how far the pipe hangs below the end of each slack one; 0 if not."""
    n = len(held.lines)
    tensions, clear = answers[:, :n], held.clearances(sides, answers)
    load = np.maximum(np.abs(sides[:, n]), np.abs(tensions).max(axis=1))[:, None]
    sag = np.abs(sides[:, :n]).max(axis=1)[:, None]
    push = np.where(tight, -tensions - _NEGLIGIBLE * load, 0.0)
    gap = np.where(tight, 0.0, -clear - _NEGLIGIBLE * sag)
    return np.maximum(push, 0.0), np.maximum(gap, 0.0)


def _by_trying_every_set(held: HeldBatten, side: FloatArray) -> tuple[FloatArray, BoolArray]:
    """The tight lines of least energy, found by trying every set: the problem is convex, so one state alone
    fits.

    Slow (4,096 sets of 12 lines) and certain; wanted only where the quick way goes round in a circle.
    """
    best, fault = (np.full_like(side, np.nan), np.ones(len(held.lines), dtype=bool)), np.inf
    for chosen in product((True, False), repeat=len(held.lines)):
        tight = np.array(chosen)
        answers = held.answers(side[None], tight)
        if answers is None:
            continue
        push, gap = _faults(held, side[None], answers, tight)
        if (worst := push.max() + gap.max()) < fault:
            best, fault = (answers[0], tight), worst
    return best
