"""A set that an inspector found in order gives no finding on its ropes, ends and hardware, and hardly a question."""

from pathlib import Path

from tests.practice.judged_in_text import judged, slugs_of

FILES = (
    "ropes.yaml",
    "rope-records.yaml",
    "lift-lines.yaml",
    "ends-of-ropes.yaml",
    "sleeves.yaml",
    "clips.yaml",
    "load-path.yaml",
    "chain.yaml",
    "shackles-and-connectors.yaml",
    "turnbuckles.yaml",
    "bolts-and-clamps.yaml",
    "battens.yaml",
)

SOUND = (Path(__file__).parent / "sound-set.yaml").read_text(encoding="utf-8")


def test_nothing_is_found_and_nothing_left_open() -> None:
    outcomes = judged(SOUND, slugs_of(*FILES))
    assert {key: one for key, one in outcomes.items() if one not in ("met", "not-applicable")} == {}


def test_where_the_size_when_new_was_kept_the_trend_asks_for_a_reading() -> None:
    """A statement that the rope is in order gives no figure to compare with the first measurement."""
    kept = SOUND.replace("installed: 2016-07", "installed: 2016-07, diameter_as_new: 0.254 in")
    outcomes = judged(kept, slugs_of(*FILES))
    still_open = {slug for (slug, _), one in outcomes.items() if one not in ("met", "not-applicable")}
    assert still_open == {"rope-diameter-loss-watch"}
    measured = kept.replace("0.254 in", "0.254 in, diameter_measured: 0.250 in")
    assert "undetermined" not in judged(measured, ["rope-diameter-loss-watch"]).values()


def test_without_a_statement_nothing_of_its_condition_is_taken_for_granted() -> None:
    outcomes = judged(SOUND.replace(", in_order: yes, tested: yes", ""), slugs_of(*FILES))
    assert outcomes["rope-kink", "14 / line 1 / rope"] == "undetermined"
    assert outcomes["sleeve-gauge-fail", "14 / line 3 / lower / swage-sleeve"] == "undetermined"
    assert "finding" not in outcomes.values()
