"""Figures of a show: bridles as they hang, and the balance of a set along its load-in. As with those of a set,
each carries the same in words.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.reporting.papers import PaperStep
from plumbtrue.reporting.report import BridleShown, LegShown, LoadIn

_WIDTH: Final = 420.0
_ROW: Final = 19.0
_STEP: Final = 40.0


@unchanging
class DrawnLeg:
    """A leg from the apex to its point, with a mark that stands in a row of its own below the drawing."""

    x: float
    y: float
    mark: str
    mark_x: float


@unchanging
class DrawnBridle:
    """A bridle seen from the house, and of three or more legs also from above."""

    title: str
    width: float
    height: float
    apex: tuple[float, float]
    legs: tuple[DrawnLeg, ...]
    plan: tuple[DrawnLeg, ...]
    plan_apex: tuple[float, float]
    load: str
    rows: tuple[tuple[float, str], ...]
    words: str


def bridle(shown: BridleShown) -> DrawnBridle | None:
    """A bridle to scale; nothing where a place that the drawing needs is not written."""
    legs = [one for one in shown.legs if one.across is not None and one.rise is not None and one.rise > 0]
    in_space = len(shown.legs) > 2
    if (
        len(legs) < len(shown.legs)
        or len(legs) < 2
        or (in_space and any(one.upstage is None for one in legs))
    ):
        return None
    room = (30.0, 250.0) if in_space else (60.0, _WIDTH - 60.0)
    apex, drawn, bottom = _seen(legs, room)
    plan_apex, plan = _from_above(legs) if in_space else ((0.0, 0.0), ())
    rows = tuple(
        (round(bottom + 62.0 + place * _ROW, 1), _of_leg(one)) for place, one in enumerate(shown.legs)
    )
    words = (
        f"{shown.title}, {shown.load} at an apex {shown.apex} high; between the legs {shown.between}; level pull "
        f"{shown.level}. {'; '.join(_of_leg(one) for one in shown.legs)}."
    )
    height = rows[-1][0] + 12.0
    return DrawnBridle(shown.title, _WIDTH, height, apex, drawn, plan, plan_apex, shown.load, rows, words)


def _of_leg(leg: LegShown) -> str:
    to = f" to {leg.point}" if leg.point else ""
    sides = ", ".join(f"{name} {text}" for name, text in (("run", leg.run), ("rise", leg.height)) if text)
    return f"leg {leg.mark}{to}: {leg.pull} at {leg.angle}" + (f" ({sides})" if sides else "")


def _seen(
    legs: list[LegShown], room: tuple[float, float]
) -> tuple[tuple[float, float], tuple[DrawnLeg, ...], float]:
    """Apex and legs seen from the house, run and rise in one scale, and where the drawing ends below."""
    left = min(0.0, *(one.across or 0.0 for one in legs))
    right = max(0.0, *(one.across or 0.0 for one in legs))
    rise = max(one.rise or 0.0 for one in legs)
    scale = min((room[1] - room[0]) / max(right - left, 0.1), 170.0 / rise)
    middle = (room[0] + room[1]) / 2 - (left + right) / 2 * scale
    apex = (round(middle, 1), round(34.0 + rise * scale, 1))
    drawn = tuple(
        _drawn(one, middle + (one.across or 0.0) * scale, apex[1] - (one.rise or 0.0) * scale) for one in legs
    )
    return apex, _marks_apart(drawn), apex[1]


def _from_above(legs: list[LegShown]) -> tuple[tuple[float, float], tuple[DrawnLeg, ...]]:
    """The same from above, upstage up the page."""
    reach = max(max(abs(one.across or 0.0), abs(one.upstage or 0.0)) for one in legs) or 1.0
    scale, centre = 58.0 / reach, (340.0, 105.0)
    drawn = tuple(
        _drawn(one, centre[0] + (one.across or 0.0) * scale, centre[1] - (one.upstage or 0.0) * scale)
        for one in legs
    )
    return centre, drawn


def _drawn(leg: LegShown, x: float, y: float) -> DrawnLeg:
    return DrawnLeg(round(x, 1), round(y, 1), leg.mark, round(x, 1))


def _marks_apart(legs: tuple[DrawnLeg, ...]) -> tuple[DrawnLeg, ...]:
    """Marks over the points, none over another."""
    ordered = sorted(legs, key=lambda one: (one.x, one.mark))
    places: list[float] = []
    for one in ordered:
        places.append(max(one.x, places[-1] + 16.0) if places else one.x)
    assert all(after - before >= 15.9 for before, after in pairwise(places))
    return tuple(
        DrawnLeg(one.x, one.y, one.mark, round(at, 1)) for one, at in zip(ordered, places, strict=True)
    )


@unchanging
class DrawnBar:
    """How a set stands after one step: a bar from the middle to the side that is heavy."""

    x: float
    width: float
    known: bool
    over: bool
    """Further out than the lock is trusted with, and no stop below the heavy side."""
    resting: bool
    """Further out than that, and the heavy side can go no lower."""


@unchanging
class DrawnBars:
    """Bars of several steps in one scale."""

    middle: float
    lock: float | None
    """How far from the middle the lock is trusted."""
    bars: tuple[DrawnBar, ...]

    @property
    def over(self) -> bool:
        """Whether any goes beyond the lock with no stop below."""
        return any(one.over for one in self.bars)


def bars(steps: Sequence[PaperStep], lock: float | None, left: float, right: float) -> DrawnBars | None:
    """Bars between two places; nothing where no step can be told.

    Args:
        lock: what a lock is trusted with, at the hand line [N].
    """
    outs = [one.out for one in steps if one.out is not None]
    if not outs:
        return None
    heavy_pipe = max(0.0, lock or 0.0, *(one.high for one in outs))
    heavy_arbor = max(0.0, lock or 0.0, *(-one.low for one in outs))
    scale = (right - left) / max(heavy_pipe + heavy_arbor, 1.0)
    middle = round(left + heavy_arbor * scale, 1)
    drawn = []
    for step in steps:
        out = step.out
        worst = 0.0 if out is None else out.high if abs(out.high) >= abs(out.low) else out.low
        beyond = lock is not None and abs(worst) > lock * (1 + 1e-9)
        resting = beyond and step.resting == ("pipe" if worst > 0 else "arbor")
        end = middle + worst * scale
        drawn.append(
            DrawnBar(
                x=round(min(middle, end), 1),
                width=round(abs(end - middle), 1),
                known=out is not None,
                over=beyond and not resting,
                resting=resting,
            )
        )
    return DrawnBars(middle, None if lock is None else round(lock * scale, 1), tuple(drawn))


@unchanging
class DrawnStep:
    """One step with its bar."""

    y: float
    number: int
    do: str
    bar: DrawnBar
    side: str


@unchanging
class DrawnBalance:
    """How a set stands after each step, with what the lock is trusted with to either side."""

    title: str
    width: float
    height: float
    middle: float
    lock: float | None
    lock_text: str
    over: bool
    """Whether any step goes beyond the lock with no stop below."""
    steps: tuple[DrawnStep, ...]
    words: str


def balance(shown: LoadIn) -> DrawnBalance | None:
    """The balance along a load-in; nothing where no step of it can be told."""
    drawn = bars(shown.order.steps, shown.lock, 20.0, 800.0)
    if drawn is None:
        return None
    steps = tuple(
        DrawnStep(40.0 + place * _STEP, step.number, step.do, bar, step.side)
        for place, (step, bar) in enumerate(zip(shown.order.steps, drawn.bars, strict=True))
    )
    trusted = f"The lock is trusted with {shown.lock_text}. " if shown.lock_text else ""
    told = "; ".join(f"{one.number}, {one.do}: {one.side}{_mark(one.bar)}" for one in steps)
    return DrawnBalance(
        title=shown.title,
        width=1000.0,
        height=40.0 + len(steps) * _STEP,
        middle=drawn.middle,
        lock=drawn.lock,
        lock_text=shown.lock_text,
        over=drawn.over,
        steps=steps,
        words=f"Balance of {shown.title} along its load-in, {shown.order.whose}. {trusted}{told}.",
    )


def _mark(bar: DrawnBar) -> str:
    if bar.over:
        return ", more than the lock is trusted with"
    return ", resting on its stop" if bar.resting else ""
