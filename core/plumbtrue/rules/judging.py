"""One rule on one thing: the fast way first, the careful way for whatever is not exactly known, and for
every finding.

A rule that finds something, cannot tell or fails says so by the careful way alone, which keeps the working.
Where it cannot be told whether the rule applies, the outcome is undetermined, and only what decides that is
asked for.
"""

from collections.abc import Iterator, Mapping
from dataclasses import fields, replace
from functools import cached_property
from typing import Final, get_args

from plumbtrue.facts.answer import Missing
from plumbtrue.facts.store import Facts, NotExact
from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Value
from plumbtrue.quantities.writing import System
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.language.careful import Careful
from plumbtrue.rules.language.environment import RuleError
from plumbtrue.rules.language.fast import Fast, compile_fast
from plumbtrue.rules.language.meaning import Drawn, FactOf, LetValue, Meaning, TheOne, Variable
from plumbtrue.rules.language.printing import printed
from plumbtrue.rules.language.results import Evaluated
from plumbtrue.rules.language.texts import fill
from plumbtrue.rules.result import Result
from plumbtrue.rules.rule import Rule, Understood

_MEANINGS: Final = frozenset(get_args(Meaning))
_VALUES: Final = get_args(Value)
_FIELDS: Final[dict[type[object], tuple[str, ...]]] = {
    form: tuple(field.name for field in fields(form)) for form in (*_MEANINGS, Drawn)
}
"""Names of the fields of each form of meaning."""


@unchanging
class Judgement:
    """What a rule says about a thing, and why."""

    result: Result
    message: str
    """Of a finding what was found; else the reason."""
    remedy: str = ""
    """Of a finding what to do about it."""
    missing: tuple[Missing, ...] = ()
    """What would settle it."""
    values: tuple[tuple[str, Value], ...] = ()
    """Facts and named values that the rule looked at, as the rule writes them."""


@unchanging
class Workings:
    """How a judgement came about: whether the rule applies, and whether what it asks holds."""

    applies: Evaluated | None
    """Nothing where the rule applies to everything that it is about."""
    requires: Evaluated | None
    """Nothing where it was not asked, since the rule does not apply or nobody can tell."""


_DOES_NOT_APPLY: Final = Judgement(Result.NOT_APPLICABLE, "the rule does not apply")


class Judge:
    """A rule made ready to judge many things."""

    def __init__(self, rule: Rule, system: System = "us") -> None:
        self.rule = rule
        self.system = system
        self._met = Judgement(Result.MET, rule.title)
        applies = rule.understood.applies
        self._applies: Fast | None = None if applies is None else compile_fast(applies)

    @cached_property
    def _requires(self) -> Fast:
        """Made when the rule applies to the first thing: in most houses many rules apply to nothing."""
        return compile_fast(self.rule.understood.requires)

    @cached_property
    def _spoken_of(self) -> dict[str, Meaning]:
        """Found when the first thing asks for something: most rules of a sound house find nothing."""
        return spoken_of(self.rule.understood)

    def on(self, thing: Thing, facts: Facts) -> Judgement:
        """What the rule says about a thing, with the values that it looked at unless it simply holds."""
        try:
            if self._applies is not None and not self._applies(facts, thing):
                return _DOES_NOT_APPLY
            if self._requires(facts, thing):
                return self._met
        except NotExact:
            pass
        careful = Careful(facts, thing)
        judgement = carefully(self.rule, careful, self.system)
        if judgement.result in (Result.MET, Result.NOT_APPLICABLE):
            return judgement
        return replace(judgement, values=_values(self._spoken_of, careful))


def carefully(rule: Rule, careful: Careful, system: System = "us") -> Judgement:
    """What the rule says about a thing, by the careful way alone."""
    understood = rule.understood
    try:
        found = workings(understood, careful)
    except RuleError as error:
        return Judgement(Result.ERROR, f"the rule itself failed: {error.what}")
    if found.requires is None:
        assert found.applies is not None, "a rule without a condition always applies"
        if found.applies.truth is Truth.FAILS:
            return _DOES_NOT_APPLY
        message = "it cannot be told whether the rule applies"
        return Judgement(Result.UNDETERMINED, message, missing=found.applies.missing)
    match found.requires.truth:
        case Truth.HOLDS:
            return Judgement(Result.MET, rule.title)
        case Truth.CANNOT_TELL:
            message = "it cannot be told whether this holds"
            return Judgement(Result.UNDETERMINED, message, missing=found.requires.missing)
        case Truth.FAILS:
            return _found(understood, careful, system)


def _found(understood: Understood, careful: Careful, system: System) -> Judgement:
    """What was found: of the rule's own demand in its words, of what a later pack added in those of that pack."""
    findings: list[str] = []
    remedies: list[str] = []
    if not understood.added or _fails(understood.own, careful):
        findings.append(fill(understood.finding, careful, system))
        remedies.append(fill(understood.remedy, careful, system))
    for one in understood.added:
        if not _fails(one.meaning, careful):
            continue
        if one.finding is None:
            findings.append(f"{one.pack} asks as well that {one.text}, and that does not hold.")
        else:
            findings.append(f"{fill(one.finding, careful, system)} Asked as well by {one.pack}.")
        if one.remedy is None:
            remedies.append(f"Meet what {one.pack} asks as well: {one.text}.")
        else:
            remedies.append(fill(one.remedy, careful, system))
    return Judgement(Result.FINDING, " ".join(findings), " ".join(remedies))


def _fails(demand: Meaning, careful: Careful) -> bool:
    try:
        return careful.found(demand).truth is Truth.FAILS
    except RuleError:
        return False  # Another demand settled it; this one has no answer.


def workings(understood: Understood, careful: Careful) -> Workings:
    """How a rule judges a thing, with every step.

    Raises:
        RuleError: the rule itself fails on it.
    """
    applies = None
    if understood.applies is not None:
        applies = careful.found(understood.applies)
        if applies.truth is not Truth.HOLDS:
            return Workings(applies, None)
    return Workings(applies, careful.found(understood.requires))


def spoken_of(understood: Understood) -> dict[str, Meaning]:
    """Facts and named values that a rule names, other than of members of a list, by what it calls them."""
    claims = (
        (understood.requires,) if understood.applies is None else (understood.applies, understood.requires)
    )
    found = {printed(meaning.written): meaning for claim in claims for meaning in _named(claim)}
    return dict(sorted(found.items()))


def _values(named: Mapping[str, Meaning], careful: Careful) -> tuple[tuple[str, Value], ...]:
    """What is known of the facts and named values that a rule speaks of, for acceptances and comparisons."""
    found: list[tuple[str, Value]] = []
    for name, meaning in named.items():
        try:
            value = careful.found(meaning).value
        except RuleError:
            continue
        if isinstance(value, _VALUES):
            found.append((name, value))
    return tuple(found)


def _named(meaning: Meaning) -> Iterator[Meaning]:
    if isinstance(meaning, FactOf | LetValue | TheOne) and not has_variable(meaning):
        yield meaning
        if isinstance(meaning, LetValue):
            yield from _named(meaning.body)
        return
    for part in parts_of(meaning):
        yield from _named(part)


def has_variable(meaning: Meaning, bound: frozenset[str] = frozenset()) -> bool:
    """Whether a meaning depends on a member of a list that stands in hand around it."""
    if isinstance(meaning, Variable):
        return meaning.name not in bound
    drawn = getattr(meaning, "drawn", None)
    if isinstance(drawn, Drawn):
        bound |= {drawn.variable}
    return any(has_variable(part, bound) for part in parts_of(meaning))


def parts_of(meaning: Meaning | Drawn) -> Iterator[Meaning]:
    """What stands directly in a meaning, whatever its form: the fields of our own nodes."""
    for name in _FIELDS[type(meaning)]:
        held = getattr(meaning, name)
        if type(held) in _MEANINGS:
            yield held
        elif isinstance(held, Drawn):
            yield from parts_of(held)
        elif isinstance(held, tuple):
            parts = (part[-1] if isinstance(part, tuple) and part else part for part in held)
            yield from (part for part in parts if type(part) in _MEANINGS)
