"""What a pack says about the rules of earlier packs: set, tighten, relax, retire."""

from collections.abc import Iterable
from typing import Final, get_args

from plumbtrue.documents.nodes import Mapping, Node, Scalar
from plumbtrue.documents.place import Problem
from plumbtrue.rules.packs.form import Form, suggestion
from plumbtrue.rules.packs.pack import Adjustment, Way
from plumbtrue.rules.packs.parameters import RESERVED
from plumbtrue.rules.severity import Severity

WAYS: Final[tuple[Way, ...]] = get_args(Way)
_ANSWERED_FOR: Final = ("relax", "retire")
"""Ways that need a reason and somebody who decided."""

_TAKES: Final[dict[Way, tuple[str, ...]]] = {
    "set": (),
    "tighten": ("severity", "also_require", "also_when"),
    "relax": ("severity", "unless"),
    "retire": (),
}
_ELSEWHERE: Final = {
    "require": "write also_require, which holds beside what the rule asks already",
    "when": "write also_when so that the rule applies to more, or unless, under relax, to less",
}


def read_adjustments(items: Iterable[Node], pack: str, problems: list[Problem]) -> tuple[Adjustment, ...]:
    """The adjustments of a pack."""
    found = (_read_adjustment(item, pack, problems) for item in items)
    return tuple(one for one in found if one is not None)


def _read_adjustment(item: Node, pack: str, problems: list[Problem]) -> Adjustment | None:
    if not isinstance(item, Mapping):
        problems.append(
            Problem("value-of-wrong-form", item.place, "an adjustment is a map", "write {rule: …, set: {…}}")
        )
        return None
    form = Form(item, "an adjustment", problems)
    rule = form.scalar("rule", wanted=True)
    ways = [way for way in WAYS if form.node_of(way) is not None]
    reason, decided_by = form.text("reason"), form.text("decided_by")
    decided_on, until = form.date("decided_on"), form.date("until")
    way = ways[0] if len(ways) == 1 else None
    if way is None:
        form.problem(
            "adjustment-way", form.place, "an adjustment does one thing", f"write one of {', '.join(WAYS)}"
        )
    elif way in _ANSWERED_FOR:
        _want_decision(form, way)
    if until is not None and way not in _ANSWERED_FOR:
        form.problem(
            "until-without-relaxing",
            form.place,
            "only what is relaxed or retired runs out",
            "leave until out",
        )
    finding, remedy = form.scalar("finding"), form.scalar("remedy")
    form.finish()
    if rule is None or way is None:
        return None
    if way == "retire":
        _check_retire(form)
    written = None if way == "retire" else form.mapping(way)
    parts = _parts(written, way, problems)
    if "also_require" not in parts:
        _refuse_words(form)
    return Adjustment(
        rule,
        way,
        _severity(parts.get("severity"), problems),
        _parameters(written),
        parts.get("also_require"),
        parts.get("also_when"),
        parts.get("unless"),
        finding,
        remedy,
        reason,
        decided_by,
        decided_on,
        until,
        pack,
        rule.place,
    )


def _want_decision(form: Form, way: str) -> None:
    for key in ("reason", "decided_by", "decided_on"):
        if form.node.get(key) is None:
            what = f"an adjustment that says {way} needs {key}"
            form.problem("decision-missing", form.place, what, form.as_written(key))


def _check_retire(form: Form) -> None:
    written = form.scalar("retire")
    if written is not None and written.text not in ("true", "yes"):
        form.problem(
            "word-not-permitted", written.place, f"retire is not {written.text}", "write retire: true"
        )


def _refuse_words(form: Form) -> None:
    """What is found where a rule's own demand is not met is for the rule to say."""
    for word in ("finding", "remedy"):
        key = form.node.key(word)
        if key is not None:
            what = f"{word} belongs to also_require, which is not written"
            instead = f"write also_require under tighten, or leave {word} out"
            form.problem("adjustment-part", key.place, what, instead, length=len(word))


def _parts(written: Mapping | None, way: Way, problems: list[Problem]) -> dict[str, Scalar]:
    """The parts of a rule other than parameters that an adjustment changes."""
    parts: dict[str, Scalar] = {}
    for key, node in written or ():
        if key.text not in RESERVED and key.text not in _ELSEWHERE:
            continue
        if not isinstance(node, Scalar):
            problems.append(
                Problem(
                    "value-of-wrong-form", node.place, f"{key.text} is one text", f"write {key.text}: and it"
                )
            )
        elif key.text in _ELSEWHERE:
            problems.append(_misplaced(key, way, _ELSEWHERE[key.text]))
        elif key.text in RESERVED and key.text not in _TAKES[way]:
            problems.append(
                _misplaced(key, way, f"{way} takes {' and '.join((*_TAKES[way], 'parameters by name'))}")
            )
        elif key.text in RESERVED:
            parts[key.text] = node
    return parts


def _parameters(written: Mapping | None) -> tuple[tuple[Scalar, Node], ...]:
    return tuple(
        (key, node) for key, node in written or () if key.text not in RESERVED and key.text not in _ELSEWHERE
    )


def _misplaced(key: Scalar, way: Way, instead: str) -> Problem:
    return Problem("adjustment-part", key.place, f"{way} takes no {key.text}", instead, length=len(key.text))


def _severity(written: Scalar | None, problems: list[Problem]) -> Severity | None:
    if written is None:
        return None
    words = [severity.value for severity in Severity]
    if written.text in words:
        return Severity(written.text)
    problems.append(
        Problem(
            "word-not-permitted",
            written.place,
            f"severity is not {written.text}",
            suggestion(written.text, words),
            length=len(written.text),
        )
    )
    return None
