"""How long a whole check takes beside the least that anybody would have to do with the same file.

The reference, measured in the same run and on the same file: a fresh interpreter that imports the same libraries,
reads the house with ruamel.yaml's C parser and validates it against `schemas/rig-1.schema.json` with jsonschema.
The check is a fresh interpreter too, so start-up counts on both sides. What counts is the time of the processor, the
least of several runs taken in turn: what else the machine does comes and goes. Prints both with their ratio, how the
check grows from 60 to 600 sets, and what a start costs that only tells the version or explains a rule.

    python tests/bench/bench_check.py
"""

import re
import resource
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[2]
HOUSE = ROOT / "fixtures" / "demo" / "house.yaml"

REFERENCE = """
import json, sys
import click, jinja2, jsonschema, numpy, pluggy, ruamel.yaml
house = ruamel.yaml.YAML(typ="safe").load(open(sys.argv[1], encoding="utf-8"))
# Dates become text again, as the schema knows them.
house = json.loads(json.dumps(house, default=str))
schema = json.load(open(sys.argv[2], encoding="utf-8"))
errors = list(jsonschema.Draft202012Validator(schema).iter_errors(house))
"""


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        small, large = (house_of(sets, Path(folder)) for sets in (60, 600))
        schema = str(ROOT / "schemas" / "rig-1.schema.json")
        least, check, version, rule = in_turn(
            [
                [sys.executable, "-c", REFERENCE, str(small), schema],
                [*check_command(), str(small)],
                [sys.executable, "-m", "plumbtrue", "--version"],
                [sys.executable, "-m", "plumbtrue", "explain", "clip-malleable"],
            ]
        )
        grown = seconds([*check_command(), str(large)])
    print(f"import, read and validate 60 sets   {least:6.2f} s   1.0")
    print(f"plumbtrue check, 60 sets            {check:6.2f} s   {check / least:.1f}")
    print(f"plumbtrue check, 600 sets           {grown:6.2f} s   {grown / check:.1f} times the 60 sets")
    print(f"plumbtrue --version                 {version:6.2f} s   {version / least:.1f}")
    print(f"plumbtrue explain, a rule           {rule:6.2f} s   {rule / least:.1f}")


def check_command() -> list[str]:
    """The command as a person runs it, with the practice pack."""
    return [sys.executable, "-m", "plumbtrue", "check", "--pack", "practice", "--on", "2026-04-13"]


def house_of(sets: int, folder: Path) -> Path:
    """The demo house with its counterweight sets written out again and again under other numbers."""
    head, line_sets = HOUSE.read_text(encoding="utf-8").split("\nline_sets:\n")
    entries = [
        entry for entry in re.split(r"(?m)^(?=  - number: )", line_sets) if re.match(r"  - number: \d", entry)
    ]
    written = [
        re.sub(r"^  - number: \S+", f"  - number: {number}", entries[(number - 1) % len(entries)], count=1)
        for number in range(1, sets + 1)
    ]
    path = folder / f"house-{sets}.yaml"
    path.write_text(
        head.replace("rule_packs: [practice, ./house-rules]", "") + "\nline_sets:\n" + "".join(written),
        encoding="utf-8",
    )
    return path


def in_turn(commands: list[list[str]], *, runs: int = 5) -> list[float]:
    """Least time of the processor [s] that each command takes, all of them tried in turn; the first turn, which may
    find nothing compiled yet, does not count.
    """
    turns = [[seconds(command) for command in commands] for _ in range(runs + 1)]
    return [min(times) for times in zip(*turns[1:], strict=True)]


def seconds(command: list[str]) -> float:
    """Time of the processor that a command takes [s]; its output is thrown away, its exit status is not judged."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, check=False)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime


if __name__ == "__main__":
    main()
