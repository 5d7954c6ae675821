"""The working of what lines out of level do to a line's pull: how much each of them changes it, and how much all of
them together may.
"""

from typing import Final

from plumbtrue.facts.computed.hung_batten import HungBatten
from plumbtrue.facts.gathering import Gathering
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import BENDING_STIFFNESS, FORCE

_INCH: Final = 0.0254
"""[m]"""


def say_trim(known: Gathering, hung: HungBatten, number: int, tolerance: Bounds) -> None:
    """Note the row of the sensitivity matrix of one line (counted from 0) and `t sum |S|`."""
    row = say_sensitivity(known, hung, number)
    if row:
        together = Bounds.exactly(tolerance.high * sum(abs(one) for one in row))
        known.step("t sum |S|: all lines at their worst change it by", together, FORCE)


def say_sensitivity(known: Gathering, hung: HungBatten, number: int) -> tuple[float, ...]:
    """Note the row of the sensitivity matrix of one line, at the greatest stiffness and the first layout of what is
    known within bounds, and hand it back [N/m]; nothing where the stiffness is not known.
    """
    # Imported here, for numpy takes its time to load.
    from plumbtrue.mechanics.batten import Batten, Line
    from plumbtrue.mechanics.refusal import Refused
    from plumbtrue.mechanics.trim import sensitivity

    if hung.stiffness is None:
        return ()
    layout = hung.layouts()[0]
    S = sensitivity(Batten(layout.length, hung.stiffness.high), [Line(at) for at in layout.lines])
    if isinstance(S, Refused):
        return ()
    row = tuple(float(one) for one in S[number])
    if number == 0 or not any(label == "stiffness EI" for label, _ in known.steps):
        known.step("stiffness EI", Bounds.exactly(hung.stiffness.high), BENDING_STIFFNESS)
    for line, per_metre in zip(hung.lines, row, strict=True):
        change = Bounds.exactly(per_metre * _INCH)
        known.step(f"S: {line.key} too high by 1 in changes {hung.lines[number].key} by", change, FORCE)
    return row
