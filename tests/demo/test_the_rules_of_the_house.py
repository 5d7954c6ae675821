"""The house's own rules: each tried by its examples and by breaking it, and each change answered for."""

import pytest

from plumbtrue.audit.auditing import Audit
from plumbtrue.rules.examples.running import try_rule
from plumbtrue.rules.packs.understanding import Surroundings

OWN = ["fire-curtain-drop-overdue", "house-set-not-reserved", "posted-figures-incomplete"]


def test_the_house_adds_three_rules(by_house_rules: Audit) -> None:
    assert [rule.slug for rule in by_house_rules.rulebook.rules if rule.pack == "tarn-hollow"] == OWN


@pytest.mark.parametrize("slug", OWN)
def test_every_example_comes_out_and_every_alteration_is_noticed(by_house_rules: Audit, slug: str) -> None:
    book = by_house_rules.rulebook
    rule = book.rule(slug)
    assert rule is not None
    trial = try_rule(rule, Surroundings(book.vocabulary, book.tables))
    assert trial.cases >= 5
    assert trial.is_good


def test_every_change_says_why_and_who_decided(by_house_rules: Audit) -> None:
    changes = by_house_rules.rulebook.changes
    assert {(one.rule, one.way) for one in changes} == {
        ("lock-slips", "set"),
        ("set-parked-out-of-balance", "set"),
        ("shackle-plastic-mousing-permanent", "tighten"),
        ("clip-torque-unrecorded", "relax"),
        ("chain-grade-not-for-lifting", "tighten"),
    }
    assert all(one.reason and one.decided_by and one.decided_on for one in changes)
    assert [one.rule for one in changes if one.until] == ["clip-torque-unrecorded"]
