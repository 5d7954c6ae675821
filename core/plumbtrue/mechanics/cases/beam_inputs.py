"""How a case writes a batten, its lines and its loads, read into the values that the beam modules take.

A case is two-way unless it says `tension_only`, and not levelled unless it says how (see `slack` in
`reactions.Levelled`).
"""

from dataclasses import dataclass
from typing import Final

from plumbtrue.mechanics.batten import (
    CONTINUOUS,
    HINGE,
    Batten,
    Line,
    Load,
    Piece,
    PointLoad,
    Splice,
    SpreadLoad,
)
from plumbtrue.mechanics.cases.inputs import CannotRunError, Inputs, NotKnownError
from plumbtrue.mechanics.cases.unit_keys import Kind
from plumbtrue.mechanics.load_bounds import BoundedLoad
from plumbtrue.mechanics.reactions import Levelled
from plumbtrue.mechanics.rope_stretch import line_stiffness
from plumbtrue.mechanics.section import round_tube

LEVELLED: Final[dict[str | None, Levelled]] = {None: "slack", "bare": "bare", "loaded": "loaded"}


@dataclass(frozen=True, slots=True)
class HungBatten:
    """What nearly every beam case states."""

    batten: Batten
    elastic_modulus: float | None
    """S of the pipe [m3], where it is stated."""
    lines: tuple[Line, ...]
    loads: tuple[Load, ...]
    tension_only: bool
    levelled: Levelled
    is_metric: bool
    """Whether lengths are written in metres; then a force without a unit in its key is in newtons, else in
    pounds.
    """


def read_hung_batten(inputs: Inputs) -> HungBatten:
    """Batten, lines, loads and how they are to be taken."""
    pipe = read_pipe(inputs)
    return HungBatten(
        batten=read_batten(inputs, pipe),
        elastic_modulus=_elastic_modulus(pipe),
        lines=read_lines(inputs),
        loads=tuple(read_load(load) for load in inputs.parts("loads", optional=True)),
        tension_only=inputs.flag("tension_only") or False,
        levelled=LEVELLED[inputs.word("levelled", among=("bare", "loaded"))],
        is_metric=any(f"length_{unit}" in pipe for unit in ("m", "cm", "mm")),
    )


def read_pipe(inputs: Inputs) -> Inputs:
    """The part that states the batten. Read it once: what is left unread in it is reported."""
    pipe = inputs.part("batten")
    if pipe is None:
        raise CannotRunError("missing input batten")
    return pipe


def read_batten(inputs: Inputs, pipe: Inputs, weight_per_length: float | None = None) -> Batten:
    """The batten with its stiffer pieces and splices; its weight may be given by the caller instead."""
    E = pipe.quantity("E", "force per area")
    if weight_per_length is None:
        weight_per_length = pipe.quantity("weight", "force per length", 0.0)
    return Batten(
        length=pipe.quantity("length", "length"),
        EI=E * _second_moment(pipe),
        weight_per_length=weight_per_length,
        pieces=tuple(_piece(part, E) for part in pipe.parts("stiffened", optional=True)),
        splices=tuple(
            _splice(part) for owner in (inputs, pipe) for part in owner.parts("splices", optional=True)
        ),
    )


def _elastic_modulus(pipe: Inputs) -> float | None:
    if pipe.is_given("S", "section modulus") or not pipe.is_given("outside_diameter", "length"):
        return pipe.known("S", "section modulus")
    tube = round_tube(pipe.quantity("outside_diameter", "length"), pipe.quantity("wall", "length"))
    return tube.elastic_modulus


def _second_moment(pipe: Inputs) -> float:
    if pipe.is_given("I", "second moment") or not pipe.is_given("outside_diameter", "length"):
        return pipe.quantity("I", "second moment")
    return round_tube(
        pipe.quantity("outside_diameter", "length"), pipe.quantity("wall", "length")
    ).second_moment


def _piece(part: Inputs, E: float) -> Piece:
    return Piece(
        start=part.quantity("from", "length"),
        end=part.quantity("to", "length"),
        EI=part.quantity("E", "force per area", E) * part.quantity("I", "second moment"),
    )


def _splice(part: Inputs) -> Splice:
    at = part.quantity("at", "length")
    match part.word("model", among=("hinge", "continuous", "spring")):
        case "spring":
            return Splice(at, part.quantity("stiffness", "turning stiffness"))
        case "continuous":
            return Splice(at, CONTINUOUS)
        case _:
            return Splice(at, HINGE)


def read_lines(inputs: Inputs) -> tuple[Line, ...]:
    """The lift lines in the order written."""
    return tuple(
        Line(
            at=line.quantity("at", "length"),
            stiffness=_line_stiffness(line),
            offset=line.quantity("offset", "length", 0.0),
        )
        for line in inputs.parts("lines")
    )


def _line_stiffness(line: Inputs) -> float | None:
    if line.is_given("stiffness", "force per length"):
        return line.quantity("stiffness", "force per length")
    if not (line.is_given("rope_ea", "force") or line.is_given("rope_length", "length")):
        return None
    return line_stiffness([(line.quantity("rope_ea", "force"), line.quantity("rope_length", "length"))])


def read_range(inputs: Inputs, stem: str, kind: Kind) -> tuple[float, float]:
    """A figure that may be written as [least, greatest].

    Raises:
        NotKnownError: it is null.
    """
    found = inputs.ends(stem, kind)
    if found is None:
        raise NotKnownError(stem)
    return found


def read_load(load: Inputs) -> Load:
    """One load: point unless its kind is uniform or linear."""
    match load.word("kind", among=("point", "uniform", "linear")):
        case "uniform":
            start, end = load.quantity("from", "length"), load.quantity("to", "length")
            if load.is_given("weight", "force"):
                return SpreadLoad.uniform(start, end, load.quantity("weight", "force"))
            intensity = load.quantity("weight", "force per length")
            return SpreadLoad(start, end, intensity, intensity)
        case "linear":
            return SpreadLoad(
                start=load.quantity("from", "length"),
                end=load.quantity("to", "length"),
                at_start=load.quantity("start", "force per length"),
                at_end=load.quantity("end", "force per length"),
            )
        case _:
            return PointLoad(load.quantity("at", "length"), load.quantity("weight", "force"))


def read_bounded_load(load: Inputs) -> BoundedLoad:
    """One load whose weight, and whose place for a point load, may be written as [least, greatest]."""
    match load.word("kind", among=("point", "uniform", "linear")):
        case "uniform":
            start, end = load.quantity("from", "length"), load.quantity("to", "length")
            if load.is_given("weight", "force"):
                return BoundedLoad(SpreadLoad(start, end, 1.0, 1.0), read_range(load, "weight", "force"))
            least, greatest = read_range(load, "weight", "force per length")
            return BoundedLoad(
                SpreadLoad(start, end, 1.0, 1.0), (least * (end - start), greatest * (end - start))
            )
        case "linear":
            fixed = read_load(load)
            return BoundedLoad(fixed, (fixed.weight, fixed.weight))
        case _:
            places = read_range(load, "at", "length")
            return BoundedLoad(PointLoad(places[0], 1.0), read_range(load, "weight", "force"), at=places)
