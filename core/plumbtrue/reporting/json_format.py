"""The report for programs: every outcome by itself, in a form with a version, held by
`schemas/audit-1.schema.json`.

Names and order of keys are a promise; a new key may be added to the form, none is taken away or given
another meaning.
"""

import json
from collections.abc import Sequence
from typing import Any, Final

from plumbtrue import __version__
from plumbtrue.audit.gate import ExitStatus, exit_status, together
from plumbtrue.audit.house_check import Checked
from plumbtrue.documents.place import CannotRead
from plumbtrue.reporting.building import report_of
from plumbtrue.reporting.cards import ComputedValue
from plumbtrue.reporting.formats import Surroundings
from plumbtrue.reporting.json_outcomes import Listed, outcomes_of, place
from plumbtrue.reporting.report import Question, Report, RuleReport, SetReport, Unlooked
from plumbtrue.reporting.show_report import Advice, ShowReason, ShowReport
from plumbtrue.reporting.wording import CAUTIONS

FORM: Final = "audit/1"


def written(houses: Sequence[Checked], around: Surroundings) -> str:
    """The houses of a run as one JSON document."""
    return json.dumps(document(houses, around), ensure_ascii=True, separators=(",", ":")) + "\n"


def document(houses: Sequence[Checked], around: Surroundings) -> dict[str, Any]:
    """The same as plain values."""
    statuses = [
        ExitStatus.CANNOT_USE if house.audit is None else exit_status(house.audit, around.gate)
        for house in houses
    ]
    return {
        "form": FORM,
        "made_by": f"plumbtrue {__version__}",
        "on": around.on.isoformat(),
        "gate": around.gate.value,
        "exit_status": int(together(statuses)),
        "houses": [
            _house(house, int(status), around) for house, status in zip(houses, statuses, strict=True)
        ],
        "cautions": list(CAUTIONS),
    }


def _house(house: Checked, status: int, around: Surroundings) -> dict[str, Any]:
    if house.audit is None:
        failure = house.failure or CannotRead(())
        problems = [
            {"slug": one.slug, "location": place(one.where), "what": one.what, "instead": one.instead}
            for one in failure.problems
        ]
        return {"file": str(house.path), "read": False, "exit_status": status, "problems": problems}
    report = report_of(house.audit, advice=around.advice, workings=True, cards=True, every_outcome=True)
    problems = [
        {"slug": one.slug, "location": place(one.where), "what": one.what, "instead": one.instead}
        for one in house.audit.problems
    ]
    reasons = Listed()
    line_sets = [_line_set(one, reasons) for one in report.sets]
    return {
        "file": str(house.path),
        "read": True,
        "exit_status": status,
        "problems": problems,
        "house": report.house,
        "owner": report.owner,
        "headline": _headline(report),
        **({} if report.show is None else {"show": _show(report.show)}),
        "line_sets": line_sets,
        **outcomes_of(report.outcomes),
        "reasons": reasons.values,
        "questions": [_question(one) for one in report.questions],
        "not_looked_at": {
            "kinds": [_unlooked(one) for one in report.checked.kinds],
            "facts": [_unlooked(one) for one in report.checked.facts],
            "rules_without_things": list(report.checked.rules_without_things),
            "not_run": list(report.checked.not_run),
        },
        "incomplete": list(report.incomplete),
        "rules": [_rule(one) for one in report.rules],
        "changes": [
            {
                "rule": one.rule,
                "part": one.part,
                "way": one.way,
                "before": one.before,
                "after": one.after,
                "pack": one.pack,
                "decided": one.decided,
                "reason": one.reason,
                "in_words": one.standing,
            }
            for one in report.changes
        ],
        "sources": [
            {
                "key": one.key,
                "title": one.title,
                "edition": one.edition,
                "kind": one.kind,
                "basis": one.basis,
                "note": one.note,
                "rules": one.rules,
            }
            for one in report.sources
        ],
        "packs": [
            {
                "name": one.name,
                "edition": one.edition,
                "digest": one.digest,
                "title": one.title,
                "brought_by": one.brought_by,
                "rules": one.rules,
                "covers": list(one.covers),
                "leaves_out": list(one.leaves_out),
            }
            for one in report.packs
        ],
        "files": [{"file": file, "sha256": digest} for file, digest in report.checked.read],
        "counts": dict(report.checked.counts),
        "things": report.checked.things,
    }


def _headline(report: Report) -> dict[str, Any]:
    return {
        "sentence": report.headline.sentence,
        "states": [
            {"state": line.state.value, "line_sets": [key for key, _ in line.sets], "house": list(line.also)}
            for line in report.headline.lines
        ],
        "notes": list(report.headline.notes),
    }


def _show(show: ShowReport) -> dict[str, Any]:
    return {
        "title": show.title,
        "sentence": show.sentence,
        "items": [
            {
                "key": one.key,
                "name": one.name,
                "on": one.on,
                "state": one.state.value,
                "reasons": [_show_reason(reason) for reason in one.reasons],
                "advice": list(one.advice),
                **({} if one.advised is None else {"advised": _advised(one.advised)}),
            }
            for one in show.items
        ],
        "whole": [_show_reason(reason) for reason in show.whole],
    }


def _advised(one: Advice) -> dict[str, Any]:
    return {
        "numbers": [
            {
                "rule": its.rule,
                "about": its.about,
                "thing": its.thing or None,
                "fact": its.fact,
                "number": its.number,
                "as_known": its.as_known,
                "set": list(its.asked),
                "then": list(its.then),
            }
            for its in one.numbers
        ],
        "for_all": [{"set": list(texts)} for texts in one.for_all],
        "elsewhere": [
            {
                "line_set": its.line_set,
                "upstage": its.away,
                "comes_to": its.comes_to,
                "exchanged_with": list(its.exchanged),
                "first": list(its.first),
                "against": list(its.against),
                "remarks": list(its.remarks),
                "set": list(its.asked),
            }
            for its in one.offers
        ],
        "not_tried": [{"line_set": key, "why": why} for key, why in one.not_tried],
    }


def _show_reason(reason: ShowReason) -> dict[str, Any]:
    return {
        "rule": reason.rule or None,
        "by_when": reason.by_when or None,
        "text": reason.text,
        "remedy": reason.remedy,
    }


def _line_set(one: SetReport, reasons: Listed) -> dict[str, Any]:
    return {
        "key": one.key,
        "name": one.name,
        "state": one.state.value,
        "because": one.because,
        "tagged": one.tagged,
        "met": one.met,
        "not_applicable": one.not_applicable,
        "computed": [_computed(value, reasons) for value in one.card.computed]
        if one.card is not None
        else [],
    }


def _computed(one: ComputedValue, reasons: Listed) -> dict[str, Any]:
    return {
        "thing": one.thing,
        "fact": one.fact,
        "text": one.text,
        "known": one.known,
        "low": one.low,
        "high": one.high,
        "missing": [reasons.place(why, why) for why in one.missing],
        "refusal": one.refusal,
    }


def _question(one: Question) -> dict[str, Any]:
    return {
        "fact": one.fact,
        "subject": one.subject,
        "meaning": one.meaning,
        "where": [{"place": place, "things": things} for place, things in one.where],
        "reasons": list(one.reasons),
        "step": one.step,
        "look": one.look,
        "tool": one.tool,
        "words": [word for word, _ in one.words],
        "severity": one.severity.value,
        "outcomes": one.outcomes,
        "rules": list(one.rules),
        "can_be_looked_up": one.can_be_looked_up,
        "first_for": [
            {"of": doubt.of, "rule": doubt.rule, "on": doubt.on, "share": doubt.share} for doubt in one.doubts
        ],
    }


def _unlooked(one: Unlooked) -> dict[str, Any]:
    return {"what": one.what, "things": one.things, "where": one.where}


def _rule(one: RuleReport) -> dict[str, Any]:
    return {
        "rule": one.slug,
        "title": one.title,
        "about": one.about,
        "severity": one.severity.value,
        "pack": one.pack,
        "why": one.why,
        "sources": list(one.authorities),
        "source": one.authority,
        "changed_by": list(one.changed_by),
        "outcomes": dict(one.counts),
        "location": place(one.place),
    }
