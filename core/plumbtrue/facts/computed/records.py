"""Ages and last days: how long ago something was made, tested or looked at, by what is on record.

What nobody wrote into a record did not happen, as far as a record can tell: an inspection that is on no list
is no inspection. But whether there is a list at all has to be known.
"""

from dataclasses import dataclass
from math import inf

from plumbtrue.facts.answer import Answer, Missing
from plumbtrue.facts.computed.registry import computed
from plumbtrue.facts.gathering import Gathering
from plumbtrue.facts.not_seen import left_out
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.calendar import calendar_age, days_since
from plumbtrue.quantities.dimension import DURATION, FORCE
from plumbtrue.quantities.values import NONE, Absent, Choice, Each, Name, Unknown, Value
from plumbtrue.rig.thing import Thing

_CALENDAR = "whole calendar months and the fraction of the running one"
_COMPETENT = frozenset({"licensed", "qualified", "competent"})
_BY_HAND = frozenset({"by-hand", "with-tools"})


def _age(known: Gathering, day: Bounds, what: str) -> Answer:
    # What was made is not made tomorrow: a date known only as "after 2003" ends on the day judged.
    made = (
        Bounds(min(day.low, known.facts.today), min(day.high, known.facts.today))
        if day.low <= known.facts.today
        else day
    )
    age = calendar_age(made, int(known.facts.today))
    return known.answer(age, "calendar-age", f"from {what} to the day judged", DURATION, _CALENDAR)


@computed("rope", "age")
def age_of_rope(known: Gathering, thing: Thing) -> Answer:
    """Age of a rope on the day judged."""
    installed = known.figure(thing, "installed")
    known.settle()
    return _age(known, installed, "the day it was put up")


@computed("line_set", "age")
def age_of_set(known: Gathering, thing: Thing) -> Answer:
    """Age of a set since it was new or fully reconditioned.

    Where nobody knows whether it ever was reconditioned, it is at most as old as it is since new.
    """
    last = known.perhaps(thing, "reconditioned")
    if isinstance(last, Bounds):
        known.settle()
        return _age(known, last, "the last full reconditioning")
    built = known.figure(thing, "built")
    known.settle()
    if last is None:
        known.loose.append(Missing(thing, "reconditioned"))
        built = Bounds(built.low, max(known.facts.today, built.high))
    return _age(known, built, "the day it was new")


@computed("fire_curtain", "age_of_test")
def age_of_test(known: Gathering, thing: Thing) -> Answer:
    """Days since the last test or drop, the later of both."""
    low, high, any_known = -inf, -inf, False
    for name in ("tested", "dropped"):
        day = known.perhaps(thing, name)
        if isinstance(day, Bounds):
            low, high, any_known = max(low, day.low), max(high, day.high), True
        elif day is None:
            known.loose.append(Missing(thing, name))
            high = known.facts.today
    if not any_known:
        if not known.loose:
            return known.within(
                NONE, "age-of-test", "it was never tested or dropped, by record", None, "exact days"
            )
        known.lacking.extend(known.loose)
        known.settle()
    since = days_since(Bounds(low, high), int(known.facts.today))
    return known.within(
        since, "age-of-test", "from the later of test and drop to the day judged", DURATION, "exact days"
    )


@dataclass(slots=True)
class _Last:
    """The latest of several days, some of which may not count."""

    low: float = -inf
    high: float = -inf

    def take(self, day: Bounds, *, sure: bool) -> None:
        self.low = max(self.low, day.low) if sure else self.low
        self.high = max(self.high, day.high)

    def value(self) -> Value:
        return NONE if self.high == -inf else Bounds(self.low, self.high)


def _records(known: Gathering, thing: Thing, name: str) -> list[Thing]:
    """The entries of a list of the set and of the house; one of the two has to be written."""
    house = thing.enclosing("house")
    owners = [owner for owner in (thing, house) if owner is not None and name in owner.kind.facts]
    held = [(owner, known.facts.part(owner, name)) for owner in owners]
    if all(isinstance(found, Unknown) for _, found in held):
        for owner, _ in held:
            known.lack(owner, name)
        known.settle()
    entries: list[Thing] = []
    for owner, found in held:
        entries.extend(found if isinstance(found, tuple) else ())
        if known.facts.is_unlisted(owner, name):
            known.loose.append(Missing(owner, name, "not all of them identified"))
    return entries


def _unlisted(known: Gathering, thing: Thing, name: str) -> bool:
    house = thing.enclosing("house")
    return any(owner is not None and known.facts.is_unlisted(owner, name) for owner in (thing, house))


def _day(known: Gathering, entry: Thing) -> Bounds:
    """The day of an entry, noted; an entry without a day lies anywhere up to today."""
    day = known.perhaps(entry, "on")
    if isinstance(day, Bounds):
        return day
    known.loose.append(Missing(entry, "on"))
    return Bounds(-inf, known.facts.today)


def _words(known: Gathering, entry: Thing, name: str) -> frozenset[str] | None:
    answer = known.facts.answer(entry, name)
    if isinstance(answer.value, Choice):
        return answer.value.possible | ({"none"} if answer.value.may_be_none else set())
    if isinstance(answer.value, Absent):
        return frozenset({"none"})
    known.loose.extend(answer.missing)
    return None


def _is_among(words: frozenset[str] | None, wanted: frozenset[str]) -> bool | None:
    """Whether a word is among some; nothing when it cannot be told."""
    if words is None:
        return None
    return True if words <= wanted else None if words & wanted else False


def _left_the_set_out(known: Gathering, walk: Thing, thing: Thing) -> bool:
    value = known.facts.answer(walk, "not_seen").value
    phrases = [one.text for one in value.values if isinstance(one, Name)] if isinstance(value, Each) else []
    if isinstance(value, Name):
        phrases = [value.text]
    whole = frozenset(phrase for phrase in phrases if phrase.removeprefix("set ").strip() == thing.key)
    return bool(whole) or bool(left_out(frozenset(phrases), thing, "system"))


def _last_walk(known: Gathering, thing: Thing, close: bool) -> Answer:
    last = _Last()
    for walk in _records(known, thing, "inspections"):
        checks = [_is_among(_words(known, walk, "qualification"), _COMPETENT)]
        if close:
            checks.append(_is_among(_words(known, walk, "every_part"), frozenset({"yes"})))
            checks.append(_is_among(_words(known, walk, "how"), _BY_HAND))
        if any(check is False for check in checks) or _left_the_set_out(known, walk, thing):
            continue
        last.take(_day(known, walk), sure=all(check is True for check in checks))
    if _unlisted(known, thing, "inspections"):
        last.high = known.facts.today
    what = "every part by hand, " if close else ""
    formula = f"latest entry ({what}by somebody licensed, qualified or competent)"
    return known.within(
        last.value(), "last-inspection", formula, None, "inspections of the set and of the house"
    )


@computed("line_set", "last_inspection")
def last_inspection(known: Gathering, thing: Thing) -> Answer:
    """Day of the last inspection of a set by a competent person; none where none is on record."""
    return _last_walk(known, thing, close=False)


@computed("line_set", "last_close_inspection")
def last_close_inspection(known: Gathering, thing: Thing) -> Answer:
    """Day of the last inspection that had every part of a set by hand; none where none is on record."""
    return _last_walk(known, thing, close=True)


@computed("line_set", "last_event")
def last_event(known: Gathering, thing: Thing) -> Answer:
    """Day of the last event that touched a set; none where none is on record."""
    last = _Last()
    for event in _records(known, thing, "events"):
        answer = known.facts.answer(event, "touched")
        touched = _touched(answer.value, thing)
        if touched is False:
            continue
        if touched is None:
            known.loose.extend(answer.missing)
        last.take(_day(known, event), sure=touched is True)
    if _unlisted(known, thing, "events"):
        last.high = known.facts.today
    formula = "latest event that names the set"
    return known.within(last.value(), "last-event", formula, None, "events of the house")


def _touched(value: Value, thing: Thing) -> bool | None:
    """Whether an event names a set: by its key alone, as `set 14`, or by the path of something in it."""
    match value:
        case Each(values):
            names = [one.text for one in values if isinstance(one, Name)]
        case Name(text):
            names = [text]
        case Absent():
            return False
        case _:
            return None
    firsts = {name.split("/")[0].strip().removeprefix("set ").strip() for name in names}
    return thing.key in firsts or bool(firsts & {"all", "all sets"})


@computed("alteration", "tested_with")
def tested_with(known: Gathering, thing: Thing) -> Answer:
    """Greatest load of a test over full travel since a change [N]; none where no such test is on record.

    Where papers give the month alone, a test of the month of the change counts as a later one: nobody tests
    what is about to be changed.
    """
    line_set = known.around(thing, "line_set")
    changed = known.figure(thing, "on", "day of the change")
    tests = known.things(line_set, "load_tests")
    known.settle()
    low, high = 0.0, -inf
    for test in tests:
        full = _is_among(_words(known, test, "full_travel"), frozenset({"yes"}))
        day = _day(known, test)
        if full is False or day.high < changed.low:
            continue
        load = _load(known, test)
        high = max(high, load.high)
        if full is True and day.low >= changed.low and day.high >= changed.high:
            low = max(low, load.low)
    if high == -inf:
        return known.within(NONE, "test-load", "no test over full travel since", None, "load tests on record")
    known.suppose("a test of the month of the change came after it")
    formula = "greatest load of the tests over full travel since the change"
    return known.within(Bounds(low, high), "test-load", formula, FORCE, "load tests on record")


def _load(known: Gathering, test: Thing) -> Bounds:
    """What a test hung, noted; anything, where nobody wrote it."""
    load = known.perhaps(test, "load")
    if isinstance(load, Bounds):
        return load
    known.loose.append(Missing(test, "load"))
    return Bounds(0.0, inf)


@computed("line_set", "set_verdict")
def set_verdict(known: Gathering, thing: Thing) -> Answer:
    """Gravest outcome for the set. Only the audit of the house can tell it, and hands it in; a tag alone
    tells it here.
    """
    tagged = known.perhaps(thing, "tagged_out")
    if isinstance(tagged, Bounds):
        return known.within(
            Choice(frozenset({"out-of-service"})), "set-verdict", "it is tagged out", None, "its tag"
        )
    known.lack(thing, "set_verdict", "the rules of the house have not been run")
    raise known.what_is_missing()


def _by_the_audit(known: Gathering, thing: Thing, name: str) -> Answer:
    known.lack(thing, name, "the rules of the house have not been run")
    raise known.what_is_missing()


@computed("line_set", "stopped")
def stopped(known: Gathering, thing: Thing) -> Answer:
    """Whether the set is out of service. The audit of the house hands it in; a tag alone tells it here."""
    tagged = known.perhaps(thing, "tagged_out")
    if isinstance(tagged, Bounds):
        return known.within(Choice(frozenset({"yes"})), "set-verdict", "it is tagged out", None, "its tag")
    return _by_the_audit(known, thing, "stopped")


@computed("line_set", "work_before_use")
def work_before_use(known: Gathering, thing: Thing) -> Answer:
    """Whether the set needs work before its next use. Only the audit of the house can tell it."""
    return _by_the_audit(known, thing, "work_before_use")


@computed("line_set", "verdict_reasons")
def verdict_reasons(known: Gathering, thing: Thing) -> Answer:
    """The findings behind the verdict. Only the audit of the house can tell them."""
    return _by_the_audit(known, thing, "verdict_reasons")


@computed("labelled", "labels_read")
def labels_read(known: Gathering, thing: Thing) -> Answer:
    """What was read of the labels of a set or a floor, in words: `batten: readable, rail: none`."""
    if thing.kind.name == "line_set":
        asked = [("batten", thing, "label_batten"), ("rail", thing, "label_rail")]
        arbor = known.optional(thing, "arbor")
        if isinstance(arbor, Thing):
            asked.append(("arbor", arbor, "label"))
    else:
        asked = [("limit plate", thing, "limit_plate")]
    said = [(what, known.words(owner, name)) for what, owner, name in asked]
    read = ", ".join(f"{what}: {' or '.join(sorted(words)) or 'not read'}" for what, words in said)
    known.lacking.clear()  # What nobody read is said in words; the rule itself asks for it.
    return known.answer(Name(read), "labels-read", "each label as it was read", None, "recorded facts")
