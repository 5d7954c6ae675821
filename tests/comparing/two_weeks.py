"""The small invented house in two revisions, with an invented show in it, for reports of a comparison."""

from pathlib import Path

from tests.reporting.small_house import HOUSE, ON, write_house

from plumbtrue.audit.comparing import Comparison
from plumbtrue.audit.comparing_files import Asked, compare_files

EDITS = (
    ('length: 30\'-0"}', 'length: 32\'-0"}\n        note: "two feet longer since Tuesday"'),
    ("lower: [thimble, {part: trim-chain, like: good, grade: 30}]", "lower: [thimble, {part: trim-chain, like: good}]"),
    ("rope: {like: rope}\n", "rope: {like: rope, corrosion: pitted}\n"),
    ("      - number: 3\n        tagged_out: 2025-06-03\n", "      - number: 3A\n        formerly: [3]\n"),
    ("grade: 43}", "grade: unknown}"),
    ("posted_total: 400 lb", "posted_total: 350 lb"),
)  # fmt: skip

SHOW = """\
plumbtrue: plot/1
house_file: house.yaml
plot:
  show: An invented show
  revision: A
  items:
    - key: "1"
      name: border
      on: 1
      people: none
      weight: 75 lb
      weight_basis: weighed
      loads: [{from: SR 12'-0", to: SL 12'-0", weight: 75 lb}]
    - {key: "2", name: lantern, on: 2, people: none, weight: 60 lb, loads: [{at: CL, weight: 60 lb}]}
    - {key: "3", name: banner, on: 4, people: none, weight: 20 lb}
"""

SHOW_EDITS = (
    ("revision: A", "revision: B"),
    ("weight: 75 lb\n", "weight: 90 lb\n"),
    ("weight: 75 lb}", "weight: 90 lb}"),
    ("name: lantern, on: 2", "name: lantern, on: 1"),
    ('    - {key: "3", name: banner, on: 4, people: none, weight: 20 lb}\n',
     '    - {key: "4", name: moon, on: 3A, people: rides, weight: 85 lb}\n'),
)  # fmt: skip


def _edited(text: str, edits: tuple[tuple[str, str], ...]) -> str:
    for before, after in edits:
        assert before in text, before
        text = text.replace(before, after)
    return text


def write_both(folder: Path) -> Asked:
    """Both revisions as files in a folder."""
    write_house(folder / "monday")
    write_house(folder / "friday", house=_edited(HOUSE, EDITS))
    (folder / "monday" / "show.yaml").write_text(SHOW, encoding="utf-8")
    (folder / "friday" / "show.yaml").write_text(_edited(SHOW, SHOW_EDITS), encoding="utf-8")
    return Asked("monday/show.yaml", "friday/show.yaml")


def compared(folder: Path) -> Comparison:
    """The comparison of both, without plugins of others."""
    return compare_files(write_both(folder), on=ON, here=folder, third_party=False)
