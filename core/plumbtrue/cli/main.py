"""The program: a name for each thing that a person wants done, each loaded only when it is asked for.

What goes wrong with what somebody wrote is told here, once, on standard error and with status 2. A mistake
of the program itself is told as one, with status 3: nothing can be told then, and it never looks like a pass.
"""

import atexit
import errno
import gc
import os
import sys
from importlib import import_module
from typing import Any, Final

import click

from plumbtrue import __version__
from plumbtrue.documents.place import CannotRead

_COMMANDS: Final = {
    "check": ("plumbtrue.cli.check", "check", "Check houses against their rule packs."),
    "compare": (
        "plumbtrue.cli.compare",
        "compare",
        "Compare two revisions: what is worse, what was changed, what to do.",
    ),
    "explain": (
        "plumbtrue.cli.explain",
        "explain",
        "Explain a rule, a fact, a finding, a message or a word.",
    ),
    "papers": (
        "plumbtrue.cli.papers",
        "papers",
        "Write the load-in papers of a show: bricks, order, trims, pulls, set by set.",
    ),
    "pack": ("plumbtrue.cli.pack", "pack", "List rule packs, or put them to the test."),
}

_TRACEBACK: Final = "PLUMBTRUE_TRACEBACK"
_NO_ROOM: Final = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO)
_NEW_VALUES: Final = 1_000_000, 10, 100
"""How many new values are made before Python looks for those that only point at one another; how many such
looks before those that stayed are looked through again, and before all are. What an earlier house left behind
is found by the second; the third grows faster than the house.
"""


class _Program(click.Group):
    """Commands that are imported when they are called, so that each starts quickly."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in _COMMANDS:
            return None
        module, name, _ = _COMMANDS[cmd_name]
        found = getattr(import_module(module), name)
        assert isinstance(found, click.Command)
        return found

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and not args[0].startswith("-") and args[0] not in _COMMANDS:
            ctx.fail(_no_such_command(args[0]))
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl([(name, meaning) for name, (_, _, meaning) in _COMMANDS.items()])

    def invoke(self, ctx: click.Context) -> Any:
        # A run keeps nearly everything that it reads and finds until it ends. Looking through all of it again
        # for every 700 new values, as is usual, took a third of the time of a check and found nothing.
        gc.set_threshold(*_NEW_VALUES)
        # Nor is it looked through on the way out: the system takes it all back with the process.
        atexit.register(gc.freeze)
        try:
            return super().invoke(ctx)
        except CannotRead as refusal:
            from plumbtrue.documents.rendering import render_problems

            click.echo(render_problems(refusal), err=True)
            ctx.exit(2)
        except (click.exceptions.Exit, click.Abort, click.ClickException, BrokenPipeError):
            raise
        except Exception as error:  # A fault of ours: a line that says what to send, and no traceback.
            if isinstance(error, OSError) and error.errno in _NO_ROOM and error.filename is None:
                click.echo(f"cannot write to standard output: {error.strerror}", err=True)
                ctx.exit(2)
            if os.environ.get(_TRACEBACK):
                raise
            click.echo(_own_mistake(error), err=True)
            ctx.exit(3)


def _no_such_command(name: str) -> str:
    from plumbtrue.documents.nearest_word import nearest

    near = nearest(name, list(_COMMANDS))
    hint = f"Did you mean {near}?" if near else f"There are {', '.join(_COMMANDS)}."
    return f"There is no command {name}. {hint}"


def _own_mistake(error: Exception) -> str:
    from plumbtrue.documents.printable import printable

    return (
        f"plumbtrue stopped by a mistake of its own, so nothing can be told: "
        f"{type(error).__name__}: {printable(str(error))}\n"
        f"   set {_TRACEBACK}=1 and run again to see where, and report that"
    )


@click.command(
    cls=_Program, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100}
)
@click.version_option(__version__, prog_name="plumbtrue", message="%(prog)s %(version)s")
def main() -> None:
    """Check a theatre's rigging, written down as data, against rules that are data too.

    It never says that a rig is safe. It says what was checked, what was found, what could not be told and
    what no rule looked at. Local codes, the makers of the equipment and licensed, competent persons have the
    last word.
    """


if __name__ == "__main__":
    sys.exit(main())
