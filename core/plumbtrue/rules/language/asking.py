"""Checks of what is asked of a fact: whether it is none or known, what it includes, where the thing lies."""

from plumbtrue.documents.nearest_word import nearest
from plumbtrue.rules.language.meaning import (
    FactOf,
    IncludesWord,
    IsNothing,
    IsSaid,
    LetValue,
    LiesIn,
    Meaning,
    TheOne,
    Variable,
)
from plumbtrue.rules.language.naming import Ground, runs_over_several
from plumbtrue.rules.language.nodes import (
    Includes,
    IsKnown,
    IsNone,
    Within,
)
from plumbtrue.rules.language.printing import printed
from plumbtrue.rules.language.scope import may_lie_in
from plumbtrue.rules.language.value_types import (
    CLAIM,
    Claims,
    ManyWords,
    Mistaken,
    OneThing,
    OneWord,
    Several,
    in_words,
    with_article,
)


def check_is_none(found: Meaning, written: IsNone, ground: Ground) -> Meaning:
    """The meaning of `a is none`."""
    if isinstance(found.type, Mistaken):
        return found
    text = printed(found.written)
    if isinstance(found.type, Several) and found.type.or_one and not runs_over_several(found):
        found = TheOne(found, found.type.of, found.written)
    if not isinstance(found, FactOf | LetValue | Variable | TheOne) and not isinstance(found.type, OneThing):
        what = f"{text} is worked out and never none; only a fact or a part is"
        return ground.mistake(
            found.written, "never-none", what, "ask it of the fact itself", length=len(text)
        )
    if isinstance(found, FactOf) and isinstance(found.owner.type, Several):
        what = f"{text} is {in_words(found.type)}"
        instead = f"say every or some: every x in {text} has (x is none)"
        return ground.mistake(found.written, "several-values", what, instead, length=len(text))
    if isinstance(found, FactOf) and len(getattr(found.written, "steps", ())) == 1:
        fact = found.fact
        if fact.type == "count":
            what = f"{text} is a count, and none of them is nought"
            return ground.mistake(found.written, "never-none", what, f"write {text} = 0", length=len(text))
        if not fact.may_be_none and not fact.is_computed and not isinstance(found.type, OneThing | Several):
            what = f"{text} is never written as none"
            return ground.mistake(
                found.written, "never-none", what, f"write {text} is not known", length=len(text)
            )
    return IsNothing(found, CLAIM, written)


def check_is_known(found: Meaning, written: IsKnown, ground: Ground) -> Meaning:
    """The meaning of `a is known`."""
    if isinstance(found.type, Mistaken):
        return found
    if isinstance(found.type, Claims):
        text = printed(found.written)
        what = f"{text} is a claim; known or not is asked of a fact"
        return ground.mistake(found.written, "fact-wanted", what, length=len(text))
    return IsSaid(found, CLAIM, written)


def check_includes(found: Meaning, written: Includes, ground: Ground) -> Meaning:
    """The meaning of `damage includes crack`."""
    if isinstance(found.type, Mistaken):
        return found
    text, word = printed(written.operand), written.word
    if not isinstance(found.type, ManyWords):
        single = isinstance(found.type, OneWord)
        what = f"{text} is {in_words(found.type)}, not a list of words"
        instead = f"write {text} is {word.text}" if single else ""
        return ground.mistake(written, "word-list-wanted", what, instead, length=len(text))
    if word.text not in found.type.words:
        near = nearest(word.text, sorted(found.type.words))
        what = f"{text} never includes {word.text}"
        instead = f"write {near}" if near else f"write one of {', '.join(sorted(found.type.words))}"
        return ground.mistake(written, "word-unknown", what, instead, place=word.place, length=len(word.text))
    return IncludesWord(found, word.text, CLAIM, written)


def check_within(written: Within, ground: Ground) -> Meaning:
    """The meaning of `within lift_line`."""
    word, vocabulary = written.word, ground.scope.vocabulary
    name = word.text.replace("-", "_")
    kinds = vocabulary.kinds_of(name)
    if not kinds:
        near = nearest(name, sorted(vocabulary.kinds.keys() | vocabulary.classes.keys()))
        what = f"there is no kind or class of things called {word.text}"
        instead = f"write {near}" if near else ""
        return ground.mistake(written, "kind-unknown", what, instead, place=word.place, length=len(word.text))
    if not may_lie_in(ground.own_kinds, kinds, vocabulary):
        what = f"{in_words(OneThing(ground.own_kinds))} never lies in {with_article(name)}"
        return ground.mistake(written, "never-within", what, place=word.place, length=len(word.text))
    return LiesIn(name, CLAIM, written)
