"""The comparison for programs: every change by itself, held by `schemas/comparison-1.schema.json`.

Names and order of keys are a promise; a new key may be added to the form, none is taken away or given
another meaning. Figures are in SI units, counts, ratios and days.
"""

import json
from math import isfinite
from typing import Any, Final

from plumbtrue import __version__
from plumbtrue.audit.acceptance_changes import ShowAcceptance, WaiverChange, revision_mark
from plumbtrue.audit.changeover import Recheck, Task
from plumbtrue.audit.comparing import Comparison, StateChange, comparison_status
from plumbtrue.audit.computed_changes import ComputedChange
from plumbtrue.audit.outcome import Outcome
from plumbtrue.audit.outcome_changes import OutcomeChange
from plumbtrue.audit.pack_changes import PackChange
from plumbtrue.audit.piece_changes import PieceChange
from plumbtrue.audit.rig_changes import RigChange
from plumbtrue.audit.verdicts import line_set_of
from plumbtrue.documents.place import Place
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import RATIO, name_of
from plumbtrue.quantities.values import Value
from plumbtrue.quantities.writing import write_value
from plumbtrue.reporting.comparison import ComparisonReport
from plumbtrue.reporting.wording import CAUTIONS
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Fact
from plumbtrue.rules.packs.pack import RuleBook
from plumbtrue.rules.severity import Severity

FORM: Final = "comparison/1"


def written(comparison: Comparison, report: ComparisonReport, gate: Severity) -> str:
    """The comparison as one JSON document."""
    return json.dumps(document(comparison, report, gate), ensure_ascii=True, separators=(",", ":")) + "\n"


def document(comparison: Comparison, report: ComparisonReport, gate: Severity) -> dict[str, Any]:
    """The same as plain values."""
    return {
        "form": FORM,
        "made_by": f"plumbtrue {__version__}",
        "on": comparison.new.on.isoformat(),
        "gate": gate.value,
        "exit_status": int(comparison_status(comparison, gate)),
        "alike": comparison.is_alike,
        "house": report.house,
        "old": _side(
            report.old, revision_mark(comparison.old.rig), comparison.old.rig.files, comparison.old_packs
        ),
        "new": _side(
            report.new, revision_mark(comparison.new.rig), comparison.new.rig.files, comparison.new.rulebook
        ),
        "headline": [one.whole for one in (*report.headline, *report.afterwards)],
        "line_sets": [_state(one) for one in comparison.states],
        "pieces": [_piece(one) for one in comparison.pieces],
        "findings": [_outcome(one) for one in comparison.outcomes],
        "hidden_by_packs": [_outcome(one) for one in comparison.hidden],
        "changes": [_change(one) for one in comparison.changes],
        "values": [_value(one) for one in comparison.values],
        "packs": [_pack(one) for one in comparison.packs],
        "by_packs": [_outcome(one) for one in comparison.by_packs],
        "check_again": [_recheck(one) for one in comparison.rechecks],
        "tasks": [_task(one) for one in comparison.tasks],
        "crew": [
            {"line_set": one.set_key or None, "must_not_fly": one.stop, "steps": list(one.steps)}
            for one in report.changeover.crews
        ],
        "accepted": [_accepted(one) for one in comparison.acceptances],
        "waivers": [_waiver(one) for one in comparison.waived],
        "standing": [_standing(one) for one in comparison.standing],
        "incomplete": list(comparison.new.incomplete),
        "problems": [
            {"slug": one.slug, "location": _place(one.where), "what": one.what, "instead": one.instead}
            for one in comparison.problems
        ],
        "cautions": list(CAUTIONS),
    }


def _side(name: str, mark: str, files: tuple[tuple[str, str], ...], book: RuleBook) -> dict[str, Any]:
    return {
        "name": name,
        "revision": mark or None,
        "files": [{"file": file, "sha256": digest} for file, digest in files],
        "packs": [{"name": one.name, "edition": one.edition, "digest": one.digest} for one in book.packs],
    }


def _state(one: StateChange) -> dict[str, Any]:
    return {
        "old": None if one.old is None else one.old.key,
        "new": None if one.new is None else one.new.key,
        "before": None if one.before is None else one.before.value,
        "after": None if one.after is None else one.after.value,
        "untagged": one.untagged,
    }


def _piece(one: PieceChange) -> dict[str, Any]:
    return {
        "old": _thing(one.old),
        "new": _thing(one.new),
        "before": None if one.before is None else one.before.value,
        "after": None if one.after is None else one.after.value,
        "worse": one.is_worse,
        "reasons": list(one.reasons),
    }


def _thing(thing: Thing | None) -> dict[str, Any] | None:
    if thing is None:
        return None
    line_set = line_set_of(thing)
    return {
        "kind": thing.kind.name,
        "path": thing.path,
        "line_set": None if line_set is None else line_set.key,
        "location": _place(thing.place),
    }


def _outcome(one: OutcomeChange) -> dict[str, Any]:
    return {
        "became": one.turn.value,
        "rule": one.rule,
        "severity": one.severity.value,
        "counts": one.counts,
        "why": one.why,
        "old": _said(one.old),
        "new": _said(one.new),
        "values": [
            {
                "name": moved.name,
                "before": _plain(moved.before, None),
                "after": _plain(moved.after, None),
                "way": moved.way,
            }
            for moved in one.values
        ],
    }


def _said(outcome: Outcome | None) -> dict[str, Any] | None:
    if outcome is None:
        return None
    return {
        "outcome": outcome.result.value,
        "severity": outcome.severity.value,
        "pack": outcome.pack,
        "thing": _thing(outcome.thing),
        "message": outcome.message,
        "remedy": outcome.remedy,
        "missing": [{"thing": one.thing.path, "fact": one.fact, "why": one.why} for one in outcome.missing],
        "accepted": outcome.acceptance is not None and not outcome.counts,
    }


def _change(one: RigChange) -> dict[str, Any]:
    fact = one.declared
    return {
        "what": one.deed.value,
        "old": _thing(one.old),
        "new": _thing(one.new),
        "fact": one.fact or None,
        "before": _plain(one.before, fact),
        "after": _plain(one.after, fact),
        "difference": _bounds(one.difference),
        "said_before": one.said_before,
        "said_after": one.said_after,
        "partner": None if one.partner is None else _thing(one.partner.thing),
    }


def _value(one: ComputedChange) -> dict[str, Any]:
    return {
        "old": _thing(one.old),
        "new": _thing(one.new),
        "fact": one.fact.name,
        "dimension": _dimension(one.fact),
        "before": _plain(one.before, one.fact),
        "after": _plain(one.after, one.fact),
        "difference": _bounds(one.difference),
        "came": one.came,
        "missing": [{"thing": lack.thing.path, "fact": lack.fact, "why": lack.why} for lack in one.missing],
    }


def _plain(value: Value | None, fact: Fact | None) -> dict[str, Any] | None:
    """A value as text in SI units, with its ends where it is a figure."""
    if value is None:
        return None
    dimension = RATIO if fact is None else None if fact.type == "date" else fact.dimension or RATIO
    return {"text": write_value(value, dimension, "si"), **(_bounds(value) or {"low": None, "high": None})}


def _bounds(value: object) -> dict[str, float | None] | None:
    if not isinstance(value, Bounds):
        return None
    return {
        "low": value.low if isfinite(value.low) else None,
        "high": value.high if isfinite(value.high) else None,
    }


def _dimension(fact: Fact) -> str | None:
    return None if fact.dimension is None else name_of(fact.dimension)


def _pack(one: PackChange) -> dict[str, Any]:
    return {
        "what": one.deed.value,
        "pack": one.pack,
        "rule": one.rule or None,
        "part": one.part or None,
        "before": one.before,
        "after": one.after,
        "reason": one.reason,
    }


def _recheck(one: Recheck) -> dict[str, Any]:
    return {
        "line_set": one.line_set.key,
        "reasons": [
            {
                "concern": reason.concern.value,
                "thing": _thing(
                    reason.change.thing
                    if reason.change is not None
                    else reason.value.new
                    if reason.value is not None
                    else reason.beside
                ),
                "fact": (
                    reason.change.fact or None
                    if reason.change is not None
                    else reason.value.fact.name
                    if reason.value is not None
                    else None
                ),
            }
            for reason in one.reasons
        ],
    }


def _task(one: Task) -> dict[str, Any]:
    return {
        "line_set": None if one.line_set is None else one.line_set.key,
        "action": one.action.value,
        "piece": None if one.piece is None else one.piece.path,
        "other_line_set": None if one.other is None else one.other.key,
        "bricks": dict(one.bricks),
        "changes": len(one.changes),
        "stopped_by": one.stopped_by or None,
        "trims": [_value(moved) for moved in one.trims],
    }


def _accepted(one: ShowAcceptance) -> dict[str, Any]:
    return {
        "of": one.of.value,
        "by": one.by,
        "on": one.on or None,
        "revision": one.revision or None,
        "location": _place(one.thing.place),
    }


def _waiver(one: WaiverChange) -> dict[str, Any]:
    return {
        "rule": one.waiver.rule.text,
        "thing": one.waiver.thing.text,
        "before": one.before.value,
        "after": one.after.value,
        "location": _place(one.waiver.place),
    }


def _standing(one: Outcome) -> dict[str, Any]:
    return {
        "rule": one.rule,
        "severity": one.severity.value,
        "outcome": one.result.value,
        "counts": one.counts,
        "thing": _thing(one.thing),
        "message": one.message,
    }


def _place(place: Place) -> dict[str, Any]:
    return {"file": place.file, "line": place.line, "column": place.column}
