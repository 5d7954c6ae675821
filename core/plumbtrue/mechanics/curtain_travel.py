"""Curtains on a batten, closed, drawn into stacks, and every step between: a heavy lump that travels from
line to line.

What a curtain weighs does not belong here. Ropes that draw it pull along the track, which is not computed.
"""

from collections.abc import Sequence
from typing import Literal

import numpy as np

from plumbtrue.mechanics.batten import Load, SpreadLoad, must_hold_together
from plumbtrue.mechanics.held import FloatArray, HeldBatten
from plumbtrue.mechanics.reactions import Levelled, does_not_hang, resting_offsets
from plumbtrue.mechanics.refusal import Refused, must_be_positive
from plumbtrue.mechanics.tight import settle
from plumbtrue.quantities.unchanging import unchanging

Gathering = Literal["at the leading edge", "at the off-stage end"]
"""Where the carriers bunch while the curtain opens. Not known: take the envelope of both."""


def closed(weight: float, start: float, end: float) -> tuple[Load, ...]:
    """A curtain [N] drawn over its whole track, from start to end [m]."""
    return (SpreadLoad.uniform(start, end, weight),)


def stacked(weight: float, start: float, end: float, stack_length: float) -> tuple[Load, ...]:
    """A bi-parting curtain [N] open: half of it in a stack [m] at each end of the track.

    Raises:
        ValueError: the stacks are longer than the track.
    """
    must_be_positive(stack_length=stack_length)
    if 2 * stack_length > end - start:
        raise ValueError(f"two stacks of {stack_length} m do not fit on a track of {end - start} m")
    return (
        SpreadLoad.uniform(start, start + stack_length, weight / 2),
        SpreadLoad.uniform(end - stack_length, end, weight / 2),
    )


@unchanging
class Traveller:
    """Half a curtain on carriers: weight [N], width when closed, length of its full stack, off-stage end on
    the batten [m].

    `towards` is 1 when it closes towards greater x, and -1 when it closes towards lesser.
    """

    weight: float
    width: float
    stack_length: float
    off_stage_end: float
    towards: Literal[1, -1] = 1

    def __post_init__(self) -> None:
        must_be_positive(weight=self.weight, width=self.width, stack_length=self.stack_length)
        if not self.stack_length < self.width:
            raise ValueError(
                f"a stack of {self.stack_length} m is no shorter than a curtain of {self.width} m"
            )

    def loads(self, leading_edge: float, gathering: Gathering) -> tuple[Load, ...]:
        """The curtain with its leading edge so far from the off-stage end [m]: a stack, and cloth hung out
        beside it.

        Cloth hangs at `w = W/B`, a stack at `q = W/l`, so the stack is `(W - w s)/(q - w)` long.

        >>> half = Traveller(300.0, width=6.0, stack_length=1.0, off_stage_end=0.0)
        >>> [load.weight for load in half.loads(3.5, "at the off-stage end")]
        [150.0, 150.0]
        """
        out, bunched = self.weight / self.width, self.weight / self.stack_length
        stack = (self.weight - out * leading_edge) / (bunched - out)
        if gathering == "at the leading edge":
            parts = [(0.0, leading_edge - stack, out), (leading_edge - stack, leading_edge, bunched)]
        else:
            parts = [(0.0, stack, bunched), (stack, leading_edge, out)]
        return tuple(self._part(*part) for part in parts if part[1] - part[0] > 1e-9 * self.width)

    def _part(self, start: float, end: float, intensity: float) -> SpreadLoad:
        places = sorted(self.off_stage_end + self.towards * place for place in (start, end))
        return SpreadLoad(places[0], places[1], intensity, intensity)


@unchanging(eq=False)
class TravelEnvelope:
    """Greatest and least tension of each line on the way [N], and the leading edge [m] at which it comes; all
    (lines,).
    """

    greatest: FloatArray
    greatest_at: FloatArray
    least: FloatArray
    least_at: FloatArray


def travel_envelope(
    held: HeldBatten,
    traveller: Traveller,
    step: float,
    gatherings: Sequence[Gathering],
    *,
    loads: Sequence[Load] = (),
    tension_only: bool = True,
    levelled: Levelled = "bare",
) -> TravelEnvelope | Refused:
    """Tensions over the whole travel of a half curtain, from full stack to closed, in steps [m] of its
    leading edge.

    Args:
        step: 50 mm is fine enough for any pipe; the last step ends at the closed curtain.
        gatherings: one, or both when nobody knows.
        loads: whatever else hangs meanwhile.
    Returns:
        The envelope, or a refusal when the batten tips on the way.
    """
    must_be_positive(step=step)
    edges = np.append(np.arange(traveller.stack_length, traveller.width, step), traveller.width)
    states = [(float(edge), traveller.loads(float(edge), way)) for way in gatherings for edge in edges]
    must_hold_together(held.batten, held.lines, [*loads, *(part for _, parts in states for part in parts)])
    offsets = resting_offsets(held, loads, tension_only=tension_only, levelled=levelled)
    if isinstance(offsets, Refused):
        return offsets
    effects = _effects(held, loads, [parts for _, parts in states])
    settled = settle(held, effects, offsets, tension_only=tension_only)
    if not settled.hangs.all():
        return does_not_hang(held)
    at = np.array([edge for edge, _ in states])
    highest, lowest = settled.tensions.argmax(axis=0), settled.tensions.argmin(axis=0)
    each = np.arange(len(held.lines))
    return TravelEnvelope(
        settled.tensions[highest, each], at[highest], settled.tensions[lowest, each], at[lowest]
    )


def _effects(held: HeldBatten, loads: Sequence[Load], states: Sequence[tuple[Load, ...]]) -> FloatArray:
    """Effects of every state together with what hangs throughout, shape (states, lines + motions)."""
    parts = held.effects([part for state in states for part in state])
    state_of = np.repeat(np.arange(len(states)), [len(state) for state in states])
    effects = np.tile(held.own_effect + held.effects(loads).sum(axis=0), (len(states), 1))
    np.add.at(effects, state_of, parts)
    return effects
