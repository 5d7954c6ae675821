"""Taking a fact out of a plot never narrows an answer: what nobody wrote could be anything that it could be
before, and what was known before among it.
"""

import random

import pytest
from tests.show.laid_shows import Laid, demo_house, demo_plot

from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import UNKNOWN, Choice, Value
from plumbtrue.rig.copying import copied
from plumbtrue.rig.laying import lay
from plumbtrue.rig.thing import Thing

ASKED = {
    "line_set": ("live_load", "posted_utilisation", "load_over_ten_feet", "imbalance_in_show"),
    "lift_line": ("reaction_hung", "reaction_out_of_level", "utilisation_hung"),
    "batten": ("bending_stress_hung", "sag_hung", "tip_drop_hung"),
    "arbor": ("counterweight_needed", "capacity_utilisation", "stack_needed"),
    "item": ("total_weight", "bottom_at_highest", "fire_curtain_gap", "sprinkler_clearance", "utilisation_caused"),
    "pair": ("gap", "moving", "electric"),
    "cue": ("peak", "pull", "dynamic_reaction"),
    "hoist": ("load", "load_on_point"),
    "bridle_leg": ("tension", "angle"),
    "point": ("force_down", "force_sideways"),
    "truss": ("support_forces",),
    "step": ("imbalance_after",),
}  # fmt: skip
ROUNDING = 1e-6
WRITTEN = [
    (thing.path, fact)
    for thing in demo_plot("a").plot.below()
    for fact in sorted(thing.facts)
    # A load that is left out altogether cannot be told from one that is not there; a name makes a thing itself.
    if thing.kind.facts[fact].type not in ("reference", "list of reference", "text") and fact != "show"
]


def answers(show: Laid) -> dict[tuple[str, str], Value]:
    return {
        (thing.path, name): show.facts.value(thing, name)
        for thing in show.rig.things()
        for name in ASKED.get(thing.kind.name, ())
    }


def without(path: str, fact: str) -> Laid:
    plot = demo_plot("a")
    trial, copies = copied(plot.plot)
    (thing,) = (copy for original, copy in copies.items() if original.path == path)
    del thing.facts[fact]
    from dataclasses import replace

    still_open = tuple(replace(one, thing=copies[one.thing]) for one in plot.open_references)
    over = lay(demo_house(), replace(plot, plot=trial, open_references=still_open))
    return Laid(over, Facts(over, BEFORE.facts.on))


def full() -> Laid:
    over = lay(demo_house(), demo_plot("a"))
    from tests.show.laid_shows import ON

    return Laid(over, Facts(over, ON))


BEFORE = full()
KNOWN = answers(BEFORE)


def is_no_narrower(now: Value, before: Value) -> bool:
    if now is UNKNOWN or now == before:
        return True
    if isinstance(now, Bounds) and isinstance(before, Bounds):
        slack = ROUNDING * max(1.0, *(abs(one) for one in (before.low, before.high) if abs(one) < 1e300))
        return now.low <= before.low + slack and now.high >= before.high - slack
    if isinstance(now, Choice) and isinstance(before, Choice):
        return before.possible <= now.possible
    return False


@pytest.mark.parametrize("seed", range(6))
def test_an_answer_is_never_narrower_without_a_fact(seed: int) -> None:
    path, fact = random.Random(seed).choice(WRITTEN)
    for key, now in answers(without(path, fact)).items():
        if key in KNOWN:
            assert is_no_narrower(now, KNOWN[key]), (path, fact, key, now, KNOWN[key])


def test_pieces_that_are_written_stay_written() -> None:
    assert isinstance(BEFORE.thing("plot / item 05"), Thing)
    assert len(WRITTEN) > 400
