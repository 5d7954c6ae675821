"""Options that several commands share, each written once, so that it is called and explained alike."""

from collections.abc import Callable
from typing import Any, Final

import click

_GATES: Final = ("out-of-service", "before-next-use", "next-maintenance", "advisory")

packs = click.option(
    "--pack",
    "packs",
    multiple=True,
    metavar="PACK",
    help="Judge by this pack, a name or a folder, instead of those that the house's file names. Repeatable.",
)
asked = click.option(
    "--set",
    "asked",
    multiple=True,
    metavar="FACT=VALUE",
    help='What if: item "ship".weight=580 lb. The record stays as it is. Repeatable.',
)
waivers = click.option(
    "--waivers",
    multiple=True,
    metavar="FILE",
    help="Findings that somebody accepted until a day. Repeatable.",
)
no_plugins = click.option("--no-plugins", is_flag=True, help="Leave plugins of other distributions alone.")
width = click.option(
    "--width",
    type=click.IntRange(40),
    metavar="N",
    help="Columns of text, kept within 60 to 120.  [default: the terminal's]",
)


def gate(of_what: str = "") -> Callable[[Any], Any]:
    """The severity from which a status other than 0 is asked for: of everything, or of some of it."""
    return click.option(
        "--gate",
        default="before-next-use",
        show_default=True,
        metavar="SEVERITY",
        type=click.Choice(_GATES),
        help=f"The mildest severity{of_what} that asks for a status other than 0: {', '.join(_GATES)}.",
    )
