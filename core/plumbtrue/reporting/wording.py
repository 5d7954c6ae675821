"""The reader's words for what the audit says: one word for one thing, the same in every format."""

from collections.abc import Sequence
from typing import Final

from plumbtrue.audit.verdicts import State
from plumbtrue.rig.complaints import in_runs
from plumbtrue.rules.result import Result
from plumbtrue.rules.rule import Citation, Rule
from plumbtrue.rules.severity import Severity

STATE_LABELS: Final = {
    State.OUT_OF_SERVICE: "Out of service",
    State.BEFORE_NEXT_USE: "Work before use",
    State.CANNOT_BE_TOLD: "Cannot be told",
    State.NEXT_MAINTENANCE: "Next maintenance",
    State.NOTHING_FOUND: "Nothing found",
}

STATE_SIGNS: Final = {
    State.OUT_OF_SERVICE: "■",
    State.BEFORE_NEXT_USE: "▲",
    State.CANNOT_BE_TOLD: "?",
    State.NEXT_MAINTENANCE: "◆",
    State.NOTHING_FOUND: "○",
}
"""A shape for each state, so that it can be told in black and white."""

STATE_MEANINGS: Final = {
    State.OUT_OF_SERVICE: "must not fly",
    State.BEFORE_NEXT_USE: "need work before the next use",
    State.CANNOT_BE_TOLD: "whether they may be used cannot be told",
    State.NEXT_MAINTENANCE: "have work for the next maintenance",
    State.NOTHING_FOUND: "these rules found nothing that must be done",
}

SEVERITY_LABELS: Final = {
    Severity.OUT_OF_SERVICE: "Out of service",
    Severity.BEFORE_NEXT_USE: "Before the next use",
    Severity.NEXT_MAINTENANCE: "Next maintenance",
    Severity.ADVISORY: "Advisory",
}

SEVERITY_SIGNS: Final = {
    Severity.OUT_OF_SERVICE: "■",
    Severity.BEFORE_NEXT_USE: "▲",
    Severity.NEXT_MAINTENANCE: "◆",
    Severity.ADVISORY: "·",
}

SEVERITY_MEANINGS: Final = {
    Severity.OUT_OF_SERVICE: "Land it, tag it, and let nobody fly it until this is put right.",
    Severity.BEFORE_NEXT_USE: "Put this right before it is used again.",
    Severity.NEXT_MAINTENANCE: "Put this right at the next maintenance.",
    Severity.ADVISORY: "To know and to plan for; nothing has to be done for the next use.",
}

RESULT_LABELS: Final = {
    Result.FINDING: "Finding",
    Result.UNDETERMINED: "Cannot be told",
    Result.ERROR: "Rule failed",
    Result.NOT_RUN: "Not run",
    Result.MET: "Met",
    Result.NOT_APPLICABLE: "Does not apply",
}

CAUTIONS: Final = (
    "This report does not say that anything is safe. It says what was checked, what was found, what could "
    "not be told, and what no rule looked at.",
    "It knows only what somebody wrote down. What was written wrongly, or has changed since, is judged "
    "wrongly.",
    "Local codes, the instructions of the makers of the equipment, and licensed, competent persons have the "
    "last word. The strength of the building is a licensed engineer's to state.",
    "Nobody may be lifted on the strength of it. Whatever lifts or carries people is for a specialist.",
)

WORDS: Final = (
    (
        "line set",
        "one pipe over the stage with its ropes and its counterweight; its number stands at the rail",
    ),
    ("batten", "that pipe; scenery, curtains and lamps hang on it"),
    ("lift line", "a rope from the batten up over a loft block and across to the arbor"),
    (
        "arbor",
        "the frame at the side wall that holds the counterweight bricks and runs up as the batten comes in",
    ),
    ("rope lock", "holds the hand line at the rail while the set is in balance; it is no brake"),
    ("trim", "a height at which the batten, or what hangs on it, is stopped"),
)
"""For who reads a report and works no rail; common practice."""

COMMON_PRACTICE: Final = "common practice"


def counted(number: int, one: str, many: str = "") -> str:
    """A number with its noun.

    >>> counted(1, "set"), counted(4, "set"), counted(0, "entry", "entries")
    ('1 set', '4 sets', '0 entries')
    """
    return f"{number} {one if number == 1 else many or one + 's'}"


def listed(words: Sequence[str]) -> str:
    """Words one after another as people say them.

    >>> listed(["14"]), listed(["14", "22"]), listed(["14", "22", "30"])
    ('14', '14 and 22', '14, 22 and 30')
    """
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def marks(words: Sequence[str]) -> str:
    """Marks of lines, or numbers of sets, with runs of three and more drawn together.

    >>> marks(["1", "2", "3", "4"]), marks(["2", "3"]), marks(["1", "2", "3", "5", "7a"])
    ('1 to 4', '2 and 3', '1 to 3, 5 and 7a')
    """
    return listed(in_runs(words))


def several(noun: str) -> str:
    """The plural of a name of a part.

    >>> several("shackle"), several("wire rope clips"), several("loft block")
    ('shackles', 'wire rope clips', 'loft blocks')
    """
    if noun.endswith("s") or noun[-1:].isdigit():
        return noun
    return f"{noun[:-1]}ies" if noun.endswith("y") and noun[-2:-1] not in "aeiou" else f"{noun}s"


def sentence(text: str) -> str:
    """With a capital at its beginning and a full stop at its end.

    >>> sentence("line 2 is slack")
    'Line 2 is slack.'
    """
    text = text.strip()
    if not text:
        return ""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".!?" else ".")


def authority(rule: Rule, titles: "dict[str, str]") -> tuple[str, ...]:
    """On whose authority a rule stands, one line each, saying what comes from memory."""
    if rule.is_common_practice:
        return (COMMON_PRACTICE,)
    return tuple(_citation(one, titles) for one in rule.citations)


def authority_in_short(rule: Rule, titles: "dict[str, str]") -> str:
    """The same on one line: works and clauses, without what they say."""
    if rule.is_common_practice:
        return COMMON_PRACTICE
    named = [
        f"{titles.get(one.work, one.work)}{f', {one.clause}' if one.clause else ''}"
        f"{'' if one.basis == 'read' else ' (from memory)'}"
        for one in rule.citations
    ]
    return "; ".join(named)


def _citation(citation: Citation, titles: "dict[str, str]") -> str:
    clause = f", {citation.clause}" if citation.clause else ""
    says = f": “{citation.says}”" if citation.says else ""
    basis = "" if citation.basis == "read" else " (from memory, not yet read in print)"
    return f"{titles.get(citation.work, citation.work)}{clause}{says}{basis}"
