"""Every figure that is worked out of the invented house and its show can be followed with a pocket calculator:
formula, authority, and every input with the place where it was written, its own working, or who stands for it.
"""

from collections.abc import Iterator

import pytest
from tests.demo.conftest import HOUSE, ON

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.house_check import check_house
from plumbtrue.facts.answer import Answer, Working
from plumbtrue.facts.store import Facts
from plumbtrue.facts.working_text import working_text
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import Unknown


@pytest.fixture(scope="module")
def show() -> Audit:
    return check_house(HOUSE, on=ON, plot=HOUSE.with_name("tour-a.yaml"), third_party=False)


def answers(audit: Audit) -> Iterator[tuple[str, str, Answer]]:
    """Every computed fact of every thing: `kind.fact`, where, and what is known of it."""
    facts = Facts(audit.rig, audit.on, audit.further)
    for thing in audit.rig.things():
        for name, fact in thing.kind.facts.items():
            if fact.is_computed or fact.computed_if_left_out:
                yield f"{thing.kind.name}.{name}", f"{thing.path} : {name}", facts.answer(thing, name)


def gaps(working: Working, seen: set[int]) -> Iterator[str]:
    """What keeps a reader from following a working, there and in all that it was worked out from."""
    if id(working) in seen:
        return
    seen.add(id(working))
    if not working.formula:
        yield f"{working.what}: no formula"
    if isinstance(working.result, Bounds):
        if not working.source:
            yield f"{working.what}: no authority"
        # A sum over nothing has nothing to show.
        if not working.inputs and not working.steps and working.result != Bounds.exactly(0.0):
            yield f"{working.what}: neither an input nor a step"
    for one in working.inputs:
        if one.working is not None:
            yield from gaps(one.working, seen)
        elif one.recorded is None and not one.authority and not isinstance(one.value, Unknown):
            yield f"{working.what}: nobody says where {one.label} comes from"


def test_every_figure_has_formula_inputs_and_authority(show: Audit) -> None:
    seen: set[int] = set()
    found: dict[str, str] = {}
    followed = set()
    for kind, where, answer in answers(show):
        if isinstance(answer.value, Bounds) and answer.recorded is None:
            assert answer.working is not None, where
            followed.add(kind)
            for gap in gaps(answer.working, seen):
                found.setdefault(gap, where)
    assert found == {}
    # Of the computed figures of the vocabulary, so many are worked out somewhere in this house.
    assert len(followed) > 200


def test_nothing_is_unknown_without_a_word(show: Audit) -> None:
    silent = [
        where
        for _, where, answer in answers(show)
        if isinstance(answer.value, Unknown) and not answer.missing and not answer.refusal
    ]
    assert silent == []


def test_a_printed_working_shows_where_each_input_comes_from(show: Audit) -> None:
    """As `explain` prints it: file and line, a working below, or the authority of a table's figure."""
    facts = Facts(show.rig, show.on, show.further)
    line = next(thing for thing in show.rig.things() if thing.path == "13 / line 1")
    text = working_text(facts.answer(line, "rope_limit"))
    rows = {row.strip().split("  ")[0]: row for row in text.splitlines()}
    assert "house.yaml:" in rows["breaking strength"] or "in order" in rows["breaking strength"]
    assert "(least-efficiency, below)" in rows["least efficiency of 13 / line 1"]
    assert "common practice" in rows["design factor"]
