"""Moment and level along a pipe whose pulls are known: by statics from the left, integrated twice for the level.

A pull of 1 N with the tensions that it brings gives a share of the curve; the curves of a straight sum are the
sum of such shares. Levels are those at the stiffness `STIFFNESS`.
"""

from collections.abc import Sequence
from math import factorial

import numpy as np

from plumbtrue.facts.computed.batten_solving import STIFFNESS
from plumbtrue.mechanics.batten import Load, PointLoad, SpreadLoad
from plumbtrue.mechanics.held import FloatArray, HeldBatten


def _beyond(xs: FloatArray, at: float, power: int) -> FloatArray:
    """The singularity function <x - a>^n / n!, whose derivative is the one of the power below."""
    found: FloatArray = np.maximum(xs - at, 0.0) ** power / factorial(power)
    return found


def _own_weight(held: HeldBatten) -> tuple[Load, ...]:
    batten = held.batten
    if batten.weight_per_length == 0:
        return ()
    return (SpreadLoad.uniform(0.0, batten.length, batten.weight),)


def moments_under(
    held: HeldBatten, loads: Sequence[Load], tensions: FloatArray, xs: FloatArray
) -> FloatArray:
    """Bending moment at places [N m] under loads and the pipe's own weight."""
    return moments_of(held, (*_own_weight(held), *loads), tensions, xs)


def moments_of(held: HeldBatten, loads: Sequence[Load], tensions: FloatArray, xs: FloatArray) -> FloatArray:
    """Bending moment at places [N m], by statics from the left."""
    return _integrated(held, loads, tensions, xs, 1)


def _integrated(
    held: HeldBatten, loads: Sequence[Load], tensions: FloatArray, xs: FloatArray, times: int
) -> FloatArray:
    """The shear that tensions and loads leave to the left of each place, integrated so many times over."""
    found = np.zeros(len(xs))
    for line, tension in zip(held.lines, tensions, strict=True):
        found += tension * _beyond(xs, line.at, times)
    for load in loads:
        match load:
            case PointLoad(at, weight):
                found -= weight * _beyond(xs, at, times)
            case SpreadLoad(start, end, intensity, _):
                found -= intensity * (_beyond(xs, start, times + 1) - _beyond(xs, end, times + 1))
    return found


def levels_under(
    held: HeldBatten,
    loads: Sequence[Load],
    tensions: FloatArray,
    kinks: FloatArray,
    tight: np.ndarray,
    xs: FloatArray,
) -> FloatArray:
    """Level of the pipe at places [m] under loads and its own weight."""
    return levels_of(held, (*_own_weight(held), *loads), tensions, kinks, tight, xs)


def levels_of(
    held: HeldBatten,
    loads: Sequence[Load],
    tensions: FloatArray,
    kinks: FloatArray,
    tight: np.ndarray,
    xs: FloatArray,
) -> FloatArray:
    """Level of the pipe at places [m], upwards: the moment integrated twice, nought at the tight lines."""
    places = np.array([line.at for line in held.lines])
    held_at = places[tight]
    every = np.concatenate([xs, [held_at.min(), held_at.max()]])
    curve = _curve(held, loads, tensions, kinks, every)
    first, last = curve[-2], curve[-1]
    if held_at.max() - held_at.min() < 1e-9:
        level: FloatArray = curve[:-2] - first
        return level
    slope = (last - first) / (held_at.max() - held_at.min())
    found: FloatArray = curve[:-2] - first - slope * (xs - held_at.min())
    return found


def _curve(
    held: HeldBatten, loads: Sequence[Load], tensions: FloatArray, kinks: FloatArray, xs: FloatArray
) -> FloatArray:
    found = _integrated(held, loads, tensions, xs, 3)
    found /= STIFFNESS
    for splice, kink in zip(held.batten.turning_splices, kinks, strict=True):
        found += kink * _beyond(xs, splice.at, 1)
    return found
