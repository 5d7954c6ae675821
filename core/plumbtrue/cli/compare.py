"""`plumbtrue compare`: two revisions as things and consequences, and a status for a pipeline."""

from datetime import date, datetime
from pathlib import Path
from typing import Final

import click

from plumbtrue.cli import options
from plumbtrue.cli.days import Day
from plumbtrue.cli.report_output import put, terminal_of

_FORMATS: Final = ("terminal", "markdown", "html", "json")


@click.command()
@click.argument("old", metavar="OLD")
@click.argument("new", metavar="NEW")
@click.option("--plot-old", metavar="PLOT", help="The show that hangs in the older house.")
@click.option("--plot-new", metavar="PLOT", help="The show that hangs in the newer house.")
@click.option(
    "--house",
    metavar="HOUSE",
    help="The house under two plots.  [default: the one that each plot names]",
)
@click.option(
    "--on",
    metavar="DATE",
    type=Day(),
    help="Judge both as of this day.  [default: today]",
)
@options.gate(" of what is new or worse")
@click.option(
    "--format",
    "format_name",
    default="terminal",
    show_default=True,
    metavar="FORMAT",
    type=click.Choice(_FORMATS),
    help=f"How to report: {', '.join(_FORMATS)}.",
)
@click.option("--output", metavar="FILE", help="Write it there, whole or not at all, instead of here.")
@options.waivers
@options.no_plugins
@options.width
def compare(
    old: str,
    new: str,
    plot_old: str | None,
    plot_new: str | None,
    house: str | None,
    on: datetime | None,
    gate: str,
    format_name: str,
    output: str | None,
    waivers: tuple[str, ...],
    no_plugins: bool,
    width: int | None,
) -> None:
    """Compare two revisions of a house, of a show's plot, or of a house's packs.

    OLD and NEW are two houses or two plots: files, or REV:PATH of the git history that holds them, PATH as
    seen from the top of the repository, or ./PATH as seen from here. What is worse comes first, then what
    was changed, what that did to values, and what to do on which set.

    \b
    Status 0: nothing at or above the gate is new or worse, and nothing there was opened.
    Status 1: something at or above the gate is new or worse.
    Status 2: wrong usage, or something that cannot be read.
    Status 3: nothing such, but at the gate it cannot be told, or not everything was looked at.

    Example: plumbtrue compare HEAD:fixtures/demo/house.yaml fixtures/demo/house.yaml --on 2026-04-13
    """
    from plumbtrue.audit.comparing import comparison_status
    from plumbtrue.audit.comparing_files import Asked, compare_files
    from plumbtrue.reporting.comparison_formats import written
    from plumbtrue.rules.severity import Severity

    day = on.date() if on is not None else date.today()
    found = compare_files(
        Asked(old, new, plot_old, plot_new, house),
        on=day,
        here=Path(),
        waivers=[Path(one) for one in waivers],
        third_party=not no_plugins,
    )
    columns, colour, signs = terminal_of(width, output)
    put(
        written(
            found,
            format_name,
            old=_called(old, plot_old),
            new=_called(new, plot_new),
            gate=Severity(gate),
            width=columns,
            colour=colour,
            signs=signs,
        ),
        output,
    )
    if found.problems:
        from plumbtrue.documents.place import CannotRead
        from plumbtrue.documents.rendering import render_problems

        click.echo(render_problems(CannotRead(found.problems)), err=True)
    click.get_current_context().exit(comparison_status(found, Severity(gate)))


def _called(name: str, plot: str | None) -> str:
    return f"{name} with {plot}" if plot is not None else name
