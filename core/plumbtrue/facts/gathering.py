"""The inputs of one computation: asked of the facts, noted with where they come from, and counted when they
are missing.

A computation asks for everything it needs and only then settles, so that an answer "not known" names all that
is missing and not the first of it. A figure that is not known is the widest one, which monotone formulas
carry to the end by themselves. What is known only within bounds is noted too: those facts would narrow the
answer.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import NoReturn

from plumbtrue.facts.answer import Answer, Input, Missing, Worded, Working
from plumbtrue.facts.store import Facts, NotFound
from plumbtrue.quantities.bounds import EVERYTHING, Bounds
from plumbtrue.quantities.dimension import Dimension
from plumbtrue.quantities.values import NONE, Absent, Choice, Name, Unknown, Value, WordSet, is_exactly_known
from plumbtrue.quantities.writing import write
from plumbtrue.rig.thing import Thing

NOUGHT_OR_MORE = Bounds(0.0, float("inf"))


class Lacking(NotFound):  # it tells a state, not an error
    """Facts are missing without which there is no figure at all."""

    def __init__(self, missing: tuple[Missing, ...]) -> None:
        super().__init__(", ".join(f"{one.fact} of {one.thing.path}" for one in missing))
        self.missing = missing


class Declined(NotFound):  # as above
    """A computation is asked beyond its limits, and says which."""

    def __init__(self, reason: str, missing: tuple[Missing, ...] = ()) -> None:
        super().__init__(reason)
        self.reason = reason
        self.missing = missing


@dataclass(slots=True)
class Gathering:
    """What one computation has asked for so far."""

    facts: Facts
    inputs: list[Input] = field(default_factory=list)
    lacking: list[Missing] = field(default_factory=list)
    """Facts without which there is no figure."""
    loose: list[Missing] = field(default_factory=list)
    """Facts that are known only within bounds, or assumed: they would narrow the figure."""
    steps: list[tuple[str | Worded, str | Worded]] = field(default_factory=list)
    assumptions: list[str] = field(default_factory=list)

    def value(self, thing: Thing, name: str, label: str | None = None) -> Value:
        """Whatever is known of a fact, noted as an input. Not counted as missing: the caller knows what it
        can do without.
        """
        answer = self.facts.answer(thing, name)
        self._note(thing, name, label, answer)
        return answer.value

    def figure(
        self, thing: Thing, name: str, label: str | None = None, *, within: Bounds = EVERYTHING
    ) -> Bounds:
        """A figure that is needed, within what is physically possible; `within` itself, and counted, when it
        is not known.
        """
        found = self.perhaps(thing, name, label)
        if isinstance(found, Bounds):
            return clipped(found, within)
        self.lack(thing, name)
        return within

    def perhaps(self, thing: Thing, name: str, label: str | None = None) -> Bounds | Absent | None:
        """A figure that the computation can do without: bounds, `none`, or nothing when it is not known."""
        answer = self.facts.answer(thing, name)
        if isinstance(answer.value, Bounds):
            self._note(thing, name, label, answer)
            return answer.value
        return NONE if answer.value is NONE else None

    def words(self, thing: Thing, name: str) -> frozenset[str]:
        """The words that are still possible, `none` among them where it is; counted when nothing is known of
        it.
        """
        answer = self.facts.answer(thing, name)
        self._note(thing, name, None, answer)
        match answer.value:
            case Choice(possible, may_be_none):
                return possible | {"none"} if may_be_none else possible
            case WordSet(words, perhaps):
                return words | perhaps or frozenset({"none"})
            case Name(text):
                return frozenset({text})
            case Absent():
                return frozenset({"none"})
            case _:
                self.lack(thing, name)
                return frozenset()

    def word(self, thing: Thing, name: str) -> str:
        """The one word that it is (`none` where there is none), or an empty one and counted when that cannot
        be told.
        """
        words = self.words(thing, name)
        if len(words) == 1:
            return next(iter(words))
        if words:
            self.lack(thing, name, "could be one or another")
        return ""

    def thing(self, thing: Thing, name: str) -> Thing | None:
        """A part that is needed; nothing, and counted, when it is not there or not known."""
        held = self.facts.part(thing, name)
        if isinstance(held, Thing):
            return held
        self.lack(thing, name, "there is none" if isinstance(held, Absent) else "not recorded")
        return None

    def things(self, thing: Thing, name: str) -> tuple[Thing, ...]:
        """All parts of a list; counted when the list is not known to be whole."""
        held = self.facts.part(thing, name)
        if isinstance(held, Unknown):
            self.lack(thing, name)
            return ()
        self.lacking.extend(self.facts.unlisted(thing, name))
        if isinstance(held, Absent):
            return ()
        return held if isinstance(held, tuple) else (held,)

    def optional(self, thing: Thing, name: str) -> Thing | Absent | None:
        """A part that may be missing: the thing, `none`, or nothing when it is not known."""
        held = self.facts.part(thing, name)
        if isinstance(held, Thing | Absent):
            return held
        return None

    def around(self, thing: Thing, kind: str) -> Thing:
        """The nearest thing of a kind around a thing.

        Raises:
            Declined: it stands in none.
        """
        found = thing.enclosing(kind)
        if found is None:
            raise Declined(f"it belongs to no {kind.replace('_', ' ')}")
        return found

    def lack(self, thing: Thing, name: str, why: str | None = None) -> None:
        """Count a fact as missing, with what is missing of it in turn when it is a computed one."""
        fact = thing.kind.facts.get(name)
        computed = fact is not None and (fact.is_computed or fact.computed_if_left_out)
        answer = self.facts.answer(thing, name) if fact is not None and why is None else None
        if answer is not None and answer.missing:
            self.lacking.extend(answer.missing)
        elif answer is not None and answer.value is NONE:
            self.lacking.append(Missing(thing, name, "looked for, not there"))
        elif answer is not None and answer.refusal and computed:
            self.lacking.append(Missing(thing, name, answer.refusal))
        else:
            self.lacking.append(Missing(thing, name, why or "not recorded"))

    def assume(self, thing: Thing, name: str, bounds: Bounds, dimension: Dimension, source: str) -> Bounds:
        """Take a weight or a length that nobody recorded to lie within a marked range. Never for a
        strength.
        """
        label = f"{name.replace('_', ' ')} of {thing.path}, assumed"
        self.inputs.append(Input(label, bounds, dimension, authority=source))
        self.loose.append(Missing(thing, name, f"not recorded, assumed to be {self.said(bounds, dimension)}"))
        self.suppose(f"{label}: {self.said(bounds, dimension)} ({source})")
        return bounds

    def suppose(self, sentence: str) -> None:
        """Note an assumption, once."""
        if sentence not in self.assumptions:
            self.assumptions.append(sentence)

    def step(self, label: str, bounds: Bounds, dimension: Dimension) -> Bounds:
        """Note an intermediate figure, and hand it back."""
        self.steps.append((label, self.worded("{}", (bounds, dimension))))
        return bounds

    def said(self, bounds: Bounds, dimension: Dimension) -> str:
        """A figure as this house reads it."""
        return write(bounds, dimension, self.facts.system)

    def worded(self, words: str, *told: str | tuple[Bounds, Dimension]) -> Worded:
        """A sentence with figures in it as this house reads them, put together when somebody reads it."""
        return Worded(words, told, self.facts.system)

    def given(self, label: str, bounds: Bounds, dimension: Dimension, authority: str) -> Bounds:
        """Note a figure that comes from no fact, such as one of a published table, and on whose authority."""
        self.inputs.append(Input(label, bounds, dimension, authority=authority))
        return bounds

    def include(self, other: "Gathering") -> None:
        """Take over what another gathering found: its inputs, what is missing, its steps and assumptions."""
        self.inputs.extend(other.inputs)
        self.lacking.extend(other.lacking)
        self.loose.extend(other.loose)
        self.steps.extend(other.steps)
        for sentence in other.assumptions:
            self.suppose(sentence)

    def settle(self) -> None:
        """Go on only when nothing is missing.

        Raises:
            Lacking: with everything that is.
        """
        if self.lacking:
            raise self.what_is_missing()

    def what_is_missing(self) -> Lacking:
        """Everything that is missing, to be raised where there is no going on."""
        assert self.lacking, "nothing is missing"
        return Lacking(unique((*self.lacking, *self.loose)))

    def decline(self, reason: str) -> NoReturn:
        """Refuse, with the reason and whatever is missing.

        Raises:
            Declined: always.
        """
        raise Declined(reason, unique((*self.lacking, *self.loose)))

    def answer(
        self, value: Value, what: str, formula: str, dimension: Dimension | None, source: str = ""
    ) -> Answer:
        """The answer with its working, and with the facts that would narrow or settle it.

        Raises:
            Lacking: something is missing without which there is no figure.
        """
        self.settle()
        return self.within(value, what, formula, dimension, source)

    def within(
        self, value: Value, what: str, formula: str, dimension: Dimension | None, source: str = ""
    ) -> Answer:
        """The same for an answer that holds although something is missing: bounds that no missing fact could
        pass.
        """
        missing = () if is_exactly_known(value) else unique((*self.lacking, *self.loose))
        working = Working(
            what=what,
            formula=formula,
            inputs=tuple(self.inputs),
            steps=tuple(self.steps),
            result=value,
            dimension=dimension,
            source=source,
            assumptions=tuple(self.assumptions),
        )
        return Answer(value, missing, working=working)

    def _note(self, thing: Thing, name: str, label: str | None, answer: Answer) -> None:
        fact = thing.kind.facts[name]
        named = label or (thing, name)
        self.inputs.append(Input(named, answer.value, fact.dimension, answer.recorded, answer.working))
        if not isinstance(answer.value, Unknown):
            self.loose.extend(answer.missing)


def clipped(bounds: Bounds, within: Bounds) -> Bounds:
    """The part of some bounds that is physically possible; untouched where nothing of it would be."""
    if within.low <= bounds.low and bounds.high <= within.high:
        return bounds
    low, high = max(bounds.low, within.low), min(bounds.high, within.high)
    return Bounds(low, high) if low <= high else bounds


def unique(missing: Iterable[Missing]) -> tuple[Missing, ...]:
    """Each missing fact once, in the order in which they were met."""
    by_fact: dict[tuple[Thing, str], Missing] = {}
    for one in missing:
        by_fact.setdefault((one.thing, one.fact), one)
    return tuple(by_fact.values())
