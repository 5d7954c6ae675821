"""A head of flys loads in from the paper alone: bricks, order, balance at each step, trims, pulls.

Figures of the ship are those that were worked out by hand beside the program: 520 lb on a double-purchase set
ask for 2 (140.6 + 520) - 110 = 1,211 lb, of which six 28 lb bricks balance the bare pipe (168 against 171.2).
"""

import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from tests.show.small_show import BORDER, SHIP, house, plot, write_show
from tests.show.test_item_by_item import LIGHT_SHIP, called, on

from plumbtrue.cli.main import main

DEMO = Path(__file__).parents[2] / "fixtures" / "demo"
NUMBER_WITH_UNIT = re.compile(r"\d[\d.,'\" /]*(lb|in\b|ft|kN|\"|')")


def papers(folder: Path, *items: str, form: str = "markdown", house_text: str = "", more: str = "") -> str:
    result = called(
        folder, "papers", "--format", form, plot_text=plot(*items, more=more), house_text=house_text
    )
    assert result.exit_code in (0, 1, 3), result.output
    return result.stdout


def part(text: str, head: str) -> str:
    """The paper of one set."""
    start = text.index(head)
    end = text.find("\n## ", start + 3)
    return text[start : end if end >= 0 else len(text)]


def rows(text: str) -> list[list[str]]:
    return [
        [cell.strip() for cell in line.strip("|").split("|")]
        for line in text.splitlines()
        if line.startswith("| ")
    ]


def middle(text: str) -> float:
    """Of a printed range."""
    ends = [float(one) for one in re.findall(r"[\d.]+", text)]
    return sum(ends) / len(ends)


def test_bricks_are_told_by_size(tmp_path: Path) -> None:
    ship = part(papers(tmp_path, LIGHT_SHIP), "## ○ Set 26")
    assert "**Load 37 brick-28 and 1 brick-14.** Counterweight needed: 1211 lb" in ship
    assert ["brick-28", "6", "37", "43"] in rows(ship)
    assert ["brick-14", "0", "1", "1"] in rows(ship)


def test_the_order_says_how_the_set_stands_after_each_step(tmp_path: Path) -> None:
    """520 lb on the pipe are 1,040 at the hand line of a double purchase; ten bricks are 280 less."""
    ship = part(papers(tmp_path, LIGHT_SHIP), "## ○ Set 26")
    load_in = rows(ship[ship.index("Load-in") : ship.index("Load-out")])[1:]
    assert [row[1] for row in load_in] == [
        "pipe at its low trim, lock on; 6 brick-28 in the arbor",
        "hang item 21 on the pipe",
        "load 10 brick-28 (16 of them in the arbor)",
        "load 10 brick-28 (26 of them in the arbor)",
        "load 10 brick-28 (36 of them in the arbor)",
        "load 7 brick-28 (43 of them in the arbor)",
        "load 1 brick-14 (1 of them in the arbor)",
    ]
    assert [row[2] for row in load_in] == [
        *("pipe heavy by 3.2 lb", "pipe heavy by 1043 lb", "pipe heavy by 763 lb", "pipe heavy by 483 lb"),
        *("pipe heavy by 203 lb", "pipe heavy by 7.2 lb", "arbor heavy by 6.8 lb"),
    ]


def test_load_out_takes_the_bricks_first(tmp_path: Path) -> None:
    ship = part(papers(tmp_path, LIGHT_SHIP), "## ○ Set 26")
    load_out = [row[1] for row in rows(ship[ship.index("Load-out") : ship.index("Trims")])[1:]]
    assert load_out[0] == "pipe at its low trim, lock on; 43 brick-28 and 1 brick-14 in the arbor"
    assert load_out[1] == "take out 1 brick-14 (0 of them left in the arbor)"
    assert load_out[-1] == "take item 21 off the pipe"
    assert "Never the piece first: the arbor would be heavy by up to 1047 lb" in ship


def test_two_pieces_on_a_set_each_come_with_their_bricks(tmp_path: Path) -> None:
    both = part(
        papers(tmp_path, on(LIGHT_SHIP, "3").replace("520 lb", "280 lb").replace("130", "70"), BORDER),
        "## ○ Set 3",
    )
    steps = [row[1] for row in rows(both[both.index("Load-in") : both.index("Load-out")])[1:]]
    hangs = [number for number, step in enumerate(steps) if step.startswith("hang")]
    assert len(hangs) == 2
    assert steps[hangs[0] + 1].startswith("load")
    assert hangs[1] > hangs[0] + 1


def test_trims_are_told_at_the_pipe_and_at_the_hand_line(tmp_path: Path) -> None:
    """The piece is 14 ft high and hung 1 ft down: in at 1 in, the pipe is at 15'-1", 11'-1" above its low trim;
    the hand line of a double purchase moves half of that.
    """
    ship = part(papers(tmp_path, LIGHT_SHIP), "## ○ Set 26")
    assert ["21, ship profile", "in", "15'-1\"", "1 in", "5'-6 1/2\""] in rows(ship)
    assert ["21, ship profile", "out", "56'-0\"", "41'-0\"", "26'-0\""] in rows(ship)


def test_pulls_are_told_line_by_line(tmp_path: Path) -> None:
    """28, 202, 200, 202, 28 lb: a general continuous-beam library, with 2 lb of lower end on each."""
    ship = part(papers(tmp_path, LIGHT_SHIP), "## ○ Set 26")
    pulls = [middle(row[2]) for row in rows(ship[ship.index("Pulls of the lines") :])[1:]]
    assert pulls == pytest.approx([28, 202, 200, 202, 28], abs=0.6)


def test_a_set_that_must_not_fly_gets_no_paper(tmp_path: Path) -> None:
    text = papers(tmp_path, SHIP, BORDER)
    assert text.index("## Do not hang") < text.index("## ■ Set 26") < text.index("## ○ Set 3")
    stopped = part(text, "## ■ Set 26")
    assert "**No paper.** It must not fly" in stopped
    assert "brick-28" not in stopped
    assert "Load-in" not in stopped
    assert "610 to 614 lb hangs on it, and 580 lb is posted." in stopped


@pytest.mark.parametrize("form", ["markdown", "html"])
@pytest.mark.parametrize("people", ["people: rides, ", ""], ids=["somebody", "nobody says"])
def test_with_somebody_on_it_there_is_never_a_number(tmp_path: Path, people: str, form: str) -> None:
    text = papers(tmp_path, LIGHT_SHIP.replace("people: none, ", people), form=form)
    start = text.index('id="set-26"' if form == "html" else " Set 26")
    own = text[start : text.index("</article>" if form == "html" else "## Behind", start)]
    assert "No paper" in own
    assert "no figure is given" in own.lower()
    shown = re.sub(r"<[^>]*>", " ", own[own.index(">") + 1 :] if form == "html" else own)
    assert not NUMBER_WITH_UNIT.search(shown)


def test_a_step_that_lifts_somebody_takes_the_paper_away(tmp_path: Path) -> None:
    steps = "steps: [{key: ship on, set: 26, order: 1, batten_change: 520 lb, carries_people: yes}]\n"
    ship = part(papers(tmp_path, LIGHT_SHIP, more=steps), "Set 26")
    assert "Step ship on: Somebody" in ship
    assert "brick-28" not in ship


def test_the_order_of_the_plot_is_followed_and_its_bricks_are_held_against_ours(tmp_path: Path) -> None:
    steps = """\
steps:
  - {key: ship on, order: 1, set: 26, batten_change: 520 lb, loader: crew, caller: head of flys, carries_people: no}
  - {key: bricks on, order: 2, after: [ship on], set: 26, arbor_change: {brick-28: 30}, carries_people: no}
"""
    ship = part(papers(tmp_path, LIGHT_SHIP, more=steps), "## ○ Set 26")
    planned = rows(ship[ship.index("Order of the plot") : ship.index("Load-out")])[1:]
    assert planned[0][1:] == [
        "ship on: 520 lb on the pipe",
        "pipe heavy by 1040 lb",
        "loads: crew, calls: head of flys",
    ]
    assert planned[1][1] == "bricks on: load 30 brick-28"
    assert "It loads 30 brick-28, and nearest to the balance are 37 brick-28 and 1 brick-14" in ship


def test_bricks_that_cannot_be_told_say_what_is_missing(tmp_path: Path) -> None:
    unweighed = house(bricks="bricks: [{key: brick-28, thickness: 2 in, stock: 372}]")
    ship = part(
        papers(tmp_path, LIGHT_SHIP, house_text=unweighed.replace("brick-28: 3", "brick-28: 6")), "Set 26"
    )
    assert (
        "The bricks cannot be told: weight of the brick 28" in ship
        or "The bricks cannot be told: weight of" in ship
    )
    assert "**Load" not in ship


def test_a_doubtful_weight_shows_what_it_does_to_the_bricks(tmp_path: Path) -> None:
    """520 lb, 10 % either way, asks for 1,107 to 1,315 lb."""
    ship = part(papers(tmp_path, LIGHT_SHIP.replace("520 lb +/- 2 lb", "520 lb +/- 10 %")), "Set 26")
    assert "Counterweight needed: 1211 lb (1107 to 1315 lb over the doubt about the weights)" in ship


def test_the_status_is_that_of_a_check(tmp_path: Path) -> None:
    assert called(tmp_path, "papers", plot_text=plot(SHIP)).exit_code == 1
    assert called(tmp_path, "papers", plot_text=plot(on(LIGHT_SHIP, "6"))).exit_code in (1, 3)


def test_a_what_if_is_printed_and_not_kept(tmp_path: Path) -> None:
    at, shown = write_show(tmp_path, plot(SHIP))
    before = shown.read_bytes()
    command = [
        "papers",
        str(at),
        "--plot",
        str(shown),
        "--pack",
        str(tmp_path / "trade"),
        "--on",
        "2026-04-13",
    ]
    result = CliRunner().invoke(main, [*command, "--no-plugins", "--set", 'item "ship".weight=520 lb'])
    assert "**Load 37 brick-28 and 1 brick-14.**" in result.stdout
    head = " ".join(result.stdout.partition("## ")[0].split())
    assert 'What if item "ship".weight=520 lb: asked on the command line, not on record.' in head
    page = CliRunner().invoke(
        main, [*command, "--no-plugins", "--format", "html", "--set", "6.posted_total=1 lb"]
    )
    assert "What if 6.posted_total=1 lb: asked on the command line" in page.stdout
    assert shown.read_bytes() == before


def test_it_never_says_that_anything_is_safe(tmp_path: Path) -> None:
    for form in ("markdown", "html"):
        text = papers(tmp_path, LIGHT_SHIP, BORDER, form=form)
        said = re.sub(r"does not say that anything is safe", "", text)
        assert not re.search(r"\bsafe\b", said.split("</style>")[-1])


def test_the_page_needs_no_network(tmp_path: Path) -> None:
    page = papers(tmp_path, LIGHT_SHIP, form="html")
    assert "default-src &#39;none&#39;" in page
    assert not re.search(r'(src|href)="https?:', page)


def of_demo(*arguments: str) -> Result:
    command = ["papers", str(DEMO / "house.yaml"), "--plot", str(DEMO / "tour-a.yaml"), "--on", "2026-04-13"]
    return CliRunner().invoke(main, [*command, "--no-plugins", *arguments])


def test_the_invented_tour_is_loaded_as_its_table_says() -> None:
    """Bricks of revision A, worked out by hand beside the program."""
    result = of_demo()
    assert result.stdout, result.stderr
    text = result.stdout
    in_all = {
        head: sum(
            int(row[3]) * int(row[0].removeprefix("brick-"))
            for row in rows(part(text, f"Set {head}"))
            if row[0] in ("brick-28", "brick-14") and row[3].isdigit()
        )
        for head in ("1,", "2,", "3:", "5,", "17", "21", "24", "26")
    }
    assert in_all == {
        "1,": 21 * 28,
        "2,": 5 * 28 + 14,
        "3:": 14 * 28,
        "5,": 30 * 28,
        "17": 9 * 28 + 14,
        "21": 30 * 28 + 14,
        "24": 44 * 28 + 14,
        "26": 43 * 28 + 14,
    }
    assert "**No paper.**" in part(text, "## ■ Set 14")
    assert "**No paper.**" in part(text, "## ■ Set H1")
