"""The load path of a line: what pulls on each part, what each is good for, and which is the weakest.

One unknown part makes the path unknown: then the known parts only say how much it is good for at most.
Strength is taken from a rope in the state in which it was sold: of a rope that is pitted, out of shape or
burnt nothing is known. Ends and bends lie apart and the rope breaks at one of them, so the least efficiency
counts and not their product.
"""

from collections.abc import Callable
from functools import partial
from math import pi
from typing import Final

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.blocks import (
    HUNG,
    POSTED,
    LoadedWith,
    all_pulls,
    hand_line_tension,
    line_pull_at_block,
    rope_below,
)
from plumbtrue.facts.computed.places import over_head_block
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Declined, Gathering, Lacking
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.facts.published_tables import customary, table
from plumbtrue.mechanics.blocks import combined, tension_at_rating
from plumbtrue.mechanics.load_path import Element, load_path, path_design_factor, pull_allowed
from plumbtrue.mechanics.load_path import least_efficiency as least_efficiency_of
from plumbtrue.quantities.bounds import Bounds, exceeds, greatest_of, hull_of
from plumbtrue.quantities.dimension import FORCE, RATIO
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import NONE, Choice, Name, Unknown
from plumbtrue.rig.thing import Thing

_SOURCE = "the weakest part governs (statics; WAC 296-24-29423(2)(a) says so of chain slings)"
NOTHING: Final = Bounds.exactly(0.0)
_OWN_RATING = {
    "shackle": "reduced_rating",
    "eye_bolt": "reduced_rating",
    "trim_chain": "assembly_capacity",
    "sling": "limit",
}
"""Kinds whose rated load is worked out as they are rigged."""
_IN_A_STRAIGHT_PULL = frozenset({"connector", "anchor"})
"""Kinds for which a straight pull has to be known, since nothing is published for any other."""


@computed("part", "pull")
def pull(known: Gathering, thing: Thing) -> Answer:
    """Greatest pull on a part at what is posted: its line's; for a block of a line that where the rope meets
    it, for a head block all.
    """
    return _pull(known, thing, POSTED)


@computed("part", "pull_hung")
def pull_hung(known: Gathering, thing: Thing) -> Answer:
    """Pull on a part with what the plot hangs: of a part of a bridle's leg that of the leg, of a part that
    carries a piece that of the piece.
    """
    leg = thing.enclosing("bridle_leg")
    if leg is not None:
        found = known.figure(leg, "tension", "pull of its leg", within=NOUGHT_OR_MORE)
        return known.answer(found, "load-path", "pull of its leg, at rest", FORCE, _SOURCE)
    if thing.kind.name == "hoist":
        found = known.figure(thing, "load", "load on its hook", within=NOUGHT_OR_MORE)
        return known.answer(found, "load-path", "load on its hook with the dynamic factor", FORCE, _SOURCE)
    point = thing.enclosing("point")
    if point is not None and thing.kind.name == "anchor":
        down = known.figure(point, "force_down", "vertical pull", within=NOUGHT_OR_MORE)
        side = known.figure(point, "force_sideways", "level pull", within=NOUGHT_OR_MORE)
        known.settle()
        found = over_bounds(combined, down, side)
        return known.answer(found, "load-path", "both pulls of its point, at rest", FORCE, _SOURCE)
    item = thing.enclosing("item")
    if item is not None and thing.kind.name == "attachment":
        return known.within(
            _at_attachment(known, item, thing),
            "load-path",
            "greatest pick, or its share of ties",
            FORCE,
            _SOURCE,
        )
    if item is not None and thing.kind.name == "second_line":
        return known.within(NONE, "load-path", "it carries nothing in normal work", None)
    if item is not None and thing.role == "sling_path":
        found = known.figure(item, "total_weight", "weight of the piece", within=NOUGHT_OR_MORE)
        return known.answer(found, "load-path", "weight of the piece", FORCE, _SOURCE)
    return _pull(known, thing, HUNG)


def _at_attachment(known: Gathering, item: Thing, attachment: Thing) -> Bounds:
    """What an attachment of a piece takes [N]: of picks the greatest, of ties the stretch between two of
    them.
    """
    from plumbtrue.facts.computed.item_pulls import pulls_of

    found = known.facts.kept(item, pulls_of)
    known.include(found.known)
    known.settle()
    picks = [one.weight for one in found.pulls if not one.is_spread]
    if picks:
        return greatest_of(picks)
    apart = known.figure(attachment, "spacing", "spacing of the ties", within=NOUGHT_OR_MORE)
    known.settle()
    shares = []
    for one in found.pulls:
        assert one.start is not None
        assert one.end is not None
        long = abs(one.end.distance - one.start.distance)
        if one.start.from_centre != one.end.from_centre or long.low <= 0:
            known.decline("the ends of what is spread count from different points")
        shares.append(one.weight * apart / long)
    return greatest_of(shares)


def _pull(known: Gathering, thing: Thing, case: LoadedWith) -> Answer:
    if "block" in thing.kind.classes:
        return known.answer(
            _pull_of_block(known, thing, case),
            "load-path",
            "pull that the block's rating speaks of",
            FORCE,
            _SOURCE,
        )
    if thing.kind.name == "dead_end":
        return known.answer(
            known.figure(thing, "reaction"), "load-path", "pull of what ends there", FORCE, _SOURCE
        )
    line = thing.enclosing("lift_line")
    if line is not None:
        if thing.role == "upper":
            found = line_pull_at_block(known, line, case)
            return known.answer(
                found, "load-path", "pull of its line, the hanging rope included", FORCE, _SOURCE
            )
        found = known.figure(line, case.reaction, "pull of its line", within=NOUGHT_OR_MORE)
        return known.answer(found, "load-path", "pull of its line", FORCE, _SOURCE)
    side_line = thing.enclosing("side_line")
    if side_line is not None:
        return known.answer(
            known.figure(side_line, "tension"), "load-path", "pull of its side line", FORCE, _SOURCE
        )
    if thing.enclosing("hand_line") is not None:
        line_set = known.around(thing, "line_set")
        tension = known.figure(line_set, "hand_line_tension", "pull in the hand line", within=NOUGHT_OR_MORE)
        return known.answer(tension, "load-path", "pull in each part of the hand line", FORCE, _SOURCE)
    return _pull_of_anchor(known, thing, case)


def _pull_of_anchor(known: Gathering, thing: Thing, case: LoadedWith) -> Answer:
    """A fixing of a dead-hung pipe carries one line of it; nobody records which, so any of them."""
    line_set = known.around(thing, "line_set")
    lines = known.things(line_set, "lift_lines")
    pulls = [known.figure(line, case.reaction, within=NOUGHT_OR_MORE) for line in lines]
    known.settle()
    if not pulls:
        known.decline("what pulls on it is not recorded")
    worst = greatest_of(pulls)
    known.suppose("a fixing is taken to carry the line that pulls most")
    return known.answer(worst, "load-path", "greatest pull of the lines", FORCE, _SOURCE)


def _pull_of_block(known: Gathering, thing: Thing, case: LoadedWith) -> Bounds:
    """The pull that a block's rating speaks of: tension in a line, pull on its mount, or the sum of all
    lines.
    """
    means = known.word(thing, "rating_means")
    known.settle()
    if means == "resultant":
        return known.figure(thing, case.resultant, within=NOUGHT_OR_MORE)
    line = thing.enclosing("lift_line")
    if line is not None:
        return line_pull_at_block(known, line, case)
    line_set = known.around(thing, "line_set")
    if thing.kind.name == "tension_block":
        return hand_line_tension(known, line_set)
    if means == "total":
        return all_pulls(known, line_set, case)
    lines = over_head_block(known.facts, known.things(line_set, "lift_lines"))
    pulls = [line_pull_at_block(known, one, case) for one in lines]
    known.settle()
    if not pulls:
        known.decline("no line runs over it")
    return greatest_of(pulls)


def capacity(known: Gathering, thing: Thing) -> Bounds:
    """What a part is good for as it is rigged [N], counted as missing where it is not rated."""
    own = _OWN_RATING.get(thing.kind.name)
    if own is not None:
        return known.figure(thing, own, f"rated load as rigged, {thing.kind.word}", within=NOUGHT_OR_MORE)
    rated = known.figure(thing, "working_load_limit", f"rated load, {thing.kind.word}", within=NOUGHT_OR_MORE)
    straight, source = customary("straight-pull", "angle")
    angle = known.facts.value(thing, "pull_angle")
    if isinstance(angle, Bounds) and exceeds(angle.high, straight.low):
        raise Declined(f"a {thing.kind.word} is rated for a straight pull only, up to {source}")
    if thing.kind.name in _IN_A_STRAIGHT_PULL and not isinstance(angle, Bounds):
        known.lack(thing, "pull_angle")
    return rated


@computed("part", "utilisation")
def utilisation(known: Gathering, thing: Thing) -> Answer:
    """Pull on a part over what it is good for as it is rigged; none for a part that bears no rating of its
    own.

    A rope's end has its share in the rope's strength, and a thimble lines the eye: neither is rated by
    itself.
    """
    return _utilisation(known, thing, POSTED)


@computed("part", "utilisation_hung")
def utilisation_hung(known: Gathering, thing: Thing) -> Answer:
    """Pull on a part with what the plot hangs over what it is good for as it is rigged; none for a part that
    bears no rating of its own.
    """
    return _utilisation(known, thing, HUNG)


def _utilisation(known: Gathering, thing: Thing, case: LoadedWith) -> Answer:
    if "rated_part" not in thing.kind.classes:
        return known.within(NONE, "load-path", "it bears no rating of its own", None)
    good_for = capacity(known, thing)
    load = known.figure(thing, case.pull, "pull on it", within=NOUGHT_OR_MORE)
    known.settle()
    if good_for.high <= 0:
        known.decline("it is not allowed to carry any pull as it is rigged")
    used = over_bounds(_share_used, load, good_for)
    return known.answer(used, "load-path", "pull / rated load as rigged", RATIO, _SOURCE)


_SOUND_WIRE = (
    ("corrosion", frozenset({"none", "bloom", "surface"})),
    ("shape", frozenset({"none", "kink-in-tail"})),
    ("heat_mark", frozenset({"none"})),
)
_SOUND_FIBRE = (("fibre_condition", frozenset({"none", "polished", "stain", "glazed"})),)


def rope_strength(known: Gathering, rope: Thing) -> Bounds:
    """Breaking strength of a rope that nothing speaks against [N].

    Raises:
        Declined: what was found on it leaves no strength that anybody knows.
    """
    strength = known.figure(rope, "breaking_strength", "breaking strength", within=NOUGHT_OR_MORE)
    family = known.words(rope, "family")
    checks = (*(_SOUND_WIRE if "wire" in family else ()), *(_SOUND_FIBRE if family - {"wire"} else ()))
    for name, sound in checks:
        words = known.words(rope, name)
        if words and not words <= sound:
            if words & sound and len(words) > 1 and name == "corrosion":
                known.lack(rope, name, "could be one or another")
            else:
                raise Declined(
                    f"nobody knows the strength left in a rope with this: {', '.join(sorted(words - sound))}"
                )
    return strength


@computed("lift_line", "least_efficiency")
def least_efficiency(known: Gathering, thing: Thing) -> Answer:
    """Least share of its strength that the rope keeps anywhere: at both ends, over every block."""
    shares: list[Bounds] = []
    rope = known.thing(thing, "rope")
    family = known.word(rope, "family") if rope is not None else ""
    for which in ("upper", "lower"):
        if which == "upper" and _is_belayed(known, thing):
            shares.append(_at_a_belay(known))
            continue
        parts = known.things(thing, which)
        ends = [part for part in parts if "rope_end" in part.kind.classes]
        if parts and not ends:
            known.lack(thing, which, "how the rope ends there is not written")
        shares.extend(known.figure(end, "efficiency", f"{which} end, {end.kind.word}") for end in ends)
    if family == "wire":
        shares.extend(_over_blocks(known, thing))
    else:
        known.suppose("fibre rope: what a bend takes from it is not in the table, and left out")
    known.settle()
    if not shares:
        known.decline("the rope has no end and no bend on record")
    least = _least(shares)
    return known.answer(
        least,
        "least-efficiency",
        "least of all ends and bends",
        RATIO,
        "ends and bends lie apart (common practice)",
    )


def _least(shares: list[Bounds]) -> Bounds:
    low, high = ([getattr(one, end) for one in shares] for end in ("low", "high"))
    return Bounds(least_efficiency_of(low) or 0.0, least_efficiency_of(high) or 0.0)


def _is_belayed(known: Gathering, thing: Thing) -> bool:
    """Whether the line of a hemp set is made fast at a pin: nothing else is written at its upper end."""
    line_set = thing.line_set
    if line_set is None or not isinstance(known.facts.part(thing, "upper"), Unknown):
        return False
    return known.facts.value(line_set, "system") == Choice(frozenset({"hemp"}))


def _at_a_belay(known: Gathering) -> Bounds:
    """Share of its strength that a fibre rope keeps round a pin. No table has it: as at a knot, which is the
    careful figure.
    """
    row = table("termination-efficiency").row(end="knot", form="any", rope="fibre")
    kept = row.figure("efficiency") if row is not None else None
    if row is None or kept is None:
        known.decline("no table row for a knot in fibre rope")
    known.suppose("at the belay the rope keeps what it keeps at a knot, the careful figure")
    return known.given("at the belay", kept, RATIO, row.authority)


def _over_blocks(known: Gathering, thing: Thing) -> list[Bounds]:
    held = known.facts.part(thing, "blocks")
    blocks = list(held) if isinstance(held, tuple) else []
    if isinstance(held, Unknown) or known.facts.is_unlisted(thing, "blocks"):
        known.lack(thing, "blocks", None if isinstance(held, Unknown) else "not all of them identified")
    line_set = thing.line_set
    if line_set is not None:
        head = known.facts.part(line_set, "head_block")
        if isinstance(head, Thing):
            blocks.append(head)
    return [known.figure(block, "bend_efficiency", f"over the {block.kind.word}") for block in blocks]


@computed("lift_line", "design_factor")
def design_factor(known: Gathering, thing: Thing) -> Answer:
    """Breaking strength by the least efficiency along the line, over its greatest pull, which is at its block."""
    return _design_factor(known, thing, POSTED)


@computed("lift_line", "design_factor_hung")
def design_factor_hung(known: Gathering, thing: Thing) -> Answer:
    """Breaking strength by the least efficiency along the line, over its pull at its block with what the plot
    hangs.
    """
    return _design_factor(known, thing, HUNG)


def _design_factor(known: Gathering, thing: Thing, case: LoadedWith) -> Answer:
    rope = known.thing(thing, "rope")
    strength = rope_strength(known, rope) if rope is not None else NOUGHT_OR_MORE
    least = known.figure(thing, "least_efficiency", within=Bounds(0.0, 1.0))
    load = line_pull_at_block(known, thing, case)
    known.settle()
    if load.high <= 0:
        known.decline("nothing pulls on the line")
    known.step("greatest pull of the rope, at its block", load, FORCE)
    known.step("strength that ends and bends leave", strength * least, FORCE)
    factor = over_bounds(_factor, strength, least, load)
    return known.answer(factor, "path-design-factor", "strength x least efficiency / pull", RATIO, _SOURCE)


@computed("lift_line", "rope_limit")
def rope_limit(known: Gathering, thing: Thing) -> Answer:
    """Greatest pull that the rope with its ends and bends allows at the customary design factor."""
    rope = known.thing(thing, "rope")
    strength = rope_strength(known, rope) if rope is not None else NOUGHT_OR_MORE
    least = known.figure(thing, "least_efficiency", within=Bounds(0.0, 1.0))
    family = known.word(rope, "family") if rope is not None else ""
    known.settle()
    factor, source = customary("wire-rope-design-factor" if family == "wire" else "fibre-rope-design-factor")
    known.given("design factor", factor, RATIO, source)
    known.step("strength that ends and bends leave", strength * least, FORCE)
    allowed = over_bounds(_allowed, strength, least, factor)
    return known.answer(allowed, "rope-limit", "strength x least efficiency / design factor", FORCE, source)


def _allowed(breaking: float, efficiency: float, design_factor: float) -> float:
    rope = Element("rope", breaking=breaking, efficiency=efficiency, design_factor=design_factor)
    found = pull_allowed(rope)
    assert found is not None
    return found


def _factor(breaking: float, efficiency: float, tension: float) -> float:
    found = path_design_factor(tension, [Element("rope", breaking=breaking, efficiency=efficiency)])
    assert found.least is not None
    return found.least


def _share_used(tension: float, working_load_limit: float) -> float:
    found = load_path(tension, [Element("part", working_load_limit=working_load_limit)])
    assert found.greatest_known is not None
    return found.greatest_known


@unchanging
class Link:
    """One element of a load path and the greatest line pull just above the batten that it allows [N]; nothing
    where that cannot be told.
    """

    name: str
    allows: Bounds | None
    missing: tuple[Missing, ...] = ()
    why: str = ""


def links(known: Gathering, line: Thing) -> tuple[Link, ...]:
    """Every element of a line's path, rope first, then from the pipe up to the steel; unknown ones with what
    is missing.

    The rope pulls hardest at its block, where the rope that hangs below pulls too. So of what the rope, the
    blocks and the parts beyond them allow, that weight [N] is not left for the batten: `T + w h <= limit`.
    """
    below = Gathering(known.facts)
    hanging = rope_below(below, line)
    found = [_link(known, "rope", lambda own: own.figure(line, "rope_limit", within=NOUGHT_OR_MORE), hanging)]
    for which in ("lower", "upper"):
        held = known.facts.part(line, which)
        if isinstance(held, Unknown) or known.facts.is_unlisted(line, which):
            found.append(
                Link(
                    which,
                    None,
                    (Missing(line, which, "not all of it recorded"),),
                    "not all of its parts are known",
                )
            )
        for part in held if isinstance(held, tuple) else ():
            if "rated_part" in part.kind.classes:
                beyond = hanging if which == "upper" else NOTHING
                found.append(_link(known, f"{which} / {part.key}", partial(capacity, thing=part), beyond))
    blocks = known.facts.part(line, "blocks")
    if isinstance(blocks, Unknown) or known.facts.is_unlisted(line, "blocks"):
        found.append(Link("blocks", None, (Missing(line, "blocks"),), "its blocks are not recorded"))
    for block in blocks if isinstance(blocks, tuple) else ():
        found.append(_link(known, block.key, partial(_block_allows, block=block), hanging))
    known.include(below)
    return tuple(found)


def _link(known: Gathering, name: str, allows: Callable[[Gathering], Bounds], hanging: Bounds) -> Link:
    """An element, with the rope [N] that it carries besides the batten."""
    own = Gathering(known.facts)
    try:
        bounds = allows(own)
        own.settle()
    except Lacking as lacking:
        return Link(name, None, lacking.missing, "not known")
    except Declined as declined:
        return Link(name, None, declined.missing, declined.reason)
    known.include(own)
    left = bounds - hanging
    return Link(name, Bounds(max(left.low, 0.0), max(left.high, 0.0)))


def _block_allows(known: Gathering, block: Thing) -> Bounds:
    """The pull in the line that a block's rating allows [N]."""
    rated = known.figure(block, "working_load_limit", f"rated load, {block.kind.word}", within=NOUGHT_OR_MORE)
    means = known.word(block, "rating_means")
    if means != "resultant":
        return rated
    wrap = known.figure(block, "wrap_angle", within=Bounds(0.0, 2 * pi))
    known.settle()
    return tension_for(rated, wrap)


def tension_for(rated: Bounds, wrap: Bounds, beside: Bounds = NOTHING) -> Bounds:
    """Tension over a block at which its rated resultant is reached [N], all within bounds.

    Raises:
        Declined: a rope that may pass straight puts no pull on a block.
    """
    # It is least where the rope turns right round, which may lie inside the bounds of the wrap.
    at = (wrap.low, wrap.high, *((pi,) if wrap.low < pi < wrap.high else ()))
    return hull_of(over_bounds(tension_at_rating, rated, Bounds.exactly(one), beside) for one in at)


@computed("lift_line", "tension_limit")
def tension_limit(known: Gathering, thing: Thing) -> Answer:
    """Greatest pull just above the batten that every element of the path allows, the rope below the block
    taken off; with one unknown, at most what the known ones do.
    """
    found = links(known, thing)
    allowed = [link.allows for link in found if link.allows is not None]
    unknown = [link for link in found if link.allows is None]
    for link in found:
        if link.allows is not None:
            known.step(link.name, link.allows, FORCE)
        else:
            known.steps.append((link.name, link.why))
    # First, for a part of which nothing is known hides more than the weight of the rope does.
    known.loose[:0] = [missing for link in unknown for missing in link.missing]
    formula = (
        "least of what ends, parts, blocks and rope allow, less the rope below the block where it pulls too"
    )
    if not allowed:
        known.lacking.extend(known.loose)
        if not known.lacking:
            known.decline("; ".join(f"{link.name}: {link.why}" for link in unknown))
        known.settle()
    least = Bounds(0.0 if unknown else min(one.low for one in allowed), min(one.high for one in allowed))
    return known.within(least, "load-path", formula, FORCE, _SOURCE)


@computed("lift_line", "weakest_part")
def weakest_part(known: Gathering, thing: Thing) -> Answer:
    """The element that governs the path; not known as long as an unknown one, or two that overlap, might."""
    found = links(known, thing)
    unknown = [link for link in found if link.allows is None]
    known.lacking.extend(missing for link in unknown for missing in link.missing)
    if unknown and not known.lacking:
        known.decline("; ".join(f"{link.name}: {link.why}" for link in unknown))
    known.settle()
    ranked = sorted(found, key=lambda link: (link.allows or NOUGHT_OR_MORE).high)
    weakest, others = ranked[0], ranked[1:]
    assert weakest.allows is not None
    if any(exceeds(weakest.allows.high, (other.allows or NOUGHT_OR_MORE).low) for other in others):
        known.lacking.extend(known.loose)
        known.settle()
    return known.within(Name(weakest.name), "load-path", "element that allows least", None, _SOURCE)
