"""Anything that a report names, explained by itself: a rule in force, a fact with its working, a finding, a
kind of message, a kind of thing, a fact of the vocabulary.

Each function gives lines of text; what is asked for is found by the command.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from plumbtrue.audit.deciding import Whereabouts
from plumbtrue.audit.first_to_weigh import of_fact
from plumbtrue.audit.messages import EXPLANATIONS as AUDIT_MESSAGES
from plumbtrue.audit.outcome import Outcome
from plumbtrue.documents.figure_messages import EXPLANATIONS as FIGURE_MESSAGES
from plumbtrue.documents.messages import EXPLANATIONS as DOCUMENT_MESSAGES
from plumbtrue.documents.messages import Explanation
from plumbtrue.documents.printable import printable
from plumbtrue.facts.store import Facts
from plumbtrue.facts.working_text import working_text
from plumbtrue.quantities.reading_dates import WANTED
from plumbtrue.quantities.unreadable import wanted
from plumbtrue.quantities.writing import System
from plumbtrue.reporting.grouping import changes_by_rule
from plumbtrue.reporting.report import WorkingLine
from plumbtrue.reporting.text_layout import padded, wrapped
from plumbtrue.reporting.wording import RESULT_LABELS, SEVERITY_LABELS, authority
from plumbtrue.rig.complaints import a, listed
from plumbtrue.rig.file_words import FILE_WORDS
from plumbtrue.rig.messages import EXPLANATIONS as RIG_MESSAGES
from plumbtrue.rig.offering import list_offered, thing_offered
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Class, Fact, Kind, Vocabulary
from plumbtrue.rules.language.messages import EXPLANATIONS as LANGUAGE_MESSAGES
from plumbtrue.rules.packs.messages import EXPLANATIONS as PACK_MESSAGES
from plumbtrue.rules.packs.pack import RuleBook
from plumbtrue.rules.packs.pack_words import PACK_WORDS
from plumbtrue.rules.rule import Clause, Origin, Rule

_WIDTH: Final = 100
_KINDS_SHOWN: Final = 6
_IN_WORDS: Final[dict[str, str]] = {
    "count": "a whole number, such as 4 or 3..4",
    "date": WANTED,
    "list of name": "a list of names",
    "list of place": "places along the batten, such as [SL 6'-0\", both 12'-0\"]",
    "list of reference": "keys of things, as a list",
    "list of text": "a list of texts",
    "list of words": "a list of the words below",
    "place": "a place along the batten, such as SL 6'-0\", SR 6'-0\", CL or 6'-0\"",
    "ratio": "a plain number, such as 0.9 or 5 %",
    "reference": "the key of a thing",
    "word": "one of the words below",
}
_MESSAGES: Final = (
    *DOCUMENT_MESSAGES,
    *FIGURE_MESSAGES,
    *RIG_MESSAGES,
    *LANGUAGE_MESSAGES,
    *PACK_MESSAGES,
    *AUDIT_MESSAGES,
)


def message_slugs() -> tuple[str, ...]:
    """Every kind of message that has a paragraph."""
    return tuple(sorted({one.slug for one in _MESSAGES}))


def message_text(slug: str) -> Iterator[str]:
    """What usually causes a message, what it means, what to do."""
    one: Explanation = next(each for each in _MESSAGES if each.slug == slug)
    yield one.slug
    yield from _entry("cause", one.cause)
    yield from _entry("means", one.meaning)
    yield from _entry("do", one.what_to_do)


def rule_text(rule: Rule, book: RuleBook) -> Iterator[str]:
    """A rule as it is in force, with which pack set each part of it."""
    yield printable(f"{rule.slug}: {rule.title}")
    yield from _entry("about", rule.about.replace("_", " "))
    yield from _entry(
        "severity", SEVERITY_LABELS[rule.severity].lower() + _by(rule.origins.get("severity"), rule)
    )
    for name, parameter in rule.parameters.items():
        text = f"{name} = {parameter.text}: {parameter.meaning}{_by(parameter.origin, rule)}"
        yield from _entry("parameter", text)
    yield from _clauses("applies where", rule.when, rule)
    yield from _clauses("also where", rule.also_when, rule)
    yield from _clauses("unless", rule.unless, rule)
    yield from _clauses("asks that", rule.require, rule)
    yield from _entry("finding", rule.finding.text)
    yield from _entry("remedy", rule.remedy.text)
    yield from _entry("why", rule.why)
    titles = {
        key: f"{work.title} ({work.edition})" if work.edition else work.title
        for key, work in book.works.items()
    }
    for line in authority(rule, titles):
        yield from _entry("source", line)
    if rule.forbids_relaxing:
        yield from _entry("", "no later pack may relax or retire it")
    for line in changes_by_rule(book.changes).get(rule.slug, ()):
        yield from _entry("changed", line)
    if rule.retired is not None:
        yield from _entry(
            "retired", f"by {rule.retired.pack}, {rule.retired.decided_by}: {rule.retired.reason}"
        )
    yield from _entry("written", f"pack {rule.pack}, {rule.place}")


def _clauses(head: str, clauses: Sequence[Clause], rule: Rule) -> Iterator[str]:
    for clause in clauses:
        yield from _entry(head, f"{' '.join(clause.text.split())}{_by(clause.origin, rule)}")
        for word, written in (("finding", clause.finding), ("remedy", clause.remedy)):
            if written is not None:
                yield from _entry(f"{word} of that", written.text)


def _by(origin: Origin | None, rule: Rule) -> str:
    """Which other pack set a part; nothing where it is the rule's own."""
    return (
        ""
        if origin is None or origin.pack == rule.pack
        else f"  [{origin.pack}, {origin.how}: {origin.place}]"
    )


def fact_text(thing: Thing, name: str, facts: Facts, system: System) -> Iterator[str]:
    """What is known of a fact of a thing, how, and how to find it out where it is not."""
    fact = thing.kind.facts[name]
    yield printable(f"{name.replace('_', ' ')} of {thing.path}: {fact.meaning}")
    answer = facts.answer(thing, name)
    if len(answer.missing) > 1:
        ranked = tuple(one.as_missing for one in of_fact(facts, thing, name))
        answer = replace(answer, missing=ranked)
    yield from (printable(line) for line in working_text(answer, system).splitlines())
    if fact.look or fact.tool:
        yield from _finding_out(fact, facts.rig.vocabulary)


def outcome_text(
    outcome: Outcome, place: Whereabouts, working: Sequence[WorkingLine], book: RuleBook, offer: str = ""
) -> Iterator[str]:
    """What a rule said about a thing, how it came to it, and how it would be accepted.

    Args:
        offer: a waiver for it, ready but for what only a person can say.
    """
    yield printable(f"{outcome.rule} @ {outcome.thing.path}: {RESULT_LABELS[outcome.result].lower()}")
    yield from _entry("says", outcome.message)
    if outcome.remedy:
        yield from _entry("remedy", outcome.remedy)
    for told in dict.fromkeys(
        f"{missing.fact.replace('_', ' ')} of {missing.thing.path}: {missing.why}"
        for missing in outcome.missing
    ):
        yield from _entry("missing", told)
    yield from _entry("look at", str(place))
    if outcome.acceptance is not None:
        mark = outcome.acceptance
        yield from _entry("accepted", f"by {mark.by} until {mark.until}: {mark.reason}")
    yield "  working"
    for line in working:
        lead = "  " * (line.depth + 2)
        origin = f"  ({line.origin})" if line.origin else ""
        yield from wrapped(f"{line.text}{origin}", _WIDTH, lead, f"{lead}  ")
    if offer:
        yield "  to accept this state until a day, put into a file of waivers (plumbtrue: waivers/1), under waivers:"
        yield from map(printable, offer.splitlines())
    rule = book.rule(outcome.rule)
    if rule is not None:
        yield ""
        yield from rule_text(rule, book)


def kind_text(kind: Kind) -> Iterator[str]:
    """A kind of thing and all its facts, in the order in which they are written."""
    yield f"{kind.word}: {kind.meaning}"
    if kind.classes:
        yield from _entry("one of", ", ".join(sorted(one.replace("_", " ") for one in kind.classes)))
    if kind.sits_in:
        yield from _entry("sits in", ", ".join(one.replace("_", " ") for one in kind.sits_in))
    if kind.key:
        yield from _entry("key", kind.key)
    yield from _facts(kind.facts.values())


def class_text(one: Class) -> Iterator[str]:
    """A class of kinds, with the facts that they share."""
    yield f"{one.name.replace('_', ' ')}: {one.meaning}"
    yield from _entry("kinds", ", ".join(sorted(member.replace("_", "-") for member in one.members)))
    yield from _facts(one.facts.values())


def _facts(facts: Iterable[Fact]) -> Iterator[str]:
    every = list(facts)
    wide = max((len(one.name) for one in every), default=0)
    for one in every:
        mark = " (computed)" if one.is_computed else ""
        yield from wrapped(f"{one.meaning}{mark}", _WIDTH, f"  {padded(one.name, wide)}  ", " " * (wide + 4))


def vocabulary_fact_text(name: str, vocabulary: Vocabulary) -> Iterator[str]:
    """A fact, of every kind that has it: what it says, how it is written, how to find it out."""
    told: dict[tuple[str, str], list[str]] = {}
    found: dict[tuple[str, str], Fact] = {}
    for kind in vocabulary.kinds.values():
        fact = kind.facts.get(name)
        if fact is not None:
            key = (fact.declared_in, fact.meaning)
            told.setdefault(key, []).append(kind.word)
            found[key] = fact
    for key, kinds in told.items():
        fact = found[key]
        yield f"{name}: {fact.meaning}"
        yield from _entry("of", ", ".join(sorted(kinds)))
        yield from _entry(
            "written as", _written_as(fact, vocabulary) + ("; may be none" if fact.may_be_none else "")
        )
        for word, meaning in (fact.words or {}).items():
            yield from _entry("word", f"{word}: {meaning}")
        if fact.source:
            yield from _entry("computed", fact.source)
        if fact.in_order:
            yield from _entry("in order", fact.in_order)
        yield from _finding_out(fact, vocabulary)


def word_text(word: str, vocabulary: Vocabulary) -> Iterator[str]:
    """A word that facts are answered with: of which facts, and what it says there."""
    told: dict[tuple[str, str, str], list[str]] = {}
    for kind in vocabulary.kinds.values():
        for fact in kind.facts.values():
            if fact.words and word in fact.words and not fact.is_computed:
                told.setdefault((fact.name, fact.words[word], fact.meaning), []).append(a(kind))
    for (name, says, meaning), kinds in told.items():
        of = listed(kinds, most=_KINDS_SHOWN)
        yield from wrapped(f"{word}, a word of {name} of {of}: {says}", _WIDTH, "", "  ")
        yield from _entry(name, meaning)


_STEM: Final = 5
"""How many letters of a word are looked for in meanings, so that `terminated` finds a termination (ours)."""
_MOST_NAMED: Final = 6


def file_word_text(word: str) -> Iterator[str]:
    """A word of the file itself, with an example."""
    said = FILE_WORDS[word]
    yield from wrapped(f"{word}: {said.says}", _WIDTH, "", "  ")
    yield from _entry("such as", said.example)


def named_with(word: str, vocabulary: Vocabulary) -> tuple[str, ...]:
    """Kinds, facts and words whose meaning has a word in it that begins alike, the first few: where somebody looks
    who knows the thing by another name. Kinds come first.

    >>> from plumbtrue.rig.vocabulary_loading import load_vocabulary
    >>> named_with("termination", load_vocabulary())[0]
    'trim-chain'
    """
    stem = _squeezed(word)[:_STEM]
    if len(stem) < _STEM:
        return ()
    meanings = [(kind.word, kind.meaning) for kind in vocabulary.kinds.values()]
    for kind in vocabulary.kinds.values():
        for fact in kind.facts.values():
            meanings.append((fact.name, fact.meaning))
            meanings.extend((fact.words or {}).items())
    found = dict.fromkeys(name for name, meaning in meanings if stem in _squeezed(meaning))
    return tuple(found)[:_MOST_NAMED]


def _squeezed(text: str) -> str:
    return "".join(letter for letter in text.lower() if letter.isalnum())


def pack_word_text(word: str) -> Iterator[str]:
    """A word of a pack's files, with examples."""
    said = PACK_WORDS[word]
    yield from wrapped(f"{word}, in a pack: {said.says}", _WIDTH, "", "  ")
    for example in said.examples:
        yield from _entry("such as", example)


def _written_as(fact: Fact, vocabulary: Vocabulary) -> str:
    """How a fact is written, with an example."""
    if fact.type in ("thing", "list of things", "path"):
        if fact.is_computed:
            return fact.type
        one = thing_offered(fact, vocabulary) if fact.type == "thing" else list_offered(fact, vocabulary)
        kind = vocabulary.kinds.get(fact.of or "")
        each = "each " if fact.type != "thing" else ""
        return one + (f", {each}{a(kind)}" if kind is not None else "")
    if fact.dimension is not None and fact.type == "quantity":
        return wanted(fact.dimension)
    if fact.dimension is not None and fact.type == "list of quantity":
        return f"a list, each {wanted(fact.dimension)}"
    return _IN_WORDS.get(fact.type, fact.type)


def _finding_out(fact: Fact, vocabulary: Vocabulary) -> Iterator[str]:
    if fact.look:
        yield from _entry("look", fact.look)
    if fact.tool:
        yield from _entry("with", fact.tool)
    if fact.takes:
        yield from _entry("takes", fact.takes.replace("-", " "))
    if fact.step is not None and fact.step in vocabulary.survey_steps:
        yield from _entry("on the walk", vocabulary.survey_steps[fact.step])


def _entry(head: str, text: str) -> list[str]:
    return wrapped(text, _WIDTH, f"  {head:<13} ", " " * 16)
