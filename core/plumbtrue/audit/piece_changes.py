"""Whether each piece of a show hangs as asked, before and now, by the verdicts on pieces of both audits."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Final

from plumbtrue.audit.item_verdicts import ItemState, ItemVerdict
from plumbtrue.audit.matching import Matching
from plumbtrue.audit.verdicts import State
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.severity import Severity


@dataclass(frozen=True, slots=True)
class PieceChange:
    """A piece that stands otherwise than before, or that was changed and does not hang as asked still."""

    old: Thing | None
    """Nothing for a new piece."""
    new: Thing | None
    """Nothing for one that is cut."""
    before: ItemState | None
    after: ItemState | None
    reasons: tuple[str, ...]
    """Why it stands as it does now."""

    @property
    def thing(self) -> Thing:
        thing = self.new or self.old
        assert thing is not None, "a piece is one of one revision at least"
        return thing

    @property
    def is_worse(self) -> bool:
        """Whether it hangs less well than before; a new piece is held against one that hangs as asked."""
        before = ItemState.AS_ASKED if self.before is None else self.before
        return self.after is not None and self.after.rank < before.rank

    @property
    def severity(self) -> Severity:
        """What its state asks for."""
        return _ASKED.get(self.after, Severity.ADVISORY) if self.after is not None else Severity.ADVISORY


_ASKED: Final = {
    ItemState.DOES_NOT_HANG: Severity.OUT_OF_SERVICE,
    ItemState.WITH_CHANGES: Severity.BEFORE_NEXT_USE,
    ItemState.CANNOT_BE_TOLD: Severity.BEFORE_NEXT_USE,
}


def piece_changes(
    old: Iterable[ItemVerdict],
    new: Iterable[ItemVerdict],
    matching: Matching,
    touched: Collection[Thing],
) -> tuple[PieceChange, ...]:
    """Pieces that stand otherwise than before, those that stand worst first.

    Args:
        touched: pieces about which something was changed: told too where they do not hang as asked still.
    """
    was = {matching.new_of.get(one.item, one.item): one for one in old}
    found: list[PieceChange] = []
    for verdict in new:
        before = was.pop(verdict.item, None)
        same = before is not None and before.state is verdict.state
        if same and (verdict.state is ItemState.AS_ASKED or verdict.item not in touched):
            continue
        found.append(
            PieceChange(
                None if before is None else before.item,
                verdict.item,
                None if before is None else before.state,
                verdict.state,
                _reasons(verdict),
            )
        )
    found += [PieceChange(one.item, None, one.state, None, ()) for one in was.values()]
    return tuple(sorted(found, key=_order))


def _order(one: PieceChange) -> tuple[object, ...]:
    last = len(ItemState)
    return (not one.is_worse, one.after.rank if one.after else last, natural_order(one.thing.key))


def _reasons(verdict: ItemVerdict) -> tuple[str, ...]:
    """What makes the state, the gravest first; what asks for nothing more is left out."""
    told = list(verdict.own_reasons)
    for outcomes, wanted in (
        (verdict.stopped_by, ItemState.DOES_NOT_HANG),
        (verdict.changes, ItemState.WITH_CHANGES),
        (verdict.open_ones, ItemState.CANNOT_BE_TOLD),
    ):
        if verdict.state.rank <= wanted.rank:
            told += [one.rule for one in outcomes]
    of_set = verdict.set_verdict
    if of_set is not None and verdict.carrier is not None and of_set.state is not State.NOTHING_FOUND:
        told.append(f"set {verdict.carrier.key} by itself: {of_set.state.value}")
    if verdict.state in (ItemState.CANNOT_BE_TOLD, ItemState.WITH_CHANGES):
        told += [f"{one.fact.replace('_', ' ')}: {one.why}" for one in verdict.unsettled]
    return tuple(dict.fromkeys(told))
