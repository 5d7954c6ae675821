"""What would settle a piece, in words: the number, and where else in the house it would hang."""

from collections.abc import Callable
from dataclasses import replace
from math import floor, inf
from typing import cast

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.bricks_that_fit import BricksThatFit, bricks_that_fit
from plumbtrue.audit.elsewhere import Elsewhere, elsewhere
from plumbtrue.audit.item_verdicts import ItemState, ItemVerdict, People
from plumbtrue.audit.natural_order import natural_order
from plumbtrue.audit.trials import Trials
from plumbtrue.audit.what_settles import Settled, unit_of, what_settles
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import FORCE
from plumbtrue.quantities.writing import System, write
from plumbtrue.reporting.wording import listed, marks

_NOTHING_FOR_PEOPLE = "No number is given for a piece with somebody on it: turn to a specialist."
_MOST_AGAINST = 3


def advice_of(audit: Audit) -> Callable[[ItemVerdict], tuple[str, ...]] | None:
    """What to say about each piece of an audit; nothing where no plot was laid."""
    if audit.show is None:
        return None
    trials = Trials(audit)

    def advise(verdict: ItemVerdict) -> tuple[str, ...]:
        if verdict.state is ItemState.AS_ASKED:
            return ()
        if verdict.people is People.SOMEBODY:
            return (_NOTHING_FOR_PEOPLE,)
        system = cast(System, audit.rig.units)
        known = trials.with_nothing_changed()
        settled = what_settles(trials, verdict)
        fitting = bricks_that_fit(known, verdict)
        total = known.value(verdict.item, "total_weight")
        too_heavy = isinstance(total, Bounds) and fitting is not None and total.high > fitting.most
        return (
            *numbers(settled, system, fitting if too_heavy else None),
            *places(elsewhere(trials, verdict)),
        )

    return advise


def numbers(
    settled: tuple[Settled, ...], system: System, fitting: BricksThatFit | None = None
) -> tuple[str, ...]:
    """The number that would settle each matter, and the one that would settle all of these.

    Weights are printed in the unit in which they were searched: whole pounds, or kilograms.
    """
    by_rule: dict[str, Settled] = {}
    for one in settled:
        by_rule.setdefault(one.outcome.rule, one)
    told = [f"{one.outcome.rule}: {_number(one, system)}." for one in by_rule.values()]
    if not settled:
        return tuple(told)
    least = settled[0]
    if fitting is not None:
        unit = unit_of(system)
        whole = replace(least, most=floor(fitting.most / unit + 1e-9) * unit)
        told.append(
            f"In whole bricks ({write(Bounds.exactly(fitting.bricks), FORCE, system)} fit): {_number(whole, system)}."
        )
        least = min(least, whole, key=lambda one: one.most)
    if len(told) > 1 or _spread(least) > 0:
        told.append(_to_be_met(least, system))
    return tuple(told)


def _number(one: Settled, system: System) -> str:
    most = weight(one.most, system)
    if one.too_much is None:
        said = "" if one.stated.high == inf else f"{_stated(one.stated, system)} may be more than that: "
        return f"{said}weigh it; up to {most} this is met, above that it is not"
    return f"{_stated(one.stated, system)} is {weight(one.too_much, system)} too much; {most} fits"


def _to_be_met(one: Settled, system: System) -> str:
    """What the piece may be said to weigh, so that with the doubt about its weight all of this is met."""
    middle = (one.stated.low + one.stated.high) / 2
    if not 0 < middle < inf or one.total.high == inf:
        return f"All of these are met at {weight(one.most, system)}."
    unit = unit_of(system)
    if one.stated.is_exact:
        share = one.total.high / one.stated.high
        sure = floor(one.most / share / unit + 1e-9) * unit
        doubt = f"known to {share - 1:.0%}"
    else:
        spread = _spread(one)
        sure = floor((one.most - spread) / unit + 1e-9) * unit
        doubt = f"known to {weight(spread, system)}"
    if sure <= 0 or sure >= middle:
        return f"All of these are met at {weight(one.most, system)}."
    off = weight(middle - sure, system)
    if abs(one.most - sure) < unit / 2:
        return f"With {off} off, {weight(sure, system)}, all of these are met."
    return f"With {off} off, {weight(sure, system)}, all of these are met, its weight being {doubt}."


def _spread(one: Settled) -> float:
    """How far its weight may be above what is stated [N]."""
    middle = (one.stated.low + one.stated.high) / 2
    return one.total.high - middle if middle < inf and one.total.high < inf else 0.0


def _stated(stated: Bounds, system: System) -> str:
    return weight((stated.low + stated.high) / 2, system)


def _in_order(keys: list[str]) -> list[str]:
    return sorted(keys, key=natural_order)


def weight(newtons: float, system: System) -> str:
    """A weight in whole units of the trade.

    >>> weight(586 * 4.4482216152605, "us"), weight(120 * 9.80665, "si")
    ('586 lb', '120 kg')
    """
    return write(Bounds.exactly(newtons), FORCE, system, unit="kg" if system in ("si", "metric") else "lb")


def places(found: Elsewhere | None) -> tuple[str, ...]:
    """Where else a piece would hang, and what speaks against the other free sets."""
    if found is None:
        return ()
    tried = [*found.clear, *(key for key, _ in found.against)]
    if not tried:
        return ("No other set of the house is free and fit for use.",)
    remarks = [f"on {key} {listed(rules)}, which can wait" for key, rules in found.remarks]
    aside = f" besides {listed(found.everywhere)}, the same wherever it hangs" if found.everywhere else ""
    if found.clear:
        which = f"set {found.clear[0]}" if len(found.clear) == 1 else f"sets {marks(found.clear)}"
        more = f" ({'; '.join(remarks)})" if remarks else ""
        return (f"At the same trims nothing that must be done is found with it on {which}{aside}{more}.",)
    nearest = sorted(found.against, key=lambda pair: len(pair[1]))[:_MOST_AGAINST]
    told = "; ".join(f"{key}: {listed(rules)}" for key, rules in nearest)
    if len(tried) == 1:
        return (
            f"The only other free set is {tried[0]}, and against it speaks{aside}: {listed(nearest[0][1])}.",
        )
    return (
        f"On none of the other free sets ({marks(_in_order(tried))}) is nothing found{aside}; least on {told}.",
    )
