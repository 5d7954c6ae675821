"""A check reads the practice pack without its examples; its rules are the same, at the same places."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from plumbtrue.plugins import load_plugins
from plumbtrue.rig.vocabulary_loading import load_vocabulary
from plumbtrue.rules.examples.cases import read_cases
from plumbtrue.rules.packs.loading import load_packs
from plumbtrue.rules.packs.pack import RuleBook
from plumbtrue.rules.rule import Rule

VOCABULARY = load_vocabulary()


def practice(*, examples: bool) -> RuleBook:
    plugins = load_plugins(third_party=False)
    return load_packs(("practice",), Path.cwd(), VOCABULARY, plugins, on=date(2026, 4, 13), examples=examples)


def without_examples(rule: Rule) -> Rule:
    origins = {key: origin for key, origin in rule.origins.items() if key != "examples"}
    return replace(rule, examples=None, origins=origins)


def test_every_rule_is_the_same_with_and_without_its_examples() -> None:
    whole, short = practice(examples=True), practice(examples=False)
    assert all(rule.examples for rule in whole.rules)
    assert [without_examples(rule) for rule in whole.rules] == list(short.rules)
    assert [pack.digest for pack in whole.packs] == [pack.digest for pack in short.packs]
    assert [rule.place for rule in whole.rules] == [rule.place for rule in short.rules]


def test_a_rule_without_its_examples_is_never_called_well_tried() -> None:
    rule = practice(examples=False).rules[0]
    with pytest.raises(ValueError, match="without its examples"):
        read_cases(rule, VOCABULARY, [])
