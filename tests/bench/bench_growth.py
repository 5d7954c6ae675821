"""How a check grows with the house: from 60 sets to 6,000, beside the least that reading such a file takes.

    python tests/bench/bench_growth.py [SETS ...]

The reference is that of `bench_check`, a fresh interpreter that reads the same file with ruamel.yaml's C parser and
validates it with jsonschema, on the same files in the same run; it grows in step with the file. Times are of the
processor, so that other work on the machine hardly shows. The slope is the power of the number of sets by which the
time grew since the size before: 1 is in step with the sets, 2 with their pairs.
"""

import os
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import log
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.bench.bench_check import REFERENCE, ROOT, check_command, house_of

SIZES = (60, 600, 6000)


@dataclass(frozen=True, slots=True)
class Taken:
    """Seconds of the processor for a house of so many sets."""

    sets: int
    reading: float
    check: float


def main(sizes: Sequence[int]) -> None:
    print(f"{'sets':>6} {'read and validate':>18} {'check':>10} {'ratio':>6} {'check a set':>12}")
    taken = []
    with tempfile.TemporaryDirectory() as folder:
        for sets in sizes:
            one = measured(sets, Path(folder))
            taken.append(one)
            print(
                f"{sets:6} {one.reading:16.2f} s {one.check:8.2f} s {one.check / one.reading:6.1f} "
                f"{one.check / sets * 1e3:9.2f} ms",
                flush=True,
            )
    for less, more in pairwise(taken):
        print(
            f"{less.sets} to {more.sets} sets: slope {slope(less.sets, less.check, more.sets, more.check):.2f}, "
            f"of reading {slope(less.sets, less.reading, more.sets, more.reading):.2f}"
        )


def measured(sets: int, folder: Path) -> Taken:
    house = house_of(sets, folder)
    schema = ROOT / "schemas" / "rig-1.schema.json"
    reading = processor_seconds([sys.executable, "-c", REFERENCE, str(house), str(schema)])
    check = processor_seconds([*check_command(), str(house)])
    return Taken(sets, reading, check)


def processor_seconds(command: list[str]) -> float:
    """User and system time of a command that could read its file."""
    before = os.times()
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    after = os.times()
    # Findings give 1; a file that was not read would be quick, and gives 2.
    if done.returncode not in (0, 1):
        raise SystemExit(f"exit status {done.returncode}: {done.stderr[-500:]}")
    user, system = after.children_user - before.children_user, after.children_system - before.children_system
    return user + system


def slope(sets: int, time: float, more_sets: int, more_time: float) -> float:
    return log(more_time / time) / log(more_sets / sets)


if __name__ == "__main__":
    main([int(sets) for sets in sys.argv[1:]] or SIZES)
