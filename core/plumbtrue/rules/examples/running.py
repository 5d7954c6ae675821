"""Packs put to the test: every rule judges its own examples, and then each altered rule must judge one of
them otherwise.

A rule that cannot fire looks like a rule that passes, and a limit that was mistyped by ten looks like any
other. So a rule needs an example for every outcome, and no small alteration of it may go unnoticed. What
survives is told with the example that would notice it.
"""

from collections.abc import Sequence

from plumbtrue.documents.place import Place, Problem
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rules.examples.altered_rules import AlteredRule, altered_rules
from plumbtrue.rules.examples.cases import Case, read_cases
from plumbtrue.rules.judging import Judgement, carefully
from plumbtrue.rules.language.careful import Careful
from plumbtrue.rules.packs.pack import RuleBook
from plumbtrue.rules.packs.understanding import Surroundings
from plumbtrue.rules.result import Result
from plumbtrue.rules.rule import Rule


@unchanging
class WrongOutcome:
    """An example that did not come out as it says."""

    place: Place
    expected: Result
    found: Judgement


@unchanging
class Survivor:
    """An alteration that no example noticed, and the example that would."""

    what: str
    wanted: str


@unchanging
class RuleTest:
    """How one rule did."""

    rule: Rule
    cases: int
    alterations: int
    problems: tuple[Problem, ...]
    """Examples that cannot be put together."""
    wrong: tuple[WrongOutcome, ...]
    lacking: tuple[Result, ...]
    """Outcomes for which the rule has no example and needs one."""
    survivors: tuple[Survivor, ...]
    needless: tuple[str, ...]
    """Alterations that the rule says are to be kept, and that some example notices, or that are none."""

    @property
    def is_good(self) -> bool:
        return not (self.problems or self.wrong or self.lacking or self.survivors or self.needless)


def try_pack(book: RuleBook, pack: str | None = None, *, only: Sequence[str] = ()) -> tuple[RuleTest, ...]:
    """Put the rules of every pack of a book to the test, or those of one, in order of their names.

    Each rule is tried as its own pack has it: its examples say nothing of what later layers make of it.

    Args:
        only: texts, one of which a rule's name or file has in it; without any, every rule is tried.
    """
    around = Surroundings(book.vocabulary, book.tables)
    rules = [
        rule
        for one in book.packs
        if pack in (None, one.name)
        for rule in one.rules
        if not only or any(text in rule.slug or text in rule.place.file for text in only)
    ]
    return tuple(try_rule(rule, around) for rule in sorted(rules, key=lambda rule: rule.slug))


def try_rule(rule: Rule, around: Surroundings) -> RuleTest:
    """Put one rule to the test."""
    problems: list[Problem] = []
    cases = read_cases(rule, around.vocabulary, problems)
    facts = [case.facts() for case in cases]
    judged = [carefully(rule, Careful(known, case.thing)) for case, known in zip(cases, facts, strict=True)]
    altered = list(altered_rules(rule, around))
    usual = [judgement.result for judgement in judged]
    unnoticed = [one for one in altered if not _is_noticed(one, cases, facts, usual)]
    kept = dict(rule.alterations_kept)
    return RuleTest(
        rule=rule,
        cases=len(cases),
        alterations=len(altered),
        problems=tuple(problems),
        wrong=tuple(
            WrongOutcome(case.place, case.expected, judgement)
            for case, judgement in zip(cases, judged, strict=True)
            if judgement.result is not case.expected
        ),
        lacking=_lacking(rule, cases),
        survivors=tuple(Survivor(one.what, one.wanted) for one in unnoticed if one.what not in kept),
        needless=tuple(sorted(kept.keys() - {one.what for one in unnoticed})),
    )


def _is_noticed(
    altered: AlteredRule, cases: Sequence[Case], facts: Sequence[Facts], usual: Sequence[Result]
) -> bool:
    """Whether some example comes out otherwise under an altered rule."""
    return any(
        carefully(altered.rule, Careful(known, case.thing)).result is not result
        for case, known, result in zip(cases, facts, usual, strict=True)
    )


def _lacking(rule: Rule, cases: Sequence[Case]) -> tuple[Result, ...]:
    """Outcomes that need an example: met, finding and undetermined; not applicable where the rule has a
    condition.
    """
    needed = [Result.FINDING, Result.UNDETERMINED, Result.MET]
    if rule.understood.applies is not None:
        needed.append(Result.NOT_APPLICABLE)
    shown = {case.expected for case in cases}
    return tuple(result for result in needed if result not in shown)
