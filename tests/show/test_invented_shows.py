"""Whole invented shows in an invented house of metres, written as a touring production would write them, and what they
come to by a calculation of their own, which stands beside each figure.

Each file in `invented_shows/` holds a plot, figures of facts with both ends, and outcomes of rules.
"""

from collections.abc import Iterator, Mapping
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any, Final

import pytest
from ruamel.yaml import YAML
from tests.practice.defects.judged_cases import practice_book

from plumbtrue.audit.auditing import Audit, audit
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import RATIO, Dimension
from plumbtrue.quantities.reading_quantities import read_quantity
from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot_text, read_rig
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.vocabulary_loading import load_vocabulary

FOLDER: Final = Path(__file__).parent / "invented_shows"
ON: Final = date(2026, 4, 13)
SHOWS: Final = {
    file.stem: YAML(typ="base").load(file.read_text(encoding="utf-8"))
    for file in sorted(FOLDER.glob("*.yaml"))
    if file.stem != "house"
}


@cache
def house() -> Rig:
    return read_rig(FOLDER / "house.yaml", load_vocabulary())


@cache
def laid(show: str) -> tuple[Rig, Facts]:
    rig = lay(house(), read_plot_text(SHOWS[show]["plot"], f"{show}.yaml", load_vocabulary()))
    return rig, Facts(rig, ON)


@cache
def audited(show: str) -> Audit:
    return audit(laid(show)[0], practice_book(), ON)


def _each(of: str) -> Iterator[Any]:
    for show, told in SHOWS.items():
        for one in told.get(of, []):
            what = one.get("fact") or one["rule"]
            yield pytest.param(show, one, id=f"{show}: {one['of']}: {what}")


@pytest.mark.parametrize(("show", "told"), [*_each("figures")])
def test_a_figure_of_a_show_is_that_of_the_calculation_beside_it(show: str, told: Mapping[str, str]) -> None:
    rig, facts = laid(show)
    thing = next(one for one in rig.things() if one.path == told["of"])
    found = facts.value(thing, told["fact"])
    assert isinstance(found, Bounds), facts.answer(thing, told["fact"])
    dimension = thing.kind.facts[told["fact"]].dimension or RATIO
    assert found.low == pytest.approx(_figure(told["from"], dimension), rel=2e-3, abs=1e-6)
    if "to" in told:
        assert found.high == pytest.approx(_figure(told["to"], dimension), rel=2e-3, abs=1e-6)


def _figure(text: str, dimension: Dimension) -> float:
    if dimension == RATIO:
        return float(text)
    found = read_quantity(text, dimension)
    assert isinstance(found, Bounds)
    return found.low


@pytest.mark.parametrize(("show", "told"), [*_each("outcomes")])
def test_an_outcome_of_a_show(show: str, told: Mapping[str, Any]) -> None:
    found = next(
        one for one in audited(show).outcomes if one.rule == told["rule"] and one.thing.path == told["of"]
    )
    assert found.result.value == told["comes"], found.message
    says = told.get("says", [])
    for words in [says] if isinstance(says, str) else says:
        assert words in found.message
    if "asks" in told:
        assert told["asks"] in {f"{one.thing.path}: {one.fact}" for one in found.missing}
