"""What a case gives: figures in SI under a stem, printed in whatever unit the expected key names; words and
truth values as they are."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from plumbtrue.mechanics.cases.inputs import Inputs
from plumbtrue.mechanics.cases.unit_keys import UNITS, Kind, endings
from plumbtrue.mechanics.refusal import Refused


@dataclass(frozen=True, slots=True)
class Quantity:
    """A figure in SI, a span, a list of them, or None where there is none to give."""

    si: object
    kind: Kind


@dataclass(frozen=True, slots=True)
class Span:
    """A result that lies between two figures, because an input does."""

    low: float
    high: float


Outputs = Mapping[str, object]
Computation = Callable[[Inputs], Outputs | Refused]


def between(low: float, high: float) -> float | Span:
    """A figure that lies between two: the figure itself where they are one."""
    return low if low == high else Span(low, high)


def refused(refusal: Refused) -> Outputs:
    """What a refusal gives: its standing and its reason, and no figure."""
    return {"status": refusal.standing, "reason": refusal.reason}


def given(outputs: Outputs, key: str) -> tuple[bool, object]:
    """Whether a value of this name is given, and the value in the unit that the name's ending says."""
    if key in outputs:
        found = outputs[key]
        return True, found.si if isinstance(found, Quantity) else found
    for stem, unit in endings(key):
        found = outputs.get(stem)
        kind, factor = UNITS[unit]
        if isinstance(found, Quantity) and found.kind == kind:
            return True, _in_unit(found.si, factor)
    return False, None


def with_standing(outputs: Outputs) -> Outputs:
    """The same with a status, which every result has: against its limit where it was held against one, else
    `ok`, which is no verdict."""
    return outputs if "status" in outputs else {**outputs, "status": _standing(outputs)}


def _standing(outputs: Outputs) -> str:
    # Two-way supports may give figures below 0, and a rope cannot push.
    pulls = [
        figure for key, value in outputs.items() if key.startswith("reaction") for figure in _figures(value)
    ]
    if pulls and min(pulls) < -1e-9 * max(map(abs, pulls)):
        return "outside"
    if "utilisation" in outputs:
        match outputs["utilisation"]:
            case int() | float() as use:
                return "within" if use <= 1 else "over"
            case Span(low, high):
                return "within" if high <= 1 else "over" if low > 1 else "unknown"
            case _:
                return "unknown"
    match outputs.get("within_limit"):
        case True:
            return "within"
        case False:
            return "over"
        case _:
            return "ok"


def _figures(value: object) -> Iterator[float]:
    match value:
        case Quantity(si, _):
            yield from _figures(si)
        case list() | tuple():
            for one in value:
                yield from _figures(one)
        case int() | float():
            yield value


def _in_unit(figures: object, factor: float) -> object:
    if figures is None:
        return None
    if isinstance(figures, Span):
        return Span(figures.low / factor, figures.high / factor)
    if isinstance(figures, int | float):
        return figures / factor
    if isinstance(figures, Sequence):
        return [_in_unit(one, factor) for one in figures]
    raise TypeError(f"a quantity holds figures, not {figures!r}")
