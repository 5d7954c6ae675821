"""The number that would settle it: for what is found, or cannot be told, about a piece and hangs on its
weight, the greatest weight at which it is met.

Searched by halving whole pounds (or kilograms where the house writes SI), each step judged by the rule
itself on a copy of the plot with that weight. Where the answer does not turn just once on the way from
light to heavy, weight does not settle it and nothing is said; nor where a lighter piece is merely one that
the rule does not look at: a piece of 260 lb that lacks a second line is not mended by weighing 25. Of a
piece that has somebody on it nothing is worked out.
"""

from collections.abc import Callable
from math import ceil, inf
from typing import Final

from plumbtrue.audit.item_verdicts import ItemVerdict, People
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.audit.trials import Trials
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.units import find_unit
from plumbtrue.rules.rule import Rule
from plumbtrue.rules.severity import Severity

_LIGHT: Final = 1
"""Units of weight at which a piece pulls on nothing to speak of."""
_HEAVIEST: Final = 1 << 15
"""Units beyond which no piece is looked for."""
_ASKS_NOTHING: Final = (Result.MET, Result.NOT_APPLICABLE)


@unchanging
class Settled:
    """What one rule would take, of a piece that is as heavy as it is said to be; weights [N]."""

    outcome: Outcome
    most: float
    """The greatest weight that is met, in whole units."""
    stated: Bounds
    """As the plot has it, without allowance; unbounded where it is not written."""
    total: Bounds
    """With the allowance for how it is known."""

    @property
    def too_much(self) -> float | None:
        """By how much it is too heavy [N]; nothing where it may be light enough."""
        middle = (self.stated.low + self.stated.high) / 2
        return middle - self.most if middle < inf and middle > self.most else None


def what_settles(trials: Trials, verdict: ItemVerdict) -> tuple[Settled, ...]:
    """For each urgent outcome about a piece that a lighter piece would meet, the greatest weight that does;
    the tightest first.
    """
    if verdict.people is not People.NOBODY:
        return ()
    rules = {rule.slug: rule for rule in trials.rules}
    asking = [
        one
        for one in (*verdict.stopped_by, *verdict.changes, *verdict.open_ones)
        if one.rule in rules and one.severity in (Severity.OUT_OF_SERVICE, Severity.BEFORE_NEXT_USE)
    ]
    known = trials.with_nothing_changed()
    stated, total = (_bounds(known.value(verdict.item, one)) for one in ("stated_weight", "total_weight"))
    unit = unit_of(trials.audit.rig.units)
    scale = _Scale(trials, verdict, unit)
    found = []
    for outcome in asking:
        most = scale.most(rules[outcome.rule], outcome, total)
        if most is not None:
            found.append(Settled(outcome, most * unit, stated, total))
    return tuple(sorted(found, key=lambda one: (one.most, one.outcome.rule, one.outcome.thing.path)))


def unit_of(system: str) -> float:
    """The unit in which weights are searched [N]: a pound, or the weight of a kilogram."""
    name = "kg" if system in ("si", "metric") else "lb"
    unit = find_unit(name)
    assert unit is not None, f"{name} is a unit of weight"
    return float(unit.factor)


class _Scale:
    """A piece at one weight after another; each weight is worked out once for all rules."""

    def __init__(self, trials: Trials, verdict: ItemVerdict, unit: float) -> None:
        self.trials = trials
        self.item = verdict.item
        self.unit = unit
        self._at: dict[int, Callable[[Rule, Outcome], Result]] = {}

    def is_met(self, units: int, rule: Rule, outcome: Outcome) -> bool:
        """Whether a rule asks for nothing, of the same thing, with the piece at so many units."""
        return self.result(units, rule, outcome) in _ASKS_NOTHING

    def result(self, units: int, rule: Rule, outcome: Outcome) -> Result:
        """What a rule says of the same thing, with the piece at so many units."""
        if units not in self._at:
            trial = self.trials.with_weight(self.item, units * self.unit)

            def judged(rule: Rule, outcome: Outcome) -> Result:
                thing = trial.counterpart(outcome.thing)
                return self.trials.judged(rule, thing, trial.facts).result

            self._at[units] = judged
        return self._at[units](rule, outcome)

    def most(self, rule: Rule, outcome: Outcome, total: Bounds) -> int | None:
        """The greatest whole number of units that is met, with one more not; nothing where there is none."""
        if not self.is_met(_LIGHT, rule, outcome):
            return None
        heavy = self._too_heavy(rule, outcome, total)
        if heavy is None:
            return None
        light, over = _LIGHT, heavy
        while over - light > 1:
            middle = (light + over) // 2
            if self.is_met(middle, rule, outcome):
                light = middle
            else:
                over = middle
        turns_once = self.is_met(max(light // 2, _LIGHT), rule, outcome) and not self.is_met(
            (over + heavy + 1) // 2, rule, outcome
        )
        return light if turns_once and self.result(light, rule, outcome) is Result.MET else None

    def _too_heavy(self, rule: Rule, outcome: Outcome, total: Bounds) -> int | None:
        """Units at which it is not met: what the piece may weigh at most; else twice and twice again."""
        units = ceil(total.high / self.unit) if 0 < total.high < inf else 2 * _LIGHT
        while units <= _HEAVIEST:
            if not self.is_met(units, rule, outcome):
                return units
            units *= 2
        return None


def _bounds(value: object) -> Bounds:
    return value if isinstance(value, Bounds) else Bounds(0.0, inf)
