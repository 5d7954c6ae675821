"""How the rules of packs stood the test, as text: what came out wrong, which outcome has no example, which
alteration nobody noticed, and the example that would notice it.
"""

from collections.abc import Iterator, Sequence
from textwrap import wrap

from plumbtrue.documents.printable import printable
from plumbtrue.reporting.wording import counted
from plumbtrue.rules.examples.running import RuleTest, Survivor, WrongOutcome
from plumbtrue.rules.packs.pack import RuleBook

_WIDTH = 100


def pack_trial(tests: Sequence[RuleTest], book: RuleBook) -> str:
    """What there is to mend, rule by rule, then how many rules, examples and alterations there were."""
    lines: list[str] = []
    for test in tests:
        if not test.is_good:
            lines += [*_rule(test), ""]
    return "\n".join([*lines, *_count(tests, book), ""])


def _rule(test: RuleTest) -> Iterator[str]:
    yield f"{test.rule.slug}  {printable(str(test.rule.place))}"
    for problem in test.problems:
        yield from _entry(
            "cannot be read", f"line {problem.where.line}: {problem.what}; {problem.instead or 'mend it'}"
        )
    for wrong in test.wrong:
        yield from _entry("wrong", _wrong(wrong))
    if test.lacking:
        yield from _entry("lacking", f"no example for {', '.join(one.value for one in test.lacking)}")
    for survivor in test.survivors:
        yield from _entry("unnoticed", _survivor(survivor))
    for needless in test.needless:
        yield from _entry("needless", f"said to be kept, but an example notices it: {needless}")


def _wrong(wrong: WrongOutcome) -> str:
    told = wrong.found.message
    if wrong.found.missing:
        told += "; missing " + ", ".join(f"{one.fact} of {one.thing.path}" for one in wrong.found.missing)
    return f"line {wrong.place.line} says {wrong.expected.value}, came out {wrong.found.result.value}: {told}"


def _survivor(survivor: Survivor) -> str:
    return f"{survivor.what}; would be noticed by {survivor.wanted}"


def _entry(head: str, text: str) -> list[str]:
    indent = " " * 17
    return wrap(
        printable(text),
        _WIDTH,
        initial_indent=f"  {head:<15}",
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _count(tests: Sequence[RuleTest], book: RuleBook) -> Iterator[str]:
    bad = sum(not test.is_good for test in tests)
    rows = [
        ("rules", len(tests)),
        ("examples", sum(test.cases for test in tests)),
        ("alterations", sum(test.alterations for test in tests)),
        ("examples that came out wrong", sum(len(test.wrong) for test in tests)),
        ("examples that cannot be read", sum(len(test.problems) for test in tests)),
        ("outcomes without an example", sum(len(test.lacking) for test in tests)),
        ("alterations that no example noticed", sum(len(test.survivors) for test in tests)),
    ]
    wide = max(len(head) for head, _ in rows)
    for pack in book.packs:
        tried = [test for test in tests if test.rule.pack == pack.name]
        if tried:
            yield f"{printable(pack.name)}, edition {printable(pack.edition)}"
    yield from (f"  {head:<{wide}}  {figure:>5}" for head, figure in rows)
    has = "has" if bad == 1 else "have"
    yield (
        f"{bad} of {counted(len(tests), 'rule')} {has} something to mend."
        if bad
        else "Nothing to mend was found."
    )
