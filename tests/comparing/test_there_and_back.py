"""Two revisions under the rules of the practice pack, compared there and back: what came of the edits turns round."""

import json
import random
from collections import Counter
from datetime import date
from functools import cache
from pathlib import Path

from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from tests.comparing.houses import in_other_words
from tests.comparing.test_many_edits_at_once import BEFORE, Edited, house, laid, show
from tests.comparing.the_opposite import OPPOSITE_VALUE, not_turned_round

from plumbtrue.audit.comparing import Comparison, Revision, compare, comparison_status
from plumbtrue.audit.gate import ExitStatus
from plumbtrue.audit.house_check import prepare, rules_for
from plumbtrue.documents.data_folder import data_folder
from plumbtrue.reporting.comparison_formats import written
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.packs.pack import RuleBook
from plumbtrue.rules.severity import Severity

ON = date(2026, 4, 13)
SEEDS = st.integers(0, 2**32)
NO_SHRINKING = (Phase.explicit, Phase.reuse, Phase.generate)
"""A seed says no more when it is small, and every comparison takes its second."""


@cache
def practice() -> RuleBook:
    return rules_for(BEFORE, Path(), prepare(third_party=False), on=ON)


def compared(old: Rig, new: Rig) -> Comparison:
    return compare(Revision(old, practice()), Revision(new, practice()), ON)


def edited(seed: int) -> Rig:
    found = Edited(random.Random(seed))
    found.make()
    return laid(found.house, found.show)


@given(SEEDS)
@settings(max_examples=3, deadline=None, phases=NO_SHRINKING)
def test_findings_values_pieces_sets_and_bricks_turn_round(seed: int) -> None:
    after = edited(seed)
    there, back = compared(BEFORE, after), compared(after, BEFORE)
    must_be_written(there)
    assert not_turned_round(there, back) == set()
    assert {
        (one.new.path, one.fact.name): (OPPOSITE_VALUE[one.came], one.difference) for one in back.values
    } == {
        (one.old.path, one.fact.name): (one.came, None if one.difference is None else -one.difference)
        for one in there.values
    }
    assert Counter((one.new or one.old, one.before, one.after) for one in there.pieces) == Counter(
        (one.old or one.new, one.after, one.before) for one in back.pieces
    )
    assert Counter((one.new, one.before, one.after) for one in there.states) == Counter(
        (one.old, one.after, one.before) for one in back.states
    )
    ours, theirs = bricks(there), bricks(back)
    theirs = {(there.matching.new_of[line_set], kind): -count for (line_set, kind), count in theirs.items()}
    both = ours.keys() & theirs.keys()
    assert {key: ours[key] for key in both} == {key: theirs[key] for key in both}


def must_be_written(found: Comparison) -> None:
    """Every format takes it, and the JSON form is that of its schema."""
    texts = {
        name: written(found, name, old="before", new="after", gate=Severity.BEFORE_NEXT_USE)
        for name in ("terminal", "markdown", "html", "json")
    }
    assert all(text.endswith("\n") for text in texts.values())
    schema = json.loads((data_folder("schemas") / "comparison-1.schema.json").read_text(encoding="utf-8"))
    assert [one.message for one in Draft202012Validator(schema).iter_errors(json.loads(texts["json"]))] == []


def bricks(found: Comparison) -> dict[tuple[Thing, str], int]:
    return {
        (task.line_set, kind): count
        for task in found.tasks
        for kind, count in task.bricks
        if task.line_set is not None
    }


@given(SEEDS)
@settings(max_examples=2, deadline=None, phases=NO_SHRINKING)
def test_the_same_in_other_words_gives_nothing_at_all(seed: int) -> None:
    """Nor does anything computed differ, or any finding; a pipeline takes it whatever is found in both."""
    luck = random.Random(seed)
    hung = in_other_words({"typical": {}, **show()}, luck)
    luck.shuffle(hung["plot"]["items"])
    found = compared(BEFORE, laid(in_other_words(house(), luck), hung))
    assert found.is_alike
    assert (found.tasks, found.rechecks, found.states) == ((), (), ())
    assert found.standing
    assert comparison_status(found, Severity.ADVISORY) is ExitStatus.NOTHING_AT_THE_GATE
