"""The changeover in words: which sets to look at again and why, and the crew's list, set by set."""

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, cast

from plumbtrue.audit.changeover import Action, Concern, Reason, Recheck, Task
from plumbtrue.audit.comparing import Comparison
from plumbtrue.audit.item_verdicts import ItemState
from plumbtrue.audit.rig_changes import Deed, RigChange
from plumbtrue.facts.computed.show_balance import heaviest_first
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.values import Name
from plumbtrue.quantities.writing import System
from plumbtrue.reporting.comparison_rows import (
    DEED_LABELS,
    Row,
    carrier_in_words,
    named_thing,
    recorded,
    without_plot,
    worded,
)
from plumbtrue.reporting.grouping import set_title
from plumbtrue.reporting.places_in_words import name_of, where
from plumbtrue.reporting.wording import counted, listed, marks, sentence
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.thing import Thing

_MOST_SAID: Final = 4

AS_A_RULE: Final = (
    "With the pipe in at its low trim, the crew clear of it, and under whoever answers for the stage."
)

CONCERN_LABELS: Final = {
    Concern.NEW_SET: "new set",
    Concern.LOAD_PATH: "load path",
    Concern.LOAD: "load",
    Concern.PULLS: "pulled otherwise",
    Concern.BESIDE: "beside it",
}


@dataclass(frozen=True, slots=True)
class Crew:
    """What to do on one set, or on all that hangs on none."""

    set_key: str
    """Empty for what hangs on no set."""
    title: str
    stop: bool
    """Whether it must not fly, or something that was to hang there does not hang."""
    waits: ItemState | None
    """What comes before anything is hung: something to put right, or to find out; nothing where nothing does."""
    steps: tuple[str, ...]
    brief: tuple[str, ...]
    """The same in a few words each; bricks stand beside them."""
    bricks: tuple[str, ...]
    """How many more of each kind of brick, or what has to happen first; in the order of `Changeover.bricks`."""


@dataclass(frozen=True, slots=True)
class Changeover:
    """The crew's list."""

    bricks: tuple[str, ...]
    """Kinds of bricks that are moved, the heaviest first."""
    crews: tuple[Crew, ...]
    check_again: str
    """Sets to be checked again on stage, in a sentence; empty where there are none."""
    notes: tuple[str, ...]
    """What the signs and the bricks mean."""

    @property
    def title(self) -> str:
        """What stands over the list in short."""
        return f"What to do, {'stops first' if any(crew.stop for crew in self.crews) else 'set by set'}"

    @property
    def stops_first(self) -> tuple[Crew, ...]:
        """The same list with the most dangerous first: stops, then what waits for something, then the rest."""
        return tuple(sorted(self.crews, key=lambda crew: (not crew.stop, crew.waits is None)))


def sign_of(crew: Crew) -> str:
    """The shape that stands before a set of the crew's list."""
    if crew.stop:
        return "■"
    match crew.waits:
        case ItemState.WITH_CHANGES:
            return "▲"
        case ItemState.CANNOT_BE_TOLD:
            return "?"
        case _:
            return ""


def said_of(crew: Crew) -> str:
    """The same in words, for who cannot see it."""
    return {"■": "stopped", "▲": "first put right", "?": "first find out"}.get(sign_of(crew), "")


def standing_of(crew: Crew) -> str:
    """The same as a state, for colour beside it."""
    return {"■": "out-of-service", "▲": "before-next-use", "?": "cannot-be-told"}.get(sign_of(crew), "")


def recheck_rows(comparison: Comparison) -> tuple[Row, ...]:
    """Sets to be looked at again, with the reasons."""
    system = cast(System, comparison.new.rig.units)
    return tuple(_recheck(one, system) for one in comparison.rechecks)


def _recheck(recheck: Recheck, system: System) -> Row:
    concerns = list(dict.fromkeys(reason.concern for reason in recheck.reasons))
    told: list[str] = []
    for concern in concerns:
        reasons = [reason for reason in recheck.reasons if reason.concern is concern]
        told.append(_why(concern, reasons, recheck.line_set, system))
    return Row(
        sign="◆",
        standing="",
        label=listed([CONCERN_LABELS[concern] for concern in concerns]),
        where=set_title(recheck.line_set.key),
        what=" ".join(told),
    )


def _why(concern: Concern, reasons: Sequence[Reason], line_set: Thing, system: System) -> str:
    match concern:
        case Concern.NEW_SET:
            return "The set is new."
        case Concern.PULLS:
            facts = dict.fromkeys(one.value.fact.name.replace("_", " ") for one in reasons if one.value)
            return (
                f"Nothing was changed on it, and yet other than before: {listed(list(facts)[:_MOST_SAID])}."
            )
        case Concern.BESIDE:
            pieces = dict.fromkeys(piece_of(one.beside) for one in reasons if one.beside is not None)
            return f"Other than before next to it: {listed(list(pieces))}."
        case _:
            changes = [one.change for one in reasons if one.change is not None]
            return sentence(_in_short(changes, line_set, system))


def _in_short(changes: Sequence[RigChange], line_set: Thing | None, system: System) -> str:
    """Some changes in a line, like ones drawn together."""
    grouped: dict[tuple[str, str], list[Thing]] = {}
    for one in changes:
        grouped.setdefault((_deed(one, system), one.thing.kind.name), []).append(one.thing)
    phrases = []
    for (deed, _), things in grouped.items():
        inside = [thing for thing in things if thing.line_set is not None]
        named = where(things, line_set) if len(inside) == len(things) else _pieces(things)
        phrases.append(f"{named}: {deed}")
    more = len(phrases) - _MOST_SAID
    return "; ".join(phrases[:_MOST_SAID]) + (f"; and {counted(more, 'more change')}" if more > 0 else "")


def _pieces(things: Iterable[Thing]) -> str:
    return listed(list(dict.fromkeys(piece_of(thing) for thing in things)))


def piece_of(thing: Thing) -> str:
    """A piece of the show by number and name; anything else by its path."""
    item = thing.enclosing("item")
    if item is None:
        return without_plot(where([thing], None))
    name = item.facts.get("name")
    called = f" “{name.value.text}”" if name is not None and isinstance(name.value, Name) else ""
    inner = "" if item is thing else f", {thing.path.removeprefix(item.path + ' / ')}"
    return f"{item.key}{called}{inner}"


def _deed(change: RigChange, system: System) -> str:
    fact = change.declared
    label = DEED_LABELS[change.deed]
    if change.deed is Deed.REPLACED and change.old is not None:
        return f"in the place of {named_thing(change.old)}"
    if change.deed in (Deed.ADDED, Deed.REMOVED) or fact is None:
        return label
    if change.before is None and change.after is None:
        return f"{change.fact.replace('_', ' ')} {label}"
    if change.deed is Deed.MOVED:
        carriers = [carrier_in_words(one, change.fact) for one in (change.old, change.new)]
        return f"{carriers[0]} → {carriers[1]}"
    before, after = recorded(change.before, fact, system), recorded(change.after, fact, system)
    return f"{change.fact.replace('_', ' ')} {before} → {after}"


def changeover(comparison: Comparison) -> Changeover:
    """The crew's list, set by set."""
    by_set: dict[tuple[Thing | None, Thing | None], list[Task]] = {}
    for task in comparison.tasks:
        by_itself = task.piece if task.line_set is None else None
        by_set.setdefault((task.line_set, by_itself), []).append(task)
    kinds = _kinds_of_bricks(comparison)
    return Changeover(
        bricks=tuple(kind.removeprefix("brick ") for kind in kinds),
        crews=tuple(_crew(line_set, its, kinds, comparison) for (line_set, _), its in by_set.items()),
        check_again=_check_again([one.line_set.key for one in comparison.rechecks]),
        notes=tuple(_notes(comparison.tasks)),
    )


def _check_again(keys: Sequence[str]) -> str:
    if not keys:
        return ""
    one_alone = len(keys) == 1
    return f"Check again on stage: set{'' if one_alone else 's'} {marks(keys)}."


def _notes(tasks: Sequence[Task]) -> Iterator[str]:
    waits = {task.state for task in tasks if _waits(task)}
    if waits:
        first = [said for state, said in _FIRST.items() if state in waits]
        yield f"{', '.join(first)}, what is told below."
    if any(task.bricks or task.action in (Action.TAKE_OFF, Action.HANG) for task in tasks):
        yield "Bricks, with the pipe in: - come off before the load, + go on when it hangs."
    if _exchanged(tasks):
        yield _BETWEEN


def _kinds_of_bricks(comparison: Comparison) -> tuple[str, ...]:
    """Kinds of bricks that somebody moves, in the order of the house; those that it has no more come last."""
    new = comparison.new
    ordered = [one.key for one in heaviest_first(Facts(new.rig, new.on, new.further), new.rig.house)]
    moved = {kind for task in comparison.tasks for kind, _ in task.bricks}
    gone = sorted(moved - set(ordered), key=natural_order)
    return (*(kind for kind in ordered if kind in moved), *gone)


def _crew(line_set: Thing | None, its: Sequence[Task], kinds: Sequence[str], comparison: Comparison) -> Crew:
    system = cast(System, comparison.new.rig.units)
    actions = {task.action for task in its}
    moved = {kind: count for task in its for kind, count in task.bricks}
    instead = next((word for action, word in _INSTEAD_OF_BRICKS.items() if action in actions), "")
    return Crew(
        set_key=line_set.key if line_set is not None else "",
        title=set_title(line_set.key) if line_set is not None else "On no set",
        waits=min((task.state for task in its if _waits(task)), key=_rank, default=None),
        stop=bool(actions & {Action.DO_NOT_FLY, Action.DO_NOT_HANG}),
        steps=(
            *(step for task in its for step in _steps(task, system)),
            *([_BETWEEN] if _exchanged(its) else []),
        ),
        brief=tuple(step for task in its for step in _brief(task, actions, system)),
        bricks=tuple(f"{moved[kind]:+d}" if moved.get(kind) else instead for kind in kinds),
    )


_BETWEEN: Final = (
    "Where one load comes off and another goes on, bricks are told from before to the end: "
    "those of the old load are off while the pipe hangs bare between them."
)


def _exchanged(tasks: Sequence[Task]) -> bool:
    """Whether a piece comes off a set on which another is hung."""
    off, on = (
        {task.line_set for task in tasks if task.action is action and task.line_set is not None}
        for action in (Action.TAKE_OFF, Action.HANG)
    )
    return bool(off & on)


def _waits(task: Task) -> bool:
    return task.state in (ItemState.WITH_CHANGES, ItemState.CANNOT_BE_TOLD)


_FIRST: Final = {
    ItemState.WITH_CHANGES: "▲ first put right",
    ItemState.CANNOT_BE_TOLD: "? first find out",
}


def _rank(state: ItemState | None) -> int:
    return state.rank if state is not None else len(ItemState)


_INSTEAD_OF_BRICKS: Final = {Action.BRICKS_WAIT: "none", Action.BRICKS_NOT_TOLD: "weigh"}
"""What stands in the place of a number of bricks: none are loaded yet, or nobody knows how many."""


def _brief(task: Task, actions: Collection[Action], system: System) -> Iterator[str]:
    """A task in a few words."""
    piece = _piece_in_short(task.piece) if task.piece is not None else ""
    stands = task.line_set is None and task.piece is not None and not task.piece.references.get("on")
    match task.action:
        case Action.DO_NOT_FLY if Action.DO_NOT_HANG not in actions:
            yield "out of service: must not fly"
        case Action.RELABEL:
            assert task.other is not None
            yield f"change the number: was {task.other.key}"
        case Action.WORK if task.changes:
            yield f"look at {_in_short(task.changes, task.line_set, system)}"
        case Action.WORK:
            yield "new: inspect the whole of it before it carries anything"
        case Action.TAKE_OFF:
            yield f"take off {piece}, {f'to set {task.other.key}' if task.other is not None else 'cut'}"
        case Action.HANG:
            was = f", from set {task.other.key}" if task.other is not None else ""
            yield f"{'put up' if stands else 'hang'} {piece}{was}{_trim(task.piece)}"
        case Action.DO_NOT_HANG:
            yield f"do not {'put up' if stands else 'hang'} {piece}: {task.stopped_by}"
        case Action.SET_AGAIN:
            told = _main_changes(task, system)
            yield f"set again {piece}{f': {told}' if told else ''}"
        case Action.RESPIKE:
            yield f"spike again: {_trims(task, system)}"
        case Action.REHEARSE if not (Action.RESPIKE in actions and _is_of_trims(task)):
            yield f"run {piece} again: {_main_changes(task, system)}"
        case Action.STRIKE:
            yield "gone from the file: see that it is struck"
        case _:
            return


def _is_of_trims(task: Task) -> bool:
    """Whether a cue is other only in where it begins and ends, which the marks on the hand line tell."""
    return all(one.fact in ("from", "to") for one in task.changes)


_BRIEFLY: Final = 2

_MATTERS_FIRST: Final = ("weight", "on", "added", "apex_height", "trim", "height", "count", "time")
"""Facts that tell a crew most about what is other on a piece (common practice)."""

_HOW_IT_WAS_FOUND: Final = frozenset({"weight_basis", "includes", "weighed_with"})
_TOLD_BY_THE_WHOLE: Final = frozenset({"weight"})


def _main_changes(task: Task, system: System) -> str:
    """The changes that tell a crew most: of weights the whole piece's, and nothing of how it was found."""
    places = {fact: place for place, fact in enumerate(_MATTERS_FIRST)}
    facts = {one.fact for one in task.changes if one.thing is task.piece}
    telling = [
        one
        for one in task.changes
        if one.fact not in _HOW_IT_WAS_FOUND
        and not (one.thing is not task.piece and one.fact in facts & _TOLD_BY_THE_WHOLE)
    ]
    ordered = sorted(telling or task.changes, key=lambda one: places.get(one.fact or "added", len(places)))
    return ", ".join(list(dict.fromkeys(_without_its(_deed(one, system), one) for one in ordered))[:_BRIEFLY])


def _without_its(told: str, change: RigChange) -> str:
    """A change of a part of a piece with the part's name."""
    thing = change.thing
    if thing.kind.name in ("item", "bridle", "truss"):
        return told.removeprefix("weight ")
    called = (
        thing.kind.word.replace("-", " ") if change.deed in (Deed.ADDED, Deed.REMOVED) else name_of(thing)
    )
    return f"{called} {told}"


def _piece_in_short(piece: Thing) -> str:
    name = piece.facts.get("name")
    called = f" {name.value.text}" if name is not None and isinstance(name.value, Name) else ""
    return f"{piece.key.removeprefix('item ')}{called}"


def _trims(task: Task, system: System) -> str:
    return ", ".join(
        f"{'low' if one.fact.name.endswith('low') else 'high'} "
        f"{worded(one.before, one.fact, system)} → {worded(one.after, one.fact, system)}"
        for one in task.trims
    )


def _steps(task: Task, system: System) -> Iterator[str]:
    piece = piece_of(task.piece) if task.piece is not None else ""
    match task.action:
        case Action.DO_NOT_FLY:
            yield (
                "Must not fly: land it and tag it. Whether and how anything below is done first is for whoever "
                "answers for the stage."
            )
        case Action.RELABEL:
            assert task.other is not None
            yield f"Change the number on rail, bridge and schedule: was {task.other.key}."
        case Action.WORK if task.changes:
            told = _in_short(task.changes, task.line_set, system)
            yield f"Look at what is other on the set: {told[0].upper()}{told[1:]}."
        case Action.WORK:
            yield "A new set: inspect the whole of it before it carries anything."
        case Action.TAKE_OFF:
            to = f"; it goes to set {task.other.key}" if task.other is not None else "; it is cut"
            yield f"Take off {piece}{to}."
        case Action.HANG:
            was = f", from set {task.other.key}" if task.other is not None else ", new"
            other = f"; {_changes(task.changes, system)}" if task.changes else ""
            yield f"Hang {piece}{was}{_trim(task.piece)}{other}.{_only(task)}"
        case Action.DO_NOT_HANG:
            yield f"Do not hang {piece}: as the plot has it, it does not hang here ({task.stopped_by})."
        case Action.BRICKS_WAIT:
            yield "Load no bricks for what does not hang: how many it takes is settled with the piece."
        case Action.SET_AGAIN:
            told = f": {_changes(task.changes, system)}" if task.changes else ""
            yield f"Set again {piece}{told}.{_only(task)}"
        case Action.RESPIKE:
            yield f"Set the marks on the hand line again: {_trims(task, system)}."
        case Action.REHEARSE:
            yield f"Run {piece} again before the show: {_changes(task.changes, system)}.{_only(task)}"
        case Action.BRICKS_OFF:
            yield f"Before anything comes off the pipe, bricks: {_bricks(task)}."
        case Action.BRICKS_ON:
            yield f"When the load hangs, bricks: {_bricks(task)}."
        case Action.BRICKS_NOT_TOLD:
            yield "How many bricks it takes cannot be told: weigh or find out what hangs before loading."
        case Action.STRIKE:
            yield "The set is gone from the house's file: see that it is struck, or put it back on file."


_ONLY: Final = {
    ItemState.WITH_CHANGES: " It hangs only with the changes told above: those come first.",
    ItemState.CANNOT_BE_TOLD: " Whether it may hang cannot be told: that comes first.",
}


def _only(task: Task) -> str:
    """What comes before a piece is hung, by the verdict on it."""
    return _ONLY.get(task.state, "") if task.state is not None else ""


def _bricks(task: Task) -> str:
    """How many of which, those that come off first."""
    ordered = sorted(task.bricks, key=lambda one: (one[1] > 0, natural_order(one[0])))
    return listed(
        [
            f"{abs(count)} {name.removeprefix('brick ')} {'on' if count > 0 else 'off'}"
            for name, count in ordered
        ]
    )


def _changes(changes: Sequence[RigChange], system: System) -> str:
    told: dict[str, None] = {}
    for one in changes:
        item = one.thing.enclosing("item")
        inner = "" if item is one.thing else f"{_inner(one.thing, item)} "
        told[f"{inner}{_deed(one, system)}"] = None
    phrases = list(told)[:_MOST_SAID]
    more = len(told) - _MOST_SAID
    return "; ".join(phrases) + (f"; and {counted(more, 'more change')}" if more > 0 else "")


def _inner(thing: Thing, item: Thing | None) -> str:
    """A part of a piece, or of what it hangs on, without the whole way to it."""
    if item is None:
        return name_of(thing) if thing.kind.name != "bridle_leg" else "legs"
    return " of the ".join(name_of(one) for one in _inward(thing, item))


def _inward(thing: Thing, item: Thing) -> Iterator[Thing]:
    one: Thing | None = thing
    while one is not None and one is not item:
        yield one
        one = one.parent


def _trim(piece: Thing | None) -> str:
    """Where it is to hang, as the plot writes it."""
    if piece is None:
        return ""
    said = [
        f"{label} {piece.facts[name].text}"
        for name, label in (("in_trim", "in"), ("out_trim", "out"), ("trims", "trim"))
        if name in piece.facts and piece.facts[name].text not in ("none", "unknown")
    ]
    return f", {', '.join(said)}" if said else ""
