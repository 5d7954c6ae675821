"""What share of a rope's strength its end keeps: by table, for an end made to rule and in good order; else
nothing is known of it.

An end that breaks a rule of its making has no figure, and neither has one of which a deciding fact is not
known. A maker's figure that somebody recorded goes before the table.
"""

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.published_tables import Row, table
from plumbtrue.facts.store import ropes_at
from plumbtrue.quantities.bounds import Bounds, is_at_least, is_equal
from plumbtrue.quantities.dimension import RATIO
from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.values import NONE, Each
from plumbtrue.rig.thing import Thing

_MADE_TO_RULE = "table of ends, for an end made to rule"


def _rope(known: Gathering, thing: Thing) -> Thing:
    ropes = ropes_at(thing)
    if len(ropes) != 1:
        line = thing.parent
        if line is not None and "rope" in line.kind.facts:
            known.lack(line, "rope", "the rope that it ends is not known")
            known.settle()
        known.decline("it ends no rope that is on record")
    return ropes[0]


def _must_be(known: Gathering, thing: Thing, name: str, wanted: frozenset[str], broken: str) -> None:
    """Demand a word; what is not known is counted, what is otherwise breaks a rule of the end's making."""
    words = known.words(thing, name)
    if not words:
        return
    if not words & wanted:
        known.decline(broken)
    if words - wanted:
        known.lack(thing, name, "could be one or another")


def _must_hold(known: Gathering, thing: Thing, name: str, truth: Truth, broken: str) -> None:
    if truth is Truth.FAILS:
        known.decline(broken)
    if truth is Truth.CANNOT_TELL:
        known.lack(thing, name, "known only within bounds")


_SOUND = frozenset({"none"})
_NO_EYE = frozenset({"knot", "wedge_socket"})


def _in_good_order(known: Gathering, thing: Thing) -> None:
    _must_be(known, thing, "damage", _SOUND, "a damaged end has no known efficiency")
    _must_be(known, thing, "slip_sign", _SOUND, "an end that has slipped has no known efficiency")


def _fits(known: Gathering, thing: Thing, rope: Thing) -> None:
    size = known.figure(thing, "size", "size of the fitting", within=NOUGHT_OR_MORE)
    diameter = known.figure(rope, "diameter", "diameter of the rope", within=NOUGHT_OR_MORE)
    if not known.lacking:
        _must_hold(known, thing, "size", is_equal(size, diameter), "the fitting is not of the rope's size")


def _lined(known: Gathering, thing: Thing, rope: Thing) -> None:
    """Demand a thimble of the rope's size in the eye: without one the rope bends over a pin of its own
    thickness.

    A hitch or a wedge in the same path makes no eye, and has a figure of its own or none.
    """
    line = thing.parent
    if line is None:
        return
    held = known.facts.part(line, thing.role)
    parts = held if isinstance(held, tuple) else ()
    if any(part.kind.name in _NO_EYE for part in parts):
        return
    thimbles = [part for part in parts if part.kind.name == "thimble"]
    if not thimbles:
        if known.facts.is_unlisted(line, thing.role):
            known.lack(line, thing.role, "not all of it recorded, so there may be a thimble")
            return
        known.decline("an eye without a thimble has no known efficiency")
    diameter = known.figure(rope, "diameter", within=NOUGHT_OR_MORE)
    for thimble in thimbles:
        size = known.figure(thimble, "size", "size of the thimble", within=NOUGHT_OR_MORE)
        if not known.lacking:
            _must_hold(
                known, thimble, "size", is_equal(size, diameter), "the thimble is not of the rope's size"
            )
        _must_be(
            known, thimble, "state", _SOUND, "an eye whose thimble is out of shape has no known efficiency"
        )


def _answer(known: Gathering, end: str, form: str, rope: str) -> Answer:
    known.settle()
    row: Row | None = table("termination-efficiency").row(end=end, form=form, rope=rope)
    efficiency = row.figure("efficiency") if row is not None else None
    if row is None or efficiency is None:
        known.decline(f"no table row for a {end} of this kind on {rope} rope")
    return known.answer(efficiency, "termination-efficiency", _MADE_TO_RULE, RATIO, row.authority)


def _wire(known: Gathering, rope: Thing, what: str) -> None:
    family = known.words(rope, "family")
    if family and "wire" not in family:
        known.decline(f"{what} is for wire rope")


@computed("swage_sleeve", "efficiency")
def sleeve(known: Gathering, thing: Thing) -> Answer:
    """A pressed sleeve: gauged, of the rope's size, of a metal that has a row, with a thimble, its tail in
    sight.
    """
    rope = _rope(known, thing)
    _wire(known, rope, "a pressed sleeve")
    shape, material = known.word(thing, "shape"), known.word(thing, "material")
    _must_be(
        known,
        thing,
        "gauge",
        frozenset({"pass"}),
        "a sleeve that does not pass its gauge has no known efficiency",
    )
    _fits(known, thing, rope)
    _in_good_order(known, thing)
    _lined(known, thing, rope)
    tail = known.perhaps(thing, "tail_length")
    if tail is NONE:
        known.decline("the rope's end cannot be seen in the sleeve")
    if tail is None:
        known.lack(thing, "tail_length")
    if shape == "flemish":
        form = f"flemish-{known.word(rope, 'core')}"
    else:
        form = f"{shape}-{material.removeprefix('plated-')}"
        metal = known.words(rope, "material")
        if metal == {"stainless"} and material != "stainless":
            known.decline("this metal of sleeve is not for stainless rope")
        if "stainless" in metal and metal != {"stainless"}:
            known.lack(rope, "material", "could be one or another")
    return _answer(known, "swage-sleeve", form, "wire")


@computed("wire_rope_clips", "efficiency")
def clips(known: Gathering, thing: Thing) -> Answer:
    """Forged clips: enough of them, saddles on the live rope, turned back far enough, tight by torque or an
    unbroken paint line.
    """
    rope = _rope(known, thing)
    _wire(known, rope, "a clip")
    _each_must_be(known, thing, "material", "forged", "only forged clips have a known efficiency")
    _each_must_be(known, thing, "saddle_on", "live", "a saddle on the dead part has no known efficiency")
    _fits(known, thing, rope)
    _must_be(known, thing, "loose", _SOUND, "loose clips have no known efficiency")
    _in_good_order(known, thing)
    _lined(known, thing, rope)
    count = known.figure(thing, "count", within=NOUGHT_OR_MORE)
    turn_back = known.figure(thing, "turn_back", within=NOUGHT_OR_MORE)
    diameter = known.figure(rope, "diameter", within=NOUGHT_OR_MORE)
    _tight(known, thing)
    known.settle()
    row = table("clip-fitting").next_higher("rope", diameter.low) if diameter.is_exact else None
    least, back = (row.figure("clips"), row.figure("turn_back")) if row is not None else (None, None)
    if least is None or back is None:
        known.decline("no table row for clips of this size")
    _must_hold(known, thing, "count", is_at_least(count, least), "fewer clips than the table asks")
    _must_hold(
        known, thing, "turn_back", is_at_least(turn_back, back), "turned back less than the table asks"
    )
    return _answer(known, "wire-rope-clips", "forged", "wire")


def _tight(known: Gathering, thing: Thing) -> None:
    """Torque on record, or a paint line across the nuts that is still whole."""
    torque = known.facts.answer(thing, "torque_after_load").value
    if isinstance(torque, Bounds):
        known.value(thing, "torque_after_load")
        return
    marks = known.facts.answer(thing, "witness_mark").value
    if marks is NONE and torque is NONE:
        known.decline("clips with neither a torque on record nor a paint line have no known efficiency")
    _must_be(
        known,
        thing,
        "witness_mark",
        frozenset({"in-line"}),
        "clips with a broken paint line have no known efficiency",
    )


def _each_must_be(known: Gathering, thing: Thing, name: str, wanted: str, broken: str) -> None:
    """Demand a word of every one of several; a list of figures in order counts one by one."""
    value = known.value(thing, name)
    words = (
        [getattr(one, "word", None) for one in value.values]
        if isinstance(value, Each)
        else [getattr(value, "word", None)]
    )
    if any(word not in (None, wanted) for word in words):
        known.decline(broken)
    if None in words:
        known.lack(thing, name)


@computed("wedge_socket", "efficiency")
def wedge_socket(known: Gathering, thing: Thing) -> Answer:
    """A wedge socket with its own wedge, the live rope in line, the tail kept."""
    rope = _rope(known, thing)
    _wire(known, rope, "a wedge socket")
    _must_be(
        known, thing, "wedge_match", frozenset({"own"}), "a wedge of another make has no known efficiency"
    )
    _must_be(
        known,
        thing,
        "live_in_line",
        frozenset({"yes"}),
        "a socket put in the wrong way round has no known efficiency",
    )
    kept = frozenset({"tail-piece", "clip-on-tail", "extended-wedge"})
    _must_be(known, thing, "tail_method", kept, "a tail that is not kept, or clipped to the live rope")
    _fits(known, thing, rope)
    _in_good_order(known, thing)
    return _answer(known, "wedge-socket", "any", "wire")


@computed("poured_socket", "efficiency")
def poured_socket(known: Gathering, thing: Thing) -> Answer:
    """A poured socket of the rope's size."""
    rope = _rope(known, thing)
    _wire(known, rope, "a poured socket")
    _fits(known, thing, rope)
    _in_good_order(known, thing)
    return _answer(known, "poured-socket", "any", "wire")


@computed("stop_sleeve", "efficiency")
def stop_sleeve(known: Gathering, thing: Thing) -> Answer:
    """A single pressed stop: no common value, not a load-bearing eye."""
    known.decline("a single pressed stop has no known efficiency")


@computed("hand_splice", "efficiency")
def hand_splice(known: Gathering, thing: Thing) -> Answer:
    """A splice by hand, in wire or fibre rope."""
    rope = _rope(known, thing)
    family = known.word(rope, "family")
    _in_good_order(known, thing)
    if family == "wire":
        _lined(known, thing, rope)
    known.settle()
    return _answer(known, "hand-splice", "any", "wire" if family == "wire" else "fibre")


@computed("knot", "efficiency")
def knot(known: Gathering, thing: Thing) -> Answer:
    """A knot: half the strength of a fibre rope, nothing of a wire rope's that could be told."""
    rope = _rope(known, thing)
    family = known.word(rope, "family")
    _in_good_order(known, thing)
    if family == "wire":
        known.decline(
            "a knot in wire rope has no known efficiency; it is not permitted (29 CFR 1926.251(c)(3))"
        )
    return _answer(known, "knot", "any", "fibre")
