"""What somebody changed between two revisions: things added, taken out, renamed, moved or exchanged, and facts
that say something else.

Values are compared, not the text: other units, another order, a place told from the other end, `like:`
written out, or a list split over files is no change. What follows from a change by computation is not listed here.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from enum import Enum
from typing import Final

from plumbtrue.audit.matching import Matching, Pair
from plumbtrue.audit.same_places import same_spots, same_stretch
from plumbtrue.audit.same_values import same_value, settled, shift
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Absent, Unknown, Value
from plumbtrue.rig.thing import Recorded, Seen, Thing
from plumbtrue.rig.vocabulary import Fact


class Deed(Enum):
    """What was done to a thing or a fact."""

    ADDED = "added"
    REMOVED = "removed"
    REPLACED = "replaced"
    """A part of another kind stands where it stood."""
    RENAMED = "renamed"
    MOVED = "moved"
    """It stands or hangs in another place than before."""
    SWAPPED = "swapped"
    """Two things that took each other's place, or each other's name."""
    CHANGED = "changed"
    REORDERED = "reordered"
    LOOKED_AT = "looked-at"
    """Somebody else saw it, or at another time or in another way."""
    REMARKED = "remarked"
    """A note or a photograph beside it."""


@unchanging
class RigChange:
    """One change that somebody made."""

    deed: Deed
    old: Thing | None
    """The thing in the old revision; nothing for one that was added."""
    new: Thing | None
    fact: str = ""
    """The fact that was changed, or that holds what was reordered; empty where it is the thing itself."""
    before: Value | None = None
    """As recorded; nothing where nothing was written."""
    after: Value | None = None
    difference: Bounds | None = None
    """By how much a figure moved [SI]; nothing for what is no figure."""
    said_before: str = ""
    """What stood beside it: who saw it, or the note."""
    said_after: str = ""
    partner: "RigChange | None" = None
    """Of an exchange: what it meant for the other thing."""

    @property
    def thing(self) -> Thing:
        """The thing, in the new revision if it is there."""
        thing = self.new or self.old
        assert thing is not None, "a change is about a thing of one revision at least"
        return thing

    @property
    def declared(self) -> Fact | None:
        """The fact, as the vocabulary has it."""
        return self.thing.kind.facts.get(self.fact)


_TOLD_ELSEWHERE: Final = frozenset({"formerly", "note", "photos"})

_CARRIERS: Final = frozenset(
    {"line_set", "truss", "point", "bridle", "hoist", "rail", "beam", "fly_floor", "loading_bridge"}
)
"""Kinds of things on which others hang or stand: who names another of them has moved."""


def rig_changes(matching: Matching) -> tuple[RigChange, ...]:
    """Every change, once, thing by thing as the new revision has them, those taken out last."""
    found: list[RigChange] = []
    for pair in matching.pairs:
        found.extend(_changes(pair, matching))
    found += [RigChange(Deed.REORDERED, one.old, one.new, one.fact) for one in matching.reordered]
    found += [
        RigChange(Deed.ADDED, None, thing, before=_instead(thing, matching.old_of))
        for thing in matching.added
        if not _is_derived(thing)
    ]
    found += [
        RigChange(Deed.REMOVED, thing, None, after=_instead(thing, matching.new_of))
        for thing in matching.gone
        if not _is_derived(thing)
    ]
    return tuple(_exchanges(_replacements(found, matching), matching))


def one_by_one(changes: Iterable[RigChange]) -> Iterator[RigChange]:
    """Every change, an exchange as the two that it is made of."""
    for one in changes:
        if one.partner is None:
            yield one
        else:
            deed = Deed.MOVED if one.fact else Deed.RENAMED
            yield replace(one, deed=deed, partner=None)
            yield one.partner


def _replacements(changes: Iterable[RigChange], matching: Matching) -> Iterator[RigChange]:
    """Changes, a part taken out and the one of another kind put in its place told as one."""
    listed = list(changes)
    gone: dict[tuple[Thing, str, Thing | None], list[RigChange]] = {}
    for one in listed:
        at = _stood_at(one, matching)
        if one.deed is Deed.REMOVED and at is not None:
            gone.setdefault(at, []).append(one)
    told: dict[int, RigChange] = {}
    for one in listed:
        at = _stood_at(one, matching)
        if one.deed is Deed.ADDED and at is not None and len(gone.get(at, ())) == 1:
            (taken_out,) = gone.pop(at)
            told[id(one)] = RigChange(Deed.REPLACED, taken_out.old, one.new)
            told[id(taken_out)] = told[id(one)]
    for one in listed:
        if id(one) not in told:
            yield one
        elif one.deed is Deed.ADDED:
            yield told[id(one)]


def _stood_at(change: RigChange, matching: Matching) -> tuple[Thing, str, Thing | None] | None:
    """Where a part was taken out or put in: in what, in which fact, and behind which part that is in both; nothing
    for what is none of several in order, nor the one thing that a fact holds.
    """
    thing = change.thing
    parent = thing.parent
    declared = parent.kind.facts.get(thing.role) if parent is not None else None
    if parent is None or declared is None or declared.type not in ("path", "thing"):
        return None
    there = matching.new_of.get(parent) if change.new is None else parent
    if there is None:
        return None
    behind: Thing | None = None
    for part in parent.members(thing.role):
        if part is thing:
            break
        behind = part if change.new is not None else matching.new_of.get(part)
    return there, thing.role, behind


def _exchanges(changes: Iterable[RigChange], matching: Matching) -> Iterator[RigChange]:
    """Changes, those of two things that took each other's place or name told as one."""
    waiting: dict[tuple[str, object, object], list[RigChange]] = {}
    listed = list(changes)
    for one in listed:
        ends = _ends(one, matching)
        if ends is not None:
            waiting.setdefault((f"{one.deed.value} {one.fact} {one.thing.kind.name}", *ends), []).append(one)
    partners: dict[int, RigChange] = {}
    for (how, start, end), its in waiting.items():
        back = waiting.get((how, end, start), [])
        if start is not end and len(its) == len(back) == 1:
            partners[id(its[0])] = back[0]
    told: set[int] = set()
    for one in listed:
        if id(one) in told:
            continue
        partner = partners.get(id(one))
        if partner is None:
            yield one
        else:
            told.add(id(partner))
            yield replace(one, deed=Deed.SWAPPED, partner=partner)


def _ends(change: RigChange, matching: Matching) -> tuple[object, object] | None:
    """From what to what a thing was moved or renamed, both as the new revision has them."""
    old, new = change.old, change.new
    if old is None or new is None:
        return None
    if change.deed is Deed.MOVED and change.fact:
        start, end = old.references.get(change.fact), new.references.get(change.fact)
        if isinstance(start, Thing) and isinstance(end, Thing):
            return matching.new_of.get(start), end
    if change.deed is Deed.RENAMED:
        parent = new.parent.path if new.parent is not None else ""
        return (parent, change.said_before), (parent, change.said_after)
    return None


def _instead(thing: Thing, other_of: dict[Thing, Thing]) -> Value | None:
    """What the other revision records in the place of a thing: that there is none, or that nobody could
    tell.
    """
    holder = other_of.get(thing.parent) if thing.parent is not None else None
    held = holder.parts.get(thing.role) if holder is not None else None
    return held if isinstance(held, Absent | Unknown) else None


def _is_derived(thing: Thing) -> bool:
    """Whether nobody writes such a thing: neighbours of a plot, which follow from where pieces hang."""
    declared = thing.parent.kind.facts.get(thing.role) if thing.parent is not None else None
    return declared is not None and declared.is_computed


def _changes(pair: Pair, matching: Matching) -> Iterator[RigChange]:
    old, new = pair.old, pair.new
    if _is_derived(new):
        return
    told: frozenset[str] = _TOLD_ELSEWHERE
    if pair.is_renamed:
        yield RigChange(Deed.RENAMED, old, new, said_before=old.key, said_after=new.key)
        told |= frozenset(new.kind.keyed_by)
    elif _has_moved(pair, matching):
        before, after = _outward(old), _outward(new)
        yield RigChange(Deed.MOVED, old, new, said_before=before, said_after=after)
    if same_stretch(old, new):
        told |= {"from", "to"}
    for name in dict.fromkeys((*new.facts, *old.facts)):
        if name not in told:
            yield from _of_fact(old, new, name, matching)
    for name in sorted(old.unlisted ^ new.unlisted):
        if not any(name in one.unlisted and _is_counted_short(one, name) for one in (old, new)):
            more = "and more that nobody has identified"
            yield RigChange(
                Deed.CHANGED,
                old,
                new,
                name,
                said_before=more if name in old.unlisted else "",
                said_after=more if name in new.unlisted else "",
            )
    yield from _looked_at(old, new)
    if not _same_note(old.note, new.note):
        yield RigChange(Deed.REMARKED, old, new, "note", None, None, None, old.note or "", new.note or "")
    if sorted(old.photos) != sorted(new.photos):
        before, after = ", ".join(sorted(old.photos)), ", ".join(sorted(new.photos))
        yield RigChange(Deed.REMARKED, old, new, "photos", None, None, None, before, after)


def _has_moved(pair: Pair, matching: Matching) -> bool:
    """Whether it sits in something else than before."""
    parent = pair.old.parent
    return parent is not None and matching.new_of.get(parent) is not pair.new.parent


def _outward(thing: Thing) -> str:
    return thing.parent.path if thing.parent is not None else ""


def _is_counted_short(thing: Thing, name: str) -> bool:
    """Whether a list is known to be short because fewer are written than are counted: what changed the count
    or the list is told by itself.
    """
    stated = thing.facts.get("lines_stated")
    if name != "lift_lines" or stated is None or not isinstance(stated.value, Bounds):
        return False
    return len(thing.members(name)) < stated.value.high


def _of_fact(old: Thing, new: Thing, name: str, matching: Matching) -> Iterator[RigChange]:
    declared = new.kind.facts.get(name)
    before, after = old.facts.get(name), new.facts.get(name)
    if declared is None or (declared.holds_things and (old.members(name) or new.members(name))):
        return  # What was added to such a list, or taken out of it, is told by itself.
    was = None if before is None else settled(before.value, declared)
    now = None if after is None else settled(after.value, declared)
    named = _names_the_same(old, new, name, matching)
    if named is True or (named is None and _same(was, old, now, new)):
        yield from _beside(old, new, name, before, after)
        return
    yield RigChange(
        Deed.MOVED if _carries(old, name) and _carries(new, name) else Deed.CHANGED,
        old,
        new,
        name,
        was,
        now,
        None if was is None or now is None else shift(was, now),
    )


def _same(was: Value | None, old: Thing, now: Value | None, new: Thing) -> bool:
    if was is None or now is None:
        return was is now
    return same_value(was, now) or same_spots(was, old, now, new)


def _names_the_same(old: Thing, new: Thing, name: str, matching: Matching) -> bool | None:
    """Whether a fact that names other things names the same ones, whatever they are called: set 8 may be another set
    now. Nothing where it names none.
    """
    before, after = old.references.get(name), new.references.get(name)
    if before is None or after is None:
        return None
    ours = before if isinstance(before, tuple) else (before,)
    theirs = after if isinstance(after, tuple) else (after,)
    return {matching.new_of.get(one) for one in ours} == set(theirs)


def _carries(thing: Thing, name: str) -> bool:
    named = thing.references.get(name)
    return isinstance(named, Thing) and named.kind.name in _CARRIERS


def _beside(
    old: Thing, new: Thing, name: str, before: Recorded | None, after: Recorded | None
) -> Iterator[RigChange]:
    """What stands beside a value that is the same: who saw it, and what is said about it."""
    if before is None or after is None:
        return
    seen = before.seen or old.seen, after.seen or new.seen
    follows = _seen_alike(seen[0], old.seen) and _seen_alike(seen[1], new.seen)
    if not follows and not _seen_alike(*seen):
        yield RigChange(Deed.LOOKED_AT, old, new, name, None, None, None, _seen(seen[0]), _seen(seen[1]))
    if not _same_note(before.note, after.note) or sorted(before.photos) != sorted(after.photos):
        said = ["; ".join(filter(None, (one.note, ", ".join(sorted(one.photos))))) for one in (before, after)]
        yield RigChange(Deed.REMARKED, old, new, name, None, None, None, said[0], said[1])


def _looked_at(old: Thing, new: Thing) -> Iterator[RigChange]:
    """Who saw a thing, where somebody else is said to have now; what follows from who saw that in which it sits is
    told there.
    """
    follows = _as_what_is_around(old) and _as_what_is_around(new)
    if not follows and not _seen_alike(old.seen, new.seen):
        yield RigChange(Deed.LOOKED_AT, old, new, "", None, None, None, _seen(old.seen), _seen(new.seen))


def _as_what_is_around(thing: Thing) -> bool:
    """Whether whoever saw a thing saw what is around it likewise, written again or not."""
    return thing.parent is not None and _seen_alike(thing.seen, thing.parent.seen)


def _same_note(one: str | None, other: str | None) -> bool:
    """Whether two notes have the same words; how their lines are broken says nothing."""
    return (one or "").split() == (other or "").split()


def _seen_alike(one: Seen | None, other: Seen | None) -> bool:
    if one is None or other is None:
        return one is other
    if one.key is not None and one.key == other.key:
        return True  # What the inspection of that name says is compared where it is written.
    return _content(one) == _content(other)


def _content(seen: Seen) -> tuple[object, ...]:
    when = seen.when if seen.when is not None else seen.on
    return seen.by, when, seen.how, seen.in_order, seen.says_in_order, seen.tested, seen.not_seen


def _seen(seen: Seen | None) -> str:
    """A block in words."""
    if seen is None:
        return ""
    parts = [
        f"by {seen.by}" if seen.by else "",
        f"on {seen.on}" if seen.on else "",
        (seen.how or "").replace("-", " "),
        "in order" if seen.in_order else "not in order" if seen.says_in_order else "",
        "tested" if seen.tested else "",
        f"not seen: {', '.join(sorted(seen.not_seen))}" if seen.not_seen else "",
    ]
    return ", ".join(part for part in parts if part) or "somebody"
