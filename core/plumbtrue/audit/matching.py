"""Which thing of one revision is which thing of another: by lasting key, former key, name, place or content.

A set goes by its number, a line by its mark, a part by its kind and its place in the path, a piece by its
number. Where a key is gone and another is new, the same name, the same place in the building or the same
content tells a thing that was renamed; where two could be meant, none is. Matching works both ways alike.
"""

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from typing import Final, Literal

from plumbtrue.audit.contents import own_name, rounded, said, same_spread_out, unnumbered
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Absent, Name, Unknown
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.thing import Thing

How = Literal["key", "formerly", "name", "place", "content"]

_PLACES: Final = ("from_plaster_line", "at")
"""Facts that say where in the building something is: two things are never there at once."""

_MARKED_ANEW: Final = frozenset({"item", "line_set", "lift_line"})
"""Kinds of things whose numbers people exchange."""

_OF_WHAT: Final = {"cue": "item", "step": "set"}
"""What a thing is of, which tells it where its own number is another."""

_ENOUGH: Final = 6
"""Facts from which on a thing is known again that goes by another number and another name."""

_LAST: Final = frozenset({"line_sets", "cues", "steps", "sheets"})
"""Lists whose things are told by others of the house or the plot that they name."""

_MANY_ALIKE: Final = 40
"""Things of one key in one list from which on those left over are taken in order, to keep within bounds."""


@unchanging
class Pair:
    """One thing in two revisions."""

    old: Thing
    new: Thing
    how: How

    @property
    def is_renamed(self) -> bool:
        """Whether it goes by another key now. Numbers of parts alike (`shackle.2`) are no names, nor is what facts
        say that are compared by themselves, such as the day of a load test.
        """
        if _is_keyed_by_facts(self.old) and _is_keyed_by_facts(self.new):
            return False
        return own_name(self.old) != own_name(self.new)


@unchanging
class Reordered:
    """A path whose parts stand in another order."""

    old: Thing
    new: Thing
    fact: str


@dataclass(slots=True)
class Matching:
    """All things of two revisions: those in both, and the outermost of those in one alone."""

    pairs: list[Pair] = field(default_factory=list)
    gone: list[Thing] = field(default_factory=list)
    added: list[Thing] = field(default_factory=list)
    reordered: list[Reordered] = field(default_factory=list)
    new_of: dict[Thing, Thing] = field(default_factory=dict)
    old_of: dict[Thing, Thing] = field(default_factory=dict)

    def names(self) -> dict[str, str]:
        """New keys of renamed things by their old ones."""
        return {pair.old.key: pair.new.key for pair in self.pairs if pair.is_renamed}


def match(old: Rig, new: Rig) -> Matching:
    """Match the things of two revisions of a house, and of the plots laid over them."""
    matcher = _Matcher()
    matcher.pair(old.house, new.house, "key")
    if old.plot is not None and new.plot is not None:
        matcher.pair(old.plot, new.plot, "key")
    elif old.plot is not None:
        matcher.found.gone.append(old.plot)
    elif new.plot is not None:
        matcher.found.added.append(new.plot)
    matcher.across_parents()
    matcher.derived()
    return matcher.found


def match_plots(house: Thing, old: Thing, new: Thing) -> Matching:
    """Match the things of two plots laid over one house, every thing of which is itself."""
    matcher = _Matcher()
    for thing in house.below():
        matcher.found.new_of[thing] = matcher.found.old_of[thing] = thing
    matcher.pair(old, new, "key")
    matcher.across_parents()
    matcher.derived()
    return matcher.found


class _Matcher:
    """Walks both trees together."""

    def __init__(self) -> None:
        self.found = Matching()
        self._contents: dict[Thing, int] = {}
        self._derived: list[tuple[Thing, Thing, str]] = []

    def pair(self, old: Thing, new: Thing, how: How) -> None:
        """Take two things for one, and match what is in them."""
        self.found.pairs.append(Pair(old, new, how))
        self.found.new_of[old] = new
        self.found.old_of[new] = old
        for fact in sorted(dict.fromkeys((*old.parts, *new.parts)), key=_LAST.__contains__):
            declared = old.kind.facts.get(fact)
            if declared is not None and declared.is_computed:
                self._derived.append((old, new, fact))
            else:
                self._members(old, new, fact)

    def _members(self, old: Thing, new: Thing, fact: str) -> None:
        before, after = old.members(fact), new.members(fact)
        declared = old.kind.facts.get(fact)
        if declared is not None and declared.type == "thing":
            self._single(before, after)
            return
        is_path = declared is not None and declared.type == "path"
        if not is_path and len(before) != len(after) and same_spread_out(before, after):
            # The same pulls at the same places, some told together: there is nothing to compare.
            for one, other in zip(before, after, strict=False):
                self.found.new_of[one], self.found.old_of[other] = other, one
            return
        matched = _Alike(self._content, self._value, is_path=is_path).matched(before, after)
        for one, other, how in matched:
            self.pair(one, other, how)
        taken = {one for one, _, _ in matched}, {other for _, other, _ in matched}
        self.found.gone += [one for one in before if one not in taken[0]]
        self.found.added += [one for one in after if one not in taken[1]]
        if is_path and _is_reordered(matched, before, after):
            self.found.reordered.append(Reordered(old, new, fact))

    def _single(self, before: Sequence[Thing], after: Sequence[Thing]) -> None:
        if before and after and before[0].kind.name == after[0].kind.name:
            self.pair(before[0], after[0], "key")
        else:
            self.found.gone += before
            self.found.added += after

    def _content(self, thing: Thing) -> int:
        """What a thing says, all that is in it included and its own name left out, as one number."""
        known = self._contents.get(thing)
        if known is None:
            known = self._contents[thing] = hash(said(thing, self._content, self._value))
        return known

    def _value(self, thing: Thing, name: str) -> Hashable:
        """What a fact says, as something by which it can be found again; of a name that means a thing which is in both
        revisions, that thing: set 8 may be another one now. Nothing where nothing is written.
        """
        recorded, named = thing.facts.get(name), thing.references.get(name)
        if named is not None:
            its = named if isinstance(named, tuple) else (named,)
            known = [self.found.new_of.get(one, one if one in self.found.old_of else None) for one in its]
            if None not in known:
                return frozenset(known)
        return None if recorded is None else rounded(recorded.value)

    def across_parents(self) -> None:
        """Things with a lasting name of their own that are gone in one place and new in another."""
        gone, added = _once(self.found.gone, _lasting), _once(self.found.added, _lasting)
        for key, old in gone.items():
            new = added.get(key)
            if new is not None:
                self.found.gone.remove(old)
                self.found.added.remove(new)
                self.pair(old, new, "key")

    def derived(self) -> None:
        """Things that nobody writes, such as neighbours of a plot: by what they name."""
        for old, new, fact in self._derived:
            before, after = old.members(fact), new.members(fact)
            by_names = {frozenset(self._named(one, self.found.new_of)): one for one in before}
            taken = set()
            for other in after:
                one = by_names.pop(frozenset(self._named(other, None)), None)
                if one is None:
                    self.found.added.append(other)
                    continue
                taken.add(one)
                self.found.pairs.append(Pair(one, other, "key"))
                self.found.new_of[one], self.found.old_of[other] = other, one
            self.found.gone += [one for one in before if one not in taken]

    @staticmethod
    def _named(thing: Thing, in_new: dict[Thing, Thing] | None) -> Iterable[Hashable]:
        for held in thing.references.values():
            for one in held if isinstance(held, tuple) else (held,):
                yield one if in_new is None else in_new.get(one, one)


@unchanging
class _Alike:
    """Matches the members of two lists."""

    content: Callable[[Thing], int]
    value: Callable[[Thing, str], Hashable]
    is_path: bool

    def matched(self, before: Sequence[Thing], after: Sequence[Thing]) -> list[tuple[Thing, Thing, How]]:
        """Members of both lists, in the order of the old one."""
        found = self._by_key(before, after)
        left = [one for one in before if one not in found]
        taken = {other for other, _ in found.values()}
        free = [other for other in after if other not in taken]
        for how, tell in (
            ("key", self._keyed),
            ("name", _called),
            ("place", _placed),
            ("content", self._content_alone),
            ("content", self._content_but_name),
            ("content", self._of_what),
        ):
            if not left or not free:
                break
            for one, other in _told_alike(left, free, tell):
                found[one] = (other, how)  # type: ignore[assignment]  # the four words above
            left = [one for one in left if one not in found]
            taken = {other for other, _ in found.values()}
            free = [other for other in free if other not in taken]
        self._mark_anew(before, after, found)
        return [(one, *found[one]) for one in before if one in found]

    def _mark_anew(
        self, before: Sequence[Thing], after: Sequence[Thing], found: dict[Thing, tuple[Thing, How]]
    ) -> None:
        """Match otherwise what was numbered anew: two that took each other's number, or a whole list that moved up by
        one. Most of what is said of each is then found at another number.

        Pieces of a show are told by their name or by all that is said of them; sets and lines, which stay where
        they are, by their name or their place. Of all else the key holds: a fault that is gone from one and new
        at another is no exchange of names.
        """
        fixed = {thing for one, (other, how) in found.items() if how == "formerly" for thing in (one, other)}
        ours, theirs = (
            [thing for thing in its if thing.kind.name in _MARKED_ANEW and thing not in fixed]
            for its in (before, after)
        )
        otherwise: dict[Thing, Thing] = {}
        for tell in (self._content_of_piece, _called, _placed):
            taken = set(otherwise.values())
            left = [one for one in ours if one not in otherwise]
            otherwise |= dict(_told_alike(left, [one for one in theirs if one not in taken], tell))
        by_key = {one: found[one][0] for one in ours if one in found}
        for chain in _chains(by_key, otherwise):
            across = {one: otherwise[one] for one in chain if one in otherwise}
            straight = {one: by_key[one] for one in chain if one in by_key}
            if self._all_alike(across) > self._all_alike(straight):
                for one in straight:
                    del found[one]
                for one, other in across.items():
                    found[one] = (other, "content")

    def _all_alike(self, pairs: Mapping[Thing, Thing]) -> int:
        return sum(self._all_likeness(one, other) for one, other in pairs.items())

    def _keyed(self, thing: Thing) -> Hashable:
        """Kind and the facts by which it is keyed, however written and whatever they name is called."""
        if not _is_keyed_by_facts(thing):
            return None
        return thing.kind.name, tuple(self.value(thing, name) for name in thing.kind.keyed_by)

    def _of_what(self, thing: Thing) -> Hashable:
        """Kind and what it is of: the piece that a cue moves, the set of a step."""
        fact = _OF_WHAT.get(thing.kind.name)
        return (thing.kind.name, self.value(thing, fact)) if fact in thing.references else None

    def _content_of_piece(self, thing: Thing) -> Hashable:
        return self._content_alone(thing) if thing.kind.name == "item" else None

    def _content_alone(self, thing: Thing) -> Hashable:
        """Content as a sign of identity: only of what has a name of its own, and more than a name."""
        holds_things = any(thing.members(fact) for fact in thing.parts)
        enough = len(thing.kind.keyed_by) + (0 if _is_keyed_by_facts(thing) else 1)
        has_content = holds_things or len(thing.facts) > enough
        return (thing.kind.name, self.content(thing)) if has_content and own_name(thing) else None

    def _content_but_name(self, thing: Thing) -> Hashable:
        """The same of what goes by another name as well, where there is much to tell it by."""
        if not thing.kind.key_wanted or len(thing.facts) < _ENOUGH or "name" not in thing.facts:
            return None
        return thing.kind.name, said(thing, self.content, self.value, besides=("name",))

    def _by_key(self, before: Sequence[Thing], after: Sequence[Thing]) -> dict[Thing, tuple[Thing, How]]:
        """By key and former key; parts alike, which have none, by what they are and then in order."""
        found: dict[Thing, tuple[Thing, How]] = {}
        groups = _groups(before), _groups(after)
        claimed: set[Thing] = set()
        for one, other in _claims(before, after, groups):
            if one not in found and other not in claimed:
                found[one] = (other, "formerly")
                claimed.add(other)
        for key, its in groups[0].items():
            ours = [one for one in its if one not in found]
            theirs = [other for other in groups[1].get(key, ()) if other not in claimed]
            if len(ours) == len(theirs) == 1:
                found[ours[0]] = (theirs[0], "key")
            elif ours and theirs:
                found |= {one: (other, "key") for one, other in self._in_order(ours, theirs)}
        return found

    def _in_order(self, ours: list[Thing], theirs: list[Thing]) -> list[tuple[Thing, Thing]]:
        """Of several alike, first those that say the same, then those that differ least.

        In a path each keeps its place before or behind the others.
        """
        if self.is_path:
            return self._in_path(ours, theirs)
        pairs = self._equal_ones(ours, theirs)
        taken = {one for one, _ in pairs}, {other for _, other in pairs}
        ours = [one for one in ours if one not in taken[0]]
        theirs = [other for other in theirs if other not in taken[1]]
        if max(len(ours), len(theirs)) > _MANY_ALIKE:
            return pairs + list(zip(ours, theirs, strict=False))
        while ours and theirs:
            _, first, second = max(
                (self._likeness(one, other), -at, -there)
                for at, one in enumerate(ours)
                for there, other in enumerate(theirs)
            )
            pairs.append((ours.pop(-first), theirs.pop(-second)))
        return pairs

    def _in_path(self, ours: list[Thing], theirs: list[Thing]) -> list[tuple[Thing, Thing]]:
        """Every one of the fewer, so that their order stays and they are as like as can be."""
        if max(len(ours), len(theirs)) > _MANY_ALIKE:
            return list(zip(ours, theirs, strict=False))
        if len(ours) == len(theirs):
            return list(zip(ours, self._turned_back(ours, theirs), strict=True))
        if len(ours) > len(theirs):
            return [(one, other) for other, one in self._in_path(theirs, ours)]
        best: list[tuple[int, list[tuple[Thing, Thing]]]] = [(0, [])] * (len(theirs) + 1)
        for number, one in enumerate(ours):
            row: list[tuple[int, list[tuple[Thing, Thing]]]] = [(-1, [])] * (len(theirs) + 1)
            for there in range(number, len(theirs)):
                likeness, pairs = best[there]
                row[there + 1] = row[there]
                if likeness >= 0:
                    found = likeness + self._all_likeness(one, theirs[there])
                    row[there + 1] = max(row[there], (found, [*pairs, (one, theirs[there])]), key=_first)
            best = row
        return max(best, key=_first)[1]

    def _turned_back(self, ours: list[Thing], theirs: list[Thing]) -> list[Thing]:
        """The others in their order, two that took each other's place turned back."""
        found = list(theirs)
        said = [self.content(one) for one in ours]
        for first, second in combinations(range(len(ours)), 2):
            now = self.content(found[first]), self.content(found[second])
            if now[0] != now[1] and now == (said[second], said[first]):
                found[first], found[second] = found[second], found[first]
        return found

    def _all_likeness(self, one: Thing, other: Thing) -> int:
        alike = self.content(one) == self.content(other)
        return self._likeness(one, other) + (1 + len(one.facts) + len(one.parts) if alike else 0)

    def _equal_ones(self, ours: list[Thing], theirs: list[Thing]) -> list[tuple[Thing, Thing]]:
        waiting: dict[int, list[Thing]] = {}
        for other in theirs:
            waiting.setdefault(self.content(other), []).append(other)
        pairs = []
        for one in ours:
            same_content = waiting.get(self.content(one))
            if same_content:
                pairs.append((one, same_content.pop(0)))
        return pairs

    def _likeness(self, one: Thing, other: Thing) -> int:
        """How many facts and parts two things share."""
        shared = sum(
            name in other.facts and self.value(one, name) == self.value(other, name) for name in one.facts
        )
        return shared + sum(
            bool(one.members(fact))
            and [self.content(part) for part in one.members(fact)]
            == [self.content(part) for part in other.members(fact)]
            for fact in one.parts
        )


def _first(scored: tuple[int, object]) -> int:
    return scored[0]


def _groups(things: Iterable[Thing]) -> dict[tuple[str, str], list[Thing]]:
    """Things by kind and key, the number of one among several alike left out."""
    found: dict[tuple[str, str], list[Thing]] = {}
    for thing in things:
        found.setdefault((thing.kind.name, unnumbered(thing)), []).append(thing)
    return found


def _is_keyed_by_facts(thing: Thing) -> bool:
    """Whether its key is made of facts that say something of it: the day of a load test, the size of bricks."""
    if thing.kind.key_wanted:
        return False
    texts = [thing.facts[name].text for name in thing.kind.keyed_by if name in thing.facts]
    return bool(texts) and unnumbered(thing).endswith(" ".join(texts))


def _claims(
    before: Sequence[Thing],
    after: Sequence[Thing],
    groups: tuple[dict[tuple[str, str], list[Thing]], dict[tuple[str, str], list[Thing]]],
) -> list[tuple[Thing, Thing]]:
    """Pairs that a former key makes, in either direction: the older file may be given as the new one.

    A former key stays in the file for good, so it counts only where the other revision does not say it yet.
    """
    claims = []
    for things, others, turned in ((after, groups[0], False), (before, groups[1], True)):
        for thing in things:
            if not thing.formerly:
                continue
            namesake = others.get((thing.kind.name, unnumbered(thing)), ())
            told = set(namesake[0].formerly) if namesake else set()
            for key in thing.formerly:
                called = thing.key.rpartition(" ")[0]
                for name in dict.fromkeys((key, f"{called} {key}".strip())):
                    for other in others.get((thing.kind.name, name), ()) if key not in told else ():
                        claims.append((thing, other) if turned else (other, thing))
    return claims


def _told_alike(
    before: Iterable[Thing], after: Iterable[Thing], tell: Callable[[Thing], Hashable]
) -> Iterator[tuple[Thing, Thing]]:
    """Things that one sign tells, alone of their list, from either list."""
    lost, gained = _once(before, tell), _once(after, tell)
    for key, one in lost.items():
        other = gained.get(key)
        if other is not None:
            yield one, other


def _chains(by_key: Mapping[Thing, Thing], otherwise: Mapping[Thing, Thing]) -> Iterator[tuple[Thing, ...]]:
    """Things that two ways of matching tie together, where the two ways differ."""
    by_key_of = {other: one for one, other in by_key.items()}
    otherwise_of = {other: one for one, other in otherwise.items()}
    seen: set[Thing] = set()
    for start in otherwise:
        chain: dict[Thing, None] = {}
        waiting = [start] if start not in seen and by_key.get(start) is not otherwise[start] else []
        while waiting:
            one = waiting.pop()
            chain[one] = None
            for other in (by_key.get(one), otherwise.get(one)):
                ties = (by_key_of.get(other), otherwise_of.get(other)) if other is not None else ()
                waiting += [tied for tied in ties if tied is not None and tied not in chain]
        seen |= chain.keys()
        if chain:
            yield tuple(chain)


def _once(things: Iterable[Thing], tell: Callable[[Thing], Hashable]) -> dict[Hashable, Thing]:
    """Things by what tells them, those left out that nothing tells, or that are told like another."""
    found: dict[Hashable, Thing | None] = {}
    for thing in things:
        key = tell(thing)
        if key is not None:
            found[key] = None if key in found else thing
    return {key: thing for key, thing in found.items() if thing is not None}


def _lasting(thing: Thing) -> Hashable:
    wanted = thing.kind.key_wanted and thing.kind.name not in ("line_set", "lift_line")
    return (thing.kind.name, thing.key) if wanted else None


def _called(thing: Thing) -> Hashable:
    """Kind and name, of what goes by a key of its own."""
    recorded = thing.facts.get("name")
    if not thing.kind.key_wanted or recorded is None or not isinstance(recorded.value, Name):
        return None
    return thing.kind.name, recorded.value.text.casefold()


def _placed(thing: Thing) -> Hashable:
    """Kind and place in the building, of what goes by a key of its own and is not moved about."""
    if thing.kind.name not in ("line_set", "lift_line"):
        return None
    for fact in _PLACES:
        recorded = thing.facts.get(fact)
        if recorded is not None and not isinstance(recorded.value, Absent | Unknown):
            return thing.kind.name, fact, rounded(recorded.value)
    return None


def _is_reordered(
    matched: Sequence[tuple[Thing, Thing, How]], before: Sequence[Thing], after: Sequence[Thing]
) -> bool:
    """Whether the parts that stand in both paths follow one another otherwise."""
    at = {thing: place for place, thing in enumerate(after)}
    places = [at[other] for _, other, _ in matched]
    return places != sorted(places)
