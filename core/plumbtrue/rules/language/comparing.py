"""Checks of comparisons and word tests: like with like, and only words that the fact knows."""

from plumbtrue.documents.nearest_word import nearest
from plumbtrue.quantities.dimension import DURATION, RATIO
from plumbtrue.quantities.unreadable import wanted
from plumbtrue.rules.language.meaning import (
    Denial,
    Equal,
    IsKind,
    IsThing,
    IsWord,
    Meaning,
    Over,
)
from plumbtrue.rules.language.naming import Ground, stands_for
from plumbtrue.rules.language.nodes import (
    Comparison,
    Figure,
    Is,
    OneOf,
    OneOfNamed,
    Ordering,
    Path,
    Quoted,
    Word,
)
from plumbtrue.rules.language.printing import printed
from plumbtrue.rules.language.scope import THIS
from plumbtrue.rules.language.value_types import (
    CLAIM,
    YES_OR_NO,
    Dates,
    Figures,
    ManyWords,
    Mistaken,
    Names,
    OneThing,
    OneWord,
    Type,
    in_words,
    with_article,
)


def check_comparison(
    operator: Ordering, left: Meaning, right: Meaning, written: Comparison, ground: Ground
) -> Meaning:
    """The meaning of `a < b` and its like."""
    if isinstance(left.type, Mistaken):
        return left
    if isinstance(right.type, Mistaken):
        return _word_meant(left, written, ground) or right
    if operator in ("=", "!=") and _equal_kinds(left.type, right.type):
        same = Equal(left, right, CLAIM, written)
        return same if operator == "=" else Denial(same, CLAIM, written)
    if _ordered(left.type, right.type) and operator not in ("=", "!="):
        if operator in (">", ">="):
            return Over(left, right, operator == ">=", CLAIM, written)
        return Over(right, left, operator == "<=", CLAIM, written)
    one, other = printed(left.written), printed(right.written)
    what = f"{one} is {in_words(left.type)}, and {other} is {in_words(right.type)}"
    slug, instead = _advice(left, right, written)
    return ground.mistake(
        written, slug, what, instead, place=right.written.place, length=len(printed(right.written))
    )


def _ordered(left: Type, right: Type) -> bool:
    match left, right:
        case Figures(one, reckoned), Figures(other, reckoned_too):
            return one == other and not (reckoned and reckoned_too and reckoned != reckoned_too)
        case Dates(), Dates():
            return True
        case _:
            return False


def _equal_kinds(left: Type, right: Type) -> bool:
    match left, right:
        case Names(free), Names(free_too):
            return not free and not free_too
        case OneWord(words), OneWord(others):
            return bool(words & others)
        case _:
            return _ordered(left, right)


def _word_meant(left: Meaning, written: Comparison, ground: Ground) -> Meaning | None:
    """Advice where somebody wrote `attachment = wrap`: the last problem told says that there is no fact
    called wrap.
    """
    right = written.right
    if (
        not isinstance(left.type, OneWord)
        or not isinstance(right, Path)
        or right.steps[-1] not in left.type.words
    ):
        return None
    problem = ground.problems.pop()
    sign = "is not" if written.operator == "!=" else "is"
    what = f"{right.steps[-1]} is a word, not a figure or a fact"
    instead = f"write {printed(left.written)} {sign} {right.steps[-1]}"
    return ground.mistake(right, "word-compared", what, instead, place=problem.where, length=problem.length)


def _advice(left: Meaning, right: Meaning, written: Comparison) -> tuple[str, str]:
    operands = (left, right)
    types = {type(one.type) for one in operands}
    if types == {Figures}:
        return _advice_on_figures(left, right, written)
    if types == {Dates, Figures}:
        day = next(one for one in operands if isinstance(one.type, Dates))
        return (
            "dimension-wrong",
            f"compare its age: age of {printed(day.written)} {written.operator} 12 months",
        )
    if types == {OneWord, Names} and isinstance(right.written, Quoted):
        sign = "is not" if written.operator == "!=" else "is"
        return "word-compared", f"write {printed(left.written)} {sign} {right.written.text}"
    if types == {OneWord, Figures} and isinstance(right.written, Figure):
        assert isinstance(left.type, OneWord)
        if right.written.text in left.type.words:
            sign = "is not" if written.operator == "!=" else "is"
            return "word-compared", f"write {printed(left.written)} {sign} {right.written.text}"
    if types == {OneThing}:
        return "word-compared", f"write {printed(left.written)} is {printed(right.written)}"
    if types in ({OneWord}, {Names}):
        return "not-comparable", "only = and != can be asked of them, and of free text nothing"
    if types & {ManyWords}:
        return "not-comparable", "write includes or excludes"
    return "not-comparable", "compare figures with figures, dates with dates, names with names"


def _advice_on_figures(left: Meaning, right: Meaning, written: Comparison) -> tuple[str, str]:
    one, other = left.type, right.type
    assert isinstance(one, Figures)
    assert isinstance(other, Figures)
    if one.dimension == other.dimension == DURATION:
        by_calendar = "calendar" in (one.reckoning if not isinstance(left.written, Figure) else None, None)
        if by_calendar:
            return (
                "calendar-and-days",
                "an age goes by the calendar: give the limit in months or years, or write days since",
            )
        return (
            "calendar-and-days",
            "days are counted: give the limit in days, or write age of for months and years",
        )
    if other.dimension == RATIO and isinstance(right.written, Figure):
        return "unit-missing", f"write {wanted(one.dimension)}"
    if one.dimension == RATIO and isinstance(left.written, Figure):
        return "unit-missing", f"write {wanted(other.dimension)}"
    return "dimension-wrong", f"compare it with {wanted(one.dimension)}"


def check_is(operand: Meaning, word: Word, written: Is, ground: Ground) -> Meaning:
    """The meaning of `a is word`: of a thing its kind, or whether it is the other one; else the word of a
    fact.
    """
    text = printed(operand.written)
    match operand.type:
        case Mistaken():
            return operand
        case OneThing():
            return _is_of_kind(operand, word, written, ground)
        case OneWord(words):
            if word.text in words:
                return IsWord(operand, frozenset({word.text}), CLAIM, written)
            return _no_such_word(text, operand.type, word, written, ground)
        case Names(False):
            what = f"{text} is a name, and a name is compared letter by letter"
            sign = "!=" if written.negated else "="
            instead = f'write {text} {sign} "{word.text}"'
        case ManyWords():
            what = f"{text} is a list of words"
            instead = f"write {text} {'excludes' if written.negated else 'includes'} {word.text}"
        case _:
            what = f"{text} is {in_words(operand.type)}, and is asks for a word or a kind"
            instead = f"write {text} = …" if isinstance(operand.type, Figures | Dates) else ""
    return ground.mistake(written, "word-fact-wanted", what, instead, length=len(text))


def _is_of_kind(operand: Meaning, word: Word, written: Is, ground: Ground) -> Meaning:
    first = word.text.split(".")[0]
    if "." in word.text or first == THIS or first in ground.variables or first in ground.scope.lets:
        other = stands_for(Path(tuple(word.text.split(".")), word.place), ground)
        if isinstance(other.type, Mistaken | OneThing):
            return other if isinstance(other.type, Mistaken) else IsThing(operand, other, CLAIM, written)
        what = f"{word.text} is {in_words(other.type)}, not a thing"
        return ground.mistake(written, "not-a-thing", what, place=word.place, length=len(word.text))
    vocabulary = ground.scope.vocabulary
    kinds = vocabulary.kinds_of(word.text)
    assert isinstance(operand.type, OneThing)
    text = printed(operand.written)
    if not kinds:
        near = nearest(word.text, sorted(vocabulary.kinds.keys() | vocabulary.classes.keys()))
        what = f"there is no kind or class of things called {word.text}"
        instead = f"write {near}" if near else ""
        return ground.mistake(written, "kind-unknown", what, instead, place=word.place, length=len(word.text))
    if not kinds & operand.type.kinds:
        what = f"{text} is never {with_article(word.text)}"
        near = nearest(word.text, sorted(operand.type.kinds))
        instead = f"write {near}" if near else ""
        return ground.mistake(written, "kind-unknown", what, instead, place=word.place, length=len(word.text))
    return IsKind(operand, kinds, CLAIM, written)


def _no_such_word(
    text: str, kind: OneWord, word: Word | Quoted, written: Is | OneOf, ground: Ground
) -> Meaning:
    near = nearest(word.text, sorted(kind.words))
    if near is not None:
        instead = f"write {near}"
    elif kind == YES_OR_NO:
        instead = "write yes or no"
    else:
        instead = f"write one of {', '.join(sorted(kind.words))}"
    what = f"{text} is never {word.text}"
    return ground.mistake(written, "word-unknown", what, instead, place=word.place, length=len(word.text))


def check_one_of(
    operand: Meaning, words: tuple[Word | Quoted, ...], written: OneOf, ground: Ground
) -> Meaning:
    """The meaning of `a in [b, c]`."""
    text = printed(operand.written)
    said = [word.text for word in words]
    twice = next((word for index, word in enumerate(words) if word.text in said[:index]), None)
    if twice is not None:
        what = f"{twice.text} stands twice in the list"
        return ground.mistake(
            written, "word-twice", what, "leave one out", place=twice.place, length=len(twice.text)
        )
    match operand.type:
        case Mistaken():
            return operand
        case OneWord(known):
            for word in words:
                if word.text not in known:
                    return _no_such_word(text, operand.type, word, written, ground)
            return IsWord(operand, frozenset(said), CLAIM, written)
        case Names(False):
            bare = next((word for word in words if isinstance(word, Word)), None)
            if bare is None:
                return IsWord(operand, frozenset(said), CLAIM, written)
            what = f"{text} is a name, and names stand in quotes"
            return ground.mistake(
                written,
                "word-fact-wanted",
                what,
                f'write "{bare.text}"',
                place=bare.place,
                length=len(bare.text),
            )
        case OneThing():
            return _one_of_kinds(operand, words, written, ground)
        case ManyWords():
            instead = " or ".join(f"{text} includes {word}" for word in said)
            return ground.mistake(
                written, "word-fact-wanted", f"{text} is a list of words", f"write {instead}"
            )
        case _:
            what = f"{text} is {in_words(operand.type)}, and in asks for a word or a name"
            return ground.mistake(written, "word-fact-wanted", what, length=len(text))


def _one_of_kinds(
    operand: Meaning, words: tuple[Word | Quoted, ...], written: OneOf, ground: Ground
) -> Meaning:
    kinds: set[str] = set()
    for word in words:
        found = _is_of_kind(
            operand,
            Word(word.text, word.place),
            Is(written.operand, Word(word.text, word.place), False, word.place),
            ground,
        )
        if not isinstance(found, IsKind):
            return found
        kinds |= found.kinds
    return IsKind(operand, frozenset(kinds), CLAIM, written)


def check_one_of_named(operand: Meaning, named: Path, written: OneOfNamed, ground: Ground) -> Meaning:
    """The meaning of `a in allowed`, where `allowed` is a parameter that lists words or names."""
    if isinstance(operand.type, Mistaken):
        return operand
    spelt = printed(named)
    given = ground.scope.parameters.get(spelt)
    if given is None or given.value is not None:
        what = f"{spelt} is not a parameter that lists words"
        instead = "write the words: in [a, b]"
        return ground.mistake(written, "list-of-words", what, instead, place=named.place, length=len(spelt))
    text = printed(operand.written)
    match operand.type:
        case OneWord(known):
            odd = sorted(given.words - known)
            if odd:
                near = nearest(odd[0], sorted(known))
                what = f"{spelt} lists {odd[0]}, and {text} is never that"
                instead = f"write {near} in the parameter" if near else ""
                return ground.mistake(
                    written, "word-unknown", what, instead, place=named.place, length=len(spelt)
                )
            return IsWord(operand, given.words, CLAIM, written)
        case Names(False):
            return IsWord(operand, given.words, CLAIM, written)
        case _:
            what = f"{text} is {in_words(operand.type)}, and in asks for a word or a name"
            return ground.mistake(written, "word-fact-wanted", what, length=len(text))
