"""What to put on a scale first: of the facts that keep a figure or a verdict open, how much of the doubt each of
them holds.

Each fact is tried exactly known by itself, in the middle of what it may be, and what that takes off the width
of the figure is its share: for figures that are straight sums it is what the fact adds to the spread, `|c|
(high - low)`, as worked out by hand. Of a verdict the figure is the margin between both sides of every
comparison that stays open. A fact of which nothing is known at all has no share: without it there is no
figure.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import islice
from math import inf, isinf
from typing import Final

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.facts.answer import Answer, Input, Missing, Working
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import FORCE
from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Each, Spot, Unknown
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.judging import workings
from plumbtrue.rules.language.careful import Careful
from plumbtrue.rules.language.environment import RuleError
from plumbtrue.rules.language.meaning import Over
from plumbtrue.rules.language.results import Evaluated
from plumbtrue.rules.rule import Rule

_MOST_TRIED: Final = 24
"""Facts tried for one figure; of a figure that hangs on more of them the others have no share told."""
_EXACT: Final = 1e-9
"""A weight that is tried is given within bounds as narrow as this."""
_AT_LEAST: Final = 0.005
"""A smaller share is none to speak of."""
_MOST_LOOKED_AT: Final = 60
"""Open verdicts of one report that are looked at for it, the gravest first."""
_MOST_RANKED: Final = 12
"""Open verdicts of one report whose doubt is ranked, the gravest first: each trial works a figure out anew."""

Widths = tuple[float, ...]


@unchanging
class Share:
    """A fact, and what part of the doubt goes when it is known exactly; nothing where that cannot be told."""

    missing: Missing
    of_the_doubt: float | None

    @property
    def as_missing(self) -> Missing:
        """The same with its share in its reason, for print."""
        share = self.of_the_doubt
        if share is None or share < _AT_LEAST:
            return self.missing
        why = f"{self.missing.why}; {share:.0%} of the doubt"
        return Missing(self.missing.thing, self.missing.fact, why)


def of_fact(facts: Facts, thing: Thing, name: str) -> tuple[Share, ...]:
    """The facts that would narrow a figure, the one that holds most of its doubt first."""
    answer = facts.answer(thing, name)
    widths = _width(answer.value)
    if not widths:
        return tuple(Share(one, None) for one in answer.missing)

    def spread(trial: Facts) -> Widths:
        return _width(trial.answer(thing, name).value)

    return _ranked(spread, widths, answer.missing, facts, _workings(answer))


def of_outcome(
    outcome: Outcome, audit: Audit, facts: Facts | None = None, *, only_whole: bool = False
) -> tuple[Share, ...]:
    """The facts that would settle an open verdict, the one that holds most of its doubt first; as they are
    named in the outcome where the doubt is not about figures.

    Args:
        facts: those of the audit's rig and day, where several verdicts are asked about.
        only_whole: give nothing, and try nothing, where the share of any of the facts could not be told.
    """
    rule = audit.rulebook.rule(outcome.rule)
    unranked = tuple(Share(one, None) for one in outcome.missing)
    if rule is None or outcome.result is not Result.UNDETERMINED or len(outcome.missing) < 2:
        return unranked
    facts = facts or Facts(audit.rig, audit.on, audit.further)
    open_ones = _open(rule, outcome.thing, facts)
    if not open_ones:
        return unranked
    before = {key: margin for key, (margin, _) in open_ones.items()}
    answers = [answer for _, claim in open_ones.values() for answer in _answers(claim)]

    def spread(trial: Facts) -> Widths:
        now = _margins(rule, outcome.thing, trial)
        return tuple(now.get(key, margin) for key, margin in before.items())

    workings_there = [one for answer in answers for one in _workings(answer)]
    return _ranked(
        spread, tuple(before.values()), outcome.missing, facts, workings_there, only_whole=only_whole
    )


def ranked_doubts(audit: Audit, facts: Facts) -> Iterator[tuple[Outcome, tuple[Share, ...]]]:
    """Open verdicts that hang on several figures, all of them known within bounds, each with the shares of its
    doubt: what a report says of what to put on a scale first. Where a fact is not known at all, that one comes
    first, and no share says so. The gravest verdicts first, twelve at most; none on the house or the show as a
    whole, for each trial would work out all of it anew.
    """
    candidates = [one for one in audit.told if one.counts and _hangs_on_figures(one)]
    candidates.sort(key=lambda one: one.severity.rank)
    doubtful = (one for one in candidates[:_MOST_LOOKED_AT] if _is_within_bounds(one, audit, facts))
    for outcome in islice(doubtful, _MOST_RANKED):
        shares = of_outcome(outcome, audit, facts, only_whole=True)
        if shares:
            yield outcome, shares


def _is_within_bounds(outcome: Outcome, audit: Audit, facts: Facts) -> bool:
    """Whether every comparison of a verdict that stays open has figures with bounds on both sides."""
    rule = audit.rulebook.rule(outcome.rule)
    margins = [] if rule is None else [margin for margin, _ in _open(rule, outcome.thing, facts).values()]
    return bool(margins) and not any(map(isinf, margins))


def _hangs_on_figures(outcome: Outcome) -> bool:
    """Whether an open verdict lacks several figures that somebody can measure, and nothing else."""
    facts = [one.thing.kind.facts.get(one.fact) for one in outcome.missing]
    return (
        outcome.result is Result.UNDETERMINED
        and outcome.thing.kind.name not in ("plot", "house")
        and len(facts) > 1
        and all(fact is not None and fact.dimension is not None and not fact.is_computed for fact in facts)
    )


def _width(value: object) -> Widths:
    return (value.high - value.low,) if isinstance(value, Bounds) and not value.is_exact else ()


def _ranked(
    spread: Callable[[Facts], Widths],
    before: Widths,
    missing: Iterable[Missing],
    facts: Facts,
    known: Iterable[Working],
    *,
    only_whole: bool = False,
) -> tuple[Share, ...]:
    assumed = {one.label: one.value for working in known for one in working.inputs}
    exact = {
        one: _as_exact(one, facts, assumed) if number < _MOST_TRIED else None
        for number, one in enumerate(missing)
    }
    if only_whole and None in exact.values():
        return ()
    shares = []
    for one, tried in exact.items():
        share = None
        if tried is not None:
            trial = Facts(facts.rig, facts.on, facts.further)
            trial.hand_in(one.thing, one.fact, Answer(tried))
            share = _taken_off(before, spread(trial))
        shares.append(Share(one, share))
    # Without a fact that nobody knows there is no figure, so it goes before all that merely narrow one.
    order = {id(share): number for number, share in enumerate(shares)}
    return tuple(
        sorted(
            shares, key=lambda one: (-inf if one.of_the_doubt is None else -one.of_the_doubt, order[id(one)])
        )
    )


def _taken_off(before: Widths, after: Widths) -> float:
    """Mean share of the widths that goes; from no bound to some bound all of it goes."""
    gone = []
    for was, now in zip(before, after or (0.0,) * len(before), strict=True):
        if isinf(was):
            gone.append(0.0 if isinf(now) else 1.0)
        else:
            gone.append(min(max(1 - now / was, 0.0), 1.0) if was > 0 else 0.0)
    return sum(gone) / len(gone)


def _as_exact(missing: Missing, facts: Facts, assumed: Mapping[str, object]) -> Bounds | None:
    """The fact in the middle of what it may be; nothing where it is no figure, or nobody knows anything of it."""
    fact = missing.thing.kind.facts.get(missing.fact)
    if fact is None or fact.dimension is None or fact.is_computed:
        return None
    value = facts.value(missing.thing, missing.fact)
    if (
        isinstance(value, Unknown)
        and missing.fact == "weight"
        and "stated_weight" in missing.thing.kind.facts
    ):
        # A piece of which only the parts are written can be put on a scale all the same.
        value_there: object = facts.value(missing.thing, "stated_weight")
    elif isinstance(value, Unknown):
        value_there = assumed.get(f"{missing.fact.replace('_', ' ')} of {missing.thing.path}, assumed")
    else:
        value_there = value
    if isinstance(value_there, Spot | Each) or not isinstance(value_there, Bounds):
        return None
    if isinf(value_there.low) or isinf(value_there.high):
        return None
    middle = (value_there.low + value_there.high) / 2
    if fact.dimension == FORCE:
        # A weight without bounds would get the allowance of its piece again.
        return Bounds(middle * (1 - _EXACT), middle * (1 + _EXACT)) if middle > 0 else None
    return Bounds.exactly(middle)


def _open(rule: Rule, thing: Thing, facts: Facts) -> dict[int, tuple[float, Evaluated]]:
    """Comparisons of figures that stay open: by the place of the claim, the width of its margin, and itself."""
    try:
        found = workings(rule.understood, Careful(facts, thing))
    except RuleError:
        return {}
    top = found.requires if found.requires is not None else found.applies
    claims: Iterable[Evaluated] = () if top is None else _claims(top)
    return {
        id(claim.meaning): (_margin(claim), claim)
        for claim in claims
        if claim.value is Truth.CANNOT_TELL and _margin(claim) > 0
    }


def _margins(rule: Rule, thing: Thing, facts: Facts) -> dict[int, float]:
    try:
        found = workings(rule.understood, Careful(facts, thing))
    except RuleError:
        return {}
    top = found.requires if found.requires is not None else found.applies
    return {} if top is None else {id(claim.meaning): _margin(claim) for claim in _claims(top)}


def _claims(top: Evaluated) -> Iterator[Evaluated]:
    if isinstance(top.meaning, Over) and len(top.parts) == 2:
        yield top
    for part in top.parts:
        yield from _claims(part)


def _margin(claim: Evaluated) -> float:
    """Width of the difference of both sides; nought where they are no figures."""
    sides = [part.value for part in claim.parts]
    if not all(isinstance(side, Bounds | Unknown) for side in sides):
        return 0.0
    return sum(side.high - side.low if isinstance(side, Bounds) else inf for side in sides)


def _answers(top: Evaluated) -> Iterator[Answer]:
    if top.answer is not None:
        yield top.answer
    for part in top.parts:
        yield from _answers(part)


def _workings(answer: Answer) -> list[Working]:
    """The working of an answer and of all that it was worked out from, each once."""
    found: dict[int, Working] = {}
    waiting = [] if answer.working is None else [answer.working]
    while waiting:
        one = waiting.pop()
        if id(one) not in found:
            found[id(one)] = one
            waiting.extend(_below(one.inputs))
    return list(found.values())


def _below(inputs: Iterable[Input]) -> Iterator[Working]:
    return (one.working for one in inputs if one.working is not None)
