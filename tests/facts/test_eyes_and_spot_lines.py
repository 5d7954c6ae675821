"""Nobody knows what an eye without its thimble keeps, and an added line has a pull of its own."""

import pytest
from tests.facts.rigs_in_text import INCH, LB, SHACKLE, SLEEVE, THIMBLE, Ask, a_set

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


@pytest.mark.parametrize("role", ["spot", "dead-hang"])
def test_a_line_added_from_the_grid_runs_over_no_head_block(one_set: Ask, role: str) -> None:
    """A thick line fixed under the grid made a head block look too small for its rope."""
    thick = f"{{lines: [2], role: {role}, measured_tension: 150 lb, rope: {{diameter: 1/2 in}}}}"
    rig = one_set(a_set(except_=thick))
    ropes = rig.facts.part(rig.thing("14 / head block"), "ropes")
    assert isinstance(ropes, tuple)
    assert [rope.path for rope in ropes] == [f"14 / line {mark} / rope" for mark in (1, 3, 4, 5)]
    assert rig.figure("14 / head block", "ratio_to_rope") == pytest.approx(32)
    groove = rig.bounds("14 / head block", "groove_radius", INCH)
    assert groove == pytest.approx((0.512 / 4, 0.60 / 4)), "in order for the ropes that run in it"


@pytest.mark.parametrize(
    ("turn_back", "known"), [("166 mm", True), ("160 mm", False)], ids=["as the larger asks", "too short"]
)
def test_clips_on_a_metric_rope_are_made_to_the_next_larger_size(
    one_set: Ask, turn_back: str, known: bool
) -> None:
    """8 mm lies between 5/16 in and 3/8 in, which asks 6-1/2 in (165.1 mm): makers' figures, as in the table."""
    clips = (
        "{part: wire-rope-clips, count: 3, type: u-bolt, material: forged, size: 8 mm, spacing: 50 mm, "
        f"saddle_on: live, turn_back: {turn_back}, torque_after_load: 60 N m}}"
    )
    eye = f"[{clips}, {THIMBLE.replace('1/4 in', '8 mm')}, {SHACKLE}]"
    rig = one_set(a_set(except_=f"{{lines: [2], rope: {{diameter: 8 mm}}, upper: {eye}, lower: {eye}}}"))
    assert (rig.answer(f"{LINE} / upper / wire-rope-clips", "efficiency").value != UNKNOWN) is known
