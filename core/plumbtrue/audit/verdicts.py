"""What the outcomes come to for each line set and for the rest of the house: one word of what must happen
first.

A verdict never says that a set is safe: `nothing-found` means that rules looked and none of them asks for
anything that must be done.
"""

from collections.abc import Iterable
from enum import Enum

from plumbtrue.audit.outcome import TOLD, Outcome, Result
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.severity import Severity


class State(Enum):
    """What must happen first; gravest first."""

    OUT_OF_SERVICE = "out-of-service"
    BEFORE_NEXT_USE = "before-next-use"
    CANNOT_BE_TOLD = "cannot-be-told"
    NEXT_MAINTENANCE = "next-maintenance"
    NOTHING_FOUND = "nothing-found"

    @property
    def rank(self) -> int:
        """0 for the gravest."""
        return list(State).index(self)


_OF_FINDING = {
    Severity.OUT_OF_SERVICE: State.OUT_OF_SERVICE,
    Severity.BEFORE_NEXT_USE: State.BEFORE_NEXT_USE,
    Severity.NEXT_MAINTENANCE: State.NEXT_MAINTENANCE,
    Severity.ADVISORY: State.NOTHING_FOUND,
}


@unchanging
class Verdict:
    """The verdict on one line set, or on what belongs to no line set."""

    thing: Thing
    state: State
    tagged_out: bool
    """A tag is recorded on it: whoever hung it has taken the set out of service already."""
    deciding: tuple[Outcome, ...]
    """The outcomes that make the state what it is; none where nothing was found."""
    findings: int
    undetermined: int
    accepted: int
    looked_at: bool
    """Whether any rule applied to it or to anything in it. One that no rule looked at cannot be told."""

    @property
    def key(self) -> str:
        return self.thing.key


def line_set_verdicts(line_sets: Iterable[Thing], outcomes: Iterable[Outcome]) -> dict[str, Verdict]:
    """The verdict on each line set, by its key, in the order in which people count them."""
    by_set: dict[Thing, list[Outcome]] = {line_set: [] for line_set in line_sets}
    # Some ten rules speak of each thing: where it belongs is found once for all of them.
    places: dict[Thing, Thing | None] = {}
    for outcome in outcomes:
        if outcome.result is Result.NOT_APPLICABLE:
            continue  # Most are, and they say nothing of any set.
        if outcome.thing not in places:
            places[outcome.thing] = line_set_of(outcome.thing)
        line_set = places[outcome.thing]
        if line_set in by_set:
            by_set[line_set].append(outcome)
    return {
        line_set.key: verdict_on(line_set, by_set[line_set])
        for line_set in sorted(by_set, key=lambda one: natural_order(one.key))
    }


def line_set_of(thing: Thing) -> Thing | None:
    """The line set that it belongs to, or that it hangs on: a piece of a show, and a cue that moves it,
    count where it hangs.
    """
    return thing.line_set or _named_line_set(thing)


def _named_line_set(thing: Thing) -> Thing | None:
    if thing.kind.name in ("plot", "pair", "drawn_set"):
        return None
    outward: Thing | None = thing
    while outward is not None:
        for named in (outward.references[fact] for fact in sorted(outward.references)):
            if isinstance(named, Thing) and (line_set := named.line_set or _hangs_on(named)) is not None:
                return line_set
        outward = outward.parent
    return None


def _hangs_on(item: Thing) -> Thing | None:
    on = item.references.get("on")
    return on.line_set if isinstance(on, Thing) else None


def verdict_on(thing: Thing, outcomes: Iterable[Outcome]) -> Verdict:
    """The gravest of what was found, and of what could not be told behind a rule that stops the use."""
    mine = tuple(outcomes)
    told = [outcome for outcome in mine if outcome.result in TOLD]
    asking = [outcome for outcome in told if outcome.counts]
    state = min(
        (_state_of(outcome) for outcome in asking), key=lambda one: one.rank, default=State.NOTHING_FOUND
    )
    tagged = _is_tagged_out(thing)
    looked_at = bool(told) or any(outcome.result is Result.MET for outcome in mine)
    if tagged:
        state = State.OUT_OF_SERVICE
    elif not looked_at:
        state = State.CANNOT_BE_TOLD
    deciding = (
        tuple(one for one in asking if _state_of(one) is state) if state is not State.NOTHING_FOUND else ()
    )
    return Verdict(
        thing,
        state,
        tagged,
        deciding,
        findings=sum(one.result is Result.FINDING for one in asking),
        undetermined=sum(one.result in (Result.UNDETERMINED, Result.ERROR) for one in asking),
        accepted=sum(one.acceptance is not None and not one.counts for one in told),
        looked_at=looked_at,
    )


def _state_of(outcome: Outcome) -> State:
    if outcome.result is Result.FINDING:
        return _OF_FINDING[outcome.severity]
    return State.CANNOT_BE_TOLD if outcome.severity.is_urgent else State.NOTHING_FOUND


def _is_tagged_out(thing: Thing) -> bool:
    recorded = thing.facts.get("tagged_out")
    return recorded is not None and isinstance(recorded.value, Bounds)
