"""Outcomes for programs, each thing, working and reason said once and referred to by its place in a list.

Of twenty thousand outcomes of a house some two hundred ask for something. Those stand each by itself with all
that is said of it; what was met and what does not apply stands by rule, with the things that it holds for.
"""

from collections.abc import Iterable
from typing import Any, Final

from plumbtrue.documents.place import Place
from plumbtrue.reporting.report import Accepted, OutcomeReport, WorkingLine
from plumbtrue.rules.result import Result

_QUIET: Final = (Result.MET, Result.NOT_APPLICABLE)


class Listed:
    """Values in the order in which they were first named, each once."""

    def __init__(self) -> None:
        self.values: list[Any] = []
        self._places: dict[object, int] = {}

    def place(self, key: object, value: Any) -> int:
        """Where a value stands, from 0; it is listed when its key is new."""
        if key not in self._places:
            self._places[key] = len(self.values)
            self.values.append(value)
        return self._places[key]


def outcomes_of(outcomes: Iterable[OutcomeReport]) -> dict[str, Any]:
    """Outcomes, with the things and workings that they refer to."""
    workings, things = Listed(), Listed()
    told: list[dict[str, Any]] = []
    quiet: dict[tuple[object, ...], list[int]] = {}
    for one in outcomes:
        if one.result in _QUIET and one.accepted is None:
            key = (one.rule, one.result.value, one.severity.value, one.message)
            quiet.setdefault(key, []).append(things.place(one.path, _thing(one)))
        else:
            told.append(_outcome(one, workings))
    return {
        "outcomes": told,
        "workings": workings.values,
        "others": [
            {"rule": rule, "outcome": result, "severity": severity, "message": message, "things": places}
            for (rule, result, severity, message), places in quiet.items()
        ],
        "things_of_others": things.values,
    }


def _thing(one: OutcomeReport) -> dict[str, Any]:
    return {
        **_named(one),
        "location": place(one.location),
        "written_at": None if one.written_at is None else place(one.written_at),
    }


def _named(one: OutcomeReport) -> dict[str, Any]:
    return {"kind": one.kind, "path": one.path, "label": one.where, "line_set": one.set_key or None}


def _outcome(one: OutcomeReport, workings: Listed) -> dict[str, Any]:
    return {
        "key": one.key,
        "rule": one.rule,
        "pack": one.pack,
        "severity": one.severity.value,
        "outcome": one.result.value,
        "counts": one.counts,
        "thing": _named(one),
        "message": one.message,
        "remedy": one.remedy,
        "source": one.authority,
        "location": place(one.location),
        "written_at": None if one.written_at is None else place(one.written_at),
        "missing": [{"thing": thing, "fact": fact, "why": why} for thing, fact, why in one.missing],
        "acceptance": None if one.accepted is None else _acceptance(one.accepted),
        "working": workings.place(one.working, _working(one.working)) if one.working else None,
    }


def _acceptance(one: Accepted) -> dict[str, Any]:
    return {
        "by": one.by,
        "until": one.until,
        "reason": one.reason,
        "meanwhile": one.meanwhile,
        "state": one.state,
        "standing": one.standing,
    }


def _working(lines: Iterable[WorkingLine]) -> list[dict[str, Any]]:
    return [
        {"depth": one.depth, "text": one.text, "origin": one.origin, "answer": one.answer} for one in lines
    ]


def place(where: Place) -> dict[str, Any]:
    return {"file": where.file, "line": where.line, "column": where.column}
