"""A problem as a message.

Where, what, the line with a caret below it, what to write instead, and how it got there.
"""

from collections.abc import Mapping

from plumbtrue.documents.decoding import lines_of
from plumbtrue.documents.place import CannotRead, Problem
from plumbtrue.documents.printable import cells, printable

_MARGIN = 5
_ELLIPSIS = "…"


def render_problem(problem: Problem, source_line: str | None = None, *, width: int = 100) -> str:
    """The message in five parts; the last two, and the line, only where there is something to say.

    Args:
        problem: what to tell.
        source_line: the line that its place names, as written; nothing where it is not at hand.
        width: columns for the line of the file; a longer one is cut to what stands about the caret.
    Returns:
        Lines without a line break at the end. Nothing from a file in them can act on a terminal.
    """
    lines = [f"{printable(str(problem.where))}: {printable(problem.what)}"]
    if source_line is not None:
        lines += _excerpt(problem, source_line, width)
    if problem.instead:
        lines.append(f"   {printable(problem.instead)}")
    lines += [f"   {printable(way)}" for way in problem.used_by]
    return "\n".join(lines)


def render_problems(refusal: CannotRead, *, width: int = 100) -> str:
    """All problems of documents that cannot be read, with an empty line between them."""
    lines_by_file = {file: lines_of(text) for file, text in refusal.texts.items()}
    return "\n\n".join(
        render_problem(problem, _line_of(problem, lines_by_file), width=width) for problem in refusal.problems
    )


def _line_of(problem: Problem, lines_by_file: Mapping[str, list[str]]) -> str | None:
    lines = lines_by_file.get(problem.where.file, [])
    number = problem.where.line - 1
    return lines[number] if number < len(lines) and lines[number].strip() else None


def _excerpt(problem: Problem, source_line: str, width: int) -> list[str]:
    """The line with its number, and the caret below it."""
    shown = cells(source_line)
    first = min(problem.where.column - 1, len(shown))
    last = min(first + max(problem.length, 1), len(shown))
    start, end = _window([columns for _, columns in shown], first, last, width)
    before = _ELLIPSIS if start > 0 else ""
    after = _ELLIPSIS if end < len(shown) else ""
    text = before + "".join(sign for sign, _ in shown[start:end]) + after
    indent = len(before) + sum(columns for _, columns in shown[start:first])
    carets = max(sum(columns for _, columns in shown[first : min(last, end)]), 1)
    return [
        f"{problem.where.line:>{_MARGIN}} | {text}".rstrip(),
        f"{'':>{_MARGIN}} | {' ' * indent}{'^' * carets}",
    ]


def _window(columns: list[int], first: int, last: int, width: int) -> tuple[int, int]:
    """The stretch of characters to show: all of them when they fit, else those about `first` to `last`."""
    if sum(columns) <= width:
        return 0, len(columns)
    start, end, used = first, first, 0
    # The marked text comes first, then as much as fits to its left, where keys stand, then to its right.
    while end < last and used + columns[end] <= width:
        used += columns[end]
        end += 1
    while start > 0 and used + columns[start - 1] <= width * 2 // 3:
        start -= 1
        used += columns[start]
    while end < len(columns) and used + columns[end] <= width:
        used += columns[end]
        end += 1
    return start, end
