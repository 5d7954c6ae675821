"""Plots laid over houses for these tests: the invented demo, and small ones written as a user would write them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import Final

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot, read_plot_text, read_rig, read_rig_text
from plumbtrue.rig.rig import Plot, Rig
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary_loading import load_vocabulary

DEMO: Final = Path(__file__).parents[2] / "fixtures" / "demo"
HOUSE: Final = DEMO / "house.yaml"
ON: Final = date(2026, 4, 13)
"""Day on which both revisions of the demo are checked."""

POUND: Final = 4.4482216152605
"""[N], exactly (NIST SP 811)."""
INCH: Final = 0.0254
FOOT: Final = 0.3048
KSI: Final = 6894757.293168361
TEN_FEET: Final = "10'-0\""


@dataclass(frozen=True)
class Laid:
    """A plot laid over a house, and what can be known of it."""

    rig: Rig
    facts: Facts

    @property
    def by_path(self) -> Mapping[str, Thing]:
        return {thing.path: thing for thing in self.rig.things()}

    def thing(self, path: str) -> Thing:
        return self.by_path[path]

    def answer(self, path: str, name: str) -> Answer:
        return self.facts.answer(self.thing(path), name)

    def figure(self, path: str, name: str, unit: float = 1.0) -> Bounds:
        """A figure in a unit."""
        value = self.answer(path, name).value
        assert isinstance(value, Bounds), f"{name} of {path} is {value}: {self.answer(path, name)}"
        return Bounds(value.low / unit, value.high / unit)

    def middle(self, path: str, name: str, unit: float = 1.0) -> float:
        """The middle of a figure: what it is at the weights as stated, while everything is a straight sum."""
        figure = self.figure(path, name, unit)
        return (figure.low + figure.high) / 2

    def set_of(self, item: str) -> str:
        """Path of the set that carries a piece of the plot."""
        held = self.facts.part(self.thing(f"plot / item {item}"), "set")
        assert isinstance(held, Thing)
        return held.path


@cache
def demo_house() -> Rig:
    return read_rig(HOUSE, load_vocabulary())


@cache
def demo_plot(revision: str) -> Plot:
    return read_plot(DEMO / f"tour-{revision}.yaml", load_vocabulary())


def laid(rig: Rig, plot: Plot) -> Laid:
    over = lay(rig, plot)
    return Laid(over, Facts(over, ON))


@cache
def demo(revision: str) -> Laid:
    """The invented tour over the invented house."""
    return laid(demo_house(), demo_plot(revision))


def one_set(items: str, *, rest: str = "", set_facts: str = "", sets: Sequence[str] = ()) -> Laid:
    """A house with set 14, five lines at 10'-6" on 48 ft of 1-1/2 schedule 40, and a plot for it."""
    house = f"""\
plumbtrue: rig/1
house:
  name: test house
  batten_zero: stage-right
  bricks:
    - {{key: brick-28, weight: 28 lb, thickness: 2 in, stock: 100}}
    - {{key: brick-14, weight: 14 lb, thickness: 1 in, stock: 20}}
  sprinklers: none
  side_obstructions: none
line_sets:
{another_set("14", TEN_FEET, set_facts)}{"".join(sets)}"""
    plot = f"plumbtrue: plot/1\nplot:\n  show: test show\n  items:\n{items}{rest}"
    vocabulary = load_vocabulary()
    return laid(read_rig_text(house, "house.yaml", vocabulary), read_plot_text(plot, "plot.yaml", vocabulary))


def another_set(number: str, depth: str, more: str = "") -> str:
    """A set of that make, as it is written."""
    return f"""\
  - number: {number}
    system: single-purchase
    from_plaster_line: {depth}
    low_trim: 4'-0"
    posted_total: 750 lb
    posted_counts: live
    posted_point_at_line: 250 lb
    posted_point_between: 150 lb
    posted_point_overhang: 60 lb
    compensation: none
    present_load: none
    batten:
      {{form: pipe, nominal: 1-1/2, schedule: 40, grade: a53-a, wall_measured: 0.145 in, length: 48'-0",
        splices: none, raceway: none}}
    lift_lines:
      at: {{1: SR 21'-0", 2: SR 10'-6", 3: CL, 4: SL 10'-6", 5: SL 21'-0"}}
      each:
        {{role: lift, lower_weight: 2 lb,
          rope: {{family: wire, diameter: 1/4 in, construction: 7x19, weight_per_length: 0.11 lb/ft}}}}
    arbor: {{weight: 60 lb, capacity: 900 lb, clear_height: 64 in, travel: 54'-0"}}
{more}"""
