"""From a thing to its facts and parts, and outward to what it lies in; of a list, whether it is whole."""

from dataclasses import replace
from typing import Final

from plumbtrue.facts.answer import Missing
from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.values import NONE, UNKNOWN, Absent, Each, Unknown, Value, is_exactly_known
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.language.environment import Environment
from plumbtrue.rules.language.meaning import Around, FactOf, LetValue, LoadPath, Meaning, This, Variable
from plumbtrue.rules.language.results import Evaluated, Member, Members, NotThere, Rest, united
from plumbtrue.rules.language.value_types import OneThing, Several

_NOT_THERE: Final = NotThere()
Held = Thing | tuple[Thing, ...] | Absent | Unknown


class Reach:
    """What can be reached in one environment."""

    def __init__(self, environment: Environment) -> None:
        self.environment = environment

    def reached(self, meaning: Around | LoadPath | FactOf, owner: Evaluated, this: Thing) -> Evaluated:
        """What a name stands for, from its owner on."""
        match owner.value:
            case Thing():
                return self.from_thing(meaning, owner.value, owner)
            case Members():
                assert isinstance(meaning, FactOf)
                return self.from_several(meaning, owner.value, owner)
            case Unknown():
                unknown = Members((), Rest.UNKNOWN) if isinstance(meaning.type, Several) else UNKNOWN
                return Evaluated(meaning, unknown, owner.missing, (owner,))
            case _:
                nothing = Members((), Rest.NOT_THERE) if isinstance(meaning.type, Several) else _NOT_THERE
                return Evaluated(meaning, nothing, with_reason(owner, this).missing, (owner,))

    def from_thing(self, meaning: Around | LoadPath | FactOf, thing: Thing, owner: Evaluated) -> Evaluated:
        match meaning:
            case Around(kind=kind):
                around = thing.enclosing(kind)
                if around is not None:
                    return Evaluated(meaning, around, thing=thing)
                why = Missing(thing, kind, f"it lies in no {kind.replace('_', ' ')}")
                return Evaluated(meaning, _NOT_THERE, (why,), thing=thing)
            case LoadPath():
                beside = thing.parent.parts.get(thing.role) if thing.parent is not None else None
                if thing.parent is not None and isinstance(beside, tuple):
                    return self.things(meaning, thing.parent, thing.role, beside)
                why = Missing(thing, "load_path", "it stands in no load path")
                return Evaluated(meaning, Members((), Rest.NOT_THERE), (why,), thing=thing)
            case FactOf(fact=fact):
                return self.fact(meaning, thing, fact.name, owner)

    def fact(self, meaning: FactOf, thing: Thing, name: str, owner: Evaluated) -> Evaluated:
        if name not in thing.kind.facts:
            why = Missing(thing, name, f"a {thing.kind.word} has no such fact")
            nothing = Members((), Rest.NOT_THERE) if isinstance(meaning.type, Several) else _NOT_THERE
            return Evaluated(meaning, nothing, (why,), thing=thing)
        kind = meaning.type
        if isinstance(kind.of if isinstance(kind, Several) else kind, OneThing):
            held = self.environment.part(thing, name)
            if isinstance(kind, Several) and not isinstance(meaning.owner.type, Several):
                return self.things(meaning, thing, name, held)
            return self.part(meaning, thing, name, held)
        answer = self.environment.answer(thing, name)
        missing = _doubts(answer.value, answer.missing, thing, name)
        parts = (owner,) if not isinstance(owner.meaning, This) else ()
        if isinstance(kind, Several):
            members = self.values(meaning, thing, name, answer.value, missing)
            return Evaluated(meaning, members, missing, parts, answer, thing)
        return Evaluated(meaning, answer.value, missing, parts, answer, thing)

    def part(self, meaning: FactOf, thing: Thing, name: str, held: Held) -> Evaluated:
        match held:
            case Thing() | Absent():
                return Evaluated(meaning, held, thing=thing)
            case Unknown():
                return Evaluated(meaning, UNKNOWN, self.unknown_part(thing, name), thing=thing)
            case _:
                return self.things(meaning, thing, name, held)

    def unknown_part(self, thing: Thing, name: str) -> tuple[Missing, ...]:
        return self.environment.answer(thing, name).missing or (Missing(thing, name),)

    def things(
        self,
        meaning: FactOf | LoadPath,
        thing: Thing,
        name: str,
        held: Held,
    ) -> Evaluated:
        """The members of a list or path, and whether they are all."""
        match held:
            case Unknown():
                return Evaluated(
                    meaning, Members((), Rest.UNKNOWN), self.unknown_part(thing, name), thing=thing
                )
            case Absent():
                known: tuple[Member, ...] = ()
            case Thing():
                known = (Member(held),)
            case _:
                known = tuple(map(Member, held))
        if not self.environment.is_unlisted(thing, name):
            return Evaluated(meaning, Members(known), thing=thing)
        more = Missing(thing, name, "not all of them identified")
        missing = self.environment.answer(thing, name).missing or (more,)
        return Evaluated(meaning, Members(known, Rest.SOMETHING), missing, thing=thing)

    def values(
        self, meaning: FactOf, thing: Thing, name: str, value: Value, missing: tuple[Missing, ...]
    ) -> Members:
        """The values of a list, or of a fact that may have been written once for all."""
        more = self.environment.is_unlisted(thing, name)
        rest = Rest.SOMETHING if more else Rest.NOTHING
        match value:
            case Each(values):
                told = tuple(Member(one, () if is_exactly_known(one) else missing) for one in values)
                return Members(told, rest)
            case Unknown():
                return Members((), Rest.UNKNOWN)
            case Absent() if not meaning.fact.one_or_each:
                return Members((), rest)
            case _:
                return Members((Member(value, missing),), rest)

    def from_several(self, meaning: FactOf, owners: Members, owner: Evaluated) -> Evaluated:
        """A fact of each of several things; lists run together, and what is not there adds nothing to a
        list of things.
        """
        holds_things = isinstance(meaning.type, Several) and isinstance(meaning.type.of, OneThing)
        known: list[Member] = []
        rest = owners.rest
        missing = owner.missing
        for member in owners.known:
            assert isinstance(member.value, Thing)
            found = self.fact_of_one(meaning, member.value, owner)
            if isinstance(found.value, Members):
                known.extend(found.value.known)
                rest = rest if found.value.are_all else found.value.rest
                missing = united(missing, found.missing) if not found.value.are_all else missing
            elif isinstance(found.value, Absent) and holds_things:
                continue
            elif isinstance(found.value, Unknown) and holds_things:
                rest = Rest.UNKNOWN
                missing = united(missing, found.missing)
            else:
                value = NONE if isinstance(found.value, NotThere) else found.value
                assert not isinstance(value, Truth)
                known.append(Member(value, found.missing))
        return Evaluated(meaning, Members(tuple(known), rest), missing, (owner,))

    def fact_of_one(self, meaning: FactOf, thing: Thing, owner: Evaluated) -> Evaluated:
        name = meaning.fact.name
        fact = thing.kind.facts.get(name)
        if fact is not None and fact.type in ("list of things", "path", "list of reference"):
            return self.things(meaning, thing, name, self.environment.part(thing, name))
        if fact is not None and fact.type in ("thing", "reference"):
            return self.part(meaning, thing, name, self.environment.part(thing, name))
        if (
            fact is None
            or fact.one_or_each
            or (fact.type.startswith("list of ") and fact.type != "list of words")
        ):
            return self.fact(meaning, thing, name, owner)
        answer = self.environment.answer(thing, name)
        missing = _doubts(answer.value, answer.missing, thing, name)
        return Evaluated(meaning, answer.value, missing, answer=answer, thing=thing)


def with_reason(found: Evaluated, this: Thing) -> Evaluated:
    """The same; where it is known not to be there, this is given as what keeps an answer open."""
    if found.missing or not isinstance(found.value, Absent | NotThere):
        return found
    reason = Missing(found.thing or this, last_name(found.meaning), "recorded as none")
    return replace(found, missing=(reason,))


def _doubts(value: Value, missing: tuple[Missing, ...], thing: Thing, name: str) -> tuple[Missing, ...]:
    """What would make a fact's value exact; nothing for one that is exact already."""
    if isinstance(value, Absent) or is_exactly_known(value):
        return ()
    if missing:
        return missing
    why = "not recorded" if isinstance(value, Unknown) else "recorded only within bounds"
    return (Missing(thing, name, why),)


def last_name(meaning: Meaning) -> str:
    match meaning:
        case FactOf(fact=fact):
            return fact.name
        case Around(kind=kind):
            return kind
        case LetValue(name=name) | Variable(name=name):
            return name
        case _:
            return "value"
