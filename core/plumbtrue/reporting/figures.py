"""Figures: where each stroke and word stands, in units of the drawing. Templates only put them down.

Every figure carries the same in words, and every state has a sign of its own, so that nothing hangs on
colour or on seeing the drawing.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from plumbtrue.reporting.cards import NOT_KNOWN, Card, Heights, LineFigures, PathPart, Share
from plumbtrue.reporting.report import SetReport

_APART: Final = 10.0
"""Least distance of two arrows that can be told apart."""
_ROW: Final = 17.0
"""Least distance between two lines of lettering."""


@dataclass(frozen=True, slots=True)
class DrawnLine:
    """A lift line in the elevation, with a bar as high as its share of what it may take."""

    x: float
    bar: float
    """Height of the bar; 0 where the share is not known."""
    known: bool
    over: bool
    pull: str
    share: str
    at: str
    key: str


@dataclass(frozen=True, slots=True)
class Elevation:
    """The batten seen from the house, with its lines and the pull on each."""

    width: float
    left: float
    right: float
    pipe: float
    top: float
    full: float
    """Height of the stroke at which a bar stands for all that a line may take."""
    lines: tuple[DrawnLine, ...]
    worst: int | None
    arrows: tuple[float, ...]
    """Where a single load may hang, that the house has posted."""
    posted: str
    words: str


@dataclass(frozen=True, slots=True)
class Mark:
    """A height with its lettering; `label_y` keeps letterings apart."""

    y: float
    label_y: float
    label: str


@dataclass(frozen=True, slots=True)
class TravelBar:
    """How low and how high the pipe can go, and what the lower ends cost of it."""

    height: float
    low: float
    high: float
    ends: float | None
    """Upper edge of what the lower ends take up."""
    marks: tuple[Mark, ...]
    words: str


@dataclass(frozen=True, slots=True)
class DrawnPart:
    """A part of the load path: a box, filled as far as it is used."""

    y: float
    name: str
    end: str
    told: str
    fill: float
    known: bool
    governs: bool
    counted: bool
    """Whether it has a limit of its own."""


@dataclass(frozen=True, slots=True)
class LoadPath:
    """The parts that one line's pull goes through, from the arbor to the pipe."""

    height: float
    line: str
    parts: tuple[DrawnPart, ...]
    words: str


@dataclass(frozen=True, slots=True)
class DrawnSet:
    """A line set in the section through the house."""

    x: float
    y: float
    key: str
    sign: str
    state: str


@dataclass(frozen=True, slots=True)
class Section:
    """The sets at their distances from the plaster line, each with the sign of its state."""

    width: float
    height: float
    sets: tuple[DrawnSet, ...]
    ticks: tuple[tuple[float, str], ...]
    words: str


def elevation(card: Card) -> Elevation | None:
    """The elevation of a set; nothing where the places of its lines are not known."""
    length = card.batten_length
    if not length or not card.lines or any(line.from_zero is None for line in card.lines):
        return None
    left, right, pipe, full = 40.0, 680.0, 150.0, 95.0
    scale = (right - left) / length
    drawn = tuple(_drawn_line(line, left + (line.from_zero or 0.0) * scale, full) for line in card.lines)
    words = "; ".join(
        f"{line.key} at {line.at}: {line.pull}, {_told(line.share)} of {line.limit}" for line in card.lines
    )
    single = ", ".join(f"{where} {text}" for where, text in card.posted_single)
    posted = f"Posted: {card.posted} in all" + (f"; singly {single}" if single else "")
    return Elevation(
        width=720.0,
        left=left,
        right=right,
        pipe=pipe,
        top=30.0,
        full=pipe - full,
        lines=drawn,
        worst=card.worst_line,
        arrows=tuple(sorted(_arrows(card, [line.x for line in drawn], left, right))),
        posted=posted,
        words=f"{card.batten_text} on {len(card.lines)} lines. {posted}. {words}.",
    )


def _arrows(card: Card, lines: Sequence[float], left: float, right: float) -> Iterator[float]:
    """Places of the single loads that are posted: at the lines, half way between them, and at the pipe's ends."""
    written = {where for where, _ in card.posted_single}
    ordered = sorted(lines)
    for where, places in (
        ("at a line", ordered),
        ("between two lines", [(one + other) / 2 for one, other in pairwise(ordered)]),
        (
            "beyond the outer lines",
            [end for end in (left, right) if all(abs(end - x) > _APART for x in ordered)],
        ),
    ):
        if where in written:
            yield from (round(place, 1) for place in places)


def _drawn_line(line: LineFigures, x: float, full: float) -> DrawnLine:
    high = line.share.high
    return DrawnLine(
        x=round(x, 1),
        bar=round(min(high or 0.0, 1.2) * full, 1),
        known=high is not None,
        over=high is not None and high > 1,
        pull=line.pull,
        share=line.share.text if high is not None else "?",
        at=line.at,
        key=line.key.removeprefix("line "),
    )


def _told(share: Share) -> str:
    return share.text if share.high is not None else "a share that cannot be told"


def travel_bar(heights: Heights) -> TravelBar | None:
    """The travel of a set; nothing where neither of its ends is known."""
    if heights.low_trim is None or heights.highest is None:
        return None
    height, foot, head = 330.0, 310.0, 22.0
    ends = None if heights.ends is None else heights.highest + heights.ends
    top = max(one for one in (heights.highest, ends, heights.low_point) if one is not None)
    scale = (foot - head) / top if top > 0 else 1.0

    def up(metres: float) -> float:
        return round(foot - metres * scale, 1)

    texts = dict(heights.texts)
    wanted = [(0.0, "deck"), (heights.low_trim, f"low trim {texts['Low trim']}")]
    wanted.append((heights.highest, f"highest pipe {texts['Highest the pipe can go']}"))
    if ends is not None:
        wanted.append((ends, f"top of lower ends, {texts['Tallest lower end']} more"))
    if heights.low_point is not None:
        wanted.append((heights.low_point, f"blocks begin {texts['Lowest point of the blocks']}"))
    return TravelBar(
        height=height,
        low=up(heights.low_trim),
        high=up(heights.highest),
        ends=None if ends is None else up(ends),
        marks=tuple(_apart([(up(metres), label) for metres, label in sorted(wanted)])),
        words="; ".join(f"{label}: {text}" for label, text in heights.texts)
        + (f"; governed by {heights.governed_by}" if heights.governed_by else "")
        + ".",
    )


def _apart(marks: Sequence[tuple[float, str]]) -> Iterable[Mark]:
    """Letterings from below upward, each at least a row above the one before, and none above the drawing."""
    places: list[float] = []
    for y, _ in marks:
        places.append(min(y, places[-1] - _ROW) if places else y)
    shift = max(12.0 - places[-1], 0.0)
    places[-1] += shift
    for place in range(len(places) - 2, -1, -1):
        places[place] = max(places[place], places[place + 1] + _ROW)
    assert all(below - above >= _ROW - 0.01 for below, above in pairwise(places))
    return [Mark(y, round(at, 1), label) for (y, label), at in zip(marks, places, strict=True)]


def load_path(card: Card) -> LoadPath | None:
    """The load path of the line that is used most; nothing where nobody wrote one."""
    if card.worst_line is None or not card.lines[card.worst_line].path:
        return None
    line = card.lines[card.worst_line]
    row = 34.0
    parts = tuple(_drawn_part(part, 8.0 + place * row) for place, part in enumerate(line.path))
    words = "; ".join(
        f"{one.name} ({one.end}): {one.told}{', the weakest' if one.governs else ''}" for one in parts
    )
    return LoadPath(
        16.0 + len(parts) * row, line.key, parts, f"Load path of {line.key} from arbor to pipe. {words}."
    )


def _drawn_part(part: PathPart, y: float) -> DrawnPart:
    if part.share is None:
        told, fill, known = "in the rope's limit", 0.0, True
    elif part.share.high is None:
        told, fill, known = (
            "limit not known" if part.limit in ("", NOT_KNOWN, "none") else "cannot be told",
            0.0,
            False,
        )
    else:
        told, fill, known = f"{part.share.text} of {part.limit}", min(part.share.high, 1.0), True
    return DrawnPart(
        y, part.name, part.end, told, round(fill * 300, 1), known, part.governs, part.share is not None
    )


def section(sets: Sequence[SetReport]) -> Section | None:
    """The section through the house; nothing where no set's distance is known."""
    placed = [(one.upstage, one) for one in sets if one.upstage is not None]
    if not placed:
        return None
    left, right = 50.0, 950.0
    depth = max(distance for distance, _ in placed)
    scale = (right - left) / max(depth * 1.04, 1.0)
    drawn: list[DrawnSet] = []
    rows: list[float] = []
    for distance, one in sorted(placed, key=lambda pair: pair[0]):
        x = round(left + distance * scale, 1)
        row = next((place for place, last in enumerate(rows) if x - last >= 30), len(rows))
        rows[row : row + 1] = [x]
        drawn.append(DrawnSet(x, 40.0 + row * 44.0, one.key, one.sign, one.state.value))
    height = 40.0 + len(rows) * 44.0 + 40.0
    words = "; ".join(
        f"set {one.key}: {one.state_label.lower()}" for _, one in sorted(placed, key=lambda pair: pair[0])
    )
    step = 5 * 0.3048
    ticks = tuple(
        (round(left + place * step * scale, 1), f"{place * 5}'-0\"")
        for place in range(int(depth * 1.04 / step) + 1)
    )
    return Section(1000.0, height, tuple(drawn), ticks, f"From the plaster line upstage: {words}.")
