"""Runs the cases of a file: one verdict for each, whatever is wrong with it. A case that cannot be run stops
none of the others."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from plumbtrue.mechanics.cases import computations, corners
from plumbtrue.mechanics.cases.comparing import differences, read_tolerance
from plumbtrue.mechanics.cases.inputs import CannotRunError, NotKnownError
from plumbtrue.mechanics.cases.outputs import Outputs

Verdict = Literal["agrees", "differs", "not run"]


class CannotReadError(Exception):
    """The file holds no cases, or cannot be read; the message says why."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one case, and where it differs or why it did not run."""

    id: str
    computation: str
    verdict: Verdict
    notes: tuple[str, ...] = ()


def read_cases(file: Path) -> list[object]:
    """The cases of a YAML file, as written.

    Raises:
        CannotReadError: no such file, not YAML, or no list of cases in it.
    """
    from ruamel.yaml import YAML
    from ruamel.yaml.error import YAMLError

    try:
        written = YAML(typ="safe").load(file.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, YAMLError) as problem:
        raise CannotReadError(f"{file}: {problem}") from problem
    cases = written.get("cases") if isinstance(written, Mapping) else written
    if not isinstance(cases, list):
        raise CannotReadError(f"{file}: a list of cases is wanted, under the key cases")
    return cases


def run_cases(cases: Iterable[object]) -> Iterator[Outcome]:
    """An outcome for each case, in order."""
    for number, case in enumerate(cases, 1):
        yield run_case(case, number)


def run_case(case: object, number: int = 1) -> Outcome:
    """The outcome of one case as written."""
    if not isinstance(case, Mapping):
        return Outcome(f"case {number}", "?", "not run", (f"a case has keys, but this is {case!r}",))
    name, computation = str(case.get("id") or f"case {number}"), str(case.get("computation") or "?")
    try:
        expected, inputs = case.get("expected"), case.get("inputs")
        if not isinstance(expected, Mapping) or not expected:
            raise CannotRunError("nothing is expected, so nothing can be compared")
        if not isinstance(inputs, Mapping):
            raise CannotRunError("inputs: keys with values are wanted")
        outputs = outputs_of(case.get("computation"), inputs)
        found = differences(outputs, expected, read_tolerance(case.get("tolerance")))
    except CannotRunError as problem:
        return Outcome(name, computation, "not run", (str(problem),))
    if not found:
        return Outcome(name, computation, "agrees")
    reason = outputs.get("reason")
    notes = [str(difference) for difference in found] + ([f"reason: {reason}"] if reason else [])
    return Outcome(name, computation, "differs", tuple(notes))


def outputs_of(computation: object, inputs: Mapping[str, object]) -> Outputs:
    """What a computation gives for inputs as written.

    Raises:
        CannotRunError: unknown computation; an input missing, unknown or of the wrong type.
    """
    if not isinstance(computation, str) or computation not in computations.COMPUTATIONS:
        raise CannotRunError(f"unknown computation {computation}")
    try:
        return corners.run(
            computations.COMPUTATIONS[computation], inputs, ranged=computation in computations.RANGED
        )
    except NotKnownError as missing:
        return {"status": "unknown", "reason": f"{missing} is not known"}
