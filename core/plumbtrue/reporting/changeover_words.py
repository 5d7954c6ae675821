"""The changeover in words: which sets to look at again and why, and the crew's list, set by set."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, cast

from plumbtrue.audit.changeover import Action, Concern, Reason, Recheck, Task
from plumbtrue.audit.comparing import Comparison
from plumbtrue.audit.item_verdicts import ItemState
from plumbtrue.audit.rig_changes import Deed, RigChange
from plumbtrue.quantities.values import Name
from plumbtrue.quantities.writing import System
from plumbtrue.reporting.comparison_rows import DEED_LABELS, Row, carrier_in_words, recorded, without_plot
from plumbtrue.reporting.grouping import set_title
from plumbtrue.reporting.places_in_words import where
from plumbtrue.reporting.wording import counted, listed
from plumbtrue.rig.thing import Thing

_MOST_SAID: Final = 4

CONCERN_LABELS: Final = {
    Concern.NEW_SET: "new set",
    Concern.LOAD_PATH: "load path",
    Concern.LOAD: "load",
    Concern.PULLS: "pulled otherwise",
    Concern.BESIDE: "beside it",
}


@dataclass(frozen=True, slots=True)
class Crew:
    """What to do on one set."""

    set_key: str
    title: str
    stop: bool
    """Whether it must not fly."""
    steps: tuple[str, ...]


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
            return f"{_in_short(changes, line_set, system)}."


def _in_short(changes: Sequence[RigChange], line_set: Thing, system: System) -> str:
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
    text = "; ".join(phrases[:_MOST_SAID]) + (f"; and {counted(more, 'more change')}" if more > 0 else "")
    return text[0].upper() + text[1:]


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
    if change.deed in (Deed.ADDED, Deed.REMOVED) or fact is None:
        return label
    if change.before is None and change.after is None:
        return f"{change.fact.replace('_', ' ')} {label}"
    if change.deed is Deed.MOVED:
        carriers = [carrier_in_words(one, change.fact) for one in (change.old, change.new)]
        return f"{carriers[0]} → {carriers[1]}"
    before, after = recorded(change.before, fact, system), recorded(change.after, fact, system)
    return f"{change.fact.replace('_', ' ')} {before} → {after}"


def crews(comparison: Comparison) -> tuple[Crew, ...]:
    """The crew's list, set by set."""
    by_set: dict[Thing, list[Task]] = {}
    for task in comparison.tasks:
        by_set.setdefault(task.line_set, []).append(task)
    system = cast(System, comparison.new.rig.units)
    return tuple(
        Crew(
            line_set.key,
            set_title(line_set.key),
            any(task.action is Action.DO_NOT_FLY for task in its),
            tuple(step for task in its for step in _steps(task, system)),
        )
        for line_set, its in by_set.items()
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
            yield f"Look at what is other on the set: {_in_short(task.changes, task.line_set, system)}."
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
            yield f"Do not hang {piece}: as the plot has it, it does not hang here."
        case Action.BRICKS_WAIT:
            yield "Load no bricks for what does not hang: how many it takes is settled with the piece."
        case Action.SET_AGAIN:
            yield f"Set again {piece}: {_changes(task.changes, system)}.{_only(task)}"
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
    return listed([f"{abs(count)} of {name} {'on' if count > 0 else 'off'}" for name, count in task.bricks])


def _changes(changes: Sequence[RigChange], system: System) -> str:
    phrases = []
    for one in changes[:_MOST_SAID]:
        item = one.thing.enclosing("item")
        inner = (
            "" if item is None or item is one.thing else f"{one.thing.path.removeprefix(item.path + ' / ')} "
        )
        phrases.append(f"{inner}{_deed(one, system)}")
    more = len(changes) - _MOST_SAID
    return "; ".join(phrases) + (f"; and {counted(more, 'more change')}" if more > 0 else "")


def _trim(piece: Thing | None) -> str:
    """Where it is to hang, as the plot writes it."""
    if piece is None:
        return ""
    said = [
        f"{label} {piece.facts[name].text}"
        for name, label in (("in_trim", "in"), ("out_trim", "out"), ("trims", "trim"))
        if name in piece.facts and piece.facts[name].text not in ("none", "unknown")
    ]
    return f" ({', '.join(said)})" if said else ""
