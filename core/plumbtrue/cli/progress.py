"""How far a long run is: said on standard error, where somebody sits before it, and wiped away at its end."""

import os
import sys
from types import TracebackType

import click


class Progress:
    """One line about a stage of a run; nothing where nobody sits before it.

    Args:
        doing: what is done, such as `checking`.
        total: how many things it is done to.
        of: what those are; empty where one is all there is.
    """

    def __init__(self, doing: str, total: int, of: str = "") -> None:
        self.doing, self.total, self.of, self.done = doing, total, of, 0
        self.shown = sys.stderr.isatty() and os.environ.get("TERM") != "dumb"

    def __enter__(self) -> "Progress":
        self._say()
        return self

    def __call__(self) -> None:
        """One more is done."""
        self.done += 1
        self._say()

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self.shown:
            click.echo("\r\033[K", nl=False, err=True)

    def _say(self) -> None:
        if self.shown:
            count = f": {self.done} of {self.total} {self.of}" if self.of and self.total > 1 else " ..."
            click.echo(f"\r\033[K{self.doing}{count}", nl=False, err=True)
