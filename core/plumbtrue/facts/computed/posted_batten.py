"""The batten of a set under what the house has posted, worked out once for all facts that are read from
it.
"""

from collections.abc import Sequence

from plumbtrue.facts.computed.batten_at_load import AtLine, BattenAtLoad, Greatest
from plumbtrue.facts.computed.hung_batten import HungBatten, hung_batten
from plumbtrue.facts.computed.load_cases import LoadCase, posted_cases
from plumbtrue.facts.gathering import Gathering
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import FORCE, LENGTH, MOMENT
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.thing import Thing

SOURCE = "slender beam on lines that only pull (derived: any textbook of structures)"
FORMULA = (
    "M(k-1) l1 + 2 M(k) (l1 + l2) + M(k+1) l2 = -6 A1 a1/l1 - 6 A2 b2/l2 at every line k (three moments)"
)


@unchanging
class LoadedBatten:
    """A batten, what was gathered about it and its loads, and what it does under them."""

    known: Gathering
    hung: HungBatten
    at: BattenAtLoad

    def of_line(self, line: Thing) -> Greatest | None:
        """Greatest pull of a line; nothing for one that does not hold the batten."""
        return next(
            (one for one, own in zip(self.at.pulls, self.hung.lines, strict=True) if own is line), None
        )

    def end_of(self, line: Thing) -> Bounds:
        """Weight of the line's lower end [N]."""
        return next(end for end, own in zip(self.hung.ends, self.hung.lines, strict=True) if own is line)


def posted_batten(facts: Facts, line_set: Thing) -> LoadedBatten:
    """The batten at what the house has posted.

    Raises:
        Lacking: with everything that is missing.
        Declined: it does not hang, or is none that these computations cover.
    """
    hung = facts.kept(line_set, hung_batten)
    known = Gathering(facts)
    known.include(hung.known)
    cases = posted_cases(known, hung)
    return _loaded(known, hung, cases)


def bare_batten(facts: Facts, line_set: Thing) -> LoadedBatten:
    """The bare batten on its lines; raises as `posted_batten`."""
    hung = facts.kept(line_set, hung_batten)
    known = Gathering(facts)
    known.include(hung.known)
    return _loaded(known, hung, (LoadCase("bare batten", "spread", Bounds.exactly(0.0)),))


def say_lines(known: Gathering, lines: Sequence[Thing], state: Sequence[AtLine]) -> None:
    """Note pull and moment at every line in one state: pulls follow from the moments by statics."""
    for line, there in zip(lines, state, strict=False):
        tension, moment = Bounds.exactly(there.tension), Bounds.exactly(there.moment)
        place = known.worded("{} at {}", line.key, (Bounds.exactly(there.at), LENGTH))
        told = known.worded("pulls {}, moment of the pipe there {}", (tension, FORCE), (moment, MOMENT))
        known.steps.append((place, told))


def _loaded(known: Gathering, hung: HungBatten, cases: tuple[LoadCase, ...]) -> LoadedBatten:
    # Imported here, for numpy takes its time to load and many questions need no batten solved.
    from plumbtrue.facts.computed.batten_solving import at_load

    known.suppose("lines are level, plumb and do not stretch")
    if not hung.joints_known:
        known.suppose("where the pipe is joined is not known, so only statics bounds the answer")
    found = known.facts.shared(("at-load", hung.figures, cases), lambda: at_load(hung, cases))
    return LoadedBatten(known, hung, found)
