"""Which pieces of a show a change concerns: what is written of the piece itself, of its cues, and of the truss,
hoists, bridles and points on which it hangs.
"""

from collections.abc import Iterable, Mapping

from plumbtrue.audit.matching import Matching
from plumbtrue.audit.rig_changes import RigChange
from plumbtrue.audit.show import is_of_plot, pieces_of
from plumbtrue.facts.store import Facts
from plumbtrue.rig.thing import Thing


def changed_pieces(
    changes: Iterable[RigChange], matching: Matching, old: Facts, new: Facts
) -> Mapping[Thing, tuple[RigChange, ...]]:
    """The changes that concern each piece, by the piece of the new revision, or of the old one if it is cut."""
    found: dict[Thing, dict[int, RigChange]] = {}
    for change in changes:
        for thing, facts in ((change.new, new), (change.old, old)):
            plot = facts.rig.plot
            if thing is None or plot is None or not is_of_plot(thing) or thing is plot:
                continue
            for piece in pieces_of(facts, plot, thing):
                now = piece if facts is new else matching.new_of.get(piece, piece)
                found.setdefault(now, {})[id(change)] = change
    return {piece: tuple(its.values()) for piece, its in found.items()}
