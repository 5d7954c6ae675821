"""A set under what a plot hangs on it: live load, pulls of its lines, bending, sag, joints.

The house's own facts judge what is posted; these judge the show.
"""

from collections.abc import Iterable
from functools import lru_cache
from math import inf
from typing import TYPE_CHECKING, Final

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.computed.hung_load import BeamPull, hung_load
from plumbtrue.facts.computed.pipe import bending_stiffness
from plumbtrue.facts.computed.pipe_in_bending import (
    margin_answer,
    section_modulus,
    share_of_yield,
    stress_answer,
)
from plumbtrue.facts.computed.posted_batten import FORMULA as THREE_MOMENTS
from plumbtrue.facts.computed.posted_batten import say_lines
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.computed.shown_batten import ShownBatten, shown_batten
from plumbtrue.facts.computed.trim_working import say_trim
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.published_tables import customary
from plumbtrue.mechanics.batten import Load, PointLoad
from plumbtrue.quantities.bounds import Bounds, greatest_of
from plumbtrue.quantities.dimension import BENDING_STIFFNESS, FORCE, FORCE_PER_LENGTH, LENGTH, MOMENT, RATIO
from plumbtrue.quantities.writing import System, write
from plumbtrue.rig.thing import Thing

if TYPE_CHECKING:
    from plumbtrue.facts.computed.hung_solving import Found, HungAtLines

SOURCE: Final = "slender beam on lines that only pull, superposition (derived: any textbook of structures)"
FORMULA: Final = f"{THREE_MOMENTS}, each weight at its worse end, in the worst state"
_NOT_HOLDING: Final = "it does not hold the batten"
_TEN_FEET: Final = 3.048
"""[m], exactly (NIST SP 811)."""


@computed("line_set", "live_load")
def live_load(known: Gathering, thing: Thing) -> Answer:
    """What a plot hangs on the set, with allowances; at least what is known where something is not."""
    found = known.facts.kept(thing, hung_load)
    known.include(found.known)
    for item, one in zip(found.items, found.of_item, strict=True):
        known.step(item.path, one.total, FORCE)
    formula = "sum over the pieces of their weight with its allowance"
    return known.within(found.live, "live-load", formula, FORCE, "sums (derived)")


@computed("line_set", "posted_utilisation")
def posted_utilisation(known: Gathering, thing: Thing) -> Answer:
    """What the plot hangs over the load that the house has posted."""
    posted = known.figure(thing, "posted_load", "posted live load", within=NOUGHT_OR_MORE)
    live = known.figure(thing, "live_load", "what the plot hangs", within=NOUGHT_OR_MORE)
    if posted.high <= 0:
        known.decline("the house has posted that nothing may hang on it")
    used = live / posted
    if used.high == inf and used.low <= 0:
        known.settle()
    return known.within(used, "posted-load", "live load / posted load", RATIO, "what the house has posted")


@computed("line_set", "load_over_ten_feet")
def load_over_ten_feet(known: Gathering, thing: Thing) -> Answer:
    """Greatest load of the plot over any ten feet of the batten, per length.

    The worst stretch begins or ends at a point, or at an end of something spread.
    """
    found = known.facts.kept(thing, hung_load)
    known.include(found.known)
    known.settle()
    every = [(_over(state.pulls), state) for state in (*found.states, *found.on_the_way)]
    (start, worst), state = max(every, key=lambda one: (one[0][1].high, one[0][1].low))
    low, high = max(one.low for (_, one), _ in every), worst.high
    known.steps.append(("worst state", state.label))
    known.steps.append(("the ten feet from", known.said(Bounds.exactly(start), LENGTH)))
    for pull in state.pulls:
        inside = _inside(pull, start)
        if inside.high > 0:
            known.step(f"{pull.label}, in it", inside, FORCE)
    known.step("all in it", Bounds(low, high), FORCE)
    per_length = Bounds(low / _TEN_FEET, high / _TEN_FEET)
    formula = "greatest load in any stretch of 10 ft / 10 ft"
    return known.answer(per_length, "live-load", formula, FORCE_PER_LENGTH, "sums (derived)")


def _over(pulls: Iterable[BeamPull]) -> tuple[float, Bounds]:
    """Greatest load in any stretch of ten feet [N], and where the worst begins [m]; a pull that may be anywhere lies
    in it at worst.
    """
    pulls = tuple(pulls)
    edges = {
        place
        for pull in pulls
        for bounds in (pull.at, pull.start, pull.end)
        if bounds is not None
        for end in (bounds.low, bounds.high)
        for place in (end, end - _TEN_FEET)
    } or {0.0}
    stretches = {
        start: sum((_inside(pull, start) for pull in pulls), Bounds.exactly(0.0)) for start in sorted(edges)
    }
    worst = max(stretches, key=lambda start: stretches[start].high)
    return worst, greatest_of(stretches.values())


def _inside(pull: BeamPull, start: float) -> Bounds:
    end = start + _TEN_FEET
    if pull.anywhere:
        return Bounds(0.0, pull.weight.high)
    if pull.at is not None:
        slack = 1e-9
        surely = pull.at.low >= start - slack and pull.at.high <= end + slack
        maybe = pull.at.high >= start - slack and pull.at.low <= end + slack
        return Bounds(pull.weight.low if surely else 0.0, pull.weight.high if maybe else 0.0)
    assert pull.start is not None
    assert pull.end is not None
    least = max(0.0, min(end, pull.end.low) - max(start, pull.start.high))
    most = max(0.0, min(end, pull.end.high) - max(start, pull.start.low))
    longest = max(pull.end.high - pull.start.low, 1e-12)
    shortest = max(pull.end.low - pull.start.high, 1e-12)
    inside = min(most / shortest, 1.0)
    # A weight without a bound has no part where none of it hangs.
    return Bounds(
        pull.weight.low * min(least / longest, 1.0), pull.weight.high * inside if inside > 0 else 0.0
    )


def _shown(known: Gathering, line_set: Thing) -> ShownBatten:
    shown = known.facts.kept(line_set, shown_batten)
    known.include(shown.known)
    return shown


def _at_line(known: Gathering, line: Thing) -> tuple[ShownBatten, int]:
    shown = _shown(known, known.around(line, "line_set"))
    if line not in shown.hung.lines:
        known.decline(_NOT_HOLDING)
    return shown, shown.hung.lines.index(line)


def _say_states(known: Gathering, shown: ShownBatten, number: int) -> None:
    for label, pulls in shown.at.by_state:
        known.step(f"{label}, at the batten", pulls[number], FORCE)


def _say_worked(known: Gathering, shown: ShownBatten, found: "Found") -> None:
    """What hangs there in the worst state, and what every line does then: with the moments over the lines the
    pulls follow by statics, and the moments by the three-moment equation.
    """
    if found.worked is None:
        return
    state = found.worked()
    known.step("pipe and what is fixed to it, for each length", shown.hung.spread, FORCE_PER_LENGTH)
    for label, load in state.loads:
        known.steps.append((label, _load_text(load, known.facts.system)))
    say_lines(known, shown.hung.lines, state.lines)


@lru_cache(maxsize=4096)
def _load_text(load: Load, system: System) -> str:
    """A pull in words; the same ones come back for every line of a set."""
    if not isinstance(load, PointLoad):
        weight = (load.at_start + load.at_end) / 2 * (load.end - load.start)
        reach = " to ".join(write(Bounds.exactly(place), LENGTH, system) for place in (load.start, load.end))
        return f"{write(Bounds.exactly(weight), FORCE, system)} spread from {reach}"
    at = write(Bounds.exactly(load.at), LENGTH, system)
    return f"{write(Bounds.exactly(load.weight), FORCE, system)} at {at}"


@computed("lift_line", "reaction_hung")
def reaction_hung(known: Gathering, thing: Thing) -> Answer:
    """Greatest pull on the line just above the batten with what the plot hangs, its lower end included."""
    shown, number = _at_line(known, thing)
    found = shown.at.lines[number].greatest
    _say_states(known, shown, number)
    known.steps.append(("greatest", found.state))
    _say_worked(known, shown, found)
    end = known.step("and its lower end", shown.hung.ends[number], FORCE)
    return known.within(found.bounds + end, "batten-reactions", FORMULA, FORCE, SOURCE)


@computed("lift_line", "pull_least_hung")
def pull_least_hung(known: Gathering, thing: Thing) -> Answer:
    """Least pull of the batten on the line in any state, its lower end left out; nought where it hangs
    slack.
    """
    shown, number = _at_line(known, thing)
    found = shown.at.lines[number].least
    _say_states(known, shown, number)
    known.steps.append(("least", found.state))
    _say_worked(known, shown, found)
    return known.within(_tidy(found.bounds), "batten-reactions", FORMULA, FORCE, SOURCE)


def _tidy(bounds: Bounds) -> Bounds:
    """Rounding of a slack line's pull taken off: less than a milligram's weight is none."""
    return Bounds(
        0.0 if abs(bounds.low) < 1e-6 else bounds.low, 0.0 if abs(bounds.high) < 1e-6 else bounds.high
    )


def _out_of_level(known: Gathering, line: Thing) -> tuple[ShownBatten, int, "HungAtLines"]:
    shown, number = _at_line(known, line)
    if not shown.at.out_of_level:
        bending_stiffness(known, shown.hung.batten)
        known.settle()
        known.decline("the stiffness of the batten is not known")
    return shown, number, shown.at.out_of_level[number]


def _say_trim(known: Gathering, shown: ShownBatten, number: int, found: "Found") -> None:
    tolerance, source = customary("trim-tolerance", "length")
    known.given("t, the trim tolerance", tolerance, LENGTH, source)
    for label, pulls in shown.at.by_state:
        known.step(f"level, {label}", pulls[number], FORCE)
    known.steps.append(("worst", found.state))
    say_trim(known, shown.hung, number, tolerance)


_TRIM: Final = (
    "R_i +/- t sum_j |S_ij| while no line goes slack; else the extremes over the sets of tight lines"
)


@computed("lift_line", "reaction_out_of_level")
def reaction_out_of_level(known: Gathering, thing: Thing) -> Answer:
    """Greatest pull with every line out of level by the trim tolerance, its lower end included."""
    shown, number, found = _out_of_level(known, thing)
    _say_trim(known, shown, number, found.greatest)
    end = known.step("and its lower end", shown.hung.ends[number], FORCE)
    return known.within(found.greatest.bounds + end, "trim-worst-case", _TRIM, FORCE, SOURCE)


@computed("lift_line", "pull_least_out_of_level")
def pull_least_out_of_level(known: Gathering, thing: Thing) -> Answer:
    """Least pull of the batten with every line out of level by the trim tolerance, lower end left out."""
    shown, number, found = _out_of_level(known, thing)
    _say_trim(known, shown, number, found.least)
    return known.within(_tidy(found.least.bounds), "trim-worst-case", _TRIM, FORCE, SOURCE)


def _used(known: Gathering, line: Thing, pull: str) -> Answer:
    limit = known.figure(line, "tension_limit", "what every part of the line allows", within=NOUGHT_OR_MORE)
    load = known.figure(line, pull, "pull", within=NOUGHT_OR_MORE)
    known.settle()
    if limit.high <= 0:
        known.decline("the line is not allowed to carry any pull")
    used = load / limit
    return known.answer(
        used, "load-path", "pull / least of what its parts allow", RATIO, "the weakest part governs"
    )


@computed("lift_line", "utilisation_hung")
def utilisation_hung(known: Gathering, thing: Thing) -> Answer:
    """Pull with what the plot hangs over what every part of the line allows."""
    return _used(known, thing, "reaction_hung")


@computed("lift_line", "utilisation_out_of_level")
def utilisation_out_of_level(known: Gathering, thing: Thing) -> Answer:
    """The same with every line out of level by the trim tolerance."""
    return _used(known, thing, "reaction_out_of_level")


def _say(known: Gathering, found: "Found", what: str) -> None:
    place = "" if found.at is None else f", {known.said(Bounds.exactly(found.at), LENGTH)} from the zero end"
    known.steps.append((what, f"{found.state}{place}"))


@computed("batten", "bending_stress_hung")
def bending_stress_hung(known: Gathering, thing: Thing) -> Answer:
    """Greatest bending stress with what the plot hangs: moment over elastic section modulus, at the thinnest
    wall there may be.
    """
    modulus = section_modulus(known, thing)
    shown = _shown(known, known.around(thing, "line_set"))
    moment = shown.at.moment
    _say(known, moment, "greatest moment by")
    _say_worked(known, shown, moment)
    return stress_answer(known, moment.bounds, modulus, FORMULA, SOURCE)


@computed("batten", "yield_utilisation_hung")
def yield_utilisation_hung(known: Gathering, thing: Thing) -> Answer:
    """Bending stress with what the plot hangs over the least yield of the pipe."""
    least = known.figure(thing, "yield", "least yield", within=NOUGHT_OR_MORE)
    stress = known.figure(thing, "bending_stress_hung", within=NOUGHT_OR_MORE)
    known.settle()
    if least.low <= 0:
        known.decline("a metal without yield")
    return known.answer(stress / least, "batten-stress", "stress / yield", RATIO, SOURCE)


@computed("batten", "bending_utilisation_hung")
def bending_utilisation_hung(known: Gathering, thing: Thing) -> Answer:
    """Bending stress with what the plot hangs over what is allowed. Joints are judged by themselves."""
    used = known.figure(thing, "yield_utilisation_hung", within=NOUGHT_OR_MORE)
    known.settle()
    return known.answer(
        used / share_of_yield(known), "batten-stress", "stress / (share x yield)", RATIO, SOURCE
    )


def _bent(known: Gathering, thing: Thing, name: str) -> tuple[Bounds, ShownBatten]:
    """A deflection at the real stiffness."""
    from plumbtrue.facts.computed.batten_solving import STIFFNESS

    shown = _shown(known, known.around(thing, "line_set"))
    stiffness = shown.hung.stiffness
    if stiffness is None:
        bending_stiffness(known, thing)
        known.settle()
        known.decline("the stiffness of the batten is not known")
    by_name = {
        "sag": shown.at.sag,
        "sag_depth": shown.at.sag_depth,
        "tip_drop": shown.at.tip_drop,
        "tip_ratio": shown.at.tip_ratio,
    }
    found = by_name[name]
    _say(known, found, "greatest")
    _say_worked(known, shown, found)
    known.step("stiffness EI", stiffness, BENDING_STIFFNESS)
    return found.bounds * Bounds(STIFFNESS / stiffness.high, STIFFNESS / stiffness.low), shown


_TWICE: Final = f"M / EI integrated twice; {FORMULA}"


@computed("batten", "sag_hung")
def sag_hung(known: Gathering, thing: Thing) -> Answer:
    """Greatest sag over its span with what the plot hangs."""
    found, _ = _bent(known, thing, "sag")
    return known.within(found, "batten-deflection", _TWICE, RATIO, SOURCE)


@computed("batten", "sag_depth_hung")
def sag_depth_hung(known: Gathering, thing: Thing) -> Answer:
    """Depth of the greatest sag between two lines with what the plot hangs."""
    found, _ = _bent(known, thing, "sag_depth")
    return known.within(found, "batten-deflection", _TWICE, LENGTH, SOURCE)


@computed("batten", "tip_drop_hung")
def tip_drop_hung(known: Gathering, thing: Thing) -> Answer:
    """Drop of the worse end below its outer line with what the plot hangs; negative where both ends rise."""
    found, _ = _bent(known, thing, "tip_drop")
    return known.within(found, "batten-deflection", _TWICE, LENGTH, SOURCE)


@computed("batten", "tip_drop_ratio_hung")
def tip_drop_ratio_hung(known: Gathering, thing: Thing) -> Answer:
    """Drop of an end over the pipe beyond the outer line, at the worse end."""
    found, _ = _bent(known, thing, "tip_ratio")
    return known.within(found, "batten-deflection", _TWICE, RATIO, SOURCE)


def _at_joint(known: Gathering, splice: Thing) -> Bounds:
    batten = known.around(splice, "batten")
    shown = _shown(known, known.around(batten, "line_set"))
    moments = zip(shown.hung.joints, shown.at.joint_moments, strict=True)
    found = next((moment for joint, moment in moments if joint.splice is splice), None)
    if found is None:
        known.decline("the joint does not lie on the pipe")
    _say(known, found, "greatest moment")
    _say_worked(known, shown, found)
    return found.bounds


@computed("splice", "moment_hung")
def joint_moment_hung(known: Gathering, thing: Thing) -> Answer:
    """Greatest moment that the joint must carry with what the plot hangs: that of unbroken pipe."""
    return known.within(_at_joint(known, thing), "splice-range", FORMULA, MOMENT, SOURCE)


@computed("splice", "margin_hung")
def joint_margin_hung(known: Gathering, thing: Thing) -> Answer:
    """Rated moment of the joint over the moment there; none for a joint that bears no moment."""
    return margin_answer(known, thing, _at_joint(known, thing), SOURCE)


@computed("splice", "pipe_share_hung")
def joint_pipe_share_hung(known: Gathering, thing: Thing) -> Answer:
    """Moment at the joint over what the pipe itself allows there."""
    batten = known.around(thing, "batten")
    modulus = section_modulus(known, batten)
    least = known.figure(batten, "yield", "least yield", within=NOUGHT_OR_MORE)
    moment = known.step("moment at the joint", _at_joint(known, thing), MOMENT)
    known.settle()
    allowed = known.step("moment that the pipe allows", modulus * least * share_of_yield(known), MOMENT)
    if allowed.low <= 0:
        known.decline("a metal without yield")
    return known.within(moment / allowed, "splice-range", "moment / (share x yield x S)", RATIO, SOURCE)


@computed("splice", "point_load_near")
def point_load_near(known: Gathering, thing: Thing) -> Answer:
    """Greatest point load of the plot within 12 in of the joint; nought where there is none."""
    batten = known.around(thing, "batten")
    line_set = known.around(batten, "line_set")
    load = known.facts.kept(line_set, hung_load)
    known.include(load.known)
    shown = known.facts.kept(line_set, shown_batten)
    joint = next((one for one in shown.hung.joints if one.splice is thing), None)
    known.settle()
    if joint is None:
        known.decline("the joint does not lie on the pipe")
    near = [_near(pull, joint.at) for state in load.states for pull in state.pulls if not _is_spread(pull)]
    found = Bounds(max((one.low for one in near), default=0.0), max((one.high for one in near), default=0.0))
    return known.answer(found, "point-near-joint", "greatest pull within 12 in", FORCE, "places of the pulls")


def _is_spread(pull: BeamPull) -> bool:
    return pull.start is not None


def _near(pull: BeamPull, joint: Bounds) -> Bounds:
    if pull.at is None:
        return Bounds(0.0, pull.weight.high)
    apart = abs(pull.at - joint)
    reach = 0.3048 * (1 + 1e-9)
    return Bounds(
        pull.weight.low if apart.high <= reach else 0.0, pull.weight.high if apart.low <= reach else 0.0
    )
