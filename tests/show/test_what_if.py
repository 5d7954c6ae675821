"""What if: a fact is tried for once, and the record stays as it is."""

import pytest
from click.testing import CliRunner
from tests.show.laid_shows import HOUSE, INCH, ON, POUND, Laid, demo_house, demo_plot

from plumbtrue.cli.main import main
from plumbtrue.documents.place import CannotRead
from plumbtrue.documents.rendering import render_problems
from plumbtrue.facts.store import Facts
from plumbtrue.rig.laying import lay
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
