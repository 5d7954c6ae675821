"""Moment and level along a pipe whose pulls are known: by statics from the left, integrated twice for the level.

A pull of 1 N with the tensions that it brings gives a share of the curve; the curves of a straight sum are the
sum of such shares. Levels are those at the stiffness `STIFFNESS`.
"""

from collections.abc import Sequence

import numpy as np

from plumbtrue.facts.computed.batten_solving import STIFFNESS
from plumbtrue.mechanics.batten import Load, PointLoad, SpreadLoad
from plumbtrue.mechanics.held import FloatArray, HeldBatten


def _beyond(xs: FloatArray, at: float, power: int) -> FloatArray:
    found: FloatArray = np.maximum(xs - at, 0.0) ** power
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
    found = np.zeros(len(xs))
    for line, tension in zip(held.lines, tensions, strict=True):
        found += tension * _beyond(xs, line.at, 1)
    for load in loads:
        match load:
            case PointLoad(at, weight):
                found -= weight * _beyond(xs, at, 1)
            case SpreadLoad(start, end, intensity, _):
                found -= intensity * (_beyond(xs, start, 2) - _beyond(xs, end, 2)) / 2
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
    found = np.zeros(len(xs))
    for line, tension in zip(held.lines, tensions, strict=True):
        found += tension * _beyond(xs, line.at, 3) / 6
    for load in loads:
        match load:
            case PointLoad(at, weight):
                found -= weight * _beyond(xs, at, 3) / 6
            case SpreadLoad(start, end, intensity, _):
                found -= intensity * (_beyond(xs, start, 4) - _beyond(xs, end, 4)) / 24
    found /= STIFFNESS
    for splice, kink in zip(held.batten.turning_splices, kinks, strict=True):
        found += kink * _beyond(xs, splice.at, 1)
    return found
