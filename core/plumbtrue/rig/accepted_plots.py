"""The earlier revision of a plot that somebody accepted, read beside the one that is to hang.

An acceptance names the revision that was taken and may name its file. Where this revision is accepted itself there is
nothing to hold it against.
"""

from dataclasses import replace
from pathlib import Path

from plumbtrue.documents.place import CannotRead, Problem
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import Name, Value
from plumbtrue.rig.reading import read_plot
from plumbtrue.rig.rig import Plot
from plumbtrue.rig.thing import Thing


def accepted_last(plot: Thing) -> Thing | None:
    """The latest acceptance of another revision; nothing where this one is accepted, or none is."""
    held = plot.parts.get("accepted")
    acceptances = held if isinstance(held, tuple) else ()
    revision = _said(plot, "revision")
    if revision is None or any(_said(one, "revision") in (None, revision) for one in acceptances):
        return None
    return max(acceptances, key=_day, default=None)


def with_accepted(plot: Plot, path: Path) -> Plot:
    """The plot, with the revision that was accepted where an acceptance names its file.

    Args:
        path: where the plot was read; the other revision is looked for from its folder.
    Raises:
        CannotRead: that file is not there or cannot be read, or holds another revision than was accepted.
    """
    acceptance = accepted_last(plot.plot)
    named = acceptance.facts.get("plot_file") if acceptance is not None else None
    if acceptance is None or named is None or not isinstance(named.value, Name):
        return plot
    file = path.parent / named.value.text
    if not file.is_file():
        what = f"there is no {named.value.text} beside this plot"
        instead = "write the name of the file that was accepted"
        raise _cannot(
            plot, Problem("accepted-plot-missing", named.place, what, instead, len(named.value.text))
        )
    shown = str(Path(plot.file).parent / named.value.text)
    earlier = read_plot(file, plot.vocabulary, shown_as=shown)
    wanted, found = _said(acceptance, "revision"), _said(earlier.plot, "revision")
    if wanted != found:
        what = f"{named.value.text} holds revision {_text(found)}, and revision {_text(wanted)} was accepted"
        instead = "name the file of that revision"
        raise _cannot(plot, Problem("accepted-plot-other", named.place, what, instead, len(named.value.text)))
    return replace(plot, accepted=earlier)


def _said(thing: Thing, fact: str) -> Value | None:
    recorded = thing.facts.get(fact)
    return recorded.value if recorded is not None and isinstance(recorded.value, Name) else None


def _text(value: Value | None) -> str:
    return value.text if isinstance(value, Name) else "without a mark"


def _day(acceptance: Thing) -> float:
    recorded = acceptance.facts.get("on")
    return recorded.value.high if recorded is not None and isinstance(recorded.value, Bounds) else 0.0


def _cannot(plot: Plot, problem: Problem) -> CannotRead:
    return CannotRead((problem,), dict(plot.documents))
