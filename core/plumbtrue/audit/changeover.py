"""From one revision to the next on stage: which sets must be looked at again, and what the crew does on
which set.

A set is looked at again when something in its load, in its load path or beside it is other than before. The
list says what differs; how it is done is the crew's, under whoever answers for the stage.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from math import inf
from typing import Final

from plumbtrue.audit.computed_changes import ComputedChange, bricks
from plumbtrue.audit.item_verdicts import ItemState, ItemVerdict
from plumbtrue.audit.matching import Matching
from plumbtrue.audit.rig_changes import Deed, RigChange
from plumbtrue.audit.verdicts import State, Verdict, line_set_of
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import Absent, Choice
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.pairs import carrier_of, depth_of
from plumbtrue.rig.thing import Thing


class Concern(Enum):
    """Why a set must be looked at again; the most pressing first."""

    NEW_SET = "new-set"
    LOAD_PATH = "load-path"
    LOAD = "load"
    PULLS = "pulls"
    """Nothing was changed on it, and yet what it carries, or what carries it, is pulled otherwise."""
    BESIDE = "beside"
    """What hangs next to it, up or down stage, is new there or other than before."""


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason: a change that somebody made, a value that follows, or a neighbour."""

    concern: Concern
    change: RigChange | None = None
    value: ComputedChange | None = None
    beside: Thing | None = None
    """The piece beside it."""


@dataclass(frozen=True, slots=True)
class Recheck:
    """A set that must be checked again on stage."""

    line_set: Thing
    reasons: tuple[Reason, ...]


class Action(Enum):
    """What is to be done on a set, or on what hangs on none, in the order in which it is listed."""

    DO_NOT_FLY = "do-not-fly"
    RELABEL = "relabel"
    WORK = "work"
    """Look at what was exchanged, added or taken out of the set itself."""
    BRICKS_OFF = "bricks-off"
    TAKE_OFF = "take-off"
    SET_AGAIN = "set-again"
    DO_NOT_HANG = "do-not-hang"
    """The plot has it here, and it must not hang."""
    HANG = "hang"
    BRICKS_WAIT = "bricks-wait"
    """What is to hang here does not hang, so that nobody can say how many bricks it takes."""
    BRICKS_ON = "bricks-on"
    BRICKS_NOT_TOLD = "bricks-not-told"
    RESPIKE = "respike"
    """The pipe goes to other heights in the show: its marks on the hand line are set again."""
    REHEARSE = "rehearse"
    """A cue is another one."""
    STRIKE = "strike"
    """The set itself is gone from the house."""


@dataclass(frozen=True, slots=True)
class Task:
    """One thing to do on one set."""

    line_set: Thing | None
    """Nothing for a piece that hangs on a truss, a point or a bridle, or stands."""
    action: Action
    piece: Thing | None = None
    """The piece of the show that is hung, taken off or set again."""
    other: Thing | None = None
    """The set from which it comes, or to which it goes; nothing for a new piece, or for one that is cut."""
    bricks: tuple[tuple[str, int], ...] = ()
    """Kinds of bricks, with how many more; negative for those that come off."""
    changes: tuple[RigChange, ...] = ()
    state: ItemState | None = None
    """How the piece hangs by the verdict on it; nothing where there is no verdict."""
    stopped_by: str = ""
    """Of a piece that does not hang: the rule that stops it first, or why in words."""
    trims: tuple[ComputedChange, ...] = ()
    """Of a pipe that goes to other heights: which."""


_SAY_NOTHING_OF_LOADS: Final = frozenset(
    {"text", "name", "date", "list of text", "list of name", "reference to paper"}
)
_NATURES_OF_LOADS: Final = frozenset({"identity", "condition", "now", "show"})
_ON_ARBORS: Final = frozenset({"single-purchase", "double-purchase"})
_OF_WHAT_IS_POSTED: Final = frozenset({"posted_utilisation"})
_ALSO_WITHOUT_A_PLOT: Final = frozenset({"counterweight", "highest_pipe", "block_clearance"})
_TRIMS: Final = frozenset({"show_trim_low", "show_trim_high"})
_WORTH_SAYING: Final = frozenset({Deed.ADDED, Deed.REMOVED, Deed.REPLACED, Deed.CHANGED, Deed.REORDERED})
_ONLY_TOLD: Final = frozenset({Deed.LOOKED_AT, Deed.REMARKED, Deed.RENAMED})
_STANDING_ALONE: Final = frozenset({"line_set", "plot"})


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of both revisions."""

    matching: Matching
    changes: Sequence[RigChange]
    values: Sequence[ComputedChange]
    old: Facts
    new: Facts
    verdicts: Mapping[str, Verdict]
    """Of the new revision."""
    stopped_before: frozenset[Thing] = frozenset()
    """Sets of the new revision that were out of service in the old one already."""
    pieces: Mapping[Thing, ItemVerdict] = field(default_factory=dict)
    """How each piece of the new revision hangs."""
    pieces_before: Mapping[Thing, ItemState] = field(default_factory=dict)
    """How it hung in the old one."""
    touched: Mapping[Thing, tuple[RigChange, ...]] = field(default_factory=dict)
    """What was changed about each piece."""

    @property
    def stopped(self) -> Iterator[Thing]:
        """Pieces that do not hang."""
        return (piece for piece in self.pieces if self.state_of(piece) is ItemState.DOES_NOT_HANG)

    def state_of(self, piece: Thing) -> ItemState | None:
        """How a piece hangs; nothing where there is no verdict."""
        verdict = self.pieces.get(piece)
        return None if verdict is None else verdict.state


def rechecks(known: Known) -> tuple[Recheck, ...]:
    """Sets of the new revision that must be looked at again, as people count them."""
    found: dict[Thing, list[Reason]] = {}
    pulled: dict[Thing, list[Reason]] = {}
    users = _users(known.new.rig.house)
    for change in known.changes:
        for line_set, concern in _concerned(change, known.matching, users):
            found.setdefault(line_set, []).append(Reason(concern, change))
    for value in known.values:
        pulling = line_set_of(value.new)
        if pulling is not None and pulling not in found and _is_a_pull(value):
            pulled.setdefault(pulling, []).append(Reason(Concern.PULLS, value=value))
    for line_set, reasons in pulled.items():
        found[line_set] = reasons
    for piece, neighbour in _beside(known):
        found.setdefault(neighbour, []).append(Reason(Concern.BESIDE, beside=piece))
    return tuple(
        Recheck(line_set, tuple(sorted(found[line_set], key=lambda one: list(Concern).index(one.concern))))
        for line_set in sorted(found, key=lambda one: natural_order(one.key))
    )


def tells_of_load(change: RigChange) -> bool:
    """Whether a change is one of a load or of what carries it, and not of papers, notes or names."""
    if change.deed in _ONLY_TOLD:
        return False
    holder = change.thing.parent
    if holder is not None and change.thing.kind.name not in _STANDING_ALONE:
        held_by = holder.kind.facts.get(change.thing.role)
        if held_by is not None and held_by.nature in ("record", "posted"):
            return False
    fact = change.declared
    if fact is None or change.deed is Deed.MOVED:
        return True
    if fact.type in _SAY_NOTHING_OF_LOADS:
        return False
    # What is posted for a set is a sign on it; a rating of a part or a beam is what carries it.
    rates = fact.type == "quantity" and change.thing.kind.name != "line_set"
    return fact.nature in _NATURES_OF_LOADS or rates


def _is_a_pull(value: ComputedChange) -> bool:
    """Whether a value tells what a set carries, and not what the house allows on it."""
    of_set = value.new.line_set is not None and value.fact.name not in _OF_WHAT_IS_POSTED
    return of_set and (value.fact.of_plot or value.fact.name in _ALSO_WITHOUT_A_PLOT)


def _concerned(
    change: RigChange, matching: Matching, users: Mapping[Thing, Sequence[Thing]]
) -> Iterator[tuple[Thing, Concern]]:
    if not tells_of_load(change):
        return
    if change.thing.kind.name == "line_set" and change.old is None:
        yield change.thing, Concern.NEW_SET
        return
    inside = change.thing.line_set
    if inside is not None:
        now = inside if change.new is not None else matching.new_of.get(inside)
        if now is not None:
            yield now, Concern.LOAD_PATH
        return
    hung = {
        one
        for thing, is_old in ((change.new, False), (change.old, True))
        if thing is not None
        and (carrier := line_set_of(thing)) is not None
        and (one := matching.new_of.get(carrier) if is_old else carrier) is not None
    }
    if hung:
        yield from ((one, Concern.LOAD) for one in sorted(hung, key=lambda one: natural_order(one.key)))
        return
    if change.new is not None:
        yield from ((one, Concern.LOAD_PATH) for one in users.get(_named(change.new), ()))


def _named(thing: Thing) -> Thing:
    """The outermost thing of the house in which something stands: what sets name."""
    while thing.parent is not None and thing.parent.parent is not None:
        thing = thing.parent
    return thing


def _users(house: Thing) -> dict[Thing, tuple[Thing, ...]]:
    """The sets that name each thing of the house: the beam under their blocks, the bricks in their arbor."""
    found: dict[Thing, dict[Thing, None]] = {}
    for line_set in house.members("line_sets"):
        for thing in line_set.below():
            for held in thing.references.values():
                for one in held if isinstance(held, tuple) else (held,):
                    if one.line_set is None:
                        found.setdefault(one, {})[line_set] = None
    return {thing: tuple(sets) for thing, sets in found.items()}


def _beside(known: Known) -> Iterator[tuple[Thing, Thing]]:
    """Pieces that were changed or came, each with the sets next to it up and down stage on which pieces hang."""
    plot = known.new.rig.plot
    hung: dict[Thing, list[Thing]] = {}
    for item in plot.members("items") if plot is not None else ():
        carrier = carrier_of(item)
        if carrier is not None and (depth := depth_of(item)) is not None and depth.high < inf:
            hung.setdefault(carrier, []).append(item)
    ordered = sorted(hung, key=lambda one: _depth(hung[one][0]))
    changed = {id(one.new.enclosing("item")) for one in known.changes if one.new and tells_of_load(one)}
    for at, carrier in enumerate(ordered):
        touched = [item for item in hung[carrier] if id(item) in changed]
        for neighbour in (*ordered[max(at - 1, 0) : at], *ordered[at + 1 : at + 2]):
            line_set = neighbour.line_set
            if line_set is not None:
                yield from ((item, line_set) for item in touched)


def _depth(item: Thing) -> float:
    depth = depth_of(item)
    return (depth.low + depth.high) / 2 if depth is not None else inf


def tasks(known: Known) -> tuple[Task, ...]:
    """What to do on which set, set by set as people count them, in order of the actions; what hangs on no set
    comes last.
    """
    found: list[Task] = []
    pieces = _pieces(known)
    changed: dict[Thing, list[RigChange]] = {}
    for change in known.changes:
        inside = change.thing.line_set
        now = inside if change.new is not None or inside is None else known.matching.new_of.get(inside)
        if now is not None and _is_work(change):
            changed.setdefault(now, []).append(change)
    trims = _trims(known)
    for pair in known.matching.pairs:
        if pair.new.kind.name != "line_set":
            continue
        its = pieces.get(pair.new, [])
        work = tuple(changed.get(pair.new, ()))
        if pair.is_renamed:
            found.append(Task(pair.new, Action.RELABEL, other=pair.old))
        if work:
            found.append(Task(pair.new, Action.WORK, changes=work))
        found += its
        if pair.new in trims and not any(one.action is Action.DO_NOT_HANG for one in its):
            found.append(Task(pair.new, Action.RESPIKE, trims=trims[pair.new]))
        loads_changed = any(one.action is not Action.REHEARSE for one in its)
        found += _brick_tasks(pair.old, pair.new, known, loads_changed=loads_changed)
    found += [Task(one, Action.STRIKE) for one in known.matching.gone if one.kind.name == "line_set"]
    for one in known.matching.added:
        if one.kind.name == "line_set":
            found += [Task(one, Action.WORK), *pieces.get(one, [])]
    found += pieces.get(None, [])
    touched = {task.line_set for task in found}
    found += [
        Task(verdict.thing, Action.DO_NOT_FLY)
        for verdict in known.verdicts.values()
        if verdict.state is State.OUT_OF_SERVICE
        and (verdict.thing in touched or verdict.thing not in known.stopped_before)
    ]
    order = {action: place for place, action in enumerate(Action)}
    return tuple(
        sorted(
            found,
            key=lambda one: (
                one.line_set is None,
                natural_order(one.line_set.key if one.line_set is not None else ""),
                natural_order(one.piece.key if one.piece is not None and one.line_set is None else ""),
                order[one.action],
                natural_order(one.piece.key if one.piece is not None else ""),
            ),
        )
    )


def _trims(known: Known) -> dict[Thing, tuple[ComputedChange, ...]]:
    """Pipes that went to some height in the show before, and go to another one now."""
    found: dict[Thing, tuple[ComputedChange, ...]] = {}
    for one in known.values:
        if one.fact.name in _TRIMS and isinstance(one.before, Bounds) and isinstance(one.after, Bounds):
            found[one.new] = (*found.get(one.new, ()), one)
    return found


def _is_work(change: RigChange) -> bool:
    """Whether it was done to the set itself: not what hangs on it now, and not the bricks, which are counted
    by themselves.
    """
    if not tells_of_load(change):
        return False
    fact = change.declared
    if change.thing.kind.name == "line_set" and change.deed in (Deed.ADDED, Deed.REMOVED):
        return False
    if change.thing.kind.name == "weights" and (fact is None or fact.name in ("brick", "count")):
        return False
    return fact is None or fact.nature != "now"


def _pieces(known: Known) -> dict[Thing | None, list[Task]]:
    """Pieces that come, go, or hang otherwise than before, by the set of the new revision; those that hang on
    no set under nothing.
    """
    found: dict[Thing | None, list[Task]] = {}
    new_of = known.matching.new_of

    def note(
        line_set: Thing | None,
        action: Action,
        piece: Thing,
        other: Thing | None,
        *,
        of: Sequence[RigChange] = (),
    ) -> None:
        stopped_by = ""
        if known.state_of(piece) is ItemState.DOES_NOT_HANG and action in (Action.HANG, Action.SET_AGAIN):
            action, stopped_by = Action.DO_NOT_HANG, _why_stopped(known.pieces[piece])
        state = None if action is Action.TAKE_OFF else known.state_of(piece)
        task = Task(line_set, action, piece, other, changes=tuple(of), state=state, stopped_by=stopped_by)
        found.setdefault(line_set, []).append(task)

    def now(line_set: Thing | None) -> Thing | None:
        return None if line_set is None else new_of.get(line_set)

    for pair in known.matching.pairs:
        piece = pair.new
        if piece.kind.name != "item":
            continue
        its = [one for one in known.touched.get(piece, ()) if tells_of_load(one)]
        of_piece = [one for one in its if one.deed in _WORTH_SAYING and one.thing.enclosing("cue") is None]
        of_cues = [one for one in its if one.thing.enclosing("cue") is not None]
        was, is_on = now(line_set_of(pair.old)), line_set_of(piece)
        worse = _stops_now(piece, known)
        if was is not is_on:
            if was is not None:
                note(was, Action.TAKE_OFF, piece, is_on)
            note(is_on, Action.HANG, piece, was, of=of_piece)
        elif of_piece or worse or any(one.deed is Deed.MOVED for one in its):
            note(is_on, Action.SET_AGAIN, piece, None, of=of_piece)
        if of_cues and not worse and known.state_of(piece) is not ItemState.DOES_NOT_HANG:
            note(is_on, Action.REHEARSE, piece, None, of=of_cues)
    for things, action in ((known.matching.gone, Action.TAKE_OFF), (known.matching.added, Action.HANG)):
        plot = _whole(things)
        whole = plot.members("items") if plot is not None else ()
        for piece in (*(one for one in things if one.kind.name == "item"), *whole):
            on = line_set_of(piece)
            note(now(on) if action is Action.TAKE_OFF else on, action, piece, None)
    return found


def _stops_now(piece: Thing, known: Known) -> bool:
    """Whether a piece does not hang that hung before, whatever was changed."""
    before = known.pieces_before.get(piece)
    stopped = known.state_of(piece) is ItemState.DOES_NOT_HANG
    return stopped and before is not None and before is not ItemState.DOES_NOT_HANG


def _why_stopped(verdict: ItemVerdict) -> str:
    """The rule that stops a piece first; where none does, what does."""
    if verdict.stopped_by:
        return verdict.stopped_by[0].rule
    return verdict.own_reasons[0] if verdict.own_reasons else "its set is out of service"


def _whole(things: Iterable[Thing]) -> Thing | None:
    """The plot, where there is one in one revision alone."""
    return next((thing for thing in things if thing.kind.name == "plot"), None)


def _brick_tasks(old: Thing, new: Thing, known: Known, *, loads_changed: bool) -> Iterator[Task]:
    before, after = bricks(old, known.old), bricks(new, known.new)
    if any(line_set_of(piece) is new for piece in known.stopped):
        if loads_changed or before != after:
            yield Task(new, Action.BRICKS_WAIT)
        return
    if before is None or after is None:
        if loads_changed and _may_have_an_arbor(new):
            yield Task(new, Action.BRICKS_NOT_TOLD)
        return
    names = known.matching.names()
    was: dict[str, int] = {}
    for name, count in before.items():
        was[names.get(name, name)] = count
    more = {name: after.get(name, 0) - was.get(name, 0) for name in sorted({*was, *after})}
    moved = tuple((name, count) for name, count in more.items() if count)
    if not moved:
        return
    action = Action.BRICKS_OFF if _weight(moved, known) < 0 else Action.BRICKS_ON
    yield Task(new, action, bricks=moved)


def _may_have_an_arbor(line_set: Thing) -> bool:
    system = line_set.facts.get("system")
    if system is not None and isinstance(system.value, Choice) and not system.value.possible & _ON_ARBORS:
        return False
    return not isinstance(line_set.parts.get("arbor"), Absent)


def _weight(moved: Iterable[tuple[str, int]], known: Known) -> float:
    """What some bricks weigh together, negative where more come off than go on; by number where nobody
    knows.
    """
    total = 0.0
    by_name = {one.key: one for one in known.new.rig.house.members("bricks")}
    for name, count in moved:
        brick = by_name.get(name)
        weight = known.new.value(brick, "weight") if brick is not None else None
        total += count * ((weight.low + weight.high) / 2 if isinstance(weight, Bounds) else 1.0)
    return total
