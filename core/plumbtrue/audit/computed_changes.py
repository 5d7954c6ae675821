"""What a revision did to computed values: before, after, the difference, and whether that is worse.

Only things that are in both revisions are compared, and only facts that a crew acts on (`watched_values`).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from plumbtrue.audit.matching import Matching
from plumbtrue.audit.same_values import is_known, same_but_for_names, shift
from plumbtrue.audit.watched_values import WATCHED, Watched, Way
from plumbtrue.facts.answer import Missing
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import Absent, Name, Unknown, Value
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Fact

Came = Literal["worse", "better", "neither", "no longer known", "now known", "cannot be told"]


@dataclass(frozen=True, slots=True)
class ComputedChange:
    """A computed value that is another now."""

    old: Thing
    new: Thing
    fact: Fact
    before: Value
    after: Value
    difference: Bounds | None
    """By how much it moved [SI]; nothing where one of them is no figure, or has no end."""
    came: Came
    missing: tuple[Missing, ...] = ()
    """What would tell it, where it is not known any more."""


def computed_changes(matching: Matching, old: Facts, new: Facts) -> tuple[ComputedChange, ...]:
    """Watched values that differ, thing by thing as the new revision has them."""
    watched: dict[str, list[Watched]] = {}
    for one in WATCHED:
        watched.setdefault(one.kind, []).append(one)
    names = matching.names()
    found: list[ComputedChange] = []
    for pair in matching.pairs:
        for one in watched.get(pair.new.kind.name, ()):
            change = _change(pair.old, pair.new, one, (old, new), names)
            if change is not None:
                found.append(change)
    return tuple(found)


def _change(
    old: Thing, new: Thing, watched: Watched, facts: tuple[Facts, Facts], names: Mapping[str, str]
) -> ComputedChange | None:
    declared = new.kind.facts.get(watched.fact)
    if declared is None:
        return None
    before = facts[0].value(old, watched.fact)
    answer = facts[1].answer(new, watched.fact)
    after = answer.value
    if same_but_for_names(before, after, names):
        return None
    if {type(before), type(after)} == {Absent, Unknown}:
        return None  # That nothing asks for it is no news of a value.
    came = _came(before, after, watched.worse)
    missing = answer.missing if came == "no longer known" else ()
    return ComputedChange(old, new, declared, before, after, shift(before, after), came, missing)


def _came(before: Value, after: Value, worse: Way) -> Came:
    """Whether a value came to be worse, as its worse end has it."""
    if not is_known(after):
        return "no longer known"
    if not is_known(before):
        return "now known"
    if worse == "neither":
        return "neither"
    if not isinstance(before, Bounds) or not isinstance(after, Bounds):
        return "cannot be told"
    if worse == "more":
        return "worse" if (after.high, after.low) > (before.high, before.low) else "better"
    return "worse" if (after.low, after.high) < (before.low, before.high) else "better"


def bricks(line_set: Thing, facts: Facts) -> dict[str, int] | None:
    """Bricks by their kind: those that the plot needs, or without a plot those that lie in the arbor.

    Nothing where nobody knows; kinds of which there are none are left out.
    """
    arbor = line_set.parts.get("arbor")
    if not isinstance(arbor, Thing):
        return None
    if facts.rig.plot is not None and "bricks_needed" in arbor.kind.facts:
        return _needed(arbor, facts)
    found: dict[str, int] = {}
    if arbor.parts.get("weights") is None or "weights" in arbor.unlisted:
        return None
    for weights in arbor.members("weights"):
        brick, count = weights.references.get("brick"), facts.value(weights, "count")
        if not isinstance(brick, Thing) or not isinstance(count, Bounds) or not count.is_exact:
            return None
        found[brick.key] = found.get(brick.key, 0) + round(count.low)
    return {name: count for name, count in found.items() if count}


def _needed(arbor: Thing, facts: Facts) -> dict[str, int] | None:
    """What `bricks_needed` says, such as `21 brick-28 + 1 brick-14`, by the keys of the house's bricks."""
    value = facts.value(arbor, "bricks_needed")
    if isinstance(value, Absent):
        return {}
    if not isinstance(value, Name):
        return None
    if value.text == "none":
        return {}
    keys = {one.key.removeprefix("brick "): one.key for one in facts.rig.house.members("bricks")}
    found: dict[str, int] = {}
    for part in value.text.split(" + "):
        number, _, name = part.partition(" ")
        key = keys.get(name.removeprefix("brick "))
        if key is None or not number.isdecimal():
            return None
        found[key] = found.get(key, 0) + int(number)
    return found
