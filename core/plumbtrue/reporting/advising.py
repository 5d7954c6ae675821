"""What would settle a piece, in words: the number, and where else in the house it would hang."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from math import floor, inf
from shlex import quote
from typing import Final, cast

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.bricks_that_fit import BricksThatFit, bricks_that_fit
from plumbtrue.audit.dials import Dial
from plumbtrue.audit.elsewhere import OUT_OF_SERVICE, Elsewhere, Offer, elsewhere
from plumbtrue.audit.item_verdicts import ItemState, ItemVerdict, People
from plumbtrue.audit.trials import Trials
from plumbtrue.audit.verdicts import State
from plumbtrue.audit.what_settles import ForAll, Numbers, Settled, Turned, numbers_for, weight_step
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import DURATION, FORCE, LENGTH, RATIO
from plumbtrue.quantities.writing import System, write
from plumbtrue.reporting.places_in_words import name_of
from plumbtrue.reporting.show_report import Advice, ShowNumber, ShowOffer
from plumbtrue.reporting.wording import counted, listed, marks
from plumbtrue.rig.natural_order import natural_order

_NOTHING_FOR_PEOPLE = "No number is given for a piece with somebody on it: turn to a specialist."
_MOST_AGAINST: Final = 3
_MOST_WITH_CHANGES: Final = 3
NOTHING: Final = Advice((), (), (), (), ())


def advice_of(audit: Audit) -> Callable[[ItemVerdict], Advice] | None:
    """What to say about each piece of an audit; nothing where no plot was laid."""
    if audit.show is None:
        return None
    trials = Trials(audit)

    def advise(verdict: ItemVerdict) -> Advice:
        if verdict.state is ItemState.AS_ASKED:
            return NOTHING
        if verdict.people is People.SOMEBODY:
            return replace(NOTHING, lines=(_NOTHING_FOR_PEOPLE,))
        system = cast(System, audit.rig.units)
        known = trials.with_nothing_changed()
        fitting = bricks_that_fit(known, verdict)
        total = known.value(verdict.item, "total_weight")
        too_heavy = isinstance(total, Bounds) and fitting is not None and total.high > fitting.most
        at_most = fitting.most if too_heavy and fitting is not None else inf
        found = numbers_for(trials, verdict, at_most)
        others = elsewhere(trials, verdict)
        return Advice(
            lines=(*numbers(found, verdict, system, fitting if too_heavy else None), *places(others, system)),
            numbers=tuple(_told(found, system)),
            for_all=tuple(one.asked for one in found.for_all),
            offers=tuple(_offers(others)),
            not_tried=others.not_tried if others is not None else (),
        )

    return advise


def numbers(
    found: Numbers, verdict: ItemVerdict, system: System, fitting: BricksThatFit | None = None
) -> tuple[str, ...]:
    """The number that would settle each matter, and the one that would settle all that hang on one fact.

    Weights are printed in the unit in which they were searched: whole pounds, or kilograms.
    """
    by_rule: dict[str, Settled] = {}
    for one in found.weights:
        by_rule.setdefault(one.outcome.rule, one)
    told = [f"{one.outcome.rule}: {_number(one, system)}{_then(one.then)}." for one in by_rule.values()]
    if found.weights and fitting is not None:
        unit = weight_step(system).size
        whole = replace(found.weights[0], most=floor(fitting.most / unit + 1e-9) * unit, as_known=None)
        bricks = write(Bounds.exactly(fitting.bricks), FORCE, system)
        told.append(f"In whole bricks ({bricks} fit): {_number(whole, system)}.")
    of_weight = [one for one in found.for_all if one.dial is None]
    told += [_weight_to_be_met(one, found.weights[0], system) for one in of_weight]
    told += [f"{one.outcome.rule}: {_turned(one, verdict, system)}{_then(one.then)}." for one in found.turned]
    told += [_to_be_met(one, one.dial, verdict, system) for one in found.for_all if one.dial is not None]
    if len(found.turned) == 1:
        told.append(f"To try it: {_set(found.turned[0].asked)}")
    return tuple(told)


def _set(asked: Iterable[str]) -> str:
    """What to type, as a shell takes it."""
    return " ".join(f"--set {quote(text)}" for text in asked)


def _then(rules: Iterable[str]) -> str:
    slugs = list(rules)
    return (
        f"; but then {listed(slugs)} {'speaks' if len(slugs) == 1 else 'speak'} against it" if slugs else ""
    )


_TOO: Final = {
    "in_trim": ("low", "high"),
    "out_trim": ("low", "high"),
    "trims": ("low", "high"),
    "trim": ("low", "high"),
    "apex_height": ("low", "high"),
    "time": ("short", "long"),
    "operators": ("few", "many"),
    "count": ("few", "many"),
    "loop_length": ("short", "long"),
}
"""What a number is too, that is to be more or less; of all others little and much."""


def _turned(one: Turned, verdict: ItemVerdict, system: System) -> str:
    dial = one.dial
    off = abs(one.number - dial.middle)
    word = _TOO.get(dial.fact, ("little", "much"))[0 if one.more else 1]
    stated = _of_dial(dial.middle, dial, system)
    return (
        f"{_called(dial, verdict)}: {stated} is {_of_dial(off, dial, system)} too {word}; "
        f"{_of_dial(one.number, dial, system)} would do"
    )


def _to_be_met(one: ForAll, dial: Dial, verdict: ItemVerdict, system: System) -> str:
    number = _of_dial(one.number, dial, system)
    what = _called(dial, verdict)
    return (
        f"At {number} for {what} all that hang on it are met{_then(one.then)}. To try it: {_set(one.asked)}"
    )


def _called(dial: Dial, verdict: ItemVerdict) -> str:
    """What a dial is called, with whose it is where that is not the piece itself."""
    fact = "trim" if dial.fact == "trims" else dial.fact.replace("_", " ")
    return fact if dial.thing is verdict.item else f"{fact} of {name_of(dial.thing)}"


def _of_dial(figure: float, dial: Dial, system: System) -> str:
    dimension = {"in": LENGTH, "cm": LENGTH, "s": DURATION}.get(dial.step.unit, RATIO)
    return write(Bounds.exactly(figure), dimension, system)


def _told(found: Numbers, system: System) -> Iterator[ShowNumber]:
    """The numbers for a program."""
    for one in found.weights:
        known = one.as_known if one.as_known is not None else one.most
        yield ShowNumber(
            rule=one.outcome.rule,
            about=one.outcome.thing.path,
            thing="",
            fact="weight",
            number=weight(one.most, system),
            as_known=weight(known, system),
            asked=one.asked,
            then=one.then,
        )
    for its in found.turned:
        number = _of_dial(its.number, its.dial, system)
        yield ShowNumber(
            rule=its.outcome.rule,
            about=its.outcome.thing.path,
            thing=its.dial.thing.path,
            fact=its.dial.fact,
            number=number,
            as_known=number,
            asked=its.asked,
            then=its.then,
        )


def _offers(found: Elsewhere | None) -> Iterator[ShowOffer]:
    for one in found.offers if found is not None else ():
        yield ShowOffer(
            line_set=one.key,
            away=one.away,
            comes_to="clear" if one.is_clear else "with-changes" if one.fits else "against",
            exchanged=one.exchanged,
            first=one.first,
            against=one.against,
            remarks=one.remarks,
            asked=one.asked,
        )


def _number(one: Settled, system: System) -> str:
    most = weight(one.most, system)
    if one.too_much is None:
        said = "" if one.stated.high == inf else f"{_stated(one.stated, system)} may be more than that: "
        return f"{said}weigh it; up to {most} this is met, above that it is not"
    fits = f"{_stated(one.stated, system)} is {weight(one.too_much, system)} too much; {most} fits"
    if one.as_known is None or one.as_known == one.most:
        return fits
    return f"{fits}, or {weight(one.as_known, system)} while it is {_doubt(one, system)}"


def _doubt(one: Settled, system: System) -> str:
    """How well its weight is known."""
    if one.stated.is_exact:
        return f"known to {one.total.high / one.stated.high - 1:.0%}"
    return f"known to {weight(_spread(one), system)}"


def _weight_to_be_met(one: ForAll, like: Settled, system: System) -> str:
    """What the piece may be said to weigh, so that with the doubt about its weight all of this is met."""
    middle = (like.stated.low + like.stated.high) / 2
    sure = weight(one.number, system)
    tried = f". To try it: {_set(one.asked)}"
    if not 0 < middle < inf or one.number >= middle or like.total.high == inf:
        return f"All of these are met at {sure}{_then(one.then)}{tried}"
    off = weight(middle - one.number, system)
    doubt = f", its weight being {_doubt(like, system)}" if _spread(like) > 0 else ""
    return f"With {off} off, {sure}, all of these are met{doubt}{_then(one.then)}{tried}"


def _spread(one: Settled) -> float:
    """How far its weight may be above what is stated [N]."""
    middle = (one.stated.low + one.stated.high) / 2
    return one.total.high - middle if middle < inf and one.total.high < inf else 0.0


def _stated(stated: Bounds, system: System) -> str:
    return weight((stated.low + stated.high) / 2, system)


def weight(newtons: float, system: System) -> str:
    """A weight in whole units of the trade.

    >>> weight(586 * 4.4482216152605, "us"), weight(120 * 9.80665, "si")
    ('586 lb', '120 kg')
    """
    return write(Bounds.exactly(newtons), FORCE, system, unit=weight_step(system).unit)


def places(found: Elsewhere | None, system: System) -> tuple[str, ...]:
    """Where else a piece would hang, what was tried for that, and what speaks against the other free sets."""
    if found is None:
        return ()
    free = [one for one in found.offers if one.of_house is None and not one.exchanged]
    clear = [one for one in free if one.is_clear]
    aside = f" besides {listed(found.everywhere)}, the same wherever it hangs" if found.everywhere else ""
    told = []
    if clear:
        remarks = [f"on {one.key} {listed(one.remarks)}, which can wait" for one in clear if one.remarks]
        which = f"set {_placed(clear[0], system)}" if len(clear) == 1 else f"sets {_all(clear, system)}"
        more = f" ({'; '.join(remarks)})" if remarks else ""
        told.append(
            f"At the same trims nothing that must be done is found with it on {which}{aside}{more}. "
            f"To try it: {_set(clear[0].asked)}"
        )
    told += _with_changes(found, system)
    against = [one for one in free if not one.is_clear]
    if against and not clear:
        told.append(_against(against, aside, system))
    if not free:
        told.append("No other set of the house is free and fit for use.")
    told.append(_what_was_tried(found, free))
    return tuple(told)


def _all(offers: list[Offer], system: System) -> str:
    return listed([_placed(one, system) for one in offers])


def _placed(one: Offer, system: System) -> str:
    """A set, and how far it stands from the wanted one."""
    if one.away is None:
        return f"{one.key} (how far off is not written)"
    if abs(one.away) < 1e-6:
        return f"{one.key} (at the same distance)"
    way = "upstage" if one.away > 0 else "downstage"
    return f"{one.key} ({write(Bounds.exactly(abs(one.away)), LENGTH, system)} {way})"


_ONCE: Final = {
    State.OUT_OF_SERVICE: "it is back in service",
    State.BEFORE_NEXT_USE: "its work is done",
    State.CANNOT_BE_TOLD: "it can be told that the set may be used",
}


def _with_changes(found: Elsewhere, system: System) -> Iterator[str]:
    """Sets on which nothing speaks against the piece, once something else is done."""
    would = [one for one in found.offers if one.fits and not one.is_clear]
    for one in would[:_MOST_WITH_CHANGES]:
        needs = []
        if one.exchanged:
            needs.append(f"in exchange with {listed(one.exchanged)}")
        if one.of_house is not None:
            needs.append(f"once {_ONCE[one.of_house]} ({listed(one.first)})")
        yield f"Only with changes on set {_placed(one, system)}: {', and '.join(needs)}. To try it: {_set(one.asked)}"
    if len(would) > _MOST_WITH_CHANGES:
        rest = marks([one.key for one in would[_MOST_WITH_CHANGES:]])
        yield f"Likewise with changes, further off: {rest}."


def _against(offers: list[Offer], aside: str, system: System) -> str:
    if len(offers) == 1:
        only = offers[0]
        return (
            f"The only other free set is {_placed(only, system)}, and against it speaks{aside}: "
            f"{listed(only.against)}."
        )
    nearest = sorted(offers, key=lambda one: len(one.against))[:_MOST_AGAINST]
    told = "; ".join(f"{_placed(one, system)}: {listed(one.against)}" for one in nearest)
    keys = sorted((one.key for one in offers), key=natural_order)
    return f"On none of the other free sets ({marks(keys)}) is nothing found{aside}; least on {told}."


def _what_was_tried(found: Elsewhere, free: list[Offer]) -> str:
    """How many sets were tried, which were not free, and why the others were not tried."""
    exchanged = [one.key for one in found.offers if one.exchanged]
    to_be_freed = [one.key for one in found.offers if not one.exchanged and one.of_house is not None]
    parts = [f"{counted(len(free), 'free set')}" + (f" ({marks([one.key for one in free])})" if free else "")]
    if to_be_freed:
        parts.append(
            f"{len(to_be_freed)} with nothing on it that the house holds back ({marks(to_be_freed)})"
        )
    if exchanged:
        parts.append(f"{len(exchanged)} in exchange with what hangs there ({marks(exchanged)})")
    told = f"Tried: {listed(parts)}."
    by_reason: dict[str, list[str]] = {}
    for key, why in found.not_tried:
        by_reason.setdefault(why.partition(" (")[0] if why.startswith(OUT_OF_SERVICE) else why, []).append(
            key
        )
    if by_reason:
        left = "; ".join(
            f"{marks(sorted(keys, key=natural_order))} ({_as_many(why, len(keys))})"
            for why, keys in by_reason.items()
        )
        told += f" Not tried: {left}."
    return told


def _as_many(why: str, sets: int) -> str:
    """A reason without its verb, for one set or several."""
    return why.removeprefix("is ").replace("stands", "stand", 1) if sets > 1 else why.removeprefix("is ")
