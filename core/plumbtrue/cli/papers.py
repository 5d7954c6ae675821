"""`plumbtrue papers`: what a crew needs on paper for a load-in."""

from datetime import date, datetime
from pathlib import Path
from typing import Final

import click

from plumbtrue.cli import options
from plumbtrue.cli.days import Day
from plumbtrue.cli.report_output import put

_FORMATS: Final = ("markdown", "html")


@click.command()
@click.argument("house", metavar="HOUSE")
@click.option("--plot", required=True, metavar="FILE", help="The plot of the show.")
@options.packs
@options.asked
@click.option("--on", metavar="DATE", type=Day(), help="Check as of this day.  [default: today]")
@click.option(
    "--format",
    "format_name",
    default="markdown",
    show_default=True,
    metavar="FORMAT",
    type=click.Choice(_FORMATS),
    help=f"How to write them: {', '.join(_FORMATS)}.",
)
@click.option("--output", metavar="FILE", help="Write them there, whole or not at all, instead of here.")
@options.waivers
@options.no_plugins
def papers(
    house: str,
    plot: str,
    packs: tuple[str, ...],
    asked: tuple[str, ...],
    on: datetime | None,
    format_name: str,
    output: str | None,
    waivers: tuple[str, ...],
    no_plugins: bool,
) -> None:
    """Write the load-in papers of a show, set by set.

    For each set the bricks to load in the house's sizes, the order of load-in and load-out with how the set
    stands after each step, the trims to spike and the pulls of its lines. What must not hang comes first and
    gets no paper; nothing with a person on it gets a number.

    The status is that of `plumbtrue check` at its usual gate: 0 only where nothing stands against the show.

    Example: plumbtrue papers fixtures/demo/house.yaml --plot fixtures/demo/tour-a.yaml --on 2026-04-13
    """
    from plumbtrue.audit.gate import exit_status
    from plumbtrue.audit.house_check import check_house
    from plumbtrue.cli.pack_names import asked_for
    from plumbtrue.reporting.load_in import papers_of
    from plumbtrue.rules.severity import Severity

    day = on.date() if on is not None else date.today()
    base, names = asked_for(packs)
    audit = check_house(
        Path(house),
        on=day,
        packs=names,
        packs_from=base,
        waivers=[Path(one) for one in waivers],
        third_party=not no_plugins,
        plot=Path(plot),
        asked=asked,
    )
    made = papers_of(audit)
    if format_name == "html":
        from plumbtrue.reporting.papers_html import html

        text = html(made)
    else:
        from plumbtrue.reporting.papers_markdown import papers_markdown

        text = papers_markdown(made)
    put(text, output)
    click.get_current_context().exit(exit_status(audit, Severity.BEFORE_NEXT_USE))
