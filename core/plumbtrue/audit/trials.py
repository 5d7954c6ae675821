"""A plot once more with one piece otherwise: lighter, heavier, or on another set; and what the rules of a show
then say of what that touches.

The plot that was audited stays as it is. Everything is worked out anew from the changed copy; what the house
comes to by itself does not depend on a plot, and is handed in as it was found.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import cast

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.dials import Change
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.audit.show import Show, rigging_above
from plumbtrue.audit.show_rules import told_of_sets
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Name
from plumbtrue.quantities.writing import System
from plumbtrue.rig.copying import copied
from plumbtrue.rig.pairs import pairs_of
from plumbtrue.rig.thing import Recorded, Thing
from plumbtrue.rig.what_if import ASKED, as_asked, ask_of
from plumbtrue.rules.judging import Judge, Judgement
from plumbtrue.rules.rule import Rule


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
        self.plot: Thing = audit.rig.plot
        self.rules: tuple[Rule, ...] = tuple(rule for rule in audit.of_show if rule.retired is None)
        self._judges: dict[str, Judge] = {}
        brought = set(map(id, self.show.outcomes))
        alone: tuple[Outcome, ...] = tuple(one for one in audit.outcomes if id(one) not in brought)
        self._sets: tuple[Thing, ...] = tuple(one.thing for one in self.show.house_verdicts.values())
        self._of_sets = told_of_sets(self._sets, alone, self.show.house_verdicts)

    @property
    def line_sets(self) -> tuple[Thing, ...]:
        """The sets of the house, as people count them."""
        return self._sets

    def with_nothing_changed(self) -> Facts:
        """What is known of the plot as it is."""
        facts = Facts(self.audit.rig, self.audit.on, self.audit.further)
        self._hand_in(facts)
        return facts

    def with_asked(self, changes: Iterable[Change]) -> Trial:
        """The plot with some facts otherwise, read from what somebody would write for them with `--set`.

        Raises:
            NotSoWritten: that is not written as such a fact is.
        """
        changes = tuple(changes)

        def otherwise(copies: Mapping[Thing, Thing]) -> None:
            for thing, fact, text in changes:
                ask_of(copies[thing], fact, text)

        return self._with(otherwise)

    def on_sets(self, moves: Mapping[Thing, Thing]) -> Trial:
        """Pieces on other sets, at the same places across the stage and the same trims; the steps of their load-in
        and the balance sheets of the sets that they leave go with them.
        """
        goes = self._whither(moves)

        def moved(copies: Mapping[Thing, Thing]) -> None:
            for thing, fact, line_set in goes:
                copy = copies[thing]
                place = copy.facts[fact].place if fact in copy.facts else copy.place
                name = line_set.key
                copy.facts[fact] = Recorded(Name(name), name, place, origin="asked", note=ASKED)
                copy.references[fact] = line_set

        return self._with(moved)

    def asked_for(self, moves: Mapping[Thing, Thing]) -> tuple[str, ...]:
        """What to write after `--set` to lay the plot like that."""
        return tuple(as_asked(thing, fact, line_set.key) for thing, fact, line_set in self._whither(moves))

    def _whither(self, moves: Mapping[Thing, Thing]) -> tuple[tuple[Thing, str, Thing], ...]:
        """Each thing that names a set, the fact that names it, and the set that it is to name."""
        goes: list[tuple[Thing, str, Thing]] = [(item, "on", line_set) for item, line_set in moves.items()]
        left = {item.references["on"]: line_set for item, line_set in moves.items()}
        for name in ("steps", "sheets"):
            for thing in self.plot.members(name):
                of = thing.references.get("set")
                if isinstance(of, Thing) and of in left:
                    goes.append((thing, "set", left[of]))
        return tuple(goes)

    def _with(self, change: Callable[[Mapping[Thing, Thing]], None]) -> Trial:
        rig = self.audit.rig
        plot, copies = copied(self.plot, rig.house)
        change(copies)
        plot.parts["pairs"] = pairs_of(plot, rig.vocabulary)
        facts = Facts(replace(rig, plot=plot, indexed={}), self.audit.on, self.audit.further)
        self._hand_in(facts)
        return Trial(facts, plot, _pairs_too(copies, self.plot, plot))

    def _hand_in(self, facts: Facts) -> None:
        """What the house comes to by itself, as it was found."""
        for line_set, name, answer in self._of_sets:
            facts.hand_in(line_set, name, answer)

    def judged(self, rule: Rule, thing: Thing, facts: Facts) -> Judgement:
        """What one rule says of one thing in a trial."""
        judge = self._judges.get(rule.slug)
        if judge is None:
            judge = self._judges[rule.slug] = Judge(rule, cast(System, self.audit.rig.units))
        return judge.on(thing, facts)

    def asking(
        self, things: Iterable[Thing], facts: Facts, *, urgent: bool = False
    ) -> tuple[tuple[Rule, Thing, Judgement], ...]:
        """What the rules of a show find, or cannot tell, about some things in a trial; a fault once, as in an
        audit.

        Args:
            urgent: only by rules that ask for something before the next use. None of those keeps silent for a
                milder one.
        """
        every = list(things)
        found = [
            (rule, thing, judgement)
            for rule in self.rules
            if not urgent or rule.severity.is_urgent
            for thing in every
            if thing.kind.name in rule.kinds
            for judgement in (self.judged(rule, thing, facts),)
            if judgement.result in (Result.FINDING, Result.UNDETERMINED, Result.ERROR)
        ]
        return tuple(one for one in found if not _is_silenced(one, found))


def things_about(plot: Thing, item: Thing) -> tuple[Thing, ...]:
    """Of what a plot's rules speak when they speak of a piece: the piece and what belongs to it, its cues, the
    pairs that it is one of, what carries it with all that is on that, and the sheet and the steps of its set.
    """
    on = item.references.get("on")
    carriers: tuple[Thing, ...] = ()
    if isinstance(on, Thing):
        carriers = (on,) if on.kind.name == "line_set" else rigging_above(on)
    planned = [
        one
        for name in ("sheets", "steps")
        for one in plot.members(name)
        if isinstance(on, Thing) and one.references.get("set") is on
    ]
    cues = [one for one in plot.members("cues") if one.references.get("item") is item]
    pairs = [one for one in plot.members("pairs") if item in one.references.values()]
    below = [thing for one in (item, *carriers, *planned) for thing in one.below()]
    return tuple(dict.fromkeys([*below, *cues, *pairs]))


def _pairs_too(copies: Mapping[Thing, Thing], before: Thing, after: Thing) -> dict[Thing, Thing]:
    """Pairs are made anew for a changed plot: the same two pieces are the same pair."""
    by_key = {pair.key: pair for pair in after.members("pairs")}
    return {**copies, **{pair: by_key[pair.key] for pair in before.members("pairs") if pair.key in by_key}}


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
