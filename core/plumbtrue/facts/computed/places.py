"""Places along a batten: from its zero end, from the centre line, from its ends; spans and overhangs.

A batten hangs with its middle on the centre line. A bare length counts from the end that the house calls
zero; SL and SR count from the centre line. Which end is zero is asked where it makes a difference: while every
place on a set and in a show counts from the centre line, either end serves for what the pipe does to its lines.
"""

from itertools import pairwise

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.store import NOT_OVER_THE_HEAD_BLOCK, Facts
from plumbtrue.quantities.bounds import Bounds, greatest_of
from plumbtrue.quantities.dimension import LENGTH, RATIO
from plumbtrue.quantities.truth import Truth
from plumbtrue.quantities.values import NONE, Choice, Each, Spot, Unknown, Value
from plumbtrue.rig.thing import Thing

NO_PART_IN_THE_PIPE = frozenset({"spot", "breast", "spare"})
"""Roles of lines that do not hold the batten."""

_SOURCE = "arithmetic on recorded places"
_MIDDLE = "the middle of the batten hangs on the centre line"


def batten_of(known: Gathering, thing: Thing) -> Thing:
    """The batten that a thing belongs to or holds; counted as missing where the set has none written.

    Raises:
        Lacking: there is none, so nothing can be placed.
    """
    own = thing.enclosing("batten")
    if own is not None:
        return own
    line_set = known.around(thing, "line_set")
    batten = known.thing(line_set, "batten")
    if batten is None:
        known.settle()
    assert batten is not None
    return batten


def batten_length(known: Gathering, batten: Thing) -> Bounds:
    """Length of the pipe [m]."""
    return known.figure(batten, "length", "length of the batten", within=NOUGHT_OR_MORE)


def from_zero(known: Gathering, batten: Thing, spot: Spot) -> Bounds:
    """A place from the batten's zero end [m]."""
    if not spot.from_centre:
        return spot.distance
    half = batten_length(known, batten) * Bounds.exactly(0.5)
    known.suppose(_MIDDLE)
    if _either_end_serves(known, batten):
        known.suppose("every place counts from the centre line, so that either end serves as zero")
        return half + spot.distance
    return half + spot.distance if _stage_right(known, batten) else half - spot.distance


def from_centre(known: Gathering, batten: Thing, spot: Spot) -> Bounds:
    """A place from the centre line [m], stage left positive."""
    if spot.from_centre:
        return spot.distance
    half = batten_length(known, batten) * Bounds.exactly(0.5)
    known.suppose(_MIDDLE)
    return spot.distance - half if _stage_right(known, batten) else half - spot.distance


def _either_end_serves(known: Gathering, batten: Thing) -> bool:
    """Whether nobody says which end is zero, and nothing on the set or in the show counts from an end."""
    house = batten.enclosing("house")
    if house is None or not isinstance(known.facts.value(house, "batten_zero"), Unknown):
        return False
    plot = known.facts.rig.plot
    around = (known.around(batten, "line_set"), *(() if plot is None else (plot,)))
    return not any(known.facts.kept(outermost, _has_a_place_from_an_end) for outermost in around)


def _has_a_place_from_an_end(facts: Facts, outermost: Thing) -> bool:
    return any(
        _counts_from_an_end(told.value) for thing in outermost.below() for told in thing.facts.values()
    )


def _counts_from_an_end(value: Value) -> bool:
    if isinstance(value, Each):
        return any(map(_counts_from_an_end, value.values))
    return isinstance(value, Spot) and not value.from_centre


def _stage_right(known: Gathering, batten: Thing) -> bool:
    house = batten.enclosing("house")
    if house is None:
        known.lack(batten, "length", "no house says from which end its battens count")
        return True
    return known.word(house, "batten_zero") != "stage-left"


def place(known: Gathering, thing: Thing, name: str = "at") -> Spot | None:
    """Where a thing sits on its batten; counted as missing where it is not written."""
    spot = known.value(thing, name)
    if isinstance(spot, Spot):
        return spot
    known.lack(thing, name)
    return None


def holding_lines(known: Gathering, line_set: Thing) -> tuple[Thing, ...]:
    """The lines that hold the batten. Spot, breast and spare lines do not; a line without a role is taken
    to.
    """
    lines = known.things(line_set, "lift_lines")
    found = []
    for line in lines:
        role = known.facts.answer(line, "role").value
        word = role.word if isinstance(role, Choice) else None
        if word is None:
            known.suppose("a line without a role lifts the batten")
        if word not in NO_PART_IN_THE_PIPE:
            found.append(line)
    return tuple(found)


def over_head_block(facts: Facts, lines: tuple[Thing, ...]) -> tuple[Thing, ...]:
    """Those of a set's lines that run over its head block to the arbor, or may."""
    found = []
    for line in lines:
        role = facts.answer(line, "role").value
        if not (isinstance(role, Choice) and role.possible <= NOT_OVER_THE_HEAD_BLOCK):
            found.append(line)
    return tuple(found)


def line_places(known: Gathering, batten: Thing) -> tuple[tuple[Thing, Bounds], ...]:
    """The lines that hold a batten with their places from its zero end [m], from there outward.

    Lines of which nobody can tell which comes first are counted as missing their places.
    """
    line_set = known.around(batten, "line_set")
    found = []
    for line in holding_lines(known, line_set):
        spot = place(known, line)
        if spot is not None:
            found.append((line, _on_pipe(known, batten, from_zero(known, batten, spot))))
    found.sort(key=lambda pair: (pair[1].low, pair[1].high))
    for (one, left), (other, right) in pairwise(found):
        if left.high > right.low:
            for line in (one, other):
                known.lack(line, "at", "which of them comes first cannot be told")
    return tuple(found)


def _on_pipe(known: Gathering, batten: Thing, at: Bounds) -> Bounds:
    """A place known only within bounds, as far as there is pipe; an exact one as it was written."""
    if at.is_exact:
        return at
    end = batten_length(known, batten).high
    return Bounds(max(at.low, 0.0), min(at.high, end)) if at.low <= end and at.high >= 0 else at


@computed("lift_line", "distance_from_zero")
def distance_from_zero(known: Gathering, thing: Thing) -> Answer:
    """Where the line takes the batten, from the zero end."""
    spot = place(known, thing)
    known.settle()
    assert spot is not None
    if not spot.from_centre:
        return known.answer(spot.distance, "place-on-batten", "as written", LENGTH, _SOURCE)
    batten = batten_of(known, thing)
    _stage_right(known, batten)
    known.settle()
    found = from_zero(known, batten, spot)
    return known.answer(
        found, "place-on-batten", "half the batten + distance from the centre line", LENGTH, _SOURCE
    )


@computed("lift_line", "distance_from_centre")
def distance_from_centre(known: Gathering, thing: Thing) -> Answer:
    """Where the line takes the batten, from the centre line, stage left positive."""
    spot = place(known, thing)
    known.settle()
    assert spot is not None
    if spot.from_centre:
        return known.answer(spot.distance, "place-on-batten", "as written", LENGTH, _SOURCE)
    found = from_centre(known, batten_of(known, thing), spot)
    return known.answer(
        found, "place-on-batten", "distance from the zero end - half the batten", LENGTH, _SOURCE
    )


def to_nearer_end(known: Gathering, batten: Thing, spot: Spot) -> Bounds:
    """Distance from a place to the nearer end of the pipe [m], from 0."""
    length = batten_length(known, batten)
    if spot.from_centre:
        # Of the two ends the nearer one is meant, so it does not matter which of them counts as zero.
        known.suppose(_MIDDLE)
        nearer = length * Bounds.exactly(0.5) - abs(spot.distance)
    else:
        other = length - spot.distance
        nearer = Bounds(min(spot.distance.low, other.low), min(spot.distance.high, other.high))
    return Bounds(max(nearer.low, 0.0), max(nearer.high, 0.0))


@computed("lift_line", "distance_to_pipe_end")
def line_to_pipe_end(known: Gathering, thing: Thing) -> Answer:
    """Distance from the line's place to the nearer end of the pipe."""
    spot = place(known, thing)
    batten = batten_of(known, thing)
    batten_length(known, batten)
    known.settle()
    assert spot is not None
    formula = "the lesser of place and length less place"
    return known.answer(to_nearer_end(known, batten, spot), "distance-to-pipe-end", formula, LENGTH, _SOURCE)


def _part_to_pipe_end(known: Gathering, thing: Thing) -> Answer:
    line = known.around(thing, "lift_line")
    distance = known.figure(line, "distance_to_pipe_end", within=NOUGHT_OR_MORE)
    return known.answer(distance, "distance-to-pipe-end", "that of its line", LENGTH, _SOURCE)


@computed("trim_chain", "distance_to_pipe_end")
def chain_to_pipe_end(known: Gathering, thing: Thing) -> Answer:
    """How far the wrap sits from the nearer end, by its line's place."""
    return _part_to_pipe_end(known, thing)


@computed("batten_clamp", "distance_to_pipe_end")
def clamp_to_pipe_end(known: Gathering, thing: Thing) -> Answer:
    """How far the clamp sits from the nearer end, by its line's place."""
    return _part_to_pipe_end(known, thing)


def _spans(known: Gathering, batten: Thing) -> tuple[Bounds, ...]:
    lines = line_places(known, batten)
    known.settle()
    if len(lines) < 2:
        known.decline("a batten on fewer than two lines has no span")
    return tuple(right - left for (_, left), (_, right) in pairwise(lines))


@computed("batten", "longest_span")
def longest_span(known: Gathering, thing: Thing) -> Answer:
    """Largest distance between neighbouring lines that hold the batten."""
    spans = _spans(known, thing)
    longest = greatest_of(spans)
    return known.answer(
        longest, "longest-span", "greatest distance between neighbouring lines", LENGTH, _SOURCE
    )


def _overhangs(known: Gathering, batten: Thing) -> tuple[tuple[Thing, Bounds], ...]:
    """The outer lines with the pipe beyond each [m]; the two of them, or one twice."""
    lines = line_places(known, batten)
    length = batten_length(known, batten)
    known.settle()
    if not lines:
        known.decline("no line holds this batten")
    (first, left), (last, right) = lines[0], lines[-1]
    return (first, left), (last, length - right)


@computed("batten", "overhang")
def overhang(known: Gathering, thing: Thing) -> Answer:
    """Pipe beyond the outer line, at the longer end."""
    (_, left), (_, right) = _overhangs(known, thing)
    longer = Bounds(max(left.low, right.low), max(left.high, right.high))
    return known.answer(
        longer, "overhang", "the greater of both ends beyond the outer lines", LENGTH, _SOURCE
    )


@computed("batten", "overhang_ratio")
def overhang_ratio(known: Gathering, thing: Thing) -> Answer:
    """Pipe beyond an outer line over the span next to it, at the worse end."""
    (_, left), (_, right) = _overhangs(known, thing)
    spans = _spans(known, thing)
    if spans[0].low <= 0 or spans[-1].low <= 0:
        known.decline("two lines may hold the batten at one place")
    at_left, at_right = left / spans[0], right / spans[-1]
    worse = Bounds(max(at_left.low, at_right.low), max(at_left.high, at_right.high))
    return known.answer(worse, "overhang-ratio", "overhang / span next to it", RATIO, _SOURCE)


def _in_span(known: Gathering, thing: Thing) -> tuple[Bounds, tuple[Bounds, ...]]:
    """A place from the zero end [m] and those of the lines around it."""
    spot = place(known, thing)
    batten = batten_of(known, thing)
    lines = line_places(known, batten)
    known.settle()
    assert spot is not None
    if len(lines) < 2:
        known.decline("a batten on fewer than two lines has no span")
    return from_zero(known, batten, spot), tuple(at for _, at in lines)


def _told(truth: Truth) -> Value:
    if truth is Truth.CANNOT_TELL:
        return Choice(frozenset({"yes", "no"}))
    return Choice(frozenset({"yes" if truth is Truth.HOLDS else "no"}))


@computed("splice", "in_overhang")
def in_overhang(known: Gathering, thing: Thing) -> Answer:
    """Whether a joint lies beyond the outer line."""
    at, lines = _in_span(known, thing)
    if at.high < lines[0].low or at.low > lines[-1].high:
        truth = Truth.HOLDS
    elif at.low >= lines[0].high and at.high <= lines[-1].low:
        truth = Truth.FAILS
    else:
        truth = Truth.CANNOT_TELL
    return known.answer(
        _told(truth), "in-overhang", "place of the joint against the outer lines", None, _SOURCE
    )


@computed("splice", "span_share")
def span_share(known: Gathering, thing: Thing) -> Answer:
    """Distance from a joint to the nearer line over the length of its span; 0 at a line, a half in the
    middle, none in an overhang.
    """
    share = _share_of_span(*_in_span(known, thing))
    if share is None:
        return known.answer(NONE, "span-share", "it lies beyond the outer line, in no span", None, _SOURCE)
    return known.answer(share, "span-share", "distance to the nearer line / span", RATIO, _SOURCE)


@computed("hole", "in_middle_half")
def in_middle_half(known: Gathering, thing: Thing) -> Answer:
    """Whether a hole lies in the middle half of a span: more than a quarter of it from both lines."""
    share = _share_of_span(*_in_span(known, thing))
    if share is None or share.high <= 0.25:
        truth = Truth.FAILS
    else:
        truth = Truth.HOLDS if share.low > 0.25 else Truth.CANNOT_TELL
    formula = "distance to the nearer line over a quarter of the span"
    return known.answer(_told(truth), "in-middle-half", formula, None, _SOURCE)


def _share_of_span(at: Bounds, lines: tuple[Bounds, ...]) -> Bounds | None:
    """Hull over every span in which the place may lie; nothing when it lies in none."""
    found: Bounds | None = None
    for left, right in pairwise(lines):
        if at.high < left.low or at.low > right.high:
            continue
        corners = [
            min(x - a, b - x) / (b - a)
            for a in (left.low, left.high)
            for b in (right.low, right.high)
            if b > a
            for x in (at.low, at.high, a, b, (a + b) / 2)
            if max(a, at.low) <= x <= min(b, at.high)
        ]
        if corners:
            here = Bounds(min(corners), max(corners))
            found = here if found is None else found.hull(here)
    return found
