"""Where else in the house a piece would hang: tried by laying the plot again with the piece on another set, at the
same places across the stage and the same trims, with everything else of the plot where it is.

Every set that carries nothing and is not out of service is tried, and of the sets that carry pieces the nearest,
with all that hangs there on the piece's own set instead; of those no more is looked at once something speaks
against it. A set is offered where nothing that must be done is found about the piece, or left open, and nothing
anew about any other piece that this touches: what hangs beside it there, what went to its old set, and the plot as
a whole. Where something would have to be done first it is said what: work that the house asks for on that set, an
exchange, what the rules of the show find there.

What is to be put right about the piece wherever it hangs (it was not weighed, its paper is missing) speaks for no
set and against none, and is left aside; what stops it anywhere is never left aside. Of a piece that has somebody
on it nothing is tried, and a piece with somebody on it is moved for no other.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from plumbtrue.audit.item_verdicts import ItemVerdict, People, echoes_of, people_on
from plumbtrue.audit.outcome import Result
from plumbtrue.audit.trials import Trial, Trials, things_about
from plumbtrue.audit.verdicts import State
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.judging import Judgement
from plumbtrue.rules.rule import Rule
from plumbtrue.rules.severity import Severity

_EXCHANGES: Final = 6
"""Sets that carry pieces on which an exchange is tried: the nearest. Each takes two pieces to be laid again."""
OUT_OF_SERVICE: Final = "is out of service"
"""The beginning of the reason for a set that the house has put out of use."""
_Said = tuple[str, str, str, tuple[tuple[str, str], ...]]
"""Rule, thing, words, and what is missing."""
_UNUSABLE: Final = (State.OUT_OF_SERVICE, State.BEFORE_NEXT_USE, State.CANNOT_BE_TOLD)


@unchanging
class Offer:
    """What a piece comes to on another set."""

    key: str
    """Of the set, as people count them."""
    away: float | None
    """How far upstage of the wanted set it stands [m], negative: downstage; nothing where that is not written."""
    exchanged: tuple[str, ...] = ()
    """Pieces that hang there and would go to the wanted set instead, by their keys."""
    of_house: State | None = None
    """What the house by itself says of the set, where it is not free to be used."""
    first: tuple[str, ...] = ()
    """Rules of the house that say so."""
    stops: tuple[str, ...] = ()
    """Rules that would stop the piece there."""
    changes: tuple[str, ...] = ()
    """Rules that would ask for something about it before it is used."""
    open_ones: tuple[str, ...] = ()
    """Rules of which it cannot be told there."""
    worse: tuple[tuple[str, tuple[str, ...]], ...] = ()
    """What else would then be found, or could not be told, that is not so as the plot is: what it is about, and
    rules.
    """
    remarks: tuple[str, ...] = ()
    """Rules that find there what can wait."""
    asked: tuple[str, ...] = ()
    """What to write after `--set` to lay the plot like that."""

    @property
    def fits(self) -> bool:
        """Whether nothing speaks against the piece there, once the set is free to be used."""
        return not (self.stops or self.changes or self.open_ones or self.worse)

    @property
    def is_clear(self) -> bool:
        """Whether it would hang there as things are."""
        return self.fits and not self.exchanged and self.of_house is None

    @property
    def against(self) -> tuple[str, ...]:
        """Rules that speak against it, the gravest first."""
        others = [rule for _, rules in self.worse for rule in rules]
        return tuple(dict.fromkeys([*self.stops, *self.changes, *self.open_ones, *others]))


@unchanging
class Elsewhere:
    """What trying a piece on the other sets came to."""

    offers: tuple[Offer, ...]
    """Every set that was tried, the nearest to the wanted place first."""
    not_tried: tuple[tuple[str, str], ...]
    """Every other set, with the reason."""
    everywhere: tuple[str, ...]
    """Rules that ask for the same about the piece wherever it hangs, none of which stops it."""

    @property
    def clear(self) -> tuple[str, ...]:
        """Sets on which it would hang as things are."""
        return tuple(one.key for one in self.offers if one.is_clear)

    @property
    def remarks(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Of those, what can wait there: set and rules."""
        return tuple((one.key, one.remarks) for one in self.offers if one.is_clear and one.remarks)

    @property
    def against(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Free sets on which it would not hang as it is, with the rules that speak against it, the gravest
        first.
        """
        free = (one for one in self.offers if one.of_house is None and not one.exchanged)
        return tuple((one.key, one.against) for one in free if not one.fits)


def elsewhere(trials: Trials, verdict: ItemVerdict) -> Elsewhere | None:
    """Try a piece on the other sets; nothing where it hangs on no set, or somebody is on it."""
    here = verdict.carrier
    if verdict.people is not People.NOBODY or here is None or here.kind.name != "line_set":
        return None
    return _Trying(trials, verdict.item, here).all()


class _Trying:
    """One piece, tried on one set after another."""

    def __init__(self, trials: Trials, item: Thing, here: Thing) -> None:
        self.trials = trials
        self.item = item
        self.here = here
        self.on: dict[Thing, list[Thing]] = {}
        for one in trials.show.items.values():
            carrier = one.thing.references.get("on")
            if isinstance(carrier, Thing):
                self.on.setdefault(carrier, []).append(one.thing)
        known = trials.with_nothing_changed()
        self.depth = {one: _middle(known.value(one, "from_plaster_line")) for one in trials.line_sets}
        self.people = {one: people_on(known, one) for its in self.on.values() for one in its}
        self._echoes = echoes_of(trials.audit)
        self._now: dict[Thing, set[tuple[str, str]]] = {}
        self._of_whole: set[tuple[str, str]] | None = None
        self.facts_now = known

    def all(self) -> Elsewhere:
        """Each set that carries nothing, and the nearest of the others."""
        others = sorted((one for one in self.trials.line_sets if one is not self.here), key=self._distance)
        not_tried: dict[Thing, str] = {}
        moves: dict[Thing, dict[Thing, Thing]] = {}
        exchanges = 0
        for one in others:
            why = self._why_not(one, exchanges)
            if why:
                not_tried[one] = why
                continue
            exchanges += bool(self.on.get(one))
            moves[one] = {self.item: one, **dict.fromkeys(self.on.get(one, ()), self.here)}
        at_home = _Found(self.trials, self.trials.on_sets({}), self.item)
        known = frozenset(at_home.said)
        found = {
            one: _Found(
                self.trials,
                self.trials.on_sets(its),
                self.item,
                known if len(its) > 1 else None,
                apart=self._said_of_set(one),
            )
            for one, its in moves.items()
        }
        common = set(at_home.said).intersection(*(one.said for one in found.values() if one.is_whole))
        wherever = {key for key in common if at_home.said[key].severity is not Severity.OUT_OF_SERVICE}
        return Elsewhere(
            offers=tuple(self._offer(one, moves[one], found[one], wherever) for one in moves),
            not_tried=tuple((one.key, not_tried[one]) for one in others if one in not_tried),
            everywhere=tuple(
                sorted({at_home.said[key].slug for key in wherever if at_home.said[key].severity.is_urgent})
            ),
        )

    def _said_of_set(self, line_set: Thing) -> frozenset[str]:
        """Rules that only tell of a piece there that the house holds the set back, which is told with the set."""
        held_back = self.trials.show.house_verdicts[line_set.key].state in _UNUSABLE
        return self._echoes if held_back else frozenset()

    def _distance(self, line_set: Thing) -> tuple[bool, float, str]:
        away = self._away(line_set)
        return away is None, abs(away or 0.0), line_set.key

    def _away(self, line_set: Thing) -> float | None:
        mine, its = self.depth[self.here], self.depth[line_set]
        return None if mine is None or its is None else its - mine

    def _why_not(self, line_set: Thing, exchanges: int) -> str:
        """Why a set is not tried; nothing where it is."""
        verdict = self.trials.show.house_verdicts[line_set.key]
        its = self.on.get(line_set, ())
        if verdict.state is State.OUT_OF_SERVICE:
            why = ", ".join(_house_asks(verdict.tagged_out, (one.rule for one in verdict.deciding)))
            return f"{OUT_OF_SERVICE} ({why})"
        if not its:
            return ""
        if any(self.people[one] is not People.NOBODY for one in its):
            return "carries what somebody is on, or of which nobody says that nobody is"
        home = self.trials.show.house_verdicts[self.here.key].state
        if home in _UNUSABLE:
            return f"is not free, and what hangs there cannot go to set {self.here.key}, which the house holds back"
        if len(self.on[self.here]) > 1:
            return f"is not free, and more hangs on set {self.here.key} than this piece"
        if exchanges >= _EXCHANGES:
            return f"stands further off than the {_EXCHANGES} nearest that are not free"
        return ""

    def _offer(
        self, line_set: Thing, moves: Mapping[Thing, Thing], found: "_Found", wherever: set[_Said]
    ) -> Offer:
        verdict = self.trials.show.house_verdicts[line_set.key]
        said = [
            (rule, judged)
            for key, rule in found.said.items()
            if key not in wherever and rule.slug not in self._said_of_set(line_set)
            for judged in (found.results[key],)
        ]
        must = [(rule, result) for rule, result in said if rule.severity.is_urgent]
        return Offer(
            key=line_set.key,
            away=self._away(line_set),
            exchanged=tuple(_key(one) for one in moves if one is not self.item),
            of_house=verdict.state if verdict.state in _UNUSABLE else None,
            first=_house_asks(verdict.tagged_out, (one.rule for one in verdict.deciding))
            if verdict.state in _UNUSABLE
            else (),
            stops=_slugs(
                rule
                for rule, result in must
                if result is Result.FINDING and rule.severity is Severity.OUT_OF_SERVICE
            ),
            changes=_slugs(
                rule
                for rule, result in must
                if result is Result.FINDING and rule.severity is Severity.BEFORE_NEXT_USE
            ),
            open_ones=_slugs(rule for rule, result in must if result is not Result.FINDING),
            worse=() if any(rule.severity.is_urgent for rule, _ in said) else self._worse(moves, found),
            remarks=_slugs(rule for rule, _ in said if not rule.severity.is_urgent),
            asked=self.trials.asked_for(moves),
        )

    def _worse(
        self, moves: Mapping[Thing, Thing], found: "_Found"
    ) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """What is found anew about others: the pieces that make room, those beside both places, and the plot."""
        others = [one for one in moves if one is not self.item]
        plot, trial = self.trials.plot, found.trial
        beside = {
            one: None
            for a_plot, pieces in (
                (plot, (self.item, *others)),
                (trial.plot, [trial.counterpart(one) for one in (self.item, *others)]),
            )
            for piece in pieces
            for one in _neighbours(a_plot, piece)
        }
        originals = {copy: original for original, copy in trial.copy_of.items()}
        touched = dict.fromkeys([*others, *(originals.get(one, one) for one in beside)])
        touched.pop(self.item, None)
        anew: dict[str, dict[str, None]] = {}
        mine = set(things_about(trial.plot, trial.counterpart(self.item)))
        for one in touched:
            before = self._asking(one)
            # Of a piece that stays where it is, only itself and its pairs are touched; its set is not.
            things = _about(trial.plot, trial.counterpart(one), with_set=one in others)
            things = tuple(it for it in things if it not in mine)
            for rule, thing, _ in self.trials.asking(things, trial.facts, urgent=True):
                if (rule.slug, thing.path) not in before:
                    anew.setdefault(_key(one), {})[rule.slug] = None
        if self._of_whole is None:
            self._of_whole = {
                (rule.slug, thing.path)
                for rule, thing, _ in self.trials.asking([plot], self.facts_now, urgent=True)
            }
        for rule, thing, _ in self.trials.asking([trial.plot], trial.facts, urgent=True):
            if (rule.slug, thing.path) not in self._of_whole:
                anew.setdefault("the whole plot", {})[rule.slug] = None
        return tuple((key, tuple(sorted(rules))) for key, rules in anew.items())

    def _asking(self, item: Thing) -> set[tuple[str, str]]:
        """What must be done about a piece as the plot is, by rule and by thing; whatever carries it."""
        if item not in self._now:
            things = things_about(self.trials.plot, item)
            asking = self.trials.asking(things, self.facts_now, urgent=True)
            self._now[item] = {(rule.slug, thing.path) for rule, thing, _ in asking}
        return self._now[item]


class _Found:
    """What is found, or of what must be done cannot be told, with a piece on a set: about the piece and what
    belongs to it, the set with all that is on it, and the pairs that the piece is one of.

    By rule, thing and words: only what is said of the piece itself, in the same words on every set, has nothing
    to do with where it hangs.
    """

    def __init__(
        self,
        trials: Trials,
        trial: Trial,
        item: Thing,
        enough: frozenset[_Said] | None = None,
        *,
        apart: frozenset[str] = frozenset(),
    ) -> None:
        """Look at a piece there.

        Args:
            enough: what is no news; anything else that must be done about the piece and its neighbours ends the
                search. Nothing: all is looked at.
            apart: rules whose findings are told apart from the piece, and so end no search.
        """
        self.trial = trial
        self.said: dict[_Said, Rule] = {}
        self.results: dict[_Said, Result] = {}
        self.is_whole = True
        things = things_about(trial.plot, trial.counterpart(item))
        if enough is None:
            self._look(trials, things)
            return
        of_plot = [one for one in things if one.enclosing("plot") is not None]
        self._look(trials, of_plot, urgent=True)
        if any(
            rule.severity.is_urgent and key not in enough and rule.slug not in apart
            for key, rule in self.said.items()
        ):
            self.is_whole = False
            return
        # Once more with the set, for what a rule about the set silences.
        self.said.clear()
        self._look(trials, things)

    def _look(self, trials: Trials, things: Iterable[Thing], *, urgent: bool = False) -> None:
        trial = self.trial
        for rule, thing, judgement in trials.asking(things, trial.facts, urgent=urgent):
            if judgement.result is Result.FINDING or rule.severity.is_urgent:
                key = (rule.slug, thing.path, judgement.message, _asked(judgement))
                self.said[key] = rule
                self.results[key] = judgement.result


def _asked(judgement: Judgement) -> tuple[tuple[str, str], ...]:
    return tuple((one.thing.path, one.fact) for one in judgement.missing)


def _about(plot: Thing, item: Thing, *, with_set: bool) -> tuple[Thing, ...]:
    things = things_about(plot, item)
    return things if with_set else tuple(one for one in things if one.line_set is None)


def _neighbours(plot: Thing, item: Thing) -> Iterator[Thing]:
    for pair in plot.members("pairs"):
        both = list(pair.references.values())
        if item in both:
            yield from (one for one in both if isinstance(one, Thing) and one is not item)


def _slugs(rules: Iterable[Rule]) -> tuple[str, ...]:
    ordered = sorted({(rule.severity.rank, rule.slug) for rule in rules})
    return tuple(slug for _, slug in ordered)


def _house_asks(tagged_out: bool, rules: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys([*(["tagged out"] if tagged_out else []), *rules]))


def _key(item: Thing) -> str:
    return item.key.removeprefix("item ")


def _middle(value: object) -> float | None:
    return (value.low + value.high) / 2 if isinstance(value, Bounds) else None
