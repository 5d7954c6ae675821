"""The report as SARIF 2.1.0, for code-review tools (OASIS, Static Analysis Results Interchange Format 2.1.0).

Findings and what cannot be told are results; what is met or does not apply is not. What cannot be told is of
kind `open`, and so of level `none` (3.27.9, from memory); since some readers leave such results away, a
notification of the tool says how many there are. An acceptance in force is a suppression with its reason.
The verdict on each piece of a show is a notification too, at the place where the plot writes the piece.
"""

import json
from collections.abc import Iterable, Sequence
from hashlib import sha256
from pathlib import PurePath
from typing import Any, Final
from urllib.parse import quote

from plumbtrue import __version__
from plumbtrue.audit.gate import ExitStatus, exit_status, together
from plumbtrue.audit.house_check import Checked
from plumbtrue.documents.place import Place
from plumbtrue.reporting.building import report_of
from plumbtrue.reporting.formats import Surroundings
from plumbtrue.reporting.report import OutcomeReport, Report, RuleReport
from plumbtrue.rules.result import Result
from plumbtrue.rules.severity import Severity

_LEVELS: Final = {
    Severity.OUT_OF_SERVICE: "error",
    Severity.BEFORE_NEXT_USE: "error",
    Severity.NEXT_MAINTENANCE: "warning",
    Severity.ADVISORY: "note",
}
_SAID: Final = (Result.FINDING, Result.UNDETERMINED, Result.ERROR)
_SCHEMA: Final = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"


def written(houses: Sequence[Checked], around: Surroundings) -> str:
    """The houses of a run as one log."""
    return json.dumps(log(houses, around), ensure_ascii=True, indent=1) + "\n"


def log(houses: Sequence[Checked], around: Surroundings) -> dict[str, Any]:
    """The same as plain values."""
    reports = [report_of(house.audit, every_outcome=True) for house in houses if house.audit is not None]
    statuses = [
        ExitStatus.CANNOT_USE if house.audit is None else exit_status(house.audit, around.gate)
        for house in houses
    ]
    rules = {rule.slug: rule for report in reports for rule in report.rules}
    ordered = sorted(rules)
    index = {slug: place for place, slug in enumerate(ordered)}
    run = {
        "tool": {
            "driver": {
                "name": "plumbtrue",
                "version": __version__,
                "rules": [_rule(rules[slug]) for slug in ordered],
                "notifications": [
                    {"id": "cannot-be-told", "shortDescription": {"text": "Outcomes that cannot be told"}},
                    {"id": "not-looked-at", "shortDescription": {"text": "Things that no rule looked at"}},
                    {"id": "cannot-be-read", "shortDescription": {"text": "A document that cannot be read"}},
                    {"id": "incomplete", "shortDescription": {"text": "Not everything was looked at"}},
                    {"id": "item-verdict", "shortDescription": {"text": "Whether a piece of a show hangs"}},
                ],
            }
        },
        "invocations": [
            {
                "executionSuccessful": all(house.audit is not None for house in houses),
                "exitCode": int(together(statuses)),
                "toolExecutionNotifications": [
                    notice for report in reports for notice in _notifications(report)
                ],
                "toolConfigurationNotifications": [
                    _unreadable(problem.where, problem.what)
                    for house in houses
                    if house.failure is not None
                    for problem in house.failure.problems
                ],
            }
        ],
        "columnKind": "unicodeCodePoints",
        "results": [
            _result(one, report, index)
            for report in reports
            for one in report.outcomes
            if one.result in _SAID
        ],
        "properties": {"on": around.on.isoformat(), "gate": around.gate.value},
    }
    return {"$schema": _SCHEMA, "version": "2.1.0", "runs": [run]}


def _rule(rule: RuleReport) -> dict[str, Any]:
    authorities = "\n".join(f"- {one}" for one in rule.authorities)
    return {
        "id": rule.slug,
        "shortDescription": {"text": rule.title},
        "fullDescription": {"text": rule.why or rule.title},
        "help": {"text": f"{rule.title}.\n{rule.why}\nOn the authority of\n{authorities}"},
        "defaultConfiguration": {"level": _LEVELS[rule.severity]},
        "properties": {"severity": rule.severity.value, "pack": rule.pack, "about": rule.about},
    }


def _result(one: OutcomeReport, report: Report, index: dict[str, int]) -> dict[str, Any]:
    is_open = one.result is not Result.FINDING
    settle = "; ".join(f"{fact.replace('_', ' ')} of {thing}: {why}" for thing, fact, why in one.missing)
    told = " ".join(part for part in (one.message, one.remedy, settle) if part)
    result: dict[str, Any] = {
        "ruleId": one.rule,
        "ruleIndex": index[one.rule],
        "kind": "open" if is_open else "fail",
        "level": "none" if is_open else _LEVELS[one.severity],
        "message": {"text": f"{one.path}: {told}"},
        "locations": [
            {
                "physicalLocation": _physical(one.location),
                "logicalLocations": [{"fullyQualifiedName": one.path, "kind": one.kind}],
            }
        ],
        "partialFingerprints": {"ruleAndThing/v1": _fingerprint(report.house, one.key)},
        "properties": {"severity": one.severity.value, "lineSet": one.set_key, "outcome": one.result.value},
    }
    if one.written_at is not None:
        lent = "As it is written in a typical thing, which may be used elsewhere too."
        result["relatedLocations"] = [
            {"physicalLocation": _physical(one.written_at), "message": {"text": lent}}
        ]
    if one.accepted is not None and one.accepted.in_force:
        mark = one.accepted
        why = f"{mark.reason} Accepted by {mark.by} until {mark.until}. Meanwhile: {mark.meanwhile}"
        result["suppressions"] = [{"kind": "external", "status": "accepted", "justification": why}]
    return result


def _fingerprint(house: str, key: str) -> str:
    """Lasting identity of an outcome: house, rule and thing, free of lines, wording and the file's name."""
    return sha256(f"{house}\n{key}".encode()).hexdigest()


def _physical(place: Place) -> dict[str, Any]:
    return {
        "artifactLocation": {"uri": address_of(place.file)},
        "region": {"startLine": place.line, "startColumn": place.column},
    }


def address_of(file: str) -> str:
    """The address of a file: relative as it was given, with / between folders.

    >>> address_of("houses/mill lane.yaml")
    'houses/mill%20lane.yaml'
    """
    path = PurePath(file)
    return path.as_uri() if path.is_absolute() else quote(path.as_posix())


def _notifications(report: Report) -> Iterable[dict[str, Any]]:
    open_ones = [one for one in report.outcomes if one.result in _SAID and one.result is not Result.FINDING]
    if open_ones:
        grave = sum(one.severity.rank <= Severity.BEFORE_NEXT_USE.rank for one in open_ones)
        text = (
            f"{report.file}: {len(open_ones)} outcomes cannot be told, {grave} of them behind rules that "
            "stop the use. What is not known never passes."
        )
        yield _notification("cannot-be-told", "warning", text)
    if report.checked.kinds:
        kinds = ", ".join(f"{one.what} ({one.things})" for one in report.checked.kinds)
        yield _notification("not-looked-at", "note", f"{report.file}: no rule looked at: {kinds}.")
    for why in report.incomplete:
        yield _notification("incomplete", "error", f"{report.file}: {why}")
    for problem in report.problems:
        yield _notification("cannot-be-read", "error", problem)
    for item in report.show.items if report.show is not None else ():
        level = _LEVELS[item.severity] if item.severity is not None else "note"
        why = f" {item.why}" if item.reasons else ""
        text = f"{report.house}: item {item.title}, on {item.on}: {item.label.lower()}.{why}"
        notice = _notification("item-verdict", "warning" if item.is_open else level, text)
        where = {"fullyQualifiedName": item.path, "kind": "item"}
        place = {"physicalLocation": _physical(item.location), "logicalLocations": [where]}
        yield {**notice, "locations": [place], "properties": {"item": item.key, "verdict": item.state.value}}


def _notification(slug: str, level: str, text: str) -> dict[str, Any]:
    return {"descriptor": {"id": slug}, "level": level, "message": {"text": text}}


def _unreadable(where: Place, what: str) -> dict[str, Any]:
    notice = _notification("cannot-be-read", "error", f"{where}: {what}")
    return {**notice, "locations": [{"physicalLocation": _physical(where)}]}
