"""A plot once more with one piece otherwise: lighter, heavier, or on another set; and what the rules of a show
then say of what that touches.

The plot that was audited stays as it is. Everything is worked out anew from the changed copy; what the house
comes to by itself does not depend on a plot, and is handed in as it was found.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import cast

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.audit.show import Show
from plumbtrue.audit.show_rules import hand_in_verdicts
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Name
from plumbtrue.quantities.writing import System
from plumbtrue.rig.copying import copied
from plumbtrue.rig.pairs import pairs_of
from plumbtrue.rig.thing import Recorded, Thing
from plumbtrue.rules.judging import Judge, Judgement
from plumbtrue.rules.rule import Rule

_EXACT = 1e-10
"""Relative width of a weight that is tried: one with bounds is taken at its word, without an allowance."""


@unchanging
class Trial:
    """A changed copy of the plot, and what is known of it."""

    facts: Facts
    plot: Thing
    copy_of: Mapping[Thing, Thing]

    def counterpart(self, thing: Thing) -> Thing:
        """The copy of a thing of the plot; a thing of the house itself."""
        return self.copy_of.get(thing, thing)


class Trials:
    """An audit whose plot is tried otherwise.

    Raises:
        ValueError: no plot was laid over the house.
    """

    def __init__(self, audit: Audit) -> None:
        if audit.show is None or audit.rig.plot is None:
            raise ValueError("only a plot that was laid over a house can be tried otherwise")
        self.audit = audit
        self.show: Show = audit.show
        self._plot: Thing = audit.rig.plot
        self.rules: tuple[Rule, ...] = tuple(rule for rule in audit.of_show if rule.retired is None)
        self._judges: dict[str, Judge] = {}
        brought = set(map(id, self.show.outcomes))
        self._alone: tuple[Outcome, ...] = tuple(one for one in audit.outcomes if id(one) not in brought)
        self._sets: tuple[Thing, ...] = tuple(one.thing for one in self.show.house_verdicts.values())

    @property
    def line_sets(self) -> tuple[Thing, ...]:
        """The sets of the house, as people count them."""
        return self._sets

    def with_nothing_changed(self) -> Facts:
        """What is known of the plot as it is."""
        facts = Facts(self.audit.rig, self.audit.on, self.audit.further)
        hand_in_verdicts(facts, self._sets, self._alone, self.show.house_verdicts)
        return facts

    def with_weight(self, item: Thing, weight: float) -> Trial:
        """The piece at an all-up weight [N], known exactly; its pulls share it as they are stated."""

        def lighter(copy: Thing) -> None:
            place = copy.facts["weight"].place if "weight" in copy.facts else copy.place
            bounds = Bounds(weight * (1 - _EXACT), weight * (1 + _EXACT))
            copy.facts["weight"] = Recorded(bounds, "tried", place, origin="asked", note="tried")

        return self._with(item, lighter)

    def on_set(self, item: Thing, line_set: Thing) -> Trial:
        """The piece on another set, at the same places across the stage and the same trims."""

        def moved(copy: Thing) -> None:
            place = copy.facts["on"].place if "on" in copy.facts else copy.place
            name = line_set.key
            copy.facts["on"] = Recorded(Name(name), name, place, origin="asked", note="tried")
            copy.references["on"] = line_set

        return self._with(item, moved)

    def _with(self, item: Thing, change: Callable[[Thing], None]) -> Trial:
        rig = self.audit.rig
        plot, copies = copied(self._plot, rig.house)
        change(copies[item])
        plot.parts["pairs"] = pairs_of(plot, rig.vocabulary)
        facts = Facts(replace(rig, plot=plot, indexed={}), self.audit.on, self.audit.further)
        hand_in_verdicts(facts, self._sets, self._alone, self.show.house_verdicts)
        return Trial(facts, plot, _pairs_too(copies, self._plot, plot))

    def judged(self, rule: Rule, thing: Thing, facts: Facts) -> Judgement:
        """What one rule says of one thing in a trial."""
        judge = self._judges.get(rule.slug)
        if judge is None:
            judge = self._judges[rule.slug] = Judge(rule, cast(System, self.audit.rig.units))
        return judge.on(thing, facts)

    def asking(self, things: Iterable[Thing], facts: Facts) -> tuple[tuple[Rule, Thing, Judgement], ...]:
        """What the rules of a show find, or cannot tell, about some things in a trial; a fault once, as in an
        audit.
        """
        every = list(things)
        found = [
            (rule, thing, judgement)
            for rule in self.rules
            for thing in every
            if thing.kind.name in rule.kinds
            for judgement in (self.judged(rule, thing, facts),)
            if judgement.result in (Result.FINDING, Result.UNDETERMINED, Result.ERROR)
        ]
        return tuple(one for one in found if not _is_silenced(one, found))


def _pairs_too(copies: Mapping[Thing, Thing], before: Thing, after: Thing) -> dict[Thing, Thing]:
    """Pairs are made anew for a changed plot: the same two pieces are the same pair."""
    anew = after.parts["pairs"]
    held = before.parts.get("pairs")
    by_key = {pair.key: pair for pair in anew} if isinstance(anew, tuple) else {}
    pairs = held if isinstance(held, tuple) else ()
    return {**copies, **{pair: by_key[pair.key] for pair in pairs if pair.key in by_key}}


def _is_silenced(one: tuple[Rule, Thing, Judgement], found: Iterable[tuple[Rule, Thing, Judgement]]) -> bool:
    """Whether a graver rule, or one as grave, that supersedes it finds something there or around it."""
    rule, thing, _ = one
    around: list[Thing] = []
    outward: Thing | None = thing
    while outward is not None:
        around.append(outward)
        outward = outward.parent
    return any(
        rule.slug in other.supersedes
        and judgement.result is Result.FINDING
        and its in around
        and other.severity.rank <= rule.severity.rank
        for other, its, judgement in found
    )
