"""Out-of-balance and energy at risk through a load-in or load-out, in the planned order and in the worst one.

A set is in balance before and after; between, it is not. What matters is how much is out of balance and how
far that side could run. The reactions of the batten at each step belong to the beam modules.

Sources: running sums and energy = force x travel (derived); the worst order by `closure`.
"""

from collections.abc import Sequence

from plumbtrue.mechanics.balance import out_of_balance
from plumbtrue.mechanics.closure import heaviest_closed_set
from plumbtrue.mechanics.refusal import must_be_finite, must_be_positive, must_not_be_negative
from plumbtrue.quantities.bounds import CLOSENESS
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class FreeTravel:
    """How far the batten could run at a moment [m]; None where nobody has said."""

    fall: float | None = None
    rise: float | None = None


@unchanging
class Step:
    """One event: what it adds to each side [N], negative when it takes off, and the free travel after it."""

    batten: float = 0.0
    arbor: float = 0.0
    free: FreeTravel = FreeTravel()


@unchanging
class WorstOrder:
    """The largest out-of-balance at the batten [N, 0 or more] that an order allowed by the pairs can reach,
    and the steps done then (counted from 0, in the order of the plan)."""

    amount: float
    steps_done: tuple[int, ...]


@unchanging
class LoadSequence:
    """A load-in or load-out, moment by moment. The first entry of each list is the start."""

    out_of_balance: tuple[float, ...]
    """At the batten [N], positive when the batten is heavy."""
    energy_at_risk: tuple[float | None, ...]
    """[J]; None where the free travel in the direction of the heavy side is not known."""
    worst_moment: int | None
    """Moment of the largest energy at risk, 0 for the start; None when an energy is not known."""
    most_batten_heavy: float
    most_arbor_heavy: float
    worst_batten_heavy: WorstOrder
    worst_arbor_heavy: WorstOrder
    plan_keeps_the_order: bool
    """Whether the planned order itself obeys the pairs."""


def load_sequence(
    batten_side: float,
    arbor_side: float,
    steps: Sequence[Step],
    *,
    purchase: float,
    must_precede: Sequence[tuple[int, int]] = (),
    free_at_start: FreeTravel = FreeTravel(),
) -> LoadSequence:
    """Every moment of a load-in or load-out.

    Args:
        batten_side, arbor_side: weights before the first step [N].
        must_precede: pairs (a, b) of steps counted from 0: a comes before b in every order that the crew may
            take.
    Raises:
        ValueError: a purchase that is not more than 0, a pair that names no step, or pairs that run in a
        circle.

    >>> steps = [Step(batten=120.0), Step(arbor=120.0), Step(batten=200.0), Step(arbor=200.0)]
    >>> told = load_sequence(154.0, 154.0, steps, purchase=1)
    >>> told.out_of_balance, told.worst_arbor_heavy.amount
    ((0.0, 120.0, 0.0, 200.0, 0.0), 320.0)
    """
    must_be_positive(purchase=purchase)
    must_be_finite(batten_side=batten_side, arbor_side=arbor_side)
    changes = [step.batten - step.arbor / purchase for step in steps]
    must_be_finite(**{f"step_{number}": change for number, change in enumerate(changes, 1)})
    moments = [out_of_balance(batten_side, arbor_side, purchase=purchase)]
    batten, arbor = batten_side, arbor_side
    for step in steps:
        batten, arbor = batten + step.batten, arbor + step.arbor
        moments.append(
            _clean(out_of_balance(batten, arbor, purchase=purchase), scale=max(abs(batten), abs(arbor)))
        )
    energies = [
        energy_at_risk(moment, free)
        for moment, free in zip(moments, [free_at_start, *(step.free for step in steps)], strict=True)
    ]
    return LoadSequence(
        out_of_balance=tuple(moments),
        energy_at_risk=tuple(energies),
        worst_moment=_largest(energies),
        most_batten_heavy=max(0.0, *moments),
        most_arbor_heavy=max(0.0, *(-moment for moment in moments)),
        worst_batten_heavy=_worst(moments[0], changes, must_precede),
        worst_arbor_heavy=_worst(-moments[0], [-change for change in changes], must_precede),
        plan_keeps_the_order=all(a < b for a, b in must_precede),
    )


def energy_at_risk(out_of_balance_at_batten: float, free: FreeTravel) -> float | None:
    """Energy that the heavy side gains if it runs to the end of its free travel [J]; None when that travel is
    not known.

    >>> energy_at_risk(-180.0, FreeTravel(fall=0.0, rise=48.0)), energy_at_risk(180.0, FreeTravel(fall=0.0))
    (8640.0, 0.0)
    """
    if out_of_balance_at_batten == 0:
        return 0.0
    travel = free.fall if out_of_balance_at_batten > 0 else free.rise
    if travel is None:
        return None
    must_not_be_negative(free_travel=travel)
    return abs(out_of_balance_at_batten) * travel


def _worst(start: float, changes: Sequence[float], must_precede: Sequence[tuple[int, int]]) -> WorstOrder:
    done = heaviest_closed_set(changes, must_precede)
    amount = start + sum(changes[step] for step in done)
    return WorstOrder(max(0.0, amount), tuple(sorted(done)))


def _largest(energies: Sequence[float | None]) -> int | None:
    known = [energy for energy in energies if energy is not None]
    if len(known) < len(energies):
        return None
    return known.index(max(known))


def _clean(moment: float, *, scale: float) -> float:
    # Sums of decimal weights leave dust; a set that is in balance must not seem to run.
    return 0.0 if abs(moment) <= CLOSENESS * scale else moment
