"""The report as SARIF 2.1.0, for code-review tools (OASIS, Static Analysis Results Interchange Format 2.1.0).

Findings and what cannot be told are results; what is met or does not apply is not. Each finding is a result of its
own. What cannot be told is one result for a rule at a line set, with every place and every thing that it concerns:
a house of which little is written has thousands of such outcomes, most of them the same question once a line. It is of
kind `open`, and so of level `none` (3.27.9, from memory); since some readers leave such results away, a
notification of the tool says how many there are. An acceptance in force is a suppression with its reason.
The verdict on each piece of a show is a notification too, at the place where the plot writes the piece.

Each result stands on a line of its own, so that two logs can be compared. Rules that have a result come with their
help; the others that were asked are named.
"""

import json
from collections.abc import Iterable, Iterator, Sequence
from hashlib import sha256
from pathlib import PurePath
from typing import Any, Final
from urllib.parse import quote

from plumbtrue import __version__
from plumbtrue.audit.gate import ExitStatus, exit_status, together
from plumbtrue.audit.house_check import Checked
from plumbtrue.documents.place import Place
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.reporting.building import report_of
from plumbtrue.reporting.formats import Surroundings
from plumbtrue.reporting.report import Accepted, Entry, OutcomeReport, Report, RuleReport
from plumbtrue.rules.result import Result
from plumbtrue.rules.severity import Severity

_LEVELS: Final = {
    Severity.OUT_OF_SERVICE: "error",
    Severity.BEFORE_NEXT_USE: "error",
    Severity.NEXT_MAINTENANCE: "warning",
    Severity.ADVISORY: "note",
}
_SAID: Final = (Result.FINDING, Result.UNDETERMINED, Result.ERROR)
_MOST_MISSING: Final = 5
"""Missing facts that a message names; the JSON of the same run names all of them."""
_MOST_THINGS: Final = 4
_SCHEMA: Final = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"


def written(houses: Sequence[Checked], around: Surroundings) -> str:
    """The houses of a run as one log."""
    whole = log(houses, around)
    (run,) = whole["runs"]
    marked = _compact({**whole, "runs": [{**run, "results": []}]})
    head, tail = marked.rsplit('"results":[]', 1)
    results = ",\n".join(_compact(one) for one in run["results"])
    return f'{head}"results":[\n{results}\n]{tail}\n'


def _compact(value: object) -> str:
    return json.dumps(value, ensure_ascii=True, separators=(",", ":"))


def log(houses: Sequence[Checked], around: Surroundings) -> dict[str, Any]:
    """The same as plain values."""
    reports = [report_of(house.audit, every_outcome=True) for house in houses if house.audit is not None]
    statuses = [
        ExitStatus.CANNOT_USE if house.audit is None else exit_status(house.audit, around.gate)
        for house in houses
    ]
    rules = {rule.slug: rule for report in reports for rule in report.rules}
    told = [group for report in reports for group in _groups(report)]
    ordered = sorted({group.rule for group in told})
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
        "properties": {
            "on": around.on.isoformat(),
            "gate": around.gate.value,
            "rulesWithoutResult": sorted(rules.keys() - index.keys()),
        },
        "results": [_result(group, index) for group in told],
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


@unchanging
class _Group:
    """What becomes one result: a finding, or all that a rule cannot tell at a line set."""

    house: str
    outcomes: tuple[OutcomeReport, ...]
    text: str

    @property
    def rule(self) -> str:
        return self.outcomes[0].rule

    @property
    def fingerprint(self) -> tuple[str, str]:
        """Lasting identity, free of lines, wording and the file's name: house, rule, and thing or line set."""
        first = self.outcomes[0]
        if first.result is Result.FINDING:
            return "ruleAndThing/v1", _digest(self.house, first.key)
        standing = first.accepted.state if first.accepted is not None else ""
        return "ruleAndSet/v1", _digest(self.house, first.rule, first.set_key, first.result.value, standing)


_Key = tuple[str, str, Result, Accepted | None]


def _groups(report: Report) -> Iterator[_Group]:
    """In the order of the outcomes; what cannot be told stands where the first of it does."""
    open_ones: dict[_Key, list[OutcomeReport]] = {}
    for one in report.outcomes:
        if one.result in _SAID and one.result is not Result.FINDING:
            open_ones.setdefault(_key(one), []).append(one)
    entries: dict[_Key, Entry] = {_key(one): one for one in (*report.undetermined, *report.accepted)}
    for one in report.outcomes:
        if one.result is Result.FINDING:
            told = " ".join(part for part in (one.message, one.remedy) if part)
            yield _Group(report.house, (one,), f"{one.path}: {told}")
        elif (its := open_ones.pop(_key(one), None)) is not None:
            yield _Group(report.house, tuple(its), _open_text(entries[_key(one)]))


def _key(one: OutcomeReport | Entry) -> _Key:
    return (one.set_key, one.rule, one.result, one.accepted)


def _open_text(entry: Entry) -> str:
    """What cannot be told at a line set, and what would settle it; long lists of either are cut short, for the
    result names every thing beside its place.
    """
    things = _cut_short(dict.fromkeys(said.where for said in entry.said), _MOST_THINGS)
    said = " ".join(dict.fromkeys(one.message for one in entry.said))
    missing = _cut_short(dict.fromkeys(one for said in entry.said for one in said.missing), _MOST_MISSING)
    return f"{entry.set_title}, {things}: {said} {missing}".rstrip()


def _cut_short(texts: Iterable[str], most: int) -> str:
    listed = list(texts)
    more = [f"and {len(listed) - most} more"] if len(listed) > most else []
    return "; ".join([*listed[:most], *more])


def _result(group: _Group, index: dict[str, int]) -> dict[str, Any]:
    one = group.outcomes[0]
    is_open = one.result is not Result.FINDING
    at: dict[Place, list[OutcomeReport]] = {}
    for each in group.outcomes:
        at.setdefault(each.location, []).append(each)
    name, value = group.fingerprint
    result: dict[str, Any] = {
        "ruleId": one.rule,
        "ruleIndex": index[one.rule],
        "kind": "open" if is_open else "fail",
        "level": "none" if is_open else _LEVELS[one.severity],
        "message": {"text": group.text},
        "locations": [
            {
                "physicalLocation": _physical(place),
                "logicalLocations": [{"fullyQualifiedName": each.path} for each in there],
            }
            for place, there in at.items()
        ],
        "partialFingerprints": {name: value},
        "properties": {"severity": one.severity.value, "lineSet": one.set_key, "outcome": one.result.value},
    }
    lent_from = dict.fromkeys(each.written_at for each in group.outcomes if each.written_at is not None)
    if lent_from:
        lent = "Written in a typical thing."
        result["relatedLocations"] = [
            {"physicalLocation": _physical(place), "message": {"text": lent}} for place in lent_from
        ]
    if one.accepted is not None and one.accepted.in_force:
        mark = one.accepted
        why = f"{mark.reason} Accepted by {mark.by} until {mark.until}. Meanwhile: {mark.meanwhile}"
        result["suppressions"] = [{"kind": "external", "status": "accepted", "justification": why}]
    return result


def _digest(*parts: str) -> str:
    """128 bits of a digest, for an identity among a few thousand."""
    return sha256("\n".join(parts).encode()).hexdigest()[:32]


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
