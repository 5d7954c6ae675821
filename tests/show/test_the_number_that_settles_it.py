"""The number that would settle a finding, and where else a piece would hang: only on request.

The numbers for a double-purchase set of 580 lb posted and an arbor of 110 lb with 1,350 lb on its plate were
worked out by hand: the pipe and its ends weigh 140.6 lb, so the plate takes 1,350 = 2 (140.6 + W) - 110, W =
589 lb; the most of 28 and 14 lb bricks under it are 1,344 lb, so W = 586 lb.
"""

from pathlib import Path

import pytest
from tests.show.small_show import BORDER, RULES, SHIP, audited, house, plot
from tests.show.test_item_by_item import LIGHT_SHIP, called, on

from plumbtrue.audit.elsewhere import elsewhere
from plumbtrue.audit.item_verdicts import item_verdicts
from plumbtrue.audit.trials import Trials
from plumbtrue.audit.what_settles import Numbers, numbers_for

POUND = 4.4482216152605
"""Newtons in a pound, NIST SP 811."""


def settled(folder: Path, *items: str, house_text: str = "") -> dict[str, int]:
    """The greatest weight that each rule would take, in pounds, of the ship."""
    audit = audited(folder, plot(*items), house_text)
    (ship,) = [one for one in item_verdicts(audit) if one.key == "21"]
    return {one.outcome.rule: round(one.most / POUND) for one in numbers_for(Trials(audit), ship).weights}


def test_the_greatest_weight_that_each_limit_takes(tmp_path: Path) -> None:
    assert settled(tmp_path, SHIP) == {"set-takes-the-load": 580, "arbor-takes-the-weights": 589}


def weighing(weight: str) -> str:
    """The ship at another weight, its four pulls not written."""
    return SHIP.replace("612 lb +/- 2 lb", weight).replace(", weight: 153 lb", "")


def test_one_pound_more_is_too_much_and_that_pound_less_is_not(tmp_path: Path) -> None:
    assert "set-takes-the-load" not in settled(tmp_path, weighing("579.9..580 lb"))
    assert settled(tmp_path, weighing("580..581 lb")) == {"set-takes-the-load": 580}


def test_what_else_hangs_there_counts(tmp_path: Path) -> None:
    """A border of 75 lb, weighed to 2 % (common practice), leaves 503 of 580."""
    both = settled(tmp_path, SHIP, BORDER.replace("on: 3,", "on: 26,"))
    assert both["set-takes-the-load"] == 503


def test_what_weight_does_not_settle_is_not_said(tmp_path: Path) -> None:
    """What a plate that cannot be read takes is no matter of the piece's weight."""
    assert settled(tmp_path, on(LIGHT_SHIP, "6")) == {}


def test_a_weight_nobody_wrote_is_asked_for_with_its_limit(tmp_path: Path) -> None:
    blank = SHIP.replace("weight: 612 lb +/- 2 lb, ", "").replace(", weight: 153 lb", "")
    result = called(tmp_path, "check", "--advice", "--width", "120", plot_text=plot(blank))
    assert "weigh it; up to 580 lb this is met, above that it is not" in " ".join(result.stdout.split())


def test_it_is_read_aloud_as_the_crew_needs_it(tmp_path: Path) -> None:
    result = called(tmp_path, "check", "--advice", "--width", "120", plot_text=plot(SHIP, BORDER))
    told = " ".join(result.stdout.split())
    assert "In whole bricks (1344 lb fit): 612 lb is 26 lb too much; 586 lb fits." in told
    assert "With 34 lb off, 578 lb, all of these are met, its weight being known to 2 lb." in told


def test_what_is_told_to_fit_does_fit(tmp_path: Path) -> None:
    """578 lb, good to 2 lb, is met by every rule; nothing of the number is taken on trust."""
    assert settled(tmp_path, weighing("578 lb +/- 2 lb")) == {}


def test_without_the_option_nothing_is_tried(tmp_path: Path) -> None:
    result = called(tmp_path, "check", plot_text=plot(SHIP))
    assert "too much" not in result.stdout


def test_a_house_in_metres_is_told_kilograms(tmp_path: Path) -> None:
    metric = house().replace("  batten_zero: stage-right\n", "  batten_zero: stage-right\n  units: si\n")
    result = called(tmp_path, "check", "--advice", "--width", "120", plot_text=plot(SHIP), house_text=metric)
    assert "263 kg fits" in " ".join(result.stdout.split())  # 580 lb are 263.08 kg (NIST SP 811)


def tried(
    folder: Path, *items: str, house_text: str = ""
) -> tuple[tuple[str, ...], dict[str, tuple[str, ...]]]:
    """Where else the ship would hang, and what speaks against the other free sets."""
    audit = audited(folder, plot(*items), house_text)
    (ship,) = [one for one in item_verdicts(audit) if one.key == "21"]
    found = elsewhere(Trials(audit), ship)
    assert found is not None
    return found.clear, dict(found.against)


def test_a_stopped_piece_is_offered_the_sets_that_take_it(tmp_path: Path) -> None:
    clear, against = tried(tmp_path, on(LIGHT_SHIP, "4"))
    assert clear == ("3", "26")
    assert against == {"6": ("arbor-takes-the-weights",)}


def test_a_set_that_is_taken_is_not_offered(tmp_path: Path) -> None:
    clear, _ = tried(tmp_path, on(LIGHT_SHIP, "4"), BORDER)
    assert clear == ("26",)


def test_a_set_beside_a_deep_neighbour_is_not_offered(tmp_path: Path) -> None:
    """Sets stand 2 ft apart: between a piece of 20 in and the ship's 2 in are 2 in, less than the 4 asked for."""
    deep = (
        BORDER.replace("on: 3,", "on: 4,")
        .replace("half_depth: 2 in", "half_depth: 20 in")
        .replace("moves: no", "moves: flies")
    )
    _, against = tried(tmp_path, on(LIGHT_SHIP, "6"), deep)
    assert "gap-to-neighbour" in against["3"]


def test_what_holds_anywhere_speaks_against_no_set(tmp_path: Path) -> None:
    drawn = on(LIGHT_SHIP, "4").replace("weight_basis: weighed", "weight_basis: drawn")
    clear, _ = tried(tmp_path, drawn)
    assert clear == ("3", "26")


def test_a_set_offered_takes_the_piece(tmp_path: Path) -> None:
    clear, _ = tried(tmp_path, on(LIGHT_SHIP, "4"))
    audit = audited(tmp_path, plot(on(LIGHT_SHIP, clear[0])))
    assert audit.show is not None
    assert audit.show.items["21"].findings == 0


@pytest.mark.parametrize("people", ["people: rides", "people: unknown"])
def test_of_a_piece_with_people_nothing_is_worked_out(tmp_path: Path, people: str) -> None:
    audit = audited(tmp_path, plot(SHIP.replace("people: none", people)))
    (ship,) = item_verdicts(audit)
    trials = Trials(audit)
    assert (numbers_for(trials, ship), elsewhere(trials, ship)) == (Numbers(), None)


def test_trying_leaves_the_plot_as_it_was(tmp_path: Path) -> None:
    audit = audited(tmp_path, plot(SHIP, BORDER))
    plot_before = [(one.path, dict(one.facts), dict(one.references)) for one in audit.rig.things()]
    (ship,) = [one for one in item_verdicts(audit) if one.key == "21"]
    numbers_for(Trials(audit), ship)
    elsewhere(Trials(audit), ship)
    assert [(one.path, dict(one.facts), dict(one.references)) for one in audit.rig.things()] == plot_before


SECOND_LINE = """
    - rule: one-pick-has-a-second-line
      title: A piece on one pick has a second line
      about: item
      when: total_weight > 25 lb
      require: second_lines is not none
      severity: out-of-service
      finding: "It has no second line."
      remedy: Fit one.
      source: common-practice
"""


def test_a_rule_that_looks_at_no_light_piece_names_no_weight(tmp_path: Path) -> None:
    """A lantern of 260 lb on one pick was told that 25 lb fits; what it lacks is a second line."""
    bare = LIGHT_SHIP.replace("people: none,", "people: none, second_lines: none,")
    audit = audited(tmp_path, plot(bare), rules=RULES + SECOND_LINE)
    (ship,) = item_verdicts(audit)
    assert [one.rule for one in ship.stopped_by] == ["one-pick-has-a-second-line"]
    assert numbers_for(Trials(audit), ship).weights == ()
    found = elsewhere(Trials(audit), ship)
    assert found is not None
    assert found.clear == ()
    assert dict(found.against)["3"] == ("one-pick-has-a-second-line",)


POINT_LOAD = """
    - rule: pick-is-within-what-is-posted
      title: No pick is over what the house has posted
      about: load
      require: pull <= 150 lb
      severity: before-next-use
      finding: "A pick pulls {pull} on set {item.set}."
      remedy: Spread it.
      source: common-practice
"""


def test_a_load_that_is_too_much_on_every_set_is_never_left_aside(tmp_path: Path) -> None:
    """A pick of 160 lb is over the posted 150 here and there: that is no reason to offer the other set."""
    heavy = LIGHT_SHIP.replace("both 4'-0\", both 12'-0\"", "both 4'-0\", SL 12'-0\"").replace(
        "130 lb", "160 lb"
    )
    audit = audited(
        tmp_path, plot(heavy.replace("520 lb +/- 2 lb", "480 lb +/- 0.1 lb")), rules=RULES + POINT_LOAD
    )
    (ship,) = item_verdicts(audit)
    found = elsewhere(Trials(audit), ship)
    assert found is not None
    assert "pick-is-within-what-is-posted" in dict(found.against)["3"]
    assert found.everywhere == ()


def _of_out_trim(slug: str, require: str, severity: str) -> str:
    return f"""
    - rule: {slug}
      title: A piece goes out as far as the house says
      about: item
      require: {require}
      severity: {severity}
      finding: "It goes out to {{out_trim}}."
      remedy: Set it again.
      source: common-practice
"""


def test_what_then_speaks_against_one_number_for_all_is_told_by_the_mildest_of_them(tmp_path: Path) -> None:
    """At 55 ft both are met that 56 ft is too high for, and one is found that is as grave as the milder of them."""
    rules = (
        RULES
        + _of_out_trim("below-the-bridge", "out_trim <= 55 ft", "out-of-service")
        + _of_out_trim("below-the-duct", "out_trim <= 55.5 ft", "before-next-use")
        + _of_out_trim("above-the-header", "out_trim >= 55.25 ft", "before-next-use")
    )
    audit = audited(tmp_path, plot(LIGHT_SHIP), rules=rules)
    (ship,) = [one for one in item_verdicts(audit) if one.key == "21"]
    (for_all,) = numbers_for(Trials(audit), ship).for_all
    assert (round(for_all.number / 0.0254), for_all.then) == (55 * 12, ("above-the-header",))
