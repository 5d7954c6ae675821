"""The houses that a command is asked about: files, or one on standard input, each checked by itself."""

import sys
from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from datetime import date
from pathlib import Path

from plumbtrue.audit.auditing import audit
from plumbtrue.audit.house_check import Checked, check_many, laid_over, prepare, read_all_waivers, rules_for
from plumbtrue.cli.pack_names import asked_for
from plumbtrue.cli.progress import Progress
from plumbtrue.documents.place import CannotRead
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.reading import read_rig_text

STANDARD_INPUT = "-"
_SHOWN = "standard input"


@unchanging
class Wanted:
    """How houses are to be checked."""

    on: date
    packs: tuple[str, ...] = ()
    waivers: tuple[Path, ...] = ()
    third_party: bool = True
    jobs: int = 1
    plot: Path | None = None
    """A plot to lay over each house."""
    asked: tuple[str, ...] = ()
    """Facts to try; the record stays as it is."""


def checked(files: Sequence[str], wanted: Wanted) -> Iterator[Checked]:
    """Check each house, in the order given; one that cannot be read stops none of the others."""
    paths = [Path(file) for file in files if file != STANDARD_INPUT]
    with ExitStack() as stack:
        executor = None
        if wanted.jobs > 1 and len(paths) > 1:
            from concurrent.futures import ProcessPoolExecutor

            executor = stack.enter_context(ProcessPoolExecutor(min(wanted.jobs, len(paths))))
        base, packs = asked_for(wanted.packs)
        others = check_many(
            paths,
            on=wanted.on,
            packs=packs,
            packs_from=base,
            waivers=wanted.waivers,
            third_party=wanted.third_party,
            executor=executor,
            plot=wanted.plot,
            asked=wanted.asked,
            whatever_it_lacks=len(files) > 1,
        )
        with Progress("checking", len(files), "houses") as told:
            for file in files:
                if file == STANDARD_INPUT:
                    yield _standard_input(wanted, base, packs, one_of_several=len(files) > 1)
                else:
                    yield next(others)
                told()


def _standard_input(
    wanted: Wanted, base: Path | None, packs: tuple[str, ...], *, one_of_several: bool
) -> Checked:
    path = Path(_SHOWN)
    try:
        ground = prepare(third_party=wanted.third_party)
        here = Path.cwd()
        house = read_rig_text(sys.stdin.buffer.read(), _SHOWN, ground.vocabulary, folder=here)
        rig = laid_over(house, wanted.plot, wanted.asked, whatever_it_lacks=one_of_several)
        book = rules_for(rig, base or here, ground, on=wanted.on, packs=packs)
        found = audit(rig, book, wanted.on, read_all_waivers(wanted.waivers), further=ground.further)
    except CannotRead as failure:
        return Checked(path, None, failure)
    return Checked(path, found)
