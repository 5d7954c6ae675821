"""The earlier revision of a plot that somebody accepted, read beside the one that is to hang.

An acceptance names the revision that was taken and may name its file. Where this revision is accepted itself there is
nothing to hold it against.
"""

from dataclasses import replace
from pathlib import Path

from plumbtrue.documents.place import CannotRead, Place, Problem
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import Name, Value
from plumbtrue.rig.reading import read_plot
from plumbtrue.rig.rig import Plot
from plumbtrue.rig.thing import Thing


def accepted_last(plot: Thing) -> Thing | None:
    """The latest acceptance of another revision; nothing where this one is accepted, or none is."""
    acceptances = plot.members("accepted")
    revision = _said(plot, "revision")
    if revision is None or any(_said(one, "revision") in (None, revision) for one in acceptances):
        return None
    return max(acceptances, key=_day, default=None)


def accepted_file(plot: Plot) -> tuple[str, Place] | None:
    """The file that the latest acceptance of another revision names, and where; nothing where it names none."""
    acceptance = accepted_last(plot.plot)
    named = acceptance.facts.get("plot_file") if acceptance is not None else None
    if named is None or not isinstance(named.value, Name):
        return None
    return named.value.text, named.place


def with_accepted(plot: Plot, path: Path) -> Plot:
    """The plot, with the revision that was accepted where an acceptance names its file.

    Args:
        path: where the plot was read; the other revision is looked for from its folder.
    Raises:
        CannotRead: that file is not there or cannot be read, or holds another revision than was accepted.
    """
    named = accepted_file(plot)
    if named is None:
        return plot
    name, place = named
    file = path.parent / name
    if not file.is_file():
        what = f"there is no {name} beside this plot"
        instead = "write the name of the file that was accepted"
        raise _cannot(plot, Problem("accepted-plot-missing", place, what, instead, len(name)))
    shown = str(Path(plot.file).parent / name)
    return with_earlier(plot, read_plot(file, plot.vocabulary, shown_as=shown))


def with_earlier(plot: Plot, earlier: Plot) -> Plot:
    """The plot, with the revision that was read from the file that its acceptance names.

    Raises:
        CannotRead: it is another revision than the one that was accepted.
    """
    named, acceptance = accepted_file(plot), accepted_last(plot.plot)
    if named is None or acceptance is None or is_accepted(earlier, plot):
        return replace(plot, accepted=earlier)
    wanted, found = _said(acceptance, "revision"), _said(earlier.plot, "revision")
    what = f"{named[0]} holds revision {_text(found)}, and revision {_text(wanted)} was accepted"
    instead = "name the file of that revision"
    raise _cannot(plot, Problem("accepted-plot-other", named[1], what, instead, len(named[0])))


def is_accepted(earlier: Plot, plot: Plot) -> bool:
    """Whether a plot goes by the mark that the latest acceptance of another revision names."""
    acceptance = accepted_last(plot.plot)
    return acceptance is not None and _said(acceptance, "revision") == _said(earlier.plot, "revision")


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
