"""What a change of the rules did is told apart from what a change of the rig did, and hides none of it."""

from pathlib import Path

import pytest
from tests.audit.audits_in_text import CHAIN_RULES
from tests.comparing.revisions import SOUND, became, book, compared, house
from tests.packs.packs_in_text import ON, book_of, write_pack

from plumbtrue.audit.comparing import comparison_status
from plumbtrue.audit.gate import ExitStatus
from plumbtrue.audit.pack_changes import PackDeed, pack_changes
from plumbtrue.rules.packs.pack import RuleBook
from plumbtrue.rules.severity import Severity

BAD = SOUND.replace("grade: 80", "grade: 30")
STRETCHED = SOUND.replace("gauge_length: 10 in", "gauge_length: 10.2 in")
"""By 2 %: within the 3 % of the pack."""

GATE = Severity.BEFORE_NEXT_USE


@pytest.fixture
def before(tmp_path: Path) -> RuleBook:
    return book(tmp_path / "before")


def after(tmp_path: Path, rules: str) -> RuleBook:
    return book(tmp_path / "after", rules)


def test_a_stricter_limit_is_told_by_the_packs_and_not_by_the_rig(tmp_path: Path, before: RuleBook) -> None:
    now = after(tmp_path, CHAIN_RULES.replace("value: 3 %", "value: 1 %"))
    found = compared(house(STRETCHED), house(STRETCHED), before, new_rules=now)
    assert (found.changes, found.outcomes, found.hidden) == ((), (), ())
    assert became(found.by_packs) == [("appeared", "chain-stretched", "1")]
    limits = [(one.rule, one.part, one.before, one.after) for one in found.packs if one.deed is PackDeed.PART]
    assert limits == [("chain-stretched", "parameters.most", "3 %", "1 %")]
    assert comparison_status(found, GATE) is ExitStatus.FINDINGS


def test_a_fault_and_the_rule_against_it_taken_out_together_pass_no_gate(
    tmp_path: Path, before: RuleBook
) -> None:
    """Under the new rules nothing is worse; the older ones would have found it."""
    rest = CHAIN_RULES[CHAIN_RULES.index("    - rule: chain-stretched") :]
    found = compared(house(SOUND), house(BAD), before, new_rules=after(tmp_path, rest))
    assert found.outcomes == ()
    assert became(found.hidden) == [("appeared", "chain-grade-too-low", "1")]
    assert comparison_status(found, GATE) is ExitStatus.FINDINGS


def test_a_milder_rule_alone_is_shown_and_refuses_nothing(tmp_path: Path, before: RuleBook) -> None:
    now = after(tmp_path, CHAIN_RULES.replace("severity: before-next-use", "severity: advisory"))
    found = compared(house(BAD), house(BAD), before, new_rules=now)
    assert became(found.by_packs) == [("improved", "chain-grade-too-low", "1")]
    assert comparison_status(found, GATE) is ExitStatus.NOTHING_AT_THE_GATE


def test_a_renamed_rule_is_the_same_rule(tmp_path: Path, before: RuleBook) -> None:
    renamed = CHAIN_RULES.replace(
        "    - rule: chain-grade-too-low\n",
        "    - rule: chain-not-for-lifting\n      formerly: [chain-grade-too-low]\n",
    )
    found = compared(house(BAD), house(BAD), before, new_rules=after(tmp_path, renamed))
    assert found.by_packs == ()
    assert [one.deed for one in found.packs] == [PackDeed.FILES, PackDeed.RULE_RENAMED]


def test_the_same_limit_in_another_unit_and_other_blanks_change_no_rule(
    tmp_path: Path, before: RuleBook
) -> None:
    same = CHAIN_RULES.replace("value: 12 in", "value: 1 ft").replace(
        "require: growth <= most", "require:   growth   <=   most"
    )
    assert same != CHAIN_RULES
    found = compared(house(BAD), house(BAD), before, new_rules=after(tmp_path, same))
    assert [one.deed for one in found.packs] == [PackDeed.FILES]
    assert found.by_packs == ()


def test_other_words_of_a_finding_are_no_other_finding(tmp_path: Path, before: RuleBook) -> None:
    words = CHAIN_RULES.replace("The chain is of grade {grade}.", "Grade {grade} is not made for lifting.")
    found = compared(house(BAD), house(BAD), before, new_rules=after(tmp_path, words))
    assert [one.deed for one in found.packs] == [PackDeed.FILES, PackDeed.WORDS]
    assert (found.outcomes, found.by_packs) == ((), ())


def test_a_house_pack_that_retires_a_rule_says_who_and_why(tmp_path: Path, before: RuleBook) -> None:
    write_pack(tmp_path, "trade", rules=CHAIN_RULES)
    write_pack(
        tmp_path,
        "house",
        more="""
            requires: [trade]
            adjustments:
              - rule: keeper-bolt-missing
                retire: true
                reason: every wrap is shackled
                decided_by: head of flys
                decided_on: 2026-01-05
        """,
    )
    now = book_of(tmp_path, "trade", "house", on=ON)
    found = pack_changes(before, now)
    assert [(one.deed, one.rule) for one in found] == [
        (PackDeed.PACK_ADDED, ""),
        (PackDeed.RULE_RETIRED, "keeper-bolt-missing"),
    ]
    assert found[-1].reason == "every wrap is shackled (head of flys)"


def test_swapped_packs_turn_what_they_did_round(tmp_path: Path, before: RuleBook) -> None:
    now = after(tmp_path, CHAIN_RULES.replace("value: 3 %", "value: 1 %"))
    rig = house(STRETCHED, BAD)
    back = compared(rig, rig, now, new_rules=before)
    assert became(back.by_packs) == [("went-away", "chain-stretched", "1")]
