"""`plumbtrue check`: houses against their rule packs, reported in any format."""

from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from plumbtrue.cli import options
from plumbtrue.cli.days import Day
from plumbtrue.cli.progress import Progress
from plumbtrue.cli.report_output import put, terminal_of

if TYPE_CHECKING:
    from plumbtrue.audit.house_check import Checked
    from plumbtrue.reporting.formats import Surroundings, Write


@click.command()
@click.argument("files", nargs=-1, metavar="FILE...")
@options.packs
@click.option("--plot", metavar="FILE", help="Lay this plot of a show over the house.")
@options.asked
@click.option("--on", metavar="DATE", type=Day(), help="Check as of this day.  [default: today]")
@options.gate()
@click.option(
    "--format",
    "format_name",
    default="terminal",
    show_default=True,
    metavar="FORMAT",
    help="How to report; `--format list` names them all.",
)
@click.option(
    "--output",
    metavar="FILE",
    help="Write the report there, whole or not at all. With html also a folder: a page for each house.",
)
@options.waivers
@options.no_plugins
@click.option(
    "--jobs", default=1, show_default=True, type=click.IntRange(1), metavar="N", help="Houses at a time."
)
@click.option(
    "--advice",
    is_flag=True,
    help="With a plot: the number that would settle an item, and where else it would hang. Takes its time.",
)
@options.width
def check(
    files: tuple[str, ...],
    packs: tuple[str, ...],
    on: datetime | None,
    gate: str,
    format_name: str,
    output: str | None,
    waivers: tuple[str, ...],
    no_plugins: bool,
    jobs: int,
    plot: str | None,
    asked: tuple[str, ...],
    advice: bool,
    width: int | None,
) -> None:
    """Check houses against their rule packs.

    FILE is a house's rig file, or - for standard input. What must not fly comes first, then what to do in
    order, then what to find out, then what no rule looked at.

    \b
    Status 0: nothing at or above the gate was found, and nothing there is left open.
    Status 1: something at or above the gate was found.
    Status 2: wrong usage, or something that cannot be read.
    Status 3: no such finding, but something at the gate cannot be told, or not everything was looked at.

    Example: plumbtrue check fixtures/demo/house.yaml --on 2026-04-13 --format html --output report.html

    \b
    What --set takes: a thing, a dot, a fact, and what it would be.
      item "ship".weight=480 lb           kind, and key or beginning of the name
      item "21" / load 1.weight=150 lb    a thing in it, by its number
      item "21".on=4                      what it hangs on
      cue "Q13".time=12 s
      26.low_trim=5 ft                    a thing by its path, as reports print it
      21 / line 3.rope.diameter=3/16 in
      house.batten_zero=stage-left        a fact of the house itself
    """
    from plumbtrue.audit.gate import ExitStatus, exit_status, together
    from plumbtrue.audit.waivers_of_several import matched_somewhere
    from plumbtrue.cli.houses import Wanted, checked
    from plumbtrue.reporting.formats import Surroundings
    from plumbtrue.rules.severity import Severity

    write = _format(format_name, third_party=not no_plugins)
    if not files:
        raise click.UsageError("name the file of a house, or - for standard input")
    day = on.date() if on is not None else date.today()
    shown = None if plot is None else Path(plot)
    wanted = Wanted(day, packs, tuple(Path(one) for one in waivers), not no_plugins, jobs, shown, asked)
    houses = matched_somewhere(list(checked(files, wanted)))
    for house in houses:
        _tell_what_is_wrong(house)
    around = Surroundings(day, Severity(gate), *terminal_of(width, output), advice)
    if output is not None and Path(output).is_dir():
        _put_pages(houses, around, format_name, Path(output))
    else:
        with Progress("writing the report", 1):
            text = write(houses, around)
        put(text, output)
    statuses = [
        ExitStatus.CANNOT_USE if one.audit is None else exit_status(one.audit, Severity(gate))
        for one in houses
    ]
    click.get_current_context().exit(together(statuses))


def _format(name: str, *, third_party: bool) -> "Write":
    """What writes a format, of ours or of a plugin."""
    from plumbtrue.audit.house_check import prepare
    from plumbtrue.documents.nearest_word import nearest
    from plumbtrue.reporting.formats import FORMATS, of_plugin

    brought = {
        one.name: one
        for plugin in prepare(third_party=third_party).plugins.loaded
        for one in plugin.report_formats
    }
    meanings = {
        **{one.name: one.meaning for one in brought.values()},
        **{one.name: one.meaning for one in FORMATS.values()},
    }
    if name == "list":
        wide = max(len(one) for one in meanings)
        click.echo("\n".join(f"{one:{wide}}  {meaning}" for one, meaning in meanings.items()))
        click.get_current_context().exit(0)
    if name in FORMATS:
        return FORMATS[name].write
    if name in brought:
        return of_plugin(brought[name])
    near = nearest(name, list(meanings))
    raise click.BadParameter(
        f"there is no format {name}; "
        + (f"did you mean {near}?" if near else f"there are {', '.join(meanings)}"),
        param_hint="--format",
    )


def _tell_what_is_wrong(house: "Checked") -> None:
    """Documents that cannot be read, and acceptances that match nothing, in full."""
    from plumbtrue.documents.place import CannotRead
    from plumbtrue.documents.rendering import render_problems

    if house.failure is not None:
        click.echo(render_problems(house.failure), err=True)
    elif house.audit is not None and house.audit.problems:
        click.echo(render_problems(CannotRead(house.audit.problems)), err=True)
    if house.audit is not None:
        book = house.audit.rulebook
        for one in book.not_run:
            if one.problems:
                click.echo(render_problems(CannotRead(one.problems, book.texts)), err=True)


def _put_pages(houses: "Sequence[Checked]", around: "Surroundings", format_name: str, folder: Path) -> None:
    """A page for each house and an overview, in a folder."""
    if format_name != "html":
        raise click.UsageError(f"{folder} is a folder; only html is written into one, a page for each house")
    from plumbtrue.reporting.html import pages

    with Progress("writing", len(houses), "reports") as told:
        for name, page in pages(houses, around):
            put(page, str(folder / name))
            told()
