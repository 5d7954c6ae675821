"""Hypothesis strategies: well-typed expressions about a trim chain of the small rig, built node by node
from few names and few figures.

Figures come from a small grid that the facts use too, so that values often lie exactly on a limit.
"""

from collections.abc import Mapping
from typing import Any

from hypothesis import strategies as st
from tests.language.small_rig import HERE

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import FORCE, LENGTH
from plumbtrue.quantities.literals import Literal_, read_literal
from plumbtrue.rules.language.nodes import (
    AgeOf,
    And,
    Arithmetic,
    Call,
    Comparison,
    Count,
    DaysSince,
    Expression,
    Figure,
    Includes,
    Is,
    IsNone,
    LookUp,
    Minus,
    Not,
    OneOf,
    OneOfNamed,
    Or,
    Path,
    Quantified,
    Quoted,
    Same,
    Total,
    Within,
    Word,
)
from plumbtrue.rules.language.scope import Given
from plumbtrue.rules.language.tables import Column, Table
from plumbtrue.rules.language.value_types import PLAIN, Figures, OneWord

LENGTHS = ("1/4 in", "1/2 in", "1 in", "2 in")
FORCES = ("0 lb", "100 lb", "200 lb", "400 lb")
RATIOS = ("0", "1", "2", "3", "1/2")
DATES = ("2015-01-01", "2024-12-31", "2025-01-01", "2025-10-03")
DAYS = ("1 days", "90 days", "365 days")
MONTHS = ("12 months", "11 years")


def si(text: str) -> float:
    """A figure of the grid [SI, or days]."""
    if text == "1/2":
        return 0.5
    found = read_literal(text)
    assert isinstance(found, Literal_)
    return found.bounds.low


PARAMETERS = {
    "reach": Given.figure("1 in", Bounds.exactly(si("1 in")), LENGTH),
    "allowed": Given.choice(frozenset({"wrap", "two-part"})),
}
TABLES = {
    "clips": Table(
        "clips",
        (
            Column("size", Figures(LENGTH), "next-higher"),
            Column("grade", OneWord(frozenset({"30", "43", "70", "80"})), "exact"),
            Column("least", PLAIN),
            Column("load", Figures(FORCE)),
        ),
        (
            (si("1/4 in"), "30", 2.0, si("200 lb")),
            (si("1 in"), "30", 3.0, si("100 lb")),
            (si("1/4 in"), "80", 3.0, si("400 lb")),
            (si("1/2 in"), "80", 2.0, None),
        ),
    ),
    "curve": Table(
        "curve",
        (Column("ratio", PLAIN, "interpolate"), Column("share", PLAIN)),
        ((0.0, 0.5), (1.0, 0.25), (3.0, 2.0)),
    ),
    "steps": Table(
        "steps",
        (Column("wraps", PLAIN, "exact", whole=True), Column("share", PLAIN)),
        ((0.0, 0.5), (1.0, 1.0), (2.0, 0.25), (3.0, 2.0)),
    ),
}
LETS = {
    "line_rope": "lift_line.rope",
    "thin": "line_rope.diameter_now < 0.5 * lift_line.rope.diameter",
    "twice": "distance_to_pipe_end + distance_to_pipe_end",
    "four_times": "twice + twice",
}


def path(text: str) -> Path:
    return Path(tuple(text.split(".")), HERE)


def _figure(text: str) -> Expression:
    if text == "1/2":
        return Arithmetic("/", Figure("1", HERE), Figure("2", HERE), HERE)
    return Figure(text, HERE)


Draw = Any
"""Hypothesis's own; its type is generic in what is drawn."""


class Making:
    """One expression while it is drawn. `hand` holds the variables in hand, by what they run over."""

    def __init__(self, draw: Draw) -> None:
        self.draw = draw
        self.hand: dict[str, str] = {}

    def pick(self, *options: Any) -> Any:
        return self.draw(st.sampled_from(options))

    def names(self, by_list: Mapping[str, tuple[str, ...]], own: tuple[str, ...]) -> str:
        """A fact of the chain, of what it lies in, or of something in hand."""
        options = list(own)
        for variable, several in self.hand.items():
            options.extend(f"{variable}.{name}" if name else variable for name in by_list.get(several, ()))
        return str(self.pick(*options))

    def length(self, depth: int) -> Expression:
        if depth > 0 and self.draw(st.booleans()):
            return self.calculated("length", depth)
        if self.pick(True, False, False):
            return _figure(self.pick(*LENGTHS))
        return path(
            self.names(
                {
                    "line_set.lift_lines": ("rope.diameter", "rope.diameter_now"),
                    "line_set.lift_lines.rope": ("diameter", "diameter_now"),
                    "line_set.lift_lines.rope.diameter": ("",),
                    "line_set.arbor.trims": ("",),
                    "load_path": ("stack_length",),
                },
                (
                    "distance_to_pipe_end",
                    "stack_length",
                    "lift_line.rope.diameter",
                    "lift_line.rope.diameter_now",
                    "reach",
                    "twice",
                    "four_times",
                    "line_rope.diameter",
                ),
            )
        )

    def force(self, depth: int) -> Expression:
        if depth > 0 and self.draw(st.booleans()):
            return self.calculated("force", depth)
        if self.pick(True, False, False):
            return _figure(self.pick(*FORCES))
        return path(
            self.names(
                {"line_set.arbor.weights": ("weight",), "load_path": ("working_load_limit",)},
                ("working_load_limit", "line_set.arbor.capacity"),
            )
        )

    def ratio(self, depth: int) -> Expression:
        if depth > 0 and self.draw(st.booleans()):
            made: Expression = self.pick(self.calculated, self.quotient, self.count)("ratio", depth)
            return made
        if self.pick(True, False, False):
            return _figure(self.pick(*RATIOS))
        return path(
            self.names(
                {
                    "line_set.arbor.weights": ("count",),
                    "line_set.lift_lines": ("rope.loss", "rope.broken_wires"),
                    "line_set.lift_lines.rope": ("loss", "broken_wires"),
                },
                ("wraps", "lift_line.rope.loss", "line_set.lines_stated"),
            )
        )

    def of(self, dimension: str, depth: int) -> Expression:
        found: Expression = getattr(self, dimension)(depth)
        return found

    def calculated(self, dimension: str, depth: int) -> Expression:
        form = self.pick("+", "-", "*", "/", "minus", "abs", "least", "total", "look up")
        if form in ("+", "-"):
            return Arithmetic(form, self.of(dimension, depth - 1), self.of(dimension, depth - 1), HERE)
        if form in ("*", "/"):
            return Arithmetic(form, self.of(dimension, depth - 1), self.ratio(depth - 1), HERE)
        if form == "minus":
            return Minus(self.of(dimension, depth - 1), HERE)
        if form == "abs":
            return Call("abs", (self.of(dimension, depth - 1),), HERE)
        if form == "least":
            parts = (self.of(dimension, depth - 1), self.of(dimension, depth - 1))
            return Call(self.pick("least", "greatest"), parts, HERE)
        if form == "look up" and dimension != "length":
            return self.looked_up(dimension, depth)
        return self.total(dimension, depth)

    def looked_up(self, dimension: str, depth: int) -> Expression:
        if dimension == "ratio" and self.draw(st.booleans()):
            table, key = self.pick(("curve", "ratio"), ("steps", "wraps"))
            return LookUp("share", table, ((key, self.ratio(depth - 1)),), HERE)
        keys = (("grade", path("grade")), ("size", self.length(depth - 1)))
        return LookUp("load" if dimension == "force" else "least", "clips", keys, HERE)

    def quotient(self, dimension: str, depth: int) -> Expression:
        kind = self.pick("length", "force")
        return Arithmetic("/", self.of(kind, depth - 1), self.of(kind, depth - 1), HERE)

    def count(self, dimension: str, depth: int) -> Expression:
        several = self.pick(
            "line_set.lift_lines",
            "line_set.arbor.weights",
            "load_path",
            "line_set.lift_lines.lower",
            "damage",
        )
        return self.with_hand(several, lambda name: Count(name, path(several), self.where(depth), HERE))

    def total(self, dimension: str, depth: int) -> Expression:
        options = {
            "length": (
                "line_set.lift_lines",
                "line_set.lift_lines.rope.diameter",
                "line_set.arbor.trims",
                "load_path",
            ),
            "force": ("line_set.arbor.weights", "load_path"),
            "ratio": ("line_set.arbor.weights", "line_set.lift_lines.rope"),
        }[dimension]
        several = self.pick(*options)
        gathering = self.pick("sum", "least", "greatest")

        def made(name: str) -> Expression:
            return Total(
                gathering, self.of(dimension, depth - 1), name, path(several), self.where(depth), HERE
            )

        return self.with_hand(several, made)

    def with_hand(self, several: str, made: Any) -> Expression:
        """Something said of several, with a variable of its own."""
        if len(self.hand) >= 2:
            return made(self.fresh())  # type: ignore[no-any-return]  # what is made is an expression
        name = self.fresh()
        self.hand[name] = several
        try:
            return made(name)  # type: ignore[no-any-return]  # as above
        finally:
            del self.hand[name]

    def fresh(self) -> str:
        return f"x{len(self.hand)}"

    def where(self, depth: int) -> Expression | None:
        return self.claim(depth - 1) if depth > 0 and self.draw(st.booleans()) else None

    def date(self) -> Expression:
        own = ("installed", "lift_line.rope.installed", "today")
        several = {
            "line_set.lift_lines": ("rope.installed",),
            "line_set.lift_lines.rope": ("installed",),
            "load_path": ("installed",),
        }
        return self.pick(path(self.names(several, own)), _figure(self.pick(*DATES)))  # type: ignore[no-any-return]  # an expression

    def word(self) -> tuple[Expression, tuple[str, ...]]:
        several = {
            "line_set.lift_lines": ("role", "rope.corrosion"),
            "line_set.lift_lines.rope": ("corrosion",),
            "damage": ("",),
        }
        own = (
            "attachment",
            "grade",
            "keeper_bolt",
            "secured",
            "lift_line.rope.corrosion",
            "line_rope.construction",
        )
        name = self.names(several, own)
        last = name.split(".")[-1]
        words = {
            "role": ("lift", "spot", "spare"),
            "corrosion": ("bloom", "surface", "pitted"),
            "attachment": ("wrap", "clamp", "two-part"),
            "grade": ("30", "43", "70", "80"),
            "keeper_bolt": ("fitted", "loose"),
            "secured": ("yes", "no"),
            "construction": ("7x19", "6x19", "1x19"),
        }.get(last, ("crack", "bent", "worn"))
        return path(name), words

    def claim(self, depth: int) -> Expression:
        form = self.pick(
            "compare", "word", "join", "join", "not", "quantify", "date", "none", "same", "other"
        )
        if depth <= 0:
            form = self.pick("compare", "word", "date", "none", "other")
        match form:
            case "compare":
                kind = self.pick("length", "force", "ratio")
                operator = self.pick("<", "<=", ">", ">=", "=", "!=")
                return Comparison(operator, self.of(kind, depth - 1), self.of(kind, depth - 1), HERE)
            case "word":
                tested, words = self.word()
                negated = self.draw(st.booleans())
                if self.draw(st.booleans()):
                    return Is(tested, Word(self.pick(*words), HERE), negated, HERE)
                some = self.draw(st.lists(st.sampled_from(words), min_size=1, unique=True))
                return OneOf(tested, tuple(Word(one, HERE) for one in some), negated, HERE)
            case "join":
                parts = tuple(self.claim(depth - 1) for _ in range(self.pick(2, 3)))
                return self.pick(And, Or)(parts, HERE)  # type: ignore[no-any-return]  # either is an expression
            case "not":
                return Not(self.claim(depth - 1), HERE)
            case "quantify":
                return self.quantified(depth)
            case "date":
                return self.dated()
            case "same":
                return self.same()
            case "none":
                own = (
                    "keeper_bolt",
                    "working_load_limit",
                    "line_set.arbor",
                    "line_set.arbor.weights",
                    "lift_line.rope.tag",
                    "damage",
                )
                several = {
                    "load_path": ("damage", "working_load_limit"),
                    "line_set.lift_lines": ("rope", "rope.corrosion"),
                }
                return IsNone(path(self.names(several, own)), self.draw(st.booleans()), HERE)
            case _:
                return self.other()

    def dated(self) -> Expression:
        operator = self.pick("<", "<=", ">", ">=", "=")
        form = self.pick("dates", "age", "days", "between", "shifted")
        if form == "dates":
            return Comparison(operator, self.date(), self.date(), HERE)
        if form == "age":
            return Comparison(operator, AgeOf(self.date(), HERE), _figure(self.pick(*MONTHS)), HERE)
        if form == "days":
            return Comparison(operator, DaysSince(self.date(), HERE), _figure(self.pick(*DAYS)), HERE)
        if form == "between":
            between = Arithmetic("-", self.date(), self.date(), HERE)
            return Comparison(operator, between, _figure(self.pick(*DAYS)), HERE)
        shifted = Arithmetic(self.pick("+", "-"), self.date(), _figure(self.pick(*DAYS)), HERE)
        return Comparison(operator, shifted, self.date(), HERE)

    def quantified(self, depth: int) -> Expression:
        several = self.pick(
            "line_set.lift_lines",
            "line_set.arbor.weights",
            "load_path",
            "line_set.lift_lines.rope",
            "line_set.lift_lines.rope.diameter",
            "line_set.lift_lines.lower",
            "line_set.arbor.trims",
            "damage",
        )
        which = self.pick("every", "some", "no")

        def made(name: str) -> Expression:
            where = self.where(depth)
            if several in ("load_path", "line_set.lift_lines.lower") and self.draw(st.booleans()):
                return self.of_clips(which, name, several)
            return Quantified(which, name, path(several), where, self.claim(depth - 1), HERE)

        return self.with_hand(several, made)

    def of_clips(self, which: Any, name: str, several: str) -> Expression:
        """A claim about parts of one kind, and about what may be written once for all of them."""
        inner = Quantified(
            self.pick("every", "some", "no"),
            f"{name}m",
            path(f"{name}.material"),
            None,
            Is(path(f"{name}m"), Word("forged", HERE), self.draw(st.booleans()), HERE),
            HERE,
        )
        spaced = Comparison(self.pick("<", ">="), path(f"{name}.spacing"), _figure(self.pick(*LENGTHS)), HERE)
        claim = self.pick(inner, Is(path(f"{name}.material"), Word("forged", HERE), False, HERE), spaced)
        return Quantified(
            which,
            name,
            path(several),
            Is(path(name), Word("wire_rope_clips", HERE), False, HERE),
            claim,
            HERE,
        )

    def same(self) -> Expression:
        several, what = self.pick(
            ("line_set.lift_lines", "rope.diameter"),
            ("line_set.lift_lines", "role"),
            ("line_set.lift_lines.rope", "corrosion"),
            ("line_set.lift_lines.rope", "tag"),
            ("line_set.arbor.trims", ""),
            ("load_path", "installed"),
        )

        def made(name: str) -> Expression:
            where = self.where(1)
            return Same(path(f"{name}.{what}" if what else name), name, path(several), where, HERE)

        return self.with_hand(several, made)

    def other(self) -> Expression:
        things = [name for name, several in self.hand.items() if several == "load_path"]
        options = ["within", "tag", "damage", "let", "named", "rail"]
        match self.pick(*options, *(["kind", "thing"] if things else [])):
            case "within":
                return Within(Word(self.pick("lift_line", "line_set", "part", "house"), HERE), HERE)
            case "tag":
                return Comparison(self.pick("=", "!="), path("lift_line.rope.tag"), Quoted("A7", HERE), HERE)
            case "damage":
                return Includes(
                    path("damage"), Word(self.pick("crack", "bent"), HERE), self.draw(st.booleans()), HERE
                )
            case "let":
                return path("thin")
            case "named":
                return OneOfNamed(path("attachment"), path("allowed"), self.draw(st.booleans()), HERE)
            case "kind":
                kind = self.pick("trim_chain", "swage_sleeve", "part")
                return Is(path(things[0]), Word(kind, HERE), self.draw(st.booleans()), HERE)
            case "thing":
                return Is(path(things[0]), Word("this", HERE), self.draw(st.booleans()), HERE)
            case _:
                return IsNone(path("line_set.rail"), self.draw(st.booleans()), HERE)


@st.composite
def claims(draw: Draw, depth: int = 3) -> Expression:
    """A claim about a trim chain of the small rig, in the scope of `PARAMETERS`, `TABLES` and `LETS`."""
    return Making(draw).claim(depth)
