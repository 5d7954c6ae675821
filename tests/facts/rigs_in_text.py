"""Rigs for these tests are written as a user would write them; facts are asked by the path of a thing and a
name.
"""

from collections.abc import Callable
from datetime import date

from plumbtrue.facts.answer import Answer
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.rig.reading import read_rig_text
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary_loading import load_vocabulary

ON = date(2026, 3, 2)

LB = 4.4482216152605
"""Newtons in a pound, NIST SP 811."""
FT = 0.3048
INCH = 0.0254
KSI = 1000 * LB / INCH**2


class Asked:
    """A rig that was read, and what is known of its things."""

    def __init__(self, text: str, on: date) -> None:
        self.rig = read_rig_text(text, "test.yaml", load_vocabulary())
        self.facts = Facts(self.rig, on)
        self._by_path = {thing.path: thing for thing in self.rig.house.below()}

    def thing(self, path: str) -> Thing:
        if path == "house":
            return self.rig.house
        if path not in self._by_path:
            raise KeyError(f"{path} is none of {', '.join(self._by_path)}")
        return self._by_path[path]

    def answer(self, path: str, name: str) -> Answer:
        return self.facts.answer(self.thing(path), name)

    def bounds(self, path: str, name: str, unit: float = 1.0) -> tuple[float, float]:
        """Both ends of a figure in a unit; fails where there is none."""
        answer = self.answer(path, name)
        assert isinstance(answer.value, Bounds), (answer.value, answer.missing, answer.refusal)
        return answer.value.low / unit, answer.value.high / unit

    def figure(self, path: str, name: str, unit: float = 1.0) -> float:
        """An exactly known figure in a unit."""
        low, high = self.bounds(path, name, unit)
        assert abs(high - low) <= 1e-9 * max(abs(low), abs(high)), (low, high)
        return low

    def missing(self, path: str, name: str) -> set[str]:
        return {f"{one.thing.path}: {one.fact}" for one in self.answer(path, name).missing}


Ask = Callable[..., Asked]
"""What the fixtures `asked` and `one_set` give: a text to a rig that can be asked."""

ROPE = (
    "{family: wire, diameter: 1/4 in, construction: 7x19, core: strand, material: galvanized, "
    "breaking_strength: 7000 lb, strength_from: tag, installed: 2009}"
)
"""The rope of most sets: 7,000 lb is AC 43.13-1B table 7-3."""
SLEEVE = "{part: swage-sleeve, shape: oval, material: copper, size: 1/4 in, presses: 4, stack_length: 2 in}"
THIMBLE = "{part: thimble, size: 1/4 in, gauge: heavy, stack_length: 1-1/2 in}"
SHACKLE = (
    "{part: shackle, size: 3/8 in, closure: screw-pin, working_load_limit: 2000 lb, stack_length: 1/2 in}"
)
CHAIN = (
    "{part: trim-chain, size: 1/4 in, grade: 80, type: welded, working_load_limit: 3500 lb, "
    "attachment: wrap, wraps: 2, legs: 2, end_joint: shackle, legs_meet_above: 6 in, stack_length: 8 in}"
)
CHAIN_END = f"[{SLEEVE}, {THIMBLE}, {SHACKLE}, {CHAIN}]"
ARBOR_END = f"[{SLEEVE}, {THIMBLE}, {SHACKLE}]"
TURNBUCKLE_END = (
    f"[{SLEEVE}, {THIMBLE}, {{part: turnbuckle, size: 1/2 in, working_load_limit: 1800 lb, "
    "stack_length: 20 in, threads_per_inch: 13}, "
    "{part: batten-clamp, type: two-part, working_load_limit: 1000 lb, stack_length: 2-1/2 in}]"
)
LOFT_BLOCK = (
    "{part: loft-block, mount: underhung, tread_diameter: 8 in, working_load_limit: 500 lb, "
    "rating_means: line-tension, wrap_angle: 90 deg, groove_height: 60'-6\", low_point: 60'-0\"}"
)
FIVE_LINES = "{1: SR 21'-0\", 2: SR 10'-6\", 3: CL, 4: SL 10'-6\", 5: SL 21'-0\"}"
FOUR_LINES = "{1: SR 21'-0\", 2: SR 7'-0\", 3: SL 7'-0\", 4: SL 21'-0\"}"
IN_ORDER = "seen: {by: inspector, on: 2025-04-10, how: with-tools, in_order: yes, tested: yes}"


def a_set(
    *,
    places: str = FIVE_LINES,
    nominal: str = "1-1/2",
    schedule: str = "40",
    wall: str = "0.145 in",
    splices: str = "none",
    rope: str = ROPE,
    lower: str = CHAIN_END,
    upper: str = ARBOR_END,
    loft: str = LOFT_BLOCK,
    lower_weight: str = "2 lb",
    posted: str = "posted_total: 750 lb\nposted_per_length: none\nposted_point_at_line: 250 lb\n"
    "posted_point_between: 150 lb\nposted_point_overhang: 60 lb",
    except_: str = "",
    more: str = "",
    system: str = "single-purchase",
    arbor: str = "weight: 60 lb, travel: 54'-0\", clear_height: 64 in, weights: {brick-28: 3}",
) -> str:
    """A set of the invented demo house (its part 1 and 2), or one like it."""
    ends = f"lower_weight: {lower_weight}, " if lower_weight else ""
    exceptions = f"\n  except: [{except_}]" if except_ else ""
    return f"""{IN_ORDER}
system: {system}
use: general
{posted}
present_load: none
compensation: none
low_trim: 4'-0"
batten: {{form: pipe, nominal: {nominal}, schedule: "{schedule}", grade: a53-a, length: 48'-0",
  wall_measured: {wall}, splices: {splices}, raceway: none}}
lift_lines:
  at: {places}
  each: {{role: lift, {ends}rope: {rope}, upper: {upper}, lower: {lower}, blocks: [{loft}]}}{exceptions}
head_block: {{grooves: 5, tread_diameter: 8 in, working_load_limit: 1200 lb, rating_means: total,
  wrap_angle: 90 deg, groove_height: 64'-0"}}
arbor: {{capacity: 900 lb, capacity_of: weights, {arbor}}}
{more}"""


BRICKS = (
    "bricks: [{key: brick-28, weight: 28 lb, thickness: 2 in, stock: 372}, "
    "{key: brick-14, weight: 14 lb, thickness: 1 in, stock: 96}]"
)
