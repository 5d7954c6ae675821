"""Where something was written, and what is wrong with it."""

from collections.abc import Mapping

from plumbtrue.quantities.unchanging import unchanging


@unchanging(order=True)
class Place:
    """Where something was written.

    Lines and columns count from 1; columns count characters, as editors do.
    """

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@unchanging
class Problem:
    """Something written that cannot be used, where, and what to write instead.

    `slug` names the kind of message: it has a paragraph in the manual. `length` is how many characters the
    caret underlines. `used_by` says how it got there: lines such as "used by line set 14 (like: quarter-gac,
    house.yaml:212)".
    """

    slug: str
    where: Place
    what: str
    instead: str = ""
    length: int = 1
    used_by: tuple[str, ...] = ()


class CannotRead(Exception):  # noqa: N818 (it reads as a sentence where it is raised)
    """Documents that cannot be used. Caught once, at the edge; carries every problem found, in file order."""

    def __init__(self, problems: tuple[Problem, ...], texts: Mapping[str, str] | None = None) -> None:
        super().__init__("\n".join(f"{problem.where}: {problem.what}" for problem in problems))
        self.problems = problems
        self.texts: Mapping[str, str] = texts or {}
        """What was read, by the file's name in the problems' places, so that their lines can be shown."""

    def __reduce__(self) -> tuple[type["CannotRead"], tuple[tuple[Problem, ...], dict[str, str]]]:
        """Carried whole from one process to another: houses are checked several at a time."""
        return type(self), (self.problems, dict(self.texts))
