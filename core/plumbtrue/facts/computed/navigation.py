"""What comes next to a part in its path, which rope it ends, which ropes run over a block, how an end is made
up. No figures.
"""

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.computed.places import over_head_block
from plumbtrue.facts.computed.registry import computed, finds
from plumbtrue.facts.gathering import Gathering
from plumbtrue.facts.store import Facts, Part, ropes_at
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import RATIO
from plumbtrue.quantities.values import NONE, UNKNOWN, Absent, Choice, Name, Unknown
from plumbtrue.rig.thing import Thing

_PATHS = frozenset({"upper", "lower", "path", "sling_path"})
_LINES = ("lift_line", "hand_line", "side_line", "spot_line")
_ORDER = "the order in which the parts are written, from the rope's end outward"


def path_of(thing: Thing) -> tuple[Thing, ...] | None:
    """The path that a part sits in, in order from the rope's end; nothing for a part that sits in none."""
    if thing.parent is None or thing.role not in _PATHS:
        return None
    path = thing.parent.parts.get(thing.role)
    return path if isinstance(path, tuple) and thing in path else None


def _beside(facts: Facts, thing: Thing, step: int) -> Part:
    path = path_of(thing)
    if path is None:
        return NONE
    assert thing.parent is not None
    if facts.is_unlisted(thing.parent, thing.role):
        # Somewhere in it is a part that nobody named, and nobody says where.
        return UNKNOWN
    place = path.index(thing) + step
    return path[place] if 0 <= place < len(path) else NONE


@finds("part", "next_part")
def next_part(facts: Facts, thing: Thing) -> Part:
    """The part after it on the way to the pipe or the steel."""
    return _beside(facts, thing, +1)


@finds("part", "previous_part")
def previous_part(facts: Facts, thing: Thing) -> Part:
    """The part before it, nearer to the rope."""
    return _beside(facts, thing, -1)


@computed("part", "path_position")
def path_position(known: Gathering, thing: Thing) -> Answer:
    """Its number in its path; none for a part that is in no path, at least that where a part is unnamed."""
    path = path_of(thing)
    if path is None:
        return known.within(NONE, "path-position", "it sits in no path", None)
    number = float(path.index(thing) + 1)
    assert thing.parent is not None
    unnamed = known.facts.is_unlisted(thing.parent, thing.role)
    if unnamed:
        known.lack(thing.parent, thing.role, "not all of them identified")
    known.steps.append(("parts in the order of the path", ", ".join(part.key for part in path)))
    bounds = Bounds(number, float(len(path) + 1)) if unnamed else Bounds.exactly(number)
    return known.within(bounds, "path-position", "counted from the rope's end", RATIO, _ORDER)


@computed("part", "path_end")
def path_end(known: Gathering, thing: Thing) -> Answer:
    """Which end of its rope the path is."""
    end = thing.role if thing.role in ("upper", "lower") else "other"
    return known.within(Choice(frozenset({end})), "path-end", "the path that it is written in", None, _ORDER)


@finds("part", "own_rope")
def own_rope(facts: Facts, thing: Thing) -> Part:
    """The rope that the part ends or that runs over it, where there is one and no more."""
    if thing.line_set is not None and thing.parent is thing.line_set:
        return NONE
    ropes = ropes_at(thing)
    if len(ropes) == 1:
        return ropes[0]
    in_a_line = any(thing.enclosing(kind) for kind in _LINES)
    return UNKNOWN if in_a_line else NONE


@finds("block", "ropes")
def ropes(facts: Facts, thing: Thing) -> Part:
    """The ropes over a block: its line's; over a head block those of the set's lines that run to the arbor,
    over a tension block the hand line's.
    """
    line_set = thing.line_set
    shared = line_set is not None and thing.parent is line_set
    if shared and thing.kind.name != "tension_block":
        assert line_set is not None
        lines = facts.part(line_set, "lift_lines")
        if isinstance(lines, Unknown) or facts.is_unlisted(line_set, "lift_lines"):
            return UNKNOWN
        held = over_head_block(facts, lines) if isinstance(lines, tuple) else ()
        found = [facts.part(line, "rope") for line in held]
        if any(not isinstance(rope, Thing) for rope in found):
            return UNKNOWN
        return tuple(rope for rope in found if isinstance(rope, Thing))
    found_here = ropes_at(thing)
    return found_here or UNKNOWN


@finds("beam", "blocks")
def blocks_on_beam(facts: Facts, thing: Thing) -> Part:
    """The blocks that name a beam in `on_beam`."""
    house = thing.enclosing("house")
    if house is None:
        return UNKNOWN
    return tuple(
        one for one in house.below() if "on_beam" in one.references and one.references["on_beam"] is thing
    )


@computed("rope", "runs_over_block")
def runs_over_block(known: Gathering, thing: Thing) -> Answer:
    """Whether a rope passes over a block: its line's own blocks, or the head block when it lifts a set."""

    def told(word: str, why: str) -> Answer:
        return known.answer(Choice(frozenset({word})), "rope-over-block", why, None, "blocks of its line")

    line = thing.parent
    if line is None or line.kind.name == "side_line":
        return told("no", "a side line runs over no block")
    if line.kind.name == "hand_line":
        return told("yes", "a hand line runs over the head block and the tension block")
    if line.kind.name == "spot_line":
        block = known.facts.part(line, "block")
        if isinstance(block, Unknown):
            known.lack(line, "block")
        return told("yes" if isinstance(block, Thing) else "no", "whether the spot line has a block")
    if line.kind.name != "lift_line":
        return told("no", "it belongs to no line that runs")
    held = known.facts.part(line, "blocks")
    if isinstance(held, tuple) and held:
        return told("yes", "its line has a block")
    role = known.facts.value(line, "role") if "role" in line.facts else Choice(frozenset({"lift"}))
    if role == Choice(frozenset({"dead-hang"})):
        return told("no", "a fixed line has no block")
    line_set = line.line_set
    if line_set is not None and isinstance(known.facts.part(line_set, "head_block"), Thing):
        if role == Choice(frozenset({"lift"})):
            return told("yes", "a lift line runs over the head block of its set")
        if isinstance(role, Unknown):
            known.lack(line, "role")
    if isinstance(held, Absent) or (isinstance(held, tuple) and not known.facts.is_unlisted(line, "blocks")):
        return told("no", "its line has no block")
    known.lack(line, "blocks")
    return told("no", "its line has no block")


_TAKES_THE_PIPE = ("trim_chain", "batten_clamp", "knot", "sling", "eye_bolt")


def _made_of(known: Gathering, thing: Thing, which: str) -> Answer:
    parts = known.things(thing, which)
    known.settle()
    by_kind = {part.kind.name: part for part in parts}
    words: list[str] = []
    ends = [part for part in parts if "rope_end" in part.kind.classes]
    words.extend(end.kind.word for end in ends[:1])
    words.append("turnbuckle" if "turnbuckle" in by_kind else "no turnbuckle")
    if which == "lower":
        takes = [
            part.kind.word for part in parts if part.kind.name in _TAKES_THE_PIPE and part not in ends[:1]
        ]
        words.extend(takes[-1:])
    text = ", ".join(words)
    return known.within(
        Name(text), "end-made-of", "kinds of rope end, turnbuckle and what takes the pipe", None, _ORDER
    )


@computed("lift_line", "lower_made_of")
def lower_made_of(known: Gathering, thing: Thing) -> Answer:
    """How the lower end is made up, in words that compare."""
    return _made_of(known, thing, "lower")


@computed("lift_line", "upper_made_of")
def upper_made_of(known: Gathering, thing: Thing) -> Answer:
    """How the upper end is made up, in words that compare."""
    return _made_of(known, thing, "upper")
