"""Waivers: somebody accepts one finding, at one place, in the state in which it was seen, until a day.

A waiver never stops evaluation: the finding is judged, shown, and marked as accepted. The last day is
included; after it the finding counts again and says so. Whether a waiver covers what is found today is
decided here and nowhere else.
"""

from collections.abc import Iterable
from datetime import date
from typing import Final

from plumbtrue.documents.nodes import Mapping, Scalar, Sequence
from plumbtrue.documents.place import CannotRead, Place, Problem
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rules.packs.form import Form

FORM: Final = "waivers/1"


@unchanging
class Waiver:
    """An acceptance as somebody wrote it."""

    rule: Scalar
    thing: Scalar
    """Path of the thing, as reports print it."""
    until: date
    """The last day on which it holds."""
    reason: str
    accepted_by: str
    accepted_on: date | None
    meanwhile: str
    """What is done instead, until then."""
    state: tuple[tuple[Scalar, Scalar], ...]
    """What was seen and accepted: facts that the rule looks at, with their values. A worse value is a new
    finding.
    """
    place: Place

    @property
    def key(self) -> str:
        """Identity of the outcome that it accepts."""
        return f"{self.rule.text} @ {self.thing.text}"

    @property
    def printed_state(self) -> str:
        return ", ".join(f"{fact.text} {seen.text}" for fact, seen in self.state)

    def has_run_out(self, on: date) -> bool:
        return on > self.until


def read_waivers(document: Mapping) -> tuple[Waiver, ...]:
    """The waivers in a document.

    Raises:
        CannotRead: one of them lacks something, or accepts what another accepts. Nothing is judged with
            half a waiver.
    """
    problems: list[Problem] = []
    form = Form(document, "a file of waivers", problems)
    named = form.scalar("plumbtrue", wanted=True)
    if named is not None and named.text != FORM:
        form.problem(
            "form-wrong", named.place, f"this is not {FORM} but {named.text}", f"write plumbtrue: {FORM}"
        )
    waivers: list[Waiver] = []
    for item in form.items("waivers"):
        if not isinstance(item, Mapping):
            form.problem(
                "value-of-wrong-form",
                item.place,
                "a waiver is a map",
                "write - rule: and its name, and the rest below it",
            )
            continue
        waiver = _read_waiver(Form(item, "a waiver", problems))
        if waiver is not None:
            _refuse_second(waiver, waivers, problems)
            waivers.append(waiver)
    form.finish()
    if problems:
        raise CannotRead(tuple(sorted(problems, key=lambda one: one.where)))
    return tuple(waivers)


def _read_waiver(form: Form) -> Waiver | None:
    rule, thing = form.scalar("rule", wanted=True), form.scalar("thing", wanted=True)
    until = form.date("until", wanted=True)
    reason = form.text("reason", wanted=True)
    accepted_by, accepted_on = form.text("accepted_by", wanted=True), form.date("accepted_on")
    meanwhile = form.text("meanwhile", wanted=True)
    written = form.mapping("state", wanted=True)
    state: list[tuple[Scalar, Scalar]] = []
    for fact, seen in written or ():
        words = seen.items if isinstance(seen, Sequence) else ()
        if isinstance(seen, Scalar):
            state.append((fact, seen))
        elif words and all(isinstance(word, Scalar) for word in words):
            listed = ", ".join(word.text for word in words if isinstance(word, Scalar))
            state.append((fact, Scalar(listed, seen.place)))
        else:
            form.problem(
                "value-of-wrong-form",
                seen.place,
                f"the state of {fact.text} is one value",
                f"write {fact.text}: and it",
            )
    if written is not None and not state:
        form.problem(
            "state-empty", written.place, "a waiver says which state it accepts", "write {fact: value seen}"
        )
    form.finish()
    if rule is None or thing is None or until is None:
        return None
    return Waiver(rule, thing, until, reason, accepted_by, accepted_on, meanwhile, tuple(state), form.place)


def _refuse_second(waiver: Waiver, others: Iterable[Waiver], problems: list[Problem]) -> None:
    for other in others:
        if other.key == waiver.key:
            what = f"{waiver.key} is accepted here and at {other.place}"
            problems.append(Problem("accepted-twice", waiver.place, what, "keep one of them"))
