"""The invented house against the table of its faults: nothing missing, and nothing else found.

The table is that of whoever made the house up: which fault was put where, and what a sound inspector says
of each. It was written before any rule was. Places are sets, H stands for what belongs to no set; the
figure is the number of things that a rule speaks of.
"""

import re
from collections import Counter

import pytest
from tests.demo.conftest import HOUSE

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.deciding import Whereabouts
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.audit.verdicts import State, line_set_of
from plumbtrue.audit.working import working_of
from plumbtrue.facts.store import Facts
from plumbtrue.reporting.headline import headline
from plumbtrue.rules.severity import Severity

FINDINGS = """
    7   turnbuckle-not-secured             before-next-use   5
    7   turnbuckle-costs-trim              advisory          5
    7   batten-can-reach-blocks            before-next-use   1
    7   clip-torque-unrecorded             before-next-use   5
    7   rope-age-review                    advisory          1
    7   reconditioning-due                 advisory          1
    8   chain-grade-not-for-lifting        advisory          4
    8   batten-span-long                   next-maintenance  1
    8   rope-age-review                    advisory          1
    8   reconditioning-due                 advisory          1
    9   turnbuckle-not-secured             before-next-use   5
    9   turnbuckle-costs-trim              advisory          5
    9   batten-can-reach-blocks            before-next-use   1
    9   clip-torque-unrecorded             before-next-use   5
    9   rope-age-review                    advisory          1
    9   reconditioning-due                 advisory          1
    10  rope-broken-wire-first             next-maintenance  1
    10  rope-age-review                    advisory          1
    10  reconditioning-due                 advisory          1
    11  chain-shortened-by-knot-or-bolt    before-next-use   5
    11  chain-legs-not-sharing             next-maintenance  5
    11  chain-single-wrap                  next-maintenance  5
    11  rope-age-review                    advisory          1
    11  reconditioning-due                 advisory          1
    12  capacity-label-missing             next-maintenance  1
    13  batten-span-long                   next-maintenance  1
    13  rope-age-review                    advisory          1
    13  reconditioning-due                 advisory          1
    14  rope-corrosion-pitted              out-of-service    2
    14  clip-malleable                     before-next-use   8
    14  clip-torque-unrecorded             before-next-use   8
    14  rope-strength-unproven             before-next-use   4
    14  clove-hitch-with-clips             next-maintenance  4
    14  rope-old-and-rusting               next-maintenance  4
    14  fixed-gear-unrated                 next-maintenance  4
    14  batten-span-long                   next-maintenance  1
    14  rope-unmarked                      advisory          1
    14  reconditioning-due                 advisory          1
    15  lift-lines-mixed                   next-maintenance  1
    15  recondition-half-done              next-maintenance  1
    15  fixed-gear-unrated                 next-maintenance  4
    15  batten-span-long                   next-maintenance  1
    15  rope-age-review                    advisory          1
    15  reconditioning-due                 advisory          1
    16  batten-span-long                   next-maintenance  1
    16  rope-age-review                    advisory          1
    19  drop-not-plumb                     next-maintenance  1
    20  keeper-bolt-missing                before-next-use   2
    22  lock-slips                         out-of-service    1
    22  handline-glazed                    before-next-use   1
    22  clip-torque-unrecorded             before-next-use   5
    22  shackle-plastic-mousing-permanent  next-maintenance  5
    22  rope-age-review                    advisory          1
    22  reconditioning-due                 advisory          1
    28  clip-torque-unrecorded             before-next-use   5
    28  batten-splice-badly-placed         next-maintenance  1
    28  rope-age-review                    advisory          1
    28  reconditioning-due                 advisory          1
    29  rope-age-review                    advisory          1
    30  clip-malleable                     before-next-use   8
    30  clip-torque-unrecorded             before-next-use   8
    30  rope-strength-unproven             before-next-use   4
    30  clove-hitch-with-clips             next-maintenance  4
    30  rope-old-and-rusting               next-maintenance  4
    30  fixed-gear-unrated                 next-maintenance  4
    30  batten-span-long                   next-maintenance  1
    30  rope-unmarked                      advisory          1
    30  reconditioning-due                 advisory          1
    H1  fibre-rope-damaged                 out-of-service    3
    H1  fibre-rope-age                     next-maintenance  3
    H1  reconditioning-due                 advisory          1
    H   steel-capacity-unproven            next-maintenance  1
    H   yearly-inspection-overdue          next-maintenance  1
"""
"""By the practice pack alone."""

RELAXED = {(place, "clip-torque-unrecorded") for place in ("7", "9", "22", "28")}
"""Findings that house rule H-10 puts off until the next re-roping."""

TIGHTENED = {
    ("22", "shackle-plastic-mousing-permanent"): 5,  # H-9
    ("8", "chain-grade-not-for-lifting"): 4,  # H-11
    ("H", "fire-curtain-drop-overdue"): 1,  # H-12
}
"""Findings that the house counts among those before the next use, with the number of things."""

UNDETERMINED = """
    12  arbor-over-capacity                out-of-service    1
    14  load-path-over-capacity            out-of-service    4
    15  load-path-over-capacity            out-of-service    4
    16  sleeve-gauge-fail                  out-of-service    8
    29  chain-unmarked                     before-next-use   5
    29  chain-weaker-than-rope             before-next-use   5
    30  load-path-over-capacity            out-of-service    4
"""
"""What cannot be told, as urgent as its rule."""

MET = """
    8   chain-weaker-than-rope             before-next-use   4
    10  rope-broken-wires-discard          out-of-service    5
    30  tagged-set-in-use                  out-of-service    1
    H   fire-curtain-test-overdue          before-next-use   1
"""
"""Faults that look like more than they are."""

SOUND = ["1", "2", "3", "4", "5", "6", "17", "18", "21", "23", "24", "25", "26", "27"]

Row = tuple[str, str, str]


def table(text: str) -> Counter[Row]:
    """Set, rule and severity of each row, as often as there are things."""
    rows = (line.split() for line in text.splitlines() if line.strip())
    return Counter({(place, rule, severity): int(number) for place, rule, severity, number in rows})


def place_of(outcome: Outcome) -> str:
    line_set = line_set_of(outcome.thing)
    return "H" if line_set is None else line_set.key


def outcome_of(audit: Audit, key: str) -> Outcome:
    return next(one for one in audit.outcomes if one.key == key)


def rows(audit: Audit, result: Result) -> Counter[Row]:
    """What came out so, by set, rule and severity."""
    return Counter(
        (place_of(one), one.rule, one.severity.value) for one in audit.outcomes if one.result is result
    )


def test_the_practice_pack_finds_each_fault_and_nothing_else(by_practice: Audit) -> None:
    assert rows(by_practice, Result.FINDING) == table(FINDINGS)


def test_the_house_rules_put_off_and_tighten_what_they_say_and_nothing_else(
    by_practice: Audit, by_house_rules: Audit
) -> None:
    expected = Counter(
        {row: number for row, number in table(FINDINGS).items() if row[:2] not in RELAXED | set(TIGHTENED)}
    )
    expected.update({(*row, "before-next-use"): number for row, number in TIGHTENED.items()})
    assert rows(by_house_rules, Result.FINDING) == expected


@pytest.mark.parametrize("pack", ["by_practice", "by_house_rules"])
def test_no_rule_fails_and_nothing_is_left_out(pack: str, request: pytest.FixtureRequest) -> None:
    audit: Audit = request.getfixturevalue(pack)
    assert rows(audit, Result.ERROR) == Counter()
    assert (audit.problems, audit.incomplete) == ((), ())


@pytest.mark.parametrize(("text", "result"), [(UNDETERMINED, Result.UNDETERMINED), (MET, Result.MET)])
def test_what_cannot_be_told_and_what_is_met_after_all(by_practice: Audit, text: str, result: Result) -> None:
    found = rows(by_practice, result)
    wanted = table(text)
    assert {row: found[row] for row in wanted} == dict(wanted)


@pytest.mark.parametrize("pack", ["by_practice", "by_house_rules"])
def test_nothing_grave_is_left_open_on_a_sound_set(pack: str, request: pytest.FixtureRequest) -> None:
    audit: Audit = request.getfixturevalue(pack)
    grave = {Severity.OUT_OF_SERVICE, Severity.BEFORE_NEXT_USE}
    open_ones = [
        one.key
        for one in audit.outcomes
        if one.result is Result.UNDETERMINED and one.severity in grave and place_of(one) in SOUND
    ]
    assert open_ones == []


def verdicts(audit: Audit) -> dict[str, list[str]]:
    return {
        state.value: [key for key, verdict in audit.verdicts.items() if verdict.state is state]
        for state in State
    }


def test_the_verdicts_by_the_practice_pack_alone(by_practice: Audit) -> None:
    assert verdicts(by_practice) == {
        "out-of-service": ["14", "22", "30", "H1"],
        "before-next-use": ["7", "9", "11", "20", "28"],
        "cannot-be-told": ["12", "15", "16", "29"],
        "next-maintenance": ["8", "10", "13", "19"],
        "nothing-found": SOUND,
    }


def test_the_verdicts_by_the_house_rules(by_house_rules: Audit) -> None:
    assert verdicts(by_house_rules) == {
        "out-of-service": ["14", "22", "30", "H1"],
        "before-next-use": ["7", "8", "9", "11", "20"],
        "cannot-be-told": ["12", "15", "16", "29"],
        "next-maintenance": ["10", "13", "19", "28"],
        "nothing-found": SOUND,
    }


def test_the_headline_is_that_of_the_house(by_house_rules: Audit) -> None:
    said = {
        line.state: (tuple(key for key, _ in line.sets), line.also) for line in headline(by_house_rules).lines
    }
    assert said[State.OUT_OF_SERVICE] == (("14", "22", "30", "H1"), ())
    assert said[State.BEFORE_NEXT_USE] == (("7", "8", "9", "11", "20"), ("the fire curtain",))
    assert said[State.CANNOT_BE_TOLD] == (("12", "15", "16", "29"), ())


def test_without_the_house_rules_the_fire_curtain_is_in_date(by_practice: Audit) -> None:
    said = {line.state: line.also for line in headline(by_practice).lines}
    assert said[State.BEFORE_NEXT_USE] == ()


def test_a_set_out_of_service_by_its_tag_says_so(by_house_rules: Audit) -> None:
    assert by_house_rules.verdicts["30"].tagged_out
    assert not by_house_rules.verdicts["14"].tagged_out


@pytest.mark.parametrize(
    ("rule", "thing", "fact"),
    [
        ("arbor-over-capacity", "12 / arbor", "capacity"),
        ("sleeve-gauge-fail", "16 / line 1 / upper / swage-sleeve", "gauge"),
        ("chain-unmarked", "29 / line 1 / lower / trim-chain", "grade"),
        ("load-path-over-capacity", "15 / line 2 / loft-block", "working_load_limit"),
    ],
)
def test_what_cannot_be_told_asks_for_what_would_settle_it(
    by_practice: Audit, rule: str, thing: str, fact: str
) -> None:
    missing = outcome_of(by_practice, f"{rule} @ {thing}").missing
    assert (thing, fact) in {(one.thing.path, one.fact) for one in missing}


# What somebody wrote, with the first letter that a finding points at in braces.
POINTED_AT = [
    (
        "keeper-bolt-missing @ 20 / line 1 / lower / trim-chain",
        "distance_to_pipe_end: 3 in, keeper_bolt: {n}one",
    ),
    ("rope-corrosion-pitted @ 14 / line 2 / rope", 'corrosion: {is: {p}itted, note: "worst'),
    (
        "turnbuckle-not-secured @ 7 / line 5 / lower / turnbuckle",
        "turnbuckle: {secured_upper: {n}one, secured_lower: none",
    ),
    ("chain-grade-not-for-lifting @ 8 / line 4 / lower / trim-chain", "lower: {e}nd-w-30"),
    # Through a computed figure to what it was computed from.
    ("lock-slips @ 22 / rope lock", "tested_at: {3}0 lb, creep: creeps"),
    ("capacity-label-missing @ 12", "note: no plate}, label: {is: {n}one"),
    ("drop-not-plumb @ 19 / line 2", "pick_off_along: {4} in"),
]

# What stands in a typical thing and is only used in the set: where it is used, and where it is written.
LENT = [
    (
        "turnbuckle-costs-trim @ 7 / line 1",
        "like: {l}ine-t",
        "end-t: [sleeve, eye-thimble, {t}urnbuckle",
    ),
    (
        "clip-malleable @ 14 / line 2 / lower / wire-rope-clips",
        "like: {l}ine-of-1962",
        "malleable-clips: {like: forged-clips, material: {m}alleable",
    ),
    (
        "chain-single-wrap @ 11 / line 3 / lower / trim-chain",
        "like: {l}ine-one-leg",
        "{like: chain-80, wraps: {1}, legs: 1}",
    ),
]


def places(written: str) -> set[tuple[int, int]]:
    """Where a text stands in the house's file: line and column of the letter in braces."""
    letter = re.search(r"\{(\w)\}", written)
    assert letter is not None
    text = written.replace(letter[0], letter[1])
    lines = HOUSE.read_text(encoding="utf-8").splitlines()
    return {
        (number, line.index(text) + letter.start() + 1)
        for number, line in enumerate(lines, 1)
        if text in line
    }


def pointed_at(found: Audit, key: str) -> Whereabouts:
    return working_of(outcome_of(found, key), found).place


@pytest.mark.parametrize(("key", "written"), POINTED_AT)
def test_a_finding_points_at_what_a_person_wrote(by_practice: Audit, key: str, written: str) -> None:
    place = pointed_at(by_practice, key).place
    assert {(place.line, place.column)} & places(written)


@pytest.mark.parametrize(("key", "used", "written"), LENT)
def test_a_finding_in_a_typical_thing_says_where_it_is_used_too(
    by_practice: Audit, key: str, used: str, written: str
) -> None:
    found = pointed_at(by_practice, key)
    assert found.lent_from is not None
    assert {(found.place.line, found.place.column)} & places(used)
    assert (found.lent_from.line, found.lent_from.column) in places(written)


def test_no_outcome_points_into_a_typical_thing(by_practice: Audit) -> None:
    lines = HOUSE.read_text(encoding="utf-8").splitlines()
    after = lines.index("line_sets:")
    drawn = range(
        lines.index("typical:") + 1, next(at for at in range(9, after) if lines[at][:1].isalpha()) + 1
    )
    told = [one for one in by_practice.outcomes if one.result in (Result.FINDING, Result.UNDETERMINED)]
    assert len(told) > 200
    facts = Facts(by_practice.rig, by_practice.on)
    pointed = [working_of(one, by_practice, facts).place.place.line for one in told]
    assert not [line for line in pointed if line in drawn]
