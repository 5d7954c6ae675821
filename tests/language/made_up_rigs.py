"""Hypothesis strategies: what may be known of the small rig, and how what is not known could turn out.

A rig is drawn with facts that are exact, within bounds, one of several words, none or unknown, and with
lists that are whole, empty, longer than written or unknown. `completed` draws one of the ways in which
everything unknown could be.
"""

from copy import deepcopy
from typing import Any

from hypothesis import strategies as st
from tests.language.made_up_expressions import DATES, FORCES, LENGTHS, RATIOS, si
from tests.language.small_rig import VOCABULARY, give, thing

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import FORCE, LENGTH
from plumbtrue.quantities.values import (
    NONE,
    UNKNOWN,
    Absent,
    Choice,
    Each,
    Name,
    Unknown,
    Value,
    WordSet,
    is_exactly_known,
)
from plumbtrue.rig.thing import Recorded, Thing
from plumbtrue.rig.vocabulary import Fact

Draw = Any
"""Hypothesis's own; its type is generic in what is drawn."""

PART_TYPES = ("thing", "list of things", "path", "reference")


class Judged:
    """A thing to be judged, which prints what is written of it and around it."""

    def __init__(self, thing: Thing) -> None:
        self.thing = thing

    def __repr__(self) -> str:
        lines = []
        for one in _top(self.thing).below():
            said = [f"{name}: {recorded.value}" for name, recorded in one.facts.items()]
            parts = [
                f"{name}: {held}" for name, held in one.parts.items() if isinstance(held, Absent | Unknown)
            ]
            more = [f"{name} may be longer" for name in sorted(one.unlisted)]
            mark = "-> " if one is self.thing else ""
            lines.append(f"{mark}{one.path} ({one.kind.name}): {'; '.join([*said, *parts, *more])}")
        return "\n" + "\n".join(lines)


def _grid(fact: Fact) -> tuple[float, ...]:
    if fact.type == "date":
        return tuple(map(si, DATES))
    if fact.type == "count":
        return (0.0, 1.0, 2.0, 3.0)
    if fact.type == "ratio":
        return tuple(map(si, RATIOS))
    return tuple(
        map(si, {LENGTH: LENGTHS, FORCE: FORCES}.get(fact.dimension or LENGTH, ("20 degC", "5 degC")))
    )


def _words(fact: Fact) -> tuple[str, ...]:
    return ("yes", "no") if fact.type == "yes/no" else tuple(sorted(fact.words or ()))


@st.composite
def exact(draw: Draw, fact: Fact) -> Value:
    """A value of a fact that is exactly known; `none` where it may be."""
    if fact.may_be_none and draw(st.integers(0, 3)) == 0:
        if fact.type == "count":
            return Bounds.exactly(0.0)
        return WordSet(frozenset()) if fact.type == "list of words" else NONE
    if fact.one_or_each and draw(st.booleans()):
        return Each(tuple(draw(exact_one(fact)) for _ in range(draw(st.integers(1, 3)))))
    return draw(exact_one(fact))  # type: ignore[no-any-return]  # a value


@st.composite
def exact_one(draw: Draw, fact: Fact) -> Value:
    match fact.type:
        case "word" | "yes/no":
            return Choice(frozenset({draw(st.sampled_from(_words(fact)))}))
        case "list of words":
            return WordSet(draw(st.frozensets(st.sampled_from(_words(fact)))))
        case "name" | "text":
            return Name(draw(st.sampled_from(("A7", "B8"))))
        case "list of quantity":
            figures = draw(st.lists(st.sampled_from(_grid(fact)), max_size=3))
            return Each(tuple(map(Bounds.exactly, figures)))
        case _:
            return Bounds.exactly(draw(st.sampled_from(_grid(fact))))


@st.composite
def partly_known(draw: Draw, fact: Fact) -> Value:
    """A value of a fact as somebody may have written it."""
    how = draw(st.sampled_from(("exact", "exact", "exact", "unknown", "partly")))
    if how == "unknown":
        return UNKNOWN
    if how == "exact":
        return draw(exact(fact))  # type: ignore[no-any-return]  # a value
    match fact.type:
        case "word" | "yes/no" if not fact.one_or_each:
            possible = draw(st.frozensets(st.sampled_from(_words(fact)), min_size=1))
            return Choice(possible, fact.may_be_none and draw(st.booleans()))
        case "list of words":
            words = draw(st.frozensets(st.sampled_from(_words(fact))))
            return WordSet(words, draw(st.frozensets(st.sampled_from(_words(fact)))) - words)
        case "quantity" | "count" | "ratio" | "date":
            if fact.one_or_each:
                return Each((draw(bounds(fact)), UNKNOWN))
            return draw(bounds(fact))  # type: ignore[no-any-return]  # bounds
        case _:
            return UNKNOWN


@st.composite
def bounds(draw: Draw, fact: Fact) -> Bounds:
    low, high = sorted(draw(st.lists(st.sampled_from(_grid(fact)), min_size=2, max_size=2)))
    open_end = draw(st.sampled_from(("none", "none", "above")))
    return Bounds(low, float("inf")) if open_end == "above" else Bounds(low, high)


def _fill(draw: Draw, one: Thing, value: Any) -> Thing:
    """A thing with every fact of its own drawn, parts left as they are."""
    for fact in VOCABULARY.kinds[one.kind.name].facts.values():
        if fact.type not in (*PART_TYPES, "text"):
            give(one, fact.name, draw(value(fact)))
    return one


def _part(draw: Draw, value: Any) -> Thing:
    kind = draw(st.sampled_from(("swage_sleeve", "thimble", "trim_chain", "wire_rope_clips")))
    return _fill(draw, thing(kind), value)


def _line(draw: Draw, value: Any, how: Any) -> Thing:
    line = _fill(draw, thing("lift_line"), value)
    how(draw, line, "rope", lambda: _fill(draw, thing("rope"), value))
    how(draw, line, "lower", lambda: tuple(_part(draw, value) for _ in range(draw(st.integers(0, 2)))))
    return line


def _arbor(draw: Draw, value: Any, how: Any) -> Thing:
    arbor = _fill(draw, thing("arbor"), value)
    weights = ("weights",)
    for name in weights:
        how(
            draw,
            arbor,
            name,
            lambda: tuple(_fill(draw, thing("weights"), value) for _ in range(draw(st.integers(0, 2)))),
        )
    return arbor


def _as_written(draw: Draw, owner: Thing, name: str, made: Any) -> None:
    """A part or list as somebody may have written it."""
    fact = owner.kind.facts[name]
    how = draw(st.sampled_from(("there", "there", "there", "unknown", "none")))
    if how == "unknown":
        return
    if how == "none" and fact.may_be_none:
        give(owner, name, NONE)
        return
    held = made()
    give(owner, name, held)
    if isinstance(held, tuple) and draw(st.integers(0, 4)) == 0:
        owner.unlisted.add(name)


def _as_it_is(draw: Draw, owner: Thing, name: str, made: Any) -> None:
    """A part or list of which everything is known."""
    if owner.kind.facts[name].may_be_none and draw(st.integers(0, 3)) == 0:
        give(owner, name, NONE)
    else:
        give(owner, name, made())


@st.composite
def rigs(draw: Draw, *, whole: bool = False) -> Judged:
    """The chain that is judged, with everything around it; `whole` when nothing is unknown."""
    value: Any = exact if whole else partly_known
    how = _as_it_is if whole else _as_written
    chain = _fill(draw, thing("trim_chain", "chain"), value)
    line_set = _fill(draw, thing("line_set", "14"), value)
    lines = [_line(draw, value, how) for _ in range(draw(st.integers(0, 2)))]
    where = draw(st.sampled_from(("line", "line", "line", "alone")))
    if where == "alone":
        return Judged(chain)
    own = _fill(draw, thing("lift_line", "own"), value)
    how(draw, own, "rope", lambda: _fill(draw, thing("rope"), value))
    give(own, "lower", (*(_part(draw, value) for _ in range(draw(st.integers(0, 2)))), chain))
    give(line_set, "lift_lines", (own, *lines))
    how(draw, line_set, "arbor", lambda: _arbor(draw, value, how))
    how(draw, line_set, "rail", lambda: thing("line_set", "13"))
    if not whole:
        for owner, name in ((own, "lower"), (line_set, "lift_lines")):
            if draw(st.integers(0, 5)) == 0:
                owner.unlisted.add(name)
    give(_fill(draw, thing("house"), value), "line_sets", (line_set,))
    return Judged(chain)


def _top(one: Thing) -> Thing:
    while one.parent is not None:
        one = one.parent
    return one


def copied(chain: Thing) -> Thing:
    """The same rig once more, to be changed."""
    memo: dict[int, Any] = {id(kind): kind for kind in VOCABULARY.kinds.values()}
    return deepcopy(chain, memo)


@st.composite
def completed(draw: Draw, judged: Judged) -> Judged:
    """The rig as it could turn out: whatever is unknown becomes something that is possible."""
    chain = copied(judged.thing)
    for one in list(_top(chain).below()):
        for fact in one.kind.facts.values():
            if fact.type == "text":
                continue
            if fact.type in PART_TYPES:
                _complete_part(draw, one, fact)
            else:
                recorded = one.facts.get(fact.name)
                value = UNKNOWN if recorded is None else recorded.value
                if not is_exactly_known(value):
                    give(one, fact.name, draw(_possible(fact, value)))
        one.unlisted.clear()
    return Judged(chain)


def _complete_part(draw: Draw, one: Thing, fact: Fact) -> None:
    held = one.parts.get(fact.name, UNKNOWN)
    made: Any = {
        "lift_lines": lambda: (_line(draw, exact, _as_it_is),),
        "lower": lambda: (_part(draw, exact),),
        "weights": lambda: (_fill(draw, thing("weights"), exact),),
        "rope": lambda: _fill(draw, thing("rope"), exact),
        "arbor": lambda: _arbor(draw, exact, _as_it_is),
        "rail": lambda: thing("line_set", "13"),
    }.get(fact.name)
    if made is None:
        if isinstance(held, Unknown):
            give(one, fact.name, () if fact.type == "list of things" else NONE)
        return
    if isinstance(held, Unknown):
        _as_it_is(draw, one, fact.name, made)
    elif isinstance(held, tuple) and fact.name in one.unlisted:
        give(one, fact.name, (*held, *made()))


@st.composite
def _possible(draw: Draw, fact: Fact, value: Value) -> Value:
    match value:
        case Bounds(low, high):
            within = [figure for figure in _grid(fact) if low <= figure <= high]
            return Bounds.exactly(draw(st.sampled_from(within)))
        case Choice(possible, may_be_none):
            options = [Choice(frozenset({word})) for word in sorted(possible)]
            return draw(st.sampled_from([*options, *([NONE] if may_be_none else [])]))  # type: ignore[no-any-return]
        case WordSet(words, perhaps):
            more = draw(st.frozensets(st.sampled_from(sorted(perhaps)))) if perhaps else frozenset()
            return WordSet(words | more)
        case Each(values):
            return Each(
                tuple(one if is_exactly_known(one) else draw(_possible_one(fact, one)) for one in values)
            )
        case _:
            return draw(exact(fact))  # type: ignore[no-any-return]  # a value


@st.composite
def _possible_one(draw: Draw, fact: Fact, value: Value) -> Value:
    if isinstance(value, Unknown):
        return draw(exact_one(fact))  # type: ignore[no-any-return]  # a value
    return draw(_possible(fact, value))  # type: ignore[no-any-return]  # a value


@st.composite
def less_known(draw: Draw, judged: Judged) -> Judged:
    """The same rig with some knowledge taken away."""
    chain = copied(judged.thing)
    for one in list(_top(chain).below()):
        for name, recorded in list(one.facts.items()):
            if draw(st.integers(0, 3)) == 0:
                value = recorded.value
                wider = (
                    (UNKNOWN, Bounds(value.low - 1, value.high + 1))
                    if isinstance(value, Bounds)
                    else (UNKNOWN,)
                )
                one.facts[name] = Recorded(draw(st.sampled_from(wider)), "", one.place)
        for name, held in list(one.parts.items()):
            if isinstance(held, Absent) and draw(st.integers(0, 3)) == 0:
                one.parts[name] = UNKNOWN
            elif isinstance(held, tuple) and draw(st.integers(0, 5)) == 0:
                one.unlisted.add(name)
    return Judged(chain)
