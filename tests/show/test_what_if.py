"""What if: a fact is tried for once, and the record stays as it is."""

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner
from tests.show.laid_shows import HOUSE, INCH, ON, POUND, Laid, demo_house, demo_plot, laid
from tests.show.small_show import SHIP
from tests.show.small_show import house as small_house
from tests.show.small_show import plot as small_plot

from plumbtrue.cli.main import main
from plumbtrue.documents.place import CannotRead
from plumbtrue.documents.rendering import render_problems
from plumbtrue.facts.store import Facts
from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot_text
from plumbtrue.rig.vocabulary_loading import load_vocabulary
from plumbtrue.rig.what_if import with_asked


def trial(*texts: str) -> Laid:
    house, plot = with_asked(demo_house(), demo_plot("a"), texts)
    assert plot is not None
    over = lay(house, plot)
    return Laid(over, Facts(over, ON))


@pytest.mark.parametrize(
    "text",
    [
        'item "ship".weight=580 lb',
        'item "21".weight = 580 lb',
        'item "ship profile".weight=580 lb',
        "item 21.weight=580 lb",
        "plot / item 21.weight=580 lb",
    ],
)
def test_a_heavier_ship(text: str) -> None:
    """580 lb is what is posted; drawn, it may be 638."""
    tried = trial(text)
    assert tried.middle("26", "live_load", POUND) == pytest.approx(580)
    assert tried.figure("26", "live_load", POUND).high == pytest.approx(638)
    recorded = tried.thing("plot / item 21").facts["weight"]
    assert (recorded.origin, recorded.note) == ("asked", "asked on the command line")
    assert recorded.place.file == "--set"
    assert demo_plot("a").plot.parts["items"][20].facts["weight"].text == "520 lb"  # type: ignore[index]


def test_a_lighter_ship_weighs_what_is_asked() -> None:
    assert trial('item "ship".weight=480 lb').middle("26", "live_load", POUND) == pytest.approx(480)


@pytest.mark.parametrize("path", ["21 / line 3.rope", "set 21/line 3/rope", "Set 21 / line 3 / rope"])
def test_a_fact_of_the_house(path: str) -> None:
    house, _ = with_asked(demo_house(), None, [f"{path}.diameter=3/16 in"])
    tried = Laid(house, Facts(house, ON))
    assert tried.figure("21 / line 3 / rope", "diameter", INCH).low == pytest.approx(3 / 16)
    before = Laid(demo_house(), Facts(demo_house(), ON))
    assert before.figure("21 / line 3 / rope", "diameter", INCH).low == pytest.approx(1 / 4)


@pytest.mark.parametrize(
    ("text", "path", "fact"),
    [
        ('hoist "H-1".chain_length=40 ft', "plot / hoist H-1", "chain_length"),
        ("Hoist “H-1”.chain_length=40 ft", "plot / hoist H-1", "chain_length"),
        ("hoist H-1.chain_length=40 ft", "plot / hoist H-1", "chain_length"),
        ('item "05" / unit 2.weight=20 lb', "plot / item 05 / unit.2", "weight"),
        ("plot / item 05 / unit.2.weight=20 lb", "plot / item 05 / unit.2", "weight"),
        ('item "21" / load 1.weight=150 lb', "plot / item 21 / load", "weight"),
        ('item "21".loads.weight=150 lb', "plot / item 21 / load", "weight"),
        ("plot / bridle B1 / bridle-leg.2.rise=42 in", "plot / bridle B1 / bridle-leg.2", "rise"),
        ('bridle "B1" / bridle-leg 2.rise=42 in', "plot / bridle B1 / bridle-leg.2", "rise"),
        ("26.low_trim=5 ft", "26", "low_trim"),
        ('truss "lantern truss".trim=34 ft', "plot / lantern truss", "trim"),
        ('cue "Q13".time=unknown', "plot / cue Q13", "time"),
        ('item "21".in_trim=none', "plot / item 21", "in_trim"),
        ("item paper moon.weight=90 lb", "plot / item 22", "weight"),
    ],
)
def test_the_ways_to_name_a_thing(text: str, path: str, fact: str) -> None:
    house, plot = with_asked(demo_house(), demo_plot("b"), [text])
    assert plot is not None
    asked = [
        (thing.path, name)
        for thing in lay(house, plot).things()
        for name, recorded in thing.facts.items()
        if recorded.origin == "asked"
    ]
    assert asked == [(path, fact)]


def _in_readme() -> list[list[str]]:
    text = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    (block,) = re.findall(r"<!-- asked -->\n *```text\n(.*?)```", text, re.DOTALL)
    return [
        [word for word in shlex.split(line) if word != "--set"] for line in block.splitlines() if line.strip()
    ]


def _in_help() -> list[list[str]]:
    told = CliRunner().invoke(main, ["check", "--help"]).stdout
    example = re.compile(r"^ {4,8}(?!-)(\S.*?\.\w+=.*?)(   .*)?$")
    return [[found[1]] for line in told.splitlines() if (found := example.match(line))]


def test_every_example_that_is_printed_works() -> None:
    """What README and the help show can be typed as it stands."""
    shown, helped = _in_readme(), _in_help()
    assert len(shown) >= 9
    assert len(helped) >= 7
    for texts in [*shown, *helped]:
        house, plot = with_asked(demo_house(), demo_plot("b"), texts)
        assert plot is not None
        asked = [
            recorded
            for thing in lay(house, plot).things()
            for recorded in thing.facts.values()
            if recorded.origin == "asked"
        ]
        assert len(asked) == len(texts)


@pytest.mark.parametrize("name", ["14/2. cloth", "a = b", "the captain's moon", 'a "small" flat', "1.5"])
def test_a_name_with_signs_in_it(name: str, tmp_path: Path) -> None:
    quote = "'" if '"' in name else '"'
    key = name.replace("'", "''")
    text = SHIP.replace("name: ship profile", f"name: '{key}'")
    plot = read_plot_text(small_plot(text), "plot.yaml", load_vocabulary())
    _, tried = with_asked(demo_house(), plot, [f"item {quote}{name}{quote}.weight=580 lb"])
    assert tried is not None
    assert tried.plot.parts["items"][0].facts["weight"].text == "580 lb"  # type: ignore[index]


def test_a_piece_on_another_set_and_its_steps_with_it() -> None:
    texts = ['item "21".on=4', "plot / step ship on.set=4", 'step "ship bricks".set=4']
    house, plot = with_asked(demo_house(), demo_plot("b"), texts)
    assert plot is not None
    laid = {thing.path: thing for thing in lay(house, plot).things()}
    named = [laid["plot / item 21"].references["on"]]
    named += [laid[f"plot / {step}"].references["set"] for step in ("step ship on", "step ship bricks")]
    assert named == [laid["4"]] * 3


def test_a_set_that_the_house_does_not_have() -> None:
    house, plot = with_asked(demo_house(), demo_plot("b"), ["plot / step ship on.set=99"])
    assert plot is not None
    with pytest.raises(CannotRead, match="no line set 99"):
        lay(house, plot)


def test_what_is_asked_says_the_same_as_what_is_written() -> None:
    """A trial and the plot with that figure in it come to the same, outcome by outcome."""
    text = (HOUSE.parent / "tour-a.yaml").read_text(encoding="utf-8")
    before = "weight: 520 lb\n"
    assert text.count(before) == 1
    written = read_plot_text(text.replace(before, "weight: 540 lb\n"), "tour-a.yaml", load_vocabulary())
    tried = trial('item "21".weight=540 lb')
    other = laid(demo_house(), written)
    for fact in ("total_weight", "weight_allowance"):
        assert tried.figure("plot / item 21", fact) == other.figure("plot / item 21", fact)
    assert tried.figure("26", "live_load").high == pytest.approx(other.figure("26", "live_load").high)


def test_the_same_value_changes_nothing() -> None:
    recorded = demo_plot("a").plot.parts["items"][20].facts["weight"].text  # type: ignore[index]
    tried = trial(f'item "21".weight={recorded}')
    as_it_is = laid(demo_house(), demo_plot("a"))
    assert tried.figure("26", "live_load") == as_it_is.figure("26", "live_load")


def test_a_lighter_piece_still_agrees_with_its_pulls() -> None:
    """Its pulls share what it is asked to weigh: nobody is told that they add up to another weight."""
    tried = trial('item "21".weight=100 lb')
    assert tried.middle("plot / item 21", "pulls_total", POUND) == pytest.approx(100)


def test_one_fact_is_asked_once() -> None:
    with pytest.raises(CannotRead) as refused:
        with_asked(demo_house(), demo_plot("a"), ['item "21".weight=580 lb', 'item "ship".weight=590 lb'])
    (problem,) = refused.value.problems
    assert problem.slug == "asked-twice"
    assert problem.where.line == 2


def test_a_piece_without_a_plot() -> None:
    with pytest.raises(CannotRead) as refused:
        with_asked(demo_house(), None, ['item "21".weight=580 lb'])
    assert "--plot" in refused.value.problems[0].instead


def test_of_several_houses_the_one_without_that_set_is_told(tmp_path: Path) -> None:
    """One house has no set 21: it is not checked, the other is, and neither ends in a traceback."""
    small = tmp_path / "small.yaml"
    small.write_text(small_house(), encoding="utf-8")
    command = ["check", str(HOUSE), str(small), "--on", ON.isoformat(), "--no-plugins", "--format", "short"]
    result = CliRunner().invoke(main, [*command, "--set", "21.low_trim=5 ft"])
    assert result.exit_code == 2
    assert result.exception is None or isinstance(result.exception, SystemExit)
    assert "no 21 in this house" in result.stderr
    assert "Tarn Hollow" in result.stdout


def test_nothing_asked_is_the_house_itself() -> None:
    assert with_asked(demo_house(), None, []) == (demo_house(), None)


@pytest.mark.parametrize(
    ("text", "slug", "what", "instead"),
    [
        ('item "ship".weight=580', "unit-missing", "needs a unit", "580 lb or 580 kg"),
        ('item "shop".weight=580 lb', "asked-thing", "no item called shop", "did you mean tin-shop fronts"),
        ('item "kite".weight=580 lb', "asked-thing", "no item called kite", "there are 01"),
        ('item "legs".weight=580 lb', "asked-thing", "legs could be", "key"),
        ('itm "ship".weight=580 lb', "asked-thing", "no kind of thing called itm", "did you mean item?"),
        ('item "ship".wieght=580 lb', "asked-fact", "wieght", "did you mean weight?"),
        ('item "ship".total_weight=580 lb', "asked-fact", "total_weight", ""),
        ("21 / line 9.rope.diameter=1/4 in", "asked-thing", "no 21 / line 9", "did you mean"),
        ("21 / line 3.rop.diameter=1/4 in", "asked-thing", "no single rop", "did you mean rope?"),
        ('item "21".loads[2].weight=3 lb', "asked-thing", "no single loads[2]", "there are load"),
        ('item "21" / load 7.weight=3 lb', "asked-thing", "no item 21 / load 7", "load"),
        ('item "21".WEIGHT=580 lb', "asked-fact", "WEIGHT", "did you mean weight?"),
        ('item "21".mass=580 lb', "asked-fact", "mass", "weight_basis"),
        ('item "21".loads=none', "asked-fact", "facts of their own", "item 21 / load"),
        ('item "21".total_weight=1 lb', "asked-fact", "worked out", "weight_basis"),
        ('item "21".weight=12 ft', "dimension-wrong", "is a length", "450 lb"),
        ('item "21".weight=580 stones', "unit-unknown", "stones", "lb"),
        ('cue "Q13".operators=two', "figure-unreadable", "two", "write"),
        ('item "21".weight=none', "none-not-allowed", "cannot be none", "unknown"),
        ('item "21".people=some', "word-not-permitted", "some", ""),
        ('item "".weight=580 lb', "asked-form", "names no item", "a thing"),
        ('item "21".=580 lb', "asked-form", "names no fact", "a thing"),
        (".weight=580 lb", "asked-form", "names no thing", "a thing"),
        ("=580 lb", "asked-form", "asks for nothing", "a thing"),
        ('item "21".weight=', "asked-form", "asks for nothing", "a thing"),
        ("kite.weight=580 lb", "asked-thing", "no kite", "the sets 1 to"),
        ("ship.weight=580 lb", "asked-thing", "no ship in this house", 'write item "ship profile"'),
        ("21.weight=580 lb", "asked-fact", "weight of 21", 'write item "21"'),
        ("weight", "asked-form", "asks for nothing", "item"),
    ],
)
def test_a_mistake_is_told_in_the_words_of_the_trade(text: str, slug: str, what: str, instead: str) -> None:
    with pytest.raises(CannotRead) as refused:
        trial(text)
    (problem,) = refused.value.problems
    assert problem.slug == slug
    assert what in problem.what
    assert instead in problem.instead
    assert text in render_problems(refused.value)


@pytest.mark.parametrize("form", ["terminal", "markdown", "json", "html"])
def test_a_report_says_that_it_tries_something(form: str) -> None:
    """Nobody may take a trial for the record: what is asked stands on top, before any finding."""
    command = ["check", str(HOUSE), "--on", ON.isoformat(), "--no-plugins", "--format", form]
    tried = CliRunner().invoke(
        main, [*command, "--set", "3.posted_total=100 lb", "--set", "house.batten_zero=stage-left"]
    )
    told = " ".join(tried.stdout.replace("\\", "").split())
    for text in ("3.posted_total=100 lb", "house.batten_zero=stage-left"):
        assert f"What if {text}: asked on the command line, not on record." in told
    assert "What if" not in CliRunner().invoke(main, command).stdout
