"""A case whose inputs are ranges: every outcome inside the ranges lies within what comes out, and both ends of
it are reached. And the same case in other units gives the same figures to a part in a thousand million.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import product
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.mechanics.test_check_cases import in_other_units

from plumbtrue.mechanics.bridle import bridle_from_lengths
from plumbtrue.mechanics.cases import computations
from plumbtrue.mechanics.cases.inputs import CannotRunError
from plumbtrue.mechanics.cases.outputs import Quantity, Span
from plumbtrue.mechanics.cases.reading import read_cases
from plumbtrue.mechanics.cases.running import outputs_of
from plumbtrue.mechanics.refusal import Refused

FOLDER = Path(__file__).parent / "cases"
FILES = ("mechanics-cases", "more-cases", "closed-form-cases", "drawn-cases")
COUNTS = frozenset({"purchase", "lines", "turns", "count", "available", "legs", "legs_counted"})
"""Whole numbers, and the purchase: known, whatever else is not."""
LISTS = ("loads", "lengths", "stack", "depths", "sways")
"""Stems of keys that hold a list of figures, each of which may be a range."""


@dataclass(frozen=True, slots=True)
class Range:
    """Two figures that one of the inputs lies between."""

    low: float
    high: float


Inputs = dict[str, object]


def sound_cases() -> Iterator[tuple[str, str, Inputs]]:
    for file in FILES:
        for case in read_cases(FOLDER / f"{file}.yaml"):
            assert isinstance(case.written, Mapping)
            yield case.written["id"], case.written["computation"], case.written["inputs"]


def varied(written: object, rng: np.random.Generator, key: str = "") -> object:
    """Some of the numbers as a range around them, and every range that is written as one."""
    if isinstance(written, Mapping):
        return {name: varied(value, rng, str(name)) for name, value in written.items()}
    if isinstance(written, list):
        if len(written) == 2 and all(is_figure(one) for one in written) and not holds_a_list(key):
            return written if key.startswith("anchor") else Range(*written)
        return [varied(one, rng, "") for one in written]
    if not is_figure(written) or key in COUNTS or key.startswith("broken_") or rng.random() < 0.6:
        return written
    assert isinstance(written, int | float)
    low, high = sorted(float(end) for end in written * (1 + rng.uniform(-0.2, 0.2, 2)))
    return Range(low, high) if low < high else written


def holds_a_list(key: str) -> bool:
    return any(stem in key for stem in LISTS)


def as_written(varied: object) -> object:
    """Ranges as a case writes them."""
    if isinstance(varied, Mapping):
        return {name: as_written(value) for name, value in varied.items()}
    if isinstance(varied, list):
        return [as_written(one) for one in varied]
    return [varied.low, varied.high] if isinstance(varied, Range) else varied


def picked(varied: object, rng: np.random.Generator) -> object:
    """One number from each range, now and then one of its ends."""
    if isinstance(varied, Mapping):
        return {name: picked(value, rng) for name, value in varied.items()}
    if isinstance(varied, list):
        return [picked(one, rng) for one in varied]
    if not isinstance(varied, Range):
        return varied
    share = float(np.clip(rng.uniform(-0.3, 1.3), 0, 1))
    return varied.low + share * (varied.high - varied.low)


def is_figure(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def must_lie_within(inside: object, hull: object, key: str) -> None:
    if isinstance(hull, Quantity):
        must_lie_within(inside.si if isinstance(inside, Quantity) else inside, hull.si, key)
    elif isinstance(hull, Span):
        assert is_figure(inside), key
        assert isinstance(inside, int | float)
        hair = 1e-9 * max(abs(hull.low), abs(hull.high))
        assert hull.low - hair <= inside <= hull.high + hair, key
    elif isinstance(hull, float):
        assert inside == pytest.approx(hull, rel=1e-9, abs=1e-9), key
    elif isinstance(hull, list | tuple) and isinstance(inside, list | tuple):
        for one, bounds in zip(inside, hull, strict=True):
            must_lie_within(one, bounds, key)
    elif isinstance(hull, str) and hull in ("within", "over", "ok"):
        assert inside == hull, key
    elif isinstance(hull, bool):
        assert inside is hull, key


GREATEST_ONLY = frozenset(
    ("bridle-two-leg-from-lengths", key)
    for key in (
        "tensions",
        "horizontal_force",
        "vertical_at_anchors",
        "apex",
        "apex_angle",
        "leg_angle_from_horizontal",
        "leg_angle_from_vertical",
    )
)
"""A leg pulls least somewhere inside the range of its length: see the last test."""

RANGED = [case for case in sound_cases() if case[1] in computations.RANGED]


@pytest.mark.parametrize(("name", "computation", "inputs"), RANGED, ids=[case[0] for case in RANGED])
def test_whatever_the_inputs_turn_out_to_be_lies_within_the_outcome(
    name: str, computation: str, inputs: Inputs
) -> None:
    rng = np.random.default_rng(sum(map(ord, name)))
    judged = 0
    for _ in range(6):
        ranges = varied(inputs, rng)
        written = as_written(ranges)
        assert isinstance(written, dict)
        try:
            hull = outputs_of(computation, written)
        except CannotRunError as problem:
            # A range where a case may have none is named, and no figure given.
            if "not a range" in str(problem) or "are ranges" in str(problem):
                continue
            raise
        if "reason" in hull:
            continue
        judged += 1
        for _ in range(12):
            inside = picked(ranges, rng)
            assert isinstance(inside, dict)
            outcome = outputs_of(computation, inside)
            for key, bounds in hull.items():
                if (computation, key) in GREATEST_ONLY:
                    continue
                must_lie_within(outcome.get(key), bounds, f"{key}: {written} {inside}")
    assert judged or "status" in outputs_of(computation, inputs)


UNITS = [
    case
    for case in sound_cases()
    if not case[1].startswith("units") and case[0] not in ("lost-01", "trim-07", "trim-of-twelve")
]


@pytest.mark.parametrize("choice", [3, 5])
@pytest.mark.parametrize(("name", "computation", "inputs"), UNITS, ids=[case[0] for case in UNITS])
def test_units_change_no_figure(name: str, computation: str, inputs: Inputs, choice: int) -> None:
    turned = in_other_units(inputs, choice)
    assert isinstance(turned, dict)
    one, other = outputs_of(computation, inputs), outputs_of(computation, turned)
    for key, value in one.items():
        if key != "reason" and computation != "lost-support":
            must_be_same(other.get(key), value, f"{name}: {key}")


def must_be_same(got: object, wanted: object, key: str) -> None:
    if isinstance(wanted, Quantity):
        assert isinstance(got, Quantity), key
        must_be_same(got.si, wanted.si, key)
    elif isinstance(wanted, Span):
        assert isinstance(got, Span), key
        assert (got.low, got.high) == pytest.approx((wanted.low, wanted.high), rel=1e-9, abs=1e-9), key
    elif isinstance(wanted, list | tuple) and wanted and all(is_figure(one) for one in wanted):
        size = max(abs(one) for one in wanted)
        assert got == pytest.approx(wanted, rel=1e-9, abs=1e-9 * size + 1e-9), key
    elif isinstance(wanted, list | tuple):
        assert isinstance(got, list | tuple), key
        for one, another in zip(got, wanted, strict=True):
            must_be_same(one, another, key)
    elif is_figure(wanted):
        assert got == pytest.approx(wanted, rel=1e-9, abs=1e-9), key
    else:
        assert got == wanted, key


@given(
    st.tuples(st.floats(3.0, 20.0), st.floats(-3.0, 3.0)),
    st.tuples(st.floats(0.3, 1.5), st.floats(0.3, 1.5)),
    st.tuples(st.floats(0.0, 0.15), st.floats(0.0, 0.15)),
)
@settings(deadline=None, max_examples=60)
def test_a_bridle_leg_pulls_most_where_its_legs_are_longest_or_shortest(
    anchor: tuple[float, float], shares: tuple[float, float], spreads: tuple[float, float]
) -> None:
    """The corners of both lengths hold the greatest pulls, which limits are held against, also where a leg
    goes slack on the way."""
    between = float(np.hypot(*anchor))
    pulls = []
    for steps in product(np.linspace(-1, 1, 7), repeat=2):
        lengths = [
            share * between * (1 + spread * step)
            for share, spread, step in zip(shares, spreads, steps, strict=True)
        ]
        told = bridle_from_lengths(1000.0, (0.0, 0.0), anchor, lengths[0], lengths[1])
        if isinstance(told, Refused):
            return
        pulls.append(told.tensions)
    corners = [pulls[at] for at in (0, 6, 42, 48)]
    for leg in (0, 1):
        assert max(pull[leg] for pull in pulls) <= max(pull[leg] for pull in corners) + 1e-6


def test_the_least_pull_of_a_bridle_leg_may_lie_between_the_corners() -> None:
    """So the lower end of its range is no bound, only what comes out at the corners."""
    at = {
        first: bridle_from_lengths(900.0, (2.0, 30.0), (14.0, 28.0), first, 8.0)
        for first in (8.746040352799753, 9.113333359825575, 9.230033450331945)
    }
    pulls = [told.tensions[1] for told in at.values() if not isinstance(told, Refused)]
    assert len(pulls) == 3
    assert pulls[1] < min(pulls[0], pulls[2])
