"""A head of flys loads in from the paper alone: bricks, order, balance at each step, trims, pulls.

Figures of the ship are those that were worked out by hand beside the program: 520 lb on a double-purchase set
ask for 2 (140.6 + 520) - 110 = 1,211 lb, of which six 28 lb bricks balance the bare pipe (168 against 171.2).
"""

import re
from pathlib import Path

import numpy as np
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


@pytest.mark.parametrize("form", ["markdown", "html"])
def test_the_sheet_of_all_sets_has_each_number_under_its_own_size(form: str, tmp_path: Path) -> None:
    """37 of the heavy size and one of the light one, in whatever order the house and the alphabet have them."""
    text = papers(tmp_path, LIGHT_SHIP, form=form)
    if form == "markdown":
        lines = rows(text)
    else:
        sheet = text[text.index('id="sheet-title"') :]
        cells = (re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", line) for line in sheet.splitlines())
        lines = [[re.sub("<[^>]*>", "", cell) for cell in line] for line in cells if line]
    head, ship, total = (next(one for one in lines if one[0] == key) for key in ("set", "26", "all"))
    heavy, light = head.index("load brick-28"), head.index("load brick-14")
    assert (ship[heavy].split()[0], ship[light].split()[0]) == ("37", "1")
    assert (total[heavy], total[light]) == ("37", "1")


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
    assert "default-src 'none'" in page
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


def three_moments(
    length: float, spread: float, at_ends: float, points: list[list[tuple[float, float]]]
) -> list[float]:
    """Reactions [lb] of a beam on five supports by the theorem of three moments (Clapeyron; any handbook of strength of
    materials): M1 L + 4 M2 L + M3 L = - sum of 6 A a / L of both spans.

    Args:
        length: of each of the four spans [ft].
        spread: load over all spans [lb/ft].
        at_ends: moment at both outer supports [ft-lb], negative for what hangs beyond them.
        points: weight [lb] and distance from its left support [ft] of each load, span by span.
    """
    left = [sum(p * a * (length**2 - a**2) / length for p, a in its) for its in points]
    right = [
        sum(p * (length - a) * (length**2 - (length - a) ** 2) / length for p, a in its) for its in points
    ]
    matrix = np.array([[4.0, 1.0, 0.0], [1.0, 4.0, 1.0], [0.0, 1.0, 4.0]]) * length
    sides = [-(spread * length**3 / 2 + left[k] + right[k + 1]) for k in range(3)]
    sides[0] -= at_ends * length
    sides[2] -= at_ends * length
    moments = [at_ends, *np.linalg.solve(matrix, sides), at_ends]
    reactions = [0.0] * 5
    for k, its in enumerate(points):
        tilt = (moments[k + 1] - moments[k]) / length
        reactions[k] += spread * length / 2 + sum(p * (length - a) / length for p, a in its) + tilt
        reactions[k + 1] += spread * length / 2 + sum(p * a / length for p, a in its) - tilt
    return reactions


PIPE = 2.72
"""1-1/2 schedule 40 [lb/ft], ASME B36.10M."""
END = 2.0
"""Lower end of a line [lb], as the invented house has it."""


def test_the_tin_shop_fronts_by_hand() -> None:
    """Set 9, single purchase. 48 ft of pipe and five ends weigh 140.6 lb; with 420 lb of flats and 60 lb of arbor that
    asks for 500.6 lb: 18 bricks of 28 lb are 504, arbor heavy by 3.4. The bare pipe asks for 80.6: three are 84.
    """
    paper = part(of_demo().stdout, "Set 9:")
    assert "**Load 15 brick-28.** Counterweight needed: 501 lb" in paper
    assert ["brick-28", "3", "15", "18"] in rows(paper)
    assert "With all bricks in: arbor heavy by 3.4 lb" in paper
    planned = rows(paper[paper.index("Order of the plot") : paper.index("Load-out")])[1:]
    assert [middle(row[2].removeprefix("pipe heavy by ")) for row in planned[:1]] == pytest.approx(
        [416.6], abs=1
    )
    out = [row[2] for row in rows(paper[paper.index("Load-out") : paper.index("Trims")])[1:]]
    assert out == [
        "arbor heavy by 3.4 lb",
        "pipe heavy by 137 lb",
        "pipe heavy by 417 lb",
        "arbor heavy by 3.4 lb",
    ]
    # Six picks of 70 lb at 3, 9 and 15 ft either side of the centre line; lines every 10'-6", 3 ft beyond them.
    outer, inner = [(70.0, 6.0)], [(70.0, 1.5), (70.0, 7.5)]
    mirrored = [[(p, 10.5 - a) for p, a in its] for its in (inner, outer)]
    by_hand = three_moments(10.5, PIPE, -PIPE * 3 * 1.5, [outer, inner, *mirrored])
    by_hand = [one + END + (PIPE * 3 if k in (0, 4) else 0.0) for k, one in enumerate(by_hand)]
    assert by_hand == pytest.approx([40, 167, 146, 167, 40], abs=0.6)
    assert pulls_on(paper) == pytest.approx(by_hand, abs=0.6)
    assert ["07, tin-shop fronts, three flats", "in", "21'-1\"", "1 in", "17'-1\""] in rows(paper)
    assert "cue Q07" not in paper  # The cue runs between the two trims that are there already.


def test_the_observatory_relief_by_hand() -> None:
    """Set 21, double purchase: 2 (140.6 + 340) - 110 = 851.2 lb; 30 of 28 and one of 14 are 854. Its bare pipe asks for
    171.2, and six are 168: pipe heavy by 3.2 at the hand line. The piece adds 680 there, ten bricks take 280.
    """
    paper = part(of_demo().stdout, "Set 21:")
    assert "**Load 24 brick-28 and 1 brick-14.** Counterweight needed: 851 lb" in paper
    out = [middle(row[2]) for row in rows(paper[paper.index("Load-out") : paper.index("Trims")])[1:]]
    assert out == pytest.approx([2.8, 11.2, 123.2, 403.2, 683.2, 3.2], abs=0.5)
    inner = [(170.0, 5.5)]
    by_hand = three_moments(10.5, PIPE, -PIPE * 3 * 1.5, [[], inner, [(170.0, 5.0)], []])
    by_hand = [one + END + (PIPE * 3 if k in (0, 4) else 0.0) for k, one in enumerate(by_hand)]
    assert by_hand == pytest.approx([14, 103, 246, 103, 14], abs=0.6)
    assert pulls_on(paper) == pytest.approx(by_hand, abs=0.8)
    assert "the stack stands from 50'-6\" up to" in paper
    assert "Floors of the loading bridges: lower 47'-0\" and upper 54'-0\"." in paper


def test_the_sky_cloth_by_hand() -> None:
    """Set 29: 114 lb over 46 ft, 2 ft of it beyond the outer line at each end. Nobody read the mark of its chain, and
    whether that holds decides whether the set may fly at all: it gets trims and pulls, and no bricks.
    """
    paper = part(of_demo().stdout, "Set 29:")
    assert "Whether it must not fly cannot be told, so no bricks are told" in paper
    assert "brick-" not in paper
    cloth = 114.0 / 46.0
    by_hand = three_moments(10.5, PIPE + cloth, -PIPE * 3 * 1.5 - cloth * 2 * 1, [[], [], [], []])
    beyond = PIPE * 3 + cloth * 2
    by_hand = [one + END + (beyond if k in (0, 4) else 0.0) for k, one in enumerate(by_hand)]
    assert by_hand == pytest.approx([39, 62, 54, 62, 39], abs=0.6)
    assert pulls_on(paper) == pytest.approx(by_hand, abs=0.8)
    assert "not known; 494 lb at best" in paper
    assert "Load nothing on it until what is asked here is answered" in paper


def pulls_on(paper: str) -> list[float]:
    return [middle(row[2]) for row in rows(paper[paper.index("Pulls of the lines") :])[1:]]


def test_all_sets_stand_on_one_sheet() -> None:
    """What the crew pins to the wall: 25 sets from downstage to upstage, and what goes up to the bridges in all."""
    text = of_demo().stdout
    sheet = rows(part(text, "## All sets on one sheet"))[1:]
    assert [row[0] for row in sheet] == [
        *(
            str(n)
            for n in (1, 2, 3, 4, 5, 7, 9, 10, 11, 12, 14, 16, 17, 18, 19, 20, 21, 23, 24, 25, 26, 27, 28, 29)
        ),
        "H1",
        "all",
    ]
    by_set = {row[0]: row for row in sheet}
    assert by_set["26"] == [
        *("26", "21, ship profile", "▲ hangs with changes", "468 to 572 lb"),
        *("37 (43 in all)", "1 (1 in all)", "arbor heavy by 6.8 lb", "in 15'-1\", out 52'-0\""),
    ]
    assert by_set["14"][3:] == ["", "", "", "", ""]
    loaded = [sum(int(row[place].split()[0]) for row in sheet[:-1] if row[place]) for place in (4, 5)]
    assert by_set["all"][4:6] == [str(one) for one in loaded]
    assert "Where brick-28 runs out, 2 of brick-14 stand in for one." in text
    assert "Load-in 2026-04-14 08:00." in text


def test_the_moon_with_a_captain_in_it_gets_no_figure() -> None:
    """Revision B: no bricks and no trims for it, on its own paper or on the sheet of all sets."""
    command = ["papers", str(DEMO / "house.yaml"), "--plot", str(DEMO / "tour-b.yaml"), "--on", "2026-04-13"]
    text = CliRunner().invoke(main, [*command, "--no-plugins"]).stdout
    moon = part(text, "Set 27:")
    assert "turn to a specialist" in moon
    assert not NUMBER_WITH_UNIT.search(moon)
    [on_sheet] = [row for row in rows(part(text, "## All sets on one sheet")) if row[0] == "27"]
    assert on_sheet[3:] == ["", "", "", "", ""]
