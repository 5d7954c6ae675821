"""What was changed in a plot since somebody accepted an earlier revision of it, piece by piece.

A piece is changed when anything that says how it hangs, moves or pulls is another: its own facts, those of what is
in it, of its cues and steps, and of the truss, hoists and bridles that carry it. Names, notes, days and papers are
no change, nor is a weight that hardly differs.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

from plumbtrue.audit.matching import Matching, match_plots
from plumbtrue.audit.rig_changes import Deed, RigChange, one_by_one, rig_changes
from plumbtrue.audit.show import pieces_of
from plumbtrue.facts.answer import Answer, Working
from plumbtrue.facts.published_tables import customary
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds, exceeds
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import NONE, Name, Value
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.thing import Thing

OF_A_COMPARISON: Final = frozenset({"items_changed", "items_new", "items_cut", "changes_since_accepted"})
"""Facts of a plot that the revision accepted before tells."""

_DEEDS: Final = frozenset({Deed.ADDED, Deed.REMOVED, Deed.MOVED, Deed.CHANGED, Deed.REORDERED, Deed.REPLACED})
_SAY_NOTHING: Final = frozenset(
    {"text", "name", "date", "list of text", "list of name", "reference to paper"}
)
_PAPERS: Final = frozenset(
    {"weight_basis", "includes", "altered_since_weighed", "owner", "rehearsed", "flame_paper_until"}
)
"""Facts that say how something is known, or whose it is, and not how it hangs."""
_PAPER_KINDS: Final = frozenset({"acceptance", "drawn_set", "balance_sheet"})
_CALLED: Final = {"on": "where it hangs", "loads": "picks", "at": "places"}
_WHOLE_KINDS: Final = {
    "load": "picks",
    "extent": "extent",
    "unit": "lamps",
    "cable": "cables",
    "cable_feed": "cable feed",
    "step": "steps of load-in",
}
"""Kinds of which nobody has to be told which of their figures is another."""
_SOURCE: Final = "both revisions, thing by thing"


@unchanging
class SinceAccepted:
    """What is other than in the revision that was accepted."""

    changed: tuple[tuple[str, tuple[str, ...]], ...]
    """Pieces by their key, as people count them, each with what is another."""
    new: tuple[str, ...]
    cut: tuple[str, ...]

    def in_words(self) -> str:
        """One line: `03 (weight, picks); 04 (where it hangs); new: 27, 28; cut: 26`."""
        parts = ["; ".join(f"{key} ({', '.join(what)})" for key, what in self.changed)]
        parts += [f"new: {', '.join(self.new)}"] if self.new else []
        parts += [f"cut: {', '.join(self.cut)}"] if self.cut else []
        return "; ".join(part for part in parts if part)


def since_accepted(rig: Rig, facts: Facts) -> SinceAccepted | None:
    """What was changed since the revision that was accepted; nothing where there is none beside this one."""
    if rig.plot is None or rig.accepted is None:
        return None
    matching = match_plots(rig.house, rig.accepted, rig.plot)
    changes = [one for one in one_by_one(rig_changes(matching)) if _says_how_it_hangs(one)]
    new: list[Thing] = []
    cut: list[Thing] = []
    by_piece: dict[Thing, list[RigChange]] = {}
    for one in changes:
        if one.thing.kind.name == "item" and one.deed is Deed.ADDED:
            new.append(one.thing)
        elif one.thing.kind.name == "item" and one.deed is Deed.REMOVED:
            cut.append(one.thing)
        else:
            for piece in _pieces(one, facts, rig, matching):
                by_piece.setdefault(piece, []).append(one)
    before = Facts(replace(rig, plot=rig.accepted, accepted=None), facts.on)
    changed = [
        (_key(piece), tuple(dict.fromkeys(map(_word, its))))
        for piece, its in by_piece.items()
        if piece not in new and not _is_light(piece, its, before, facts, matching)
    ]
    return SinceAccepted(
        changed=tuple(sorted(changed, key=lambda one: natural_order(one[0]))),
        new=tuple(sorted(map(_key, new), key=natural_order)),
        cut=tuple(sorted(map(_key, cut), key=natural_order)),
    )


def hand_in_changes(facts: Facts, rig: Rig) -> None:
    """Tell what was changed since the revision that was accepted, as facts of the plot."""
    found = since_accepted(rig, facts)
    if found is None or rig.plot is None:
        return
    told: dict[str, Value] = {
        "items_changed": Bounds.exactly(float(len(found.changed))),
        "items_new": Bounds.exactly(float(len(found.new))),
        "items_cut": Bounds.exactly(float(len(found.cut))),
        "changes_since_accepted": Name(found.in_words()) if found.in_words() else NONE,
    }
    for name, value in told.items():
        working = Working("revisions-compared", "piece by piece", (), (), value, None, _SOURCE)
        facts.hand_in(rig.plot, name, Answer(value, (), working=working))


def _says_how_it_hangs(change: RigChange) -> bool:
    if change.deed not in _DEEDS or change.thing.kind.name in _PAPER_KINDS:
        return False
    declared = change.declared
    if declared is None or change.deed is Deed.MOVED:
        return change.thing.kind.name != "plot"
    return declared.type not in _SAY_NOTHING and declared.name not in _PAPERS


def _pieces(change: RigChange, facts: Facts, rig: Rig, matching: Matching) -> Iterator[Thing]:
    """The pieces of this revision that a change is about."""
    assert rig.plot is not None
    assert rig.accepted is not None
    if change.new is not None:
        yield from pieces_of(facts, rig.plot, change.new)
    elif change.old is not None:
        was = pieces_of(facts, rig.accepted, change.old)
        yield from (matching.new_of[one] for one in was if one in matching.new_of)


def _is_light(
    piece: Thing, changes: Iterable[RigChange], before: Facts, now: Facts, matching: Matching
) -> bool:
    """Whether nothing but its weight is another, and that hardly."""
    if any(one.fact not in ("weight", "batten_change") for one in changes):
        return False
    was = before.value(matching.old_of[piece], "stated_weight")
    its = now.value(piece, "stated_weight")
    if not isinstance(was, Bounds) or not isinstance(its, Bounds):
        return False
    shift = max(abs(its.high - was.high), abs(its.low - was.low))
    share, _ = customary("changed-weight-share")
    much, _ = customary("changed-weight", "force")
    light, _ = customary("light-change", "force")
    limit = max(light.low, min(share.low * was.high, much.low))
    return not exceeds(shift, limit)


def _word(change: RigChange) -> str:
    """What was changed, in a word or two."""
    thing = change.thing
    called = _CALLED.get(change.fact, change.fact.replace("_", " "))
    if thing.kind.name == "item":
        return called
    return _WHOLE_KINDS.get(thing.kind.name) or f"{thing.kind.word.replace('-', ' ')} {called}".strip()


def _key(item: Thing) -> str:
    return item.key.removeprefix("item ")
