"""The pull of each lift line: at what is posted, bare, with what hangs now, out of level; and what follows
from it.
"""

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.hung_batten import HungBatten, hung_batten
from plumbtrue.facts.computed.load_cases import live_part, posted_spread
from plumbtrue.facts.computed.load_path import rope_strength
from plumbtrue.facts.computed.posted_batten import (
    FORMULA,
    SOURCE,
    LoadedBatten,
    bare_batten,
    posted_batten,
    say_lines,
)
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.computed.rope import elasticity
from plumbtrue.facts.computed.trim_working import say_sensitivity, say_trim
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Declined, Gathering, clipped
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.facts.published_tables import customary
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.rope_stretch import elastic_stretch, shock
from plumbtrue.quantities.bounds import Bounds, hull_of
from plumbtrue.quantities.dimension import FORCE, FORCE_PER_LENGTH, LENGTH
from plumbtrue.quantities.values import NONE, Choice
from plumbtrue.rig.thing import Thing

_NOT_HOLDING = "it does not hold the batten"
_ANY_STIFFNESS = 1.0e4
"""The rule of thumb does not hang on EI [N m2]."""
_CARRIES_SOMETHING_ELSE = frozenset({"spot", "breast"})


def _pull(known: Gathering, loaded: LoadedBatten, line: Thing, what: str) -> Answer:
    found = loaded.of_line(line)
    if found is None:
        known.decline(_NOT_HOLDING)
    known.include(loaded.known)
    place = "" if found.at is None else f" at {known.said(Bounds.exactly(found.at), LENGTH)}"
    known.steps.append(("greatest with", f"{found.case}{place}"))
    say_lines(known, loaded.hung.lines, found.state)
    known.step("and its lower end", loaded.end_of(line), FORCE)
    return known.within(found.bounds, what, FORMULA, FORCE, SOURCE)


@computed("lift_line", "reaction")
def reaction(known: Gathering, thing: Thing) -> Answer:
    """Greatest pull on the line just above the batten at what the house has posted, its lower end
    included.

    A spot or breast line carries something of its own: its pull is what somebody measured.
    """
    line_set = known.around(thing, "line_set")
    role = known.facts.value(thing, "role")
    if isinstance(role, Choice) and role.possible <= _CARRIES_SOMETHING_ELSE:
        measured = known.figure(thing, "measured_tension", "its pull, measured", within=NOUGHT_OR_MORE)
        return known.answer(measured, "measured", "pull as measured", FORCE, "measured in the house")
    return _pull(known, known.facts.kept(line_set, posted_batten), thing, "batten-reactions")


@computed("lift_line", "reaction_bare")
def reaction_bare(known: Gathering, thing: Thing) -> Answer:
    """Pull on the line with the bare batten, its lower end included."""
    line_set = known.around(thing, "line_set")
    return _pull(known, known.facts.kept(line_set, bare_batten), thing, "batten-reactions")


@computed("lift_line", "reaction_present")
def reaction_present(known: Gathering, thing: Thing) -> Answer:
    """Pull on the line with what hangs now. Nobody records where on the batten that is, so it may be
    anywhere.
    """
    line_set = known.around(thing, "line_set")
    load = known.perhaps(line_set, "present_load", "what hangs now")
    if load is NONE or load == Bounds.exactly(0.0):
        return reaction_bare(known, thing)
    hung = known.facts.kept(line_set, hung_batten)
    if not isinstance(load, Bounds):
        known.lack(line_set, "present_load")
        raise known.what_is_missing()
    if thing not in hung.lines:
        known.decline(_NOT_HOLDING)
    known.include(hung.known)
    known.loose.append(Missing(line_set, "present_load", "where on the batten it hangs is not recorded"))
    known.suppose("lines are level, plumb and do not stretch")
    known.suppose("what hangs now may hang anywhere along the batten")
    from plumbtrue.facts.computed.batten_solving import anywhere

    pulls = anywhere(hung, load)
    return known.within(pulls[hung.lines.index(thing)], "batten-reactions", FORMULA, FORCE, SOURCE)


@computed("lift_line", "tributary_share")
def tributary_share(known: Gathering, thing: Thing) -> Answer:
    """The rule of thumb: what lies halfway to each neighbour, at the spread load that is posted."""
    hung, live = _posted_spread(known, thing)
    from plumbtrue.mechanics.batten import Batten, Line
    from plumbtrue.mechanics.tributary import tributary_tensions

    spread = known.step(
        "weight per length, live load included", hung.spread + live / hung.length, FORCE_PER_LENGTH
    )
    number = hung.lines.index(thing)
    ends: list[Bounds] = []
    for layout in hung.layouts():
        pipe = Batten(layout.length, _ANY_STIFFNESS, weight_per_length=1.0)
        length = float(tributary_tensions(pipe, [Line(at) for at in layout.lines], [])[number])
        known.step("length that it takes", Bounds.exactly(length), LENGTH)
        ends.append(spread * Bounds.exactly(length))
    share = hull_of(ends)
    own = known.step("and its lower end", hung.ends[number], FORCE)
    formula = "weight per length x half the distance to each neighbour + lower end"
    return known.answer(share + own, "tributary-compare", formula, FORCE, "common practice")


def _posted_spread(known: Gathering, thing: Thing) -> tuple[HungBatten, Bounds]:
    line_set = known.around(thing, "line_set")
    hung = known.facts.kept(line_set, hung_batten)
    if thing not in hung.lines:
        known.decline(_NOT_HOLDING)
    known.include(hung.known)
    posted = posted_spread(known, line_set, hung.length)
    known.settle()
    return hung, known.step("live load posted", live_part(known, line_set, posted, hung.fixed_load), FORCE)


def _stiff(known: Gathering, hung: HungBatten) -> Bounds:
    """EI of the batten [N m2]; counts what is missing of it."""
    if hung.stiffness is None:
        for name in ("second_moment", "grade"):
            if known.facts.answer(hung.batten, name).missing:
                known.lack(hung.batten, name)
        known.settle()
        known.decline("the stiffness of the batten is not known")
    return hung.stiffness


@computed("lift_line", "reaction_range_over_trim")
def reaction_range_over_trim(known: Gathering, thing: Thing) -> Answer:
    """Least and greatest pull when every line may hang out of level by the trim tolerance, at the spread load
    posted.

    Lines are taken as unyielding, which gives the widest range; rope stretch narrows it.
    """
    from plumbtrue.mechanics.batten import Batten, Line, SpreadLoad
    from plumbtrue.mechanics.trim import trim_range

    hung, live = _posted_spread(known, thing)
    stiff = _stiff(known, hung)
    if not hung.joints_known:
        known.lack(hung.batten, "splices")
    known.settle()
    tolerance, source = customary("trim-tolerance", "length")
    known.given("trim tolerance", tolerance, LENGTH, source)
    known.suppose(
        f"lines are out of level by at most {known.said(tolerance, LENGTH)} ({source}) and do not stretch"
    )
    number = hung.lines.index(thing)
    least, greatest = float("inf"), float("-inf")
    for layout in hung.layouts():
        for spread in sorted({hung.spread.low, hung.spread.high}):
            for weight in sorted({live.low, live.high}):
                loads = [SpreadLoad.uniform(0.0, layout.length, weight)] if weight > 0 else []
                batten = Batten(layout.length, stiff.high, spread)
                found = trim_range(batten, [Line(at) for at in layout.lines], loads, tolerance.high)
                if isinstance(found, Refused):
                    raise Declined(found.reason)
                least = min(least, float(found.least[number]))
                greatest = max(greatest, float(found.greatest[number]))
                if not found.exact:
                    known.suppose("found by search, which may be a little too narrow")
    say_trim(known, hung, number, tolerance)
    bounds = Bounds(least, greatest) + known.step("and its lower end", hung.ends[number], FORCE)
    formula = (
        "R_i +/- t sum_j |S_ij| while no line goes slack; else the extremes over the sets of tight lines"
    )
    return known.within(
        bounds, "trim-worst-case", formula, FORCE, "sensitivity of the tensions to the trim (derived)"
    )


@computed("lift_line", "load_per_turn")
def load_per_turn(known: Gathering, thing: Thing) -> Answer:
    """Change of pull by one turn of the line's turnbuckle; none for a line without one."""
    from plumbtrue.mechanics.batten import Batten, Line
    from plumbtrue.mechanics.rope_stretch import turnbuckle_turn
    from plumbtrue.mechanics.trim import sensitivity

    parts = [*known.things(thing, "lower"), *known.things(thing, "upper")]
    known.settle()
    turnbuckle = next((part for part in parts if part.kind.name == "turnbuckle"), None)
    if turnbuckle is None:
        return known.within(NONE, "turnbuckle-turn", "the line has no turnbuckle", None)
    threads = known.figure(turnbuckle, "threads_per_inch", within=NOUGHT_OR_MORE)
    line_set = known.around(thing, "line_set")
    hung = known.facts.kept(line_set, hung_batten)
    if thing not in hung.lines:
        known.decline(_NOT_HOLDING)
    known.include(hung.known)
    stiff = _stiff(known, hung)
    known.settle()
    if threads.low <= 0:
        known.decline("a thread has at least one turn to the inch")
    known.suppose("lines do not stretch and none is slack")
    number = hung.lines.index(thing)
    figures = []
    for layout in hung.layouts():
        for EI in (stiff.low, stiff.high):
            S = sensitivity(Batten(layout.length, EI), [Line(at) for at in layout.lines])
            if isinstance(S, Refused):
                raise Declined(S.reason)
            for turns in (threads.low, threads.high):
                figures.append(abs(turnbuckle_turn(0.0254 / turns, float(S[number, number]))[1]))
    bounds = Bounds(min(figures), max(figures))
    return known.answer(
        bounds, "turnbuckle-turn", "S_ii x 2 / threads to the inch", FORCE, "geometry of two opposed threads"
    )


@computed("lift_line", "offset_found")
def offset_found(known: Gathering, thing: Thing) -> Answer:
    """How short the line is, from the measured tensions of all lines with the bare batten."""
    from plumbtrue.mechanics.batten import Batten, Line
    from plumbtrue.mechanics.reactions import solve
    from plumbtrue.mechanics.trim import offsets_from_tensions

    line_set = known.around(thing, "line_set")
    hung = known.facts.kept(line_set, hung_batten)
    if thing not in hung.lines:
        known.decline(_NOT_HOLDING)
    known.include(hung.known)
    measured = [known.figure(line, "measured_tension", within=NOUGHT_OR_MORE) for line in hung.lines]
    stiff = _stiff(known, hung)
    known.settle()
    if not hung.joints_known:
        known.lack(hung.batten, "splices")
        known.settle()
    known.suppose("measured with the bare batten; lines do not stretch")
    number, found = hung.lines.index(thing), []
    layout = hung.layouts()[0]
    for EI in (stiff.low, stiff.high):
        for spread in (hung.spread.low, hung.spread.high):
            for side in ("low", "high"):
                level = solve(Batten(layout.length, EI, spread), [Line(at) for at in layout.lines], [])
                if isinstance(level, Refused):
                    raise Declined(level.reason)
                tensions = [
                    getattr(one, side) - (end.low + end.high) / 2
                    for one, end in zip(measured, hung.ends, strict=True)
                ]
                offsets = offsets_from_tensions(level, tensions)
                if isinstance(offsets, Refused):
                    raise Declined(offsets.reason)
                found.append(float(offsets[number]))
    bounds = Bounds(min(found), max(found))
    return known.within(
        bounds, "offsets-from-tensions", "d = pinv(S) (T - R level)", LENGTH, "least squares (derived)"
    )


@computed("batten", "first_slack")
def first_slack(known: Gathering, thing: Thing) -> Answer:
    """Tolerance of every line's end at which the first line can hang slack under the bare pipe.

    Lines are taken as unyielding, which makes it least; rope stretch widens it.
    """
    from plumbtrue.mechanics.batten import Batten, Line
    from plumbtrue.mechanics.trim import trim_range

    hung = known.facts.kept(known.around(thing, "line_set"), hung_batten)
    known.include(hung.known)
    stiff = _stiff(known, hung)
    if not hung.joints_known:
        known.lack(thing, "splices")
    known.settle()
    if len(hung.lines) < 3:
        known.decline("on two lines no trim makes one hang slack")
    known.suppose("lines do not stretch")
    found: list[float] = []
    for layout in hung.layouts():
        for EI in sorted({stiff.low, stiff.high}):
            for spread in sorted({hung.spread.low, hung.spread.high}):
                batten = Batten(layout.length, EI, spread)
                told = trim_range(batten, [Line(at) for at in layout.lines], [], 0.0)
                if isinstance(told, Refused):
                    raise Declined(told.reason)
                found.append(told.first_slack)
                if len(found) == 1:
                    for line, pull in zip(hung.lines, told.level, strict=True):
                        known.step(f"{line.key}, level", Bounds.exactly(float(pull)), FORCE)
    for number, _ in enumerate(hung.lines):
        say_sensitivity(known, hung, number)
    bounds = Bounds(min(found), max(found))
    formula = "least over the lines of R_i / sum_j |S_ij|"
    return known.within(
        bounds, "trim-worst-case", formula, LENGTH, "sensitivity of the tensions to the trim (derived)"
    )


@computed("lift_line", "goes_down")
def goes_down(known: Gathering, thing: Thing) -> Answer:
    """How far the line stretches more than under the bare pipe when what is posted comes on."""
    rope = known.thing(thing, "rope")
    EA = elasticity(known, rope) if rope is not None else NOUGHT_OR_MORE
    length = known.figure(rope, "length", within=NOUGHT_OR_MORE) if rope is not None else NOUGHT_OR_MORE
    posted = known.figure(thing, "reaction", "pull at what is posted", within=NOUGHT_OR_MORE)
    bare = known.figure(thing, "reaction_bare", "pull of the bare pipe", within=NOUGHT_OR_MORE)
    known.settle()
    added = clipped(known.step("added pull", posted - bare, FORCE), NOUGHT_OR_MORE)
    added = Bounds(max(added.low, 0.0), max(added.high, 0.0))
    known.suppose("levelled with the bare pipe, so that its stretch is taken out already")
    found = over_bounds(elastic_stretch, added, length, EA)
    return known.within(found, "rope-stretch", "(R - R bare) L / (E A)", LENGTH, "Hooke's law")


@computed("lift_line", "shock_force")
def shock_force(known: Gathering, thing: Thing) -> Answer:
    """Force in the line when its slack is suddenly taken up by what is posted: an upper estimate, without
    damping.

    Even without slack a load that is suddenly put on pulls twice its weight.
    """
    rope = known.thing(thing, "rope")
    slack = known.perhaps(thing, "slack_length", "slack")
    pull = known.figure(thing, "reaction", within=NOUGHT_OR_MORE)
    if slack is None:
        known.lack(thing, "slack_length")
    fall = slack if isinstance(slack, Bounds) else Bounds.exactly(0.0)
    stiff = Bounds.exactly(1.0)
    if fall.high > 0 and rope is not None:
        stiff = known.figure(rope, "stiffness", within=NOUGHT_OR_MORE)
    known.settle()
    if not (pull.low > 0 and stiff.low > 0):
        known.decline("nothing hangs on the line")
    fall = clipped(fall, NOUGHT_OR_MORE)
    if fall.high > 0:
        # The estimate holds only as long as the rope stays elastic, which nobody can tell without its strength.
        strength = rope_strength(known, rope) if rope is not None else NOUGHT_OR_MORE
        known.settle()
        peak = over_bounds(_jolt, pull, fall, stiff, Bounds.exactly(strength.low))
    else:
        peak = over_bounds(_jolt, pull, fall, stiff)
    formula = "W (1 + sqrt(1 + 2 h k / W)), up to 40 % of the rope's breaking strength"
    return known.answer(peak, "shock-load", formula, FORCE, "energy balance, any textbook of machine design")


def _jolt(weight: float, fall: float, stiffness: float, strength: float | None = None) -> float | Refused:
    found = shock(weight, fall, stiffness, breaking_strength=strength)
    return found if isinstance(found, Refused) else found.peak
