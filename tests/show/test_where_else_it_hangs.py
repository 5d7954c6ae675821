"""Where else a piece would hang: each set that is offered is laid again through the command line, with nothing but
what the report says to type; and what it says of sets that it does not offer is so.
"""

import json
from pathlib import Path
from typing import Any

import pytest
from tests.show.small_show import BORDER, RULES, SHIP, audited, house, plot
from tests.show.test_item_by_item import LIGHT_SHIP, called, on

from plumbtrue.audit.elsewhere import Elsewhere, elsewhere
from plumbtrue.audit.item_verdicts import ItemState, item_verdicts
from plumbtrue.audit.trials import Trials
from plumbtrue.reporting.advising import places

GRAVE = ("out of service", "before the next use", "cannot be told")


def whole(folder: Path, plot_text: str, *asked: str, advice: bool = False) -> Any:
    """The JSON of a check of one house."""
    options = [word for text in asked for word in ("--set", text)] + ["--advice"] * advice
    result = called(folder, "check", *options, "--format", "json", plot_text=plot_text)
    return json.loads(result.stdout)["houses"][0]


def report(folder: Path, plot_text: str, *asked: str, advice: bool = False) -> Any:
    """What it says of the show."""
    return whole(folder, plot_text, *asked, advice=advice)["show"]


def reasons(show: Any) -> dict[str, set[str]]:
    """Rules that ask for something, piece by piece."""
    return {
        item["key"]: {one["rule"] for one in item["reasons"] if one["by_when"] in GRAVE}
        for item in show["items"]
    }


def offers(show: Any, key: str) -> list[Any]:
    """The sets on which a piece was tried."""
    (item,) = [one for one in show["items"] if one["key"] == key]
    return list(item["advised"]["elsewhere"])


DEEP = (
    BORDER.replace("on: 3,", "on: 4,")
    .replace("half_depth: 2 in", "half_depth: 20 in")
    .replace("moves: no", "moves: flies")
)
LATER = BORDER.replace('key: "02", name: border', 'key: "03", name: other border')
SHOWS = {
    "on a pitted rope": [on(LIGHT_SHIP, "4")],
    "beside a border": [on(LIGHT_SHIP, "4"), BORDER],
    "beside a deep border": [on(LIGHT_SHIP, "6"), DEEP],
    "too heavy": [SHIP],
    "with two borders": [on(LIGHT_SHIP, "4"), BORDER, LATER.replace("on: 3,", "on: 26,")],
}


@pytest.mark.parametrize("which", list(SHOWS))
def test_each_set_that_is_offered_takes_it(which: str, tmp_path: Path) -> None:
    """On a set that is clear nothing is left of the piece, and no other piece is told more than before; with an
    exchange likewise.
    """
    text = plot(*SHOWS[which])
    show = report(tmp_path, text, advice=True)
    before = reasons(show)
    for one in offers(show, "21"):
        if one["comes_to"] == "against" or one["first"]:
            continue
        again = reasons(report(tmp_path, text, *one["set"]))
        assert again["21"] == set(), one
        assert all(again[key] <= before[key] for key in before if key != "21"), one


@pytest.mark.parametrize("which", list(SHOWS))
def test_each_set_that_is_not_offered_has_what_is_told_against_it(which: str, tmp_path: Path) -> None:
    text = plot(*SHOWS[which])
    against = [
        one for one in offers(report(tmp_path, text, advice=True), "21") if one["comes_to"] == "against"
    ]
    for one in against:
        asking = {its["rule"] for its in whole(tmp_path, text, *one["set"])["outcomes"] if its["counts"]}
        assert set(one["against"]) <= asking, one


SURFACE_RUST = """
    - rule: rope-is-clean
      title: Rope in use has no rust
      about: rope
      require: corrosion is not surface
      severity: before-next-use
      finding: "The rope has rust on it."
      remedy: Clean it.
      source: common-practice
"""


def test_of_a_set_that_the_house_holds_back_it_is_said_what_comes_first(tmp_path: Path) -> None:
    """Set 4 has rust to be cleaned off before its next use; the piece would hang there once that is done."""
    rusty = house().replace("corrosion: pitted", "corrosion: surface")
    found = tried(tmp_path, on(LIGHT_SHIP, "6"), house_text=rusty, rules=RULES + SURFACE_RUST)
    (held_back,) = [one for one in found.offers if one.key == "4"]
    assert (held_back.fits, held_back.is_clear, held_back.first) == (True, False, ("rope-is-clean",))
    assert "4" not in found.clear
    told = " ".join(places(found, "us"))
    assert "Only with changes on set 4 (4'-0\" downstage): once its work is done (rope-is-clean)" in told


def test_sets_that_are_out_of_service_are_named_and_not_tried(tmp_path: Path) -> None:
    not_tried = dict(tried(tmp_path, on(LIGHT_SHIP, "6")).not_tried)
    assert not_tried["4"] == "is out of service (rope-corrosion-pitted)"
    assert not_tried["5"].startswith("is out of service (tagged out")


def tried(folder: Path, *items: str, house_text: str = "", rules: str = RULES) -> Elsewhere:
    audit = audited(folder, plot(*items), house_text, rules=rules)
    (ship,) = [one for one in item_verdicts(audit) if one.key == "21"]
    found = elsewhere(Trials(audit), ship)
    assert found is not None
    return found


def test_the_nearest_set_comes_first(tmp_path: Path) -> None:
    """Sets 3, 4, 5, 6 and 26 stand at 10, 12, 14, 16 and 18 ft from the plaster line."""
    found = tried(tmp_path, on(LIGHT_SHIP, "4"))
    away = [(one.key, round((one.away or 0) / 0.3048, 6)) for one in found.offers]
    assert away == [("3", -2.0), ("6", 4.0), ("26", 6.0)]


def test_an_exchange_is_offered_where_both_hang(tmp_path: Path) -> None:
    """Sets 3 and 26 are alike: either takes the ship, and the other the border."""
    ship, border = on(LIGHT_SHIP, "3"), BORDER.replace("on: 3,", "on: 26,")
    found = tried(tmp_path, ship, border)
    (exchange,) = [one for one in found.offers if one.exchanged]
    assert (exchange.key, exchange.exchanged, exchange.fits, exchange.is_clear) == (
        "26",
        ("02",),
        True,
        False,
    )
    assert exchange.asked == ('item "21".on=26', 'item "02".on=3')


CLEAR_OF_WORK = """
    - rule: set-clear-of-work
      title: A set with work to do before its next use has it done first
      about: item
      when: set is not none
      require: set.work_before_use is no
      severity: before-next-use
      finding: "Its set has work to do."
      remedy: Do the work.
      source: common-practice
"""


def test_an_exchange_with_a_set_that_is_held_back_is_looked_at_to_the_end(tmp_path: Path) -> None:
    """Set 26 has rust to be cleaned off, which a rule of the show tells of every piece on it; but its arbor carries
    600 lb besides, and the ship wants more on a double-purchase set.
    """
    others, number, last = house().partition("number: 26")
    last = last.replace("capacity: 1350 lb", "capacity: 600 lb").replace(
        "rope: {", "rope: {corrosion: surface, "
    )
    ship, border = on(LIGHT_SHIP, "3"), BORDER.replace("on: 3,", "on: 26,")
    found = tried(
        tmp_path, ship, border, house_text=others + number + last, rules=RULES + SURFACE_RUST + CLEAR_OF_WORK
    )
    (exchange,) = [one for one in found.offers if one.exchanged]
    assert exchange.first == ("rope-is-clean",)
    assert exchange.stops == ("arbor-takes-the-weights",)


def test_a_piece_with_somebody_on_it_makes_room_for_no_other(tmp_path: Path) -> None:
    rider = BORDER.replace("people: none", "people: rides")
    found = tried(tmp_path, on(LIGHT_SHIP, "4"), rider)
    assert "somebody is on" in dict(found.not_tried)["3"]
    assert "3" not in {one.key for one in found.offers}


def test_every_other_set_is_told_once(tmp_path: Path) -> None:
    for items in SHOWS.values():
        found = tried(tmp_path, *items)
        (ship,) = [one for one in items if "21" in one]
        here = ship.partition("on: ")[2].partition(",")[0]
        told = [*(one.key for one in found.offers), *(key for key, _ in found.not_tried)]
        assert sorted(told) == sorted({"3", "4", "5", "6", "26"} - {here})


@pytest.mark.parametrize("form", ["terminal", "markdown", "html"])
def test_every_report_says_what_was_tried(form: str, tmp_path: Path) -> None:
    options = ["check", "--advice", "--format", form, "--width", "200"]
    told = called(tmp_path, *options, plot_text=plot(on(LIGHT_SHIP, "4"), BORDER)).stdout
    told = " ".join(told.replace("\\", "").replace("&#39;", "'").replace("&#34;", '"').split())
    assert "Tried: 2 free sets (6 and 26)" in told
    assert "26 (6'-0\" upstage)" in told
    assert "--set 'item \"21\".on=26'" in told
    assert "5 (out of service)" in told


def test_of_a_piece_that_hangs_as_asked_nothing_is_tried(tmp_path: Path) -> None:
    (item,) = report(tmp_path, plot(LIGHT_SHIP), advice=True)["items"]
    assert item["state"] == ItemState.AS_ASKED.value
    assert item["advised"]["elsewhere"] == []
