"""A rule altered in one small thing: in a condition, a named value or a limit."""

from collections.abc import Iterator
from dataclasses import replace

from plumbtrue.documents.place import Place
from plumbtrue.quantities.literals import read_literal
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.unreadable import Unreadable
from plumbtrue.rules.examples.alterations import WordsFor, alterations, moved_both_ways
from plumbtrue.rules.judging import parts_of
from plumbtrue.rules.language.meaning import IncludesWord, IsKind, IsWord, Meaning
from plumbtrue.rules.language.nodes import Includes, Is, Not, Word
from plumbtrue.rules.language.scope import Given
from plumbtrue.rules.language.value_types import ManyWords, OneThing, OneWord, Type
from plumbtrue.rules.packs.understanding import Surroundings, understand
from plumbtrue.rules.rule import Clause, Parameter, Rule


@unchanging
class AlteredRule:
    """A rule with one small thing changed, that thing as the author would write it, and the example that
    would notice.
    """

    what: str
    wanted: str
    rule: Rule


def altered_rules(rule: Rule, around: Surroundings) -> Iterator[AlteredRule]:
    """Every alteration of a rule that means something. What would not load is no alteration."""
    for one in _written(rule):
        understood = understand(one.rule, around, [])
        if understood is not None:
            yield replace(one, rule=replace(one.rule, understood=understood))


def _written(rule: Rule) -> Iterator[AlteredRule]:
    words_for = _words_of(rule)
    if rule.when:
        yield _without_condition(rule)
    for part, clauses in (
        ("when", rule.when),
        ("when", rule.also_when),
        ("unless", rule.unless),
        ("require", rule.require),
    ):
        for at, clause in enumerate(clauses):
            for one in alterations(clause.expression, words_for):
                other = replace(clause, expression=one.expression)
                changed = _with_clause(rule, part, clauses, (*clauses[:at], other, *clauses[at + 1 :]))
                yield AlteredRule(f"{part}: {one.what}", one.wanted, changed)
    for at, (name, expression) in enumerate(rule.let):
        for one in alterations(expression, words_for):
            lets = (*rule.let[:at], (name, one.expression), *rule.let[at + 1 :])
            yield AlteredRule(f"let {name}: {one.what}", one.wanted, replace(rule, let=lets))
    for name in sorted(rule.parameters):
        yield from _moved_parameters(rule, rule.parameters[name])


def _without_condition(rule: Rule) -> AlteredRule:
    """The rule applied to just what it leaves alone."""
    clause = rule.when[0]
    denied = replace(clause, expression=Not(clause.expression, clause.expression.place))
    what = f"when: {clause.text} becomes not ({clause.text})"
    return AlteredRule(what, "one to which the rule applies", replace(rule, when=(denied, *rule.when[1:])))


def _with_clause(rule: Rule, part: str, old: tuple[Clause, ...], new: tuple[Clause, ...]) -> Rule:
    if part == "require":
        return replace(rule, require=new)
    if part == "unless":
        return replace(rule, unless=new)
    return replace(rule, when=new) if old is rule.when else replace(rule, also_when=new)


def _moved_parameters(rule: Rule, parameter: Parameter) -> Iterator[AlteredRule]:
    for text, given, wanted in _other_values(parameter):
        moved = replace(parameter, text=text, given=given)
        changed = replace(rule, parameters={**rule.parameters, parameter.name: moved})
        yield AlteredRule(f"parameter {parameter.name}: {parameter.text} becomes {text}", wanted, changed)


def _other_values(parameter: Parameter) -> Iterator[tuple[str, Given, str]]:
    """A limit one step less and one step more; a list of words without each of them in turn."""
    if parameter.given.words:
        for word in sorted(parameter.given.words):
            left = parameter.given.words - {word}
            if left:
                given = Given.choice(left)
                yield given.text, given, f"one that decides by {word}"
        return
    for text in moved_both_ways(parameter.text):
        found = read_literal(text)
        if not isinstance(found, Unreadable):
            given = Given.figure(text, found.bounds, found.dimension)
            yield text, given, f"one between {parameter.text} and {text}, or exactly {parameter.text}"


def _words_of(rule: Rule) -> WordsFor:
    """For each word of a rule, by its place, another that might stand there: the next in the alphabet."""
    others: dict[Place, tuple[str, ...]] = {}
    understood = rule.understood
    for meaning in (
        understood.applies,
        understood.requires,
        *(let.body for let in understood.scope.lets.values() if let),
    ):
        if meaning is not None:
            others.update(_other_words(meaning))
    return lambda word: others.get(word.place, ())


def _other_words(meaning: Meaning) -> Iterator[tuple[Place, tuple[str, ...]]]:
    word = _word_asked_for(meaning)
    if word is not None:
        permitted = sorted(_permitted(meaning) - {word.text, word.text.replace("-", "_")})
        following = [one for one in permitted if one > word.text]
        yield word.place, tuple((following or permitted)[:1])
    for part in parts_of(meaning):
        yield from _other_words(part)


def _word_asked_for(meaning: Meaning) -> Word | None:
    if isinstance(meaning, IsWord | IncludesWord | IsKind) and isinstance(meaning.written, Is | Includes):
        return meaning.written.word
    return None


def _permitted(meaning: Meaning) -> frozenset[str]:
    """Words that may stand in a test: those of the fact's list, or kinds that the thing may be of."""
    match meaning:
        case IsWord(of=of) | IncludesWord(of=of):
            return _words(of.type)
        case IsKind(of=of):
            return of.type.kinds if isinstance(of.type, OneThing) else frozenset()
        case _:
            return frozenset()


def _words(kind: Type) -> frozenset[str]:
    return kind.words if isinstance(kind, OneWord | ManyWords) else frozenset()
