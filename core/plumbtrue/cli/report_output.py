"""Where a report goes, and what is taken there: standard output with what its terminal can show, or a file
that is written whole or not at all.
"""

import os
import shutil
import sys
from pathlib import Path
from typing import Final

import click

_COLUMNS: Final = 80


def terminal_of(width: int | None, output: str | None) -> tuple[int, bool, bool]:
    """Columns, whether colours are taken, and whether signs beyond ASCII are, of where the report goes."""
    if output is not None:
        return width or _COLUMNS, False, True
    signs = "utf" in (sys.stdout.encoding or "").lower()
    if not sys.stdout.isatty():
        return width or _COLUMNS, bool(os.environ.get("FORCE_COLOR")), signs
    colour = not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    return width or shutil.get_terminal_size((_COLUMNS, 24)).columns, colour, signs


def put(text: str, output: str | None) -> None:
    """A report where it is wanted."""
    if output is None:
        click.echo(text, nl=False, color=True)
        return
    from plumbtrue.documents.writing import write_whole

    try:
        write_whole(Path(output), text)
    except OSError as error:
        raise click.UsageError(f"cannot write {output}: {error.strerror or error}") from error
