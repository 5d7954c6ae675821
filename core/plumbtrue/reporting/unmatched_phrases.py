"""What somebody said that they did not see, in words that match nothing: asked about, since their "in order"
covers it after all.
"""

from collections.abc import Iterator

from plumbtrue.audit.verdicts import line_set_of
from plumbtrue.documents.place import Place
from plumbtrue.facts.not_seen import leaves_out_nothing
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Each, Name, Value
from plumbtrue.reporting.places_in_words import where
from plumbtrue.reporting.report import Question
from plumbtrue.reporting.wording import SEVERITY_LABELS
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.thing import Seen, Thing
from plumbtrue.rules.severity import Severity

_REASON = "not_seen phrase matches nothing"
_LOOK = "name the part, the fact or the path as the file writes it: head_block, sleeve gauge of 16, 14 / line 3 / lower"


@unchanging
class _Said:
    """A phrase, where it is written, by whom, and the thing that the statement is written on."""

    phrase: str
    place: Place
    by: str
    on: Thing


def unmatched_phrases(rig: Rig) -> tuple[Question, ...]:
    """A question for each phrase that matches nothing, in the order of the file."""
    found = sorted({(one.place, one.phrase): one for one in _unmatched(rig)}.items())
    return tuple(_question(number, one) for number, (_, one) in enumerate(found, start=1))


def _unmatched(rig: Rig) -> Iterator[_Said]:
    things = tuple(rig.house.below())
    for seen, covered in _statements(things).items():
        # An inspection speaks of the whole house, wherever it is named; its own entry is looked at below.
        for phrase in seen.not_seen if seen.key is None else ():
            if leaves_out_nothing(phrase, covered):
                yield _Said(phrase, seen.place, seen.by or "somebody", covered[0])
    for walk in things:
        written = walk.facts.get("not_seen") if walk.kind.name == "inspection" else None
        for phrase in () if written is None else _phrases(written.value):
            if leaves_out_nothing(phrase, things):
                assert written is not None
                yield _Said(phrase, written.place, "an inspection", rig.house)


def _statements(things: tuple[Thing, ...]) -> dict[Seen, list[Thing]]:
    """Who looked, with the things that they speak of."""
    covered: dict[Seen, list[Thing]] = {}
    for thing in things:
        for seen in dict.fromkeys((thing.seen, thing.vouched_by)):
            if seen is not None and seen.not_seen:
                covered.setdefault(seen, []).append(thing)
    return covered


def _phrases(value: Value) -> tuple[str, ...]:
    if isinstance(value, Name):
        return (value.text,)
    return tuple(one.text for one in value.values if isinstance(one, Name)) if isinstance(value, Each) else ()


def _question(number: int, said: _Said) -> Question:
    line_set = line_set_of(said.on)
    where_said = (
        ("the house", where([said.on], None))
        if line_set is None
        else (f"set {line_set.key}", where([said.on], line_set))
    )
    severity = Severity.BEFORE_NEXT_USE
    return Question(
        number=number,
        anchor=f"question-not-seen-{number}",
        fact="not_seen",
        subject=f"What is meant by “{said.phrase}”, which was not seen",
        meaning=f"{said.by} left it out ({said.place}), and nothing is called so; their word covers it after all",
        kind="house" if line_set is None else "line set",
        set_keys=("house" if line_set is None else line_set.key,),
        where=(where_said,),
        reasons=(_REASON,),
        step="",
        look=_LOOK,
        tool="",
        words=(),
        settles="what counts as seen and in order there",
        rules=(),
        severity=severity,
        severity_label=SEVERITY_LABELS[severity],
        outcomes=0,
        can_be_looked_up=True,
    )
