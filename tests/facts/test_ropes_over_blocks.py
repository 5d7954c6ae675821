"""Whether a rope ever runs over a block: by the blocks of its line, and by what the line is there for."""

import pytest
from tests.facts.rigs_in_text import Ask

from plumbtrue.quantities.values import UNKNOWN, Choice

PATH = "14 / line 1 / rope"


@pytest.mark.parametrize(
    ("line", "runs"),
    [
        pytest.param("blocks: [loft-block]", "yes", id="its own loft block"),
        pytest.param("role: dead-hang", "no", id="a fixed line has no block"),
        pytest.param("role: dead-hang, blocks: [loft-block]", "yes", id="a block that is written counts"),
    ],
)
def test_a_line_says_whether_its_rope_runs(one_set: Ask, line: str, runs: str) -> None:
    rig = one_set(f"lift_lines: [{{mark: '1', {line}, rope: {{family: wire}}}}]")
    assert rig.answer(PATH, "runs_over_block").value == Choice(frozenset({runs}))


def test_a_line_that_nobody_could_place_leaves_it_open(one_set: Ask) -> None:
    """Somebody wrote `role: unknown` under a head block, and the question stopped the program."""
    rig = one_set("head_block: {grooves: 5}\nlift_lines: [{mark: '1', role: unknown, rope: {family: wire}}]")
    assert rig.answer(PATH, "runs_over_block").value == UNKNOWN
    assert rig.missing(PATH, "runs_over_block") == {"14 / line 1: role", "14 / line 1: blocks"}
