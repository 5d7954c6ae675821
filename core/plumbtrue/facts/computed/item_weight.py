"""What a piece of a show weighs: as stated, with its allowance, and from what it is made of."""

from math import inf

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.item_pulls import is_asked, only_load, places_of, pulls_of, step_of
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import NOUGHT_OR_MORE, Gathering
from plumbtrue.facts.over_bounds import over_bounds
from plumbtrue.mechanics.curtain_weight import Cloth, areal_weight, curtain_weight
from plumbtrue.mechanics.make_up import stated_over_computed
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import FORCE, RATIO
from plumbtrue.quantities.values import NONE, Unknown
from plumbtrue.rig.thing import Thing

_SUMS = "sums (derived)"
_PLOT = "what the plot says"


@computed("item", "stated_weight")
def stated_weight(known: Gathering, thing: Thing) -> Answer:
    """All-up weight as the plot states it: as a whole, else the sum of its pulls, else of what it is made
    of.
    """
    found = known.facts.kept(thing, pulls_of)
    known.include(found.known)
    for one in found.stated:
        known.step(one.label, one.weight, FORCE)
    if found.whole:
        return known.answer(found.stated_weight, "item-weight", "as stated", FORCE, _PLOT)
    raise known.what_is_missing()


@computed("item", "total_weight")
def total_weight(known: Gathering, thing: Thing) -> Answer:
    """All-up weight with the allowance for how it is known; at least what is known of it where something is
    not.
    """
    found = known.facts.kept(thing, pulls_of)
    known.include(found.known)
    step_of(known, found)
    if found.total.low <= 0 and found.total.high == inf:
        known.settle()
    formula = (
        "stated weight x (1 +/- allowance)" if found.allowance is not None else "as stated, with its bounds"
    )
    return known.within(found.total, "item-weight", formula, FORCE, "allowances: common practice")


@computed("item", "weight_allowance")
def weight_allowance(known: Gathering, thing: Thing) -> Answer:
    """Share by which its weight may be off; none where the plot gives bounds itself."""
    found = known.facts.kept(thing, pulls_of)
    if found.allowance is None:
        return known.within(NONE, "item-weight", "the plot gives bounds itself", None)
    known.value(thing, "weight_basis")
    share = Bounds.exactly(found.allowance.high - 1)
    return known.within(share, "item-weight", "by how the weight is known", RATIO, "common practice")


@computed("item", "pulls_total")
def pulls_total(known: Gathering, thing: Thing) -> Answer:
    """Sum of its pulls as stated, in the heaviest state; none where no pull is written."""
    found = known.facts.kept(thing, pulls_of)
    if not found.stated:
        return known.within(NONE, "item-weight", "no pull is written", None)
    known.include(found.known)
    known.settle()
    if is_asked(thing):
        what = "its pulls share what it is asked to weigh"
        return known.answer(found.stated_weight, "item-weight", what, FORCE, _SUMS)
    by_state = {
        state: sum((one.weight for one in found.stated if one.state == state), Bounds.exactly(0.0))
        for state in ("open", "closed", "in", "out")
    }
    always = sum((one.weight for one in found.stated if one.state == "always"), Bounds.exactly(0.0))
    total = always + max(by_state.values(), key=lambda one: (one.high, one.low))
    return known.answer(total, "item-weight", "sum of its pulls", FORCE, _SUMS)


@computed("item", "pulls_off")
def pulls_off(known: Gathering, thing: Thing) -> Answer:
    """By how much the sum of its pulls differs from what the piece is said to weigh, over that weight: nought for
    the only load of a piece, which pulls with what the piece weighs; none where no pull is written.
    """
    formula = "|sum of its pulls - weight| / weight"
    total = known.perhaps(thing, "pulls_total", "sum of its pulls")
    if total is NONE:
        return known.within(NONE, "item-weight", "no pull is written", None)
    weight = known.figure(thing, "stated_weight", "as stated", within=NOUGHT_OR_MORE)
    if not isinstance(total, Bounds):
        known.lack(thing, "pulls_total")
    known.settle()
    assert isinstance(total, Bounds)
    if only_load(known, thing) is not None:
        return known.within(Bounds.exactly(0.0), "item-weight", formula, RATIO, "arithmetic")
    if weight.low <= 0:
        known.decline("a piece that may weigh nothing")
    ends = [_off(pulls, weighs) for pulls in (total.low, total.high) for weighs in (weight.low, weight.high)]
    agree = total.low <= weight.high and weight.low <= total.high
    off = Bounds(0.0 if agree else min(ends), max(ends))
    return known.answer(off, "item-weight", formula, RATIO, "arithmetic")


def _off(pulls: float, weighs: float) -> float:
    # Of a weight without end a sum with one is no part at all.
    if weighs == inf:
        return inf if pulls == inf else 1.0
    return abs(pulls - weighs) / weighs


@computed("item", "weight_from_make_up")
def weight_from_make_up(known: Gathering, thing: Thing) -> Answer:
    """Weight from areas, lengths and counts of what it is made of; cloth with its fullness, and its bottom
    weight.
    """
    total = Bounds.exactly(0.0)
    parts = (
        [*known.things(thing, "make_up")]
        if not isinstance(known.facts.part(thing, "make_up"), Unknown)
        else []
    )
    cloth = known.facts.part(thing, "cloth")
    cloths = cloth if isinstance(cloth, tuple) else ()
    if not parts and not cloths:
        known.lack(thing, "make_up")
        known.settle()
    for part in parts:
        total = total + _stretch(known, part)
    if not cloths and isinstance(known.facts.value(thing, "fullness"), Bounds):
        known.suppose(
            "the areas of what it is made of are those of the flat cloth: its fullness is not added"
        )
    if cloths:
        width, height = _width(known, thing), known.figure(thing, "height", within=NOUGHT_OR_MORE)
        fullness = known.figure(thing, "fullness", "fullness", within=NOUGHT_OR_MORE)
        if any(isinstance(known.facts.value(one, "area"), Bounds) for one in cloths):
            known.suppose("the area written of a cloth is not used: width, height and fullness are")
        for one in cloths:
            per_area = known.perhaps(one, "per_area", f"weight per area of {one.key}")
            if not isinstance(per_area, Bounds):
                linear = known.figure(
                    one, "per_length", f"weight per linear length of {one.key}", within=NOUGHT_OR_MORE
                )
                across = known.figure(one, "cloth_width", f"width of {one.key}", within=NOUGHT_OR_MORE)
                known.settle()
                per_area = over_bounds(areal_weight, linear, across)
            hung = over_bounds(_cloth, width, height, fullness, per_area)
            total = total + known.step(f"{one.key}, with its fullness", hung, FORCE)
        bottom = known.perhaps(thing, "bottom_weight", "bottom weight per length")
        if isinstance(bottom, Bounds):
            total = total + known.step("bottom weight", bottom * width, FORCE)
    known.settle()
    return known.answer(
        total,
        "weight-from-make-up",
        "sum of area x weight per area, length x weight per length, count x each",
        FORCE,
        _SUMS,
    )


def _cloth(width: float, height: float, fullness: float, per_area: float) -> float:
    # What a plot tells is the height as hung; hems are in it or in what is weighed.
    return curtain_weight(Cloth(width, height, 0.0, fullness, per_area)).cloth


def _width(known: Gathering, thing: Thing) -> Bounds:
    found = known.figure(thing, "half_width", "half width", within=NOUGHT_OR_MORE)
    reach = width_of(known, thing)
    return reach if reach is not None else found * Bounds.exactly(2.0)


def width_of(known: Gathering, thing: Thing) -> Bounds | None:
    """Width of all its reaches together [m]; nothing where they are not all written."""
    extents = known.facts.part(thing, "extent")
    if not isinstance(extents, tuple) or known.facts.is_unlisted(thing, "extent"):
        return None
    total = Bounds.exactly(0.0)
    for extent in extents:
        ends = [*places_of(known.facts, extent, "from"), *places_of(known.facts, extent, "to")]
        if len(ends) != 2 or ends[0].from_centre != ends[1].from_centre:
            return None
        total = total + abs(ends[1].distance - ends[0].distance)
    return total


def _stretch(known: Gathering, part: Thing) -> Bounds:
    """One line of a make-up [N]; what is missing of it is counted."""
    total, told = Bounds.exactly(0.0), False
    for amount, per in (("area", "per_area"), ("length", "per_length")):
        have = [
            known.perhaps(part, name, f"{name.replace('_', ' ')} of {part.key}") for name in (amount, per)
        ]
        if all(isinstance(one, Bounds) for one in have):
            total, told = total + have[0] * have[1], True  # type: ignore[operator]  # both are bounds
        elif any(isinstance(one, Bounds) for one in have):
            known.lack(part, per if isinstance(have[0], Bounds) else amount)
    each = known.perhaps(part, "each", f"weight of each {part.key}")
    if isinstance(each, Bounds):
        total, told = total + each, True
    if not told:
        known.lack(part, "each")
    count = known.perhaps(part, "count", f"count of {part.key}")
    return total * count if isinstance(count, Bounds) else total


@computed("item", "weight_ratio")
def weight_ratio(known: Gathering, thing: Thing) -> Answer:
    """Stated weight over the weight from its make."""
    stated = known.figure(thing, "stated_weight", within=NOUGHT_OR_MORE)
    made = known.figure(thing, "weight_from_make_up", within=NOUGHT_OR_MORE)
    known.settle()
    if made.low <= 0:
        known.decline("what it is made of weighs nothing")
    ratio = over_bounds(stated_over_computed, stated, made)
    return known.answer(ratio, "weight-ratio", "stated / computed", RATIO, "arithmetic")


@computed("cable", "weight_by_length")
def cable_by_length(known: Gathering, thing: Thing) -> Answer:
    """Run by number by weight per length."""
    run = known.figure(thing, "run", within=NOUGHT_OR_MORE)
    count = known.figure(thing, "count", within=NOUGHT_OR_MORE)
    per_length = known.figure(thing, "per_length", within=NOUGHT_OR_MORE)
    known.settle()
    return known.answer(
        run * count * per_length, "cable-weight", "run x count x weight per length", FORCE, _SUMS
    )


@computed("cable", "weight_counted")
def cable_counted(known: Gathering, thing: Thing) -> Answer:
    """The larger of the stated weight and that from run, number and weight per length; the one that is known
    where only one is.
    """
    stated = known.perhaps(thing, "weight", "as stated")
    by_length = known.facts.value(thing, "weight_by_length")
    if isinstance(by_length, Bounds):
        known.value(thing, "weight_by_length")
        if not isinstance(stated, Bounds):
            return known.answer(by_length, "cable-weight", "run x count x weight per length", FORCE, _SUMS)
        larger = Bounds(max(stated.low, by_length.low), max(stated.high, by_length.high))
        return known.answer(
            larger, "cable-weight", "the larger of stated and computed", FORCE, "common practice"
        )
    if isinstance(stated, Bounds):
        known.suppose("run, number or weight per length is not recorded: it may be more than stated")
        for name in ("run", "count", "per_length"):
            if not isinstance(known.facts.value(thing, name), Bounds):
                known.loose.append(Missing(thing, name))
        return known.within(stated, "cable-weight", "as stated", FORCE, _PLOT)
    known.lack(thing, "weight_by_length")
    raise known.what_is_missing()


@computed("item", "people_words")
def people_words(known: Gathering, thing: Thing) -> Answer:
    """Words in its name and notes that speak of somebody on it, in it or under its lift; none where there are
    none.
    """
    from plumbtrue.facts.computed.people_words import words_about_people
    from plumbtrue.quantities.values import Name

    texts = [one.note for one in thing.below() if one.note]
    texts += [recorded.note for one in thing.below() for recorded in one.facts.values() if recorded.note]
    name = known.facts.value(thing, "name")
    if isinstance(name, Name):
        texts.append(name.text)
    found = words_about_people(" . ".join(texts))
    if not found:
        return known.within(NONE, "people-words", "no such word in its name and notes", None)
    return known.within(
        Name(", ".join(found)), "people-words", "words in its name and notes", None, "common practice"
    )
