"""What if: facts asked for a trial, such as `item "ship".weight=580 lb`. The record stays as it is.

    item "ship".weight = 580 lb             a thing by its kind and its key or name; the beginning of a name will do
    item "ship" / load 2.weight = 150 lb    a thing in it, by what it is and its number
    14 / line 3 / rope.diameter = 1/4 in    a thing by its path, as reports print it
    14 / line 3.rope.diameter = 1/4 in      the same: dots lead on from a thing to its parts
    house.batten_zero = stage-left          a fact of the house itself
    item "ship".on = 4                      what it hangs on

A name in quotes may have anything in it, strokes, dots and the other kind of quotes among it. What is asked holds
over whatever is written, and says where it comes from wherever it is printed.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from plumbtrue.documents.nodes import Scalar
from plumbtrue.documents.place import CannotRead, Place, Problem
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Name
from plumbtrue.rig.complaints import Complaints, did_you_mean, in_runs, listed
from plumbtrue.rig.copying import copied
from plumbtrue.rig.fact_values import read_value
from plumbtrue.rig.finding_things import HOUSE_ITSELF, paths_meant
from plumbtrue.rig.rig import OpenReference, Plot, Rig
from plumbtrue.rig.thing import Recorded, Thing
from plumbtrue.rig.vocabulary import Vocabulary

ASKED: Final = "asked on the command line"
SHOWN_AS: Final = "--set"
"""What stands for the file in the place of an asked fact."""

_NOWHERE: Final = Place(SHOWN_AS, 1, 1)
_BY_KIND: Final = frozenset({"item", "cue", "truss", "bridle", "hoist"})
"""Kinds of a plot of which no two things have one key."""
_FORM: Final = 'write a thing, a dot, a fact and what it would be, such as item "ship".weight=580 lb'
_QUOTES: Final = {'"': '"', "'": "'", "\u201c": "\u201d", "\u2018": "\u2019"}
"""Signs that open a name, and what closes it."""
_MOST_NAMED: Final = 99


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
    already: dict[tuple[Thing, str], str] = {}
    for number, text in enumerate(texts, start=1):
        _ask(Asked(text, number), roots, rig.vocabulary, problems, already)
    asked = (SHOWN_AS, "\n".join(texts))
    if problems:
        raise CannotRead(tuple(problems), dict([*rig.documents, asked]))
    of_plot = all(thing.enclosing("plot") is not None for thing, _ in already)
    # A house of which nothing is asked stays the one that was read: what is known of it holds.
    trial = replace(rig, house=rig.house if of_plot else house, documents=(*rig.documents, asked), indexed={})
    if plot is None or shown is None:
        return trial, plot
    still_open = [replace(one, thing=in_plot[one.thing]) for one in plot.open_references]
    return trial, replace(plot, plot=shown, open_references=tuple(_with_references(already, still_open)))


def _with_references(
    asked: Iterable[tuple[Thing, str]], still_open: Sequence[OpenReference]
) -> Iterator[OpenReference]:
    """The names that stand for things of a house, with those that are asked in place of what is written."""
    names = {key: key[0].facts[key[1]] for key in asked if key[0].kind.facts[key[1]].type == "reference"}
    yield from (one for one in still_open if (one.thing, one.fact) not in names)
    for (thing, fact), recorded in names.items():
        of = thing.kind.facts[fact].of
        if isinstance(recorded.value, Name) and of is not None:
            yield OpenReference(thing, fact, of, (recorded.value.text,), (recorded.place,))


def told(rig: Rig) -> tuple[str, ...]:
    """What is asked of a house or its plot, each as a sentence for whoever reads what comes of it."""
    asked = dict(rig.documents).get(SHOWN_AS, "")
    return tuple(f"What if {text}: {ASKED}, not on record." for text in asked.splitlines())


class NotSoWritten(ValueError):  # noqa: N818  # it tells a state, not an error
    """A text is not how such a fact is written, or is beyond what it can be."""


def ask_of(thing: Thing, fact: str, text: str) -> None:
    """Let a fact be what a text says, as `--set` does.

    Raises:
        NotSoWritten: that is not written as such a fact is.
    """
    complaints = Complaints()
    value = read_value(thing.kind.facts[fact], Scalar(text, _NOWHERE, length=len(text)), complaints)
    if value is None:
        raise NotSoWritten(f"{text} is no {fact} of {thing.path}: {complaints.all()[0].what}")
    thing.facts[fact] = Recorded(value, text, _NOWHERE, origin="asked", note=ASKED)


def as_asked(thing: Thing, fact: str, text: str) -> str:
    """What to write after `--set` so that a fact of a thing is tried as a text says."""
    short = thing.key.removeprefix(f"{thing.kind.word} ")
    plot = thing.enclosing("plot")
    if thing.parent is plot and thing.kind.name in _BY_KIND and '"' not in short and "'" not in short:
        return f'{thing.kind.word} "{short}".{fact}={text}'
    return f"{thing.path}.{fact}={text}"


def _ask(
    asked: Asked,
    roots: Sequence[Thing],
    vocabulary: Vocabulary,
    problems: list[Problem],
    already: dict[tuple[Thing, str], str],
) -> None:
    target = _target(asked, roots, vocabulary, problems)
    if target is None:
        return
    fact = target.thing.kind.facts[target.fact]
    complaints = Complaints()
    value = read_value(fact, target.value, complaints)
    problems.extend(complaints.all())
    if value is None:
        return
    before = already.setdefault((target.thing, target.fact), asked.text)
    if before is not asked.text:
        what = f"{target.fact.replace('_', ' ')} of {target.thing.path} is asked for twice"
        problems.append(asked.problem("asked-twice", what, f"leave out this one or {before}"))
        return
    target.thing.facts[target.fact] = Recorded(
        value, target.value.text, target.value.place, origin="asked", note=ASKED
    )


def _target(
    asked: Asked, roots: Sequence[Thing], vocabulary: Vocabulary, problems: list[Problem]
) -> _Target | None:
    equals = next(_outside_quotes(asked.text, "="), -1)
    left, right = asked.text[: max(equals, 0)], asked.text[equals + 1 :] if equals >= 0 else ""
    if not left.strip() or not right.strip() or not asked.text.isprintable():
        problems.append(asked.problem("asked-form", f"{asked.text} asks for nothing", _FORM))
        return None
    dots = list(_outside_quotes(left, "."))
    where, fact = (left[: dots[-1]].strip(), left[dots[-1] + 1 :].strip()) if dots else (left.strip(), "")
    if not where or not fact:
        what = f"{left.strip()} names no {'fact' if where else 'thing'}"
        problems.append(asked.problem("asked-form", what, _FORM, left.strip()))
        return None
    thing = _thing(asked, where, roots, vocabulary, problems)
    if thing is None:
        return None
    if not _can_be_asked(thing, fact):
        problems.append(_cannot_be_asked(asked, thing, fact, roots))
        return None
    text = right.strip()
    at = asked.text.index(text, equals + 1)
    value = Scalar(text, Place(SHOWN_AS, asked.number, at + 1), length=len(text))
    return _Target(thing, fact, value)


def _outside_quotes(text: str, sign: str) -> Iterator[int]:
    """Where a sign stands that is in no name in quotes."""
    closing = ""
    for at, one in enumerate(text):
        if closing:
            closing = "" if one == closing else closing
        elif one in _QUOTES and _QUOTES[one] in text[at + 1 :] and (at == 0 or text[at - 1].isspace()):
            closing = _QUOTES[one]
        elif one == sign:
            yield at


def _can_be_asked(thing: Thing, name: str) -> bool:
    """Whether a fact is written as one text: no thing of its own, nothing worked out. A plot's names of things of
    the house can be asked for, the house's own cannot.
    """
    fact = thing.kind.facts.get(name)
    if fact is None or fact.is_computed or fact.holds_things or fact.type == "list of reference":
        return False
    return fact.type != "reference" or thing.enclosing("plot") is not None


def _cannot_be_asked(asked: Asked, thing: Thing, name: str, roots: Sequence[Thing]) -> Problem:
    fact = thing.kind.facts.get(name)
    what = f"{name} of {thing.path} cannot be asked for"
    names = [one for one in thing.kind.facts if _can_be_asked(thing, one)]
    of_a_piece = _as_a_piece(thing.key, roots, name) if thing.kind.name == "line_set" else ""
    there = f"there are {listed(names, _MOST_NAMED)}"
    if fact is not None and fact.holds_things:
        held = thing.parts.get(name)
        its = [held] if isinstance(held, Thing) else list(held) if isinstance(held, tuple) else []
        what += ": it is no figure or word, but things with facts of their own"
        paths = listed([one.path for one in its], _MOST_NAMED)
        instead = f"ask for a fact of {paths}" if its else "nothing of it is written; write it in the file"
    elif fact is not None and fact.is_computed:
        what += ": it is worked out from others"
        instead = f"ask for what it is worked out from; {there}"
    else:
        instead = of_a_piece or did_you_mean(name.lower(), names, there)
    return asked.problem("asked-fact", what, instead, name)


def _thing(
    asked: Asked, where: str, roots: Sequence[Thing], vocabulary: Vocabulary, problems: list[Problem]
) -> Thing | None:
    """The thing that a text names: by its path, by kind and name, or by what it is in another thing."""
    by_path = _paths(roots)
    found = next((by_path[one] for one in paths_meant(where) if one in by_path), None)
    if found is not None:
        return found
    strokes, dots = ([*_outside_quotes(where, sign)][-1:] for sign in "/.")
    splits = sorted({*strokes, *dots}, reverse=True)
    for first, last in enumerate(splits):
        # A step further in; what stands before it is looked for in the same ways. A key may have a dot in it.
        told = problems if first == len(splits) - 1 and len(splits) == 1 else []
        further = _step_in(asked, where, last, roots, vocabulary, told)
        if further is not None:
            return further
    if splits:
        if len(splits) > 1:
            _step_in(asked, where, splits[0], roots, vocabulary, problems)
        return None
    named = _kind_and_name(where, vocabulary)
    if named is not None:
        return _by_name(asked, *named, roots, vocabulary, problems)
    wanted = next(paths_meant(where))
    what = f"there is no {wanted} in this house"
    instead = _as_a_piece(where, roots) or did_you_mean(wanted, by_path, _what_there_is(roots))
    problems.append(asked.problem("asked-thing", what, instead, where))
    return None


def _step_in(
    asked: Asked,
    where: str,
    last: int,
    roots: Sequence[Thing],
    vocabulary: Vocabulary,
    problems: list[Problem],
) -> Thing | None:
    within, step = where[:last].strip(), where[last + 1 :].strip()
    around = _thing(asked, within, roots, vocabulary, problems)
    return None if around is None else _inward(asked, around, where[last], step, problems)


def _paths(roots: Sequence[Thing]) -> dict[str, Thing]:
    """Every thing by its path."""
    every = {thing.path: thing for root in roots for thing in root.below()}
    every |= {f"plot / {name}": thing for name, thing in _of_a_plot(roots)}
    every |= {name: root for root in roots if root.kind.name == "house" for name in HOUSE_ITSELF}
    return every


def _what_there_is(roots: Sequence[Thing]) -> str:
    """The sets of the house and the pieces of the plot, for somebody who named neither."""
    sets = [one.key for root in roots for one in root.below() if one.kind.name == "line_set"]
    items = [_called(one) for root in roots for one in root.below() if one.kind.name == "item"]
    told = [f"the sets {listed(in_runs(sets), _MOST_NAMED)}"] if sets else []
    told += [f"the items {listed(items, _MOST_NAMED)}"] if items else []
    return f"there are {'; '.join(told)}" if told else _FORM


def _kind_and_name(text: str, vocabulary: Vocabulary) -> tuple[str, str] | None:
    """A kind and a name, in quotes or without: `item "ship"`, `item ship profile`."""
    before, sign, rest = next(
        ((text[:at], text[at], text[at + 1 :]) for at in range(len(text)) if text[at] in _QUOTES),
        (text, "", ""),
    )
    if sign and rest.endswith(_QUOTES[sign]) and before.strip():
        return before.strip(), rest[: -len(sign)]
    words = text.split()
    for count in range(len(words) - 1, 0, -1):
        kind = " ".join(words[:count])
        if vocabulary.kinds_of(_kind_word(kind)):
            return kind, " ".join(words[count:])
    return None


def _kind_word(kind: str) -> str:
    return kind.strip().lower().replace(" ", "_").replace("-", "_")


def _by_name(
    asked: Asked,
    kind: str,
    name: str,
    roots: Sequence[Thing],
    vocabulary: Vocabulary,
    problems: list[Problem],
) -> Thing | None:
    if not name.strip():
        problems.append(asked.problem("asked-form", f"{asked.text} names no {kind}", _FORM))
        return None
    kinds = vocabulary.kinds_of(_kind_word(kind))
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
    otherwise = f"there are {listed([_called(thing) for thing in things], _MOST_NAMED)}" if known else _FORM
    if (
        not things
        and not any(root.kind.name == "plot" for root in roots)
        and _is_of_a_plot(kinds, vocabulary)
    ):
        otherwise = "no plot is laid over the house: name one with --plot"
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


def _is_of_a_plot(kinds: Iterable[str], vocabulary: Vocabulary) -> bool:
    """Whether such things are found in a plot."""
    return any("plot" in {one.split(".")[0] for one in vocabulary.kinds[kind].sits_in} for kind in kinds)


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


def _inward(asked: Asked, thing: Thing, sign: str, step: str, problems: list[Problem]) -> Thing | None:
    """A thing in another: by the fact that holds it, by its key, or by what it is and its number."""
    held = thing.parts.get(step)
    if isinstance(held, tuple) and len(held) == 1:
        held = held[0]
    if isinstance(held, Thing):
        return held
    children = tuple(thing.children())
    wanted = step.lower().strip("\"'")
    found = [one for one in children if wanted in _steps_to(one)]
    if len(found) == 1:
        return found[0]
    what = (
        f"there is no {thing.path} / {step} in this house"
        if sign == "/"
        else f"{thing.path} has no single {step.replace('_', ' ')}"
    )
    names = [name for name, one in thing.parts.items() if isinstance(one, Thing)]
    names += [one.key for one in children if one.key not in names]
    there = f"there are {listed(names, _MOST_NAMED)}" if names else "nothing is written in it"
    problems.append(asked.problem("asked-thing", what, did_you_mean(step, names, there), step))
    return None


def _steps_to(thing: Thing) -> Iterator[str]:
    """What a thing is called by whoever stands before what it is in."""
    key = thing.key.lower()
    kind, dot, number = key.partition(".")
    yield from (key, key.replace("-", " "))
    for name in _names(thing):
        yield name.lower()
    if kind == thing.kind.word:
        # The first of several bears no number.
        yield f"{kind} {number if dot else '1'}"
        yield f"{kind}.{number if dot else '1'}"
