"""What adjustments do to the examples of the rules that they change, and whether that is what they say they
do.

No example that was a finding may be none under a layer that only tightens, and none may become a finding
under one that only relaxes.
"""

from plumbtrue.documents.place import Place
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rules.examples.cases import read_cases
from plumbtrue.rules.judging import carefully
from plumbtrue.rules.language.careful import Careful
from plumbtrue.rules.packs.pack import Change, RuleBook
from plumbtrue.rules.result import Result
from plumbtrue.rules.rule import Rule


@unchanging
class Effect:
    """An example that comes out otherwise under the layers over its rule."""

    place: Place
    before: Result
    after: Result


@unchanging
class AdjustmentTest:
    """What the layers over one rule do to its examples."""

    rule: str
    changes: tuple[Change, ...]
    effects: tuple[Effect, ...]
    against: tuple[Effect, ...]
    """Effects that go against what the adjustments say: a finding lost by tightening, or made by relaxing."""


def try_adjustments(book: RuleBook) -> tuple[AdjustmentTest, ...]:
    """Put every rule that a later layer changed to the test, in order of names."""
    own = {rule.slug: rule for pack in book.packs for rule in pack.rules}
    return tuple(
        _try(own[rule.slug], rule, changes, book)
        for rule in book.rules
        if (changes := tuple(one for one in book.changes if one.rule == rule.slug and one.in_force))
        and rule.retired is None
    )


def _try(before: Rule, after: Rule, changes: tuple[Change, ...], book: RuleBook) -> AdjustmentTest:
    effects = []
    for case in read_cases(before, book.vocabulary, []):
        facts = case.facts()
        was, is_now = (carefully(rule, Careful(facts, case.thing)).result for rule in (before, after))
        if was is not is_now:
            effects.append(Effect(case.place, was, is_now))
    ways = {change.way for change in changes}
    lost = ways == {"tighten"}
    made = ways == {"relax"}
    against = [
        effect
        for effect in effects
        if (lost and effect.before is Result.FINDING) or (made and effect.after is Result.FINDING)
    ]
    return AdjustmentTest(before.slug, changes, tuple(effects), tuple(against))
