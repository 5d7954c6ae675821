"""Everything that can be known of the things of a rig: written, in order by statement, or computed when
somebody asks.

Each fact is settled once and kept. `exact` is the fast door: a plain figure, word or thing where a fact is
exactly known, and `NotExact` where it is not. `answer` is the careful one: bounds, what is missing, and the
working.

In this order: what hides a part makes its visual facts unknown; what is written holds (a written value of a
computed fact too); then what a statement "in order" vouches for; then what can be computed; and else nothing
is known. Only a fact that is "computed where nobody wrote it" is computed before a statement fills it.
"""

from collections import defaultdict
from collections.abc import Callable, Hashable, Mapping
from datetime import date
from typing import Final, Protocol, TypeVar, cast

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.in_order import can_be_hidden, cover_of, covered_rope, given_in_order
from plumbtrue.facts.not_seen import Unseen, unseen_of
from plumbtrue.facts.stated_bounds import Given, Stated
from plumbtrue.quantities.bounds import EVERYTHING, Bounds
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import (
    NONE,
    UNKNOWN,
    Absent,
    Choice,
    Each,
    Name,
    Spot,
    Unknown,
    Value,
    WordSet,
    is_exactly_known,
)
from plumbtrue.quantities.writing import System
from plumbtrue.rig.thing import Recorded, Seen, Thing
from plumbtrue.rig.vocabulary import Fact, Vocabulary

Part = Thing | tuple[Thing, ...] | Absent | Unknown


@unchanging
class AndPerhapsMore:
    """Things that are found, of which nobody can say that they are all: a set's pieces, while one piece hangs
    nobody knows where.
    """

    things: tuple[Thing, ...]
    missing: tuple[Missing, ...] = ()
    """What would tell whether they are all."""


Found = Part | AndPerhapsMore
Exact = float | str | frozenset[str] | Spot | Thing | tuple["Exact", ...] | None
"""A fact known exactly: figure [SI, count, ratio, days], word or name, words, place, thing or things in
order, or None for `none`.
"""

T = TypeVar("T")

PART_TYPES: Final = frozenset({"thing", "list of things", "path", "reference", "list of reference"})


class NotExact(Exception):  # noqa: N818  # it tells a state, not an error
    """The fact is not exactly known: ask `Facts.answer`."""


class CircularFact(ValueError):  # noqa: N818  # it tells a state, not an error
    """A computed fact asks for itself in the end: a mistake of ours or of a plugin."""


class NotFound(Exception):  # noqa: N818  # it tells a state, not an error
    """A computation cannot answer: facts are missing, or it is asked beyond its limits (`gathering` has
    both).
    """


class _Unsettled:
    """Stands in the table of exact facts for one that is not exactly known."""


_NOT_EXACT: Final = _Unsettled()
_NEVER_ASKED: Final = _Unsettled()

NOT_OVER_THE_HEAD_BLOCK: Final = frozenset({"spot", "dead-hang", "breast"})
"""Roles of lines that go nowhere near the arbor: added from the grid, fixed, pulling sideways."""


class RigRead(Protocol):
    """The rig as this floor needs it."""

    @property
    def house(self) -> Thing: ...

    @property
    def vocabulary(self) -> Vocabulary: ...

    @property
    def plot(self) -> Thing | None: ...

    @property
    def units(self) -> str: ...


Computation = Callable[["Facts", Thing], Answer]


class Facts:
    """All facts of a rig as of one day.

    `further` holds computed facts from elsewhere (plugins), by kind or class and name; they come before the
    program's own.
    """

    def __init__(
        self, rig: RigRead, on: date, further: Mapping[tuple[str, str], Computation] | None = None
    ) -> None:
        self.rig = rig
        self.on = on
        self.today: float = float(on.toordinal())
        self._further = dict(further or {})
        self._answers: defaultdict[Thing, dict[str, Answer]] = defaultdict(dict)
        self._handed_in: dict[tuple[Thing, str], Answer] = {}
        self._exact: defaultdict[Thing, dict[str, Exact | _Unsettled]] = defaultdict(dict)
        self._ways: defaultdict[str, dict[str, _Way]] = defaultdict(dict)
        self._bindings: dict[str, Mapping[str, Computation]] = {}
        self._parts: dict[tuple[Thing, str], Found] = {}
        self._kept: dict[tuple[Thing, object], object] = {}
        self._shared: dict[Hashable, object] = {}
        self._unseen: dict[Thing, tuple[Unseen, ...]] = {}
        self._covers: dict[Thing, str | None] = {}
        self._statements: dict[tuple[int, int], _Statement | None] = {}
        self._asking: list[tuple[Thing, str]] = []

    @property
    def system(self) -> System:
        """Units in which the house reads figures."""
        return cast(System, self.rig.units)

    @property
    def further(self) -> Mapping[tuple[str, str], Computation]:
        """Computed facts from elsewhere."""
        return self._further

    def exact(self, thing: Thing, name: str) -> Exact:
        """A fact as a plain Python value.

        Raises:
            NotExact: it is not exactly known.
        """
        known = self._exact[thing].get(name, _NEVER_ASKED)
        if known is _NEVER_ASKED:
            known = self._settle_exact(thing, name)
        if known is _NOT_EXACT:
            raise NotExact
        return known  # type: ignore[return-value]  # the one unsettled value was refused a line above

    def answer(self, thing: Thing, name: str) -> Answer:
        """What is known of a fact, with what is missing and how it was found. Settled once, then kept.

        Raises:
            KeyError: no such thing has a fact of that name.
            CircularFact: a computed fact asks for itself.
        """
        row = self._answers[thing]
        known = row.get(name)
        if known is None:
            known = row[name] = self._settle(thing, name)
        return known

    def hand_in(self, thing: Thing, name: str, answer: Answer) -> None:
        """An answer that is found elsewhere, such as the verdict of an audit, before anybody asks for it.

        Raises:
            ValueError: somebody has asked already, and may have gone by the other answer.
        """
        if name in self._answers[thing] or name in self._exact[thing]:
            raise ValueError(f"{name} of {thing.path} was asked for before it was handed in")
        self._handed_in[thing, name] = answer

    def was_asked(self, thing: Thing, name: str) -> bool:
        """Whether anybody asked for a fact of a thing so far."""
        return name in self._answers.get(thing, ()) or name in self._exact.get(thing, ())

    def value(self, thing: Thing, name: str) -> Value:
        """The value alone."""
        return self.answer(thing, name).value

    def part(self, thing: Thing, name: str) -> Part:
        """What a fact holds or names: a thing, things in order, `none`, or not known.

        A list can be longer than what is in it: see `is_unlisted`.
        """
        held = thing.parts.get(name)
        if held is None:
            held = thing.references.get(name)
        if held is not None:
            return held
        fact = thing.kind.facts.get(name)
        if fact is not None and fact.is_computed:
            found = self._found_part(thing, name)
            return found.things if isinstance(found, AndPerhapsMore) else found
        # A list of what is wrong (contacts, joins, holes) is known to be empty where somebody vouched for it.
        if fact is not None and fact.in_order is not None and name not in thing.facts:
            return NONE if self.answer(thing, name).value is NONE else UNKNOWN
        recorded = thing.facts.get(name)
        return NONE if recorded is not None and recorded.value is NONE else UNKNOWN

    def _found_part(self, thing: Thing, name: str) -> Found:
        key = (thing, name)
        known = self._parts.get(key)
        if known is None:
            from plumbtrue.facts.computed import found_part

            known = self._parts[key] = found_part(self, thing, name)
        return known

    def kept(self, thing: Thing, find: Callable[["Facts", Thing], T]) -> T:
        """What a function finds about a thing, found once: the state of a batten that several facts are read
        from.
        """
        key = (thing, find)
        if key not in self._kept:
            try:
                self._kept[key] = find(self, thing)
            except NotFound as reason:
                self._kept[key] = reason
        known = self._kept[key]
        if isinstance(known, NotFound):
            raise known
        return cast(T, known)

    def shared(self, figures: Hashable, find: Callable[[], T]) -> T:
        """What follows from figures alone, found once for all things that have the same: in most houses many
        battens are alike. What cannot be found raises each time.
        """
        if figures not in self._shared:
            self._shared[figures] = find()
        return cast(T, self._shared[figures])

    def is_unlisted(self, thing: Thing, name: str) -> bool:
        """Whether something stands in a list that nobody has identified, or the list is shorter than
        stated.
        """
        return name in thing.unlisted or bool(self.unlisted(thing, name))

    def unlisted(self, thing: Thing, name: str) -> tuple[Missing, ...]:
        """What would tell whether a list is whole; nothing where it is."""
        if name in thing.unlisted:
            return (Missing(thing, name, f"not all of them identified{_fewer_than_stated(thing, name)}"),)
        fact = thing.kind.facts.get(name)
        if fact is None or not fact.is_computed or name in thing.parts or name in thing.references:
            return ()
        found = self._found_part(thing, name)
        return found.missing if isinstance(found, AndPerhapsMore) else ()

    def enclosing(self, thing: Thing, kind: str) -> Thing | None:
        """The nearest thing of a kind or class outward, itself included."""
        return thing.enclosing(kind)

    def computes(self, thing: Thing, name: str) -> bool:
        """Whether there is a computation for a fact of such a thing."""
        return name in self._computations(thing)

    def _settle(self, thing: Thing, name: str) -> Answer:
        way = self._ways[thing.kind.name].get(name) or self._way(thing, name)
        fact = way.fact
        handed_in = self._handed_in.get((thing, name))
        if handed_in is not None:
            return handed_in
        if way.of_things:
            return self._settle_part(thing, fact)
        cover = self._cover_of(thing) if way.can_be_hidden else None
        if cover is not None:
            why = f"hidden by {cover}"
            return Answer(UNKNOWN, missing=(Missing(thing, name, why),), recorded=thing.facts.get(name))
        recorded = thing.facts.get(name)
        if recorded is not None:
            return _written(thing, fact, recorded)
        computation = way.computation
        if computation is not None and way.computed_first:
            # What follows from measured figures goes before what somebody vouched for in general.
            found = self._computed(thing, name, computation)
            if not isinstance(found.value, Unknown):
                return found
            return self._vouched(thing, fact) or found
        stated = self._vouched(thing, fact) if way.can_be_vouched_for else None
        if stated is not None:
            return stated
        if computation is not None:
            return self._computed(thing, name, computation)
        return Answer(UNKNOWN, missing=(Missing(thing, name),))

    def _way(self, thing: Thing, name: str) -> "_Way":
        """How a fact of such things is settled, worked out once for all of them."""
        fact = thing.kind.facts.get(name)
        if fact is None:
            raise KeyError(f"a {thing.kind.word} has no fact {name}")
        way = self._ways[thing.kind.name][name] = _Way(
            fact,
            of_things=fact.type in PART_TYPES,
            can_be_hidden=can_be_hidden(fact),
            can_be_vouched_for=fact.in_order is not None and fact.nature == "condition",
            computation=self._computations(thing).get(name),
            computed_first=fact.computed_if_left_out,
        )
        return way

    def _computed(self, thing: Thing, name: str, find: Callable[["Facts", Thing], T]) -> T:
        """What a computation finds, unless it asks for itself: only computed facts ask for others, so only
        they are watched.
        """
        key = (thing, name)
        if key in self._asking:
            circle = [*self._asking[self._asking.index(key) :], key]
            raise CircularFact(" asks for ".join(f"{fact} of {one.path}" for one, fact in circle))
        self._asking.append(key)
        try:
            return find(self, thing)
        finally:
            self._asking.pop()

    def _settle_part(self, thing: Thing, fact: Fact) -> Answer:
        recorded = thing.facts.get(fact.name)
        if fact.is_computed:
            held: Part | None = self._computed(
                thing, fact.name, lambda facts, one: facts.part(one, fact.name)
            )
        else:
            held = thing.parts.get(fact.name)
        if held is None:
            held = thing.references.get(fact.name)
        if held is None and recorded is not None and recorded.value is NONE:
            held = NONE
        if held is None and recorded is None:
            stated = self._vouched(thing, fact)
            if stated is not None:
                return stated
        match held:
            case Thing(key=key):
                return Answer(Name(key), recorded=recorded)
            case tuple():
                missing = self.unlisted(thing, fact.name)
                return Answer(Name(", ".join(one.key for one in held)), missing=missing, recorded=recorded)
            case Absent():
                return Answer(NONE, recorded=recorded)
            case _:
                why = "looked at, could not be told" if held is not None else "not recorded"
                return Answer(UNKNOWN, missing=(Missing(thing, fact.name, why),), recorded=recorded)

    def _cover_of(self, thing: Thing) -> str | None:
        """What hides a thing, asked once for all its facts."""
        if thing not in self._covers:
            self._covers[thing] = cover_of(thing, self.value)
        return self._covers[thing]

    def _vouched(self, thing: Thing, fact: Fact) -> Answer | None:
        seen = thing.vouched_by
        statement = None if seen is None else self._statement(seen, fact)
        if seen is None or statement is None:
            return None
        if seen.not_seen and any(one.takes_in(fact.name) for one in self._unseen_of(thing)):
            return None
        if covered_rope(thing, fact, self._stretches):
            return None
        if statement.whole is not None:
            return statement.whole
        value, recorded = statement.value, statement.recorded
        missing: tuple[Missing, ...] = ()
        if recorded is None:
            value, missing = self._given(thing, fact, statement.given)
            recorded = _by_statement(value, seen)
        if not missing and not is_exactly_known(value):
            missing = (Missing(thing, fact.name, "in order by statement, known only within bounds"),)
        return Answer(value, missing, recorded)

    def _statement(self, seen: Seen, fact: Fact) -> "_Statement | None":
        """What one statement gives one fact of any thing: it vouches for hundreds of things at once, so it is
        worked out once. Both live as long as the rig, so that neither identity is ever taken by another.
        """
        key = (id(seen), id(fact))
        if key not in self._statements:
            given = given_in_order(seen, fact)
            self._statements[key] = None if given is None else _stated(given, seen)
        return self._statements[key]

    def _unseen_of(self, thing: Thing) -> tuple[Unseen, ...]:
        """What whoever vouches for a thing did not see of it, read once."""
        known = self._unseen.get(thing)
        if known is None:
            seen = thing.vouched_by
            known = self._unseen[thing] = unseen_of(seen.not_seen, thing) if seen is not None else ()
        return known

    def _stretches(self, rope: Thing) -> Value:
        held = self.part(rope, "hidden_lengths")
        return held if isinstance(held, Absent | Unknown) else Name("written")

    def _given(self, thing: Thing, fact: Fact, given: Given) -> tuple[Value, tuple[Missing, ...]]:
        """The value of a statement; unknown, with the reason, where a fact that it leans on is not known."""
        if not isinstance(given, Stated):
            return given, ()
        missing: list[Missing] = []

        def fact_at(path: tuple[str, ...]) -> Bounds:
            found, lacking = self._figure_at(thing, path)
            missing.extend(lacking)
            return found

        bounds = given.bounds(fact_at)
        if missing:
            # A statement that leans on something unknown says nothing by itself.
            return UNKNOWN, tuple(missing)
        return bounds, ()

    def _figure_at(self, thing: Thing, path: tuple[str, ...]) -> tuple[Bounds, tuple[Missing, ...]]:
        """The figure that a statement leans on: a fact of the thing itself, or of the rope that runs
        there.
        """
        if len(path) == 1:
            owners: tuple[Thing, ...] = (thing,)
        else:
            owners = ropes_at(thing) if path[0] == "rope" else ()
            if not owners:
                return EVERYTHING, (Missing(thing, path[0]),)
        found: Bounds | None = None
        missing: list[Missing] = []
        for owner in owners:
            answer = self.answer(owner, path[-1])
            if isinstance(answer.value, Bounds):
                found = answer.value if found is None else found.hull(answer.value)
            else:
                missing.extend(answer.missing or (Missing(owner, path[-1]),))
        return found or EVERYTHING, tuple(missing)

    def _computations(self, thing: Thing) -> Mapping[str, Computation]:
        bound = self._bindings.get(thing.kind.name)
        if bound is None:
            from plumbtrue.facts.computed import bindings

            bound = bindings(thing.kind)
            for (owner, name), computation in self._further.items():
                if owner == thing.kind.name or owner in thing.kind.classes:
                    bound = {**bound, name: computation}
            self._bindings[thing.kind.name] = bound
        return bound

    def _settle_exact(self, thing: Thing, name: str) -> "Exact | _Unsettled":
        row = self._exact[thing]
        fact = thing.kind.facts.get(name)
        if fact is None:
            row[name] = _NOT_EXACT
        elif fact.type in PART_TYPES:
            row[name] = self._exact_part(thing, name)
        else:
            row[name] = _plain_if_exact(self.answer(thing, name).value)
        return row[name]

    def _exact_part(self, thing: Thing, name: str) -> "Exact | _Unsettled":
        held = self.part(thing, name)
        if isinstance(held, Unknown) or self.unlisted(thing, name):
            return _NOT_EXACT
        return None if isinstance(held, Absent) else held


def _fewer_than_stated(thing: Thing, name: str) -> str:
    """Both numbers, where the house states more lift lines than are written; else nothing."""
    stated, lines = thing.facts.get("lines_stated"), thing.parts.get(name)
    if name != "lift_lines" or stated is None or not isinstance(lines, tuple):
        return ""
    if not isinstance(stated.value, Bounds) or len(lines) >= stated.value.high:
        return ""
    return f": {stated.text} stated, {len(lines)} written"


def _plain_if_exact(value: Value) -> "Exact | _Unsettled":
    # What most facts say comes first: a sound house has some fifty thousand of them asked for.
    if value.__class__ is Unknown:
        return _NOT_EXACT
    if isinstance(value, Bounds):
        return value.low if value.low == value.high else _NOT_EXACT
    return plain(value) if is_exactly_known(value) else _NOT_EXACT


def plain(value: Value) -> Exact:
    """An exactly known value as a plain Python one.

    >>> plain(Bounds.exactly(6.5)), plain(Choice(frozenset({"wrap"}))), plain(NONE)
    (6.5, 'wrap', None)
    """
    match value:
        case Bounds(low, _):
            return low
        case Choice():
            return value.word
        case WordSet(words):
            return words
        case Name(text):
            return text
        case Each(values):
            return tuple(plain(one) for one in values)
        case Spot():
            return value
        case Absent():
            return None
        case _:
            raise ValueError(f"{value} is not exactly known")


def ropes_at(thing: Thing) -> tuple[Thing, ...]:
    """The ropes that run where a thing is: its line's, its hand line's, or those of the set's lines that run
    to the arbor for a block that they share.
    """
    rope = thing.enclosing("rope")
    if rope is not None:
        return (rope,)
    for kind in ("lift_line", "hand_line", "side_line", "spot_line", "second_line"):
        line = thing.enclosing(kind)
        if line is not None:
            return _rope_of(line)
    line_set = thing.line_set
    if line_set is None:
        return ()
    if thing.kind.name == "tension_block":
        hand_line = line_set.parts.get("hand_line")
        return _rope_of(hand_line) if isinstance(hand_line, Thing) else ()
    lines = line_set.parts.get("lift_lines")
    if not isinstance(lines, tuple):
        return ()
    return tuple(rope for line in lines if not _added_from_the_grid(line) for rope in _rope_of(line))


def _added_from_the_grid(line: Thing) -> bool:
    role = line.facts.get("role")
    return (
        role is not None and isinstance(role.value, Choice) and role.value.possible <= NOT_OVER_THE_HEAD_BLOCK
    )


def _rope_of(line: Thing) -> tuple[Thing, ...]:
    rope = line.parts.get("rope")
    return (rope,) if isinstance(rope, Thing) else ()


def _written(thing: Thing, fact: Fact, recorded: Recorded) -> Answer:
    value = recorded.value
    if value is NONE:
        # "None" of a count is no more of them than nought, and of a list of words that none applies.
        if fact.type == "count":
            value = Bounds.exactly(0)
        elif fact.type == "list of words":
            value = WordSet(frozenset())
    if isinstance(value, Unknown):
        why = "looked at, could not be told" + (f": {recorded.note}" if recorded.note else "")
        return Answer(value, (Missing(thing, fact.name, why),), recorded)
    missing = () if is_exactly_known(value) else (Missing(thing, fact.name, "recorded only within bounds"),)
    return Answer(value, missing, recorded)


@unchanging
class _Way:
    """How a fact of the things of one kind is settled."""

    fact: Fact
    of_things: bool
    can_be_hidden: bool
    can_be_vouched_for: bool
    computation: Computation | None
    computed_first: bool
    """Whether what follows from measured figures goes before a statement in general."""


@unchanging
class _Statement:
    """What a statement gives a fact: the same for all things, unless it leans on another fact of each."""

    given: Given
    value: Value = UNKNOWN
    recorded: Recorded | None = None
    """Nothing where it leans on another fact."""
    whole: Answer | None = None
    """The answer itself, where it is exact."""


def _stated(given: Given, seen: Seen) -> _Statement:
    if isinstance(given, Stated):
        if given.leans_on:
            return _Statement(given)
        value: Value = given.bounds(lambda _: EVERYTHING)
    else:
        value = given
    recorded = _by_statement(value, seen)
    return _Statement(
        given, value, recorded, Answer(value, (), recorded) if is_exactly_known(value) else None
    )


def _by_statement(value: Value, seen: Seen) -> Recorded:
    by = f" by statement of {seen.by}" if seen.by else " by statement"
    on = f" on {seen.on}" if seen.on else ""
    return Recorded(value, f"in order{by}{on}", seen.place, origin="in-order", seen=seen)
