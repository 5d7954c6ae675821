"""A house checked from its files: the one convenience of this floor that reads the disk.

`check_many` takes any `concurrent.futures.Executor`, so that a venue group can hand the same work to
whatever runs its jobs. One house that cannot be read stops none of the others.
"""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from functools import cache, partial
from pathlib import Path
from typing import TYPE_CHECKING

from plumbtrue.audit.auditing import Audit, Computations, audit
from plumbtrue.audit.waivers import Waiver, read_waivers
from plumbtrue.documents.place import CannotRead, Place
from plumbtrue.documents.reading import read_document
from plumbtrue.plugins import Failure, Plugin, Plugins, load_plugins
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.accepted_plots import with_accepted
from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot, read_rig
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.vocabulary import Vocabulary
from plumbtrue.rig.vocabulary_loading import load_vocabulary, with_computed
from plumbtrue.rig.what_if import with_asked
from plumbtrue.rules.packs.loading import load_packs
from plumbtrue.rules.packs.pack import RuleBook

if TYPE_CHECKING:
    from concurrent.futures import Executor


@unchanging
class Checked:
    """One house of a run: its audit, or why it could not be read."""

    path: Path
    audit: Audit | None
    failure: CannotRead | None = None


@unchanging
class Ground:
    """What stands before any house is read: the plugins, and the vocabulary with what they add to it."""

    plugins: Plugins
    vocabulary: Vocabulary
    further: Computations


def check_house(
    path: Path,
    *,
    on: date,
    packs: Sequence[str] = (),
    packs_from: Path | None = None,
    waivers: Sequence[Path] = (),
    third_party: bool = True,
    plot: Path | None = None,
    asked: Sequence[str] = (),
    whatever_it_lacks: bool = False,
) -> Audit:
    """Check the house in a file, as of a day: the clock is never read.

    Args:
        whatever_it_lacks: lay the plot although the house lacks what it names; that is told as what it is.
        plot: a plot to lay over the house.
        asked: facts to try, such as `item "ship".weight=580 lb`; the record stays as it is.
        packs: packs to judge by, instead of those that the house's file names.
        packs_from: the folder in which those packs lie that are asked for by their folder; else the house's.
        third_party: whether plugins of other distributions are used.
    Raises:
        CannotRead: the house, a pack or a file of waivers cannot be used.
    """
    ground = prepare(third_party=third_party)
    rig = laid_over(read_rig(path, ground.vocabulary), plot, asked, whatever_it_lacks=whatever_it_lacks)
    book = rules_for(rig, (packs_from if packs else None) or path.parent, ground, on=on, packs=packs)
    return audit(rig, book, on, read_all_waivers(waivers), further=ground.further)


def laid_over(
    rig: Rig, plot: Path | None, asked: Sequence[str] = (), *, whatever_it_lacks: bool = False
) -> Rig:
    """A house with a plot laid over it, and with what is asked for a trial. Raises `CannotRead`."""
    read = None if plot is None else with_accepted(read_plot(plot, rig.vocabulary), plot)
    trial, shown = with_asked(rig, read, asked)
    return trial if shown is None else lay(trial, shown, whatever_it_lacks=whatever_it_lacks)


def check_many(
    paths: Iterable[Path],
    *,
    on: date,
    packs: Sequence[str] = (),
    packs_from: Path | None = None,
    waivers: Sequence[Path] = (),
    third_party: bool = True,
    executor: "Executor | None" = None,
    plot: Path | None = None,
    asked: Sequence[str] = (),
    whatever_it_lacks: bool = False,
) -> Iterator[Checked]:
    """Check several houses. They come back in the order given, whatever the executor does first."""
    check = partial(
        try_house,
        on=on,
        packs=tuple(packs),
        packs_from=packs_from,
        waivers=tuple(waivers),
        third_party=third_party,
        plot=plot,
        asked=tuple(asked),
        whatever_it_lacks=whatever_it_lacks,
    )
    yield from map(check, paths) if executor is None else executor.map(check, paths)


def try_house(
    path: Path,
    *,
    on: date,
    packs: Sequence[str],
    waivers: Sequence[Path],
    third_party: bool,
    packs_from: Path | None = None,
    plot: Path | None = None,
    asked: Sequence[str] = (),
    whatever_it_lacks: bool = False,
) -> Checked:
    """Check a house; one that cannot be read is a result too."""
    try:
        found = check_house(
            path,
            on=on,
            packs=packs,
            packs_from=packs_from,
            waivers=waivers,
            third_party=third_party,
            plot=plot,
            asked=asked,
            whatever_it_lacks=whatever_it_lacks,
        )
        return Checked(path, found)
    except CannotRead as failure:
        return Checked(path, None, failure)


def rules_for(rig: Rig, folder: Path, ground: Ground, *, on: date, packs: Sequence[str] = ()) -> RuleBook:
    """The rules in force for a house: from the packs asked for, or those that its file names, else the
    practice pack.

    Raises `CannotRead`.
    """
    if packs:
        names, places = tuple(packs), tuple(Place("--pack", line, 1) for line in range(1, len(packs) + 1))
    else:
        names, places = rig.rule_packs or ("practice",), rig.rule_packs_at
    named_at = dict(zip(names, places, strict=False))
    try:
        return load_packs(
            names, folder, ground.vocabulary, ground.plugins, on=on, examples=False, named_at=named_at
        )
    except CannotRead as failure:
        texts = {"--pack": "\n".join(packs), **dict(rig.documents), **failure.texts}
        raise CannotRead(failure.problems, texts) from None


def read_all_waivers(paths: Sequence[Path]) -> tuple[Waiver, ...]:
    """The waivers of several files. Raises `CannotRead`."""
    return tuple(waiver for path in paths for waiver in read_waivers(read_document(path)))


@cache
def prepare(*, third_party: bool = True) -> Ground:
    """Load the plugins and the vocabulary, once for a process."""
    return ground_from(load_plugins(third_party=third_party))


def ground_from(plugins: Plugins) -> Ground:
    """The vocabulary with what plugins add. A plugin whose additions do not fit is left out and named."""
    kept: list[Plugin] = []
    failures = list(plugins.failures)
    folders: tuple[Path, ...] = ()
    vocabulary = load_vocabulary()
    for plugin in plugins.loaded:
        try:
            extended = _with_facts(load_vocabulary((*folders, *plugin.part_kinds)), [*kept, plugin])
        except (CannotRead, ValueError) as error:
            why = f"brings kinds or facts that do not fit the vocabulary: {error}"
            failures.append(Failure(plugin.name, plugin.distribution, plugin.version, why))
            continue
        vocabulary, folders = extended, (*folders, *plugin.part_kinds)
        kept.append(plugin)
    further = {fact.key: fact.compute for plugin in kept for fact in plugin.computed_facts}
    return Ground(Plugins(tuple(kept), tuple(failures), plugins.switched_off), vocabulary, further)


def _with_facts(vocabulary: Vocabulary, plugins: Iterable[Plugin]) -> Vocabulary:
    for plugin in plugins:
        for fact in plugin.computed_facts:
            vocabulary = with_computed(vocabulary, fact.about, (fact.fact,))
    return vocabulary
