"""Where else in the house a piece would hang: tried on every free set, at the same places across the stage and
the same trims, with everything else of the plot where it is.

What is to be put right about the piece wherever it hangs (it was not weighed, its paper is missing) speaks
for no set and against none, and is left aside; what stops it anywhere is never left aside. Of a piece that
has somebody on it nothing is tried.
"""

from collections.abc import Iterator

from plumbtrue.audit.item_verdicts import ItemVerdict, People
from plumbtrue.audit.outcome import Result
from plumbtrue.audit.trials import Trial, Trials
from plumbtrue.audit.verdicts import State
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.judging import Judgement
from plumbtrue.rules.rule import Rule
from plumbtrue.rules.severity import Severity

_MUST = (Severity.OUT_OF_SERVICE, Severity.BEFORE_NEXT_USE)
_Said = tuple[str, str, str, tuple[tuple[str, str], ...]]
"""Rule, thing, words, and what is missing."""
_UNUSABLE = (State.OUT_OF_SERVICE, State.BEFORE_NEXT_USE, State.CANNOT_BE_TOLD)


@unchanging
class Elsewhere:
    """What trying a piece on the other sets came to; sets by their keys, as people count them."""

    clear: tuple[str, ...]
    """Where nothing is found about it or its neighbours that must be done, and all of that can be told."""
    remarks: tuple[tuple[str, tuple[str, ...]], ...]
    """Of those, what can wait there: set and rules."""
    against: tuple[tuple[str, tuple[str, ...]], ...]
    """Every other set that was tried, with the rules that speak against it, the gravest first."""
    taken: tuple[str, ...]
    """Sets that carry pieces already; they were not tried."""
    unusable: tuple[str, ...]
    """Sets that the house by itself puts out of use, or of which nobody can tell; they were not tried."""
    everywhere: tuple[str, ...]
    """Rules that ask for the same about the piece wherever it hangs, none of which stops it."""


def elsewhere(trials: Trials, verdict: ItemVerdict) -> Elsewhere | None:
    """Try a piece on every free set; nothing where it hangs on no set, or somebody is on it."""
    here = verdict.carrier
    if verdict.people is not People.NOBODY or here is None or here.kind.name != "line_set":
        return None
    item = verdict.item
    taken = {one for one in _taken(trials, item) if one is not here}
    free = [one for one in trials.line_sets if one is not here and one not in taken]
    states = {one: trials.show.house_verdicts[one.key].state for one in free}
    tried = [one for one in free if states[one] not in _UNUSABLE]
    found = {one: _found(trials, trials.on_set(item, one), item, one) for one in tried}
    at_home = _found(trials, trials.on_set(item, here), item, here)
    common = set.intersection(*(set(its) for its in (at_home, *found.values())))
    wherever = {key for key in common if at_home[key].severity is not Severity.OUT_OF_SERVICE}
    clear, remarks, against = [], [], []
    for line_set, its in found.items():
        rules = {its[key].slug: its[key] for key in its if key not in wherever}.values()
        urgent = sorted((rule.severity.rank, rule.slug) for rule in rules if rule.severity in _MUST)
        names = [slug for _, slug in urgent]
        if names:
            against.append((line_set.key, tuple(dict.fromkeys(names))))
            continue
        clear.append(line_set.key)
        milder = sorted(rule.slug for rule in rules)
        if milder:
            remarks.append((line_set.key, tuple(milder)))
    return Elsewhere(
        clear=tuple(clear),
        remarks=tuple(remarks),
        against=tuple(against),
        unusable=tuple(one.key for one in free if one not in found),
        taken=tuple(one.key for one in trials.line_sets if one in taken),
        everywhere=tuple(sorted({at_home[key].slug for key in wherever if at_home[key].severity in _MUST})),
    )


def _asked(judgement: Judgement) -> tuple[tuple[str, str], ...]:
    return tuple((one.thing.path, one.fact) for one in judgement.missing)


def _taken(trials: Trials, item: Thing) -> Iterator[Thing]:
    for verdict in trials.show.items.values():
        on = verdict.thing.references.get("on")
        if verdict.thing is not item and isinstance(on, Thing):
            yield on


def _found(trials: Trials, trial: Trial, item: Thing, line_set: Thing) -> dict[_Said, Rule]:
    """What is found, or of what must be done cannot be told, with the piece on a set: about the piece and
    what belongs to it, the set with all that is on it, and the pairs that the piece is one of.

    By rule, thing and words: only what is said of the piece itself, in the same words on every set, has nothing
    to do with where it hangs.
    """
    piece = trial.counterpart(item)
    pairs = trial.plot.parts.get("pairs")
    beside = [one for one in (pairs if isinstance(pairs, tuple) else ()) if piece in one.references.values()]
    cues = trial.plot.parts.get("cues")
    moves = [one for one in (cues if isinstance(cues, tuple) else ()) if one.references.get("item") is piece]
    things = [*piece.below(), *moves, *beside, *line_set.below()]
    return {
        (rule.slug, thing.path, judgement.message, _asked(judgement)): rule
        for rule, thing, judgement in trials.asking(things, trial.facts)
        if judgement.result is Result.FINDING or rule.severity in _MUST
    }
