"""Blocks: sheave against rope, angle of the rope, pull on the mount, and what a beam carries of them."""

from collections.abc import Callable, Sequence
from math import inf, pi
from typing import Final

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.places import over_head_block
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.facts.published_tables import assumed, table
from plumbtrue.mechanics.bend_efficiency import bend_efficiency as efficiency_over_bend
from plumbtrue.mechanics.blocks import combined, mule_block_pull, overturning, pull_on_mount, underhung_clips
from plumbtrue.mechanics.fleet_angle import fleet_angle as angle_off_groove
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.sheave_ratio import groove_ratio as groove_over_rope
from plumbtrue.mechanics.sheave_ratio import tread_ratio
from plumbtrue.quantities.bounds import Bounds, greatest_of, hull_of
from plumbtrue.quantities.dimension import ANGLE, FORCE, RATIO
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import NONE, Absent, Unknown
from plumbtrue.rig.thing import Thing

_STATICS = "vector sum of the pulls (derived)"


def _thickest(known: Gathering, thing: Thing) -> Bounds:
    """Diameter of the thickest rope over a block [m]."""
    ropes = known.things(thing, "ropes")
    if not ropes:
        known.lack(thing, "ropes")
    diameters = [
        known.figure(rope, "diameter", f"diameter of {rope.path}", within=NOUGHT_OR_MORE) for rope in ropes
    ]
    known.settle()
    return greatest_of(diameters)


@computed("block", "ratio_to_rope")
def ratio_to_rope(known: Gathering, thing: Thing) -> Answer:
    """Tread diameter over the diameter of the thickest rope over it."""
    tread = known.figure(thing, "tread_diameter", within=NOUGHT_OR_MORE)
    rope = _thickest(known, thing)
    if rope.low <= 0:
        known.decline("a rope without a diameter")
    return known.answer(
        over_bounds(tread_ratio, tread, rope),
        "sheave-ratio",
        "D / d, on the tread",
        RATIO,
        "quotient of two recorded diameters",
    )


@computed("block", "groove_ratio")
def groove_ratio(known: Gathering, thing: Thing) -> Answer:
    """Groove radius over the diameter of the thickest rope in it."""
    radius = known.figure(thing, "groove_radius", within=NOUGHT_OR_MORE)
    rope = _thickest(known, thing)
    if rope.low <= 0:
        known.decline("a rope without a diameter")
    found = over_bounds(groove_over_rope, radius, rope)
    return known.answer(found, "groove-ratio", "groove radius / d", RATIO, "quotient of recorded figures")


@computed("block", "bend_efficiency")
def bend_efficiency(known: Gathering, thing: Thing) -> Answer:
    """Share of strength that a wire rope keeps over the block: the lesser of table and closed form."""
    ratio = known.figure(thing, "ratio_to_rope", within=NOUGHT_OR_MORE)
    for rope in known.things(thing, "ropes"):
        if known.word(rope, "family") not in ("wire", ""):
            known.decline("the table of bends is for wire rope")
    known.settle()
    rows = table("bend-efficiency").rows
    curve = [(_figure(row.figure("ratio")), _figure(row.figure("efficiency"))) for row in rows]
    shares = []
    for one in (ratio.low, min(ratio.high, curve[-1][0] * 1e3)):
        if one <= 0:
            known.decline("a block without a tread")
        found = efficiency_over_bend(one, 1.0, curve)
        if isinstance(found, Refused):
            known.decline(f"{found.reason}; the table asks {found.limit}")
        shares.append(found.used)
    known.suppose("static strength only; wear and fatigue on a small sheave are another matter")
    formula = "the lesser of the table and 1 - 0.5 / sqrt(D/d)"
    return known.answer(
        Bounds(min(shares), max(shares)), "bend-efficiency", formula, RATIO, rows[0].authority
    )


def _figure(bounds: Bounds | None) -> float:
    assert bounds is not None
    return bounds.low


@computed("block", "fleet_angle")
def fleet_angle(known: Gathering, thing: Thing) -> Answer:
    """Angle of the rope off the sheave's plane."""
    offset = abs(_either_way(known.figure(thing, "fleet_offset")))
    run = known.figure(thing, "fleet_run", within=NOUGHT_OR_MORE)
    known.settle()
    if run.low <= 0:
        known.decline("a run without length")
    angle = over_bounds(angle_off_groove, offset, run)
    return known.answer(angle, "fleet-angle", "atan(offset / run)", ANGLE, "plane trigonometry")


def _either_way(offset: Bounds) -> Bounds:
    """An offset of which only "at most" is known, to either side."""
    return Bounds(-offset.high, offset.high) if offset.low == -inf and offset.high >= 0 else offset


@unchanging
class LoadedWith:
    """What a set is loaded with: the facts that tell a line's pull, what hangs in all, and the pull of a part
    or block that follows.
    """

    reaction: str
    live: str
    pull: str
    resultant: str


POSTED: Final = LoadedWith("reaction", "posted_load", "pull", "resultant")
HUNG: Final = LoadedWith("reaction_hung", "live_load", "pull_hung", "resultant_hung")


def line_pull_at_block(known: Gathering, line: Thing, case: LoadedWith = POSTED) -> Bounds:
    """Pull of a line where it meets its block [N]: its greatest pull above the batten, and the rope hanging
    between.
    """
    pull = known.figure(line, case.reaction, f"pull of {line.key}", within=NOUGHT_OR_MORE)
    return pull + rope_below(known, line)


def rope_below(known: Gathering, line: Thing) -> Bounds:
    """Weight of the rope between block and batten with the batten at its lowest [N]; assumed where that is
    not recorded.
    """
    rope = known.facts.part(line, "rope")
    block = next(iter(_own_blocks(known, line)), None)
    weight, groove, low = (
        known.facts.value(owner, name) if isinstance(owner, Thing) else None
        for owner, name in (
            (rope, "weight_per_length"),
            (block, "groove_height"),
            (line.line_set, "low_trim"),
        )
    )
    if isinstance(weight, Bounds) and isinstance(groove, Bounds) and isinstance(low, Bounds):
        assert isinstance(rope, Thing)
        known.value(rope, "weight_per_length")
        drop = groove - low
        hanging = weight * Bounds(max(drop.low, 0.0), max(drop.high, 0.0))
        return known.step(f"rope below the block of {line.key}, batten at its lowest", hanging, FORCE)
    found = assumed("rope-below-block", "weight")
    assert found is not None
    known.given("rope between block and batten, assumed", found[0], FORCE, found[1])
    known.suppose(f"rope between block and batten: {known.said(found[0], FORCE)} ({found[1]})")
    if not isinstance(weight, Bounds):
        known.loose.append(Missing(rope if isinstance(rope, Thing) else line, "weight_per_length"))
    elif isinstance(block, Thing) and not isinstance(groove, Bounds):
        known.loose.append(Missing(block, "groove_height"))
    elif line.line_set is not None and not isinstance(low, Bounds):
        known.loose.append(Missing(line.line_set, "low_trim"))
    return found[0]


def _own_blocks(known: Gathering, line: Thing) -> tuple[Thing, ...]:
    held = known.facts.part(line, "blocks")
    return held if isinstance(held, tuple) else ()


def _wrap(known: Gathering, thing: Thing) -> Bounds:
    return known.figure(thing, "wrap_angle", within=Bounds(0.0, 2 * pi))


def hand_line_tension(known: Gathering, line_set: Thing) -> Bounds:
    """Pull in each part of the hand line at rest [N]; assumed where nobody measured it."""
    measured = known.perhaps(line_set, "hand_line_tension", "pull in each part of the hand line")
    if isinstance(measured, Bounds):
        return measured
    if isinstance(known.facts.part(line_set, "hand_line"), Absent):
        return Bounds.exactly(0.0)
    found = assumed("hand-line-preload", "weight")
    assert found is not None
    return known.assume(line_set, "hand_line_tension", found[0], FORCE, found[1])


def all_pulls(known: Gathering, line_set: Thing, case: LoadedWith = POSTED) -> Bounds:
    """Sum of the pulls of all lines that run over the head block [N].

    Each line's greatest pull comes with its own load, so their sum is more than ever hangs at once; what
    hangs in all is the lesser.
    """
    lines = over_head_block(known.facts, known.things(line_set, "lift_lines"))
    pulls = [line_pull_at_block(known, line, case) for line in lines]
    known.settle()
    total = sum(pulls, Bounds.exactly(0.0))
    live, fixed = (known.facts.value(line_set, name) for name in (case.live, "fixed_load_computed"))
    if isinstance(live, Bounds) and isinstance(fixed, Bounds):
        known.value(line_set, case.live)
        known.value(line_set, "fixed_load_computed")
        ropes = sum((rope_below(Gathering(known.facts), line) for line in lines), Bounds.exactly(0.0))
        most = live + fixed + ropes
        known.step("sum of the greatest pulls of all lines", total, FORCE)
        known.step("all that ever hangs at once", most, FORCE)
        return Bounds(min(total.low, most.low), min(total.high, most.high))
    return total


def block_forces(known: Gathering, thing: Thing, case: LoadedWith = POSTED) -> tuple[Bounds, Bounds]:
    """Pull of a block on its mount, along and across its standing part [N].

    A line comes in plumb and leaves at the wrap angle: along it `T (1 - cos w)`, across it `T sin w`. A head
    block has all lines of the set, and both parts of the hand line straight down; the sheaves at a
    double-purchase arbor have all lines; a tension block has the hand line, which lifts it. A mule block
    turns its line level.
    """
    wrap = _wrap(known, thing)
    tension, hand = _pull_over(known, thing, case)
    known.settle()
    mounted = _level_pull if thing.kind.name == "mule_block" else pull_on_mount
    # Neither part rises or falls throughout with the wrap, so its turning points are looked at as well.
    at = [Bounds.exactly(w) for w in _corners(wrap, (pi / 2, pi, 3 * pi / 2))]
    along, across = (
        [over_bounds(lambda T, w, i=i: mounted(T, w)[i], tension, w) for w in at] for i in (0, 1)
    )
    return hull_of(along) + hand * Bounds.exactly(2.0), hull_of(across)


def _level_pull(tension: float, wrap: float) -> tuple[float, float]:
    """A mule block lies flat: nothing along the plumb, everything across it [N]."""
    return 0.0, mule_block_pull(tension, wrap)


def _pull_over(known: Gathering, thing: Thing, case: LoadedWith) -> tuple[Bounds, Bounds]:
    """Tension of what turns over a block, and of the hand line where it passes over it as well [N]."""
    line_set = thing.line_set
    nothing = Bounds.exactly(0.0)
    if line_set is not None and thing.parent is line_set:
        if thing.kind.name == "tension_block":
            return hand_line_tension(known, line_set), nothing
        hand = hand_line_tension(known, line_set) if thing.kind.name == "head_block" else nothing
        return all_pulls(known, line_set, case), hand
    line = thing.enclosing("lift_line")
    if line is None:
        known.decline("the block belongs to no line and no set, so what pulls on it is not known")
    return line_pull_at_block(known, line, case), nothing


def _corners(bounds: Bounds, turning: Sequence[float]) -> list[float]:
    """The ends of an angle's range and the turning points of a sine inside it."""
    return [bounds.low, bounds.high, *(one for one in turning if bounds.low < one < bounds.high)]


@computed("block", "resultant")
def resultant(known: Gathering, thing: Thing) -> Answer:
    """Pull of the block on its mount at what is posted."""
    return _resultant(known, thing, POSTED)


@computed("block", "resultant_hung")
def resultant_hung(known: Gathering, thing: Thing) -> Answer:
    """Pull of the block on its mount with what the plot hangs."""
    return _resultant(known, thing, HUNG)


def _resultant(known: Gathering, thing: Thing, case: LoadedWith) -> Answer:
    down, side = block_forces(known, thing, case)
    known.step("along the part that stands plumb, T (1 - cos w)", down, FORCE)
    known.step("across it, T sin w", side, FORCE)
    # Both come from one tension, so the larger of the one goes with the larger of the other.
    force = Bounds(combined(down.low, side.low), combined(down.high, side.high))
    known.suppose("equal pull on both sides; friction at the sheave is left out")
    formula = "2 T sin(w/2); for a head block the vector sum of all lines and both parts of the hand line"
    return known.answer(force, "block-load", formula, FORCE, _STATICS)


@computed("block", "clip_uplift")
def clip_uplift(known: Gathering, thing: Thing) -> Answer:
    """Uplift at the clips behind a block that stands on the steel."""
    mount = known.word(thing, "mount")
    if mount not in ("upright", ""):
        return known.within(
            NONE, "block-overturn", "only a block that stands on the steel can be pulled over", None
        )
    uplift = _at_base(known, thing, lambda V, H, h, a, b: overturning(V, H, h, b, a).uplift)
    formula = "(H h - V a) / (a + b), at least 0"
    return known.answer(uplift, "block-overturn", formula, FORCE, "moments about the front edge (derived)")


def _at_base(
    known: Gathering, block: Thing, force: Callable[[float, float, float, float, float], float]
) -> Bounds:
    """A force at the base of a block from its pull down and sideways, the height of its axle, and the base ahead and
    behind [N].
    """
    height = known.figure(block, "axle_height", within=NOUGHT_OR_MORE)
    ahead = known.figure(block, "base_ahead", within=NOUGHT_OR_MORE)
    behind = known.figure(block, "base_behind", within=NOUGHT_OR_MORE)
    down, side = block_forces(known, block)
    known.settle()
    if ahead.low + behind.low <= 0:
        known.decline("a base without length")
    known.step("V, down", down, FORCE)
    known.step("H, sideways", side, FORCE)
    # Both pulls come from one tension, so they are taken at the same end.
    return hull_of(
        over_bounds(lambda h, a, b, V=V, H=H: force(V, H, h, a, b), height, ahead, behind)
        for V, H in ((down.low, side.low), (down.high, side.high))
    )


@computed("block", "clip_pull")
def clip_pull(known: Gathering, thing: Thing) -> Answer:
    """Pull in the clips away from the head block of a block that hangs from the steel; none for any other."""
    mount = known.word(thing, "mount")
    if mount not in ("underhung", ""):
        return known.within(
            NONE, "block-underhung", "only a block hung below the steel hangs in its clips", None
        )
    rear = _at_base(known, thing, lambda V, H, h, a, b: underhung_clips(V, H, h, a + b).rear)
    formula = "V / 2 + H h / (a + b)"
    return known.answer(rear, "block-underhung", formula, FORCE, "moments about the front clips (derived)")


@computed("dead_end", "reaction")
def dead_end_reaction(known: Gathering, thing: Thing) -> Answer:
    """Pull at a fixed end: that of the line, of all the lines, or of the hand line that ends there."""
    line_set = known.around(thing, "line_set")
    of = known.word(thing, "of").lower()
    known.settle()
    if "hand" in of:
        tension = hand_line_tension(known, line_set)
        return known.answer(tension, "dead-end", "pull in a part of the hand line", FORCE, _STATICS)
    lines = known.things(line_set, "lift_lines")
    known.settle()
    named = _named_lines(of, [line.key.removeprefix("line ") for line in lines])
    held = [line for line in lines if line.key.removeprefix("line ") in named]
    if not held:
        known.lack(thing, "of", "it names no line of this set")
        known.settle()
    pulls = [line_pull_at_block(known, line) for line in held]
    known.settle()
    if len(held) == len(lines) > 1:
        total = all_pulls(known, line_set)
    else:
        total = sum(pulls, Bounds.exactly(0.0))
    known.suppose("a fixing that is named for several lines carries them together")
    return known.answer(total, "dead-end", "sum of the pulls of the lines that end there", FORCE, _STATICS)


def _named_lines(text: str, marks: Sequence[str]) -> set[str]:
    """Marks that a text such as `lines 1 to 5`, `2, 3` or `line 4` names."""
    words = text.replace("lines", " ").replace("line", " ").replace(",", " ").replace("and", " ").split()
    named: set[str] = set()
    for number, word in enumerate(words):
        if word in ("to", "-") and 0 < number < len(words) - 1:
            first, last = words[number - 1], words[number + 1]
            if first in marks and last in marks:
                named.update(marks[marks.index(first) : marks.index(last) + 1])
        elif word in ("all", "each", "every"):
            named.update(marks)
        elif word in marks:
            named.add(word)
    return named


@computed("beam", "load_on_beam")
def load_on_beam(known: Gathering, thing: Thing) -> Answer:
    """Downward pull of all blocks on a beam at what is posted, each set full at once, and of what else hangs
    on it.
    """
    down, _ = _on_beam(known, thing)
    total = down
    others = known.facts.part(thing, "other_loads")
    if isinstance(others, Unknown):
        known.lack(thing, "other_loads")
    if known.facts.is_unlisted(thing, "other_loads"):
        known.lack(thing, "other_loads", "not all of them identified")
    for other in others if isinstance(others, tuple) else ():
        total = total + known.figure(other, "weight", f"{other.key} on {thing.path}", within=NOUGHT_OR_MORE)
    known.suppose("every set on the beam carries its posted load at the same time")
    return known.answer(
        total, "grid-beam", "sum of V over the blocks and of the other loads", FORCE, _STATICS
    )


@computed("beam", "load_sideways")
def load_sideways(known: Gathering, thing: Thing) -> Answer:
    """Sideways pull of all blocks on a beam at what is posted, all drawn the same way."""
    _, side = _on_beam(known, thing)
    known.suppose("all blocks draw the same way")
    return known.answer(side, "grid-beam", "sum of H over the blocks", FORCE, _STATICS)


def _on_beam(known: Gathering, thing: Thing) -> tuple[Bounds, Bounds]:
    blocks = known.things(thing, "blocks")
    known.steps.append(("blocks that stand on it or hang from it", str(len(blocks))))
    down = side = Bounds.exactly(0.0)
    for block in blocks:
        V, H = block_forces(known, block)
        known.step(f"{block.path}, downward", V, FORCE)
        down, side = down + V, side + H
    known.settle()
    return down, side
