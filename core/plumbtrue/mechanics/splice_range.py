"""A splice of unknown stiffness: the hull of a free hinge and an unbroken pipe.

Nobody knows the stiffness of a sleeve with two bolts. Whatever spring it is, tensions lie between those of
both models while the same lines pull; the moment that the splice must carry is that of the unbroken pipe.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from plumbtrue.mechanics.batten import Batten, Line, Load, Splice
from plumbtrue.mechanics.held import FloatArray
from plumbtrue.mechanics.reactions import Levelled, Reactions, solve
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.quantities.unchanging import unchanging


@unchanging(eq=False)
class SpliceRange:
    """Both models of a splice, and the moment in it when it does not turn [N m], sagging positive."""

    hinged: Reactions
    unbroken: Reactions
    moment: float

    @property
    def least(self) -> FloatArray:
        """Least tension of each line by either model [N], shape (lines,)."""
        return np.minimum(self.hinged.tensions, self.unbroken.tensions)

    @property
    def greatest(self) -> FloatArray:
        """Greatest tension of each line by either model [N], shape (lines,)."""
        return np.maximum(self.hinged.tensions, self.unbroken.tensions)


def splice_range(
    batten: Batten,
    lines: Sequence[Line],
    loads: Sequence[Load],
    at: float,
    *,
    tension_only: bool = True,
    levelled: Levelled = "bare",
) -> SpliceRange | Refused:
    """Tensions with a splice at a place [m] taken as a hinge, and as unbroken pipe; the batten's other
    splices stay as they are.

    Returns:
        Both, or a refusal when the batten does not hang by one of them: then it hangs only as long as the
        splice holds.

    >>> pipe = Batten(length=6.0, EI=9000.0, weight_per_length=40.0)
    >>> found = splice_range(pipe, [Line(0.0), Line(3.0), Line(6.0)], [], at=3.0)
    >>> found.least.round(6).tolist(), found.greatest.round(6).tolist(), round(found.moment, 6)
    ([45.0, 120.0, 45.0], [60.0, 150.0, 60.0], -45.0)
    """
    others = tuple(splice for splice in batten.splices if splice.at != at)
    hinged = solve(
        replace(batten, splices=(*others, Splice(at))),
        lines,
        loads,
        tension_only=tension_only,
        levelled=levelled,
    )
    unbroken = solve(
        replace(batten, splices=others), lines, loads, tension_only=tension_only, levelled=levelled
    )
    if isinstance(hinged, Refused):
        return hinged
    if isinstance(unbroken, Refused):
        return unbroken
    return SpliceRange(hinged, unbroken, unbroken.bending().moment_at(at))
