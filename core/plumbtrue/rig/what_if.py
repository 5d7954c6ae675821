"""What if: facts asked for a trial, such as `item "ship".weight=580 lb`. The record stays as it is.

    item "ship".weight = 580 lb          a thing by its kind and its key or name; the beginning of a name will do
    14 / line 3 / rope.diameter = 1/4 in a thing by its path, as reports print it
    14 / line 3.rope.diameter = 1/4 in   the same: dots lead on from a thing to its parts

What is asked holds over whatever is written, and says where it comes from wherever it is printed.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from plumbtrue.documents.nodes import Scalar
from plumbtrue.documents.place import CannotRead, Place, Problem
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Name
from plumbtrue.rig.complaints import Complaints, did_you_mean, listed
from plumbtrue.rig.copying import copied
from plumbtrue.rig.fact_values import read_value
from plumbtrue.rig.finding_things import HOUSE_ITSELF, paths_meant
from plumbtrue.rig.rig import Plot, Rig
from plumbtrue.rig.thing import Recorded, Thing
from plumbtrue.rig.vocabulary import Vocabulary

ASKED: Final = "asked on the command line"
SHOWN_AS: Final = "--set"
"""What stands for the file in the place of an asked fact."""

_FORM: Final = 'write a thing, a dot, a fact and what it would be, such as item "ship".weight=580 lb'
_QUOTED: Final = re.compile(r"""^\s*([a-z][a-z_ -]*?)\s+["']([^"']+)["']\s*((?:\.[a-z_0-9]+)+)\s*$""")


@unchanging
class Asked:
    """One fact that is asked for a trial, as written, and the number of the text."""

    text: str
    number: int

    @property
    def place(self) -> Place:
        return Place(SHOWN_AS, self.number, 1)

    def problem(self, slug: str, what: str, instead: str = "", part: str = "") -> Problem:
        """A problem with a part of the text, or with all of it."""
        at = max(self.text.find(part), 0) if part else 0
        return Problem(slug, Place(SHOWN_AS, self.number, at + 1), what, instead, len(part or self.text))


@unchanging
class _Target:
    """The thing and the fact that are asked about, and the text of what it would be."""

    thing: Thing
    fact: str
    value: Scalar


def with_asked(rig: Rig, plot: Plot | None, texts: Sequence[str]) -> tuple[Rig, Plot | None]:
    """The house, and the plot that is to be laid over it, as they would be with what is asked.

    Raises:
        CannotRead: with every text that cannot be used.
    """
    if not texts:
        return rig, plot
    house, _ = copied(rig.house)
    shown, in_plot = copied(plot.plot) if plot is not None else (None, {})
    roots = [root for root in (shown, house) if root is not None]
    problems: list[Problem] = []
    for number, text in enumerate(texts, start=1):
        _ask(Asked(text, number), roots, rig.vocabulary, problems)
    asked = (SHOWN_AS, "\n".join(texts))
    if problems:
        raise CannotRead(tuple(problems), dict([*rig.documents, asked]))
    trial = replace(rig, house=house, documents=(*rig.documents, asked), indexed={})
    if plot is None or shown is None:
        return trial, plot
    still_open = tuple(replace(one, thing=in_plot[one.thing]) for one in plot.open_references)
    return trial, replace(plot, plot=shown, open_references=still_open)


def told(rig: Rig) -> tuple[str, ...]:
    """What is asked of a house or its plot, each as a sentence for whoever reads what comes of it."""
    asked = dict(rig.documents).get(SHOWN_AS, "")
    return tuple(f"What if {text}: {ASKED}, not on record." for text in asked.splitlines())


def _ask(asked: Asked, roots: Sequence[Thing], vocabulary: Vocabulary, problems: list[Problem]) -> None:
    target = _target(asked, roots, vocabulary, problems)
    if target is None:
        return
    fact = target.thing.kind.facts[target.fact]
    complaints = Complaints()
    value = read_value(fact, target.value, complaints)
    problems.extend(complaints.all())
    if value is not None:
        target.thing.facts[target.fact] = Recorded(
            value, target.value.text, target.value.place, origin="asked", note=ASKED
        )


def _target(
    asked: Asked, roots: Sequence[Thing], vocabulary: Vocabulary, problems: list[Problem]
) -> _Target | None:
    left, equals, right = asked.text.partition("=")
    if not equals or not left.strip() or not right.strip():
        problems.append(asked.problem("asked-form", f"{asked.text} asks for nothing", _FORM))
        return None
    quoted = _QUOTED.match(left)
    if quoted is not None:
        found = _by_name(asked, quoted[1], quoted[2], roots, vocabulary, problems)
        steps = quoted[3].removeprefix(".").split(".")
    else:
        path, *steps = [one.strip() for one in left.split(".")]
        if not steps:
            problems.append(asked.problem("asked-form", f"{left.strip()} names no fact", _FORM, left.strip()))
            return None
        found = _by_path(asked, path, roots, problems)
    if found is None:
        return None
    thing = _inward(asked, found, steps[:-1], problems)
    if thing is None:
        return None
    fact = thing.kind.facts.get(steps[-1])
    if fact is None or fact.is_computed or fact.holds_things or fact.type.endswith("reference"):
        names = [
            name
            for name, one in thing.kind.facts.items()
            if not (one.is_computed or one.holds_things or one.type.endswith("reference"))
        ]
        what = f"{steps[-1]} of {thing.path} cannot be asked for"
        of_a_piece = _as_a_piece(thing.key, roots, steps[-1]) if thing.kind.name == "line_set" else ""
        instead = of_a_piece or did_you_mean(steps[-1], names)
        problems.append(asked.problem("asked-fact", what, instead, steps[-1]))
        return None
    text = right.strip()
    at = asked.text.index(text, len(left) + 1)
    value = Scalar(text, Place(SHOWN_AS, asked.number, at + 1), length=len(text))
    return _Target(thing, steps[-1], value)


def _by_name(
    asked: Asked,
    kind: str,
    name: str,
    roots: Sequence[Thing],
    vocabulary: Vocabulary,
    problems: list[Problem],
) -> Thing | None:
    kinds = vocabulary.kinds_of(kind.strip().replace(" ", "_"))
    if not kinds:
        words = [one.word.replace("-", " ") for one in vocabulary.kinds.values()]
        what = f"there is no kind of thing called {kind}"
        problems.append(asked.problem("asked-thing", what, did_you_mean(kind, words, _FORM), kind))
        return None
    things = [thing for root in roots for thing in root.below() if thing.kind.name in kinds]
    exact = [thing for thing in things if name in _names(thing)]
    found = exact or [thing for thing in things if any(_begins(one, name) for one in _names(thing))]
    if len(found) == 1:
        return found[0]
    known = list(dict.fromkeys(one for thing in things for one in _names(thing)))
    if found:
        what = f"{name} could be {listed([thing.path for thing in found])}"
        problems.append(asked.problem("asked-thing", what, "write its key", name))
        return None
    what = f"there is no {kind} called {name}"
    otherwise = f"there are {listed([_called(thing) for thing in things])}" if known else _FORM
    problems.append(asked.problem("asked-thing", what, did_you_mean(name, known, otherwise), name))
    return None


def _names(thing: Thing) -> Iterator[str]:
    """What a thing is called: its key with and without what stands before it, and its name."""
    yield thing.key
    called = thing.kind.word.replace("-", " ") + " "
    if thing.key.startswith(called):
        yield thing.key.removeprefix(called)
    name = thing.facts.get("name")
    if name is not None and isinstance(name.value, Name):
        yield name.value.text


def _called(thing: Thing) -> str:
    """Its key as people write it, with its name where it has one."""
    *_, short = list(_names(thing))[:2]
    name = thing.facts.get("name")
    return f"{short} ({name.value.text})" if name is not None and isinstance(name.value, Name) else short


def _begins(name: str, begun: str) -> bool:
    return name.lower().startswith(begun.lower())


def _by_path(asked: Asked, path: str, roots: Sequence[Thing], problems: list[Problem]) -> Thing | None:
    every = {thing.path: thing for root in roots for thing in root.below()}
    every |= {f"plot / {name}": thing for name, thing in _of_a_plot(roots)}
    every |= {name: root for root in roots if root.kind.name == "house" for name in HOUSE_ITSELF}
    found = next((every[one] for one in paths_meant(path) if one in every), None)
    if found is None:
        wanted = next(paths_meant(path))
        what = f"there is no {wanted} in this house"
        instead = _as_a_piece(path, roots) or did_you_mean(wanted, every, _FORM)
        problems.append(asked.problem("asked-thing", what, instead, path))
    return found


def _as_a_piece(name: str, roots: Iterable[Thing], fact: str = "") -> str:
    """How to write it where a piece of the show is meant by its bare name; nothing where none is called so."""
    for thing in (one for root in roots for one in root.below() if one.kind.name == "item"):
        called = [one for one in _names(thing) if _begins(one, name)]
        if called and (not fact or (fact in thing.kind.facts and not thing.kind.facts[fact].is_computed)):
            return f'for the piece of the show write item "{called[-1]}"'
    return ""


def _of_a_plot(roots: Iterable[Thing]) -> Iterator[tuple[str, Thing]]:
    """Things of a plot that is not laid yet, by the path that they will have in it."""
    for root in roots:
        if root.kind.name == "plot":
            yield from ((thing.path, thing) for thing in root.below() if thing is not root)


def _inward(asked: Asked, thing: Thing, steps: Sequence[str], problems: list[Problem]) -> Thing | None:
    for step in steps:
        held = thing.parts.get(step)
        if isinstance(held, tuple) and len(held) == 1:
            held = held[0]
        if not isinstance(held, Thing):
            parts = [name for name, one in thing.parts.items() if isinstance(one, Thing)]
            what = f"{thing.path} has no single {step.replace('_', ' ')}"
            problems.append(
                asked.problem("asked-thing", what, did_you_mean(step, parts, "write the whole path"), step)
            )
            return None
        thing = held
    return thing
