"""A small invented house and a plot for it, written as people would write them, with a pack of few rules.

Set 26 is a double-purchase set like that of the demo house, whose numbers were worked out by hand: arbor of
110 lb with a plate of 1,350 lb, a pipe with ends of 140.6 lb, 580 lb posted. Set 3 stands like it and is free,
set 4 has a pitted rope, set 5 is tagged out, set 6 has no label.
"""

from datetime import date
from pathlib import Path
from textwrap import dedent, indent

from tests.facts.rigs_in_text import BRICKS, ROPE, a_set
from tests.packs.packs_in_text import write_pack

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.house_check import check_house
from plumbtrue.audit.item_verdicts import ItemVerdict, item_verdicts

ON = date(2026, 4, 13)

RULES = """
    - rule: rope-corrosion-pitted
      title: Rope in use is not pitted
      about: rope
      require: corrosion is not pitted
      severity: out-of-service
      finding: "The rope is pitted."
      remedy: Replace the rope.
      source: common-practice

    - rule: nobody-is-lifted
      title: Nobody is lifted by this plot
      about: item
      require: people is none
      severity: out-of-service
      finding: "Somebody {people} it."
      remedy: Turn to a specialist.
      source: common-practice

    - rule: set-takes-the-load
      title: A set carries no more than the house has posted
      about: line_set
      when: count of piece in items > 0
      require: live_load <= posted_load
      severity: out-of-service
      finding: "{live_load} hangs on it, and {posted_load} is posted."
      remedy: Take weight off it.
      source: common-practice

    - rule: arbor-takes-the-weights
      title: An arbor carries no more than its plate says
      about: arbor
      when: count of piece in line_set.items > 0
      require: carried_needed <= capacity
      severity: out-of-service
      finding: "It would carry {carried_needed}, and its plate says {capacity}."
      remedy: Take weight off the set.
      source: common-practice

    - rule: gap-to-neighbour
      title: What hangs side by side stays apart
      about: pair
      require: gap is none or gap >= 4 in
      severity: before-next-use
      finding: "Between {first} and {second} are {gap}."
      remedy: Move one of them.
      source: common-practice

    - rule: piece-is-weighed
      title: A piece over 300 lb is weighed
      about: item
      when: total_weight > 300 lb
      require: weight_basis is weighed
      severity: before-next-use
      finding: "It is {weight_basis}."
      remedy: Weigh it.
      source: common-practice

    - rule: plot-is-marked
      title: A plot says which revision it is
      about: plot
      require: revision = "A" or revision = "B"
      severity: before-next-use
      finding: "It is revision {revision}."
      remedy: Ask for a marked one.
      source: common-practice
"""

_LONG = "weight: 110 lb, travel: 27'-0\", clear_height: 97 in, plates_thickness: 0 in"
_POSTED = (
    "posted_total: 580 lb\nposted_counts: live\nposted_per_length: none\nposted_point_at_line: 250 lb\n"
    "posted_point_between: 150 lb\nposted_point_overhang: 60 lb"
)


def double_purchase(*, rope: str = ROPE, capacity: str = "1350 lb", more: str = "tagged_out: none") -> str:
    """A set like 26 of the demo house."""
    text = a_set(system="double-purchase", posted=_POSTED, rope=rope, arbor=_LONG, more=more)
    return text.replace("capacity: 900 lb", f"capacity: {capacity}")


def house(*, bricks: str = BRICKS, name: str = "Test house", stand_apart: str = "2'-0\"") -> str:
    """The house; its sets stand two feet apart."""
    sets = {
        "3": double_purchase(),
        "4": double_purchase(rope=ROPE.replace("{", "{corrosion: pitted, ")),
        "5": double_purchase(more="tagged_out: 2025-06-03"),
        "6": double_purchase(capacity="unknown"),
        "26": double_purchase(),
    }
    depths = {"3": "10'-0\"", "4": "12'-0\"", "5": "14'-0\"", "6": "16'-0\"", "26": "18'-0\""}
    written = "".join(
        f"  - number: {number}\n    from_plaster_line: {depths[number]}\n{indent(text, '    ')}\n"
        for number, text in sets.items()
    )
    return f"plumbtrue: rig/1\nhouse:\n  name: {name}\n  batten_zero: stage-right\n  {bricks}\nline_sets:\n{written}"


SHIP = (
    '{key: "21", name: ship profile, on: 26, people: none, weight: 612 lb +/- 2 lb, weight_basis: weighed, '
    "loads: [{at: [both 4'-0\", both 12'-0\"], weight: 153 lb}], extent: [{from: SR 14'-0\", to: SL 14'-0\"}], "
    "height: 14'-0\", drop_to_top: 1'-0\", half_depth: 2 in, moves: flies, in_trim: 1 in, out_trim: 56'-0\", "
    "trims: none, category: framed}"
)
BORDER = (
    '{key: "02", name: border, on: 3, people: none, weight: 75 lb, weight_basis: weighed, '
    "loads: [{from: SR 22'-0\", to: SL 22'-0\", weight: 75 lb}], extent: [{from: SR 22'-0\", to: SL 22'-0\"}], "
    "height: 8'-0\", drop_to_top: 2 in, half_depth: 2 in, moves: no, in_trim: none, out_trim: none, "
    "trims: [30'-0\"], category: border}"
)


def plot(*items: str, more: str = "") -> str:
    """A plot with some pieces."""
    lines = "".join(f"    - {one}\n" for one in items)
    return (
        "plumbtrue: plot/1\nplot:\n  show: The Test Show\n  revision: A\n  cues: none\n  sheets: none\n"
        f"  items:\n{lines}{indent(dedent(more), '  ')}"
    )


def write_show(
    folder: Path, plot_text: str, house_text: str = "", *, rules: str = RULES
) -> tuple[Path, Path]:
    """A house, a plot and a pack in files: the paths of house and plot."""
    write_pack(folder, "trade", rules=rules)
    at, shown = folder / "house.yaml", folder / "tour.yaml"
    at.write_text(house_text or house(), encoding="utf-8")
    shown.write_text(plot_text, encoding="utf-8")
    return at, shown


def audited(folder: Path, plot_text: str, house_text: str = "", *, rules: str = RULES) -> Audit:
    """The audit of the house with the plot, by the small pack."""
    at, shown = write_show(folder, plot_text, house_text, rules=rules)
    return check_house(at, on=ON, packs=["./trade"], packs_from=folder, plot=shown, third_party=False)


def verdicts(folder: Path, plot_text: str, house_text: str = "") -> dict[str, ItemVerdict]:
    """The verdict on each piece, by its key."""
    return {one.key: one for one in item_verdicts(audited(folder, plot_text, house_text))}
