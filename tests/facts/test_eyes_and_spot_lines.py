"""Nobody knows what an eye without its thimble keeps, and a spot line pulls what somebody measured."""

import pytest
from tests.facts.rigs_in_text import LB, SHACKLE, SLEEVE, THIMBLE, Ask, a_set

from plumbtrue.quantities.values import UNKNOWN

LINE = "14 / line 2"


@pytest.mark.parametrize(
    "path",
    [
        pytest.param(f"[{SLEEVE}, {SHACKLE}]", id="straight on its pin"),
        pytest.param(f"[{SLEEVE}, {THIMBLE.replace('1/4', '5/16')}, {SHACKLE}]", id="of another size"),
        pytest.param(
            f"[{SLEEVE}, {THIMBLE.replace('gauge', 'state: [opened], gauge')}, {SHACKLE}]", id="gaping"
        ),
        pytest.param(f"[{SLEEVE}, unknown]", id="what follows the sleeve lies under tape"),
    ],
)
def test_an_eye_without_a_thimble_that_fits_has_no_known_efficiency(one_set: Ask, path: str) -> None:
    """The tables are for eyes over thimbles (TM 5-3810-305-10 table 4)."""
    rig = one_set(a_set(except_=f"{{lines: [2], upper: {path}}}"))
    assert rig.answer(LINE, "least_efficiency").value == UNKNOWN
    assert rig.answer("14 / line 3", "least_efficiency").value != UNKNOWN


def test_a_spot_line_pulls_what_somebody_measured(one_set: Ask) -> None:
    spot = "{lines: [2], role: spot%s}"
    assert one_set(a_set(except_=spot % "")).missing(LINE, "reaction") == {f"{LINE}: measured_tension"}
    rig = one_set(a_set(except_=spot % ", measured_tension: 150 lb"))
    assert rig.figure(LINE, "reaction", LB) == pytest.approx(150)


def test_a_spot_line_comes_on_top_of_what_hangs_on_the_batten(one_set: Ask) -> None:
    """Whatever is posted for the batten hangs on the lines that hold it."""
    spot = "{{lines: [2], role: spot, measured_tension: {} lb}}"
    light, heavy = (one_set(a_set(except_=spot.format(pull))) for pull in (100, 150))
    block = "14 / head block"
    assert heavy.figure(block, "pull", LB) - light.figure(block, "pull", LB) == pytest.approx(50)
