"""What a rope lock is known to hold, by the last pull at the line with the lock shut.

A test that held says nothing of a harder pull, and one that crept nothing of a milder one: the answer is a
bound, never the figure of the test.
"""

from math import inf
from typing import Final

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import FORCE
from plumbtrue.rig.thing import Thing

_LESS: Final = 1 - 1e-6
"""A line that crept at a pull is held by less than that pull. Bounds include their ends, so the end lies just
below it, by more than two figures that count as the same.
"""


@computed("rope_lock", "pull_held")
def pull_held(known: Gathering, thing: Thing) -> Answer:
    """Pull in the hand line that a lock is known to hold [N]: at least the pull of a test that held, less
    than that of one at which the line crept or ran.
    """
    pull = known.figure(thing, "tested_at", "pull at the last test", within=NOUGHT_OR_MORE)
    crept = known.words(thing, "creep")
    known.settle()
    if crept == {"none"}:
        known.loose.append(Missing(thing, "tested_at", "only a harder pull tells more"))
        found, formula = Bounds(pull.low, inf), "at least the pull that it held"
    elif "none" not in crept:
        known.loose.append(Missing(thing, "tested_at", "only a milder pull tells more"))
        found, formula = Bounds(0.0, pull.high * _LESS), "less than the pull at which the line crept"
    else:
        known.lack(thing, "creep", "could be one or another")
        found, formula = NOUGHT_OR_MORE, "it may have held or crept"
    return known.within(found, "lock-holds", formula, FORCE, "pull at the hand line (common practice)")
