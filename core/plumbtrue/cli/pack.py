"""`plumbtrue pack`: which packs there are, and how well their rules stand up to being altered."""

import os
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from plumbtrue.cli import options
from plumbtrue.cli.pack_names import base_and_names, is_folder

if TYPE_CHECKING:
    from plumbtrue.audit.house_check import Ground
    from plumbtrue.rules.packs.pack import RuleBook


@click.group()
def pack() -> None:
    """List rule packs, or put them to the test."""


@pack.command("list")
@click.argument("folders", nargs=-1, metavar="[PACK]...")
@options.no_plugins
def list_packs(folders: tuple[str, ...], no_plugins: bool) -> None:
    """Show the packs that are installed, and those in the folders given.

    For each its edition, digest, number of rules, what it covers and what it leaves out.

    Example: plumbtrue pack list
    """
    from plumbtrue.audit.house_check import prepare
    from plumbtrue.reporting.pack_listing import pack_listing

    ground = prepare(third_party=not no_plugins)
    names = [*ground.plugins.pack_folders(), *folders]
    book = _book(names, ground)
    click.echo(pack_listing(book, ground.plugins), nl=False)
    click.get_current_context().exit(_told(book))


@pack.command("test")
@click.argument("names", nargs=-1, metavar="[PACK]...")
@click.option(
    "--rule", "rules", multiple=True, metavar="TEXT", help="Only rules with TEXT in their name or file."
)
@options.no_plugins
def test_packs(names: tuple[str, ...], rules: tuple[str, ...], no_plugins: bool) -> None:
    """Run the examples of every rule, then alter each rule and see whether an example notices.

    PACK is the name of an installed pack or the folder of one; a folder stands on the packs that it
    requires. Without any, the practice pack is tested. Every file is held against the schemas that editors
    are given, too. Status 0: all is well; 1: something is not; 2: a pack
    cannot be read.

    Example: plumbtrue pack test ./house-rules --rule rope
    """
    from plumbtrue.audit.house_check import prepare
    from plumbtrue.reporting.pack_trial import pack_trial
    from plumbtrue.rules.examples.running import try_pack

    ground = prepare(third_party=not no_plugins)
    asked = names or ("practice",)
    book = _book(asked, ground, by_schema=True)
    leave = click.get_current_context().exit
    if status := _told(book):
        # Rules that could be read may still be sound, but nobody can say so of a pack that could not.
        leave(status)
    tests = [test for name in _asked_for(book, asked) for test in try_pack(book, name, only=rules)]
    if not tests:
        click.echo(
            "no rule was tested" + (f": none is named {' or '.join(rules)}" if rules else ""), err=True
        )
        leave(1)
    click.echo(pack_trial(tests, book), nl=False)
    leave(int(not all(one.is_good for one in tests)))


def _book(names: Sequence[str], ground: "Ground", *, by_schema: bool = False) -> "RuleBook":
    """The packs of those names and folders, on the packs that they require.

    Packs of plugins are read from their folders like anybody else's, so that all their problems are told.
    """
    from plumbtrue.rules.packs.loading import read_book

    brought = {name: str(folder) for name, (_, folder) in ground.plugins.pack_folders().items()}
    base, usual = base_and_names(names, Path.cwd(), brought)
    # Rules are put to the test as of the day on which examples are judged, so that no clock is read.
    return read_book(
        usual,
        base,
        ground.vocabulary,
        ground.plugins,
        on=date(2026, 1, 1),
        by_schema=by_schema,
        here=Path.cwd(),
    )


def _asked_for(book: "RuleBook", names: Sequence[str]) -> tuple[str, ...]:
    """The packs asked for, by name, without those that they only stand on."""
    last = {Path(os.path.realpath(name)).name if is_folder(name) else name for name in names}
    return tuple(one.name for one in book.packs if one.name in last or Path(one.folder).name in last)


def _told(book: "RuleBook") -> int:
    """Tell what is wrong with the packs themselves, and what that comes to."""
    from plumbtrue.documents.place import CannotRead
    from plumbtrue.documents.rendering import render_problems

    if book.problems:
        click.echo(render_problems(CannotRead(book.problems, book.texts)), err=True)
    for one in book.not_run:
        click.echo(f"not run: {one}", err=True)
    return 2 if book.problems or book.not_run else 0
