"""What must hold of any two revisions: the same is the same however it is written, every edit is told once,
and the way back tells the opposite.
"""

import random
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from copy import deepcopy

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.comparing.any_edit import SHOW, AnyEdit, any_edits, laid
from tests.comparing.houses import (
    EDITS,
    HOUSE,
    VOCABULARY,
    Edit,
    Plain,
    as_told,
    edited,
    in_other_words,
    read,
    straight,
    text_of,
    told,
    turned,
)

from plumbtrue.audit.rig_changes import Deed
from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot_text, read_rig_text
from plumbtrue.rig.rig import Rig

HOUSE_READ = read(HOUSE)

LUCK = st.integers(0, 2**32).map(random.Random)
SOME_EDITS = st.lists(st.sampled_from(EDITS), unique_by=lambda one: one.name, min_size=1, max_size=8)


def test_a_house_compared_with_itself_gives_nothing() -> None:
    assert told(HOUSE_READ, HOUSE_READ) == ()
    assert told(HOUSE_READ, read(HOUSE)) == ()


@given(LUCK)
@settings(max_examples=60, deadline=None)
def test_the_same_in_other_words_gives_nothing(luck: random.Random) -> None:
    assert [as_told(one) for one in told(HOUSE_READ, read(in_other_words(HOUSE, luck)))] == []


def test_the_same_in_other_words_is_written_otherwise() -> None:
    """The law above would hold of a rewriting that rewrites nothing."""
    other = in_other_words(HOUSE, random.Random(1))
    assert other != HOUSE
    assert list(other) != list(HOUSE)
    written = str(other)
    assert "oz" in written
    assert " mm" in written
    assert written.count("swage-sleeve") > str(HOUSE).count("swage-sleeve")


@pytest.mark.parametrize("edit", EDITS, ids=repr)
def test_an_edit_by_itself_is_told_once_and_nothing_else_is(edit: Edit) -> None:
    assert [as_told(one) for one in told(HOUSE_READ, read(edited([edit])))] == [edit.told]


@given(SOME_EDITS, LUCK)
@settings(max_examples=120, deadline=None)
def test_each_of_several_edits_is_told_once_and_nothing_else_is(
    edits: Sequence[Edit], luck: random.Random
) -> None:
    new = read(in_other_words(edited(edits), luck))
    assert Counter(as_told(one) for one in told(HOUSE_READ, new)) == Counter(one.told for one in edits)


@given(SOME_EDITS)
@settings(max_examples=80, deadline=None)
def test_the_way_back_tells_the_opposite(edits: Sequence[Edit]) -> None:
    new = read(edited(edits))
    there, back = told(HOUSE_READ, new), told(new, HOUSE_READ)
    assert Counter(map(turned, there)) == Counter(map(straight, back))


@given(SOME_EDITS, SOME_EDITS)
@settings(max_examples=40, deadline=None)
def test_two_revisions_of_the_same_house_need_no_common_order(
    ours: Sequence[Edit], theirs: Sequence[Edit]
) -> None:
    """What both did is no difference; what one of them did is told once, from whichever side."""
    shared = {one.name for one in ours} & {one.name for one in theirs}
    found = told(read(edited(ours)), read(edited(theirs)))
    names = {one.told[2] for one in (*ours, *theirs) if one.name not in shared}
    assert {one.fact for one in found} == names
    assert len(found) == sum(one.name not in shared for one in (*ours, *theirs))


LAID = laid([])
SEVERAL = st.lists(
    st.sampled_from(any_edits()), unique_by=lambda one: (one.path, one.fact), min_size=1, max_size=6
)


def test_edits_of_any_fact_are_made_of_most_of_the_vocabulary() -> None:
    """The laws below would hold of no edit at all."""
    found = any_edits()
    assert len(found) > 250
    assert {one.path for one in found} >= {
        HOUSE["house"]["name"],
        "5 / batten",
        "5 / line 2 / rope",
        "plot / item 2",
        "plot / cue Q1",
    }


@pytest.mark.parametrize("edit", any_edits(), ids=repr)
def test_a_fact_of_the_vocabulary_written_otherwise_is_told_once_and_nothing_else_is(edit: AnyEdit) -> None:
    found = told(LAID, laid([edit]))
    assert [(one.thing.path, one.fact) for one in found] == [(edit.path, edit.fact)]
    assert found[0].deed in (Deed.CHANGED, Deed.MOVED, Deed.REMARKED)


@given(SEVERAL)
@settings(max_examples=60, deadline=None)
def test_each_of_several_facts_written_otherwise_is_told_once_there_and_back(edits: list[AnyEdit]) -> None:
    new = laid(edits)
    there, back = told(LAID, new), told(new, LAID)
    assert Counter((one.thing.path, one.fact) for one in there) == Counter(
        (one.path, one.fact) for one in edits
    )
    assert Counter(map(turned, there)) == Counter(map(straight, back))


SHOW_EDITS: dict[str, tuple[Callable[[Plain], object], tuple[str, str, str]]] = {
    "a piece more": (
        lambda plot: plot["items"].append({"key": "9", "name": "moon", "on": "3", "weight": "85 lb"}),
        ("added", "plot / item 9", ""),
    ),
    "a piece cut": (lambda plot: plot["items"].pop(2), ("removed", "plot / item 3", "")),
    "a pull more": (
        lambda plot: plot["items"][1]["loads"].append({"at": "SL 3 ft", "weight": "10 lb"}),
        ("added", "plot / item 2 / load.2", ""),
    ),
    "a pull less": (lambda plot: plot["items"][2]["loads"].pop(1), ("removed", "plot / item 3 / load.2", "")),
    "a cue more": (
        lambda plot: plot["cues"].append({"key": "Q2", "item": "1", "from": "9 ft", "to": "20 ft", "time": "9 s"}),
        ("added", "plot / cue Q2", ""),
    ),
    "another number": (lambda plot: plot["items"][0].update(key="12"), ("renamed", "plot / item 12", "")),
    "another set": (lambda plot: plot["items"][1].update(on="8"), ("moved", "plot / item 2", "on")),
    "a fixing exchanged": (
        lambda plot: plot["items"][1]["attachments"][0].update(type="chain"),
        ("changed", "plot / item 2 / attachment", "type"),
    ),
    "somebody looked": (
        lambda plot: plot["items"][1].update(seen={"by": "rigger", "on": "2026-03-30", "how": "by-hand"}),
        ("looked-at", "plot / item 2", ""),
    ),
}  # fmt: skip


def with_show(show: Plain) -> Rig:
    return lay(HOUSE_READ, read_plot_text(text_of(show), "show.yaml", VOCABULARY))


@pytest.mark.parametrize("name", SHOW_EDITS)
def test_an_edit_of_a_show_is_told_once_and_the_way_back_tells_the_opposite(name: str) -> None:
    do, expected = SHOW_EDITS[name]
    show = deepcopy(SHOW)
    do(show["plot"])
    new = with_show(show)
    there, back = told(LAID_HERE, new), told(new, LAID_HERE)
    assert [as_told(one) for one in there] == [expected]
    assert Counter(map(turned, there)) == Counter(map(straight, back))


LAID_HERE = with_show(SHOW)


@given(LUCK)
@settings(max_examples=60, deadline=None)
def test_the_same_show_in_other_words_gives_nothing(luck: random.Random) -> None:
    """Keys and pieces in another order, other units, the same spot from the pipe's end, and stretches turned round."""
    show = show_in_other_words(luck)
    assert [as_told(one) for one in told(LAID_HERE, with_show(show))] == []


def show_in_other_words(luck: random.Random) -> Plain:
    show = in_other_words({"typical": {}, **deepcopy(SHOW)}, luck)
    luck.shuffle(show["plot"]["items"])
    for item in show["plot"]["items"]:
        luck.shuffle(item["loads"])
        for stretch in (*item["loads"], *item.get("extent", [])):
            if "from" in stretch and luck.random() < 0.5:
                stretch["from"], stretch["to"] = stretch["to"], stretch["from"]
            if "at" in stretch and luck.random() < 0.5:
                # The pipes are 30 ft long, and places count from their stage-right ends.
                stretch["at"] = {"CL": "15 ft", "SR 6 ft": "9 ft", "SL 6 ft": "21 ft"}[stretch["at"]]
    return show


@given(LUCK, st.sampled_from(["block", "flow"]))
@settings(max_examples=40, deadline=None)
def test_the_same_text_laid_out_otherwise_gives_nothing(luck: random.Random, style: str) -> None:
    """Block or flow style, quotes or none, and remarks anywhere: the text differs, and the house does not."""
    text = laid_out(HOUSE, luck, in_blocks=style == "block")
    assert told(HOUSE_READ, read_rig_text(text, "house.yaml", VOCABULARY)) == ()


def laid_out(node: Plain, luck: random.Random, *, in_blocks: bool, depth: int = 0) -> str:
    """Plain data as text, each scalar quoted or bare by chance, with remarks between the lines of a block."""
    if isinstance(node, str):
        return f'"{node}"' if luck.random() < 0.3 and node not in ("none", "unknown") else bare(node)
    entries = node.items() if isinstance(node, Mapping) else ((None, one) for one in node)
    if not in_blocks or not node or depth > 4:
        opening, closing = "{}" if isinstance(node, Mapping) else "[]"
        inner = (
            f"{f'{key}: ' if key is not None else ''}{laid_out(one, luck, in_blocks=False)}"
            for key, one in entries
        )
        return f"{opening}{', '.join(inner)}{closing}"
    lines = []
    indent = "  " * depth
    for key, one in entries:
        if luck.random() < 0.2:
            lines.append(f"{indent}# a remark: {{of}} nobody")
        head = f"{key}:" if key is not None else "-"
        written = laid_out(one, luck, in_blocks=True, depth=depth + 1)
        lines.append(
            f"{indent}{head}\n{written}" if written.startswith("  ") else f"{indent}{head} {written}"
        )
    text = "\n".join(lines)
    return f"{text}\n" if depth == 0 else text


def bare(text: str) -> str:
    return text_of(text).strip()
