"""Problems found while a rig is read: collected, each told once, with the uses of the typical thing that it
stands in.

A typical thing is read by itself once, where its mistakes are told; where it is used it is read again, and
the same mistake at the same place counts once.
"""

from collections.abc import Iterable
from dataclasses import replace

from plumbtrue.documents.nearest_word import nearest
from plumbtrue.documents.nodes import Node, Scalar, problem_with
from plumbtrue.documents.place import Place, Problem
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Kind

USES_SHOWN = 3


class Complaints:
    """The problems of one reading."""

    def __init__(self) -> None:
        self._found: dict[tuple[str, Place], Problem] = {}
        self._typical_of: dict[tuple[str, Place], str] = {}
        self._uses: dict[str, dict[str, None]] = {}
        self._faulty: set[str] = set()
        self.typical: str | None = None
        """The typical thing that is being read by itself, if one is."""

    def say(self, node: Node, slug: str, what: str, instead: str = "") -> None:
        """A problem at a node."""
        self.add(problem_with(node, slug, what, instead))

    def add(self, problem: Problem) -> None:
        key = (problem.slug, problem.where)
        if key not in self._found:
            self._found[key] = problem
            if self.typical is not None:
                self._typical_of[key] = self.typical
                self._faulty.add(self.typical)

    def used(self, typical: str, by: Thing, like: Scalar) -> None:
        """Note where a typical thing is used, if there is something wrong with it."""
        if typical in self._faulty:
            self._uses.setdefault(typical, {})[f"{by.path} (like: {typical}, {like.used or like.place})"] = (
                None
            )

    def all(self) -> tuple[Problem, ...]:
        """Every problem, in file order."""
        problems = []
        for key, problem in self._found.items():
            uses = tuple(self._uses.get(self._typical_of.get(key, ""), ()))
            lines = [f"used by {use}" for use in uses[:USES_SHOWN]]
            if len(uses) > USES_SHOWN:
                lines.append(f"and {len(uses) - USES_SHOWN} more")
            problems.append(replace(problem, used_by=(*problem.used_by, *lines)))
        return tuple(sorted(problems, key=lambda problem: (problem.where, problem.slug)))


def listed(words: Iterable[str], most: int = 24) -> str:
    """Words for print, in the order given, cut where there are many."""
    words = list(words)
    shown = ", ".join(words[:most])
    return f"{shown} and {len(words) - most} more" if len(words) > most else shown


def in_runs(words: Iterable[str]) -> list[str]:
    """Numbers that follow one another drawn together, from three on.

    >>> in_runs(["1", "2", "3", "5", "6", "H1"])
    ['1 to 3', '5', '6', 'H1']
    """
    runs: list[list[str]] = []
    for word in words:
        if runs and word.isdecimal() and runs[-1][-1].isdecimal() and int(word) == int(runs[-1][-1]) + 1:
            runs[-1].append(word)
        else:
            runs.append([word])
    return [one for run in runs for one in ([f"{run[0]} to {run[-1]}"] if len(run) > 2 else run)]


def did_you_mean(word: str, permitted: Iterable[str], else_say: str = "") -> str:
    """What to write instead of a word that does not exist: the nearest one, or else every one there is."""
    permitted = list(permitted)
    near = nearest(word, permitted)
    if near is not None:
        return f"did you mean {near}?"
    return else_say or (f"write one of {listed(permitted)}" if permitted else "")


def a(kind: Kind) -> str:
    """A kind with its article, as one speaks: an arbor, a line set."""
    word = kind.word.replace("-", " ")
    return f"an {word}" if word[0] in "aeio" else f"a {word}"


def shown(node: Node) -> str:
    """A node's text for a message, shortened."""
    if not isinstance(node, Scalar):
        return "a list" if hasattr(node, "items") else "a mapping"
    text = node.text
    return text if len(text) <= 40 else f"{text[:39]}…"
