"""Which rules are about a show, and what the house's own outcomes tell them.

A rule is about a show when it judges things of a plot, or asks for anything that a plot, or the audit of the
house, decides. All others judge the house by itself, first; what they come to for a set is handed to the
rules of the show as facts of that set.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.audit.verdicts import Verdict, line_set_of
from plumbtrue.facts.answer import Answer, Missing, Working
from plumbtrue.facts.gathering import unique
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import NONE, Choice, Name, Value
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Fact, Vocabulary
from plumbtrue.rules.judging import parts_of
from plumbtrue.rules.language.meaning import FactOf, LetValue, Meaning
from plumbtrue.rules.rule import Rule, Understood
from plumbtrue.rules.severity import Severity

OF_THE_AUDIT: Final = frozenset({"set_verdict", "stopped", "work_before_use", "verdict_reasons"})
"""Facts of a set that the audit of the house tells."""

OF_ALL_OTHERS: Final = frozenset({"open_questions"})
"""Facts of a plot that all other rules tell; what asks for one is judged last."""

_SOURCE: Final = "the rules of the house, judged first"


def divided(rules: Iterable[Rule], vocabulary: Vocabulary) -> tuple[tuple[Rule, ...], tuple[Rule, ...]]:
    """The rules of the house, and those of a show."""
    of_plot = kinds_of_a_plot(vocabulary)
    of_house: list[Rule] = []
    of_show: list[Rule] = []
    for rule in rules:
        (of_show if is_of_show(rule, of_plot) else of_house).append(rule)
    return tuple(of_house), tuple(of_show)


def kinds_of_a_plot(vocabulary: Vocabulary) -> frozenset[str]:
    """Kinds of things that are found in a plot and nowhere else, and classes of them: the plot, and what sits
    in nothing but those.
    """
    found = {"plot"}
    while True:
        more = {
            kind.name
            for kind in vocabulary.kinds.values()
            if kind.sits_in and {where.split(".")[0] for where in kind.sits_in} <= found
        }
        if more <= found:
            classes = {
                one.name for one in vocabulary.classes.values() if one.members and one.members <= found
            }
            return frozenset(found | classes)
        found |= more


def is_of_show(rule: Rule, of_plot: frozenset[str]) -> bool:
    """Whether a rule judges things of a plot, or asks for what only a plot or the audit of the house tells."""
    if rule.kinds <= of_plot:
        return True
    return any(
        fact.of_plot or fact.name in OF_THE_AUDIT or fact.declared_in in of_plot
        for fact in facts_of(rule.understood)
    )


def told_last(rules: Iterable[Rule]) -> tuple[tuple[Rule, ...], tuple[Rule, ...]]:
    """Rules of a show that can be judged at once, and those that ask what all others left open."""
    at_once: list[Rule] = []
    last: list[Rule] = []
    for rule in rules:
        asks_for_others = any(one.name in OF_ALL_OTHERS for one in facts_of(rule.understood))
        (last if asks_for_others else at_once).append(rule)
    return tuple(at_once), tuple(last)


def facts_of(understood: Understood) -> Iterator[Fact]:
    """Every fact that a rule asks for, of whatever thing."""
    claims = (
        [understood.requires] if understood.applies is None else [understood.applies, understood.requires]
    )
    waiting: list[Meaning] = list(claims)
    while waiting:
        meaning = waiting.pop()
        if isinstance(meaning, FactOf):
            yield meaning.fact
        if isinstance(meaning, LetValue):
            waiting.append(meaning.body)
        waiting.extend(parts_of(meaning))


def hand_in_verdicts(
    facts: Facts, line_sets: Sequence[Thing], outcomes: Sequence[Outcome], verdicts: Mapping[str, Verdict]
) -> None:
    """Tell what the house's own outcomes come to, as facts of each set."""
    for line_set, name, answer in told_of_sets(line_sets, outcomes, verdicts):
        facts.hand_in(line_set, name, answer)


def told_of_sets(
    line_sets: Sequence[Thing], outcomes: Sequence[Outcome], verdicts: Mapping[str, Verdict]
) -> tuple[tuple[Thing, str, Answer], ...]:
    """What the house's own outcomes come to: set, fact and answer."""
    found: list[tuple[Thing, str, Answer]] = []
    by_set: dict[Thing, list[Outcome]] = {line_set: [] for line_set in line_sets}
    for outcome in outcomes:
        if outcome.counts and (line_set := line_set_of(outcome.thing)) in by_set:
            by_set[line_set].append(outcome)
    for line_set, asking in by_set.items():
        verdict = verdicts[line_set.key]
        told = {
            "set_verdict": _answer(Choice(frozenset({verdict.state.value})), asking),
            "stopped": _yes_or_no(asking, Severity.OUT_OF_SERVICE, surely=verdict.tagged_out),
            "work_before_use": _yes_or_no(asking, Severity.BEFORE_NEXT_USE),
            "verdict_reasons": _answer(_reasons(asking, tagged=verdict.tagged_out), asking),
        }
        found += [(line_set, name, answer) for name, answer in told.items()]
    return tuple(found)


def hand_in_questions(facts: Facts, plot: Thing, asking: Iterable[Outcome]) -> None:
    """Tell how many facts have to be found out before everything urgent about a show can be told.

    One that nobody can name a fact for counts as one.
    """
    open_ones = [
        one for one in asking if one.counts and one.result is Result.UNDETERMINED and one.severity.is_urgent
    ]
    unnamed = sum(1 for one in open_ones if not one.missing)
    missing = unique(one for outcome in open_ones for one in outcome.missing)
    count = len({(one.thing, one.fact) for one in missing}) + unnamed
    facts.hand_in(plot, "open_questions", _answer(Bounds.exactly(float(count)), open_ones))


def _yes_or_no(asking: Sequence[Outcome], severity: Severity, *, surely: bool = False) -> Answer:
    """Whether anything of a severity was found; either, with what would settle it, where something of it
    cannot be told.
    """
    mine = [one for one in asking if one.severity is severity]
    if surely or any(one.result is Result.FINDING for one in mine):
        return _answer(Choice(frozenset({"yes"})), mine)
    open_ones = [one for one in mine if one.result is not Result.FINDING]
    if not open_ones:
        return _answer(Choice(frozenset({"no"})), mine)
    missing = unique(one for outcome in open_ones for one in outcome.missing)
    return _answer(Choice(frozenset({"yes", "no"})), mine, missing)


def _reasons(asking: Sequence[Outcome], *, tagged: bool) -> Value:
    """What was found, the gravest first. What cannot be told is no reason: nobody found it."""
    found = [one for one in asking if one.severity.is_urgent and one.result is Result.FINDING]
    found.sort(key=lambda one: (one.severity.rank, one.rule, one.thing.path))
    names = dict.fromkeys(one.rule for one in found)
    words = [*(["tagged out"] if tagged else []), *names]
    return Name(", ".join(words)) if words else NONE


def _answer(value: Value, outcomes: Sequence[Outcome], missing: tuple[Missing, ...] = ()) -> Answer:
    steps = tuple((one.rule, f"{one.thing.path}: {one.result.value}") for one in outcomes)
    working = Working("set-verdict", "gravest of the outcomes on it", (), steps, value, None, _SOURCE)
    return Answer(value, missing, working=working)
