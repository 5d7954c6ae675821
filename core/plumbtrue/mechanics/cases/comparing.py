"""Whether what came out is what was expected, within the case's tolerance."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeGuard

from plumbtrue.mechanics.cases.inputs import CannotRunError
from plumbtrue.mechanics.cases.outputs import Outputs, Span, given

NOTHING = object()
"""Stands for a value that the computation does not give at all."""


@dataclass(frozen=True, slots=True)
class Tolerance:
    """A figure agrees when it is off by no more than the larger of `abs` and `rel` times the expected
    figure."""

    rel: float = 1e-6
    abs: float = 1e-9
    keys: Mapping[str, "Tolerance"] = field(default_factory=dict)

    def of(self, key: str) -> "Tolerance":
        """The tolerance for the value of a name: its own where it has one, in place of the general one."""
        own = self.keys.get(key)
        return self if own is None else Tolerance(own.rel, own.abs, self.keys)

    def allows(self, got: float, expected: float) -> bool:
        # A figure that is not a number compares false, and so differs.
        return abs(got - expected) <= max(self.abs, self.rel * abs(expected))


@dataclass(frozen=True, slots=True)
class Difference:
    """A value that is not what was expected, in words."""

    key: str
    expected: object
    got: object

    def __str__(self) -> str:
        got = "no value of that name" if self.got is NOTHING else _print(self.got)
        return f"{self.key}: expected {_print(self.expected)}, got {got}"


def read_tolerance(written: object) -> Tolerance:
    """A case's tolerance; without one, figures must agree to one part in a million: cases are written with
    seven figures.

    Raises:
        CannotRunError: it is not of the form {rel: …, abs: …, keys: {name: {rel: …, abs: …}}}.
    """
    if written is None:
        return Tolerance()
    if not isinstance(written, Mapping):
        raise CannotRunError(f"tolerance: rel and abs are wanted, {written!r} given")
    keys = written.get("keys") or {}
    if not isinstance(keys, Mapping):
        raise CannotRunError(f"tolerance.keys: names with rel and abs are wanted, {keys!r} given")
    unknown = [str(key) for key in written if key not in ("rel", "abs", "keys")]
    if unknown:
        raise CannotRunError(f"tolerance: unknown key {', '.join(unknown)}")
    return Tolerance(
        _share(written, "rel"),
        _share(written, "abs"),
        {str(name): read_tolerance(own) for name, own in keys.items()},
    )


def differences(outputs: Outputs, expected: Mapping[str, object], tolerance: Tolerance) -> list[Difference]:
    """Every expected value that did not come out. Further values are not looked at; null is met by no
    value."""
    found = []
    for key, wanted in expected.items():
        is_given, got = given(outputs, key)
        if not is_given and wanted is None:
            continue
        if not is_given:
            found.append(Difference(key, wanted, NOTHING))
        elif not _agrees(got, wanted, tolerance.of(key)):
            found.append(Difference(key, wanted, got))
    return found


def _agrees(got: object, wanted: object, tolerance: Tolerance) -> bool:
    if wanted is None or isinstance(wanted, str | bool):
        return type(got) is type(wanted) and got == wanted
    if isinstance(wanted, int | float):
        if isinstance(got, Span):
            return tolerance.allows(got.low, wanted) and tolerance.allows(got.high, wanted)
        return _is_figure(got) and tolerance.allows(got, wanted)
    if isinstance(wanted, Mapping):
        return isinstance(got, Mapping) and not differences(got, wanted, tolerance)
    if isinstance(wanted, Sequence):
        if isinstance(got, Span):
            got = [got.low, got.high]
        elif _is_figure(got) and len(wanted) == 2:
            got = [got, got]
        if not isinstance(got, Sequence) or isinstance(got, str) or len(got) != len(wanted):
            return False
        return all(_agrees(one, want, tolerance) for one, want in zip(got, wanted, strict=True))
    raise CannotRunError(f"expected: {wanted!r} cannot be compared with anything")


def _is_figure(value: object) -> TypeGuard[float]:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _share(written: Mapping[object, object], key: str) -> float:
    share = written.get(key, 0.0)
    if isinstance(share, bool) or not isinstance(share, int | float) or not share >= 0:
        raise CannotRunError(f"tolerance.{key}: a number, 0 or more, is wanted, {share!r} given")
    return float(share)


def _print(value: object) -> str:
    if value is None:
        return "no value"
    if isinstance(value, Span):
        return f"{value.low:.7g} to {value.high:.7g}"
    if isinstance(value, float):
        return f"{value:.7g}"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return f"[{', '.join(_print(one) for one in value)}]"
    return str(value)
