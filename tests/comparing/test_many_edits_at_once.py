"""A house and a show in it, both edited at once in many places: each edit is told once, and nothing else is.

Pieces and sets are renumbered (also onto a number that another one had, and all of them at once), moved, cut, added,
and changed, several of these to one of them. What must be told is counted while the edits are made.
"""

import random
from collections import Counter
from copy import deepcopy
from dataclasses import dataclass, field

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.comparing.houses import HOUSE, VOCABULARY, Plain, as_told, read, straight, text_of, turned

from plumbtrue.audit.matching import match
from plumbtrue.audit.rig_changes import RigChange, one_by_one, rig_changes
from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot_text
from plumbtrue.rig.rig import Rig

SETS = {"3": "Border", "5": "Electric", "8": "Legs", "11": "Drop", "14": "Cyc"}
PIECES = {
    "1": ("first border", "3", "border", "75 lb"),
    "2": ("lantern", "5", "practical", "60 lb"),
    "3": ("legs", "8", "legs", "64 lb"),
    "4": ("sea", "11", "drop", "90 lb"),
    "5": ("sky", "14", "drop", "95 lb"),
    "6": ("moon", "14", "practical", "12 lb"),
}


def house() -> Plain:
    document = deepcopy(HOUSE)
    first = document["line_sets"][0]
    document["line_sets"] = [
        {**deepcopy(first), "number": number, "name": name, "from_plaster_line": f"{number} ft"}
        for number, name in SETS.items()
    ]
    return document


def show() -> Plain:
    return {
        "plumbtrue": "plot/1",
        "plot": {
            "show": "An invented show",
            "items": [
                {
                    "key": key, "name": name, "on": on, "category": category, "weight": weight, "people": "none",
                    "loads": [{"at": "CL", "weight": weight}],
                }
                for key, (name, on, category, weight) in PIECES.items()
            ],
            "cues": [
                {"key": f"Q{key}", "item": key, "from": "10 ft", "to": "30 ft", "time": "12 s"}
                for key in ("2", "4", "6")
            ],
        },
    }  # fmt: skip


def laid(under: Plain, hung: Plain) -> Rig:
    return lay(read(under), read_plot_text(text_of(hung), "show.yaml", VOCABULARY))


BEFORE = laid(house(), show())


@dataclass
class Edited:
    """Both documents after some edits, and what must be told: deed, path in the revision that has it, fact."""

    luck: random.Random
    house: Plain = field(default_factory=house)
    show: Plain = field(default_factory=show)
    told: Counter[tuple[str, str, str]] = field(default_factory=Counter)

    def make(self) -> None:
        sets = self._renumbered(SETS, "N")
        for one in self.house["line_sets"]:
            self._edit_set(one, sets)
        cut = {key for key in PIECES if self.luck.random() < 0.15}
        numbers = self._renumbered([key for key in PIECES if key not in cut], "P", free=cut)
        kept = []
        for item in self.show["plot"]["items"]:
            if item["key"] in cut:
                self.told["removed", f"plot / item {item['key']}", ""] += 1
            else:
                self._edit_piece(item, numbers, sets)
                kept.append(item)
        if self.luck.random() < 0.4:
            new = {"key": "77", "name": "a new one", "on": sets["3"], "category": "sign", "weight": "31 lb"}
            kept.insert(0, new)
            self.told["added", "plot / item 77", ""] += 1
        self.show["plot"]["items"] = kept
        self._edit_cues(cut, numbers)
        for these in (self.house["line_sets"], kept, self.show["plot"]["cues"]):
            self.luck.shuffle(these)

    def _renumbered(self, keys: Plain, prefix: str, free: Plain = ()) -> dict[str, str]:
        """New numbers: some of them fresh, some those of others, or all of them one on."""
        keys = list(keys)
        way = self.luck.choice(["as they were", "some", "exchanged", "one on"])
        if way == "some":
            return {key: f"{prefix}{key}" if self.luck.random() < 0.4 else key for key in keys}
        if way == "exchanged":
            moved = self.luck.sample([*keys, *sorted(free)], len(keys))
            return dict(zip(keys, moved, strict=True))
        if way == "one on":
            return dict(zip(keys, [*keys[1:], f"{prefix}9"], strict=True))
        return {key: key for key in keys}

    def _edit_set(self, one: Plain, sets: dict[str, str]) -> None:
        was = one["number"]
        one["number"] = now = sets[was]
        if was != now:
            self.told["renamed", now, ""] += 1
        for fact, value in (("posted_total", "380 lb"), ("low_trim", "5 ft")):
            if self.luck.random() < 0.25:
                one[fact] = value
                self.told["changed", now, fact] += 1
        if self.luck.random() < 0.25:
            one["lift_lines"][1]["rope"]["installed"] = "2011"
            self.told["changed", f"{now} / line 2 / rope", "installed"] += 1
        if self.luck.random() < 0.25:
            del one["lift_lines"][2]["upper"][1]
            self.told["removed", f"{was} / line 3 / upper / thimble", ""] += 1

    def _edit_piece(self, item: Plain, numbers: dict[str, str], sets: dict[str, str]) -> None:
        was, on = item["key"], item["on"]
        item["key"] = now = numbers[was]
        path = f"plot / item {now}"
        if was != now:
            self.told["renamed", path, ""] += 1
        to = self.luck.choice(sorted(SETS)) if self.luck.random() < 0.3 else on
        item["on"] = sets[to]
        if to != on:
            self.told["moved", path, "on"] += 1
        if self.luck.random() < 0.3:
            item["weight"] = item["loads"][0]["weight"] = f"{int(item['weight'].split()[0]) + 7} lb"
            self.told["changed", path, "weight"] += 1
            self.told["changed", f"{path} / load", "weight"] += 1
        if was == now and self.luck.random() < 0.3:
            item["name"] = f"{item['name']} of act two"
            self.told["changed", path, "name"] += 1

    def _edit_cues(self, cut: set[str], numbers: dict[str, str]) -> None:
        kept = []
        for cue in self.show["plot"]["cues"]:
            if cue["item"] in cut:
                self.told["removed", f"plot / cue {cue['key']}", ""] += 1
                continue
            cue["item"] = numbers[cue["item"]]
            if self.luck.random() < 0.3:
                cue["key"] = f"{cue['key']}a"
                self.told["renamed", f"plot / cue {cue['key']}", ""] += 1
            if self.luck.random() < 0.3:
                cue["time"] = "3 s"
                self.told["changed", f"plot / cue {cue['key']}", "time"] += 1
            kept.append(cue)
        self.show["plot"]["cues"] = kept


def by_one(old: Rig, new: Rig) -> list[RigChange]:
    """Every change, an exchange as the two that it is made of."""
    return list(one_by_one(rig_changes(match(old, new))))


@given(st.integers(0, 2**32))
@settings(max_examples=120, deadline=None)
def test_each_of_many_edits_is_told_once_and_nothing_else_is(seed: int) -> None:
    edited = Edited(random.Random(seed))
    edited.make()
    found = Counter(as_told(one) for one in by_one(BEFORE, laid(edited.house, edited.show)))
    assert found == edited.told


@given(st.integers(0, 2**32))
@settings(max_examples=60, deadline=None)
def test_the_way_back_tells_the_opposite(seed: int) -> None:
    edited = Edited(random.Random(seed))
    edited.make()
    after = laid(edited.house, edited.show)
    there, back = by_one(BEFORE, after), by_one(after, BEFORE)
    assert Counter(map(turned, there)) == Counter(map(straight, back))
