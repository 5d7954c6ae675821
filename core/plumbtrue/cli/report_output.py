"""Where a report goes, and what is taken there: standard output with what its terminal can show, or a file
that is written whole or not at all.
"""

import os
import re
import shutil
import sys
from itertools import islice
from pathlib import Path
from typing import Final

import click

_COLUMNS: Final = 80
_OURS: Final = re.compile(r"[\W_]*(?:plumbtrue\W*:|rule: )")
"""How a line begins by which a document says what it holds, or a rule of a pack; no report has one."""
_LINES_LOOKED_AT: Final = 200


def terminal_of(width: int | None, output: str | None) -> tuple[int, bool, bool]:
    """Columns, whether colours are taken, and whether signs beyond ASCII are, of where the report goes."""
    if output is not None:
        return width or _COLUMNS, False, True
    # Whoever asks for the status alone may have closed standard output; Python then has none.
    signs = sys.stdout is not None and "utf" in (sys.stdout.encoding or "").lower()
    if sys.stdout is None or not sys.stdout.isatty():
        return width or _COLUMNS, bool(os.environ.get("FORCE_COLOR")), signs
    colour = not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    return width or shutil.get_terminal_size((_COLUMNS, 24)).columns, colour, signs


def _is_a_document(path: Path) -> bool:
    """Whether a file that stands there already was written by hand for this program: a word too few behind
    --output must not cost anybody the record of a house.
    """
    if not path.is_file():
        return False
    try:
        with path.open(encoding="utf-8-sig", errors="replace") as stream:
            return any(_OURS.match(line) for line in islice(stream, _LINES_LOOKED_AT))
    except OSError:
        return False


def put(text: str, output: str | None) -> None:
    """A report where it is wanted."""
    if output is None:
        click.echo(text, nl=False, color=True)
        return
    from plumbtrue.documents.writing import write_whole

    if _is_a_document(Path(output)):
        raise click.UsageError(
            f"{output} is a house, a plot, a pack or a file of acceptances, and a report would take its place; "
            "name another file"
        )
    try:
        write_whole(Path(output), text)
    except OSError as error:
        raise click.UsageError(f"cannot write {output}: {error.strerror or error}") from error
