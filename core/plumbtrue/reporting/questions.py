"""What to find out: every fact that would settle something, once, with where to look and with what.

First come those that stand between a line set and any answer at all, the one for most such sets before the
others; then by the gravest rule that hangs on each, then by how much it settles.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from plumbtrue.audit.first_to_weigh import Share
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.audit.verdicts import line_set_of
from plumbtrue.quantities.dimension import FORCE
from plumbtrue.reporting.places_in_words import where
from plumbtrue.reporting.report import Doubt, Question
from plumbtrue.reporting.wording import SEVERITY_LABELS, counted, listed, marks
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Fact, Vocabulary
from plumbtrue.rules.severity import Severity

_OF_LOOKING = ("not recorded", "looked", "recorded", "in order", "hidden", "not all", "not seen", "seen")
_ASKING = (Result.UNDETERMINED, Result.ERROR)


@dataclass(slots=True, eq=False)
class _Gathered:
    """What asks for one fact of one kind of thing, while it is gathered."""

    fact: Fact
    word: str
    things: dict[Thing, None] = field(default_factory=dict)
    reasons: dict[str, None] = field(default_factory=dict)
    outcomes: dict[str, Outcome] = field(default_factory=dict)
    doubts: list[Doubt] = field(default_factory=list)


def questions(
    outcomes: Iterable[Outcome],
    vocabulary: Vocabulary,
    untold: frozenset[str],
    ranked: Iterable[tuple[Outcome, Sequence[Share]]] = (),
) -> tuple[Question, ...]:
    """The questions behind everything that could not be told and that nobody has accepted.

    Args:
        untold: keys of the line sets of which it cannot be told whether they may be used.
        ranked: verdicts that hang on figures known within bounds, with each fact's share of the doubt.
    """
    gathered: dict[tuple[str, str], _Gathered] = {}
    for outcome in outcomes:
        if outcome.result in _ASKING and outcome.counts:
            for missing in outcome.missing:
                fact = missing.thing.kind.facts.get(missing.fact)
                if fact is None:
                    continue
                key = (missing.thing.kind.name, missing.fact)
                one = gathered.setdefault(key, _Gathered(fact, missing.thing.kind.word.replace("-", " ")))
                one.things[missing.thing] = None
                one.reasons[missing.why] = None
                one.outcomes[outcome.key] = outcome
    for outcome, shares in ranked:
        _mark_first(outcome, shares, gathered)
    ordered = [one for _, one in sorted(gathered.items(), key=lambda item: _order(item[0], item[1]))]
    first = _opening(ordered, untold)
    ordered = [*first, *(one for one in ordered if one not in first)]
    return tuple(_question(number, one, vocabulary) for number, one in enumerate(ordered, start=1))


def _mark_first(
    outcome: Outcome, shares: Sequence[Share], gathered: Mapping[tuple[str, str], _Gathered]
) -> None:
    """Says of the fact that holds most of the doubt of a verdict that it does, and of which thing it is asked."""
    first = shares[0]
    asked = gathered.get((first.missing.thing.kind.name, first.missing.fact))
    if asked is None or not first.of_the_doubt:
        return
    thing, line_set = first.missing.thing, line_set_of(outcome.thing)
    of = where([thing], thing.line_set or thing.enclosing("plot")) if len(asked.things) > 1 else ""
    on = outcome.thing.path if line_set is None else f"set {line_set.key}"
    asked.doubts.append(Doubt("" if of == "the set" else of, outcome.rule, on, first.of_the_doubt))


def _opening(ordered: Sequence[_Gathered], untold: frozenset[str]) -> list[_Gathered]:
    """The fewest questions, one after another, that touch every line set that cannot be told: each time the
    one that touches most of those that are left, else the earlier in order.
    """
    chosen: list[_Gathered] = []
    left = set(untold)
    askable = [one for one in ordered if _can_be_looked_up(one)]
    while left:
        best = max(askable, key=lambda one: len(left & _urgent_sets(one)), default=None)
        if best is None or not left & _urgent_sets(best):
            break
        left -= _urgent_sets(best)
        chosen.append(best)
    return chosen


def _urgent_sets(one: _Gathered) -> set[str]:
    """Line sets on which an answer is as urgent as one that stops the use."""
    return {
        line_set.key
        for outcome in one.outcomes.values()
        if outcome.severity.rank <= Severity.BEFORE_NEXT_USE.rank
        and (line_set := line_set_of(outcome.thing)) is not None
    }


def _order(key: tuple[str, str], one: _Gathered) -> tuple[int, bool, int, tuple[str, str]]:
    return (_gravest(one).rank, not _can_be_looked_up(one), -len(one.outcomes), key)


def _gravest(one: _Gathered) -> Severity:
    return min((outcome.severity for outcome in one.outcomes.values()), key=lambda each: each.rank)


def _can_be_looked_up(one: _Gathered) -> bool:
    """A computed figure cannot be looked up: what it wants is named beside it, or cannot be had. Nor can a
    figure that nobody makes for such a part, where the reason is of the formula and not of anybody's looking.
    """
    return not one.fact.is_computed and any(reason.startswith(_OF_LOOKING) for reason in one.reasons)


def _question(number: int, one: _Gathered, vocabulary: Vocabulary) -> Question:
    fact = one.fact
    name = fact.name.replace("_", " ")
    gravest = _gravest(one)
    subject = f"{name} of the {one.word}" if one.word != "house" else f"{name} of the house"
    return Question(
        number=number,
        anchor=f"question-{fact.name.replace('_', '-')}-{one.word.replace(' ', '-')}",
        fact=fact.name,
        subject=subject[0].upper() + subject[1:],
        meaning=fact.meaning,
        kind=one.word,
        set_keys=tuple(dict.fromkeys(_set_key(thing) for thing in one.things)),
        where=tuple(_by_set(one.things)),
        reasons=tuple(sorted(one.reasons)),
        step=vocabulary.survey_steps.get(fact.step, "") if fact.step is not None else "",
        look=fact.look or "",
        tool=fact.tool or "",
        words=tuple((fact.words or {}).items()),
        settles=_settles(one, gravest),
        rules=tuple(sorted({outcome.rule for outcome in one.outcomes.values()})),
        severity=gravest,
        severity_label=SEVERITY_LABELS[gravest],
        outcomes=len(one.outcomes),
        can_be_looked_up=_can_be_looked_up(one),
        doubts=tuple(
            sorted(one.doubts, key=lambda doubt: (-doubt.share, doubt.rule, natural_order(doubt.on)))
        ),
        may_be_none=fact.may_be_none,
        is_weighed=fact.dimension == FORCE,
    )


def _set_key(thing: Thing) -> str:
    line_set = line_set_of(thing)
    return "house" if line_set is None else line_set.key


def _by_set(things: Iterable[Thing]) -> list[tuple[str, str]]:
    """Things by line set; sets where it is the same things are drawn together."""
    by_set: dict[Thing | None, list[Thing]] = {}
    for thing in things:
        by_set.setdefault(line_set_of(thing), []).append(thing)
    alike: dict[str, list[str]] = {}
    house: list[tuple[str, str]] = []
    for line_set, there in by_set.items():
        if line_set is None:
            house.append(("the house", where(there, None)))
        elif all(thing.line_set is line_set for thing in there):
            alike.setdefault(where(there, line_set), []).append(line_set.key)
        else:
            alike.setdefault(where(there, None), []).append(line_set.key)
    sets = [(_sets(sorted(keys, key=natural_order)), phrase) for phrase, keys in alike.items()]
    return [*sorted(sets, key=lambda pair: natural_order(pair[0].partition(" ")[2])), *house]


def _sets(keys: Sequence[str]) -> str:
    return f"{'set' if len(keys) == 1 else 'sets'} {marks(keys)}"


def _settles(one: _Gathered, gravest: Severity) -> str:
    outcomes = one.outcomes.values()
    sets = {line_set.key for outcome in outcomes if (line_set := line_set_of(outcome.thing)) is not None}
    on = f" on {counted(len(sets), 'set')}" if sets else ""
    grave = sum(outcome.severity is gravest for outcome in outcomes)
    urgent = SEVERITY_LABELS[gravest].lower()
    others = len(one.outcomes) - grave
    more = f", and {others} milder" if others else ""
    rules = listed(sorted({outcome.rule for outcome in outcomes}))
    return f"{counted(grave, 'answer')} as urgent as “{urgent}”{more}{on}: {rules}"
