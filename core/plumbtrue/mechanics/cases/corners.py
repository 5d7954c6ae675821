"""A computation whose inputs are known only within bounds: run at every corner, and the hull of what comes
out.

Exact for computations that rise or fall with each input throughout, and only those are run this way
(`computations.RANGED`).
"""

from collections.abc import Callable, Mapping, Sequence
from itertools import product

from plumbtrue.mechanics.cases.inputs import CannotRunError, Corner, Inputs, UnknownInputError
from plumbtrue.mechanics.cases.outputs import Computation, Outputs, Quantity, Span, refused, with_standing
from plumbtrue.mechanics.refusal import Refused

MOST_RANGES = 12
"""4096 corners."""


Merge = Callable[[Sequence[Outputs]], Outputs]
"""What the outputs at all corners say together."""


def run(
    computation: Computation, written: Mapping[str, object], *, ranged: bool, merge: Merge | None = None
) -> Outputs:
    """The outputs of a computation, as ranges where an input is one, or merged in a way of its own.

    Raises:
        CannotRunError: an input is missing, unknown or of the wrong type, or there are more than 12 ranges.
    """
    outputs, met = _at(computation, written, frozenset(), ranged=ranged)
    if not met:
        return outputs
    corners = [outputs]
    if len(met) > MOST_RANGES:
        raise CannotRunError(
            f"{len(met)} inputs are ranges; {MOST_RANGES} at most can be taken at all their corners"
        )
    names = sorted(met)
    for choice in product((False, True), repeat=len(names)):
        if any(choice):
            high = frozenset(name for name, is_high in zip(names, choice, strict=True) if is_high)
            corners.append(_at(computation, written, high, ranged=ranged)[0])
    if merge is not None:
        return merge(corners)
    return {key: _hull([corner.get(key) for corner in corners]) for key in outputs}


def _at(
    computation: Computation, written: Mapping[str, object], high: frozenset[str], *, ranged: bool
) -> tuple[Outputs, set[str]]:
    corner = Corner(high, allowed=ranged)
    inputs = Inputs(written, corner)
    try:
        found = computation(inputs)
    except (ValueError, ArithmeticError) as mistake:
        # A figure that no rig has, such as a length below 0: the computation names it, and the case gets no
        # figure. What it had not come to yet is not unknown.
        return refused(Refused(str(mistake), "", "")), corner.met
    outputs = with_standing(refused(found) if isinstance(found, Refused) else found)
    unread = list(inputs.unread())
    if unread:
        raise UnknownInputError(unread, None if corner.met else outputs)
    return outputs, corner.met


def _hull(values: Sequence[object]) -> object:
    """One value from those at the corners: figures give a span, words that differ are unknown, truth values
    that differ are none."""
    first = values[0]
    if isinstance(first, Quantity):
        return Quantity(
            _hull([value.si if isinstance(value, Quantity) else None for value in values]), first.kind
        )
    if any(value is None for value in values):
        return None
    if isinstance(first, bool):
        return first if all(value is first for value in values) else None
    if isinstance(first, str):
        return first if all(value == first for value in values) else "unknown"
    if isinstance(first, int | float | Span):
        low = min(_ends(value)[0] for value in values)
        high = max(_ends(value)[1] for value in values)
        return first if low == high else Span(low, high)
    if isinstance(first, Sequence):
        lists = [value for value in values if isinstance(value, Sequence)]
        return (
            [_hull(entry) for entry in zip(*lists, strict=True)]
            if len({len(one) for one in lists}) == 1
            else None
        )
    return first


def _ends(value: object) -> tuple[float, float]:
    """Least and greatest of a figure or a span."""
    if isinstance(value, Span):
        return value.low, value.high
    assert isinstance(value, int | float)
    return value, value
