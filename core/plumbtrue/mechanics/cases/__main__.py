"""`python -m plumbtrue.mechanics.cases FILE …` runs check cases and prints what became of each.

Exit status: 0 when every case agrees, 1 when one differs or could not be run, 2 when a file cannot be read.
"""

# ruff: noqa: T201 - printing is what this module is for.

import os
import sys
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from plumbtrue.mechanics.cases.reading import CannotReadError, read_cases
from plumbtrue.mechanics.cases.running import Outcome, run_cases


def main(arguments: Sequence[str]) -> int:
    """Runs every file named and returns the exit status."""
    if not arguments or arguments[0] in ("-h", "--help"):
        print(__doc__, file=sys.stdout if arguments else sys.stderr)
        return 0 if arguments else 2
    counts: Counter[str] = Counter()
    unreadable = False
    for name in arguments:
        try:
            cases = read_cases(Path(name))
        except CannotReadError as problem:
            print(problem, file=sys.stderr)
            unreadable = True
            continue
        for outcome in run_cases(cases):
            counts[outcome.verdict] += 1
            print(as_text(outcome))
    print(
        f"{counts.total()} cases: {counts['agrees']} agree, "
        f"{counts['differs']} differ, {counts['not run']} not run"
    )
    if unreadable:
        return 2
    return 1 if counts["differs"] or counts["not run"] or not counts.total() else 0


def as_text(outcome: Outcome) -> str:
    """One line for a case: verdict, id, computation, where it stands, and all there is to say about it."""
    line = f"{outcome.verdict:8} {outcome.id:20} {outcome.computation}  {outcome.place}"
    return f"{line}  {'; '.join(outcome.notes)}" if outcome.notes else line


if __name__ == "__main__":
    try:
        status = main(sys.argv[1:])
    except BrokenPipeError:
        # The reader, such as `head`, has seen enough. What was not printed cannot be vouched for.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        status = 1
    raise SystemExit(status)
