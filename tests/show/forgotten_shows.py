"""Shows with less written in them: a plot and its house as text, some facts of either turned unknown or left out,
and all that is then told of the show.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Any, Final

from tests.forgetting import (
    Way,
    by_key,
    changed_to,
    may_be_left_out,
    outermost,
    parsed,
    written,
)
from tests.practice.defects.judged_cases import practice_book
from tests.show.laid_shows import DEMO
from tests.show.small_show import BORDER, SHIP, house, plot
from tests.show.test_hand_cases import CASES

from plumbtrue.audit.auditing import Judged, judge
from plumbtrue.audit.comparing import Revision, compare, comparison_status
from plumbtrue.audit.gate import ExitStatus, exit_status
from plumbtrue.audit.item_verdicts import ItemVerdict, item_verdicts
from plumbtrue.audit.outcome import Outcome
from plumbtrue.reporting.load_in import set_papers
from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot_text, read_rig_text
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.vocabulary_loading import load_vocabulary
from plumbtrue.rules.severity import Severity

ON: Final = date(2026, 4, 13)
_TELLS_WHICH: Final = frozenset(
    {
        # Which thing is meant, or how the file is to be read.
        "plumbtrue", "units", "rule_packs", "house_file", "typical", "house", "line_sets", "lift_lines", "plot",
        "name", "number", "key", "mark", "like", "part", "kind", "formerly", "lines", "each", "except", "show",
        "batten_zero", "seen", "note",
    }
)  # fmt: skip
"""Keys that are no facts. A name counts among them: what the words of one bring up rests on nothing else."""


@dataclass(frozen=True)
class Show:
    """A house and a plot for it, as they are written."""

    name: str
    house: str
    plot: str


@dataclass(frozen=True)
class Told:
    """What is told of a show."""

    outcomes: Mapping[str, Outcome]
    items: Mapping[str, ItemVerdict]
    status: ExitStatus
    bricks: frozenset[str]
    """Sets for which the load-in papers print bricks."""
    papers: frozenset[str]
    """Sets that get a paper."""


@cache
def shows() -> Mapping[str, tuple[Show, ...]]:
    """Small shows, and the invented tour."""
    texts = {(case.house, case.plot): case.name for case in CASES}
    hand = tuple(Show(name, *both) for both, name in texts.items())
    light = SHIP.replace("612 lb +/- 2 lb", "520 lb +/- 2 lb").replace("153 lb", "130 lb")
    small = tuple(
        Show(f"small, on {on}", house(), plot(ship.replace("on: 26", f"on: {on}"), BORDER))
        for on in ("26", "4", "5", "6")
        for ship in (SHIP, light)
    )
    tours = tuple(
        Show(
            f"tour {mark}",
            *((DEMO / file).read_text(encoding="utf-8") for file in ("house.yaml", f"tour-{mark}.yaml")),
        )
        for mark in ("a", "b")
    )
    return {"hand": hand, "small": small, "tour": tours}


def facts_written(text: str) -> list[Way]:
    """The ways to every fact and every thing of a list in a file."""
    return list(_ways(parsed(text)))


def _ways(node: Any, way: Way = ()) -> Iterator[Way]:
    if isinstance(node, Mapping):
        for key, value in node.items():
            if key == "seen":
                continue
            # What a typical thing says is said of whatever is like it: taken away here, it is taken from all.
            if key not in _TELLS_WHICH and not (way and way[0] == "typical" and len(way) < 2):
                yield (*way, key)
            yield from _ways(value, (*way, key))
    elif isinstance(node, list):
        for place, item in enumerate(node):
            if not (way and way[-1] in ("lines", "except", "line_sets", "rule_packs")):
                yield (*way, place)
            yield from _ways(item, (*way, place))


def without(text: str, chosen: Mapping[Way, str]) -> str:
    """A file with less written in it."""
    return written(changed_to(parsed(text), chosen)) if chosen else text


def blanks(text: str, ways: list[Way], *, left_out: bool) -> dict[Way, str]:
    """Each turned unknown; or left out, where that makes it unknown too."""
    tree = parsed(text)
    return {way: "" if left_out and may_be_left_out(tree, way) else "unknown" for way in outermost(ways)}


@cache
def _house(text: str) -> Rig:
    return read_rig_text(text, "house.yaml", load_vocabulary())


@cache
def _house_alone(text: str) -> Judged:
    return judge(_house(text), practice_book(), ON)


@cache
def told_of(show: Show) -> Told:
    """What is told of a show as it is written; kept."""
    return _told(_house(show.house), show.plot, _house_alone(show.house))


def told_with_less(show: Show, plot_less: Mapping[Way, str], house_less: Mapping[Way, str]) -> Told:
    """What is told of it with less written.

    Raises:
        CannotRead: what is left is no house or no plot.
    """
    text = without(show.plot, plot_less)
    if not house_less:
        return _told(_house(show.house), text, _house_alone(show.house))
    return _told(read_rig_text(without(show.house, house_less), "house.yaml", load_vocabulary()), text, None)


def _told(rig: Rig, plot_text: str, beside: Judged | None) -> Told:
    laid = lay(rig, read_plot_text(plot_text, "plot.yaml", load_vocabulary()))
    made = judge(laid, practice_book(), ON, beside=beside)
    papers = set_papers(made.audit, made.facts)
    return Told(
        outcomes=by_key(made.audit.outcomes),
        items={one.key: one for one in item_verdicts(made.audit, made.facts)},
        status=exit_status(made.audit, Severity.BEFORE_NEXT_USE),
        bricks=frozenset(one.key for one in papers if one.bricks is not None),
        papers=frozenset(one.key for one in papers if not one.no_paper),
    )


def changed_shows() -> tuple[tuple[Show, Show], ...]:
    """Two of the small shows each, of which the second is the first with something changed: a case worked out by hand
    after another one of the same rule, in the same house.
    """
    found: list[tuple[Show, Show]] = []
    first: dict[tuple[str, str], Show] = {}
    for one in shows()["hand"]:
        subject = (one.name.rpartition(": ")[0], one.house)
        found += [(first[subject], one)] if subject in first else []
        first.setdefault(subject, one)
    return tuple(found)


def status_of_the_change(old: Show, new: Show, plot_less: Mapping[Way, str]) -> ExitStatus:
    """The status of comparing them, with less written in the plot of the second.

    Raises:
        CannotRead: what is left is no plot.
    """
    was, now = (
        lay(_house(show.house), read_plot_text(text, "plot.yaml", load_vocabulary()))
        for show, text in ((old, old.plot), (new, without(new.plot, plot_less)))
    )
    book = practice_book()
    return comparison_status(compare(Revision(was, book), Revision(now, book), ON), Severity.BEFORE_NEXT_USE)
