"""What no rule looked at: silence about a thing must never read like approval of it.

A kind of thing was looked at when a rule about it came to an outcome, or when a rule about something else
asked for one of its facts.
"""

from collections import defaultdict
from collections.abc import Iterable

from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.thing import Thing

_NATURES_JUDGED = ("identity", "condition", "record", "posted", "now", "show")
_SAID_NOTHING = (Result.NOT_APPLICABLE, Result.NOT_RUN)


@unchanging
class UnlookedKind:
    """A kind of thing in the rig that no rule looked at, and where such things are."""

    kind: str
    things: tuple[Thing, ...]


@unchanging
class UnreadFact:
    """A fact that somebody recorded of such things and that no rule read."""

    kind: str
    fact: str
    things: tuple[Thing, ...]


@unchanging
class Coverage:
    """What was not looked at, in order of names."""

    kinds: tuple[UnlookedKind, ...]
    facts: tuple[UnreadFact, ...]
    """Of kinds that were looked at; of the others nothing was read at all."""


class AskedFacts(Facts):
    """Facts that can tell afterwards which of them somebody asked for."""

    def asked(self) -> frozenset[tuple[str, str]]:
        """Kinds and facts that were asked for, by a rule or by the computation of another fact."""
        by_kind: defaultdict[str, set[str]] = defaultdict(set)
        for rows in (self._answers, self._exact):
            for thing, row in rows.items():
                by_kind[thing.kind.name].update(row)
        return frozenset((kind, name) for kind, names in by_kind.items() for name in names)


def coverage(
    things: Iterable[Thing], outcomes: Iterable[Outcome], asked: frozenset[tuple[str, str]]
) -> Coverage:
    """Compare what is in a rig with what was looked at.

    Args:
        asked: kinds and facts that some rule asked for.
    """
    judged = {outcome.thing.kind.name for outcome in outcomes if outcome.result not in _SAID_NOTHING}
    looked_at = judged | {kind for kind, _ in asked}
    unlooked: dict[str, list[Thing]] = {}
    unread: dict[tuple[str, str], list[Thing]] = {}
    for thing in things:
        kind = thing.kind.name
        if kind not in looked_at:
            unlooked.setdefault(kind, []).append(thing)
            continue
        for name in thing.facts:
            fact = thing.kind.facts[name]
            if (kind, name) not in asked and fact.nature in _NATURES_JUDGED and not fact.holds_things:
                unread.setdefault((kind, name), []).append(thing)
    return Coverage(
        tuple(UnlookedKind(kind, _in_order(unlooked[kind])) for kind in sorted(unlooked)),
        tuple(UnreadFact(kind, fact, _in_order(unread[kind, fact])) for kind, fact in sorted(unread)),
    )


def _in_order(things: list[Thing]) -> tuple[Thing, ...]:
    return tuple(sorted(things, key=lambda thing: natural_order(thing.path)))
