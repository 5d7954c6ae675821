"""The figures of one line set, worked out and worded, for its card and for figures drawn from it.

Everything here is what the facts floor computes; nothing is judged. What cannot be worked out is listed with
what is missing for it, never left away.
"""

from collections.abc import Iterator
from dataclasses import replace
from math import inf, isfinite
from typing import Final

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.computed.what_it_takes import MET_AT
from plumbtrue.facts.store import Facts
from plumbtrue.facts.working_text import working_text
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import FORCE, LENGTH, RATIO, Dimension
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Absent, Name, Unknown, Value
from plumbtrue.quantities.writing import System, write, write_value
from plumbtrue.reporting.places_in_words import name_of
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Fact

NOT_KNOWN: Final = "not known"
NOTHING_PROVEN: Final = "none proven"
POSTED_SINGLE: Final = {
    "at a line": "posted_point_at_line",
    "between two lines": "posted_point_between",
    "beyond the outer lines": "posted_point_overhang",
}
_IN_PLACE_OF_FIGURES: Final = ("thing", "list of things", "path", "reference", "list of reference")


@unchanging
class Share:
    """How much of what something can bear is used, as printed and as bounds; none where it is not known."""

    text: str
    low: float | None
    high: float | None


@unchanging
class PathPart:
    """One part that a line's pull goes through."""

    name: str
    end: str
    limit: str
    share: Share | None
    """Nothing where the part counts in the rope's own limit (a thimble, a sleeve)."""
    governs: bool


@unchanging
class LineFigures:
    """One lift line at what the house has posted."""

    key: str
    at: str
    from_zero: float | None
    """Where it takes the batten, from its zero end [m]."""
    pull: str
    pull_high: float | None
    """The greatest it can be [N]."""
    limit: str
    share: Share
    weakest: str
    design_factor: str
    angle_high: str
    lower_end: str
    path: tuple[PathPart, ...]


@unchanging
class Figure:
    """A figure of a set: what it is, how much, what belongs to it, and its working where it is printed."""

    label: str
    value: str
    note: str
    about: str
    """Path and fact, as `plumbtrue explain` takes them."""
    working: str = ""
    told_above: bool = False
    """Whether the table of limits has it too, so that paper need not."""


@unchanging
class LimitRow:
    """How much live load meets one limit: spread over the whole pipe, and singly where the pipe takes least."""

    limit: str
    spread: str
    single: str


@unchanging
class Heights:
    """The travel of a batten [m], as far as it is known."""

    low_trim: float | None
    highest: float | None
    ends: float | None
    """Height that the tallest lower end takes up."""
    low_point: float | None
    """Lowest point of the blocks."""
    by_travel: float | None
    governed_by: str
    texts: tuple[tuple[str, str], ...]


@unchanging
class ComputedValue:
    """One computed fact, for machines: bounds in SI where it is a figure."""

    thing: str
    fact: str
    text: str
    known: bool
    low: float | None
    high: float | None
    missing: tuple[str, ...]
    refusal: str


@unchanging
class Card:
    """The figures of one line set."""

    batten_length: float | None
    batten_text: str
    posted: str
    """The live load that the house has posted."""
    posted_single: tuple[tuple[str, str], ...]
    """The single loads that it has posted: where, and how much; without those that nobody wrote."""
    lines: tuple[LineFigures, ...]
    worst_line: int | None
    """Which of the lines is used most, or cannot be told."""
    limits: tuple[LimitRow, ...]
    """The least first; empty where no limit can be worked out."""
    figures: tuple[Figure, ...]
    not_known: tuple[tuple[str, str], ...]
    """Figures that cannot be worked out, with the reason."""
    heights: Heights
    computed: tuple[ComputedValue, ...]
    """Each value that can be worked out of the set; empty where nobody asked for all of them."""


def card_of(line_set: Thing, facts: Facts, system: System, *, every_value: bool = False) -> Card:
    """The card of a line set.

    Args:
        every_value: whether it carries all that can be worked out of the set as well, which takes a while.
    """
    return _CardMaker(line_set, facts, system).card(every_value=every_value)


class _CardMaker:
    """What one card is made from."""

    def __init__(self, line_set: Thing, facts: Facts, system: System) -> None:
        self.line_set = line_set
        self.facts = facts
        self.system = system
        self.batten = _part(line_set, "batten")
        self.arbor = _part(line_set, "arbor")
        self.lift_lines = line_set.members("lift_lines")

    def card(self, *, every_value: bool) -> Card:
        lines = tuple(self._line(line) for line in self.lift_lines)
        worst = _worst(lines)
        figures = tuple(self._figures(worst))
        return Card(
            batten_length=None if self.batten is None else _middle(self._value(self.batten, "length")),
            batten_text="" if self.batten is None else self._batten_text(self.batten),
            posted=self._text(self.line_set, "posted_load"),
            posted_single=tuple(self._posted_single()),
            lines=lines,
            worst_line=worst,
            limits=self._limits(),
            figures=tuple(one for one in figures if one.value != NOT_KNOWN),
            not_known=tuple((one.label, one.note) for one in figures if one.value == NOT_KNOWN),
            heights=self._heights(),
            computed=tuple(self._computed()) if every_value else (),
        )

    def _line(self, line: Thing) -> LineFigures:
        weakest = self._value(line, "weakest_part")
        path = tuple(self._path(line, weakest))
        return LineFigures(
            key=line.key,
            at=self._text(line, "at"),
            from_zero=_middle(self._value(line, "distance_from_zero")),
            pull=self._text(line, "reaction"),
            pull_high=_high(self._value(line, "reaction")),
            limit=self._text(line, "tension_limit"),
            share=_greatest(path, _share(self._value(line, "reaction"), self._value(line, "tension_limit"))),
            weakest=weakest.text.replace("-", " ") if isinstance(weakest, Name) else NOT_KNOWN,
            design_factor=self._text(line, "design_factor"),
            angle_high=self._text(line, "drop_angle"),
            lower_end=self._text(line, "lost_height"),
            path=path,
        )

    def _path(self, line: Thing, weakest: Value) -> Iterator[PathPart]:
        """The parts that carry the line's pull, from the arbor's end to the batten."""
        governing = weakest.text if isinstance(weakest, Name) else ""
        for part in reversed(line.members("upper")):
            yield self._path_part(part, "arbor end", governing)
        for part in reversed(line.members("blocks")):
            yield self._path_part(part, "block", governing)
        rope = _part(line, "rope")
        if rope is not None:
            pull, limit = self._value(line, "reaction"), self._value(line, "rope_limit")
            governs = governing == rope.kind.word
            yield PathPart(
                "rope with its ends", "rope", self._text(line, "rope_limit"), _share(pull, limit), governs
            )
        for part in line.members("lower"):
            yield self._path_part(part, "batten end", governing)

    def _path_part(self, part: Thing, end: str, governing: str) -> PathPart:
        if "utilisation" not in part.kind.facts:
            return PathPart(name_of(part), end, "", None, False)
        used = self._value(part, "utilisation")
        if isinstance(used, Absent):
            return PathPart(name_of(part), end, "", None, False)
        rated = "reduced_rating" if "reduced_rating" in part.kind.facts else "working_load_limit"
        limit = self._text(part, rated) if rated in part.kind.facts else NOT_KNOWN
        return PathPart(name_of(part), end, limit, _as_share(used), part.kind.word == governing)

    def _figures(self, worst: int | None) -> Iterator[Figure]:
        one = self._figure
        here = self.line_set
        if worst is not None:
            line = self.lift_lines[worst]
            yield one(
                f"Greatest pull on {line.key}", line, "reaction", "at what the house has posted", shown=True
            )
            weakest = self._value(line, "weakest_part")
            named = f"by its {weakest.text.replace('-', ' ')}" if isinstance(weakest, Name) else ""
            yield one(f"Largest pull that {line.key} may take", line, "tension_limit", named, shown=True)
        yield one(
            "Highest the pipe can go",
            here,
            "highest_pipe",
            f"by {self._text(here, 'highest_pipe_by')}",
            shown=True,
        )
        yield one("Left to the blocks at the arbor's stop", here, "block_clearance", "")
        for label, fact in (
            ("Spread load that every limit allows", "takes_spread"),
            ("Single load at any place, likewise", "takes_point"),
        ):
            yield replace(one(label, here, fact, self._met_first(f"{fact}_by")), told_above=True)
        if self.batten is not None:
            yield one(
                "Bending of the pipe, of what it may take",
                self.batten,
                "bending_utilisation",
                "at what is posted",
            )
            yield one("Bending stress", self.batten, "bending_stress", "at what is posted")
            yield one("Sag, as a share of the span", self.batten, "sag", "at what is posted")
            yield one("Longest span between lines", self.batten, "longest_span", "")
        if self.arbor is not None:
            yield one("Counterweight on it now", self.arbor, "counterweight", "")
            yield one("Counterweight for the posted load", self.arbor, "counterweight_for_posted", "")
            yield one("Height of that stack", self.arbor, "stack_for_posted", self._room(self.arbor))
        yield one("Imbalance over the travel", here, "imbalance_over_travel", "at the hand line, now")
        yield one("Rope weight that changes side", here, "rope_weight_shift", "over the full travel")

    def _posted_single(self) -> Iterator[tuple[str, str]]:
        for where, fact in POSTED_SINGLE.items():
            text = self._text(self.line_set, fact)
            if text != NOT_KNOWN and not isinstance(self._value(self.line_set, fact), Absent):
                yield where, text

    def _limits(self) -> tuple[LimitRow, ...]:
        """Each limit on record with the loads that meet it, so that an answer is at hand without the tool."""
        facts = ("takes_spread", "takes_point")
        spread, single = (self._met_at(fact) for fact in facts)
        names = dict.fromkeys([*spread, *single])
        rows = [LimitRow(name, spread.get(name, "–"), single.get(name, "–")) for name in names]
        proven = [_low(self._value(self.line_set, fact)) for fact in facts]
        if rows and not all(proven) and NOTHING_PROVEN not in (*spread.values(), *single.values()):
            told = [NOTHING_PROVEN if not low else "–" for low in proven]
            rows.insert(0, LimitRow("what is not known", *told))
        return tuple(rows)

    def _met_at(self, fact: str) -> dict[str, str]:
        """Limits in the order in which a load meets them, as the working of the figure tells them."""
        if fact not in self.line_set.kind.facts:
            return {}
        working = self.facts.answer(self.line_set, fact).working
        steps = () if working is None else working.steps
        nothing = write(Bounds.exactly(0.0), FORCE)
        told = [(str(label), str(figure)) for label, figure in steps]
        return {
            label.removesuffix(MET_AT): NOTHING_PROVEN if figure == nothing else figure
            for label, figure in told
            if label.endswith(MET_AT)
        }

    def _met_first(self, name: str) -> str:
        governs = self._value(self.line_set, name)
        return (
            f"met first: {governs.text}; no leave to hang more than is posted"
            if isinstance(governs, Name)
            else ""
        )

    def _room(self, arbor: Thing) -> str:
        height = self._text(arbor, "clear_height") if "clear_height" in arbor.kind.facts else NOT_KNOWN
        return "" if height == NOT_KNOWN else f"of {height} between the plates"

    def _figure(self, label: str, thing: Thing, fact: str, note: str, *, shown: bool = False) -> Figure:
        about = f"{thing.path} : {fact}"
        if fact not in thing.kind.facts:
            return Figure(label, NOT_KNOWN, "nothing computes it", about)
        answer = self.facts.answer(thing, fact)
        if isinstance(answer.value, Unknown):
            return Figure(label, NOT_KNOWN, _why_not(answer), about)
        working = working_text(answer, self.system) if shown and answer.working is not None else ""
        return Figure(label, self._printed(answer.value, thing.kind.facts[fact]), note, about, working)

    def _heights(self) -> Heights:
        here = self.line_set
        names = ("low_trim", "highest_pipe", "highest_pipe_by", "block_clearance")
        low, high, by, _ = (self._value(here, name) for name in names)
        ends = [_high(self._value(line, "lost_height")) for line in self.lift_lines]
        points = [
            _low(self._value(block, "low_point"))
            for line in self.lift_lines
            for block in line.members("blocks")
            if "low_point" in block.kind.facts
        ]
        texts = [
            ("Low trim", self._text(here, "low_trim")),
            ("Highest the pipe can go", self._text(here, "highest_pipe")),
            ("Tallest lower end", self._length(max((end for end in ends if end is not None), default=None))),
            (
                "Lowest point of the blocks",
                self._length(min((one for one in points if one is not None), default=None)),
            ),
            ("Left to the blocks at the arbor's stop", self._text(here, "block_clearance")),
        ]
        return Heights(
            low_trim=_middle(low),
            highest=_middle(high),
            ends=max((end for end in ends if end is not None), default=None),
            low_point=min((one for one in points if one is not None), default=None),
            by_travel=None,
            governed_by=by.text
            if isinstance(by, Name)
            else write_value(by)
            if not isinstance(by, Unknown)
            else "",
            texts=tuple(texts),
        )

    def _length(self, metres: float | None) -> str:
        return NOT_KNOWN if metres is None else write(Bounds.exactly(metres), LENGTH, self.system)

    def _batten_text(self, batten: Thing) -> str:
        words = [
            self._text(batten, name)
            for name in ("nominal", "schedule", "length")
            if name in batten.kind.facts
        ]
        nominal, schedule, length = [*words, "", "", ""][:3]
        pipe = " ".join(
            part
            for part in (
                f"{nominal} pipe" if nominal not in ("", NOT_KNOWN) else "batten",
                f"schedule {schedule}" if schedule not in ("", NOT_KNOWN) else "",
            )
            if part
        )
        return f"{pipe}, {length}" if length not in ("", NOT_KNOWN) else pipe

    def _computed(self) -> Iterator[ComputedValue]:
        things = [
            self.line_set,
            *(one for one in (self.batten, self.arbor) if one is not None),
            *self.lift_lines,
        ]
        for thing in things:
            for name, fact in sorted(thing.kind.facts.items()):
                if fact.is_computed and fact.type not in _IN_PLACE_OF_FIGURES:
                    yield self._computed_value(thing, name, fact)

    def _computed_value(self, thing: Thing, name: str, fact: Fact) -> ComputedValue:
        answer = self.facts.answer(thing, name)
        bounds = answer.value if isinstance(answer.value, Bounds) else None
        return ComputedValue(
            thing=thing.path,
            fact=name,
            text=self._printed(answer.value, fact),
            known=not isinstance(answer.value, Unknown),
            low=_finite(bounds.low) if bounds else None,
            high=_finite(bounds.high) if bounds else None,
            missing=tuple(f"{one.fact} of {one.thing.path}: {one.why}" for one in answer.missing),
            refusal=answer.refusal or "",
        )

    def _value(self, thing: Thing, fact: str) -> Value:
        return self.facts.value(thing, fact) if fact in thing.kind.facts else Unknown()

    def _text(self, thing: Thing, fact: str) -> str:
        if fact not in thing.kind.facts:
            return NOT_KNOWN
        return self._printed(self._value(thing, fact), thing.kind.facts[fact])

    def _printed(self, value: Value, fact: Fact) -> str:
        if isinstance(value, Unknown):
            return NOT_KNOWN
        if fact.name == "sag" and isinstance(value, Bounds):
            return _one_in(value)
        if fact.name.endswith("utilisation") and isinstance(value, Bounds):
            return _as_share(value).text
        dimension: Dimension | None = None if fact.type == "date" else fact.dimension or RATIO
        return write_value(value, dimension, self.system)


def _part(thing: Thing, name: str) -> Thing | None:
    part = thing.parts.get(name)
    return part if isinstance(part, Thing) else None


def _why_not(answer: Answer) -> str:
    if answer.refusal:
        return answer.refusal
    reasons = [f"{one.fact.replace('_', ' ')} of {one.thing.path}: {one.why}" for one in answer.missing]
    return "; ".join(reasons[:3]) + (f"; and {len(reasons) - 3} more" if len(reasons) > 3 else "")


def _share(pull: Value, limit: Value) -> Share:
    """What part of a limit a pull uses; not known where either is not."""
    if not isinstance(pull, Bounds) or not isinstance(limit, Bounds) or not limit.high > 0:
        return Share(NOT_KNOWN, None, None)
    worst = inf if limit.low <= 0 else pull.high / limit.low
    return _as_share(Bounds(pull.low / limit.high, worst))


def _greatest(path: tuple[PathPart, ...], by_limit: Share) -> Share:
    """The share of the part that is used most; not known where one of them is not."""
    shares = [part.share for part in path if part.share is not None]
    if not shares or any(share.high is None for share in shares):
        return Share(NOT_KNOWN, None, None)
    return max([*shares, by_limit], key=lambda share: share.high or 0.0)


def _as_share(used: Value) -> Share:
    if not isinstance(used, Bounds):
        return Share(NOT_KNOWN, None, None)
    low, high = _finite(used.low), _finite(used.high)
    if high is None:
        return Share(NOT_KNOWN if low is None else f"at least {_percent(low)}", low, None)
    if low is None or _percent(low) == _percent(high):
        return Share(_percent(high), low, high)
    return Share(f"{_percent(low)[:-2]} to {_percent(high)}", low, high)


def _percent(share: float) -> str:
    return f"{share * 100:.0f} %"


def _one_in(sag: Bounds) -> str:
    """A sag as builders say it: 1/240 of the span."""
    if not sag.high > 0 or not isfinite(sag.high):
        return write(sag, RATIO)
    return f"1/{1 / sag.high:.0f} of the span"


def _finite(figure: float) -> float | None:
    return figure if isfinite(figure) else None


def _low(value: Value) -> float | None:
    return _finite(value.low) if isinstance(value, Bounds) else None


def _high(value: Value) -> float | None:
    return _finite(value.high) if isinstance(value, Bounds) else None


def _middle(value: Value) -> float | None:
    """For drawing only: the middle of what is known."""
    if not isinstance(value, Bounds) or not isfinite(value.low) or not isfinite(value.high):
        return None
    return (value.low + value.high) / 2


def _worst(lines: tuple[LineFigures, ...]) -> int | None:
    """The line that is used most; one that cannot be told goes before all others, and of several such the one
    that is pulled most.
    """
    if not lines:
        return None

    def used(place: int) -> tuple[float, float, int]:
        high, pull = lines[place].share.high, lines[place].pull_high
        return (inf if high is None else high, 0.0 if pull is None else pull, -place)

    return max(range(len(lines)), key=used)
