"""A plot is laid over a house: pieces find their sets, sets their pieces, and the house stays as it was."""

import pytest
from tests.show.laid_shows import DEMO, ON, demo, demo_house, demo_plot, one_set

from plumbtrue.documents.place import CannotRead
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.values import NONE, UNKNOWN
from plumbtrue.rig.finding_things import thing_at, things_of
from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot_text
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary_loading import load_vocabulary


def test_things_of_the_plot_have_lasting_paths() -> None:
    rig = demo("a").rig
    item = thing_at(rig, "plot / item 05")
    assert item is not None
    assert item.path == "plot / item 05"
    assert item.enclosing("house") is rig.house
    assert len(things_of(rig, "item")) == 26


def test_a_set_knows_its_pieces_and_a_piece_its_set() -> None:
    show = demo("a")
    line_set = show.thing("26")
    items = show.facts.part(line_set, "items")
    assert isinstance(items, tuple)
    assert [item.path for item in items] == ["plot / item 21"]
    assert show.facts.part(items[0], "set") is line_set
    assert show.facts.part(show.thing("6"), "items") == ()
    assert show.facts.part(show.thing("plot / item 25"), "set") is NONE


def test_the_house_is_the_same_for_whoever_looks_at_it_alone() -> None:
    house = demo_house()
    before = [(thing.path, dict(thing.facts), set(thing.parts)) for thing in house.house.below()]
    over = lay(house, demo_plot("a"))
    assert [(thing.path, dict(thing.facts), set(thing.parts)) for thing in house.house.below()] == before
    assert over.house is house.house
    assert house.plot is None
    assert Facts(house, ON).part(house.house, "plot") is NONE
    assert thing_at(house, "plot / item 05") is None


def test_one_plot_may_be_laid_over_two_houses() -> None:
    first, second = lay(demo_house(), demo_plot("a")), lay(demo_house(), demo_plot("a"))
    assert first.plot is not second.plot
    assert demo_plot("a").plot.parent is None


@pytest.mark.parametrize(
    ("items", "rest", "slug", "what", "instead"),
    [
        ('    - {key: "1", on: 15}\n', "", "laid-name-unknown", "plot / item 1 names 15", "14"),
        (
            '    - {key: "1", on: 14}\n',
            "  steps: [{key: on, set: 41}]\n",
            "laid-not-in-house",
            "the house has no line set 41",
            "14",
        ),
        (
            '    - {key: "1", on: 14}\n',
            "  steps: [{key: on, set: 14, arbor_change: {brick-82: 1}}]\n",
            "laid-not-in-house",
            "the house has no brick brick-82",
            "brick-28",
        ),
        (
            '    - {key: "1", on: 14, touches_by_design: ["2"]}\n',
            "",
            "laid-name-unknown",
            "plot / item 1 names 2",
            "1",
        ),
    ],
)
def test_a_name_that_the_house_does_not_have(
    items: str, rest: str, slug: str, what: str, instead: str
) -> None:
    with pytest.raises(CannotRead) as refused:
        one_set(items, rest=rest)
    (problem,) = refused.value.problems
    assert problem.slug == slug
    assert what in problem.what
    assert instead in problem.instead
    assert problem.where.file == "plot.yaml"
    assert refused.value.texts.keys() == {"house.yaml", "plot.yaml"}


def test_a_piece_of_which_nobody_says_where_it_hangs_may_be_on_any_set() -> None:
    show = one_set('    - {key: "1", on: 14, weight: 100 lb}\n    - {key: "2", weight: 50 lb}\n')
    line_set = show.thing("14")
    assert show.facts.is_unlisted(line_set, "items")
    assert show.figure("14", "live_load").high == float("inf")
    assert {(one.thing.path, one.fact) for one in show.answer("14", "live_load").missing} >= {
        ("plot / item 2", "on")
    }
    assert show.answer("14 / line 1", "reaction_hung").value is UNKNOWN


def test_a_piece_on_the_deck_is_on_no_set() -> None:
    show = one_set('    - {key: "1", on: deck, weight: 100 lb}\n')
    assert show.facts.part(show.thing("plot / item 1"), "set") is NONE
    assert not show.facts.is_unlisted(show.thing("14"), "items")


def test_two_pieces_side_by_side_are_a_pair_once() -> None:
    paths = [thing.path for thing in demo("a").rig.things() if thing.kind.name == "pair"]
    assert "plot / pair 20 and 21" in paths
    assert len(paths) == len(set(paths))
    for one in paths:
        first, second = one.removeprefix("plot / pair ").split(" and ")
        assert f"plot / pair {second} and {first}" not in paths


def test_a_drawn_set_finds_the_set_that_it_means() -> None:
    show = demo("a")
    drawn = show.thing("plot / drawn set 17")
    held = show.facts.part(drawn, "set")
    assert isinstance(held, Thing)
    assert held.path == "17"
    assert show.figure("plot / drawn set 17", "difference", 0.0254).low == pytest.approx(3.0)


def test_a_set_that_is_not_there_names_the_nearest_and_lists_all() -> None:
    """Somebody typed 92 for 29: by its letters 9 would be as near, and a rigger thinks in numbers."""
    text = (DEMO / "tour-a.yaml").read_text(encoding="utf-8")
    wrong = text.replace("name: sky cloth, like: cloth, on: 29", "name: sky cloth, like: cloth, on: 92")
    plot = read_plot_text(wrong, "plot.yaml", load_vocabulary())
    with pytest.raises(CannotRead) as refused:
        lay(demo_house(), plot)
    [problem] = refused.value.problems
    line = wrong.splitlines()[problem.where.line - 1]
    assert line[problem.where.column - 1 :].startswith("92")
    assert problem.instead.startswith("the nearest is 30; there are 1 to 30, H1, lantern truss, P1")


def test_a_plot_is_laid_over_a_house_that_lacks_its_sets_only_where_that_is_asked() -> None:
    text = (
        (DEMO / "tour-a.yaml")
        .read_text(encoding="utf-8")
        .replace("like: cloth, on: 29", "like: cloth, on: 92")
    )
    laid = lay(demo_house(), read_plot_text(text, "plot.yaml", load_vocabulary()), whatever_it_lacks=True)
    assert [thing.key for thing, _ in laid.not_in_house] == ["item 24"]
    misspelt = text.replace("hangs_on: B1", "hangs_on: B9")
    with pytest.raises(CannotRead):
        lay(demo_house(), read_plot_text(misspelt, "plot.yaml", load_vocabulary()), whatever_it_lacks=True)
