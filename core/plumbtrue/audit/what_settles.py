"""The number that would settle it: for what is found, or cannot be told, about a piece, the number at which it is
met.

Each number is found by laying the plot again with what somebody would write for it, and judging by the rule
itself; so it holds for all that is known only within bounds. It is printed in whole pounds, inches, seconds or
bricks (kilograms and centimetres where the house writes SI), on the side that holds: one more, or one less,
does not.

Of the weight of a piece it is the greatest. Where the answer does not turn just once on the way from light to
heavy, weight does not settle it and nothing is said; nor where a lighter piece is merely one that the rule does
not look at: a piece of 260 lb that lacks a second line is not mended by weighing 25. Of everything else (`dials`)
it is the number nearest to the one stated. Of a piece that has somebody on it nothing is worked out.
"""

from collections.abc import Callable, Iterable, Iterator
from math import ceil, floor, inf
from typing import Final

from plumbtrue.audit.dials import SPEAK_OF_METRES, Change, Dial, Step, dials_for, step_of, written
from plumbtrue.audit.item_verdicts import ItemVerdict, People
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.audit.trials import Trial, Trials, things_about
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.what_if import NotSoWritten, as_asked
from plumbtrue.rules.rule import Rule
from plumbtrue.rules.severity import Severity

_LIGHT: Final = 1
"""Units of weight at which a piece pulls on nothing to speak of."""
_HEAVIEST: Final = 1 << 15
"""Units beyond which no piece is looked for."""
_NEARBY: Final = 4
"""Units by which a weight with its doubt is looked for beside what arithmetic says."""
_PLANNED: Final = ("balance_sheet", "step")
"""What is planned for a piece: it is the plan that is wrong there."""
_ASKS_NOTHING: Final = (Result.MET, Result.NOT_APPLICABLE)


@unchanging
class Settled:
    """What one rule would take of the weight of a piece; weights [N]."""

    outcome: Outcome
    most: float
    """The greatest weight that is met, in whole units, known exactly."""
    stated: Bounds
    """As the plot has it, without allowance; unbounded where it is not written."""
    total: Bounds
    """With the allowance for how it is known."""
    as_known: float | None = None
    """The greatest weight that is met if it is written with the doubt that there is now; nothing where there is
    none.
    """
    asked: tuple[str, ...] = ()
    """What to write after `--set` to try it, as known where that can be."""
    then: tuple[str, ...] = ()
    """Rules as grave that would find something else about the piece at that weight."""

    @property
    def too_much(self) -> float | None:
        """By how much it is too heavy [N]; nothing where it may be light enough."""
        middle = (self.stated.low + self.stated.high) / 2
        return middle - self.most if middle < inf and middle > self.most else None


@unchanging
class Turned:
    """The nearest number of a dial at which one rule is met."""

    outcome: Outcome
    dial: Dial
    steps: int
    """The number, in steps of the dial."""
    more: bool
    """Whether it is more than what is stated."""
    asked: tuple[str, ...]
    then: tuple[str, ...] = ()

    @property
    def number(self) -> float:
        """[SI or a count]"""
        return self.steps * self.dial.step.size


@unchanging
class ForAll:
    """One number at which every matter that hangs on one fact of a piece is met."""

    number: float
    """Of the weight [N], of another dial [SI or a count]."""
    dial: Dial | None
    """Nothing for the weight of the piece."""
    asked: tuple[str, ...]
    then: tuple[str, ...] = ()


@unchanging
class Numbers:
    """The numbers that would settle what stands against a piece."""

    weights: tuple[Settled, ...] = ()
    """Tightest first."""
    turned: tuple[Turned, ...] = ()
    """By dial, the farthest from what is stated first."""
    for_all: tuple[ForAll, ...] = ()
    """For the weight, and for each dial on which several rules hang."""


def numbers_for(trials: Trials, verdict: ItemVerdict, at_most: float = inf) -> Numbers:
    """For each urgent outcome about a piece the number that would settle it, where one number does.

    Args:
        at_most: a weight [N] that no rule names and that is not to be passed either, such as what whole bricks
            balance.
    """
    search = _Search(trials, verdict)
    weights = search.weights(search.asking)
    by_weight = {id(one.outcome) for one in weights}
    turned = [found for one in search.asking if id(one) not in by_weight for found in search.of_dials(one)]
    turned = search.one_a_rule(sorted(turned, key=_by_dial))
    of_weight = search.weight_for_all(weights, at_most)
    for_all = [*search.for_all(turned), *([of_weight] if of_weight is not None else [])]
    return Numbers(tuple(weights), tuple(turned), tuple(for_all))


def _by_dial(one: Turned) -> tuple[str, str, float, str, str]:
    off = abs(one.number - one.dial.middle)
    return one.dial.thing.path, one.dial.fact, -off, one.outcome.rule, one.outcome.thing.path


def weight_step(system: str) -> Step:
    """The step in which weights are searched: a pound, or the weight of a kilogram."""
    return step_of("kg" if system in SPEAK_OF_METRES else "lb")


class _Search:
    """A piece with one number after another; each is laid out once for all rules."""

    def __init__(self, trials: Trials, verdict: ItemVerdict) -> None:
        self.trials = trials
        self.item = verdict.item
        self.rules: dict[str, Rule] = {rule.slug: rule for rule in trials.rules}
        asking = () if verdict.people is not People.NOBODY else _urgent(verdict)
        self.asking = tuple(one for one in asking if one.rule in self.rules)
        self.system = trials.audit.rig.units
        self.unit = weight_step(self.system)
        self.known = trials.with_nothing_changed()
        self.stated, self.total = (
            _bounds(self.known.value(verdict.item, one)) for one in ("stated_weight", "total_weight")
        )
        self._at: dict[tuple[Change, ...], Trial] = {}
        self._said: dict[tuple[tuple[Change, ...], str, object], Result] = {}
        self._asking_now: frozenset[tuple[str, str]] | None = None
        self._appearing: dict[tuple[Change, ...], tuple[tuple[str, str, Severity], ...]] = {}

    def result(self, changes: tuple[Change, ...], outcome: Outcome) -> Result:
        """What a rule says of the same thing, with the plot otherwise."""
        key = (changes, outcome.rule, outcome.thing)
        if key not in self._said:
            try:
                trial = self._trial(changes)
            except NotSoWritten:
                # An apex above its points, a height below the floor: nobody can write that, so it settles nothing.
                self._said[key] = Result.ERROR
                return Result.ERROR
            thing = trial.counterpart(outcome.thing)
            self._said[key] = self.trials.judged(self.rules[outcome.rule], thing, trial.facts).result
        return self._said[key]

    def is_met(self, changes: tuple[Change, ...], outcome: Outcome) -> bool:
        """Whether it asks for nothing."""
        return self.result(changes, outcome) in _ASKS_NOTHING

    def _trial(self, changes: tuple[Change, ...]) -> Trial:
        if changes not in self._at:
            self._at[changes] = self.trials.with_asked(changes)
        return self._at[changes]

    def weights(self, asking: Iterable[Outcome]) -> list[Settled]:
        """What of all that a lighter piece would meet, the tightest first."""
        found = [one for outcome in asking if (one := self.of_weight(outcome)) is not None]
        return sorted(found, key=lambda one: (one.most, one.outcome.rule, one.outcome.thing.path))

    def weight_for_all(self, weights: Iterable[Settled], at_most: float) -> ForAll | None:
        """The greatest weight at which all of these are met, written with the doubt that there is where it can
        be.
        """
        weights = tuple(weights)
        if not weights:
            return None
        doubted = [one.as_known for one in weights]
        as_known = all(one is not None for one in doubted)
        least = min(one for one in doubted if one is not None) if as_known else weights[0].most
        if at_most < inf:
            off = self._doubt(at_most) if as_known else 0.0
            least = min(least, floor((at_most - off) / self.unit.size + 1e-9) * self.unit.size)
        units = round(least / self.unit.size)
        if units < _LIGHT:
            return None
        changes = self._written_as_now(units) if as_known else self._exactly(units)
        if not all(self.is_met(changes, one.outcome) for one in weights):
            return None
        return ForAll(least, None, _asked(changes), self.appearing(changes, _mildest(weights)))

    def _doubt(self, at_most: float) -> float:
        """How much less than a limit a piece may be said to weigh, with the doubt that there is [N]."""
        if self.stated.is_exact and self.stated.high > 0:
            return at_most * (1 - self.stated.high / self.total.high)
        return self.total.high - (self.stated.low + self.stated.high) / 2

    def _exactly(self, units: int) -> tuple[Change, ...]:
        return ((self.item, "weight", f"{units} {self.unit.unit} +/- 0 {self.unit.unit}"),)

    def of_weight(self, outcome: Outcome) -> Settled | None:
        """The greatest weight that is met, as it would be if it were known exactly, and as it is known. Of a
        sheet or a step that does not go with its piece, nobody asks the piece to be lighter.
        """
        if outcome.thing.kind.name in _PLANNED:
            return None
        most = self._most(outcome, self._exactly)
        if most is None:
            return None
        as_known = self._as_known(outcome, most)
        changes = self._exactly(most) if as_known is None else self._written_as_now(as_known)
        return Settled(
            outcome,
            most * self.unit.size,
            self.stated,
            self.total,
            None if as_known is None else as_known * self.unit.size,
            _asked(changes),
            self.appearing(changes, outcome),
        )

    def _most(self, outcome: Outcome, at: Callable[[int], tuple[Change, ...]]) -> int | None:
        """The greatest whole number of units that is met, with one more not; nothing where there is none."""
        if not self.is_met(at(_LIGHT), outcome):
            return None
        heavy = self._too_heavy(outcome, at)
        if heavy is None:
            return None
        light, over = _LIGHT, heavy
        while over - light > 1:
            middle = (light + over) // 2
            if self.is_met(at(middle), outcome):
                light = middle
            else:
                over = middle
        turns_once = self.is_met(at(max(light // 2, _LIGHT)), outcome) and not self.is_met(
            at((over + heavy + 1) // 2), outcome
        )
        return light if turns_once and self.result(at(light), outcome) is Result.MET else None

    def _too_heavy(self, outcome: Outcome, at: Callable[[int], tuple[Change, ...]]) -> int | None:
        """Units at which it is not met: what the piece may weigh at most; else twice and twice again."""
        size = self.unit.size
        units = max(ceil(self.total.high / size), 2) if 0 < self.total.high < inf else 2 * _LIGHT
        while units <= _HEAVIEST:
            if not self.is_met(at(units), outcome):
                return units
            units *= 2
        return None

    def _written_as_now(self, units: int) -> tuple[Change, ...]:
        """A weight with the doubt that there is about it now: its bounds, or none but what its basis allows."""
        bounded = self.stated.high < inf and not self.stated.is_exact
        spread = (self.stated.high - self.stated.low) / 2 if bounded else 0.0
        return ((self.item, "weight", written(units, self.unit, spread)),)

    def _as_known(self, outcome: Outcome, most: int) -> int | None:
        """The greatest number of units that is met as the weight is known, with one more not; nothing where
        there is no weight, or the doubt about it has no bound or leaves nothing.
        """
        if self.stated.high == inf or self.total.high == inf:
            return None
        guess = floor(most - self._doubt(most * self.unit.size) / self.unit.size + 1e-9)
        units = min(guess + 1, most)
        while units > max(guess - _NEARBY, 0):
            if self.result(self._written_as_now(units), outcome) is Result.MET:
                one_more = self._written_as_now(units + 1)
                return None if self.is_met(one_more, outcome) else units
            units -= 1
        return None

    def of_dials(self, outcome: Outcome) -> Iterator[Turned]:
        """The nearest number of each dial on which it hangs, where one is met."""
        fresh = self.trials.with_nothing_changed()
        self.trials.judged(self.rules[outcome.rule], outcome.thing, fresh)
        for dial in dials_for(self.known, self.system, self.item, outcome.thing):
            if not fresh.was_asked(dial.thing, dial.fact):
                continue
            found = [one for more in (True, False) if (one := self._nearest(dial, outcome, more=more))]
            if not found:
                continue
            steps, more = min(found, key=lambda one: abs(one[0] * dial.step.size - dial.middle))
            changes = dial.changes(steps)
            yield Turned(outcome, dial, steps, more, _asked(changes), self.appearing(changes, outcome))

    def _nearest(self, dial: Dial, outcome: Outcome, *, more: bool) -> tuple[int, bool] | None:
        """The nearest number on one side of what is stated that is met, with the one before it not."""
        middle = dial.middle / dial.step.size
        first = floor(middle + 1e-6) + 1 if more else ceil(middle - 1e-6) - 1
        sign = 1 if more else -1

        def holds(off: int) -> bool:
            return self.result(dial.changes(first + sign * off), outcome) is Result.MET

        farthest = dial.farthest - 1 if more else min(dial.farthest - 1, first - dial.least)
        if farthest < 0:
            return None
        before, off = -1, 0
        while not holds(off):
            if off >= farthest:
                return None
            before, off = off, min(2 * off + 1, farthest)
        while off - before > 1:
            between = (off + before) // 2
            if holds(between):
                off = between
            else:
                before = between
        return first + sign * off, more

    def one_a_rule(self, turned: Iterable[Turned]) -> list[Turned]:
        """Of several numbers of one dial for one rule the farthest off, where all of that rule are met at it."""
        groups: dict[tuple[object, str, str], list[Turned]] = {}
        for one in turned:
            groups.setdefault((one.dial.thing, one.dial.fact, one.outcome.rule), []).append(one)
        return [one for its in groups.values() for one in (its[:1] if self._meets_all(its[0], its) else its)]

    def for_all(self, turned: Iterable[Turned]) -> Iterator[ForAll]:
        """Of each dial on which several rules hang, the number that lies farthest off, where all are met at it."""
        by_dial: dict[tuple[object, str], list[Turned]] = {}
        for one in turned:
            by_dial.setdefault((one.dial.thing, one.dial.fact), []).append(one)
        for its in by_dial.values():
            farthest = max(its, key=lambda one: abs(one.number - one.dial.middle))
            if len(its) > 1 and self._meets_all(farthest, its):
                then = self.appearing(farthest.dial.changes(farthest.steps), _mildest(its))
                yield ForAll(farthest.number, farthest.dial, farthest.asked, then)

    def _meets_all(self, one: Turned, its: Iterable[Turned]) -> bool:
        changes = one.dial.changes(one.steps)
        return all(self.is_met(changes, other.outcome) for other in its)

    def appearing(self, changes: tuple[Change, ...], outcome: Outcome) -> tuple[str, ...]:
        """Rules as grave as an outcome's that find, or cannot tell, something about the piece that they do not
        as the plot is.
        """
        if self._asking_now is None:
            self._asking_now = frozenset((slug, path) for slug, path, _ in self._asked_by(None))
        if changes not in self._appearing:
            now = self._asking_now
            self._appearing[changes] = tuple(
                one for one in self._asked_by(self._trial(changes)) if (one[0], one[1]) not in now
            )
        rank = outcome.severity.rank
        return tuple(
            sorted({slug for slug, _, severity in self._appearing[changes] if severity.rank <= rank})
        )

    def _asked_by(self, trial: Trial | None) -> Iterator[tuple[str, str, Severity]]:
        """Rules that ask for something about the piece: of itself, its set, its pairs and its cues."""
        facts: Facts = self.known if trial is None else trial.facts
        item = self.item if trial is None else trial.counterpart(self.item)
        plot = self.trials.plot if trial is None else trial.plot
        for rule, thing, _ in self.trials.asking(things_about(plot, item), facts, urgent=True):
            yield rule.slug, thing.path, rule.severity


def _asked(changes: Iterable[Change]) -> tuple[str, ...]:
    return tuple(as_asked(thing, fact, text) for thing, fact, text in changes)


def _mildest(its: Iterable[Settled | Turned]) -> Outcome:
    """Of what one number settles the mildest matter: whatever is as grave as that speaks against the number."""
    return max((one.outcome for one in its), key=lambda one: one.severity.rank)


def _urgent(verdict: ItemVerdict) -> tuple[Outcome, ...]:
    every = (*verdict.stopped_by, *verdict.changes, *verdict.open_ones)
    return tuple(one for one in every if one.severity.is_urgent)


def _bounds(value: object) -> Bounds:
    return value if isinstance(value, Bounds) else Bounds(0.0, inf)
