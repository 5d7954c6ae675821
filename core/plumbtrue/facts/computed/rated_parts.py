"""What a rated part is good for as it is rigged: shackles and eye bolts by the angle of pull, chain by its
legs, slings by their hitch.

A rated load holds for a straight pull on a part in good order, fitted as its maker says. Past the last band
of angles a pull is not allowed at any load, so the rating is nought.
"""

from math import inf, pi

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.places import batten_of
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.facts.published_tables import Row, customary, table
from plumbtrue.mechanics.angle_factors import BANDS, Band, angle_factor_bounds
from plumbtrue.mechanics.chain_wrap import chain_wrap, choke_capacity
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.sling_leg import basket_factor, hitch_rating
from plumbtrue.quantities.bounds import Bounds, exceeds
from plumbtrue.quantities.dimension import ANGLE, FORCE, LENGTH, RATIO
from plumbtrue.quantities.values import NONE
from plumbtrue.rig.thing import Thing


def _rated(known: Gathering, thing: Thing) -> Bounds:
    return known.figure(thing, "working_load_limit", "rated load", within=NOUGHT_OR_MORE)


def _at_angle(known: Gathering, thing: Thing, fitting: str) -> Answer:
    """Rated load times the factor of the band that the angle of pull lies in; over several bands, all of
    their factors.
    """
    rated = _rated(known, thing)
    angle = known.perhaps(thing, "pull_angle", "angle of pull")
    known.settle()
    if isinstance(angle, Bounds):
        angle = Bounds(max(angle.low, 0.0), max(angle.high, 0.0))
    else:
        known.loose.append(Missing(thing, "pull_angle"))
        angle = Bounds(0.0, pi)
    rows = table("angle-bands").all(fitting=fitting)
    bands = [Band(_cell(row, "up_to"), _cell(row, "factor")) for row in rows]
    factors = angle_factor_bounds(angle.low, angle.high, [*bands, Band(inf, None)])
    factor_bounds = known.given(
        "factor for the angle",
        Bounds(factors.least or 0.0, factors.greatest or 0.0),
        RATIO,
        rows[0].authority,
    )
    known.step("angle of pull", angle, ANGLE)
    formula = "rated load x factor for the angle of pull"
    return known.within(rated * factor_bounds, "angle-factor", formula, FORCE, rows[0].authority)


def _cell(row: Row, column: str) -> float:
    figure = row.figure(column)
    assert figure is not None
    return figure.low


@computed("shackle", "reduced_rating")
def shackle_rating(known: Gathering, thing: Thing) -> Answer:
    """Rated load of a shackle at the angle at which it is pulled."""
    return _at_angle(known, thing, "shackle")


@computed("eye_bolt", "reduced_rating")
def eye_bolt_rating(known: Gathering, thing: Thing) -> Answer:
    """Rated load of an eye bolt at the angle at which it is pulled; one without a shoulder bears no pull at
    an angle.
    """
    shoulder = known.word(thing, "shoulder")
    known.settle()
    return _at_angle(known, thing, "eye-bolt-with-shoulder" if shoulder == "yes" else "eye-bolt-plain")


@computed("trim_chain", "assembly_capacity")
def chain_capacity(known: Gathering, thing: Thing) -> Answer:
    """What a chain is good for in its line: two legs by the cosine of half their angle where they share, one
    where they do not.

    Choked, or closed back on itself, one leg carries and the other only grips. Nothing is known of a chain
    shortened by a knot or a bolt, and of one bent round a pipe too thin for it.
    """
    rated = _rated(known, thing)
    shortened = known.words(thing, "shortened_by")
    if shortened and "none" not in shortened:
        known.decline("a chain shortened by a knot or a bolt has no known rating")
    attachment = known.word(thing, "attachment")
    known.settle()
    if attachment == "choke":
        return _choked(known, rated)
    if attachment != "wrap":
        known.suppose("a chain that hangs in one leg is good for its rated load")
        return known.answer(rated, "chain-hung", "rated load of one leg", FORCE, "maker's rating")
    return _wrapped(known, thing, rated)


def _choked(known: Gathering, rated: Bounds) -> Answer:
    factor, source = customary("chain-choker-factor")
    known.given("choker factor", factor, RATIO, source)
    found = over_bounds(choke_capacity, rated, factor)
    return known.answer(found, "chain-choke", "rated load x choker factor", FORCE, source)


def _wrapped(known: Gathering, thing: Thing, rated: Bounds) -> Answer:
    pipe = known.figure(batten_of(known, thing), "outside_diameter", "pipe", within=NOUGHT_OR_MORE)
    wire = known.figure(thing, "size", "chain", within=NOUGHT_OR_MORE)
    legs = known.figure(thing, "legs", within=NOUGHT_OR_MORE)
    closes = known.words(thing, "closes_to")
    known.settle()
    full, source = customary("full-chain-bend")
    if wire.low <= 0:
        known.decline("a chain without thickness")
    if exceeds(full.low, (pipe / wire).low):
        limit = f"under {full.low:g} chain diameters; {source}"
        known.decline(f"round so thin a pipe its rating is by the maker's table ({limit})")
    known.step("pipe over chain", pipe / wire, RATIO)
    if closes == {"itself"}:
        return _choked(known, rated)
    one_leg = rated if closes == {"eye"} else rated.hull(rated * customary("chain-choker-factor")[0])
    if legs.high < 2:
        return known.answer(one_leg, "chain-wrap", "rated load of one leg", FORCE, "statics (derived)")
    two = _two_legs(known, thing, rated, pipe, wire)
    both = two if legs.low >= 2 and closes == {"eye"} else two.hull(one_leg)
    formula = (
        "2 x rated load x cos(a), sin(a) = r / height where the legs meet; one leg where they do not share"
    )
    return known.within(
        both, "chain-wrap", formula, FORCE, "tangent from a point to a circle, statics (derived)"
    )


def _two_legs(known: Gathering, thing: Thing, rated: Bounds, pipe: Bounds, wire: Bounds) -> Bounds:
    """Two legs: as many as share, at the angle between them."""
    share = known.facts.answer(thing, "legs_share")
    words = getattr(share.value, "possible", frozenset[str]())
    if words and "evenly" not in words:
        known.value(thing, "legs_share")
        known.suppose("legs that do not share count as one")
        return rated
    meet = known.perhaps(thing, "legs_meet_above", "height where the legs meet")
    radius = (pipe + wire) * Bounds.exactly(0.5)
    if isinstance(meet, Bounds) and exceeds(meet.low, radius.high):
        known.step("angle between the legs", over_bounds(_between_legs, pipe, wire, meet), ANGLE)
        per_pull = over_bounds(_leg_for_each_newton, pipe, wire, meet)
    else:
        # Legs that meet at the pipe itself spread flat, and their tension grows without limit.
        per_pull = Bounds(0.5, inf)
        known.loose.append(Missing(thing, "legs_meet_above"))
    known.step("pull in a leg over that of the line", per_pull, RATIO)
    two = rated / per_pull
    if words == {"evenly"}:
        known.value(thing, "legs_share")
        return two
    known.loose.extend(share.missing or (Missing(thing, "legs_share"),))
    return two.hull(rated)


def _between_legs(pipe: float, wire: float, meet_above: float) -> float | Refused:
    found = chain_wrap(pipe, wire, meet_above, 1.0)
    return found if isinstance(found, Refused) else found.included_angle


def _leg_for_each_newton(pipe: float, wire: float, meet_above: float) -> float | Refused:
    found = chain_wrap(pipe, wire, meet_above, 1.0, legs_equalise=True)
    return found if isinstance(found, Refused) else found.leg_tension


def _round_the_pipe(known: Gathering, thing: Thing) -> tuple[Bounds, Bounds, Bounds] | None:
    """Pipe, chain and height where the legs meet [m]; nothing for a chain that is not wrapped with two legs."""
    attachment = known.word(thing, "attachment")
    legs = known.figure(thing, "legs", within=NOUGHT_OR_MORE)
    known.settle()
    if attachment != "wrap" or legs.high < 2:
        return None
    pipe = known.figure(batten_of(known, thing), "outside_diameter", "pipe", within=NOUGHT_OR_MORE)
    wire = known.figure(thing, "size", "chain", within=NOUGHT_OR_MORE)
    meet = known.figure(thing, "legs_meet_above", "height where the legs meet", within=NOUGHT_OR_MORE)
    known.settle()
    known.step("r, to the chain's centre", (pipe + wire) * Bounds.exactly(0.5), LENGTH)
    return pipe, wire, meet


_TANGENT = "tangent from a point to a circle (derived)"


@computed("trim_chain", "legs_angle")
def legs_angle(known: Gathering, thing: Thing) -> Answer:
    """Angle between the two legs of a wrap; none for a chain without two of them."""
    found = _round_the_pipe(known, thing)
    if found is None:
        return known.within(NONE, "chain-wrap", "it has no two legs round a pipe", None)
    angle = over_bounds(_between_legs, *found)
    return known.within(angle, "chain-wrap", "2 asin(r / q)", ANGLE, _TANGENT)


@computed("trim_chain", "length_round")
def length_round(known: Gathering, thing: Thing) -> Answer:
    """Chain that a wrap takes up to where its legs meet; none for a chain without two legs round a pipe."""
    found = _round_the_pipe(known, thing)
    if found is None:
        return known.within(NONE, "chain-wrap", "it has no two legs round a pipe", None)
    turns = known.figure(thing, "wraps", "times round the pipe", within=NOUGHT_OR_MORE)
    known.settle()
    if not (turns.is_exact and turns.low >= 1 and turns.low == int(turns.low)):
        known.decline("a wrap goes round the pipe once or more, a whole number of times")

    def developed(pipe: float, wire: float, meet_above: float) -> float | Refused:
        told = chain_wrap(pipe, wire, meet_above, 1.0, turns=int(turns.low))
        return told if isinstance(told, Refused) else told.developed_length

    known.step(
        "a, half the angle between the legs", over_bounds(_between_legs, *found) * Bounds.exactly(0.5), ANGLE
    )
    formula = "2 sqrt(q^2 - r^2) + (pi + 2 a) r + 2 pi r (turns - 1)"
    return known.within(over_bounds(developed, *found), "chain-wrap", formula, LENGTH, _TANGENT)


@computed("sling", "limit")
def sling_limit(known: Gathering, thing: Thing) -> Answer:
    """Rated load of a sling as it is hitched. A choker takes off by its angle from the choker's own rating on
    its tag.
    """
    rated = _rated(known, thing)
    hitch = known.word(thing, "hitch")
    known.settle()
    if hitch == "vertical":
        return known.answer(rated, "sling-hitch", "rated load", FORCE, "the sling's tag")
    if hitch == "basket":
        apart = known.perhaps(thing, "legs_apart", "angle between the legs")
        spread = (
            apart if isinstance(apart, Bounds) else Bounds.exactly(0.0) if apart is NONE else Bounds(0.0, pi)
        )
        if apart is None:
            known.loose.append(Missing(thing, "legs_apart"))
        # Legs that lie flat hold nothing up.
        low, high = (min(max(one, 0.0), pi) for one in (spread.low, spread.high))
        factor = Bounds(0.0 if high == pi else basket_factor(high), 0.0 if low == pi else basket_factor(low))
        known.step("2 cos(half the angle between the legs)", factor, RATIO)
        formula = "2 x rated load x cos(half the angle between the legs)"
        return known.within(rated * factor, "sling-hitch", formula, FORCE, "statics (derived)")
    angle = known.perhaps(thing, "choke_angle", "angle of choke")
    if angle is None:
        known.loose.append(Missing(thing, "choke_angle"))
    possible = angle if isinstance(angle, Bounds) else Bounds(0.0, pi)
    factors = angle_factor_bounds(max(possible.low, 0.0), min(possible.high, pi), BANDS["choker-angle"])
    choker, source = _choker_factor(known, thing)
    for_angle = Bounds(factors.least or 0.0, factors.greatest or 0.0)
    known.given("choker factor", choker, RATIO, source)
    known.given("factor for the angle of choke", for_angle, RATIO, table("angle-bands").rows[0].authority)
    return known.within(
        over_bounds(hitch_rating, rated, choker, for_angle),
        "sling-hitch",
        "rated load x choker factor x factor for its angle",
        FORCE,
        source,
    )


def _choker_factor(known: Gathering, sling: Thing) -> tuple[Bounds, str]:
    """Share of its straight rating that a sling keeps in a choke, and the source: chain has one of its own."""
    of_chain, of_others = customary("chain-choker-factor"), customary("sling-choker-factor")
    words = known.words(sling, "type")
    known.settle()
    if words == {"alloy-chain"}:
        return of_chain
    if "alloy-chain" in words:
        return of_chain[0].hull(of_others[0]), of_others[1]
    return of_others


@computed("trim_chain", "stretch")
def chain_stretch(known: Gathering, thing: Thing) -> Answer:
    """Stretch of a chain: length of ten links now over that when new, less one."""
    now = known.figure(thing, "gauge_length", within=NOUGHT_OR_MORE)
    new = known.figure(thing, "gauge_length_new", within=NOUGHT_OR_MORE)
    known.settle()
    if new.low <= 0:
        known.decline("a chain without length")
    return known.answer(
        now / new - Bounds.exactly(1.0), "chain-stretch", "now / new - 1", RATIO, "arithmetic"
    )
