"""Facts that name other things: a brick, a beam, a rail, a line of the same set."""

import pytest
from tests.rig.conftest import ReadRig, Refused

from plumbtrue.documents.nodes import Mapping
from plumbtrue.documents.reading import read_text
from plumbtrue.rig.reading import read_one_thing
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary_loading import load_vocabulary

HOUSE = """\
plumbtrue: rig/1
house:
  name: Tarn Hollow
  beams: [{key: loft 2, what: loft-beam}]
  bricks: [{key: brick-28, weight: 28 lb, formerly: [two-inch]}]
"""


def named(thing: Thing, fact: str) -> Thing | tuple[Thing, ...]:
    return thing.references[fact]


def find(rig: ReadRig, text: str, kind: str) -> Thing:
    (found,) = (thing for thing in rig(HOUSE + text).house.below() if thing.kind.name == kind)
    return found


def test_a_block_stands_on_its_beam(rig: ReadRig) -> None:
    block = find(rig, "line_sets: [{number: 14, head_block: {on_beam: loft 2}}]", "head_block")
    beam = named(block, "on_beam")
    assert isinstance(beam, Thing)
    assert beam.path == "beam loft 2"


def test_lines_are_named_by_their_marks_within_their_own_set(rig: ReadRig) -> None:
    attachment = find(
        rig,
        "line_sets:\n  - {number: 13, lift_lines: {at: {1: CL, 2: CL}}}\n"
        "  - {number: 14, lift_lines: {at: {1: CL, 2: CL}}, arbor: {attachments: [{lines: [1, 2]}]}}\n",
        "arbor_attachment",
    )
    lines = named(attachment, "lines")
    assert isinstance(lines, tuple)
    assert [line.path for line in lines] == ["14 / line 1", "14 / line 2"]


def test_a_thing_may_be_named_by_its_former_key(rig: ReadRig) -> None:
    weights = find(rig, "line_sets: [{number: 14, arbor: {weights: {two-inch: 6}}}]", "weights")
    brick = named(weights, "brick")
    assert isinstance(brick, Thing)
    assert brick.key == "brick-28"


def test_one_thing_by_itself_names_what_is_written_in_it_and_no_more() -> None:
    """As in an example of a rule: the lines are there, the bricks of the house are not."""
    node = read_text(
        "lift_lines: {at: {1: CL, 2: CL}}\narbor: {weights: {steel: 6}, attachments: [{lines: [1, 2]}]}\n",
        "example.yaml",
    )
    assert isinstance(node, Mapping)
    line_set, problems = read_one_thing("line-set", node, load_vocabulary())
    (attachment,) = (one for one in line_set.below() if one.kind.name == "arbor_attachment")
    (weights,) = (one for one in line_set.below() if one.kind.name == "weights")
    lines = attachment.references["lines"]
    assert isinstance(lines, tuple)
    assert len(lines) == 2
    assert weights.references == {}
    assert not any(one.slug == "reference-unknown" for one in problems)


def test_a_name_that_is_not_known_names_nothing(rig: ReadRig) -> None:
    block = find(rig, "line_sets: [{number: 14, head_block: {on_beam: unknown}}]", "head_block")
    assert "on_beam" not in block.references


@pytest.mark.parametrize(
    ("written", "instead"),
    [
        ("head_block: {on_beam: ⟦reference-unknown|loft 3⟧}", "did you mean loft 2?"),
        ("arbor: {weights: {⟦reference-unknown|lead⟧: 6}}", "write one of brick-28"),
        ("rail: ⟦reference-unknown|gallery⟧", "write it down in house: as rails: [{key: gallery"),
        (
            "arbor: {attachments: [{lines: [⟦reference-unknown|7⟧]}]}, lift_lines: {at: {1: CL}}",
            "write one of 1",
        ),
    ],
)
def test_a_name_that_nothing_has_is_told(refused_as_marked: Refused, written: str, instead: str) -> None:
    (problem,) = refused_as_marked(f"{HOUSE}line_sets: [{{number: 14, {written}}}]\n")
    assert instead in problem.instead
