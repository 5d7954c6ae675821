"""What a name in a rule stands for: a variable, a named value, a parameter, a fact of the thing judged, or
a thing around it.

A bare name is looked for in that order, and one that could be two of the first four is a problem: nothing
hides anything silently. Dots lead from a thing to its facts and parts, or outward to what it lies in.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field

from plumbtrue.documents.nearest_word import nearest
from plumbtrue.documents.place import Place, Problem
from plumbtrue.quantities.values import UNKNOWN
from plumbtrue.rig.vocabulary import Fact
from plumbtrue.rules.language.meaning import (
    Around,
    Constant,
    FactOf,
    LoadPath,
    Meaning,
    This,
    Today,
    Variable,
)
from plumbtrue.rules.language.nodes import Expression, Path
from plumbtrue.rules.language.scope import (
    LOAD_PATH,
    RESERVED,
    THIS,
    TODAY,
    Scope,
    Steps,
    kinds_held,
    may_lie_in,
)
from plumbtrue.rules.language.value_types import (
    MISTAKEN,
    Dates,
    ManyWords,
    Mistaken,
    OneThing,
    OneWord,
    Several,
    Type,
    in_words,
    type_of,
    with_article,
)


@dataclass(slots=True)
class Ground:
    """One expression while it is checked: its scope, the variables in hand, and what has been found wrong
    so far.
    """

    scope: Scope
    problems: list[Problem] = field(default_factory=list)
    variables: dict[str, Type] = field(default_factory=dict)

    def mistake(
        self,
        written: Expression,
        slug: str,
        what: str,
        instead: str = "",
        *,
        place: Place | None = None,
        length: int = 1,
    ) -> Constant:
        """Notes a problem and stands in for what cannot be understood, so that nothing more is said of it."""
        self.problems.append(Problem(slug, place or written.place, what, instead, length))
        return Constant(UNKNOWN, MISTAKEN, written)

    @property
    def own_kinds(self) -> frozenset[str]:
        """Kinds that the thing judged may be of, as far as conditions have narrowed them."""
        return self.left_for((THIS,), self.scope.about)

    def left_for(self, steps: Steps, kinds: frozenset[str]) -> frozenset[str]:
        """Kinds that conditions have left; where they contradict one another, as if there were none."""
        narrowed = self.scope.narrowed.get(steps)
        return kinds if narrowed is None else kinds & narrowed or kinds


def stands_for(path: Path, ground: Ground) -> Meaning:
    """What a name, or names joined by dots, stand for."""
    found = _first(path, ground)
    for index, step in enumerate(path.steps[1:], start=2):
        if isinstance(found.type, Mistaken):
            return found
        found = _next(found, step, Path(path.steps[:index], path.place), ground)
    return found


def own_names(ground: Ground) -> set[str]:
    """Facts that a thing judged may have."""
    kinds = ground.scope.vocabulary.kinds
    return {name for kind in ground.own_kinds for name in kinds[kind].facts}


def _first(path: Path, ground: Ground) -> Meaning:
    name = path.steps[0]
    written = Path((name,), path.place)
    this = This(OneThing(ground.own_kinds), written)
    if name == THIS:
        return this
    if name == TODAY:
        return Today(Dates(), written)
    if name == LOAD_PATH:
        return _load_path(this, written, ground)
    scope = ground.scope
    found: list[tuple[str, Meaning | None]] = []
    if name in ground.variables:
        found.append(("a name given by for, every or some", _variable(name, written, ground)))
    if name in scope.lets:
        let = scope.lets[name]
        found.append(
            ("a value named under let", Constant(UNKNOWN, MISTAKEN, written) if let is None else let)
        )
    if name in scope.parameters:
        found.append(("a parameter", _parameter(name, written, ground)))
    if name in own_names(ground):
        found.append(("a fact of the thing itself", None))
    if len(found) > 1:
        what = f"{name} is {' and '.join(one for one, _ in found)}"
        return ground.mistake(path, "name-ambiguous", what, "call one of them otherwise", length=len(name))
    if found:
        return found[0][1] or _fact_of(this, name, written, ground)
    around = _around(this, name, written, ground)
    return around or _nothing_called(name, path, ground)


def _variable(name: str, written: Path, ground: Ground) -> Meaning:
    kind = ground.variables[name]
    if isinstance(kind, OneThing):
        kind = OneThing(ground.left_for((name,), kind.kinds))
    return Variable(name, kind, written)


def _parameter(name: str, written: Path, ground: Ground) -> Meaning:
    given = ground.scope.parameters[name]
    if given.value is None or given.type is None:
        what = f"{name} is a list to choose from"
        return ground.mistake(written, "list-of-words", what, f"write in {name}", length=len(name))
    return Constant(given.value, given.type, written)


def _next(owner: Meaning, name: str, written: Path, ground: Ground) -> Meaning:
    kind = owner.type
    several = isinstance(kind, Several)
    one = kind.of if isinstance(kind, Several) else kind
    if not isinstance(one, OneThing):
        what = f"{'.'.join(written.steps[:-1])} is {in_words(kind)}; it has no facts of its own"
        return ground.mistake(written, "not-a-thing", what, length=len(".".join(written.steps)))
    if name == LOAD_PATH and not several:
        return _load_path(owner, written, ground)
    if any(name in ground.scope.vocabulary.kinds[each].facts for each in one.kinds):
        return _fact_of(owner, name, written, ground)
    around = None if several else _around(owner, name, written, ground)
    return around or _no_fact(owner, one.kinds, name, written, ground)


def _load_path(owner: Meaning, written: Path, ground: Ground) -> Meaning:
    parts = ground.scope.vocabulary.kinds_of("part")
    assert isinstance(owner.type, OneThing)
    if not owner.type.kinds & parts:
        what = f"{in_words(owner.type)} is no part of a load path"
        return ground.mistake(
            written, "not-in-a-path", what, "name the list: every p in lift_line.lower has (…)"
        )
    return LoadPath(owner, Several(OneThing(parts)), written)


def _fact_of(owner: Meaning, name: str, written: Path, ground: Ground) -> Meaning:
    vocabulary = ground.scope.vocabulary
    kinds = _kinds_of(owner)
    having = {
        kind: vocabulary.kinds[kind].facts[name]
        for kind in sorted(kinds)
        if name in vocabulary.kinds[kind].facts
    }
    spelt = ".".join(written.steps)
    if len(having) < len(kinds):
        subject = ".".join(written.steps[:-1]) or THIS
        what = f"not every thing that {subject} may be has {name}: only {_listed(having)}"
        instead = f"say first which it is: {subject} is {next(iter(having))} and …"
        return ground.mistake(written, "fact-of-some-kinds", what, instead, length=len(spelt))
    types = {_said(fact, ground) for fact in having.values()}
    merged = types.pop() if len(types) == 1 else _merged(types)
    if merged is None:
        what = f"{name} means different things for {_listed(having)}"
        return ground.mistake(
            written, "fact-of-some-kinds", what, "say first which kind it is", length=len(spelt)
        )
    if isinstance(owner.type, Several):
        merged = Several(merged.of, merged.or_one) if isinstance(merged, Several) else Several(merged)
    elif isinstance(merged, OneThing):
        merged = OneThing(ground.left_for(written.steps, merged.kinds))
    return FactOf(owner, next(iter(having.values())), merged, written)


def _said(fact: Fact, ground: Ground) -> Type:
    said = type_of(fact, kinds_held(fact, ground.scope.vocabulary))
    return Several(said, or_one=True) if fact.one_or_each else said


def _merged(types: Iterable[Type]) -> Type | None:
    """One type for facts of several kinds that share a name, or nothing when they differ in more than
    their words.
    """
    words: list[frozenset[str]] = []
    kinds: list[frozenset[str]] = []
    shapes = set()
    for one in types:
        inner = one.of if isinstance(one, Several) else one
        shapes.add((isinstance(one, Several), isinstance(one, Several) and one.or_one, type(inner)))
        if isinstance(inner, OneWord | ManyWords):
            words.append(inner.words)
        elif isinstance(inner, OneThing):
            kinds.append(inner.kinds)
        else:
            return None
    if len(shapes) != 1:
        return None
    several, or_one, shape = shapes.pop()
    merged: Type
    if shape is OneThing:
        merged = OneThing(frozenset().union(*kinds))
    else:
        merged = (
            OneWord(frozenset().union(*words)) if shape is OneWord else ManyWords(frozenset().union(*words))
        )
    return Several(merged, or_one) if several else merged


def _kinds_of(owner: Meaning) -> frozenset[str]:
    kind = owner.type.of if isinstance(owner.type, Several) else owner.type
    assert isinstance(kind, OneThing)
    return kind.kinds


def _around(owner: Meaning, name: str, written: Path, ground: Ground) -> Meaning | None:
    vocabulary = ground.scope.vocabulary
    kinds = vocabulary.kinds_of(name)
    if not kinds:
        return None
    if not may_lie_in(_kinds_of(owner), kinds, vocabulary):
        what = f"{in_words(owner.type)} never lies in {with_article(name)}"
        instead = (
            _suggestion(name, own_names(ground)) or "name a thing that it lies in, such as line_set or house"
        )
        return ground.mistake(written, "never-within", what, instead, length=len(name))
    return Around(owner, name, OneThing(ground.left_for(written.steps, kinds)), written)


def _nothing_called(name: str, path: Path, ground: Ground) -> Meaning:
    scope = ground.scope
    near = nearest(
        name,
        sorted(own_names(ground) | scope.lets.keys() | scope.parameters.keys() | ground.variables.keys()),
    )
    near = near or nearest(
        name, sorted(scope.vocabulary.kinds.keys() | scope.vocabulary.classes.keys() | RESERVED)
    )
    if name == "none":
        instead = "write is none, or is not none"
    elif near is not None:
        instead = f"write {near}"
    else:
        instead = "name a fact of the thing, a thing that it lies in, a parameter or a value named under let"
    subject = in_words(OneThing(ground.own_kinds))
    return ground.mistake(
        path, "name-unknown", f"{subject} has no fact called {name}", instead, length=len(name)
    )


def _no_fact(owner: Meaning, kinds: frozenset[str], name: str, written: Path, ground: Ground) -> Meaning:
    facts = {fact for kind in kinds for fact in ground.scope.vocabulary.kinds[kind].facts}
    what = f"{in_words(OneThing(kinds))} has no fact called {name}"
    instead = _suggestion(name, facts)
    return ground.mistake(written, "name-unknown", what, instead, length=len(".".join(written.steps)))


def _suggestion(name: str, permitted: Iterable[str]) -> str:
    near = nearest(name, sorted(permitted))
    return f"write {near}" if near else ""


def _listed(kinds: Iterable[str]) -> str:
    names = list(kinds)
    shown = ", ".join(names[:4])
    return shown if len(names) <= 4 else f"{shown} and {len(names) - 4} more"


def runs_over_several(found: Meaning) -> bool:
    """Whether it is a fact of each of several things, and not one thing's fact."""
    return isinstance(found, FactOf) and isinstance(found.owner.type, Several)
