"""The headline: how many line sets must not fly and which, how many need work before use, how many cannot be
told, and what else of the house is in such a state.
"""

from collections.abc import Iterable, Sequence

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.audit.verdicts import State, Verdict, line_set_of, verdict_on
from plumbtrue.reporting.grouping import set_anchor
from plumbtrue.reporting.places_in_words import name_of
from plumbtrue.reporting.report import Headline, HeadlineLine
from plumbtrue.reporting.wording import (
    STATE_LABELS,
    STATE_MEANINGS,
    STATE_SIGNS,
    counted,
    listed,
    marks,
    sentence,
)
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.what_if import told


def headline(audit: Audit) -> Headline:
    """The headline of an audit."""
    house = house_states(audit)
    lines = tuple(_line(state, list(audit.verdicts.values()), house) for state in State)
    lines = tuple(line for line in lines if line.sets or line.also)
    return Headline(lines, tuple(_notes(audit)), " ".join(line.text for line in lines))


def house_states(audit: Audit) -> dict[str, State]:
    """What else of the house something was found about, or cannot be told: each part that stands in no set,
    by its name.
    """
    by_part: dict[Thing, list[Outcome]] = {}
    for outcome in audit.told:
        if outcome.counts and line_set_of(outcome.thing) is None:
            by_part.setdefault(_outermost(outcome.thing), []).append(outcome)
    found = {part: verdict_on(part, outcomes).state for part, outcomes in by_part.items()}
    ordered = sorted(found.items(), key=lambda pair: natural_order(pair[0].path))
    named: dict[str, State] = {}
    for part, state in ordered:
        if state is not State.NOTHING_FOUND:
            named[f"the {name_of(part)}" if part.parent is not None else "the house itself"] = state
    return named


def _outermost(thing: Thing) -> Thing:
    while thing.parent is not None and thing.parent.parent is not None:
        thing = thing.parent
    return thing


def _line(state: State, verdicts: Sequence[Verdict], house: dict[str, State]) -> HeadlineLine:
    keys = [verdict.key for verdict in verdicts if verdict.state is state]
    also = tuple(name for name, its_state in house.items() if its_state is state)
    return HeadlineLine(
        state=state,
        label=STATE_LABELS[state],
        sign=STATE_SIGNS[state],
        meaning=STATE_MEANINGS[state],
        sets=tuple((key, set_anchor(key)) for key in keys),
        also=also,
        remark=_remark([verdict for verdict in verdicts if verdict.state is state]),
        text=_text(state, keys, also),
    )


def _remark(verdicts: Sequence[Verdict]) -> str:
    """What a count alone would hide: sets that a tag has taken out, and sets that stand better only since
    somebody accepted something.
    """
    tagged = [verdict.key for verdict in verdicts if verdict.tagged_out]
    accepted = [verdict.key for verdict in verdicts if verdict.accepted]
    which = "" if len(tagged) == len(verdicts) else f"{marks(tagged)} "
    parts = [f"{which}by {'its tag' if len(tagged) == 1 else 'their tags'}"] if tagged else []
    parts += [f"{marks(accepted)} with something accepted until a day"] if accepted else []
    return "; ".join(parts)


def _text(state: State, keys: Sequence[str], also: Sequence[str]) -> str:
    number, which = len(keys), marks(keys)
    sets = counted(number, "set")
    if state is State.NOTHING_FOUND:
        return f"On {sets} these rules found nothing that must be done." if number else ""
    if not number:
        return sentence(f"{STATE_LABELS[state].lower()}: {listed(also)}")
    one = number == 1
    told = {
        State.OUT_OF_SERVICE: f"{sets} out of service ({which})",
        State.BEFORE_NEXT_USE: f"{sets} {'needs' if one else 'need'} work before use ({which})",
        State.CANNOT_BE_TOLD: f"{number} cannot be told ({which})",
        State.NEXT_MAINTENANCE: f"{number} with work for the next maintenance ({which})",
    }[state]
    return f"{told}{f', and {listed(also)}' if also else ''}."


def _notes(audit: Audit) -> Iterable[str]:
    yield from told(audit.rig)
    if not audit.looked_at_anything:
        yield "No rule applied to anything here. Nothing was checked."
    elif not audit.names_its_sets:
        yield "No line set is written down, so nothing that hangs was checked."
    if audit.incomplete:
        yield f"The run was not complete: {'; '.join(audit.incomplete)}."
    for problem in audit.problems:
        yield f"{problem.where}: {problem.what}."
    errors = sum(outcome.result is Result.ERROR for outcome in audit.told)
    if errors:
        yield f"{counted(errors, 'rule')} failed on something; each counts as not told."
    accepted = [one for one in audit.told if one.acceptance is not None]
    standing = [one for one in accepted if not one.counts]
    if standing:
        yield f"{counted(len(standing), 'outcome')} accepted until a day, told further down."
    if len(standing) < len(accepted):
        lapsed = counted(len(accepted) - len(standing), "acceptance")
        yield f"{lapsed} no longer covering what was found, so that it counts."
