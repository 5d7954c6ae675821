"""The tension of every lift line of a batten: the one door to the beam on its lines.

    batten = Batten(length=12.8, EI=25800.0, weight_per_length=39.7)
    lines = [Line(at, stiffness=61000.0) for at in (0.3, 3.4, 6.4, 9.4, 12.5)]
    answer = solve(batten, lines, [PointLoad(4.0, weight=900.0), SpreadLoad.uniform(6.0, 11.0, weight=700.0)])
    if isinstance(answer, Refused):     # the batten tips, or its pieces can move
        ...
    answer.tensions, answer.slack, answer.sensitivity, answer.bending().greatest_moment

By default lines only pull, and the crew has levelled the bare pipe, so that the stretch under it is taken out
(common practice). The tension is the one just above the batten: termination and rope above it are not in it.
Assumed: a straight slender pipe, small deflections (`Bending.beyond_small_deflection`), lines within 5
degrees of plumb, no twist. Load bounds, trim tolerance, splice models each have a module of their own;
`solve` answers for one state.
"""

from collections.abc import Sequence
from typing import Literal

import numpy as np

from plumbtrue.mechanics.batten import Batten, Line, Load, PointLoad, must_lie_on, own_weight
from plumbtrue.mechanics.bending import Bending, bend
from plumbtrue.mechanics.held import FloatArray, HeldBatten, hold
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.tight import Settled, settle
from plumbtrue.quantities.unchanging import unchanging

Levelled = Literal["bare", "loaded", "slack"]
"""How the crew trimmed the batten: the bare pipe level, the loaded one level, or the line ends level before
they pull.
"""


@unchanging(eq=False)
class Reactions:
    """A batten at rest: tensions, levels, and from them everything along the pipe. Lines keep the order they
    came in.
    """

    held: HeldBatten
    loads: tuple[Load, ...]
    """What hangs, without the pipe's own weight."""
    tensions: FloatArray
    """Of each line just above the batten [N], shape (lines,). Negative only for two-way supports."""
    levels: FloatArray
    """Of the pipe at each line [m], upwards from level trim, shape (lines,)."""
    offsets: FloatArray
    """Of each line's end with its levelling [m], shape (lines,)."""
    kinks: FloatArray
    """Of each splice that turns [rad], sagging positive."""
    tight: tuple[bool, ...]
    """Which lines hold; all of them for two-way supports."""
    tension_only: bool

    @property
    def slack(self) -> tuple[int, ...]:
        """Indices of the lines without tension, under a thousand-millionth of the load; none for two-way
        supports.
        """
        if not self.tension_only:
            return ()
        return tuple(i for i, tension in enumerate(self.tensions) if tension <= 1e-9 * abs(self.weight))

    @property
    def weight(self) -> float:
        """Everything the lines carry [N]: loads and pipe."""
        return self.held.batten.weight + sum(load.weight for load in self.loads)

    @property
    def sensitivity(self) -> FloatArray | None:
        """Change of each tension for a change of each offset, `dR/dd` [N/m], shape (lines, lines), for the
        lines that pull.

        Symmetric; rows sum to zero, since a common shift changes nothing. None for a lone line, which feels
        no offset.
        """
        return self.held.sensitivity(np.array(self.tight))

    def bending(self) -> Bending:
        """Shear, moment and deflection along the pipe under these tensions."""
        lines = self.held.lines
        holding = sorted((lines[i].at, float(self.levels[i])) for i, tight in enumerate(self.tight) if tight)
        return bend(
            self.held.batten,
            (*own_weight(self.held.batten), *self.loads),
            [PointLoad(line.at, -float(tension)) for line, tension in zip(lines, self.tensions, strict=True)],
            tuple(float(kink) for kink in self.kinks),
            holding,
        )


def solve(
    batten: Batten,
    lines: Sequence[Line],
    loads: Sequence[Load],
    *,
    tension_only: bool = True,
    levelled: Levelled = "bare",
) -> Reactions | Refused:
    """Tensions of the lift lines of a batten, and where it comes to rest.

    Args:
        loads: what hangs; the pipe's own weight is added.
        tension_only: lines only pull. Two-way supports are for comparison with textbooks: where they give a
            negative figure, a rope would have to push, and that figure is no answer.
        levelled: see `Levelled`; a line's own offset comes on top of the levelling.
    Returns:
        The state of rest, or a refusal (`unstable`) when the batten tips or its pieces can move.
    Raises:
        ValueError: lines or loads that this batten cannot have.
    Source: stiffness of slender beams, any textbook of structures; slack lines as the complementarity of pull
    and gap.

    >>> from plumbtrue.mechanics.batten import SpreadLoad
    >>> pipe = Batten(length=6.0, EI=25800.0)
    >>> lines = [Line(0.0), Line(3.0), Line(6.0)]
    >>> answer = solve(pipe, lines, [SpreadLoad.uniform(0.0, 6.0, weight=800.0)])
    >>> answer.tensions.round(6).tolist()  # 3/8, 10/8, 3/8 of the load of a span.
    [150.0, 500.0, 150.0]
    """
    return solve_held(hold(batten, lines), loads, tension_only=tension_only, levelled=levelled)


def solve_held(
    held: HeldBatten, loads: Sequence[Load], *, tension_only: bool = True, levelled: Levelled = "bare"
) -> Reactions | Refused:
    """The same for a batten whose flexibility is already worked out: many loads, one `hold`."""
    must_lie_on(held.batten, loads)
    offsets = resting_offsets(held, loads, tension_only=tension_only, levelled=levelled)
    if isinstance(offsets, Refused):
        return offsets
    settled = _settled(held, loads, offsets, tension_only=tension_only)
    if isinstance(settled, Refused):
        return settled
    return Reactions(
        held=held,
        loads=tuple(loads),
        tensions=settled.tensions[0],
        levels=settled.levels[0],
        offsets=offsets,
        kinks=settled.kinks[0],
        tight=tuple(settled.tight[0].tolist()),
        tension_only=tension_only,
    )


def resting_offsets(
    held: HeldBatten, loads: Sequence[Load], *, tension_only: bool, levelled: Levelled
) -> FloatArray | Refused:
    """Offsets of the line ends [m], shape (lines,), once the crew has levelled the batten; measured offsets
    on top.

    The levelling takes out the stretch that each rigid, exact line would have under the bare (or loaded)
    pipe. A line which that pipe leaves slack is taken up until its end just meets the pipe, without tension.
    """
    measured = np.array([line.offset for line in held.lines])
    nothing_to_take_out = not tension_only and not held.stretches
    if levelled == "slack" or nothing_to_take_out:
        return measured
    hung = loads if levelled == "loaded" else ()
    level = _settled(held.on_rigid_lines(), hung, np.zeros_like(measured), tension_only=tension_only)
    if isinstance(level, Refused):
        return level
    taken_out: FloatArray = np.where(level.tight[0], level.tensions[0] * held.compliances, level.levels[0])
    resting: FloatArray = measured + taken_out
    return resting


def tension_hull(
    batten: Batten, lines: Sequence[Line], loads: Sequence[Load], *, tension_only: bool = True
) -> tuple[FloatArray, FloatArray] | Refused:
    """Least and greatest tension of each line [N], both of shape (lines,), when nobody says how the batten
    was levelled.

    The two states that crews leave, the bare pipe level and the loaded pipe level, are both worked out.
    """
    held = hold(batten, lines)
    bare = solve_held(held, loads, tension_only=tension_only, levelled="bare")
    loaded = solve_held(held, loads, tension_only=tension_only, levelled="loaded")
    if isinstance(bare, Refused):
        return bare
    if isinstance(loaded, Refused):
        return loaded
    return np.minimum(bare.tensions, loaded.tensions), np.maximum(bare.tensions, loaded.tensions)


def _settled(
    held: HeldBatten, loads: Sequence[Load], offsets: FloatArray, *, tension_only: bool
) -> Settled | Refused:
    effect = held.own_effect + held.effects(loads).sum(axis=0) if loads else held.own_effect
    settled = settle(held, effect[None], offsets, tension_only=tension_only)
    if not settled.hangs[0]:
        return does_not_hang(held)
    _must_balance(held, effect, settled.tensions[0])
    return settled


def does_not_hang(held: HeldBatten) -> Refused:
    """What is said of a batten that its lines cannot hold."""
    spliced = " or its spliced pieces turn" if held.batten.turning_splices else ""
    return Refused(
        reason=f"no pull of the {len(held.lines)} lift lines holds this: the batten tips{spliced}",
        limit="equilibrium with lines that only pull",
        source="statics",
        standing="unstable",
    )


def _must_balance(held: HeldBatten, effect: FloatArray, tensions: FloatArray) -> None:
    pulls, L = tensions.tolist(), held.batten.length
    weight, moment, *others = effect[len(pulls) :].tolist()
    moments = sum(pull * line.at for pull, line in zip(pulls, held.lines, strict=True)) / L
    left_over = max(abs(sum(pulls) - weight), abs(moments - moment))
    largest = max(map(abs, (*pulls, weight, moment, *others)))
    assert left_over <= 1e-9 * largest, (tensions, effect)
