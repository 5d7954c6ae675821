"""Things of a rig by path, and by kind or class. The index is built once a rig, when somebody first asks."""

import re
from collections.abc import Iterator
from itertools import chain
from typing import Final

from plumbtrue.rig.rig import Rig
from plumbtrue.rig.thing import ROLES_SHOWN, Thing

HOUSE_ITSELF: Final = ("house", "the house", "the house itself")
"""What the house is called where its name is not written."""

_SAID_BEFORE: Final = re.compile(r"^(?:line[ -]?)?set +", re.IGNORECASE)


def thing_at(rig: Rig, path: str) -> Thing | None:
    """The thing with that path, or nothing. Paths under which it was formerly known count too.

    Blanks around the strokes count for nothing: `14/line 3` is `14 / line 3`. So does what people say before
    the number: `set 14`. `house` is the house itself, and a thing of the plot is found without `plot /` too.
    """
    by_path = _index(rig, "path")
    for wanted in paths_meant(path):
        found = by_path.get(wanted)
        if found:
            return found[0]
    return rig.house if path.strip().lower() in HOUSE_ITSELF else None


def paths_meant(path: str) -> Iterator[str]:
    """What a path that somebody typed may stand for, the likeliest first."""
    steps = [step.strip() for step in path.split("/")]
    yield " / ".join(steps)
    number = _SAID_BEFORE.sub("", steps[0])
    if number != steps[0]:
        yield " / ".join((number, *steps[1:]))
    yield " / ".join(("plot", *steps))


def things_of(rig: Rig, kind_or_class: str) -> tuple[Thing, ...]:
    """Every thing of a kind or class, in the order of the file; nothing for a name that is neither."""
    name = kind_or_class.replace("-", "_")
    kinds = _index(rig, "kind")
    if name in rig.vocabulary.kinds:
        return kinds.get(name, ())
    found = _index(rig, "class")
    return found.get(name, ())


def _index(rig: Rig, by: str) -> dict[str, tuple[Thing, ...]]:
    if not rig.indexed:
        rig.indexed.update(_built(rig))
    return rig.indexed[by]


def _built(rig: Rig) -> dict[str, dict[str, tuple[Thing, ...]]]:
    paths: dict[str, tuple[Thing, ...]] = {}
    kinds: dict[str, list[Thing]] = {}
    classes: dict[str, list[Thing]] = {}
    former: dict[str, tuple[Thing, ...]] = {}
    roots = [_with_paths(rig.house, "", ())]
    if rig.plot is not None:
        roots.append(_with_paths(rig.plot, rig.plot.key, ()))
    for thing, path, older in chain.from_iterable(roots):
        paths.setdefault(path, (thing,))
        for one in older:
            former.setdefault(one, (thing,))
        kinds.setdefault(thing.kind.name, []).append(thing)
        for name in thing.kind.classes:
            classes.setdefault(name, []).append(thing)
    return {
        "path": {**former, **paths},
        "kind": {name: tuple(things) for name, things in kinds.items()},
        "class": {name: tuple(things) for name, things in classes.items()},
    }


def _with_paths(
    thing: Thing, path: str, older: tuple[str, ...]
) -> Iterator[tuple[Thing, str, tuple[str, ...]]]:
    """A thing and all below it with their paths, and those under which they were formerly known."""
    yield thing, path or thing.key, older
    for child in thing.children():
        now = _below(path, child, child.key)
        former = [_below(one, child, child.key) for one in older]
        for key in _former_keys(child):
            former += [_below(one, child, key) for one in (path, *older)]
        yield from _with_paths(child, now, tuple(former))


def _below(path: str, child: Thing, key: str) -> str:
    step = f"{child.role.replace('_', ' ')} / {key}" if child.role in ROLES_SHOWN else key
    return f"{path} / {step}" if path else step


def _former_keys(thing: Thing) -> set[str]:
    """Former keys, as written and with what its key puts before it ("line 3")."""
    called = thing.key.rpartition(" ")[0]
    return {name for key in thing.formerly for name in (key, f"{called} {key}".strip())}
