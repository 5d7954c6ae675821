"""The batten of a set under what a plot hangs, worked out once for all facts that are read from it."""

from math import inf
from typing import TYPE_CHECKING

from plumbtrue.facts.computed.hung_batten import HungBatten, hung_batten
from plumbtrue.facts.computed.hung_load import HungLoad, hung_load
from plumbtrue.facts.gathering import Gathering
from plumbtrue.facts.published_tables import customary
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.dimension import LENGTH
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.thing import Thing

if TYPE_CHECKING:
    from plumbtrue.facts.computed.hung_solving import HungResult


@unchanging
class ShownBatten:
    """A batten with what a plot hangs on it, and what it does under that."""

    known: Gathering
    hung: HungBatten
    load: HungLoad
    at: "HungResult"


def shown_batten(facts: Facts, line_set: Thing) -> ShownBatten:
    """The batten under what a plot hangs.

    Raises:
        Lacking: with everything that is missing, such as the weight of a piece.
        Declined: it tips, or is none that these computations cover.
    """
    load = facts.kept(line_set, hung_load)
    known = Gathering(facts)
    known.include(load.known)
    if any(pull.weight.high == inf for state in load.states for pull in state.pulls) and not known.lacking:
        known.lack(line_set, "items", "a weight on it has no bound")
    known.settle()
    hung = facts.kept(line_set, hung_batten)
    known.include(hung.known)
    if not hung.joints_known:
        known.lack(hung.batten, "splices")
        known.settle()
    tolerance, source = customary("trim-tolerance", "length")
    known.suppose("lines are level, plumb and do not stretch")
    known.suppose(f"out of level means by at most {known.said(tolerance, LENGTH)} at each line: {source}")
    # Imported here, for numpy takes its time to load and many questions need no batten solved.
    from plumbtrue.facts.computed.hung_solving import solve_hung

    found = solve_hung(
        hung,
        load.states,
        load.on_the_way,
        tolerance=tolerance.high,
        stiffness=hung.stiffness,
    )
    if found.searched:
        known.suppose("a line can go slack: moments and sags are the greatest found over the worst weights")
    return ShownBatten(known, hung, load, found)
