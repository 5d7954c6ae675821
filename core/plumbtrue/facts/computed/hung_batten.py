"""The batten of a set as a beam on its lines: what is known of it, gathered once for everything that is read
from it.

Weights of the lower ends hang in the lines below the point where their pull is taken, so they go straight
into each line's pull.
"""

from itertools import pairwise, product
from math import inf

from plumbtrue.facts.answer import Missing
from plumbtrue.facts.computed.pipe import bending_stiffness
from plumbtrue.facts.computed.places import batten_length, batten_of, from_zero, line_places, place
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Declined, Gathering, Lacking
from plumbtrue.facts.published_tables import assumed
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import FORCE
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Absent, Choice, Unknown, WordSet
from plumbtrue.rig.thing import Thing

_MOST_PLACES_IN_DOUBT = 6
"""Places known only within bounds, each taken at both its ends; more of them are refused."""


@unchanging
class Joint:
    """A joint in the pipe, where it is [m], and whether it is recorded as carrying moment."""

    splice: Thing
    at: Bounds
    carries: bool


@unchanging
class Layout:
    """One way in which the places may lie, all in metres from the zero end."""

    length: float
    lines: tuple[float, ...]
    joints: tuple[float, ...]


@unchanging
class HungBatten:
    """A batten on its lines. Weights [N], lengths [m]."""

    known: Gathering
    batten: Thing
    line_set: Thing
    lines: tuple[Thing, ...]
    places: tuple[Bounds, ...]
    length: Bounds
    spread: Bounds
    """Weight of pipe and raceway per length [N/m]."""
    ends: tuple[Bounds, ...]
    """Weight of each line's lower end."""
    joints: tuple[Joint, ...]
    joints_known: bool
    """Whether every joint of the pipe is written down."""
    stiffness: Bounds | None
    """EI [N m2]; nothing where it is not known. Pulls and moments on lines that do not stretch do not hang on
    it.
    """

    @property
    def figures(self) -> tuple[object, ...]:
        """Everything that its pulls and moments follow from: battens with the same figures answer alike."""
        joints = tuple((joint.at, joint.carries) for joint in self.joints)
        return (self.places, self.length, self.spread, self.ends, joints, self.joints_known, self.stiffness)

    @property
    def fixed_load(self) -> Bounds:
        """Pipe, raceway and lower ends [N]."""
        return self.spread * self.length + sum(self.ends, Bounds.exactly(0.0))

    def layouts(self) -> tuple[Layout, ...]:
        """Every corner of the places that are known only within bounds, and the middle of all."""
        n, joints = len(self.places), [joint.at for joint in self.joints]
        every = (self.length, *self.places, *joints)
        corners = list(product(*(sorted({bounds.low, bounds.high}) for bounds in every)))
        if len(corners) > 1:
            corners.append(tuple((bounds.low + bounds.high) / 2 for bounds in every))
        found = []
        for corner in corners:
            lines, at = corner[1 : n + 1], corner[n + 1 :]
            inside = all(0 <= one <= corner[0] * (1 + 1e-9) for one in (*lines, *at))
            if inside and all(a < b for a, b in pairwise(lines)):
                found.append(Layout(corner[0], lines, at))
        return tuple(found)

    @property
    def doubtful_joints(self) -> tuple[int, ...]:
        """Numbers of the joints that nobody records as carrying moment."""
        return tuple(number for number, joint in enumerate(self.joints) if not joint.carries)


def hung_batten(facts: Facts, line_set: Thing) -> HungBatten:
    """Gather a set's batten.

    Raises:
        Lacking: with everything without which no line's pull can be told.
        Declined: the batten is none that these computations cover.
    """
    known = Gathering(facts)
    batten = batten_of(known, line_set)
    length = batten_length(known, batten)
    if length.high == inf:
        known.lack(batten, "length", "known only from below")
    lines = line_places(known, batten)
    spread = known.figure(
        batten, "weight_per_length", "weight of the batten per length", within=NOUGHT_OR_MORE
    )
    known.settle()
    if not lines:
        raise Declined("no line holds this batten")
    spread = spread + _raceway(known, batten, line_set) / length
    ends = _ends(known, line_set, [line for line, _ in lines], spread * length)
    joints, whole = _joints(known, batten)
    places = tuple(at for _, at in lines)
    known.settle()
    if (
        sum(not one.is_exact for one in (length, *places, *(joint.at for joint in joints)))
        > _MOST_PLACES_IN_DOUBT
    ):
        raise Declined("too many places along the batten are known only within bounds")
    found = HungBatten(
        known=known,
        batten=batten,
        line_set=line_set,
        lines=tuple(line for line, _ in lines),
        places=places,
        length=length,
        spread=spread,
        ends=ends,
        joints=joints,
        joints_known=whole,
        stiffness=_stiffness(facts, batten),
    )
    if not found.layouts():
        raise Declined("the lines do not lie on the batten, or two of them hold it at one place")
    return found


def _stiffness(facts: Facts, batten: Thing) -> Bounds | None:
    known = Gathering(facts)
    try:
        found = bending_stiffness(known, batten)
        known.settle()
    except (Lacking, Declined):
        return None
    return found if found.low > 0 and found.high < inf else None


def _raceway(known: Gathering, batten: Thing, line_set: Thing) -> Bounds:
    """Weight of a raceway. A set that may be an electric and says nothing of one may carry one."""
    raceway = known.facts.part(batten, "raceway")
    if isinstance(raceway, Thing):
        weight = known.perhaps(raceway, "weight", "weight of the raceway")
        if isinstance(weight, Bounds):
            return weight
        return _assumed_raceway(known, batten, raceway, "weight")
    use = known.facts.answer(line_set, "use").value
    if isinstance(raceway, Absent) or not (isinstance(use, Choice) and "electric" in use.possible):
        return Bounds.exactly(0.0)
    return _assumed_raceway(known, batten, batten, "raceway")


def _assumed_raceway(known: Gathering, batten: Thing, thing: Thing, name: str) -> Bounds:
    found = assumed("raceway", "per_length")
    assert found is not None
    per_length, source = found
    return known.assume(thing, name, per_length * batten_length(known, batten), FORCE, source)


def _ends(known: Gathering, line_set: Thing, lines: list[Thing], pipe: Bounds) -> tuple[Bounds, ...]:
    """Weight of each lower end: as recorded; else an equal share of what a weighed fixed load leaves; else
    assumed.
    """
    recorded = [known.perhaps(line, "lower_weight", f"lower end of {line.key}") for line in lines]
    written = [one if isinstance(one, Bounds) else None for one in recorded]
    left_over: Bounds | None = None
    if None in written:
        fixed = known.perhaps(line_set, "fixed_load", "fixed load as weighed")
        if isinstance(fixed, Bounds):
            rest = fixed - pipe - sum((one for one in written if one is not None), Bounds.exactly(0.0))
            share = rest / Bounds.exactly(float(written.count(None)))
            left_over = Bounds(max(share.low, 0.0), max(share.high, 0.0))
            known.suppose("lower ends share equally what the weighed fixed load leaves beside the pipe")
    ends = []
    for line, one in zip(lines, written, strict=True):
        if one is not None:
            ends.append(one)
        elif left_over is not None:
            ends.append(left_over)
        else:
            range_found = assumed("lower-end", "weight")
            assert range_found is not None
            ends.append(known.assume(line, "lower_weight", range_found[0], FORCE, range_found[1]))
    return tuple(ends)


def _joints(known: Gathering, batten: Thing) -> tuple[tuple[Joint, ...], bool]:
    """The joints of the pipe, and whether they are all of them."""
    held = known.facts.part(batten, "splices")
    if isinstance(held, Absent):
        return (), True
    if isinstance(held, Unknown) or known.facts.is_unlisted(batten, "splices"):
        why = "not recorded" if isinstance(held, Unknown) else "not all of them identified"
        known.loose.append(Missing(batten, "splices", why))
        return (), False
    joints = []
    for splice in held if isinstance(held, tuple) else (held,):
        spot = place(known, splice)
        if spot is not None:
            joints.append(Joint(splice, from_zero(known, batten, spot), _carries(known, splice)))
    return tuple(joints), True


def _carries(known: Gathering, splice: Thing) -> bool:
    """Whether a joint is on record as carrying moment: a rated moment, and nothing that speaks against it."""
    capacity = known.perhaps(splice, "moment_capacity", f"rated moment of {splice.key}")
    droop = known.facts.answer(splice, "droop").value
    droops = isinstance(droop, Choice | WordSet)
    if isinstance(capacity, Bounds) and capacity.low > 0 and not droops:
        known.suppose("a joint with a rated moment bends like the pipe; play in its bolts is left out")
        return True
    if not isinstance(capacity, Bounds):
        known.loose.append(Missing(splice, "moment_capacity"))
    known.suppose("a joint without a rated moment lies between a hinge and unbroken pipe")
    return False
