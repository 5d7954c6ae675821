"""Runs the cases of a file: one verdict for each, whatever is wrong with it. A case that cannot be run stops
none of the others."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from plumbtrue.mechanics.cases import computations, corners
from plumbtrue.mechanics.cases.comparing import NOTHING, Difference, differences, read_tolerance
from plumbtrue.mechanics.cases.inputs import CannotRunError, NotKnownError, UnknownInputError
from plumbtrue.mechanics.cases.outputs import Outputs
from plumbtrue.mechanics.cases.reading import WrittenCase

Verdict = Literal["agrees", "differs", "not run"]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one case, and where it differs or why it did not run."""

    id: str
    computation: str
    verdict: Verdict
    notes: tuple[str, ...] = ()
    place: str = ""
    """`file:line`, where it came from a file."""


def run_cases(cases: Iterable[WrittenCase]) -> Iterator[Outcome]:
    """An outcome for each case, in order."""
    for case in cases:
        yield run_case(case)


def run_case(case: WrittenCase) -> Outcome:
    """The outcome of one case as written."""
    written = case.written
    if not isinstance(written, Mapping):
        note = f"a case has keys, but this is {written!r}"
        return Outcome(f"case {case.number}", "?", "not run", (note,), case.place)
    name = str(written.get("id") or f"case {case.number}")
    computation = str(written.get("computation") or "?")
    try:
        verdict, notes = _judge(case, written)
    except CannotRunError as problem:
        verdict, notes = "not run", [str(problem)]
    except Exception as mistake:  # The others must still run.
        verdict = "not run"
        notes = [f"a mistake of this program, please report it: {type(mistake).__name__}: {mistake}"]
    return Outcome(name, computation, verdict, tuple(" ".join(note.split()) for note in notes), case.place)


def _judge(case: WrittenCase, written: Mapping[str, object]) -> tuple[Verdict, list[str]]:
    if case.twice:
        raise CannotRunError(f"{', '.join(case.twice)} written twice")
    expected, inputs = written.get("expected"), written.get("inputs")
    if not isinstance(expected, Mapping) or not expected:
        raise CannotRunError("nothing is expected, so nothing can be compared")
    if not isinstance(inputs, Mapping):
        raise CannotRunError("inputs: keys with values are wanted")
    tolerance = read_tolerance(written.get("tolerance"))
    try:
        outputs = outputs_of(written.get("computation"), inputs)
    except UnknownInputError as unknown:
        if unknown.outputs is None:
            raise
        # Whatever it was to change was not looked at, so this is no agreement.
        without = differences(unknown.outputs, expected, tolerance)
        told = "; ".join(map(str, without)) or "everything expected comes out"
        return "not run", [f"{unknown}; without it: {told}"]
    found = differences(outputs, expected, tolerance)
    return ("differs" if found else "agrees"), _notes(found, outputs)


def _notes(found: list[Difference], outputs: Outputs) -> list[str]:
    notes = [str(difference) for difference in found]
    if found and outputs.get("reason"):
        notes.append(f"reason: {outputs['reason']}")
    elif any(difference.got is NOTHING for difference in found):
        notes.append(f"the values given are {', '.join(key for key in outputs if key)}")
    return notes


def outputs_of(computation: object, inputs: Mapping[str, object]) -> Outputs:
    """What a computation gives for inputs as written.

    Raises:
        CannotRunError: unknown computation; an input missing, unknown or of the wrong type.
    """
    if not isinstance(computation, str) or computation not in computations.COMPUTATIONS:
        raise CannotRunError(
            "no computation is named" if computation is None else f"unknown computation {computation}"
        )
    try:
        return corners.run(
            computations.COMPUTATIONS[computation],
            inputs,
            ranged=computation in computations.RANGED or computation in computations.MERGED,
            merge=computations.MERGED.get(computation),
        )
    except NotKnownError as missing:
        return {"status": "unknown", "reason": f"{missing} is not known"}
